"""Which single pieces is each form made of, how is each cut, and do they close?"""

from dataclasses import replace
from math import degrees, pi, sin, tan
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pytest import approx

from batterboard.job import read_text
from batterboard.job.errors import JobError
from batterboard.job.schema import Sheet
from batterboard.methods import solids
from batterboard.phases.forms.pieces import planes, strips
from batterboard.phases.forms.pieces.closure import closing, concrete_of, envelope_of
from batterboard.phases.forms.pieces.panels import sights
from batterboard.phases.forms.shape import shape
from batterboard.plan import Plan
from batterboard.quantity import ft, inch
from batterboard.work.records import Body, Frame, Outline

GATE = Path(__file__).with_name("gate.toml").read_text("utf-8")
SHEET = Sheet(of="3/4 in plywood", size=(8 * ft, 4 * ft))
SQUARE = Outline(kind="rectangle", along=22 * inch, across=22 * inch, corners=2 * inch, top=0.75 * inch)
EDGING = {"corners": "2 in", "top": "3/4 in"}


def block(outline=SQUARE, height=40 * inch, part="pier"):
    frame = Frame(x=0.0, y=0.0, turn=0.0)
    return Body(
        name="b", element="b", part=part, outline=outline, frame=frame, bottom=0.0, top=height, mix="m", against="form"
    )


def made(outline=SQUARE, height=40 * inch, lap="past"):
    body = block(outline, height)
    box = shape(body, height, (SHEET,), lap)
    form = planes.planes_of(body, box.kind, height, box.thick)
    return body, box, form, strips.strips_of(form)[0]


def closure_of(outline, height, lap="past"):
    body, box, form, laid = made(outline, height, lap)
    boards = [sight.solid for sight in sights(box, form).values()]
    return body, closing(envelope_of(form), concrete_of(form), boards, [strip.solid for strip in laid])


def plan_with(old="", new=""):
    assert old in GATE
    return Plan(read_text(GATE.replace(old, new, 1), "gate.toml"))


def edged(**words):
    told = ", ".join(f"{key} = {str(v).lower() if isinstance(v, bool) else repr(v)}" for key, v in words.items())
    return plan_with('edges = { corners = "2 in", top = "3/4 in" }', f"edges = {{ {told} }}".replace("'", '"'))


@pytest.fixture(scope="module")
def gate():
    return plan_with().pieces


# ---- closing ----


@settings(deadline=None, max_examples=25)
@given(
    sides=st.integers(3, 9),
    square=st.booleans(),
    size=st.floats(0.3, 0.9),
    oblong=st.floats(1.0, 2.0),
    corner=st.floats(0.03, 0.45),
    other=st.one_of(st.none(), st.floats(0.03, 0.45)),
    top=st.floats(0.03, 0.2),
    deeper=st.floats(0.5, 2.0),
    lean=st.floats(0.0, 0.1),
    through=st.sampled_from(("corners", "top")),
    lap=st.sampled_from(("past", "pinwheel")),
    facets=st.booleans(),
    shapes=st.tuples(*[st.sampled_from(("chamfer", "recess", "groove"))] * 2),
)
def test_any_pier_with_any_legal_edges_closes(
    sides, square, size, oblong, corner, other, top, deeper, lean, through, lap, facets, shapes
):
    """Legs as shares of the shortest side at the top; of two legs of a corner each of the side that it lies on.

    Recesses and grooves where a form has four sides.
    """
    kind = "rectangle" if square else "polygon"
    batter = lean * size
    side = size - 2 * batter if square else (size - 2 * batter) * tan(pi / sides)
    corner_shape, top_shape = shapes if square else ("chamfer", "chamfer")
    o = Outline(
        kind=kind,
        along=size,
        across=size * oblong if square else size,
        sides=4 if square else sides,
        corners=corner * (size * oblong - 2 * batter if square and other is not None else side),
        returns=None if other is None else other * side,
        top=top * side * (0.5 if sides == 3 else 1.0),
        down=min(top * side * deeper, 0.5),
        corner_shape=corner_shape,
        top_shape=top_shape,
        through=through,
        facets=facets and shapes == ("chamfer", "chamfer") and through == "corners",
        batter=batter,
    )
    assume(not o.facets or np.isfinite(block(o, 1.0).gross))  # they leave something of each side
    body, found = closure_of(o, 1.0, lap)
    assert found.closes, (found.gap, found.overlap)
    assert found.concrete == approx(body.gross, rel=1e-9)


