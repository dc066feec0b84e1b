"""NDS 2018: what sticks of lumber and nails carry.

    bending_strength    F_b' of a stick on edge: size, duration, wet service      2x4 DF-L No. 2, dry, 7 days: 1687 psi
    bending_stress, shear_stress     of a rectangle
    nail                lateral strength of one nail in single shear              16d common in DF-L: 141 lb

Duration counts in bending and shear of wood and in nails, never in bearing or stiffness; it is 1.25 for the days a form
stands. Plywood has its own rules in `apa`.
"""

from batterboard.quantity import Area, Force, Length, LineLoad, Moment, Number, Pressure, SectionModulus, inch, psi
from batterboard.working import STATICS, Document, absolute, ceil, floor, formula, minimum, power, sqrt, where

NDS_2018 = Document("NDS 2018", "National Design Specification for Wood Construction", scale="fine")
ADJUSTED = NDS_2018.table("4.3.1", "memory")
LATERAL = NDS_2018.table(
    "12.3.1A", "read: a forum's quotation of the nail table, which it gives back; equations from memory"
)
FORM_DURATION = 1.25  # C_D of the days a form stands; ACI 347R-14 (from memory)

# 16d common nail: diameter, length and bending yield strength. Common practice, no source for the last.
NAIL_16D = (0.162 * inch, 3.5 * inch, 90000 * psi)


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
