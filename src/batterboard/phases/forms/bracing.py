"""What holds a standing form upright, empty or full?

    brace : Brace("west", moment=829, governs="least force", a_side=1, length=1.08, stakes=1, ...)

On every side, against wind on the face or the least force along its top, whichever tips more. Braces stand at 45
degrees from three quarters of the height, their feet against stakes. A brace that is too slender is held in the middle.
What a stake holds is an assumption of the job file. Plumbing the form, and the ground itself, are not here.
"""

from typing import Any, Literal

import numpy as np

from batterboard.job.schema import Stock
from batterboard.quantity import Force, Length, Moment, Number, Pressure
from batterboard.record import record
from batterboard.standards import bracing, nds, tables
from batterboard.standards.tables import LumberGrade, LumberSize
from batterboard.working import ceil, maximum, sqrt

UP = 0.75  # share of the height that braces reach; common practice, no source


@record
class Brace:
    name: str  # of the form
    width: Length  # of its widest face, outside
    height: Length
    wind: Moment
    least: Moment
    moment: Moment  # the larger
    governs: Literal["wind", "least force"]
    size: LumberSize
    grade: LumberGrade
    a_side: Number  # braces on each side
    up: Length  # where they meet the form, above its foot
    run: Length  # how far out their feet stand
    length: Length
    middles: Number  # places between its ends where each is held sideways
    push: Force  # of one, level
    force: Force  # along one, pressed or pulled
    strength: Pressure  # along the grain, as slender as it is
    lift: Force  # of one at the foot of the form, where it is pulled
    stake: Force  # what one stake holds, as entered or assumed
    stakes: Number  # at the foot of each


def brace_of(name: str, width: Length, height: Length, stock: Stock) -> Brace:
    """Braces on each side of a form: as many as 6 ft between them, their strength and their length ask for."""
    size, grade = tables.lumber_size(stock.brace), tables.lumber_grade(stock.lumber)
    wind = bracing.wind_moment(bracing.WIND, width, height)
    least = bracing.least_moment(bracing.LEAST, width, height)
    moment = bracing.tipping_moment(wind, least)
    up = UP * height
    push = bracing.push_at(moment, up)
    length = up * sqrt(2.0)
    d = size.wide
    pieces = ceil(length / nds.longest_strut(d))
    strength = nds.column_strength(grade.F_c, grade.E_min, nds.FORM_DURATION, length / pieces, d)
    along = bracing.strut_force(push, up, up)
    a_side = maximum(ceil(width / bracing.SPACED), ceil(along / (strength * size.area)))
    each = bracing.shared(push, a_side)
    return Brace(
        name=name,
        width=width,
        height=height,
        wind=wind,
        least=least,
        moment=moment,
        governs="wind" if _first(wind) > _first(least) else "least force",
        size=size,
        grade=grade,
        a_side=a_side,
        up=up,
        run=up,
        length=length,
        middles=pieces - 1,
        push=each,
        force=bracing.strut_force(each, up, up),
        strength=strength,
        lift=bracing.strut_lift(each, up, up),
        stake=stock.stake,
        stakes=bracing.stakes(each, stock.stake),
    )


def _first(value: Any) -> float:
    return float(np.ravel(value)[0])
