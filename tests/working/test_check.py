"""Does it hold: verdicts, governing cases, order."""

from dataclasses import dataclass

import numpy as np
import pytest

from batterboard.quantity import Pressure
from batterboard.working import STATICS, capacity, check, demand, worst_first


@dataclass(frozen=True)
class Thing:
    name: str
    q: object
    cases: tuple[str, ...] = ()


@dataclass(frozen=True)
class Soil:
    name: str
    bearing: object


@check("Soil under the pad", clause=STATICS, of=Pressure)
def bearing(pad, soil):
    return demand(pad.q), capacity(soil.bearing)


@check("Tilt", clause=STATICS, of=Pressure, service=True)
def tilt(pad, soil):
    return demand(pad.q), capacity(soil.bearing)


@pytest.mark.parametrize(
    ("q", "c", "verdict"),
    [
        (1.0, 2.0, "holds"),
        (2.0, 2.0, "holds"),
        (2.1, 2.0, "fails"),
        (-1.0, 2.0, "fails"),
        (0.0, 0.0, "fails"),
        (np.inf, np.inf, "fails"),
        (np.inf, 2.0, "fails"),
        (np.nan, 2.0, "outside"),
        (1.0, np.nan, "outside"),
        (1.0, -2.0, "fails"),
    ],
)
def test_a_check_holds_only_on_finite_numbers_in_order(q, c, verdict):
    assert bearing(Thing("west", q), Soil("sand", c)).verdict == verdict


def test_the_worst_case_governs_and_is_named():
    c = bearing(Thing("west", np.array([[1.0], [3.0], [2.0]]), ("closed", "open 90", "open 45")), Soil("sand", 2.0))
    assert (c.case, c.verdict, c.ratio) == ("open 90", "fails", 1.5)
    assert c.key == ("bearing", "west", "sand")


def test_a_case_outside_the_limits_governs_over_a_failing_one():
    c = bearing(Thing("west", np.array([[9.0], [np.nan]]), ("closed", "open")), Soil("sand", 2.0))
    assert (c.case, c.verdict) == ("open", "outside")


def test_a_batch_says_for_each_variant_what_a_single_run_says():
    q = np.array([[1.0, 3.0, np.nan], [2.0, 1.0, 1.0]])
    batch = bearing(Thing("west", q, ("a", "b")), Soil("sand", np.array([2.0, 2.0, 2.0])))
    singles = [bearing(Thing("west", q[:, [v]], ("a", "b")), Soil("sand", 2.0)) for v in range(3)]
    assert batch.holds.tolist() == [s.holds for s in singles]
    assert np.array_equal(batch.ratio, [s.ratio for s in singles], equal_nan=True)


def test_order_is_outside_then_failing_then_service_where_a_leaf_hangs():
    soil = Soil("sand", 2.0)
    out, bad, good, calm = (
        bearing(Thing("o", np.nan), soil),
        bearing(Thing("b", 3.0), soil),
        bearing(Thing("g", 1.9), soil),
        tilt(Thing("t", 0.5), soil),
    )
    assert worst_first((good, calm, bad, out), hung=True) == (out, bad, calm, good)
    assert worst_first((good, calm, bad, out)) == (out, bad, good, calm)
