"""Do bars, hoops, bolts and pipes keep clear of the pockets and holes in the concrete?

    near : Near("letters and W2 tie", other="W2 tie 3", needed=0.0381, least=0.012, ...)    the nearest of each mark

What a box leaves is a face in the weather as any other: steel behind it has the same cover. A pipe may end in a bought
box, as it does in a junction box, and is not measured against one. Read only where a job has blockouts.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Literal

import numpy as np

from batterboard.methods.segments import Lines
from batterboard.phases.cage.checks import exact
from batterboard.phases.cage.measuring import Element, alone, take, varied
from batterboard.phases.cage.results import Near
from batterboard.quantity import Length
from batterboard.standards import aci318
from batterboard.work.blockouts import Blockout
from batterboard.work.records import Beam, Body, Bolts, Work
from batterboard.working import Check, capacity, check, demand

_NEAR = 0.15  # [m] what passes farther off is not told

# A kind of thing, each one's name, its diameter, and centre lines in the job's axes.
_Things = tuple[Literal["bar", "bolt", "pipe"], list[str], Any, Any, Any, Any]


def near_blockouts(
    work: Work, elements: Mapping[str, Element], bolts: Mapping[str, list[tuple[Bolts, Any]]]
) -> Iterator[Near]:
    """Of every blockout, the nearest bar of each mark, bolt of each plate and pipe; what is far off only if all is."""
    for element in elements.values():
        for body in element.bodies:
            for hole in body.blockouts:
                nears = [
                    _nearest(hole, body, things)
                    for things in _things(work, element, elements, bolts)
                    if not (hole.of == "box" and things[0] == "pipe")
                ]
                nears.sort(key=lambda near: float(np.min(near.least - near.needed)))
                yield from (near for i, near in enumerate(nears) if i == 0 or np.any(near.least < _NEAR))


def clear_of_blockouts(elements: Mapping[str, Element], nears: Iterable[Near]) -> Iterator[Check]:
    """One check for each blockout: of each variant the thing that comes nearest for what it needs."""
    by_hole: dict[tuple[str, str], list[Near]] = {}
    for near in nears:
        by_hole.setdefault((near.element, near.hole), []).append(near)
    for (name, hole), of_hole in by_hole.items():
        room = np.stack(np.broadcast_arrays(*(near.least - near.needed for near in of_hole)))
        worst = tuple(of_hole[i] for i in np.unique(np.argmin(room, axis=0)))
        body = next(body for body in elements[name].bodies if any(one.name == hole for one in body.blockouts))
        yield cover_behind(elements[name], next(one for one in body.blockouts if one.name == hole), worst)


@check("Cover behind a blockout", clause=aci318.COVER, of=Length)
def cover_behind(element: Element, hole: Blockout, nears: tuple[Near, ...]) -> tuple[Any, ...]:
    pairs = [np.broadcast_arrays(exact(aci318.least_cover("form", near.diameter)), exact(near.least)) for near in nears]
    needs, haves = (np.stack(np.broadcast_arrays(*side)) for side in zip(*pairs, strict=True))
    worst = np.argmin(haves - needs, axis=0)
    near = nears[int(np.ravel(worst)[0])]
    note = near.other
    if np.any(near.least < near.needed - 1e-9):
        how = "runs through it" if np.any(near.least < 0) else "lies too near"
        note = f"{near.other} {how}: move one of them aside, or make the blockout less deep"
    return demand(take(needs, worst)), capacity(take(haves, worst)), note


def _things(
    work: Work, element: Element, elements: Mapping[str, Element], bolts: Mapping[str, list[tuple[Bolts, Any]]]
) -> Iterator[_Things]:
    """What runs in an element: its bars, those of beams that end in it, bolts and pipes."""
    beams = [beam for beam in work.beams.values() if element.name in beam.between]
    ends = element.between if isinstance(element, Beam) else ()
    for of in (element, *beams, *(elements[end] for end in ends)):
        for bar in of.bars:
            if bar.count:
                x, y = of.frame.out(varied(bar.x, 2), varied(bar.y, 2))
                names = [f"{bar.mark} {bar.role} {n}" for n in range(1, bar.count + 1)]
                yield "bar", names, bar.size.diameter, x, y, varied(bar.z, 2)
    for rods, top in bolts.get(element.name, []):
        x, y = rods.frame.out(varied(rods.found_x, 1), varied(rods.found_y, 1))
        z = np.stack(np.broadcast_arrays(top - rods.deep + 0 * x, top + 0 * x), axis=1)
        names = [f"{rods.name} bolt {n}" for n in range(1, len(x) + 1)]
        yield "bolt", names, rods.rod.diameter, np.stack([x, x], axis=1), np.stack([y, y], axis=1), z
    for pipe in work.pipes.values():
        if element.name in pipe.through:
            x, y, z = (varied(v, 1)[None] for v in (pipe.x, pipe.y, pipe.z))
            yield "pipe", [pipe.name], pipe.size.outside, x, y, z


def _nearest(hole: Blockout, body: Body, things: _Things) -> Near:
    kind, names, diameter, x, y, z = things
    along, across = body.frame.into(x, y)
    along, across, up = np.broadcast_arrays(along, across, z - body.bottom)
    lines = Lines.along(along, across, up)
    each = len(lines) // len(names)
    some = hole.near_enough(lines.x, lines.y, lines.z)
    clear = hole.nearest(lines.x[some], lines.y[some], lines.z[some]) - diameter / 2
    nearest = int(some[np.argmin(clear.reshape(len(clear), -1).min(axis=1))])
    return Near(
        name=f"{hole.name} and {names[0] if kind == 'pipe' else names[0].rpartition(' ')[0]}",
        hole=hole.name,
        element=body.element,
        kind=kind,
        other=names[nearest // each],
        diameter=diameter,
        least=alone(clear.min(axis=0)),
        needed=aci318.least_cover("form", diameter),
    )
