"""What can be done about a check that does not hold as found? Each answer is tried: the whole chain runs again with it.

    proposal : ("raise the plate less: 3/4 in of grout", {("posts", "hinge", "joint", "grout"): 0.01905})
    remedy   : Remedy(says="raise the plate less ...", holds=True, breaks=())

A proposal changes the job as found at some keys, as if he had done it. It is offered only with what came of it: whether
the check holds then, and which others no longer do. What nobody can undo, concrete that is cast, is never changed.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, is_dataclass, replace
from functools import cached_property
from math import ceil
from typing import Any

from batterboard.job.schema import FaceCover, FoundBolt, Job
from batterboard.phases.concrete import Water
from batterboard.phases.template import Pattern, Seat
from batterboard.plan import Plan
from batterboard.quantity import Celsius, Length, Volume, WaterContent, inch, show
from batterboard.standards import aci211, aci306, c94
from batterboard.working import Check

Path = tuple[Any, ...]  # keys of the job, names as they are: ("posts", "hinge", "joint", "grout")
Proposal = tuple[str, dict[Path, Any]]

LEAST_GROUT = 0.75 * inch  # that can still be packed under a plate, common practice
_WASHERS = tuple(n * inch / 16 for n in (4, 3, 2))  # plate washers that are thinner than the table's
_PLATES = tuple(n * inch / 8 for n in (12, 10, 8, 7, 6, 5, 4, 3))
_WIDER = 0.5  # rod diameters that holes are drilled wider at most; more is no hole for this rod, common practice
_DOSES = 20  # parts of what was logged
_STONES = tuple(n * inch / 8 for n in (6, 5, 4, 3))


@dataclass(frozen=True)
class Remedy:
    """One thing to do, and what the chain says of the job once it is done."""

    check: tuple[str, ...]  # the key of the check it is for
    says: str
    changes: Mapping[Path, Any]
    after: Check | None  # the same check then; None where it is no longer asked
    breaks: tuple[str, ...]  # titles of checks that held as found and no longer do
    mends: tuple[str, ...]  # titles of others that did not hold as found and now do

    @property
    def holds(self) -> bool:
        return self.after is None or self.after.verdict == "holds"

    @property
    def works(self) -> bool:
        """It holds, and nothing else is worse for it."""
        return self.holds and not self.breaks


@dataclass(frozen=True)
class Remedies:
    """All that is proposed for the checks of one job as found."""

    found: Plan

    @cached_property
    def _before(self) -> dict[tuple[str, ...], str]:
        return {c.key: c.verdict for c in self.found.checks}

    def of(self, c: Check) -> tuple[Remedy, ...]:
        """Those for one check, the ones that work first, in the order in which he would try them."""
        propose = _PROPOSE.get(c.name)
        tried = [self._tried(c, *each) for each in propose(self.found, c)] if propose else []
        return tuple(sorted(tried, key=lambda remedy: (not remedy.works, not remedy.holds)))

    @cached_property
    def _ran(self) -> dict[str, tuple[Check, ...]]:
        return {}

    def _run(self, changes: dict[Path, Any]) -> tuple[Check, ...]:
        """The checks of the changed job; what several checks propose is worked out once."""
        same = repr(changes)
        if same not in self._ran:
            job = self.found.job
            for path, value in changes.items():
                job = put(job, path, value)
            self._ran[same] = Plan(job).checks
        return self._ran[same]

    def _tried(self, c: Check, says: str, changes: dict[Path, Any]) -> Remedy:
        checks = self._run(changes)
        now = {one.key: one.verdict for one in checks}
        return Remedy(
            check=c.key,
            says=says,
            changes=changes,
            after=next((one for one in checks if one.key == c.key), None),
            breaks=tuple(one.title for one in checks if not one.holds and self._before.get(one.key) == "holds"),
            mends=tuple(
                one.title
                for one in self.found.checks
                if one.key != c.key and one.verdict != "holds" and now.get(one.key, "holds") == "holds"
            ),
        )


def put(thing: Any, path: Path, value: Any) -> Any:
    """The job, or a part of it, with another value at a path."""
    if not path:
        return value
    first, *rest = path
    if isinstance(thing, dict):
        return {**thing, first: put(thing[first], tuple(rest), value)}
    if isinstance(thing, tuple):
        return (*thing[:first], put(thing[first], tuple(rest), value), *thing[first + 1 :])
    assert is_dataclass(thing) and not isinstance(thing, type)
    return replace(thing, **{first: put(getattr(thing, first), tuple(rest), value)})


# ---- plate and bolts ----


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
    at, said = _thing(job, name), _sayer(job)
    b = pattern.budget
    short = b.needed - b.proud
    less = b.grout - _up(short, inch / 16)
    if less >= LEAST_GROUT:
        yield f"set the plate lower: {said(less)} of grout instead of {said(b.grout)}", {(*at, "joint", "grout"): less}
    washer = next((t for t in _WASHERS if b.washer - t >= short), None)
    if washer is not None:
        yield f"plate washers of {said(washer)} instead of {said(b.washer)}", {(*at, "joint", "washer"): washer}
    if less < LEAST_GROUT and b.grout > LEAST_GROUT:
        rest = short - (b.grout - LEAST_GROUT)
        washer = next((t for t in _WASHERS if b.washer - t >= rest), None)
        if washer is not None:
            changes = {(*at, "joint", "grout"): LEAST_GROUT, (*at, "joint", "washer"): washer}
            yield f"{said(LEAST_GROUT)} of grout and plate washers of {said(washer)} together", changes
    plate = next((t for t in _PLATES if b.plate - t >= short), None)
    if plate is not None:
        text = f"a plate of {said(plate)} instead of {said(b.plate)}; its bending is not checked here"
        yield text, {(*at, "joint", "plate"): (*joint.plate[:2], plate)}
    low = [rod for rod in seat.rods if rod.proud < b.needed] if seat else []
    if low:
        longer = dict(bolts)
        for rod in low:
            longer[rod.number] = replace(bolts.get(rod.number, FoundBolt()), proud=_up(b.needed, inch / 16))
        numbers = _listed([str(rod.number) for rod in low])
        text = f"a coupling nut and a length of rod on bolt {numbers}, in a pocket chipped round it below the plate"
        yield text, {(*at, "bolts"): longer}


def _plate_off(plan: Plan, c: Check) -> Iterator[Proposal]:
    name, job = c.element, plan.job
    pattern, seat = _of(plan, name)
    if seat is None:
        return
    joint, bolts = _joint(job, name)
    at, said = _thing(job, name), _sayer(job)
    if seat.openings:
        slotted, wider = dict(bolts), dict(bolts)
        slots, drilled = [], []
        for o in seat.openings:
            bolt = bolts.get(o.number, FoundBolt())
            slotted[o.number] = replace(bolt, slot=f"{o.by * 1000:.6f} mm {o.way}")
            wider[o.number] = replace(bolt, hole=o.hole)
            cover = "" if o.washer_covers else f", under a plate washer of {said(_up(o.washer, inch / 8))}"
            slots.append(f"slot hole {o.number} {said(o.by)} longer {told_way(o.way)}{cover}")
            drilled.append(f"drill hole {o.number} out to {said(o.hole)}{cover}")
        yield "; ".join(slots), {(*at, "bolts"): slotted}
        yield "; ".join(drilled), {(*at, "bolts"): wider}
    if not seat.drops_on and seat.hole_for_all - pattern.hole <= _WIDER * pattern.diameter:
        washer = said(_up(seat.washer_for_all, inch / 8))
        text = f"drill all holes to {said(seat.hole_for_all)}, under plate washers of {washer}"
        yield text, {(*at, "joint", "hole"): seat.hole_for_all}
    new, (along, across, thick) = seat.remade, joint.plate
    places, sides = tuple((spot.x, spot.y) for spot in new.spots), (new.along, new.across)
    remade = replace(joint, square=None, rows=None, circle=None, at=places, plate=(*sides, thick))
    size = "" if sides == (along, across) else f", {' x '.join(map(said, sides))} so that they keep their edge"
    yield f"a new plate, drilled where the bolts stand{size}", {(*at, "joint"): remade}


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
    needed = _up(pattern.budget.thread, inch / 8)
    text = f"run the thread down to {_sayer(plan.job)(needed)} before the bolts are set"
    yield text, {(*_thing(plan.job, c.element), "joint", "thread"): needed}


# ---- concrete and steel in it ----


def _ties(plan: Plan, c: Check) -> Iterator[Proposal]:
    bars = plan.job.piers[c.element].bars if c.element in plan.job.piers else None
    if bars and bars.missing:
        text = f"put {_listed(bars.missing)} of {c.element} in before it is cast; if it is cast, ask the engineer"
        yield text, {("piers", c.element, "bars", "missing"): ()}


def _low_cover(plan: Plan, c: Check) -> Iterator[Proposal]:
    pier = plan.job.piers.get(c.element)
    if pier is None or pier.bars is None or not isinstance(pier.bars.cover, FaceCover):
        return
    faces = {f.face: f for f in plan.cage.covers if f.element == c.element and f.face != "all"}
    low = {face: f for face, f in faces.items() if f.found < f.needed - f.tolerance}
    if low:
        cover = replace(pier.bars.cover, **{face: float(f.needed) for face, f in low.items()})
        needed = _sayer(plan.job)(max(float(f.needed) for f in low.values()))
        text = f"before it is cast, shift the cage or block it out: {needed} on the {_listed(list(low))} face"
        yield text, {("piers", c.element, "bars", "cover"): cover}


def _tight(plan: Plan, c: Check) -> Iterator[Proposal]:
    """Bars that found concrete has brought near each other."""
    job, said = plan.job, _sayer(plan.job)
    for name, beam in job.beams.items():
        if beam.shift and name not in job.done and name in " ".join(c.key):
            yield f"set {name} back on its line before it is cast", {("beams", name, "shift"): None}
    for name, mix in job.mixes.items():
        room = _has(c) - (_needs(c) - mix.stone)  # for the stone, beside what the bars themselves take
        smaller = next((stone for stone in _STONES if stone < mix.stone and stone <= room), 0)
        if smaller:
            text = f"order {name} with {said(smaller)} stone instead of {said(mix.stone)}, so that it passes"
            yield text, {("mixes", name, "stone"): smaller}


def _shallow(plan: Plan, c: Check) -> Iterator[Proposal]:
    name = c.element.removesuffix(" pad")
    pier = plan.job.piers.get(name)
    if pier is None or pier.pad is None or name in plan.job.done:
        return
    deeper = _up(_needs(c) - _has(c), inch)
    text = f"dig {name} {_sayer(plan.job)(deeper)} deeper and fill it with concrete"
    yield text, {("piers", name, "pad", "thick"): pier.pad.thick + deeper}


def _wet(plan: Plan, c: Check) -> Iterator[Proposal]:
    water = next((w for w in plan.concrete.waters if w.name == c.element), None)
    if water is None or water.lift > len(plan.job.pour.lifts):
        return
    at: Path = ("pour", "lifts", water.lift - 1, "water")
    system = plan.job.job.units
    most = _most_water(plan, water)
    if 0 < most < water.added:
        per, load = (
            show(most, WaterContent, system),
            show(most / water.added * water.per_load, Volume, system, "gal" if system == "us" else "L"),
        )
        yield f"no more than {per} into {c.element}: {load} in a full truck", {at: most}
    lift = plan.job.pour.lifts[water.lift - 1]
    dry = replace(lift, water=0.0, wetted="admixture")
    text = f"send such a load back; {c.element} gets its slump from an admixture. If it is placed, ask the engineer"
    yield text, {("pour", "lifts", water.lift - 1): dry}


def _most_water(plan: Plan, water: Water) -> float:
    """The most that leaves this lift both its strength and its water over binder; in parts of what was put in."""
    mix = plan.concrete.mixes[water.mix]
    step = float(water.added) / _DOSES
    for dose in range(_DOSES, 0, -1):
        ratio = c94.ratio_after(mix.ratio, mix.binder, dose * step)
        strong = aci211.strength_after(mix.strength, mix.ratio, ratio) >= mix.least
        if strong and not ratio > mix.greatest:
            return dose * step
    return 0.0


def _cold(plan: Plan, c: Check) -> Iterator[Proposal]:
    system = plan.job.job.units
    warm = float(_needs(c))
    text = f"have the concrete come at {show(warm, Celsius, system)} and keep it covered"
    yield text, {("pour", "concrete"): warm}
    mild = float(aci306.COLDER_THAN)
    yield f"wait for days of {show(mild, Celsius, system)} and more", {("pour", "air"): mild}


# ---- the opening ----


def _opening(plan: Plan, c: Check) -> Iterator[Proposal]:
    job, said = plan.job, _sayer(plan.job)
    hang = next((one for one in plan.steel.hangs if one.name == c.element), None)
    if hang is None or hang.name not in job.leaves:
        return
    leaning = [name for name in (hang.hinge_post, hang.latch_post) if job.posts[name].lean]
    if leaning:
        text = f"bring post {_listed(leaning)} plumb on its nuts"
        yield text, {("posts", name, "lean"): None for name in leaning}
    leaf, at = job.leaves[hang.name], ("leaves", hang.name)
    over = float((hang.left_low + hang.left_high) / 2 - hang.latch_gap)
    if over > 0:
        text = f"set the latch keeper {said(over)} out from its post towards the leaf"
    else:
        text = f"let the latch keeper {said(-over)} into its post"
    gap = float(hang.latch_gap + over)
    if gap > 0:
        yield text, {(*at, "shuts", "gap"): gap}
    hinge = float(hang.hinge_gap + over)
    if hinge > 0:
        way = "further from" if over > 0 else "nearer to"
        yield f"hang the leaf {said(abs(over))} {way} its post, on other hinges", {(*at, "hung", "gap"): hinge}
    length, height = leaf.size
    made = f"{said(abs(over))} {'longer' if over > 0 else 'shorter'}: {said(length + over)}"
    yield f"make the leaf {made}", {(*at, "size"): (length + over, height)}


# ---- words and numbers ----


def _needs(c: Check) -> Any:
    return c.worst_demand


def _has(c: Check) -> Any:
    return c.worst_capacity


def _up(value: Any, step: float) -> float:
    return ceil(float(value) / step - 1e-9) * step


def _sayer(job: Job) -> Callable[[Any], str]:
    return lambda length: show(float(length), Length, job.job.units)


def told_way(way: str) -> str:
    """A way of a slot: ahead left, or at 30 deg with what it is counted from."""
    return f"{way} from ahead to the left" if way.endswith("deg") else way


def _listed(names: Any) -> str:
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else str(last)


_PROPOSE: dict[str, Callable[[Plan, Check], Iterator[Proposal]]] = {
    "bolt_stands_proud": _short_bolt,
    "plate_drops_on": _plate_off,
    "plate_misses": _plate_off,
    "thread_long_enough": _thread,
    "measured_alike": _measured_twice,
    "tie_gap": _ties,
    "ties_at_bolts": _ties,
    "cover": _low_cover,
    "room_beside": _tight,
    "room_across": _tight,
    "below_frost": _shallow,
    "strength_left": _wet,
    "wetted_ratio": _wet,
    "warm_enough": _cold,
    "opening_closes": _opening,
    "latch_gap": _opening,
    "leaf_misses": _opening,
}
