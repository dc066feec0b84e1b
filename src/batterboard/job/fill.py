"""How does a table of the file become a record?

    raw     : {"height": "40 in", ...}         what tomllib read, expanded
    path    : ("piers", "west", "height")      where it stands; found back in the text when there is something to say
    reader  : (raw, path, reading) -> value    one for each annotation of the schema, made once

The schema's annotations decide everything: dimension, sign, choices, names, nesting. A reading gathers every problem,
every default that is an assumption and every name that must exist. What the values mean together is asked in `sense`.
"""

from collections.abc import Callable, Iterable
from dataclasses import MISSING, is_dataclass
from datetime import date, datetime
from functools import cache
from math import isfinite
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from batterboard import quantity
from batterboard.job import shorthand
from batterboard.job.errors import nearest, shown
from batterboard.job.fits import fit, tabulated
from batterboard.job.reading import FAILED, UNREADABLE, Key, Path, Reading, dotted, keys
from batterboard.job.rules import together
from batterboard.job.schema import Assumption, BarRun, BoltSet, NameOf, Tabulated, Written
from batterboard.quantity import Dimension, QuantityError

Reader = Callable[[Any, Path, Reading], Any]


@cache
def reader(kind: Any) -> Reader:
    """The reader for an annotation."""
    origin, parts = get_origin(kind), get_args(kind)
    if origin is Annotated:
        return _annotated(kind)
    if origin is Literal:
        return _choice(parts)
    if origin in (Union, UnionType):
        return _either([reader_kind for reader_kind in parts if reader_kind is not NoneType])
    if origin is tuple:
        return _list(parts[0]) if parts[-1] is Ellipsis else _group(parts)
    if origin is dict:
        return _numbered(parts[1]) if parts[0] is int else _named(parts[1])
    if kind in _PLAIN:
        return _PLAIN[kind]
    if is_dataclass(kind):
        return _record(kind)  # type: ignore[arg-type]
    raise TypeError(f"the schema uses {kind}, which has no reader")


# ---- single values ----


def _annotated(kind: Any) -> Reader:
    for mark in kind.__metadata__:
        if isinstance(mark, NameOf):
            return _name(mark)
        if isinstance(mark, Tabulated):
            return _tabulated(mark)
        if isinstance(mark, Written):
            return _written(getattr(shorthand, mark.form))
        if isinstance(mark, Dimension):
            sign = next((m for m in kind.__metadata__ if isinstance(m, str)), "zero or more")
            return _quantity(mark, sign)
    raise TypeError(f"the schema uses {kind}, which has no reader")


def _quantity(dimension: Dimension, sign: str) -> Reader:
    bare = dimension == quantity.dimension_of(quantity.Number)

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if isinstance(raw, str):
            if raw == UNREADABLE:
                return FAILED
            text = raw
        elif isinstance(raw, bool) or not isinstance(raw, (int, float)):
            return reading.wrong(
                path,
                f"{shown(raw)} stands where a {dimension.name} belongs",
                f'write a {dimension.name} in quotes, like "{_sample(dimension)}"',
            )
        elif isinstance(raw, int) and raw.bit_length() > 128 or not isfinite(raw):
            return reading.wrong(path, f"{shown(raw)} is no {dimension.name}")
        elif bare:
            return _signed(float(raw), sign, dimension, path, reading)
        else:
            text = str(raw)
        try:
            value = quantity.read(text, dimension)
        except QuantityError as wrong:
            return reading.wrong(path, wrong.problem, wrong.remedy)
        return _signed(value, sign, dimension, path, reading)

    return read


def _signed(value: float, sign: str, dimension: Dimension, path: Path, reading: Reading) -> Any:
    if sign == "positive" and not value > 0:
        return reading.wrong(
            path,
            f"this {dimension.name} must be more than zero",
            "directions are words: left, right, ahead, back, up, down",
        )
    if sign == "zero or more" and value < 0:
        return reading.wrong(
            path, f"this {dimension.name} is never negative", "directions are words: left, right, ahead, back, up, down"
        )
    return value


def _sample(dimension: Dimension) -> str:
    return {"length": "40 in", "force": "210 lb", "pressure": "4000 psi", "time": "35 min", "angle": "90 deg"}.get(
        dimension.name, "1.5 UNIT"
    )


def _choice(options: tuple[Any, ...]) -> Reader:
    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if isinstance(raw, str) and raw in options:
            return raw
        if raw == UNREADABLE:
            return FAILED
        words = [option for option in options if option]
        near = nearest(raw, words)
        if len(words) == 1:
            return reading.wrong(path, f"{shown(raw)} is not known here", f'only "{words[0]}" can be written')
        return reading.wrong(
            path,
            f"{shown(raw)} is not one of {', '.join(words)}",
            near if near.startswith("did") else "write one of them",
        )

    return read


