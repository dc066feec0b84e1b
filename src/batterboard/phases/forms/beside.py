"""What would others say of the pressure, and what floats? For comparison and for the page: no check asks it.

    opinion  : Opinion("west", ours=23940, formula=40300, din=31200, din_class="F4", ciria=23940, resting=19600)
    carrying : Carrying("west", pressure=23040, bending=31900, shear=..., turned=...)   its panels, both ways
    floating : Floating("power", lift=31.0, ...)        an empty pipe in fresh concrete

Two national methods stand beside the guide that the form is designed by. Neither was seen but for one equation, and the
slump is only compared with the classes of the German one. Boxes of blockouts float too: `blockouts`.
"""

from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np

from batterboard.job.schema import Mix, Pour
from batterboard.phases.forms.results import Box, Forms
from batterboard.phases.forms.sheathing import carried, limits
from batterboard.quantity import Force, Length, LineLoad, Number, Pressure
from batterboard.record import record
from batterboard.standards import aci347, army, buoyancy, ciria108, din18218, fresh, trade
from batterboard.work.records import Body, Work
from batterboard.working import nan

WALL, COLUMN = 1.0, 1.5  # C_1 of CIRIA 108, from memory


@record
class Opinion:
    """The largest pressure on one form, by each. nan where a method does not know the pour."""

    name: str  # of the form
    ours: Pressure  # what it is designed for
    formula: Pressure  # of the guide before its least pressure and its liquid head, as older charts print it
    din: Pressure
    din_class: str  # of consistency, or that it levels itself
    ciria: Pressure
    resting: Pressure  # if it were never vibrated again as it stiffens: by slow growth of its yield stress


@record
class Carrying:
    """What the panels of a form carry where they are pressed hardest for their span, grain as laid and turned."""

    name: str  # of the form
    panel: str
    across: bool  # face grain across the supports: the strong way
    spans: int
    spacing: Length  # of the supports there
    pressure: Pressure  # there
    bending: Pressure
    shear: Pressure  # rolling
    giving: Pressure  # at which it gives by the share of its span that is allowed
    turned: Pressure  # what it would carry with its grain the other way
    army: Length  # how far apart an older table sets supports at that pressure; nan where it was not read
    yokes: int  # there are; 0 of a wall or an edge
    army_yokes: Number  # an older table sets; nan beyond its sizes


@record
class Floating:
    """An empty pipe in fresh concrete."""

    name: str
    outside: Length
    load: LineLoad  # that each metre of it is lifted by
    length: Length  # of its run
    lift: Force  # of all of it


@record
class Beside:
    opinions: tuple[Opinion, ...]
    carrying: tuple[Carrying, ...]
    floating: tuple[Floating, ...]


def beside(forms: Forms, work: Work, pour: Pour, mixes: Mapping[str, Mix]) -> Beside:
    bodies = {body.name: body for body in work.bodies}
    return Beside(
        opinions=tuple(_opinion(box, bodies[box.name], pour, mixes[bodies[box.name].mix]) for box in forms.boxes),
        carrying=tuple(_carrying(box) for box in forms.boxes if box.sheathing is not None),
        floating=tuple(_floating(work, mixes)),
    )


def _opinion(box: Box, body: Body, pour: Pour, mix: Mix) -> Opinion:
    at, H = box.lateral, box.height
    t_set = trade.setting_time(pour.concrete)
    t_E = din18218.end_of_setting(t_set)
    if mix.flows:
        din, name = din18218.levelling_pressure(at.rate, t_E, mix.weight, H), "levels itself"
    else:
        din, name = _by_class(at.rate, t_E, mix, H, at.slump)
    retarder = 1.0 if mix.retarder else 0.0
    C_1 = COLUMN if at.column else WALL
    C_2 = ciria108.blend_coefficient(retarder, mix.slag, mix.fly_ash)
    rho, along, across = fresh.density(mix.weight), body.outline.along, body.outline.across
    between = along * across / (along + across)  # it hangs on all four sides: a long wall's thickness, half a square
    return Opinion(
        name=box.name,
        ours=at.peak,
        formula=at.formula,
        din=din,
        din_class=name,
        ciria=ciria108.form_pressure(mix.weight, C_1, C_2, pour.concrete, at.rate, H),
        resting=fresh.resting_pressure(rho, H, fresh.SLOW, between, at.rate),
    )


def _by_class(v: Any, t_E: Any, mix: Mix, H: Length, slump: Length) -> tuple[Pressure, str]:
    wet = float(np.max(slump))
    of = next((one for one in din18218.CONSISTENCIES if wet <= one.slump + 1e-6), None)
    if of is None:
        return aci347.liquid_head(mix.weight, H), "wetter than F4: full head"
    return din18218.class_pressure(v, t_E, mix.weight, H, of.a, of.b, of.k, of.least), of.name


def _carrying(box: Box) -> Carrying:
    of = box.sheathing
    assert of is not None
    pressure = aci347.pressure_at(of.head, box.lateral.weight, box.lateral.peak)
    bending, shear, giving = limits(of.panel, of.stress, of.across, of.spacing, of.clear, of.spans)
    return Carrying(
        name=box.name,
        panel=of.name,
        across=of.across,
        spans=of.spans,
        spacing=of.spacing,
        pressure=pressure,
        bending=bending,
        shear=shear,
        giving=giving,
        turned=carried(of.panel, of.stress, not of.across, of.spacing, of.clear, of.spans),
        army=army.stud_spacing(of.panel.thickness, "strong" if of.across else "weak", float(np.max(pressure))),
        yokes=len(box.yokes),
        army_yokes=army.yokes(_most(box.frame.flats), _most(box.height)) if box.frame is not None else nan,
    )


def _most(value: Any) -> float:
    return float(np.max(value))


def _floating(work: Work, mixes: Mapping[str, Mix]) -> Iterator[Floating]:
    elements = {**work.bases, **work.beams}
    for pipe in work.pipes.values():
        weights = [
            mixes[body.mix].weight for name in pipe.through if name in elements for body in elements[name].bodies
        ]
        if not weights:
            continue
        steps = [np.diff(np.asarray(v, float), axis=0) for v in (pipe.x, pipe.y, pipe.z)]
        length = np.sum(np.sqrt(steps[0] ** 2 + steps[1] ** 2 + steps[2] ** 2), axis=0)[()]
        heaviest: Any = nan
        for weight in weights:
            heaviest = np.fmax(heaviest, weight)[()]
        load = buoyancy.pipe_lift(heaviest, pipe.size.outside)
        yield Floating(name=pipe.name, outside=pipe.size.outside, load=load, length=length, lift=load * length)
