"""Reads what builders write into SI, prints what they can measure; the only room that knows units.

    dimensions : what a number can measure (Length, Pressure, ...), and in which unit it is printed
    units      : how large each unit is: ft, psi, hour, ...
    reading    : read("5 ft 6 1/2 in", Length)
    showing    : show(1.6891, Length, "us")

Everywhere else in the house are plain floats or arrays in SI: m, kg, s, N, Pa, °C, radians.
"""

# ruff: noqa: F403
from batterboard.quantity.dimensions import *
from batterboard.quantity.reading import *
from batterboard.quantity.showing import *
from batterboard.quantity.units import *
