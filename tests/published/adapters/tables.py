"""The trade's tables against the pages they were taken from."""

import re
from collections.abc import Callable
from math import isclose
from typing import Any

import numpy as np

from adapters import Given, Missing, case
from batterboard.quantity import Length, Number, Volume, ft, inch
from batterboard.standards import tables


def _columns(given: Given, names: tuple[str, ...], row: Callable[[str], Any], **columns: Callable[[Any], Any]):
    """Columns of a table's row, or of each row where the input is a list. `names`: what the input may be called."""
    rows = given.each(next((name for name in names if name in given), names[0]), row)
    if isinstance(rows, list):
        return {key: [column(one) for one in rows] for key, column in columns.items()}
    return {key: column(rows) for key, column in columns.items()}


def _bar(text: str) -> tables.BarSize:
    """`No. 5`, `#5`, `16 mm`, `No. 16 soft metric (= No. 5)`."""
    soft = re.match(r"No\. (\d+) soft metric", text)
    metric = re.fullmatch(r"(\d+) mm", text)
    return tables.bar(f"soft {soft[1]}" if soft else f"ø{metric[1]}" if metric else text)


@case("bar size table")
def bar_size(given: Given):
    return _columns(
        given,
        ("bar", "bars"),
        _bar,
        diameter=lambda bar: bar.diameter,
        area=lambda bar: bar.area,
        weight=lambda bar: bar.weight,
        mass=lambda bar: f"{bar.weight / 9.80665:.6f} kg/m",
    )


def _rod_size(text: str) -> str:
    """`3/4 in`, `3/4-10`, `3/4-10 in`, `1-1/4 in`, `M20`."""
    size = text.removesuffix("in").strip()
    thread = re.fullmatch(r"((?:\d+[ -])?\d+/\d+|\d+)-\d+", size)
    return size if size.startswith("M") else (thread[1] if thread else size).replace("-", " ") + " in"


@case("base-plate hole", "base-plate: Holes and washers")
def holes(given: Given):
    names = ("rod", "rods", "size", "sizes")
    answers = _columns(
        given,
        names,
        lambda text: tables.hole(_rod_size(text)),
        hole=lambda row: row.hole,
        hole_dg1=lambda row: row.hole,
        washer=lambda row: row.washer,
        washer_thick=lambda row: row.washer_thick,
        washer_thickness=lambda row: row.washer_thick,
    )
    if "hole_manual_15" in given.asked:
        later = _columns(given, names, lambda text: tables.hole_manual(_rod_size(text)), hole=lambda row: row.hole)
        answers["hole_manual_15"] = later["hole"]
    return answers


@case("tensile stress area", "anchor: Tensile stress area")
def thread_areas(given: Given):
    if "diameter" not in given:
        names = ("sizes", "size", "rods", "rod")
        return _columns(given, names, lambda text: tables.thread_inch(_rod_size(text)), A_se=_area, area=_area)
    rod = tables.rod(given.si("diameter", Length), "F1554-36")
    if not isclose(given.si("threads_per_inch", Number) * rod.pitch, inch):
        raise Missing("not the coarse thread")
    return {"area": rod.area, "A_se": rod.area}


def _area(row: Any) -> float:
    return row.area


@case("anchor: Anchor rod tensile and yield loads")
def rod_loads(given: Given):
    area = tables.thread_inch(_rod_size(given.text("size"))).area
    names = ("grades", "grade")
    steels = _columns(
        given, names, lambda text: tables.grade(f"F1554-{text}"), f_ut=lambda row: row.f_ut, f_y=lambda row: row.f_y
    )
    return {"tensile_min": area * np.array(steels["f_ut"]), "yield_min": area * np.array(steels["f_y"])}


@case("steel-section: Square tube properties", "steel-section: Round pipe", "steel-section: Pipe properties")
def sections(given: Given):
    return _columns(
        given,
        ("tubes", "tube", "pipes", "pipe", "sections", "section"),
        tables.section,
        t_des=lambda row: row.wall,
        A=_area,
        I=lambda row: row.inertia,
        S=lambda row: row.modulus,
        Z=lambda row: row.plastic,
        weight=lambda row: row.weight,
    )


