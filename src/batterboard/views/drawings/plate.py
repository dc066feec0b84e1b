"""The plate for the cutter: its outline and its holes at full size, on one layer to cut and one to drill, nothing else.

    cutter(board) : ("plate hinge on west inch", sheet), ("plate hinge on west as found inch", sheet)

One part a file, every outline closed, the unit in the file and in its name. Where bolts were found off their places the
plate comes once more as they stand, as large as its holes' edges need. Holes that the shop cuts stand with the outline.
"""

from collections.abc import Iterator

from batterboard.phases.template import Pattern
from batterboard.views import drawing as d
from batterboard.views.drawings.board import Board, alike, even

_UNIT = {"us": "inch", "si": "mm"}
_OFF = 1e-4  # what stands off by less is drilled as planned [m]


def cutter(board: Board) -> Iterator[tuple[str, d.Sheet]]:
    """Each plate under the name of its file; plates that are cut alike share one."""
    for patterns in alike(board.plan.template.patterns, _look):
        first = patterns[0]
        names = ", ".join(f"{pattern.name} on {pattern.on}" for pattern in patterns)
        places = [(float(p.x), float(p.y)) for p in first.points]
        yield _part(board, f"plate {names}", first, float(first.along), float(first.across), places)
    by_name = {pattern.name: pattern for pattern in board.plan.template.patterns}
    for seat in board.plan.template.seats:
        if any(rod.off > _OFF or rod.way for rod in seat.rods):
            new = seat.remade
            places = [(spot.x, spot.y) for spot in new.spots]
            pattern = by_name[seat.name]
            name = f"plate {seat.name} on {pattern.on} as found"
            yield _part(board, name, pattern, new.along, new.across, places)


def _look(pattern: Pattern) -> tuple[object, ...]:
    places = [(even(p.x), even(p.y)) for p in pattern.points]
    return (*places, *(even(v) for v in (pattern.along, pattern.across, pattern.thick, pattern.hole)), pattern.holes)


def _part(
    board: Board, name: str, pattern: Pattern, along: float, across: float, places: list[d.Point]
) -> tuple[str, d.Sheet]:
    layer = d.DRILL if pattern.holes == "drilled" else d.CUT
    entities: tuple[d.Entity, ...] = (
        d.Polygon(d.rectangle(-along / 2, -across / 2, along / 2, across / 2), d.CUT),
        *(d.Circle(at, float(pattern.hole) / 2, layer) for at in places),
    )
    sheet = board.sheet(name)
    view = d.View("", d.FULL_SIZE, (0.0, 0.0), entities)
    return f"{name} {_UNIT[board.system]}", d.Sheet(
        name=sheet.name, job=sheet.job, job_hash=sheet.job_hash, system=sheet.system, views=(view,)
    )
