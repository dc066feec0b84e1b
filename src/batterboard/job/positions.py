"""Where in the text does a key or value stand?

    path  : ("piers", "west", "place", 1, "left")   keys as they are named, places in a list from 0
    place : Place(key=offset, value=offset)         where its key and its value begin; turned to lines on demand

One pass over text that `tomllib` has already accepted, so that nothing has to be checked here. It runs only when there
is an error to place.
"""

import re
from bisect import bisect_right
from dataclasses import dataclass, field
from typing import NamedTuple

from batterboard.job.reading import Path

_BLANK = re.compile(r"[ \t]*")
_GAP = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_LINE_END = re.compile(r"[ \t]*(?:#[^\n]*)?\r?(?:\n|\Z)")
_KEY = re.compile(r'"((?:[^"\\\n]|\\.)*)"|\'([^\'\n]*)\'|([A-Za-z0-9_-]+)')
_STRING = re.compile(
    r'"""(?:[^"\\]|\\[\s\S]|"{1,2}(?!"))*"{3,5}|'
    r"'''(?:[^']|'{1,2}(?!'))*'{3,5}|"
    r'"(?:[^"\\\n]|\\.)*"|'
    r"'[^'\n]*'"
)
_PLAIN = re.compile(r"[^,\]}#\n]*")  # a number, a truth or a date
_ESCAPE = re.compile(r"\\(?:u([0-9A-Fa-f]{4})|U([0-9A-Fa-f]{8})|(.))")
_LETTERS = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r", '"': '"', "\\": "\\"}


class Place(NamedTuple):
    key: int
    value: int


@dataclass
class _Reading:
    text: str
    places: dict[Path, Place] = field(default_factory=dict)
    lists: dict[Path, int] = field(default_factory=dict)  # [[tables]]: how many so far

    def note(self, path: Path, key: int, value: int) -> None:
        self.places.setdefault(path, Place(key, value))


def positions(text: str) -> dict[Path, Place]:
    """Every key, value and list member of a valid TOML text, by its path."""
    reading = _Reading(text)
    base: Path = ()
    at = _skip(_GAP, text, 0)
    while at < len(text):
        if text[at] == "[":
            base, at = _header(reading, at)
        else:
            at = _pair(reading, base, at)
        at = _skip(_LINE_END, text, at)
        at = _skip(_GAP, text, at)
    return reading.places


def line_and_column(text: str, offset: int, line_starts: list[int]) -> tuple[int, int]:
    """Both from 1."""
    line = bisect_right(line_starts, offset)
    return line, offset - line_starts[line - 1] + 1


def line_starts(text: str) -> list[int]:
    return [0, *(found.end() for found in re.finditer("\n", text))]


def _skip(pattern: re.Pattern[str], text: str, at: int) -> int:
    found = pattern.match(text, at)
    return found.end() if found else at


def _header(reading: _Reading, at: int) -> tuple[Path, int]:
    """[a.b] or [[a.b]]: the path of its table, the end of the header."""
    listed = reading.text.startswith("[[", at)
    start = at
    parts, at = _key(reading.text, at + (2 if listed else 1))
    at = _skip(_BLANK, reading.text, at) + (2 if listed else 1)
    path: Path = ()
    for number, (name, offset) in enumerate(parts):
        path = (*path, name)
        last = number == len(parts) - 1
        reading.note(path, offset, start if last else offset)
        if last and listed:
            reading.lists[path] = reading.lists.get(path, -1) + 1
        if path in reading.lists:
            path = (*path, reading.lists[path])
            reading.note(path, offset, start)
    return path, at


def _pair(reading: _Reading, base: Path, at: int) -> int:
    """key = value: the end of the value."""
    text = reading.text
    parts, at = _key(text, at)
    at = _skip(_BLANK, text, at) + 1  # the equals sign
    at = _skip(_BLANK, text, at)
    path = base
    for name, offset in parts:
        path = (*path, name)
        reading.note(path, offset, at)
    return _value(reading, path, at)


def _key(text: str, at: int) -> tuple[list[tuple[str, int]], int]:
    """The names of a dotted key with their offsets, and its end."""
    parts: list[tuple[str, int]] = []
    while True:
        at = _skip(_BLANK, text, at)
        found = _KEY.match(text, at)
        if found is None:  # not TOML after all: give up gently
            return parts, len(text)
        quoted, literal, bare = found.groups()
        parts.append((_plain(quoted) if quoted is not None else literal if literal is not None else bare, at))
        at = _skip(_BLANK, text, found.end())
        if not text.startswith(".", at):
            return parts, at
        at += 1


def _plain(quoted: str) -> str:
    def letter(found: re.Match[str]) -> str:
        short, long, single = found.groups()
        return chr(int(short or long, 16)) if short or long else _LETTERS.get(single, single)

    return _ESCAPE.sub(letter, quoted)


def _value(reading: _Reading, path: Path, at: int) -> int:
    text = reading.text
    first = text[at : at + 1]
    if first in "\"'":
        return _skip(_STRING, text, at)
    if first == "[":
        at, number = _skip(_GAP, text, at + 1), 0
        while at < len(text) and text[at] != "]":
            member = (*path, number)
            reading.note(member, at, at)
            at = _skip(_GAP, text, max(_value(reading, member, at), at + 1))
            at = _skip(_GAP, text, at + 1) if text.startswith(",", at) else at
            number += 1
        return at + 1
    if first == "{":
        at = _skip(_GAP, text, at + 1)
        while at < len(text) and text[at] != "}":
            at = _skip(_GAP, text, max(_pair(reading, path, at), at + 1))
            at = _skip(_GAP, text, at + 1) if text.startswith(",", at) else at
        return at + 1
    return _skip(_PLAIN, text, at)
