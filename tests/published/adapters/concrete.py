"""Ordering, mix and water, strength gain, cold, stripping and curing against what is published."""

import re

import numpy as np

from adapters import As, Given, Missing, case
from batterboard.methods import volumes
from batterboard.quantity import (
    Celsius,
    Length,
    MassDensity,
    Number,
    Pressure,
    TemperatureDifference,
    Time,
    Volume,
    WaterContent,
    inch,
    psi,
    read,
)
from batterboard.standards import (
    aci209,
    aci211,
    aci306,
    astm_c1074,
    c94,
    durability,
    form_removal,
    osha,
    trade,
)


def _band(text: str, kind=Length) -> float:
    """A value inside `under 12 in`, `12 to 36 in`, `over 72 in`, `above 30 F`, `below 0 F`."""
    number = re.findall(r"-?\d[\d./]*", text)
    unit = text.split()[-1]
    ends = [read(f"{one} {unit}", kind) for one in number]
    if len(ends) == 2:
        return sum(ends) / 2
    step = 0.1 * inch if kind is Length else 1.0
    return ends[0] - step if text.split()[0] in ("under", "below") else ends[0] + step


# ---- volume and order ----


def _blocks(text: str) -> float:
    """`2 off, 22 in x 22 in x 40 in`, `32.00 ft x 0.67 ft x 2 ft, 2 off`."""
    count = re.search(r"(\d+) off", text)
    along, across, high = (read(part, Length) for part in re.sub(r",?\s*\d+ off,?\s*", "", text).split(" x "))
    return (int(count[1]) if count else 1) * volumes.prism_volume(volumes.rectangle(along, across), high)


@case("volume and order")
def volume_and_order(given: Given):
    """Everything that reads as blocks is added up; the order is rounded up where a step is given."""
    named: dict[str, list[str]] = {}
    for name, written in given.items():
        texts = written if isinstance(written, list) else [written]
        if all(isinstance(text, str) and text.count(" x ") == 2 for text in texts):
            named[name] = texts
    net = sum(_blocks(text) for texts in named.values() for text in texts)
    gross = trade.with_waste(net, 0.0, given.si("waste", Number))
    answers = {"net": net, "gross": gross, "order": gross}
    if "step" in given:
        answers["order"] = trade.order_volume(gross, given.si("step", Volume))
    for name, texts in named.items():  # one of each
        answers[name.removesuffix("s")] = _blocks(re.sub(r",?\s*\d+ off,?\s*", "", texts[0]))
    return answers


@case("unit of ordering")
def unit_of_ordering(given: Given):
    volume = given.si("volume", Volume)
    return {"volume_m3": volume, "volume_ft3": volume}


# ---- limits of the mix ----


@case("durability limits")
def durability_limits(given: Given):
    if "edition" in given:
        raise Missing("another edition than the one on the shelf")
    rows = given.each("class", durability.exposure)
    rows = rows if isinstance(given["class"], list) else [rows]
    answers = {"max_wcm": [row.greatest for row in rows], "min_fc": [row.least for row in rows]}
    return answers if isinstance(given["class"], list) else {key: values[0] for key, values in answers.items()}


@case("air content")
def air_content(given: Given):
    stone = given.si("aggregate", Length)
    return {"F1": durability.air_for("F1", stone), "F2_F3": durability.air_for("F3", stone)}


@case("largest aggregate")
def largest_aggregate(given: Given):
    def side(name: str) -> float:
        return np.inf if given.text(name, "none") == "none" else given.si(name, Length)

    limit = durability.largest_stone(side("narrowest_form"), side("slab_depth"), side("clear_space"))
    return {"limit": limit, "choose": aci211.stone_within(limit)}


@case("cementitious limits for deicer exposure")
def replaced_cement(given: Given):
    most = durability.MOST_REPLACED
    return {
        "fly_ash": durability.MOST_FLY_ASH,
        "slag": most,
        "total_with_slag": most,
        "silica_fume": durability.MOST_SILICA_FUME,
        "fly_ash_plus_silica": durability.MOST_ASH_AND_SILICA,
    }


@case("slump tolerance")
def slump_tolerance(given: Given):
    return {"plus_minus": c94.slump_tolerance(given.si("slump", Length))}


# ---- water ----


def _airy(given: Given) -> bool:
    written = given.text("air")
    return "entrained" in written and not written.startswith("non")


@case("mixing water")
def mixing_water(given: Given):
    slump, stone = _band(given.text("slump")), given.si("aggregate", Length)
    rows = [aci211.mixing_water(name) for name in aci211.mixing_water.names()]
    entrapped = np.interp(stone, [row.stone for row in rows], [row.entrapped for row in rows])
    answers = {"water": aci211.water_for(slump, stone, _airy(given))}
    if not _airy(given):
        return answers | {"entrapped_air": entrapped}
    return answers | {"air_severe": durability.air_for("F3", stone), "air_moderate": durability.air_for("F1", stone)}


@case("w/c against strength")
def water_cement(given: Given):
    strength = given.si("strength", Pressure)
    return {"wc_plain": aci211.ratio_for(strength, False), "wc_air": aci211.ratio_for(strength, True)}


