from dataclasses import replace
from itertools import product
from math import ceil

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from batterboard.methods.cutting import recount, sheets
from batterboard.methods.cutting.bounds import functions
from batterboard.methods.cutting.plans import Panel, Sheet
from batterboard.quantity import ft, inch

PLY = Sheet("ply", 2.4, 1.2)
lists = st.lists(
    st.tuples(st.integers(1, 24), st.integers(1, 12), st.integers(1, 4), st.booleans()), min_size=1, max_size=6
)
quick = settings(deadline=None, max_examples=25)


def panels_of(wanted):
    return [Panel(f"P{n}", l / 10, w / 10, count, turn) for n, (l, w, count, turn) in enumerate(wanted, 1)]


def cut(panels, stock=(PLY,), **said):
    plan = sheets.best(panels, stock, **said)
    kerf, trim, stages = said.get("kerf", 0.0), said.get("trim", 0.0), said.get("stages", 3)
    assert recount.sheet_faults(plan, panels, stock, kerf, trim, stages) == ()
    return plan


@quick
@given(lists, st.sampled_from([0.0, 0.003]), st.sampled_from([2, 3, None]))
def test_layouts_never_overlap_are_always_sawable_and_hold_every_piece_once(wanted, kerf, stages):
    panels = panels_of(wanted)
    plan = cut(panels, kerf=kerf, stages=stages)
    area = sum(p.length * p.width * p.count for p in panels)
    assert ceil(area / 2.88 - 1e-9) <= plan.bound <= plan.sheets == plan.cost


@quick
@given(lists)
def test_the_cuts_of_a_layout_part_every_piece_and_meet_none(wanted):
    for layout in cut(panels_of(wanted), kerf=0.003).layouts:
        for saw in recount.cuts(layout, 0.003):
            for p in layout.places:
                side, width, low, long = (p.y, p.width, p.x, p.length) if saw.along else (p.x, p.length, p.y, p.width)
                beside = saw.at >= side + width - 1e-7 or saw.at + 0.003 <= side + 1e-7
                assert beside or saw.end <= low + 1e-7 or saw.start >= low + long - 1e-7


@given(st.integers(2, 30).flatmap(lambda c: st.tuples(st.just(c), st.lists(st.integers(1, c), min_size=1, max_size=4))))
def test_what_fits_a_stock_or_a_shorter_one_still_fits_it_after_a_dual_feasible_function(case):
    stock, lengths = case
    rows = functions(stock, [*lengths, *range(1, stock + 1)])
    for counts in product(range(4), repeat=len(lengths)):
        total = np.dot(counts, lengths)
        if 0 < total <= stock:
            assert (rows[:, : len(lengths)] @ np.array(counts) <= rows[:, len(lengths) + total - 1] + 1e-9).all()


def test_four_panels_come_out_of_one_sheet():
    panels = [Panel("between", 40 * inch, 22 * inch, 2), Panel("past", 40 * inch, (23 + 7 / 16) * inch, 2)]
    plan = cut(panels, [Sheet("4 x 8", 8 * ft, 4 * ft)], kerf=inch / 8)
    (layout,) = plan.layouts
    assert plan.sheets == plan.bound == 1
    assert max(p.y + p.width for p in layout.places) == pytest.approx((45 + 9 / 16) * inch, abs=inch / 64)
    assert max(p.x + p.length for p in layout.places) == pytest.approx((80 + 1 / 8) * inch, abs=inch / 64)


def test_grain_forbids_what_turning_allows():
    wanted = Panel("A", 1.0, 2.0, 1)
    assert cut([wanted]).left_out == ("A",)
    assert cut([replace(wanted, turn=True)]).sheets == 1


def test_sheets_on_hand_go_first_and_no_more_of_them_than_there_are():
    plan = cut([Panel("A", 1.1, 1.1, 6)], [PLY, replace(PLY, name="half", length=1.2, price=0.0, count=2)])
    assert plan.cost == plan.bound == 2
    assert sum(layout.times for layout in plan.layouts if layout.sheet.name == "half") == 2


def test_the_cheaper_of_two_sheets_is_bought():
    stock = [replace(PLY, price=60.0), replace(PLY, name="large", length=3.0, width=1.5, price=70.0)]
    assert [layout.sheet.name for layout in cut([Panel("A", 1.5, 1.5, 2)], stock).layouts] == ["large"]


def test_trim_is_kept_off_every_edge():
    assert cut([Panel("A", 1.2, 1.2, 2)]).sheets == 1
    assert cut([Panel("A", 1.18, 1.18, 2)], trim=0.01).sheets == 1
    assert cut([Panel("A", 1.19, 1.18, 2)], trim=0.015).left_out == ("A",)


def test_what_is_left_is_left_in_one_piece():
    plan = cut([Panel("A", 0.8, 0.4, 3)])
    assert plan.layouts[0].offcut == pytest.approx((2.4, 0.8))


def test_a_rip_first_plan_cuts_along_the_sheet_first():
    (layout,) = cut([Panel("A", 0.8, 0.6, 6)], first="rip").layouts
    assert recount.cuts(layout, 0.0)[0].along


def test_the_same_question_gets_the_same_plan():
    panels = panels_of([(11, 7, 4, True), (9, 5, 4, True), (13, 3, 4, False), (6, 6, 4, False), (17, 4, 3, True)])
    assert sheets.best(panels, [PLY], kerf=0.003) == sheets.best(panels, [PLY], kerf=0.003)
