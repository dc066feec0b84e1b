"""How far off a place can be: by closed forms, by simulated jobs, by published level nets."""

import numpy as np
import pytest
from pytest import approx

from batterboard.methods.chances import chi_squared_at
from batterboard.methods.errors import ErrorVector, adjust, error_ellipse, misfit, propagate, rounding, sample

FOOT, INCH = 0.3048, 0.0254


def pier(e):
    """A pier by a distance along a line and an offset square to it (x along, y off the line)."""
    along, off, far = 24.25 * FOOT, 31 * FOOT, 120 * FOOT
    part = along / far
    line = (1 - part) * e["line.near"] + part * e["line.far"]
    turn = e["square"]
    x = along + e["tape.along"] - (off + e["tape.off"]) * np.sin(turn) + e["template.x"]
    y = line + (off + e["tape.off"]) * np.cos(turn) + e["template.y"]
    return x, y


def square_by_tape(s):
    """Of a 3-4-5 in feet, each side by a reading of standard deviation s."""
    return np.sqrt(3**2 + 4**2 + 5**2) / (3 * 4) * s / FOOT


PIER = ErrorVector(
    {
        "line.near": INCH / 8,
        "line.far": INCH / 8,
        "tape.along": INCH / 8,
        "tape.off": INCH / 8,
        "square": square_by_tape(INCH / 16),
        "template.x": INCH / 16,
        "template.y": INCH / 16,
    }
)


def test_a_pier_set_out_by_line_tape_and_square_has_the_spread_of_its_chain():
    spread = propagate(pier, PIER)
    assert spread.nominal / FOOT == approx([24.25, 31])
    assert spread.sigma / INCH == approx([1.150, 0.174], rel=5e-3)
    assert PIER.names[np.argmax(spread.share[0])] == "square"
    assert spread.share.sum(axis=1) == approx([1, 1])


def test_derivatives_are_those_of_the_place():
    spread = propagate(
        lambda e: [np.sin(e["a"]) * 2 + e["b"] ** 2, 3 * e["b"], 7.0], ErrorVector({"a": 1e-3, "b": 0.0})
    )
    assert spread.nominal == approx([0, 0, 7])
    assert spread.jacobian == approx(np.array([[2, 0], [0, 3], [0, 0]]), rel=1e-6, abs=1e-9)
    assert spread.sigma == approx([2e-3, 0, 0], rel=1e-6)
    assert spread.share[:, 0] == approx([1, 0, 0])


def test_what_two_things_share_cancels_between_them():
    # One template drills both: bolts and holes are off together.
    errors = ErrorVector({"template": 3e-3, "bolt": 1e-3, "hole": 1e-3})
    bolt = lambda e: 0.1 + e["template"] + e["bolt"]  # noqa: E731
    hole = lambda e: 0.1 + e["template"] + e["hole"]  # noqa: E731
    spread = propagate(lambda e: [bolt(e), hole(e), bolt(e) - hole(e)], errors)
    assert spread.sigma == approx([np.sqrt(10) * 1e-3, np.sqrt(10) * 1e-3, np.sqrt(2) * 1e-3])
    assert spread.covariance[0, 1] == approx(9e-6)
    assert spread.share[2] == approx([0, 0.5, 0.5])


def test_simulated_jobs_scatter_as_propagated():
    simulated = sample(pier, PIER, 100_000, seed=3)
    spread = propagate(pier, PIER)
    assert simulated.shape == (2, 100_000)
    assert np.cov(simulated) == approx(spread.covariance, rel=0.02, abs=0.02 * spread.sigma.min() ** 2)
    assert simulated.mean(axis=1) == approx(spread.nominal, abs=5e-3 * spread.sigma.max())


