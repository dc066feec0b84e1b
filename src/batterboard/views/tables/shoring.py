"""Tables of what carries a beam that stands clear of the ground: what it is made of, and the cut of every shore."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from batterboard.phases.forms import Shores
from batterboard.quantity import Force, Length, Pressure, System, show
from batterboard.views.tables.model import Column, Table, alone, sideways, table

if TYPE_CHECKING:
    from batterboard.plan import Plan

PRESSURE = ("5 psf", "0.1 kPa")
WEIGHT = ("5 lb", "0.05 kN")
_LABELS = (
    "stands under", "above the ground", "designed for", "soffit", "pairs of shores", "cross-pieces",
    "each shore carries", "sole plates", "uprights of the sides", "ties across their tops",
    "ribbons at their feet", "level force", "braces square to it", "diagonals along it", "ground to dig off",
    "pairs over a pad",
)  # fmt: skip


def shores(plan: "Plan") -> Table:
    system = plan.job.job.units
    firsts = {name: beam.between[0] for name, beam in plan.work.beams.items()}
    return sideways(
        "form-shores", "Soffit and shores of beams that stand clear of the ground", _LABELS,
        {of.name: tuple(_told(of, firsts[of.name], system)) for of in plan.forms.shored.values()},
        note="Temporary works: a qualified person plans them and looks at them before, while and after the beam is"
        " filled. Shores stand on ground as it grew, never on fill, mud or frost. No shore is taken out, loosened or"
        " set anew before its time; then from the middle of the span outwards. No camber. Sticks that hold shores"
        " between their ends, scabs and wedges are cut on the spot.",
    )  # fmt: skip


def _told(of: Shores, first: str, system: System) -> Iterator[str]:
    def long(value: Any) -> str:
        return show(alone(value), Length, system)

    def weight(value: Any) -> str:
        return show(alone(value), Force, system, WEIGHT[system == "si"])

    load, own = (show(alone(p), Pressure, system, PRESSURE[system == "si"]) for p in (of.load, of.own))
    yield "all of it" if of.whole else f"{long(of.start)} to {long(of.end)} from {first}; the rest lies in the ground"
    yield f"{long(of.nearest)} to {long(of.above)}"
    yield f"{load}: concrete, {own} of form, people and tools"
    yield f"{of.soffit.name}, face grain along the beam; the sides run past its edges"
    held = f", held both ways at {alone(of.middles):.0f} places" if alone(of.middles) else ""
    yield f"{len(of.pairs)} of {of.size.name} {of.grade.name}, at most {long(of.spacing)} apart{held}"
    yield f"{of.size.name}, {long(of.cross)} long, shores {long(of.span)} apart under it"
    yield f"{weight(of.shore)}, with what a pulled brace adds"
    yield f"{of.sole.name} flat, {long(of.sole_long)} long, a pair of wedges on each"
    yield f"{of.upright.name} on edge, {long(of.post)} long, on each cross-piece"
    yield f"{of.upright.name}, {long(of.across)} long, {_nails(of.tie_nails)} at each end, pulled {weight(of.tie)}"
    yield f"{of.upright.name}, {_nails(of.foot_nails)} on each cross-piece, pushed {weight(of.foot)}"
    yield f"{weight(of.push)} square to it ({of.governs}), {weight(of.push_along)} along it"
    yield (
        f"{alone(of.a_side):.0f} a side of {of.upright.name}, {long(of.brace)} long, {long(of.up)} up and as far out, "
        f"{weight(of.brace_force)} either way, {_nails(of.brace_nails)} at each end, {alone(of.stakes):.0f} stakes"
    )
    nails = f"{_nails(of.diagonal_nails)} at each end"
    yield f"{alone(of.crosses):.0f} cross on each row, {long(of.diagonal)} long, {nails}"
    dug = f"up to {long(of.dig)}, where it is nearer than {long(of.room)}"
    yield dug if alone(of.dig) > 0 else "none"
    yield f"{of.on_pads}: set them down on the pad, longer, not on its backfill" if of.on_pads else "none"


def _nails(nails: Any) -> str:
    return f"{alone(nails):.0f} nails (16d)" if alone(nails) == alone(nails) else "a bolt"


def cuts(plan: "Plan") -> Table:
    rows = (
        (of.name, pair.number, pair.at, pair.left, pair.right) for of in plan.forms.shored.values() for pair in of.pairs
    )
    columns = (
        Column("beam"),
        Column("pair"),
        Column("from its first pier", Length, tape=True),
        Column("left shore, at most", Length, tape=True),
        Column("right shore, at most", Length, tape=True),
    )
    return table(
        "form-shore-cuts", "Shores, pair by pair", columns, rows, found=("CUT",),
        note="Left and right looking from the first pier to the second. For the ground as the job file has it: measure"
        " each from the set sole plate before it is cut, and leave its wedges half driven.",
    )  # fmt: skip
