"""Is a number what the book prints?

    as_printed("3605 ksi") == elastic_modulus(...)      holds for all that rounds to it
    Tolerances.of("0.001 in; 0.01 deg")                 the tolerance of a case, as its file words it
    tolerances.disagrees("p_max", "600 psf", value)     why not, or nothing

Units are read by `quantity`, so that values are compared in SI.
"""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from batterboard.quantity import (
    Angle,
    Celsius,
    Length,
    Number,
    QuantityError,
    TemperatureDifference,
    Time,
    dimension_of,
    in_si,
    read,
)

_NUMBER = re.compile(r"[+-]?(?:\d+[ -])?\d+/\d+|[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?")
_TINY = 1e-9


@dataclass(frozen=True)
class As:
    """An answer with its kind, where the printed unit would not tell: As(mass, Mass) for pounds of cement."""

    value: Any
    kind: Any


@dataclass(frozen=True)
class Printed:
    """A printed number: its value in SI and the size of its last mark (0 for fractions)."""

    text: str
    value: float
    last: float

    def __eq__(self, got: object) -> bool:
        if not isinstance(got, (int, float, np.floating, np.ndarray)):
            return NotImplemented
        return bool(np.all(np.abs(np.asarray(got) - self.value) <= self.last / 2 + _TINY * abs(self.value)))

    def __repr__(self) -> str:
        return f"{self.text} = {self.value:.9g}"


def as_printed(text: str, kind: Any = None) -> Printed:
    """What a book prints; equal to every number that rounds to it."""
    value, size = measure(text, kind)
    return Printed(text, value, last_mark(text) * size)


@lru_cache(10_000)
def measure(text: str, kind: Any = None) -> tuple[float, float]:
    """(value in SI, size of its unit) of a printed text, words after it left out. Raises QuantityError."""
    text = text.strip()
    ratio = re.fullmatch(r"([\d./ -]+):([\d./]+)", text)
    if ratio:  # 3/4:1, 1:635
        return read(ratio[1], Number) / read(ratio[2], Number), 1.0
    number = _NUMBER.match(text)
    words = text.split()
    for end in range(len(words), 0, -1):
        shorter = " ".join(words[:end]).rstrip(",;:")
        try:
            value = _whole(shorter, kind)
        except QuantityError:
            continue
        if number is None or end == 1:
            return value, 1.0
        unit = shorter[number.end() :].strip()
        try:
            return value, abs(_whole(f"1 {unit}", kind) - _whole(f"0 {unit}", kind)) if unit else 1.0
        except QuantityError:
            return value, 0.0  # 5'-6 1/2"
    raise QuantityError(f"{text!r} is no number", "compare it as words")


def _whole(text: str, kind: Any) -> float:
    if kind is not None:
        return read(text, kind)
    number = _NUMBER.match(text)
    if number is None:
        raise QuantityError(f"{text!r} does not begin with a number", "compare it as words")
    unit = text[number.end() :].strip()
    if not unit:
        return read(text, Number)
    if unit in ("min", "F", "C"):
        return read(text, Time if unit == "min" else Celsius)
    try:
        return in_si(1.0, unit) * read(number[0], Number)
    except QuantityError:
        for chain in (Length, Time, Angle):
            try:
                return read(text, chain)
            except QuantityError:
                pass
        raise


def last_mark(text: str) -> float:
    """One in the last printed digit: 0.01 for 3.50, 1 for 3605, 0 for fractions."""
    number = _NUMBER.match(text.strip())
    if number is None or "/" in number[0]:
        return 0.0
    mantissa, _, exponent = number[0].lower().partition("e")
    return float(10.0 ** (int(exponent or 0) - len(mantissa.partition(".")[2])))


# ---- tolerances ----


@dataclass(frozen=True)
class Rule:
    """One clause of a tolerance: a share of the value, or an amount, or the printed digits; for keys with a word."""

    share: float = 0.0
    amount: str = ""
    printed: bool = False
    word: str = ""

    def allows(self, expected: str, kind: Any) -> float:
        value, unit = measure(expected, kind)
        decimal = "." in expected.split()[0]  # a decimal is rounded, a whole number or a fraction is meant exactly
        rounded = last_mark(expected) * unit / 2 if decimal or self.printed or value == 0 else 0.0
        amount = abs(_amount(self.amount, expected)) if self.amount else 0.0
        return max(self.share * abs(value), rounded, amount, _TINY * max(abs(value), unit * _TINY))


def _amount(amount: str, expected: str) -> float:
    """An absolute tolerance where it measures the same as what is expected, else nothing."""
    unit, wanted = _unit(amount), _unit(expected)
    if unit in ("F", "C"):
        return read(amount, TemperatureDifference) if wanted in ("F", "C") else 0.0
    if not unit:
        return read(amount, Number)
    if unit == wanted or _kind(unit) == _kind(wanted) is not None:
        return measure(amount)[0]
    return 0.0


def _unit(text: str) -> str:
    number = _NUMBER.match(text.strip())
    return text.strip()[number.end() :].strip() if number else ""


@lru_cache(1000)
def _kind(unit: str) -> Any:
    from batterboard.quantity.units import expression

    known = expression(unit)
    angle = unit in ("deg", "rad", "arcmin", "arcsec")
    return (known[2], angle) if known else None


