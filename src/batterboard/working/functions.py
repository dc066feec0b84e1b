"""The functions a formula may use: NumPy on arrays, `math` on plain floats (far faster there), nan without a value."""

import math
from typing import Any

import numpy as np

pi = math.pi
nan = math.nan
_PLAIN = frozenset((float, int))
_TRUTHS = frozenset((bool, np.bool_))


def _one(name: str, plain: Any, array: Any, defined: Any = None) -> Any:
    def function(x: Any) -> Any:
        if type(x) in _PLAIN:
            return plain(x) if defined is None or defined(x) else nan
        return array(x)

    function.__name__ = name
    return function


def _not_negative(x: float) -> bool:
    return x >= 0


def _positive(x: float) -> bool:
    return x > 0


def _unit_range(x: float) -> bool:
    return -1 <= x <= 1


def _float_floor(x: float) -> float:
    return float(math.floor(x)) if math.isfinite(x) else x


def _float_ceil(x: float) -> float:
    return float(math.ceil(x)) if math.isfinite(x) else x


sqrt = _one("sqrt", math.sqrt, np.sqrt, _not_negative)
exp = _one("exp", math.exp, np.exp)
log = _one("log", math.log, np.log, _positive)
log10 = _one("log10", math.log10, np.log10, _positive)
sin = _one("sin", math.sin, np.sin, math.isfinite)
cos = _one("cos", math.cos, np.cos, math.isfinite)
tan = _one("tan", math.tan, np.tan, math.isfinite)
arcsin = _one("arcsin", math.asin, np.arcsin, _unit_range)
arccos = _one("arccos", math.acos, np.arccos, _unit_range)
arctan = _one("arctan", math.atan, np.arctan)
floor = _one("floor", _float_floor, np.floor)
ceil = _one("ceil", _float_ceil, np.ceil)
absolute = _one("absolute", abs, np.absolute)


def power(x: Any, n: Any) -> Any:
    """x to the power n, nan for a fractional power of a negative number."""
    if type(x) in _PLAIN and type(n) in _PLAIN:
        if x < 0 and n != int(n):
            return nan
        return math.pow(x, n) if x != 0 or n >= 0 else math.inf
    return np.power(np.asarray(x, float), n)


def hypot(x: Any, y: Any) -> Any:
    return math.hypot(x, y) if type(x) in _PLAIN and type(y) in _PLAIN else np.hypot(x, y)


def arctan2(y: Any, x: Any) -> Any:
    return math.atan2(y, x) if type(x) in _PLAIN and type(y) in _PLAIN else np.arctan2(y, x)


def maximum(x: Any, y: Any) -> Any:
    """The larger of two; nan where either is nan."""
    if type(x) in _PLAIN and type(y) in _PLAIN:
        return nan if x != x or y != y else max(x, y)
    return np.maximum(x, y)


def minimum(x: Any, y: Any) -> Any:
    """The smaller of two; nan where either is nan."""
    if type(x) in _PLAIN and type(y) in _PLAIN:
        return nan if x != x or y != y else min(x, y)
    return np.minimum(x, y)


def where(condition: Any, yes: Any, no: Any) -> Any:
    """`yes` where the condition holds, else `no`. Inside a formula a condition on nan gives nan."""
    if type(condition) in _TRUTHS:
        return yes if condition else no
    return np.where(condition, yes, no)


FUNCTIONS = (
    sqrt, exp, log, log10, sin, cos, tan, arcsin, arccos, arctan, floor, ceil, absolute, power, hypot, arctan2, maximum,
    minimum, where,
)  # fmt: skip
