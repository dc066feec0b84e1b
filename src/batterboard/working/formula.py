"""How does a formula show its work?

    wall_pressure(1.0, 1.0, R, T, h=h, slump=s)          plain NumPy, nan outside its limits
    with recording() as steps: ...                       the same call also leaves a Step: arguments, locals, value

The working is the code: a twin of the function is compiled from its own source. It hands back the locals, and turns a
choice on nan into nan. The source is parsed only when a call needs the twin: when recorded, when a limit speaks of a
local, or when there is a `where`. Without source (byte-code only) the value still comes, by watching the call return.
"""

import ast
import linecache
import operator
import re
import sys
import textwrap
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cached_property, update_wrapper
from types import CodeType, FunctionType
from typing import Any, NamedTuple

import numpy as np

from batterboard import quantity
from batterboard.record import ordered
from batterboard.working import functions
from batterboard.working.source import Source


class FormulaError(Exception):
    """A formula is not written as the page needs it."""


@ordered
class Step:
    """One formula at work: what went in, what it named on the way, what came out."""

    formula: "Formula"
    arguments: dict[str, Any]
    values: dict[str, Any]  # arguments and locals
    value: Any
    outside: dict[str, Any]  # text of each limit -> where it does not hold

    def same(self, other: "Step") -> bool:
        return self.formula is other.formula and all(
            np.array_equal(v, other.arguments[k], equal_nan=True) for k, v in self.arguments.items()
        )


_recorder: ContextVar[list[Step] | None] = ContextVar("recorder", default=None)


@contextmanager
def recording() -> Iterator[list[Step]]:
    """Collect the steps of every formula called inside, those called by others first, once each."""
    steps: list[Step] = []
    token = _recorder.set(steps)
    try:
        yield steps
    finally:
        _recorder.reset(token)


def formula(*, source: Source, limits: str = "") -> Callable[[Callable[..., Any]], "Formula"]:
    """A published formula. `limits` are comparisons of arguments or locals, joined by `;`, with units: `R < 7 ft/h`."""

    def decorate(function: Callable[..., Any]) -> Formula:
        assert isinstance(function, FunctionType)
        return Formula(function, source, tuple(part.strip() for part in limits.split(";") if part.strip()))

    return decorate