def _name(mark: NameOf) -> Reader:
    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if raw == UNREADABLE:
            return FAILED
        if not isinstance(raw, str):
            return reading.wrong(
                path, f"{shown(raw)} stands where a name belongs", f"the name of one of {', '.join(mark.tables)}"
            )
        reading.references.append((path, raw, mark))
        return raw

    return read


def _tabulated(mark: Tabulated) -> Reader:
    def read(raw: Any, path: Path, reading: Reading) -> Any:
        text = _text(raw, path, reading)
        for problem, remedy in tabulated(text, mark) if text is not FAILED else ():
            reading.wrong(path, problem, remedy)
        return text

    return read


def _written(parse: Callable[[str], Any]) -> Reader:
    """A text that stays as it is written, once it is known to be in its form."""

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        text = _text(raw, path, reading)
        if text is not FAILED:
            try:
                parse(text)
            except shorthand.ShortFormError as wrong:
                return reading.wrong(path, wrong.problem, wrong.remedy)
        return text

    return read


def _text(raw: Any, path: Path, reading: Reading) -> Any:
    if isinstance(raw, str):
        return FAILED if raw == UNREADABLE else raw
    return reading.wrong(path, f"{shown(raw)} stands where words belong", "write it in quotes")


def _truth(raw: Any, path: Path, reading: Reading) -> Any:
    if isinstance(raw, bool):
        return raw
    return (
        FAILED
        if raw == UNREADABLE
        else reading.wrong(path, f"{shown(raw)} is neither true nor false", "write true or false, without quotes")
    )


def _whole(raw: Any, path: Path, reading: Reading) -> Any:
    if isinstance(raw, int) and not isinstance(raw, bool) and 0 < raw <= 1000:
        return raw
    return (
        FAILED
        if raw == UNREADABLE
        else reading.wrong(path, f"{shown(raw)} is no count", "write a whole number from 1 to 1000, without quotes")
    )


def _moment(raw: Any, path: Path, reading: Reading) -> Any:
    if isinstance(raw, datetime):
        return raw
    if isinstance(raw, date):
        return reading.wrong(path, "the hour is missing", f"write {raw.isoformat()}T09:00:00, without quotes")
    return (
        FAILED
        if raw == UNREADABLE
        else reading.wrong(
            path, f"{shown(raw)} is no date and hour", "write it like 2027-04-12T09:00:00, without quotes"
        )
    )


def _short_form(parse: Callable[[str], Any], form: str) -> Reader:
    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if raw == UNREADABLE:
            return FAILED
        if not isinstance(raw, str):
            return reading.wrong(path, f"{shown(raw)} stands where a short form belongs", form)
        try:
            made = parse(raw)
        except shorthand.ShortFormError as wrong:
            return reading.wrong(path, wrong.problem, wrong.remedy)
        for _, problem, remedy in fit(made):
            reading.wrong(path, problem, remedy)
        return made

    return read


_PLAIN: dict[Any, Reader] = {
    str: _text,
    bool: _truth,
    int: _whole,
    datetime: _moment,
    BarRun: _short_form(shorthand.bar_run, shorthand.BAR_FORM),
    BoltSet: _short_form(shorthand.bolt_set, shorthand.BOLT_FORM),
}


# ---- lists and tables ----


def _either(kinds: list[Any]) -> Reader:
    """One of several kinds: the form of what is written chooses among a table, a list and a single value."""
    if len(kinds) == 1:
        return reader(kinds[0])
    forms = {dict: None, list: None, object: None} | {_form(kind): reader(kind) for kind in kinds}
    fallback = forms[object] or forms[list] or forms[dict]
    assert fallback is not None

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        form = dict if isinstance(raw, dict) else list if isinstance(raw, (list, tuple)) else object
        return (forms[form] or fallback)(raw, path, reading)

    return read


def _form(kind: Any) -> Any:
    if get_origin(kind) is tuple:
        return list
    return dict if is_dataclass(kind) and kind not in _PLAIN else object


def _all_read(values: Iterable[Any]) -> Any:
    read = tuple(values)
    return FAILED if any(value is FAILED for value in read) else read


def _list(kind: Any) -> Reader:
    member = reader(kind)

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if not isinstance(raw, (list, tuple)):
            return (
                FAILED
                if raw == UNREADABLE
                else reading.wrong(
                    path, f"{shown(raw)} stands where a list belongs", "write it in square brackets: [ ... ]"
                )
            )
        return _all_read(member(value, (*path, number), reading) for number, value in enumerate(raw))

    return read


