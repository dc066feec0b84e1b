"""Tables of the days, of the checks and of what was assumed."""

from datetime import datetime
from typing import TYPE_CHECKING, Any

from batterboard.quantity import Number, Time, show
from batterboard.views import words
from batterboard.views.tables.model import Column, Table, alone, table
from batterboard.working import Check

if TYPE_CHECKING:
    from batterboard.plan import Plan

BASIS = {"given": "the job file", "guess": "a guess", "rule": "a rule", "strength": "the strength"}


def days(plan: "Plan") -> Table:
    rows = (
        (
            _when(e.starts, e.start),
            _when(e.ends, e.end),
            e.name,
            e.hold or "nothing",
            BASIS[e.basis],
            e.source or "none",
        )
        for e in plan.schedule.events
    )
    columns = (
        Column("starts"),
        Column("ends"),
        Column("what"),
        Column("goes on when"),
        Column("rests on"),
        Column("source"),
    )
    return table("days", "Days and holds", columns, rows, found=("DONE",))


def _when(date: datetime | None, after: Any) -> str:
    """The date, or how long before or after the pour where the pour has none."""
    if date is not None:
        return f"{date:%a %b %d, %H:%M}"
    seconds = alone(after)
    if seconds != seconds:
        return "not known"
    if seconds == 0:
        return "the pour"
    return f"{show(abs(seconds), Time)} {'before' if seconds < 0 else 'after'}"


def checks(plan: "Plan", ones: tuple[Check, ...], name: str = "checks", title: str = "Checks, worst first") -> Table:
    rows = []
    for c in ones:
        row = words.check_row(c, plan.job.job.units)
        ratio = c.ratio if c.verdict != "outside" else "outside"
        rows.append(
            (row.verdict, row.title, row.demand, row.capacity, ratio, row.case or "one case", row.clause, row.remark)
        )
    columns = (
        Column("verdict"),
        Column("check"),
        Column("is, with its unit"),
        Column("may be"),
        Column("share used", Number),
        Column("worst case"),
        Column("clause"),
        Column("how the clause was got"),
    )
    return table(name, title, columns, rows)
