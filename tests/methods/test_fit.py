"""Plates on bolts: worked fits, a second optimiser, and laws."""

import numpy as np
import pytest
from pytest import approx

from batterboard.methods.fit import drops_on, least_squares_fit, minimax_fit

SQUARE = [[5, 5], [-5, 5], [-5, -5], [5, -5]]
OBLONG = [[4, 6], [-4, 6], [-4, -6], [4, -6]]


def xy(points):
    return np.array(points, float).T


@pytest.mark.parametrize(
    "holes, bolts, clearance, largest, turn, shift, fits",
    [
        (SQUARE, [[5.3, 4.8], [-4.7, 4.8], [-4.7, -5.2], [5.3, -5.2]], 0.281, 0.0, 0.0, (0.3, -0.2), True),
        (SQUARE, [[4.912, 5.087], [-5.087, 4.912], [-4.912, -5.087], [5.087, -4.912]], 0.281, 0.0, 1.0, (0, 0), True),
        (SQUARE, [[5.2, 5.2], [-5.2, 5.2], [-5.2, -5.2], [5.2, -5.2]], 0.28125, 0.28284, 0.0, (0, 0), False),
        (OBLONG, [[4.31, 6.02], [-3.87, 6.1], [-4.12, -5.78], [4.05, -6.12]], 0.281, 0.115, -1.372, (0.097, 0.034), 1),
        ([[-5, 0], [5, 0]], [[-5.1, 0.3], [5.3, 0.3]], 0.281, 0.2, 0.0, (0.1, 0.3), True),
        (SQUARE, [[5.25, 5], [-4.75, 5], [-5.25, -5], [4.75, -5]], 0.281, 0.179, -1.397, (0, 0), True),
    ],
    ids=["shift", "turn", "stretch", "all together", "two bolts", "shear"],
)
def test_worked_fits(holes, bolts, clearance, largest, turn, shift, fits):
    fit = minimax_fit(*xy(holes), *xy(bolts), clearance)
    assert fit.largest == approx(largest, abs=5e-4)
    assert np.degrees(fit.turn) == approx(turn, abs=5e-3)
    assert (fit.shift_x, fit.shift_y) == approx(shift, abs=5e-4)
    assert fit.drops_on == fits
    assert drops_on(*xy(holes), *xy(bolts), clearance) == fits


def test_a_plate_stretched_by_a_hair_too_much_does_not_drop_on():
    bolts = xy(SQUARE) * 1.04
    needed = 0.2 * np.sqrt(2)
    assert minimax_fit(*xy(SQUARE), *bolts, needed).spare == approx(0, abs=1e-12)
    assert drops_on(*xy(SQUARE), *bolts, needed + 1e-9)
    assert not drops_on(*xy(SQUARE), *bolts, needed - 1e-9)


def test_least_squares_spreads_the_error_and_so_leaves_one_bolt_worse():
    fit = least_squares_fit(*xy(OBLONG), *xy([[4.31, 6.02], [-3.87, 6.1], [-4.12, -5.78], [4.05, -6.12]]), 0.281)
    assert fit.largest == approx(0.128, abs=5e-4)


def _pattern(draw, n):
    holes = draw.uniform(-1, 1, (2, n))
    turn, shift = draw.uniform(-np.pi, np.pi), draw.uniform(-3, 3, 2)
    c, s = np.cos(turn), np.sin(turn)
    bolts = np.array([c * holes[0] - s * holes[1], s * holes[0] + c * holes[1]]) + shift[:, None]
    return holes, bolts + draw.normal(0, draw.choice([0.003, 0.03]), (2, n))


@pytest.mark.parametrize("equal", [True, False])
def test_a_second_optimiser_finds_nothing_better(equal):
    from scipy.optimize import minimize

    draw = np.random.default_rng(77)
    for _ in range(10):
        n = int(draw.integers(2, 8))
        (hx, hy), (bx, by) = _pattern(draw, n)
        clearance = np.full(n, 0.05) if equal else draw.uniform(0.01, 0.08, n)

        def offsets(v, hx=hx, hy=hy, bx=bx, by=by):
            c, s = np.cos(v[2]), np.sin(v[2])
            return np.hypot(c * hx - s * hy + v[0] - bx, s * hx + c * hy + v[1] - by)

        fit = minimax_fit(hx, hy, bx, by, clearance)
        ours = float(np.max(offsets((fit.shift_x, fit.shift_y, fit.turn)) - clearance))
        assert fit.spare == approx(-ours, abs=1e-12)
        start = least_squares_fit(hx, hy, bx, by)
        best = np.inf
        for nudge in range(4):
            v = np.array([start.shift_x, start.shift_y, start.turn]) + draw.normal(0, 0.02 * nudge, 3)
            v = np.append(v, np.max(offsets(v) - clearance))
            room = {"type": "ineq", "fun": lambda v, o=offsets, c=clearance: v[3] + c - o(v)}
            found = minimize(
                lambda v: v[3], v, constraints=[room], method="SLSQP", options={"ftol": 1e-13, "maxiter": 300}
            ).x
            best = min(best, float(np.max(offsets(found) - clearance)))
        assert ours <= best + 1e-9
        assert ours >= best - 2e-3 * abs(best) - 1e-6  # it is no faster than its own claim allows


