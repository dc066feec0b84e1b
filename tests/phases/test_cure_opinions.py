"""What does every published function say, and what do the cylinders say?"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from batterboard import read_job
from batterboard.job.schema import Break
from batterboard.phases.cure.opinions import exponential, hyperbola
from batterboard.plan import Plan
from batterboard.quantity import day, psi
from batterboard.standards import astm_c1074, fhp

GATE = read_job(Path(__file__).parents[2] / "examples/orchard-gate/job.toml")
AGES = np.array([1.0, 3.0, 7.0, 28.0]) * day


def test_a_hyperbola_is_found_again_from_its_own_strengths():
    S = astm_c1074.hyperbolic(5200 * psi, 0.35 / day, 0.3 * day, AGES)
    assert hyperbola(AGES, S)(14 * day) == pytest.approx(
        astm_c1074.hyperbolic(5200 * psi, 0.35 / day, 0.3 * day, 14 * day), rel=0.01
    )


def test_an_exponential_is_found_again_from_its_own_strengths():
    S = fhp.exponential(5500 * psi, 30 * 3600.0, 0.8, AGES)
    found = exponential(AGES, S)(14 * day)
    assert found == pytest.approx(fhp.exponential(5500 * psi, 30 * 3600.0, 0.8, 14 * day), rel=0.01)


def test_cylinders_that_lose_strength_fit_no_curve():
    assert np.isnan(hyperbola(AGES, np.array([4.0, 3.0, 2.0, 1.0]) * 1e7)(14 * day))
    assert np.isnan(exponential(AGES, np.array([4.0, 3.0, 2.0, 1.0]) * 1e7)(14 * day))


def test_four_opinions_make_the_band_and_plowman_stands_beside_it():
    of_lift = [one for one in Plan(GATE).opinions if one.lift == "lift 2"]
    assert [one.rules for one in of_lift] == [True] * 4 + [False]
    assert all(np.all(np.diff(one.at) > 0) for one in of_lift)


def test_three_ages_of_cylinders_bring_two_fitted_curves():
    broken = {
        i: Break(lift=2, after=age * day, strength=f * psi, cured="in the lab")
        for i, (age, f) in enumerate(((1, 900), (3, 1900), (7, 2900)), 1)
    }
    plan = Plan(replace(GATE, pour=replace(GATE.pour, breaks=broken)))
    fitted = [one for one in plan.opinions if "cylinders" in one.function]
    assert [one.lift for one in fitted] == ["lift 2"] * 2
    for one in fitted:
        assert 2900 * psi < one.at[-1] < 5000 * psi
