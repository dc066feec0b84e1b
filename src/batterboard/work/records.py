"""What will stand there: plain records of dimensions, in SI. Numbers or arrays of V variants; solids only on demand.

    frame : Frame(x=7.39, y=6.71, turn=0.0)      where a thing's own axes lie in the job's plan; z is height above zero
    own axes: x "along" ahead in the direction of the line of its turn, y "across" to its left, turn counter-clockwise
    body  : one block of concrete between two levels    pier : shaft + pad + bars    beam : a block between two piers

Where bars, bolts and pipes are is decided here; whether they fit is asked in `cage`. How sizes follow from the job file
stands in `build`.
"""

from dataclasses import dataclass
from functools import cached_property
from math import pi, tan
from typing import Any, Literal

import numpy as np

from batterboard.methods import solids
from batterboard.standards import tables


@dataclass(frozen=True, kw_only=True)
class Frame:
    """Own axes in the job's plan."""

    x: Any
    y: Any
    turn: Any  # [rad], counter-clockwise from the job's x

    def out(self, along: Any, across: Any) -> tuple[Any, Any]:
        """Job coordinates of a point given in own axes. Broadcasts."""
        c, s = np.cos(self.turn), np.sin(self.turn)
        return self.x + along * c - across * s, self.y + along * s + across * c

    def into(self, x: Any, y: Any) -> tuple[Any, Any]:
        """Own coordinates of a point of the job."""
        c, s = np.cos(self.turn), np.sin(self.turn)
        return (x - self.x) * c + (y - self.y) * s, -(x - self.x) * s + (y - self.y) * c

    def moved(self, along: Any, across: Any) -> "Frame":
        x, y = self.out(along, across)
        return Frame(x=x, y=y, turn=self.turn)


@dataclass(frozen=True, kw_only=True)
class Outline:
    """A plan section with chamfered upright corners (legs along the faces) and top edges."""

    kind: Literal["rectangle", "round", "polygon"]
    along: Any  # overall sizes; the diameter of a round one, across flats of a polygon
    across: Any
    sides: int = 4  # of a polygon: structure, never an array
    corners: Any = 0.0
    top: Any = 0.0

    @property
    def area(self) -> Any:
        """Plan area inside the forms, below the top chamfer [m2]."""
        if self.kind == "round":
            return pi * self.along * self.along / 4
        if self.kind == "polygon":
            half = pi / self.sides
            return self.sides * (tan(half) * self.along**2 / 4 - self.corners**2 * np.sin(2 * half) / 2)
        return self.along * self.across - 2 * self.corners**2

    @property
    def least(self) -> Any:
        return np.minimum(self.along, self.across)

    def points(self) -> tuple[Any, Any]:
        """Corners of the uncut outline in own axes, counter-clockwise, items first. A round one as 48 points."""
        if self.kind == "rectangle":
            x = np.stack(np.broadcast_arrays(self.along / 2, -self.along / 2, -self.along / 2, self.along / 2))
            y = np.stack(np.broadcast_arrays(self.across / 2, self.across / 2, -self.across / 2, -self.across / 2))
            return x, y
        n = 48 if self.kind == "round" else self.sides
        radius = self.along / 2 if self.kind == "round" else self.along / 2 / np.cos(pi / n)
        angle = (np.arange(n) + 0.5) * 2 * pi / n
        shape = (n,) + (1,) * np.ndim(radius)
        return radius * np.cos(angle).reshape(shape), radius * np.sin(angle).reshape(shape)


