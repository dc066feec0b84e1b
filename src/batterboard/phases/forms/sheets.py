"""How do the panels lie on the sheets, and in which order are they sawn?

    layout : SheetLayout(of="3/4 in plywood", size=(2.4384, 1.2192), times=2, places=(...), cuts=(...), offcut=...)
    cut    : SheetCut(stage=1, along=True, at=0.5588, start=0.0, end=2.4384)     the kerf begins at `at`
    total  : SheetTotal(of="3/4 in plywood", sheets=3, bought=2, least=2, ...)

A panel, or each part of one that is joined, lies with the face grain that its supports ask for; where none are sized,
either way, as do the strips that plates behind joints are cut from. Sheets on hand go first.
It is a search: asked for where a list is printed, not where a job is only checked.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np

from batterboard.job.schema import Sheet, Stock
from batterboard.phases.forms.results import Box, Forms
from batterboard.phases.forms.shape import USUAL_SHEET
from batterboard.quantity import Length, inch
from batterboard.record import record
from batterboard.work.names import pooled

if TYPE_CHECKING:
    from batterboard.methods.cutting.plans import Layout, SheetPlan
    from batterboard.methods.cutting.plans import Sheet as Stuff
    from batterboard.methods.cutting.recount import SawCut

KEPT = 3 * inch  # a narrower piece goes on the fire; common practice, no source
SLACK = 1e-7  # rounding of what the saw cannot see


@record
class SheetPlace:
    mark: str  # of the panel; "west, east A" where more than one kind is cut alike
    x: Length  # of its near corner, along the sheet
    y: Length
    along: Length  # its sides as it lies
    across: Length


@record
class SheetCut:
    """One cut from edge to edge of the piece on the saw."""

    stage: int
    along: bool  # it runs along the sheet
    at: Length  # from the sheet's edge to the near side of the kerf
    start: Length
    end: Length


@record
class SheetLeft:
    """A piece left over that is worth keeping."""

    x: Length
    y: Length
    along: Length
    across: Length


@record
class SheetLayout:
    """Equal sheets."""

    of: str
    on_hand: bool
    size: tuple[Length, Length]  # along the face grain, across it
    times: int
    places: tuple[SheetPlace, ...]
    cuts: tuple[SheetCut, ...]  # in sawing order
    offcut: tuple[Length, Length]  # the largest piece left
    left: tuple[SheetLeft, ...]  # what lies there when all is sawn


@record
class SheetTotal:
    """All sheets of one kind."""

    of: str
    size: tuple[Length, Length]  # of those to buy
    sheets: int
    bought: int
    least: int  # no layout buys fewer
    too_large: tuple[str, ...]  # panels that no sheet yields
    stopped: bool  # by hand, before the search was at its end


@record
class Sheets:
    layouts: tuple[SheetLayout, ...]
    totals: tuple[SheetTotal, ...]
    kinds: Mapping[str, tuple[str, ...]]  # which kinds of panels go by each mark of a place
    kerf: Length


def on_sheets(forms: Forms, stock: Stock) -> Sheets:
    """The panels of all boxes on as few sheets as the search finds. A batch is laid out for its largest panels."""
    from batterboard.methods.cutting import recount, sheets
    from batterboard.methods.cutting.plans import Panel

    layouts: list[SheetLayout] = []
    totals = []
    kinds: dict[str, tuple[str, ...]] = {}
    for of in dict.fromkeys(box.sheet for box in forms.boxes if box.panels):
        boxes = [box for box in forms.boxes if box.sheet == of]
        pools = pooled(wanted for box in boxes for wanted in _wanted(box, _most(stock.kerf)))
        panels = [Panel(pool.name, pool.like[0], pool.like[1], pool.many, turn=pool.like[2]) for pool in pools]
        stuffs = _stuffs([sheet for sheet in stock.sheets or (USUAL_SHEET,) if sheet.of == of])
        plan = sheets.best(panels, stuffs, kerf=_most(stock.kerf), name=of)
        faults = recount.sheet_faults(plan, panels, stuffs, _most(stock.kerf))
        if faults:
            raise AssertionError("; ".join(faults))  # never print a layout that the recount refuses
        for layout in plan.layouts:
            cuts = recount.cuts(layout, _most(stock.kerf))
            layouts.append(_layout(of, layout, cuts, _most(stock.kerf)))
        kinds |= {pool.name: pool.marks for pool in pools}
        totals.append(_total(of, stuffs, plan))
    return Sheets(layouts=tuple(layouts), totals=tuple(totals), kinds=kinds, kerf=_most(stock.kerf))


def _wanted(box: Box, kerf: float) -> Iterator[tuple[str, tuple[float, float, bool], int]]:
    """Mark, size along and across the face grain and whether it may be turned, and how many."""
    for panel in box.panels:
        for part in panel.parts:
            width, height = round(_most(part.width), 9), round(_most(part.height), 9)
            if box.sheathing is None:
                yield part.mark, (height, width, True), panel.count
            elif box.sheathing.grain_up:
                yield part.mark, (height, width, False), panel.count
            else:
                yield part.mark, (width, height, False), panel.count
    if box.plates:
        long, count = _strips(box, kerf)
        yield f"{box.name} plate strip", (long, _most(box.plates[0].wide), True), count


def _strips(box: Box, kerf: float) -> tuple[float, int]:
    """Its plates one after the other on strips no longer than the sheet is wide: how long these are, and how many."""
    most = float(np.min(sorted(box.sheet_size)[0]))
    strips: list[float] = []
    for long in sorted((plate.long for plate in box.plates for _ in range(plate.count)), reverse=True):
        at = next((i for i, used in enumerate(strips) if used + kerf + long <= most + SLACK), None)
        if at is None:
            strips.append(long)
        else:
            strips[at] += kerf + long
    return max(strips), len(strips)


def _stuffs(sheets: Sequence[Sheet]) -> list["Stuff"]:
    """Those on hand cost nothing; where all are on hand, more of the largest are bought."""
    from batterboard.methods.cutting.plans import Sheet as Stuff

    made = [
        Stuff(f"{number}", _most(s.size[0]), _most(s.size[1]), 1.0 if s.have is None else 0.0, s.have)
        for number, s in enumerate(sheets, 1)
    ]
    if all(stuff.count is not None for stuff in made):
        largest = max(made, key=lambda stuff: stuff.length * stuff.width)
        made.append(Stuff("more", largest.length, largest.width))
    return made


def _total(of: str, stuffs: Sequence["Stuff"], plan: "SheetPlan") -> SheetTotal:
    buy = max((s for s in stuffs if s.count is None), key=lambda s: s.length * s.width)
    return SheetTotal(
        of=of,
        size=(buy.length, buy.width),
        sheets=plan.sheets,
        bought=round(plan.cost),
        least=round(plan.bound),
        too_large=plan.left_out,
        stopped=plan.stopped,
    )


def _layout(of: str, layout: "Layout", cuts: Sequence["SawCut"], kerf: float) -> SheetLayout:
    return SheetLayout(
        of=of,
        on_hand=layout.sheet.count is not None,
        size=(layout.sheet.length, layout.sheet.width),
        times=layout.times,
        places=tuple(SheetPlace(mark=p.panel, x=p.x, y=p.y, along=p.length, across=p.width) for p in layout.places),
        cuts=tuple(SheetCut(stage=c.stage, along=c.along, at=c.at, start=c.start, end=c.end) for c in cuts),
        offcut=layout.offcut,
        left=tuple(_left(layout, cuts, kerf)),
    )


def _left(layout: "Layout", cuts: Sequence["SawCut"], kerf: float) -> Iterator[SheetLeft]:
    """The pieces that all cuts make, without the panels and what is too small to keep."""
    parts = [(0.0, 0.0, layout.sheet.length, layout.sheet.width)]
    for cut in cuts:
        for part in parts:
            x0, y0, x1, y1 = part
            start, end, low, high = (x0, x1, y0, y1) if cut.along else (y0, y1, x0, x1)
            if abs(start - cut.start) < SLACK and abs(end - cut.end) < SLACK and low - SLACK < cut.at < high:
                far = min(cut.at + kerf, high)
                parts.remove(part)
                parts += (
                    [(x0, y0, x1, cut.at), (x0, far, x1, y1)]
                    if cut.along
                    else [(x0, y0, cut.at, y1), (far, y0, x1, y1)]
                )
                break
    for x0, y0, x1, y1 in parts:
        taken = any(x0 - SLACK < p.x < x1 - SLACK and y0 - SLACK < p.y < y1 - SLACK for p in layout.places)
        if not taken and min(x1 - x0, y1 - y0) >= KEPT:
            yield SheetLeft(x=x0, y=y0, along=x1 - x0, across=y1 - y0)


def _most(length: Length) -> float:
    return float(np.max(length))
