"""Which of our functions answers a published case?

    @case("lateral pressure of fresh concrete")    beginning of a topic or id; the longest that fits is asked first
    def pressure(given):                           the case's inputs
        p = wall_pressure(..., given.si("R", RateOfRise), ...)
        return {"p_max": p}                        named like the case's `expected`, in SI; a bool is yes or no

    given.si("R", RateOfRise)    an input in SI, an array where it is a list; raises Missing or takes `default=`
    given.text("soil")           an input as written
    given.each("soil", f)        f of one text, or of each in a list
    given.asked                  names the case expects, to know what is asked, never what the answer is
    As(value, Mass)              an answer with its kind, where its unit would not tell: lb as mass, degrees apart

An adapter answers what it can: of all that fit, each adds the keys that no earlier one gave. It leaves a case alone by
raising Missing.

A case whose topic begins with `formula` needs no adapter: `formula aci347.wall_pressure` calls that formula of the
standards (`formula phases.dig.name` of a phase) with the inputs named like its arguments, and compares `value`
or any of its locals. "outside" means nan. So one case pins both sides of a limit:

    inputs = { R = ["6.95 ft/h", "7.05 ft/h"], ... }    expected = { value = ["793 psf", "outside"] }
"""

import importlib
import pkgutil
from collections.abc import Callable, Iterable
from types import ModuleType
from typing import Any, get_type_hints

import numpy as np
from comparing import As

from batterboard.quantity import QuantityError, read
from batterboard.standards.tables import NotTabulated
from batterboard.working import Formula, recording

__all__ = ["As", "Given", "Missing", "adapters_of", "answers", "case", "load_all"]


class Missing(Exception):
    """The case does not give what this adapter needs; it is not for it."""


_NEEDED = object()


class Given(dict[str, Any]):
    """The inputs of a case."""

    def __init__(self, case: dict[str, Any]) -> None:
        super().__init__(case.get("inputs", {}))
        self.id, self.topic, self.source = case["id"], case.get("topic", ""), case.get("source", "")
        self.asked = frozenset(case.get("expected", {}))

    def __missing__(self, name: str) -> Any:
        raise Missing(f"no input {name!r}")

    def text(self, name: str, default: Any = _NEEDED) -> Any:
        """As written."""
        return self[name] if default is _NEEDED else self.get(name, default)

    def si(self, name: str, kind: Any, default: Any = _NEEDED) -> Any:
        """In SI; a list gives an array."""
        if default is not _NEEDED and name not in self:
            return default
        value = _read(name, self[name], kind)
        return np.array(value) if isinstance(value, list) else value

    def each(self, name: str, function: Callable[[Any], Any]) -> Any:
        """The function of one text, or of each in a list."""
        given = self[name]
        if not isinstance(given, list):
            return function(given)
        made = [function(one) for one in given]
        return np.array(made) if all(isinstance(one, (int, float)) for one in made) else made


def _read(name: str, text: Any, kind: Any) -> Any:
    if isinstance(text, list):
        return [_read(name, one, kind) for one in text]
    try:
        return read(text if isinstance(text, str) else str(text), kind)
    except QuantityError as problem:
        raise Missing(f"{name}: {problem}") from None


Adapter = Callable[[Given], dict[str, Any]]
_ADAPTERS: list[tuple[str, Adapter]] = []


def case(*marks: str) -> Callable[[Adapter], Adapter]:
    """Register an adapter for the cases whose id or topic begins with one of these."""

    def register(adapter: Adapter) -> Adapter:
        _ADAPTERS.extend((mark, adapter) for mark in marks)
        return adapter

    return register


def adapters_of(published: dict[str, Any]) -> list[Adapter]:
    """All that fit, the nearest first: the exact id, then the longest beginning of id or topic."""
    name, topic = published["id"], published.get("topic", "")

    def near(mark: str) -> int:
        if mark == name:
            return 1000
        return len(mark) if name.startswith(mark) or topic.startswith(mark) else 0

    fitting = sorted((-near(mark), i) for i, (mark, _) in enumerate(_ADAPTERS) if near(mark))
    return list(dict.fromkeys(_ADAPTERS[i][1] for _, i in fitting))


def answers(published: dict[str, Any]) -> tuple[dict[str, Any], str]:
    """What our functions say to a case, and why nothing where nothing."""
    given: dict[str, Any] = {}
    why = []
    for adapter in adapters_of(published):
        try:
            given = adapter(Given(published)) | given
        except (Missing, NotTabulated) as missing:
            why.append(f"{adapter.__module__.rpartition('.')[2]}.{adapter.__name__}: {missing}")
    return given, "; ".join(why)


def load_all() -> list[str]:
    """Import every room of adapters; the problems of those that cannot be imported."""
    problems = []
    for found in pkgutil.iter_modules(__path__):
        try:
            importlib.import_module(f"{__name__}.{found.name}")
        except Exception as problem:
            problems.append(f"adapters/{found.name}.py: {type(problem).__name__}: {problem}")
    return problems


# ---- any formula, by its name ----


@case("formula ")
def any_formula(given: Given) -> dict[str, Any]:
    """`formula aci347.wall_pressure`: inputs are its arguments, the answer is `value`, its locals can be asked too."""
    room, _, name = given.topic.removeprefix("formula ").split()[0].rpartition(".")
    formula = getattr(_module(room), name)
    assert isinstance(formula, Formula), f"{given.topic}: {name} is not a formula"
    hints = get_type_hints(formula.function, include_extras=True)
    strange = set(given) - set(formula.arguments)
    assert not strange, f"{name} has no argument {', '.join(sorted(strange))}"
    values = {argument: given.si(argument, hints[argument]) for argument in formula.arguments if argument in given}
    positional = [values.pop(argument) for argument in _before_the_star(formula) if argument in values]
    with recording() as steps:
        plain = formula(*positional, **values)
    return {**steps[-1].values, "value": As(plain, hints["return"])}


def _module(room: str) -> ModuleType:
    """aci347 of the standards, phases.size of the house, or any other."""
    for name in (f"batterboard.standards.{room}", f"batterboard.{room}"):
        try:
            return importlib.import_module(name)
        except ModuleNotFoundError as missing:
            if missing.name is None or not name.startswith(missing.name):
                raise
    return importlib.import_module(room)


def _before_the_star(formula: Any) -> Iterable[str]:
    code = formula.function.__code__
    return code.co_varnames[: code.co_argcount]
