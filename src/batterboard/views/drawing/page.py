"""What lies where on the paper?

parts(sheet)      everything on a sheet as strokes, with what cuts it
area(sheet)       the room between the frame and the title block
fit(...)          a view at the largest standard scale that fits a room, set in its middle
overlaps(sheet)   texts that lie on each other: a sheet that is printed has none
outside(sheet)    what stands outside the frame or in the title block: neither
cut(sheet)        texts that a page's edge goes through
shown(sheet)      every line of text on it
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from batterboard.views.drawing.compass import along, clash
from batterboard.views.drawing.layers import SCALES, SHEET, WRITTEN, Scale
from batterboard.views.drawing.lettering import ABOVE, BELOW, shortened, width, wrapped
from batterboard.views.drawing.model import Box, Circle, Entity, Point, Polygon, Polyline, Sheet, Text, View, rectangle
from batterboard.views.drawing.strokes import (
    ON_PAPER,
    Mark,
    Placement,
    Round,
    Scribble,
    Stroke,
    Words,
    placement,
    strokes,
)

MARGIN = 8.0  # from the paper's edge to the frame: most printers reach that far [mm]
_ROW, _PAD = 5.4, 2.0
_SCALE_CELL, _PAGE_CELL = 56.0, 34.0


@dataclass(frozen=True)
class Part:
    """What is drawn together: a view's entities, what is around it, or the sheet itself."""

    marks: tuple[Mark, ...]
    clip: Box | None = None  # millimetres of paper


def parts(sheet: Sheet) -> Iterator[Part]:
    """The sheet from its frame to its views, in the order of drawing."""
    yield _part(_title_block(sheet) if sheet.framed else (), ON_PAPER)
    for view in sheet.views:
        where = placement(view)
        yield _part(view.entities, where, _clip_on_paper(view))
        yield _part(view.around, where)
        yield _part(name_under(view, sheet.system), ON_PAPER)
    yield _part(sheet.marks, ON_PAPER)


def area(sheet: Sheet) -> Box:
    """The room for drawings [mm]."""
    width_, height = sheet.size
    return (
        MARGIN + _PAD,
        MARGIN + _strip(sheet) + _PAD,
        width_ - MARGIN - _PAD,
        height - MARGIN - _PAD,
    )


def across(room: Box, *shares: float, gap: float = 4.0) -> tuple[Box, ...]:
    """A room parted side by side in these shares."""
    left, bottom, right, top = room
    unit = (right - left - gap * (len(shares) - 1)) / sum(shares)
    rooms = []
    for share in shares:
        rooms.append((left, bottom, left + unit * share, top))
        left += unit * share + gap
    return tuple(rooms)


def down(room: Box, *shares: float, gap: float = 4.0) -> tuple[Box, ...]:
    """A room parted from the top down in these shares."""
    left, bottom, right, top = room
    unit = (top - bottom - gap * (len(shares) - 1)) / sum(shares)
    rooms = []
    for share in shares:
        rooms.append((left, top - unit * share, right, top))
        top -= unit * share + gap
    return tuple(rooms)


def fit(name: str, draw: Callable[[Scale], tuple[Entity, ...]], room: Box, system: str) -> View:
    """The drawing at the largest standard scale that fits the room with its name under it, set in the middle.

    `draw` is asked at each scale, since dimensions need room on paper, not in the world. Where even the smallest
    scale is too large, that one is taken, and `outside` tells.
    """
    for scale in SCALES[system]:
        view = View(name, scale, (0.0, 0.0), draw(scale))
        left, bottom, right, top = extent(view, system)
        if right - left <= room[2] - room[0] and top - bottom <= room[3] - room[1]:
            break
    return centred(view, room, system)


def centred(view: View, room: Box, system: str) -> View:
    """The view, moved to the middle of a room."""
    left, bottom, right, top = extent(view, system)
    x = view.at[0] + (room[0] + room[2] - left - right) / 2
    y = view.at[1] + (room[1] + room[3] - bottom - top) / 2
    return replace(view, at=(x, y))


def extent(view: View, system: str) -> Box:
    """The room a view takes on paper, its name included [mm]."""
    drawn = _drawn(view)
    bare = _bare_extent(view, drawn)
    return _around([*bare, *_bounds(_part(_name(view, system, drawn, bare), ON_PAPER).marks)])


