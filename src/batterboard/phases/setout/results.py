"""What setting out answers with: the order of measuring, stakes, check measurements, the opening, the plates.

    reading : Reading(number=3, element="east", kind="along", hold="west", line="gate", way="ahead", value=4.65)
    stake   : Stake(name="west", x=7.39, y=6.71, top=31.3, ...)     a base's centre, a bolt, a post
    plate   : DropOn(name="hinge", chance=0.998, ...)               one plate over its bolts, as found and by chance

Sigmas are standard deviations.
"""

from typing import Any, Literal

from batterboard.quantity import Angle, Length, Number
from batterboard.record import record


@record
class Reading:
    """One printed step of the measuring order."""

    number: int  # over the whole job, from 1
    element: str  # what is placed; for a template the post or machine it is for
    kind: Literal["level", "along", "off", "turn", "template"]
    hold: str  # the mark, level, line or element the tape or rod is held at; a line means its start
    line: str  # the line it is measured along, off or by, of an arc its chord or its nail; "" for a level
    way: Literal["ahead", "back", "left", "right", "up", "down", "out", ""]  # out: from the nail of an arc
    value: Length  # how far it is, never negative; of a turn nan, off a chord how far aside it goes over a set length
    tape: Length  # what the tape then reads, corrected; of a level, or a turn without a distance, nan
    angle: Angle  # of a turn, against the line's or the chord's direction, counter-clockwise; else nan
    running: Length  # along: how far from the line's start, so that marks can run from one end; else nan
    radius: Length  # along an arc that is swung from its nail: the other tape's reading at the mark; else nan
    rod: Length  # of a level: what a rod reads more than on what it is held from; else nan
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
class Link:
    """One length of an opening's chain, or a sum of them."""

    name: str  # the leaf, "latch gap", "between the piers' centres"
    total: bool
    low: Length  # at the lower hinges
    high: Length  # at the upper ones
    sigma: Length  # at the upper hinges, where plumb counts most


@record
class Latching:
    """Whether a leaf fits between its posts and latches, in simulated jobs."""

    name: str  # the leaf, or both
    gap: Length  # left for the latch at the lower hinges
    gap_high: Length
    latch_gap: Length  # as planned
    drop: Length  # of the leaf's end against its latch: posts found out of plumb
    play: Length
    sigma_gap: Length  # at the upper hinges
    sigma_drop: Length
    level: Length  # from the hinge post's concrete up to the latch post's
    sigma_level: Length
    sigma_plumb: Length  # between the posts, over the hinges' spacing
    needed: Length  # between the centres of the piers for the mean gap to be right, whichever of them stays
    fits: Number  # chance that the leaf goes between its posts
    latches: Number  # and that it then latches
    rules: Literal["gap", "drop"]  # which of the two has less room for its spread
    shares: dict[str, Number]  # of each error in its variance, greatest first
    worst: str  # the step that would most improve it
    links: tuple[Link, ...]


@record
class Taken:
    """One reading of [measured]."""

    name: str  # "west.bolt.1 to east.bolt.3", "east.top from bench", "east off gate"
    kind: Literal["across", "clear", "level", "off", "along"]
    read: Length  # what the tape was worth, or the difference of level, or the signed place
    expected: Length
    off: Length  # read less expected
    sigma: Length  # how far off it may well be
    disagrees: Length  # with everything else taken together
    allow: Length  # one sound reading in a thousand disagrees by more
    smallest: Length  # blunder in it that the others would nearly always show; inf where nothing checks it


@record
class Suspect:
    """What is the most likely to be wrong where the readings do not agree."""

    name: str  # a reading, or a step of setting out: "east along"
    reading: bool
    test: Number  # in standard deviations
    by: Length  # how far it would be off; nan of what is no length
    alike: tuple[str, ...]  # what would look the same, so that only another measurement can tell


@record
class Move:
    """From where a stake most likely stands to where it should. In line with `line`; left and up positive."""

    name: str
    line: str
    along: Length
    off: Length
    far: Length
    sigma: Length  # how sure its place is now, the longer axis of its ellipse
    up: Length
    sigma_up: Length
    worth: bool  # more than is left in doubt, and more than a tape shows
    worth_up: bool
    done: bool  # it is cast: what is still to come must follow it


@record
class Caution:
    """What weakens a measurement, or makes it worthless."""

    kind: Literal["narrow rays", "one line", "beyond its end", "taken twice", "circle", "narrow lines"]
    about: tuple[str, ...]
    value: Any  # an angle for rays and lines, else a length


@record
class Adjustment:
    """What the check measurements say, all of them together."""

    name: str
    taken: tuple[Taken, ...]
    redundancy: int  # as many as there are readings: none was needed to set out
    factor: Number  # misfit against what was expected; 1 on the average
    limit: Number  # one sound job in a hundred is above
    closes: bool
    suspects: tuple[Suspect, ...]  # the worst first; none where it closes
    moves: tuple[Move, ...]  # none where it does not close


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
