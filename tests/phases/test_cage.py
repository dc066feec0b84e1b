"""What is cut and bent, what comes out of which stock bar, and what runs into what."""

from dataclasses import replace
from math import pi
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from pytest import approx

from batterboard.job import read_job, read_text
from batterboard.job.schema import Stock
from batterboard.methods import cutting
from batterboard.phases import cage
from batterboard.phases.cage.bending import totals
from batterboard.phases.cage.stock import from_fewest
from batterboard.quantity import inch, lb, read
from batterboard.quantity.dimensions import Length
from batterboard.study.sweep import varied
from batterboard.work.build import build
from batterboard.work.names import pooled

GATE = Path(__file__).with_name("gate.toml")
TEXT = GATE.read_text("utf-8")


def scheduled(job):
    return cage.schedule(build(job), job.mixes, job.stock)


def changed(*replacements):
    """The gate's cage with some words of its file put otherwise."""
    text = TEXT
    for old, new in replacements:
        assert old in text, old
        text = text.replace(old, new)
    return scheduled(read_text(text, "gate.toml"))


@pytest.fixture(scope="module")
def gate():
    return scheduled(read_job(GATE))


def check_of(plan, *key):
    return next(c for c in plan.checks if c.key == key)


# ---- schedule ----


def test_an_upright_is_cut_to_its_two_legs_less_the_bend(gate):
    row = next(row for row in gate.bars if row.element == "west" and row.role == "up")
    leg, up = row.legs
    bend = 2 * (1.875 + 0.625) - pi / 2 * (1.875 + 0.3125)
    assert leg == approx(10 * inch)
    assert row.cut == approx(leg + up - bend * inch)
    assert row.weight == approx(8 * row.cut / 0.3048 * 1.043 * lb)


def test_a_tie_has_three_bends_and_two_hooks_round_one_upright(gate):
    row = next(row for row in gate.bars if row.element == "tie" and row.role == "tie")
    r, d = 0.75, 0.375
    bend = 2 * (r + d) - pi / 2 * (r + d / 2)
    hook = 3 * pi / 4 * (r + d / 2) + 3 - (r + d)
    assert row.pin == approx(2 * r * inch)
    assert row.cut == approx(sum(row.legs) - 3 * bend * inch + 2 * hook * inch)


def test_a_bar_with_both_ends_hooked_has_two_bends(gate):
    row = next(row for row in gate.bars if row.element == "tie" and row.role == "top")
    d = 0.625
    assert row.cut == approx(sum(row.legs) - 2 * (2 * 4 * d - pi / 2 * 3.5 * d) * inch)


ROUND = """
[job]
name = "x"
[levels.b]
z = "1 ft"
[ground]
grade = { level = "b", down = "1 in" }
[lines.l]
from = ["0 ft", "0 ft"]
to = ["9 ft", "0 ft"]
[mixes.m]
strength = "4000 psi"
[piers.p]
round = "24 in"
top = { level = "b", up = "0 in" }
height = "36 in"
mix = "m"
place = [ { along = "l", ahead = "3 ft" }, { from = "l", left = "0 in" } ]
bars = { up = "6 #5", ties = ["#3 @ 10 in"], cover = "3 in" }
"""


def test_a_round_tie_laps_six_inches_and_hooks_in():
    (row,) = (row for row in scheduled(read_text(ROUND, "p.toml")).bars if row.role == "tie")
    hook = 3 * pi / 4 * (0.75 + 0.1875) + 3
    assert row.shape == "hoop"
    assert row.legs[0] == approx(18 * inch)
    assert row.cut == approx((pi * (18 - 0.375) + 6 + 2 * hook) * inch)


def test_every_bar_of_the_work_is_in_the_schedule_and_every_piece_in_the_cut_plan(gate):
    bars = [bar for e in _elements(build(read_job(GATE))) for bar in e.bars]
    assert [(row.mark, row.count) for row in gate.bars] == [(bar.mark, bar.count) for bar in bars]
    bought = from_fewest(gate)
    cut = [mark for stick in bought.sticks for _ in range(stick.times) for mark, _ in stick.pieces]
    pools = pooled((row.mark, (row.size, round(float(row.cut), 9)), row.count) for row in gate.bars)
    assert {pool.name: cut.count(pool.name) for pool in pools} == {pool.name: pool.many for pool in pools}
    assert len(cut) == sum(row.count for row in gate.bars)
    for stick in bought.sticks:
        assert sum(length for _, length in stick.pieces) + stick.left == approx(read("20 ft", Length))
    for total in bought.totals:
        assert total.least <= total.stock == sum(s.times for s in bought.sticks if s.size == total.of.size)
    assert gate.weight == approx(sum(total.weight for total in gate.totals))


