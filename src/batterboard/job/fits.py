"""Does each thing fit in itself: its chamfers, its bolts on its plate, its ties along its bars?

    fit(record) -> (("edges", "corners"), "this chamfer eats half a side or more", "make it less ...")

Asked of each record by itself as soon as it is read, so that one that cannot be read hides nothing of the others.
Whether steel fits beside steel is asked in `cage`, whether a plate drops on its bolts in `template`. The tables of the
trade are opened only here: they know arrays, reading does not.
"""

from collections.abc import Callable, Iterator
from math import cos, hypot, pi, sin, sqrt, tan
from typing import Any

from batterboard.job.errors import nearest, shown
from batterboard.job.reading import Path
from batterboard.job.schema import (
    BarRun,
    Batch,
    Beam,
    BeamBars,
    Blockout,
    BoltSet,
    Break,
    Edges,
    Ground,
    Heading,
    Joint,
    Leaf,
    Lift,
    Machine,
    Mix,
    Pad,
    PadBars,
    Pier,
    PierBars,
    Pipe,
    Post,
    Pour,
    Reading,
    Shift,
    Sign,
    Stick,
    Tabulated,
    Warmth,
    Weather,
)
from batterboard.job.shorthand import slot

Wrong = tuple[Path, str, str]

CLOSEST = 0.01  # spacing of bars [m]
SLACK = 1e-9  # rounding of a sum of lengths [m]
LONGEST_NAME, LONGEST_WORD = 120, 40  # letters of the job's name
SHARE = "a share from 0 to 1, or 35 %"


def fit(record: Any) -> Iterator[Wrong]:
    """What does not fit in a record: keys below it, what is wrong, what would be right."""
    ask = _FITS.get(type(record))
    if ask:
        yield from ask(record)


def tabulated(name: str, mark: Tabulated) -> Iterator[tuple[str, str]]:
    """What is wrong with a name that must be in the tables of the trade."""
    from batterboard.standards import tables

    rows = [getattr(tables, table) for table in mark.tables]
    for table in rows if name.strip() else ():
        try:
            table(name)
            return
        except tables.NotTabulated:
            pass
    known = [row for table in rows for row in table.names()]
    yield f"there is no {mark.what} {shown(name)} in the tables", nearest(name, known, 12)


# ---- concrete ----


def _ground(ground: Ground) -> Iterator[Wrong]:
    if ground.spots:
        (x, y, _), *others = ground.spots
        legs = [(a - x, b - y) for a, b, _ in others]
        long = max(legs, key=lambda leg: leg[0] ** 2 + leg[1] ** 2, default=(0.0, 0.0))
        if not any(abs(long[0] * b - long[1] * a) > 1e-6 for a, b in legs):
            yield (
                ("spots",),
                "a surface needs three spots that do not lie in one line",
                "write x, y and level of one more",
            )


def _mix(mix: Mix) -> Iterator[Wrong]:
    for share in ("slag", "fly_ash", "air"):
        if (getattr(mix, share) or 0) >= 1:
            yield (share,), "a share of the whole or more", SHARE


def _pier(pier: Pier) -> Iterator[Wrong]:
    if pier.sides is not None and not 3 <= pier.sides <= 24:
        yield ("sides",), f"a pier of {pier.sides} sides", "from 3 to 24 sides; round is round"
        return
    sizes = (pier.along, pier.across, pier.square, pier.round, pier.flats)
    least = min(size for size in sizes if size is not None)
    yield from _stepped(pier)
    if pier.batter > least / 2 - SLACK:
        yield ("batter",), "its sides lean in until they meet", "make it less than half the shortest side"
    elif pier.round is not None and pier.batter > 0:
        yield ("batter",), "a round pier is cast in a tube, which does not lean in", "a pier of many sides does"
    elif pier.round is not None and (pier.edges.corners > 0 or pier.edges.returns is not None):
        key = "corners" if pier.edges.corners > 0 else "returns"
        yield ("edges", key), "a round pier has no corners", "chamfer its top only"
    elif pier.round is not None and pier.edges.top_shape != "chamfer":
        yield ("edges", "top_shape"), "a round pier's top takes a bent strip", "chamfer it"
    else:
        least -= 2 * pier.batter
        along, across = (least * tan(pi / pier.sides),) * 2 if pier.sides else _plan(pier)
        lean = 0.0 if pier.sides else 2 * pier.batter
        yield from _chamfers(pier.edges, (across - lean, along - lean), least, pier.height, pier.sides)


