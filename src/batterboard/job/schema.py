"""What may stand in a job file: every table and key, its dimension, its default and what it means.

    [piers.west]                      a table of the file    -> Pier, frozen
    height = "40 in"                  a key                  -> Pier.height = 1.016, in SI
    top = { level = "bench", ... }    an inline table        -> Pier.top = Elevation(...)

The reader fills these records, the JSON Schema and the reference page are made from them. `say(...)` gives a key its
meaning, `assume=True` prints its default in the book as an assumption, `found=True` marks a fact that can only be found
on site. Directions are words, so sizes are never negative. Nothing is computed here.
"""

from dataclasses import field
from datetime import datetime
from typing import Annotated, Any, Literal, NamedTuple

from batterboard.quantity import (
    Angle,
    Area,
    Celsius,
    Force,
    Length,
    LineLoad,
    Mass,
    MassDensity,
    Number,
    Pressure,
    RateOfRise,
    Resistance,
    Speed,
    Subgrade,
    TemperatureDifference,
    Time,
    UnitWeight,
    Volume,
    WaterContent,
)
from batterboard.record import ordered, record

Size = Annotated[Length, "positive"]
Reach = Annotated[Length, "zero or more"]
Coordinate = Annotated[Length, "either side"]
Ratio = Annotated[Number, "zero or more"]


class NameOf(NamedTuple):
    """Marks a text that must be the name of something in one of these tables; of a row, a group or a pier's pad too.

    `points`: its centre or a bolt on it may be named, west.centre or west.bolt.1.
    """

    tables: tuple[str, ...]
    groups: bool = False
    points: bool = False


class Tabulated(NamedTuple):
    """Marks a text that must be tabulated in one of these tables of the trade."""

    tables: tuple[str, ...]
    what: str


class Written(NamedTuple):
    """Marks a text in one of the trade's short forms."""

    form: str


def say(meaning: str, default: Any = None, *, assume: bool = False, found: bool = False, key: str = "") -> Any:
    """A key with a default. `key` is its name in the file where Python cannot say it (class, from, in)."""
    return field(default=default, metadata={"say": meaning, "assume": assume, "found": found, "key": key})


def must(meaning: str, *, key: str = "") -> Any:
    """A key that has to be written."""
    return field(metadata={"say": meaning, "key": key})


def many(meaning: str, *, found: bool = False) -> Any:
    """A table of named things, empty where nothing is written."""
    return field(default_factory=dict, metadata={"say": meaning, "found": found})


LineName = Annotated[str, NameOf(("lines",))]
LevelName = Annotated[str, NameOf(("levels",))]
MixName = Annotated[str, NameOf(("mixes",))]
SoilName = Annotated[str, Tabulated(("soil",), "class of soil")]
SectionName = Annotated[str, Tabulated(("section",), "section")]
PipeName = Annotated[str, Tabulated(("conduit",), "pipe")]
SheetName = Annotated[str, Tabulated(("sheet", "plywood"), "sheet")]
LumberName = Annotated[str, Tabulated(("lumber_grade",), "lumber")]
BaseName = Annotated[str, NameOf(("piers", "pads"))]
PlainName = Annotated[str, NameOf(("piers", "pads", "beams"))]
PlacedName = Annotated[str, NameOf(("piers", "pads", "beams"), groups=True)]
PostName = Annotated[str, NameOf(("posts",))]
MarkName = Annotated[str, NameOf(("marks",))]
StartName = Annotated[str, NameOf(("piers", "pads", "marks", "lines"))]
EdgeShape = Literal["chamfer", "recess", "groove"]
Lap = Literal["past", "pinwheel"]
PointName = Annotated[str, NameOf(("marks", "piers", "pads", "posts", "machines"), points=True)]


# ---- the place ----


@record
class Heading:
    name: str = must("what the job is called on every page")
    units: Literal["us", "si"] = say("feet and inches, or millimetres", "us", assume=True)
    codes: str = say("the codes named on the pages", "IBC 2021, ASCE 7-16, ACI 318-19", assume=True)
    note: str = say("anything the pages should repeat at the top", "")
    replaces: str = say("the job hash of the set this one replaces", "")


@record
class Soil:
    class_: SoilName = say(
        "class of the presumptive table: rock, sandy gravel, sand, clay", "sand", assume=True, key="class"
    )
    bearing: Annotated[Pressure, "positive"] | None = say("allowable bearing; else by class from the table")
    side: UnitWeight | None = say("allowable lateral bearing per foot of depth; else by class")
    friction: Ratio | None = say("sliding friction; else by class")
    cohesion: Pressure | None = say("adhesion of clays; else by class")
    stiff: Annotated[Subgrade, "positive"] = say("subgrade modulus: how far it gives", 25 * 271447.0, assume=True)
    weight: Annotated[UnitWeight, "positive"] = say("unit weight of the soil", 110 * 157.087464, assume=True)
    slope: Literal["stable rock", "A", "B", "C"] = say("excavation type of the trench rules", "C", assume=True)
    swell: Annotated[Number, "positive"] = say("loose over bank volume of the spoil", 1.25, assume=True)
    from_: str = say("where these figures come from: table, or the report's date", "table", key="from")


@record
class Wind:
    speed: Annotated[Speed, "positive"] = must("basic wind speed, 3 s gust, risk category as designed")
    exposure: Literal["B", "C", "D"] = say("exposure of the ground around", "C", assume=True)
    ground: Literal["flat"] = say("hills need the topographic factor, which is not computed here", "flat", assume=True)


