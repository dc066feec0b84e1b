"""The drawings of a job, as a draftsman would dimension them: sheets for the eye, SVG and DXF for the disk.

    board     what all drawings of one job share
    shapes    what a block, a plate, a post looks like from above and from the side
    picture   the job from above, in pieces             general   the general plan, and setting out
    elevation what is seen from in front                section   through what carries, upright
    level     the cage and the mat cut level            beam      a tie beam, along and across
    panels    the pieces of each form                   pattern   the template, and full size
    cutting   the sheets on the saw, and labels for what comes off them
    openings  what is cut out of the panels           holding   yokes, braces and stakes
    inside    what lies on the panels on the bench
    sides     what holds forms without yokes: stakes, or studs, wales and ties
    shoring   soffit and shores of beams that stand clear of the ground
    strips    patterns of the strips' ends, full size
    isometric the form apart and together               exploded  where its pieces stand, for pictures and models
    pouring   the lifts, and where the vibrator goes in
    hanging   the template over its form                 plate     the plate for the cutter
    curing    temperatures, strength and dates        calendar  the job over its days      chart  axes for both
    stakes    batter boards, stake labels, the story pole
    labels, spacing, found    where notes stand, equal steps told once, what was found elsewhere

`sheets(plan)` is every page in the order of the book; `files(plan)` is what `draw` writes.
"""

from collections.abc import Collection
from dataclasses import replace

from batterboard.job.errors import JobError, Mark, Problem
from batterboard.plan import Plan
from batterboard.views import drawing as d
from batterboard.views.drawings import exploded, pouring, stakes
from batterboard.views.drawings.beam import beams
from batterboard.views.drawings.blockouts import blockout_sheets
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.calendar import calendars
from batterboard.views.drawings.curing import cured
from batterboard.views.drawings.cutting import cut_sheets, form_labels
from batterboard.views.drawings.elevation import elevations
from batterboard.views.drawings.general import plans
from batterboard.views.drawings.hanging import hung
from batterboard.views.drawings.holding import holding_sheets
from batterboard.views.drawings.inside import inside_sheets
from batterboard.views.drawings.isometric import assembly_sheets
from batterboard.views.drawings.openings import opening_sheets
from batterboard.views.drawings.panels import panel_sheets
from batterboard.views.drawings.pattern import Template, templates
from batterboard.views.drawings.plate import cutter
from batterboard.views.drawings.section import sections
from batterboard.views.drawings.shoring import shoring_sheets
from batterboard.views.drawings.sides import side_sheets
from batterboard.views.drawings.strips import pattern_pages
from batterboard.views.letters import readable

__all__ = ["files", "sheets", "sketch"]


def sheets(plan: Plan, paper: d.Paper | None = None) -> tuple[d.Sheet, ...]:
    """Every drawing of the job, page by page; on letter or A4 by the job's units unless asked otherwise."""
    return _numbered(*_made(plan, paper))


def files(plan: Plan, only: str | None = None) -> dict[str, bytes | str]:
    """What is written to the disk, by file name: each sheet as SVG and as DXF, the forms as GLB, or `only` one kind.

    A plate comes once more as DXF for the cutter, and again as its bolts were found; forms come as one model, apart.
    """
    readable(plan.job)
    drawn, drilled = _made(plan) if only != "glb" else ([], [])
    written: dict[str, bytes | str] = {}
    if only in (None, "svg"):
        for sheet in _numbered(drawn, drilled):
            written[_free(written, sheet.name, "svg")] = d.svg(sheet)
    if only in (None, "dxf"):
        for sheet in (*drawn, *(each.sheet for each in drilled)):
            written[_free(written, sheet.name, "dxf")] = d.dxf(sheet)
        for name, plate in cutter(Board(plan)):
            written[_free(written, name, "dxf")] = d.dxf(plate, (d.CUT, d.DRILL))
    if only in (None, "glb") and (model := exploded.model(plan)):
        written["forms.glb"] = model
    return written


def sketch(plan: Plan, paper: d.Paper, size: tuple[float, float]) -> d.Sheet | None:
    """The lifts as large as a space on the pour page [mm]; None where nothing is left to cast."""
    return pouring.sketch(Board(plan, paper), size)


def _made(plan: Plan, paper: d.Paper | None = None) -> tuple[list[d.Sheet], list[Template]]:
    """Raises JobError where nothing to build is described."""
    if not plan.work.bodies:
        said = "no pier, pad or shaft is described: there is nothing to draw"
        raise JobError([Problem(Mark(plan.job.path), "", said, "describe one under [piers] or [pads]")])
    board = Board(plan, paper)
    drawn = [
        *plans(board),
        *stakes.sheets(board),
        *elevations(board),
        *sections(board),
        *beams(board),
        *panel_sheets(board),
        *opening_sheets(board),
        *blockout_sheets(board),
        *inside_sheets(board),
        *assembly_sheets(board),
        *holding_sheets(board),
        *side_sheets(board),
        *shoring_sheets(board),
        *pattern_pages(board),
        *cut_sheets(board),
        *form_labels(board),
        *pouring.pours(board),
        *hung(board),
        *cured(board),
        *calendars(board),
    ]
    return drawn, list(templates(board))


def _numbered(drawn: list[d.Sheet], drilled: list[Template]) -> tuple[d.Sheet, ...]:
    pages = [*drawn, *(page for each in drilled for page in (each.sheet, *each.pages))]
    return tuple(replace(sheet, page=(i, len(pages))) for i, sheet in enumerate(pages, 1))


def _free(taken: Collection[str], name: str, kind: str) -> str:
    """A file's name that is not taken: section-west-east.svg."""
    stem = _slug(name)
    names = (f"{stem}{number}.{kind}" for number in ("", *(f"-{n}" for n in range(2, len(taken) + 3))))
    return next(each for each in names if each not in taken)


def _slug(name: str) -> str:
    kept = "".join(letter if letter.isalnum() or letter == "_" else "-" for letter in name.lower())
    return "-".join(part for part in kept.split("-") if part)[:100]