def _group(kinds: tuple[Any, ...]) -> Reader:
    members = [reader(kind) for kind in kinds]

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if not isinstance(raw, (list, tuple)):
            return (
                FAILED
                if raw == UNREADABLE
                else reading.wrong(
                    path,
                    f"{shown(raw)} stands where {len(members)} values belong",
                    "write them in square brackets: [ ... ]",
                )
            )
        if len(raw) != len(members):
            return reading.wrong(
                path,
                f"{len(raw)} values stand where {len(members)} belong",
                f"write {len(members)} values in square brackets",
            )
        return _all_read(
            read_one(value, (*path, number), reading)
            for number, (read_one, value) in enumerate(zip(members, raw, strict=True))
        )

    return read


def _named(kind: Any) -> Reader:
    """A table of named things. What could not be read is left out, so that the rest can still be judged."""
    member = reader(kind)

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if not isinstance(raw, dict):
            return (
                FAILED
                if raw == UNREADABLE
                else reading.wrong(
                    path,
                    f"{shown(raw)} stands where named tables belong",
                    f"write [{path[-1]}.NAME] and its keys below",
                    "key",
                )
            )
        things = {name: member(value, (*path, name), reading) for name, value in raw.items()}
        return {name: thing for name, thing in things.items() if thing is not FAILED}

    return read


def _numbered(kind: Any) -> Reader:
    member = reader(kind)

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if not isinstance(raw, dict):
            return (
                FAILED
                if raw == UNREADABLE
                else reading.wrong(
                    path,
                    f"{shown(raw)} stands where a table keyed by number belongs",
                    "write it by number: 1 = { ... }",
                )
            )
        things = {}
        for name, value in raw.items():
            if name.isascii() and name.isdigit() and 0 < len(name) < 5 and not name.startswith("0"):
                things[int(name)] = member(value, (*path, name), reading)
            else:
                reading.wrong(
                    (*path, name), f"{shown(name)} is no number", "found lists are keyed by number, from 1", "key"
                )
                things[0] = FAILED
        return FAILED if any(thing is FAILED for thing in things.values()) else things

    return read


def _record(kind: type) -> Reader:
    table = keys(kind)
    readers = {name: reader(key.kind) for name, key in table.items()}

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if isinstance(raw, kind):  # made by the expansion
            return raw
        if not isinstance(raw, dict):
            if raw == UNREADABLE:
                return FAILED
            return reading.wrong(
                path,
                f"{shown(raw)} stands where a table belongs",
                f"write {{ {', '.join(f'{name} = ...' for name in _first(table))} }}",
            )
        before = len(reading.findings)
        for name in raw:
            if name not in table:
                reading.wrong(
                    (*path, name),
                    f"unknown key {shown(name)}",
                    nearest(name, (k for k, key in table.items() if reading.found or not key.found), 12),
                    "key",
                )
            elif table[name].found and not reading.found:
                reading.wrong(
                    (*path, name), "this can only be found", f"put it under [{dotted(('found', *path))}]", "key"
                )
        if UNREADABLE not in raw.values():
            for name, problem, remedy in together(kind, raw.keys() & table.keys()):
                reading.wrong((*path, name) if name else path, problem, remedy, "key")
        values = {}
        for name, key in table.items():
            if name in raw:
                value = readers[name](raw[name], (*path, name), reading)
            else:
                value = absent(key, readers[name], (*path, name), reading)
            values[key.attribute] = value
        if len(reading.findings) > before or any(value is FAILED for value in values.values()):
            return FAILED
        made = kind(**values)
        for below, problem, remedy in fit(made):
            reading.wrong((*path, *below), problem, remedy)
        return made

    return read


def absent(key: Key, read: Reader, path: Path, reading: Reading) -> Any:
    """What a key means that nobody wrote: its default, noted where the book has to say so."""
    if key.must:
        return reading.wrong(path[:-1], f"{key.name} is missing", key.say, "key")
    if key.default is not MISSING:
        if key.assume:
            reading.assumed.append(Assumption(dotted(path), key.say, key.default, _dimension(key.kind)))
        return key.default
    return read({}, path, reading)


def _first(table: dict[str, Key]) -> list[str]:
    """The keys to show in a hint: those that must be written, else the first few."""
    return [name for name, key in table.items() if key.must][:4] or [
        name for name, key in table.items() if not key.found
    ][:3]


def _dimension(kind: Any) -> Dimension | None:
    """The dimension of an annotation, None for words."""
    for part in (kind, *get_args(kind)):
        for mark in getattr(part, "__metadata__", ()):
            if isinstance(mark, Dimension):
                return mark
    return None
