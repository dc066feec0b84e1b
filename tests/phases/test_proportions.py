"""What goes into the mixer where it is mixed on site?"""

from dataclasses import replace
from math import isnan
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from batterboard import read_job
from batterboard.job.schema import Job, OnSite
from batterboard.phases.proportions import Trial
from batterboard.plan import Plan
from batterboard.quantity import ft3, lb_per_ft3, lbm, psi, yd3
from batterboard.study.sweep import varied

GATE = read_job(Path(__file__).parent / "gate.toml")


def trial(strength: float = 3000, *, job: Job = GATE, **on_site) -> Trial:
    """The gate's mix of so many psi, with air, mixed on site from this."""
    mix = replace(job.mixes["stiff"], strength=strength * psi, on_site=OnSite(**on_site))
    return Plan(replace(job, mixes={"stiff": mix})).proportions.trials["stiff"]


def test_the_table_is_entered_with_the_average_not_with_the_specified_strength():
    made = trial(3000)
    assert made.average == pytest.approx(4200 * psi)
    assert made.ratio == pytest.approx(0.48 - 0.2 * 0.08)  # between 4000 and 5000 psi, with air
    assert made.governs == "strength" and not made.by_records


def test_test_records_say_the_average_themselves():
    made = trial(3000, average=3600 * psi)
    assert made.by_records and made.average == pytest.approx(3600 * psi)
    assert made.ratio == pytest.approx(0.59 - 0.6 * 0.11)


def test_an_exposure_class_may_ask_for_less_water_than_the_strength():
    made = trial(2500, job=varied(GATE, {"site.exposed": ("F2",)}))
    assert (made.ratio, made.governs) == (pytest.approx(0.45), "exposure")


def test_beyond_the_table_nothing_is_guessed_and_that_is_said():
    made = trial(4000)
    assert made.governs == "outside the table"
    assert isnan(made.cement) and isnan(made.sand) and all(isnan(batch.cement) for batch in made.batches)
    assert any("outside the table" in note for note in Plan(GATE).proportions.notes)


def test_what_goes_in_fills_the_volume():
    """By absolute volumes: a cubic metre of water, cement, stone, sand and air is a cubic metre."""
    made = trial()
    water = 62.4 * lb_per_ft3
    parts = made.water + made.cement / 3.15 + made.stone / 2.68 + made.sand / 2.64
    assert parts / water + made.air == pytest.approx(1, rel=1e-12)


def test_damp_sand_and_stone_take_nothing_from_the_weight():
    dry, wet = trial(sand_wet=0.007, stone_wet=0.005), trial(sand_wet=0.08, stone_wet=0.02)
    assert dry.water_in == pytest.approx(dry.water)
    assert wet.water_in < dry.water_in and wet.sand_damp > dry.sand_damp
    assert wet.weight == pytest.approx(dry.weight, rel=1e-12)


def test_sand_that_brings_too_much_water_is_told():
    job = replace(
        GATE, mixes={"stiff": replace(GATE.mixes["stiff"], strength=3000 * psi, on_site=OnSite(sand_wet=0.4))}
    )
    made = Plan(job).proportions
    assert isnan(made.trials["stiff"].water_in)
    assert any("moisture" in note for note in made.notes)


def test_sand_finer_or_coarser_than_the_table_is_not_guessed():
    assert isnan(trial(fineness=2.3).stone) and isnan(trial(fineness=3.1).stone)
    assert trial(fineness=2.4).stone > trial(fineness=3.0).stone


def test_a_batch_of_a_bag_holds_a_bag_and_all_batches_are_alike():
    made = trial(batch=3 * ft3)
    yard, mixer, bag = made.batches
    assert bag.cement == pytest.approx(94 * lbm)
    assert (yard.concrete, mixer.concrete) == (pytest.approx(yd3), pytest.approx(3 * ft3))
    for batch in made.batches:
        assert batch.water / batch.cement == pytest.approx(made.water_in / made.cement)
        assert batch.cement + batch.stone + batch.sand + batch.water == pytest.approx(made.weight * batch.concrete)


def test_typical_sand_and_stone_are_called_so():
    assert Plan(GATE).proportions.trials["stiff"].assumed
    assert not trial().assumed


@settings(max_examples=25)
@given(st.floats(2000, 3700), st.floats(2000, 3700))
def test_stronger_never_takes_less_cement(one, other):
    weaker, stronger = sorted((one, other))
    assert trial(stronger).cement >= trial(weaker).cement * (1 - 1e-12)
