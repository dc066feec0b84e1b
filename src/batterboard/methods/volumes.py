"""How much does a plain shape hold, for one shape or for many at once?

    outline : what a plan is known by              area 0.312 m2, perimeter 2.24 m, four corners of 90 deg
    prism   : the outline carried up, corners cut by a leg b along one face and c along the other, top edge by a leg a
    pit     : the outline carried up, each side stepping out by `run` for every unit of rise

Every number may be an array of variants. What no such shape can have (corner cuts that meet along a side, a
chamfer taller than the pier) gives nan. `filled_to` asks for the part up to a height above the bottom. Any other
convex shape is cut from half-spaces in `solids`.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from batterboard.quantity import Angle, Area, Length, Number, Volume
from batterboard.record import record


@record
class Outline:
    """A convex plan, known by what its volumes need. Numbers or arrays of variants; SI.

    Moved inwards by u it has the area A - P u + T u^2, as long as no side vanishes.
    """

    area: Area  # A
    perimeter: Length  # P
    turning: Number  # T: the sum of cot(C / 2) over the corners; pi for a circle
    sides: tuple[Length, ...] = ()  # side i runs from corner i to the next; none for a circle
    corners: tuple[Angle, ...] = ()  # inner angles C


def rectangle(along: Length, across: Length) -> Outline:
    """A rectangular plan."""
    return Outline(
        area=along * across,
        perimeter=2 * (along + across),
        turning=4.0,
        sides=(along, across, along, across),
        corners=(np.pi / 2,) * 4,
    )


def regular_polygon(n: int, across_flats: Length) -> Outline:
    """A regular plan of n sides, sized by the distance between a side and what faces it (twice the inner radius)."""
    t = np.tan(np.pi / n)
    side = across_flats * t
    return Outline(
        area=n * t * across_flats**2 / 4,
        perimeter=n * side,
        turning=n * t,
        sides=(side,) * n,
        corners=(np.pi * (n - 2) / n,) * n,
    )


def circle(diameter: Length) -> Outline:
    """A round plan."""
    return Outline(area=np.pi * diameter**2 / 4, perimeter=np.pi * diameter, turning=np.pi)


def polygon(x: Length, y: Length) -> Outline:
    """Any convex plan from its corners in order, either way round. x, y : (corners, ...) arrays."""
    x, y = np.asarray(x, float), np.asarray(y, float)
    dx, dy = np.roll(x, -1, axis=0) - x, np.roll(y, -1, axis=0) - y
    side = np.hypot(dx, dy)
    before_x, before_y = np.roll(dx, 1, axis=0), np.roll(dy, 1, axis=0)
    turn = np.abs(np.arctan2(before_x * dy - before_y * dx, before_x * dx + before_y * dy))
    return Outline(
        area=np.abs(np.sum(x * np.roll(y, -1, axis=0) - y * np.roll(x, -1, axis=0), axis=0)) / 2,
        perimeter=np.sum(side, axis=0),
        turning=np.sum(np.tan(turn / 2), axis=0),
        sides=tuple(side),
        corners=tuple(np.pi - turn),
    )


def prism_volume(
    outline: Outline,
    height: Length,
    *,
    top_leg: Length = 0.0,
    top_down: Length | None = None,
    top_slope: Number = 1.0,
    corner_leg: Length | tuple[tuple[Length, Length], ...] = 0.0,
    corner_slope: float = 1.0,
    batter: Length = 0.0,
    strips_across_corners: bool = False,
    filled_to: Length | None = None,
) -> Volume:
    """Volume of a prism or tapered pier with something taken off its corners and its top edge [m3]. All broadcast.

    top_leg : how far the top edge is cut in, and top_down how far down; the same where None
    corner_leg : along both faces of each corner, full height; else for each corner in order a pair, along the side
        before it and along the side after it;  batter : how far each side leans in over the height
    top_slope, corner_slope : 1 for a chamfer, 0 for a square recess, between for a groove
    strips_across_corners : a top chamfer also runs across the facets of corner chamfers
    filled_to : height up to which the volume is asked for, above the bottom
    """
    a = np.asarray(top_leg, float)[()]
    down = a if top_down is None else np.asarray(top_down, float)[()]
    height, lean = np.asarray(height, float)[()], np.asarray(batter, float)[()]
    z = np.clip(height if filled_to is None else filled_to, 0, height)
    knee = 1 / (1 + top_slope)  # where the two faces of the cut meet, as a share of its legs
    cuts, at = _cuts(outline, corner_leg, corner_slope, strips_across_corners)
    parts = [(at.count(number) * area, *shrinks) for number, cut in enumerate(cuts) for area, *shrinks in cut.parts]
    volume: Number = 0.0
    # Layers between which the sides move in evenly: below the cut, up to its knee, and on to the top.
    layers: list[tuple[Length, Length, Length, Length]] = [(0.0, height - down, 0.0, 0.0)]
    if np.any(down):
        cut = height - knee * down
        layers += [(height - down, cut, 0.0, knee * a), (cut, height, knee * a, a)]
    for low, high, u_low, u_high in layers:
        rise = np.clip(z, low, high) - low
        u_end = u_low + (u_high - u_low) * rise / np.where(high > low, high - low, 1.0)
        w_low, w_end = u_low + lean * low / height, u_end + lean * (low + rise) / height
        layer = outline.area - outline.perimeter * (w_low + w_end) / 2
        layer = layer + outline.turning * (w_low**2 + w_low * w_end + w_end**2) / 3
        for area, *shrinks in parts:
            layer = layer - area * _mean_product(*((1 - k * u_low, 1 - k * u_end) for k in shrinks))
        volume = volume + rise * layer
    return np.where(_can_stand(outline, height, a, down, lean, cuts, at), volume, np.nan)[()]


@record
class _Cut:
    """What a strip takes off the plan at a corner, and what the top's strips leave of it as the sides move in."""

    legs: tuple[Length, Length]  # along the side before the corner and the side after it
    shrinks: tuple[Number, Number]  # by which share each leg gets shorter for each unit
    parts: tuple[tuple[Area, Number, Number], ...]  # areas that add up, and how fast both sizes of each shrink


