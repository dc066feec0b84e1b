"""Boxes in the concrete: cover behind them, what lifts and holds them, what they are sawn from; do forms close?"""

from dataclasses import replace
from math import atan, degrees
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from batterboard.job import JobError, read_text
from batterboard.phases.forms.blockouts import fixings
from batterboard.plan import Plan
from batterboard.quantity import inch, lb, pcf
from batterboard.study.sweep import varied
from batterboard.work.build import build

GATE = Path(__file__).with_name("gate.toml").read_text("utf-8")
PUMP = (Path(__file__).parents[2] / "examples" / "pump-pad" / "job.toml").read_text("utf-8")
EDGES = 'edges = { corners = "2 in", top = "3/4 in" }'
SIZES = f'along = "22 in"{" " * 33}# along the gate\nacross = "22 in"\n{EDGES}'
POCKET = {"in": '"west"', "side": '"left"', "up": '"28 in"', "wide": '"12 in"', "high": '"8 in"', "deep": '"6 in"'}
TOP = {"in": '"west"', "side": '"top"', "up": None, "wide": '"4 in"', "high": '"4 in"', "deep": '"6 in"'}


def told(changes=None, name="letters"):
    keys = {key: value for key, value in (POCKET | (changes or {})).items() if value is not None}
    return f"\n[blockouts.{name}]\n" + "".join(f"{key} = {value}\n" for key, value in keys.items())


def plan_with(*holes, text=GATE):
    return Plan(read_text(text + "".join(holes), "gate.toml"))


def fixing(plan, name="letters"):
    return next(one for one in plan.forms.blockouts if one.name == name)


def form(plan, name="west"):
    return next(one for one in plan.pieces.forms if one.name == name)


@pytest.fixture(scope="module")
def pocket():
    return plan_with(told())


# ---- steel behind it ----


def test_a_bar_that_runs_through_is_named_and_one_behind_enough_cover_holds():
    (check,) = [c for c in plan_with(told()).checks if c.name == "cover_behind"]
    assert not check.holds and "W1 up" in check.note and "runs through it" in check.note
    small = {"wide": '"3 in"', "high": '"3 in"', "deep": '"3 in"', "left": '"4 1/2 in"', "up": '"32 in"'}
    (check,) = [c for c in plan_with(told(small)).checks if c.name == "cover_behind"]
    assert check.holds, check.note


def test_how_near_an_upright_stands_by_hand():
    plan = plan_with(told({"deep": '"1 in"'}))
    near = next(n for n in plan.cage.nears if " up " in n.other)
    assert near.least == approx((1.5 + 0.5 - 1.0) * inch)  # cover and tie, less how deep it goes
    assert near.needed == approx(1.5 * inch)


def test_a_tie_between_its_edges_is_seen():
    low = plan_with(told({"up": '"30 in"', "deep": '"3 in"', "wide": '"3 in"', "left": '"5 in"'}))
    assert any("tie" in n.other and n.least < 0 for n in low.cage.nears)


def test_a_pipe_may_end_in_a_bought_box_and_in_no_other():
    keys = {**TOP, "ahead": '"3 in"', "deep": '"4 in"'}
    assert any(n.kind == "pipe" and n.least < 0 for n in plan_with(told(keys)).cage.nears)
    assert not any(n.kind == "pipe" for n in plan_with(told({**keys, "of": '"box"'})).cage.nears)


def test_bolts_need_their_cover_too():
    near = next(n for n in plan_with(told()).cage.nears if n.kind == "bolt")
    assert near.least == approx((11 - 4.5 - 6 - 0.375) * inch)


# ---- lift, pressure and what holds ----


def test_the_lift_is_the_concrete_kept_out_less_the_boards(pocket):
    f = fixing(pocket)
    volume = 6 / 6 * (12 * 8 + 4 * 11.5 * 7.5 + 11 * 7) * inch**3
    assert f.volume == approx(volume)
    boards = (2 * (12 + 8 - 2 * 0.5) * 6 + 11 * 7) * inch**2 * f.sheet.weight
    assert f.weight == approx(boards)
    assert f.lift == approx(150 * pcf * volume - boards)
    assert f.nails >= 4 and f.nails * f.nail * 1.25 >= f.lift


