"""Forms: pressure of fresh concrete, form plywood, lumber, nails, yokes. Panels and strips: `shapes`."""

import re

import numpy as np

from adapters import Given, Missing, case
from batterboard.job.schema import Mix, Pour, Sheet
from batterboard.methods import cutting
from batterboard.methods.cutting import recount, sheets
from batterboard.methods.cutting.plans import Panel
from batterboard.methods.cutting.plans import Sheet as SheetStock
from batterboard.phases.forms.pressure import lateral
from batterboard.phases.forms.sheathing import carried, kind_of
from batterboard.quantity import (
    Area,
    Celsius,
    Length,
    LineLoad,
    MassDensity,
    Number,
    Pressure,
    RateOfRise,
    SectionModulus,
    Time,
    UnitWeight,
    Volume,
    day,
    ft,
    inch,
    psf,
    psi,
    read,
)
from batterboard.standards import aci347, apa, form_removal, nds, tables
from batterboard.work.records import Body, Frame, Outline

HERE = Frame(x=0.0, y=0.0, turn=0.0)
STRENGTH = 27.6e6
SHEET = Sheet(of="3/4 in plywood", size=(8 * ft, 4 * ft))


def standing(outline: Outline, height: float, part: str = "pier") -> Body:
    return Body(
        name="x",
        element="x",
        part=part,
        outline=outline,
        frame=HERE,
        bottom=0.0,
        top=height,
        mix="m",
        against="form",
    )


def rectangle(along: float, across: float, corners: float = 0.0, top: float = 0.0) -> Outline:
    return Outline(kind="rectangle", along=along, across=across, corners=corners, top=top)


# ---- pressure ----


def mix_of(text: str) -> dict[str, object]:
    """`Type I + 25 % fly ash, retarder`."""
    shares = {name: re.search(rf"([\d.]+) % {name}", text) for name in ("slag", "fly ash")}
    return {
        "retarder": "retarder" in text and "no retarder" not in text,
        "slag": float(shares["slag"][1]) / 100 if shares["slag"] else 0.0,
        "fly_ash": float(shares["fly ash"][1]) / 100 if shares["fly ash"] else 0.0,
    }


# A mix that has this coefficient by the guide's table, where a case gives only the coefficient.
OF_COEFFICIENT = {1.0: "", 1.2: "retarder", 1.4: "75 % slag"}


def _weight(given: Given):
    if "density" in given:
        return given.si("density", MassDensity) * 9.80665
    return given.si("w", UnitWeight, 150 * 157.08746384)


@case("lateral pressure of fresh concrete")
def pressure(given: Given):
    """By the phase, for the pour as the case describes it."""
    height = given.si("H", Length)
    if "element" not in given:
        raise Missing("no element")
    pumped = given.text("filling", "") == "pumped from below"
    column = given.text("element") == "column"
    if "C_c" in given:
        text = OF_COEFFICIENT[given.si("C_c", Number)]
    else:
        admixture = given.text("admixture", "none")
        text = given.text("cement", "Type I") + ("" if admixture == "none" else f", {admixture}")
    found = lateral(
        standing(rectangle(0.5, 0.5 if column else 4.0), height, "pier"),
        height,
        given.si("slump", Length, 0.1),
        Pour(rate=given.si("R", RateOfRise, None), concrete=given.si("T", Celsius, 20.0), from_below=pumped),
        Mix(strength=STRENGTH, weight=_weight(given), **mix_of(text)),
    )
    return {
        "p_max": found.peak,
        "p_min_design": found.peak,
        "formula_value": found.formula,
        "depth_of_hydrostatic_zone": found.depth,
        "C_w": found.C_w,
        "C_c": found.C_c,
        "governs": found.governs,
    }


@case("pressure-unit-weight-coefficient")
def weight_coefficient(given: Given):
    return {"C_w": aci347.unit_weight_coefficient(given.si("w", UnitWeight))}


@case("pressure-chemistry-coefficient")
def chemistry(given: Given):
    def one(text: str) -> float:
        mix = mix_of(text)
        return aci347.chemistry_coefficient(float(mix["retarder"]), mix["slag"], mix["fly_ash"], 0.0)

    return {"C_c": given.each("mix", one)}


