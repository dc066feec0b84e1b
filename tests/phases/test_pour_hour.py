"""In what order, how fast, when to wait, and what the day does with a late truck, rain and a short load."""

from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from batterboard import read_job
from batterboard.job import schema
from batterboard.job.errors import JobError
from batterboard.job.reader import read_text
from batterboard.plan import Plan
from batterboard.quantity import hour, minute, yd3
from batterboard.standards import aci305, aci306, astm_c172, c94, trade

EXAMPLES = Path(__file__).parents[2] / "examples"
GATE = read_job(EXAMPLES / "orchard-gate/job.toml")
TEXT = (EXAMPLES / "orchard-gate/job.toml").read_text()
VIBRATION = Plan(GATE).vibration  # of no rate or weather: found once for all variants


def gate(**changes) -> Plan:
    """The gate with other keys of [pour]; `truck__load` stands for what lies deeper."""
    pour = GATE.pour
    if changes.pop("covered", False):
        pour = replace(pour, lifts=(replace(pour.lifts[0], covered=True), pour.lifts[1]))
    for name, value in changes.items():
        outer, _, inner = name.partition("__")
        pour = replace(pour, **{outer: replace(getattr(pour, outer), **{inner: value}) if inner else value})
    plan = Plan(replace(GATE, pour=pour))
    plan.__dict__["vibration"] = VIBRATION
    return plan


def spell(at: datetime, air=14.0, humidity=0.5, wind=3.0, rain=0.0) -> schema.Weather:
    return schema.Weather(at=at, air=air, humidity=humidity, wind=wind, rain=rain)


def day_of(**same) -> tuple[schema.Weather, ...]:
    return tuple(spell(GATE.pour.when + timedelta(hours=n), **same) for n in range(30))


variants = st.fixed_dictionaries(
    {
        "concrete": st.floats(5, 38),
        "air": st.floats(-5, 38),
        "crew": st.integers(1, 8),
        "by": st.sampled_from(list(trade.PLACING)),
        "rate": st.none() | st.floats(0.2 / 3600, 3 / 3600),
        "truck__away": st.none() | st.floats(0, 80 * minute),
        "truck__load": st.floats(0.5 * yd3, 10 * yd3),
        "covered": st.booleans(),
    }
)


@settings(max_examples=60, deadline=None)
@given(variants)
def test_the_timeline_never_breaks_a_rule_it_states(changes):
    plan = gate(**changes)
    day, order = plan.hour, plan.pour
    lifts = {lift.number: lift for lift in order.lifts}
    assert [one.lift for one in day.placings] == sorted(one.lift for one in day.placings)
    for before, after in zip(day.placings, day.placings[1:]):
        assert after.starts >= before.ends - 1e-6  # one crew, one vibrator
    for one in day.placings:
        lift = lifts[one.lift]
        assert one.starts <= one.placed <= one.ends <= max(e.end for e in day.events)
        assert one.flow <= day.flow * (1 + 1e-9) and day.flow <= trade.placing(changes["by"], changes["crew"])
        for rise in order.rises:
            if rise.lift == one.lift and rise.takes == rise.takes:
                assert one.placed - one.starts >= rise.takes - 1e-6
        assert one.volume == pytest.approx(lift.gross)
    for hold in day.holds:
        starts = day.placing(hold.before).starts
        assert starts == hold.starts
        if hold.way == "joint":
            assert hold.perhaps > hold.latest  # no reading comes in time
        else:
            assert starts <= hold.latest + 1e-6
            assert starts >= (hold.perhaps if hold.way == "test" else hold.soonest) - 1e-6
            assert (hold.way == "test") == (hold.soonest > hold.latest)
    for load in day.loads:
        assert load.places <= changes["truck__load"] * (1 + 1e-9)
        assert sum(load.parts) == pytest.approx(load.places) and len(load.parts) == len(load.lifts)
        assert load.volume >= load.places * (1 - 1e-6)
        assert load.on_site - load.batched == pytest.approx(changes["truck__away"] or 0)
        if (changes["truck__away"] or 0) + astm_c172.TESTED < load.oldest:
            assert load.age <= load.oldest + 1e-6
        else:
            assert any("too far" in note for note in day.notes)
    for late in plan.trouble.late:
        assert not late.latest < late.expected - 1e-6  # no truck is too late as it was planned
    for check in order.checks:
        if check.name == "not_too_old":  # the check asks what the timeline says
            assert check.holds == all(load.age <= load.oldest + 1e-6 for load in day.loads)
    for before, after in zip(day.loads, day.loads[1:]):
        assert after.starts >= before.empty - 1e-6  # one truck at the form at a time
    assert sum(load.places for load in day.loads) == pytest.approx(sum(one.volume for one in day.placings))
    for event in day.events:
        assert np.isfinite(event.start) and event.start <= event.end


