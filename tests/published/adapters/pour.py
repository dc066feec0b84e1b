"""The hour of the pour against what is published: drying, fresh temperatures, vibrators, the age of a load."""

import numpy as np

from adapters import As, Given, case
from batterboard.quantity import (
    Celsius,
    Length,
    Number,
    SpecificHeat,
    Speed,
    TemperatureDifference,
    Time,
    read,
)
from batterboard.standards import aci305, aci306, aci309, c94


@case("evaporation")
def evaporation(given: Given):
    sky = _sky(given)
    menzel = aci305.evaporation(*sky)
    answers = {"menzel": menzel, "uno_us": aci305.evaporation_uno_us(*sky), "reading": menzel}
    return answers | ({} if "menzel" in given.asked else {"printed": menzel})


@case("evaporation, Uno SI form")
def evaporation_uno(given: Given):
    return {"rate": aci305.evaporation_uno(*_sky(given))}


@case("evaporation, Uno US form")
def evaporation_uno_us(given: Given):
    return {"rate": aci305.evaporation_uno_us(*_sky(given))}


def _sky(given: Given):
    kinds = (("concrete", Celsius), ("air", Celsius), ("humidity", Number), ("wind", Speed))
    return tuple(given.si(name, kind) for name, kind in kinds)


@case("evaporation limit")
def evaporation_limit(given: Given):
    return {"si": aci305.PROTECT_FROM}


# ---- temperatures of fresh concrete ----


def _heap(text: str) -> tuple[float, float]:
    """`470 lb at 150 F`: how much, how warm. Only shares count, so that pounds are as good as any."""
    mass, temperature = text.split(" at ")
    return float(mass.split()[0]), read(temperature, Celsius)


@case("concrete temperature from ingredients")
def as_mixed(given: Given):
    C, T_c = _heap(given.text("cement"))
    S, T_s = _heap(given.text("aggregate"))
    w, T_w = _heap(given.text("water"))
    c = given.si("specific_heat", Number, None)
    if c is None:
        c = given.si("c_solid", SpecificHeat) / given.si("c_water", SpecificHeat)

    def mixed(dT_c: float = 0.0, dT_s: float = 0.0, dT_w: float = 0.0):
        return aci305.as_mixed(C, S, w, 0.0, 0.0, T_c + dT_c, T_s + dT_s, T_w + dT_w, c)

    def change(**one: float):
        """How much warmer one ingredient must be for one degree of concrete."""
        return As(1 / (mixed(**one) - mixed()), TemperatureDifference)

    by_one = {"cement_for_1C": change(dT_c=1.0), "aggregate_for_1C": change(dT_s=1.0), "water_for_1C": change(dT_w=1.0)}
    return {"temperature": mixed()} | by_one


@case("delivery-loss")
def lost_on_the_way(given: Given):
    wanted = given.si("required", Celsius)
    drop = aci306.lost_on_the_way(wanted, given.si("air", Celsius), given.si("travel", Time))
    return {"drop": As(drop, TemperatureDifference), "batch_at": wanted + drop}


@case("hot-limit")
def hottest(given: Given):
    limits = {
        "ACI 301-20 / 305.1-14": aci306.HOTTEST,
        "TM 5-822-7": aci306.HOTTEST_PAVING,
        "ACI 605 (old)": aci306.HOTTEST_PAVING,
    }
    return {"limit": [limits[name] for name in given["document"]]}


# ---- setting ----


@case("initial and final set")
def set_definition(given: Given):
    return {"initial": c94.INITIAL_SET, "final": c94.FINAL_SET}


# ---- vibrators ----


@case("internal vibrators")
def vibrators(given: Given):
    rows = given.each("head", aci309.vibrator)

    def band(low: str, high: str, unit: str, size: float) -> list[str]:
        return [f"{getattr(row, low) / size:g}-{getattr(row, high) / size:g} {unit}" for row in rows]

    return {
        "radius": band("near", "far", "mm", 1e-3),
        "rate": band("slow", "fast", "m3/h", 1 / 3600),
        "frequency": band("low", "high", "Hz", 1.0),
    }


@case("coverage of an insertion pattern")
def coverage(given: Given):
    R, s = given.si("R", Length), given.si("spacing", Length)
    square, triangular = s / aci309.squares_limit(1.0), aci309.farthest_of_triangles(s)
    return {
        "square_farthest": square,
        "square_covered": bool(square <= R),
        "triangular_farthest": triangular,
        "triangular_covered": bool(triangular <= R),
        "square_limit": aci309.squares_limit(R),
    }


@case("insertions in a square pier")
def insertions(given: Given):
    a, _ = (read(part, Length) for part in given.text("section").split(" x "))
    rows = np.ceil(a / aci309.squares_limit(given.si("R", Length)))
    return {"insertions": rows**2, "farthest": a / rows / aci309.squares_limit(1.0)}
