"""Is the concrete where and as large as the specification of tolerances lets it be?

    off : Off("west", "out of plumb", off=0.002, plus=0.003, minus=0.003, clause=aci117.PLUMB)    within

Planned against found, what was found alone. A tolerance is what a contract may ask, not what the work needs: that is
asked by the checks, which run on the work as found. Covers have a check of their own.
"""

from collections.abc import Iterator
from itertools import combinations
from math import hypot

from batterboard.plan import Plan
from batterboard.quantity import Length
from batterboard.record import record
from batterboard.standards import aci117, aisc
from batterboard.work.records import Body, Bolts
from batterboard.working import Source, tan

_SAME = 1e-6  # what is off by less was not found otherwise [m]


@record
class Off:
    """One way in which a thing of concrete differs from its plan."""

    name: str
    what: str
    off: Length  # found less planned; of a place or a lean its size
    plus: Length  # how far it may be off above
    minus: Length  # and below
    clause: Source

    @property
    def within(self) -> bool:
        return bool(-self.minus - _SAME <= self.off <= self.plus + _SAME)


def tolerances(planned: Plan, found: Plan) -> tuple[Off, ...]:
    """What of the concrete was found otherwise, against how far it may be off."""
    before = {body.name: body for body in planned.work.bodies}
    pairs = [(before[body.name], body) for body in found.work.bodies if body.name in before]
    return (
        *(off for pier in found.work.piers.values() for off in _plumb(pier.shaft, pier.lean)),
        *(off for a, b in pairs for off in _place(a, b)),
        *(off for a, b in pairs for off in _sizes(a, b)),
        *(off for thing in found.setout.plan.things if thing.bolts is not None for off in _group(thing.bolts)),
    )


def _group(bolts: Bolts) -> Iterator[Off]:
    """How far two rods of one group are nearer or wider apart than planned, at most; of those that were looked at."""
    apart = [
        abs(
            hypot(bolts.found_x[i] - bolts.found_x[j], bolts.found_y[i] - bolts.found_y[j])
            - hypot(bolts.x[i] - bolts.x[j], bolts.y[i] - bolts.y[j])
        )
        for i, j in combinations([number - 1 for number in bolts.found], 2)
    ]
    if apart and max(apart) > _SAME:
        t = aisc.IN_A_GROUP
        yield Off(name=bolts.name, what="rods apart", off=max(apart), plus=t, minus=0.0, clause=aisc.ROD_GROUP)


def _plumb(shaft: Body, lean: float) -> Iterator[Off]:
    off = abs(shaft.height * tan(lean))
    if off > _SAME:
        t = aci117.plumb(shaft.height)
        yield Off(name=shaft.name, what="out of plumb", off=off, plus=t, minus=0.0, clause=aci117.PLUMB)


def _place(planned: Body, found: Body) -> Iterator[Off]:
    """Where it stands; of footings and flat pads also how high their top came."""
    footing = found.part in ("pad", "step", "slab")
    off = hypot(found.frame.x - planned.frame.x, found.frame.y - planned.frame.y)
    if off > _SAME:
        t = aci117.edge_location(planned.outline.least) if footing else aci117.MEMBER_PLACE
        clause = aci117.LOCATION if footing else aci117.MEMBER
        yield Off(name=found.name, what="off its place", off=off, plus=t, minus=0.0, clause=clause)
    if not footing:
        return
    up = found.top - planned.top
    if abs(up) > _SAME:
        plus, minus = aci117.FOOTING_LEVEL["other"]
        yield Off(name=found.name, what="top", off=up, plus=plus, minus=minus, clause=aci117.FOOTING_TOP)


def _sizes(planned: Body, found: Body) -> Iterator[Off]:
    """Formed sections of piers and beams; how far a hole was too wide, and the thickness, which may be any more."""
    if found.part in ("pad", "step", "slab"):
        if found.against == "earth" and found.over > _SAME:
            t = aci117.wider_in_soil(planned.outline.least)
            clause = aci117.FOOTING_THICK
            yield Off(name=found.name, what="wider in its hole", off=2 * found.over, plus=t, minus=0.0, clause=clause)
        off = found.height - planned.height
        if off < -_SAME:
            t = aci117.footing_thinner(planned.height)
            yield Off(name=found.name, what="thinner", off=off, plus=0.0, minus=t, clause=aci117.FOOTING_THICK)
        return
    sides = [("across", planned.outline.across, found.outline.across)]
    if found.part == "pier":
        sides.append(("along", planned.outline.along, found.outline.along))
    else:
        sides.append(("deep", planned.height, found.height))
    for what, a, b in sides:
        if abs(b - a) > _SAME:
            plus, minus = aci117.thicker(a), aci117.thinner(a)
            yield Off(name=found.name, what=what, off=b - a, plus=plus, minus=minus, clause=aci117.SECTION)
