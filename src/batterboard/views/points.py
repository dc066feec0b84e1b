"""Points of a job for a surveyor's or a mapper's program.

    dxf(plan)      every stake and mark as POINT with its name, in feet or metres, a layer for each kind
    geojson(plan)  the same in longitude and latitude, where two marks say where on the earth they are; else ""

The job's plane touches the earth midway between the two marks and is turned from mark to mark; distances stay those of
the tape. Over e east and n north the latitude grows by n / M and the longitude by e / (N cos phi), M and N the radii of
curvature of the ellipsoid WGS 84: derived, to the first order. What is left out is about e^2 tan(phi) / 2N: below 2 cm
within 300 m of the middle and up to 60 degrees, less than a hand-held receiver can tell.
"""

import json
from collections.abc import Iterator
from io import StringIO
from math import atan2, cos, degrees, hypot, remainder, sin, sqrt, tau
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from batterboard.plan import Plan

A = 6378137.0  # half the equator's diameter [m]; WGS 84, its defining value, from memory
FLAT = 1 / 298.257223563  # flattening; the same
_UNITS = {"us": (2, 1 / 0.3048), "si": (6, 1.0)}  # $INSUNITS: feet, metres; units in a metre
_LETTERS = 0.05  # high [m]


class Point(NamedTuple):
    name: str
    kind: str
    x: float
    y: float
    z: float


def points(plan: "Plan") -> Iterator[Point]:
    """Stakes at the top of their concrete, marks on the ground."""
    for s in plan.setout.stakes:
        yield Point(s.name, s.kind, float(s.x), float(s.y), float(s.top))
    for name, (x, y) in plan.work.marks.items():
        yield Point(name, "control", float(x), float(y), float(plan.work.ground.level(x, y)))


def dxf(plan: "Plan") -> bytes:
    from ezdxf._options import options
    from ezdxf.filemanagement import new

    options.write_fixed_meta_data_for_testing = True  # no clock and no random marks: same job, same bytes
    code, units = _UNITS[plan.job.job.units]
    document = new("R2010", units=code)
    document.header["$MEASUREMENT"] = 0 if plan.job.job.units == "us" else 1
    document.header["$PDMODE"], document.header["$PDSIZE"] = 3, _LETTERS * units  # points show as crosses
    space = document.modelspace()
    for one in points(plan):
        layer = one.kind.upper()
        if layer not in document.layers:
            document.layers.add(layer)
        at = (one.x * units, one.y * units, one.z * units)
        space.add_point(at, dxfattribs={"layer": layer})
        beside = (at[0] + _LETTERS * units / 2, at[1] + _LETTERS * units / 2, at[2])
        space.add_text(one.name, height=_LETTERS * units, dxfattribs={"layer": layer, "insert": beside})
    stream = StringIO()
    document.write(stream)
    return stream.getvalue().encode("utf-8", "replace")


# ---- on the earth ----


def geojson(plan: "Plan") -> str:
    """After RFC 7946: WGS 84, longitude before latitude. Heights stand apart, as they are above the job's own zero."""
    known = _known(plan)
    if not known:
        return ""
    ((ax, ay), a_lat, a_lon), ((bx, by), b_lat, b_lon) = known
    latitude, longitude = (a_lat + b_lat) / 2, a_lon + remainder(b_lon - a_lon, tau) / 2
    north, east = radii(latitude)
    turn = atan2((b_lat - a_lat) * north, remainder(b_lon - a_lon, tau) * east) - atan2(by - ay, bx - ax)
    features = []
    for one in points(plan):
        x, y = one.x - (ax + bx) / 2, one.y - (ay + by) / 2
        lat = latitude + (x * sin(turn) + y * cos(turn)) / north
        lon = remainder(longitude + (x * cos(turn) - y * sin(turn)) / east, tau)
        place = {"type": "Point", "coordinates": [round(degrees(lon), 8), round(degrees(lat), 8)]}
        told = {"name": one.name, "kind": one.kind, "height above the job's zero [m]": round(one.z, 4)}
        features.append({"type": "Feature", "geometry": place, "properties": told})
    return json.dumps({"type": "FeatureCollection", "features": features}, indent=1, ensure_ascii=False) + "\n"


def misfit(plan: "Plan") -> float:
    """How much longer the two marks lie apart on the earth than in the job [m]."""
    ((ax, ay), a_lat, a_lon), ((bx, by), b_lat, b_lon) = _known(plan)
    north, east = radii((a_lat + b_lat) / 2)
    return hypot((b_lat - a_lat) * north, remainder(b_lon - a_lon, tau) * east) - hypot(bx - ax, by - ay)


def _known(plan: "Plan") -> list[tuple[tuple[float, float], float, float]]:
    """The two marks whose place on the earth is written: x and y, latitude, longitude; or none."""
    marks = plan.job.marks.values()
    return [(m.at, m.latitude, m.longitude) for m in marks if m.latitude is not None and m.longitude is not None]


def radii(latitude: float) -> tuple[float, float]:
    """Metres in a radian of latitude, M, and of longitude, N cos(phi)."""
    squared = FLAT * (2 - FLAT)
    part = 1 - squared * sin(latitude) ** 2
    return A * (1 - squared) / part**1.5, A / sqrt(part) * cos(latitude)
