"""What the curing page draws beside the block's own heat: strength as a band, and what welding does to a plate.

    bands : {"west": Band("west", t, low, high)}     every published function lies between low and high
    federal                                          what a federal guide asks of curing
    welds : (Weld("hinge", rise=24.3, edge=0.127, ...), ...)

Only asked when somebody looks.
"""

from math import pi
from typing import Any

import numpy as np

from batterboard.job import schema
from batterboard.phases.concrete import Concrete
from batterboard.phases.cure import ages, hours
from batterboard.phases.cure.results import Times
from batterboard.quantity import Length, Mass, Pressure, TemperatureDifference, Time, day, hour
from batterboard.record import record
from batterboard.standards import ufgs, welding
from batterboard.work.records import Plate, Post, Work

STEP = 6 * hour
LAST = 28 * day


@record
class Band:
    """Strength of one element's concrete by age, kept as the plan says, without its own heat."""

    name: str
    lift: int
    ordered: Pressure
    t: Time
    low: Pressure
    high: Pressure
    week: tuple[Pressure, Pressure]  # after seven days, the habit of many


@record
class Weld:
    """A post welded to its plate on the bolts: how warm the plate gets at most, and what is near."""

    name: str
    element: str
    length: Length  # of the fillet all round
    mass: Mass  # of the plate
    rise: TemperatureDifference  # of all of it, if it keeps all heat
    edge: Length  # from the plate to the concrete's edge
    gap: Length  # under the plate: it touches the bolts only
    after: Time  # when curing is over and the concrete may dry

    @property
    def near(self) -> bool:
        """Whether the plate comes nearer to the edge than the trade likes."""
        return bool(self.edge < welding.FROM_EDGE)


def bands(work: Work, concrete: Concrete, pour: schema.Pour) -> dict[str, Band]:
    """By element: the strength of what is stripped, bolted and loaded."""
    air, t = hours.air_by_hour(pour), np.arange(0.0, LAST + STEP / 2, STEP)
    made = {}
    for lift in work.lifts:
        of_mix = ages(lift, concrete, pour, air)
        for body in lift.bodies:
            if body.part not in ("pad", "step"):
                every = np.array(of_mix[body.mix].strengths(t))
                week = np.array(of_mix[body.mix].strengths(7.0 * day))
                made[body.element] = Band(
                    name=body.element,
                    lift=lift.number,
                    ordered=of_mix[body.mix].mix.strength,
                    t=t,
                    low=every.min(axis=0),
                    high=every.max(axis=0),
                    week=(float(week.min()), float(week.max())),
                )
    return made


def welds(work: Work, cure: Times) -> tuple[Weld, ...]:
    """Every post that is welded to a plate on its bolts."""
    found = []
    for post in work.posts.values():
        if post.plate is not None and post.on in work.bases:
            found.append(_weld(post, post.plate, work, cure))
    return tuple(found)


def federal(concrete: Concrete) -> Time:
    """How long a federal guide would have the slowest of the mixes cured: far longer than the code."""
    every = []
    for mix in concrete.mixes.values():
        replaced = float(np.max(mix.fly_ash + mix.slag))
        kind = mix.cement if mix.cement in ufgs.curing.names() else "Type I"
        if replaced > 0:
            kind = "25 % fly ash or slag or less" if replaced <= 0.25 else "more than 25 %"
        every.append(ufgs.curing(kind).time)
    return max(every, default=float("nan"))


def _weld(post: Post, plate: Plate, work: Work, cure: Times) -> Weld:
    depth = float(post.section.depth)
    length = pi * depth if post.section.kind == "pipe" else 4 * depth
    m = welding.mass(welding.STEEL_DENSITY, plate.along * plate.across * plate.thick)
    base = work.bases[post.on]
    along, across = base.frame.into(post.frame.x, post.frame.y)
    outline = (base.foot if base.name in work.slabs else base.bodies[-1]).outline
    rooms = (
        outline.along / 2 - abs(along) - plate.along / 2,
        (outline.across if outline.kind == "rectangle" else outline.along) / 2 - abs(across) - plate.across / 2,
    )
    wait = next((w for w in cure.waits if w.name == f"weld {post.name}"), None)
    return Weld(
        name=post.name,
        element=post.on,
        length=length,
        mass=m,
        rise=welding.plate_rise(welding.EFFICIENCY, welding.GROSS, length, m, welding.STEEL_HEAT),
        edge=_one(min(_one(room) for room in rooms)),
        gap=plate.grout,
        after=wait.at if wait else float("nan"),
    )


def _one(value: Any) -> float:
    return float(np.ravel(value)[0])
