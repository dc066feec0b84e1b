"""What holds a form: other pressure methods, walls and ties, struts, bracing, uplift, and fresh concrete under it."""

import re

import numpy as np

from adapters import Given, case
from adapters.forms import STRENGTH, mix_of, rectangle, standing
from batterboard.job.schema import Mix, Pour, Stock, Wind
from batterboard.phases.forms.bracing import brace_of
from batterboard.phases.forms.pressure import lateral
from batterboard.quantity import (
    Celsius,
    Force,
    Length,
    LineLoad,
    MassDensity,
    Number,
    Pressure,
    RateOfRise,
    Speed,
    Stiffening,
    Time,
    UnitWeight,
    ft,
    inch,
    read,
)
from batterboard.standards import aci347, army, bracing, buoyancy, ciria108, din18218, fresh, nds, tables


def _sides(text: str) -> list[float]:
    return [read(side.strip(), Length) for side in text.split(" x ")]


# ---- the guide's limits and their order ----


@case("pressure envelope")
def envelope(given: Given):
    """Each column of the lists is one pour, answered by the phase."""
    names = ("width", "formed", "placed", "R", "T", "slump", "vibrated", "mix", "w", "filling")
    found = [_pressed(*texts) for texts in zip(*(given[name] for name in names), strict=True)]
    return {"p_max": np.array([one.peak for one in found]), "governs": [one.governs for one in found]}


def _pressed(width, formed, placed, R, T, slump, vibrated, mix, w, filling):
    pour = Pour(
        rate=None if R == "unknown" else read(R, RateOfRise),
        concrete=read(T, Celsius),
        vibrated=read(vibrated, Length),
        from_below=filling == "pumped from below",
    )
    words = {"flows": True} if mix == "unknown" else mix_of(mix)
    outline = rectangle(read(width, Length), 12 * inch)
    body = standing(outline, read(placed, Length))
    made = Mix(strength=STRENGTH, weight=read(w, UnitWeight), **words)
    return lateral(body, read(formed, Length), read(slump, Length), pour, made)


# ---- other pressure methods ----


@case("pressure-din-scc")
def levelling(given: Given):
    v, t_E, gamma = given.si("v", RateOfRise), given.si("t_E", Time), given.si("gamma", UnitWeight)
    return {"sigma_max": din18218.levelling_pressure(v, t_E, gamma, 100.0)}


@case("pressure-ciria-wall")
def ciria(given: Given):
    D, C_1, C_2 = given.si("D", UnitWeight), given.si("C_1", Number), given.si("C_2", Number)
    T, R, H = given.si("T", Celsius), given.si("R", RateOfRise), given.si("H", Length)
    p = ciria108.form_pressure(D, C_1, C_2, T, R, H)
    R_mh, K = R * 3600, None
    K = (p / D - C_1 * R_mh**0.5) / (C_2 * (H - C_1 * R_mh**0.5) ** 0.5)
    return {"K": K, "p_max": p}


@case("form-pressure-thixotropic")
def resting_pressure(given: Given):
    rho, H, A = given.si("density", MassDensity), given.si("H", Length), given.si("A_thix", Stiffening)
    e, R = given.si("e", Length), given.si("R", RateOfRise)
    head = fresh.resting_pressure(rho, H, 0.0, e, R)
    p = fresh.resting_pressure(rho, H, A, e, R)
    return {"hydrostatic": head, "reduction": head - p, "pressure": p}


# ---- walls, and the Army's tables ----


@case("army-plywood-stud-spacing")
def army_studs(given: Given):
    pressures = given.si("pressure", Pressure)
    panels = given.each("sheathing", lambda text: text)
    pairs = zip(pressures, (text.split() for text in panels), strict=True)
    return {"max_spacing": [army.stud_spacing(read(f"{thick} in", Length), way, p) for p, (thick, way) in pairs]}


@case("yokes-9ft-36in")
def army_yokes(given: Given):
    spaces = [army.space(name).spacing for name in army.space.names()]
    count = army.yokes(given.si("largest_side", Length), given.si("height", Length)) - 1
    return {"spacing_from_bottom": spaces, "count_of_spaces": count, "sum": sum(spaces)}


