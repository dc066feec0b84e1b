"""Where is a panel joined that no sheet yields whole?"""

from collections import Counter
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from batterboard.job import read_text
from batterboard.job.errors import JobError
from batterboard.job.schema import Mix, Pour, Sheet, Stock
from batterboard.methods import solids
from batterboard.phases import forms
from batterboard.phases.forms.splices import FROM_CORNER, FROM_OPENING, _places
from batterboard.plan import Plan
from batterboard.quantity import ft, hour, inch, pcf, psi
from batterboard.work.records import Body, Frame, Outline

SHEET = Sheet(of="3/4 in plywood", size=(8 * ft, 4 * ft))
STARTING = Path(forms.__file__).parents[2] / "job" / "starting_files" / "machine-pad.toml"
GATE = Path(__file__).with_name("gate.toml").read_text("utf-8")
TALL = ('height = "40 in"\n', 'height = "110 in"\n')


class WorkOf:
    """As much of a work as the forms ask for."""

    def __init__(self, *bodies):
        lift = {"bodies": bodies, "slump": 4 * inch, "number": 1, "covered": False}
        self.lifts = (type("Lift", (), lift)(),)
        self.bodies, self.ground, self.piers, self.beams, self.pipes = bodies, None, {}, {}, {}


def box(outline, height, part="pier", **stock):
    frame = Frame(x=0.0, y=0.0, turn=0.0)
    body = Body(
        name="b", element="b", part=part, outline=outline, frame=frame, bottom=0.0, top=height, mix="m", against="form"
    )
    pour, mix = Pour(rate=5 * ft / hour, concrete=20.0), Mix(strength=4000 * psi, weight=150 * pcf)
    return forms.boxes(WorkOf(body), pour, {"m": mix}, Stock(sheets=(SHEET,), **stock))


def square(side, **more):
    return Outline(kind="rectangle", along=side, across=side, **more)


def gate(*changes):
    text = GATE
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return Plan(read_text(text, "gate.toml"))


def pad(**sizes):
    text = STARTING.read_text("utf-8")
    for old, new in (('along = "6 ft"', sizes["along"]), ('across = "4 ft"', sizes["across"])):
        text = text.replace(old, new, 1)
    return Plan(read_text(text.replace('up = "2 in"', 'up = "14 in"'), "pad.toml"))


@pytest.fixture(scope="module")
def long_pad():
    return pad(along='along = "14 ft"', across='across = "9 ft"')


@pytest.fixture(scope="module")
def tall():
    return gate(TALL)


# ---- places ----


@given(
    st.floats(0.5, 12.0),
    st.floats(0.7, 3.0),
    st.lists(st.tuples(st.floats(0.0, 12.0), st.floats(0.1, 0.5)), max_size=3),
)
def test_no_part_is_longer_than_the_sheet_and_no_joint_is_in_a_corner_or_an_opening(long, most, holes):
    taken = [(low, low + wide) for low, wide in holes]
    places = _places(long, most, taken)
    if places is None:
        return
    ends = (0.0, *places, long)
    assert all(b - a <= most + 1e-9 for a, b in pairwise(ends))
    assert all(FROM_CORNER - 1e-9 <= at <= long - FROM_CORNER + 1e-9 for at in places)
    assert not any(low + 1e-8 < at < high - 1e-8 for at in places for low, high in taken)
    if not taken:
        assert len(places) == max(np.ceil(long / most - 1e-9) - 1, 0)


def test_where_an_opening_is_wider_than_a_sheet_there_is_no_place():
    assert _places(5.0, 2.0, [(0.2, 3.0)]) is None


# ---- boards of a pad ----


def test_a_pad_longer_than_any_sheet_is_joined_at_stakes_of_their_own(long_pad):
    (form,) = long_pad.forms.boxes
    a, b = form.panels
    assert [joint.on for joint in (*a.joints, *b.joints)] == ["stake", "stake"]
    assert [part.width for part in a.parts] == [approx(8 * ft), approx(6 * ft)]
    assert sum(part.width for part in b.parts) == approx(b.width)
    check = next(c for c in long_pad.forms.checks if c.name == "one_sheet")
    assert check.holds and "base A in 2 parts" in check.note
    bays = sum(
        panel.count * int(np.ceil(part.width / form.edge.spacing - 1e-9))
        for panel in form.panels
        for part in panel.parts
    )
    assert form.edge.count == bays + 4


def test_every_part_lies_on_a_sheet_with_its_grain_across_the_supports(long_pad, tall):
    for plan in (long_pad, tall):
        upright = plan.forms.boxes[0].frame is not None
        laid, wanted = Counter(), Counter()
        for layout in plan.sheets.layouts:
            for place in layout.places:
                laid[tuple(round(side / inch * 64) for side in (place.along, place.across))] += layout.times
        for panel in (panel for form in plan.forms.boxes for panel in form.panels):
            for part in panel.parts:
                sides = (part.height, part.width) if upright else (part.width, part.height)
                wanted[tuple(round(side / inch * 64) for side in sides)] += panel.count
        assert laid == wanted
        assert not any(total.too_large for total in plan.sheets.totals)


