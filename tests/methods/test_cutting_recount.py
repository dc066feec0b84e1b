"""Does the recount refuse whatever is wrong with a plan? A good one is changed in one place at a time."""

from dataclasses import replace

import pytest

from batterboard.methods.cutting import Piece, lengths, recount, sheets
from batterboard.methods.cutting.plans import Layout, Panel, Place, Sheet, SheetPlan, Stock

# ---- lengths ----

KERF, KEEP = 0.003, 0.5
PIECES = [Piece("A", 2.0, 3), Piece("B", 1.3, 4), Piece("C", 0.7, 2)]
STOCKS = [Stock("bar", 6.0, 20.0), Stock("offcut", 2.5, 0.0, count=1)]


@pytest.fixture(scope="module")
def sticks():
    plan = lengths.best(PIECES, STOCKS, kerf=KERF, keep=KEEP)
    assert recount.length_faults(plan, PIECES, STOCKS, KERF, KEEP) == ()
    return plan


def first_stick(plan, **changes):
    stick, *others = plan.sticks
    return replace(plan, sticks=(replace(stick, **changes), *others))


def first_piece(plan, **changes):
    piece, *others = plan.sticks[0].pieces
    said = {"name": piece.name, "length": piece.length, "count": piece.count} | changes
    return first_stick(plan, pieces=(Piece(**said), *others))


@pytest.mark.parametrize(
    "wrong, fault",
    [
        (lambda plan: first_piece(plan, length=plan.sticks[0].pieces[0].length - 0.1), "another length"),
        (lambda plan: first_piece(plan, count=plan.sticks[0].pieces[0].count + 1), "of"),
        (lambda plan: first_piece(plan, name="D"), "D: 1 of 0 cut"),
        (lambda plan: first_stick(plan, left=plan.sticks[0].left + 0.01), "the offcut is not"),
        (lambda plan: first_stick(plan, stock=replace(STOCKS[0], length=9.0)), "nobody offers bar"),
        (lambda plan: first_stick(plan, times=plan.sticks[0].times + 1), "of"),
        (lambda plan: replace(plan, sticks=plan.sticks[1:]), "cut"),
        (lambda plan: replace(plan, cost=plan.cost - 20.0), "the cost is"),
        (lambda plan: replace(plan, bound=plan.cost + 1.0), "above the cost"),
        (lambda plan: replace(plan, useful=plan.useful + 0.1), "of use"),
        (lambda plan: replace(plan, sticks=plan.sticks[1:], left_out=("A",)), "cut"),
    ],
)
def test_a_plan_of_lengths_that_is_wrong_in_one_place_is_refused(sticks, wrong, fault):
    assert any(fault in said for said in recount.length_faults(wrong(sticks), PIECES, STOCKS, KERF, KEEP))


def test_no_more_offcuts_are_used_than_lie_there(sticks):
    some = [stick for stick in sticks.sticks if stick.stock.count is not None]
    twice = replace(sticks, sticks=(*sticks.sticks, *some))
    assert "offcut: 2 used of 1" in recount.length_faults(twice, PIECES, STOCKS, KERF, KEEP)


def test_a_wider_kerf_is_noticed(sticks):
    assert any("cut out of" in fault for fault in recount.length_faults(sticks, PIECES, STOCKS, 0.4, KEEP))


def test_what_was_left_out_though_it_fits_is_missed():
    nothing = replace(lengths.best([], STOCKS), left_out=("A", "B", "C"))
    assert recount.length_faults(nothing, PIECES, STOCKS, KERF) == ("A: 0 of 3 cut", "B: 0 of 4 cut", "C: 0 of 2 cut")


# ---- sheets ----

PLY = Sheet("ply", 2.4, 1.2, 40.0)
PANELS = [Panel("A", 1.0, 0.5, 3), Panel("B", 0.7, 0.4, 4, turn=True), Panel("C", 0.3, 0.3, 2)]


@pytest.fixture(scope="module")
def laid():
    plan = sheets.best(PANELS, [PLY], kerf=KERF, trim=0.01)
    assert recount.sheet_faults(plan, PANELS, [PLY], KERF, 0.01) == ()
    return plan


