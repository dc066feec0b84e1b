"""Plane geometry of setting out by tape, string and level.

    diagonal(a, b)                    what closes a right angle
    racking(a, d_1, d_2)              how far the far side must move when the diagonals differ
    angle_by_tape(a, b, s)            how sure an angle is that three taped sides made
    opening_misclosure(...)           what is between two posts, less what has to hang there
    rod_difference(z_bench, z)        what a level rod reads more there than on the bench mark

How sure a place is follows from its errors, in `setout`; what a tape needs by way of corrections is not here.
"""

from batterboard.quantity import Angle, Length
from batterboard.working import GEOMETRY, formula, hypot, sqrt


@formula(source=GEOMETRY)
def diagonal(a: Length, b: Length) -> Length:
    """From the start of a line to a point a along it and b off it at a right angle [m]. All broadcast."""
    c = hypot(a, b)
    return c


@formula(source=GEOMETRY, limits="a > 0; d_1 > 0; d_2 > 0")
def racking(a: Length, d_1: Length, d_2: Length) -> Length:
    """How far the far side of a leaning rectangle stands off along itself, towards the shorter diagonal [m].

    a : the side it is parallel to;  d_1, d_2 : the longer and the shorter diagonal.  All broadcast.
    """
    u = (d_1**2 - d_2**2) / (4 * a)
    return u


@formula(source=GEOMETRY, limits="a > 0; b > 0; s >= 0")
def angle_by_tape(a: Length, b: Length, s: Length) -> Angle:
    """Standard deviation of a right angle made by taping two sides and what closes them [rad].

    a, b : the sides;  s : standard deviation of each of the three.  All broadcast.
    """
    c = hypot(a, b)
    s_angle = sqrt(a**2 + b**2 + c**2) / (a * b) * s
    return s_angle


@formula(source=GEOMETRY, limits="b_1 > 0; b_2 > 0")
def clear_opening(d: Length, b_1: Length, b_2: Length) -> Length:
    """Between the faces of two posts [m]. d : between their centres;  b_1, b_2 : their depths that way."""
    clear = d - b_1 / 2 - b_2 / 2
    return clear


@formula(source=GEOMETRY, limits="l > 0; g >= 0")
def opening_misclosure(d: Length, b_1: Length, b_2: Length, l: Length, g: Length) -> Length:
    """How much wider an opening is than what hangs in it [m]; negative: too tight.

    d : between the centres of the posts;  b_1, b_2 : their depths that way;  l, g : leaves and gaps together.
    """
    clear = clear_opening(d, b_1, b_2)
    over = clear - l - g
    return over


@formula(source=GEOMETRY)
def rod_difference(z_bench: Length, z: Length) -> Length:
    """What a level rod reads more at a level than on the bench mark, from one set-up [m]; negative: less."""
    more = z_bench - z
    return more
