"""The temperature at points between the middles of the cells.

    reading(edges, x, k, R)    weights (points, cells) along one axis, for temperatures above the outside

A cubic through the nearest middles; at an end it also keeps what rules there: no slope on a plane of symmetry, the
flow through the surface elsewhere. In three dimensions the weights of the axes multiply.
"""

from typing import Any

import numpy as np

from batterboard.methods.heat.blocks import Array


def reading(edges: Array, x: Any, k: float, R: float) -> Array:
    """Weights of the cells for points x; the first edge is a plane of symmetry, the last a surface under R [m2 K/W]."""
    x = np.atleast_1d(np.asarray(x, float))
    middles = (edges[1:] + edges[:-1]) / 2
    n, unit = len(middles), edges[-1] - edges[0]
    order = min(4, n + 2)  # conditions, and so powers
    low = (x <= middles[min(1, n - 1)]) | (n < 3)
    high = (x >= middles[max(n - 2, 0)]) & ~low | (n < 3)
    used = order - low - high  # middles that each point takes
    near = np.argsort(np.abs(middles - x[:, None]), axis=1, kind="stable")[:, :order]
    weights = np.zeros((len(x), n))
    conditions = np.empty((len(x), order, order))
    powers = np.arange(order)
    for i, (point, count) in enumerate(zip(x, used)):
        places = [(middles[j] - point) / unit for j in near[i, :count]]
        rows = [[place**p for p in powers] for place in places]
        if low[i]:
            rows.append(_slope((edges[0] - point) / unit, order))
        if high[i]:
            at = (edges[-1] - point) / unit
            rows.append([at**p + R * k / unit * s for p, s in zip(powers, _slope(at, order))])
        conditions[i] = rows
    values = np.linalg.inv(conditions)[:, 0]
    for i, count in enumerate(used):
        weights[i, near[i, :count]] = values[i, :count]
    return weights


def _slope(at: float, order: int) -> list[float]:
    return [0.0, 1.0, 2 * at, 3 * at * at][:order]
