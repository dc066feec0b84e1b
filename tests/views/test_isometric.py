"""The form apart and together."""

from pathlib import Path

import pytest

from batterboard.job import read_job, read_text
from batterboard.plan import Plan
from batterboard.views import drawing as d
from batterboard.views.drawings import isometric
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.exploded import parts, yokes

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def gate():
    return Board(Plan(read_job(EXAMPLES / "orchard-gate" / "job.toml")))


def test_every_piece_is_named_where_the_form_is_drawn_apart(gate):
    sheets = list(isometric.assembly_sheets(gate))
    form = gate.plan.pieces.forms[0]
    texts = set(d.shown(sheets[0]))
    assert {part.mark.partition(" ")[2] for part in parts(form)} <= texts


def test_what_stands_before_a_thing_is_drawn_after_it(gate):
    form, box = gate.plan.pieces.forms[0], gate.plan.forms.boxes[0]
    order = isometric._pieces([*parts(form), *yokes(box)], apart=False)
    for i, one in enumerate(order):
        for later in order[i + 1 :]:
            assert not isometric._over(one, later) or isometric._nearer(one, later) <= 0


@pytest.mark.parametrize("name", ["orchard-gate", "pump-pad"])
def test_assembly_pages_are_clean_on_paper(name):
    for sheet in isometric.assembly_sheets(Board(Plan(read_job(EXAMPLES / name / "job.toml")))):
        assert not d.overlaps(sheet) and not d.outside(sheet)


def test_forms_whose_corner_strips_lie_the_other_way_round_are_not_alike():
    text = (EXAMPLES / "orchard-gate" / "job.toml").read_text("utf-8")
    looks = []
    for legs in ('corners = "2 in", returns = "1 in"', 'corners = "1 in", returns = "2 in"'):
        plan = Plan(read_text(text.replace('corners = "2 in", top = "3/4 in"', legs), "job.toml"))
        looks.append(isometric._look(plan.pieces.forms[0], plan.forms.boxes[0]))
    assert looks[0] != looks[1]
