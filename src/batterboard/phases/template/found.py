"""The plate on its bolts as found: how does it lie best, which holes must be opened, what does the moved post do?

    lie      : shift and turn that leave the tightest hole the most to spare
    opening  : Opening(number=2, way="ahead left", by=0.0024, ...)      a hole opened, as few as will do

Decided on the numbers as they come; only what he is told to cut is rounded, and that up. A rod that leans must pass
at the underside and at the top of the plate. Which remedy is taken, and what it changes elsewhere, is asked in `study`.
"""

from collections.abc import Iterator
from itertools import combinations
from typing import Any

import numpy as np
from numpy.typing import NDArray

from batterboard.methods.fit import Fit, minimax_fit
from batterboard.phases.template.results import Agreement, Moved, Opening, Pattern, Remade, Rod, Seat, Spot
from batterboard.quantity import inch
from batterboard.work.records import Bolts, Machine, Plate, Post, Work
from batterboard.working import ceil, cos, hypot, nan, sin

AGREE = inch / 8  # two ways of measuring one bolt with a tape, common practice
STEP = inch / 32  # what is filed or drilled more is rounded up to this
EASE = STEP / 8  # and leaves this at least, so that the plate drops on and is not driven
PLATES = inch / 4  # a new plate is cut to whole steps of this
_SAWN = inch / 16  # and to no less than its edges need, with this for the saw
_NOTHING = 1e-9  # a hole that is short by less is not opened [m]
_HALVINGS = 40  # of the widest opening: the least one is then known to a nanometre
_MOST = 4000  # sets of holes looked at; more are not tried, all holes are drilled wider instead
_WINDS = ("ahead", "ahead left", "left", "back left", "back", "back right", "right", "ahead right")

Array = NDArray[np.float64]


def was_found(bolts: Bolts) -> bool:
    """Whether somebody looked; of one job, since what to open is decided bolt by bolt."""
    return bool(bolts.found) and np.ndim(bolts.found_x) == 1


def agreements(bolts: Bolts) -> Iterator[Agreement]:
    for number, ways in bolts.sights.items():
        for way, x, y in ways[1:]:
            first, x_0, y_0 = ways[0]
            apart = hypot(x - x_0, y - y_0)
            yield Agreement(name=f"{bolts.name} bolt {number}", ways=(first, way), apart=apart, allowed=AGREE)


def seat(work: Work, thing: Post | Machine, plate: Plate, bolts: Bolts, pattern: Pattern) -> Seat:
    """How one plate lies best on its bolts, and what to do where it does not drop on."""
    rows = _Rows(bolts, plate)
    best = rows.fit()
    rods = tuple(_rods(bolts, plate, rows, best))
    tightest = min(rods, key=lambda rod: rod.spare)
    more = 2 * _cut(-tightest.spare)
    lowest = min(rods, key=lambda rod: rod.proud)
    return Seat(
        name=thing.name,
        shift_ahead=float(best.shift_x),
        shift_left=float(best.shift_y),
        turn=float(best.turn),
        spare=float(best.spare),
        tightest=tightest.number,
        rods=rods,
        openings=() if best.spare >= 0 else tuple(_openings(bolts, plate, rows, pattern)),
        hole_for_all=plate.hole + more,
        washer_for_all=_washer(plate.hole + more, bolts, more / 2 + pattern.clearance),
        remade=_remade(bolts, plate, pattern),
        moved=tuple(_moved(work, thing, bolts, best)),
        lowest=lowest.number,
        short=max(0.0, pattern.budget.needed - lowest.proud),
    )


class _Rows:
    """What the plate asks of its holes: a row for each rod, two for one that leans a known way."""

    def __init__(self, bolts: Bolts, plate: Plate) -> None:
        self.hole, self.x, self.y, self.room = bolts.room(plate.hole, plate.grout, plate.grout + plate.thick)
        self.hole_x, self.hole_y = np.asarray(bolts.x, float)[self.hole], np.asarray(bolts.y, float)[self.hole]
        self.count = len(bolts.x)

    def fit(self, more: Any = 0.0) -> Fit:
        """The best lie with so much more room, by row; several tries may be its last axis."""
        room = self.room if np.ndim(more) < 2 else self.room[:, None]
        return minimax_fit(self.hole_x, self.hole_y, *self._bolts(more), room + more)

    def _bolts(self, more: Any) -> tuple[Array, Array]:
        if np.ndim(more) < 2:
            return self.x, self.y
        shape = np.shape(more)
        return np.broadcast_to(self.x[:, None], shape), np.broadcast_to(self.y[:, None], shape)

    def of(self, number: int) -> Any:
        """The rows of a hole."""
        return self.hole == number - 1

    def off(self, lie: Fit, row: int) -> tuple[float, float]:
        """The rod from its hole's middle, in the plate's axes once it lies there."""
        c, s = cos(float(lie.turn)), sin(float(lie.turn))
        x, y = self.x[row] - lie.shift_x, self.y[row] - lie.shift_y
        return float(c * x + s * y - self.hole_x[row]), float(c * y - s * x - self.hole_y[row])


def _rods(bolts: Bolts, plate: Plate, rows: _Rows, lie: Fit) -> Iterator[Rod]:
    for i in range(rows.count):
        number = i + 1
        ahead, left = float(bolts.found_x[i] - bolts.x[i]), float(bolts.found_y[i] - bolts.y[i])
        mine = rows.of(number)
        yield Rod(
            number=number,
            ahead=ahead,
            left=left,
            off=hypot(ahead, left),
            lean=float(bolts.leans.get(number, 0.0)),
            way=bolts.lean_ways.get(number, ""),
            proud=float(bolts.proud[i]),
            hole=float(bolts.opened.get(number, plate.hole)),
            offset=float(np.max(lie.offsets[mine])),
            spare=float(np.min((rows.room - lie.offsets)[mine])),
        )


