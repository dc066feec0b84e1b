"""What the template answers with: the pattern, its bolts' length, how it hangs, and the plate on the bolts as found.

    pattern : Pattern("hinge", on="west", circle=0.323, points=(...), budget=Budget(...))      one for each plate
    seat    : Seat("hinge", spare=-0.002, turn=0.004, openings=(...), moved=(...))             where bolts were found

Lengths in the plate's own axes: x ahead, y to the left, seen from above; bolts are numbered as in the work.
"""

from typing import Literal

from batterboard.quantity import Angle, Length, Number
from batterboard.record import record
from batterboard.working import Check


@record
class Point:
    """One hole of template and plate."""

    number: int
    x: Length  # as planned, from the plate's centre
    y: Length
    from_back: Length  # from the plate's back edge: the drilling table from two edges
    from_right: Length
    edge: (
        Length  # from the hole's centre, or its slot's end, to the plate's nearest edge; less what it was drilled wider
    )
    found_x: Length
    found_y: Length
    proud: Length  # of its bolt above the concrete, as found where found


@record
class Diagonal:
    name: str  # "1 to 3"
    a: int
    b: int
    length: Length


@record
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
    thread: Length  # at the top of the rod, at least: a nut can then run down to the concrete
    length: Length  # of the whole rod, cut: as planned, whatever was found
    bought: Length  # thread at the top of the bolt as bought, nan where the file does not say
    below: Length  # concrete left under the lowest bolt's foot, down to the underside of what carries it


@record
class Match:
    """A mark that lies off every axis of the plate: the first is punched with one ring, the second with two."""

    letter: str
    x: Length
    y: Length
    from_back: Length  # from the plate's back edge, as holes are marked out
    from_right: Length


@record
class Proof:
    """One thing to measure before the template is trusted."""

    name: str
    proves: Literal["hangs", "centred", "square", "level", "height", "pattern"]
    hold: str
    read: str
    value: Length  # what it should be, nan where the reading must only be alike
    within: Length  # measure again, or move it, beyond this


@record
class Pattern:
    name: str  # the post or machine
    on: str  # pier or slab
    rod: str  # "3/4 in F1554-36"
    diameter: Length
    hole: Length
    hole_from: str  # table and edition; "the job file" where it says another
    washer: Length
    washer_thick: Length
    nut: Length  # across flats
    holes: Literal["drilled", "cut"]
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
    matches: tuple[Match, ...]  # to punch into both, one over the other: no turn and no flip brings them back together
    budget: Budget
    clearance: Length  # of a bolt in the middle of its hole
    tolerance: Length  # of a bolt's place, by the code
    least_edge: Length  # from the centre of a hole to the plate's edge, by the code
    least_edge_standard: Length  # the table's, for its standard hole
    standard_hole: Length
    twist: Angle  # either way, that the holes leave the plate
    twist_at_latch: Length  # of a leaf that hangs on it, nan where none does
    latch_reach: Length  # from the plate's centre to the latch end of that leaf, nan where none hangs on it
    latch_per_edge: Number  # how far the latch end moves for each unit that the plate's edge is turned off the line
    over_along: Length  # how far the pier's faces stand out beyond the plate, ahead; negative: the plate overhangs
    over_across: Length
    proofs: tuple[Proof, ...]  # how it hangs over the form, and what proves it centred, square, level and high enough


# ---- as found ----


@record
class Rod:
    """One bolt as found, and as the best lie of the plate sees it."""

    number: int
    looked: bool  # somebody did: else it is taken to stand as planned
    ahead: Length  # off its planned place
    left: Length
    off: Length  # together
    lean: Number  # slope
    way: str  # ahead, back left; empty where nobody wrote it down
    proud: Length
    hole: Length
    slot: Length  # by which that hole was slotted, 0 of a round one
    slot_way: str  # ahead, ahead left, at 30 deg
    offset: Length  # from its hole's middle, or its slot, with the plate as it lies best; leaning, where it is worst
    spare: Length  # left in its hole then; negative: it is short by so much


@record
class Opening:
    """A hole to open so that the plate drops on."""

    number: int
    turn: Angle  # the way to open it, counter-clockwise from ahead
    way: str  # the same in words: ahead, ahead left, at 30 deg
    by: Length  # to lengthen it that way
    hole: Length  # drilled out round instead: its new diameter
    washer: Length  # plate washer that still covers it, at least
    washer_covers: bool  # the one of the table does
    edge: Length  # from the middle of the opened end to the plate's edge
    edge_needed: Length

    @property
    def possible(self) -> bool:
        return bool(self.edge >= self.edge_needed)


@record
class Moved:
    """What a plate that lies otherwise than planned does to a leaf."""

    leaf: str
    end: Literal["hinge", "latch"]  # which post it is
    closes: Length  # the opening; negative: it widens
    aside: Length  # the post, off the line from hinge to latch; to the left of it positive
    at_latch: Length  # off that line at the latch, of a leaf that follows its post's turn; nan at the latch post


@record
class Agreement:
    """Two ways in which one bolt was measured."""

    name: str  # "hinge bolt 1"
    ways: tuple[str, str]
    apart: Length
    allowed: Length


@record
class Spot:
    """A hole of a new plate."""

    number: int
    x: Length
    y: Length


@record
class Remade:
    """A new plate, drilled where the bolts stand: as large as the old one, or so that its holes keep their edges."""

    along: Length
    across: Length
    spots: tuple[Spot, ...]


@record
class Seat:
    """A plate on its bolts as found: how it lies best, and what to do where it does not drop on."""

    name: str
    shift_ahead: Length
    shift_left: Length
    turn: Angle
    spare: Length  # in the tightest hole; negative: it does not drop on
    tightest: int
    rods: tuple[Rod, ...]
    openings: tuple[Opening, ...]  # the fewest holes to open; empty where it drops on or no opening helps
    hole_for_all: Length  # all holes drilled this wide, it would just drop on
    washer_for_all: Length
    remade: Remade
    moved: tuple[Moved, ...]
    lowest: int  # the bolt that stands least proud
    short: Length  # of the projection needed; 0 where it is long enough

    @property
    def drops_on(self) -> bool:
        return bool(self.spare >= 0)


@record
class Template:
    patterns: tuple[Pattern, ...]
    seats: tuple[Seat, ...]
    agreements: tuple[Agreement, ...]
    checks: tuple[Check, ...]
