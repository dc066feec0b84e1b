"""Plowman 1956: strength as the logarithm of maturity, the oldest rule still in the handbooks.

    coefficients("17 to 35 MPa")    A = 21, B = 61
    share(M, A, B)                  64 % of the strength at 28 days after 7 d at 18 °C

Maturity counts above -12 °C: so low a datum credits hours in frost that newer rules do not; it stands beside them only.
"""

from typing import NamedTuple

from batterboard.quantity import Celsius, Maturity, Number, hour, kelvin
from batterboard.standards.tables import Table
from batterboard.working import Document, formula, log10, maximum

PLOWMAN = Document("A. M. Neville, Properties of Concrete", "after J. M. Plowman, 1956").clause("", "memory")
DATUM: Celsius = -12.0  # 11 F in the old unit


class Coefficients(NamedTuple):
    name: str  # strength after 28 days at 18 °C
    A: Number
    B: Number


coefficients = Table("strength", Coefficients, "plowman")


@formula(source=PLOWMAN, limits="M > 0")
def share(M: Maturity, A: Number, B: Number) -> Number:
    """Strength over that after 28 days at 18 °C [-], none below 0. M : above -12 °C;  A, B : of the strength."""
    M_Ch = M / (hour * kelvin)
    p = maximum(A + B * log10(M_Ch / 1000), 0) / 100
    return p
