"""Tables of the days, of the checks and of what was assumed."""

from datetime import datetime
from typing import TYPE_CHECKING, Any

from batterboard.quantity import Number, Time, show
from batterboard.views import words
from batterboard.views.tables.model import Column, Table, alone, table
from batterboard.work.names import joined
from batterboard.working import Check

if TYPE_CHECKING:
    from batterboard.plan import Plan

BASIS = {"given": "the job file", "guess": "a guess", "rule": "a rule", "strength": "the strength"}


def days(plan: "Plan") -> Table:
    alike: dict[tuple[Any, ...], list[str]] = {}
    for e in plan.schedule.events:
        times = _when(e.starts, e.start), _when(e.ends, e.end) if alone(e.end) > alone(e.start) else "–"
        rests = f"{BASIS[e.basis]}: {e.source}" if e.source else BASIS[e.basis]
        alike.setdefault((e.what, *times, e.hold or "nothing", rests), []).append(e.name)
    rows = ((*times, joined(names), hold, rests) for (_, *times, hold, rests), names in alike.items())
    columns = (
        Column("starts"),
        Column("ends"),
        Column("what"),
        Column("goes on when"),
        Column("rests on"),
    )
    return table("days", "Days and holds", columns, rows, found=("DONE",), note="A dash: it takes no time of its own.")


def _when(date: datetime | None, after: Any) -> datetime | str:
    """The date, or how long before or after the pour where the pour has none."""
    if date is not None:
        return date
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
        Column("share used", Number, ("0.1 %", "0.1 %")),
        Column("worst case"),
        Column("clause"),
        Column("how the clause was got"),
    )
    return table(name, title, columns, rows)
