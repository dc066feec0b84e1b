"""Tables of the concrete: forms, mixes, water, the order, lifts, loads, waits."""

from collections import Counter
from collections.abc import Iterator, Mapping
from math import degrees
from typing import TYPE_CHECKING, Any

from batterboard.phases.concrete import Mix
from batterboard.phases.forms import Box, Strip, Yoke
from batterboard.phases.ordering import Amount, Ordering
from batterboard.phases.pour import Piece, Ticket
from batterboard.phases.pour.hour import Load
from batterboard.quantity import (
    Celsius,
    Force,
    Length,
    MassDensity,
    Number,
    Pressure,
    RateOfRise,
    System,
    Time,
    Volume,
    WaterContent,
    show,
)
from batterboard.views.tables.model import Column, Table, alone, known, sideways, table, words_of
from batterboard.views.tables.place import CUBIC, WEIGHT
from batterboard.views.tables.pouring import alike
from batterboard.work.names import among

if TYPE_CHECKING:
    from batterboard.plan import Plan

PRESSURE = ("1 psf", "0.1 kPa")
STRENGTH = ("10 psi", "0.1 MPa")


# ---- forms ----

_MEETS = "meets the next"


def panels(plan: "Plan") -> Table:
    rows = (
        (
            part.mark,
            ", ".join(p.sides),
            p.count,
            part.width,
            part.width if p.upright_joints else part.width - p.narrows * part.height / p.height,
            part.height,
            p.thick,
            f"{degrees(alone(p.bevel)):g}°" if alone(p.bevel) else "square",
            _MEETS if alone(p.bevel) else ("fits between", "runs past at its right", "runs past")[p.runs_past],
        )
        for box in plan.forms.boxes
        for p in box.panels
        for part in p.parts
    )
    columns = (
        Column("panel"),
        Column("sides"),
        Column("of each"),
        Column("width", Length, tape=True),
        Column("at its top", Length, tape=True),
        Column("height", Length, tape=True),
        Column("thick", Length, unit=("1/32 in", "0.1 mm")),
        Column("edges"),
        Column("lap"),
    )
    return table(
        "panels", "Panels to cut", columns, rows, found=("CUT",), about=1,
        note=_laps(plan),
    )  # fmt: skip


def _laps(plan: "Plan") -> str:
    laps: dict[str, list[str]] = {}
    for box in plan.forms.boxes:
        if box.lap:
            laps.setdefault(box.lap.replace(f"{box.name} ", ""), []).append(box.name)
    return " ".join(f"{among(names)}: {lap}." for lap, names in laps.items())


def strips(plan: "Plan") -> Table:
    rows = (
        (s.mark, s.edge, s.leg, s.other_leg, s.face, s.count, s.long, s.short, _end_cuts(s))
        for box in plan.forms.boxes
        for s in box.strips
    )
    columns = (
        Column("strip"),
        Column("edge"),
        Column("leg", Length),
        Column("other leg", Length),
        Column("face", Length),
        Column("of each"),
        Column("long point", Length, tape=True),
        Column("short point", Length, tape=True),
        Column("end cuts: mitre from square, blade tilt"),
    )
    return table("chamfer-strips", "Chamfer strips", columns, rows, found=("CUT",), about=1, note=" ".join(_laid(plan)))


def _laid(plan: "Plan") -> Iterator[str]:
    """On which face each leg lies, where the two differ."""
    kinds = {box.kind: box for box in plan.forms.boxes for s in box.strips if s.edge == "corner" and _unequal(s)}
    if any(kind != "polygon" for kind in kinds):
        yield "Corner strips of a box: leg on the panels ahead and back, other leg on those left and right."
    if "polygon" in kinds:
        yield "Corner strips of many sides: leg on the panel of the corner's own number, other leg on the next."
    if any(s.edge != "corner" and _unequal(s) for box in plan.forms.boxes for s in box.strips):
        yield "Top strips: leg level, in from the panel; other leg down the panel."


def _unequal(strip: Strip) -> bool:
    return bool(abs(alone(strip.leg) - alone(strip.other_leg)) > 1e-6)


