"""Where exactly, in what order, and will the plate drop on?"""

from dataclasses import replace
from math import atan2, hypot
from pathlib import Path

import numpy as np
import pytest

from batterboard.job import read_job, read_text
from batterboard.job.schema import Instruments
from batterboard.methods import errors, fit
from batterboard.phases import setout
from batterboard.phases.setout import Layout
from batterboard.phases.setout.places import SCALE, drilled
from batterboard.quantity import ft, inch
from batterboard.study.sweep import varied
from batterboard.work.build import build

EXAMPLES = Path(__file__).parents[2] / "examples"
GATE = Path(__file__).with_name("gate.toml")
ALL = [GATE, *sorted(EXAMPLES.glob("*/job.toml"))]
EXACT = Instruments(**dict.fromkeys(("tape", "tape_scale", "level", "string", "line_end", "square"), 0.0), template=0.0,
                    turn=0.0, drill=0.0, bolt=0.0, plumb=0.0)  # fmt: skip


@pytest.fixture(scope="module")
def gate():
    return read_job(GATE)


@pytest.fixture(scope="module")
def work(gate):
    return build(gate)


def found_gate(text):
    return read_text(GATE.read_text("utf-8") + text, "gate.toml")


def chained(job):
    return setout.chain(build(job), job.instruments)


def stake(answer, name):
    return next(s for s in answer.stakes if s.name == name)


# ---- places ----


