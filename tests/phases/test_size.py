"""Will it stand, and will the leaf still latch?"""

from dataclasses import MISSING, fields, replace

import numpy as np
import pytest

from batterboard.job.schema import Mix, Wind
from batterboard.methods import contact
from batterboard.phases import size
from batterboard.quantity import ft, inch, kip, mph, pcf, pci, psf, psi
from batterboard.standards import asce7, ibc, statics, tables
from batterboard.work.ground import Ground
from batterboard.work.records import (
    Beam,
    Body,
    Frame,
    Leaf,
    Machine,
    Outline,
    Pier,
    Plate,
    Post,
    Sign,
    Slab,
    Soil,
    Work,
)

MIXES = {"stiff": Mix(strength=4000 * psi)}
WIND = Wind(speed=110 * mph, exposure="C")
SAND = Soil(
    name="sandy gravel", bearing=3000 * psf, side=200 * psf / ft, friction=0.35, cohesion=np.nan, stiff=100 * pci,
    weight=110 * pcf, swell=1.25, slope="C", origin="table",
)  # fmt: skip
CLAY = replace(SAND, name="clay", bearing=1500 * psf, friction=np.nan, cohesion=130 * psf)


def made(kind, **given):
    """A record with what this phase reads; the rest is left open."""
    needed = {f.name for f in fields(kind) if f.default is MISSING and f.default_factory is MISSING}
    return kind(**dict.fromkeys(needed - set(given)) | given)


def body(name, along, across, bottom, top, x=0.0, part="pad", kind="rectangle"):
    outline = Outline(kind=kind, along=along, across=across)
    frame = Frame(x=x, y=0.0, turn=0.0)
    return made(
        Body, name=name, element=name, part=part, outline=outline, frame=frame, bottom=bottom, top=top, mix="stiff"
    )  # fmt: skip


def pier(name, x, pad_along=54 * inch, pad_across=48 * inch, shift=0.0, pad=True, round_=False, depth=40 * inch):
    shaft = body(name, 22 * inch, 22 * inch, 8 * inch - depth, 8 * inch, x, "pier", "round" if round_ else "rectangle")
    under = body(name + " pad", pad_along, pad_across, -48 * inch, -32 * inch, x + shift) if pad else None
    return made(Pier, name=name, shaft=shaft, pad=under)


PLATE = made(Plate, along=12 * inch, across=12 * inch, thick=0.75 * inch)


def post(name, on, x, section="HSS5X5X1/4", height=84 * inch):
    return made(
        Post, name=name, on=on, frame=Frame(x=x, y=0.0, turn=0.0), section=tables.section(section), foot_z=9 * inch,
        base_z=8 * inch, top_z=8 * inch + height, plate=PLATE,
    )  # fmt: skip


def leaf(**changes):
    one = made(
        Leaf, name="leaf", hinge_post="hinge", latch_post="latch", meets="latch", toward=1, turn=0.0, length=13 * ft,
        height=5 * ft, weight=380 * pound_force, solid=0.35, clear=4 * inch, low=14 * inch, high=62 * inch,
        hinge_gap=2.5 * inch, latch_gap=1 * inch, play=0.5 * inch, opens_to=np.pi / 2, swings="in",
        person=250 * pound_force,
    )  # fmt: skip
    return replace(one, **changes)


pound_force = float(kip) / 1000


def work(piers, posts=(), leaves=(), beams=(), soil=SAND, signs=(), machines=(), slabs=(), ground=0.0):
    def named(things):
        return {thing.name: thing for thing in things}

    flat = made(Ground, x=np.zeros(1), y=np.zeros(1), z=np.full(1, ground), slope_x=0.0, slope_y=0.0)
    return made(
        Work, soil=soil, ground=flat, piers=named(piers), slabs=named(slabs), beams=named(beams), posts=named(posts),
        leaves=named(leaves), signs=named(signs), machines=named(machines),
    )  # fmt: skip


GAP = 15 * ft + 3 * inch


def gate(tied=False, soil=SAND, hinge=None, **changes):
    between = body("tie", GAP - 22 * inch, 14 * inch, -20 * inch, 0.0, GAP / 2, "beam")
    beam = made(Beam, name="tie", between=("west", "east"), body=between)
    return work(
        [hinge or pier("west", 0.0), pier("east", GAP)],
        [post("hinge", "west", 0.0), post("latch", "east", GAP)],
        [leaf(**changes)],
        [beam] if tied else [],
        soil,
    )