def _stepped(pier: Pier) -> Iterator[Wrong]:
    """Whether each block of a stepped pad lies wholly on the one below it, and the pier on the last."""
    pad = pier.pad
    if pad is None or not pad.steps:
        return
    below, under = pad.shift, (pad.along, pad.across)
    for number, step in enumerate(pad.steps):
        on = "the pad" if number == 0 else f"step {number}"
        for key, ledge in _ledges(step.shift, (step.along, step.across), below, under):
            if ledge < -SLACK:
                said = f"step {number + 1} reaches past {on} by {-ledge * 1000:.0f} mm"
                yield ("pad", "steps", number, key), said, "each block lies wholly on the one below it"
        if step.along >= under[0] - SLACK and step.across >= under[1] - SLACK:
            yield (
                ("pad", "steps", number),
                f"step {number + 1} is as large as {on}: no step",
                "make it smaller, or leave it out and make the pad thicker",
            )
        below, under = step.shift, (step.along, step.across)
    for key, ledge in _ledges(None, _plan(pier), below, under):
        if ledge < -SLACK:
            said = f"the pier reaches past step {len(pad.steps)} by {-ledge * 1000:.0f} mm"
            yield ("pad", "steps", len(pad.steps) - 1, key), said, "the pier stands wholly on the last step"


def _plan(pier: Pier) -> tuple[float, float]:
    """The pier's sizes at its foot; across its corners where it has many sides."""
    if pier.sides is not None and pier.flats is not None:
        return (pier.flats / cos(pi / pier.sides),) * 2
    one = pier.round if pier.square is None else pier.square
    return (pier.along if one is None else one) or 0.0, (pier.across if one is None else one) or 0.0


def _ledges(
    shift: Shift | None, sizes: tuple[float, float], below: Shift | None, under: tuple[float, float]
) -> Iterator[tuple[str, float]]:
    """By key, the narrower of the two ledges it leaves of what it stands on; less than nothing where it hangs over."""
    for key, back, size, wide in zip(("along", "across"), ("back", "right"), sizes, under):
        off, other = (
            0.0 if one is None else (getattr(one, key) or 0.0) - (getattr(one, back) or 0.0) for one in (shift, below)
        )
        yield key, (wide - size) / 2 - abs(off - other)


def _pad(pad: Pad) -> Iterator[Wrong]:
    yield from _chamfers(pad.edges, (pad.across, pad.along), min(pad.along, pad.across), pad.thick)


def _chamfers(
    edges: Edges, sides: tuple[float, float], least: float, height: float | None, many: int | None = None
) -> Iterator[Wrong]:
    """`sides`: how wide the faces are that `corners` and `returns` lie on; `many`: how many a polygon has."""
    legs = edges.corners, edges.corners if edges.returns is None else edges.returns
    for key, leg, side in zip(("corners", "returns"), legs, (min(sides),) * 2 if edges.returns is None else sides):
        if leg > side / 2 - SLACK and getattr(edges, key) is not None:
            which = "the shortest side" if edges.returns is None else "the side it lies on"
            yield ("edges", key), "this chamfer eats half a side or more", f"make it less than half {which}"
    if edges.returns is not None and not min(legs) > 0:
        yield ("edges", "returns"), "a corner strip has two legs", "write its leg along ahead and back as `corners`"
    if edges.top > least / 2 - SLACK:
        yield ("edges", "top"), "this chamfer eats the whole top", "make it less than half the shortest side"
    elif height is not None and (edges.down or edges.top) > height - SLACK:
        key = "top" if edges.down is None else "down"
        yield ("edges", key), "this chamfer eats the whole height", "make it less than the height"
    if edges.down is not None and not (edges.down > 0 and edges.top > 0):
        yield ("edges", "down"), "a top strip has two legs", "write how far it reaches in as `top`"
    if edges.facets and (
        not (edges.corners > 0 and edges.top > 0)
        or edges.through != "corners"
        or {edges.corner_shape, edges.top_shape} != {"chamfer"}
    ):
        remedy = "it needs corners and top, both chamfers, with the corner strips running through"
        yield ("edges", "facets"), "there is no facet for these strips to run across", remedy
    elif edges.facets and min(legs) > 0 and not _leaves_sides(legs, sides, edges.top, many):
        words = "at the top these strips leave nothing of a side between two corners"
        yield ("edges", "facets"), words, "make the corners or the top less"