@pytest.mark.parametrize("times", [0.5, 1.0, 2 - 1e-12, 2.0, 2 + 1e-12, 3.0])
def test_no_regime_of_the_corner_leaves_a_gap(times):
    o = replace(SQUARE, corners=times * SQUARE.top)
    for through in ("corners", "top"):
        body, found = closure_of(replace(o, through=through), 40 * inch)
        assert found.closes
        assert found.concrete == approx(body.gross, rel=1e-9)


def test_a_form_with_a_strip_missing_does_not_close():
    _, box, form, laid = made()
    boards = [sight.solid for sight in sights(box, form).values()]
    found = closing(envelope_of(form), concrete_of(form), boards, [strip.solid for strip in laid[1:]])
    assert found.gap == approx(laid[0].solid.volume / found.envelope)
    assert not found.closes
    twice = closing(envelope_of(form), concrete_of(form), boards, [s.solid for s in (laid[0], *laid)])
    assert twice.overlap == approx(laid[0].solid.volume / twice.envelope)


@pytest.mark.parametrize("name", ["orchard-gate", "pump-pad", "scoreboard", "letterbox-pier"])
def test_the_forms_of_every_example_close(name):
    path = Path(__file__).parents[2] / "examples" / name / "job.toml"
    for form in Plan(read_text(path.read_text("utf-8"), path.name)).pieces.forms:
        assert form.closure is None or form.closure.closes


# ---- strips ----


def test_corner_strips_that_run_through_are_square_and_top_strips_stop_on_one_plain_mitre():
    _, box, _, laid = made()
    corner, top = (next(strip for strip in laid if strip.edge == edge) for edge in ("corner", "top"))
    assert (corner.long, corner.short) == (approx(40 * inch), approx(40 * inch))
    assert all(cut.mitre == cut.bevel == 0 for cut in corner.ends[1].cuts)
    (cut,) = top.ends[1].cuts
    assert (cut.against, cut.down, degrees(cut.mitre), cut.bevel) == ("b corner 1", "the top face", approx(45), 0)
    assert cut.long_side == "the sloping face"


@pytest.mark.parametrize("through", ["corners", "top"])
@pytest.mark.parametrize("corners", [0.0, 0.75, 1.2, 3.0])
@pytest.mark.parametrize("down", [0.5, 0.75, 2.0])
def test_lengths_by_formula_are_those_of_the_single_strips(through, corners, down):
    o = replace(SQUARE, across=30 * inch, corners=corners * inch, down=down * inch, through=through)
    _, box, form, laid = made(o)
    kinds = strips.kinds_of(laid)
    assert sum(strip.count for strip in box.strips) == len(laid)
    for of in box.strips:
        alike = next(k for k in kinds if abs(k.long - of.long) < 1e-9 and f" {of.edge} " in k.mark)
        assert alike.count == of.count


@pytest.mark.parametrize("sides", [0, 3, 5, 8])
@pytest.mark.parametrize("through", ["corners", "top"])
@pytest.mark.parametrize("corners, returns", [(2.0, 1.0), (1.0, 2.0), (0.5, 1.2), (0.3, 1.4), (3.0, 2.5)])
def test_strips_of_two_legs_are_as_long_by_formula_as_each_by_itself(sides, through, corners, returns):
    box = {"kind": "polygon", "along": 0.5, "across": 0.5, "sides": sides} if sides else {}
    legs = {"corners": corners * inch, "returns": returns * inch, "top": 1 * inch, "down": 0.75 * inch}
    o = replace(replace(SQUARE, **box), through=through, **legs)
    _, box, _, laid = made(o)
    told = sorted((strip.edge, strip.count, strip.long, strip.short) for strip in box.strips)
    kinds = {k.mark: k for k in strips.kinds_of(laid)}
    each = sorted((strip.edge, kinds[strip.kind].count, strip.long, strip.short) for strip in laid)
    assert {(edge, count) for edge, count, *_ in told} == {(edge, count) for edge, count, *_ in each}
    for edge, count, long, short in told:
        assert any(e == edge and c == count and (p, q) == approx((long, short)) for e, c, p, q in each)
    assert all(strip.leg == approx(legs["corners" if strip.edge == "corner" else "top"]) for strip in box.strips)
    assert all(strip.other_leg == approx(legs["returns" if strip.edge == "corner" else "down"]) for strip in box.strips)


