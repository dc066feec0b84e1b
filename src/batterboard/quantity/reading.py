"""What does a builder's `5'-6 1/2"` come to?

    read("5 ft 6 1/2 in", Length)    1.6891    exact until the one division at the end

Every field names its kind, so `4000 psi` is refused where a length stands. Signs are read; whether one is allowed is
the caller's business. Whatever the text, the only error is a QuantityError that says what would be right.
"""

import re
from math import isfinite
from typing import Any

from batterboard.quantity.dimensions import PRINTED, TRADE, Celsius, Dimension, Length, Number, dimension_of
from batterboard.quantity.units import (
    ALIASES,
    BASE,
    UNITS,
    Ratio,
    decimal,
    expression,
    scale,
    spoken,
    unit_name,
    zero,
)

__all__ = ["QuantityError", "in_si", "read"]


class QuantityError(ValueError):
    """What is wrong with a text and what would be right, a short sentence each."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(f"{problem}: {remedy}")
        self.problem, self.remedy = problem, remedy

    def __reduce__(self) -> Any:
        return QuantityError, (self.problem, self.remedy)


_TYPOGRAPHIC = str.maketrans(
    dict.fromkeys("′’‘´ʹ`", "'")
    | dict.fromkeys("″”“„ʺ〃", '"')
    | dict.fromkeys("–—−‐‑‒", "-")
    | dict.fromkeys("⁄∕", "/")
    | dict.fromkeys("·⋅×", "*")
    | dict.fromkeys("\u00a0\u2002\u2003\u2007\u2009\u200a\u202f", " ")
    | {"²": "^2", "³": "^3", "⁴": "^4", "º": "°", "˚": "°", "℃": "°C", "℉": "°F"}
    | {"½": " 1/2", "⅓": " 1/3", "⅔": " 2/3", "¼": " 1/4", "¾": " 3/4", "⅕": " 1/5", "⅖": " 2/5", "⅗": " 3/5"}
    | {"⅘": " 4/5", "⅙": " 1/6", "⅚": " 5/6", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "⅐": " 1/7"}
)
_NUMBER = re.compile(r"(?:([0-9]+)(?:-|\s+))?([0-9]+)/([0-9]+)|([0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE]([+-]?[0-9]+))?")
_PART_UNIT = re.compile(r"\s*(?:(['\"°])\s*-?|([A-Za-z]+)\.?-?)\s*")
_CHAINS = [chain.split() for chain in ("yd ft in", "m cm mm", "week d h min s", "deg arcmin arcsec", "lb oz")]
_NUMBERS, _TEMPERATURE = dimension_of(Number), dimension_of(Celsius)
_LONGEST, _MOST_DIGITS, _LARGEST_EXPONENT = 100, 25, 300


def read(text: str, kind: Any) -> float:
    """SI value of what a builder writes where this kind of quantity stands. Raises QuantityError and nothing else."""
    wanted = dimension_of(kind)
    if not isinstance(text, str):
        return _bare(text, wanted)
    body = text.translate(_TYPOGRAPHIC).replace("''", '"').strip()
    if len(body) > _LONGEST:
        raise QuantityError(f"{_quoted(text)} is too long for {_a(wanted)}", _units_of(wanted))
    sign, body = (-1, body[1:].lstrip()) if body.startswith("-") else (1, body.removeprefix("+").lstrip())
    value = _one(body, wanted, sign) or _sum(body, wanted, sign)
    if value is None:
        raise _explained(text, body, wanted)
    try:
        return value[0] / value[1]
    except OverflowError:
        raise QuantityError(f"{_quoted(text)} is too large", "check the number") from None


def in_si(number: float, unit: str) -> float:
    """A number with its unit where nothing says what it measures: a pound is a weight, a kilogram a mass."""
    text = f"{number!r} {unit}"
    known = expression(unit)
    weighs = re.search("lb|oz|pcf", known[0]) and "yd3" not in known[0] if known else False
    for wanted in TRADE:
        if scale(unit, wanted) and known and (weighs or known[2] == wanted.powers):
            return read(text, wanted)
    raise _explained(text, text, dimension_of(Length))


def _bare(value: Any, wanted: Dimension) -> float:
    """A number without quotes is only a number."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        if wanted != _NUMBERS:
            raise QuantityError(f"{_a(wanted)} needs its unit, in quotes", f'write "{value} {_units(wanted)[0]}"')
        try:
            if isfinite(value):
                return float(value)
        except OverflowError:
            pass
    raise QuantityError(f"{_quoted(str(value))} is not {_a(wanted)}", _units_of(wanted))


def _one(body: str, wanted: Dimension, sign: int) -> Ratio | None:
    """A number and its unit."""
    number = _NUMBER.match(body)
    if number is None:
        return None
    n, d = _ratio(number)
    unit = body[number.end() :].strip()
    if not unit:
        return (sign * n, d) if wanted == _NUMBERS else None
    size = scale(unit, wanted)
    if size is None:
        return None
    n, d = sign * n * size[0], d * size[1]
    if wanted == _TEMPERATURE:
        over, under = zero(unit)
        n, d = n * under + over * d, d * under
    return n, d


