"""What every proposal needs: a changed job, the first of several changes that is enough, and words.

    proposal : ("pour the pad of west 5'-0\\" x 5'-0\\"", {("piers", "west", "pad"): ...})
    stuck    : ("the pad of west is cast", {})            a way that is closed: nothing is changed

A change that no job can have (a pier without height) is passed over.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import is_dataclass, replace
from math import ceil
from typing import Any

from batterboard.job.errors import JobError
from batterboard.job.schema import Job
from batterboard.plan import Plan
from batterboard.quantity import Length, inch, show
from batterboard.working import Check

STEP = {"us": 2 * inch, "si": 0.05}  # by which concrete is made larger
MARK = {"us": inch / 16, "si": 0.001}  # what he can measure
COARSE = {"us": inch / 8, "si": 0.005}  # steps of washers, threads and play

STONES = {"us": tuple(n * inch / 8 for n in (8, 6, 5, 4, 3)), "si": (0.025, 0.02, 0.016, 0.012, 0.01)}  # as sold

Path = tuple[Any, ...]  # keys of the job, names as they are: ("posts", "hinge", "joint", "grout")
Changes = dict[Path, Any]
Proposal = tuple[str, Changes]
Propose = Callable[[Plan, Check], Iterator[Proposal]]


def changed(job: Job, changes: Changes) -> Job:
    """The job with other values at some paths."""
    for path, value in changes.items():
        job = put(job, path, value)
    return job


def put(thing: Any, path: Path, value: Any) -> Any:
    """The job, or a part of it, with another value at a path."""
    if not path:
        return value
    first, *rest = path
    if isinstance(thing, dict):
        return {**thing, first: put(thing[first], tuple(rest), value)}
    if isinstance(thing, tuple):
        return (*thing[:first], put(thing[first], tuple(rest), value), *thing[first + 1 :])
    assert is_dataclass(thing) and not isinstance(thing, type)
    return replace(thing, **{first: put(getattr(thing, first), tuple(rest), value)})


def enough(plan: Plan, c: Check, phase: str, tries: Iterable[Proposal]) -> Iterator[Proposal]:
    """The first of several proposals, each more than the one before, with which the check holds in its phase."""
    for proposal in tries:
        try:
            checks = getattr(Plan(changed(plan.job, proposal[1])), phase).checks
        except JobError:
            continue
        if all(one.holds for one in checks if one.key == c.key):
            yield proposal
            return


def is_cast(job: Job, name: str, part: str = "") -> bool:
    """Whether a pier, pad or beam is cast, or only its pad, part = "pad", or a step of it: west step 1."""
    pier, step, _ = name.partition(" step ")
    return pier in job.done or ((part == "pad" or bool(step)) and f"{pier} pad" in job.done)


def stuck(name: str) -> Proposal:
    return f"{name} is cast", {}


# ---- words and numbers ----


def needs(c: Check) -> Any:
    return c.worst_demand


def has(c: Check) -> Any:
    return c.worst_capacity


def up(value: Any, step: float) -> float:
    return ceil(float(value) / step - 1e-9) * step


def sayer(job: Job) -> Callable[[Any], str]:
    return lambda length: show(float(length), Length, job.job.units)


def listed(names: Any) -> str:
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else str(last)
