"""Two plans of the whole job: what stands where, and how it is measured there.

The general plan shows concrete, steel, leaves shut and open, the edge of the cut and the room that spoil leaves free.
Setting out shows strings, nails and centres, each distance with its number in the measuring order, and the tapes that
check them, with what a sound tape may differ.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import partial
from math import cos, sin

from batterboard.phases.setout import Reading
from batterboard.views import drawing as d
from batterboard.views.drawings import labels, shapes
from batterboard.views.drawings.board import SAME, Board, Draw, alike, even
from batterboard.views.drawings.elevation import faces
from batterboard.views.drawings.picture import Picture, chains
from batterboard.views.drawings.spacing import between, step, thinned
from batterboard.work.names import among
from batterboard.work.records import Body, Line, Pier, Slab

Pair = tuple[d.Point, d.Point, str]  # both ends of a distance, and how it is written

_APART = 2.0  # a part so much smaller than the whole has a plan of its own
_MANY = 3  # distances from one start are running marks; bases are told by name only
_SQUARE = 0.01  # a leaf that lies so near to the paper's axes is dimensioned along them [rad]


def plans(board: Board) -> Iterator[d.Sheet]:
    """The general plan and setting out; where things stand far apart, once more for each that stand together."""
    everything = Picture(board, frozenset(board.work.bases))
    parts = [Picture(board, frozenset(base.name for base in bases)) for bases in faces(board)]
    apart = any(max(everything.size) > _APART * max(part.size) for part in parts)
    for name, draw, notes in (("General plan", _general, _notes), ("Setting out", _setting, _setting_notes)):
        yield _sheet(everything, name, partial(draw, everything, apart), partial(notes, everything, apart))
        for part in parts if apart else []:
            called = f"{name}, {among(part.work.bases)}"
            yield _sheet(part, called, partial(draw, part, False), partial(notes, part, False))


def _sheet(picture: Picture, name: str, draw: Draw, told: Callable[[d.Scale], Iterable[labels.Label]]) -> d.Sheet:
    """All on one sheet, held the way that shows it larger."""
    board = picture.board

    def notes(scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
        placed = labels.settled(scale, drawn, told(scale), (free[0], free[1] + 9 / scale.mm, *free[2:]))
        left, bottom, _, _ = d.extent(d.View("", scale, (0.0, 0.0), (*drawn, *placed)), board.system)
        return (*placed, d.scale_bar(scale, ((left + 2) / scale.mm, (bottom - 9) / scale.mm), board.system))

    ways = [board.sheet(name, landscape) for landscape in (True, False)]
    blank = min(ways, key=lambda sheet: board.scale(draw, picture.size, d.area(sheet)).ratio)
    return replace(blank, views=(board.fit(name.upper(), draw, picture.size, d.area(blank), notes),))


# ---- the general plan ----


def _general(picture: Picture, brief: bool, scale: d.Scale) -> tuple[d.Entity, ...]:
    """`brief` shows where things are; what they are is on the plans of the parts."""
    work, say = picture.work, picture.board.say
    drawn: list[d.Entity] = [
        *(d.Polygon(d.rectangle(*each), d.NOTES) for each in picture.spoil),
        *picture.cuts(),
        *picture.drawn_strings(scale),
        *picture.concrete(),
        *picture.crosses(leave_out=between(work.bases) if brief else frozenset()),
        *picture.planned(),
        *picture.steel(),
        *picture.leaves(),
        *picture.bolts(),
    ]
    drawn += _distances(picture, scale, {r.number: say(r.value) for r in picture.readings})
    if brief:
        return tuple(drawn)
    feet = [picture.reach(base.foot) for base in work.bases.values()]
    below = [d.Chain(stations) for stations in _openings(picture)]
    below.append(d.Chain((min(f[0] for f in feet), max(f[2] for f in feet))))
    beside = d.Chain((min(f[1] for f in feet), max(f[3] for f in feet)))
    drawn += d.stack(scale, picture.works, "below", below, say)
    drawn += d.stack(scale, picture.works, "right", [beside], say)
    return tuple(drawn)


def _distances(picture: Picture, scale: d.Scale, texts: dict[int, str]) -> Iterator[d.Entity]:
    """What is measured to set things out: above the work, left of it, and slanting where the lines do.

    Many from one start are running marks: what a tape laid once reads.
    """
    pairs: list[Pair] = []
    for reading in picture.readings:
        pair = picture.pair(reading)
        if pair is not None and not any(map(picture.is_far, pair)):
            pairs.append((*pair, texts[reading.number]))
    across = [each for each in pairs if abs(each[0][1] - each[1][1]) < SAME]
    upright = [each for each in pairs if abs(each[0][0] - each[1][0]) < SAME]
    for a, b, text in pairs:
        if (a, b, text) not in across + upright:
            yield d.Linear(a, b, b, text)
    left = (picture.shown[0], *picture.works[1:])
    yield from _beside(picture, scale, picture.works, "above", across, 0)
    yield from _beside(picture, scale, left, "left", upright, 1)


def _beside(
    picture: Picture, scale: d.Scale, edge: d.Box, side: str, pairs: list[Pair], axis: int
) -> Iterator[d.Entity]:
    once = {(round(a[axis], 4), round(b[axis], 4)): (a, b, text) for a, b, text in reversed(pairs)}
    from_one = alike(reversed(once.values()), lambda pair: round(pair[0][axis], 4))
    single = [pair for group in from_one if len(group) < _MANY for pair in group]
    say = picture.board.say
    placed: list[d.Entity] = [*d.stack(scale, edge, side, chains(single, axis, d.DIMS), say)]
    for group in (group for group in from_one if len(group) >= _MANY):
        if placed:
            left, bottom, right, top = d.extent(d.View("", scale, (0.0, 0.0), tuple(placed)), picture.board.system)
            edge = (min(edge[0], left / scale.mm), edge[1], edge[2], max(edge[3], top / scale.mm))
        texts = {even(b[axis] - a[axis]): text for a, b, text in group}
        ends = thinned(sorted((b for _, b, _ in group), key=lambda end: end[axis]))
        marks = d.running(scale, edge, side, group[0][0], ends, say)
        placed += [replace(m, text=texts.get(even(m.feature[axis] - m.origin[axis]), m.text)) for m in marks]
    yield from placed


def _openings(picture: Picture) -> Iterator[tuple[float, ...]]:
    """Faces of the posts and ends of the leaf between them, for leaves that lie square to the paper."""
    work = picture.work
    for leaf in work.leaves.values():
        hinge, latch = work.posts[leaf.hinge_post], work.posts[leaf.latch_post]
        _, shut, _ = picture.swing(leaf)
        if abs(sin(shut)) > _SQUARE:
            continue
        way = 1 if cos(shut) > 0 else -1
        face = picture.turned.at(hinge.frame.x, hinge.frame.y)[0] + way * float(hinge.section.depth) / 2
        start = face + way * float(leaf.hinge_gap)
        stations = [face, start, start + way * float(leaf.length)]
        if leaf.meets == leaf.latch_post:
            stations.append(picture.turned.at(latch.frame.x, latch.frame.y)[0] - way * float(latch.section.depth) / 2)
        yield tuple(sorted(stations))


def _notes(picture: Picture, brief: bool, scale: d.Scale) -> Iterator[labels.Label]:
    work, say = picture.work, picture.board.say
    yield from _names(picture, scale)
    yield from _base_notes(picture, brief, scale)
    if brief:
        return
    for beam in work.beams.values():
        x, y = picture.turned.at(beam.frame.x, beam.frame.y)
        text = f"{beam.name}: {say(beam.body.outline.across)} wide, {say(beam.body.height)} deep"
        yield labels.pointing(scale, (x, y - float(beam.body.outline.across) / 2), text)
    for leaf in work.leaves.values():
        pivot, shut, opened = picture.swing(leaf)
        length = float(leaf.length)
        middle, end = (shut + opened) / 2, (pivot[0] + length * cos(opened), pivot[1] + length * sin(opened))
        yield labels.on_line(scale, pivot, end, f"{leaf.name} open")
        arc = (pivot[0] + length * cos(middle), pivot[1] + length * sin(middle))
        yield labels.pointing(scale, arc, f"{leaf.name} {say(leaf.length)} swings {leaf.swings}")
    for sign in work.signs.values():
        post = work.posts[sign.on]
        text = f"{sign.name} {say(sign.length)} x {say(sign.height)}"
        yield labels.pointing(scale, picture.turned.own(post.frame, (float(sign.length) * 0.4, 0.0))[0], text)
    for machine in work.machines.values():
        corner = picture.turned.own(machine.frame, (float(machine.plate.along) / 2, float(machine.plate.across) / 2))
        yield labels.pointing(
            scale, corner[0], f"{machine.name}, plate {say(machine.plate.along)} x {say(machine.plate.across)}"
        )
    for pipe in work.pipes.values():
        points = picture.turned.all(pipe.x, pipe.y)
        a, b = max(zip(points, points[1:]), key=lambda ends: shapes.apart(*ends))
        at = (a[0] + (b[0] - a[0]) * 0.3, a[1] + (b[1] - a[1]) * 0.3)
        yield labels.pointing(scale, at, f"{pipe.name}: {pipe.size.name}")
    backs = {float(hole.spoil_back) for hole in picture.holes}
    for left, bottom, right, top in picture.spoil:
        text = f"no spoil within: {say(max(backs))} back from the cut"
        places = labels.on_line(scale, (left, bottom), (right, bottom), text)
        places += labels.on_line(scale, (left, top), (right, top), text)
        yield places + labels.pointing(scale, (right, bottom), text) + labels.pointing(scale, (left, top), text)


def _base_notes(picture: Picture, brief: bool, scale: d.Scale) -> Iterator[labels.Label]:
    """Names of all bases, and what they are, those that look the same told once; `brief` tells so of rows only."""
    board, work, say = picture.board, picture.work, picture.board.say
    told = alike(work.bases.values(), lambda base: _sizes(base) if len(work.bases) >= _MANY else base.name)
    rows = [bool(between(base.name for base in group)) for group in told]
    named = [base for group, row in zip(told, rows) for base in (group if brief or row else group[1:])]
    yield from _base_names(picture, scale, named)
    for group, row in zip(told, rows):
        base, shaft = group[0], group[0].bodies[-1]
        names = among(each.name for each in group)
        lines = [names, f"{shaft.part} {size_of(board, shaft)}"]
        if row:
            lines = [f"{len(group)} {shaft.part}s {names}", f"{size_of(board, shaft)}{_every(picture, group)}"]
        if base.foot is not shaft:
            lines += [f"pad {size_of(board, base.foot)}", f"{say(base.foot.height)} thick"]
            lines += [f"step {size_of(board, body)}" for body in base.bodies[1:-1]]  # how thick, the section tells
        if row or not brief:
            yield labels.round_about(scale, picture.reach(shaft), "\n".join(lines), _outward(picture, base))


def _base_names(picture: Picture, scale: d.Scale, bases: list[Pier | Slab]) -> Iterator[labels.Label]:
    """Of a long row the first and the last."""
    untold = between(picture.work.bases)
    for base in (base for base in bases if base.name not in untold):
        left, _, right, top = picture.reach(base.bodies[-1])
        close = labels.near(scale, ((left + right) / 2, top), base.name)[:16]  # further off it might be another's
        yield close + labels.round_about(scale, picture.reach(base.bodies[-1]), base.name, _outward(picture, base))


def _every(picture: Picture, row: tuple[Pier | Slab, ...]) -> str:
    """, every 2'-0\": how far apart the members of a row stand."""
    (x, y), *others = (picture.turned.at(base.frame.x, base.frame.y) for base in row)
    apart = step([0.0, *(shapes.apart((x, y), other) for other in others)], picture.board.say)
    return f", every {apart}" if apart else ""


