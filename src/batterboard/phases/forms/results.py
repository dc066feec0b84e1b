"""What the forms answer with: records of boxes, their panels, strips, pressure and yokes. SI."""

from itertools import pairwise
from typing import Any, Literal

from batterboard.phases.forms.bracing import Brace
from batterboard.phases.forms.foot import Foot
from batterboard.phases.forms.uplift import Uplift
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
from batterboard.record import record
from batterboard.standards.tables import Grain, LumberGrade, LumberSize, Plywood, PlywoodStress
from batterboard.working import Check


@record
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
    narrows: Length = 0.0  # how much less wide at its top, of a pier that leans in
    runs_past: int  # over the edges of how many of its two neighbours


@record
class EndCut:
    """One saw cut at the end of a strip that lies on the face named in `down`."""

    against: str  # "the corner strip", "the next top strip", "the top strips"
    down: str  # "the top face", "each panel's face in turn"
    mitre: Angle  # turn of the cut from square across
    bevel: Angle  # tilt of the blade from upright


@record
class Strip:
    """Equal arris strips of one box, laid in the corner of the form."""

    mark: str  # "west corner"
    edge: Literal["corner", "top", "facet"]  # facet: across the face of a corner strip
    leg: Length  # along each panel; of a top strip in from the side
    face: Length  # straight across what the concrete touches
    count: int
    long: Length  # to cut: long point
    short: Length  # short point
    cuts: tuple[EndCut, ...]  # the same at both ends of a top strip, at the upper end of a corner strip; else square


@record
class Lateral:
    """Pressure of the fresh concrete: liquid from the top down to `depth`, constant below."""

    name: str  # the box
    weight: UnitWeight  # that it grows with by depth: of the concrete, a quarter more where pumped in from below
    height: Length  # of fresh concrete above the foot of the form; with what presses through a covered pad
    placed: Length  # in one go, with what stands in the ground: a wall higher than 14 ft has another formula
    column: bool  # by the guide's words, else a wall
    slump: Length
    vibrated: Length  # below the surface
    rate: RateOfRise  # nan where the file does not say
    temperature: Celsius
    C_w: Number
    C_c: Number
    formula: Pressure  # before floor and ceiling; nan where the full liquid head is taken
    peak: Pressure
    depth: Length  # where the liquid part ends
    governs: Literal["full liquid head", "column formula", "wall formula", "least pressure", "pumped from below"]
    why: str  # in words; "" where nothing is to be said


@record
class Sheathing:
    """What the panels carry between their supports, where they are pressed hardest for their span."""

    name: str  # "Class I 23/32 in"
    panel: Plywood
    stress: PlywoodStress
    across: bool  # face grain across its supports: the strong way
    upright: bool  # its supports: studs or stakes; yokes lie level
    spans: int  # how many of them one panel runs over
    spacing: Length  # of the supports there, centre to centre
    clear: Length  # between them
    head: Length  # of concrete above the lower of the two

    @property
    def grain_up(self) -> bool:
        return self.across is not self.upright

    @property
    def grain(self) -> Grain:
        return self.panel.along if self.across else self.panel.across


@record
class Yoke:
    """One frame of lumber round the form: a stick on each side, those of a box laid two over two."""

    number: int  # from the foot
    up: Length  # of its middle above the foot of the form
    head: Length  # of concrete above its middle
    over: Length  # depth of concrete down to where the panel begins to lean on it
    under: Length  # and down to where it ceases to
    load: LineLoad  # on its longer side
    pull: Force  # at each corner, or in the strap or band round it
    nails: Number  # 16d at each corner


@record
class Frame:
    """What all yokes of a form are made of."""

    size: LumberSize
    grade: LumberGrade
    sides: int  # 4 of a box
    span: Length  # of the longer sticks between the ones they are nailed to; of many sides, of each
    flats: Length  # across the panels, outside: what the pull comes from
    along: Length  # cut length of the two sticks that run along, with ends past the corners; of many sides, of each
    across: Length
    nail: Force  # what one corner nail holds, before duration; nan of many sides
    strap: Force  # rated working load of the strap or band round it; nan where none was entered

    @property
    def sticks(self) -> tuple[tuple[int, Length], ...]:
        """How many of which length one yoke takes."""
        return ((2, self.along), (2, self.across)) if self.sides == 4 else ((self.sides, self.along),)


@record
class Wale:
    """A pair of sticks along both faces of each side."""

    number: int  # from the foot
    up: Length
    load: LineLoad


@record
class Wall:
    """Studs, double wales and ties of a box that is too large for yokes."""

    name: str  # of the form
    size: LumberSize
    grade: LumberGrade
    stud_spacing: Length
    studs: Number  # on the four faces
    stud_load: LineLoad  # on each, where its wales are farthest apart for it
    stud_span: Length  # between them
    wales: tuple[Wale, ...]
    tie_spacing: Length
    ties: Number  # in all
    lengthwise: Number  # of these, from end to end: the short sides are pressed as hard
    tie: Force  # rated load of one, as entered or assumed
    pull: Force  # of the hardest pulled
    wale_load: LineLoad  # on the hardest pressed


@record
class Edge:
    """Boards on edge between stakes, each propped at its top."""

    name: str  # of the form
    size: LumberSize
    grade: LumberGrade
    top: Pressure  # at their upper edge: nothing, unless the pad is covered
    spacing: Length  # of the stakes
    count: Number  # in all
    push: Force  # of the top of a stake on its kicker, level
    foot: Force  # of its foot on the ground
    moment: Moment  # in it
    kicker: Force  # along it, at 45 degrees
    nails: Number  # 16d at each end of it; nan where they do not reach through it
    stake: Force  # what one stake holds, as entered or assumed


@record
class Box:
    """The form of one body."""

    name: str  # of the body
    element: str
    kind: Literal["box", "polygon", "tube", "edge"]  # edge: boards along the sides of a flat pad or beam
    lift: int
    height: Length
    foot: Length  # level of its underside, above the job's zero
    lap: str  # which panels run past, in words
    note: str  # what is not sized here, in words
    sheet: str  # "3/4 in plywood"; "" of a tube
    sheet_size: tuple[Length, Length]  # along the face grain, across it
    panels: tuple[Panel, ...]
    strips: tuple[Strip, ...]
    inside_diameter: Length  # of a tube, else nan
    area: Area  # of the faces that the concrete touches
    lateral: Lateral
    sheathing: Sheathing | None  # None where no yokes are sized
    frame: Frame | None
    yokes: tuple[Yoke, ...]
    wall: Wall | None  # studs, wales and ties, where it is too wide or too high for yokes
    edge: Edge | None  # stakes and kickers of a low edge
    brace: Brace | None  # of what stands; None of a low edge
    uplift: Uplift
    tube_head: Length  # that the maker rates a tube for; nan where nobody entered it, and of other forms

    @property
    def lumber(self) -> str:
        """Of the yokes, "" without any."""
        return f"{self.frame.size.name} {self.frame.grade.name} on edge" if self.frame else ""


@record
class Forms:
    boxes: tuple[Box, ...]
    not_formed: tuple[str, ...]  # bodies cast against earth all round, by name
    feet: tuple[Foot, ...]  # forms that stand on the fresh concrete of their pads
    checks: tuple[Check, ...]
    blockouts: tuple[Any, ...]  # a Fixing for each, made in their own room, which only a job that has some reads
