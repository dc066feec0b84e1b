"""How long is it light on the day of the pour?

declination(n)      how far the sun stands north on day n of the year
daylight(phi, d)    15.0 h at 40 degrees in June
"""

from batterboard.quantity import Angle, Number, Time, degree, hour
from batterboard.working import Document, arccos, cos, formula, maximum, minimum, pi, sin

SUNRISE = Document("Sunrise equation", "spherical astronomy").clause("", "derived")
COOPER = Document("P. I. Cooper 1969", "The absorption of radiation in solar stills").clause("declination", "memory")


@formula(source=COOPER)
def declination(n: Number) -> Angle:
    """How far north of the equator the sun stands on a day of the year, counted from 1 [rad]."""
    d = 23.45 * degree * sin(2 * pi * (284 + n) / 365)
    return d


@formula(source=SUNRISE, limits="phi > -pi / 2; phi < pi / 2")
def daylight(phi: Angle, d: Angle) -> Time:
    """From sunrise to sunset [s]: the upper edge of the sun, bent by the air. phi : latitude;  d : declination."""
    rise = -0.833 * degree
    c = (sin(rise) - sin(phi) * sin(d)) / (cos(phi) * cos(d))
    c_day = maximum(minimum(c, 1), -1)
    t = 2 * arccos(c_day) / (15 * degree) * hour
    return t
