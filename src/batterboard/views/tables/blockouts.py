"""Tables of the pockets and holes in the concrete: where each stands, what holds it, what its box is sawn from.

Empty of a job that has none: asked for without opening the rooms that reckon them.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from batterboard.quantity import Angle, Force, Length, Pressure, System, Volume, show
from batterboard.views.tables.model import Column, Table, alone, known, sizes, table

if TYPE_CHECKING:
    from batterboard.phases.forms.blockouts import Fixing
    from batterboard.phases.forms.pieces import BlockoutPiece, BoxBoard
    from batterboard.plan import Plan

WEIGHT, PRESSURE, FINE = ("1 lb", "0.01 kN"), ("5 psf", "0.1 kPa"), ("1/16 in", "1 mm")
SHEET, HOLDS, TILT = ("1/32 in", "0.5 mm"), ("0.01 ft3", "0.1 L"), ("0.1 deg", "0.1 deg")
_OF = {"plywood": "a box of plywood", "lumber": "a block of lumber", "foam": "a block of foam", "box": "a bought box"}
_SQUARE = 1e-3  # [rad] less is sawn square


def places(plan: "Plan") -> Table:
    """Where each stands, from marks that he has on his panel, and how it comes out."""
    system = plan.job.job.units
    rows = (
        (
            piece.name,
            f"{fixed.element}, {_face(fixed.side)}",
            _size(piece, system),
            _OF[piece.of],
            "; ".join(_place(piece, system)),
            piece.comes_off,
            piece.draft if piece.draft > 0 else "none",
        )
        for piece, fixed in _pairs(plan)
    )
    columns = (
        Column("blockout"),
        Column("in"),
        Column("its mouth, and how deep"),
        Column("made as"),
        Column("where its mouth stands"),
        Column("comes out"),
        Column("each side off square", Angle, TILT),
    )
    return table(
        "blockouts", "Pockets and holes in the concrete", columns, rows,
        note="On a panel as seen from outside, from the lower left corner of its inside: to the right, and up along"
        " the face. In the top from its centre lines. The mouth is the end at the face.",
    )  # fmt: skip


def holding(plan: "Plan") -> Table:
    """What lifts and presses each, and what holds it."""
    rows = (
        (
            f.name,
            f.volume,
            f.lift,
            f.pressure,
            _pressed(f, plan.job.job.units),
            "; ".join(_held(f, plan.job.job.units)),
            known(f.vent, "a block: tap the panel below it") if f.crowded else "not needed",
        )
        for f in plan.forms.blockouts
    )
    columns = (
        Column("blockout"),
        Column("keeps out", Volume, HOLDS),
        Column("lifted with", Force, WEIGHT),
        Column("pressed by", Pressure, PRESSURE),
        Column("so that"),
        Column("held by"),
        Column("hole in its underside", Length),
    )
    return table(
        "blockouts-held", "What lifts and presses the blockouts, and what holds them", columns, rows, found=("SEEN",),
        note="Lift is the weight of the concrete that it keeps out, less its own; foam and bought boxes are taken to"
        " weigh nothing. Concrete does not run under a wide box by itself: vibrate on both sides until it shows in the"
        " hole in its underside, then plug it (common practice, no source).",
    )  # fmt: skip


def boards(plan: "Plan") -> Table:
    """What each box is sawn from."""
    pieces = plan.pieces.blockouts if plan.forms.blockouts else ()
    rows = [row for piece in pieces for row in _sawn(piece)]
    columns = (
        Column("piece"),
        Column("how many"),
        Column("long", Length, tape=True),
        Column("other end", Length, tape=True),
        Column("wide", Length, tape=True),
        Column("thick", Length, SHEET),
        Column("bevels: the long edge, the ends, the other edge"),
    )
    return table(
        "blockout-boards", "What the boxes of blockouts are sawn from", columns, rows, found=("CUT",),
        note="Out of offcuts: no sheet is laid out for them. Sizes are of the face that looks outwards, of an end or a"
        " block of the one towards the mouth. A bevel leans out where that face is the wider, in where the narrower."
        " Cleats are 2x lumber across the mouth, flush with it, for the nails; those of a box in the top stand up to"
        " its battens.",
    )  # fmt: skip


def behind(plan: "Plan") -> Table:
    """What comes nearest to each box."""
    rows = ((n.hole, n.element, n.other, n.least, n.needed) for n in plan.cage.nears)
    columns = (
        Column("blockout"),
        Column("in"),
        Column("comes near it"),
        Column("clear between", Length, FINE),
        Column("cover needed", Length, FINE),
    )
    return table(
        "behind-blockouts", "Steel and pipes near pockets and holes", columns, rows,
        note="The face that a box leaves asks for the cover of any formed face. Less than nothing: it runs through.",
    )  # fmt: skip


def _pairs(plan: "Plan") -> "list[tuple[BlockoutPiece, Fixing]]":
    if not plan.forms.blockouts:
        return []
    return list(zip(plan.pieces.blockouts, plan.forms.blockouts, strict=True))


def _face(side: str) -> str:
    return f"face {side}" if side.isdigit() else side


def _size(piece: "BlockoutPiece", system: System) -> str:
    deep = "right through" if piece.through else f"{show(piece.deep, Length, system)} deep"
    return f"{sizes(piece.wide, piece.high, system=system)}, {deep}"


def _place(piece: "BlockoutPiece", system: System) -> Iterator[str]:
    if not piece.on:
        words = (_off(piece.ahead, "ahead", "behind", system), _off(piece.to_left, "left", "right", system))
        yield f"middle {' and '.join(word for word in words if word) or 'on the centre'}"
    for on in piece.on:
        (left, low), (right, high) = on.outline[0], on.outline[2]
        u, v = (f"{show(a, Length, system)} to {show(b, Length, system)}" for a, b in ((left, right), (low, high)))
        yield f"{on.panel}: {u} right, {v} up"


def _off(value: float, one: str, other: str, system: System) -> str:
    return f"{show(abs(value), Length, system)} {one if value > 0 else other}" if abs(value) > 1e-6 else ""


def _pressed(f: "Fixing", system: System) -> str:
    if f.through and f.side != "top":
        return "squeezed on its four sides"
    if f.side == "top":
        return "lifted, and squeezed on its sides"
    return f"pushed to its panel with {show(alone(f.push), Force, system, WEIGHT[system == 'si'])}"


def _held(f: "Fixing", system: System) -> Iterator[str]:
    if f.batten is None:
        both = " on each of both panels" if f.through else ""
        yield f"{alone(f.nails):.0f} nails 6d{both}, from outside"
    else:
        long = show(alone(f.batten_span), Length, system)
        yield f"2 battens {f.batten.name} on edge, {long} and more, {alone(f.nails):.0f} nails 16d into them"
        yield f"{alone(f.end_nails):.0f} nails 16d at each end" if f.form else f"{alone(f.stakes):.0f} stakes"
    if f.ribs:
        yield f"{f.ribs} ribs inside"


def _sawn(piece: "BlockoutPiece") -> Iterator[tuple[Any, ...]]:
    yield from (_board(board) for board in piece.boards)
    many, long = piece.cleats
    if many:
        yield f"{piece.name} cleats", many, long, long, "2x2", "2x2", "square"


def _board(board: "BoxBoard") -> tuple[Any, ...]:
    words = "; ".join(_bevel(angle) for angle in board.bevels)
    return board.mark, board.count, board.long, board.other, board.wide, board.thick, words


def _bevel(angle: float) -> str:
    if abs(angle) < _SQUARE * 10:
        return "square"
    return f"{show(abs(angle), Angle, 'us', TILT[0])} {'out' if angle > 0 else 'in'}"
