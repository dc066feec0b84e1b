"""What will stand there? Volumes against another library, lifts, found facts, variants, and a job that is moved."""

from dataclasses import fields, is_dataclass, replace
from math import cos, pi, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from batterboard.job import JobError, read_text
from batterboard.work.build import build
from batterboard.work.records import Body, Frame, Outline

INCH = 0.0254


# ---- volumes ----

lengths = st.floats(0.3, 2.0)


@given(
    kind=st.sampled_from(["rectangle", "round", "polygon"]),
    along=lengths,
    across=lengths,
    height=st.floats(0.2, 2.0),
    sides=st.integers(3, 8),
    corner=st.floats(0, 0.25),
    other=st.one_of(st.none(), st.floats(0.01, 0.25)),
    top=st.floats(0, 0.15),
    turn=st.floats(-4, 4),
    part=st.floats(0, 1),
)
@settings(max_examples=60)
def test_volumes_by_level_are_those_of_an_independent_library(
    kind, along, across, height, sides, corner, other, top, turn, part
):
    manifold3d = pytest.importorskip("manifold3d")
    across = along if kind != "rectangle" else across
    shortest = min(along, across) * (1.0 if kind == "rectangle" else np.tan(pi / sides))
    outline = Outline(
        kind=kind,
        along=along,
        across=across,
        sides=sides,
        corners=corner * shortest if kind != "round" else 0.0,
        returns=other * shortest if kind != "round" and corner > 0 and other is not None else None,
        top=top * shortest if kind != "round" else 0.1 * along,
    )
    body = Body(
        name="a",
        element="a",
        part="pier",
        outline=outline,
        frame=Frame(x=3.0, y=-2.0, turn=turn),
        bottom=99.0,
        top=99.0 + height + 0.2,
        mix="m",
        against="form",
    )
    if kind == "round":
        r = along / 2
        profile = [(0, 99.0), (r, 99.0), (r, body.top - outline.top), (r - outline.top, body.top), (0, body.top)]
        theirs = manifold3d.Manifold.revolve(manifold3d.CrossSection([profile]), 2000)
    else:
        theirs = manifold3d.Manifold.hull_points(np.column_stack(body.solid().vertices))
        assert body.solid().volume == pytest.approx(body.gross, rel=1e-9)
    z = body.bottom + part * body.height
    assert theirs.volume() == pytest.approx(body.gross, rel=1e-5)
    below = theirs.trim_by_plane((0, 0, -1), -z).volume()
    assert below == pytest.approx(body.below(z), rel=1e-4, abs=1e-5)
    assert body.between(z, body.top) == pytest.approx(body.gross - body.below(z))
    below_the_cut = body.top - outline.top - body.bottom
    assert body.below(body.top - outline.top) == pytest.approx(outline.area * below_the_cut)


