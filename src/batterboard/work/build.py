"""What does the job file say will stand there? `build(job)` is the whole answer, as found where it was found.

    places  : levels, lines, ground, and the frame each measuring chain ends in     placing
    blocks  : the concrete between its levels, by lift, volumes shared once         blocks, overlap
    bars    : laid when someone looks                                               bars
    rest    : posts, leaves, signs, machines, pipes                                 standing

Numbers of the job may be arrays of variants. Whether any of it is strong enough, or fits, is asked by the phases.
"""

from collections.abc import Iterator
from functools import partial
from math import isfinite
from typing import Any

import numpy as np

from batterboard.job import schema
from batterboard.job.errors import JobError, Problem
from batterboard.job.reader import problem_at
from batterboard.job.schema import Assumption, Job
from batterboard.quantity import Length, Number, Pressure, UnitWeight, dimension_of, show
from batterboard.standards import aci318, tables
from batterboard.work import bars, blocks, standing
from batterboard.work.overlap import sharing
from batterboard.work.placing import Places, net, places
from batterboard.work.records import Beam, Body, Lift, Pier, Slab, Soil, Step, Work
from batterboard.working import hypot, nan


def build(job: Job) -> Work:
    """Everything the job describes, placed."""
    where = places(job)
    noted = _Notes()
    bodies = list(blocks.blocks(where))
    problems = list(_lines_that_cannot_be(job, where)) or [*_impossible(job, bodies), *_past_arcs(job, where)]
    if problems:
        raise JobError(problems)
    if job.blockouts:
        from batterboard.work.blockouts import set_in

        bodies = set_in(job, bodies, where.ground, noted)
    lifts = _lifts(job, bodies, where)
    if strayed := [*_strayed(job, len(lifts)), *_placed_before(job, bodies), *_on_nothing(job, lifts, where)]:
        raise JobError(strayed)
    body = {body.name: body for lift in lifts for body in lift.bodies}
    prefixes = _prefixes([*where.bases, *job.beams])
    piers, slabs = {}, {}
    for name, base in where.bases.items():
        marker = bars.Marker(name, prefixes[name])
        if isinstance(base, schema.Pier):
            piers[name] = _pier(name, base, job, body, marker, noted)
        else:
            slabs[name] = _slab(name, base, job, body[name], marker, noted)
    bases: dict[str, Pier | Slab] = {**piers, **slabs}
    shafts = {name: body[name] for name in bases}
    beams = {
        name: _beam(name, beam, where, body[name], shafts, bars.Marker(name, prefixes[name]), noted)
        for name, beam in job.beams.items()
        if name in body
    }
    posts = {
        name: standing.post(name, post, where, bases[on])
        for name, post in job.posts.items()
        if (on := post.on or (post.set.in_ if post.set else "")) in bases
    }
    work = Work(
        soil=_soil(job.site.soil, noted),
        frost=job.site.frost,
        ground=where.ground,
        levels=where.levels,
        marks=where.marks,
        lines=where.lines,
        piers=piers,
        slabs=slabs,
        beams=beams,
        posts=posts,
        leaves={name: standing.leaf(name, leaf, job, posts, noted) for name, leaf in job.leaves.items()},
        signs={name: standing.sign(name, sign, where, posts) for name, sign in job.signs.items() if sign.on in posts},
        machines={
            name: standing.machine(name, machine, where, bases[machine.on])
            for name, machine in job.machines.items()
            if machine.on in bases
        },
        pipes={name: standing.pipe(name, pipe, bases, beams) for name, pipe in job.pipes.items()},
        chains={name: _chain(name, job, where) for name in (*bases, *beams)},
        lifts=lifts,
        left_out={name: pier.left_out for name, pier in job.piers.items() if pier.left_out},
        assumed=tuple(noted.all),
    )
    if job.blockouts:
        from batterboard.work.obstacles import beside_bolts

        if wrong := list(beside_bolts(job, work)):
            raise JobError(wrong)
    return work


