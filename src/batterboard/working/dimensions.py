"""Which dimension has each local of a formula?

The formula is run once on dimensions instead of numbers: arguments carry those of their annotations, unit constants
their own, and adding a length to a force is an error that names the formula. Temperatures in degrees count as plain
numbers, since published formulas shift and scale them freely.
"""

from fractions import Fraction
from functools import cache
from typing import Any, get_type_hints

from batterboard import quantity
from batterboard.quantity import Dimension
from batterboard.record import ordered
from batterboard.working import functions
from batterboard.working.formula import Formula, FormulaError, compile_twin

Powers = tuple[Fraction, ...]
NONE: Powers = (Fraction(0),) * 4


@ordered
class Dimensioned:
    """A value that is only its dimension: exponents of m, kg, s, K."""

    powers: Powers = NONE

    def _times(self, other: Any, sign: int) -> "Dimensioned":
        return Dimensioned(tuple(a + sign * b for a, b in zip(self.powers, _powers(other), strict=True)))

    def __mul__(self, other: Any) -> "Dimensioned":
        return self._times(other, 1)

    def __rmul__(self, other: Any) -> "Dimensioned":
        return self._times(other, 1)

    def __truediv__(self, other: Any) -> "Dimensioned":
        return self._times(other, -1)

    def __rtruediv__(self, other: Any) -> "Dimensioned":
        return Dimensioned(tuple(-p for p in self.powers))._times(other, 1)

    def __pow__(self, n: int) -> "Dimensioned":
        return Dimensioned(tuple(p * n for p in self.powers))

    def _like(self, other: Any) -> "Dimensioned":
        if isinstance(other, (int, float)) and not isinstance(other, quantity.Unit) and other == 0:
            return self
        if _powers(other) != self.powers:
            raise FormulaError(
                f"{self} and {other if isinstance(other, Dimensioned) else Dimensioned()} cannot be added or compared"
            )
        return self

    __add__ = __radd__ = __sub__ = __rsub__ = _like

    def __neg__(self) -> "Dimensioned":
        return self

    def _compare(self, other: Any) -> "Dimensioned":
        self._like(other)
        return Dimensioned()

    __lt__ = __le__ = __gt__ = __ge__ = _compare

    def __str__(self) -> str:
        text = " ".join(f"{base}^{p}" for base, p in zip(("m", "kg", "s", "K"), self.powers, strict=True) if p)
        return text or "a number"


def _powers(value: Any) -> Powers:
    if isinstance(value, Dimensioned):
        return value.powers
    if isinstance(value, quantity.Unit):
        return _of(value.dimension).powers
    return NONE


def _of(dimension: Dimension) -> Dimensioned:
    if dimension == quantity.dimension_of(quantity.Celsius):
        return Dimensioned()
    return Dimensioned(tuple(Fraction(p) for p in dimension.powers))


@cache
def infer(formula: Formula) -> dict[str, Dimensioned]:
    """Dimensions of the arguments and locals. Raises FormulaError where the formula does not balance."""
    if formula.tree is None:
        raise FormulaError(f"{formula.name}: working not available without its source")
    hints = get_type_hints(formula.function, include_extras=True)
    given = {name: _of(quantity.dimension_of(hints[name])) for name in formula.arguments}
    around = formula.function.__globals__
    names = {name: _stand_in(around[name]) for name in formula.function.__code__.co_names if name in around}
    positional = [a.arg for a in formula.tree.definition.args.args]
    twin = compile_twin(formula.tree, names, choose=_choice)
    try:
        value, every = twin(*(given[n] for n in positional), **{n: given[n] for n in given if n not in positional})
    except FormulaError as problem:
        raise FormulaError(f"{formula.name}: {problem}") from None
    promised = _of(quantity.dimension_of(hints["return"]))
    if _powers(value) != promised.powers:
        raise FormulaError(f"{formula.name} returns {Dimensioned(_powers(value))}, its annotation says {promised}")
    return {name: Dimensioned(_powers(v)) for name, v in every.items()}


def _stand_in(value: Any) -> Any:
    if isinstance(value, quantity.Unit):
        return _of(value.dimension)
    if isinstance(value, Formula):
        return _called(value)
    try:
        return _RULES.get(value, value)
    except TypeError:
        return value


def _called(formula: Formula) -> Any:
    hints = get_type_hints(formula.function, include_extras=True)

    def call(*args: Any, **kwargs: Any) -> Dimensioned:
        given = dict(zip(formula.arguments, args, strict=False)) | kwargs
        for name, value in given.items():
            wanted = _of(quantity.dimension_of(hints[name]))
            if _powers(value) != wanted.powers and not (type(value) in (int, float) and value == 0):
                raise FormulaError(f"{formula.name}({name}) wants {wanted}, was given {Dimensioned(_powers(value))}")
        return _of(quantity.dimension_of(hints["return"]))

    return call


def _number(*values: Any) -> Dimensioned:
    for value in values:
        if _powers(value) != NONE:
            raise FormulaError(f"{value} stands where a plain number is needed")
    return Dimensioned()


def _same(x: Any, y: Any) -> Dimensioned:
    return x._like(y) if isinstance(x, Dimensioned) else (y._like(x) if isinstance(y, Dimensioned) else Dimensioned())


def _root(x: Any) -> Dimensioned:
    return Dimensioned(tuple(p / 2 for p in _powers(x)))


def _raised(x: Any, n: Any) -> Dimensioned:
    if isinstance(n, Dimensioned):
        return _number(x, n)
    return Dimensioned(tuple(p * Fraction(n).limit_denominator(1000) for p in _powers(x)))


def _ratio(y: Any, x: Any) -> Dimensioned:
    _same(y, x)
    return Dimensioned()


def _keep(x: Any) -> Any:
    return x


def _choice(condition: Any, yes: Any, no: Any, *_: Any) -> Dimensioned:
    return _same(yes, no)


_RULES: dict[Any, Any] = dict.fromkeys(functions.FUNCTIONS, _number) | {
    functions.sqrt: _root,
    functions.power: _raised,
    functions.hypot: _same,
    functions.maximum: _same,
    functions.minimum: _same,
    functions.arctan2: _ratio,
    functions.absolute: _keep,
    functions.where: _choice,
}