def _elements(work):
    return (*work.piers.values(), *work.slabs.values(), *work.beams.values())


def test_a_piece_longer_than_a_stock_bar_is_said(gate):
    job = replace(read_job(GATE), stock=Stock(bar=read("10 ft", Length)))
    plan = scheduled(job)
    total = next(total for total in from_fewest(plan).totals if total.of.longest_in == "tie")
    assert check_of(plan, "stock_bar", total.of.size).verdict == "fails"
    long = next(t for t in from_fewest(gate).totals if t.of.size == total.of.size)
    assert total.stock >= total.least > long.least


# ---- cover, gaps, ties, feet ----


def test_cover_planned_by_the_table_is_enough(gate):
    for body in ("west pad", "west"):
        assert check_of(gate, "cover", "west", body).verdict == "holds"


def test_cover_less_than_planned_is_accepted_within_the_placing_tolerance_and_not_beyond():
    def found(cover):
        return changed(("[pour]", f'[found.piers.west]\nbars = {{ cover = {{ north = "{cover}" }} }}\n\n[pour]'))

    within, beyond = found("1 1/4 in"), found("7/8 in")
    key = ("cover", "west", "west")
    assert check_of(within, *key).verdict == "holds"
    short = check_of(beyond, *key)
    assert short.verdict == "fails"
    assert short.demand == approx(1 * inch)
    assert short.capacity == approx(0.875 * inch)
    assert "north" in short.note
    assert [cover.face for cover in beyond.covers if cover.name == "west"] == ["all", "north"]


def test_the_gap_between_uprights_is_what_cover_and_ties_leave(gate):
    gap = next(gap for gap in gate.gaps if gap.name == "west up")
    tie = max(row.pin for row in gate.bars if row.element == "west" and row.role == "tie") / 4
    assert gap.clear == approx((22 * inch - 2 * 1.5 * inch - 2 * tie - 0.625 * inch) / 2 - 0.625 * inch)


def test_three_ties_two_inches_apart_do_not_all_stand_within_five_inches_of_the_top():
    for spacing, verdict in (("2 in", "fails"), ("1 1/2 in", "holds")):
        plan = changed(
            ('ties = ["2 #4 @ 2 in from top", "#4 @ 10 in"]', f'ties = ["3 #3 @ {spacing} from top", "#3 @ 10 in"]')
        )
        assert check_of(plan, "ties_at_bolts", "west").verdict == verdict


def test_two_thicker_ties_are_enough_at_the_bolts(gate):
    run = next(run for run in gate.ties if run.name == "west")
    assert (run.near_top, run.near_top_needed, run.near_top_size) == (2, 2, "#4")


def test_a_missing_tie_doubles_the_spacing_there(gate):
    plan = changed(("[pour]", '[found.piers.west]\nbars = { missing = ["tie 4"] }\n\n[pour]'))
    assert check_of(gate, "tie_gap", "west").verdict == "holds"
    wide = check_of(plan, "tie_gap", "west")
    assert wide.verdict == "fails"
    assert wide.demand == approx(20 * inch)


def test_a_pad_too_narrow_for_the_feet_is_said(gate):
    assert check_of(gate, "foot_in_pad", "east").verdict == "holds"
    plan = changed(('thick = "16 in", shift = { along = "5 in" } }', 'thick = "16 in", shift = { along = "14 in" } }'))
    foot = next(foot for foot in plan.feet if foot.name == "west")
    assert check_of(plan, "foot_in_pad", "west").verdict == "fails"
    assert foot.room < foot.leg == approx(foot.needed)


# ---- what runs into what ----


def test_bolts_stand_clear_of_the_uprights_by_hand(gate):
    tight = next(c for c in gate.clears if c.name == "west bars and hinge bolts" and c.beside)
    at = 11 * inch - 1.5 * inch - 0.5 * inch - 0.3125 * inch  # outermost upright's centre, off the pier's
    assert tight.apart == approx(np.hypot(at - 4.5 * inch, at - 4.5 * inch))


