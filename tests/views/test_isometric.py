"""The form apart and together."""

from pathlib import Path

import pytest

from batterboard.job import read_job
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
