"""What stands in tables, on the page and in a file; cautions and assumptions."""

import math
from pathlib import Path

import numpy as np
import pytest

from batterboard.job import read_job, read_text
from batterboard.plan import Plan
from batterboard.quantity import Length, Pressure
from batterboard.views import assumed, cautions, summary, tables
from batterboard.views.tables import Column, Table
from batterboard.views.tables.model import sideways, table

EXAMPLES = Path(__file__).parents[2] / "examples"
JOBS = (
    "orchard-gate/job.toml",
    "orchard-gate/as-built.toml",
    "scoreboard/job.toml",
    "pump-pad/job.toml",
    "letterbox-pier/job.toml",
)


def plan_of(name):
    return Plan(read_job(EXAMPLES / name))


def test_a_unit_that_a_whole_column_shares_stands_in_its_heading():
    one = table("t", "T", (Column("p", Pressure), Column("l", Length)), ((20e6, 1.0), (30e6, 2.0)))
    assert tables.printed(one, "si")[:2] == (["p [MPa]", "l [mm]"], [["20", "1000"], ["30", "2000"]])
    headings, rows, _ = tables.printed(one, "us")
    assert headings == ["p [psi]", "l"] and rows[0][1] == "3'-3 3/8\""


def test_units_that_differ_stand_with_their_numbers():
    one = table("t", "T", (Column("p", Pressure),), ((1000.0,), (20e6,)))
    assert tables.printed(one, "us")[:2] == (["p"], [["20.89 psf"], ["2901 psi"]])


def test_points_stand_under_each_other_where_the_mark_is_decimal():
    one = table("t", "T", (Column("l", Length, ("0.01 ft", "1 mm")),), ((1.2192,), (0.0254,), ("on it",)))
    assert tables.printed(one, "us")[1] == [["4.00"], ["0.08"], ["on it"]]


def test_a_file_has_decimals_and_the_tape_beside_them():
    one = table("t", "T", (Column("cut", Length, ("1/16 in", "1 mm"), tape=True),), ((0.0635,), (math.nan,)))
    headings, rows = tables.plain(one, "us")
    assert headings == ["cut (tape)", "cut [in]"]
    assert rows == [['2 1/2"', 2.5], ["not known", "not known"]]


def test_results_of_one_job_may_be_arrays_of_one():
    one = table("t", "T", (Column("l", Length),), ((np.array([[1.0]]),),))
    assert one.rows == ((1.0,),)


def test_a_row_that_does_not_fit_its_columns_is_refused():
    with pytest.raises(AssertionError):
        Table("t", "T", (Column("a"),), ((1, 2),))


def test_equal_things_share_a_column():
    one = sideways("t", "T", ("x", "y"), {"a": ("1", "2"), "b": ("1", "2"), "c": ("1", "3")})
    assert [c.heading for c in one.columns] == ["what", "a, b", "c"]
    assert one.rows == (("x", "1", "1"), ("y", "2", "3"))


@pytest.mark.parametrize("name", JOBS)
def test_no_cell_of_any_table_is_blank(name):
    plan = plan_of(name)
    for phase in cautions.PHASES:
        for one in tables.of(plan, phase):
            headings, rows, numeric = tables.printed(one, plan.job.job.units)
            assert len(headings) == len(numeric) == len(one.columns)
            assert all(headings) and all(all(row) for row in rows), one.name
            assert not one.hand or {len(texts) for texts in one.hand} == {len(one.found)}


def test_every_phase_says_what_hurts_and_what_nobody_checked():
    plan = plan_of("orchard-gate/job.toml")
    for phase in cautions.PHASES:
        assert cautions.cautions(plan, phase) and cautions.UNCHECKED[phase]
    assert set(cautions.ALWAYS) <= set(cautions.foremost(plan))


def test_a_trench_rule_names_its_holes_and_the_deepest():
    said = cautions.cautions(plan_of("orchard-gate/job.toml"), "dig")[0]
    assert said.startswith("west pad, east pad, tie, west: spoil") and "1926.651" in said


def test_every_assumption_of_the_job_stands_in_one_chapter():
    plan = plan_of("orchard-gate/job.toml")
    rows = assumed.rows(plan)
    keys = [key for row in rows for key in row.where]
    assert sorted(keys) == sorted(one.path for one in (*plan.work.assumed, *plan.job.assumed))
    assert sum(len(assumed.of(plan, phase)) for phase in cautions.PHASES) == len(rows)
    soil = next(row for row in rows if "site.soil.bearing" in row.where)
    assert soil.value == "3000 psf" and soil.phase == "size"


def test_the_summary_says_what_to_build_and_what_was_found():
    plan = plan_of("orchard-gate/as-built.toml")
    built = dict(summary.built(plan))
    assert built["pier west"] == "1'-10\" x 1'-10\" x 3'-4\", on a pad 4'-6\" x 4'-6\" x 1'-6\""
    assert "hung on hinge" in built["leaf leaf"]
    assert any("planned 1'-4\", found 1'-6\"" in told for told in summary.found(plan))
    assert summary.found(plan_of("orchard-gate/job.toml")) == ()


def test_the_summary_tells_a_row_from_its_first_to_its_last():
    names = [*(f"bollard.{i}" for i in range(1, 21)), "lamp", "bollard.22", "bollard.23"]
    assert summary.ranges(names) == ["bollard.1 to bollard.20", "lamp", "bollard.22", "bollard.23"]


def test_the_summary_shows_what_fails_before_what_is_tight():
    failing = summary.worst(plan_of("orchard-gate/as-built.toml"), 8)
    assert failing and not any(c.holds for c in failing)
    tight = summary.worst(plan_of("scoreboard/job.toml"), 8)
    assert [c.ratio for c in tight] == sorted((c.ratio for c in tight), reverse=True)


def test_readings_that_do_not_close_are_printed_with_what_is_suspect():
    text = (EXAMPLES / "orchard-gate/job.toml").read_text("utf-8")
    level, across = '{ level = "west", from = "bench", up = "10 in" }', '{ across = ["west", "east"], tape = "14 ft" }'
    plan = Plan(read_text(f"{text}\n[measured]\nreadings = [{level}, {across}]\n"))
    (one,) = (table for table in tables.of(plan, "setout") if table.name == "suspects")
    _, rows, _ = tables.printed(one, "us")
    assert rows and all(float(row[3]) == round(float(row[3]), 1) > 3 for row in rows[:1])
    assert tables.plain(one, "us")
