"""The book as data: what the template lays out, and nothing else.

    content(plan, sheets) : {"job": ..., "summary": ..., "chapters": [...], "appendix": [...]}   texts, never markup

Each chapter answers one question of the trade: tables, drawings, checks, what was assumed, what nobody checked, and
what hurts people.
"""

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from batterboard import quantity
from batterboard.quantity import System
from batterboard.views import as_built, assumed, cautions, form_page, order, pour_page, summary, tables, words
from batterboard.views import drawing as d
from batterboard.views.book import appendix, maths
from batterboard.views.tables import Table
from batterboard.views.tables import found as found_tables
from batterboard.working import Check
from batterboard.working.page import Block

if TYPE_CHECKING:
    from batterboard.plan import Plan

FAILING, FOUND, KEY_ASSUMPTIONS, LETTERS = 6, 3, 7, 160  # what one page holds

# The phase that a drawing belongs to, by the first word of its name; those of the whole place belong to setting out.
_SHEETS = {
    "section": "cage",
    "cage": "cage",
    "form": "forms",
    "chamfer": "forms",
    "cut": "forms",
    "strip": "forms",
    "template": "template",
    "pour": "pour",
    "curing": "cure",
    "days": "schedule",
}


def content(plan: "Plan", sheets: tuple[d.Sheet, ...]) -> dict[str, Any]:
    """Everything that the template may use."""
    heading = plan.job.job
    return {
        "job": {
            "name": heading.name,
            "short": _short(heading.name, 60),
            "hash": plan.job.digest,
            "replaces": heading.replaces,
            "codes": heading.codes,
            "note": _short(heading.note),
            "units": "feet and inches" if heading.units == "us" else "millimetres",
        },
        "summary": _summary(plan),
        "chapters": [
            _chapter(plan, phase, [i for i, sheet in enumerate(sheets) if belongs(sheet) == phase])
            for phase in cautions.PHASES
        ]
        + _as_built(plan),
        "checks": _check_rows(plan.checks, heading.units, noted=False),
        "sheets": [_sheet(sheet) for sheet in sheets],
        "appendix": [_group(group) for group in appendix.groups(plan)],
        "always": cautions.ALWAYS,
    }


def belongs(sheet: d.Sheet) -> str:
    """The phase whose chapter a drawing stands in."""
    return _SHEETS.get(sheet.name.replace(",", " ").split()[0].lower(), "setout")


def _sheet(sheet: d.Sheet) -> dict[str, Any]:
    width, height = sheet.size
    full = all(view.scale == d.FULL_SIZE for view in sheet.views) and bool(sheet.views)
    return {"name": sheet.name, "width": width, "height": height, "full": full}


def _summary(plan: "Plan") -> dict[str, Any]:
    rows = assumed.rows(plan)
    key = sorted(rows, key=lambda row: not row.where[0].startswith(("site.soil", "site.wind", "pour.")))
    worst, built, found = summary.worst(plan, FAILING), summary.built(plan), summary.found(plan)
    failing = sum(not c.holds for c in plan.checks)
    return {
        "tally": words.tally(plan.checks),
        "all_hold": failing == 0,
        "worst": _check_rows(worst, plan.job.job.units),
        "more": max(0, failing - len(worst)),
        "built": [(_short(what), _short(how)) for what, how in built],
        "found": [_short(told) for told in found[:FOUND]],
        "found_more": max(0, len(found) - FOUND),
        "assumed": [(row.meaning, row.value) for row in key[:KEY_ASSUMPTIONS]],
        "assumed_more": max(0, len(rows) - KEY_ASSUMPTIONS),
        "cautions": cautions.foremost(plan),
    }


def _short(text: str, most: int = LETTERS) -> str:
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"


