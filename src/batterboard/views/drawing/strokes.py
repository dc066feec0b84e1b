"""What does the pencil do on the paper?

    Stroke, Round, Scribble, Words   all that a writer must know; millimetres of paper, y up
    Placement                        from a view's metres to millimetres of paper, and back
    strokes(entity, placement)       an entity as the pencil draws it

Both writers and the test of what overlaps read the same strokes, so that they agree about where things are.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import cos, hypot, radians
from typing import Any

from batterboard.views.drawing import model
from batterboard.views.drawing.compass import along, bearing, foot, middle
from batterboard.views.drawing.hatching import marks_inside, strokes_below
from batterboard.views.drawing.layers import CHECK, HEAVY, LIGHT, MEDIUM, Layer
from batterboard.views.drawing.lettering import PITCH, width
from batterboard.views.drawing.model import Point

HEIGHT = 2.5  # of a dimension's text
TICK = 2.4  # length of the oblique stroke at the end of a dimension line [mm]
WITNESS_GAP, WITNESS_OVER = 1.2, 1.5
TEXT_GAP = 1.2  # from a dimension line to the foot of its text
ARROW = 3.0
FRAME = 0.9  # room round a text that is framed to be checked
THINNEST = 0.13
STEM = 9.0  # from a level's triangle to its text


@dataclass(frozen=True)
class Stroke:
    """A line through points; `fill` as in Polygon; `pen` says whether the outline itself is drawn."""

    points: tuple[Point, ...]
    layer: Layer
    closed: bool = False
    fill: str = ""
    weight: float | None = None  # None: the layer's own
    pen: bool = True


@dataclass(frozen=True)
class Round:
    """A circle or, with start and end, the arc counterclockwise between them [degrees]."""

    centre: Point
    radius: float
    layer: Layer
    start: float = 0.0
    end: float = 360.0
    fill: str = ""
    weight: float | None = None
    pen: bool = True

    @property
    def whole(self) -> bool:
        return self.end - self.start >= 360


@dataclass(frozen=True)
class Scribble:
    """Many short light strokes: what a thing is made of."""

    lines: tuple[tuple[Point, ...], ...]
    layer: Layer
    weight: float = THINNEST


@dataclass(frozen=True)
class Words:
    """One line of text; `at` lies on its foot, at its left end, middle or right end."""

    at: Point
    text: str
    height: float
    layer: Layer
    side: str = "left"
    angle: float = 0.0
    bold: bool = False


Mark = Stroke | Round | Scribble | Words


@dataclass(frozen=True)
class Placement:
    """From a view's metres to millimetres of paper."""

    mm: float = 1.0
    at: Point = (0.0, 0.0)

    def on_paper(self, point: Point) -> Point:
        return self.at[0] + point[0] * self.mm, self.at[1] + point[1] * self.mm


ON_PAPER = Placement()


def placement(view: model.View) -> Placement:
    return Placement(view.scale.mm, view.at)


def strokes(entity: model.Entity, where: Placement) -> Iterator[Mark]:
    """The entity as it lies on paper."""
    return _PENCIL[type(entity)](entity, where)


def lines_of_text(text: model.Text, at: Point) -> Iterator[Words]:
    """Each line of a block, from its anchor."""
    across, upright = text.anchor.split()
    lines = text.text.split("\n")
    block = text.height * (1 + PITCH * (len(lines) - 1))
    top = {"top": 0.0, "middle": block / 2, "bottom": block}[upright]
    for i, line in enumerate(lines):
        down = top - text.height * (1 + PITCH * i)
        yield Words(along(at, text.angle + 90, down), line, text.height, text.layer, across, text.angle, text.bold)


def reading_angle(angle: float) -> float:
    """The same direction, read from below or from the right: above -90 and up to 90 degrees."""
    angle = (angle + 180) % 180
    return angle if angle <= 90 + 1e-9 else angle - 180


def dimension_line(entity: model.Linear, where: Placement) -> tuple[Point, Point, float]:
    """Both ends of the dimension line on paper and the angle it is read at."""
    a, b = where.on_paper(entity.a), where.on_paper(entity.b)
    angle = reading_angle(bearing(a, b) if entity.angle is None else entity.angle)
    base = where.on_paper(entity.base)
    return foot(a, base, angle), foot(b, base, angle), angle


