"""Planned against found in words: what turned, what to do, what moved. Terminal and book say the same.

    lines(result)  : a screen of text, worst first
    told(result)   : what a builder asks first, planned and found
    seated(seat)   : sentences on a plate whose bolts were looked at

Words only: what changed was compared, and what helps was tried, in `study`.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from batterboard import quantity
from batterboard.phases.template import Seat
from batterboard.quantity import Angle, Length, Number, System, dimension_of
from batterboard.views import words

if TYPE_CHECKING:
    from batterboard.study.compare import Change, Comparison, Turn
    from batterboard.study.remedies import Remedy
    from batterboard.study.tolerances import Off

NOTHING = "Nothing was found that differs from the plan."
_TURNS, _REMEDIES, _TOLD, _OVERRULED = 4, 2, 5, 3  # what one screen holds
_CHANCES = ("chance", "latches", "fits")  # told in hundredths
_TAPE, _PART = 0.0005, 0.005
_NOTHING = 1e-4  # what is moved by less is not told [m]
_NOISE = ("sigma", "share", "shares", "major", "minor", "direction", "worst", "allow", "samples")  # how sure, not where


def lines(result: "Comparison") -> Iterator[str]:
    """What a builder reads on one screen: what no longer holds and what to do, then what he asks first."""
    if not result.changes and not result.contradicted:
        yield NOTHING
        return
    system = result.found.job.job.units
    yield f"{result.found.job.job.name}, job {result.found.job.digest}: as found against as planned"
    yield ""
    yield from _some([words.overruled(o, system) for o in result.contradicted], _OVERRULED, "planned keys")
    yield from _turned(result, system)
    yield from (f"  now holds: {c.title}" for c in result.mended)
    yield from (sentence for seat in result.found.template.seats for sentence in seated(seat, system)[:2])
    yield from _some([f"{row.title}: {row.planned} -> {row.found}" for row in told(result)], _TOLD, "of these")
    beyond = [off for off in result.tolerances if not off.within]
    yield from _some(
        [f"beyond its tolerance: {off.name}, {off.what}, may be off {tolerance(off, system)}" for off in beyond],
        _OVERRULED,
        "of these",
    )
    yield ""
    yield summary(result)


def tolerance(off: "Off", system: System) -> str:
    """+1/2", -3/8"; 1/8" any way."""
    plus, minus = (quantity.show_exact(value, Length, system) for value in (off.plus, off.minus))
    if off.minus == 0:
        return plus
    return f"+{plus}, -{minus}" if off.plus else f"-{minus}"


def summary(result: "Comparison") -> str:
    checks = {c.key for c in result.changes if c.what == "check"}
    sides = {c.key for c in result.changes if c.what == "check" and c.changed_sides}
    moved = sum(c.what == "quantity" for c in result.changes)
    return (
        f"{len(sides)} of {len(result.found.checks)} checks changed sides, {len(checks) - len(sides)} more moved; "
        f"{moved} other numbers moved (all of them: --json, or the book)."
    )


def _some(texts: list[str], most: int, what: str) -> Iterator[str]:
    yield from (f"  {text}" for text in texts[:most])
    if len(texts) > most:
        yield f"  and {len(texts) - most} more {what}"


def _turned(result: "Comparison", system: System) -> Iterator[str]:
    said: set[str] = set()
    for turn in result.turns[:_TURNS]:
        yield f"{words.MARKS[turn.found.verdict].strip()} {turned(turn, system)}"
        new = [remedy for remedy in turn.remedies if remedy.says not in said]
        for remedy in new[:_REMEDIES]:
            yield f"     do: {remedy.says}: {outcome(remedy)}"
        if not new:
            yield "     do: as above" if turn.remedies else f"     do: {stop(turn)}"
        said |= {remedy.says for remedy in turn.remedies}
    if len(result.turns) > _TURNS:
        yield f"and {len(result.turns) - _TURNS} more that no longer hold"


def stop(turn: "Turn") -> str:
    """Where nothing can be done any more, why: stop: the pad of west is cast, ask the engineer."""
    return f"stop: {', '.join(turn.closed)}; ask the engineer" if turn.closed else "stop, and ask the engineer"


def turned(turn: "Turn", system: System) -> str:
    """Spacing of ties, west: 1'-8" of 10", does not hold (planned 10" of 10")."""
    now = words.check_row(turn.found, system)
    if turn.planned is None:
        return f"{now.title}: {now.comparison}"
    before = words.check_row(turn.planned, system)
    return f"{now.title}: {now.comparison} (planned {before.demand} of {before.capacity})"