_HAIR = 1e-6  # of rounding [m]


class _Notes:
    """What the tables or common practice put in where the file says nothing."""

    def __init__(self) -> None:
        self.all: list[Assumption] = []

    def __call__(self, path: str, meaning: str, value: Any, kind: Any) -> Any:
        self.all.append(Assumption(path, meaning, value, dimension_of(kind)))
        return value


def _lifts(job: Job, bodies: list[Body], where: Places) -> tuple[Lift, ...]:
    groups = list(blocks.lifts(job.pour, bodies, where))
    shared = iter(sharing([body for _, group in groups for body in group]))
    return tuple(
        blocks.lift(number, spec, tuple(next(shared) for _ in group), job)
        for number, (spec, group) in enumerate(groups, 1)
    )


def _strayed(job: Job, lifts: int) -> Iterator[Problem]:
    """Loads, readings and cylinders that were logged for a lift that the pour does not have."""
    pour = job.pour
    logged: tuple[tuple[str, str, dict[int, Any]], ...] = (
        ("loads", "load {} went into", pour.loads),
        ("thermometer", "reading {} is of", pour.thermometer),
        ("breaks", "cylinders {} are of", pour.breaks),
    )
    for table, words, kept in logged:
        for number, one in kept.items():
            if not 1 <= one.lift <= lifts:
                said = f"{words.format(number)} lift {one.lift}, and the pour has {lifts}"
                path = ("pour", table, str(number), "lift")
                yield problem_at(job, path, said, "lifts count from 1, in the order of the pour")


def _placed_before(job: Job, bodies: list[Body]) -> Iterator[Problem]:
    """What a lift names, and earlier lifts have all of: a pad that came with its pier."""
    for number, place, word, earlier in blocks.placed_before(job.pour, bodies):
        words = f'"{word}" is all placed by lift {earlier}: its form would be filled twice'
        remedy = "a pier's own name means its pad too; name the pads in an earlier lift than the piers"
        yield problem_at(job, ("pour", "lifts", number, "of", place), words, remedy)


def _on_nothing(job: Job, lifts: tuple[Lift, ...], where: Places) -> Iterator[Problem]:
    """Steps, piers on them and beams in the air that a lift places before what they stand on or end against."""
    placed = {body.name: lift.number for lift in lifts for body in lift.bodies}
    for name, pier in job.piers.items():
        stack = [f"{name} step {number}" for number in range(1, 1 + len(pier.pad.steps if pier.pad else ()))]
        for below, on_it in zip([f"{name} pad", *stack], [*stack, name]) if stack else ():
            if placed.get(below, 0) > placed.get(on_it, 0):
                words = f"{on_it} is placed in lift {placed[on_it]}, before {below} that it stands on"
                yield problem_at(
                    job, ("pour", "lifts"), words, "name them in the order in which they stand, from below"
                )
    for body in (body for lift in lifts for body in lift.bodies if body.part == "beam" and not body.cast):
        late = [end for end in job.beams[body.element].between if placed.get(end, 0) > placed[body.name]]
        if late and blocks.stands_clear(body, where):
            words = f"{body.name} stands clear of the ground and is placed before {late[0]}, which it ends against"
            yield problem_at(job, ("pour", "lifts"), words, "name it in the lift of its piers, or after them")


def _below(beam: Body, job: Job, bodies: list[Body]) -> str:
    """The base whose top lies below a beam's, in all variants; "" without one."""
    tops = {body.name: body.top for body in bodies}
    return next((end for end in job.beams[beam.element].between if np.all(beam.top > tops[end] + _HAIR)), "")


