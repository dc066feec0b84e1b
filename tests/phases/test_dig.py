"""How much to dig, how deep, how safe?"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from batterboard.job import read_job, read_text
from batterboard.phases import dig
from batterboard.quantity import ft, inch
from batterboard.study.sweep import varied
from batterboard.work.build import build

GATE = Path(__file__).with_name("gate.toml")

PIER = """
[job]
name = "invented pier"
[site]
frost = "30 in"
soil = { slope = "C" }
[ground]
grade = { level = "bench" }
[levels.bench]
z = "100 ft"
[lines.lane]
from = ["0 ft", "0 ft"]
to = ["60 ft", "0 ft"]
[mixes.stiff]
strength = "4000 psi"
[piers.foot]
SHAPE
top = { level = "bench", up = "6 in" }
bottom = { below = "ground", down = "DOWN" }
mix = "stiff"
place = [ { along = "lane", ahead = "20 ft" }, { from = "lane", left = "12 ft" } ]
"""


def dug(shape='square = "2 ft"', down="4 ft", **site):
    job = read_text(PIER.replace("SHAPE", shape).replace("DOWN", down), "pier.toml")
    return dig.cuts(build(replace(job, site=replace(job.site, **site))))


@pytest.fixture(scope="module")
def gate():
    return dig.cuts(build(read_job(GATE)))


def test_an_upright_hole_holds_what_its_size_says():
    (hole,) = dug().holes
    assert hole.bank == pytest.approx(2 * 2 * 4 * ft**3)
    assert hole.loose == pytest.approx(1.25 * hole.bank)
    assert (hole.depth, hole.run, hole.bored) == (pytest.approx(4 * ft), 0, False)


def test_from_five_feet_the_sides_slope_by_the_soil():
    (hole,) = dug(down="5 ft").holes
    assert hole.run == 1.5
    assert hole.top_along == pytest.approx((2 + 2 * 1.5 * 5) * ft)
    assert hole.bank == pytest.approx(5 / 6 * (2**2 + 4 * 9.5**2 + 17**2) * ft**3)
    assert hole.boards_back == pytest.approx((7.5 + 2) * ft)
    assert [c.rule for c in dug(down="5 ft").cautions] == ["spoil", "ladder", "ladder top", "air", "slope or shore"]
    assert [c.rule for c in dug(down="3 ft").cautions] == ["spoil"]
    assert dug(down="21 ft").cautions[-1].rule == "engineer"


def test_boards_stand_clear_of_the_strip_beside_a_form(gate):
    hole = next(h for h in gate.holes if h.name == "west")
    assert hole.boards_back == pytest.approx(hole.beside + 2 * ft) and hole.beside == pytest.approx(1 * ft)


def test_what_does_not_reach_the_ground_still_fails_for_frost():
    job = read_text(
        PIER.replace("SHAPE", 'square = "2 ft"').replace(
            'below = "ground", down = "DOWN"', 'above = "ground", up = "2 in"'
        ),
        "pier.toml",
    )
    answer = dig.cuts(build(job))
    (one,) = answer.checks
    assert not answer.holes and one.verdict == "fails"
    assert one.worst_capacity == pytest.approx(-2 * inch)


def test_a_bored_hole_stands_upright_and_wants_a_cover():
    answer = dug('round = "30 in"', "7 ft")
    (hole,) = answer.holes
    assert hole.bored and hole.run == 0
    assert hole.bank == pytest.approx(np.pi / 4 * 2.5**2 * 7 * ft**3)
    assert [c.rule for c in answer.cautions] == ["spoil", "cover"]


def test_what_two_holes_share_is_dug_once(gate):
    by_name = {h.name: h for h in gate.holes}
    beam = by_name["tie"]
    assert beam.bank < beam.along * beam.across * (beam.ground - beam.bottom)  # its ends lie in the pads' holes
    assert by_name["west pad"].bank == pytest.approx(
        (4.5 * ft) ** 2 * (by_name["west pad"].ground - by_name["west pad"].bottom)
    )
    assert gate.bank == pytest.approx(sum(h.bank for h in gate.holes))
    # Round the shifted west pad's shaft the strip to work in reaches past the pad, round the east one's it does not.
    assert 0 < by_name["west"].bank < 0.02 and "east" not in by_name


def test_an_overdug_pad_is_a_larger_hole(gate):
    found = read_text(GATE.read_text("utf-8") + "\n[found.piers.west.pad]\nover = '2 in'\n", "gate.toml")
    west, before = (next(h for h in a.holes if h.name == "west pad") for a in (dig.cuts(build(found)), gate))
    assert west.along == pytest.approx(before.along + 4 * inch)
    assert west.overdug > 0 == before.overdug


def test_the_foot_must_lie_below_frost_and_a_foot_deep():
    (holds,) = dug().checks
    assert holds.key == ("below_frost", "foot") and holds.verdict == "holds"
    assert holds.worst_demand == pytest.approx(30 * inch)
    (fails,) = dug(down="2 ft").checks
    assert fails.verdict == "fails"
    (least,) = dug(down="11 in", frost=0.0).checks
    assert (least.worst_demand, least.verdict) == (pytest.approx(12 * inch), "fails")


def test_on_a_slope_the_lowest_ground_counts_for_frost_and_the_highest_for_safety():
    text = PIER.replace("SHAPE", 'square = "4 ft"').replace("DOWN", "4 ft")
    text = text.replace(
        'grade = { level = "bench" }', 'grade = { level = "bench", falls = { along = "lane", one_in = 10 } }'
    )
    (hole,) = dig.cuts(build(read_text(text, "slope.toml"))).holes
    assert hole.depth == pytest.approx(4.2 * ft)
    assert hole.shallowest == pytest.approx(3.8 * ft)


def test_what_stands_above_the_ground_needs_no_hole():
    text = PIER.replace("SHAPE", 'square = "2 ft"').replace(
        'bottom = { below = "ground", down = "DOWN" }', 'height = "3 in"'
    )
    assert dig.cuts(build(read_text(text, "block.toml"))).holes == ()


def test_a_batch_gives_what_single_jobs_give():
    job = read_job(GATE)
    changes = {
        "piers.west.height": np.array([0.9, 1.3, 1.7]),
        "piers.west.pad.along": np.array([1.2, 1.4, 1.6]),
        "site.frost": np.array([0.3, 0.9, 2.0]),
    }
    many = dig.cuts(build(varied(job, changes)))
    for v in range(3):
        one = dig.cuts(build(varied(job, {path: float(x[v]) for path, x in changes.items()})))
        assert many.bank[v] == pytest.approx(one.bank, rel=1e-6)
        for a, b in zip(many.checks, one.checks, strict=True):
            assert (a.key, np.broadcast_to(a.ratio, (3,))[v]) == (b.key, pytest.approx(b.ratio))
