"""Do check measurements judge a job rightly, and does the leaf latch?"""

from dataclasses import replace
from math import radians
from pathlib import Path

import numpy as np
import pytest

from batterboard.job import JobError, read_job, read_text
from batterboard.job.schema import Instruments
from batterboard.methods import errors
from batterboard.phases import dig, setout
from batterboard.phases.setout import Layout, adjusting, closing, latching, tape
from batterboard.phases.setout.strings import boards
from batterboard.quantity import ft, inch
from batterboard.work.build import build

GATE = Path(__file__).with_name("gate.toml")


@pytest.fixture(scope="module")
def gate():
    return read_job(GATE)


@pytest.fixture(scope="module")
def work(gate):
    return build(gate)


def with_readings(*rows, more=""):
    return read_text(GATE.read_text("utf-8") + f"\n[measured]\nreadings = [ {', '.join(rows)} ]\n{more}", "gate.toml")


def chained(job):
    return setout.chain(build(job), job.instruments, job.measured)


def taped(a, b, far, more=""):
    return f"{{ across = ['{a}', '{b}'], tape = '{far / ft:.6f} ft'{more} }}"


def distance(job, a, b):
    site = Layout(build(job), job.instruments).meant
    (ax, ay), (bx, by) = site.point(a), site.point(b)
    return float(np.hypot(bx - ax, by - ay))


# ---- readings that agree ----


def test_readings_as_they_should_be_move_nothing(gate):
    rows = [taped(*ends, distance(gate, *ends)) for ends in (("nail", "west"), ("west.bolt.1", "east.bolt.3"))]
    rows += ["{ level = 'west.top', from = 'bench', up = '8 in' }", "{ point = 'east', off = 'gate', left = '0 in' }"]
    rows += ["{ clear = 'leaf', at = 'high', tape = '13 ft 3 1/2 in' }"]
    rows += ["{ point = 'west', along = 'lane', ahead = '24 ft 3 in', with = 'second tape' }"]
    answer = chained(with_readings(*rows))
    made = answer.adjustment
    assert made.closes and made.redundancy == 6 and made.factor == pytest.approx(0, abs=1e-3)
    assert not any(move.worth or move.worth_up for move in made.moves) and made.suspects == ()
    assert [t.kind for t in made.taken] == ["across", "across", "level", "off", "clear", "along"]
    assert all(abs(t.off) < 1e-5 for t in made.taken)
    assert all(c.holds for c in answer.checks if c.name in ("readings_close", "reading_agrees"))


def test_a_stake_that_good_readings_see_off_its_place_is_told_which_way_and_how_far(gate):
    """East stands 3/4 in too near along the gate: a coarse job, measured finely."""
    coarse = "[instruments]\ntape = '1/2 in'\n"
    far = distance(gate, "west", "east")
    job = with_readings(*(taped("west", "east", far - 0.75 * inch) for _ in range(3)), more=coarse)
    fine = replace(job, instruments=replace(job.instruments, tape=0.5 * inch, string=0.0, line_end=0.0, square=0.0))
    made = chained(fine).adjustment
    east = next(m for m in made.moves if m.name == "east")
    assert made.closes and east.line == "gate"
    # Three readings against one distance of the same sureness: three quarters of what they say, shared by none else.
    assert east.along == pytest.approx(0.75 * 0.75 * inch, rel=0.02) and abs(east.off) < 1e-4
    assert east.sigma < next(s for s in chained(fine).stakes if s.name == "east").major


def test_a_low_top_is_to_be_raised():
    row = "{ level = 'west.top', from = 'bench', up = '7 3/4 in' }"
    job = with_readings(row, row)
    west = next(m for m in chained(job).adjustment.moves if m.name == "west")
    assert west.up == pytest.approx(2 / 3 * 0.25 * inch, rel=1e-3)


