"""ACI 318-19: what concrete is taken to be, and how the steel in it is bent, spaced, tied and covered.

    elastic modulus : of normalweight concrete                  4000 psi: 3605 ksi
    least cover     : clear concrete over the outermost steel   3 in where cast against earth
    hook            : what a bar's end needs to hold            No. 5: bent round 3 3/4 in, leg 10 in
    ties            : how far apart, how many at anchor bolts   No. 3 on No. 6: 12 in, three within 5 in of the top

Clauses whose source says memory were not seen. Metric bars go with the inch bar whose rule they cannot fall short of.
"""

from typing import Any

from batterboard.quantity import Angle, Length, Number, Pressure, inch, psi
from batterboard.working import GEOMETRY, Document, formula, maximum, minimum, pi, sqrt, tan, where

ACI_318_19 = Document("ACI 318-19", "Building Code Requirements for Structural Concrete", scale="fine")

COVER = ACI_318_19.table("20.5.1.3.1", "read: a magazine's answer with the 1971 figures, which still stand")
HOOK = ACI_318_19.table("25.3.1", "memory")
TIE_HOOK = ACI_318_19.table("25.3.2", "memory")
SPACING = ACI_318_19.clause("25.2.1", "memory")
COLUMN_SPACING = ACI_318_19.clause("25.2.3", "memory")
HOOP = ACI_318_19.clause("25.7.2.4", "memory")
TIE_SPACING = ACI_318_19.clause("25.7.2.1", "memory")
TIE_SIZE = ACI_318_19.clause("25.7.2.2", "memory")
TIES_AT_BOLTS = ACI_318_19.clause("10.7.6.1.5", "read: a forum's quotation of the same rule under its older number")
TOLERANCE = ACI_318_19.table("26.6.2.1(a)", "memory")
NEAR_TOP = 5 * inch  # ties this close to the top count as being at the anchor bolts


@formula(source=ACI_318_19.clause("19.2.2.1(b)"), limits="f_c > 0")
def elastic_modulus(f_c: Pressure) -> Pressure:
    """E_c of normalweight concrete [Pa]."""
    f_psi = f_c / psi
    E_psi = 57000 * sqrt(f_psi)
    E_c = E_psi * psi
    return E_c


# ---- cover ----


def least_cover(against: str, diameter: Any) -> Any:
    """Specified cover of cast-in-place concrete that meets earth or weather [m]. Not for slabs kept indoors.

    against : "earth" where it is cast against earth, "form" where it is formed;  diameter : of the outermost steel [m]
    """
    return cover_on_earth(diameter) if against == "earth" else cover_formed(diameter)


@formula(source=COVER, limits="d_b > 0")
def cover_on_earth(d_b: Length) -> Length:
    """Specified cover where the concrete is cast against earth, whatever the bar [m]."""
    c = 3 * inch + 0 * d_b
    return c


@formula(source=COVER, limits="d_b > 0")
def cover_formed(d_b: Length) -> Length:
    """Specified cover of formed concrete that meets earth or weather, more from No. 6 on [m].

    d_b : of the outermost steel.
    """
    c = where(d_b > 0.7 * inch, 2 * inch, 1.5 * inch)
    return c


@formula(source=TOLERANCE, limits="d > 0; c > 0")
def cover_tolerance(d: Length, c: Length) -> Length:
    """How much less than the specified cover c may be found [m].

    d : from the far face of the member to the bar.
    """
    t_depth = where(d <= 8.001 * inch, 0.375 * inch, 0.5 * inch)
    t = minimum(t_depth, c / 3)
    return t


# ---- bends and hooks ----


@formula(source=HOOK, limits="d_b > 0")
def bend_diameter(d_b: Length) -> Length:
    """Least inside diameter of a standard hook's bend, to No. 8, to No. 11 and above [m]."""
    D_large = where(d_b < 1.5 * inch, 8 * d_b, 10 * d_b)
    D = where(d_b < 1.06 * inch, 6 * d_b, D_large)
    return D


@formula(source=HOOK)
def hook_leg(d_b: Length, D: Length) -> Length:
    """Leg of a standard 90 degree hook, out to out: the extension, the bend and the bar. d_b : bar; D : bend."""
    l_ext = 12 * d_b
    leg = l_ext + D / 2 + d_b
    return leg


