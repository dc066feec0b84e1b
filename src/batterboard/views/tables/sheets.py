"""Tables of what is sawn from stock: panels on the sheets with their cuts in order, strips and lumber on the sticks."""

from collections import Counter
from collections.abc import Iterator
from math import degrees
from typing import TYPE_CHECKING, Any

from batterboard.phases.forms.framing import DRIVEN
from batterboard.phases.forms.lumber import CutStick, StickTotal
from batterboard.quantity import Length, System, show
from batterboard.views.tables.model import Column, Table, alone, sizes, table
from batterboard.views.tables.place import NOTHING

if TYPE_CHECKING:
    from batterboard.phases.forms.pieces import StripPiece
    from batterboard.plan import Plan


STOPPED = ", the search was stopped by hand"


def layouts(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = []
    for number, layout in enumerate(plan.sheets.layouts, 1):
        marks = Counter(place.mark for place in layout.places)
        rows.append(
            (
                number,
                f"{layout.of}, {sizes(*layout.size, system=system)}" + (" on hand" if layout.on_hand else ""),
                layout.times,
                ", ".join(f"{count} {mark}" for mark, count in marks.items()),
                sizes(*layout.offcut, system=system) if min(layout.offcut) > 0 else "nothing",
            )
        )
    columns = (Column("layout"), Column("sheet"), Column("times"), Column("panels on it"), Column("largest piece left"))
    return table("sheet-layouts", "Panels on the sheets", columns, rows, found=("CUT",), note=_note(plan))


def _note(plan: "Plan") -> str:
    notes = ["The first size of a sheet runs along its face grain."]
    for total in plan.sheets.totals:
        proof = "no layout buys fewer" if total.bought <= total.least else f"at least {total.least} are needed"
        notes.append(f"{total.of}: {total.bought} to buy; {proof}{STOPPED * total.stopped}.")
        if total.too_large:
            notes.append(f"Larger than any sheet of {total.of} with its grain: {', '.join(total.too_large)}.")
    return " ".join(notes)


def cuts(plan: "Plan") -> Table:
    rows = (
        (number, order, cut.stage, "along" if cut.along else "across", cut.at, cut.start, cut.end)
        for number, layout in enumerate(plan.sheets.layouts, 1)
        for order, cut in enumerate(layout.cuts, 1)
    )
    columns = (
        Column("layout"),
        Column("cut"),
        Column("stage"),
        Column("runs"),
        Column("at", Length, tape=True),
        Column("from", Length, tape=True),
        Column("to", Length, tape=True),
    )
    return table(
        "sheet-cuts", "Cuts of the sheets, in sawing order", columns, rows,
        note="All from the same corner of the sheet; the kerf begins at the line, on its far side. "
        "Every cut runs from edge to edge of the piece on the saw.",
    )  # fmt: skip


# ---- sticks ----


def sticks(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = (
        (
            kind(stick, system) + (" on hand" if stick.on_hand else ""),
            stick.length,
            stick.times,
            ", ".join(f"{p.count} {p.mark} {show(p.length, Length, system)}" for p in stick.pieces),
            stick.left,
        )
        for stick in plan.lumber.sticks
    )
    columns = (
        Column("stick"),
        Column("long", Length, tape=True),
        Column("how many"),
        Column("cut from each, in this order"),
        Column("left", Length, tape=True),
    )
    notes = [_bought(total, system) for total in plan.lumber.totals]
    notes.append(f"Keep what is {show(plan.lumber.keep, Length, system)} or longer.")
    notes += [f"No stick yields {', '.join(total.too_long)}." for total in plan.lumber.totals if total.too_long]
    return table("stick-cuts", "Strips and lumber on the sticks", columns, rows, found=("CUT",), note=" ".join(notes))


def kind(stick: CutStick | StickTotal, system: System) -> str:
    """2x4; chamfer strip, leg 2 in; chamfer strip, legs 2 in x 1 in."""
    if stick.legs is None:
        return stick.of
    long, short = (show(leg, Length, system) for leg in stick.legs)
    return f"{stick.of}, leg {long}" if long == short else f"{stick.of}, legs {long} x {short}"


def _bought(total: StickTotal, system: System) -> str:
    """What is bought, and how sure it is that less will not do."""
    said = ", ".join(f"{count} of {show(length, Length, system)}" for length, count in total.buys) or "none"
    least = f"{total.least:.2f}" if total.priced else show(total.least, Length, system)
    proof = "no plan costs less" if total.priced else "no plan buys less length"
    if total.cost > total.least * (1 + 1e-6) + 1e-9:
        proof = f"none can come under {least}"
    spent = f" for {total.cost:.2f}" if total.priced else ""
    usual = " (lengths assumed: the file names none)" if total.usual else ""
    return f"{kind(total, system)}: buy {said}{spent}; {proof}{STOPPED * total.stopped}{usual}."


def members(plan: "Plan") -> Table:
    rows = ((m.mark, m.of, m.length, m.count) for m in plan.lumber.members)
    columns = (Column("stick"), Column("of"), Column("cut", Length, tape=True), Column("of each"))
    return table(
        "form-sticks", "Sticks of the forms", columns, rows, found=("CUT",), about=1,
        note="Write its mark on each. Plates lie flat under and over the studs; wales lap at the corners as their"
        f" panels do. Stakes of low edges are cut to a point; {show(DRIVEN, Length, plan.job.job.units)} of each goes"
        " into the ground, more where it does not hold. All other stakes are bought.",
    )  # fmt: skip


def joined(plan: "Plan") -> Table:
    system = plan.job.job.units

    def told(joints: tuple[Length, ...]) -> str:
        return ", ".join(show(alone(joint), Length, system) for joint in joints) or NOTHING

    rows = ((j.mark, j.long, told(j.first), told(j.second)) for j in plan.lumber.joined)
    columns = (
        Column("stick"),
        Column("long", Length, tape=True),
        Column("joined at"),
        Column("the other of its pair at"),
    )
    return table(
        "stick-joints", "Joints of what is longer than any stick", columns, rows,
        note="From the left end, seen from outside; each stands on a stud, of a ribbon on a cross-piece. Nail a cleat"
        " over each joint of a wale, half of it on each side. How strong the joints are is not reckoned.",
    )  # fmt: skip


# ---- ends of strips ----


def strip_ends(plan: "Plan") -> Table:
    rows = (row for form in plan.pieces.forms for row in _ends(form.strips))
    columns = (
        Column("strip"),
        Column("of each"),
        Column("end"),
        Column("face on the table"),
        Column("mitre"),
        Column("blade"),
        Column("stays longer towards"),
    )
    return table(
        "strip-ends", "Saw settings for the ends of the strips", columns, rows, about=1,
        note="Mitre: turned from square across. Blade: tilted from upright. Left and right as from outside the form;"
        " the other hand is cut with both turned over. The patterns are full size: try the first end against its own.",
    )  # fmt: skip


def _ends(strips: "tuple[StripPiece, ...]") -> Iterator[tuple[Any, ...]]:
    """The first of each kind speaks for all."""
    kinds: dict[str, list[StripPiece]] = {}
    for strip in strips:
        kinds.setdefault(strip.kind, []).append(strip)
    for kind_, alike in kinds.items():
        first = next((strip for strip in alike if not strip.mirrored), alike[0])
        other = sum(strip.mirrored for strip in alike)
        count = f"{len(alike)}, {other} of the other hand" if 0 < other < len(alike) else str(len(alike))
        for which, end in zip(("foot", "head") if first.edge == "corner" else ("left", "right"), first.ends):
            for cut in end.cuts:
                mitre, blade = (f"{degrees(angle):.1f}°" for angle in (cut.mitre, cut.bevel))
                yield kind_, count, which, cut.down, mitre, blade, cut.long_side or "square"
