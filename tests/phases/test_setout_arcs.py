"""Setting out along an arc: off its chord by offsets, or from a nail at its centre."""

import subprocess
import sys
from dataclasses import replace
from math import atan2, hypot
from pathlib import Path

import numpy as np
import pytest

from batterboard.job import read_text
from batterboard.methods import errors
from batterboard.phases import setout
from batterboard.phases.setout import Layout
from batterboard.plan import Plan
from batterboard.quantity import ft
from batterboard.study.sweep import varied
from batterboard.work.build import build

BED = Path(__file__).with_name("bed.toml").read_text("utf-8")
NAIL = {'rise = "4 ft"': 'centre = "tree"'}
WAYS = [{}, NAIL]


def job(put=None, more=""):
    text = BED
    for old, new in (put or {}).items():
        assert old in text, old
        text = text.replace(old, new)
    return read_text(text + more, "bed.toml")


def chained(put=None, more=""):
    made = job(put, more)
    return setout.chain(build(made), made.instruments, made.measured)


def readings(answer, element):
    return {r.kind: r for r in answer.readings if r.element == element}


TURNED = {'{ turn = "bed" }': '{ turn = "wall" }', "[lines.bed]": '[lines.wall]\nfrom = "a"\nto = "tree"\n[lines.bed]'}


@pytest.mark.parametrize("put", [*WAYS, TURNED, NAIL | TURNED])
def test_without_errors_all_that_is_taped_ends_where_the_work_stands(put):
    made = job(put)
    work = build(made)
    plan = Layout(work, made.instruments)
    for name, base in work.bases.items():
        here = plan.meant.base(name)
        assert plan.meant.measured(name) == pytest.approx((base.frame.x, base.frame.y), abs=1e-12)
        assert (here.x, here.y, here.turn) == pytest.approx((base.frame.x, base.frame.y, base.frame.turn), abs=1e-12)


def test_off_a_chord_the_readings_are_its_distance_and_its_offset():
    """Chord 24 ft, rise 4 ft: radius 20 ft. Halfway round it stands 12 ft along and the rise off."""
    read = readings(chained({'first = "6 in"': f'first = "{20 * atan2(12, 16) - 12!r} ft"'}), "post.4")
    assert (read["along"].hold, read["along"].way, read["along"].value) == ("bed", "ahead", pytest.approx(12 * ft))
    assert (read["off"].way, read["off"].value) == ("left", pytest.approx(4 * ft))
    assert (read["turn"].way, read["turn"].angle) == ("", pytest.approx(0.0, abs=1e-12))


def test_a_turn_off_a_chord_is_taped_over_four_feet():
    read = readings(chained(), "post.1")
    assert read["turn"].way == "left"
    assert read["turn"].value == pytest.approx(4 * ft * np.tan(read["turn"].angle))
    assert readings(chained(), "post.7")["turn"].way == "right"


def test_round_a_nail_two_tapes_cross_and_the_radius_is_pulled_over_the_mark():
    answer = chained(NAIL)
    work = build(job(NAIL))
    read = readings(answer, "post.3")
    assert (read["along"].hold, read["along"].radius) == ("bed", pytest.approx(20 * ft, rel=1e-4))
    x, y = work.bases["post.3"].frame.x, work.bases["post.3"].frame.y
    assert read["along"].value == pytest.approx(hypot(x, y))  # the arc starts at the job's zero
    assert (read["off"].hold, read["off"].way, read["off"].value) == ("tree", "out", pytest.approx(20 * ft))
    read = readings(answer, "step")
    assert (read["along"].hold, read["along"].way) == ("post.4", "ahead")
    assert read["along"].value == pytest.approx(2 * 20 * ft * np.sin(2 / 40))
    assert read["off"].value == pytest.approx(18 * ft)


def test_neighbours_along_an_arc_are_checked_by_their_running_chord():
    answer = chained()
    taped = {d.name: d.length for d in answer.diagonals}
    assert taped["post.1 to post.2"] == pytest.approx(2 * 20 * ft * np.sin(4 / 40))
    assert {f"post.{n} to post.{n + 1}" for n in (1, 2, 3, 5, 6)} <= taped.keys()
    assert len(taped) == 7  # the step stands between two of them


