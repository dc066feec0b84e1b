"""In what order, how fast, and when to wait: pour day by the minute.

    placing : Placing(2, starts=6900.0, placed=9780.0, ends=10020.0, rules="rise")       one lift
    hold    : Hold(1, 2, soonest=13100.0, latest=11100.0, starts=9680.0, way="test")   between two that must knit
    load    : Load(1, mix="stiff", volume=2.29, batched=-1800.0, empty=5200.0, age=7000.0)
    event   : Event("place", "west pad, east pad", lift=1, load=1, start=0.0, end=2900.0)

Times count from the first concrete at the form. A lift begins when the one before has been vibrated. Where it stands on
fresh concrete it waits as `forms` asks, but never past the time at which the joint goes cold. Where the slow reading
of that wait comes too late but the quick one does not, the pads are tried with the rod in between; where no reading
comes in time, the rest is another day's work behind a joint that was planned. A load that would grow too old while it
waits is parted from the next one. What was timed at the truck stands as it was and moves what follows. One job, no
variants. The gate on site stands before all of it: the running vibrator still sinks by itself.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import datetime
from math import ceil
from typing import Any, Literal, NamedTuple

from batterboard.job import schema
from batterboard.phases.concrete import Concrete
from batterboard.phases.forms import Foot
from batterboard.phases.pour.order import Lift, Order
from batterboard.phases.pour.vibration import Vibration
from batterboard.quantity import Celsius, Flow, Force, Length, Number, Pressure, Time, Volume, day, inch, minute
from batterboard.record import record
from batterboard.standards import astm_c172, fresh, trade
from batterboard.work.records import Work
from batterboard.working import nan

_HAIR = 1e-6  # of a volume or a time that rounding leaves
_SLUMPS = tuple(n * 0.25 * inch for n in range(8, 33))  # that the readings of a slump know: 2 to 8 in

Way = Literal["at once", "wait", "cover", "test", "joint"]


@record
class Event:
    """One thing that is done, from its start to its end. A call is a moment."""

    kind: Literal[
        "confirm", "call", "last yard", "batch", "test", "place", "vibrate", "hold", "finish", "bolts", "keep"
    ]
    what: str
    lift: int  # 0 where it belongs to none
    load: int
    start: Time
    end: Time

    @property
    def name(self) -> str:
        return f"{self.kind}, {f'lift {self.lift}' if self.lift else f'load {self.load}'}"


@record
class Placing:
    """One lift in time."""

    lift: int
    what: tuple[str, ...]
    mix: str
    volume: Volume
    slump: Length
    starts: Time
    placed: Time  # the last of it is in
    ends: Time  # and vibrated
    flow: Flow
    rules: Literal["crew", "rise", "vibrator", "logged"]  # what takes longest; or it was timed
    cold: Time  # when what follows must have begun
    sets: Time  # first set of its first concrete

    @property
    def name(self) -> str:
        return f"lift {self.lift}"


@record
class Hold:
    """Between a lift and the next that must knit with it."""

    after: int
    before: int
    piers: tuple[str, ...]  # whose forms stand on the fresh concrete
    soonest: Time  # by the slow reading, which is judged
    perhaps: Time  # by the quick one: try the rod from here on
    latest: Time  # then the joint is cold
    starts: Time
    way: Way
    rod: Force  # what the test rod carries on a pad that is ready
    uplift: Force  # under cover boards, which make the wait needless
    stakes: Number  # that hold those down
    set_needed: Time  # first set that would leave time to wait, in the drum and after
    cool_enough: Celsius  # temperature at which this concrete would set so late without an admixture; nan where none
    stiff_enough: Length  # slump of the pads that would be ready in time; nan where none is
    boards_enough: bool  # whether cover boards would let it follow in time

    @property
    def name(self) -> str:
        return f"before lift {self.before}"


@record
class Load:
    """One truck."""

    number: int
    mix: str
    volume: Volume  # ordered, up to the next whole step
    places: Volume
    lifts: tuple[int, ...]
    parts: tuple[Volume, ...]  # of what it places, lift by lift
    batched: Time  # water on cement
    on_site: Time
    starts: Time
    empty: Time
    age: Time  # when it is empty
    oldest: Time  # that it may be
    arrives_at_most: Time  # age on arrival at which it can still be emptied in time
    why: Literal["first", "full", "old", "other mix", "other day"]  # why it is a load of its own

    @property
    def name(self) -> str:
        return f"load {self.number}"


@record
class Wetting:
    """How one load gets from the slump at the chute to that of a lift."""

    load: int
    lift: int
    by: Literal["", "water", "admixture"]
    from_slump: Length
    to_slump: Length
    drum: Volume  # concrete left in it when that lift begins
    water: Volume  # for the slump wanted; 0 where an admixture does it
    most: Volume  # up to the greatest w/cm; nan without a limit
    strength: Pressure  # what is left of f'c

    @property
    def name(self) -> str:
        return f"load {self.load} for lift {self.lift}"


@record
class Hour:
    when: datetime | None
    away: Time
    flow: Flow  # of the crew
    placings: tuple[Placing, ...]
    holds: tuple[Hold, ...]
    loads: tuple[Load, ...]
    wettings: tuple[Wetting, ...]
    events: tuple[Event, ...]
    notes: tuple[str, ...]

    def placing(self, lift: int) -> Placing:
        return next(one for one in self.placings if one.lift == lift)

    @property
    def ends(self) -> Time:
        """When the last lift has been vibrated."""
        return max((one.ends for one in self.placings), default=0.0)


def timeline(
    work: Work,
    order: Order,
    concrete: Concrete,
    pour: schema.Pour,
    mixes: Mapping[str, schema.Mix],
    feet: Iterable[Foot],
    vibrated: Vibration,
) -> Hour:
    """Every event of the day. `feet`: forms that stand on fresh concrete, and how long that wants to rest."""
    standing = tuple(feet)
    away = 0.0 if pour.truck.away is None else float(pour.truck.away)
    weights = {name: mix.weight for name, mix in mixes.items()}
    placings, holds = _placings(work, order, concrete, standing, vibrated, pour, weights, away)
    loads = tuple(_loads(order, placings, pour, away))
    hour = Hour(
        when=pour.when,
        away=away,
        flow=_flow(pour),
        placings=placings,
        holds=holds,
        loads=loads,
        wettings=tuple(_wettings(loads, concrete)),
        events=(),
        notes=tuple(_notes(order, pour, placings, loads, standing)),
    )
    events = sorted(_events(hour, work, vibrated), key=lambda event: (event.start, event.end))
    return replace(hour, events=tuple(events))


def _flow(pour: schema.Pour) -> float:
    """What the crew places: by its way to the form, and no faster than the plant lets a truck unload free of charge."""
    return float(min(trade.placing(pour.by, pour.crew), trade.UNLOADING))


# ---- lifts and holds ----


def _placings(
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
    by_crew = gross / _flow(pour)
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
    vibrating = sum(block.takes for block in blocks)
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
    elif slowed or ends > placed + last + _HAIR:
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
        return soonest, "wait" if soonest > free + _HAIR else "at once"
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


# ---- loads ----


class _Stretch(NamedTuple):
    """What one load places of one lift."""

    lift: int
    start: float
    end: float
    volume: float


def _loads(order: Order, placings: tuple[Placing, ...], pour: schema.Pour, away: float) -> Iterator[Load]:
    """Loads in the order in which they come. A new one where the truck is empty, too old, or holds another mix."""
    number = 0
    for mix in dict.fromkeys(placing.mix for placing in placings):
        why: Any = "first" if number == 0 else "other mix"
        stretches: list[_Stretch] = []
        for placing in (one for one in placings if one.mix == mix):
            t, left = placing.starts, float(placing.volume)
            while left > _HAIR * placing.volume:
                place = _places(stretches, t, left, placing.flow, pour, away, placing.rules == "logged")
                if place <= _HAIR * placing.volume:
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
    full = sum(one.volume for one in stretches) >= float(pour.truck.load) * (1 - _HAIR)
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
        volume=float(trade.order_volume(places * (1 - _HAIR), order.tickets[mix].step)),
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


def _wettings(loads: tuple[Load, ...], concrete: Concrete) -> Iterator[Wetting]:
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


# ---- events ----


def _events(hour: Hour, work: Work, vibrated: Vibration) -> Iterator[Event]:
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
        if hold.starts > free + _HAIR:
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


# ---- what it rests on ----


def _notes(
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
    held = [one for one in placings if one.rules == "vibrator" and one.flow < _flow(pour) * (1 - _HAIR)]
    for one in held:
        wanted = ceil((one.placed - one.starts) * _flow(pour) / one.volume * (1 - _HAIR))
        yield f"lift {one.lift}: placed no faster than one vibrator follows; {wanted} of them hold nobody up"
    if slow:
        yield f"{', '.join(slow)}: one vibrator takes longer than placing; a second one saves the difference"
