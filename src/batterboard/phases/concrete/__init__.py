"""What mix, how strong at which age, and what does the water cost that goes in on site?

    mix   : Mix("stiff", strength=27.6e6, least=24.1e6, greatest=0.55, ratio=0.48)   what to ask for, and why
    class : Exposure("F1", greatest=0.55, least=24.1e6, air=0.05)                    what one exposure class asks for
    water : Water("lift 2", added=0.0099, keeps=0.91, ...)                           what is put in for one lift

Strength grows on the equivalent age: one hour in the cold counts less than one in the warm. How long to wait with it is
asked in `cure`; how much to order, in `ordering`; what to mix on site, in `proportions`. What was logged at the truck
is judged in `loads`; how many gallons go into the drum is told in `watering`. The heat of hydration is not here.
"""

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Any, Literal

import numpy as np

from batterboard.job import schema
from batterboard.quantity import (
    Celsius,
    Length,
    Mass,
    MassDensity,
    Number,
    Pressure,
    Time,
    Volume,
    WaterContent,
    day,
)
from batterboard.record import record
from batterboard.standards import aci209, aci211, astm_c1074, c94, durability, trade
from batterboard.work.records import Body, Work
from batterboard.work.records import Lift as WorkLift
from batterboard.working import Check, capacity, check, demand, maximum, nan

AGES = tuple(n * day for n in (1, 2, 3, 5, 7, 10, 14, 21, 28))
TEMPERATURES = tuple((T_F - 32) / 1.8 for T_F in (40, 50, 60, 73, 90))
GAIN = (
    f"ACI 209R-92 eq. 2-1 on the equivalent age of ASTM C1074, Q = {astm_c1074.Q:g} K, "
    f"reference {astm_c1074.REFERENCE:g} °C"
)


@record
class Exposure:
    """What the code asks for in one class. nan where it asks for nothing."""

    name: str  # F1, S0, W0, C1
    greatest: Number  # w/cm
    least: Pressure  # f'c
    air: Number  # total, for the mix's stone; 0 where none


@record
class Gain:
    """Strength by age, moist cured at one temperature all the time. Ages first, then temperatures, then variants."""

    function: str  # named, because published ones differ much
    ages: Time  # (n,)
    air: Celsius  # the mean of the days after, as the job says
    at_air: Pressure  # (n, ...)
    temperatures: Celsius  # (m,)
    grid: Pressure  # (n, m, ...)


@record
class Mix:
    """One concrete: what is asked for, what the code asks for, and how it gains strength."""

    name: str
    strength: Pressure  # f'c as ordered, at 28 days
    classes: tuple[Exposure, ...]
    least: Pressure  # f'c that the classes need
    asked: Number  # greatest w/cm that the job asks for, nan where it says none
    limit: Number  # greatest w/cm of the classes, nan without
    greatest: Number  # w/cm on the order: the lower of the two, nan without
    ratio: Number  # w/cm as batched, the best that is known
    binder: MassDensity  # cement and what replaces it, per volume
    water: MassDensity  # mixing water per volume
    batch_from: Literal["ticket", "estimate"]  # binder and water; an estimate is by ACI 211.1 within the limits
    class_air: Number  # total air the classes ask for, 0 where none
    air: Number  # asked for: by the order, else by the classes
    fly_ash: Number  # of the binder
    slag: Number
    silica_fume: Number
    stone: Length
    narrowest: Length  # between forms, infinite where all is cast against earth
    thinnest: Length  # slab or pad, infinite where there is none
    slump: Length  # at the chute
    cement: str
    retarder: bool
    gain_a: Time  # strength at age t: t / (a + b t) of f'c
    gain_b: Number
    initial_set: Time  # at the temperature placed; without admixtures
    after: Celsius  # mean air of the days after, as the job says

    @cached_property
    def gain(self) -> Gain:
        """Strength by age and temperature: on paper only, no check needs it."""
        return _gain(self.strength, self.after, self.gain_a, self.gain_b)


@record
class Water:
    """Water put in on site for one lift: as logged, else what the slump wanted needs by the rule of the trade."""

    name: str  # "lift 2"
    lift: int
    mix: str
    from_slump: Length
    to_slump: Length
    wetted: Literal["", "water", "admixture"]
    logged: bool  # whether `added` was logged, or is only planned
    added: WaterContent
    by_table: WaterContent  # the same change of slump by the water table of ACI 211.1
    in_all: Volume  # into the concrete of this lift, as designed
    per_load: Volume  # in a full truck
    allowed: WaterContent  # up to the greatest w/cm and down to the least strength, nan without either
    allowed_per_load: Volume
    ratio_before: Number
    ratio_after: Number
    keeps: Number  # strength after over strength before, by the balance
    strength: Pressure  # what is left of f'c, by the balance
    by_rule_low: Pressure  # what is left of f'c by the common rule, at its worst
    by_rule_high: Pressure  # and at its best


