"""When do I strip, weld and load it, and how is it kept until then?

    kept : Kept("lift 2", air=12.8, concrete=12.8, kept=604800.0, cold=False)    how warm, and how long it is kept
    wait : Wait("hang leaf", by_rule=992000.0, by_strength=1307000.0, ...)       one act; the later of its gates rules

Ages count from the end of placing the lift. Strength is that of `concrete`, less what the added water took, on the
equivalent age: at the mean of the days after, or at what the blankets must hold while it cures where that is warmer.
Heat of hydration and daily swings are not here.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, Literal

import numpy as np

from batterboard.job import schema
from batterboard.phases.concrete import Concrete, Mix
from batterboard.quantity import Celsius, Length, Number, Pressure, TemperatureDifference, Time, day
from batterboard.record import record
from batterboard.standards import aci209, aci306, astm_c1074, durability, form_removal, osha, trade, ufgs
from batterboard.work.records import Body, Lift, Machine, Post, Slab, Work
from batterboard.working import PRACTICE, Check, Source, capacity, check, demand, maximum, minimum, nan, where

Act = Literal["strip", "frost", "cure", "set", "snug", "tighten", "weld", "three quarters", "hang"]


@record
class Kept:
    """How one lift is kept warm and moist."""

    name: str  # "lift 2"
    lift: int
    least_dimension: Length  # of the body that cools fastest
    air: Celsius  # mean of the days after, as the job says
    cold: Any  # whether the cold-weather rules apply
    as_mixed: Celsius  # least temperature at the plant in this air, where it is cold
    as_placed: Celsius  # least temperature when placed, where it is cold
    placed: Celsius  # as the job says
    moist: Time  # least curing
    protect: Time  # least protection from frost, 0 where it is not cold
    concrete: Celsius  # assumed while kept: the air, or what blankets must hold where that is warmer
    kept: Time  # how long: the longer of curing and protection
    most_drop: TemperatureDifference  # in the first 24 h after protection ends


@record
class Wait:
    """One act on one lift's concrete. Ages from the end of placing; nan where a gate does not exist."""

    name: str  # "hang a", "strip west"
    act: Act
    element: str  # pier, slab or beam whose concrete has to be ready
    lift: int
    habit_low: Time  # days of common practice, meant for 70 F; nan where there is no habit
    habit_high: Time
    by_rule: Time  # the table's least time, or the habit's low end brought to this temperature
    rule: str  # where it comes from
    fraction: Number  # of f'c
    needs: Pressure
    by_strength: Time
    strength: str  # where the fraction comes from
    at: Time  # the later of the two
    reaches: Pressure  # strength at that age

    @property
    def governs(self) -> Literal["rule", "strength"]:
        """Which gate opens last; of many variants, whether strength does in any."""
        return "strength" if self.strength and not np.all(self.by_strength <= self.by_rule) else "rule"


@record
class Times:
    """Everything the phase answers."""

    kept: dict[int, Kept]  # by lift
    waits: tuple[Wait, ...]
    gain: str  # the functions that every forecast used
    notes: tuple[str, ...]
    checks: tuple[Check, ...]

    def wait(self, act: Act, element: str) -> Wait:
        return next(wait for wait in self.waits if wait.act == act and wait.element == element)


def times(work: Work, concrete: Concrete, pour: schema.Pour) -> Times:
    """How each lift is kept, and how long everything that is done to it waits."""
    kept = {lift.number: _kept(lift, concrete.mixes, pour) for lift in work.lifts}
    ageing = {
        body.name: _Ageing(body, lift, kept[lift.number], concrete) for lift in work.lifts for body in lift.bodies
    }
    used = next(iter(concrete.mixes.values()), None)
    return Times(
        kept=kept,
        waits=tuple(_waits(work, ageing)),
        gain=used.gain.function if used else "",
        notes=tuple(_notes(kept)),
        checks=tuple(warm_enough(one) for one in kept.values() if np.any(one.cold)),
    )


# ---- how it is kept ----


def _kept(lift: Lift, mixes: dict[str, Mix], pour: schema.Pour) -> Kept:
    least: Any = np.inf
    for body in lift.bodies:
        least = minimum(least, minimum(body.outline.least, body.height))
    as_placed = aci306.least_temperature(least)
    cold = pour.air < aci306.COLDER_THAN
    cement = mixes[lift.mix].cement
    row = aci306.protection("partial load, exposed")
    moist = durability.CURING_DAYS[cement] * day
    protect = where(cold, row.accelerated if cement == "Type III" else row.normal, 0.0)
    return Kept(
        name=lift.name,
        lift=lift.number,
        least_dimension=least,
        air=pour.air,
        cold=cold,
        as_mixed=aci306.as_mixed(as_placed, pour.air),
        as_placed=as_placed,
        placed=pour.concrete,
        moist=moist,
        protect=protect,
        concrete=aci306.kept_temperature(pour.air, as_placed),
        kept=maximum(moist, protect),
        most_drop=aci306.most_drop(least),
    )


@check("Temperature as placed in the cold", clause=aci306.TEMPERATURES, of=Celsius)
def warm_enough(kept: Kept) -> tuple[Any, Any]:
    least = aci306.least_temperature(kept.least_dimension)
    return demand(where(kept.cold, least, 0.0)), capacity(kept.placed)


