"""Lists are read by other people's programs: here by three that are not ours."""

import csv
import io
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import icalendar
import openpyxl
import pytest

from batterboard.job import read_job
from batterboard.plan import Plan
from batterboard.views import lists
from batterboard.views.tables import Column, Table
from batterboard.views.tables.model import together
from batterboard.work.names import joined

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


@pytest.fixture(scope="module")
def written():
    made = {}

    def files(name):
        if name not in made:
            made[name] = lists.files(plan_of(name))
        return made[name]

    return files


def rows_of(text):
    return list(csv.reader(io.StringIO(text, newline="")))


@pytest.mark.parametrize("name", JOBS)
def test_no_cell_is_blank_and_every_row_is_as_long_as_its_heading(written, name):
    tables = {file: rows_of(text) for file, text in written(name).items() if file.endswith(".csv")}
    assert {"points.csv", "measuring-order.csv", "bars.csv", "bar-cut-plan.csv", "buying.csv"} <= tables.keys()
    assert {"checks.csv", "days.csv", "order.csv"} <= tables.keys()
    for file, (heading, *rows) in tables.items():
        assert rows, file
        for row in rows:
            assert len(row) == len(heading), file
            assert all(row), (file, row)


@pytest.mark.parametrize("name", JOBS)
def test_csv_lines_end_as_the_rfc_says(written, name):
    for file, text in written(name).items():
        if file.endswith(".csv"):
            assert text.count("\n") == text.count("\r\n") and text.endswith("\r\n")


@pytest.mark.parametrize("name, unit", [("orchard-gate/job.toml", "ft"), ("pump-pad/job.toml", "m")])
def test_points_come_as_point_northing_easting_elevation_description(written, name, unit):
    heading, *rows = rows_of(written(name)["points.csv"])
    assert heading == ["P", f"N [{unit}]", f"E [{unit}]", f"Z [{unit}]", "D"]
    metres = 0.3048 if unit == "ft" else 1.0
    for row, stake in zip(rows, plan_of(name).setout.stakes):
        assert [float(cell) * metres for cell in row[1:4]] == pytest.approx([stake.y, stake.x, stake.top], abs=6e-4)
    assert "PNEZD" in written(name)["points-note.txt"]


def test_numbers_of_a_file_are_numbers_with_their_unit_in_the_heading(written):
    heading, *rows = rows_of(written("orchard-gate/job.toml")["bars.csv"])
    cut, tape = heading.index("cut [in]"), heading.index("cut (tape)")
    for row, bar in zip(rows, plan_of("orchard-gate/job.toml").cage.bars):
        assert float(row[cut]) * 0.0254 == pytest.approx(bar.cut, abs=2e-5)
        assert row[tape].endswith('"')


def test_what_looks_like_a_formula_is_text():
    odd = Table(
        "odd", "Odd", (Column("=1+1"), Column("n")), (("=cmd()", 1), ("+1", 2), ("-x", 3), ("@a", 4), ("ok", 5))
    )
    heading, *rows = rows_of(lists._csv(odd, "us"))
    assert heading[0] == "'=1+1"
    assert [row[0] for row in rows] == ["'=cmd()", "'+1", "'-x", "'@a", "ok"]
    plan = plan_of("scoreboard/job.toml")
    book = openpyxl.load_workbook(io.BytesIO(lists._xlsx(plan, (odd,))))
    assert [cell.data_type for cell in book["odd"]["A"]] == ["s"] * 6
    assert book["odd"]["A2"].value == "=cmd()"


@pytest.mark.parametrize("name", JOBS)
def test_the_workbook_holds_every_list_ready_to_print(written, name):
    files = written(name)
    book = openpyxl.load_workbook(io.BytesIO(files["lists.xlsx"]))
    assert set(book.sheetnames) == {file.removesuffix(".csv") for file in files if file.endswith(".csv")}
    for sheet in book:
        rows = rows_of(files[f"{sheet.title}.csv"])
        assert (sheet.max_row, sheet.max_column) == (len(rows), len(rows[0]))
        assert sheet.print_title_rows == "$1:$1" and sheet.print_area
        assert sheet.page_setup.fitToHeight == 0 and sheet.sheet_properties.pageSetUpPr.fitToPage
        for cells in sheet.iter_rows():
            assert all(cell.value is not None and cell.data_type != "f" for cell in cells)


def test_holds_ring_and_entries_keep_their_names_when_the_day_moves(written):
    plan = plan_of("orchard-gate/job.toml")
    job = plan.job
    later = Plan(replace(job, pour=replace(job.pour, when=job.pour.when + timedelta(days=7))))
    before, after = (icalendar.Calendar.from_ical(lists.files(p)["calendar.ics"]) for p in (plan, later))
    entries, moved = list(before.walk("VEVENT")), list(after.walk("VEVENT"))
    uids = [str(entry["UID"]) for entry in entries]
    assert len(set(uids)) == len(uids) and set(uids) == {str(entry["UID"]) for entry in moved}
    holds = [entry for entry in entries if entry.walk("VALARM")]
    assert len(holds) == sum(bool(e.hold) for e in plan.schedule.events) > 3
    for entry, event in zip(entries, plan.schedule.events):
        assert entry.decoded("DTSTART") == event.starts, "the hour that the site's clock shows"
    for entry in holds:
        (alarm,) = entry.walk("VALARM")
        late = "DTEND" in entry  # a hold is at the end of what it waits for
        assert alarm["TRIGGER"].params["RELATED"] == ("END" if late else "START")
    assert all(len(line) <= 75 for line in lists.files(plan)["calendar.ics"].split(b"\r\n"))


def test_what_is_said_of_several_in_the_same_words_is_one_row():
    assert joined(["snug the nuts of hinge", "snug the nuts of latch"]) == "snug the nuts of hinge, latch"
    assert joined(["measure west as built", "measure east as built"]) == "measure west, east as built"
    assert joined(["hang leaf"]) == joined(["hang leaf"] * 2) == "hang leaf"
    rows = together(
        [("strip west", "2", 5.0), ("strip east", "1", 5.0), ("strip far", "1", 6.0), ("cure far", "1", 6.0)]
    )
    assert rows == [("strip west, east", "1, 2", 5.0), ("strip far", "1", 6.0), ("cure far", "1", 6.0)]


def test_without_a_pour_day_there_is_no_calendar_and_days_are_counted_from_the_pour():
    plan = plan_of("orchard-gate/job.toml")
    files = lists.files(Plan(replace(plan.job, pour=replace(plan.job.pour, when=None))))
    assert "calendar.ics" not in files
    assert " before," in files["days.csv"] and " after," in files["days.csv"]


def test_the_same_plan_gives_the_same_bytes(written):
    assert lists.files(plan_of("scoreboard/job.toml")) == written("scoreboard/job.toml")
