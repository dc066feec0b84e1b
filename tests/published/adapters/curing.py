"""Maturity, heat of hydration, conduction, curing and waiting against what is published."""

import re

import numpy as np

from adapters import As, Given, Missing, case
from batterboard.methods.heat.box import Box, Steps, box
from batterboard.phases.cure import hydrating
from batterboard.quantity import (
    Angle,
    Celsius,
    Diffusivity,
    Force,
    HeatContent,
    Length,
    Mass,
    MassDensity,
    Maturity,
    Number,
    Pressure,
    Resistance,
    SpecificHeat,
    TemperatureDifference,
    Time,
    day,
    hour,
    read,
)
from batterboard.standards import aci207, astm_c1074, daylight, fhp, fib, hydration, osha, plowman, ufgs, welding

# ---- maturity ----


@case("temperature-time factor", "hourly log")
def temperature_time(given: Given):
    if "readings" in given:
        ends = given.si("readings", Celsius)
        T, lasts = (ends[1:] + ends[:-1]) / 2, given.si("step", Time)
    elif "durations" in given:
        T, lasts = given.si("temperatures", Celsius), given.si("durations", Time)
    else:
        T, lasts = given.si("temperature", Celsius), given.si("duration", Time)

    def ttf(datum: float):
        return As(np.sum(astm_c1074.credit(T, datum) * lasts), Maturity)

    answers = {"ttf_0": ttf(0.0), "ttf_minus10": ttf(-10.0)}
    if "datum" in given:
        answers["maturity"] = ttf(given.si("datum", Celsius))
    return answers | {
        "te_FHP_ref20": np.sum(fhp.age_factor(T) * lasts),
        "te_EC2": np.sum(fib.age_factor(T) * lasts),
    }


@case("age conversion factor")
def other_age_factors(given: Given):
    T = given.si("temperature", Celsius)
    return {"FHP": fhp.age_factor(T), "EC2": fib.age_factor(T)}


@case("temperature-adjusted age")
def adjusted_age(given: Given):
    return {"factor": fib.age_factor(given.si("temperature", Celsius))}


@case("strength from maturity, logarithmic")
def logarithmic(given: Given):
    M = astm_c1074.credit(given.si("temperature", Celsius), plowman.DATUM) * given.si("age", Time)
    row = plowman.coefficients(given.text("fc28"))
    return {"maturity": As(M, Maturity), "percent": plowman.share(M, row.A, row.B)}


@case("strength gain, Eurocode")
def european_gain(given: Given):
    ages = given.si("age", Time)
    answers = {}
    for name, cement in (("beta_s020", "Type III"), ("beta_s025", "Type I"), ("beta_s038", "Type II")):
        answers[name] = fib.share(ages, fib.cement(cement).s)
    return answers


@case("strength-maturity, hyperbolic")
def hyperbolic(given: Given):
    S_u, t_0 = given.si("Su", Pressure), given.si("t0", Time)
    k = float(given.text("k").removesuffix(" /d")) / day
    return {"strength": astm_c1074.hyperbolic(S_u, k, t_0, given.si("te", Time))}


@case("strength-maturity, three-parameter exponential")
def exponential(given: Given):
    S_u, tau, a = given.si("Su", Pressure), given.si("tau", Time), given.si("a", Number)
    return {"strength": fhp.exponential(S_u, tau, a, given.si("te", Time))}


@case("fraction of which strength")
def strengths_at_28_days(given: Given):
    """`Su 5200 psi, k 0.35 /d, t0 0.3 d` and `Su 5500 psi, tau 30 h, a 0.8`."""

    def part(text: str, name: str, kind):
        return read(re.search(rf"\b{name} ([^,]+)", text)[1], kind)

    one, other = given.text("hyperbolic"), given.text("exponential")
    rate = read(re.search(r"\bk ([\d.]+) /d", one)[1], Number) / day
    first = astm_c1074.hyperbolic(part(one, "Su", Pressure), rate, part(one, "t0", Time), 28 * day)
    second = fhp.exponential(part(other, "Su", Pressure), part(other, "tau", Time), part(other, "a", Number), 28 * day)
    return {"S28": [first, second]}


# ---- heat of hydration ----


def _makeup(given: Given) -> hydration.Makeup:
    return hydration.Makeup(
        "as given",
        *(given.si(name, Number) for name in ("C3S", "C2S", "C3A", "C4AF", "SO3", "free_CaO", "MgO")),
        float(given.text("blaine").split()[0]),
    )