def text_middle(entity: model.Linear, where: Placement) -> Point:
    """The middle of a dimension's text on paper."""
    start, end, angle = dimension_line(entity, where)
    right, up = entity.shift or (0.0, TEXT_GAP + HEIGHT / 2)
    return along(along(middle(start, end), angle, right), angle + 90, up)


def lead_to(text_at: float, text: str, start: float, layer: Layer) -> float:
    """Where along a text's near edge its leader ends: straight above the start, if the text reaches there."""
    reach = width(text, HEIGHT) / 2 + (FRAME if layer is CHECK else 0.0)
    return min(max(start, text_at - reach), text_at + reach)


# What each kind of entity looks like ---------------------------------------------------------------------------------


def _line(entity: model.Line, where: Placement) -> Iterator[Mark]:
    yield Stroke((where.on_paper(entity.a), where.on_paper(entity.b)), entity.layer)


def _polyline(entity: model.Polyline, where: Placement) -> Iterator[Mark]:
    yield Stroke(tuple(map(where.on_paper, entity.points)), entity.layer, entity.closed)


def _polygon(entity: model.Polygon, where: Placement) -> Iterator[Mark]:
    points = tuple(map(where.on_paper, entity.points))
    if entity.fill:
        yield Stroke(points, entity.layer, True, entity.fill, pen=False)
    if entity.hatch:
        yield Scribble(marks_inside(points, entity.hatch), entity.layer)
    if entity.outline:
        yield Stroke(points, entity.layer, True)


def _circle(entity: model.Circle, where: Placement) -> Iterator[Mark]:
    centre, radius = where.on_paper(entity.centre), entity.radius * where.mm
    if entity.fill:
        yield Round(centre, radius, entity.layer, fill=entity.fill, pen=False)
    if entity.hatch:
        ring = tuple(along(centre, 10.0 * i, radius) for i in range(36))
        yield Scribble(marks_inside(ring, entity.hatch), entity.layer)
    yield Round(centre, radius, entity.layer)


def _arc(entity: model.Arc, where: Placement) -> Iterator[Mark]:
    end = entity.start + (entity.end - entity.start) % 360
    yield Round(where.on_paper(entity.centre), entity.radius * where.mm, entity.layer, entity.start, end)


def _text(entity: model.Text, where: Placement) -> Iterator[Mark]:
    yield from lines_of_text(entity, where.on_paper(entity.at))


def _linear(entity: model.Linear, where: Placement) -> Iterator[Mark]:
    start, end, angle = dimension_line(entity, where)
    for point, tip in ((entity.a, start), (entity.b, end)):
        yield from _witness(where.on_paper(point), tip, entity.layer)
        yield _tick(tip, angle, entity.layer)
    yield Stroke((start, end), entity.layer)
    at = text_middle(entity, where)
    if entity.leader:
        right, up = entity.shift or (0.0, 0.0)
        near = along(at, angle + 90, -(HEIGHT / 2 + FRAME) * (1 if up > 0 else -1))
        near = along(near, angle, lead_to(right, entity.text, 0.0, entity.layer) - right)
        yield Stroke((middle(start, end), near), entity.layer)
    yield from _measured(at, angle, entity.text, entity.layer)


def _ordinate(entity: model.Ordinate, where: Placement) -> Iterator[Mark]:
    feature, end = where.on_paper(entity.feature), where.on_paper(entity.end)
    upright = entity.axis == "x"
    out = 1 if (end[1] > feature[1] if upright else end[0] > feature[0]) else -1
    angle = 90.0 if upright else 0.0
    start = along(feature, angle, WITNESS_GAP * out)
    bend = (feature[0], end[1] - 4 * out) if upright else (end[0] - 4 * out, feature[1])
    jog = (end[0], end[1] - 1.5 * out) if upright else (end[0] - 1.5 * out, end[1])
    straight = abs(feature[0] - end[0]) < 1e-9 if upright else abs(feature[1] - end[1]) < 1e-9
    yield Stroke((start, end) if straight else (start, bend, jog, end), entity.layer)
    half = (width(entity.text, HEIGHT) / 2 + 1.0) * out
    yield from _measured(along(end, angle, half), angle, entity.text, entity.layer)


