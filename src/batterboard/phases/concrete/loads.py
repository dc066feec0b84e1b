"""Was each load what was ordered, as logged at the truck?

    load : Load("load 2", lift="lift 2", slump=0.19, added=0.013, away=4800.0, ...)    see `concrete`

Slump, air, temperature, age and yield are asked where they were logged; water over binder and strength left are asked
for the wettest load of each lift, with the mixes. What was never logged is not known to be right.
"""

from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np

from batterboard.job import schema
from batterboard.phases.concrete import Load, Mix
from batterboard.quantity import Celsius, Length, Number, Time, gravity
from batterboard.standards import aci211, aci306, astm_c138, c94, durability
from batterboard.work.loads import added
from batterboard.work.records import Work
from batterboard.working import Check, absolute, capacity, check, demand, nan

_ALIKE = 2.0  # K: thermometers and portions of one load differ by as much


def loads(work: Work, mixes: Mapping[str, Mix], logged: Mapping[int, schema.Load], oldest: Time) -> tuple[Load, ...]:
    """Every load with its lift and mix, and what its water left."""
    water = added(logged)
    return tuple(_load(number, load, work, mixes, water[number], oldest) for number, load in sorted(logged.items()))


def checks(made: tuple[Load, ...]) -> Iterator[Check]:
    for load in made:
        if _known(load.slump):
            yield slump_as_wanted(load)
        if _known(load.air) and _asked(load.asked_air):
            yield air_as_asked(load)
        if _known(load.temperature):
            yield not_hot(load)
        if _known(load.away):
            yield not_old(load)
        if _known(load.batch):
            yield load_yields(load)


def notes(made: tuple[Load, ...], placed: Celsius) -> Iterator[str]:
    """Times and pressures are for one temperature as placed; what came otherwise is told. placed : as the job says."""
    for load in made:
        if _known(load.temperature) and abs(float(load.temperature) - float(np.ravel(placed)[0])) > _ALIKE:
            yield f"{load.name} came at another temperature: times and pressures are for `concrete` under [found.pour]"


@check("Slump at the chute off what was wanted", clause=c94.SLUMP, of=Length)
def slump_as_wanted(load: Load) -> tuple[Any, Any, str]:
    again = "Outside it, test another portion of the sample at once; a second failure is one."
    return demand(absolute(load.slump - load.wanted)), capacity(c94.slump_tolerance(load.wanted)), again


@check("Air as tested off what was asked for", clause=durability.AIR, of=Number)
def air_as_asked(load: Load) -> tuple[Any, Any]:
    return demand(absolute(load.air - load.asked_air)), capacity(durability.AIR_TOLERANCE)


@check("Temperature of the load", clause=aci306.HOT, of=Celsius)
def not_hot(load: Load) -> tuple[Any, Any]:
    return demand(load.temperature), capacity(aci306.HOTTEST)


@check("Age of the load when it was out", clause=c94.AGE, of=Time)
def not_old(load: Load) -> tuple[Any, Any, str]:
    return demand(load.away), capacity(load.oldest), "The purchaser may waive it while the concrete can be placed."


@check("Concrete on the ticket over what was there", clause=astm_c138.YIELD, of=Number)
def load_yields(load: Load) -> tuple[Any, Any]:
    there = astm_c138.batch_yield(load.batch, load.weighs)
    return demand(1.0), capacity(astm_c138.relative_yield(there, load.ticket))


def _load(number: int, load: schema.Load, work: Work, mixes: Mapping[str, Mix], water: Any, oldest: Time) -> Load:
    lift = work.lifts[load.lift - 1]
    mix = mixes[lift.mix]
    put_in = nan if water is None else water
    after = c94.ratio_after(mix.ratio, mix.binder, 0.0 * mix.ratio if water is None else water)
    return Load(
        name=f"load {number}",
        lift=lift.name,
        mix=mix.name,
        wanted=lift.wanted,
        slump=_or_nan(load.slump),
        slump_tolerance=c94.slump_tolerance(lift.wanted),
        water=_or_nan(load.water),
        drum=_or_nan(load.drum),
        added=put_in,
        ratio=after,
        greatest=mix.greatest,
        strength=mix.strength if water is None else aci211.strength_after(mix.strength, mix.ratio, after),
        temperature=_or_nan(load.temperature),
        air=_or_nan(load.air),
        asked_air=mix.air,
        away=nan if load.batched is None or load.empty is None else (load.empty - load.batched).total_seconds(),
        oldest=oldest,
        ticket=_or_nan(load.volume),
        batch=_or_nan(load.batch),
        weighs=nan if load.weighs is None else load.weighs / gravity,
    )


def _or_nan(value: Any) -> Any:
    return nan if value is None else value


def _known(value: Any) -> bool:
    return bool(value == value)


def _asked(value: Any) -> bool:
    return bool(value > 0)