@record
class Site:
    soil: Soil = field(default_factory=Soil, metadata={"say": "what it stands on"})
    seismic: Literal["A", "B", "C", "D", "E", "F"] = say("seismic design category", "C", assume=True)
    frost: Reach = say("depth of frost below the finished ground", 0.0, assume=True)
    water: str = say("ground water, in words", "none seen", assume=True)
    wind: Wind | None = say("design wind; left out, no wind check is made and the book says so")
    exposed: tuple[Annotated[str, Written("exposure")], ...] = say(
        "exposure classes of the concrete: F0 S0 W0 C1 and so on", ("F1", "S0", "W0", "C1"), assume=True
    )


@record
class Elevation:
    """A level above or below something: { level = "bench", up = "6 in" } or { below = "ground", down = "42 in" }."""

    level: LevelName | None = say("a named level")
    above: Literal["ground"] | None = say("measured up from the ground at the place")
    below: Literal["ground"] | None = say("measured down from the ground at the place")
    up: Reach | None = say("how far up")
    down: Reach | None = say("how far down")


@record
class Falls:
    along: LineName = must("the line along whose direction the ground falls")
    one_in: Annotated[Number, "positive"] = must("one unit down in so many along")


@record
class Grade:
    level: LevelName = must("the level the grade is measured from, at the start of its line")
    up: Reach | None = say("how far the ground lies above it")
    down: Reach | None = say("how far the ground lies below it")
    falls: Falls | None = say("which way it falls; level where left out")


@record
class Ground:
    grade: Grade | None = say("a plane")
    spots: tuple[tuple[Coordinate, Coordinate, Coordinate], ...] = say(
        "spot levels x, y, z; between them it is interpolated", ()
    )


@record
class Level:
    z: Coordinate = must("height of the bench mark above the job's zero")


@record
class Mark:
    at: tuple[Coordinate, Coordinate] = must("a nail, pin or corner: x, y")
    latitude: Annotated[Angle, "on the earth"] | None = say("WGS 84, north positive; of two marks, for points.geojson")
    longitude: Annotated[Angle, "on the earth"] | None = say("WGS 84, east positive")


@record
class Line:
    """A string line: from a point to a point, or square to another line at a distance along it, or beside one.

    From a point to a point it may bend, by its rise or its radius, or round a mark at its centre.
    """

    from_: PointName | tuple[Coordinate, Coordinate] | None = say(
        "its start: x, y, a mark, the centre of what is placed, or a bolt, west.bolt.1", key="from"
    )
    to: PointName | tuple[Coordinate, Coordinate] | None = say("a point on it, named in the same ways")
    bulges: Literal["left", "right"] | None = say("an arc: to which side of the way from its start to its end")
    rise: Size | None = say("how far the middle of the arc stands off its chord; it is set off the chord")
    radius: Size | None = say("the arc's radius, in place of its rise; at most half a circle")
    centre: MarkName | None = say(
        "the nail in place of rise and radius: the arc is swung from it, begins at `from`, ends in line with `to`"
    )
    square_to: LineName | None = say("the line it stands square to, turning left")
    beside: LineName | None = say("the line it runs parallel to")
    at: Reach | None = say("distance along that line, for square_to")
    left: Reach | None = say("offset to the left, for beside")
    right: Reach | None = say("offset to the right, for beside")


@record
class Step:
    """One measurement of a placing chain: along a line, off a line, or the turn."""

    along: LineName | None = say("measure along this line")
    from_: StartName | None = say(
        "where the tape is held: a line to offset from, or the thing measured from", key="from"
    )
    ahead: Reach | None = say(
        "this far in the line's direction; left out between two posts it follows from the opening"
    )
    back: Reach | None = say("this far against the line's direction")
    left: Reach | None = say("this far to the left of the line")
    right: Reach | None = say("this far to the right of the line")
    turn: LineName | None = say("the thing's own along is this line's direction")


@record
class Shift:
    """A move in the thing's own turn. `along` is ahead, `across` is to the left."""

    along: Reach | None = say("ahead")
    back: Reach | None = say("the other way")
    across: Reach | None = say("to the left")
    right: Reach | None = say("to the right")


# ---- concrete and steel in it ----


@record
class OnSite:
    """What a mix is made of where it is mixed on site. The defaults are typical and invented: weigh and sieve yours."""

    average: Annotated[Pressure, "positive"] | None = say(
        "average strength to aim at, from test records; else what ACI 301 asks for without any"
    )
    fineness: Annotated[Number, "positive"] = say("fineness modulus of the sand", 2.8, assume=True)
    sand_gravity: Annotated[Number, "positive"] = say("how much heavier than water sand is", 2.64, assume=True)
    sand_wet: Ratio = say("water the sand holds, over its dry weight", 0.05, assume=True)
    sand_drinks: Ratio = say("water that dry sand drinks, over its weight", 0.007, assume=True)
    stone_gravity: Annotated[Number, "positive"] = say("how much heavier than water stone is", 2.68, assume=True)
    stone_wet: Ratio = say("water the stone holds, over its dry weight", 0.01, assume=True)
    stone_drinks: Ratio = say("water that dry stone drinks, over its weight", 0.005, assume=True)
    rodded: Annotated[UnitWeight, "positive"] = say(
        "weight of the stone, dry and rodded", 100 * 157.087464, assume=True
    )
    batch: Volume = say("concrete that one batch of the mixer makes", 3 * 0.028316846592, assume=True)


