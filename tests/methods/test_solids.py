"""Solids cut from planes: against a general geometry kernel, against known corners, and by laws."""

import manifold3d
import numpy as np
import pytest
from pytest import approx

from batterboard.methods.solids import common, pit, prism, trimmed
from batterboard.methods.volumes import trench_volume

INCH = 0.0254
SQUARE = np.array([0.0, 22.0, 22.0, 0.0]) * INCH, np.array([0.0, 0.0, 22.0, 22.0]) * INCH


def pier(a=0.75, b=2.0, **more):
    return prism(*SQUARE, 0, 40 * INCH, corner_leg=b * INCH, top_leg=a * INCH, **more)


def _random_solids():
    draw = np.random.default_rng(8)
    for n in (3, 4, 5, 6, 8):
        angle = np.sort(draw.uniform(0, 0.6, n) / n + np.arange(n) / n) * 2 * np.pi
        x, y = 0.6 * np.cos(angle) + 3, 0.5 * np.sin(angle) - 2
        bottom = draw.uniform(-1, 1)
        yield prism(x, y, bottom, bottom + 0.8, corner_leg=draw.uniform(0, 0.05, n), top_leg=0.03)
        yield prism(x, y, bottom, bottom + 0.8, corner_leg=0.05, top_leg=0.02, strips_across_corners=True)
        yield pit(x, y, bottom, bottom + 0.4, draw.uniform(-0.3, 1.0, n))
        tilt = draw.normal(0, 0.2, 2)
        yield trimmed(prism(x, y, bottom, bottom + 1), (tilt[0], tilt[1], 1), (3, -2, bottom + 0.6))


SOLIDS = list(_random_solids())


@pytest.mark.parametrize("solid", SOLIDS)
def test_volume_and_skin_match_a_general_geometry_kernel(solid):
    points = np.column_stack(solid.vertices)
    hull = manifold3d.Manifold.hull_points(points)
    assert solid.volume == approx(hull.volume(), rel=1e-9)
    skin = manifold3d.Manifold(manifold3d.Mesh64(vert_properties=points, tri_verts=solid.triangles.astype(np.uint64)))
    assert skin.status() == manifold3d.Error.NoError
    assert skin.volume() == approx(solid.volume, rel=1e-9)
    assert skin.surface_area() == approx(hull.surface_area(), rel=1e-9)


@pytest.mark.parametrize("solid", SOLIDS)
def test_vertices_edges_and_faces_keep_eulers_law(solid):
    assert len(solid.vertices[0]) - len(solid.edges) + len(solid.faces) == 2


@pytest.mark.parametrize("solid", SOLIDS)
def test_volume_by_level_is_the_integral_of_the_sections(solid):
    z = solid.vertices[2]
    nodes, weights = np.polynomial.legendre.leggauss(3)
    levels = np.unique(np.concatenate([z, np.linspace(z.min(), z.max(), 9)]))
    middle, half = (levels[1:] + levels[:-1]) / 2, np.diff(levels) / 2
    areas = solid.area_at(middle[:, None] + half[:, None] * nodes)
    assert np.cumsum(half * (areas @ weights)) == approx(solid.volume_below(levels[1:]), abs=1e-12)
    assert solid.volume_below(z.max() + 1) == approx(solid.volume, rel=1e-12)
    assert solid.volume_below(z.min() - 1) == 0
    assert solid.volume_between(z.min(), levels[4]) == approx(solid.volume_below(levels[4]))