@pytest.mark.parametrize("put", WAYS)
def test_simulated_arcs_scatter_as_the_derivatives_say(put):
    made = job(put)
    plan = Layout(build(made), made.instruments)

    def place(site):
        for name in plan.work.bases:
            here = site.base(name)
            yield from (here.x, here.y)
        yield from site.template("p4").out(0.1, 0.1)

    spread = plan.spread(place)
    drawn = errors.sample(lambda e: place(plan.under(e)), plan.asked_by(place), 20000, 5)
    covariance = np.cov(drawn)
    assert np.allclose(np.sqrt(np.diag(covariance)), spread.sigma, rtol=0.03)
    scale = np.outer(spread.sigma, spread.sigma)
    assert np.abs((covariance - spread.covariance) / scale).max() < 0.04


def test_off_a_chord_of_very_large_radius_it_is_as_sure_as_off_a_straight_line():
    def sigmas(bend):
        answer = chained({'bulges = "left"\nrise = "4 ft"': bend, "count = 7": "count = 6"})
        return {s.name: (s.sigma_x, s.sigma_y) for s in answer.stakes if s.kind in ("pier", "slab")}

    straight, nearly = sigmas(""), sigmas('bulges = "left"\nrise = "0.001 ft"')
    for name in straight:
        if name != "step":  # the straight one is measured from its neighbour, the other from the chord's start
            assert nearly[name] == pytest.approx(straight[name], rel=1e-3), name


def test_a_stake_is_told_along_the_curve_and_square_to_it():
    by_name = {s.name: s for s in chained().stakes}
    assert (by_name["post.3"].along, by_name["post.3"].off) == pytest.approx((8.5 * ft, 0.0), abs=1e-9)
    assert (by_name["step"].along, by_name["step"].off) == pytest.approx((14.5 * ft, -2 * ft), abs=1e-9)


def test_a_radius_error_is_all_radius_and_an_error_across_all_along():
    made = job(NAIL)
    work = build(made)
    plan = Layout(work, made.instruments)
    arc = work.lines["bed"].arc
    name = "post.5"
    exact = dict.fromkeys(plan.sigmas, 0.0)
    for error, along, off in ((f"{name} off", 0.0, -1.0), (f"{name} along", None, 0.0)):
        x, y = plan.under(exact | {error: 1e-4}).measured(name)
        station, aside = arc.into(x, y)
        where = arc.into(*plan.meant.measured(name))
        moved = ((station - where[0]) / 1e-4, (aside - where[1]) / 1e-4)
        assert moved[1] == pytest.approx(-off if off else 0.0, abs=1e-3)
        if along is None:  # a tape across a curve counts for more along it, the further it reaches
            along = 1 / np.cos(where[0] / arc.radius / 2)
        assert moved[0] == pytest.approx(along, rel=1e-3, abs=1e-3)


@pytest.mark.parametrize("put", WAYS)
def test_running_chords_tell_which_post_has_to_move_along(put):
    made = job(put)
    work = build(made)
    frames = {n: work.bases[f"post.{n}"].frame for n in range(1, 8)}

    def apart(a, b):
        return hypot(frames[a].x - frames[b].x, frames[a].y - frames[b].y)

    off = 0.006
    taped = {(3, 4): apart(3, 4) + off, (4, 5): apart(4, 5) - off, (2, 3): apart(2, 3), (5, 6): apart(5, 6)}
    rows = [f'{{ across = ["post.{a}", "post.{b}"], tape = "{m!r} m" }}' for (a, b), m in taped.items()]
    answer = chained(put, f"[measured]\nreadings = [ {', '.join(rows)} ]\n")
    assert answer.adjustment.closes
    moves = {move.name: move for move in answer.adjustment.moves}
    assert moves["post.4"].along < -off / 4  # it stands too far ahead
    assert max(moves.values(), key=lambda move: move.far if move.name.startswith("post") else 0.0).name == "post.4"


def test_tapes_that_cross_flatly_round_a_nail_are_told():
    far = NAIL | {'to = "b"': 'to = ["12 ft", "-60 ft"]', "count = 7": "count = 13"}
    told = [c for c in chained(far).cautions if c.kind == "narrow rays"]
    assert [c.about[:2] for c in told] and all(c.about[1:] == ("tree", "bed") for c in told)
    assert {c.about[0] for c in told} >= {"post.12", "post.13"} and "post.7" not in {c.about[0] for c in told}


def test_the_chord_has_boards_past_all_that_is_dug_and_a_nail_needs_none():
    plan = Plan(job())
    (chord,) = (b for b in plan.boards if b.line == "bed")
    assert {f"post.{n}" for n in range(1, 8)} | {"step"} == set(chord.bases)
    assert (chord.y_back, chord.y_ahead) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert chord.x_back < -4 * ft and chord.x_ahead > 24 * ft
    assert len(plan.boards) == 1
    assert Plan(job(NAIL)).boards == ()


