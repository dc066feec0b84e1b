"""One pattern for bolts and plate: where its holes are, how long the bolts, which way round."""

from dataclasses import replace
from math import hypot, radians, sqrt
from pathlib import Path

import numpy as np
import pytest

from batterboard.job import read_job, read_text
from batterboard.phases import template
from batterboard.phases.template.proof import _side
from batterboard.quantity import inch, mm
from batterboard.standards import aisc, tables
from batterboard.study.sweep import varied
from batterboard.views.drawings import shapes
from batterboard.work.build import build
from batterboard.work.records import Outline

EXAMPLES = Path(__file__).parents[2] / "examples"
GATE = Path(__file__).with_name("gate.toml")


@pytest.fixture(scope="module")
def gate():
    return read_job(GATE)


@pytest.fixture(scope="module")
def hinge(gate):
    return template.patterns(build(gate)).patterns[0]


def check_of(answer, name, thing):
    return next(c for c in answer.checks if c.key == (name, thing))


def with_joint(job, **given):
    post = job.posts["hinge"]
    return replace(job, posts={**job.posts, "hinge": replace(post, joint=replace(post.joint, **given))})


def test_a_square_states_its_circle_and_its_diagonals_too(hinge):
    assert hinge.spacing_along == hinge.spacing_across == pytest.approx(9 * inch)
    assert hinge.circle == pytest.approx(9 * sqrt(2) * inch)
    lengths = {d.name: d.length for d in hinge.diagonals}
    assert lengths["1 to 3"] == lengths["2 to 4"] == pytest.approx(hinge.circle)
    assert lengths["1 to 2"] == lengths["2 to 3"] == pytest.approx(9 * inch)


def test_a_circle_states_the_square_of_its_bolts_too(gate):
    made = template.patterns(build(with_joint(gate, square=None, circle=10 * inch))).patterns[0]
    assert made.circle == pytest.approx(10 * inch)
    assert made.spacing_along == pytest.approx(7.071 * inch, abs=0.001 * inch)


def test_bolts_off_one_circle_have_none(gate):
    free = tuple((x * inch, y * inch) for x, y in ((4, 4), (-4, 3), (-3, -4), (4, -4)))
    made = template.patterns(build(with_joint(gate, square=None, at=free))).patterns[0]
    assert made.circle != made.circle
    assert made.spacing_along == pytest.approx(8 * inch)


def test_the_drilling_table_runs_from_two_edges(hinge):
    for p in hinge.points:
        assert p.from_back - hinge.along / 2 == pytest.approx(p.x)
        assert p.from_right - hinge.across / 2 == pytest.approx(p.y)
        assert p.edge == pytest.approx(1.5 * inch)
    first = hinge.points[0]  # ahead and left
    assert (first.from_back, first.from_right) == pytest.approx((10.5 * inch, 10.5 * inch))


def test_the_marks_tell_up_from_down_and_ahead_from_back(hinge):
    said = " ".join(hinge.marks)
    assert "UP" in said and "AHEAD" in said and "hinge on west" in said and "1" in said
    assert hinge.line == "gate"
    assert hinge.turn == pytest.approx(np.pi / 2)


def test_the_bolt_is_as_long_as_what_it_passes_through(hinge):
    b = hinge.budget
    assert b.needed == pytest.approx((1 + 3 / 4 + 1 / 4 + 47 / 64 + 1 / 4) * inch)
    assert b.wanted - b.needed == pytest.approx(0.5 * inch)
    assert b.length == pytest.approx(b.foot_length + b.deep + b.proud)
    assert b.thread >= b.proud and b.thread >= b.wanted


@pytest.mark.parametrize("foot", ["hook", "nut", "plate"])
def test_every_foot_adds_to_the_rod(gate, foot):
    b = template.patterns(build(with_joint(gate, foot=foot))).patterns[0].budget
    d = 0.75 * inch
    least = {"hook": 4.5 * d - d, "nut": 47 / 64 * inch, "plate": (47 / 64 + 1 / 4) * inch}[foot]
    assert least < b.foot_length < least + d


def test_concrete_is_left_below_the_foot_of_a_bolt_and_less_of_one_that_sank(gate):
    answer = template.patterns(build(gate))
    c = check_of(answer, "foot_covered", "hinge")
    assert c.holds and (c.worst_demand, c.worst_capacity) == pytest.approx((3 * inch, answer.patterns[0].budget.below))
    deep = with_joint(gate, deep=52.5 * inch)  # of 56 in of concrete; its foot takes 1 in
    assert check_of(template.patterns(build(deep)), "foot_covered", "hinge").verdict == "fails"
    text = GATE.read_text("utf-8") + "\n[found.posts.hinge.bolts]\n2 = { proud = '2 7/8 in' }\n"
    sunk = template.patterns(build(read_text(text, "gate.toml"))).patterns[0].budget
    plan = answer.patterns[0].budget
    assert plan.below - sunk.below == pytest.approx(gate.posts["hinge"].joint.proud - 2.875 * inch)
    assert sunk.length == plan.length


def test_a_hook_is_as_long_as_its_centre_line():
    """A quarter circle of radius 1 1/2 d, then 3 1/2 d straight; the upright stops 2 d above the underside."""
    d = 1.0
    assert aisc.hook_length(4.5, d) == pytest.approx(np.pi / 2 * 1.5 * d + 3.5 * d - 2 * d)


