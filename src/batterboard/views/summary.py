"""The job on one page: what to build, what fails, what was assumed.

    built(plan)  : ("2 piers: west, east", "1'-10\" x 1'-10\" x 3'-4\", on pads 4'-6\" x 4'-6\" x 1'-4\"")
    worst(plan)  : the checks that do not hold, else the tightest
    found(plan)  : what differs from the plan, as found

Words only; every number was made by its phase.
"""

from collections.abc import Callable, Hashable, Iterable, Iterator
from typing import TYPE_CHECKING, Any, TypeVar

from batterboard.quantity import Force, Length, Pressure, System, Time, Volume, show
from batterboard.views.assumed import said
from batterboard.views.tables.model import alone, sizes, words_of
from batterboard.work.names import several
from batterboard.work.records import Body, Pier
from batterboard.working import Check

if TYPE_CHECKING:
    from batterboard.plan import Plan

Thing = TypeVar("Thing")
Said = tuple[str, str]

_FEW = 3  # members of a row that are named one by one


def worst(plan: "Plan", most: int) -> tuple[Check, ...]:
    """What does not hold, worst first; where all holds, what is nearest to its limit. At most so many."""
    failing = tuple(c for c in plan.checks if not c.holds)
    return failing[:most] if failing else tuple(sorted(plan.checks, key=lambda c: -c.ratio))[: min(most, 6)]


def built(plan: "Plan") -> tuple[Said, ...]:
    """What will stand there, in the order it is built; equal things on one line."""
    system = plan.job.job.units
    return (*_concrete(plan, system), *_steel(plan, system), *_amounts(plan, system))


def _alike(things: Iterable[Thing], look: Callable[[Thing], Hashable]) -> Iterator[tuple[list[Thing], Any]]:
    groups: dict[Hashable, list[Thing]] = {}
    for thing in things:
        groups.setdefault(look(thing), []).append(thing)
    return ((group, words) for words, group in groups.items())


def _named(one: str, many: str, things: list[Any]) -> str:
    names = ranges([thing.name for thing in things])
    return f"{one} {names[0]}" if len(things) == 1 else f"{len(things)} {many}: {several(names)}"


def ranges(names: list[str]) -> list[str]:
    """bollard.1 to bollard.20, lamp: members of a row that follow each other as one."""
    runs: list[list[str]] = []
    for name in names:
        stem, _, number = name.rpartition(".")
        before = f"{stem}.{int(number) - 1}" if stem and number.isdigit() else ""
        if runs and runs[-1][-1] == before:
            runs[-1].append(name)
        else:
            runs.append([name])
    return [told for run in runs for told in ([f"{run[0]} to {run[-1]}"] if len(run) > _FEW else run)]


def _block(body: Body, system: System) -> str:
    o = body.outline
    height = show(alone(body.height), Length, system)
    across = show(alone(o.along), Length, system)
    if o.kind == "round":
        return f"{across} round, {height} high"
    if o.kind == "polygon":
        return f"{o.sides} sides, {across} across flats, {height} high"
    return sizes(o.along, o.across, body.height, system=system)


def _pier(pier: Pier, system: System) -> Hashable:
    """What one line tells: of a row in the ground all members, whose lengths go with the ground."""
    o, (stem, _, number) = pier.shaft.outline, pier.name.rpartition(".")
    if stem and number.isdigit() and pier.pad is None:
        return stem, o.kind, o.sides, show(alone(o.along), Length, system), show(alone(o.across), Length, system)
    foot = f", on a pad {_block(pier.pad, system)}" if pier.pad else ", in the ground"
    foot += "".join(f" with a step {_block(step, system)}" for step in pier.steps)
    return _block(pier.shaft, system) + foot


def _row(piers: list[Pier], system: System) -> str:
    """1'-0\" round, 3'-11\" high, the longest 4'-7\", in the ground."""
    ordered = sorted((pier.shaft for pier in piers), key=lambda shaft: alone(shaft.height))
    shortest, longest = (show(alone(shaft.height), Length, system) for shaft in (ordered[0], ordered[-1]))
    more = f", the longest {longest}" if longest != shortest else ""
    return f"{_block(ordered[0], system)}{more}, in the ground"