def by_name(answer, name, element):
    return next(c for c in answer.checks if c.name == name and c.element == element)


def checked(work_, wind=WIND):
    return size.stands(work_, wind, MIXES)


# ---- soil pressure and lift-off ----


def test_soil_pressure_is_continuous_where_the_heel_lifts():
    P, B, L = 60e3, 1.2, 1.4
    before, after = P * L / 6 * (1 - 1e-9), P * L / 6 * (1 + 1e-9)
    assert statics.peak_soil_pressure(P, before, B, L) == pytest.approx(statics.peak_soil_pressure(P, after, B, L))


def test_an_overturned_footing_has_no_pressure():
    P, B, L = 60e3, 1.2, 1.4
    M = P * L / 2 * np.array([0.999, 1.0, 1.001, 50.0])
    q = statics.peak_soil_pressure(P, np.concatenate([M, -M]), B, L)
    assert np.isfinite(q[[0, 4]]).all() and np.isnan(q[[1, 2, 3, 5, 6, 7]]).all()


def test_a_footing_tipped_one_way_is_the_same_by_both_formulas():
    P, B, L = 60e3, 1.2, 1.4
    M = np.linspace(-0.499, 0.499, 101) * P * L
    for u, v, b, l in ((M / P / L, 0 * M, B, L), (0 * M, M / P / L, L, B)):
        q = statics.corner_pressure(P, b, l, *contact.falling(u, v))
        assert q == pytest.approx(statics.peak_soil_pressure(P, M, B, L), rel=1e-7)


def test_the_pressure_is_in_balance_with_the_load_wherever_it_stands():
    """Summed over a fine grid, for every shape of the contact."""
    rng = np.random.default_rng(7)
    u, v = rng.uniform(0, 0.45, (2, 300))
    r, t = contact.falling(u, v)
    x = (np.arange(400) + 0.5) / 400
    p = np.maximum(1 - r * x[:, None, None] - t * x[:, None], 0)
    total = p.sum(axis=(0, 1))
    assert (p * x[:, None, None]).sum(axis=(0, 1)) / total == pytest.approx(0.5 - u, abs=1e-4)
    assert (p * x[:, None]).sum(axis=(0, 1)) / total == pytest.approx(0.5 - v, abs=1e-4)
    q = statics.corner_pressure(1.0, 1.0, 1.0, r, t)
    assert q * total / 400**2 == pytest.approx(np.ones(300), rel=1e-4)


@pytest.mark.parametrize("u", [0.1, 1 / 6, 0.2, 0.25, 0.3, 0.45])
def test_the_pressure_has_no_steps_as_the_load_moves(u):
    v = np.linspace(0, 0.49, 20_000)
    q = statics.corner_pressure(1.0, 1.0, 1.0, *contact.falling(u, v))
    steps = np.diff(q) / q[:-1]
    assert np.isfinite(q).all() and (steps > -2e-8).all() and steps.max() < 2.6 * np.diff(v)[0] / (0.5 - v[-1])


@pytest.mark.parametrize(
    ("v", "r", "t"), [(2.45e-5, 0.99992650619, 1.46991221898e-4), (1e-3, 0.99701029378, 5.98541246491e-3)]
)
def test_just_past_the_point_of_the_kern_the_pressure_is_exact(v, r, t):
    """Against the same equations solved to forty digits."""
    assert contact.falling(1 / 6, v) == (pytest.approx(r, rel=1e-10), pytest.approx(t, rel=1e-9))


def test_both_signs_of_a_moment_press_the_same():
    u, v = np.array([0.05, 0.2, 0.3]), np.array([0.1, 0.22, 0.4])
    for a, b in ((-u, v), (u, -v), (-u, -v)):
        assert np.array_equal(contact.falling(u, v), contact.falling(a, b))


# ---- loads ----


def test_the_dead_load_is_concrete_soil_post_and_leaf_by_hand():
    load = checked(gate()).loads["west"]
    concrete = (54 * 48 * 16 + 22 * 22 * 40) / 1728 * 150
    soil = (54 * 48 - 22 * 22) * 32 / 1728 * 110
    steel = tables.section("HSS5X5X1/4").weight / (pound_force / ft) * 83 / 12
    assert load.dead.down == pytest.approx(np.full((30, 1), (concrete + soil + steel + 380) * pound_force), rel=1e-9)


