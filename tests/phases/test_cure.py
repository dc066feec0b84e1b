"""When do I strip, weld and load it, and how is it kept until then?"""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from batterboard import read_job
from batterboard.job.schema import Break, Job, Load, Warmth, Weather
from batterboard.phases import concrete, cure
from batterboard.quantity import Celsius, day, gal_per_yd3, hour, psi, read
from batterboard.study.sweep import varied
from batterboard.work.build import build

EXAMPLES = Path(__file__).parents[2] / "examples"
ASKED = read_job(EXAMPLES / "orchard-gate/job.toml")
GATE = varied(ASKED, {"pour.swing": 0.0})  # days without nights, so that what is published can be asked


def F(degrees: float) -> float:
    return read(f"{degrees} F", Celsius)


def timed(job: Job = GATE, **changes) -> cure.Times:
    """The gate's times with other numbers; `__` stands for the dots of a path."""
    job = varied(job, {path.replace("__", "."): value for path, value in changes.items()})
    work = build(job)
    return cure.times(work, concrete.mixes(work, job.mixes, job.site, job.pour), job.pour)


def the(checks, name, about):
    found = [check for check in checks if check.name == name and about in check.key]
    assert len(found) == 1
    return found[0]


def test_three_quarters_of_the_strength_in_the_warm_take_what_is_published():
    wait = timed(pour__air=23.0).wait("three quarters", "west")
    assert wait.at / day == pytest.approx(8.276, abs=5e-4)
    assert wait.needs == pytest.approx(3000 * psi) and wait.reaches == pytest.approx(3000 * psi)
    assert wait.governs == "strength"


def test_type_iii_is_sooner_and_cured_for_less_long():
    quick = timed(mixes__stiff__cement="Type III", pour__air=23.0)
    assert quick.wait("three quarters", "west").at / day == pytest.approx(5.565, abs=5e-4)
    assert quick.wait("cure", "west").at == pytest.approx(3 * day)
    assert timed().wait("cure", "west").at == pytest.approx(7 * day)


def test_forms_stay_for_the_tables_hours_and_for_the_edges():
    hot, cool = timed(pour__air=32.0).wait("strip", "west"), timed(pour__air=11.0).wait("strip", "west")
    assert hot.by_rule == cool.by_rule == pytest.approx(12 * hour)
    assert hot.governs == "rule" and hot.at == pytest.approx(12 * hour)
    assert cool.governs == "strength" and cool.at > 24 * hour and cool.reaches == pytest.approx(500 * psi)


def test_a_mix_beyond_the_strength_table_still_has_its_times():
    strong = timed(mixes__stiff__strength=8000 * psi, site__exposed=("F0",))
    assert all(np.isfinite(wait.at) for wait in strong.waits)


def test_what_is_cast_against_earth_is_not_stripped():
    stripped = {wait.element for wait in timed().waits if wait.act == "strip"}
    assert stripped == {name for name, pier in build(GATE).piers.items() if pier.shaft.against == "form"}


def test_habits_are_days_at_seventy():
    wait = timed(pour__air=F(70)).wait("tighten", "west")
    assert wait.by_rule == pytest.approx(7 * day) and wait.habit_low == wait.habit_high == 7 * day


def test_the_leaf_waits_for_the_later_of_habit_and_strength():
    hang = timed().wait("hang", "west")
    assert hang.at == max(hang.by_rule, hang.by_strength) and hang.fraction == pytest.approx(0.75)


def test_welding_waits_for_the_end_of_curing():
    times = timed()
    assert times.wait("weld", "west").at == times.wait("cure", "west").at


def test_a_machine_is_set_and_tightened_but_not_welded():
    acts = {wait.act for wait in timed(read_job(EXAMPLES / "pump-pad/job.toml")).waits}
    assert {"set", "snug", "tighten", "three quarters"} <= acts and not {"weld", "hang"} & acts


def test_cold_brings_blankets_and_they_bring_the_times():
    cold, cool = timed(pour__air=F(35)), timed(pour__air=F(45))
    assert cold.kept[2].cold and not cool.kept[2].cold
    assert cold.kept[2].concrete == pytest.approx(F(50)) == cool.kept[2].concrete
    assert cold.kept[2].protect == 6 * day and cool.kept[2].protect == 0
    assert any("cold" in note for note in cold.notes) and any("50 F" in note for note in cool.notes)
    assert cold.kept[2].most_drop == pytest.approx(40 / 1.8)
    assert cold.kept[2].as_mixed == pytest.approx(F(55))


def test_concrete_placed_too_cold_is_told_only_where_it_is_cold():
    check = the(timed(pour__air=F(35), pour__concrete=F(48)).checks, "warm_enough", "lift 2")
    assert not check.holds and check.demand == pytest.approx(F(50))
    assert timed(pour__air=F(45), pour__concrete=F(48)).checks == ()


