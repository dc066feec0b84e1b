"""Tables of setting out: what to hold and read at each step, how sure it makes each place, what the readings then say.

order      the measuring order as sentences, with what tape or rod must read
boards     batter boards and strings, clear of the dig
links      the opening's chain, at both hinges           latching   whether the leaf fits, and what would help
ellipses   how sure each place is                        instruments  with what
taken, suspects, moves, warnings                         of the check measurements
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from batterboard.job.schema import Instruments
from batterboard.phases.setout import Caution, Latching, Move, Reading
from batterboard.quantity import Angle, Celsius, Force, Length, Number, System, show
from batterboard.standards import layout
from batterboard.views.tables.model import Column, Table, alone, known, sideways, table

if TYPE_CHECKING:
    from batterboard.plan import Plan

FINE = ("1/16 in", "1 mm")
FINEST = ("0.01 in", "0.1 mm")  # computed, finer than a tape reads
ROD = ("0.01 ft", "1 mm")  # as a level rod is divided
NOTHING = "–"
HOLDS = ("0.1 %", "0.1 %")


# ---- the order ----

_ORDER = (
    "In this order. Reads: the tape, or the rod against the bench. Running marks are pulled from their line's start."
)


def order(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = (
        (r.number, r.element, _do(plan, r), _measure(plan, r), _reads(r, system), known(r.running, NOTHING), _mark(r))
        for r in plan.setout.readings
    )
    columns = (
        Column("no."),
        Column("place"),
        Column("do"),
        Column("distance", Length, tape=True),
        Column("reads"),
        Column("running", Length, tape=True),
        Column("then mark"),
    )
    return table(
        "measuring-order",
        "Measuring order",
        columns,
        rows,
        found=("FOUND",),
        note=f"{_ORDER} {_guarded(plan)}{_tape(plan)}",
    )


def _guarded(plan: "Plan") -> str:
    nails = {line.arc.centre: None for line in plan.work.lines.values() if line.arc is not None and line.arc.centre}
    return f"Guard {' and '.join(nails)}: what is dug along an arc is found again from there. " if nails else ""


def _do(plan: "Plan", r: Reading) -> str:
    arc = plan.work.lines[r.line].arc if r.line in plan.work.lines else None
    nail, bends = arc.centre if arc else "", arc is not None
    if r.kind == "level":
        return f"Rod on {r.hold} and read it; then rod at {r.element}, {r.way or 'at the same reading'}."
    if r.kind == "along":
        start = f"the start of {r.line}" if r.hold == r.line else r.hold
        if nail:
            start = start if r.hold == r.line else f"the mark of {r.hold} on the curve"
            radius = show(alone(r.radius), Length, plan.job.job.units)
            held = f"Hold one tape at the nail {nail}, one at {start}"
            return f"{held}: mark where {radius} of the first meets the distance of the second, {r.way or 'there'}."
        if bends:
            return f"Hold zero at the start of {r.line}, pull the tape level along its chord, {r.way or 'on it'}."
        why = "; it follows from the opening" if r.derived else ""
        return f"Hold zero at {start}, pull the tape level along {r.line}, {r.way or 'on it'}{why}."
    if r.kind == "off":
        if nail:
            return f"Pull the tape level from the nail {nail} over that mark."
        if bends and r.way:
            return f"From that mark turn square off the chord of {r.line} by 3-4-5, zero on the string, to the {r.way}."
        if r.way:
            return f"From that mark turn square off {r.line} by 3-4-5, zero on the string, to the {r.way}."
        return f"Plumb down from the string {r.line}: it is on the line."
    if r.kind == "turn":
        if nail:
            return f"Turn it square to the tape from the nail {nail}: both ends of its centre line read alike."
        if bends and r.way:
            over = show(layout.TURNED_OVER, Length, plan.job.job.units)
            return f"Turn it so that over {over} ahead along the chord its sides go this far to the {r.way}."
        if bends:
            return f"Turn it so that its sides run along the chord of {r.line}."
        return f"Turn it so that its sides run along {r.line}; sight both ends."
    on = f"Set the template for {r.element}, its arrow along the line, its centre on {r.hold}"
    return f"{on}, {r.way}." if r.way else f"{on}."


def _measure(plan: "Plan", r: Reading) -> object:
    if r.kind == "turn" and not r.way:
        arc, angle = plan.work.lines[r.line].arc, known(r.angle, 0.0)
        aligned = "square" if arc is not None and arc.centre else "in line"
        return aligned if abs(angle) < 1e-9 else show(angle, Angle, plan.job.job.units)
    return known(r.value, "on it") if r.way else "on it"


def _reads(r: Reading, system: System) -> str:
    if r.kind == "level":
        return rod_reads(alone(r.rod), system)
    if not r.way:
        return NOTHING
    return show(alone(r.tape), Length, system)


def rod_reads(difference: float, system: System) -> str:
    """In feet and tenths, as a rod is divided: how much more or less than on the bench mark."""
    if abs(difference) < 1e-6:
        return "the same"
    text = show(abs(difference), Length, system, ROD[0 if system == "us" else 1])
    return f"{text} {'more' if difference > 0 else 'less'}"


_MARKS = {
    "level": "its level on a stake beside it",
    "along": "a nail in a stake",
    "off": "its centre, a nail in a stake",
    "turn": "both ends of its centre line, outside the dig",
    "template": "the template's four sides on the form",
}


def _mark(r: Reading) -> str:
    return _MARKS[r.kind]


def _tape(plan: "Plan") -> str:
    """How the tape was taken, and which foot."""
    t, system = plan.job.instruments, plan.job.job.units
    at = show(t.tape_at, Celsius, system)
    said = f"Tape readings are for a tape at {at}, pulled with {show(t.tape_pull, Force, system)}"
    said += f", hung every {show(t.tape_hangs, Length, system)}." if t.tape_hangs else ", lying flat."
    foot = " Feet are international, 0.3048 m; a tape in survey feet is longer by 2 parts in a million."
    return said + (foot if system == "us" else "")


def boards(plan: "Plan") -> Table:
    rows = (
        (
            _string(plan, b.line) or f"{b.axis} {', '.join(b.bases)}",
            b.bases[0],
            b.back,
            b.bases[-1],
            b.ahead,
            b.between,
            f"clear of {b.hole}" if b.hole else "usual distance",
        )
        for b in plan.boards
    )
    columns = (
        Column("string"),
        Column("behind"),
        Column("board back from its centre", Length, tape=True),
        Column("past"),
        Column("board ahead of its centre", Length, tape=True),
        Column("board to board", Length, tape=True),
        Column("why there"),
    )
    return table(
        "batter-boards", "Batter boards and strings", columns, rows,
        note="Of strings across, ahead is left. Level all boards together; nail each string where the order puts it.",
    )  # fmt: skip


def _string(plan: "Plan", line: str) -> str:
    return f"chord of {line}" if line and plan.work.lines[line].arc else line


# ---- how sure ----


def ellipses(plan: "Plan") -> Table:
    rows = (
        (s.name, 2.45 * s.major, 2.45 * s.minor, s.direction, 1.96 * s.sigma_top, _worst(s.shares))
        for s in plan.setout.stakes
        if s.kind != "bolt" or s.name.endswith(".bolt.1")
    )
    columns = (
        Column("place"),
        Column("ellipse, half its length", Length, FINEST),
        Column("half its width", Length, FINEST),
        Column("long axis from x", Angle, ("1 deg", "1 deg")),
        Column("level, either way", Length, FINEST),
        Column("most of it comes from"),
    )
    return table(
        "error-ellipses", "How sure each place is", columns, rows,
        note="Nineteen of twenty places lie inside their ellipse. Better the step named last first.",
    )  # fmt: skip


def _worst(shares: dict[str, Any]) -> str:
    return ", ".join(f"{name} {alone(part):.0%}" for name, part in list(shares.items())[:2]) or "nothing"


def links(plan: "Plan") -> Table:
    rows = (
        (one.name, link.name, link.low, link.high, 1.96 * link.sigma)
        for one in plan.setout.latching
        for link in one.links
    )
    columns = (
        Column("opening"),
        Column("length"),
        Column("at the lower hinge", Length, tape=True),
        Column("at the upper hinge", Length, tape=True),
        Column("sure to, either way", Length, FINE),
    )
    return table(
        "opening-chain", "The opening, from post to post", columns, rows, found=("FOUND",),
        note="Whichever pier stands first, the other stands so far from it between centres that the chain closes.",
    )  # fmt: skip


def latching(plan: "Plan") -> Table:
    labels = (
        "gap left for the latch, lower and upper hinge", "gap, sure to", "leaf's end drops by", "drop, sure to; play",
        "from pier to pier, level within", "posts out of plumb to each other, over the hinges",
        "between the piers' centres",
        "it goes between its posts", "and then latches", "what would help most",
    )  # fmt: skip
    system = plan.job.job.units
    things = {one.name: tuple(_latching(one, system)) for one in plan.setout.latching}
    return sideways("latch-chance", "Will the leaf fit and latch?", labels, things)


def _latching(one: Latching, system: System) -> Iterator[str]:
    fine, side = FINEST[0 if system == "us" else 1], 0 if system == "us" else 1

    def say(value: Any, unit: str = "") -> str:
        return show(alone(value), Length, system, unit or None)

    yield f"{say(one.gap)}, {say(one.gap_high)}"
    yield say(1.96 * one.sigma_gap, fine)
    yield say(one.drop, fine)
    yield f"{say(1.96 * one.sigma_drop, fine)}; {say(one.play)}"
    yield say(1.96 * one.sigma_level, fine)
    yield say(1.96 * one.sigma_plumb, fine)
    yield say(one.needed)
    yield show(alone(one.fits), Number, system, HOLDS[side])
    yield show(alone(one.latches), Number, system, HOLDS[side])
    yield f"{_worst(one.shares)} of the variance of the {one.rules}"


def plates(plan: "Plan") -> Table:
    rows = (
        (p.name, p.hole, p.diameter, p.clearance, p.offset, p.spare, p.chance, plan.hole_widths[p.name])
        for p in plan.setout.plates
    )
    columns = (
        Column("plate"),
        Column("hole", Length, FINE),
        Column("bolt", Length, FINE),
        Column("clear each way", Length, ("0.001 in", "0.1 mm")),
        Column("worst bolt off", Length, ("0.001 in", "0.1 mm")),
        Column("to spare", Length, ("0.001 in", "0.1 mm")),
        Column("chance that it drops on", Number, HOLDS),
        Column("hole for 19 of 20", Length, FINEST),
    )
    return table(
        "plates", "Plates on their bolts", columns, rows,
        note="After the best fit of the whole plate. What moves bolts against their plate is placing and vibrating.",
    )  # fmt: skip


def instruments(plan: "Plan") -> Table:
    t, system = plan.job.instruments, plan.job.job.units
    said = {a.path.partition(".")[2] for a in plan.job.assumed if a.path.startswith("instruments.")}
    level = {"builder's level": "builders_level"}.get(t.level_with, t.level_with.replace(" ", "_"))
    plumb = {"eye": "plumb_eye"}.get(t.plumb_with, t.plumb_with.replace(" ", "_"))
    used: tuple[tuple[str, str, Any], ...] = (
        ("tape", "a reading", Length), ("tape_scale", "its own length", Number),
        ("level" if t.level is not None else level, f"a height by {t.level_with}", Length),
        ("string", "a string where it crosses", Length), ("line_end", "a line's end on its nail", Length),
        ("square", "a right angle by 3-4-5", Angle), ("template", "a template on its marks", Length),
        ("turn", "a template turned to its line", Angle), ("drill", "a hole through the template", Length),
        ("bolt", "a bolt moved while placing", Length),
        ("plumb" if t.plumb is not None else plumb, f"a post by {t.plumb_with}", Angle),
        ("leaf", "a leaf's length", Length),
    )  # fmt: skip
    rows = (
        (
            what,
            _spread(getattr(t, key), kind, system),
            "laser: a builders' blog"
            if key == "laser"
            else "common practice"
            if _default(Instruments(), t, key, said)
            else "this job",
            f"instruments.{key}",
        )
        for key, what, kind in used
    )
    columns = (Column("measurement"), Column("one standard deviation"), Column("by"), Column("key in the job file"))
    return table("instruments", "How well it is measured", columns, rows)


def _default(plain: Any, tools: Any, key: str, said: set[str]) -> bool:
    return key in said or getattr(plain, key) == getattr(tools, key)


def _by(key: str, default: bool) -> str:
    if not default:
        return "this job"
    return "read: a builders' blog" if key == "laser" else "common practice, no source"


def _spread(value: Any, kind: Any, system: System) -> str:
    side = 0 if system == "us" else 1
    if kind is Number:
        return f"{alone(value) * 1e6:.0f} parts in a million"
    return show(alone(value), kind, system, (FINEST if kind is Length else ("0.01 deg", "0.01 deg"))[side])


# ---- check measurements ----


def taken(plan: "Plan") -> Table:
    made = plan.setout.adjustment
    rows = (
        (t.name, t.read, t.expected, t.off, t.disagrees, t.allow, _verdict(t.disagrees, t.allow))
        for t in (made.taken if made else ())
    )
    columns = (
        Column("reading"),
        Column("read", Length, tape=True),
        Column("expected", Length, tape=True),
        Column("off", Length, FINEST),
        Column("off from all others", Length, FINEST),
        Column("may be", Length, FINEST),
        Column("verdict"),
    )
    note = ""
    if made:
        note = f"Misfit of all together {made.factor:.2f}; of a hundred sound jobs one is above {made.limit:.2f}. "
        note += "They close: what has to move stands below." if made.closes else "They do not close: nothing is moved."
    return table("readings", "What the check measurements say", columns, rows, note=note)


def _verdict(off: Any, allow: Any) -> str:
    return "agrees" if abs(alone(off)) <= alone(allow) else "does not agree"


def suspects(plan: "Plan") -> Table:
    made = plan.setout.adjustment
    rows = (
        (s.name, "reading" if s.reading else "step", known(s.by, "–"), abs(s.test), ", ".join(s.alike) or "nothing")
        for s in (made.suspects[:5] if made else ())
    )
    columns = (
        Column("look first at"),
        Column("it is a"),
        Column("off by", Length, FINE),
        Column("standard deviations", Number, ("0.1", "0.1")),
        Column("looks the same as"),
    )
    return table(
        "suspects", "What is most likely wrong", columns, rows,
        note="Measure it again, by another way where something looks the same. Only then move a stake.",
    )  # fmt: skip


def moves(plan: "Plan") -> Table:
    system = plan.job.job.units
    made = plan.setout.adjustment
    rows = (
        (m.name, _way(m, system), _raise(m, system), 1.96 * m.sigma, _advice(m)) for m in (made.moves if made else ())
    )
    columns = (
        Column("stake"),
        Column("move it"),
        Column("level"),
        Column("now sure to", Length, FINEST),
        Column("then"),
    )
    return table(
        "moves", "Which stake to move", columns, rows, note="Most likely places, by all measurements together."
    )


def _way(m: Move, system: System) -> str:
    parts = [
        f"{show(abs(value), Length, system)} {ways[value < 0]}"
        for value, ways in ((m.along, ("ahead", "back")), (m.off, ("left", "right")))
        if show(abs(value), Length, system) != show(0.0, Length, system)
    ]
    return f"{', '.join(parts)} by {m.line}" if m.worth and parts else "leave it"


def _raise(m: Move, system: System) -> str:
    if not m.worth_up:
        return "leave it"
    return f"{show(abs(m.up), Length, system)} {'up' if m.up > 0 else 'down'}"


def _advice(m: Move) -> str:
    if not (m.worth or m.worth_up):
        return "it stands within what can be measured"
    return "it is cast: write it under [found], what follows moves with it" if m.done else "measure once more"


def warnings(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = ((", ".join(c.about), _warned(c, system)) for c in plan.setout.cautions)
    return table("setting-out-warnings", "What weakens a measurement", (Column("of"), Column("what")), rows)


def _warned(c: Caution, system: System) -> str:
    if c.kind in ("narrow rays", "narrow lines"):
        what = "tapes to the first" if c.kind == "narrow rays" else "its two lines"
        return (
            f"{what} cross at {show(alone(c.value), Angle, system, '1 deg')}: below 30 degrees a crossing says little"
        )
    if c.kind == "one line":
        return "the marks lie on one line: tapes from them cannot tell on which side the first one stands"
    far = show(abs(alone(c.value)), Length, system)
    if c.kind == "beyond its end":
        return f"used {far} beyond the line's end: what its nails are off grows on the way"
    if c.kind == "taken twice":
        return f"the same thing, {far} apart: one of the two is wrong"
    return f"a round of levels that does not close, by {far}"
