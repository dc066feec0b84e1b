"""Is a stepped pad what its blocks are, wherever it stands, and is one that cannot stand named?"""

from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from batterboard.job import JobError
from batterboard.phases import forms
from batterboard.phases.size import stands
from batterboard.plan import Plan
from batterboard.quantity import inch
from batterboard.standards import buoyancy
from batterboard.study.sweep import sweep, varied
from batterboard.views import summary
from batterboard.views.tables import holding
from batterboard.work.build import build
from batterboard.work.overlap import shared_volume

PLAIN = 'thick = "0.4 m", shift = { along = "0.12 m" } }'
LOW = '{ along = "1 m", across = "0.9 m", thick = "0.2 m", shift = { along = "0.05 m" } }'
HIGH = '{ along = "0.8 m", across = "0.7 m", thick = "0.15 m" }'
STEPPED = {PLAIN: PLAIN[:-2] + f", steps = [{LOW}, {HIGH}] }}"}
LIFTS = '\n[pour]\nlifts = [{ of = ["west pad", "east pad"] }, { of = ["west step 1", "east step 1"] }]\n'


@pytest.fixture(scope="module")
def stepped(gate):
    return gate(put=STEPPED)


def with_steps(gate, *steps):
    return gate(put={PLAIN: PLAIN[:-2] + f", steps = [{', '.join(steps)}] }}"})


def boxes(job):
    return forms.boxes(build(job), job.pour, job.mixes, job.stock)


def west_of(job):
    return build(job).piers["west"]


def test_a_pier_stands_on_its_uppermost_step_and_keeps_its_own_levels(gate, stepped):
    plain, west = west_of(gate()), west_of(stepped)
    assert (west.shaft.bottom, west.top) == (plain.shaft.bottom, plain.top)
    assert [body.name for body in west.bodies] == ["west pad", "west step 1", "west step 2", "west"]
    for below, body in zip(west.bodies, west.bodies[1:]):
        assert body.bottom == below.top
    assert west.foot.bottom == approx(plain.foot.bottom - 0.35)


def test_its_volume_is_that_of_its_solids_and_nothing_counts_twice(stepped):
    west = west_of(stepped)
    for body in west.bodies:
        assert body.gross == approx(body.solid().volume, rel=1e-12)
        assert body.shared == 0.0
    assert sum(body.gross for body in west.bodies[:-1]) == approx(1.4 * 1.2 * 0.4 + 1.0 * 0.9 * 0.2 + 0.8 * 0.7 * 0.15)
    tie = build(stepped).beams["tie"].body
    assert tie.shared == approx(
        sum(shared_volume((tie, body)) for p in build(stepped).piers.values() for body in p.bodies)
    )


def test_its_steps_move_and_turn_with_the_pier(gate, stepped):
    moved = gate(
        put={**STEPPED, 'at = ["1 m", "2 m"]': 'at = ["7 m", "5 m"]', 'to = ["31 m", "2 m"]': 'to = ["7 m", "35 m"]'}
    )
    for one, other in zip(west_of(stepped).bodies, west_of(moved).bodies, strict=True):
        assert west_of(stepped).frame.into(one.frame.x, one.frame.y) == approx(
            west_of(moved).frame.into(other.frame.x, other.frame.y), abs=1e-9
        )
        assert one.gross == approx(other.gross, rel=1e-12)


def test_variants_of_a_step_are_each_alone(stepped):
    sizes = np.array([0.9, 1.0, 1.1])
    changes = {f"piers.west.pad.steps.0.{key}": sizes for key in ("along", "thick")}
    many = west_of(varied(stepped, changes))
    answers = sweep(stepped, changes)
    for number, size in enumerate(sizes):
        alone = varied(stepped, dict.fromkeys(changes, float(size)))
        for body, one in zip(many.bodies, west_of(alone).bodies, strict=True):
            assert np.broadcast_to(body.gross, 3)[number] == approx(one.gross, rel=1e-12)
            assert np.broadcast_to(body.bottom, 3)[number] == approx(one.bottom)
        single = sweep(alone, {"piers.west.pad.steps.0.along": np.array([size])})
        for answer, same in zip(answers, single, strict=True):
            assert answer.demand[number] == approx(same.demand[0], rel=1e-9, abs=1e-9, nan_ok=True)


