"""What does the page say of one plan? Its words, ready to be set.

    page(plan)           heading, checks worst first, drawings, steps with their key numbers, assumptions, cautions
    working(plan, c)     how one check came about, formula by formula, when somebody taps it

The same words as the terminal and the book: titles, verdicts, cautions and drawings are made in `views`.
"""

import math
from typing import Any

from batterboard import quantity
from batterboard.app.numbers import key_numbers
from batterboard.plan import Plan
from batterboard.views import assumed, cautions, drawings, summary, tables, words
from batterboard.views.drawing import svg
from batterboard.working import Check
from batterboard.working.page import blocks


def page(plan: Plan) -> dict[str, Any]:
    heading = plan.job.job
    return {
        "name": heading.name,
        "hash": plan.job.digest,
        "replaces": heading.replaces,
        "note": heading.note,
        "codes": heading.codes,
        "tally": words.tally(plan.checks),
        "found": summary.found(plan),
        "built": summary.built(plan),
        "checks": [_check(c, heading.units) for c in plan.checks],
        "drawings": [
            {"name": sheet.name, "scale": sheet.scale_note, "svg": svg(sheet)} for sheet in drawings.sheets(plan)
        ],
        "steps": [_step(plan, phase) for phase in cautions.PHASES],
        "assumed": [{"meaning": a.meaning, "value": a.value, "keys": a.where} for a in assumed.rows(plan)],
        "always": cautions.ALWAYS,
    }


def working(plan: Plan, c: Check) -> list[dict[str, Any]]:
    """Formulas in the order they were called; each line as name, symbols, numbers, result."""
    return [
        {
            "number": block.number,
            "name": block.name,
            "says": block.says,
            "source": block.source,
            "remark": block.remark,
            "outside": block.outside,
            "lines": [
                (
                    line.name,
                    [part for part in dict.fromkeys((line.symbols, line.numbers, line.result, line.repeated)) if part],
                )
                for line in block.lines
            ],
        }
        for block in blocks(c.steps, c.at, plan.job.job.units, c.clause.document.scale)
    ]


def _check(c: Check, system: quantity.System) -> dict[str, Any]:
    row = words.check_row(c, system)
    return {
        "key": " ".join(c.key),
        "title": row.title,
        "comparison": row.comparison,
        "demand": row.demand,
        "capacity": row.capacity,
        "kind": c.verdict,
        "verdict": row.verdict,
        "ratio": c.ratio if math.isfinite(c.ratio) else None,  # where the knot sits on the string
        "case": row.case,
        "clause": row.clause,
        "remark": row.remark,
        "note": row.note,
    }


def _step(plan: Plan, phase: str) -> dict[str, Any]:
    title, question = cautions.QUESTIONS[phase]
    return {
        "title": title,
        "question": question,
        "numbers": key_numbers(plan, phase),
        "tables": [_table(table, plan.job.job.units) for table in tables.of(plan, phase)],
        "cautions": cautions.cautions(plan, phase),
        "unchecked": cautions.UNCHECKED[phase],
    }


def _table(table: tables.Table, system: quantity.System) -> dict[str, Any]:
    headings, rows, numeric = tables.printed(table, system)
    return {"title": table.title, "note": table.note, "headings": headings, "rows": rows, "numeric": numeric}
