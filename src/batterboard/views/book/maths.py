"""How is a line of working set as mathematics?

    formula(line) : 'q_("full") = frac(P, B L) ... = 67.27 "kPa"'      for the page's `eval(..., mode: "math")`

The only place where mathematics is written. What goes in are the names and figures of our own formulas; no text of a
job file ever does. Names keep the standard's letters: f_c, phi, q with "full" below.
"""

import re

from batterboard.quantity import units
from batterboard.working.page import Line, Setter

_GREEK = frozenset(
    "alpha beta gamma delta epsilon zeta eta theta kappa lambda mu nu xi pi rho sigma tau phi chi psi omega "
    "Gamma Delta Theta Lambda Xi Pi Sigma Phi Psi Omega".split()
)
_KNOWN = {"maximum": "max", "minimum": "min", "exp": "exp", "log": "ln", "log10": "log_(10)", "hypot": "hypot"} | {
    name: name for name in ("sin", "cos", "tan", "arctan", "arccos", "arcsin")
}
_UNAVAILABLE = "working not available"


def formula(line: Line) -> str:
    """name = symbols = figures = result, what would be said twice only once."""
    if line.symbols == _UNAVAILABLE:
        return f"{_upright(line.name)} = {quantity(line.result)} quad {_upright(f'({_UNAVAILABLE})')}"
    result = quantity(line.result)
    parts = dict.fromkeys(part for part in (line.name, line.symbols, line.numbers, result) if part)
    text = " = ".join(parts)
    return f"{text} quad ({_upright(line.repeated)})" if line.repeated else text


def quantity(text: str) -> str:
    """67.27 kPa."""
    number, _, unit = text.partition(" ")
    return f"{_figure(number)} thin {_upright(raised(unit))}" if unit else _figure(number)


def raised(text: str) -> str:
    """ft2 as ft², in a unit or a heading."""
    return re.sub(r"(?<=\b)(in|ft|yd|mm|cm|m|lb)([234])\b", lambda m: m[1] + "²³⁴"[int(m[2]) - 2], text)


class Maths(Setter):
    """The page's setter with fractions, roots and raised exponents."""

    times, minus = " dot.op ", " - "

    def name(self, text: str) -> str:
        return symbol(text)

    def unit(self, text: str) -> str:
        return _upright(raised(getattr(units, text).name))

    def figure(self, text: str) -> str:
        return _figure(text)

    def root(self, inside: str) -> str:
        return f"sqrt({inside})"

    def raised(self, base: str, exponent: str) -> str:
        power = exponent.strip()
        inner = power[1:-1] if power.startswith("(-") and power.count("(") == 1 else power
        return f"{f'({base})' if 'dot.op' in base and not base.endswith(' ') else base}^({inner})"

    def over(self, top: str, bottom: str) -> str:
        return f"frac({top}, {bottom})"

    def expressed(self, what: str, unit: str) -> str:
        return f"{what} slash ({unit})" if "frac" in unit else f"{what} slash {unit}"

    def grouped(self, inside: str) -> str:
        return f" ({_figure(inside)}) "

    def call(self, name: str, arguments: list[str]) -> str:
        inside = ", ".join(arguments)
        if name == "absolute":
            return f"abs({inside})"
        if name in ("floor", "ceil"):
            return f"{name}({inside})"
        known = _KNOWN.get(name)
        return f"{known} ({inside})" if known and known != "hypot" else f"op({_upright(_spoken(name))}) ({inside})"

    def reference(self, name: str, arguments: list[str]) -> str:
        mark = f" ({self.numbers[name]})" if name in self.numbers else ""
        return _upright(f"{_spoken(name)}{mark}")

    def since(self, chosen: str, condition: str, figures: str) -> str:
        return f'{chosen} quad "since" {condition} quad ({figures})'

    def condition(self, node, holds):  # type: ignore[no-untyped-def]
        return super().condition(node, holds).replace(" is not ", " != ")

    def _fraction(self, node, above):  # type: ignore[no-untyped-def]
        """Above and below the line nothing needs brackets."""
        return self._bracket(self.over(self.visit(node.left), self.visit(node.right)), 2, above)


def symbol(name: str) -> str:
    """f_c as f with c below; a word stands upright."""
    base, *below = name.split("_")
    if not base:
        return _upright(name)
    letter, digits = re.fullmatch(r"(.*?)(\d*)", base).groups()  # type: ignore[union-attr]
    parts = [part for part in (digits, *below) if part]
    return _letter(letter or base) + (f"_({', '.join(map(_below, parts))})" if parts else "")


def _letter(text: str) -> str:
    return text if len(text) == 1 or text in _GREEK or text.isdigit() else _upright(text)


def _below(text: str) -> str:
    return _upright(text) if text == "psi" else _letter(text)  # the unit, not the Greek letter


def _figure(text: str) -> str:
    """1.2e-06 as a power of ten; words upright."""
    if text.lstrip("-") in ("not known", "unlimited"):
        return _upright(text)
    try:
        float(text)
    except ValueError:
        return text
    number, e, power = text.partition("e")
    return f"{number} dot.op 10^({int(power)})" if e else number


def _spoken(name: str) -> str:
    return name.replace("_", " ")


def _upright(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
