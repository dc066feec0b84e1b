"""What the cage answers with: records of the bar schedule, of covers, gaps and tight places. SI."""

from typing import Literal

from batterboard.quantity import Angle, Force, Length
from batterboard.record import record
from batterboard.work.records import Role, Shape
from batterboard.working import Check


@record
class BarRow:
    """One mark of the bar schedule."""

    mark: str
    element: str
    role: Role
    size: str
    count: int
    shape: Shape
    legs: tuple[Length, ...]  # out to out, in bending order; of a hoop its outside diameter
    pin: Length  # inside diameter of the bends, nan where nothing is bent
    hook: Angle  # at the ends, nan where there is none
    extension: Length  # straight beyond the hook's bend, nan where there is no hook
    cut: Length  # of one bar, along its centre line
    weight: Force  # of all of them


@record
class SizeTotal:
    """All bars of a size."""

    size: str
    count: int
    length: Length
    weight: Force
    longest: Length
    longest_in: str  # the element of the longest piece
    stock_length: Length  # of the bars they come from

    @property
    def name(self) -> str:
        return self.size


@record
class StockTotal:
    """The stock bars of a size. A piece longer than one counts as whole bars lapped."""

    of: SizeTotal
    stock: int  # stock bars of the cut plan
    least: int  # no plan can do with fewer
    stopped: bool  # by hand, before the search was at its end


@record
class Stick:
    """One way of cutting a stock bar, and how often."""

    size: str
    times: int
    pieces: tuple[tuple[str, Length], ...]  # mark and length, in cutting order
    left: Length


@record
class StockBars:
    """What is bought, and how it is cut."""

    totals: tuple[StockTotal, ...]
    sticks: tuple[Stick, ...]


@record
class Cover:
    """Clear concrete over the outermost steel of a body: as planned all round, and at each face looked at."""

    name: str  # the body: "west", "west pad"
    element: str
    face: str  # "all", or the side looked at
    against: Literal["earth", "form"]
    size: str  # of the outermost bar
    diameter: Length
    planned: Length
    found: Length  # nan where it is the planned one
    needed: Length
    tolerance: Length  # how much less than needed may be found


@record
class Gap:
    """Clear distance between neighbouring parallel bars of one mark."""

    name: str  # "west up", "west pad along"
    element: str
    role: Role
    size: str
    diameter: Length
    stone: Length  # the largest in the mix
    clear: Length
    needed: Length


@record
class TieRun:
    """The ties of one pier."""

    name: str
    size: str  # of the thinnest
    diameter: Length
    upright: Length  # diameter
    least_side: Length
    count: int
    widest: Length  # spacing of neighbours, and twice the lowest one's height over the pad
    allowed: Length
    bolted: bool  # anchor bolts stand inside
    near_top: int  # ties within 5 in of the top
    near_top_size: str  # of the thinnest of those
    near_top_diameter: Length
    near_top_needed: int  # 0 where no bolts stand inside


@record
class Clear:
    """The tightest pair of two kinds of thing, of those side by side or of those that cross. Outside to outside."""

    name: str  # "west bars and hinge bolts"
    element: str
    one: str  # "W2 tie 3", "hinge bolt 1"
    other: str
    one_diameter: Length
    other_diameter: Length
    least: Length  # clear distance; negative where they run into each other
    beside: bool  # side by side rather than crossing
    needed: Length  # the largest stone where they run side by side, nothing where they cross
    x: Length  # where, in the job's axes
    y: Length
    z: Length

    @property
    def apart(self) -> Length:
        """Centre to centre."""
        return (self.one_diameter + self.other_diameter) / 2 + self.least

    @property
    def pair(self) -> str:
        return f"{self.one} and {self.other}"


@record
class Near:
    """What of one kind comes nearest to a pocket or hole in the concrete. Outside to outside."""

    name: str  # "letters and W2 tie", "letters and hinge bolt"
    hole: str  # the blockout
    element: str
    kind: Literal["bar", "bolt", "pipe"]
    other: str  # "W2 tie 3", "hinge bolt 1", "power"
    diameter: Length
    least: Length  # clear distance; negative where it runs into it
    needed: Length  # cover behind a formed face


@record
class Foot:
    """The hooked feet of a pier's uprights in its pad."""

    name: str  # the pier
    size: str
    diameter: Length
    leg: Length  # out to out, as planned
    needed: Length  # of the standard hook
    room: Length  # for the leg, up to the pad's cover


@record
class Cage:
    bars: tuple[BarRow, ...]
    totals: tuple[SizeTotal, ...]
    covers: tuple[Cover, ...]
    gaps: tuple[Gap, ...]
    ties: tuple[TieRun, ...]
    clears: tuple[Clear, ...]
    feet: tuple[Foot, ...]
    nears: tuple[Near, ...]  # none where no blockouts are
    weight: Force
    checks: tuple[Check, ...]
