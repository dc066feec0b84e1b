"""Forms without yokes as drawn: stakes and kickers, studs, wales and ties."""

from dataclasses import replace
from pathlib import Path

import pytest

from batterboard.job import read_job
from batterboard.phases.forms.framing import places, ties_on
from batterboard.plan import Plan
from batterboard.quantity import ft
from batterboard.views import drawing as d
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.sides import side_sheets

EXAMPLES = Path(__file__).parents[2] / "examples"
PUMP = read_job(EXAMPLES / "pump-pad" / "job.toml")
GATE = read_job(EXAMPLES / "orchard-gate" / "job.toml")
WIDE = replace(
    GATE, piers={**GATE.piers, "west": replace(GATE.piers["west"], along=6 * ft, square=None, across=2 * ft)}
)


def shown(job):
    board = Board(Plan(job))
    pages = list(side_sheets(board))
    for page in pages:
        assert not d.overlaps(page) and not d.outside(page)
    return board, " ".join(text for page in pages for text in d.shown(page))


def test_a_low_edge_shows_every_stake_with_its_kicker():
    board, texts = shown(PUMP)
    (box,) = (box for box in board.plan.forms.boxes if box.edge is not None)
    standing = sum(panel.count * len(places(panel, panel.width, box.edge.spacing)) for panel in box.panels)
    assert standing == box.edge.count and f"{standing:.0f} in all" in texts and "KICKERS" in texts


def test_a_pad_that_no_sheet_spans_has_a_stake_on_its_joint():
    long = replace(PUMP, pads={name: replace(pad, along=4.2) for name, pad in PUMP.pads.items()})
    board, _ = shown(long)
    (box,) = (box for box in board.plan.forms.boxes if box.edge is not None)
    joined = [panel for panel in box.panels if panel.upright_joints]
    assert joined
    for panel in joined:
        stakes = places(panel, panel.width, box.edge.spacing)
        assert all(any(abs(stake - joint) < 1e-9 for stake in stakes) for joint in panel.upright_joints)
        assert max(b - a for a, b in zip(stakes, stakes[1:])) <= box.edge.spacing + 1e-9


def test_a_wide_box_shows_studs_wales_and_ties_as_many_as_were_counted():
    board, texts = shown(WIDE)
    box = next(box for box in board.plan.forms.boxes if box.name == "west")
    wall = box.wall
    assert wall is not None and "STUDS" in texts and "TIES" in texts
    studs = sum(panel.count * len(places(panel, panel.inside, wall.stud_spacing)) for panel in box.panels)
    assert studs == wall.studs
    ties = sum(len(ties_on(panel, wall)) * len(wall.wales) for panel in box.panels)
    assert ties == wall.ties
    for panel in box.panels:
        steps = [b - a for a, b in zip(ties_on(panel, wall), ties_on(panel, wall)[1:])]
        assert all(step <= wall.tie_spacing + 1e-9 for step in steps)
        middle = sum(ties_on(panel, wall)) / len(ties_on(panel, wall))
        assert middle == pytest.approx(panel.width / 2)


def test_a_form_with_yokes_has_no_such_page():
    assert not list(side_sheets(Board(Plan(GATE))))