def test_soil_stands_on_the_ledges_and_nowhere_else(stepped):
    """What is over the pad is as much soil as its column to the ground holds beside the concrete."""
    work = build(stepped)
    west = work.piers["west"]
    dead = {name: p.dead for name, p in stands(work, stepped.site.wind, stepped.mixes).loads.items()}
    heavier = replace(work, soil=replace(work.soil, weight=work.soil.weight + 1000.0))
    more = stands(heavier, stepped.site.wind, stepped.mixes).loads["west"].dead
    column = west.foot.outline.area * (9.8 - west.foot.top)
    buried = 1.0 * 0.9 * 0.2 + 0.8 * 0.7 * 0.15 + west.shaft.outline.area * (9.8 - west.shaft.bottom)
    assert np.ravel(more.down - dead["west"].down)[0] == approx(1000.0 * (column - buried), rel=1e-9)
    # Of what it leans about the pad's middle, each block takes its own share away.
    arm = 1.0 * 0.9 * 0.2 * (0.05 - 0.12) + (buried - 1.0 * 0.9 * 0.2) * -0.12
    assert np.ravel(more.tips_along - dead["west"].tips_along)[0] == approx(-1000.0 * arm, rel=1e-6)


def test_a_step_that_stands_out_of_the_ground_is_earth_free_above_it(gate):
    """Its pad from 9.3 m, the step from 9.7 to 9.9 m, the ground at 9.8 m."""
    job = gate(put={PLAIN: PLAIN[:-2] + f", steps = [{LOW}] }}", 'height = "1 m"': 'height = "0.3 m"'})
    work = build(job)
    heavier = replace(work, soil=replace(work.soil, weight=work.soil.weight + 1000.0))
    one, other = (stands(w, job.site.wind, job.mixes).loads["west"].dead.down for w in (work, heavier))
    assert np.ravel(other - one)[0] == approx(1000.0 * (1.4 * 1.2 - 1.0 * 0.9) * 0.1, rel=1e-9)


# ---- lifts ----


def test_a_step_goes_with_its_pad_unless_a_lift_names_it(gate, stepped):
    assert [body.name for body in build(stepped).lifts[0].bodies][:3] == ["west pad", "west step 1", "west step 2"]
    work = build(gate(LIFTS, put=STEPPED))
    assert [[body.name for body in lift.bodies] for lift in work.lifts][:2] == [
        ["west pad", "east pad"],
        ["west step 1", "west step 2", "east step 1", "east step 2"],
    ]


@pytest.mark.parametrize("of", ['["west step 1"] }, { of = ["west pad"]', '["west"] }, { of = ["west step 2"]'])
def test_a_lift_cannot_place_what_has_nothing_to_stand_on(gate, of):
    with pytest.raises(JobError, match="before west (pad|step 2) that it stands on") as caught:
        build(gate(f"\n[pour]\nlifts = [{{ of = {of} }}]\n", put=STEPPED))
    assert caught.value.problems[0].mark.line > 1


def test_a_cast_pad_has_its_steps(gate):
    job = gate('\n[found]\ndone = ["west pad"]\n', put=STEPPED)
    assert [body.cast for body in west_of(job).bodies] == [True, True, True, False]


# ---- its form ----