_PANEL = re.compile(r"(.+ in) (Class I|Class II|Structural I), (?:stress )?(parallel|perpendicular)")


def _grain(text: str) -> tuple[tables.Plywood, tables.Grain]:
    """`3/4 in Class I, stress parallel to face grain`."""
    panel = _PANEL.match(text)
    if panel is None:
        raise Missing(f"{text!r} names no panel")
    plywood = tables.plywood(f"{panel[2]} {panel[1]}")
    return plywood, plywood.along if panel[3] == "parallel" else plywood.across


@case("form plywood", "plyform-class-i-properties")
def plywood(given: Given):
    if "panel" in given:
        return _columns(
            given,
            ("panel",),
            _grain,
            I=lambda row: f"{row[1].inertia * ft / inch**4:.6g} in4/ft",
            S_effective=lambda row: f"{row[1].modulus * ft / inch**3:.6g} in3/ft",
            Ib_over_Q=lambda row: f"{row[1].shear_constant * ft / inch**2:.6g} in2/ft",
            weight=lambda row: row[0].weight,
        )
    return _columns(
        given,
        ("grade", "grades"),
        tables.plywood_stress,
        F_b=lambda row: row.F_b,
        F_s_rolling=lambda row: row.F_s,
        E_bending_only=lambda row: row.E_bending,
        E_with_separate_shear_deflection=lambda row: row.E_shear,
    )


@case("lumber")
def lumber(given: Given):
    if "size" in given and "grade" not in given:
        return {
            "A": given.each("size", lambda size: tables.lumber_size(size).area),
            "S": given.each("size", lambda size: tables.lumber_size(size).modulus),
            "I": given.each("size", lambda size: tables.lumber_size(size).inertia),
        }
    names = ("F_b", "F_t", "F_v", "F_c_perp", "F_c", "E", "E_min", "G")
    return {
        name: given.each("grade", lambda grade, name=name: getattr(tables.lumber_grade(grade), name)) for name in names
    }


@case("soil: Presumptive values")
def soils(given: Given):
    return {
        "bearing": given.each("soil", lambda name: tables.soil(name).bearing),
        "lateral": given.each("soil", lambda name: tables.soil(name).side),
        "friction": given.each("soil", lambda name: tables.soil(name).friction),
        "cohesion": given.each("soil", lambda name: tables.soil(name).cohesion),
    }


@case("steepest slope by soil type")
def slopes(given: Given):
    return {
        "h_to_v": given.each("types", lambda name: tables.slope(name).run or "vertical"),
        "angle": given.each("types", lambda name: tables.slope(name).angle),
    }


@case("bank, loose and compacted volume")
def swell(given: Given):
    earth = tables.swell(given.text("soil").split()[0])
    bank = given.si("bank", Volume)
    return {
        "loose": bank * earth.loose,
        "compacted": bank * earth.compacted,
        "loose_to_compacted": earth.compacted / earth.loose,
    }


@case("smallest bend radius, shop bend")
def bend_radius(given: Given):
    return {"radius": tables.conduit(f"{given.text('trade_size').removesuffix(' in')} in RMC").bend_radius}


@case("wire fill")
def conduit_and_wire(given: Given):
    conduit = re.fullmatch(r"(PVC|RMC)(?: schedule (40|80))?, trade (.+)", given.text("conduit"))
    wire = re.match(r"([\d/]+) AWG THWN-2", given.text("conductors"))
    if conduit is None or wire is None:
        raise Missing("not a conduit or wire of the tables")
    kind = f"{conduit[1]} {conduit[2]}" if conduit[2] else conduit[1]
    inside = tables.conduit(f"{conduit[3].removesuffix(' in')} in {kind}").inside_area
    return {"internal_area": inside, "conductor_area": tables.wire(f"#{wire[1]}").area}