class Formula:
    """A formula of the shelf; call it like the function it wraps."""

    def __init__(self, function: FunctionType, source: Source, limits: tuple[str, ...]) -> None:
        update_wrapper(self, function)
        self.function, self.source, self.limits = function, source, limits
        code = function.__code__
        self.arguments = code.co_varnames[: code.co_argcount + code.co_kwonlyargcount]
        self._positional = code.co_argcount
        self._twin: Callable[..., tuple[Any, dict[str, Any]]] | None = None

    def __repr__(self) -> str:
        return f"<formula {self.name}, {self.source}>"

    @property
    def name(self) -> str:
        return self.function.__name__

    @cached_property
    def _within(self) -> "list[_Limit]":
        return [_read_limit(limit) for limit in self.limits]

    @cached_property
    def _needs_locals(self) -> bool:
        """Whether a plain call already wants the twin: a limit speaks of a local, or nan must not pass a choice."""
        return self._limits_speak_of_locals or "where" in self.function.__code__.co_names

    @cached_property
    def _limits_speak_of_locals(self) -> bool:
        used = set().union(*(within.names for within in self._within))
        return bool(used - set(self.arguments) - _LIMIT_NAMES.keys())

    @property
    def says(self) -> str:
        """What it gives, in words: the first line of its docstring without the unit."""
        return re.sub(r"\s*\[[^\]]*\]\.?$", "", (self.function.__doc__ or "").strip().partition("\n")[0]).rstrip(".")

    @cached_property
    def _parsed(self) -> "Tree | None":
        return read_tree(self.function)

    @cached_property
    def tree(self) -> "Tree | None":
        """The body as the page sets it; None without its source. Raises FormulaError for what cannot be set."""
        return self._parsed if self.calls is not None else None

    @cached_property
    def calls(self) -> "dict[str, Formula]":
        """The formulas it calls, by name. Raises FormulaError for an expression that the page cannot set."""
        calls: dict[str, Formula] = {}
        for _, expression in self._parsed.lines if self._parsed else ():
            _refuse(self.function, expression, calls)
        return calls

    def __call__(self, *args: Any, **kwargs: Any) -> Any:
        if _recorder.get() is None and _plain(args) and _plain(kwargs.values()):
            value = self._of_plain_numbers(args, kwargs)
            if value is not None:
                return value
        try:
            return self._run(args, kwargs)
        except (ZeroDivisionError, OverflowError, ValueError):  # plain floats raise where NumPy gives inf or nan
            args = tuple(np.float64(a) if type(a) in (float, int) else a for a in args)
            kwargs = {k: np.float64(a) if type(a) in (float, int) else a for k, a in kwargs.items()}
            with np.errstate(all="ignore"):
                return self._run(args, kwargs)

    def _of_plain_numbers(self, args: tuple[Any, ...], kwargs: dict[str, Any]) -> Any:
        """The value where nothing asks for more: nobody records it, and all its limits hold. Else None."""
        if self._needs_locals and not (self._plain_choice and _finite(args) and _finite(kwargs.values())):
            return None
        try:
            value = self.function(*args, **kwargs)
        except (ZeroDivisionError, OverflowError, ValueError):
            return None
        if self._within:
            names = self._bind(args, kwargs)
            for within in self._within:
                if within.holds(names) is not True:
                    return None
        return value

    def _run(self, args: tuple[Any, ...], kwargs: dict[str, Any]) -> Any:
        steps = _recorder.get()
        if any(isinstance(a, np.ndarray) for a in (*args, *kwargs.values())):
            with np.errstate(all="ignore"):
                return self._evaluate(args, kwargs, steps)
        return self._evaluate(args, kwargs, steps)

    @cached_property
    def _plain_choice(self) -> bool:
        """Whether its only reason for the twin is a `where` that finite numbers cannot make nan unnoticed.

        Nothing it names can turn a finite number into nan: no root or logarithm, no other formula. What arithmetic
        can do, a division by zero or a number too large, is raised.
        """
        if self._limits_speak_of_locals:
            return False
        names = (self.function.__globals__.get(name) for name in self.function.__code__.co_names)
        return all(isinstance(named, float) or named in _HARMLESS for named in names)

    def _evaluate(self, args: tuple[Any, ...], kwargs: dict[str, Any], steps: list[Step] | None) -> Any:
        value = self._without_twin(args, kwargs) if steps is None else None
        if value is None:
            value, names = self._with_locals(args, kwargs)
        elif not self._within:
            return value
        else:
            names = self._bind(args, kwargs)
        outside = {}
        for text, within in zip(self.limits, self._within, strict=True):
            ok = within.holds(names)
            if ok is not True:
                outside[text] = np.logical_not(ok)
                value = (
                    np.where(ok, value, functions.nan)
                    if np.ndim(ok) or np.ndim(value)
                    else (value if ok else functions.nan)
                )
        if steps is not None:
            step = Step(self, {k: names[k] for k in self.arguments}, names, value, outside)
            if not any(step.same(earlier) for earlier in steps):
                steps.append(step)
        return value

    def _without_twin(self, args: tuple[Any, ...], kwargs: dict[str, Any]) -> Any:
        """The value where no choice can have gone past a nan, else None."""
        if not self._needs_locals:
            return self.function(*args, **kwargs)
        if not (self._plain_choice and all(np.all(np.isfinite(a)) for a in (*args, *kwargs.values()))):
            return None
        try:
            with np.errstate(divide="raise", invalid="raise", over="raise"):
                return self.function(*args, **kwargs)
        except (FloatingPointError, ZeroDivisionError, OverflowError):
            return None

    def _bind(self, args: tuple[Any, ...], kwargs: dict[str, Any]) -> dict[str, Any]:
        return dict(zip(self.arguments[: self._positional], args, strict=False)) | kwargs

    def _with_locals(self, args: tuple[Any, ...], kwargs: dict[str, Any]) -> tuple[Any, dict[str, Any]]:
        if self._twin is None:
            self._twin = (
                self._watch if self._parsed is None else compile_twin(self._parsed, self.function.__globals__, _choose)
            )
        return self._twin(*args, **kwargs)

    def _watch(self, *args: Any, **kwargs: Any) -> tuple[Any, dict[str, Any]]:
        """The value and locals of the byte-code itself, where no source is at hand; nan in, nan out."""
        seen: dict[str, Any] = {}

        def look(frame: Any, event: str, result: Any) -> None:
            if event == "return" and frame.f_code is self.function.__code__:
                seen.update(frame.f_locals)

        before = sys.getprofile()
        sys.setprofile(look)
        try:
            value = self.function(*args, **kwargs)
        finally:
            sys.setprofile(before)
        lost: Any = False
        for given in seen.values():
            lost = lost | (given != given)
        return functions.where(lost, functions.nan, value), seen