def _heat(m: hydration.Makeup) -> float:
    return hydration.heat_of_cement(m.C3S, m.C2S, m.C3A, m.C4AF, m.SO3, m.lime, m.MgO)


@case("total heat of the cement")
def total_heat(given: Given):
    return {"H_cem": As(_heat(_makeup(given)), HeatContent)}


@case("hydration curve parameters")
def curve_parameters(given: Given):
    m, w = _makeup(given), given.si("wcm", Number)
    return {
        "tau": hydration.hydration_time(m.C3A, m.C3S, m.SO3, m.blaine, 0.0, 0.0, 0.0),
        "beta": hydration.slope(m.C3A, m.C3S, m.SO3, m.blaine, 0.0),
        "alpha_u": hydration.ultimate(w, 0.0, 0.0),
        "E": f"{hydration.activation(m.C3A, m.C4AF, m.blaine) * 8.314 / 1000} kJ/mol",
    }


@case("hydration-curve")
def hydration_curve(given: Given):
    """The curve's three numbers stand in the provenance of the case: tau 14.50 h, beta 0.706, alpha_u 0.7428."""
    return {"alpha": hydration.reacted(given.si("te", Time), 14.50 * hour, 0.706, 0.7428)}


@case("ultimate adiabatic rise")
def ultimate_rise(given: Given):
    rise = hydration.adiabatic_rise(
        given.si("H_cem", HeatContent),
        given.si("cement", MassDensity),
        given.si("alpha_u", Number),
        given.si("density", MassDensity),
        given.si("c", SpecificHeat),
    )
    return {"rise": As(rise, TemperatureDifference)}


@case("adiabatic temperature history")
def adiabatic(given: Given):
    m, w = _makeup(given), given.si("wcm", Number)
    cement = hydrating.Binder(
        heat=_heat(m) * given.si("cement", MassDensity),
        tau=hydration.hydration_time(m.C3A, m.C3S, m.SO3, m.blaine, 0.0, 0.0, 0.0),
        beta=hydration.slope(m.C3A, m.C3S, m.SO3, m.blaine, 0.0),
        alpha_u=hydration.ultimate(w, 0.0, 0.0),
        Q=hydration.activation(m.C3A, m.C4AF, m.blaine),
    )
    rho_c = given.si("density", MassDensity) * given.si("c", SpecificHeat)
    times = given.si("time", Time)
    return {"temperature": hydrating.adiabatic(cement, rho_c, given.si("start", Celsius), times)}


@case("quick temperature rise")
def quick_rise(given: Given):
    C = given.si("cement", MassDensity)
    rise = As(aci207.quick_rise(C), TemperatureDifference)
    return {"cement_si": C, "rise_C": rise, "rise_F": rise}


@case("mass-concrete limits")
def mass_limits(given: Given):
    rows = [aci207.limits(name) for name in given["rule"]]
    return {
        "max_temperature": [row.hottest for row in rows],
        "max_difference": As(rows[0].difference, TemperatureDifference),
    }


# ---- conduction ----


def _cooled(given: Given, **more) -> Box:
    a = given.si("diffusivity", Diffusivity)
    return Box(k=2.4e6 * a, rho_c=2.4e6, resistance=0.0, **more)


@case("solver check: half-space, surface step")
def half_space(given: Given):
    start, face, t = given.si("initial", Celsius), given.si("surface", Celsius), given.si("time", Time)
    deep = _cooled(given, half_sizes=(2.0,), start=start, outside=face)
    got, _ = box(deep, [[2.0 - given.si("depth", Length)]], [0.0, t], 200, Steps(30.0, 300.0))
    return {"temperature": got[-1, 0]}


@case("solver check: slab, square prism and cube")
def slab_prism_cube(given: Given):
    start, face, t = given.si("initial", Celsius), given.si("faces", Celsius), given.si("time", Time)
    half = given.si("width", Length) / 2
    answers = {}
    for axes, name in enumerate(("slab_centre", "prism_centre", "cube_centre"), 1):
        block = _cooled(given, half_sizes=(half,) * axes, start=start, outside=face)
        got, _ = box(block, [[0.0] * axes], [0.0, t], 24, Steps(20.0, 300.0))
        answers[name] = got[-1, 0]
    return answers


