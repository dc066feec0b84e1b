"""Would a wrong digit be noticed? Each number in each formula, limits too, is changed by 2 %, one at a time.

    python tests/published/mutation.py [NAME ...]    what survives, of all formulas or of those whose name holds NAME

A change is noticed where a published or derived case no longer comes out as it did. Only the cases that call the
formula are run again. What may survive stands in `survivors.toml`, each with its reason, none in a coefficient.
"""

import ast
import copy
import importlib
import linecache
import pkgutil
import re
import sys
import time
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache
from itertools import count
from pathlib import Path
from types import ModuleType
from typing import Any

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[2] / "src")]

import adapters  # noqa: E402
import numpy as np  # noqa: E402
import run  # noqa: E402

from batterboard.working import Formula, functions  # noqa: E402

ROOMS = ("batterboard.standards", "batterboard.phases")
SURVIVORS = Path(__file__).parent / "survivors.toml"
CHANGES = {"+2 %": 1.02, "-2 %": 0.98}


@cache
def formulas() -> dict[str, Formula]:
    """Every formula of the standards and the phases, by room and name: aci347.wall_pressure."""
    found = {}
    for module in modules()[0]:
        for thing in vars(module).values():
            if isinstance(thing, Formula) and thing.function.__module__ == module.__name__:
                found[f"{module.__name__.removeprefix('batterboard.').removeprefix('standards.')}.{thing.name}"] = thing
    return dict(sorted(found.items()))


@cache
def modules() -> tuple[list[ModuleType], list[str]]:
    """Every room that may hold formulas, and the problems of those that cannot be used."""
    found, problems = [], []
    names = [name for room in ROOMS for name in (room, *_below(room))]
    for name in names:
        try:
            found.append(importlib.import_module(name))
        except Exception as problem:
            problems.append(f"{name}: {type(problem).__name__}: {problem}")
    return found, problems


def _below(room: str) -> Iterator[str]:
    walked = pkgutil.walk_packages(importlib.import_module(room).__path__, f"{room}.", onerror=lambda name: None)
    return (module.name for module in walked)


# ---- what each case calls ----


@dataclass
class Shelf:
    """The cases that pass as things are, which formulas each calls, and numbers each formula was once called with."""

    calling: dict[int, list[tuple[float, dict[str, Any], run.Outcome]]] = field(default_factory=dict)
    samples: dict[int, dict[str, float]] = field(default_factory=dict)

    def notices(self, formula: Formula) -> bool:
        """Whether a case comes out otherwise than before; the quick cases are asked first."""
        cases = sorted(self.calling.get(id(formula), []), key=lambda known: known[0])
        return any(run.judge(case) != outcome for _, case, outcome in cases)


@cache
def shelf() -> Shelf:
    """Run every case once and watch."""
    adapters.load_all()
    made = Shelf()
    for path in sorted(run.CASES.glob("*.toml")):
        for case in run.cases_of(path):
            with _watching(made) as called:
                start = time.perf_counter()
                outcome = run.judge(case)
                spent = time.perf_counter() - start
            if outcome.state == "passed":
                for formula in called:
                    made.calling.setdefault(id(formula), []).append((spent, case, outcome))
    return made


@contextmanager
def _watching(made: Shelf) -> Iterator[set[Formula]]:
    called: set[Formula] = set()
    plain = Formula.__call__

    def watched(self: Formula, *args: Any, **kwargs: Any) -> Any:
        value = plain(self, *args, **kwargs)
        called.add(self)
        given = dict(zip(self.arguments, args, strict=False)) | kwargs
        if id(self) not in made.samples and np.all(np.isfinite(np.asarray(value, float))):
            made.samples[id(self)] = {name: float(np.ravel(given[name])[0]) for name in given}
        return value

    Formula.__call__ = watched  # type: ignore[method-assign]
    try:
        yield called
    finally:
        Formula.__call__ = plain  # type: ignore[method-assign]


# ---- what is changed ----


@dataclass(frozen=True)
class Mutant:
    """One number of one formula, changed."""

    formula: str
    place: str  # the local it stands in, or the limit
    literal: str
    change: str
    made: Formula

    @property
    def key(self) -> tuple[str, str, str]:
        return self.formula, self.place, self.literal

    def __str__(self) -> str:
        return f"{self.formula:<45} {self.place:<40} {self.literal:>10} {self.change}"


