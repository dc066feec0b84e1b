"""Schindler and Folliard: how much heat does cement make, and when?

    makeup("Type I")                      57 % C3S, 9 % C3A, 360 m2/kg: typical and invented, ask for the mill sheet
    heat_of_cement(...)                   491 J/g if all of it reacts
    hydration_time, slope, ultimate       tau = 14.5 h, beta = 0.706, alpha_u = 0.743 at w/cm 0.50
    activation(...)                       5547 K: how much quicker it goes in the warm
    reacted(t_e, tau, beta, alpha_u)      degree of hydration at an equivalent age, at 21.1 °C

Fly ash and slag slow it down and add heat later. Shares are of the binder; those of the clinker, of the cement.
"""

from typing import NamedTuple

from batterboard.quantity import (
    Celsius,
    HeatContent,
    MassDensity,
    Number,
    SpecificHeat,
    TemperatureDifference,
    Time,
    hour,
    kJ_per_kg,
)
from batterboard.standards.tables import Table
from batterboard.working import Document, exp, formula, minimum, power, where

SCHINDLER = Document("Schindler and Folliard 2005", "Heat of Hydration Models for Cementitious Materials")
HEAT = SCHINDLER.clause("total heat", "memory")
CURVE = SCHINDLER.clause("hydration curve", "memory")
ULTIMATE = SCHINDLER.clause("ultimate degree", "read: public research code that cites the paper")
ACTIVATION = Document("Schindler 2004", "Effect of Temperature on Hydration of Cementitious Materials").clause(
    "", "memory"
)

REFERENCE: Celsius = 21.1  # [°C] at which the curve is given, from memory
ASH_HEAT: HeatContent = 1800e3  # for each share of lime in the ash
ASH_LIME: Number = 0.10  # lime in a fly ash of class F; typical, invented
SLAG_HEAT: HeatContent = 461e3


class Makeup(NamedTuple):
    name: str  # cement
    C3S: Number
    C2S: Number
    C3A: Number
    C4AF: Number
    SO3: Number
    lime: Number  # free
    MgO: Number
    blaine: Number  # fineness [m2/kg]


makeup = Table("cement", Makeup, "cement-makeup")


@formula(source=HEAT)
def heat_of_cement(
    C3S: Number, C2S: Number, C3A: Number, C4AF: Number, SO3: Number, lime: Number, MgO: Number
) -> HeatContent:
    """Heat of the cement if all of it reacts [J/kg]. Shares of its weight. All broadcast."""
    H_kJkg = 500 * C3S + 260 * C2S + 866 * C3A + 420 * C4AF + 624 * SO3 + 1186 * lime + 850 * MgO
    H = H_kJkg * kJ_per_kg
    return H


@formula(source=HEAT)
def heat_of_binder(
    H_cem: HeatContent, fly_ash: Number, slag: Number, H_FA: HeatContent, H_slag: HeatContent
) -> HeatContent:
    """Heat of cement, fly ash and slag together [J/kg]. fly_ash, slag : shares of the binder."""
    H = H_cem * (1 - fly_ash - slag) + H_FA * fly_ash + H_slag * slag
    return H


@formula(source=CURVE, limits="C3A > 0; C3S > 0; SO3 > 0; blaine > 0")
def hydration_time(
    C3A: Number, C3S: Number, SO3: Number, blaine: Number, slag: Number, fly_ash: Number, lime: Number
) -> Time:
    """tau: when it reacts [s]. lime : share of lime in the fly ash."""
    slowed = exp(2.187 * slag + 9.50 * fly_ash * lime)
    tau_h = 66.78 * power(C3A, -0.154) * power(C3S, -0.401) * power(blaine, -0.804) * power(SO3, -0.758) * slowed
    tau = tau_h * hour
    return tau


@formula(source=CURVE, limits="C3A > 0; C3S > 0; SO3 > 0; blaine > 0")
def slope(C3A: Number, C3S: Number, SO3: Number, blaine: Number, slag: Number) -> Number:
    """beta: how suddenly it reacts [-]."""
    flattened = exp(-0.647 * slag)
    beta = 181.4 * power(C3A, 0.146) * power(C3S, 0.227) * power(blaine, -0.535) * power(SO3, 0.558) * flattened
    return beta


@formula(source=ULTIMATE, limits="w > 0; fly_ash >= 0; slag >= 0")
def ultimate(w: Number, fly_ash: Number, slag: Number) -> Number:
    """alpha_u: how much of the binder ever reacts [-]. w : water over binder."""
    alpha = 1.031 * w / (0.194 + w) + 0.50 * fly_ash + 0.30 * slag
    alpha_u = minimum(alpha, 1)
    return alpha_u


@formula(source=ACTIVATION, limits="C3A > 0; C4AF > 0; blaine > 0")
def activation(C3A: Number, C4AF: Number, blaine: Number) -> Number:
    """Activation energy over the gas constant [K]. Without what fly ash and slag change."""
    E = 22100 * power(C3A, 0.30) * power(C4AF, 0.25) * power(blaine, 0.35)
    Q = E / 8.314
    return Q


@formula(source=CURVE, limits="t_e >= 0; tau > 0; beta > 0")
def reacted(t_e: Time, tau: Time, beta: Number, alpha_u: Number) -> Number:
    """Degree of hydration at an equivalent age [-]; none at 0."""
    t = where(t_e > 0, t_e, tau)
    x = power(tau / t, beta)
    alpha = where(t_e > 0, alpha_u * exp(-x), 0 * x)
    return alpha


@formula(source=HEAT, limits="rho > 0; c > 0")
def adiabatic_rise(
    H: HeatContent, C: MassDensity, alpha: Number, rho: MassDensity, c: SpecificHeat
) -> TemperatureDifference:
    """How much warmer concrete gets that loses nothing [K]. C : binder;  rho, c : of the concrete."""
    rise = H * C * alpha / (rho * c)
    return rise