def test_a_leaf_presses_toward_where_it_stands():
    load = checked(gate(), wind=None).loads["west"]
    arm, axis = 6.5 * 12, 5.0
    closed, half, full = (load.cases.index(f"{place}, D") for place in ("closed", "open 45°", "open 90°"))
    along = load.dead.tips_along[:, 0] / (pound_force * inch) / 380
    across = load.dead.tips_across[:, 0] / (pound_force * inch) / 380
    s = np.sqrt(0.5)
    assert along[[closed, half, full]] == pytest.approx([axis + arm, axis + arm * s, axis])
    assert across[[closed, half, full]] == pytest.approx([0, arm * s, arm])


def test_a_leaf_that_swings_out_or_runs_back_mirrors():
    ahead = checked(gate()).loads["west"]
    out = checked(gate(swings="out")).loads["west"]
    back = checked(gate(toward=-1, turn=np.pi)).loads["west"]
    assert out.dead.tips_across == pytest.approx(-ahead.dead.tips_across)
    assert out.dead.tips_along == pytest.approx(ahead.dead.tips_along)
    assert back.dead.tips_along == pytest.approx(-ahead.dead.tips_along)
    assert back.dead.tips_across == pytest.approx(ahead.dead.tips_across)


def test_wind_on_a_leaf_goes_half_to_each_post_when_closed_and_whole_to_the_hinge_when_open():
    answer = checked(gate())
    west, east = answer.loads["west"], answer.loads["east"]
    post_wind, leaf_wind = (p.force for p in west.pushes)
    assert leaf_wind == pytest.approx(22.36 * psf * 0.85 * 1.6 * 22.75 * ft**2, rel=1e-3)
    closed = west.cases.index("closed, wind from the left, D + 0.6W")
    full = west.cases.index("open 90°, wind from the left, D + 0.6W")
    assert west.wind.across[closed, 0] == pytest.approx(-(leaf_wind / 2 + post_wind))
    assert east.wind.across[east.cases.index("closed, wind from the left, D + 0.6W"), 0] == west.wind.across[closed, 0]
    assert west.wind.along[full, 0] == pytest.approx(leaf_wind + post_wind)
    assert west.wind.across[full, 0] == pytest.approx(0, abs=1e-9)
    z = 42 * inch + 48 * inch  # the leaf's middle above the foot
    post_z = (8 + 42 + 48) * inch
    assert west.wind.tips_across[closed, 0] == pytest.approx(-(leaf_wind / 2 * z + post_wind * post_z))


def test_wind_off_the_middle_of_a_solid_leaf_gives_one_post_seven_tenths():
    answer = checked(gate(solid=1.0))
    west, east = answer.loads["west"], answer.loads["east"]
    for load in (west, east):
        on_post, on_leaf = (p.force for p in load.pushes)
        closed = load.cases.index("closed, wind from the left, D + 0.6W")
        assert load.wind.across[closed, 0] == pytest.approx(-(0.7 * on_leaf + on_post))


def test_two_leaves_that_only_latch_to_each_other_leave_all_wind_to_their_hinge_posts():
    free, bolted = (checked(gate(meets="other", held=held)) for held in (False, True))
    closed = free.loads["west"].cases.index("closed, wind from the left, D + 0.6W")
    on_post, on_leaf = (p.force for p in free.loads["west"].pushes)
    assert free.loads["west"].wind.across[closed, 0] == pytest.approx(-(on_leaf + on_post))
    assert bolted.loads["west"].wind.across[closed, 0] == pytest.approx(-(on_leaf / 2 + on_post))