def _impossible(job: Job, bodies: list[Body]) -> Iterator[Problem]:
    """What only shows once everything is placed. Of variants, those that cannot be are nan and the rest goes on."""
    tables_of = {"beam": "beams", "slab": "pads"}
    for body in bodies:
        key = (tables_of.get(body.part, "piers"), body.element)
        if np.ndim(body.frame.x) == 0 and not isfinite(body.frame.x + body.frame.y):
            words = "its two lines run square to each other, so that both measure the same way"
            yield problem_at(job, (*key, "place"), words, "measure the offset from the line of the distance")
        elif np.ndim(body.height) == 0 and not body.height > 0:
            yield problem_at(job, key, "at this place its top is not above its bottom", "look at up and down")
        elif body.part == "beam" and np.ndim(body.outline.along) == 0 and not body.outline.along > 0:
            first, second = job.beams[body.element].between
            words = f"{first} and {second} leave nothing between them"
            yield problem_at(job, (*key, "between"), words, "set them further apart, or leave the beam out")
        elif body.part == "beam" and (lower := _below(body, job, bodies)):
            words = f"it rises above {lower}, which it ends against"
            yield problem_at(job, (*key, "top"), words, f"no higher than the top of {lower}")
        elif body.against == "form":
            for edge, piece, legs, long in _strips(body):
                sticks = [s.long for s in job.stock.sticks if s.of == "strip" and _has(s, *legs)]
                if sticks and np.any(long > max(sticks) + 1e-9):
                    words = f"the {piece} strips of {body.name} are longer than any strip in stock"
                    yield problem_at(job, (*key, "edges", edge), words, "name a longer stick, or leave them out")


def _has(stick: schema.Stick, leg: Any, other: Any) -> bool:
    """Whether a strip in stock has these legs, turned either way."""
    if stick.legs is None:
        return True
    long, short = stick.legs
    off = np.maximum(np.abs(np.maximum(leg, other) - long), np.abs(np.minimum(leg, other) - short))
    return bool(np.all(off < 1e-6))


def _strips(body: Body) -> Iterator[tuple[str, str, Any, Any]]:
    """Which strips its form has, their legs and the longest of each."""
    o = body.outline
    if np.any(o.corners > 0):
        yield "corners", "corner", (o.corners, o.other_leg), body.height
    if np.any(o.top > 0):
        side = o.along * np.tan(np.pi / o.sides) if o.kind == "polygon" else np.maximum(o.along, o.across)
        yield "top", "top", (o.top, o.drop), side * np.pi if o.kind == "round" else side


def _lines_that_cannot_be(job: Job, where: Places) -> Iterator[Problem]:
    for name, line in where.lines.items():
        told = job.lines[name]
        if line.arc is not None and np.ndim(line.arc.radius) == 0 and not line.arc.length > 0:
            yield _no_arc(job, name, told, where)
        elif any(line.through) and np.ndim(line.length) == 0 and not line.length > 0:
            words = f"{told.from_} and {told.to} are one place: this line has no length"
            yield problem_at(job, ("lines", name, "to"), words, "a line needs two points that lie apart")


def _no_arc(job: Job, name: str, told: schema.Line, where: Places) -> Problem:
    """Which of its numbers no circle can have."""
    (x, y), (to_x, to_y) = where.ends(told)
    half, apart = hypot(to_x - x, to_y - y) / 2, "its ends are {} apart"
    apart = apart.format(show(2 * half, Length, job.job.units))
    if told.centre is not None:
        words = f"it begins at its own centre, or ends in the direction of {told.centre} where it begins"
        return problem_at(job, ("lines", name, "centre"), words, "centre, start and end are three places round an arc")
    if not half > 0:
        words = f"{told.from_} and {told.to} are one place: this arc has no chord"
        return problem_at(job, ("lines", name, "to"), words, "an arc needs two points that lie apart")
    if told.radius is not None:
        words = f"{apart}, and no circle of so short a radius reaches both"
        return problem_at(job, ("lines", name, "radius"), words, f"write {show(half, Length, job.job.units)} or more")
    words = f"{apart}, and it rises over more than half a circle"
    remedy = f"write {show(half, Length, job.job.units)} or less, or swing it from a mark at its centre"
    return problem_at(job, ("lines", name, "rise"), words, remedy)


