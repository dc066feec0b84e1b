"""Sections through what carries: cut along its own axis, with steel, bolts, pipes, covers and levels.

What is seen when the cage and the mat are cut level stands in `level`, on a sheet of its own.
Points are metres: along the base's own axis from its centre, and up from the job's zero.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property, partial
from math import isfinite, sin
from typing import Any

from batterboard.views import drawing as d
from batterboard.views.drawings import found, labels, shapes
from batterboard.views.drawings.board import SAME, Board, alike, even
from batterboard.views.drawings.level import level_views
from batterboard.views.drawings.spacing import evenly
from batterboard.work.names import among
from batterboard.work.records import Bar, Body, Bolts, Machine, Pier, Plate, Post, Slab
from batterboard.working import nan

Base = Pier | Slab

_STUB = 0.2  # of a post that is shown above its plate [m]


def sections(board: Board) -> Iterator[d.Sheet]:
    """Two sheets for each base, one cut upright and one cut level; bases that look the same share them."""
    for group in alike(board.work.bases.values(), lambda base: _look(board, base)):
        names = among(base.name for base in group)
        cut = Cut(board, group[0], group)
        blank = board.sheet(f"Section, {names}")
        upright = board.fit("SECTION", cut.draw, cut.size, d.area(blank), partial(_labelled, cut))
        yield replace(blank, views=(upright,))
        blank = board.sheet(f"Cage, {names}")
        views = level_views(board, group[0], d.area(blank))
        if views:
            yield replace(blank, views=views)


def _look(board: Board, base: Base) -> tuple[object, ...]:
    """All that its section shows but its height above the bench, in numbers that are equal where the drawings are."""
    sizes: list[object] = []
    for body in base.bodies:
        o = body.outline
        at = base.frame.into(body.frame.x, body.frame.y)
        edges = o.corners, o.other_leg, o.top, o.drop
        numbers = (*at, o.along, o.across, *edges, base.top - body.bottom, base.top - body.top, body.over)
        sizes += [o.kind, o.sides, body.against, *(even(v) for v in numbers)]
    bars = [(bar.role, bar.size.name, bar.count, *(even(leg) for leg in bar.legs)) for bar in base.bars]
    things = _standing(board, base)
    steel: list[object] = []
    for thing in things:
        steel += [
            thing.bolts.rod.name,
            *(even(v) for v in (*thing.bolts.found_x, *thing.bolts.found_y, *thing.bolts.proud)),
        ]
    pipes = [pipe.name for pipe in board.work.pipes.values() if base.name in pipe.through]
    beams = [beam.name for beam in board.work.beams.values() if base.name in beam.between]
    boxed = [hole.name for body in base.bodies for hole in body.blockouts]
    return (*sizes, *bars, *steel, *pipes, *beams, *boxed)


def _standing(board: Board, base: Base) -> list[Any]:
    """Posts and machines bolted to it."""
    things: list[Post | Machine] = [*board.work.posts.values(), *board.work.machines.values()]
    return [thing for thing in things if thing.on == base.name and thing.bolts is not None]


def _ground(board: Board, base: Base) -> float:
    return float(board.work.ground.level(base.frame.x, base.frame.y))


@dataclass(frozen=True)
class Cut:
    board: Board
    base: Base
    alike: tuple[Base, ...]  # itself among those that share its sheet

    # ---- places ----

    @cached_property
    def spans(self) -> dict[str, tuple[float, float]]:
        """Where each block of the base begins and ends."""
        places = {}
        for body in self.base.bodies:
            middle, half = self.along(body.frame.x, body.frame.y), float(body.outline.along) / 2
            places[body.name] = (middle - half, middle + half)
        return places

    def along(self, x: Any, y: Any) -> float:
        return float(self.base.frame.into(x, y)[0])

    @property
    def shaft(self) -> Body:
        return self.base.bodies[-1]

    @cached_property
    def edge(self) -> d.Box:
        """Around the concrete and the bolts' ends."""
        top = max([float(self.base.top), *(end for _, _, end in self._bolts())])
        starts, ends = zip(*self.spans.values())
        return min(starts), float(self.base.foot.bottom), max(ends), top

    @property
    def beyond(self) -> float:
        left, _, right, _ = self.edge
        return 0.12 + 0.16 * (right - left)

    @cached_property
    def window(self) -> tuple[float, float]:
        return self.edge[0] - self.beyond, self.edge[2] + self.beyond

    @property
    def size(self) -> tuple[float, float]:
        return self.window[1] - self.window[0], self.edge[3] - self.edge[1]

    def ground(self, station: float) -> float:
        x, y = self.base.frame.out(station, 0.0)
        return float(self.board.work.ground.level(x, y))

    @cached_property
    def things(self) -> list[Any]:
        return _standing(self.board, self.base)

    def _bolts(self) -> Iterator[tuple[float, float, float]]:
        """Where a bolt stands, its foot and its end; those behind each other once."""
        told: set[tuple[float, float]] = set()
        for thing in self.things:
            b: Bolts = thing.bolts
            for x, y, proud in zip(b.found_x, b.found_y, b.proud):
                at = self.along(*b.frame.out(x, y))
                if (even(at), even(proud)) not in told:
                    told.add((even(at), even(proud)))
                    yield at, float(self.base.top) - float(b.deep), float(self.base.top) + float(proud)

    # ---- the drawing ----

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        return (
            *self._surface(),
            *self._beams(),
            *self._concrete(),
            *self._planned(),
            *(entity for bar in self.base.bars for entity in self._bar(bar)),
            *self._pipes(),
            *self._blockouts(),
            *(entity for thing in self.things for entity in self._steel(thing)),
            *self._cast_in(),
            *self._sizes(scale),
            *d.beside(scale, self.window[1], self.notes(), self.levels()),
        )

    def _surface(self) -> Iterator[d.Entity]:
        """The ground up to the concrete that stands out of it, and the frost below."""
        left, right = self.window
        out = [body for body in self.base.bodies if float(body.top) > self.ground(0.0)]
        if out:
            start, end = self.spans[out[-1].name]
            yield d.GroundLine(((left, self.ground(left)), (start, self.ground(start))))
            yield d.GroundLine(((end, self.ground(end)), (right, self.ground(right))))
        else:
            yield d.GroundLine(((left, self.ground(left)), (right, self.ground(right))))
        frost = float(self.board.work.frost)
        if frost > SAME:  # behind the concrete
            depth = self.ground(0.0) - frost
            spans = [span for name, span in self.spans.items() if self._holds(name, depth)]
            for a, b in (
                ((left, min(s for s, _ in spans)), (max(s for _, s in spans), right)) if spans else ((left, right),)
            ):
                yield d.Line((a, self.ground(a) - frost), (b, self.ground(b) - frost), d.HIDDEN)

    def _holds(self, name: str, z: float) -> bool:
        body = next(body for body in self.base.bodies if body.name == name)
        return float(body.bottom) < z < float(body.top)

    def _concrete(self) -> Iterator[d.Entity]:
        for body in self.base.bodies:
            left, right = self.spans[body.name]
            over = float(body.over)
            if over > SAME:
                ground = min(self.ground(left), float(body.top))
                yield d.Polygon(
                    d.rectangle(left - over, float(body.bottom), right + over, ground), d.CONCRETE, "tone", "concrete"
                )
            yield d.Polygon(shapes.side(left, right, body), d.CONCRETE, "tone", "concrete")

    def _planned(self) -> Iterator[d.Entity]:
        for body in self.base.bodies:
            meant = found.meant(self.board, body)
            if meant is not None:
                middle, half = self.along(meant.frame.x, meant.frame.y), float(meant.outline.along) / 2
                yield d.Polygon(shapes.side(middle - half, middle + half, meant), d.PLANNED)
        before = self.board.planned
        if before is None or self.base.name not in before.bases or not self.base_missing:
            return
        here = {_rounded(line) for bar in self.base.bars for line in self._lines(bar)}
        for bar in before.bases[self.base.name].bars:
            if bar.role == "tie":
                yield from (d.Polyline(line, d.PLANNED) for line in self._lines(bar) if _rounded(line) not in here)

    @property
    def base_missing(self) -> tuple[str, ...]:
        return self.base.missing if isinstance(self.base, Pier) else ()

    def _lines(self, bar: Bar) -> Iterator[tuple[d.Point, ...]]:
        for xs, zs in zip(bar.x, bar.z):
            points = [(float(x), float(z)) for x, z in zip(xs, zs)]
            if bar.role == "tie":  # seen from its edge
                points = [(min(points)[0], points[0][1]), (max(points)[0], points[0][1])]
            yield tuple(points)

    def _bar(self, bar: Bar) -> Iterator[d.Entity]:
        told: set[tuple[d.Point, ...]] = set()
        for line in self._lines(bar):
            if _rounded(line) in told:
                continue
            told.add(_rounded(line))
            if shapes.apart(min(line), max(line)) < SAME:
                yield d.BarEnd(line[0], float(bar.size.diameter) / 2, d.BARS)
            else:
                yield d.Polyline(line, d.BARS)

    def _beams(self) -> Iterator[d.Entity]:
        """Tie beams that run off to either side, broken at the edge of the drawing."""
        left, right = self.window
        for beam in self.board.work.beams.values():
            slant = float(beam.frame.turn) - float(self.base.frame.turn)
            if self.base.name not in beam.between or abs(sin(slant)) > 0.05:
                continue
            middle, half = self.along(beam.frame.x, beam.frame.y), float(beam.body.outline.along) / 2
            start, end = max(middle - half, left), min(middle + half, right)
            low, high = float(beam.body.bottom), float(beam.body.top)
            yield d.Polygon(d.rectangle(start, low, end, high), d.CONCRETE, "tone", "concrete", outline=False)
            for z in (low, high):
                yield d.Line((start, z), (end, z), d.CONCRETE)
            edge = right if end == right else left
            yield d.BreakLine((edge, low), (edge, high))
            for bar in beam.bars:
                if bar.role == "tie":
                    continue
                for xs, ys, zs in zip(bar.x, bar.y, bar.z):
                    line = [(self.along(*beam.frame.out(x, y)), float(z)) for x, y, z in zip(xs, ys, zs)]
                    yield from (d.Line(*piece, d.BARS) for piece in _within(line, left, right))

    def _pipes(self) -> Iterator[d.Entity]:
        left, right = self.window
        for pipe in self.board.work.pipes.values():
            if self.base.name not in pipe.through:
                continue
            r = float(pipe.size.outside) / 2
            line = [(self.along(x, y), float(z)) for x, y, z in zip(pipe.x, pipe.y, pipe.z)]
            for (x0, z0), (x1, z1) in _within(line, left, right):
                if abs(x1 - x0) < SAME:
                    yield d.Polygon(d.rectangle(x0 - r, min(z0, z1), x0 + r, max(z0, z1)), d.PIPES, "paper")
                elif abs(z1 - z0) < SAME:
                    yield d.Polygon(d.rectangle(min(x0, x1), z0 - r, max(x0, x1), z0 + r), d.PIPES, "paper")

    def _blockouts(self) -> Iterator[d.Entity]:
        """Pockets and holes, seen through the concrete."""
        for body in self.base.bodies:
            yield from shapes.seen_through(body, partial(self._placed, body))

    def _placed(self, body: Body, x: Any, y: Any, z: Any) -> d.Point:
        return self.along(*body.frame.out(x, y)), float(z)

    def _steel(self, thing: Any) -> Iterator[d.Entity]:
        """Bolts with their feet, grout, plate, nuts, and the stub of a post."""
        bolts: Bolts = thing.bolts
        plate: Plate = thing.plate
        top, rod = float(self.base.top), bolts.rod
        r, flats = float(rod.diameter) / 2, float(rod.across_flats) / 2
        under = top + float(plate.grout)
        over = under + float(plate.thick)
        middle, half = self.along(thing.frame.x, thing.frame.y), float(plate.along) / 2
        yield d.Polygon(
            d.rectangle(middle - half, top, middle + half, under), d.CONCRETE, "tone", "stone", outline=False
        )
        yield d.Polygon(d.rectangle(middle - half, under, middle + half, over), d.STEEL, "tone")
        for at, foot, end in self._bolts():
            yield d.Polygon(d.rectangle(at - r, foot, at + r, end), d.BOLTS, "paper")
            washer, nut = float(rod.washer_thick), float(rod.nut)
            yield d.Polygon(d.rectangle(at - 1.5 * flats, over, at + 1.5 * flats, over + washer), d.BOLTS, "paper")
            yield d.Polygon(d.rectangle(at - flats, over + washer, at + flats, over + washer + nut), d.BOLTS, "paper")
            if bolts.foot == "hook":
                inward = 1 if at < middle else -1
                yield d.Polyline(((at, foot), (at + inward * 6 * r, foot)), d.BOLTS)
            else:
                wide = (2.5 if bolts.foot == "plate" else 1.0) * flats
                yield d.Polygon(d.rectangle(at - wide, foot - nut, at + wide, foot), d.BOLTS, "paper")
        if isinstance(thing, Post):
            yield from self._stub(thing, over)

    def _stub(self, post: Post, foot: float) -> Iterator[d.Entity]:
        middle, half, wall = (
            self.along(post.frame.x, post.frame.y),
            float(post.section.depth) / 2,
            float(post.section.wall),
        )
        end = min(foot + _STUB, float(post.top_z))
        for left, right in ((middle - half, middle - half + wall), (middle + half - wall, middle + half)):
            yield d.Polygon(d.rectangle(left, foot, right, end), d.STEEL, "tone")
        yield d.BreakLine((middle - half, end), (middle + half, end))

    def _cast_in(self) -> Iterator[d.Entity]:
        """Posts that stand in the concrete itself."""
        for post in self.board.work.posts.values():
            if post.on == self.base.name and post.plate is None:
                yield from self._stub(post, float(post.foot_z))

    # ---- dimensions ----

    def _sizes(self, scale: d.Scale) -> Iterator[d.Entity]:
        say = self.board.say
        left, bottom, right, top = self.edge
        stations = sorted({round(s, 6) for span in self.spans.values() for s in span})
        below = [d.Chain(tuple(stations))]
        if len(stations) > 2:
            below.append(d.Chain((left, right)))
        yield from d.stack(scale, self.edge, "below", below, say)
        heights = sorted({float(z) for body in self.base.bodies for z in (body.bottom, body.top)})
        chains = [d.Chain(tuple(heights)), d.Chain((heights[0], heights[-1]))][: len(heights) - 1]
        ties = self._tie_chain()
        start, end = self.spans[self.shaft.name]
        room = (start - left) * scale.mm
        if ties is not None and room > 30:  # beside the shaft, above its pad
            yield from d.stack(scale, (start, bottom, end, top), "left", [ties], say)
        elif ties is not None:
            chains = [ties, *chains]
        yield from d.stack(scale, (self.window[0], bottom, right, top), "left", chains, say)
        for at, foot, tip in sorted(self._bolts())[-1:]:
            bolt = d.Chain(((at, foot), (at, float(self.base.top)), (at, tip)))
            yield from d.stack(scale, (start, bottom, end, top), "right", [bolt], say)

    def _tie_chain(self) -> d.Chain | None:
        heights = {float(z[0]) for bar in self.base.bars if bar.role == "tie" for z in bar.z}
        if not heights:
            return None
        return evenly([*heights, float(self.shaft.top), float(self.shaft.bottom)], self.board.say)

    def levels(self) -> list[tuple[float, str]]:
        """Above the bench mark; where it stands for others at other levels, above its own top."""
        board, right = self.board, self.window[1]
        told = [(float(self.base.top), "top"), (self.ground(right), "ground")]
        told += [(float(body.bottom), "underside" if body is self.base.foot else "joint") for body in self.base.bodies]
        if float(board.work.frost) > SAME:
            told.append((self.ground(right) - float(board.work.frost), "frost"))
        if (
            len({even(base.top) for base in self.alike})
            == 1
            == len({even(_ground(board, base)) for base in self.alike})
        ):
            return [(z, f"{board.say_level(z, board.bench)} {name}") for z, name in told]
        top = float(self.base.top)
        own = f" of {self.base.name}"
        return [(z, f"{board.say_up(z - top)} {name}{own if name in ('ground', 'frost') else ''}") for z, name in told]

    def notes(self) -> list[tuple[d.Point, str]]:
        """Bars by their marks, each told at its right end."""
        told = []
        for bar in self.base.bars:
            lines = list(self._lines(bar))
            right = max(max(line) for line in lines)
            if bar.role == "tie":
                right = max(line[1] for line in lines)
            elif bar.role == "up":
                upper = max(lines, key=lambda line: line[-1])
                right = (upper[-1][0], upper[-1][1] * 0.55 + upper[0][1] * 0.45)
            told.append((right, f"{bar.mark}: {bar.count} {bar.size.name}{_ROLES.get(bar.role, '')}"))
        return told