@dataclass(frozen=True, kw_only=True)
class Body:
    """A block of concrete: an outline between two levels. The unit of volumes, lifts and forms."""

    name: str  # "west", "west pad", "tie"
    element: str  # the thing of the job it belongs to
    part: Literal["pier", "pad", "beam", "slab"]
    outline: Outline
    frame: Frame
    bottom: Any  # [m] above the job's zero
    top: Any
    mix: str
    against: Literal["form", "earth"]  # what its sides are cast against
    over: Any = 0.0  # how far the hole was found wider on each side [m]
    shared: Any = 0.0  # volume that an earlier body already holds [m3]

    @property
    def height(self) -> Any:
        return self.top - self.bottom

    @property
    def gross(self) -> Any:
        """Exact volume of the block as designed, chamfers taken off [m3]."""
        o = self.outline
        if o.kind == "round":
            return solids.cylinder_volume(o.along, self.height, o.top)
        if o.kind == "polygon":
            return solids.polygon_volume(o.sides, o.along, self.height, o.top, o.corners)
        return solids.block_volume(o.along, o.across, self.height, o.top, o.corners)

    @property
    def volume(self) -> Any:
        """What has to be placed for it: without what it shares with an earlier body [m3]."""
        return self.gross - self.shared

    @property
    def overdug(self) -> Any:
        """Concrete that fills the hole beyond the design, as found [m3]."""
        o = self.outline
        return ((o.along + 2 * self.over) * (o.across + 2 * self.over) - o.along * o.across) * self.height

    def solid(self) -> solids.Solid:
        """The block as half-spaces in the job's axes, made only when someone looks (one job, no arrays)."""
        x, y = self.outline.points()
        own = solids.chamfered_prism(x, y, float(self.bottom), float(self.top), float(self.outline.corners), float(self.outline.top))
        return own.placed(float(self.frame.x), float(self.frame.y), float(self.frame.turn))


@dataclass(frozen=True, kw_only=True)
class Bar:
    """One mark of the bar list: n equal bars, each a centre-line in the element's own axes."""

    mark: str  # "W1"
    element: str
    role: Literal["up", "tie", "pad along", "pad across", "top", "bottom"]
    size: tables.BarSize
    shape: Literal["straight", "hooked", "L", "closed tie", "hoop", "both ends hooked"]
    legs: tuple[Any, ...]  # out to out, in bending order [m]
    x: Any  # (count, points, ...) centre-line corners, own axes of the element's frame; z above the job's zero
    y: Any
    z: Any
    yield_strength: Any

    @property
    def count(self) -> int:
        return len(self.x)


@dataclass(frozen=True, kw_only=True)
class Bolts:
    """The anchor rods under one plate, in the plate's own axes; numbered from 1 counter-clockwise, ahead-left first."""

    name: str  # the post or machine
    rod: tables.Rod
    x: Any  # (n, ...) planned places in the plate's axes
    y: Any
    found_x: Any  # as found; equal to the planned ones where nothing was found
    found_y: Any
    deep: Any  # embedment
    proud: Any  # (n, ...) above the concrete, as found where found
    foot: Literal["hook", "nut", "plate"]


@dataclass(frozen=True, kw_only=True)
class Plate:
    along: Any
    across: Any
    thick: Any
    hole: Any  # diameter
    grout: Any
    weld: Any  # fillet leg, nan where not said


@dataclass(frozen=True, kw_only=True)
class Pier:
    name: str
    shaft: Body
    pad: Body | None
    bars: tuple[Bar, ...]
    cover: Any  # planned clear cover to the outermost steel
    cover_found: dict[str, Any]  # by face, where it was looked at
    missing: tuple[str, ...]
    lean: Any  # [rad] as found
    done: bool

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
        return (self.pad, self.shaft) if self.pad else (self.shaft,)


@dataclass(frozen=True, kw_only=True)
class Slab:
    """A flat pad on the ground."""

    name: str
    body: Body
    bars: tuple[Bar, ...]
    cover: Any
    done: bool

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


@dataclass(frozen=True, kw_only=True)
class Beam:
    """A tie beam: its body's own along runs from the first pier to the second, clear between their faces."""

    name: str
    between: tuple[str, str]
    body: Body
    bars: tuple[Bar, ...]
    cover: Any
    missing: tuple[str, ...]
    off: Any  # how far its centre line was found off the piers' [m], left positive
    done: bool

    @property
    def frame(self) -> Frame:
        return self.body.frame

    @property
    def bodies(self) -> tuple[Body, ...]:
        return (self.body,)


@dataclass(frozen=True, kw_only=True)
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


@dataclass(frozen=True, kw_only=True)
class Leaf:
    """A gate leaf. `toward` is +1 where it runs in the direction of its post's along from the hinge, else -1."""

    name: str
    hinge_post: str
    latch_post: str  # the post, or the other leaf's hinge post
    meets: str  # name of the post or leaf it shuts on
    toward: int
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


