"""How does the reader tell a builder what is wrong with his file?

    mark    : Mark("gate.toml", 31, 11)                          prints as gate.toml:31:11
    problem : Problem(mark, "piers.west.height", "a length needs its unit", 'write "40 in"')
    error   : JobError(problems)                                 all problems of a file, in the file's order

Each problem says where, what is wrong and what would be right. What is wrong is found elsewhere.
"""

from collections.abc import Iterable
from typing import Any, NamedTuple


class Mark(NamedTuple):
    """A place in a file. Line and column count from 1."""

    file: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


class Problem(NamedTuple):
    mark: Mark
    key: str  # "piers.west.height"; empty where the whole file is meant
    problem: str
    remedy: str = ""

    def __str__(self) -> str:
        return ": ".join(part for part in (str(self.mark), self.key, self.problem, self.remedy) if part)


class JobError(Exception):
    """The input could not be used. Printed as it is; exit status 2."""

    for_the_user = True
    exit_status = 2

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(set(problems)))
        super().__init__(self.problems)

    def __str__(self) -> str:
        return "\n".join(map(str, self.problems))


def shown(value: Any) -> str:
    """What stands in the file, short enough for one line of a message."""
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, (list, tuple)):
        return "a list"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        plain = "".join(c if c.isprintable() else "?" for c in value[:60])
        return f'"{plain}"' if len(value) <= 60 else f'"{plain[:40]}..."'
    if isinstance(value, int) and value.bit_length() > 128:
        return "a number of many digits"
    return str(value)


def one_line(text: str) -> str:
    """A message as it can be printed, whatever names the file uses."""
    plain = "".join(c if c.isprintable() else "?" for c in text[:400])
    return plain if len(text) <= 400 else plain + "..."


def nearest(word: Any, known: Iterable[str], otherwise: int = 8) -> str:
    """A remedy: the one that was probably meant, else those there are."""
    from difflib import get_close_matches

    names = list(known)
    if isinstance(word, str) and len(word) <= 60:
        lower = {name.lower(): name for name in reversed(names)}
        close = get_close_matches(word.lower(), lower, 1, 0.6)
        if close:
            return f'did you mean "{lower[close[0]]}"?'
    if not names:
        return "there is none in this file"
    more = " ..." if len(names) > otherwise else ""
    return "known here: " + ", ".join(names[:otherwise]) + more
