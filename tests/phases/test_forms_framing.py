"""Which sticks does a form take, and where are they joined?"""

from collections import Counter
from dataclasses import replace
from math import ceil
from pathlib import Path

import pytest
from pytest import approx

from batterboard.job import read_job
from batterboard.job.schema import Stick
from batterboard.phases.forms.framing import APART, CLEAT, DRIVEN, pointed
from batterboard.phases.forms.lumber import lumber
from batterboard.plan import Plan
from batterboard.quantity import ft, inch

HEAD = """
[job]
name = "Wall"
units = "us"
codes = "IBC 2021, ASCE 7-16, ACI 318-19"
[site]
soil = { class = "sandy gravel", from = "table" }
frost = "12 in"
wind = { speed = "100 mph", exposure = "C" }
[ground]
grade = { level = "bench", down = "6 in" }
[levels.bench]
z = "100 ft"
[lines.row]
from = ["0 ft", "0 ft"]
to = ["600 ft", "0 ft"]
[mixes.foot]
strength = "4000 psi"
stone = "3/4 in"
slump = "4 in"
"""
LONG = """
[piers.long]
along = "LONG"
across = "2 ft"
top = { level = "bench", up = "3 ft" }
height = "60 in"
place = [ { along = "row", ahead = "40 ft" }, { from = "row", left = "6 ft" }, { turn = "row" } ]
bars = { up = "4 #5", ties = ["#4 @ 10 in"] }
mix = "foot"
"""
LOW = """
[pads.apron]
along = "12 ft"
across = "5 ft"
top = { level = "bench", up = "2 in" }
thick = "12 in"
place = [ { along = "row", ahead = "90 ft" }, { from = "row", left = "6 ft" }, { turn = "row" } ]
bars = { along = "6 #5", across = "6 #5", at = "bottom" }
mix = "foot"
"""


@pytest.fixture
def plan(tmp_path):
    def of(text):
        path = Path(tmp_path / "job.toml")
        path.write_text(HEAD + text)
        return Plan(read_job(path))

    return of


def cut(plan, word):
    return [member for member in plan.lumber.members if word in member.mark]


def test_studs_stand_between_their_plates(plan):
    wall = plan(LONG.replace("LONG", "10 ft"))
    (box,) = wall.forms.boxes
    (stud,) = cut(wall, "stud")
    assert stud.count == box.wall.studs and stud.length == approx(float(box.height) - 3 * inch)
    plates = {plate.mark: (plate.length, plate.count) for plate in cut(wall, "plate")}
    assert plates == {f"{panel.mark} plate": (approx(float(panel.width)), 4) for panel in box.panels}


def test_wales_that_run_past_reach_over_those_that_do_not(plan):
    wall = plan(LONG.replace("LONG", "10 ft"))
    (box,) = wall.forms.boxes
    t, deep = float(box.panels[0].thick), box.wall.size.deep
    between, past = sorted(cut(wall, "wale"), key=lambda wale: -wale.length)
    assert between.length == approx(10 * ft + 2 * t + 2 * deep)
    assert past.length == approx(2 * ft + 2 * t + 4 * deep)
    assert between.count == past.count == 4 * len(box.wall.wales)
    assert wall.lumber.joined == ()


@pytest.mark.parametrize("long", ["17 ft", "23 ft", "32 ft", "70 ft"])
def test_a_wale_longer_than_any_stick_is_joined_over_studs_and_never_side_by_side(plan, long):
    wall = plan(LONG.replace("LONG", long))
    (box,) = wall.forms.boxes
    (panel,) = [panel for panel in box.panels if "left" in panel.sides]
    (wale,) = [joined for joined in wall.lumber.joined if "wale" in joined.mark]
    for joints in (wale.first, wale.second):
        ends = (0.0, *joints, wale.long)
        assert all(0 < b - a <= 16 * ft + 1e-9 for a, b in zip(ends, ends[1:]))
    assert min(abs(a - b) for a in wale.first for b in wale.second) >= APART - 1e-9
    overhang = (wale.long - float(panel.width)) / 2
    studs = []
    for part in panel.parts:
        bays = ceil(float(part.width) / float(box.wall.stud_spacing) - 1e-9)
        studs += [float(part.left) + float(part.width) * bay / bays for bay in range(bays + 1)]
    for joint in (*wale.first, *wale.second):
        assert min(abs(joint - overhang - stud) for stud in studs) < 1e-6
    cut_long = sum(part.length * part.count for part in cut(wall, "A wale"))
    assert cut_long == approx(wale.long * 4 * len(box.wall.wales))
    cleats = cut(wall, "cleat")
    joints = (len(wale.first) + len(wale.second)) * 2 * len(box.wall.wales)
    assert [(cleat.length, cleat.count) for cleat in cleats] == [(CLEAT, joints)]
    assert not any(total.too_long for total in wall.lumber.totals)


def test_a_wale_is_joined_by_the_sticks_that_the_job_names(plan):
    wall = plan(LONG.replace("LONG", "14 ft"))
    named = replace(wall.job, stock=replace(wall.job.stock, sticks=(Stick(of="2x4", long=8 * ft),)))
    answer = lumber(named, wall.forms)
    assert {joined.mark for joined in answer.joined} == {"long A wale", "long A plate"}
    assert max(piece.length for stick in answer.sticks for piece in stick.pieces) <= 8 * ft


def test_a_low_edge_takes_a_stake_into_the_ground_and_a_kicker_for_each(plan):
    low = plan(LOW)
    (box,) = low.forms.boxes
    lengths = {member.mark: (member.length, member.count) for member in low.lumber.members}
    count = round(float(box.edge.count))
    assert lengths == {
        "apron stake": (approx(float(box.height) + DRIVEN), count),
        "apron kicker": (approx(float(box.height) * 2**0.5), count),
    }
    assert pointed(box) == count + round(float(box.uplift.stakes))


def test_every_stick_of_every_form_is_cut_as_often_as_it_is_wanted(plan):
    both = plan(LONG.replace("LONG", "23 ft") + LOW)
    made: Counter[tuple[str, float]] = Counter()
    for stick in both.lumber.sticks:
        for piece in stick.pieces:
            made[piece.mark, round(piece.length, 6)] += piece.count * stick.times
    assert made == {(m.mark, round(m.length, 6)): m.count for m in both.lumber.members}
    marks = [member.mark for member in both.lumber.members]
    assert len(set(marks)) == len(marks)
