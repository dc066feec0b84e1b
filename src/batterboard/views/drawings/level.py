"""What is seen when a base is cut level: the cage with its bolts, and the mat in the pad.

Points are metres in the base's own axes: ahead to the right, left upward.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any

from batterboard.views import drawing as d
from batterboard.views.drawings import labels, shapes
from batterboard.views.drawings.board import TAPE, Board, alike
from batterboard.views.drawings.spacing import evenly
from batterboard.work.names import among
from batterboard.work.records import Bar, Body, Machine, Pier, Post, Slab

Base = Pier | Slab


def level_views(board: Board, base: Base, room: d.Box) -> tuple[d.View, ...]:
    """The cage and the mat side by side, as far as there are both."""
    cuts: list[_Level] = []
    things: list[Post | Machine] = [*board.work.posts.values(), *board.work.machines.values()]
    bolted = any(thing.on == base.name for thing in things)
    if isinstance(base, Pier) and (base.bars or bolted):
        cuts.append(_Level(board, base, base.shaft, "CAGE, CUT LEVEL", ("up", "tie")))
    if any(bar.role.startswith("pad") for bar in base.bars):
        cuts.append(_Level(board, base, base.foot, "MAT, FROM ABOVE", ("pad along", "pad across")))
    if not cuts and bolted:
        cuts.append(_Level(board, base, base.foot, "FROM ABOVE", ()))
    if not cuts:
        return ()
    rooms = d.across(room, *(1.0 for _ in cuts), gap=8.0)
    return tuple(
        board.fit(cut.name, cut.draw, cut.size, part, partial(_labelled, cut)) for cut, part in zip(cuts, rooms)
    )


@dataclass(frozen=True)
class _Level:
    board: Board
    base: Base
    body: Body
    name: str
    roles: tuple[str, ...]

    @cached_property
    def bars(self) -> list[Bar]:
        return [bar for bar in self.base.bars if bar.role in self.roles]

    @cached_property
    def outline(self) -> tuple[d.Point, ...]:
        x, y = self.base.frame.into(self.body.frame.x, self.body.frame.y)
        return tuple((float(x) + a, float(y) + b) for a, b in shapes.corners(self.body.outline))

    @cached_property
    def edge(self) -> d.Box:
        xs, ys = [x for x, _ in self.outline], [y for _, y in self.outline]
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def size(self) -> tuple[float, float]:
        left, bottom, right, top = self.edge
        return right - left, top - bottom

    @property
    def bolted(self) -> bool:
        """Bolts are shown where they go through this cut."""
        return self.body is self.base.bodies[-1]

    @cached_property
    def things(self) -> list[Any]:
        things: list[Post | Machine] = [*self.board.work.posts.values(), *self.board.work.machines.values()]
        return [thing for thing in things if thing.on == self.base.name and thing.bolts is not None]

    def bolts(self) -> Iterator[tuple[int, d.Point, d.Point, float]]:
        """Number, place as found and as planned, radius."""
        for thing in self.things:
            b = thing.bolts
            for i in range(len(b.x)):
                here = self._own(*b.frame.out(b.found_x[i], b.found_y[i]))
                meant = self._own(*b.frame.out(b.x[i], b.y[i]))
                yield i + 1, here, meant, float(b.rod.diameter) / 2

    def _own(self, x: Any, y: Any) -> d.Point:
        along, across = self.base.frame.into(x, y)
        return float(along), float(across)

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        out: list[d.Entity] = [self._concrete(self.body, d.CONCRETE)]
        if not self.bolted:
            out += [self._concrete(body, d.HIDDEN) for body in self.base.bodies if body is not self.body]
        for bar in self.bars:
            out += self._bar(bar)
        if self.bolted:
            out += self._bolted()
        left, bottom, right, top = self.edge
        middle = ((left + right) / 2, (bottom + top) / 2)
        out += [
            d.CentreLine((left, middle[1]), (right, middle[1])),
            d.CentreLine((middle[0], bottom), (middle[0], top)),
        ]
        return (*out, *self._sizes(scale))

    def _concrete(self, body: Body, layer: d.Layer) -> d.Entity:
        x, y = self.base.frame.into(body.frame.x, body.frame.y)
        fill = "tone" if layer is d.CONCRETE else ""
        if body.outline.kind == "round":
            return d.Circle((float(x), float(y)), float(body.outline.along) / 2, layer, fill)
        return d.Polygon(tuple((float(x) + a, float(y) + b) for a, b in shapes.corners(body.outline)), layer, fill)

    def _bar(self, bar: Bar) -> Iterator[d.Entity]:
        if bar.shape == "hoop":
            x, y = float(bar.x[0][0]), float(bar.y[0][0])
            yield d.Circle((0.0, 0.0), shapes.apart((x, y), (0.0, 0.0)), d.BARS)
            return
        for points in self._seen(bar):
            if bar.role == "up":
                yield d.BarEnd(points[-1], float(bar.size.diameter) / 2, d.BARS)
            else:
                yield d.Polyline(points, d.BARS)

    def _seen(self, bar: Bar) -> tuple[tuple[d.Point, ...], ...]:
        """The bars of a mark from above, those that lie under each other once."""
        lines = [tuple((round(float(x), 5), round(float(y), 5)) for x, y in zip(*bars)) for bars in zip(bar.x, bar.y)]
        return tuple(dict.fromkeys(lines))

    def _bolted(self) -> Iterator[d.Entity]:
        for thing in self.things:
            frame, a, c = thing.frame, float(thing.plate.along) / 2, float(thing.plate.across) / 2
            ring = ((a, c), (-a, c), (-a, -c), (a, -c))
            yield d.Polygon(tuple(self._own(*frame.out(*point)) for point in ring), d.HIDDEN)
        for _, here, meant, r in self.bolts():
            if shapes.apart(here, meant) > TAPE:
                yield d.Circle(meant, r, d.PLANNED)
            yield d.Circle(here, r, d.BOLTS, "paper")
            yield d.CentreLine((here[0] - r, here[1]), (here[0] + r, here[1]), 0.6)
            yield d.CentreLine((here[0], here[1] - r), (here[0], here[1] + r), 0.6)
        for pipe in self.board.work.pipes.values():
            if self.base.name in pipe.through:
                for x, y, z in zip(pipe.x, pipe.y, pipe.z):
                    at = self._own(x, y)
                    if float(z) > float(self.base.top) and self._inside(at):
                        yield d.Circle(at, float(pipe.size.outside) / 2, d.PIPES, "paper")

    def _inside(self, at: d.Point) -> bool:
        left, bottom, right, top = self.edge
        return left < at[0] < right and bottom < at[1] < top

    def _sizes(self, scale: d.Scale) -> Iterator[d.Entity]:
        left, bottom, right, top = self.edge
        say = self.board.say
        for side, axis, ends in (("below", 0, (left, right)), ("left", 1, (bottom, top))):
            chains = [chain for chain in (self._spacing(axis, ends), self._bolt_chain(axis, ends)) if chain]
            yield from d.stack(scale, self.edge, side, [*chains, d.Chain(ends)], say)

    def _spacing(self, axis: int, ends: tuple[float, float]) -> d.Chain | None:
        """From face to face over the bars of a mat, as seen at that side."""
        role = ("pad across", "pad along")[axis]
        bars = [bar for bar in self.bars if bar.role == role]
        if not bars:
            return None
        places = [float((bar.x, bar.y)[axis][i][0]) for bar in bars for i in range(bar.count)]
        return evenly([*places, *ends], self.board.say)

    def _bolt_chain(self, axis: int, ends: tuple[float, float]) -> d.Chain | None:
        """From face to face over the bolts where they were meant to stand; what was found is told at each."""
        places = {round(meant[axis], 4) for _, _, meant, _ in self.bolts()} if self.bolted else set()
        return d.Chain((ends[0], *sorted(places), ends[1])) if places else None


def _labelled(cut: _Level, scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
    return labels.settled(scale, drawn, _notes(cut, scale), free)


def _notes(cut: _Level, scale: d.Scale) -> Iterator[labels.Label]:
    say = cut.board.say
    if cut.bolted:
        for number, here, _, _ in cut.bolts():
            yield labels.near(scale, here, str(number), bold=True)
    for bars in alike(cut.bars, cut._seen):
        lines = cut._seen(bars[0])
        if bars[0].role == "tie":
            spot = max(lines[0], key=lambda p: p[1] - p[0])
        elif bars[0].role == "up":
            spot = max((line[-1] for line in lines), key=lambda p: p[0] + p[1])
        else:  # the second from the edge, at its end
            spot = max(sorted(lines)[len(lines) // 2])
        text = f"{among(bar.mark for bar in bars)}: {bars[0].count} {bars[0].size.name}"
        yield labels.pointing(scale, spot, text + (" each" if len(bars) > 1 else ""))
    leg = float(cut.body.outline.corners)
    if leg and cut.body.outline.kind != "round":
        x, y = max(cut.outline, key=lambda p: p[0] - p[1])
        yield labels.pointing(scale, (x, y), f"corners {shapes.legs(cut.body.outline, say)}")
    faces = cut.base.cover_found if cut.bolted and isinstance(cut.base, Pier) else {}
    if faces:
        covers = "\n".join(["cover as found", *(f"{face} {say(cover)}" for face, cover in faces.items())])
        yield labels.pointing(scale, (cut.edge[0], cut.edge[3] - 0.25 * cut.size[1]), covers)
    if cut.bolted:
        for thing in cut.things:
            for number in thing.bolts.found:
                lean = thing.bolts.leans.get(number)
                _, here, meant, _ = next(bolt for bolt in cut.bolts() if bolt[0] == number)
                if shapes.apart(here, meant) > TAPE or lean:
                    told = [f"{number} found {say(shapes.apart(here, meant))} off"]
                    if lean:
                        told.append(f"leans 1 in {1 / float(lean):.0f}")
                    yield labels.pointing(scale, here, "\n".join(told))
