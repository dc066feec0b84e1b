"""How does the template hang over the form, and what proves that it hangs right?

    proof : Proof("centred", hold="the form's back face", read="the centre line across", value=0.279, within=0.0016)

In the order in which it is done: what moves the template comes before what only looks. The concrete line is the mark
on the form that the concrete will be struck to.
"""

from collections.abc import Iterator
from typing import Any

import numpy as np

from batterboard.phases.template.results import Proof
from batterboard.quantity import inch
from batterboard.work.records import Bolts, Outline, Pier, Plate, Slab, Work
from batterboard.working import absolute, cos, hypot, maximum, nan, pi, sin

READ = inch / 16  # as near as a tape is read to a centre line, common practice
ALIKE = inch / 32  # two readings of one rule that should be the same


def proofs(work: Work, base: Pier | Slab, plate: Plate, bolts: Bolts, line: str) -> Iterator[Proof]:
    """What to do and to measure, in order."""
    top = base.shaft.outline if isinstance(base, Pier) else base.body.outline
    along, across = base.frame.into(bolts.frame.x, bolts.frame.y)
    yield Proof(
        name="lay it",
        proves="hangs",
        hold="two straight battens on the form's top edge, screwed down, never on the cage",
        read=f"UP above, arrow AHEAD{f' along {line}' if line else ''}; a nut over and under it on every bolt",
        value=nan,
        within=nan,
    )
    yield Proof(
        name="holes",
        proves="pattern",
        hold="the middle of every hole",
        read="the middle of the others: as in the list of distances",
        value=nan,
        within=ALIKE,
    )
    for side, centre, quarter, off in (
        ("back", "across", 2, along),
        ("ahead", "across", 0, -along),
        ("right", "along", 3, across),
        ("left", "along", 1, -across),
    ):
        what, reach = _side(top, quarter)
        if what:
            yield Proof(
                name=f"from {side}",
                proves="centred",
                hold=f"the form's {side} {what}, inside",
                read=f"the centre line {centre}",
                value=reach + off,
                within=READ,
            )
    if line in work.lines:
        yield from _square(work, plate, bolts, line)
    yield Proof(
        name="level",
        proves="level",
        hold="a spirit level on the template, along, across and corner to corner",
        read="the bubble; turned end for end it must read the same",
        value=0.0,
        within=ALIKE,
    )
    yield Proof(
        name="height",
        proves="height",
        hold="the concrete line on the form",
        read="the top of every bolt",
        value=np.max(bolts.proud, axis=0),
        within=READ,
    )


def _side(outline: Outline, quarter: int) -> tuple[str, Any]:
    """What a form has ahead (0), left (1), back (2) or right (3) of its middle, and how far that is; "" for a slant."""
    if outline.kind != "polygon":
        return "face", (outline.across if quarter % 2 else outline.along) / 2
    past = quarter * outline.sides % 4  # quarters of a side's turn past a side that is met square
    if past == 0:
        return "face", outline.along / 2
    if past == 2:
        b, c = outline.corners, outline.other_leg
        cut = 2 * b * c * sin(pi / outline.sides) / maximum(b + c, 1e-12)  # as far as the line meets the strip's face
        return "corner", outline.along / 2 / cos(pi / outline.sides) - cut
    return "", nan


def _square(work: Work, plate: Plate, bolts: Bolts, name: str) -> Iterator[Proof]:
    """The two ends of the centre line along, from the string: as far off as each other, else it is turned."""
    line, half = work.lines[name], plate.along / 2
    if line.arc is not None and line.arc.centre:
        yield from _swung(work, bolts, half, line.arc.centre)
        return
    for end, far in (("ahead", half), ("back", -half)):
        off = line.string.into(*bolts.frame.out(far, 0.0))[1]
        side = "" if _first(absolute(off)) < 1e-6 else ", on its left" if _first(off) > 0 else ", on its right"
        yield Proof(
            name=f"square, {end}",
            proves="square",
            hold=f"the {'chord' if line.arc is not None else 'string'} {name}{side}",
            read=f"the centre line along, at the {end} edge",
            value=absolute(off),
            within=ALIKE,
        )


def _swung(work: Work, bolts: Bolts, half: Any, nail: str) -> Iterator[Proof]:
    """The same two ends, from the nail that the arc is swung from."""
    at_x, at_y = work.marks[nail]
    for end, far in (("ahead", half), ("back", -half)):
        x, y = bolts.frame.out(far, 0.0)
        yield Proof(
            name=f"square, {end}",
            proves="square",
            hold=f"the nail {nail}",
            read=f"the centre line along, at the {end} edge",
            value=hypot(x - at_x, y - at_y),
            within=ALIKE,
        )


def _first(value: Any) -> float:
    """Of variants the first: words are the same for all."""
    return float(np.ravel(value)[0])