@record
class Load:
    """What came out of the chute for one lift, as logged. nan where it was not."""

    name: str  # "load 2"
    lift: str
    mix: str
    wanted: Length  # slump of its lift
    slump: Length  # as tested
    slump_tolerance: Length
    water: Volume  # put in
    drum: Volume  # concrete left in the drum then
    added: WaterContent  # in all, from earlier lifts of the same truck too
    ratio: Number  # w/cm with it
    greatest: Number
    strength: Pressure  # what is left of f'c, by the balance
    temperature: Celsius
    air: Number
    asked_air: Number
    away: Time  # from batching until it was empty
    oldest: Time  # that it may be, by the order
    ticket: Volume
    batch: Mass
    weighs: MassDensity


@record
class Concrete:
    """Everything the phase answers."""

    mixes: dict[str, Mix]
    waters: tuple[Water, ...]  # one for each lift and mix
    loads: tuple[Load, ...]  # as logged at the truck
    notes: tuple[str, ...]
    checks: tuple[Check, ...]

    def water(self, lift: int, mix: str) -> Water:
        """What happens to a mix in one lift."""
        return next(water for water in self.waters if water.lift == lift and water.mix == mix)


def mixes(work: Work, asked: Mapping[str, schema.Mix], site: schema.Site, pour: schema.Pour) -> Concrete:
    """Every mix with its limits and its gain, and what site water does to it lift by lift."""
    bodies = {name: [body for body in work.bodies if body.mix == name] for name in asked}
    made = {name: _mix(name, mix, bodies[name], site, pour) for name, mix in asked.items()}
    waters = tuple(
        _water(lift, made[name], pour.truck.load)
        for lift in work.lifts
        for name in dict.fromkeys(body.mix for body in lift.bodies)
    )
    loads: tuple[Load, ...] = ()
    logged: tuple[Check, ...] = ()
    told: tuple[str, ...] = ()
    if pour.loads:
        from batterboard.phases.concrete import loads as log  # only after the pour

        loads = log.loads(work, made, pour.loads, pour.truck.oldest)
        logged, told = tuple(log.checks(loads)), tuple(log.notes(loads, pour.concrete))
    return Concrete(
        mixes=made,
        waters=waters,
        loads=loads,
        notes=(*dict.fromkeys(_notes(made, waters)), *told),
        checks=(*_mix_checks(made), *_water_checks(made, waters), *logged),
    )


# ---- mixes ----


def _mix(name: str, mix: schema.Mix, bodies: list[Body], site: schema.Site, pour: schema.Pour) -> Mix:
    classes = tuple(_class(letter, mix.stone) for letter in site.exposed)
    least = durability.least_for(site.seismic)
    class_air = _largest([one.air for one in classes], 0.0)
    limit = _smallest([one.greatest for one in classes])
    own = nan if mix.water_cement is None else mix.water_cement
    greatest = _smallest([limit, own])
    airy = any(np.any(np.asarray(air) > 0) for air in (class_air, mix.air or 0.0))
    ratio, binder, water, batch_from = _batch(mix, greatest, airy)
    cement = aci209.gain(mix.cement)
    return Mix(
        name=name,
        strength=mix.strength,
        classes=classes,
        least=_largest([one.least for one in classes], least),
        asked=own,
        limit=limit,
        greatest=greatest,
        ratio=ratio,
        binder=binder,
        water=water,
        batch_from=batch_from,
        class_air=class_air,
        air=class_air if mix.air is None else mix.air,
        fly_ash=mix.fly_ash,
        slag=mix.slag,
        silica_fume=mix.silica_fume,
        stone=mix.stone,
        narrowest=_smallest([body.outline.least for body in bodies if body.against == "form"], np.inf),
        thinnest=_smallest([body.height for body in bodies if body.part in ("slab", "pad", "step")], np.inf),
        slump=mix.slump,
        cement=mix.cement,
        retarder=mix.retarder,
        gain_a=cement.a,
        gain_b=cement.b,
        initial_set=trade.setting_time(pour.concrete),
        after=pour.air,
    )


def _class(name: str, stone: Length) -> Exposure:
    row = durability.exposure(name)
    return Exposure(name=name, greatest=row.greatest, least=row.least, air=durability.air_for(name, stone))


