"""Can the pages show every letter that the job file uses?

    readable(job)      raises JobError, naming the letter and where it stands: 'no page can show "門" in this name'

Book and drawings are set in faces that come with the typesetter, so that a job looks the same on every computer. They
hold Latin, Greek, Cyrillic, Armenian, Georgian, Hebrew and Arabic letters and the usual signs; others would print as
empty boxes, and an empty box on a stake label is no name. Words of the file's own comments never reach a page.
"""

from collections.abc import Iterator
from dataclasses import is_dataclass
from typing import Any
from unicodedata import category

from batterboard.job.errors import JobError
from batterboard.job.reader import problem_at
from batterboard.job.reading import Path, keys
from batterboard.job.schema import Job

# First and last letters of the runs that one of the faces holds whole, as their own tables say.
_HELD = (
    *((0x20, 0x7E), (0xA0, 0x377), (0x37A, 0x37F), (0x384, 0x38A), (0x38C, 0x38C), (0x38E, 0x3A1), (0x3A3, 0x4FF)),
    *((0x531, 0x556), (0x559, 0x58A), (0x591, 0x5C7), (0x5D0, 0x5EA), (0x621, 0x63A), (0x640, 0x655)),
    *((0x660, 0x66D), (0x6F0, 0x6F9), (0x10D0, 0x10FF), (0x1D00, 0x1F15), (0x1F20, 0x1F45), (0x2000, 0x2027)),
    *((0x202F, 0x2064), (0x2074, 0x208E), (0x20A0, 0x20C0), (0x2100, 0x2151), (0x2153, 0x2184), (0x2190, 0x23FF)),
    *((0x2460, 0x262F), (0x2638, 0x268B), (0x2761, 0x2775), (0x27B1, 0x2B73)),
)  # fmt: skip


def readable(job: Job) -> None:
    """Raise JobError where a text of the job has a letter that no page can show; the first letter of each text."""
    problems = []
    for path, text in _texts(job, ()):
        letter = next((letter for letter in text if not _held(letter)), None)
        if letter is not None:
            words = f'no page can show "{letter}" (U+{ord(letter):04X})'
            problems.append(problem_at(job, path, words, "write it in Latin, Greek or Cyrillic letters"))
    if problems:
        raise JobError(problems)


def _held(letter: str) -> bool:
    """Spaces and marks of direction have no shape of their own."""
    code = ord(letter)
    return letter.isspace() or category(letter) == "Cf" or any(first <= code <= last for first, last in _HELD)


def _texts(thing: Any, path: Path) -> Iterator[tuple[Path, str]]:
    """Every name and text of the job file, with its keys."""
    if isinstance(thing, str):
        yield path, thing
    elif isinstance(thing, dict):
        for name, member in thing.items():
            yield (*path, str(name)), str(name)
            yield from _texts(member, (*path, str(name)))
    elif isinstance(thing, tuple):
        for number, member in enumerate(thing):
            yield from _texts(member, (*path, number))
    elif is_dataclass(thing):
        for key in keys(type(thing)).values():
            yield from _texts(getattr(thing, key.attribute), (*path, key.name))
