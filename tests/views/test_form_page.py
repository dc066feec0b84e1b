"""The walk round the form: one sheet, complete."""

import json
from dataclasses import replace
from pathlib import Path

import pytest
import typst

from batterboard.job import read_job
from batterboard.plan import Plan
from batterboard.views import form_page
from batterboard.views.book import _template

EXAMPLES = Path(__file__).parents[2] / "examples"


def page(said):
    main = b'#import "walk.typ": walk-page\n#walk-page(json("data.json"), 210mm, 279mm)'
    room = {"main.typ": main, "data.json": json.dumps(said).encode()}
    room |= {name: _template(name) for name in ("walk.typ", "pour.typ")}
    made = typst.compile(room, ignore_system_fonts=True, format="png", ppi=30)
    return made if isinstance(made, list) else [made]


@pytest.mark.parametrize("name", ["orchard-gate", "pump-pad", "scoreboard", "letterbox-pier"])
def test_the_walk_round_the_form_is_one_sheet(name):
    said = form_page.content(Plan(read_job(EXAMPLES / name / "job.toml")))
    assert said is not None and len(page(said)) == 1


def test_it_tells_what_the_form_was_reckoned_for():
    plan = Plan(read_job(EXAMPLES / "orchard-gate" / "job.toml"))
    (form,) = form_page.content(plan)["forms"]
    told = "; ".join(form["said"])
    assert form["name"] == "west, east"
    for word in ("presses", "yokes", "16d nails", "brace", "stakes"):
        assert word in told


def test_a_form_pumped_from_below_is_told_its_surge_and_no_rate():
    job = read_job(EXAMPLES / "orchard-gate" / "job.toml")
    (form,) = form_page.content(Plan(replace(job, pour=replace(job.pour, from_below=True))))["forms"]
    told = "; ".join(form["said"])
    assert "PUMPED FROM BELOW" in told and "FILL NO FASTER" not in told
    assert "1 brace a side" in told and "nails (16d) at each end" in told


def test_every_check_of_the_letter_box_pier_holds():
    assert all(check.holds for check in Plan(read_job(EXAMPLES / "letterbox-pier" / "job.toml")).checks)
