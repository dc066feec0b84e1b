"""Pockets and holes on paper: tables, drawings, the form drawn apart, the walk round it."""

import json
import struct
from pathlib import Path

import pytest

from batterboard.job import read_text
from batterboard.plan import Plan
from batterboard.views import drawing as d
from batterboard.views import drawings, form_page, tables

GATE = (Path(__file__).parents[2] / "examples" / "orchard-gate" / "job.toml").read_text("utf-8")
HOLES = """
[blockouts.letters]
in = "west"
side = "left"
up = "28 in"
wide = "14 in"
high = "6 in"
deep = "4 in"
[blockouts.drain]
in = "tie"
side = "top"
wide = "10 in"
high = "4 in"
deep = "4 in"
[blockouts.lamp]
in = "east"
side = "right"
left = "2 in"
down = "20 in"
wide = "4 in"
high = "4 in"
deep = "3 in"
of = "box"
[blockouts.sleeve]
in = "east"
side = "left"
up = "34 in"
wide = "4 in"
high = "4 in"
through = true
draft = 0.02
[blockouts.socket]
in = "west"
side = "top"
back = "1 in"
right = "1 in"
wide = "4 in"
high = "3 in"
deep = "4 in"
of = "foam"
"""


@pytest.fixture(scope="module")
def plan():
    return Plan(read_text(GATE + HOLES, "gate.toml"))


@pytest.fixture(scope="module")
def sheets(plan):
    return {sheet.name: sheet for sheet in drawings.sheets(plan)}


def printed(plan, phase, name):
    table = next(table for table in tables.of(plan, phase) if table.name == name)
    headings, rows, _ = tables.printed(table, plan.job.job.units)
    return [dict(zip([heading.split(" [")[0] for heading in headings], row, strict=True)) for row in rows]


def test_where_each_stands_is_told_from_marks_that_he_has(plan):
    rows = {row["blockout"]: row for row in printed(plan, "forms", "blockouts")}
    assert rows["letters"]["where its mouth stands"] == 'west A1: 4" to 1\'-6" right, 2\'-1" to 2\'-7" up'
    assert rows["socket"]["where its mouth stands"] == 'middle 1" behind and 1" right'
    assert rows["sleeve"]["where its mouth stands"].count("east A") == 2
    assert rows["lamp"]["comes out"] == "stays in the concrete"
    assert rows["letters"]["each side off square"] == "4.8"


def test_what_lifts_and_holds_each_is_told(plan):
    rows = {row["blockout"]: row for row in printed(plan, "forms", "blockouts-held")}
    assert rows["drain"]["held by"].endswith("4 stakes")
    assert rows["letters"]["hole in its underside"] == '2"'
    assert rows["letters"]["so that"].startswith("pushed to its panel with")
    assert "each of both panels" in rows["sleeve"]["held by"]
    (form,) = [row for row in printed(plan, "forms", "uplift") if row["form"] == "west"]
    assert "the blockouts in it" in form["lifted by"]


def test_every_board_has_its_size_and_bevels(plan):
    rows = {row["piece"]: row for row in printed(plan, "forms", "blockout-boards")}
    assert rows["letters sides"]["how many"] == "2"
    assert rows["letters sides"]["bevels: the long edge, the ends, the other edge"] == "4.8 deg out; square; 4.8 deg in"
    assert "lamp end" not in rows and "socket block" in rows


def test_a_job_without_any_says_nothing_of_them():
    plain = Plan(read_text(GATE, "gate.toml"))
    names = {table.name for phase in ("cage", "forms") for table in tables.of(plain, phase)}
    assert not {"blockouts", "blockouts-held", "blockout-boards", "behind-blockouts"} & names
    assert not any("lockout" in sheet.name for sheet in drawings.sheets(plain))


def test_panels_tops_and_boards_are_drawn_and_nothing_lies_on_another(sheets):
    mine = [sheet for name, sheet in sheets.items() if "lockouts" in name]
    views = {view.name for sheet in mine for view in sheet.views}
    assert {"WEST A1", "EAST A1", "EAST A2", "TIE FROM ABOVE", "WEST FROM ABOVE", "LETTERS", "SLEEVE"} <= views
    for sheet in (*mine, *(sheet for name, sheet in sheets.items() if name.startswith(("Section", "Form, put")))):
        assert not d.overlaps(sheet), sheet.name
        assert not d.outside(sheet), sheet.name
        assert not d.cut(sheet), sheet.name


def test_the_panel_measures_its_box_from_its_lower_left_corner(sheets):
    view = next(
        view for sheet in sheets.values() for view in sheet.views if view.name == "WEST A1" and "lock" in sheet.name
    )
    texts = {entity.text for entity in view.entities if isinstance(entity, d.Ordinate)}
    assert {'0"', '4"', "1'-6\"", "2'-1\"", "2'-7\""} == texts


def test_the_model_holds_each_box(plan):
    blob = drawings.files(plan, "glb")["forms.glb"]
    length = struct.unpack("<I", blob[12:16])[0]
    names = {node["name"] for node in json.loads(blob[20 : 20 + length])["nodes"]}
    assert {"letters", "lamp", "sleeve", "socket"} <= names


def test_the_walk_round_the_form_looks_at_each(plan):
    page = form_page.content(plan)
    said = [line for form in page["forms"] for line in form["said"]]
    assert any(line.startswith("boxes in it float: letters with") for line in said)
    assert any("both sides of letters" in tick for tick in page["ticks"])
    assert any("lamp" in tick and "no gap at their mouths" in tick for tick in page["ticks"])