@pytest.mark.parametrize("sides", [0, 5])
def test_saw_settings_of_strips_of_two_legs_are_those_of_their_pieces(sides):
    box = {"kind": "polygon", "along": 0.5, "across": 0.5, "sides": sides} if sides else {}
    _, box, _, laid = made(replace(replace(SQUARE, **box), corners=2 * inch, returns=1 * inch, top=1 * inch))
    on_face = {  # where each piece lies with its top face down
        round(cut.mitre, 6)
        for strip in laid
        for end in strip.ends
        for cut in (*end.cuts, *end.others)
        if strip.edge == "top" and cut.down == "the top face"
    }
    assert {round(float(cut.mitre), 6) for strip in box.strips for cut in strip.cuts} == on_face


def test_legs_of_a_box_follow_its_faces_and_those_of_many_sides_go_round():
    legs = {"corners": 2 * inch, "returns": 1 * inch}
    _, _, _, laid = made(replace(SQUARE, **legs, top=0.0))
    for strip in laid:
        assert strip.legs == approx([{"ahead": 2, "back": 2, "left": 1, "right": 1}[s] * inch for s in strip.between])
    _, _, _, laid = made(Outline(kind="polygon", along=0.5, across=0.5, sides=5, **legs))
    assert [strip.between for strip in laid] == [("1", "2"), ("2", "3"), ("3", "4"), ("4", "5"), ("5", "1")]
    assert all(strip.legs == approx([2 * inch, 1 * inch]) for strip in laid)


def test_corner_strips_of_two_legs_come_in_two_hands_where_their_heads_are_cut_and_only_on_a_box():
    two = {"corners": 2 * inch, "returns": 1 * inch}

    def hands(o):
        kinds = strips.kinds_of(made(o)[3])
        return [(kind.count, kind.mirrored) for kind in kinds if " corner " in kind.mark]

    assert hands(replace(SQUARE, **two)) == [(4, 0)]  # cut square they are turned end for end
    assert hands(replace(SQUARE, **two, through="top")) == [(4, 2)]
    assert hands(replace(SQUARE, through="top")) == [(4, 0)]
    six = Outline(kind="polygon", along=0.5, across=0.5, sides=6, top=0.02, through="top", **two)
    assert hands(six) == [(6, 0)]


def test_a_strip_comes_off_with_the_panel_on_which_its_longer_leg_lies():
    for legs, sides in (((2, 1), ("ahead", "back")), ((1, 2), ("left", "right"))):
        _, _, _, laid = made(replace(SQUARE, corners=legs[0] * inch, returns=legs[1] * inch, top=0.0))
        assert {strip.comes_off for strip in laid} == {f"with the {side} panel" for side in sides}
        assert all(degrees(strip.draft) == approx(63.4349488) for strip in laid)


def test_equal_legs_written_twice_are_the_same_form():
    for more in ({}, {"through": "top"}, {"facets": True}, {"batter": 2 * inch}, {"corner_shape": "groove"}):
        one, other = (made(replace(SQUARE, **more, returns=returns)) for returns in (None, 2 * inch))
        assert [(s.mark, s.count) for s in one[1].strips] == [(s.mark, s.count) for s in other[1].strips]
        assert [(s.long, s.short) for s in one[1].strips] == [approx((s.long, s.short)) for s in other[1].strips]
        assert [(s.kind, s.mirrored) for s in one[3]] == [(s.kind, s.mirrored) for s in other[3]]
        assert one[0].gross == approx(other[0].gross, rel=1e-14)
        assert one[0].outline.area == approx(other[0].outline.area, rel=1e-14)


