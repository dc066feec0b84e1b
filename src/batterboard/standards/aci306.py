"""ACI 306R on concrete in the cold, and one line of ACI 305.1 on concrete in the heat.

    least_temperature(d)          as placed and while kept: 50 F where the least side is between 12 and 36 in
    as_mixed(T_p, T_a)            at the plant, warmer the colder the air
    most_drop(d)                  in the first day after the blankets come off
    lost_on_the_way(T, T_a, t)    by a turning drum: a quarter of the difference to the air in an hour
    kept_temperature(T_a, T_p)    what the concrete is kept at while it cures
    protection("...")             how long

Figures of the 1988 edition; the later one has the same in these tables, from memory.
"""

import numpy as np

from batterboard.quantity import Celsius, Length, Number, TemperatureDifference, Time, hour, inch, psi
from batterboard.record import ordered
from batterboard.standards.tables import Table
from batterboard.working import Document, formula, maximum, where

ACI_306R = Document("ACI 306R-88", "Cold Weather Concreting", scale="fine")
ACI_305 = Document("ACI 305.1-14", "Specification for Hot Weather Concreting")
TEMPERATURES = ACI_306R.table("3.1", "read: a handbook's figure adapted from it, sides up to 36 in; above from memory")
PROTECTION = ACI_306R.table("5.1", "memory")
COLD = Document("ACI 306R-10", "Guide to Cold Weather Concreting").clause("definition", "memory")
HOT = ACI_305.clause("temperature of concrete", "read: a page that cites it and ACI 301-20")
DELIVERY = ACI_306R.clause("temperature loss during delivery", "memory")
FROST = ACI_306R.clause("first frost", "read: a cement association's handbook, cold-weather chapter")

COLDER_THAN = (40 - 32) / 1.8  # [°C] air, now or during protection: the cold-weather rules apply
FROST_PROOF = 500 * psi  # where the mix has less than 0.60 w/c
HOTTEST = (95 - 32) / 1.8  # [°C] concrete at discharge
HOTTEST_PAVING = (90 - 32) / 1.8  # [°C] the same for pavements, and of older guides: where to begin to look. Read


@ordered
class Protection:
    name: str
    normal: Time
    accelerated: Time


protection = Table("protection", Protection, "protection")


@formula(source=TEMPERATURES, limits="d > 0")
def least_temperature(d: Length) -> Celsius:
    """Least temperature of the concrete as placed and while kept [°C]. d : least side."""
    T_large = where(d > 72 * inch, 40, 45)
    T_middle = where(d > 36 * inch, T_large, 50)
    T_F = where(d < 12 * inch, 55, T_middle)
    T = (T_F - 32) / 1.8
    return T


@formula(source=TEMPERATURES)
def as_mixed(T_p: Celsius, T_a: Celsius) -> Celsius:
    """Least temperature as mixed [°C]. T_p : as placed; T_a : of the air."""
    T_aF = 1.8 * T_a + 32
    more_below = where(T_aF < 0, 15, 10)
    more_F = where(T_aF > 30, 5, more_below)
    T = T_p + more_F / 1.8
    return T


@formula(source=DELIVERY, limits="t >= 0")
def lost_on_the_way(T_r: Celsius, T_a: Celsius, t: Time) -> Number:
    """Degrees that concrete wanted at T_r loses to colder air in a revolving drum [K]; in the heat it gains.

    A difference: it never takes the 32 of Fahrenheit.
    """
    dT = 0.25 * (T_r - T_a) * t / hour
    return dT


def most_drop(d: Length) -> TemperatureDifference:
    """Most that the concrete may cool in the 24 hours after protection ends [K]. d : least side. Broadcasts."""
    return np.select([d < 12 * inch, d <= 36 * inch, d <= 72 * inch], [50, 40, 30], 20)[()] / 1.8


@formula(source=COLD)
def kept_temperature(T_a: Celsius, T_p: Celsius) -> Celsius:
    """Temperature at which the concrete is kept while it cures [°C]: of the air, or what blankets must hold.

    At least 50 F, by the curing clause of ACI 318-19 (26.5.3.2), and T_p by the table where it is cold.
    """
    T_aF = 1.8 * T_a + 32
    T_pF = 1.8 * T_p + 32
    T_cold = maximum(T_pF, 50)
    T_least = where(T_aF < 40, T_cold, 50 + 0 * T_pF)
    T_F = maximum(T_aF, T_least)
    T = (T_F - 32) / 1.8
    return T
