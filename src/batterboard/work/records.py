"""What will stand there: plain records of dimensions, in SI. Numbers or arrays of V variants; solids only on demand.

    frame : Frame(x=7.39, y=6.71, turn=0.0)      where a thing's own axes lie in the job's plan; z is height above zero
    own axes: x "along" ahead in the direction of the line of its turn, y "across" to its left, turn counter-clockwise
    body  : one block of concrete between two levels    pier : shaft + pad + bars    beam : a block between two piers

Where bars, bolts and pipes are is decided here; whether they fit is asked in `cage`. How sizes follow from the job file
stands in `build`.
"""

from collections.abc import Callable
from dataclasses import field, replace
from functools import cached_property
from math import pi, tan
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from batterboard.job.schema import Assumption, EdgeShape
from batterboard.methods import solids, volumes
from batterboard.record import record
from batterboard.standards import tables
from batterboard.work.ground import Ground
from batterboard.working import cos, minimum, nan, sin

if TYPE_CHECKING:
    from batterboard.work.arcs import Arc


@record
class Frame:
    """Own axes in the job's plan."""

    x: Any
    y: Any
    turn: Any  # [rad], counter-clockwise from the job's x

    def out(self, along: Any, across: Any) -> tuple[Any, Any]:
        """Job coordinates of a point given in own axes. Broadcasts."""
        c, s = cos(self.turn), sin(self.turn)
        return self.x + along * c - across * s, self.y + along * s + across * c

    def into(self, x: Any, y: Any) -> tuple[Any, Any]:
        """Own coordinates of a point of the job."""
        c, s = cos(self.turn), sin(self.turn)
        return (x - self.x) * c + (y - self.y) * s, -(x - self.x) * s + (y - self.y) * c

    def at(self, along: Any) -> "Frame":
        """The same axes so far ahead."""
        return self.moved(along, 0.0)

    def moved(self, along: Any, across: Any) -> "Frame":
        x, y = self.out(along, across)
        return Frame(x=x, y=y, turn=self.turn)


# How the two faces of what a strip leaves lean, per unit: one slope of a chamfer, square of a recess, a little off
# square of a groove so that its strip draws. The groove's figure is common practice, no source.
SLOPES = {"chamfer": 1.0, "recess": 0.0, "groove": 0.25}


@record
class Outline:
    """A plan section with chamfered upright corners (legs along the faces) and top edges."""

    kind: Literal["rectangle", "round", "polygon"]
    along: Any  # overall sizes; the diameter of a round one, across flats of a polygon
    across: Any
    sides: int = 4  # of a polygon: structure, never an array
    corners: Any = 0.0  # leg along the faces ahead and back; of many sides along the face before each corner
    returns: Any = None  # along the faces left and right; of many sides along the face after it; as far where None
    top: Any = 0.0
    down: Any = None  # how far the top chamfer reaches down; as far as it reaches in where None
    corner_shape: EdgeShape = "chamfer"
    top_shape: EdgeShape = "chamfer"
    through: Literal["corners", "top"] = "corners"  # which strips run whole
    facets: bool = False  # top chamfers run across the corner facets too
    batter: Any = 0.0  # how far each side leans in, from the foot to the top; all other sizes are those of the foot

    @property
    def drop(self) -> Any:
        """How far the top chamfer reaches down the side."""
        return self.top if self.down is None else self.down

    @property
    def other_leg(self) -> Any:
        """The other leg of a corner strip: how far it returns."""
        return self.corners if self.returns is None else self.returns

    @property
    def legs(self) -> tuple[tuple[Any, Any], ...]:
        """Of the strip in each corner in the order of `points`: along the face before it and the face after it."""
        b, c = self.corners, self.other_leg
        if self.kind == "polygon":
            return ((b, c),) * self.sides
        return () if self.kind == "round" else ((b, c), (c, b), (b, c), (c, b))

    def leaned(self, inset: Any) -> "Outline":
        """The upright outline at a height where its sides have come in so far."""
        return replace(self, along=self.along - 2 * inset, across=self.across - 2 * inset, batter=0.0)

    @property
    def plan(self) -> volumes.Outline:
        """The uncut plan, as volumes know it."""
        if self.kind == "round":
            return volumes.circle(self.along)
        if self.kind == "polygon":
            return volumes.regular_polygon(self.sides, self.along)
        return volumes.rectangle(self.along, self.across)

    @property
    def area(self) -> Any:
        """Plan area inside the forms at their foot [m2]."""
        if self.kind == "round":
            return pi * self.along * self.along / 4
        if self.kind == "polygon":
            half = pi / self.sides
            cut = self.corners * self.other_leg * sin(2 * half) / (1 + SLOPES[self.corner_shape])
            return self.sides * (tan(half) * self.along**2 / 4 - cut)
        return self.along * self.across - 4 * self.corners * self.other_leg / (1 + SLOPES[self.corner_shape])

    @property
    def least(self) -> Any:
        return minimum(self.along, self.across)

    def points(self) -> tuple[Any, Any]:
        """Corners of the uncut outline in own axes, counter-clockwise, items first. A round one as 48 points."""
        if self.kind == "rectangle":
            a, c = np.broadcast_arrays(self.along / 2, self.across / 2)
            return np.stack((a, -a, -a, a)), np.stack((c, c, -c, -c))
        n = 48 if self.kind == "round" else self.sides
        radius = self.along / 2 if self.kind == "round" else self.along / 2 / np.cos(pi / n)
        angle = (np.arange(n) + 0.5) * 2 * pi / n
        shape = (n,) + (1,) * np.ndim(radius)
        return radius * np.cos(angle).reshape(shape), radius * np.sin(angle).reshape(shape)