def overlaps(sheet: Sheet) -> tuple[tuple[str, str], ...]:
    """Pairs of texts whose rooms overlap."""
    written = [(words.text, text_box(words)) for words, _ in _visible_words(sheet)]
    return tuple((a, b) for (a, one), (b, other) in combinations(written, 2) if clash(one, other, -0.05))


def outside(sheet: Sheet) -> tuple[str, ...]:
    """What a view or a mark has outside the drawing area: its text, or its layer's name."""
    left, bottom, right, top = area(sheet)
    room = (left - _PAD, bottom - _PAD, right + _PAD, top + _PAD)
    found = []
    for part in list(parts(sheet))[1:]:
        if part.clip:
            found += ["CLIP"] if not _within(part.clip, room) else []
            continue
        for mark in part.marks:
            points = tuple(_points(mark))
            if points and not _within(_around(points), room):
                found.append(mark.text if isinstance(mark, Words) else mark.layer.name)
    return tuple(dict.fromkeys(found))


def shown(sheet: Sheet) -> tuple[str, ...]:
    """Every line of text on a sheet."""
    return tuple(words.text for words, _ in _visible_words(sheet))


def cut(sheet: Sheet) -> tuple[str, ...]:
    """Texts that the edge of a page goes through, where a drawing runs over several."""
    clipped = [(words, part.clip) for words, part in _visible_words(sheet) if part.clip]
    return tuple(words.text for words, clip in clipped if not _within(_around(text_box(words)), clip))


def text_box(words: Words) -> tuple[Point, ...]:
    """The four corners of the room a line of text takes, tails and brackets included."""
    room = width(words.text, words.height)
    left = {"left": 0.0, "middle": -room / 2, "right": -room}[words.side]
    box = rectangle(left, -BELOW * words.height, left + room, ABOVE * words.height)
    return tuple(along(along(words.at, words.angle, x), words.angle + 90, y) for x, y in box)


def _part(entities: tuple[Entity, ...], where: Placement, clip: Box | None = None) -> Part:
    return Part(tuple(mark for entity in entities for mark in strokes(entity, where)), clip)


def _unhatched(entities: tuple[Entity, ...]) -> tuple[Entity, ...]:
    """The same outlines without their hatching, where only their extent is asked."""
    return tuple(replace(e, hatch="") if isinstance(e, Polygon | Circle) else e for e in entities)


def _clip_on_paper(view: View) -> Box | None:
    if view.clip is None:
        return None
    left, bottom, right, top = view.clip
    where = placement(view)
    return (*where.on_paper((left, bottom)), *where.on_paper((right, top)))


def _visible_words(sheet: Sheet) -> Iterator[tuple[Words, Part]]:
    for part in parts(sheet):
        for mark in part.marks:
            if isinstance(mark, Words) and (not part.clip or clash(text_box(mark), rectangle(*part.clip))):
                yield mark, part


def _drawn(view: View) -> tuple[Mark, ...]:
    """What it shows, on paper, without hatching."""
    return _part(_unhatched(view.entities), placement(view)).marks


def _bare_extent(view: View, drawn: tuple[Mark, ...]) -> tuple[Point, Point]:
    """Lower left and upper right corner of a view without its name."""
    points = list(_bounds(_part(_unhatched(view.around), placement(view)).marks))
    clip = _clip_on_paper(view)
    points += rectangle(*clip) if clip else _bounds(drawn)
    left, bottom, right, top = _around(points or [view.at])
    return (left, bottom), (right, top)


def name_under(view: View, system: str) -> tuple[Entity, ...]:
    """The view's name, underlined, and its scale, below the middle of what is drawn."""
    if not view.name:
        return ()
    drawn = _drawn(view)
    return _name(view, system, drawn, _bare_extent(view, drawn))


def _name(view: View, system: str, drawn: tuple[Mark, ...], bare: tuple[Point, Point]) -> tuple[Entity, ...]:
    if not view.name:
        return ()
    (left, bottom), (right, _) = bare
    lines = tuple(mark for mark in drawn if mark.layer not in WRITTEN)
    if lines and not view.clip:
        left, _, right, _ = _around(list(_bounds(lines)))
    x, y = (left + right) / 2, bottom - 8.0
    half = width(view.name, 3.5) / 2 + 1
    return (
        Text((x, y), view.name, 3.5, "middle bottom", layer=SHEET, bold=True),
        Polyline(((x - half, y - 1.6), (x + half, y - 1.6)), SHEET),
        Text((x, y - 3.2), view.scale.label(system), 2.5, "middle top", layer=SHEET),
    )


