"""How are several things named at once?

among(["west", "bollard.1", "bollard.2", "bollard.8"])       west, bollard.1-2, 8
joined(["strip west", "strip east"])                         strip west, east
joined(["P1-1", "P2-1", "P3-1", "P4-1"])                     P1-1 to P4-1
several(["a", "b", "c", "d", "e"])                           a, b, c and 2 more
pooled([("west A", 1.2, 2), ("east A", 1.2, 2)])             west, east A: 4 that are cut alike
"""

from collections.abc import Hashable, Iterable, Sequence
from os.path import commonprefix
from typing import Any

from batterboard.record import ordered

_A_ROW = 4  # so many marks in a row are told by the first and the last


def among(names: Iterable[str]) -> str:
    """west, east; bollard.1-6, 8: members of a row by their numbers."""
    rows: dict[str, list[int]] = {}
    for name in names:
        stem, _, number = name.rpartition(".")
        if stem and number.isdigit():
            rows.setdefault(stem, []).append(int(number))
        else:
            rows[name] = []
    return ", ".join(f"{stem}.{_runs(sorted(numbers))}" if numbers else stem for stem, numbers in rows.items())


def _runs(numbers: list[int]) -> str:
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}-{run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)


def joined(names: Iterable[str]) -> str:
    """snug the nuts of hinge, latch: what is said of all, then of which."""
    every = list(dict.fromkeys(names))
    said = commonprefix(every)
    said = said[: said.rfind(" ") + 1]
    end = commonprefix([name[len(said) :][::-1] for name in every])[::-1]
    end = end[end.find(" ") :] if " " in end else ""
    if end and all(name.removesuffix(end).endswith(",") for name in every):
        end = f",{end}"
    if len(every) == 1:
        return every[0]
    which = [name[len(said) : len(name) - len(end)] for name in every]
    return said + (_row(which) or among(which)) + end


def _row(marks: list[str]) -> str:
    """P1-1 to P300-1: marks that differ by a number that goes up one by one; else nothing."""
    start, end = commonprefix(marks), commonprefix([mark[::-1] for mark in marks])[::-1]
    start, end = start.rstrip("0123456789"), end.lstrip("0123456789")
    numbers = [mark[len(start) : len(mark) - len(end)] for mark in marks]
    if len(marks) < _A_ROW or start.endswith(".") or not all(number.isdigit() for number in numbers):
        return ""
    first = int(numbers[0])
    return f"{marks[0]} to {marks[-1]}" if [int(n) for n in numbers] == [*range(first, first + len(marks))] else ""


def several(names: Sequence[str], most: int = 4) -> str:
    """A few names; of a long row how many there are."""
    if len(names) <= most:
        return ", ".join(names)
    return f"{', '.join(names[: most - 1])} and {len(names) - most + 1} more"


@ordered
class Pool:
    """Pieces that are cut alike, whatever they are for."""

    name: str
    marks: tuple[str, ...]
    like: Any  # what it is cut to
    many: int


def pooled(pieces: Iterable[tuple[str, Hashable, int]]) -> list[Pool]:
    """Pieces of one size as one kind, in the order of their firsts. Of each: mark, what it is cut to, how many."""
    alike: dict[Hashable, list[tuple[str, int]]] = {}
    for mark, like, count in pieces:
        alike.setdefault(like, []).append((mark, count))
    return [
        Pool(joined(mark for mark, _ in same), tuple(mark for mark, _ in same), like, sum(many for _, many in same))
        for like, same in alike.items()
    ]