def test_the_tape_that_set_out_cannot_find_itself_wrong_and_another_can(gate):
    far = distance(gate, "nail", "west")
    only = dict.fromkeys(("string", "line_end", "square", "template", "turn"), 0.0)
    seen = {}
    for which in ("tape", "second tape"):
        job = with_readings(taped("nail", "west", far + 0.4 * inch, f", with = '{which}'"))
        tools = replace(job.instruments, **only, tape=1e-5, tape_scale=0.001)
        seen[which] = setout.chain(build(job), tools, job.measured).adjustment
    assert not seen["tape"].closes and seen["second tape"].closes
    assert seen["tape"].taken[0].sigma < 0.01 * seen["second tape"].taken[0].sigma


def test_bolts_are_named_by_their_pier_too(gate):
    assert distance(gate, "west.bolt.2", "latch.bolt.4") == pytest.approx(distance(gate, "hinge.bolt.2", "east.bolt.4"))


def test_intervals_of_adjusted_stakes_hold_as_often_as_they_say(work, gate):
    plan0 = Layout(work, gate.instruments)
    rows = [("nail", "west"), ("nail", "east"), ("west", "east")]
    job = with_readings(*(taped(*ends, distance(gate, *ends)) for ends in rows))
    checks = adjusting.checks_of(work, job.instruments, job.measured)
    plan = Layout(work, gate.instruments, adjusting.errors_of(checks, job.instruments))

    def everything(e):
        site = plan.under(e)
        yield from (check.place(site) + site.e[check.error] for check in checks)
        yield from site.point("east")

    vector = plan.asked_by(lambda site: everything(site.e))
    drawn = errors.sample(everything, vector, 400, seed=4)
    refused = inside = 0
    for *read, x, _ in drawn.T:
        one = tuple(replace(check, read=r) for check, r in zip(checks, read))
        made = adjusting.adjusted(plan, one)
        refused += not made.closes
        adjusted = errors.adjust(lambda e: list(everything(e))[:3], read, vector, rounds=2)
        at = adjusted.spread(lambda e: plan.under(e).point("east"))
        inside += abs(at.nominal[0] - x) <= 1.96 * at.sigma[0]
    assert refused / 400 == pytest.approx(0.01, abs=3 * np.sqrt(0.012 * 0.988 / 400))
    assert inside / 400 == pytest.approx(0.95, abs=3 * np.sqrt(0.95 * 0.05 / 400))
    assert plan0.meant.point("east") == plan.meant.point("east")


# ---- readings that do not ----


def test_a_blunder_is_refused_and_named_and_nothing_is_moved(gate):
    ends = (
        ("nail", "west"),
        ("nail", "east"),
        ("west", "east"),
        ("west.bolt.1", "east.bolt.3"),
        ("west.bolt.2", "east.bolt.4"),
    )
    rows = [taped(*pair, distance(gate, *pair) + (2 * inch if pair == ("nail", "east") else 0)) for pair in ends]
    answer = chained(with_readings(*rows))
    made = answer.adjustment
    assert not made.closes and made.moves == ()
    assert made.suspects[0].name == "nail to east" and made.suspects[0].reading
    assert made.suspects[0].by == pytest.approx(2 * inch, rel=0.1)
    failing = {c.key for c in answer.checks if not c.holds}
    assert ("readings_close", "check measurements") in failing and ("reading_agrees", "nail to east") in failing


def test_a_step_of_setting_out_is_named_where_all_readings_agree_against_it(gate):
    """East stands 2 in too far along the gate: every tape to it says so."""
    site = Layout(build(gate), gate.instruments)
    moved = site.under(dict.fromkeys(site.sigmas, 0.0) | {"east along": 2 * inch})
    rows = []
    for a, b in (("nail", "east"), ("west", "east"), ("west.bolt.1", "east.bolt.3")):
        (ax, ay), (bx, by) = moved.point(a), moved.point(b)
        rows.append(taped(a, b, float(np.hypot(bx - ax, by - ay))))
    worst = chained(with_readings(*rows)).adjustment.suspects[0]
    assert worst.name == "east along" and not worst.reading
    assert worst.by == pytest.approx(2 * inch, rel=0.05)


