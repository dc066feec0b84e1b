"""ACI 318-19 chapters 19 and 26 on the mix: exposure, air, what may replace cement, the largest stone.

    exposure("F1")            Exposure: w/cm 0.55 at most, f'c 3500 psi at least
    exposure_2008("F1")       what the same letter asked for in the editions of 2008 and 2011
    least_for("D")            3000 psi under a foundation in seismic design category D
    air_for("F1", stone)      5 % for 3/4 in stone
    least_air(A, f_c)         what is still within the tolerance
    largest_stone(b, h, s)    1 1/8 in between bars 1 1/2 in clear

The same letters meant other limits in the 2008 and 2011 editions: the edition goes with every number.
"""

from typing import Any

from batterboard.methods.rows import between
from batterboard.quantity import Length, Number, Pressure, psi
from batterboard.record import ordered
from batterboard.standards.aci318 import ACI_318_19
from batterboard.standards.tables import Table
from batterboard.working import formula, minimum, where

EXPOSURE = ACI_318_19.table("19.3.2.1", "memory")
AIR = ACI_318_19.table("19.3.3.1", "memory")
LEAST_STRENGTH = ACI_318_19.table("19.2.1.1", "read: chapter 19 in a public code viewer")
REPLACED = ACI_318_19.table("26.4.2.2(b)", "memory")
STONE = ACI_318_19.clause("26.4.2.1", "read: course slides on ACI 211.1, which has the same three limits")
CURING = ACI_318_19.clause("26.5.3.2", "memory")

AIR_TOLERANCE = 0.015  # either way
MOST_FLY_ASH = 0.25  # of the binder, class F3
MOST_REPLACED = 0.50  # slag, or all of these together, class F3
MOST_SILICA_FUME = 0.10
MOST_ASH_AND_SILICA = 0.35
CURING_DAYS = {"Type I": 7, "Type II": 7, "Type III": 3}  # moist and above 50 F


@ordered
class Exposure:
    """What one class asks for; nan where it asks for nothing."""

    name: str
    greatest: Number  # w/cm
    least: Pressure  # f'c


@ordered
class AirRow:
    name: str
    stone: Length
    moderate: Number  # class F1
    severe: Number  # classes F2 and F3


@ordered
class Least:
    name: str  # use
    least: Pressure  # f'c


exposure = Table("exposure class", Exposure, "exposure")
exposure_2008 = Table("exposure class", Exposure, "exposure-2008")  # to be recognized, not to be built by
least_strength = Table("use", Least, "least-strength")
air = Table("stone size", AirRow, "air")


def air_for(name: str, stone: Length) -> Any:
    """Total air that a class asks for, 0 where none; between two sizes of stone interpolated."""
    if name not in ("F1", "F2", "F3"):
        return 0.0 * stone
    rows = [air(size) for size in air.names()]
    return between(stone, [row.stone for row in rows], [row.moderate if name == "F1" else row.severe for row in rows])


def least_for(seismic: str) -> Pressure:
    """Least f'c of a foundation by its seismic design category, "C"; drilled shafts ask for more."""
    return least_strength("foundation, SDC D E F" if seismic in ("D", "E", "F") else "foundation, SDC A B C").least


@formula(source=AIR, limits="A >= 0; f_c > 0")
def least_air(A: Number, f_c: Pressure) -> Number:
    """Least air that is within the tolerance of the table's A; stronger concrete may have a point less."""
    A_f = where(f_c > 5000 * psi, A - 0.01, A)
    A_least = A_f - 0.015
    return A_least


@formula(source=STONE, limits="b > 0; h > 0; s > 0")
def largest_stone(b: Length, h: Length, s: Length) -> Length:
    """Largest stone that passes [m]. b : narrowest between forms; h : depth of a slab; s : clear between bars."""
    d_form = b / 5
    d_slab = minimum(d_form, h / 3)
    d = minimum(d_slab, 3 * s / 4)
    return d