def _sum(body: str, wanted: Dimension, sign: int) -> Ratio | None:
    """Parts in falling units of one kind: 5 ft 6 1/2 in, 2 h 30 min, 15 deg 30 min."""
    n, d, at, whole = 0, 1, 0, True
    names: list[str] = []
    while at < len(body):
        number = _NUMBER.match(body, at)
        unit = _PART_UNIT.match(body, number.end()) if number else None
        if number is None or unit is None:
            return None
        word = spoken(unit[1] or unit[2], wanted)
        word = "arcmin" if word == "min" and names == ["deg"] else word
        size, known = scale(word, wanted), expression(word)
        if size is None or known is None or not whole:
            return None
        part = _ratio(number)
        whole = part[1] == 1  # 5 1/2 ft 6 in: only the last part may have a fraction
        n, d = n * part[1] * size[1] + part[0] * size[0] * d, d * part[1] * size[1]
        names.append(known[0])
        at = unit.end()
    for chain in _CHAINS:
        places = [chain.index(name) for name in names if name in chain]
        if len(places) == len(names) > 1 and places == sorted(set(places)) and not body.endswith("-"):
            return sign * n, d
    return None


def _ratio(number: re.Match[str]) -> Ratio:
    """The exact number: 6 1/2 is (13, 2), 5.54 is (554, 100)."""
    whole, over, under, point, exponent = number.groups()
    if any(part is not None and len(part) > _MOST_DIGITS for part in number.groups()):
        raise QuantityError(f"{_quoted(number[0])} has too many digits", "write what can be measured")
    if point is None:
        n, d = int(over), int(under)
        if d == 0:
            raise QuantityError(f"{_quoted(number[0])} divides by zero", "write a fraction like 1/2")
        if whole is not None and n >= d:
            raise QuantityError(
                f"{_quoted(number[0])} is no mixed number", "the fraction after a whole number is less than one"
            )
        return int(whole or 0) * d + n, d
    n, d = decimal(point)
    power = int(exponent or 0)
    if abs(power) > _LARGEST_EXPONENT:
        raise QuantityError(f"{_quoted(number[0])} is no number that can be measured", "check the exponent")
    return (n * 10**power, d) if power >= 0 else (n, d * 10**-power)


# ---- saying what is wrong ----


def _explained(text: str, body: str, wanted: Dimension) -> QuantityError:
    """Why a text cannot be read, the likeliest reason first."""
    number = _NUMBER.match(body)
    if not body:
        return QuantityError(f"nothing stands where {_a(wanted)} is needed", _units_of(wanted))
    comma = re.search(r"[0-9]+(?:,[0-9]+)+(?:\.[0-9]+)?", body)
    if comma:
        thousands = (
            comma[0].replace(",", "") if re.fullmatch(r"[1-9][0-9]{0,2}(,[0-9]{3})+(\.[0-9]+)?", comma[0]) else ""
        )
        point = comma[0].replace(",", ".") if re.fullmatch(r"[0-9]+,[0-9]+", comma[0]) else ""
        right = [body.replace(comma[0], number) for number in (thousands, point) if number]
        return QuantityError(
            f"{_quoted(text)} has a comma in its number", f"write {' or '.join(right) or 'it without commas'}"
        )
    if number is None:
        return QuantityError(f"{_quoted(text)} does not begin with a number", _units_of(wanted))
    unit = body[number.end() :].strip()
    if not unit:
        return QuantityError(f"{_a(wanted)} needs its unit", _write(text.strip(), wanted))
    for other in TRADE:
        if other != wanted and (_one(body, other, 1) or _sum(body, other, 1)):
            return QuantityError(f"{text.strip()} is {_a(other)}, {_a(wanted)} stands here", _units_of(wanted))
    spaced = re.match(r"[0-9]{1,3}(?: [0-9]{3})+(?![0-9/])", body)
    if spaced:
        return QuantityError(
            f"{_quoted(text)} has a space in its number", f"write {body.replace(spaced[0], spaced[0].replace(' ', ''))}"
        )
    if unit[-1:].isdigit() and unit[:1].isalpha() or unit[:1] in ("'", '"', "°"):
        for tail in ('"' if "'" in body else " in", " mm", " min"):
            if _sum(body + tail, wanted, 1):
                return QuantityError(f"{_quoted(text)} has a part without its unit", f"write {body + tail}")
    strange = [word for word in re.findall(r"[A-Za-z°%]+", unit) if unit_name(word) is None]
    if strange:
        return QuantityError(f'unknown unit "{strange[0][:40]}"', _nearest(strange[0], unit, wanted))
    return QuantityError(f"{_quoted(text)} is not {_a(wanted)}", _units_of(wanted))


def _nearest(word: str, unit: str, wanted: Dimension) -> str:
    from difflib import get_close_matches

    words = [*BASE, *UNITS, *ALIASES]
    if word == unit:
        words = [name for name in words if scale(name, wanted)]
    lower = {name.lower(): name for name in words}
    close = get_close_matches(word[:40].lower(), list(lower), 1, 0.7)
    return f'did you mean "{lower[close[0]]}"?' if close else _units_of(wanted)


def _quoted(text: str) -> str:
    return f'"{text}"' if len(text) <= 40 else f'"{text[:37]}..."'


def _a(dimension: Dimension) -> str:
    return f"{'an' if dimension.name[0] in 'aeiou' else 'a'} {dimension.name}"


def _units(dimension: Dimension) -> list[str]:
    """The units to suggest, the most usual first."""
    steps = [step for side in PRINTED[dimension] for step in side]
    return list(dict.fromkeys(step.partition(" ")[2] if step[:1].isdigit() else step for step in steps))


def _write(number: str, wanted: Dimension) -> str:
    first, *others = _units(wanted)
    return f'write "{number} {first}"' + (f" (or {', '.join(others)})" if others else "")


def _units_of(wanted: Dimension) -> str:
    if wanted == _NUMBERS:
        return "write a number, like 0.35 or 35 %"
    return f"write a number with its unit: {', '.join(_units(wanted))}"
