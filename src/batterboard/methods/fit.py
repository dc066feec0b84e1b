"""Does a plate with these holes drop on these bolts, and how must it be shifted and turned?

    hole      : where the plate has a hole, in the plate's own axes     x, y arrays, holes first
    bolt      : where its bolt stands, in the same order                x, y arrays, bolts first
    clearance : how far a bolt may stand off its hole's centre          13/32 in, for each hole or for all
    slot      : how far a slotted hole's other end lies from its centre (1/4 in, 0), in the plate's own axes
    fit       : R(turn) * hole + shift = bolt, counter-clockwise, so that the tightest bolt has most to spare

Samples (found, simulated, variants) are the last axes and are solved together. One job's four bolts and a hundred
thousand simulated ones go the same way, always with the same number of steps, so a fit never depends on the machine.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from itertools import combinations
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from batterboard.record import ordered

Array = NDArray[np.float64]

_GOLDEN = (np.sqrt(5) - 1) / 2
_STEPS = 26  # the tightest offset is then known to a few nanometres, mostly far better
_SLIDES = 200  # of the plate along its slots at most; most come to rest after five
_AT_REST = 1e-10  # a bolt that slides by less along its slot has come to rest [m]
_BLOCK = 16384  # numbers in one array of the inner loop: they stay in the processor's cache


@ordered
class Fit:
    """How a plate lies over its bolts. Shapes: the samples'; `offsets` has the bolts before them. SI."""

    shift_x: Array
    shift_y: Array
    turn: Array  # counter-clockwise [rad]
    offsets: Array  # how far each bolt is off its hole's centre, or off the nearest place along its slot
    spare: Array  # of the tightest bolt: clearance less offset; below zero it does not drop on

    @property
    def largest(self) -> Array:
        """The largest offset."""
        return self.offsets.max(axis=0)  # type: ignore[no-any-return]

    @property
    def drops_on(self) -> NDArray[np.bool_]:
        return self.spare >= 0


def minimax_fit(
    hole_x: ArrayLike,
    hole_y: ArrayLike,
    bolt_x: ArrayLike,
    bolt_y: ArrayLike,
    clearance: ArrayLike,
    slot_x: ArrayLike = 0.0,
    slot_y: ArrayLike = 0.0,
) -> Fit:
    """The shift and turn that leave the tightest bolt the most to spare.

    All (bolts,) or (bolts, ...samples), clearance also one number for all; broadcast. Each turn leaves a smallest
    circle round the bolts as the plate sees them; the turn itself is searched about the least squares one, as far
    as any better fit can lie. Sure for bolts that are off by less than a tenth of the pattern's width; past that it may
    stop at a second best turn.
    """
    hx, hy, bx, by, c, sx, sy, samples = _flat(hole_x, hole_y, bolt_x, bolt_y, clearance, slot_x, slot_y)
    fitted = _slid(hx, hy, bx, by, c, sx, sy) if np.any(sx) or np.any(sy) else _best(hx, hy, bx, by, c)
    return _shaped(fitted, samples)


