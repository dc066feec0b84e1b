"""How does the working read on paper?

    line : Line("e", "M / P", "12.00 / 60.00", "0.200 m", "200 mm")    name = symbols = numbers = result = as he reads

Numbers go in with ONE coherent set of units, so that a reader can check them by hand; the result is repeated in his.
Setters turn an expression into text here and into maths in the book: both walk the same tree.
"""

import ast
from collections.abc import Callable
from fractions import Fraction
from typing import Any, Literal

import numpy as np

from batterboard import quantity
from batterboard.record import ordered
from batterboard.working.dimensions import NONE, Dimensioned, infer
from batterboard.working.formula import Formula, FormulaError, Step

System = Literal["us", "si"]
Scale = Literal["fine", "coarse"]

# Coherent units of length, force and time; time stays the second. (name, SI value)
_COHERENT: dict[tuple[System, Scale], tuple[tuple[str, float], tuple[str, float]]] = {
    ("us", "fine"): (("in", 0.0254), ("lb", 4.4482216152605)),
    ("us", "coarse"): (("ft", 0.3048), ("lb", 4.4482216152605)),
    ("si", "fine"): (("mm", 0.001), ("N", 1.0)),
    ("si", "coarse"): (("m", 1.0), ("kN", 1000.0)),
}
_NAMED = {("lb", "in", -2): "psi", ("lb", "ft", -2): "psf", ("N", "mm", -2): "MPa", ("kN", "m", -2): "kPa"}


@ordered
class Line:
    """One line of working. `numbers` and `repeated` are empty where they would say the same again."""

    name: str
    symbols: str
    numbers: str
    result: str
    repeated: str


@ordered
class Block:
    """One formula's working: its number on the page, name, source, remark, lines and the limits it breaks."""

    number: int
    name: str
    says: str  # what it gives, in words
    source: str
    remark: str
    lines: tuple[Line, ...]
    outside: tuple[str, ...]


def blocks(
    steps: list[Step], case: tuple[int, ...], system: System, scale: Scale, setter: type["Setter"] | None = None
) -> tuple[Block, ...]:
    """The working of a check at its governing case, formulas that others call first, numbered."""
    setter = setter or Setter
    made = []
    for number, step in enumerate(steps, 1):
        outside = tuple(text for text, where in step.outside.items() if bool(pick(where, case)))
        lines = _lines(step, case, system, scale, setter, steps[: number - 1])
        made.append(
            Block(
                number,
                step.formula.name,
                step.formula.says,
                str(step.formula.source),
                step.formula.source.remark,
                lines,
                outside,
            )
        )
    return tuple(made)


def pick(value: Any, case: tuple[int, ...]) -> Any:
    """The value at the governing case; what has no case axis is the same in every case."""
    array = np.asarray(value)
    if array.ndim == 0:
        return array.item()
    index = case[len(case) - array.ndim :] if array.ndim <= len(case) else (0,) * (array.ndim - len(case)) + case
    return array[tuple(min(i, n - 1) for i, n in zip(index, array.shape, strict=True))].item()


def _lines(
    step: Step, case: tuple[int, ...], system: System, scale: Scale, setter: type["Setter"], earlier: list[Step]
) -> tuple[Line, ...]:
    formula = step.formula
    tree = formula.tree
    if tree is None:
        return (Line(formula.name, "working not available", "", number(pick(step.value, case)), ""),)
    values = {name: pick(value, case) for name, value in step.values.items()}
    dimensions = infer(formula)
    shown = {name: number(coherent(value, dimensions[name], system, scale)[0]) for name, value in values.items()}
    units = {name for name, thing in formula.function.__globals__.items() if isinstance(thing, quantity.Unit)}
    numbers: dict[str, int] = {}
    symbolic = setter({}, units, numbers)
    numeric = setter(shown, units, numbers, lambda part: number(_worth(formula, part, values)))
    made = []
    needed = _needed(formula, values)
    for name, expression in tree.lines:
        if name not in needed and not np.isfinite(values[name]):
            continue
        if _calls(formula, expression):
            numbers.update(_shown_above(expression, step.values[name], earlier))
        value, unit = coherent(values[name], dimensions[name], system, scale)
        result = f"{number(value)} {unit}".strip()
        if _is_choice(expression):
            assert isinstance(expression, ast.Call)
            symbols, figures = setter.choice(symbolic, numeric, expression, _holds(formula, expression.args[0], values))
        else:
            symbols, figures = symbolic.visit(expression), numeric.visit(expression)
        if (
            isinstance(expression, (ast.Name, ast.Constant))
            or _calls(formula, expression)
            or _converts(expression, units)
        ):
            figures = ""
        made.append(
            Line(
                symbolic.name(name),
                symbols,
                figures,
                result,
                _repeated(values[name], dimensions[name], result, system, scale),
            )
        )
    return tuple(made)