@record
class Mix:
    strength: Annotated[Pressure, "positive"] = must("specified strength at 28 days")
    stone: Size = say("largest stone", 0.01905, assume=True)
    slump: Size = say("slump at the chute", 0.1016, assume=True)
    weight: Annotated[UnitWeight, "positive"] = say("unit weight of the fresh concrete", 150 * 157.087464, assume=True)
    cement: Literal["Type I", "Type II", "Type III"] = say("cement type", "Type I", assume=True)
    retarder: bool = say("whether an admixture delays the set", False, assume=True)
    flows: bool = say("whether it levels itself, or nobody knows how it sets: its forms take the full head", False)
    slag: Ratio = say("share of slag in the binder", 0.0)
    fly_ash: Ratio = say("share of fly ash in the binder", 0.0)
    silica_fume: Ratio = say("share of silica fume in the binder", 0.0)
    air: Ratio | None = say("air content asked for; else by exposure class")
    water_cement: Annotated[Number, "positive"] | None = say("greatest w/cm asked for; else by exposure class")
    cement_content: Annotated[MassDensity, "positive"] | None = say("binder per volume, from the ticket")
    water: Annotated[MassDensity, "positive"] | None = say("mixing water per volume, from the ticket")
    on_site: OnSite | None = say("its sand, stone and mixer, where it is mixed on site")


@record
class Edges:
    corners: Reach = say("leg of the strips in the upright corners, along each face", 0.0)
    returns: Reach | None = say(
        "their leg along left and right, where it is another than along ahead and back; "
        "of many sides along the next face counter-clockwise"
    )
    top: Reach = say("leg of the strips along the top edges, in from the side", 0.0)
    down: Reach | None = say("how far a top strip reaches down the side; as far as it reaches in where left out")
    corner_shape: EdgeShape = say("chamfer, square recess or bevelled groove", "chamfer")
    top_shape: EdgeShape = say("the same of the top edges", "chamfer")
    through: Literal["corners", "top"] = say("which strips run whole; the others stop against them", "corners")
    facets: bool = say("top strips run across the faces of the corner strips too", False)


@ordered
class BarRun:
    """`8 #5`, `3 #3 @ 2 in from top`, `#3 @ 10 in`, `8 ø16`: how many of which bar at what spacing from where."""

    size: str
    count: int | None = None
    spacing: Any = None
    start: str | None = None  # "top", "bottom", "each end"


@record
class FaceCover:
    north: Size | None = say("cover as found on the north face", found=True)
    south: Size | None = say("cover as found on the south face", found=True)
    east: Size | None = say("cover as found on the east face", found=True)
    west: Size | None = say("cover as found on the west face", found=True)
    bottom: Size | None = say("cover as found below", found=True)
    top: Size | None = say("cover as found on top", found=True)


@record
class PierBars:
    up: BarRun = must("the uprights: 8 #5")
    ties: tuple[BarRun, ...] = say("ties, first rule wins: 3 #3 @ 2 in from top, then #3 @ 10 in", ())
    cover: Size | FaceCover | None = say("clear cover to the outermost steel; else by the code's table")
    grade: Annotated[Pressure, "positive"] = say("yield strength", 60000 * 6894.757293168361, assume=True)
    hook: Literal["out", "in", "none"] = say("which way the feet of the uprights turn in the pad", "out", assume=True)
    missing: tuple[Annotated[str, Written("bar_name")], ...] = say("bars not there when looked: tie 4", (), found=True)


@record
class PadBars:
    along: BarRun = must("bars that run along")
    across: BarRun = must("bars that run across")
    at: Literal["bottom", "top", "both"] = say("which face", "bottom", assume=True)
    cover: Size | None = say("clear cover; else by the code's table")
    grade: Annotated[Pressure, "positive"] = say("yield strength", 60000 * 6894.757293168361, assume=True)


@record
class BeamBars:
    top: BarRun = must("top bars")
    bottom: BarRun = must("bottom bars")
    ties: tuple[BarRun, ...] = say("closed ties, first rule wins", ())
    cover: Size | None = say("clear cover; else by the code's table")
    grade: Annotated[Pressure, "positive"] = say("yield strength", 60000 * 6894.757293168361, assume=True)
    missing: tuple[Annotated[str, Written("bar_name")], ...] = say("bars not there when looked", (), found=True)


@record
class PadStep:
    """A smaller block of the footing, on the pad or on the step below it."""

    along: Size = must("size along the pier's own turn")
    across: Size = must("size across it")
    thick: Size = must("depth of concrete")
    shift: Shift | None = say("how far its centre stands off the pier's")


@record
class PierPad:
    along: Size = must("size along the pier's own turn")
    across: Size = must("size across it")
    thick: Size = must("depth of concrete")
    shift: Shift | None = say("how far its centre stands off the pier's")
    steps: tuple[PadStep, ...] = say("smaller blocks on it, from below up; the pier stands on the last", ())
    over: Reach = say("how far the hole was dug beyond it on each side", 0.0, found=True)


@record
class Row:
    along: LineName = must("the line the row runs along")
    count: int = must("how many")
    first: Reach = must("distance along the line to the first")
    every: Size = must("spacing")
    left: Reach | None = say("offset to the left of the line")
    right: Reach | None = say("offset to the right of the line")