@record
class Body:
    """A block of concrete: an outline between two levels. The unit of volumes, lifts and forms."""

    name: str  # "west", "west pad", "west step 1", "tie"
    element: str  # the thing of the job it belongs to
    part: Literal["pier", "pad", "step", "beam", "slab"]
    outline: Outline
    frame: Frame
    bottom: Any  # [m] above the job's zero
    top: Any
    mix: str
    against: Literal["form", "earth"]  # what its sides are cast against below the ground
    over: Any = 0.0  # how far the hole was found wider on each side [m]
    shared: Any = 0.0  # volume that an earlier body already holds [m3]
    cast: bool = False  # already, as found
    blockouts: tuple[Any, ...] = ()  # pockets and holes left in it: a Blockout each, of a room read only where one is

    @property
    def height(self) -> Any:
        return self.top - self.bottom

    @cached_property
    def gross(self) -> Any:
        """Exact volume of the block as designed, chamfers and blockouts taken off [m3]."""
        return self.below(self.top)

    @property
    def volume(self) -> Any:
        """What has to be placed for it: without what it shares with an earlier body [m3]."""
        return self.gross - self.shared

    def below(self, z: Any) -> Any:
        """Exact volume of its part under a level, without its blockouts [m3]. Broadcasts."""
        o = self.outline
        block = volumes.prism_volume(
            o.plan,
            self.height,
            top_leg=o.top,
            top_down=o.down,
            top_slope=SLOPES[o.top_shape],
            corner_leg=o.corners if o.returns is None else o.legs,
            corner_slope=SLOPES[o.corner_shape],
            batter=o.batter,
            strips_across_corners=o.facets,
            filled_to=z - self.bottom,
        )
        return block - sum(hole.below(z - self.bottom) for hole in self.blockouts) if self.blockouts else block

    def inset(self, z: Any) -> Any:
        """How far its sides have leaned in at a level [m]."""
        return self.outline.batter * np.clip((z - self.bottom) / self.height, 0.0, 1.0)

    def section(self, z: Any) -> Outline:
        """Its outline at a level, without the top chamfer's cut there."""
        return self.outline if self.upright else self.outline.leaned(self.inset(z))

    @property
    def upright(self) -> bool:
        """Whether its sides stand plumb."""
        return not np.any(self.outline.batter)

    @property
    def head(self) -> Outline:
        """Its outline at the top: what bolts and bars have to keep inside of."""
        return self.outline if self.upright else self.outline.leaned(self.outline.batter)

    def between(self, low: Any, high: Any) -> Any:
        """Exact volume of its part between two levels [m3]."""
        return self.below(high) - self.below(low)

    @property
    def overdug(self) -> Any:
        """Concrete that fills the hole beyond the design, as found [m3]. A beam's ends stand against its piers."""
        o, wide = self.outline, 2 * self.over
        if o.kind != "rectangle":
            hole = Outline(kind=o.kind, along=o.along, across=o.across, sides=o.sides)
            larger = Outline(kind=o.kind, along=o.along + wide, across=o.across + wide, sides=o.sides)
            return (larger.area - hole.area) * self.height
        along = o.along if self.part == "beam" else o.along + wide
        return (along * (o.across + wide) - o.along * o.across) * self.height

    def solid(self) -> solids.Solid:
        """The block as half-spaces in the job's axes, made only when someone looks. One job, no arrays.

        With its chamfers; recesses and grooves are left standing, since no convex solid has them.
        """
        o = self.outline
        x, y = self.frame.out(*o.points())
        chamfered = o.kind != "round" and o.corner_shape == "chamfer"
        return solids.prism(
            x,
            y,
            float(self.bottom),
            float(self.top),
            corner_leg=np.array(o.legs, float) if chamfered else 0.0,
            top_leg=float(o.top) if o.top_shape == "chamfer" else 0.0,
            top_down=float(o.drop) if o.top else None,
            lean=float(o.batter) / float(self.height),
            strips_across_corners=o.facets,
        )


