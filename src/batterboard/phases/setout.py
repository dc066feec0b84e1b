"""Where exactly, in what order do I measure, and will the plate drop on its bolts?

    reading : Reading(number=3, element="east", kind="along", hold="west", line="gate", way="ahead", value=4.65)
    stake   : Stake("west", x=7.39, y=6.71, top=31.3, along=7.39, off=6.71, major=0.004, ...)   a pier's centre, a bolt, a post
    drop    : DropOn("hinge", chance=0.998, ...)      one plate over its bolts, as found and as it may come out

ONE vector of independent elementary errors stands behind all of it: a tape used twice stands in it once, a template drills
bolts and plate. Sizes of errors are standard deviations. Adjusting check measurements is not here.
"""

from dataclasses import dataclass
from typing import Literal

from batterboard.quantity import Angle, Length, Number
from batterboard.working import Check


@dataclass(frozen=True, kw_only=True)
class Reading:
    """One printed step of the measuring order."""

    number: int  # over the whole job, from 1
    element: str
    kind: Literal["level", "along", "off", "turn", "template"]
    hold: str  # the mark, level, line or element the tape or rod is held at
    line: str  # the line it is measured along, off or by; "" for a level
    way: Literal["ahead", "back", "left", "right", "up", "down", "along", ""]
    value: Length  # what to read, never negative
    running: Length  # along: the same from the line's start, so that marks can run from one end; else nan
    derived: bool  # followed from the opening
    sigma: Length  # of this step alone, at the element
    share: Number  # of the variance of the element's centre (of its top, for a level)


@dataclass(frozen=True, kw_only=True)
class Stake:
    """A point to be set out."""

    name: str  # "west", "hinge", "hinge.bolt.1"
    element: str
    kind: Literal["pier", "slab", "post", "machine", "bolt"]
    x: Length
    y: Length
    top: Length  # level of its concrete, above the job's zero
    ground: Length
    cut: Length  # from the ground down to the underside of what is dug for it; nan for bolts and posts
    line: str  # the line that `along` and `off` are taken from
    along: Length  # from the line's start
    off: Length  # to its left
    sigma_x: Length
    sigma_y: Length
    sigma_top: Length
    major: Length  # error ellipse, one standard deviation
    minor: Length
    direction: Angle  # of the longer axis, counter-clockwise from x
    shares: dict[str, Number]  # of each error in the variance of its place, greatest first
    worst: str  # the one step that would most improve it


@dataclass(frozen=True, kw_only=True)
class Diagonal:
    """A check measurement: what the tape should say between two points, and how far off it may be."""

    name: str  # "west to east"
    a: str
    b: str
    length: Length
    sigma: Length
    allow: Length  # off by more than this is no chance any more


@dataclass(frozen=True, kw_only=True)
class Rod:
    """A level rod on a top, read from one set-up."""

    name: str
    level: str  # the bench mark
    above: Length  # of the top above the bench mark, negative below
    difference: Length  # the rod reads this much more than on the bench mark; negative: less


@dataclass(frozen=True, kw_only=True)
class Opening:
    """Between two posts that carry a gate."""

    name: str  # the leaf, or both: "a + b"
    posts: tuple[str, str]
    between_centres: Length  # of the posts, as the work stands
    clear: Length  # between their faces
    leaves: Length
    gaps: Length
    needed: Length  # leaves and gaps together
    misclosure: Length  # clear less needed: positive, too wide
    latch_gap: Length
    sigma: Length  # of the clear opening at the foot
    sigma_high: Length  # at the upper hinge, with both posts' plumb
    worst: str


@dataclass(frozen=True, kw_only=True)
class DropOn:
    """One plate over its bolts."""

    name: str  # the post or machine
    hole: Length
    clearance: Length  # of a bolt in the middle of its hole
    shift_along: Length  # that leaves the tightest bolt the most to spare, as found
    shift_across: Length
    turn: Angle
    offset: Length  # the largest offset of a bolt from its hole's centre then
    spare: Length
    chance: Number  # that the plate drops on
    samples: int


@dataclass(frozen=True, kw_only=True)
class Setout:
    readings: tuple[Reading, ...]
    stakes: tuple[Stake, ...]
    diagonals: tuple[Diagonal, ...]
    rods: tuple[Rod, ...]
    openings: tuple[Opening, ...]
    drops: tuple[DropOn, ...]
    errors: dict[str, Number]  # every elementary error and its standard deviation
    checks: tuple[Check, ...]
