"""The plate on its bolts as found: how does it lie best, which holes must be opened, what does the moved post do?

    lie      : shift and turn that leave the tightest hole the most to spare
    opening  : Opening(number=2, way="ahead left", by=0.0024, ...)      a hole slotted, as few as will do

Decided on the numbers as they come; only what he is told to cut is rounded, and that up. A rod that leans must pass
at the underside and at the top of the plate. Which remedy is taken, and what it changes elsewhere, is asked in `study`.
"""

from collections.abc import Iterator, Mapping
from itertools import combinations
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from batterboard.methods.fit import Fit, minimax_fit
from batterboard.phases.template.results import Agreement, Moved, Opening, Pattern, Remade, Rod, Seat, Spot
from batterboard.quantity import inch
from batterboard.work.records import Bolts, Machine, Plate, Post, Room, Work
from batterboard.working import ceil, cos, hypot, nan, sin

AGREE = inch / 8  # two ways of measuring one bolt with a tape, common practice
STEP = {"us": inch / 16, "si": 0.001}  # what is filed or drilled more is rounded up to the marks he measures by
EASE = inch / 256  # and leaves this at least, so that the plate drops on and is not driven
PLATES = {"us": inch / 4, "si": 0.005}  # a new plate is cut to whole steps of this
_SAWN = inch / 16  # and to no less than its edges need, with this for the saw
_NOTHING = 1e-9  # a hole that is short by less is not opened [m]
_HALVINGS = 40  # of the widest opening: the least one is then known to a nanometre
_LONGER = 2  # steps that a slot may be longer than at least, where it then runs one of the eight ways
_MOST = 4000  # sets of holes looked at; more are not tried, all holes are drilled wider instead
_EIGHTH, _DEGREE = np.pi / 4, np.pi / 180
_WINDS = ("ahead", "ahead left", "left", "back left", "back", "back right", "right", "ahead right")

Array = NDArray[np.float64]
Units = Literal["us", "si"]


def was_found(bolts: Bolts) -> bool:
    """Whether somebody looked; of one job, since what to open is decided bolt by bolt."""
    return bool(bolts.found) and np.ndim(bolts.found_x) == 1


def agreements(bolts: Bolts) -> Iterator[Agreement]:
    for number, ways in bolts.sights.items():
        for way, x, y in ways[1:]:
            first, x_0, y_0 = ways[0]
            apart = hypot(x - x_0, y - y_0)
            yield Agreement(name=f"{bolts.name} bolt {number}", ways=(first, way), apart=apart, allowed=AGREE)


def seat(work: Work, thing: Post | Machine, plate: Plate, bolts: Bolts, pattern: Pattern, units: Units) -> Seat:
    """How one plate lies best on its bolts, and what to do where it does not drop on."""
    rows = _Rows(bolts, plate, units)
    best = rows.fit()
    rods = tuple(_rods(bolts, plate, rows, best))
    tightest = min(rods, key=lambda rod: rod.spare)
    more = 2 * _cut(-tightest.spare, rows.step)
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
        remade=_remade(rows, plate, pattern),
        moved=tuple(_moved(work, thing, bolts, best)),
        lowest=lowest.number,
        short=max(0.0, pattern.budget.needed - lowest.proud),
    )


class _Rows:
    """What the plate asks of its holes: a row for each rod, two for one that leans a known way."""

    def __init__(self, bolts: Bolts, plate: Plate, units: Units) -> None:
        self.step, self.sheet = STEP[units], PLATES[units]
        self.room: Room = bolts.room(plate.hole, plate.grout, plate.grout + plate.thick)
        self.hole, self.off = self.room.hole, self.room.off
        self.hole_x, self.hole_y = np.asarray(bolts.x, float)[self.hole], np.asarray(bolts.y, float)[self.hole]
        self.count = len(bolts.x)

    def fit(self, more: Any = 0.0, slots: Mapping[int, tuple[float, float]] | None = None) -> Fit:
        """The best lie with so much more room, by row, or other slots; several tries may be the last axis of more."""
        room, off = self.room, self.off if np.ndim(more) < 2 else self.off[:, None]
        slot_x, slot_y = np.array(room.slot_x, float), np.array(room.slot_y, float)
        for number, slot in (slots or {}).items():
            slot_x[self.of(number)], slot_y[self.of(number)] = slot
        return minimax_fit(self.hole_x, self.hole_y, *self._bolts(more), off + more, slot_x, slot_y)

    def _bolts(self, more: Any) -> tuple[Array, Array]:
        x, y = self.room.x, self.room.y
        if np.ndim(more) < 2:
            return x, y
        shape = np.shape(more)
        return np.broadcast_to(x[:, None], shape), np.broadcast_to(y[:, None], shape)

    def of(self, number: int) -> Any:
        """The rows of a hole."""
        return self.hole == number - 1

    def each(self) -> Iterator[Any]:
        return (self.of(i + 1) for i in range(self.count))

    def aside(self, lie: Fit, row: int) -> tuple[float, float]:
        """The rod from its hole's middle, in the plate's axes once it lies there."""
        c, s = cos(float(lie.turn)), sin(float(lie.turn))
        x, y = self.room.x[row] - lie.shift_x, self.room.y[row] - lie.shift_y
        return float(c * x + s * y - self.hole_x[row]), float(c * y - s * x - self.hole_y[row])