def test_variants_of_two_legs_have_the_strips_of_each_alone():
    b, c = np.array([1.0, 2.0, 3.0]) * inch, np.array([2.0, 1.0, 1.5]) * inch
    for more in ({}, {"through": "top"}, {"batter": 1 * inch}, {"corner_shape": "recess"}):
        many = made_kinds(replace(SQUARE, corners=b, returns=c, **more))
        body = block(replace(SQUARE, corners=b, returns=c, **more))
        for v in range(3):
            alone = replace(SQUARE, corners=float(b[v]), returns=float(c[v]), **more)
            one = made_kinds(alone)
            assert [strip.long[v] for strip in many if np.ndim(strip.long)] == approx(
                [strip.long for strip, of in zip(one, many) if np.ndim(of.long)]
            )
            assert body.gross[v] == approx(block(alone).gross, rel=1e-14)
            assert body.outline.area[v] == approx(alone.area, rel=1e-14)


def test_leaning_and_recessed_strips_are_counted_by_their_pieces():
    for more in ({"batter": 2 * inch}, {"corner_shape": "recess"}, {"facets": True}):
        _, box, _, laid = made(replace(SQUARE, **more))
        assert sum(strip.count for strip in box.strips) == len(laid)


def test_variants_of_a_leaning_pier_have_the_strips_of_each_alone():
    leans, sides = np.array([1.0, 2.0, 3.0]) * inch, np.array([20.0, 22.0, 26.0]) * inch
    many = made_kinds(replace(SQUARE, along=sides, across=sides, batter=leans))
    for v in range(3):
        one = made_kinds(replace(SQUARE, along=float(sides[v]), across=float(sides[v]), batter=float(leans[v])))
        assert [strip.long[v] for strip in many] == approx([strip.long for strip in one])


def made_kinds(outline):
    return shape(block(outline), 40 * inch, (SHEET,)).strips


def test_the_end_pattern_wraps_round_the_strip():
    _, _, _, laid = made(replace(SQUARE, through="top"))
    corner = next(strip for strip in laid if strip.edge == "corner")
    faces = corner.ends[1].pattern
    around = sum(np.hypot(*np.subtract(a, b)) for a, b in zip(corner.section, corner.section[1:] + corner.section[:1]))
    assert max(w for face in faces for w, _ in face.outline) == approx(around)
    assert min(s for face in faces for _, s in face.outline) == approx(0.0)
    for one, other in zip(faces, faces[1:]):  # neighbouring faces share the fold
        fold = max(w for w, _ in one.outline)
        edge = [sorted(s for w, s in face.outline if abs(w - fold) < 1e-9) for face in (one, other)]
        assert edge[0] == approx(edge[1])


def test_a_mitre_halves_the_corner_whatever_its_angle():
    _, _, _, laid = made(Outline(kind="polygon", along=0.5, across=0.5, sides=5, top=0.02))
    assert {round(degrees(cut.mitre), 6) for strip in laid for end in strip.ends for cut in end.cuts} == {36.0}


def test_a_strip_that_the_others_swallow_has_vanished():
    o = replace(SQUARE, corners=0.5 * inch, top=2 * inch, facets=True)
    body = block(o)
    box = shape(body, 40 * inch, (SHEET,))
    laid, vanished = strips.strips_of(planes.planes_of(body, box.kind, 40 * inch, box.thick))
    assert {v.mark for v in vanished}.isdisjoint(strip.mark for strip in laid)
    covered = replace(SQUARE, top_shape="recess", corner_shape="recess", corners=0.5 * inch, top=2 * inch, down=1.0)
    body = block(covered, 1.0)
    _, vanished = strips.strips_of(planes.planes_of(body, "box", 1.0, 0.018))
    assert vanished == ()
    _, vanished = strips.strips_of(planes.planes_of(block(replace(covered, through="top"), 1.0), "box", 1.0, 0.018))
    assert [v.mark for v in vanished] == [f"b corner {n}" for n in (1, 2, 3, 4)]