def _needed(formula: Formula, values: dict[str, Any]) -> set[str]:
    """The names that the result rests on here: of a choice, what was chosen and why."""
    assert formula.tree is not None
    needed = {formula.tree.result}
    for name, expression in reversed(formula.tree.lines):
        if name in needed:
            parts: list[ast.expr] = [expression]
            if _is_choice(expression):
                assert isinstance(expression, ast.Call)
                condition, yes, no = expression.args
                parts = [condition, yes if _holds(formula, condition, values) else no]
            needed |= {node.id for part in parts for node in ast.walk(part) if isinstance(node, ast.Name)}
    return needed


def _is_choice(expression: ast.expr) -> bool:
    return isinstance(expression, ast.Call) and isinstance(expression.func, ast.Name) and expression.func.id == "where"


def _calls(formula: Formula, expression: ast.expr) -> bool:
    return (
        isinstance(expression, ast.Call)
        and isinstance(expression.func, ast.Name)
        and isinstance(formula.function.__globals__.get(expression.func.id), Formula)
    )


def _shown_above(expression: ast.expr, value: Any, earlier: list[Step]) -> dict[str, int]:
    """The number on the page of the call that gave this value; the same formula may stand there twice."""
    assert isinstance(expression, ast.Call) and isinstance(expression.func, ast.Name)
    name = expression.func.id
    same = [
        n for n, s in enumerate(earlier, 1) if s.formula.name == name and np.array_equal(s.value, value, equal_nan=True)
    ]
    return {name: same[-1]} if same else {}


def _converts(expression: ast.expr, units: set[str]) -> bool:
    """`R / (ft / hour)`: a change of unit, which has no sum worth printing."""
    return (
        isinstance(expression, ast.BinOp)
        and isinstance(expression.left, ast.Name)
        and isinstance(expression.op, ast.Div)
        and _all_units(expression.right, units)
    )


def _all_units(expression: ast.expr, units: set[str]) -> bool:
    names = [node.id for node in ast.walk(expression) if isinstance(node, ast.Name)]
    return (
        bool(names)
        and all(name in units for name in names)
        and not any(isinstance(n, ast.Call) for n in ast.walk(expression))
    )


def _holds(formula: Formula, condition: ast.expr, values: dict[str, Any]) -> bool:
    return bool(_worth(formula, condition, values))


def _worth(formula: Formula, part: ast.expr, values: dict[str, Any]) -> Any:
    """The value of a part of the formula."""
    code = compile(ast.fix_missing_locations(ast.Expression(part)), "<part>", "eval")
    return eval(code, formula.function.__globals__, values)


