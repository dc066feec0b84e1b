"""How stiff is fresh concrete, how does it stiffen while it rests, and what does it bear?

    tau    yield stress, read from the slump by three published fits     4 in at 150 pcf: 1.59 to 2.10 kPa
    A      how fast it grows while nobody shakes it                      0.5 to 1 Pa/s
    2 + pi how many yield stresses the edge of a layer bears

The fits differ by a third, and a model of the slump cone reads half of them: a range, never one number. Vibration takes
the growth away again. What a form standing on such concrete asks of it is told in `phases.forms.foot`.
"""

from batterboard.quantity import (
    Area,
    Force,
    Length,
    MassDensity,
    Number,
    Pa,
    Pressure,
    RateOfRise,
    Stiffening,
    Time,
    UnitWeight,
    cm,
    gravity,
    kg_per_m3,
    mm,
)
from batterboard.working import STATICS, Document, formula, log, maximum, minimum, pi, power, sqrt

ROUSSEL = Document("Roussel 2006", "Materials and Structures 39: slump and yield stress").clause(
    "slump equation", "memory"
)
NISTIR = Document("NISTIR 6094", "Ferraris and de Larrard 1998").clause(
    "yield stress by slump", "read: the form of the equations in its text; coefficients from memory"
)
HU = Document("Hu 1995", "as Ferraris and de Larrard quote it").clause("slump equation", "memory")
SLICES = Document("Slump cone in slices", "Murata 1984, Schowalter and Christensen 1998").clause("", "derived")
THIXOTROPY = Document("Roussel 2006b", "Cement and Concrete Research 36: a thixotropy model of fresh concrete")
AT_REST = THIXOTROPY.clause("growth of the yield stress at rest", "memory")
FORM_FRICTION = THIXOTROPY.clause("form pressure", "memory")
PRANDTL = Document("Plasticity", "Prandtl's strip load on a cohesive layer").clause("2 + pi", "derived")
SKEMPTON = Document("Skempton", "deep bearing of a cohesive mass").clause("factor 9", "memory")

SLOW: Stiffening = 0.5  # of ordinary vibrated concrete at rest. From memory: 0.1 to over 1 Pa/s are published
QUICK: Stiffening = 1.0
MARGIN = 1.5  # on what fresh concrete has to bear. Ours, no source
STIFFEST = 50 * mm  # slump below which the fits say nothing


@formula(source=STATICS, limits="w > 0")
def density(w: UnitWeight) -> MassDensity:
    """Density of concrete of a unit weight [kg/m3]."""
    rho = w / gravity
    return rho


# ---- yield stress by slump ----


@formula(source=ROUSSEL, limits="rho > 0; s >= 50 mm; s <= 250 mm")
def yield_roussel(s: Length, rho: MassDensity) -> Pressure:
    """Yield stress by a fit to flow computations [Pa]. s : slump."""
    tau_Pa = rho / kg_per_m3 * (25.5 - s / cm) / 17.6
    tau = tau_Pa * Pa
    return tau


@formula(source=NISTIR, limits="rho > 0; s >= 50 mm; s <= 300 mm")
def yield_nistir(s: Length, rho: MassDensity) -> Pressure:
    """Yield stress by a fit to tests in a rheometer [Pa]. s : slump."""
    tau_Pa = rho / kg_per_m3 * (300 - s / mm) / 347 + 212
    tau = tau_Pa * Pa
    return tau


@formula(source=HU, limits="rho > 0; s >= 50 mm; s <= 300 mm")
def yield_hu(s: Length, rho: MassDensity) -> Pressure:
    """Yield stress by an earlier fit [Pa]. s : slump."""
    tau_Pa = rho / kg_per_m3 * (300 - s / mm) / 270
    tau = tau_Pa * Pa
    return tau