@formula(source=HOOK)
def return_extension(d_b: Length) -> Length:
    """Straight end beyond a standard 180 degree hook [m]."""
    l_ext = maximum(4 * d_b, 2.5 * inch)
    return l_ext


@formula(source=TIE_HOOK, limits="d_b > 0; d_b < 1.06 in")
def tie_bend_diameter(d_b: Length) -> Length:
    """Least inside diameter of the bends of ties and stirrups, to No. 5 and to No. 8 [m]."""
    D = where(d_b < 0.7 * inch, 4 * d_b, 6 * d_b)
    return D


@formula(source=TIE_HOOK)
def tie_extension(d_b: Length) -> Length:
    """Straight end beyond the 135 degree hook of a tie [m]."""
    l_ext = maximum(6 * d_b, 3 * inch)
    return l_ext


@formula(source=GEOMETRY, limits="theta >= 0; theta < 3.1")
def bend_deduction(d: Length, r: Length, theta: Angle) -> Length:
    """What a bend takes off its two legs, measured out to out to where their outer lines meet [m].

    d : bar;  r : inside radius;  theta : how far the bar turns, less than half round.
    """
    ded = 2 * (r + d) * tan(theta / 2) - theta * (r + d / 2)
    return ded


@formula(source=GEOMETRY)
def hook_allowance(d: Length, r: Length, theta: Angle, l_ext: Length) -> Length:
    """What a hook that turns by theta adds beyond the outside of its bend, along the centre line [m]."""
    l_hook = theta * (r + d / 2) + l_ext - (r + d)
    return l_hook


@formula(source=GEOMETRY)
def cut_length(l_legs: Length, n_bends: Number, ded: Length, n_hooks: Number, l_hook: Length) -> Length:
    """Length of a bar along its centre line, out of the sum of its legs out to out [m]."""
    L = l_legs - n_bends * ded + n_hooks * l_hook
    return L


@formula(source=HOOP, limits="D_o > 0")
def hoop_length(D_o: Length, d: Length, r: Length, theta: Angle, l_ext: Length) -> Length:
    """Length of a round tie: once round, 6 in of lap, a hook at each end that turns in by theta [m].

    D_o : its outside diameter;  d : bar;  r : inside radius of the hook;  l_ext : straight beyond it.
    """
    l_hook = theta * (r + d / 2) + l_ext
    L = pi * (D_o - d) + 6 * inch + 2 * l_hook
    return L


# ---- spacing ----


@formula(source=SPACING)
def clear_spacing(d_b: Length, d_agg: Length) -> Length:
    """Least clear distance between parallel bars of a layer [m].

    d_agg : largest stone.
    """
    s_bar = maximum(1 * inch, d_b)
    s = maximum(s_bar, 4 * d_agg / 3)
    return s


@formula(source=COLUMN_SPACING)
def column_clear_spacing(d_b: Length, d_agg: Length) -> Length:
    """Least clear distance between the uprights of a pier [m].

    d_agg : largest stone.
    """
    s_bar = maximum(1.5 * inch, 1.5 * d_b)
    s = maximum(s_bar, 4 * d_agg / 3)
    return s


@formula(source=TIE_SPACING)
def tie_spacing(d_b: Length, d_t: Length, b: Length) -> Length:
    """Widest spacing of ties, centre to centre [m].

    d_b : upright;  d_t : tie;  b : least side of the pier.
    """
    s_bars = minimum(16 * d_b, 48 * d_t)
    s = minimum(s_bars, b)
    return s


@formula(source=TIE_SIZE, limits="d_b > 0")
def least_tie(d_b: Length) -> Length:
    """Least diameter of ties: No. 3 round uprights to No. 10, No. 4 round larger ones [m]."""
    d_t = where(d_b < 1.3 * inch, 0.375 * inch, 0.5 * inch)
    return d_t


@formula(source=TIES_AT_BOLTS, limits="d_t > 0")
def ties_at_bolts(d_t: Length) -> Number:
    """How many ties must stand within 5 in of the top round anchor bolts: two of No. 4, else three."""
    n = where(d_t < 0.49 * inch, 3, 2)
    return n
