"""What mix, how strong at which age, and what does added water cost?"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from batterboard import read_job
from batterboard.job.schema import Job
from batterboard.phases import concrete
from batterboard.quantity import day, gal, gal_per_yd3, inch, lb_per_yd3, psi, yd3
from batterboard.study.sweep import varied
from batterboard.work.build import build

GATE = read_job(Path(__file__).parents[2] / "examples/orchard-gate/job.toml")


def answered(job: Job = GATE, **changes) -> concrete.Concrete:
    """The gate's concrete with other numbers; `__` stands for the dots of a path."""
    job = varied(job, {path.replace("__", "."): value for path, value in changes.items()})
    return concrete.mixes(build(job), job.mixes, job.site, job.pour)


def wetted(job: Job = GATE, **changes) -> concrete.Concrete:
    """The same where the piers' slump is reached with water."""
    lifts = (job.pour.lifts[0], replace(job.pour.lifts[1], wetted="water"))
    return answered(replace(job, pour=replace(job.pour, lifts=lifts)), **changes)


def the(checks, name, about=None):
    found = [check for check in checks if check.name == name and about in (None, *check.key)]
    assert len(found) == 1
    return found[0]


def test_a_frosty_wet_site_asks_for_more_than_was_ordered():
    made = answered(site__exposed=("F3", "C2"))
    ordered = the(made.checks, "strength_ordered")
    assert ordered.demand == pytest.approx(5000 * psi)
    assert ordered.verdict == "fails"
    assert "class" in ordered.note


def test_shaking_ground_asks_more_of_a_foundation():
    strength = {"mixes__stiff__strength": 2800 * psi, "site__exposed": ("F0", "C1")}
    calm, shaken = (
        the(answered(site__seismic=category, **strength).checks, "strength_ordered") for category in ("C", "D")
    )
    assert (calm.demand, shaken.demand) == (pytest.approx(2500 * psi), pytest.approx(3000 * psi))
    assert calm.holds and not shaken.holds and "19.2.1.1" in shaken.note


def test_silica_fume_is_limited_where_salt_is():
    made = answered(site__exposed=("F3",), mixes__stiff__silica_fume=0.12, mixes__stiff__fly_ash=0.2)
    assert not the(made.checks, "silica_fume").holds and the(made.checks, "ash_and_silica").holds
    assert not [c for c in answered(site__exposed=("F3",)).checks if c.name == "silica_fume"]


def test_the_mix_takes_the_drier_of_its_own_limit_and_the_classes():
    assert answered(site__exposed=("F1", "S1")).mixes["stiff"].greatest == pytest.approx(0.50)
    assert answered(mixes__stiff__water_cement=0.42).mixes["stiff"].greatest == pytest.approx(0.42)
    assert np.isnan(answered(site__exposed=("F0",)).mixes["stiff"].greatest)


def test_an_order_wetter_than_its_class_is_told():
    assert the(answered(mixes__stiff__water_cement=0.60).checks, "water_over_cement").verdict == "fails"
    assert the(answered(mixes__stiff__water_cement=0.45).checks, "water_over_cement").verdict == "holds"


def test_air_within_its_tolerance_passes_and_less_does_not():
    assert the(answered(mixes__stiff__air=0.036).checks, "air_entrained").holds
    assert not the(answered(mixes__stiff__air=0.034).checks, "air_entrained").holds
    assert not [c for c in answered(site__exposed=("F0",)).checks if c.name == "air_entrained"]


def test_salt_limits_what_may_replace_cement():
    made = answered(site__exposed=("F3",), mixes__stiff__fly_ash=0.20, mixes__stiff__slag=0.35)
    assert the(made.checks, "fly_ash").holds
    assert not the(made.checks, "replaced").holds


def test_stone_is_judged_by_the_narrowest_form():
    stone = the(answered().checks, "stone")
    assert stone.capacity == pytest.approx(min(22 / 5, 16 / 3) * inch)


def test_the_ticket_is_believed_before_any_table():
    mix = answered(mixes__stiff__water=280 * lb_per_yd3, mixes__stiff__cement_content=560 * lb_per_yd3).mixes["stiff"]
    assert (mix.ratio, mix.batch_from) == (pytest.approx(0.50), "ticket")
    guess = answered()
    assert guess.mixes["stiff"].batch_from == "estimate"
    assert any("estimate" in note for note in guess.notes)


def test_strength_at_seven_days_in_the_warm_is_what_is_published():
    gain = answered(pour__air=23.0).mixes["stiff"].gain
    at_7 = gain.at_air[list(gain.ages).index(7 * day)]
    assert at_7 / (4000 * psi) == pytest.approx(0.7035, abs=5e-5)
    assert "C1074" in gain.function and "209" in gain.function


def test_strength_grows_with_age_and_with_warmth():
    gain = answered().mixes["stiff"].gain
    assert gain.grid.shape == (len(gain.ages), len(gain.temperatures))
    assert np.all(np.diff(gain.grid, axis=0) > 0) and np.all(np.diff(gain.grid, axis=1) > 0)


