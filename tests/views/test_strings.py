"""How the lines are drawn that all is measured from, before the first thing is placed."""

import pytest

from batterboard.job import read_text
from batterboard.plan import Plan
from batterboard.views.tables import strings

JOB = """
[job]
name = "Lines, invented"
[ground]
grade = { level = "bench", down = "6 in" }
[levels.bench]
z = "100 ft"
[marks.nail]
at = ["0 ft", "0 ft"]
[marks.peg]
at = ["24 ft", "0 ft"]
[marks.tree]
at = ["12 ft", "-16 ft"]
[lines.front]
from = "nail"
to = ["40 ft", "0 ft"]
[lines.side]
square_to = "front"
at = "10 ft"
[lines.back]
beside = "front"
right = "20 ft"
[lines.bed]
from = "nail"
to = "peg"
bulges = "left"
rise = "4 ft"
[lines.round]
from = "nail"
to = "peg"
bulges = "left"
centre = "tree"
[lines.rear]
from = "one.centre"
to = "peg"
[mixes.m]
strength = "4000 psi"
[piers.one]
round = "16 in"
top = { level = "bench", up = "8 in" }
height = "40 in"
place = [ { along = "front", ahead = "10 ft" }, { from = "front", left = "2 ft" }, { turn = "front" } ]
mix = "m"
"""


@pytest.fixture(scope="module")
def told():
    return {row[0]: row[1:3] for row in strings.lines(Plan(read_text(JOB))).rows}


def test_a_line_between_nails_is_strung_first(told):
    assert told["front"] == ('String from nail to x 40\'-0", y 0".', "first")


def test_a_line_square_to_another_or_beside_it_comes_after_it(told):
    assert told["side"][0].startswith("Mark 10'-0\" along front from its start; there square to its left")
    assert told["back"][0].startswith("Measure 20'-0\" square to the right of front at both its ends")
    assert told["side"][1] == told["back"][1] == "after front"


def test_an_arc_is_told_by_its_chord_and_rise_or_by_its_nail(told):
    assert "its chord; the curve stands 4'-0\" to its left" in told["bed"][0]
    assert told["round"][0] == "No string: tape from the nail tree, 20'-0\", from nail round until in line with peg."


def test_a_line_through_what_is_set_out_waits_for_it(told):
    assert told["rear"] == ("String from one.centre to peg.", "after one.centre")
