"""When may a pier or a step be filled whose form stands on the fresh concrete of what is below it?

    foot : Foot("west", pad="west pad", head=1.016, late=10796, early=4890, limit=11100, ...)

The concrete in the form presses its head on the pad and wants out beside the form's edge. What the pad bears is read
from its slump: a range. It stiffens while it rests, and a vibrator that reaches it starts that again. So there is an
early time, of the highest reading and quick stiffening, and a late one, of the lowest and slow; the late one is judged,
against the time at which the joint between the two lifts goes cold. Nobody has published a criterion for the whole: it
is advice, and what rod and thumb find on the pad stands before it. The other way out is a cover board over the pad.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import numpy as np

from batterboard.job.schema import Mix, Pour, Stock
from batterboard.quantity import Area, Force, Length, Number, Pressure, Time, inch
from batterboard.record import record
from batterboard.standards import aci347, bracing, buoyancy, fresh, trade
from batterboard.work.records import Body, Lift, Pier, Work
from batterboard.working import STATICS, Check, capacity, check, demand, maximum, minimum

ROD = 1 * inch  # a flat-ended dowel, thicker than the stone would like but at hand
RETARDED = "; its mix is retarded and stiffens more slowly than this"
ADVISORY = "advice: no criterion is published for it; test the pad before filling"


@record
class Foot:
    """A form on fresh concrete. Times count from when the pad was last vibrated."""

    name: str  # the pier, or a step
    pad: str  # or the step below it
    pad_lift: int
    lift: int  # of the pier; the same number where both are placed in one go
    head: Length  # of concrete above the pad: in the form, and in those on it that are open to it
    pressure: Pressure  # of it, as a liquid
    slump: Length  # of the pad's concrete as placed
    yield_low: Pressure  # of the pad, just vibrated: the lowest of the published readings of that slump
    yield_high: Pressure  # and the highest
    bears_low: Pressure  # what that bears at once
    bears_high: Pressure
    cone: Length  # what a cone of the lowest yield stress would slump by the slice model: the spread of all this
    needed: Pressure  # yield stress that holds the head, with margin
    early: Time
    late: Time  # judged
    limit: Time  # when the joint goes cold, from the trade's half of the set less the drive
    rod: Force  # what a rod of 1 in carries on a pad that is ready
    cover: Area  # of a board over the rest of the pad
    uplift: Force  # under that board
    covered: bool  # the job says that there is one: then the pier need not wait
    stake: Force  # what one stake holds, as entered or assumed
    stakes: Number  # that hold the board down
    advisory: str


def feet(work: Work, pour: Pour, mixes: Mapping[str, Mix], stock: Stock, formed: Iterable[str]) -> tuple[Foot, ...]:
    """Every form on a pad that is cast on the same day, unless its concrete is in already."""
    placed = {body.name: lift for lift in work.lifts for body in lift.bodies}
    inside = set(formed)
    made = []
    for pier in work.piers.values():
        for pad, on_it in zip(pier.bodies, pier.bodies[1:]):
            if not pad.cast and on_it.name in inside:
                made.append(_foot(pad, on_it, _open_to(pier, on_it, placed), placed, pour, mixes, stock))
    return tuple(made)


def _open_to(pier: Pier, body: Body, placed: Mapping[str, Lift]) -> Any:
    """How high concrete stands over a block as one liquid: filled in one go, or into it through a closed cover."""
    above = pier.bodies[pier.bodies.index(body) :]
    for lower, upper in zip(above, above[1:]):
        if placed[upper.name] is not placed[lower.name] and not placed[lower.name].covered:
            return lower.top
    return pier.top


def foot_checks(feet: Iterable[Foot]) -> Iterator[Check]:
    for foot in feet:
        if foot.covered:
            yield covered_pad(foot)
        elif foot.lift == foot.pad_lift:
            yield at_once(foot)
        else:
            yield waiting(foot)


@check("Late wait before the form is filled, against a cold joint", clause=fresh.AT_REST, of=Time)
def waiting(foot: Foot) -> tuple[Any, Any, str]:
    t_late = fresh.resting_time(foot.needed, foot.yield_low, fresh.SLOW)
    return demand(t_late), capacity(foot.limit), f"{foot.pad}: {foot.advisory}"


@check("Fresh pad under a form that is filled in one go with it", clause=fresh.PRANDTL, of=Pressure)
def at_once(foot: Foot) -> tuple[Any, ...]:
    tau = fresh.yield_needed(foot.pressure, fresh.MARGIN)
    way = "make the pad a lift of its own, or cover it"
    return demand(tau), capacity(foot.yield_low), f"yield stress of {foot.pad}, just vibrated; {way}; {foot.advisory}"


@check("Cover boards over the pad, held down", clause=STATICS, of=Force)
def covered_pad(foot: Foot) -> tuple[Any, ...]:
    F_up = buoyancy.lid_lift(foot.pressure, foot.cover)
    R = bracing.stakes_hold(foot.stakes, foot.stake)
    return demand(F_up), capacity(R), f"{float(np.max(foot.stakes)):.0f} stakes, or as much weight on the boards"


def _foot(
    pad: Body,
    shaft: Body,
    top: Any,
    placed: Mapping[str, Lift],
    pour: Pour,
    mixes: Mapping[str, Mix],
    stock: Stock,
) -> Foot:
    below, above = placed[pad.name], placed[shaft.name]
    head = maximum(top - pad.top, 0.0)
    weight = mixes[shaft.mix].weight
    pressure = aci347.liquid_head(aci347.pumped_weight(weight) if pour.from_below else weight, head)
    rho = fresh.density(mixes[pad.mix].weight)
    slump = maximum(below.slump, fresh.STIFFEST)  # stiffer concrete bears at least what that bears
    low, high = fresh.lowest_yield(slump, rho), fresh.highest_yield(slump, rho)
    needed = fresh.yield_needed(pressure, fresh.MARGIN)
    away = 0.0 if pour.truck.away is None else pour.truck.away
    cover = fresh.under_a_cover(pad.outline.area, shaft.outline.area)
    uplift = buoyancy.lid_lift(pressure, cover)
    early = fresh.resting_time(needed, high, fresh.QUICK)
    late = fresh.resting_time(needed, low, fresh.SLOW)
    return Foot(
        name=shaft.name,
        pad=pad.name,
        pad_lift=below.number,
        lift=above.number,
        head=head,
        pressure=pressure,
        slump=below.slump,
        yield_low=low,
        yield_high=high,
        bears_low=fresh.bearing(low),
        bears_high=fresh.bearing(high),
        cone=fresh.cone_slump(low, rho),
        needed=needed,
        early=minimum(early, late),
        late=late,
        limit=trade.next_lift(trade.setting_time(pour.concrete), away),
        rod=fresh.rod_force(needed, ROD),
        cover=cover,
        uplift=uplift,
        covered=below.covered,
        stake=stock.stake,
        stakes=bracing.stakes(uplift, stock.stake),
        advisory=ADVISORY + (RETARDED if mixes[pad.mix].retarder else ""),
    )
