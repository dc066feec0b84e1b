"""Which strips and sticks are cut from which lengths?"""

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from batterboard.job import read_job, read_text
from batterboard.job.errors import JobError
from batterboard.job.schema import Stick
from batterboard.phases.forms.lumber import lumber
from batterboard.plan import Plan
from batterboard.quantity import ft, inch
from batterboard.work.names import pooled

GATE = Path(__file__).with_name("gate.toml")


@pytest.fixture(scope="module")
def gate():
    return Plan(read_job(GATE))


def with_sticks(plan, *sticks):
    return replace(plan.job, stock=replace(plan.job.stock, sticks=sticks))


def test_every_strip_yoke_stick_and_brace_is_cut_once(gate):
    cut = Counter()
    for stick in gate.lumber.sticks:
        for piece in stick.pieces:
            cut[piece.mark] += piece.count * stick.times
    wanted = [(strip.mark, float(strip.long), strip.count) for box in gate.forms.boxes for strip in box.strips]
    for box in gate.forms.boxes:
        sticks = [stick for yoke in box.yokes for stick in box.frame.sticks(yoke)]
        wanted.append((f"{box.name} yoke", float(sticks[0][1]), sum(each for each, _ in sticks)))
        wanted.append((f"{box.name} brace", float(box.brace.length), 4 * round(float(box.brace.a_side))))
    assert cut == {pool.name: pool.many for pool in pooled((mark, round(long, 9), many) for mark, long, many in wanted)}
    assert set(cut) == {"west, east corner", "west, east top", "west, east yoke", "west, east brace"}


def test_no_less_is_bought_than_the_bound_says(gate):
    for total in gate.lumber.totals:
        assert total.cost >= total.least - 1e-9 and total.usual


def test_offcuts_that_lie_about_go_first_and_cost_nothing(gate):
    sticks = (Stick(of="2x4", long=12 * ft, price=9.0), Stick(of="2x4", long=6 * ft, have=2))
    laid = lumber(with_sticks(gate, *sticks), gate.forms)
    used = sum(stick.times for stick in laid.sticks if stick.of == "2x4" and stick.on_hand)
    (total,) = [total for total in laid.totals if total.of == "2x4"]
    assert used == 2 and total.priced and not total.usual
    assert total.cost == pytest.approx(9.0 * sum(count for _, count in total.buys))


def test_a_strip_longer_than_any_stick_that_the_job_names_is_an_error_that_names_it(gate):
    with pytest.raises(JobError, match="no chamfer strip is long enough for west, east corner"):
        lumber(with_sticks(gate, Stick(of="strip", long=2 * ft)), gate.forms)


# ---- strips of two legs ----


def two_legged(stock='sticks = [{ of = "strip", leg = "1 in", other_leg = "2 in", long = "12 ft" }]'):
    text = GATE.read_text("utf-8").replace('corners = "2 in", top', 'corners = "2 in", returns = "1 in", top', 1)
    return Plan(read_text(text.replace('kerf = "1/8 in"', f'kerf = "1/8 in"\n{stock}', 1), "gate.toml"))


def test_a_strip_of_two_legs_is_cut_from_stock_of_those_two_turned_either_way():
    plan = two_legged()
    told = {total.legs: (total.usual, total.buys) for total in plan.lumber.totals if total.legs}
    assert {tuple(round(leg / inch, 6) for leg in legs) for legs in told} == {(2.0, 1.0), (0.75, 0.75)}
    (unequal,) = [of for legs, of in told.items() if legs[1] == pytest.approx(1 * inch)]
    assert unequal[0] is False and [length for length, _ in unequal[1]] == [pytest.approx(12 * ft)]
    assert all(usual for legs, (usual, _) in told.items() if legs[1] != pytest.approx(1 * inch))
    stock = 'sticks = [{ of = "strip", leg = "2 in", long = "12 ft" }]'  # both its legs are 2 in
    told = {total.legs: total.usual for total in two_legged(stock).lumber.totals if total.legs}
    assert [usual for legs, usual in told.items() if legs[1] == pytest.approx(1 * inch)] == [True]


def test_stock_too_short_for_a_strip_of_two_legs_is_named_only_where_it_is_of_those_two():
    with pytest.raises(JobError, match=r"piers.west.edges.corners: the corner strips of west are longer"):
        _ = two_legged('sticks = [{ of = "strip", leg = "2 in", other_leg = "1 in", long = "3 ft" }]').work
    _ = two_legged('sticks = [{ of = "strip", leg = "3 in", other_leg = "1 in", long = "3 ft" }]').work


def test_a_strip_in_stock_that_says_its_other_leg_only_is_an_error():
    with pytest.raises(JobError, match=r"gate.toml:\d+:\d+: stock.sticks.*says its other leg and not its first"):
        two_legged('sticks = [{ of = "strip", other_leg = "1 in", long = "3 ft" }]')


def test_strips_in_the_corners_of_many_sides_are_no_strips_of_square_edges():
    plan = Plan(read_job(GATE))
    west = replace(plan.job.piers["west"], along=None, across=None, square=None, sides=6, flats=22 * inch)
    made = Plan(replace(plan.job, piers={**plan.job.piers, "west": west}, beams={}, pipes={})).lumber
    kinds = {stick.of: {p.mark for p in stick.pieces} for stick in made.sticks if stick.legs}
    assert any("corner" in mark for mark in kinds["chamfer strip of 120°"])
    assert not any("west corner" in mark for mark in kinds["chamfer strip"])