def test_a_pipe_beside_a_bolt_leaves_no_room_for_the_stone(gate):
    plan = changed(
        ('{ up_in = "west", along = "4 in", across = "0 in"', '{ up_in = "west", along = "4 in", across = "3 in"')
    )
    key = ("room_beside", "west", "power and hinge bolts")
    assert check_of(gate, *key).verdict == "holds"
    near = check_of(plan, *key)
    assert near.verdict == "fails"
    assert near.demand == approx((1.315 / 2 + 0.375 + 0.75) * inch)
    assert near.capacity == approx(np.hypot(0.5, 1.5) * inch)


def test_what_crosses_is_moved_aside_by_as_much_as_it_overlaps():
    plan = changed(('bottom = "2 #6"', 'bottom = "3 #6"'))
    check = check_of(plan, "room_across", "west", "west and tie bars")
    assert check.demand == approx((0.625 + 0.75) / 2 * inch)  # the middle bar meets the middle upright head on
    assert check.capacity == approx(22 / 12 * inch)
    assert check.verdict == "holds"


def test_moving_and_turning_the_job_changes_nothing_but_where():
    moved = changed(
        ('at = ["0 ft", "0 ft"]', 'at = ["31 ft", "-7 ft"]'), ('to = ["100 ft", "0 ft"]', 'to = ["60 ft", "80 ft"]')
    )
    here = scheduled(read_job(GATE))
    assert [(c.key, c.verdict) for c in moved.checks] == [(c.key, c.verdict) for c in here.checks]
    for a, b in zip(moved.checks, here.checks, strict=True):
        assert (a.demand, a.capacity) == (approx(b.demand, abs=1e-8), approx(b.capacity, abs=1e-8))


def test_every_check_shows_its_working_and_its_source(gate):
    for check in gate.checks:
        assert check.steps or check.name == "stock_bar", check.title
        assert str(check.clause)


def test_variants_are_asked_as_if_each_were_alone():
    job = read_job(GATE)
    sizes = np.array([20, 22, 24, 27]) * inch
    stones = np.array([0.5, 0.75, 1.0, 1.5]) * inch
    many = scheduled(varied(job, {"piers.east.across": sizes, "mixes.stiff.stone": stones}))
    for v in range(4):
        one = scheduled(varied(job, {"piers.east.across": float(sizes[v]), "mixes.stiff.stone": float(stones[v])}))
        assert [c.key for c in one.checks] == [c.key for c in many.checks]
        for a, b in zip(one.checks, many.checks, strict=True):
            if a.name != "stock_bar":
                assert np.ravel(np.broadcast_to(b.demand, 4))[v] == approx(a.demand), a.key
                assert np.ravel(np.broadcast_to(b.capacity, 4))[v] == approx(a.capacity), a.key
        cuts = [np.broadcast_to(row.cut, 4)[v] for row in many.bars]
        assert cuts == approx([row.cut for row in one.bars])


@pytest.mark.parametrize("along", ["6 in", "5 in"])
def test_a_bar_of_which_the_covers_leave_nothing_is_cut_from_no_stick(along):
    plan = changed(('pad = { along = "4 ft 6 in", across', f'pad = {{ along = "{along}", across'))
    lengths = [length for stick in from_fewest(plan).sticks for _, length in stick.pieces]
    assert lengths and min(lengths) > 0


def test_bars_that_first_fit_cuts_badly_come_out_of_fewer_stock_bars():
    rows = tuple(
        SimpleNamespace(mark=mark, element="e", size="#5", count=count, cut=cut, weight=1.0)
        for mark, cut, count in (("A", 0.8, 3), ("B", 2.3, 3), ("C", 1.5, 5))
    )
    quick = cutting.first_fit([cutting.Piece(row.mark, row.cut, row.count) for row in rows], 6.0)
    bought = from_fewest(SimpleNamespace(bars=rows, totals=tuple(totals(rows, 6.0))))
    (best,) = bought.totals
    assert (sum(cut.times for cut in quick), best.stock, best.least) == (4, 3, 3)
    assert sum(s.times * len(s.pieces) for s in bought.sticks) == best.of.count
