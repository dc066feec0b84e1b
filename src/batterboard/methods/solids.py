"""What does a convex solid look like, and how much of it lies below a level?

    plane   : a side the solid lies behind        normal (0, 0, 1), offset 1.016: all of it is below z = 1.016
    vertex  : a corner, where three planes meet   x, y, z arrays over the vertices
    face    : the polygon of one plane            vertices in order, counter-clockwise seen from outside
    section : the polygon at a level              x, y arrays, counter-clockwise seen from above

A solid is nothing but its planes, so a chamfer is one more plane and what two solids share is all planes of both.
One solid at a time, plain numbers in metres, near the origin (the job's own, not a map grid's). Between the levels
of its vertices the section's area is quadratic in z, so that the volumes by level are exact. Arrays of variants of
the plain shapes: `volumes`.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from batterboard.record import ordered

Array = NDArray[np.float64]

# Metres. A point this far outside a plane still lies on it, and two points closer than the second are one: far
# under what anyone measures, far over rounding. It keeps a facet that only just touches the top from becoming a sliver.
_ON = 1e-9
_SAME = 1e-8
_NOTHING = 1e-13  # [m3] a part as small as this is rounding
_LEAST_LEG = 1e-7  # a chamfer smaller than this would be made of vertices that are one


@ordered
class Solid:
    """All points behind every plane: normals @ (x, y, z) <= offsets. May be empty."""

    normals: Array  # (planes, 3), of length 1
    offsets: Array  # (planes,) [m]

    @cached_property
    def vertices(self) -> tuple[Array, Array, Array]:
        """x, y, z of the corners, in no particular order. Empty arrays where the planes share no space."""
        points = _corners(self.normals, self.offsets)
        return points[:, 0], points[:, 1], points[:, 2]

    @cached_property
    def faces(self) -> tuple[tuple[int, ...], ...]:
        """Vertices of each face in order, counter-clockwise seen from outside. A plane that only touches has none."""
        return tuple(ring for ring in self._rings if ring)

    @cached_property
    def _rings(self) -> tuple[tuple[int, ...], ...]:
        """The face of each plane; empty of one that only touches."""
        points = np.column_stack(self.vertices)
        on = np.abs(points @ self.normals.T - self.offsets) <= _SAME
        enough = on.sum(axis=0) > 2
        return tuple(
            _in_order(points, np.flatnonzero(on[:, i]), n) if enough[i] else () for i, n in enumerate(self.normals)
        )

    def face_on(self, normal: ArrayLike) -> Array:
        """Corners (n, 3) of the face that looks that way, counter-clockwise from outside; none where nothing does."""
        alike = np.flatnonzero(np.max(np.abs(self.normals - np.asarray(normal, float)), axis=1) <= _ON)
        ring = self._rings[alike[0]] if len(alike) else ()
        return np.column_stack([axis[list(ring)] for axis in self.vertices])

    def through(self, point: ArrayLike, direction: ArrayLike) -> tuple[float, float]:
        """From where to where a line runs inside, in lengths of `direction` from the point; equal where it misses."""
        room = self.offsets - self.normals @ np.asarray(point, float)
        rises = self.normals @ np.asarray(direction, float)
        along = np.abs(rises) <= _ON
        if np.any(room[along] < -_SAME):
            return 0.0, 0.0
        at = room / np.where(along, 1.0, rises)
        low, high = np.max(at[~along & (rises < 0)], initial=-np.inf), np.min(at[~along & (rises > 0)], initial=np.inf)
        return (float(low), float(high)) if high > low else (0.0, 0.0)

    @cached_property
    def edges(self) -> tuple[tuple[int, int], ...]:
        """Pairs of vertices, each once, the smaller number first."""
        around = ((a, b) for face in self.faces for a, b in zip(face, face[1:] + face[:1], strict=True))
        return tuple(sorted({(min(pair), max(pair)) for pair in around}))

    @cached_property
    def triangles(self) -> NDArray[np.intp]:
        """The skin as (triangles, 3) vertex numbers, outward, for meshes and moments."""
        fans = [(face[0], a, b) for face in self.faces for a, b in zip(face[1:], face[2:], strict=False)]
        return np.array(fans, dtype=np.intp).reshape(-1, 3)

    @cached_property
    def volume(self) -> float:
        """[m3]"""
        return float(self._wedges[0].sum())

    @cached_property
    def centroid(self) -> tuple[float, float, float]:
        """x, y, z; nan for an empty solid."""
        wedge, x, y, z = self._wedges
        if not self.volume > 0:
            return np.nan, np.nan, np.nan
        return tuple(float(np.sum(wedge * c)) / self.volume for c in (x, y, z))  # type: ignore[return-value]

    @cached_property
    def _wedges(self) -> tuple[Array, Array, Array, Array]:
        """Volume and centroid of the tetrahedron between each triangle of the skin and a point inside."""
        points = np.column_stack(self.vertices)
        if len(points) < 4:
            return (np.zeros(0),) * 4
        inside = points.mean(axis=0)
        a, b, c = (points[self.triangles] - inside).transpose(1, 0, 2)
        at = inside + (a + b + c) / 4
        return np.sum(a * np.cross(b, c), axis=1) / 6, at[:, 0], at[:, 1], at[:, 2]

    def section(self, level: float) -> tuple[Array, Array]:
        """x, y of the polygon at a level, counter-clockwise seen from above. Fewer than three points: no area."""
        x, y, z = self.vertices
        at = np.abs(z - level) <= _SAME
        ends = np.array(self.edges, dtype=np.intp).reshape(-1, 2)
        low, high = np.where(z[ends[:, :1]] <= z[ends[:, 1:]], ends, ends[:, ::-1]).T
        through = (z[low] < level - _SAME) & (z[high] > level + _SAME)
        low, high = low[through], high[through]
        part = (level - z[low]) / (z[high] - z[low])
        px = np.concatenate([x[at], x[low] + part * (x[high] - x[low])])
        py = np.concatenate([y[at], y[low] + part * (y[high] - y[low])])
        if len(px) == 0:
            return px, py
        order = np.argsort(np.arctan2(py - py.mean(), px - px.mean()), kind="stable")
        return px[order], py[order]

    @cached_property
    def _profile(self) -> tuple[Array, Array, Array]:
        """Levels of the vertices, and section areas there (levels,) and half way up to the next (levels - 1,)."""
        z = np.sort(self.vertices[2])
        levels = z[np.diff(z, prepend=-np.inf) > _SAME]
        middles = (levels[1:] + levels[:-1]) / 2
        return levels, *(np.array([_area(*self.section(h)) for h in hs]) for hs in (levels, middles))  # type: ignore[return-value]

    def area_at(self, level: ArrayLike) -> Array:
        """Area of the section at one level or many [m2]; zero above and below."""
        return self._by_level(level)[0]

    def volume_below(self, level: ArrayLike) -> Array:
        """Volume under one level or many [m3], exact."""
        return self._by_level(level)[1]

    def volume_between(self, low: ArrayLike, high: ArrayLike) -> Array:
        """Volume between two levels [m3], exact. Broadcast."""
        return self.volume_below(high) - self.volume_below(low)

    def _by_level(self, level: ArrayLike) -> tuple[Array, Array]:
        levels, area, middle = self._profile
        level = np.asarray(level, float)
        if len(levels) < 2:
            return np.zeros_like(level), np.zeros_like(level)
        rise = np.diff(levels)
        # The quadratic through the three areas of a layer, s from 0 at its bottom to 1 at its top.
        linear = 4 * middle - 3 * area[:-1] - area[1:]
        square = 2 * (area[:-1] + area[1:]) - 4 * middle
        under = np.concatenate([[0.0], np.cumsum(rise * (area[:-1] + 4 * middle + area[1:]) / 6)])
        i = np.clip(np.searchsorted(levels, level, side="right") - 1, 0, len(rise) - 1)
        s = np.clip((level - levels[i]) / rise[i], 0, 1)
        inside = (level >= levels[0] - _SAME) & (level <= levels[-1] + _SAME)
        a = np.where(inside, area[i] + s * (linear[i] + s * square[i]), 0.0)
        v = under[i] + rise[i] * s * (area[i] + s * (linear[i] / 2 + s * square[i] / 3))
        return a[()], v[()]


def prism(
    x: ArrayLike,
    y: ArrayLike,
    bottom: float,
    top: float,
    *,
    corner_leg: ArrayLike = 0.0,
    top_leg: float = 0.0,
    top_down: float | None = None,
    lean: float = 0.0,
    strips_across_corners: bool = False,
) -> Solid:
    """A convex plan carried up from one level to another, with its chamfers.

    x, y : (corners,) in order, either way round;  corner_leg : along both faces, one for all corners or one each; or
    (corners, 2), along the side before each corner and along the side after it
    top_leg : of the chamfer along the top edge, across the corner facets only where said;  top_down : its leg down
    the side, the same where None;  lean : how far each side comes in for each unit of rise, corner legs staying level
    """
    told = np.asarray(corner_leg, float)
    legs = np.broadcast_to(told if told.ndim == 2 else told[..., None], (*np.shape(x), 2))
    if _clockwise(x, y):
        legs = legs[::-1, ::-1]
    x, y, nx, ny = _walls(x, y)
    planes = [(0.0, 0.0, -1.0, -bottom), (0.0, 0.0, 1.0, top)]
    planes += [(nx[i], ny[i], lean, nx[i] * x[i] + ny[i] * y[i] + lean * bottom) for i in range(len(x))]
    facets = []
    for i in np.flatnonzero(legs.min(axis=1) > _LEAST_LEG):
        # The facet leans towards the wall along which it reaches further; of equal legs its normal halves the corner.
        before, after = legs[i] / legs[i].max()
        mx, my = before * nx[i - 1] + after * nx[i], before * ny[i - 1] + after * ny[i]
        length = np.hypot(mx, my)
        mx, my, mz = mx / length, my / length, lean * (before + after) / length
        # Along wall i, which runs in the direction (-ny, nx), by its leg.
        offset = mx * (x[i] - legs[i, 1] * ny[i]) + my * (y[i] + legs[i, 1] * nx[i])
        facets.append((mx, my, mz, offset + mz * bottom))
    if top_leg > _LEAST_LEG:
        sloped = planes[2:] + (facets if strips_across_corners else [])
        rises = 1.0 if top_down is None else top_leg / top_down
        planes += [(mx, my, mz + rises, offset + rises * top - top_leg) for mx, my, mz, offset in sloped]
    return _solid(planes + facets)


def pit(x: ArrayLike, y: ArrayLike, bottom: float, top: float, run: ArrayLike) -> Solid:
    """A convex plan at its bottom, each side stepping out by `run` for each unit of rise; inwards where negative.

    x, y : (corners,) in order, either way round;  run : one for all sides, or (sides,), side i from corner i on
    """
    runs = np.broadcast_to(np.asarray(run, float), np.shape(x))
    if _clockwise(x, y):  # side i runs on from corner i, so that turning the corners round shifts the sides by one
        runs = np.roll(runs[::-1], -1)
    x, y, nx, ny = _walls(x, y)
    planes = [(0.0, 0.0, -1.0, -bottom), (0.0, 0.0, 1.0, top)]
    planes += [(nx[i], ny[i], -runs[i], nx[i] * x[i] + ny[i] * y[i] - runs[i] * bottom) for i in range(len(x))]
    return _solid(planes)


def cross(a: Array, b: Array) -> Array:
    """The product of two vectors (3,), square to both: many times quicker for one pair than the one for arrays."""
    (ax, ay, az), (bx, by, bz) = a.tolist(), b.tolist()
    return np.array((ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx))


def behind(planes: Sequence[tuple[ArrayLike, float]]) -> Solid:
    """All points behind each of these: outward normal of any length, and its product with a point on the plane."""
    return _solid([(*np.asarray(normal, float), offset) for normal, offset in planes])


def without(solid: Solid, taken: Solid) -> tuple[Solid, ...]:
    """What is left of one solid where the other is taken away, in convex parts that share nothing."""
    if apart(solid, taken):
        return (solid,)
    shared = common(solid, taken)
    if not shared.volume > _NOTHING:
        return (solid,)
    parts, rest = [], solid
    for n, b in zip(taken.normals, taken.offsets, strict=True):
        if len(shared.face_on(n)) < 3:  # it does not bound what is taken, and would only split what is left
            continue
        part = common(rest, _solid([(*-n, -b)]))
        if part.volume > _NOTHING:
            parts.append(part)
            rest = common(rest, _solid([(*n, b)]))
    return tuple(parts)


def apart(one: Solid, other: Solid) -> bool:
    """Whether a plane of one has all of the other before it: then they share nothing. Told without making a solid."""
    for here, there in ((one, other), (other, one)):
        before = np.column_stack(there.vertices) @ here.normals.T - here.offsets
        if len(before) == 0 or np.any(np.min(before, axis=0) >= -_ON):
            return True
    return False


def trimmed(solid: Solid, normal: Sequence[float], through: Sequence[float]) -> Solid:
    """What is left behind one more plane, given by its outward normal and a point on it: sloping ground, a skew cut."""
    n = np.asarray(normal, float)
    plane = (*n, float(n @ np.asarray(through, float)))
    return common(solid, _solid([plane]))


def common(one: Solid, other: Solid) -> Solid:
    """What two solids share, perhaps nothing."""
    planes = np.column_stack(
        [np.concatenate([one.normals, other.normals]), np.concatenate([one.offsets, other.offsets])]
    )
    return _solid(planes)


def _solid(planes: ArrayLike) -> Solid:
    """From rows (normal, offset) of any length. A plane given twice would give a face twice, so it is kept once."""
    rows = np.asarray(planes, float)
    rows = rows / np.linalg.norm(rows[:, :3], axis=1, keepdims=True)
    alike = np.all(np.abs(rows[:, None, :3] - rows[None, :, :3]) <= _ON, axis=2)
    # Of parallel planes only the innermost counts; of equal ones the first.
    beaten = rows[None, :, 3] < rows[:, None, 3] - _ON
    equal_before = (np.abs(rows[None, :, 3] - rows[:, None, 3]) <= _ON) & np.tri(len(rows), k=-1, dtype=bool)
    kept = rows[~np.any(alike & (beaten | equal_before), axis=1)]
    return Solid(kept[:, :3], kept[:, 3])


def _walls(x: ArrayLike, y: ArrayLike) -> tuple[Array, Array, Array, Array]:
    """Corners counter-clockwise, and the outward normal of the wall from each corner to the next."""
    x, y = np.asarray(x, float), np.asarray(y, float)
    if _clockwise(x, y):
        x, y = x[::-1], y[::-1]
    dx, dy = np.roll(x, -1) - x, np.roll(y, -1) - y
    length = np.hypot(dx, dy)
    return x, y, dy / length, -dx / length


def _clockwise(x: ArrayLike, y: ArrayLike) -> bool:
    return _area(np.asarray(x, float), np.asarray(y, float)) < 0


def _area(x: Array, y: Array) -> float:
    """Positive for a polygon that runs counter-clockwise."""
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2


def _corners(normals: Array, offsets: Array) -> Array:
    """Points (vertices, 3) where three planes meet and no other plane cuts them off."""
    i, j, k = _triples(len(normals))
    products = _products(normals)
    cross = products[j, k]
    det = np.sum(normals[i] * cross, axis=1)
    meet = np.abs(det) > 1e-6  # planes closer to parallel than any form is built
    i, j, k, cross, det = i[meet], j[meet], k[meet], cross[meet], det[meet]
    points: Array = offsets[i, None] * cross
    points += offsets[j, None] * products[k, i]
    points += offsets[k, None] * products[i, j]
    points /= det[:, None]
    # The best conditioned triple comes first and stands for the others that meet in the same point.
    points = points[np.argsort(-np.abs(det), kind="stable")]
    for n, b in zip(normals, offsets, strict=True):
        points = points[points @ n <= b + _ON]
    apart = np.max(np.abs(points[:, None] - points[None]), axis=2) > _SAME
    return points[np.all(apart | ~np.tri(len(points), k=-1, dtype=bool), axis=1)]


def _products(normals: Array) -> Array:
    """The cross product of each with each, (planes, planes, 3)."""
    x, y, z = normals.T
    pairs = ((y, z), (z, x), (x, y))
    return np.stack([np.multiply.outer(a, b) - np.multiply.outer(b, a) for a, b in pairs], axis=-1)


@lru_cache(maxsize=16)
def _triples(n: int) -> tuple[NDArray[np.intp], ...]:
    i, j, k = np.ogrid[:n, :n, :n]
    return np.nonzero((i < j) & (j < k))


def _in_order(points: Array, numbers: NDArray[np.intp], normal: Array) -> tuple[int, ...]:
    """Vertices of one face by their angle about its middle, counter-clockwise seen from the normal's tip."""
    arms = points[numbers] - points[numbers].mean(axis=0)
    across = cross(normal, arms[0])
    return tuple(int(v) for v in numbers[np.argsort(np.arctan2(arms @ across, arms @ arms[0]), kind="stable")])
