"""Two plans of the whole job: what stands where, and how it is measured there.

The general plan shows concrete, steel, leaves shut and open, the edge of the cut and the room that spoil leaves free.
Setting out shows strings, nails and centres, each distance with its number in the measuring order, and the tapes that
check them, with what a sound tape may differ.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial
from math import cos, sin

from batterboard.views import drawing as d
from batterboard.views.drawings import labels, shapes
from batterboard.views.drawings.board import SAME, Board, Draw, Notes
from batterboard.views.drawings.picture import Picture, chains
from batterboard.work.records import Body, Pier, Slab

_SQUARE = 0.01  # a leaf that lies so near to the paper's axes is dimensioned along them [rad]


def general_plan(board: Board) -> d.Sheet:
    picture = Picture(board)

    def notes(scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
        return _labelled(picture, scale, drawn, _notes(picture, scale), free)

    return _sheet(picture, "General plan", partial(_general, picture), notes)


def setting_out(board: Board) -> d.Sheet:
    picture = Picture(board)

    def notes(scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
        told = (*_tapes(picture, scale), *_names(picture, scale), *_stakes(picture, scale))
        return _labelled(picture, scale, drawn, told, free)

    return _sheet(picture, "Setting out", partial(_setting, picture), notes)


def _sheet(picture: Picture, name: str, draw: Draw, notes: Notes) -> d.Sheet:
    """All on one sheet, held the way that shows it larger."""
    board = picture.board
    ways = [board.sheet(name, landscape) for landscape in (True, False)]
    blank = min(ways, key=lambda sheet: board.scale(draw, picture.size, d.area(sheet)).ratio)
    return replace(blank, views=(board.fit(name.upper(), draw, picture.size, d.area(blank), notes),))


def _labelled(
    picture: Picture, scale: d.Scale, drawn: tuple[d.Entity, ...], notes: Iterable[labels.Label], free: d.Box
) -> tuple[d.Entity, ...]:
    """The labels, and a scale bar below everything."""
    placed = labels.settled(scale, drawn, notes, (free[0], free[1] + 9 / scale.mm, *free[2:]))
    left, bottom, _, _ = d.extent(d.View("", scale, (0.0, 0.0), (*drawn, *placed)), picture.board.system)
    foot = d.scale_bar(scale, ((left + 2) / scale.mm, (bottom - 9) / scale.mm), picture.board.system)
    return (*placed, foot)


# ---- the general plan ----


def _general(picture: Picture, scale: d.Scale) -> tuple[d.Entity, ...]:
    board, say = picture.board, picture.board.say
    drawn: list[d.Entity] = [
        *(d.Polygon(d.rectangle(*each), d.NOTES) for each in picture.spoil),
        *picture.holes(),
        *picture.drawn_strings(scale),
        *picture.concrete(),
        *picture.crosses(),
        *picture.planned(),
        *picture.steel(),
        *picture.leaves(),
        *picture.bolts(),
    ]
    drawn += _distances(picture, scale, {r.number: say(r.value) for r in board.plan.setout.readings})
    feet = [picture.reach(base.foot) for base in board.work.bases.values()]
    below = [d.Chain(stations) for stations in _openings(picture)]
    below.append(d.Chain((min(f[0] for f in feet), max(f[2] for f in feet))))
    beside = d.Chain((min(f[1] for f in feet), max(f[3] for f in feet)))
    drawn += d.stack(scale, picture.works, "below", below, say)
    drawn += d.stack(scale, picture.works, "right", [beside], say)
    return tuple(drawn)


def _distances(picture: Picture, scale: d.Scale, texts: dict[int, str]) -> Iterator[d.Entity]:
    """What is measured to set things out: above the work, left of it, and slanting where the lines do."""
    readings = picture.board.plan.setout.readings
    pairs = [(*pair, texts[r.number]) for r in readings if (pair := picture.pair(r))]
    across = [each for each in pairs if abs(each[0][1] - each[1][1]) < SAME]
    upright = [each for each in pairs if abs(each[0][0] - each[1][0]) < SAME]
    for a, b, text in pairs:
        if (a, b, text) not in across + upright:
            yield d.Linear(a, b, b, text)
    left = (picture.shown[0], *picture.works[1:])
    yield from d.stack(scale, picture.works, "above", chains(across, 0, d.DIMS), picture.board.say)
    yield from d.stack(scale, left, "left", chains(upright, 1, d.DIMS), picture.board.say)


def _openings(picture: Picture) -> Iterator[tuple[float, ...]]:
    """Faces of the posts and ends of the leaf between them, for leaves that lie square to the paper."""
    work = picture.board.work
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


def _notes(picture: Picture, scale: d.Scale) -> Iterator[labels.Label]:
    board, say = picture.board, picture.board.say
    yield from _names(picture, scale)
    for base in board.work.bases.values():
        shaft = base.bodies[-1]
        lines = [base.name, f"{shaft.part} {size_of(board, shaft)}"]
        if base.foot is not shaft:
            lines += [f"pad {size_of(board, base.foot)}", f"{say(base.foot.height)} thick"]
        yield labels.round_about(scale, picture.reach(shaft), "\n".join(lines), _outward(picture, base))
    for beam in board.work.beams.values():
        x, y = picture.turned.at(beam.frame.x, beam.frame.y)
        text = f"{beam.name}: {say(beam.body.outline.across)} wide, {say(beam.body.height)} deep"
        yield labels.pointing(scale, (x, y - float(beam.body.outline.across) / 2), text)
    for leaf in board.work.leaves.values():
        pivot, shut, opened = picture.swing(leaf)
        length = float(leaf.length)
        middle, end = (shut + opened) / 2, (pivot[0] + length * cos(opened), pivot[1] + length * sin(opened))
        yield labels.on_line(scale, pivot, end, f"{leaf.name} open")
        arc = (pivot[0] + length * cos(middle), pivot[1] + length * sin(middle))
        yield labels.pointing(scale, arc, f"{leaf.name} {say(leaf.length)} swings {leaf.swings}")
    for sign in board.work.signs.values():
        post = board.work.posts[sign.on]
        text = f"{sign.name} {say(sign.length)} x {say(sign.height)}"
        yield labels.pointing(scale, picture.turned.own(post.frame, (float(sign.length) * 0.4, 0.0))[0], text)
    for machine in board.work.machines.values():
        corner = picture.turned.own(machine.frame, (float(machine.plate.along) / 2, float(machine.plate.across) / 2))
        yield labels.pointing(
            scale, corner[0], f"{machine.name}, plate {say(machine.plate.along)} x {say(machine.plate.across)}"
        )
    for pipe in board.work.pipes.values():
        points = picture.turned.all(pipe.x, pipe.y)
        a, b = max(zip(points, points[1:]), key=lambda ends: shapes.apart(*ends))
        at = (a[0] + (b[0] - a[0]) * 0.3, a[1] + (b[1] - a[1]) * 0.3)
        yield labels.pointing(scale, at, f"{pipe.name}: {pipe.size.name}")
    backs = {float(hole.spoil_back) for hole in board.plan.dig.holes}
    for left, bottom, right, top in picture.spoil:
        text = f"no spoil within: {say(max(backs))} back from the cut"
        places = labels.on_line(scale, (left, bottom), (right, bottom), text)
        yield places + labels.on_line(scale, (left, top), (right, top), text)


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


def _setting(picture: Picture, scale: d.Scale) -> tuple[d.Entity, ...]:
    board = picture.board
    return (
        *picture.drawn_strings(scale),
        *(shapes.above(picture.turned, base.bodies[-1], d.HIDDEN) for base in board.work.bases.values()),
        *picture.crosses(12 / scale.mm),
        *picture.planned(),
        *picture.bolts(),
        *_distances(
            picture, scale, {r.number: f"{r.number}: {board.say(r.value)}" for r in board.plan.setout.readings}
        ),
    )


def _tapes(picture: Picture, scale: d.Scale) -> Iterator[labels.Label]:
    """Check measurements, their text where there is room along them."""
    setout = picture.board.plan.setout
    measured = [{round(v, 3) for p in pair for v in p} for r in setout.readings if (pair := picture.pair(r))]
    for tape in setout.diagonals:
        a, b = picture.named(tape.a), picture.named(tape.b)
        if {round(v, 3) for p in (a, b) for v in p} in measured:  # the same distance again checks nothing
            continue
        text = f"{picture.board.say(tape.length)} ±{picture.board.say(tape.allow)}"
        reach = shapes.apart(a, b) * scale.mm
        yield tuple(
            d.Linear(a, b, a, text, shift=(reach * share, off * way), leader=off > 3, layer=d.CHECK)
            for off in (2.45, 8.0, 14.0)
            for share in (0.0, 0.15, -0.15, 0.28, -0.28, 0.38, -0.38)
            for way in (1, -1)
        )


def _stakes(picture: Picture, scale: d.Scale) -> Iterator[labels.Label]:
    board = picture.board
    for stake in board.plan.setout.stakes:
        if stake.kind not in ("pier", "slab"):
            continue
        body = board.work.bases[stake.name].bodies[-1]
        text = f"{stake.name}\ntop {board.say_level(stake.top, board.bench)}\nhole {board.say(stake.cut)} deep"
        yield labels.round_about(scale, picture.reach(body), text, _outward(picture, board.work.bases[stake.name]))


def _names(picture: Picture, scale: d.Scale) -> Iterator[labels.Label]:
    for line, a, b in picture.strings(scale):
        yield labels.on_line(scale, a, b, f"line {line.name}", d.LINES)
    for name, (x, y) in picture.board.work.marks.items():
        yield labels.near(scale, picture.turned.at(x, y), name)
