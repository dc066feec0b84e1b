"""What is each box in the concrete sawn from, where on its panel does it stand, and how does it come out?

    piece  : BlockoutPiece("letters", on=(Mounted("west B1", outline=...),), boards=(...), comes_off="...", ...)
    board  : BoxBoard("letters end", count=1, outside=(...), bevels=(0.083, ...), ...)      one board, folded flat

A box of plywood is open towards its panel: an end that covers all, two sides that run past, top and bottom between
them; one that goes through has no end. Its own axes are those of `work.blockouts`. A block of lumber or foam is one
piece. Read only where a job has blockouts.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import atan, sqrt
from typing import Any

import numpy as np

from batterboard.methods import solids
from batterboard.methods.solids import Solid
from batterboard.phases.forms.blockouts import Fixing
from batterboard.phases.forms.pieces.panels import Sight
from batterboard.phases.forms.pieces.planes import Array, Face
from batterboard.phases.forms.pieces.results import (
    BlockoutPiece,
    BoxBoard,
    Fastening,
    FormPieces,
    Mounted,
    Opening,
    PanelPiece,
    Point,
    Step,
)
from batterboard.phases.forms.results import Box, Forms
from batterboard.work.blockouts import Blockout
from batterboard.work.names import several
from batterboard.work.records import Body, Work

_ON = 1e-7


def set_in(
    forms: tuple[FormPieces, ...], held: Forms, work: Work, thick: float
) -> tuple[tuple[FormPieces, ...], tuple[BlockoutPiece, ...]]:
    """The forms with the boxes in them, and every box, those in the ground too."""
    fixed = {one.name: one for one in held.blockouts}
    boxes, pieces = {box.name: box for box in held.boxes}, {form.name: form for form in forms}
    made: dict[str, BlockoutPiece] = {}
    for body in (body for body in work.bodies if body.blockouts):
        form, box = pieces.get(body.name), boxes.get(body.name)
        panels = form.panels if form is not None else ()
        t = float(panels[0].thick) if panels else thick
        of_body = [piece_of(hole, body, fixed[hole.name], t, panels, box) for hole in body.blockouts]
        made |= {piece.name: piece for piece in of_body}
        if form is not None:
            pieces[body.name] = _with(form, of_body)
    return tuple(pieces.values()), tuple(made[one.name] for one in held.blockouts)


def _with(form: FormPieces, made: Sequence[BlockoutPiece]) -> FormPieces:
    """A form with its boxes: concrete without them, and what they ask of those who put it together."""
    concrete = form.concrete
    for piece in made:
        concrete = tuple(left for part in concrete for left in solids.without(part, piece.solid))
    steps = tuple(replace(step, number=n) for n, step in enumerate(_steps(form.steps, made), 1))
    return replace(
        form,
        concrete=concrete,
        blockouts=tuple(made),
        fastenings=(*form.fastenings, *_fastenings(made)),
        steps=steps,
        reminders=(*form.reminders, *_reminders(made)),
    )


def piece_of(
    hole: Blockout, body: Body, fixed: Fixing, thick: float, panels: Sequence[PanelPiece], box: Box | None
) -> BlockoutPiece:
    """One box. thick : of the boards it is sawn from"""
    foot = 0.0 if box is None else float(box.foot) - float(body.bottom)
    solid = hole.solid(foot)
    t = sqrt(1 + float(hole.draft) ** 2) * thick
    boards, cleats = tuple(_boards(hole, thick)), (0, 0.0)
    if len(boards) > 1:
        cleats = (4 if hole.through and hole.side != "top" else 2, float(hole.high) - 2 * t)
    return BlockoutPiece(
        name=hole.name,
        form=fixed.form,
        side=hole.side,
        of=hole.of,
        stays=hole.stays,
        through=hole.through,
        wide=float(hole.wide),
        high=float(hole.high),
        deep=float(hole.deep),
        on=tuple(_mounted(hole, solid, panels)),
        ahead=float(hole.x) if hole.side == "top" else np.nan,
        to_left=float(hole.y) if hole.side == "top" else np.nan,
        boards=boards,
        cleats=cleats,
        nails=round(float(np.max(fixed.nails))),
        ribs=fixed.ribs,
        vent=float(fixed.vent),
        crowded=fixed.crowded,
        draft=atan(float(hole.draft)),
        comes_off=_comes_off(hole),
        solid=solid,
    )


def _comes_off(hole: Blockout) -> str:
    if hole.stays:
        return "stays in the concrete"
    if hole.of == "foam":
        return "dug out in pieces, once the form is off"
    if hole.side == "top":
        return "battens off, then straight up"
    return "nails drawn from outside, the panel off, then square out of the face"


# ---- where ----


def _mounted(hole: Blockout, solid: Solid, panels: Sequence[PanelPiece]) -> Iterator[Mounted]:
    """On its panel, and where it goes through on the one across."""
    if hole.side == "top":
        return
    r, u, n = (np.array([float(v) for v in axis]) for axis in hole.axes)
    for looks in (n, -n) if hole.through else (n,):
        corners = solid.face_on(looks)
        for panel in panels:
            inside = panel.solid.face_on(-looks)
            if len(inside) < 3 or abs(float(looks @ (inside[0] - corners[0]))) > _ON:
                continue
            sight = Sight(Face(panel.side, looks, float(looks @ corners[0])), panel.solid)
            outline = _from_lower_left(sight.at(corners))
            middle = tuple(float(v) for v in np.mean(np.array(outline), axis=0))
            us, vs = zip(*sight.at(inside), strict=True)
            if min(us) <= middle[0] <= max(us) and min(vs) <= middle[1] <= max(vs):
                yield Mounted(panel=panel.mark, outline=outline, middle=(middle[0], middle[1]))


def stood_on(body: Body, seen: Mapping[str, Sight], foot: float) -> Iterator[tuple[str, Opening]]:
    """Where boxes stand on the sides of a form whose underside is at that level: no panel is joined there."""
    for hole in (hole for hole in body.blockouts if hole.side != "top"):
        solid = hole.solid(foot - float(body.bottom))
        for side, sight in seen.items():
            corners = solid.face_on(sight.wall.normal)
            if len(corners) and abs(float(sight.wall.normal @ corners[0]) - sight.wall.offset) < _ON:
                outline = _from_lower_left(sight.at(corners))
                middle = np.mean(np.array(outline), axis=0)
                at = (float(middle[0]), float(middle[1]))
                yield (
                    side,
                    Opening(
                        kind="blockout", of=hole.name, outline=outline, middle=at, hole=np.nan, closed_with="its box"
                    ),
                )


def _from_lower_left(points: tuple[Point, ...]) -> tuple[Point, ...]:
    first = min(range(len(points)), key=lambda i: (round(points[i][1], 6), points[i][0]))
    return points[first:] + points[:first]


# ---- what it is sawn from ----


def _boards(hole: Blockout, thick: float) -> Iterator[BoxBoard]:
    """In its own axes: right, up, and out of the face."""
    W, H, D, k = (float(v) for v in (hole.wide, hole.high, hole.deep, hole.draft))
    outer = {
        "right": _plane((1.0, 0.0, -k), W / 2),
        "left": _plane((-1.0, 0.0, -k), W / 2),
        "up": _plane((0.0, 1.0, -k), H / 2),
        "down": _plane((0.0, -1.0, -k), H / 2),
    }
    clear = {way: (n, b - thick) for way, (n, b) in outer.items()}  # inside the boards
    back = {way: (-n, thick - b) for way, (n, b) in outer.items()}  # the inner faces of the boards themselves
    out, into = np.array((0.0, 0.0, 1.0)), np.array((0.0, 0.0, -1.0))
    right, up = np.array((1.0, 0.0, 0.0)), np.array((0.0, 1.0, 0.0))
    if hole.of == "box":
        return
    if hole.of != "plywood" or min(D, min(W, H) / 2 - k * D) < 2 * thick:  # too small a box: glued up to a block
        block = solids.behind([*outer.values(), (out, 0.0), (into, D)])
        yield _board(f"{hole.name} block", 1, block, out, right, D)
        return
    behind = D
    if not hole.through:
        behind = D - thick
        end = solids.behind([*outer.values(), (out, -behind), (into, D)])
        yield _board(f"{hole.name} {'bottom' if hole.side == 'top' else 'end'}", 1, end, out, right, thick)
    words = ("ends", "sides") if hole.side == "top" else ("sides", "top and underside")
    reach = [(out, 0.0), (into, behind)]
    past = solids.behind([outer["right"], back["right"], outer["up"], outer["down"], *reach])
    yield _board(f"{hole.name} {words[0]}", 2, past, outer["right"][0], up, thick)
    between = solids.behind([outer["up"], back["up"], clear["right"], clear["left"], *reach])
    yield _board(f"{hole.name} {words[1]}", 2, between, outer["up"][0], right, thick)


def _plane(normal: tuple[float, float, float], offset: float) -> tuple[Array, float]:
    n = np.array(normal)
    long = float(np.linalg.norm(n))
    return n / long, offset / long


def _board(mark: str, count: int, solid: Solid, normal: Array, level: Array, thick: float) -> BoxBoard:
    """Folded flat: its outer face as seen from outside, `level` to the right."""
    along = level - normal * float(level @ normal)
    along = along / np.linalg.norm(along)
    up = solids.cross(normal, along)
    corners, others = solid.face_on(normal), solid.face_on(-normal)
    flat, back = (np.column_stack((points @ along, points @ up)) for points in (corners, others[::-1]))
    origin = flat.min(axis=0)
    outside, inside = (tuple((float(a), float(b)) for a, b in points - origin) for points in (flat, back))
    edges = [(*pair, _bevel(solid, normal, *ends)) for pair, ends in zip(_round(outside), _round(corners), strict=True)]
    high = max(v for _, v in outside)
    (low_long, low_bevel), (high_long, high_bevel) = (_level(edges, at) for at in (0.0, high))
    first = low_long >= high_long
    ends = next(bevel for (_, v), (_, w), bevel in edges if abs(v - w) > _ON)
    return BoxBoard(
        mark=mark,
        count=count,
        outside=outside,
        inside=inside,
        long=max(low_long, high_long),
        other=min(low_long, high_long),
        wide=high,
        bevels=(low_bevel if first else high_bevel, ends, high_bevel if first else low_bevel),
        thick=thick,
    )


def _round(points: Any) -> list[tuple[Any, Any]]:
    """Each edge by its two ends."""
    return [(points[i], points[(i + 1) % len(points)]) for i in range(len(points))]


def _level(edges: Sequence[tuple[Point, Point, float]], at: float) -> tuple[float, float]:
    """How long the edge at a height is, and its bevel."""
    return next((abs(a[0] - b[0]), angle) for a, b, angle in edges if abs(a[1] - at) < _ON and abs(b[1] - at) < _ON)


def _bevel(solid: Solid, normal: Array, start: Array, end: Array) -> float:
    """Of the edge of a face between two corners: how far the next face is off square."""
    for n, b in zip(solid.normals, solid.offsets, strict=True):
        both = max(abs(float(n @ start - b)), abs(float(n @ end - b))) <= _ON
        if both and np.max(np.abs(n - normal)) > _ON:
            return float(-np.arcsin(np.clip(n @ normal, -1, 1))) + 0.0
    raise AssertionError("an edge lies between two faces")


# ---- putting it in ----


def _fastenings(made: Sequence[BlockoutPiece]) -> Iterator[Fastening]:
    for piece in made:
        words = "16d nails into its battens" if piece.side == "top" else "6d nails from outside, heads left proud"
        for on in piece.on:
            spread = 2 * (piece.wide + piece.high) / piece.nails
            pair = (piece.name, on.panel)
            yield Fastening(
                joint=f"{piece.name} on {on.panel}", pieces=pair, with_=words, count=piece.nails, every=spread
            )


def _steps(steps: Sequence[Step], made: Sequence[BlockoutPiece]) -> Iterator[Step]:
    """On the bench before it is oiled; those in the top before the form is looked at for the last time."""
    flat = [piece for piece in made if piece.side != "top"]
    hung = [piece for piece in made if piece.side == "top"]
    oiled = next((i for i, step in enumerate(steps) if step.what.startswith("oil")), len(steps) - 1)
    for i, step in enumerate(steps):
        if i == oiled:
            sawn = [piece.name for piece in made if piece.boards]
            if sawn:
                yield _step("saw the blockouts with their bevels, glue and screw them, cleats in their mouths", sawn)
        if i == len(steps) - 1 and hung:
            words = (
                "hang the top's blockouts from two battens each, their mouths level with the line of the top; tie down"
            )
            yield _step(words, [piece.name for piece in hung])
        yield step
        if i == oiled and flat:
            words = "fix the blockouts to their panels, nails from outside; tape round their mouths"
            yield _step(words, [*(p.name for p in flat), *dict.fromkeys(on.panel for p in flat for on in p.on)])


def _step(what: str, pieces: Sequence[str]) -> Step:
    return Step(number=0, what=what, pieces=tuple(pieces))


def _reminders(made: Sequence[BlockoutPiece]) -> Iterator[str]:
    out = [piece for piece in made if not piece.stays and piece.of != "foam"]
    if out:
        yield f"Oiled twice, edges sealed, since they come out again: {_named(out)}."
    if any(piece.on and not piece.stays for piece in made):
        yield "Draw a blockout's nails before its panel is pulled."
    through = [piece for piece in made if piece.through and piece.on]
    if through:
        yield f"Nailed through both panels: {_named(through)}."
    wide = [piece for piece in made if piece.crowded]
    if wide:
        yield f"Concrete does not run under wide boxes by itself: vibrate both sides of {_named(wide)}, tap below."
    if any(piece.vent == piece.vent for piece in wide):
        yield "The hole in the underside shows when it has come: look in through the panel, then plug both."
    foam = [piece for piece in made if piece.of == "foam"]
    if foam:
        yield f"Foam holds no nail: glue it, a lath in its back: {_named(foam)}."


def _named(pieces: Sequence[BlockoutPiece]) -> str:
    return several([piece.name for piece in pieces])
