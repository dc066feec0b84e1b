"""Where along a beam is its underside clear of the ground, and how high does the ground lie there?

    stretch : Stretch(start=0.0, end=1.0, left=(...), right=(...), ...)     shares of its length, levels at all stations

One stretch a beam: from the first place that is clear to the last. What stands under it is sized in `soffit`.
"""

from typing import Any

import numpy as np

from batterboard.phases.forms.shape import STATIONS
from batterboard.quantity import Length, Number, ft, inch
from batterboard.record import record
from batterboard.work.ground import Ground
from batterboard.work.records import Body

SHORTEST = 2 * ft  # of a stretch: two pairs have room under it
CLEAR = 1 * inch  # nearer to the ground than this, earth is tamped under it instead; common practice, no source


@record
class Stretch:
    """Where the underside is clear, in shares of the beam's length; levels of the ground at all stations."""

    start: Number
    end: Number
    left: Any  # (stations, ...) of the whole beam
    right: Any
    lowest: Any  # across it, the middle too
    highest: Any
    bottom: Length  # level of the underside


def stretch_of(body: Body, ground: Ground) -> Stretch | None:
    """From the first to the last place that is clear in any variant, a station farther; None where nothing is."""
    o, frame = body.outline, body.frame
    variants = max(np.ndim(o.along + o.across + body.bottom + frame.x + frame.y), np.ndim(ground.z) - 1)
    share = np.linspace(-0.5, 0.5, STATIONS).reshape((-1,) + (1,) * variants)
    along = share * o.along
    level = np.stack([ground.level(*frame.out(along, off + 0 * along)) for off in _offsets(o.across)], axis=0)
    lowest, highest = level.min(axis=0), level.max(axis=0)
    clear = np.reshape(body.bottom - lowest >= CLEAR, (STATIONS, -1)).any(axis=1)
    if not clear.any():
        return None
    first, last = np.flatnonzero(clear)[[0, -1]]
    first, last = max(first - 1, 0), min(last + 1, STATIONS - 1)
    station = float(np.min(o.along)) / (STATIONS - 1)
    while (last - first) * station < SHORTEST and last - first < STATIONS - 1:
        first, last = max(first - 1, 0), min(last + 1, STATIONS - 1)
    return Stretch(
        start=float(first / (STATIONS - 1)),
        end=float(last / (STATIONS - 1)),
        left=level[0],
        right=level[-1],
        lowest=lowest,
        highest=highest,
        bottom=body.bottom,
    )


def _offsets(across: Length) -> tuple[Length, Length, Length]:
    return across / 2, 0 * across, -across / 2


def level_at(level: Any, share: float) -> Any:
    """Of the ground between two stations."""
    place = share * (STATIONS - 1)
    low = min(int(place), STATIONS - 2)
    part = place - low
    return level[low] * (1 - part) + level[low + 1] * part