@record
class Pier:
    """Rectangular (along, across), square, round, or a regular polygon (sides, flats)."""

    along: Size | None = say("size along its own turn")
    across: Size | None = say("size across it")
    square: Size | None = say("side of a square pier")
    round: Size | None = say("diameter of a round pier")
    sides: int | None = say("how many sides a polygonal pier has")
    flats: Size | None = say("its width across flats")
    batter: Reach = say("how far each side leans in from its foot to its top; the sizes are those of the foot", 0.0)
    edges: Edges = field(default_factory=Edges, metadata={"say": "chamfers"})
    top: Elevation | None = say("two of top, bottom and height; the third follows")
    bottom: Elevation | None = say("underside of the pier: on its pad, or its uppermost step, where there is one")
    height: Size | None = say("height of the pier, without its pad and steps")
    pad: PierPad | None = say("the footing it stands on")
    place: tuple[Step, ...] = say("the measuring chain in the order it will be done", ())
    bars: PierBars | None = say("its cage")
    pad_bars: PadBars | None = say("the mat in its pad")
    mix: MixName = must("which mix")
    shift: Shift | None = say("where it stands off the place it was meant to", found=True)
    lean: Annotated[Angle, "either side"] | None = say("out of plumb, along", found=True)
    left_out: str = say("why this one of a row is not built", "")


@record
class Pad:
    """A flat pad on the ground: for a machine, an operator, steps."""

    along: Size = must("size along its own turn")
    across: Size = must("size across it")
    thick: Size = must("depth of concrete")
    edges: Edges = field(default_factory=Edges, metadata={"say": "chamfers"})
    top: Elevation = must("its top")
    place: tuple[Step, ...] = say("the measuring chain", ())
    bars: PadBars | None = say("its mat")
    mix: MixName = must("which mix")
    shift: Shift | None = say("where it stands off the place it was meant to", found=True)
    over: Reach = say("how far the hole was dug beyond it on each side", 0.0, found=True)


@record
class Beam:
    between: tuple[BaseName, BaseName] = must("the two piers it ties")
    wide: Size = must("width")
    deep: Size = must("depth")
    top: Elevation = must("its top")
    bars: BeamBars | None = say("its bars")
    mix: MixName = must("which mix")
    shift: Shift | None = say("how far off the line between its piers it was cast", found=True)
    over: Reach = say("how far the trench was dug beyond it on each side", 0.0, found=True)


# ---- what stands on bolts ----


@ordered
class BoltSet:
    """`4 x 3/4 in F1554-36`."""

    count: int
    diameter: Any
    grade: str


@record
class Joint:
    """Plate, bolts and weld between a post (or machine) and its concrete."""

    plate: tuple[Size, Size, Size] = must("plate along, across, thick")
    bolts: BoltSet = must("4 x 3/4 in F1554-36")
    square: Size | None = say("side of the bolt square")
    rows: tuple[Size, Size] | None = say("bolt spacing along and across")
    circle: Size | None = say("bolt circle diameter")
    at: tuple[tuple[Coordinate, Coordinate], ...] = say("free pattern: points in the plate's own axes", ())
    deep: Size = must("embedment below the top of the concrete")
    foot: Literal["hook", "nut", "plate"] = say("what holds the bolt's foot", "nut", assume=True)
    proud: Size = must("how far the bolt stands above the concrete")
    grout: Reach = say("gap under the plate: grout or levelling nuts", 0.0254, assume=True)
    weld: Size | None = say("fillet leg of the post on the plate")
    hole: Size | None = say("hole in the plate; else by the table")
    holes: Literal["drilled", "cut"] = say("how the plate shop makes them", "drilled", assume=True)
    washer: Size | None = say("thickness of the plate washer; else by the table")
    thread: Size | None = say("thread at the top of the bolt as it is bought")


@record
class Tape:
    from_: MarkName = must("the mark the tape is held at", key="from")
    tape: Size = must("what it reads")


@record
class Faces:
    """From two faces of the form that meet, square to each."""

    ahead: Reach | None = say("from the face ahead", found=True)
    back: Reach | None = say("from the face at the back", found=True)
    left: Reach | None = say("from the face on the left", found=True)
    right: Reach | None = say("from the face on the right", found=True)


@record
class FoundBolt:
    """Where it stands in one of three ways, or in several, which must then agree."""

    at: tuple[Coordinate, Coordinate] | None = say("where it stands, in the plate's own axes", found=True)
    taped: tuple[Tape, ...] = say("its distances from two marks", (), found=True)
    faces: Faces | None = say("its distances from two faces of the form", found=True)
    proud: Size | None = say("how far it stands above the concrete", found=True)
    leans: Annotated[str, Written("lean")] = say(
        "lean, in words: 1/8 in in 4 in; with its way where it was seen: 1/8 in left in 4 in", "", found=True
    )
    hole: Size | None = say("the plate's hole over it, where it was opened", found=True)
    slot: Annotated[str, Written("slot")] = say(
        "how much longer that hole was slotted, and which way: 1/4 in ahead left, or 1/4 in at 30 deg",
        "",
        found=True,
    )


@record
class Socket:
    in_: BaseName = must("the pier it is cast into", key="in")
    deep: Size = must("how deep it stands in the concrete")


@record
class Post:
    on: BaseName | None = say("the pier or pad it stands on")
    section: SectionName = must("HSS5X5X1/4, Pipe 4 STD")
    height: Size = must("from the top of the concrete to the top of the post")
    joint: Joint | None = say("its plate and bolts")
    set: Socket | None = say("cast in instead")
    shift: Shift | None = say("where it stands off the centre of its pier")
    lean: Annotated[Angle, "either side"] | None = say("out of plumb along the line, as found", found=True)
    bolts: dict[int, FoundBolt] = many("bolts as found, by number", found=True)