def _best(hx: Array, hy: Array, bx: Array, by: Array, c: Array) -> Fit:
    """The same for round holes, all (bolts, samples)."""
    n, count = bx.shape
    block = max(1, _BLOCK // max(n, len(_triples(n)[0])))
    parts = [
        _search(*(v if v.shape[1] == 1 else v[:, i : i + block] for v in (hx, hy, bx, by, c)))
        for i in range(0, max(count, 1), block)
    ]
    shift_x, shift_y, turn = (np.concatenate(rows) for rows in zip(*parts, strict=True))
    return _laid(hx, hy, bx, by, c, shift_x, shift_y, turn)


def _slid(hx: Array, hy: Array, bx: Array, by: Array, c: Array, sx: Array, sy: Array) -> Fit:
    """The same where holes are slots: as a round hole at that place along its slot that its bolt is nearest to.

    The best lie for such round holes moves the nearest places on, never for the worse. Where they come to rest no other
    lie is better: the offset from a slot grows the same ways as that from its nearest place, and the largest offset has
    no second bottom near by.
    """
    long = np.maximum(sx * sx + sy * sy, _TINY)
    part = np.zeros(np.broadcast_shapes(bx.shape, hx.shape, long.shape))
    for _ in range(_SLIDES):
        fitted = _best(hx + part * sx, hy + part * sy, bx, by, c)
        cos, sin = np.cos(fitted.turn), np.sin(fitted.turn)
        x, y = bx - fitted.shift_x, by - fitted.shift_y
        ahead, left = cos * x + sin * y - hx, cos * y - sin * x - hy
        before, part = part, np.clip((ahead * sx + left * sy) / long, 0, 1)
        if not np.any(np.abs(part - before) * np.sqrt(long) > _AT_REST):
            break
    return _laid(hx + part * sx, hy + part * sy, bx, by, c, fitted.shift_x, fitted.shift_y, fitted.turn)


def least_squares_fit(
    hole_x: ArrayLike, hole_y: ArrayLike, bolt_x: ArrayLike, bolt_y: ArrayLike, clearance: ArrayLike = 0.0
) -> Fit:
    """The shift and turn with the least sum of squared offsets: what a survey gives, not what a plate needs.

    Arguments as for `minimax_fit`.
    """
    hx, hy, bx, by, c, _, _, samples = _flat(hole_x, hole_y, bolt_x, bolt_y, clearance, 0.0, 0.0)
    return _shaped(_laid(hx, hy, bx, by, c, *_least_squares(hx, hy, bx, by)), samples)


def drops_on(
    hole_x: ArrayLike,
    hole_y: ArrayLike,
    bolt_x: ArrayLike,
    bolt_y: ArrayLike,
    clearance: ArrayLike,
    slot_x: ArrayLike = 0.0,
    slot_y: ArrayLike = 0.0,
) -> NDArray[np.bool_]:
    """Whether the plate drops on, sample by sample: the verdict of `minimax_fit`, searched for only where in doubt.

    Where the least squares fit already drops on, the best does too; where a bolt distance is off by more than its
    two clearances and the slots, none does.
    """
    hx, hy, bx, by, c, sx, sy, samples = _flat(hole_x, hole_y, bolt_x, bolt_y, clearance, slot_x, slot_y)
    verdict = _laid(hx, hy, bx, by, c, *_least_squares(hx, hy, bx, by)).spare >= 0
    i, j = np.array(list(combinations(range(len(bx)), 2)), dtype=np.intp).reshape(-1, 2).T
    apart = np.abs(np.hypot(hx[i] - hx[j], hy[i] - hy[j]) - np.hypot(bx[i] - bx[j], by[i] - by[j]))
    room = c + np.hypot(sx, sy)
    hopeless = np.any(apart > (room[i] + room[j]) * (1 + 1e-9), axis=0)
    doubt = np.flatnonzero(~verdict & ~hopeless)
    if len(doubt):
        some = (v if v.shape[1] == 1 else v[:, doubt] for v in (hx, hy, bx, by, c, sx, sy))
        verdict[doubt] = minimax_fit(*some).drops_on
    return verdict.reshape(samples)


def _flat(*given_as: ArrayLike) -> tuple[Any, ...]:
    """All as (bolts, samples), or (bolts, 1) where holes, rooms or slots have no samples; and the samples' shape."""
    given = [np.atleast_1d(np.asarray(v, float)) for v in given_as]
    deep = max(v.ndim for v in given)
    # Bolts come first: an array without samples gets them behind, a lone clearance is one for all.
    given = [v.reshape(v.shape[:1] + (1,) * (deep - v.ndim) + v.shape[1:]) for v in given]
    n, *samples = np.broadcast_shapes(*(v.shape for v in given))

    def rows(v: Array, sampled: bool) -> Array:
        return np.broadcast_to(v, (n, *samples) if sampled else (n, *v.shape[1:])).reshape(n, -1)

    return *(rows(v, i in (2, 3) or v[:1].size > 1) for i, v in enumerate(given)), tuple(samples)


def _laid(hx: Array, hy: Array, bx: Array, by: Array, c: Array, sx: Array, sy: Array, turn: Array) -> Fit:
    cos, sin = np.cos(turn), np.sin(turn)
    offsets = np.hypot(cos * hx - sin * hy + sx - bx, sin * hx + cos * hy + sy - by)
    return Fit(sx, sy, turn, offsets, np.min(c - offsets, axis=0))


def _shaped(fit: Fit, samples: tuple[int, ...]) -> Fit:
    """Samples as they were given; plain numbers where there were none."""
    x, y, turn, spare = (v.reshape(samples)[()] for v in (fit.shift_x, fit.shift_y, fit.turn, fit.spare))
    return Fit(x, y, turn, fit.offsets.reshape(len(fit.offsets), *samples), spare)


def _least_squares(hx: Array, hy: Array, bx: Array, by: Array) -> tuple[Array, Array, Array]:
    """Shift and turn. The turn of a single bolt, or of bolts all in one place, is zero."""
    mx, my, ox, oy = hx.mean(axis=0), hy.mean(axis=0), bx.mean(axis=0), by.mean(axis=0)
    ax, ay, qx, qy = hx - mx, hy - my, bx - ox, by - oy
    turn = np.arctan2(np.sum(ax * qy - ay * qx, axis=0), np.sum(ax * qx + ay * qy, axis=0))
    cos, sin = np.cos(turn), np.sin(turn)
    return ox - (cos * mx - sin * my), oy - (sin * mx + cos * my), turn


def _search(hx: Array, hy: Array, bx: Array, by: Array, c: Array) -> tuple[Array, Array, Array]:
    """Ever closer turns about the best, every sample at once. The radius is convex in the turn."""
    mx, my = hx.mean(axis=0), hy.mean(axis=0)
    ax, ay = hx - mx, hy - my
    # A clearance smaller than the largest is a circle drawn round its bolt, which the enclosing circle takes in.
    largest = c.max(axis=0)
    r = largest - c
    unequal = r if np.any(r) else None

    def seen(turn: Array) -> tuple[Array, Array, Array | None]:
        """The bolts as a plate of this turn sees them."""
        cos, sin = np.cos(turn), np.sin(turn)
        return bx - (cos * ax - sin * ay), by - (sin * ax + cos * ay), unequal

    def widest(turn: Array) -> Array:
        return _smallest_radius(*seen(turn))

    sx, sy, middle = _least_squares(ax, ay, bx, by)
    cos, sin = np.cos(middle), np.sin(middle)
    ex, ey = cos * ax - sin * ay + sx - bx, sin * ax + cos * ay + sy - by
    off = ex * ex + ey * ey
    # No bolt of the best fit is off by more than this. A turn by d from the least squares fit adds at least
    # 4 A sin^2(d / 2) to the sum of squares, which bounds d.
    most = np.max(np.sqrt(off) + r, axis=0) - r
    qx, qy = bx - bx.mean(axis=0), by - by.mean(axis=0)
    a = np.hypot(np.sum(ax * qx + ay * qy, axis=0), np.sum(ax * qy - ay * qx, axis=0))
    room = np.maximum(np.sum(most * most - off, axis=0), 0)
    reach = 2 * np.arcsin(np.sqrt(np.minimum(room / np.maximum(4 * a, _TINY), 1)))
    low, high = middle - reach, middle + reach
    turns = np.stack([low, high - _GOLDEN * (high - low), low + _GOLDEN * (high - low), high])
    radii = np.stack([widest(turn) for turn in turns])
    for step in range(_STEPS):
        turns, radii = _closer(turns, radii, widest, step)
    turn = np.take_along_axis(turns, np.argmin(radii, axis=0)[None], axis=0)[0]
    _, x, y = _smallest_circle(*seen(turn))
    cos, sin = np.cos(turn), np.sin(turn)
    return x - (cos * mx - sin * my), y - (sin * mx + cos * my), turn


def _closer(turns: Array, radii: Array, widest: Callable[[Array], Array], step: int) -> tuple[Array, Array]:
    """Four turns in order, with the best in their middle: one more tried, the furthest let go.

    Two of three steps cut the wider side of the best by golden section, which a smooth bottom needs. The third goes
    where the chords from both sides meet: at a kink that is the bottom itself.
    """
    best = radii[1] <= radii[2]
    if step % 3 < 2:
        low, middle, high = (np.where(best, turns[i], turns[i + 1]) for i in range(3))
        left = middle - low > high - middle
        new = middle + (1 - _GOLDEN) * np.where(left, low - middle, high - middle)
    else:
        with np.errstate(divide="ignore", invalid="ignore"):
            down, up = (radii[1] - radii[0]) / (turns[1] - turns[0]), (radii[3] - radii[2]) / (turns[3] - turns[2])
            new = (radii[2] - radii[1] + down * turns[1] - up * turns[2]) / (down - up)
        new = np.where((new > turns[1]) & (new < turns[2]), new, (turns[1] + turns[2]) / 2)
    turns, radii = np.concatenate([turns, new[None]]), np.concatenate([radii, widest(new)[None]])
    order = np.argsort(turns, axis=0, kind="stable")
    turns, radii = np.take_along_axis(turns, order, axis=0), np.take_along_axis(radii, order, axis=0)
    at = np.argmin(radii, axis=0)
    lower = (at < 2) | ((at == 2) & (radii[1] <= radii[3]))
    return np.where(lower, turns[:4], turns[1:]), np.where(lower, radii[:4], radii[1:])


def _smallest_circle(px: Array, py: Array, r: Array | None) -> tuple[Array, Array, Array]:
    """Radius and centre of the smallest circle that takes in the circles of radius r about each point.

    px, py : (points, samples);  r : (points, 1 or samples), None where all are points. Three of them decide: it is the
    largest of the smallest circles round every three.
    """
    radius, x, y = _circles(px, py, r)
    most = np.argmax(radius, axis=0)[None]
    return tuple(np.take_along_axis(v, most, axis=0)[0] for v in (radius, x, y))


def _smallest_radius(px: Array, py: Array, r: Array | None) -> Array:
    """The same, without asking where: what a search compares."""
    if r is not None or len(px) < 3:
        return np.max(_circles(px, py, r)[0], axis=0)  # type: ignore[no-any-return]
    # Of a triangle whose angles are all acute the circle through its corners, else that over its longest side.
    _, _, _, ij, jk, ki = _triples(len(px))
    first, second = _pairs(len(px))
    dx, dy = px[second] - px[first], py[second] - py[first]
    sides = dx * dx + dy * dy
    a, b, c = sides[ij], sides[jk], sides[ki]
    longest = np.maximum(np.maximum(a, b), c)
    double = dx[ij] * dy[ki] - dy[ij] * dx[ki]  # its area, twice
    with np.errstate(divide="ignore", invalid="ignore"):
        square = np.where(2 * longest >= a + b + c, longest, a * b * c / (double * double))
    return np.sqrt(np.max(square, axis=0)) / 2  # type: ignore[no-any-return]


def _circles(px: Array, py: Array, r: Array | None) -> tuple[Array, Array, Array]:
    """The smallest circle round every three: radius and centre (triples, samples)."""
    i, j, k, ij, jk, ki = _triples(len(px))
    first, second = _pairs(len(px))
    dx, dy = px[second] - px[first], py[second] - py[first]
    apart = np.sqrt(dx * dx + dy * dy)
    if r is None:
        two, part = apart / 2, np.asarray(0.5)
        radius, x, y = _through(px[i], py[i], px[j], py[j], px[k], py[k])
    else:
        r = np.broadcast_to(r, px.shape)
        # Round two: as wide as both together, or the larger if it holds the other.
        ra, rb = r[first], r[second]
        two = np.maximum((apart + ra + rb) / 2, np.maximum(ra, rb))
        part = np.clip((two - ra) / np.maximum(apart, _TINY), 0, 1)
        radius, x, y = _touching(px[i], py[i], r[i], px[j], py[j], r[j], px[k], py[k], r[k])
    two_x, two_y = px[first] + part * dx, py[first] + part * dy
    # Round three: that of two if it holds the third, else the one that touches all three.
    for pair, third in ((ij, k), (jk, i), (ki, j)):
        ex, ey = two_x[pair] - px[third], two_y[pair] - py[third]
        far = np.sqrt(ex * ex + ey * ey)
        holds = (far if r is None else far + r[third]) <= two[pair] * (1 + 1e-13)
        radius = np.where(holds, two[pair], radius)
        x, y = np.where(holds, two_x[pair], x), np.where(holds, two_y[pair], y)
    return radius, x, y


def _through(ax: Array, ay: Array, bx: Array, by: Array, cx: Array, cy: Array) -> tuple[Array, Array, Array]:
    """The circle through three points; not finite where they lie in line."""
    qx, qy, wx, wy = bx - ax, by - ay, cx - ax, cy - ay
    with np.errstate(divide="ignore", invalid="ignore"):
        half = 0.5 / (qx * wy - qy * wx)
        f, g = (qx * qx + qy * qy) * half, (wx * wx + wy * wy) * half
        ux, uy = f * wy - g * qy, g * qx - f * wx
        s = np.sqrt(ux * ux + uy * uy)
    usable = np.isfinite(s)
    return np.where(usable, s, 0.0), ax + np.where(usable, ux, 0.0), ay + np.where(usable, uy, 0.0)


def _touching(
    ax: Array, ay: Array, ra: Array, bx: Array, by: Array, rb: Array, cx: Array, cy: Array, rc: Array
) -> tuple[Array, Array, Array]:
    """The circle that touches three circles from around them; not finite where their centres lie in line.

    With t its centre from a, s its radius less ra, q and d another's centre and radius less a's:
    |t| = s and |t - q| = s - d, so q . t = (q . q - d d) / 2 + s d, hence t = u + s v, and |u + s v| = s gives s.
    """
    qx, qy, d = bx - ax, by - ay, rb - ra
    wx, wy, e = cx - ax, cy - ay, rc - ra
    with np.errstate(divide="ignore", invalid="ignore"):
        det = qx * wy - qy * wx
        f, g = (qx * qx + qy * qy - d * d) / 2, (wx * wx + wy * wy - e * e) / 2
        ux, uy = (f * wy - g * qy) / det, (g * qx - f * wx) / det
        vx, vy = (d * wy - e * qy) / det, (e * qx - d * wx) / det
        uv, uu = ux * vx + uy * vy, ux * ux + uy * uy
        s = uu / (np.sqrt(np.maximum(uv * uv + (1 - vx * vx - vy * vy) * uu, 0)) - uv)
        usable = np.isfinite(s) & (s >= 0)
        s = np.where(usable, s, 0.0)
        return (
            np.where(usable, s + ra, 0.0),
            ax + np.where(usable, ux + s * vx, 0.0),
            ay + np.where(usable, uy + s * vy, 0.0),
        )


_TINY = 1e-300


@lru_cache(maxsize=32)
def _pairs(n: int) -> tuple[NDArray[np.intp], ...]:
    """Numbers of the points of each pair; a lone point makes a pair with itself."""
    pairs = list(combinations(range(n), 2)) or [(0, 0)]
    return tuple(np.array(v, dtype=np.intp) for v in zip(*pairs, strict=True))


@lru_cache(maxsize=32)
def _triples(n: int) -> tuple[NDArray[np.intp], ...]:
    """Points i, j, k of each triple, and the numbers of its pairs ij, jk, ki; of fewer points, one pair counts."""
    number = {pair: at for at, pair in enumerate(zip(*(v.tolist() for v in _pairs(n)), strict=True))}
    triples = list(combinations(range(n), 3)) or [(0, n - 1, n - 1)]
    rows = [
        (i, j, k, number[i, j], number.get((j, k), number[i, j]), number.get((i, k), number[i, j]))
        for i, j, k in triples
    ]
    return tuple(np.array(v, dtype=np.intp) for v in zip(*rows, strict=True))
