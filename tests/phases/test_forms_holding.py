"""What holds a form together, upright and on the ground?"""

from dataclasses import replace
from math import pi, sqrt, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from batterboard.job.schema import Mix, Pour, Sheet, Stock
from batterboard.phases import forms
from batterboard.phases.forms.sheathing import carried
from batterboard.quantity import ft, hour, inch, lb, lb_ft, pcf, psf, psi
from batterboard.work.records import Body, Frame, Outline

SHEET = Sheet(of="3/4 in plywood", size=(8 * ft, 4 * ft))
MIX = Mix(strength=4000 * psi, weight=150 * pcf)
POUR = Pour(rate=5 * ft / hour, concrete=20.0)
STOCK = Stock(sheets=(SHEET,))


class WorkOf:
    """As much of a work as the forms ask for."""

    def __init__(self, *bodies):
        lift = {"bodies": bodies, "slump": 4 * inch, "number": 1, "covered": False}
        self.lifts = (type("Lift", (), lift)(),)
        self.bodies, self.ground, self.piers, self.beams, self.pipes = bodies, None, {}, {}, {}


def made(outline, height, part="pier", pour=POUR, stock=STOCK, mix=MIX):
    frame = Frame(x=0.0, y=0.0, turn=0.0)
    body = Body(
        name="b", element="b", part=part, outline=outline, frame=frame, bottom=0.0, top=height, mix="m", against="form"
    )
    return forms.boxes(WorkOf(body), pour, {"m": mix}, stock)


def box(*args, **more):
    (one,) = made(*args, **more).boxes
    return one


def square(side, **more):
    return Outline(kind="rectangle", along=side, across=side, **more)


def octagon(flats):
    return Outline(kind="polygon", along=flats, across=flats, sides=8)


# ---- yokes of many sides, straps ----


def test_a_form_of_many_sides_has_yokes_that_close_up_towards_the_foot():
    of = box(octagon(24 * inch), 8 * ft, pour=replace(POUR, rate=None))
    gaps = np.diff([yoke.up for yoke in of.yokes])
    assert gaps[0] < gaps[-2]
    assert of.frame.sticks(of.yokes[0])[0][0] == 8
    flats = 24 * inch + 2 * of.panels[0].thick
    assert of.frame.span == approx(flats * tan(pi / 8))
    assert [yoke.pull for yoke in of.yokes] == approx([yoke.load * flats / 2 for yoke in of.yokes])
    assert all(yoke.nails == 0 for yoke in of.yokes)


def test_a_weak_band_brings_the_yokes_closer_and_is_judged():
    strong = made(octagon(24 * inch), 6 * ft)
    weak = made(octagon(24 * inch), 6 * ft, stock=replace(STOCK, strap=300 * lb))
    assert len(weak.boxes[0].yokes) > len(strong.boxes[0].yokes)
    check = next(c for c in weak.checks if c.name == "strap")
    assert check.holds and check.capacity == approx(300 * lb)
    assert not [c for c in strong.checks if c.name in ("strap", "corner_nails")]


def test_rated_straps_stand_in_for_the_corner_nails_of_a_box():
    deep = replace(STOCK, yoke="2x6")
    nailed = made(square(34 * inch), 8 * ft, pour=replace(POUR, rate=None), stock=deep)
    strapped = made(square(34 * inch), 8 * ft, pour=replace(POUR, rate=None), stock=replace(deep, strap=2000 * lb))
    assert len(strapped.boxes[0].yokes) < len(nailed.boxes[0].yokes)
    assert {c.name for c in strapped.checks} >= {"strap"}
    assert "corner_nails" not in {c.name for c in strapped.checks}


# ---- studs, wales and ties ----


def test_a_box_too_wide_for_yokes_gets_studs_wales_and_ties_that_hold():
    answer = made(Outline(kind="rectangle", along=7 * ft, across=2 * ft), 4 * ft)
    (of,) = answer.boxes
    assert of.frame is None and of.wall is not None
    assert of.wall.pull <= of.wall.tie
    assert all(c.holds for c in answer.checks if c.name in ("sheathing", "studs", "wales", "ties", "stud_bearing"))