def test_of_two_leaves_on_one_pier_each_opens_alone_and_carries_its_own_person():
    """Closed they balance; one swung aside, or somebody on one of them, does not."""
    one = leaf()
    other = leaf(name="other", latch_post="far", meets="far", toward=-1, turn=np.pi)
    posts = [post("hinge", "west", 0.0), post("latch", "east", GAP), post("far", "end", -GAP)]
    middle = work([pier("west", 0.0), pier("east", GAP), pier("end", -GAP)], posts, [one, other])
    load = checked(middle).loads["west"]
    assert len(set(load.cases)) == len(load.cases) == (5 + 2 * 4) * (1 + 2 + 4)
    total = load.dead.tips_along + load.f_L * load.live.tips_along
    arm = (2.5 + 2.5) * inch
    leaf_moment, person = 380 * pound_force * (6.5 * ft + arm), 250 * pound_force * (13 * ft + arm)
    cases = ("closed, D", "closed, D + person at the latch end of leaf", "other alone, open 90°, D")
    at = [load.cases.index(case) for case in cases]
    assert total[at, 0] == pytest.approx([0, person, leaf_moment - 380 * pound_force * arm], abs=1e-6)
    on_post, first, second = (p.force for p in load.pushes)
    swung = load.cases.index("other alone, open 90°, wind from the left, D + 0.6W")
    assert abs(load.wind.along[swung, 0]) == pytest.approx(on_post + second)
    assert load.wind.across[swung, 0] == pytest.approx(0, abs=1e-9)


def test_every_opening_meets_wind_from_both_sides_and_a_person():
    cases = checked(gate(opens_to=np.radians(120))).loads["west"].cases
    assert len(cases) == len(set(cases)) == 5 * 6
    for place in ("closed", "open 60°", "open 120°"):
        for rest in (
            "D",
            "D + person at the latch end",
            "wind from the right, 0.6D + 0.6W",
            "wind from the left, D + 0.6W",
        ):
            assert f"{place}, {rest}" in cases


def test_a_bare_post_meets_the_wind_from_four_sides_and_a_sign_only_square():
    mast = work([pier("mast", 0.0)], [post("mast", "mast", 0.0)], signs=[board()])
    load = checked(mast).loads["mast"]
    on_post, on_sign = (p.force for p in load.pushes)
    sides = [load.cases.index(f"wind from {way}, D + 0.6W") for way in ("the left", "the right", "ahead", "behind")]
    assert load.wind.across[sides, 0] == pytest.approx(np.array([-1, 1, 0, 0]) * (on_post + on_sign))
    assert load.wind.along[sides, 0] == pytest.approx(np.array([0, 0, -1, 1]) * on_post)


def test_without_wind_there_is_no_wind_case_and_it_is_said():
    answer = checked(gate(), wind=None)
    assert not any("wind" in case for load in answer.loads.values() for case in load.cases)
    assert size.loads.NO_WIND in answer.notes
    assert "No wind was given" in by_name(answer, "soil_pressure", "west").note


def test_moving_and_turning_the_gate_changes_nothing():
    def moved(frame):
        c, s = np.cos(0.7), np.sin(0.7)
        return Frame(x=12 + c * frame.x - s * frame.y, y=-5 + s * frame.x + c * frame.y, turn=frame.turn + 0.7)

    def turned(base):
        parts = {p: replace(getattr(base, p), frame=moved(getattr(base, p).frame)) for p in ("shaft", "pad")}
        return replace(base, **parts)

    first = gate(tied=True)
    second = replace(
        first,
        piers={n: turned(p) for n, p in first.piers.items()},
        posts={n: replace(p, frame=moved(p.frame)) for n, p in first.posts.items()},
        leaves={n: replace(x, turn=x.turn + 0.7) for n, x in first.leaves.items()},
    )
    for a, b in zip(checked(first).checks, checked(second).checks, strict=True):
        assert (a.key, a.verdict) == (b.key, b.verdict)
        assert b.worst_demand == pytest.approx(a.worst_demand, rel=1e-9, abs=1e-6)


# ---- verdicts ----


def test_a_pad_moved_under_the_leaf_is_pressed_less():
    plain = by_name(checked(gate()), "overturning_along", "west")
    moved = by_name(checked(gate(hinge=pier("west", 0.0, shift=5 * inch))), "overturning_along", "west")
    assert moved.worst_demand < plain.worst_demand
    assert moved.case != "" and moved.verdict == "holds"


def test_a_pad_too_small_fails_overturning_and_its_pressure_is_outside():
    small = pier("west", 0.0, pad_along=22 * inch, pad_across=22 * inch, depth=20 * inch)
    answer = checked(gate(hinge=small, weight=1200 * pound_force))
    assert by_name(answer, "overturning_along", "west").verdict == "fails"
    assert by_name(answer, "soil_pressure", "west").verdict == "outside"


def test_clay_holds_by_sticking_and_no_more_than_half_the_weight():
    answer = checked(gate(soil=CLAY))
    slide = by_name(answer, "sliding", "west")
    load = answer.loads["west"]
    assert slide.worst_capacity <= 0.5 * 0.6 * load.dead.down.max() * (1 + 1e-12)
    assert slide.clause.document is ibc.IBC_2021