def test_an_errors_luck_depends_on_the_seed_and_its_name_alone():
    tape = lambda e: [e["tape"]]  # noqa: E731
    one = sample(tape, ErrorVector({"tape": 1e-3}), 100, seed=1)
    assert np.array_equal(one, sample(tape, ErrorVector({"rod": 5e-3, "tape": 1e-3}), 100, seed=1))
    assert np.array_equal(2 * one, sample(tape, ErrorVector({"tape": 2e-3}), 100, seed=1))
    assert not np.array_equal(one, sample(tape, ErrorVector({"tape": 1e-3}), 100, seed=2))
    both = sample(lambda e: [e["tape"], e["rod"]], ErrorVector({"tape": 1.0, "rod": 1.0}), 20_000, seed=1)
    assert np.corrcoef(both)[0, 1] == approx(0, abs=0.03)


def test_variants_stand_behind_the_cases():
    off = np.array([10.0, 20.0, 30.0])
    errors = ErrorVector({"square": np.array([1e-3, 1e-3, 2e-3]), "tape": 3e-3})
    spread = propagate(lambda e: [5 + e["tape"] - off * np.sin(e["square"]), off], errors)
    assert spread.nominal == approx(np.array([[5, 5, 5], off]))
    assert spread.sigma[0] == approx(np.hypot(3e-3, off * np.array([1e-3, 1e-3, 2e-3])), rel=1e-5)
    assert spread.sigma[1] == approx([0, 0, 0])
    assert spread.share.shape == (2, 2, 3)
    assert sample(lambda e: [off * e["square"]], errors, 50, seed=1).shape == (1, 50, 3)
    for v in range(3):
        alone = ErrorVector({"square": float(errors.sigma[0, v]), "tape": 3e-3})
        one = propagate(lambda e, v=v: [5 + e["tape"] - off[v] * np.sin(e["square"])], alone)
        assert one.sigma[0] == approx(spread.sigma[0, v])


def test_two_vectors_join_where_they_mean_the_same_error():
    joined = ErrorVector({"tape": 1e-3, "a": 2e-3}) | ErrorVector({"tape": 1e-3, "b": 3e-3})
    assert joined.names == ("tape", "a", "b")
    with pytest.raises(ValueError, match="tape has two standard deviations"):
        joined | ErrorVector({"tape": 2e-3})
    with pytest.raises(ValueError, match="zero or more"):
        ErrorVector({"tape": -1e-3})
    with pytest.raises(ValueError, match="zero or more"):
        ErrorVector({"tape": np.nan})


def test_a_place_without_errors_is_where_it_is():
    spread = propagate(lambda e: [1.0, 2.0], ErrorVector())
    assert spread.nominal == approx([1, 2])
    assert spread.sigma == approx([0, 0])


def test_rounding_to_a_mark_scatters_evenly():
    readings = np.random.default_rng(1).uniform(0, 1, 200_000)
    assert np.std(np.round(readings * 16) / 16 - readings) == approx(rounding(1 / 16), rel=0.01)


def test_an_error_ellipse_has_the_axes_of_its_covariance():
    c, s = np.cos(2.0), np.sin(2.0)
    turned = np.array([[c, -s], [s, c]]) @ np.diag([9.0, 4.0]) @ np.array([[c, s], [-s, c]])
    ellipse = error_ellipse(turned[0, 0], turned[0, 1], turned[1, 1])
    assert (ellipse.major, ellipse.minor, ellipse.direction) == approx((3, 2, 2.0))
    line = error_ellipse(np.array([4.0, 0.0]), 0.0, np.array([0.0, 4.0]))
    assert line.major == approx([2, 2])
    assert line.minor == approx([0, 0])
    assert line.direction == approx([0, np.pi / 2])


def test_a_larger_ellipse_holds_its_share_of_points():
    x, y = np.random.default_rng(2).standard_normal((2, 100_000))
    ellipse = error_ellipse(1.0, 0.0, 1.0).holding(0.95)
    assert np.mean(np.hypot(x, y) < ellipse.major) == approx(0.95, abs=3e-3)
    assert error_ellipse(1.0, 0.0, 1.0).holding(0.3935).major == approx(1, abs=1e-3)


