"""Every published case that our functions cover, as printed."""

from pathlib import Path
from typing import Any

import adapters
import pytest
import run
from adapters import As
from comparing import Tolerances, as_printed

from batterboard.quantity import Mass, inch

PROBLEMS = adapters.load_all()
EVERY = [(path, case) for path in sorted(run.CASES.glob("*.toml")) for case in run.cases_of(path)]


def test_every_room_of_adapters_can_be_used():
    assert PROBLEMS == []


@pytest.mark.parametrize("path, case", EVERY, ids=[f"{path.stem}:{case['id']}" for path, case in EVERY])
def test_the_published_case(path: Path, case: dict[str, Any]):
    outcome = run.judge(case)
    assert outcome.state in ("passed", "words only"), f"{path.name}: {outcome}"


def test_case_names_are_unique():
    names = [case["id"] for _, case in EVERY]
    assert sorted(names) == sorted(set(names))


@pytest.mark.parametrize(
    "printed, tolerance, right, wrong",
    [
        ("3605 ksi", "", 3605.4 * 6894757.293168361, 3605.6 * 6894757.293168361),
        ("600 psf", "0.5 %", 602.9 * 47.88025898033584, 603.1 * 47.88025898033584),
        ("1-5/16 in", "exact", 1.3125 * 0.0254, 1.313 * 0.0254),
        ("0.283 in", "0.001 in; 0.01 deg", 0.2839 * 0.0254, 0.2851 * 0.0254),
        ("-1.372 deg", "0.001 in; 0.01 deg", -1.380 * 0.017453292519943295, -1.384 * 0.017453292519943295),
        ("77.6 F", "0.1 F", (77.69 - 32) / 1.8, (77.8 - 32) / 1.8),
        ("0.22 to 0.25 lb/ft2/h", "inside the range; 0.5 % on formulas", 0.24 * 0.0013562, 0.26 * 0.0013562),
        ("3/4:1", "exact", 0.75, 0.76),
        ("30 in below grade", "exact", 30 * 0.0254, 31 * 0.0254),
        ("none", "exact", float("nan"), 0.4),
        ("yes", "exact", True, False),
        ("holds (1.13 <= 1.2)", "0.1 %", "holds", "fails"),
        ("6.0 mm", "", 0.006049, 0.006051),
        ("12.5 m", "1e-6 of the value", 12.50001, 12.56),
        ("25 min", "exact", 1500.0, 25 / 60 * 0.0174533),
        ("0.7044 m2K/W", "0.02 %", "0.7045 m2K/W", "0.7047 m2K/W"),
    ],
)
def test_a_value_is_compared_as_its_file_says(printed, tolerance, right, wrong):
    assert Tolerances.of(tolerance).disagrees("key", printed, right) == ""
    assert Tolerances.of(tolerance).disagrees("key", printed, wrong) != ""


def test_lists_are_compared_in_step_and_one_value_stands_for_all():
    exact = Tolerances.of("exact")
    assert exact.disagrees("key", ["1 in", "2 in"], [1 * inch, 2 * inch]) == ""
    assert exact.disagrees("key", ["1 in", "2 in"], [1 * inch, 1 * inch]) == "2: expected 2 in, got 1"
    assert exact.disagrees("key", ["1 in", "2 in"], [1 * inch]) == "expected 2 values, got 1"
    assert exact.disagrees("key", "1 in", [1 * inch, 1 * inch]) == ""
    assert exact.disagrees("key", "1 in", [1 * inch, 2 * inch]) != ""


def test_an_answer_can_say_what_it_measures():
    assert Tolerances.of("exact").disagrees("key", "300 lb", As(300 * 0.45359237, Mass)) == ""
    assert Tolerances.of("exact").disagrees("key", "300 lb", 300 * 0.45359237) != ""


def test_a_usual_mistake_must_not_come_out():
    case = {"id": "x", "inputs": {}, "expected": {"load": "2 kN", "load_wrong": "3 kN"}, "tolerance": "1 %"}
    assert run.compared(case, {"load": 2000.0}).state == "passed"
    assert run.compared(case | {"expected": {"load_wrong": "3 kN"}}, {"load": 3000.0}).state == "failed"


def test_what_an_adapter_leaves_out_is_said():
    case = {"id": "x", "inputs": {}, "expected": {"a": "2 kN", "b": "3 kN"}, "tolerance": "1 %"}
    assert str(run.compared(case, {"a": 2000.0})) == "  passed      x  (1 of 2 keys)"
    assert run.compared(case, {}).state == "no adapter"


def test_printed_numbers_equal_all_that_round_to_them():
    assert as_printed("3605 ksi") == 3605.49 * 6894757.293168361
    assert as_printed("3605 ksi") != 3605.51 * 6894757.293168361
    assert as_printed("1/2 in") == 0.0127
    assert as_printed("1/2 in") != 0.01271
