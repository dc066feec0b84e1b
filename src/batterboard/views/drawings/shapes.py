"""What a thing looks like from above, and from the side: outlines in metres, no pencils chosen by the thing itself.

above(turned, body)          its plan, chamfered upright corners cut off
strips(outline)              what is cut off there, for the form round it
side(low, high, body)        its face between two stations, with the chamfer of its top edge
seen_through(body, place)    the boxes that leave pockets in it, dashed
spans(body, direction)       how wide it is along a direction of the job: for elevations
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import cos, hypot, pi, sin, tan
from typing import Any

from batterboard.views import drawing as d
from batterboard.views.drawings.board import Turned
from batterboard.work.records import Body, Frame, Outline, Post


def corners(outline: Outline, grown: Any = 0.0) -> tuple[d.Point, ...]:
    """Corners of a plan in its own axes, chamfers cut; a round one as the ring it is drawn with."""
    wide, leg, other = 2 * float(grown), float(outline.corners), float(outline.other_leg)
    if grown:
        leg = 0.0
    along, across = float(outline.along) + wide, float(outline.across) + wide
    if outline.kind == "rectangle":
        a, c = along / 2, across / 2
        if not leg:
            return (a, c), (-a, c), (-a, -c), (a, -c)
        return (
            (a, c - leg), (a - other, c), (-a + other, c), (-a, c - leg),
            (-a, -c + leg), (-a + other, -c), (a - other, -c), (a, -c + leg),
        )  # fmt: skip
    n = 48 if outline.kind == "round" else outline.sides
    radius = along / 2 if outline.kind == "round" else along / 2 / cos(pi / n)
    first = 0.0 if outline.kind == "round" else pi / n
    ring = [(radius * cos(first + i * 2 * pi / n), radius * sin(first + i * 2 * pi / n)) for i in range(n)]
    if outline.kind == "round" or not leg:
        return tuple(ring)
    shares = leg / (along * tan(pi / n)), other / (along * tan(pi / n))
    cut: list[d.Point] = []
    for i, (x, y) in enumerate(ring):
        for share, (px, py) in zip(shares, (ring[i - 1], ring[(i + 1) % n])):
            cut.append((x + (px - x) * share, y + (py - y) * share))
    return tuple(cut)


def strips(outline: Outline) -> tuple[tuple[d.Point, ...], ...]:
    """The corner strips of a form from above: the sharp corner, and where the strip ends on both panels."""
    if outline.kind == "round" or not float(outline.corners):
        return ()
    sharp, cut = corners(replace(outline, corners=0.0)), corners(outline)
    return tuple(zip(sharp, cut[::2], cut[1::2]))


def legs(outline: Outline, say: Callable[[float], str]) -> str:
    """Those of its corner strips in words: 2" where both are, 2" x 1" where they are two."""
    return " x ".join(dict.fromkeys(say(float(leg)) for leg in (outline.corners, outline.other_leg)))


def above(
    turned: Turned, body: Body, layer: d.Layer, fill: str = "", hatch: str = "", grown: Any = 0.0
) -> d.Polygon | d.Circle:
    """A block of concrete seen from above, or that much larger all round."""
    return plan(turned, body.frame, body.outline, layer, fill, hatch, grown)


def plan(
    turned: Turned, frame: Frame, outline: Outline, layer: d.Layer, fill: str = "", hatch: str = "", grown: Any = 0.0
) -> d.Polygon | d.Circle:
    if outline.kind == "round":
        radius = float(outline.along) / 2 + float(grown)
        return d.Circle(turned.at(frame.x, frame.y), radius, layer, fill, hatch)
    return d.Polygon(turned.own(frame, *corners(outline, grown)), layer, fill, hatch)


def block(turned: Turned, frame: Frame, along: Any, across: Any, layer: d.Layer, fill: str = "") -> d.Polygon:
    """A rectangle about a frame's own zero."""
    a, c = float(along) / 2, float(across) / 2
    return d.Polygon(turned.own(frame, (a, c), (-a, c), (-a, -c), (a, -c)), layer, fill)


def tube(turned: Turned, post: Post, layer: d.Layer, fill: str = "solid") -> d.Polygon | d.Circle:
    """A post cut off, seen from above."""
    if post.section.kind == "pipe":
        return d.Circle(turned.at(post.frame.x, post.frame.y), float(post.section.depth) / 2, layer, fill)
    return block(turned, post.frame, post.section.depth, post.section.depth, layer, fill)


def side(left: float, right: float, body: Body) -> tuple[d.Point, ...]:
    """The face of a block between two stations, its top edges cut."""
    bottom, top, leg, low = float(body.bottom), float(body.top), float(body.outline.top), float(body.outline.drop)
    if not leg:
        return (left, bottom), (right, bottom), (right, top), (left, top)
    return (left, bottom), (right, bottom), (right, top - low), (right - leg, top), (left + leg, top), (left, top - low)


def spans(body: Body, direction: float) -> tuple[float, float]:
    """Where a block begins and ends along a direction of the job [m]."""
    points = [body.frame.out(*point) for point in corners(body.outline)]
    stations = [float(x) * cos(direction) + float(y) * sin(direction) for x, y in points]
    return min(stations), max(stations)


def seen_through(body: Body, place: Callable[[Any, Any, Any], d.Point]) -> Iterator[d.Polyline]:
    """The edges of the boxes in a block, dashed, those behind each other once. `place` : its own axes onto the paper"""
    for hole in body.blockouts:
        at = [place(x, y, z + body.bottom) for x, y, z in zip(*(v.ravel() for v in hole.corners), strict=True)]
        ends = [(i + k, (i + 1) % 4 + k) for k in (0, 4) for i in range(4)] + [(i, i + 4) for i in range(4)]
        lines = {tuple(sorted((round(x, 4), round(z, 4)) for x, z in (at[i], at[j]))) for i, j in ends}
        yield from (d.Polyline(line, d.HIDDEN) for line in sorted(lines) if line[0] != line[1])


def apart(a: d.Point, b: d.Point) -> float:
    return hypot(b[0] - a[0], b[1] - a[1])
