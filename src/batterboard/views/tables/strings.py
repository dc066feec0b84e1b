"""The lines that all is measured from: how each is drawn, before the first thing is placed.

lines      lane: string from nail to x 100', y 0"         gate: at 24'-3" along lane, square to its left
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from batterboard.job import schema
from batterboard.quantity import Length, System, show
from batterboard.views.tables.model import Column, Table, alone, table
from batterboard.work.records import Line

if TYPE_CHECKING:
    from batterboard.plan import Plan


def lines(plan: "Plan") -> Table:
    told = plan.job.lines
    rows = ((line.name, _drawn(plan, line, told[line.name]), _after(line)) for line in plan.work.lines.values())
    columns = (Column("line"), Column("how it is drawn"), Column("when"))
    return table(
        "lines", "Lines to draw", columns, rows, found=("FOUND",),
        note="A line runs from its start ahead; left and right are told looking that way.",
    )  # fmt: skip


def _drawn(plan: "Plan", line: Line, told: schema.Line) -> str:
    system = plan.job.job.units
    if told.square_to is not None:
        return (
            f"Mark {_say(told.at, system)} along {told.square_to} from its start; there square to its left, "
            "by 3-4-5 as large as there is room for, and sight it back the other way."
        )
    if told.beside is not None:
        way, off = ("left", told.left) if told.left is not None else ("right", told.right)
        off = _say(off, system)
        return f"Measure {off} square to the {way} of {told.beside} at both its ends; string through both marks."
    start, end = (_point(point, system) for point in (told.from_, told.to))
    if line.arc is None:
        return f"String from {start} to {end}."
    if line.arc.centre:
        radius = _say(line.arc.radius, system)
        return (
            f"No string: tape from the nail {line.arc.centre}, {radius}, from {start} round until in line with {end}."
        )
    rise = _say(line.arc.rise, system)
    return f"String from {start} to {end}, its chord; the curve stands {rise} to its {told.bulges} in the middle."


def _point(point: Any, system: System) -> str:
    """A mark or what stands there, or its coordinates."""
    if isinstance(point, str):
        return point
    return ", ".join(f"{axis} {_say(value, system)}" for axis, value in zip("xy", point))


def _say(value: Any, system: System) -> str:
    return show(alone(0.0 if value is None else value), Length, system)


def _after(line: Line) -> str:
    held = list(_held(line))
    return f"after {' and '.join(held)}" if held else "first"


def _held(line: Line) -> Iterator[str]:
    """What must stand before it can be drawn."""
    if line.set_from:
        yield line.set_from
    yield from dict.fromkeys(point for point in line.through if point)
