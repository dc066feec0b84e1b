"""How warm does the block get, and what does a blanket buy?"""

from functools import cache
from pathlib import Path

import numpy as np
import pytest

from batterboard import read_job
from batterboard.phases.cure import hydrating, warmth
from batterboard.phases.cure.warmth import course
from batterboard.plan import Plan
from batterboard.quantity import day, hour
from batterboard.study.sweep import varied

EXAMPLES = Path(__file__).parents[2] / "examples"
GATE = read_job(EXAMPLES / "orchard-gate/job.toml")


@cache
def heated(name: str = "orchard-gate", **changes) -> warmth.Heat:
    job = read_job(EXAMPLES / name / "job.toml")
    return Plan(varied(job, {path.replace("__", "."): value for path, value in changes.items()})).heat


def of(heat: warmth.Heat, name: str) -> warmth.Warm:
    return next(one for one in heat.bodies if name in (one.name, *one.like))


def test_the_account_of_two_weeks_closes():
    assert heated().balance < 1e-9 and all(one.run.t[-1] == pytest.approx(14 * day) for one in heated().bodies)


def test_a_block_too_hot_for_mass_concrete_is_noted_by_name():
    hot = heated(pour__air=33.0, pour__concrete=32.0)
    passing = [one.name for one in hot.bodies if one.run.peak > one.hottest or one.run.difference > one.apart]
    assert passing and all(any(note.startswith(f"{name} passes") for note in hot.notes) for name in passing)
    assert not any("passes what" in note for note in heated().notes)


def test_piers_that_look_alike_are_warmed_once():
    assert of(heated(), "west") is of(heated(), "east")


@pytest.mark.parametrize("name", ["orchard-gate", "scoreboard", "pump-pad"])
def test_coarse_cells_and_long_steps_agree_with_fine_ones(name, monkeypatch):
    coarse = heated(name)
    monkeypatch.setattr(warmth, "CELL", 0.05)
    monkeypatch.setattr(course, "FIRST", 600.0)
    monkeypatch.setattr(course, "LONGEST", 1800.0)
    plan = Plan(read_job(EXAMPLES / name / "job.toml"))
    for rough, fine in zip(coarse.bodies, plan.heat.bodies, strict=True):
        for one, better in ((rough.run, fine.run), (rough.other, fine.other)):
            assert one.peak == pytest.approx(better.peak, abs=warmth.NUMERIC)
            assert one.difference == pytest.approx(better.difference, abs=warmth.NUMERIC)
            assert one.proof_at == pytest.approx(better.proof_at, abs=1 * hour)


@pytest.mark.parametrize("kept", ["warm", "open"])
def test_concrete_as_warm_as_all_round_it_that_makes_no_heat_stays_as_it_is(kept, monkeypatch):
    monkeypatch.setattr(hydrating.hydration, "heat_of_binder", lambda *_: 0.0)
    even = {"pour__concrete": 12.0, "pour__air": 12.0, "pour__earth": 12.0, "pour__swing": 0.0, "pour__kept": kept}
    job = varied(GATE, {path.replace("__", "."): value for path, value in even.items()})
    for one in Plan(job).heat.bodies:
        for warmth_of in (one.run.core, one.run.edge):
            assert np.ptp(warmth_of) < 1e-9 and warmth_of[0] == pytest.approx(12.0)
        assert one.run.difference == pytest.approx(0.0, abs=1e-9)


def test_the_skin_lies_between_the_concrete_and_what_is_round_it():
    run = of(heated(), "west").run
    assert np.all(run.edge[1:] < run.core[1:].max()) and run.edge.min() >= run.air.min()
    assert run.coldest >= min(run.air.min(), GATE.pour.air)  # also where the foot meets the ground


def test_blankets_keep_heat_in():
    one = of(heated(), "west")
    assert one.blankets and one.run.peak > one.other.peak
    assert one.run.proof_at < one.other.proof_at


def test_a_deeper_frost_freezes_a_bare_pier_and_a_blanket_saves_it():
    cold = {"pour__air": -7.0, "pour__concrete": 12.0, "pour__earth": 4.0}
    bare, kept = (of(heated(pour__kept=kept, pour__blanket=1.5, **cold), "tie") for kept in ("open", "warm"))
    assert bare.run.frozen and not kept.run.frozen
    assert any("FREEZES" in note for note in heated(pour__kept="open", pour__blanket=1.5, **cold).notes)


def test_colder_air_is_nowhere_warmer():
    warm, cold = of(heated(), "west"), of(heated(pour__air=8.0), "west")
    assert cold.run.peak < warm.run.peak and cold.run.coldest < warm.run.coldest


def test_richer_concrete_gets_hotter():
    rich = heated(mixes__stiff__cement_content=450.0, mixes__stiff__water=190.0)
    assert of(rich, "west").run.peak > of(heated(), "west").run.peak


def test_sun_warms_the_top():
    assert of(heated(pour__sun="open"), "west").run.edge.max() > of(heated(), "west").run.edge.max()


def test_stripping_is_a_change_of_its_skin():
    """With nothing else in the way, the edge cools faster from then on."""
    late = of(heated(pour__kept="open"), "west").run
    t, edge = late.t, late.edge
    at = of(heated(pour__kept="open"), "west").stripped
    before = np.interp([at - 2 * hour, at], t, edge)
    after = np.interp([at, at + 2 * hour], t, edge)
    assert after[1] - after[0] < before[1] - before[0]


def test_no_block_loses_or_gains_more_than_its_cement_makes():
    plan = Plan(GATE)
    made = hydrating.binder(plan.concrete.mixes["stiff"])
    most = made.heat * made.alpha_u / (2350.0 * 1000.0)
    assert of(heated(), "west").run.peak < GATE.pour.concrete + most


def test_every_input_says_where_it_is_from():
    names = {one.name for one in heated().inputs}
    assert all(one.source for one in heated().inputs) and {"ground", "blanket", "concrete conducts"} <= names


def test_heat_is_not_asked_by_the_checks():
    plan = Plan(GATE)
    _ = plan.checks
    assert "heat" not in vars(plan) and "bands" not in vars(plan)


def test_a_weld_says_how_warm_its_plate_gets_and_how_near_the_edge_it_is():
    weld = next(w for w in Plan(GATE).welds if w.name == "hinge")
    assert weld.mass == pytest.approx(13.89, abs=0.02)
    assert weld.length == pytest.approx(4 * 5 * 0.0254) and weld.rise == pytest.approx(60.9, abs=0.5)
    assert weld.edge == pytest.approx(5 * 0.0254) and not weld.near
    assert weld.after == pytest.approx(7 * day)
