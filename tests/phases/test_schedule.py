"""What waits for what, and on which day?"""

import math
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from batterboard import read_job
from batterboard.job.schema import Job
from batterboard.phases import concrete, cure, schedule
from batterboard.quantity import day, hour
from batterboard.standards import trade
from batterboard.study.sweep import varied
from batterboard.work.build import build

GATE = read_job(Path(__file__).parents[2] / "examples/orchard-gate/job.toml")  # poured on a Monday


def planned(job: Job = GATE, **changes) -> schedule.Days:
    """The gate's days with other numbers; `__` stands for the dots of a path."""
    job = varied(job, {path.replace("__", "."): value for path, value in changes.items()})
    work = build(job)
    times = cure.times(work, concrete.mixes(work, job.mixes, job.site, job.pour), job.pour)
    return schedule.days(work, times, job.pour, job.lead)


def the(days: schedule.Days, what: str, element: str = "") -> schedule.Event:
    found = [event for event in days.events if event.what == what and element in ("", event.element)]
    assert len(found) == 1
    return found[0]


ORDER = ("permit", "locate", "dig", "cage", "inspection", "pour")


def test_everything_before_the_pour_comes_in_the_order_of_the_trade():
    days = planned()
    ends = [the(days, what).end for what in ORDER]
    assert ends == sorted(ends)
    assert the(days, "locate").end == the(days, "dig").start and the(days, "dig").end == the(days, "cage").start
    assert the(days, "permit").end == the(days, "dig").start  # nothing is dug without it


def test_events_stand_in_the_order_they_start():
    starts = [event.start for event in planned().events]
    assert starts == sorted(starts)


def test_offices_are_asked_on_working_days():
    days = planned(pour__when=datetime(2027, 4, 12, 9))
    assert the(days, "order").starts.date() == date(2027, 4, 9)  # the Friday before
    assert the(days, "inspection").starts.date() == date(2027, 4, 9)
    assert the(days, "notice").starts.date() == date(2027, 4, 8)
    for what in ("permit", "locate", "notice", "order"):
        assert the(days, what).starts.weekday() < 5


def test_a_pour_on_saturday_is_inspected_on_friday():
    assert the(planned(pour__when=datetime(2027, 4, 10, 9)), "inspection").starts.date() == date(2027, 4, 9)


def test_forward_it_goes_by_the_strength():
    days = planned()
    hang = the(days, "hang")
    assert hang.basis == "strength" and "1926.752" in hang.source
    assert hang.start >= trade.POURING + 0.75 * day
    assert the(days, "strip", "west").start <= the(days, "set", "west").start <= hang.start
    assert hang.start >= max(event.start for event in days.events if event.what == "weld")


def test_what_is_ready_at_night_waits_for_the_morning():
    days = planned(pour__air=32.0)
    assert the(days, "strip", "west").start == pytest.approx(day)  # ready at three in the morning
    assert the(days, "strip", "west").starts.hour == GATE.pour.when.hour
    assert schedule.next_morning(18 * hour) == day and schedule.next_morning(2 * day) == 2 * day


def test_without_a_date_days_are_counted_from_the_pour():
    days = planned(pour__when=None)
    assert the(days, "pour").starts is None and the(days, "pour").basis == "guess"
    assert the(days, "order").start == -GATE.lead.plant
    assert any("no day" in note for note in days.notes)


def test_what_is_all_cast_only_waits():
    days = planned(replace(GATE, done=("west", "east", "tie")))
    assert not {"permit", "locate", "dig", "pour"} & {event.what for event in days.events}
    assert the(days, "hang")


def test_strength_that_never_comes_has_no_date_and_stands_last():
    days = planned(pour__lifts__1__water=0.07)
    assert the(days, "hang").starts is None
    assert np.isnan(days.events[-1].start)


def test_holds_are_said_once_each():
    holds = planned().holds
    assert len(set(holds)) == len(holds) and "every utility has answered" in holds


@pytest.mark.parametrize("lead", [1e12, 1e300, 0.0])
def test_a_lead_time_beyond_all_calendars_is_only_a_number(lead):
    days = planned(lead__inspection=lead, lead__locate=lead, lead__permit=lead)
    assert all(event.starts is None or event.starts.year > 1900 for event in days.events)


@given(st.datetimes(datetime(2020, 1, 1), datetime(2040, 1, 1)), st.floats(0, 30), st.floats(0, 30))
def test_longer_leads_are_never_asked_later(when, one, other):
    short, long = sorted((one, other))
    soon, early = (planned(pour__when=when, lead__locate=n * day) for n in (short, long))
    assert the(early, "locate").start <= the(soon, "locate").start


def test_many_variants_answer_as_each_alone():
    airs, locates = np.array([2.0, 15, 30]), np.array([1.0, 3, 10]) * day
    together = planned(pour__air=airs, lead__locate=locates)
    for i, (air, locate) in enumerate(zip(airs, locates, strict=True)):
        alone = planned(pour__air=air, lead__locate=locate)
        by_name = {event.name: event for event in together.events}
        for event in alone.events:
            assert np.broadcast_to(by_name[event.name].start, 3)[i] == pytest.approx(event.start, rel=1e-12)
            assert np.broadcast_to(by_name[event.name].end, 3)[i] == pytest.approx(event.end, rel=1e-12)


def test_the_light_of_the_day_is_told_where_a_mark_has_its_latitude():
    marks = {"nail": replace(GATE.marks["nail"], latitude=math.radians(40))}
    job = varied(GATE, {"pour.when": datetime(2027, 6, 21, 9)})
    work = build(job)
    times = cure.times(work, concrete.mixes(work, job.mixes, job.site, job.pour), job.pour)
    lit = schedule.days(work, times, job.pour, job.lead, marks)
    assert lit.light / hour == pytest.approx(15.01, abs=0.01) and any("15.0 h" in note for note in lit.notes)
    assert np.isnan(planned().light)


def test_cylinders_are_broken_at_a_week_and_at_four():
    ages = [event.start / day for event in planned().events if event.what == "cylinders"]
    assert ages == [8, 29]  # whole mornings after the end of placing
