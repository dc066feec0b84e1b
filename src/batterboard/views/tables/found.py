"""Tables of the work as built: what no longer holds and what helps, plates on their bolts, every number that moved."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from batterboard.phases.template import Rod
from batterboard.quantity import Angle, Length, System, show, show_exact
from batterboard.views import as_built, words
from batterboard.views.tables.model import Column, Table, known, table
from batterboard.views.tables.place import FINEST

if TYPE_CHECKING:
    from batterboard.plan import Plan
    from batterboard.study.compare import Comparison

NOTHING = "–"
_MOST = 60  # rows of what moved in a phase


def of(result: "Comparison") -> tuple[Table, ...]:
    """Those that have something in them, what to do first."""
    plan = result.found
    made = (
        turns(result), told(result), overruled(result), tolerances(result), rods(plan), openings(plan),
        moved_posts(plan), *moved(result),
    )  # fmt: skip
    return tuple(one for one in made if one.rows)


def turns(result: "Comparison") -> Table:
    """A row for each remedy; the check and its figures on the first."""
    columns = (Column("check"), Column("as planned"), Column("as found"), Column("do"), Column("tried: then"))
    note = (
        "Worst first; what serves the leaf before strength. Each remedy was tried: the whole job was worked out again"
        " with it. Concrete that is cast stays as it is; what no remedy mends is the engineer's."
    )
    return table("no-longer-holds", "What no longer holds, and what to do", columns, _turns(result), note=note)


def _turns(result: "Comparison") -> Iterator[tuple[str, ...]]:
    system = result.found.job.job.units
    for turn in result.turns:
        now = words.check_row(turn.found, system)
        before = words.check_row(turn.planned, system) if turn.planned else None
        first = (now.title, f"{before.demand} of {before.capacity}" if before else "not asked", now.comparison)
        if not turn.remedies:
            yield (*first, as_built.stop(turn), NOTHING)
        for number, remedy in enumerate(turn.remedies):
            shown = first if number == 0 else ("", "", "")
            yield (*shown, remedy.says, as_built.outcome(remedy).removeprefix("tried, "))
        if turn.remedies and turn.closed:
            yield ("", "", "", f"no longer possible: {', '.join(turn.closed)}", NOTHING)


def told(result: "Comparison") -> Table:
    rows = ((row.title, row.planned, row.found) for row in as_built.told(result))
    columns = (Column("what"), Column("planned"), Column("found"))
    return table("what-it-means", "What you would ask first", columns, rows)


def overruled(result: "Comparison") -> Table:
    system = result.found.job.job.units

    def said(value: Any, kind: Any) -> str:
        return show(value, kind, system) if kind and value is not None else str(value)

    rows = ((o.path, said(o.planned, o.kind), said(o.found, o.kind)) for o in result.contradicted)
    columns = (Column("key of the job file"), Column("planned"), Column("found"))
    return table("overruled", "Planned keys that were found otherwise", columns, rows)


def tolerances(result: "Comparison") -> Table:
    system = result.found.job.job.units
    rows = (
        (
            off.name, off.what, show_exact(off.off, Length, system), as_built.tolerance(off, system),
            "within" if off.within else "outside", f"{off.clause} ({off.clause.remark})",
        )
        for off in result.tolerances
    )  # fmt: skip
    columns = (
        Column("concrete"), Column("what"), Column("off"), Column("may be off"), Column("so"), Column("by"),
    )  # fmt: skip
    note = "What a specification lets concrete be off. Whether the work still does its duty is asked by the checks."
    return table("tolerances", "Found against tolerances", columns, rows, note=note)


# ---- plates on their bolts ----


def rods(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = (
        (
            seat.name,
            rod.number,
            rod.ahead if rod.looked else "not looked at",
            rod.left if rod.looked else NOTHING,
            f"1 in {1 / rod.lean:.0f}{f', {rod.way}' if rod.way else ''}" if rod.lean else NOTHING,
            rod.proud,
            _hole(rod, system),
            rod.offset,
            rod.spare,
        )
        for seat in plan.template.seats
        for rod in seat.rods
    )
    columns = (
        Column("plate"),
        Column("bolt"),
        Column("found ahead", Length, FINEST),
        Column("found left", Length, FINEST),
        Column("leans"),
        Column("proud", Length),
        Column("hole"),
        Column("off its hole", Length, FINEST),
        Column("to spare", Length, FINEST),
    )
    notes = " ".join(said.strip() for seat in plan.template.seats for said in as_built.seated(seat, system))
    note = "Found ahead and left: of its planned place. The last two with the plate laid where it fits best. "
    return table("bolts-as-found", "Plates on their bolts as found", columns, rows, note=note + notes)


def _hole(rod: Rod, system: System) -> str:
    """1 5/16", with its slot: 1 5/16", slotted 1/4" ahead left."""
    hole = show(rod.hole, Length, system)
    return f"{hole}, slotted {show(rod.slot, Length, system)} {rod.slot_way}" if rod.slot else hole


def openings(plan: "Plan") -> Table:
    rows = (
        (seat.name, o.number, o.way, o.turn, o.by, o.hole, o.washer, o.edge, o.edge_needed)
        for seat in plan.template.seats
        for o in seat.openings
    )
    columns = (
        Column("plate"),
        Column("hole"),
        Column("slot it towards"),
        Column("from ahead, counter-clockwise", Angle, ("1 deg", "1 deg")),
        Column("longer by", Length),
        Column("or drill it round", Length),
        Column("washer at least", Length),
        Column("edge left", Length),
        Column("edge needed", Length),
    )
    return table(
        "holes-to-open", "The fewest holes to open", columns, rows,
        note="Rounded up to what can be filed. A slot keeps the hole's width; the washer covers it."
        ' Once cut, write it under its bolt as found, slot = "1/4 in ahead", and it is checked again.',
    )  # fmt: skip


def moved_posts(plan: "Plan") -> Table:
    rows = (
        (seat.name, m.leaf, m.end, m.closes, m.aside, known(m.at_latch, NOTHING))
        for seat in plan.template.seats
        for m in seat.moved
    )
    columns = (
        Column("plate"),
        Column("leaf"),
        Column("its end"),
        Column("closes the opening", Length, FINEST),
        Column("post left of the line", Length, FINEST),
        Column("at the latch end", Length, FINEST),
    )
    return table(
        "moved-posts", "What the plates' place does to the leaf", columns, rows,
        note="Negative: opens it; right of the line from hinge to latch. At the latch end: of a leaf that follows its"
        " post's turn.",
    )  # fmt: skip


# ---- all the rest ----


def moved(result: "Comparison") -> Iterator[Table]:
    """Every quantity of every phase that reads differently, a table a phase."""
    from batterboard.study.compare import PHASES

    columns = (Column("what"), Column("planned"), Column("found"))
    for phase in PHASES:
        rows = [(row.title, row.planned, row.found) for row in as_built.moved(result, phase)]
        note = f"And {len(rows) - _MOST} more: compare --json has them all." if len(rows) > _MOST else ""
        yield table(f"moved-{phase}", f"What moved: {phase}", columns, rows[:_MOST], note=note)
