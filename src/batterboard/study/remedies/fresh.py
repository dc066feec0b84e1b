"""A wet load, a cold night, a hot day, a lift that comes too late: what can be done while the concrete is fresh."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from batterboard.phases.concrete import Water
from batterboard.plan import Plan
from batterboard.quantity import Celsius, Pressure, Time, Volume, WaterContent, psi, show
from batterboard.standards import aci211, aci306, c94, trade
from batterboard.study.remedies.proposing import (
    STONES,
    Path,
    Proposal,
    Propose,
    enough,
    has,
    needs,
    sayer,
    stuck,
    up,
)
from batterboard.working import Check

_DOSES = 20  # parts of what was logged
_ORDERED = {"us": 500 * psi, "si": 1e6}  # steps in which strength is ordered


def _wet(plan: Plan, c: Check) -> Iterator[Proposal]:
    water = next((w for w in plan.concrete.waters if w.name == c.element), None)
    if water is None or water.lift > len(plan.job.pour.lifts):
        return
    if all(body.cast for body in plan.work.lifts[water.lift - 1].bodies):
        yield stuck(c.element)
        return
    at: Path = ("pour", "lifts", water.lift - 1, "water")
    others = {n: load for n, load in plan.job.pour.loads.items() if load.lift != water.lift}
    unlogged: dict[Path, Any] = {("pour", "loads"): others} if plan.job.pour.loads else {}
    system = plan.job.job.units
    most = _most_water(plan, water)
    if 0 < most < water.added:
        per, load = (
            show(most, WaterContent, system),
            show(most / water.added * water.per_load, Volume, system, "gal" if system == "us" else "L"),
        )
        yield f"no more than {per} into {c.element}: {load} in a full truck", {at: most} | unlogged
    lift = plan.job.pour.lifts[water.lift - 1]
    dry = replace(lift, water=0.0, wetted="admixture")
    text = f"send such a load back; {c.element} gets its slump from an admixture"
    yield text, {("pour", "lifts", water.lift - 1): dry} | unlogged


def _most_water(plan: Plan, water: Water) -> float:
    """The most that leaves this lift both its strength and its water over binder; in parts of what was put in."""
    mix = plan.concrete.mixes[water.mix]
    step = float(water.added) / _DOSES
    for dose in range(_DOSES, 0, -1):
        ratio = c94.ratio_after(mix.ratio, mix.binder, dose * step)
        strong = aci211.strength_after(mix.strength, mix.ratio, ratio) >= mix.least
        if strong and not ratio > mix.greatest:
            return dose * step
    return 0.0


def _cold(plan: Plan, c: Check) -> Iterator[Proposal]:
    system = plan.job.job.units
    warm = float(needs(c))
    text = f"have the concrete come at {show(warm, Celsius, system)} and keep it covered"
    yield text, {("pour", "concrete"): warm}
    mild = float(aci306.COLDER_THAN)
    yield f"wait for days of {show(mild, Celsius, system)} and more", {("pour", "air"): mild}


def _ordered(plan: Plan, c: Check) -> Iterator[Proposal]:
    """Concrete of which the place asks more than was ordered."""
    name, system = c.element, plan.job.job.units
    bodies = [body for lift in plan.work.lifts for body in lift.bodies if body.mix == name]
    if bodies and all(body.cast for body in bodies):
        yield from map(stuck, dict.fromkeys(body.name for body in bodies))
    elif c.name == "strength_ordered":
        strength = up(needs(c), _ORDERED[system])
        yield f"order {name} at {show(strength, Pressure, system)}", {("mixes", name, "strength"): strength}
    elif c.name == "water_over_cement":
        ratio = float(has(c))
        yield f"order {name} with no more than {ratio:.2f} of water to binder", {("mixes", name, "water_cement"): ratio}
    elif smaller := next((stone for stone in STONES[system] if stone <= has(c)), 0):
        yield f"order {name} with {sayer(plan.job)(smaller)} stone", {("mixes", name, "stone"): smaller}


def _refused(plan: Plan, c: Check) -> Iterator[Proposal]:
    """A load that was logged: until it is placed it can be sent back."""
    loads = plan.job.pour.loads
    number = next((n for n in loads if c.element == f"load {n}"), None)
    if number is None:
        return
    lift = next((one for one in plan.work.lifts if one.number == loads[number].lift), None)
    if lift is not None and all(body.cast for body in lift.bodies):
        yield stuck(f"lift {lift.number}")
        return
    kept = {n: load for n, load in loads.items() if n != number}
    yield f"send {c.element} back and have another, or ask the engineer where it is placed", {("pour", "loads"): kept}


def _hot(plan: Plan, c: Check) -> Iterator[Proposal]:
    cool = float(has(c))
    text = f"have the concrete come at {show(cool, Celsius, plan.job.job.units)}: shaded stone, cold water or ice"
    yield text, {("pour", "concrete"): cool}


def _late(plan: Plan, c: Check) -> Iterator[Proposal]:
    """A load or a lift that comes when the concrete no longer takes it."""
    name = next((lift.mix for lift in plan.work.lifts if f"lift {lift.number}" == c.element), c.element)
    mix = plan.job.mixes.get(name)
    if mix is not None and not mix.retarder:
        yield f"order {name} with a retarder", {("mixes", name, "retarder"): True}
    system = plan.job.job.units
    yard, load = trade.ORDER_STEP[system] * 4, plan.job.pour.truck.load
    smaller = [n * yard for n in range(int(load / yard), 0, -1) if n * yard < load]
    loads: list[Proposal] = [
        (f"loads of no more than {show(one, Volume, system)}", {("pour", "truck", "load"): one}) for one in smaller
    ]
    yield from enough(plan, c, "pour", loads)


def _far(plan: Plan, c: Check) -> Iterator[Proposal]:
    """A plant so far away that a load is too old when it comes."""
    away, system = plan.job.pour.truck.away or 0.0, plan.job.job.units
    drive = plan.job.pour.truck.oldest - (float(needs(c)) - away)
    if drive > 0:
        yield f"a plant no further than {show(drive, Time, system, '1 min')} away", {("pour", "truck", "away"): drive}
    age = float(needs(c))
    text = f"have the purchaser allow {show(age, Time, system, '1 min')} on the order, while it can still be placed"
    yield text, {("pour", "truck", "oldest"): age}


PROPOSE: dict[str, Propose] = {
    "strength_left": _wet,
    "wetted_ratio": _wet,
    "strength_ordered": _ordered,
    "water_over_cement": _ordered,
    "stone": _ordered,
    "slump_as_wanted": _refused,
    "air_as_asked": _refused,
    "not_hot": _refused,
    "not_old": _refused,
    "load_yields": _refused,
    "warm_enough": _cold,
    "not_too_hot": _hot,
    "not_too_old": _far,
    "still_soft": _late,
}