def _notes(kept: dict[int, Kept]) -> Iterator[str]:
    yield "ages are from the end of placing, at the mean temperature the job says; heat of hydration is left out"
    if any(np.any(one.cold) for one in kept.values()):
        yield "the cold-weather rules apply: the times hold only where the concrete is kept as said"
    elif any(np.any(np.asarray(one.concrete) > one.air) for one in kept.values()):
        yield "the air is below 50 F: the times hold only where the concrete is kept at 50 F while it cures"


# ---- how it ages ----


class _Ageing:
    """One body's concrete as it is kept: strength at an age, and the other way round."""

    def __init__(self, body: Body, lift: Lift, kept: Kept, concrete: Concrete) -> None:
        self.body, self.kept, self.mix = body, kept, concrete.mixes[body.mix]
        self.f_28 = concrete.water(lift.number, body.mix).strength  # what the added water left of it
        self.k, self.k_1 = _factor(kept.air), _factor(kept.concrete)

    def strength(self, t: Time) -> Pressure:
        with np.errstate(invalid="ignore"):  # what never comes has no strength
            t_e = astm_c1074.equivalent_age(t, self.k, self.kept.kept, self.k_1)
        return aci209.strength_gain(self.f_28, t_e, self.mix.gain_a, self.mix.gain_b)

    def age_until(self, t_e: Time) -> Time:
        """Age at which an equivalent age is reached."""
        return astm_c1074.age_until(t_e, self.k, self.kept.kept, self.k_1)

    def age_of(self, f: Pressure) -> Time:
        """Age at which a strength is reached; nan where it never is."""
        return self.age_until(aci209.age_of_strength(f, self.f_28, self.mix.gain_a, self.mix.gain_b))


def _factor(T: Celsius) -> Number:
    return astm_c1074.age_factor(T, astm_c1074.REFERENCE, astm_c1074.Q)


# ---- what waits ----


def _waits(work: Work, ageing: dict[str, _Ageing]) -> Iterator[Wait]:
    elements = {name: base.foot if isinstance(base, Slab) else base.shaft for name, base in work.bases.items()}
    elements |= {name: beam.body for name, beam in work.beams.items()}
    for name, body in elements.items():
        concrete = ageing[body.name]
        if body.against == "form":
            removal = form_removal.least("walls, columns, beam sides").time
            rule = form_removal.form_time(removal, concrete.kept.concrete)
            yield _wait("strip", f"strip {name}", concrete, rule, form_removal.REMOVAL, trade.EDGES_HOLD, PRACTICE)
        yield _wait("frost", f"first frost on {name}", concrete, nan, None, aci306.FROST_PROOF, aci306.FROST)
        yield _wait("cure", f"stop curing {name}", concrete, concrete.kept.kept, durability.CURING)
    bolted: list[Post | Machine] = [*work.posts.values(), *work.machines.values()]
    for thing in bolted:
        if thing.bolts is not None and thing.on in elements:
            yield from _on_bolts(thing, ageing[elements[thing.on].name])
    for hung, post in _hung(work):
        if work.posts[post].on in elements:
            concrete = ageing[elements[work.posts[post].on].name]
            needs = osha.ERECTION_SHARE * concrete.mix.strength
            yield _habit("hang", f"hang {hung}", concrete, needs, osha.ERECTION)


def _on_bolts(thing: Post | Machine, concrete: _Ageing) -> Iterator[Wait]:
    yield _habit("set", f"set {thing.name}", concrete)
    yield _habit("snug", f"snug the nuts of {thing.name}", concrete)
    yield _habit("tighten", f"tighten the nuts of {thing.name}", concrete)
    if isinstance(thing, Post):
        yield _wait("weld", f"weld {thing.name}", concrete, concrete.kept.kept, ufgs.WELDING)
    needs = osha.ERECTION_SHARE * concrete.mix.strength
    yield _wait("three quarters", f"three quarters under {thing.name}", concrete, nan, None, needs, osha.ERECTION)


def _hung(work: Work) -> Iterator[tuple[str, str]]:
    """What is hung on posts, and on which."""
    yield from ((leaf.name, leaf.hinge_post) for leaf in work.leaves.values())
    yield from ((sign.name, sign.on) for sign in work.signs.values())


def _habit(act: Act, name: str, concrete: _Ageing, needs: Pressure = nan, strength: Source | None = None) -> Wait:
    """What the trade waits at 70 F, brought to the temperature at which this concrete is kept."""
    habit = trade.wait(act)
    rule = concrete.age_until(habit.low * _factor(trade.WAITS_AT))
    made = _wait(act, name, concrete, rule, trade.WAITS, needs, strength)
    return replace(made, habit_low=habit.low, habit_high=habit.high)


def _wait(
    act: Act,
    name: str,
    concrete: _Ageing,
    by_rule: Time,
    rule: Source | None,
    needs: Pressure = nan,
    strength: Source | None = None,
) -> Wait:
    by_strength = concrete.age_of(needs) if strength else nan
    at = by_rule if strength is None else by_strength if rule is None else maximum(by_rule, by_strength)
    return Wait(
        name=name,
        act=act,
        element=concrete.body.element,
        lift=concrete.kept.lift,
        habit_low=nan,
        habit_high=nan,
        by_rule=by_rule,
        rule=str(rule or ""),
        fraction=needs / concrete.mix.strength,
        needs=needs,
        by_strength=by_strength,
        strength=str(strength or ""),
        at=at,
        reaches=concrete.strength(at),
    )
