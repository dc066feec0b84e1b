"""A block whose surfaces and heat stay as they are: no steps at all, its own modes die away each at its own rate.

    settling(c, T, outside, power, t)    temperatures at every time t, exact for these cells

C dT/dt = A T + b with A symmetric: with the eigenvalues of C^-1/2 A C^-1/2 every mode is an exponential. It pays for
some tens of cells, and is what `marching` is held against, since the two share no line.
"""

from collections.abc import Mapping

import numpy as np

from batterboard.methods.heat.blocks import Array, Conduction
from batterboard.methods.heat.marching import Account


def settling(c: Conduction, T: Array, outside: Mapping[str, float], power: Array, t: Array) -> tuple[Array, Account]:
    """T : at the start;  power : heat made in each cell [W];  t : times after it. Times come first in the answer.

    The account is of the whole time to the last t.
    """
    n = T.size
    A = np.zeros((n, n))
    at = np.arange(n)
    number = at.reshape(T.shape)
    for axis, link in enumerate(c.links):
        if link.size:
            low, high = (number.take(range(k, T.shape[axis] - 1 + k), axis).ravel() for k in (0, 1))
            A[low, high] = A[high, low] = link.ravel()
    leaks = {name: (leak[0] + leak[1] + leak[2]).ravel() for name, leak in c.leaks.items()}
    A[at, at] = -A.sum(axis=1) - sum(leaks.values())
    b = power.ravel() + sum(leak * outside[name] for name, leak in leaks.items())
    root = np.sqrt(c.capacity.ravel())
    rate, mode = np.linalg.eigh(A / root / root[:, None])
    rate = np.minimum(rate, 0.0)
    start, push = mode.T @ (root * T.ravel()), mode.T @ (b / root)
    x = rate * np.asarray(t, float)[:, None]
    gone, grown = np.exp(x), _grown(x) * np.asarray(t, float)[:, None]
    after = (start * gone + push * grown) @ mode.T / root
    # The mean of the last stretch of time, for what came through the surfaces.
    end = float(t[-1])
    total = (start * grown[-1] + push * _grown_twice(x[-1]) * end**2) @ mode.T / root
    came = {name: float(leak @ (outside[name] * end - total)) for name, leak in leaks.items()}
    stored = float(c.capacity.ravel() @ (after[-1] - T.ravel()))
    made = float(power.sum()) * end
    moved = abs(made) + sum(map(abs, came.values())) + float(c.capacity.ravel() @ np.abs(after[-1] - T.ravel()))
    return after.reshape(-1, *T.shape), Account(stored, made, came, moved)


def _grown(x: Array) -> Array:
    """(e^x - 1) / x, 1 at 0."""
    near = np.abs(x) < 1e-12
    return np.where(near, 1.0, np.expm1(x) / np.where(near, 1.0, x))


def _grown_twice(x: Array) -> Array:
    """((e^x - 1) / x - 1) / x, 1/2 at 0."""
    near = np.abs(x) < 1e-4
    return np.where(near, 0.5 + x / 6 + x * x / 24, (_grown(x) - 1) / np.where(near, 1.0, x))
