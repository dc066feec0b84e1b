"""When do I strip, weld and load it, and how is it kept until then?

    kept : Kept(air=15.0, concrete=15.0, period=604800.0, cold=False)     how warm and how long it has to be kept
    wait : Wait("hang the leaf", by_rule=..., by_strength=..., at=...)    one act, the later of its two gates rules

Ages count from the end of placing the lift. Strength is that of `concrete`, less what the added water took, on the
equivalent age at the mean temperature of the days after. Heat of hydration and daily swings are not here.
"""

from dataclasses import dataclass
from typing import Literal

from batterboard.quantity import Celsius, Length, Number, Pressure, TemperatureDifference, Time
from batterboard.working import Check

Act = Literal[
    "strip sides",
    "first frost",
    "stop curing",
    "set post",
    "snug nuts",
    "tighten nuts",
    "weld",
    "three quarters",
    "hang",
]


@dataclass(frozen=True, kw_only=True)
class Kept:
    """How one lift is kept warm and moist."""

    lift: int
    least_dimension: Length  # of the body that cools fastest
    air: Celsius  # mean of the days after, as the job says
    cold: Number  # 1 where the cold-weather rules apply, else 0
    as_mixed: Celsius  # least temperature at the plant in this air
    as_placed: Celsius  # least temperature when placed and while kept
    moist: Time  # least curing
    protect: Time  # least protection from frost, 0 where it is not cold
    concrete: Celsius  # assumed while kept: the air, or what the blankets must keep where that is colder
    kept: Time  # how long: the longer of curing and protection
    slow_drop: TemperatureDifference  # at most in the first 24 h after protection ends


@dataclass(frozen=True, kw_only=True)
class Wait:
    """One act on one lift's concrete. Ages from the end of placing; nan where a gate does not exist."""

    name: str  # "hang the leaf, west"
    act: Act
    element: str  # pier, slab, beam
    lift: int
    habit_low: Time  # days of common practice, meant for 70 F
    habit_high: Time
    by_rule: Time  # the table's least time, or the habit brought to this temperature
    rule: str  # where it comes from
    fraction: Number  # of f'c
    needs: Pressure
    by_strength: Time
    strength: str  # where the strength comes from
    at: Time  # the later of the two
    reaches: Pressure  # strength at that age

    @property
    def governs(self) -> Literal["rule", "strength"]:
        """Which gate opens last, of one job."""
        return "strength" if not self.by_strength <= self.by_rule and self.by_strength == self.by_strength else "rule"


@dataclass(frozen=True, kw_only=True)
class Times:
    kept: dict[int, Kept]  # by lift
    waits: tuple[Wait, ...]
    notes: tuple[str, ...]
    checks: tuple[Check, ...]

    def wait(self, act: Act, element: str) -> Wait:
        return next(wait for wait in self.waits if wait.act == act and wait.element == element)