@settings(max_examples=25, deadline=None)
@given(st.floats(5, 30), st.floats(0, 8))
def test_warmer_concrete_never_leaves_more_time(T, more):
    cool, warm = gate(concrete=T).hour, gate(concrete=T + more).hour
    for a, b in zip(cool.placings, warm.placings):
        assert a.cold - a.starts >= b.cold - b.starts - 1e-6


def test_a_load_that_would_grow_too_old_while_it_waits_is_parted_from_the_next():
    day = gate().hour
    assert [load.lifts for load in day.loads] == [(1,), (2,)]
    assert day.loads[1].why == "old" and any(event.kind == "last yard" for event in day.events)
    assert all(load.age <= c94.OLDEST == load.oldest for load in day.loads)


def test_a_shorter_age_on_the_order_parts_the_loads_sooner():
    short = gate(truck__oldest=50 * minute).hour
    assert all(load.age <= 50 * minute + 1e-6 for load in short.loads) and len(short.loads) > len(gate().hour.loads)


def test_boards_over_the_pads_make_the_wait_needless_and_one_truck_enough():
    day = gate(covered=True).hour
    assert [hold.way for hold in day.holds] == ["cover"]
    assert day.holds[0].starts == pytest.approx(day.placing(1).ends + trade.COVERING)


def test_where_both_cannot_be_met_the_ways_out_are_reckoned():
    hold = gate().hour.holds[0]
    assert hold.way == "test" and hold.perhaps <= hold.starts <= hold.latest < hold.soonest
    assert trade.setting_time(hold.cool_enough) >= hold.set_needed > GATE_SET
    slower = gate(concrete=hold.cool_enough - 0.5).hour.holds[0]
    assert slower.way == "wait" and slower.latest >= slower.soonest


GATE_SET = trade.setting_time(GATE.pour.concrete)


def test_hot_concrete_ends_the_day_at_a_planned_joint():
    day = gate(concrete=36.0).hour
    assert [hold.way for hold in day.holds] == ["joint"]
    assert day.placing(2).starts == 24 * hour and day.loads[1].why == "other day"


def logged(**load) -> schema.Load:
    """A load of the first lift, as timed at the truck."""
    return schema.Load(lift=1, **{key: GATE.pour.when + timedelta(minutes=m) for key, m in load.items()})


def test_a_lift_that_was_timed_stands_as_it_was_and_moves_what_follows():
    planned, late = gate().hour, gate(loads={1: logged(batched=-20, begun=20, empty=70)}).hour
    first, second = late.placings
    assert (first.starts, first.placed, first.rules) == (20 * minute, 70 * minute, "logged")
    assert late.holds[0].latest == pytest.approx(planned.holds[0].latest + 20 * minute)
    assert second.starts > planned.placings[1].starts
    assert late.loads[0].batched == -20 * minute and late.loads[0].age == pytest.approx(90 * minute)


def test_of_a_lift_whose_truck_only_was_seen_empty_the_beginning_is_reckoned_back():
    planned, seen = gate().hour.placings[0], gate(loads={1: logged(empty=60)}).hour.placings[0]
    assert seen.placed == pytest.approx(60 * minute)
    assert seen.placed - seen.starts == pytest.approx(planned.placed - planned.starts)


def test_a_second_lift_that_was_timed_ends_its_hold():
    second = schema.Load(lift=2, begun=GATE.pour.when + timedelta(hours=2))
    day = gate(loads={1: logged(begun=20, empty=70), 2: second}).hour
    assert day.holds[0].starts == day.placings[1].starts == 2 * hour


def test_times_without_a_day_move_nothing_and_that_is_said():
    day = gate(when=None, loads={1: logged(begun=20)}).hour
    assert day.placings[0].starts == 0 and any("move nothing" in note for note in day.notes)