def _leaves_sides(legs: tuple[float, float], sides: tuple[float, float], top: float, many: int | None) -> bool:
    """Whether sides and facets that all move in by `top` leave some of each side."""
    (b, c), corner = legs, pi - 2 * pi / (many or 4)
    facet = sqrt(b * b + c * c - 2 * b * c * cos(corner))
    left = max(1 - top * (b + c - facet) / (b * c * sin(corner)), 0.0)  # of each leg, at the top
    gone = (2 * b * left, 2 * c * left) if many is None else ((b + c) * left,)
    return all(side - 2 * top / tan(corner / 2) - taken > SLACK for side, taken in zip(sides, gone))


def _stick(stick: Stick) -> Iterator[Wrong]:
    if stick.other_leg is not None and stick.leg is None:
        yield ("other_leg",), "this strip says its other leg and not its first", "write leg too, or leave both out"


def _beam(beam: Beam) -> Iterator[Wrong]:
    if beam.between[0] == beam.between[1]:
        yield ("between",), "a beam ties two different things", "name the two"


def _lift(lift: Lift) -> Iterator[Wrong]:
    if not lift.of:
        yield ("of",), "this lift places nothing", 'write of = ["pads", ...]'


def _pour(pour: Pour) -> Iterator[Wrong]:
    if not 0.02 <= pour.vibrator <= 0.18:
        yield ("vibrator",), "no vibrator has such a head", 'write it like "1 1/2 in": 20 to 180 mm'
    if not -1 <= pour.concrete <= 60:
        state = "freezes before it sets" if pour.concrete < -1 else "is too hot to place"
        yield ("concrete",), f"concrete of this temperature {state}", "50 to 90 F (10 to 32 C) is usual"
    if pour.swing > 30:
        yield ("swing",), "no air swings so far about its mean", 'a difference, from mean to highest: "10 F" or "5.5 C"'
    if pour.blanket > 10:
        yield ("blanket",), "no blanket insulates like that", 'write it like "3 h ft2 F/Btu" or "0.5 m2 K/W"'
    if pour.weather and pour.weather_file:
        yield ("weather",), "the weather is told twice", "here or in the file, not in both"
    if pour.weather:
        from batterboard.job.weather import gaps  # only a job with weather pays for it

        for place, problem, remedy in gaps(pour.weather):
            yield ("weather", place, "at"), problem, remedy


def _warmth(read: Warmth) -> Iterator[Wrong]:
    if not -30 <= read.reads <= 95:
        yield ("reads",), "no concrete is like that", "look at the number and its unit: 72 F, 22 C"


def _break(broken: Break) -> Iterator[Wrong]:
    if broken.strength > 150e6:
        yield ("strength",), "no cylinder is as strong as that", "look at the number and its unit: 3100 psi, 21 MPa"


def _weather(hour: Weather) -> Iterator[Wrong]:
    if hour.humidity > 1:
        yield ("humidity",), "air holds no more than all it can", SHARE
    if hour.air > 60:
        yield ("air",), "no air is as hot as that", "look at the number and its unit: 58 F, 14 C"


def _batch(batch: Batch) -> Iterator[Wrong]:
    if batch.stone < 0:
        yield ("stone",), "frozen stone is not batched: its lumps stay in the concrete", "thaw it, above 32 F (0 C)"
    if batch.water < 0:
        yield ("water",), "this water is ice", "write its share under ice"
    for name in ("ice", "wet"):
        if getattr(batch, name) > 1:
            yield (name,), "this is more than all of it", SHARE


# ---- bars ----


