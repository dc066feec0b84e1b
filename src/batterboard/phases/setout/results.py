"""What setting out answers with: the order of measuring, stakes, check measurements, the opening, the plates.

    reading : Reading(number=3, element="east", kind="along", hold="west", line="gate", way="ahead", value=4.65)
    stake   : Stake(name="west", x=7.39, y=6.71, top=31.3, ...)     a base's centre, a bolt, a post
    plate   : DropOn(name="hinge", chance=0.998, ...)               one plate over its bolts, as found and by chance

Sigmas are standard deviations.
"""

from typing import Literal

from batterboard.quantity import Angle, Length, Number
from batterboard.record import record
from batterboard.working import Check


@record
class Reading:
    """One printed step of the measuring order."""

    number: int  # over the whole job, from 1
    element: str  # what is placed; for a template the post or machine it is for
    kind: Literal["level", "along", "off", "turn", "template"]
    hold: str  # the mark, level, line or element the tape or rod is held at; a line means its start
    line: str  # the line it is measured along, off or by; "" for a level
    way: Literal["ahead", "back", "left", "right", "up", "down", ""]
    value: Length  # what to read, never negative; of a turn nan
    angle: Angle  # of a turn, against the line's direction, counter-clockwise; else nan
    running: Length  # along: the same from the line's start, so that marks can run from one end; else nan
    derived: bool  # followed from the opening
    sigma: Length  # what this step alone does to the place, or to the level
    share: Number  # of this step in the variance of the place, or of the level


@record
class Stake:
    """A point to be set out."""

    name: str  # "west", "hinge", "hinge.bolt.1"
    element: str  # the base it stands on
    kind: Literal["pier", "slab", "post", "machine", "bolt"]
    x: Length
    y: Length
    top: Length  # level of its concrete, above the job's zero
    ground: Length
    cut: Length  # from the ground down to the underside of what is dug for it; nan for what stands on a base
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
    worst: str  # the one that would most improve it


@record
class Diagonal:
    """A check measurement: what the tape should say between two points."""

    name: str  # "west to east"
    a: str
    b: str
    length: Length
    sigma: Length
    allow: Length  # off by more than this happens to one in twenty that were set out well
    square: Angle  # from the start of a line: how sure the offset's right angle is once it was checked so; else nan
    aside: Length  # of two that cross, off by `allow` either way: how far the far plate then stands aside; else nan


@record
class Rod:
    """A level rod, read from one set-up of the instrument."""

    name: str  # "west top", "west pad bottom"
    level: str  # the bench mark
    above: Length  # the bench mark; negative below
    difference: Length  # the rod reads this much more than on the bench mark; negative: less


@record
class Opening:
    """Between two posts that carry a gate."""

    name: str  # the leaf, or both: "a + b"
    posts: tuple[str, str]
    depths: tuple[Length, Length]  # of the posts, that way
    between: Length  # centres of the posts at the lower hinges, as the work stands
    between_high: Length  # at the upper hinges
    clear: Length  # between their faces, at the lower hinges
    leaves: Length
    gaps: Length
    misclosure: Length  # clear less leaves and gaps: positive, too wide
    misclosure_high: Length
    latch_gap: Length
    sigma: Length  # of the clear opening at the lower hinges
    sigma_high: Length
    worst: str  # the error that would most improve it


@record
class DropOn:
    """One plate over its bolts."""

    name: str  # the post or machine
    diameter: Length  # of the bolts
    hole: Length
    clearance: Length  # of a bolt in the middle of its hole
    shift_along: Length  # of the plate that leaves the tightest bolt the most to spare, as found
    shift_across: Length
    turn: Angle
    offset: Length  # the largest of a bolt from its hole's centre then, with what it leans up to the plate's top
    spare: Length
    chance: Number  # that the plate drops on
    samples: int  # simulated plates, where it is in doubt


@record
class Setout:
    readings: tuple[Reading, ...]
    stakes: tuple[Stake, ...]
    diagonals: tuple[Diagonal, ...]
    rods: tuple[Rod, ...]
    openings: tuple[Opening, ...]
    plates: tuple[DropOn, ...]
    checks: tuple[Check, ...]