@case("pressure-formulas-meet", "pressure-us-against-si", "lateral pressure of fresh concrete")
def both_formulas(given: Given):
    """Where no height is given: both wall formulas for themselves."""
    if "H" in given or "R" not in given:
        raise Missing("a case of a wall of some height")
    R, T, C_c = given.si("R", RateOfRise), given.si("T", Celsius), given.si("C_c", Number, 1.0)
    C_w = given.si("C_w", Number) if "C_w" in given else aci347.unit_weight_coefficient(_weight(given))
    slow = aci347.wall_pressure_slow(C_w, C_c, R, T, h=3.0, slump=0.1, vibrated=1.0)
    fast = aci347.wall_pressure_fast(C_w, C_c, R, T, slump=0.1, vibrated=1.0)
    return {"first_formula": slow, "second_formula": fast, "us_form_converted": slow}


@case("pressure-army-wall")
def army_wall(given: Given):
    volume, _, time = given.text("output").partition(" in ")
    R = read(volume, Volume) / read(time, Time) / given.si("plan_area", Area)
    T, h, w = given.si("T", Celsius), given.si("H", Length), 150 * 157.08746384
    p = aci347.wall_pressure_slow(1.0, 1.0, R, T, h=h, slump=0.1, vibrated=1.0)
    return {"R": R, "chart_formula": p, "aci_347r_14": aci347.design_pressure(p, 1.0, w, h)}


@case("army-loads-on-studs-and-wales")
def line_load(given: Given):
    p, s, w = given.si("p", Pressure), given.si("spacing", Length), 150 * 157.08746384
    return {"line_load": aci347.push_between(10.0, 10.0 + s, w, p)}


# ---- plywood ----

_PANEL = re.compile(r"(?:(Class I|Class II|Structural I) )?(.+? in)(?: (Class I|Class II|Structural I))?(?:,? (.*))?$")


def _panel(text: str, grade: str = "Class I") -> tuple[tables.Plywood, bool]:
    """`3/4 in Class I, face grain across supports, 3 or more spans`."""
    words = _PANEL.match(text)
    if words is None:
        raise Missing(f"{text!r} names no panel")
    return tables.plywood(f"{words[1] or words[3] or grade} {words[2]}"), "across" in (words[4] or "across")


def _limits(panel: tables.Plywood, across: bool, spacing, spans: float, share: float) -> dict[str, object]:
    stress = tables.plywood_stress(kind_of(panel.name))
    grain, clear = panel.along if across else panel.across, spacing - 1.5 * inch
    E, E_e = stress.E_bending, stress.E_shear
    return {
        "bending": apa.bending_pressure(stress.F_b, grain.modulus, spacing, spans),
        "rolling shear": apa.rolling_shear_pressure(stress.F_s, grain.shear_constant, clear, spans),
        "deflection": apa.deflection_pressure(
            E, E_e, grain.inertia, panel.thickness, spacing, clear, spans, float(across), share
        ),
    }


@case("form plywood")
def plywood_pressure(given: Given):
    if "spans" in given:
        panel, across = _panel(given.text("panel"))
        spacing = given.si("spacing", Length)
        each = {n: _limits(panel, across, spacing, float(n), 1 / 360) for n in ("1", "2", "3")}
        names = {"bending": "bending", "shear": "rolling shear", "deflection": "deflection"}
        return {
            f"{name}_limit_{n}_span{'' if n == '1' else 's'}": each[n][limit]
            for n in each
            for name, limit in names.items()
        }
    spacing = given.si("spacing", Length)
    panel, across = _panel(given.text("panel"))
    if "3 or more spans" not in given.text("panel"):
        raise Missing("the number of spans is not said")
    found = {}
    for share in (360, 270):
        limits = _limits(panel, across, spacing, 3.0, 1 / share)
        found[share] = (limits, np.min(np.stack(list(limits.values())), axis=0))
    governs = []
    for i in range(np.size(spacing)):
        name = {s: min(limits, key=lambda n: np.ravel(limits[n])[i]) for s, (limits, _) in found.items()}
        alike = name[360] == name[270]
        governs.append(name[360] if alike else f"{name[360]} at l/360, {name[270]} at l/270")
    return {"p_360": found[360][1], "p_270": found[270][1], "governs": governs}


