"""Which truck brings what, when, how old, and how is it wetted for a lift that wants more slump?

A load is parted from the next where the truck is empty, where it would grow too old, and where the mix changes.
"""

from collections.abc import Iterator
from typing import Any, Literal, NamedTuple

from batterboard.job import schema
from batterboard.phases.concrete import Concrete
from batterboard.phases.pour.hour.lifts import HAIR
from batterboard.phases.pour.hour.results import Load, Placing, Wetting
from batterboard.phases.pour.order import Order
from batterboard.quantity import day
from batterboard.standards import astm_c172, trade


class _Stretch(NamedTuple):
    """What one load places of one lift."""

    lift: int
    start: float
    end: float
    volume: float


def loads_of(order: Order, placings: tuple[Placing, ...], pour: schema.Pour, away: float) -> Iterator[Load]:
    """Loads in the order in which they come. A new one where the truck is empty, too old, or holds another mix."""
    number = 0
    for mix in dict.fromkeys(placing.mix for placing in placings):
        why: Any = "first" if number == 0 else "other mix"
        stretches: list[_Stretch] = []
        for placing in (one for one in placings if one.mix == mix):
            t, left = placing.starts, float(placing.volume)
            while left > HAIR * placing.volume:
                place = _places(stretches, t, left, placing.flow, pour, away, placing.rules == "logged")
                if place <= HAIR * placing.volume:
                    number += 1
                    yield _load(number, mix, stretches, order, pour, why)
                    why = _why(stretches, t, pour)
                    stretches = []
                    continue
                took = place / placing.flow
                stretches.append(_Stretch(placing.lift, t, t + took, place))
                t, left = t + took, left - place
        if stretches:
            number += 1
            yield _load(number, mix, stretches, order, pour, why)


def _places(
    stretches: list[_Stretch], t: float, left: float, flow: float, pour: schema.Pour, away: float, timed: bool
) -> float:
    """How much of what is left the truck at the form can still place."""
    starts = stretches[0].start if stretches else t
    room = float(pour.truck.load) - sum(one.volume for one in stretches)
    until = starts - astm_c172.TESTED - away + float(pour.truck.oldest)
    if starts >= until or timed:  # too old when it comes, which the notes say; or it came so: then only room counts
        until = float("inf")
    return float(min(left, room, max(0.0, (until - t) * flow)))


def _why(stretches: list[_Stretch], t: float, pour: schema.Pour) -> Literal["full", "old", "other day"]:
    if t - stretches[-1].end > day / 4:
        return "other day"
    full = sum(one.volume for one in stretches) >= float(pour.truck.load) * (1 - HAIR)
    return "full" if full else "old"


def _load(number: int, mix: str, stretches: list[_Stretch], order: Order, pour: schema.Pour, why: Any) -> Load:
    away = 0.0 if pour.truck.away is None else float(pour.truck.away)
    oldest = float(pour.truck.oldest)
    places = sum(one.volume for one in stretches)
    lifts = tuple(dict.fromkeys(one.lift for one in stretches))
    starts, empty = stretches[0].start, stretches[-1].end
    on_site = starts - astm_c172.TESTED
    batched = _batched(number, pour)
    batched = on_site - away if batched is None else batched
    return Load(
        number=number,
        mix=mix,
        volume=float(trade.order_volume(places * (1 - HAIR), order.tickets[mix].step)),
        places=places,
        lifts=lifts,
        parts=tuple(sum(one.volume for one in stretches if one.lift == lift) for lift in lifts),
        batched=batched,
        on_site=on_site,
        starts=starts,
        empty=empty,
        age=empty - batched,
        oldest=oldest,
        arrives_at_most=max(0.0, oldest - (empty - on_site)),
        why=why,
    )


def wettings_of(loads: tuple[Load, ...], concrete: Concrete) -> Iterator[Wetting]:
    """Where a lift wants more slump than comes, by what is then left in the drum."""
    for load in loads:
        left = float(load.volume)
        for lift, part in zip(load.lifts, load.parts, strict=True):
            water = concrete.water(lift, load.mix)
            if water.to_slump > water.from_slump:
                yield Wetting(
                    load=load.number,
                    lift=lift,
                    by=water.wetted,
                    from_slump=water.from_slump,
                    to_slump=water.to_slump,
                    drum=left,
                    water=water.added * left,
                    most=water.allowed * left,
                    strength=water.strength,
                )
            left -= float(part)


def _batched(truck: int, pour: schema.Pour) -> float | None:
    """When water met cement in a truck, as logged; None where it was not."""
    own = (load for number, load in pour.loads.items() if truck == (number if load.truck is None else load.truck))
    return next(((load.batched - pour.when).total_seconds() for load in own if load.batched and pour.when), None)