_HARMLESS = (functions.where, functions.maximum, functions.minimum, functions.absolute, functions.exp)


_NUMBERS = frozenset((float, int, np.float64))


def _plain(numbers: Iterable[Any]) -> bool:
    for number in numbers:
        if type(number) not in _NUMBERS:
            return False
    return True


def _finite(numbers: Iterable[Any]) -> bool:
    """Of plain numbers: far from where a product could overflow."""
    return all(-1e100 < number < 1e100 for number in numbers)


def _choose(condition: Any, yes: Any, no: Any, *compared: Any) -> Any:
    """`where` as the twin sees it: nan on either side of the comparison gives nan."""
    lost: Any = False
    for side in compared:
        lost = lost | (side != side)
    value = functions.where(condition, yes, no)
    return value if lost is False else functions.where(lost, functions.nan, value)


# ---- limits ----

_LIMIT_NAMES: dict[str, Any] = (
    {"__builtins__": {}} | {f.__name__: f for f in functions.FUNCTIONS} | {"pi": functions.pi}
)
# Compiled for the few that need it.
_WITH_UNIT = r"(?<![\w.])(\d[\d.]*)\s+([A-Za-z][A-Za-z0-9]*(?:/[A-Za-z][A-Za-z0-9]*)?)"


_SIMPLE = re.compile(r"([A-Za-z_]\w*) (<=|>=|<|>) ([\d.]+)(?: (\S+))?")
_COMPARED = {"<": operator.lt, "<=": operator.le, ">": operator.gt, ">=": operator.ge}


class _Limit(NamedTuple):
    names: tuple[str, ...]  # that it speaks of
    holds: Callable[[dict[str, Any]], Any]


def _read_limit(text: str) -> _Limit:
    simple = _SIMPLE.fullmatch(text)
    if simple is not None:  # nine of ten: to compile them all would cost a start-up dear
        name, sign, number, unit = simple.groups()
        compared, bound = _COMPARED[sign], quantity.in_si(float(number), unit) if unit else float(number)
        return _Limit((name,), lambda names: compared(names[name], bound))
    code = _compile_limit(text)
    return _Limit(code.co_names, lambda names: eval(code, _LIMIT_NAMES, names))


def _compile_limit(text: str) -> CodeType:
    def in_si(match: re.Match[str]) -> str:
        return repr(quantity.in_si(float(match[1]), match[2]))

    expression = re.sub(_WITH_UNIT, in_si, text)
    parts = re.split(r"(<=|>=|==|<|>)", expression)
    pairs = [f"(({parts[i]}) {parts[i + 1]} ({parts[i + 2]}))" for i in range(0, len(parts) - 2, 2)]
    return compile(" & ".join(pairs), f"<limit {text}>", "eval")


# ---- the source as a tree ----


@ordered
class Tree:
    """A formula's body as the page needs it."""

    definition: ast.FunctionDef
    lines: tuple[tuple[str, ast.expr], ...]  # (name, expression) in order
    result: str


def read_tree(function: FunctionType) -> Tree | None:
    """Parse a formula from its own source; None without it. Raises FormulaError where it is not straight-line."""
    definition = _definition(function)
    if definition is None:
        return None
    given = set(function.__code__.co_varnames[: function.__code__.co_argcount + function.__code__.co_kwonlyargcount])
    body = list(definition.body)
    if body and isinstance(body[0], ast.Expr) and isinstance(body[0].value, ast.Constant):
        body.pop(0)
    lines: list[tuple[str, ast.expr]] = []
    for statement in body[:-1]:
        if not (
            isinstance(statement, ast.Assign)
            and len(statement.targets) == 1
            and isinstance(statement.targets[0], ast.Name)
        ):
            raise FormulaError(f"{function.__name__}: line {statement.lineno} is not `name = expression`")
        name = statement.targets[0].id
        if name in given:
            raise FormulaError(f"{function.__name__}: {name} is given twice")
        given.add(name)
        lines.append((name, statement.value))
    last = body[-1] if body else None
    if not (isinstance(last, ast.Return) and isinstance(last.value, ast.Name)):
        raise FormulaError(f"{function.__name__} does not end with `return name`")
    return Tree(definition, tuple(lines), last.value.id)


