"""What shape is the box, what cuts, and will it hold the wet concrete?

    box      : Box("west", kind="box", panels, strips, pressure, yokes, ...)     the form of one body
    panel    : Panel("west A", count=2, width=0.5588, height=1.016, runs_past=False, ...)
    strip    : Strip("west corner", leg=0.0508, count=4, long=1.016, short=0.997, ...)   chamfer, against the panel
    pressure : Lateral(peak=23940, depth=1.016, governs="full liquid head", ...)  liquid from the top, constant below
    yoke     : Yoke(number=1, up=0.0, head=1.016, tributary=0.15, load=2300)      numbered from the foot

Panels are lettered as seen from above, counter-clockwise from the side that looks ahead. Layouts on sheets, braces,
and a form that stands on fresh concrete are not here.
"""

from dataclasses import dataclass
from typing import Literal

from batterboard.quantity import (
    Angle,
    Area,
    Celsius,
    Force,
    Length,
    LineLoad,
    Moment,
    Number,
    Pressure,
    RateOfRise,
    UnitWeight,
)
from batterboard.working import Check


@dataclass(frozen=True, kw_only=True)
class Panel:
    """Equal panels of one box."""

    mark: str  # "west A"
    sides: tuple[str, ...]  # "ahead", "left", "back", "right"; of a polygon "1" to "n"
    count: int
    width: Length  # to cut: of the outside face where the edges are bevelled
    inside: Length  # width of the face that the concrete touches
    height: Length
    thick: Length  # actual thickness of the sheet
    bevel: Angle  # of both upright edges, off square; 0 for square edges
    runs_past: bool  # laps over the edges of its neighbours


@dataclass(frozen=True, kw_only=True)
class EndCut:
    """One saw cut at the end of a strip that lies on the face named in `down`."""

    against: str  # "the corner strip", "the next top strip", "the top chamfer"
    down: str  # "a leg", "the top leg"
    mitre: Angle  # turn of the cut from square across
    bevel: Angle  # tilt of the blade from upright


@dataclass(frozen=True, kw_only=True)
class Strip:
    """Equal chamfer strips of one box: right-angled triangles in section, laid in the corner of the form."""

    mark: str  # "west corner"
    edge: Literal["corner", "top"]
    leg: Length  # along each face; of a polygon's corner along the panels
    face: Length  # width of the face that the concrete touches
    count: int
    long: Length  # to cut: long point
    short: Length  # short point
    cuts: tuple[EndCut, ...]  # the same at both ends of a top strip, at the upper end of a corner strip


@dataclass(frozen=True, kw_only=True)
class Lateral:
    """Pressure of the fresh concrete: liquid from the top down to `depth`, constant below."""

    name: str  # the box
    weight: UnitWeight
    height: Length  # of fresh concrete above the foot of the form
    rate: RateOfRise  # nan where the file does not say
    temperature: Celsius
    C_w: Number
    C_c: Number
    formula: Pressure  # before floor and ceiling; nan where the full liquid head is taken
    peak: Pressure
    depth: Length  # where the liquid part ends
    governs: Literal["full liquid head", "column formula", "wall formula", "least pressure"]
    why: str  # in words


@dataclass(frozen=True, kw_only=True)
class Sheathing:
    """What the panels can carry between the yokes."""

    name: str  # "Class I 23/32 in"
    grain: Literal["across the yokes", "along the yokes"]
    spans: int  # the fewest that a part of the panel runs over
    largest: Length  # widest spacing of the yokes
    demand: Pressure  # at that spacing
    bending: Pressure  # what each limit allows there
    shear: Pressure
    deflection: Pressure
    ratio: Number  # of the worst spacing


@dataclass(frozen=True, kw_only=True)
class Yoke:
    """One frame of lumber round the box."""

    number: int  # from the foot
    up: Length  # of its middle above the foot of the form
    head: Length  # of concrete above its middle
    tributary: Length  # height of panel that leans on it
    load: LineLoad  # on its longer side
    moment: Moment
    ratio: Number  # of the bending strength
    pull: Force  # at each corner
    nails: int  # 16d for each corner


@dataclass(frozen=True, kw_only=True)
class Box:
    """The form of one body."""

    name: str  # of the body
    element: str
    kind: Literal["box", "polygon", "tube", "edge"]  # edge: boards round a flat pad, held by stakes
    lift: int
    height: Length
    foot: Length  # level of its underside, above the job's zero
    lap: str  # which panels run past, in words
    sheet: str  # "3/4 in plywood", of a tube its diameter's name
    panels: tuple[Panel, ...]
    strips: tuple[Strip, ...]
    inside_diameter: Length  # of a tube, else nan
    lateral: Lateral
    sheathing: Sheathing | None
    lumber: str  # of the yokes: "2x4 DF-L No. 2 on edge"; "" without yokes
    yoke_along: Length  # of the two sticks of a yoke that run along, ends past the corners; nan without yokes
    yoke_across: Length
    yokes: tuple[Yoke, ...]
    area: Area  # of the faces that the concrete touches


@dataclass(frozen=True, kw_only=True)
class Forms:
    boxes: tuple[Box, ...]
    not_formed: tuple[str, ...]  # bodies cast against earth all round, by name
    checks: tuple[Check, ...]
