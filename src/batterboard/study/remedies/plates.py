"""A plate that does not drop on, a bolt too short or too near the earth, one that was measured twice.

Holes are opened or slotted within what `template` allows; the new plate is the last resort. A bolt that is cast stays.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from batterboard.job.schema import FoundBolt, Job
from batterboard.phases.template import Opening, Pattern, Seat
from batterboard.plan import Plan
from batterboard.quantity import inch
from batterboard.study.remedies.proposing import (
    COARSE,
    MARK,
    STEP,
    Path,
    Proposal,
    Propose,
    enough,
    has,
    is_cast,
    listed,
    needs,
    sayer,
    stuck,
    up,
)
from batterboard.working import Check

LEAST_GROUT = 0.75 * inch  # that can still be packed under a plate, common practice
_WASHERS = {  # plate washers that are thinner than the table's
    "us": tuple(n * inch / 16 for n in (4, 3, 2)),
    "si": (0.006, 0.005, 0.003),
}
_PLATES = {
    "us": tuple(n * inch / 8 for n in (12, 10, 8, 7, 6, 5, 4, 3)),
    "si": (0.04, 0.035, 0.03, 0.025, 0.02, 0.016, 0.015, 0.012, 0.01),
}
_MORE = 9  # marks that a hole is opened more than it must be, so that it drops on for sure
_WIDER = 0.5  # rod diameters that holes are drilled wider at most; more is no hole for this rod, common practice


def _thing(job: Job, name: str) -> Path:
    return ("posts" if name in job.posts else "machines", name)


def _joint(job: Job, name: str) -> Any:
    thing = job.posts[name] if name in job.posts else job.machines[name]
    return thing.joint, thing.bolts


def _of(plan: Plan, name: str) -> tuple[Pattern, Seat | None]:
    pattern = next(one for one in plan.template.patterns if one.name == name)
    return pattern, next((one for one in plan.template.seats if one.name == name), None)


def _short_bolt(plan: Plan, c: Check) -> Iterator[Proposal]:
    name, job = c.element, plan.job
    pattern, seat = _of(plan, name)
    joint, bolts = _joint(job, name)
    at, said = _thing(job, name), sayer(job)
    b = pattern.budget
    short = b.needed - b.proud
    less = b.grout - up(short, MARK[job.job.units])
    if less >= LEAST_GROUT:
        yield f"set the plate lower: {said(less)} of grout instead of {said(b.grout)}", {(*at, "joint", "grout"): less}
    washer = next((t for t in _WASHERS[job.job.units] if b.washer - t >= short), None)
    if washer is not None:
        yield f"plate washers of {said(washer)} instead of {said(b.washer)}", {(*at, "joint", "washer"): washer}
    if less < LEAST_GROUT and b.grout > LEAST_GROUT:
        rest = short - (b.grout - LEAST_GROUT)
        washer = next((t for t in _WASHERS[job.job.units] if b.washer - t >= rest), None)
        if washer is not None:
            changes = {(*at, "joint", "grout"): LEAST_GROUT, (*at, "joint", "washer"): washer}
            yield f"{said(LEAST_GROUT)} of grout and plate washers of {said(washer)} together", changes
    plate = next((t for t in _PLATES[job.job.units] if b.plate - t >= short), None)
    if plate is not None:
        text = f"a plate of {said(plate)} instead of {said(b.plate)}; its bending is not checked here"
        yield text, {(*at, "joint", "plate"): (*joint.plate[:2], plate)}
    low = [rod for rod in seat.rods if rod.proud < b.needed] if seat else []
    if low:
        longer = dict(bolts)
        for rod in low:
            longer[rod.number] = replace(bolts.get(rod.number, FoundBolt()), proud=up(b.needed, MARK[job.job.units]))
        numbers = listed([str(rod.number) for rod in low])
        text = f"a coupling nut and a length of rod on bolt {numbers}, in a pocket chipped round it below the plate"
        yield text, {(*at, "bolts"): longer}


def _plate_off(plan: Plan, c: Check) -> Iterator[Proposal]:
    name, job = c.element, plan.job
    _, seat = _of(plan, name)
    if seat is None:
        return
    joint, _ = _joint(job, name)
    at, said = _thing(job, name), sayer(job)
    more = [n * MARK[job.job.units] for n in range(_MORE)]
    if seat.openings:
        yield from enough(plan, c, "setout", (_slotted(job, name, seat.openings, by) for by in more))
        yield from enough(plan, c, "setout", (_drilled(job, name, seat.openings, by) for by in more))
    yield from enough(plan, c, "setout", _all_wider(plan, name, seat, more))
    new, (along, across, thick) = seat.remade, joint.plate
    places, sides = tuple((spot.x, spot.y) for spot in new.spots), (new.along, new.across)
    remade = replace(joint, square=None, rows=None, circle=None, at=places, plate=(*sides, thick))
    size = "" if sides == (along, across) else f", {' x '.join(map(said, sides))} so that they keep their edge"
    yield f"a new plate, drilled where the bolts stand{size}", {(*at, "joint"): remade}


def _slotted(job: Job, name: str, openings: tuple[Opening, ...], more: float) -> Proposal:
    """As short as will do, or so much longer that it drops on for sure."""
    _, bolts = _joint(job, name)
    slotted, told, said = dict(bolts), [], sayer(job)
    for o in openings:
        slotted[o.number] = replace(bolts.get(o.number, FoundBolt()), slot=f"{(o.by + more) * 1000:.6f} mm {o.way}")
        told.append(f"slot hole {o.number}: {said(o.by + more)} longer {told_way(o.way)}{_covered(job, o, more)}")
    return "; ".join(told), {(*_thing(job, name), "bolts"): slotted}


def _drilled(job: Job, name: str, openings: tuple[Opening, ...], more: float) -> Proposal:
    _, bolts = _joint(job, name)
    wider, told = dict(bolts), []
    for o in openings:
        hole = o.hole + 2 * more
        wider[o.number] = replace(bolts.get(o.number, FoundBolt()), hole=hole)
        told.append(f"drill hole {o.number} out to {sayer(job)(hole)}{_covered(job, o, more)}")
    return "; ".join(told), {(*_thing(job, name), "bolts"): wider}


def _covered(job: Job, o: Opening, more: float) -> str:
    """The washer that it then needs, where the one of the table does not cover it."""
    washer = o.washer + 2 * more
    if o.washer_covers and not more:
        return ""
    return f", under a plate washer of {sayer(job)(up(washer, COARSE[job.job.units]))}"


def _all_wider(plan: Plan, name: str, seat: Seat, more: list[float]) -> Iterator[Proposal]:
    pattern, _ = _of(plan, name)
    said = sayer(plan.job)
    for by in more:
        hole = seat.hole_for_all + 2 * by
        if pattern.hole < hole <= pattern.hole + _WIDER * pattern.diameter:
            washer = said(up(seat.washer_for_all + 2 * by, COARSE[plan.job.job.units]))
            text = f"drill all holes to {said(hole)}, under plate washers of {washer}"
            yield text, {(*_thing(plan.job, name), "joint", "hole"): hole}


def _measured_twice(plan: Plan, c: Check) -> Iterator[Proposal]:
    """Of two ways that do not agree the first stands until he has looked again."""
    name, _, number = c.element.rpartition(" bolt ")
    _, bolts = _joint(plan.job, name)
    bolt = bolts[int(number)]
    kept = replace(bolt, taped=() if bolt.at else bolt.taped, faces=None)
    text = f"measure bolt {number} of {name} again, and strike out the wrong one"
    yield text, {(*_thing(plan.job, name), "bolts"): {**bolts, int(number): kept}}


def _thread(plan: Plan, c: Check) -> Iterator[Proposal]:
    pattern, _ = _of(plan, c.element)
    needed = up(pattern.budget.thread, COARSE[plan.job.job.units])
    text = f"run the thread down to {sayer(plan.job)(needed)} before the bolts are set"
    yield text, {(*_thing(plan.job, c.element), "joint", "thread"): needed}


def _deep_foot(plan: Plan, c: Check) -> Iterator[Proposal]:
    """A foot too near the earth: before the concrete comes the bolts are cut shorter, or the hole is dug deeper."""
    name, job = c.element, plan.job
    pattern, _ = _of(plan, name)
    joint, bolts = _joint(job, name)
    on, said = pattern.on, sayer(job)
    if is_cast(job, on):
        yield stuck(on)
        return
    short = up(needs(c) - has(c), COARSE[job.job.units])
    if joint.deep > short:
        text = f"cut the bolts of {name} {said(short)} shorter at the foot: {said(joint.deep - short)} in the concrete"
        yield text, {(*_thing(job, name), "joint", "deep"): joint.deep - short}
    pier = job.piers.get(on)
    if pier is not None and pier.pad is not None and not is_cast(job, on, "pad"):
        deeper = up(short, STEP[job.job.units] / 2)
        thick = pier.pad.thick + deeper
        yield f"dig {on} {said(deeper)} deeper and fill it with concrete", {("piers", on, "pad", "thick"): thick}
    if on in job.pads:
        thick = job.pads[on].thick + short
        yield f"make {on} {said(thick)} thick", {("pads", on, "thick"): thick}


def _larger_plate(plan: Plan, c: Check) -> Iterator[Proposal]:
    name, said = c.element, sayer(plan.job)
    joint, _ = _joint(plan.job, name)
    more = 2 * up(needs(c) - has(c), COARSE[plan.job.job.units])
    along, across, thick = joint.plate
    text = f"a larger plate, {said(along + more)} x {said(across + more)}, so that the holes keep their edge"
    yield text, {(*_thing(plan.job, name), "joint", "plate"): (along + more, across + more, thick)}


def _table_hole(plan: Plan, c: Check) -> Iterator[Proposal]:
    joint, _ = _joint(plan.job, c.element)
    if joint.hole is not None:
        yield "drill the holes as wide as the table has them", {(*_thing(plan.job, c.element), "joint", "hole"): None}


def _weld(plan: Plan, c: Check) -> Iterator[Proposal]:
    leg = up(needs(c), MARK[plan.job.job.units])
    text = f"a weld of {sayer(plan.job)(leg)} on the post of {c.element}, run over the one there is"
    yield text, {(*_thing(plan.job, c.element), "joint", "weld"): leg}


def told_way(way: str) -> str:
    """The way of a slot; an angle with what it is counted from."""
    return f"{way} from ahead to the left" if way.endswith("deg") else way


PROPOSE: dict[str, Propose] = {
    "bolt_stands_proud": _short_bolt,
    "plate_drops_on": _plate_off,
    "plate_misses": _plate_off,
    "thread_long_enough": _thread,
    "measured_alike": _measured_twice,
    "foot_covered": _deep_foot,
    "hole_clears_edge": _larger_plate,
    "hole_takes_tolerance": _table_hole,
    "weld_leg": _weld,
}
