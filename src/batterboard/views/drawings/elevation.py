"""What is seen from in front: things that stand in one line, the ground as it lies, what is below it dashed.

    faces(board)       the groups of bases that share an elevation: joined by a beam or a leaf, or in one row,
                       a very long row in parts
    elevations(board)  a sheet for each

Stations are metres along the direction one looks square to, heights are the job's own.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property, partial
from math import atan2, cos, sin

import numpy as np

from batterboard.views import drawing as d
from batterboard.views.drawings import labels, shapes
from batterboard.views.drawings.board import SAME, TAPE, Board
from batterboard.views.drawings.spacing import between, evenly
from batterboard.work.names import among
from batterboard.work.records import Body, Bolts, Leaf, Machine, Pier, Plate, Post, Slab

Base = Pier | Slab

_MANY = 4  # bases: of more, only the first and the last are told
_MOST = 40  # bases on one sheet
ROW = 0.05  # bases whose centres lie no further off one line stand in one row [m]


def elevations(board: Board) -> Iterator[d.Sheet]:
    for bases in faces(board):
        face = _Face(board, bases)
        name = f"Elevation, {among(base.name for base in bases)}"
        blank = board.sheet(name)
        view = board.fit("ELEVATION", face.draw, face.size, d.area(blank), partial(_labelled, face))
        yield replace(blank, views=(view,))


def faces(board: Board) -> list[tuple[Base, ...]]:
    """Bases that are looked at together, in the order of the job file."""
    work = board.work
    joined = [set(beam.between) for beam in work.beams.values()]
    joined += [{work.posts[leaf.hinge_post].on, work.posts[leaf.latch_post].on} for leaf in work.leaves.values()]
    bases = list(work.bases.values())
    joined += [{a.name, b.name} for i, a in enumerate(bases) for b in bases[i + 1 :] if _in_row(a, b)]
    along = [step for chain in work.chains.values() for step in chain if step.kind == "along"]
    bent = [line.name for line in work.lines.values() if line.arc is not None]
    joined += [{step.element for step in along if step.line == name} for name in bent]  # as seen square to its chord
    groups: list[set[str]] = []
    for group in (*joined, *({base.name} for base in bases)):
        for other in [other for other in groups if other & group]:
            groups.remove(other)
            group = group | other
        groups.append(group)
    ordered = (tuple(base for base in bases if base.name in group) for group in groups)
    return [part for group in sorted(ordered, key=lambda group: bases.index(group[0])) for part in _parts(group)]


def _parts(row: tuple[Base, ...]) -> Iterator[tuple[Base, ...]]:
    """As many to a sheet as can be seen there, about equally many."""
    sheets = -(-len(row) // _MOST)
    for i in range(sheets):
        yield row[len(row) * i // sheets : len(row) * (i + 1) // sheets]


def face_turn(bases: tuple[Base, ...]) -> float:
    """The direction to the right: the first base's own, or from the first base to the last."""
    first, last = bases[0].frame, bases[-1].frame
    if len(bases) == 1 or _in_row(bases[0], bases[-1]):
        return float(first.turn)
    return atan2(float(last.y) - float(first.y), float(last.x) - float(first.x))


def _in_row(a: Base, b: Base) -> bool:
    _, across = a.frame.into(b.frame.x, b.frame.y)
    return abs(float(across)) < ROW and abs(sin(float(a.frame.turn) - float(b.frame.turn))) < ROW


