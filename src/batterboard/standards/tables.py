"""What does the trade tabulate? Bars, rods, tubes, pipes, conduits, lumber, plywood, soils, slopes.

    bar("#5")                   BarSize: diameter 0.0159, area 0.0002, weight 15.2 N/m; bar("ø16") too
    rod(0.01905, "F1554-36")    Rod: thread, tensile area, strengths, hole, washer, nut
    section("HSS5X5X1/4")       Section: depth, wall, area, inertia and so on; section("Pipe 4 STD") too
    bar.names()                 what there is
    bar.source("#5")            where it is from

Numbers stand in `data/` as the book prints them, in its units, with the source and how it was got on top. A file is
read when one of its rows is first asked for, a row is turned into SI when it is asked for. What is not there raises
NotTabulated, which names the near misses. Nothing is computed that a book tabulates. Rows are named tuples, which cost
a quarter of the start-up of as many frozen dataclasses.
"""

import json
import os
from collections.abc import Callable
from functools import cached_property, lru_cache
from typing import Any, Generic, TypeVar

from batterboard.quantity import (
    Angle,
    Area,
    Length,
    LineLoad,
    Number,
    Pressure,
    SecondMoment,
    SectionModulus,
    Time,
    UnitWeight,
    ft,
    inch,
    read,
)
from batterboard.record import ordered
from batterboard.working import Document, Source

Row = TypeVar("Row")
_QUOTE = '"'


class NotTabulated(KeyError):
    """A name that no table has, with the nearest that it has."""

    def __init__(self, what: str, name: str, near: tuple[str, ...]) -> None:
        super().__init__(name)
        self.what, self.name, self.near = what, name, near

    @property
    def problem(self) -> str:
        return f"{self.name!r} is no {self.what} of the tables"

    @property
    def remedy(self) -> str:
        return f"write {' or '.join(self.near)}" if self.near else f"see the tables for the {self.what}s there are"

    def __str__(self) -> str:
        return f"{self.problem}: {self.remedy}"


class Table(Generic[Row]):
    """Rows of one kind out of one or more data files; called with a name it gives the row."""

    def __init__(self, what: str, kind: type[Row], *names: str, spell: Callable[[str], str] = str.strip) -> None:
        self.what, self.kind, self.files, self._spell = what, kind, names, spell
        self._rows: dict[str, Row] = {}

    @cached_property
    def data(self) -> tuple[dict[str, Any], ...]:
        """The files as they are written."""
        return tuple(_data(name) for name in self.files)

    def names(self) -> tuple[str, ...]:
        return tuple(name for data in self.data for name in data["rows"])

    def __call__(self, name: str) -> Row:
        row = self._rows.get(name)
        if row is None:
            row = self._rows[name] = self._read(self._spell(name))
        return row

    def source(self, name: str) -> Source:
        """Where a row is from and how it was got."""
        data = self._holding(self._spell(name))
        return Source(Document(data["document"]), data["place"], data["how"])

    def _holding(self, name: str) -> dict[str, Any]:
        for data in self.data:
            if name in data["rows"]:
                return data
        from difflib import get_close_matches  # only an error pays for it

        near = get_close_matches(name.lower(), [n.lower() for n in self.names()], 3, 0.5)
        raise NotTabulated(self.what, name, tuple(n for n in self.names() if n.lower() in near)[:3])

    def _read(self, name: str) -> Row:
        data = self._holding(name)
        cells = {
            c: (cell, unit) for c, cell, unit in zip(data["columns"], data["rows"][name], data["units"], strict=True)
        }
        kinds = self.kind.__annotations__
        given = {column: _value(*cells[column], kind) for column, kind in kinds.items() if column != "name"}
        make: Any = self.kind
        row: Row = make(name=name, **given)
        return row


@lru_cache
def _data(name: str) -> dict[str, Any]:
    """A data file: a plain kind of TOML, one `key = value` a line, which JSON reads ten times faster at one go."""
    with open(f"{os.path.dirname(__file__)}/data/{name}.toml", encoding="utf-8") as file:
        head, _, rows = file.read().partition("[rows]\n")
    return {**_pairs(head), "rows": _pairs(rows)}


def _pairs(text: str) -> dict[str, Any]:
    split = (line.partition(" = ") for line in text.splitlines() if line and not line.startswith("#"))
    said = (f'"{key.strip(_QUOTE)}":{value}' for key, _, value in split)
    pairs: dict[str, Any] = json.loads("{" + ",".join(said) + "}")
    return pairs


def _value(cell: str, unit: str, kind: Any) -> Any:
    """A cell in SI; a dash says that the book gives nothing there."""
    if kind is str:
        return cell
    return float("nan") if cell == "-" else read(f"{cell} {unit}".strip(), kind)


