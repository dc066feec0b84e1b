"""What is cut out of which panel, and where: seen from outside, measured from its lower left corner.

opening_sheets(board)    each panel through which something passes, and each part of one that no sheet yields whole,
                         with match marks at its edges
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from batterboard.phases.forms.pieces import Opening, PanelPiece
from batterboard.views import drawing as d
from batterboard.views.drawing.lettering import wrapped
from batterboard.views.drawings.board import SAME, Board

_LINE = 4.6  # from line to line of a note [mm]
_BESIDE = 2  # panels on a page


def opening_sheets(board: Board) -> Iterator[d.Sheet]:
    panels = [panel for form in board.plan.pieces.forms for panel in form.panels]
    cut = [panel for panel in panels if panel.openings or panel.mark != panel.panel]
    what = "Form, cut-outs" if all(panel.openings for panel in cut) else "Form, parts and cut-outs"
    pages = [cut[i : i + _BESIDE] for i in range(0, len(cut), _BESIDE)]
    for number, panels in enumerate(pages, 1):
        blank = board.sheet(what if len(pages) == 1 else f"{what} {number}")
        views, notes = [], []
        for panel, room in zip(panels, d.across(d.area(blank), *(1.0 for _ in panels), gap=6.0)):
            left, bottom, right, top = room
            drawn = _Cut(board, panel)
            told = [line for words in drawn.said for line in wrapped(words, 2.5, right - left - 4)]
            foot = bottom + _LINE * len(told) + 3
            views.append(board.fit(panel.mark.upper(), drawn.draw, drawn.size, (left, foot, right, top)))
            notes.append(d.Text((left + 2, foot - 2), "\n".join(told), anchor="left top"))
        yield replace(blank, views=tuple(views), marks=tuple(notes))


@dataclass(frozen=True)
class _Cut:
    board: Board
    panel: PanelPiece

    @property
    def edge(self) -> d.Box:
        us, vs = [u for u, _ in self.panel.outside], [v for _, v in self.panel.outside]
        return min(us), min(vs), max(us), max(vs)

    @property
    def size(self) -> tuple[float, float]:
        left, bottom, right, top = self.edge
        return right - left, top - bottom

    @property
    def said(self) -> Iterator[str]:
        matches = ", ".join(f"{edge.match} {edge.side}" for edge in self.panel.edges if edge.match)
        yield f"Seen from outside, {self.panel.side}. " + (f"Match marks: {matches}." if matches else "")
        for edge in self.panel.edges:
            if edge.on:
                on = "plates behind" if edge.on == "plates" else f"half over a {edge.on}"
                yield f"{edge.side.capitalize()} edge, {edge.match}: butts {edge.meets}, {on}."
        for hole in self.panel.openings:
            bored = hole.hole == hole.hole
            how = f"bore {self.board.say(hole.hole)}" if bored else "saw to the outline"
            yield f"{hole.of}, {hole.kind}: {how}; closed with {hole.closed_with}."

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        left, bottom, right, top = edge = self.edge
        drawn: list[d.Entity] = [d.Polygon(self.panel.outside, d.TIMBER, "tone")]
        us, vs = {left, right}, {bottom, top}
        for u, _ in self.panel.outside:  # of a leaning panel the upper corners stand in from the lower
            us |= {u} if all(abs(u - other) > SAME for other in us) else set()
        for hole in self.panel.openings:
            drawn += _hole(hole)
            for marks, points in ((us, _marks(hole, 0)), (vs, _marks(hole, 1))):
                marks.update(point for point in points if all(abs(point - other) > SAME for other in marks))
        say = self.board.say
        drawn += d.running(scale, edge, "below", left, sorted(us - {left}), say)
        drawn += d.running(scale, edge, "left", bottom, sorted(vs - {bottom}), say)
        return tuple(drawn)


def _hole(hole: Opening) -> Iterator[d.Entity]:
    if hole.hole == hole.hole:
        yield d.Circle(hole.middle, float(hole.hole) / 2, d.CUT, "paper")
        yield d.CentreLine((hole.middle[0] - hole.hole, hole.middle[1]), (hole.middle[0] + hole.hole, hole.middle[1]))
        yield d.CentreLine((hole.middle[0], hole.middle[1] - hole.hole), (hole.middle[0], hole.middle[1] + hole.hole))
    else:
        yield d.Polygon(hole.outline, d.CUT, "paper")


def _marks(hole: Opening, axis: int) -> list[float]:
    """What is marked of it along one side: a bored hole's middle, a sawn one's edges."""
    if hole.hole == hole.hole:
        return [hole.middle[axis]]
    stations = [point[axis] for point in hole.outline]
    return [min(stations), max(stations)]