def coherent(value: Any, dimension: Dimensioned, system: System, scale: Scale) -> tuple[float, str]:
    """A value in the coherent units of the page, with their name."""
    length, mass, time, kelvin = dimension.powers
    (length_name, length_si), (force_name, force_si) = _COHERENT[system, scale]
    powers = {"force": mass, "length": length - mass, "time": time + 2 * mass, "kelvin": kelvin}
    factor = force_si ** float(powers["force"]) * length_si ** float(powers["length"])
    named = (
        _NAMED.get((force_name, length_name, int(powers["length"]))) if powers["force"] == 1 and time == -2 else None
    )
    if named:
        return value / factor, named
    parts = [
        _unit(force_name, powers["force"]),
        _unit(length_name, powers["length"]),
        _unit("s", powers["time"]),
        _unit("K", kelvin),
    ]
    over = [p for p, n in zip(parts, powers.values(), strict=True) if n > 0]
    under = [
        _unit(name, -n) for name, n in zip((force_name, length_name, "s", "K"), powers.values(), strict=True) if n < 0
    ]
    if not over and under:
        over = ["1"]
    text = " ".join(over) + ("/" + "/".join(under) if under else "")
    return value / factor, text


def _unit(name: str, power: Fraction) -> str:
    return name if power == 1 else f"{name}{power}" if power.denominator == 1 else f"{name}^{power}"


def _repeated(value: Any, dimension: Dimensioned, result: str, system: System, scale: Scale) -> str:
    """The result as he measures it, where some kind of the trade fits; cubic inches may be a section modulus."""
    if dimension.powers == NONE:
        return ""
    for known in quantity.TRADE:  # first dimension with these powers
        if tuple(Fraction(p) for p in known.powers) == dimension.powers:
            text = quantity.show_exact(value, known, system)
            unit = result.partition(" ")[2]
            same = text == result or bool(unit) and text.partition(" ")[2] == unit
            return "" if same or (known.name == "volume" and scale == "fine") else text
    return ""


def number(value: Any) -> str:
    """Four figures, as a page prints them: 0.2000, 12.00, 1405, 13690, 1.234e-06."""
    if isinstance(value, bool):
        return str(value)
    if value != value:
        return "not known"
    if value in (float("inf"), float("-inf")):
        return "unlimited" if value > 0 else "-unlimited"
    size = abs(value)
    if size < 1e-13:  # what is left of a difference of equal numbers
        return "0"
    if size >= 1e7 or size < 1e-4:
        return f"{value:.3e}"
    decimals = max(0, 3 - int(np.floor(np.log10(size) + 1e-12)))
    return f"{value:.{decimals}f}"


_COMPARE: dict[type[ast.cmpop], tuple[str, str]] = {
    ast.LtE: ("<=", ">"),
    ast.Lt: ("<", ">="),
    ast.GtE: (">=", "<"),
    ast.Gt: (">", "<="),
    ast.Eq: ("=", "is not"),
}
_ADD, _MUL, _POW = 1, 2, 3