def mutants(name: str, formula: Formula) -> Iterator[Mutant]:
    tree = formula.tree
    assert tree is not None, f"{name} has no source"
    for place, node in enumerate(_numbers(tree.definition)):
        for change, factor in CHANGES.items():
            definition = copy.deepcopy(tree.definition)
            changed = _numbers(definition)[place]
            statement = next(line for line in definition.body if any(part is changed for part in ast.walk(line)))
            where = ast.unparse(statement).partition(" = ")[0]
            changed.value = node.value * factor
            yield Mutant(name, where, str(node.value), change, _remade(formula, definition, formula.limits))
    for place, limit in enumerate(formula.limits):
        for number in re.finditer(r"(?<![\w.])\d[\d.]*", limit):
            for change, factor in CHANGES.items():
                if float(number[0]) != 0:
                    text = f"{limit[: number.start()]}{float(number[0]) * factor!r}{limit[number.end() :]}"
                    limits = (*formula.limits[:place], text, *formula.limits[place + 1 :])
                    made = Formula(formula.function, formula.source, limits)
                    yield Mutant(name, f"limit {limit}", number[0], change, made)


def _numbers(definition: ast.FunctionDef) -> list[ast.Constant]:
    """The numbers of the body, in order, but 0, which has no 2 %."""
    return [
        node
        for statement in definition.body
        for node in ast.walk(statement)
        if isinstance(node, ast.Constant) and isinstance(node.value, (int, float)) and node.value not in (0, True)
    ]


_serial = count()


def _remade(formula: Formula, definition: ast.FunctionDef, limits: tuple[str, ...]) -> Formula:
    """The formula of a changed definition, in the room of the first one."""
    definition.decorator_list = []
    room = formula.function.__globals__
    source = ast.unparse(_RealPowers().visit(definition))
    file = f"<mutant {next(_serial)}>"
    linecache.cache[file] = (len(source), None, source.splitlines(keepends=True), file)
    made: dict[str, Any] = {}
    room.setdefault("power", functions.power)  # a changed exponent is no whole number any more
    exec(compile(source, file, "exec"), room, made)
    mutant = Formula(made[definition.name], formula.source, limits)
    assert mutant.tree is not None
    return mutant


class _RealPowers(ast.NodeTransformer):
    def visit_BinOp(self, node: ast.BinOp) -> ast.expr:
        self.generic_visit(node)
        if isinstance(node.op, ast.Pow) and isinstance(node.right, ast.Constant) and type(node.right.value) is float:
            return ast.Call(ast.Name("power", ast.Load()), [node.left, node.right], [])
        return node


@contextmanager
def instead(formula: Formula, mutant: Formula) -> Iterator[None]:
    """The changed formula in the place of the first one, wherever that is known."""
    before = dict(formula.__dict__)
    formula.__dict__.clear()  # what was computed once is of the first one's limits
    formula.__dict__.update(mutant.__dict__)
    try:
        yield
    finally:
        formula.__dict__.clear()
        formula.__dict__.update(before)


def survivors(*names: str) -> tuple[int, list[Mutant]]:
    """How many changes were tried, and those that no case notices."""
    tried, unnoticed = 0, []
    known = shelf()
    for name, formula in formulas().items():
        if names and not any(part in name for part in names):
            continue
        for mutant in mutants(name, formula):
            tried += 1
            with instead(formula, mutant.made):
                noticed = known.notices(formula)
            if not noticed:
                unnoticed.append(mutant)
    return tried, unnoticed


def allowed() -> dict[tuple[str, str, str], str]:
    """(formula, place, literal) -> the reason why a change of it may go unnoticed."""
    listed = tomllib.loads(SURVIVORS.read_text("utf-8")).get("survivor", [])
    return {(one["formula"], one["place"], one["literal"]): one["reason"] for one in listed}


def main(names: list[str]) -> int:
    for problem in modules()[1]:
        print(f"cannot use {problem}")
    tried, unnoticed = survivors(*names)
    reasons = allowed()
    for mutant in unnoticed:
        print(f"{mutant}   {reasons.get(mutant.key, 'NOT NOTICED')}")
    for name, formula in formulas().items():
        if (not names or any(part in name for part in names)) and id(formula) not in shelf().calling:
            print(f"{name:<45} no case calls it")
    print(f"{tried} changes tried, {len(unnoticed)} not noticed")
    return 1 if any(mutant.key not in reasons for mutant in unnoticed) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