@pytest.mark.parametrize(("put", "hold"), [({}, "the chord bed"), (NAIL, "the nail tree")])
def test_a_template_on_an_arc_is_proved_square_from_what_set_it_out(put, hold):
    plan = Plan(job(put))
    proofs = [p for pattern in plan.template.patterns if pattern.name == "p1" for p in pattern.proofs]
    ahead, back = (p for p in proofs if p.proves == "square")
    assert ahead.hold.startswith(hold)
    if put:
        assert ahead.value == pytest.approx(back.value)
    else:
        assert ahead.value > back.value  # the curve leaves its chord


def test_what_was_found_along_an_arc_is_what_the_next_is_measured_from():
    made = job(NAIL, '[found.piers.post.4.shift]\nalong = "1 in"\n')
    work, plan = build(made), build(made.planned)
    arc = work.lines["bed"].arc
    moved = arc.into(work.bases["step"].frame.x, work.bases["step"].frame.y)[0] - 14.5 * ft
    assert moved == pytest.approx(ft / 12, rel=1e-3)
    assert plan.bases["post.5"].frame == work.bases["post.5"].frame
    assert replace(work.bases["post.4"].frame, turn=0.0) != replace(plan.bases["post.4"].frame, turn=0.0)


def test_a_job_without_arcs_does_not_load_them():
    program = (
        "import sys; from batterboard.job import read_job; from batterboard.work.build import build;"
        f"build(read_job({str(Path(__file__).with_name('gate.toml'))!r}));"
        "sys.exit('batterboard.work.arcs' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0


BETWEEN = """
[piers.one]
like = "gatepost"
place = [ { along = "wall", ahead = "3 ft" }, { from = "wall", left = "0 in" } ]
[piers.gatepost]
square = "1 ft"
top = { level = "bench", up = "6 in" }
height = "3 ft"
mix = "stiff"
place = [ { along = "wall", ahead = "15 ft" }, { from = "wall", left = "0 in" } ]
[lines.wall]
from = ["0 ft", "-40 ft"]
to = ["30 ft", "-40 ft"]
[marks.pin]
at = ["9 ft", "-48 ft"]
[lines.drive]
from = "one"
to = "gatepost"
bulges = "left"
BEND
[pads.stone]
along = "2 ft"
across = "1 ft"
thick = "6 in"
top = { level = "bench", up = "0 in" }
mix = "stiff"
place = [ { along = "drive", ahead = "5 ft" }, { from = "drive", left = "6 in" }, { turn = "drive" } ]
"""


@pytest.mark.parametrize("bend", ['rise = "2 ft"', 'radius = "10 ft"', 'centre = "pin"'])
def test_an_arc_between_things_that_stand_moves_with_them(bend):
    made = job(more=BETWEEN.replace("BEND", bend))
    work = build(made)
    plan = Layout(work, made.instruments)
    stone = work.bases["stone"].frame
    assert plan.meant.measured("stone") == pytest.approx((stone.x, stone.y), abs=1e-12)
    exact = dict.fromkeys(plan.sigmas, 0.0)
    both = {f"{name} {kind}": 1e-4 for name in ("one", "gatepost") for kind in ("off",)}
    here = plan.under(exact | both).base("stone")
    if "centre" in bend:  # its nail does not move: round it goes as far as its start does
        start = work.bases["one"].frame
        r = hypot(start.x - 9 * ft, start.y + 48 * ft)
        turned = np.arctan2(here.y + 48 * ft, here.x - 9 * ft) - np.arctan2(stone.y + 48 * ft, stone.x - 9 * ft)
        assert turned == pytest.approx(1e-4 * (start.x - 9 * ft) / r**2, rel=1e-3)
    else:
        assert (here.x, here.y) == pytest.approx((stone.x, stone.y + 1e-4), abs=1e-9)
    steps = [r.element for r in setout.chain(work, made.instruments).readings]
    assert steps.index("stone") > max(steps.index("one"), steps.index("gatepost"))


@pytest.mark.parametrize("put", WAYS)
def test_many_jobs_at_once_are_set_out_as_each_alone(put):
    tapes = np.array([0.001, 0.003])
    made = job(put)
    many = varied(made, {"instruments.tape": tapes})
    together = setout.chain(build(many), many.instruments)
    for i, tape in enumerate(tapes.tolist()):
        alone = setout.chain(build(made), replace(made.instruments, tape=tape))
        for one, whole in zip(alone.stakes, together.stakes, strict=True):
            assert np.ravel(whole.major)[i if np.size(whole.major) > 1 else 0] == pytest.approx(one.major, rel=1e-9)