@dataclass(frozen=True)
class Tolerances:
    rules: tuple[Rule, ...]

    @classmethod
    def of(cls, text: str) -> "Tolerances":
        """Of `0.5 %`, `exact`, `0.001 in; 0.01 deg`, `1e-6 of the value`; else half the last printed digit."""
        rules = [rule for part in text.split(";") if (rule := _rule(part.strip())) is not None]
        return cls(tuple(rules) or (Rule(printed=True),))

    def allowed(self, key: str, expected: str, kind: Any) -> float:
        named = [rule for rule in self.rules if rule.word and rule.word in key.lower()]
        open_ones = [rule for rule in self.rules if not rule.word] or list(self.rules)
        return max(rule.allows(expected, kind) for rule in named or open_ones)

    def disagrees(self, key: str, expected: Any, got: Any) -> str:
        """What differs between a printed value (text, list or table) and ours; empty where they agree."""
        kind, got = (got.kind, got.value) if isinstance(got, As) else (None, got)
        if isinstance(expected, dict):
            if not isinstance(got, dict):
                return f"expected a table, got {got!r}"
            lines = [f"{name}: {self.disagrees(key, expected[name], got[name])}" for name in expected if name in got]
            return "; ".join(line for line in lines if not line.endswith(": "))
        if isinstance(expected, list):
            return self._list(key, expected, got, kind)
        if isinstance(got, (list, tuple)) or np.ndim(got) > 0:  # one printed value for all
            every = [self.disagrees(key, expected, _with(one, kind)) for one in got]
            return next((line for line in every if line), "")
        return self._one(key, str(expected), got, kind)

    def _list(self, key: str, expected: list[Any], got: Any, kind: Any) -> str:
        if not (isinstance(got, (list, tuple)) or np.ndim(got) > 0):
            got = [got] * len(expected)
        if len(got) != len(expected):
            return f"expected {len(expected)} values, got {len(got)}"
        every = [self.disagrees(key, a, _with(b, kind)) for a, b in zip(expected, got, strict=True)]
        return "; ".join(f"{place}: {line}" for place, line in enumerate(every, 1) if line)

    def _one(self, key: str, expected: str, got: Any, kind: Any) -> str:
        if isinstance(got, (bool, np.bool_)):
            got = "yes" if got else "no"
        if isinstance(got, str):
            return self._words(key, expected, got)
        value = float(got)
        if expected.split()[0].rstrip(":,;") in ("none", "outside", "-") or expected.startswith("does not stand"):
            return "" if value != value else f"expected {expected!r}, got {value:.6g}"
        within = _range(expected)
        if within:
            return "" if within[0] <= value <= within[1] else f"expected {expected}, got {value:.6g} in SI"
        if kind is not None:
            kind = dimension_of(kind)
        try:
            right, unit = measure(expected, kind)
        except QuantityError:
            return f"expected {expected!r}, got {value:.6g}"
        if abs(value - right) <= self.allowed(key, expected, kind):
            return ""
        shown = value if unit == 0 else _last_unit(expected, value, right, unit)
        return f"expected {expected}, got {shown:.6g}" + ("" if unit else " in SI")

    def _words(self, key: str, expected: str, got: str) -> str:
        if _plain(expected) == _plain(got) or _plain(expected).startswith(_plain(got) + " "):
            return ""
        if _unit(expected) and _unit(expected) == _unit(got):  # a unit that is ours to print, not to read
            right, value = read(_number(expected), Number), read(_number(got), Number)
            return (
                ""
                if abs(right - value) <= self.allowed(key, _number(expected), None)
                else f"expected {expected}, got {got}"
            )
        try:
            right, value = measure(expected)[0], measure(got)[0]
        except QuantityError:
            return f"expected {expected!r}, got {got!r}"
        return "" if abs(right - value) <= self.allowed(key, expected, None) else f"expected {expected}, got {got}"


def _number(text: str) -> str:
    number = _NUMBER.match(text.strip())
    return number[0] if number else ""


def _last_unit(expected: str, value: float, right: float, unit: float) -> float:
    """Our value in the printed unit; a temperature keeps its zero."""
    printed = read(_number(expected).lstrip("+") or "0", Number)
    return printed + (value - right) / unit


def _with(value: Any, kind: Any) -> Any:
    return As(value, kind) if kind is not None else value


def _plain(text: str) -> str:
    return " ".join(re.sub(r"[^a-z0-9.<>=+/:%-]+", " ", text.lower()).split())


def _range(text: str) -> tuple[float, float] | None:
    """`0.22 to 0.25 lb/ft2/h`, `80-150 mm`."""
    parts = re.fullmatch(r"([+-]?[\d.]+)\s*(?:to|-)\s*([+-]?[\d.]+)\s*(.*)", text)
    if parts is None or parts[3].startswith("/"):
        return None
    try:
        ends = sorted(measure(f"{end} {parts[3]}".strip())[0] for end in (parts[1], parts[2]))
    except QuantityError:
        return None
    return ends[0], ends[1]


def _rule(text: str) -> Rule | None:
    words = re.search(r"\b(?:on|against|for) (?:the |a )?(\w+)", text)
    word = words[1] if words and words[1] not in ("value", "values") else ""
    word = word.removesuffix("s") if word == "formulas" else word
    if text.startswith("exact"):
        return Rule(word=word)
    share = re.match(r"([\d.]+) ?%|([\d.e-]+) of the value", text)
    if share:
        return Rule(share=float(share[1]) / 100 if share[1] else float(share[2]), word=word)
    if "half the last" in text:
        return Rule(printed=True)
    number = _NUMBER.match(text)
    if number is None:
        return None
    return Rule(amount=text, word=word)