def _batch(mix: schema.Mix, greatest: Number, airy: bool) -> tuple[Any, Any, Any, Literal["ticket", "estimate"]]:
    """w/cm, binder and water as batched; what the ticket does not say is estimated at the leanest that is allowed.

    The strength table is entered with f'c itself, so that the binder comes out rather low and added water rather dear.
    """
    if mix.water is not None and mix.cement_content is not None:
        return mix.water / mix.cement_content, mix.cement_content, mix.water, "ticket"
    ratio = _smallest([greatest, aci211.ratio_for(mix.strength, airy)])
    if mix.cement_content is not None:
        return ratio, mix.cement_content, ratio * mix.cement_content, "estimate"
    water = aci211.water_for(mix.slump, mix.stone, airy) if mix.water is None else mix.water
    return ratio, water / ratio, water, "estimate"


def _gain(f_c: Pressure, air: Celsius, a: Time, b: Number) -> Gain:
    ages, temperatures = np.array(AGES), np.array(TEMPERATURES)
    more = (1,) * max(np.ndim(f_c), np.ndim(air))
    t = ages.reshape(-1, *more)
    T = temperatures.reshape(-1, *more)

    def strength(t: Any, T: Any) -> Any:
        k = astm_c1074.age_factor(T, astm_c1074.REFERENCE, astm_c1074.Q)
        return aci209.strength_gain(f_c, astm_c1074.equivalent_age(t, k, 0.0, k), a, b)

    return Gain(
        function=GAIN,
        ages=ages,
        air=air,
        at_air=strength(t, air),
        temperatures=temperatures,
        grid=strength(t.reshape(-1, 1, *more), T),
    )


def _mix_checks(made: Mapping[str, Mix]) -> Iterator[Check]:
    for mix in made.values():
        yield strength_ordered(mix)
        if _limited(mix.limit) and (mix.batch_from == "ticket" or _limited(mix.asked)):
            yield water_over_cement(mix)
        if any(one.name in ("F1", "F2", "F3") for one in mix.classes):
            yield air_entrained(mix)
        if any(one.name == "F3" for one in mix.classes):
            yield from (fly_ash(mix), replaced(mix))
            if np.any(np.asarray(mix.silica_fume) > 0):
                yield from (silica_fume(mix), ash_and_silica(mix))
        if np.any(np.isfinite(mix.narrowest)) or np.any(np.isfinite(mix.thinnest)):
            yield stone(mix)


@check("Strength ordered", clause=durability.EXPOSURE, of=Pressure)
def strength_ordered(mix: Mix) -> tuple[Any, Any, str]:
    asked = [one.least for one in mix.classes]
    by_use = np.any(mix.least > _largest(asked, 0.0))
    why = f"Asked for by {durability.LEAST_STRENGTH}, as a foundation." if by_use else _by(mix, asked)
    return demand(mix.least), capacity(mix.strength), why


@check("Water over binder", clause=durability.EXPOSURE, of=Number)
def water_over_cement(mix: Mix) -> tuple[Any, Any, str]:
    asked = mix.ratio if mix.batch_from == "ticket" else mix.asked
    return demand(asked), capacity(mix.limit), _by(mix, [-one.greatest for one in mix.classes])


@check("Air in the mix", clause=durability.AIR, of=Number)
def air_entrained(mix: Mix) -> tuple[Any, Any]:
    return demand(durability.least_air(mix.class_air, mix.strength)), capacity(mix.air)


@check("Fly ash in the binder", clause=durability.REPLACED, of=Number)
def fly_ash(mix: Mix) -> tuple[Any, Any]:
    return demand(mix.fly_ash), capacity(durability.MOST_FLY_ASH)


@check("Slag, fly ash and silica fume in the binder", clause=durability.REPLACED, of=Number)
def replaced(mix: Mix) -> tuple[Any, Any]:
    return demand(mix.slag + mix.fly_ash + mix.silica_fume), capacity(durability.MOST_REPLACED)


@check("Silica fume in the binder", clause=durability.REPLACED, of=Number)
def silica_fume(mix: Mix) -> tuple[Any, Any]:
    return demand(mix.silica_fume), capacity(durability.MOST_SILICA_FUME)


@check("Fly ash and silica fume in the binder", clause=durability.REPLACED, of=Number)
def ash_and_silica(mix: Mix) -> tuple[Any, Any]:
    return demand(mix.fly_ash + mix.silica_fume), capacity(durability.MOST_ASH_AND_SILICA)


@check("Largest stone between the forms", clause=durability.STONE, of=Length)
def stone(mix: Mix) -> tuple[Any, Any]:
    return demand(mix.stone), capacity(durability.largest_stone(mix.narrowest, mix.thinnest, np.inf))


# ---- site water ----


