"""If this happens: a truck is late, it rains, a form moves, a quarter yard is short. What then, in figures of this job?

    late    : Late(load=2, expected=9360.0, latest=10800.0)      the joint before it goes cold if it comes later
    moves   : Moves(lift=2, within=10800.0)                      how long filling may stop
    short   : Short(by=0.19, depth=0.31, stop_below=0.53, bags=12)
    left    : Left(volume=0.05, side=0.7)                        where a leftover goes

A short load ends at a joint that was planned before: under the feet of the bolts, level, roughened, the bars running
through; above that only bags reach the top. Times count from the first concrete at the form.
"""

from collections.abc import Iterator
from typing import Any, Literal

from batterboard.phases.pour.hour import Hour, Load, Placing
from batterboard.phases.pour.order import Order
from batterboard.quantity import Length, Number, Time, Volume, inch
from batterboard.record import record
from batterboard.standards import aci309, trade
from batterboard.work.records import Body, Work
from batterboard.working import nan

BELOW_BOLTS: Length = 2 * inch  # of concrete under the bolts' feet before a joint; ours, no source
SLAB: Length = 4 * inch  # a leftover is spread as thick in a form that lies ready
_BAG = {"us": "80 lb", "si": "25 kg"}


@record
class Late:
    """A load that is not there when it should be."""

    load: int
    expected: Time  # at the form
    latest: Time  # then what lies there is cold where the load should go on

    @property
    def name(self) -> str:
        return f"load {self.load}"


@record
class Moves:
    """Filling stops because a form gives way."""

    lift: int
    within: Time  # after the last concrete in it filling must go on, or the lift ends there

    @property
    def name(self) -> str:
        return f"lift {self.lift}"


@record
class Short:
    """The last load holds a step less than the piers need."""

    lift: int
    names: tuple[str, ...]
    by: Volume
    depth_of_one: Length  # missing if all of it is missing in one
    depth_of_all: Length  # and if it is shared
    joint: Length  # below the top: the highest level at which a joint may be; nan in a slab, which is never parted
    bags: Number
    bag: str


@record
class Left:
    """What is over after the last lift."""

    mix: str
    volume: Volume
    side: Length  # of a square slab that takes it

    @property
    def name(self) -> str:
        return self.mix


@record
class Trouble:
    late: tuple[Late, ...]
    moves: tuple[Moves, ...]
    short: Short | None
    left: tuple[Left, ...]


def trouble(work: Work, order: Order, hours: Hour, units: Literal["us", "si"]) -> Trouble:
    """What may go wrong on the day, reckoned for this job."""
    return Trouble(
        late=tuple(_late(work, order, hours)),
        moves=tuple(Moves(lift=one.lift, within=one.cold - one.starts) for one in hours.placings),
        short=_short(work, order, hours, units),
        left=tuple(_left(order, hours)),
    )


def _late(work: Work, order: Order, hours: Hour) -> Iterator[Late]:
    for load in hours.loads[1:]:
        first = hours.placing(load.lifts[0])
        cold = []
        if first.starts < load.starts:  # it goes on where the load before stopped
            since = _lies_since(work, order, first, hours.loads, load)
            # Where rounds of a whole layer would be too slow, thinner ones are made: then it must not be late at all.
            cold.append(max(since + first.cold - first.starts, load.starts))
        cold += [
            hold.latest
            for hold in hours.holds
            if hold.before in load.lifts and hold.way != "joint" and hold.latest >= load.starts
        ]
        yield Late(load=load.number, expected=load.starts, latest=min(cold, default=nan))


def _lies_since(work: Work, order: Order, lift: Placing, loads: tuple[Load, ...], load: Load) -> float:
    """When the concrete was placed which a load goes on from.

    Pads are filled one after the other, so that it is no older than its pad. Piers rise together, so that it is no
    older than one round over all of them; never older than the lift.
    """
    before = max(one.empty for one in loads if one.number < load.number)
    bodies = {body.name: body for one in work.lifts for body in one.bodies}
    pieces = [piece for one in order.lifts if one.number == lift.lift for piece in one.pieces if not piece.cast]
    rounds = max(float(bodies[piece.name].height) for piece in pieces) / float(aci309.LAYER)
    t, parted = lift.starts, lift.starts
    for piece in pieces:
        if t <= before:
            parted = t
        t += float(piece.gross) / lift.flow
    if any(bodies[piece.name].part == "pier" for piece in pieces):
        parted = before - (lift.placed - lift.starts) / max(rounds, 1.0)
    return float(max(parted, lift.starts))


def _short(work: Work, order: Order, hours: Hour, units: Literal["us", "si"]) -> Short | None:
    if not hours.placings:
        return None
    last = hours.placings[-1]
    bodies = {body.name: body for lift in work.lifts for body in lift.bodies}
    own = [bodies[name] for name in last.what]
    by = order.tickets[last.mix].step
    bag = trade.bag(_BAG[units])
    piers = [body for body in own if body.part == "pier"]
    return Short(
        lift=last.lift,
        names=last.what,
        by=by,
        depth_of_one=by / min(float(body.outline.area) for body in own),
        depth_of_all=by / sum(float(body.outline.area) for body in own),
        joint=max((_joint(work, body) for body in piers), default=nan),
        bags=float(-(-by // bag.makes)),
        bag=bag.name,
    )


def _joint(work: Work, body: Body) -> float:
    """How far below the top a joint may be: under the feet of its bolts, at most down to its underside."""
    deep = [float(thing.bolts.deep) for thing in _things(work) if thing.bolts and thing.on == body.element]
    return min(float(body.height), max(deep, default=0.0) + (BELOW_BOLTS if deep else 0.0))


def _things(work: Work) -> list[Any]:
    return [*work.posts.values(), *work.machines.values()]


def _left(order: Order, hours: Hour) -> Iterator[Left]:
    for mix in order.tickets:
        volume = sum(load.volume - load.places for load in hours.loads if load.mix == mix)
        if volume > 0:
            yield Left(mix=mix, volume=volume, side=(volume / SLAB) ** 0.5)
