"""What is a table of the book, before it is ink or a file?

    Column : Column("cut", Length, tape=True)        a heading and what its numbers measure; no kind: words
    Table  : Table("bars", "Bar schedule", columns, rows, found=("FOUND",), note="...")

    printed(table, "us") : headings and texts for the page     one unit for a column where one fits, then in its heading
    plain(table, "us")   : headings and cells for a file       numbers as numbers, their unit in the heading

A cell is a number in SI, a count, or words; words may stand where a number makes no sense, so that nothing is blank.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import numpy as np

from batterboard.quantity import (
    Angle,
    Area,
    Celsius,
    Dimension,
    Flow,
    Force,
    Length,
    MassDensity,
    Moment,
    Number,
    Pressure,
    RateOfRise,
    System,
    Time,
    UnitWeight,
    Volume,
    WaterContent,
    dimension_of,
    show,
    show_plain,
)
from batterboard.work.names import joined

Cell = Any  # a number in SI, a count, words, a date

# us, si: with the mark that numbers of a file are rounded to.
_FILED: dict[Dimension, tuple[str, str]] = {
    dimension_of(kind): units
    for kind, units in (
        *((Length, ("0.001 in", "0.1 mm")), (Angle, ("deg", "deg")), (Area, ("ft2", "m2")), (Volume, ("yd3", "m3"))),
        *((Force, ("lb", "kN")), (Pressure, ("psi", "MPa")), (Moment, ("lb ft", "kN m")), (Time, ("h", "h"))),
        *((Celsius, ("F", "C")), (UnitWeight, ("pcf", "kN/m3")), (MassDensity, ("lb/yd3", "kg/m3"))),
        *((WaterContent, ("gal/yd3", "L/m3")), (RateOfRise, ("ft/h", "m/h")), (Flow, ("yd3/h", "m3/h"))),
        (Number, ("", "")),
    )
}


@dataclass(frozen=True)
class Column:
    heading: str
    kind: Any = None  # what its numbers measure; None: words and counts
    unit: tuple[str, str] | None = None  # us, si: a unit of its own, on the page and in files, with its mark
    tape: bool = False  # files carry it as he reads it on the tape too


@dataclass(frozen=True)
class Table:
    name: str  # of its file
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    found: tuple[str, ...] = ()  # columns to fill by hand, on paper only
    hand: tuple[tuple[str, ...], ...] = ()  # what the job file already says was found there, "" where nothing
    note: str = ""
    about: int = 0  # so many cells, the first, name what a row is about: rows alike in all others are one on the page

    def __post_init__(self) -> None:
        assert all(len(row) == len(self.columns) for row in self.rows), f"{self.name}: a row does not fit its columns"
        assert not (self.about and self.hand), f"{self.name}: what was found of one cannot stand beside several"


def table(name: str, title: str, columns: Iterable[Column], rows: Iterable[Iterable[Cell]], **more: Any) -> Table:
    """A table whose numbers are plain ones: results of one job may be arrays of one."""
    return Table(name, title, tuple(columns), tuple(tuple(alone(cell) for cell in row) for row in rows), **more)


def pairs(name: str, title: str, rows: Iterable[tuple[str, str]], **more: Any) -> Table:
    """What is said of one thing, a line each."""
    return table(name, title, (Column("what"), Column("how much")), rows, **more)


def sideways(name: str, title: str, labels: Iterable[str], things: Mapping[str, Iterable[str]], **more: Any) -> Table:
    """A column for each thing, a line for each thing said of it; equal things share a column."""
    alike: dict[tuple[str, ...], list[str]] = {}
    for thing, texts in things.items():
        alike.setdefault(tuple(texts), []).append(thing)
    columns = (Column("what"), *(Column(", ".join(names)) for names in alike.values()))
    return table(name, title, columns, zip(labels, *alike), **more)


def together(rows: Iterable[tuple[Cell, ...]]) -> list[tuple[Cell, ...]]:
    """Rows that say the same of several things, and the same of several lifts, as one: strip west, east."""
    alike: dict[tuple[Cell, ...], list[tuple[Cell, ...]]] = {}
    for row in rows:
        said = row[2:] if _lifted(row) else row[1:]
        alike.setdefault((str(row[0]).split(" ")[0], *said), []).append(row)
    return [_one_row(same) for same in alike.values()]


def _lifted(row: tuple[Cell, ...]) -> bool:
    """Whether its second cell is the number of a lift."""
    return len(row) > 1 and isinstance(row[1], str) and row[1].isdigit()


def _one_row(same: list[tuple[Cell, ...]]) -> tuple[Cell, ...]:
    names = joined([row[0] for row in same])
    if not _lifted(same[0]):
        return names, *same[0][1:]
    return names, ", ".join(sorted({row[1] for row in same})), *same[0][2:]


def alone(value: Any) -> Any:
    """The number of one job."""
    if isinstance(value, (np.ndarray, np.generic)):
        return np.ravel(value)[0].item()
    return value


def known(value: Any, without: Any) -> Any:
    """The number, or words where there is none."""
    value = alone(value)
    return without if value is None or value != value else value


def span(start: Any, end: Any, kind: Any, system: System) -> str:
    """Two numbers as one text: 7 d to 14 d; once where they read the same."""
    low, high = show(alone(start), kind, system), show(alone(end), kind, system)
    return low if low == high else f"{low} to {high}"


def sizes(*lengths: Any, system: System) -> str:
    """22" x 22" x 3'-4"."""
    return " x ".join(show(alone(length), Length, system) for length in lengths)


