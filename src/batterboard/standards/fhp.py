"""Freiesleben Hansen and Pedersen: a second opinion on what an hour in the cold is worth, and how strength grows.

age_factor(T)                  0.50 at 10 °C, against 20 °C: less than the American function gives
exponential(S_u, tau, a, t_e)  strength at an equivalent age
"""

from batterboard.quantity import Celsius, Number, Pressure, Time
from batterboard.working import Document, exp, formula, maximum, power, where

FHP_1977 = Document("Freiesleben Hansen and Pedersen 1977", "Maturity computer for controlled curing of concrete")
FHP_1985 = Document("Freiesleben Hansen and Pedersen 1985", "Curing of concrete structures")
AGE = FHP_1977.clause("", "memory")
STRENGTH = FHP_1985.clause("", "memory")

REFERENCE = 20.0  # [°C]


@formula(source=AGE)
def age_factor(T: Celsius) -> Number:
    """How much faster concrete ages at T than at 20 °C [-]. Colder than -10 °C nothing is credited."""
    E_kJ = 33.5 + 1.47 * maximum(20 - T, 0)
    x = 1000 * E_kJ / 8.314 * (1 / 293.15 - 1 / (T + 273.15))
    k = where(T > -10, exp(x), 0 * x)
    return k


@formula(source=STRENGTH, limits="S_u > 0; tau > 0; a > 0; t_e > 0")
def exponential(S_u: Pressure, tau: Time, a: Number, t_e: Time) -> Pressure:
    """Strength at an equivalent age [Pa]. S_u : limiting;  tau : age at which it has S_u / e;  a : shape."""
    x = power(tau / t_e, a)
    S = S_u * exp(-x)
    return S