@dataclass(frozen=True, kw_only=True)
class Sign:
    name: str
    on: str
    length: Any
    height: Any
    bottom_z: Any
    weight: Any
    solid: Any


@dataclass(frozen=True, kw_only=True)
class Machine:
    name: str
    on: str
    frame: Frame
    weight: Any
    centre: Any
    side: Any
    plate: Plate
    bolts: Bolts


@dataclass(frozen=True, kw_only=True)
class Pipe:
    """A conduit as a centre-line in the job's axes."""

    name: str
    size: tables.Conduit
    wires: tuple[str, ...]
    x: Any  # (points, ...)
    y: Any
    z: Any
    through: tuple[str, ...]  # elements it passes


@dataclass(frozen=True, kw_only=True)
class Line:
    """A string line: a point, a direction and how long it is drawn."""

    name: str
    x: Any
    y: Any
    turn: Any
    length: Any


@dataclass(frozen=True, kw_only=True)
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


@dataclass(frozen=True, kw_only=True)
class Ground:
    """The surface before digging: a plane through points, or spots with straight lines between them."""

    x: Any
    y: Any
    z: Any
    slope_x: Any  # of the plane; nan where spots rule
    slope_y: Any

    def level(self, x: Any, y: Any) -> Any:
        """Height of the ground at a place [m]. Outside the spots the nearest edge counts."""
        if not np.isnan(self.slope_x):
            return self.z[0] + (x - self.x[0]) * self.slope_x + (y - self.y[0]) * self.slope_y
        return _interpolate(self.x, self.y, self.z, x, y)


@dataclass(frozen=True, kw_only=True)
class Step:
    """One measurement of a placing chain, with its number."""

    element: str
    kind: Literal["level", "along", "off", "turn", "template"]
    from_: str  # the mark, level, line or element the tape is held at
    line: str
    value: Any  # signed: ahead, left and up are positive [m]; a turn in [rad]
    derived: bool  # followed from the opening rather than written


@dataclass(frozen=True, kw_only=True)
class Lift:
    number: int
    bodies: tuple[Body, ...]
    slump: Any
    wetted: str
    water: Any  # litres put in on site, per litre of concrete
    mix: str

    @property
    def name(self) -> str:
        return f"lift {self.number}"

    @property
    def volume(self) -> Any:
        return sum(body.volume for body in self.bodies)


@dataclass(frozen=True, kw_only=True)
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

    @cached_property
    def bases(self) -> dict[str, Pier | Slab]:
        """Everything a post or machine can stand on."""
        return {**self.piers, **self.slabs}

    @cached_property
    def bodies(self) -> tuple[Body, ...]:
        """Every block of concrete, in the order of the lifts."""
        return tuple(body for lift in self.lifts for body in lift.bodies)


def _interpolate(xs: Any, ys: Any, zs: Any, x: Any, y: Any) -> Any:
    """Plane through the three nearest spots that are not in line; the nearest spot where there is no such plane."""
    x, y = np.broadcast_arrays(np.asarray(x, float), np.asarray(y, float))
    flat = [_spot(xs, ys, zs, a, b) for a, b in zip(x.ravel(), y.ravel(), strict=True)]
    out = np.reshape(flat, x.shape)
    return out.item() if out.ndim == 0 else out


def _spot(xs: Any, ys: Any, zs: Any, x: float, y: float) -> float:
    order = np.argsort(np.hypot(xs - x, ys - y), kind="stable")
    first = order[0]
    for i in range(1, len(order) - 1):
        for j in range(i + 1, len(order)):
            a, b = order[i], order[j]
            m = np.array([[xs[a] - xs[first], ys[a] - ys[first]], [xs[b] - xs[first], ys[b] - ys[first]]])
            if abs(np.linalg.det(m)) > 1e-9 * max(1.0, float(np.abs(m).max()) ** 2):
                slope = np.linalg.solve(m, [zs[a] - zs[first], zs[b] - zs[first]])
                return float(zs[first] + slope @ [x - xs[first], y - ys[first]])
    return float(zs[first])