_ROLES = {"up": " up", "tie": " ties", "pad along": " along", "pad across": " across"}


def _labelled(cut: Cut, scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
    return labels.settled(scale, drawn, _spoken(cut, scale), free)


def _spoken(cut: Cut, scale: d.Scale) -> Iterator[labels.Label]:
    board, base = cut.board, cut.base
    left, right = cut.spans[cut.shaft.name]
    for thing in cut.things:
        at, foot, end = max(cut._bolts())
        rod = thing.bolts.rod
        yield labels.pointing(scale, (at, (foot + float(base.top)) / 2), f"{len(thing.bolts.x)} bolts\n{rod.name}")
        plate = thing.plate
        half = float(plate.along) / 2
        tip = (
            cut.along(thing.frame.x, thing.frame.y) - half,
            float(base.top) + float(plate.grout) + float(plate.thick),
        )
        words = f"plate {board.say(plate.along)} x {board.say(plate.across)} x {board.say(plate.thick)}"
        yield labels.pointing(scale, tip, f"{thing.name}, {words}\non {board.say(plate.grout)} of grout")
    cover = float(base.cover)
    if isfinite(cover):
        z = float(base.top) * 0.7 + float(cut.shaft.bottom) * 0.3
        yield labels.pointing(scale, (left + cover / 2, z), f"cover {board.say(cover)}")
    pad_cover = float(base.pad_cover) if isinstance(base, Pier) else nan
    if isfinite(pad_cover) and base.foot is not cut.shaft:
        tip = (cut.edge[0] * 0.5 + cut.edge[2] * 0.5, float(base.foot.bottom) + pad_cover / 2)
        yield labels.pointing(scale, tip, f"cover {board.say(pad_cover)}")
    leg, low = float(cut.shaft.outline.top), float(cut.shaft.outline.drop)
    if leg:
        said = board.say(leg) if even(leg) == even(low) else f"{board.say(leg)} in, {board.say(low)} down"
        z = float(cut.shaft.top) - low / 2
        yield (
            *labels.pointing(scale, (left, z), f"chamfer {said}"),
            *labels.pointing(scale, (right, z), f"chamfer {said}"),
        )
    for pipe in board.work.pipes.values():
        ends = [(cut.along(x, y), float(z)) for x, y, z in zip(pipe.x, pipe.y, pipe.z)]
        for x, z in ends:
            if z > float(base.top) and left < x < right:
                yield labels.pointing(scale, (x, float(base.top) + 0.04), f"{pipe.name} {pipe.size.name}")
    for body in base.bodies:
        for hole in body.blockouts:
            x, y, z = (float(v) for v in hole.point(0.0, 0.0, hole.deep / 2))
            tip = (cut.along(*body.frame.out(x, y)), float(body.bottom) + z)
            yield labels.pointing(scale, tip, hole.name)
        told = found.changes(board, body)
        if told:
            start, end = cut.spans[body.name]
            yield labels.pointing(scale, (start, float(body.bottom)), f"{body.name}, found\n" + "\n".join(told))
    if cut.base_missing:
        yield labels.pointing(scale, (left, float(cut.shaft.bottom) + 0.1), f"found missing: {among(cut.base_missing)}")


def _rounded(line: tuple[d.Point, ...]) -> tuple[d.Point, ...]:
    return tuple((round(x, 4), round(z, 4)) for x, z in line)


def _within(line: list[d.Point], left: float, right: float) -> Iterator[tuple[d.Point, d.Point]]:
    """The pieces of a line between two stations."""
    for (x0, z0), (x1, z1) in zip(line, line[1:]):
        if max(x0, x1) < left or min(x0, x1) > right:
            continue
        if x0 == x1:
            yield (x0, z0), (x1, z1)
            continue
        t0, t1 = sorted(((left - x0) / (x1 - x0), (right - x0) / (x1 - x0)))
        a, b = max(t0, 0.0), min(t1, 1.0)
        if a < b:
            yield (x0 + (x1 - x0) * a, z0 + (z1 - z0) * a), (x0 + (x1 - x0) * b, z0 + (z1 - z0) * b)