def _chapter(plan: "Plan", phase: str, sheets: list[int]) -> dict[str, Any]:
    result = getattr(plan, phase)
    own = {id(c) for c in getattr(result, "checks", ())}
    title, question = cautions.QUESTIONS[phase]
    return {
        "title": title,
        "question": question,
        "tables": [_table(table, plan.job.job.units) for table in tables.of(plan, phase)],
        "sheets": sheets,
        "walk": form_page.content(plan) if phase == "forms" else None,
        "pour": pour_page.content(plan) if phase == "pour" else None,
        "checks": _check_rows(tuple(c for c in plan.checks if id(c) in own), plan.job.job.units),
        "said": list(order.sentences(plan).items()) if phase == "ordering" else [],
        "notes": [_sentence(note) for part in _parts(plan, phase) for note in getattr(part, "notes", ())],
        "assumed": [(row.meaning, row.value, ", ".join(row.where)) for row in assumed.of(plan, phase)],
        "unchecked": cautions.UNCHECKED[phase],
        "cautions": cautions.cautions(plan, phase),
    }


def _parts(plan: "Plan", phase: str) -> tuple[Any, ...]:
    """A phase's result, and what is asked of it only on paper."""
    lazy = ("hour", "vibration", "weather") if phase == "pour" else ()
    return (getattr(plan, phase), *(getattr(plan, name) for name in lazy))


def _as_built(plan: "Plan") -> list[dict[str, Any]]:
    """Planned against found, where something was found."""
    if plan.job.planned is None:
        return []
    from batterboard.study.compare import compare

    result = compare(plan.job)
    return [
        {
            "title": "As built",
            "question": "What did I really get, does it matter, and what do I do about it?",
            "tables": [_table(table, plan.job.job.units) for table in found_tables.of(result)],
            "said": [],
            "walk": None,
            "pour": None,
            "sheets": [],
            "checks": [],
            "notes": [as_built.summary(result)],
            "assumed": [],
            "unchecked": cautions.UNCHECKED_AS_BUILT,
            "cautions": cautions.AS_BUILT,
        }
    ]


def _sentence(note: str) -> str:
    return f"{note[:1].upper()}{note[1:]}" + ("" if note.endswith(".") else ".")


def _table(table: Table, system: System) -> dict[str, Any]:
    headings, rows, numeric = tables.printed(table, system)
    hand = table.hand or tuple(("",) * len(table.found) for _ in rows)
    return {
        "title": table.title,
        "headings": [maths.raised(heading) for heading in headings],
        "numeric": numeric,
        "found": table.found,
        "rows": rows,
        "hand": hand,
        "note": table.note,
    }


def _check_rows(checks: tuple[Check, ...], system: System, noted: bool = True) -> list[dict[str, Any]]:
    """Rows of a table; a source is described where it first stands."""
    rows, described = [], set()
    for c, told in words.check_rows(checks, system, noted=noted):
        row = asdict(told)
        share = quantity.show(c.ratio, quantity.Number, system, "1 %") if c.verdict != "outside" else "not known"
        if c.clause in described:
            row["remark"] = ""
        described.add(c.clause)
        rows.append(row | {"holds": bool(c.holds), "outside": c.verdict == "outside", "share": share})
    return rows


# ---- the appendix ----


def _group(group: appendix.Group) -> dict[str, Any]:
    return {
        "title": group.title,
        "clause": group.clause,
        "remark": group.remark,
        "worst": _working(group.worst),
        "same": words.all_about(group.same) if group.same else "",
        "compared": [asdict(compare) for compare in group.compared],
        "apart": [_working(working) for working in group.apart],
    }


def _working(working: appendix.Working) -> dict[str, Any]:
    row = working.row
    return {
        "title": row.title,
        "comparison": row.comparison,
        "mark": row.mark.strip(),
        "case": row.case,
        "note": row.note,
        "blocks": [_block(block) for block in working.blocks],
    }


def _block(block: Block) -> dict[str, Any]:
    return {
        "number": block.number,
        "name": block.name.replace("_", " "),
        "source": block.source,
        "remark": block.remark,
        "outside": block.outside,
        "lines": [maths.formula(line) for line in block.lines],
    }
