"""The trade's tables: as printed, complete, and consistent with the geometry they describe."""

import importlib
import pkgutil
import tomllib
from dataclasses import fields
from fractions import Fraction
from math import atan, isnan, pi
from pathlib import Path

import pytest

from batterboard import standards
from batterboard.quantity import ft, inch, inch2, kip, ksi, lb, mm, psf, psi
from batterboard.standards import tables
from batterboard.standards.tables import NotTabulated, Table

FILES = sorted((Path(tables.__file__).parent / "data").glob("*.toml"))
ROOMS = [
    importlib.import_module(one.name) for one in pkgutil.walk_packages(standards.__path__, f"{standards.__name__}.")
]
TABLES = {id(thing): thing for room in ROOMS for thing in vars(room).values() if isinstance(thing, Table)}.values()
ROWS = [(table, name) for table in TABLES for name in table.names()]
STEEL = 7850 * 9.80665  # [N/m3]


def near(value, within):
    return pytest.approx(value, rel=within)


# ---- the files ----


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_column_adds_up_to_its_checksum(path):
    data = tomllib.loads(path.read_text("utf-8"))
    assert len(data["columns"]) == len(data["units"]) == len(data["sums"])
    for place, printed in enumerate(data["sums"]):
        cells = [row[place] for row in data["rows"].values()]
        if printed:
            assert sum(_exact(cell) for cell in cells if cell != "-") == Fraction(printed), data["columns"][place]


def _exact(cell):
    return sum(Fraction(part) for part in cell.split())


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_file_says_where_it_is_from_and_how_that_was_got(path):
    data = tomllib.loads(path.read_text("utf-8"))
    assert data["title"] and data["document"]
    assert data["how"].startswith("read: ") or data["how"] in ("memory", "derived", "common practice")


def test_every_file_belongs_to_a_table():
    assert {path.stem for path in FILES} == {name for table in TABLES for name in table.files}


@pytest.mark.parametrize("table, name", ROWS, ids=[f"{table.what}: {name}" for table, name in ROWS])
def test_every_row_reads_as_numbers_above_zero(table, name):
    row = table(name)
    for column in type(row).__annotations__:
        value = getattr(row, column)
        assert isinstance(value, str) or value > 0 or isnan(value) or (name, column) == ("stable rock", "run")


def test_names_are_not_used_twice():
    for table in TABLES:
        assert len(table.names()) == len(set(table.names()))


# ---- what is asked for ----


@pytest.mark.parametrize(
    "table, spoken, name",
    [
        (tables.bar, "No. 5", "#5"),
        (tables.bar, "Ø16", "ø16"),
        (tables.section, "hss5x5x1/4", "HSS5X5X1/4"),
        (tables.section, "pipe 3-1/2 std", "Pipe 3 1/2 STD"),
        (tables.conduit, "1 in  PVC 40", "1 in PVC 40"),
        (tables.lumber_size, "2 x 4", "2x4"),
        (tables.lumber_grade, "Douglas Fir-Larch No. 2", "DF-L No. 2"),
        (tables.plywood, "23/32 in plywood", "Class I 23/32 in"),
        (tables.plywood, "Structural I 3/4 in", "Structural I 3/4 in"),
        (tables.soil, "rock", "sedimentary rock"),
        (tables.soil, "gw", "sandy gravel"),
        (tables.soil, "SM", "sand"),
        (tables.soil, "silty clay", "clay"),
        (tables.sheet, "3/4 in plywood", "3/4 in"),
    ],
)
def test_a_name_may_be_written_as_it_is_spoken(table, spoken, name):
    assert table(spoken).name == name


