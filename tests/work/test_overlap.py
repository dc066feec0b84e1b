"""How much do two blocks share? Against an independent polygon library."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from batterboard.work.overlap import shared_area, shared_volume, sharing
from batterboard.work.records import Body, Frame, Outline

sizes = st.floats(0.2, 3.0)


def body(kind, along, across, x, y, turn, bottom=0.0, top=1.0, sides=6, name="a"):
    across = along if kind != "rectangle" else across
    outline = Outline(kind=kind, along=along, across=across, sides=sides)
    frame = Frame(x=x, y=y, turn=turn)
    return Body(
        name=name,
        element=name,
        part="pier",
        outline=outline,
        frame=frame,
        bottom=bottom,
        top=top,
        mix="m",
        against="form",
    )


bodies = st.builds(
    body,
    st.sampled_from(["rectangle", "polygon"]),
    sizes,
    sizes,
    st.floats(-1, 1),
    st.floats(-1, 1),
    st.floats(-7, 7) | st.sampled_from([0.0, np.pi / 2, np.pi]),
    sides=st.integers(3, 9),
)
rounds = st.builds(body, st.just("round"), sizes, sizes, st.floats(-1, 1), st.floats(-1, 1), st.floats(-7, 7))


def theirs(given):
    from shapely.geometry import Point, Polygon

    def polygon(b):
        if b.outline.kind == "round":
            return Point(b.frame.x, b.frame.y).buffer(b.outline.along / 2, quad_segs=2000)
        return Polygon(np.column_stack(b.frame.out(*b.outline.points())))

    area = polygon(given[0])
    for b in given[1:]:
        area = area.intersection(polygon(b))
    return area.area


@given(st.lists(bodies, min_size=2, max_size=4))
def test_plans_of_any_turn_share_what_an_independent_library_says(some):
    pytest.importorskip("shapely")
    assert shared_area(some) == pytest.approx(theirs(some), abs=1e-8)


@given(rounds, st.lists(bodies, min_size=1, max_size=2))
def test_a_round_plan_is_exact_beside_any_others(one, others):
    pytest.importorskip("shapely")
    assert shared_area([*others, one]) == pytest.approx(theirs([one, *others]), abs=3e-6)


def test_plans_that_only_touch_share_nothing_and_equal_plans_all():
    a = body("rectangle", 1.0, 2.0, 0.0, 0.0, 0.3)
    beside = body("rectangle", 1.0, 2.0, *a.frame.out(1.0, 0.0), 0.3)
    assert shared_volume([a, beside]) == 0
    assert shared_volume([a, a]) == pytest.approx(2.0)


def test_two_round_plans_share_to_within_the_48_sides_of_one():
    a, b = body("round", 2.0, 2.0, 0.0, 0.0, 0.0), body("round", 2.0, 2.0, 1.0, 0.0, 0.0)
    assert shared_area([a, b]) == pytest.approx(2 * np.pi / 3 - np.sqrt(3) / 2, rel=2e-3)


def test_what_two_earlier_blocks_hold_together_counts_once():
    one = body("rectangle", 2.0, 1.0, 0.0, 0.0, 0.0, name="one")
    two = body("rectangle", 2.0, 1.0, 1.0, 0.0, 0.0, name="two")
    last = body("rectangle", 9.0, 1.0, 0.0, 0.0, 0.0, bottom=0.5, top=2.0, name="last")
    first, second, third = sharing([one, two, last])
    assert (first.shared, second.shared) == (0, pytest.approx(1.0))
    assert third.shared == pytest.approx(3.0 * 0.5)


def test_variants_share_what_single_blocks_share():
    x, turn = np.array([0.0, 0.7, 3.0]), np.array([0.0, 0.4, 0.0])
    many = sharing([body("rectangle", 1.0, 2.0, 0.0, 0.0, 0.0), body("polygon", 1.2, 1.2, x, 0.3, turn)])[1].shared
    single = [
        sharing([body("rectangle", 1.0, 2.0, 0.0, 0.0, 0.0), body("polygon", 1.2, 1.2, a, 0.3, b)])[1].shared
        for a, b in zip(x.tolist(), turn.tolist())
    ]
    assert many == pytest.approx(single)
    assert single[2] == 0
