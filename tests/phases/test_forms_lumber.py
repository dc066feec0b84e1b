"""Which strips and sticks are cut from which lengths?"""

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from batterboard.job import read_job
from batterboard.job.errors import JobError
from batterboard.job.schema import Stick
from batterboard.phases.forms.lumber import lumber
from batterboard.plan import Plan
from batterboard.quantity import ft

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
    wanted = Counter({strip.mark: strip.count for box in gate.forms.boxes for strip in box.strips})
    for box in gate.forms.boxes:
        wanted[f"{box.name} yoke"] = sum(each for yoke in box.yokes for each, _ in box.frame.sticks(yoke))
        wanted[f"{box.name} brace"] = 4 * round(float(box.brace.a_side))
    assert cut == wanted


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
    with pytest.raises(JobError, match="no chamfer strip is long enough for west corner, east corner"):
        lumber(with_sticks(gate, Stick(of="strip", long=2 * ft)), gate.forms)
