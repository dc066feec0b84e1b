"""How is a number printed so that he can measure it?

    show(1.6891, Length, "us")                    5'-6 1/2"     feet and inches from 12 in up, to 1/16 in
    show(1.6891, Length, "si")                    1689 mm
    show(0.0003, Length, "us", unit="0.001 in")   0.012 in      a unit of his own, with the mark to round to
    show_plain(9.7e6, Pressure, "us")             ("1407", "psi")

A table says which unit is used from which size on. Lengths, temperatures and times are printed to a mark, all else to
four figures, whole from 1000 up. A time is said to the minute up to half a day, then to the next hour, from two days on
to the next half day: what is forecast so far ahead is no surer, and nobody strips too early. Printing what was
printed and read again gives the same text.
"""

from functools import lru_cache
from math import copysign, gcd, isinf, isnan
from typing import Any, Literal

from batterboard.quantity.dimensions import PRINTED, Celsius, Dimension, Length, Time, dimension_of
from batterboard.quantity.units import decimal, expression, scale, zero

__all__ = ["System", "show", "show_exact", "show_plain"]

System = Literal["us", "si"]

_MARKS = {
    "in": "1/16",
    "ft": "0.01",
    "mm": "1",
    "cm": "0.1",
    "m": "0.001",
    "d": "0.1",
    "F": "0.1",
    "C": "0.1",
    "K": "0.1",
}
_LENGTH, _TIME, _TEMPERATURE = dimension_of(Length), dimension_of(Time), dimension_of(Celsius)
_FOOT, _MINUTE, _HOUR, _HALF_DAY, _TWO_DAYS = 12 * 16, 60.0, 60, 12, 48  # minutes in an hour, hours in the others
_LONG_FEET, _LONG_MARKS = 1e9, 1e12  # as many are no longer written out


def show(value: float, kind: Any, system: System = "us", unit: str | None = None) -> str:
    """The value with its unit, as he measures it. `unit` may carry its own mark: "in", "1/32 in", "psi", "0.1"."""
    number, name = show_plain(value, kind, system, unit)
    return f"{number} {name}".rstrip()


def show_exact(value: float, kind: Any, system: System = "us") -> str:
    """As `show`, but a length smaller than an inch to the thousandth, or the tenth of a millimetre: it is computed."""
    if dimension_of(kind) == _LENGTH and 0 < abs(value) < 0.0254:
        return show(value, kind, system, "0.001 in" if system == "us" else "0.1 mm")
    return show(value, kind, system)


def show_plain(value: float, kind: Any, system: System = "us", unit: str | None = None) -> tuple[str, str]:
    """Number and unit apart, for tables. Feet and inches carry their marks, their unit is empty."""
    wanted, value = dimension_of(kind), float(value)
    if isnan(value):
        return "not known", ""
    if isinf(value):
        return ("unlimited" if value > 0 else "-unlimited"), ""
    if unit is not None:
        mark, _, name = unit.partition(" ") if unit[:1].isdigit() else ("", "", unit)
        return _in_unit(value, wanted, name, mark), name
    if wanted == _LENGTH and system == "us":
        sixteenths = value / 0.0254 * 16
        if abs(sixteenths) < _LONG_FEET * _FOOT - 0.5:
            return _feet_inches(round(sixteenths)), ""
        return _figures(value / 0.3048), "ft"
    if wanted == _TIME:
        minutes = round(abs(value) / _MINUTE)
        hours = -(-minutes // _HOUR)
        if hours >= _TWO_DAYS:
            return _fixed(copysign(-(-hours // _HALF_DAY) / 2, value), 1), "d"
        if minutes >= _HALF_DAY * _HOUR:
            return _clock(hours * _HOUR, value < 0), ""
        if minutes >= _HOUR:
            return _clock(minutes, value < 0), ""
    return _by_size(value, wanted, system)


def _by_size(value: float, wanted: Dimension, system: System) -> tuple[str, str]:
    """In the unit the table gives for its size. The rounded number decides, so that it stays there when read again."""
    (_, name), *larger = _steps(wanted, system)
    text = _in_unit(value, wanted, name)
    for limit, unit in larger:
        if abs(float(text)) * _factor(name, wanted) < limit * _factor(unit, wanted) * (1 - 1e-12):
            break
        name, text = unit, _in_unit(value, wanted, unit)
    return text, name


@lru_cache(128)
def _steps(wanted: Dimension, system: System) -> tuple[tuple[float, str], ...]:
    steps = []
    for step in PRINTED[wanted][0 if system == "us" else 1]:
        limit, _, unit = step.partition(" ") if step[:1].isdigit() else ("0", "", step)
        steps.append((float(limit), unit))
    return tuple(steps)


@lru_cache(1024)
def _factor(unit: str, wanted: Dimension) -> float:
    size = scale(unit, wanted) if unit else (1, 1)
    if size is None:
        raise ValueError(f"{unit!r} is no unit of {wanted.name}")
    return size[0] / size[1]


def _in_unit(value: float, wanted: Dimension, unit: str, mark: str = "") -> str:
    """The number in one unit: to the mark given, else to the unit's own, else to four figures."""
    if wanted == _TEMPERATURE:
        over, under = zero(unit)
        value -= over / under
    number = value / _factor(unit, wanted)
    known = expression(unit)
    mark = mark or _MARKS.get(known[0] if known else "", "")
    over_text, _, under_text = mark.partition("/")
    if not mark:
        return _figures(number)
    if under_text:
        parts = number * int(under_text) / int(over_text)
        return _mixed(round(parts) * int(over_text), int(under_text)) if abs(parts) < _LONG_MARKS else _figures(number)
    marks = number / float(mark)
    if abs(marks) >= _LONG_MARKS - 0.5:
        return _figures(number)
    n, d = decimal(mark)
    return _fixed(round(marks) * n / d, len(mark.partition(".")[2]))


def _feet_inches(sixteenths: int) -> str:
    sign, size = ("-" if sixteenths < 0 else ""), abs(sixteenths)
    feet, rest = divmod(size, _FOOT)
    inches = _mixed(rest, 16)
    if feet:
        return f"""{sign}{feet}'-{"0 " if 0 < rest < 16 else ""}{inches}\""""
    return f'{sign}{inches}"'


def _mixed(n: int, d: int) -> str:
    """A whole number and a fraction in lowest terms: 6 1/2, 0 1/4 after feet only, -3/16."""
    whole, rest = divmod(abs(n), d)
    common = gcd(rest, d)
    fraction = f"{rest // common}/{d // common}" if rest else ""
    text = f"{whole} {fraction}" if whole and fraction else fraction or str(whole)
    return ("-" if n < 0 else "") + text


def _clock(minutes: int, negative: bool) -> str:
    hours, rest = divmod(minutes, 60)
    return ("-" if negative else "") + f"{hours} h" + (f" {rest} min" if rest else "")


def _figures(number: float) -> str:
    """Four figures, whole from 1000 up, no zeros at the end; with an exponent where it would get long."""
    leading, _, power = f"{number:.3e}".partition("e")
    exponent = int(power)
    if number == 0 or -5 < exponent < 9:
        return _fixed(number, max(0, 3 - exponent))
    return f"{_trimmed(leading)}e{exponent}"


def _fixed(number: float, decimals: int) -> str:
    return _trimmed(f"{number:.{decimals}f}")


def _trimmed(text: str) -> str:
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text
