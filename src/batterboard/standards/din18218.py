"""DIN 18218:2010: what would the Germans say of the pressure on the form? For comparison only.

    consistency   F1 to F4, read from the slump as tables compare them     4 in: F3
    t_E           end of setting: 1.25 times the initial set
    sigma         characteristic, at 25 kN/m3 for the classes; of concrete that levels itself for any weight

Only the equation for concrete that levels itself was read; the classes are from memory, and no equation number is
confirmed.
"""

from typing import NamedTuple

from batterboard.quantity import Length, Number, Pressure, RateOfRise, Time, UnitWeight, hour, kN_per_m3, kPa, m, mm
from batterboard.working import Document, formula, maximum, minimum

DIN_18218 = Document("DIN 18218:2010", "Pressure of fresh concrete on vertical formwork")
LEVELLING = DIN_18218.clause(
    "equation for self-compacting concrete, number not confirmed", "read: as Concrete International quotes it"
)
CLASSES = DIN_18218.clause("consistency classes, number not confirmed", "memory")


class Consistency(NamedTuple):
    """Its pressure is (a + b v) K_1, at least `least`, at 25 kN/m3; K_1 = 1 + k (t_E - 5 h)."""

    name: str
    slump: Length  # up to which concrete is taken for it
    a: Number  # kPa
    b: Number  # kPa for each m/h
    k: Number  # for each hour
    least: Number  # kPa


# From memory, as is how slump compares with the German spread.
CONSISTENCIES = (
    Consistency("F1", 40 * mm, 21.0, 5.0, 0.030, 25.0),
    Consistency("F2", 90 * mm, 19.0, 10.0, 0.030, 25.0),
    Consistency("F3", 150 * mm, 18.0, 14.0, 0.030, 25.0),
    Consistency("F4", 210 * mm, 17.0, 17.0, 0.030, 25.0),
)


@formula(source=CLASSES, limits="t_set > 0")
def end_of_setting(t_set: Time) -> Time:
    """t_E from the initial set [s]."""
    t_E = 1.25 * t_set
    return t_E


@formula(source=LEVELLING, limits="v >= 0; gamma > 0; H >= 0; t_E > 0")
def levelling_pressure(v: RateOfRise, t_E: Time, gamma: UnitWeight, H: Length) -> Pressure:
    """Characteristic pressure of concrete that levels itself, not above the liquid head [Pa]."""
    h = 1.0 * m + 0.26 * v * t_E
    p_grown = h * gamma
    p_least = 30 * kPa
    p_formula = maximum(p_grown, p_least)
    p_head = gamma * H
    p = minimum(p_formula, p_head)
    return p


@formula(source=CLASSES, limits="v >= 0; v <= 7.001 m/h; gamma > 0; H >= 0; t_E >= 5 h; t_E <= 20 h")
def class_pressure(
    v: RateOfRise, t_E: Time, gamma: UnitWeight, H: Length, a: Number, b: Number, k: Number, least: Number
) -> Pressure:
    """Characteristic pressure of vibrated concrete of a class, not above the liquid head [Pa]."""
    K_1 = 1 + k * (t_E / hour - 5)
    p_class = (a + b * v / (m / hour)) * K_1
    p_kPa = maximum(p_class, least)
    p_weighed = p_kPa * kPa * gamma / (25 * kN_per_m3)
    p_head = gamma * H
    p = minimum(p_weighed, p_head)
    return p
