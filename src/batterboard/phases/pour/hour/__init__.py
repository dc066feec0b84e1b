"""In what order, how fast, and when to wait: pour day by the minute.

    placing : Placing(2, starts=6900.0, placed=9780.0, ends=10020.0, rules="rise")       one lift
    hold    : Hold(1, 2, soonest=13100.0, latest=11100.0, starts=9680.0, way="test")   between two that must knit
    load    : Load(1, mix="stiff", volume=2.29, batched=-1800.0, empty=5200.0, age=7000.0)
    event   : Event("place", "west pad, east pad", lift=1, load=1, start=0.0, end=2900.0)

Times count from the first concrete at the form. A lift begins when the one before has been vibrated. Where it stands on
fresh concrete it waits as `forms` asks, but never past the time at which the joint goes cold. Where the slow reading
of that wait comes too late but the quick one does not, the pads are tried with the rod in between; where no reading
comes in time, the rest is another day's work behind a joint that was planned. A load that would grow too old while it
waits is parted from the next one. What was timed at the truck stands as it was and moves what follows. One job, no
variants. The gate on site stands before all of it: the running vibrator still sinks by itself.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from batterboard.job import schema
from batterboard.phases.concrete import Concrete
from batterboard.phases.forms import Foot
from batterboard.phases.pour.hour.events import events_of, notes_of
from batterboard.phases.pour.hour.lifts import flow_of, placings_of
from batterboard.phases.pour.hour.results import Event, Hold, Hour, Load, Placing, Wetting
from batterboard.phases.pour.hour.trucks import loads_of, wettings_of
from batterboard.phases.pour.order import Order
from batterboard.phases.pour.vibration import Vibration
from batterboard.work.records import Work

__all__ = ["Event", "Hold", "Hour", "Load", "Placing", "Wetting", "timeline"]


def timeline(
    work: Work,
    order: Order,
    concrete: Concrete,
    pour: schema.Pour,
    mixes: Mapping[str, schema.Mix],
    feet: Iterable[Foot],
    vibrated: Vibration,
) -> Hour:
    """Every event of the day. `feet`: forms that stand on fresh concrete, and how long that wants to rest."""
    standing = tuple(feet)
    away = 0.0 if pour.truck.away is None else float(pour.truck.away)
    weights = {name: mix.weight for name, mix in mixes.items()}
    placings, holds = placings_of(work, order, concrete, standing, vibrated, pour, weights, away)
    loads = tuple(loads_of(order, placings, pour, away))
    hour = Hour(
        when=pour.when,
        away=away,
        flow=flow_of(pour),
        placings=placings,
        holds=holds,
        loads=loads,
        wettings=tuple(wettings_of(loads, concrete)),
        events=(),
        notes=tuple(notes_of(order, pour, placings, loads, standing)),
    )
    events = sorted(events_of(hour, work, vibrated), key=lambda event: (event.start, event.end))
    return replace(hour, events=tuple(events))
