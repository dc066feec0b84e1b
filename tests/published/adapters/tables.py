"""The trade's tables against the pages they were taken from."""

import re

from adapters import Given, Missing, case
from batterboard.quantity import Length, Volume, ft, inch
from batterboard.standards import tables


def _bar(text: str) -> tables.BarSize:
    """`No. 5`, `No. 16 soft metric (= No. 5)`."""
    soft = re.match(r"No\. (\d+) soft metric", text)
    return tables.bar(f"soft {soft[1]}" if soft else text)


@case("bar size table")
def bar_size(given: Given):
    bars = given.each("bar", _bar)
    every = bars if isinstance(bars, list) else [bars]
    answers = {
        "diameter": [bar.diameter for bar in every],
        "area": [bar.area for bar in every],
        "weight": [bar.weight for bar in every],
        "mass": [f"{bar.weight / 9.80665:.6f} kg/m" for bar in every],
    }
    return answers if isinstance(bars, list) else {key: values[0] for key, values in answers.items()}


def _rod_size(text: str) -> str:
    """`3/4 in`, `3/4-10`, `3/4-10 in`, `1-1/4 in`."""
    size = text.removesuffix("in").strip()
    thread = re.fullmatch(r"((?:\d+[ -])?\d+/\d+|\d+)-\d+", size)
    return (thread[1] if thread else size).replace("-", " ") + " in"


def _hole(text: str, table=tables.hole) -> tables.Hole:
    return table(_rod_size(text))


@case("base-plate hole for an anchor rod", "base-plate hole, edition trap", "base-plate: Holes and washers")
def holes(given: Given):
    name = "rod" if "rod" in given else "rods"
    over = given.each(name, _hole)
    every = over if isinstance(over, list) else [over]
    answers = {
        "hole": [hole.hole for hole in every],
        "washer": [hole.washer for hole in every],
        "washer_thick": [hole.washer_thick for hole in every],
    }
    answers |= {"hole_dg1": answers["hole"], "washer_thickness": answers["washer_thick"]}
    if "hole_manual_15" in given.asked:
        later = given.each(name, lambda text: _hole(text, tables.hole_manual).hole)
        answers["hole_manual_15"] = later if isinstance(over, list) else [later]
    return answers if isinstance(over, list) else {key: values[0] for key, values in answers.items()}


@case("tensile stress area", "anchor: Tensile stress area")
def thread_areas(given: Given):
    if "sizes" in given:
        return {"A_se": given.each("sizes", lambda text: tables.thread_inch(_rod_size(text)).area)}
    rod = tables.rod(given.si("diameter", Length), "F1554-36")
    return {"area": rod.area, "threads_per_inch": inch / rod.pitch}


@case("anchor: Anchor rod tensile and yield loads")
def rod_loads(given: Given):
    area = tables.thread_inch(_rod_size(given.text("size"))).area
    return {
        "tensile_min": given.each("grades", lambda grade: area * tables.grade(f"F1554-{grade}").f_ut),
        "yield_min": given.each("grades", lambda grade: area * tables.grade(f"F1554-{grade}").f_y),
    }


@case("steel-section: Square tube properties", "steel-section: Round pipe", "steel-section: Pipe properties")
def sections(given: Given):
    name = next((name for name in ("tubes", "tube", "pipes", "pipe", "sections", "section") if name in given), "tube")
    found = given.each(name, tables.section)
    every = found if isinstance(found, list) else [found]
    answers = {
        "t_des": [section.wall for section in every],
        "A": [section.area for section in every],
        "I": [section.inertia for section in every],
        "S": [section.modulus for section in every],
        "Z": [section.plastic for section in every],
        "weight": [section.weight for section in every],
    }
    return answers if isinstance(found, list) else {key: values[0] for key, values in answers.items()}


_PANEL = re.compile(r"(.+ in) (Class I|Class II|Structural I), (?:stress )?(parallel|perpendicular)")


def _grain(text: str) -> tuple[tables.Plywood, bool]:
    """`3/4 in Class I, stress parallel to face grain`."""
    panel = _PANEL.match(text)
    if panel is None:
        raise Missing(f"{text!r} names no panel")
    return tables.plywood(f"{panel[2]} {panel[1]}"), panel[3] == "parallel"


@case("form plywood", "plyform-class-i-properties")
def plywood(given: Given):
    if "panel" in given:
        return _panels(given)
    stress = tables.plywood_stress(given.text("grade"))
    return {
        "F_b": stress.F_b,
        "F_s_rolling": stress.F_s,
        "E_bending_only": stress.E_bending,
        "E_with_separate_shear_deflection": stress.E_shear,
    }


def _panels(given: Given):
    panels = given.each("panel", _grain)
    every = panels if isinstance(panels, list) else [panels]
    grains = [panel.along if strong else panel.across for panel, strong in every]
    return {
        "I": [f"{grain.inertia * ft / inch**4:.6g} in4/ft" for grain in grains],
        "S_effective": [f"{grain.modulus * ft / inch**3:.6g} in3/ft" for grain in grains],
        "Ib_over_Q": [f"{grain.shear_constant * ft / inch**2:.6g} in2/ft" for grain in grains],
        "weight": [panel.weight for panel, _ in every],
    }


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
