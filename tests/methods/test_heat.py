"""How warm does a block get?"""

import json
from math import erf, exp, pi, sqrt
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from batterboard.methods.heat import (
    NOTHING,
    Grid,
    Surface,
    conduction,
    exposed,
    graded,
    march,
    settling,
    sweeps,
    times,
)
from batterboard.methods.heat.box import Box, Steps, box

HOUR = 3600.0
COOLING = Box(half_sizes=(0.28, 0.28, 0.28), k=2.0, rho_c=2.4e6, resistance=1 / 9, start=24.0, outside=4.0)


def test_a_cube_is_the_product_of_three_slabs():
    points, marks = [[0.0, 0.0, 0.0], [0.28, 0.28, 0.28], [0.1, 0.2, 0.28]], np.array([0, 2, 10, 40]) * HOUR
    cube, _ = box(COOLING, points, marks, 16, Steps(60.0, 900.0))
    slab = Box(half_sizes=(0.28,), k=2.0, rho_c=2.4e6, resistance=1 / 9, start=24.0, outside=4.0)
    alone, _ = box(slab, [[0.0], [0.28], [0.1], [0.2]], marks, 48, Steps(30.0, 300.0))
    left = (alone - 4) / 20
    product = np.stack([left[:, 0] ** 3, left[:, 1] ** 3, left[:, 2] * left[:, 3] * left[:, 1]], axis=1)
    assert cube == pytest.approx(4 + 20 * product, abs=0.02)


def test_steps_and_modes_share_no_line_and_agree():
    points, marks = [[0.0, 0.0, 0.0], [0.28, 0.28, 0.28]], np.array([0, 6, 48]) * HOUR
    modes, whole = box(COOLING, points, marks, 4)
    steps, marched = box(COOLING, points, marks, 4, Steps(5.0, 60.0))
    assert steps == pytest.approx(modes, abs=2e-3)
    assert whole.stored == pytest.approx(marched.stored, rel=1e-5) and whole.error < 1e-12


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 2**32 - 1), st.floats(10.0, 1e5))
def test_heat_is_neither_made_nor_lost_by_the_scheme(seed, dt):
    chance = np.random.default_rng(seed)
    shape = (4, 3, 5)
    grid = Grid(tuple(np.concatenate([[0.0], np.cumsum(chance.uniform(0.02, 0.3, n))]) for n in shape))
    k = np.where(chance.random(shape) < 0.7, chance.uniform(0.05, 3.0, shape), 0.0)
    k[0, 0, 0] = 1.0
    surfaces = [Surface("air", a, s, exposed(k > 0, a, s), chance.uniform(0, 2)) for a in range(3) for s in (-1, 1)]
    c = conduction(grid, k, chance.uniform(1e6, 3e6), surfaces)
    T, account = chance.uniform(0, 60, shape), NOTHING
    ready = sweeps(c, dt)
    for _ in range(10):
        T, step = march(c, ready, T, {"air": 5.0}, np.where(k > 0, chance.uniform(0, 1e4, shape), 0.0))
        account += step
    assert account.error < 1e-12


def test_error_falls_with_the_square_of_cells_and_steps():
    marks, points = np.array([0, 12.0]) * HOUR, [[0.0], [0.15]]
    slab = Box(half_sizes=(0.28,), k=2.0, rho_c=2.4e6, resistance=1 / 9, start=24.0, outside=4.0)
    exact = box(slab, points, marks, 60)[0][-1]
    coarse, fine = (np.abs(box(slab, points, marks, n)[0][-1] - exact).max() for n in (6, 12))
    assert 3 < coarse / fine < 5.5
    exact = box(slab, points, marks, 12)[0][-1]
    long, short = (
        np.abs(box(slab, points, marks, 12, Steps(dt, dt))[0][-1] - exact).max() for dt in (2 * HOUR, 1 * HOUR)
    )
    assert long / short > 3


def test_a_deep_block_answers_a_step_at_its_face_as_a_half_space():
    deep = Box(half_sizes=(2.0,), k=2.4, rho_c=2.4e6, resistance=0.0, start=30.0, outside=0.0)
    got, _ = box(deep, [[1.9]], [0.0, 6 * HOUR], 150, Steps(60.0, 600.0))
    assert got[-1, 0] == pytest.approx(30 * erf(0.1 / (2 * sqrt(1e-6 * 6 * HOUR))), abs=0.01)


def test_a_round_block_has_its_own_areas():
    tube = Box(half_sizes=(0.3048,), k=2.4, rho_c=2.4e6, resistance=0.0, start=60.0, outside=10.0, round=True)
    got, account = box(tube, [[0.0]], [0.0, 6 * HOUR], 40)
    assert got[-1, 0] == pytest.approx(30.83, abs=0.02) and account.error < 1e-12