def first_layout(plan, **changes):
    layout, *others = plan.layouts
    return replace(plan, layouts=(replace(layout, **changes), *others))


def first_place(plan, **changes):
    place, *others = plan.layouts[0].places
    return first_layout(plan, places=(replace(place, **changes), *others))


@pytest.mark.parametrize(
    "wrong, fault",
    [
        (lambda plan: first_place(plan, x=0.0), "over the edge"),
        (lambda plan: first_place(plan, length=0.2), "another size"),
        (lambda plan: first_place(plan, panel="D"), "nobody asked for D"),
        (lambda plan: first_place(plan, x=plan.layouts[0].places[0].x + 0.05), "overlap"),
        (lambda plan: first_place(plan, x=plan.layouts[0].places[0].x + 0.002), "no kerf"),
        (lambda plan: first_place(plan, turned=True), "another size"),
        (lambda plan: first_layout(plan, places=plan.layouts[0].places[1:]), "cut"),
        (lambda plan: first_layout(plan, times=2), "cut"),
        (lambda plan: first_layout(plan, sheet=replace(PLY, price=1.0)), "nobody offers ply"),
        (lambda plan: first_layout(plan, offcut=(2.0, 1.0)), "no room for an offcut"),
        (lambda plan: replace(plan, cost=0.0), "the cost is"),
        (lambda plan: replace(plan, bound=plan.cost + 40.0), "above the cost"),
        (lambda plan: replace(plan, layouts=(), cost=0.0, bound=0.0, left_out=("A", "B", "C")), "A: 0 of 3 cut"),
    ],
)
def test_a_plan_of_sheets_that_is_wrong_in_one_place_is_refused(laid, wrong, fault):
    assert any(fault in said for said in recount.sheet_faults(wrong(laid), PANELS, [PLY], KERF, 0.01))


def test_a_panel_turned_across_the_grain_is_found_out():
    turned = Place("A", 0.0, 0.0, 0.5, 1.0, True)
    plan = SheetPlan((Layout(PLY, 1, (turned,), (0.0, 0.0)),), 40.0, 40.0)
    (fault,) = recount.sheet_faults(plan, [Panel("A", 1.0, 0.5)], [PLY], 0.0)
    assert "turned across the grain" in fault


PINWHEEL = ((0, 0, 2, 1), (2, 0, 1, 2), (1, 2, 2, 1), (0, 1, 1, 2))


def plan_of(*places):
    sheet = Sheet("square", 3.0, 3.0)
    made = tuple(Place(f"P{n}", float(x), float(y), float(l), float(w), False) for n, (x, y, l, w) in enumerate(places))
    panels = [Panel(p.panel, p.length, p.width) for p in made]
    return SheetPlan((Layout(sheet, 1, made, (0.0, 0.0)),), 1.0, 1.0), panels, [sheet]


def test_a_pinwheel_fits_but_no_saw_can_part_it():
    plan, panels, stock = plan_of(*PINWHEEL)
    assert recount.sheet_faults(plan, panels, stock, 0.0) == ("sheet 1: no saw can part P0, P1, P2, P3",)
    with pytest.raises(ValueError, match="no saw"):
        recount.cuts(plan.layouts[0], 0.0)


@pytest.mark.parametrize(
    "places, fault",
    [
        (((0, 0, 2, 2), (1, 1, 2, 2)), "overlap"),
        (((0, 0, 2, 2), (2, 0, 2, 2)), "over the edge"),
        (((0, 0, 1, 1), (1, 0, 1, 1)), "no kerf"),
    ],
)
def test_a_wrong_layout_is_found_out(places, fault):
    plan, panels, stock = plan_of(*places)
    assert any(fault in said for said in recount.sheet_faults(plan, panels, stock, 0.01))


def test_stages_are_counted():
    plan, panels, stock = plan_of((0, 0, 3, 1), (0, 1, 1, 2), (1, 1, 2, 1), (1, 2, 1, 1), (2, 2, 1, 1))
    assert recount.stages_of(plan.layouts[0], 0.0) == 4
    assert recount.sheet_faults(plan, panels, stock, 0.0) == ("sheet 1: 4 stages of cuts, 3 allowed",)