@record
class Hung:
    on: PostName = must("the post it hangs on")
    heights: tuple[Size, Size] | None = say("lower and upper hinge above the top of the concrete")
    gap: Reach | None = say("from the post's face to the leaf")
    swings: Literal["in", "out"] = say("which way it opens, seen from the start of the line", "in", assume=True)
    to: Annotated[Angle, "positive"] = say("how far it opens", 1.5707963267948966, assume=True)


@record
class Shuts:
    on: Annotated[str, NameOf(("posts", "leaves"))] = must("the post or leaf it meets")
    gap: Reach | None = say("latch gap")
    bolt: Literal["side", "down"] = say("a latch to the side or a drop bolt", "side", assume=True)
    play: Size = say("how far the latch may be off in height and still catch", 0.0127, assume=True)


@record
class Leaf:
    hung: Hung = must("hinges")
    shuts: Shuts = must("latch")
    size: tuple[Size, Size] = must("length, height")
    weight: Annotated[Force, "positive"] = must("with its fittings")
    solid: Annotated[Number, "positive"] = say("share of its area that catches wind", 1.0, assume=True)
    clear: Reach = say("under the leaf, above the top of the concrete", 0.1016, assume=True)
    person: Force = say("someone on the latch end", 250 * 4.4482216152605, assume=True)


@record
class Sign:
    on: PostName = must("the post that carries it")
    face: tuple[Size, Size] = must("length, height")
    bottom: Elevation = must("underside of the face")
    weight: Annotated[Force, "positive"] = must("with its frame")
    solid: Annotated[Number, "positive"] = say("share of its area that catches wind", 1.0, assume=True)


@record
class Machine:
    on: BaseName = must("the pad it stands on")
    weight: Annotated[Force, "positive"] = must("in working order")
    centre: Size = say("height of its centre of mass above the concrete", 0.5, assume=True)
    side: Force = say("side force in service: thrust, pull of a belt", 0.0, assume=True)
    joint: Joint = must("its feet and bolts")
    shift: Shift | None = say("where it stands off the centre of the pad")
    bolts: dict[int, FoundBolt] = many("bolts as found, by number", found=True)


# ---- pipes ----


@record
class PipeLeg:
    """Up in a pier at a place of its section, or along in a beam."""

    up_in: BaseName | None = say("rises in this pier")
    in_: Annotated[str, NameOf(("beams",))] | None = say("runs in this beam", key="in")
    along: Coordinate = say("off the pier's centre, ahead", 0.0)
    across: Coordinate = say("off the pier's centre, to the left", 0.0)
    to: Annotated[str, Written("stub")] = say("6 in above top", "6 in above top")
    side: Literal["left", "middle", "right"] = say("which side of the beam", "middle")
    from_bottom: Reach = say("centre above the beam's underside", 0.127)


@record
class Blockout:
    """A pocket or a hole that a box leaves in the concrete, fixed to a panel or hung in the top."""

    in_: PlainName = must("the pier (never its pad), flat pad or beam it is left in", key="in")
    side: str = must("the face it opens to: ahead, left, back, right; of many sides its number; top")
    left: Reach | None = say("its middle this far left of the face's, seen from outside; on top left of the centre")
    right: Reach | None = say("the same to the right")
    ahead: Reach | None = say("on top: its middle this far ahead of the centre")
    back: Reach | None = say("on top: this far behind the centre")
    up: Reach | None = say("in a side: its middle above the foot of the concrete")
    down: Reach | None = say("in a side: its middle below the top of the concrete")
    wide: Size = must("its opening, level along the face; on top ahead")
    high: Size = must("its opening, up the face; on top across")
    deep: Size | None = say("how deep it goes in, square to the face")
    through: bool = say("it goes right through to the other side, or from the top to the ground", False)
    of: Literal["plywood", "lumber", "foam", "box"] = say(
        "what leaves it: a box of plywood, a block of lumber or of foam, or a bought box that is cast in",
        "plywood",
        assume=True,
    )
    stays: bool | None = say("whether it stays in the concrete; a bought box does, all else comes out")
    draft: Ratio | None = say("how much each of its sides comes in for each depth; 1/12 of what comes out in one piece")


@record
class Pipe:
    pipe: PipeName = must("1 in PVC 40")
    wires: tuple[Annotated[str, Written("wires")], ...] = say("3 #12", ())
    route: tuple[PipeLeg, ...] = must("legs in order")


# ---- the days ----


@record
class Truck:
    away: Time | None = say("drive from the plant")
    load: Annotated[Volume, "positive"] = say("what one truck carries", 8 * 0.764554857984, assume=True)
    oldest: Annotated[Time, "positive"] = say(
        "age at which a load must be out, from water on cement; by the order, else ASTM C94-17a", 5400.0, assume=True
    )


@record
class Lift:
    of: tuple[PlacedName, ...] = must("pads, beams, piers, or names")
    slump: Size | None = say("slump of this lift; else the mix's")
    wetted: Literal["", "water", "admixture"] = say("how it gets from the slump delivered to this one", "")
    covered: bool = say("whether boards close its pads round the piers, so that the piers need not wait", False)
    water: WaterContent = say("water put in on site", 0.0, found=True)


