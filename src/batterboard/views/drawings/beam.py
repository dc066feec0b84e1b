"""A tie beam: along its length with the spacing of its ties, and across, looking ahead.

Points are metres: along the beam from its middle, or across it (its left on the left), and up from the job's zero.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from math import isfinite

from batterboard.views import drawing as d
from batterboard.views.drawings import found, labels, shapes
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.spacing import evenly
from batterboard.work.records import Bar, Beam

_INTO = 0.3  # of a pier that is shown at each end [m]


def beams(board: Board) -> Iterator[d.Sheet]:
    for beam in board.work.beams.values():
        blank = board.sheet(f"Section, {beam.name}")
        upper, lower = d.down(d.area(blank), 1.0, 1.35)
        long, cross = _Long(board, beam), _Cross(board, beam)
        yield replace(
            blank,
            views=(
                board.fit("ALONG", long.draw, long.size, upper, partial(_along_labelled, long)),
                board.fit("ACROSS, LOOKING AHEAD", cross.draw, cross.size, lower, partial(_across_labelled, cross)),
            ),
        )


@dataclass(frozen=True)
class _Long:
    board: Board
    beam: Beam

    @property
    def half(self) -> float:
        return float(self.beam.body.outline.along) / 2

    @property
    def edge(self) -> d.Box:
        return -self.half, float(self.beam.body.bottom), self.half, float(self.beam.body.top)

    @property
    def size(self) -> tuple[float, float]:
        return 2 * (self.half + _INTO), float(self.beam.body.height)

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        left, bottom, right, top = self.edge
        out: list[d.Entity] = [d.Polygon(d.rectangle(*self.edge), d.CONCRETE, "tone", "concrete")]
        for end, way in ((left, -1), (right, 1)):
            for z in (bottom, top):
                out.append(d.Line((end, z), (end + way * _INTO, z), d.HIDDEN))
        for bar in self.beam.bars:
            out += self._bar(bar)
        out += shapes.seen_through(self.beam.body, lambda x, y, z: (float(x), float(z)))
        ties = [float(x[0]) for bar in self.beam.bars if bar.role == "tie" for x in bar.x]
        chains = [evenly([left, *ties, right], self.board.say)] if ties else []
        out += d.stack(scale, self.edge, "below", [*chains, d.Chain((left, right))], self.board.say)
        bench = self.board.bench
        told = [(z, f"{self.board.say_level(z, bench)} {name}") for z, name in ((top, "top"), (bottom, "underside"))]
        out += d.beside(scale, right + _INTO, (), told)
        return tuple(out)

    def _bar(self, bar: Bar) -> Iterator[d.Entity]:
        lines = []
        for xs, zs in zip(bar.x, bar.z):
            points = [(round(float(x), 4), round(float(z), 4)) for x, z in zip(xs, zs)]
            if bar.role == "tie":
                points = [min(points, key=lambda p: p[1]), max(points, key=lambda p: p[1])]
            lines.append(tuple(points))
        yield from (d.Polyline(line, d.BARS) for line in dict.fromkeys(lines))


def _along_labelled(long: _Long, scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
    return labels.settled(scale, drawn, _along_notes(long, scale), free)


def _along_notes(long: _Long, scale: d.Scale) -> Iterator[labels.Label]:
    left, bottom, right, top = long.edge
    for name, end, way in zip(long.beam.between, (left, right), (-1, 1)):
        middle = (end + way * _INTO / 2, (bottom + top) / 2)
        yield (d.Text(middle, name, anchor="middle middle"), *labels.near(scale, (end, top), name))
    for bar in long.beam.bars:
        if bar.role == "tie":
            at = (float(bar.x[bar.count // 3][0]), top - 0.25 * (top - bottom))
        else:
            at = (long.half * 0.4, float(bar.z[0][1]))
        yield labels.pointing(
            scale, at, f"{bar.mark}: {bar.count} {bar.size.name}{' ties' if bar.role == 'tie' else ''}"
        )
    for hole in long.beam.body.blockouts:
        x, _, z = hole.point(0.0, 0.0, hole.deep / 2)
        yield labels.pointing(scale, (float(x), bottom + float(z)), hole.name)
    told = found.changes(long.board, long.beam.body)
    if told:
        yield labels.pointing(scale, (left * 0.5, top), "found " + ",\n".join(told))


@dataclass(frozen=True)
class _Cross:
    board: Board
    beam: Beam

    @property
    def edge(self) -> d.Box:
        half = float(self.beam.body.outline.across) / 2
        return -half, float(self.beam.body.bottom), half, float(self.beam.body.top)

    @property
    def size(self) -> tuple[float, float]:
        left, bottom, right, top = self.edge
        return right - left, max(top, self.ground) - min(bottom, self.ground)

    @property
    def ground(self) -> float:
        return float(self.board.work.ground.level(self.beam.frame.x, self.beam.frame.y))

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        left, bottom, right, top = self.edge
        beside = 0.6 * (right - left)
        out: list[d.Entity] = [
            d.GroundLine(((left - beside, self.ground), (right + beside, self.ground))),
            d.Polygon(d.rectangle(*self.edge), d.CONCRETE, "tone", "concrete"),
        ]
        meant = found.meant(self.board, self.beam.body)
        if meant is not None:
            _, aside = self.beam.frame.into(meant.frame.x, meant.frame.y)
            half = float(meant.outline.across) / 2
            out.append(
                d.Polygon(
                    d.rectangle(-float(aside) - half, float(meant.bottom), -float(aside) + half, float(meant.top)),
                    d.PLANNED,
                )
            )
        for bar in self.beam.bars:
            if bar.role == "tie":
                out.append(d.Polyline(tuple((-float(y), float(z)) for y, z in zip(bar.y[0], bar.z[0])), d.BARS))
            else:
                out += [d.BarEnd(at, float(bar.size.diameter) / 2, d.BARS) for at in self._ends(bar)]
        for _, at, r in self.pipes():
            out.append(d.Circle(at, r, d.PIPES, "paper"))
        out += d.stack(scale, self.edge, "below", [d.Chain((left, right))], self.board.say)
        out += d.stack(scale, (left - beside, bottom, right, top), "left", [d.Chain((bottom, top))], self.board.say)
        notes = [(max(self._ends(bar)), f"{bar.mark}: {bar.count} {bar.size.name}") for bar in self._long_bars()]
        told = f"{self.board.say_level(self.ground, self.board.bench)} ground"
        out += d.beside(scale, right + beside, notes, [(self.ground, told)])
        return tuple(out)

    def _long_bars(self) -> list[Bar]:
        return [bar for bar in self.beam.bars if bar.role != "tie"]

    def _ends(self, bar: Bar) -> list[d.Point]:
        """Where its bars cross the middle."""
        return [(-float(ys[1]), float(zs[1])) for ys, zs in zip(bar.y, bar.z)]

    def pipes(self) -> Iterator[tuple[str, d.Point, float]]:
        for pipe in self.board.work.pipes.values():
            if self.beam.name not in pipe.through:
                continue
            own = [self.beam.frame.into(x, y) for x, y in zip(pipe.x, pipe.y)]
            for (a, b), (c, _), z in zip(own, own[1:], pipe.z):
                if min(float(a), float(c)) < 0 < max(float(a), float(c)):
                    yield f"{pipe.name} {pipe.size.name}", (-float(b), float(z)), float(pipe.size.outside) / 2


def _across_labelled(cross: _Cross, scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
    return labels.settled(scale, drawn, _across_notes(cross, scale), free)


def _across_notes(cross: _Cross, scale: d.Scale) -> Iterator[labels.Label]:
    left, bottom, right, top = cross.edge
    cover = float(cross.beam.cover)
    if isfinite(cover):
        yield labels.pointing(
            scale, (left + cover / 2, bottom + 0.4 * (top - bottom)), f"cover {cross.board.say(cover)}"
        )
    for name, at, _ in cross.pipes():
        yield labels.pointing(scale, at, name)
    ties = [bar for bar in cross.beam.bars if bar.role == "tie"]
    for bar in ties:
        edge = max(-float(y) for y in bar.y[0])
        yield labels.pointing(
            scale, (edge, bottom + 0.6 * (top - bottom)), f"{bar.mark}: {bar.count} {bar.size.name} ties"
        )
    told = found.changes(cross.board, cross.beam.body)
    if told:
        yield labels.pointing(scale, (right, top), "found " + ",\n".join(told))