@pytest.mark.parametrize("solid", SOLIDS)
def test_a_section_is_a_polygon_inside_the_solid_with_the_area_of_its_level(solid):
    z = solid.vertices[2]
    for level in np.linspace(z.min(), z.max(), 7):
        x, y = solid.section(level)
        area = (x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2
        assert area == approx(float(solid.area_at(level)), abs=1e-9)
        points = np.column_stack([x, y, np.full_like(x, level)])
        assert np.all(points @ solid.normals.T <= solid.offsets + 1e-7)


def test_the_corner_of_a_chamfered_pier_has_the_vertices_of_its_three_planes():
    x, y, z = (v / INCH for v in pier().vertices)
    near = (x < 3) & (y < 3) & (z > 30)
    got = sorted(zip(x[near].round(9), y[near].round(9), (40 - z[near]).round(9), strict=True))
    assert got == [(0, 2, 0.75), (0.75, 1.25, 0), (1.25, 0.75, 0), (2, 0, 0.75)]


def test_a_facet_that_just_touches_the_top_leaves_no_sliver():
    for legs in (1.5, 1.5 + 1e-9, 1.5 - 1e-9):
        solid = pier(a=0.75, b=legs)
        assert len(solid.vertices[0]) == 4 * 5
        assert min(len(face) for face in solid.faces) == 4


def test_the_edge_between_facet_and_chamfer_has_its_length():
    solid = pier(a=0.75, b=0.75)
    x, y, z = solid.vertices
    lengths = {
        round(float(np.hypot(np.hypot(x[i] - x[j], y[i] - y[j]), z[i] - z[j])) / INCH, 6) for i, j in solid.edges
    }
    assert 0.649519 in lengths  # facet to chamfer, and the hip


def test_faces_run_counter_clockwise_seen_from_outside():
    solid = pier()
    points = np.column_stack(solid.vertices)
    for i, j, k in solid.triangles:
        out = np.cross(points[j] - points[i], points[k] - points[i])
        assert out @ (points[i] - np.array(solid.centroid)) > 0


def test_the_centroid_of_a_plain_block_is_its_middle():
    assert prism([1, 3, 3, 1], [0, 0, 4, 4], -1, 2).centroid == approx((2, 2, 0.5))


def test_corners_may_be_given_either_way_round():
    x, y = np.array([0.0, 1.0, 1.2, 0.1]), np.array([0.0, 0.1, 0.9, 0.7])
    legs, runs = np.array([0.0, 0.05, 0.1, 0.02]), np.array([0.1, 0.5, 0.0, 1.0])
    one = prism(x, y, 0, 1, corner_leg=legs, top_leg=0.01)
    assert prism(x[::-1], y[::-1], 0, 1, corner_leg=legs[::-1], top_leg=0.01).centroid == approx(one.centroid)
    # Side i runs on from corner i, so that the sides of the turned list begin elsewhere.
    two = pit(x, y, 0, 1, runs)
    assert pit(x[::-1], y[::-1], 0, 1, runs[[2, 1, 0, 3]]).centroid == approx(two.centroid)


def test_a_pit_is_the_trench_of_its_slopes():
    solid = pit([0, 3, 3, 0], [0, 0, 0.4, 0.4], -0.5, 0.1, [0.5, 1.0, 0.5, 1.0])
    levels = np.linspace(-0.5, 0.1, 11)
    assert solid.volume_below(levels) == approx(trench_volume(3, 0.4, 0.6, 1.0, 0.5, filled_to=levels + 0.5))


def test_two_elements_share_their_common_volume():
    low = prism([0, 2, 2, 0], [0, 0, 1, 1], 0, 0.4)
    high = prism([1.5, 3, 3, 1.5], [0.2, 0.2, 0.8, 0.8], 0.1, 2)
    assert common(low, high).volume == approx(0.5 * 0.6 * 0.3)
    assert common(low, low).volume == approx(low.volume)


def test_what_does_not_meet_shares_nothing():
    low = prism([0, 2, 2, 0], [0, 0, 1, 1], 0, 0.4)
    for bottom in (0.4, 0.5):
        nothing = common(low, prism([0, 2, 2, 0], [0, 0, 1, 1], bottom, 1))
        assert nothing.volume == 0
        assert nothing.volume_below([0.2, 1.0]) == approx([0, 0])
        assert np.isnan(nothing.centroid).all()


def test_ground_that_falls_cuts_a_wedge_off():
    block = prism([0, 2, 2, 0], [0, 0, 1, 1], 0, 1)
    assert trimmed(block, (0.25, 0, 1), (1, 0, 0.5)).volume == approx(1.0)


def test_moving_and_turning_a_solid_changes_no_volume():
    x, y = SQUARE
    c, s = np.cos(0.7), np.sin(0.7)
    moved = prism(c * x - s * y + 12, s * x + c * y - 40, 3, 3 + 40 * INCH, corner_leg=2 * INCH, top_leg=0.75 * INCH)
    assert moved.volume == approx(pier().volume, rel=1e-12)
    assert len(moved.faces) == len(pier().faces) == 14


def test_a_pier_of_many_sides_is_still_exact():
    angle = 2 * np.pi * np.arange(32) / 32
    solid = prism(np.cos(angle), np.sin(angle), 0, 1)
    assert solid.volume == approx(16 * np.sin(2 * np.pi / 32))