def _cuts(
    outline: Outline, corner_leg: Length | tuple[tuple[Length, Length], ...], slope: float, across: bool
) -> tuple[tuple[_Cut, ...], tuple[int, ...]]:
    """What is cut from corners, once of those that are alike, and which of these each corner has."""
    pairs = corner_leg if isinstance(corner_leg, tuple) else ((corner_leg, corner_leg),) * len(outline.corners)
    if not any(np.any(b) for b, _ in pairs):
        return (), ()
    corners = [(angle, *pair) for angle, pair in zip(outline.corners, pairs, strict=True)]
    looks = [tuple(map(id, corner)) for corner in corners]
    alike = dict(zip(looks, corners))
    cuts = (
        _corner(angle, np.asarray(b, float)[()], np.asarray(c, float)[()], slope, across)
        for angle, b, c in alike.values()
    )
    return tuple(cuts), tuple(list(alike).index(look) for look in looks)


def _corner(angle: Angle, b: Length, c: Length, slope: float, across: bool) -> _Cut:
    sine = np.sin(angle)
    before, after = np.maximum(b, _NO_LEG), np.maximum(c, _NO_LEG)
    area = b * c * sine  # of the whole parallelogram of the two legs
    if across:
        facet = np.sqrt(before**2 + after**2 - 2 * before * after * np.cos(angle))
        k = (before + after - facet) / (before * after * sine)
        return _Cut(legs=(b, c), shrinks=(k, k), parts=((area / 2, k, k),))
    shrinks = (1 / before + slope / after) / sine, (1 / after + slope / before) / sine
    k = np.maximum(*shrinks)
    parts: tuple[tuple[Area, Number, Number], ...]
    if slope == 1.0:
        parts = ((area / 2, k, k),)
    elif slope == 0.0:
        parts = ((area, k, np.minimum(*shrinks)),)
    else:
        # What lies before one of its two faces, a triangle that runs on past the longer leg, less what of that lies
        # beyond the other: a triangle from the knee on.
        knee = (1 + slope) / (np.minimum(before, after) * sine)
        whole = area / (2 * slope)
        parts = (whole, k, k), (-whole * (1 - slope) / (1 + slope), knee, knee)
    return _Cut(legs=(b, c), shrinks=shrinks, parts=parts)


