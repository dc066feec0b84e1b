"""Where do dimensions and notes go, so that none lies on another?

    Chain((0.0, 0.56, 4.2))     stations along one side of a thing, dimensioned from each to the next
    stack(...)                  chains outward from an outline, small before large
    running(...)                marks from one end: what a tape laid once reads
    beside(...)                 notes with their arrows, and marks of levels, in one column
    scale_bar(...)              a bar of round lengths

A text that is wider than its gap goes outside, with a leader; it gives way to its neighbours and to the witness lines
of outer chains. Stations and points are metres; how the text is written is asked of `say`, a function of the length.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from batterboard.views.drawing.compass import clash
from batterboard.views.drawing.layers import CHECK, DIMS, NOTES, Layer, Scale
from batterboard.views.drawing.lettering import ABOVE, BELOW, PITCH, width
from batterboard.views.drawing.model import Box, Leader, Level, Linear, Ordinate, Point, ScaleBar, rectangle
from batterboard.views.drawing.strokes import FRAME, HEIGHT, STEM, TEXT_GAP, WITNESS_OVER, lead_to

Say = Callable[[float], str]
Outline = tuple[Point, ...]
Station = float | Point  # a point: its witness line starts there; a number: at the outline

FIRST = 10.0  # from the outline to the first dimension line [mm]
_AIR = 0.8  # between a text and what stands next to it [mm]
_HALF = max(ABOVE - 0.5, BELOW + 0.5) * HEIGHT  # of a text's height, from the middle of its capitals
_LANE = 2 * _HALF + _AIR
_SLIT = 0.1 - _AIR  # a text may come this near to a way that must stay open; its own air counts
_SLIT_EDGE = 0.2 - _AIR


@dataclass(frozen=True)
class Chain:
    """Stations that are dimensioned from each to the next; `texts` where the lengths do not speak for themselves."""

    stations: tuple[Station, ...]
    texts: tuple[str, ...] = ()
    layer: Layer = DIMS


@dataclass(frozen=True)
class _Side:
    """A side of an outline in its own axes: along it, and outward."""

    upright: bool  # it runs along y
    way: int  # outward: +1 towards right or top
    edge: float  # of the outline [m]

    @property
    def reads_outward(self) -> int:
        """+1 where the text that stands on a dimension line is outside it, -1 where inside."""
        return -self.way if self.upright else self.way

    def point(self, along: float, out: float) -> Point:
        away = self.edge + self.way * out
        return (away, along) if self.upright else (along, away)

    def along(self, station: Station) -> float:
        return station if not isinstance(station, tuple) else station[1] if self.upright else station[0]

    def start(self, station: Station) -> Point:
        return station if isinstance(station, tuple) else self.point(station, 0.0)


def stack(scale: Scale, outline: Box, side: str, chains: Sequence[Chain], say: Say) -> tuple[Linear, ...]:
    """Chains of dimensions outward from a side (below, above, left, right) of an outline, the first one nearest."""
    here = _side(outline, side)
    depth, placed = 0.0, []
    for i, chain in enumerate(chains):
        inward = TEXT_GAP + HEIGHT / 2 + _HALF if here.reads_outward < 0 else WITNESS_OVER
        line = max(FIRST, depth + _AIR + inward)
        crossings = [here.along(s) * scale.mm for outer in chains[i + 1 :] for s in outer.stations]
        row, depth = _row(scale, here, chain, line, crossings, say)
        placed += row
    return tuple(placed)


def running(
    scale: Scale, outline: Box, side: str, origin: Station, stations: Sequence[Station], say: Say, layer: Layer = DIMS
) -> tuple[Ordinate, ...]:
    """Distances of all stations from one origin, the origin among them, each written at the end of its witness line."""
    here = _side(outline, side)
    zero = here.along(origin)
    ordered = sorted((origin, *stations), key=here.along)
    places = spread(
        [here.along(s) * scale.mm for s in ordered], [_LANE + (2 * FRAME if layer is CHECK else 0)] * len(ordered)
    )
    return tuple(
        Ordinate(
            here.start(station),
            here.start(origin),
            "y" if here.upright else "x",
            here.point(place / scale.mm, FIRST / scale.mm),
            say(here.along(station) - zero),
            layer,
        )
        for station, place in zip(ordered, places)
    )


def beside(
    scale: Scale,
    x: float,
    notes: Sequence[tuple[Point, str]] = (),
    levels: Sequence[tuple[float, str]] = (),
    side: str = "right",
    layer: Layer = NOTES,
) -> tuple[Leader | Level, ...]:
    """Notes with their arrows and marks of levels in one column that begins at x and reads towards its side.

    Each text stands as near as can be to the height it speaks of.
    """
    told: list[tuple[float, Point | None, str]] = [(point[1], point, text) for point, text in notes]
    told = sorted([*told, *((y, None, text) for y, text in levels)], key=lambda each: each[0])
    heights = [y * scale.mm for y, _, _ in told]
    rooms = [HEIGHT * (ABOVE + BELOW + PITCH * text.count("\n")) + 2 * _AIR for _, _, text in told]
    column: list[Leader | Level] = []
    for (y, point, text), height, place in zip(told, heights, spread(heights, rooms)):
        if point is None:
            column.append(Level((x, y), text, side, place - height, layer))
        else:
            at = x + (STEM if side == "right" else -STEM) / scale.mm
            first_line = place + HEIGHT * PITCH * text.count("\n") / 2
            column.append(Leader(point, (at, first_line / scale.mm), text, layer=layer))
    return tuple(column)


def scale_bar(scale: Scale, at: Point, system: str) -> ScaleBar:
    """Four boxes of a round length, together about 50 mm of paper."""
    unit, name = (0.3048, "ft") if system == "us" else (1.0, "m")
    rounds = [n * 10.0**k for k in range(-3, 4) for n in (1, 2, 5)]
    if system == "us":
        rounds = [0.25, 0.5, *(n for n in rounds if n >= 1)]
    apart = [n for n in rounds if n * unit * scale.mm >= 9]  # so that the figures stand clear of each other
    step = min(apart, key=lambda n: abs(4 * n * unit * scale.mm - 50))
    texts = [f"{step * i:g}" for i in range(4)] + [f"{4 * step:g} {name}"]
    return ScaleBar(at, tuple((i * step * unit, text) for i, text in enumerate(texts)))


def spread(wanted: Sequence[float], rooms: Sequence[float]) -> tuple[float, ...]:
    """Places in the wanted order (ascending), as near to the wanted ones as rooms side by side allow.

    Neighbours that would touch are put in one block, and a block stands at the mean of what its members want.
    """
    starts, offset = [], 0.0
    for i, room in enumerate(rooms):
        offset += (rooms[i - 1] + room) / 2 if i else 0.0
        starts.append(offset)
    blocks: list[tuple[float, int]] = []  # mean of wanted - start, members
    for want, start in zip(wanted, starts):
        mean, members = want - start, 1
        while blocks and blocks[-1][0] >= mean:
            last, many = blocks.pop()
            mean, members = (last * many + mean * members) / (many + members), many + members
        blocks.append((mean, members))
    means = [mean for mean, members in blocks for _ in range(members)]
    return tuple(mean + start for mean, start in zip(means, starts))


def _side(outline: Box, side: str) -> _Side:
    left, bottom, right, top = outline
    return {
        "below": _Side(False, -1, bottom),
        "above": _Side(False, 1, top),
        "left": _Side(True, -1, left),
        "right": _Side(True, 1, right),
    }[side]


@dataclass(frozen=True)
class _Gap:
    """One dimension of a row: millimetres along the side, and outward from the outline."""

    a: Station
    b: Station
    text: str
    middle: float
    slack: float  # how far its text may move inside it; negative: it does not fit
    half: float  # of the text's room


def _row(
    scale: Scale, here: _Side, chain: Chain, line: float, crossings: list[float], say: Say
) -> tuple[list[Linear], float]:
    """The dimensions of one chain, and how far out they reach [mm].

    Texts inside their gaps come first. The others follow from left to right; each leaves open the way straight out of
    the gaps that are still to come, so that a place is always found.
    """
    frame = FRAME if chain.layer is CHECK else 0.0
    walls = [_upright(s, 0.0) for s in crossings]  # witness lines of outer chains
    gaps = _gaps(scale, here, chain, frame, say)
    waiting = [gap.middle for gap in gaps if gap.slack < 0]
    boxes: list[Outline] = []
    leads: list[Outline] = []
    row: list[Linear] = []
    for gap in sorted(gaps, key=lambda gap: gap.slack < 0):
        tries = partial(_inside, gap, line, here.reads_outward, _HALF + frame)
        if gap.slack < 0:
            waiting.pop(0)
            tries = partial(_lanes, gap, line, here.reads_outward, _HALF + frame, waiting[:1], chain.layer)
        ways = [_upright(s, line) for s in waiting] if gap.slack < 0 else []
        put = _free(tries(), boxes, leads, ways, walls) or _free(tries(), boxes, leads, ways, []) or next(tries())
        boxes.append(put.box)
        leads += [put.lead] if put.lead else []
        along, out = (put.box[0][0] + put.box[2][0]) / 2, (put.box[0][1] + put.box[2][1]) / 2
        row.append(
            Linear(
                here.start(gap.a),
                here.start(gap.b),
                here.point(here.along(gap.a), line / scale.mm),
                gap.text,
                90.0 if here.upright else 0.0,
                (along - gap.middle, (out - line) * here.reads_outward),
                gap.slack < 0,
                chain.layer,
            )
        )
    return row, max(line + WITNESS_OVER, *(box[2][1] for box in boxes))


@dataclass(frozen=True)
class _Put:
    """A place for a text: its room, and the leader to it where it stands outside its gap."""

    box: Outline
    lead: Outline = ()


def _gaps(scale: Scale, here: _Side, chain: Chain, frame: float, say: Say) -> list[_Gap]:
    stations = sorted(chain.stations, key=here.along)
    gaps = []
    for i, (a, b) in enumerate(zip(stations, stations[1:])):
        start, end = here.along(a), here.along(b)
        text = chain.texts[i] if chain.texts else say(end - start)
        half = width(text, HEIGHT) / 2 + _AIR + frame
        gaps.append(_Gap(a, b, text, (start + end) / 2 * scale.mm, (end - start) * scale.mm / 2 - half, half))
    return gaps


def _free(
    tries: Iterable[_Put], boxes: list[Outline], leads: list[Outline], ways: list[Outline], walls: list[Outline]
) -> _Put | None:
    """The first place where neither the text nor its leader meets what is there; only the text keeps off walls."""
    for put in tries:
        if any(clash(put.box, other) for other in (*boxes, *walls)):
            continue
        if any(clash(put.box, other, _SLIT) for other in (*leads, *ways)):
            continue
        if put.lead and any(clash(put.lead, other, _SLIT) for other in boxes):
            continue
        if not put.lead or not any(clash(put.lead, other) for other in (*leads, *ways)):
            return put
    return None


def _inside(gap: _Gap, line: float, outward: int, high: float) -> Iterator[_Put]:
    """Places on the dimension line, the middle first."""
    out = line + outward * (TEXT_GAP + HEIGHT / 2)
    moves = [*map(float, range(int(gap.slack) + 1)), gap.slack] if gap.slack >= 0 else []
    yield from (_Put(_room(gap, gap.middle + way * move, out, high)) for move in moves for way in (1, -1))


def _lanes(gap: _Gap, line: float, outward: int, high: float, coming: list[float], layer: Layer) -> Iterator[_Put]:
    """Places outside the dimension line, near ones first; a lane further out counts as much as 6 mm along."""
    lane = 2 * high + _AIR
    start = line + (TEXT_GAP + HEIGHT / 2 + lane if outward > 0 else WITNESS_OVER + 2 * _AIR + high)
    moves = [i * 1.5 for i in range(-24, 25)] + [way - _SLIT_EDGE - gap.half - gap.middle for way in coming]
    for _, k, move in sorted((abs(move) + 6 * k, k, move) for k in range(16) for move in moves):
        along, out = gap.middle + move, start + lane * k
        lead = ((gap.middle, line), (lead_to(along, gap.text, gap.middle, layer), out - high))
        yield _Put(_room(gap, along, out, high), lead)


def _room(gap: _Gap, along: float, out: float, high: float) -> Outline:
    return rectangle(along - gap.half, out - high, along + gap.half, out + high)


def _upright(along: float, start: float) -> Outline:
    return (along, start), (along, 1e4)