@case("solver check: long cylinder, fixed face")
def cylinder(given: Given):
    start, face, t = given.si("initial", Celsius), given.si("face", Celsius), given.si("time", Time)
    tube = _cooled(given, half_sizes=(given.si("diameter", Length) / 2,), start=start, outside=face, round=True)
    return {"centre": box(tube, [[0.0]], [0.0, t], 60)[0][-1, 0]}


@case("solver check: first roots")
def first_roots(given: Given):
    """What is left after long times falls as C1 exp(-zeta^2 Fo)."""
    Bi = given.si("Bi", Number)
    roots, factors = [], []
    for shape in given["shape"]:
        wall = Box((1.0,), 1.0, 1.0, 1 / Bi, 1.0, 0.0, 0.0, round=shape == "long cylinder")
        late, later = box(wall, [[0.0]], [0.0, 1.5, 2.5], 64)[0][1:, 0]
        zeta = np.sqrt(np.log(late / later))
        roots.append(zeta)
        factors.append(late * np.exp(zeta**2 * 1.5))
    return {"zeta1": roots, "C1": factors}


@case("solver check: slab with decaying heat source")
def decaying_source(given: Given):
    rise, tau = given.si("adiabatic_rise", TemperatureDifference), given.si("time_constant", Time)
    if given.text("rho_c") != "2.4e6 J/m3K":
        raise Missing("another heat capacity")
    slab = _cooled(
        given,
        half_sizes=(given.si("thickness", Length) / 2,),
        start=0.0,
        outside=0.0,
        source=lambda t: rise * 2.4e6 / tau * float(np.exp(-t / tau)),
    )
    marks = np.concatenate([[0.0], given.si("time", Time)])
    got, _ = box(slab, [[0.0]], marks, 40, Steps(60.0, 600.0))
    return {"centre_rise": As(got[1:, 0], TemperatureDifference)}


@case("solver check: daily temperature wave")
def daily_wave(given: Given):
    w, depth, swing = 2 * np.pi / day, given.si("depth", Length), given.si("swing", TemperatureDifference)
    ground = _cooled(given, half_sizes=(2.0,), start=0.0, outside=lambda t: swing * float(np.sin(w * t)))
    marks = 25 * day + np.arange(0, 25) * hour
    got, _ = box(ground, [[2.0 - depth]], [0.0, *marks], 160, Steps(600.0, 600.0))
    wave = np.stack([np.sin(w * marks), np.cos(w * marks)], axis=1)
    s, c = np.linalg.lstsq(wave, got[1:, 0], rcond=None)[0]
    amplitude, lag = np.hypot(s, c), np.arctan2(-c, s) % (2 * np.pi) / w
    return {
        "amplitude": As(amplitude, TemperatureDifference),
        "damping_depth": -depth / np.log(amplitude / swing),
        "lag": lag,
    }


@case("solver check: steady source between cold faces")
def steady_source(given: Given):
    k = float(given.text("k").split()[0])
    source = float(given.text("q").split()[0])
    slab = Box((given.si("half_thickness", Length),), k, 2.4e6, 0.0, 0.0, 0.0, source)
    return {"rise": As(box(slab, [[0.0]], [0.0, 1e9], 64)[0][-1, 0], TemperatureDifference)}


@case("insulation units")
def insulation(given: Given):
    return {"R_si": given.si("R", Resistance)}


# ---- curing, welding, loading, daylight ----


@case("curing periods, federal guide")
def federal_curing(given: Given):
    return {"time": given.each("cement", lambda name: ufgs.curing(name).time), "rain_protection": ufgs.RAIN}


@case("bound on plate temperature from welding")
def weld_heat(given: Given):
    along, across, thick = (read(part, Length) for part in given.text("plate").removesuffix(" steel").split(" x "))
    m = welding.mass(welding.STEEL_DENSITY, along * across * thick)
    q = given.si("gross_heat", Force)
    rise = welding.plate_rise(
        given.si("efficiency", Number), q, given.si("weld", Length), m, given.si("c", SpecificHeat)
    )
    return {"mass": As(m, Mass), "rise": As(rise, TemperatureDifference)}


@case("anchor bolts under a column")
def column_bolts(given: Given):
    return {"bolts": osha.LEAST_BOLTS, "load": osha.COLUMN_LOAD, "at": osha.COLUMN_LOAD_OFF}


@case("daylight for the pour")
def daylight_hours(given: Given):
    return {"daylight": daylight.daylight(given.si("latitude", Angle), given.si("declination", Angle))}