@record
class Load:
    """What came out of the chute for one lift, as logged at the truck. A truck that serves two lifts is two loads."""

    lift: int = must("which lift it went into, counted from 1")
    truck: int | None = say("which truck, where it served several lifts: its water stays in it", found=True)
    volume: Volume | None = say("concrete on the delivery ticket", found=True)
    slump: Size | None = say("slump as tested, after any water", found=True)
    water: Volume | None = say("water put in on site", found=True)
    drum: Annotated[Volume, "positive"] | None = say("concrete left in the drum when the water went in", found=True)
    temperature: Annotated[Celsius, "either side"] | None = say("temperature of the concrete", found=True)
    air: Ratio | None = say("air as tested", found=True)
    batched: datetime | None = say("water met cement, by the ticket", found=True)
    begun: datetime | None = say("the first of it was placed", found=True)
    empty: datetime | None = say("the last of it was out", found=True)
    batch: Annotated[Mass, "positive"] | None = say("weight of all that was batched, by the ticket", found=True)
    weighs: Annotated[UnitWeight, "positive"] | None = say("unit weight as tested", found=True)


@record
class Order:
    """What his plant asks, and who signs. Prices in any money, for a yd3, or for a m3 in a metric job."""

    address: str = say("where the truck comes to", "")
    signs: str = say("who signs the ticket, may have water put in and may send a load back", "")
    washout: str = say("where the truck washes out", "")
    admixtures: str = say("admixtures to ask for, in the plant's words", "")
    price: Ratio | None = say("price of the concrete by volume")
    short_fee: Ratio = say("fee of the plant for a short load", 0.0)
    short_for: Literal["load", "volume"] = say("whether that is for the load or for each volume it is short by", "load")
    short_below: Volume = say("a load smaller than this is short", 0.0)
    waiting: Ratio = say("price of an hour of waiting beyond the free time", 0.0)
    free: Time | None = say("free time of unloading by volume; else 7 min a yard")
    bag: Literal["80 lb", "60 lb", "40 lb", "20 lb", "25 kg", "20 kg"] | None = say("bag of mix to set against a truck")
    bag_price: Ratio | None = say("price of one")


@record
class Spread:
    """How far a pour comes out otherwise, one standard deviation each. All guesses until he has measured."""

    hole: Reach = say("a side of a hole, over and above what was found", 0.0254, assume=True)
    form: Reach = say("a side of a form", 0.003175, assume=True)
    waste: Ratio = say("waste, over the concrete", 0.02, assume=True)
    yield_: Ratio = say("what a load really holds, over its ticket", 0.01, assume=True, key="yield")


@record
class Weather:
    """One hour of the forecast, or of what was measured; hours follow each other without gaps."""

    at: datetime = must("the hour's beginning: 2027-04-12T09:00:00")
    air: Annotated[Celsius, "either side"] = must("temperature of the air")
    humidity: Annotated[Number, "zero or more"] = must("relative: 60 %")
    wind: Annotated[Speed, "zero or more"] = must("speed, a man's height above the ground or lower")
    rain: Annotated[RateOfRise, "zero or more"] = say("how much falls in an hour: 0.1 in/h", 0.0)


@record
class Batch:
    """How warm the plant's materials are: for the temperature of the concrete as mixed."""

    cement: Annotated[Celsius, "either side"] = must("temperature of the cement")
    stone: Annotated[Celsius, "either side"] = must("temperature of stone and sand")
    water: Annotated[Celsius, "either side"] = must("temperature of the mixing water")
    ice: Ratio = say("share of the mixing water put in as ice", 0.0)
    wet: Ratio = say("free water of stone and sand, of their mass", 0.0)


@record
class Warmth:
    """A thermometer read in the concrete, near its coldest edge."""

    lift: int = must("which lift, counted from 1")
    after: Time = must("how long after the end of placing")
    reads: Annotated[Celsius, "either side"] = must("what it reads")


@record
class Break:
    """Cylinders of one age broken: the mean of two or more."""

    lift: int = must("which lift they were made from, counted from 1")
    after: Annotated[Time, "positive"] = must("how old they were")
    strength: Annotated[Pressure, "positive"] = must("mean strength")
    cured: Literal["on site", "in the lab"] = must("beside the work, or moist at 73 F in the laboratory")


@record
class Pour:
    when: datetime | None = say("start of placing")
    by: Literal["chute", "barrow", "line pump", "bucket"] = say("how concrete gets to the forms", "chute", assume=True)
    crew: int = say("people who place it", 2, assume=True)
    vibrator: Size = say("width of the vibrator's head", 0.0381, assume=True)
    vibrators: int = say("how many run at once", 1, assume=True)
    rate: Annotated[RateOfRise, "positive"] | None = say("rate of rise in the piers; else full liquid head")
    from_below: bool = say("whether the forms are pumped full from their foot", False)
    vibrated: Size = say("how far below its surface the concrete is vibrated while it rises", 0.9144, assume=True)
    concrete: Annotated[Celsius, "either side"] = say("temperature of the concrete as placed", 20.0, assume=True)
    air: Annotated[Celsius, "either side"] = say("mean air temperature of the days after", 15.0, assume=True)
    swing: TemperatureDifference = say(
        "how far that air rises by day and falls by night, where no forecast says", 5.0, assume=True
    )
    kept: Literal["warm", "open"] = say(
        "while it cures: at 50 F or warmer, as the code asks, by blankets where needed; or open to the air",
        "warm",
        assume=True,
    )
    blanket: Resistance = say("thermal resistance of the blankets", 0.5, assume=True)
    earth: Annotated[Celsius, "either side"] | None = say("temperature of the ground; else the mean of the air")
    sun: Literal["shade", "open"] = say("whether the sun reaches its top", "shade", assume=True)
    waste: Ratio = say("waste on what is formed, or cast in a measured hole", 0.05, assume=True)
    earth_waste: Ratio = say("waste on what is cast against earth that was not measured", 0.10, assume=True)
    truck: Truck = field(default_factory=Truck, metadata={"say": "the plant's truck"})
    lifts: tuple[Lift, ...] = say(
        "what is placed in one go, in order; else pads and beams, then piers and beams clear of the ground", ()
    )
    order: Order = field(default_factory=Order, metadata={"say": "what the plant asks and who signs"})
    spread: Spread = field(default_factory=Spread, metadata={"say": "how far it comes out otherwise"})
    weather: tuple[Weather, ...] = say("the forecast, hour by hour", ())
    weather_file: str = say("the same in a CSV file, or an EPW year, beside the job file", "")
    batch: Batch | None = say("the plant's materials; left out, only what they must give is said")
    loads: dict[int, Load] = many("loads as they came, by number", found=True)
    thermometer: dict[int, Warmth] = many("temperatures read in the concrete, by number", found=True)
    breaks: dict[int, Break] = many("cylinders broken, by number", found=True)