def _bar_run(run: BarRun) -> Iterator[Wrong]:
    for problem, remedy in tabulated(run.size, Tabulated(("bar",), "bar")):
        yield (), problem, remedy
    if run.spacing is not None and not CLOSEST <= run.spacing <= 10:
        yield (), "bars cannot be spaced like that", 'write it like "#3 @ 10 in"'


def _pier_bars(bars: PierBars) -> Iterator[Wrong]:
    yield from _counted(bars.up, "up")
    if bars.up.count is not None and bars.up.count < 3:
        yield ("up",), f"a cage of {bars.up.count} uprights", "three at least, four in a rectangular pier"
    yield from _ties(bars.ties)


def _beam_bars(bars: BeamBars) -> Iterator[Wrong]:
    yield from _counted(bars.top, "top")
    yield from _counted(bars.bottom, "bottom")
    yield from _ties(bars.ties)


def _pad_bars(bars: PadBars) -> Iterator[Wrong]:
    for name, run in (("along", bars.along), ("across", bars.across)):
        if run.start is not None:
            yield (name,), "a mat is spread evenly over its pad", 'write it like "5 #5" or "#5 @ 10 in"'


def _counted(run: BarRun, name: str) -> Iterator[Wrong]:
    if run.count is None or run.spacing is not None:
        yield (name,), "these bars are counted, not spaced", 'write it like "8 #5"'


def _ties(ties: tuple[BarRun, ...]) -> Iterator[Wrong]:
    for number, tie in enumerate(ties):
        if tie.spacing is None:
            remedy = 'write it like "3 #3 @ 2 in from top" or "#3 @ 10 in"'
            yield ("ties", number), "the spacing of these ties is missing", remedy
        elif tie.count is None and number < len(ties) - 1:
            problem = "no tie is left for this rule: the one before it runs through"
            yield ("ties", number + 1), problem, "write the rule without a number last"


# ---- steel ----


def _bolt_set(bolts: BoltSet) -> Iterator[Wrong]:
    from batterboard.standards import tables

    try:
        tables.rod(bolts.diameter, bolts.grade)
    except tables.NotTabulated as missing:
        names = (*tables.rod_names(), *tables.grade.names())
        yield (), missing.problem, missing.remedy if missing.near else nearest(None, names, 30)


def _joint(joint: Joint) -> Iterator[Wrong]:
    along, across, _ = joint.plate
    bolts = joint.bolts
    count = bolts.count
    if joint.square is not None:
        pattern, reach = "square", [(joint.square / 2, joint.square / 2)]
        wrong = ("do not make a square", "4 bolts, or rows, circle or at") if count != 4 else None
    elif joint.rows is not None:
        pattern, reach = "rows", [(joint.rows[0] / 2, joint.rows[1] / 2)]
        wrong = ("do not make two rows of two", "4 bolts, or write the points with at") if count != 4 else None
    elif joint.circle is not None:
        pattern, reach = "circle", [(joint.circle / 2, joint.circle / 2)]
        wrong = ("do not make a circle", "3 bolts at least") if count < 3 else None
    else:
        pattern, reach = "at", [(abs(x), abs(y)) for x, y in joint.at]
        wrong = (f"for {len(joint.at)} points", "one point for each bolt") if count != len(joint.at) else None
        if len(set(joint.at)) < len(joint.at):
            yield ("at",), "two bolts stand in one place", "one point for each bolt"
    if wrong:
        yield ("bolts",), f"{count} bolts {wrong[0]}", wrong[1]
    if any(x + bolts.diameter / 2 > along / 2 or y + bolts.diameter / 2 > across / 2 for x, y in reach):
        yield (pattern,), "the bolts do not stand on the plate", "a larger plate or a smaller pattern"
    if joint.hole is not None and not joint.hole > bolts.diameter:
        yield ("hole",), "the bolt does not go through this hole", "a hole is wider than its bolt"


