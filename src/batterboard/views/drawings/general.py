"""The general plan: what stands where, seen from above, and how it is measured there.

Lines and marks, concrete and what is in it, posts and leaves shut and open, the edge of the cut and the line that spoil
stays behind. Below it the opening; above and beside it the distances that set things out.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from math import cos, degrees, pi, sin

from batterboard.phases.setout import Reading
from batterboard.views import drawing as d
from batterboard.views.drawings import shapes
from batterboard.views.drawings.board import SAME, Board, Turned, box
from batterboard.work.records import Body, Leaf, Line, Machine, Post

FAR = 2.0  # a line's start further off than so many times the work is not shown
LEAF = 0.05  # thickness a leaf is drawn with [m]


def general_plan(board: Board) -> d.Sheet:
    """The whole job on one sheet, held the way that shows it larger."""
    picture = _Picture(board)
    sheets = []
    for landscape in (True, False):
        blank = board.sheet("General plan", landscape)
        view = board.fit("PLAN", picture.draw, picture.size, d.area(blank))
        sheets.append(replace(blank, views=(view,)))
    return min(sheets, key=lambda sheet: (bool(d.outside(sheet)), sheet.views[0].scale.ratio))


@dataclass(frozen=True)
class _Picture:
    board: Board

    @cached_property
    def turned(self) -> Turned:
        return Turned.of(base.frame for base in self.board.work.bases.values())

    @cached_property
    def works(self) -> d.Box:
        """Around all concrete and the open leaves."""
        points = [
            p for body in self.board.work.bodies for p in self.turned.own(body.frame, *shapes.corners(body.outline))
        ]
        return box([*points, *(p for leaf in self.board.work.leaves.values() for p in _sweep(self, leaf))])

    @cached_property
    def shown(self) -> d.Box:
        """The works, and the starts of lines and marks that are not too far off."""
        left, bottom, right, top = self.works
        reach = FAR * max(right - left, top - bottom)
        work = self.board.work
        starts = [self.turned.at(line.x, line.y) for line in self._lines()]
        starts += [self.turned.at(x, y) for x, y in work.marks.values()]
        near = [p for p in starts if left - reach < p[0] < right + reach and bottom - reach < p[1] < top + reach]
        return box([(left, bottom), (right, top), *near])

    @cached_property
    def size(self) -> tuple[float, float]:
        left, bottom, right, top = self.shown
        return right - left, top - bottom

    def _lines(self) -> list[Line]:
        """Lines that something is measured from or along."""
        work = self.board.work
        named = {step.line for chain in work.chains.values() for step in chain} - {""}
        named |= {work.lines[name].set_from for name in named} - {""}
        return [line for name, line in work.lines.items() if name in named]

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        return (
            *self._ground(),
            *self._strings(scale),
            *self._concrete(),
            *self._steel(),
            *self._planned(),
            *self._measures(scale),
            *self._notes(scale),
            d.scale_bar(scale, (self.shown[0], self.shown[1] - 62 / scale.mm), self.board.system),
        )

    def _ground(self) -> Iterator[d.Entity]:
        for hole in self.board.plan.dig.holes:
            body = next(body for body in self.board.work.bodies if body.name == hole.name)
            grown = (float(hole.top_along) - float(body.outline.along)) / 2
            if grown > SAME:
                yield shapes.above(self.turned, body, d.HIDDEN, grown=grown)

    def _strings(self, scale: d.Scale) -> Iterator[d.Entity]:
        left, bottom, right, top = self.shown
        margin = 6 / scale.mm
        frame = (left - margin, bottom - margin, right + margin, top + margin)
        for line in self._lines():
            start = self.turned.at(line.x, line.y)
            end = self.turned.at(line.x + line.length * cos(line.turn), line.y + line.length * sin(line.turn))
            ends = _clipped(start, end, frame)
            if ends:
                yield d.Line(*ends, d.LINES)
        for x, y in self.board.work.marks.values():
            yield d.BarEnd(self.turned.at(x, y), 0.02, d.LINES)

    def _concrete(self) -> Iterator[d.Entity]:
        work = self.board.work
        for body in sorted(work.bodies, key=lambda body: float(body.top)):
            ground = float(work.ground.level(body.frame.x, body.frame.y))
            if float(body.top) > ground + SAME:
                yield shapes.above(self.turned, body, d.CONCRETE, fill="tone")
            else:
                yield shapes.above(self.turned, body, d.HIDDEN)
        for base in work.bases.values():
            along, across = (float(v) / 2 for v in (base.foot.outline.along, base.foot.outline.across))
            for end in ((along, 0.0), (0.0, across)):
                a, b = self.turned.own(base.frame, (-end[0], -end[1]), end)
                yield d.CentreLine(a, b)
        for pipe in work.pipes.values():
            yield d.Polyline(self.turned.all(pipe.x, pipe.y), d.PIPES)

    def _steel(self) -> Iterator[d.Entity]:
        work = self.board.work
        things: list[Post | Machine] = [*work.posts.values(), *work.machines.values()]
        for thing in things:
            if thing.plate is not None:
                yield shapes.block(self.turned, thing.frame, thing.plate.along, thing.plate.across, d.STEEL)
            bolts = thing.bolts
            if bolts is not None:
                for x, y in zip(bolts.found_x, bolts.found_y):
                    yield d.BarEnd(self.turned.at(*bolts.frame.out(x, y)), float(bolts.rod.diameter) / 2)
        for post in work.posts.values():
            yield shapes.tube(self.turned, post, d.STEEL)
        for leaf in work.leaves.values():
            yield from self._leaf(leaf)
        for sign in work.signs.values():
            yield shapes.block(self.turned, work.posts[sign.on].frame, sign.length, LEAF, d.STEEL)

    def _leaf(self, leaf: Leaf) -> Iterator[d.Entity]:
        pivot, shut, opened = _pivot(self, leaf)
        for turn, layer in ((shut, d.STEEL), (opened, d.HIDDEN)):
            yield d.Polygon(_bar(pivot, turn, float(leaf.hinge_gap) / 2, float(leaf.length)), layer)
        reach = float(leaf.hinge_gap) / 2 + float(leaf.length)
        start, end = sorted((shut, opened))
        yield d.Arc(pivot, reach, degrees(start), degrees(end), d.HIDDEN)

    def _planned(self) -> Iterator[d.Entity]:
        """What was found elsewhere than planned: the plan's place, thin."""
        if self.board.planned is None:
            return
        before = {body.name: body for body in self.board.planned.bodies}
        for body in self.board.work.bodies:
            meant = before.get(body.name)
            if meant is not None and _moved(self.turned, body, meant):
                yield shapes.above(self.turned, meant, d.HIDDEN)

    def _measures(self, scale: d.Scale) -> Iterator[d.Entity]:
        work, say = self.board.work, self.board.say
        edge = self.works
        below = [d.Chain(tuple(sorted(stations))) for stations in self._openings()]
        centres = sorted({self.turned.at(base.frame.x, base.frame.y)[0] for base in work.bases.values()})
        if len(centres) > 1:
            below.append(d.Chain(tuple(centres), layer=d.CHECK))
        feet = [x for base in work.bases.values() for x in _reach(self.turned, base.foot, 0)]
        below.append(d.Chain((min(feet), max(feet))))
        yield from d.stack(scale, edge, "below", below, say)
        above, beside = [], []
        for reading in self.board.plan.setout.readings:
            pair = self._pair(reading)
            if pair is None:
                continue
            a, b = pair
            if abs(a[1] - b[1]) < SAME < abs(a[0] - b[0]):
                above.append(d.Chain((a, b), layer=d.CHECK))
            elif abs(a[0] - b[0]) < SAME < abs(a[1] - b[1]):
                beside.append(d.Chain((a, b), layer=d.CHECK))
        yield from d.stack(scale, edge, "above", above, say)
        sizes = tuple(sorted({y for base in work.bases.values() for y in _reach(self.turned, base.foot, 1)}))
        yield from d.stack(scale, edge, "left", [d.Chain(sizes[:: max(len(sizes) - 1, 1)]), *beside], say)

    def _openings(self) -> Iterator[set[float]]:
        for leaf in self.board.work.leaves.values():
            hinge, latch = (self.board.work.posts[name] for name in (leaf.hinge_post, leaf.latch_post))
            pivot, shut, _ = _pivot(self, leaf)
            if abs(sin(shut)) > 1e-6:
                continue
            way = 1 if cos(shut) > 0 else -1
            face = self.turned.at(hinge.frame.x, hinge.frame.y)[0] + way * float(hinge.section.depth) / 2
            start = face + way * float(leaf.hinge_gap)
            other = self.turned.at(latch.frame.x, latch.frame.y)[0] - way * float(latch.section.depth) / 2
            yield {face, start, start + way * float(leaf.length), other}

    def _pair(self, reading: Reading) -> tuple[d.Point, d.Point] | None:
        """Both ends of a measured distance, on paper."""
        work = self.board.work
        if reading.kind not in ("along", "off") or not float(reading.value) > SAME:
            return None
        base, line = work.bases[reading.element], work.lines[reading.line]
        end = self.turned.at(base.frame.x, base.frame.y)
        away = float(reading.value) * (1 if reading.way in ("ahead", "left") else -1)
        turn = float(line.turn) - self.turned.turn + (pi / 2 if reading.kind == "off" else 0.0)
        return (end[0] - away * cos(turn), end[1] - away * sin(turn)), end

    def _notes(self, scale: d.Scale) -> Iterator[d.Entity]:
        board = self.board
        notes: list[tuple[d.Point, str]] = []
        for base in board.work.bases.values():
            shaft = base.bodies[-1]
            x, y = self.turned.at(base.frame.x, base.frame.y)
            _, high = _reach(self.turned, shaft, 1)
            notes.append(((x, high), f"{base.name}\n{size_of(board, shaft)}"))
        yield from d.beside(scale, self.shown[2] + 8 / scale.mm, notes)