def _water(lift: WorkLift, mix: Mix, load: Volume) -> Water:
    rule = trade.water_for_slump(mix.slump, lift.slump)
    planned = rule if lift.wetted == "water" else 0.0 * rule
    logged = bool(np.any(np.asarray(lift.water) > 0))
    added = _plain(np.where(np.asarray(lift.water) > 0, lift.water, planned)) if logged else planned
    airy = bool(np.any(np.asarray(mix.air) > 0))
    table = aci211.water_for(lift.slump, mix.stone, airy) - aci211.water_for(mix.slump, mix.stone, airy)
    after = c94.ratio_after(mix.ratio, mix.binder, added)
    allowed = c94.water_allowed(_wettest(mix), mix.ratio, mix.binder)
    left = _plain(np.where(added > 0, aci211.strength_after(mix.strength, mix.ratio, after), mix.strength))
    return Water(
        name=lift.name,
        lift=lift.number,
        mix=mix.name,
        from_slump=mix.slump,
        to_slump=lift.slump,
        wetted=lift.wetted,  # type: ignore[arg-type]
        logged=logged,
        added=added,
        by_table=maximum(table, 0.0) / c94.WATER_DENSITY,
        in_all=added * sum(body.volume for body in lift.bodies if body.mix == mix.name),
        per_load=added * load,
        allowed=allowed,
        allowed_per_load=allowed * load,
        ratio_before=mix.ratio,
        ratio_after=after,
        keeps=left / mix.strength,
        strength=left,
        by_rule_low=trade.strength_by_rule(mix.strength, added, trade.LOSS_HIGH),
        by_rule_high=trade.strength_by_rule(mix.strength, added, trade.LOSS_LOW),
    )


def _wettest(mix: Mix) -> Number:
    """The greatest w/cm that keeps both the limit and the strength that are asked for; nan without either."""
    if not np.all(mix.least > 0) or np.any(np.isnan(mix.ratio)):
        return mix.greatest
    return _smallest([mix.greatest, aci211.ratio_leaving(mix.strength, mix.ratio, mix.least)])


def _water_checks(made: Mapping[str, Mix], waters: tuple[Water, ...]) -> Iterator[Check]:
    for water in waters:
        mix = made[water.mix]
        if not (water.logged or water.wetted == "water"):
            continue
        yield strength_left(water, mix)
        if _limited(mix.greatest):
            yield wetted_ratio(water, mix)


@check("Strength left with the water put in", clause=durability.EXPOSURE, of=Pressure)
def strength_left(water: Water, mix: Mix) -> tuple[Any, Any]:
    after = c94.ratio_after(mix.ratio, mix.binder, water.added)
    return demand(mix.least), capacity(aci211.strength_after(mix.strength, mix.ratio, after))


@check("Water over binder with the water put in", clause=durability.EXPOSURE, of=Number)
def wetted_ratio(water: Water, mix: Mix) -> tuple[Any, Any]:
    return demand(c94.ratio_after(mix.ratio, mix.binder, water.added)), capacity(mix.greatest)


def _notes(made: Mapping[str, Mix], waters: tuple[Water, ...]) -> Iterator[str]:
    for mix in made.values():
        if mix.batch_from == "estimate":
            yield f"{mix.name}: binder and water are estimates by ACI 211.1 until the ticket says them"
        if mix.cement == "Type II":
            yield f"{mix.name}: Type II gains strength more slowly than the Type I curve used for it"
        if mix.retarder:
            yield f"{mix.name}: the setting time is that of the mix without its retarder; ask the plant"
    for water in waters:
        if np.any(np.asarray(water.to_slump) < water.from_slump):
            yield f"{water.name}: {water.mix} comes wetter than this lift wants it; order the stiffest slump"
        elif np.any(np.asarray(water.to_slump) > water.from_slump) and not water.wetted:
            yield f"{water.name}: the job does not say how {water.mix} gets to this slump"


# ---- limits that may be missing ----


def _limited(limit: Any) -> bool:
    return not np.any(np.isnan(limit))


def _smallest(values: list[Any], without: float = nan) -> Any:
    """The least of those that are there, variant by variant."""
    least: Any = without
    for value in values:
        least = np.fmin(least, value)
    return _plain(least)


def _largest(values: list[Any], without: float) -> Any:
    most: Any = without
    for value in values:
        most = np.fmax(most, value)
    return _plain(most)


def _plain(value: Any) -> Any:
    """A number of one job as a plain number, so that formulas take their quick way."""
    return value if np.ndim(value) else float(value)


def _by(mix: Mix, values: list[Any]) -> str:
    """The class that asks for most."""
    known = [(float(np.ravel(v)[0]), one.name) for v, one in zip(values, mix.classes, strict=True)]
    most = max((pair for pair in known if not np.isnan(pair[0])), default=(0.0, ""))[1]
    return f"Asked for by class {most}." if most else ""
