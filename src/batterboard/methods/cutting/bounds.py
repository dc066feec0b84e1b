"""How few sheets, and how cheap ones, can any plan have?

A dual feasible function stretches and shrinks lengths such that what fitted still fits: pieces of lengths that together
fit a stock do so after it too. The stretched areas of all pieces, in sheets, are then a bound that no plan beats,
sawable or not; many functions are tried along each side, and every pair of them is a bound.

Published by Fekete and Schepers (2001) and by Carlier, Clautiaux and Moukrim (2007): memory, not seen. Each function is
proved by a test on all lists of small lengths instead.
"""

from collections.abc import Sequence
from math import ceil, gcd
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

STEPS = 100  # stairs of the rounding functions
MARKS = 150  # lengths at which the others change, at most
ROUNDING = 1e-7  # of the sums below, in sheets


def functions(stock: int, lengths: Sequence[int]) -> Floats:
    """One row per dual feasible function: what it makes of each length, as a share of the stock."""
    x = np.asarray(lengths, dtype=np.int64)
    rows = [x / stock]
    marks = np.unique(np.concatenate([x, stock - x]))
    marks = marks[(marks > 0) & (marks <= stock // 2)]
    if len(marks) > MARKS:
        marks = marks[np.linspace(0, len(marks) - 1, MARKS).astype(int)]
    for k in marks:
        rows.append(np.where(x > stock - k, 1.0, np.where(x < k, 0.0, x / stock)))  # small ones vanish, large ones fill
        most = stock // k
        large, half = 2 * (most - (stock - x) // k), np.full(len(x), most)
        rows.append(np.where(2 * x > stock, large, np.where(2 * x == stock, half, 2 * (x // k))) / (2 * most))
    for k in range(1, STEPS):
        steps = (k + 1) * x
        rows.append(np.where(steps % stock == 0, x / stock, (steps // stock) / k))
    return np.unique(np.array(rows), axis=0)


class Stuff(NamedTuple):
    """A sort of sheet: whole sides, what it weighs in the sum that is kept small, how many there are (None: no end)."""

    length: int
    width: int
    weight: int
    limit: int | None


def least_weight(
    stuffs: Sequence[Stuff], pieces: Sequence[tuple[int, int]], counts: Sequence[int], turn: Sequence[bool]
) -> int:
    """No set of sheets that holds the pieces weighs less.

    Stretched sheets hold what stretched pieces add up to. What those on hand cannot hold is bought, at the best weight
    for its area; a piece that may be turned counts the way it counts least.
    """
    if not pieces:
        return 0
    long, wide = max(s.length for s in stuffs), max(s.width for s in stuffs)
    n, number = len(pieces), np.asarray(counts, dtype=float)
    ways = 2 if any(turn) else 1  # a turned piece that does not fit counts as the whole side: it lies the other way
    along, across = [p[0] for p in pieces], [p[1] for p in pieces]
    f = functions(long, [*(min(v, long) for v in (along + across)[: n * ways]), *(s.length for s in stuffs)])
    g = functions(wide, [*(min(v, wide) for v in (across + along)[: n * ways]), *(s.width for s in stuffs)])
    turned = np.array([t and w <= long and l <= wide for (l, w), t in zip(pieces, turn)])
    straight = np.array([l <= long and w <= wide for l, w in pieces])
    if ways == 1:
        area = (f[:, :n] * number) @ g[:, :n].T
    else:
        area = np.empty((len(f), len(g)))
        for row, stretched in enumerate(f):
            as_drawn = np.where(straight, stretched[:n] * g[:, :n], np.inf)
            as_turned = np.where(turned, stretched[n : 2 * n] * g[:, n : 2 * n], np.inf)
            area[row] = np.minimum(as_drawn, as_turned) @ number
    holds = [np.outer(f[:, n * ways + s], g[:, n * ways + s]) for s in range(len(stuffs))]
    hand = [s for s, stuff in enumerate(stuffs) if stuff.limit is not None]
    bought = [s for s, stuff in enumerate(stuffs) if stuff.limit is None]
    missing = np.maximum(area - sum((holds[s] * (stuffs[s].limit or 0) for s in hand), np.zeros(area.shape)), 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        rate = np.min([stuffs[s].weight / holds[s] for s in bought], axis=0)
        weight = np.where(missing > 0, missing * rate, 0.0)
    step = gcd(*(stuffs[s].weight for s in bought))
    least = ceil(float(weight.max()) / step - ROUNDING) * step
    if len(bought) == 1 and hand:  # as few are bought as can be: how many on hand are used beside them
        over = area - least / step * holds[bought[0]]
        largest = np.max([holds[s] for s in hand], axis=0)
        with np.errstate(divide="ignore", invalid="ignore"):
            beside = np.where((over > 0) & (largest > 0), over / largest, 0.0)
        least += ceil(float(beside.max()) - ROUNDING) * min(stuffs[s].weight for s in hand)
    return least