Role = Literal["up", "tie", "pad along", "pad across", "top", "bottom"]
Shape = Literal["straight", "L", "closed tie", "hoop", "both ends hooked"]


@record
class Bar:
    """One mark of the bar list: n equal bars, each a centre-line in the element's own axes."""

    mark: str  # "W1"
    element: str
    role: Role
    size: tables.BarSize
    shape: Shape
    legs: tuple[Any, ...]  # out to out, in bending order [m]
    x: Any  # (count, points, ...) centre-line corners, own axes of the element's frame; z above the job's zero
    y: Any
    z: Any
    yield_strength: Any

    @property
    def count(self) -> int:
        return len(self.x)


# Bars are laid when someone first asks for them: sizing and setting out need none.
Bars = Callable[[], tuple[Bar, ...]]


@record
class Bolts:
    """The anchor rods under one plate, in the template's axes; numbered from 1 counter-clockwise, ahead-left first."""

    name: str  # the post or machine
    frame: Frame  # the template's: where its centre was set and how it was turned
    rod: tables.Rod
    x: Any  # (n, ...) planned places
    y: Any
    found_x: Any  # as found; equal to the planned ones where nothing was found
    found_y: Any
    deep: Any  # embedment
    proud: Any  # (n, ...) above the concrete, as found where found
    meant: Any  # the same as planned: what is bought is as long as that
    leans: dict[int, Any]  # slope of those found leaning, by number
    lean_ways: dict[int, str] = field(default_factory=dict)  # ahead, back left, where it was written down
    sights: dict[int, tuple[tuple[str, Any, Any], ...]] = field(default_factory=dict)  # every way each was measured
    opened: dict[int, Any] = field(default_factory=dict)  # holes of the plate that were opened, by number
    slots: dict[int, tuple[Any, Any]] = field(
        default_factory=dict
    )  # slotted ones: how much longer ahead and to the left
    thread: Any = nan  # at the top of the rod as bought, nan where not said
    found: tuple[int, ...]  # numbers of those that were looked at
    foot: Literal["hook", "nut", "plate"]

    def room(self, hole: Any, low: Any, high: Any) -> "Room":
        """What a plate between two heights above the concrete asks of its holes.

        A rod that leans a known way must pass at both heights; where nobody wrote the way down, the worst takes its
        share of the room.
        """
        rows = []
        for i in range(len(self.x)):
            number = i + 1
            clear = (self.opened.get(number, hole) - self.rod.diameter) / 2
            lean, (ahead, left) = self.leans.get(number, 0.0), _WAYS.get(self.lean_ways.get(number, ""), (0, 0))
            slot_x, slot_y = self.slots.get(number, (0.0, 0.0))
            heights = (low, high) if ahead or left else (0.0,)
            for z in heights:
                x, y = self.found_x[i] + ahead * lean * z, self.found_y[i] + left * lean * z
                rows.append((i, x, y, clear if ahead or left else clear - lean * high, slot_x, slot_y))
        numbers, *columns = zip(*rows)
        x, y, off, *slots = (np.stack(np.broadcast_arrays(*column)) for column in columns)
        return Room(hole=np.array(numbers), x=x, y=y, off=off, slot_x=slots[0], slot_y=slots[1])


