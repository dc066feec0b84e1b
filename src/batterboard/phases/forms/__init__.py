"""What shape is the box, what cuts, and will it hold the wet concrete?

    box      : Box("west", kind="box", panels, strips, lateral, yokes, ...)     the form of one body
    panel    : Panel("west A", count=2, width=0.5588, height=1.016, runs_past=0, ...)
    strip    : Strip("west corner", leg=0.0508, other_leg=0.0254, count=4, long=1.016, ...)
    lateral  : Lateral(peak=23940, depth=1.016, governs="full liquid head", ...)  liquid from the top, constant below
    sheets   : on_sheets(...)       how the panels lie on the sheets: a search, asked for where lists are printed
    yoke     : Yoke(number=1, up=0.038, head=0.98, load=2300, nails=2, ...)     numbered from the foot
    wall     : Wall("long", stud_spacing=0.3, wales, tie_spacing=0.46, ...)     instead of yokes, where it is too large
    shores   : Shores("tie", pairs=(...), ...)         soffit and shores of a beam that stands clear of the ground
    edge     : Edge("apron", spacing=0.91, count=14, ...)                       stakes and kickers of a low edge
    brace    : Brace("west", a_side=1, length=1.08, stakes=2, ...)              on every side, against wind and knocks
    uplift   : Uplift("west", lift=1400, weight=420, stakes=2, ...)             what would lift it, and what keeps it
    blockout : Fixing("letters", form="west", lift=310, nails=5, ...)         how a box in the form is held: `blockouts`
    foot     : Foot("west", pad="west pad", early=4880, late=10800, ...)        how long its pad rests first

How other countries reckon the pressure, and pipes that float, are asked for where they are printed: `beside`.
"""

from collections.abc import Iterator, Mapping
from functools import partial
from typing import Any

import numpy as np

from batterboard.job.schema import Mix, Pour, Stock, Wind
from batterboard.phases.forms.bracing import Brace, brace_as
from batterboard.phases.forms.checks import checks_of
from batterboard.phases.forms.foot import Foot, feet, foot_checks
from batterboard.phases.forms.pressure import lateral
from batterboard.phases.forms.results import (
    Box,
    Collar,
    Edge,
    EndCut,
    Forms,
    Frame,
    Joint,
    Lateral,
    Panel,
    PanelPart,
    Sheathing,
    Shores,
    SplicePlate,
    Strip,
    Uplift,
    Wale,
    Wall,
    Yoke,
)
from batterboard.phases.forms.shape import USUAL_SHEET, Shape, formed_height, shape
from batterboard.phases.forms.strength import hold
from batterboard.phases.forms.uplift import uplift_of
from batterboard.work.records import Body, Lift, Work
from batterboard.working import maximum, nan

__all__ = [
    "Box",
    "Brace",
    "Collar",
    "Edge",
    "EndCut",
    "Foot",
    "Forms",
    "Frame",
    "Joint",
    "Lateral",
    "Panel",
    "PanelPart",
    "Sheathing",
    "Shores",
    "SplicePlate",
    "Strip",
    "Uplift",
    "Wale",
    "Wall",
    "Yoke",
    "boxes",
]

# What stands in where the file names no sheets. Common practice, no source.


def boxes(work: Work, pour: Pour, mixes: Mapping[str, Mix], stock: Stock, wind: Wind | None = None) -> Forms:
    """The form of every body that is not cast against earth all round."""
    formed = [(lift, body, height) for lift in work.lifts for body, height in _formed(lift, work)]
    names = {body.name for _, body, _ in formed}
    standing = feet(work, pour, mixes, stock, names)
    on_fresh = {foot.name: foot for foot in standing}
    through = {foot.pad: foot.head for foot in standing if foot.covered or foot.lift == foot.pad_lift}
    known: dict[tuple[Any, ...], Any] = {}
    made = tuple(
        _box(
            work,
            lift,
            body,
            height,
            through.get(body.name, 0.0),
            on_fresh.get(body.name),
            pour,
            mixes[body.mix],
            stock,
            wind,
            known,
        )
        for lift, body, height in formed
    )
    checks = (*(c for box in made for c in checks_of(box)), *foot_checks(standing))
    held: tuple[Any, ...] = ()
    if any(body.blockouts for body in work.bodies):
        from batterboard.phases.forms.blockouts import blockout_checks, fixings

        held = fixings(work, made, mixes, stock)
        checks += tuple(blockout_checks(held))
    return Forms(
        boxes=made,
        not_formed=tuple(body.name for body in work.bodies if body.name not in names),
        feet=standing,
        blockouts=held,
        checks=checks,
    )


def _cut_out(form: Shape, body: Body, lift: int, work: Work) -> Any:
    from batterboard.phases.forms.splices import cut_out

    return cut_out(form, body, lift, work)


def _formed(lift: Lift, work: Work) -> Iterator[tuple[Body, Any]]:
    for body in lift.bodies:
        height = formed_height(body, work.ground)
        if height is not None:
            yield body, height


def _box(
    work: Work,
    lift: Lift,
    body: Body,
    height: Any,
    through: Any,
    foot: Foot | None,
    pour: Pour,
    mix: Mix,
    stock: Stock,
    wind: Wind | None,
    known: dict[Any, Any],
) -> Box:
    """`through`: head of concrete that presses from above on a pad that is covered, or filled in one go with it."""
    pressed = lateral(body, height + through, lift.slump, pour, mix)
    form = shape(body, height, stock.sheets or (USUAL_SHEET,), stock.lap)
    stretch = shores = None
    if body.part == "beam" and np.any(height >= body.height):
        from batterboard.phases.forms.soffit import lowered, on_shores
        from batterboard.phases.forms.stretch import stretch_of

        stretch = stretch_of(body, work.ground)
        form = form if stretch is None else lowered(form)
    held = hold(form, pressed, stock, known, partial(_cut_out, form, body, lift.number, work))
    if stretch is not None:
        held, shores = on_shores(body, work, stretch, form, pressed, mix.weight, held, stock, wind)
    brace = None
    low = body.part == "step" and np.all(height <= body.outline.least)  # wider than high, nothing tips it
    if form.kind != "edge" and not low:
        width = maximum(form.along, form.across) + (0.0 if form.kind == "tube" else 2 * form.thick)
        brace = brace_as(known, body.name, width, height, stock, wind)
    collar = None
    if form.kind == "tube" and brace is not None:
        from batterboard.phases.forms.collars import collar_of

        collar = collar_of(form.inside_diameter, brace, stock)
    return Box(
        name=body.name,
        element=body.element,
        kind=form.kind,
        lift=lift.number,
        height=height,
        foot=body.top - height,
        lap=form.lap,
        note=form.note,
        sheet=form.sheet.of if form.panels else "",
        sheet_size=form.sheet.size,
        panels=held.panels,
        plates=held.plates,
        strips=form.strips,
        inside_diameter=form.inside_diameter,
        area=form.area,
        lateral=pressed,
        sheathing=held.sheathing,
        frame=held.frame,
        yokes=held.yokes,
        wall=held.wall,
        edge=held.edge,
        shores=shores,
        brace=brace,
        collar=collar,
        uplift=uplift_of(body, height, pressed.weight, form, held, foot, brace, stock.stake),
        tube_head=stock.tube if form.kind == "tube" and stock.tube is not None else nan,
    )
