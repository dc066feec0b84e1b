"""Where does a note stand, so that it covers nothing?

    round_about((0, 0, 1, 1), "pier 22\"", scale)     places for a note with its arrow, near ones first
    on_line((0, 0), (4, 0), "gate", scale)            places for a name along a line
    past((0, 0), (4, 0), "gate", 0.5)                 and past its ends
    settled(scale, drawn, labels)                     each label at the place where it disturbs least

A label is the sequence of its places. Texts already on the drawing are never covered if any place is free; lines are
crossed where there is no better place.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from math import atan2, cos, degrees, inf, pi, sin
from typing import NamedTuple

from batterboard.views import drawing as d
from batterboard.views.drawing.compass import clash
from batterboard.views.drawing.page import text_box
from batterboard.views.drawing.strokes import (
    FRAME,
    Placement,
    Round,
    Scribble,
    Stroke,
    Words,
    reading_angle,
    strokes,
)

Label = Sequence[d.Entity]

_COVERED = 1000.0  # a text covered counts as many lines crossed
_CROSSED = 0.05  # a line crossed by an arrow's shaft
_FAR = 0.25  # each place further down the list counts as much of a line crossed


def round_about(
    scale: d.Scale, target: d.Box, text: str, outward: d.Point = (1, 1), reach: Sequence[float] = (9, 14, 20, 28, 38)
) -> tuple[d.Leader, ...]:
    """Notes with their arrows at the corners and sides of a box, `reach` mm away; outward corners first."""
    left, bottom, right, top = target
    middle = ((left + right) / 2, (bottom + top) / 2)
    h, v = (1 if outward[0] >= 0 else -1), (1 if outward[1] >= 0 else -1)
    places = []
    for away in reach:
        for x, y in ((h, v), (h, -v), (h, 0.3 * v), (h, -0.3 * v), (-h, v), (-h, -v), (-h, 0.3), (-h, -0.3)):
            tip = (right if x > 0 else left, (top if y > 0 else bottom) if abs(y) == 1 else middle[1])
            at = (tip[0] + x * away / scale.mm, tip[1] + y * away * 0.8 / scale.mm)
            places.append(d.Leader(tip, at, text))
    return tuple(places)


def pointing(
    scale: d.Scale, point: d.Point, text: str, reach: Sequence[float] = (8.0, 12.0, 17.0, 24.0, 32.0)
) -> tuple[d.Leader, ...]:
    """Notes with their arrows all round a point."""
    return tuple(
        d.Leader(point, (point[0] + away * cos(turn) / scale.mm, point[1] + away * sin(turn) / scale.mm), text)
        for away in reach
        for turn in (pi / 4, -pi / 4, 3 * pi / 4, -3 * pi / 4, pi / 8, -pi / 8, 7 * pi / 8, -7 * pi / 8)
    )


def on_line(scale: d.Scale, a: d.Point, b: d.Point, text: str, layer: d.Layer = d.NOTES) -> tuple[d.Text, ...]:
    """A name beside a line, near its end first."""
    turn = atan2(b[1] - a[1], b[0] - a[0])
    reads = reading_angle(degrees(turn))
    up = (-sin(reads * pi / 180), cos(reads * pi / 180))
    places = []
    for share in (0.92, 0.8, 0.65, 0.5, 0.35, 0.2, 0.08):
        x, y = a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
        for off, foot in ((1.2, "bottom"), (-1.2, "top")):
            at = (x + up[0] * off / scale.mm, y + up[1] * off / scale.mm)
            places.append(d.Text(at, text, anchor=f"middle {foot}", angle=reads, layer=layer))
    return tuple(places)


def past(a: d.Point, b: d.Point, text: str, far: float, layer: d.Layer = d.NOTES) -> tuple[d.Text, ...]:
    """A name in line with a line, `far` [m] past one of its ends."""
    turn = atan2(b[1] - a[1], b[0] - a[0])
    reads = reading_angle(degrees(turn))
    forth = cos(turn - reads * pi / 180)  # whether it reads the way the line runs
    ends = ((b, far, "left" if forth > 0 else "right"), (a, -far, "right" if forth > 0 else "left"))
    return tuple(
        d.Text((x + out * cos(turn), y + out * sin(turn)), text, anchor=f"{side} middle", angle=reads, layer=layer)
        for (x, y), out, side in ends
    )


def near(scale: d.Scale, point: d.Point, text: str, height: float = 2.5, bold: bool = False) -> tuple[d.Text, ...]:
    """A name close to a point."""
    return tuple(
        d.Text((point[0] + x * away / scale.mm, point[1] + y * away / scale.mm), text, height, anchor, bold=bold)
        for away in (2.0, 4.0, 7.0, 11.0)
        for x, y, anchor in (
            (1, 1, "left bottom"), (1, -1, "left top"), (-1, 1, "right bottom"), (-1, -1, "right top"),
            (1.4, 0, "left middle"), (-1.4, 0, "right middle"), (0, 1.4, "middle bottom"), (0, -1.4, "middle top"),
        )
    )  # fmt: skip


def settled(scale: d.Scale, drawn: Iterable[d.Entity], labels: Iterable[Label], inside: d.Box) -> tuple[d.Entity, ...]:
    """One place for each label, in their order, with its text inside a box [m] wherever that is possible."""
    where = Placement(scale.mm)
    crowd = _Crowd()
    for entity in unhatched(drawn):
        crowd.add(strokes(entity, where))
    room = (inside[0] * scale.mm, inside[1] * scale.mm, inside[2] * scale.mm, inside[3] * scale.mm)
    placed: list[d.Entity] = []
    for places in labels:
        best, least = (places[0], tuple(strokes(places[0], where))), inf
        for i, place in enumerate(places):
            if least <= _FAR * i:  # no later place can be better
                break
            marks = tuple(strokes(place, where))
            cost = _FAR * i + crowd.trouble(marks, room, least - _FAR * i)
            if cost < least:
                best, least = (place, marks), cost
        crowd.add(best[1])
        placed.append(best[0])
    return tuple(placed)


def unhatched(drawn: Iterable[d.Entity]) -> Iterator[d.Entity]:
    """The same outlines with nothing scribbled inside, which takes long and is in nobody's way."""
    for entity in drawn:
        yield replace(entity, hatch="") if isinstance(entity, d.Polygon | d.Circle) and entity.hatch else entity


