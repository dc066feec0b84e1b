"""How is a single value of the file read: a quantity, a word, a name, a day, a short form?

    reader_of(Length)    "40 in"  -> 1.016     or FAILED, once the reading has been told what is wrong

What a number may be at most stands here too: beyond it a slip of the pen is likelier than such a job.
"""

from collections.abc import Callable
from datetime import date, datetime
from math import inf, isfinite, pi
from typing import Annotated, Any, Literal, get_args, get_origin

from batterboard import quantity
from batterboard.job import shorthand
from batterboard.job.errors import nearest, shown
from batterboard.job.fits import fit, tabulated
from batterboard.job.reading import FAILED, Path, Reading
from batterboard.job.schema import BarRun, BoltSet, NameOf, Tabulated, Written
from batterboard.quantity import Dimension, QuantityError

Reader = Callable[[Any, Path, Reading], Any]

DIRECTIONS = "directions are words: left, right, ahead, back, up, down"
LONGEST = 10_000.0  # to be taped [m]
LIMITS = {  # by dimension and sign, in SI
    ("length", "positive"): (1e-4, 100.0),  # a size
    ("length", "zero or more"): (0.0, LONGEST),
    ("length", "either side"): (-1e7, 1e7),  # a coordinate of the surveyor's
    ("volume", "positive"): (0.1, 100.0),
    ("time", "zero or more"): (0.0, 10 * 365 * 86400.0),
    ("temperature", "either side"): (-60.0, 100.0),
    ("angle", "either side"): (-pi / 4, pi / 4),  # out of plumb
    ("angle", "positive"): (1e-6, 2 * pi),
}
OTHERWISE = {
    "positive": (1e-9, 1e12),
    "zero or more": (0.0, 1e12),
    "either side": (-1e12, 1e12),
    "on the earth": (-pi, pi),  # a latitude or longitude
}
YEARS = (1950, 2150)


def reader_of(kind: Any) -> Reader | None:
    """The reader for the annotation of a single value; None for lists and tables."""
    if get_origin(kind) is Literal:
        return _choice(get_args(kind))
    if get_origin(kind) is Annotated:
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
    return _PLAIN.get(kind)


# ---- quantities ----


def _quantity(dimension: Dimension, sign: str) -> Reader:
    low, high = LIMITS.get((dimension.name, sign), OTHERWISE[sign])
    bare = dimension == quantity.dimension_of(quantity.Number)
    sample = _SAMPLES.get(dimension.name, "1.5 UNIT")

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if isinstance(raw, bool) or not isinstance(raw, (str, int, float)):
            remedy = f'write a {dimension.name} in quotes, like "{sample}"'
            return reading.wrong(path, f"{shown(raw)} stands where a {dimension.name} belongs", remedy)
        if isinstance(raw, int) and raw.bit_length() > 128 or raw in (inf, -inf) or raw != raw:
            return reading.wrong(path, f"{shown(raw)} is no {dimension.name}", f'write it like "{sample}"')
        try:
            value = float(raw) if bare and not isinstance(raw, str) else quantity.read(str(raw), dimension)
        except QuantityError as wrong:
            return reading.wrong(path, wrong.problem, wrong.remedy)
        if low <= value <= high and isfinite(value):
            return value
        if value < 0 <= low:
            return reading.wrong(path, f"this {dimension.name} is never negative", DIRECTIONS)
        if value <= 0 < low:
            return reading.wrong(path, f"this {dimension.name} must be more than zero", f'write it like "{sample}"')
        size = "small" if abs(value) < low else "large"
        return reading.wrong(path, f"this {dimension.name} is too {size} for a job", "look at the number and its unit")

    return read


_SAMPLES = {
    "length": "40 in",
    "force": "210 lb",
    "pressure": "4000 psi",
    "unit weight": "110 pcf",
    "time": "35 min",
    "angle": "90 deg",
    "temperature": "65 F",
    "speed": "110 mph",
    "volume": "8 yd3",
    "number": "35 %",
}


# ---- words ----


def _text(raw: Any, path: Path, reading: Reading) -> Any:
    if isinstance(raw, str):
        return raw
    return reading.wrong(path, f"{shown(raw)} stands where words belong", "write it in quotes")


def _choice(options: tuple[str, ...]) -> Reader:
    words = [option for option in options if option]

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if isinstance(raw, str) and raw in options:
            return raw
        if len(words) == 1:
            return reading.wrong(path, f"{shown(raw)} is not known here", f'only "{words[0]}" can be written')
        near = nearest(raw, words)
        remedy = near if near.startswith("did") else "write one of them"
        return reading.wrong(path, f"{shown(raw)} is not one of {', '.join(words)}", remedy)

    return read


def _name(mark: NameOf) -> Reader:
    """A name of something in this file. Whether there is such a thing is asked when all has been read."""

    def read(raw: Any, path: Path, reading: Reading) -> Any:
        if not isinstance(raw, str):
            remedy = f"the name of one of {', '.join(mark.tables)}"
            return reading.wrong(path, f"{shown(raw)} stands where a name belongs", remedy)
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


def _short_form(parse: Callable[[str], Any], form: str) -> Reader:
    def read(raw: Any, path: Path, reading: Reading) -> Any:
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


# ---- truths, counts, days ----


def _truth(raw: Any, path: Path, reading: Reading) -> Any:
    if isinstance(raw, bool):
        return raw
    return reading.wrong(path, f"{shown(raw)} is neither true nor false", "write true or false, without quotes")


def _count(raw: Any, path: Path, reading: Reading) -> Any:
    if isinstance(raw, int) and not isinstance(raw, bool) and 1 <= raw <= 1000:
        return raw
    return reading.wrong(path, f"{shown(raw)} is no count", "write a whole number from 1 to 1000, without quotes")


def _day(raw: Any, path: Path, reading: Reading) -> Any:
    if isinstance(raw, datetime):
        if raw.tzinfo is not None:
            remedy = f"the hour that the site's clock shows: {raw.replace(tzinfo=None).isoformat()}"
            return reading.wrong(path, "days here have no time zone", remedy)
        if YEARS[0] <= raw.year <= YEARS[1]:
            return raw
        return reading.wrong(path, f"{raw.year} is too far from today", f"a year from {YEARS[0]} to {YEARS[1]}")
    if isinstance(raw, date):
        return reading.wrong(path, "the hour is missing", f"write {raw.isoformat()}T09:00:00, without quotes")
    remedy = "write it like 2027-04-12T09:00:00, without quotes"
    return reading.wrong(path, f"{shown(raw)} is no day and hour", remedy)


_PLAIN: dict[Any, Reader] = {
    str: _text,
    bool: _truth,
    int: _count,
    datetime: _day,
    BarRun: _short_form(shorthand.bar_run, shorthand.BAR_FORM),
    BoltSet: _short_form(shorthand.bolt_set, shorthand.BOLT_FORM),
}