@given(
    turn=st.floats(0, 6.28),
    wide=st.floats(0.2, 1.2),
    deep=st.floats(0.2, 1.2),
    down=st.floats(-0.3, 1.0),
    flats=st.floats(0.4, 1.0),
    second=st.sampled_from(['round = "{:.6f} m"', 'sides = 5\nflats = "{:.6f} m"', 'square = "{:.6f} m"']),
    away=st.floats(2.0, 5.0),
    over=st.floats(0.4, 1.6),
)
@settings(max_examples=40)
def test_bodies_of_random_elements_add_up_to_what_they_fill_together(turn, wide, deep, down, flats, second, away, over):
    manifold3d = pytest.importorskip("manifold3d")
    up = f'up = "{-down:.6f} m"' if down < 0 else f'down = "{down:.6f} m"'
    job = read_text(
        f"""
[job]
name = "invented pair"
[ground]
grade = {{ level = "bench" }}
[levels.bench]
z = "5 m"
[lines.a]
from = ["0 m", "0 m"]
to = ["9 m", "0 m"]
[lines.b]
from = ["0 m", "0 m"]
to = ["{9 * cos(turn):.6f} m", "{9 * sin(turn):.6f} m"]
[mixes.m]
strength = "4000 psi"
[piers.one]
along = "0.7 m"
across = "0.5 m"
top = {{ level = "bench", up = "0.3 m" }}
height = "0.9 m"
pad = {{ along = "{over:.6f} m", across = "1.1 m", thick = "0.3 m", shift = {{ back = "0.2 m" }} }}
place = [ {{ along = "a", ahead = "1 m" }}, {{ from = "a", left = "1 m" }}, {{ turn = "b" }} ]
mix = "m"
[piers.two]
{second.format(flats)}
top = {{ level = "bench", up = "0.1 m" }}
height = "1 m"
pad = {{ along = "1.2 m", across = "{over:.6f} m", thick = "0.3 m" }}
place = [ {{ along = "a", from = "one", ahead = "{away:.6f} m" }}, {{ from = "a", left = "2 m" }}, {{ turn = "b" }} ]
mix = "m"
[beams.tie]
between = ["one", "two"]
wide = "{wide:.6f} m"
deep = "{deep:.6f} m"
top = {{ level = "bench", {up} }}
mix = "m"
"""
    )
    work = build(job)
    together = manifold3d.Manifold()
    for body in work.bodies:
        if body.outline.kind == "round":
            n, radius = 1500, body.outline.along / 2
            round_one = manifold3d.Manifold.cylinder(body.height, radius, radius, n)
            solid = round_one.translate((body.frame.x, body.frame.y, body.bottom))
        else:
            solid = manifold3d.Manifold.hull_points(np.column_stack(body.solid().vertices))
        together += solid
    assert sum(body.volume for body in work.bodies) == pytest.approx(together.volume(), rel=2e-5)
    assert all(body.shared <= body.gross + 1e-9 for body in work.bodies)


def test_a_beam_through_a_pad_leaves_the_shared_part_to_the_earlier_lift(gate):
    # The tie's top is 0.2 m above the pads' tops, its underside 0.1 m above their undersides.
    shared = 0.3 * 0.36 * ((0.7 + 0.12 - 0.28) + (0.7 - 0.12 - 0.28))
    pads_first = build(gate('[pour]\nlifts = [ { of = ["pads"] }, { of = ["tie"] } ]'))
    beam_first = build(gate('[pour]\nlifts = [ { of = ["tie"] }, { of = ["pads"] } ]'))
    assert pads_first.beams["tie"].body.shared == pytest.approx(shared)
    assert [pier.pad.shared for pier in pads_first.piers.values()] == [0, 0]
    assert beam_first.beams["tie"].body.shared == 0
    assert sum(pier.pad.shared for pier in beam_first.piers.values()) == pytest.approx(shared)
    assert sum(b.volume for b in pads_first.bodies) == pytest.approx(sum(b.volume for b in beam_first.bodies))


# ---- lifts ----


def lifts_of(job):
    return [[body.name for body in lift.bodies] for lift in build(job).lifts]


def test_each_block_is_in_one_lift_in_the_order_of_the_file(gate):
    ground = ["west pad", "east pad", "tie"]
    assert lifts_of(gate()) == [ground, ["west", "east"]]
    described = (
        '[pour]\nlifts = [ { of = ["pads", "tie"], slump = "3 in" }, { of = ["west", "east"], slump = "6 in" } ]'
    )
    assert lifts_of(gate(described)) == [ground, ["west", "east"]]
    lifts = build(gate(described)).lifts
    assert [lift.slump for lift in lifts] == pytest.approx([3 * INCH, 6 * INCH])
    assert [lift.name for lift in lifts] == ["lift 1", "lift 2"]
    assert lifts[0].volume == pytest.approx(sum(body.volume for body in lifts[0].bodies))


def test_a_pad_nobody_names_goes_with_its_shaft_and_the_rest_comes_last(gate):
    assert lifts_of(gate('[pour]\nlifts = [ { of = ["west"] } ]')) == [
        ["west pad", "west"],
        ["east pad", "tie"],
        ["east"],
    ]
    assert lifts_of(gate('[pour]\nlifts = [ { of = ["east pad"] }, { of = ["piers"] } ]')) == [
        ["east pad"],
        ["west pad", "west", "east"],
        ["tie"],
    ]


