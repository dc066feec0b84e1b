"""What the hour of the pour answers with: lifts, holds, trucks, events. Times count from the first concrete. SI."""

from datetime import datetime
from typing import Literal

from batterboard.quantity import Celsius, Flow, Force, Length, Number, Pressure, Time, Volume
from batterboard.record import record

Way = Literal["at once", "wait", "cover", "test", "joint"]


@record
class Event:
    """One thing that is done, from its start to its end. A call is a moment."""

    kind: Literal[
        "confirm", "call", "last yard", "batch", "test", "place", "vibrate", "hold", "finish", "bolts", "keep"
    ]
    what: str
    lift: int  # 0 where it belongs to none
    load: int
    start: Time
    end: Time

    @property
    def name(self) -> str:
        return f"{self.kind}, {f'lift {self.lift}' if self.lift else f'load {self.load}'}"


@record
class Placing:
    """One lift in time."""

    lift: int
    what: tuple[str, ...]
    mix: str
    volume: Volume
    slump: Length
    starts: Time
    placed: Time  # the last of it is in
    ends: Time  # and vibrated
    flow: Flow
    rules: Literal["crew", "rise", "vibrator", "logged"]  # what takes longest; or it was timed
    cold: Time  # when what follows must have begun
    sets: Time  # first set of its first concrete

    @property
    def name(self) -> str:
        return f"lift {self.lift}"


@record
class Hold:
    """Between a lift and the next that must knit with it."""

    after: int
    before: int
    piers: tuple[str, ...]  # whose forms stand on the fresh concrete
    soonest: Time  # by the slow reading, which is judged
    perhaps: Time  # by the quick one: try the rod from here on
    latest: Time  # then the joint is cold
    starts: Time
    way: Way
    rod: Force  # what the test rod carries on a pad that is ready
    uplift: Force  # under cover boards, which make the wait needless
    stakes: Number  # that hold those down
    set_needed: Time  # first set that would leave time to wait, in the drum and after
    cool_enough: Celsius  # temperature at which this concrete would set so late without an admixture; nan where none
    stiff_enough: Length  # slump of the pads that would be ready in time; nan where none is
    boards_enough: bool  # whether cover boards would let it follow in time

    @property
    def name(self) -> str:
        return f"before lift {self.before}"


@record
class Load:
    """One truck."""

    number: int
    mix: str
    volume: Volume  # ordered, up to the next whole step
    places: Volume
    lifts: tuple[int, ...]
    parts: tuple[Volume, ...]  # of what it places, lift by lift
    batched: Time  # water on cement
    on_site: Time
    starts: Time
    empty: Time
    age: Time  # when it is empty
    oldest: Time  # that it may be
    arrives_at_most: Time  # age on arrival at which it can still be emptied in time
    why: Literal["first", "full", "old", "other mix", "other day"]  # why it is a load of its own

    @property
    def name(self) -> str:
        return f"load {self.number}"


@record
class Wetting:
    """How one load gets from the slump at the chute to that of a lift."""

    load: int
    lift: int
    by: Literal["", "water", "admixture"]
    from_slump: Length
    to_slump: Length
    drum: Volume  # concrete left in it when that lift begins
    water: Volume  # for the slump wanted; 0 where an admixture does it
    most: Volume  # up to the greatest w/cm; nan without a limit
    strength: Pressure  # what is left of f'c

    @property
    def name(self) -> str:
        return f"load {self.load} for lift {self.lift}"


@record
class Hour:
    when: datetime | None
    away: Time
    flow: Flow  # of the crew
    placings: tuple[Placing, ...]
    holds: tuple[Hold, ...]
    loads: tuple[Load, ...]
    wettings: tuple[Wetting, ...]
    events: tuple[Event, ...]
    notes: tuple[str, ...]

    def placing(self, lift: int) -> Placing:
        return next(one for one in self.placings if one.lift == lift)

    @property
    def ends(self) -> Time:
        """When the last lift has been vibrated."""
        return max((one.ends for one in self.placings), default=0.0)
