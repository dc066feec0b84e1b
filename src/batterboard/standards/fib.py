"""The European way: CEB-FIP and fib Model Codes, the same in EN 1992-1-1.

    age_factor(T)             0.62 at 10 °C, against 20 °C
    share(t, s)               0.78 of the strength at 28 days after 7
    age_of_share(r, s)        the other way round
    cement("Type I")          s = 0.25

The share is one of the MEAN strength at 20 °C; here it is put on the strength ordered, which is on the safe side.
"""

from typing import NamedTuple

from batterboard.quantity import Celsius, Number, Time, day
from batterboard.standards.tables import Table
from batterboard.working import Document, exp, formula, log, sqrt, where

EN_1992 = Document("EN 1992-1-1", "Eurocode 2: Design of concrete structures; after the CEB-FIP Model Code 1990")
AGE = EN_1992.equation("B.10", "memory")
GAIN = EN_1992.equation("3.2", "read: a public page on 3.1.2")


class Cement(NamedTuple):
    name: str
    s: Number


cement = Table("cement", Cement, "gain-fib")


@formula(source=AGE)
def age_factor(T: Celsius) -> Number:
    """How much faster concrete ages at T than at 20 °C [-], by constants that are rounded: 0.998 at 20 °C.

    Colder than -10 °C nothing is credited here, which the code does not say.
    """
    x = 13.65 - 4000 / (273 + T)
    k = where(T > -10, exp(x), 0 * x)
    return k


@formula(source=GAIN, limits="t > 0; s > 0")
def share(t: Time, s: Number) -> Number:
    """Strength at the age t over that at 28 days [-]. t : equivalent age;  s : of the cement. All broadcast."""
    b = exp(s * (1 - sqrt(28 * day / t)))
    return b


@formula(source=GAIN, limits="r > 0; s > 0; log(r) < s")
def age_of_share(r: Number, s: Number) -> Time:
    """Equivalent age at which the share r is reached [s]; never, and so nan, from e^s on. All broadcast."""
    x = 1 - log(r) / s
    t = 28 * day / x**2
    return t