def test_a_lift_of_two_mixes_is_two(gate):
    thin = '[mixes.thin]\nstrength = "3000 psi"\nslump = "5 in"\n'
    lifts = build(gate(thin, put={'20 cm"] }\nmix = "stiff"': '20 cm"] }\nmix = "thin"'})).lifts
    assert [(lift.mix, [b.name for b in lift.bodies]) for lift in lifts] == [
        ("stiff", ["west pad", "east pad"]),
        ("thin", ["tie"]),
        ("stiff", ["west", "east"]),
    ]
    assert lifts[1].slump == pytest.approx(5 * INCH)


# ---- levels and what was found ----


def test_a_pier_stands_on_its_pad(gate):
    work = build(gate())
    west = work.piers["west"]
    assert (west.top, west.shaft.bottom, west.pad.top, west.pad.bottom) == pytest.approx((10.2, 9.2, 9.2, 8.8))
    assert west.foot is west.pad
    assert (west.shaft.against, west.pad.against, work.beams["tie"].body.against) == ("form", "earth", "earth")


def test_a_beam_runs_clear_between_the_faces(gate):
    work = build(gate())
    beam, west, east = work.beams["tie"], work.piers["west"], work.piers["east"]
    assert beam.body.outline.along == pytest.approx(east.frame.y - west.frame.y - 0.56)
    assert (beam.frame.x, beam.frame.turn) == pytest.approx((9.0, pi / 2))
    assert (beam.body.top, beam.body.bottom) == pytest.approx((9.4, 8.9))


def test_a_hole_found_deeper_and_wider_holds_more(gate):
    planned = build(gate()).piers["west"].pad
    found = build(gate('[found.piers.west]\npad = { thick = "0.45 m", over = "5 cm" }')).piers["west"].pad
    assert found.top == planned.top
    assert found.gross == pytest.approx(planned.gross * 0.45 / 0.4)
    assert (planned.overdug, found.overdug) == pytest.approx((0, (1.5 * 1.3 - 1.4 * 1.2) * 0.45))


def test_a_beam_found_off_its_line_moves_across(gate):
    planned = build(gate()).beams["tie"]
    found = build(gate('[found]\ndone = ["west"]\n[found.beams.tie]\nshift = { across = "5 cm" }')).beams["tie"]
    assert found.off == pytest.approx(0.05)
    assert found.frame.x == pytest.approx(planned.frame.x - 0.05)
    assert found.body.gross == pytest.approx(planned.body.gross)


def test_cover_follows_the_code_the_plan_and_what_was_found_by_face(gate):
    work = build(gate('[found.piers.west]\nbars = { cover = { north = "1 1/4 in" } }'))
    west = work.piers["west"]
    assert (west.cover, west.pad_cover, work.beams["tie"].cover) == pytest.approx((1.5 * INCH, 3 * INCH, 3 * INCH))
    assert west.cover_found == {"north": pytest.approx(1.25 * INCH)}
    assert "piers.west.bars.cover" in {assumption.path for assumption in work.assumed}
    said = gate('[found.piers.west.bars.cover]\nsouth = "1 in"', put={'"#3 @ 25 cm"]': '"#3 @ 25 cm"], cover = "2 in"'})
    assert build(said).piers["west"].cover == pytest.approx(2 * INCH)


def test_soil_values_that_are_left_out_come_from_the_table(gate):
    soil = build(gate()).soil
    assert (soil.bearing, soil.side) == pytest.approx((2000 * 47.88, 150 * 157.09), rel=1e-3)
    assert soil.friction == 0.25 and np.isnan(soil.cohesion)
    given_soil = build(gate(put={'class = "sand"': 'class = "clay", bearing = "1000 psf", friction = 0.3'})).soil
    assert given_soil.bearing == pytest.approx(1000 * 47.88, rel=1e-3)
    assert given_soil.friction == 0.3 and np.isnan(given_soil.cohesion)