def test_two_inches_by_water_cost_two_gallons_and_a_tenth_of_the_strength():
    water = wetted().water(2, "stiff")
    assert water.added == pytest.approx(2 * gal_per_yd3)
    assert water.per_load == pytest.approx(16 * gal)  # 8 yd in a truck
    assert water.in_all == pytest.approx(2 * gal_per_yd3 * build(GATE).lifts[1].volume)
    assert 0.88 < water.keeps < 0.96
    assert water.by_rule_low == pytest.approx(3600 * psi) and water.by_rule_high == pytest.approx(3700 * psi)
    assert the(wetted().checks, "strength_left", "lift 2").holds


def test_an_admixture_costs_no_strength():
    water = answered().water(2, "stiff")
    assert water.wetted == "admixture"
    assert (water.added, water.keeps) == (0, 1)
    assert water.by_table > 0  # what water would have taken


def test_logged_water_replaces_what_was_planned():
    water = answered(pour__lifts__1__water=5 * gal_per_yd3).water(2, "stiff")
    assert water.logged and water.added == pytest.approx(5 * gal_per_yd3)
    assert not answered().water(2, "stiff").logged


def test_too_much_water_fails_both_the_ratio_and_the_strength():
    made = answered(pour__lifts__1__water=8 * gal_per_yd3)
    assert not the(made.checks, "wetted_ratio", "lift 2").holds
    assert not the(made.checks, "strength_left", "lift 2").holds
    assert not [check for check in made.checks if "lift 1" in check.key]  # nothing was put in there


@pytest.mark.parametrize("strength", [3500, 4000, 5000])
def test_water_up_to_what_is_allowed_just_holds(strength):
    same = {"mixes__stiff__strength": strength * psi}
    allowed = answered(**same).water(2, "stiff").allowed
    judged = [
        [
            the(answered(pour__lifts__1__water=allowed * much, **same).checks, name, "lift 2").holds
            for much in (0.999, 1.001)
        ]
        for name in ("wetted_ratio", "strength_left")
        if allowed > 0
    ]
    assert all(just for just, _ in judged) and (not judged or not all(over for _, over in judged))


@pytest.mark.parametrize("strength", [2500, 3500, 4000, 4500, 5000, 6000])
@pytest.mark.parametrize("exposed", [("F0",), ("F1",), ("F2", "S2"), ("C2",)])
def test_no_water_never_fails_a_mix_that_is_strong_enough(strength, exposed):
    made = wetted(mixes__stiff__strength=strength * psi, site__exposed=exposed, pour__lifts__1__slump=4 * inch)
    if the(made.checks, "strength_ordered").holds and made.mixes["stiff"].ratio > 0:
        assert all(check.holds for check in made.checks if check.name in ("strength_left", "wetted_ratio"))


@given(st.floats(0, 12), st.floats(0, 12))
def test_wetter_never_gains_strength(one, other):
    less, more = sorted((one, other))
    dry = answered(pour__lifts__1__water=less * gal_per_yd3).water(2, "stiff")
    wet = answered(pour__lifts__1__water=more * gal_per_yd3).water(2, "stiff")
    assert wet.strength <= dry.strength and wet.by_rule_low <= dry.by_rule_low and wet.ratio_after >= dry.ratio_after


def test_many_variants_answer_as_each_alone():
    strengths, slumps = np.array([3500.0, 4000, 5000]) * psi, np.array([5.0, 6, 7]) * inch
    airs, waters = np.array([0.0, 10, 25]), np.array([0.0, 3, 9]) * gal_per_yd3
    paths = ("mixes__stiff__strength", "pour__lifts__1__slump", "pour__air", "pour__lifts__1__water")
    together = wetted(**dict(zip(paths, (strengths, slumps, airs, waters), strict=True)))
    for i, values in enumerate(zip(strengths, slumps, airs, waters, strict=True)):
        alone = wetted(**dict(zip(paths, values, strict=True)))
        assert [c.key for c in alone.checks] == [c.key for c in together.checks]
        for one, many in zip(alone.checks, together.checks, strict=True):
            assert np.broadcast_to(many.ratio, 3)[i] == pytest.approx(one.ratio, rel=1e-12, nan_ok=True)
        assert together.mixes["stiff"].gain.grid[..., i] == pytest.approx(alone.mixes["stiff"].gain.grid, rel=1e-12)
        assert together.water(2, "stiff").strength[i] == pytest.approx(alone.water(2, "stiff").strength, rel=1e-12)


def test_the_working_of_added_water_goes_down_to_the_curve():
    check = the(wetted().checks, "strength_left", "lift 2")
    assert [step.formula.name for step in check.steps] == ["ratio_after", "strength_after"]


def test_a_load_of_eight_yards_is_what_the_gallons_are_for():
    assert answered(pour__truck__load=4 * yd3, pour__lifts__1__water=1 * gal_per_yd3).water(
        2, "stiff"
    ).per_load == pytest.approx(4 * gal)
