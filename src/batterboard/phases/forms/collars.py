"""What do the braces of a tube hold on to, and what keeps its foot in place?

    collar : Collar("shaft", ups=(0.019, 1.829), stick=1.12, nails=3, ...)     one at the foot, one where braces meet it

A collar is four sticks laid tight round the tube, two over two, and nailed where they cross; each brace is nailed to
the middle of one. A brace that is pulled bends its stick between the crossings, and their nails hold it: a paper tube
holds no nail. The stick is the braces' own, or the next wider that is enough.
"""

from collections.abc import Iterator

import numpy as np

from batterboard.job.schema import Stock
from batterboard.phases.forms.bracing import Brace, nail_through
from batterboard.phases.forms.results import Box, Collar
from batterboard.phases.forms.sheathing import DRY
from batterboard.phases.forms.yokes import MOST_NAILS
from batterboard.quantity import Force, Length, Pressure, inch
from batterboard.standards import bracing, nds, tables
from batterboard.working import Check, capacity, check, demand

WALL = 1 / 2 * inch  # how thick a tube's wall is taken; common practice, no source
SIZES = ("2x4", "2x6")  # what a 16d nail reaches through


def collar_of(inside: Length, brace: Brace, stock: Stock) -> Collar:
    """For the worst of a batch: the first stick that bends no further and whose crossings hold, else the widest."""
    grade = tables.lumber_grade(stock.lumber)
    start = SIZES.index(brace.size.name) if brace.size.name in SIZES else 0
    push = bracing.support_load(brace.push, brace.a_side)
    outside = inside + 2 * WALL
    made = []
    for name in SIZES[start:]:
        size = tables.lumber_size(name)
        span = outside + size.deep
        nail = nail_through(size, grade)
        needed = nds.nails_needed(push / 2, nail, nds.FORM_DURATION)
        bends = nds.bending_stress(nds.middle_load_moment(push, span), size.modulus)
        F_b = nds.bending_strength(grade.F_b, size.C_F, nds.FORM_DURATION, DRY)
        collar = Collar(
            size=size,
            grade=grade,
            outside=outside,
            span=span,
            stick=outside + 2 * size.deep,
            ups=(size.wide, brace.up),
            push=push,
            nail=nail,
            nails=np.minimum(needed, MOST_NAILS)[()],
        )
        made.append(collar)
        if np.all(bends <= F_b) and np.all(needed <= MOST_NAILS):
            return collar
    return made[-1]


def checks_of(box: Box) -> Iterator[Check]:
    yield collar_bending(box)
    yield collar_nails(box)


@check("Collar round the tube in bending", clause=nds.ADJUSTED, of=Pressure)
def collar_bending(box: Box) -> tuple[object, ...]:
    of = box.collar
    assert of is not None
    f_b = nds.bending_stress(nds.middle_load_moment(of.push, of.span), of.size.modulus)
    F_b = nds.bending_strength(of.grade.F_b, of.size.C_F, nds.FORM_DURATION, DRY)
    return demand(f_b), capacity(F_b), f"{of.size.name} {of.grade.name} on edge, dry, where a brace pulls"


@check("Nails where the sticks of a collar cross", clause=nds.LATERAL, of=Force)
def collar_nails(box: Box) -> tuple[object, ...]:
    of = box.collar
    assert of is not None
    F = bracing.shared(of.push, 2.0)
    return demand(F), capacity(nds.nails_strength(of.nail, nds.FORM_DURATION, of.nails)), "16d common nails"
