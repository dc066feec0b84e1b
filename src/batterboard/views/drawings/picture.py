"""The job from above, in pieces: each plan drawing takes those it speaks of.

    lines, marks      strings, arcs and nails that something is measured from, their direction shown by an arrow
    concrete, steel   what is seen from above; what lies in the ground is dashed
    leaves            shut, open, and the arc between
    holes, spoil      the edge of the cut, and the line that spoil stays behind

Points are metres on paper: the job's plan turned so that the work lies square to it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from math import atan2, cos, degrees, pi, sin
from typing import Any

from batterboard.phases.dig import Hole
from batterboard.phases.setout import Reading
from batterboard.views import drawing as d
from batterboard.views.drawings import shapes
from batterboard.views.drawings.board import SAME, TAPE, Board, Turned, box
from batterboard.work.records import Body, Leaf, Line, Machine, Post, Work

FAR, NEAR = 1.5, 5.0  # the start of a line further off than so many times the work and 5 m is not shown
_PIECES = 120  # of an arc, each inside what is shown or not
LEAF = 0.05  # thickness a leaf or a sign is drawn with: the job file says none [m]


@dataclass(frozen=True)
class Picture:
    """All bases of the job, or some of them with what belongs to them."""

    board: Board
    names: frozenset[str]  # of the bases

    @cached_property
    def work(self) -> Work:
        """What stands on these bases, and between them."""
        work, names = self.board.work, self.names
        posts = {name: post for name, post in work.posts.items() if post.on in names}
        beams = {name: beam for name, beam in work.beams.items() if names >= set(beam.between)}
        elements = names | beams.keys()
        lifts = (replace(lift, bodies=tuple(b for b in lift.bodies if b.element in elements)) for lift in work.lifts)
        return replace(
            work,
            piers={name: pier for name, pier in work.piers.items() if name in names},
            slabs={name: slab for name, slab in work.slabs.items() if name in names},
            beams=beams,
            posts=posts,
            leaves={n: leaf for n, leaf in work.leaves.items() if {leaf.hinge_post, leaf.latch_post} <= posts.keys()},
            signs={name: sign for name, sign in work.signs.items() if sign.on in posts},
            machines={name: machine for name, machine in work.machines.items() if machine.on in names},
            pipes={name: pipe for name, pipe in work.pipes.items() if elements & set(pipe.through)},
            chains={name: chain for name, chain in work.chains.items() if name in elements},
            lifts=tuple(lifts),
        )

    @cached_property
    def readings(self) -> list[Reading]:
        return [reading for reading in self.board.plan.setout.readings if reading.element in self.names]

    @cached_property
    def holes(self) -> list[Hole]:
        names = {body.name for body in self.work.bodies}
        return [hole for hole in self.board.plan.dig.holes if hole.name in names]

    # ---- places ----

    @cached_property
    def turned(self) -> Turned:
        along = {s.element: self.work.lines[s.line] for c in self.work.chains.values() for s in c if s.kind == "along"}
        bent = {name: line.string for name, line in along.items() if line.arc is not None}
        return Turned.of(bent.get(base.name, base.frame) for base in self.work.bases.values())

    def is_far(self, at: d.Point) -> bool:
        """Further off than would leave the work large enough to see."""
        left, bottom, right, top = self.works
        far = FAR * max(right - left, top - bottom) + NEAR
        return not (left - far < at[0] < right + far and bottom - far < at[1] < top + far)

    def reach(self, body: Body) -> d.Box:
        if body.outline.kind == "round":
            (x, y), r = self.turned.at(body.frame.x, body.frame.y), float(body.outline.along) / 2
            return (x - r, y - r, x + r, y + r)
        return box(self.turned.own(body.frame, *shapes.corners(body.outline)))

    @cached_property
    def works(self) -> d.Box:
        """Around all concrete, the open leaves, and the room that spoil leaves free."""
        work = self.work
        points = [(x, y) for body in work.bodies for x, y in _ends(self.reach(body))]
        points += [p for leaf in work.leaves.values() for p in self._sweep(leaf)]
        points += [p for sign in work.signs.values() for p in self._face(work.posts[sign.on], sign.length).points]
        return box([*points, *(p for each in self.spoil for p in _ends(each))])

    @cached_property
    def shown(self) -> d.Box:
        """The works, what they are measured from, and the starts of lines and marks that are not too far off."""
        left, bottom, right, top = self.works
        starts = [self.turned.at(line.x, line.y) for line in self.lines]
        starts += [self.turned.at(x, y) for x, y in self.work.marks.values()]
        held = [p for r in self.readings for p in self.pair(r) or ()]
        return box([(left, bottom), (right, top), *(p for p in (*starts, *held) if not self.is_far(p))])

    @cached_property
    def size(self) -> tuple[float, float]:
        left, bottom, right, top = self.shown
        return right - left, top - bottom

    @cached_property
    def lines(self) -> list[Line]:
        """Lines that something is measured from or along, or that such a line was set from."""
        work = self.work
        named = {step.line for chain in work.chains.values() for step in chain} & work.lines.keys()
        named |= {work.lines[name].set_from for name in named} - {""}
        return [line for name, line in work.lines.items() if name in named]

    def pair(self, reading: Reading) -> tuple[d.Point, d.Point] | None:
        """Both ends of a measured distance; None for a step that is none."""
        if reading.kind not in ("along", "off") or not float(reading.value) > SAME or self.is_swung(reading):
            return None
        base, line = self.work.bases[reading.element], self.work.lines[reading.line]
        end = self.turned.at(base.frame.x, base.frame.y)
        away = float(reading.value) * (1 if reading.way in ("ahead", "left") else -1)
        turn = float(line.turn) - self.turned.turn + (pi / 2 if reading.kind == "off" else 0.0)
        return (end[0] - away * cos(turn), end[1] - away * sin(turn)), end

    def is_swung(self, reading: Reading) -> bool:
        """Measured from the nail of an arc, where every tape runs another way: the arc's radius speaks for them."""
        line = self.work.lines.get(reading.line)
        return line is not None and line.arc is not None and bool(line.arc.centre)

    def named(self, name: str) -> d.Point:
        """A point by its name in the measuring order: a line's start, a base's centre, hinge.bolt.1."""
        work = self.work
        if name in work.lines:
            return self.turned.at(work.lines[name].x, work.lines[name].y)
        if name in work.bases:
            frame = work.bases[name].frame
            return self.turned.at(frame.x, frame.y)
        thing, _, number = name.rpartition(".bolt.")
        bolts = (work.posts.get(thing) or work.machines[thing]).bolts
        assert bolts is not None
        i = int(number) - 1
        return self.turned.at(*bolts.frame.out(bolts.found_x[i], bolts.found_y[i]))

    # ---- strings ----

    def strings(self, scale: d.Scale) -> Iterator[tuple[Line, d.Point, d.Point]]:
        """Each line as far as it is shown; of an arc its chord, where that is stretched."""
        frame = self._around(scale)
        for line in self.lines:
            if line.arc is not None and line.arc.centre:
                continue
            start = self.turned.at(line.x, line.y)
            end = self.turned.at(line.x + line.length * cos(line.turn), line.y + line.length * sin(line.turn))
            ends = clipped(start, end, frame)
            if ends:
                yield line, *ends

    def drawn_strings(self, scale: d.Scale) -> Iterator[d.Entity]:
        for _, a, b in self.strings(scale):
            yield d.Line(a, b, d.LINES)
            yield from _arrow(scale, a, b)
        for _, arc, end, heading in self.curves(scale):
            yield arc
            far = (end[0] - heading[0] / scale.mm, end[1] - heading[1] / scale.mm)
            yield from _arrow(scale, far, end)
        yield from self._radii(scale)
        for at in self.marks.values():
            yield d.BarEnd(at, 0.0, d.LINES)

    def curves(self, scale: d.Scale) -> Iterator[tuple[Line, d.Arc, d.Point, d.Point]]:
        """Each arc as far as it is shown, its end there, and the direction in which it runs on."""
        left, bottom, right, top = self._around(scale)
        for line in self.lines:
            arc = line.arc
            if arc is None:
                continue
            stations = [float(arc.length) * i / _PIECES for i in range(_PIECES + 1)]
            points = {station: self.turned.at(*arc.out(station, 0.0)) for station in stations}
            inside = [s for s, (x, y) in points.items() if left <= x <= right and bottom <= y <= top]
            if len(inside) < 2:
                continue
            ends = [degrees(float(arc.at(s).turn) - self.turned.turn) - arc.way * 90 for s in (inside[0], inside[-1])]
            start, stop = ends if arc.left else ends[::-1]
            drawn = d.Arc(self.turned.at(*arc.middle), float(arc.radius), start, stop, d.LINES)
            heading = float(arc.at(inside[-1]).turn) - self.turned.turn
            yield line, drawn, points[inside[-1]], (cos(heading), sin(heading))

    def between(self, line: Line) -> d.Point:
        """A place on an arc near its middle, between two things that stand along it."""
        assert line.arc is not None
        bases = (self.work.bases[name] for name in self.names)
        stations = [float(line.arc.into(base.frame.x, base.frame.y)[0]) for base in bases]
        length = float(line.arc.length)
        ends = sorted([0.0, length, *(s for s in stations if 0 < s < length)])
        free = [(a + b) / 2 for a, b in pairwise(ends) if b - a > length / _PIECES]
        return self.turned.at(*line.arc.out(min(free, key=lambda s: abs(s - length / 2)), 0.0))

    def rise(self, line: Line) -> tuple[d.Point, d.Point]:
        """The middle of an arc's chord, and that of the arc."""
        assert line.arc is not None
        a, b = (self.turned.at(*line.string.out(line.length / 2, o)) for o in (0.0, -line.arc.way * line.arc.rise))
        return a, b

    def _radii(self, scale: d.Scale) -> Iterator[d.Radial]:
        """Of each arc that is swung from its nail."""
        for line, drawn, *_ in self.curves(scale):
            if line.arc is not None and line.arc.centre:
                x, y = self.between(line)
                angle = degrees(atan2(y - drawn.centre[1], x - drawn.centre[0]))
                yield d.Radial(drawn.centre, drawn.radius, angle, f"R {self.board.say(drawn.radius)}")

    def _around(self, scale: d.Scale) -> d.Box:
        """What is shown, and a little more for the lines."""
        left, bottom, right, top = self.shown
        over = 6 / scale.mm
        return left - over, bottom - over, right + over, top + over

    @cached_property
    def marks(self) -> dict[str, d.Point]:
        places = {name: self.turned.at(x, y) for name, (x, y) in self.work.marks.items()}
        return {name: at for name, at in places.items() if not self.is_far(at)}

    # ---- what stands there ----

    def concrete(self) -> Iterator[d.Entity]:
        for body in sorted(self.work.bodies, key=lambda body: float(body.top)):
            if self.out_of_ground(body):
                yield shapes.above(self.turned, body, d.CONCRETE, fill="tone")
            else:
                yield shapes.above(self.turned, body, d.HIDDEN)

    def out_of_ground(self, body: Body) -> bool:
        return float(body.top) > float(self.work.ground.level(body.frame.x, body.frame.y)) + SAME

    def crosses(self, half: float | None = None, leave_out: frozenset[str] = frozenset()) -> Iterator[d.CentreLine]:
        """Both axes of each base: as long as its foot, or `half` on each side."""
        for base in (base for base in self.work.bases.values() if base.name not in leave_out):
            along, across = (half or float(v) / 2 for v in (base.foot.outline.along, base.foot.outline.across))
            for end in ((along, 0.0), (0.0, across)):
                a, b = self.turned.own(base.frame, (-end[0], -end[1]), end)
                yield d.CentreLine(a, b)

    def planned(self) -> Iterator[d.Entity]:
        """The plan's place of what was found elsewhere."""
        if self.board.planned is None:
            return
        before = {body.name: body for body in self.board.planned.bodies}
        for body in self.work.bodies:
            meant = before.get(body.name)
            if meant is not None and self._moved(body, meant):
                yield shapes.above(self.turned, meant, d.PLANNED)

    def _moved(self, body: Body, meant: Body) -> bool:
        pairs = zip(*(self.turned.own(each.frame, *shapes.corners(each.outline)) for each in (body, meant)))
        return any(shapes.apart(a, b) > TAPE for a, b in pairs)

    def bolts(self) -> Iterator[d.BarEnd]:
        work = self.work
        things: list[Post | Machine] = [*work.posts.values(), *work.machines.values()]
        for bolts in (thing.bolts for thing in things):
            if bolts is not None:
                for x, y in zip(bolts.found_x, bolts.found_y):
                    yield d.BarEnd(self.turned.at(*bolts.frame.out(x, y)), float(bolts.rod.diameter) / 2)

    def steel(self) -> Iterator[d.Entity]:
        work = self.work
        things: list[Post | Machine] = [*work.posts.values(), *work.machines.values()]
        for thing in things:
            if thing.plate is not None:
                yield shapes.block(self.turned, thing.frame, thing.plate.along, thing.plate.across, d.STEEL)
        for post in work.posts.values():
            yield shapes.tube(self.turned, post, d.STEEL)
        for sign in work.signs.values():
            yield self._face(work.posts[sign.on], sign.length)
        for pipe in work.pipes.values():
            yield d.Polyline(self.turned.all(pipe.x, pipe.y), d.PIPES)

    def leaves(self) -> Iterator[d.Entity]:
        for leaf in self.work.leaves.values():
            pivot, shut, opened = self.swing(leaf)
            gap, length = float(leaf.hinge_gap) / 2, float(leaf.length)
            for turn, layer in ((shut, d.STEEL), (opened, d.HIDDEN)):
                yield d.Polygon(_rod(pivot, turn, gap, length), layer)
            start, end = sorted((shut, opened))
            yield d.Arc(pivot, gap + length, degrees(start), degrees(end), d.HIDDEN)

    def swing(self, leaf: Leaf) -> tuple[d.Point, float, float]:
        """Where a leaf turns, and its directions shut and open [rad]. The pin stands in the middle of its gap."""
        post = self.work.posts[leaf.hinge_post]
        shut = float(leaf.turn) - self.turned.turn
        x, y = self.turned.at(post.frame.x, post.frame.y)
        out = float(post.section.depth) / 2 + float(leaf.hinge_gap) / 2
        # As the loads have it: in is to the left of the line, which the leaf may run against.
        way = (1 if leaf.swings == "in" else -1) * leaf.toward
        return (x + out * cos(shut), y + out * sin(shut)), shut, shut + way * float(leaf.opens_to)

    def _sweep(self, leaf: Leaf) -> Iterator[d.Point]:
        (x, y), shut, opened = self.swing(leaf)
        reach = float(leaf.hinge_gap) / 2 + float(leaf.length)
        for i in range(13):
            turn = shut + (opened - shut) * i / 12
            yield x + reach * cos(turn), y + reach * sin(turn)

    def _face(self, post: Post, length: Any) -> d.Polygon:
        return shapes.block(self.turned, post.frame, length, LEAF, d.STEEL)

    # ---- the hole ----

    def cuts(self) -> Iterator[d.Entity]:
        """The edge of each cut at the ground, where it is wider than the concrete."""
        bodies = {body.name: body for body in self.work.bodies}
        for hole in self.holes:
            grown = (float(hole.top_along) - float(bodies[hole.name].outline.along)) / 2
            if grown > SAME:
                yield shapes.above(self.turned, bodies[hole.name], d.HIDDEN, grown=grown)

    @cached_property
    def spoil(self) -> list[d.Box]:
        """Boxes round the cuts that spoil stays out of, those that touch made one."""
        bodies = {body.name: body for body in self.work.bodies}
        boxes: list[d.Box] = []
        for hole in self.holes:
            body, back = bodies[hole.name], float(hole.spoil_back)
            o = body.outline
            grown = max(float(hole.top_along - o.along), float(hole.top_across - o.across), 0.0) / 2 + back
            left, bottom, right, top = self.reach(body)
            new = (left - grown, bottom - grown, right + grown, top + grown)
            for other in [other for other in boxes if _touch(new, other)]:
                boxes.remove(other)
                new = box([*_ends(new), *_ends(other)])
            boxes.append(new)
        return boxes


