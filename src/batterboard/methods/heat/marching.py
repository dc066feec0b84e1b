"""One step in time, axis by axis, and what it costs in heat.

    march(c, s, T, dt, outside, made)    temperatures after dt, and the account of that step
    sweeps(c, dt)                        what every step of that length shares

Douglas' alternating directions about the middle of the step (second order in time and space):

    (C - dt/2 A_x) d_x = dt (A T + b) + made        (C - dt/2 A_y) d_y = C d_x        (C - dt/2 A_z) d = C d_y

so that C d = dt (A T + b) + made + dt/2 (A_x d_x + A_y d_y + A_z d). What passes from cell to cell cancels in the sum
over all cells; the rest is what came through the surfaces. So the account closes but for rounding, however coarse the
cells. A surface that changes suddenly wants short steps after it; `times` makes them.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from batterboard.methods.heat.blocks import Array, Conduction


@dataclass(frozen=True)
class Account:
    """Heat of one step or of many [J]: what is stored more is what was made and what came in."""

    stored: float
    made: float
    came: dict[str, float]  # from each outside, negative where it left
    moved: float  # all of it without signs: what an error is compared with

    @property
    def error(self) -> float:
        """What does not add up, over what moved."""
        return abs(self.stored - self.made - sum(self.came.values())) / self.moved if self.moved else 0.0

    def __add__(self, other: "Account") -> "Account":
        names = {**self.came, **other.came}
        came = {name: self.came.get(name, 0.0) + other.came.get(name, 0.0) for name in names}
        return Account(self.stored + other.stored, self.made + other.made, came, self.moved + other.moved)


NOTHING = Account(0.0, 0.0, {}, 0.0)


@dataclass(frozen=True)
class _Lines:
    """A tridiagonal system for every line of cells along one axis, factored; that axis first."""

    order: tuple[int, ...]
    back: tuple[int, ...]
    scale: Array
    factors: tuple[Array, ...]  # from each line to the next; the same coming down, since the system is symmetrical


@dataclass(frozen=True)
class Sweeps:
    dt: float
    axes: tuple[_Lines | None, ...]  # None along one cell that loses nothing


def sweeps(c: Conduction, dt: float) -> Sweeps:
    """The systems of a step of that length."""
    return Sweeps(dt, tuple(_lines(c, axis, dt / 2) for axis in range(3)))


def _lines(c: Conduction, axis: int, half: float) -> _Lines | None:
    if not c.links[axis].size and not np.any(c.lost[axis]):
        return None
    order = (axis, *(other for other in range(3) if other != axis))
    link = half * np.ascontiguousarray(c.links[axis].transpose(order))
    pivot = np.ascontiguousarray((c.capacity + half * c.lost[axis]).transpose(order))
    pivot[:-1] += link
    pivot[1:] += link
    for i in range(1, len(pivot)):
        pivot[i] -= link[i - 1] ** 2 / pivot[i - 1]
    scale = 1 / pivot
    back = (order.index(0), order.index(1), order.index(2))
    return _Lines(order, back, scale, tuple(link * scale[:-1]))


def _solved(lines: _Lines, right: Array) -> Array:
    """Every line at once, up and down."""
    x = np.ascontiguousarray(right.transpose(lines.order))
    part = np.empty_like(x[0])
    rows = list(x)
    for factor, before, here in zip(lines.factors, rows, rows[1:]):
        np.multiply(factor, before, out=part)
        here += part
    x *= lines.scale
    for factor, after, here in zip(lines.factors[::-1], rows[::-1], rows[-2::-1]):
        np.multiply(factor, after, out=part)
        here += part
    return x.transpose(lines.back)


def march(
    c: Conduction, s: Sweeps, T: Array, outside: Mapping[str, float], made: Array | float = 0.0
) -> tuple[Array, Account]:
    """Temperatures after one step, and its account.

    outside : temperature of each outside in the middle of the step;  made : heat made in each cell during it [J]
    """
    gain = _passed(c, T) - c.drained * T  # the rate at the start
    came_in = {}
    for name, (each, whole, _) in c.skins.items():
        gain += each * outside[name]
        came_in[name] = s.dt * (outside[name] * whole - float(np.vdot(each, T)))
    d = (s.dt * gain + made) / c.capacity
    for axis, lines in enumerate(s.axes):
        if lines is None:
            continue
        d = _solved(lines, c.capacity * d)
        for name, (_, _, leaks) in c.skins.items():
            for along, leak in leaks:
                if along == axis:
                    came_in[name] -= s.dt / 2 * float(np.vdot(leak, d))
    heat = c.capacity * d
    made_in = float(np.sum(made)) * (1 if np.ndim(made) else d.size)
    moved = float(np.abs(heat).sum()) + abs(made_in) + sum(abs(heat) for heat in came_in.values())
    return T + d, Account(float(heat.sum()), made_in, came_in, moved)


_NEIGHBOURS: tuple[tuple[Any, Any], ...] = tuple(
    ((*whole, slice(0, -1)), (*whole, slice(1, None))) for whole in ((), (slice(None),), (slice(None), slice(None)))
)  # the one before and the one after, along each axis


def _passed(c: Conduction, T: Array) -> Array:
    """Heat that reaches each cell from its neighbours [W]."""
    gain = np.zeros_like(T)
    for axis, link in enumerate(c.links):
        if not link.size:
            continue
        low, high = _NEIGHBOURS[axis]
        flow = link * (T[high] - T[low])
        gain[low] += flow
        gain[high] -= flow
    return gain


HELD = 4  # steps of one length before it doubles


def times(marks: Array, first: float, most: float) -> list[float]:
    """Lengths of the steps from the first mark through every other: short at the start, doubling up to `most` [s]."""
    lengths: list[float] = []
    step, held = first, 0
    for start, end in zip(marks[:-1], marks[1:]):
        left = float(end - start)
        while left > 1e-9 * step:
            n = int(np.ceil(left / step - 1e-9))
            taken = min(n, HELD - held) if step < most else n
            lengths += [left / n] * taken  # exactly alike, so that their systems are factored once
            left, held = left * (n - taken) / n, held + taken
            if held >= HELD and step < most:
                step, held = min(2 * step, most), 0
    return lengths