@case("army-tie-wire")
def tie_wire(given: Given):
    s = bracing.tie_spacing(given.si("tie_strength", Force), given.si("wale_load", LineLoad))
    return {"spacing": s // inch * inch, "unrounded": s}


@case("army-stud-count")
def stud_count(given: Given):
    return {"studs": bracing.uprights(given.si("length", Length), given.si("spacing", Length))}


@case("tie-load-double-2x6-wales")
def tie_load(given: Given):
    p, s_wale, s_tie = given.si("p", Pressure), given.si("wale_spacing", Length), given.si("tie_spacing", Length)
    return {"tie_load": bracing.support_load(p * s_wale, s_tie)}


@case("wale-bearing-on-stud")
def wale_bearing(given: Given):
    n, b_1, b_2 = re.match(r"(\d) x (.+) x (.+)", given.text("contact")).groups()
    P = bracing.support_load(given.si("stud_load", LineLoad), given.si("wale_spacing", Length))
    f = nds.bearing_stress(P, read(b_1, Length), read(b_2, Length), float(n))
    grade = tables.lumber_grade("DF-L No. 2")
    return {"P": P, "bearing_stress": f, "allowable_dry": nds.bearing_strength(grade.F_c_perp, 0.0)}


@case("stud-2x4-span")
def stud_spans(given: Given):
    grade = tables.lumber_grade(given.text("grade"))
    size = tables.lumber_size(given.text("size").removesuffix(" on edge"))
    C_D, wet, q = given.si("C_D", Number), float(given.text("moisture") == "wet"), given.si("w", LineLoad)
    F_b = nds.bending_strength(grade.F_b, size.C_F, C_D, wet)
    F_v = nds.shear_strength(grade.F_v, C_D, wet)
    return {
        "bending_span": nds.bending_span(F_b, size.modulus, q),
        "deflection_span_l_360": nds.deflection_span(nds.stiffness(grade.E, wet), size.inertia, q, 1 / 360),
        "shear_span": nds.shear_span(F_v, size.area, q, size.deep),
    }


@case("lumber-wet-bearing")
def wet_bearing(given: Given):
    grade, wet = tables.lumber_grade(given.text("grade")), float(given.text("moisture") == "wet")
    return {
        "F_c_perp_adjusted": nds.bearing_strength(grade.F_c_perp, wet),
        "E_adjusted": nds.stiffness(grade.E, wet),
    }


# ---- bracing ----


@case("brace-two-percent-rule")
def floor_line(given: Given):
    plan = [read(side, Length) for side in given.text("plan").removesuffix(" deck").split(" x ")]
    W, L = given.si("dead_load", Pressure) * plan[0] * plan[1], given.si("edge", Length)
    answers = {"two_percent": (W, 0.0), "hundred_plf": (0.0, L), "design": (W, L)}
    return {name: aci347.floor_line_force(*loads) for name, loads in answers.items()}


@case("brace-slenderness-limit")
def slenderness(given: Given):
    return {"max_unsupported_length": nds.longest_strut(given.si("least_thickness", Length))}


@case("brace-min-load")
def least_load(given: Given):
    """For each foot of wall."""
    h, p, b = given.si("H", Length), given.si("wind", Pressure), 1 * ft
    M = bracing.wind_moment(p, b, h)
    M_brace = bracing.tipping_moment(M, bracing.least_moment(bracing.LEAST, b, h), 0.0)
    return {
        "wind_force": p * h,
        "overturning": M / b,
        "equivalent_at_top": bracing.push_at(M, h) / b,
        "design_at_top": bracing.push_at(M_brace, h) / b,
    }


@case("brace-strut-force")
def strut(given: Given):
    q, h, s = given.si("H_top", LineLoad), given.si("h", Length), given.si("brace_spacing", Length)
    up, run = given.si("h_strut", Length), given.si("l_foot", Length)
    F = bracing.push_at(bracing.least_moment(q, s, h), up)
    P = bracing.strut_force(F, up, run)
    return {
        "strut_length": P / F * run,
        "strut_force": P,
        "horizontal": F,
        "vertical_at_foot": bracing.strut_lift(F, up, run),
    }


@case("brace worked through")
def worked_brace(given: Given):
    width = given.si("side", Length) + 2 * given.si("sheet", Length)
    size, _, lumber = given.text("lumber").partition(" ")
    brace = brace_of(
        "x", width, given.si("height", Length), Stock(brace=size, lumber=lumber, stake=given.si("stake", Force)), None
    )
    return vars(brace)


@case("site wind on a form")
def site_wind(given: Given):
    wind = Wind(speed=given.si("speed", Speed), exposure=given.text("exposure"))
    return vars(brace_of("x", given.si("width", Length), given.si("height", Length), Stock(), wind))


# ---- uplift ----


@case("uplift-pyramid-footing")
def pyramid(given: Given):
    base, top = (read(given.text(key).removesuffix(" square"), Length) for key in ("base", "top"))
    h, w = given.si("height", Length), given.si("w", UnitWeight)
    V = h / 3 * (base**2 + top**2 + base * top)
    F = buoyancy.batter_lift(w, base**2, h, V)
    return {"volume": V, "uplift": F, "share_of_concrete_weight": F / (w * V)}


@case("uplift-lid-over-pad")
def lid(given: Given):
    pad, pier = _sides(given.text("pad")), _sides(given.text("pier"))
    p = aci347.liquid_head(given.si("w", UnitWeight), pier[2])
    A = fresh.under_a_cover(pad[0] * pad[1], pier[0] * pier[1])
    return {
        "pressure": p,
        "lid_area": A,
        "uplift": buoyancy.lid_lift(p, A),
        "uplift_tonnes": buoyancy.lid_lift(p, A) / 9.80665,
    }


@case("uplift-top-chamfer-strip")
def chamfer_strip(given: Given):
    return {"uplift": buoyancy.strip_lift(given.si("w", UnitWeight), given.si("leg", Length))}


# ---- fresh concrete under a form ----


@case("yield-stress-slump")
def yield_stress(given: Given):
    s, rho = given.si("slump", Length), given.si("density", MassDensity)
    return {
        "roussel": fresh.yield_roussel(s, rho),
        "ferraris_de_larrard": fresh.yield_nistir(s, rho),
        "hu": fresh.yield_hu(s, rho),
    }


@case("yield stress from slump")
def one_fit(given: Given):
    fit = fresh.yield_roussel if "Roussel" in given.source else fresh.yield_nistir
    return {"tau0": fit(given.si("slump", Length), given.si("density", MassDensity))}


@case("structuration at rest")
def at_rest(given: Given):
    """From the time that one pascal more takes: the growth is a straight line."""
    tau_0 = given.si("tau0", Pressure)
    per_second = 1 / fresh.resting_time(tau_0 + 1, tau_0, given.si("A", Stiffening))
    return {"tau": tau_0 + per_second * given.si("rest", Time)}


@case("slump-cone-slice-model")
def slices(given: Given):
    rho = given.si("density", MassDensity)
    return {
        "slump": fresh.cone_slump(given.si("tau", Pressure), rho),
        "no_slump_above": fresh.stands_without_slump(rho),
    }


@case("squeeze-out-40in-pier-at-once")
def at_once(given: Given):
    rho = given.si("density", MassDensity)
    q = aci347.liquid_head(rho * 9.80665, given.si("pier_height", Length))
    tau = fresh.lowest_yield(given.si("pad_slump", Length), rho)
    return {"pressure": q, "tau": tau, "capacity": fresh.bearing(tau), "ratio": fresh.bearing(tau) / q}


@case("squeeze-out-wait-time")
def wait(given: Given):
    rho = given.si("density", MassDensity)
    q = aci347.liquid_head(rho * 9.80665, given.si("pier_height", Length))
    tau_0 = fresh.lowest_yield(given.si("pad_slump", Length), rho)
    tau = fresh.yield_needed(q, given.si("FS", Number))
    return {"tau_needed": tau, "wait": fresh.resting_time(tau, tau_0, given.si("A_thix", Stiffening))}


@case("squeeze-out-rod-test")
def rod(given: Given):
    F = fresh.rod_force(given.si("tau", Pressure), given.si("rod_diameter", Length))
    return {"force": F, "force_lb": F}