# ---- reinforcing bars ----


@ordered
class BarSize:
    name: str
    diameter: Length
    area: Area  # as tabulated
    weight: LineLoad


def _spell_bar(name: str) -> str:
    spelled = name.strip().replace("No. ", "#").replace("No.", "#").replace("Ø", "ø").replace("⌀", "ø")
    return spelled.replace("ø ", "ø").replace("# ", "#")


bar = Table("bar", BarSize, "bars-inch", "bars-metric", "bars-soft-metric", spell=_spell_bar)


# ---- anchor rods ----


@ordered
class _InchThread:
    name: str
    diameter: Length
    threads_per_inch: Number
    area: Area
    nut: Length
    across_flats: Length

    @property
    def pitch(self) -> Length:
        return inch / self.threads_per_inch


@ordered
class _MetricThread:
    name: str
    diameter: Length
    pitch: Length
    area: Area
    nut: Length
    across_flats: Length


@ordered
class Grade:
    name: str
    f_y: Pressure
    f_ut: Pressure


@ordered
class Hole:
    """The hole in a base plate for a rod, and the plate washer over it."""

    name: str  # of the rod
    hole: Length
    washer: Length
    washer_thick: Length


@ordered
class Rod:
    name: str  # "3/4 in F1554-36"
    size: str  # "3/4 in"
    grade: str
    diameter: Length
    pitch: Length
    area: Area  # tensile stress area, as tabulated
    f_y: Pressure
    f_ut: Pressure
    nut: Length  # height
    across_flats: Length
    hole: Length  # in the plate, by AISC Design Guide 1, 2nd edition, where it has the size
    washer: Length
    washer_thick: Length


thread_inch = Table("rod", _InchThread, "rods-inch")
thread_metric = Table("rod", _MetricThread, "rods-metric")
grade = Table("rod grade", Grade, "rod-grades-inch", "rod-grades-metric")
hole = Table("rod", Hole, "rod-holes-guide", "rod-holes-practice", "rod-holes-metric")
hole_manual = Table("rod", Hole, "rod-holes-manual")  # the later edition, with larger holes from 1 in on


def rod(diameter: float, grade_name: str) -> Rod:
    """A threaded rod by its diameter in metres and its grade: rod(0.01905, "F1554-36")."""
    size = _size(float(diameter))
    thread = thread_metric(size) if size.startswith("M") else thread_inch(size)
    steel, over = grade(grade_name), hole(size)
    return Rod(
        name=f"{size} {steel.name}",
        size=size,
        grade=steel.name,
        diameter=thread.diameter,
        pitch=thread.pitch,
        area=thread.area,
        f_y=steel.f_y,
        f_ut=steel.f_ut,
        nut=thread.nut,
        across_flats=thread.across_flats,
        hole=over.hole,
        washer=over.washer,
        washer_thick=over.washer_thick,
    )


def rod_names() -> tuple[str, ...]:
    return (*thread_inch.names(), *thread_metric.names())


def _size(diameter: float) -> str:
    """The name of the rod of a diameter."""
    by_size = {name: thread_inch(name).diameter for name in thread_inch.names()}
    by_size |= {name: thread_metric(name).diameter for name in thread_metric.names()}
    nearest = sorted(by_size, key=lambda name: abs(by_size[name] - diameter))
    if not abs(by_size[nearest[0]] - diameter) <= 1e-5:
        raise NotTabulated("rod", f"{diameter / inch:.4g} in", tuple(nearest[:2]))
    return nearest[0]


# ---- posts ----


@ordered
class Section:
    """A square tube or a round pipe."""

    name: str
    depth: Length  # outside
    wall: Length  # as designed with, thinner than the nominal one where the steel tables say so
    weight: LineLoad
    area: Area
    inertia: SecondMoment
    modulus: SectionModulus  # elastic
    plastic: SectionModulus
    f_y: Pressure

    @property
    def kind(self) -> str:
        return "pipe" if self.name.startswith("Pipe") else "square tube"


def _spell_section(name: str) -> str:
    words = " ".join(name.split())
    if words[:4].lower() == "pipe":
        return "Pipe" + words[4:].upper().replace("-", " ")
    return words.upper().replace(" ", "").replace("×", "X")


section = Table("section", Section, "tubes-square", "pipes-steel", "tubes-metric", spell=_spell_section)


# ---- conduits and wires ----


@ordered
class Conduit:
    name: str
    outside: Length
    inside_area: Area
    bend_radius: Length  # least, to the centre line, shop bend


@ordered
class Wire:
    name: str
    area: Area  # with its insulation


conduit = Table("conduit", Conduit, "conduits", spell=lambda name: " ".join(name.split()))
wire = Table("wire", Wire, "wires")


