"""Which blocks of concrete stand there, how high, and what is placed in one go?

    pier : a shaft, on a pad where there is one: the pad's top is the shaft's bottom
    step : a smaller block between the two, formed on the pad; placed with what is below it, or by its name: west step 1
    beam : a block clear between the faces of its two bases, its along from the first to the second
    lift : the blocks of one placing, in order: pads before what stands on them

A beam's end lies where its whole width has met its base, so that nothing is left open beside a round or a turned one;
what it holds in common with the base is then shared volume, see `overlap`.
"""

from collections.abc import Iterator
from dataclasses import fields
from typing import Any

import numpy as np

from batterboard.job import schema
from batterboard.work.placing import Places, net, shifted
from batterboard.work.records import Body, Frame, Lift, Outline
from batterboard.working import arctan2, cos, maximum, minimum, pi, sin, sqrt, where

# What a lift may name at once. A pad that no lift has named before goes with the shaft on it.
PARTS = {"pads": ("pad", "step"), "slabs": ("slab",), "beams": ("beam",), "piers": ("pad", "step", "pier")}


def blocks(places: Places) -> Iterator[Body]:
    """Every block of the job, not yet knowing what it shares: piers with their pads first, flat pads, beams."""
    bases = {}
    for name, base in places.bases.items():
        own = tuple(_pier(name, base, places)) if isinstance(base, schema.Pier) else (_slab(name, base, places),)
        bases[name] = own[-1]
        yield from own
    for name, beam in places.job.beams.items():
        if all(end in bases for end in beam.between):
            yield beam_between(name, beam, places, bases)[0]


def _pier(name: str, pier: schema.Pier, places: Places) -> Iterator[Body]:
    frame, done = places.frame(name), places.job.done
    bottom, top = _levels(pier, places, frame)
    if pier.pad is not None:
        pad, cast = pier.pad, name in done or f"{name} pad" in done
        low = bottom - sum(step.thick for step in pad.steps)
        yield Body(
            name=f"{name} pad",
            element=name,
            part="pad",
            outline=Outline(kind="rectangle", along=pad.along, across=pad.across),
            frame=shifted(frame, pad.shift),
            bottom=low - pad.thick,
            top=low,
            mix=pier.mix,
            against="earth",
            over=pad.over,
            cast=cast,
        )
        for number, step in enumerate(pad.steps, 1):
            top_of_step = bottom if number == len(pad.steps) else low + step.thick
            yield Body(
                name=f"{name} step {number}",
                element=name,
                part="step",
                outline=Outline(kind="rectangle", along=step.along, across=step.across),
                frame=shifted(frame, step.shift),
                bottom=low,
                top=top_of_step,
                mix=pier.mix,
                against="form",
                cast=cast,
            )
            low = top_of_step
    buried = pier.pad is None and bool(np.any(bottom < places.ground.level(frame.x, frame.y)))
    yield Body(
        name=name,
        element=name,
        part="pier",
        outline=outline(pier),
        frame=frame,
        bottom=bottom,
        top=top,
        mix=pier.mix,
        against="earth" if buried else "form",
        cast=name in done,
    )


def _levels(pier: schema.Pier, places: Places, frame: Frame) -> tuple[Any, Any]:
    """Underside and top of the shaft: two of top, bottom and height are written."""
    if pier.top is not None:
        top = places.height(pier.top, frame.x, frame.y)
        if pier.bottom is None:
            return top - pier.height, top
        return places.height(pier.bottom, frame.x, frame.y), top
    if pier.bottom is None:
        raise ValueError("a pier says two of top, bottom and height")
    bottom = places.height(pier.bottom, frame.x, frame.y)
    return bottom, bottom + pier.height


