"""When may a pier be filled whose form stands on fresh concrete?"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from pytest import approx

from batterboard.job import read_job
from batterboard.phases import forms
from batterboard.quantity import hour, inch, psf
from batterboard.standards import fresh, trade
from batterboard.work.build import build

GATE = read_job(Path(__file__).with_name("gate.toml"))


def feet(job):
    return forms.boxes(build(job), job.pour, job.mixes, job.stock).feet


@pytest.fixture(scope="module")
def west():
    return feet(GATE)[0]


def with_lifts(job, **slumps):
    lifts = tuple(replace(lift, slump=slump) for lift, slump in zip(job.pour.lifts, slumps.values(), strict=True))
    return replace(job, pour=replace(job.pour, lifts=lifts))


def test_a_pier_of_the_gate_waits_between_an_early_and_a_late_time(west):
    assert (west.name, west.pad, west.pad_lift, west.lift) == ("west", "west pad", 1, 2)
    assert west.head == approx(40 * inch)
    assert west.pressure == approx(500 * psf)
    assert west.early < west.late < 3.1 * hour
    assert west.late == approx((1.5 * west.pressure / 5.14159265 - west.yield_low) / 0.5)


def test_the_joint_is_cold_when_the_trade_says_so(west):
    assert west.limit == approx(trade.setting_time(GATE.pour.concrete) / 2 - GATE.pour.truck.away)


def test_a_wetter_pad_waits_longer_and_a_stiff_one_is_no_worse_than_the_fits_know():
    at = [feet(with_lifts(GATE, pad=s * inch, pier=6 * inch))[0] for s in (1, 50 / 25.4, 4, 7)]
    assert at[0].late == approx(at[1].late)
    assert at[1].late < at[2].late < at[3].late


def test_a_pad_wetter_than_the_fits_is_outside_the_limits():
    job = with_lifts(GATE, pad=10.5 * inch, pier=6 * inch)
    made = forms.boxes(build(job), job.pour, job.mixes, job.stock)
    assert next(c for c in made.checks if c.name == "waiting").verdict == "outside"


def test_the_check_is_the_late_wait_against_the_cold_joint(west):
    made = forms.boxes(build(GATE), GATE.pour, GATE.mixes, GATE.stock)
    found = next(c for c in made.checks if c.key == ("waiting", "west"))
    assert (found.demand, found.capacity) == (approx(west.late), approx(west.limit))
    assert "advice" in found.note


def test_a_pier_on_a_pad_that_is_cast_waits_no_more():
    work = build(GATE)
    east = work.piers["east"]
    done = replace(work, piers={**work.piers, "east": replace(east, pad=replace(east.pad, cast=True))})
    assert [foot.name for foot in forms.boxes(done, GATE.pour, GATE.mixes, GATE.stock).feet] == ["west"]


def test_a_batch_of_slumps_is_answered_at_once():
    slumps = np.array([3 * inch, 5 * inch])
    batch = feet(with_lifts(GATE, pad=slumps, pier=6 * inch))[0]
    each = [feet(with_lifts(GATE, pad=float(s), pier=6 * inch))[0].late for s in slumps]
    assert batch.late == approx(each)


def test_the_slice_model_reads_a_slump_as_about_half_the_yield_stress(west):
    rho = fresh.density(GATE.mixes["stiff"].weight)
    assert west.cone < west.slump / 2
    assert fresh.cone_slump(west.yield_low / 2, rho) == approx(west.slump, rel=0.35)


def made(job):
    return forms.boxes(build(job), job.pour, job.mixes, job.stock)


def test_a_pier_in_one_go_with_its_pad_must_be_borne_at_once():
    one = replace(GATE.pour.lifts[0], of=("pads", "tie", "west", "east"))
    job = replace(GATE, pour=replace(GATE.pour, lifts=(one,)))
    found = next(c for c in made(job).checks if c.key == ("at_once", "west"))
    assert found.verdict == "fails"
    assert "a lift of its own" in found.note


def test_a_covered_pad_is_held_down_and_does_not_wait():
    first, second = GATE.pour.lifts
    job = replace(GATE, pour=replace(GATE.pour, lifts=(replace(first, covered=True), second)))
    answer = made(job)
    assert "waiting" not in {c.name for c in answer.checks}
    found = next(c for c in answer.checks if c.key == ("covered_pad", "west"))
    west = answer.feet[0]
    assert found.holds
    assert found.demand == approx(west.pressure * west.cover)
    assert west.cover == approx((54 * 54 - 22 * 22 + 2 * 2 * 2) * inch**2)


@pytest.mark.parametrize("covered", [False, True])
def test_the_head_of_the_pier_presses_on_the_sides_of_a_covered_pad(covered):
    work = build(GATE)
    west = work.piers["west"]
    pad = replace(west.pad, against="form")
    lifts = tuple(
        replace(lift, covered=covered, bodies=tuple(pad if b.name == pad.name else b for b in lift.bodies))
        for lift in work.lifts
    )
    work = replace(work, piers={**work.piers, "west": replace(west, pad=pad)}, lifts=lifts)
    answer = forms.boxes(work, GATE.pour, GATE.mixes, GATE.stock)
    edge = next(box for box in answer.boxes if box.name == "west pad")
    assert edge.lateral.peak == approx((700 if covered else 200) * psf)
    assert edge.edge.top == approx(500 * psf if covered else 0.0)
    assert edge.height == approx(16 * inch)