def test_no_shift_and_turn_on_a_fine_grid_is_better():
    draw = np.random.default_rng(4)
    for n in (3, 4, 6):
        (hx, hy), (bx, by) = _pattern(draw, n)
        clearance = draw.uniform(0.0, 0.03, n)
        fit = minimax_fit(hx, hy, bx, by, clearance)
        turn = (fit.turn + np.linspace(-0.05, 0.05, 81))[:, None, None]
        x = (fit.shift_x + np.linspace(-0.03, 0.03, 41))[:, None]
        y = fit.shift_y + np.linspace(-0.03, 0.03, 41)
        worst = -np.inf
        for i in range(n):
            px, py = np.cos(turn) * hx[i] - np.sin(turn) * hy[i], np.sin(turn) * hx[i] + np.cos(turn) * hy[i]
            worst = np.maximum(worst, np.hypot(px + x - bx[i], py + y - by[i]) - clearance[i])
        assert -fit.spare <= worst.min() + 1e-9
        assert -fit.spare == approx(worst.min(), abs=2e-3)


def test_samples_together_give_what_each_gives_alone():
    draw = np.random.default_rng(6)
    holes = xy(OBLONG)
    bolts = holes[:, :, None, None] + draw.normal(0, 0.1, (2, 4, 30, 700))  # more than one block
    clearance = np.array([0.2, 0.15, 0.2, 0.25])
    fit = minimax_fit(*holes, *bolts, clearance)
    verdict = drops_on(*holes, *bolts, clearance)
    assert fit.spare.shape == fit.turn.shape == fit.largest.shape == verdict.shape == (30, 700)
    assert fit.offsets.shape == (4, 30, 700)
    assert 0.2 < verdict.mean() < 0.99
    assert np.array_equal(verdict, fit.drops_on)
    for at in ((0, 0), (29, 699), (13, 402)):
        alone = minimax_fit(*holes, *bolts[:, :, at[0], at[1]], clearance)
        assert alone.spare == approx(fit.spare[at], abs=1e-12)
        assert np.ndim(alone.spare) == 0


def test_holes_and_clearances_may_have_samples_too():
    draw = np.random.default_rng(9)
    holes = xy(SQUARE)[:, :, None] + draw.normal(0, 0.05, (2, 4, 20))
    clearance = draw.uniform(0.1, 0.2, (4, 20))
    fit = minimax_fit(*holes, *xy(SQUARE), clearance)
    for i in range(20):
        alone = minimax_fit(*holes[:, :, i], *xy(SQUARE), clearance[:, i])
        assert alone.spare == approx(fit.spare[i], abs=1e-12)


def test_moving_all_bolts_alike_moves_the_plate_and_nothing_else():
    draw = np.random.default_rng(11)
    (hx, hy), (bx, by) = _pattern(draw, 5)
    fit = minimax_fit(hx, hy, bx, by, 0.05)
    c, s = np.cos(2.5), np.sin(2.5)
    moved = minimax_fit(hx, hy, c * bx - s * by + 40, s * bx + c * by - 7, 0.05)
    assert moved.spare == approx(fit.spare, abs=1e-9)
    assert np.cos(moved.turn - fit.turn - 2.5) == approx(1, abs=1e-9)


def test_bolts_drilled_through_the_plate_itself_always_fit():
    draw = np.random.default_rng(12)
    holes = xy(OBLONG) + draw.normal(0, 0.5, (2, 4))
    c, s = np.cos(0.3), np.sin(0.3)
    bolts = c * holes[0] - s * holes[1] + 2, s * holes[0] + c * holes[1] - 1
    assert minimax_fit(*holes, *bolts, 0.0).largest == approx(0, abs=1e-7)
    assert drops_on(*holes, *bolts, 1e-6)


def test_a_wider_hole_never_hurts():
    draw = np.random.default_rng(13)
    (hx, hy), (bx, by) = _pattern(draw, 6)
    clearance = draw.uniform(0, 0.05, 6)
    narrow = minimax_fit(hx, hy, bx, by, clearance).spare
    for i in range(6):
        assert minimax_fit(hx, hy, bx, by, clearance + 0.02 * (np.arange(6) == i)).spare >= narrow - 1e-9


