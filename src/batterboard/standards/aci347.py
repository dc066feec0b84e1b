"""ACI 347R-14: how hard does fresh concrete push on its form?

    C_w, C_c          coefficients of its weight and of its cement            150 pcf, Type I: 1.0, 1.0
    column_pressure   a column of any height; wall_pressure_slow, wall_pressure_fast by rate and height
    design_pressure   in this order: not below the least, then never above the liquid head
    deck_load         what a soffit and its shores carry: concrete, form, people and tools

Liquid from the top down to where the design pressure is reached, constant below. Concrete wetter than 7 in of slump,
vibrated deeper than 4 ft, of an unknown rate of rise or an unknown set is a liquid all the way, and no coefficient is
applied; pumped in from below it presses a quarter more. The clause was seen, no equation number was.
"""

from batterboard.quantity import (
    Celsius,
    Force,
    Length,
    LineLoad,
    Number,
    Pressure,
    RateOfRise,
    UnitWeight,
    ft,
    hour,
    pcf,
    plf,
    psf,
)
from batterboard.working import STATICS, Document, formula, maximum, minimum, where

ACI_347R_14 = Document("ACI 347R-14", "Guide to Formwork for Concrete")
PRESSURE = ACI_347R_14.clause("4.2.2", "read: a university's worked wall example; its formulas from memory")
FILLING = ACI_347R_14.clause("4.2.2", "memory")  # pumping from the base
VERTICAL = ACI_347R_14.clause("vertical loads", "memory")
HORIZONTAL = ACI_347R_14.clause("horizontal loads at a floor line", "memory")
WETTEST = 7 * ft / 12  # slump above which it is a liquid [m]
DEEPEST = 4 * ft  # vibration below the surface, deeper than which it is one [m]


@formula(source=PRESSURE, limits="w > 0")
def unit_weight_coefficient(w: UnitWeight) -> Number:
    """C_w. Steps at both ends of its plateau are in the guide."""
    w_pcf = w / pcf
    light = maximum(0.5 * (1 + w_pcf / 145), 0.80)
    heavy = where(w_pcf > 150.01, w_pcf / 145, 1.0)
    C_w = where(w_pcf < 139.99, light, heavy)
    return C_w


@formula(source=PRESSURE, limits="slag >= 0; fly_ash >= 0; silica_fume >= 0")
def chemistry_coefficient(retarder: Number, slag: Number, fly_ash: Number, silica_fume: Number) -> Number:
    """C_c by what delays the set: 1 with a retarding admixture, else 0; shares of what is blended into the binder.

    The guide names slag and fly ash; silica fume is read as one of its "other blends".
    """
    C_plain = where(retarder > 0, 1.2, 1.0)
    C_blend = where(retarder > 0, 1.4, 1.2)
    C_some = where(slag + fly_ash + silica_fume > 0, C_blend, C_plain)
    C_ash = where(fly_ash >= 0.40, 1.4, C_some)
    C_c = where(slag >= 0.70, 1.4, C_ash)
    return C_c


@formula(source=PRESSURE, limits="R >= 0; R <= 7 ft/h; T >= 0; h <= 14.001 ft; slump <= 7.01 in; vibrated <= 4.001 ft")
def wall_pressure_slow(
    C_w: Number, C_c: Number, R: RateOfRise, T: Celsius, *, h: Length, slump: Length, vibrated: Length
) -> Pressure:
    """Pressure on a wall form filled slowly, before its floor and its ceiling [Pa]."""
    R_fph = R / (ft / hour)
    T_F = 1.8 * T + 32
    p_psf = C_w * C_c * (150 + 9000 * R_fph / T_F)
    p = p_psf * psf
    return p


@formula(source=PRESSURE, limits="R >= 0; R <= 15.001 ft/h; T >= 0; slump <= 7.01 in; vibrated <= 4.001 ft")
def wall_pressure_fast(
    C_w: Number, C_c: Number, R: RateOfRise, T: Celsius, *, slump: Length, vibrated: Length
) -> Pressure:
    """The same where the wall rises faster than 7 ft/h, or is placed higher than 14 ft [Pa]."""
    R_fph = R / (ft / hour)
    T_F = 1.8 * T + 32
    p_psf = C_w * C_c * (150 + 43400 / T_F + 2800 * R_fph / T_F)
    p = p_psf * psf
    return p


