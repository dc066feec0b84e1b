"""How warm does the block get, in its core and at its edges, and what does a blanket buy?

    heat   : Heat(bodies=(Warm("west", ...),), inputs=(Input("film of air", ...), ...))
    warm   : Warm("west", like=("east",), run=Run(...), other=Run(...))    as it is kept, and the other way
    run    : Run(t, core, edge, air, ...; peak=41.2 at 22 h, difference=14.8, frozen=False)

A pier on its pad in the ground, a beam as a long prism, a round one in rings: concrete that hydrates on its own clock,
form, blanket, ground, air and sun. Forms come off and blankets go when the plan says so. A model of typical numbers,
listed with their sources: it shows what matters, and a thermometer in the concrete knows better. Only asked when
somebody looks; no check and no waiting time rests on it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from batterboard.job import schema
from batterboard.methods.heat import (
    NOTHING,
    Account,
    Grid,
    Surface,
    conduction,
    exposed,
    graded,
    march,
    sweeps,
    times,
)
from batterboard.phases.concrete import Concrete, Mix
from batterboard.phases.cure import hours
from batterboard.phases.cure.ageing import Ageing
from batterboard.phases.cure.hydrating import Binder, binder
from batterboard.phases.cure.results import Times
from batterboard.quantity import (
    Celsius,
    Conductivity,
    Length,
    MassDensity,
    Number,
    Pressure,
    Resistance,
    SpecificHeat,
    TemperatureDifference,
    Time,
    day,
    hour,
)
from batterboard.record import record
from batterboard.standards import aci207, aci306, hydration
from batterboard.work.records import Body, Pier, Work

DAYS = 14 * day
CELL = 0.10  # widest cell in concrete [m]
FAR = 1.2  # ground that is looked at, beside and below [m]
FIRST, LONGEST = 900.0, 10800.0  # steps after a change, and later [s]
NUMERIC: TemperatureDifference = 0.7  # error of peak and greatest difference that these cells and steps leave

FILM: Resistance = 0.1  # of light wind over a face, 10 W/m2 K: textbooks, memory
FORM: Resistance = 0.15  # 3/4 in of plywood at 0.12 W/m K: textbooks, memory
EARTH: Conductivity = 1.5  # moist sand and gravel: typical, invented
EARTH_HEAT = 2.0e6  # [J/m3 K] the same
SUN = 600.0  # [W/m2] at noon on a clear day: typical, invented
SOAKED: Number = 0.65  # share of it that concrete takes: textbooks, memory
FROST: Celsius = 0.0
RULE = "ACI 301-16 and -20"


@record
class Input:
    """One number that the model takes."""

    name: str
    value: Any
    kind: Any
    source: str


@record
class Run:
    """The course of one block. Times from the end of placing."""

    t: Time
    core: Celsius  # where it gets hottest
    edge: Celsius  # its uppermost corner, at the very skin
    air: Celsius
    ground: Celsius
    strong_edge: Pressure  # by the function that gives least
    strong_core: Pressure
    peak: Celsius
    peak_at: Time
    difference: TemperatureDifference  # the greatest, between the core and the coldest face round it, at its middle
    difference_at: Time
    coldest: Celsius  # anywhere in it, before it may freeze once
    proof_at: Time  # when its edge may freeze once; nan within these days
    frozen: bool  # whether it froze before that


@record
class Warm:
    """One block, and all that look and are kept like it."""

    name: str
    like: tuple[str, ...]
    lift: int
    blankets: bool  # whether they lie on it
    stripped: Time
    uncovered: Time
    run: Run
    other: Run  # without blankets where they lie, with them where they do not
    hottest: Celsius  # what specifications let it reach
    apart: TemperatureDifference  # and how unevenly
    cell: Length  # its widest
    cells: int
    steps: int
    balance: Number  # what the scheme's own account leaves over


@record
class Heat:
    bodies: tuple[Warm, ...]
    inputs: tuple[Input, ...]
    notes: tuple[str, ...]

    @property
    def cells(self) -> int:
        return sum(one.cells for one in self.bodies)

    @property
    def balance(self) -> float:
        """The worst of their accounts."""
        return max((float(one.balance) for one in self.bodies), default=0.0)


def heat(work: Work, concrete: Concrete, pour: schema.Pour, cure: Times) -> Heat:
    """Every block that differs from the others, for two weeks, as it is kept and the other way."""
    from batterboard.phases.cure import ages

    air = hours.air_by_hour(pour)
    alike: dict[tuple[Any, ...], list[tuple[_Block, int]]] = {}
    for lift in work.lifts:
        for body in lift.bodies:
            if body.part not in ("pad", "step"):
                block = _block(body, work)
                alike.setdefault((*block.look, lift.number, body.mix), []).append((block, lift.number))
    lifts = {lift.number: lift for lift in work.lifts}
    bodies = []
    for same in alike.values():
        block, number = same[0]
        ageing = ages(lifts[number], concrete, pour, air)[block.mix]
        stripped = next((w.at for w in cure.waits if w.act == "strip" and w.element == block.name), 0.0)
        bodies.append(
            _warm(block, tuple(b.name for b, _ in same[1:]), number, ageing, float(stripped), pour, air, cure)
        )
    mixes = {block.mix for same in alike.values() for block, _ in same}
    return Heat(
        bodies=tuple(bodies),
        inputs=tuple(_inputs(pour, [concrete.mixes[name] for name in sorted(mixes)])),
        notes=tuple(_notes(bodies)),
    )


# ---- what stands there ----


@dataclass(frozen=True)
class _Block:
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


def _block(body: Body, work: Work) -> _Block:
    base = work.bases.get(body.element)
    pad = base.pad if isinstance(base, Pier) else None
    o = body.outline
    round_ = o.kind != "rectangle"
    half, area = _half(o.along, o.across), _one(o.area)
    pad_half = None if pad is None else _half(pad.outline.along, pad.outline.across)
    if pad_half is not None and isinstance(base, Pier) and base.steps:  # one block as high and of the same volume
        volume = sum(_one(one.outline.area * one.height) for one in base.bodies[:-1])
        shrink = float(np.sqrt(volume / (4 * pad_half[0] * pad_half[1] * _one(body.bottom - base.foot.bottom))))
        pad_half = pad_half[0] * shrink, pad_half[1] * shrink
    if round_:  # rings of the same area
        half = (_radius(area),) * 2
        pad_half = None if pad_half is None else (_radius(4 * pad_half[0] * pad_half[1]),) * 2
    low = _one(pad.bottom if pad is not None else body.bottom)
    top = _one(body.top)
    ground = min(max(_one(work.ground.level(body.frame.x, body.frame.y)), low), top)
    return _Block(
        name=body.element,
        mix=body.mix,
        formed=body.against == "form",
        round=round_,
        long=body.part == "beam",
        half=half,
        pad=pad_half,
        levels=(low, _one(body.bottom), ground, top),
    )


def _half(along: Any, across: Any) -> tuple[float, float]:
    return _one(along) / 2, _one(across) / 2


def _radius(area: float) -> float:
    return float(np.sqrt(area / np.pi))


def _one(value: Any) -> float:
    return float(np.ravel(value)[0])


@dataclass(frozen=True)
class _Cells:
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


def _cells(block: _Block, cell: float) -> _Cells:
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
    return _Cells(grid, concrete, solid, k, np.where(concrete, density, EARTH_HEAT))


def _through(levels: list[float], cell: float) -> Any:
    """Edges through every level that is apart from the last."""
    edges = [np.array(levels[:1])]
    for start, end in zip(levels, levels[1:]):
        if end - start > 1e-3:
            edges.append(graded(start, end, cell)[1:])
    return np.concatenate(edges)


def _away(halves: list[float], cell: float) -> Any:
    return np.concatenate([_through([0.0, *halves], cell), graded(halves[-1], halves[-1] + FAR, cell, 1.6)[1:]])


def _surfaces(cells: _Cells, formed: bool, blanket: float) -> list[Surface]:
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
class _Stretch:
    """What was computed while its skin stayed the same."""

    cells: _Cells
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


# ---- two weeks ----


def _warm(
    block: _Block, like: tuple[str, ...], lift: int, ageing: Ageing, stripped: float, pour: schema.Pour, air: Any,
    cure: Times,
) -> Warm:  # fmt: skip
    cells = _cells(block, CELL)
    kept = cure.kept[lift]
    lies = bool(np.any(kept.blankets))
    uncovered = _one(kept.kept)
    course = _Course(cells, binder(ageing.mix), ageing, block.formed, stripped, uncovered, _one(kept.placed), pour, air)
    run, account, steps = course.run(lies)
    other, _, _ = course.run(not lies)
    limit = aci207.limits(RULE)
    return Warm(
        name=block.name,
        like=like,
        lift=lift,
        blankets=lies,
        stripped=stripped,
        uncovered=uncovered,
        run=run,
        other=other,
        hottest=limit.hottest,
        apart=limit.difference,
        cell=CELL,
        cells=int(cells.solid.sum()),
        steps=steps,
        balance=account.error,
    )


@dataclass(frozen=True)
class _Course:
    cells: _Cells
    binder: Binder
    ageing: Ageing
    formed: bool
    stripped: float
    uncovered: float
    placed: float
    pour: schema.Pour
    air: Any

    def _outside(self, t: Any) -> dict[str, Any]:
        """What the skin meets."""
        air = np.interp(t / hour, np.arange(len(self.air)), self.air)
        ground = _one(self.pour.air if self.pour.earth is None else self.pour.earth)
        return {"air": air, "top": air + self._sun(t), "ground": ground}

    def _sun(self, t: Any) -> Any:
        """How much warmer the air would have to be to bring as much heat."""
        if self.pour.sun == "shade":
            return 0.0
        high = np.sin(np.pi * ((hours.begins_at(self.pour) + t / hour) % 24 - 6) / 12)
        return SOAKED * SUN * FILM * np.maximum(high, 0.0)

    def run(self, blankets: bool) -> tuple[Run, Account, int]:
        cells, concrete = self.cells, self.cells.concrete
        ground = self._outside(0.0)["ground"]
        T = np.where(concrete, self.placed, ground)
        age = np.zeros(int(concrete.sum()))
        made = self.binder.made(age)
        volumes = cells.grid.volumes * np.ones(cells.grid.shape)
        before, last = T[concrete], 1.0
        heat, account, t = np.zeros(cells.grid.shape), NOTHING, 0.0
        at = [t]
        stretches: list[_Stretch] = []
        changes = sorted({0.0, *(at for at in (self.stripped, self.uncovered) if 0 < at < DAYS), DAYS})
        for start, end in zip(changes, changes[1:]):
            blanket = _one(self.pour.blanket) if blankets and start < self.uncovered else 0.0
            surfaces = _surfaces(cells, self.formed and start < self.stripped, blanket)
            c = conduction(cells.grid, cells.k, cells.rho_c, surfaces)
            known: dict[float, Any] = {}
            kept, first = ([T], 0) if not stretches else ([], len(at))
            for dt in times(np.array([start, end]), FIRST, LONGEST):
                ready = known.get(dt) or known.setdefault(dt, sweeps(c, dt))
                now = T[concrete]
                middle = now + (now - before) * (dt / last / 2)
                age = age + dt * self.binder.clock(middle)
                after = self.binder.made(age)
                heat[concrete] = (after - made) * volumes[concrete]
                made, before, last = after, now, dt
                T, step = march(c, ready, T, self._outside(t + dt / 2), heat)
                account, t = account + step, t + dt
                at.append(t)
                kept.append(T)
            outside = self._outside(np.array(at[first:]))
            stretches.append(_Stretch(cells, surfaces, outside, np.array(kept)))
        return self._told(np.array(at), stretches), account, len(at) - 1

    def _told(self, t: Any, stretches: list[_Stretch]) -> Run:
        concrete = self.cells.concrete
        inside = np.concatenate([each.T[:, concrete] for each in stretches])
        edge, foot = (
            np.concatenate([each.skin(self.cells.corner(end), ((0, 1), (1, 1), (2, side))) for each in stretches])
            for end, side in ((-1, 1), (0, -1))
        )
        core = inside[:, inside.max(axis=0).argmax()]
        cold = np.minimum(np.minimum(inside.min(axis=1), edge), foot)
        strong = [self.ageing.along(t, place) for place in (edge, core)]
        young = strong[0] < aci306.FROST_PROOF
        apart = core - self._faces(stretches, inside)
        hottest, uneven = int(core.argmax()), int(apart.argmax())
        coldest = float(cold[young].min())
        return Run(
            t=t,
            core=core,
            edge=edge,
            air=self._outside(t)["air"],
            ground=self._outside(0.0)["ground"],
            strong_edge=strong[0],
            strong_core=strong[1],
            peak=float(core[hottest]),
            peak_at=float(t[hottest]),
            difference=float(apart[uneven]),
            difference_at=float(t[uneven]),
            coldest=coldest,
            proof_at=_reached(aci306.FROST_PROOF, t, strong[0]),
            frozen=coldest < FROST,
        )

    def _faces(self, stretches: list[_Stretch], inside: Any) -> Any:
        """The coldest of the faces' middles, as seen from where it gets hottest: in a pad, also those of the shaft."""
        concrete = self.cells.concrete
        x, y, z = np.argwhere(concrete)[inside.max(axis=0).argmax()]
        up = np.flatnonzero(concrete[x, y])
        shaft = next(n for n in range(z, up[-1] + 1) if np.array_equal(concrete[:, :, n], concrete[:, :, up[-1]]))
        ends = [((x, y, up[0]), (2, -1)), ((x, y, up[-1]), (2, 1))]
        for level in (z, shaft):
            ends.append(((np.flatnonzero(concrete[:, y, level])[-1], y, level), (0, 1)))
            ends.append(((x, np.flatnonzero(concrete[x, :, level])[-1], level), (1, 1)))
        # A beam or ring has no end along y: its one cell there is the core itself, and never the coldest.
        return np.min([np.concatenate([each.skin(at, (face,)) for each in stretches]) for at, face in ends], axis=0)