def test_one_bolt_fits_without_a_turn():
    fit = minimax_fit([1.0], [2.0], [3.0], [3.5], 0.1)
    assert (fit.shift_x, fit.shift_y, fit.turn, fit.spare) == approx((2, 1.5, 0, 0.1))
    assert drops_on([1.0], [2.0], [3.0], [3.5], 0.1)


def test_a_bolt_that_was_not_measured_fits_nothing():
    assert not drops_on(*xy(SQUARE), [5, -5, np.nan, 5], [5, 5, -5, -5], 1.0)
    assert not minimax_fit(*xy(SQUARE), [5, -5, np.nan, 5], [5, 5, -5, -5], 1.0).drops_on


def test_a_hole_opened_over_the_one_bolt_that_is_off_is_fitted_without_a_word_from_the_machine():
    hole_x, hole_y = np.array([0.1143, -0.1143, -0.1143, 0.1143]), np.array([0.1143, 0.1143, -0.1143, -0.1143])
    bolt_x, bolt_y = hole_x.copy(), hole_y.copy()
    bolt_x[0] = bolt_y[0] = 0.12699999999999978
    opened = np.full((4, 4), 0.007143749999999999) + np.eye(4) * 0.0333375  # each hole in turn
    with np.errstate(all="raise"):
        fit = minimax_fit(hole_x, hole_y, bolt_x[:, None].repeat(4, 1), bolt_y[:, None].repeat(4, 1), opened)
    assert list(fit.drops_on) == [True, False, False, False]


def _offsets_from_slots(shift, turn, holes, bolts, slots):
    """Written anew: a bolt in the plate's own axes, and how far it is off the line its hole was lengthened along."""
    c, s = np.cos(turn), np.sin(turn)
    dx, dy = bolts[0] - shift[0], bolts[1] - shift[1]
    off = []
    for i in range(len(holes[0])):
        here = np.array([c * dx[i] + s * dy[i] - holes[0][i], c * dy[i] - s * dx[i] - holes[1][i]])
        slot = np.array([slots[0][i], slots[1][i]])
        along = np.clip(here @ slot / (slot @ slot), 0, 1) if slot.any() else 0.0
        off.append(np.hypot(*(here - along * slot)))
    return np.array(off)


def test_in_slots_a_second_optimiser_finds_nothing_better():
    from scipy.optimize import minimize

    draw = np.random.default_rng(21)
    for _ in range(8):
        holes, bolts = xy(SQUARE), xy(SQUARE) + draw.normal(0, 0.25, (2, 4))
        turn, long = draw.uniform(0, 2 * np.pi, 4), draw.uniform(0.05, 0.6, 4) * (draw.random(4) < 0.7)
        slots = np.array([long * np.cos(turn), long * np.sin(turn)])
        clearance = draw.uniform(0.1, 0.3, 4)
        fit = minimax_fit(*holes, *bolts, clearance, *slots)

        def worst(v, bolts=bolts, slots=slots, clearance=clearance):
            return np.max(_offsets_from_slots(v[:2], v[2], xy(SQUARE), bolts, slots) - clearance)

        assert -fit.spare == approx(worst((fit.shift_x, fit.shift_y, fit.turn)), abs=1e-9)
        assert fit.drops_on == drops_on(*holes, *bolts, clearance, *slots)
        for nudge in range(6):
            start = np.array([fit.shift_x, fit.shift_y, fit.turn]) + draw.normal(0, 0.01 * nudge, 3) * [1, 1, 0.1]
            found = minimize(
                worst, start, method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-10, "maxiter": 900}
            )
            assert -fit.spare <= found.fun + 1e-8


def test_a_slot_along_the_way_the_bolts_moved_takes_it_up():
    bolts = xy([[5.5, 5], [-5, 5], [-5, -5], [5, -5]])
    slots = (np.array([0.5, 0, 0, 0]), np.zeros(4))
    fit = minimax_fit(*xy(SQUARE), *bolts, 0.1, *slots)
    assert fit.spare == approx(0.1, abs=1e-8)
    assert drops_on(*xy(SQUARE), *bolts, 0.1, *slots) and not drops_on(*xy(SQUARE), *bolts, 0.1)


def test_slots_and_samples_together_give_what_each_gives_alone():
    draw = np.random.default_rng(22)
    bolts = xy(SQUARE)[:, :, None] + draw.normal(0, 0.2, (2, 4, 40))
    slots = (np.array([0.3, 0, 0, 0]), np.array([0.0, 0.2, 0, 0]))
    fit, verdict = minimax_fit(*xy(SQUARE), *bolts, 0.25, *slots), drops_on(*xy(SQUARE), *bolts, 0.25, *slots)
    assert 0 < verdict.mean() < 1 and np.array_equal(verdict, fit.drops_on)
    for i in (0, 7, 39):
        assert minimax_fit(*xy(SQUARE), *bolts[:, :, i], 0.25, *slots).spare == approx(fit.spare[i], abs=1e-8)
