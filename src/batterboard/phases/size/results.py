"""What the size phase answers with: what presses on the soil under each base, and how far each leaf moves.

    Load     : every case of one base, as forces and moments at the centre of its foot       the west pad, 25 cases
    Movement : where the droop at one leaf's latch end comes from                            soil 0.08 in, post 0.26 in

Signs: down is positive down; `along` and `across` are the base's own axes (ahead, left); a moment is named for the
direction it tips the base towards: `tips_along` > 0 presses ahead, `tips_across` > 0 presses left.
"""

from dataclasses import field
from typing import Any

from batterboard.quantity import Angle, Force, Length, Moment, Number, Pressure
from batterboard.record import record
from batterboard.work.records import Body
from batterboard.working import Check


@record
class Effect:
    """What one kind of load does at the centre of the foot's underside. Each broadcasts to (cases, variants)."""

    down: Force = 0.0
    along: Force = 0.0
    across: Force = 0.0
    tips_along: Moment = 0.0
    tips_across: Moment = 0.0

    def __add__(self, other: "Effect") -> "Effect":
        return Effect(
            down=self.down + other.down,
            along=self.along + other.along,
            across=self.across + other.across,
            tips_along=self.tips_along + other.tips_along,
            tips_across=self.tips_across + other.tips_across,
        )


@record
class Push:
    """Wind on one thing that stands on a base."""

    name: str  # "leaf a", "post hinge"
    force: Force  # the whole design wind on it, normal to its face
    area: Any
    z: Length  # where it acts, above the job's zero
    again: Any = field(repr=False, compare=False)  # computes it once more, so that a check's page shows how


@record
class Load:
    """What stands on one base, case by case: factors and effects are (cases, 1) or (cases, variants)."""

    name: str  # of the base
    cases: tuple[str, ...]
    foot: Body  # what stands on the soil
    dead: Effect
    wind: Effect
    live: Effect  # a person on the latch end, a machine's side force
    f_D: Number  # factor of each kind in each case
    f_W: Number
    f_L: Number
    against: Number  # by how much the cases must be safe against overturning and sliding
    pushes: tuple[Push, ...]
    stands: bool  # on its pad or slab; else its sides hold it in the soil
    depth: Length  # of the foot's underside below the ground at the place
    note: str = ""


@record
class Movement:
    """How far a hung leaf's latch end comes down, and its post leans, by the weight of the leaf alone."""

    name: str  # the leaf
    tilt_alone: Angle  # of the hinge pier on its soil, standing alone
    tilt: Angle  # with the tie beam's help
    tilt_latch: Angle  # of the latch pier, pulled along by the tie beam; same sense
    post: Angle  # of the line through the hinges, by the bending of the post
    droop_soil: Length  # at the latch end
    droop_post: Length
    droop: Length
    lean: Length  # how much the latch gap closes
    pressure_rigid: Pressure  # under the hinge pier's pad, all dead load, rigid contact
    pressure_springs: Pressure  # the same on springs, with the tie beam's help
    tied_by: str  # the beam, "" where there is none


@record
class Size:
    """Everything the phase answers."""

    loads: dict[str, Load]  # by base
    movements: dict[str, Movement]  # by leaf
    notes: tuple[str, ...]  # what was assumed and what was not computed
    checks: tuple[Check, ...]
