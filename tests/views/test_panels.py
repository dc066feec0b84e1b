"""Panels as drawn: what a man with a saw must find on the page."""

from pathlib import Path

import pytest

from batterboard.job import read_job
from batterboard.plan import Plan
from batterboard.quantity import inch
from batterboard.views import drawing as d
from batterboard.views import form_page
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.cutting import form_labels
from batterboard.views.drawings.holding import holding_sheets
from batterboard.views.drawings.isometric import assembly_sheets
from batterboard.views.drawings.openings import opening_sheets
from batterboard.views.drawings.panels import panel_sheets
from batterboard.views.drawings.strips import pattern_pages
from batterboard.views.tables import concrete, holding

SCOREBOARD = Path(__file__).parents[2] / "examples" / "scoreboard" / "job.toml"
ON_PAD = 'height = "4 ft"\npad = { along = "5 ft", across = "5 ft", thick = "16 in" }'


@pytest.fixture
def pier(tmp_path):
    def made(shape):
        text = SCOREBOARD.read_text().replace('round = "36 in"', shape)
        text = text.replace('bottom = { below = "ground", down = "8 ft" }', ON_PAD)
        path = tmp_path / "job.toml"
        path.write_text(text)
        return Plan(read_job(path))

    return made


LEANING = 'along = "40 in"\nacross = "34 in"\nbatter = "3 in"'


def test_a_leaning_panel_is_drawn_as_it_narrows_with_its_width_at_the_top(pier):
    board = Board(pier(LEANING))
    sheet = next(iter(panel_sheets(board)))
    assert not d.overlaps(sheet) and not d.outside(sheet)
    texts = set(d.shown(sheet))
    assert {"3'-4\"", "2'-10\"", "2'-11 7/16\"", "2'-5 7/16\""} <= texts
    assert {"ends 3.6° off square", "foot longer outside"} <= texts
    (cut,) = opening_sheets(board)
    assert {'3"', "2'-8 7/16\"", "2'-11 7/16\""} <= set(d.shown(cut))


def test_corners_that_a_band_holds_are_told_no_nails(pier):
    plan = pier('sides = 8\nflats = "36 in"')
    (sheet,) = holding_sheets(Board(plan))
    told = " ".join(d.shown(sheet)).replace("\n", " ")
    assert "a band round it" in told and "nails in each corner" not in told
    assert any("bands tight" in tick for tick in form_page.content(plan)["ticks"])


def test_the_braces_of_a_tube_are_drawn(pier):
    board = Board(pier('round = "36 in"'))
    (sheet,) = holding_sheets(board)
    assert not d.overlaps(sheet) and not d.outside(sheet)
    (box,) = board.plan.forms.boxes
    assert sheet.name == "Form, braces: shaft" and board.say(box.brace.run) in set(d.shown(sheet))


def test_the_collars_of_a_tube_are_drawn_listed_bought_and_in_the_steps(pier):
    plan = pier('round = "36 in"')
    (box,) = plan.forms.boxes
    (sheet,) = holding_sheets(Board(plan))
    told = " ".join(d.shown(sheet)).replace("\n", " ")
    assert "COLLARS 2x4 DF-L No. 2 on edge" in " ".join(told.split())
    assert [row[0] for row in holding.collars(plan).rows] == ["shaft"]
    cut = [(piece.count * stick.times, piece.length) for stick in plan.lumber.sticks for piece in stick.pieces
           if piece.mark == "shaft collar"]  # fmt: skip
    assert sum(count for count, _ in cut) == 8
    assert all(abs(length - float(box.collar.stick)) < 1e-6 for _, length in cut)
    assert any("collar of four sticks" in step.what for step in plan.pieces.forms[0].steps)


def test_a_tube_is_not_looked_at_as_a_box(pier):
    ticks = " ".join(form_page.content(pier('round = "36 in"'))["ticks"])
    assert "each tube" in ticks and "diagonals" not in ticks and "match mark" not in ticks


