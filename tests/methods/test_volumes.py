"""Closed volumes: against printed figures, against the half-space solids, and against their own limits."""

import numpy as np
import pytest
from pytest import approx

from batterboard.methods import solids
from batterboard.methods.volumes import (
    Outline,
    circle,
    pit_volume,
    polygon,
    prism_volume,
    prismatoid_volume,
    rectangle,
    regular_polygon,
    trench_volume,
)


def regular_corners(n, across_flats):
    angle = 2 * np.pi * (np.arange(n) + 0.5) / n
    radius = across_flats / 2 / np.cos(np.pi / n)
    return radius * np.cos(angle), radius * np.sin(angle)


@pytest.mark.parametrize(
    "outline, height, a, b, across, volume",
    [
        (rectangle(22, 22), 40, 0.75, 2, False, 19019.1875),  # corner facet reaches the top
        (rectangle(22, 22), 40, 0.75, 0.75, False, 19291.5156),  # facet ends in a point
        (rectangle(20, 30), 36, 1.5, 0.75, False, 21453.0469),
        (rectangle(18, 24), 30, 0.75, 1.5, False, 12804.1875),  # b = 2 a: the point just touches the top
        (rectangle(600, 600), 1000, 20, 50, False, 354589333),
        (rectangle(22, 22), 40, 0.75, 2, True, 19017.034),
        (rectangle(300, 450), 800, 25, 15, True, 107199492),
        (regular_polygon(6, 20), 36, 1, 0.75, False, 12385.9717),
        (regular_polygon(8, 18), 24, 1.5, 0.75, False, 6342.53674),
        (regular_polygon(8, 500), 1200, 20, 80, False, 226678943),
        (circle(24), 48, 1, 0, False, 21678.037),
    ],
)
def test_a_chamfered_pier_holds_what_its_worked_volume_says(outline, height, a, b, across, volume):
    got = prism_volume(outline, height, top_leg=a, corner_leg=b, strips_across_corners=across)
    assert got == approx(volume, rel=5e-8)


def test_the_removed_volume_of_a_rectangular_block_is_its_closed_form():
    W, D, H, a, b = 0.56, 0.71, 1.02, np.array([0.0, 0.02, 0.02, 0.02]), np.array([0.05, 0.05, 0.03, 0.0])
    removed = (W + D) * a**2 - 4 * a**3 / 3 + 2 * b**2 * (H - a) + (b**3 - np.maximum(b - 2 * a, 0) ** 3) / 3
    assert prism_volume(rectangle(W, D), H, top_leg=a, corner_leg=b) == approx(W * D * H - removed, rel=1e-14)


@pytest.mark.parametrize("across", [False, True])
def test_closed_volumes_by_level_match_the_solid_cut_from_planes(across):
    draw = np.random.default_rng(31)
    for _ in range(40):
        n = int(draw.integers(3, 9))
        size, height = draw.uniform(0.3, 1.5, 2)
        if n == 4:
            other = draw.uniform(0.3, 1.5)
            outline, x, y = rectangle(size, other), np.array([0, size, size, 0]), np.array([0, 0, other, other])
        else:
            outline, (x, y) = regular_polygon(n, size), regular_corners(n, size)
        side = min(outline.sides)
        a, b = draw.uniform(0, 0.12, 2) * side
        solid = solids.prism(x, y, 0, height, corner_leg=b, top_leg=a, strips_across_corners=across)
        levels = np.linspace(-0.1, height + 0.1, 23)
        closed = prism_volume(outline, height, top_leg=a, corner_leg=b, strips_across_corners=across, filled_to=levels)
        assert solid.volume_below(levels) == approx(closed, abs=1e-13)
        assert solid.volume == approx(closed[-1], rel=1e-13)


def test_a_plan_given_by_its_corners_is_the_same_plan():
    for n in (3, 5, 8):
        x, y = regular_corners(n, 0.5)
        for plan in (polygon(x, y), polygon(x[::-1], y[::-1])):
            known = regular_polygon(n, 0.5)
            assert [plan.area, plan.perimeter, plan.turning] == approx([known.area, known.perimeter, known.turning])
            assert prism_volume(plan, 1.0, top_leg=0.02, corner_leg=0.03) == approx(
                prism_volume(known, 1.0, top_leg=0.02, corner_leg=0.03)
            )


def test_an_uneven_plan_with_chamfers_matches_the_solid_cut_from_planes():
    x, y = np.array([0.0, 0.9, 1.1, 0.4, -0.1]), np.array([0.0, -0.1, 0.5, 0.9, 0.6])
    solid = solids.prism(x, y, 0, 0.7, corner_leg=0.05, top_leg=0.03)
    assert prism_volume(polygon(x, y), 0.7, top_leg=0.03, corner_leg=0.05) == approx(solid.volume, rel=1e-13)


