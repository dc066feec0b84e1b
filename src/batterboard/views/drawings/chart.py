"""A chart on paper: numbers of two kinds against each other, in millimetres.

axes = Axes(room, across=(0, 14 d), up=(0, 40))      where a point lies: axes.at(x, y)
axes.frame(ticks, levels)                            its frame, with what is written along it
axes.line(x, y, layer)                               a curve, parted where it leaves the frame
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from batterboard.views import drawing as d

Tick = tuple[float, str]
TEXT = 2.1  # [mm]


@dataclass(frozen=True)
class Axes:
    room: d.Box  # the frame itself [mm]
    across: tuple[float, float]
    up: tuple[float, float]

    def at(self, x: float, y: float) -> d.Point:
        left, bottom, right, top = self.room
        (x0, x1), (y0, y1) = self.across, self.up
        return left + (x - x0) / (x1 - x0) * (right - left), bottom + (y - y0) / (y1 - y0) * (top - bottom)

    def holds(self, x: float, y: float) -> bool:
        (x0, x1), (y0, y1) = self.across, self.up
        return x0 <= x <= x1 and y0 <= y <= y1

    def frame(self, title: str, ticks: Iterable[Tick], levels: Iterable[Tick]) -> Iterator[d.Entity]:
        """ticks : along the foot;  levels : along the left side."""
        left, bottom, right, top = self.room
        yield d.Polyline(d.rectangle(*self.room), d.SHEET, closed=True)
        yield d.Text((left, top + 1.5), title, 2.6, "left bottom", bold=True)
        for x, text in ticks:
            foot, _ = self.at(x, self.up[0])
            yield d.Line((foot, bottom), (foot, bottom - 1.2), d.DIMS)
            if left < foot < right:
                yield d.Line((foot, bottom), (foot, top), d.PLANNED)
            yield d.Text((foot, bottom - 2.6), text, TEXT, "middle top")
        for y, text in levels:
            _, side = self.at(self.across[0], y)
            yield d.Line((left - 1.2, side), (left, side), d.DIMS)
            if bottom < side < top:
                yield d.Line((left, side), (right, side), d.PLANNED)
            yield d.Text((left - 1.8, side), text, TEXT, "right middle")

    def line(self, x: Iterable[Any], y: Iterable[Any], layer: d.Layer) -> Iterator[d.Entity]:
        part: list[d.Point] = []
        for point in zip(map(float, x), map(float, y)):
            if self.holds(*point):
                part.append(self.at(*point))
                continue
            if len(part) > 1:
                yield d.Polyline(tuple(part), layer)
            part = []
        if len(part) > 1:
            yield d.Polyline(tuple(part), layer)

    def between(self, x: Iterable[Any], low: Iterable[Any], high: Iterable[Any]) -> d.Polygon:
        """What lies between two curves, washed."""
        rows = [(float(a), float(b), float(c)) for a, b, c in zip(x, low, high)]
        points = [self.at(a, b) for a, b, _ in rows] + [self.at(a, c) for a, _, c in reversed(rows)]
        return d.Polygon(tuple(points), d.CONCRETE, fill="tone", outline=False)