def _radial(entity: model.Radial, where: Placement) -> Iterator[Mark]:
    """The arrow comes from inside, or from outside where the circle is too small for it."""
    centre, radius = where.on_paper(entity.centre), entity.radius * where.mm
    rim, end = along(centre, entity.angle, radius), along(centre, entity.angle, radius + entity.reach)
    far = along(centre, entity.angle, -radius) if entity.diameter else centre
    small = radius * (2 if entity.diameter else 1) < 3 * ARROW
    right = cos(radians(entity.angle)) >= 0
    shelf = (end[0] + (2.0 if right else -2.0), end[1])
    yield Stroke((rim if small else far, end, shelf), entity.layer)
    yield _arrow(rim, entity.angle + (180 if small else 0), entity.layer)
    if entity.diameter and not small:
        yield _arrow(far, entity.angle + 180, entity.layer)
    half = width(entity.text, HEIGHT) / 2 + 0.8
    yield from _measured((shelf[0] + (half if right else -half), shelf[1]), 0.0, entity.text, entity.layer)


def _leader(entity: model.Leader, where: Placement) -> Iterator[Mark]:
    point, at = where.on_paper(entity.point), where.on_paper(entity.at)
    right = at[0] >= point[0]
    shelf = (at[0] - (3.0 if right else -3.0), at[1])
    yield Stroke((point, shelf, at), entity.layer)
    yield _arrow(point, bearing(shelf, point), entity.layer)
    yield from lines_of_text(
        model.Text((0, 0), entity.text, entity.height, "left middle" if right else "right middle", layer=entity.layer),
        (at[0] + (1.0 if right else -1.0), at[1] + _first_line(entity.text, entity.height)),
    )


def _level(entity: model.Level, where: Placement) -> Iterator[Mark]:
    x, y = where.on_paper(entity.at)
    way = 1 if entity.to == "right" else -1
    yield Stroke(((x - 1.5, y + 2.4), (x + 1.5, y + 2.4), (x, y)), entity.layer, True, "solid")
    end = (x + way * STEM, y + entity.lift)
    path = ((x - way * 2.5, y), end) if not entity.lift else ((x - way * 2.5, y), (x + way * 4, y), end)
    yield Stroke(path, entity.layer)
    yield Words(
        (end[0] + way * 0.8, end[1] - HEIGHT / 2), entity.text, HEIGHT, entity.layer, "left" if way > 0 else "right"
    )


def _centre_line(entity: model.CentreLine, where: Placement) -> Iterator[Mark]:
    a, b = where.on_paper(entity.a), where.on_paper(entity.b)
    angle = bearing(a, b)
    yield Stroke((along(a, angle, -entity.over), along(b, angle, entity.over)), entity.layer)


def _break_line(entity: model.BreakLine, where: Placement) -> Iterator[Mark]:
    a, b = where.on_paper(entity.a), where.on_paper(entity.b)
    angle, half = bearing(a, b), middle(a, b)
    up, down = along(along(half, angle, -1), angle + 90, 3), along(along(half, angle, 1), angle + 90, -3)
    ends = along(a, angle, -3), along(half, angle, -2), up, down, along(half, angle, 2), along(b, angle, 3)
    yield Stroke(ends, entity.layer, weight=LIGHT)


def _ground_line(entity: model.GroundLine, where: Placement) -> Iterator[Mark]:
    points = tuple(map(where.on_paper, entity.points))
    yield Scribble(strokes_below(points), entity.layer, LIGHT)
    yield Stroke(points, entity.layer)


def _bar_end(entity: model.BarEnd, where: Placement) -> Iterator[Mark]:
    yield Round(
        where.on_paper(entity.at), max(entity.radius * where.mm, 0.45), entity.layer, fill="solid", weight=LIGHT
    )


def _north_arrow(entity: model.NorthArrow, where: Placement) -> Iterator[Mark]:
    at, half = where.on_paper(entity.at), entity.size / 2
    tip, tail = along(at, entity.angle, half), along(at, entity.angle, -half)
    left, right = (along(tail, entity.angle + side, half * 0.55) for side in (90, -90))
    notch = along(tail, entity.angle, half * 0.45)
    yield Stroke((tip, left, notch), entity.layer, True, "solid")
    yield Stroke((tip, notch, right), entity.layer, True)
    letter = along(tip, entity.angle, 2.8)
    yield Words((letter[0], letter[1] - 1.75), "N", 3.5, entity.layer, "middle", bold=True)