def test_wales_carry_all_that_leans_on_the_wall():
    of = box(Outline(kind="rectangle", along=7 * ft, across=2 * ft), 4 * ft)
    h, w = of.lateral.height, of.lateral.weight
    assert sum(wale.load for wale in of.wall.wales) == approx(w * h**2 / 2)
    assert of.wall.pull == approx(max(wale.load for wale in of.wall.wales) * of.wall.tie_spacing)


@given(st.floats(2.1, 2.4), st.floats(0.5, 4.0))
def test_wales_stand_closer_towards_the_foot(width, height):
    of = box(Outline(kind="rectangle", along=width, across=0.6), height, pour=replace(POUR, rate=None))
    if of.wall is not None and len(of.wall.wales) > 3:
        gaps = np.diff([wale.up for wale in of.wall.wales])[:-1]
        assert np.all(np.diff(gaps) >= -1e-9)


@given(st.floats(0.3, 2.4), st.floats(0.3, 4.5), st.booleans())
def test_what_is_sized_holds_or_the_panel_itself_does_not(width, height, known):
    pour = POUR if known else replace(POUR, rate=None)
    answer = made(Outline(kind="rectangle", along=width, across=0.5), height, pour=pour)
    failing = {c.name for c in answer.checks if not c.holds}
    assert failing <= {"one_sheet", "sheathing"}
    if answer.boxes[0].lateral.peak < 1000 * psf and answer.boxes[0].sheathing.across:
        assert "sheathing" not in failing


# ---- stakes of a low edge ----


def test_stakes_of_an_edge_by_hand():
    of = box(Outline(kind="rectangle", along=10 * ft, across=6 * ft), 16 * inch, part="slab")
    q = 150 * pcf * 16 * inch
    assert of.edge.push == approx(q * 16 * inch / 6 * of.edge.spacing)
    assert of.edge.foot == approx(2 * of.edge.push)
    assert of.edge.kicker == approx(of.edge.push * sqrt(2))
    assert of.edge.foot <= of.edge.stake


def test_a_higher_edge_has_more_stakes_until_none_can_hold_it():
    low, high = (made(Outline(kind="rectangle", along=8 * ft, across=4 * ft), h, part="slab") for h in (0.2, 0.4))
    assert low.boxes[0].edge.spacing > high.boxes[0].edge.spacing
    too_high = made(Outline(kind="rectangle", along=8 * ft, across=4 * ft), 1.2, part="slab")
    assert next(c for c in too_high.checks if c.name == "edge_hold").verdict == "fails"


@given(st.floats(0.6, 4.0), st.floats(0.1, 0.6))
def test_a_board_of_any_length_carries_over_as_many_spans_as_it_has(side, height):
    of = box(Outline(kind="rectangle", along=side, across=4.0), height, part="slab")
    for part in (part for panel in of.panels for part in panel.parts):
        spans = int(np.ceil(part.width / of.edge.spacing - 1e-9))
        apart = of.edge.spacing if spans > 1 else part.width
        sheet = of.sheathing
        bears = carried(sheet.panel, sheet.stress, sheet.across, apart, apart - of.edge.size.wide, spans)
        assert bears >= of.lateral.peak


def test_a_board_thinner_than_any_row_of_the_table_is_outside():
    thin = replace(STOCK, sheets=(replace(SHEET, thick=0.006),))
    answer = made(Outline(kind="rectangle", along=3.0, across=2.0), 0.3, part="slab", stock=thin)
    assert next(c for c in answer.checks if c.name == "sheathing").verdict == "outside"


# ---- tubes ----


def test_a_tube_is_judged_only_by_what_its_maker_rates_it_for():
    tube = Outline(kind="round", along=0.6, across=0.6)
    assert not [c for c in made(tube, 3.0).checks if c.name == "tube"]
    rated = made(tube, 3.0, stock=replace(STOCK, tube=2.5))
    assert next(c for c in rated.checks if c.name == "tube").verdict == "fails"


@given(st.floats(0.3, 2.5), st.floats(0.5, 4.0))
def test_a_collar_holds_what_a_pulled_brace_brings_or_says_that_it_does_not(diameter, height):
    answer = made(Outline(kind="round", along=diameter, across=diameter), height)
    of = answer.boxes[0].collar
    assert of.stick == approx(diameter + 1 * inch + 2 * of.size.deep)
    checks = {c.name: c for c in answer.checks}
    bends = of.push * of.span / 4 / of.size.modulus
    assert checks["collar_bending"].demand == approx(bends)
    assert checks["collar_nails"].demand == approx(of.push / 2)
    if of.size.name == "2x4":
        assert checks["collar_bending"].holds and checks["collar_nails"].holds