def _concrete(plan: "Plan", system: System) -> Iterator[Said]:
    work = plan.work
    for alike, words in _alike(work.piers.values(), lambda p: _pier(p, system)):
        yield _named("pier", "piers", alike), words if isinstance(words, str) else _row(alike, system)
    for slabs, words in _alike(work.slabs.values(), lambda s: _block(s.body, system)):
        yield _named("pad", "pads", slabs), words
    for beam in work.beams.values():
        o = beam.body.outline
        size = sizes(o.across, beam.body.height, system=system)
        yield (
            f"tie beam {beam.name}",
            f"{size}, {show(alone(o.along), Length, system)} between {' and '.join(beam.between)}",
        )
    if holes := [hole.name for body in work.bodies for hole in body.blockouts]:
        yield "pockets and holes", ", ".join(holes)


def _steel(plan: "Plan", system: System) -> Iterator[Said]:
    for cuts, words in _alike(plan.steel.posts, lambda c: f"{c.section}, cut {show(alone(c.length), Length, system)}"):
        yield _named("post", "posts", cuts), words
    for patterns, words in _alike(
        plan.template.patterns,
        lambda p: f"{len(p.points)} x {p.rod}, {show(alone(p.budget.length), Length, system)} long",
    ):
        yield f"bolts of {', '.join(ranges([p.name for p in patterns]))}", words
    for leaf in plan.work.leaves.values():
        size = sizes(leaf.length, leaf.height, system=system)
        yield f"leaf {leaf.name}", f"{size}, {show(alone(leaf.weight), Force, system)}, hung on {leaf.hinge_post}"
    for sign in plan.work.signs.values():
        size = sizes(sign.length, sign.height, system=system)
        yield f"sign {sign.name}", f"{size}, {show(alone(sign.weight), Force, system)}, on {sign.on}"
    for machine in plan.work.machines.values():
        yield f"machine {machine.name}", f"{show(alone(machine.weight), Force, system)}, on {machine.on}"


def _amounts(plan: "Plan", system: System) -> Iterator[Said]:
    yield "dig", f"{show(alone(plan.dig.bank), Volume, system)} in the bank"
    if plan.bars.totals:
        stock = ", ".join(f"{t.stock} x {t.of.size}" for t in plan.bars.totals)
        yield "bars", f"{show(alone(plan.cage.weight), Force, system)}; stock bars {stock}"
    for ticket in plan.pour.tickets.values():
        trucks = sum(load.mix == ticket.mix for load in plan.hour.loads)
        volume = show(plan.ordering.amounts[ticket.mix].ordered, Volume, system, "yd3" if system == "us" else "m3")
        strength = show(alone(ticket.strength), Pressure, system)
        yield f"order {ticket.mix}", f"{volume}, {strength}, {trucks} truck{'s' if trucks != 1 else ''}"
    if plan.job.pour.when:
        yield "pour", words_of(plan.job.pour.when)
    waits = [w for w in plan.cure.waits if w.act in ("strip", "shores", "hang")]
    for alike, words in _alike(waits, lambda w: (w.act, show(alone(w.at), Time, system))):
        yield words[0] if len(alike) > 1 else alike[0].name, f"{words[1]} after placing{_planned(plan, alike[0].name)}"


def _planned(plan: "Plan", name: str) -> str:
    """The day that the days and the calendar have for it."""
    event = next((e for e in plan.schedule.events if e.name == name), None)
    return f": {words_of(event.starts)}" if event is not None and event.starts is not None else ""


def found(plan: "Plan") -> tuple[str, ...]:
    """What the job file says was found, in a few sentences; empty where nothing was."""
    if plan.job.planned is None:
        return ()
    told = ["Computed and drawn as found."]
    if plan.job.done:
        told.append(f"Cast already: {', '.join(plan.job.done)}.")
    told += [f"{path}: planned {before}, found {after}." for path, before, after in contradicted(plan)]
    return tuple(told)


def contradicted(plan: "Plan") -> Iterator[tuple[str, str, str]]:
    """Planned keys that the found table overrules."""
    for one in plan.job.contradicted:
        system = plan.job.job.units
        yield one.path, said(one.planned, one.kind, system), said(one.found, one.kind, system)
