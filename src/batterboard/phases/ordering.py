"""How likely is it that the order runs short, what does a quarter yard more cost, and would bags do?

    amount : Amount("stiff", gross=3.96, spread=0.18, choices=(...))       one mix: what is needed, and how sure that is
    choice : Choice(volume=4.2, chance=0.09, lacks=0.06, bill=Bill(...))   one size of order
    bags   : Bags("80 lb", count=234, hours...)                            the same concrete from bags

Needed are the volumes of `pour`, from the hole as found where it was found. They are off by the sides of holes and
forms, each on its own, by the waste and by what a load really holds; each standard deviation is an input, its default a
guess. Prices are those of the job file; without them nothing is priced. Nothing here is needed by a check.
"""

from collections.abc import Callable, Iterator
from math import ceil, hypot, inf
from statistics import NormalDist

from batterboard.job import schema
from batterboard.phases.cage import Cage
from batterboard.phases.concrete import Concrete, Mix
from batterboard.phases.pour import Order, Piece, Ticket
from batterboard.phases.pour.hour import Hour, Load
from batterboard.quantity import Length, Mass, Number, Pressure, Time, Volume, hour
from batterboard.record import record
from batterboard.standards import aci211, aci301, durability, trade
from batterboard.work.records import Body, Work
from batterboard.working import nan

_MORE = 4  # sizes of order beyond the one that is just enough
_MOST = 10  # so many times the order at most: what is off by more than itself is never sure


@record
class Bill:
    """What one size of order costs, in the money of the job file; nan where that has no price."""

    concrete: Number
    short: Number  # fee for loads below the plant's limit
    waiting: Number  # beyond the free time
    total: Number


@record
class Choice:
    """One size of order."""

    name: str  # by its steps: "17"
    volume: Volume
    spare: Volume  # beyond what is needed; negative where it is less
    chance: Number  # that it runs short
    lacks: Volume  # so much is short one time in twenty; 0 where none is
    bill: Bill
    more: Number  # cost beyond the size before; nan for the first


@record
class Bags:
    """The same concrete from bags of dry mix."""

    name: str  # "80 lb"
    makes: Volume
    count: Number
    mass: Mass
    least: Time  # one mixer, one crew
    most: Time
    mixers: Number  # so that no lift waits longer than the one before stays soft
    cost: Number  # nan where this bag has no price


@record
class Older:
    """What a class asked for in the editions of 2008 and 2011; nan where it asked for nothing or is not tabulated."""

    name: str
    greatest: Number
    least: Pressure
    greatest_then: Number
    least_then: Pressure


@record
class Amount:
    """What is needed of one mix, how sure that is, and what an order of it costs."""

    mix: str
    gross: Volume
    holes: Volume  # standard deviation of the volume of holes and forms
    waste: Volume  # and of what is lost
    yield_: Volume  # and of what the order really holds
    spread: Volume  # of all together
    ordered: Volume  # as the day's trucks bring it
    spare: Volume  # of that, beyond what is needed
    chance: Number  # that it runs short
    enough: Volume  # the least order that runs short no oftener than one time in twenty; nan where none is found
    choices: tuple[Choice, ...]
    priced: bool
    bags: tuple[Bags, ...]
    clear: Length  # tightest between the bars, infinite without any
    largest_stone: Length  # that passes bars and forms
    stone: Length  # the largest usual size that is not above it
    unloading: Time  # of a cubic metre, while the trucks stand on site
    stands: Time  # all trucks on site, as the day is planned
    free: Time  # of that without charge
    classes: tuple[Older, ...]

    @property
    def name(self) -> str:
        return self.mix


@record
class Ordering:
    amounts: dict[str, Amount]  # by mix
    signs: str  # who may have water put in and may send a load back
    address: str
    washout: str
    admixtures: str
    notes: tuple[str, ...]


def amounts(work: Work, cage: Cage, concrete: Concrete, pour: Order, day: Hour, job: schema.Job) -> Ordering:
    """Every mix that is still to be ordered, in the trucks that the day asks for."""
    unit = 4 * trade.ORDER_STEP[job.job.units]
    made = {
        name: _amount(
            ticket,
            tuple(load for load in day.loads if load.mix == name),
            work,
            cage,
            concrete.mixes[name],
            pour,
            job.pour,
            unit,
        )
        for name, ticket in pour.tickets.items()
    }
    ask = job.pour.order
    return Ordering(
        amounts=made,
        signs=ask.signs,
        address=ask.address,
        washout=ask.washout,
        admixtures=ask.admixtures,
        notes=tuple(_notes(made, pour, job)),
    )


