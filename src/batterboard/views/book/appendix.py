"""The working of every check: once in full for the worst element, beside it what differs for the others.

Group   : Group("Soil pressure", clause, working of the worst, others)      all checks that one question asked
Compare : what the same formulas gave elsewhere, a column for each element; what is the same everywhere is left out
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from batterboard.quantity import System
from batterboard.views import words
from batterboard.views.book import maths
from batterboard.working import Check
from batterboard.working.page import Block, blocks

if TYPE_CHECKING:
    from batterboard.plan import Plan

_ABREAST = 4  # elements in one table of what differs


@dataclass(frozen=True)
class Working:
    row: words.CheckRow
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Compare:
    """`rows`: number of the formula, name set as mathematics, one result for each element."""

    elements: tuple[str, ...]
    verdicts: tuple[str, ...]
    rows: tuple[tuple[str, str, tuple[str, ...]], ...]


@dataclass(frozen=True)
class Group:
    title: str
    clause: str
    remark: str
    worst: Working
    same: tuple[str, ...]  # elements with the same figures as the worst
    compared: tuple[Compare, ...]
    apart: tuple[Working, ...]  # elements that other formulas ruled


def groups(plan: "Plan") -> Iterator[Group]:
    """All checks, worst first, those of one question together."""
    system = plan.job.job.units
    by_question: dict[str, list[Check]] = {}
    for c in plan.checks:
        by_question.setdefault(c.name, []).append(c)
    for checks in by_question.values():
        yield _group(checks, system)


def _group(checks: list[Check], system: System) -> Group:
    worst, *others = [_working(c, system) for c in checks]
    comparable = [w for w in others if _pattern(w) == _pattern(worst)]
    same = [w for w in comparable if _results(w) == _results(worst)]
    differing = [w for w in comparable if _results(w) != _results(worst)]
    return Group(
        title=words.question(checks[0]),
        clause=worst.row.clause,
        remark=worst.row.remark,
        worst=worst,
        same=tuple(_element(w, checks) for w in same),
        compared=tuple(_compared(worst, differing, checks)),
        apart=tuple(w for w in others if _pattern(w) != _pattern(worst)),
    )


def _working(c: Check, system: System) -> Working:
    return Working(words.check_row(c, system), blocks(c.steps, c.at, system, c.clause.document.scale, maths.Maths))


def _element(working: Working, checks: list[Check]) -> str:
    return working.row.title.removeprefix(words.question(checks[0])).removeprefix(", ")


def _pattern(working: Working) -> list[tuple[str, list[str]]]:
    return [(block.name, [line.name for line in block.lines]) for block in working.blocks]


def _results(working: Working) -> list[str]:
    """Every figure that the working names."""
    return [line.result for block in working.blocks for line in block.lines] + [
        working.row.demand,
        working.row.capacity,
    ]


def _compared(worst: Working, others: list[Working], checks: list[Check]) -> Iterator[Compare]:
    alike: dict[tuple[str, ...], list[Working]] = {}
    for one in others:
        alike.setdefault(tuple(_results(one)), []).append(one)
    columns = list(alike.values())
    for start in range(0, len(columns), _ABREAST):
        abreast = [[worst], *columns[start : start + _ABREAST]]
        yield Compare(
            elements=tuple(words.all_about([_element(w, checks) for w in column]) for column in abreast),
            verdicts=tuple(f"{c[0].row.comparison}" for c in abreast),
            rows=tuple(_rows([column[0] for column in abreast])),
        )


def _rows(abreast: list[Working]) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """The lines whose results differ."""
    cases = tuple(w.row.case for w in abreast)
    if len(set(cases)) > 1:
        yield "", "", cases
    for same_block in zip(*(w.blocks for w in abreast)):
        for lines in zip(*(block.lines for block in same_block)):
            results = tuple(line.repeated or line.result for line in lines)
            if len(set(results)) > 1:
                yield f"({same_block[0].number})", lines[0].name, results
