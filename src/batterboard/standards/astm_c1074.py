"""ASTM C1074: what is an hour in the cold worth?

    age_factor(T, T_r, Q)            0.55 at 10 °C: an hour there counts 33 minutes at 20 °C
    equivalent_age(t, k, t_1, k_1)   age at the reference temperature after t, kept at another temperature until t_1
    credit(T, T_0)                   temperature-time: what an hour above the datum counts, nothing below it
    hyperbolic(S_u, k, t_0, t_e)     strength by maturity, fitted to breaks

Published functions disagree by more than half at 5 °C, so each forecast names the function, Q and reference it used.
"""

from batterboard.quantity import Celsius, Frequency, Number, Pressure, TemperatureDifference, Time, kelvin
from batterboard.working import Document, absolute, exp, formula, maximum, minimum, where

ASTM_C1074 = Document("ASTM C1074", "Estimating Concrete Strength by the Maturity Method")
EQUIVALENT_AGE = ASTM_C1074.clause("equivalent age", "memory")

Q = 5000.0  # [K] activation energy over the gas constant, as the standard suggests for plain cement
REFERENCE = 23.0  # [°C] at which strength gain is published in the US
DATUM = 0.0  # [°C] below which the temperature-time factor credits nothing, for Type I without admixtures
TEMPERATURE_TIME = ASTM_C1074.clause("temperature-time factor", "memory")
FIT = ASTM_C1074.clause("strength-maturity relation", "memory")


@formula(source=EQUIVALENT_AGE, limits="Q > 0")
def age_factor(T: Celsius, T_r: Celsius, Q: Number) -> Number:
    """How much faster concrete ages at T than at T_r [-]. T, T_r : [°C]; Q : [K]. All broadcast.

    Colder than -10 °C nothing is credited, whatever the exponential says.
    """
    x = Q / (T_r + 273.15) - Q / (T + 273.15)
    k = where(T > -10, exp(x), 0 * absolute(x))
    return k


@formula(source=EQUIVALENT_AGE, limits="t >= 0; t_1 >= 0")
def equivalent_age(t: Time, k: Number, t_1: Time, k_1: Number) -> Time:
    """Age at the reference temperature [s]. k_1 : age factor up to the age t_1; k : from there on. All broadcast."""
    t_e = k_1 * minimum(t, t_1) + k * maximum(t - t_1, 0)
    return t_e


@formula(source=TEMPERATURE_TIME)
def credit(T: Celsius, T_0: Celsius) -> TemperatureDifference:
    """What concrete at T is credited by the temperature-time factor [K]; over time it adds up to the maturity.

    T_0 : the datum. A datum below zero adds: 15 °C over -10 °C counts 25.
    """
    c = maximum(T - T_0, 0) * kelvin
    return c


@formula(source=FIT, limits="S_u > 0; k > 0; t_0 >= 0; t_e >= 0")
def hyperbolic(S_u: Pressure, k: Frequency, t_0: Time, t_e: Time) -> Pressure:
    """Strength at an equivalent age, by the hyperbola of the standard's appendix [Pa]; nothing before it sets.

    S_u : limiting strength;  k : rate constant;  t_0 : age at which strength begins.
    """
    x = k * maximum(t_e - t_0, 0)
    S = S_u * x / (1 + x)
    return S