def test_a_square_recess_has_no_draft_and_a_groove_has_some():
    for shape_of, least, most in (("recess", 0.0, 0.0), ("groove", 14.0, 14.1), ("chamfer", 45.0, 45.0)):
        _, _, _, laid = made(replace(SQUARE, corner_shape=shape_of))
        draft = degrees(next(strip.draft for strip in laid if strip.edge == "corner"))
        assert least - 1e-6 <= draft <= most + 1e-6


def test_a_strip_in_a_sharp_corner_comes_off_by_itself():
    o = Outline(kind="polygon", along=0.5, across=0.5, sides=3, corners=0.04, corner_shape="recess")
    _, _, _, laid = made(o)
    assert {strip.comes_off for strip in laid} == {"by itself, after the panels"}
    assert all(strip.draft > 0 for strip in laid)


def test_a_strip_that_the_concrete_would_hold_is_named(monkeypatch):
    monkeypatch.setattr(strips, "_way_out", lambda edge, solid: ("by itself, after the panels", -0.1))
    with pytest.raises(JobError, match=r"gate.toml:\d+:\d+: piers.west.edges.\w+: west corner 1 cannot come out"):
        _ = plan_with().pieces


# ---- panels ----


def test_panels_are_told_from_outside_with_what_they_lie_against(gate):
    west = gate.forms[0]
    by_side = {panel.side: panel for panel in west.panels}
    assert [by_side[s].mark for s in ("left", "right", "ahead", "back")] == ["west A1", "west A2", "west B1", "west B2"]
    right = next(edge for edge in by_side["ahead"].edges if edge.side == "right")
    assert (right.meets, right.match) == (
        "west A1",
        "1",
    )  # who stands ahead and looks back has the left side to his right
    for panel in west.panels:
        assert panel.inside[0] == approx((0.0, 0.0))
        assert panel.concrete_to == approx(40 * inch)
        for edge in panel.edges:
            if edge.match:
                other = next(p for p in west.panels if p.mark == edge.meets)
                assert edge.match in {e.match for e in other.edges}


def test_in_a_pinwheel_each_panel_covers_the_edge_to_its_right_and_is_screwed_on_it():
    plan = plan_with('kerf = "1/8 in"', 'kerf = "1/8 in"\nlap = "pinwheel"')
    form = plan.pieces.forms[0]
    assert form.closure.closes
    for panel in form.panels:
        right, left = (next(edge for edge in panel.edges if edge.side == side) for side in ("right", "left"))
        assert right.past and not left.past
        assert any(joint.pieces == (panel.mark, right.meets) for joint in form.fastenings)
    held = [joint for joint in form.fastenings if joint.with_.endswith("screws")]
    assert len(held) == 4


def test_a_lap_that_nobody_knows_is_named_with_its_place():
    with pytest.raises(JobError, match=r"gate.toml:\d+:\d+: stock.lap"):
        plan_with('kerf = "1/8 in"', 'kerf = "1/8 in"\nlap = "spiral"')


def test_the_edges_of_a_polygon_are_bevelled_so_that_the_outside_is_wider():
    _, box, form, _ = made(Outline(kind="polygon", along=0.5, across=0.5, sides=6))
    sight = sights(box, form)["1"]
    inside, outside = (sight.seen(sign * sight.wall.normal) for sign in (-1, 1))
    assert max(u for u, _ in outside) - min(u for u, _ in outside) == approx(box.panels[0].width)
    assert max(u for u, _ in inside) == approx(box.panels[0].inside)
    assert min(u for u, _ in outside) == approx(-box.thick * tan(pi / 6))


