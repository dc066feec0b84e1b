"""The file that a drawing program and a plate cutter read."""

import subprocess
import sys
from io import StringIO

import ezdxf
import pytest
from ezdxf import bbox

from batterboard.views import drawing as d


def read(sheet, only=()):
    document = ezdxf.read(StringIO(d.dxf(sheet, only).decode()))
    audit = document.audit()
    assert not audit.errors and not audit.fixes
    return document


def dimensions(document, text):
    return [each for each in document.modelspace().query("DIMENSION") if each.dxf.text == text]


def sheet_of(*entities, scale=24, system="us", **more):
    view = d.View("", d.Scale(scale), (50.0, 50.0), entities)
    return d.Sheet(name="x", job="x", job_hash="x", system=system, views=(view,), **more)


def test_the_sample_sheets_are_read_back_clean(sheets):
    for sheet in sheets[:4]:
        read(sheet)


def test_the_same_sheet_gives_the_same_bytes(section_sheet):
    assert d.dxf(section_sheet) == d.dxf(section_sheet)


@pytest.mark.parametrize("system, code, units", [("us", 1, 1 / 0.0254), ("si", 4, 1000.0)])
def test_the_unit_is_said_and_the_drawing_is_full_size(system, code, units):
    document = read(sheet_of(d.Circle((0.2, 0.1), 0.05, d.DRILL), system=system))
    assert document.header["$INSUNITS"] == code
    circle = document.modelspace().query("CIRCLE")[0]
    assert circle.dxf.radius == pytest.approx(0.05 * units)
    assert tuple(circle.dxf.center)[:2] == pytest.approx((0.2 * units, 0.1 * units))


@pytest.mark.parametrize(
    "entity, inches",
    [
        (d.Linear((0, 0), (0.3, 0.4), (0, 0.6), "along"), 0.5 / 0.0254),
        (d.Linear((0, 0), (0.3, 0.4), (0, 0.6), "across", angle=0.0), 0.3 / 0.0254),
        (d.Linear((0, 0), (0.3, 0.4), (0.6, 0), "up", angle=90.0), 0.4 / 0.0254),
        (d.Radial((0, 0), 0.2, 30, "radius"), 0.2 / 0.0254),
        (d.Radial((0, 0), 0.2, 30, "through", diameter=True), 0.4 / 0.0254),
    ],
)
def test_a_dimension_measures_the_true_length_and_shows_the_jobs_writing(entity, inches):
    (found,) = dimensions(read(sheet_of(entity)), entity.text)
    assert found.get_measurement() == pytest.approx(inches)
    assert found.dxf.actual_measurement == pytest.approx(inches)
    shown = [each.dxf.text for each in found.get_geometry_block().query("TEXT")]
    assert shown == [entity.text]


@pytest.mark.parametrize("axis, inches", [("x", 0.3 / 0.0254), ("y", 0.4 / 0.0254)])
def test_a_running_mark_measures_from_its_origin(axis, inches):
    mark = d.Ordinate((0.4, 0.5), (0.1, 0.1), axis, (0.9, 0.9), "mark")
    (found,) = dimensions(read(sheet_of(mark)), "mark")
    vector = found.get_measurement()
    assert (vector.x if axis == "x" else vector.y) == pytest.approx(inches)
    assert bool(found.dxf.dimtype & 64) == (axis == "x")


def test_every_dimension_of_the_plan_measures_what_it_says(plan_sheet):
    found = read(plan_sheet).modelspace().query("DIMENSION")
    drawn = [e for e in plan_sheet.views[0].entities if isinstance(e, d.Linear)]
    assert len(found) == len(drawn) >= 12
    assert [each.get_measurement() for each in dimensions(read(plan_sheet), "15'-4\"")] == [pytest.approx(184)]


def test_layers_line_types_and_hatches_are_real(section_sheet, plan_sheet):
    document = read(section_sheet)
    assert {layer.name for layer in d.LAYERS} <= {layer.dxf.name for layer in document.layers}
    patterns = {each.dxf.pattern_name for each in document.modelspace().query("HATCH") if not each.dxf.solid_fill}
    assert patterns == {"AR-CONC", "EARTH", "GRAVEL"}
    centre = document.layers.get("CENTRE")
    assert document.linetypes.get(centre.dxf.linetype).pattern_tags.tags
    hidden = [each for each in read(plan_sheet).modelspace() if each.dxf.layer == "HIDDEN"]
    assert {round(each.dxf.ltscale * 25.4, 6) for each in hidden} == {48}


def test_views_stand_side_by_side_and_the_first_keeps_its_zero(section_sheet):
    space = read(section_sheet).modelspace()
    plate = bbox.extents(space.query('LWPOLYLINE[layer=="CUT"]'))
    concrete = bbox.extents(space.query('LWPOLYLINE[layer=="CONCRETE"]'))
    assert plate.size.x == pytest.approx(12)
    assert concrete.center.x == pytest.approx(0) and plate.extmin.x > concrete.extmax.x


def test_the_cutter_gets_outlines_and_holes_and_nothing_else(template_pages):
    space = read(template_pages[0], (d.CUT, d.DRILL)).modelspace()
    kinds = sorted(f"{each.dxftype()} {each.dxf.layer}" for each in space)
    assert kinds == ["CIRCLE CUT", *["CIRCLE DRILL"] * 4, "LWPOLYLINE CUT"]
    assert all(outline.closed for outline in space.query("LWPOLYLINE"))


def test_texts_cannot_smuggle_codes_in():
    odd = r"\P{%%c} <> 5"
    space = read(sheet_of(d.Text((0, 0), odd), d.Linear((0, 0), (1, 0), (0, 1), odd))).modelspace()
    assert space.query("TEXT")[0].plain_text() == r"\P{% %c} <> 5"
    assert space.query("DIMENSION")[0].dxf.text == r"\\P\{% %c\} < > 5"


def test_composing_a_drawing_loads_no_dxf_library():
    code = (
        "import sys; from batterboard.views import drawing; print([m for m in ('ezdxf', 'numpy') if m in sys.modules])"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout.strip() == "[]"