def test_one_bolt_measured_twice_differently_names_itself(gate):
    far = distance(gate, "nail", "west.bolt.1")
    answer = chained(with_readings(taped("nail", "west.bolt.1", far), taped("west.bolt.1", "nail", far + inch)))
    twice = next(c for c in answer.cautions if c.kind == "taken twice")
    assert twice.about == ("nail to west.bolt.1", "west.bolt.1 to nail") and twice.value == pytest.approx(
        inch, rel=1e-4
    )
    assert not answer.adjustment.closes
    assert answer.adjustment.suspects[0].name in twice.about


def test_a_circle_of_levels_that_cannot_close_names_its_readings():
    rows = [
        "{ level = 'west.top', from = 'bench', up = '8 in' }",
        "{ level = 'east.top', from = 'west', up = '0 in' }",
        "{ level = 'east.top', from = 'bench', up = '10 in' }",
    ]
    circle = next(c for c in chained(with_readings(*rows)).cautions if c.kind == "circle")
    assert circle.about == ("west.top from bench", "east.top from west", "east.top from bench")
    assert circle.value == pytest.approx(2 * inch)
    good = with_readings(*rows[:2], rows[2].replace("10 in", "8 in"))
    assert not [c for c in chained(good).cautions if c.kind == "circle"]


def test_two_bench_marks_that_a_reading_does_not_tie_are_said():
    text = GATE.read_text("utf-8").replace("[marks.nail]", "[levels.well]\nz = '103 ft'\n[marks.nail]")
    row = "[measured]\nreadings = [ { level = 'well', from = 'bench', up = '3 ft 1 in' } ]\n"
    answer = chained(read_text(f"{text}\n{row}", "gate.toml"))
    assert [c.about for c in answer.cautions if c.kind == "circle"] == [("well from bench",)]
    assert not answer.adjustment.closes


def test_three_marks_on_one_line_cannot_tell_the_side(gate):
    text = GATE.read_text("utf-8").replace(
        "[lines.lane]", "[marks.peg]\nat = ['2 ft', '0 ft']\n[marks.pin]\nat = ['60 ft', '0 ft']\n[lines.lane]", 1
    )
    job = read_text(text, "gate.toml")
    rows = ", ".join(taped(mark, "west", distance(job, mark, "west")) for mark in ("nail", "peg", "pin"))
    job = read_text(f"{text}\n[measured]\nreadings = [ {rows} ]\n", "gate.toml")
    cautions = {c.kind: c for c in chained(job).cautions}
    assert cautions["one line"].about == ("west", "nail", "peg", "pin")
    # From 2 and 60 ft along the lane to 24 ft 3 in, 6 ft off it: 15 and 9 1/2 degrees, the best crossing of the three.
    assert "narrow rays" in cautions and cautions["narrow rays"].value < radians(30)


def test_a_line_used_beyond_its_end_is_said(gate):
    short = replace(gate, lines={**gate.lines, "lane": replace(gate.lines["lane"], to=(20 * ft, 0.0))})
    beyond = {c.about: c.value for c in chained(short).cautions if c.kind == "beyond its end"}
    assert beyond == {("lane", "west"): pytest.approx(4.25 * ft), ("lane", "gate"): pytest.approx(4.25 * ft)}
    assert not chained(gate).cautions


@pytest.mark.parametrize(
    ("row", "problem"),
    [
        ("{ point = 'west', off = 'gate' }", "on which side and how far"),
        ("{ point = 'west', left = '1 in' }", "which way it was measured"),
        ("{ across = ['nail', 'west'], up = '1 in', tape = '3 ft' }", "up does not go with across"),
        ("{ clear = 'loaf', tape = '3 ft' }", 'did you mean "leaf"?'),
        ("{ point = 'wset', off = 'gate', left = '1 in' }", 'did you mean "west"?'),
        ("{ level = 'hinge.bolt.1', from = 'bench', up = '1 in' }", "is no level"),
        ("{ across = ['nail', 'west'] }", "across needs tape beside it"),
    ],
)
def test_a_reading_that_says_nothing_is_refused_with_what_would_be_right(row, problem):
    with pytest.raises(JobError) as wrong:
        with_readings(row)
    assert problem in str(wrong.value)


