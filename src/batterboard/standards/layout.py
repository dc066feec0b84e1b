"""Plane geometry of setting out by tape, string and level.

    diagonal(a, b)                    what closes a right angle
    racking(a, d_1, d_2)              how far the far side must move when the diagonals differ
    angle_by_tape(a, b, s)            how sure an angle is that three taped sides made
    opening_misclosure(...)           what is between two posts, less what has to hang there
    arc_radius(c, h) arc_rise(c, r)   of an arc by its chord and rise, and back
    along_chord(...) off_chord(...)   where a point of an arc is taped from its chord
    running_chord(s, r)               straight across from mark to mark of an arc
    rod_difference(z_bench, z)        what a level rod reads more there than on the bench mark
    tape_temperature(L, T, T_s) ...   what is added to a tape's reading, so that it is the distance
    collimation(...)                  what a level reads wrong at a distance, by two pegs

A correction is added to what was read. To set a distance out, it is taken off what has to be read: a tape that is
too long reads too little, so that less is read for the same distance. How sure a place is follows from its errors, in
`setout`.
"""

from batterboard.quantity import (
    Angle,
    Area,
    Celsius,
    Force,
    Length,
    LineLoad,
    Number,
    Pressure,
    ft,
    psi,
)
from batterboard.working import GEOMETRY, STATICS, Document, arcsin, cos, floor, formula, hypot, sin, sqrt, tan

TAPING = Document("Taping corrections", "surveying course slides").clause("", "read: those slides, stored text")
ADJUSTMENT = Document("Adjustment of observations", "weighted least squares; each reading tested after Baarda").clause(
    "", "derived"
)
STEEL_GROWS = 6.5e-6 * 1.8  # of its length for a degree [1/K]; 6.5 millionths per degree Fahrenheit, those slides
STEEL_STIFF: Pressure = 29e6 * psi
TURNED_OVER: Length = 4 * ft  # along a string, where a turn is taped; the longer side of a 3-4-5
BOARDS_BACK: Length = 4 * ft  # batter boards from what is built, where nothing asks for more; building-layout pages


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


# ---- arcs ----


@formula(source=GEOMETRY, limits="c > 0; h > 0; h <= c / 2")
def arc_radius(c: Length, h: Length) -> Length:
    """Of an arc, at most half a circle, that rises h over the middle of its chord c [m]. All broadcast."""
    r = c**2 / (8 * h) + h / 2
    return r


@formula(source=GEOMETRY, limits="c > 0; r > 0")
def arc_rise(c: Length, r: Length) -> Length:
    """Middle ordinate: what an arc of radius r, at most half a circle, rises over its chord c [m]. All broadcast."""
    h = r - sqrt(r**2 - c**2 / 4)
    return h


@formula(source=GEOMETRY, limits="c > 0; r > 0")
def along_chord(c: Length, r: Length, s: Length, o: Length) -> Length:
    """From the start along the chord to the foot of a point of an arc [m].

    c, r : chord, radius;  s : along the curve to the point;  o : how far it stands outside the arc.  All broadcast.
    """
    half = arcsin(c / (2 * r))
    x = c / 2 + (r + o) * sin(s / r - half)
    return x


@formula(source=GEOMETRY, limits="c > 0; r > 0")
def off_chord(c: Length, r: Length, s: Length, o: Length) -> Length:
    """Square off the chord to the same point [m], positive to the side where the arc bulges. All broadcast."""
    half = arcsin(c / (2 * r))
    y = (r + o) * cos(s / r - half) - r * cos(half)
    return y


@formula(source=GEOMETRY)
def turned_aside(a: Angle, l: Length) -> Length:
    """How far aside of a string something goes that is turned by a against it, over l along the string [m]."""
    y = l * tan(a)
    return y


@formula(source=GEOMETRY, limits="r > 0")
def running_chord(s: Length, r: Length) -> Length:
    """Straight across between two marks of an arc [m]. s : along the curve;  r : radius.  All broadcast."""
    k = 2 * r * sin(s / (2 * r))
    return k


# ---- tapes ----


@formula(source=TAPING)
def tape_length(L: Length, k: Number) -> Length:
    """Of a tape whose length differs from its figures [m]. k : longer by so much of its length.  All broadcast."""
    C_l = k * L
    return C_l


@formula(source=TAPING)
def tape_temperature(L: Length, T: Celsius, T_s: Celsius) -> Length:
    """Of a steel tape at another temperature than its own [m]. T, T_s : in use, of its standard.  All broadcast."""
    C_t = STEEL_GROWS * (T - T_s) * L
    return C_t


@formula(source=STATICS, limits="P > 0; A > 0; E > 0")
def tape_pull(L: Length, P: Force, P_s: Force, A: Area, E: Pressure) -> Length:
    """Of a steel tape pulled otherwise than at its standard [m]. P, P_s : pulls;  A, E : section, modulus."""
    C_p = (P - P_s) / (A * E) * L
    return C_p


@formula(source=TAPING, limits="L >= 0; s > 0; P > 0; w >= 0")
def tape_sag(L: Length, s: Length, w: LineLoad, P: Force) -> Length:
    """Of a tape that hangs between supports [m]. s : their spacing, the last span may be shorter;  w : its weight."""
    n = floor(L / s)
    rest = L - n * s
    C_s = -(w**2) * (n * s**3 + rest**3) / (24 * P**2)
    return C_s


@formula(source=GEOMETRY, limits="S > 0; absolute(v) < S")
def tape_slope(S: Length, v: Length) -> Length:
    """Of a tape held on a slope [m]. S : along it;  v : how much higher one end is.  All broadcast."""
    C_h = sqrt(S**2 - v**2) - S
    return C_h


# ---- levels ----


@formula(source=GEOMETRY)
def collimation(a_1: Length, b_1: Length, a_2: Length, b_2: Length) -> Length:
    """What a level reads too much at the far peg of the two-peg test [m]; negative: too little.

    a_1, b_1 : read on both pegs from the middle;  a_2, b_2 : from beside the second peg.  The near one counts as true.
    """
    e = (a_2 - b_2) - (a_1 - b_1)
    return e
