"""What holds the forms, as the book and the lists say it."""

from dataclasses import replace
from pathlib import Path

import pytest

from batterboard.job import read_job
from batterboard.plan import Plan
from batterboard.quantity import ft, lb
from batterboard.views import tables
from batterboard.views.tables import holding

GATE = read_job(Path(__file__).parents[1] / "phases" / "gate.toml")


@pytest.fixture(scope="module")
def gate():
    return Plan(GATE)


def texts(table):
    return " ".join([table.note, *(str(cell) for row in tables.printed(table, "us")[1] for cell in row)])


def test_the_test_on_the_pad_stands_before_every_hour(gate):
    table = holding.feet(gate)
    said = [row[0] for row in table.rows]
    assert said[0] == "the pad is ready when"
    assert said.index("wait, late: judged") > 0
    assert "dowel" in texts(table) and "thumb" in texts(table) and "no longer slumps" in texts(table)


def test_the_wait_is_called_advice(gate):
    assert texts(holding.feet(gate)).startswith("ADVICE ONLY: nobody has published a criterion")


def test_other_methods_are_for_comparison_and_own_what_was_not_seen(gate):
    table = holding.opinions(gate)
    assert "for comparison only" in table.title
    assert "from memory" in table.note and "not confirmed" in table.note


def test_what_another_method_does_not_know_is_said_in_words():
    flowing = {name: replace(mix, flows=True) for name, mix in GATE.mixes.items()}
    assert holding.NOT_KNOWN in texts(holding.opinions(Plan(replace(GATE, mixes=flowing))))


def test_where_no_other_method_knows_the_pour_none_is_printed():
    plan = Plan(replace(GATE, pour=replace(GATE.pour, rate=None)))
    assert "pressure-beside" not in {table.name for table in tables.of(plan, "forms")}


def test_what_lifts_a_form_is_named_and_not_a_row_of_noughts(gate):
    west = dict(zip((c.heading for c in holding.uplifts(gate).columns), holding.uplifts(gate).rows[0], strict=True))
    assert west["lifted by"] == "the concrete under its edges, braces that are pulled"


def test_every_form_has_its_pressure_said_lift_by_lift(gate):
    assert [row[:2] for row in holding.envelopes(gate).rows] == [("west", 2), ("east", 2)]


def test_what_a_stake_holds_stands_beside_the_braces_as_an_assumption(gate):
    assert "A stake is taken to hold 200 lb" in holding.braces(gate).note
    firm = Plan(replace(GATE, stock=replace(GATE.stock, stake=350 * lb)))
    assert "350 lb" in holding.braces(firm).note


def test_a_wall_says_its_studs_wales_and_ties():
    job = replace(GATE, piers={**GATE.piers, "west": replace(GATE.piers["west"], along=7 * ft)})
    answers = dict(holding.walls(Plan(job)).rows)
    assert {"studs", "double wales", "ties"} <= answers.keys()
    assert "above the foot" in answers["double wales"]


def test_only_what_is_there_is_printed(gate):
    names = {table.name for table in tables.of(gate, "forms")}
    assert {"pressure", "sheathing", "braces", "uplift", "floating", "form-feet"} <= names
    assert not {"form-walls", "form-edges"} & names


def test_each_end_of_a_brace_says_its_nails(gate):
    table = holding.braces(gate)
    nails = [column.heading for column in table.columns].index("16d nails at each end")
    assert [row[nails] for row in tables.printed(table, "us")[1]] == ["3"]  # of both
