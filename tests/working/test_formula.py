"""How a number is made: plain, recorded, on the page."""

import numpy as np
import pytest

from batterboard.quantity import Force, Length, Moment, Number, Pressure, Speed, ft, hour, psf
from batterboard.working import STATICS, FormulaError, absolute, formula, recording, sqrt, where
from batterboard.working.dimensions import infer
from batterboard.working.formula import Formula
from batterboard.working.page import blocks


@formula(source=STATICS, limits="P > 0; e < L / 2")
def peak(P: Force, M: Moment, B: Length, L: Length) -> Pressure:
    """Largest pressure under a rigid footing."""
    e = absolute(M) / P
    q_full = P / (B * L) * (1 + 6 * e / L)
    q_part = 2 * P / (3 * B * (L / 2 - e))
    q = where(e <= L / 6, q_full, q_part)
    return q


@formula(source=STATICS, limits="R < 7 ft/h; h <= 14 ft")
def rise(R: Speed, *, h: Length) -> Pressure:
    """An empirical formula in its own units."""
    R_fph = R / (ft / hour)
    p_psf = 150 + 9000 * R_fph / 70
    p = p_psf * psf
    return p


@formula(source=STATICS)
def doubled(P: Force, B: Length, L: Length) -> Pressure:
    """A formula that calls another."""
    q = peak(P, 0, B, L)
    twice = 2 * q
    return twice


def test_a_formula_called_plainly_is_numpy():
    assert peak(60e3, 12e3, 1.2, 1.4) == pytest.approx(60e3 / 1.68 * (1 + 6 * 0.2 / 1.4))
    many = peak(60e3, np.array([[12e3], [0.0]]), 1.2, np.array([1.4, 2.0, 2.5]))
    assert many.shape == (2, 3)
    assert many[0, 0] == pytest.approx(peak(60e3, 12e3, 1.2, 1.4))


def test_outside_its_limits_a_formula_is_nan():
    assert np.isnan(rise(8 * ft / hour, h=3.0))
    assert np.isnan(rise(2 * ft / hour, h=14.1 * ft))
    assert np.isnan(peak(60e3, 45e3, 1.2, 1.4)), "a limit may speak of a local"
    assert np.isnan(peak(0.0, 1.0, 1.2, 1.4)), "a division by zero is no traceback"
    assert np.isnan(peak(-1.0, 1.0, 1.2, 1.4))


def test_nan_going_in_comes_out_even_through_a_choice():
    assert np.isnan(peak(np.nan, 1.0, 1.2, 1.4))
    assert np.isnan(peak(60e3, np.array([1.0, np.nan]), 1.2, 1.4)).tolist() == [False, True]


def test_a_recorded_formula_leaves_its_locals_and_those_it_calls_first():
    with recording() as steps:
        doubled(60e3, 1.2, 1.4)
        peak(60e3, 0, 1.2, 1.4)
    assert [s.formula.name for s in steps] == ["peak", "doubled"], "once each"
    assert steps[0].values["q_full"] == pytest.approx(60e3 / 1.68)
    assert steps[1].value == pytest.approx(2 * steps[0].value)


def test_the_page_prints_symbols_numbers_and_result_in_coherent_units():
    with recording() as steps:
        peak(60e3, np.array([[0.0], [12e3]]), 1.219, 1.372)
    (block,) = blocks(steps, (1, 0), "si", "coarse")
    e, full, _, q = block.lines
    assert (e.symbols, e.numbers, e.result) == ("abs(M) / P", "abs(12.00) / 60.00", "0.2000 m")
    assert full.symbols == "P / (B L) · (1 + 6 e / L)"
    assert full.numbers == "60.00 / (1.219 · 1.372) · (1 + 6 · 0.2000 / 1.372)"
    assert full.result == "67.25 kPa"
    assert q.symbols == "q_full, since e <= L / 6 (0.2000 <= 1.372 / 6)"