@pytest.mark.parametrize(
    "height, a, b",
    [(1.0, 0.0, 0.31), (1.0, 0.31, 0.0), (0.1, 0.2, 0.0), (1.0, -0.01, 0.0), (1.0, 0.0, -0.01), (np.nan, 0.01, 0.01)],
)
def test_a_shape_that_cannot_be_is_not_a_number(height, a, b):
    assert np.isnan(prism_volume(rectangle(0.6, 0.8), height, top_leg=a, corner_leg=b))


def test_corner_cuts_that_just_meet_are_still_a_shape():
    # The whole square turned by 45 degrees, and a pyramid.
    assert prism_volume(rectangle(0.6, 0.6), 1.0, corner_leg=0.3) == approx(0.18)
    assert prism_volume(rectangle(0.6, 0.6), 0.3, top_leg=0.3) == approx(0.6 * 0.6 * 0.3 / 3)
    assert prism_volume(circle(0.6), 0.3, top_leg=0.3) == approx(np.pi * 0.09 * 0.3 / 3)
    assert np.isnan(prism_volume(circle(0.6), 0.4, top_leg=0.31))


def test_strips_across_the_corners_must_leave_something_of_each_side():
    # The eight sides shrink together: corner cuts that leave a narrow flat are used up by the top chamfer.
    assert np.isnan(prism_volume(rectangle(0.6, 0.6), 1.0, top_leg=0.05, corner_leg=0.29, strips_across_corners=True))
    assert prism_volume(rectangle(0.6, 0.6), 1.0, top_leg=0.05, corner_leg=0.29) > 0


def test_variants_give_what_each_gives_alone():
    W, H, a, b = np.random.default_rng(5).uniform([0.4, 0.8, 0.0, 0.0], [0.9, 1.5, 0.05, 0.09], (50, 4)).T
    together = prism_volume(rectangle(W, 0.6), H, top_leg=a, corner_leg=b)
    alone = [prism_volume(rectangle(w, 0.6), h, top_leg=p, corner_leg=q) for w, h, p, q in zip(W, H, a, b, strict=True)]
    assert together.shape == (50,)
    assert np.ndim(alone[0]) == 0
    assert list(together) == alone
    x, y = np.array([0 * W, W, W, 0 * W]), np.array([0 * W, 0 * W, 0.6 + 0 * W, 0.6 + 0 * W])
    assert prism_volume(polygon(x, y), H, top_leg=a, corner_leg=b) == approx(together)


def test_a_pit_with_sloped_sides_holds_what_the_prismatoid_rule_says():
    assert pit_volume(rectangle(6, 6), 7, 1.5) / 27 == approx(80.111, abs=1e-3)
    assert trench_volume(120, 14, 20, 1.0, 0.5) == approx(68533.33, rel=1e-7)
    assert trench_volume(120, 14, 20, 1.5, 0.0) / 1728 == approx(24.3056, rel=1e-5)
    assert prismatoid_volume(14 * 120, 24 * 140, 34 * 160, 20) == approx(68533.33, rel=1e-7)
    assert pit_volume(circle(2.0), 3.0, 0.5) == approx(np.pi * 3 * (1 + 2.5 + 2.5**2) / 3)


def test_a_tapered_pier_is_a_pit_turned_inwards():
    assert pit_volume(rectangle(24, 24), 24, -4.5 / 24) / 1728 == approx(5.375)
    assert np.isnan(pit_volume(rectangle(24, 24), 24, -0.51))


def test_a_pit_filled_to_a_level_is_a_shallower_pit():
    levels = np.array([-1.0, 0.0, 0.4, 2.0, 3.0])
    depths = np.clip(levels, 0, 2.0)
    assert pit_volume(rectangle(1.0, 2.0), 2.0, 0.75, filled_to=levels) == approx(
        pit_volume(rectangle(1.0, 2.0), depths, 0.75)
    )
    assert trench_volume(1.0, 2.0, 2.0, 0.75, 0.5, filled_to=levels) == approx(
        trench_volume(1.0, 2.0, depths, 0.75, 0.5)
    )


def test_an_outline_moved_inwards_keeps_its_law_of_area():
    plan = rectangle(0.5, 0.8)
    assert isinstance(plan, Outline)
    assert plan.area - plan.perimeter * 0.1 + plan.turning * 0.1**2 == approx(0.3 * 0.6)


# ---- corner strips with two legs ----


def test_unequal_corner_legs_take_what_their_triangles_and_their_tips_say():
    # Below the top chamfer half of b c at each corner; above it the same shape, until it has shrunk to a point.
    W, D, H, a, b, c = 20.0, 30.0, 36.0, 1.5, 2.0, 1.0
    u = b * c / (b + c)  # how far the sides have moved in where a facet ends in a point: 2/3
    removed = (W + D) * a**2 - 4 * a**3 / 3 + 2 * b * c * (H - a + u / 3)
    legs = ((b, c), (c, b)) * 2
    assert prism_volume(rectangle(W, D), H, top_leg=a, corner_leg=legs) == approx(W * D * H - removed, rel=1e-14)