def test_a_leaning_panel_is_as_large_as_its_kind_says():
    _, box, form, _ = made(replace(SQUARE, batter=3 * inch))
    for panel in box.panels:
        for side in panel.sides:
            sight = sights(box, form)[side]
            points = [p for sign in (-1, 1) for p in sight.seen(sign * sight.wall.normal)]
            us, vs = zip(*points, strict=True)
            assert max(us) - min(us) == approx(panel.width)
            assert max(vs) - min(vs) == approx(panel.height)


# ---- what passes through ----


def test_a_panel_is_notched_over_a_beam_that_is_cast_before_it(gate):
    ahead = next(panel for panel in gate.forms[0].panels if panel.side == "ahead")
    (cut,) = ahead.openings
    us, vs = zip(*cut.outline, strict=True)
    assert (cut.kind, cut.of, cut.closed_with) == ("beam", "tie", "the beam itself, cast before")
    assert (max(us) - min(us), min(vs), max(vs)) == (approx(14 * inch), approx(0.0), approx(18 * inch))
    others = [o.kind for panel in gate.forms[0].panels for o in panel.openings if panel is not ahead]
    assert others == ["clean-out"]


def test_a_beam_ends_on_bulkheads_until_its_piers_are_cast(gate):
    west, east = gate.bulkheads
    assert (west.mark, west.wide, west.high) == ("tie bulkhead west", approx(14 * inch), approx(18 * inch))
    assert [hole.kind for hole in west.holes] == ["bar", "bar", "pipe"]  # the lower bars run through the pads
    for hole, other in zip(west.holes, reversed(east.holes[:2])):  # the two look at each other
        assert hole.middle[0] == approx(14 * inch - other.middle[0]) or hole.middle[0] == approx(other.middle[0])
    pipes = [next(h for h in b.holes if h.kind == "pipe").middle[0] for b in (west, east)]
    assert sum(pipes) == approx(14 * inch)


def test_a_panel_round_a_beam_is_sawn_in_two():
    plan = plan_with('deep = "22 in"', 'deep = "10 in"')
    (told,) = [words for words in plan.pieces.forms[0].reminders if "sawn" in words or "saw it in two" in words]
    assert told.startswith("west B1 stands all round tie")
    assert plan_with().pieces.forms[0].reminders[-1] == "Shut before the pour: west door."


def test_bars_of_a_beam_that_comes_later_pass_through_holes():
    plan = plan_with('{ of = ["pads", "tie"], slump = "4 in" },', '{ of = ["pads"] },')
    ahead = next(panel for panel in plan.pieces.forms[0].panels if panel.side == "ahead")
    assert [opening.kind for opening in ahead.openings] == ["bar", "bar", "pipe"]
    assert plan.pieces.bulkheads == ()


# ---- putting it together ----


def test_every_piece_is_put_in_once_and_held(gate):
    form = gate.forms[0]
    pieces = [piece.mark for piece in (*form.panels, *form.strips)]
    placed = [mark for step in form.steps[4:] for mark in step.pieces]
    assert set(placed) == set(pieces)
    held = {mark for joint in form.fastenings for mark in joint.pieces}
    assert held == set(pieces)
    assert len([joint for joint in form.fastenings if " B" in joint.joint and " A" in joint.joint]) == 4
    assert any("Release agent" in words for words in form.reminders)


def test_a_round_pier_is_a_tube_cut_to_length():
    start, end = GATE.index('along = "22 in"'), GATE.index('top = { level = "bench", up = "8 in" }')
    plan = Plan(read_text(GATE[:start] + 'round = "22 in"\n' + GATE[end:], "gate.toml"))
    tube = plan.pieces.forms[0].tube
    assert (tube.mark, tube.inside, tube.long) == ("west tube", approx(22 * inch), approx(40 * inch))
    assert plan.pieces.forms[0].closure is None


def test_the_top_of_a_tube_takes_one_bent_strip():
    body = block(Outline(kind="round", along=22 * inch, across=22 * inch, top=1 * inch))
    (strip,) = shape(body, 40 * inch, (SHEET,)).strips
    assert (strip.count, strip.long, strip.short) == (1, approx(pi * 22 * inch), approx(pi * 20 * inch))


# ---- errors ----


