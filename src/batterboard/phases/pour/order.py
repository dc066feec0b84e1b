"""How much to order, in which lifts, how fast, and when must the next lift follow?

    piece  : Piece("west pad", net=0.68, overdug=0.05, waste=0.07)     the concrete of one body, and why more than that
    lift   : Lift(1, pieces, gross=2.1, takes=1155.0, next_by=10800.0)  what is placed in one go
    ticket : Ticket("stiff", gross=2.13, volume=2.29, trucks=1)        what is said on the phone, one for each mix

Volumes are those of the holes as found where they were found. What is already cast is listed and not ordered. The odds
of running short, crews and barrows, vibration and the weather are not here.
"""

from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import Any, Literal

import numpy as np

from batterboard.job import schema
from batterboard.phases.concrete import Concrete, Mix
from batterboard.quantity import (
    Area,
    Celsius,
    Flow,
    Length,
    Number,
    Pressure,
    RateOfRise,
    Time,
    Volume,
)
from batterboard.record import record
from batterboard.standards import aci306, astm_c172, c94, durability, trade
from batterboard.work.records import Body, Work
from batterboard.work.records import Lift as WorkLift
from batterboard.working import PRACTICE, Check, capacity, check, demand, nan, where

_EXACT = 1 - 1e-9  # a volume that comes out a hair above a whole step is that step


@record
class Piece:
    """The concrete of one body."""

    name: str
    mix: str
    net: Volume  # as designed, without what it shares with an earlier body
    shared: Volume
    overdug: Volume  # beyond the design, as the hole was found
    waste_rate: Number  # by what its sides are cast against
    waste: Volume
    against: str  # "form" or "earth"
    cast: bool  # already: not ordered again

    @property
    def gross(self) -> Volume:
        return self.net + self.overdug + self.waste


@record
class Lift:
    """What is placed in one go. Times count from the start of placing it."""

    number: int
    pieces: tuple[Piece, ...]
    mix: str
    slump: Length
    cast: bool  # already, all of it: it takes no time and no concrete
    net: Volume  # of what is still to be placed; so are the next three
    overdug: Volume
    waste: Volume
    gross: Volume
    starts: Time  # after the start of the pour, if each lift follows the one before at once
    takes: Time  # by the rate of rise, or by the crew and the truck's unloading where that is slower
    next_by: Time  # latest start of the next lift: half of the initial set, less the drive; common practice
    initial_set: Time  # of its mix, at the temperature placed, without admixtures
    away: Time  # drive from the plant, 0 where not said

    @property
    def name(self) -> str:
        return f"lift {self.number}"


@record
class Rise:
    """One pier's form filling at the rate that the forms were designed for; nan where none was said."""

    pier: str
    lift: int
    height: Length
    area: Area
    rate: RateOfRise
    takes: Time
    flow: Flow  # concrete it asks for


@record
class Ticket:
    """What the plant is told, and what the delivery ticket is held against."""

    mix: str
    net: Volume
    overdug: Volume
    waste: Volume
    gross: Volume
    step: Volume  # the order is rounded up to whole steps
    volume: Volume  # ordered
    spare: Volume  # ordered beyond gross
    trucks: Number
    full: Volume  # each truck but the last
    last: Volume  # in the last truck
    strength: Pressure
    classes: tuple[str, ...]
    water_cement: Number  # at most; nan without a limit
    air: Number  # total; 0 where none is asked for
    air_tolerance: Number  # either way
    stone: Length
    slump: Length  # at the chute
    slump_tolerance: Length  # either way
    cement: str
    retarder: bool
    temperature: Celsius  # as placed
    when: datetime | None  # first concrete at the form
    away: Time  # drive from the plant, nan where not said
    unload: Time  # of a full truck, before waiting is charged; common practice
    old_at: Time  # age at which a load must be out, unless the purchaser waives it

    @property
    def name(self) -> str:
        return self.mix


@record
class Order:
    lifts: tuple[Lift, ...]
    rises: tuple[Rise, ...]
    tickets: dict[str, Ticket]  # by mix
    notes: tuple[str, ...]
    checks: tuple[Check, ...]

    @property
    def volume(self) -> Volume:
        """Ordered, of all mixes."""
        return sum(ticket.volume for ticket in self.tickets.values())


def order(work: Work, concrete: Concrete, pour: schema.Pour, units: Literal["us", "si"] = "us") -> Order:
    """Lifts in time, and what is ordered of each mix: up to the next quarter yard, or quarter cubic metre."""
    done = {name for name, element in {**work.bases, **work.beams}.items() if element.done}
    bodies = [body for lift in work.lifts for body in lift.bodies if body.cast]
    cast = {body.element if body.element in done else body.name for body in bodies}
    rises = tuple(_rise(body, lift.number, pour.rate) for lift in work.lifts for body in lift.bodies if _rising(body))
    lifts = tuple(_timeline(work, concrete, pour, rises))
    to_place = dict.fromkeys(piece.mix for lift in lifts for piece in lift.pieces if not piece.cast)
    tickets = {name: _ticket(concrete.mixes[name], lifts, pour, trade.ORDER_STEP[units]) for name in to_place}
    return Order(
        lifts=lifts,
        rises=rises,
        tickets=tickets,
        notes=tuple(_notes(pour, cast)),
        checks=(*_lift_checks(lifts), *_ticket_checks(tickets, pour)),
    )


# ---- lifts ----


def _rising(body: Body) -> bool:
    return body.part == "pier"