def _past_arcs(job: Job, where: Places) -> Iterator[Problem]:
    """A tape goes on past the end of a string; past an arc's end there is no curve to measure along."""
    for name in where.bases:
        for number, step in enumerate(where.bases[name].place):
            arc = where.line(step.along).arc if step.along else None
            if arc is None or np.ndim(arc.length) or np.ndim(where.frame(name).x) or not arc.length > 0:
                continue
            station, units = float(where.station(name)), job.job.units
            past = max(station - float(arc.length), -station)
            if past > _REACHED:
                end = "end" if station > 0 else "start"
                words = f"{name} stands {show(past, Length, units)} past the {end} of the arc {step.along}"
                remedy = f"the arc is {show(float(arc.length), Length, units)} long, along its curve"
                yield problem_at(job, (*_base_at(where, name), "place", number), words, remedy)


_REACHED = 1e-6  # a micrometre past the end is at the end


def _base_at(where: Places, name: str) -> tuple[str, str]:
    return ("pads" if isinstance(where.bases[name], schema.Pad) else "piers"), name


# ---- elements ----


def _pier(name: str, pier: schema.Pier, job: Job, body: dict[str, Body], marker: bars.Marker, noted: _Notes) -> Pier:
    shaft, pad = body[name], body.get(f"{name} pad")
    cage, mat = pier.bars, pier.pad_bars
    planned = job.planned.piers[name].bars if job.planned else cage
    cover: Any = nan
    found: dict[str, Any] = {}
    if cage is not None:
        outer = max((tables.bar(run.size).diameter for run in cage.ties), default=tables.bar(cage.up.size).diameter)
        cover = planned.cover if planned and not isinstance(planned.cover, schema.FaceCover) else None
        if cover is None:
            cover = _cover(f"piers.{name}.bars.cover", shaft.against, outer, noted)
        if isinstance(cage.cover, schema.FaceCover):
            faces = ("north", "south", "east", "west", "bottom", "top")
            found = {face: at for face in faces if (at := getattr(cage.cover, face)) is not None}
    pad_cover: Any = nan
    lowest = mat.along if mat else cage.up if cage else None
    if pad is not None and lowest is not None:
        pad_cover = mat.cover if mat else None
        if pad_cover is None:
            pad_cover = _cover(f"piers.{name}.pad_bars.cover", "earth", tables.bar(lowest.size).diameter, noted)
    return Pier(
        name=name,
        shaft=shaft,
        pad=pad,
        steps=tuple(body[f"{name} step {number}"] for number in range(1, 1 + len(pier.pad.steps if pier.pad else ()))),
        lay=partial(bars.pier_bars, marker, cage, mat, shaft, pad, cover, pad_cover),
        cover=cover,
        pad_cover=pad_cover,
        cover_found=found,
        missing=cage.missing if cage else (),
        lean=0.0 if pier.lean is None else pier.lean,
        done=name in job.done,
    )


def _slab(name: str, pad: schema.Pad, job: Job, body: Body, marker: bars.Marker, noted: _Notes) -> Slab:
    cover: Any = nan
    if pad.bars is not None:
        cover = pad.bars.cover
        if cover is None:
            cover = _cover(f"pads.{name}.bars.cover", "earth", tables.bar(pad.bars.along.size).diameter, noted)
    return Slab(
        name=name,
        body=body,
        lay=partial(bars.slab_bars, marker, pad.bars, body, cover),
        cover=cover,
        done=name in job.done,
    )


def _beam(
    name: str,
    beam: schema.Beam,
    where: Places,
    body: Body,
    shafts: dict[str, Body],
    marker: bars.Marker,
    noted: _Notes,
) -> Beam:
    _, behind, off = blocks.beam_between(name, beam, where, shafts)
    cage = beam.bars
    cover: Any = nan
    tie = 0.0
    if cage is not None:
        tie = max((tables.bar(run.size).diameter for run in cage.ties), default=0.0)
        cover = cage.cover
        if cover is None:
            cover = _cover(f"beams.{name}.bars.cover", "earth", tie or tables.bar(cage.bottom.size).diameter, noted)
    past = tuple(depth - cover for depth in behind)
    return Beam(
        name=name,
        between=beam.between,
        body=body,
        lay=partial(bars.beam_bars, marker, cage, body, cover, past),
        cover=cover,
        tie=tie,
        missing=cage.missing if cage else (),
        off=off,
        done=name in where.job.done,
    )


