"""What goes outside with the hammer: batter boards on a plan, labels for the stakes, the story pole at full size.

    boards_plan(board)    strings from board to board over the centres, clear of the cut and of its spoil
    labels_of(board)      a label a stake, to cut out: name, place, level, cut, rod
    story_pole(board)     a strip with every level of the job, pasted on a lath and stood on the lowest underside

A job of very many stakes has no labels, one very deep no pole: they are set out from the lists.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from batterboard.phases.setout import Stake
from batterboard.phases.setout.strings import Board as Boards
from batterboard.quantity import Length, System, show
from batterboard.views import drawing as d
from batterboard.views.drawing.lettering import width
from batterboard.views.drawings import labels, shapes
from batterboard.views.drawings.board import Board, alike, box, even
from batterboard.views.drawings.picture import Picture
from batterboard.work.names import among

_WIDE = 0.6  # a batter board, from leg to leg [m]
_CLEAR = 5.0  # of the distances along a string, from it [mm]
_COLUMNS, _ROWS = 2, 4  # labels on a page
_MOST_LABELS, _MOST_PAGES = 48, 10
_POLE = 0.07  # width of the story pole [m]
_NAMED = 12  # bases told by name on the plan
_LANES = 3  # texts beside each other along it


def sheets(board: Board) -> Iterator[d.Sheet]:
    if board.plan.boards:
        yield boards_plan(board)
    yield from labels_of(board)
    yield from story_pole(board)


# ---- batter boards ----


def boards_plan(board: Board) -> d.Sheet:
    """Strings and boards over the holes they keep clear of."""
    picture = Picture(board, frozenset(board.work.bases))
    ends = [p for one in board.plan.boards for p in _ends(picture, one)]
    around = box([*ends, picture.works[:2], picture.works[2:]])
    size = around[2] - around[0], around[3] - around[1]
    draw = partial(_boards, picture)
    ways = [board.sheet("Batter boards", landscape) for landscape in (True, False)]
    blank = min(ways, key=lambda sheet: board.scale(draw, size, d.area(sheet)).ratio)

    def notes(scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
        return labels.settled(scale, drawn, _board_names(picture, scale), free)

    return replace(blank, views=(board.fit("BATTER BOARDS", draw, size, d.area(blank), notes),))


def _ends(picture: Picture, one: Boards) -> tuple[d.Point, d.Point]:
    return picture.turned.at(one.x_back, one.y_back), picture.turned.at(one.x_ahead, one.y_ahead)


def _boards(picture: Picture, scale: d.Scale) -> tuple[d.Entity, ...]:
    say = picture.board.say
    drawn: list[d.Entity] = [
        *(d.Polygon(d.rectangle(*each), d.NOTES) for each in picture.spoil),
        *picture.cuts(),
        *(shapes.above(picture.turned, body, d.HIDDEN) for body in picture.work.bodies),
        *picture.crosses(12 / scale.mm),
    ]
    told: set[tuple[object, ...]] = set()
    for one in picture.board.plan.boards:
        a, b = _ends(picture, one)
        drawn.append(d.Line(a, b, d.LINES))
        far = shapes.apart(a, b)
        across = (-(b[1] - a[1]) / far * _WIDE / 2, (b[0] - a[0]) / far * _WIDE / 2)
        for x, y in (a, b):
            drawn.append(d.Line((x - across[0], y - across[1]), (x + across[0], y + across[1]), d.CUT))
        look = (one.axis, even(one.back), even(one.ahead))
        if look in told:  # of a row the first one speaks for all
            continue
        told.add(look)
        # Clear of what is written along the other string, and the figures clear of this one.
        side = (1 if one.axis == "along" else -1) * max(0.8, _CLEAR / scale.mm / (_WIDE / 2))
        off = (across[0] * side, across[1] * side)
        for end, base in ((a, one.bases[0]), (b, one.bases[-1])):
            centre = _foot(a, b, picture.named(base))
            along = (end[0] + off[0], end[1] + off[1])
            drawn.append(d.Linear(centre, end, along, say(shapes.apart(centre, end))))
    return tuple(drawn)


def _foot(a: d.Point, b: d.Point, point: d.Point) -> d.Point:
    """Where a point stands square to a string: a base along an arc is told from its chord."""
    far = shapes.apart(a, b)
    share = ((point[0] - a[0]) * (b[0] - a[0]) + (point[1] - a[1]) * (b[1] - a[1])) / far**2
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def _board_names(picture: Picture, scale: d.Scale) -> Iterator[labels.Label]:
    for group in alike(picture.board.plan.boards, lambda one: (one.axis, one.line, even(one.back), even(one.ahead))):
        one = group[0]
        chord = bool(one.line) and picture.board.work.lines[one.line].arc is not None
        name = one.line or f"{one.axis} {among(base for each in group for base in each.bases)}"
        why = f", clear of {one.hole}" if one.hole else ""
        told = f"{'chord of' if chord else 'string'} {name}{why}"
        ends, far = _ends(picture, one), _WIDE / 2 + 2 / scale.mm
        yield labels.on_line(scale, *ends, told, d.LINES) + labels.past(*ends, told, far, d.LINES)
    for left, bottom, right, top in picture.spoil:
        told = "spoil stays outside"
        above = labels.on_line(scale, (left, top), (right, top), told)
        below = labels.on_line(scale, (left, bottom), (right, bottom), told)
        yield (*above, *below, *labels.round_about(scale, (left, bottom, right, top), told))
    for name, base in list(picture.work.bases.items())[:_NAMED]:
        yield labels.round_about(scale, picture.reach(base.bodies[-1]), name)


# ---- stake labels ----


def labels_of(board: Board) -> Iterator[d.Sheet]:
    """Bases, posts and machines; bolts are set by the template."""
    stakes = [s for s in board.plan.setout.stakes if s.kind != "bolt"]
    if len(stakes) > _MOST_LABELS:
        return
    each = _COLUMNS * _ROWS
    for start in range(0, len(stakes), each):
        page = stakes[start : start + each]
        blank = board.sheet("Stake labels", landscape=False)
        rooms = [
            room
            for row in d.down(d.area(blank), *(1.0 for _ in range(_ROWS)), gap=0.0)
            for room in d.across(row, *(1.0 for _ in range(_COLUMNS)), gap=0.0)
        ]
        drawn = tuple(entity for stake, room in zip(page, rooms) for entity in _label(board, stake, room))
        name = blank.name if len(stakes) <= each else f"{blank.name} {start // each + 1}"
        yield replace(blank, name=name, views=(d.View("", d.FULL_SIZE, (0.0, 0.0), drawn),))


def _label(board: Board, stake: Stake, room: d.Box) -> Iterator[d.Entity]:
    """Largest first: what is read from standing height, then what is read kneeling."""
    left, bottom, right, top = room
    say, bench, wide = board.say, board.bench, right - left - 10
    yield d.Polygon(d.rectangle(*(v / 1000 for v in room)), d.HIDDEN)
    yield d.Text(_metres(left + 5, top - 6), *_as_large(stake.name, 8.0, wide), "left top", bold=True)
    lines = []
    if stake.line:
        side = "left" if float(stake.off) >= 0 else "right"
        away = f", {say(abs(float(stake.off)))} {side}" if even(stake.off) else ", on it"
        lines.append(f"{stake.line} {say(stake.along)}{away}")
    if stake.cut == stake.cut:
        lines.append(f"CUT {say(stake.cut)} to the bottom")
    if bench:
        lines.append(f"top {board.say_level(stake.top, bench)} from {bench}")
        less = float(stake.top) - float(board.work.levels[bench])
        rod = show(abs(less), Length, _SYSTEM[board.system], _ROD[board.system])
        lines.append(f"rod {rod} {'less' if less > 0 else 'more'} than there")
    else:
        lines.append(f"top {say(stake.top)}")
    for i, line in enumerate(lines):
        yield d.Text(_metres(left + 5, top - 22 - 7 * i), *_as_large(line, 3.6, wide), "left top")
    yield d.Text(
        _metres(right - 4, bottom + 3), f"job {board.plan.job.digest}   FOUND ____________", 2.5, "right bottom"
    )


def _metres(x: float, y: float) -> d.Point:
    return x / 1000, y / 1000


_SYSTEM: dict[str, System] = {"us": "us", "si": "si"}
_ROD = {"us": "0.01 ft", "si": "1 mm"}  # as a level rod is divided


def _as_large(text: str, height: float, room: float) -> tuple[str, float]:
    """A line of text and its height: lower where it would not fit."""
    return text, min(height, height * room / width(text, height))


# ---- the story pole ----


def story_pole(board: Board) -> tuple[d.Sheet, ...]:
    """Every level of the job on one strip, its foot at the lowest; lies along the paper, up to the right."""
    levels: dict[float, list[str]] = {}
    for rod in board.plan.setout.rods:
        bench = board.work.levels.get(rod.level, 0.0) - board.work.levels.get(board.bench, 0.0)
        levels.setdefault(even(rod.above + bench), []).append(rod.name)
    if board.bench and (told := f"{board.bench}, bench mark") not in levels.get(0.0, ()):
        levels.setdefault(0.0, []).append(told)
    foot = min(levels, default=0.0)
    high = max(levels, default=0.0) - foot
    if not high > 0:
        return ()
    blank, marks = board.sheet("Story pole, full size"), sorted(levels.items())
    ways = {i: int(i == len(marks) - 1) for i in range(len(marks))}
    untold: set[str] = set()
    tries: list[tuple[d.Sheet, ...]] = []
    for _ in range(6):  # a text that a page's edge goes through stands elsewhere beside its mark
        pages = d.full_size(blank, (*_pole(board, foot, high, marks, ways), *_ruled(board, high, untold)))
        if len(pages) > _MOST_PAGES:
            return ()
        tries.append(pages)
        cut = {line for page in pages for line in (*d.cut(page), *(text for pair in d.overlaps(page) for text in pair))}
        untold |= cut
        wrong = {i for i, (_, names) in enumerate(marks) if _told(names) in cut}
        if not cut:
            break
        ways |= {i: (ways[i] + 1) % len(_WAYS) for i in wrong - {0, len(marks) - 1}}
    return min(tries, key=lambda pages: sum(len(d.cut(page)) + len(d.overlaps(page)) for page in pages))


def _pole(
    board: Board, foot: float, high: float, marks: list[tuple[float, list[str]]], ways: dict[int, int]
) -> Iterator[d.Entity]:
    """The strip and its levels, each name beside its mark."""
    yield d.Polygon(d.rectangle(0.0, 0.0, high, _POLE), d.CUT)
    for i, (z, names) in enumerate(marks):
        x, lane = z - foot, _POLE * (0.9 - (i % _LANES) * 0.8 / _LANES)
        yield d.Line((x, 0.0), (x, _POLE), d.CUT)
        off, anchor = _WAYS[ways[i]]
        yield d.Text((x + off, lane), f"{_told(names)}\n{board.say_up(z)}", 3.0, anchor)


def _told(names: list[str]) -> str:
    """post.1-7 top, bench: what ends alike is told together, members of a row by their numbers."""
    ends: dict[str, list[str]] = {}
    for name in names:
        thing, _, end = name.rpartition(" ")
        ends.setdefault(end if thing else "", []).append(thing or name)
    return ", ".join(f"{among(things)} {end}".strip() for end, things in ends.items())


_WAYS = ((0.002, "left top"), (-0.002, "right top"), (0.03, "left top"), (-0.03, "right top"))  # of a name at its mark


def _ruled(board: Board, high: float, untold: set[str]) -> Iterator[d.Entity]:
    """A tick each inch or centimetre from the foot, longer ones each foot or ten."""
    step, long = (0.0254, 12) if board.system == "us" else (0.01, 10)
    for i in range(1, int(high / step + 1e-9) + 1):
        yield d.Line((i * step, 0.0), (i * step, 0.012 if i % long == 0 else 0.005), d.DIMS)
        if i % long == 0 and board.say(i * step) not in untold:
            yield d.Text((i * step + 0.001, 0.007), board.say(i * step), 2.5, "left bottom")
