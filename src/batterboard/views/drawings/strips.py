"""How does the end of an arris strip look, full size, to print, fold round the strip and scribe from?

    pattern_pages(board)    the skins of all ends that are not cut square, each once, with the saw's settings

The skin is unfolded from the sharp edge on, printed side out and the end upwards; what is cut away lies above the
upper outline. Every page carries the square that tells whether the printer has shrunk it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import degrees

from batterboard.phases.forms.pieces import SawCut, StripEnd, StripPiece
from batterboard.views import drawing as d
from batterboard.views.drawing.lettering import width, wrapped
from batterboard.views.drawings.board import SAME, Board, even
from batterboard.work.names import joined

_LINE = 4.6  # from line to line of a note [mm]
_GAP = 8.0  # between two patterns [mm]
_RULE = 12.0  # the check square's rule, left and below [mm]


@dataclass(frozen=True)
class _Pattern:
    """One end, with the names of all strips that have it."""

    title: str
    settings: tuple[str, ...]
    end: StripEnd
    turned: bool  # unfolded to the left from the sharp edge, where it would come out as its own mirror image
    panel: str  # what the panel's face is called, where there is one only

    @property
    def size(self) -> tuple[float, float]:
        """Of the skin [mm]."""
        points = [point for face in self.end.pattern for point in face.outline]
        return max(w for w, _ in points) * 1000, max(s for _, s in points) * 1000


def pattern_pages(board: Board) -> Iterator[d.Sheet]:
    """As few pages as hold them; a skin wider than the paper is left to the settings in the list."""
    blank = board.sheet("Strip patterns 1:1", landscape=False)
    left, bottom, right, top = d.area(blank)
    room = right - left - _RULE - 4
    fitting = [pattern for pattern in _patterns(board) if pattern.size[0] <= room]
    pages: list[list[d.Entity]] = []
    y = bottom
    for pattern in fitting:
        told = [line for words in (pattern.title, *pattern.settings) for line in wrapped(words, 2.5, room)]
        high = _LINE * (len(told) + 1) + pattern.size[1] + _GAP
        if not pages or y - high < bottom + _RULE:
            pages.append([])
            y = top - 3
        pages[-1] += _drawn(pattern, told, left + _RULE + 4, y)
        y -= high
    for number, drawn in enumerate(pages, 1):
        name = blank.name if len(pages) == 1 else f"{blank.name}, {number} of {len(pages)}"
        square = d.check_square((left + _RULE - 2, bottom + _RULE - 2), board.system)
        view = d.View("", d.FULL_SIZE, (0.0, 0.0), tuple(drawn))
        yield replace(blank, name=name, views=(view,), marks=square)


def _patterns(board: Board) -> Iterator[_Pattern]:
    """Ends that look the same are one."""
    found: dict[object, tuple[list[str], StripEnd, bool, str]] = {}
    for form in board.plan.pieces.forms:
        for strip in form.strips:
            upright = strip.edge == "corner"
            for number, end in enumerate(strip.ends):
                if _square(end):
                    continue
                turned = number == (1 if upright else 0)
                panel = "" if upright else f"the {strip.between[0]} panel's"
                names, *_ = found.setdefault((turned, *_look(strip, end)), ([], end, turned, panel))
                name = f"{strip.kind}{' (other hand)' if strip.mirrored else ''} {_ENDS[upright][number]}"
                if name not in names:
                    names.append(name)
    for names, end, turned, panel in found.values():
        settings = [_setting(cut) for cut in end.cuts] + [f"or {_setting(cut)}" for cut in end.others]
        if panel:
            settings = [words.replace(panel, "the panel's") for words in settings]
        yield _Pattern(joined(names), tuple(settings), end, turned, panel)


_ENDS = {True: ("foot", "head"), False: ("left end", "right end")}


def _square(end: StripEnd) -> bool:
    return float(end.deep) < SAME and all(even(cut.mitre) == even(cut.bevel) == 0.0 for cut in end.cuts)


def _look(strip: StripPiece, end: StripEnd) -> tuple[object, ...]:
    skin = tuple(tuple(sorted((even(w), even(s)) for w, s in face.outline)) for face in end.pattern)
    return strip.shape, skin, tuple((even(cut.mitre), even(cut.bevel)) for cut in end.cuts)


def _setting(cut: SawCut) -> str:
    told = f"{cut.down} down: mitre {degrees(cut.mitre):.1f}°, blade {degrees(cut.bevel):.1f}°"
    if not cut.long_side:
        return told
    return f"{told}, long {'' if cut.long_side.startswith('away') else 'towards '}{cut.long_side}"


def _drawn(pattern: _Pattern, told: list[str], left: float, top: float) -> Iterator[d.Entity]:
    """The words, and under them the skin with its end upwards."""
    yield d.Text(_metres(left, top), "\n".join(told), anchor="left top")
    head = top - _LINE * (len(told) + 0.6)

    def at(w: float, s: float) -> d.Point:
        along = pattern.size[0] / 1000 - w if pattern.turned else w
        return left / 1000 + along, head / 1000 - s

    for face in pattern.end.pattern:
        yield d.Polygon(tuple(at(w, s) for w, s in face.outline), d.CUT, "tone")
        ws, ss = [w for w, _ in face.outline], [s for _, s in face.outline]
        wide, high = (max(ws) - min(ws)) * 1000, (max(ss) - float(pattern.end.deep)) * 1000
        name = (face.face.replace(pattern.panel, "the panel's") if pattern.panel else face.face).removesuffix(" face")
        name = name.removesuffix("'s")
        middle = at((max(ws) + min(ws)) / 2, max(ss) - high / 2000)
        ways = ((0.0, wide, high), (90.0, high, wide))
        short = ["the corner"] if name.startswith("the face on ") else []  # of a strip that has its own name above
        fitting = [
            d.Text(middle, told, 2.5, "middle middle", angle)
            for told in (name, *short)
            for angle, room, deep in ways
            if width(told, 2.5) + 3 <= room and deep >= 5
        ]
        yield from fitting[:1]


def _metres(x: float, y: float) -> d.Point:
    return x / 1000, y / 1000
