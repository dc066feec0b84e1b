"""What the terminal says: checks worst first, the working of one, what found dimensions change; the same as JSON.

The JSON forms are documented in docs/reference/json.md and are stable.
"""

import json
import math
from typing import TYPE_CHECKING, Any

from batterboard import quantity
from batterboard.views import words
from batterboard.working import Check

if TYPE_CHECKING:
    from batterboard.plan import Plan
    from batterboard.study.compare import Comparison
    from batterboard.study.remedies import Remedy
    from batterboard.study.tolerances import Off
    from batterboard.working.page import Block


_TITLE = 64  # letters of a line


class NoSuchCheck(Exception):
    for_the_user = True


def checks_text(plan: "Plan", why: str | None = None) -> str:
    """All checks worst first, or the working of those named."""
    if why is not None:
        return "\n\n".join(_working_text(plan, c) for c in _named(plan.checks, why))
    system = plan.job.job.units
    rows = [row for _, row in words.check_rows(plan.checks, system, noted=False)]
    titles = [_folded(row.title) for row in rows]
    wide = max((len(line) for lines in titles for line in lines), default=0)
    lines = [f"{plan.job.job.name}, job {plan.job.digest}", ""]
    for row, title in zip(rows, titles, strict=True):
        detail = "; ".join(part for part in (row.case, row.clause) if part)
        told = [row.comparison, detail] + [""] * (len(title) - 2)
        title += [""] * (2 - len(title))
        marks = [row.mark, *[" " * len(row.mark)] * (len(title) - 1)]
        lines += [
            f"{mark} {line:<{wide}}  {text}".rstrip() for mark, line, text in zip(marks, title, told, strict=True)
        ]
    lines += ["", words.tally(plan.checks), words.NOT_REPLACED]
    return "\n".join(lines)


def _folded(title: str) -> list[str]:
    """In lines that leave room beside them."""
    lines = [""]
    for word in title.split(" "):
        if lines[-1] and len(lines[-1]) + len(word) >= _TITLE:
            lines.append("")
        lines[-1] += f" {word}" if lines[-1] else word
    return lines


def checks_json(plan: "Plan", why: str | None = None) -> str:
    """All checks worst first, or those named."""
    checks = plan.checks if why is None else _named(plan.checks, why)
    return json.dumps([check_object(plan, c) for c in checks], indent=1, ensure_ascii=False, allow_nan=False)


def check_object(plan: "Plan", c: Check) -> dict[str, Any]:
    """One check for a program; numbers in SI, null where there is none."""
    return {
        "check": c.name,
        "element": c.element,
        "about": list(c.key[1:]),
        "title": c.title,
        "demand": _finite(c.worst_demand),
        "capacity": _finite(c.worst_capacity),
        "unit": quantity.si_unit(c.dimension),
        "ratio": _finite(c.ratio),
        "verdict": c.verdict,
        "kind": "service" if c.service else "strength",
        "case": c.case,
        "clause": str(c.clause),
        "source": c.clause.remark,
        "note": c.note,
        "working": [line for block in _blocks(plan, c) for line in _block_lines(block)],
    }


def _finite(value: Any) -> float | None:
    return float(value) if math.isfinite(value) else None


def _named(checks: tuple[Check, ...], name: str) -> list[Check]:
    found = [c for c in checks if name in (c.name, c.title, *c.key[1:]) or name.lower() == c.title.lower()]
    if not found:
        known = sorted({n for c in checks for n in c.key})
        import difflib

        near = difflib.get_close_matches(name, known, 1)
        hint = f"did you mean {near[0]}?" if near else f"the checks are: {', '.join(sorted({c.name for c in checks}))}"
        raise NoSuchCheck(f"no check or element is called {name!r}: {hint}")
    return found


def _blocks(plan: "Plan", c: Check) -> "tuple[Block, ...]":
    from batterboard.working.page import blocks  # only who asks why pays for it

    return blocks(c.steps, c.at, plan.job.job.units, c.clause.document.scale)


def _working_text(plan: "Plan", c: Check) -> str:
    row = words.check_row(c, plan.job.job.units)
    lines = [f"{row.mark} {row.title}: {row.comparison}"]
    lines += [
        f"  {part}"
        for part in (row.case and f"governing case: {row.case}", f"{row.clause} ({c.clause.remark})", c.note)
        if part
    ]
    for block in _blocks(plan, c):
        lines += ["", *(f"  {line}" for line in _block_lines(block))]
    return "\n".join(lines)


def _block_lines(block: "Block") -> list[str]:
    lines = [f"({block.number}) {block.name}: {block.says}. {block.source} ({block.remark})"]
    lines += [f"outside its limits: not {text}" for text in block.outside]
    wide = max((len(line.name) for line in block.lines), default=0)
    for line in block.lines:
        parts = [p for p in (line.symbols, line.numbers, line.result, line.repeated) if p]
        lines.append(f"    {line.name:<{wide}} = " + " = ".join(dict.fromkeys(parts)))
    return lines


def compare_text(result: "Comparison") -> str:
    """A screen of text, worst first; all of it is in `compare_json`."""
    from batterboard.views import as_built

    return "\n".join([*as_built.lines(result), words.NOT_REPLACED])


def compare_json(result: "Comparison") -> str:
    rows = [
        {
            "key": list(c.key),
            "title": c.title,
            "what": c.what,
            "unit": quantity.si_unit(c.dimension) if c.dimension else None,
            "planned": _json_value(c.planned),
            "found": _json_value(c.found),
            "planned_verdict": c.planned_verdict,
            "found_verdict": c.found_verdict,
            "changed_sides": c.changed_sides,
            "kind": "" if c.what == "quantity" else "service" if c.service else "strength",
        }
        for c in result.changes
    ]
    turns = [
        {
            "key": list(turn.found.key),
            "title": turn.found.title,
            "verdict": turn.found.verdict,
            "kind": "service" if turn.found.service else "strength",
            "remedies": [_remedy(remedy) for remedy in turn.remedies],
            "closed": list(turn.closed),
        }
        for turn in result.turns
    ]
    overruled = [{"path": o.path, "planned": str(o.planned), "found": str(o.found)} for o in result.contradicted]
    whole = {
        "turns": turns,
        "changes": rows,
        "contradicted": overruled,
        "tolerances": [_off(off) for off in result.tolerances],
    }
    return json.dumps(whole, indent=1, ensure_ascii=False, allow_nan=False)


def _off(off: "Off") -> dict[str, Any]:
    """What of the concrete is off, in metres, and what it may be off."""
    sizes = {name: _finite(getattr(off, name)) for name in ("off", "plus", "minus")}
    return {"name": off.name, "what": off.what, **sizes, "within": off.within, "clause": str(off.clause)}


def _remedy(remedy: "Remedy") -> dict[str, Any]:
    """What to do, and what the chain said of the job once it is done; lengths and all in SI."""
    after = remedy.after
    return {
        "do": remedy.says,
        "holds": remedy.holds,
        "demand": None if after is None else _finite(after.worst_demand),
        "capacity": None if after is None else _finite(after.worst_capacity),
        "breaks": list(remedy.breaks),
        "mends": list(remedy.mends),
    }


def _json_value(value: Any) -> Any:
    return _finite(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else value