# ---- on the page ----


def printed(table: Table, system: System) -> tuple[list[str], list[list[str]], list[bool]]:
    """Headings, rows of texts, and which columns are numbers."""
    headings, columns, numeric = [], [], []
    for i, column in enumerate(table.columns):
        heading, texts = _printed(column, [row[i] for row in table.rows], system)
        headings.append(heading)
        columns.append(texts)
        numeric.append(column.kind is not None or all(isinstance(row[i], int) for row in table.rows))
    rows = [list(row) for row in zip(*columns)]
    return headings, _alike(rows, table.about) if table.about else rows, numeric


def _alike(rows: list[list[str]], about: int) -> list[list[str]]:
    """Rows that say the same of several things as one, where the first stands."""
    same: dict[tuple[str, ...], list[list[str]]] = {}
    for row in rows:
        same.setdefault(tuple(row[about:]), []).append(row)
    return [[*map(joined, zip(*(row[:about] for row in each))), *rest] for rest, each in same.items()]


def _printed(column: Column, cells: list[Cell], system: System) -> tuple[str, list[str]]:
    numbers = {i: cell for i, cell in enumerate(cells) if column.kind is not None and not isinstance(cell, str)}
    unit = column.unit[0 if system == "us" else 1] if column.unit else None
    shown = {i: show_plain(value, column.kind, system, unit) for i, value in numbers.items()}
    decimals = len(unit.split(" ")[0].partition(".")[2]) if unit else 0
    if decimals:  # in columns of the same mark the points stand under each other
        shown = {i: (_to(text, decimals), name) for i, (text, name) in shown.items()}
    units = {name for _, name in shown.values()}
    common = units.pop() if len(units) == 1 else None
    heading = f"{column.heading} [{common}]" if common else column.heading
    texts = [
        (shown[i][0] if common is not None else " ".join(shown[i]).strip()) if i in shown else words_of(cell)
        for i, cell in enumerate(cells)
    ]
    return heading, texts


def _to(text: str, decimals: int) -> str:
    return text if text[-1:].isalpha() else f"{float(text):.{decimals}f}"


def words_of(cell: Cell) -> str:
    if isinstance(cell, datetime):
        return f"{cell:%a %Y-%m-%d, %H:%M}"
    return f"{cell:g}" if isinstance(cell, float) else str(cell)


# ---- in a file ----


def plain(table: Table, system: System) -> tuple[list[str], list[list[Cell]]]:
    """Headings with units, and cells: numbers rounded to what the trade can use, or words."""
    headings: list[str] = []
    columns: list[list[Cell]] = []
    for i, column in enumerate(table.columns):
        cells = [row[i] for row in table.rows]
        if column.kind is None:
            headings.append(column.heading)
            columns.append([cell if isinstance(cell, int | datetime) else words_of(cell) for cell in cells])
            continue
        if column.tape and system == "us":
            headings.append(f"{column.heading} (tape)")
            columns.append([_on_tape(cell) for cell in cells])
        unit = _file_unit(column, system)
        name = unit.partition(" ")[2] if unit[:1].isdigit() else unit
        headings.append(f"{column.heading} [{name}]" if name else column.heading)
        columns.append([_filed(cell, column.kind, system, unit) for cell in cells])
    return headings, [list(row) for row in zip(*columns)]


def _file_unit(column: Column, system: System) -> str:
    """The column's own unit, unless it is marked in fractions: a file has decimals."""
    side = 0 if system == "us" else 1
    own = column.unit[side] if column.unit else ""
    fractions = own[:1].isdigit() and "/" in own.partition(" ")[0]
    return own if own and not fractions else _FILED[dimension_of(column.kind)][side]


def _on_tape(cell: Cell) -> str:
    return cell if isinstance(cell, str) else show(cell, Length, "us")


def _filed(cell: Cell, kind: Any, system: System, unit: str) -> Cell:
    if isinstance(cell, str):
        return cell
    text = show_plain(cell, kind, system, unit)[0]
    try:
        return float(text)
    except ValueError:  # not known, unlimited
        return text