def _bolted(thing: Post | Machine) -> Iterator[Wrong]:
    count = thing.joint.bolts.count if thing.joint else 0
    for number in thing.bolts:
        if number > count:
            remedy = f"they count from 1 to {count}" if count else "this post is cast in"
            yield ("bolts", str(number)), f"there is no bolt {number}", remedy
    for number, bolt in thing.bolts.items():
        if thing.joint and bolt.hole is not None and not bolt.hole > thing.joint.bolts.diameter:
            problem = "the bolt does not go through this hole"
            yield ("bolts", str(number), "hole"), problem, "a hole is wider than its bolt"
        if thing.joint and bolt.slot and hypot(*slot(bolt.slot)) > min(thing.joint.plate[:2]) / 2:
            yield (
                ("bolts", str(number), "slot"),
                "this slot runs out of the plate",
                "how much longer than the hole it is",
            )
        if bolt.taped and len({taken.from_ for taken in bolt.taped}) != 2 or len(bolt.taped) not in (0, 2):
            remedy = 'write taped = [ { from = "MARK", tape = ... }, { from = "OTHER", tape = ... } ]'
            yield ("bolts", str(number), "taped"), "a place follows from the distances to two marks", remedy


def _leaf(leaf: Leaf) -> Iterator[Wrong]:
    if leaf.hung.heights is not None and not leaf.hung.heights[0] < leaf.hung.heights[1]:
        yield ("hung", "heights"), "the upper hinge is not above the lower one", "write the lower one first"
    if leaf.shuts.on == leaf.hung.on:
        yield ("shuts", "on"), "it shuts on the post it hangs on", "name the other post or leaf"
    yield from _solid(leaf)


def _solid(thing: Leaf | Sign) -> Iterator[Wrong]:
    if thing.solid > 1:
        yield ("solid",), "more than all of its area catches wind", SHARE


def _pipe(pipe: Pipe) -> Iterator[Wrong]:
    if not pipe.route:
        yield ("route",), "this pipe runs nowhere", "write its legs in order"


def _blockout(hole: Blockout) -> Iterator[Wrong]:
    if hole.side == "top":
        for key in ("up", "down"):
            if getattr(hole, key) is not None:
                yield (key,), "what opens to the top is at no height", "write ahead or back, left or right"
    else:
        for key in ("ahead", "back"):
            if getattr(hole, key) is not None:
                yield (key,), f"{key} places what opens to the top", "in a side write left or right, and up or down"
        if hole.up is None and hole.down is None:
            yield (), "it does not say at what height it is", "write up (above the foot) or down (below the top)"
    if hole.deep is None and not hole.through:
        yield ("through",), "it does not say how deep it goes", 'write deep = "4 in" or through = true'
    if hole.of == "box" and hole.stays is False:
        yield ("stays",), "a bought box is cast in", 'of plywood, lumber or foam it comes out; or leave "stays" out'
    if (hole.draft or 0.0) >= 1:
        yield ("draft",), "its sides come in faster than it goes deep", "write a share of the depth, like 1/12"


def _reading(taken: Reading) -> Iterator[Wrong]:
    if taken.across and taken.across[0] == taken.across[1]:
        yield ("across",), "both ends are the same point", "name the two points the tape joined"


def _heading(heading: Heading) -> Iterator[Wrong]:
    if len(heading.name) > LONGEST_NAME or max(map(len, heading.name.split()), default=0) > LONGEST_WORD:
        right = f"{LONGEST_NAME} letters at most, no word longer than {LONGEST_WORD}: it heads every page"
        yield ("name",), "this name does not fit on a page", right


_FITS: dict[type, Callable[[Any], Iterator[Wrong]]] = {
    Ground: _ground,
    Heading: _heading,
    Mix: _mix,
    Pier: _pier,
    Pad: _pad,
    Beam: _beam,
    Lift: _lift,
    Pour: _pour,
    Weather: _weather,
    Warmth: _warmth,
    Break: _break,
    Batch: _batch,
    BarRun: _bar_run,
    PierBars: _pier_bars,
    PadBars: _pad_bars,
    BeamBars: _beam_bars,
    BoltSet: _bolt_set,
    Joint: _joint,
    Post: _bolted,
    Machine: _bolted,
    Leaf: _leaf,
    Sign: _solid,
    Stick: _stick,
    Pipe: _pipe,
    Blockout: _blockout,
    Reading: _reading,
}
