"""The template at full size: drill through it, and lay it on the forms the right way round."""

from collections.abc import Iterator

from batterboard.phases.template import Pattern
from batterboard.views import drawing as d
from batterboard.views.drawings.board import Board


def templates(board: Board) -> Iterator[tuple[d.Sheet, ...]]:
    """The pages of each plate's template."""
    for pattern in board.plan.template.patterns:
        yield d.full_size(board.sheet(f"Template, {pattern.name} on {pattern.on}"), tuple(_full(board, pattern)))


def _full(board: Board, pattern: Pattern) -> Iterator[d.Entity]:
    a, c = float(pattern.along) / 2, float(pattern.across) / 2
    yield d.Polygon(d.rectangle(-a, -c, a, c), d.CUT)
    yield d.CentreLine((-a, 0.0), (a, 0.0))
    yield d.CentreLine((0.0, -c), (0.0, c))
    cross = float(pattern.hole) * 0.8
    for point in pattern.points:
        x, y = float(point.x), float(point.y)
        yield d.Circle((x, y), float(pattern.hole) / 2, d.DRILL)
        yield d.CentreLine((x - cross, y), (x + cross, y), 0.0)
        yield d.CentreLine((x, y - cross), (x, y + cross), 0.0)
        yield d.Text((x + cross * 0.7, y + cross * 0.7), str(point.number), 5.0, "left bottom", bold=True)
    yield d.Text((0.0, c / 3), "\n".join(pattern.marks), 3.5, "middle middle")
    edge = (-a, -c, a, c)
    yield from d.running(d.FULL_SIZE, edge, "below", -a, [*sorted({float(p.x) for p in pattern.points}), a], board.say)
    yield from d.running(d.FULL_SIZE, edge, "left", -c, [*sorted({float(p.y) for p in pattern.points}), c], board.say)