@record
class Room:
    """What a plate asks of its holes: a row for each rod, two for one that leans a known way. (rows, ...) each."""

    hole: Any  # which one, counted from 0
    x: Any  # where its rod stands at that height, in the template's axes
    y: Any
    off: Any  # how far the rod may be off the hole's middle, or off the nearest place along its slot
    slot_x: Any  # from the hole's middle to the slot's other end, in the plate's axes; 0 of a round hole
    slot_y: Any


_WAYS = {"ahead": (1.0, 0.0), "back": (-1.0, 0.0), "left": (0.0, 1.0), "right": (0.0, -1.0)}
_WAYS |= {
    f"{a} {b}": (_WAYS[a][0] / 2**0.5, _WAYS[b][1] / 2**0.5) for a in ("ahead", "back") for b in ("left", "right")
}


@record
class Plate:
    along: Any
    across: Any
    thick: Any
    hole: Any  # diameter
    grout: Any
    weld: Any  # fillet leg, nan where not said
    holes: Literal["drilled", "cut"] = "drilled"


@record
class Pier:
    name: str
    shaft: Body
    pad: Body | None
    steps: tuple[Body, ...] = ()  # on the pad, from below up
    lay: Bars = field(repr=False, compare=False)
    cover: Any  # planned clear cover to the outermost steel
    pad_cover: Any
    cover_found: dict[str, Any]  # by face, where it was looked at
    missing: tuple[str, ...]
    lean: Any  # [rad] as found
    done: bool

    @cached_property
    def bars(self) -> tuple[Bar, ...]:
        return self.lay()

    @property
    def frame(self) -> Frame:
        return self.shaft.frame

    @property
    def top(self) -> Any:
        return self.shaft.top

    @property
    def foot(self) -> Body:
        """What stands on the soil."""
        return self.pad or self.shaft

    @property
    def bodies(self) -> tuple[Body, ...]:
        return (self.pad, *self.steps, self.shaft) if self.pad else (self.shaft,)


@record
class Slab:
    """A flat pad on the ground."""

    name: str
    body: Body
    lay: Bars = field(repr=False, compare=False)
    cover: Any
    done: bool

    @cached_property
    def bars(self) -> tuple[Bar, ...]:
        return self.lay()

    @property
    def frame(self) -> Frame:
        return self.body.frame

    @property
    def top(self) -> Any:
        return self.body.top

    @property
    def foot(self) -> Body:
        return self.body

    @property
    def bodies(self) -> tuple[Body, ...]:
        return (self.body,)


@record
class Beam:
    """A tie beam: its body's own along runs from the first pier to the second, clear between their faces."""

    name: str
    between: tuple[str, str]
    body: Body
    lay: Bars = field(repr=False, compare=False)
    cover: Any
    tie: Any  # diameter of its ties
    missing: tuple[str, ...]
    off: Any  # how far its centre line was found off its planned one [m], left positive
    done: bool

    @cached_property
    def bars(self) -> tuple[Bar, ...]:
        return self.lay()

    @property
    def frame(self) -> Frame:
        return self.body.frame

    @property
    def bodies(self) -> tuple[Body, ...]:
        return (self.body,)


@record
class Post:
    """A post on a plate, or cast in. Its frame is the plate's: where the bolts carry it."""

    name: str
    on: str  # pier or slab
    frame: Frame
    section: tables.Section
    foot_z: Any  # underside of the plate, or of the post in its socket
    base_z: Any  # top of the concrete it stands in
    top_z: Any
    plate: Plate | None
    bolts: Bolts | None
    socket: Any  # depth cast in, nan on a plate
    lean: Any  # [rad] along, as found


@record
class Leaf:
    """A gate leaf. `toward` is +1 where it runs from the hinge in the direction of its post's along, else -1.

    Of a post turned across the gate, its left counts for its along.
    """

    name: str
    hinge_post: str
    latch_post: str  # the post, or the other leaf's hinge post
    meets: str  # name of the post or leaf it shuts on
    toward: int
    turn: Any  # [rad] direction from the hinge post to the latch post, in plan
    length: Any
    height: Any
    weight: Any
    solid: Any
    clear: Any  # underside above the concrete's top
    low: Any  # hinges above the concrete's top
    high: Any
    hinge_gap: Any
    latch_gap: Any
    play: Any
    opens_to: Any  # [rad]
    swings: Literal["in", "out"]
    person: Any
    held: bool = True  # closed, its end is held: by a post, or where two leaves meet by a bolt into the ground