def size_of(board: Board, body: Body) -> str:
    """A block's plan in words: 22\" x 22\"."""
    o = body.outline
    if o.kind == "round":
        return f"ø {board.say(o.along)}"
    if o.kind == "polygon":
        return f"{o.sides} sides, {board.say(o.along)} across"
    return f"{board.say(o.along)} x {board.say(o.across)}"


def _reach(turned: Turned, body: Body, axis: int) -> tuple[float, float]:
    values = [p[axis] for p in turned.own(body.frame, *shapes.corners(body.outline))]
    return min(values), max(values)


def _pivot(picture: _Picture, leaf: Leaf) -> tuple[d.Point, float, float]:
    """Where a leaf turns, and its directions shut and open on paper [rad]. The pin stands in the middle of its gap."""
    post: Post = picture.board.work.posts[leaf.hinge_post]
    shut = float(leaf.turn) - picture.turned.turn
    x, y = picture.turned.at(post.frame.x, post.frame.y)
    out = float(post.section.depth) / 2 + float(leaf.hinge_gap) / 2
    # As the loads have it: in is to the left of the line, which the leaf may run against.
    way = (1 if leaf.swings == "in" else -1) * leaf.toward
    return (x + out * cos(shut), y + out * sin(shut)), shut, shut + way * float(leaf.opens_to)


