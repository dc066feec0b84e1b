"""Does all that steel, pipe and bolt fit in one box, with cover, and what is cut and bent from what?

    row    : BarRow("W1", "west", "up", "#5", count=8, shape="L", legs=(1.35, 0.25), pin=0.095, cut=1.56, ...)
    total  : SizeTotal("#5", count=26, length=38.1, weight=580.0, stock=8, least=7)
    stick  : Stick("#5", times=3, pieces=(("W1", 1.56), ...), left=0.08)       what one stock bar yields
    cover  : Cover("west pad bottom", planned=0.0762, needed=0.0762, ...)      one face of one body
    clear  : Clear("west bars and bolts", least=0.031, needed=0.0254, ...)     the tightest pair of two kinds

Where bars, bolts and pipes are is decided in `work`; here they are measured against each other. Cut lengths run along the
centre line. Bars are sheared, so no saw kerf is lost. What the bars carry is not asked here.
"""

from dataclasses import dataclass
from typing import Literal

from batterboard.quantity import Angle, Force, Length
from batterboard.working import Check


@dataclass(frozen=True, kw_only=True)
class BarRow:
    """One mark of the bar schedule."""

    mark: str
    element: str
    role: Literal["up", "tie", "pad along", "pad across", "top", "bottom"]
    size: str
    count: int
    shape: Literal["straight", "hooked", "L", "closed tie", "hoop", "both ends hooked"]
    legs: tuple[Length, ...]  # out to out, in bending order; of a hoop its outside diameter
    pin: Length  # inside diameter of the bends, nan where nothing is bent
    hook: Angle  # at the ends, nan where there is none
    extension: Length  # straight beyond the hook's bend, nan where there is no hook
    cut: Length  # of one bar, along its centre line
    weight: Force  # of all of them


@dataclass(frozen=True, kw_only=True)
class SizeTotal:
    """All bars of a size, and the stock bars they come from."""

    size: str
    count: int
    length: Length
    weight: Force
    stock: int  # stock bars of the cut plan
    least: int  # no plan can do with fewer


@dataclass(frozen=True, kw_only=True)
class Stick:
    """One way of cutting a stock bar, and how often."""

    size: str
    times: int
    pieces: tuple[tuple[str, Length], ...]  # mark and length, in cutting order
    left: Length


@dataclass(frozen=True, kw_only=True)
class Cover:
    """Clear concrete over the outermost steel at one face."""

    name: str  # "west north", "west pad bottom"
    element: str
    face: str  # "sides", "top", "bottom", or the side looked at
    place: Literal["cast against earth", "exposed to weather"]
    size: str  # of the outermost bar there
    planned: Length
    found: Length  # nan where nobody looked
    needed: Length
    tolerance: Length  # how much less the placing tolerance leaves


@dataclass(frozen=True, kw_only=True)
class Gap:
    """Clear distance between neighbouring parallel bars."""

    name: str  # "west up", "west pad along"
    element: str
    size: str
    clear: Length
    needed: Length


@dataclass(frozen=True, kw_only=True)
class TieRun:
    """The ties of one pier or beam."""

    name: str
    size: str
    count: int
    widest: Length  # largest spacing between neighbours
    allowed: Length
    bolted: bool  # anchor bolts stand inside
    near_top: int  # ties within 5 in of the top
    near_top_needed: int  # 0 where no bolts stand inside


@dataclass(frozen=True, kw_only=True)
class Clear:
    """The tightest pair of two kinds of thing in one element, outside to outside."""

    name: str  # "west bars and bolts"
    element: str
    one: str  # "W2 tie 3", "hinge bolt 1"
    other: str
    least: Length  # clear distance; negative where they run into each other
    needed: Length
    x: Length  # where, in the job's axes
    y: Length
    z: Length


@dataclass(frozen=True, kw_only=True)
class Foot:
    """The hooked feet of a pier's uprights in its pad."""

    name: str  # the pier
    size: str
    leg: Length  # out to out, as planned
    needed: Length  # of the standard hook
    room: Length  # from the outside of the bar's bend to the pad's side, less the pad's cover


@dataclass(frozen=True, kw_only=True)
class Cage:
    bars: tuple[BarRow, ...]
    totals: tuple[SizeTotal, ...]
    sticks: tuple[Stick, ...]
    covers: tuple[Cover, ...]
    gaps: tuple[Gap, ...]
    ties: tuple[TieRun, ...]
    clears: tuple[Clear, ...]
    feet: tuple[Foot, ...]
    weight: Force
    checks: tuple[Check, ...]
