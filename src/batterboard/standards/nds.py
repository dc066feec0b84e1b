"""NDS 2018: what sticks of lumber and nails carry.

    bending_strength    F_b' of a stick on edge: size, duration, wet service      2x4 DF-L No. 2, dry, 7 days: 1687 psi
    bending_stress, shear_stress     of a rectangle
    column_strength     F_c' of a strut along the grain, by how slender it is     2x4, 75 in: 241 psi
    bending_span, shear_span, deflection_span     of a stick over three spans and more
    nail                lateral strength of one nail in single shear              16d common in DF-L: 141 lb

Duration counts in bending, shear and struts of wood and in nails, never in bearing or stiffness; 1.25 for the days
a form stands. Plywood has its own rules in `apa`.
"""

from batterboard.quantity import (
    Area,
    Force,
    Length,
    LineLoad,
    Moment,
    Number,
    Pressure,
    SecondMoment,
    SectionModulus,
    inch,
    psi,
)
from batterboard.working import STATICS, Document, absolute, ceil, floor, formula, minimum, power, sqrt, where

NDS_2018 = Document("NDS 2018", "National Design Specification for Wood Construction", scale="fine")
ADJUSTED = NDS_2018.table("4.3.1", "memory")
LATERAL = NDS_2018.table(
    "12.3.1A", "read: a forum's quotation of the nail table, which it gives back; equations from memory"
)
COLUMN = NDS_2018.clause("3.7.1", "memory")
SLENDER = NDS_2018.clause(
    "3.7.1.4", "read: the Army's carpentry course has the same limit for 2 in lumber; clause from memory"
)
FORM_DURATION = 1.25  # C_D of the days a form stands; ACI 347R-14 (from memory)

# 16d common nail: diameter, length and bending yield strength. Common practice, no source for the last.
NAIL_16D = (0.162 * inch, 3.5 * inch, 90000 * psi)
NAIL_6D = (0.113 * inch, 2 * inch, 100000 * psi)  # the same of 6d, thin enough to go through a sheet


@formula(source=ADJUSTED, limits="F_b > 0; C_F > 0; C_D > 0")
def bending_strength(F_b: Pressure, C_F: Number, C_D: Number, wet: Number) -> Pressure:
    """F_b' of dimension lumber loaded on its narrow face [Pa].

    wet : 1 in wet service, 0 dry.
    """
    F_sized = F_b * C_F
    C_strong = where(F_sized > 1150 * psi, 0.85, 1.0)
    C_M = where(wet > 0, C_strong, 1.0)
    F = F_sized * C_D * C_M
    return F


@formula(source=ADJUSTED, limits="F_v > 0; C_D > 0")
def shear_strength(F_v: Pressure, C_D: Number, wet: Number) -> Pressure:
    """F_v' along the grain [Pa]."""
    C_M = where(wet > 0, 0.97, 1.0)
    F = F_v * C_D * C_M
    return F


@formula(source=ADJUSTED, limits="F_c_perp > 0")
def bearing_strength(F_c_perp: Pressure, wet: Number) -> Pressure:
    """F_c,perp' across the grain: no duration [Pa]."""
    C_M = where(wet > 0, 0.67, 1.0)
    F = F_c_perp * C_M
    return F


@formula(source=ADJUSTED, limits="E > 0")
def stiffness(E: Pressure, wet: Number) -> Pressure:
    """E' of dimension lumber: no duration [Pa]."""
    C_M = where(wet > 0, 0.9, 1.0)
    E_used = E * C_M
    return E_used


# ---- struts ----


@formula(source=SLENDER, limits="d > 0")
def longest_strut(d: Length) -> Length:
    """How far a strut may run between what holds it sideways, 50 times its least side [m]."""
    l_e = 50 * d
    return l_e


@formula(source=COLUMN, limits="F_c > 0; E_min > 0; C_D > 0; l_e > 0; d > 0; l_e <= 50.01 * d")
def column_strength(F_c: Pressure, E_min: Pressure, C_D: Number, l_e: Length, d: Length) -> Pressure:
    """F_c' of a dry strut of sawn lumber along the grain, pinned at both ends, without a size factor [Pa]."""
    F_star = F_c * C_D
    F_cE = 0.822 * E_min * (d / l_e) ** 2
    r = F_cE / F_star
    m = (1 + r) / (2 * 0.8)
    C_P = m - sqrt(m**2 - r / 0.8)
    F = F_star * C_P
    return F


@formula(source=STATICS, limits="A > 0")
def strut_stress(P: Force, A: Area) -> Pressure:
    """Stress of a strut along its grain, pressed or pulled [Pa]."""
    f_c = absolute(P) / A
    return f_c


# ---- sticks over three spans and more, evenly loaded ----


@formula(source=STATICS, limits="l >= 0")
def continuous_moment(q: LineLoad, l: Length) -> Moment:
    """Moment over the supports of a stick that runs over three spans and more [N m]."""
    M = absolute(q) * l**2 / 10
    return M