def _sweep(picture: _Picture, leaf: Leaf) -> Iterator[d.Point]:
    (x, y), shut, opened = _pivot(picture, leaf)
    reach = float(leaf.hinge_gap) / 2 + float(leaf.length)
    for i in range(13):
        turn = shut + (opened - shut) * i / 12
        yield x + reach * cos(turn), y + reach * sin(turn)


def _bar(pivot: d.Point, turn: float, start: float, length: float) -> tuple[d.Point, ...]:
    c, s = cos(turn), sin(turn)
    ends = ((start, -LEAF / 2), (start + length, -LEAF / 2), (start + length, LEAF / 2), (start, LEAF / 2))
    return tuple((pivot[0] + a * c - b * s, pivot[1] + a * s + b * c) for a, b in ends)


def _moved(turned: Turned, body: Body, meant: Body) -> bool:
    pairs = zip(*(turned.own(each.frame, *shapes.corners(each.outline)) for each in (body, meant)))
    return any(shapes.apart(a, b) > SAME for a, b in pairs)


def _clipped(a: d.Point, b: d.Point, frame: d.Box) -> tuple[d.Point, d.Point] | None:
    """The part of a line inside a frame."""
    low, high = 0.0, 1.0
    for i in (0, 1):
        step = b[i] - a[i]
        for edge, sign in ((frame[i], 1), (frame[i + 2], -1)):
            inside, change = sign * (a[i] - edge), sign * step
            if abs(change) < 1e-12:
                if inside < 0:
                    return None
            elif change > 0:
                low = max(low, -inside / change)
            else:
                high = min(high, -inside / change)
    if low >= high:
        return None
    return tuple((a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t) for t in (low, high))  # type: ignore[return-value]
