"""Every drawing of every example: clean on paper, true in its file, and as found."""

from dataclasses import replace
from functools import lru_cache
from io import StringIO
from pathlib import Path

import ezdxf
import pytest

from batterboard.job import read_job, read_text, starting_file
from batterboard.plan import Plan
from batterboard.quantity import Length, QuantityError, read
from batterboard.views import drawing as d
from batterboard.views import drawings
from batterboard.views.drawings import labels
from batterboard.views.drawings.spacing import between, evenly, step, thinned
from batterboard.work.names import among

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/*.toml"))
GATE = next(path for path in EXAMPLES if path.parts[-2:] == ("orchard-gate", "job.toml"))
KINDS = ("gate", "sign", "machine pad")

ROW = """
[job]
name = "Bollards beside a hedge, invented"
units = "si"
[site]
frost = "400 mm"
[levels.bench]
z = "50 m"
[ground]
spots = [["0 m", "0 m", "49.8 m"], ["10 m", "0 m", "49.5 m"], ["0 m", "10 m", "49.9 m"], ["10 m", "10 m", "49.2 m"]]
[lines.hedge]
from = ["1 m", "1 m"]
to = ["9 m", "6 m"]
[mixes.m]
strength = "28 MPa"
stone = "20 mm"
slump = "100 mm"
[piers.six]
sides = 6
flats = "600 mm"
edges = { corners = "20 mm", top = "15 mm" }
top = { level = "bench", up = "200 mm" }
height = "1.2 m"
pad = { along = "1.2 m", across = "1.0 m", thick = "300 mm" }
place = [ { along = "hedge", ahead = "3 m" }, { from = "hedge", left = "500 mm" }, { turn = "hedge" } ]
bars = { up = "6 ø16", ties = ["3 ø10 @ 50 mm from top", "ø10 @ 250 mm"] }
pad_bars = { along = "5 ø12", across = "6 ø12", at = "bottom" }
mix = "m"
[piers.bollard]
round = "300 mm"
height = "1.5 m"
top = { above = "ground", up = "900 mm" }
row = { along = "hedge", count = 6, first = "4 m", every = "1 m", right = "1.2 m" }
except = { 3 = { height = "2 m" }, 5 = { left_out = "drain" } }
mix = "m"
[posts.lamp]
on = "six"
section = "HSS4X4X1/4"
height = "3 m"
[posts.lamp.joint]
plate = ["300 mm", "300 mm", "20 mm"]
bolts = "6 x M20 8.8"
circle = "220 mm"
deep = "400 mm"
foot = "hook"
proud = "110 mm"
grout = "30 mm"
"""


def job(name):
    if name == "row":
        return read_text(ROW, "row.toml")
    return read_text(starting_file(name), f"{name}.toml") if name in KINDS else read_job(EXAMPLES_BY_NAME[name])


EXAMPLES_BY_NAME = {f"{path.parent.name}/{path.stem}": path for path in EXAMPLES}
EVERY = (*EXAMPLES_BY_NAME, *KINDS, "row")


@lru_cache
def plan(name):
    return Plan(job(name))


@lru_cache
def sheets(name):
    return drawings.sheets(plan(name))


@lru_cache
def files(name, only=None):
    return drawings.files(plan(name), only)


def gate_found(text):
    return Plan(read_text(GATE.read_text() + text, str(GATE)))


def entities(sheet):
    return [entity for view in sheet.views for entity in view.entities]


def read_dxf(content):
    document = ezdxf.read(StringIO(content.decode()))
    audit = document.audit()
    assert not audit.errors and not audit.fixes
    return document


@pytest.mark.parametrize("name", EVERY)
def test_no_text_lies_on_another_and_nothing_stands_outside_or_is_cut(name):
    for sheet in sheets(name):
        assert not d.overlaps(sheet), sheet.name
        assert not d.outside(sheet), sheet.name
        assert not d.cut(sheet), sheet.name


@pytest.mark.parametrize("name", EVERY)
def test_every_sheet_shows_something_at_a_scale_that_can_be_read(name):
    for sheet in sheets(name):
        assert sheet.views or sheet.marks  # a chart has no scale
        for view in sheet.views:
            left, bottom, right, top = d.extent(view, sheet.system)
            assert view.entities and max(right - left, top - bottom) > 60, (sheet.name, view.name)


@pytest.mark.parametrize("name", EVERY)
def test_sheets_are_numbered_and_named_apart(name):
    pages = sheets(name)
    assert [sheet.page for sheet in pages] == [(i, len(pages)) for i in range(1, len(pages) + 1)]
    assert len({sheet.name for sheet in pages}) == len(pages) == len(files(name, "svg"))
    assert all(sheet.job_hash == plan(name).job.digest for sheet in pages)


def test_the_gate_has_every_kind_of_drawing():
    names = set(files("orchard-gate/job", "svg"))
    assert names >= {
        "general-plan.svg", "setting-out.svg", "elevation-west-east.svg", "section-west.svg", "section-tie.svg",
        "cage-east.svg", "form-west-east.svg", "chamfer-strips-west-east.svg",
        "form-put-together-west.svg", "form-yokes-and-braces-west-east.svg", "cut-sheet-1-3-4-in-plywood.svg",
        "strip-patterns-1-1.svg", "form-labels-1.svg",
        "template-hinge-on-west-latch-on-east.svg",
    }  # fmt: skip
    assert sum("template-1-1" in name for name in names) == 4


def test_things_that_look_the_same_share_a_sheet():
    assert {"section-hinge_pier-latch_pier.svg", "cage-hinge_pier-latch_pier.svg"} <= set(files("gate", "svg"))


@pytest.mark.parametrize("name", ["orchard-gate/job", "pump-pad/job"])
def test_the_same_job_gives_the_same_bytes(name):
    again = drawings.files(Plan(job(name)))
    assert again == files(name)


@pytest.mark.parametrize("name", EVERY)
def test_every_dxf_is_clean_and_every_dimension_measures_what_it_says(name):
    units, code = (0.0254, 1) if plan(name).job.job.units == "us" else (0.001, 4)
    measured = 0
    for file, content in files(name, "dxf").items():
        document = read_dxf(content)
        assert document.header["$INSUNITS"] == code
        for dimension in document.modelspace().query("DIMENSION"):
            said = length_of(dimension.dxf.text)
            if said is not None:
                length = dimension.get_measurement()
                length = length if isinstance(length, float) else max(length.x, length.y, key=abs)
                assert abs(length) * units == pytest.approx(said, abs=0.0009), (file, dimension.dxf.text)
                measured += 1
    assert measured > 20


def length_of(text):
    """What a dimension's text says in metres: 3 @ 10\", 7: 13'-8 1/2\", 12'-11\" ±5/16\"."""
    text = (
        text.partition("±")[0]
        .rpartition(": ")[2]
        .rpartition("= ")[2]
        .removeprefix("ø ")
        .removesuffix(" inside")
        .strip()
    )
    many, at, each = text.partition(" @ ")
    try:
        return int(many) * read(each, Length) if at else read(text, Length)
    except QuantityError:
        return None


def test_equal_steps_add_up_even_where_each_is_rounded():
    def say(length):
        return f"{length * 1000:.0f} mm"

    steps = evenly([0.0, 0.1, 0.2, 0.3, 0.35, 0.4], say)
    assert steps.stations == (0.0, pytest.approx(0.3), pytest.approx(0.4))
    assert steps.texts == ("3 @ 100 mm", "2 @ 50 mm")
    assert evenly([i * 0.1004 for i in range(6)], say).texts == ("5 @ 100 mm = 502 mm",)


def test_a_found_thickness_shows_in_the_section_beside_the_plan():
    found = gate_found("\n[found.piers.west]\npad = { thick = '24 in' }\n")
    before, after = drawings.files(Plan(found.job.planned), "svg"), drawings.files(found, "svg")
    other = ("story-pole", "curing")  # a deeper hole takes another page; piers that differ are warmed apart
    assert {n for n in before if not n.startswith(other)} == {n for n in after if not n.startswith(other)}
    assert before["section-west.svg"] != after["section-west.svg"]
    section = next(sheet for sheet in drawings.sheets(found) if sheet.name == "Section, west")
    assert {"2'-0\"", "west pad, found", '8" lower underneath'} <= set(d.shown(section))
    assert any(isinstance(e, d.Polygon) and e.layer is d.PLANNED for e in entities(section))


def test_what_was_found_as_planned_is_not_drawn_twice():
    found = gate_found("\n[found.piers.west]\npad = { thick = '16 in' }\n")
    for sheet in drawings.sheets(found):
        assert not any(e.layer is d.PLANNED for e in entities(sheet)), sheet.name


def test_a_found_bolt_is_drawn_where_it_stands_and_told_with_its_distance():
    found = gate_found('\n[found.posts.hinge.bolts]\n3 = { at = ["-4 1/2 in", "-4 3/8 in"] }\n')
    template = next(sheet for sheet in drawings.sheets(found) if sheet.name == "Template, hinge on west")
    assert {"bolt 3 found", '1/8" off'} <= set(d.shown(template))
    bolts = [e for e in entities(template) if isinstance(e, d.Circle) and e.layer is d.BOLTS]
    assert [b.centre for b in bolts] == [pytest.approx((-4.5 * 0.0254, -4.375 * 0.0254))]


def test_covers_found_by_face_are_told_on_the_cage():
    found = gate_found('\n[found.piers.west]\nbars = { missing = ["tie 4"], cover = { north = "1 1/4 in" } }\n')
    drawn = {sheet.name: sheet for sheet in drawings.sheets(found)}
    assert {"cover as found", 'north 1 1/4"'} <= set(d.shown(drawn["Cage, west"]))
    assert "found missing: tie 4" in d.shown(drawn["Section, west"])
    ties = [e for e in entities(drawn["Section, west"]) if isinstance(e, d.Polyline) and e.layer is d.PLANNED]
    assert len(ties) == 1


def test_a_beam_found_aside_is_drawn_there_in_the_general_plan():
    found = gate_found("\n[found.beams.tie]\nshift = { across = '2 1/2 in' }\n")
    plan_sheet = drawings.sheets(found)[0]
    assert any(e.layer is d.PLANNED for e in entities(plan_sheet))
    beam = next(sheet for sheet in drawings.sheets(found) if sheet.name == "Section, tie")
    assert 'found 2 1/2" left of the plan' in d.shown(beam)


def test_the_general_plan_says_what_the_results_say():
    gate = plan("orchard-gate/job")
    told = d.shown(sheets("orchard-gate/job")[0])
    for reading in gate.setout.readings:
        if reading.kind in ("along", "off") and reading.value:
            assert drawings.Board(gate).say(reading.value) in told
    assert any("no spoil within" in text for text in told)


def test_tapes_that_check_the_setting_out_are_framed_and_say_what_may_differ():
    gate = plan("orchard-gate/job")
    checked = [e.text for e in entities(sheets("orchard-gate/job")[1]) if e.layer is d.CHECK]
    say = drawings.Board(gate).say
    tapes = [tape for tape in gate.setout.diagonals if tape.name != "west to east"]  # that one is measured anyway
    assert len(tapes) >= 3 and all(f"{say(tape.length)} ±{say(tape.allow)}" in checked for tape in tapes)


def test_the_template_prints_at_full_size_with_its_square():
    pages = [sheet for sheet in sheets("orchard-gate/job") if sheet.name.startswith("Template 1:1")]
    pattern = plan("orchard-gate/job").template.patterns[0]
    for page in pages:
        (view,) = page.views
        assert view.scale is d.FULL_SIZE
        holes = [e.centre for e in view.entities if isinstance(e, d.Circle) and e.layer is d.DRILL]
        assert holes == [pytest.approx((p.x, p.y)) for p in pattern.points]
        square = next(mark for mark in page.marks if isinstance(mark, d.Polyline))
        (ax, _), (bx, by), (_, cy) = square.points
        assert (ax - bx, cy - by) == pytest.approx((152.4, 152.4))


def test_a_template_too_large_for_the_printer_is_dimensioned_only():
    assert not any(sheet.name.startswith("Template 1:1") for sheet in sheets("pump-pad/job"))
    sheet = next(sheet for sheet in sheets("pump-pad/job") if sheet.name == "Template, pump on base")
    assert any("from two edges" in text for text in d.shown(sheet))


@pytest.mark.parametrize(
    "name, file, holes",
    [
        ("orchard-gate/job", "plate-hinge-on-west-latch-on-east-inch.dxf", 4),
        ("pump-pad/job", "plate-pump-on-base-mm.dxf", 4),
        ("row", "plate-lamp-on-six-mm.dxf", 6),
    ],
)
def test_the_cutter_gets_one_closed_outline_and_the_holes(name, file, holes):
    space = read_dxf(files(name, "dxf")[file]).modelspace()
    kinds = sorted(f"{each.dxftype()} {each.dxf.layer}" for each in space)
    assert kinds == [*["CIRCLE DRILL"] * holes, "LWPOLYLINE CUT"]
    assert all(outline.closed for outline in space.query("LWPOLYLINE"))


def test_a_row_is_told_by_its_numbers():
    assert among(["west", "b.1", "b.2", "b.3", "b.5", "east"]) == "west, b.1-3, 5, east"
    assert any(sheet.name == "Form, bollard.1-2" for sheet in sheets("row"))


def row_of(many):
    text = ROW[: ROW.index("[posts.lamp]")].replace("count = 6", f"count = {many}")
    return Plan(read_text(text.replace('["9 m", "6 m"]', '["257 m", "161 m"]'), "row.toml"))


def test_a_long_row_is_told_once_its_first_and_last_by_name():
    pages = {sheet.name: sheet for sheet in drawings.sheets(row_of(20))}
    for name in ("General plan", "Setting out", "Elevation, bollard.1-4, 6-20"):
        texts = [t for t in d.shown(pages[name]) if t.startswith("bollard.")]
        assert texts == ["bollard.1", "bollard.20"]
    assert "19 piers bollard.1-4, 6-20" in d.shown(pages["General plan"])


def test_a_very_long_row_is_drawn_whole_and_in_parts_that_can_be_seen():
    pages = [sheet for sheet in drawings.sheets(row_of(100)) if sheet.name.startswith(("General", "Elevation"))]
    assert {sheet.name for sheet in pages} >= {
        "General plan",
        "General plan, bollard.35-67",
        "Elevation, bollard.35-67",
    }
    for sheet in pages:
        assert not d.overlaps(sheet) and not d.outside(sheet)


def test_steps_that_differ_are_no_step_and_marks_are_thinned_with_their_ends():
    say = "{:.1f}".format
    assert (step([0.0, 2.0, 1.0], say), step([0.0, 1.0, 3.0], say)) == ("1.0", "")
    assert thinned(range(24)) == list(range(24))
    assert thinned(range(300))[::21] == [0, 273] and thinned(range(300))[-1] == 299
    assert between(f"p.{i}" for i in range(1, 9)) == frozenset()
    assert between(f"p.{i}" for i in range(1, 10)) == {f"p.{i}" for i in range(2, 9)}


def test_a_label_takes_the_first_free_place_and_covers_no_text():
    scale = d.Scale(24)
    standing = (d.Text((0.0, 0.0), "standing"),)
    places = tuple(d.Text((0.0, y), "label") for y in (0.0, 0.02, 0.3))
    (placed,) = labels.settled(scale, standing, [places], (-1.0, -1.0, 1.0, 1.0))
    assert placed == places[2]


def test_a_label_stays_inside_its_room():
    scale = d.Scale(24)
    places = (d.Text((0.9, 0.0), "a long label"), d.Text((0.0, 0.0), "a long label"))
    assert labels.settled(scale, (), [places], (-1.0, -1.0, 1.0, 1.0)) == (places[1],)


def test_names_that_are_odd_do_not_break_a_file():
    odd = replace(plan("scoreboard/job").job.job, name='<&> "\\P%%c =1+1 \u202e', replaces="x" * 200)
    made = drawings.files(Plan(replace(plan("scoreboard/job").job, job=odd)))
    assert made.keys() == files("scoreboard/job").keys()
    for content in made.values():
        if isinstance(content, bytes):
            read_dxf(content)


def test_the_story_pole_carries_every_level_at_full_size_and_labels_name_every_stake():
    made = plan("orchard-gate/job").setout
    pages = [sheet for sheet in sheets("orchard-gate/job") if sheet.name.startswith("Story pole")]
    assert pages and all(view.scale is d.FULL_SIZE for page in pages for view in page.views)
    marks = {round(e.a[0], 4) for e in pages[0].views[0].entities if isinstance(e, d.Line) and e.layer is d.CUT}
    foot = min(rod.above for rod in made.rods)
    assert marks == {round(z - foot, 4) for z in (0.0, *(rod.above for rod in made.rods))}
    (labelled,) = [sheet for sheet in sheets("orchard-gate/job") if sheet.name == "Stake labels"]
    assert {s.name for s in made.stakes if s.kind != "bolt"} <= set(d.shown(labelled))


def test_batter_boards_are_drawn_as_far_off_as_the_table_says():
    (sheet,) = [sheet for sheet in sheets("orchard-gate/job") if sheet.name == "Batter boards"]
    written = {e.text for e in entities(sheet) if isinstance(e, d.Linear)}
    from batterboard.quantity import Length, show

    for board in plan("orchard-gate/job").boards:
        assert {show(board.back, Length, "us"), show(board.ahead, Length, "us")} <= written
