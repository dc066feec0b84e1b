"""The sheets on the saw, as drawn."""

from pathlib import Path

import pytest

from batterboard.job import read_job
from batterboard.plan import Plan
from batterboard.views import drawing as d
from batterboard.views.drawings import cutting
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.cutting import cut_sheets, form_labels

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def gate():
    return Board(Plan(read_job(EXAMPLES / "orchard-gate" / "job.toml")))


def test_every_panel_is_named_once_on_the_cut_sheets_and_on_a_label(gate):
    marks = [panel.mark for form in gate.plan.pieces.forms for panel in form.panels]
    cut = [text for sheet in cut_sheets(gate) for text in d.shown(sheet)]
    labelled = [text for sheet in form_labels(gate) for text in d.shown(sheet)]
    assert "east B1, B2" in cut  # two equal sheets share a page
    cut += ["east B1", "east B2"]
    assert all(cut.count(mark) == 1 for mark in marks)
    assert all(labelled.count(mark) == 1 for mark in marks)


def test_cuts_are_numbered_in_sawing_order(gate):
    for sheet, layout in zip(cut_sheets(gate), gate.plan.sheets.layouts, strict=True):
        texts = set(d.shown(sheet))
        assert {str(n) for n in range(1, len(layout.cuts) + 1)} <= texts


@pytest.mark.parametrize("name", ["orchard-gate", "pump-pad", "letterbox-pier"])
def test_cut_sheets_and_labels_are_clean_on_paper(name):
    board = Board(Plan(read_job(EXAMPLES / name / "job.toml")))
    for sheet in (*cut_sheets(board), *form_labels(board)):
        assert not d.overlaps(sheet) and not d.outside(sheet)


def test_a_place_without_room_says_the_letter_of_its_panel_and_its_part():
    assert cutting._letter("west, east A") == "A"
    assert cutting._letter("apron A part 2") == "A part 2"
