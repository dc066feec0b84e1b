"""Equal steps told once: 3 @ 2\", 4 @ 10\"; with their sum where steps as rounded would not reach it.

evenly(stations, say)     a chain in which equal neighbours are one dimension
step(stations, say)       2'-0\", where all steps are written alike
thinned(marks)            no more marks than can be read beside each other, first and last among them
between(names)            members of long rows that their first and last speak for
"""

from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from batterboard.quantity import Length, read
from batterboard.views import drawing as d
from batterboard.views.drawings.board import SAME, TAPE

Mark = TypeVar("Mark")

_LONG = 8  # members: of a longer row only the first and the last are told by name
_MOST = 24  # marks that can be read beside each other along a sheet


def evenly(stations: Iterable[float], say: Callable[[float], str], layer: d.Layer = d.DIMS) -> d.Chain:
    """A chain in which neighbours that stand equally far apart are one dimension."""
    ordered: list[float] = []
    for station in sorted(stations):
        if not ordered or station - ordered[-1] > SAME:
            ordered.append(station)
    ends, texts, first = ordered[:1], [], 0
    for i in range(1, len(ordered)):
        step = say(ordered[i] - ordered[i - 1])
        if i + 1 < len(ordered) and say(ordered[i + 1] - ordered[i]) == step:
            continue
        many, whole = i - first, ordered[i] - ordered[first]
        ends.append(ordered[i])
        texts.append(step if many == 1 else f"{many} @ {step}{_sum(many, step, whole, say)}")
        first = i
    return d.Chain(tuple(ends), tuple(texts), layer)


def _sum(many: int, step: str, whole: float, say: Callable[[float], str]) -> str:
    return f" = {say(whole)}" if abs(many * read(step, Length) - whole) > TAPE / 2 else ""


def step(stations: Iterable[float], say: Callable[[float], str]) -> str:
    """The step from each station to the next; nothing where they differ."""
    ordered = sorted(stations)
    steps = {say(b - a) for a, b in zip(ordered, ordered[1:])}
    return steps.pop() if len(steps) == 1 else ""


def thinned(marks: Sequence[Mark]) -> list[Mark]:
    """Every second, third or further mark of too many, and the last; the lists tell them all."""
    if len(marks) <= _MOST:
        return list(marks)
    every = -(-(len(marks) - 1) // (_MOST - 1))
    return [*marks[:-1:every], marks[-1]]


def between(names: Iterable[str]) -> frozenset[str]:
    """bollard.2 to bollard.19 of twenty bollards."""
    rows: dict[str, list[str]] = {}
    for name in names:
        stem, _, number = name.rpartition(".")
        if stem and number.isdigit():
            rows.setdefault(stem, []).append(name)
    return frozenset(name for row in rows.values() if len(row) > _LONG for name in row[1:-1])
