"""What stands in the job file now, and what did the last good one say?

    follower : Follower(path)          looks at the disk when told to
    sight    : Sight("18f3-2", ...)    what one page shows, whole: the last good plan, and what is wrong with the file

A look is cheap while nothing changes. A file that is being written is left alone until it rests, but not for ever. What
cannot be read is said, never raised: the page outlives every state of the file.
"""

import hashlib
import json
import os
import stat
import sys
import time
import traceback
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from batterboard.app import shown
from batterboard.job import JobError, Mark, Problem, read_job
from batterboard.job.reader import LARGEST
from batterboard.plan import Plan

PATIENCE = 5  # looks that a file may differ from look to look before it is read all the same
_COARSEST_CLOCK = 2.0  # of file systems [s]: within it two writes may carry the same time


@dataclass(frozen=True)
class Sight:
    """One state of the page. `page` is empty until a first good plan was read."""

    id: str
    file: str
    plan: Plan | None
    page: dict[str, Any]
    problems: tuple[Problem, ...]

    def as_json(self) -> bytes:
        problems = [
            {"place": f"{Path(p.mark.file).name}:{p.mark.line}:{p.mark.column}"}
            | {"key": p.key, "problem": p.problem, "remedy": p.remedy}
            for p in self.problems
        ]
        whole = {"id": self.id, "file": self.file, "problems": problems, "page": self.page or None}
        return json.dumps(whole, ensure_ascii=False, allow_nan=False).encode()


class Follower:
    """Follows one file. `look` is called again and again, never twice at once; `sight` may be read by anybody."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._begun = f"{time.time_ns():x}"  # an id of another run never counts as one of this run
        self._looks_moving = 0
        self._stamp: tuple[Any, ...] = ()
        self._content: str | None = None
        self.sight = Sight(f"{self._begun}-0", str(path), None, {}, ())

    def look(self) -> bool:
        """Look at the disk once. True where the page has something new to show."""
        stamp = _stamp(self.path)
        moved = stamp != self._stamp
        self._stamp = stamp
        if moved and self._content is not None:
            self._looks_moving += 1
            if self._looks_moving < PATIENCE:
                return False
        elif not moved and not self._looks_moving and not _is_fresh(stamp):
            return False
        self._looks_moving = 0
        content = _fingerprint(self.path)
        if content == self._content:
            return False
        self._content = content
        self.sight = self._next()
        return True

    def _next(self) -> Sight:
        number = int(self.sight.id.partition("-")[2]) + 1
        plan, page = self.sight.plan, self.sight.page
        problems: tuple[Problem, ...] = ()
        try:
            plan, page = _read(self.path)
        except JobError as wrong:
            problems = wrong.problems
        except Exception as stumble:  # ours, not his: the page stays, and the terminal says where
            traceback.print_exc(file=sys.stderr)
            said = f"the program itself stumbled over this file ({type(stumble).__name__}: {stumble})"
            problems = (Problem(Mark(str(self.path)), "", said, "the terminal says where"),)
        return Sight(f"{self._begun}-{number}", str(self.path), plan, page, problems)


def _read(path: Path) -> tuple[Plan, dict[str, Any]]:
    """The plan and its page: both or neither, so every phase is computed here."""
    if not _is_ordinary(path):  # a pipe would never end
        problem = Problem(Mark(str(path)), "", "this is no ordinary file", "name the job file")
        raise JobError([problem])
    plan = Plan(read_job(path))
    return plan, shown.page(plan)


def _stamp(path: Path) -> tuple[Any, ...]:
    try:
        status = os.stat(path)
    except (OSError, ValueError) as problem:
        return (type(problem).__name__,)
    return status.st_mtime, status.st_mtime_ns, status.st_size, status.st_ino, status.st_mode


def _is_fresh(stamp: tuple[Any, ...]) -> bool:
    return len(stamp) > 1 and time.time() - stamp[0] < _COARSEST_CLOCK


def _is_ordinary(path: Path) -> bool:
    """Whether it can be opened without waiting; what is not there is for the reader to say."""
    try:
        mode = os.stat(path).st_mode
    except (OSError, ValueError):
        return True
    return stat.S_ISREG(mode) or stat.S_ISDIR(mode)


def _fingerprint(path: Path) -> str:
    """Changes with what the reader would see."""
    if not _is_ordinary(path):
        return "no ordinary file"
    try:
        with open(path, "rb") as file:
            return hashlib.sha256(file.read(LARGEST + 1)).hexdigest()
    except (OSError, ValueError) as problem:
        return type(problem).__name__
