"""How are the sheets sawn: which cut comes when, where is it marked, and what falls off?

    cut_sheets(board)    one page for each way a sheet is cut, its cuts numbered in sawing order
    form_labels(board)     a label for each panel, to cut out and staple on

All marks are taken from the sheet's lower left corner: a tape is laid once each way. A cut's line is the near side of
its kerf.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import hypot
from os.path import commonprefix
from typing import TYPE_CHECKING

from batterboard.phases.forms.pieces import StripPiece
from batterboard.phases.forms.sheets import SheetCut, SheetLayout
from batterboard.quantity import Length, show
from batterboard.views import drawing as d
from batterboard.views.drawing.lettering import width, wrapped
from batterboard.views.drawings.board import SAME, Board

if TYPE_CHECKING:
    from batterboard.phases.forms.pieces import PanelPiece

_RING = 3.0  # radius of a cut's number [mm]
_CLEAR = 2 * _RING + 0.4  # from one to the next [mm]
_COLUMNS, _ROWS = 2, 6  # labels on a page
_MOST_LABELS = 96
_LINE = 4.6  # from line to line of a note [mm]


def cut_sheets(board: Board) -> Iterator[d.Sheet]:
    """The sheets of the forms as they lie on the saw."""
    marks = _Marks(board)
    layouts = board.plan.sheets.layouts
    for number, layout in enumerate(layouts, 1):
        sheet = _Layout(board, layout, number, marks.of(layout))
        blank = board.sheet(f"Cut sheet {number}, {layout.of}")
        left, bottom, right, top = d.area(blank)
        told = [line for words in sheet.said for line in wrapped(words, 2.5, right - left - 4)]
        foot = bottom + _LINE * len(told) + 3
        view = board.fit(f"CUT SHEET {number}", sheet.draw, layout.size, (left, foot, right, top))
        note = d.Text((left + 2, foot - 2), "\n".join(told), anchor="left top")
        yield replace(blank, views=(view,), marks=(note,))


class _Marks:
    """The marks of single panels, handed out in cutting order: west A1, west A2."""

    def __init__(self, board: Board) -> None:
        single: dict[str, list[str]] = {}
        for form in board.plan.pieces.forms:
            for panel in form.panels:
                single.setdefault(panel.kind, []).append(panel.mark)
        kinds = board.plan.sheets.kinds
        self._left = {mark: [one for kind in kinds[mark] for one in single.get(kind, [])] for mark in kinds}

    def of(self, layout: SheetLayout) -> tuple[tuple[str, ...], ...]:
        """What may stand on each place, the best first: of equal sheets west A1, A2; west, east A; A."""
        given: list[list[str]] = [[] for _ in layout.places]
        for _ in range(layout.times):
            for texts, place in zip(given, layout.places):
                left = self._left.get(place.mark, [])
                texts.append(left.pop(0) if left else place.mark)
        kinds = [(place.mark, _letter(place.mark)) for place in layout.places]
        return tuple((_together(texts), *kind) for texts, kind in zip(given, kinds, strict=True))


def _letter(mark: str) -> str:
    """A of "west, east A", A part 2 of "apron A part 2": what a place without room says."""
    panel, part, number = mark.partition(" part ")
    return panel.rpartition(" ")[2] + part + number


def _together(marks: list[str]) -> str:
    first, *rest = dict.fromkeys(marks)
    form = commonprefix([first, *rest]).rpartition(" ")[0]
    return ", ".join([first, *(mark.removeprefix(form).strip() for mark in rest)])


@dataclass(frozen=True)
class _Layout:
    board: Board
    layout: SheetLayout
    number: int
    marks: tuple[tuple[str, ...], ...]

    @property
    def said(self) -> tuple[str, ...]:
        """What stands under it."""
        layout, say = self.layout, self.board.say
        whole = " x ".join(say(side) for side in layout.size)
        kerf = show(self.board.plan.sheets.kerf, Length, unit="1/32 in" if self.board.system == "us" else "0.1 mm")
        lie = "sheets" if layout.times > 1 else "sheet"
        hand = "on hand" if layout.on_hand else "to buy"
        total = next(total for total in self.board.plan.sheets.totals if total.of == layout.of)
        proof = "no layout buys fewer" if total.bought <= total.least else f"no layout buys fewer than {total.least}"
        return (
            f"Saw {layout.times} {lie} of {layout.of}, {whole}, {hand}; best face down under a hand saw. "
            f"Cut in the order of the numbers; each cut runs from edge to edge of the piece on the saw.",
            f"All marks from the lower left corner. The line is the near side of the cut: the saw's kerf of {kerf} "
            f"falls on its far side. In all {total.bought} to buy; {proof}.",
        )

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        say, layout = self.board.say, self.layout
        along, across = layout.size
        edge = (0.0, 0.0, along, across)
        out: list[d.Entity] = [d.Polygon(d.rectangle(*edge), d.TIMBER)]
        for place, marks in zip(layout.places, self.marks, strict=True):
            here = (place.x, place.y, place.x + place.along, place.y + place.across)
            out.append(d.Polygon(d.rectangle(*here), d.TIMBER, "tone"))
            middle = ((here[0] + here[2]) / 2, (here[1] + here[3]) / 2)
            out += _told(scale, middle, marks, f"{say(place.along)} x {say(place.across)}", place.along, place.across)
        for left in layout.left:
            middle = (left.x + left.along / 2, left.y + left.across / 2)
            out += _told(scale, middle, ("keep",), f"{say(left.along)} x {say(left.across)}", left.along, left.across)
        out += self._cuts(scale)
        out += d.running(scale, edge, "below", 0.0, [*self._stations(False), along], say)
        out += d.running(scale, edge, "left", 0.0, [*self._stations(True), across], say)
        grain = ((0.02 * along, across + 9 / scale.mm), (0.02 * along + 24 / scale.mm, across + 9 / scale.mm))
        out.append(d.Leader(grain[1], grain[0], "face grain"))
        return tuple(out)

    def _stations(self, along: bool) -> list[float]:
        """Where cuts that run that way are marked, each once."""
        stations: list[float] = []
        for at in sorted(float(cut.at) for cut in self.layout.cuts if cut.along is along):
            if not stations or at - stations[-1] > SAME:
                stations.append(at)
        return stations

    def _cuts(self, scale: d.Scale) -> Iterator[d.Entity]:
        rings: list[d.Point] = []
        for order, cut in enumerate(self.layout.cuts, 1):
            a, b = _ends(cut)
            yield d.Line(a, b, d.CUT)
            at = _free(scale, a, b, rings)
            rings.append(at)
            yield d.Circle(at, _RING / scale.mm, d.NOTES, "paper")
            yield d.Text(at, str(order), 2.5, "middle middle", bold=True)


def _free(scale: d.Scale, a: d.Point, b: d.Point, rings: Sequence[d.Point]) -> d.Point:
    """Where a cut's number stands on its line, near its beginning, clear of the others where there is room."""
    long = hypot(b[0] - a[0], b[1] - a[1])
    steps = [min((_RING + 2 + step) / scale.mm, long / 3) for step in range(round(long * scale.mm))] or [long / 3]
    steps += [away for step in range(round(long * scale.mm)) if (away := step / scale.mm) > long / 3]
    places = [(a[0] + (b[0] - a[0]) * away / long, a[1] + (b[1] - a[1]) * away / long) for away in steps]
    apart = [min((hypot(x - u, y - v) * scale.mm for u, v in rings), default=2 * _CLEAR) for x, y in places]
    clear = (place for place, room in zip(places, apart, strict=True) if room >= _CLEAR)
    return next(clear, places[apart.index(max(apart))])


