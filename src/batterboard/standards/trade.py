"""What the trade only says: common practice, no source. Every page that uses it says so.

setting_time(T)                     6 h at 70 F: when plain concrete sets
wait("hang")                        7 to 14 days at 70 F
with_waste(V, V_over, x)            what has to be on the truck
order_volume(V, step)               up to the next quarter yard
water_for_slump(s_1, s_2)           a gallon per yard for each inch
strength_by_rule(f_c, g, loss)      and what each gallon is said to cost
next_lift(t_set, t_away)            half of the set, less the drive
"""

from functools import cache
from typing import Any, NamedTuple

from batterboard.methods.rows import between
from batterboard.quantity import (
    Celsius,
    Flow,
    Length,
    Number,
    Pressure,
    Time,
    Volume,
    WaterContent,
    gal_per_yd3,
    inch,
    m3,
    minute,
    psi,
    read,
    yd3,
)
from batterboard.standards.tables import Table
from batterboard.working import PRACTICE, Document, ceil, formula, maximum, nan, where

GALLON = Document("Ready-mix trade", "rule on added water", scale="fine").clause(
    "a gallon per yard", "read: a trade magazine on adjusting slump in the field"
)
WAITS = PRACTICE.document.clause("waits of the trade at 70 F", "common practice")
UNLOADING: Flow = yd3 / (7 * minute)  # free of charge with one supplier
ORDER_STEP: dict[str, Volume] = {"us": 0.25 * yd3, "si": 0.25 * m3}
LOSS_LOW: Pressure = 150 * psi  # strength that a gallon per yard costs, at best
LOSS_HIGH: Pressure = 200 * psi  # and at worst
EDGES_HOLD: Pressure = 500 * psi  # strength at which corners survive stripping
WAITS_AT: Celsius = (70 - 32) / 1.8  # the temperature that `wait` is meant for


class SettingRow(NamedTuple):
    name: str  # temperature of the concrete
    set: Time


class WaitRow(NamedTuple):
    name: str
    low: Time
    high: Time


setting = Table("temperature", SettingRow, "setting")
wait = Table("act", WaitRow, "waits")


def setting_time(T: Celsius) -> Any:
    """Time from mixing to the initial set [s], between rows interpolated. Below 30 F nan: it freezes. Broadcasts."""
    temperatures, times = _setting()
    return where(T < temperatures[0], nan, between(T, temperatures, times))


@cache
def _setting() -> tuple[list[float], list[float]]:
    return [read(name, Celsius) for name in setting.names()], [setting(name).set for name in setting.names()]


@formula(source=PRACTICE, limits="V >= 0; V_over >= 0; x >= 0")
def with_waste(V: Volume, V_over: Volume, x: Number) -> Volume:
    """Concrete for a body with what its hole was found larger and what is lost [m3]. x : waste over the rest."""
    V_x = (V + V_over) * (1 + x)
    return V_x


@formula(source=PRACTICE, limits="V >= 0; step > 0")
def order_volume(V: Volume, step: Volume) -> Volume:
    """What is ordered [m3]: up to the next whole step, never down."""
    n = ceil(V / step)
    V_order = n * step
    return V_order


@formula(source=PRACTICE, limits="V >= 0; V_truck > 0")
def truck_loads(V: Volume, V_truck: Volume) -> Number:
    """How many trucks carry V, filled one after the other."""
    n = ceil(V / V_truck)
    return n


@formula(source=GALLON, limits="s_1 >= 0; s_2 >= 0")
def water_for_slump(s_1: Length, s_2: Length) -> WaterContent:
    """Water that brings the slump from s_1 to s_2: a gallon per yard for each inch; none where it is wet enough."""
    g = maximum(s_2 - s_1, 0) / inch * gal_per_yd3
    return g


@formula(source=GALLON, limits="f_c > 0; g >= 0; loss >= 0")
def strength_by_rule(f_c: Pressure, g: WaterContent, loss: Pressure) -> Pressure:
    """What is left of a strength by the common rule [Pa]. loss : for each gallon per yard, 150 to 200 psi."""
    f = maximum(f_c - loss * g / gal_per_yd3, 0)
    return f


@formula(source=PRACTICE, limits="t_set > 0; t_away >= 0")
def next_lift(t_set: Time, t_away: Time) -> Time:
    """Latest start of the next lift after the start of this one [s], so that they still knit; try with the vibrator."""
    t = maximum(t_set / 2 - t_away, 0)
    return t
