"""One drilled pattern for bolts and plate: where are its holes, how long are the bolts, which way round does it lie?

    pattern : Pattern("hinge", on="west", circle=0.323, points=(...), budget=Budget(...))      one for each plate
    point   : Point(number=1, x=0.114, y=0.114, from_back=0.267, from_right=0.267, ...)        one for each bolt

Own axes of the plate: x ahead, y to the left, seen from above; bolts are numbered as in the work. Whether the bolts that were
cast suit the plate is asked in `setout`; what the concrete holds is not asked here.
"""

from dataclasses import dataclass
from typing import Literal

from batterboard.quantity import Angle, Length
from batterboard.working import Check


@dataclass(frozen=True, kw_only=True)
class Point:
    """One hole of template and plate."""

    number: int
    x: Length  # as planned, from the plate's centre
    y: Length
    from_back: Length  # from the plate's back edge: the drilling table from two edges
    from_right: Length
    edge: Length  # from the hole's centre to the nearest edge of the plate
    found_x: Length
    found_y: Length
    proud: Length  # of its bolt above the concrete, as found where found


@dataclass(frozen=True, kw_only=True)
class Diagonal:
    name: str  # "1 to 3"
    a: int
    b: int
    length: Length


@dataclass(frozen=True, kw_only=True)
class Budget:
    """What the length of a bolt is spent on, from its foot up."""

    foot: Literal["hook", "nut", "plate"]
    foot_length: Length  # rod beyond the embedment: round the hook, or through nut and plate
    deep: Length  # embedment below the concrete line
    grout: Length
    plate: Length
    washer: Length
    nut: Length
    threads: Length  # showing above the nut
    needed: Length  # projection above the concrete: grout to threads
    wanted: Length  # the same with the bolt set low by the tolerance
    proud: Length  # the lowest bolt, as planned or found
    thread: Length  # of the thread at the top of the rod, at least
    length: Length  # of the whole rod, cut


@dataclass(frozen=True, kw_only=True)
class Pattern:
    name: str  # the post or machine
    on: str  # pier or slab
    rod: str  # "3/4 in F1554-36"
    diameter: Length
    hole: Length
    hole_from: str  # table and edition, or the job file
    washer: Length
    washer_thick: Length
    along: Length  # of the plate
    across: Length
    thick: Length
    spacing_along: Length  # outermost bolts, centre to centre: the square's side
    spacing_across: Length
    circle: Length  # bolt circle, nan where the bolts lie on none: for a square its diagonal
    points: tuple[Point, ...]
    diagonals: tuple[Diagonal, ...]
    turn: Angle  # of the arrow "ahead" in the job's plan, counter-clockwise from x
    line: str  # the line it points along
    marks: tuple[str, ...]  # to write on template and plate, so that neither is turned or flipped
    budget: Budget
    clearance: Length  # of a bolt in the middle of its hole
    tolerance: Length  # a bolt's place by the code
    twist: Angle  # either way, that the holes leave the plate
    twist_at_latch: Length  # of a leaf that hangs on it, nan where none does
    over_along: Length  # how far the pier's faces stand out beyond the plate, ahead; negative: the plate overhangs
    over_across: Length


@dataclass(frozen=True, kw_only=True)
class Template:
    patterns: tuple[Pattern, ...]
    checks: tuple[Check, ...]