# ---- what stands on it ----


def test_a_post_stands_on_its_grout_and_a_cast_in_one_in_its_socket(gate):
    work = build(
        gate(
            """
[piers.foot]
round = "0.4 m"
top = { above = "ground", up = "5 cm" }
bottom = { below = "ground", down = "1 m" }
place = [ { along = "gate", from = "east", ahead = "3 m" }, { from = "gate", left = "0 in" } ]
mix = "stiff"
[posts.guide]
section = "Pipe 4 STD"
set = { in = "foot", deep = "0.7 m" }
height = "1.5 m"
"""
        )
    )
    hinge, guide = work.posts["hinge"], work.posts["guide"]
    assert (hinge.foot_z, hinge.base_z, hinge.top_z) == pytest.approx((10.2 + INCH, 10.2, 12.2))
    assert hinge.plate.hole == hinge.bolts.rod.hole
    assert (guide.foot_z, guide.base_z, guide.top_z) == pytest.approx((9.15, 9.85, 11.35))
    assert guide.plate is None and guide.bolts is None and guide.socket == pytest.approx(0.7)
    assert np.isnan(hinge.socket)


def test_a_leaf_knows_which_way_it_runs_and_gets_hinges_where_none_are_given(gate):
    leaf = build(gate()).leaves["leaf"]
    assert (leaf.hinge_post, leaf.latch_post, leaf.toward, leaf.turn) == ("hinge", "latch", 1, pytest.approx(pi / 2))
    assert (leaf.low, leaf.high) == pytest.approx((leaf.clear + 0.25, leaf.clear + 1.25))
    back = gate(
        put={'hung = { on = "hinge"': 'hung = { on = "latch"', 'shuts = { on = "latch"': 'shuts = { on = "hinge"'}
    )
    leaf = build(back).leaves["leaf"]
    assert (leaf.toward, leaf.turn) == (-1, pytest.approx(-pi / 2))


def test_a_sign_hangs_above_the_ground_and_a_machine_stands_on_its_slab(gate):
    work = build(
        gate(
            """
[pads.base]
along = "1 m"
across = "0.8 m"
thick = "0.2 m"
edges = { top = "1 cm" }
top = { level = "bench", up = "5 cm" }
place = [ { along = "gate", from = "east", ahead = "2 m" }, { from = "gate", right = "1 m" }, { turn = "gate" } ]
mix = "stiff"
bars = { along = "4 #4", across = "5 #4", at = "bottom", cover = "2 in" }
[machines.pump]
on = "base"
weight = "200 lb"
shift = { along = "10 cm", right = "5 cm" }
joint = { plate = ["0.5 m", "0.3 m", "1/2 in"], bolts = "4 x 1/2 in F1554-36", rows = ["0.4 m", "0.2 m"], deep = "8 in", proud = "3 in" }
[signs.board]
on = "latch"
face = ["1 m", "0.5 m"]
bottom = { above = "ground", up = "1 m" }
weight = "20 lb"
"""  # noqa: E501
        )
    )
    base, pump = work.slabs["base"], work.machines["pump"]
    assert (base.top, base.body.bottom, base.body.part) == (pytest.approx(10.05), pytest.approx(9.85), "slab")
    assert base.frame.into(pump.frame.x, pump.frame.y) == pytest.approx((0.1, -0.05))
    assert work.chains["base"][-1].value == pytest.approx(0.1)
    assert work.chains["base"][-1].across == pytest.approx(-0.05)
    assert pump.bolts.y == pytest.approx([0.1, 0.1, -0.1, -0.1])
    assert base.bars[0].z[0, 0] == pytest.approx(9.85 + 2.25 * INCH)
    assert work.signs["board"].bottom_z == pytest.approx(10.8)
    assert [body.name for body in work.lifts[0].bodies] == ["west pad", "east pad", "base", "tie"]


