"""How much to order, in which lifts, how fast, and when must the next lift follow?

    piece  : Piece("west pad", net=0.68, overdug=0.05, waste=0.07)     the concrete of one body, and why more than that
    lift   : Lift(1, pieces, gross=2.1, takes=1155.0, next_by=10800.0)  what is placed in one go
    ticket : Ticket("stiff", gross=2.13, volume=2.29, trucks=1)        what is said on the phone, one for each mix

Volumes are those of the holes as found where they were found. What is already cast is listed and not ordered. The odds
of running short, crews and barrows, vibration and the weather are not here.
"""

from dataclasses import dataclass
from datetime import datetime

from batterboard.quantity import Area, Celsius, Flow, Length, Number, Pressure, RateOfRise, Time, Volume
from batterboard.working import Check


@dataclass(frozen=True, kw_only=True)
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


@dataclass(frozen=True, kw_only=True)
class Lift:
    """What is placed in one go. Times count from the start of placing it."""

    number: int
    pieces: tuple[Piece, ...]
    mix: str
    slump: Length
    net: Volume
    overdug: Volume
    waste: Volume
    gross: Volume
    starts: Time  # after the start of the pour, if each lift follows the one before at once
    takes: Time  # by the rate of rise, or by the truck's unloading where that is slower
    next_by: Time  # latest start of the next lift: half of the initial set; common practice
    last: bool


@dataclass(frozen=True, kw_only=True)
class Rise:
    """One pier's form filling at the rate that the forms were designed for; nan where none was said."""

    pier: str
    lift: int
    height: Length
    area: Area
    rate: RateOfRise
    takes: Time
    flow: Flow  # concrete it asks for


@dataclass(frozen=True, kw_only=True)
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
    last: Volume  # the last truck
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
    unload: Time  # each truck, nan where nothing is ordered
    old_at: Time  # age at which a load must be out, unless the purchaser waives it


@dataclass(frozen=True, kw_only=True)
class Order:
    lifts: tuple[Lift, ...]
    rises: tuple[Rise, ...]
    tickets: dict[str, Ticket]  # by mix
    initial_set: dict[str, Time]  # by mix
    notes: tuple[str, ...]
    checks: tuple[Check, ...]