def _ends(cut: SheetCut) -> tuple[d.Point, d.Point]:
    at, start, end = float(cut.at), float(cut.start), float(cut.end)
    return ((start, at), (end, at)) if cut.along else ((at, start), (at, end))


def _told(
    scale: d.Scale, middle: d.Point, marks: tuple[str, ...], size: str, along: float, across: float
) -> Iterator[d.Entity]:
    """The first mark over the size, the way it has room; a mark alone, else nothing, where it is too small."""
    wide, high = along * scale.mm, across * scale.mm
    for texts in (*((f"{mark}\n{size}", f"{mark} {size}") for mark in marks), marks):
        for angle, room, deep in ((0.0, wide, high), (90.0, high, wide)):
            for text in texts:
                lines = text.split("\n")
                if max(width(line, 2.5) for line in lines) + 4 * _RING <= room and 4.6 * len(lines) + 1 <= deep:
                    yield d.Text(middle, text, 2.5, "middle middle", angle)
                    return


# ---- labels ----


def form_labels(board: Board) -> Iterator[d.Sheet]:
    """One for each panel and strip: mark, size, where it stands."""
    made = [
        (panel.mark, _stands(form.name, panel), _size(board, panel.outside), _matches(panel))
        for form in board.plan.pieces.forms
        for panel in form.panels
    ]
    made += [
        (
            strip.mark,
            f"kind {strip.kind}",
            f"{board.say(strip.long)} long point",
            _between(board, strip),
        )
        for form in board.plan.pieces.forms
        for strip in form.strips
    ]
    if not made or len(made) > _MOST_LABELS:
        return
    each = _COLUMNS * _ROWS
    for start in range(0, len(made), each):
        blank = board.sheet("Form labels", landscape=False)
        rooms = [
            room
            for row in d.down(d.area(blank), *(1.0 for _ in range(_ROWS)), gap=0.0)
            for room in d.across(row, *(1.0 for _ in range(_COLUMNS)), gap=0.0)
        ]
        drawn = tuple(e for told, room in zip(made[start : start + each], rooms) for e in _label(board, told, room))
        name = blank.name if len(made) <= each else f"{blank.name} {start // each + 1}"
        yield replace(blank, name=name, views=(d.View("", d.FULL_SIZE, (0.0, 0.0), drawn),))