def test_what_cannot_stand_is_said_and_never_built(gate):
    square = """
[lines.across]
from = ["0 m", "0 m"]
to = ["0 m", "10 m"]
[piers.lost]
round = "0.4 m"
top = { above = "ground", up = "0 m" }
height = "1 m"
place = [ { along = "lane", ahead = "3 m" }, { from = "across", left = "0 in" } ]
mix = "stiff"
"""
    with pytest.raises(JobError, match="piers.lost.place"):
        build(gate(square))
    with pytest.raises(JobError, match="not above its bottom"):
        build(gate(put={'height = "1 m"': 'bottom = { above = "ground", up = "3 m" }'}))
    with pytest.raises(JobError, match="west and east leave nothing between them"):
        build(gate(put={'size = ["4 m", "1.5 m"]': 'size = ["0.2 m", "1.5 m"]'}))


PIPE = """
[pipes.power]
pipe = "1 in PVC 40"
route = [
    { up_in = "west", along = "10 cm", across = "2 cm", to = "15 cm above top" },
    { in = "tie", side = "left", from_bottom = "15 cm" },
    { up_in = "east", along = "-10 cm", across = "2 cm", to = "15 cm above top" },
]
"""


def test_a_pipe_goes_down_along_inside_the_ties_and_up(gate):
    work = build(gate(PIPE))
    pipe, beam = work.pipes["power"], work.beams["tie"]
    x, y = beam.frame.into(pipe.x, pipe.y)
    half = beam.body.outline.along / 2
    side = 0.18 - 3 * INCH - 0.375 * INCH - pipe.size.outside / 2
    assert x == pytest.approx([-half - 0.18, -half - 0.18, -half, half, half + 0.18, half + 0.18])
    assert y == pytest.approx([0.02, 0.02, side, side, 0.02, 0.02])
    assert pipe.z == pytest.approx([10.35, 9.05, 9.05, 9.05, 9.05, 10.35])
    assert pipe.through == ("west", "tie", "east")


# ---- laws ----


def turned(job, turn, x, y):
    """The same job on a plan that is turned and moved: only marks and points carry coordinates."""

    def moved(point):
        return (x + point[0] * cos(turn) - point[1] * sin(turn), y + point[0] * sin(turn) + point[1] * cos(turn))

    lines = {
        name: replace(line, to=moved(line.to)) if isinstance(line.to, tuple) else line
        for name, line in job.lines.items()
    }
    marks = {name: replace(mark, at=moved(mark.at)) for name, mark in job.marks.items()}
    return replace(job, lines=lines, marks=marks)


@given(st.floats(-7, 7), st.floats(-500, 500), st.floats(-500, 500))
@settings(max_examples=25)
def test_moving_or_turning_the_whole_job_changes_coordinates_only(gate, turn, x, y):
    job = gate(PIPE + '[posts.hinge.shift]\nalong = "2 cm"\nright = "1 cm"')
    plan, moved = build(job), build(turned(job, turn, x, y))
    into = Frame(x=x, y=y, turn=turn)
    for ours, theirs in zip(plan.bodies, moved.bodies):
        assert into.into(theirs.frame.x, theirs.frame.y) == pytest.approx((ours.frame.x, ours.frame.y), abs=1e-9)
        assert cos(theirs.frame.turn - ours.frame.turn - turn) == pytest.approx(1)
        assert (theirs.volume, theirs.shared, theirs.top, theirs.bottom) == pytest.approx(
            (ours.volume, ours.shared, ours.top, ours.bottom), abs=1e-9
        )
    pipe = moved.pipes["power"]
    assert np.ravel(into.into(pipe.x, pipe.y)) == pytest.approx(
        np.ravel((plan.pipes["power"].x, plan.pipes["power"].y)), abs=1e-9
    )
    for name, chain in plan.chains.items():
        assert [s.value for s in moved.chains[name]] == pytest.approx([s.value for s in chain], abs=1e-9)
    for name in ("west", "tie"):
        bars = zip({**plan.piers, **plan.beams}[name].bars, {**moved.piers, **moved.beams}[name].bars)
        assert all(np.allclose(getattr(a, v), getattr(b, v)) for a, b in bars for v in "xyz")
    assert moved.leaves["leaf"].toward == 1


