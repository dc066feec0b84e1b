"""Panels of parts, as he reads them: pages, tables, labels."""

from pathlib import Path

import pytest

from batterboard.job import read_text
from batterboard.plan import Plan
from batterboard.views import drawing as d
from batterboard.views import form_page, lists
from batterboard.views.drawings import exploded
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.cutting import cut_sheets, form_labels
from batterboard.views.drawings.holding import holding_sheets
from batterboard.views.drawings.isometric import assembly_sheets
from batterboard.views.drawings.openings import opening_sheets
from batterboard.views.drawings.panels import panel_sheets
from batterboard.views.tables import splices
from batterboard.views.tables.concrete import panels

GATE = (Path(__file__).parents[1] / "phases" / "gate.toml").read_text("utf-8")


@pytest.fixture(scope="module")
def tall():
    return Plan(read_text(GATE.replace('height = "40 in"', 'height = "110 in"'), "gate.toml"))


@pytest.fixture(scope="module")
def leaning():
    return Plan(read_text(GATE.replace('height = "40 in"\n', 'height = "110 in"\nbatter = "3 in"\n'), "gate.toml"))


@pytest.mark.parametrize(
    "kind", [panel_sheets, opening_sheets, assembly_sheets, holding_sheets, cut_sheets, form_labels]
)
def test_pages_of_parts_are_clean(kind, tall, leaning):
    for plan in (tall, leaning):
        for sheet in kind(Board(plan)):
            assert not d.overlaps(sheet) and not d.outside(sheet), sheet.name


def test_every_part_has_a_drawing_of_its_own_with_its_joint(tall):
    shown = [text for sheet in opening_sheets(Board(tall)) for text in d.shown(sheet)]
    for form in tall.pieces.forms:
        for panel in form.panels:
            assert panel.mark.upper() in shown
    told = " ".join(shown).replace("\n", " ")
    assert "Top edge, a: butts west A1 part 2, half over a yoke." in told


def test_the_list_has_a_row_for_each_kind_of_part_and_the_joints_their_letters(tall):
    marks = [row[0] for row in panels(tall).rows]
    assert {"west A part 1", "west A part 2", "west B part 1", "west B part 2"} <= set(marks)
    rows = splices.joints(tall).rows
    assert [(row[0], row[1]) for row in rows[:4]] == [
        ("west A1", "a"),
        ("west A2", "b"),
        ("west B1", "c"),
        ("west B2", "d"),
    ]
    assert {row[4] for row in rows} == {"a yoke of its own"}
    assert "panel-joints.csv" in lists.files(tall)


def test_a_wide_box_lists_its_plates_and_saws_them_from_the_sheets():
    text = GATE.replace('along = "22 in"', 'along = "66 in"').replace('"40 in"', '"70 in"')
    plan = Plan(read_text(text, "gate.toml"))
    marks = {row[0] for row in splices.plates(plan).rows}
    placed = {place.mark for layout in plan.sheets.layouts for place in layout.places}
    assert marks and any(mark.endswith("plate strip") for mark in placed)
    (strips,) = {place.along if place.along > place.across else place.across for layout in plan.sheets.layouts
                 for place in layout.places if place.mark.endswith("plate strip")}  # fmt: skip
    assert strips <= 4 * 0.3048 + 1e-9

    form = plan.pieces.forms[0]
    assert {plate.mark for plate in form.plates} <= {part.mark for part in exploded.parts(form)}
    assert exploded.model(plan)[:4] == b"glTF"


def test_whole_panels_have_no_joints_to_list():
    plan = Plan(read_text(GATE, "gate.toml"))
    assert not splices.joints(plan).rows and not splices.plates(plan).rows
    assert not any("joint with a letter" in tick for tick in form_page.content(plan)["ticks"])


def test_the_walk_looks_at_every_joint(tall):
    assert any("joint with a letter" in tick for tick in form_page.content(tall)["ticks"])


def test_the_model_has_every_part_and_moves_it_outwards(tall):
    assert exploded.model(tall)[:4] == b"glTF"
    form = tall.pieces.forms[0]
    by_mark = {part.mark: part for part in exploded.parts(form)}
    for panel in form.panels:
        x, y, _ = by_mark[panel.mark].away
        cx, cy, _ = panel.solid.centroid
        assert x * cx + y * cy > 0


def test_the_yokes_of_a_leaning_form_are_listed_and_sawn_each_for_its_height(leaning):
    marks = {piece.mark for stick in leaning.lumber.sticks for piece in stick.pieces if "yoke" in piece.mark}
    assert all(any(mark.endswith(f"yoke {number}") for mark in marks) for number in (1, 5))
    (west,) = (box for box in leaning.forms.boxes if box.name == "west")
    lengths = [float(yoke.along) for yoke in west.yokes]
    assert lengths == sorted(lengths, reverse=True) and lengths[0] > lengths[-1]
    told = " ".join(text for sheet in holding_sheets(Board(leaning)) for text in d.shown(sheet)).replace("\n", " ")
    assert "each cut for its height" in told
