"""What does the weather do to the concrete: does it dry, is it too cold or too hot, will it rain?

    spell : Spell(at=..., air=14.4, wind=3.6, evaporation=7e-5, dew=False, drying="none")    one hour of the pour
    fresh : Fresh(mixed=18.1, lost=1.0, placed=17.1, ice=0.0)                               the concrete's temperature
    sign  : Sign("air", state="care", value=3.0, limit=4.4)                                 one line of go or no-go

Drying by two published equations, the larger counts; where the concrete is colder than the dew point nothing dries.
Wind of a weather station blows ten metres up: at the forms it is less, so that the answer lies on the safe side.
Without a forecast the limits are said all the same: they are what he looks for in the morning. The sun is not here.
"""

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from typing import Any, Literal

from batterboard.job import schema
from batterboard.phases.concrete import Concrete, Mix
from batterboard.phases.pour.hour import Hour
from batterboard.quantity import (
    Celsius,
    Evaporation,
    MassDensity,
    Number,
    RateOfRise,
    Speed,
    TemperatureDifference,
    Time,
    UnitWeight,
    day,
    hour,
)
from batterboard.record import record
from batterboard.standards import aci305, aci306, trade, ufgs
from batterboard.standards import fresh as fresh_concrete
from batterboard.work.records import Work
from batterboard.working import minimum, nan

DRY_AIR = 0.30  # humidity for which the wind to look out for is told where there is no forecast
_FREEZING = 0.0

State = Literal["go", "care", "stop", "ask"]


@record
class Spell:
    """One hour of the pour and of the setting after it."""

    at: datetime
    air: Celsius
    humidity: Number
    wind: Speed
    rain: RateOfRise
    dew_point: Celsius
    evaporation: Evaporation  # by the nomograph's equation
    other: Evaporation  # by Uno's
    dew: bool  # falls on the concrete: nothing dries
    drying: Literal["none", "watch", "protect"]

    @property
    def name(self) -> str:
        return f"{self.at:%Y-%m-%d %H:%M}"


@record
class Fresh:
    """One mix, from the plant to the form. nan where the job file says nothing of the plant's materials."""

    mix: str
    assumed: Celsius  # as placed, what every setting time rests on
    least: Celsius  # as placed and kept, for the least side of what it is cast into
    at_plant: Celsius  # that it must have when it leaves, so that it comes as assumed
    lost: TemperatureDifference  # on the way; negative where it gains
    mixed: Celsius  # from the plant's materials
    placed: Celsius
    ice: MassDensity  # of the mixing water as ice, so that it comes below the hottest allowed; 0 where none is needed
    water: Celsius  # that would bring it as assumed without ice; nan above boiling

    @property
    def name(self) -> str:
        return self.mix


@record
class Sign:
    """One thing to look at in the morning."""

    name: Literal["air", "night", "concrete", "drying", "rain", "batch"]
    state: State
    value: Any  # as forecast or assumed, nan where not known
    limit: Any


@record
class Weather:
    known: bool  # whether there is a forecast
    spells: tuple[Spell, ...]
    fresh: tuple[Fresh, ...]
    signs: tuple[Sign, ...]
    wind: Speed  # that dries the assumed concrete too fast in dry air at the assumed temperature
    humidity: Number  # of that air
    rain_until: Time  # covered until the last lift has set, and twelve hours by the federal guide
    notes: tuple[str, ...]


def weather(
    work: Work,
    concrete: Concrete,
    pour: schema.Pour,
    mixes: Mapping[str, schema.Mix],
    hours: Hour,
    units: Literal["us", "si"],
) -> Weather:
    """The hours from the first concrete until the last has set, and the temperature of each mix."""
    spells = tuple(_spell(one, pour.concrete, units) for one in _during(pour, hours))
    fresh = tuple(_fresh(mix, mixes[mix.name].weight, work, pour, hours, spells) for mix in _used(concrete, hours))
    sets = max((one.sets for one in hours.placings), default=0.0)
    return Weather(
        known=bool(pour.weather),
        spells=spells,
        fresh=fresh,
        signs=tuple(_signs(pour, hours, spells, fresh)),
        wind=aci305.wind_for(aci305.PROTECT_FROM, pour.concrete, pour.air, DRY_AIR),
        humidity=DRY_AIR,
        rain_until=max(sets, hours.ends + ufgs.RAIN),
        notes=tuple(_notes(pour, hours, spells)),
    )


# ---- hours ----


def _during(pour: schema.Pour, hours: Hour) -> Iterator[schema.Weather]:
    """Hours of the forecast in which a lift is placed or sets."""
    if pour.when is None:
        return
    for one in pour.weather:
        t = (one.at - pour.when).total_seconds()
        if any(t + hour > lift.starts and t < lift.sets for lift in hours.placings):
            yield one


def _spell(one: schema.Weather, T: Celsius, units: Literal["us", "si"]) -> Spell:
    uno = aci305.evaporation_uno_us if units == "us" else aci305.evaporation_uno
    by_chart = aci305.evaporation(T, one.air, one.humidity, one.wind)
    other = uno(T, one.air, one.humidity, one.wind)
    dew_point = aci305.dew_point(one.air, max(one.humidity, 0.01))
    worst = max(by_chart, other)
    drying = "protect" if worst > aci305.PROTECT_FROM else "watch" if worst > aci305.WATCH_FROM else "none"
    return Spell(
        at=one.at,
        air=one.air,
        humidity=one.humidity,
        wind=one.wind,
        rain=one.rain,
        dew_point=dew_point,
        evaporation=by_chart,
        other=other,
        dew=bool(dew_point > T),
        drying=drying,  # type: ignore[arg-type]
    )


