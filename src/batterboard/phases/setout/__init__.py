"""Where exactly, in what order do I measure, will the plate drop on its bolts, and will the leaf latch?

    chain(work, tools, measured) -> Setout      readings, stakes, rods, openings, plates, cautions, checks: when asked
    widths(work, tools) -> {"hinge": 0.033}     the hole with which nineteen of twenty plates drop on

The errors of all measurements stand in one vector, in `places`; sizes of errors are standard deviations. The measuring
order is that of the job file, readings of [measured] are judged in `adjusting`, leaves in `latching`; where batter
boards and string lines stand, clear of what is dug, is asked in `strings`.
"""

from functools import cached_property, partial
from typing import TYPE_CHECKING, Any

from batterboard.job.schema import Instruments, Measured
from batterboard.methods.errors import Spread
from batterboard.phases.setout import closing, latching, order
from batterboard.phases.setout.latching import Asked
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
    Stake,
    Suspect,
    Taken,
)
from batterboard.quantity import Length, Number
from batterboard.standards import aisc, layout
from batterboard.work.records import Work
from batterboard.working import GEOMETRY, PRACTICE, Check, absolute, capacity, check, demand, maximum

if TYPE_CHECKING:
    from batterboard.phases.setout.adjusting import Read

__all__ = [
    "Adjustment",
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
    "chain",
    "widths",
]

MISS = 0.05  # a plate that fails to drop on more often than this asks for wider holes; common practice, no source
NOTHING = Measured()


class Setout:
    """What setting out answers, each when it is asked: a check needs neither the measuring order nor the stakes."""

    def __init__(self, plan: Layout, taken: "tuple[Read, ...]" = ()) -> None:
        self.plan, self.taken = plan, taken

    @cached_property
    def readings(self) -> tuple[Reading, ...]:
        return tuple(order.readings(self.plan, self._spreads))

    @cached_property
    def stakes(self) -> tuple[Stake, ...]:
        return tuple(stake for base, spread in self._spreads.items() for stake in order.stakes(self.plan, base, spread))

    @cached_property
    def diagonals(self) -> tuple[Diagonal, ...]:
        return tuple(closing.diagonals(self.plan))

    @cached_property
    def rods(self) -> tuple[Rod, ...]:
        return tuple(order.rods(self.plan.work))

    @cached_property
    def openings(self) -> tuple[Opening, ...]:
        return tuple(latching.opening(self.plan, asked) for asked in self._gates)

    @cached_property
    def latching(self) -> tuple[Latching, ...]:
        return tuple(latching.between(self.plan, asked) for asked in self._gates)

    @cached_property
    def plates(self) -> tuple[DropOn, ...]:
        return tuple(closing.plate_on_bolts(self.plan, name) for name in self.plan.bolts)

    @cached_property
    def adjustment(self) -> Adjustment | None:
        """None where nothing was measured."""
        if not self.taken:
            return None
        from batterboard.phases.setout import adjusting

        return adjusting.adjusted(self.plan, self.taken)

    @cached_property
    def cautions(self) -> tuple[Caution, ...]:
        from batterboard.phases.setout import adjusting

        return tuple(adjusting.cautions(self.plan, self.taken))

    @cached_property
    def checks(self) -> tuple[Check, ...]:
        made = self.adjustment
        return (
            *map(opening_closes, self.openings),
            *map(leaf_misses, self.latching),
            *map(plate_drops_on, self.plates),
            *map(plate_misses, self.plates),
            *((readings_close(made), *map(reading_agrees, made.taken)) if made else ()),
        )

    @cached_property
    def _spreads(self) -> dict[str, Spread]:
        """Of all that stands on each base."""
        return {base: self.plan.spread(partial(order.points, base)) for base in self.plan.work.bases}

    @cached_property
    def _gates(self) -> tuple[Asked, ...]:
        return tuple(latching.asked(self.plan, leaves) for leaves in closing.gates(self.plan.work))


def chain(work: Work, tools: Instruments, measured: Measured = NOTHING) -> Setout:
    """Everything that setting out needs, what was measured since, and its checks. Readings only of one job."""
    if not measured.readings:
        return Setout(Layout(work, tools))
    from batterboard.phases.setout import adjusting  # most jobs are checked before anything is measured

    taken = adjusting.checks_of(work, tools, measured)
    return Setout(Layout(work, tools, adjusting.errors_of(taken, tools)), taken)


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
