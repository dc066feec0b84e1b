"""Checks as rows: those that read alike stand together."""

from pathlib import Path

from batterboard.job import read_job
from batterboard.plan import Plan
from batterboard.views import tables, words
from batterboard.views.tables.model import Column, table
from batterboard.work.names import among, joined

GATE = read_job(Path(__file__).parents[2] / "examples" / "orchard-gate" / "job.toml")


def test_checks_that_read_alike_stand_as_one_row() -> None:
    plan = Plan(GATE)
    rows = words.check_rows(plan.checks, "us", noted=False)
    titles = [row.title for _, row in rows]
    assert "Spacing of ties: west, east" in titles
    assert len(rows) < len(plan.checks)
    order = [c.key for c in plan.checks]
    assert [order.index(c.key) for c, _ in rows] == sorted(order.index(c.key) for c, _ in rows)  # still worst first


def test_every_check_is_named_once() -> None:
    plan = Plan(GATE)
    said = "; ".join(row.title for _, row in words.check_rows(plan.checks, "us", noted=False))
    for c in plan.checks:
        about = c.title.removeprefix(words.question(c)).removeprefix(", ")
        assert words.question(c) in said and about in said


def test_checks_with_other_notes_stay_apart_where_notes_are_told() -> None:
    checks = Plan(GATE).checks
    assert len(words.check_rows(checks, "us", noted=True)) > len(words.check_rows(checks, "us", noted=False))


def test_members_of_a_row_are_named_by_their_numbers() -> None:
    assert among(["west", "bollard.1", "bollard.2", "bollard.3", "bollard.8"]) == "west, bollard.1-3, 8"


def test_rows_of_a_page_that_say_the_same_are_one_and_a_file_keeps_each() -> None:
    given = table("t", "T", (Column("form"), Column("of each")), [("west A", 2), ("east A", 2), ("west B", 4)], about=1)
    assert tables.printed(given, "us")[1] == [["west, east A", "2"], ["west B", "4"]]
    assert len(tables.plain(given, "us")[1]) == 3


def test_names_are_joined_by_what_they_share() -> None:
    assert joined(["west, up", "east, up"]) == "west, east, up"
    assert joined(["post.1 A", "post.2 A", "post.3 A"]) == "post.1-3 A"
    assert joined(["P1-1", "P2-1", "P3-1", "P4-1"]) == "P1-1 to P4-1"
    assert joined(["P1-1", "P2-1", "P4-1", "P5-1"]) == "P1-1, P2-1, P4-1, P5-1"


def test_what_checks_are_about_is_said_with_what_they_share_once() -> None:
    assert words.all_about(["post.1, sand", "post.2, sand", "post.3, sand"]) == "post.1-3, sand"
    assert words.all_about(["west, sand", "east, clay"]) == "west, sand; east, clay"
    assert words.all_about(["west", "east"]) == "west, east"
