"""Do panels, strips, blockouts and concrete fill the form, and nothing twice?

    envelope : what lies inside the outer faces of the panels      0.42 m3
    gap      : the share of it that nothing fills                  2e-16
    overlap  : the share that two of them claim                    0.0

All of them are convex, cut from half-spaces, so that each volume and what any two share is exact but for rounding.
What is cut out of a panel is filled by what passes through it, and is not taken off here.
"""

from collections.abc import Sequence
from itertools import combinations

from batterboard.methods import solids
from batterboard.methods.solids import Solid
from batterboard.phases.forms.pieces.planes import UP, FormPlanes
from batterboard.phases.forms.pieces.results import Closure


def concrete_of(form: FormPlanes) -> tuple[Solid, ...]:
    """The block without what its edges take off, in convex parts."""
    planes = [(-n, -b) for edge in form.edges if len(edge.inner) == 1 for n, b in edge.inner]
    parts: tuple[Solid, ...] = (solids.common(form.block, solids.behind(planes)) if planes else form.block,)
    for edge in (edge for edge in form.edges if len(edge.inner) > 1):
        parts = tuple(left for part in parts for left in solids.without(part, edge.solid))
    return parts


def envelope_of(form: FormPlanes) -> Solid:
    """What lies inside the outer faces of the panels, from the foot to the top."""
    walls = [(wall.normal, wall.offset + form.thick) for wall in form.walls]
    ends = [(wall.normal, wall.offset) for wall in form.ends]
    return solids.behind([*walls, *ends, (UP, form.height), (-UP, 0.0)])


def closing(
    envelope: Solid,
    concrete: Sequence[Solid],
    panels: Sequence[Solid],
    strips: Sequence[Solid],
    blockouts: Sequence[Solid] = (),
) -> Closure:
    """How nearly they fill it, and how little they share."""
    groups = (concrete, panels, strips, blockouts)
    volumes = [sum(solid.volume for solid in group) for group in groups]
    shared = sum(_shared(one, other) for one, other in combinations([s for group in groups for s in group], 2))
    return Closure(
        envelope=envelope.volume,
        concrete=volumes[0],
        panels=volumes[1],
        strips=volumes[2],
        blockouts=volumes[3],
        gap=(envelope.volume - sum(volumes)) / envelope.volume,
        overlap=shared / envelope.volume,
    )


def _shared(one: Solid, other: Solid) -> float:
    return 0.0 if solids.apart(one, other) else solids.common(one, other).volume