# ---- piers ----


def test_a_pier_higher_than_any_sheet_is_joined_on_a_yoke_and_its_spans_end_there(tall):
    form = tall.forms.boxes[0]
    a, b = form.panels
    wide = form.frame.size.wide
    ups = [yoke.up for yoke in form.yokes]
    (at_a,), (at_b,) = a.level_joints, b.level_joints
    joint = next(up for up in ups if up == approx(at_a + wide / 2))
    assert at_b == approx(joint + wide / 2)  # its sticks lie over those along
    assert max(part.height for panel in form.panels for part in panel.parts) <= 8 * ft + 1e-9
    whole = box(square(22 * inch), 110 * inch).boxes[0]
    above = len([up for up in ups if up > joint])
    assert form.sheathing.spans <= max(ups.index(joint), above) and whole.yokes


def test_a_part_over_one_step_between_yokes_is_reckoned_as_one_span():
    of = box(square(22 * inch), 8 * ft + 13 * inch).boxes[0]
    joint = next(yoke.number for yoke in of.yokes if yoke.up == approx(of.panels[0].level_joints[0] + 0.75 * inch))
    assert joint == len(of.yokes) - 1
    assert all(c.holds for c in box(square(22 * inch), 8 * ft + 13 * inch).checks if c.name == "sheathing")


def test_in_a_pinwheel_on_a_square_the_sides_are_two_kinds_where_yokes_meet_joints():
    of = box(square(22 * inch), 110 * inch, lap="pinwheel").boxes[0]
    steps = gate(TALL, ('kerf = "1/8 in"', 'kerf = "1/8 in"\nlap = "pinwheel"')).pieces.forms[0].steps
    assert any("over the edge of the one to its right" in step.what for step in steps)
    assert [(panel.mark, panel.sides, panel.count) for panel in of.panels] == [
        ("b A", ("left", "right"), 2),
        ("b B", ("ahead", "back"), 2),
    ]


def test_a_wide_wall_is_joined_at_its_studs_and_its_level_joints_have_plates_in_every_bay():
    of = box(Outline(kind="rectangle", along=14 * ft, across=2 * ft), 6 * ft).boxes[0]
    long, short = of.panels
    assert of.wall and [joint.on for joint in long.joints] == ["stud", "plates"]
    assert [joint.on for joint in short.joints] == ["plates"]
    bays = sum(int(np.ceil(part.width / of.wall.stud_spacing - 1e-9)) for part in long.parts[:2])
    ends = int(np.ceil(short.width / of.wall.stud_spacing - 1e-9))
    assert sum(plate.count for plate in of.plates) == 2 * bays + 2 * ends
    assert of.wall.studs == 2 * (bays + 1) + 2 * (int(np.ceil(short.inside / of.wall.stud_spacing - 1e-9)) + 1)


def test_a_box_wider_than_a_sheet_has_plates_between_its_yokes():
    of = box(square(5 * ft), 50 * inch, yoke="2x6", strap=25000.0).boxes[0]
    if of.frame is None:
        pytest.skip("too wide for yokes")
    assert {joint.on for panel in of.panels for joint in panel.joints} == {"plates"}
    assert sum(plate.count for plate in of.plates) > 0


def test_a_batch_is_joined_as_its_largest():
    heights = np.array([3 * ft, 9 * ft])
    of = box(square(22 * inch), heights)
    assert of.boxes[0].panels[0].joints == box(square(22 * inch), 9 * ft).boxes[0].panels[0].joints
    assert np.all(next(c for c in of.checks if c.name == "one_sheet").holds)


@pytest.mark.parametrize("wrong", ['"-3 in"', "3", '"wide"'])
def test_a_tie_plate_that_is_no_length_is_named_with_its_place(wrong):
    with pytest.raises(JobError, match=r"gate.toml:\d+:\d+: stock.tie_plate"):
        gate(('kerf = "1/8 in"', f'kerf = "1/8 in"\ntie_plate = {wrong}'))


def test_a_joint_of_a_panel_that_narrows_stays_clear_of_the_corner_all_the_way_up():
    lean = 10 * inch
    of = box(Outline(kind="rectangle", along=8 * ft + 14 * inch, across=4 * ft, batter=lean), 3 * ft).boxes[0]
    (long, _) = of.panels
    for at in long.upright_joints:
        assert FROM_CORNER + lean - 1e-9 <= at <= long.width - FROM_CORNER - lean + 1e-9


# ---- single pieces ----


@pytest.mark.parametrize(
    "changes",
    [
        (TALL,),
        (('height = "40 in"\n', 'height = "110 in"\nbatter = "3 in"\n'),),
        (TALL, ('kerf = "1/8 in"', 'kerf = "1/8 in"\nlap = "pinwheel"')),
        (('along = "22 in"', 'along = "66 in"'), ('across = "22 in"', 'across = "60 in"'), ('"40 in"', '"70 in"')),
        (
            ('along = "22 in"', 'along = "66 in"'),
            ('across = "22 in"', 'across = "60 in"'),
            ('height = "40 in"\n', 'height = "70 in"\nbatter = "6 in"\n'),
        ),
    ],
)
def test_parts_fill_the_panel_and_the_form_closes(changes):
    for form in gate(*changes).pieces.forms:
        assert any(panel.mark != panel.panel for panel in form.panels)
        assert form.closure.closes, (form.closure.gap, form.closure.overlap)