Mark = Stroke | Round | Scribble | Words
Corners = tuple[d.Point, ...]


class _Room(NamedTuple):
    """What a text or a piece of a line takes: around it, its own corners, and whether it lies square to the paper."""

    left: float
    bottom: float
    right: float
    top: float
    corners: Corners
    square: bool

    @classmethod
    def of(cls, corners: Corners) -> "_Room":
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        (ax, ay), (bx, by) = corners[0], corners[1]
        return cls(min(xs), min(ys), max(xs), max(ys), corners, abs(ax - bx) < 1e-9 or abs(ay - by) < 1e-9)

    def meets(self, others: list["_Room"]) -> int:
        """How many of the others it lies on."""
        left, bottom, right, top, *_ = self
        near = [o for o in others if o[0] <= right and o[2] >= left and o[1] <= top and o[3] >= bottom]
        return sum([(self.square and other.square) or _touch(self, other) for other in near])


def _touch(a: _Room, b: _Room) -> bool:
    """Whether two things touch whose surrounding boxes do, not both of them square to the paper."""
    line, other = (a, b) if len(a.corners) == 2 else (b, a)
    if len(line.corners) == 2 and len(other.corners) == 2:
        return _divides(line, other) and _divides(other, line)
    if len(line.corners) == 2 and other.square:
        return _divides(line, other)
    return clash(a.corners, b.corners)


def _divides(line: _Room, other: _Room) -> bool:
    """Whether the other's corners lie on both sides of a line."""
    (ax, ay), (bx, by) = line.corners
    along, up = bx - ax, by - ay
    right = left = False
    for x, y in other.corners:
        side = along * (y - ay) - up * (x - ax)
        right, left = right or side <= 0, left or side >= 0
    return right and left


@dataclass
class _Crowd:
    """What is on the paper already: rooms of texts, and pieces of lines."""

    texts: list[_Room] = field(default_factory=list)
    lines: list[_Room] = field(default_factory=list)

    def add(self, marks: Iterable[Mark]) -> None:
        for mark in marks:
            if isinstance(mark, Words):
                self.texts.append(_Room.of(_roomy(mark)))
            else:
                self.lines += map(_Room.of, _pieces(mark))

    def trouble(self, marks: Iterable[Mark], room: d.Box, most: float) -> float:
        """What a label would disturb; counted no further than `most`."""
        cost = 0.0
        pieces: list[_Room] = []
        for mark in marks:
            if not isinstance(mark, Words):
                pieces += map(_Room.of, _pieces(mark))
                continue
            here = _Room.of(_roomy(mark))
            if here.left < room[0] or here.bottom < room[1] or here.right > room[2] or here.top > room[3]:
                cost += _COVERED / 2
            cost += _COVERED * here.meets(self.texts)
            if cost < most:
                cost += here.meets(self.lines)
        for piece in pieces:
            if cost >= most:
                break
            cost += _COVERED * piece.meets(self.texts) + _CROSSED * piece.meets(self.lines)
        return cost


def _pieces(mark: Mark) -> Iterator[Corners]:
    match mark:
        case Stroke():
            ends = mark.points[1:] + (mark.points[:1] if mark.closed else ())
            yield from ((a, b) for a, b in zip(mark.points, ends) if a != b)
        case Round():
            steps = max(4, int((mark.end - mark.start) / 10))
            turns = [(mark.start + (mark.end - mark.start) * i / steps) * pi / 180 for i in range(steps + 1)]
            points = [(mark.centre[0] + mark.radius * cos(t), mark.centre[1] + mark.radius * sin(t)) for t in turns]
            yield from zip(points, points[1:])


def _roomy(words: Words) -> Corners:
    """A text's room with some air round it, more where it is framed."""
    air = FRAME + 0.2 if words.layer is d.CHECK else 0.3
    c, s = cos(words.angle * pi / 180) * air, sin(words.angle * pi / 180) * air
    ways = ((-c + s, -s - c), (c + s, s - c), (c - s, s + c), (-c - s, -s + c))  # out of each corner, in its order
    return tuple((x + dx, y + dy) for (x, y), (dx, dy) in zip(text_box(words), ways))