def _amount(
    ticket: Ticket,
    loads: tuple[Load, ...],
    work: Work,
    cage: Cage,
    mix: Mix,
    pour: Order,
    job: schema.Pour,
    unit: Volume,
) -> Amount:
    bodies = {body.name: body for body in work.bodies}
    pieces = [piece for lift in pour.lifts for piece in lift.pieces if piece.mix == ticket.mix and not piece.cast]
    spread = job.spread
    holes = hypot(*(_hole(piece, bodies[piece.name], spread) for piece in pieces))
    net = float(ticket.net + ticket.overdug)

    def off(volume: float) -> float:
        return float(trade.order_spread(holes, net, spread.waste, volume, spread.yield_))

    gross, step = float(ticket.gross), float(ticket.step)
    ordered = max(float(ticket.volume), sum(float(load.volume) for load in loads))
    stands = sum(float(load.empty - load.on_site) for load in loads)
    sizes = (n * step for n in range(round(ordered / step), _MOST * round(ordered / step)))
    clear = _clear(cage, {body.element for body in work.bodies if body.mix == ticket.mix})
    largest = float(durability.largest_stone(mix.narrowest, mix.thinnest, clear))
    return Amount(
        mix=ticket.mix,
        gross=gross,
        holes=holes,
        waste=net * spread.waste,
        yield_=ordered * spread.yield_,
        spread=off(ordered),
        ordered=ordered,
        spare=ordered - gross,
        chance=_short(gross, off(ordered), ordered),
        enough=next((size for size in sizes if _short(gross, off(size), size) <= 1 / trade.SHORT_ONE_IN), nan),
        choices=tuple(_choices(ordered, gross, step, off, lambda volume: _bill(volume, loads, stands, job, unit))),
        priced=job.order.price is not None,
        bags=tuple(_bags(ticket, pour, job.order, unit)),
        clear=clear,
        largest_stone=largest,
        stone=aci211.stone_within(largest),
        unloading=stands / ordered,
        stands=stands,
        free=_free(ordered, job.order, unit),
        classes=tuple(_older(one.name, one.greatest, one.least) for one in mix.classes),
    )


# ---- how sure is it ----


def _hole(piece: Piece, body: Body, spread: schema.Spread) -> float:
    """Spread of one body with its waste: a hole that was not measured is a guess, a form or a measured hole is not."""
    guessed = piece.against == "earth" and not piece.overdug > 0
    side = spread.hole if guessed else spread.form
    o = body.outline
    net = piece.net + piece.overdug
    return float(trade.hole_spread(net, o.along, o.across, body.height, side) * (1 + piece.waste_rate))


def _short(needed: float, spread: float, ordered: float) -> float:
    """Chance that what is needed is more than what comes."""
    if spread > 0:
        return 1 - NormalDist(needed, spread).cdf(ordered)
    return 1.0 if needed > ordered * (1 + 1e-9) else 0.0


def _lacks(needed: float, spread: float, ordered: float) -> float:
    """What is short one time in twenty."""
    worst = NormalDist(needed, spread).inv_cdf(1 - 1 / trade.SHORT_ONE_IN) if spread > 0 else needed
    return max(worst - ordered, 0.0)


def _choices(
    ordered: float, gross: float, step: float, off: Callable[[float], float], bill: Callable[[float], Bill]
) -> Iterator[Choice]:
    """From a step less than is ordered to some steps more."""
    before = nan
    steps = round(ordered / step)
    for n in range(max(steps - 1, 1), steps + _MORE):
        volume = n * step
        asked = bill(volume)
        yield Choice(
            name=str(n),
            volume=volume,
            spare=volume - gross,
            chance=_short(gross, off(volume), volume),
            lacks=_lacks(gross, off(volume), volume),
            bill=asked,
            more=asked.total - before,
        )
        before = asked.total


# ---- what does it cost ----