def test_water_makes_it_wait_longer():
    dry, wet = timed(), timed(pour__lifts__1__water=4 * gal_per_yd3)
    assert wet.wait("hang", "west").at > dry.wait("hang", "west").at
    assert wet.wait("strip", "west").by_strength > dry.wait("strip", "west").by_strength
    assert wet.wait("frost", "tie").at == dry.wait("frost", "tie").at  # cast in the other lift


def test_strength_that_never_comes_is_nan():
    drowned = timed(pour__lifts__1__water=14 * gal_per_yd3).wait("hang", "west")
    assert np.isnan(drowned.by_strength) and np.isnan(drowned.at)


@given(st.floats(-20, 40), st.floats(-20, 40))
def test_colder_never_is_sooner(one, other):
    colder, warmer = sorted((one, other))
    for slow, fast in zip(timed(pour__air=colder).waits, timed(pour__air=warmer).waits, strict=True):
        assert slow.at >= fast.at * (1 - 1e-12), slow.name


@given(st.floats(0, 8), st.floats(0, 8))
def test_wetter_never_is_sooner(one, other):
    less, more = sorted((one, other))
    dry, wet = (timed(pour__lifts__1__water=water * gal_per_yd3) for water in (less, more))
    for slow, fast in zip(wet.waits, dry.waits, strict=True):
        assert not slow.at < fast.at * (1 - 1e-12), slow.name


@given(st.floats(-9, 40))
def test_what_waits_for_strength_has_it(air):
    for wait in timed(pour__air=air).waits:
        if wait.strength and np.isfinite(wait.at):
            assert wait.reaches >= wait.needs * (1 - 1e-9), wait.name


def test_many_variants_answer_as_each_alone():
    airs, waters = np.array([-12.0, 3, 8, 25]), np.array([0.0, 2, 5, 14]) * gal_per_yd3
    together = timed(pour__air=airs, pour__lifts__1__water=waters)
    for i, (air, water) in enumerate(zip(airs.tolist(), waters.tolist(), strict=True)):
        alone = timed(pour__air=air, pour__lifts__1__water=water)
        for one, many in zip(alone.waits, together.waits, strict=True):
            assert one.name == many.name
            for name in ("by_rule", "by_strength", "at", "reaches"):
                value = np.broadcast_to(getattr(many, name), 4)[i]
                assert value == pytest.approx(getattr(one, name), rel=1e-12, nan_ok=True), (one.name, name)
        for one, many in zip(alone.kept.values(), together.kept.values(), strict=True):
            assert np.broadcast_to(many.concrete, 4)[i] == pytest.approx(one.concrete, rel=1e-12)
            assert np.broadcast_to(many.kept, 4)[i] == pytest.approx(one.kept)


def test_each_forecast_names_its_functions():
    gain = timed().gain
    assert all(said in gain for said in ("ACI 209R-92", "Q = 5000 K", "datum 0", "EN 1992-1-1"))


def test_a_socket_post_has_no_nuts_and_no_plate():
    socket = replace(GATE.posts["hinge"], joint=None)
    posts = {**GATE.posts, "hinge": socket}
    acts = {wait.act for wait in timed(replace(GATE, posts=posts)).waits if wait.element == "west"}
    assert not {"set", "snug", "tighten", "weld"} & acts and "hang" in acts


# ---- hour by hour ----


def test_a_warm_afternoon_gives_more_than_a_cold_night_takes():
    """Of the exponential functions; the straight one of temperature-time loses only below its datum."""
    even, swinging = (
        timed(pour__air=16.0, pour__swing=swing).wait("three quarters", "west").earliest for swing in (0.0, 8.0)
    )
    assert swinging < even


def test_only_hours_at_fifty_count_for_forms_left_open():
    rules = [
        timed(pour__kept="open", pour__air=air, pour__swing=6.0).wait("strip", "west").by_rule
        for air in (3.0, 8.0, 17.0)
    ]
    assert rules[0] == np.inf  # its warmest hour has 9 °C
    assert 12 * hour < rules[1] < 36 * hour and rules[2] == pytest.approx(12 * hour)
    kept = timed(pour__air=3.0, pour__swing=6.0).wait("strip", "west")
    assert kept.by_rule == pytest.approx(12 * hour)  # blankets hold 50 F round the forms


@given(st.floats(-20, 40), st.floats(-20, 40), st.floats(0, 12), st.sampled_from(["warm", "open"]), st.booleans())
def test_colder_never_strips_earlier_however_it_is_kept(one, other, swing, kept, quick):
    colder, warmer = sorted((one, other))
    changes = {"pour__swing": swing, "pour__kept": kept, "mixes__stiff__cement": "Type III" if quick else "Type I"}
    for slow, fast in zip(timed(pour__air=colder, **changes).waits, timed(pour__air=warmer, **changes).waits):
        if slow.act != "cure" and slow.act != "weld":  # cured for longer where it is cold
            assert slow.at >= fast.at * (1 - 1e-12), slow.name


