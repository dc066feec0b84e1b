"""Laws that every formula of the standards and phases keeps, whatever its numbers."""

import sys
from pathlib import Path
from typing import get_type_hints

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent / "published"))

import mutation

from batterboard.quantity import dimension_of
from batterboard.working import Formula
from batterboard.working.dimensions import infer

EVERY = mutation.formulas()
each_formula = pytest.mark.parametrize("formula", EVERY.values(), ids=EVERY.keys())

# Numbers of a usual size where no case calls the formula.
USUAL = {
    "length": 0.5,
    "area": 0.2,
    "volume": 0.5,
    "force": 5e3,
    "moment": 5e3,
    "pressure": 2e7,
    "line load": 5e3,
    "unit weight": 2e4,
    "subgrade modulus": 2e7,
    "second moment of area": 1e-4,
    "section modulus": 1e-4,
    "temperature": 20.0,
    "time": 86400.0,
    "angle": 0.5,
}


def sample(formula: Formula) -> dict[str, float]:
    """Arguments inside the limits where a case knows some, else of a usual size."""
    hints = get_type_hints(formula.function, include_extras=True)
    usual = {name: USUAL.get(dimension_of(hints[name]).name, 1.0) for name in formula.arguments}
    return usual | mutation.shelf().samples.get(id(formula), {})


def call(formula: Formula, given: dict):
    code = formula.function.__code__
    positional = formula.arguments[: code.co_argcount]
    return formula(*(given[n] for n in positional), **{n: given[n] for n in formula.arguments if n not in positional})


def is_a_real_number(value) -> bool:
    return np.asarray(value).dtype.kind in "fib"


def test_every_room_with_formulas_can_be_used():
    assert mutation.modules()[1] == []
    assert EVERY


@each_formula
def test_a_formula_is_straight_line_and_says_what_it_is(formula: Formula):
    assert formula.tree is not None
    assert formula.__doc__ and formula.source.document.name


@each_formula
def test_the_dimensions_of_a_formula_balance(formula: Formula):
    infer(formula)


@each_formula
@pytest.mark.parametrize("shape", [(), (3,), (2, 3)], ids=str)
def test_a_formula_gives_the_shape_it_is_given(formula: Formula, shape: tuple[int, ...]):
    one = sample(formula)
    spread = 1 + 1e-4 * np.arange(np.prod(shape, dtype=int)).reshape(shape)
    many = {name: value * spread if shape else value for name, value in one.items()}
    value = call(formula, many)
    assert np.shape(value) == shape
    for place in np.ndindex(shape):
        alone = call(formula, {name: float(np.asarray(many[name])[place]) for name in many})
        assert np.asarray(value)[place] == pytest.approx(alone, rel=1e-12, nan_ok=True)


@each_formula
@pytest.mark.parametrize("of", [-1.0, 0.0], ids=["negated", "zero"])
def test_a_formula_asks_about_every_sign(formula: Formula, of: float):
    one = sample(formula)
    for changed in (*([name] for name in one), list(one)):
        given = one | {name: of * one[name] for name in changed}
        assert is_a_real_number(call(formula, given)), changed
        arrays = {name: np.full(2, value) for name, value in given.items()}
        assert is_a_real_number(call(formula, arrays)), changed


@each_formula
def test_a_formula_gives_nan_for_nan(formula: Formula):
    one = sample(formula)
    for name in one:
        assert np.isnan(call(formula, one | {name: float("nan")})), name
        arrays = {key: np.full(2, value) for key, value in one.items()} | {name: np.full(2, np.nan)}
        assert np.all(np.isnan(call(formula, arrays))), name


@each_formula
def test_a_case_calls_the_formula(formula: Formula):
    assert mutation.shelf().calling.get(id(formula)), "add a published or derived case that calls it"


def test_every_number_of_every_formula_is_held_by_a_case():
    tried, unnoticed = mutation.survivors()
    reasons = mutation.allowed()
    assert tried
    assert [str(mutant) for mutant in unnoticed if mutant.key not in reasons] == []
    idle = set(reasons) - {mutant.key for mutant in unnoticed}
    assert not idle, f"no survivor any more, take it off the list: {idle}"
