"""What shape is the box, what cuts, and does it hold the wet concrete?"""

from dataclasses import replace
from math import pi, sqrt, tan
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from batterboard.job import read_job
from batterboard.job.schema import Mix, Pour, Sheet, Stock
from batterboard.phases import forms
from batterboard.phases.forms.pressure import lateral
from batterboard.phases.forms.shape import formed_height, shape
from batterboard.phases.forms.yokes import yokes_of
from batterboard.quantity import ft, hour, inch, lb, pcf, psf, psi
from batterboard.standards import aci347
from batterboard.study.sweep import varied
from batterboard.work.build import build
from batterboard.work.ground import Ground
from batterboard.work.records import Body, Frame, Outline

GATE = Path(__file__).with_name("gate.toml")
SHEET = Sheet(of="3/4 in plywood", size=(8 * ft, 4 * ft))
MIX = Mix(strength=4000 * psi, weight=150 * pcf)
POUR = Pour(rate=5 * ft / hour, concrete=20.0)


def block(outline=None, height=40 * inch, part="pier", against="form", **more):
    outline = outline or Outline(kind="rectangle", along=22 * inch, across=22 * inch)
    given = {"frame": Frame(x=0.0, y=0.0, turn=0.0), "bottom": 0.0, "top": height} | more
    return Body(name="b", element="b", part=part, outline=outline, mix="m", against=against, **given)


def pressed(body, height=None, slump=4 * inch, pour=POUR, mix=MIX):
    return lateral(body, body.height if height is None else height, slump, pour, mix)


def boxed(job):
    return forms.boxes(build(job), job.pour, job.mixes, job.stock)


@pytest.fixture(scope="module")
def gate():
    return boxed(read_job(GATE))


def check_of(made, *key):
    return next(c for c in made.checks if c.key == key)


# ---- pressure ----


def test_a_short_pier_is_pressed_by_its_head_and_not_by_the_least_pressure():
    low, high = pressed(block()), pressed(block(height=3.0), pour=replace(POUR, rate=0.1 * ft / hour))
    assert low.peak == approx(500 * psf)
    assert low.governs == "full liquid head"
    assert low.depth == approx(40 * inch)
    assert high.peak == approx(600 * psf)
    assert high.governs == "least pressure"


def test_a_tall_pier_is_pressed_by_the_formula():
    tall = pressed(block(height=4.0))
    assert tall.governs == "column formula"
    assert tall.peak == approx((150 + 9000 * 5 / 68) * psf)
    assert tall.depth == approx(tall.peak / tall.weight)


@pytest.mark.parametrize(
    "changes, said",
    [
        ({"slump": 8 * inch}, "wetter"),
        ({"pour": replace(POUR, rate=None)}, "no rate"),
        ({"pour": replace(POUR, vibrated=5 * ft)}, "deeper than 4 ft"),
        ({"mix": replace(MIX, flows=True)}, "levels itself"),
        ({"pour": replace(POUR, concrete=-2.0)}, "colder"),
        (
            {
                "body": block(Outline(kind="rectangle", along=9 * ft, across=1 * ft), 5.0),
                "pour": replace(POUR, rate=0.002),
            },
            "faster",
        ),
    ],
)
def test_what_the_guide_has_no_coefficient_for_is_a_liquid_to_the_foot(changes, said):
    body = changes.pop("body", block(height=5.0))
    mix = changes.pop("mix", replace(MIX, retarder=True))
    found = pressed(body, mix=mix, **changes)
    assert found.governs == "full liquid head"
    assert found.peak == approx(150 * pcf * 5.0)
    assert said in found.why


def test_a_form_pumped_full_from_below_is_pressed_a_quarter_harder_all_the_way():
    found = pressed(block(height=8 * ft), pour=replace(POUR, from_below=True))
    assert found.governs == "pumped from below"
    assert found.peak == approx(1500 * psf)
    assert aci347.pressure_at(4 * ft, found.weight, found.peak) == approx(750 * psf)


def test_a_long_pier_is_a_wall():
    assert pressed(block(Outline(kind="rectangle", along=6 * ft, across=1 * ft), 5.0)).column
    wall = pressed(block(Outline(kind="rectangle", along=7 * ft, across=1 * ft), 5.0))
    assert not wall.column
    assert wall.governs == "wall formula"
    assert wall.peak == approx((150 + 43400 / 68 + 2800 * 5 / 68) * psf)  # 16 ft high: the second formula


def test_the_edges_of_a_flat_pad_are_pressed_by_its_depth():
    found = pressed(block(Outline(kind="rectangle", along=2.0, across=1.2), 0.3, part="slab"))
    assert found.peak == approx(150 * pcf * 0.3)
    assert "no rate" in found.why


# ---- shape ----


def test_two_panels_fit_between_the_two_that_run_past_them():
    o = Outline(kind="rectangle", along=30 * inch, across=20 * inch)
    between, past = shape(block(o), 40 * inch, (SHEET,)).panels
    assert (between.width, between.sides, between.runs_past) == (approx(30 * inch), ("left", "right"), 0)
    assert (past.width, past.sides, past.runs_past) == (approx((20 + 2 * 23 / 32) * inch), ("ahead", "back"), 2)


