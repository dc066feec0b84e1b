"""How many gallons go into the drum, how many at most, and what is left of the strength?

    card : Card("lift 2", from_slump=0.10, to_slump=0.15, rule=0.0099, ...)   one lift: water by rule and by table
    dose : Dose(left=0.76, rule=0.0076, most=0.0115)                          for so much concrete left in the drum

Two ways to say how much water a slump needs, and three to say what it costs; the truth scatters about them all, and so
do two slump tests of one load. The one who reads the card takes the least water and believes the least strength.
"""

from collections.abc import Iterator
from typing import Any, Literal

import numpy as np

from batterboard.phases.concrete import Concrete, Mix, Water
from batterboard.quantity import Length, Number, Pressure, Volume, WaterContent
from batterboard.record import record
from batterboard.standards import aci211, c94, trade
from batterboard.working import maximum, minimum, nan

_DOSES = {"us": (0.5, 1, 2, 3, 4, 5, 6, 8), "si": (0.5, 1, 1.5, 2, 3, 4, 5, 6)}  # yd3 or m3 left in the drum


@record
class Left:
    """What is left of f'c after some water, said in three ways."""

    added: WaterContent
    ratio: Number  # w/cm
    curve: Pressure  # by the balance and the smooth curve through the table
    table: Pressure  # by the balance and the table itself, with or without air; nan beyond it
    rule_low: Pressure  # by the common rule, at its worst
    rule_high: Pressure

    @property
    def least(self) -> Pressure:
        """The lowest of those that answer."""
        return np.fmin(np.fmin(self.curve, self.table), self.rule_low)


@record
class Dose:
    name: str  # "3 left"
    left: Volume  # concrete in the drum
    rule: Volume  # water for the slump wanted, by the common rule
    most: Volume  # up to the greatest w/cm, down to the least strength; nan without either


@record
class Card:
    """What water may do for one lift of one mix."""

    name: str  # "lift 2"
    mix: str
    wetted: Literal["", "water", "admixture"]
    from_slump: Length
    to_slump: Length
    rule: WaterContent  # by a gallon per yard for an inch
    rule_low: WaterContent  # if the slump test was off by what two tests may differ
    rule_high: WaterContent
    table: WaterContent  # by the water table of ACI 211.1
    most: WaterContent  # that may go in before the greatest w/cm or the least strength; nan without either
    within: bool  # whether the water by the rule stays below that
    planned: Left  # after the water by the rule
    at_most: Left  # after the most
    without: Pressure  # strength where an admixture does it
    doses: tuple[Dose, ...]


@record
class Watering:
    cards: tuple[Card, ...]


def cards(concrete: Concrete, load: Volume, units: Literal["us", "si"]) -> Watering:
    """A card for each lift and mix, whether or not its slump is the one that comes. load : what a truck carries."""
    unit = 4 * trade.ORDER_STEP[units]
    doses = tuple(n for n in _DOSES[units] if n * unit <= load * (1 + 1e-9)) or _DOSES[units][:1]
    made = [_card(water, concrete.mixes[water.mix], unit, doses) for water in concrete.waters]
    return Watering(cards=tuple(made))


def _card(water: Water, mix: Mix, unit: Volume, doses: tuple[float, ...]) -> Card:
    rule = trade.water_for_slump(water.from_slump, water.to_slump)
    low = trade.water_for_slump(water.from_slump + c94.SLUMP_REPEATS, water.to_slump)
    high = trade.water_for_slump(maximum(water.from_slump - c94.SLUMP_REPEATS, 0.0), water.to_slump)
    return Card(
        name=water.name,
        mix=mix.name,
        wetted=water.wetted,
        from_slump=water.from_slump,
        to_slump=water.to_slump,
        rule=rule,
        rule_low=low,
        rule_high=high,
        table=water.by_table,
        most=water.allowed,
        within=not np.any(rule > water.allowed),
        planned=_left(mix, rule),
        at_most=_left(mix, water.allowed),
        without=mix.strength,
        doses=tuple(_doses(rule, water.allowed, unit, doses)),
    )


def _left(mix: Mix, added: WaterContent) -> Left:
    airy = bool(np.any(np.asarray(mix.air) > 0))
    ratio = c94.ratio_after(mix.ratio, mix.binder, added)
    return Left(
        added=added,
        ratio=ratio,
        curve=minimum(aci211.strength_after(mix.strength, mix.ratio, ratio), mix.strength),
        table=mix.strength * aci211.strength_for(ratio, airy) / aci211.strength_for(mix.ratio, airy),
        rule_low=trade.strength_by_rule(mix.strength, added, trade.LOSS_HIGH),
        rule_high=trade.strength_by_rule(mix.strength, added, trade.LOSS_LOW),
    )


def _doses(rule: WaterContent, most: WaterContent, unit: Volume, doses: tuple[float, ...]) -> Iterator[Dose]:
    for n in doses:
        left: Any = n * unit
        yield Dose(name=f"{n:g} left", left=left, rule=rule * left, most=most * left if most == most else nan)