def chains(pairs: list[tuple[d.Point, d.Point, str]], axis: int, layer: d.Layer) -> list[d.Chain]:
    """Distances along one axis as chains: those that follow each other in one row, none twice, short ones first."""
    known: dict[tuple[float, float], tuple[d.Point, d.Point, str]] = {}
    for a, b, text in pairs:
        a, b = sorted((a, b), key=lambda p: p[axis])
        known.setdefault((round(a[axis], 4), round(b[axis], 4)), (a, b, text))
    rows: list[tuple[list[d.Point], list[str]]] = []
    for _, (a, b, text) in sorted(known.items()):
        row = next((row for row in rows if abs(row[0][-1][axis] - a[axis]) < SAME), None)
        if row is None:
            rows.append(([a, b], [text]))
        else:
            row[0].append(b)
            row[1].append(text)
    rows.sort(key=lambda row: row[0][-1][axis] - row[0][0][axis])
    return [d.Chain(tuple(stations), tuple(texts), layer) for stations, texts in rows]


def clipped(a: d.Point, b: d.Point, frame: d.Box) -> tuple[d.Point, d.Point] | None:
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
    return (
        (a[0] + (b[0] - a[0]) * low, a[1] + (b[1] - a[1]) * low),
        (a[0] + (b[0] - a[0]) * high, a[1] + (b[1] - a[1]) * high),
    )


def _arrow(scale: d.Scale, a: d.Point, b: d.Point) -> Iterator[d.Entity]:
    """Which way a line runs: an open arrow at its end."""
    length = shapes.apart(a, b)
    if not length:
        return
    c, s = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    back, side = 3.0 / scale.mm, 1.2 / scale.mm
    wings = [(b[0] - back * c - way * side * s, b[1] - back * s + way * side * c) for way in (1, -1)]
    yield d.Line(wings[0], b, d.LINES)
    yield d.Line(b, wings[1], d.LINES)


def _rod(pivot: d.Point, turn: float, start: float, length: float) -> tuple[d.Point, ...]:
    c, s = cos(turn), sin(turn)
    ends = ((start, -LEAF / 2), (start + length, -LEAF / 2), (start + length, LEAF / 2), (start, LEAF / 2))
    return tuple((pivot[0] + a * c - b * s, pivot[1] + a * s + b * c) for a, b in ends)


def _ends(around: d.Box) -> tuple[d.Point, d.Point]:
    return (around[0], around[1]), (around[2], around[3])


def _touch(a: d.Box, b: d.Box) -> bool:
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]
