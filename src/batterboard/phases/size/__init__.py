"""Will it stand up, in this wind, on this soil, and will the leaf still latch?

    Size     : the whole answer, from `stands(work, wind, mixes)`
    Load     : what presses on the soil under one base, over its cases      loads
    Movement : where a leaf's droop comes from                             movement
    Check    : demand and capacity of each base and leaf                   checks, movement

Bars, bolts, plates and posts are not judged here, nor frost: see `dig` for depths.
"""

from collections.abc import Mapping

from batterboard.job.schema import Mix, Wind
from batterboard.phases.size import checks, loads, movement
from batterboard.phases.size.results import Effect, Load, Movement, Push, Size
from batterboard.work.records import Work

__all__ = ["Effect", "Load", "Movement", "Push", "Size", "stands"]


def stands(work: Work, wind: Wind | None, mixes: Mapping[str, Mix]) -> Size:
    """Loads on every base, how far every leaf moves, and every check of both."""
    on_soil = loads.on_bases(work, wind, mixes)
    leaves = movement.of_leaves(work, on_soil, mixes)
    return Size(
        loads=on_soil,
        movements={name: how for name, (how, _) in leaves.items()},
        notes=_notes(work, wind),
        checks=(
            *(one for _, of_leaf in leaves.values() for one in of_leaf),
            *(one for load in on_soil.values() for one in checks.of_base(load, work.soil)),
        ),
    )


def _notes(work: Work, wind: Wind | None) -> tuple[str, ...]:
    """What the numbers rest on."""
    notes = [
        "Overturning and sliding are 1.5 times safe under full dead load; with 0.6 of it the margin is in the 0.6.",
        "Soil in front of a pad, grip on the sides of a pier and the weight of tie beams are not counted.",
        "No water in the ground: concrete and soil weigh less in it, and the soil holds less.",
    ]
    if wind is None:
        notes.append(loads.NO_WIND)
    else:
        notes.append(
            "Wind by ASCE 7-16: flat ground, stiff structures, lattices of flat bars. No ice, no twist on the foot."
        )
        notes.append("Wind on concrete that stands out of the ground is not counted.")
        notes.append("An open leaf is taken as held there, all its wind on its hinge post; a closed one as latched.")
    if work.leaves:
        notes.append(
            "Soil gives as a bed of springs, its stiffness as assumed: halve it and the droop by the soil doubles."
        )
        notes.append("No thrust of a gate operator and no blow of a leaf against its stop.")
    meeting = [leaf for leaf in work.leaves.values() if leaf.meets in work.leaves]
    if any(leaf.held for leaf in meeting):
        notes.append("Where two leaves meet, a bolt into the ground takes its share of the wind on each.")
    if any(not leaf.held for leaf in meeting):
        notes.append("Two leaves meet without a bolt into the ground: each hinge post takes all the wind on its leaf.")
    if work.machines:
        notes.append("Machines: no wind on them, no vibration.")
    return tuple(notes)
