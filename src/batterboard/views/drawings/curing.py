"""The curing page: how warm, how strong, and on which day what may be done. Complete on paper.

cured(board)    a sheet for each kind of block: temperatures of two weeks, strength of four, the acts with their dates
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from math import isfinite
from textwrap import wrap
from typing import Any

from batterboard.phases.cure import Wait
from batterboard.phases.cure.warmth import FROST, Warm
from batterboard.quantity import Celsius, Pressure, TemperatureDifference, Time, day, read, show
from batterboard.standards import aci306, osha, trade
from batterboard.views import drawing as d
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.chart import TEXT, Axes, Tick
from batterboard.views.tables.curing import rules
from batterboard.work.names import among

WEEKS, LONG = 14 * day, 28 * day
SIDE = 96.0  # the column of acts [mm]
SPOT = 1.0  # ring of what was found [mm]
LETTERS, BOLD = 50, 40  # that fit across it
DOWN, BOLD_DOWN = 3.3, 4.2  # from line to line, closer only where they would not fit [mm]


def cured(board: Board) -> Iterator[d.Sheet]:
    for one in board.plan.heat.bodies:
        blank = board.sheet(f"Curing {among((one.name, *one.like))}")
        left, bottom, right, top = d.area(blank)
        middle = (bottom + top) / 2
        wide = right - SIDE
        warm = Axes((left + 17, middle + 14, wide - 6, top - 8), (0.0, WEEKS), _span(board, one))
        band = board.plan.bands[one.name]
        most = _rounded(max(float(band.high.max()), 1.02 * float(band.ordered)), board)
        strong = Axes((left + 17, bottom + 12, wide - 6, middle - 6), (0.0, LONG), (0.0, most))
        marks = (
            *_warmth(board, one, warm),
            *_strength(board, one, strong),
            *_acts(board, one, (wide, bottom, right, top)),
        )
        yield replace(blank, marks=marks)


# ---- temperatures ----


def _span(board: Board, one: Warm) -> tuple[float, float]:
    lows = min(float(one.run.air.min()), float(one.run.edge.min()), aci306.COLDER_THAN - 5.0)
    low, *_, high = _levels(board, lows, float(one.run.peak) + 3.0)
    return low[0], high[0]


def _levels(board: Board, low: float, high: float) -> list[Tick]:
    """Round temperatures that reach from one to the other."""
    unit, step = ("F", 20) if board.system == "us" else ("C", 10)
    all_of = [(float(read(f"{n} {unit}", Celsius)), f"{n} {unit}") for n in range(-60, 240, step)]
    first = max(i for i, (T, _) in enumerate(all_of) if T <= low)
    last = min(i for i, (T, _) in enumerate(all_of) if T >= high)
    return all_of[first : last + 1]


def _warmth(board: Board, one: Warm, axes: Axes) -> Iterator[d.Entity]:
    run = one.run
    title = "TEMPERATURE, TWO WEEKS"
    yield from axes.frame(title, _days(board, WEEKS, 2), _levels(board, *axes.up))
    yield from axes.line(run.t, run.air, d.HIDDEN)
    yield from axes.line(run.t, run.edge, d.LINES)
    yield from axes.line(run.t, run.core, d.CONCRETE)
    left, bottom, right, top = axes.room
    keys = (("core", d.CONCRETE), ("upper edge", d.LINES), ("air", d.HIDDEN))
    for i, (text, layer) in enumerate(keys):
        y = top - 4 - 4 * i
        yield d.Line((right - 40, y), (right - 28, y), layer)
        yield d.Text((right - 26, y), text, TEXT, "left middle")
    read_ = [each for each in board.plan.job.pour.thermometer.values() if each.lift == one.lift]
    yield from _spots(axes, [(float(each.after), float(each.reads)) for each in read_])
    if read_:
        y = top - 4 - 4 * len(keys)
        yield d.Circle((right - 34, y), SPOT, d.CHECK, fill="paper")
        yield d.Text((right - 26, y), "as read", TEXT, "left middle")
    for at, text in ((one.stripped, "forms off"), (one.uncovered, "blankets off" if one.blankets else "curing over")):
        if 0 < at < WEEKS:
            x, _ = axes.at(at, axes.up[0])
            yield d.Line((x, bottom), (x, top), d.CHECK)
            yield d.Text((x + 0.8, top - 2.2), text, TEXT, "left middle", layer=d.CHECK)


def _spots(axes: Axes, places: list[d.Point]) -> Iterator[d.Entity]:
    """What was found, as rings."""
    yield from (d.Circle(axes.at(*place), SPOT, d.CHECK, fill="paper") for place in places if axes.holds(*place))


# ---- strength ----


def _rounded(most: float, board: Board) -> float:
    unit, step = ("psi", 1000) if board.system == "us" else ("MPa", 10)
    size = float(read(f"{step} {unit}", Pressure))
    return next(n * size for n in range(1, 40) if n * size >= most)


def _strength(board: Board, one: Warm, axes: Axes) -> Iterator[d.Entity]:
    band = board.plan.bands[one.name]
    unit, step = ("psi", 1000) if board.system == "us" else ("MPa", 10)
    levels = [(float(read(f"{n} {unit}", Pressure)), f"{n} {unit}") for n in range(0, 200 * step, step)]
    yield from axes.frame("STRENGTH, FOUR WEEKS", _days(board, LONG, 4), [v for v in levels if v[0] <= axes.up[1]])
    yield axes.between(band.t, band.low, band.high)
    yield from axes.line(band.t, band.high, d.DIMS)
    yield from axes.line(band.t, band.low, d.CONCRETE)
    yield from axes.line(one.run.t, one.run.strong_edge, d.LINES)
    left, bottom, right, top = axes.room
    for f, text in (
        (float(band.ordered), "as ordered"),
        (osha.ERECTION_SHARE * float(band.ordered), "three quarters"),
        (float(aci306.FROST_PROOF), "frost-proof, edges hold"),
    ):
        _, y = axes.at(0.0, f)
        yield d.Line((left, y), (right, y), d.CHECK)
        yield d.Text((right - 1.0, y - 0.6), text, TEXT, "right top", layer=d.CHECK)
    broken = [each for each in board.plan.job.pour.breaks.values() if each.lift == one.lift]
    yield from _spots(axes, [(float(b.after), float(b.strength)) for b in broken if b.cured == "on site"])
    for number, (_, wait) in enumerate(_told(board, one), 1):
        if isfinite(float(wait.at)) and wait.at < LONG:
            x, y = axes.at(float(wait.at), float(wait.reaches))
            yield d.Circle((x, y), 1.9, d.NOTES, fill="paper")
            yield d.Text((x, y), str(number), TEXT, "middle middle", bold=True)


# ---- acts ----


def _told(board: Board, one: Warm) -> list[tuple[str, Wait]]:
    """What is done to this block, in the order of its days; what comes at one moment stands together."""
    acts: dict[float, list[Wait]] = {}
    for wait in board.plan.cure.waits:
        if wait.element == one.name and (wait.act != "frost" or _may_freeze(board, one)):
            acts.setdefault(round(float(wait.at), 3), []).append(wait)
    return [(", ".join(w.name for w in same), max(same, key=_rank)) for _, same in sorted(acts.items(), key=_first)]


def _may_freeze(board: Board, one: Warm) -> bool:
    """Whether frost is to be thought of at all in the weeks of these curves."""
    return bool(one.run.air.min() < aci306.COLDER_THAN or board.plan.cure.kept[one.lift].cold)


def _rank(wait: Wait) -> float:
    return float(wait.needs) if isfinite(float(wait.needs)) else 0.0


def _first(item: tuple[float, list[Wait]]) -> float:
    return item[0] if item[0] == item[0] else float("inf")


def _acts(board: Board, one: Warm, room: d.Box) -> Iterator[d.Entity]:
    left, bottom, right, top = room
    left += 4
    y = top - 3
    lines = list(_lines(board, one))
    closer = min(1.0, (y - bottom - 3) / sum(BOLD_DOWN if bold else DOWN for _, bold in lines))
    for text, bold in lines:
        yield d.Text((left, y), text, 2.5 if bold else TEXT, "left top", bold=bold)
        y -= closer * (BOLD_DOWN if bold else DOWN)


def _lines(board: Board, one: Warm) -> Iterator[tuple[str, bool]]:
    for number, (name, wait) in enumerate(_told(board, one), 1):
        head, *more = wrap(f"{number}  {_planned(board, wait.name)}{name}", BOLD)
        yield head, True
        yield from ((f"    {text}", True) for text in more)
        yield from ((f"    {text}", False) for text in wrap(_when(board, wait), LETTERS - 4))
    yield "", False
    for note in _heat(board, one):
        yield from ((text, False) for text in wrap(note, LETTERS))


def _when(board: Board, wait: Wait) -> str:
    system = board.plan.job.job.units
    if not isfinite(float(wait.at)):
        return "never as planned: warm it, or have cylinders broken"
    age = show(float(wait.at), Time, system)
    at = _date(board, float(wait.at))
    by = "by strength" if wait.governs == "strength" else "by rule"
    strong = _strong(board, wait.reaches)
    ready = f"not before {_day(board, at)}, {at:%H:%M}, " if at else ""
    late = "; LONG: keep it warmer, or for longer" if wait.at > LONG else ""
    return f"{ready}{age} after placing; {strong} then; {by}{late}"


def _day(board: Board, at: datetime) -> str:
    """Mon Apr 12, with the year where it is not that of the pour."""
    pour = board.plan.schedule.pour
    return f"{at:%a %b} {at.day}" + (f" {at.year}" if pour is not None and pour.year != at.year else "")


def _planned(board: Board, name: str) -> str:
    """The day that the calendar has for it."""
    event = next((e for e in board.plan.schedule.events if e.name == name), None)
    at = None if event is None else event.ends
    return "" if at is None else f"{_day(board, at)}: "


def _heat(board: Board, one: Warm) -> Iterator[str]:
    system = board.plan.job.job.units
    run, other = one.run, one.other
    hottest, apart = _warm(board, run.peak, Celsius), _warm(board, run.difference, TemperatureDifference)
    yield f"Inside it gets {hottest} after {show(run.peak_at, Time, system, '1 h')}; core to face at most {apart}."
    if run.peak > one.hottest or run.difference > one.apart:
        limits = f"{_warm(board, one.hottest, Celsius)} and {_warm(board, one.apart, TemperatureDifference)}"
        yield f"TOO HOT OR TOO UNEVEN by the rules for mass concrete ({limits}): order it cooler or leaner."
    if run.frozen or _may_freeze(board, one):
        proof, without = (
            show(each.proof_at, Time, system, "1 h") if isfinite(each.proof_at) else "not in two weeks"
            for each in (run, other)
        )
        way = ("under blankets", "bare") if one.blankets else ("bare", "under blankets")
        yield f"Its edge may freeze once after {proof} {way[0]}, {without} {way[1]}."
        yield "IT FREEZES while it is young." if run.frozen else "It does not freeze while it is young, by this model."
        if run.ground < FROST:
            yield "THE GROUND IS TAKEN AS FROZEN: thaw it first."
    band = board.plan.bands[one.name]
    low, high = (_strong(board, f) for f in band.week)
    needs = _strong(board, osha.ERECTION_SHARE * float(band.ordered))
    yield f"The habit of about a week: it then has {low} to {high}; three quarters is {needs}."
    yield "Grey band: strength by four published functions, without its own heat; dashed blue: its upper edge with it."
    began = show(trade.POURING, Time, system)
    yield f"Days in bold as in the calendar. Ages count from the end of placing, {began} after the pour began."
    if any(load.empty > trade.POURING for load in board.plan.hour.loads):
        yield f"THE POUR TAKES LONGER than {began}: everything comes so much later."
    unseen = [str(source) for source in rules() if "memory" in source.how]
    yield f"Not seen, check the edition: {'; '.join(unseen)}."
    yield "Found warmer, colder, or cylinders broken? Write them under [found.pour] and print this page again."


def _warm(board: Board, T: Any, kind: Any) -> str:
    return show(T, kind, board.plan.job.job.units, "1 F" if board.system == "us" else "1 C")


def _strong(board: Board, f: Any) -> str:
    """A strength, no finer than anybody knows it."""
    return show(float(f), Pressure, board.plan.job.job.units, "10 psi" if board.system == "us" else "0.1 MPa")


# ---- days ----


def _date(board: Board, after: float) -> datetime | None:
    pour = board.plan.schedule.pour
    return None if pour is None else pour + timedelta(seconds=trade.POURING + after)


def _days(board: Board, last: float, step: int) -> list[Tick]:
    """Days of the month where the pour has a date, else days counted from it."""
    ticks = []
    for n in range(0, int(last / day) + 1, step):
        at = _date(board, n * day)
        ticks.append((n * day, f"{at:%b} {at.day}" if at else f"day {n}"))
    return ticks