@case("strength against w/c")
def strength_on_the_curve(given: Given):
    ratio = given.si("wc", Number)
    table = [row.strength for name in aci211.water_cement.names() for row in [aci211.water_cement(name)]]
    return {"strength": aci211.strength_after(6000 * psi, 0.41, ratio), "table": np.sort(table)[::-1]}


@case("w/cm and strength after added water")
def added_water(given: Given):
    binder = given.si("cement", MassDensity)
    before = given.si("water", MassDensity) / binder
    after = c94.ratio_after(before, binder, given.si("added", WaterContent))
    return {
        "wcm_before": before,
        "wcm_after": after,
        "strength_ratio_abrams": aci211.strength_after(1.0, before, after),
        "strength_ratio_table": aci211.strength_for(after, False) / aci211.strength_for(before, False),
    }


@case("how much water may be added")
def water_headroom(given: Given):
    binder = given.si("cementitious", MassDensity)
    ratio = given.si("batched_water", MassDensity) / binder
    allowed = c94.water_allowed(given.si("limit", Number), ratio, binder)
    return {"per_yard": allowed, "whole_load": allowed * given.si("load", Volume)}


@case("effect of added water, figure")
def added_slump(given: Given):
    """The rule of a gallon for an inch; the litres on the figure's axis are rounded and no answer of ours."""
    added = given.si("added", WaterContent)
    slump = given.si("slump", Length, 3 * inch)
    wetter = np.linspace(slump, slump + 8 * inch, 801)
    reached = np.interp(added, trade.water_for_slump(slump, wetter), wetter)
    return {"slump": reached}


# ---- setting and strength ----


@case("setting time against temperature")
def setting_time(given: Given):
    return {"set": trade.setting_time(given.si("temperature", Celsius))}


def _factor(T, reference: float):
    return astm_c1074.age_factor(T, reference, astm_c1074.Q)


@case("temperature-time factor and equivalent age")
def equivalent_age_in_pieces(given: Given):
    lasts, temperatures = given.si("durations", Time), given.si("temperatures", Celsius)

    def age(reference: float):
        return np.sum(astm_c1074.equivalent_age(lasts, _factor(temperatures, reference), 0.0, 1.0))

    return {"te_Q5000_ref20": age(20.0), "te_Q5000_ref23": age(23.0)}


@case("hourly log")
def equivalent_age_logged(given: Given):
    readings, step = given.si("readings", Celsius), given.si("step", Time)
    means = (readings[1:] + readings[:-1]) / 2
    return {"te_Q5000_ref20": np.sum(astm_c1074.equivalent_age(step, _factor(means, 20.0), 0.0, 1.0))}


@case("age conversion factor")
def age_factor(given: Given):
    return {"Q5000": _factor(given.si("temperature", Celsius), 20.0)}


@case("strength gain, ACI")
def strength_gain(given: Given):
    ages = given.si("age", Time)
    cements = {"type_I": aci209.gain("Type I"), "type_III": aci209.gain("Type III")}
    return {name: aci209.strength_gain(1.0, ages, gain.a, gain.b) for name, gain in cements.items()}


@case("time to 75 percent")
def time_to_share(given: Given):
    share = given.si("fraction", Number)

    def age(cement: str):
        gain = aci209.gain(cement)
        return aci209.age_of_strength(share, 1.0, gain.a, gain.b)

    return {"age": given.each("cement", age)}


@case("strength before steel erection")
def strength_before_erection(given: Given):
    return {"needed": osha.ERECTION_SHARE * given.si("fc", Pressure)}


# ---- cold, curing, stripping ----


@case("least concrete temperature in cold weather")
def least_temperature(given: Given):
    return {"minimum": aci306.least_temperature(given.each("least_dimension", _band))}


@case("cold weather: temperatures as mixed")
def temperatures_as_mixed(given: Given):
    sides = given.each("section", _band)
    air = given.each("air", lambda text: _band(text, Celsius))
    placed = aci306.least_temperature(sides)
    answers = {"place_and_keep": placed, "max_drop_24h": As(aci306.most_drop(sides), TemperatureDifference)}
    names = [name for name in given.asked if name.startswith("mix_")]
    thin, thick = (next(name for name in names if name.startswith(start)) for start in ("mix_under", "mix_12"))
    return answers | {thin: aci306.as_mixed(placed[0], air), thick: aci306.as_mixed(placed[1], air)}


@case("cold weather: protection period")
def protection(given: Given):
    rows = [aci306.protection(name) for name in given["service"]]
    return {"normal": [row.normal for row in rows], "accelerated": [row.accelerated for row in rows]}


@case("form removal")
def form_removal_times(given: Given):
    return {"time": given.each("member", lambda name: form_removal.least(name).time / form_removal.counts(15.0))}


@case("least curing")
def least_curing(given: Given):
    def days(name: str) -> str:
        return f"{durability.CURING_DAYS['Type III' if name.startswith('high-early') else 'Type I']} d"

    least = aci306.kept_temperature(0.0, read("50 F", Celsius))
    return {"time": [days(name) for name in given["concrete"]], "least_temperature": least}