def outcome(remedy: "Remedy") -> str:
    """What the chain said of it."""
    if not remedy.holds:
        return "tried, and not enough by itself"
    if remedy.breaks:
        return f"tried, holds, but then not: {'; '.join(remedy.breaks)}"
    return "tried, holds" + (f"; mends {len(remedy.mends)} more" if remedy.mends else "")


# ---- what moved ----


def told(result: "Comparison") -> list[words.ChangeRow]:
    """What he asks first, where he can see it differ; what moved alike is told once."""
    system = result.found.job.job.units
    rows: dict[tuple[str, str], words.ChangeRow] = {}
    for change in result.telling:
        row = _row(change, system)
        if row.planned != row.found and _matters(change):
            first = rows.get((row.planned, row.found))
            title = f"{first.title}; {row.title}" if first else row.title
            rows[row.planned, row.found] = words.ChangeRow(title, row.planned, row.found, row.mark)
    return list(rows.values())


def _noise(change: "Change") -> bool:
    """How sure a place is, not where; numbers whose measure nobody wrote down."""
    sure = any(name.partition("_")[0] in _NOISE for name in change.key)
    return sure or (change.dimension is None and isinstance(change.found, float))


def _matters(change: "Change") -> bool:
    """A length by what his tape can tell, anything else by half a percent."""
    if change.planned is None or change.found is None:
        return False
    if change.dimension == dimension_of(Length):
        return bool(abs(change.found - change.planned) > _TAPE)
    return bool(abs(change.found - change.planned) > _PART * abs(change.planned))


def moved(result: "Comparison", phase: str) -> list[words.ChangeRow]:
    """Every quantity of a phase that differs by what can be printed; not how sure each is."""
    system = result.found.job.job.units
    rows = []
    for change in result.changes:
        if change.what == "quantity" and change.key[0] == phase and not _noise(change):
            row = _row(change, system)
            if row.planned != row.found and change.planned is not None and change.found is not None:
                title = " ".join(change.key[1:]).replace("_", " ")
                rows.append(words.ChangeRow(title, row.planned, row.found, row.mark))
    return rows


def _row(change: "Change", system: System) -> words.ChangeRow:
    row = words.change_row(change, system)
    if change.dimension is None or change.planned is None or change.found is None:
        return row
    if change.key[-1] in _CHANCES:
        before, after = (quantity.show(v, Number, system, "0.1 %") for v in (change.planned, change.found))
        return words.ChangeRow(row.title, before, after, row.mark)
    short = [quantity.show(v, change.dimension, system) for v in (change.planned, change.found)]
    return words.ChangeRow(row.title, short[0], short[1], row.mark) if short[0] != short[1] else row


# ---- plates ----


def seated(seat: Seat, system: System) -> list[str]:
    """How a plate lies on its bolts as found, and what that does to the leaf."""

    def length(value: Any) -> str:
        return quantity.show_exact(abs(value), Length, system)

    fits = "drops on" if seat.drops_on else "does not drop on"
    spare = f"{length(seat.spare)} {'to spare' if seat.drops_on else 'short'} at hole {seat.tightest}"
    turn = quantity.show(seat.turn, Angle, system, "0.01 deg")
    said = [f"  Plate {seat.name} {fits}: {spare}, laid {_way(seat, system)}, turned {turn}."]
    for m in seat.moved:
        if max(abs(m.closes), abs(m.aside)) <= _NOTHING and not abs(m.at_latch) > _NOTHING:
            continue
        opening = "closes" if m.closes > 0 else "opens"
        by = length(m.closes) if abs(m.closes) > _NOTHING else "nothing"
        text = f"  Its post then {opening} the opening of {m.leaf} by {by}"
        side = "left" if m.aside > 0 else "right"
        text += f" and stands {length(m.aside)} {side} of the line to the latch" if abs(m.aside) > _NOTHING else ""
        if abs(m.at_latch) > _NOTHING:
            text += f", {length(m.at_latch)} at the latch end"
        said.append(f"{text}.")
    if seat.short > 0:
        said.insert(1, f"  Bolt {seat.lowest} is {length(seat.short)} too short for what it must pass through.")
    return said


def _way(seat: Seat, system: System) -> str:
    ways = ((seat.shift_ahead, "ahead", "back"), (seat.shift_left, "left", "right"))
    parts = [
        f"{quantity.show_exact(abs(by), Length, system)} {more if by > 0 else less}"
        for by, more, less in ways
        if abs(by) > _NOTHING
    ]
    return " and ".join(parts) or "where it was meant to be"