def test_a_load_that_waits_in_hot_concrete_would_not_be_helped_by_boards_that_come_too_late():
    hold = gate(concrete=37.0, crew=1, by="barrow").hour.holds[0]
    assert hold.way == "joint" and not hold.boards_enough
    assert gate().hour.holds[0].boards_enough


def test_the_last_yard_is_called_on_each_day():
    day = gate(concrete=37.0, truck__load=1.0 * yd3).hour
    called = [event.load for event in day.events if event.kind == "last yard"]
    ends = [a.number for a, b in zip(day.loads, day.loads[1:]) if b.why == "other day"]
    assert ends and set(ends) <= set(called)


def test_water_for_a_lift_goes_by_what_is_then_left_in_the_drum():
    lifts = (GATE.pour.lifts[0], replace(GATE.pour.lifts[1], wetted="water"))
    plan = gate(lifts=lifts, covered=False)
    (wet,) = plan.hour.wettings
    load = plan.hour.loads[1]
    assert wet.drum == pytest.approx(load.volume) and wet.load == 2
    assert wet.water / wet.drum == pytest.approx(plan.concrete.water(2, "stiff").added)
    (dosed,) = gate().hour.wettings
    assert dosed.by == "admixture" and dosed.water == 0 and dosed.strength == GATE.mixes["stiff"].strength


def test_concrete_does_not_grow_stiff_before_the_vibrator_comes():
    vibrated = replace(VIBRATION, blocks=tuple(replace(one, takes=20 * one.takes) for one in VIBRATION.blocks))
    plan = gate()
    plan.__dict__["vibration"] = vibrated
    first = plan.hour.placings[0]
    assert first.placed - first.starts == pytest.approx(sum(b.takes for b in vibrated.blocks if b.lift == 1))
    assert first.rules == "vibrator" and first.flow < plan.hour.flow
    assert any("hold nobody up" in note for note in plan.hour.notes)


def test_two_vibrators_take_half_the_time():
    vibrated = replace(VIBRATION, blocks=tuple(replace(one, takes=20 * one.takes) for one in VIBRATION.blocks))
    days = []
    for vibrators in (1, 2):
        plan = gate(vibrators=vibrators)
        plan.__dict__["vibration"] = vibrated
        days.append(plan.hour)
    one, two = (day.placings[0] for day in days)
    assert two.placed - two.starts == pytest.approx((one.placed - one.starts) / 2)
    assert any("placed no faster than 2 vibrators follow" in note for note in days[1].notes)


def test_a_load_of_its_own_by_age_alone_says_what_would_save_it():
    day = gate(truck__away=30 * minute, truck__oldest=70 * minute, rate=1.5 / 3600 * 0.3048).hour
    assert any("load of its own by the age limit" in note for note in day.notes)


def test_barrows_take_longer_than_a_chute():
    assert gate(by="barrow", crew=2).hour.placing(1).placed > 2 * gate(by="chute").hour.placing(1).placed


def test_a_truck_smaller_than_a_pier_is_said_and_its_loads_follow_each_other():
    day = gate(truck__load=0.3 * yd3).hour
    assert any("more than one truck carries" in note for note in day.notes)
    assert all(load.places <= 0.3 * yd3 * (1 + 1e-9) for load in day.loads)


def test_a_plant_too_far_away_is_said():
    day = gate(truck__away=95 * minute).hour
    assert any("too far" in note for note in day.notes)


def test_what_is_cast_is_not_on_the_timeline():
    plan = Plan(read_job(EXAMPLES / "orchard-gate/as-built.toml"))
    placed = {name for one in plan.hour.placings for name in one.what}
    assert placed == {"west", "east"}  # pads and tie are done


# ---- weather ----


def test_without_a_forecast_the_limits_are_said():
    weather = gate().weather
    assert not weather.known and weather.notes
    assert aci305.evaporation(GATE.pour.concrete, GATE.pour.air, weather.humidity, weather.wind) == pytest.approx(
        aci305.PROTECT_FROM
    )


def test_dew_dries_nothing_and_dry_wind_asks_for_protection():
    damp = gate(weather=day_of(air=30.0, humidity=0.98, wind=5.0)).weather
    assert all(one.dew and one.evaporation == 0 and one.drying == "none" for one in damp.spells)
    dry = gate(concrete=30.0, weather=day_of(air=35.0, humidity=0.2, wind=9.0)).weather
    assert all(one.drying == "protect" for one in dry.spells)
    assert next(sign for sign in dry.signs if sign.name == "drying").state == "care"


