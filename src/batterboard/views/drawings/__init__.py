"""The drawings of a job, as a draftsman would dimension them: sheets for the eye, SVG and DXF for the disk.

    board     what all drawings of one job share
    shapes    what a block, a plate, a post looks like from above and from the side
    general   the general plan           elevation  what is seen from in front
    section   through what carries       panels     the pieces of each form
    pattern   the template, full size

`sheets(plan)` is every page in the order of the book; `files(plan)` is what `draw` writes.
"""

from dataclasses import replace

from batterboard.plan import Plan
from batterboard.views import drawing as d
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.elevation import elevations
from batterboard.views.drawings.general import general_plan, setting_out
from batterboard.views.drawings.pattern import templates
from batterboard.views.drawings.section import sections

__all__ = ["files", "sheets"]


def sheets(plan: Plan, paper: d.Paper | None = None) -> tuple[d.Sheet, ...]:
    """Every drawing of the job, page by page; on letter or A4 by the job's units unless asked otherwise."""
    board = Board(plan, paper)
    made = [
        general_plan(board),
        setting_out(board),
        *elevations(board),
        *sections(board),
        *(page for pages in templates(board) for page in pages),
    ]
    return tuple(replace(sheet, page=(i, len(made))) for i, sheet in enumerate(made, 1))


def files(plan: Plan, only: str | None = None) -> dict[str, bytes | str]:
    """What is written to the disk, by file name: each sheet as SVG and as DXF, or `only` one of them."""
    written: dict[str, bytes | str] = {}
    for sheet in sheets(plan):
        if only in (None, "svg"):
            written[f"{_slug(sheet.name)}.svg"] = d.svg(sheet)
        if only in (None, "dxf"):
            written[f"{_slug(sheet.name)}.dxf"] = d.dxf(sheet)
    return written


def _slug(name: str) -> str:
    """A file's name: section-west-east."""
    kept = "".join(letter if letter.isalnum() else "-" for letter in name.lower())
    return "-".join(part for part in kept.split("-") if part)
