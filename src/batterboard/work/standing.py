"""What stands on the concrete, and where?

    post    : its plate lies as the found bolts carry it, on grout; cast in, it has neither
    leaf    : from its hinge post to its latch post, or to the leaf it meets
    pipe    : a centre-line, down from above a pier's top, along inside a beam's ties, up again

Where the file leaves a hinge height or a gap out, common practice stands in and the book says so.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

import numpy as np

from batterboard.job import schema, shorthand
from batterboard.quantity import Length
from batterboard.standards import tables
from batterboard.work.axes import stacked, together
from batterboard.work.found import Sight
from batterboard.work.placing import Places, found_places, hinge_gap, latch_gap, on_bolts, pattern
from batterboard.work.records import Beam, Bolts, Frame, Leaf, Machine, Pier, Pipe, Plate, Post, Sign, Slab
from batterboard.working import absolute, arctan2, cos, nan, sin, where

Base = Pier | Slab
Assume = Callable[[str, str, Any, Any], Any]  # path, meaning, value, kind: notes it and gives the value back


def post(name: str, post: schema.Post, places: Places, base: Base) -> Post:
    plate = bolts = None
    foot, socket = base.top, nan
    if post.joint is not None:
        template = places.template(base.name, post.shift)
        plate = _plate(post.joint)
        bolts = _bolts(name, post, post.joint, template, places.sights(base.name, post, template))
        foot = base.top + post.joint.grout
    elif post.set is not None:
        socket = post.set.deep
        foot = base.top - socket
    return Post(
        name=name,
        on=base.name,
        frame=places.post(name),
        section=tables.section(post.section),
        foot_z=foot,
        base_z=base.top,
        top_z=base.top + post.height,
        plate=plate,
        bolts=bolts,
        socket=socket,
        lean=0.0 if post.lean is None else post.lean,
    )


def machine(name: str, machine: schema.Machine, places: Places, base: Base) -> Machine:
    template = places.template(base.name, machine.shift)
    bolts = _bolts(name, machine, machine.joint, template, places.sights(base.name, machine, template))
    found = bool(machine.bolts)
    return Machine(
        name=name,
        on=base.name,
        frame=on_bolts(template, bolts.x, bolts.y, bolts.found_x, bolts.found_y) if found else template,
        weight=machine.weight,
        centre=machine.centre,
        side=machine.side,
        plate=_plate(machine.joint),
        bolts=bolts,
    )


def _plate(joint: schema.Joint) -> Plate:
    along, across, thick = joint.plate
    rod = tables.rod(joint.bolts.diameter, joint.bolts.grade)
    return Plate(
        along=along,
        across=across,
        thick=thick,
        hole=rod.hole if joint.hole is None else joint.hole,
        grout=joint.grout,
        weld=nan if joint.weld is None else joint.weld,
        holes=joint.holes,
    )


def _bolts(
    name: str,
    thing: schema.Post | schema.Machine,
    joint: schema.Joint,
    template: Frame,
    seen: dict[int, tuple[Sight, ...]],
) -> Bolts:
    found = thing.bolts
    x, y = pattern(joint)
    found_x, found_y = found_places(joint, seen)
    rod = tables.rod(joint.bolts.diameter, joint.bolts.grade)
    numbers = range(1, len(x) + 1)
    stands = {n: bolt.proud for n, bolt in found.items() if bolt.proud is not None}
    return Bolts(
        name=name,
        frame=template,
        rod=rod if joint.washer is None else replace(rod, washer_thick=joint.washer),
        x=x,
        y=y,
        found_x=found_x,
        found_y=found_y,
        deep=joint.deep,
        proud=stacked(*(stands[n] if n in stands else joint.proud for n in numbers)),
        meant=joint.proud,
        leans={n: shorthand.lean(bolt.leans) for n, bolt in found.items() if bolt.leans},
        lean_ways={n: way for n, bolt in found.items() if (way := shorthand.lean_way(bolt.leans))},
        sights=seen,
        opened={n: bolt.hole for n, bolt in found.items() if bolt.hole is not None},
        slots={n: shorthand.slot(bolt.slot) for n, bolt in found.items() if bolt.slot},
        thread=nan if joint.thread is None else joint.thread,
        found=tuple(sorted(found)),
        foot=joint.foot,
    )


# ---- what hangs and what is carried ----


def leaf(name: str, leaf: schema.Leaf, job: schema.Job, posts: Mapping[str, Post], assume: Assume) -> Leaf:
    met = job.leaves.get(leaf.shuts.on)
    hinge, latch = posts[leaf.hung.on], posts[met.hung.on if met else leaf.shuts.on]
    length, height = leaf.size
    dx, dy = latch.frame.x - hinge.frame.x, latch.frame.y - hinge.frame.y
    ahead = dx * cos(hinge.frame.turn) + dy * sin(hinge.frame.turn)
    left = dy * cos(hinge.frame.turn) - dx * sin(hinge.frame.turn)
    line = where(absolute(ahead) >= absolute(left), ahead, left)  # a post may be turned to the road instead
    path = f"leaves.{name}"
    if leaf.hung.heights is None:
        low, high = leaf.clear + height / 6, leaf.clear + height * 5 / 6
        assume(f"{path}.hung.heights", "hinges a sixth of the leaf's height from its edges", low, Length)
    else:
        low, high = leaf.hung.heights
    for gap, written, key in ((hinge_gap(leaf), leaf.hung.gap, "hung"), (latch_gap(leaf), leaf.shuts.gap, "shuts")):
        if written is None:
            assume(f"{path}.{key}.gap", "gap as common practice has it", gap, Length)
    return Leaf(
        name=name,
        hinge_post=hinge.name,
        latch_post=latch.name,
        meets=leaf.shuts.on,
        toward=1 if np.ravel(line)[0] >= 0 else -1,
        turn=arctan2(dy, dx),
        length=length,
        height=height,
        weight=leaf.weight,
        solid=leaf.solid,
        clear=leaf.clear,
        low=low,
        high=high,
        hinge_gap=hinge_gap(leaf),
        latch_gap=latch_gap(leaf),
        play=leaf.shuts.play,
        opens_to=leaf.hung.to,
        swings=leaf.hung.swings,
        person=leaf.person,
        held=met is None or "down" in (leaf.shuts.bolt, met.shuts.bolt),
    )


def sign(name: str, sign: schema.Sign, places: Places, posts: Mapping[str, Post]) -> Sign:
    frame = posts[sign.on].frame
    length, height = sign.face
    return Sign(
        name=name,
        on=sign.on,
        length=length,
        height=height,
        bottom_z=places.height(sign.bottom, frame.x, frame.y),
        weight=sign.weight,
        solid=sign.solid,
    )


# ---- pipes ----


def pipe(name: str, pipe: schema.Pipe, bases: Mapping[str, Base], beams: Mapping[str, Beam]) -> Pipe:
    """Up and down in piers, along in beams, with sharp corners: sweeps and bends come later."""
    size = tables.conduit(pipe.pipe)
    points: list[tuple[Any, Any, Any]] = []
    legs = pipe.route
    for number, leg in enumerate(legs):
        before = legs[number - 1] if number else None
        after = legs[number + 1] if number + 1 < len(legs) else None
        if leg.up_in is not None:
            base = bases[leg.up_in]
            x, y = base.frame.out(leg.along, leg.across)
            beside = next((other for other in (before, after) if other is not None and other.in_ in beams), None)
            low = base.foot.bottom if beside is None else beams[beside.in_ or ""].body.bottom + beside.from_bottom
            ends = [(x, y, low), (x, y, base.top + shorthand.stub(leg.to))]
            points += ends if before is not None else ends[::-1]
        else:
            beam = beams[leg.in_ or ""]
            # Run from the end that the leg before stands at.
            other = before or after
            at_second = (other is not None and other.up_in == beam.between[1]) == (before is not None)
            half = beam.body.outline.along / 2
            across = _beside_ties(beam, leg.side, size)
            z = beam.body.bottom + leg.from_bottom
            ends = [(*beam.frame.out(end, across), z) for end in (-half, half)]
            points += ends[::-1] if at_second else ends
    x, y, z = together(*(stacked(*column) for column in zip(*points)))
    through = tuple(dict.fromkeys(leg.up_in or leg.in_ or "" for leg in legs))
    return Pipe(name=name, size=size, wires=pipe.wires, x=x, y=y, z=z, through=through)


def _beside_ties(beam: Beam, side: str, size: tables.Conduit) -> Any:
    """Offset to the left of the beam's middle: against the ties on that side, inside them, or against the form."""
    if side == "middle":
        return 0.0
    steel = beam.cover + beam.tie
    off = beam.body.outline.across / 2 - np.where(np.isnan(steel), 0.0, steel)[()] - size.outside / 2
    return off if side == "left" else -off
