"""The template over its form: what it is measured by, and that the page can be read."""

from pathlib import Path

import pytest

from batterboard.job import read_job, read_text
from batterboard.plan import Plan
from batterboard.quantity import inch
from batterboard.views import drawing as d
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.hanging import _Above, hung

EXAMPLES = Path(__file__).parents[2] / "examples"
GATE = EXAMPLES / "orchard-gate" / "job.toml"


@pytest.mark.parametrize("name", ["orchard-gate", "scoreboard", "pump-pad"])
def test_nothing_overlaps_on_the_page(name):
    sheets = list(hung(Board(Plan(read_job(EXAMPLES / name / "job.toml")))))
    assert sheets and all(sheet.name.startswith("Template hung") for sheet in sheets)
    for sheet in sheets:
        assert d.overlaps(sheet) == () == d.outside(sheet)


def test_a_post_off_the_middle_of_its_pier_is_measured_from_each_face():
    text = GATE.read_text("utf-8").replace('on = "west"', 'on = "west"\nshift = { along = "2 in", right = "1 in" }')
    board = Board(Plan(read_text(text, "gate.toml")))
    above = _Above(board, board.plan.template.patterns[0])
    assert [side / inch for side in above.form] == pytest.approx([-13, -10, 9, 12])
    assert {"1'-1\"", '10"', '9"', "1'-0\"", "1'-10\""} <= set(d.shown(next(iter(hung(board)))))


@pytest.mark.parametrize(
    "sides, told", [(8, {"back face", "ahead face", "right face", "left face"}), (5, {"ahead face", "back corner"}),
                    (6, {"back face", "ahead face", "right corner", "left corner"})],
)  # fmt: skip
def test_a_polygon_is_measured_from_what_its_form_has_there(sides, told):
    text = (
        (EXAMPLES / "scoreboard" / "job.toml")
        .read_text("utf-8")
        .replace('round = "36 in"', f'edges = {{ corners = "2 in" }}\nsides = {sides}\nflats = "36 in"')
    )
    board = Board(Plan(read_text(text, "sign.toml")))
    pattern = board.plan.template.patterns[0]
    centred = [p for p in pattern.proofs if p.proves == "centred"]
    assert {p.hold.removeprefix("the form's ").removesuffix(", inside") for p in centred} == told
    left, bottom, right, top = _Above(board, pattern).form
    reach = {"back": -left, "ahead": right, "right": -bottom, "left": top}
    for p in centred:
        assert float(p.value) == pytest.approx(reach[p.name.removeprefix("from ")], abs=1e-6)


def test_the_string_is_drawn_where_it_passes():
    board = Board(Plan(read_job(GATE)))
    above = _Above(board, board.plan.template.patterns[0])
    assert above.string == pytest.approx(0, abs=1e-9)
    aside = GATE.read_text("utf-8").replace('on = "west"', 'on = "west"\nshift = { across = "3 in" }')
    board = Board(Plan(read_text(aside, "gate.toml")))
    assert _Above(board, board.plan.template.patterns[0]).string == pytest.approx(-3 * inch)
