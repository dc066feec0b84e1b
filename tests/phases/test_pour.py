"""How much to order, in which lifts, how fast?"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from batterboard import read_job
from batterboard.job.schema import Job
from batterboard.phases import concrete, pour
from batterboard.quantity import ft_per_h, hour, inch, m3, minute, yd3
from batterboard.study.sweep import varied
from batterboard.work.build import build

EXAMPLES = Path(__file__).parents[2] / "examples"
GATE = read_job(EXAMPLES / "orchard-gate/job.toml")


def ordered(job: Job = GATE, **changes) -> pour.Order:
    """The gate's order with other numbers; `__` stands for the dots of a path."""
    job = varied(job, {path.replace("__", "."): value for path, value in changes.items()})
    work = build(job)
    return pour.order(work, concrete.mixes(work, job.mixes, job.site, job.pour), job.pour, job.job.units)


def the(checks, name):
    found = [check for check in checks if check.name == name]
    assert len(found) == 1
    return found[0]


def test_the_lifts_add_up_to_the_work():
    work, order = build(GATE), ordered()
    assert sum(lift.net for lift in order.lifts) == pytest.approx(sum(body.volume for body in work.bodies), rel=1e-12)
    ticket = order.tickets["stiff"]
    assert ticket.gross == pytest.approx(sum(lift.gross for lift in order.lifts), rel=1e-12)
    assert ticket.gross == pytest.approx(ticket.net + ticket.overdug + ticket.waste, rel=1e-12)


def test_an_order_is_whole_quarter_yards_and_never_short():
    ticket = ordered().tickets["stiff"]
    assert ticket.volume / (0.25 * yd3) == pytest.approx(round(ticket.volume / (0.25 * yd3)))
    assert 0 <= ticket.spare < 0.25 * yd3
    assert ordered().volume == ticket.volume


def test_a_metric_job_orders_quarter_cubic_metres():
    ticket = ordered(read_job(EXAMPLES / "pump-pad/job.toml")).tickets["base"]
    assert ticket.step == pytest.approx(0.25 * m3)
    assert ticket.volume == pytest.approx(np.ceil(ticket.gross / 0.25) * 0.25)


def test_waste_goes_by_what_the_concrete_is_cast_against():
    pieces = {piece.name: piece for lift in ordered().lifts for piece in lift.pieces}
    assert pieces["west pad"].waste_rate == 0.10 and pieces["west"].waste_rate == 0.05
    assert pieces["west pad"].waste == pytest.approx(0.10 * pieces["west pad"].net)


def test_a_hole_found_wider_is_filled_and_ordered():
    before, after = ordered(), ordered(piers__west__pad__over=3 * inch)
    pad = build(GATE).piers["west"].pad
    plan = pad.outline
    wider = ((plan.along + 6 * inch) * (plan.across + 6 * inch) - plan.along * plan.across) * pad.height
    assert after.tickets["stiff"].overdug == pytest.approx(wider)
    guessed, measured = 1.10 * pad.volume, 1.05 * (pad.volume + wider)  # a measured hole wastes as little as a form
    assert after.tickets["stiff"].gross - before.tickets["stiff"].gross == pytest.approx(measured - guessed)
    wide = ordered(piers__west__pad__over=6 * inch)
    assert wide.tickets["stiff"].volume > before.tickets["stiff"].volume


def test_what_is_cast_is_not_ordered_again():
    order = ordered(replace(GATE, done=("west", "tie")))
    pieces = {piece.name: piece for lift in order.lifts for piece in lift.pieces}
    assert pieces["west pad"].cast and pieces["west"].cast and not pieces["east"].cast
    assert order.tickets["stiff"].net == pytest.approx(pieces["east"].net + pieces["east pad"].net)
    assert any("west" in note for note in order.notes)


def test_a_job_all_cast_orders_nothing():
    order = ordered(replace(GATE, done=("west", "tie", "east")))
    assert order.tickets == {} and all(lift.cast and lift.takes == 0 for lift in order.lifts)
    assert order.checks == ()


