"""What pushes an empty or filling form over, and what holds it?

    wind_force                    of a side that stands over shores
    wind_moment, least_moment     15 psf on its face, or 100 lb on each foot of its top: whichever tips more
    site_moment                   the place's own design wind, where the job states it
    strut_push, strut_force       what one brace takes, level and along itself
    stakes                        how many of them hold a force
    kicker_push, band_pull        of edges, and of bands round a form;  uprights, support_load of walls

A form is braced against the larger moment, not the larger force: wind acts at mid-height, the least force at the top.
"""

from batterboard.quantity import Force, Length, LineLoad, Moment, Number, Pressure, plf, psf
from batterboard.standards.asce7 import ASCE_7_16
from batterboard.working import STATICS, Document, absolute, ceil, formula, maximum, sqrt

TEXTBOOK = Document("Spiegel and Limbrunner", "Reinforced Concrete Design")
LATERAL = TEXTBOOK.clause("chapter 12", "read: the textbook's wall form with its figure")
STRUTS = Document("Hanna", "Concrete Formwork Systems").clause(
    "design of lateral bracing", "read: the page with its symbols"
)
ARMY = Document("EN5151", "US Army Engineer School: forms").clause("wall form steps", "read: steps 12 and 15")
WIND: Pressure = 15 * psf  # on a form, at least
LEAST: LineLoad = 100 * plf  # at its top
SPACED: Length = 1.8288  # braces of a long side stand no farther apart, 6 ft; the textbook's example


@formula(source=LATERAL, limits="p >= 0; b >= 0; h >= 0")
def wind_moment(p: Pressure, b: Length, h: Length) -> Moment:
    """Moment of the wind on a face b wide and h high about its foot [N m]."""
    M = p * b * h**2 / 2
    return M


@formula(source=LATERAL, limits="q >= 0; b >= 0; h >= 0")
def least_moment(q: LineLoad, b: Length, h: Length) -> Moment:
    """Moment of the least force along its top about its foot [N m]."""
    M = q * b * h
    return M


@formula(source=ASCE_7_16.clause("2.4.1", "memory"), limits="F >= 0; z >= 0")
def site_moment(F: Force, z: Length) -> Moment:
    """The same of the place's own design wind, F at strength level, brought down to allowable stresses [N m].

    The whole design speed: a form stands for days, but no factor for that was read anywhere.
    """
    M = 0.6 * F * z
    return M


@formula(source=LATERAL)
def tipping_moment(M_wind: Moment, M_least: Moment, M_site: Moment) -> Moment:
    """What a face is braced against; M_site is nothing where no site wind is stated [N m]."""
    M_any = maximum(M_wind, M_least)
    M = maximum(M_any, M_site)
    return M


@formula(source=STATICS, limits="h > 0")
def push_at(M: Moment, h: Length) -> Force:
    """The force at a height h that tips as much [N]."""
    F = absolute(M) / h
    return F


@formula(source=STATICS, limits="n > 0")
def shared(F: Force, n: Number) -> Force:
    """What each of n braces takes of it [N]."""
    F_each = F / n
    return F_each


@formula(source=STRUTS, limits="l_run > 0; h_up > 0")
def strut_force(F: Force, h_up: Length, l_run: Length) -> Force:
    """Force along a brace that holds F level at h_up, its foot l_run away [N]."""
    l = sqrt(h_up**2 + l_run**2)
    P = F * l / l_run
    return P


@formula(source=STRUTS, limits="l_run > 0")
def strut_lift(F: Force, h_up: Length, l_run: Length) -> Force:
    """What it lifts or presses the foot of the form with [N]."""
    V = F * h_up / l_run
    return V


@formula(source=STATICS, limits="F >= 0; R > 0")
def stakes(F: Force, R: Force) -> Number:
    """How many stakes of hold R keep F."""
    n = ceil(F / R)
    return n


@formula(source=STATICS, limits="n >= 0; R > 0")
def stakes_hold(n: Number, R: Force) -> Force:
    """What n stakes hold together [N]."""
    F = n * R
    return F


@formula(source=STATICS, limits="p >= 0; b >= 0; h >= 0")
def wind_force(p: Pressure, b: Length, h: Length) -> Force:
    """The wind's own push on a face b wide and h high [N]."""
    F = p * b * h
    return F


# ---- boards on edge, held by stakes with a kicker to their top ----


@formula(source=STATICS)
def kicker_push(q_top: Pressure, q_foot: Pressure, h: Length, s: Length) -> Force:
    """What the top of a stake brings to its kicker, from the pressure on its share s of the board [N].

    q_top : nothing, unless the concrete is covered and more stands above it;  q_foot : at the foot;  h : height.
    """
    F = (2 * q_top + q_foot) / 6 * h * s
    return F


@formula(source=STATICS)
def stake_push(q_top: Pressure, q_foot: Pressure, h: Length, s: Length) -> Force:
    """And what its foot brings to the ground [N]."""
    F = (q_top + 2 * q_foot) / 6 * h * s
    return F


@formula(source=STATICS)
def stake_moment(q_top: Pressure, q_foot: Pressure, h: Length, s: Length) -> Moment:
    """Moment in it between ground and kicker, the largest of both parts of the pressure together [N m]."""
    M_even = q_top * s * h**2 / 8
    M_growing = (q_foot - q_top) * s * h**2 / (9 * sqrt(3))
    M = M_even + M_growing
    return M


# ---- bands round a form of many sides ----


@formula(source=STATICS, limits="F >= 0")
def band_pull(q: LineLoad, F: Length) -> Force:
    """Pull in a band round a form F across its flats, pressed by q on each metre round it [N]."""
    T = absolute(q) * F / 2
    return T


# ---- walls ----


@formula(source=ARMY, limits="L > 0; s > 0")
def uprights(L: Length, s: Length) -> Number:
    """Studs or stakes along a form of length L, one at each end and none farther apart than s."""
    n = ceil(L / s) + 1
    return n


@formula(source=STATICS, limits="s >= 0")
def support_load(q: LineLoad, s: Length) -> Force:
    """What a stick loaded by q brings to each of its supports, s apart: a wale to its ties, a stud to its wales [N]."""
    F = absolute(q) * s
    return F


@formula(source=ARMY, limits="q > 0; R >= 0")
def tie_spacing(R: Force, q: LineLoad) -> Length:
    """How far apart ties of strength R may hold a wale [m]."""
    s = R / q
    return s