def _scale_bar(entity: model.ScaleBar, where: Placement) -> Iterator[Mark]:
    x, y = where.on_paper(entity.at)
    stations = [x + length * where.mm for length, _ in entity.marks]
    for i, (left, right) in enumerate(zip(stations, stations[1:])):
        box = model.rectangle(left, y, right, y + 1.6)
        yield Stroke(box, entity.layer, True, "" if i % 2 else "solid")
    for station, (_, text) in zip(stations, entity.marks):
        yield Words((station, y + 2.8), text, HEIGHT, entity.layer, "middle")


def _section_mark(entity: model.SectionMark, where: Placement) -> Iterator[Mark]:
    a, b = where.on_paper(entity.a), where.on_paper(entity.b)
    angle = bearing(a, b)
    look = angle + (90 if entity.look == "left" else -90)
    for end, inward in ((a, angle), (b, angle + 180)):
        yield Stroke((end, along(end, inward, 6)), entity.layer, weight=HEAVY)
        tip = along(end, look, 6)
        yield Stroke((end, tip), entity.layer, weight=MEDIUM)
        yield _arrow(tip, look, entity.layer)
        at = along(along(end, inward, -3.2), look, 3)
        yield Words((at[0], at[1] - 1.75), entity.letter, 3.5, entity.layer, "middle", bold=True)


def _match_mark(entity: model.MatchMark, where: Placement) -> Iterator[Mark]:
    x, y = at = where.on_paper(entity.at)
    r = entity.radius
    yield Round(at, r, entity.layer)
    yield Stroke(((x - 2 * r, y), (x + 2 * r, y)), entity.layer)
    yield Stroke(((x, y - 2 * r), (x, y + 2 * r)), entity.layer)
    yield Words((x + r, y + r), entity.letter, HEIGHT, entity.layer)


_PENCIL: dict[type, Callable[[Any, Placement], Iterator[Mark]]] = {
    model.Line: _line,
    model.Polyline: _polyline,
    model.Polygon: _polygon,
    model.Circle: _circle,
    model.Arc: _arc,
    model.Text: _text,
    model.Linear: _linear,
    model.Ordinate: _ordinate,
    model.Radial: _radial,
    model.Leader: _leader,
    model.Level: _level,
    model.CentreLine: _centre_line,
    model.BreakLine: _break_line,
    model.GroundLine: _ground_line,
    model.BarEnd: _bar_end,
    model.NorthArrow: _north_arrow,
    model.ScaleBar: _scale_bar,
    model.SectionMark: _section_mark,
    model.MatchMark: _match_mark,
}


# Parts of marks ------------------------------------------------------------------------------------------------------


def _measured(at: Point, angle: float, text: str, layer: Layer) -> Iterator[Mark]:
    """A dimension's text by its middle, framed where it must be checked."""
    if layer is CHECK:
        half, up, down = width(text, HEIGHT) / 2 + FRAME, HEIGHT / 2 + FRAME, -HEIGHT / 2 - FRAME
        box = model.rectangle(-half, down, half, up)
        yield Stroke(tuple(along(along(at, angle, x), angle + 90, y) for x, y in box), layer, True, "paper")
    yield Words(along(at, angle + 90, -HEIGHT / 2), text, HEIGHT, layer, "middle", angle)


def _witness(point: Point, tip: Point, layer: Layer) -> Iterator[Mark]:
    if hypot(tip[0] - point[0], tip[1] - point[1]) > WITNESS_GAP:
        angle = bearing(point, tip)
        yield Stroke((along(point, angle, WITNESS_GAP), along(tip, angle, WITNESS_OVER)), layer)


def _tick(at: Point, angle: float, layer: Layer) -> Stroke:
    return Stroke((along(at, angle + 45, TICK / 2), along(at, angle + 45, -TICK / 2)), layer, weight=MEDIUM)


def _arrow(tip: Point, angle: float, layer: Layer) -> Stroke:
    back = along(tip, angle, -ARROW)
    wings = (along(back, angle + 90, ARROW / 7), along(back, angle - 90, ARROW / 7))
    return Stroke((tip, *wings), layer, True, "solid", weight=THINNEST)


def _first_line(text: str, height: float) -> float:
    """From the middle of a block up to the middle of its first line, negative."""
    return -height * PITCH * text.count("\n") / 2