def _cover(path: str, against: str, outer: Any, noted: _Notes) -> Any:
    words = "cast against earth" if against == "earth" else "formed, in the weather"
    return noted(path, f"clear cover, {words}, by {aci318.COVER}", aci318.least_cover(against, outer), Length)


def _prefixes(names: list[str]) -> dict[str, str]:
    """Letters for the bar marks of each element, all different: west W, guide_foot GF, bollard.7 B7-."""
    prefixes: dict[str, str] = {}
    used = set()
    for name in names:
        stem, _, number = name.partition(".")
        words = stem.replace("_", " ").replace("-", " ").split() or ["X"]
        for letters in range(1, len(words[0]) + 1):
            prefix = (words[0][:letters] + "".join(word[0] for word in words[1:])).upper() + number
            prefix += "-" if prefix[-1].isdigit() else ""
            if prefix not in used:
                break
        else:
            prefix = f"{name}-"
        used.add(prefix)
        prefixes[name] = prefix
    return prefixes


# ---- measuring ----


def _chain(name: str, job: Job, where: Places) -> tuple[Step, ...]:
    """Its level, its place, then the centre of each template on it."""
    if name in job.beams:
        return (_level(name, job.beams[name].top, 0.0),)
    base = where.bases[name]
    if isinstance(base, schema.Pad) or base.top is not None:
        level = _level(name, base.top, 0.0)
    else:
        level = _level(name, base.bottom, base.height)
    turn = next((step.turn for step in base.place if step.turn), "") or ""
    templates = []
    fixings: dict[str, schema.Post | schema.Machine] = {**job.posts, **job.machines}
    for thing, fixed in fixings.items():
        if fixed.on == name and fixed.joint is not None:
            shift = fixed.shift or schema.Shift()
            ahead = net(shift.along, shift.back)
            left = net(shift.across, shift.right)
            templates.append(Step(element=thing, kind="template", from_=name, line=turn, value=ahead, across=left))
    return (level, *where.chain(name), *templates)


def _level(name: str, elevation: schema.Elevation | None, more: Any) -> Step:
    assert elevation is not None
    value = net(elevation.up, elevation.down) + more
    return Step(element=name, kind="level", from_=elevation.level or "ground", line="", value=value)


# ---- soil ----


def _soil(soil: schema.Soil, noted: _Notes) -> Soil:
    """What a report gives, and the presumptive table where it is silent."""
    bearing, side, friction, cohesion = soil.bearing, soil.side, soil.friction, soil.cohesion
    origin = soil.from_
    if bearing is None or side is None or (friction is None and cohesion is None):
        row, source = tables.soil(soil.class_), tables.soil.source(soil.class_)
        origin = str(source) if origin == "table" else f"{origin}, else {source}"
        if bearing is None:
            bearing = noted("site.soil.bearing", f"allowable bearing by {source}", row.bearing, Pressure)
        if side is None:
            side = noted("site.soil.side", f"lateral bearing by {source}", row.side, UnitWeight)
        if friction is None and cohesion is None:
            friction, cohesion = row.friction, row.cohesion
            if friction == friction:
                noted("site.soil.friction", f"sliding friction by {source}", friction, Number)
            if cohesion == cohesion:
                noted("site.soil.cohesion", f"adhesion by {source}", cohesion, Pressure)
    return Soil(
        name=soil.class_,
        bearing=bearing,
        side=side,
        friction=nan if friction is None else friction,
        cohesion=nan if cohesion is None else cohesion,
        stiff=soil.stiff,
        weight=soil.weight,
        swell=soil.swell,
        slope=soil.slope,
        origin=origin,
    )
