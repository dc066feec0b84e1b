"""What is on a sheet?

    Sheet  : paper, title block, views, and marks placed on the paper itself
    View   : one drawing at one scale; entities in metres, x to the right, y up, `at` = where its (0, 0) lies on paper
    entity : Line, Polygon, Text, Linear, Level, ...   one record each, told apart by its type

Points of a view are metres; what belongs to the pencil (heights of text, ticks, offsets) is millimetres of paper.
Points of the sheet's own marks are millimetres from the paper's lower left corner. Angles are degrees,
counterclockwise from the right.
"""

from dataclasses import dataclass

from batterboard.views.drawing.layers import (
    BOLTS,
    CENTRE,
    CUT,
    DIMS,
    GROUND,
    LETTER,
    NOTES,
    Layer,
    Paper,
    Scale,
)

Point = tuple[float, float]
Box = tuple[float, float, float, float]  # left, bottom, right, top


@dataclass(frozen=True)
class Line:
    a: Point
    b: Point
    layer: Layer


@dataclass(frozen=True)
class Polyline:
    points: tuple[Point, ...]
    layer: Layer
    closed: bool = False


@dataclass(frozen=True)
class Polygon:
    """An outline with what is inside it. An empty `outline` draws the inside only."""

    points: tuple[Point, ...]
    layer: Layer
    fill: str = ""  # "paper" hides what lies below, "tone" is a light wash, "solid" is the pencil's own colour
    hatch: str = ""  # "concrete", "earth", "stone"
    outline: bool = True


@dataclass(frozen=True)
class Circle:
    """Filled and hatched like a Polygon."""

    centre: Point
    radius: float
    layer: Layer
    fill: str = ""
    hatch: str = ""


@dataclass(frozen=True)
class Arc:
    """Counterclockwise from `start` to `end` [degrees]."""

    centre: Point
    radius: float
    start: float
    end: float
    layer: Layer


@dataclass(frozen=True)
class Text:
    """One or more lines; `anchor` says which corner, side or middle of their block lies at the point."""

    at: Point
    text: str
    height: float = 2.5  # of the capitals [mm]
    anchor: str = "left bottom"  # left, middle, right; bottom, middle, top
    angle: float = 0.0
    layer: Layer = NOTES
    bold: bool = False


@dataclass(frozen=True)
class Linear:
    """From a to b, measured along `angle` (None: along a-b itself), on the dimension line through `base`.

    The text is the job's own writing of the length. `shift` moves the middle of the text from the middle of the
    dimension line: along it, and away from it towards its left [mm]; `leader` draws a line to it.
    """

    a: Point
    b: Point
    base: Point
    text: str
    angle: float | None = None
    shift: Point | None = None
    leader: bool = False
    layer: Layer = DIMS


@dataclass(frozen=True)
class Ordinate:
    """A running mark: the distance of `feature` from `origin` along x or y, written at the end of its witness line."""

    feature: Point
    origin: Point
    axis: str  # "x" or "y"
    end: Point  # where the witness line ends and the text begins
    text: str
    layer: Layer = DIMS


@dataclass(frozen=True)
class Radial:
    """A radius, or a diameter, written `reach` mm outside the circle at `angle`."""

    centre: Point
    radius: float
    angle: float
    text: str
    diameter: bool = False
    reach: float = 8.0
    layer: Layer = DIMS


@dataclass(frozen=True)
class Leader:
    """An arrow from a note at `at` to the `point` it speaks of; the note reads away from the arrow."""

    point: Point
    at: Point
    text: str
    height: float = 2.5
    layer: Layer = NOTES


@dataclass(frozen=True)
class Level:
    """A triangle standing on a level, with its text; `lift` moves the text off a neighbour [mm], `to` is its side."""

    at: Point
    text: str
    to: str = "right"
    lift: float = 0.0
    layer: Layer = NOTES


@dataclass(frozen=True)
class CentreLine:
    """Dash and dot, standing `over` mm past both ends."""

    a: Point
    b: Point
    over: float = 3.0
    layer: Layer = CENTRE


@dataclass(frozen=True)
class BreakLine:
    """The zigzag where a thing goes on but the drawing does not."""

    a: Point
    b: Point
    layer: Layer = CUT


@dataclass(frozen=True)
class GroundLine:
    """The surface of the ground, left to right, with strokes of earth below it."""

    points: tuple[Point, ...]
    layer: Layer = GROUND


@dataclass(frozen=True)
class BarEnd:
    """A bar, bolt or rod seen from its end: a full dot, never smaller than a pencil can make."""

    at: Point
    radius: float
    layer: Layer = BOLTS


@dataclass(frozen=True)
class NorthArrow:
    at: Point
    angle: float = 90.0  # the direction of north
    size: float = 16.0  # [mm]
    layer: Layer = NOTES


@dataclass(frozen=True)
class ScaleBar:
    """Alternating boxes from 0 to the last mark; marks are (length, text), in the view's own measure."""

    at: Point
    marks: tuple[tuple[float, str], ...]
    layer: Layer = NOTES


@dataclass(frozen=True)
class SectionMark:
    """Where a section is cut: both ends of the cut with its letter; `look` is left or right of the way from a to b."""

    a: Point
    b: Point
    letter: str
    look: str = "left"
    layer: Layer = NOTES


@dataclass(frozen=True)
class MatchMark:
    """A cross in a ring with a letter: what must lie on its twin."""

    at: Point
    letter: str
    radius: float = 3.0  # [mm]
    layer: Layer = NOTES


Entity = (
    Line
    | Polyline
    | Polygon
    | Circle
    | Arc
    | Text
    | Linear
    | Ordinate
    | Radial
    | Leader
    | Level
    | CentreLine
    | BreakLine
    | GroundLine
    | BarEnd
    | NorthArrow
    | ScaleBar
    | SectionMark
    | MatchMark
)


@dataclass(frozen=True)
class View:
    """One drawing at one scale. `clip` [m] cuts the entities; what stands in `around` is never cut."""

    name: str  # written under it; empty: nothing is written
    scale: Scale
    at: Point  # where (0, 0) lies on the paper [mm]
    entities: tuple[Entity, ...]
    around: tuple[Entity, ...] = ()
    clip: Box | None = None


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """A page with its frame and title block. `replaces` names the hash of the sheet that this one makes void."""

    name: str  # "General plan"
    job: str
    job_hash: str
    date: str = ""
    replaces: str = ""
    page: tuple[int, int] = (1, 1)
    paper: Paper = LETTER
    landscape: bool = True
    system: str = "us"
    caution: str = ""  # one line at the foot of the sheet
    views: tuple[View, ...] = ()
    marks: tuple[Entity, ...] = ()  # in millimetres of paper
    framed: bool = True  # with frame and title block; a sketch that stands on a page of words has none

    @property
    def size(self) -> Point:
        """Width and height as the sheet is held [mm]."""
        upright = (self.paper.width, self.paper.height)
        return upright[::-1] if self.landscape else upright

    @property
    def scale_note(self) -> str:
        """The scale, where all views share one."""
        labels = tuple(dict.fromkeys(view.scale.label(self.system) for view in self.views))
        return labels[0] if len(labels) == 1 else "scales as shown"


def rectangle(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    return ((left, bottom), (right, bottom), (right, top), (left, top))