def test_equal_ends_of_a_polygons_strips_share_a_pattern(pier):
    board = Board(pier('sides = 8\nflats = "36 in"\nedges = { corners = "1 1/2 in", top = "3/4 in" }'))
    told = [text for page in pattern_pages(board) for text in d.shown(page) if text.endswith(" end")]
    assert sorted(told) == ["shaft top a left end", "shaft top a right end"]


def test_a_polygon_drawn_apart_names_its_panels_and_one_strip_of_each_kind(pier):
    board = Board(pier('sides = 8\nflats = "36 in"\nedges = { corners = "1 1/2 in", top = "3/4 in" }'))
    (sheet,) = assembly_sheets(board)
    assert not d.overlaps(sheet) and not d.outside(sheet)
    texts = set(d.shown(sheet))
    assert {f"A{number}" for number in range(1, 9)} | {"corner 1", "top 1"} <= texts and "top 2" not in texts


# ---- strips of two legs ----

TWO_LEGS = 'edges = { corners = "2 in", returns = "1 in", top = "1 in", down = "3/4 in"'


@pytest.mark.parametrize("more", ["", ', through = "top"', ", facets = true"])
@pytest.mark.parametrize("shape", ['along = "40 in"\nacross = "34 in"', LEANING, 'sides = 6\nflats = "36 in"'])
def test_sheets_of_strips_of_two_legs_are_legible(pier, shape, more):
    board = Board(pier(f"{shape}\n{TWO_LEGS}{more} }}"))
    sheets = [*panel_sheets(board), *assembly_sheets(board)]
    for sheet in sheets:
        assert not d.overlaps(sheet) and not d.outside(sheet)
    told = " ".join(" ".join(d.shown(sheet)) for sheet in sheets)
    assert 'legs 2" x 1"' in told and 'legs 1" x 3/4"' in told


def test_a_form_from_above_tells_which_leg_lies_on_which_panel(pier):
    box, six = (
        list(d.shown(next(iter(panel_sheets(Board(pier(f"{shape}\n{TWO_LEGS} }}")))))))
        for shape in ('along = "40 in"\nacross = "34 in"', 'sides = 6\nflats = "36 in"')
    )
    assert {'2"', "2'-6\"", '1"', "3'-2\""} <= set(box)
    assert {"1", "2", "3", "4", "5", "6"} <= set(six)
    assert 'Corner 1: 2" on 1, 1" on 2.' in " ".join(" ".join(six).split())


def test_steps_labels_and_list_say_where_the_longer_leg_lies(pier):
    plan = pier(f'along = "40 in"\nacross = "34 in"\n{TWO_LEGS}, through = "top" }}')
    steps = " ".join(step.what for step in plan.pieces.forms[0].steps)
    assert "the longer leg on the panels ahead and back, the shorter on those left and right" in steps
    assert "on the line of the top, the longer leg level" in steps
    labels = [text for sheet in form_labels(Board(plan)) for text in d.shown(sheet)]
    assert '2" on ahead, 1" on left' in labels and '1" on left, 2" on back' in labels
    listed = concrete.strips(plan)
    (corner,) = [row for row in listed.rows if row[1] == "corner"]
    assert corner[2:4] == (pytest.approx(2 * inch), pytest.approx(1 * inch))
    assert corner[-1].endswith("2 of the other hand")
    assert "leg on the panels ahead and back, other leg on those left and right" in listed.note
    six = pier(f'sides = 6\nflats = "36 in"\n{TWO_LEGS} }}')
    steps = " ".join(step.what for step in six.pieces.forms[0].steps)
    assert "the longer leg on the panel of its own number: corner 1 is between 1 and 2" in steps
    assert "leg on the panel of the corner's own number" in concrete.strips(six).note


def test_nothing_is_said_of_legs_where_both_are_alike(pier):
    plan = pier('along = "40 in"\nacross = "34 in"\nedges = { corners = "2 in", top = "1 in" }')
    assert not any("longer leg" in step.what for step in plan.pieces.forms[0].steps)
    assert concrete.strips(plan).note == ""
    assert not any("other hand" in row[-1] for row in concrete.strips(plan).rows)
