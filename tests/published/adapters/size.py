"""Wind, soil beside a pole, footings and gates against the books."""

import numpy as np

from adapters import Given, Missing, case
from batterboard.methods import contact
from batterboard.quantity import Force, Length, Moment, Number, Pressure, SecondMoment, Speed, UnitWeight
from batterboard.standards import asce7, ibc, statics
from batterboard.working import recording

# ---- wind ----


@case("wind: ")
def exposure(given: Given):
    def K_z(exposure):
        profile = asce7.EXPOSURES[exposure]
        return asce7.exposure_coefficient(given.si("height", Length), profile.alpha, profile.z_g)

    if "exposure" in given:
        return {"K_z": K_z(given.text("exposure"))}
    return {f"K_z_{exposure}": K_z(exposure) for exposure in asce7.EXPOSURES}


@case("wind: ")
def velocity_pressure(given: Given):
    factors = [given.si(name, Number) for name in ("K_z", "K_zt", "K_d", "K_e")]
    return {"q_z": asce7.velocity_pressure(*factors, given.si("V", Speed))}


@case("wind: ")
def sign_coefficient(given: Given):
    if "C_f_table" in given.asked:
        raise Missing("case C, in strips")
    return {"C_f": asce7.case_a_coefficient(given.si("B_over_s", Number), given.si("s_over_h", Number))}


@case("wind: ")
def strips(given: Given):
    table = asce7.strip_coefficients(given.si("B_over_s", Number))
    if "C_f_table" not in given.asked:
        raise Missing("case A")
    reduction = asce7.strip_reduction(given.si("s_over_h", Number), 1.0)
    return {"C_f_table": table, "reduction": reduction, "C_f": reduction * table}


@case("wind: ")
def openings(given: Given):
    return {"factor": asce7.openings_factor(given.si("solid_ratio", Number))}


@case("wind: ")
def open_signs(given: Given):
    return {"flat_sided": asce7.open_sign_coefficient(given.si("solid_ratio", Number))}


@case("wind: ")
def directionality(given: Given):
    """Only names are asked for."""
    K_d = asce7.DIRECTIONALITY
    return {
        "solid_freestanding_wall_or_sign": K_d["sign"],
        "open_sign_or_single_plane_frame": K_d["sign"],
        "square_chimney_or_tank": K_d["square tube"],
        "round_chimney_or_tank": K_d["pipe"],
    }


@case("wind: ")
def on_lattice(given: Given):
    gross = given.si("width", Length) * given.si("height", Length)
    eps = given.si("solid_ratio", Number)
    A_f = asce7.solid_area(eps, gross)
    C_f = given.si("C_f", Number) if "C_f" in given else asce7.open_sign_coefficient(eps)
    F = asce7.wind_force(given.si("q_z", Pressure), given.si("G", Number, asce7.GUST), C_f, A_f)
    return {"A_f": A_f, "C_f": C_f, "F": F}


@case("wind: ")
def on_wall(given: Given):
    s = given.si("height", Length)
    q, G, C_f = given.si("q_h", Pressure), given.si("G", Number), given.si("C_f", Number)
    F = asce7.wind_force(q, G, C_f, s * given.si("length", Length))
    return {"F": F, "M_base": F * asce7.resultant_height(s, s)}


# ---- soil ----


@case("soil: ")
def pole(given: Given):
    if "S_3" in given.asked or "held at the ground" in given.topic:
        raise Missing("a post held at the ground is not computed")
    P, b = given.si("P", Force), given.si("b", Length)
    s = given.si("lateral", UnitWeight) * (2 if given.text("isolated_pole", "no") == "yes" else 1)
    M = P * given.si("h", Length)
    S_1 = ibc.lateral_strength(s, ibc.embedment_depth(P, M, s, b))
    with recording() as steps:
        d = ibc.pole_embedment(P, M, S_1, b)
    return {"d": d, "S_1": S_1, "A": steps[-1].values["A"]}


@case("soil: ")
def a_term(given: Given):
    s = given.si("lateral", UnitWeight) * given.si("increase", Number, 1.0)
    S_1 = ibc.lateral_strength(s, given.si("trial_depth", Length))
    with recording() as steps:
        ibc.pole_embedment(given.si("P", Force), 0.0, S_1, given.si("b", Length))
    return {"A": steps[-1].values["A"]}


@case("soil: agreed depth")
def agreed_depth(given: Given):
    P, h = given.si("P", Force), given.si("h", Length)
    return {"d": ibc.embedment_depth(P, P * h, given.si("lateral", UnitWeight), given.si("b", Length))}


# ---- footings ----


@case("footing: ")
def tipped_one_way(given: Given):
    P, M, L = given.si("P", Force), given.si("M", Moment), given.si("L", Length)
    if "V" in given:
        held = ibc.friction(given.si("mu", Number), P)
        return {
            "overturning": statics.righting(P, L, 1.0) / statics.tipping(M),
            "sliding": held / statics.side_push(given.si("V", Force), 0.0),
        }
    B = given.si("B", Length)
    q = statics.peak_soil_pressure(P, M, B, L)
    u = statics.off_centre(P, M, L)
    return {
        "e": u * L,
        "q_max": q,
        "q_min": np.maximum(2 * P / (B * L) - q, 0.0),
        "contact": statics.contact_length(P, M, L),
        "result": q,
    }


@case("footing: ")
def tipped_both_ways(given: Given):
    P, B, L = given.si("P", Force), given.si("B", Length), given.si("L", Length)
    if "M_L" in given:
        u = statics.off_centre(P, given.si("M_L", Moment), L)
        v = statics.off_centre(P, given.si("M_B", Moment), B)
    else:
        u, v = given.si("e_L", Length) / L, given.si("e_B", Length) / B
    r, t = contact.falling(u, v)
    q = statics.corner_pressure(P, B, L, r, t)
    corners = [np.maximum(q * (1 - r * x - t * y), 0.0) for x, y in ((0, 0), (0, 1), (1, 0), (1, 1))]
    return {
        "q_max": q,
        "q_min": corners[-1],
        "q_corners": corners,
        "legs": [L / r, B / t],
        "contact_area": statics.contact_area(B, L, r, t),
        "result": q,
    }


# ---- gates ----


@case("gate: ")
def hinges(given: Given):
    W, w = given.si("weight", Force), given.si("width", Length)
    return {
        "H": statics.hinge_force(W, w, given.si("hinge_spacing", Length)),
        "M_post": statics.leaf_moment(W, w, given.si("hinge_offset", Length, 0.0)),
    }


@case("gate: ")
def latched(given: Given):
    if given.text("latch", "held") != "held":
        raise Missing("a leaf that nothing holds")
    R = statics.latched_share(given.si("F", Force), 0.0)
    return {"hinge_post": R, "latch_post": R, "M_each": R * given.si("height_of_centre", Length)}


@case("gate: ")
def bare_post(given: Given):
    P, a, E, I = (given.si(n, k) for n, k in (("P", Force), ("a", Length), ("E", Pressure), ("I", SecondMoment)))
    at_a, at_top = (statics.cantilever_deflection(P, a, z, E, I) for z in (a, given.si("L", Length)))
    return {"d_at_a": at_a, "d_top": at_top}
