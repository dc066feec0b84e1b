"""Where does each box stand on its panel, or in the top, and what are its boards?

    blockout_sheets(board)    the panels that carry boxes and the tops that they hang in, then the boards of each box

Panels are seen from outside, measured from the lower left corner of their inside; tops from above, from their centre
lines, ahead to the right. Boards lie with the face that looks outwards up, the edge of the other face dashed.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import degrees
from typing import Any, Protocol

from batterboard.phases.forms.pieces import BlockoutPiece, BoxBoard, PanelPiece
from batterboard.quantity import Length, show
from batterboard.views import drawing as d
from batterboard.views.drawing.lettering import wrapped
from batterboard.views.drawings import labels, shapes
from batterboard.views.drawings.board import SAME, Board
from batterboard.work.records import Body

_WORDS = 34.0  # room for what is said under a view [mm]
_ON_A_PAGE = 2
_BETWEEN = 24.0  # boards side by side [mm]


class _View(Protocol):
    @property
    def name(self) -> str: ...
    @property
    def size(self) -> tuple[float, float]: ...
    @property
    def said(self) -> Iterator[str]: ...
    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]: ...
    def named(self, scale: d.Scale) -> Iterator[tuple[d.Point, str]]: ...


def blockout_sheets(board: Board) -> Iterator[d.Sheet]:
    """None of a job without blockouts."""
    if not board.plan.forms.blockouts:
        return
    pieces = board.plan.pieces.blockouts
    places = [*_on_panels(board, pieces), *_in_tops(board, pieces)]
    yield from _pages(board, "Form, blockouts", places, _under)
    boxes = [_Boards(board, piece) for piece in pieces if piece.boards]
    yield from _pages(board, "Form, boxes of blockouts", boxes, _beside)


def _under(area: d.Box, told: Sequence[Sequence[str]]) -> Iterator[tuple[d.Box, d.Point, float]]:
    """Views side by side, what is said under each: its room, where its words begin, and how wide they may be."""
    for left, bottom, right, top in d.across(area, *(1.0 for _ in told), gap=6.0):
        foot = bottom + _WORDS
        yield (left, foot, right, top), (left + 2, foot - 2), right - left - 4


def _beside(area: d.Box, told: Sequence[Sequence[str]]) -> Iterator[tuple[d.Box, d.Point, float]]:
    """Views over each other, what is said to the right of each."""
    for row in d.down(area, *(1.0 for _ in told), gap=6.0):
        view, (left, _, right, top) = d.across(row, 2.0, 1.0, gap=4.0)
        yield view, (left, top - 2), right - left


def _pages(board: Board, name: str, every: Sequence[_View], rooms: Any) -> Iterator[d.Sheet]:
    pages = [every[i : i + _ON_A_PAGE] for i in range(0, len(every), _ON_A_PAGE)]
    for number, shown in enumerate(pages, 1):
        blank = board.sheet(name if len(pages) == 1 else f"{name} {number}")
        told = [tuple(one.said) for one in shown]
        views, notes = [], []
        for one, words, (room, at, wide) in zip(shown, told, rooms(d.area(blank), told), strict=True):
            views.append(board.fit(one.name.upper(), one.draw, one.size, room, partial(_labelled, one)))
            lines = [line for text in words for line in wrapped(text, 2.5, wide)]
            notes.append(d.Text(at, "\n".join(lines), anchor="left top"))
        yield replace(blank, views=tuple(views), marks=tuple(notes))


def _labelled(view: _View, scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
    names = (labels.pointing(scale, point, text) for point, text in view.named(scale))
    return labels.settled(scale, drawn, names, free)


def _on_panels(board: Board, pieces: Sequence[BlockoutPiece]) -> Iterator[_View]:
    for form in board.plan.pieces.forms:
        for panel in form.panels:
            here = tuple(piece for piece in pieces if any(on.panel == panel.mark for on in piece.on))
            if here:
                yield _Panel(board, panel, here)


def _in_tops(board: Board, pieces: Sequence[BlockoutPiece]) -> Iterator[_View]:
    by_name = {piece.name: piece for piece in pieces}
    for body in board.work.bodies:
        hung = tuple(by_name[hole.name] for hole in body.blockouts if hole.side == "top")
        if hung:
            yield _Top(board, body, hung)


def _held(board: Board, piece: BlockoutPiece) -> Iterator[str]:
    fixed = next(one for one in board.plan.forms.blockouts if one.name == piece.name)
    if piece.side != "top":
        yield f"{piece.name}: {piece.nails} nails 6d from outside, heads left proud; {piece.comes_off}."
        return
    size = fixed.batten.name if fixed.batten is not None else ""
    ends = f"{float(fixed.end_nails):.0f} nails 16d at each end" if piece.form else f"{float(fixed.stakes):.0f} stakes"
    yield f"{piece.name}: hangs from 2 battens {size} on edge by {piece.nails} nails 16d; {ends}; {piece.comes_off}."


@dataclass(frozen=True)
class _Panel:
    """A panel and the boxes on it."""

    board: Board
    panel: PanelPiece
    pieces: tuple[BlockoutPiece, ...]

    @property
    def name(self) -> str:
        return self.panel.mark

    @property
    def edge(self) -> d.Box:
        us, vs = zip(*self.panel.outside, strict=True)
        return min(us), min(vs), max(us), max(vs)

    @property
    def size(self) -> tuple[float, float]:
        left, bottom, right, top = self.edge
        return right - left, top - bottom

    @property
    def said(self) -> Iterator[str]:
        yield f"Seen from outside, {self.panel.side}; from the lower left corner of the inside."
        for piece in self.pieces:
            yield from _held(self.board, piece)

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        drawn: list[d.Entity] = [d.Polygon(self.panel.outside, d.TIMBER, "tone")]
        us, vs = {0.0}, {0.0}
        for hole in self.panel.openings:
            drawn.append(d.Polygon(hole.outline, d.CUT, "paper"))
        for piece in self.pieces:
            for on in piece.on:
                if on.panel == self.panel.mark:
                    drawn.append(d.Polygon(on.outline, d.CUT, "paper"))
                    for marks, axis in ((us, 0), (vs, 1)):
                        stations = (min(point[axis] for point in on.outline), max(point[axis] for point in on.outline))
                        marks.update(s for s in stations if all(abs(s - other) > SAME for other in marks))
        say = self.board.say
        drawn += d.running(scale, self.edge, "below", 0.0, sorted(us - {0.0}), say)
        drawn += d.running(scale, self.edge, "left", 0.0, sorted(vs - {0.0}), say)
        return tuple(drawn)

    def named(self, scale: d.Scale) -> Iterator[tuple[d.Point, str]]:
        for piece in self.pieces:
            yield from ((on.middle, piece.name) for on in piece.on if on.panel == self.panel.mark)


@dataclass(frozen=True)
class _Top:
    """The top of a block and the boxes that hang in it."""

    board: Board
    body: Body
    pieces: tuple[BlockoutPiece, ...]

    @property
    def name(self) -> str:
        return f"{self.body.name} from above"

    @property
    def edge(self) -> d.Box:
        xs, ys = zip(*shapes.corners(self.body.head), strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def size(self) -> tuple[float, float]:
        left, bottom, right, top = self.edge
        return right - left, top - bottom

    @property
    def said(self) -> Iterator[str]:
        yield "Seen from above, ahead to the right; from the centre lines."
        for piece in self.pieces:
            yield from _held(self.board, piece)

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        left, bottom, right, top = edge = self.edge
        drawn: list[d.Entity] = [
            d.Polygon(shapes.corners(self.body.head), d.CONCRETE, "paper"),
            d.CentreLine((left, 0.0), (right, 0.0)),
            d.CentreLine((0.0, bottom), (0.0, top)),
        ]
        xs: set[float] = set()
        ys: set[float] = set()
        for piece in self.pieces:
            x, y, a, b = piece.ahead, piece.to_left, piece.wide / 2, piece.high / 2
            drawn.append(d.Polygon(d.rectangle(x - a, y - b, x + a, y + b), d.CUT, "paper"))
            xs |= {x - a, x + a}
            ys |= {y - b, y + b}
        say = self.board.say
        drawn += d.running(scale, edge, "below", 0.0, sorted(xs), lambda v: say(abs(v)))
        drawn += d.running(scale, edge, "left", 0.0, sorted(ys), lambda v: say(abs(v)))
        return tuple(drawn)

    def named(self, scale: d.Scale) -> Iterator[tuple[d.Point, str]]:
        yield from (((piece.ahead, piece.to_left), piece.name) for piece in self.pieces)


@dataclass(frozen=True)
class _Boards:
    """What one box is sawn from, its boards side by side."""

    board: Board
    piece: BlockoutPiece

    @property
    def name(self) -> str:
        return self.piece.name

    @property
    def size(self) -> tuple[float, float]:
        return sum(one.long for one in self.piece.boards), max(one.wide for one in self.piece.boards)

    @property
    def said(self) -> Iterator[str]:
        say, piece = self.board.say, self.piece
        for one in piece.boards:
            yield f"{one.mark}: {one.count}, {self._thick(one)} thick; {'; '.join(_bevels(one))}."
        many, long = piece.cleats
        if many:
            yield f"{many} cleats of 2x2, {say(long)}, inside the mouth, flush with it: the nails go into them."
        if piece.ribs:
            yield f"{piece.ribs} ribs inside, evenly."
        if piece.vent == piece.vent:
            yield f"Bore {say(piece.vent)} through the middle of its underside, and through the panel inside its mouth."

    def _thick(self, one: BoxBoard) -> str:
        return show(one.thick, Length, "us", "1/32 in") if self.board.system == "us" else self.board.say(one.thick)

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        drawn: list[d.Entity] = []
        for x, one in self._placed(scale):
            outside, inside = (tuple((u + x, v) for u, v in points) for points in (one.outside, one.inside))
            drawn += [d.Polygon(outside, d.TIMBER, "tone"), d.Polygon(inside, d.HIDDEN)]
            edge = (x, 0.0, x + one.long, one.wide)
            drawn += d.stack(scale, edge, "left", [d.Chain((0.0, one.wide))], self.board.say)
            for side, at in (("below", 0.0), ("above", one.wide)):
                ends = [u for u, v in outside if abs(v - at) < SAME]
                if side == "below" or one.long - one.other > SAME:
                    drawn += d.stack(scale, edge, side, [d.Chain((min(ends), max(ends)))], self.board.say)
        return tuple(drawn)

    def _placed(self, scale: d.Scale) -> Iterator[tuple[float, BoxBoard]]:
        x = 0.0
        for one in self.piece.boards:
            yield x, one
            x += one.long + _BETWEEN / scale.mm

    def named(self, scale: d.Scale) -> Iterator[tuple[d.Point, str]]:
        for x, one in self._placed(scale):
            word = one.mark.removeprefix(f"{self.piece.name} ")
            yield (x + one.long / 2, one.wide / 2), f"{one.count} {word}" if one.count > 1 else word


def _bevels(one: BoxBoard) -> Iterator[str]:
    for edge, angle in zip(("long edge", "ends", "other edge"), one.bevels, strict=True):
        way = "out" if angle > 0 else "in"
        yield f"{edge} square" if abs(angle) < _SQUARE else f"{edge} {degrees(abs(angle)):.1f}° {way}"


_SQUARE = 0.01  # [rad]
