"""How few sheets can any plan have?

A dual feasible function stretches and shrinks lengths such that what fitted still fits: pieces of lengths that together
fit a stock do so after it too. The stretched areas of all pieces, in sheets, are then a bound that no plan beats,
sawable or not; many functions are tried along each side, and every pair of them is a bound.

Published by Fekete and Schepers (2001) and by Carlier, Clautiaux and Moukrim (2007): memory, not seen. Each function is
proved by a test on all lists of small lengths instead.
"""

from collections.abc import Sequence
from math import ceil

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


def fewest_sheets(
    length: int, width: int, pieces: Sequence[tuple[int, int]], counts: Sequence[int], turn: Sequence[bool]
) -> int:
    """No plan has fewer sheets. A piece that may be turned counts the way it counts least."""
    if not pieces:
        return 0
    along, across = [p[0] for p in pieces], [p[1] for p in pieces]
    number = np.asarray(counts, dtype=float)
    if not any(turn):
        f, g = functions(length, along), functions(width, across)
        return ceil(float(((f * number) @ g.T).max()) - ROUNDING)
    n = len(pieces)
    # a turned piece that does not fit counts as the whole side: it lies the other way
    f = functions(length, [min(v, length) for v in (*along, *across)])
    g = functions(width, [min(v, width) for v in (*across, *along)])
    turned = [t and w <= length and l <= width for (l, w), t in zip(pieces, turn)]
    straight = [l <= length and w <= width for l, w in pieces]
    best = 0.0
    for row in f:
        as_drawn = np.where(straight, row[:n] * g[:, :n], np.inf)
        as_turned = np.where(turned, row[n:] * g[:, n:], np.inf)
        best = max(best, float((np.minimum(as_drawn, as_turned) @ number).max()))
    return ceil(best - ROUNDING)
