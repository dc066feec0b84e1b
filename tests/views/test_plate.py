"""What the plate cutter gets: one part a file, outline and holes, the unit said, nothing else; the print's ruler."""

from functools import cache
from io import StringIO
from pathlib import Path

import pytest

from batterboard.job import read_job, read_text
from batterboard.plan import Plan
from batterboard.views import drawing as d
from batterboard.views import drawings
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.plate import cutter

EXAMPLES = Path(__file__).parents[2] / "examples"
GATE = EXAMPLES / "orchard-gate" / "job.toml"


@cache
def written(found: str = "", joint: str = "") -> dict[str, bytes]:
    text = GATE.read_text("utf-8").replace("proud =", f"{joint}\nproud =", 1)
    plan = Plan(read_text(f"{text}\n{found}", "gate.toml"))
    return {name: d.dxf(sheet, (d.CUT, d.DRILL)) for name, sheet in cutter(Board(plan))}


def read(content: bytes):
    from ezdxf.filemanagement import read

    return read(StringIO(content.decode()))


OFF = '[found.posts.hinge.bolts]\n2 = { at = ["-5 1/8 in", "4 1/2 in"] }\n'


def test_one_part_a_file_with_its_unit_in_the_name_and_in_the_file():
    files = written()
    assert list(files) == ["plate hinge on west, latch on east inch"]
    document = read(files["plate hinge on west, latch on east inch"])
    assert document.header["$INSUNITS"] == 1
    metric = read_text(GATE.read_text("utf-8").replace('units = "us"', 'units = "si"'), "gate.toml")
    (name, sheet), *_ = cutter(Board(Plan(metric)))
    assert (
        name == "plate hinge on west, latch on east mm"
        and read(d.dxf(sheet, (d.CUT, d.DRILL))).header["$INSUNITS"] == 4
    )


@pytest.mark.parametrize("joint, layers", [("", {"CUT", "DRILL"}), ('holes = "cut"', {"CUT"})])
def test_outline_closed_holes_once_no_text_and_no_other_layer(joint, layers):
    content = next(iter(written("", joint).values()))
    document = read(content)
    things = list(document.modelspace())
    assert {thing.dxf.layer for thing in things} == layers
    assert {layer.dxf.name for layer in document.layers} - {"0", "Defpoints"} == layers
    outlines = [thing for thing in things if thing.dxftype() == "LWPOLYLINE"]
    circles = [thing for thing in things if thing.dxftype() == "CIRCLE"]
    assert len(things) == len(outlines) + len(circles) and len(outlines) == 1 and outlines[0].closed
    places = [(round(c.dxf.center.x, 6), round(c.dxf.center.y, 6)) for c in circles]
    assert sorted(places) == [(-4.5, -4.5), (-4.5, 4.5), (4.5, -4.5), (4.5, 4.5)]
    assert {round(2 * c.dxf.radius, 6) for c in circles} == {1.3125}
    xs, ys = zip(*((p[0], p[1]) for p in outlines[0].get_points()))
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((12, 12))


def test_a_new_plate_is_drilled_where_the_bolts_stand_and_keeps_its_edges():
    files = written(OFF)
    things = list(read(files["plate hinge on west as found inch"]).modelspace())
    circles = [thing for thing in things if thing.dxftype() == "CIRCLE"]
    assert min(c.dxf.center.x for c in circles) == pytest.approx(-5.125)
    outline = next(thing for thing in things if thing.dxftype() == "LWPOLYLINE")
    right = max(p[0] for p in outline.get_points())
    assert right - 5.125 >= 1.25


def test_the_cutter_files_are_written_beside_the_drawings():
    names = drawings.files(Plan(read_job(GATE.with_name("as-built.toml"))), "dxf")
    assert {"plate-hinge-on-west-latch-on-east-inch.dxf", "plate-hinge-on-west-as-found-inch.dxf"} <= names.keys()


def test_the_mirrored_print_is_the_print_seen_from_below():
    sheets = drawings.sheets(Plan(read_job(GATE)))
    plain, mirrored = (
        {
            (round(e.centre[0], 6), round(e.centre[1], 6))
            for sheet in sheets
            if sheet.name.startswith(start)
            for e in sheet.views[0].entities
            if isinstance(e, d.Circle) and e.layer is d.DRILL
        }
        for start in ("Template 1:1, ", "Template mirrored 1:1, ")
    )
    assert plain and {(-x, y) for x, y in plain} == mirrored
    texts = {t for sheet in sheets if "mirrored" in sheet.name for t in d.shown(sheet)}
    assert any("UNDERSIDE" in text for text in texts)


def test_match_marks_are_on_print_mirrored_copy_and_dimensioned_sheet_and_never_in_the_cutter_s_file():
    plan = Plan(read_job(GATE))
    marks = plan.template.patterns[0].matches
    sheets = drawings.sheets(plan)

    def rings(sheet):
        found = [e.centre for e in sheet.views[0].entities if isinstance(e, d.Circle) and e.layer is d.NOTES]
        return sorted((round(x, 6), round(y, 6)) for x, y in found)

    meant = sorted((round(m.x, 6), round(m.y, 6)) for number, m in enumerate(marks, 1) for _ in range(number))
    flipped = sorted((-x, y) for x, y in meant)
    for start, places in (("Template, ", meant), ("Template 1:1, ", meant), ("Template mirrored 1:1, ", flipped)):
        of_kind = [sheet for sheet in sheets if sheet.name.startswith(start)]
        assert of_kind and all(rings(sheet) == places for sheet in of_kind)
        assert {m.letter for m in marks} <= {t for sheet in of_kind for t in d.shown(sheet)}
    (_, sheet), *_ = cutter(Board(plan))
    assert rings(sheet) == []


def test_the_plate_s_centre_lines_are_not_under_a_seam_of_the_pages():
    for page in drawings.sheets(Plan(read_job(GATE))):
        if "1:1" in page.name:
            seams = [e for e in page.views[0].entities if isinstance(e, d.Line) and e.layer is d.HIDDEN]
            assert all(abs(e.a[0]) > 0.005 for e in seams if e.a[0] == e.b[0])
            assert all(abs(e.a[1]) > 0.005 for e in seams if e.a[1] == e.b[1])


def test_a_ruler_laid_on_the_printed_check_square_reads_six_inches():
    """In the PDF itself: the two red sides of the square, in points of 1/72 in."""
    pdfium = pytest.importorskip("pdfplumber")
    from io import BytesIO

    from batterboard.views import book

    plan = Plan(read_job(GATE))
    with pdfium.open(BytesIO(book.pdf(plan))) as printed:
        pages = [page for page in printed.pages if "check square" in (page.extract_text() or "")]
        assert pages
        for page in pages[:2]:
            sides = {"x": [], "y": []}
            for thing in (*page.lines, *page.curves):
                xs, ys = [p[0] for p in thing["pts"]], [p[1] for p in thing["pts"]]
                sides["x"].append(max(xs) - min(xs))
                sides["y"].append(max(ys) - min(ys))
            for way in sides.values():
                assert min(abs(length - 6 * 72) for length in way) < 0.05
