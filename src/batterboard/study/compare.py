"""What do the found dimensions change?

    change : Change(("bearing", "west"), "Soil under the pad, west", "demand", Pressure, 67e3, 71e3, "holds", "holds")

Planned and found are two plans of one job. Every check and every quantity of every phase is compared by its key; what
changed sides comes first. Remedies are not looked for here.
"""

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from math import isclose
from typing import Any, get_type_hints

from batterboard.job.schema import Job, Overruled
from batterboard.plan import Plan
from batterboard.quantity import Dimension, dimension_in
from batterboard.working import Check

PHASES = ("size", "setout", "dig", "template", "cage", "forms", "concrete", "pour", "cure", "steel", "schedule")


@dataclass(frozen=True)
class Change:
    key: tuple[str, ...]
    title: str
    what: str  # "check" or "quantity"
    dimension: Dimension | None
    planned: Any
    found: Any
    planned_verdict: str = ""
    found_verdict: str = ""

    @property
    def changed_sides(self) -> bool:
        return self.planned_verdict != self.found_verdict


@dataclass(frozen=True)
class Comparison:
    planned: Plan
    found: Plan
    changes: tuple[Change, ...]
    contradicted: tuple[Overruled, ...]


def compare(job: Job) -> Comparison:
    """Everything that differs between the job as planned and as found, worst first."""
    planned, found = Plan(job.planned or job), Plan(job)
    checks = list(_checks(planned, found)) if job.planned else []
    order = {"outside": 0, "fails": 1, "holds": 2, "": 3}
    checks.sort(key=lambda c: (not c.changed_sides, order[c.found_verdict]))
    quantities = list(_quantities(planned, found)) if job.planned else []
    return Comparison(planned, found, (*checks, *quantities), job.contradicted)


def _checks(planned: Plan, found: Plan) -> Iterator[Change]:
    before = {c.key: c for c in planned.checks}
    after = {c.key: c for c in found.checks}
    for key in dict.fromkeys((*after, *before)):
        a, b = before.get(key), after.get(key)
        shown = b or a
        assert shown is not None
        for side in ("demand", "capacity"):
            old, new = _side(a, side), _side(b, side)
            if not _same(old, new):
                title = f"{shown.title}, {side}"
                yield Change(
                    key, title, "check", shown.dimension, old, new, a.verdict if a else "", b.verdict if b else ""
                )


def _side(c: Check | None, side: str) -> float | None:
    return None if c is None else float(c.worst_demand if side == "demand" else c.worst_capacity)


def _same(a: Any, b: Any) -> bool:
    if a is None or b is None:
        return a is b
    if isinstance(a, (int, float)) and isinstance(b, (int, float)):
        return isclose(a, b, rel_tol=1e-9, abs_tol=1e-12) or (a != a and b != b)
    return bool(a == b)


def _quantities(planned: Plan, found: Plan) -> Iterator[Change]:
    for phase in PHASES:
        before = dict(facts(getattr(planned, phase), (phase,)))
        after = dict(facts(getattr(found, phase), (phase,)))
        for key in dict.fromkeys((*after, *before)):
            old, new = before.get(key, (None, None)), after.get(key, (None, None))
            if not _same(old[0], new[0]):
                yield Change(key, " ".join(key), "quantity", new[1] or old[1], old[0], new[0])


def facts(
    thing: Any, key: tuple[str, ...], dimension: Dimension | None = None
) -> Iterator[tuple[tuple[str, ...], tuple[Any, Dimension | None]]]:
    """Every number and word of a phase's result, by its path; members of a list go by name where they have one."""
    if isinstance(thing, Check):
        return
    if is_dataclass(thing) and not isinstance(thing, type):
        hints = get_type_hints(type(thing), include_extras=True)
        for f in fields(thing):
            yield from facts(getattr(thing, f.name), (*key, f.name), dimension_in(hints[f.name]))
    elif isinstance(thing, dict):
        for name, member in thing.items():
            yield from facts(member, (*key, str(name)), dimension)
    elif isinstance(thing, (tuple, list)):
        for number, member in enumerate(thing, 1):
            label = getattr(member, "name", None) or getattr(member, "mark", None) or str(number)
            yield from facts(member, (*key, str(label)), dimension)
    elif isinstance(thing, (int, float, str)) or thing is None:
        yield key, (thing, dimension)
