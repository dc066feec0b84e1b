"""ACI 211.1: how much water for a slump, how strong for how much water?

    water_for(slump, stone, air)     305 lb/yd3 for 3 1/2 in of slump, 3/4 in stone, with air
    ratio_for(f, air)                w/c 0.48 for 4000 psi, with air
    strength_after(f_c, w_1, w_2)    what is left when the ratio goes from w_1 to w_2
    ratio_leaving(f_c, w_1, f)       the ratio at which f is left, the other way round

    stone_within(limit)              the largest stone of the table that passes: 1 in where 1 1/8 in would
    strength_for(w, air)             what the table promises for a ratio, the other way round

Tables give first estimates; the plant's own ticket is better. The smooth curve through the table is only used for
ratios of strengths. Trial batches are in `batching`.
"""

from typing import Any, NamedTuple

from batterboard.methods.rows import between
from batterboard.quantity import Length, MassDensity, Number, Pressure, inch
from batterboard.standards.tables import Table
from batterboard.working import Document, formula, log, maximum, minimum, nan, power

ACI_211 = Document("ACI 211.1-91", "Selecting Proportions for Concrete", scale="fine")
WATER = ACI_211.table("6.3.3", "read: mix-design notes reproducing the tables; low and high slumps from memory")
RATIO = ACI_211.table("6.3.4(a)", "read: mix-design notes reproducing the tables")
FIT = ACI_211.table("6.3.4(a), smooth curve after Abrams", "derived")


class WaterRow(NamedTuple):
    """By slump: 1 to 2, 3 to 4, 6 to 7 in; without and with entrained air."""

    name: str
    stone: Length
    plain_low: MassDensity
    plain: MassDensity
    plain_high: MassDensity
    air_low: MassDensity
    air: MassDensity
    air_high: MassDensity
    entrapped: Number


class RatioRow(NamedTuple):
    name: str
    strength: Pressure
    plain: Number
    air: Number


mixing_water = Table("stone size", WaterRow, "mixing-water")
water_cement = Table("strength", RatioRow, "water-cement")


def water_for(slump: Length, stone: Length, air: bool) -> Any:
    """Mixing water for a slump [kg/m3], between the sizes of stone of the table interpolated. Broadcasts."""
    rows = [mixing_water(name) for name in mixing_water.names()]
    stones = [row.stone for row in rows]
    low, middle, high = (
        between(stone, stones, column)
        for column in zip(
            *((r.air_low, r.air, r.air_high) if air else (r.plain_low, r.plain, r.plain_high) for r in rows),
            strict=True,
        )
    )
    return water_at_slump(slump, low, middle, high)


def ratio_for(f: Pressure, air: bool) -> Any:
    """Greatest w/c for an average strength, interpolated; nan beyond the table. Broadcasts."""
    rows = [water_cement(name) for name in water_cement.names()]
    known = [(row.strength, ratio) for row in rows if (ratio := row.air if air else row.plain) == ratio]
    strengths, ratios = zip(*known, strict=True)
    return between(f, strengths, ratios, outside=nan)


def strength_for(w: Any, air: bool) -> Any:
    """Average strength of a w/c [Pa], interpolated; nan beyond the table. Broadcasts."""
    rows = [water_cement(name) for name in water_cement.names()]
    known = sorted((ratio, row.strength) for row in rows if (ratio := row.air if air else row.plain) == ratio)
    ratios, strengths = zip(*known, strict=True)
    return between(w, ratios, strengths, outside=nan)


def stone_within(limit: float) -> float:
    """The largest stone of the table that is not above a limit [m]; nan where none is."""
    stones = [mixing_water(name).stone for name in mixing_water.names()]
    return max((stone for stone in stones if stone <= limit * (1 + 1e-9)), default=nan)


@formula(source=WATER, limits="s > 0")
def water_at_slump(s: Length, W_2: MassDensity, W_4: MassDensity, W_7: MassDensity) -> MassDensity:
    """Between the middles of the table's bands of slump, 1 1/2, 3 1/2 and 6 1/2 in; beyond them as at their ends."""
    s_in = s / inch
    x = minimum(maximum((s_in - 1.5) / 2, 0), 1)
    y = minimum(maximum((s_in - 3.5) / 3, 0), 1)
    W = W_2 + (W_4 - W_2) * x + (W_7 - W_4) * y
    return W


@formula(source=FIT, limits="w_1 >= 0.25; w_1 <= 1; w_2 >= 0.25; w_2 <= 1")
def strength_after(f_c: Pressure, w_1: Number, w_2: Number) -> Pressure:
    """What is left of a strength when w/cm goes from w_1 to w_2 [Pa].

    On a smooth curve through the table of plain concrete, 18000 psi · 3^(-w / 0.41), which is within 3 % of it from
    0.41 to 0.82; drier the curve promises too much, and so takes too much for added water.  All broadcast.
    """
    x = (w_2 - w_1) / 0.41
    f = f_c * power(3, -x)
    return f


@formula(source=FIT, limits="w_1 >= 0.25; w_1 <= 1; f > 0")
def ratio_leaving(f_c: Pressure, w_1: Number, f: Pressure) -> Number:
    """w/cm at which f is left of a strength f_c that has w_1: the same smooth curve, the other way round."""
    w = w_1 + 0.41 * log(f_c / f) / log(3)
    return w
