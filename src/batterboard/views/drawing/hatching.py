"""What is it made of? Earth, concrete and stone as a draftsman scribbles them: lightly, and denser along the edge.

    marks_inside(outline, "concrete")   short strokes that lie wholly inside
    strokes_below(surface)              groups of three slanting strokes under the line of the ground

Where a stroke falls is drawn from its place alone, so that the same drawing is the same file. Millimetres of paper.
"""

from collections.abc import Callable, Iterator
from math import cos, exp, hypot, pi, sin, sqrt

Point = tuple[float, float]
Path = tuple[Point, ...]

_FADES = 7.0  # the density falls to a third this far from the edge [mm]
_MOST = 6000  # cells in one outline: a larger one is scribbled more widely
_THINNEST = 0.22  # and never below this share


def marks_inside(outline: Path, kind: str) -> tuple[Path, ...]:
    """Strokes for "earth", "concrete" or "stone" inside an outline."""
    cell, draw = _KINDS[kind]
    edges = tuple(zip(outline, outline[1:] + outline[:1]))
    left, bottom = min(x for x, _ in outline), min(y for _, y in outline)
    right, top = max(x for x, _ in outline), max(y for _, y in outline)
    cell = max(cell, sqrt((right - left) * (top - bottom) / _MOST))
    marks: list[Path] = []
    for i in range(int((right - left) / cell) + 1):
        for j in range(int((top - bottom) / cell) + 1):
            chance = _Chance(i, j)
            at = (left + (i + 0.15 + 0.7 * chance()) * cell, bottom + (j + 0.15 + 0.7 * chance()) * cell)
            share = max(exp(-_to_edge(at, edges) / _FADES), _THINNEST)
            marks += (mark for mark in draw(at, chance, share) if all(_inside(point, edges) for point in mark))
    return tuple(marks)


def strokes_below(surface: Path, every: float = 11.0) -> tuple[Path, ...]:
    """Three slanting strokes below the surface, then a gap, and so on along it."""
    marks: list[Path] = []
    left = 2.0
    for a, b in zip(surface, surface[1:]):
        length = hypot(b[0] - a[0], b[1] - a[1])
        if length == 0:
            continue
        along = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
        while left + 4.0 <= length:
            for k, deep in enumerate((2.6, 3.2, 2.6)):
                s = left + 1.3 * k + 2.6
                top = (a[0] + along[0] * s, a[1] + along[1] * s)
                marks.append((top, (top[0] - 0.7 * deep, top[1] - 0.7 * deep)))
            left += every
        left = max(left - length, 0.0)
    return tuple(marks)


class _Chance:
    """Numbers from 0 to 1 that follow from a cell's place alone."""

    def __init__(self, i: int, j: int) -> None:
        self.state = (i * 73856093 ^ j * 19349663) & 0xFFFFFFFF
        for _ in range(3):
            self()

    def __call__(self) -> float:
        self.state = (self.state * 1664525 + 1013904223) & 0xFFFFFFFF
        return float((self.state >> 8) / 0x1000000)


def _concrete(at: Point, chance: _Chance, share: float) -> Iterator[Path]:
    """Sand as dots, here and there a stone as a small triangle."""
    x, y = at
    for _ in range(2):
        dot = (x + 3 * (chance() - 0.5), y + 3 * (chance() - 0.5))
        if chance() < share * 1.3:
            yield dot, (dot[0] + 0.12, dot[1])
    size, turn = 0.6 + 0.6 * chance(), 2 * pi * chance()
    if chance() < share * 0.45:
        corners = tuple((x + size * cos(turn + k * 2.09), y + size * sin(turn + k * 2.09)) for k in range(3))
        yield (*corners, corners[0])


def _earth(at: Point, chance: _Chance, share: float) -> Iterator[Path]:
    """Three parallel strokes, leaning one way or the other."""
    way = 1 if chance() < 0.5 else -1
    if chance() < share:
        for k in (-1, 0, 1):
            x, y = at[0] + 0.8 * k, at[1] - 0.8 * k * way
            yield (x - 0.8, y - 0.8 * way), (x + 0.8, y + 0.8 * way)


def _stone(at: Point, chance: _Chance, share: float) -> Iterator[Path]:
    """A pebble of six uneven sides."""
    size, turn = 0.75 + 0.35 * chance(), 2 * pi * chance()
    sides = tuple(size * (0.8 + 0.35 * chance()) for _ in range(6))
    corners = tuple(
        (at[0] + r * cos(turn + k * pi / 3), at[1] + 0.8 * r * sin(turn + k * pi / 3)) for k, r in enumerate(sides)
    )
    if chance() < 0.4 + 0.6 * share:
        yield (*corners, corners[0])


_KINDS: dict[str, tuple[float, Callable[[Point, _Chance, float], Iterator[Path]]]] = {
    "concrete": (4.0, _concrete),
    "earth": (5.0, _earth),
    "stone": (2.6, _stone),
}


def _inside(point: Point, edges: tuple[tuple[Point, Point], ...]) -> bool:
    """Whether a ray to the right crosses the outline an odd number of times."""
    x, y = point
    odd = False
    for (ax, ay), (bx, by) in edges:
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            odd = not odd
    return odd


def _to_edge(point: Point, edges: tuple[tuple[Point, Point], ...]) -> float:
    return min(_to_segment(point, a, b) for a, b in edges)


def _to_segment(point: Point, a: Point, b: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    t = 0.0 if square == 0 else max(0.0, min(1.0, ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / square))
    return hypot(point[0] - a[0] - t * dx, point[1] - a[1] - t * dy)