def level_net(known, observed):
    """A place of level differences, all read equally well, and its vector: the unknown levels are free."""
    free = sorted({name for a, b, _ in observed for name in (a, b)} - set(known))
    errors = dict.fromkeys(free, np.inf) | {f"reading {i}": 1.0 for i in range(len(observed))}

    def differences(e):
        level = known | {name: e[name] for name in free}
        return [level[b] - level[a] + e[f"reading {i}"] for i, (a, b, _) in enumerate(observed)]

    adjusted = adjust(differences, [d for _, _, d in observed], ErrorVector(errors))
    return adjusted, adjusted.spread(lambda e: [e[name] for name in free])


def test_a_level_net_with_two_unknown_points():
    # An open-access least squares course prints these, but for sigma_R: 0.014, where its own residuals give 0.0149.
    adjusted, levels = level_net(
        {"A": 806.520, "B": 818.320, "C": 820.120, "D": 824.040},
        [
            ("A", "Q", 8.91), ("B", "Q", -2.92), ("C", "Q", -4.67), ("D", "Q", -8.66),
            ("A", "R", -3.56), ("C", "R", -17.12), ("D", "R", -21.10), ("Q", "R", -12.47),
        ],
    )  # fmt: skip
    assert levels.nominal == approx([815.418, 802.962], abs=5e-4)
    assert adjusted.redundancy == 6
    assert adjusted.sigma_0 == approx(0.029, abs=5e-4)
    assert adjusted.sigma_0 * levels.sigma == approx([0.013, 0.015], abs=5e-4)


def test_a_level_net_with_three_unknown_points():
    adjusted, levels = level_net(
        {"X": 100.00, "Y": 107.50},
        [
            ("X", "A", 5.10), ("A", "Y", 2.34), ("Y", "C", -1.25), ("C", "X", -6.13),
            ("A", "B", -0.68), ("Y", "B", -3.00), ("B", "C", 1.70),
        ],
    )  # fmt: skip
    assert levels.nominal == approx([105.141, 104.483, 106.188], abs=5e-4)
    assert adjusted.redundancy == 4
    assert adjusted.sigma_0 == approx(0.050, abs=5e-4)


def test_a_level_loop_spreads_its_closing_error_by_setups():
    setups, differences = np.array([2, 1, 3, 2]), [2.31, -0.84, -3.02, 1.50]
    errors = {"P": np.inf, "Q": np.inf, "R": np.inf} | {str(i): np.sqrt(n) for i, n in enumerate(setups)}

    def loop(e):
        level = [0.0, e["P"], e["Q"], e["R"], 0.0]
        return [level[i + 1] - level[i] + e[str(i)] for i in range(4)]

    adjusted = adjust(loop, differences, ErrorVector(errors))
    corrections = -adjusted.values[3:]
    assert corrections == approx([0.0125, 0.00625, 0.01875, 0.0125], abs=1e-6)


def test_a_tape_cannot_vouch_for_itself():
    # 30 m set out and checked with one tape whose scale is unsure; each reading has its own mark.
    errors = ErrorVector({"scale": 1e-3, "set": 1e-4, "read": 1e-4, "other": 1e-4})
    place = lambda e: [30 * (1 + e["scale"]) + e["set"]]  # noqa: E731
    same_tape = lambda e: [30 + e["set"] + e["read"]]  # noqa: E731  the scale drops out of its own reading
    other_tape = lambda e: [30 * (1 + e["scale"]) + e["set"] + e["other"]]  # noqa: E731
    before = propagate(place, errors).sigma[0]
    assert adjust(same_tape, [30.0], errors).spread(place).sigma[0] == approx(before, rel=0.01)
    assert adjust(other_tape, [30.02], errors).spread(place).sigma[0] == approx(1e-4, rel=0.01)
    assert adjust(other_tape, [30.02], errors).spread(place).nominal[0] == approx(30.02, abs=1e-4)


def test_a_point_from_two_taped_distances_is_found_though_the_place_is_curved():
    errors = ErrorVector({"x": np.inf, "y": np.inf, "a": 0.01, "b": 0.01})

    def tapes(e):
        x, y = 10 + e["x"], 15 + e["y"]
        return [np.hypot(x, y) + e["a"], np.hypot(x - 30, y) + e["b"]]

    adjusted = adjust(tapes, [18.0, 24.0], errors)
    point = adjusted.spread(lambda e: [10 + e["x"], 15 + e["y"]])
    assert point.nominal == approx([10.8, 14.4], abs=1e-9)
    assert point.sigma == approx([0.01, 0.01], rel=1e-3)
    assert np.isnan(adjusted.sigma_0)


