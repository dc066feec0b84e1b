"""The order as one sentence, to read on the phone; the plant writes down what it hears.

    sentences(plan) : {"stiff": "4 1/4 yd, 4000 psi, 3/4 in stone, 5 % air, 4 in slump at the chute, ..."}

Its order is the plant's: how much, how strong, what is in it, how wet, when, how fast it is taken. Words only; volumes
and times are those of `pour` and `ordering`.
"""

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from batterboard.phases.ordering import Amount, Ordering
from batterboard.phases.pour import Ticket
from batterboard.phases.pour.hour import Load
from batterboard.quantity import Length, Number, Pressure, System, Time, Volume, show, yd3
from batterboard.views.tables import concrete
from batterboard.views.tables.model import alone, known

if TYPE_CHECKING:
    from batterboard.plan import Plan


def sentences(plan: "Plan") -> dict[str, str]:
    """What is said on the phone, mix by mix."""
    system = plan.job.job.units
    return {
        name: ", ".join(
            _said(
                ticket,
                plan.ordering.amounts[name],
                plan.ordering,
                trucks := concrete.loads_of(plan, name),
                concrete.plasticized(plan, trucks),
                system,
            )
        )
        + "."
        for name, ticket in plan.pour.tickets.items()
    }


def _said(
    ticket: Ticket,
    amount: Amount,
    order: Ordering,
    trucks: tuple[Load, ...],
    wetter: Mapping[int, Length],
    system: System,
) -> Iterator[str]:
    """Its parts, between which commas stand."""
    yield yards(amount.ordered, system)
    yield show(alone(ticket.strength), Pressure, system)
    yield f"{_length(ticket.stone, system)} stone"
    if alone(ticket.air) > 0:
        yield f"{show(alone(ticket.air), Number, system, '0.5 %')} air"
    else:
        yield "no air asked for"
    yield f"{_length(ticket.slump, system)} slump at the chute"
    if known(ticket.water_cement, "") != "":
        yield f"w/c {alone(ticket.water_cement):.2f} at most"
    if order.admixtures:
        yield order.admixtures
    for lift, slump in wetter.items():
        yield f"plasticizer on the truck for {_length(slump, system)} in lift {lift}"
    if ticket.retarder:
        yield "with a retarder"
    yield f"no water without {order.signs or 'the signer below'}; {_trucks(trucks, system)}"
    if ticket.when:
        yield f"{ticket.when:%A} {ticket.when.day} {ticket.when:%B}, first concrete at {ticket.when:%H:%M}"
    yield "; ".join(_unloading(amount, order, system))


def _trucks(trucks: tuple[Load, ...], system: System) -> str:
    """One truck; 4 trucks: 9 yd, 9 yd, 9 yd, 1 1/4 yd; with those that are called once the pads carry."""
    if len(trucks) == 1:
        return "one truck"
    said = [yards(load.volume, system) for load in trucks]
    volumes = f" of {said[0]} each" if len(set(said)) == 1 else f": {', '.join(said[:-1])} and {said[-1]}"
    called = [load.number for load in trucks if load.why in ("old", "other day")]
    if not called:
        return f"{len(trucks)} trucks{volumes}"
    which = "all but the first" if len(called) > 1 and len(called) == len(trucks) - 1 else f"number {_listed(called)}"
    return f"{len(trucks)} trucks{volumes}, {which} when called"


def _listed(numbers: list[int]) -> str:
    return " and ".join(part for part in (", ".join(map(str, numbers[:-1])), str(numbers[-1])) if part)


def _unloading(amount: Amount, order: Ordering, system: System) -> Iterator[str]:
    unit, name = (yd3, "yd") if system == "us" else (1.0, "m3")
    takes = show(alone(amount.unloading) * unit, Time, system, "1 min")
    charge = " (expect the waiting charge)" if amount.stands > amount.free else ""
    yield f"{takes} per {name} to unload{charge}"
    if order.address:
        yield f"to {order.address}"
    if order.washout:
        yield f"wash-out at {order.washout}"


def yards(volume: Volume, system: System) -> str:
    """5 1/4 yd; 3.25 m3."""
    return show(alone(volume), Volume, system, "1/4 yd3" if system == "us" else "0.25 m3").replace("yd3", "yd")


def _length(length: Length, system: System) -> str:
    return show(alone(length), Length, system, "in" if system == "us" else "mm").replace('"', " in")