@record
class Lead:
    """How long the others take. All guesses until his own offices have answered."""

    permit: Time = say("permit desk", 14 * 86400.0, assume=True)
    locate: Time = say("utility locate, notice before digging", 3 * 86400.0, assume=True)
    inspection: Time = say("notice before an inspection", 86400.0, assume=True)
    plant: Time = say("notice to the ready-mix plant", 86400.0, assume=True)
    dig: Time = say("digging and trimming", 86400.0, assume=True)
    cage: Time = say("cage, forms and bolts", 3 * 86400.0, assume=True)


@record
class Sheet:
    of: SheetName = must("3/4 in plywood")
    size: tuple[Size, Size] = must("along the face grain, across it")
    thick: Size | None = say("actual thickness; else by name")
    have: int | None = say("how many lie in the shop; without limit where left out")


@record
class Stick:
    of: Literal["2x4", "2x6", "4x4", "strip"] = must("lumber, or chamfer strip")
    long: Size = must("its length")
    leg: Size | None = say("leg of a strip; left out, it is there for every leg")
    other_leg: Size | None = say("its other leg, where it is not as long")
    price: Ratio | None = say("price of one; where one of its kind has none, the least length is bought")
    have: int | None = say("how many lie about; without limit where left out")

    @property
    def legs(self) -> tuple[Any, Any] | None:
        """Of a strip, the longer first, since it is turned either way; None where it is there for every leg."""
        if self.leg is None:
            return None
        other = self.leg if self.other_leg is None else self.other_leg
        return max(self.leg, other), min(self.leg, other)


@record
class Stock:
    sheets: tuple[Sheet, ...] = say("form plywood to buy or on hand", ())
    sticks: tuple[Stick, ...] = say("lumber and strips to buy or on hand; else the yard's usual lengths", ())
    keep: Reach = say("shortest offcut of a stick that is worth keeping", 0.6096, assume=True)
    kerf: Reach = say("width of the saw's cut", 0.003175, assume=True)
    lap: Lap = say("corners of boxes: two panels run past the other two, or each past one, all the way round", "past")
    bar: Size = say("length of a stock bar", 6.096, assume=True)
    yoke: Literal["2x4", "2x6", "4x4"] = say("lumber of the yokes, on edge", "2x4", assume=True)
    lumber: LumberName = say("species and grade", "DF-L No. 2", assume=True)
    brace: Literal["2x4", "2x6", "4x4"] = say("lumber of braces, studs, wales and stakes", "2x4", assume=True)
    strap: Annotated[Force, "positive"] | None = say("rated working load of the straps or bands round a form")
    tie: Annotated[Force, "positive"] = say("rated working load of a form tie", 10008.4, assume=True)
    tie_plate: Size = say("side of the plate that a tie bears on both sticks of its wale with", 0.0762, assume=True)
    tube: Size | None = say("head of concrete that the maker rates his tubes for")
    stake: Annotated[Force, "positive"] = say("what one stake holds in this ground, whichever way", 889.64, assume=True)


@record
class Instruments:
    """One standard deviation each. Common practice, no source, until he has tested his own."""

    tape: Reach = say("reading a tape to a mark", 0.0015875, assume=True)
    tape_scale: Ratio = say("a tape's own length, per length", 0.0002, assume=True)
    tape_long: Annotated[Number, "either side"] = say(
        "how much longer the tape is than its figures say, per length; shorter is negative", 0.0
    )
    tape_at: Annotated[Celsius, "either side"] = say("temperature of a steel tape when it is used", 20.0, assume=True)
    tape_standard: Annotated[Celsius, "either side"] = say("temperature at which it has its length", 20.0)
    tape_pull: Annotated[Force, "positive"] = say("how hard it is pulled", 10 * 4.4482216152605, assume=True)
    tape_standard_pull: Annotated[Force, "positive"] = say("pull at which it has its length", 10 * 4.4482216152605)
    tape_section: Annotated[Area, "positive"] = say("steel in its section, 3/8 x 0.010 in", 0.00375 * 0.00064516)
    tape_weight: LineLoad = say("weight of the tape, per length", 0.0128 * 14.593902937)
    tape_hangs: Size | None = say("free span between supports; left out, it lies on the ground and does not sag")
    level_with: Literal["laser", "builder's level", "water level", "line level", "eye"] = say(
        "what heights are taken with", "laser", assume=True
    )
    level: Reach | None = say("one levelled height from the bench mark; else that of the instrument")
    laser: Reach = say("a height by rotating laser: 1/8 in at 60 ft, a builders' blog", 0.003175, assume=True)
    builders_level: Reach = say("a height by builder's level and rod", 0.0015875)
    water_level: Reach = say("a height by water level", 0.003175)
    line_level: Reach = say("a height by a line level on a tight string", 0.00635)
    eye: Reach = say("a height judged by eye", 0.0127)
    string: Reach = say("a string line where it crosses", 0.0015875, assume=True)
    line_end: Reach = say("a line's end on its nail", 0.003175, assume=True)
    square: Annotated[Angle, "zero or more"] = say("a right angle by 3-4-5", 0.0007, assume=True)
    template: Reach = say("setting a template's centre on its marks", 0.0015875, assume=True)
    turn: Annotated[Angle, "zero or more"] = say("turning a template to the line", 0.002, assume=True)
    drill: Reach = say("a hole drilled through the template", 0.0008, assume=True)
    bolt: Reach = say("a bolt moved while placing and vibrating", 0.0015875, assume=True)
    plumb_with: Literal["spirit level", "plumb bob", "eye"] = say(
        "what posts are plumbed with", "spirit level", assume=True
    )
    plumb: Annotated[Angle, "zero or more"] | None = say("a post set plumb; else that of the instrument")
    spirit_level: Annotated[Angle, "zero or more"] = say("a post plumbed by spirit level", 0.001, assume=True)
    plumb_bob: Annotated[Angle, "zero or more"] = say("a post plumbed by plumb bob, out of the wind", 0.0007)
    plumb_eye: Annotated[Angle, "zero or more"] = say("a post plumbed by eye", 0.01)
    leaf: Reach = say("the length of a leaf as built", 0.0015875, assume=True)