def test_a_wide_tubes_collar_is_of_wider_sticks():
    sizes = [box(Outline(kind="round", along=w, across=w), 4.0).collar.size.name for w in (0.4, 2.4)]
    assert sizes == ["2x4", "2x6"]


def test_a_box_has_no_collar_and_a_batch_of_tubes_has_the_worst():
    assert box(square(0.6), 1.0).collar is None
    widths = np.array([0.4, 2.4])
    of = box(Outline(kind="round", along=widths, across=widths), 4.0).collar
    assert of.size.name == "2x6" and of.stick == approx(widths + 1 * inch + 2 * of.size.deep)


# ---- walls: ends of studs, plates of ties ----


def test_studs_past_their_last_wale_and_plates_of_ties_are_checked():
    answer = made(Outline(kind="rectangle", along=3.0, across=0.4), 2.4)
    wall = answer.boxes[0].wall
    checks = {c.name: c for c in answer.checks}
    assert wall.past == approx(wall.wales[0].up)
    assert checks["stud_ends"].demand == approx(wall.past_load * wall.past**2 / 2 / wall.size.modulus)
    assert checks["stud_ends"].holds and checks["tie_bearing"].holds
    assert checks["tie_bearing"].demand == approx(wall.pull / (2 * wall.size.wide * 3 * inch))
    small = made(Outline(kind="rectangle", along=3.0, across=0.4), 2.4, stock=replace(STOCK, tie_plate=0.5 * inch))
    assert next(c for c in small.checks if c.name == "tie_bearing").verdict == "fails"


# ---- braces and uplift ----


def test_the_least_force_rules_a_low_form_and_the_wind_a_high_one():
    low, high = box(square(22 * inch), 40 * inch).brace, box(square(22 * inch), 15 * ft).brace
    width = (22 + 2 * 23 / 32) * inch
    assert (low.governs, high.governs) == ("least force", "wind")
    assert low.moment == approx(100 * lb / ft * width * 40 * inch)
    assert high.moment == approx(15 * psf * width * (15 * ft) ** 2 / 2)
    assert low.moment / lb_ft == approx(651.0, abs=0.1)


def test_a_brace_by_hand():
    of = box(square(22 * inch), 40 * inch).brace
    assert of.up == of.run == approx(30 * inch)
    assert of.push == approx(of.moment / (30 * inch))
    assert of.force == approx(of.push * sqrt(2))
    assert of.stakes == np.ceil(of.push / of.stake)


def test_a_long_brace_is_held_in_the_middle():
    short, long = box(square(22 * inch), 4 * ft).brace, box(square(22 * inch), 12 * ft).brace
    assert short.middles == 0
    assert long.middles == np.ceil(long.length / (75 * inch)) - 1 > 0
    assert all(c.holds for c in made(square(22 * inch), 12 * ft).checks if c.name in ("brace", "brace_stakes"))


def test_a_low_edge_has_no_brace():
    assert box(square(2.0), 0.3, part="slab").brace is None


def test_what_lifts_a_leaning_form_is_the_concrete_missing_above_its_sides():
    upright, leaning = (box(square(24 * inch, batter=b), 24 * inch).uplift for b in (0.0, 4.5 * inch))
    assert upright.batter == 0
    assert leaning.batter / lb == approx(393.75, rel=1e-3)
    assert leaning.stakes > upright.stakes or leaning.lift <= leaning.weight


@pytest.mark.parametrize("height", [1.0, 2.0])
def test_weight_and_stakes_keep_a_form_down(height):
    of = box(square(0.6, batter=0.1), height).uplift
    assert of.weight + of.stakes * of.stake >= of.lift


def test_a_batch_of_heights_is_braced_at_once():
    heights = np.array([1.0, 3.0])
    batch = box(square(0.6), heights).brace
    assert batch.force == approx([box(square(0.6), float(h)).brace.force for h in heights])