@dataclass(frozen=True)
class _Face:
    board: Board
    bases: tuple[Base, ...]

    # ---- places ----

    @cached_property
    def turn(self) -> float:
        return face_turn(self.bases)

    def station(self, x: float, y: float) -> float:
        return float(x) * cos(self.turn) + float(y) * sin(self.turn)

    @cached_property
    def bodies(self) -> list[Body]:
        names = {base.name for base in self.bases}
        beams = {beam.name for beam in self.board.work.beams.values() if names & set(beam.between)}
        return [body for body in self.board.work.bodies if body.element in names | beams]

    @cached_property
    def posts(self) -> list[Post]:
        return [post for post in self.board.work.posts.values() if post.on in {base.name for base in self.bases}]

    @cached_property
    def leaves(self) -> list[Leaf]:
        names = {post.name for post in self.posts}
        return [leaf for leaf in self.board.work.leaves.values() if leaf.hinge_post in names]

    @cached_property
    def machines(self) -> list[Machine]:
        return [m for m in self.board.work.machines.values() if m.on in {base.name for base in self.bases}]

    @cached_property
    def edge(self) -> d.Box:
        """Around all that is seen."""
        spans = [shapes.spans(body, self.turn) for body in self.bodies]
        spans += [(left, right) for left, _, right, _ in self._signs()]
        heights = [float(z) for body in self.bodies for z in (body.bottom, body.top)]
        heights += [float(post.top_z) for post in self.posts]
        heights += [top for *_, top in (*self._signs(), *(self._leaf(leaf) for leaf in self.leaves))]
        heights += [self._centre(machine)[1] for machine in self.machines]
        return min(a for a, _ in spans), min(heights), max(b for _, b in spans), max(heights)

    @cached_property
    def size(self) -> tuple[float, float]:
        left, bottom, right, top = self.edge
        return right - left + 2 * self._beyond, top - bottom

    @property
    def _beyond(self) -> float:
        """How far the ground is shown to either side."""
        left, _, right, _ = self.edge
        return 0.3 + 0.08 * (right - left)

    @cached_property
    def surface(self) -> tuple[d.Point, ...]:
        """The ground along the line of the first base, its bends only."""
        first = self.bases[0].frame
        aside = -float(first.x) * sin(self.turn) + float(first.y) * cos(self.turn)
        stations = np.linspace(self.edge[0] - self._beyond, self.edge[2] + self._beyond, 33)
        x = stations * cos(self.turn) - aside * sin(self.turn)
        y = stations * sin(self.turn) + aside * cos(self.turn)
        heights = np.broadcast_to(self.board.work.ground.level(x, y), stations.shape)
        points = [(float(s), float(z)) for s, z in zip(stations, heights)]
        kept = [points[0]]
        for i in range(1, len(points) - 1):
            (x0, z0), (x1, z1), (x2, z2) = kept[-1], points[i], points[i + 1]
            if abs(z0 + (z2 - z0) * (x1 - x0) / (x2 - x0) - z1) > 1e-6:
                kept.append(points[i])
        return (*kept, points[-1])

    def ground(self, station: float) -> float:
        xs, zs = zip(*self.surface)
        return float(np.interp(station, xs, zs))

    def span(self, post: Post) -> tuple[float, float]:
        at, half = self.station(post.frame.x, post.frame.y), float(post.section.depth) / 2
        return at - half, at + half

    # ---- the drawing ----

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        frost = float(self.board.work.frost)
        out: list[d.Entity] = [d.GroundLine(self.surface)]
        if frost > SAME:
            out.append(d.Polyline(tuple((s, z - frost) for s, z in self.surface), d.HIDDEN))
        for body in sorted(self.bodies, key=lambda body: float(body.top)):
            out += self._block(body)
        out += self._planned()
        for post in self.posts:
            out += self._post(post)
        for machine in self.machines:
            out += self._machine(machine)
        for left, bottom, right, top in (*self._signs(), *(self._leaf(leaf) for leaf in self.leaves)):
            out.append(d.Polygon(d.rectangle(left, bottom, right, top), d.STEEL, "tone"))
        for leaf in self.leaves:
            out += [d.BarEnd(point, 0.02, d.STEEL) for point in self._hinges(leaf)]
        return (*out, *self._sizes(scale))

    def _block(self, body: Body) -> Iterator[d.Entity]:
        left, right = shapes.spans(body, self.turn)
        bottom, top = float(body.bottom), float(body.top)
        low = max(bottom, self.ground(left)), max(bottom, self.ground(right))
        if top < min(low) + SAME:
            yield d.Polygon(shapes.side(left, right, body), d.HIDDEN)
            return
        face = shapes.side(left, right, body)
        yield d.Polygon(((left, low[0]), (right, low[1]), *face[2:]), d.CONCRETE, "tone")
        if bottom < max(low) - SAME:
            yield d.Polyline(((left, low[0]), (left, bottom), (right, bottom), (right, low[1])), d.HIDDEN)
        across = abs(sin(float(body.frame.turn) - self.turn)) > 0.5  # then its faces ahead and back are looked at
        leg = float(body.outline.corners if across else body.outline.other_leg)
        if leg and body.outline.kind == "rectangle" and abs(sin(2 * (float(body.frame.turn) - self.turn))) < SAME:
            for x in (left + leg, right - leg):
                yield d.Line((x, self.ground(x)), (x, top - float(body.outline.drop)), d.NOTES)

    def _planned(self) -> Iterator[d.Entity]:
        """The plan's outline of what was found elsewhere."""
        if self.board.planned is None:
            return
        before = {body.name: body for body in self.board.planned.bodies}
        for body in self.bodies:
            meant = before.get(body.name)
            if meant is None:
                continue
            here, there = (
                shapes.side(*shapes.spans(body, self.turn), body),
                shapes.side(*shapes.spans(meant, self.turn), meant),
            )
            if len(here) != len(there) or any(shapes.apart(a, b) > TAPE for a, b in zip(here, there)):
                yield d.Polygon(there, d.PLANNED)

    def _post(self, post: Post) -> Iterator[d.Entity]:
        left, right = self.span(post)
        foot, base = float(post.foot_z), float(post.base_z)
        if post.plate is not None and post.bolts is not None:
            yield from self._plate((left + right) / 2, base, foot, post.plate, post.bolts)
            foot += float(post.plate.thick)
        if foot < base - SAME:
            yield d.Polyline(((left, base), (left, foot), (right, foot), (right, base)), d.HIDDEN)
            foot = base
        yield d.Polygon(d.rectangle(left, foot, right, float(post.top_z)), d.STEEL, "tone")

    def _plate(self, at: float, base: float, foot: float, plate: Plate, bolts: Bolts) -> Iterator[d.Entity]:
        half = float(plate.along) / 2
        yield d.Polygon(d.rectangle(at - half, foot, at + half, foot + float(plate.thick)), d.STEEL, "tone")
        for x, y, proud in zip(bolts.found_x, bolts.found_y, bolts.proud):
            bolt = self.station(*bolts.frame.out(x, y))
            yield d.Line((bolt, base), (bolt, base + float(proud)), d.BOLTS)

    def _machine(self, machine: Machine) -> Iterator[d.Entity]:
        """Its plate, and where its weight is: what it looks like nobody has said."""
        at, centre = self._centre(machine)
        base = self._top(machine.on)
        foot = base + float(machine.plate.grout)
        yield from self._plate(at, base, foot, machine.plate, machine.bolts)
        r = 0.04
        yield d.Circle((at, centre), r, d.STEEL)
        yield d.CentreLine((at - r, centre), (at + r, centre))
        yield d.CentreLine((at, foot), (at, centre + r))

    def _centre(self, machine: Machine) -> d.Point:
        return self.station(machine.frame.x, machine.frame.y), self._top(machine.on) + float(machine.centre)

    def _top(self, base: str) -> float:
        return float(self.board.work.bases[base].top)

    def _signs(self) -> Iterator[d.Box]:
        posts = {post.name: post for post in self.posts}
        for sign in self.board.work.signs.values():
            post = posts.get(sign.on)
            if post is not None:
                at = self.station(post.frame.x, post.frame.y)
                half = float(sign.length) / 2 * abs(cos(float(post.frame.turn) - self.turn))
                yield at - half, float(sign.bottom_z), at + half, float(sign.bottom_z) + float(sign.height)

    def _leaf(self, leaf: Leaf) -> d.Box:
        """A leaf that is shut."""
        post, way = self.board.work.posts[leaf.hinge_post], self._way(leaf)
        start = self.station(post.frame.x, post.frame.y) + way * (float(post.section.depth) / 2 + float(leaf.hinge_gap))
        end = start + way * float(leaf.length)
        bottom = float(post.base_z) + float(leaf.clear)
        return min(start, end), bottom, max(start, end), bottom + float(leaf.height)

    def _way(self, leaf: Leaf) -> int:
        return 1 if cos(float(leaf.turn) - self.turn) > 0 else -1

    def _hinges(self, leaf: Leaf) -> Iterator[d.Point]:
        post = self.board.work.posts[leaf.hinge_post]
        out = float(post.section.depth) / 2 + float(leaf.hinge_gap) / 2
        at = self.station(post.frame.x, post.frame.y) + self._way(leaf) * out
        for height in (leaf.low, leaf.high):
            yield at, float(post.base_z) + float(height)

    # ---- dimensions ----

    def _sizes(self, scale: d.Scale) -> Iterator[d.Entity]:
        say = self.board.say
        left, bottom, right, top = self.edge
        feet = sorted({round(s, 6) for base in self.bases for s in shapes.spans(base.foot, self.turn)})
        centres = sorted(self.station(base.frame.x, base.frame.y) for base in self.bases)
        below = [d.Chain(tuple(feet))] if len(self.bases) <= _MANY else []
        if len(centres) > 1:
            below.append(evenly(centres, say))
        if len(feet) > 2:
            below.append(d.Chain((feet[0], feet[-1])))
        yield from d.stack(scale, self.edge, "below", below, say)
        above = [d.Chain(self._opening(leaf)) for leaf in self.leaves]
        above += [d.Chain((a, b)) for a, _, b, _ in self._signs()]
        yield from d.stack(scale, self.edge, "above", above, say)
        first = min(self.bases, key=lambda base: self.station(base.frame.x, base.frame.y))
        heights = {float(z) for body in first.bodies for z in (body.bottom, body.top)}
        heights |= {float(post.top_z) for post in self.posts if post.on == first.name}
        out = (left - self._beyond, bottom, right + self._beyond, top)
        ordered = tuple(sorted(heights))
        chains = [d.Chain(ordered), d.Chain((ordered[0], ordered[-1]))]
        yield from d.stack(scale, out, "left", chains[: len(ordered) - 1], say)
        yield from d.beside(scale, right + self._beyond, (), self._levels())

    def _opening(self, leaf: Leaf) -> tuple[float, ...]:
        hinge, latch = (self.board.work.posts[name] for name in (leaf.hinge_post, leaf.latch_post))
        left, _, right, _ = self._leaf(leaf)
        stations = [left, right, self.span(hinge)[1 if self._way(leaf) > 0 else 0]]
        if leaf.meets == leaf.latch_post:
            stations.append(self.span(latch)[0 if self._way(leaf) > 0 else 1])
        return tuple(sorted(stations))

    def _levels(self) -> list[tuple[float, str]]:
        """Heights and what is there, those of one height together."""
        told: dict[float, dict[str, list[str]]] = {}

        def tell(z: float, what: str, name: str = "") -> None:
            near = next((known for known in told if abs(known - z) < TAPE), z)
            names = told.setdefault(near, {}).setdefault(what, [])
            names += [name] if name and name not in names else []

        for base in self.bases if len(self.bases) <= _MANY else (self.bases[0], self.bases[-1]):
            tell(float(base.top), "top of", base.name)
            tell(float(base.foot.bottom), "underside of", base.name)
        for post in self.posts:
            tell(float(post.top_z), "top of", post.name)
        for leaf in self.leaves:
            for (_, z), which in zip(self._hinges(leaf), ("lower hinge", "upper hinge")):
                tell(z, which)
        for sign in self.board.work.signs.values():
            if any(post.name == sign.on for post in self.posts):
                tell(float(sign.bottom_z), "underside of", sign.name)
        for machine in self.machines:
            tell(self._centre(machine)[1], "weight of", machine.name)
        last = self.surface[-1][1]
        tell(last, "ground")
        if float(self.board.work.frost) > SAME:
            tell(last - float(self.board.work.frost), "frost")
        bench = self.board.bench
        if bench:
            tell(float(self.board.work.levels[bench]), bench)
        return [(z, f"{self.board.say_level(z, bench)} {', '.join(map(_named, told[z].items()))}") for z in told]


