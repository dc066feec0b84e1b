"""What is fastened to the panels on the bench: strips and blockouts, each panel seen from inside.

inside_sheets(board)     each panel on which something lies; those that look alike are drawn once

He lays the panel on the bench with the side up that the concrete will touch: the mirror image of what he sees outside,
and of the concrete. Places run from the lower corner on his left, which is the lower right one from outside.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from batterboard.phases.forms.pieces.lying import Lain, Lying, lying
from batterboard.phases.forms.pieces.results import Point
from batterboard.views import drawing as d
from batterboard.views.drawing.lettering import wrapped
from batterboard.views.drawings import labels
from batterboard.views.drawings.board import SAME, Board, alike, even
from batterboard.work.names import among

_LINE = 4.6  # from line to line of a note [mm]
_BESIDE = 2  # panels on a page
_TOLD = 4  # panels whose pieces are named
_NAME = 4.0  # a piece on which its name stands is at least as high [mm]


def inside_sheets(board: Board) -> Iterator[d.Sheet]:
    drawn = [
        _Inside(board, panels) for panels in alike((one for f in board.plan.pieces.forms for one in lying(f)), _look)
    ]
    pages = [drawn[i : i + _BESIDE] for i in range(0, len(drawn), _BESIDE)]
    for number, panels in enumerate(pages, 1):
        blank = board.sheet("Form, from inside" if len(pages) == 1 else f"Form, from inside {number}")
        views, notes = [], []
        for panel, room in zip(panels, d.across(d.area(blank), *(1.0 for _ in panels), gap=6.0)):
            left, bottom, right, top = room
            told = [line for words in panel.said for line in wrapped(words, 2.5, right - left - 4)]
            foot = bottom + _LINE * len(told) + 3
            views.append(
                board.fit(panel.name, panel.draw, panel.size, (left, foot, right, top), partial(_labelled, panel))
            )
            notes.append(d.Text((left + 2, foot - 2), "\n".join(told), anchor="left top"))
        yield replace(blank, views=tuple(views), marks=tuple(notes))


def _look(one: Lying) -> frozenset[tuple[str, frozenset[tuple[float, float]]]]:
    shapes = [("panel", one.panel.inside), *((thing.kind, thing.outline) for thing in one.things)]
    shapes += ((hole.kind, hole.outline) for hole in one.panel.openings)
    return frozenset((kind, frozenset((even(u), even(v)) for u, v in outline)) for kind, outline in shapes)


@dataclass(frozen=True)
class _Inside:
    board: Board
    alike: tuple[Lying, ...]

    @property
    def name(self) -> str:
        more = f" and {len(self.alike) - 1} alike" if len(self.alike) > 1 else ""
        return f"{self.alike[0].panel.mark} from inside{more}".upper()

    @property
    def said(self) -> Iterator[str]:
        first = self.alike[0]
        for one in self.alike[:_TOLD]:
            yield f"{one.panel.mark}, from the left: {', '.join(self._from_the_left(one))}."
        if len(self.alike) > _TOLD:
            yield f"Alike: {among(one.panel.mark for one in self.alike[_TOLD:])}."
        marks = {edge.side: edge.match for edge in first.panel.edges if edge.match}
        if len(self.alike) == 1 and "right" in marks and "left" in marks:
            yield f"Match marks from here: {marks['right']} left, {marks['left']} right."

    def _from_the_left(self, one: Lying) -> list[str]:
        things = sorted(one.things, key=lambda thing: -sum(float(u) for u, _ in thing.outline) / len(thing.outline))
        return [thing.mark for thing in things]

    @property
    def _right(self) -> float:
        return max(float(u) for u, _ in self.alike[0].panel.inside)

    def _turned(self, points: tuple[Point, ...]) -> tuple[d.Point, ...]:
        """As seen from inside."""
        return tuple((self._right - float(u), float(v)) for u, v in points)

    @property
    def size(self) -> tuple[float, float]:
        points = self._turned(self.alike[0].panel.inside)
        return max(x for x, _ in points) - min(x for x, _ in points), max(y for _, y in points)

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        first = self.alike[0]
        panel = self._turned(first.panel.inside)
        drawn: list[d.Entity] = [d.Polygon(panel, d.TIMBER)]
        drawn += [d.Polygon(self._turned(hole.outline), d.TIMBER) for hole in first.panel.openings]
        us, vs = _apart({x for x, _ in panel}), _apart({y for _, y in panel})
        for thing in first.things:
            outline = self._turned(thing.outline)
            drawn.append(d.Polygon(outline, d.TIMBER, "tone"))
            us, vs = _apart(us | {x for x, _ in outline}), _apart(vs | {y for _, y in outline})
        say = self.board.say
        edge = (min(us), min(vs), max(us), max(vs))
        drawn += d.running(scale, edge, "below", min(us), sorted(us - {min(us)}), say)
        drawn += d.running(scale, edge, "left", min(vs), sorted(vs - {min(vs)}), say)
        return tuple(drawn)

    def named(self, scale: d.Scale) -> Iterator[labels.Label]:
        for thing in self.alike[0].things:
            yield _names(scale, thing, self._turned(thing.outline), self._right / 2)


def _labelled(panel: _Inside, scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
    return labels.settled(scale, drawn, panel.named(scale), free)


def _apart(places: set[float]) -> set[float]:
    """Without those that a tape does not tell from another."""
    kept: list[float] = []
    for place in sorted(places):
        if not kept or place - kept[-1] > SAME:
            kept.append(place)
    return set(kept)


def _names(scale: d.Scale, thing: Lain, outline: tuple[d.Point, ...], centre: float) -> labels.Label:
    """Where its name may stand: on it, beside it towards the centre where it is too thin; else with an arrow."""
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    middle = x, y = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    name = thing.mark if thing.kind == "blockout" else thing.mark.split(" ", 1)[1]
    if high < wide and high * scale.mm < _NAME:
        best = d.Text((x, min(ys) - 2 / scale.mm), name, anchor="middle top")
    else:
        if high > wide and wide * scale.mm < _NAME:
            x = max(xs) + 3 / scale.mm if x < centre else min(xs) - 3 / scale.mm
        best = d.Text((x, y), name, angle=90.0 if high > wide else 0.0, anchor="middle middle")
    return best, *labels.pointing(scale, middle, name)
