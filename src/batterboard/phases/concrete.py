"""What mix, how strong at which age, and what does the water cost that goes in on site?

    mix   : Mix("stiff", strength=27.6e6, least=24.1e6, greatest=0.45, ratio=0.45, ...)   what to ask for, and why
    class : Exposure("F1", greatest=0.55, least=24.1e6, air=0.05)                         what one exposure class asks for
    water : Water(lift=2, added=0.0149, keeps=0.93, ...)                                  what is put in for one lift

Strength grows on the equivalent age: one hour in the cold counts less than one in the warm. How long to wait with it is
asked in `cure`; how much to order, in `pour`. Trial proportions and the heat of hydration are not here.
"""

from dataclasses import dataclass
from typing import Literal

from batterboard.quantity import Celsius, Length, MassDensity, Number, Pressure, Time, Volume, WaterContent
from batterboard.working import Check


@dataclass(frozen=True, kw_only=True)
class Exposure:
    """What the code asks for in one class. nan where it asks for nothing."""

    name: str  # F1, S0, W0, C1
    greatest: Number  # w/cm
    least: Pressure  # f'c
    air: Number  # total air for the mix's stone; half a point to either side is rounding, 1.5 points tolerance


@dataclass(frozen=True, kw_only=True)
class Mix:
    """One concrete: what is asked for, what the code asks for, and how it gains strength."""

    name: str
    strength: Pressure  # f'c as ordered, at 28 days
    classes: tuple[Exposure, ...]
    least: Pressure  # f'c that the classes and the use need
    greatest: Number  # w/cm: the lowest of the order's and the classes' limits, nan without
    ratio: Number  # w/cm as batched, the best that is known
    ratio_from: Literal["the ticket", "the order", "the exposure class", "the strength table"]
    binder: MassDensity  # cement and what replaces it, per volume
    water: MassDensity  # mixing water per volume
    water_from: Literal["the ticket", "the water table"]
    air: Number  # asked for: by the order, else by the classes, 0 without
    stone: Length
    slump: Length  # at the chute
    cement: str
    retarder: bool
    gain_a: Time  # strength at age t: t / (a + b t) of f'c
    gain_b: Number
    initial_set: Time  # at the temperature placed; without admixtures
    gain: "Gain"


@dataclass(frozen=True, kw_only=True)
class Gain:
    """Strength by age, moist cured. Ages first, then temperatures (of the grid), then variants."""

    function: str  # named, because they differ much: "ACI 209R-92 eq. 2-1 on the equivalent age of ASTM C1074, ..."
    ages: Time  # (n,)
    air: Celsius  # the mean of the days after, as the job says
    at_air: Pressure  # (n, ...)
    temperatures: Celsius  # (m,)
    grid: Pressure  # (n, m, ...)


@dataclass(frozen=True, kw_only=True)
class Water:
    """Water put in on site for one lift: as logged, else as the slump wanted needs it by the rule of the trade."""

    name: str  # "lift 2"
    lift: int
    mix: str
    from_slump: Length
    to_slump: Length
    wetted: Literal["", "water", "admixture"]
    logged: bool  # whether `added` was logged, or only planned
    added: WaterContent
    per_load: Volume  # in a full truck
    allowed: WaterContent  # up to the greatest w/cm, nan without a limit
    allowed_per_load: Volume
    ratio_before: Number
    ratio_after: Number
    keeps: Number  # strength after over strength before, by the balance
    strength: Pressure  # what is left of f'c, by the balance
    by_rule_low: Pressure  # what is left of f'c by the common rule, its worse end
    by_rule_high: Pressure  # and its better end
    note: str


@dataclass(frozen=True, kw_only=True)
class Concrete:
    mixes: dict[str, Mix]
    waters: tuple[Water, ...]  # one for each lift and mix
    notes: tuple[str, ...]
    checks: tuple[Check, ...]

    def water(self, lift: int, mix: str) -> Water:
        """What happens to a mix in one lift."""
        return next(water for water in self.waters if water.lift == lift and water.mix == mix)
