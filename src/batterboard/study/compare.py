"""What do the found dimensions change, and what is to be done about it?

    change : Change(("bearing", "west"), "Soil under the pad, west", "demand", Pressure, 67e3, 71e3, "holds", "holds")
    turn   : Turn(check, "fails", remedies=(...))         a check that no longer holds, worst first

Planned and found are two plans of one job. Every check and every quantity of every phase is compared by its key; what
changed sides comes first, service before strength where a leaf hangs. Remedies are tried in `remedies`.
"""

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from functools import cached_property
from math import isclose
from typing import Any, get_type_hints

from batterboard.job.schema import Job, Overruled
from batterboard.plan import Plan
from batterboard.quantity import Dimension, dimension_in
from batterboard.study.remedies import Remedies, Remedy
from batterboard.study.tolerances import Off, tolerances
from batterboard.working import Check

# Searches and simulations: they say nothing of what stands there that their phase has not said already.
_SEARCHED = ("bars", "sheets", "pieces", "hole_widths", "heat")
PHASES = tuple(
    name
    for name, made in vars(Plan).items()
    if isinstance(made, cached_property) and name not in ("work", "checks", *_SEARCHED)
)

# What a builder asks first, by its path; * stands for any name. The rest of the thousands is in JSON and book.
TELLING: tuple[tuple[tuple[str, ...], str], ...] = (
    (("setout", "openings", "*", "clear"), "clear opening, {}"),
    (("steel", "hangs", "*", "left_low"), "left at the latch, lower hinge, {}"),
    (("steel", "hangs", "*", "left_high"), "left at the latch, upper hinge, {}"),
    (("size", "movements", "*", "droop"), "droop at the latch, {}"),
    (("setout", "plates", "*", "spare"), "to spare in the tightest hole, {}"),
    (("template", "patterns", "*", "budget", "proud"), "lowest bolt above the concrete, {}"),
    (("ordering", "amounts", "*", "ordered"), "concrete to order, {}"),
    (("pour", "tickets", "*", "gross"), "concrete needed, {}"),
    (("ordering", "amounts", "*", "chance"), "chance that the order runs short, {}"),
    (("concrete", "waters", "*", "strength"), "strength left, {}"),
    (("pour", "lifts", "*", "next_by"), "next lift after {} by"),
    (("hour", "placings", "*", "starts"), "{} begins, after the first concrete"),
    (("forms", "feet", "*", "late"), "pad rests before its form is filled, {}"),
    (("cure", "waits", "*", "at"), "{}, after placing"),
    (("setout", "stakes", "*", "cut"), "cut at {}"),
    (("dig", "bank"), "to dig, in the bank"),
    (("cage", "weight"), "weight of the bars"),
    (("steel", "posts", "*", "length"), "post to cut, {}"),
)


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
    service: bool = False

    @property
    def changed_sides(self) -> bool:
        """It held and no longer does, or the other way round; one that was not asked before, where it fails."""
        if not self.planned_verdict:
            return self.found_verdict not in ("", "holds")
        return bool(self.found_verdict) and self.planned_verdict != self.found_verdict

    @property
    def worse(self) -> bool:
        return self.changed_sides and self.found_verdict != "holds"


@dataclass(frozen=True)
class Turn:
    """A check that no longer holds, and what can be done about it."""

    planned: Check | None
    found: Check
    remedies: tuple[Remedy, ...]
    closed: tuple[str, ...]  # what can no longer be changed: the pad of west is cast


@dataclass(frozen=True)
class Comparison:
    planned: Plan
    found: Plan
    changes: tuple[Change, ...]
    contradicted: tuple[Overruled, ...]

    @cached_property
    def turns(self) -> tuple[Turn, ...]:
        """What no longer holds, worst first, with remedies that the chain has been run on."""
        before = {c.key: c for c in self.planned.checks}
        remedies = Remedies(self.found)
        worse = {change.key for change in self.changes if change.worse}
        return tuple(Turn(before.get(c.key), c, *remedies.of(c)) for c in self.found.checks if c.key in worse)

    @cached_property
    def tolerances(self) -> tuple[Off, ...]:
        """What of the concrete was found otherwise, against what a specification lets it be off."""
        return tolerances(self.planned, self.found)

    @property
    def mended(self) -> tuple[Check, ...]:
        """What did not hold as planned and does as found."""
        better = {change.key for change in self.changes if change.changed_sides and not change.worse}
        return tuple(c for c in self.found.checks if c.key in better)

    @property
    def telling(self) -> tuple[Change, ...]:
        """The quantities that a builder asks first, under their trade names, in that order."""
        quantities = [change for change in self.changes if change.what == "quantity"]
        return tuple(told for pattern, words in TELLING for told in _told(pattern, words, quantities))


def compare(job: Job) -> Comparison:
    """Everything that differs between the job as planned and as found, worst first."""
    if job.planned is None:
        plan = Plan(job)
        return Comparison(plan, plan, (), job.contradicted)
    planned, found = Plan(job.planned), Plan(job)
    rank = {c.key: i for i, c in enumerate(found.checks)}  # worst first as it stands, service before strength
    checks = sorted(
        _checks(planned, found), key=lambda c: (not c.worse, not c.changed_sides, rank.get(c.key, len(rank)))
    )
    return Comparison(planned, found, (*checks, *_quantities(planned, found)), job.contradicted)


def _checks(planned: Plan, found: Plan) -> Iterator[Change]:
    before = {c.key: c for c in planned.checks}
    after = {c.key: c for c in found.checks}
    for key in dict.fromkeys((*after, *before)):
        a, b = before.get(key), after.get(key)
        shown = b or a
        assert shown is not None
        verdicts = (a.verdict if a else "", b.verdict if b else "")
        for side in ("demand", "capacity"):
            old, new = _side(a, side), _side(b, side)
            if not _same(old, new):
                title = f"{shown.title}, {side}"
                yield Change(key, title, "check", shown.dimension, old, new, *verdicts, service=shown.service)


def _side(c: Check | None, side: str) -> float | None:
    return None if c is None else float(c.worst_demand if side == "demand" else c.worst_capacity)


def _same(a: Any, b: Any) -> bool:
    if a is None or b is None:
        return a is b
    if isinstance(a, (int, float)) and isinstance(b, (int, float)):
        return isclose(a, b, rel_tol=1e-9, abs_tol=1e-12) or (a != a and b != b)
    return bool(a == b)


# ---- quantities ----


def _quantities(planned: Plan, found: Plan) -> Iterator[Change]:
    for phase in PHASES:
        before = dict(facts(getattr(planned, phase), (phase,)))
        after = dict(facts(getattr(found, phase), (phase,)))
        for key in dict.fromkeys((*after, *before)):
            old, new = before.get(key, (None, None)), after.get(key, (None, None))
            if not _same(old[0], new[0]):
                title = " ".join(key).replace("_", " ")
                yield Change(key, title, "quantity", new[1] or old[1], old[0], new[0])


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
    else:  # it is no record of answers but gives each when asked
        for name, made in vars(type(thing)).items():
            if isinstance(made, cached_property) and not name.startswith("_"):
                yield from facts(getattr(thing, name), (*key, name))


def _told(pattern: tuple[str, ...], words: str, quantities: list[Change]) -> Iterator[Change]:
    for change in quantities:
        if len(change.key) == len(pattern) and all(p in ("*", k) for p, k in zip(pattern, change.key, strict=True)):
            names = [k for p, k in zip(pattern, change.key, strict=True) if p == "*"]
            title = words.format(*names)
            yield Change(change.key, title, "quantity", change.dimension, change.planned, change.found)
