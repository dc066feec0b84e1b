"""The whole job as bars over its days.

calendars(board)    a sheet, or several where there are many things to do: bars, and a diamond where something holds
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise
from math import ceil, floor, isfinite
from os.path import commonprefix

from batterboard.phases.schedule import Event
from batterboard.quantity import day
from batterboard.views import drawing as d
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.chart import TEXT, Axes, Tick
from batterboard.work.names import among

ROWS = 30  # on a sheet
NAMES = 74.0  # the column of names [mm]
LETTERS = 42
AFTER = 70 * day  # of the pour: what comes later is told in words, or all else would be too small to read


def calendars(board: Board) -> Iterator[d.Sheet]:
    rows = _rows(board)
    if not rows:
        return
    start = min(floor(float(e.start) / day) for _, e in rows)
    end = max(ceil(min(float(e.end), AFTER) / day) for _, e in rows) + 1
    for first in range(0, len(rows), ROWS):
        blank = board.sheet("Days and holds")
        yield replace(blank, marks=tuple(_chart(board, rows[first : first + ROWS], (start, end), d.area(blank))))


def _rows(board: Board) -> list[tuple[str, Event]]:
    """What has a time; the same act on many elements at one time is one row."""
    alike: dict[tuple[str, float, float], list[Event]] = {}
    for event in board.plan.schedule.events:
        if isfinite(float(event.start)) and isfinite(float(event.end)):
            alike.setdefault((event.what, float(event.start), float(event.end)), []).append(event)
    return [(_name(same), same[0]) for same in alike.values()]


def _name(same: list[Event]) -> str:
    """strip west, east: what is said of all, then of which."""
    names = list(dict.fromkeys(event.name for event in same))
    said = commonprefix(names)
    said = said[: said.rfind(" ") + 1]
    rest = commonprefix([name[::-1] for name in names])[::-1]
    rest = rest[rest.find(" ") :] if " " in rest else ""
    if len(names) == 1:
        text = names[0]
    elif said:
        text = said + among(name[len(said) : len(name) - len(rest)] for name in names) + rest
    else:
        text = f"{names[0]} and {len(names) - 1} more"
    return text if len(text) <= LETTERS else f"{text[: LETTERS - 1]}…"


def _chart(board: Board, rows: list[tuple[str, Event]], span: tuple[int, int], room: d.Box) -> Iterator[d.Entity]:
    left, bottom, right, top = room
    frame = (left + NAMES, bottom + 20, right - 4, top - 8)
    axes = Axes(frame, (span[0] * day, span[1] * day), (float(len(rows)), 0.0))
    yield from axes.frame("DAYS, FROM THE PERMIT DESK TO THE LAST INSPECTION", _ticks(board, span), ())
    yield from _nights(board, axes, span)
    x, _ = axes.at(0.0, 0.0)
    yield d.Line((x, frame[1]), (x, frame[3]), d.CHECK)
    yield d.Text((x, frame[1] - 6.4), "pour", TEXT, "middle top", layer=d.CHECK, bold=True)
    for i, (name, event) in enumerate(rows):
        _, y = axes.at(0.0, i + 0.5)
        yield d.Text((frame[0] - 2, y), name, TEXT, "right middle")
        if event.end > AFTER:
            at = event.ends
            told = f"{at:%a %b} {at.day} {at.year}" if at else f"day {float(event.end) / day:+.0f}"
            yield d.Text((frame[2] - 1, y), f"not before {told}", TEXT, "right middle", layer=d.CHECK)
            continue
        a, _ = axes.at(float(event.start), 0.0)
        b, _ = axes.at(float(event.end), 0.0)
        if b - a > 0.6:
            fill = "tone" if event.basis == "guess" else "solid"
            yield d.Polygon(d.rectangle(a, y - 1.3, b, y + 1.3), d.BOLTS, fill=fill)
        if event.hold:
            yield d.Polygon(((b - 1.5, y), (b, y - 1.5), (b + 1.5, y), (b, y + 1.5)), d.CHECK, fill="paper")
        elif b - a <= 0.6:
            yield d.Polygon(d.rectangle(a - 0.4, y - 1.3, a + 0.4, y + 1.3), d.BOLTS, fill="solid")
    yield from _key(left, bottom)


def _ticks(board: Board, span: tuple[int, int]) -> list[Tick]:
    """A mark a week or more, on the weekday of the pour."""
    weeks = max(1, ceil((span[1] - span[0]) / 7 / 14))
    pour = board.plan.schedule.pour
    ticks = []
    for n in range(-(-span[0] // 7) * 7, span[1] + 1, 7 * weeks):
        at = None if pour is None else pour + timedelta(days=n)
        ticks.append((n * day, f"{at:%b} {at.day}" if at else f"day {n:+d}" if n else "day 0"))
    return ticks


def _nights(board: Board, axes: Axes, span: tuple[int, int]) -> Iterator[d.Entity]:
    """Saturdays and Sundays, where there are dates: offices are closed."""
    pour = board.plan.schedule.pour
    if pour is None or span[1] - span[0] > 120:
        return
    midnight = -(pour.hour * 3600 + pour.minute * 60)
    for n, m in pairwise(range(span[0], span[1] + 1)):
        if (pour + timedelta(days=n)).weekday() >= 5:
            a, _ = axes.at(max(n * day + midnight, axes.across[0]), 0.0)
            b, _ = axes.at(min(m * day + midnight, axes.across[1]), 0.0)
            if b > a:
                yield d.Polygon(d.rectangle(a, axes.room[1], b, axes.room[3]), d.SHEET, fill="tone", outline=False)


def _key(left: float, bottom: float) -> Iterator[d.Entity]:
    y = bottom + 6
    yield d.Polygon(d.rectangle(left, y - 1.3, left + 8, y + 1.3), d.BOLTS, fill="tone")
    yield d.Text((left + 10, y), "rests on a guess: ask, and write his answer under [lead]", TEXT, "left middle")
    yield d.Polygon(d.rectangle(left + 114, y - 1.3, left + 122, y + 1.3), d.BOLTS, fill="solid")
    yield d.Text((left + 124, y), "given, by rule or by strength", TEXT, "left middle")
    yield d.Polygon(
        ((left + 182, y), (left + 183.5, y - 1.5), (left + 185, y), (left + 183.5, y + 1.5)), d.CHECK, fill="paper"
    )
    yield d.Text((left + 188, y), "a hold: nothing goes on before it", TEXT, "left middle")
