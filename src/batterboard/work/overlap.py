"""How much concrete do two blocks share, so that no lift pays for it twice?

    block   : an upright prism, known by its outline, its frame and two levels        the tie beam, the west pad
    sides   : its walls as half-planes n . p <= c                                     four of a rectangle
    shared  : what earlier blocks already hold of it                                  0.12 m3 of the beam lie in pads

What convex plans share is where all their half-planes hold; its area is half the sum of c times the length of each
side that is left. One round plan is exact beside any others, a second one counts as a polygon of 48 sides and its area.
Chamfers are left out of account: the plans are those of the uncut forms. Of a block that leans in the three sections of
a prismatoid are taken, which is exact as long as the same sides meet over its height.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from batterboard.methods.volumes import prismatoid_volume
from batterboard.work.axes import Array, stacked, together
from batterboard.work.records import Body
from batterboard.working import cos, sin

_ON = 1e-9  # [m] walls nearer than this are one wall
_LEAST = 1e-9  # [m3] a tenth of a drop


def sharing(bodies: Sequence[Body]) -> tuple[Body, ...]:
    """The same bodies, each knowing what the ones before it already hold of it."""
    meets = _boxes_meet(bodies)
    result = []
    for number, body in enumerate(bodies):
        earlier = [bodies[i] for i in np.flatnonzero(meets[number, :number]).tolist()]
        shared = _held((body,), earlier) if earlier else 0.0
        result.append(replace(body, shared=shared) if np.any(shared) else body)
    return tuple(result)


def shared_volume(bodies: Sequence[Body]) -> Any:
    """What all of these have in common [m3]."""
    top, bottom = bodies[0].top, bodies[0].bottom
    for body in bodies[1:]:
        top, bottom = np.minimum(top, body.top), np.maximum(bottom, body.bottom)
    high = top - bottom
    if not np.any(high > _ON):
        return 0.0
    if all(body.upright for body in bodies):
        volume = shared_area(bodies) * high
    else:  # sides that lean move evenly, so three sections tell the whole
        areas = [shared_area([_upright(body, bottom + high * part) for body in bodies]) for part in (0.0, 0.5, 1.0)]
        volume = prismatoid_volume(areas[0], areas[1], areas[2], high)
    return np.where((high > _ON) & (volume > _LEAST), volume, 0.0)[()]


def shared_area(bodies: Sequence[Body]) -> Any:
    """Plan area that all of these have in common [m2]. Frames and sizes broadcast over variants."""
    bodies = sorted(bodies, key=lambda body: body.outline.kind != "round")
    round_one = bodies[0].outline.kind == "round"
    x, y = bodies[0].frame.x, bodies[0].frame.y
    walls = [wall for body in bodies[round_one:] for wall in _walls(body, x, y)]
    nx, ny, c = together(*(stacked(*column) for column in zip(*walls)))
    low, high = _left_of_sides(nx, ny, c)
    if round_one:
        return np.sum(_slice_of_disc(c, low, high, bodies[0].outline.along / 2), axis=0)
    return np.sum(c * (high - low), axis=0) / 2


def _upright(body: Body, z: Any) -> Body:
    """A block with the section that it has at a level."""
    return body if body.upright else replace(body, outline=body.section(z))


def _held(piece: tuple[Body, ...], earlier: Sequence[Body]) -> Any:
    """What the earlier bodies hold together of what the pieces have in common; what two of them hold counts once."""
    total: Any = 0.0
    for number, body in enumerate(earlier):
        smaller = (*piece, body)
        volume = shared_volume(smaller)
        if np.any(volume):
            total = total + volume - _held(smaller, earlier[:number])
    return total


def _walls(body: Body, x: Any, y: Any) -> list[tuple[Any, Any, Any]]:
    """Outward normal and distance from x, y of every wall."""
    outline, frame = body.outline, body.frame
    if outline.kind == "rectangle":
        reaches = [outline.along / 2, outline.across / 2] * 2
    elif outline.kind == "polygon":
        reaches = [outline.along / 2] * outline.sides
    else:
        reaches = [outline.along / 2 * float(np.sqrt(np.pi / 48 / np.tan(np.pi / 48)))] * 48
    walls = []
    for side, reach in enumerate(reaches):
        turn = frame.turn + 2 * np.pi * side / len(reaches)
        nx, ny = cos(turn), sin(turn)
        walls.append((nx, ny, (frame.x - x) * nx + (frame.y - y) * ny + reach))
    return walls


def _left_of_sides(nx: Array, ny: Array, c: Array) -> tuple[Array, Array]:
    """From where to where each wall's line bounds what all walls enclose, measured from its foot point."""
    rest = c - c[:, None] * (nx[:, None] * nx + ny[:, None] * ny)
    rises = nx[:, None] * ny - ny[:, None] * nx  # how fast line i runs out through wall j
    at = rest / np.where(np.abs(rises) <= _ON, 1.0, rises)
    high = np.min(np.where(rises > _ON, at, np.inf), axis=1)
    low = np.max(np.where(rises < -_ON, at, -np.inf), axis=1)
    # Of two walls in one line the first counts; a wall behind a parallel one does not bound.
    shape = (len(c), len(c)) + (1,) * (c.ndim - 1)
    first = np.tri(len(c), dtype=bool).T.reshape(shape)
    behind = (np.abs(rises) <= _ON) & (
        (rest < -_ON) | ((rest <= _ON) & ~first & (nx[:, None] * nx + ny[:, None] * ny > 0))
    )
    gone = np.any(behind, axis=1) | (high <= low)
    return np.where(gone, 0.0, low), np.where(gone, 0.0, high)


def _slice_of_disc(c: Array, low: Array, high: Array, radius: Any) -> Array:
    """Signed area of the triangle from the disc's centre to a piece of a line, as far as it lies in the disc."""
    away = np.abs(c)
    half = np.sqrt(np.maximum(radius * radius - away * away, 0))
    inner_low, inner_high = np.clip(-half, low, high), np.clip(half, low, high)

    def angle(t: Array) -> Array:
        return np.arctan2(t, away)

    outside = angle(inner_low) - angle(low) + angle(high) - angle(inner_high)
    area: Array = np.sign(c) * (radius * radius * outside + away * (inner_high - inner_low)) / 2
    return area


def _boxes_meet(bodies: Sequence[Body]) -> NDArray[np.bool_]:
    """Which pairs could share anything, by their boxes over all variants. Shape (bodies, bodies)."""
    boxes = np.array([_box(body) for body in bodies]).reshape(-1, 3, 2)
    low, high = boxes[:, :, 0], boxes[:, :, 1]
    meet: NDArray[np.bool_] = np.all((low[:, None] < high - _ON) & (low < high[:, None] - _ON), axis=2)
    return meet


def _box(body: Body) -> list[float]:
    frame, outline = body.frame, body.outline
    c, s = abs(cos(frame.turn)), abs(sin(frame.turn))
    if outline.kind == "polygon":
        along = across = outline.along / 2 / float(np.cos(np.pi / outline.sides))
    else:
        along, across = outline.along / 2, outline.across / 2
    wide, deep = along * c + across * s, along * s + across * c
    ends = (frame.x - wide, frame.x + wide, frame.y - deep, frame.y + deep, body.bottom, body.top)
    if all(type(end) is float for end in ends):
        return list(ends)
    return [float(np.min(end) if number % 2 == 0 else np.max(end)) for number, end in enumerate(ends)]