def test_a_pier_without_a_pad_is_held_by_its_sides():
    lone = work(
        [pier("mast", 0.0, pad=False, round_=True, depth=90 * inch)], [post("mast", "mast", 0.0)], signs=[board()]
    )
    answer = checked(lone)
    depth = by_name(answer, "embedment", "mast")
    assert {c.name for c in answer.checks} == {"soil_under_foot", "embedment"}
    assert depth.worst_capacity == pytest.approx(82 * inch)
    # The depth it asks for is the one at which the soil's strength was taken.
    at = depth.steps[-1].values
    worst = int(np.argmax(depth.demand))
    assert at["d"][worst] * SAND.side / 3 == pytest.approx(at["S_1"][worst])


def test_a_bollard_that_nothing_pushes_needs_no_depth():
    bollard = checked(work([pier("bollard", 0.0, pad=False, round_=True)]))
    assert by_name(bollard, "embedment", "bollard").verdict == "holds"


def board(**changes):
    sign = made(
        Sign, name="board", on="mast", length=10 * ft, height=5 * ft, bottom_z=6 * ft, weight=420 * pound_force,
        solid=1.0,
    )  # fmt: skip
    return replace(sign, **changes)


def test_the_wind_on_a_long_sign_is_that_of_its_strips_where_they_give_more():
    answer = checked(work([pier("mast", 0.0)], [post("mast", "mast", 0.0)], signs=[board()]))
    sign = next(p for p in answer.loads["mast"].pushes if p.name == "sign board")
    C_A = asce7.case_a_coefficient(2.0, 5 / 11)
    assert asce7.case_c_coefficient(2.0) == pytest.approx((2.25 + 1.5) / 2)
    q = 0.00256 * 2.01 * (15 / 900) ** (2 / 9.5) * 0.85 * 110**2
    assert C_A < 1.875 and sign.force == pytest.approx(q * 0.85 * 1.875 * 50 * pound_force, rel=1e-9)


def test_a_machine_pushes_four_ways_and_stands_on_its_slab():
    slab = made(Slab, name="pump", body=body("pump", 4 * ft, 3 * ft, -4 * inch, 4 * inch, part="slab"))
    pump = made(
        Machine, name="pump set", on="pump", frame=Frame(x=0.0, y=0.0, turn=0.0), weight=900 * pound_force, centre=0.5,
        side=100 * pound_force,
    )  # fmt: skip
    answer = checked(work([], slabs=[slab], machines=[pump]), wind=None)
    load = answer.loads["pump"]
    assert load.cases == ("D", *(f"D + side force {way}" for way in ("ahead", "back", "left", "right")))
    assert load.live.tips_along[:, 0] == pytest.approx(
        np.array([0, 1, -1, 0, 0]) * 100 * pound_force * (0.5 + 8 * inch)
    )
    assert {c.name for c in answer.checks} == {"soil_pressure", "overturning_along", "overturning_across", "sliding"}
    assert all(c.verdict == "holds" for c in answer.checks)


# ---- movement ----


def test_the_droop_of_the_example_is_what_the_trade_says():
    """380 lb leaf of 13 ft: 0.08 in by soil of 100 pci, 0.31 in at 25; 0.26 in by a post, lower hinge 10 in up."""
    hard = checked(gate()).movements["leaf"]
    soft = checked(gate(soil=replace(SAND, stiff=25 * pci))).movements["leaf"]
    assert hard.tilt * 156 == pytest.approx(0.08, abs=0.005) and soft.tilt * 156 == pytest.approx(0.31, abs=0.005)
    low = checked(gate(low=11.75 * inch, high=59.75 * inch)).movements["leaf"]
    assert low.droop_post / inch == pytest.approx(0.26, abs=0.005)


def test_the_tie_beam_helps_most_on_soft_soil():
    for stiff, less in ((100, 4.3), (25, 13.5)):
        how = checked(gate(tied=True, soil=replace(SAND, stiff=stiff * pci))).movements["leaf"]
        assert how.tilt_alone / how.tilt == pytest.approx(less, rel=0.02)
        assert how.tilt_latch < 0 < how.tilt and how.tied_by == "tie"
        assert how.pressure_springs < how.pressure_rigid
    assert checked(gate()).movements["leaf"].tied_by == ""


