"""Bars: hooks, cut lengths, cover, spacing, ties, what comes out of a stock bar."""

import re
from math import pi

import numpy as np

from adapters import As, Given, Missing, case
from batterboard.job.schema import BarRun, Mix, PadBars, PierBars
from batterboard.methods import cutting
from batterboard.phases.cage.bending import bar_row
from batterboard.phases.cage.measuring import gaps_of
from batterboard.quantity import Angle, Force, Length, inch, read
from batterboard.standards import aci318, aisc360, tables
from batterboard.work import bars
from batterboard.work.records import Bar, Body, Frame, Outline, Pier

HERE = Frame(x=0.0, y=0.0, turn=0.0)
MIX = Mix(strength=27.6e6)


def _bar(given: Given) -> tables.BarSize:
    return tables.bar(given.text("bar"))


def _hook(d, pin, turn, extension):
    return aci318.hook_allowance(d, pin / 2, turn, extension)


@case("standard hook, development")
def standard_hook(given: Given):
    d = _bar(given).diameter
    pin = aci318.bend_diameter(d)
    if given.text("hook").startswith("90"):
        leg = aci318.hook_leg(d, pin)
        return {"bend_diameter": pin, "extension": leg - pin / 2 - d, "leg_out_to_out": leg}
    extension = aci318.return_extension(d)
    return {
        "bend_diameter": pin,
        "extension": extension,
        "depth_J": pin + 2 * d,
        "hook_allowance": _hook(d, pin, pi, extension),
    }


@case("stirrup/tie hook")
def tie_hook(given: Given):
    d = _bar(given).diameter
    pin, extension = aci318.tie_bend_diameter(d), aci318.tie_extension(d)
    turn = read(given.text("hook").removesuffix(" tie"), Angle)
    return {"bend_diameter": pin, "extension": extension, "hook_allowance": _hook(d, pin, turn, extension)}


@case("seismic hook extension")
def seismic_hook(given: Given):
    d = _bar(given).diameter
    extension = aci318.tie_extension(d)
    turn = read(given.text("hook").removesuffix(" seismic"), Angle)
    allowance = _hook(d, given.si("bend_diameter", Length), turn, extension)
    return {"extension": extension, "hook_allowance_formula": allowance}


@case("bend deduction per 90 deg bend")
def deduction(given: Given):
    d, r = given.si("diameter", Length), given.si("inside_radius", Length)
    return {"deduction": aci318.bend_deduction(d, r, given.si("angle", Angle, pi / 2))}


@case("cut length of an L bar")
def l_bar(given: Given):
    d = _bar(given).diameter
    legs = given.si("leg_a", Length) + given.si("leg_b", Length)
    ded = aci318.bend_deduction(d, given.si("bend_diameter", Length) / 2, pi / 2)
    return {"cut_length": aci318.cut_length(legs, 1, ded, 0, 0.0)}


@case("cut length of a closed square tie")
def closed_tie(given: Given):
    """By the schedule itself: a tie of these sides."""
    size = _bar(given)
    a, b = given.si("side_a", Length), given.si("side_b", Length)
    row = bar_row(_straight(size, 1, (a, b, a, b), "closed tie"))
    if abs(row.pin - given.si("bend_diameter", Length)) > 1e-9 or "two 135 deg" not in given.text("hooks"):
        raise Missing("another pin or hook than the schedule bends")
    return {"cut_length": row.cut}


@case("length formula, L bar", "length formula, U bar")
def exact_lengths(given: Given):
    """Along the centre line; the rounded formulas of that book are not ours."""
    legs = [given.si(leg, Length) for leg in "ABC" if leg in given]
    ded = aci318.bend_deduction(given.si("d", Length), given.si("r", Length), pi / 2)
    return {"exact_centre_line": aci318.cut_length(sum(legs), len(legs) - 1, ded, 0, 0.0)}


def _straight(size: tables.BarSize, count: int, legs, shape="straight") -> Bar:
    x = np.zeros((count, 2))
    return Bar(
        mark="X1", element="x", role="up", size=size, shape=shape, legs=legs, x=x, y=x, z=x, yield_strength=4.14e8
    )


@case("weight of a small cage")
def cage_weight(given: Given):
    weights = {}
    for part in ("verticals", "ties"):
        of = given[part]
        row = bar_row(_straight(tables.bar(of["bar"]), int(of["count"]), (read(of["length"], Length),)))
        weights[f"{part}_weight"] = As(row.weight, Force)
    return weights | {"total": As(sum(weight.value for weight in weights.values()), Force)}


# ---- cover and spacing ----


@case("specified cover, cast-in-place")
def cover(given: Given):
    def one(text: str) -> float:
        size = re.search(r"No\. ?\d+", text)
        if size is None:
            raise Missing(f"{text!r} names no bar")
        against = "earth" if re.search(r"against (soil|earth|ground)", text) else "form"
        return aci318.least_cover(against, tables.bar(size[0]).diameter)

    return {"cover": given.each("cases", one)}


