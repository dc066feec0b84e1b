"""The order and the mix against what is published: bags, yield, sampling, trial proportions, least strength."""

from math import floor

import numpy as np

from adapters import As, Given, Missing, case
from batterboard.quantity import (
    Length,
    Mass,
    MassDensity,
    Number,
    Pressure,
    Volume,
    inch,
    read,
    yd3,
)
from batterboard.standards import aci211, aci301, astm_c138, astm_c172, durability, trade
from batterboard.standards.aci211 import batching


@case("bagged concrete mix yield")
def bags(given: Given):
    makes = given.each("bags", lambda name: trade.bag(name).makes)
    return {"yield_each": makes, "bags_per_yd3": np.round(yd3 / makes, 9)}


@case("yield of a batch")
def batch_yield(given: Given):
    made = astm_c138.batch_yield(given.si("batch_mass", Mass), given.si("unit_weight", MassDensity))
    relative = astm_c138.relative_yield(made, given.si("ordered", Volume))
    return {"yield_ft3": made, "yield_yd3": made, "relative_yield": relative}


@case("default maximum slump")
def wettest(given: Given):
    most = given.each("consolidation", lambda name: aci301.WETTEST[name])
    return {"maximum": most, "one_batch_in_five_may_exceed_by": aci301.ONE_OF_FIVE}


@case("sampling")
def sampling(given: Given):
    return {
        "first_to_last_portion": astm_c172.TOGETHER,
        "start_tests_within": astm_c172.TESTED,
        "mould_within": astm_c172.MOULDED,
        "sample": astm_c172.SAMPLE,
    }


@case("required average strength")
def average(given: Given):
    return {"f_cr": aci301.required_average(given.si("f_c", Pressure))}


@case("coarse aggregate volume")
def coarse_volume(given: Given):
    stones, fineness = given.si("aggregate", Length), given.si("fineness_modulus", Number)
    return {"volume": [batching.coarse_volume_for(stone, F) for stone, F in zip(stones, fineness, strict=True)]}


@case("mix proportioning, worked example")
def proportioning(given: Given):
    """Step by step for one cubic yard. The document rounds its w/c down to the hundredth and goes on with that."""
    airy = not given.text("air").startswith("non")
    low, high = (float(part) for part in given.text("slump").removesuffix(" in").split(" to "))
    stone, F = given.si("aggregate", Length), given.si("fineness_modulus", Number)
    water = aci211.water_for((low + high) / 2 * inch, stone, airy)
    ratio = floor(aci211.ratio_for(given.si("strength", Pressure), airy) * 100 + 1e-6) / 100
    cement = water / ratio
    b = batching.coarse_volume_for(stone, F)
    coarse = batching.coarse_dry(b, given.si("rodded_weight", MassDensity))
    gravities = [given.si(name, Number) for name in ("sg_cement", "sg_coarse", "sg_fine")]
    rows = [aci211.mixing_water(name) for name in aci211.mixing_water.names()]
    entrapped = np.interp(stone, [row.stone for row in rows], [row.entrapped for row in rows])
    by_volume = batching.fine_by_volume(water, cement, coarse, float(entrapped), *gravities)
    by_mass = batching.fine_by_mass(batching.fresh_weight_for(stone, airy), water, cement, coarse)
    answers = {
        "water": As(water * yd3, Mass),
        "wc": ratio,
        "cement": As(cement * yd3, Mass),
        "coarse_volume": b,
        "coarse_dry": As(coarse * yd3, Mass),
        "fine_by_mass": As(by_mass * yd3, Mass),
        "fine_by_volume": As(by_volume * yd3, Mass),
        "fine_absolute_volume": by_volume * yd3 / gravities[2] / read("62.4 lb/ft3", MassDensity),
    }
    if "coarse_moisture" in given:
        wet = [given.si(name, Number) for name in ("coarse_moisture", "fine_moisture")]
        drinks = [given.si(name, Number) for name in ("coarse_absorption", "fine_absorption")]
        put_in = batching.water_in_batch(water, coarse, by_mass, *wet, *drinks)
        answers |= {
            "coarse_wet": As(batching.as_weighed(coarse, wet[0]) * yd3, Mass),
            "fine_wet_by_mass": As(batching.as_weighed(by_mass, wet[1]) * yd3, Mass),
            "water_in_by_mass": As(put_in * yd3, Mass),
        }
    return answers


@case("least specified strength")
def least_strength(given: Given):
    def least(use: str):
        if use.startswith("foundation"):
            return durability.least_for(use.split("SDC ")[1][0])
        return durability.least_strength(use).least

    return {"min_fc": given.each("use", least)}


@case("durability limits, older code")
def older_limits(given: Given):
    if given.text("edition") != "2008/2011":
        raise Missing("another edition")
    rows = given.each("class", durability.exposure_2008)
    return {"max_wcm": [row.greatest for row in rows], "min_fc": [row.least for row in rows]}
