"""Tables of the first four questions: what presses on the soil, where all stands, what is dug, what is drilled."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from batterboard.phases.template import Budget, Pattern, Proof
from batterboard.quantity import Angle, Area, Force, Length, Pressure, System, Volume, inch, show
from batterboard.views.tables.model import Column, Table, alone, known, sideways, sizes, table

if TYPE_CHECKING:
    from batterboard.plan import Plan

FINE = ("1/16 in", "1 mm")
FINEST = ("0.001 in", "0.1 mm")  # computed, finer than a tape reads
CUBIC = ("0.01 yd3", "0.01 m3")
WEIGHT = ("1 lb", "0.01 kN")
NOTHING = "–"
_ON_IT = 1e-6
ROD = ("0.01 ft", "1 mm")  # as a level rod is divided


# ---- size ----


def loads(plan: "Plan") -> Table:
    rows = (
        (
            name,
            sizes(load.foot.outline.along, load.foot.outline.across, system=plan.job.job.units),
            load.depth,
            load.dead.down,
            len(load.cases),
        )
        for name, load in plan.size.loads.items()
    )
    columns = (
        Column("base"),
        Column("foot along x across"),
        Column("in the ground", Length),
        Column("dead load", Force, WEIGHT),
        Column("cases looked at"),
    )
    return table(
        "loads",
        "What presses on the soil",
        columns,
        rows,
        note="Dead load is concrete, soil on the pad and what stands or hangs on it.",
        about=1,
    )


def wind(plan: "Plan") -> Table:
    rows = (
        (name, push.name, push.area, push.force, push.z - load.foot.bottom)
        for name, load in plan.size.loads.items()
        for push in load.pushes
    )
    columns = (
        Column("base"),
        Column("wind on"),
        Column("area", Area, ("0.1 ft2", "0.01 m2")),
        Column("design wind", Force, WEIGHT),
        Column("above the foot", Length),
    )
    return table("wind", "Wind", columns, rows)


def movement(plan: "Plan") -> Table:
    rows = (
        (
            m.name,
            m.droop_soil,
            m.droop_post,
            m.droop,
            m.lean,
            m.pressure_rigid,
            m.pressure_springs,
            m.tied_by or "none",
        )
        for m in plan.size.movements.values()
    )
    columns = (
        Column("leaf"),
        Column("droop by soil", Length, FINEST),
        Column("by the post", Length, FINEST),
        Column("together", Length, FINEST),
        Column("latch gap closes", Length, FINEST),
        Column("soil, rigid pad", Pressure, ("1 psf", "0.1 kPa")),
        Column("soil, springs", Pressure, ("1 psf", "0.1 kPa")),
        Column("tie beam"),
    )
    return table("movement", "How far the leaf moves by its own weight", columns, rows)


# ---- set out ----


def rods(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = ((r.name, r.level, _more(alone(r.difference), system), r.difference) for r in plan.setout.rods)
    columns = (
        Column("point"),
        Column("bench mark"),
        Column("rod reads"),
        Column("rod less bench", Length, ROD),
    )
    return table(
        "rod-readings", "Level rod, from one set-up", columns, rows, found=("FOUND",),
        note="Read the bench mark first; add. A point below the bench mark reads more.",
    )  # fmt: skip


def _more(difference: float, system: System) -> str:
    text = show(abs(difference), Length, system)
    return "the same" if difference == 0 else f"{text} more" if difference > 0 else f"{text} less"


def stakes(plan: "Plan") -> Table:
    rows = (
        (
            s.name,
            s.line,
            s.along,
            s.off,
            s.x,
            s.y,
            s.top,
            known(s.cut, "on its base"),
            2 * s.major,
        )
        for s in plan.setout.stakes
    )
    bends = any(line.arc is not None for line in plan.work.lines.values())
    columns = (
        Column("point"),
        Column("line"),
        Column("along", Length, tape=True),
        Column("left of it", Length, tape=True),
        Column("x", Length, ("0.01 ft", "1 mm")),
        Column("y", Length, ("0.01 ft", "1 mm")),
        Column("top", Length, ("0.01 ft", "1 mm")),
        Column("cut", Length, tape=True),
        Column("sure to", Length, FINE),
    )
    return table(
        "stakes",
        "Stake list",
        columns,
        rows,
        note="x and y run as in the job file, tops above its zero. Sure to: nineteen of twenty lie that near."
        + (" On an arc, along the curve and square to it." if bends else ""),
    )


def diagonals(plan: "Plan") -> Table:
    rows = ((d.name, d.length, d.allow) for d in plan.setout.diagonals)
    columns = (
        Column("from and to"),
        Column("tape says", Length, tape=True),
        Column("measure again beyond", Length, FINE),
    )
    taped = {
        frozenset(one.across): show(one.tape, Length, plan.job.job.units)
        for one in plan.job.measured.readings
        if one.across and one.tape
    }
    hand = tuple((taped.get(frozenset((d.a, d.b)), ""),) for d in plan.setout.diagonals)
    return table(
        "check-measurements", "Check measurements", columns, rows, found=("FOUND",), hand=hand,
        note="With a second tape, by somebody else.",
    )  # fmt: skip


# ---- dig ----


def holes(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = (
        (
            h.name,
            sizes(h.along, system=system) if h.bored else sizes(h.along, h.across, system=system),
            h.depth,
            _sides(alone(h.run), h.bored),
            h.bank,
            h.loose,
            h.spoil_back,
        )
        for h in plan.dig.holes
    )
    columns = (
        Column("hole"),
        Column("bottom along x across"),
        Column("deepest", Length, tape=True),
        Column("sides"),
        Column("in the bank", Volume, CUBIC),
        Column("loose", Volume, CUBIC),
        Column("spoil back", Length),
    )
    total = f"Together {show(plan.dig.bank, Volume, system)} in the bank, {show(plan.dig.loose, Volume, system)} loose."
    return table(
        "holes", "Holes to dig", columns, rows, found=("FOUND DEPTH", "FOUND SIZE"),
        note=f"{total} Depths are from the highest ground over the hole. What an earlier hole has dug counts once.",
    )  # fmt: skip


def _sides(run: float, bored: bool) -> str:
    if bored:
        return "bored"
    return "upright" if run == 0 else f"slope {run:g} to 1"


# ---- template ----


def drilling(plan: "Plan") -> Table:
    alike: dict[tuple[Any, ...], list[str]] = {}
    for p in plan.template.patterns:
        holes_ = tuple(
            tuple(map(alone, (point.number, point.from_back, point.from_right, point.x, point.y, p.hole, point.edge)))
            for point in p.points
        )
        alike.setdefault(holes_, []).append(p.name)
    rows = ((", ".join(names), *hole) for holes_, names in alike.items() for hole in holes_)
    columns = (
        Column("plate"),
        Column("hole"),
        Column("from back edge", Length, tape=True),
        Column("from right edge", Length, tape=True),
        Column("ahead of centre", Length, tape=True),
        Column("left of centre", Length, tape=True),
        Column("the plate's hole", Length),
        Column("to edge", Length),
    )
    return table(
        "drilling", "Drilling table", columns, rows,
        note="Seen from above, arrow ahead. Holes are numbered counter-clockwise from ahead left. The template has "
        "them at the same places, but no wider than its rods need to pass (common practice): in wider ones they stand "
        "anywhere.",
    )  # fmt: skip


def bolts_found(plan: "Plan") -> Table:
    """Where the bolts stand, to be measured after the pour."""
    system = plan.job.job.units
    rows, hand = [], []
    for p in plan.template.patterns:
        looked_at = _bolts(plan, p.name)
        for point in p.points:
            rows.append((p.name, point.number, point.x, point.y, _planned_proud(plan, p.name, point.number)))
            seen = (point.found_x, point.found_y, point.proud) if point.number in looked_at else ()
            hand.append(tuple(show(alone(v), Length, system) for v in seen) or ("", "", ""))
    columns = (
        Column("plate"),
        Column("bolt"),
        Column("ahead", Length, tape=True),
        Column("left", Length, tape=True),
        Column("stands proud", Length, tape=True),
    )
    return table(
        "bolts", "Bolts as cast", columns, rows, found=("FOUND AHEAD", "FOUND LEFT", "FOUND PROUD"), hand=tuple(hand),
        note="From the plate's centre. Write them into the job file before the plate is drilled.",
    )  # fmt: skip


def _bolts(plan: "Plan", name: str) -> tuple[int, ...]:
    thing = plan.work.posts.get(name) or plan.work.machines[name]
    return thing.bolts.found if thing.bolts else ()


def _planned_proud(plan: "Plan", name: str, number: int) -> object:
    planned = plan.job.planned or plan.job
    thing = planned.posts.get(name) or planned.machines[name]
    assert thing.joint is not None
    return thing.joint.proud


def template_diagonals(plan: "Plan") -> Table:
    rows = ((p.name, d.name, d.length) for p in plan.template.patterns for d in p.diagonals)
    columns = (Column("plate"), Column("holes"), Column("centre to centre", Length, tape=True))
    return table("template-diagonals", "Distances to check on template and plate", columns, rows, found=("FOUND",))


def proofs(plan: "Plan") -> Table:
    """How the template hangs over the form, and what proves it; alike templates share their lines."""
    alike: dict[tuple[str, ...], list[str]] = {}
    for p in plan.template.patterns:
        look = tuple(f"{proof.hold}; {proof.read}; {abs(alone(proof.value)):.6f}" for proof in p.proofs)
        alike.setdefault(look, []).append(p.name)
    first = {names[0]: ", ".join(names) for names in alike.values()}
    rows = (
        (first[p.name], proof.proves, proof.hold, proof.read, *_proof(proof))
        for p in plan.template.patterns
        if p.name in first
        for proof in p.proofs
    )
    chords = any(line.arc is not None and not line.arc.centre for line in plan.work.lines.values())
    columns = (
        Column("template"),
        Column("that it"),
        Column("hold at"),
        Column("read at"),
        Column("should be", Length, tape=True),
        Column("within", Length, ("1/32 in", "1 mm")),
    )
    return table(
        "template-proof", "How the template hangs, and what proves it", columns, rows, found=("FOUND",),
        note="In this order, before the concrete comes and once more while it is soft. Two readings of one line must be"
        f" alike: if they differ, the template is turned.{_OFF_CHORD if chords else ''}",
    )  # fmt: skip


_OFF_CHORD = " Off the chord of an arc they differ as listed here."


def _proof(proof: Proof) -> tuple[Any, Any]:
    if proof.proves == "level":
        return "in the middle", NOTHING
    value, within = known(proof.value, NOTHING), known(proof.within, NOTHING)
    return ("on it" if value != NOTHING and abs(value) < _ON_IT else value), within


def patterns(plan: "Plan") -> Table:
    labels = (
        "rod", "plate, along x across x thick", "bolts apart, along x across", "bolt circle", "hole, from",
        "washer; nut", "clear each way, and the tolerance of a bolt's place", "twist that the holes leave",
        "the same at the latch", "turned at its edge, at the latch", "pier beyond the plate, ahead and across",
        "match marks, from the centre", "marks on template and plate",
    )  # fmt: skip
    system = plan.job.job.units
    return sideways("patterns", "Pattern", labels, {p.name: tuple(_pattern(p, system)) for p in plan.template.patterns})


def _pattern(p: Pattern, system: System) -> Iterator[str]:
    def length(value: object) -> str:
        return show(alone(value), Length, system)

    yield p.rod
    yield sizes(p.along, p.across, p.thick, system=system)
    yield sizes(p.spacing_along, p.spacing_across, system=system)
    yield length(p.circle) if known(p.circle, "") != "" else "they lie on none"
    yield f"{length(p.hole)}, {p.hole_from}"
    yield f"{length(p.washer)} x {length(p.washer_thick)}; {length(p.nut)} across flats"
    yield f"{length(p.clearance)}, {length(p.tolerance)}"
    yield f"{show(alone(p.twist), Angle, system, '0.1 deg')} either way"
    hung = known(p.twist_at_latch, "") != ""
    yield length(p.twist_at_latch) if hung else "no leaf hangs on it"
    step = inch / 16 if system == "us" else 0.002
    yield f"{length(step)} off is {length(p.latch_per_edge * step)}" if hung else "no leaf hangs on it"
    yield f"{length(p.over_along)}, {length(p.over_across)}"
    yield "; ".join(
        f"{rings} {'rings' if rings > 1 else 'ring'} {length(abs(alone(m.x)))} {'ahead' if alone(m.x) > 0 else 'back'},"
        f" {length(abs(alone(m.y)))} {'left' if alone(m.y) > 0 else 'right'}"
        for rings, m in enumerate(p.matches, 1)
    )
    yield "; ".join(m for m in p.marks if not m.startswith(f"{p.name} on ")) + "; its name"


def budget(plan: "Plan") -> Table:
    labels = (
        "gap for grout or levelling nut", "plate", "washer", "nut", "threads above the nut",
        "needed above the concrete", "set for, with the bolt low by the tolerance", "stands proud, the lowest",
        "embedment", "concrete below its foot", "foot of the rod",
        "rod, cut length", "threaded from the top, at least", "thread as bought",
    )  # fmt: skip
    system = plan.job.job.units
    things = {p.name: tuple(_budget(p.budget, system)) for p in plan.template.patterns}
    return sideways("bolt-budget", "What a bolt's length is spent on", labels, things)


def _budget(b: Budget, system: System) -> Iterator[str]:
    parts = (b.grout, b.plate, b.washer, b.nut, b.threads, b.needed, b.wanted, b.proud, b.deep, b.below)
    for part in parts:
        yield show(alone(part), Length, system)
    yield f"{show(alone(b.foot_length), Length, system)}, {b.foot}"
    for part in (b.length, b.thread):
        yield show(alone(part), Length, system)
    yield show(alone(b.bought), Length, system) if known(b.bought, "") != "" else "not said"
