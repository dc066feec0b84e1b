"""Chances of sums of squares against a reference library."""

import math

import pytest

from batterboard.methods.chances import chi_squared_above, chi_squared_at


@pytest.mark.parametrize("degrees", [1, 2, 3, 4, 7, 20, 61])
@pytest.mark.parametrize("x", [0.001, 0.5, 3.84, 11.3, 60.0, 150.0])
def test_the_tail_is_that_of_the_reference(x, degrees):
    stats = pytest.importorskip("scipy.stats")
    assert chi_squared_above(x, degrees) == pytest.approx(stats.chi2.sf(x, degrees), rel=1e-10, abs=1e-300)


@pytest.mark.parametrize("degrees", [1, 2, 5, 18])
@pytest.mark.parametrize("chance", [0.5, 0.05, 0.01, 1e-6])
def test_what_is_above_so_often_is_so_often_above(chance, degrees):
    assert chi_squared_above(chi_squared_at(chance, degrees), degrees) == pytest.approx(chance, rel=1e-9)


def test_nothing_is_certain_and_nonsense_is_not_a_number():
    assert chi_squared_above(0.0, 3) == 1 and chi_squared_above(1e9, 3) == 0
    assert math.isnan(chi_squared_above(1.0, 0)) and math.isnan(chi_squared_at(2.0, 3))
    assert chi_squared_at(0.0, 3) == math.inf