def _rise(body: Body, lift: int, rate: RateOfRise | None) -> Rise:
    risen = nan if rate is None else rate
    return Rise(
        pier=body.name,
        lift=lift,
        height=body.height,
        area=body.outline.area,
        rate=risen,
        takes=body.height / risen,
        flow=body.outline.area * risen,
    )


def _piece(body: Body, pour: schema.Pour) -> Piece:
    # A hole that was measured holds no surprise: what is cast in it wastes no more than in a form.
    rate = where(body.over > 0, pour.waste, pour.earth_waste) if body.against == "earth" else pour.waste
    net, overdug = body.volume, body.overdug
    return Piece(
        name=body.name,
        mix=body.mix,
        net=net,
        shared=body.shared,
        overdug=overdug,
        waste_rate=rate,
        waste=trade.with_waste(net, overdug, rate) - net - overdug,
        against=body.against,
        cast=body.cast,
    )


def _timeline(work: Work, concrete: Concrete, pour: schema.Pour, rises: tuple[Rise, ...]) -> Iterator[Lift]:
    starts: Time = 0.0
    for lift in work.lifts:
        made = _lift(lift, concrete, pour, rises, starts)
        starts = starts + made.takes
        yield made


def _lift(lift: WorkLift, concrete: Concrete, pour: schema.Pour, rises: tuple[Rise, ...], starts: Time) -> Lift:
    pieces = tuple(_piece(body, pour) for body in lift.bodies)
    placed = [piece for piece in pieces if not piece.cast]
    gross = sum(piece.gross for piece in placed)
    takes: Any = gross / min(trade.placing(pour.by, pour.crew), trade.UNLOADING)
    for rise in rises:
        if any(piece.name == rise.pier for piece in placed):
            takes = np.fmax(takes, rise.takes)
    away = 0.0 if pour.truck.away is None else pour.truck.away
    initial_set = concrete.mixes[lift.mix].initial_set
    return Lift(
        number=lift.number,
        pieces=pieces,
        mix=lift.mix,
        slump=lift.slump,
        cast=not placed,
        net=sum(piece.net for piece in placed),
        overdug=sum(piece.overdug for piece in placed),
        waste=sum(piece.waste for piece in placed),
        gross=gross,
        starts=starts,
        takes=takes,
        next_by=trade.next_lift(initial_set, away),
        initial_set=initial_set,
        away=away,
    )


def _lift_checks(lifts: tuple[Lift, ...]) -> Iterator[Check]:
    for lift, following in zip(lifts, lifts[1:], strict=False):
        if not lift.cast and not following.cast:
            yield still_soft(lift)


@check("Next lift while this one is soft", clause=PRACTICE, of=Time)
def still_soft(lift: Lift) -> tuple[Any, Any, str]:
    """From the first concrete of a lift to the start of the next, if that follows at once."""
    gate = "On site the running vibrator must still sink into it."
    return demand(lift.takes), capacity(trade.next_lift(lift.initial_set, lift.away)), gate


# ---- what is ordered ----


def _ticket(mix: Mix, lifts: tuple[Lift, ...], pour: schema.Pour, step: Volume) -> Ticket:
    pieces = [piece for lift in lifts for piece in lift.pieces if piece.mix == mix.name and not piece.cast]
    gross = sum(piece.gross for piece in pieces)
    volume = trade.order_volume(gross * _EXACT, step)
    trucks = trade.truck_loads(volume, pour.truck.load)
    full = np.minimum(volume, pour.truck.load)
    return Ticket(
        mix=mix.name,
        net=sum(piece.net for piece in pieces),
        overdug=sum(piece.overdug for piece in pieces),
        waste=sum(piece.waste for piece in pieces),
        gross=gross,
        step=step,
        volume=volume,
        spare=volume - gross,
        trucks=trucks,
        full=full,
        last=volume - (trucks - 1) * pour.truck.load,
        strength=mix.strength,
        classes=tuple(one.name for one in mix.classes),
        water_cement=mix.greatest,
        air=mix.air,
        air_tolerance=durability.AIR_TOLERANCE,
        stone=mix.stone,
        slump=mix.slump,
        slump_tolerance=c94.slump_tolerance(mix.slump),
        cement=mix.cement,
        retarder=mix.retarder,
        temperature=pour.concrete,
        when=pour.when,
        away=nan if pour.truck.away is None else pour.truck.away,
        unload=full / trade.UNLOADING,
        old_at=pour.truck.oldest,
    )


def _ticket_checks(tickets: Mapping[str, Ticket], pour: schema.Pour) -> Iterator[Check]:
    for ticket in tickets.values():
        yield not_too_hot(ticket)
        if pour.truck.away is not None:
            yield not_too_old(ticket)


@check("Temperature of the concrete at the chute", clause=aci306.HOT, of=Celsius)
def not_too_hot(ticket: Ticket) -> tuple[Any, Any]:
    return demand(ticket.temperature), capacity(aci306.HOTTEST)


@check("Age of a load when the first of it is out", clause=c94.AGE, of=Time)
def not_too_old(ticket: Ticket) -> tuple[Any, Any, str]:
    """Pour day parts what would grow too old later, load by load; it cannot where a load is too old when it comes."""
    said = "Loads are called one by one so that each is out in time: see pour day. The purchaser may waive it."
    return demand(c94.load_age(ticket.away, astm_c172.TESTED)), capacity(ticket.old_at), said


def _notes(pour: schema.Pour, cast: set[str]) -> Iterator[str]:
    if pour.rate is None:
        yield "no rate of rise was said: the forms are for liquid concrete, and times are those of unloading"
    if pour.truck.away is None:
        yield "the drive from the plant was not said: ages of loads are not checked"
    if cast:
        yield f"cast and not ordered: {', '.join(sorted(cast))}"
