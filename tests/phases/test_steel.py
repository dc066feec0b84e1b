"""How long is the post, where are the hinges, how much is left at the latch?"""

from math import radians, tan
from pathlib import Path

import numpy as np
import pytest
from pytest import approx

from batterboard.job import read_job, read_text
from batterboard.phases import steel
from batterboard.quantity import ft, inch, lb
from batterboard.study.sweep import varied
from batterboard.work.build import build

GATE = Path(__file__).with_name("gate.toml")
TEXT = GATE.read_text("utf-8")


def stood(text):
    return steel.posts(build(read_text(text, "gate.toml")))


def changed(*replacements):
    text = TEXT
    for old, new in replacements:
        assert old in text, old
        text = text.replace(old, new)
    return stood(text)


@pytest.fixture(scope="module")
def gate():
    return steel.posts(build(read_job(GATE)))


def check_of(made, *key):
    return next(c for c in made.checks if c.key == key)


def test_a_post_on_a_plate_is_cut_from_the_plate_up(gate):
    hinge = next(cut for cut in gate.posts if cut.name == "hinge")
    assert hinge.length == approx(5 * ft + 8 * inch - 1 * inch - 0.75 * inch)
    assert hinge.above_plate == hinge.length
    assert hinge.weight == approx(hinge.length / ft * 15.62 * lb, rel=1e-3)


def test_a_post_cast_in_is_longer_by_what_stands_in_the_concrete():
    end = TEXT.index("[leaves.leaf]")
    post = '[posts.guide]\nsection = "Pipe 4 STD"\nheight = "5 ft"\nset = { in = "east", deep = "30 in" }\n\n'
    made = stood(TEXT[:end] + post + TEXT[end:])
    guide = next(cut for cut in made.posts if cut.name == "guide")
    assert guide.length == approx(5 * ft + 30 * inch)
    assert guide.above_plate == approx(5 * ft)
    assert guide.plate_thick is None
    assert not [c for c in made.checks if c.key == ("weld_leg", "guide")]


@pytest.mark.parametrize("weld, verdict", [("1/16 in", "fails"), ("1/8 in", "holds"), ("1/4 in", "holds")])
def test_the_weld_goes_by_the_thinner_part(weld, verdict):
    check = check_of(changed(('weld = "1/4 in"', f'weld = "{weld}"')), "weld_leg", "hinge")
    assert check.demand == approx(1 / 8 * inch)  # of a wall just under 1/4 in
    assert check.verdict == verdict
    assert [step.formula.name for step in check.steps] == ["least_fillet"]


def test_the_opening_is_filled_by_leaf_and_gaps(gate):
    (hang,) = gate.hangs
    assert hang.left_low == approx(hang.latch_gap)
    assert hang.opening_low == approx(13 * ft + 2.5 * inch + 1 * inch)
    assert hang.low == approx(14 * inch - 1.75 * inch)
    assert check_of(gate, "latch_gap", "leaf").verdict == "holds"


def test_the_hinges_pull_as_the_leaf_hangs(gate):
    (hang,) = gate.hangs
    assert hang.hinge_force == approx(380 * lb * 6.5 / 4)


def test_a_post_out_of_plumb_narrows_the_opening_more_at_the_upper_hinge():
    made = changed(("[pour]", '[found.posts.hinge]\nlean = "0.6 deg"\n\n[pour]'))
    (hang,) = made.hangs
    moved = tan(radians(0.6))
    assert hang.latch_gap - hang.left_low == approx(14 * inch * moved, rel=1e-4)
    assert hang.latch_gap - hang.left_high == approx(62 * inch * moved, rel=1e-4)
    assert check_of(made, "latch_gap", "leaf").verdict == "fails"


def test_variants_hang_as_if_each_were_alone():
    job = read_job(GATE)
    leans = np.radians([-0.5, 0.0, 0.2, 1.0])
    many = steel.posts(build(varied(job, {"posts.latch.lean": leans})))
    for v in range(4):
        one = steel.posts(build(varied(job, {"posts.latch.lean": float(leans[v])})))
        assert many.hangs[0].left_high[v] == approx(one.hangs[0].left_high)
        assert np.broadcast_to(many.checks[-1].ratio, 4)[v] == approx(one.checks[-1].ratio)
