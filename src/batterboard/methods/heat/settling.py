"""A block whose surfaces and heat stay as they are: no steps at all, its own modes die away each at its own rate.

    settling(c, T, outside, power, t)    temperatures at every time t, exact for these cells

C dT/dt = A T + b. Of one material, or of layers along one axis, A is a sum over the axes, and the modes are products of
those of each axis: a few small eigenvalue problems instead of steps. It is what `marching` is held against, since the
two share no line. Where materials meet sideways only `marching` answers.
"""

from collections.abc import Mapping

import numpy as np

from batterboard.methods.heat.blocks import Array, Conduction
from batterboard.methods.heat.marching import Account


def settling(c: Conduction, T: Array, outside: Mapping[str, float], power: Array, t: Array) -> tuple[Array, Account]:
    """T : at the start;  power : heat made in each cell [W];  t : times after it. Times come first in the answer.

    The account is of the whole time to the last t.
    """
    rates, modes = zip(*(_axis(c, axis) for axis in range(3)))
    rate = rates[0][:, None, None] + rates[1][:, None] + rates[2]
    leaks = {name: leak[0] + leak[1] + leak[2] for name, leak in c.leaks.items()}
    b = power + sum(leak * outside[name] for name, leak in leaks.items())
    root = np.sqrt(c.capacity)
    start, push = (_turned(part, [mode.T for mode in modes]) for part in (root * T, b / root))
    times = np.asarray(t, float)[:, None, None, None]
    x = rate * times
    after = _turned(start * np.exp(x) + push * _grown(x) * times, modes) / root
    # What came through the surfaces follows from the temperature summed up over time.
    end = float(t[-1])
    total = _turned(start * _grown(x[-1]) * end + push * _grown_twice(x[-1]) * end**2, modes) / root
    came = {name: float(np.vdot(leak, outside[name] * end - total)) for name, leak in leaks.items()}
    heat = c.capacity * (after[-1] - T)
    made = float(power.sum()) * end
    moved = abs(made) + sum(map(abs, came.values())) + float(np.abs(heat).sum())
    return after, Account(float(heat.sum()), made, came, moved)


def _axis(c: Conduction, axis: int) -> tuple[Array, Array]:
    """Rates and modes along one axis, from its first line of cells; all others are like it but for their section."""
    line: list[int | slice] = [0, 0, 0]
    line[axis] = slice(None)
    at = tuple(line)
    capacity, link, lost = c.capacity[at], c.links[axis][at], c.lost[axis][at]
    A = np.diag(-lost)
    i = np.arange(len(link))
    A[i, i + 1] = A[i + 1, i] = link
    A[i, i] -= link
    A[i + 1, i + 1] -= link
    root = np.sqrt(capacity)
    rate, mode = np.linalg.eigh(A / root / root[:, None])
    return np.minimum(rate, 0.0), mode


def _turned(part: Array, by: list[Array] | tuple[Array, ...]) -> Array:
    """A product of one matrix along each of the last three axes."""
    for axis, matrix in zip((-3, -2, -1), by):
        if len(matrix) > 1:
            part = np.moveaxis(np.moveaxis(part, axis, -1) @ matrix.T, -1, axis)
    return part


def _grown(x: Array) -> Array:
    """(e^x - 1) / x, 1 at 0."""
    near = np.abs(x) < 1e-12
    return np.where(near, 1.0, np.expm1(x) / np.where(near, 1.0, x))


def _grown_twice(x: Array) -> Array:
    """((e^x - 1) / x - 1) / x, 1/2 at 0."""
    near = np.abs(x) < 1e-4
    return np.where(near, 0.5 + x / 6 + x * x / 24, (_grown(x) - 1) / np.where(near, 1.0, x))
