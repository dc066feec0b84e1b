"""Tables of pour day: the clock, holds, loads, the vibrator, bolts after placing, weather.

clock(plan, 9660.0) : "11:41"; "Tue 09:00" on another day; "2:41 h" where the file does not say when it begins
"""

from collections.abc import Iterable, Iterator
from datetime import timedelta
from typing import TYPE_CHECKING, Any

from batterboard.phases.pour.hour import Event, Hold, Load
from batterboard.quantity import (
    Celsius,
    Evaporation,
    Flow,
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
from batterboard.views.tables.model import Column, Table, alone, known, table
from batterboard.work.names import several

if TYPE_CHECKING:
    from batterboard.plan import Plan

YARDS = ("0.01 yd3", "0.01 m3")
GALLONS = ("0.1 gal", "0.5 L")
DRYING = ("0.01 lb/ft2/h", "0.01 kg/m2/h")
_DEGREE = {"us": "1 F", "si": "1 C"}
RAIN = ("0.01 in/h", "0.1 mm/h")

DONE = {
    "confirm": "call the plant: confirm the order",
    "call": "call the plant: batch load {load}",
    "last yard": "LAST-YARD CALL: measure what is left, say what load {load} must hold",
    "batch": "load {load} batched, on its way",
    "test": "load {load} at the gate: ticket, slump, temperature",
    "place": "place {what}",
    "vibrate": "vibrate {what}",
    "finish": "strike off and float {what}",
    "bolts": "measure the bolts again: {what}",
    "keep": "cover and keep wet: {what}",
}
WAY = {
    "at once": "follow at once",
    "wait": "wait until the pads carry",
    "cover": "nail boards over the pads",
    "test": "try the pads with rod and thumb, begin when they carry",
    "joint": "stop at the planned joint, go on another day",
}


def clock(plan: "Plan", t: Time) -> str:
    """A moment of the day, to the minute."""
    when = plan.hour.when
    t = alone(t)
    if when is None:
        minutes = round(abs(t) / 60)
        return f"{'-' if t < -30 else ''}{minutes // 60}:{minutes % 60:02d} h"
    at = when + timedelta(seconds=round(t / 60) * 60)
    return f"{at:%H:%M}" if at.date() == when.date() else f"{at:%a %H:%M}"


def done(event: Event) -> str:
    """What is done, in words."""
    if event.kind == "hold":
        return f"HOLD: {WAY[event.what]}"
    return DONE[event.kind].format(load=event.load, what=several(event.what.split(", ")))


def alike(rows: Iterable[tuple[Any, ...]], at: int = 0) -> Iterator[tuple[Any, ...]]:
    """Rows that differ in the cell `at` alone, as one: its names together."""
    groups: dict[tuple[str, ...], list[tuple[Any, ...]]] = {}
    for row in rows:
        others = (alone(v) for v in (*row[:at], *row[at + 1 :]))
        groups.setdefault(tuple(f"{v:.9g}" if isinstance(v, float) else str(v) for v in others), []).append(row)
    for group in groups.values():
        yield (*group[0][:at], several([row[at] for row in group]), *group[0][at + 1 :])


# ---- the day ----


def timeline(plan: "Plan") -> Table:
    rows = (
        (
            clock(plan, e.start),
            clock(plan, e.end),
            f"lift {e.lift}" if e.lift else "all",
            done(e),
        )
        for e in plan.hour.events
    )
    columns = (Column("from"), Column("to"), Column("lift"), Column("what"))
    note = (
        "" if plan.hour.when else "Hours from the first concrete at the form: the job file does not say when it begins."
    )
    return table("timeline", "Pour day by the clock", columns, rows, found=("WAS",), note=note)


def placings(plan: "Plan") -> Table:
    rules = {"crew": "the crew", "rise": "the form", "vibrator": "the vibrator", "logged": "as it was timed"}
    rows = (
        (
            f"lift {one.lift}",
            several(one.what),
            one.volume,
            one.slump,
            clock(plan, one.starts),
            clock(plan, one.ends),
            rules[one.rules],
            clock(plan, one.cold),
            clock(plan, one.sets),
        )
        for one in plan.hour.placings
    )
    columns = (
        Column("lift"),
        Column("what"),
        Column("concrete", Volume, YARDS),
        Column("slump", Length),
        Column("begins"),
        Column("vibrated"),
        Column("slowest"),
        Column("next by"),
        Column("first set"),
    )
    return table("placing", "Lifts by the clock", columns, rows)


def holds(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = (
        (
            f"lift {h.after} to {h.before}",
            clock(plan, h.perhaps),
            clock(plan, h.soonest),
            clock(plan, h.latest),
            clock(plan, h.starts),
            WAY[h.way],
            known(h.rod, "no form on it") if h.piers else "no form on it",
        )
        for h in plan.hour.holds
    )
    columns = (
        Column("between"),
        Column("pads may carry from"),
        Column("surely from"),
        Column("cold joint at"),
        Column("planned"),
        Column("how"),
        Column("1 in rod carries", Force, ("1 lb", "10 N")),
    )
    ways = (
        f"Lift {h.before}, both cannot be met; ways out: {ways_out(h, system)}." for h in plan.hour.holds if _stuck(h)
    )
    return table(
        "holds", "Holds between lifts", columns, rows,
        note=" ".join(("On site the running vibrator must still sink in by itself, whatever the time.", *ways)),
    )  # fmt: skip


def _stuck(hold: Hold) -> bool:
    return hold.way in ("test", "joint")


def ways_out(hold: Hold, system: System, *, joint: bool = True) -> str:
    """What would let the next lift wait as long as it should."""
    ways = [f"a retarder, first set not before {show(hold.set_needed, Time, system, '0.1 h')}"]
    if hold.cool_enough == hold.cool_enough:
        ways.append(f"concrete of {show(hold.cool_enough, Celsius, system, _DEGREE[system])} or colder")
    if hold.stiff_enough == hold.stiff_enough:
        ways.append(f"pads of {show(hold.stiff_enough, Length, system)} slump or stiffer")
    if hold.boards_enough and hold.stakes == hold.stakes:
        up = show(hold.uplift, Force, system)
        ways.append(f"boards over each pad, held down against {up}: {hold.stakes:.0f} stakes, or as much weight")
    elif hold.piers:
        ways.append("fewer piers in a pour")
    if joint:
        ways.append("a planned joint")
    return "; ".join(ways)


def wettings(plan: "Plan") -> Table:
    """How each load gets from the slump at the chute to that of its lift."""
    by = {"": "nobody said how", "water": "water", "admixture": "plasticizer"}
    rows = (
        (
            w.name,
            w.from_slump,
            w.to_slump,
            by[w.by],
            w.drum,
            w.water if w.by == "water" else "none",
            known(w.most, "no limit"),
            w.strength,
        )
        for w in plan.hour.wettings
    )
    columns = (
        Column("load"),
        Column("comes", Length),
        Column("wanted", Length),
        Column("by"),
        Column("left in the drum", Volume, YARDS),
        Column("water", Volume, GALLONS),
        Column("water at most", Volume, GALLONS),
        Column("strength left", Pressure, ("10 psi", "0.1 MPa")),
    )
    return table(
        "wettings", "From one slump to the next, at the truck", columns, rows, found=("PUT IN", "SLUMP"),
        note="Once, before anything is tested, 30 turns at mixing speed, and signed for.",
    )  # fmt: skip


def loads(plan: "Plan") -> Table:
    rows = (
        (
            f"load {load.number}",
            load.mix,
            load.volume,
            load.places,
            ", ".join(f"lift {lift}" for lift in load.lifts),
            clock(plan, load.batched),
            clock(plan, load.on_site),
            clock(plan, load.empty),
            load.age,
            load.oldest,
            load.arrives_at_most,
        )
        for load in plan.hour.loads
    )
    columns = (
        Column("load"),
        Column("mix"),
        Column("order", Volume, YARDS),
        Column("places", Volume, YARDS),
        Column("for"),
        Column("batched"),
        Column("at the gate"),
        Column("empty by"),
        Column("age then", Time, ("1 min", "1 min")),
        Column("may be", Time, ("1 min", "1 min")),
        Column("on arrival at most", Time, ("1 min", "1 min")),
    )
    return table(
        "loads", "Trucks by the clock", columns, rows, found=("BATCHED", "EMPTY"),
        note=f"{_why(plan.hour.loads)}Age by ASTM C94-17a, 90 min from water on cement: not seen, check the edition;"
        " the purchaser may waive it while the concrete can be placed.",
    )  # fmt: skip


def _why(loads: tuple[Load, ...]) -> str:
    old = [f"load {load.number}" for load in loads if load.why == "old"]
    return f"{', '.join(old)} by itself: one truck would grow too old while it waits. " if old else ""


# ---- the vibrator, and after ----


def rises(plan: "Plan") -> Table:
    rows = alike(
        (r.pier, *(alone(known(v, "not said")) for v in (r.height, r.rate, r.takes, r.flow))) for r in plan.pour.rises
    )
    columns = (
        Column("pier"),
        Column("height", Length),
        Column("rises at most at", RateOfRise),
        Column("takes at least", Time),
        Column("concrete", Flow),
    )
    return table("rises", "How fast the forms may fill", columns, rows)


def vibrating(plan: "Plan") -> Table:
    rows = alike(
        (
            b.name,
            f"lift {b.lift}",
            b.insertions,
            b.layers,
            b.layer,
            b.moved,
            b.farthest,
            b.takes,
            "all in reach" if b.covered else ("ROD IT, some is out of reach" if b.fits else "HEAD DOES NOT FIT"),
        )
        for b in plan.vibration.blocks
    )
    columns = (
        Column("block"),
        Column("lift"),
        Column("insertions"),
        Column("layers"),
        Column("each", Length),
        Column("moved past steel"),
        Column("concrete at most", Length),
        Column("takes", Time, ("1 min", "1 min")),
        Column("look out"),
    )
    h = plan.vibration.head
    system = plan.job.job.units
    reach, apart, squares, below = (
        show(alone(v), Length, system) for v in (h.radius, h.spacing, h.in_squares, h.below)
    )
    rate = show(alone(h.rate), Flow, system)
    return table(
        "vibrating", "The vibrator, block by block", columns, rows,
        note=f"Head {show(alone(h.width), Length, system)}: reaches {reach}, in at most {apart} apart,"
        f" {squares} in squares, {rate} at least;"
        f" {h.seconds:.0f} s in one place until no more air comes, {below} into the layer below, out slowly.",
    )  # fmt: skip


def insertions(plan: "Plan") -> Table:
    """Every place, for those who mark them out."""
    rows = ((b.name, n, x, y) for b in plan.vibration.blocks for n, (x, y) in enumerate(zip(b.x, b.y), 1))
    columns = (
        Column("block"),
        Column("insertion"),
        Column("ahead of its middle", Length, tape=True),
        Column("to the left", Length, tape=True),
    )
    return table("insertions", "Where the vibrator goes in", columns, rows)


def bolts_after(plan: "Plan") -> Table:
    rows = ((check.on, check.what, check.value, check.within) for check in plan.vibration.bolts)
    columns = (
        Column("plate"),
        Column("measure"),
        Column("should be", Length, tape=True),
        Column("off at most", Length),
    )
    return table(
        "bolts-after", "Bolts, measured again while the concrete gives", columns, rows, found=("FOUND", "DONE"),
        note="Plumb and the line too; moved by hand and vibrated again, never later.",
    )  # fmt: skip


# ---- weather ----


def weather(plan: "Plan") -> Table:
    words = {"none": "slowly", "watch": "WATCH IT", "protect": "TOO FAST: PROTECT"}
    rows = (
        (
            f"{s.at:%a %H:%M}",
            s.air,
            s.humidity,
            s.wind,
            s.rain,
            s.dew_point,
            s.evaporation,
            s.other,
            "not: dew falls" if s.dew else words[s.drying],
        )
        for s in plan.weather.spells
    )
    columns = (
        Column("hour"),
        Column("air", Celsius),
        Column("humidity", Number, ("%", "%")),
        Column("wind", Speed, ("1 mph", "0.1 m/s")),
        Column("rain", RateOfRise, RAIN),
        Column("dew point", Celsius),
        Column("dries, nomograph", Evaporation, DRYING),
        Column("dries, Uno", Evaporation, DRYING),
        Column("so it dries"),
    )
    return table("weather", "Weather while it is placed and sets", columns, rows)


def fresh(plan: "Plan") -> Table:
    """From the plant's materials where the job file says them."""
    said = plan.job.pour.batch is not None
    rows = (
        (f.mix, f.assumed, known(f.least, "no limit"), f.at_plant)
        + ((f.mixed, f.placed, f.ice, known(f.water, "boils")) if said else ())
        for f in plan.weather.fresh
    )
    columns = (
        Column("mix"),
        Column("wanted at the form", Celsius),
        Column("in the cold at least", Celsius),
        Column("so at the plant", Celsius),
    )
    from_batch = (
        Column("as mixed", Celsius),
        Column("as placed", Celsius),
        Column("ice to stay below the limit", MassDensity),
        Column("or water, to come as wanted", Celsius),
    )
    return table("fresh", "Temperature of the concrete", columns + (from_batch if said else ()), rows, found=("FOUND",))