@pytest.mark.parametrize("path", ALL, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_a_chain_without_errors_ends_where_the_work_stands(path):
    work = build(read_job(path))
    plan = Layout(work, Instruments())
    for name, base in work.bases.items():
        assert plan.meant.measured(name) == pytest.approx((base.frame.x, base.frame.y), abs=1e-12)
    for name, post in work.posts.items():
        here = plan.meant.plate(name)
        assert (here.x, here.y, here.turn) == pytest.approx((post.frame.x, post.frame.y, post.frame.turn), abs=1e-12)


def test_found_bolts_carry_the_plate_where_the_work_has_it():
    job = found_gate(
        "\n[found.posts.hinge.bolts]\n1 = { at = ['4 9/16 in', '4 1/2 in'] }\n3 = { at = ['-4 1/2 in', '-4 1/4 in'] }\n"
    )
    work = build(job)
    here, post = Layout(work, job.instruments).meant.plate("hinge"), work.posts["hinge"].frame
    assert (here.x, here.y, here.turn) == pytest.approx((post.x, post.y, post.turn), abs=1e-9)
    assert hypot(here.x - work.piers["west"].frame.x, here.y - work.piers["west"].frame.y) > 1e-3


def test_a_pier_found_off_its_place_takes_what_is_measured_from_it_along():
    job = found_gate("\n[found.piers.west]\nshift = { along = '1 in' }\n")
    answer = chained(job)
    assert stake(answer, "west").y == pytest.approx(build(job).piers["west"].frame.y)
    assert stake(answer, "hinge").y == pytest.approx(stake(answer, "west").y)


@pytest.mark.parametrize(
    ("name", "moved"),
    [
        ("west along", (1, 0)),  # along the lane, which runs in x
        ("west off", (0, 1)),
        ("west string", (0, 1)),
        ("hinge template along", (0, 1)),  # the plate's own along is the gate's
        ("hinge template across", (-1, 0)),
        ("lane start", (6 / 100, 1 - 24.25 / 100)),  # its turn carries what stands 6 ft off it ahead
        ("lane end", (-6 / 100, 24.25 / 100)),
        ("hinge hole 1 along", (0, 0)),  # one template drills bolts and plate
        ("hinge bolt 1 along", (0, 0.25)),
        ("latch template along", (0, 0)),
    ],
)
def test_each_error_moves_the_post_as_far_as_a_drawing_says(work, name, moved):
    plan, small = Layout(work, Instruments()), 1e-6
    still = plan.meant.post("hinge")
    here = plan.under(dict.fromkeys(plan.sigmas, 0.0) | {name: small}).post("hinge")
    assert ((here.x - still.x) / small, (here.y - still.y) / small) == pytest.approx(moved, abs=1e-6)


def test_a_long_tape_moves_every_place_in_proportion(work):
    plan = Layout(work, Instruments())
    here = plan.under(dict.fromkeys(plan.sigmas, 0.0) | {SCALE: 1e-3}).base("east")
    assert (here.x, here.y) == pytest.approx((work.piers["east"].frame.x * 1.001, work.piers["east"].frame.y * 1.001))


def test_an_askew_line_turns_what_stands_by_it(work):
    plan = Layout(work, Instruments())
    here = plan.under(dict.fromkeys(plan.sigmas, 0.0) | {"gate square": 1e-4}).template("latch")
    assert here.turn - work.posts["latch"].frame.turn == pytest.approx(1e-4)
    assert here.x - work.posts["latch"].frame.x == pytest.approx(-1e-4 * work.posts["latch"].frame.y, rel=1e-4)


# ---- spreads ----


def test_derivatives_and_simulated_jobs_give_the_same_spread(work, gate):
    plan = Layout(work, gate.instruments)

    def place(site):
        for name in ("hinge", "latch"):
            for x, y in site.bolts(name):
                yield from (x, y)
        yield site.post("latch", 1.5).y - site.post("hinge", 1.5).y

    spread = plan.spread(place)
    vector = errors.ErrorVector({name: plan.sigmas[name] for name in spread.names})
    drawn = errors.sample(lambda e: place(plan.under(e)), vector, 20_000, seed=3)
    assert drawn.std(axis=1) == pytest.approx(spread.sigma, rel=0.02)
    own = spread.sigma[0] * spread.sigma[8] / 20_000**0.5  # what the simulation itself is unsure of
    assert np.cov(drawn)[0, 8] == pytest.approx(spread.covariance[0, 8], abs=4 * own)  # two bolts, one line, one tape
    assert spread.covariance[0, 8] > 8 * own
    assert np.allclose(spread.share.sum(axis=1), 1)


def test_exact_instruments_leave_nothing_to_chance(work):
    answer = setout.chain(work, EXACT)
    assert all(s.major == s.minor == s.sigma_top == 0 and s.shares == {} and s.worst == "" for s in answer.stakes)
    assert all(d.sigma == 0 for d in answer.diagonals)
    assert all(p.chance == 1 for p in answer.plates)


def test_shares_of_an_error_add_up_and_the_worst_stands_first(work, gate):
    for s in setout.chain(work, gate.instruments).stakes:
        assert sum(s.shares.values()) == pytest.approx(1)
        assert s.worst == next(iter(s.shares)) == max(s.shares, key=s.shares.__getitem__)
        assert s.major >= s.minor > 0
        assert s.major**2 + s.minor**2 == pytest.approx(s.sigma_x**2 + s.sigma_y**2)


def test_the_step_named_worst_helps_most_when_it_is_done_better(work, gate):
    east = stake(setout.chain(work, gate.instruments), "east")
    assert east.worst == "gate square"
    better = setout.chain(work, replace(gate.instruments, square=0.0))
    other = setout.chain(work, replace(gate.instruments, string=0.0))
    assert stake(better, "east").major < stake(other, "east").major < east.major


def test_what_two_posts_share_does_not_spread_their_opening(work, gate):
    opening = setout.chain(work, gate.instruments).openings[0]
    coarse = setout.chain(work, replace(gate.instruments, line_end=0.05)).openings[0]
    assert coarse.sigma == pytest.approx(opening.sigma, rel=1e-6)
    assert opening.sigma < stake(setout.chain(work, gate.instruments), "latch").major
    assert opening.sigma_high > opening.sigma  # plumb


# ---- plates on their bolts ----


def test_a_template_error_cancels_between_bolts_and_plate(work, gate):
    """Drilling, setting and turning the template move bolts and plate alike."""
    coarse = replace(gate.instruments, drill=0.02, template=0.1, turn=0.1, bolt=0.0)
    assert all(p.chance == 1 for p in setout.chain(work, coarse).plates)
    moved = replace(gate.instruments, bolt=0.006)
    fine, rough = setout.chain(work, moved), setout.chain(work, replace(moved, drill=0.004))
    for a, b in zip(fine.plates, rough.plates):
        assert 0.1 < a.chance < 0.9
        assert a.chance == pytest.approx(b.chance, abs=0.02)  # the drilled pattern differs a little, the play does not


def test_where_the_template_stands_does_not_matter_to_the_plate(work, gate):
    plan = Layout(work, replace(gate.instruments, bolt=0.004))
    bolts, joint = work.posts["hinge"].bolts, plan.joints["hinge"][0]
    play = (joint.hole - bolts.rod.diameter) / 2

    def place(e):
        (hx, hy), stands = drilled(bolts, e), plan.under(e).bolts("hinge")
        return [*hx, *hy, *(x for x, _ in stands), *(y for _, y in stands)]

    drawn = errors.sample(place, errors.ErrorVector(plan.sigmas), setout.closing.SAMPLES, setout.closing.SEED)
    whole = fit.minimax_fit(*drawn.reshape(4, 4, -1), play).drops_on.mean()
    assert whole == pytest.approx(setout.closing.plate_on_bolts(plan, "hinge").chance, abs=1e-3)


def test_what_needs_no_simulation_agrees_with_one(work, gate):
    """Just above the play where samples could show a miss, the bound is used; there nearly every sample drops on."""
    bolts, joint = work.posts["hinge"].bolts, work.posts["hinge"].plate
    play = (joint.hole - bolts.rod.diameter) / 2
    tools = replace(gate.instruments, bolt=play / 4.3)
    bound = setout.chain(work, tools).plates[0].chance
    assert bound == pytest.approx(1 - 4 * np.exp(-(4.3**2) / 2))
    looked_at = replace(bolts, found=(0,))  # no bolt of that number: simulated all the same
    assert setout.closing._share_that_drops_on(looked_at, tools, play, joint.grout) >= bound - 1e-3


def test_the_chance_is_no_product_of_separate_bolts(work, gate):
    tools = replace(gate.instruments, bolt=0.005)
    plate = setout.chain(work, tools).plates[0]
    alone = 1 - np.exp(-(plate.clearance**2) / 2 / tools.bolt**2)  # one bolt, if the plate could not move
    assert plate.chance > 1.5 * alone**4


def test_bolts_that_were_found_are_not_left_to_chance(work):
    places = {1: ("4 3/4", "4 3/4"), 2: ("-4 1/4", "4 3/4"), 3: ("-4 1/4", "-4 1/4"), 4: ("4 3/4", "-4 1/4")}
    rows = "".join(f"{number} = {{ at = ['{x} in', '{y} in'] }}\n" for number, (x, y) in places.items())
    job = found_gate(f"\n[found.posts.hinge.bolts]\n{rows}")
    plate = chained(replace(job, instruments=replace(job.instruments, bolt=0.01))).plates[0]
    assert plate.chance == 1
    assert (plate.shift_along, plate.shift_across) == pytest.approx((0.25 * inch, 0.25 * inch), abs=1e-8)
    assert plate.offset == pytest.approx(0, abs=1e-8)


def test_bolts_found_too_far_apart_fail_their_plate():
    job = found_gate("\n[found.posts.hinge.bolts]\n1 = { at = ['5 1/4 in', '5 1/4 in'] }\n")
    c = next(c for c in chained(job).checks if c.key == ("plate_drops_on", "hinge"))
    assert c.verdict == "fails"
    assert c.worst_demand == pytest.approx(hypot(0.75, 0.75) * inch / 2, rel=0.1)
    assert c.worst_capacity == pytest.approx(9 / 32 * inch)
    assert [s.formula.name for s in c.steps] == ["radial_clearance"]
    chance = next(c for c in chained(job).checks if c.key == ("plate_misses", "hinge"))
    assert chance.verdict == "fails"


def test_a_hole_smaller_than_its_bolt_is_outside_the_limits(gate):
    hinge = gate.posts["hinge"]
    job = replace(gate, posts={**gate.posts, "hinge": replace(hinge, joint=replace(hinge.joint, hole=0.018))})
    checks = {c.key: c for c in chained(job).checks}
    assert checks["plate_drops_on", "hinge"].verdict == "outside"
    assert not checks["plate_misses", "hinge"].holds


# ---- the order, the opening, check measurements ----


def test_the_measuring_order_holds_nothing_that_is_not_there_yet(work, gate):
    readings = setout.chain(work, gate.instruments).readings
    assert [r.number for r in readings] == list(range(1, len(readings) + 1))
    there = {*work.levels, *work.lines, *work.marks}
    for r in readings:
        assert r.hold in there or r.hold in {p.element for p in readings if p.number < r.number}
        there |= {r.element}
    assert [r.kind for r in readings if r.element == "east"] == ["level", "along", "off", "turn"]


def test_a_derived_distance_says_so_and_its_running_mark_starts_at_the_line(work, gate):
    along = next(r for r in setout.chain(work, gate.instruments).readings if r.element == "east" and r.kind == "along")
    assert along.derived and along.hold == "west" and along.way == "ahead"
    assert along.value == pytest.approx(13 * ft + 3.5 * inch + 5 * inch)  # leaf, gaps, half of each post
    assert along.running == pytest.approx(along.value + 6 * ft)


def test_the_derived_opening_closes_and_a_moved_pier_opens_it():
    opening = chained(found_gate("")).openings[0]
    assert opening.misclosure == pytest.approx(0, abs=1e-9)
    job = found_gate("\n[found]\ndone = ['west', 'east']\n[found.piers.east]\nshift = { along = '1 1/2 in' }\n")
    answer = chained(job)
    assert answer.openings[0].misclosure == pytest.approx(1.5 * inch)
    c = next(c for c in answer.checks if c.name == "opening_closes")
    assert c.verdict == "fails" and c.service
    assert c.worst_demand == pytest.approx(1.5 * inch)
    assert {s.formula.name for s in c.steps} == {"clear_opening", "opening_misclosure"}


def test_a_post_found_leaning_counts_at_its_upper_hinge():
    job = found_gate("\n[found.posts.latch]\nlean = '0.5 deg'\n")
    opening = chained(job).openings[0]
    leaf = build(job).leaves["leaf"]
    assert opening.misclosure_high - opening.misclosure == pytest.approx((leaf.high - leaf.low) * np.radians(0.5))


def test_a_bolt_found_leaning_takes_from_its_hole():
    """1/8 in in 1 in, through 1 in of grout and 3/4 in of plate: 7/32 in of the 9/32 in beside a bolt are gone."""
    plate, _ = chained(found_gate("\n[found.posts.hinge.bolts]\n2 = { leans = '1/8 in in 1 in' }\n")).plates
    assert plate.spare == pytest.approx((9 / 32 - 7 / 32) * inch)
    assert plate.offset == pytest.approx(7 / 32 * inch)
    steep = chained(found_gate("\n[found.posts.hinge.bolts]\n2 = { leans = '1/4 in in 1 in' }\n"))
    assert next(c for c in steep.checks if c.name == "plate_drops_on").verdict == "fails"
    assert steep.plates[0].chance == 0


def test_diagonals_close_the_right_angles(work, gate):
    answer = setout.chain(work, gate.instruments)
    by_name = {d.name: d for d in answer.diagonals}
    assert by_name["lane to west"].length == pytest.approx(hypot(24.25, 6) * ft)
    assert by_name["west to east"].length == pytest.approx(hypot(0, work.piers["east"].frame.y - 6 * ft))
    crossing = [d for d in answer.diagonals if "bolt" in d.name]
    assert len(crossing) == 2 and crossing[0].length == pytest.approx(crossing[1].length)
    # A far plate that stands aside by so much makes one diagonal longer and one shorter by what is allowed.
    d, side = crossing[0], 9 * inch
    long = np.sqrt(d.length**2 - side**2)
    for moved, difference in ((d.aside, d.allow), (-d.aside, -d.allow)):
        assert hypot(long, side + moved) - d.length == pytest.approx(difference, abs=0.4 * d.allow)
    assert hypot(long, side + d.aside) - hypot(long, side - d.aside) == pytest.approx(2 * d.allow, rel=0.01)
    assert len(by_name) == len(answer.diagonals)


def test_plates_turned_across_the_gate_have_crossing_diagonals_too(gate):
    turned = {
        name: replace(pier, place=(*pier.place[:-1], replace(pier.place[-1], turn="lane")))
        for name, pier in gate.piers.items()
    }
    square, across = (
        {d.name: d.length for d in chained(job).diagonals if "bolt" in d.name}
        for job in (gate, replace(gate, piers=turned))
    )
    assert len(across) == 2 and sorted(across.values()) == pytest.approx(sorted(square.values()))


def test_a_check_measurement_cannot_see_its_own_tape(gate):
    """The distance was set out and is checked with one tape: only reading it is left."""
    only_scale = replace(EXACT, tape_scale=0.001)
    centres = next(d for d in setout.chain(build(gate), only_scale).diagonals if d.name == "west to east")
    assert centres.sigma == pytest.approx(0, abs=1e-12)


def test_rods_read_more_where_it_lies_lower(work, gate):
    rods = {r.name: r for r in setout.chain(work, gate.instruments).rods}
    assert rods["west top"].difference == pytest.approx(-8 * inch)
    assert rods["west pad bottom"].difference == pytest.approx(48 * inch)
    assert rods["tie top"].difference == pytest.approx(14 * inch)
    assert all(r.above == -r.difference and r.level == "bench" for r in rods.values())


def test_stakes_lie_where_their_line_says(work, gate):
    for s in setout.chain(work, gate.instruments).stakes:
        line = work.lines[s.line]
        assert s.x == pytest.approx(line.x + s.along * np.cos(line.turn) - s.off * np.sin(line.turn))
        assert s.y == pytest.approx(line.y + s.along * np.sin(line.turn) + s.off * np.cos(line.turn))
        if s.kind == "pier":
            assert s.cut == pytest.approx(s.ground - work.piers[s.name].foot.bottom)


def test_turning_and_moving_the_whole_job_changes_coordinates_only(gate):
    c, s = np.cos(0.7), np.sin(0.7)
    lane = replace(gate.lines["lane"], from_=(3.0, -2.0), to=(3.0 + 100 * ft * c, -2.0 + 100 * ft * s))
    before, after = chained(gate), chained(replace(gate, lines={**gate.lines, "lane": lane}))
    for a, b in zip(before.stakes, after.stakes):
        assert (b.x, b.y) == pytest.approx((3 + c * a.x - s * a.y, -2 + s * a.x + c * a.y), abs=1e-9)
        assert (b.major, b.minor, b.along, b.off) == pytest.approx((a.major, a.minor, a.along, a.off), abs=1e-9)
        assert np.sin(b.direction - a.direction - 0.7) == pytest.approx(0, abs=1e-6)
    for a, b in zip(before.diagonals, after.diagonals):
        assert (b.length, b.sigma) == pytest.approx((a.length, a.sigma), abs=1e-9)


# ---- many at once ----


def test_a_batch_gives_what_single_jobs_give(gate):
    rng = np.random.default_rng(5)
    changes = {
        "lines.gate.at": rng.uniform(5, 9, 4),
        "posts.hinge.joint.grout": rng.uniform(0.01, 0.04, 4),
        "posts.hinge.joint.square": rng.uniform(0.18, 0.24, 4),
        "leaves.leaf.shuts.gap": rng.uniform(0.01, 0.05, 4),
        "instruments.bolt": rng.uniform(0.003, 0.006, 4),
        "instruments.square": rng.uniform(0, 0.001, 4),
    }
    many = chained(varied(gate, changes))
    for v in range(4):
        one = chained(varied(gate, {path: float(values[v]) for path, values in changes.items()}))
        for kind in ("readings", "stakes", "diagonals", "rods", "openings", "plates", "latching"):
            for a, b in zip(getattr(many, kind), getattr(one, kind), strict=True):
                for name, value in vars(b).items():
                    if isinstance(value, float):
                        mine = np.broadcast_to(getattr(a, name), (4,))[v]
                        assert mine == pytest.approx(value, rel=1e-7, abs=1e-9, nan_ok=True), (kind, a.name, name)
        for a, b in zip(many.checks, one.checks, strict=True):
            assert a.key == b.key
            assert np.broadcast_to(a.worst_demand, (4,))[v] == pytest.approx(b.worst_demand, abs=1e-9)
            assert bool(np.broadcast_to(a.holds, (4,))[v]) == b.holds


def test_a_line_that_varies_may_stand_behind_places_that_do_not(gate):
    many = chained(varied(gate, {"lines.gate.at": np.array([6.0, 7.0, 8.0])}))
    assert all(np.ndim(d.length) in (0, 1) for d in many.diagonals) and len(many.checks) == len(chained(gate).checks)


def test_two_hundred_piers_take_no_more_than_their_share():
    rows = """
[job]
name = "invented bollards"
[ground]
grade = { level = "bench" }
[levels.bench]
z = "10 m"
[lines.lane]
from = ["0 m", "0 m"]
to = ["400 m", "0 m"]
[mixes.stiff]
strength = "4000 psi"
[piers.bollard]
round = "12 in"
height = "6 ft"
top = { above = "ground", up = "36 in" }
row = { along = "lane", count = COUNT, first = "40 ft", every = "5 ft", left = "3 ft" }
mix = "stiff"
"""
    few, many = (chained(read_text(rows.replace("COUNT", str(n)), "row.toml")) for n in (2, 200))
    assert len(many.stakes) == 100 * len(few.stakes) == 200
    last = many.stakes[-1]
    assert set(last.shares) <= {SCALE, "lane start", "lane end", *(f"{last.name} {kind}" for kind in
                                ("along", "off", "string", "square"))}  # fmt: skip
    assert atan2(last.y, last.x) > 0 and last.sigma_x > many.stakes[0].sigma_x  # the tape's own length


# ---- a line through what was set out ----

BACK = """
[lines.back]
from = "east"
to = "west.bolt.2"
[piers.stop]
like = "west"
place = [ { along = "back", from = "west", ahead = "10 ft" }, { from = "back", left = "0 in" }, { turn = "back" } ]
"""


def test_a_line_through_what_stands_is_drawn_as_that_came_to_stand():
    work = build(found_gate(BACK))
    plan = Layout(work, Instruments())
    assert plan.meant.measured("stop") == pytest.approx((work.bases["stop"].frame.x, work.bases["stop"].frame.y))
    errors_of_east = {"east along", "east off", "east string", "lane start", "gate square"}
    vector = plan.asked_by(lambda site: site.point("stop"))
    assert errors_of_east | {"back start", "back end", "hinge bolt 2 across", "west along"} <= set(vector.names)
    site = plan.under(dict.fromkeys(plan.sigmas, 0.0) | {"east off": 0.01, "back end": 0.004})
    (ax, ay), (bx, by), drawn = site.point("east"), site.point("west.bolt.2"), site.line("back")
    assert drawn.into(ax, ay)[1] == pytest.approx(0.0, abs=1e-12)
    assert drawn.into(bx, by)[1] == pytest.approx(-0.004, rel=1e-4)


def test_the_spread_of_what_hangs_on_such_a_line_is_what_drawing_at_random_gives():
    plan = Layout(build(found_gate(BACK)), Instruments())

    def place(site):
        return site.point("stop")

    spread, vector = plan.spread(place), plan.asked_by(place)
    drawn = errors.sample(lambda e: place(plan.under(e)), vector, 20_000, seed=7)
    assert np.std(np.asarray(drawn), axis=-1) == pytest.approx(spread.sigma, rel=0.03)


def test_what_a_line_runs_through_is_measured_before_what_hangs_on_the_line():
    text = BACK.replace('from = "west", ', "")
    head, tail = GATE.read_text("utf-8").split("[piers.west]", 1)
    west_last = head + text + "[piers.west]" + tail
    answer = chained(read_text(west_last, "gate.toml"))
    assert next(r.number for r in answer.readings if r.element == "stop") > max(
        r.number for r in answer.readings if r.element in ("west", "east")
    )


def test_a_second_bench_mark_is_read_from_the_first(gate):
    step = next(iter(gate.levels.values()))
    two = replace(gate, levels={**gate.levels, "step": replace(step, z=step.z + 0.3)})
    first = setout.chain(build(two), two.instruments).rods[0]
    assert (first.name, first.level) == ("step, bench mark", next(iter(gate.levels)))
    assert first.difference == pytest.approx(-0.3)
