"""Tables of panels that no sheet yields whole: their joints with the letters on both sides, and what backs them."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from batterboard.phases.forms import splices
from batterboard.quantity import Length, show
from batterboard.views.tables.model import Column, Table, table

if TYPE_CHECKING:
    from batterboard.plan import Plan

Row = tuple[str, str, str, Any, str, str]
_ON = {"plates": "plates behind it, between the supports"}


def joints(plan: "Plan") -> Table:
    rows = tuple(_joints(plan)) if any(p.joints for box in plan.forms.boxes for p in box.panels) else ()
    corner, hole = (show(far, Length, plan.job.job.units) for far in (splices.FROM_CORNER, splices.FROM_OPENING))
    columns = (
        Column("panel"),
        Column("letter"),
        Column("joint"),
        Column("at", Length, tape=True),
        Column("on"),
        Column("parts"),
    )
    return table(
        "panel-joints", "Joints within panels", columns, rows, found=("NAILED",),
        note="Upright joints are measured from the left edge of the outside, level ones from its lowest edge. A"
        " stake, a stud or a stick of a yoke stands half behind each part, both nailed to it. Letter, part and support"
        " agree before a nail goes in. Where the parts end, the panel is reckoned to end."
        f" {corner} from corners, {hole} from what is cut out and the size of the plates are common practice.",
    )  # fmt: skip


def _joints(plan: "Plan") -> Iterator[Row]:
    letters: dict[tuple[str, str], None] = {}
    for form in plan.pieces.forms:
        for piece in form.panels:
            letters.update({(piece.panel, edge.match): None for edge in piece.edges if edge.on})
    for box in plan.forms.boxes:
        for panel in box.panels:
            for number in range(1, len(panel.sides) + 1):
                name = f"{panel.mark}{number}"
                own = sorted((letter for mark, letter in letters if mark == name), key=lambda one: (len(one), one))
                for letter, joint in zip(own, panel.joints, strict=True):
                    yield (
                        name,
                        letter,
                        "upright" if joint.upright else "level",
                        joint.at,
                        _ON.get(joint.on, f"a {joint.on} of its own"),
                        f"{len(panel.parts)} in all",
                    )


def plates(plan: "Plan") -> Table:
    rows = ((plate.mark, plate.count, plate.long, plate.wide) for box in plan.forms.boxes for plate in box.plates)
    columns = (
        Column("plate"),
        Column("count"),
        Column("long", Length, tape=True),
        Column("wide", Length, tape=True),
    )
    return table(
        "splice-plates", "Plates behind joints, of the sheet", columns, rows, found=("CUT",),
        note="Screwed to both parts, half on each, a screw every 6 in on each side: they keep a joint flush and tight,"
        " and carry nothing. Cut one after the other from the plate strips that are laid out on the sheets.",
    )  # fmt: skip
