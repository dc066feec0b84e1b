"""How is a box held in the form, so that it neither floats up nor is squeezed?

    fixing : Fixing("letters", form="west", lift=310, weight=20, nails=5, pressure=9200, ribs=0, ...)

Fresh concrete lifts a box by what it keeps out. One on a panel is held by nails through the panel into its cleats; one
in the top hangs from two battens laid over the form, or over the hole where nothing stands above the ground. The
concrete presses a box that ends inside it against its panel; one that goes through is pressed on its four sides only,
and held at both ends. The lift of all of them goes into the form (`uplift`). Read only where a job has blockouts.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any, Literal

import numpy as np

from batterboard.job.schema import Mix, Stock
from batterboard.phases.forms.bracing import HOLD, nail_through
from batterboard.phases.forms.results import Box
from batterboard.phases.forms.shape import USUAL_SHEET, Shape, shape
from batterboard.phases.forms.sheathing import DRY, carried, kind_of, plywood_of
from batterboard.quantity import Force, Length, Number, Pressure, UnitWeight, Volume, inch
from batterboard.record import record
from batterboard.standards import aci347, apa, bracing, buoyancy, nds, tables
from batterboard.standards.tables import LumberGrade, LumberSize, Plywood, PlywoodStress
from batterboard.work.blockouts import Blockout
from batterboard.work.records import Body, Outline, Work
from batterboard.working import STATICS, Check, capacity, check, demand, maximum, nan

# Common practice, no source.
LEAST_NAILS = 4  # one in each corner
LEAST_STAKES = 4  # one at each end of two battens
BATTENS = 2.0
OVER = 12 * inch  # how far a batten bears past the edge of a hole
WIDE = 12 * inch  # concrete does not flow by itself under what is wider
VENT = 2 * inch  # hole in its underside that shows when concrete has come
CLEAT = 1.5 * inch  # lumber that the nails go into
_MOST_RIBS = 8


@record
class Fixing:
    """One box, what it is pressed by and what holds it."""

    name: str
    element: str
    form: str  # that it is fixed to; "" where stakes hold it
    side: str
    of: Literal["plywood", "lumber", "foam", "box"]
    stays: bool
    through: bool
    wide: Length
    high: Length
    deep: Length
    draft: Number
    volume: Volume  # of concrete that it keeps out
    concrete: UnitWeight
    weight: Force  # its own
    lift: Force  # less its own weight
    pressure: Pressure  # at its lowest edge
    push: Force  # to its panel; nothing where it goes through, or hangs
    nail: Force  # what one holds, before duration
    nails: Number  # that hold it to its panel or battens
    sheet: Plywood  # that its box is sawn from
    stress: PlywoodStress
    span: Length  # of its widest board, the short way; nan where it is no box of plywood
    ribs: int  # across its inside
    batten: LumberSize | None  # over one in the top
    grade: LumberGrade
    batten_span: Length
    end_nails: Number  # 16d at each end of a batten
    stake: Force  # what one stake holds, as entered or assumed
    stakes: Number  # that hold its battens where no form does
    vent: Length  # hole in the underside of its box; nan where none is needed, or it is a block
    crowded: bool  # so wide that concrete does not flow under it by itself


def fixings(work: Work, boxes: Sequence[Box], mixes: Mapping[str, Mix], stock: Stock) -> tuple[Fixing, ...]:
    """Every blockout of the job."""
    forms = {box.name: box for box in boxes}
    return tuple(
        _fixing(hole, body, forms.get(body.name), mixes[body.mix], stock)
        for body in work.bodies
        for hole in body.blockouts
    )


def _fixing(hole: Blockout, body: Body, form: Box | None, mix: Mix, stock: Stock) -> Fixing:
    grade = tables.lumber_grade(stock.lumber)
    of_form = _boxed(body, stock)
    t, sheet = of_form.thick, plywood_of(of_form)
    w = mix.weight if form is None else form.lateral.weight
    peak = w * body.height if form is None else form.lateral.peak
    top, low = hole.side == "top", _lowest(hole)
    weight = _weight(hole, sheet, grade)
    lift = buoyancy.blockout_lift(w, hole.volume, weight)
    pressure = aci347.pressure_at(body.height - low, w, peak)
    span = _span(hole) if hole.of == "plywood" else nan
    size = tables.lumber_size(stock.brace)
    D, long, F_yb = nds.NAIL_6D
    nail = nds.nail(D, nds.nail_bearing(grade.G), F_yb, t, long - t)
    if top:
        nail = nail_through(size, grade)
    on_form = form is not None and form.kind != "tube"
    over = body.head.least + (2 * t if on_form else 2 * OVER)
    return Fixing(
        name=hole.name,
        element=hole.element,
        form=form.name if form is not None and (on_form or not top) else "",
        side=hole.side,
        of=hole.of,
        stays=hole.stays,
        through=hole.through,
        wide=hole.wide,
        high=hole.high,
        deep=hole.deep,
        draft=hole.draft,
        volume=hole.volume,
        concrete=w,
        weight=weight,
        lift=lift,
        pressure=pressure,
        push=0.0 * pressure if hole.through or top else aci347.pressure_at(body.height - hole.z, w, peak) * _end(hole),
        nail=nail,
        nails=maximum(nds.nails_needed(lift, nail, nds.FORM_DURATION), LEAST_NAILS),
        sheet=sheet,
        stress=tables.plywood_stress(kind_of(sheet.name)),
        span=span,
        ribs=_ribs(span, pressure, sheet) if hole.of == "plywood" else 0,
        batten=size if top else None,
        grade=grade,
        batten_span=over if top else nan,
        end_nails=maximum(nds.nails_needed(lift / (2 * BATTENS), nail, nds.FORM_DURATION), 2) if top else nan,
        stake=stock.stake,
        stakes=maximum(bracing.stakes(lift, stock.stake), LEAST_STAKES) if top and not on_form else 0.0 * lift,
        vent=VENT if not top and hole.of == "plywood" and np.any(hole.wide > WIDE) else nan,
        crowded=bool(not top and np.any(hole.wide > WIDE)),
    )


def _boxed(body: Body, stock: Stock) -> Shape:
    """The form it would have of panels: what sheet its boxes are sawn from, in a tube or in the ground too."""
    o = body.outline
    square = (
        body if o.kind != "round" else replace(body, outline=Outline(kind="rectangle", along=o.along, across=o.across))
    )
    return shape(square, body.height, stock.sheets or (USUAL_SHEET,), stock.lap)


def _lowest(hole: Blockout) -> Length:
    """Of all of it, above the foot of the concrete."""
    return hole.z - (hole.deep if hole.side == "top" else hole.high / 2)


def _end(hole: Blockout) -> Any:
    """Of its mouth: what the pressure on its end and on its tapering sides comes to, square to the panel."""
    return hole.wide * hole.high


def _span(hole: Blockout) -> Length:
    """Of the widest of its boards, the short way: each lies on four edges."""
    side = np.minimum(np.maximum(hole.wide, hole.high), hole.deep)[()]
    end = 0.0 if hole.through else np.minimum(hole.wide, hole.high)[()]
    return np.maximum(side, end)[()]


def _weight(hole: Blockout, sheet: Plywood, grade: LumberGrade) -> Force:
    """Of plywood and lumber; foam and a bought box count for nothing."""
    if hole.of == "plywood":
        gone = hole.draft * hole.deep
        sides = 2 * (hole.wide + hole.high - 2 * gone) * hole.deep
        end = 0.0 if hole.through else (hole.wide - 2 * gone) * (hole.high - 2 * gone)
        return (sides + end) * sheet.weight
    return hole.volume * grade.G * buoyancy.WATER if hole.of == "lumber" else 0.0 * hole.volume


def _carries(sheet: Plywood, stress: PlywoodStress, span: Length) -> Pressure:
    """One board of the box between its edges or ribs, its grain the weak way."""
    return carried(sheet, stress, False, span, span, 1)


def _ribs(span: Length, pressure: Pressure, sheet: Plywood) -> int:
    """Ribs across the inside that its widest board needs."""
    stress = tables.plywood_stress(kind_of(sheet.name))
    for ribs in range(_MOST_RIBS):
        if not np.any(_carries(sheet, stress, span / (ribs + 1)) < pressure):
            return ribs
    return _MOST_RIBS


# ---- checks ----


def blockout_checks(made: Iterable[Fixing]) -> Iterator[Check]:
    for fixing in made:
        yield held_down(fixing)
        if fixing.of == "plywood":
            yield side_of_box(fixing)
        if fixing.batten is not None:
            yield batten(fixing)
        if np.any(fixing.stakes > 0):
            yield stakes(fixing)


@check("Blockout held down", clause=nds.LATERAL, of=Force)
def held_down(fixing: Fixing) -> tuple[Any, ...]:
    F = buoyancy.blockout_lift(fixing.concrete, fixing.volume, fixing.weight)
    R = nds.nails_strength(fixing.nail, nds.FORM_DURATION, fixing.nails)
    size = "16d common nails into two battens" if fixing.batten else "6d common nails through the panel into its cleats"
    return demand(F), capacity(R), size


@check("Side of a blockout's box", clause=apa.SPANS, of=Pressure)
def side_of_box(fixing: Fixing) -> tuple[Any, ...]:
    span = fixing.span / (fixing.ribs + 1)
    ribs = f"{fixing.ribs} across the inside" if fixing.ribs else "none inside"
    return (
        demand(fixing.pressure),
        capacity(_carries(fixing.sheet, fixing.stress, span)),
        f"{fixing.sheet.name}, ribs: {ribs}",
    )


@check("Battens over a blockout", clause=nds.ADJUSTED, of=Pressure)
def batten(fixing: Fixing) -> tuple[Any, ...]:
    size = fixing.batten
    assert size is not None
    F = bracing.shared(fixing.lift, BATTENS)
    M = nds.middle_load_moment(F, fixing.batten_span)
    F_b = nds.bending_strength(fixing.grade.F_b, size.C_F, nds.FORM_DURATION, DRY)
    return demand(nds.bending_stress(M, size.modulus)), capacity(F_b), f"two {size.name} {fixing.grade.name} on edge"


@check("Stakes that hold a blockout's battens", clause=STATICS, of=Force)
def stakes(fixing: Fixing) -> tuple[Any, ...]:
    R = bracing.stakes_hold(fixing.stakes, fixing.stake)
    return demand(fixing.lift), capacity(R), HOLD