@formula(source=STATICS)
def lowest_yield(s: Length, rho: MassDensity) -> Pressure:
    """The least that the three fits read from a slump: for what has to bear [Pa]."""
    tau_1 = yield_roussel(s, rho)
    tau_2 = yield_nistir(s, rho)
    tau_3 = yield_hu(s, rho)
    tau_12 = minimum(tau_1, tau_2)
    tau = minimum(tau_12, tau_3)
    return tau


@formula(source=STATICS)
def highest_yield(s: Length, rho: MassDensity) -> Pressure:
    """The most that the three fits read from a slump [Pa]."""
    tau_1 = yield_roussel(s, rho)
    tau_2 = yield_nistir(s, rho)
    tau_3 = yield_hu(s, rho)
    tau_12 = maximum(tau_1, tau_2)
    tau = maximum(tau_12, tau_3)
    return tau


@formula(source=SLICES, limits="tau > 0; rho > 0")
def cone_slump(tau: Pressure, rho: MassDensity) -> Length:
    """How far the standard cone slumps by its own weight, cut in slices that each yield by themselves [m].

    The tip of the cone would be z_0 above its top, and its foot is 2 z_0 below the tip. Slices below z_y yield, and
    each shortens until its widened area bears what stands on it.
    """
    z_0 = 300 * mm
    a = 2 * tau / (rho * gravity)
    u = z_0**3 / 2 + a**3
    v = sqrt(u**2 - a**6)
    z_y = a + power(u + v, 1 / 3) + power(u - v, 1 / 3)
    z_upper = minimum(z_y, 2 * z_0)
    h_stiff = z_upper - z_0
    h_yielding = a * log(7 * z_0**3 / (z_upper**3 - z_0**3))
    s = z_0 - h_stiff - h_yielding
    return s


@formula(source=SLICES, limits="rho > 0")
def stands_without_slump(rho: MassDensity) -> Pressure:
    """Yield stress above which the same cone does not slump at all [Pa]."""
    z_0 = 300 * mm
    tau = rho * gravity * 7 * z_0 / 24
    return tau


# ---- what it bears, and when ----


@formula(source=PRANDTL, limits="tau >= 0")
def bearing(tau: Pressure) -> Pressure:
    """What a layer of yield stress tau bears beside a free surface [Pa]."""
    q = (2 + pi) * tau
    return q


@formula(source=PRANDTL, limits="q >= 0; n > 0")
def yield_needed(q: Pressure, n: Number) -> Pressure:
    """Yield stress that bears q with a margin n [Pa]."""
    tau = n * q / (2 + pi)
    return tau


@formula(source=AT_REST, limits="A > 0")
def resting_time(tau: Pressure, tau_0: Pressure, A: Stiffening) -> Time:
    """How long concrete of yield stress tau_0 rests until it has tau [s]. Each vibration starts it again."""
    t = maximum(tau - tau_0, 0) / A
    return t


@formula(source=SKEMPTON, limits="tau >= 0; d >= 0")
def rod_force(tau: Pressure, d: Length) -> Force:
    """What a flat-ended rod carries that was pushed in by a few of its diameters d [N]."""
    A = pi * d**2 / 4
    F = 9 * tau * A
    return F


@formula(source=FORM_FRICTION, limits="A >= 0; e > 0; R > 0; rho > 0; H >= 0")
def resting_pressure(rho: MassDensity, H: Length, A: Stiffening, e: Length, R: RateOfRise) -> Pressure:
    """Pressure at the foot of a form where the concrete hangs on both faces as it stiffens, never vibrated again [Pa].

    e : between the faces; of a square pier half of its side.
    """
    p_head = rho * gravity * H
    p_hangs = H**2 * A / (e * R)
    p = maximum(p_head - p_hangs, 0)
    return p


@formula(source=STATICS)
def under_a_cover(A_below: Area, A_above: Area) -> Area:
    """Area of a cover board that the concrete presses up: all of the lower block's top but the block on it [m2]."""
    A = maximum(A_below - A_above, 0)
    return A
