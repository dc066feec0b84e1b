"""The curing page and the chart of days."""

from dataclasses import replace
from pathlib import Path

import pytest

from batterboard import read_job
from batterboard.job.schema import Break
from batterboard.plan import Plan
from batterboard.quantity import day, psi
from batterboard.study.sweep import varied
from batterboard.views import drawing as d
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.calendar import calendars
from batterboard.views.drawings.curing import cured

GATE = read_job(Path(__file__).parents[2] / "examples/orchard-gate/job.toml")
COLD = varied(GATE, {"pour.air": -8.0, "pour.kept": "open"})
UNDATED = varied(GATE, {"pour.when": None})
METRIC = varied(GATE, {"job.units": "si"})
BROKEN = replace(
    GATE,
    pour=replace(GATE.pour, breaks={1: Break(lift=2, after=3 * day, strength=1000 * psi, cured="in the lab")}),
)
JOBS = {"gate": GATE, "cold": COLD, "undated": UNDATED, "metric": METRIC, "broken": BROKEN}


def texts(sheet: d.Sheet) -> str:
    return "\n".join(mark.text for mark in sheet.marks if isinstance(mark, d.Text))


@pytest.mark.parametrize("name", JOBS)
def test_nothing_overlaps_or_stands_outside(name):
    board = Board(Plan(JOBS[name]))
    for sheet in (*cured(board), *calendars(board)):
        assert d.overlaps(sheet) == () and d.outside(sheet) == (), sheet.name


def test_one_page_has_every_act_of_its_pier_with_its_date():
    page = texts(next(sheet for sheet in cured(Board(Plan(GATE))) if "west" in sheet.name))
    for said in ("strip west", "hang leaf", "Apr 26", "by strength", "by rule", "forms off", "blankets off", "week"):
        assert said in page, said


@pytest.mark.parametrize("name", ["gate", "metric", "broken"])
def test_the_page_has_the_days_of_the_calendar(name):
    plan = Plan(JOBS[name])
    page = " ".join(texts(next(sheet for sheet in cured(Board(plan)) if "west" in sheet.name)).split())
    for event in plan.schedule.events:
        if event.what in ("strip", "set", "weld", "hang") and event.element == "west":
            at = event.ends
            assert (f"{at:%a %b} {at.day}:" if at else "never as planned") in page, event.name


def test_no_frost_is_told_of_in_summer_and_no_year_is_left_out_after_a_winter():
    summer = texts(next(cured(Board(Plan(varied(GATE, {"pour.air": 30.0}))))))
    assert "frost on" not in summer and "freeze" not in summer
    board = Board(Plan(varied(GATE, {"pour.air": -4.0})))
    page = texts(next(sheet for sheet in cured(board) if "west" in sheet.name))
    assert "LONG" in page and "THE GROUND IS TAKEN AS FROZEN" in " ".join(page.split())
    year = next(e.ends.year for e in board.plan.schedule.events if e.what == "hang")
    assert year > 2027 and str(year) in page and f"{year}" in texts(next(calendars(board)))


def test_what_passes_the_limits_of_mass_concrete_is_said():
    hot = Board(Plan(varied(GATE, {"pour.air": 33.0, "pour.concrete": 32.0})))
    page = " ".join(texts(next(sheet for sheet in cured(hot) if "west" in sheet.name)).split())
    assert "TOO HOT OR TOO UNEVEN" in page and "Not seen, check the edition" in page


def test_what_never_comes_is_said():
    page = texts(next(sheet for sheet in cured(Board(Plan(COLD))) if "west" in sheet.name))
    assert "never as planned" in page and "IT FREEZES" in page


def test_days_are_counted_where_there_is_no_date():
    board = Board(Plan(UNDATED))
    assert "day 4" in texts(next(cured(board))) and "day 0" in texts(next(calendars(board)))


def test_the_chart_has_every_kind_of_event_and_marks_holds():
    (sheet,) = calendars(Board(Plan(GATE)))
    page = texts(sheet)
    for said in ("ask for the permit", "pour", "strip west, east", "hang leaf", "final inspection", "guess"):
        assert said in page, said


def test_temperatures_are_marked_in_the_jobs_own_unit():
    assert "60 F" in texts(next(cured(Board(Plan(GATE))))) and "20 C" in texts(next(cured(Board(Plan(METRIC)))))


def test_what_was_read_and_broken_stands_on_the_page_as_rings():
    found = read_job(Path(__file__).parents[2] / "examples/orchard-gate/as-built.toml")
    page = next(sheet for sheet in cured(Board(Plan(found))) if "tie" in sheet.name)
    rings = [mark for mark in page.marks if isinstance(mark, d.Circle) and mark.layer == d.CHECK]
    assert len(rings) == 3 + 1 + 1 and "as read" in texts(page)  # thermometer, its key, cylinders