def test_heat_made_between_cold_faces_settles_at_a_parabola():
    slab = Box(half_sizes=(0.5,), k=2.0, rho_c=2.4e6, resistance=0.0, start=0.0, outside=0.0, source=500.0)
    got, _ = box(slab, [[0.0], [0.25]], [0.0, 5000 * HOUR], 40)
    assert got[-1] == pytest.approx([31.25, 31.25 * 0.75], rel=1e-3)


def test_two_materials_conduct_in_series():
    """Steady flow through 0.1 m of each: the drop divides as the resistances do."""
    grid = Grid((np.linspace(0, 0.2, 21), np.array([0.0, 1.0]), np.array([0.0, 1.0])))
    k = np.where(np.arange(20) < 10, 2.0, 0.5)[:, None, None]
    ends = [np.arange(20)[:, None, None] == i for i in (0, 19)]
    c = conduction(grid, k, 2e6, [Surface("warm", 0, -1, ends[0], 0.0), Surface("cold", 0, 1, ends[1], 0.25)])
    T, _ = settling(c, np.zeros(grid.shape), {"warm": 50.0, "cold": 0.0}, np.zeros(grid.shape), np.array([1e8]))
    flow = 50.0 / (0.1 / 2.0 + 0.1 / 0.5 + 0.25)
    assert T[0, 0, 0, 0] == pytest.approx(50 - flow * 0.0025)
    assert T[0, 19, 0, 0] == pytest.approx(flow * (0.25 + 0.01))


def test_colder_outside_is_nowhere_warmer():
    points, marks = [[0.0, 0.0, 0.0], [0.28, 0.28, 0.28]], np.array([0, 3, 20]) * HOUR
    warm = box(COOLING, points, marks, 5, Steps(300.0, 900.0))[0]
    cold = box(Box(**{**vars(COOLING), "outside": 0.0}), points, marks, 5, Steps(300.0, 900.0))[0]
    assert np.all(cold <= warm)


def test_air_is_what_solid_cells_border_on():
    solid = np.zeros((3, 3, 3), bool)
    solid[1, 1, 1] = True
    assert all(exposed(solid, axis, side)[1, 1, 1] for axis in range(3) for side in (-1, 1))
    assert not exposed(np.ones((3, 3, 3), bool), 0, 1).any()  # the ends of the grid pass nothing


def test_edges_widen_away_from_where_they_begin():
    edges = graded(1.0, 0.0, 0.05, 1.3)
    assert edges[0] == 1.0 and edges[-1] == pytest.approx(0.0)
    widths = -np.diff(edges)
    assert widths[0] <= 0.05 and np.all(np.diff(widths) > 0)
    assert graded(0.0, 1.0, 0.3)[1] == pytest.approx(0.25)


def test_steps_meet_every_mark_and_never_get_longer_than_said():
    lengths = times(np.array([0.0, 100.0, 1000.0, 1001.0, 9000.0]), 7.0, 300.0)
    ends = np.cumsum(lengths)
    assert max(lengths) <= 300.0 * (1 + 1e-12) and lengths[0] <= 7.0
    for mark in (100.0, 1000.0, 1001.0, 9000.0):
        assert np.abs(ends - mark).min() < 1e-6


def test_a_daily_wave_dies_away_into_the_ground():
    """Derived: exp(-x/d) with d = sqrt(2 a/w)."""
    w = 2 * pi / 86400
    ground = Box(
        half_sizes=(1.5,), k=2.4, rho_c=2.4e6, resistance=0.0, start=0.0, outside=lambda t: 10 * float(np.sin(w * t))
    )
    marks = np.concatenate([[0.0], 20 * 86400 + np.arange(0, 25) * HOUR])
    got, _ = box(ground, [[1.5 - 0.3048]], marks, 120, Steps(900.0, 900.0))
    swing = (got[1:, 0].max() - got[1:, 0].min()) / 2
    assert swing == pytest.approx(10 * exp(-0.3048 / sqrt(2e-6 / w)), rel=0.01)


def test_the_benchmark_reads_a_case_and_refuses_what_it_does_not_know(tmp_path, capsys):
    import importlib.util

    path = Path(__file__).parents[2] / "benchmarks/heat.py"
    spec = importlib.util.spec_from_file_location("heat_benchmark", path)
    bench = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(bench)
    case = {"inputs": {"half_sizes_m": [0.1], "moon": 1}, "points_m": [[0]], "hours": [0], "temperature_degC": [[4]]}
    file = tmp_path / "case.json"
    file.write_text(json.dumps(case))
    assert bench.case(file) == 2
    assert "unknown: moon" in capsys.readouterr().out
