"""A row along an arc as it is drawn: a true arc with its radius, clean on paper, the same in the file."""

from functools import lru_cache
from io import StringIO
from pathlib import Path

import ezdxf
import pytest

from batterboard.job import read_text
from batterboard.plan import Plan
from batterboard.quantity import ft, inch
from batterboard.views import drawing as d
from batterboard.views import drawings
from batterboard.views.tables import setting
from batterboard.views.tables.model import printed

BED = (Path(__file__).parents[1] / "phases" / "bed.toml").read_text("utf-8")
NAIL = BED.replace('rise = "4 ft"', 'centre = "tree"')
TOLD = ("General plan", "Setting out", "Batter boards", "Stake labels", "Story pole", "Elevation")
BOTH = pytest.mark.parametrize("text", [BED, NAIL], ids=["chord", "nail"])


@lru_cache
def plan(text):
    return Plan(read_text(text, "bed.toml"))


@lru_cache
def sheets(text):
    return {sheet.name: sheet for sheet in drawings.sheets(plan(text))}


def entities(sheet, kind):
    return [entity for view in sheet.views for entity in view.entities if isinstance(entity, kind)]


@BOTH
def test_no_text_lies_on_another_and_nothing_stands_outside(text):
    for sheet in (sheet for name, sheet in sheets(text).items() if name.startswith(TOLD)):
        assert not d.overlaps(sheet), sheet.name
        assert not d.outside(sheet), sheet.name
        assert not d.cut(sheet), sheet.name


@BOTH
def test_plans_draw_a_true_arc_with_its_radius(text):
    for name in ("General plan", "Setting out"):
        (arc,) = entities(sheets(text)[name], d.Arc)
        assert arc.radius == pytest.approx(20 * ft)
        told = [e.text for e in entities(sheets(text)[name], (d.Radial, d.Leader))]
        assert any("R 20'-0\"" in each for each in told)


def test_off_a_chord_the_rise_is_dimensioned_and_the_chord_drawn():
    (rise,) = (e for e in entities(sheets(BED)["Setting out"], d.Linear) if e.text.startswith("rise"))
    assert rise.text == "rise 4'-0\""
    assert "chord of bed" in [e.text for e in entities(sheets(BED)["Setting out"], d.Text)]
    assert "chord of bed" not in [e.text for e in entities(sheets(NAIL)["Setting out"], d.Text)]


def test_the_file_holds_an_arc_and_the_radius_as_a_dimension():
    written = drawings.files(plan(NAIL), "dxf")["setting-out.dxf"]
    space = ezdxf.read(StringIO(written.decode())).modelspace()
    (arc,) = space.query("ARC")
    assert arc.dxf.radius * inch == pytest.approx(20 * ft)
    radii = [each for each in space.query("DIMENSION") if each.dimtype == 4]
    assert [each.dxf.text for each in radii] == ["R 20'-0\""]
    assert radii[0].get_measurement() * inch == pytest.approx(20 * ft)


@BOTH
def test_a_row_along_an_arc_shares_one_elevation(text):
    assert [name for name in sheets(text) if name.startswith("Elevation")] == ["Elevation, post.1-7, step"]


def test_the_order_says_what_to_hold_and_what_it_reads():
    def steps(text, place):
        _, rows, *_ = printed(setting.order(plan(text)), "us")
        return [row[2:5] for row in rows if row[1] == place][1:4]

    along, off, turn = steps(BED, "post.2")
    assert along[0] == "Hold zero at the start of bed, pull the tape level along its chord, ahead."
    assert off[0] == "From that mark turn square off the chord of bed by 3-4-5, zero on the string, to the left."
    assert turn[0] == "Turn it so that over 4'-0\" ahead along the chord its sides go this far to the left."
    assert all(row[1] == row[2] != "–" for row in (along, off, turn))
    along, off, turn = steps(NAIL, "step")
    assert along[0] == (
        "Hold one tape at the nail tree, one at the mark of post.4 on the curve: "
        "mark where 20'-0\" of the first meets the distance of the second, ahead."
    )
    assert off == ["Pull the tape level from the nail tree over that mark.", "18'-0\"", "18'-0\""]
    assert turn[:2] == [
        "Turn it square to the tape from the nail tree: both ends of its centre line read alike.", "square"
    ]  # fmt: skip