def outline(pier: schema.Pier) -> Outline:
    """The shaft's section."""
    edges = _edges(pier.edges) | {"batter": pier.batter}
    if pier.round is not None:
        return Outline(kind="round", along=pier.round, across=pier.round, **edges)
    if pier.sides is not None:
        return Outline(kind="polygon", along=pier.flats, across=pier.flats, sides=pier.sides, **edges)
    if pier.square is not None:
        return Outline(kind="rectangle", along=pier.square, across=pier.square, **edges)
    return Outline(kind="rectangle", along=pier.along, across=pier.across, **edges)


def _edges(edges: schema.Edges) -> dict[str, Any]:
    return {f.name: getattr(edges, f.name) for f in fields(edges)}


def _slab(name: str, pad: schema.Pad, places: Places) -> Body:
    frame = places.frame(name)
    top = places.height(pad.top, frame.x, frame.y)
    return Body(
        name=name,
        element=name,
        part="slab",
        outline=Outline(kind="rectangle", along=pad.along, across=pad.across, **_edges(pad.edges)),
        frame=frame,
        bottom=top - pad.thick,
        top=top,
        mix=pad.mix,
        against="form",
        over=pad.over,
        cast=name in places.job.done,
    )


# ---- beams ----


def beam_between(
    name: str, beam: schema.Beam, places: Places, bases: dict[str, Body]
) -> tuple[Body, tuple[Any, Any], Any]:
    """The block of a beam, how deep each base is behind the face it meets, and how far it was found off its line."""
    first, second = (bases[end] for end in beam.between)
    laid = places.planned if places.planned is not None and name in places.set_out else places
    start, end = (laid.frame(base) for base in beam.between)
    turn = arctan2(end.y - start.y, end.x - start.x)
    shift = beam.shift or schema.Shift()
    off = net(shift.across, shift.right)
    line = Frame(x=start.x, y=start.y, turn=turn).moved(0.0, off)
    near, far = line.into(first.frame.x, first.frame.y), line.into(second.frame.x, second.frame.y)
    half = beam.wide / 2
    # Of a base that leans in, its section at the beam's top: below that the two share what they both hold.
    high = places.height(beam.top, (start.x + end.x) / 2, (start.y + end.y) / 2)
    past_first = reach(first.section(high), first.frame.turn - turn, -near[1] - half, -near[1] + half)
    past_second = reach(second.section(high), second.frame.turn - turn - pi, far[1] - half, far[1] + half)
    face, other = near[0] + past_first, far[0] - past_second
    frame = line.moved((face + other) / 2, 0.0)
    top = places.height(beam.top, frame.x, frame.y)
    body = Body(
        name=name,
        element=name,
        part="beam",
        outline=Outline(kind="rectangle", along=other - face, across=beam.wide),
        frame=frame,
        bottom=top - beam.deep,
        top=top,
        mix=beam.mix,
        against="earth",
        over=beam.over,
        cast=name in places.job.done,
    )
    return body, (2 * past_first, 2 * past_second), off


def reach(outline: Outline, turn: Any, right: Any, left: Any) -> Any:
    """How far ahead of its middle a section of that turn still holds all of a strip between two offsets.

    Of a strip wider than the section only the part beside it counts.
    """
    if outline.kind == "round":
        radius = outline.along / 2
        wide = maximum(abs(left), abs(right))
        return sqrt(maximum(radius * radius - wide * wide, 0.0))
    sides = outline.sides if outline.kind == "polygon" else 4
    halves = [outline.along / 2, outline.across / 2] * 2 if sides == 4 else [outline.along / 2] * sides
    c, s = abs(cos(turn)), abs(sin(turn))
    if outline.kind == "polygon":
        widest = outline.along / 2 / cos(pi / sides)
    else:
        widest = outline.along / 2 * s + outline.across / 2 * c
    ahead: Any = np.inf
    for side, half in enumerate(halves):
        normal = turn + 2 * pi * side / sides
        nx, ny = cos(normal), sin(normal)
        faces = nx > 1e-9
        for offset in (right, left):
            at = (half - minimum(maximum(offset, -widest), widest) * ny) / where(faces, nx, 1.0)
            ahead = minimum(ahead, where(faces, at, np.inf))
    return maximum(ahead, 0.0)