# ---- lumber and plywood ----


@ordered
class LumberSize:
    """A dressed stick: `deep` is the side along the load when it stands on edge."""

    name: str
    wide: Length
    deep: Length
    C_F: Number  # size factor on F_b, loaded on edge; nan where the table gives none

    @property
    def area(self) -> Area:
        return self.wide * self.deep

    @property
    def modulus(self) -> SectionModulus:
        """On edge."""
        return self.wide * self.deep**2 / 6

    @property
    def inertia(self) -> SecondMoment:
        """On edge."""
        return self.wide * self.deep**3 / 12


@ordered
class LumberGrade:
    """Reference design values, before any factor."""

    name: str
    F_b: Pressure
    F_t: Pressure
    F_v: Pressure
    F_c_perp: Pressure
    F_c: Pressure
    E: Pressure
    E_min: Pressure
    G: Number  # specific gravity


_SPECIES = {"Douglas Fir-Larch": "DF-L", "Spruce-Pine-Fir": "SPF"}


def _spell_grade(name: str) -> str:
    spelled = " ".join(name.split()).replace("No. 1/No. 2", "No. 2")
    for long, short in _SPECIES.items():
        spelled = spelled.replace(long, short)
    return spelled


def _spell_size(name: str) -> str:
    return name.replace(" ", "").lower().replace("×", "x")


lumber_size = Table("lumber size", LumberSize, "lumber-sizes", spell=_spell_size)
lumber_grade = Table("lumber grade", LumberGrade, "lumber-grades", spell=_spell_grade)


@ordered
class Grain:
    """Form plywood stressed one way, for each metre of width."""

    inertia: Any  # [m4/m]
    modulus: Any  # effective, not I / c [m3/m]
    shear_constant: Any  # I b / Q, rolling shear [m2/m]


@ordered
class Plywood:
    """Form plywood as tabulated: a strip one foot wide."""

    name: str  # "Class I 23/32 in"
    thickness: Length
    weight: Pressure
    I_along: SecondMoment
    S_along: SectionModulus
    Ib_Q_along: Area
    I_across: SecondMoment
    S_across: SectionModulus
    Ib_Q_across: Area

    @property
    def along(self) -> Grain:
        """Stress parallel to the face grain: the strong way."""
        return Grain(inertia=self.I_along / ft, modulus=self.S_along / ft, shear_constant=self.Ib_Q_along / ft)

    @property
    def across(self) -> Grain:
        """Stress perpendicular to the face grain."""
        return Grain(inertia=self.I_across / ft, modulus=self.S_across / ft, shear_constant=self.Ib_Q_across / ft)


@ordered
class PlywoodStress:
    """Allowable stresses of form plywood, wet and short-term already."""

    name: str
    F_b: Pressure
    F_s: Pressure  # rolling shear
    E_bending: Pressure  # where all deflection is charged to bending
    E_shear: Pressure  # where shear deflection is reckoned apart


@ordered
class Sheet:
    name: str
    sold: Length
    actual: Length


def _spell_sheet(name: str) -> str:
    spelled = " ".join(name.split()).removesuffix(" plywood").removesuffix(" plyform").removeprefix("Plyform ")
    return spelled if spelled.split()[0] in ("Class", "Structural") else f"Class I {spelled}"


plywood = Table("form plywood", Plywood, "plywood", spell=_spell_sheet)  # "23/32 in" is Class I
plywood_stress = Table(
    "form plywood", PlywoodStress, "plywood-stresses", spell=lambda name: name.strip().removeprefix("Plyform ")
)
sheet = Table("sheet", Sheet, "sheets", spell=lambda name: " ".join(name.split()).removesuffix(" plywood"))


# ---- soil ----


@ordered
class SoilClass:
    """Presumptive values, to be used where no report says better."""

    name: str
    bearing: Pressure
    side: UnitWeight  # lateral bearing per depth below grade
    friction: Number  # nan where cohesion counts
    cohesion: Pressure  # nan where friction counts
    words: str  # other names and the letters of the soil classes


@ordered
class Slope:
    name: str
    run: Number  # horizontal over vertical
    angle: Angle
    deepest: Length
    longest: Time  # open, nan where no limit


@ordered
class Swell:
    """Volumes over that in the bank."""

    name: str
    loose: Number
    compacted: Number


def _spell_soil(name: str) -> str:
    """The class that a soil's name or letters belong to."""
    words = " ".join(name.split())
    for row, cells in _data("soils")["rows"].items():
        if words.lower() in (row, *cells[-1].lower().split(", ")):
            return str(row)
    return words


soil = Table("soil class", SoilClass, "soils", spell=_spell_soil)
slope = Table("soil type", Slope, "slopes")
swell = Table("soil", Swell, "swell")