def test_trucks_are_filled_one_after_the_other():
    ticket = ordered(pour__truck__load=1.5 * yd3).tickets["stiff"]
    assert ticket.trucks == np.ceil(ticket.volume / (1.5 * yd3))
    assert (ticket.trucks - 1) * ticket.full + ticket.last == pytest.approx(ticket.volume)
    assert 0 < ticket.last <= ticket.full


def test_a_pier_rises_as_the_forms_were_designed_for():
    rise = next(rise for rise in ordered().rises if rise.pier == "west")
    assert rise.takes == pytest.approx(40 / 12 / 5 * hour)
    assert rise.flow == pytest.approx(rise.area * 5 * ft_per_h)
    last = ordered().lifts[-1]
    assert last.takes == pytest.approx(40 * minute)


def test_without_a_rate_times_are_those_of_unloading():
    order = ordered(pour__rate=None)
    assert np.isnan(order.rises[0].takes)
    assert order.lifts[-1].takes == pytest.approx(order.lifts[-1].gross / yd3 * 7 * minute)
    assert any("rate" in note for note in order.notes)


def test_the_next_lift_follows_within_half_of_the_set():
    lift = ordered(pour__concrete=(70 - 32) / 1.8, pour__truck__away=30 * minute).lifts[0]
    assert lift.next_by == pytest.approx(2.5 * hour)
    assert the(ordered().checks, "still_soft").holds


def test_a_lift_that_takes_longer_than_it_stays_soft_is_told():
    slow = ordered(pour__lifts=(replace(GATE.pour.lifts[1]), replace(GATE.pour.lifts[0])), pour__rate=0.5 * ft_per_h)
    assert not the(slow.checks, "still_soft").holds


def test_a_load_from_too_far_away_is_too_old_when_it_comes():
    near, far = ordered(pour__truck__away=84 * minute), ordered(pour__truck__away=86 * minute)
    assert the(near.checks, "not_too_old").holds and not the(far.checks, "not_too_old").holds
    assert not [check for check in ordered(pour__truck__away=None).checks if check.name == "not_too_old"]


def test_hot_concrete_is_told():
    assert the(ordered(pour__concrete=34.9).checks, "not_too_hot").holds
    assert not the(ordered(pour__concrete=35.1).checks, "not_too_hot").holds


def test_frozen_concrete_does_not_set():
    lifts = ordered(pour__concrete=-5.0).lifts
    assert np.isnan(lifts[0].next_by)


@given(st.floats(0, 0.3), st.floats(0, 0.3), st.floats(0.5, 12))
def test_an_order_is_enough_and_its_trucks_carry_it(waste, over, load):
    ticket = ordered(pour__waste=waste, piers__east__pad__over=over, pour__truck__load=load * yd3).tickets["stiff"]
    assert ticket.volume >= ticket.gross * (1 - 1e-9) and ticket.spare < ticket.step
    assert (ticket.trucks - 1) * ticket.full + ticket.last == pytest.approx(ticket.volume)


def test_many_variants_answer_as_each_alone():
    overs, rates = np.array([0.0, 2, 6]) * inch, np.array([2.0, 5, 9]) * ft_per_h
    loads, temperatures = np.array([1.0, 3, 8]) * yd3, np.array([5.0, 18, 36])
    paths = ("piers__west__pad__over", "pour__rate", "pour__truck__load", "pour__concrete")
    together = ordered(**dict(zip(paths, (overs, rates, loads, temperatures), strict=True)))
    for i, values in enumerate(zip(overs, rates, loads, temperatures, strict=True)):
        alone = ordered(**dict(zip(paths, values, strict=True)))
        for one, many in zip(alone.checks, together.checks, strict=True):
            assert np.broadcast_to(many.ratio, 3)[i] == pytest.approx(one.ratio, rel=1e-12)
        for name in ("gross", "volume", "trucks", "last"):
            one, many = getattr(alone.tickets["stiff"], name), getattr(together.tickets["stiff"], name)
            assert np.broadcast_to(many, 3)[i] == pytest.approx(one, rel=1e-12), name
        for one, many in zip(alone.lifts, together.lifts, strict=True):
            assert np.broadcast_to(many.next_by, 3)[i] == pytest.approx(one.next_by, rel=1e-12)