def test_what_it_is_pressed_by_grows_with_its_depth():
    high, low = (fixing(plan_with(told({"up": up, "wide": '"4 in"'}))) for up in ('"34 in"', '"10 in"'))
    assert high.pressure == approx(150 * pcf * (6 + 4) * inch)
    assert low.pressure == approx(150 * pcf * (30 + 4) * inch)
    assert low.push == approx(150 * pcf * 30 * inch * 4 * 8 * inch**2)


def test_a_through_box_is_pushed_neither_way_and_nailed_at_both_ends():
    plan = plan_with(told({"deep": None, "through": "true", "draft": "0.02", "wide": '"4 in"', "up": '"10 in"'}))
    assert fixing(plan).push == 0
    on, across = form(plan).blockouts[0].on
    assert (on.panel, across.panel) == ("west A1", "west A2")


def test_heavier_boxes_hold_themselves_down():
    plan = plan_with(told({"of": '"lumber"'}))
    f = fixing(plan)
    assert f.weight == approx(f.volume * f.grade.G * 9806.65)
    assert fixing(plan_with(told({"of": '"foam"'}))).weight == 0


def test_the_form_is_lifted_by_its_boxes(pocket):
    plain = next(box for box in plan_with().forms.boxes if box.name == "west").uplift
    boxed = next(box for box in pocket.forms.boxes if box.name == "west").uplift
    assert boxed.lift - plain.lift == approx(boxed.blockouts) == approx(150 * pcf * fixing(pocket).volume)


def test_a_leaning_form_counts_the_box_once():
    lean = GATE.replace(SIZES, f'{SIZES}\nbatter = "1 in"', 1)
    plain, boxed = (
        next(box for box in plan_with(*holes, text=lean).forms.boxes if box.name == "west").uplift
        for holes in ((), (told({"deep": '"4 in"'}),))
    )
    assert boxed.batter == approx(plain.batter)
    assert boxed.lift - plain.lift == approx(boxed.blockouts)


def test_one_in_the_top_hangs_from_battens_on_the_form_or_on_stakes():
    on_form = fixing(plan_with(told(TOP)))
    assert on_form.form == "west" and on_form.stakes == 0 and on_form.end_nails == 2
    in_ground = fixing(plan_with(told({**TOP, "in": '"tie"'})))
    assert in_ground.form == "" and in_ground.stakes == 4
    tube = GATE.replace(SIZES, 'round = "22 in"', 1)
    plan = plan_with(told(TOP), text=tube)
    assert (
        fixing(plan).stakes == 4 and next(box for box in plan.forms.boxes if box.name == "west").uplift.blockouts == 0
    )


def test_battens_break_under_what_is_too_much_for_them():
    pad = PUMP.partition("[machines.pump]")[0]
    sizes = {"wide": '"1.7 m"', "high": '"1.1 m"', "deep": '"450 mm"', "draft": "0.05"}
    plan = plan_with(told({"in": '"base"', "side": '"top"', "up": None, **sizes}), text=pad)
    (check,) = [c for c in plan.checks if c.name == "batten"]
    f = fixing(plan)
    assert check.demand == approx(f.lift / 2 * f.batten_span / 4 / f.batten.modulus)
    assert not check.holds


def test_a_wide_board_gets_ribs():
    sizes = {"wide": '"1.2 m"', "high": '"480 mm"', "deep": '"450 mm"'}
    wide = {"in": '"base"', "side": '"ahead"', "up": None, "down": '"260 mm"', **sizes}
    f = fixing(plan_with(told(wide), text=PUMP))
    assert f.span == approx(0.48)
    assert all(c.holds for c in plan_with(told(wide), text=PUMP).checks if c.name == "side_of_box")
    assert f.crowded and f.vent == approx(2 * inch)


def test_variants_are_held_as_if_each_were_alone():
    job = read_text(GATE + told(), "gate.toml")
    deeps = np.array([0.05, 0.1, 0.15])
    many = Plan(varied(job, {"blockouts.letters.deep": deeps}))
    for v, deep in enumerate(deeps):
        one = Plan(varied(job, {"blockouts.letters.deep": float(deep)}))
        together = {near.name: near for near in many.cage.nears}
        for near in one.cage.nears:
            assert np.broadcast_to(together[near.name].least, 3)[v] == approx(near.least), near.name
        assert np.broadcast_to(many.forms.blockouts[0].lift, 3)[v] == approx(float(one.forms.blockouts[0].lift))
        for a, b in zip((*one.cage.checks, *one.forms.checks), (*many.cage.checks, *many.forms.checks), strict=True):
            assert a.key == b.key
            if "letters" in a.key:
                assert np.broadcast_to(b.demand, 3)[v] == approx(float(a.demand)), a.key
                assert np.broadcast_to(b.capacity, 3)[v] == approx(float(a.capacity)), a.key


