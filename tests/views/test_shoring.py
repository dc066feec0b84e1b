"""What stands under a beam that is clear of the ground, on paper."""

from pathlib import Path

import pytest

from batterboard.job import read_job
from batterboard.plan import Plan
from batterboard.views import cautions, form_page, lists, tables
from batterboard.views import drawing as d
from batterboard.views.drawings import exploded
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.isometric import assembly_sheets
from batterboard.views.drawings.panels import panel_sheets
from batterboard.views.drawings.shoring import shoring_sheets
from batterboard.views.drawings.sides import side_sheets

GATE = Path(__file__).parents[2] / "examples" / "orchard-gate" / "job.toml"
HIGH = (
    ('top = { level = "bench", down = "14 in" }', 'top = { level = "bench", up = "4 ft" }'),
    ('top = { level = "bench", up = "8 in" }', 'top = { level = "bench", up = "52 in" }'),
    ('height = "40 in"', 'height = "7 ft"'),
    ('of = ["pads", "tie"]', 'of = ["pads"]'),
    ('of = ["west", "east"]', 'of = ["west", "east", "tie"]'),
)


def high(folder, *more):
    text = GATE.read_text()
    for old, new in (*HIGH, *more):
        assert old in text
        text = text.replace(old, new)
    (folder / "job.toml").write_text(text)
    return Plan(read_job(folder / "job.toml"))


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("up", ["18 in", "4 ft"])
def test_the_page_of_the_shores_is_clean_and_tells_where_they_stand(tmp_path, units, up):
    change = ('top = { level = "bench", up = "4 ft" }', f'top = {{ level = "bench", up = "{up}" }}')
    board = Board(high(tmp_path, ('units = "us"', f'units = "{units}"'), change))
    (sheet,) = shoring_sheets(board)
    assert not d.overlaps(sheet) and not d.outside(sheet)
    of = board.plan.forms.shored["tie"]
    along, across = sheet.views
    assert {board.say(of.along)} <= set(d.shown(sheet))
    shores = [e for e in along.entities if isinstance(e, d.Polygon) and e.layer is d.TIMBER and len(e.points) == 4]
    lefts = {round(min(x for x, _ in e.points) + float(of.size.wide) / 2, 6) for e in shores}
    assert {round(float(pair.at), 6) for pair in of.pairs} <= lefts
    assert len([e for e in across.entities if isinstance(e, d.Polygon)]) >= 14
    assert any("nobody" in line or "DESIGNED FOR" in line for line in d.shown(sheet))


def test_a_beam_in_the_ground_has_no_such_page():
    assert list(shoring_sheets(Board(Plan(read_job(GATE))))) == []


def test_panels_and_assembly_of_such_a_form_are_clean(tmp_path):
    board = Board(high(tmp_path))
    for sheet in (*panel_sheets(board), *assembly_sheets(board)):
        assert not d.overlaps(sheet) and not d.outside(sheet), sheet.name


def test_the_tables_name_every_pair(tmp_path):
    plan = high(tmp_path)
    made = {table.name: table for table in tables.of(plan, "forms")}
    assert len(made["form-shore-cuts"].rows) == len(plan.forms.shored["tie"].pairs)
    told = dict(tables.printed(made["form-shores"], "us")[1])
    assert told["stands under"] == "all of it"
    assert "nails (16d)" in told["ties across their tops"]
    assert "form-shores" not in {table.name for table in tables.of(Plan(read_job(GATE)), "forms")}


def test_who_walks_round_the_form_looks_at_the_shores(tmp_path):
    page = form_page.content(high(tmp_path))
    assert any("pairs of shores" in line for form in page["forms"] for line in form["said"])
    assert any("wedges nailed" in tick for tick in page["ticks"])


def test_shores_are_cautioned_of_only_where_there_are_some(tmp_path):
    plan = high(tmp_path)
    for phase in ("forms", "cure"):
        assert any("Shores" in told for told in cautions.cautions(plan, phase))
        assert not any("Shores" in told for told in cautions.cautions(Plan(read_job(GATE)), phase))


def test_lists_and_the_model_carry_them(tmp_path):
    plan = high(tmp_path)
    assert any("shore" in name for name in lists.files(plan))
    marks = {part.mark for part in exploded.shores(plan.forms.boxes[-1])}
    assert {"tie cross-piece 1", "tie shore 1 left", "tie sole 1 right", "tie upright 1 left", "tie tie 1"} <= marks
    assert exploded.model(plan)


def test_a_beam_part_in_the_ground_has_its_stakes_on_the_same_page(tmp_path):
    slope = (
        'down = "6 in", falls = { along = "lane", one_in = 80 }',
        'down = "0 in", falls = { along = "gate", one_in = 14 }',
    )
    board = Board(high(tmp_path, slope, ('up = "4 ft" }', 'up = "14 in" }')))
    (sheet,) = shoring_sheets(board)
    assert not d.overlaps(sheet) and not d.outside(sheet)
    assert any("STAKES" in line for line in d.shown(sheet))
    assert not any("tie" in other.name for other in side_sheets(board))


def test_the_page_holds_what_is_said_of_high_shores_too(tmp_path):
    tall = (
        ('up = "4 ft" }', 'up = "20 ft" }'),
        ('up = "52 in"', 'up = "244 in"'),
        ('height = "7 ft"', 'height = "23 ft"'),
    )
    (sheet,) = shoring_sheets(Board(high(tmp_path, *tall)))
    assert not d.overlaps(sheet) and not d.outside(sheet)