@case("plyform-20-in-column", "form plywood")
def plywood_columns(given: Given):
    if "spacing_printed" not in given:
        raise Missing("no printed column")
    grade, _, grain = given.text("grade").partition(", ")
    panels = [_panel(f"{text}, {grain}", grade)[0] for text in given["panel"]]
    answers = {}
    for key, spacing in (("printed_p_360", 19.2), ("computed_at_19_2_in", 19.2), ("computed_at_20_in", 20.0)):
        answers[key] = [float(min(_limits(panel, True, spacing * inch, 3.0, 1 / 360).values())) for panel in panels]
    return answers


@case("sheathing-span-bending", "form plywood")
def bending_span(given: Given):
    """The span at which the pressure is carried, from what one inch would carry."""
    F, S = given.si("f", Pressure), read(given.text("S").removesuffix("/ft"), SectionModulus) / ft
    one = apa.bending_pressure(F, S, 1 * inch, 3.0)
    return {"span_bending": (one / (given.si("w", LineLoad) / ft)) ** 0.5 * inch}


@case("beam formulas")
def span_coefficients(given: Given):
    """l = c sqrt(f S / w) and l = c (E I / w)^(1/3): by the panel formulas without shear and the quarter inch."""

    def one(text: str) -> float:
        what = text.partition(" ")[2]
        n = float(text[0])
        if "bending" in what:
            return float(apa.bending_pressure(1 * psi, inch**3 / ft, 1 * inch, n) / psf) ** 0.5
        share = 1 / float(what.rpartition("/")[2])
        l = 10 * inch
        p = apa.deflection_pressure(1 * psi, 1 * psi, inch**4 / ft, 0.0, l, l - 0.25 * inch, n, 1.0, share)
        return float(p / psf * 10**3) ** (1 / 3)

    return {"coefficient": given.each("limit", one)}


# ---- lumber and nails ----


def _wet(given: Given):
    return given.each("moisture", lambda text: float(text == "wet"))


@case("lumber-adjusted-bending", "lumber")
def adjusted_bending(given: Given):
    if "duration" not in given:
        raise Missing("no duration")
    grade, size = tables.lumber_grade(given.text("grade")), tables.lumber_size(given.text("size"))
    return {"F_b_adjusted": nds.bending_strength(grade.F_b, size.C_F, nds.FORM_DURATION, _wet(given))}


@case("lumber-wet-shear", "lumber")
def adjusted_shear(given: Given):
    F_v = given.each("grade", lambda name: tables.lumber_grade(name).F_v)
    return {"F_v_adjusted": nds.shear_strength(F_v, given.si("C_D", Number), _wet(given))}


@case("nails")
def nails(given: Given):
    diameter, length = re.search(r"([\d.]+) x ([\d.]+) in", given.text("nail")).groups()
    side, species = re.match(r"([\d.]+ in) (\S+)", given.text("side")).groups()
    if given.text("main") != species:
        raise Missing("two species")
    G = tables.lumber_grade(f"{species} No. 2").G
    D, l_s = float(diameter) * inch, read(side, Length)
    F_yb = nds.NAIL_16D[2]
    F_e = nds.nail_bearing(G)
    Z = nds.nail(D, F_e, F_yb, l_s, float(length) * inch - l_s)
    thick = nds.nail(D, F_e, F_yb, 10 * l_s, float(length) * inch)  # both ends of the nail yield in a thick stick
    C_D = given.si("C_D", Number)
    return {"Z": Z, "Z_adjusted": nds.nails_strength(Z, C_D, 1), "mode": "IV" if Z == thick else "III"}