@given(st.floats(0, 12), st.floats(0, 12), st.floats(0, 25))
def test_wetter_never_gains_strength(one, other, air):
    less, more = sorted((one, other))
    dry, wet = (
        timed(pour__lifts__1__water=water * gal_per_yd3, pour__air=air).wait("cure", "west") for water in (less, more)
    )
    assert wet.reaches <= dry.reaches * (1 + 1e-12)


def test_a_band_has_an_early_and_a_late_edge_and_the_late_one_rules():
    for wait in timed(pour__air=8.0).waits:
        if wait.strength:
            assert wait.earliest < wait.by_strength <= wait.at


def test_a_thermometer_in_the_concrete_takes_the_place_of_the_air():
    warm = {i: Warmth(lift=2, after=i * 12 * hour, reads=30.0) for i in range(1, 9)}
    read_ = timed(replace(GATE, pour=replace(GATE.pour, thermometer=warm)))
    assert read_.wait("strip", "west").at < timed().wait("strip", "west").at
    assert read_.wait("cure", "tie").reaches == timed().wait("cure", "tie").reaches  # the other lift
    assert read_.kept[2].read == 8 and any("thermometer" in note for note in read_.notes)


def test_cylinders_pull_every_curve_to_what_they_broke_at():
    low = {1: Break(lift=2, after=3 * day, strength=1500 * psi, cured="in the lab")}
    high = {1: Break(lift=2, after=3 * day, strength=2600 * psi, cured="in the lab")}
    weak, strong = (timed(replace(GATE, pour=replace(GATE.pour, breaks=each))) for each in (low, high))
    asked = timed().wait("hang", "west").by_strength
    assert strong.wait("hang", "west").by_strength < asked < weak.wait("hang", "west").by_strength
    assert strong.kept[2].found == pytest.approx(2600 / (4000 * 3 / (4 + 0.85 * 3)), rel=1e-9)
    assert any("cylinders" in note for note in strong.notes)


def test_cylinders_as_forecast_change_nothing():
    f = 4000 * psi * 7 / (4 + 0.85 * 7)
    warm = varied(GATE, {"pour.air": 23.0})
    each = {1: Break(lift=2, after=7 * day, strength=f, cured="on site")}
    waited = timed(replace(warm, pour=replace(warm.pour, breaks=each)))
    assert waited.kept[2].found == pytest.approx(1.0, rel=1e-9)


def test_the_forecast_takes_the_place_of_mean_and_swing():
    start = GATE.pour.when
    told = tuple(Weather(at=start + timedelta(hours=i), air=23.0, humidity=0.5, wind=2.0) for i in range(29 * 24))
    forecast = timed(replace(GATE, pour=replace(GATE.pour, weather=told, air=5.0)))
    assert forecast.wait("three quarters", "west").at / day == pytest.approx(8.276, abs=5e-4)


def test_what_is_hung_asks_for_its_own_strength_too():
    hang = timed().wait("hang", "west")
    S = (22 * 0.0254) ** 3 / 6
    M = 380 * 4.4482216 * 13 * 0.3048 / 2 + 250 * 4.4482216 * 13 * 0.3048
    assert hang.own / psi == pytest.approx((1.6 * M / S / psi / 3) ** 2, rel=1e-6)
    assert hang.own < hang.needs and "leaf" in hang.load


def test_backfill_waits_for_stripped_forms():
    times = timed()
    assert times.wait("backfill", "west").at >= times.wait("strip", "west").at


def test_cylinders_as_forecast_by_the_slowest_function_leave_the_last_day_where_it_was():
    """One early break must not be stretched by the European curve into strength that never comes."""
    warm = varied(GATE, {"pour.air": 23.0})
    f = 4000 * psi * 3 / (4 + 0.85 * 3)
    each = {1: Break(lift=2, after=3 * day, strength=f, cured="on site")}
    waited = timed(replace(warm, pour=replace(warm.pour, breaks=each))).wait("three quarters", "west")
    assert waited.at / day == pytest.approx(8.276, abs=0.5)
    late = {1: Break(lift=2, after=28 * day, strength=3600 * psi, cured="on site")}
    weak = timed(replace(warm, pour=replace(warm.pour, breaks=late))).wait("three quarters", "west")
    assert weak.at > 8.276 * day and np.isfinite(weak.at)


def test_concrete_left_open_in_cold_air_does_not_hold():
    left = timed(pour__kept="open", pour__air=3.0)
    assert not the(left.checks, "kept_warm", "lift 2").holds
    assert the(timed(pour__kept="open", pour__air=15.0).checks, "kept_warm", "lift 2").holds
    assert timed(pour__air=15.0).checks == ()


def test_concrete_is_as_warm_as_it_was_read_at_its_trucks():
    loads = {1: Load(lift=2, temperature=24.0), 2: Load(lift=2, temperature=20.0), 3: Load(lift=1)}
    kept = timed(replace(GATE, pour=replace(GATE.pour, loads=loads))).kept
    assert kept[2].placed == pytest.approx(22.0) and kept[1].placed == GATE.pour.concrete