def _bill(volume: float, loads: tuple[Load, ...], stands: float, job: schema.Pour, unit: Volume) -> Bill:
    """By the plant's own fees. stands : how long all trucks stand on site, as the day is planned."""
    ask = job.order
    if ask.price is None:
        return Bill(concrete=nan, short=nan, waiting=nan, total=nan)
    sent = _sent(volume, [float(load.volume) for load in loads], float(job.truck.load))
    missing = [ask.short_below - load for load in sent if load < ask.short_below * (1 - 1e-9)]
    short = ask.short_fee * (len(missing) if ask.short_for == "load" else sum(missing) / unit)
    over = max(stands - _free(volume, ask, unit), 0.0)
    concrete, waiting = ask.price * volume / unit, ask.waiting * over / hour
    return Bill(concrete=concrete, short=short, waiting=waiting, total=concrete + short + waiting)


def _free(volume: float, ask: schema.Order, unit: Volume) -> float:
    """Time that the plant lets its trucks stand for so much; common practice where it has not said."""
    return float(volume / trade.UNLOADING if ask.free is None else ask.free * volume / unit)


def _sent(volume: float, planned: list[float], full: float) -> Iterator[float]:
    """The loads of an order: all but the last as the day is planned, then what is left, in full trucks."""
    left = volume
    for load in planned[:-1]:
        yield min(load, left)
        left = max(left - load, 0.0)
    while left > 1e-6 * full:
        yield min(left, full)
        left -= full


def _bags(ticket: Ticket, pour: Order, ask: schema.Order, unit: Volume) -> Iterator[Bags]:
    metric = unit == 4 * trade.ORDER_STEP["si"]
    slow, quick = trade.ONE_MIXER
    gross = float(ticket.gross)
    for name in trade.bag.names():
        row = trade.bag(name)
        if (name.endswith("kg") != metric and name != ask.bag) or name == "20 lb":
            continue
        count = ceil(gross / row.makes * (1 - 1e-9))
        yield Bags(
            name=name,
            makes=row.makes,
            count=count,
            mass=count * row.weight,
            least=gross / quick,
            most=gross / slow,
            mixers=max((_mixers(lift.gross, lift.next_by) for lift in pour.lifts if lift.mix == ticket.mix), default=1),
            cost=count * ask.bag_price if name == ask.bag and ask.bag_price is not None else nan,
        )


def _mixers(volume: Volume, within: Time) -> float:
    """So many mixers place a lift before the next must follow; one where nothing presses."""
    slow = trade.ONE_MIXER[0]
    return max(ceil(float(volume / slow / within)), 1) if within > 0 else 1


# ---- what passes, what was asked before ----


def _clear(cage: Cage, elements: set[str]) -> Length:
    """Tightest clear distance beside each other that this mix's stone has to pass."""
    clear: float = inf
    for gap in cage.gaps:
        if gap.element in elements:
            clear = min(clear, float(gap.clear))
    for pair in cage.clears:
        if pair.element in elements and pair.beside:
            clear = min(clear, float(pair.least))
    return max(clear, 0.0) if clear != inf else inf


def _older(name: str, greatest: Number, least: Pressure) -> Older:
    known = name in durability.exposure_2008.names()
    then = durability.exposure_2008(name) if known else None
    return Older(
        name=name,
        greatest=greatest,
        least=least,
        greatest_then=then.greatest if then else nan,
        least_then=then.least if then else nan,
    )


def _notes(made: dict[str, Amount], pour: Order, job: schema.Job) -> Iterator[str]:
    codes = job.job.codes
    if made:
        yield (
            "strength, w/cm and air by exposure class are those of ACI 318-19, tables 19.3.2.1 and 19.3.3.1: "
            "not seen, check the edition"
        )
        yield "how often an order runs short rests on guesses of how far holes, waste and yield are off"
    if "318" in codes and "318-19" not in codes:
        yield f"the job names {codes}: the limits of the exposure classes computed here are those of ACI 318-19"
    if made and not any(one.priced for one in made.values()):
        yield "no price was said: orders are not priced. Ask the plant for price, short-load fee and waiting"
    if made and not job.pour.order.signs:
        yield "nobody is named who may have water put in: name one before the truck comes"
    for name, one in made.items():
        if one.chance > 1 / trade.SHORT_ONE_IN:
            yield f"{name}: the order that is just enough runs short more than one time in twenty"
        if one.largest_stone != inf and pour.tickets[name].stone > one.largest_stone * (1 + 1e-9):
            yield f"{name}: its stone is too large for the tightest place between bars or forms"
        if pour.tickets[name].slump > aci301.WETTEST["vibrated"] * (1 + 1e-9):
            yield f"{name}: {aci301.SLUMP.document.name} allowed 4 in of slump where none was specified; say yours"
