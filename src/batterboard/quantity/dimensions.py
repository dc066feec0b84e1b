"""What can a number measure, and in which unit is it printed?

    Length : an annotation for people, checkers and the recorder: `b: Length`
    dimension_of(Length) : Dimension("length", (1, 0, 0, 0))

Some kinds share their powers and are still kept apart: a rate of rise is no wind speed, and a temperature difference
has no zero.
"""

from typing import Annotated, Any, NamedTuple, get_args

Powers = tuple[int, int, int, int]


class Dimension(NamedTuple):
    """What a number measures; `powers` are the exponents of metre, kilogram, second and kelvin."""

    name: str
    powers: Powers


Number = Annotated[Any, Dimension("number", (0, 0, 0, 0))]
Angle = Annotated[Any, Dimension("angle", (0, 0, 0, 0))]
Length = Annotated[Any, Dimension("length", (1, 0, 0, 0))]
Area = Annotated[Any, Dimension("area", (2, 0, 0, 0))]
Volume = Annotated[Any, Dimension("volume", (3, 0, 0, 0))]
SectionModulus = Annotated[Any, Dimension("section modulus", (3, 0, 0, 0))]
SecondMoment = Annotated[Any, Dimension("second moment of area", (4, 0, 0, 0))]
AreaPerWidth = Annotated[Any, Dimension("area per width", (1, 0, 0, 0))]
ModulusPerWidth = Annotated[Any, Dimension("section modulus per width", (2, 0, 0, 0))]
InertiaPerWidth = Annotated[Any, Dimension("second moment per width", (3, 0, 0, 0))]
Force = Annotated[Any, Dimension("force", (1, 1, -2, 0))]
LineLoad = Annotated[Any, Dimension("line load", (0, 1, -2, 0))]
Stiffness = Annotated[Any, Dimension("stiffness", (0, 1, -2, 0))]
Pressure = Annotated[Any, Dimension("pressure", (-1, 1, -2, 0))]
Stiffening = Annotated[Any, Dimension("stiffening rate", (-1, 1, -3, 0))]
UnitWeight = Annotated[Any, Dimension("unit weight", (-2, 1, -2, 0))]
Subgrade = Annotated[Any, Dimension("subgrade modulus", (-2, 1, -2, 0))]
Moment = Annotated[Any, Dimension("moment", (2, 1, -2, 0))]
BendingStiffness = Annotated[Any, Dimension("bending stiffness", (3, 1, -2, 0))]
RotationalStiffness = Annotated[Any, Dimension("rotational stiffness", (2, 1, -2, 0))]
Mass = Annotated[Any, Dimension("mass", (0, 1, 0, 0))]
MassDensity = Annotated[Any, Dimension("density", (-3, 1, 0, 0))]
WaterContent = Annotated[Any, Dimension("water content", (0, 0, 0, 0))]
Speed = Annotated[Any, Dimension("speed", (1, 0, -1, 0))]
RateOfRise = Annotated[Any, Dimension("rate of rise", (1, 0, -1, 0))]
Acceleration = Annotated[Any, Dimension("acceleration", (1, 0, -2, 0))]
Flow = Annotated[Any, Dimension("flow", (3, 0, -1, 0))]
Time = Annotated[Any, Dimension("time", (0, 0, 1, 0))]
Frequency = Annotated[Any, Dimension("frequency", (0, 0, -1, 0))]
Celsius = Annotated[Any, Dimension("temperature", (0, 0, 0, 1))]
TemperatureDifference = Annotated[Any, Dimension("temperature difference", (0, 0, 0, 1))]
Maturity = Annotated[Any, Dimension("maturity", (0, 0, 1, 1))]
Evaporation = Annotated[Any, Dimension("evaporation rate", (-2, 1, -1, 0))]
Energy = Annotated[Any, Dimension("energy", (2, 1, -2, 0))]
Power = Annotated[Any, Dimension("power", (2, 1, -3, 0))]
Conductivity = Annotated[Any, Dimension("thermal conductivity", (1, 1, -3, -1))]
HeatContent = Annotated[Any, Dimension("heat content", (2, 0, -2, 0))]
SpecificHeat = Annotated[Any, Dimension("specific heat", (2, 0, -2, -1))]
Diffusivity = Annotated[Any, Dimension("thermal diffusivity", (2, 0, -1, 0))]
Resistance = Annotated[Any, Dimension("thermal resistance", (0, -1, 3, 1))]


def dimension_of(kind: Any) -> Dimension:
    """The dimension an annotation carries; a dimension is its own."""
    if isinstance(kind, Dimension):
        return kind
    for mark in getattr(kind, "__metadata__", ()):
        if isinstance(mark, Dimension):
            return mark
    raise TypeError(f"{kind!r} names no dimension")