def _definition(function: FunctionType) -> ast.FunctionDef | None:
    """The def statement, cut out of the file without tokenizing all of it."""
    lines: Sequence[str] = linecache.getlines(function.__code__.co_filename, function.__globals__)
    start = function.__code__.co_firstlineno - 1
    if start >= len(lines):
        return None
    indent = len(lines[start]) - len(lines[start].lstrip())
    end = start + 1
    inside = False
    while end < len(lines):
        line = lines[end]
        level = len(line) - len(line.lstrip())
        if line.strip() and inside and level <= indent and not line.lstrip().startswith((")", "]", "#")):
            break
        inside = inside or line.lstrip().startswith("def ")
        end += 1
    try:
        tree = ast.parse(textwrap.dedent("".join(lines[start:end])))
    except SyntaxError:
        return None
    found = tree.body[0] if tree.body else None
    return found if isinstance(found, ast.FunctionDef) and found.name == function.__name__ else None


def _refuse(function: FunctionType, expression: ast.expr, calls: dict[str, "Formula"]) -> None:
    for node in ast.walk(expression):
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Pow):
            exponent = node.right.operand if isinstance(node.right, ast.UnaryOp) else node.right
            if not (isinstance(exponent, ast.Constant) and isinstance(exponent.value, int)):
                raise FormulaError(f"{function.__name__}: write sqrt or power, not a fractional **")
        if isinstance(node, ast.Call):
            called = function.__globals__.get(node.func.id) if isinstance(node.func, ast.Name) else None
            if isinstance(called, Formula):
                if node is not expression:
                    raise FormulaError(
                        f"{function.__name__}: {called.name}(...) must stand alone, so that its value has a name"
                    )
                calls[called.name] = called
            elif called is functions.where and node is not expression:
                raise FormulaError(
                    f"{function.__name__}: where(...) must stand alone, so that the page can say which one ruled"
                )
            elif called not in functions.FUNCTIONS:
                raise FormulaError(f"{function.__name__}: {ast.unparse(node.func)} is not a function of the page")


def compile_twin(tree: Tree, names: dict[str, Any], choose: Any) -> Callable[..., tuple[Any, dict[str, Any]]]:
    """The formula compiled again from its tree, so that it returns (value, arguments and locals)."""
    arguments = tree.definition.args
    given = [a.arg for a in (*arguments.args, *arguments.kwonlyargs)]
    body: list[ast.stmt] = [_at(ast.Assign([_name(name, ast.Store())], _chosen(value))) for name, value in tree.lines]
    every = [*given, *(name for name, _ in tree.lines)]
    locals_ = _at(ast.Dict([_at(ast.Constant(n)) for n in every], [_name(n) for n in every]))
    body.append(_at(ast.Return(_at(ast.Tuple([_name(tree.result), locals_], ast.Load())))))
    twin = _at(
        ast.FunctionDef("twin", _only([a.arg for a in arguments.args], [a.arg for a in arguments.kwonlyargs]), body, [])
    )
    maker = _at(ast.FunctionDef("make", _only(["choose__"], []), [twin, _at(ast.Return(_name("twin")))], []))
    made: dict[str, Any] = {}
    exec(compile(ast.Module([maker], []), f"<twin of {tree.definition.name}>", "exec"), names, made)
    result: Callable[..., tuple[Any, dict[str, Any]]] = made["make"](choose)
    return result


def _chosen(value: ast.expr) -> ast.expr:
    """`where(a <= b, yes, no)` also hands its comparison's sides to the chooser. Nodes are shared, not copied."""
    if not _is_choice(value):
        return value
    assert isinstance(value, ast.Call)
    compared = [
        side
        for test in ast.walk(value.args[0])
        if isinstance(test, ast.Compare)
        for side in (test.left, *test.comparators)
    ]
    call: ast.expr = _at(ast.Call(_name("choose__"), [*value.args, *compared], []))
    return call


def _is_choice(value: ast.AST) -> bool:
    return isinstance(value, ast.Call) and isinstance(value.func, ast.Name) and value.func.id == "where"


def _at(node: Any) -> Any:
    """A new node needs a place in the text; which one does not matter here."""
    node.lineno = node.end_lineno = 1
    node.col_offset = node.end_col_offset = 0
    return node


def _name(name: str, use: ast.expr_context | None = None) -> Any:
    return _at(ast.Name(name, use or ast.Load()))


def _only(positional: list[str], keyword: list[str]) -> ast.arguments:
    none: list[ast.expr | None] = [None] * len(keyword)
    plain, only = ([_at(ast.arg(name)) for name in names] for names in (positional, keyword))
    return ast.arguments(posonlyargs=[], args=plain, kwonlyargs=only, kw_defaults=none, defaults=[])
