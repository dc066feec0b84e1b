"""What is done when: every event of the day, and what all of it rests on in words."""

from collections.abc import Iterator
from math import ceil
from typing import Any

from batterboard.job import schema
from batterboard.phases.forms import Foot
from batterboard.phases.pour.hour.lifts import HAIR, flow_of
from batterboard.phases.pour.hour.results import Event, Hour, Load, Placing
from batterboard.phases.pour.order import Order
from batterboard.phases.pour.vibration import Vibration
from batterboard.quantity import day, minute
from batterboard.standards import astm_c172, trade
from batterboard.work.records import Work


def events_of(hour: Hour, work: Work, vibrated: Vibration) -> Iterator[Event]:
    def event(kind: Any, what: str, start: float, end: float, lift: int = 0, load: int = 0) -> Event:
        return Event(kind=kind, what=what, lift=lift, load=load, start=start, end=end)

    mixes = {load.mix for load in hour.loads}
    for load in hour.loads:
        last = load.number == max(
            one.number for one in hour.loads if one.mix == load.mix and one.starts - load.starts < day / 4
        )
        if load.number == 1:
            at = load.batched - trade.CONFIRM
            yield event("confirm", load.mix, at, at, load=load.number)
        else:
            at = load.batched - trade.BATCHING
            kind = "last yard" if last and load.why in ("full", "old") else "call"
            yield event(kind, load.mix if len(mixes) > 1 else "", at, at, load=load.number)
        if hour.away > 0:
            yield event("batch", load.mix, load.batched, load.on_site, load=load.number)
        yield event("test", load.mix, load.on_site, load.starts, load=load.number)
    for hold in hour.holds:
        before = hour.placing(hold.after).ends
        free = max(before, *(one.ends for one in hour.placings if one.lift < hold.before))
        if hold.starts > free + HAIR:
            yield event("hold", hold.way, free, hold.starts, lift=hold.before)
    for placing in hour.placings:
        loads = [load for load in hour.loads if placing.lift in load.lifts]
        first = loads[0].number if loads else 0
        what = ", ".join(placing.what)
        yield event("place", what, placing.starts, placing.placed, placing.lift, first)
        blocks = [block for block in vibrated.blocks if block.lift == placing.lift]
        layers = sum(block.layers for block in blocks)
        if layers:
            start = placing.starts + (placing.placed - placing.starts) / layers
            yield event("vibrate", what, start, placing.ends, placing.lift)
        yield from _afterwards(event, placing, work, vibrated)


def _afterwards(event: Any, placing: Placing, work: Work, vibrated: Vibration) -> Iterator[Event]:
    """Floated, bolts looked at, kept wet: what is done to a lift once it has been vibrated."""
    bodies = {body.name: body for lift in work.lifts for body in lift.bodies}
    tops = [bodies[name] for name in placing.what if bodies[name].part in ("pier", "slab")]
    t = placing.ends
    if tops:
        end = t + trade.FINISHING * len(tops)
        yield event("finish", ", ".join(body.name for body in tops), t, end, placing.lift)
        t = end
    on = {thing: thing_on for thing, thing_on in _carried(work) if thing_on in {body.element for body in tops}}
    plates = [name for name in dict.fromkeys(check.on for check in vibrated.bolts) if name in on]
    if plates:
        end = t + trade.CHECKING * len(plates)
        yield event("bolts", ", ".join(plates), t, end, placing.lift)
        t = end
    set_ = placing.placed + placing.sets - placing.starts  # of its last concrete
    yield event("keep", ", ".join(placing.what), t, max(t, set_), placing.lift)


def _carried(work: Work) -> Iterator[tuple[str, str]]:
    yield from ((post.name, post.on) for post in work.posts.values())
    yield from ((machine.name, machine.on) for machine in work.machines.values())


def notes_of(
    order: Order, pour: schema.Pour, placings: tuple[Placing, ...], loads: tuple[Load, ...], feet: tuple[Foot, ...]
) -> Iterator[str]:
    yield (
        "setting by the trade's table at the temperature placed, without admixtures; half of it, less the drive, is the"
        " window in which the next lift knits"
    )
    if any(one.rules != "logged" for one in placings):
        yield "a lift fills whole forms, each to its top: no concrete stands above a form"
    if pour.when is None and any(load.begun or load.empty for load in pour.loads.values()):
        yield "times logged at the truck move nothing: the job file does not say when the pour begins"
    if pour.truck.away is None:
        yield "the drive from the plant was not said and is taken as nothing: ages count from the gate"
    far = [load for load in loads if load.on_site - load.batched + astm_c172.TESTED >= load.oldest]
    if far:
        yield (
            "the plant is too far: a load is too old when it comes, unless the purchaser waives the limit because it"
            " can still be placed"
        )
    small = [piece for lift in order.lifts for piece in lift.pieces if not piece.cast and piece.gross > pour.truck.load]
    if small:
        names = ", ".join(piece.name for piece in small)
        yield f"{names}: more than one truck carries. The next truck stands there before the one before is empty"
    for old in (load for load in loads if load.why == "old"):
        before = loads[old.number - 2]
        if before.lifts[-1] in old.lifts and before.places + old.places <= float(pour.truck.load):
            age = ceil((before.age + old.empty - before.empty) / minute)
            yield (
                f"load {old.number} is a load of its own by the age limit alone: one truck does where the purchaser"
                f" allows {age} min, while it can still be placed"
            )
    together = [foot.name for foot in feet if foot.pad_lift == foot.lift]
    if together:
        names = ", ".join(together)
        yield f"{names}: pad and pier in one lift, so that nothing rests between; boards over the pad hold it down"
    slow = [f"lift {one.lift}" for one in placings if one.rules == "vibrator"]
    held = [one for one in placings if one.rules == "vibrator" and one.flow < flow_of(pour) * (1 - HAIR)]
    n = pour.vibrators
    follow, take = (
        ("one vibrator follows", "one vibrator takes") if n == 1 else (f"{n} vibrators follow", f"{n} vibrators take")
    )
    for one in held:
        wanted = ceil(n * (one.placed - one.starts) * flow_of(pour) / one.volume * (1 - HAIR))
        yield f"lift {one.lift}: placed no faster than {follow}; {wanted} of them hold nobody up"
    if slow:
        yield f"{', '.join(slow)}: {take} longer than placing; one more saves part of the difference"
