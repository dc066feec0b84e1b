import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from batterboard.methods.segments import Lines, nearest

coordinates = st.floats(-2, 2).map(lambda v: round(v, 3))
points = st.tuples(coordinates, coordinates, coordinates)


def lines(*segments):
    ends = np.array(segments, float)  # (n, 2, 3)
    return Lines(ends[..., 0], ends[..., 1], ends[..., 2])


def by_search(a, b, c, d, n=201):
    """The least distance by trying places on both, then once more round the best."""
    a, b, c, d = (np.array(p, float) for p in (a, b, c, d))
    low, high = np.zeros(2), np.ones(2)
    for _ in range(4):
        s, t = (np.linspace(low[i], high[i], n) for i in range(2))
        gap = np.linalg.norm((a + s[:, None, None] * (b - a)) - (c + t[None, :, None] * (d - c)), axis=-1)
        i, j = np.unravel_index(np.argmin(gap), gap.shape)
        step = (high - low) / (n - 1)
        middle = np.array([s[i], t[j]])
        low, high = np.clip(middle - 2 * step, 0, 1), np.clip(middle + 2 * step, 0, 1)
    return gap.min()


@settings(max_examples=60, deadline=None)
@given(points, points, points, points)
def test_the_nearest_points_of_two_segments_are_those_a_search_finds(a, b, c, d):
    got = nearest(lines((a, b)), lines((c, d))).distance[0, 0]
    assert got <= by_search(a, b, c, d) + 1e-9
    assert got == approx(by_search(a, b, c, d), abs=2e-4)


def test_crossing_bars_are_measured_at_right_angles_to_both():
    near = nearest(lines(((-1, 0, 0), (1, 0, 0))), lines(((0.3, -1, 0.1), (0.3, 1, 0.1))))
    assert near.distance[0, 0] == approx(0.1)
    assert (near.x[0, 0], near.y[0, 0], near.z[0, 0]) == approx((0.3, 0, 0.05))
    assert near.cosine[0, 0] == approx(0)


def test_parallel_bars_beside_each_other_know_that_they_are_parallel():
    near = nearest(lines(((0, 0, 0), (0, 0, 1))), lines(((0.2, 0, 0.4), (0.2, 0, 3)), ((0.2, 0, 1.5), (0.2, 0, 3))))
    assert near.distance[0] == approx([0.2, np.hypot(0.2, 0.5)])
    assert near.cosine[0] == approx([1, 1])


def test_a_segment_without_length_is_a_point():
    assert nearest(lines(((0, 0, 1), (0, 0, 1))), lines(((-1, 0, 0), (1, 0, 0)))).distance[0, 0] == approx(1)


def test_variants_are_measured_as_if_each_were_alone():
    rng = np.random.default_rng(7)
    one, other = rng.normal(size=(3, 4, 2, 5)), rng.normal(size=(3, 6, 2, 5))
    together = nearest(Lines(*one), Lines(*other))
    for v in range(5):
        alone = nearest(Lines(*one[..., v]), Lines(*other[..., v]))
        assert together.distance[..., v] == approx(alone.distance)


def test_a_polyline_is_cut_into_its_segments():
    x = np.arange(6.0).reshape(2, 3)
    made = Lines.along(x, x, x)
    assert len(made) == 4
    assert made.x.tolist() == [[0, 1], [1, 2], [3, 4], [4, 5]]