@case("bar placing tolerance")
def cover_tolerance(given: Given):
    d = given.si("d", Length)
    return {
        "d_tolerance": aci318.cover_tolerance(d, 100 * inch),
        "cover_minus": aci318.cover_tolerance(d, given.si("cover", Length)),
    }


@case("minimum clear spacing, parallel bars")
def clear_spacing(given: Given):
    upright = given.text("member", "beam") in ("column", "pier", "pedestal")
    least = aci318.column_clear_spacing if upright else aci318.clear_spacing
    return {"clear_spacing": least(_bar(given).diameter, given.si("aggregate", Length))}


@case("tie size and spacing")
def tie_spacing(given: Given):
    up, tie = (tables.bar(given.text(name)).diameter for name in ("verticals", "tie"))
    least = min(read(side.strip(), Length) for side in given.text("pier").split(" x "))
    by = {"16 db of the vertical": 16 * up, "48 db of the tie": 48 * tie, "least side": least}
    return {"max_spacing": aci318.tie_spacing(up, tie, least), "governs": min(by, key=lambda name: by[name])}


@case("ties round anchor bolts at pier top")
def ties_at_bolts(given: Given):
    sizes = ("No. 4", "No. 3")
    return {
        "within_of_top": aci318.NEAR_TOP,
        "minimum": [f"{int(aci318.ties_at_bolts(tables.bar(size).diameter))} {size}" for size in sizes],
    }


@case("clear gap between verticals on a face")
def gap_on_a_face(given: Given):
    """Uprights laid by the work in a square pier, measured by the cage."""
    count, size = re.search(r"(No\. ?\d+), (\d+) per face", given.text("verticals")).group(2, 1)
    pier = _pier(given, BarRun(size=size, count=4 * (int(count) - 1)))
    gap = next(gap for gap in gaps_of(pier, {"m": MIX}) if gap.role == "up")
    return {"centre_spacing": gap.clear + gap.diameter, "clear_gap": gap.clear}


def _pier(given: Given, up: BarRun) -> Pier:
    side, cover = given.si("pier", Length), given.si("cover", Length)
    tie = BarRun(size=given.text("tie"), spacing=0.25)
    body = Body(
        name="x",
        element="x",
        part="pier",
        outline=Outline(kind="rectangle", along=side, across=side),
        frame=HERE,
        bottom=0.0,
        top=1.0,
        mix="m",
        against="form",
    )
    cage = PierBars(up=up, ties=(tie,))
    return Pier(
        name="x",
        shaft=body,
        pad=None,
        lay=lambda: bars.pier_bars(bars.Marker("x", "X"), cage, None, body, None, cover, 0.0),
        cover=cover,
        pad_cover=0.0,
        cover_found={},
        missing=(),
        lean=0.0,
        done=False,
    )


@case("height of each bar layer in a mat")
def mat_layers(given: Given):
    deep, cover = given.si("pad_depth", Length), given.si("cover", Length)
    body = Body(
        name="x",
        element="x",
        part="slab",
        outline=Outline(kind="rectangle", along=1.2, across=1.2),
        frame=HERE,
        bottom=0.0,
        top=deep,
        mix="m",
        against="form",
    )
    runs = (BarRun(size=tables.bar(given.text(layer)).name, count=4) for layer in ("lower", "upper"))
    mat = PadBars(along=next(runs), across=next(runs), at="bottom")
    low, high = (float(bar.z.flat[0]) for bar in bars.slab_bars(bars.Marker("x", "X"), mat, body, cover))
    return {"y1": low, "y2": high, "d_lower": deep - low, "d_upper": deep - high}


# ---- out of stock ----


@case("how many ties from one stock bar")
def pieces_from_a_bar(given: Given):
    stock, piece, kerf = (given.si(name, Length) for name in ("stock", "piece", "kerf"))
    first = cutting.first_fit([cutting.Piece("X", piece, 1000)], stock, kerf)[0]
    return {"pieces": sum(one.count for one in first.pieces), "remnant": first.left}


@case("least bars, mixed demand")
def mixed_demand(given: Given):
    stock = given.si("stock", Length)
    pieces = [cutting.Piece(length, read(length, Length), int(count)) for count, length in given["demand"]]
    plan = cutting.first_fit(pieces, stock, given.si("kerf", Length, 0.0))
    return {"bars": sum(cut.times for cut in plan), "length_bound": sum(p.length * p.count for p in pieces) / stock}


# ---- welds ----


@case("weld: Least fillet leg")
def least_fillet(given: Given):
    return {"leg": aisc360.least_fillet(given.si("thinner_part", Length))}
