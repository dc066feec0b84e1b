"""The pour page as data: one sheet to hang up on pour day, complete on paper.

    content(plan) : {"when": "Monday 12 April 2027, 09:00", "lifts": [...], "holds": [...], "go": [...], "ifs": [...]}

Large letters and few words: what is filled when, what is said on the phone, what must be right in the morning, and what
to do when something is not. Figures are those of `hour`, `weather` and `trouble`; nothing is computed here.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from batterboard.phases.pour.hour import Hold, Load
from batterboard.phases.pour.trouble import SLAB
from batterboard.phases.pour.weather import Fresh, Sign
from batterboard.quantity import (
    Celsius,
    Evaporation,
    Force,
    Length,
    MassDensity,
    Number,
    Pressure,
    RateOfRise,
    Speed,
    System,
    Time,
    Volume,
    show,
)
from batterboard.standards import aci306
from batterboard.views.order import sentences, yards
from batterboard.views.tables.model import alone, known
from batterboard.views.tables.pouring import DRYING, GALLONS, RAIN, WAY, YARDS, clock, ways_out
from batterboard.work.names import several

if TYPE_CHECKING:
    from batterboard.plan import Plan

WHOLE = {"us": "1 F", "si": "1 C"}
ROUGH = "level, roughened {}, skim off, clean, damp, bars through; go on tomorrow"
GATE = "the running vibrator still sinks in by itself"


def content(plan: "Plan") -> dict[str, Any] | None:
    """Everything on the page; None where nothing is left to cast."""
    day = plan.hour
    if not day.placings:
        return None
    system = plan.job.job.units
    return {
        "job": plan.job.job.name,
        "hash": plan.job.digest,
        "replaces": plan.job.job.replaces,
        "when": f"{day.when:%A} {day.when.day} {day.when:%B %Y}, {day.when:%H:%M}"
        if day.when
        else "day not said: hours from the first concrete",
        "sketch": "pour.svg",  # of the lifts, put beside this data by who typesets it
        "order": list(sentences(plan).values()),
        "lifts": [_lift(plan, number, system) for number in range(len(day.placings))],
        "holds": [_hold(plan, hold, system) for hold in day.holds],
        "loads": [*_loads(plan, system), *_wettings(plan, system)],
        "after": _after(plan, system),
        "go": [list(row) for row in _go(plan, system)],
        "sky": [list(row) for row in _sky(plan, system)],
        "ifs": [list(row) for row in _ifs(plan, system)],
    }


# ---- the clock ----


def _lift(plan: "Plan", number: int, system: System) -> list[str]:
    one = plan.hour.placings[number]
    return [
        str(one.lift),
        several(one.what),
        _yards(one.volume, system),
        show(one.slump, Length, system),
        clock(plan, one.starts),
        clock(plan, one.ends),
    ]


def _yards(volume: Any, system: System) -> str:
    """Finer than a plant delivers: what is in the form, or left over."""
    return show(volume, Volume, system, YARDS[0 if system == "us" else 1]).replace("yd3", "yd")


def _hold(plan: "Plan", hold: Hold, system: System) -> str:
    if hold.way == "at once":
        return f"Lift {hold.before} follows at once, by {clock(plan, hold.latest)} at the latest, while {GATE}."
    if hold.way == "joint":
        return (
            f"Lift {hold.after} ends at a PLANNED JOINT, cold at {clock(plan, hold.latest)}; lift {hold.before} follows"
            f" {clock(plan, hold.starts)}. What would have helped: {ways_out(hold, system, joint=False)}."
        )
    parts = [f"HOLD before lift {hold.before}: {WAY[hold.way]}."]
    if hold.way in ("wait", "test"):
        rod = show(hold.rod, Force, system, _POUND[system])
        parts.append(f"A 1 in (25 mm) rod pushed into the pad carries {rod}.")
    if hold.way == "test":
        parts.append(f"Try from {clock(plan, hold.perhaps)}.")
    parts.append(f"Begin {clock(plan, hold.starts)}, not after {clock(plan, hold.latest)}, and only while {GATE}.")
    return " ".join(parts)


def _loads(plan: "Plan", system: System) -> Iterator[str]:
    """A line a load; where there are many, one paragraph."""
    loads = plan.hour.loads
    if len(loads) <= _LINES:
        yield from (_load(plan, load, system) for load in loads)
        return
    said = (
        f"{load.number}, {yards(load.volume, system)}: {f'{_call(plan, load)}, ' if load.number > 1 else ''}gate"
        f" {clock(plan, load.on_site)}, empty {clock(plan, load.empty)}"
        for load in loads
    )
    yield f"Loads {'; '.join(said)}."


def _load(plan: "Plan", load: Load, system: System) -> str:
    call = "" if load.number == 1 else f"{_call(plan, load)}, "
    batched = f"batched {clock(plan, load.batched)}, " if plan.hour.away > 0 else ""
    return (
        f"Load {load.number}, {yards(load.volume, system)}: {call}{batched}gate {clock(plan, load.on_site)}, empty by"
        f" {clock(plan, load.empty)}."
    )


def _wettings(plan: "Plan", system: System) -> Iterator[str]:
    """How a load gets wetter for its lift. Water is told load by load, for each holds another volume."""
    dry: dict[str, list[str]] = {}
    for w in plan.hour.wettings:
        slumps = f"from {show(w.from_slump, Length, system)} to {show(w.to_slump, Length, system)}"
        if w.by != "water":
            how = "PLASTICIZER, the plant's dose, NO WATER" if w.by else "nobody said how; ask before it comes"
            dry.setdefault(f"for lift {w.lift}, {slumps}: {how}.", []).append(str(w.load))
            continue
        water, most = (show(v, Volume, system, GALLONS[0 if system == "us" else 1]) for v in (w.water, w.most))
        at_most = f", {most} at most" if w.most == w.most else ""
        yield (
            f"Load {w.load} for lift {w.lift}, {slumps}: WATER, once, {water} for {_yards(w.drum, system)} left in the"
            f" drum{at_most}, signed by {plan.ordering.signs or 'the signer'}."
        )
    for told, loads in dry.items():
        yield f"Load {', '.join(loads)} {told}"


def _call(plan: "Plan", load: Load) -> str:
    made = next(e for e in plan.hour.events if e.load == load.number and e.kind in ("call", "last yard"))
    return f"{'LAST-YARD CALL' if made.kind == 'last yard' else 'call'} {clock(plan, made.start)}"


def _after(plan: "Plan", system: System) -> str:
    """The vibrator, and what is measured before the concrete is stiff."""
    head = plan.vibration.head
    bolts = [e for e in plan.hour.events if e.kind == "bolts"]
    said = (
        f"Vibrate in triangles {show(alone(head.spacing), Length, system)} apart, {head.seconds:.0f} s each,"
        f" {show(alone(head.below), Length, system)} into the layer below, layers to {_layer(plan, system)}."
    )
    return f"{said} Bolts again at {clock(plan, bolts[-1].start)}: diagonals, line, level, plumb." if bolts else said


_LINES = 5  # loads that are told a line each
_ANYWHERE = 0.01  # a joint need not lie below the top where no bolts stand [m]
_POUND = {"us": "1 lb", "si": "10 N"}
_ALIKE = 1.0  # K: as near as a thermometer tells
_INCH = {"us": "1/2 in", "si": "10 mm"}


def _layer(plan: "Plan", system: System) -> str:
    deepest = max((alone(block.layer) for block in plan.vibration.blocks), default=0.0)
    return show(deepest, Length, system, _INCH[system])


# ---- go or no-go ----


def _go(plan: "Plan", system: System) -> Iterator[tuple[str, bool]]:
    """What is ticked in the morning, and whether it already asks for something."""
    yield "Forms, braces, bolts and steel seen by a second person; footing inspection passed; hole dry", False
    yield "Vibrator runs, a spare stands by; covers, boards, lights and water at hand", False
    for fresh in plan.weather.fresh:
        yield (
            _concrete(plan, fresh, system),
            any(one.name == "concrete" and one.state in ("care", "stop") for one in plan.weather.signs),
        )
    for ticket in plan.pour.tickets.values():
        yield _ticket(plan, ticket, system), False


def _sky(plan: "Plan", system: System) -> Iterator[tuple[str, bool]]:
    for one in plan.weather.signs:
        if one.name in _SIGNS and (one.name, one.state) != ("night", "go"):
            yield _SIGNS[one.name](plan, one, system), one.state in ("care", "stop")


def _air(plan: "Plan", one: Sign, system: System) -> str:
    limit, air = (show(v, Celsius, system, WHOLE[system]) for v in (one.limit, one.value))
    if one.state == "care":
        return f"COLD, {air}: hole thawed, blankets ready"
    return f"Air not below {limit} (taken: {air})"


def _night(plan: "Plan", one: Sign, system: System) -> str:
    if one.state == "ask":
        return "No frost in the forecast, else blankets"
    night = show(one.value, Celsius, system, WHOLE[system])
    return f"FROST, {night}: blankets before dark" if one.state == "care" else f"Night not below {night}"


def _drying(plan: "Plan", one: Sign, system: System) -> str:
    unit = DRYING[0 if system == "us" else 1]
    if one.state == "ask":
        wind = show(plan.weather.wind, Speed, system, _WIND[system])
        return f"Wind below {wind} in dry air, or fog it"
    rate, limit = (show(v, Evaporation, system, unit) for v in (one.value, one.limit))
    return f"Dries {rate} of {limit}" + (": FOG, COVER" if one.state == "care" else "")


_WIND = {"us": "1 mph", "si": "1 m/s"}


def _rain(plan: "Plan", one: Sign, system: System) -> str:
    limit = show(one.limit, RateOfRise, system, RAIN[0 if system == "us" else 1])
    ends = clock(plan, plan.hour.ends)
    if one.state == "stop":
        return f"HEAVY RAIN, over {limit}: another day"
    return f"{'RAIN: covers up; n' if one.state == 'care' else 'N'}o heavy rain ({limit}) until {ends}"


_SIGNS = {"air": _air, "night": _night, "drying": _drying, "rain": _rain}


def _concrete(plan: "Plan", fresh: Fresh, system: System) -> str:
    wanted, hottest = (show(v, Celsius, system, WHOLE[system]) for v in (fresh.assumed, aci306.HOTTEST))
    least = known(fresh.least, "")
    air = next(one for one in plan.weather.signs if one.name == "air")
    cold = ""
    if least != "" and (air.state == "care" or not plan.weather.known):
        cold = f", in the cold {show(least, Celsius, system, WHOLE[system])} at least"
    gives = ""
    if fresh.placed == fresh.placed:
        gives = f"; the batch gives {show(fresh.placed, Celsius, system, WHOLE[system])}"
        if fresh.ice > 0:
            ice = show(fresh.ice, MassDensity, system, "1 lb/yd3" if system == "us" else "1 kg/m3")
            gives += f": {ice} of its water as ice"
        elif fresh.water == fresh.water and abs(fresh.placed - fresh.assumed) > _ALIKE:
            gives += f": water of {show(fresh.water, Celsius, system, WHOLE[system])} at the plant brings it there"
    return f"Concrete {wanted} at the chute, {hottest} at most{cold}{gives}"


def _ticket(plan: "Plan", ticket: Any, system: System) -> str:
    parts = [f"Ticket: {show(alone(ticket.strength), Pressure, system)}"]
    if known(ticket.water_cement, "") != "":
        parts.append(f"w/c {alone(ticket.water_cement):.2f}")
    if alone(ticket.air) > 0:
        parts.append(f"air {show(alone(ticket.air), Number, system, '0.5 %')}")
    slump, off = (show(alone(v), Length, system) for v in (ticket.slump, ticket.slump_tolerance))
    parts.append(f"slump {slump} (off {off} at most)")
    mine = [load.arrives_at_most for load in plan.hour.loads if load.mix == ticket.mix]
    if mine:
        parts.append(f"on arrival not older than {show(min(mine), Time, system, '1 min')}")
    return ", ".join(parts)


# ---- if this happens ----


def _ifs(plan: "Plan", system: System) -> Iterator[tuple[str, str]]:
    trouble, day = plan.trouble, plan.hour
    late = [f"load {one.load} by {clock(plan, one.latest)}" for one in trouble.late if one.latest == one.latest]
    if late:
        yield "Truck late", f"Not at the form, {', '.join(late)}: do not go on, end at a joint."
    else:
        oldest = show(day.loads[0].oldest, Time, system, "1 min")
        yield "Truck late", f"Send back what cannot be empty {oldest} after batching, unless it still places well."
    limit = show(_rain_limit(plan), RateOfRise, system, RAIN[0 if system == "us" else 1])
    until = clock(plan, plan.weather.rain_until)
    yield "Rain", f"From {limit} on stop and cover. Never work water in; skim it off. Covers stay until {until}."
    last = trouble.moves[-1]
    yield (
        "Form moves",
        f"Stop, everybody out from below; vibrator out; brace. Lift {last.lift} goes on within"
        f" {show(last.within, Time, system, '1 min')} of its last concrete while {GATE}, or ends there.",
    )
    if trouble.short is not None:
        yield _short(plan, system)
    for hold in day.holds:
        if hold.way == "test":
            yield _not_ready(plan, hold, system)
    joint = ROUGH.format("1/4 in" if system == "us" else "6 mm")
    yield "Vibrator no longer sinks", f"do not go on. End at a JOINT: {joint}."
    for left in trouble.left[:1]:
        side, volume = show(left.side, Length, system, _INCH[system]), _yards(left.volume, system)
        thick = show(SLAB, Length, system, _INCH[system])
        yield "Left over", f"About {volume}: a form for a slab {thick} thick, {side} square, lies ready."


def _rain_limit(plan: "Plan") -> Any:
    return next(one.limit for one in plan.weather.signs if one.name == "rain")


def _not_ready(plan: "Plan", hold: Hold, system: System) -> tuple[str, str]:
    """The slow reading of the wait comes after the joint is cold: said plainly, with what would have helped."""
    ways = [f"a retarder (first set {show(hold.set_needed, Time, system, '0.1 h')})"]
    if hold.cool_enough == hold.cool_enough:
        ways.append(f"concrete of {show(hold.cool_enough, Celsius, system, WHOLE[system])}")
    if hold.boards_enough:
        ways.append(f"boards over each pad ({hold.stakes:.0f} stakes)")
    return (
        f"Pads do not carry by {clock(plan, hold.latest)}",
        f"end at a joint: by the slow reading they need until {clock(plan, hold.soonest)}. Have beforehand"
        f" {' or '.join(ways)}.",
    )


def _short(plan: "Plan", system: System) -> tuple[str, str]:
    short = plan.trouble.short
    assert short is not None
    by, one, all_ = yards(short.by, system), short.depth_of_one, short.depth_of_all
    many = len(short.names) > 1
    depth = f"{show(all_, Length, system, _INCH[system])} of each, {show(one, Length, system, _INCH[system])} of one"
    missing = depth if many else show(one, Length, system, _INCH[system])
    stop = ""
    if short.joint == short.joint:
        joint = show(short.joint, Length, system, _INCH[system])
        stop = f", or stop at the dashed joint, {joint} below the top, under the bolts"
        if short.joint < _ANYWHERE:
            stop = ", or stop level where it ends"
    return f"{by} short", f"is {missing}. Mix {short.bags:.0f} bags of {short.bag} at once{stop}."