@record
class Reading:
    """A check measurement: between two points, a level, a point along or off a line, or between two posts' faces."""

    across: tuple[str, str] | None = say("taped between two points: west.bolt.1, east.bolt.3")
    clear: Annotated[str, NameOf(("leaves",))] | None = say("taped between the posts of this leaf, face to face")
    at: Literal["low", "high"] = say("at the lower or the upper hinge", "low")
    tape: Size | None = say("what the tape said")
    with_: Literal["tape", "second tape"] = say("the tape the job is set out with, or another one", "tape", key="with")
    level: str | None = say("a levelled point: west.top, or another bench mark")
    from_: Annotated[str, NameOf(("levels", "piers", "pads"))] | None = say(
        "the bench mark or concrete it was read from", key="from"
    )
    up: Reach | None = say("above it")
    down: Reach | None = say("below it")
    point: str | None = say("a point measured along or off a line: west, east.bolt.1")
    along: LineName | None = say("along this line from its start")
    off: LineName | None = say("square off this line")
    ahead: Reach | None = say("this far ahead")
    back: Reach | None = say("this far behind the line's start")
    left: Reach | None = say("this far to the left of the line")
    right: Reach | None = say("this far to the right of the line")


@record
class Measured:
    readings: tuple[Reading, ...] = say("check measurements", ())


@ordered
class Overruled:
    """A planned key that the found table says otherwise: piers.west.pad.thick, 0.406, 0.457 and its dimension."""

    path: str
    planned: Any
    found: Any
    kind: Any


@ordered
class Assumption:
    """A default nobody wrote over: piers.west.bars.grade, what it means, and its value with its dimension."""

    path: str
    meaning: str
    value: Any
    kind: Any


@record
class Job:
    """One job file, read. With a [found] table this is the job as found, and `planned` the one before it."""

    job: Heading = must("name and units")
    site: Site = field(default_factory=Site, metadata={"say": "soil, frost, wind"})
    ground: Ground = field(default_factory=Ground, metadata={"say": "the surface"})
    levels: dict[str, Level] = many("bench marks")
    marks: dict[str, Mark] = many("nails and pins")
    lines: dict[str, Line] = many("string lines")
    mixes: dict[str, Mix] = many("concretes")
    piers: dict[str, Pier] = many("piers")
    pads: dict[str, Pad] = many("flat pads")
    beams: dict[str, Beam] = many("tie beams")
    posts: dict[str, Post] = many("posts")
    leaves: dict[str, Leaf] = many("gate leaves")
    signs: dict[str, Sign] = many("signs")
    machines: dict[str, Machine] = many("machines")
    pipes: dict[str, Pipe] = many("conduits")
    blockouts: dict[str, Blockout] = many("pockets and holes left in the concrete")
    pour: Pour = field(default_factory=Pour, metadata={"say": "pour day"})
    lead: Lead = field(default_factory=Lead, metadata={"say": "lead times"})
    stock: Stock = field(default_factory=Stock, metadata={"say": "what he builds with"})
    instruments: Instruments = field(default_factory=Instruments, metadata={"say": "what he measures with"})
    measured: Measured = field(default_factory=Measured, metadata={"say": "check measurements"})
    done: tuple[str, ...] = say(
        "what is cast: it stays where it was set out; names and groups as of lifts: west, west pad, pads, piers",
        (),
        found=True,
    )
    # Filled by the reader, never written in the file:
    planned: "Job | None" = None
    contradicted: tuple[Overruled, ...] = ()
    assumed: tuple[Assumption, ...] = ()
    path: str = ""
    text: str = ""  # the file's own text
    digest: str = ""  # the job hash printed on every sheet


# Tables of named things, in the order the trade builds them; names are unique over all of them.
TABLES = (
    "levels",
    "marks",
    "lines",
    "mixes",
    "piers",
    "pads",
    "beams",
    "posts",
    "leaves",
    "signs",
    "machines",
    "pipes",
    "blockouts",
)