def _rods(bolts: Bolts, plate: Plate, rows: _Rows, lie: Fit) -> Iterator[Rod]:
    for i in range(rows.count):
        number = i + 1
        ahead, left = float(bolts.found_x[i] - bolts.x[i]), float(bolts.found_y[i] - bolts.y[i])
        mine, slot = rows.of(number), bolts.slots.get(number, (0.0, 0.0))
        yield Rod(
            number=number,
            looked=number in bolts.found,
            ahead=ahead,
            left=left,
            off=hypot(ahead, left),
            lean=float(bolts.leans.get(number, 0.0)),
            way=bolts.lean_ways.get(number, ""),
            proud=float(bolts.proud[i]),
            hole=float(bolts.opened.get(number, plate.hole)),
            slot=hypot(*slot),
            slot_way=_wind(_turn(*slot)) if number in bolts.slots else "",
            offset=float(np.max(lie.offsets[mine])),
            spare=float(np.min((rows.off - lie.offsets)[mine])),
        )


# ---- holes to open ----


def _openings(bolts: Bolts, plate: Plate, rows: _Rows, pattern: Pattern) -> Iterator[Opening]:
    """The fewest holes, and of so few those that must be opened least; the first that keep their edges count.

    A hole that is slotted already is not slotted once more.
    """
    tried, round_ = 0, [i for i in range(rows.count) if i + 1 not in bolts.slots]
    for few in range(1, len(round_) + 1):
        sets = list(combinations(round_, few))
        tried += len(sets)
        if tried > _MOST:
            return
        made = sorted(_opened(bolts, plate, rows, pattern, sets), key=lambda holes: _trouble(bolts, holes))
        told = (_told(bolts, plate, rows, pattern, holes) for holes in made if all(hole.possible for hole in holes))
        kept = next((holes for holes in told if all(hole.possible for hole in holes)), None)
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
        wanted = {k + 1: slot for k in sets[i] if (slot := _wanted(rows, lie, k + 1))[0] > 0}
        if wanted:
            yield tuple(_opening(bolts, plate, pattern, n, by, by, turn) for n, (by, turn) in wanted.items())


def _wanted(rows: _Rows, lie: Fit, number: int) -> tuple[float, float]:
    """How much longer a hole is wanted with the plate as it lies, and at what turn."""
    short = np.where(rows.of(number), lie.offsets - rows.off, -np.inf)
    row = int(np.argmax(short))
    return _cut(float(short[row]) - _NOTHING, rows.step), _turn(*rows.aside(lie, row))


def _told(bolts: Bolts, plate: Plate, rows: _Rows, pattern: Pattern, holes: tuple[Opening, ...]) -> tuple[Opening, ...]:
    """The same as he can be told it: one of eight ways where a slot little longer will do, else to the degree."""
    wanted = {hole.number: (hole.by, hole.turn) for hole in holes}
    for turns in (_EIGHTH, _DEGREE):
        for longer in range(_LONGER + 1):
            told = {n: (by + longer * rows.step, round(turn / turns) * turns) for n, (by, turn) in wanted.items()}
            slots = {n: (by * cos(turn), by * sin(turn)) for n, (by, turn) in told.items()}
            if rows.fit(slots=slots).spare >= 0:
                return tuple(_opening(bolts, plate, pattern, n, wanted[n][0], *slot) for n, slot in told.items())
    return holes


def _turn(x: float, y: float) -> float:
    return float(np.arctan2(y, x))


def _wind(turn: float) -> str:
    """The way in words where it is one of the eight, else its angle."""
    at = turn / _EIGHTH
    return _WINDS[round(at) % 8] if abs(at - round(at)) < _NOTHING else f"at {round(turn / _DEGREE) % 360} deg"


def _opening(
    bolts: Bolts, plate: Plate, pattern: Pattern, number: int, wider: float, by: float, turn: float
) -> Opening:
    hole = float(bolts.opened.get(number, plate.hole))
    end = (float(bolts.x[number - 1]) + by * cos(turn), float(bolts.y[number - 1]) + by * sin(turn))
    washer = _washer(hole, bolts, (hole - bolts.rod.diameter) / 2 + by)
    return Opening(
        number=number,
        turn=turn,
        way=_wind(turn),
        by=by,
        hole=hole + 2 * wider,
        washer=washer,
        washer_covers=bool(bolts.rod.washer >= washer),
        edge=min(plate.along / 2 - abs(end[0]), plate.across / 2 - abs(end[1])),
        edge_needed=float(pattern.least_edge),
    )


def _cut(short: float, step: float) -> float:
    """What is filed or drilled where so much is short."""
    return float(ceil((short + EASE) / step)) * step if short > 0 else 0.0


def _washer(hole: Any, bolts: Bolts, off: Any) -> float:
    """A washer round its rod that covers a hole whose middle is so far off."""
    return float(2 * (off + hole / 2))


def _remade(rows: _Rows, plate: Plate, pattern: Pattern) -> Remade:
    """Drilled where each rod passes the middle of the plate's thickness."""
    middles = [(float(np.mean(rows.room.x[mine])), float(np.mean(rows.room.y[mine]))) for mine in rows.each()]

    def side(old: Any, places: Any) -> float:
        needed = 2 * (float(np.max(np.abs(places))) + float(pattern.least_edge)) + _SAWN
        return float(max(old, ceil(needed / rows.sheet) * rows.sheet))

    return Remade(
        along=side(plate.along, [x for x, _ in middles]),
        across=side(plate.across, [y for _, y in middles]),
        spots=tuple(Spot(number=i, x=x, y=y) for i, (x, y) in enumerate(middles, 1)),
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
