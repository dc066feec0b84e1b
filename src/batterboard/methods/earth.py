"""Where on the earth is a point of the job?

    plane : touching((0.0, 0.0), (lat, lon), (30.48, 0.0), (lat, lon))    two points known in the job and on the earth
    plane.on_earth(x, y) -> latitude, longitude [rad];  plane.misfit [m]

The job's plane touches the earth midway between the two points and is turned from one to the other; distances stay
those of the tape. Over e east and n north the latitude grows by n / M and the longitude by e / (N cos phi), M and N the
radii of curvature of the ellipsoid WGS 84: derived, to the first order. What is left out is about e^2 tan(phi) / 2N:
below 2 cm within 300 m of the middle and up to 60 degrees, less than a hand-held receiver can tell.
"""

from math import atan2, cos, hypot, remainder, sin, sqrt, tau
from typing import NamedTuple

from batterboard.quantity import Angle, Length

A = 6378137.0  # half the equator's diameter [m]; WGS 84, its defining value, from memory
FLAT = 1 / 298.257223563  # flattening; the same

Pair = tuple[float, float]


class Plane(NamedTuple):
    x: Length  # the point of touch, in the job
    y: Length
    latitude: Angle
    longitude: Angle
    turn: Angle  # added to a direction of the job it gives the one from east, counter-clockwise
    misfit: Length  # how much longer the two points lie apart on the earth than in the job

    def on_earth(self, x: Length, y: Length) -> Pair:
        """Latitude and longitude of a point of the job [rad]."""
        north, east = radii(self.latitude)
        dx, dy = x - self.x, y - self.y
        latitude = self.latitude + (dx * sin(self.turn) + dy * cos(self.turn)) / north
        longitude = remainder(self.longitude + (dx * cos(self.turn) - dy * sin(self.turn)) / east, tau)
        return latitude, longitude


def touching(a: Pair, a_earth: Pair, b: Pair, b_earth: Pair) -> Plane:
    """The plane through two points given as x, y and as latitude, longitude [rad]."""
    (a_lat, a_lon), (b_lat, b_lon) = a_earth, b_earth
    round_east = remainder(b_lon - a_lon, tau)
    latitude, longitude = (a_lat + b_lat) / 2, a_lon + round_east / 2
    north, east = radii(latitude)
    up, over = (b_lat - a_lat) * north, round_east * east
    dx, dy = b[0] - a[0], b[1] - a[1]
    return Plane(
        x=(a[0] + b[0]) / 2,
        y=(a[1] + b[1]) / 2,
        latitude=latitude,
        longitude=longitude,
        turn=atan2(up, over) - atan2(dy, dx),
        misfit=hypot(up, over) - hypot(dx, dy),
    )


def radii(latitude: Angle) -> tuple[Length, Length]:
    """Metres in a radian of latitude, M, and of longitude, N cos(phi)."""
    squared = FLAT * (2 - FLAT)
    part = 1 - squared * sin(latitude) ** 2
    return A * (1 - squared) / part**1.5, A / sqrt(part) * cos(latitude)
