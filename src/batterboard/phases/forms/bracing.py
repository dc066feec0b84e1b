"""What holds a standing form upright, empty or full?

    brace : Brace("west", moment=829, governs="least force", a_side=1, length=1.08, stakes=1, ...)

On every side, against the least wind that forms are braced for, the place's own where the job states it, or the least
force along the top: whichever tips more. The place's wind is that on a solid sign on the ground, as long as the face is
wide. Braces stand at 45
degrees from three quarters of the height, their feet against stakes. A brace that is too slender is held in the middle.
What a stake holds is an assumption of the job file. Plumbing the form, and the ground itself, are not here.
"""

from dataclasses import replace
from typing import Any, Literal

import numpy as np

from batterboard.job.schema import Stock, Wind
from batterboard.quantity import Force, Length, Moment, Number, Pressure
from batterboard.record import record
from batterboard.standards import asce7, bracing, nds, tables
from batterboard.standards.tables import LumberGrade, LumberSize
from batterboard.working import ceil, maximum, sqrt

LONGEST = 10.0  # times its height, as far as the figure of a sign's ends goes: longer faces are taken as this
UP = 0.75  # share of the height that braces reach; common practice, no source
HOLD = "what a stake holds is assumed or as entered: test one"


@record
class Brace:
    name: str  # of the form
    width: Length  # of its widest face, outside
    height: Length
    wind: Moment
    least: Moment
    site: Moment  # of the place's own wind; 0 where the job states none
    at: Wind | None
    moment: Moment  # the largest
    governs: Literal["wind", "site wind", "least force"]
    size: LumberSize
    grade: LumberGrade
    a_side: Number  # braces on each side
    up: Length  # where they meet the form, above its foot
    run: Length  # how far out their feet stand
    length: Length
    middles: Number  # places between its ends where each is held sideways
    push: Force  # of one, level
    force: Force  # along one, pressed or pulled
    nails: Number  # 16d at each end of one; nan where they do not reach through it
    strength: Pressure  # along the grain, as slender as it is
    lift: Force  # of one at the foot of the form, where it is pulled
    stake: Force  # what one stake holds, as entered or assumed
    stakes: Number  # at the foot of each


def brace_as(known: dict[Any, Any], name: str, width: Length, height: Length, stock: Stock, at: Wind | None) -> Brace:
    """The brace of a form; forms of one size are braced alike, and that is reckoned once."""
    key = ("brace", *(v if np.ndim(v) == 0 else np.asarray(v).tobytes() for v in (width, height)))
    if key not in known:
        known[key] = brace_of(name, width, height, stock, at)
    alike: Brace = known[key]
    return replace(alike, name=name)


def brace_of(name: str, width: Length, height: Length, stock: Stock, at: Wind | None) -> Brace:
    """Braces on each side of a form: as many as 6 ft between them, their strength and their length ask for."""
    size, grade = tables.lumber_size(stock.brace), tables.lumber_grade(stock.lumber)
    wind = bracing.wind_moment(bracing.WIND, width, height)
    least = bracing.least_moment(bracing.LEAST, width, height)
    site = site_moment(width, height, at)
    moment = bracing.tipping_moment(wind, least, site)
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
        site=site,
        at=at,
        moment=moment,
        governs=_governs(_first(wind), _first(least), _first(site)),
        size=size,
        grade=grade,
        a_side=a_side,
        up=up,
        run=up,
        length=length,
        middles=pieces - 1,
        push=each,
        force=bracing.strut_force(each, up, up),
        nails=nds.nails_needed(bracing.strut_force(each, up, up), nail_through(size, grade), nds.FORM_DURATION),
        strength=strength,
        lift=bracing.strut_lift(each, up, up),
        stake=stock.stake,
        stakes=bracing.stakes(each, stock.stake),
    )


def nail_through(size: LumberSize, grade: LumberGrade) -> Force:
    """What one 16d nail holds through a stick into another of the same size, before duration."""
    D, long, F_yb = nds.NAIL_16D
    into = np.minimum(long - size.wide, size.wide)[()]
    return nds.nail(D, nds.nail_bearing(grade.G), F_yb, size.wide, into)


def site_moment(width: Length, height: Length, at: Wind | None, under: Length = 0.0) -> Moment:
    """Of the place's own design wind on one face about the ground. under : how far the face stands above it."""
    if at is None:
        return 0.0
    exposure, top = asce7.EXPOSURES[at.exposure], height + under
    K_z = asce7.exposure_coefficient(top, exposure.alpha, exposure.z_g)
    q = asce7.velocity_pressure(K_z, asce7.NO_HILL, asce7.DIRECTIONALITY["sign"], asce7.SEA_LEVEL, at.speed)
    longer = np.minimum(width / height, LONGEST)[()]
    C_A, C_C = asce7.case_a_coefficient(longer, height / top), asce7.case_c_coefficient(longer)
    C_f = asce7.sign_coefficient(C_A, C_C, asce7.strip_reduction(height, top), 1.0)
    return bracing.site_moment(
        asce7.wind_force(q, asce7.GUST, C_f, width * height), asce7.resultant_height(height, top)
    )


def _governs(wind: float, least: float, site: float) -> Literal["wind", "site wind", "least force"]:
    if site > max(wind, least):
        return "site wind"
    return "wind" if wind > least else "least force"


def _first(value: Any) -> float:
    return float(np.ravel(value)[0])