@pytest.mark.parametrize(
    "words, said",
    [
        ({"corners": "11 in"}, "piers.west.edges.corners: this chamfer eats half a side"),
        ({"top": "3/4 in", "down": "41 in"}, "piers.west.edges.down: this chamfer eats the whole height"),
        ({"down": "1 in"}, "piers.west.edges.down: a top strip has two legs"),
        ({"top": "1 in", "facets": True}, "piers.west.edges.facets: there is no facet"),
        ({"returns": "1 in"}, "piers.west.edges.returns: a corner strip has two legs"),
        ({"corners": "2 in", "returns": "0 in"}, "piers.west.edges.returns: a corner strip has two legs"),
        ({"corners": "2 in", "returns": "11 in"}, "piers.west.edges.returns: this chamfer eats half a side or more"),
        ({"corners": "11 in", "returns": "2 in"}, "piers.west.edges.corners: this chamfer eats half a side or more"),
        ({"corners": "10 in", "returns": "-1 in"}, "piers.west.edges.returns"),
        (
            {"corners": "10.5 in", "top": "3 in", "facets": True},
            "piers.west.edges.facets: at the top these strips leave nothing of a side",
        ),
        (
            {"corners": "10 in", "returns": "10.9 in", "top": "3 in", "facets": True},
            "piers.west.edges.facets: at the top these strips leave nothing of a side",
        ),
    ],
)
def test_edges_that_cannot_be_are_named(words, said):
    with pytest.raises(JobError) as problem:
        edged(**words)
    assert said in str(problem.value)
    assert str(problem.value).startswith("gate.toml:")


def test_a_pier_whose_sides_lean_until_they_meet_is_named():
    with pytest.raises(JobError, match=r"piers.west.batter: its sides lean in until they meet"):
        plan_with('height = "40 in"\n', 'height = "40 in"\nbatter = "11 in"\n')
    start, end = GATE.index('along = "22 in"'), GATE.index('top = { level = "bench", up = "8 in" }')
    with pytest.raises(JobError, match=r"piers.west.batter: a round pier is cast in a tube"):
        read_text(GATE[:start] + 'round = "22 in"\nbatter = "1 in"\n' + GATE[end:], "gate.toml")


def test_a_strip_longer_than_any_in_stock_is_named():
    plan = plan_with('kerf = "1/8 in"', 'kerf = "1/8 in"\nsticks = [{ of = "strip", long = "3 ft" }]')
    with pytest.raises(JobError, match=r"piers.west.edges.corners: the corner strips of west are longer"):
        _ = plan.work


# ---- a pier that leans in ----


def test_a_leaning_pier_is_followed_through_the_job():
    straight, leaning = plan_with(), plan_with('height = "40 in"\n', 'height = "40 in"\nbatter = "2 in"\n')
    body = leaning.work.piers["west"].shaft
    assert body.gross == approx(body.solid().volume, rel=1e-9)
    z = np.linspace(float(body.bottom), float(body.top), 7)
    assert body.below(z) == approx(body.solid().volume_below(z), rel=1e-9, abs=1e-9)
    assert body.head.along == approx(18 * inch)
    up = next(bar for bar in leaning.work.piers["west"].bars if bar.role == "up")
    assert np.max(np.abs(up.x[:, -1])) < 9 * inch
    weights = [p.size.loads["west"].dead.down for p in (straight, leaning)]
    assert np.max(weights[1]) < np.max(weights[0])
    for form in leaning.pieces.forms:
        assert form.closure.closes


def test_what_a_leaning_pier_shares_with_a_beam_is_what_both_hold():
    plan = plan_with('height = "40 in"\n', 'height = "40 in"\nbatter = "2 in"\n')
    beam, west = plan.work.beams["tie"].body, plan.work.piers["west"].shaft
    plain = replace(west.outline, corners=0.0, top=0.0)
    both = solids.common(replace(west, outline=plain).solid(), beam.solid()).volume
    held = [body for body in plan.work.bodies if body.name in ("west", "east")]
    assert held[0].shared == approx(both, rel=1e-6)
    assert sin(0.0) < both
