"""What is said beside the numbers."""

from typing import get_args, get_type_hints

import pytest

from batterboard.job import read_text
from batterboard.phases.dig import Caution
from batterboard.plan import Plan
from batterboard.quantity import ft
from batterboard.standards import osha
from batterboard.views import cautions

PAD = """
[job]
name = "Deep pad"
[ground]
grade = { level = "bench", up = "0 in" }
[levels.bench]
z = "100 ft"
[lines.string]
from = ["0 ft", "0 ft"]
to = ["40 ft", "0 ft"]
[mixes.ready]
strength = "4000 psi"
[pads.base]
along = "8 ft"
across = "8 ft"
thick = "DEPTH"
top = { level = "bench", up = "0 in" }
place = [ { along = "string", ahead = "20 ft" }, { from = "string", left = "10 ft" }, { turn = "string" } ]
mix = "ready"
"""


@pytest.mark.parametrize("depth, rules", [("2 ft", 1), ("4 ft 6 in", 4), ("6 ft", 5), ("21 ft", 6)])
def test_every_trench_rule_that_a_depth_brings_in_is_said(depth, rules):
    plan = Plan(read_text(PAD.replace("DEPTH", depth)))
    assert len({one.rule for one in plan.dig.cautions}) == rules
    assert sum("base" in line for line in cautions.cautions(plan, "dig")) == rules
    assert any("base" in line for line in cautions.foremost(plan))


def test_there_are_words_for_every_rule():
    assert set(cautions._TRENCH) == set(get_args(get_type_hints(Caution)["rule"]))


def test_who_pours_is_told_how_far_from_overhead_lines():
    said = " ".join(cautions.cautions(Plan(read_text(PAD.replace("DEPTH", "6 in"))), "pour"))
    for volts, clear in osha.LINE_CLEAR.items():
        assert f"{clear / ft:.0f} ft" in said and f"{volts / 1e3:.0f} kV" in said