# ---- the concrete's temperature ----


def _used(concrete: Concrete, hours: Hour) -> list[Mix]:
    return [concrete.mixes[name] for name in dict.fromkeys(one.mix for one in hours.placings)]


def _fresh(
    mix: Mix, weight: UnitWeight, work: Work, pour: schema.Pour, hours: Hour, spells: tuple[Spell, ...]
) -> Fresh:
    air = spells[0].air if spells else pour.air
    lost = aci306.lost_on_the_way(pour.concrete, air, hours.away)
    sides = [minimum(body.outline.least, body.height) for body in work.bodies if body.mix == mix.name and not body.cast]
    mixed = ice = water = nan
    if pour.batch is not None:
        stone = fresh_concrete.density(weight) - mix.binder - mix.water
        mixed, ice, water = _from_batch(mix, stone, pour.batch, pour.concrete + lost, air, hours)
    return Fresh(
        mix=mix.name,
        assumed=pour.concrete,
        least=max((aci306.least_temperature(side) for side in sides), default=nan),
        at_plant=pour.concrete + lost,
        lost=lost,
        mixed=mixed,
        placed=mixed - aci306.lost_on_the_way(mixed, air, hours.away),
        ice=ice,
        water=water,
    )


def _from_batch(
    mix: Mix, stone: MassDensity, batch: schema.Batch, wanted: Celsius, air: Celsius, hours: Hour
) -> tuple[Any, Any, Any]:
    """Temperature as mixed, ice that keeps it below the hottest at the form, water that brings it as wanted."""
    free = batch.wet * stone
    added = max(mix.water - free, 0.05 * mix.water)
    frozen = batch.ice * added
    mixed = aci305.as_mixed(
        *(mix.binder, stone, added - frozen, frozen, free),
        *(batch.cement, batch.stone, batch.water, aci305.SOLIDS_HEAT),
    )
    m = aci305.water_equivalent(mix.binder, stone, added, free, aci305.SOLIDS_HEAT)
    hottest = aci306.HOTTEST + aci306.lost_on_the_way(aci306.HOTTEST, air, hours.away)
    ice = frozen + aci305.ice_for(mixed, hottest, batch.water, m)
    water = aci305.water_for(mixed, wanted, batch.water, m, added)
    return mixed, ice, water if water <= 100 else nan


# ---- go or no-go ----


def _signs(pour: schema.Pour, hours: Hour, spells: tuple[Spell, ...], fresh: tuple[Fresh, ...]) -> Iterator[Sign]:
    coldest = min((one.air for one in spells), default=pour.air)
    cold = coldest < aci306.COLDER_THAN
    yield Sign(name="air", state="care" if cold else "go", value=coldest, limit=aci306.COLDER_THAN)
    night = _night(pour)
    state: State = "ask" if night is None else "care" if night < _FREEZING else "go"
    yield Sign(name="night", state=state, value=nan if night is None else night, limit=_FREEZING)
    for one in fresh:
        comes = one.assumed if one.placed != one.placed else one.placed
        state = "go"
        if comes > aci306.HOTTEST or (cold and comes < one.least):
            state = "stop"
        elif comes > aci306.HOTTEST_PAVING:
            state = "care"
        yield Sign(name="concrete", state=state, value=comes, limit=aci306.HOTTEST)
    worst = max((max(one.evaporation, one.other) for one in spells), default=nan)
    state = (
        "ask"
        if not spells
        else "stop"
        if worst > aci305.PROTECT_FROM
        else "care"
        if worst > aci305.WATCH_FROM
        else "go"
    )
    yield Sign(name="drying", state="care" if state == "stop" else state, value=worst, limit=aci305.PROTECT_FROM)
    yield _rain(pour, hours, spells)


def _night(pour: schema.Pour) -> float | None:
    """The coldest hour of the day after."""
    if pour.when is None:
        return None
    after = [one.air for one in pour.weather if pour.when <= one.at < pour.when + timedelta(seconds=day)]
    return min(after) if len(after) > 12 else None


def _rain(pour: schema.Pour, hours: Hour, spells: tuple[Spell, ...]) -> Sign:
    """Heavy rain while it is placed stops the pour; any until it has set wants covers."""
    most = max((one.rain for one in spells), default=nan)
    placing = [one for one in spells if pour.when and (one.at - pour.when).total_seconds() < hours.ends]
    heavy = any(one.rain >= trade.RAIN_STOPS for one in placing)
    state: State = "ask" if not spells else "stop" if heavy else "care" if most > 0 else "go"
    return Sign(name="rain", state=state, value=most, limit=trade.RAIN_STOPS)


def _notes(pour: schema.Pour, hours: Hour, spells: tuple[Spell, ...]) -> Iterator[str]:
    if not pour.weather:
        yield "no weather was said: look at the limits in the morning"
    elif pour.when is None:
        yield "the weather cannot be laid beside the pour: the job file does not say when it begins"
    elif not spells:
        yield "the weather of the job file does not reach the day of the pour"
    elif (spells[-1].at - pour.when).total_seconds() + hour < max(one.sets for one in hours.placings):
        yield "the weather ends before the last concrete has set"
