"""What the forms answer with: records of boxes, their panels, strips, pressure and yokes. SI."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from batterboard.job.schema import Wind
from batterboard.phases.forms.bracing import Brace
from batterboard.phases.forms.foot import Foot
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
    inch,
)
from batterboard.record import record
from batterboard.standards.tables import Grain, LumberGrade, LumberSize, Plywood, PlywoodStress
from batterboard.working import Check

if TYPE_CHECKING:
    from batterboard.phases.forms.pieces.results import Opening

CutOut = Callable[[], Mapping[str, Sequence["Opening"]]]  # what is cut out of each side, asked for by joints only


@record
class Joint:
    """Where two parts of a panel meet, edge to edge."""

    upright: bool  # else it runs level
    at: Length  # of an upright one from the left edge of the panel's outside, of a level one from its lowest edge
    on: Literal["yoke", "stud", "stake", "cross-piece", "plates"]  # what both parts are fastened to


@record
class PanelPart:
    """What is cut out of one sheet: a whole panel, or a part of one."""

    mark: str  # "apron A part 1", numbered from the left and from the foot; of a whole panel the panel's own
    left: Length  # its place on the panel's outside, and its size there
    low: Length
    width: Length
    height: Length


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
    joints: tuple[Joint, ...] = ()  # where no sheet yields it whole

    @property
    def upright_joints(self) -> tuple[Length, ...]:
        return tuple(joint.at for joint in self.joints if joint.upright)

    @property
    def level_joints(self) -> tuple[Length, ...]:
        return tuple(joint.at for joint in self.joints if not joint.upright)

    @property
    def parts(self) -> tuple[PanelPart, ...]:
        """From the left, and row by row from the foot."""
        if not self.joints:
            return (PanelPart(mark=self.mark, left=0.0, low=0.0, width=self.width, height=self.height),)
        made: list[PanelPart] = []
        for low, high in pairwise((0.0, *self.level_joints, self.height)):
            gone = self.narrows / 2 * low / self.height
            for left, right in pairwise((0.0, *self.upright_joints, self.width)):
                left, right = np.maximum(left, gone)[()], np.minimum(right, self.width - gone)[()]
                mark = f"{self.mark} part {len(made) + 1}"
                made.append(PanelPart(mark=mark, left=left, low=low, width=right - left, height=high - low))
        return tuple(made)


@record
class SplicePlate:
    """Strips of the sheet behind joints that cross the supports, cut between these."""

    mark: str  # "west plate 1"
    count: int
    long: Length
    wide: Length


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
    leg: (
        Length  # along ahead and back; of many sides along the panel before its corner; of a top strip in from the side
    )
    other_leg: Length  # along left and right; along the panel after its corner; of a top strip down the side
    face: Length  # straight across what the concrete touches
    count: int
    mirrored: int = 0  # of them, cut as the mirror image
    long: Length  # to cut: long point
    short: Length  # short point
    cuts: tuple[EndCut, ...]  # of a top strip at both ends unless they name one, of a corner strip at its upper end


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
    along: Length  # cut length of the two sticks that run along, with ends past the corners; of many sides, of each
    across: Length
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
    nail: Force  # what one corner nail holds, before duration; nan of many sides
    strap: Force  # rated working load of the strap or band round it; nan where none was entered

    def sticks(self, yoke: Yoke) -> tuple[tuple[int, Length], ...]:
        """How many of which length that yoke takes."""
        return ((2, yoke.along), (2, yoke.across)) if self.sides == 4 else ((self.sides, yoke.along),)


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
    past: Length  # how far a stud stands past its last wale, where that bends it most
    past_load: LineLoad  # on it there
    plate: Length  # side of the plate under a tie, as entered or assumed


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


CUT_TO = 1 * inch  # shores are sawn up to the next one of these; their wedges take the rest


@record
class Pair:
    """Two shores under one cross-piece, each cut for the ground under it."""

    number: int  # from the beam's first end
    at: Length  # from that end
    left: Length  # to cut
    right: Length


@record
class Shores:
    """What carries a beam where it stands clear of the ground: soffit, cross-pieces, pairs of shores, soles."""

    name: str  # of the beam
    start: Length  # of the stretch they stand under, from the beam's first end
    end: Length
    along: Length  # of the whole beam, clear between its piers
    width: Length
    height: Length  # of concrete
    weight: UnitWeight  # of it
    above: Length  # its underside over the lowest ground under the stretch
    nearest: Length  # and over the highest; less than nothing where that stands higher
    stack: Length  # of all that lies between concrete and ground but the shore
    wedges: Length  # of that, the pair under a shore
    room: Length  # that soffit, cross-piece, wedges, sole plate and the shortest shore take
    dig: Length  # how much ground is taken off at most to make it
    own: Pressure  # weight of the form over its plan
    load: Pressure  # that all of it is designed for
    soffit: Sheathing
    grade: LumberGrade
    size: LumberSize  # of cross-pieces and shores
    pairs: tuple[Pair, ...]
    span: Length  # of a cross-piece, from shore to shore
    cross: Length  # its cut length
    longest: Length  # of the shores
    middles: Number  # places between its ends where each is held both ways
    shore: Force  # in one, with what a pulled brace adds
    sole: LumberSize  # laid flat
    sole_long: Length
    bearing: Pressure  # of the ground, by its class or as entered
    on_pads: int  # pairs that stand over a pad: on its backfill, unless they are set down on it
    upright: LumberSize  # of the sides' uprights, their ties, braces and diagonals
    post: Length  # an upright's cut length: its tie lies against it above the concrete
    across: Length  # a tie's
    moment: Moment  # in an upright
    tie: Force  # across the tops of two uprights
    foot: Force  # of an upright on the ribbon outside it
    nail: Force  # what one 16d holds, before duration; nan where it does not reach through
    tie_nails: Number  # at each end of a tie; nan likewise
    foot_nails: Number  # of the ribbon into each cross-piece
    push: Force  # level, square to the beam
    push_along: Force
    at: Wind | None  # of the place, where the job states it
    governs: Literal["least force", "wind", "site wind"]  # the push square to it
    a_side: Number  # braces on each side
    up: Length  # where they meet the cross-pieces, above the ground; their feet stand out as far
    brace: Length  # of one
    brace_middles: Number
    brace_force: Force
    brace_nails: Number
    stake: Force  # what one stake holds, as entered or assumed
    stakes: Number  # at the foot of each
    crosses: Number  # of diagonals on each row of shores
    diagonal: Length  # of one
    run: Length  # level from end to end of it
    diagonal_force: Force
    diagonal_nails: Number

    @property
    def spacing(self) -> Length:
        """Of the pairs at most."""
        return self.soffit.spacing

    @property
    def sticks(self) -> tuple[tuple[str, str, Length, int], ...]:
        """Of what size, for what, to cut to which length, how many."""
        pairs = len(self.pairs)
        cut = [length for pair in self.pairs for length in (pair.left, pair.right)]
        shores = Counter(float(np.ceil(np.max(length) / CUT_TO - 1e-9) * CUT_TO) for length in cut)
        return (
            (self.size.name, "cross-piece", self.cross, pairs),
            *((self.size.name, "shore", length, count) for length, count in sorted(shores.items())),
            (self.sole.name, "sole plate", self.sole_long, 2 * pairs),
            (self.upright.name, "upright", self.post, 2 * pairs),
            (self.upright.name, "tie", self.across, pairs),
            (self.upright.name, "shore brace", self.brace, 2 * round(float(np.max(self.a_side)))),
            (self.upright.name, "diagonal", self.diagonal, 4 * round(float(np.max(self.crosses)))),
        )

    @property
    def whole(self) -> bool:
        """Whether the beam stands clear from pier to pier."""
        return bool(np.all(self.start <= 0) and np.all(self.end >= self.along))


@record
class Collar:
    """Four sticks tight round a tube, two over two: one such at its foot, one where its braces meet it."""

    size: LumberSize
    grade: LumberGrade
    outside: Length  # of the tube, its wall as assumed
    span: Length  # of a stick from crossing to crossing
    stick: Length  # cut length of each
    ups: tuple[Length, Length]  # of both collars, between their two pairs, above the foot
    push: Force  # of the braces on one stick, level, pressed or pulled
    nail: Force  # what one holds, before duration
    nails: Number  # 16d at each crossing


@record
class Uplift:
    name: str  # of the form
    edges: Force  # under the panels' edges on fresh concrete
    batter: Force  # under sides that lean inwards, chamfers at the top with them
    brace: Force  # where a brace is pulled
    blockouts: Force  # boxes fixed to it, without their own weight
    weight: Force  # of panels and yokes
    lift: Force  # of all four, with nothing taken off
    stake: Force  # what one stake holds, as entered or assumed
    stakes: Number  # that tie it down


@record
class Held:
    """What holds the panels of a form together, and where it has them joined."""

    panels: tuple[Panel, ...] = ()
    plates: tuple[SplicePlate, ...] = ()
    sheathing: Sheathing | None = None
    frame: Frame | None = None
    yokes: tuple[Yoke, ...] = ()
    wall: Wall | None = None
    edge: Edge | None = None


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
    plates: tuple[SplicePlate, ...]
    strips: tuple[Strip, ...]
    inside_diameter: Length  # of a tube, else nan
    area: Area  # of the faces that the concrete touches
    lateral: Lateral
    sheathing: Sheathing | None  # None where no yokes are sized
    frame: Frame | None
    yokes: tuple[Yoke, ...]
    wall: Wall | None  # studs, wales and ties, where it is too wide or too high for yokes
    edge: Edge | None  # stakes and kickers of a low edge
    shores: Shores | None  # of a beam where it stands clear of the ground
    brace: Brace | None  # of what stands; None of a low edge
    collar: Collar | None  # of a tube
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
    blockouts: tuple[Any, ...]  # a Fixing for each, made in their own room, which only a job that has some reads
    checks: tuple[Check, ...]

    @property
    def shored(self) -> dict[str, Shores]:
        """What stands under beams that are clear of the ground."""
        return {box.name: box.shores for box in self.boxes if box.shores is not None}