@pytest.mark.parametrize(
    "ask, said",
    [
        (lambda: tables.bar("#12"), "'#12' is no bar of the tables: write #14 or "),
        (lambda: tables.section("HSS5X5X1/5"), "write HSS5X5X1/4"),
        (lambda: tables.rod(0.0222, "F1554-36"), "'0.874 in' is no rod of the tables: write 7/8 in or "),
        (lambda: tables.rod(0.75 * inch, "F1554-37"), "write F1554-36"),
        (lambda: tables.soil("sandd"), "write sand"),
        (lambda: tables.bar("zzz"), "see the tables for the bars there are"),
    ],
)
def test_what_is_not_tabulated_names_the_near_misses(ask, said):
    with pytest.raises(NotTabulated) as missing:
        ask()
    assert said in str(missing.value)
    assert isinstance(missing.value, KeyError)


def test_a_row_names_its_source_and_how_it_was_got():
    source = tables.bar.source("No. 5")
    assert str(source) == "ASTM A615/A615M table 1"
    assert source.remark.startswith("read: No. 5")
    assert tables.hole.source("5/8 in").remark == "common practice, no source"


def test_a_rod_is_put_together_from_thread_grade_hole_and_washer():
    rod = tables.rod(0.75 * inch, "F1554-55")
    assert (rod.name, rod.size, rod.grade) == ("3/4 in F1554-55", "3/4 in", "F1554-55")
    assert rod.hole == pytest.approx(1.3125 * inch)
    assert rod.area * rod.f_ut == near(25.05 * kip, 1e-9)
    assert rod.f_y == near(55 * ksi, 1e-12)
    assert "3/4 in" in tables.rod_names() and "M20" in tables.rod_names()


def test_a_metric_rod_has_a_metric_thread():
    rod = tables.rod(0.020, "8.8")
    assert (rod.name, rod.pitch) == ("M20 8.8", pytest.approx(2.5 * mm))


def test_plywood_is_given_for_each_metre_of_width():
    panel = tables.plywood("Class I 3/4 in")
    assert panel.along.inertia * ft == near(0.199 * inch**4, 1e-12)
    assert panel.across.modulus * ft == near(0.306 * inch**3, 1e-12)
    assert tables.plywood_stress("Plyform Class I").F_b == near(1930 * psi, 1e-12)


def test_clay_adheres_and_sand_rubs():
    assert isnan(tables.soil("clay").friction) and tables.soil("clay").cohesion == near(130 * psf, 1e-12)
    assert isnan(tables.soil("sand").cohesion) and tables.soil("sand").friction == 0.25


# ---- laws ----


@pytest.mark.parametrize("name", tables.bar.names())
def test_a_bar_weighs_what_its_steel_weighs(name):
    bar = tables.bar(name)
    assert bar.area == near(pi * bar.diameter**2 / 4, 0.02)
    assert bar.weight == near(bar.area * STEEL, 0.02)


@pytest.mark.parametrize("name", tables.rod_names())
def test_a_rod_tears_at_the_area_of_its_thread_and_its_washer_covers_the_hole(name):
    thread = tables.thread_metric(name) if name.startswith("M") else tables.thread_inch(name)
    rod = tables.rod(thread.diameter, "F1554-36")
    lost = 0.9382 if name.startswith("M") else 0.9743
    assert rod.area == near(pi / 4 * (rod.diameter - lost * rod.pitch) ** 2, 0.005)
    assert rod.diameter < rod.across_flats < rod.washer
    assert 0.8 * rod.diameter < rod.nut < rod.diameter
    assert rod.diameter * 1.25 < rod.hole < rod.washer - 0.5 * inch


@pytest.mark.parametrize("name", [name for name in tables.section.names() if not name.startswith("Pipe")])
def test_a_square_tube_has_the_properties_of_its_corners_and_walls(name):
    tube = tables.section(name)
    hss = name.startswith("HSS")
    outer, inner = (2 * tube.wall, tube.wall) if hss else (1.5 * tube.wall, tube.wall)
    whole, hollow = _rounded_square(tube.depth, outer), _rounded_square(tube.depth - 2 * tube.wall, inner)
    area, inertia, plastic = (a - b for a, b in zip(whole, hollow, strict=True))
    assert tube.area == near(area, 0.01)
    assert tube.inertia == near(inertia, 0.01)
    assert tube.modulus == near(2 * inertia / tube.depth, 0.01)
    assert tube.plastic == near(plastic, 0.01)
    assert tube.weight == near(area * STEEL * (1 / 0.93 if hss else 1), 0.025)  # weighed with the nominal wall


