"""The changer of numbers changes every number, and puts everything back."""

import mutation
import pytest
import run

from batterboard.quantity import Length, Number, ft
from batterboard.working import STATICS, formula, maximum


@formula(source=STATICS, limits="h <= 14 ft; h > 0 ft")
def share(h: Length) -> Number:
    """A formula to be changed."""
    x = maximum(h / ft, 3)
    y = 0.5 * x**2 - 0
    return y


def test_every_number_is_changed_up_and_down_but_nothing():
    keys = [(mutant.place, mutant.literal, mutant.change) for mutant in mutation.mutants("share", share)]
    expected = [("x", "3"), ("y", "0.5"), ("y", "2"), ("limit h <= 14 ft", "14")]
    assert keys == [(*key, change) for key in expected for change in ("+2 %", "-2 %")]


def test_a_changed_formula_takes_the_place_of_the_first_and_gives_it_back():
    up = {
        (mutant.place, mutant.literal): mutant.made for mutant in mutation.mutants("share", share)
    }  # the last is -2 %
    with mutation.instead(share, up["x", "3"]):
        assert share(1 * ft) == pytest.approx(0.5 * 2.94**2)
    with mutation.instead(share, up["y", "0.5"]):
        assert share(4 * ft) == pytest.approx(0.49 * 16)
    with mutation.instead(share, up["y", "2"]):
        assert share(4 * ft) == pytest.approx(0.5 * 4**1.96)
    with mutation.instead(share, up["limit h <= 14 ft", "14"]):
        assert share(13.9 * ft) != share(13.9 * ft)
    assert share(13.9 * ft) == pytest.approx(0.5 * 13.9**2)


def test_a_case_notices_what_it_can_see():
    case = {
        "id": "seen",
        "topic": f"formula {__name__}.share",
        "inputs": {"h": ["4 ft", "13.9 ft", "14.1 ft"]},
        "expected": {"value": ["8.00", "96.6", "outside"]},
        "tolerance": "0.1 %",
    }
    before = run.judge(case)
    assert before.state == "passed"
    unseen = []
    for mutant in mutation.mutants("share", share):
        with mutation.instead(share, mutant.made):
            if run.judge(case) == before:
                unseen.append((mutant.place, mutant.literal))
    assert unseen == [("x", "3")] * 2