def test_in_a_pinwheel_each_panel_runs_past_one_and_all_of_a_square_are_alike():
    (every,) = shape(block(), 40 * inch, (SHEET,), "pinwheel").panels
    assert (every.width, every.count, every.runs_past) == (approx((22 + 23 / 32) * inch), 4, 1)
    o = Outline(kind="rectangle", along=30 * inch, across=20 * inch)
    a, b = shape(block(o), 40 * inch, (SHEET,), "pinwheel").panels
    assert (a.width, b.width) == (approx((30 + 23 / 32) * inch), approx((20 + 23 / 32) * inch))


def test_the_sheet_is_as_thick_as_it_was_measured():
    panel = shape(block(), 40 * inch, (replace(SHEET, thick=0.018),)).panels[1]
    assert panel.width == approx(22 * inch + 0.036)


def test_bevelled_panels_close_round_a_polygon():
    o = Outline(kind="polygon", along=20 * inch, across=20 * inch, sides=6)
    (panel,) = shape(block(o), 1.0, (SHEET,)).panels
    assert panel.count * panel.bevel == approx(pi)
    assert panel.width - panel.inside == approx(2 * panel.thick * tan(pi / 6))


def test_a_round_pier_is_a_tube():
    made = shape(block(Outline(kind="round", along=0.4, across=0.4)), 1.0, (SHEET,))
    assert (made.kind, made.panels, made.strips) == ("tube", (), ())
    assert made.area == approx(pi * 0.4)


def test_top_strips_of_an_oblong_pier_are_of_two_lengths():
    o = Outline(kind="rectangle", along=30 * inch, across=20 * inch, corners=2 * inch, top=0.75 * inch)
    made = shape(block(o), 40 * inch, (SHEET,))
    assert [(s.mark, s.count) for s in made.strips] == [("b corner", 4), ("b top along", 2), ("b top across", 2)]
    assert [s.short for s in made.strips[1:]] == approx([26 * inch, 16 * inch])
    assert made.strips[0].face == approx(2 * sqrt(2) * inch)


def test_top_strips_without_corner_strips_are_mitred():
    o = Outline(kind="rectangle", along=22 * inch, across=22 * inch, top=0.75 * inch)
    (strip,) = shape(block(o), 40 * inch, (SHEET,)).strips
    assert (strip.long, strip.short) == (approx(22 * inch), approx(20.5 * inch))
    assert [(cut.against, cut.mitre) for cut in strip.cuts] == [("the next top strip", approx(pi / 4))]


def test_what_is_in_the_ground_is_not_formed_and_what_stands_out_is():
    ground = Ground(x=np.array([0.0]), y=np.array([0.0]), z=np.array([0.5]), slope_x=0.1, slope_y=0.0)
    o = Outline(kind="rectangle", along=1.0, across=1.0)
    assert formed_height(block(o, 0.4, against="earth"), ground) is None
    assert formed_height(block(o, 0.9, against="earth"), ground) == approx(0.9 - 0.45)  # down to the lowest ground
    assert formed_height(block(o, 0.9), ground) == approx(0.9)


def test_the_gate_forms_its_piers_and_casts_pads_and_tie_against_earth(gate):
    assert [box.name for box in gate.boxes] == ["west", "east"]
    assert set(gate.not_formed) == {"west pad", "east pad", "tie"}


# ---- strength ----


def made_box(height, side=22 * inch, stock=None, pour=POUR, slump=4 * inch, sheet=SHEET):
    body = block(Outline(kind="rectangle", along=side, across=side), height)
    found = pressed(body, pour=pour, slump=slump)
    form = shape(body, height, (sheet,))
    return found, yokes_of(form, found, stock or Stock(), {})


@given(st.floats(0.3, 3.5), st.floats(0.25, 0.9), st.floats(0.3, 6))
def test_the_yokes_take_all_the_push_and_stand_closer_towards_the_foot(height, side, rate):
    found, held = made_box(height, side, pour=replace(POUR, rate=rate * ft / hour))
    ups = [yoke.up for yoke in held.yokes]
    steps = np.diff(ups)
    assert sum(yoke.load for yoke in held.yokes) == approx(aci347.push_above(height, found.weight, found.peak))
    assert 0 < ups[0] < ups[-1] < height
    assert np.all(steps > 0)
    assert np.all(np.diff(steps[:-2]) >= -1e-9)


@given(st.floats(0.3, 2.5), st.floats(0.25, 0.6))
def test_a_box_of_usual_size_holds_as_it_is_laid_out(height, side):
    body = block(Outline(kind="rectangle", along=side, across=side), height)
    made = forms.boxes(_WorkOf(body), POUR, {"m": MIX}, Stock(sheets=(SHEET,)))
    for check in made.checks:
        if check.name != "one_sheet":
            assert check.verdict == "holds", (check.title, check.ratio)


