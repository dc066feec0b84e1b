"""How likely does the order run short, and what does more of it cost?"""

from dataclasses import replace
from functools import cache
from math import isnan, nan
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from batterboard import read_job
from batterboard.job import read_text
from batterboard.job.errors import JobError
from batterboard.job.schema import Job
from batterboard.phases.ordering import Amount, amounts
from batterboard.phases.pour.hour import Hour
from batterboard.plan import Plan
from batterboard.quantity import inch, minute, psi, yd3
from batterboard.study.sweep import varied

EXAMPLES = Path(__file__).parents[2] / "examples"
GATE = read_job(Path(__file__).parent / "gate.toml")
ORDER = "pour__order__"
SPREAD = "pour__spread__"


def plan(job: Job = GATE, **changes) -> Plan:
    """The gate with other numbers; `__` stands for the dots of a path."""
    return Plan(varied(job, {path.replace("__", "."): value for path, value in changes.items()}))


@cache
def day() -> Hour:
    return plan().hour


def amount(job: Job = GATE, **changes) -> Amount:
    """The gate's one mix; what changes only fees and luck leaves the day as it is."""
    made = plan(job, **changes)
    hour = day() if all(path.startswith((ORDER, SPREAD)) for path in changes) else made.hour
    return amounts(made.work, made.cage, made.concrete, made.pour, hour, made.job).amounts["stiff"]


def priced(**changes) -> Amount:
    return amount(**{f"{ORDER}price": 160.0} | changes)


def at(amount: Amount, yards: float):
    return next(c for c in amount.choices if c.volume == pytest.approx(yards * yd3))


def test_half_of_all_pours_need_more_than_is_needed_on_average():
    made = amount()
    assert made.choices[0].volume < made.gross < made.choices[1].volume
    assert made.choices[0].chance > 0.5 > made.choices[1].chance
    assert made.chance == made.choices[1].chance


def test_an_order_larger_by_1645_thousandths_of_its_spread_runs_short_one_time_in_twenty():
    made = amount(**{f"{SPREAD}yield_": 0.0})  # so that the spread is the same for every order
    for choice in made.choices:
        if choice.lacks > 0:
            assert choice.lacks == pytest.approx(made.gross + 1.6449 * made.spread - choice.volume, abs=1e-4)
        assert (choice.lacks > 0) == (choice.chance > 0.05)
    assert at(made, made.enough / yd3).chance <= 0.05


def test_by_a_hundred_thousand_pours_it_runs_short_as_often():
    made, job = amount(), GATE
    luck = np.random.default_rng(7)
    n = 100_000
    work = plan().work
    needed = np.zeros(n)
    waste = luck.normal(0, job.pour.spread.waste, n)
    for body in work.bodies:
        earth = body.against == "earth"
        s = job.pour.spread.hole if earth else job.pour.spread.form
        o = body.outline
        off = [1 + luck.normal(0, s, n) / side for side in (o.along, o.across, body.height)]
        rate = job.pour.earth_waste if earth else job.pour.waste
        needed += body.volume * off[0] * off[1] * off[2] * (1 + rate + waste)
    holds = luck.normal(1, job.pour.spread.yield_, n)
    for choice in made.choices:
        assert np.mean(needed > choice.volume * holds) == pytest.approx(choice.chance, abs=0.01)


def test_a_measured_hole_is_surer_than_a_guessed_one():
    guessed, measured = amount(), amount(piers__west__pad__over=0.5 * inch, piers__east__pad__over=0.5 * inch)
    assert measured.holes < 0.7 * guessed.holes


def test_with_no_spread_at_all_an_order_is_enough_or_short():
    made = amount(**{f"{SPREAD}{name}": 0.0 for name in ("hole", "form", "waste", "yield_")})
    assert [choice.chance for choice in made.choices] == [1.0, 0.0, 0.0, 0.0, 0.0]
    assert made.enough == pytest.approx(made.ordered)


def test_where_nothing_is_sure_no_order_is_enough():
    assert isnan(amount(**{f"{SPREAD}yield_": 1.0}).enough)


def test_without_a_price_nothing_is_priced_and_that_is_said():
    made = plan().ordering
    assert all(isnan(choice.bill.total) for choice in made.amounts["stiff"].choices)
    assert any("no price" in note for note in made.notes)
    assert not any("no price" in note for note in plan(**{f"{ORDER}price": 160.0}).ordering.notes)


def test_a_quarter_yard_more_costs_its_price():
    for choice in priced().choices[1:]:
        assert choice.more == pytest.approx(40.0)


def test_a_short_load_pays_for_what_it_is_short_by_or_once():
    by_yard = priced(**{f"{ORDER}short_fee": 30.0, f"{ORDER}short_for": "volume", f"{ORDER}short_below": 6 * yd3})
    trucks = len(day().loads)
    for choice in by_yard.choices:
        assert choice.bill.short == pytest.approx(30 * (6 * trucks - choice.volume / yd3))
        assert isnan(choice.more) or choice.more == pytest.approx(40 - 7.5)
    once = priced(**{f"{ORDER}short_fee": 90.0, f"{ORDER}short_below": 6 * yd3})
    assert [choice.bill.short for choice in once.choices] == [90.0 * trucks] * len(once.choices)


