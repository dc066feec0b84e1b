"""What curing answers: how a lift is kept, and what waits for how long. Ages count from the end of placing, in SI."""

from typing import Any, Literal

import numpy as np

from batterboard.quantity import Celsius, Length, Number, Pressure, TemperatureDifference, Time
from batterboard.record import record
from batterboard.working import Check

Act = Literal[
    "strip", "shores", "frost", "cure", "backfill", "set", "snug", "tighten", "weld", "three quarters", "hang"
]


@record
class Kept:
    """How one lift is kept warm and moist."""

    name: str  # "lift 2"
    lift: int
    least_dimension: Length  # of the body that cools fastest
    air: Celsius  # mean of the days after, as the job says
    coldest: Celsius  # hour of the air while it cures
    cold: Any  # whether the cold-weather rules apply
    as_mixed: Celsius  # least temperature at the plant in this air, where it is cold
    as_placed: Celsius  # least temperature when placed, where it is cold
    placed: Celsius  # as the job says
    moist: Time  # least curing
    protect: Time  # least protection from frost, 0 where it is not cold
    concrete: Celsius  # to be held while it cures: the air, or what blankets must hold where that is warmer
    kept: Time  # how long: the longer of curing and protection
    most_drop: TemperatureDifference  # in the first 24 h after protection ends
    warm: bool  # whether it is kept warm as the code asks, or left open to the air
    blankets: Any  # whether it takes blankets for that, by day or by night
    read: int  # thermometer readings that its temperature rests on
    breaks: int  # cylinders that its strength rests on
    found: Number  # strength as broken over strength as forecast, nan without breaks


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
    own: Pressure  # what its own load needs; nan where it brings none
    load: str  # what load that is
    fraction: Number  # of f'c
    needs: Pressure  # the greater of its own load's and the yardstick's
    by_strength: Time  # by the slowest of the published functions
    earliest: Time  # by the quickest of them
    strength: str  # where the yardstick comes from
    at: Time  # the later of rule and strength
    reaches: Pressure  # strength at that age, by the function that gives least

    @property
    def governs(self) -> Literal["rule", "strength"]:
        """Which gate opens last; of many variants, whether strength does in any."""
        return "strength" if self.strength and not np.all(self.by_strength <= self.by_rule) else "rule"


@record
class Times:
    """Everything that checks, lists and days need."""

    kept: dict[int, Kept]  # by lift
    waits: tuple[Wait, ...]
    gain: str  # the functions that every forecast used
    notes: tuple[str, ...]
    checks: tuple[Check, ...]

    def wait(self, act: Act, element: str) -> Wait:
        return next(wait for wait in self.waits if wait.act == act and wait.element == element)