class Setter:
    """Sets an expression as one line of text; with values, numbers stand for the names."""

    times, minus = " · ", " - "

    def __init__(
        self,
        values: dict[str, str],
        units: set[str],
        numbers: dict[str, int],
        worth: Callable[[ast.expr], str] | None = None,
    ) -> None:
        self.values, self.units, self.numbers, self.worth = values, units, numbers, worth

    def name(self, text: str) -> str:
        return text

    def unit(self, text: str) -> str:
        return text.replace("hour", "h")

    def figure(self, text: str) -> str:
        return text

    def root(self, inside: str) -> str:
        return f"sqrt({inside})"

    def raised(self, base: str, exponent: str) -> str:
        return f"{base}^{exponent}"

    def over(self, top: str, bottom: str) -> str:
        return f"{top} / {bottom}"

    def expressed(self, what: str, unit: str) -> str:
        return f"{what} in {unit}"

    def grouped(self, inside: str) -> str:
        return f"({inside})"

    def call(self, name: str, arguments: list[str]) -> str:
        shown = {"maximum": "max", "minimum": "min", "absolute": "abs"}.get(name, name)
        return f"{shown}({', '.join(arguments)})"

    def reference(self, name: str, arguments: list[str]) -> str:
        mark = f" ({self.numbers[name]})" if name in self.numbers else ""
        return f"{name}{mark}"

    def since(self, chosen: str, condition: str, figures: str) -> str:
        return f"{chosen}, since {condition} ({figures})"

    @staticmethod
    def choice(symbolic: "Setter", numeric: "Setter", expression: ast.Call, holds: bool) -> tuple[str, str]:
        condition, yes, no = expression.args
        chosen = yes if holds else no
        text = symbolic.since(
            symbolic.visit(chosen), symbolic.condition(condition, holds), numeric.condition(condition, holds)
        )
        return text, ""

    def condition(self, node: ast.expr, holds: bool) -> str:
        if not isinstance(node, ast.Compare):
            return ("" if holds else "not ") + self.visit(node)
        sign = _COMPARE[type(node.ops[0])][0 if holds else 1]
        return f"{self.visit(node.left)} {sign} {self.visit(node.comparators[0])}"

    def visit(self, node: ast.expr, above: int = 0) -> str:
        """The expression as text, in brackets where what stands above it binds tighter."""
        if isinstance(node, ast.Constant):
            return self.figure(str(node.value))
        if isinstance(node, ast.Name):
            if node.id in self.units:
                return self.unit(node.id)
            value = self.values.get(node.id)
            if value is None:
                return self.name(node.id)
            return self._number(value, above)
        if isinstance(node, ast.UnaryOp):
            return self._bracket("-" + self.visit(node.operand, _MUL), _ADD, above)
        if isinstance(node, ast.BinOp):
            return self._binary(node, above)
        if isinstance(node, ast.Compare):
            return self.condition(node, True)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            arguments = [self.visit(a) for a in node.args] + [self.visit(k.value) for k in node.keywords]
            if node.func.id == "sqrt":
                return self.root(arguments[0])
            if node.func.id == "power":
                return self.raised(self.visit(node.args[0], _POW + 1), self.visit(node.args[1], _POW + 1))
            if node.func.id in self.numbers:
                return self.reference(node.func.id, arguments)
            return self.call(node.func.id, arguments)
        raise FormulaError(f"cannot set {ast.unparse(node)}")

    def _binary(self, node: ast.BinOp, above: int) -> str:
        if isinstance(node.op, ast.Add):
            return self._bracket(f"{self.visit(node.left)} + {self.visit(node.right)}", _ADD, above)
        if isinstance(node.op, ast.Sub):
            return self._bracket(f"{self.visit(node.left)}{self.minus}{self.visit(node.right, _ADD + 1)}", _ADD, above)
        if isinstance(node.op, ast.Pow):
            return self.raised(self.visit(node.left, _POW + 1), self.visit(node.right))
        if isinstance(node.op, ast.Div):
            if _all_units(node.right, self.units):
                if _all_units(node.left, self.units):
                    return self.over(self.visit(node.left), self.visit(node.right))
                if self.worth:  # the number in that unit: `12.75 in in` helps nobody
                    return self._number(self.worth(node), above)
                return self._bracket(self.expressed(self.visit(node.left, _MUL), self.visit(node.right)), _ADD, above)
            return self._fraction(node, above)
        if isinstance(node.op, ast.Mult):
            if _all_units(node.right, self.units):
                return f"{self.visit(node.left, _MUL)} {self.visit(node.right)}"
            return self._bracket(
                self.visit(node.left, _MUL) + self._dot(node) + self.visit(node.right, _MUL), _MUL, above
            )
        raise FormulaError(f"cannot set {ast.unparse(node)}")

    def _number(self, text: str, above: int) -> str:
        return self.grouped(text) if text.startswith("-") and above else self.figure(text)

    def _fraction(self, node: ast.BinOp, above: int) -> str:
        return self._bracket(self.over(self.visit(node.left, _MUL), self.visit(node.right, _MUL + 1)), _MUL, above)

    def _dot(self, node: ast.BinOp) -> str:
        """Symbols stand side by side; numbers, and what follows a fraction, need a sign between them."""
        fraction = isinstance(node.left, ast.BinOp) and isinstance(node.left.op, ast.Div)
        return self.times if self.values or fraction or isinstance(node.right, ast.Constant) else " "

    def _bracket(self, text: str, own: int, above: int) -> str:
        return self.grouped(text) if own < above else text
