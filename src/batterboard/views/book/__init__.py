"""The job book: one PDF from a Plan.

    maths     a line of working as mathematics
    appendix  the working of all checks
    chapters  everything the pages say, as data
    book.typ  the pages; it reads data.json and the drawings, and computes nothing
    pour.typ  the pour page, in the book and alone
    walk.typ  the walk round the form before it

Text of the job file reaches the pages as data and is never read as markup. The same plan gives the same bytes.
"""

import json
from importlib.resources import files
from typing import TYPE_CHECKING, Any, Literal

from batterboard.job.errors import JobError, Mark, Problem
from batterboard.views import drawing as d
from batterboard.views import drawings, pour_page
from batterboard.views.book.chapters import content
from batterboard.views.letters import readable

if TYPE_CHECKING:
    from batterboard.plan import Plan

__all__ = ["pdf", "pictures", "pour_pdf"]

PaperName = Literal["letter", "a4"]


def pdf(plan: "Plan", paper: PaperName | None = None) -> bytes:
    """The whole book; on letter for a job in feet and inches, else on A4, unless asked otherwise."""
    import typst

    return bytes(typst.compile(_room(plan, paper), ignore_system_fonts=True, format="pdf"))


def pictures(plan: "Plan", paper: PaperName | None = None, *, dots_per_inch: float = 100) -> list[bytes]:
    """Every page of the book as a PNG."""
    import typst

    made = typst.compile(_room(plan, paper), ignore_system_fonts=True, format="png", ppi=dots_per_inch)
    return [bytes(page) for page in made] if isinstance(made, list) else [bytes(made)]


def pour_pdf(plan: "Plan", paper: PaperName | None = None) -> bytes:
    """The pour page alone. Raises JobError where nothing is left to cast."""
    import typst

    said = pour_page.content(plan)
    if said is None:
        raise JobError([Problem(Mark(plan.job.path), "", "nothing is left to cast: there is no pour", "look at done")])
    readable(plan.job)
    sheet = _paper(plan, paper)
    data = {"pour": said, "paper": {"width": sheet.width, "height": sheet.height}}
    room: Any = {"main.typ": _template("alone.typ"), "data.json": json.dumps(data, ensure_ascii=False).encode()}
    return bytes(typst.compile(room | _pour(plan, sheet), ignore_system_fonts=True, format="pdf"))


def _paper(plan: "Plan", paper: PaperName | None) -> d.Paper:
    return {"letter": d.LETTER, "a4": d.A4}[paper or ("letter" if plan.job.job.units == "us" else "a4")]


def _template(name: str) -> bytes:
    return files(__package__).joinpath(name).read_bytes()


def _pour(plan: "Plan", sheet: d.Paper) -> dict[str, bytes]:
    """The pour page's template and its sketch."""
    sketch = drawings.sketch(plan, sheet, (sheet.width - 22.0, 62.0))
    drawn = {} if sketch is None else {"pour.svg": d.svg(sketch, paper="#ffffff").encode()}
    return {"pour.typ": _template("pour.typ"), **drawn}


def _room(plan: "Plan", paper: PaperName | None) -> Any:
    """All files the typesetter reads, held in memory. Raises JobError where it has no letter for a text."""
    readable(plan.job)
    sheet = _paper(plan, paper)
    sheets = drawings.sheets(plan, sheet)
    data = content(plan, sheets) | {"paper": {"width": sheet.width, "height": sheet.height}}
    room: Any = {
        "main.typ": _template("book.typ"),
        "walk.typ": _template("walk.typ"),
        "data.json": json.dumps(data, ensure_ascii=False).encode(),
        **_pour(plan, sheet),
    }
    for i, drawn in enumerate(sheets):
        room[f"sheet-{i}.svg"] = d.svg(drawn, paper="#ffffff").encode()
    return room
