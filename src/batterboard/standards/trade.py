"""What the trade only says: common practice, no source. Every page that uses it says so.

setting_time(T)                     6 h at 70 F: when plain concrete sets
wait("hang")                        7 to 14 days at 70 F
with_waste(V, V_over, x)            what has to be on the truck
order_volume(V, step)               up to the next quarter yard
water_for_slump(s_1, s_2)           a gallon per yard for each inch
strength_by_rule(f_c, g, loss)      and what each gallon is said to cost
next_lift(t_set, t_away)            half of the set, less the drive
placing("chute", 2)                 how much a crew places in an hour
bag("80 lb")                        Bag: makes 0.6 ft3
hole_spread(V, a, b, h, s)          how far the volume of a hole may be off, for sides that are off by s
order_spread(...)                   and the concrete for all of them
"""

from functools import cache
from typing import Any

from batterboard.methods.rows import between
from batterboard.quantity import (
    Celsius,
    Flow,
    Force,
    Length,
    Mass,
    Number,
    Pressure,
    RateOfRise,
    Time,
    Volume,
    WaterContent,
    gal_per_yd3,
    hour,
    inch,
    kg,
    lb,
    lbm,
    m3,
    minute,
    mm,
    psi,
    read,
    yd3,
    yd3_per_h,
)
from batterboard.record import ordered
from batterboard.standards.tables import Table
from batterboard.working import GEOMETRY, PRACTICE, Document, ceil, formula, maximum, nan, sqrt, where

GALLON = Document("Ready-mix trade", "rule on added water", scale="fine").clause(
    "a gallon per yard", "read: a trade magazine on adjusting slump in the field"
)
WAITS = PRACTICE.document.clause("waits of the trade at 70 F", "common practice")
CYLINDERS = PRACTICE.document.clause("cylinders at 7 and 28 days", "common practice")
UNLOADING: Flow = yd3 / (7 * minute)  # free of charge with one supplier
ORDER_STEP: dict[str, Volume] = {"us": 0.25 * yd3, "si": 0.25 * m3}
PLACING: dict[str, tuple[Flow, Flow]] = {  # least and most; of barrows for each man. Common practice, low confidence
    "chute": (20 * yd3_per_h, 40 * yd3_per_h),
    "barrow": (1 * yd3_per_h, 1.5 * yd3_per_h),
    "line pump": (15 * yd3_per_h, 30 * yd3_per_h),
    "bucket": (5 * yd3_per_h, 10 * yd3_per_h),  # of a loader or excavator
}
CONFIRM: Time = 2 * hour  # before the first load, the order is confirmed; read: a magazine and a supplier's tips
BATCHING: Time = 15 * minute  # from the plant's word to a batched truck
COVERING: Time = 10 * minute  # to nail down boards that lie cut beside the form
FINISHING: Time = 10 * minute  # striking off and floating one pier's top, or a square metre of pad
CHECKING: Time = 5 * minute  # one bolt pattern after placing
MOVING: Time = 5.0  # the vibrator from one insertion to the next, drawn slowly
RAIN_STOPS: RateOfRise = 2.5 * mm / hour  # of rain: more washes paste out of open concrete
LOSS_LOW: Pressure = 150 * psi  # strength that a gallon per yard costs, at best
LOSS_HIGH: Pressure = 200 * psi  # and at worst
EDGES_HOLD: Pressure = 500 * psi  # strength at which corners survive stripping
SHORES_GO: Number = 0.75  # share of the strength ordered at which shores may go, where no engineer says otherwise
POURING: Time = 6 * hour  # half a day, with setting up and washing out, where nobody plans it by the minute
PUSH: Force = 250 * lb  # of one man against a post: what a leaf's end is asked to carry
WAITS_AT: Celsius = (70 - 32) / 1.8  # the temperature that `wait` is meant for


ONE_MIXER: tuple[Flow, Flow] = (0.75 * yd3 / hour, 1.0 * yd3 / hour)  # bags, one mixer, one crew
SHORT_ONE_IN = 20  # how often he may run short before more is ordered: a choice, no rule
BAG_OF_CEMENT: dict[str, Mass] = {"us": 94 * lbm, "si": 25 * kg}


@ordered
class SettingRow:
    name: str  # temperature of the concrete
    set: Time


@ordered
class WaitRow:
    name: str
    low: Time
    high: Time


@ordered
class Bag:
    """Of dry mix, water to be added."""

    name: str
    weight: Mass
    makes: Volume


setting = Table("temperature", SettingRow, "setting")
bag = Table("bag", Bag, "bags", "bags-metric")
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


@formula(source=GEOMETRY, limits="V >= 0; a > 0; b > 0; h > 0; s >= 0")
def hole_spread(V: Volume, a: Length, b: Length, h: Length, s: Length) -> Volume:
    """Standard deviation of a block's volume [m3]. a, b, h : sides; s : of each, on its own.  All broadcast."""
    x = sqrt((s / a) ** 2 + (s / b) ** 2 + (s / h) ** 2)
    s_V = V * x
    return s_V


@formula(source=GEOMETRY, limits="s_holes >= 0; V >= 0; s_x >= 0; V_0 >= 0; s_y >= 0")
def order_spread(s_holes: Volume, V: Volume, s_x: Number, V_0: Volume, s_y: Number) -> Volume:
    """Standard deviation of what is left over of an order [m3].

    s_holes : of the net volume;  V, s_x : that volume and its waste's spread;  V_0, s_y : order and its yield's.
    Waste and yield are one crew's and one plant's: they are off alike for every piece.  All broadcast.
    """
    s = sqrt(s_holes**2 + (V * s_x) ** 2 + (V_0 * s_y) ** 2)
    return s


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


def placing(by: str, crew: int) -> Flow:
    """What a crew surely places in an hour [m3/s]: barrows go by men, the other ways by themselves."""
    least = PLACING[by][0]
    return least * crew if by == "barrow" else least


@formula(source=PRACTICE, limits="t_set > 0; t_away >= 0")
def next_lift(t_set: Time, t_away: Time) -> Time:
    """Latest start of the next lift after the start of this one [s], so that they still knit; try with the vibrator."""
    t = maximum(t_set / 2 - t_away, 0)
    return t
