"""One drilled pattern for bolts and plate, and what to do where the bolts as cast do not suit it.

    results   what is answered, as records
    pattern   holes, edges, marks, the length of a bolt     proof     how the template hangs, what proves it
    found     the plate on its bolts as found: how it lies best, which holes to open, what the moved post does

Own axes of the plate: x ahead, y to the left, seen from above. What the concrete holds is not asked here; how likely a
plate drops on before anything was found is asked in `setout`.
"""

from typing import Any, Literal

import numpy as np

from batterboard.phases.template.pattern import pattern_of
from batterboard.phases.template.results import (
    Agreement,
    Budget,
    Diagonal,
    Match,
    Moved,
    Opening,
    Pattern,
    Point,
    Proof,
    Remade,
    Rod,
    Seat,
    Spot,
    Template,
)
from batterboard.quantity import Length
from batterboard.standards import aci117, aci318, aisc
from batterboard.work.records import Machine, Post, Work
from batterboard.working import PRACTICE, capacity, check, demand

__all__ = [
    "Agreement", "Budget", "Diagonal", "Match", "Moved", "Opening", "Pattern", "Point", "Proof", "Remade", "Rod",
    "Seat", "Spot", "Template", "patterns",
]  # fmt: skip


def patterns(work: Work, units: Literal["us", "si"] = "us") -> Template:
    """One pattern for each plate of the job, and what it must fulfil before anything is drilled."""
    things: list[Post | Machine] = [*work.posts.values(), *work.machines.values()]
    bolted = [(t, t.plate, t.bolts) for t in things if t.plate is not None and t.bolts is not None]
    made = tuple(pattern_of(work, *each) for each in bolted)
    seats: tuple[Seat, ...] = ()
    agreements: tuple[Agreement, ...] = ()
    if any(bolts.found for _, _, bolts in bolted):
        from batterboard.phases.template import found  # most jobs are checked before a bolt stands

        agreements = tuple(one for _, _, bolts in bolted for one in found.agreements(bolts))
        seats = tuple(
            found.seat(work, thing, plate, bolts, one, units)
            for (thing, plate, bolts), one in zip(bolted, made)
            if found.was_found(bolts)
        )
    return Template(
        patterns=made,
        seats=seats,
        agreements=agreements,
        checks=(
            *(bolt_stands_proud(one) for one in made),
            *(hole_takes_tolerance(one) for one in made),
            *(hole_clears_edge(one) for one in made),
            *(foot_covered(one) for one in made),
            *(thread_long_enough(one) for one in made if np.all(one.budget.bought == one.budget.bought)),
            *(measured_alike(one) for one in agreements),
        ),
    )


# ---- checks ----


@check("Bolt long enough above the concrete", clause=aisc.ROD_LENGTH, of=Length)
def bolt_stands_proud(pattern: Pattern) -> Any:
    """Through grout, plate, washer and nut, with threads to show."""
    b = pattern.budget
    needed = aisc.rod_projection(b.grout, b.plate, b.washer, b.nut, b.threads)
    return demand(needed), capacity(b.proud, "The lowest bolt counts.")


@check("Hole against the tolerance of a bolt's place", clause=aci117.ROD_PLACE, of=Length)
def hole_takes_tolerance(pattern: Pattern) -> Any:
    """A bolt that is off by what the code allows, in any direction, still stands inside its hole."""
    clearance = aisc.radial_clearance(pattern.hole, pattern.diameter)
    return demand(pattern.tolerance), capacity(clearance, f"Hole by {pattern.hole_from}.")


@check("Steel beside the holes", clause=aisc.EDGES, of=Length)
def hole_clears_edge(pattern: Pattern) -> Any:
    least = aisc.least_edge_distance(pattern.least_edge_standard, pattern.standard_hole, pattern.hole)
    nearest = np.min(np.stack(np.broadcast_arrays(*(point.edge for point in pattern.points))), axis=0)
    return demand(least), capacity(nearest)


@check("Thread on the bolt", clause=aisc.ROD_LENGTH, of=Length)
def thread_long_enough(pattern: Pattern) -> Any:
    """From the top of the bolt down to where its nut may have to run: the concrete."""
    note = "A nut runs down to the concrete, under a levelling nut too."
    return demand(pattern.budget.thread), capacity(pattern.budget.bought, note)


@check("Concrete below the bolt's foot", clause=aci318.COVER, of=Length)
def foot_covered(pattern: Pattern) -> Any:
    """What carries the bolt is cast against earth underneath, and there the foot rusts like a bar."""
    needed = aci318.cover_on_earth(pattern.diameter)
    return demand(needed, "As for a bar cast against earth."), capacity(pattern.budget.below, "Below the lowest bolt.")


@check("Bolt measured twice", clause=PRACTICE, of=Length)
def measured_alike(agreement: Agreement) -> Any:
    """Two ways of measuring one bolt must give one place; else one of them was misread."""
    first, second = agreement.ways
    note = f"By {first} and by {second}. Measure it again; the first stands until then."
    return demand(agreement.apart, note), capacity(agreement.allowed)