def test_heavy_rain_stops_the_pour_and_light_rain_wants_covers():
    assert sign(gate(weather=day_of(rain=5e-3 / hour)), "rain").state == "stop"
    assert sign(gate(weather=day_of(rain=0.5e-3 / hour)), "rain").state == "care"
    assert sign(gate(weather=day_of()), "rain").state == "go"
    assert sign(gate(), "rain").state == "ask"


def sign(plan: Plan, name: str):
    return next(one for one in plan.weather.signs if one.name == name)


def test_cold_air_asks_for_warm_concrete():
    cold = gate(concrete=8.0, weather=day_of(air=-1.0))
    assert sign(cold, "air").state == "care" and sign(cold, "concrete").state == "stop"
    assert sign(cold, "night").state == "care"
    warm = gate(concrete=13.0, weather=day_of(air=-1.0))
    assert sign(warm, "concrete").state == "go"


def test_a_temperature_lost_on_the_way_is_a_difference_and_takes_no_offset():
    fresh = gate(weather=day_of(air=GATE.pour.concrete)).weather.fresh[0]
    assert fresh.lost == pytest.approx(0, abs=1e-12) and fresh.at_plant == pytest.approx(GATE.pour.concrete)
    colder = gate(weather=day_of(air=GATE.pour.concrete - 10)).weather.fresh[0]
    assert colder.lost == pytest.approx(0.25 * 10 * 25 / 60)


def test_ice_brings_hot_concrete_to_the_limit_and_hot_water_warms_cold_concrete():
    hot = schema.Batch(cement=70.0, stone=40.0, water=30.0)
    fresh = gate(batch=hot, air=38.0).weather.fresh[0]
    assert fresh.placed > aci306.HOTTEST and fresh.ice > 0
    mix = Plan(GATE).concrete.mixes["stiff"]
    iced = gate(batch=replace(hot, ice=fresh.ice / mix.water), air=38.0).weather.fresh[0]
    assert iced.placed == pytest.approx(aci306.HOTTEST, abs=0.05)
    cold = schema.Batch(cement=5.0, stone=5.0, water=10.0)
    fresh = gate(batch=cold, air=0.0).weather.fresh[0]
    warmed = gate(batch=replace(cold, water=fresh.water), air=0.0).weather.fresh[0]
    assert warmed.placed == pytest.approx(GATE.pour.concrete, abs=0.2)


# ---- if this happens ----


def test_a_quarter_yard_short_is_told_in_inches_of_pier_and_in_bags():
    short = gate().trouble.short
    assert short.by == pytest.approx(0.25 * yd3)
    assert short.depth_of_all == pytest.approx(short.depth_of_one / 2)
    assert short.bags * trade.bag(short.bag).makes >= short.by > (short.bags - 1) * trade.bag(short.bag).makes
    assert short.joint > 18 * 0.0254  # under the feet of bolts 18 in deep


def test_a_late_truck_has_until_the_joint_is_cold():
    plan = gate()
    late = plan.trouble.late
    assert [one.load for one in late] == [2]
    assert late[0].latest == pytest.approx(plan.hour.holds[0].latest) and late[0].expected <= late[0].latest


# ---- bad input ----


def wrong(text: str) -> str:
    with pytest.raises(JobError) as raised:
        read_text(TEXT.replace("[pour]\n", f"[pour]\n{text}\n"))
    return str(raised.value)


HOUR = '{{ at = 2027-04-12T{:02d}:00:00, air = "{}", humidity = "60 %", wind = "8 mph" }}'


@pytest.mark.parametrize(
    "text, said",
    [
        (f"weather = [{HOUR.format(9, '58 F')}, {HOUR.format(11, '58 F')}]", "10:00 should follow"),
        (f"weather = [{HOUR.format(9, '58 psi')}]", "temperature"),
        (f"weather = [{HOUR.format(9, '158 F')}]", "no air is as hot"),
        ('batch = { cement = "60 F", stone = "30 F", water = "60 F" }', "frozen stone"),
        ("crew = 0", "count"),
        ('by = "helicopter"', "line pump"),
        ('vibrator = "12 in"', "no vibrator"),
        ('weather_file = "nowhere.csv"', "cannot be opened"),
    ],
)
def test_bad_input_is_named(text, said):
    assert said in wrong(text)


