"""What lies on the panels on the bench, as drawn from inside."""

from dataclasses import replace
from pathlib import Path

import pytest

from batterboard.job import read_job
from batterboard.phases.forms.pieces.lying import lying
from batterboard.plan import Plan
from batterboard.views import drawing as d
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.inside import inside_sheets

GATE = read_job(Path(__file__).parents[2] / "examples" / "orchard-gate" / "job.toml")
WEST = GATE.piers["west"]
HEX = replace(WEST, along=None, across=None, square=None, sides=6, flats=0.5588)
LEANING = replace(WEST, batter=0.05)
TOP_THROUGH = {"top": 0.0254, "top_shape": "recess", "corner_shape": "groove", "through": "top"}
PARTED = replace(WEST, edges=replace(WEST.edges, returns=0.0254, **TOP_THROUGH))


def board_of(pier):
    beams = {} if pier is not WEST else GATE.beams
    return Board(
        Plan(replace(GATE, piers={**GATE.piers, "west": pier}, beams=beams, pipes={} if not beams else GATE.pipes))
    )


def _width(points):
    return max(u for u, _ in points) - min(u for u, _ in points)


@pytest.mark.parametrize("pier", [WEST, HEX, LEANING], ids=["box", "hexagon", "leaning"])
def test_strips_lie_on_their_panels_with_the_legs_of_the_concrete(pier):
    form = board_of(pier).plan.pieces.forms[0]
    shown = lying(form)
    assert {one.panel.mark for one in shown} == {panel.mark for panel in form.panels}
    for one in shown:
        low, high = min(u for u, _ in one.panel.inside), max(u for u, _ in one.panel.inside)
        assert [thing.kind for thing in one.things] == ["corner", "corner", "top"]
        for thing in one.things:
            strip = next(strip for strip in form.strips if strip.mark == thing.mark)
            assert all(low - 1e-9 <= u <= high + 1e-9 for u, _ in thing.outline)
            deep = min(_width(thing.outline), _width([(v, u) for u, v in thing.outline]))
            side = list(strip.between).index(one.panel.side)
            if pier is not LEANING:
                assert deep == pytest.approx(strip.legs[side], abs=1e-9)


def test_a_corner_strip_lies_on_both_of_its_panels_against_the_same_match_mark():
    form = board_of(WEST).plan.pieces.forms[0]
    for one in lying(form):
        middle = sum(u for u, _ in one.panel.inside) / len(one.panel.inside)
        for thing in one.things:
            if thing.kind == "corner":
                side = "right" if min(u for u, _ in thing.outline) > middle else "left"
                edge = next(edge for edge in one.panel.edges if edge.side == side)
                assert thing.mark.rpartition(" ")[2] == edge.match


@pytest.mark.parametrize("pier", [WEST, HEX, LEANING, PARTED], ids=["box", "hexagon", "leaning", "in parts"])
def test_panels_from_inside_are_the_mirror_image_and_drawn_clean(pier):
    board = board_of(pier)
    pages = list(inside_sheets(board))
    texts = " ".join(text for page in pages for text in d.shown(page))
    assert "west A1, from the left: west corner 2, west top left, west corner 1." in texts or pier in (HEX, PARTED)
    for page in pages:
        assert not d.overlaps(page) and not d.outside(page)