@pytest.mark.parametrize("across", [False, True])
def test_unequal_corner_legs_by_level_match_the_solid_cut_from_planes(across):
    draw = np.random.default_rng(47)
    for _ in range(60):
        n = int(draw.integers(3, 9))
        size, height = draw.uniform(0.3, 1.5, 2)
        if n == 4:
            other = draw.uniform(0.3, 1.5)
            outline, x, y = rectangle(size, other), np.array([0, size, size, 0]), np.array([0, 0, other, other])
        else:
            outline, (x, y) = regular_polygon(n, size), regular_corners(n, size)
        a, b, c = draw.uniform(0.01, 0.1, 3) * min(outline.sides)
        down, lean = a * draw.uniform(0.4, 2), size * draw.choice([0.0, 0.04])
        legs = ((b, c), (c, b)) * 2 if n == 4 and draw.integers(2) else ((b, c),) * n
        cut = {"top_leg": a, "top_down": down, "strips_across_corners": across}
        solid = solids.prism(x, y, 0, height, corner_leg=legs, lean=lean / height, **cut)
        turned = solids.prism(
            x[::-1], y[::-1], 0, height, corner_leg=np.array(legs)[::-1, ::-1], lean=lean / height, **cut
        )
        levels = np.linspace(-0.1, height + 0.1, 23)
        closed = prism_volume(outline, height, corner_leg=legs, batter=lean, filled_to=levels, **cut)
        assert solid.volume_below(levels) == approx(closed, abs=1e-13)
        assert turned.volume == approx(solid.volume, rel=1e-13)


@pytest.mark.parametrize("slope", [1.0, 0.0, 0.25, 0.6])
def test_what_is_left_of_an_unequal_cut_as_the_sides_move_in_is_its_area_in_plan(slope):
    shapely = pytest.importorskip("shapely")
    draw = np.random.default_rng(9)
    for n in (3, 4, 5, 8):
        outline, (x, y) = regular_polygon(n, 1.0), regular_corners(n, 1.0)
        b, c = draw.uniform(0.02, 0.15, 2)
        points = np.column_stack([x, y])
        there, here, then = points[-1], points[0], points[1]
        ahead, back = ((p - here) / np.hypot(*(p - here)) for p in (there, then))
        cut = shapely.Polygon([here, here + b * ahead, here + (b * ahead + c * back) / (1 + slope), here + c * back])
        for a in (0.01, 0.05, 0.12):
            # As high as it is cut in: at each height the sides have moved in by that height.
            u = np.linspace(0, a, 2001)
            inset = [shapely.Polygon(points * (1 - 2 * v)) for v in u]
            left = np.array([one.area - n * one.intersection(cut).area for one in inset])
            got = prism_volume(outline, a, top_leg=a, corner_leg=((b, c),) * n, corner_slope=slope)
            assert got == approx(np.sum((left[1:] + left[:-1]) / 2) * a / 2000, rel=1e-6)
        assert prism_volume(outline, 1.0, corner_leg=((b, c),) * n, corner_slope=slope) == approx(
            outline.area - n * cut.area, rel=1e-12
        )


def test_equal_pairs_are_one_leg_and_variants_of_pairs_are_each_alone():
    for slope in (1.0, 0.0, 0.25):
        for across in (False, True) if slope == 1.0 else (False,):
            more = {"top_leg": 0.03, "corner_slope": slope, "strips_across_corners": across}
            one = prism_volume(rectangle(0.5, 0.7), 1.0, corner_leg=0.04, **more)
            assert prism_volume(rectangle(0.5, 0.7), 1.0, corner_leg=((0.04, 0.04),) * 4, **more) == approx(one)
    b, c = np.random.default_rng(3).uniform(0.01, 0.1, (2, 20))
    many = prism_volume(rectangle(0.5, 0.7), 1.0, top_leg=0.03, corner_leg=((b, c), (c, b)) * 2)
    alone = [
        prism_volume(rectangle(0.5, 0.7), 1.0, top_leg=0.03, corner_leg=((p, q), (q, p)) * 2) for p, q in zip(b, c)
    ]
    assert list(many) == alone


@pytest.mark.parametrize("legs", [((0.1, 0.31), (0.31, 0.1)), ((0.41, 0.1), (0.1, 0.41)), ((-0.1, 0.1),) * 2])
def test_unequal_legs_that_meet_or_turn_outwards_are_not_a_number(legs):
    # The first corner of a rectangle ends its side across, here 0.8, and begins its side along, 0.6.
    assert np.isnan(prism_volume(rectangle(0.6, 0.8), 1.0, corner_leg=legs * 2))


def test_an_unequal_leg_may_be_as_long_as_half_of_the_side_that_it_lies_on():
    assert prism_volume(rectangle(0.6, 0.8), 1.0, corner_leg=((0.4, 0.3), (0.3, 0.4)) * 2) == approx(0.24)
    assert np.isnan(prism_volume(rectangle(0.6, 0.8), 1.0, corner_leg=((0.3, 0.4), (0.4, 0.3)) * 2))