# ---- instruments ----


def test_a_correction_turns_its_sign_between_setting_out_and_measuring():
    warm = Instruments(tape_at=40.0, tape_long=0.0002)
    assert tape.true(warm, 100.0) == pytest.approx(100 + 100 * (0.0002 + 20 * 6.5e-6 * 1.8))
    assert tape.to_read(warm, 100.0) < 100 < tape.true(warm, 100.0)
    assert tape.true(warm, tape.to_read(warm, 100.0)) == pytest.approx(100, abs=1e-4)
    assert tape.true(Instruments(), 31.4) == 31.4  # as it came, lying on the ground
    assert tape.true(Instruments(tape_hangs=10.0), 31.4) < 31.4
    assert tape.true(Instruments(tape_pull=100.0), 31.4) > 31.4


def test_the_measuring_order_says_what_the_tape_reads(work, gate):
    warm = replace(gate.instruments, tape_at=40.0)
    for r in setout.chain(work, warm).readings:
        if r.kind in ("along", "off"):
            assert r.tape == pytest.approx(r.value * (1 - 20 * 6.5e-6 * 1.8))
        if r.kind == "level":
            assert abs(r.rod) == pytest.approx(r.value)


def test_a_level_is_as_sure_as_what_it_is_taken_with(work, gate):
    by = {
        name: setout.chain(work, replace(gate.instruments, level_with=name)).stakes[0].sigma_top
        for name in ("builder's level", "laser", "line level", "eye")
    }
    assert list(by.values()) == sorted(by.values()) and by["eye"] == pytest.approx(gate.instruments.eye)
    assert setout.chain(work, replace(gate.instruments, level=0.001)).stakes[0].sigma_top == pytest.approx(0.001)
    plumb = [setout.chain(work, replace(gate.instruments, plumb_with=w)).latching[0].sigma_drop
             for w in ("plumb bob", "spirit level", "eye")]  # fmt: skip
    assert plumb == sorted(plumb)


# ---- opening and latch ----


def test_the_chain_of_an_opening_adds_up(work, gate):
    (latch,) = setout.chain(work, gate.instruments).latching
    parts = [link for link in latch.links if not link.total]
    total = {link.name: link for link in latch.links if link.total}
    assert sum(link.low for link in parts) == pytest.approx(total["between the posts' centres"].low)
    assert total["clear opening"].low == pytest.approx(13 * ft + 3.5 * inch)
    assert total["between the piers' centres"].low == pytest.approx(latch.needed)
    assert latch.gap == pytest.approx(inch) and latch.drop == 0


def test_a_larger_leaf_as_found_moves_the_pier_that_is_still_to_come():
    job = read_text(GATE.read_text("utf-8") + "\n[found.leaves.leaf]\nsize = ['13 ft 1/2 in', '5 ft']\n", "gate.toml")
    (latch,) = chained(job).latching
    assert latch.needed == pytest.approx(13 * ft + 9 * inch) and latch.gap == pytest.approx(inch)
    cast = job.text.replace("[found.leaves", "[found]\ndone = ['west', 'east']\n[found.leaves")
    (late,) = chained(read_text(cast, "gate.toml")).latching
    assert late.gap == pytest.approx(0.5 * inch) and late.needed == pytest.approx(13 * ft + 9 * inch)