def _named(each: tuple[str, list[str]]) -> str:
    what, names = each
    return f"{what} {among(names)}".strip()


def _labelled(face: _Face, scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
    return labels.settled(scale, drawn, _notes(face, scale), free)


def _notes(face: _Face, scale: d.Scale) -> Iterator[labels.Label]:
    board, say = face.board, face.board.say
    for leaf in face.leaves:
        left, bottom, right, top = face._leaf(leaf)
        middle = ((left + right) / 2, (bottom + top) / 2)
        yield (d.Text(middle, f"{leaf.name}\n{say(leaf.length)} x {say(leaf.height)}", anchor="middle middle"),)
    for sign, (left, bottom, right, top) in zip(board.work.signs.values(), face._signs()):
        middle = ((left + right) / 2, (bottom + top) / 2)
        text = f"{sign.name}\n{say(sign.length)} x {say(sign.height)}"
        yield (d.Text(middle, text, anchor="middle middle"), *labels.pointing(scale, (right, top), text))
    for post in face.posts:
        left, right = face.span(post)
        tip = ((left + right) / 2, float(post.top_z) * 0.3 + float(post.base_z) * 0.7)
        yield labels.pointing(scale, tip, f"{post.name} {post.section.name}")
    untold = between(base.name for base in face.bases)
    for body in (body for body in face.bodies if body.element not in untold):
        left, right = shapes.spans(body, face.turn)
        yield labels.near(scale, ((left + right) / 2, (float(body.bottom) + float(body.top)) / 2), body.name)
