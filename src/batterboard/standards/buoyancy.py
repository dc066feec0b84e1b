"""How hard does liquid concrete lift what stands on it or in it?

    edge_lift      panels whose lower edges stand on fresh concrete       23/32 in all round a 22 in pier, 40 in: 227 lb
    lid_lift       a cover board                                          over a 54 x 48 in pad: 7319 lb
    batter_lift    a form that narrows upwards: the concrete that is missing above its sloping panels
    strip_lift, pipe_lift   a chamfer strip, an empty pipe
    blockout_lift  a box in the concrete, less its weight                 12 x 8 x 6 in of plywood, 9 lb: 41 lb

Full liquid head everywhere, whatever the pressure on the sides: a form that lifts by a finger's breadth is lost.
"""

from batterboard.quantity import Area, Force, Length, LineLoad, Number, Pressure, UnitWeight, Volume
from batterboard.working import STATICS, formula, maximum, pi

WATER: UnitWeight = 9806.65  # of water, which lumber's specific gravity is a share of


@formula(source=STATICS, limits="w > 0; h >= 0; t >= 0; u >= 0")
def edge_lift(w: UnitWeight, h: Length, u: Length, t: Length) -> Force:
    """Lift under panels of thickness t that stand round u of a block, h below its top [N]."""
    F = w * h * u * t
    return F


@formula(source=STATICS, limits="p >= 0; A >= 0")
def lid_lift(p: Pressure, A: Area) -> Force:
    """Lift under a closed cover [N]."""
    F = p * A
    return F


@formula(source=STATICS, limits="w > 0")
def batter_lift(w: UnitWeight, A_base: Area, h: Length, V: Volume) -> Force:
    """Lift of a form wider at its base than above: what is missing of the upright block above the base [N]."""
    F = w * maximum(A_base * h - V, 0)
    return F


@formula(source=STATICS, limits="w > 0; a >= 0")
def strip_lift(w: UnitWeight, a: Length) -> LineLoad:
    """Lift under a metre of a chamfer strip of leg a at the top edge [N/m]."""
    q = w * a**2 / 2
    return q


@formula(source=STATICS, limits="w > 0; D >= 0")
def pipe_lift(w: UnitWeight, D: Length) -> LineLoad:
    """Lift of each metre of an empty pipe, its own weight left out [N/m]."""
    q = w * pi * D**2 / 4
    return q


@formula(source=STATICS, limits="w > 0; V >= 0; W >= 0")
def blockout_lift(w: UnitWeight, V: Volume, W: Force) -> Force:
    """Lift of a box all in fresh concrete: the concrete that it keeps out, less its own weight [N].

    V : of the concrete it keeps out;  W : its own weight.
    """
    F_up = w * V
    F = maximum(F_up - W, 0)
    return F


@formula(source=STATICS)
def held_down(W: Force, n: Number, R: Force) -> Force:
    """What weight and n stakes hold down [N]."""
    F = W + n * R
    return F
