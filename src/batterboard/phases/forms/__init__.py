"""What shape is the box, what cuts, and will it hold the wet concrete?

    box      : Box("west", kind="box", panels, strips, lateral, yokes, ...)     the form of one body
    panel    : Panel("west A", count=2, width=0.5588, height=1.016, runs_past=False, ...)
    strip    : Strip("west corner", leg=0.0508, count=4, long=1.016, short=0.997, ...)
    lateral  : Lateral(peak=23940, depth=1.016, governs="full liquid head", ...)  liquid from the top, constant below
    sheets   : on_sheets(...)       how the panels lie on the sheets: a search, asked for where lists are printed
    yoke     : Yoke(number=1, up=0.038, head=0.98, load=2300, nails=2, ...)     numbered from the foot
    foot     : Foot("west", pad="west pad", early=4880, late=10800, ...)        how long its pad rests first

Braces and uplift are not here.
"""

from collections.abc import Iterator, Mapping

from batterboard.job.schema import Mix, Pour, Sheet, Stock
from batterboard.phases.forms.checks import checks_of
from batterboard.phases.forms.foot import Foot, feet, foot_checks
from batterboard.phases.forms.pressure import lateral
from batterboard.phases.forms.results import (
    Box,
    EndCut,
    Forms,
    Frame,
    Lateral,
    Panel,
    Sheathing,
    Strip,
    Yoke,
)
from batterboard.phases.forms.shape import formed_height, shape
from batterboard.phases.forms.sheets import SheetLayout, Sheets, SheetTotal
from batterboard.phases.forms.sheets import on_sheets as _on_sheets
from batterboard.phases.forms.strength import Yokes, yokes_of
from batterboard.quantity import ft
from batterboard.work.records import Work
from batterboard.working import Check

__all__ = [
    "Box",
    "EndCut",
    "Foot",
    "Forms",
    "Frame",
    "Lateral",
    "Panel",
    "Sheathing",
    "SheetLayout",
    "SheetTotal",
    "Sheets",
    "Strip",
    "Yoke",
    "boxes",
    "on_sheets",
]

# What stands in where the file names no sheets. Common practice, no source.
USUAL_SHEET = Sheet(of="3/4 in plywood", size=(8 * ft, 4 * ft))


def boxes(work: Work, pour: Pour, mixes: Mapping[str, Mix], stock: Stock) -> Forms:
    """The form of every body that is not cast against earth all round."""
    made = tuple(_boxes(work, pour, mixes, stock))
    formed = {box.name for box in made}
    standing = feet(work, pour, mixes, formed)
    return Forms(
        boxes=made,
        not_formed=tuple(body.name for body in work.bodies if body.name not in formed),
        feet=standing,
        checks=(*_checks(made), *foot_checks(standing)),
    )


def on_sheets(forms: Forms, stock: Stock) -> Sheets:
    """The panels on the job's sheets, or on usual ones."""
    return _on_sheets(forms, stock, (USUAL_SHEET,))


def _boxes(work: Work, pour: Pour, mixes: Mapping[str, Mix], stock: Stock) -> Iterator[Box]:
    known: dict[tuple[float, ...], Yokes] = {}
    for lift in work.lifts:
        for body in lift.bodies:
            height = formed_height(body, work.ground)
            if height is None:
                continue
            pressed = lateral(body, height, lift.slump, pour, mixes[body.mix])
            form = shape(body, height, stock.sheets or (USUAL_SHEET,))
            held = None
            if form.kind in ("box", "polygon"):
                held = yokes_of(form, pressed, stock, known)
            yield Box(
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
                panels=form.panels,
                strips=form.strips,
                inside_diameter=form.inside_diameter,
                area=form.area,
                lateral=pressed,
                sheathing=held.sheathing if held else None,
                frame=held.frame if held else None,
                yokes=held.yokes if held else (),
            )


def _checks(made: tuple[Box, ...]) -> Iterator[Check]:
    for box in made:
        yield from checks_of(box)