def _sizes(base: Pier | Slab) -> tuple[object, ...]:
    """What a plan's note tells: a shaft's depth in the ground is not among it, a pad's thickness is."""
    outlines = [(b.outline.kind, b.outline.sides, even(b.outline.along), even(b.outline.across)) for b in base.bodies]
    return (*outlines, *(even(body.height) for body in base.bodies[:-1]))


def _outward(picture: Picture, base: Pier | Slab) -> d.Point:
    """From the middle of the work towards a base."""
    left, bottom, right, top = picture.works
    x, y = picture.turned.at(base.frame.x, base.frame.y)
    return x - (left + right) / 2, y - (bottom + top) / 2


def size_of(board: Board, body: Body) -> str:
    """A block's plan in words: 22\" x 22\"."""
    o = body.outline
    if o.kind == "round":
        return f"ø {board.say(o.along)}"
    if o.kind == "polygon":
        return f"of {o.sides} sides, {board.say(o.along)} across"
    return f"{board.say(o.along)} x {board.say(o.across)}"


# ---- setting out ----


def _setting(picture: Picture, brief: bool, scale: d.Scale) -> tuple[d.Entity, ...]:
    say = picture.board.say
    return (
        *picture.drawn_strings(scale),
        *(shapes.above(picture.turned, base.bodies[-1], d.HIDDEN) for base in picture.work.bases.values()),
        *picture.crosses(12 / scale.mm, between(picture.work.bases) if brief else frozenset()),
        *picture.planned(),
        *picture.bolts(),
        *_distances(picture, scale, {r.number: f"{r.number}: {say(r.value)}" for r in picture.readings}),
    )


