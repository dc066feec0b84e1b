"""Where exactly, in what order do I measure, will the plate drop on its bolts, and will the leaf latch?

    chain(work, tools, measured) -> Setout      readings, stakes, rods, openings, plates, adjustment, cautions, checks
    boards(work, holes) -> tuple of Board       where batter boards and string lines stand, clear of what is dug
    widths(work, tools) -> {"hinge": 0.033}     the hole with which nineteen of twenty plates drop on

The errors of all measurements stand in one vector, in `places`; sizes of errors are standard deviations. The measuring
order is that of the job file, readings of [measured] are judged in `adjusting`, leaves in `latching`.
"""

from functools import partial
from typing import Any

from batterboard.job.schema import Instruments, Measured
from batterboard.phases.setout import adjusting, closing, latching, order
from batterboard.phases.setout.places import Layout, Site
from batterboard.phases.setout.results import (
    Adjustment,
    Caution,
    Diagonal,
    DropOn,
    Latching,
    Link,
    Move,
    Opening,
    Reading,
    Rod,
    Setout,
    Stake,
    Suspect,
    Taken,
)
from batterboard.phases.setout.strings import Board, boards
from batterboard.quantity import Length, Number
from batterboard.standards import aisc, layout
from batterboard.work.records import Work
from batterboard.working import GEOMETRY, PRACTICE, absolute, capacity, check, demand, maximum

__all__ = [
    "Adjustment",
    "Board",
    "Caution",
    "Diagonal",
    "DropOn",
    "Latching",
    "Layout",
    "Link",
    "Move",
    "Opening",
    "Reading",
    "Rod",
    "Setout",
    "Site",
    "Stake",
    "Suspect",
    "Taken",
    "boards",
    "chain",
    "widths",
]

MISS = 0.05  # a plate that fails to drop on more often than this asks for wider holes; common practice, no source
NOTHING = Measured()


def chain(work: Work, tools: Instruments, measured: Measured = NOTHING) -> Setout:
    """Everything that setting out needs, what was measured since, and its checks. Readings only of one job."""
    pairs = tuple(dict.fromkeys(closing.pairs(work)))
    taken = adjusting.checks_of(work, tools, measured)
    own = {f"{a} to {b} reading": tools.tape for a, b, _ in pairs}
    plan = Layout(work, tools, adjusting.errors_of(taken, tools) | own)
    spreads = {base: plan.spread(partial(order.points, base)) for base in work.bases}
    openings = tuple(closing.opening(plan, *leaves) for leaves in closing.gates(work))
    latches = tuple(latching.between(plan, leaves, closing.posts_of(*leaves)) for leaves in closing.gates(work))
    plates = tuple(closing.plate_on_bolts(plan, name) for name in plan.bolts)
    adjustment = adjusting.adjusted(plan, taken) if taken else None
    return Setout(
        readings=tuple(order.readings(plan, spreads)),
        stakes=tuple(stake for base, spread in spreads.items() for stake in order.stakes(plan, base, spread)),
        diagonals=tuple(closing.diagonals(plan, pairs)),
        rods=tuple(order.rods(work)),
        openings=openings,
        latching=latches,
        plates=plates,
        adjustment=adjustment,
        cautions=tuple(adjusting.cautions(plan, taken)),
        checks=(
            *(opening_closes(opening) for opening in openings),
            *(leaf_misses(latch) for latch in latches),
            *(plate_drops_on(plate) for plate in plates),
            *(plate_misses(plate) for plate in plates),
            *((readings_close(adjustment), *map(reading_agrees, adjustment.taken)) if adjustment else ()),
        ),
    )


def widths(work: Work, tools: Instruments) -> dict[str, Any]:
    """For each plate the smallest hole with which all but one in twenty drop on. Simulated: only for who asks."""
    plan = Layout(work, tools)
    return {name: closing.hole_enough(plan, name, MISS) for name in plan.bolts}


# ---- checks ----


@check("Opening against what hangs in it", clause=PRACTICE, of=Length, service=True)
def opening_closes(opening: Opening) -> Any:
    """The latch gap takes up what is too narrow or too wide, at the lower and the upper hinges."""
    o = opening
    low = layout.opening_misclosure(o.between, *o.depths, o.leaves, o.gaps)
    high = layout.opening_misclosure(o.between_high, *o.depths, o.leaves, o.gaps)
    return demand(maximum(absolute(low), absolute(high))), capacity(o.latch_gap, "What the latch gap can take up.")


@check("Chance that the leaf does not latch", clause=PRACTICE, of=Number, service=True)
def leaf_misses(latch: Latching) -> Any:
    """It goes between its posts, the gap is less than twice its plan at both hinges, its end meets the latch."""
    return demand(1 - latch.latches), capacity(MISS, f"What helps most: {latch.worst or 'nothing, all is exact'}.")


@check("Plate on its bolts", clause=GEOMETRY, of=Length)
def plate_drops_on(plate: DropOn) -> Any:
    """The best fit leaves every bolt inside its hole."""
    clearance = aisc.radial_clearance(plate.hole, plate.diameter)
    return demand(
        plate.offset, "Largest offset of a bolt in the best fit, its lean up to the plate's top with it."
    ), capacity(clearance)


@check("Chance that the plate does not drop on", clause=PRACTICE, of=Number)
def plate_misses(plate: DropOn) -> Any:
    return demand(1 - plate.chance), capacity(
        MISS, f"Simulated {plate.samples} times, unless each bolt alone hardly ever misses its hole."
    )


@check("Check measurements together", clause=layout.ADJUSTMENT, of=Number)
def readings_close(adjustment: Adjustment) -> Any:
    """The misfit of all of them, each weighed by what it can tell; nothing is moved by readings that do not close."""
    note = f"{adjustment.redundancy} more than needed."
    if adjustment.suspects:
        worst = adjustment.suspects[0]
        note = f"Look first at {' or '.join((worst.name, *worst.alike))}."
    return demand(adjustment.factor), capacity(adjustment.limit, note)


@check("Check measurement against all others", clause=layout.ADJUSTMENT, of=Length)
def reading_agrees(taken: Taken) -> Any:
    return demand(absolute(taken.disagrees)), capacity(
        taken.allow, "One sound reading in a thousand disagrees by more."
    )
