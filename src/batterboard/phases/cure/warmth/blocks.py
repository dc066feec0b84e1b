"""Which cells make up a block with the ground round it, and what lies on its skin?

block   : Block("west", half=(0.28, 0.28), pad=(0.69, 0.69), levels=(28.7, 29.1, 29.7, 30.7))
cells   : Cells(grid, concrete, solid, ...)      a quarter of it, the widest of them CELL
stretch : Stretch(cells, surfaces, outside, T)   what was computed while its skin stayed the same
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from batterboard.methods.heat import Grid, Surface, exposed, graded
from batterboard.quantity import Conductivity, Resistance
from batterboard.standards import aci207
from batterboard.work.records import Body, Pier, Work

CELL = 0.10  # widest cell in concrete [m]
FAR = 1.2  # ground that is looked at, beside and below [m]
FILM: Resistance = 0.1  # of light wind over a face, 10 W/m2 K: textbooks, memory
FORM: Resistance = 0.15  # 3/4 in of plywood at 0.12 W/m K: textbooks, memory
EARTH: Conductivity = 1.5  # moist sand and gravel: typical, invented
EARTH_HEAT = 2.0e6  # [J/m3 K] the same


@dataclass(frozen=True)
class Block:
    """A shaft on a pad, quarter by quarter: the pad in its middle, its steps spread over it, no chamfers, no steel."""

    name: str
    mix: str
    formed: bool
    round: bool
    long: bool  # a beam goes on along x
    half: tuple[float, float]
    pad: tuple[float, float] | None
    levels: tuple[float, float, float, float]  # underside, top of the pad, ground, top

    @property
    def look(self) -> tuple[Any, ...]:
        low = self.levels[0]
        sizes = (*self.half, *(self.pad or ()), *(level - low for level in self.levels))
        return self.formed, self.round, self.long, *(round(size, 2) for size in sizes)


def block_of(body: Body, work: Work) -> Block:
    base = work.bases.get(body.element)
    pad = base.pad if isinstance(base, Pier) else None
    o = body.outline
    round_ = o.kind != "rectangle"
    half, area = _half(o.along, o.across), alone(o.area)
    pad_half = None if pad is None else _half(pad.outline.along, pad.outline.across)
    if pad_half is not None and isinstance(base, Pier) and base.steps:  # one block as high and of the same volume
        volume = sum(alone(one.outline.area * one.height) for one in base.bodies[:-1])
        shrink = float(np.sqrt(volume / (4 * pad_half[0] * pad_half[1] * alone(body.bottom - base.foot.bottom))))
        pad_half = pad_half[0] * shrink, pad_half[1] * shrink
    if round_:  # rings of the same area
        half = (_radius(area),) * 2
        pad_half = None if pad_half is None else (_radius(4 * pad_half[0] * pad_half[1]),) * 2
    low = alone(pad.bottom if pad is not None else body.bottom)
    top = alone(body.top)
    ground = min(max(alone(work.ground.level(body.frame.x, body.frame.y)), low), top)
    return Block(
        name=body.element,
        mix=body.mix,
        formed=body.against == "form",
        round=round_,
        long=body.part == "beam",
        half=half,
        pad=pad_half,
        levels=(low, alone(body.bottom), ground, top),
    )


def _half(along: Any, across: Any) -> tuple[float, float]:
    return alone(along) / 2, alone(across) / 2


def _radius(area: float) -> float:
    return float(np.sqrt(area / np.pi))


def alone(value: Any) -> float:
    return float(np.ravel(value)[0])


@dataclass(frozen=True)
class Cells:
    grid: Grid
    concrete: Any  # masks
    solid: Any
    k: Any
    rho_c: Any

    def corner(self, end: int) -> tuple[int, int, int]:
        """The cell furthest out of the uppermost ones, or with 0 of the lowest."""
        z = int(np.flatnonzero(self.concrete.any(axis=(0, 1)))[end])
        level = np.argwhere(self.concrete[:, :, z])
        x, y = level[level.sum(axis=1).argmax()]
        return int(x), int(y), z


def cells_of(block: Block, cell: float) -> Cells:
    low, pad_top, ground, top = block.levels
    wide = block.pad or block.half
    x = _away([block.half[1 if block.long else 0], wide[1 if block.long else 0]], cell)
    y = np.array([0.0, 1.0]) if block.round or block.long else _away([block.half[1], wide[1]], cell)
    z = np.concatenate(
        [graded(low, low - FAR, cell, 1.6)[:0:-1], _through([low, pad_top, ground, top], cell), [top + 0.1]]
    )
    grid = Grid((x, y, z), block.round)
    X, Y, Z = np.meshgrid(*grid.centres, indexing="ij", sparse=True)
    flat = block.round or block.long

    def within(half: tuple[float, float]) -> Any:
        return (X < half[1 if block.long else 0]) & (flat | (Y < half[1]))

    shaft = within(block.half) & (Z > pad_top) & (Z < top)
    pad = within(wide) & (Z > low) & (Z < pad_top)
    concrete = shaft | pad
    hole = within(wide) & (Z > pad_top) if block.formed else np.zeros(grid.shape, bool)
    solid = concrete | ((Z < ground) & ~hole)
    density = aci207.DENSITY * aci207.SPECIFIC_HEAT
    k = np.where(concrete, aci207.CONDUCTIVITY, EARTH) * solid
    return Cells(grid, concrete, solid, k, np.where(concrete, density, EARTH_HEAT))


def _through(levels: list[float], cell: float) -> Any:
    """Edges through every level that is apart from the last."""
    edges = [np.array(levels[:1])]
    for start, end in zip(levels, levels[1:]):
        if end - start > 1e-3:
            edges.append(graded(start, end, cell)[1:])
    return np.concatenate(edges)


def _away(halves: list[float], cell: float) -> Any:
    return np.concatenate([_through([0.0, *halves], cell), graded(halves[-1], halves[-1] + FAR, cell, 1.6)[1:]])


def surfaces_of(cells: Cells, formed: bool, blanket: float) -> list[Surface]:
    """As its skin is now. formed : whether the forms are on;  blanket : 0 where none lies."""
    surfaces = []
    for axis in (0, 1, 2):
        for side in (-1, 1):
            bare = exposed(cells.solid, axis, side)
            over = np.where(cells.concrete, FILM + blanket + (FORM if formed and axis < 2 else 0.0), FILM)
            surfaces.append(Surface("top" if axis == 2 else "air", axis, side, bare, over))
    deep = np.zeros(cells.solid.shape, bool)
    deep[:, :, 0] = True
    surfaces.append(Surface("ground", 2, -1, deep, 0.0))
    return surfaces


@dataclass(frozen=True)
class Stretch:
    """What was computed while its skin stayed the same."""

    cells: Cells
    surfaces: list[Surface]
    outside: dict[str, Any]  # by time
    T: Any  # by time and cell

    def skin(self, place: tuple[int, int, int], faces: tuple[tuple[int, int], ...]) -> Any:
        """Temperatures at the skin of a cell, over one face after the other; not in its middle, half a cell inside.

        faces : (axis, side) of each; one that lies on earth is read where both meet
        """
        cells = self.cells
        T = self.T[:, *place]
        for axis, side in faces:
            half = cells.grid.widths[axis][place[axis]] / 2 / cells.k[place]
            beside = tuple(i + side * (along == axis) for along, i in enumerate(place))
            over = [s for s in self.surfaces if (s.axis, s.side) == (axis, side) and s.cells[place]]
            for one in over:
                R = one.resistance[place]
                T = self.outside[one.name] + (T - self.outside[one.name]) * R / (R + half)
            if not over and beside[axis] < cells.solid.shape[axis] and cells.solid[beside]:
                other = cells.grid.widths[axis][beside[axis]] / 2 / cells.k[beside]
                T = (T * other + self.T[:, *beside] * half) / (half + other)
        return T