def _end_cuts(s: Strip) -> str:
    cuts = (
        f"on {c.down}: {degrees(alone(c.mitre)):.1f}°, {degrees(alone(c.bevel)):.1f}° against {c.against}"
        for c in s.cuts
    )
    told = "; ".join(cuts) or "square"
    return f"{told}; {s.mirrored} of the other hand" if s.mirrored else told


def boxes(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = (
        (
            b.name,
            b.kind,
            b.height,
            b.sheet or f"tube {show(alone(b.inside_diameter), Length, system)} inside",
            b.lateral.peak,
            b.lateral.governs,
            _fastest(b),
            _yokes(b, system),
        )
        for b in plan.forms.boxes
    )
    columns = (
        Column("form"),
        Column("kind"),
        Column("height", Length),
        Column("made of"),
        Column("pressure at the foot", Pressure, PRESSURE),
        Column("ruled by"),
        Column("filled at most at", RateOfRise),
        Column("yokes"),
    )
    notes = [f"{b.name}: {b.note.rstrip('.')}." for b in plan.forms.boxes if b.note]
    if plan.forms.not_formed:
        notes.append(f"Cast against earth, no form: {', '.join(plan.forms.not_formed)}.")
    return table("forms", "Forms", columns, rows, note=" ".join(notes), about=1)


def _fastest(b: Box) -> Any:
    """No rate of rise presses more than a liquid."""
    return "any rate" if b.lateral.governs in ("full liquid head", "pumped from below") else b.lateral.rate


def _yokes(b: Box, system: System) -> str:
    if b.frame is None:
        return "studs and wales" if b.wall else "stakes" if b.edge else "none"
    lumber = f"{len(b.yokes)} of {b.frame.size.name} {b.frame.grade.name}"
    kinds = {_sticks(b, yoke, system) for yoke in b.yokes}
    return f"{lumber}: {kinds.pop()} each" if len(kinds) == 1 else f"{lumber}: each cut for its height"


def _sticks(b: Box, yoke: Yoke, system: System) -> str:
    assert b.frame is not None
    told: Counter[str] = Counter()
    for count, length in b.frame.sticks(yoke):
        told[show(alone(length), Length, system)] += count
    return ", ".join(f"{count} x {length}" for length, count in told.items())


def yokes(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = (
        (box.name, y.number, y.up, _sticks(box, y, system), y.pull, round(alone(y.nails)) or "band or strap")
        for box in plan.forms.boxes
        for y in box.yokes
    )
    columns = (
        Column("form"),
        Column("yoke"),
        Column("middle above the foot", Length, tape=True),
        Column("sticks to cut"),
        Column("pull at a corner, or in the band", Force, WEIGHT),
        Column("16d nails a corner"),
    )
    return table("yokes", "Yokes, from the foot up", columns, rows, found=("NAILED",), note=_bands(plan), about=1)


def _bands(plan: "Plan") -> str:
    """What bands have to be rated for where the job does not say what they are."""
    system = plan.job.job.units
    return " ".join(
        f"{b.name}: a band round each yoke, rated for at least "
        f"{show(max(alone(y.pull) for y in b.yokes), Force, system)}; none was entered."
        for b in plan.forms.boxes
        if b.frame is not None and b.frame.sides > 4 and b.frame.strap != b.frame.strap
    )


# ---- concrete ----


def mixes(plan: "Plan") -> Table:
    labels = (
        "strength at 28 days", "exposure classes", "strength they ask for", "w/cm at most", "w/cm as batched",
        "binder", "mixing water", "batch from", "total air", "slump at the chute", "largest stone", "cement",
        "retarder", "first set at this temperature",
    )  # fmt: skip
    system = plan.job.job.units
    return sideways(
        "mixes", "Mixes", labels, {name: tuple(_mix(mix, system)) for name, mix in plan.concrete.mixes.items()}
    )


def _mix(m: Mix, system: System) -> Iterator[str]:
    yield show(alone(m.strength), Pressure, system)
    yield ", ".join(c.name for c in m.classes) or "none"
    yield show(alone(m.least), Pressure, system) if alone(m.least) > 0 else "nothing"
    yield _or(m.greatest, Number, system, "no limit")
    yield _or(m.ratio, Number, system, "not known")
    yield show(alone(m.binder), MassDensity, system)
    yield show(alone(m.water), MassDensity, system)
    yield {"ticket": "the ticket", "estimate": "an estimate by ACI 211.1"}[m.batch_from]
    yield show(alone(m.air), Number, system, "%") if alone(m.air) > 0 else "none asked for"
    yield show(alone(m.slump), Length, system)
    yield show(alone(m.stone), Length, system)
    yield m.cement
    yield "yes" if m.retarder else "no"
    yield show(alone(m.initial_set), Time, system)


def _or(value: Any, kind: Any, system: System, without: str) -> str:
    value = known(value, without)
    return value if isinstance(value, str) else show(value, kind, system)


def gains(plan: "Plan") -> tuple[Table, ...]:
    """Strength by age and temperature, a table a mix."""
    system = plan.job.job.units
    made = []
    for i, mix in enumerate(plan.concrete.mixes.values(), 1):
        g = mix.gain
        ages = [alone(a) for a in g.ages]
        rows = ((age, *(alone(cell) for cell in g.grid[n]), alone(g.at_air[n])) for n, age in enumerate(ages))
        columns = (
            Column("age", Time, ("d", "d")),
            *(Column(f"at {show(alone(t), Celsius, system)}", Pressure, STRENGTH) for t in g.temperatures),
            Column(f"at the job's {show(alone(g.air), Celsius, system)}", Pressure, STRENGTH),
        )
        made.append(
            table(f"strength-{i}", f"Strength of {mix.name} by age and temperature", columns, rows, note=g.function)
        )
    return tuple(made)


def water(plan: "Plan") -> Table:
    rows = (
        (
            w.name,
            w.mix,
            w.from_slump,
            w.to_slump,
            w.wetted or "as it comes",
            w.added,
            known(w.allowed, "no limit"),
            known(w.allowed_per_load, "no limit"),
            w.ratio_after,
            w.strength,
        )
        for w in plan.concrete.waters
    )
    columns = (
        Column("lift"),
        Column("mix"),
        Column("slump comes", Length),
        Column("wanted", Length),
        Column("by"),
        Column("water put in", WaterContent),
        Column("allowed", WaterContent),
        Column("a full load", Volume, ("gal", "L")),
        Column("w/cm then", Number),
        Column("strength then", Pressure, STRENGTH),
    )
    return table("water", "Water on site, and what it costs", columns, rows, found=("FOUND PUT IN",))


# ---- pour ----


def tickets(plan: "Plan") -> Table:
    labels = (
        "volume to order", "trucks", "strength",
        "exposure classes", "w/cm at most", "total air", "largest stone", "slump at the chute", "cement", "retarder",
        "temperature as placed", "first concrete at the form", "drive", "unloading free of charge",
        "trucks on site, in all", "out of the drum by", "stone that passes bars and forms", "admixtures",
        "who may have water put in, or send it back", "where to", "wash-out",
    )  # fmt: skip
    system = plan.job.job.units
    order = plan.ordering
    things = {
        name: (
            *_ticket(t, order.amounts[name], loads_of(plan, name), system),
            *_slip(order, order.amounts[name], plasticized(plan, loads_of(plan, name)), system),
        )
        for name, t in plan.pour.tickets.items()
    }
    return sideways(
        "order", "What to order, and what the delivery ticket must say", labels, things, found=("TICKET SAYS",),
        note="Strength, w/cm and air by exposure class: ACI 318-19, not seen, check the edition.",
    )  # fmt: skip


def loads_of(plan: "Plan", mix: str) -> tuple[Load, ...]:
    """The trucks that bring a mix on the day."""
    return tuple(load for load in plan.hour.loads if load.mix == mix)


def plasticized(plan: "Plan", trucks: tuple[Load, ...]) -> dict[int, Length]:
    """Lifts that an admixture brings to a larger slump than comes, and that slump."""
    own = {load.number for load in trucks}
    return {w.lift: w.to_slump for w in plan.hour.wettings if w.by == "admixture" and w.load in own}


def _slip(order: Ordering, amount: Amount, wetter: Mapping[int, Length], system: System) -> Iterator[str]:
    """What goes beyond the volumes: for the plant, and for the one who holds the ticket."""
    passes = show(alone(amount.largest_stone), Length, system)
    yield f"{passes} at most: {show(amount.stone, Length, system)} stone"
    asked = [order.admixtures] if order.admixtures else []
    asked += [f"a plasticizer for lift {lift}, {show(slump, Length, system)}" for lift, slump in wetter.items()]
    yield "; ".join(asked) or "none asked for"
    yield order.signs or "nobody is named: name one"
    yield order.address or "the file does not say"
    yield order.washout or "the file does not say"


def load_log(plan: "Plan") -> Table:
    """A line a truck, to fill while it stands there."""
    rows = ((load.mix, load.number, load.volume, f"lift {lift}") for load in plan.hour.loads for lift in load.lifts)
    columns = (Column("mix"), Column("load"), Column("volume", Volume, CUBIC), Column("for"))
    return table(
        "load-log", "Load log", columns, rows,
        found=("TICKET NO.", "BATCHED AT", "SLUMP", "TEMP.", "LEFT IN DRUM", "WATER PUT IN", "EMPTY AT"),
        note="Fill it at the truck, a line for each lift that it serves: what was left in the drum says what the water "
        "did. Nothing goes in after the cylinders are made. Into the file under [found.pour.loads.1] and so on.",
    )  # fmt: skip


def _ticket(t: Ticket, amount: Amount, loads: tuple[Load, ...], system: System) -> Iterator[str]:
    def volume(value: Any) -> str:
        return show(alone(value), Volume, system, CUBIC[0 if system == "us" else 1])

    yield volume(amount.ordered)
    yield "1" if len(loads) == 1 else f"{len(loads)}: {', '.join(volume(load.volume) for load in loads)}"
    yield show(alone(t.strength), Pressure, system)
    yield ", ".join(t.classes) or "none"
    yield _or(t.water_cement, Number, system, "no limit")
    yield _within(t.air, t.air_tolerance, Number, system, "0.1 %") if alone(t.air) > 0 else "none asked for"
    yield show(alone(t.stone), Length, system)
    yield _within(t.slump, t.slump_tolerance, Length, system, None)
    yield t.cement
    yield "yes" if t.retarder else "no"
    yield show(alone(t.temperature), Celsius, system)
    yield words_of(t.when) if t.when else "the file does not say"
    yield _or(t.away, Time, system, "the file does not say")
    yield show(amount.free, Time, system, "1 min")
    yield show(amount.stands, Time, system, "1 min")
    yield show(alone(t.old_at), Time, system)


def _within(value: Any, tolerance: Any, kind: Any, system: System, unit: str | None) -> str:
    return f"{show(alone(value), kind, system, unit)}, {show(alone(tolerance), kind, system, unit)} either way"


def pieces(plan: "Plan") -> Table:
    each = (
        (lift.name, p.name, p.net, p.overdug, p.waste, p.gross, "cast" if p.cast else _why_waste(p))
        for lift in plan.pour.lifts
        for p in lift.pieces
    )
    rows = alike(each, 1)
    columns = (
        Column("lift"),
        Column("piece, each"),
        Column("as designed", Volume, CUBIC),
        Column("over-dug", Volume, CUBIC),
        Column("waste", Volume, CUBIC),
        Column("together", Volume, CUBIC),
        Column("waste, and why"),
    )
    return table(
        "volumes", "Concrete piece by piece", columns, rows, note="A volume that two share belongs to the earlier lift."
    )


def _why_waste(piece: Piece) -> str:
    share = show(alone(piece.waste_rate), Number, "us", "0.5 %")
    dug = ", hole as found" if alone(piece.overdug) > 0 else ""
    return f"{share}, against {piece.against}{dug}"
