"""Points of a job for a surveyor's or a mapper's program.

    dxf(plan)      every stake and mark as POINT with its name, in feet or metres, a layer for each kind
    geojson(plan)  the same in longitude and latitude, where two marks say where on the earth they are; else ""

How the job's plane lies on the earth stands in `methods.earth`.
"""

import json
from collections.abc import Iterator
from io import StringIO
from math import degrees
from typing import TYPE_CHECKING, NamedTuple

from batterboard.methods import earth

if TYPE_CHECKING:
    from batterboard.plan import Plan

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
    plane = _plane(plan)
    if plane is None:
        return ""
    features = []
    for one in points(plan):
        lat, lon = plane.on_earth(one.x, one.y)
        place = {"type": "Point", "coordinates": [round(degrees(lon), 8), round(degrees(lat), 8)]}
        told = {"name": one.name, "kind": one.kind, "height above the job's zero [m]": round(one.z, 4)}
        features.append({"type": "Feature", "geometry": place, "properties": told})
    return json.dumps({"type": "FeatureCollection", "features": features}, indent=1, ensure_ascii=False) + "\n"


def misfit(plan: "Plan") -> float:
    """How much longer the two marks lie apart on the earth than in the job [m]; 0 where no marks say."""
    plane = _plane(plan)
    return plane.misfit if plane else 0.0


def _plane(plan: "Plan") -> earth.Plane | None:
    """By the two marks whose place on the earth is written, if any."""
    known = [
        part
        for m in plan.job.marks.values()
        if m.latitude is not None and m.longitude is not None
        for part in (m.at, (m.latitude, m.longitude))
    ]
    return earth.touching(*known) if known else None
