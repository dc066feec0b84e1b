"""What has to be bought, in one list: concrete, bars, rods, posts, plates, form wood, pipe."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from batterboard.phases.forms.framing import pointed
from batterboard.quantity import Force, Length, Pressure, Volume, show
from batterboard.views.tables.model import Column, Table, alone, sizes, table
from batterboard.views.tables.place import NOTHING
from batterboard.views.tables.sheets import kind

if TYPE_CHECKING:
    from batterboard.plan import Plan

Line = tuple[str, str, Any, str, Any, str]  # what, which, how many, of what, length of each, for


def buying(plan: "Plan") -> Table:
    columns = (
        Column("what"),
        Column("which"),
        Column("how many"),
        Column("of"),
        Column("each", Length, tape=True),
        Column("for"),
    )
    lines = (*_concrete(plan), *_bars(plan), *_steel(plan), *_forms(plan))
    return table(
        "buying", "What to buy", columns, lines,
        note="What lies about is counted in the cut plans, not here. Nails and screws are not counted.",
    )  # fmt: skip


def _concrete(plan: "Plan") -> Iterator[Line]:
    system = plan.job.job.units
    unit = "yd3" if system == "us" else "m3"
    for t in plan.pour.tickets.values():
        volume = float(show(plan.ordering.amounts[t.mix].ordered, Volume, system, unit).split()[0])
        strength = show(alone(t.strength), Pressure, system)
        yield "concrete", f"{t.mix}, {strength}, {', '.join(t.classes)}", f"{volume:g}", unit, NOTHING, "see the order"


def _bars(plan: "Plan") -> Iterator[Line]:
    for total in plan.bars.totals:
        yield "bars", total.of.size, total.stock, "stock bars", total.of.stock_length, "see the bar cut plan"


def _steel(plan: "Plan") -> Iterator[Line]:
    system = plan.job.job.units
    for p in plan.template.patterns:
        yield "anchor rods", f"{p.rod}, foot: {p.budget.foot}", len(p.points), "rods", p.budget.length, p.name
        plate = sizes(p.along, p.across, p.thick, system=system)
        yield "plate", plate, 1, "plate", NOTHING, p.name
        washer = sizes(p.washer, p.washer_thick, system=system)
        yield "plate washers", washer, len(p.points), "washers", NOTHING, p.name
    for post in plan.steel.posts:
        yield "post", post.section, 1, "post", post.length, post.name
    for pipe in plan.work.pipes.values():
        yield "conduit", pipe.size.name, 1, "run", NOTHING, pipe.name


def _forms(plan: "Plan") -> Iterator[Line]:
    system = plan.job.job.units
    for total in plan.sheets.totals:
        which = f"{total.of}, {sizes(*total.size, system=system)}"
        yield "form plywood", which, total.bought, "sheets", total.size[0], "see the panels on the sheets"
    for sticks in plan.lumber.totals:
        what = "form lumber" if sticks.legs is None else "chamfer strip"
        which = kind(sticks, system) if sticks.legs is not None else f"{sticks.of} {plan.job.stock.lumber}"
        for length, count in sticks.buys:
            yield what, which, count, "sticks", length, "see the strips and lumber on the sticks"
    for box in plan.forms.boxes:
        if box.kind == "tube":
            diameter = show(alone(box.inside_diameter), Length, system)
            yield "form tube", f"{diameter} inside", 1, "tube", box.height, box.name
        if box.wall is not None:
            rated = f"rated {show(alone(box.wall.tie), Force, system)}"
            yield "form tie", rated, round(alone(box.wall.ties)), "ties", NOTHING, box.name
    stakes = sum(pointed(box) for box in plan.forms.boxes)
    if stakes:
        yield "stakes", "with a point", stakes, "stakes", NOTHING, "feet of kickers and braces, tying down"
