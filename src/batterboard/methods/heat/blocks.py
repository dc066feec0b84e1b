"""Cells, what they are made of and what surrounds them.

    Grid    : edges (nx + 1, ny + 1, nz + 1) [m]; an axis along which nothing changes has one cell
    Surface : where a block meets the outside: name "air", axis 2, side +1, mask of cells, resistance 0.1 m2 K/W
    graded  : edges that are fine where they begin and wider further away

Two halves of neighbouring cells conduct in series; a surface is half a cell and what lies over it (form, blanket, film
of air) in series. An end of the grid without a surface passes nothing: a plane of symmetry.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import pi
from typing import Any

import numpy as np

Array = Any


@dataclass(frozen=True)
class Grid:
    """Edges of the cells along x, y and z [m]. A round one has radii for x, and one cell the whole way round for y."""

    edges: tuple[Array, Array, Array]
    round: bool = False

    @cached_property
    def widths(self) -> tuple[Array, Array, Array]:
        x, y, z = (np.diff(edge) for edge in self.edges)
        return x, y, z

    @cached_property
    def centres(self) -> tuple[Array, Array, Array]:
        x, y, z = ((edge[1:] + edge[:-1]) / 2 for edge in self.edges)
        return x, y, z

    @property
    def shape(self) -> tuple[int, int, int]:
        x, y, z = (len(edge) - 1 for edge in self.edges)
        return x, y, z

    @cached_property
    def volumes(self) -> Array:
        x, y, z = self.widths
        across = pi * np.diff(self.edges[0] ** 2) if self.round else x
        return across[:, None, None] * (1.0 if self.round else y[:, None]) * z

    def faces(self, axis: int, side: int) -> Array:
        """Area of each cell's face on that side of an axis [m2]."""
        if not self.round or axis == 2:
            return self.volumes / self.along(axis)
        if axis == 1:
            return np.zeros(self.shape)
        radii = self.edges[0][1:] if side > 0 else self.edges[0][:-1]
        return 2 * pi * radii[:, None, None] * np.ones((1, 1, 1)) * self.widths[2]

    def along(self, axis: int) -> Array:
        """Width of each cell along an axis, to broadcast [m]."""
        shape = [1, 1, 1]
        shape[axis] = -1
        return self.widths[axis].reshape(shape)


@dataclass(frozen=True)
class Surface:
    """Part of the skin of the block, and what lies between it and the outside."""

    name: str  # of the outside whose temperature it meets
    axis: int
    side: int  # -1 towards smaller coordinates, +1 towards larger
    cells: Array  # mask of those that have it
    resistance: Any  # [m2 K/W], a number or one for each cell


@dataclass(frozen=True)
class Conduction:
    """What cells store, pass to their neighbours and lose to each outside. Built anew when a surface changes."""

    capacity: Array  # [J/K]; 1 in cells of air, which nothing reaches
    links: tuple[Array, Array, Array]  # [W/K] along each axis, one fewer than the cells
    leaks: dict[str, tuple[Array, Array, Array]]  # [W/K] to each outside, along each axis

    @cached_property
    def skins(self) -> dict[str, tuple[Array, float, tuple[tuple[int, Array], ...]]]:
        """By outside: leaks of each cell, the sum of them, and those along each axis that has any."""
        made = {}
        for name, leaks in self.leaks.items():
            each = leaks[0] + leaks[1] + leaks[2]
            made[name] = each, float(each.sum()), tuple((i, leak) for i, leak in enumerate(leaks) if leak.any())
        return made

    @cached_property
    def drained(self) -> Array:
        """All leaks of each cell."""
        return sum((each for each, _, _ in self.skins.values()), np.zeros_like(self.capacity))

    @cached_property
    def lost(self) -> tuple[Array, Array, Array]:
        """All leaks along each axis."""
        x, y, z = (sum(leak[axis] for leak in self.leaks.values()) for axis in range(3))
        return x, y, z


def conduction(grid: Grid, k: Array, rho_c: Array, surfaces: Iterable[Surface]) -> Conduction:
    """k : conductivity [W/m K], 0 where there is air;  rho_c : heat capacity [J/m3 K]; one value for each cell."""
    k, rho_c = np.broadcast_to(k, grid.shape), np.broadcast_to(rho_c, grid.shape)
    solid = k > 0
    halves = [np.where(solid, grid.along(axis) / 2 / np.where(solid, k, 1), np.inf) for axis in range(3)]
    links = []
    for axis, half in enumerate(halves):
        n = grid.shape[axis]
        through = half.take(range(1, n), axis) + half.take(range(n - 1), axis)
        links.append(grid.faces(axis, 1).take(range(n - 1), axis) / through)
    leaks: dict[str, tuple[Array, Array, Array]] = {}
    for one in surfaces:
        held = leaks.setdefault(one.name, tuple(np.zeros(grid.shape) for _ in range(3)))  # type: ignore[arg-type]
        cells = one.cells & solid
        through = np.where(cells, halves[one.axis], 1.0) + one.resistance
        held[one.axis][...] += np.where(cells, grid.faces(one.axis, one.side) / through, 0.0)
    return Conduction(np.where(solid, rho_c * grid.volumes, 1.0), (links[0], links[1], links[2]), leaks)


def exposed(solid: Array, axis: int, side: int) -> Array:
    """Mask of solid cells whose neighbour on that side is air; the ends of the grid do not count."""
    beside = np.ones_like(solid)
    n = solid.shape[axis]
    here, there = (slice(0, n - 1), slice(1, n)) if side > 0 else (slice(1, n), slice(0, n - 1))
    index: list[Any] = [slice(None)] * 3
    other: list[Any] = [slice(None)] * 3
    index[axis], other[axis] = here, there
    beside[tuple(index)] = solid[tuple(other)]
    return solid & ~beside


def graded(start: float, end: float, first: float, growth: float = 1.0) -> Array:
    """Edges from start to end: the first cell so wide or narrower, each next wider by `growth`; either way."""
    length = abs(end - start)
    if growth == 1.0:
        return np.linspace(start, end, max(int(np.ceil(length / first - 1e-9)), 1) + 1)
    n = max(int(np.ceil(np.log1p(length * (growth - 1) / first) / np.log(growth) - 1e-9)), 1)
    at = (growth ** np.arange(n + 1) - 1) / (growth**n - 1)
    return start + (end - start) * at