@formula(source=STATICS, limits="r >= 0")
def share(r: Number) -> Number:
    """A share that needs its long way only where it lifts off."""
    s_all = 1 - r / 2
    s_part = (1 - (1 - r) ** 2) / (2 * r)
    s = where(r <= 1, s_all, s_part)
    return s


def test_a_branch_that_was_not_taken_and_has_no_value_stays_off_the_page():
    with recording() as steps, np.errstate(all="ignore"):
        share(np.array([[0.0], [0.5], [2.0]]))
    flat, tipped, lifted = (blocks(steps, (case, 0), "us", "coarse")[0].lines for case in range(3))
    assert [line.name for line in flat] == ["s_all", "s"]
    assert [line.name for line in tipped] == [line.name for line in lifted] == ["s_all", "s_part", "s"]


def test_the_same_steps_print_in_feet_and_pounds():
    with recording() as steps:
        peak(60e3, 12e3, 1.219, 1.372)
    (block,) = blocks(steps, (0,), "us", "coarse")
    assert block.lines[0].result.endswith("ft")
    assert block.lines[1].result == "1405 psf"


def test_an_empirical_formula_prints_its_conversions_as_words():
    with recording() as steps:
        rise(5 * ft / hour, h=3.0)
    (block,) = blocks(steps, (0,), "us", "coarse")
    assert block.lines[0].symbols == "R in ft / h"
    assert block.lines[1].numbers == "150 + 9000 · 5.000 / 70"
    assert block.lines[2].numbers == "792.9 psf"


def test_a_broken_limit_is_named():
    with recording() as steps:
        rise(8 * ft / hour, h=3.0)
    (block,) = blocks(steps, (0,), "us", "coarse")
    assert block.outside == ("R < 7 ft/h",)


def test_dimensions_of_locals_are_inferred_and_must_balance():
    assert str(infer(peak)["e"]) == "m^1"
    assert str(infer(rise)["p_psf"]) == "a number"

    @formula(source=STATICS)
    def unbalanced(P: Force, B: Length) -> Pressure:
        q = P + B
        return q

    with pytest.raises(FormulaError, match="cannot be added"):
        infer(unbalanced)


def test_what_the_page_cannot_print_is_refused():
    @formula(source=STATICS)
    def twice_named(x: Number) -> Number:
        y = x + 1
        y = y + 1
        return y

    @formula(source=STATICS)
    def root(x: Number) -> Number:
        y = x**0.5
        return y

    @formula(source=STATICS)
    def hidden_call(P: Force, B: Length) -> Pressure:
        q = 2 * peak(P, 0, B, B)
        return q

    for bad, word in ((twice_named, "given twice"), (root, "fractional"), (hidden_call, "stand alone")):
        with pytest.raises(FormulaError, match=word):
            _ = bad.tree


BARE = """
@formula(source=STATICS, limits="y < 3")
def bare(x: Number) -> Number:
    y = sqrt(x)
    z = where(y > 1, y, 0.0)
    return z
"""


def test_without_its_source_the_value_still_comes():
    names = {"formula": formula, "STATICS": STATICS, "where": where, "sqrt": sqrt, "Number": Number}
    exec(
        BARE,
        names,
    )
    bare = names["bare"]
    assert isinstance(bare, Formula)
    assert bare.tree is None
    assert bare(4.0) == 2.0
    assert np.isnan(bare(16.0))
    assert np.isnan(bare(np.nan))
    with recording() as steps:
        bare(4.0)
    assert blocks(steps, (0,), "us", "coarse")[0].lines[0].symbols == "working not available"


def test_recorders_of_two_threads_do_not_mix():
    from concurrent.futures import ThreadPoolExecutor

    def one(width: float) -> list[float]:
        with recording() as steps:
            for _ in range(50):
                peak(60e3, 0, width, 1.0)
        return [s.arguments["B"] for s in steps]

    with ThreadPoolExecutor(4) as pool:
        assert list(pool.map(one, (1.0, 2.0, 3.0, 4.0))) == [[1.0], [2.0], [3.0], [4.0]]