def test_two_piers_alike_tied_by_a_beam_lean_as_a_solver_says():
    k, i = 7.1e6, 7.3e6
    one, two = np.linalg.solve([[k + 4 * i, 2 * i], [2 * i, 0.5 * k + 4 * i]], [3000.0, -800.0])
    assert statics.tied_tilt(3000.0, -800.0, k, 0.5 * k, i) == pytest.approx(one)
    assert statics.tied_tilt(-800.0, 3000.0, 0.5 * k, k, i) == pytest.approx(two)


def test_nothing_is_said_of_droop_once_the_heel_lifts():
    small = pier("west", 0.0, pad_along=30 * inch)
    answer = checked(gate(hinge=small, tied=True, weight=1500 * pound_force))
    assert by_name(answer, "droop", "leaf").verdict == "outside"


def test_a_leaf_on_each_post_makes_both_lean_more():
    single = checked(gate(tied=True, length=6 * ft))
    pair = gate(tied=True, length=6 * ft, meets="other", latch_post="latch")
    other = replace(
        pair.leaves["leaf"], name="other", hinge_post="latch", latch_post="hinge", meets="leaf", toward=-1, turn=np.pi
    )
    double = checked(replace(pair, leaves={"leaf": pair.leaves["leaf"], "other": other}))
    a, b = double.movements["leaf"], double.movements["other"]
    assert a.droop == pytest.approx(b.droop) and a.droop > single.movements["leaf"].droop
    # A bolt into the ground takes the other half of the wind, so the opposite post gets none of it.
    assert [p.name for p in double.loads["east"].pushes] == ["post latch", "leaf other"]


def test_a_pad_turned_across_the_gate_leans_by_its_side_along_the_gate():
    long, turned = pier("west", 0.0, 72 * inch, 36 * inch), pier("west", 0.0, 36 * inch, 72 * inch)
    across = {
        p: replace(getattr(turned, p), frame=replace(getattr(turned, p).frame, turn=np.pi / 2))
        for p in ("shaft", "pad")
    }
    one, other = (checked(gate(hinge=hinge)).movements["leaf"] for hinge in (long, replace(turned, **across)))
    assert other.tilt == pytest.approx(one.tilt) and other.pressure_rigid == pytest.approx(one.pressure_rigid)


def test_a_polygon_bears_on_the_soil_as_the_round_pier_inside_it():
    load = checked(gate(hinge=pier("west", 0.0, pad=False, depth=56 * inch))).loads["west"]
    widths = {}
    for kind in ("rectangle", "round", "polygon"):
        foot = replace(load.foot, outline=Outline(kind=kind, along=22 * inch, across=22 * inch, sides=8))
        widths[kind] = size.checks.bearing_width(replace(load, foot=foot))
    assert widths["polygon"] == widths["round"] == 22 * inch
    assert widths["rectangle"] == pytest.approx(22 * np.sqrt(2) * inch)


def test_a_pier_without_a_pad_leans_against_its_sides():
    answer = checked(gate(hinge=pier("west", 0.0, pad=False, depth=56 * inch)))
    how = answer.movements["leaf"]
    k = 100 * pci * 22 * np.sqrt(2) * inch * (48 * inch) ** 3 / 12
    assert how.tilt == pytest.approx(380 * pound_force * (78 + 5) * inch / k)


# ---- batches and the page ----


def test_ten_thousand_widths_are_ten_thousand_single_runs():
    widths = np.linspace(30, 80, 10_000) * inch
    many = checked(gate(hinge=pier("west", 0.0, pad_along=widths)))
    for at in [*range(0, 10_000, 499), 9_999]:
        one = checked(gate(hinge=pier("west", 0.0, pad_along=float(widths[at]))))
        for batch, single in zip(many.checks, one.checks, strict=True):
            assert batch.key == single.key and batch.cases == single.cases
            for name in ("worst_demand", "worst_capacity", "ratio"):
                value = np.broadcast_to(getattr(batch, name), (10_000,))[at]
                assert value == pytest.approx(getattr(single, name), rel=1e-10, abs=1e-9, nan_ok=True)
            assert np.broadcast_to(batch.holds, (10_000,))[at] == single.holds


