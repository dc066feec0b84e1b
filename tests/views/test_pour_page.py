"""One sheet to hang up on pour day, complete on paper."""

import io
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pdfplumber
import pytest

from batterboard import read_job
from batterboard.app import numbers
from batterboard.cli import main
from batterboard.job import schema, starting_file
from batterboard.job.errors import JobError
from batterboard.job.reader import read_text
from batterboard.plan import Plan
from batterboard.views import book, pour_page
from batterboard.views.tables import pouring

EXAMPLES = Path(__file__).parents[2] / "examples"
GATE = Plan(read_job(EXAMPLES / "orchard-gate/job.toml"))
JOBS = {
    "gate": GATE,
    "board": Plan(read_job(EXAMPLES / "scoreboard/job.toml")),
    "found": Plan(read_job(EXAMPLES / "orchard-gate/as-built.toml")),
    "new gate": Plan(read_text(starting_file("gate"))),
}


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("name", JOBS)
def test_it_is_one_page_in_letters_of_fourteen_points(name, paper):
    pages = pdfplumber.open(io.BytesIO(book.pour_pdf(JOBS[name], paper))).pages
    assert len(pages) == 1 and JOBS[name].job.digest in pages[0].extract_text()
    foot = max(char["top"] for char in pages[0].chars) - 40  # hash and cautions
    letters = [char for char in pages[0].chars if char["top"] < foot]
    assert letters and min(char["size"] for char in letters) >= 13.99


def test_the_page_says_what_the_hour_says():
    page = pour_page.content(GATE)
    told = " ".join([*page["holds"], *page["loads"]])
    for hold in GATE.hour.holds:
        assert pouring.clock(GATE, hold.starts) in told and pouring.clock(GATE, hold.latest) in told
    assert [row[4] for row in page["lifts"]] == [pouring.clock(GATE, one.starts) for one in GATE.hour.placings]
    assert "LAST-YARD CALL" in told
    assert {what.split()[0] for what, _ in page["ifs"]} >= {"Truck", "Rain", "Form", "1/4"}


def test_a_day_that_is_not_said_is_told_in_hours_from_the_first_concrete():
    plan = JOBS["new gate"]
    assert plan.hour.when is None and "hours from" in pour_page.content(plan)["when"]
    assert pouring.clock(plan, -1800.0) == "-0:30 h" and pouring.clock(plan, 9660.0) == "2:41 h"


def test_the_next_day_is_named():
    assert pouring.clock(GATE, 24 * 3600.0).startswith("Tue")


def test_weather_that_stops_the_pour_is_said_in_the_morning():
    hours = tuple(
        schema.Weather(at=GATE.job.pour.when + timedelta(hours=n), air=-2.0, humidity=0.2, wind=10.0, rain=5e-3 / 3600)
        for n in range(30)
    )
    plan = Plan(replace(GATE.job, pour=replace(GATE.job.pour, weather=hours)))
    asked = [said for said, asks in pour_page.content(plan)["sky"] if asks]
    assert [said.split(",")[0].split()[0] for said in asked] == ["COLD", "FROST", "Dries", "HEAVY"]


def test_a_long_row_with_many_loads_stays_on_one_page():
    first = """like = "west"
place = [ { along = "lane", ahead = "%d ft" }, { from = "lane", left = "0 ft" }, { turn = "lane" } ]"""
    row = "".join(f"\n[piers.p{n}]\n{first % (8 * n + 60)}\n" for n in range(25))
    text = (EXAMPLES / "orchard-gate/job.toml").read_text() + row
    plan = Plan(read_text(text.replace('of = ["west", "east"]', 'of = ["piers"]'), "row.toml"))
    assert len(plan.hour.loads) > 5
    assert len(pdfplumber.open(io.BytesIO(book.pour_pdf(plan, "letter"))).pages) == 1


def test_nothing_left_to_cast_has_no_page():
    plan = Plan(replace(GATE.job, done=(*GATE.job.piers, *GATE.job.beams)))
    assert pour_page.content(plan) is None
    with pytest.raises(JobError, match="nothing is left"):
        book.pour_pdf(plan)


def test_the_ways_out_name_a_retarder_where_both_cannot_be_met():
    hold = GATE.hour.holds[0]
    assert "retarder" in pouring.ways_out(hold, "us") and "planned joint" in pouring.ways_out(hold, "us")


def test_the_command_writes_the_page_alone(tmp_path, capsys):
    path = tmp_path / "page.pdf"
    assert main(["book", "--pour", str(EXAMPLES / "scoreboard/job.toml"), "-o", str(path)]) in (0, 1)
    assert len(pdfplumber.open(path).pages) == 1 and str(path) in capsys.readouterr().out


def test_the_page_on_the_screen_says_what_hangs_at_the_form():
    told = dict(numbers.key_numbers(GATE, "pour"))
    page = pour_page.content(GATE)
    assert told["when"] == page["when"] and told["between lifts"] == page["holds"][0]
    assert all(f"{begins} to {ends}" in told[f"lift {n}"] for n, _, _, _, begins, ends in page["lifts"])


@pytest.mark.parametrize("command", ["book", "draw"])
def test_a_job_that_describes_nothing_is_told_so(tmp_path, capsys, command):
    (tmp_path / "job.toml").write_text('[job]\nname = "Nothing"\n')
    assert main([command, str(tmp_path / "job.toml")]) == 2
    assert "there is nothing to draw" in capsys.readouterr().err
