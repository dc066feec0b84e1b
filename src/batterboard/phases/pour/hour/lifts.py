"""When does each lift begin and end, and how long does the next one wait for it?

A lift begins when the one before has been vibrated, and takes as long as crew, rise of the forms and vibrators need.
Where it stands on fresh concrete it waits as `forms` asks; what was timed at the truck stands as it was.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any, Literal

from batterboard.job import schema
from batterboard.phases.concrete import Concrete
from batterboard.phases.forms import Foot
from batterboard.phases.pour.hour.results import Hold, Placing, Way
from batterboard.phases.pour.order import Lift, Order
from batterboard.phases.pour.vibration import Vibration
from batterboard.quantity import day, inch
from batterboard.standards import fresh, trade
from batterboard.work.records import Work
from batterboard.working import nan

HAIR = 1e-6  # of a volume or a time that rounding leaves
_SLUMPS = tuple(n * 0.25 * inch for n in range(8, 33))  # that the readings of a slump know: 2 to 8 in


def flow_of(pour: schema.Pour) -> float:
    """What the crew places: by its way to the form, and no faster than the plant lets a truck unload free of charge."""
    return float(min(trade.placing(pour.by, pour.crew), trade.UNLOADING))


def placings_of(
    work: Work,
    order: Order,
    concrete: Concrete,
    feet: tuple[Foot, ...],
    vibrated: Vibration,
    pour: schema.Pour,
    weights: Mapping[str, Any],
    away: float,
) -> tuple[tuple[Placing, ...], tuple[Hold, ...]]:
    made: dict[int, Placing] = {}
    holds = []
    free = 0.0  # crew and vibrator
    for lift in order.lifts:
        if lift.cast:
            continue
        below = [made[number] for number in _knits_with(work, order, lift) if number in made]
        starts = free
        if below:
            hold = _hold(
                lift, below, free, [foot for foot in feet if foot.lift == lift.number], concrete, weights, away
            )
            holds.append(hold)
            starts = hold.starts
        made[lift.number] = _placing(lift, order, vibrated, pour, starts, _logged(pour, lift.number))
        if below and made[lift.number].starts != holds[-1].starts:  # it was timed
            holds[-1] = replace(holds[-1], starts=made[lift.number].starts)
        free = made[lift.number].ends
    return tuple(made.values()), tuple(holds)


def _knits_with(work: Work, order: Order, lift: Lift) -> Iterator[int]:
    """Earlier lifts whose concrete this one touches."""
    own = _touched(work, lift)
    for earlier in order.lifts:
        if earlier.number < lift.number and not earlier.cast and own & _touched(work, earlier):
            yield earlier.number


def _touched(work: Work, lift: Lift) -> set[str]:
    """The elements of a lift; a beam touches the piers between which it runs."""
    bodies = {body.name: body.element for one in work.lifts for body in one.bodies}
    elements = {bodies[piece.name] for piece in lift.pieces if not piece.cast}
    return elements | {end for name in elements if name in work.beams for end in work.beams[name].between}


def _logged(pour: schema.Pour, lift: int) -> tuple[float | None, float | None]:
    """When its first concrete was placed and when the last truck was empty, as logged; None where it was not."""
    if pour.when is None:
        return None, None
    own = [load for load in pour.loads.values() if load.lift == lift]
    begun = [(load.begun - pour.when).total_seconds() for load in own if load.begun is not None]
    empty = [(load.empty - pour.when).total_seconds() for load in own if load.empty is not None]
    return min(begun, default=None), max(empty, default=None)


def _placing(
    lift: Lift,
    order: Order,
    vibrated: Vibration,
    pour: schema.Pour,
    starts: float,
    logged: tuple[float | None, float | None] = (None, None),
) -> Placing:
    gross = float(lift.gross)
    by_crew = gross / flow_of(pour)
    pieces = {piece.name for piece in lift.pieces if not piece.cast}
    rises = [float(rise.takes) for rise in order.rises if rise.pier in pieces]
    by_rise = max((takes for takes in rises if takes == takes), default=0.0)  # nan where no rate was said
    takes = max(by_crew, by_rise)
    begun, empty = logged
    if begun is not None:
        starts = begun
        takes = takes if empty is None else max(empty - begun, 1.0)
    elif empty is not None:
        starts = empty - takes
    blocks = [block for block in vibrated.blocks if block.lift == lift.number]
    vibrating = sum(block.takes for block in blocks) / pour.vibrators
    slowed = begun is None and empty is None and vibrating - takes > float(lift.next_by)
    takes = vibrating if slowed else takes  # what is placed must not grow stiff before the vibrator comes
    layers = sum(block.layers for block in blocks)
    first = takes / layers if layers else 0.0  # nothing is vibrated before its layer is in
    last = max((block.takes / block.layers for block in blocks), default=0.0)
    placed = starts + takes
    ends = max(placed + last, starts + first + vibrating)
    rules: Literal["crew", "rise", "vibrator", "logged"] = "rise" if by_rise > by_crew else "crew"
    if begun is not None or empty is not None:
        rules = "logged"
    elif slowed or ends > placed + last + HAIR:
        rules = "vibrator"
    return Placing(
        lift=lift.number,
        what=tuple(piece.name for piece in lift.pieces if not piece.cast),
        mix=lift.mix,
        volume=gross,
        slump=float(lift.slump),
        starts=starts,
        placed=placed,
        ends=ends,
        flow=gross / takes if takes else nan,
        rules=rules,
        cold=starts + float(lift.next_by),
        sets=starts + float(lift.initial_set) - float(lift.away),
    )


def _hold(
    lift: Lift,
    below: list[Placing],
    free: float,
    feet: list[Foot],
    concrete: Concrete,
    weights: Mapping[str, Any],
    away: float,
) -> Hold:
    ends = {placing.lift: placing.ends for placing in below}
    rests = [foot for foot in feet if foot.pad_lift in ends]
    boards = bool(rests) and all(foot.covered for foot in rests)
    ready = free + trade.COVERING
    perhaps = max((ends[foot.pad_lift] + float(foot.early) for foot in rests), default=free)
    soonest = max((ends[foot.pad_lift] + float(foot.late) for foot in rests), default=free)
    perhaps, soonest = (ready, ready) if boards else (max(perhaps, free), max(soonest, free))
    first = min(below, key=lambda placing: placing.cold)
    starts, way = _way(free, perhaps, soonest, first.cold)
    wanted = 2 * (soonest - first.starts + away)
    return Hold(
        after=first.lift,
        before=lift.number,
        piers=tuple(foot.name for foot in rests),
        soonest=soonest,
        perhaps=perhaps,
        latest=first.cold,
        starts=starts,
        way="cover" if boards and way == "wait" else way,
        rod=max((float(foot.rod) for foot in rests), default=nan),
        uplift=max((float(foot.uplift) for foot in rests), default=nan),
        stakes=max((float(foot.stakes) for foot in rests), default=nan),
        set_needed=max(wanted, float(concrete.mixes[first.mix].initial_set)),
        cool_enough=_sets_after(wanted),
        stiff_enough=_stiff_enough(rests, ends, first.cold, weights[first.mix]) if free <= first.cold else nan,
        boards_enough=bool(rests) and ready <= first.cold,
    )


def _way(free: float, perhaps: float, soonest: float, latest: float) -> tuple[float, Way]:
    """When the next lift begins, and by which way."""
    if soonest <= latest:
        return soonest, "wait" if soonest > free + HAIR else "at once"
    if perhaps <= latest:
        return (perhaps + latest) / 2, "test"
    return (int(free // day) + 1) * float(day), "joint"


def _sets_after(wanted: float) -> float:
    """The warmest concrete, in whole degrees, that sets no sooner than wanted; nan where it would have to freeze."""
    for T in range(38, 4, -1):
        if trade.setting_time(float(T)) >= wanted:
            return float(T)
    return nan


def _stiff_enough(feet: list[Foot], ends: Mapping[int, float], latest: float, weight: Any) -> float:
    """The wettest slump of pads that would all be ready before the joint goes cold."""
    rho = fresh.density(weight)
    ready = [s for s in _SLUMPS if feet and all(ends[foot.pad_lift] + _rest(foot, s, rho) <= latest for foot in feet)]
    return max(ready, default=nan)


def _rest(foot: Foot, slump: float, rho: Any) -> float:
    """The judged wait at another slump."""
    return float(fresh.resting_time(foot.needed, fresh.lowest_yield(slump, rho), fresh.SLOW))