@case("yokes-by-calculation", "column form yokes")
def yokes(given: Given):
    W, D, H = (read(side.strip(), Length) for side in given.text("pier").split(" x "))
    yoke = re.match(r"(\d) x (\d) (.+?), (dry|wet), C_D ([\d.]+), clear span (.+)", given.text("yoke"))
    tributary, head = given.text("yoke_tributary").removesuffix(" depth").split(" at ")
    size, grade = tables.lumber_size(f"{yoke[1]}x{yoke[2]}"), tables.lumber_grade(yoke[3])
    C_D, l, w = float(yoke[5]), read(yoke[6], Length), given.si("w", UnitWeight)
    panel, across = _panel(given.text("sheathing").replace("face grain upright", "face grain across supports"))
    stress = tables.plywood_stress("Class I")
    p = aci347.liquid_head(w, H)
    s, z = read(tributary, Length), read(head, Length)
    q = aci347.push_between(z - s / 2, z + s / 2, w, p)
    M, R = nds.yoke_moment(q, l), nds.yoke_reaction(q, l)
    Z = nds.nail(nds.NAIL_16D[0], nds.nail_bearing(grade.G), nds.NAIL_16D[2], size.wide, 2 * inch)
    flat = size.deep * size.wide**2 / 6
    return {
        "p_base": p,
        "sheathing_allowable_at_12_in": carried(panel, stress, across, 12 * inch, 10.5 * inch, 3),
        "force_on_one_panel": aci347.push_on_panel(H, W, w, p),
        "yoke_load": q,
        "yoke_moment": M,
        "bending_on_edge": nds.bending_stress(M, size.modulus),
        "allowable_on_edge": nds.bending_strength(grade.F_b, size.C_F, C_D, float(yoke[4] == "wet")),
        "bending_on_flat": nds.bending_stress(M, flat),
        "corner_pull": R,
        "nails_16d_per_corner": nds.nails_needed(R, Z, C_D),
    }


# ---- cutting ----


@case("cutting-strips", "panels, volumes, cutting")
def strips_from_sticks(given: Given):
    if "stock" not in given:
        raise Missing("no sticks")
    wanted = re.findall(r"(\d+) at ([^,]+)", given.text("pieces"))
    pieces = [cutting.Piece(length, read(length, Length), int(count)) for count, length in wanted]
    plan = cutting.first_fit(pieces, given.si("stock", Length), given.si("kerf", Length))
    return {"sticks": sum(cut.times for cut in plan)}


@case("panels, volumes, cutting")
def out_of_sheets(given: Given):
    """2 at 22 x 40: so many pieces, by width and height in inches, the height along the grain."""
    length, width = sorted((read(f"{side.strip()}", Length) for side in given.text("sheet").split(" x ")), reverse=True)
    panels = []
    for piece in given.text("pieces").split(","):
        count, size = piece.split(" at ")
        wide, high = (read(f"{side.strip()} in", Length) for side in size.split(" x "))
        panels.append(Panel(size, high, wide, int(count)))
    stock = [SheetStock("sheet", length, width)]
    plan = sheets.best(panels, stock, kerf=given.si("kerf", Length))
    assert not recount.sheet_faults(plan, panels, stock, given.si("kerf", Length))
    return {"sheets": plan.sheets}


@case("strip-vertical-forms")
def strip_vertical(given: Given):
    if "50 F" not in given.text("air"):
        raise Missing("hours below 50 F do not count")
    t = form_removal.least("walls, columns, beam sides").time
    return {"minimum": given.each("form", lambda _: t)}


@case("strip-soffits")
def strip_soffits(given: Given):
    return {"minimum": [_removal("beam soffit", form) for form in given["form"]]}


@case("strip-slabs")
def strip_slabs(given: Given):
    return {"minimum": [_removal("one-way slab", form) for form in given["form"]]}


def _removal(member: str, form: str) -> str:
    """Both columns of the table, the longer first."""
    of = form.replace("clear span ", "").rpartition(", ")[2].replace(" to ", "-")
    days = (form_removal.least(f"{member} {of}, live load {live} dead").time / day for live in ("under", "over"))
    return "; ".join(f"{count:g} d" for count in days)
