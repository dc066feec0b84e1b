"""What can a number measure?

    Length : an annotation for people, checkers and the recorder: `b: Length`
    dimension_of(Length) : Dimension("length", (1, 0, 0, 0))

Some kinds share their powers and are still kept apart: a rate of rise is no wind speed, and a temperature difference
has no zero.
"""

from typing import Annotated, Any, NamedTuple

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
Force = Annotated[Any, Dimension("force", (1, 1, -2, 0))]
LineLoad = Annotated[Any, Dimension("line load", (0, 1, -2, 0))]
Stiffness = Annotated[Any, Dimension("stiffness", (0, 1, -2, 0))]
Pressure = Annotated[Any, Dimension("pressure", (-1, 1, -2, 0))]
UnitWeight = Annotated[Any, Dimension("unit weight", (-2, 1, -2, 0))]
Subgrade = Annotated[Any, Dimension("subgrade modulus", (-2, 1, -2, 0))]
Moment = Annotated[Any, Dimension("moment", (2, 1, -2, 0))]
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