def numbers(thing, path=()):
    """Every number of a record with its path, without bars that are not laid yet."""
    if is_dataclass(thing):
        for f in fields(thing):
            yield from numbers(getattr(thing, f.name), (*path, f.name))
    elif isinstance(thing, dict):
        for name, member in thing.items():
            yield from numbers(member, (*path, name))
    elif isinstance(thing, tuple):
        for n, member in enumerate(thing):
            yield from numbers(member, (*path, n))
    elif isinstance(thing, (float, np.ndarray, np.floating)):
        yield path, thing


def test_a_batch_of_variants_is_what_single_jobs_are(gate):
    found = """
[found.piers.west]
shift = { across = "4 cm" }
[found.posts.hinge.bolts]
1 = { at = ["11 cm", "10 cm"], proud = "4 in" }
"""
    slope = {'down = "0.2 m"': 'down = "0.5 m", falls = { along = "gate", one_in = 20 }'}
    slope['height = "1 m"'] = 'bottom = { below = "ground", down = "40 cm" }'
    job = gate(PIPE + found, put=slope)
    v = 4
    random = np.random.default_rng(3)

    def varied(job, pick):
        west, east, tie, leaf = job.piers["west"], job.piers["east"], job.beams["tie"], job.leaves["leaf"]
        west = replace(
            west,
            along=pick(0.5, 0.7),
            pad=replace(west.pad, along=pick(1.2, 1.6), over=pick(0, 0.1)),
            place=(replace(west.place[0], ahead=pick(7, 9)), *west.place[1:]),
            shift=west.shift and replace(west.shift, across=pick(0, 0.1)),
        )
        grade = job.ground.grade
        ground = replace(
            job.ground, grade=replace(grade, down=pick(0.4, 0.6), falls=replace(grade.falls, one_in=pick(15, 40)))
        )
        lane = replace(job.lines["lane"], to=(31.0, pick(-5, 5)))
        bolts = job.posts["hinge"].bolts
        bolts = {n: replace(bolt, at=(pick(0.09, 0.11), 0.1), proud=pick(0.09, 0.12)) for n, bolt in bolts.items()}
        return replace(
            job,
            ground=ground,
            lines={**job.lines, "lane": lane},
            piers={"west": west, "east": replace(east, along=pick(0.5, 0.7))},
            beams={"tie": replace(tie, deep=pick(0.4, 0.6), top=replace(tie.top, down=pick(0.5, 0.9)))},
            leaves={"leaf": replace(leaf, size=(pick(3, 5), 1.5), weight=pick(900, 2000))},
            posts={**job.posts, "hinge": replace(job.posts["hinge"], bolts=bolts)},
        )

    drawn = []

    def many(low, high):
        drawn.append(random.uniform(low, high, v))
        return drawn[-1]

    def whole(pick):
        return replace(varied(job, pick), planned=varied(job.planned, pick))

    batch = build(whole(many))
    ours = dict(numbers(batch))
    for n in range(v):
        values = iter([float(values[n]) for values in drawn])
        single = build(whole(lambda low, high, values=values: next(values)))
        theirs = dict(numbers(single))
        assert ours.keys() == theirs.keys()
        for path, value in theirs.items():
            mine = np.asarray(ours[path])
            mine = mine[..., n] if mine.ndim > np.ndim(value) else mine
            assert mine == pytest.approx(value, rel=1e-9, abs=1e-9, nan_ok=True), path
        assert [np.asarray(b.volume)[..., n] for b in batch.bodies] == pytest.approx([b.volume for b in single.bodies])


def test_plain_numbers_stay_plain_numbers():
    frame = Frame(x=1.0, y=2.0, turn=0.5)
    assert all(type(value) is float for value in (*frame.out(1.0, 2.0), *frame.into(3.0, 4.0)))