def test_a_short_bolt_fails_and_the_lowest_found_one_counts():
    text = GATE.read_text("utf-8") + "\n[found.posts.hinge.bolts]\n2 = { proud = '2 7/8 in' }\n"
    answer = template.patterns(build(read_text(text, "gate.toml")))
    c = check_of(answer, "bolt_stands_proud", "hinge")
    assert c.verdict == "fails"
    assert c.worst_capacity == pytest.approx(2.875 * inch)
    assert [s.formula.name for s in c.steps] == ["rod_projection"]
    assert answer.patterns[0].points[1].proud == pytest.approx(2.875 * inch)
    assert check_of(answer, "bolt_stands_proud", "latch").verdict == "holds"


def test_a_tight_hole_does_not_take_the_tolerance(gate):
    answer = template.patterns(build(with_joint(gate, hole=13 / 16 * inch)))
    c = check_of(answer, "hole_takes_tolerance", "hinge")
    assert c.verdict == "fails"
    assert (c.worst_demand, c.worst_capacity) == pytest.approx((0.25 * inch, 1 / 32 * inch))
    assert "the job file" in c.note


def test_the_hole_names_the_edition_of_its_table(hinge):
    assert "2nd edition" in hinge.hole_from and "2.3" in hinge.hole_from


def test_a_hole_near_the_edge_fails(gate):
    answer = template.patterns(build(with_joint(gate, square=9.75 * inch)))
    c = check_of(answer, "hole_clears_edge", "hinge")
    assert c.worst_capacity == pytest.approx(1.125 * inch)
    assert c.worst_demand == pytest.approx((1 + (1 + 5 / 16 - 13 / 16) / 2) * inch)
    assert c.verdict == "fails"


def test_a_bolt_outside_its_plate_fails_and_never_holds(gate):
    c = check_of(template.patterns(build(with_joint(gate, square=13 * inch))), "hole_clears_edge", "hinge")
    assert c.verdict == "fails" and c.ratio == np.inf


def test_twist_shows_at_the_latch(hinge):
    assert hinge.twist == pytest.approx(radians(2.53), rel=0.01)
    reach = (2.5 + 2.5 + 13 * 12) * inch
    assert hinge.twist_at_latch == pytest.approx(hinge.twist * reach, rel=0.01)


def test_a_plate_that_hangs_over_its_pier_says_so(gate):
    made = template.patterns(build(with_joint(gate, plate=(24 * inch, 12 * inch, 0.75 * inch)))).patterns[0]
    assert made.over_along == pytest.approx(-1 * inch)
    assert made.over_across == pytest.approx(5 * inch)


@pytest.mark.parametrize("name", ["pump-pad", "scoreboard"])
def test_machines_and_signs_have_their_pattern_too(name):
    answer = template.patterns(build(read_job(EXAMPLES / name / "job.toml")))
    assert len(answer.patterns) == 1 and len(answer.checks) == 4
    assert all(c.verdict == "holds" for c in answer.checks)


@pytest.mark.parametrize("size", tables.rod_names())
def test_every_rod_of_the_tables_has_an_edge_and_a_tolerance(size):
    from batterboard.standards import aci117

    edge, setting = aisc.edge(size), aci117.setting(size)
    grade = "8.8" if size.startswith("M") else "F1554-36"
    thread = tables.thread_metric(size) if size.startswith("M") else tables.thread_inch(size)
    rod = tables.rod(thread.diameter, grade)
    assert rod.diameter < edge.hole < rod.hole + 3 * mm
    assert edge.edge > edge.hole / 2 + 0.3 * rod.diameter
    assert setting.place <= aisc.radial_clearance(rod.hole, rod.diameter)


def test_a_batch_gives_what_single_jobs_give(gate):
    changes = {
        "posts.hinge.joint.square": np.array([8.0, 9.0, 10.0]) * inch,
        "posts.hinge.joint.proud": np.array([2.5, 4.0, 4.5]) * inch,
        "posts.hinge.joint.hole": np.array([13 / 16, 1.25, 1.5]) * inch,
    }
    many = template.patterns(build(varied(gate, changes)))
    for v in range(3):
        one = template.patterns(build(varied(gate, {path: float(x[v]) for path, x in changes.items()})))
        for a, b in zip(many.checks, one.checks, strict=True):
            assert a.key == b.key
            assert np.broadcast_to(a.ratio, (3,))[v] == pytest.approx(b.ratio)
            assert bool(np.broadcast_to(a.holds, (3,))[v]) == b.holds
        assert np.broadcast_to(many.patterns[0].circle, (3,))[v] == pytest.approx(one.patterns[0].circle)
        assert many.patterns[0].budget.length[v] == pytest.approx(one.patterns[0].budget.length)


def test_the_corner_radius_of_a_twist_is_the_bolts_distance(hinge):
    assert hinge.twist == pytest.approx(hinge.clearance / hypot(4.5 * inch, 4.5 * inch))


@pytest.mark.parametrize("legs", [(0.05, None), (0.06, 0.02)])
def test_the_corner_of_a_pier_is_measured_to_the_face_of_its_strip(legs):
    shapely = pytest.importorskip("shapely")
    outline = Outline(kind="polygon", along=0.5, across=0.5, sides=5, corners=legs[0], returns=legs[1])
    back = shapely.Polygon(shapes.corners(outline)).intersection(shapely.LineString([(0, 0), (-1, 0)]))
    assert _side(outline, 2) == ("corner", pytest.approx(back.length))
