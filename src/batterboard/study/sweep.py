"""What if a size were different? Many variants of one job at once.

    changes : {"piers.west.pad.along": array of V lengths, "site.soil.stiff": array of V moduli}
    answer  : Answer(key=("bearing", "west"), ratio=(V,), holds=(V,), ...)        one for each check

Variants are the last axis of every number; they share one structure (which things exist, how many bars), so only keys
that are numbers may vary. They run in blocks that fit the processor's cache. Only `size` and `setout` are asked.
"""

from collections.abc import Mapping
from dataclasses import dataclass, is_dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from batterboard.job.schema import Job
from batterboard.phases import setout, size
from batterboard.work.build import build
from batterboard.working import Check

BLOCK = 2048  # variants at a time: a few hundred arrays of them stay in the cache


@dataclass(frozen=True)
class Answer:
    """One check over all variants."""

    key: tuple[str, ...]
    title: str
    demand: NDArray[np.float64]  # (V,) of the governing case
    capacity: NDArray[np.float64]
    ratio: NDArray[np.float64]
    holds: NDArray[np.bool_]


def sweep(job: Job, changes: Mapping[str, NDArray[np.float64]]) -> tuple[Answer, ...]:
    """Every check of `size` and `setout` for V variants of a job. Raises KeyError for a path the job does not have."""
    count = len(next(iter(changes.values())))
    blocks = []
    for start in range(0, count, BLOCK):
        part = {path: values[start : start + BLOCK] for path, values in changes.items()}
        blocks.append([_answer(c, min(BLOCK, count - start)) for c in checks(varied(job, part))])
    return tuple(
        Answer(same[0].key, same[0].title, *(np.concatenate([getattr(a, name) for a in same]) for name in _ARRAYS))
        for same in zip(*blocks, strict=True)
    )


def checks(job: Job) -> tuple[Check, ...]:
    """The checks that take arrays, for a job whose numbers may be arrays."""
    work = build(job)
    return (*size.stands(work, job.site.wind, job.mixes).checks, *setout.chain(work, job.instruments).checks)


def varied(job: Job, changes: Mapping[str, Any]) -> Job:
    """The job with other numbers at some paths: piers.west.pad.along."""
    for path, value in changes.items():
        job = _set(job, path.split("."), path, value)
    return job


_ARRAYS = ("demand", "capacity", "ratio", "holds")


def _answer(c: Check, count: int) -> Answer:
    wide = [np.broadcast_to(v, (count,)) for v in (c.worst_demand, c.worst_capacity, c.ratio, c.holds)]
    return Answer(c.key, c.title, *wide)


def _set(thing: Any, names: list[str], path: str, value: Any) -> Any:
    if not names:
        return value
    first, *rest = names
    if isinstance(thing, dict):
        if first not in thing:
            raise KeyError(path)
        return {**thing, first: _set(thing[first], rest, path, value)}
    if isinstance(thing, tuple) and first.isdigit():
        number = int(first)
        return (*thing[:number], _set(thing[number], rest, path, value), *thing[number + 1 :])
    if not is_dataclass(thing) or isinstance(thing, type) or not hasattr(thing, first):
        raise KeyError(path)
    return replace(thing, **{first: _set(getattr(thing, first), rest, path, value)})
