"""How high does the ground lie at a place, before digging?

    plane : a level at a point and how much it rises for each metre ahead in x and in y
    spots : levels taken here and there; the surface through them is made of flat triangles

The triangles leave no spot inside the circle through their corners, so that neighbours are joined and the surface is
the same however the spots are listed (four spots of a square are joined either way). Past the outermost spots the
level of the nearest point of their outline counts: nothing is known there, and a slope drawn on would invent.
"""

from collections.abc import Iterator
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from batterboard.record import record

Array = NDArray[np.float64]
Triangle = tuple[int, int, int]

_LEVEL = 1e-9  # of the spots' spread: how far out of line three of them still count as in line


@record
class Ground:
    """The surface: a plane, or the spots' triangles. Numbers or arrays of variants."""

    x: Any  # (spots, ...); of a plane one point
    y: Any
    z: Any
    slope_x: Any = None  # of a plane, rise over run; None where spots rule
    slope_y: Any = None

    def level(self, x: Any, y: Any) -> Any:
        """Height of the ground at places [m]. Places come first, variants last."""
        if self.slope_x is not None:
            return self.z[0] + (x - self.x[0]) * self.slope_x + (y - self.y[0]) * self.slope_y
        variants = np.broadcast_shapes(*(np.shape(v)[1:] for v in (self.x, self.y, self.z)))
        if variants:
            xs, ys = (np.broadcast_to(v, np.broadcast_shapes(np.shape(v), variants)) for v in (x, y))
            each = (self._variant(v).level(xs[..., v], ys[..., v]) for v in range(variants[0]))
            return np.stack(list(each), axis=-1)
        return self._between(np.asarray(x, float), np.asarray(y, float))[()]

    def _variant(self, v: int) -> "Ground":
        x, y, z = (a[:, v] if np.ndim(a) > 1 else a for a in (self.x, self.y, self.z))
        return Ground(x=x, y=y, z=z)

    @cached_property
    def triangles(self) -> tuple[Triangle, ...]:
        """The spots' numbers, three by three, counter-clockwise. None where all spots lie in one line."""
        return tuple(_triangles(self.x, self.y))

    @cached_property
    def outline(self) -> tuple[tuple[int, int], ...]:
        """Pairs of spots: the sides of the outermost triangles, or the spots of one line in their order."""
        sides = [(t[i], t[i - 2]) for t in self.triangles for i in range(3)]
        outer = [(a, b) for a, b in sides if (b, a) not in sides]
        if outer:
            return tuple(outer)
        order = np.lexsort((self.y, self.x)).tolist()
        return tuple(zip(order, order[1:])) if len(order) > 1 else ((order[0], order[0]),)

    def _between(self, x: Array, y: Array) -> Array:
        x, y = np.broadcast_arrays(x, y)
        px, py, pz = (np.asarray(v, float) for v in (self.x, self.y, self.z))
        # Beyond all triangles: the nearest point of the outline.
        a, b = np.array(self.outline).T
        ex, ey = px[b] - px[a], py[b] - py[a]
        long = np.where((ex == 0) & (ey == 0), 1.0, ex * ex + ey * ey)
        s = np.clip(((x[..., None] - px[a]) * ex + (y[..., None] - py[a]) * ey) / long, 0, 1)
        off = np.hypot(px[a] + s * ex - x[..., None], py[a] + s * ey - y[..., None])
        level = _pick(pz[a] + s * (pz[b] - pz[a]), off.argmin(axis=-1))
        if not self.triangles:
            return level
        i, j, k = np.array(self.triangles).T
        twice = (px[j] - px[i]) * (py[k] - py[i]) - (px[k] - px[i]) * (py[j] - py[i])
        x, y = x[..., None], y[..., None]
        w_j = ((x - px[i]) * (py[k] - py[i]) - (px[k] - px[i]) * (y - py[i])) / twice
        w_k = ((px[j] - px[i]) * (y - py[i]) - (x - px[i]) * (py[j] - py[i])) / twice
        least = np.minimum(np.minimum(w_j, w_k), 1 - w_j - w_k)
        in_which = least.argmax(axis=-1)
        flat = _pick(pz[i] + w_j * (pz[j] - pz[i]) + w_k * (pz[k] - pz[i]), in_which)
        return np.where(_pick(least, in_which) >= 0, flat, level)


def _pick(values: Array, which: NDArray[np.intp]) -> Array:
    return np.take_along_axis(values, which[..., None], axis=-1)[..., 0]


def _triangles(xs: Any, ys: Any) -> Iterator[Triangle]:
    """Spots are taken from left to right and joined to what they see; then sides turn until no circle holds a spot."""
    scale = max(np.ptp(xs), np.ptp(ys), 1e-12)
    x: list[float] = ((np.asarray(xs, float) - xs[0]) / scale).tolist()
    y: list[float] = ((np.asarray(ys, float) - ys[0]) / scale).tolist()

    def turn(a: int, b: int, c: int) -> float:
        """Above zero where a, b, c run counter-clockwise."""
        return (x[b] - x[a]) * (y[c] - y[a]) - (x[c] - x[a]) * (y[b] - y[a])

    def holds(a: int, b: int, c: int, d: int) -> bool:
        """Whether the circle through a, b, c, counter-clockwise, holds d."""
        rows = [(x[p] - x[d], y[p] - y[d]) for p in (a, b, c)]
        (ax, ay), (bx, by), (cx, cy) = rows
        aa, bb, cc = (u * u + v * v for u, v in rows)
        return ax * (by * cc - bb * cy) - ay * (bx * cc - bb * cx) + aa * (bx * cy - by * cx) > _LEVEL

    order = sorted({(x[i], y[i]): i for i in reversed(range(len(x)))}.values(), key=lambda i: (x[i], y[i]))
    opposite: dict[tuple[int, int], int] = {}  # side of a triangle, counter-clockwise -> its third corner

    def add(a: int, b: int, c: int) -> None:
        opposite[a, b], opposite[b, c], opposite[c, a] = c, a, b

    first = next((n for n in range(2, len(order)) if abs(turn(order[0], order[1], order[n])) > _LEVEL), None)
    if first is None:
        return
    # The spots before the first one out of line make a fan from it.
    line, tip = order[:first], order[first]
    if turn(line[0], line[1], tip) < 0:
        line.reverse()
    for a, b in zip(line, line[1:]):
        add(a, b, tip)
    for spot in order[first + 1 :]:
        seen = [(a, b) for a, b in opposite if (b, a) not in opposite and turn(a, b, spot) < -_LEVEL]
        for a, b in seen:
            add(b, a, spot)
    suspect = list(opposite)
    while suspect:
        a, b = suspect.pop()
        c, d = opposite.get((a, b)), opposite.get((b, a))
        if c is None or d is None or not holds(a, b, c, d):
            continue
        del opposite[a, b], opposite[b, a]
        add(a, d, c)
        add(d, b, c)
        suspect += [(a, d), (d, b), (b, c), (c, a)]
    for (a, b), c in opposite.items():
        if a < b and a < c:
            yield a, b, c