def _setting_notes(picture: Picture, brief: bool, scale: d.Scale) -> Iterator[labels.Label]:
    bases = list(picture.work.bases.values())
    swung = {r.element: r for r in picture.readings if r.kind == "along" and picture.is_swung(r)}
    if swung:
        yield from _swung_names(picture, scale, swung)
        bases = [base for base in bases if base.name not in swung]
    if not brief:
        yield from _tapes(picture, scale)
    yield from _names(picture, scale)
    if brief or len(picture.work.bases) >= _MANY:  # their levels are in the stake list
        yield from _base_names(picture, scale, bases)
    else:
        yield from _stakes(picture, scale)


def _swung_names(picture: Picture, scale: d.Scale, swung: dict[str, Reading]) -> Iterator[labels.Label]:
    """Round a nail: how far across each is marked on the curve, from its start where no other mark is named."""
    untold = between(picture.work.bases)
    for name, reading in swung.items():
        if name not in untold:
            start = "" if reading.hold == reading.line else f"\nfrom {reading.hold}"
            text = f"{name}\n{reading.number}: {picture.board.say(reading.value)}{start}"
            yield labels.round_about(scale, picture.reach(picture.work.bases[name].bodies[-1]), text)


def _tapes(picture: Picture, scale: d.Scale) -> Iterator[labels.Label]:
    """Check measurements, their text where there is room along them."""
    setout = picture.board.plan.setout
    measured = {_ends(*pair) for r in picture.readings if (pair := picture.pair(r))}
    untold = between(picture.work.bases)
    lines = picture.work.lines
    along = {r.element: r.line for r in picture.readings if r.kind == "along" and lines[r.line].arc is not None}
    told: set[tuple[str, str]] = set()
    for tape in setout.diagonals:
        if untold & {tape.a, tape.b}:  # of a long row all are in the measuring order
            continue
        if not all(_belongs(picture, end) for end in (tape.a, tape.b)):
            continue
        a, b = picture.named(tape.a), picture.named(tape.b)
        if picture.is_far(a) or _ends(a, b) in measured:  # the same distance again checks nothing
            continue
        if (line := along.get(tape.a)) is not None and line == along.get(tape.b):
            step = (line, picture.board.say(tape.length))
            if step in told:  # of equal steps along a curve the first speaks for all
                continue
            told.add(step)
        text = f"{picture.board.say(tape.length)} ±{picture.board.say(tape.allow)}"
        reach = shapes.apart(a, b) * scale.mm
        yield tuple(
            d.Linear(a, b, a, text, shift=(reach * share, off * way), leader=off > 3, layer=d.CHECK)
            for off in (2.45, 8.0, 14.0)
            for share in (0.0, 0.15, -0.15, 0.28, -0.28, 0.38, -0.38)
            for way in (1, -1)
        )