def _mean_product(one: tuple[Number, Number], other: tuple[Number, Number]) -> Number:
    """Mean of the product of two things that go evenly from start to end, as far as the first is above zero."""
    (g, h), (p, q) = one, other
    a, b = np.maximum(g, 0), np.maximum(h, 0)
    share = np.where(g == h, 1.0, (a - b) / np.where(g == h, 1.0, g - h))
    end = p + share * (q - p)
    return share * (2 * a * p + a * end + b * p + 2 * b * end) / 6


def pit_volume(outline: Outline, depth: Length, run: Number, *, filled_to: Length | None = None) -> Volume:
    """Volume of a pit that is `outline` at its bottom and steps out by `run` for each unit of rise [m3].

    A negative run is a tapered pier. All broadcast; nan where a side would vanish below the top.
    """
    h = np.clip(depth if filled_to is None else filled_to, 0, depth)
    volume = h * (outline.area + h * run * (outline.perimeter / 2 + h * run * outline.turning / 3))
    return np.where(_can_shrink(outline, np.maximum(-run * np.asarray(depth, float), 0)), volume, np.nan)[()]


def trench_volume(
    along: Length,
    across: Length,
    depth: Length,
    run_ends: Number,
    run_sides: Number,
    *,
    filled_to: Length | None = None,
) -> Volume:
    """Volume of a rectangular pit whose ends and long sides slope differently [m3]. All broadcast.

    along, across : at the bottom;  run_ends, run_sides : step out for each unit of rise, mean of the two facing
    """
    h = np.clip(depth if filled_to is None else filled_to, 0, depth)
    return h * (along * across + h * (along * run_sides + across * run_ends + 4 * h * run_ends * run_sides / 3))


def prismatoid_volume(bottom: Area, middle: Area, top: Area, height: Length) -> Volume:
    """Volume from three level sections [m3]: exact where the sides are flat. All broadcast."""
    return height * (bottom + 4 * middle + top) / 6


def _can_stand(
    outline: Outline,
    height: Length,
    a: Length,
    down: Length,
    lean: Length,
    cuts: Sequence[_Cut],
    at: Sequence[int],
) -> Number:
    fits = (a >= 0) & (lean >= 0) & (down >= 0) & (height >= down) & _can_shrink(outline, a + lean)
    for cut in cuts:
        fits = fits & (cut.legs[0] >= 0) & (cut.legs[1] >= 0)
    # What is left of a side changes evenly between these stages, so they decide.
    stages = [(0.0, 0.0), (lean, a)] if not np.any(lean) else [(0.0, 0.0), (lean, 0.0), (lean, a)]
    seen = set()
    for number, side in enumerate(outline.sides):
        ends = (number, 1), ((number + 1) % len(outline.sides), 0)  # it runs from one corner to the next
        look = id(side), *(id(outline.corners[n]) for n, _ in ends), *(at[n] for n, _ in ends if cuts)
        if look in seen:
            continue
        seen.add(look)
        for leaned, u in stages:
            left = side
            for corner, which in ends:
                left = left - (leaned + u) / np.tan(outline.corners[corner] / 2)
                if cuts:
                    cut = cuts[at[corner]]
                    left = left - cut.legs[which] * np.maximum(1 - cut.shrinks[which] * u, 0)
            fits = fits & (left >= -_SLACK * side)
    return fits


def _can_shrink(outline: Outline, u: Length) -> Number:
    fits = outline.perimeter * u <= 2 * outline.area * (1 + _SLACK)  # never beyond the inner radius
    for here, there, side in zip(
        outline.corners, outline.corners[1:] + outline.corners[:1], outline.sides, strict=True
    ):
        fits = fits & (u / np.tan(here / 2) + u / np.tan(there / 2) <= side * (1 + _SLACK))
    return fits


# A leg shorter than this [m] takes nothing away that anyone could measure.
_NO_LEG = 1e-9

# Of the shape's own size: cuts that just meet must not be refused because of rounding.
_SLACK = 1e-12
