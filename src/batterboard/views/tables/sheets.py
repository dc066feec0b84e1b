"""Tables of the sheets: what lies on each, and its cuts in sawing order."""

from collections import Counter
from typing import TYPE_CHECKING

from batterboard.quantity import Length
from batterboard.views.tables.model import Column, Table, sizes, table

if TYPE_CHECKING:
    from batterboard.plan import Plan


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
        notes.append(f"{total.of}: {total.bought} to buy; {proof}.")
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
