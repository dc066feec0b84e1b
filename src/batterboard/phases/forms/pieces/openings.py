"""Where does something pass through a form, and what closes the hole before the pour?

    beam      : cast before the pier: the panel is notched over it; with the pier: it stays open; after: its bars pass
    pipe      : bored where its centre line crosses the panel
    clean-out : a door at the foot of a form that stands on concrete cast before, so that the joint can be blown clean
    bulkhead  : ends a beam that is cast before its pier; the beam's bars and pipes pass through it

A panel with a closed window over a beam is threaded on it once the beam is hard: it is sawn in two there.
"""

from collections.abc import Iterator, Mapping

import numpy as np

from batterboard.methods import solids
from batterboard.phases.forms.pieces.panels import Sight
from batterboard.phases.forms.pieces.planes import Array, FormPlanes
from batterboard.phases.forms.pieces.results import Bulkhead, Opening, Point
from batterboard.quantity import inch
from batterboard.work.records import Beam, Body, Frame, Work
from batterboard.working import nan

# Common practice, no source.
_PIPE_ROOM = 1 / 8 * inch  # a hole is bored wider than what passes by this much
_BAR_ROOM = 1 / 4 * inch
_DOOR = (6 * inch, 4 * inch)  # wide, high
_LEAST = 1e-3  # [m] of a cut-out worth sawing

_EARLIER, _TOGETHER = "the beam itself, cast before", "nothing: the beam is placed with it"
_BAR, _PIPE = "tape or foam round the bar", "tape or foam round the pipe"
_SHUT = "the piece cut out, on a cleat, once the joint is clean"


def openings_of(
    form: FormPlanes, body: Body, seen: Mapping[str, Sight], work: Work, lift: int, foot: float
) -> dict[str, list[Opening]]:
    """What is cut out of each side of a form. foot : level of its underside."""
    lifts = {one.name: lift.number for lift in work.lifts for one in lift.bodies}
    found: dict[str, list[Opening]] = {side: [] for side in seen}
    for beam in work.beams.values():
        if body.element in beam.between and body.part in ("pier", "slab"):
            for side, opening in _beam(beam, body, form, seen, lifts, lift, foot):
                found[side].append(opening)
    for pipe in work.pipes.values():
        line = _inside(foot, body, np.stack(np.broadcast_arrays(pipe.x, pipe.y, pipe.z), axis=-1))
        for side, sight in seen.items():
            for point in _crossings(sight, line):
                if not any(_within(point, opening) for opening in found[side]):
                    hole = float(pipe.size.outside) + _PIPE_ROOM
                    found[side].append(_round("pipe", pipe.name, point, hole, _PIPE))
    if form.kind != "edge" and any(lifts[one.name] < lift and _below(one, body, foot) for one in work.bodies):
        free = {side: sight for side, sight in seen.items() if not _boxed_at_foot(body, sight, foot)}
        door = _door(form.name, free, found)
        if door:
            found[door[0]].append(door[1])
    return found


def _boxed_at_foot(body: Body, sight: Sight, foot: float) -> bool:
    """Whether a blockout stands on that side where the door would be."""
    for hole in body.blockouts:
        points = np.column_stack([v.ravel() for v in hole.corners]) - (0.0, 0.0, foot - float(body.bottom))
        here = points[np.abs(points @ sight.wall.normal - sight.wall.offset) < _LEAST]
        if len(here) and float(np.min(here[:, 2])) < _DOOR[1] + _LEAST:
            return True
    return False


def _below(one: Body, body: Body, foot: float) -> bool:
    """Whether the form stands on that block."""
    return one.element == body.element and abs(float(one.top) - foot) < _LEAST


def _inside(foot: float, body: Body, points: Array) -> Array:
    """Points (n, 3) of the job in the form's axes."""
    along, across = body.frame.into(points[..., 0], points[..., 1])
    return np.stack((along, across, points[..., 2] - foot), axis=-1)


def _crossings(sight: Sight, line: Array) -> Iterator[Point]:
    """Where a line of corners goes through the inside of a panel, in its u and v."""
    wall, solid = sight.wall, sight.solid
    deep = wall.offset - line @ wall.normal
    for a, b, one, other in zip(deep, deep[1:], line, line[1:], strict=False):
        if (a > 0) != (b > 0):
            point = one + (other - one) * a / (a - b)
            if np.max(solid.normals @ point - solid.offsets) <= 1e-6:
                yield sight.at(point)[0]


def _round(kind: str, of: str, middle: Point, hole: float, closed_with: str) -> Opening:
    (u, v), r = middle, hole / 2
    square = ((u - r, v - r), (u + r, v - r), (u + r, v + r), (u - r, v + r))
    return Opening(kind=kind, of=of, outline=square, middle=middle, hole=hole, closed_with=closed_with)  # type: ignore[arg-type]


def _within(point: Point, opening: Opening) -> bool:
    us, vs = zip(*opening.outline, strict=True)
    return bool(min(us) <= point[0] <= max(us) and min(vs) <= point[1] <= max(vs))


# ---- beams ----


