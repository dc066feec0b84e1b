"""Will it stand, and will the leaf still latch?"""

from dataclasses import MISSING, fields, replace

import numpy as np
import pytest

from batterboard.job.schema import Mix, Wind
from batterboard.methods import contact
from batterboard.phases import size
from batterboard.quantity import ft, inch, kip, mph, pcf, pci, psf, psi
from batterboard.quantity import lb as pound
from batterboard.standards import asce7, ibc, statics, tables
from batterboard.work.records import Body, Bolts, Frame, Ground, Leaf, Machine, Outline, Pier, Plate, Post, Sign, Slab, Soil, Work
from batterboard.work.records import Beam

MIXES = {"stiff": Mix(strength=4000 * psi)}
WIND = Wind(speed=110 * mph, exposure="C")
SAND = Soil(
    name="sandy gravel", bearing=3000 * psf, side=200 * psf / ft, friction=0.35, cohesion=np.nan, stiff=100 * pci,
    weight=110 * pcf, swell=1.25, slope="C", origin="table",
)  # fmt: skip
CLAY = replace(SAND, name="clay", bearing=1500 * psf, friction=np.nan, cohesion=130 * psf)


def made(kind, **given):
    """A record with what this phase reads; the rest is left open."""
    needed = {f.name for f in fields(kind) if f.default is MISSING and f.default_factory is MISSING}
    return kind(**dict.fromkeys(needed - set(given)) | given)


def body(name, along, across, bottom, top, x=0.0, part="pad", kind="rectangle"):
    outline = Outline(kind=kind, along=along, across=across)
    frame = Frame(x=x, y=0.0, turn=0.0)
    return made(
        Body, name=name, element=name, part=part, outline=outline, frame=frame, bottom=bottom, top=top, mix="stiff"
    )  # fmt: skip


def pier(name, x, pad_along=54 * inch, pad_across=48 * inch, shift=0.0, pad=True, round_=False, depth=40 * inch):
    shaft = body(name, 22 * inch, 22 * inch, 8 * inch - depth, 8 * inch, x, "pier", "round" if round_ else "rectangle")
    under = body(name + " pad", pad_along, pad_across, -48 * inch, -32 * inch, x + shift) if pad else None
    return made(Pier, name=name, shaft=shaft, pad=under)


PLATE = made(Plate, along=12 * inch, across=12 * inch, thick=0.75 * inch)


def post(name, on, x, section="HSS5X5X1/4", height=84 * inch):
    return made(
        Post, name=name, on=on, frame=Frame(x=x, y=0.0, turn=0.0), section=tables.section(section), foot_z=9 * inch,
        base_z=8 * inch, top_z=8 * inch + height, plate=PLATE,
    )  # fmt: skip


def leaf(**changes):
    one = made(
        Leaf, name="leaf", hinge_post="hinge", latch_post="latch", meets="latch", toward=1, turn=0.0, length=13 * ft,
        height=5 * ft, weight=380 * pound_force, solid=0.35, clear=4 * inch, low=14 * inch, high=62 * inch,
        hinge_gap=2.5 * inch, latch_gap=1 * inch, play=0.5 * inch, opens_to=np.pi / 2, swings="in",
        person=250 * pound_force,
    )  # fmt: skip
    return replace(one, **changes)


pound_force = float(kip) / 1000


def work(piers, posts=(), leaves=(), beams=(), soil=SAND, signs=(), machines=(), slabs=(), ground=0.0):
    def named(things):
        return {thing.name: thing for thing in things}

    flat = made(Ground, x=np.zeros(1), y=np.zeros(1), z=np.full(1, ground), slope_x=0.0, slope_y=0.0)
    return made(
        Work, soil=soil, ground=flat, piers=named(piers), slabs=named(slabs), beams=named(beams), posts=named(posts),
        leaves=named(leaves), signs=named(signs), machines=named(machines),
    )  # fmt: skip


GAP = 15 * ft + 3 * inch


def gate(tied=False, soil=SAND, hinge=None, **changes):
    between = body("tie", GAP - 22 * inch, 14 * inch, -20 * inch, 0.0, GAP / 2, "beam")
    beam = made(Beam, name="tie", between=("west", "east"), body=between)
    return work(
        [hinge or pier("west", 0.0), pier("east", GAP)],
        [post("hinge", "west", 0.0), post("latch", "east", GAP)],
        [leaf(**changes)],
        [beam] if tied else [],
        soil,
    )


def by_name(answer, name, element):
    return next(c for c in answer.checks if c.name == name and c.element == element)


def test_smoke():
    answer = size.stands(gate(tied=True), WIND, MIXES)
    for c in answer.checks:
        print(c.title, c.worst_demand, c.worst_capacity, c.verdict, c.case)
    print(answer.movements)