def test_both_sides_of_a_joint_carry_one_letter_that_no_other_joint_has(tall):
    form = tall.pieces.forms[0]
    letters = Counter(edge.match for panel in form.panels for edge in panel.edges if edge.on)
    assert letters == {"a": 2, "b": 2, "c": 2, "d": 2}
    for panel in form.panels:
        for edge in panel.edges:
            if edge.match:
                other = next(p for p in form.panels if p.mark == edge.meets)
                assert edge.match in {e.match for e in other.edges if e.meets == panel.mark}


def test_a_part_is_measured_from_its_own_corner_with_its_own_openings(tall):
    form = tall.pieces.forms[0]
    whole = gate().pieces.forms[0]
    for panel in form.panels:
        assert panel.inside[0] == approx((0.0, 0.0))
    notch = [(p.mark, o.middle) for p in form.panels for o in p.openings if o.kind == "beam"]
    assert [mark for mark, _ in notch] == ["west B1 part 1"]
    assert len([o for p in form.panels for o in p.openings]) == len([o for p in whole.panels for o in p.openings])


def test_no_joint_comes_near_what_is_cut_out():
    plan = gate(
        ('along = "22 in"', 'along = "66 in"'), ('across = "22 in"', 'across = "60 in"'), ('"40 in"', '"70 in"')
    )
    for form in plan.pieces.forms:
        for panel in form.panels:
            vs = [v for _, v in panel.inside]
            for opening in panel.openings:
                low, high = (f(v for _, v in opening.outline) for f in (min, max))
                if any(edge.on and edge.side == "top" for edge in panel.edges):
                    assert high + FROM_OPENING <= max(vs) + 1e-9
                if any(edge.on and edge.side == "foot" for edge in panel.edges):
                    assert low - FROM_OPENING >= -1e-9


@pytest.mark.parametrize(
    "changes",
    [
        (('along = "22 in"', 'along = "66 in"'), ('across = "22 in"', 'across = "60 in"'), ('"40 in"', '"70 in"')),
        (('along = "22 in"', 'along = "52 in"'), ('across = "22 in"', 'across = "52 in"'), ('"40 in"', '"50 in"')),
    ],
)
def test_plates_stand_as_listed_flat_on_their_panels_half_over_each_part(changes):
    plan = gate(*changes)
    form, of = plan.pieces.forms[0], plan.forms.boxes[0]
    assert len(form.plates) == sum(plate.count for plate in of.plates) > 0
    volume = sum(plate.count * plate.long * plate.wide for plate in of.plates) * float(of.panels[0].thick)
    assert sum(plate.solid.volume for plate in form.plates) == approx(volume, rel=1e-3)
    for plate in form.plates:
        assert solids.common(plate.solid, form.envelope).volume == approx(0.0, abs=1e-12)
        on = [p for p in form.panels if p.panel == plate.panel]
        moved = solids.behind(
            [(n, b + float(n @ (-on[0].out * 1e-3))) for n, b in zip(plate.solid.normals, plate.solid.offsets)]
        )
        shares = [solids.common(moved, p.solid).volume for p in on]
        assert sorted(shares)[-2] == approx(sorted(shares)[-1], rel=1e-6) and sorted(shares)[-1] > 0


def test_joints_are_fastened_and_stand_in_the_steps(tall, long_pad):
    fastened = [joint for joint in tall.pieces.forms[0].fastenings if "yoke" in joint.joint]
    assert len(fastened) == 4 and all(joint.with_.startswith("8d nails") for joint in fastened)
    told = " ".join(step.what for step in tall.pieces.forms[0].steps)
    assert "stand the upper parts on the lower" in told
    assert "stake of its own" in " ".join(step.what for step in long_pad.pieces.forms[0].steps)
    for plan in (tall, long_pad):
        form = plan.pieces.forms[0]
        placed = {mark for step in form.steps[3:] for mark in step.pieces}
        assert {panel.mark for panel in form.panels} <= placed


def test_sheets_turned_the_other_way_keep_their_grain():
    of = box(square(22 * inch), 110 * inch)
    turned = replace(SHEET, size=(4 * ft, 8 * ft))
    frame = Frame(x=0.0, y=0.0, turn=0.0)
    body = Body(
        name="b", element="b", part="pier", outline=square(22 * inch), frame=frame, bottom=0.0, top=110 * inch, mix="m",
        against="form",
    )  # fmt: skip
    pour, mix = Pour(rate=5 * ft / hour, concrete=20.0), Mix(strength=4000 * psi, weight=150 * pcf)
    other = forms.boxes(WorkOf(body), pour, {"m": mix}, Stock(sheets=(turned,)))
    assert len(of.boxes[0].panels[0].parts) == 2 and len(other.boxes[0].panels[0].parts) == 3
    assert all(made.boxes[0].sheathing.across for made in (of, other))