def _beam(
    beam: Beam,
    body: Body,
    form: FormPlanes,
    seen: Mapping[str, Sight],
    lifts: Mapping[str, int],
    lift: int,
    foot: float,
) -> Iterator[tuple[str, Opening]]:
    block = beam.body
    ahead = 1.0 if beam.between[1] == body.element else -1.0  # the way on from its end into this pier
    half, wide = float(block.outline.along) / 2, float(block.outline.across) / 2
    reach = float(body.outline.along + body.outline.across)
    along = np.array([-half, half + reach, half + reach, -half]) * ahead
    across = np.array([-wide, -wide, wide, wide]) * ahead
    x, y = body.frame.into(*block.frame.out(along, across))
    grown = solids.prism(x, y, float(block.bottom) - foot, float(block.top) - foot)
    middle = np.append(np.array(body.frame.into(block.frame.x, block.frame.y), float), 0.0)
    before = lifts[block.name] - lift
    for side, sight in seen.items():
        if middle @ sight.wall.normal <= sight.wall.offset:
            continue  # it leaves the pier through another side
        cut = solids.common(sight.solid, grown).face_on(-sight.wall.normal)
        if len(cut) < 3:
            continue
        if before <= 0:
            outline = sight.at(cut[::-1])
            (low, high), (left, right) = _span(outline, 1), _span(outline, 0)
            if min(high - low, right - left) > _LEAST:
                centre = ((left + right) / 2, (low + high) / 2)
                shut = _EARLIER if before < 0 else _TOGETHER
                yield (
                    side,
                    Opening(kind="beam", of=beam.name, outline=outline, middle=centre, hole=nan, closed_with=shut),
                )
            continue
        for mark, size, line in _bar_lines(beam):
            for point in _crossings(sight, _inside(foot, body, line)):
                yield side, _round("bar", mark, point, size + _BAR_ROOM, _BAR)


def _span(outline: tuple[Point, ...], axis: int) -> tuple[float, float]:
    values = [point[axis] for point in outline]
    return min(values), max(values)


def _bar_lines(beam: Beam) -> Iterator[tuple[str, float, Array]]:
    """Each long bar's centre line in the job's axes."""
    for bar in beam.bars:
        if bar.role not in ("top", "bottom"):
            continue
        xs, ys, zs = np.broadcast_arrays(bar.x, bar.y, bar.z)
        for along, across, z in zip(xs, ys, zs, strict=True):
            x, y = beam.frame.out(along, across)
            yield bar.mark, float(bar.size.diameter), np.stack((x, y, z), axis=-1)


def bulkheads_of(work: Work, thick: float) -> Iterator[Bulkhead]:
    """The ends of beams that are cast before one of their piers."""
    lifts = {one.name: lift.number for lift in work.lifts for one in lift.bodies}
    for beam in work.beams.values():
        block = beam.body
        half = float(block.outline.along) / 2
        for sign, end in zip((-1.0, 1.0), beam.between, strict=True):
            base = work.bases[end]
            if lifts[base.bodies[-1].name] <= lifts[block.name]:
                continue
            low = max(float(block.bottom), float(base.bodies[-1].bottom))
            x, y = block.frame.out(sign * half, 0.0)
            from_pier = Frame(x=x, y=y, turn=block.frame.turn + (0.0 if sign < 0 else np.pi))
            yield Bulkhead(
                mark=f"{beam.name} bulkhead {end}",
                beam=beam.name,
                pier=end,
                wide=float(block.outline.across),
                high=float(block.top) - low,
                thick=thick,
                holes=tuple(_through_end(beam, work, from_pier, low)),
            )


def _through_end(beam: Beam, work: Work, eye: Frame, low: float) -> Iterator[Opening]:
    """Bars and pipes that go through the upright plane at the end of a beam, as seen from its pier."""
    wide, high = float(beam.body.outline.across), float(beam.body.top) - low
    lines = [("bar", mark, size + _BAR_ROOM, line, _BAR) for mark, size, line in _bar_lines(beam)]
    for pipe in work.pipes.values():
        line = np.stack(np.broadcast_arrays(pipe.x, pipe.y, pipe.z), axis=-1)
        lines.append(("pipe", pipe.name, float(pipe.size.outside) + _PIPE_ROOM, line, _PIPE))
    for kind, of, hole, line, shut in lines:
        ahead, left = eye.into(line[:, 0], line[:, 1])
        for i in np.flatnonzero((ahead[:-1] > 0) != (ahead[1:] > 0)):
            part = ahead[i] / (ahead[i] - ahead[i + 1])
            y = left[i] + part * (left[i + 1] - left[i])
            z = line[i, 2] + part * (line[i + 1, 2] - line[i, 2])
            point = (float(wide / 2 - y), float(z - low))
            if 0 < point[0] < wide and 0 < point[1] < high:
                yield _round(kind, of, point, hole, shut)


# ---- clean-out ----


def _door(name: str, seen: Mapping[str, Sight], found: Mapping[str, list[Opening]]) -> tuple[str, Opening] | None:
    """At the foot of the first side that is whole, from the back on."""
    for side in (*(s for s in ("back", "right", "left") if s in seen), *seen):
        face = seen[side].seen(-seen[side].wall.normal)
        foot = [u for u, v in face if v < _LEAST]
        middle, wide = (min(foot) + max(foot)) / 2, max(foot) - min(foot)
        if not found[side] and wide >= 2 * _DOOR[0]:
            left, right = middle - _DOOR[0] / 2, middle + _DOOR[0] / 2
            outline = ((left, 0.0), (right, 0.0), (right, _DOOR[1]), (left, _DOOR[1]))
            return side, Opening(
                kind="clean-out",
                of=f"{name} door",
                outline=outline,
                middle=(middle, _DOOR[1] / 2),
                hole=nan,
                closed_with=_SHUT,
            )
    return None