def test_a_leaning_pier_moves_its_top_and_all_on_it(gate):
    job = read_text(
        GATE.read_text("utf-8") + "\n[found]\ndone = ['west', 'east']\n[found.piers.east]\nlean = '1 deg'\n",
        "gate.toml",
    )
    (latch,) = chained(job).latching
    lean = 40 * inch * np.tan(radians(1))
    assert latch.gap == pytest.approx(inch + lean)
    assert latch.needed == pytest.approx(13 * ft + 8.5 * inch - lean)
    before, after = (next(s for s in chained(j).stakes if s.name == "latch") for j in (gate, job))
    assert after.y - before.y == pytest.approx(lean)


def test_a_hinge_post_leaning_towards_its_leaf_lets_the_leafs_end_down():
    job = read_text(GATE.read_text("utf-8") + "\n[found.posts.hinge]\nlean = '0.2 deg'\n", "gate.toml")
    (latch,) = chained(job).latching
    assert latch.drop == pytest.approx(13 * ft * radians(0.2)) and latch.rules == "drop"
    assert latch.latches < 0.6


def test_the_chance_to_latch_is_that_of_whole_simulated_jobs(work, gate):
    (leaves,) = closing.gates(work)
    names = closing.posts_of(*leaves)
    t = gate.instruments
    for tools in (t, replace(t, plumb=0.003), replace(t, tape=0.5 * inch)):
        plan = Layout(work, tools)

        def asked(e, plan=plan):
            return latching._asked(plan.under(e), leaves, names)

        mine = latching.between(plan, latching.asked(plan, leaves))
        vector = plan.asked_by(lambda site: asked(site.e))
        drawn = errors.sample(asked, vector, 20_000, seed=8)
        low, high, drop = drawn[:3]
        gap = leaves[0].latch_gap
        goes = (low > 0) & (high > 0)
        latches = goes & (low < 2 * gap) & (high < 2 * gap) & (np.abs(drop) < leaves[0].play)
        assert mine.fits == pytest.approx(goes.mean(), abs=0.015)
        assert mine.latches == pytest.approx(latches.mean(), abs=0.015)


def test_the_hole_that_is_wide_enough_lets_nineteen_of_twenty_on(work, gate):
    tools = replace(gate.instruments, bolt=0.005)
    enough = setout.widths(work, tools)["hinge"]
    hinge = gate.posts["hinge"]
    wider = replace(gate, posts={**gate.posts, "hinge": replace(hinge, joint=replace(hinge.joint, hole=enough))})
    plate = setout.chain(build(wider), tools).plates[0]
    assert plate.chance == pytest.approx(0.95, abs=1e-3)


# ---- boards ----


def test_boards_stand_clear_of_every_hole_and_of_its_spoil(work, gate):
    holes = {h.name: h for h in dig.cuts(work).holes}
    made = boards(work, holes.values())
    for board in made:
        for x, y in ((board.x_back, board.y_back), (board.x_ahead, board.y_ahead)):
            for body in (b for b in work.bodies if b.name in holes):
                hole = holes[body.name]
                along, across = np.abs(body.frame.into(x, y))
                back = hole.spoil_back - 1e-9
                assert along >= hole.top_along / 2 + back or across >= hole.top_across / 2 + back, (board, body.name)
    (gate_string,) = (b for b in made if b.axis == "along")
    assert gate_string.bases == ("west", "east") and gate_string.line == "gate"
    assert gate_string.between == pytest.approx(gate_string.back + gate_string.ahead + 13 * ft + 8.5 * inch)
    # Pads of 4'-6", one of them shifted ahead by 5 in, boards 4 ft from them.
    assert gate_string.back == pytest.approx(6.25 * ft - 5 * inch) and gate_string.ahead == pytest.approx(6.25 * ft)


def test_a_deep_sloped_hole_pushes_its_boards_back(gate):
    deep = build(replace(gate, piers={**gate.piers, "west": replace(gate.piers["west"], height=6 * ft)}))
    board = boards(deep, dig.cuts(deep).holes)[0]
    hole = next(h for h in dig.cuts(deep).holes if h.name == "west pad")
    assert board.hole == "west pad" and hole.run == 1.5
    assert board.back == pytest.approx(hole.top_along / 2 - 5 * inch + 2 * ft)
