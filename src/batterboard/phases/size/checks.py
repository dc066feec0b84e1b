"""Will the soil carry it, will it tip, slide or pull out?

    pad or slab       : soil under it, overturning along and across, sliding
    pier without pad  : its weight on its foot, and how deep its sides must hold it

The pressure is that of rigid contact, both ways at once, the soil never pulling. What soil in front of a pad resists
is not counted. How far things move stands in `movement`.
"""

from typing import Any

import numpy as np

from batterboard.methods import contact
from batterboard.phases.size.results import Load
from batterboard.quantity import Force, Length, Moment, Pressure
from batterboard.standards import ibc, statics
from batterboard.work.records import Soil
from batterboard.working import Check, capacity, check, demand

Answer = tuple[Any, Any, str]

BEARING = ibc.IBC_2021.table("1806.2", "read: a handbook's reprint of the 2012 table")
# The code asks 1.5 of walls that hold back earth; for a pad in the open it is the yardstick everybody takes.
STABILITY = ibc.IBC_2021.clause("1807.2.3 as yardstick")
SLIDING = ibc.IBC_2021.clause("1806.3, with 1807.2.3 as yardstick")


def of_base(load: Load, soil: Soil) -> tuple[Check, ...]:
    """Every strength check of one base."""
    if load.stands:
        return soil_pressure(load, soil), overturning_along(load), overturning_across(load), sliding(load, soil)
    return soil_under_foot(load, soil), embedment(load, soil)


@check("Soil pressure", clause=BEARING, of=Pressure)
def soil_pressure(load: Load, soil: Soil) -> Answer:
    L, B = load.foot.outline.along, load.foot.outline.across
    _show_wind(load)
    P, r, t = _contact(load, L, B)
    return demand(statics.corner_pressure(P, B, L, r, t)), capacity(soil.bearing), load.note


@check("Overturning along", clause=STABILITY, of=Moment)
def overturning_along(load: Load) -> Answer:
    M = statics.tipping(_along(load))
    return demand(M), capacity(statics.righting(_down(load), load.foot.outline.along, load.against)), load.note


@check("Overturning across", clause=STABILITY, of=Moment)
def overturning_across(load: Load) -> Answer:
    M = statics.tipping(_across(load))
    return demand(M), capacity(statics.righting(_down(load), load.foot.outline.across, load.against)), load.note


@check("Sliding", clause=SLIDING, of=Force)
def sliding(load: Load, soil: Soil) -> Answer:
    V = statics.side_push(*_push(load))
    D = load.f_D * load.dead.down
    if np.all(np.isnan(soil.friction)):
        L, B = load.foot.outline.along, load.foot.outline.across
        _, r, t = _contact(load, L, B)
        R = ibc.adhesion(soil.cohesion, statics.contact_area(B, L, r, t), D)
    else:
        R = ibc.friction(soil.friction, D)
    note = " ".join(filter(None, (load.note, "Soil against its sides is not counted.")))
    return demand(V), capacity(statics.made_safe(R, load.against)), note


@check("Soil under the foot", clause=BEARING, of=Pressure)
def soil_under_foot(load: Load, soil: Soil) -> Answer:
    q = statics.mean_pressure(_down(load), load.foot.outline.area)
    return demand(q), capacity(soil.bearing), "Grip of the soil on its sides is not counted."


@check("Depth in the soil", clause=ibc.IBC_2021.clause("1807.3.2.1"), of=Length)
def embedment(load: Load, soil: Soil) -> Answer:
    _show_wind(load)
    V_L, V_B = _push(load)
    V = statics.side_push(V_L, V_B)
    M = statics.moment_at_ground(_along(load), _across(load), V_L, V_B, load.depth)
    b = bearing_width(load)
    # The formula is worked at the depth it asks for; a pier that nothing pushes needs none.
    d_tried = np.maximum(ibc.embedment_depth(V, M, soil.side, b), _TRIED)
    d = ibc.pole_embedment(V, M, ibc.lateral_strength(soil.side, d_tried), b)
    return demand(d), capacity(load.depth), load.note


_TRIED = 0.001  # [m]


def bearing_width(load: Load) -> Any:
    """b of a pier in the soil: its diameter, or the diagonal of a square on its lesser side.

    Of a polygon, which the clause does not name, the round pier inside it counts.
    """
    outline = load.foot.outline
    return outline.least * 2**0.5 if outline.kind == "rectangle" else outline.along


def _contact(load: Load, L: Any, B: Any) -> tuple[Any, Any, Any]:
    P = _down(load)
    u, v = statics.off_centre(P, _along(load), L), statics.off_centre(P, _across(load), B)
    return P, *contact.falling(u, v)


def _down(load: Load) -> Any:
    return statics.combined_force(load.f_D, load.dead.down, load.f_W, load.wind.down, load.f_L, load.live.down)


def _along(load: Load) -> Any:
    kinds = (load.dead.tips_along, load.wind.tips_along, load.live.tips_along)
    return statics.combined_moment(load.f_D, kinds[0], load.f_W, kinds[1], load.f_L, kinds[2])


def _across(load: Load) -> Any:
    kinds = (load.dead.tips_across, load.wind.tips_across, load.live.tips_across)
    return statics.combined_moment(load.f_D, kinds[0], load.f_W, kinds[1], load.f_L, kinds[2])


def _push(load: Load) -> tuple[Any, Any]:
    dead, wind, live = load.dead, load.wind, load.live
    V_L = statics.combined_force(load.f_D, dead.along, load.f_W, wind.along, load.f_L, live.along)
    V_B = statics.combined_force(load.f_D, dead.across, load.f_W, wind.across, load.f_L, live.across)
    return V_L, V_B


def _show_wind(load: Load) -> None:
    """Have the wind on each thing worked once more, for the page of the check that it rules."""
    for push in load.pushes:
        push.again()
