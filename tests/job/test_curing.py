"""What the job file says of curing: wrong units, differences, readings of lifts that are not there."""

from pathlib import Path

import pytest

from batterboard.job import JobError
from batterboard.job.reader import read_text
from batterboard.plan import Plan

TEXT = (Path(__file__).parents[2] / "examples/orchard-gate/job.toml").read_text("utf-8")


def job(pour: str = "", end: str = ""):
    return read_text(TEXT.replace("[pour]\n", f"[pour]\n{pour}\n", 1) + end, "gate.toml")


def problem(pour: str = "", end: str = "") -> str:
    with pytest.raises(JobError) as raised:
        Plan(job(pour, end)).work  # noqa: B018
    return str(raised.value)


def test_a_swing_is_a_difference_without_the_zero_of_a_scale():
    assert job('swing = "18 F"').pour.swing == pytest.approx(10.0)
    assert job('swing = "10 C"').pour.swing == pytest.approx(10.0)


@pytest.mark.parametrize(
    "pour, said",
    [
        ('swing = "80 F"', "no air swings so far"),
        ('swing = "-5 F"', "swing"),
        ('swing = "10 psi"', "swing"),
        ('blanket = "60 m2 K/W"', "no blanket insulates like that"),
        ('blanket = "4 in"', "blanket"),
        ('kept = "lukewarm"', "kept"),
        ('sun = "moon"', "sun"),
    ],
)
def test_what_cannot_be_is_an_error_with_its_place(pour, said):
    told = problem(pour)
    assert said in told and "gate.toml:" in told


@pytest.mark.parametrize(
    "end, said",
    [
        ('[found.pour.thermometer]\n1 = { lift = 7, after = "6 h", reads = "60 F" }', "lift 7"),
        ('[found.pour.thermometer]\n1 = { lift = 1, after = "6 h", reads = "240 F" }', "reads"),
        ('[found.pour.breaks]\n1 = { lift = 0, after = "3 d", strength = "1500 psi", cured = "on site" }', "lift"),
        ('[found.pour.breaks]\n1 = { lift = 1, after = "3 d", strength = "90 ksi", cured = "on site" }', "cylinder"),
        ('[found.pour.breaks]\n1 = { lift = 1, after = "3 d", strength = "1500 psi", cured = "in a bucket" }', "cured"),
        ('[found.pour.breaks]\n1 = { lift = 1, after = "3 d", cured = "on site" }', "strength"),
    ],
)
def test_a_reading_that_cannot_be_is_an_error_with_its_place(end, said):
    told = problem(end=f"\n{end}\n")
    assert said in told and "gate.toml:" in told


def test_breaks_belong_under_found():
    told = problem(end='\n[pour.breaks]\n1 = { lift = 1, after = "3 d", strength = "1500 psi", cured = "on site" }\n')
    assert "found" in told
