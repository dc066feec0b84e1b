"""How many gallons go into the drum, and what do logged loads change?"""

from dataclasses import replace
from datetime import datetime
from math import isnan
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from batterboard import read_job
from batterboard.job.errors import JobError
from batterboard.job.schema import Load
from batterboard.plan import Plan
from batterboard.quantity import gal, gal_per_yd3, hour, inch, lbm, minute, pcf, psi, yd3
from batterboard.study.sweep import varied

HERE = Path(__file__).parent
GATE = read_job(HERE / "gate.toml")


def logged(loads: dict[int, Load], **changes) -> Plan:
    """The gate after these loads."""
    job = varied(GATE, {path.replace("__", "."): value for path, value in changes.items()})
    return Plan(replace(job, pour=replace(job.pour, loads=loads)))


def wet(gallons: float, yards: float = 1.5, **more) -> Load:
    return Load(lift=2, water=gallons * gal, drum=yards * yd3, **more)


def the(plan: Plan, name: str, about: str):
    found = [check for check in plan.concrete.checks if check.name == name and about in check.key]
    assert len(found) == 1
    return found[0]


def card(plan: Plan, lift: int = 2):
    return plan.watering.cards[lift - 1]


# ---- the card ----


def test_two_inches_take_two_gallons_a_yard_of_what_is_left_in_the_drum():
    made = card(Plan(GATE))
    assert made.rule == pytest.approx(2 * gal_per_yd3)
    for dose in made.doses:
        assert dose.rule == pytest.approx(2 * dose.left / yd3 * gal)
        assert dose.most == pytest.approx(made.most * dose.left)


def test_a_slump_test_that_is_off_moves_the_water_by_as_much():
    made = card(Plan(GATE))
    assert made.rule_low == pytest.approx(1.17 * gal_per_yd3)
    assert made.rule_high == pytest.approx(2.83 * gal_per_yd3)


def test_the_most_brings_the_mix_to_its_limit_and_no_further():
    made, mix = card(Plan(GATE)), Plan(GATE).concrete.mixes["stiff"]
    assert made.at_most.ratio < mix.greatest and made.at_most.curve == pytest.approx(mix.least)
    strong = varied(GATE, {"mixes.stiff.strength": 6000 * psi, "mixes.stiff.slump": 0.1})
    assert card(Plan(strong)).at_most.ratio == pytest.approx(mix.greatest)
    assert made.within
    assert not card(Plan(varied(GATE, {"mixes.stiff.water_cement": 0.485}))).within


def test_the_three_ways_to_say_what_water_costs_are_told_apart():
    made = card(Plan(GATE)).planned
    assert made.rule_low < made.rule_high < made.curve < 4000 * psi
    assert made.least == made.rule_low
    assert made.table == pytest.approx(made.curve, rel=0.03)  # so near is the curve to its table


def test_an_admixture_costs_no_strength():
    assert card(Plan(GATE)).without == pytest.approx(4000 * psi)


def test_no_card_speaks_of_more_than_a_truck_carries():
    small = Plan(varied(GATE, {"pour.truck.load": 2.5 * yd3}))
    assert max(dose.left for dose in card(small).doses) == pytest.approx(2 * yd3)


def test_a_mix_without_a_limit_on_water_still_keeps_its_least_strength():
    plan = Plan(varied(GATE, {"site.exposed": ("F0",)}))
    assert card(plan).at_most.curve == pytest.approx(plan.concrete.mixes["stiff"].least)


@settings(max_examples=30)
@given(st.floats(0, 12), st.floats(0, 12))
def test_wetter_never_gains_strength_by_any_way(one, other):
    less, more = sorted((one, other))
    dry, soaked = (
        card(Plan(varied(GATE, {"pour.lifts.1.slump": (4 + gallons) * inch}))).planned for gallons in (less, more)
    )
    for way in ("curve", "rule_low", "rule_high"):
        assert getattr(soaked, way) <= getattr(dry, way) * (1 + 1e-12)
    if not isnan(soaked.table):
        assert soaked.table <= dry.table * (1 + 1e-12)


# ---- loads as logged ----


def test_logged_water_counts_by_what_was_left_in_the_drum():
    assert logged({1: wet(3, 1.5)}).work.lifts[1].water == pytest.approx(2 * gal_per_yd3)
    assert logged({1: wet(3, 0.5)}).work.lifts[1].water == pytest.approx(6 * gal_per_yd3)


def test_water_stays_in_the_truck_from_lift_to_lift():
    first = Load(lift=1, truck=1, water=4 * gal, drum=4 * yd3)
    plan = logged({1: first, 2: wet(3, 1.5, truck=1)})
    assert plan.work.lifts[0].water == pytest.approx(1 * gal_per_yd3)
    assert plan.work.lifts[1].water == pytest.approx(3 * gal_per_yd3)
    assert logged({1: first, 2: wet(3, 1.5, truck=2)}).work.lifts[1].water == pytest.approx(2 * gal_per_yd3)


def test_the_wettest_load_speaks_for_its_lift():
    plan = logged({1: wet(1), 2: wet(6, slump=7 * inch), 3: wet(2, slump=6 * inch)})
    assert plan.work.lifts[1].water == pytest.approx(4 * gal_per_yd3)
    assert plan.work.lifts[1].slump == pytest.approx(7 * inch)
    assert plan.work.lifts[1].wanted == pytest.approx(6 * inch)


