"""How do the panels lie on the sheets?"""

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from batterboard.job import read_job
from batterboard.job.schema import Sheet
from batterboard.phases.forms.sheets import on_sheets
from batterboard.plan import Plan
from batterboard.quantity import ft, inch

GATE = Path(__file__).with_name("gate.toml")


@pytest.fixture(scope="module")
def gate():
    return Plan(read_job(GATE))


def wanted(plan):
    return Counter({panel.mark: panel.count for box in plan.forms.boxes for panel in box.panels})


def test_every_panel_of_the_gate_lies_on_a_sheet_once(gate):
    laid = Counter()
    for layout in gate.sheets.layouts:
        for place in layout.places:
            laid[place.mark] += layout.times
    kinds = gate.sheets.kinds
    assert sorted(one for mark in kinds for one in kinds[mark]) == sorted(wanted(gate))  # each in one kind
    assert laid == {mark: sum(wanted(gate)[one] for one in kinds[mark]) for mark in kinds}
    assert not any(total.too_large for total in gate.sheets.totals)


def test_no_fewer_sheets_are_bought_than_the_bound_says(gate):
    for total in gate.sheets.totals:
        assert 0 <= total.least <= total.bought <= total.sheets


def test_face_grain_stands_upright_where_it_crosses_level_yokes(gate):
    upright = {p.mark: p for b in gate.forms.boxes if b.sheathing and b.sheathing.across for p in b.panels}
    places = [place for layout in gate.sheets.layouts for place in layout.places]
    heights = [float(upright[kind].height) for place in places for kind in gate.sheets.kinds[place.mark]]
    alongs = [place.along for place in places for _ in gate.sheets.kinds[place.mark]]
    assert places and alongs == pytest.approx(heights)


def test_sheets_that_all_lie_in_the_shop_are_bought_when_they_are_used_up(gate):
    few = replace(gate.job.stock, sheets=(Sheet(of="3/4 in plywood", size=(8 * ft, 4 * ft), have=1),))
    laid = on_sheets(gate.forms, few)
    assert sum(layout.times for layout in laid.layouts if layout.on_hand) == 1
    assert all(total.bought == total.sheets - 1 for total in laid.totals)


def test_a_panel_larger_than_any_sheet_is_named(gate):
    small = replace(gate.job.stock, sheets=(Sheet(of="3/4 in plywood", size=(12 * inch, 12 * inch)),))
    laid = on_sheets(gate.forms, small)
    (total,) = laid.totals
    assert {one for mark in total.too_large for one in laid.kinds[mark]} == set(wanted(gate)) and total.sheets == 0


def test_panels_kerfs_and_what_is_left_fill_no_more_than_the_sheet(gate):
    for layout in gate.sheets.layouts:
        panels = sum(place.along * place.across for place in layout.places)
        left = [(piece.x, piece.y, piece.along, piece.across) for piece in layout.left]
        assert panels + sum(along * across for *_, along, across in left) <= layout.size[0] * layout.size[1] + 1e-9
        for x, y, along, across in left:
            assert all(
                max(p.x - x - along, x - p.x - p.along, p.y - y - across, y - p.y - p.across) >= gate.sheets.kerf - 1e-7
                for p in layout.places
            )
