"""EN5151 and EN5466, the US Army's carpentry courses: how do they space studs and yokes? For comparison only.

    stud_spacing(3/4 in, "strong", 480 psf)     14 in: the next higher row of the table
    yokes(40 in)                                6 yokes: the spacing of the 9 ft form from the bottom, as far as it goes

For boards and sanded plywood; a lower form than 9 ft needs no more than they say. What was not read is nan.
"""

from typing import Any

from batterboard.quantity import Length, Number, Pressure, ft, inch
from batterboard.record import ordered
from batterboard.standards.tables import Table
from batterboard.working import nan

WIDEST: Length = 36 * inch  # side of a form that the yokes are for
HIGHEST: Length = 9 * ft


@ordered
class Stud:
    name: str
    thick: Length
    pressure: Pressure
    spacing: Length


@ordered
class Space:
    name: str  # from the bottom
    spacing: Length


stud = Table("panel on studs", Stud, "army-studs")
space = Table("space between yokes", Space, "army-yokes")


def stud_spacing(thick: Length, way: str, p: Any) -> Any:
    """Greatest spacing of studs behind a panel no thinner than `thick`, its grain strong or weak, under p [m]."""
    rows = [stud(name) for name in stud.names() if f" {way} " in name]
    rows = [row for row in rows if row.thick <= thick + inch / 20 and row.pressure >= p - 1.0]
    return max((row.spacing for row in rows if row.pressure == min(r.pressure for r in rows)), default=nan)


def yokes(side: Length, height: Length) -> Number:
    """How many yokes a form takes, the lowest at its bottom and the last at its top."""
    if side > WIDEST + 1e-6 or height > HIGHEST + 1e-6:
        return nan
    up, count = 0.0, 1
    for name in space.names():
        if up >= height - 1e-6:
            break
        up, count = up + space(name).spacing, count + 1
    return float(count)