def test_logged_loads_flow_through_strength_pressure_and_waits():
    before, after = Plan(GATE), logged({1: wet(6, slump=7.5 * inch)})
    assert after.concrete.water(2, "stiff").strength < before.concrete.water(2, "stiff").strength
    dry, soaked = ({box.name: box.lateral for box in plan.forms.boxes}["west"] for plan in (before, after))
    assert soaked.slump == pytest.approx(7.5 * inch) and isnan(soaked.formula) and not isnan(dry.formula)
    hangs = [next(w.at for w in plan.cure.waits if w.act == "three quarters") for plan in (before, after)]
    assert hangs[1] > hangs[0]


def test_too_much_water_fails_the_lift():
    plan = logged({1: wet(12)})
    assert not the(plan, "wetted_ratio", "lift 2").holds


def test_a_slump_off_its_tolerance_is_told():
    assert the(logged({1: Load(lift=2, slump=7.5 * inch)}), "slump_as_wanted", "load 1").holds
    assert not the(logged({1: Load(lift=2, slump=7.6 * inch)}), "slump_as_wanted", "load 1").holds
    assert not the(logged({1: Load(lift=1, slump=2.9 * inch)}), "slump_as_wanted", "load 1").holds


def test_a_load_that_came_too_old_too_hot_or_without_air_is_told():
    start = datetime(2027, 4, 12, 8, 30)
    late = Load(lift=1, batched=start, empty=datetime(2027, 4, 12, 10, 1))
    assert not the(logged({1: late}), "not_old", "load 1").holds
    assert the(logged({1: late}), "not_old", "load 1").demand == pytest.approx(91 * minute)
    assert not the(logged({1: Load(lift=1, temperature=35.5)}), "not_hot", "load 1").holds
    assert not the(logged({1: Load(lift=1, air=0.034)}), "air_as_asked", "load 1").holds
    assert the(logged({1: Load(lift=1, air=0.036)}), "air_as_asked", "load 1").holds


def test_a_load_warmer_than_the_pour_was_reckoned_is_told():
    def told(temperature: float) -> bool:
        return any("load 1" in note for note in logged({1: Load(lift=1, temperature=temperature)}).concrete.notes)

    assert told(30.0) and told(5.0) and not told(GATE.pour.concrete + 1)


def test_a_load_that_yields_less_than_its_ticket_is_short():
    def made(weighs: float):
        load = Load(lift=1, volume=8 * yd3, batch=31620 * lbm, weighs=weighs * pcf)
        return the(logged({1: load}), "load_yields", "load 1")

    assert made(145.2).holds and not made(148.0).holds
    assert made(145.2).capacity == pytest.approx(1.0082, rel=1e-4)


def test_what_was_not_logged_is_not_asked():
    plan = logged({1: Load(lift=1)})
    assert not [check for check in plan.concrete.checks if "load 1" in check.key]
    assert Plan(GATE).concrete.loads == ()


# ---- in the file ----


def written(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "job.toml"
    path.write_text((HERE / "gate.toml").read_text("utf-8") + text, "utf-8")
    return path


def test_loads_are_read_from_the_found_table(tmp_path):
    text = '\n[found.pour.loads.1]\nlift = 2\nwater = "3 gal"\ndrum = "1.5 yd3"\nslump = "7 in"\n'
    plan = Plan(read_job(written(tmp_path, text)))
    assert plan.work.lifts[1].water == pytest.approx(2 * gal_per_yd3)
    assert plan.concrete.loads[0].name == "load 1"


@pytest.mark.parametrize(
    "lines, said",
    [
        ('lift = 2\nwater = "3 gal"', "water needs drum beside it"),
        ('lift = 1\nbatch = "3000 lb"\nvolume = "1 yd3"', "batch needs weighs beside it"),
        ("lift = 1\nbatched = 2027-04-12T09:00:00\nempty = 2027-04-12T08:00:00", "empty before it was batched"),
        ("lift = 9", "went into lift 9, and the pour has 2"),
    ],
)
def test_a_load_that_cannot_be_is_named_with_its_place(tmp_path, lines, said):
    with pytest.raises(JobError) as problem:
        _ = Plan(read_job(written(tmp_path, f"\n[found.pour.loads.3]\n{lines}\n"))).work
    assert said in str(problem.value) and "job.toml:" in str(problem.value)


def test_an_hour_is_no_age_of_a_load_that_was_not_timed():
    load = logged({1: Load(lift=1, batched=datetime(2027, 4, 12, 8))}).concrete.loads[0]
    assert isnan(load.away) and not load.away > hour


def test_a_wet_load_that_was_logged_has_a_remedy_that_works(tmp_path):
    from batterboard.study.remedies import Remedies

    plan = Plan(read_job(written(tmp_path, '\n[found.pour.loads.1]\nlift = 2\nwater = "12 gal"\ndrum = "1.5 yd3"\n')))
    failing = the(plan, "strength_left", "lift 2")
    remedies, _ = Remedies(plan).of(failing)
    assert not failing.holds and remedies[0].works
