"""Points for other people's programs: as a drawing, and on the earth."""

import io
import json
from math import radians
from pathlib import Path

import ezdxf
import pytest

from batterboard.job import JobError, read_text
from batterboard.methods import earth
from batterboard.plan import Plan
from batterboard.views import lists, points

GATE = (Path(__file__).parents[1] / "phases" / "gate.toml").read_text("utf-8")
NORTH, EAST = 111131.745, 78846.806  # metres in a degree at 45 degrees; published lengths of a degree on WGS 84


def on_earth(north, east, more=""):
    """The gate's nail at 45 degrees north, and a mark 100 ft down the lane this far from it."""
    here = 'at = ["0 ft", "0 ft"]\nlatitude = "45 deg"\nlongitude = "-120 deg"\n'
    far = f'latitude = "{45 + north / NORTH:.10f} deg"\nlongitude = "{-120 + east / EAST:.10f} deg"\n'
    text = GATE.replace('at = ["0 ft", "0 ft"]\n', here)
    return text + f'[marks.far]\nat = ["100 ft", "0 ft"]\n{far}{more}'


def test_a_degree_is_as_long_as_published():
    assert [radians(1) * r for r in earth.radii(radians(45))] == pytest.approx([NORTH, EAST], abs=0.05)
    assert radians(1) * earth.radii(0.0)[1] == pytest.approx(111319.491, abs=0.01)
    assert radians(1) * earth.radii(0.0)[0] == pytest.approx(110574.28, abs=0.05)


def test_every_point_is_drawn_with_its_name_on_the_layer_of_its_kind():
    plan = Plan(read_text(GATE))
    drawn = ezdxf.read(io.StringIO(points.dxf(plan).decode()))
    assert drawn.header["$INSUNITS"] == 2 and not drawn.audit().errors
    seen = list(zip(drawn.modelspace().query("POINT"), drawn.modelspace().query("TEXT")))
    wanted = list(points.points(plan))
    assert len(seen) == len(wanted) > 10
    for (point, text), one in zip(seen, wanted):
        assert text.dxf.text == one.name and point.dxf.layer == text.dxf.layer == one.kind.upper()
        assert [v * 0.3048 for v in point.dxf.location] == pytest.approx([one.x, one.y, one.z])
    assert points.dxf(plan) == points.dxf(Plan(read_text(GATE)))


def test_points_lie_on_the_earth_turned_from_mark_to_mark():
    plan = Plan(read_text(on_earth(-30.48, 0.0)))  # the lane runs south, so that left of it is east
    found = json.loads(points.geojson(plan))
    assert found["type"] == "FeatureCollection"
    places = {f["properties"]["name"]: f["geometry"]["coordinates"] for f in found["features"]}
    assert places["nail"] == pytest.approx([-120.0, 45.0], abs=2e-8)
    for one in points.points(plan):
        lon, lat = places[one.name]
        assert [(lon + 120) * EAST, (45 - lat) * NORTH] == pytest.approx([one.y, one.x], abs=0.003)
    assert points.misfit(plan) == pytest.approx(0.0, abs=1e-4)


def test_a_job_without_a_place_on_the_earth_has_no_map():
    made = lists.files(Plan(read_text(GATE)))
    assert "points.dxf" in made and "points.geojson" not in made
    made = lists.files(Plan(read_text(on_earth(0.0, 31.48))))
    assert "+1.00 m further apart" in made["points-note.txt"] and "points.geojson" in made


@pytest.mark.parametrize(
    "old, new, says",
    [
        ('longitude = "-120 deg"\n', "", "latitude needs longitude beside it"),
        ('latitude = "45 deg"\nlongitude = "-120 deg"\n', "", "write them for two marks, or for none"),
        ('latitude = "45 deg"', 'latitude = "-120 deg"', "latitude goes to 85 deg here"),
    ],
)
def test_half_a_place_on_the_earth_is_refused(old, new, says):
    with pytest.raises(JobError, match=says):
        read_text(on_earth(0.0, 30.48).replace(old, new))
