"""Four threads that prove the house: found values, sweeps, cancelling errors, nested working."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from batterboard.job import read_job, read_text
from batterboard.plan import Plan
from batterboard.study.compare import compare
from batterboard.study.sweep import checks, sweep, varied
from batterboard.working.page import blocks

GATE = Path(__file__).parent.parent / "examples" / "orchard-gate" / "job.toml"


@pytest.fixture(scope="module")
def gate():
    return read_job(GATE)


def test_one_found_value_changes_a_check_a_drawing_and_the_order(gate):
    from batterboard.views import drawings

    found = read_text(GATE.read_text() + "\n[found.piers.west]\npad = { thick = '24 in' }\n", str(GATE))
    result = compare(found)
    assert any(c.key[:2] == ("soil_pressure", "west") for c in result.changes if c.what == "check")
    assert result.found.pour.volume > result.planned.pour.volume
    before, after = (drawings.files(p, "svg") for p in (result.planned, result.found))
    sections = [name for name in before.keys() & after.keys() if name.startswith("section")]
    assert any(before[name] != after[name] for name in sections)


def test_a_sweep_of_ten_thousand_gives_what_ten_thousand_single_runs_give(gate):
    rng = np.random.default_rng(7)
    changes = {
        "piers.west.pad.along": rng.uniform(0.8, 2.2, 10_000),
        "piers.west.pad.thick": rng.uniform(0.2, 0.6, 10_000),
        "site.soil.stiff": rng.uniform(2e6, 6e7, 10_000),
        "leaves.leaf.weight": rng.uniform(300, 6000, 10_000),
        "site.wind.speed": rng.uniform(20, 80, 10_000),
    }
    answers = sweep(gate, changes)
    for v in rng.integers(0, 10_000, 300):
        single = {c.key: c for c in checks(varied(gate, {path: float(values[v]) for path, values in changes.items()}))}
        assert single.keys() == {a.key for a in answers}
        for a in answers:
            one = single[a.key]
            assert bool(a.holds[v]) == one.holds, a.key
            assert a.ratio[v] == pytest.approx(one.ratio, rel=1e-9, abs=1e-12, nan_ok=True), a.key
            assert a.demand[v] == pytest.approx(one.worst_demand, rel=1e-9, abs=1e-12, nan_ok=True), a.key


def test_one_template_error_cancels_between_bolts_and_plate(gate):
    def chances(bolt: float, drill: float) -> list[float]:
        tools = replace(gate.instruments, bolt=bolt, drill=drill)
        return [plate.chance for plate in Plan(replace(gate, instruments=tools)).setout.plates]

    straight, wandering = chances(0.005, 0.0), chances(0.005, 0.003)
    assert wandering == pytest.approx(straight, abs=0.01), "bolts and plate are drilled through the same template"
    alone = chances(0.005 * (1 + 0.6**2) ** 0.5, 0.0)
    assert all(a < s - 0.1 for a, s in zip(alone, straight, strict=True)), (
        "the same error of the bolts alone would tell"
    )


def test_a_check_prints_nested_working_at_its_governing_case_in_both_systems(gate):
    plan = Plan(gate)
    nested = [c for c in plan.checks if any(step.formula.calls for step in c.steps)]
    assert nested, "some formula calls another"
    for c in nested:
        outer = next(step.formula for step in c.steps if step.formula.calls)
        for system in ("us", "si"):
            names = [b.name for b in blocks(c.steps, c.at, system, c.clause.document.scale)]
            assert all(names.index(inner) < names.index(outer.name) for inner in outer.calls)
    governed = next(c for c in plan.checks if c.key[:2] == ("soil_pressure", "west"))
    last = [blocks(governed.steps, governed.at, system, "coarse")[-1] for system in ("us", "si")]
    pressures = {block.lines[-1].result for block in last}
    assert governed.case
    assert pressures == {f"{governed.worst_demand / 47.88025898:.1f} psf", f"{governed.worst_demand / 1000:.2f} kPa"}
