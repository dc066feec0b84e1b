"""Cut, bar, buy, stake and day lists for other people's programs.

    files(plan) : {"bars.csv": ..., "points.csv": ..., "lists.xlsx": ..., "calendar.ics": ...}

CSV after RFC 4180 in UTF-8, units in the headings; one XLSX with all of it, ready to print; a calendar whose entries
keep their names, so that the next one replaces the last. Text of a job file stays text: what looks like a formula is
quoted.
"""

import csv
import io
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any

from batterboard.quantity import Length, System
from batterboard.views import assumed, tables, words
from batterboard.views import points as on_site
from batterboard.views.tables import (
    Column,
    Table,
    buying,
    concrete,
    curing,
    days,
    holding,
    order,
    place,
    pouring,
    setting,
    sheets,
    shoring,
    splices,
    steel,
)
from batterboard.views.tables.model import Cell, table

if TYPE_CHECKING:
    from batterboard.phases.schedule import Event
    from batterboard.plan import Plan

_LISTS: tuple[Callable[["Plan"], Table], ...] = (
    *(
        setting.order,
        setting.boards,
        place.diagonals,
        place.rods,
        setting.links,
        setting.moves,
        place.holes,
        place.drilling,
        place.template_diagonals,
    ),
    *(steel.bars, steel.bar_totals, steel.bar_cuts, concrete.panels, splices.joints, splices.plates),
    *(concrete.strips, concrete.yokes),
    *(sheets.layouts, sheets.cuts, sheets.members, sheets.joined, sheets.sticks, sheets.strip_ends),
    *(shoring.shores, shoring.cuts, holding.walls, holding.edges, holding.collars, holding.braces, holding.uplifts),
    *(
        concrete.tickets,
        order.sums,
        order.choices,
        order.doses,
        order.batches,
        *(pouring.timeline, pouring.placings, pouring.holds, pouring.loads, pouring.wettings),
        *(pouring.vibrating, pouring.insertions, pouring.bolts_after, pouring.weather),
        *(curing.waits, curing.heat, curing.welds),
        steel.posts,
        steel.hangs,
        buying.buying,
        days.days,
    ),
)


def files(plan: "Plan") -> dict[str, bytes | str]:
    """Every list that has something in it, by file name."""
    system = plan.job.job.units
    every = tuple(_every(plan))
    written: dict[str, bytes | str] = {f"{one.name}.csv": _csv(one, system) for one in every}
    written["points-note.txt"] = _points_note(plan)
    written["points.dxf"] = on_site.dxf(plan)
    if on_earth := on_site.geojson(plan):
        written["points.geojson"] = on_earth
    written["lists.xlsx"] = _xlsx(plan, every)
    if plan.schedule.pour is not None:
        written["calendar.ics"] = _calendar(plan)
    return written


def _every(plan: "Plan") -> Iterator[Table]:
    made = (points(plan), *(make(plan) for make in _LISTS), days.checks(plan, plan.checks), _assumptions(plan))
    return (one for one in made if one.rows and len(one.columns) > 1)


def points(plan: "Plan") -> Table:
    """What a surveyor loads: point, northing, easting, elevation, description."""
    unit = ("0.001 ft", "0.001 m")
    columns = (
        Column("P"), Column("N", Length, unit), Column("E", Length, unit), Column("Z", Length, unit), Column("D"),
    )  # fmt: skip
    ground, marks = plan.work.ground, plan.work.marks.items()
    rows = [(s.name, s.y, s.x, s.top, f"{s.kind} on {s.element}, top of concrete") for s in plan.setout.stakes]
    rows += [(name, y, x, ground.level(x, y), "control, on the ground: check it first") for name, (x, y) in marks]
    return table("points", "Points for an instrument", columns, rows)


def _points_note(plan: "Plan") -> str:
    unit = "feet (0.3048 m exactly, the international foot)" if plan.job.job.units == "us" else "metres"
    return (
        f"{plan.job.job.name}, job {plan.job.digest}\n\n"
        f"points.csv: point, northing, easting, elevation, description (PNEZD), in {unit}.\n"
        "N is the job's y, E its x, Z the height above its zero: a local grid, not true north.\n"
        "Check one known point before staking out; a swap of N and E is the usual mistake.\n"
        "points.dxf: the same points with their names, a layer for each kind, in the same unit.\n"
        f"{_earth_note(plan)}"
        f"{words.NOT_REPLACED}\n"
    )


def _earth_note(plan: "Plan") -> str:
    if not any(mark.latitude is not None for mark in plan.job.marks.values()):
        return ""
    return (
        "points.geojson: longitude and latitude (WGS 84), from two marks: for a map, not for staking out.\n"
        f"On the earth these marks lie {on_site.misfit(plan):+.2f} m further apart than in the job.\n"
    )


def _assumptions(plan: "Plan") -> Table:
    rows = ((row.phase, row.meaning, row.value, ", ".join(row.where)) for row in assumed.rows(plan))
    columns = (Column("for"), Column("what"), Column("taken as, with its unit"), Column("key in the job file"))
    return table("assumptions", "What was assumed", columns, rows)


