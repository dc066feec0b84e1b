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
from typing import Any

import numpy as np

from batterboard.job import schema
from batterboard.phases.concrete import Concrete, Mix
from batterboard.phases.cure import hours
from batterboard.phases.cure.ageing import Ageing
from batterboard.phases.cure.hydrating import binder
from batterboard.phases.cure.results import Times
from batterboard.phases.cure.warmth.blocks import CELL, EARTH, FILM, FORM, Block, alone, block_of, cells_of
from batterboard.phases.cure.warmth.course import FROST, SOAKED, Course
from batterboard.phases.cure.warmth.results import Heat, Input, Run, Warm
from batterboard.quantity import (
    Celsius,
    Conductivity,
    MassDensity,
    Number,
    Resistance,
    SpecificHeat,
    TemperatureDifference,
    Time,
)
from batterboard.standards import aci207, hydration
from batterboard.work.records import Work

__all__ = ["FROST", "Heat", "Input", "Run", "Warm", "heat"]

NUMERIC: TemperatureDifference = 0.7  # error of peak and greatest difference that these cells and steps leave
RULE = "ACI 301-16 and -20"


def heat(work: Work, concrete: Concrete, pour: schema.Pour, cure: Times) -> Heat:
    """Every block that differs from the others, for two weeks, as it is kept and the other way."""
    from batterboard.phases.cure import ages

    air = hours.air_by_hour(pour)
    alike: dict[tuple[Any, ...], list[tuple[Block, int]]] = {}
    for lift in work.lifts:
        for body in lift.bodies:
            if body.part not in ("pad", "step"):
                block = block_of(body, work)
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


def _warm(
    block: Block, like: tuple[str, ...], lift: int, ageing: Ageing, stripped: float, pour: schema.Pour, air: Any,
    cure: Times,
) -> Warm:  # fmt: skip
    cells = cells_of(block, CELL)
    kept = cure.kept[lift]
    lies = bool(np.any(kept.blankets))
    uncovered = alone(kept.kept)
    course = Course(cells, binder(ageing.mix), ageing, block.formed, stripped, uncovered, alone(kept.placed), pour, air)
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
        if one.run.peak > one.hottest or one.run.difference > one.apart:
            yield f"{one.name} passes what specifications for mass concrete let it reach"
    if any(one.run.ground < FROST for one in bodies):
        yield "the GROUND is taken as FROZEN, and what touches it freezes: thaw it first, and say its temperature"