def test_concrete_that_freezes_is_refused():
    with pytest.raises(JobError, match="freezes before it sets"):
        read_text(TEXT.replace('concrete = "65 F"', 'concrete = "20 F"'))


def test_a_lift_that_would_fill_a_form_twice_is_refused():
    twice = TEXT.replace('of = ["pads", "tie"]', 'of = ["west", "tie"]').replace(
        'of = ["west", "east"]', 'of = ["west pad", "east"]'
    )
    with pytest.raises(JobError) as raised:
        _ = Plan(read_text(twice)).work
    assert "filled twice" in str(raised.value) and "job.toml:114:" in str(raised.value)


def weather_file(tmp_path, text: str, name: str = "forecast.csv"):
    (tmp_path / name).write_text(text)
    job = tmp_path / "job.toml"
    job.write_text(TEXT.replace("[pour]\n", f'[pour]\nweather_file = "{name}"\n'))
    return read_job(job)


def test_a_table_beside_the_job_is_read_in_its_own_units(tmp_path):
    job = weather_file(
        tmp_path,
        "at,air [F],humidity [%],wind,rain [in/h]\n2027-04-12T09:00,59,60,10 mph,0\n2027-04-12T10:00,61,55,4 m/s,0.1\n",
    )
    first, second = job.pour.weather
    assert first.air == pytest.approx(15) and first.humidity == pytest.approx(0.6)
    assert second.wind == pytest.approx(4) and second.rain == pytest.approx(0.00254 / 3600)


@pytest.mark.parametrize(
    "text, place, said",
    [
        ("at,air [F],humidity [%],wind\n2027-04-12T09:00,59,60,10 psi\n", "forecast.csv:2:24", "speed"),
        ("at,air [F],humidity [%],wind [mph]\n2027-04-12T09:00,,60,10\n", "forecast.csv:2:18", "gap"),
        (
            "at,air [F],humidity [%],wind [mph]\n2027-04-12T09:00,59,60,10\n2027-04-12T11:00,59,60,10\n",
            "forecast.csv:3",
            "gap",
        ),
        ("at,air [C],humidity [%],wind [mph]\n2027-04-12T09:00,88,60,10\n", "forecast.csv:2:18", "is no weather"),
        ("at,air [C],wetness,wind [mph]\n2027-04-12T09:00,8,60,10\n", "forecast.csv:1", "no heading"),
        ("at,air [C],wind [mph]\n2027-04-12T09:00,8,10\n", "forecast.csv:1", "humidity"),
        ("at,air [C],humidity [%],wind [mph]\nnoon,8,60,10\n", "forecast.csv:2:1", "no hour"),
        ("", "forecast.csv:1", "empty"),
    ],
)
def test_what_is_wrong_with_a_weather_table_is_told_with_its_place(tmp_path, text, place, said):
    with pytest.raises(JobError) as raised:
        weather_file(tmp_path, text)
    assert place in str(raised.value) and said in str(raised.value)


def epw(hours: int = 48, gap: int | None = None) -> str:
    """A year's file with two invented days."""
    lines = ["LOCATION,Nowhere,,,invented,0,0,0,0,0"] + ["COMMENTS"] * 7
    for n in range(hours):
        if n == gap:
            continue
        cells = ["1999", "4", str(12 + n // 24), str(n % 24 + 1), "0", "?", "14.0", "6.0", "58", "101300"]
        cells += ["0"] * 10 + ["180", "3.5"] + ["0"] * 11 + ["0.4", "1"]
        lines.append(",".join(cells))
    return "\n".join(lines) + "\n"


def test_a_year_in_the_open_format_is_taken_by_month_and_day(tmp_path):
    job = weather_file(tmp_path, epw(), "year.epw")
    assert len(job.pour.weather) == 48 and job.pour.weather[0].at == datetime(2027, 4, 12)
    first = job.pour.weather[0]
    assert (first.air, first.humidity, first.wind) == pytest.approx((14.0, 0.58, 3.5))
    assert first.rain == pytest.approx(0.4e-3 / 3600)


def test_a_gap_in_a_year_is_told(tmp_path):
    with pytest.raises(JobError) as raised:
        weather_file(tmp_path, epw(gap=12), "year.epw")
    assert "gap" in str(raised.value) and "year.epw:21" in str(raised.value)