def test_variants_of_which_none_can_be_stop_nothing():
    job = read_text(GATE + told({"draft": "0.01"}), "gate.toml")
    never = {"blockouts.letters.deep": np.array([0.7, 0.1]), "blockouts.letters.up": np.array([0.7, 1.2])}
    (check,) = [c for c in Plan(varied(job, never)).cage.checks if c.name == "cover_behind"]
    assert not np.any(check.holds)


# ---- pieces ----


@settings(max_examples=8)
@given(
    kind=st.sampled_from(("box", "leaning", "six", "recess", "pinwheel")),
    top=st.booleans(),
    wide=st.floats(2.0, 6.0),
    high=st.floats(2.0, 6.0),
    deep=st.floats(1.0, 6.0),
    draft=st.floats(0.02, 0.15),
    off=st.floats(0.0, 1.0),
)
def test_a_form_with_boxes_in_it_closes(kind, top, wide, high, deep, draft, off):
    other = {
        "box": SIZES,
        "leaning": f'{SIZES}\nbatter = "1 in"',
        "six": 'sides = 6\nflats = "22 in"\nedges = { corners = "1 in", top = "3/4 in" }',
        "recess": SIZES.replace('top = "3/4 in"', 'top = "3/4 in", corner_shape = "recess", top_shape = "groove"'),
        "pinwheel": SIZES,
    }[kind]
    sizes = {"wide": f'"{wide} in"', "high": f'"{high} in"', "deep": f'"{deep} in"', "draft": f"{draft}"}
    side = '"2"' if kind == "six" else '"left"'
    hole = told({**POCKET, **sizes, "side": side, "left": f'"{off} in"'})
    if top:
        hole = told({**TOP, **sizes, "wide": '"3 in"', "high": '"3 in"', "back": f'"{off} in"'})
    text = GATE.replace(SIZES, other, 1)
    if kind == "pinwheel":
        assert "[stock]\n" in text
        text = text.replace("[stock]\n", '[stock]\nlap = "pinwheel"\n', 1)
    try:
        plan = plan_with(hole, text=text)
        made = form(plan)
    except JobError as impossible:
        assert "letters" in str(impossible)
        return
    assert made.closure.closes, made.closure
    assert made.closure.blockouts == approx(float(fixing(plan).volume))


def test_a_form_without_its_box_does_not_close(pocket):
    assert not replace(form(pocket), blockouts=()).closure.closes


def test_where_it_is_nailed_is_told_from_the_panels_own_corner():
    piece = form(plan_with(told({"left": '"2 in"'}))).blockouts[0]
    (on,) = piece.on
    assert on.panel == "west A1"
    assert [(u / inch, v / inch) for u, v in on.outline] == [
        (approx(u), approx(v)) for u, v in ((3, 24), (15, 24), (15, 32), (3, 32))
    ]


def test_its_boards_by_hand(pocket):
    piece = form(pocket).blockouts[0]
    t, k = 23 / 32, 1 / 12
    slope = (1 + k * k) ** 0.5
    end, sides, lids = piece.boards
    assert (end.count, sides.count, lids.count) == (1, 2, 2)
    at = 6 - t  # the end's wider face lies its own thickness before the box's end
    assert (end.long / inch, end.wide / inch) == approx((12 - 2 * k * at, 8 - 2 * k * at))
    assert (sides.long / inch, sides.other / inch, sides.wide / inch) == approx((8, 8 - 2 * k * at, at * slope))
    assert (lids.long / inch, lids.other / inch) == approx((12 - 2 * t * slope, 12 - 2 * t * slope - 2 * k * at))
    assert degrees(piece.draft) == approx(degrees(atan(k)))
    assert sides.bevels[0] == approx(atan(k)) == approx(-sides.bevels[2])
    assert piece.cleats == (2, approx((8 - 2 * t * slope) * inch))


