"""The sheet as SVG: exact millimetres, text as text, the same bytes for the same sheet.

Lines first, layer by layer, then all texts with a halo of paper, so that no line strikes through a figure. On screen
the paper is warm; a printer leaves it white.
"""

from collections.abc import Iterable, Iterator
from html import escape
from itertools import groupby
from math import cos, radians, sin
from zlib import crc32

from batterboard.views.drawing.layers import INKS, LAYERS, PAPER, SHEET, TONE, WRITTEN, Layer
from batterboard.views.drawing.lettering import FAMILY, em
from batterboard.views.drawing.model import Point, Sheet
from batterboard.views.drawing.page import Part, parts
from batterboard.views.drawing.strokes import Mark, Round, Scribble, Stroke, Words

_HALO = 1.0  # of paper round a text [mm]
_ANCHORS = {"left": "start", "middle": "middle", "right": "end"}


def svg(sheet: Sheet, paper: str = PAPER) -> str:
    """One page, as a whole SVG document."""
    width, height = sheet.size
    pieces = list(parts(sheet))
    stem = f"s{crc32(f'{sheet.job}/{sheet.name}/{sheet.page}'.encode()):08x}"  # ids stay apart on one web page
    clips = [f"{stem}-{i}" if part.clip else "" for i, part in enumerate(pieces)]
    body = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(width)}mm" height="{_n(height)}mm" '
        f'viewBox="0 0 {_n(width)} {_n(height)}" font-family="{FAMILY}" fill="none" '
        f'stroke-linecap="round" stroke-linejoin="round">',
        f"<title>{_clean(f'{sheet.job}: {sheet.name}')}</title>",
        "<style>@media print{.paper{fill:#fff}.halo{stroke:#fff}}</style>",
        *(_clip_path(name, part, height) for name, part in zip(clips, pieces) if part.clip),
        f'<path class="paper" fill="{paper}" d="M0 0H{_n(width)}V{_n(height)}H0Z"/>',
    ]
    for write in (_lines, _texts):
        for name, part in zip(clips, pieces):
            inner = "".join(write(part.marks, height, paper))
            if inner:
                body.append(f'<g clip-path="url(#{name})">{inner}</g>' if name else inner)
    return "\n".join(body) + "\n</svg>\n"


def _clip_path(name: str, part: Part, height: float) -> str:
    assert part.clip is not None
    left, bottom, right, top = part.clip
    return (
        f'<clipPath id="{name}"><path d="M{_n(left)} {_n(height - bottom)}H{_n(right)}V{_n(height - top)}'
        f'H{_n(left)}Z"/></clipPath>'
    )


def _lines(marks: tuple[Mark, ...], height: float, paper: str) -> Iterator[str]:
    """A group for each layer; strokes that share a pencil share one path."""
    for layer, group in _by_layer(mark for mark in marks if not isinstance(mark, Words)):
        ink = INKS[layer.ink]
        dashes = f' stroke-dasharray="{" ".join(map(_n, layer.dashes))}"' if layer.dashes else ""
        yield f'<g class="{layer.name}" stroke="{ink}" stroke-width="{_n(layer.weight)}"{dashes}>'
        if layer in WRITTEN:
            group = sorted(group, key=_pencil)  # full lines below framed texts; neighbours share witness lines
        for (fill, pen, weight), alike in groupby(group, _pencil):
            colour = {"paper": paper, "tone": TONE, "solid": ink}.get(fill, "")
            look = f' fill="{colour}"' if colour else ""
            look += "" if pen else ' stroke="none"'
            look += f' stroke-width="{_n(weight)}"' if weight != layer.weight else ""
            yield f'<path{look} d="{"".join(dict.fromkeys(_path(mark, height) for mark in alike))}"/>'
        yield "</g>\n"


def _texts(marks: tuple[Mark, ...], height: float, paper: str) -> Iterator[str]:
    for layer, group in _by_layer(mark for mark in marks if isinstance(mark, Words)):
        halo = f' stroke="{paper}" stroke-width="{_n(_HALO)}" paint-order="stroke"' if layer is not SHEET else ""
        name = f"{layer.name} halo" if halo else layer.name
        yield f'<g class="{name}" fill="{INKS[layer.ink]}" font-size="{_n(em(2.5))}"{halo}>'
        for words in group:
            assert isinstance(words, Words)
            yield _text(words, height)
        yield "</g>\n"


def _text(words: Words, height: float) -> str:
    x, y = _n(words.at[0]), _n(height - words.at[1])
    look = f' font-size="{_n(em(words.height))}"' if words.height != 2.5 else ""
    look += f' text-anchor="{_ANCHORS[words.side]}"' if words.side != "left" else ""
    look += ' font-weight="bold"' if words.bold else ""
    look += f' transform="rotate({_n(-words.angle)} {x} {y})"' if words.angle else ""
    return f'<text x="{x}" y="{y}"{look}>{_clean(words.text)}</text>'


def _by_layer(marks: Iterable[Mark]) -> Iterator[tuple[Layer, list[Mark]]]:
    kept = list(marks)
    for layer in LAYERS:
        group = [mark for mark in kept if mark.layer is layer]
        if group:
            yield layer, group


def _pencil(mark: Mark) -> tuple[str, bool, float]:
    """What strokes must share to be one path. A filled one stays alone in its kind: it covers what lies below."""
    fill = mark.fill if isinstance(mark, Stroke | Round) else ""
    pen = mark.pen if isinstance(mark, Stroke | Round) else True
    weight = mark.weight if isinstance(mark, Stroke | Round | Scribble) else None
    return fill, pen, mark.layer.weight if weight is None else weight


def _path(mark: Mark, height: float) -> str:
    match mark:
        case Stroke():
            return _through(mark.points, height) + ("Z" if mark.closed else "")
        case Scribble():
            return "".join(_through(line, height) for line in mark.lines)
        case Round():
            return _round(mark, height)
    raise TypeError(mark)


def _through(points: tuple[Point, ...], height: float) -> str:
    steps = " ".join(f"{_n(x)} {_n(height - y)}" for x, y in points[1:])
    return f"M{_n(points[0][0])} {_n(height - points[0][1])}L{steps}"


def _round(mark: Round, height: float) -> str:
    (cx, cy), r = mark.centre, mark.radius
    if mark.whole:
        return (
            f"M{_n(cx - r)} {_n(height - cy)}a{_n(r)} {_n(r)} 0 1 0 {_n(2 * r)} 0a{_n(r)} {_n(r)} 0 1 0 {_n(-2 * r)} 0Z"
        )
    (x0, y0), (x1, y1) = (_on(mark, angle, height) for angle in (mark.start, mark.end))
    large = int(mark.end - mark.start > 180)
    return f"M{_n(x0)} {_n(y0)}A{_n(r)} {_n(r)} 0 {large} 0 {_n(x1)} {_n(y1)}"


def _on(mark: Round, angle: float, height: float) -> Point:
    turn = radians(angle)
    return mark.centre[0] + mark.radius * cos(turn), height - mark.centre[1] - mark.radius * sin(turn)


def _n(value: float) -> str:
    """To a hundredth of a millimetre, without idle zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _clean(text: str) -> str:
    """Text that XML can hold."""
    return escape("".join(c if c >= " " and c not in "\ufffe\uffff" else " " for c in text), quote=False)
