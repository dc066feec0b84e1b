"""The Army's older tables, for comparison."""

from math import isnan

import pytest

from batterboard.quantity import ft, inch, psf
from batterboard.standards import army


def test_a_pressure_between_rows_takes_the_next_higher_one():
    assert army.stud_spacing(0.75 * inch, "strong", 450 * psf) == pytest.approx(14 * inch)


def test_a_sheet_of_23_32_counts_as_three_quarters():
    assert army.stud_spacing(23 / 32 * inch, "strong", 600 * psf) == pytest.approx(14 * inch)
    assert army.stud_spacing(5 / 8 * inch, "strong", 600 * psf) == pytest.approx(12 * inch)


def test_what_was_not_read_is_not_known():
    assert isnan(army.stud_spacing(0.75 * inch, "strong", 900 * psf))
    assert isnan(army.stud_spacing(0.5 * inch, "strong", 300 * psf))
    assert isnan(army.yokes(37 * inch, 4 * ft)) and isnan(army.yokes(30 * inch, 9.5 * ft))


def test_a_lower_form_takes_the_lower_yokes_of_the_table():
    assert army.yokes(22 * inch, 40 * inch) == 6
    assert army.yokes(36 * inch, 9 * ft) == 10
