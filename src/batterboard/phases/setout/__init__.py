"""Where exactly, in what order do I measure, and will the plate drop on its bolts?

    chain(work, tools) -> Setout      readings, stakes, check measurements, rod readings, openings, plates, checks

The errors of all measurements stand in one vector, in `places`; sizes of errors are standard deviations. The measuring
order is that of the job file. Adjusting check measurements, corrections of the tape and slotting holes are not here.
"""

from functools import partial
from typing import Any

from batterboard.job.schema import Instruments
from batterboard.phases.setout import closing, order
from batterboard.phases.setout.places import Layout, Site
from batterboard.phases.setout.results import Diagonal, DropOn, Opening, Reading, Rod, Setout, Stake
from batterboard.quantity import Length, Number
from batterboard.standards import aisc, layout
from batterboard.work.records import Work
from batterboard.working import GEOMETRY, PRACTICE, absolute, capacity, check, demand, maximum

__all__ = ["Diagonal", "DropOn", "Layout", "Opening", "Reading", "Rod", "Setout", "Site", "Stake", "chain"]

MISS = 0.05  # a plate that fails to drop on more often than this asks for wider holes; common practice, no source


def chain(work: Work, tools: Instruments) -> Setout:
    """Everything that setting out needs, and its checks."""
    pairs = tuple(dict.fromkeys(closing.pairs(work)))
    plan = Layout(work, tools, tuple(f"{a} to {b}" for a, b, _ in pairs))
    spreads = {base: plan.spread(partial(order.points, base)) for base in work.bases}
    openings = tuple(closing.opening(plan, *leaves) for leaves in closing.gates(work))
    plates = tuple(closing.plate_on_bolts(plan, name) for name in plan.bolts)
    return Setout(
        readings=tuple(order.readings(plan, spreads)),
        stakes=tuple(stake for base, spread in spreads.items() for stake in order.stakes(plan, base, spread)),
        diagonals=tuple(closing.diagonal(plan, *pair) for pair in pairs),
        rods=tuple(order.rods(work)),
        openings=openings,
        plates=plates,
        checks=(
            *(opening_closes(opening) for opening in openings),
            *(plate_drops_on(plate) for plate in plates),
            *(plate_misses(plate) for plate in plates),
        ),
    )


# ---- checks ----


@check("Opening against what hangs in it", clause=PRACTICE, of=Length, service=True)
def opening_closes(opening: Opening) -> Any:
    """The latch gap takes up what is too narrow or too wide, at the lower and the upper hinges."""
    o = opening
    low = layout.opening_misclosure(o.between, *o.depths, o.leaves, o.gaps)
    high = layout.opening_misclosure(o.between_high, *o.depths, o.leaves, o.gaps)
    return demand(maximum(absolute(low), absolute(high))), capacity(o.latch_gap, "What the latch gap can take up.")


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