# ---- CSV ----

_LOOKS_LIKE_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def _csv(one: Table, system: System) -> str:
    headings, rows = tables.plain(one, system)
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([_quoted(heading) for heading in headings])
    writer.writerows([_quoted(cell) for cell in row] for row in rows)
    return text.getvalue()


def _quoted(cell: Cell) -> Cell:
    """What a spreadsheet would compute is marked as text."""
    if isinstance(cell, datetime):
        return cell.isoformat(sep=" ", timespec="minutes")
    if isinstance(cell, str):
        return f"'{cell}" if cell.startswith(_LOOKS_LIKE_A_FORMULA) else cell
    return f"{cell:.12g}"


# ---- XLSX ----


def _xlsx(plan: "Plan", every: tuple[Table, ...]) -> bytes:
    import xlsxwriter

    held = io.BytesIO()
    book = xlsxwriter.Workbook(held, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False})
    book.set_properties({"title": plan.job.job.name, "comments": f"job {plan.job.digest}", "created": _NO_DAY})
    looks = {
        "bold": book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"}),
        "text": book.add_format({"text_wrap": True, "valign": "top"}),
        "date": book.add_format({"num_format": "ddd yyyy-mm-dd hh:mm", "align": "left", "valign": "top"}),
    }
    for one in every:
        _page(book, plan, one, looks)
    book.close()
    return held.getvalue()


_NO_DAY = datetime(2000, 1, 1)  # the same plan gives the same bytes


def _page(book: Any, plan: "Plan", one: Table, looks: dict[str, Any]) -> None:
    headings, rows = tables.plain(one, plan.job.job.units)
    page = book.add_worksheet(one.name[:31])
    for j, heading in enumerate(headings):
        page.write_string(0, j, heading, looks["bold"])
        longest = max((len(_shown(row[j])) for row in rows), default=0)
        page.set_column(j, j, min(48, max(8, longest + 2, len(heading) * 0.7)))
    for i, row in enumerate(rows, 1):
        for j, cell in enumerate(row):
            if isinstance(cell, datetime):
                page.write_datetime(i, j, cell, looks["date"])
            elif isinstance(cell, str):
                page.write_string(i, j, cell, looks["text"])
            else:
                page.write_number(i, j, cell, looks["text"])
    page.freeze_panes(1, 0)
    page.repeat_rows(0)
    page.print_area(0, 0, len(rows), len(headings) - 1)
    page.set_landscape()
    page.set_paper(1 if plan.job.job.units == "us" else 9)  # letter, A4
    page.fit_to_pages(1, 0)
    safe = plan.job.job.name.replace("&", "&&")
    page.set_header(f"&L{safe[:120]}&R{one.title}")
    page.set_footer(f"&Ljob {plan.job.digest}&Rpage &P of &N")


def _shown(cell: Cell) -> str:
    return f"{cell:%Y-%m-%d %H:%M} day" if isinstance(cell, datetime) else str(cell)


# ---- calendar ----


def _calendar(plan: "Plan") -> bytes:
    """Local times without a zone: the hour that the site's clock shows."""
    import icalendar

    calendar = icalendar.Calendar()
    calendar.add("prodid", "-//Batterboard//job calendar//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", plan.job.job.name)
    seen: dict[str, int] = {}
    for event in plan.schedule.events:
        if event.starts is None or event.ends is None:
            continue
        seen[event.name] = seen.get(event.name, 0) + 1
        calendar.add_component(_entry(plan, event, seen[event.name]))
    return bytes(calendar.to_ical())


def _entry(plan: "Plan", event: "Event", time: int) -> Any:
    import icalendar

    assert plan.schedule.pour is not None
    entry = icalendar.Event()
    entry.add("uid", _uid(plan.job.job.name, event.name, time))
    entry.add("dtstamp", plan.schedule.pour.replace(tzinfo=UTC))  # the same plan gives the same bytes
    entry.add("dtstart", event.starts)
    if event.ends != event.starts:
        entry.add("dtend", event.ends)
    entry.add("summary", f"{event.name} ({plan.job.job.name})")
    parts = (f"Goes on when: {event.hold}." if event.hold else "", f"Rests on {days.BASIS[event.basis]}.", event.source)
    entry.add(
        "description", "\n".join(part for part in (*parts, f"Job {plan.job.digest}.", words.NOT_REPLACED) if part)
    )
    if event.hold:
        entry.add("categories", ["HOLD"])
        entry.add_component(_alarm(event, late=event.ends != event.starts))
    return entry


def _alarm(event: "Event", late: bool) -> Any:
    """A day before what is held goes on. late : that is at its end."""
    import icalendar

    alarm = icalendar.Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", f"{event.name}: {event.hold}")
    alarm.add("trigger", timedelta(days=-1), parameters={"RELATED": "END" if late else "START"})
    return alarm


def _uid(job: str, event: str, time: int) -> str:
    """The same entry of the same job whenever it is written, whatever its day."""
    from hashlib import sha256

    return f"{sha256(f'{job}/{event}/{time}'.encode()).hexdigest()[:24]}@batterboard"