def test_a_sweep_may_mix_solid_and_open_leaves_and_both_ways_of_hanging_on():
    solid = np.array([0.35, 0.6, 0.75, 1.0])
    many = checked(gate(solid=solid, opens_to=np.radians([90.0, 95.0, 100.0, 180.0]))).loads["west"]
    for at, (eps, to) in enumerate(zip(solid, (90.0, 95.0, 100.0, 180.0), strict=True)):
        one = checked(gate(solid=float(eps), opens_to=np.radians(to))).loads["west"]
        assert many.wind.tips_across[:, at] == pytest.approx(one.wind.tips_across[:, 0], abs=1e-6)
        assert many.dead.tips_across[:, at] == pytest.approx(one.dead.tips_across[:, 0], abs=1e-6)


def test_the_page_of_the_soil_pressure_begins_with_the_wind_and_the_leaf_with_its_weight():
    answer = checked(gate(tied=True))
    names = [step.formula.name for step in by_name(answer, "soil_pressure", "west").steps]
    assert names[:3] == ["exposure_coefficient", "velocity_pressure", "wind_force"] and names[-1] == "corner_pressure"
    names = [step.formula.name for step in by_name(answer, "droop", "leaf").steps]
    assert names[0] == "leaf_moment" and names[-1] == "total_droop" and "tied_tilt" in names


def test_service_checks_are_marked_and_every_check_names_its_clause():
    answer = checked(gate())
    assert {c.name for c in answer.checks if c.service} == {"droop", "latch_gap_closed"}
    assert all(str(c.clause) and c.clause.remark for c in answer.checks)


# ---- figures of the wind ----


def test_the_sign_figure_is_linear_between_its_lines_and_held_at_its_ends():
    assert asce7.case_a_coefficient(3.0, 0.6) == pytest.approx((1.70 + 1.70 + 1.60 + 1.60) / 4)
    assert asce7.case_a_coefficient(0.01, 0.05) == 1.95 and asce7.case_a_coefficient(99.0, 1.5) == 1.30
    x, y = np.array([[0.05], [3.0], [60.0]]), np.array([0.1, 0.5, 1.0])
    table = asce7.case_a_coefficient(x, y)
    assert table.shape == (3, 3) and table[1, 1] == asce7.case_a_coefficient(3.0, 0.5)
    assert np.isnan(asce7.case_a_coefficient(np.nan, 0.5)) and np.isnan(asce7.case_a_coefficient(1.0, np.nan))


def test_the_strips_average_over_what_there_is_of_the_sign():
    assert asce7.case_c_coefficient(1.9) == 0
    assert asce7.case_c_coefficient(4.0) == pytest.approx((2.9 + 1.9 + 1.3 + 1.1) / 4)
    assert asce7.case_c_coefficient(10.0) == pytest.approx((3.75 + 2.45 + 1.85 + 7 * 0.95) / 10)
    assert np.isnan(asce7.case_c_coefficient(11.0)) and np.isnan(asce7.case_c_coefficient(np.nan))
    both = asce7.case_c_coefficient(np.array([[1.0, 4.0], [10.0, 12.0]]))
    assert both.shape == (2, 2) and both[0, 1] == asce7.case_c_coefficient(4.0)


def test_posts_catch_more_the_slimmer_they_are():
    assert [asce7.post_coefficient("square tube", s) for s in (0.5, 7, 16, 40)] == pytest.approx([1.3, 1.4, 1.7, 2.0])
    assert [asce7.post_coefficient("pipe", s) for s in (1, 7, 25)] == [0.7, 0.8, 1.2]


@pytest.mark.parametrize(("P", "M"), [(-1.0, 1.0), (1.0, -1.0), (np.nan, 1.0), (1.0, np.nan)])
def test_a_pole_knows_no_negative_push(P, M):
    assert np.isnan(ibc.embedment_depth(P, M, 20e3, 0.4))


def test_the_depth_of_a_pole_broadcasts_and_starts_at_nothing():
    P, M = np.array([0.0, 0.0, 2000.0, 2000.0])[:, None], np.array([0.0, 3000.0])
    d = ibc.embedment_depth(P, M, 20e3, 0.4)
    assert d.shape == (4, 2) and d[0, 0] == 0 and (d[1:, 1] > 0).all()
    S_1 = ibc.lateral_strength(20e3, d[2:])
    assert ibc.pole_embedment(P[2:], M, S_1, 0.4) == pytest.approx(d[2:], rel=1e-12)
