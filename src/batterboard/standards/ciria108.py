"""CIRIA Report 108: what would the British say of the pressure on the form? For comparison only.

    C_1   1.0 walls, 1.5 columns
    C_2   0.3 plain cement; 0.45 retarded, or with some slag or fly ash; 0.6 with much of them
    K     of the temperature

All of it is from memory; the equation's number is not confirmed.
"""

from batterboard.quantity import Celsius, Length, Number, Pressure, RateOfRise, UnitWeight, hour, kN_per_m3, kPa, m
from batterboard.working import Document, formula, maximum, minimum, sqrt, where

CIRIA_108 = Document("CIRIA Report 108", "Concrete pressure on formwork, 1985")
PRESSURE = CIRIA_108.clause("pressure formula, number not confirmed", "memory")


@formula(source=PRESSURE, limits="slag >= 0; fly_ash >= 0")
def blend_coefficient(retarder: Number, slag: Number, fly_ash: Number) -> Number:
    """C_2, by what delays the set: 1 with a retarding admixture, else 0; shares of slag and fly ash in the binder."""
    C_some = where(retarder + slag + fly_ash > 0, 0.45, 0.30)
    C_ash = where(fly_ash >= 0.40, 0.60, C_some)
    C_2 = where(slag >= 0.70, 0.60, C_ash)
    return C_2


@formula(source=PRESSURE, limits="D > 0; T >= 0; R > 0; H >= 0")
def form_pressure(D: UnitWeight, C_1: Number, C_2: Number, T: Celsius, R: RateOfRise, H: Length) -> Pressure:
    """Largest pressure on a form, not above the liquid head [Pa]."""
    R_mh = R / (m / hour)
    K = (36 / (T + 16)) ** 2
    h_1 = C_1 * sqrt(R_mh)
    h_2 = maximum(H / m - h_1, 0)
    p_kPa = D / kN_per_m3 * (h_1 + C_2 * K * sqrt(h_2))
    p_formula = p_kPa * kPa
    p_head = D * H
    p = minimum(p_formula, p_head)
    return p
