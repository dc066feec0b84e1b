"""How high does the ground lie? A plane, and flat triangles between spots."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from batterboard.work.ground import Ground

SPOTS = Ground(x=(0.0, 12.0, 0.0, 9.0), y=(0.0, 0.0, 9.0, 8.0), z=(10.0, 9.4, 10.3, 9.1))


def test_the_surface_goes_through_its_spots_and_is_flat_between_neighbours():
    assert [SPOTS.level(x, y) for x, y in zip(SPOTS.x, SPOTS.y)] == pytest.approx(SPOTS.z)
    assert SPOTS.level(6.0, 0.0) == pytest.approx(9.7)
    assert SPOTS.level(10.5, 4.0) == pytest.approx((9.4 + 9.1) / 2)


def test_past_the_spots_the_nearest_point_of_their_outline_counts():
    assert SPOTS.level(6.0, -5.0) == pytest.approx(9.7)
    assert SPOTS.level(40.0, -3.0) == pytest.approx(9.4)


def test_one_spot_or_spots_in_a_line_are_enough():
    assert Ground(x=(3.0,), y=(1.0,), z=(7.0,)).level(99.0, -5.0) == 7.0
    row = Ground(x=(0.0, 2.0, 1.0), y=(0.0, 2.0, 1.0), z=(0.0, 0.0, 1.0))
    assert row.level(0.5, 0.5) == pytest.approx(0.5)
    assert row.level(2.0, 1.0) == pytest.approx(0.5)


spots = st.lists(
    st.tuples(st.integers(0, 12), st.integers(0, 12)), min_size=3, max_size=25, unique=True
)  # a grid is full of squares and rows, where triangles are hardest to choose


@given(spots, st.floats(-2, 2), st.floats(-2, 2))
def test_spots_taken_on_a_plane_give_the_plane_back_all_over_their_hull(points, a, b):
    x, y = np.array(points, float).T
    ground = Ground(x=x, y=y, z=5 + a * x + b * y)
    weights = np.random.default_rng(1).dirichlet(np.ones(len(x)), 20)
    px, py = weights @ x, weights @ y
    assert ground.level(px, py) == pytest.approx(5 + a * px + b * py, abs=1e-9)


def test_triangles_are_those_of_an_independent_triangulation():
    interpolate = pytest.importorskip("scipy.interpolate")
    x, y, z, px, py = np.random.default_rng(2).uniform(0, 30, (5, 40))
    theirs = interpolate.LinearNDInterpolator(np.c_[x, y], z)(px, py)
    inside = ~np.isnan(theirs)
    assert inside.any()
    assert Ground(x=x, y=y, z=z).level(px, py)[inside] == pytest.approx(theirs[inside])


def test_variants_of_spots_and_of_places_equal_single_ones():
    x = np.array([[0.0, 0.0], [12.0, 11.0], [0.0, 1.0], [9.0, 9.5]])
    z = np.array([[10.0, 10.1], [9.4, 9.0], [10.3, 10.3], [9.1, 9.9]])
    many = Ground(x=x, y=SPOTS.y, z=z)
    at = np.array([[3.0, 4.0], [8.0, 20.0]]), np.array([[1.0, 2.0], [3.0, 4.0]])
    for v in range(2):
        one = Ground(x=x[:, v], y=SPOTS.y, z=z[:, v])
        assert many.level(*at)[:, v] == pytest.approx(one.level(at[0][:, v], at[1][:, v]))
        assert many.level(3.0, 4.0)[v] == pytest.approx(one.level(3.0, 4.0))


def test_a_plane_falls_along_its_slope():
    plane = Ground(x=(1.0,), y=(2.0,), z=(9.0,), slope_x=np.array([-0.1, 0.0]), slope_y=0.5)
    assert plane.level(3.0, 2.0) == pytest.approx([8.8, 9.0])
    assert plane.level(1.0, 4.0) == pytest.approx([10.0, 10.0])
