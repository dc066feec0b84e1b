"""ACI 309R on vibrating fresh concrete: how far does a head reach, how close are insertions, how deep is a layer?

    vibrator("30-60 mm")      Vibrator: radius of action 130 to 250 mm, 2.3 to 8 m3/h
    radius(0.038)             0.143: what a head of that width surely reaches
    apart(R)                  1.5 R from one insertion to the next
    farthest_of_triangles(s)  from an insertion, in a grid of equal triangles
    squares_limit(R)          how close a grid of squares must be: 1.5 R leaves gaps in it
    LAYER, BELOW, SECONDS     20 in at most, 6 in into the layer below, 5 to 15 s in one place

Reach and rate of a head between the ends of its band are read along a straight line, and of two bands that hold it the
lower is taken: our reading, the table says only bands.
"""

from typing import Any, NamedTuple

from batterboard.quantity import Flow, Frequency, Length, Time, inch
from batterboard.standards.tables import Table
from batterboard.working import GEOMETRY, Document, formula, nan, sqrt

ACI_309R = Document("ACI 309R-05", "Guide for Consolidation of Concrete", scale="fine")
TABLE = ACI_309R.table("5.1", "read: a guide that reproduces its SI column")
SPACING = ACI_309R.clause("spacing of insertions", "memory")

LAYER: Length = 20 * inch  # memory
BELOW: Length = 6 * inch  # into the layer below; memory
SECONDS: tuple[Time, Time] = (5.0, 15.0)  # in one place; memory


class Vibrator(NamedTuple):
    name: str
    thin: Length  # head
    thick: Length
    near: Length  # radius of action
    far: Length
    slow: Flow
    fast: Flow
    low: Frequency
    high: Frequency


vibrator = Table("vibrator", Vibrator, "vibrators")


def radius(head: Length) -> Any:
    """Radius of action that a head surely has [m]; nan where no band holds it."""
    return min((_between(head, row, row.near, row.far) for row in _bands(head)), default=nan)


def rate(head: Length) -> Any:
    """Concrete that one such vibrator surely consolidates [m3/s]."""
    return min((_between(head, row, row.slow, row.fast) for row in _bands(head)), default=nan)


def _bands(head: Length) -> list[Vibrator]:
    slack = 1e-9
    rows = [vibrator(name) for name in vibrator.names()]
    return [row for row in rows if row.thin - slack <= head <= row.thick + slack]


def _between(head: Length, row: Vibrator, start: Any, end: Any) -> Any:
    return start + (end - start) * (head - row.thin) / (row.thick - row.thin)


@formula(source=SPACING, limits="R > 0")
def apart(R: Length) -> Length:
    """Greatest distance from one insertion to the next [m]. R : radius of action."""
    s = 1.5 * R
    return s


@formula(source=GEOMETRY, limits="s >= 0")
def farthest_of_triangles(s: Length) -> Length:
    """How far a point may be from the nearest insertion of a grid of equal triangles of side s [m]."""
    d = s / sqrt(3)
    return d


@formula(source=GEOMETRY, limits="R >= 0")
def squares_limit(R: Length) -> Length:
    """Side of the squares that a radius of action R still covers [m]."""
    s = R * sqrt(2)
    return s