class _WorkOf:
    """As much of a work as the forms ask for."""

    def __init__(self, *bodies):
        self.lifts = (type("Lift", (), {"bodies": bodies, "slump": 4 * inch, "number": 1, "covered": False})(),)
        self.bodies, self.ground, self.piers, self.beams, self.pipes = bodies, None, {}, {}, {}


def test_the_hardest_pressed_yoke_by_hand(gate):
    box = next(box for box in gate.boxes if box.name == "west")
    hardest = max(box.yokes, key=lambda yoke: yoke.load)
    z1, z2 = hardest.over / ft, hardest.under / ft
    q = 150 * (z2**2 - z1**2) / 2
    l = (22 + 2 * 23 / 32) / 12
    assert hardest.pull / lb == approx(q * l / 2, rel=1e-6)
    check = check_of(gate, "yoke_bending", "west")
    assert check.demand / psi == approx(q * l**2 / 8 * 12 / 3.0625, rel=1e-4)
    assert check.capacity / psi == approx(900 * 1.5 * 1.25)
    assert hardest.nails == np.ceil(q * l / 2 / (hardest.pull * 0 + box.frame.nail) * lb / 1.25)


def test_a_panel_on_two_yokes_is_one_span():
    _, held = made_box(0.4)
    assert len(held.yokes) == 2
    assert held.sheathing.spans == 1


def test_a_panel_across_the_weak_way_needs_closer_yokes():
    turned = replace(SHEET, size=(4 * ft, 8 * ft))
    body = block(height=2.0)
    found = pressed(body)
    strong, weak = (yokes_of(shape(body, 2.0, (sheet,)), found, Stock(), {}) for sheet in (SHEET, turned))
    assert (strong.sheathing.across, weak.sheathing.across) == (True, False)
    assert len(weak.yokes) > len(strong.yokes)


def test_wetter_concrete_needs_more_yokes_than_a_slow_stiff_pour():
    slow = made_box(3.0, pour=replace(POUR, rate=1 * ft / hour))[1]
    wet = made_box(3.0, slump=9 * inch)[1]
    assert len(wet.yokes) > len(slow.yokes)


def test_a_form_that_no_spacing_can_hold_fails_and_says_where():
    body = block(Outline(kind="rectangle", along=2.0, across=2.0), 6.0)
    made = forms.boxes(_WorkOf(body), replace(POUR, rate=None), {"m": MIX}, Stock(sheets=(SHEET,)))
    assert check_of(made, "ties", "b").verdict == "fails"


def test_a_panel_that_no_joint_makes_small_enough_is_named():
    body = block(Outline(kind="rectangle", along=1.5, across=1.5), 1.5)
    small = replace(SHEET, size=(10 * inch, 10 * inch))
    made = forms.boxes(_WorkOf(body), POUR, {"m": MIX}, Stock(sheets=(small,)))
    check = check_of(made, "one_sheet", "b")
    assert check.verdict == "fails"
    assert check.capacity == approx(10 * inch)
    assert "no joint of b A is clear" in check.note


def test_what_no_table_knows_is_outside_and_never_holds():
    made = forms.boxes(_WorkOf(block()), POUR, {"m": MIX}, Stock(sheets=(replace(SHEET, thick=0.006),)))
    assert check_of(made, "sheathing", "b").verdict == "outside"
    made = forms.boxes(_WorkOf(block()), POUR, {"m": MIX}, Stock(sheets=(SHEET,), yoke="4x4"))
    assert check_of(made, "corner_nails", "b").verdict == "outside"  # a 16d nail does not reach through a 4x4


def test_the_file_may_leave_the_sheets_out():
    made = forms.boxes(_WorkOf(block()), POUR, {"m": MIX}, Stock())
    assert made.boxes[0].sheet == "3/4 in plywood"


def test_every_check_of_the_forms_shows_its_working(gate):
    for check in gate.checks:
        assert check.steps or check.name == "one_sheet", check.title


def test_variants_of_weight_and_rate_are_pressed_as_if_each_were_alone():
    job = read_job(GATE)
    rates = np.array([0.5, 1.0, 2.0, 40.0]) * ft / hour
    sizes = np.array([16, 20, 24, 30]) * inch
    many = boxed(varied(job, {"pour.rate": rates, "piers.west.along": sizes}))
    for v in range(4):
        one = boxed(varied(job, {"pour.rate": float(rates[v]), "piers.west.along": float(sizes[v])}))
        for a, b in zip(one.boxes, many.boxes, strict=True):
            assert np.broadcast_to(b.lateral.peak, 4)[v] == approx(a.lateral.peak)
            for p, q in zip(a.panels, b.panels, strict=True):
                assert np.broadcast_to(q.width, 4)[v] == approx(p.width)
            for p, q in zip(a.strips, b.strips, strict=True):
                assert np.broadcast_to(q.long, 4)[v] == approx(p.long)
    for check in many.checks:
        assert np.all(np.isfinite(np.broadcast_to(check.ratio, 4)))