def _strip(sheet: Sheet) -> float:
    """Height of the title block [mm]."""
    return 3 * _ROW + _PAD + _ROW * 0.9 * len(_caution_lines(sheet))


def _caution_lines(sheet: Sheet) -> tuple[str, ...]:
    return wrapped(sheet.caution, 2.5, sheet.size[0] - 2 * (MARGIN + _PAD))


def _title_block(sheet: Sheet) -> tuple[Entity, ...]:
    """The frame, and along its foot: job and sheet, scale and hashes, date and page."""
    left, bottom = MARGIN, MARGIN
    right, top = sheet.size[0] - MARGIN, sheet.size[1] - MARGIN
    cautions = _caution_lines(sheet)
    head, floor = bottom + _strip(sheet), bottom + _ROW * 0.9 * len(cautions)
    scale_x, page_x = right - _PAGE_CELL - _SCALE_CELL, right - _PAGE_CELL
    rows = [head - _ROW * (i + 0.5) - _PAD / 2 for i in range(3)]
    name_room, scale_room = scale_x - left - 2 * _PAD, _SCALE_CELL - 2 * _PAD

    def cell(x: float, y: float, text: str, room: float, height: float = 2.5, bold: bool = False) -> Text:
        return Text((x + _PAD, y), shortened(text, height, room), height, "left middle", layer=SHEET, bold=bold)

    lines = [
        Polyline(rectangle(left, bottom, right, top), SHEET, closed=True),
        Polyline(((left, head), (right, head)), SHEET),
        Polyline(((scale_x, floor), (scale_x, head)), SHEET),
        Polyline(((page_x, floor), (page_x, head)), SHEET),
    ]
    if cautions:
        lines.append(Polyline(((left, floor), (right, floor)), SHEET))
    texts = [
        cell(left, (rows[0] + rows[1]) / 2 + 1.4, sheet.job, name_room, 3.5, bold=True),
        cell(left, rows[2] + 0.6, sheet.name, name_room, 3.5 if width(sheet.name, 3.5) <= name_room else 2.5),
        cell(scale_x, rows[0], sheet.scale_note if sheet.views else "", scale_room),
        cell(scale_x, rows[1], f"job {sheet.job_hash}", scale_room),
        cell(scale_x, rows[2], f"replaces {sheet.replaces}" if sheet.replaces else "replaces nothing", scale_room),
        cell(page_x, rows[0], sheet.date, _PAGE_CELL - 2 * _PAD),
        cell(page_x, rows[1], f"sheet {sheet.page[0]} of {sheet.page[1]}", _PAGE_CELL - 2 * _PAD),
        cell(page_x, rows[2], sheet.paper.name, _PAGE_CELL - 2 * _PAD),
    ]
    texts += [cell(left, floor - _ROW * 0.9 * (i + 0.5), line, 1e9) for i, line in enumerate(cautions)]
    return (*lines, *(text for text in texts if text.text))


def _points(mark: Mark) -> Iterator[Point]:
    match mark:
        case Words():
            yield from text_box(mark)
        case Round():
            (x, y), r = mark.centre, mark.radius
            if mark.whole:
                yield from ((x - r, y - r), (x + r, y + r))
            else:
                steps = max(2, int((mark.end - mark.start) / 5))
                angles = [mark.start + (mark.end - mark.start) * i / steps for i in range(steps + 1)]
                yield from (along(mark.centre, angle, r) for angle in angles)
        case Stroke():
            yield from mark.points
        case Scribble():
            yield from (point for line in mark.lines for point in line)


def _bounds(marks: tuple[Mark, ...]) -> Iterator[Point]:
    for mark in marks:
        yield from _points(mark)


def _around(points: list[Point] | tuple[Point, ...]) -> Box:
    return min(x for x, _ in points), min(y for _, y in points), max(x for x, _ in points), max(y for _, y in points)


def _within(box: Box, room: Box) -> bool:
    return (
        box[0] >= room[0] - 1e-6 and box[1] >= room[1] - 1e-6 and box[2] <= room[2] + 1e-6 and box[3] <= room[3] + 1e-6
    )
