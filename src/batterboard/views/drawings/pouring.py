"""What is filled in which lift, and where the vibrator goes in.

    pours(board)                    a sheet for each group of bases seen together: its lifts, and insertions from above
    sketch(board, bases, (90, 60))  the lifts alone, for the pour page

Stations are metres along the direction one looks square to, heights are the job's own. Insertions stand in the own
axes of their block.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from batterboard.phases.pour.vibration import Insertions, in_the_way
from batterboard.views import drawing as d
from batterboard.views.drawing.lettering import width
from batterboard.views.drawings import shapes
from batterboard.views.drawings.board import Board, alike, even
from batterboard.views.drawings.elevation import Base, face_turn, faces
from batterboard.views.tables.pouring import clock
from batterboard.work.names import among
from batterboard.work.records import Body

LETTER = 3.6  # height of capitals that are 14 points [mm]
LEGEND = "Circles: where the vibrator goes in, in each layer"
_LEGEND = 6.0  # room for the words over them [mm]
_PLANS = 4  # blocks whose insertions one sheet shows
_SEEN = 5  # bases of a row that the pour page shows
_TONES = (("tone", ""), ("", "concrete"))


def pours(board: Board) -> Iterator[d.Sheet]:
    """Sheets of what is still to be cast."""
    for bases in faces(board):
        bodies = _bodies(board, bases)
        if not bodies:
            continue
        blank = board.sheet(f"Pour, {among(base.name for base in bases)}")
        more = f"The first {_SEEN} of {len(bases)} in the row" if len(bases) > _SEEN else ""
        if more:  # a long row would be too small to read
            bases = bases[:_SEEN]
            bodies = _bodies(board, bases)
        shown = _plans(board, bodies)
        room, plans = _parted(d.area(blank), _spread(bases, bodies)) if shown else (d.area(blank), None)
        views = [d.fit("LIFTS", partial(_lifts, board, bases, bodies), room, board.system)]
        left, _, right, top = d.area(blank)
        marks: tuple[d.Entity, ...] = (d.Text(((left + right) / 2, top - 1), more, 3.5, "middle top"),) if more else ()
        if plans is not None:
            marks += (d.Text((plans[0] + 2, plans[3] - 1), LEGEND, 3.5, "left top"),)
            longest = max(float(body.outline.along) for body, _ in shown)
            shares = (max(float(body.outline.along), longest * 0.8) for body, _ in shown)
            rooms = d.across((*plans[:3], plans[3] - _LEGEND), *shares)
            for (body, block), place in zip(shown, rooms):
                views.append(d.fit(body.name.upper(), partial(_insertions, board, body, block), place, board.system))
        yield replace(blank, views=tuple(views), marks=marks)


def _parted(room: d.Box, wide: bool) -> tuple[d.Box, d.Box]:
    """Room for the lifts and for the plans: one above the other, or beside each other where the lifts are tall."""
    lifts, plans = d.down(room, 1, 1.2) if wide else d.across(room, 1, 1.5)
    return lifts, plans


def _spread(bases: tuple[Base, ...], bodies: list[Body]) -> bool:
    """Whether what is seen is wider than it is high."""
    spans = [shapes.spans(body, face_turn(bases)) for body in bodies]
    wide = max(right for _, right in spans) - min(left for left, _ in spans)
    high = max(float(body.top) for body in bodies) - min(float(body.bottom) for body in bodies)
    return wide > 1.5 * high


def sketch(board: Board, size: tuple[float, float]) -> d.Sheet | None:
    """The lifts of the first group of bases, without a frame and cut to what is drawn; None where nothing is left."""
    groups = [(bases, bodies) for bases in faces(board) if (bodies := _bodies(board, bases))]
    if not groups:
        return None
    more = f"one of {len(groups)} that stand apart; the others: sheets Pour" if len(groups) > 1 else ""
    bases, bodies = groups[0]
    if len(bases) > _SEEN:  # a long row would be too small to read
        more = f"the first {_SEEN} of {len(bases)} in the row; all of them: sheet Pour"
        bases = bases[:_SEEN]
        bodies = _bodies(board, bases)
    blank = replace(board.sheet("Lifts", landscape=False), paper=d.Paper("sketch", *size), framed=False)
    view = d.fit("", partial(_lifts, board, bases, bodies), (1.0, 1.0, size[0] - 1.0, size[1] - 1.0), board.system)
    left, bottom, right, top = d.extent(view, board.system)
    under = 2 * LETTER if more else 0.0
    wide = max(right - left, width(more, LETTER)) + 2.0
    view = replace(view, at=(view.at[0] - left + (wide - right + left) / 2, view.at[1] - bottom + 1.0 + under))
    told = (d.Text((wide / 2, 1.5), more, LETTER, "middle bottom"),) if more else ()
    return replace(blank, paper=d.Paper("sketch", wide, top - bottom + 2.0 + under), views=(view,), marks=told)


def _bodies(board: Board, bases: tuple[Base, ...]) -> list[Body]:
    """What is still to be cast of some bases and the beams between them."""
    names = {base.name for base in bases}
    names |= {beam.name for beam in board.work.beams.values() if names & set(beam.between)}
    return [body for body in board.work.bodies if body.element in names and not body.cast]


# ---- lifts ----


def _lifts(board: Board, bases: tuple[Base, ...], bodies: list[Body], scale: d.Scale) -> tuple[d.Entity, ...]:
    turn = face_turn(bases)
    number = {body.name: lift.number for lift in board.work.lifts for body in lift.bodies}
    out: list[d.Entity] = []
    for body in sorted(bodies, key=lambda body: (body.part == "pier", float(body.bottom))):
        left, right = shapes.spans(body, turn)
        fill, hatch = _TONES[(number[body.name] - 1) % len(_TONES)]
        out.append(d.Polygon(shapes.side(left, right, body), d.CONCRETE, fill or "paper", hatch))
    narrow: set[int] = set()
    for body in bodies:
        left, right = shapes.spans(body, turn)
        middle = (left + right) / 2, (float(body.bottom) + float(body.top)) / 2
        begins = clock(board.plan, board.plan.hour.placing(number[body.name]).starts)
        told = f"{number[body.name]}  {begins}"
        if (right - left) * scale.mm < width(told, LETTER * 1.3) + 2:
            told = f"{number[body.name]}"
        if (right - left) * scale.mm < width(told, LETTER * 1.3) and number[body.name] in narrow:
            continue  # of many thin ones the first is told
        narrow.add(number[body.name])
        out.append(d.Text(middle, told, LETTER * 1.3, "middle middle", bold=True))
    short = board.plan.trouble.short
    for body in bodies:
        if short is not None and body.name in short.names and float(short.joint) < float(body.height) - 1e-3:
            left, right = shapes.spans(body, turn)
            z = float(body.top) - float(short.joint)
            out.append(d.Line((left, z), (right, z), d.HIDDEN))
    return tuple(out)


# ---- the vibrator ----


def _plans(board: Board, bodies: list[Body]) -> list[tuple[Body, Insertions]]:
    """One block of each look, the first few."""
    blocks = {block.name: block for block in board.plan.vibration.blocks}
    groups = alike((body for body in bodies if body.name in blocks), lambda body: _look(body, blocks[body.name]))
    return [(group[0], blocks[group[0].name]) for group in groups][:_PLANS]


def _look(body: Body, block: Insertions) -> tuple[object, ...]:
    o = body.outline
    return o.kind, even(o.along), even(o.across), block.insertions, block.layers


def _insertions(board: Board, body: Body, block: Insertions, scale: d.Scale) -> tuple[d.Entity, ...]:
    """Outline, steel on the way down, and the places of the head, as wide as it is."""
    head = float(board.plan.vibration.head.width)
    out: list[d.Entity] = [d.Polygon(shapes.corners(body.outline), d.CONCRETE, "tone")]
    half = float(body.outline.along) / 2, float(body.outline.across) / 2
    for *ends, r in in_the_way(board.work, body):
        kept = _inside((ends[0], ends[1]), (ends[2], ends[3]), half)
        if kept is None:
            continue
        (x0, y0), (x1, y1) = kept
        if abs(x1 - x0) + abs(y1 - y0) < 1e-6:
            out.append(d.BarEnd((x0, y0), r, d.BARS))
        else:
            out.append(d.Line((x0, y0), (x1, y1), d.BARS))
    out += [d.Circle((float(x), float(y)), head / 2, d.CHECK, "paper") for x, y in zip(block.x, block.y)]
    return tuple(out)


def _inside(a: d.Point, b: d.Point, half: d.Point) -> tuple[d.Point, d.Point] | None:
    """The part of a line between the sides of a block; what leaves it towards the next one is not shown."""
    start, end = 0.0, 1.0
    for i in (0, 1):
        step = b[i] - a[i]
        if abs(step) < 1e-9:
            if abs(a[i]) > half[i] + 1e-9:
                return None
            continue
        near, far = sorted(((-half[i] - a[i]) / step, (half[i] - a[i]) / step))
        start, end = max(start, near), min(end, far)
    if start > end:
        return None
    x, y = b[0] - a[0], b[1] - a[1]
    return (a[0] + start * x, a[1] + start * y), (a[0] + end * x, a[1] + end * y)