def test_readings_that_leave_an_unknown_open_are_refused():
    with pytest.raises(ValueError, match="no reading reaches"):
        adjust(lambda e: [e["a"]], [1.0], ErrorVector({"a": 1.0, "level": np.inf}))
    with pytest.raises(ValueError, match="without an error of its own"):
        adjust(lambda e: [e["a"], e["a"]], [1.0, 1.0], ErrorVector({"a": 1.0}))


# ---- testing readings before they are adjusted ----


def taped_twice(e):
    """Three points on a line, marked with one tape: the parts and the whole, read with another."""
    first, second = 10 + e["first"], 7 + e["second"]
    return [first + e["r1"], second + e["r2"], first + second + e["r3"]]


TAPED = ErrorVector({"first": 2e-3, "second": 2e-3, "r1": 1e-3, "r2": 1e-3, "r3": 1e-3})


def test_sound_readings_fail_as_rarely_as_they_should():
    drawn = sample(taped_twice, TAPED, 4000, seed=9)
    made = [misfit(taped_twice, readings, TAPED) for readings in drawn.T]
    limit = chi_squared_at(0.05, 3)
    assert np.mean([m.chi_squared > limit for m in made]) == approx(0.05, abs=3 * np.sqrt(0.05 * 0.95 / 4000))
    tests = np.array([m.tests for m in made])
    assert tests.std(axis=0) == approx([1, 1, 1], rel=0.05)
    assert np.array([m.causes for m in made]).std(axis=0) == approx(np.ones(5), rel=0.05)
    assert np.array([m.off for m in made]).std(axis=0) == approx(made[0].sigma, rel=0.05)


def test_a_blunder_shows_in_the_reading_that_has_it_with_its_size():
    readings = sample(taped_twice, TAPED, 1, seed=2)[:, 0]
    readings[1] += 0.05
    found = misfit(taped_twice, readings, TAPED)
    assert np.argmax(np.abs(found.tests)) == 1 and np.abs(found.tests[1]) > 20
    assert found.causes[3] == approx(found.tests[1])  # its own reading error is the same cause
    assert found.sizes[3] == approx(0.05, abs=5e-3)
    assert found.least[1] < 0.05
    assert found.alike[1, 3 + 3] == approx(1)


def test_a_blunder_that_no_reading_can_see_has_no_test():
    found = misfit(lambda e: [3 + e["a"]], [3.1], ErrorVector({"a": 1e-3, "elsewhere": 1.0}))
    assert found.causes[1] == 0 and found.causes[0] == approx(100)
    assert found.chi_squared == approx(1e4)


def test_adjusting_agrees_with_a_reference_solver():
    """The shortest vector, each error in its standard deviation, that explains every reading."""
    linalg = pytest.importorskip("scipy.linalg")
    readings = sample(taped_twice, TAPED, 1, seed=5)[:, 0]
    made, spread = adjust(taped_twice, readings, TAPED), propagate(taped_twice, TAPED)
    best, *_ = linalg.lstsq(spread.jacobian * TAPED.sigma, readings - spread.nominal)
    assert made.values / TAPED.sigma == approx(best, abs=1e-9)
    assert made.sigma_0**2 * made.redundancy == approx(misfit(taped_twice, readings, TAPED).chi_squared)


def test_nineteen_of_twenty_adjusted_places_lie_where_their_interval_says():
    drawn = sample(lambda e: [*taped_twice(e), 10 + e["first"]], TAPED, 3000, seed=7)
    inside = 0
    for *readings, true in drawn.T:
        spread = adjust(taped_twice, readings, TAPED, rounds=1).spread(lambda e: [10 + e["first"]])
        inside += abs(spread.nominal[0] - true) <= 1.96 * spread.sigma[0]
    assert inside / 3000 == approx(0.95, abs=3 * np.sqrt(0.95 * 0.05 / 3000))
