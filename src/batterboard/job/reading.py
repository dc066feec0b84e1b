"""What is gathered while a raw job is read: problems, assumptions, and the names that must exist.

path    : ("piers", "west", "height")      where something stands; printed as piers.west.height
Key     : a key of a record as the file writes it, from the schema
Reading : one pass over one raw job
FAILED  : what a reader gives back when it has told the reading what is wrong
"""

from dataclasses import MISSING, dataclass, field
from functools import cache
from typing import Any, Literal

from batterboard.job.errors import one_line
from batterboard.job.schema import Assumption, NameOf
from batterboard.record import ordered, said

Path = tuple[Any, ...]

FAILED: Any = object()
UNREADABLE = "\ufffdunreadable"  # stands for a value that tomllib refused; it has been reported already
MOST_PROBLEMS = 200


class TooMany(Exception):
    """There is no use in listing more."""


@ordered
class Finding:
    path: Path
    at: Literal["key", "value"]
    problem: str
    remedy: str


@dataclass
class Reading:
    """One pass over one raw job."""

    found: bool  # whether facts that can only be found may stand here
    findings: list[Finding] = field(default_factory=list)
    assumed: list[Assumption] = field(default_factory=list)
    references: list[tuple[Path, str, NameOf]] = field(default_factory=list)

    def wrong(self, path: Path, problem: str, remedy: str = "", at: Literal["key", "value"] = "value") -> Any:
        self.findings.append(Finding(path, at, one_line(problem), one_line(remedy)))
        if len(self.findings) >= MOST_PROBLEMS:
            raise TooMany
        return FAILED


@ordered
class Key:
    """A key of a record as the file writes it."""

    attribute: str
    name: str
    kind: Any
    default: Any
    factory: Any
    say: str
    assume: bool
    found: bool

    @property
    def must(self) -> bool:
        return self.default is MISSING and self.factory is MISSING


def keys(kind: Any) -> dict[str, Key]:
    """The keys of a record by their names in the file."""
    return _keys(kind)


@cache
def _keys(kind: Any) -> dict[str, Key]:
    found = {}
    for attribute, annotation, default, factory, m in said(kind):
        if "say" in m:
            name = m.get("key") or attribute
            found[name] = Key(
                attribute, name, annotation, default, factory, m["say"], m.get("assume", False), m.get("found", False)
            )
    return found


def dotted(path: Path) -> str:
    """piers.west.place.2.left: keys as written, places in a list counted from 1."""
    return ".".join(str(part + 1) if isinstance(part, int) else _short(part) for part in path)


def _short(name: str) -> str:
    plain = "".join(c if c.isprintable() else "?" for c in name[:40])
    return plain if len(name) <= 40 else plain + "..."
