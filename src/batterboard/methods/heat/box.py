"""A block by itself that cools the same on every face: what a published solution can be held against.

    box(Box(half_sizes=(0.15,), ...), points, times, cells)    temperatures (times, points), and the account of it all

Symmetrical about its middle, so only half of each axis is computed; along the axes that are left out it goes on for
ever. In steady surroundings it takes no steps, see `settling`, unless it is to be marched.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from batterboard.methods.heat.blocks import Array, Conduction, Grid, Surface, conduction
from batterboard.methods.heat.marching import NOTHING, Account, Sweeps, march, sweeps, times
from batterboard.methods.heat.reading import reading
from batterboard.methods.heat.settling import settling

Rate = Callable[[float], float]


@dataclass(frozen=True)
class Box:
    half_sizes: tuple[float, ...]  # one to three of them, or the radius of a round one
    k: float  # conductivity
    rho_c: float  # heat capacity, by volume
    resistance: float  # of every surface [m2 K/W]; 0 holds it at the temperature outside
    start: float
    outside: float | Rate  # temperature, or what it is by time
    source: float | Rate = 0.0  # heat made, by volume [W/m3]
    round: bool = False


@dataclass(frozen=True)
class Steps:
    """Short after the start, doubling up to the longest [s]."""

    first: float
    most: float


def box(
    of: Box, points: Array, marks: Sequence[float], cells: int, steps: Steps | None = None
) -> tuple[Array, Account]:
    """Temperatures at points, from the block's middle, at every mark of time; the first mark is the start.

    cells : on half of the shortest axis, and at most three times as many on the others
    steps : of the march; left out, none are taken where that is possible
    """
    wide = min(of.half_sizes) / cells
    edges = [np.linspace(0, half, min(round(half / wide), 3 * cells) + 1) for half in of.half_sizes]
    whole = np.array([0.0, 1.0])
    grid = Grid((*edges, *(whole for _ in range(3 - len(edges)))), of.round)  # type: ignore[arg-type]
    surfaces = [Surface("outside", axis, 1, _last(grid, axis), of.resistance) for axis in range(len(edges))]
    c = conduction(grid, np.full(grid.shape, of.k), of.rho_c, surfaces)
    places = np.asarray(points, float).T
    weights = [reading(edge, x, of.k, of.resistance) for edge, x in zip(edges, places)]
    if steps is None and not callable(of.outside) and not callable(of.source):
        T0, power, t = np.full(grid.shape, of.start), of.source * grid.volumes, np.asarray(marks[1:]) - marks[0]
        T, account = settling(c, T0, {"outside": of.outside}, power, t)
        outside = np.full(len(t), of.outside)
    else:
        T, outside, account = _marched(of, grid, c, marks, steps or Steps(900.0, 3600.0))
    first = np.full((1, places.shape[1]), of.start)
    return np.vstack([first, outside[:, None] + _read(T - outside[:, None, None, None], weights)]), account


def _marched(of: Box, grid: Grid, c: Conduction, marks: Sequence[float], steps: Steps) -> tuple[Array, Array, Account]:
    outside, source = (_by_time(rate) for rate in (of.outside, of.source))
    T, t, account = np.full(grid.shape, of.start), float(marks[0]), NOTHING
    known: dict[float, Sweeps] = {}
    got: list[Array] = []
    around: list[float] = []
    for dt in times(np.asarray(marks), steps.first, steps.most):
        ready = known.get(dt) or known.setdefault(dt, sweeps(c, dt))
        middle = t + dt / 2
        T, of_step = march(c, ready, T, {"outside": outside(middle)}, source(middle) * dt * grid.volumes)
        t, account = t + dt, account + of_step
        if t >= marks[len(got) + 1] - 1e-6 * dt:
            got.append(T)
            around.append(outside(t))
    return np.array(got), np.array(around), account


def _by_time(rate: float | Rate) -> Rate:
    return rate if callable(rate) else lambda t: rate


def _last(grid: Grid, axis: int) -> Array:
    mask = np.zeros(grid.shape, bool)
    mask.swapaxes(0, axis)[-1] = True
    return mask


def _read(above: Array, weights: list[Array]) -> Array:
    """By time and point: cells are weighed along one axis after the other."""
    x, y, z = (weights[i] if i < len(weights) else np.ones((len(weights[0]), 1)) for i in range(3))
    return np.einsum("tijk,pi,pj,pk->tp", above, x, y, z, optimize=len(weights) > 1)
