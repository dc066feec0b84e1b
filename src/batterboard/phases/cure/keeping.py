"""How is a lift kept warm and moist, and how warm is it taken to be?

The code's least curing and, where it is cold, the guide's protection. Whoever keeps it warm is credited with 50 F, no
more; whoever leaves it open, with the air.
"""

from typing import Any

import numpy as np

from batterboard.job import schema
from batterboard.phases.concrete import Mix
from batterboard.phases.cure import hours
from batterboard.phases.cure.results import Kept
from batterboard.quantity import Celsius, day, hour
from batterboard.standards import aci306, durability
from batterboard.work.records import Lift
from batterboard.working import Check, capacity, check, demand, maximum, minimum, where


def kept(lift: Lift, mix: Mix, pour: schema.Pour, air: Any, found: Any) -> Kept:
    """How a lift is to be kept. air : by hour;  found : strength as broken over strength as forecast."""
    least: Any = np.inf
    for body in lift.bodies:
        least = minimum(least, minimum(body.outline.least, body.height))
    as_placed = aci306.least_temperature(least)
    cold = pour.air < aci306.COLDER_THAN
    row = aci306.protection("partial load, exposed")
    moist = durability.CURING_DAYS[mix.cement] * day
    protect = where(cold, row.accelerated if mix.cement == "Type III" else row.normal, 0.0)
    coldest = air[: int(moist / hour) + 1].min(axis=0)[()]
    warm = pour.kept == "warm"
    return Kept(
        name=lift.name,
        lift=lift.number,
        least_dimension=least,
        air=pour.air,
        coldest=coldest,
        cold=cold,
        as_mixed=aci306.as_mixed(as_placed, pour.air),
        as_placed=as_placed,
        placed=hours.placed(lift.number, pour),
        moist=moist,
        protect=protect,
        concrete=aci306.kept_temperature(pour.air, as_placed) if warm else pour.air,
        kept=maximum(moist, protect),
        most_drop=aci306.most_drop(least),
        warm=warm,
        blankets=(coldest < hours.LEAST_KEPT) if warm else False,
        read=sum(one.lift == lift.number for one in pour.thermometer.values()),
        breaks=sum(one.lift == lift.number for one in pour.breaks.values()),
        found=found,
    )


def checks(every: dict[int, Kept]) -> tuple[Check, ...]:
    placed = tuple(warm_enough(one) for one in every.values() if np.any(one.cold))
    return (*placed, *(kept_warm(one) for one in every.values() if not one.warm))


@check("Temperature as placed in the cold", clause=aci306.TEMPERATURES, of=Celsius)
def warm_enough(kept: Kept) -> tuple[Any, Any]:
    least = aci306.least_temperature(kept.least_dimension)
    return demand(where(kept.cold, least, 0.0)), capacity(kept.placed)


@check("Kept warm while it cures", clause=durability.CURING, of=Celsius)
def kept_warm(kept: Kept) -> tuple[Any, Any]:
    """Of concrete that is left open to the air."""
    return demand(hours.LEAST_KEPT), capacity(kept.air)
