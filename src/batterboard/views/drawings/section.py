"""Sections through what carries: cut along its own axis, with steel, bolts, pipes, covers and levels."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from batterboard.views import drawing as d
from batterboard.views.drawings import shapes
from batterboard.views.drawings.board import Board, alike, among, even
from batterboard.work.records import Pier, Slab

Base = Pier | Slab


def sections(board: Board) -> Iterator[d.Sheet]:
    for group in alike(board.work.bases.values(), lambda base: _look(board, base)):
        yield _sheet(board, group)


def _look(board: Board, base: Base) -> tuple[object, ...]:
    ground = even(board.work.ground.level(base.frame.x, base.frame.y))
    sizes = []
    for body in base.bodies:
        along, across = base.frame.into(body.frame.x, body.frame.y)
        o = body.outline
        sizes += [o.kind, o.sides, *(even(v) for v in (along, across, o.along, o.across, o.corners, o.top))]
        sizes += [even(body.bottom), even(body.top), even(body.over)]
    bars = [(bar.role, bar.size.name, bar.count, tuple(even(leg) for leg in bar.legs)) for bar in base.bars]
    return (ground, *sizes, *bars)


def _sheet(board: Board, bases: tuple[Base, ...]) -> d.Sheet:
    names = among(base.name for base in bases)
    blank = board.sheet(f"Section, {names}")
    cut = _Cut(board, bases[0])
    view = board.fit(f"SECTION, {names.upper()}", cut.draw, cut.size, d.area(blank))
    return replace(blank, views=(view,))


@dataclass(frozen=True)
class _Cut:
    board: Board
    base: Base

    @property
    def size(self) -> tuple[float, float]:
        foot = self.base.foot
        return float(foot.outline.along), float(self.base.top) - float(foot.bottom)

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        base, say = self.base, self.board.say
        out: list[d.Entity] = []
        stations = []
        for body in base.bodies:
            middle, _ = base.frame.into(body.frame.x, body.frame.y)
            half = float(body.outline.along) / 2
            left, right = float(middle) - half, float(middle) + half
            stations += [left, right]
            out.append(d.Polygon(shapes.side(left, right, body), d.CONCRETE, "tone", "concrete"))
        for bar in base.bars:
            for x, z in zip(bar.x, bar.z):
                points = tuple((float(a), float(b)) for a, b in zip(x, z))
                out.append(d.Polyline(points, d.BARS))
        ground = float(self.board.work.ground.level(base.frame.x, base.frame.y))
        edge = (min(stations), float(base.foot.bottom), max(stations), float(base.top))
        wide = 0.3
        out.append(d.GroundLine(((edge[0] - wide, ground), (edge[2] + wide, ground))))
        levels = sorted({float(v) for body in base.bodies for v in (body.bottom, body.top)})
        out += d.stack(scale, edge, "below", [d.Chain(tuple(sorted(set(stations)))), d.Chain((edge[0], edge[2]))], say)
        out += d.stack(
            scale, (edge[0] - wide, *edge[1:]), "left", [d.Chain((*levels,)), d.Chain((levels[0], levels[-1]))], say
        )
        told = [(z, self.board.say_level(z, self.board.bench)) for z in (*levels, ground)]
        out += d.beside(scale, edge[2] + wide, (), told)
        return tuple(out)