def test_what_is_too_small_for_a_box_is_a_block_and_a_bought_box_is_not_cut():
    small = {"wide": '"3 in"', "high": '"3 in"', "deep": '"3 in"', "left": '"5 in"'}
    (block,) = form(plan_with(told(small))).blockouts[0].boards
    assert block.mark == "letters block" and block.thick == approx(3 * inch)
    assert form(plan_with(told({"of": '"box"'}))).blockouts[0].boards == ()


def test_it_is_put_in_before_the_form_stands_and_how_it_comes_off_is_told(pocket):
    steps = [step.what for step in form(pocket).steps]
    fixed = next(i for i, what in enumerate(steps) if what.startswith("fix the blockouts"))
    assert fixed > next(i for i, what in enumerate(steps) if what.startswith("oil"))
    assert fixed < next(i for i, what in enumerate(steps) if what.startswith("stand"))
    assert [step.number for step in form(pocket).steps] == list(range(1, len(steps) + 1))
    piece = form(pocket).blockouts[0]
    assert piece.comes_off.startswith("nails drawn from outside")
    assert any("Oiled twice" in words for words in form(pocket).reminders)
    assert any(joint.joint == "letters on west A1" and joint.count == piece.nails for joint in form(pocket).fastenings)


def test_no_panel_is_joined_where_a_box_stands():
    long = PUMP.replace('along = "2.0 m"', 'along = "7.0 m"')
    place = {"in": '"base"', "up": '"260 mm"', "right": '"1.42 m"'}
    sizes = {"wide": '"300 mm"', "high": '"100 mm"', "deep": '"100 mm"'}
    plain, boxed = (
        next(panel for box in plan_with(*holes, text=long).forms.boxes for panel in box.panels if panel.joints)
        for holes in ((), (told({**place, **sizes}),))
    )
    low, high = 3.5 + 1.42 - 0.15, 3.5 + 1.42 + 0.15
    assert any(low < at < high for at in plain.upright_joints)
    assert not any(low < at < high for at in boxed.upright_joints)


def test_the_door_at_the_foot_goes_where_no_box_stands():
    def doors(plan):
        return [panel.side for panel in form(plan).panels for hole in panel.openings if hole.kind == "clean-out"]

    foot = {"up": '"4 in"', "side": '"back"', "deep": '"3 in"'}
    assert doors(plan_with()) == doors(plan_with(told({"side": '"back"', "deep": '"3 in"'}))) == ["back"]
    assert doors(plan_with(told(foot))) == ["right"]
    across = {**foot, "side": '"left"', "deep": None, "through": "true", "draft": "0.01", "wide": '"3 in"'}
    assert doors(plan_with(told(across))) == ["back"]
    assert doors(plan_with(told({**foot, "deep": '"2 in"'}), told({**across, "left": '"2 in"'}, "sleeve"))) == []


def test_every_blockout_is_listed_those_in_the_ground_too():
    plan = plan_with(told(), told({**TOP, "in": '"tie"'}, "drain"))
    assert {piece.name: piece.form for piece in plan.pieces.blockouts} == {"letters": "west", "drain": ""}
    assert [f.name for f in fixings(build(plan.job), plan.forms.boxes, plan.job.mixes, plan.job.stock)] == [
        piece.name for piece in plan.pieces.blockouts
    ]


def test_a_box_found_elsewhere_is_compared_with_its_plan():
    from batterboard.study.compare import compare

    found = '\n[found.blockouts.letters]\nup = "30 in"\ndeep = "5 in"\n'
    told_ = {change.title for change in compare(read_text(GATE + told() + found, "gate.toml")).changes}
    assert "forms blockouts letters lift" in told_ and "cage nears letters and hinge bolt least" in told_


def test_the_vibrator_goes_past_it():
    text = GATE
    plain, boxed = plan_with(text=text).vibration, plan_with(told({"of": '"foam"'}), text=text).vibration
    there = next(b for b in boxed.blocks if b.name == "west")
    (hole,) = next(body for body in plan_with(told({"of": '"foam"'})).work.bodies if body.name == "west").blockouts
    for x, y in zip(there.x, there.y, strict=True):
        assert not (abs(x) < 6 * inch and y > 5 * inch), "the head would stand on the box"
    assert hole.volume * 150 * pcf > 40 * lb and plain.blocks
