"""How much does a plain shape hold, for one shape or for many at once?

    outline : what a plan is known by              area 0.312 m2, perimeter 2.24 m, four corners of 90 deg
    prism   : the outline carried up, corners cut by a leg b along both faces, top edge by a leg a both ways
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
    corner_leg: Length = 0.0,
    corner_slope: Number = 1.0,
    batter: Length = 0.0,
    strips_across_corners: bool = False,
    filled_to: Length | None = None,
) -> Volume:
    """Volume of a prism or tapered pier with something taken off its corners and its top edge [m3]. All broadcast.

    top_leg : how far the top edge is cut in, and top_down how far down; the same where None
    corner_leg : along both faces of each corner, full height;  batter : how far each side leans in over the height
    top_slope, corner_slope : 1 for a chamfer, 0 for a square recess, between for a groove
    strips_across_corners : a top chamfer also runs across the facets of corner chamfers
    filled_to : height up to which the volume is asked for, above the bottom
    """
    a, b = np.asarray(top_leg, float)[()], np.asarray(corner_leg, float)[()]
    down = a if top_down is None else np.asarray(top_down, float)[()]
    height, lean = np.asarray(height, float)[()], np.asarray(batter, float)[()]
    z = np.clip(height if filled_to is None else filled_to, 0, height)
    knee = 1 / (1 + top_slope)  # where the two faces of the cut meet, as a share of its legs
    shapes: list[tuple[Area, Number]] = []
    if np.any(b):
        shapes = [_corner(corner, b, corner_slope, strips_across_corners) for corner in outline.corners]
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
        for area, shrinks in shapes:
            layer = layer - area * _mean_square(1 - shrinks * u_low, 1 - shrinks * u_end)
        volume = volume + rise * layer
    return np.where(_can_stand(outline, height, a, down, b, lean, shapes), volume, np.nan)[()]


def _corner(angle: Angle, b: Length, slope: Number, across: bool) -> tuple[Area, Number]:
    """Area cut from a corner, and by which share of its height it shrinks for each unit that the sides move in."""
    leg = np.maximum(b, _NO_LEG)
    shrinks = (1 / np.sin(angle / 2) - 1) / np.cos(angle / 2) if across else (1 + slope) / np.sin(angle)
    return b**2 * np.sin(angle) / (1 + slope), shrinks / leg


def _mean_square(g: Number, h: Number) -> Number:
    """Mean of the square of what goes evenly from g to h, where it is above zero."""
    a, b = np.maximum(g, 0), np.maximum(h, 0)
    share = np.where(g == h, 1.0, (a - b) / np.where(g == h, 1.0, g - h))
    return share * (a * a + a * b + b * b) / 3


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
    b: Length,
    lean: Length,
    shapes: Sequence[tuple[Area, Number]],
) -> Number:
    fits = (a >= 0) & (b >= 0) & (lean >= 0) & (down >= 0) & (height >= down) & _can_shrink(outline, a + lean)
    # What is left of a side changes evenly between these stages, so they decide.
    stages = [(0.0, 0.0), (lean, a)] if not np.any(lean) else [(0.0, 0.0), (lean, 0.0), (lean, a)]
    for number, side in enumerate(outline.sides):
        ends = number, (number + 1) % len(outline.sides)
        for leaned, u in stages:
            left = side
            for corner in ends:
                left = left - (leaned + u) / np.tan(outline.corners[corner] / 2)
                if shapes:
                    left = left - b * np.maximum(1 - shapes[corner][1] * u, 0)
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