@formula(source=STATICS, limits="F_b > 0; S > 0; q > 0")
def bending_span(F_b: Pressure, S: SectionModulus, q: LineLoad) -> Length:
    """Span at which the stick reaches F_b over its supports [m]."""
    l = sqrt(10 * F_b * S / q)
    return l


@formula(source=STATICS, limits="F_v > 0; A > 0; q > 0; d > 0")
def shear_span(F_v: Pressure, A: Area, q: LineLoad, d: Length) -> Length:
    """Span at which it reaches F_v its depth d away from a support [m]."""
    V = F_v * A / 1.5
    l = V / (0.6 * q) + 2 * d
    return l


@formula(source=STATICS, limits="E > 0; I > 0; q > 0; share > 0")
def deflection_span(E: Pressure, I: SecondMoment, q: LineLoad, share: Number) -> Length:
    """Span at which it gives by a share of it [m]. share : 1 / 360"""
    l = power(145 * E * I * share / q, 1 / 3)
    return l


@formula(source=STATICS, limits="F > 0; b_1 > 0; b_2 > 0; n > 0")
def bearing_stress(F: Force, b_1: Length, b_2: Length, n: Number) -> Pressure:
    """Stress across the grain where a stick of width b_1 presses on n sticks of width b_2 [Pa]."""
    f = F / (n * b_1 * b_2)
    return f


# ---- sticks on two supports ----


@formula(source=STATICS, limits="l >= 0")
def yoke_moment(q: LineLoad, l: Length) -> Moment:
    """Moment in a stick on two supports, evenly loaded [N m]."""
    M = absolute(q) * l**2 / 8
    return M


@formula(source=STATICS, limits="l >= 0")
def yoke_reaction(q: LineLoad, l: Length) -> Force:
    """What it brings to each end: the pull on a corner [N]."""
    R = absolute(q) * l / 2
    return R


@formula(source=STATICS, limits="l >= 0")
def middle_load_moment(F: Force, l: Length) -> Moment:
    """Moment in a stick on two supports, loaded in its middle [N m]."""
    M = absolute(F) * l / 4
    return M


@formula(source=STATICS, limits="a >= 0")
def overhang_moment(q: LineLoad, a: Length) -> Moment:
    """Moment where an evenly loaded stick that stands over by a leaves its last support [N m]."""
    M = absolute(q) * a**2 / 2
    return M


@formula(source=STATICS, limits="E > 0; I > 0; l >= 0")
def yoke_sag(q: LineLoad, l: Length, E: Pressure, I: SecondMoment) -> Length:
    """How far it gives in its middle [m]."""
    d = 5 * absolute(q) * l**4 / (384 * E * I)
    return d


@formula(source=STATICS, limits="l >= 0; share > 0")
def allowed_sag(l: Length, share: Number) -> Length:
    """How far a stick may give: a share of its span [m]. share : 1 / 360"""
    d = l * share
    return d


@formula(source=STATICS, limits="S > 0")
def bending_stress(M: Moment, S: SectionModulus) -> Pressure:
    """Stress at the edge of a stick [Pa]."""
    f_b = absolute(M) / S
    return f_b


@formula(source=STATICS, limits="A > 0")
def shear_stress(V: Force, A: Area) -> Pressure:
    """Largest shear stress of a rectangular stick [Pa]."""
    f_v = 1.5 * absolute(V) / A
    return f_v


# ---- nails ----


@formula(source=LATERAL, limits="G > 0")
def nail_bearing(G: Number) -> Pressure:
    """F_e of wood under a nail, to the nearest 50 psi as tabulated [Pa].

    G : specific gravity.
    """
    F_psi = 50 * floor(16600 * power(G, 1.84) / 50 + 0.5)
    F_e = F_psi * psi
    return F_e


@formula(source=LATERAL, limits="F_e > 0; D <= 0.171 in; l_m >= 6 * D; l_s >= 6 * D")
def nail(D: Length, F_e: Pressure, F_yb: Pressure, l_s: Length, l_m: Length) -> Force:
    """Z of one nail in single shear between sticks of one species, where one or both of its ends yield [N].

    D : diameter;  l_s : thickness of the stick it goes through;  l_m : how far it goes into the other, 10 D for full Z
    """
    K_D = 2.2
    k_3 = -1 + sqrt(4 + 2 * F_yb * D**2 / (F_e * l_s**2))
    Z_III = k_3 * D * l_s * F_e / (3 * K_D)
    Z_IV = D**2 / K_D * sqrt(F_e * F_yb / 3)
    C_d = minimum(l_m / (10 * D), 1)
    Z = minimum(Z_III, Z_IV) * C_d
    return Z


@formula(source=LATERAL, limits="Z > 0; C_D > 0")
def nails_needed(F: Force, Z: Force, C_D: Number) -> Number:
    """How many nails hold a pull."""
    n = ceil(absolute(F) / (Z * C_D))
    return n


@formula(source=LATERAL, limits="Z > 0; C_D > 0; n >= 0")
def nails_strength(Z: Force, C_D: Number, n: Number) -> Force:
    """What n nails hold together [N]."""
    R = n * Z * C_D
    return R