# ---- lifts ----


def lifts(pour: schema.Pour, bodies: list[Body], places: Places) -> Iterator[tuple[schema.Lift | None, list[Body]]]:
    """The bodies of each lift. What no lift names is placed after them: pads, slabs and beams, then piers.

    A beam that stands clear of the ground has nothing to end against before its piers: it goes with them. A lift of two
    mixes is two.
    """
    waiting = {body.name: body for body in bodies}
    own = _own_lift(pour)
    groups: list[tuple[schema.Lift | None, dict[str, Body]]] = []
    for lift in pour.lifts:
        taken = {body.name: body for word in lift.of for body in waiting.values() if _named(body, word, own)}
        waiting = {name: body for name, body in waiting.items() if name not in taken}
        groups.append((lift, taken))
    late = {name for name, body in waiting.items() if body.part == "pier" or stands_clear(body, places)}
    groups.append((None, {name: body for name, body in waiting.items() if name not in late}))
    groups.append((None, {name: body for name, body in waiting.items() if name in late}))
    for spec, group in groups:
        for mix in dict.fromkeys(body.mix for body in group.values()):
            yield spec, [body for body in group.values() if body.mix == mix]


def stands_clear(body: Body, places: Places) -> bool:
    """Whether all of a beam's underside is above the ground."""
    if body.part != "beam":
        return False
    level = places.ground.level(*body.frame.out(*body.outline.points()))
    return bool(np.all(body.bottom > level.max(axis=0)))


def placed_before(pour: schema.Pour, bodies: list[Body]) -> Iterator[tuple[int, int, str, int]]:
    """Names of which a lift finds nothing left: the lift's and the name's places, the name, the lift that took all.

    Words for a whole kind, as pads, mean what is left of it.
    """
    taken: dict[str, int] = {}
    own = _own_lift(pour)
    for number, lift in enumerate(pour.lifts):
        named = [(word, [body.name for body in bodies if _named(body, word, own)]) for word in lift.of]
        for place, (word, names) in enumerate(named):
            if word not in PARTS and names and all(name in taken for name in names):
                yield number, place, word, max(taken[name] for name in names)
        taken.update((name, number + 1) for _, names in named for name in names if name not in taken)


def _own_lift(pour: schema.Pour) -> set[str]:
    """What lifts call by the name of one block: such a step does not go with what it stands on."""
    return {word for lift in pour.lifts for word in lift.of}


def _named(body: Body, word: str, own: set[str]) -> bool:
    """Whether a lift's word means this block: west pad, west, bollard (a row), pads."""
    if body.part == "step":
        return _names_step(body, word, own)
    return word in (body.name, body.element, body.element.rpartition(".")[0]) or body.part in PARTS.get(word, ())


def _names_step(step: Body, word: str, own: set[str]) -> bool:
    """A step goes with the step below it that a lift names, else with its pad."""
    stem, _, number = step.name.rpartition(" ")
    for below in range(int(number), 0, -1):
        if f"{stem} {below}" in own:
            return word == f"{stem} {below}"
    pad = f"{step.element} pad"
    return word in (pad, step.element, step.element.rpartition(".")[0]) or "step" in PARTS.get(word, ())


def lift(number: int, spec: schema.Lift | None, bodies: tuple[Body, ...], job: schema.Job) -> Lift:
    """One lift as wet as it is wanted, or as its wettest load was logged."""
    mix = bodies[0].mix
    wanted = job.mixes[mix].slump if spec is None or spec.slump is None else spec.slump
    slump = water = None
    if job.pour.loads:
        from batterboard.work.loads import wettest  # only after the pour

        slump, water = wettest(job.pour.loads, number)
    if water is None:
        water = 0.0 if spec is None else spec.water
    return Lift(
        number=number,
        bodies=bodies,
        wanted=wanted,
        slump=wanted if slump is None else slump,
        wetted="" if spec is None else spec.wetted,
        covered=spec is not None and spec.covered,
        water=water,
        mix=mix,
    )