def _ends(a: d.Point, b: d.Point) -> frozenset[d.Point]:
    return frozenset((round(x, 3) + 0.0, round(y, 3) + 0.0) for x, y in (a, b))


def _belongs(picture: Picture, name: str) -> bool:
    work = picture.work
    return name in work.bases or name in work.lines or name.rpartition(".bolt.")[0] in {*work.posts, *work.machines}


def _stakes(picture: Picture, scale: d.Scale) -> Iterator[labels.Label]:
    board = picture.board
    for stake in board.plan.setout.stakes:
        if stake.kind not in ("pier", "slab") or stake.name not in picture.names:
            continue
        body = picture.work.bases[stake.name].bodies[-1]
        text = f"{stake.name}\ntop {board.say_level(stake.top, board.bench)}\nhole {board.say(stake.cut)} deep"
        yield labels.round_about(scale, picture.reach(body), text, _outward(picture, picture.work.bases[stake.name]))


def _names(picture: Picture, scale: d.Scale) -> Iterator[labels.Label]:
    for line, a, b in picture.strings(scale):
        yield labels.on_line(scale, a, b, f"line {line.name}" if line.arc is None else f"chord of {line.name}", d.LINES)
    for line, arc, *_ in picture.curves(scale):
        assert line.arc is not None
        text = f"line {line.name}"
        if not line.arc.centre:  # else its radius is a dimension
            text += f", R {picture.board.say(arc.radius)}"
            yield from _rise(picture, scale, line)
        yield labels.pointing(scale, picture.between(line), text)
    for name, at in picture.marks.items():
        yield labels.near(scale, at, name)


def _rise(picture: Picture, scale: d.Scale, line: Line) -> Iterator[labels.Label]:
    """What an arc rises over its chord, beside its middle, the text out of the way where it is short."""
    (ax, ay), b = picture.rise(line)
    assert line.arc is not None
    text = f"rise {picture.board.say(line.arc.rise)}"
    turn = float(line.turn) - picture.turned.turn
    bases = [(ax + x * cos(turn) / scale.mm, ay + x * sin(turn) / scale.mm) for x in (0.0, 5.0, -5.0, 10.0, -10.0)]
    half = shapes.apart((ax, ay), b) * scale.mm / 2
    shifts = ((0.0, 2.45), (0.0, 6.0), (0.0, -6.0), (half + 8.0, 0.0), (-half - 8.0, 0.0))
    yield tuple(
        d.Linear((ax, ay), b, base, text, shift=shift, leader=abs(shift[1]) > 3) for shift in shifts for base in bases
    )