def _rounded_square(b, r):
    """Area, second moment and plastic modulus of a square with rounded corners."""
    piece = r * r * (1 - pi / 4)  # what one corner loses, and its centroid from the sharp corner
    away = (r**3 / 2 - pi * r * r / 4 * (r - 4 * r / (3 * pi))) / piece
    own = r**4 / 12 + r * r * (r / 2 - away) ** 2
    own -= (pi / 16 - 4 / (9 * pi)) * r**4 + pi * r * r / 4 * (r - 4 * r / (3 * pi) - away) ** 2
    return b * b - 4 * piece, b**4 / 12 - 4 * (own + piece * (b / 2 - away) ** 2), b**3 / 4 - 4 * piece * (b / 2 - away)


@pytest.mark.parametrize("name", [name for name in tables.section.names() if name.startswith("Pipe")])
def test_a_pipe_has_the_properties_of_its_ring(name):
    pipe = tables.section(name)
    inside = pipe.depth - 2 * pipe.wall
    inertia = pi / 64 * (pipe.depth**4 - inside**4)
    assert pipe.area == near(pi / 4 * (pipe.depth**2 - inside**2), 0.02)  # the smallest pipe is printed 1.7 % larger
    assert pipe.inertia == near(inertia, 0.01)
    assert pipe.modulus == near(2 * inertia / pipe.depth, 0.01)
    assert pipe.plastic == near((pipe.depth**3 - inside**3) / 6, 0.01)
    assert pipe.kind == "pipe"


@pytest.mark.parametrize("name", tables.conduit.names())
def test_a_conduit_has_a_wall_and_a_bend_it_can_take(name):
    conduit = tables.conduit(name)
    wall = conduit.outside / 2 - (conduit.inside_area / pi) ** 0.5
    assert 0.08 * inch < wall < 0.4 * inch
    assert 3 * conduit.outside < conduit.bend_radius < 5 * conduit.outside


def test_a_thicker_wall_leaves_less_room():
    for name in tables.conduit.names():
        if name.endswith("PVC 80"):
            assert tables.conduit(name).inside_area < tables.conduit(name.replace("80", "40")).inside_area


def test_plywood_is_stronger_along_its_face_grain_and_stiffer_when_thicker():
    for grade in ("Class I", "Class II", "Structural I"):
        panels = [tables.plywood(name) for name in tables.plywood.names() if name.startswith(f"{grade} ")]
        assert [panel.thickness for panel in panels] == sorted(panel.thickness for panel in panels)
        for thin, thick in zip(panels, panels[1:], strict=False):
            for column in [f.name for f in fields(thin)][1:]:
                assert getattr(thin, column) < getattr(thick, column), (thin.name, column)
        assert all(panel.I_along > panel.I_across for panel in panels)


def test_dressed_lumber_bends_on_edge():
    stick = tables.lumber_size("2x6")
    assert stick.area == near(8.25 * inch2, 1e-12)
    assert stick.modulus == near(7.5625 * inch**3, 1e-12)
    assert stick.inertia == near(20.796875 * inch**4, 1e-12)


def test_a_slope_is_as_steep_as_its_angle():
    for name in tables.slope.names():
        row = tables.slope(name)
        assert pi / 2 - row.angle == pytest.approx(atan(row.run), abs=0.01)


def test_earth_swells_when_dug_and_shrinks_when_rolled():
    for name in tables.swell.names():
        row = tables.swell(name)
        assert row.loose > 1 and row.compacted < row.loose


def test_weights_are_forces():
    assert tables.bar("#5").weight == near(1.043 * lb / ft, 1e-12)
    assert tables.bar("ø16").weight == near(1.579 * 9.80665, 1e-12)


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_a_data_file_reads_as_the_toml_it_is(path):
    assert tables._data(path.stem) == tomllib.loads(path.read_text("utf-8"))