@formula(source=PRESSURE, limits="R >= 0; T >= 0; slump <= 7.01 in; vibrated <= 4.001 ft")
def column_pressure(
    C_w: Number, C_c: Number, R: RateOfRise, T: Celsius, *, slump: Length, vibrated: Length
) -> Pressure:
    """Pressure on a column form of any height and rate, before its floor and its ceiling [Pa]."""
    R_fph = R / (ft / hour)
    T_F = 1.8 * T + 32
    p_psf = C_w * C_c * (150 + 9000 * R_fph / T_F)
    p = p_psf * psf
    return p


@formula(source=FILLING, limits="w > 0")
def pumped_weight(w: UnitWeight) -> UnitWeight:
    """What the pressure grows with by depth where concrete is pumped in at the foot: a quarter more for the surge."""
    w_surge = 1.25 * w
    return w_surge


@formula(source=PRESSURE, limits="h >= 0; w > 0")
def liquid_head(w: UnitWeight, h: Length) -> Pressure:
    """Full pressure of a liquid as heavy as the concrete [Pa]."""
    p = w * h
    return p


@formula(source=PRESSURE, limits="h >= 0; w > 0")
def design_pressure(p_formula: Pressure, C_w: Number, w: UnitWeight, h: Length) -> Pressure:
    """What the form is designed for: at least 600 C_w, but in no case more than the liquid head [Pa]."""
    p_least = 600 * C_w * psf
    p_head = w * h
    p = minimum(p_head, maximum(p_formula, p_least))
    return p


# ---- what the pressure diagram adds up to ----


@formula(source=STATICS, limits="w > 0; p_max >= 0")
def pressure_at(z: Length, w: UnitWeight, p_max: Pressure) -> Pressure:
    """Pressure a depth z below the top of the concrete, nothing above it [Pa]."""
    p = minimum(w * maximum(z, 0), p_max)
    return p


@formula(source=STATICS, limits="w > 0; p_max >= 0")
def push_above(z: Length, w: UnitWeight, p_max: Pressure) -> LineLoad:
    """All the push above a depth z, for each metre of the form's width [N/m]."""
    z_liquid = minimum(maximum(z, 0), p_max / w)
    z_constant = maximum(z, 0) - z_liquid
    q = w * z_liquid**2 / 2 + p_max * z_constant
    return q


@formula(source=STATICS)
def push_between(z_1: Length, z_2: Length, w: UnitWeight, p_max: Pressure) -> LineLoad:
    """The push between two depths: what leans on the yoke between them, for each metre of its length [N/m]."""
    q_1 = push_above(z_1, w, p_max)
    q_2 = push_above(z_2, w, p_max)
    q = q_2 - q_1
    return q


@formula(source=STATICS)
def push_on_panel(h: Length, b: Length, w: UnitWeight, p_max: Pressure) -> Force:
    """All the push on one panel [N].

    h : height of concrete on it;  b : its width.
    """
    q = push_above(h, w, p_max)
    F = q * b
    return F


# ---- what stands over open air ----


@formula(source=VERTICAL, limits="w > 0; h >= 0; p_form >= 0")
def deck_load(w: UnitWeight, h: Length, p_form: Pressure) -> Pressure:
    """What a soffit is designed for: 50 psf of people and tools, at least 100 psf in all; no motor carts [Pa].

    h : depth of concrete;  p_form : the form's own weight over its plan.
    """
    p_dead = w * h + p_form
    p = maximum(p_dead + 50 * psf, 100 * psf)
    return p


@formula(source=HORIZONTAL, limits="W >= 0; L >= 0")
def floor_line_force(W: Force, L: Length) -> Force:
    """Level force along one direction that its bracing holds: 2 % of the dead load, 100 lb on each foot of edge [N].

    L : length of the edge that it acts along.
    """
    F_share = 0.02 * W
    F_edge = 100 * plf * L
    F = maximum(F_share, F_edge)
    return F