def test_the_form_of_a_step_floats_on_the_pad_by_its_edges(stepped):
    box = next(box for box in boxes(stepped).boxes if box.name == "west step 1")
    w = stepped.mixes["stiff"].weight
    # Both steps are filled in one go, so that the head reaches to the top of the upper one.
    assert box.uplift.lift == approx(w * (0.2 + 0.15) * 2 * (1.0 + 0.9) * 23 / 32 * inch)
    assert box.uplift.lift == approx(buoyancy.edge_lift(w, 0.35, 3.8, 23 / 32 * inch))
    assert box.uplift.stakes * box.uplift.stake >= box.uplift.lift - box.uplift.weight
    assert box.lateral.peak == approx(w * 0.35)
    assert box.kind == "box"
    assert box.brace is None


def test_a_step_filled_with_its_pad_is_judged_at_once_and_by_itself_it_waits(gate, stepped):
    names = {(c.name, c.element) for c in boxes(stepped).checks}
    assert {("at_once", "west step 1"), ("at_once", "west step 2")} <= names
    wetter = {**STEPPED, 'slump = "4 in"': 'slump = "6 in"'}
    late = gate(LIFTS.replace(" }]", ' }, { of = ["west step 2", "east step 2"] }]'), put=wetter)
    feet = {foot.name: foot for foot in boxes(late).feet}
    assert (feet["west step 1"].pad, feet["west step 2"].pad) == ("west pad", "west step 1")
    assert feet["west step 1"].head == approx(0.2)
    assert feet["west step 1"].late > 0
    assert feet["west"].pad == "west step 2"


def test_a_pier_filled_through_a_covered_step_presses_on_the_pad(gate):
    covered = '\n[pour]\nlifts = [{ of = ["west pad", "east pad"], covered = true }]\n'
    feet = {foot.name: foot for foot in boxes(gate(covered, put=STEPPED)).feet}
    assert feet["west step 1"].head == approx(0.35 + 1.0)


def test_forms_of_steps_close(stepped):
    pieces = Plan(stepped).pieces
    steps = [form for form in pieces.forms if " step " in form.name]
    assert len(steps) == 4
    for form in steps:
        assert form.closure is not None
        assert form.closure.closes
        assert abs(form.closure.gap) < 1e-9
        assert abs(form.closure.overlap) < 1e-9
        assert {panel.mark for panel in form.panels} == {f"{form.name} {mark}" for mark in ("A1", "A2", "B1", "B2")}


# ---- what cannot be ----


@pytest.mark.parametrize(
    ("steps", "said"),
    [
        (['{ along = "1.5 m", across = "0.9 m", thick = "0.2 m" }'], "step 1 reaches past the pad by"),
        (['{ along = "1 m", across = "0.9 m", thick = "0.2 m", shift = { back = "0.2 m" } }'], "reaches past the pad"),
        ([LOW, '{ along = "1.05 m", across = "0.7 m", thick = "0.2 m" }'], "step 2 reaches past step 1"),
        (['{ along = "1.4 m", across = "1.2 m", thick = "0.2 m", shift = { along = "0.12 m" } }'], "no step"),
        (['{ along = "0.5 m", across = "0.9 m", thick = "0.2 m" }'], "the pier reaches past step 1 by 30 mm"),
        (['{ along = "1 m", across = "0.9 m", thick = "-0.2 m" }'], "thick"),
    ],
)
def test_a_step_that_cannot_stand_is_named_with_its_place(gate, steps, said):
    with pytest.raises(JobError) as caught:
        with_steps(gate, *steps)
    found = caught.value.problems[0]
    assert said in str(found)
    assert found.mark.line > 1
    assert found.mark.column > 1


def test_a_step_of_a_pier_that_has_none_is_no_lift(gate):
    with pytest.raises(JobError, match="west step 3"):
        gate('\n[pour]\nlifts = [{ of = ["west step 3"] }]\n', put=STEPPED)


# ---- what it shows ----


def test_the_book_tells_of_the_step(stepped):
    plan = Plan(stepped)
    assert "with a step" in str(summary.built(plan))
    assert "west step 1" in str(holding.feet(plan))