@record
class Sign:
    name: str
    on: str
    length: Any
    height: Any
    bottom_z: Any
    weight: Any
    solid: Any


@record
class Machine:
    name: str
    on: str
    frame: Frame
    weight: Any
    centre: Any
    side: Any
    plate: Plate
    bolts: Bolts


@record
class Pipe:
    """A conduit as a centre-line in the job's axes."""

    name: str
    size: tables.Conduit
    wires: tuple[str, ...]
    x: Any  # (points, ...)
    y: Any
    z: Any
    through: tuple[str, ...]  # elements it passes


@record
class Line:
    """A string line: a point, a direction and how long it is drawn; of an arc its chord."""

    name: str
    x: Any
    y: Any
    turn: Any
    length: Any
    set_from: str = ""  # the line it was measured from; "" where it is drawn between two nails
    square: bool = False  # at a right angle to that line; else beside it
    through: tuple[str, str] = ("", "")  # the points it starts at and is drawn to; "" where that is a nail
    arc: "Arc | None" = None  # how it bends; None where it is straight

    @property
    def string(self) -> Frame:
        """Along the string as it is stretched."""
        return Frame(x=self.x, y=self.y, turn=self.turn)

    @property
    def path(self) -> "Frame | Arc":
        """What distances along it and offsets from it are told in: `at`, `out`, `into`."""
        return self.arc or self.string


@record
class Soil:
    """The soil as the checks take it; what the file left out comes from the presumptive table."""

    name: str  # its class
    bearing: Any
    side: Any
    friction: Any  # nan where adhesion counts instead
    cohesion: Any  # nan where friction counts
    stiff: Any
    weight: Any
    swell: Any
    slope: str
    origin: str


@record
class Step:
    """One measurement of a placing chain, with its number."""

    element: str  # what is placed; for a template step the post or machine it is for
    kind: Literal["level", "along", "off", "turn", "template"]
    from_: str  # the mark, level, line or element the tape is held at
    line: str  # along or off which it is measured; "" for a level
    value: Any  # signed: ahead, left and up are positive [m]; a turn in [rad], against the line's
    derived: bool = False  # followed from the opening rather than written
    across: Any = 0.0  # of a template: its centre to the left of its base's


@record
class Lift:
    number: int
    bodies: tuple[Body, ...]
    wanted: Any  # slump
    slump: Any  # of its wettest load where that was logged, else as wanted
    wetted: str
    covered: bool  # its pads, by boards round the piers
    water: Any  # litres put in on site, per litre of concrete
    mix: str

    @property
    def name(self) -> str:
        return f"lift {self.number}"

    @property
    def volume(self) -> Any:
        return sum(body.volume for body in self.bodies)


@record
class Work:
    """All that will stand there, as found where it was found."""

    soil: Soil
    frost: Any
    ground: Ground
    levels: dict[str, Any]
    marks: dict[str, tuple[Any, Any]]
    lines: dict[str, Line]
    piers: dict[str, Pier]
    slabs: dict[str, Slab]
    beams: dict[str, Beam]
    posts: dict[str, Post]
    leaves: dict[str, Leaf]
    signs: dict[str, Sign]
    machines: dict[str, Machine]
    pipes: dict[str, Pipe]
    chains: dict[str, tuple[Step, ...]]  # how each element is placed, in measuring order
    lifts: tuple[Lift, ...]
    left_out: dict[str, str]  # members of rows that are not built, and why
    assumed: tuple[Assumption, ...]  # what the file left out and the tables or common practice filled in

    @cached_property
    def bases(self) -> dict[str, Pier | Slab]:
        """Everything a post or machine can stand on."""
        return {**self.piers, **self.slabs}

    @cached_property
    def bodies(self) -> tuple[Body, ...]:
        """Every block of concrete, in the order of the lifts."""
        return tuple(body for lift in self.lifts for body in lift.bodies)