def _stands(form: str, panel: "PanelPiece") -> str:
    whole = "" if panel.mark == panel.panel else f", part of {panel.panel}"
    return f"{form}: {panel.side}{whole}"


def _between(board: Board, strip: StripPiece) -> str:
    """The two faces it dresses, with its leg on each where they differ."""
    legs = [board.say(leg) for leg in strip.legs]
    if legs[0] == legs[1]:
        return f"between {' and '.join(strip.between)}"
    return ", ".join(f"{leg} on {face}" for leg, face in zip(legs, strip.between))


def _size(board: Board, corners: tuple[d.Point, ...]) -> str:
    us, vs = [u for u, _ in corners], [v for _, v in corners]
    return f"{board.say(max(us) - min(us))} wide x {board.say(max(vs) - min(vs))} high"


def _matches(panel: "PanelPiece") -> str:
    marks = [edge.match for edge in panel.edges if edge.match]
    return f"match marks {', '.join(dict.fromkeys(marks))}" if marks else ""


def _label(board: Board, told: tuple[str, ...], room: d.Box) -> Iterator[d.Entity]:
    left, bottom, right, top = room
    wide = right - left - 8
    yield d.Polygon(d.rectangle(*(v / 1000 for v in room)), d.HIDDEN)
    mark, *lines = told
    height = min(7.0, 7.0 * wide / width(mark, 7.0))
    yield d.Text(((left + 4) / 1000, (top - 4) / 1000), mark, height, "left top", bold=True)
    for i, line in enumerate(line for line in lines if line):
        yield d.Text(
            ((left + 4) / 1000, (top - 16 - 6 * i) / 1000), line, min(3.6, 3.6 * wide / width(line, 3.6)), "left top"
        )
    yield d.Text(((right - 3) / 1000, (bottom + 2) / 1000), f"job {board.plan.job.digest}", 2.5, "right bottom")
