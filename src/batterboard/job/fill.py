"""How does a table of the file become a record?

    raw     : {"height": "40 in", ...}         what tomllib read, expanded
    path    : ("piers", "west", "height")      where it stands; found back in the text when there is something to say
    reader  : (raw, path, reading) -> value    one for each annotation of the schema, made once

The schema's annotations decide everything: dimension, sign, choices, names, nesting. A reading gathers every problem,
every default that is an assumption and every name that must exist. What the values mean together is asked in `sense`.
"""

from collections.abc import Iterable
from dataclasses import MISSING
from functools import cache
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin

from batterboard.job.errors import nearest, shown
from batterboard.job.fits import fit
from batterboard.job.reading import FAILED, UNREADABLE, Key, Path, Reading, dotted, keys
from batterboard.job.rules import together
from batterboard.job.schema import Assumption
from batterboard.job.values import Reader, reader_of
from batterboard.quantity import dimension_in
from batterboard.record import is_record


@cache
def reader(kind: Any) -> Reader:
    """The reader for an annotation."""
    single = reader_of(kind)
    if single:
        return single
    origin, parts = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        return _either([part for part in parts if part is not NoneType])
    if origin is tuple:
        return _list(parts[0]) if parts[-1] is Ellipsis else _group(parts)
    if origin is dict:
        return _numbered(parts[1]) if parts[0] is int else _named(parts[1])
    if is_record(kind):
        return _record(kind)
    raise TypeError(f"the schema uses {kind}, which has no reader")


def absent(key: Key, read: Reader, path: Path, reading: Reading) -> Any:
    """What a key means that nobody wrote: its default, noted where the book has to say so."""
    if key.must:
        return reading.wrong(path[:-1], f"{key.name} is missing", key.say, "key")
    if key.default is not MISSING:
        if key.assume:
            reading.assumed.append(Assumption(dotted(path), key.say, key.default, dimension_in(key.kind)))
        return key.default
    return read({}, path, reading)


def present(raw: Any, read: Reader, path: Path, reading: Reading) -> Any:
    """What a key means that somebody wrote. What is no TOML has been told already."""
    return FAILED if isinstance(raw, str) and raw == UNREADABLE else read(raw, path, reading)


# ---- lists ----


def _either(kinds: list[Any]) -> Reader:
    """One of several kinds: the form of what is written chooses among a table, a list and a single value."""
    if len(kinds) == 1:
        return reader(kinds[0])
    forms = {_form(kind): reader(kind) for kind in kinds}
    fallback = forms.get(object) or forms[list]

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        form = dict if isinstance(raw, dict) else list if isinstance(raw, list) else object
        return forms.get(form, fallback)(raw, path, reading)

    return read


def _form(kind: Any) -> type:
    if reader_of(kind):
        return object
    return list if get_origin(kind) is tuple else dict


def _list(kind: Any) -> Reader:
    member = reader(kind)

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if not isinstance(raw, (list, tuple)):
            remedy = "write it in square brackets: [ ... ]"
            return reading.wrong(path, f"{shown(raw)} stands where a list belongs", remedy)
        return _all_read(member(value, (*path, number), reading) for number, value in enumerate(raw))

    return read


def _group(kinds: tuple[Any, ...]) -> Reader:
    members = [reader(kind) for kind in kinds]

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if not isinstance(raw, (list, tuple)) or len(raw) != len(members):
            what = f"{len(raw)} values" if isinstance(raw, (list, tuple)) else shown(raw)
            remedy = f"write {len(members)} values in square brackets"
            return reading.wrong(path, f"{what} where {len(members)} values belong", remedy)
        pairs = zip(members, raw, strict=True)
        return _all_read(one(value, (*path, number), reading) for number, (one, value) in enumerate(pairs))

    return read


def _all_read(values: Iterable[Any]) -> Any:
    read = tuple(values)
    return FAILED if any(value is FAILED for value in read) else read


# ---- tables ----


def _named(kind: Any) -> Reader:
    """A table of named things. What could not be read is left out, so that the rest can still be judged."""
    member = reader(kind)

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if not isinstance(raw, dict):
            remedy = f"write [{path[-1]}.NAME] and its keys below"
            return reading.wrong(path, f"{shown(raw)} stands where named tables belong", remedy, "key")
        things = {name: present(value, member, (*path, name), reading) for name, value in raw.items()}
        return {name: thing for name, thing in things.items() if thing is not FAILED}

    return read


def _numbered(kind: Any) -> Reader:
    member = reader(kind)

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if not isinstance(raw, dict):
            remedy = "write it by number: 1 = { ... }"
            return reading.wrong(path, f"{shown(raw)} stands where a table keyed by number belongs", remedy)
        things = {}
        for name, value in raw.items():
            if name.isascii() and name.isdigit() and len(name) < 5 and not name.startswith("0"):
                things[int(name)] = present(value, member, (*path, name), reading)
            else:
                remedy = "found lists are keyed by number, from 1"
                things[0] = reading.wrong((*path, name), f"{shown(name)} is no number", remedy, "key")
        return FAILED if any(thing is FAILED for thing in things.values()) else things

    return read


def _record(kind: Any) -> Reader:
    table = keys(kind)
    readers = {name: reader(key.kind) for name, key in table.items()}

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if isinstance(raw, kind):  # made by the expansion
            return raw
        if not isinstance(raw, dict):
            hint = ", ".join(f"{name} = ..." for name in _first(table))
            return reading.wrong(path, f"{shown(raw)} stands where a table belongs", f"write {{ {hint} }}")
        before = len(reading.findings)
        _judge_keys(kind, raw, path, reading)
        values = {}
        for name, key in table.items():
            at = (*path, name)
            if name in raw:
                values[key.attribute] = present(raw[name], readers[name], at, reading)
            else:
                values[key.attribute] = absent(key, readers[name], at, reading)
        if len(reading.findings) > before or any(value is FAILED for value in values.values()):
            return FAILED
        made = kind(**values)
        for below, problem, remedy in fit(made):
            reading.wrong((*path, *below), problem, remedy)
        return made

    return read


def _judge_keys(kind: Any, raw: dict[str, Any], path: Path, reading: Reading) -> None:
    """Which keys are unknown, which belong under found, and which do not go together."""
    table = keys(kind)
    for name in raw:
        if name not in table:
            known = [key.name for key in table.values() if reading.found or not key.found]
            reading.wrong((*path, name), f"unknown key {shown(name)}", nearest(name, known, 12), "key")
        elif table[name].found and not reading.found:
            remedy = f"put it under [{dotted(('found', *path))}]"
            reading.wrong((*path, name), "this can only be found", remedy, "key")
    if UNREADABLE not in raw.values():
        for name, problem, remedy in together(kind, raw.keys() & table.keys()):
            reading.wrong((*path, name) if name else path, problem, remedy, "key")


def _first(table: dict[str, Key]) -> list[str]:
    """The keys to show in a hint: those that must be written, else the first few."""
    must = [name for name, key in table.items() if key.must]
    return must[:4] or [name for name, key in table.items() if not key.found][:3]
