"""When do I strip, weld and load it, and how is it kept until then?

    kept : Kept("lift 2", air=12.8, concrete=12.8, kept=604800.0, cold=False)    how warm, and how long it is kept
    wait : Wait("hang leaf", by_rule=992000.0, by_strength=1307000.0, ...)       one act; the later of its gates rules

    hours     the air hour by hour, and what each is worth by four published opinions
    ageing    strength by age, as a band; cylinders heeded
    keeping   curing and protection                          waiting   rules and strengths of every act
    warmth    the block's own heat in three dimensions, curves of the page, welding: only when somebody looks

Ages count from the end of placing the lift. Heat of hydration is not in the waits: the edges, which are stripped,
frozen and stepped on, have little of it, and it only hastens them.
"""

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from batterboard.job import schema
from batterboard.phases.concrete import Concrete, Mix
from batterboard.phases.cure import hours, keeping, waiting
from batterboard.phases.cure.ageing import Ageing
from batterboard.phases.cure.results import Act, Kept, Times, Wait
from batterboard.quantity import day
from batterboard.standards import durability, form_removal
from batterboard.work.records import Lift, Work
from batterboard.working import nan

if TYPE_CHECKING:
    from batterboard.phases.forms import Shores

__all__ = ["Act", "Kept", "Times", "Wait", "ages", "times"]

GAIN = f"A band by {'; '.join(hours.NAMES)}; the first three with ACI 209R-92 eq. 2-1. The slowest rules"


def times(work: Work, concrete: Concrete, pour: schema.Pour, shored: "Mapping[str, Shores] | None" = None) -> Times:
    """How each lift is kept, and how long everything that is done to it waits.

    shored : beams that stand on shores until they carry themselves
    """
    air = hours.air_by_hour(pour)
    kept: dict[int, Kept] = {}
    ready: dict[str, waiting.Ready] = {}
    for lift in work.lifts:
        of_mix = ages(lift, concrete, pour, air)
        first, mix = of_mix[lift.mix], concrete.mixes[lift.mix]
        kept[lift.number] = keeping.kept(lift, mix, pour, air, first.stretch[0] if first.breaks else nan)
        forms = _forms(air, pour, mix)
        ready |= {body.name: waiting.Ready(body, kept[lift.number], of_mix[body.mix], forms) for body in lift.bodies}
    return Times(
        kept=kept,
        waits=tuple(waiting.waits(work, ready, shored or {})),
        gain=GAIN,
        notes=tuple(_notes(kept, pour)),
        checks=keeping.checks(kept),
    )


def ages(lift: Lift, concrete: Concrete, pour: schema.Pour, air: Any) -> dict[str, Ageing]:
    """How each mix of a lift ages, as it was found where it was found."""
    readings = [(one.after, one.reads) for one in pour.thermometer.values() if one.lift == lift.number]
    breaks = [one for one in pour.breaks.values() if one.lift == lift.number]
    made = {}
    for name in dict.fromkeys((lift.mix, *(body.mix for body in lift.bodies))):
        mix = concrete.mixes[name]
        T = hours.as_read(_round_it(air, pour, mix), readings, hours.placed(lift.number, pour))
        made[name] = Ageing(mix, concrete.water(lift.number, name).strength, T, hours.clocks(T), breaks)
    return made


def _round_it(air: Any, pour: schema.Pour, mix: Mix) -> Any:
    return hours.credited(air, pour.kept == "warm", durability.CURING_DAYS[mix.cement] * day)


def _forms(air: Any, pour: schema.Pour, mix: Mix) -> hours.Clock:
    """Which hours count for forms."""
    round_it = _round_it(air, pour, mix)
    return hours.Clock(1.0 * form_removal.counts((round_it[1:] + round_it[:-1]) / 2))


def _notes(kept: dict[int, Kept], pour: schema.Pour) -> Iterator[str]:
    whose = "the forecast, then the mean and swing" if pour.weather else "the mean and swing that the job says"
    yield f"ages are from the end of placing, hour by hour on {whose}; heat of hydration is left out of the waits"
    if any(np.any(one.cold) for one in kept.values()):
        yield "the cold-weather rules apply: the times hold only where the concrete is kept as said"
    if any(np.any(one.blankets) for one in kept.values()):
        yield "hours below 50 F: the times hold only where blankets keep the concrete at 50 F while it cures"
    if not all(one.warm for one in kept.values()):
        yield "it is left open to the air: the code asks for 50 F while it cures, and hours below it count for no form"
    for one in kept.values():
        if one.read:
            yield f"{one.name}: {one.read} thermometer readings take the place of the air as far as they go"
        if one.breaks:
            yield f"{one.name}: cylinders broke at {_percent(one.found)} of the forecast, and every curve follows them"


def _percent(share: Any) -> str:
    return f"{float(np.ravel(share)[0]):.0%}"