# ---- holes to open ----


def _openings(bolts: Bolts, plate: Plate, rows: _Rows, pattern: Pattern) -> Iterator[Opening]:
    """The fewest holes, and of so few those that must be opened least; the first that keep their edges count."""
    tried = 0
    for few in range(1, rows.count + 1):
        sets = list(combinations(range(rows.count), few))
        tried += len(sets)
        if tried > _MOST:
            return
        made = sorted(_opened(bolts, plate, rows, pattern, sets), key=lambda holes: _trouble(bolts, holes))
        kept = next((holes for holes in made if all(hole.possible for hole in holes)), None)
        if kept is not None:
            yield from kept
            return


def _trouble(bolts: Bolts, holes: tuple[Opening, ...]) -> tuple[float, bool, float]:
    """Little filed before much, under the washers he has, and rather the holes of bolts that stand off."""
    off = sum(float(np.hypot(bolts.found_x - bolts.x, bolts.found_y - bolts.y)[hole.number - 1]) for hole in holes)
    return max(hole.by for hole in holes), not all(hole.washer_covers for hole in holes), -off


def _opened(
    bolts: Bolts, plate: Plate, rows: _Rows, pattern: Pattern, sets: list[tuple[int, ...]]
) -> Iterator[tuple[Opening, ...]]:
    """For each set of holes that helps, how far each of them must be opened at least."""
    chosen = np.stack([np.isin(rows.hole, holes) for holes in sets], axis=1).astype(float)
    low, high = np.zeros(len(sets)), np.full(len(sets), float(plate.hole))
    helps = rows.fit(chosen * high).spare >= 0
    sets = [holes for holes, help_ in zip(sets, helps, strict=True) if help_]
    if not sets:
        return
    chosen, low, high = chosen[:, helps], low[helps], high[helps]
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        enough = rows.fit(chosen * middle).spare >= 0
        low, high = np.where(enough, low, middle), np.where(enough, middle, high)
    for i in range(len(sets)):
        lie = rows.fit(chosen[:, i] * high[i])
        holes = tuple(hole for k in sets[i] if (hole := _opening(bolts, plate, rows, pattern, lie, k + 1)).by > 0)
        if holes:
            yield holes


def _opening(bolts: Bolts, plate: Plate, rows: _Rows, pattern: Pattern, lie: Fit, number: int) -> Opening:
    short = np.where(rows.of(number), lie.offsets - rows.room, -np.inf)
    row = int(np.argmax(short))
    by = _cut(float(short[row]) - _NOTHING)
    x, y = rows.off(lie, row)
    turn = float(np.arctan2(y, x))
    hole = float(bolts.opened.get(number, plate.hole))
    end = (float(bolts.x[number - 1]) + by * cos(turn), float(bolts.y[number - 1]) + by * sin(turn))
    washer = _washer(hole, bolts, (hole - bolts.rod.diameter) / 2 + by)
    return Opening(
        number=number,
        turn=turn,
        way=_WINDS[round(turn / (np.pi / 4)) % 8],
        by=by,
        hole=hole + 2 * by,
        washer=washer,
        washer_covers=bool(bolts.rod.washer >= washer),
        edge=min(plate.along / 2 - abs(end[0]), plate.across / 2 - abs(end[1])),
        edge_needed=float(pattern.least_edge),
    )


def _cut(short: float) -> float:
    """What is filed or drilled where so much is short."""
    return float(ceil((short + EASE) / STEP)) * STEP if short > 0 else 0.0


def _washer(hole: Any, bolts: Bolts, off: Any) -> float:
    """A washer round its rod that covers a hole whose middle is so far off."""
    return float(2 * (off + hole / 2))


def _remade(bolts: Bolts, plate: Plate, pattern: Pattern) -> Remade:
    def side(old: Any, places: Any) -> float:
        needed = 2 * (float(np.max(np.abs(places))) + float(pattern.least_edge)) + _SAWN
        return float(max(old, ceil(needed / PLATES) * PLATES))

    places = zip(bolts.found_x, bolts.found_y, strict=True)
    return Remade(
        along=side(plate.along, bolts.found_x),
        across=side(plate.across, bolts.found_y),
        spots=tuple(Spot(number=i, x=float(x), y=float(y)) for i, (x, y) in enumerate(places, 1)),
    )


# ---- what the moved post does ----


def _moved(work: Work, thing: Post | Machine, bolts: Bolts, lie: Fit) -> Iterator[Moved]:
    c, s = cos(bolts.frame.turn), sin(bolts.frame.turn)
    dx, dy = lie.shift_x * c - lie.shift_y * s, lie.shift_x * s + lie.shift_y * c
    for leaf in work.leaves.values():
        if thing.name not in (leaf.hinge_post, leaf.latch_post):
            continue
        hinge = thing.name == leaf.hinge_post
        along = float(dx * cos(leaf.turn) + dy * sin(leaf.turn))
        aside = float(dy * cos(leaf.turn) - dx * sin(leaf.turn))
        reach = work.posts[leaf.hinge_post].section.depth / 2 + leaf.hinge_gap + leaf.length
        yield Moved(
            leaf=leaf.name,
            end="hinge" if hinge else "latch",
            closes=along if hinge else -along,
            aside=aside,
            at_latch=float(aside + reach * sin(float(lie.turn))) if hinge else nan,
        )
