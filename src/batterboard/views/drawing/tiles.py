"""A drawing at full size, over as many pages as it takes.

    full_size(sheet, entities)   one Sheet a page; neighbours overlap and are laid together on match marks
    check_square(at, system)     6 in or 150 mm both ways: measured before the print is trusted

A printer that "fits to page" shrinks by three or four in a hundred. Every page carries the square, since every page is
printed by itself.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import count
from math import ceil

from batterboard.views.drawing.layers import CHECK, FULL_SIZE, HIDDEN
from batterboard.views.drawing.model import Box, Entity, Line, MatchMark, Point, Polyline, Sheet, Text, View
from batterboard.views.drawing.page import area, extent

OVERLAP = 24.0  # of neighbouring pages [mm]
_RULE = 10.0  # room for the ruled sides of the square, left and below [mm]
_SQUARES = {"us": (152.4, 25.4, '6"'), "si": (150.0, 10.0, "150 mm")}  # side, from mark to mark, how it is called


@dataclass(frozen=True)
class _Tiling:
    """Windows of one size in rows and columns over a drawing; millimetres, row 0 at the bottom."""

    corner: Point
    window: Point
    columns: int
    rows: int

    @property
    def step(self) -> Point:
        return self.window[0] - OVERLAP, self.window[1] - OVERLAP

    @property
    def size(self) -> Point:
        return (
            self.step[0] * (self.columns - 1) + self.window[0],
            self.step[1] * (self.rows - 1) + self.window[1],
        )

    def start(self, column: int, row: int) -> Point:
        return self.corner[0] + column * self.step[0], self.corner[1] + row * self.step[1]


def full_size(sheet: Sheet, entities: tuple[Entity, ...]) -> tuple[Sheet, ...]:
    """The entities (metres) at 1:1 on the sheet's paper, the way up that takes fewer pages, top row first."""
    whole = extent(View("", FULL_SIZE, (0.0, 0.0), entities), sheet.system)
    ways = [replace(sheet, landscape=landscape) for landscape in (sheet.landscape, not sheet.landscape)]
    sheet = min(ways, key=lambda way: (lambda t: t.columns * t.rows)(_tiling(way, whole)))
    tiling = _tiling(sheet, whole)
    first = area(sheet)
    corner = (first[0] + _RULE, first[1] + _RULE)
    drawn = (*entities, *_seams(tiling))
    places = [(column, row) for row in reversed(range(tiling.rows)) for column in range(tiling.columns)]
    return tuple(
        replace(
            sheet,
            name=_named(sheet.name, tiling, column, row),
            page=(sheet.page[0] + i, sheet.page[1] + len(places) - 1),
            views=(_window(tiling, column, row, corner, drawn),),
            marks=(*sheet.marks, *check_square(corner, sheet.system)),
        )
        for i, (column, row) in enumerate(places)
    )


def check_square(at: Point, system: str) -> tuple[Entity, ...]:
    """Two ruled sides from the corner `at` on paper, and the corner opposite."""
    side, step, name = _SQUARES[system]
    x, y = at
    marks: list[Entity] = [Polyline(((x + side, y), (x, y), (x, y + side)), CHECK)]
    for i in range(round(side / step) + 1):
        length = 4.0 if i in (0, round(side / step)) else 2.0
        marks.append(Line((x + i * step, y), (x + i * step, y - length), CHECK))
        marks.append(Line((x, y + i * step), (x - length, y + i * step), CHECK))
    marks.append(Polyline(((x + side - 5, y + side), (x + side, y + side), (x + side, y + side - 5)), CHECK))
    half, text = side / 2, f"check square: {name} both ways, or do not use this print"
    marks.append(Text((x + half, y - 4.5), text, anchor="middle top", layer=CHECK))
    marks.append(Text((x - 4.5, y + half), text, anchor="middle bottom", angle=90.0, layer=CHECK))
    return tuple(marks)


def _tiling(sheet: Sheet, whole: Box) -> _Tiling:
    """As few windows as cover the drawing, which lies in their middle."""
    left, bottom, right, top = area(sheet)
    window = (right - left - _RULE, top - bottom - _RULE)
    columns, rows = (
        max(1, ceil(round((end - start - OVERLAP) / (room - OVERLAP), 9)))
        for start, end, room in ((whole[0], whole[2], window[0]), (whole[1], whole[3], window[1]))
    )
    size = _Tiling((0.0, 0.0), window, columns, rows).size
    corner = ((whole[0] + whole[2] - size[0]) / 2, (whole[1] + whole[3] - size[1]) / 2)
    return _Tiling(corner, window, columns, rows)


def _named(name: str, tiling: _Tiling, column: int, row: int) -> str:
    if tiling.columns * tiling.rows == 1:
        return name
    return f"{name}: row {tiling.rows - row}/{tiling.rows}, column {column + 1}/{tiling.columns}"


def _window(tiling: _Tiling, column: int, row: int, corner: Point, drawn: tuple[Entity, ...]) -> View:
    """One page's part, its lower left corner at `corner` on paper."""
    x, y = tiling.start(column, row)
    clip = tuple(length / 1000 for length in (x, y, x + tiling.window[0], y + tiling.window[1]))
    return View("", FULL_SIZE, (corner[0] - x, corner[1] - y), drawn, clip=(clip[0], clip[1], clip[2], clip[3]))


def _seams(tiling: _Tiling) -> Iterator[Entity]:
    """A line along the middle of each overlap and, for each pair of neighbours, two marks that must lie on their twins.

    They belong to the drawing, so that both pages show them at the same place.
    """
    left, bottom = tiling.corner
    right, top = left + tiling.size[0], bottom + tiling.size[1]
    letters = (_letters(i) for i in count())
    for column in range(1, tiling.columns):
        x = tiling.start(column, 0)[0] + OVERLAP / 2
        yield Line(_metres(x, bottom), _metres(x, top), HIDDEN)
        for row in range(tiling.rows):
            middle = tiling.start(column, row)[1] + tiling.window[1] / 2
            yield Text(_metres(x - 1, middle), "seam", anchor="middle bottom", angle=90.0)
            for share in (0.25, 0.75):
                y = tiling.start(column, row)[1] + share * tiling.window[1]
                yield MatchMark(_metres(x, y), next(letters))
    for row in range(1, tiling.rows):
        y = tiling.start(0, row)[1] + OVERLAP / 2
        yield Line(_metres(left, y), _metres(right, y), HIDDEN)
        for column in range(tiling.columns):
            middle = tiling.start(column, row)[0] + tiling.window[0] / 2
            yield Text(_metres(middle, y + 1), "seam", anchor="middle bottom")
            for share in (0.25, 0.75):
                x = tiling.start(column, row)[0] + share * tiling.window[0]
                yield MatchMark(_metres(x, y), next(letters))


def _metres(x: float, y: float) -> Point:
    return x / 1000, y / 1000


def _letters(i: int) -> str:
    """A to Z, then AA, AB, ..."""
    return (_letters(i // 26 - 1) if i >= 26 else "") + chr(ord("A") + i % 26)