def test_a_larger_order_rides_in_the_last_truck():
    """All but the last load stay as the day is planned; what the last cannot carry comes in one more."""
    trucks = [load.volume for load in day().loads]
    made = priced(**{f"{ORDER}short_fee": 90.0, f"{ORDER}short_below": trucks[-1] + 0.4 * yd3})
    short = [choice.bill.short for choice in made.choices if choice.volume >= made.ordered]
    assert short == [short[0]] * 2 + [short[0] - 90.0] * (len(short) - 2)


def test_waiting_beyond_the_free_time_is_charged_by_the_hour():
    one = plan(**{f"{ORDER}price": 160.0, f"{ORDER}waiting": 120.0})
    made, loads = one.ordering.amounts["stiff"], one.hour.loads
    choice = at(made, made.ordered / yd3)
    over = sum(load.empty - load.on_site for load in loads) - made.ordered / yd3 * 7 * minute
    assert over > 0
    assert choice.bill.waiting == pytest.approx(2 * over / minute)
    patient = priced(**{f"{ORDER}waiting": 120.0, f"{ORDER}free": 60 * minute})
    assert all(choice.bill.waiting == 0 for choice in patient.choices)


def test_bags_are_whole_and_hold_enough():
    made = amount(**{f"{ORDER}bag": "60 lb", f"{ORDER}bag_price": 5.0})
    for bags in made.bags:
        assert (bags.count - 1) * bags.makes < made.gross <= bags.count * bags.makes
        assert bags.least < bags.most
    assert [bags.cost for bags in made.bags] == pytest.approx([nan, 5.0 * made.bags[1].count, nan], nan_ok=True)


def test_more_mixers_are_wanted_where_a_lift_sets_sooner():
    slow, quick = amount(pour__concrete=10.0), amount(pour__concrete=33.0)
    assert quick.bags[0].mixers > slow.bags[0].mixers >= 1


def test_a_metric_job_counts_metric_bags():
    made = Plan(read_job(EXAMPLES / "pump-pad/job.toml")).ordering.amounts["base"]
    assert [bags.name for bags in made.bags] == ["25 kg", "20 kg"]


def test_the_stone_passes_the_tightest_bars():
    made = amount()
    assert made.clear < 3 * inch
    assert made.largest_stone == pytest.approx(0.75 * made.clear)
    assert made.stone == pytest.approx(0.75 * inch) and made.stone <= made.largest_stone


def test_without_bars_only_bolts_and_pipes_stand_in_the_way():
    bare = replace(GATE, **{"piers": {name: replace(p, bars=None, pad_bars=None) for name, p in GATE.piers.items()}})
    beams = {name: replace(beam, bars=None) for name, beam in GATE.beams.items()}
    assert Plan(replace(bare, beams=beams)).ordering.amounts["stiff"].clear > 2 * amount().clear


def test_the_same_letter_asked_for_other_limits_once():
    older = {one.name: one for one in amount().classes}["F1"]
    assert (older.greatest, older.greatest_then) == (0.55, 0.45)
    assert (older.least, older.least_then) == (pytest.approx(3500 * psi), pytest.approx(4500 * psi))


def test_another_edition_in_the_heading_is_told():
    job = replace(GATE, job=replace(GATE.job, codes="IBC 2012, ACI 318-11"))
    assert any("318-11" in note and "318-19" in note for note in Plan(job).ordering.notes)


def test_what_is_cast_is_not_ordered():
    assert Plan(replace(GATE, done=("west", "tie", "east"))).ordering.amounts == {}


@settings(max_examples=25)
@given(st.floats(0, 3), st.floats(0, 0.1), st.floats(0, 0.05))
def test_a_larger_order_never_runs_short_oftener(hole, waste, yields):
    made = amount(**{f"{SPREAD}hole": hole * inch, f"{SPREAD}waste": waste, f"{SPREAD}yield_": yields})
    chances = [choice.chance for choice in made.choices if choice.volume >= made.gross]
    assert chances == sorted(chances, reverse=True)
    assert at(made, made.choices[-1].volume / yd3).lacks <= made.choices[0].lacks


@pytest.mark.parametrize(
    "line, said",
    [
        ("bag_price = 6", "bag_price needs bag beside it"),
        ("price = 160\nshort_fee = 40", "short_fee needs short_below beside it"),
        ("waiting = 100", "waiting needs price beside it"),
        ("prise = 160", "prise"),
        ("price = -160", "price"),
    ],
)
def test_a_fee_that_says_too_little_is_named_with_its_place(line, said):
    text = (Path(__file__).parent / "gate.toml").read_text("utf-8") + f"\n[pour.order]\n{line}\n"
    with pytest.raises(JobError) as problem:
        read_text(text, "job.toml")
    assert said in str(problem.value) and "job.toml:" in str(problem.value)
