"""What do the shores under a beam bring to their cross-pieces, and their sole plates to the ground?

    dead_load                    of beam and form over the stretch that is shored
    cross_load                   what lies on each foot of a cross-piece
    shore_load                   half of what lies on one cross-piece
    sole_pressure, sole_moment   of a plank laid flat under one shore

Shores stand in pairs, one under each side. What lies on them is in `aci347`, how they buckle in `nds`.
"""

from batterboard.quantity import Force, Length, LineLoad, Moment, Pressure, UnitWeight
from batterboard.working import STATICS, formula, maximum


@formula(source=STATICS, limits="w > 0; h >= 0; p_form >= 0; b >= 0; L >= 0")
def dead_load(w: UnitWeight, h: Length, p_form: Pressure, b: Length, L: Length) -> Force:
    """Weight of a beam and its form over a length L, people and tools left out [N].

    h, b : depth and width of the concrete;  p_form : the form's own weight over its plan.
    """
    W = (w * h + p_form) * b * L
    return W


@formula(source=STATICS, limits="p >= 0; s >= 0")
def cross_load(p: Pressure, s: Length) -> LineLoad:
    """What lies on a cross-piece, s from the next [N/m]."""
    q = p * s
    return q


@formula(source=STATICS, limits="p >= 0; b >= 0; s >= 0")
def shore_load(p: Pressure, b: Length, s: Length) -> Force:
    """What each shore of a pair carries of a beam b wide, pairs s apart [N]."""
    P = p * b * s / 2
    return P


@formula(source=STATICS, limits="b > 0; l > 0")
def sole_pressure(P: Force, b: Length, l: Length) -> Pressure:
    """What a sole plate b wide and l long brings to the ground [Pa]."""
    q = P / (b * l)
    return q


@formula(source=STATICS, limits="b > 0; d >= 0")
def sole_moment(q: Pressure, b: Length, l: Length, d: Length) -> Moment:
    """Moment in it where it runs out from under a shore d deep, bent by the ground [N m]."""
    a = maximum((l - d) / 2, 0)
    M = q * b * a**2 / 2
    return M