def _reached(f: float, t: Any, strength: Any) -> float:
    """When a strength that only grows is f; nan where it is not reached."""
    return float(np.interp(f, strength, t)) if strength[-1] >= f else float("nan")


# ---- what it rests on ----


def _inputs(pour: schema.Pour, mixes: list[Mix]) -> Iterator[Input]:
    job, invented, memory = "the job file", "typical, invented", "textbooks, from memory"
    yield Input(name="concrete as placed", value=pour.concrete, kind=Celsius, source=job)
    yield Input(name="air, mean of the days after", value=pour.air, kind=Celsius, source=job)
    yield Input(name="air, swing about its mean", value=pour.swing, kind=TemperatureDifference, source=job)
    earth = pour.air if pour.earth is None else pour.earth
    yield Input(
        name="ground", value=earth, kind=Celsius, source=job if pour.earth is not None else "the mean of the air"
    )
    yield Input(name="blanket", value=pour.blanket, kind=Resistance, source=job)
    yield Input(name="form, 3/4 in plywood", value=FORM, kind=Resistance, source=memory)
    yield Input(name="film of air, light wind", value=FILM, kind=Resistance, source=memory)
    properties = str(aci207.PROPERTIES)
    yield Input(name="concrete conducts", value=aci207.CONDUCTIVITY, kind=Conductivity, source=properties)
    yield Input(name="concrete stores", value=aci207.SPECIFIC_HEAT, kind=SpecificHeat, source=properties)
    yield Input(name="concrete weighs", value=aci207.DENSITY, kind=MassDensity, source=properties)
    yield Input(name="ground conducts", value=EARTH, kind=Conductivity, source=invented)
    worked = "held against cells and steps three times finer"
    yield Input(name="error of its cells and steps", value=NUMERIC, kind=TemperatureDifference, source=worked)
    if pour.sun == "open":
        yield Input(name="sun soaked up", value=SOAKED, kind=Number, source=memory)
    for mix in mixes:
        made = binder(mix)
        heat = made.heat / mix.binder
        rise = hydration.adiabatic_rise(heat, mix.binder, made.alpha_u, aci207.DENSITY, aci207.SPECIFIC_HEAT)
        model = str(hydration.CURVE.document.name)
        yield Input(name=f"{mix.name}: binder", value=mix.binder, kind=MassDensity, source=f"the {mix.batch_from}")
        typical = f"{model}, of a typical {mix.cement}, invented"
        yield Input(name=f"{mix.name}: how suddenly", value=made.beta, kind=Number, source=typical)
        yield Input(name=f"{mix.name}: reacts in about", value=made.tau, kind=Time, source=typical)
        yield Input(name=f"{mix.name}: warmer at most by", value=rise, kind=TemperatureDifference, source=model)
        quick, rule = aci207.quick_rise(mix.binder * (1 - mix.fly_ash - mix.slag)), str(aci207.PCA)
        yield Input(name=f"{mix.name}: by the quick rule", value=quick, kind=TemperatureDifference, source=rule)


def _notes(bodies: list[Warm]) -> Iterator[str]:
    yield "all lifts are taken as placed together, the pad in the middle under its pier, chamfers and steel left out"
    yield "the hole round a formed pier is taken as open; deeper ground and everything further out changes nothing"
    for one in bodies:
        if one.run.frozen:
            yield f"{one.name} FREEZES while it is young: cover it, warm it, or wait for another week"
    if any(one.run.ground < FROST for one in bodies):
        yield "the GROUND is taken as FROZEN, and what touches it freezes: thaw it first, and say its temperature"
        if one.run.peak > one.hottest or one.run.difference > one.apart:
            yield f"{one.name} passes what specifications for mass concrete let it reach"