def dimension_in(annotation: Any) -> Dimension | None:
    """The dimension of what may stand in a field, `Length | None` too; None for words."""
    for part in (annotation, *get_args(annotation)):
        for mark in getattr(part, "__metadata__", ()):
            if isinstance(mark, Dimension):
                return mark
    return None


def si_unit(kind: Any) -> str:
    """The SI unit a kind is computed in: `Pa`, `N m`, `C`; empty for a plain number."""
    return _COMPUTED[dimension_of(kind)]


# ---- what is printed in which unit ----

# The SI unit each kind is computed in, for programs that read our answers.
_COMPUTED = {
    dimension_of(kind): unit
    for kind, unit in (
        *((Number, ""), (Angle, "rad"), (Length, "m"), (Area, "m2"), (Volume, "m3"), (SectionModulus, "m3")),
        *((SecondMoment, "m4"), (AreaPerWidth, "m2/m"), (ModulusPerWidth, "m3/m"), (InertiaPerWidth, "m4/m")),
        *((Force, "N"), (LineLoad, "N/m"), (Stiffness, "N/m"), (Pressure, "Pa"), (UnitWeight, "N/m3")),
        *((Subgrade, "N/m3"), (Moment, "N m"), (BendingStiffness, "N m2"), (RotationalStiffness, "N m/rad")),
        *((Mass, "kg"), (MassDensity, "kg/m3"), (WaterContent, "m3/m3"), (Speed, "m/s"), (RateOfRise, "m/s")),
        *((Acceleration, "m/s2"), (Flow, "m3/s"), (Time, "s"), (Frequency, "Hz"), (Celsius, "C")),
        *((TemperatureDifference, "K"), (Maturity, "K s"), (Evaporation, "kg/m2/s"), (Energy, "J"), (Power, "W")),
        *((Conductivity, "W/(m K)"), (SpecificHeat, "J/(kg K)"), (Diffusivity, "m2/s"), (Resistance, "m2 K/W")),
        *((Stiffening, "Pa/s"), (HeatContent, "J/kg")),
    )
}
# us | si. The first unit is for the smallest; "20 psi" takes over from 20 psi on. Both units print the limit exactly,
# so that a number keeps its unit when it is read again.
PRINTED: dict[Dimension, tuple[tuple[str, ...], ...]] = {
    dimension_of(kind): tuple(tuple(step.strip() for step in side.split(",")) for side in row.split("|"))
    for kind, row in (
        (Number, "|"),
        (Angle, "deg | deg"),
        (Length, "in, 1 ft | mm, 1e9 m"),
        (Area, "in2, 1 ft2 | mm2, 0.1 m2"),
        (Volume, "in3, 0.1 ft3, 0.25 yd3 | L, 0.1 m3"),
        (SectionModulus, "in3 | cm3"),
        (SecondMoment, "in4 | cm4"),
        (AreaPerWidth, "in2/ft | mm2/m"),
        (ModulusPerWidth, "in3/ft | mm3/m"),
        (InertiaPerWidth, "in4/ft | mm4/m"),
        (Force, "lb, 20 kip | N, 1 kN"),
        (LineLoad, "plf | kN/m"),
        (Stiffness, "lb/in, 10 kip/in | kN/m"),
        (Pressure, "psf, 20 psi, 100 ksi | kPa, 1 MPa"),
        (Stiffening, "psf/h | Pa/s"),
        (UnitWeight, "pcf | kN/m3"),
        (Subgrade, "pci | MN/m3"),
        (Moment, "lb ft, 10 kip ft | N m, 1 kN m"),
        (BendingStiffness, "lb in2 | kN m2"),
        (RotationalStiffness, "kip ft/rad | kN m/rad"),
        (Mass, "lb | kg"),
        (MassDensity, "lb/yd3 | kg/m3"),
        (WaterContent, "gal/yd3 | L/m3"),
        (Speed, "mph | m/s"),
        (RateOfRise, "ft/h | m/h"),
        (Acceleration, "ft/s2 | m/s2"),
        (Flow, "yd3/h | m3/h"),
        (Time, "s, 2 min, 1 h, 2 d | s, 2 min, 1 h, 2 d"),
        (Frequency, "Hz | Hz"),
        (Celsius, "F | C"),
        (TemperatureDifference, "F | C"),
        (Maturity, "F h | C h"),
        (Evaporation, "lb/ft2/h | kg/m2/h"),
        (Energy, "Btu | kJ"),
        (Power, "W, 1 kW | W, 1 kW"),
        (Conductivity, "Btu/(h ft F) | W/(m K)"),
        (HeatContent, "Btu/lb | kJ/kg"),
        (SpecificHeat, "Btu/(lb F) | kJ/(kg K)"),
        (Diffusivity, "ft2/h | m2/s"),
        (Resistance, "h ft2 F/Btu | m2 K/W"),
    )
}
# Where two kinds share their powers, the first is the one a result of unknown kind is taken for.
TRADE: tuple[Dimension, ...] = tuple(PRINTED)
