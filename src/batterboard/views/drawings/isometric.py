"""What does a form look like, apart and together, and in what order is it put together?

    assembly_sheets(board)     a page for each form: apart with its marks, together with yokes and braces, the steps

Seen from ahead and right, half from above. All pieces are convex and share no space, so of two that cover each other
on paper a plane of one of them tells which is nearer: they are drawn from the farthest to the nearest.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import sqrt

import numpy as np

from batterboard.methods.solids import Solid
from batterboard.phases.forms import Box
from batterboard.phases.forms.pieces import FormPieces
from batterboard.views import drawing as d
from batterboard.views.drawing.lettering import wrapped
from batterboard.views.drawings import exploded, labels
from batterboard.views.drawings.board import Board, among, even
from batterboard.views.drawings.exploded import Part

# Towards the eye, to the right of the paper, up on it; the three axes look equally short.
_EYE = np.array([1.0, -1.0, 1.0]) / sqrt(3)
_RIGHT = np.array([1.0, 1.0, 0.0]) / sqrt(2)
_UP = np.cross(_EYE, _RIGHT)
_ON = 1e-7
_LINE = 4.6  # from line to line of a note [mm]
_STEPS = 72.0  # room for the steps [mm]


@dataclass(frozen=True, eq=False)
class _Piece:
    """A convex solid as it stands in the picture."""

    part: Part
    points: np.ndarray
    solid: Solid
    offsets: np.ndarray
    moved: np.ndarray

    @property
    def seams(self) -> list[tuple[np.ndarray, float]]:
        return [(n, b + float(n @ self.moved)) for n, b in self.part.seams]

    @property
    def flat(self) -> np.ndarray:
        return np.column_stack([self.points @ _RIGHT, self.points @ _UP])


def assembly_sheets(board: Board) -> Iterator[d.Sheet]:
    """Forms that are alike share a page, drawn as the first."""
    boxes = {box.name: box for box in board.plan.forms.boxes}
    for forms in _alike(board.plan.pieces.forms, boxes):
        form, box = forms[0], boxes[forms[0].name]
        names = among(each.name for each in forms)
        blank = board.sheet(f"Form, put together: {names}")
        left, bottom, right, top = d.area(blank)
        told = right - _STEPS
        whole = [*exploded.parts(form), *exploded.yokes(box), *exploded.braces(box)]
        apart, together = _pieces(exploded.parts(form), True), _pieces(whole, False)
        room = (left, bottom, told, top)
        splits: tuple[tuple[d.Box, ...], ...] = (
            d.across(room, 1.5, 1.0),
            d.across(room, 1.0, 1.0),
            d.down(room, 1.2, 1.0),
        )
        ways: list[tuple[d.View, ...]] = [
            (_view(board, "DRAWN APART", apart, one, True), _view(board, "TOGETHER", together, other, False))
            for one, other in splits
        ]
        if box.frame is None:  # low boards, which nobody needs to see together
            ways = [(_view(board, "DRAWN APART", apart, room, True),)]
        views = min(ways, key=lambda way: (max(v.scale.ratio for v in way), sum(v.scale.ratio for v in way)))
        said = [
            line for words in _said(form, names if len(forms) > 1 else "") for line in wrapped(words, 2.5, _STEPS - 6)
        ]
        note = d.Text((told + 3, top - 3), "\n".join(said), anchor="left top")
        yield replace(blank, views=views, marks=(note,))


def _alike(forms: Sequence[FormPieces], boxes: dict[str, Box]) -> list[tuple[FormPieces, ...]]:
    groups: dict[object, list[FormPieces]] = {}
    for form in forms:
        if form.panels:
            groups.setdefault(_look(form, boxes[form.name]), []).append(form)
    return [tuple(group) for group in groups.values()]


def _look(form: FormPieces, box: Box) -> object:
    outlines = tuple(tuple((even(u), even(v)) for u, v in panel.outside) for panel in form.panels)
    holes = tuple((panel.side, hole.kind, *map(even, hole.middle)) for panel in form.panels for hole in panel.openings)
    strips = tuple((strip.edge, even(strip.long), even(strip.short)) for strip in form.strips)
    return outlines, holes, strips, tuple(even(yoke.up) for yoke in box.yokes)


def _said(form: FormPieces, names: str) -> Iterator[str]:
    if names:
        yield f"Drawn for {form.name}; {names} are alike but for their marks."
    yield "IN THIS ORDER"
    for step in form.steps:
        yield f"{step.number}  {step.what}"
    for reminder in form.reminders:
        yield f"-  {reminder}"


def _pieces(parts: Sequence[Part], apart: bool) -> list[_Piece]:
    made = []
    for part in parts:
        away = np.array(part.away) if apart else np.zeros(3)
        for solid in part.drawn or part.solids:
            points = np.column_stack(solid.vertices) + away
            if len(points):
                made.append(_Piece(part, points, solid, solid.offsets + solid.normals @ away, away))
    return _farthest_first(made)


def _farthest_first(pieces: list[_Piece]) -> list[_Piece]:
    """Sorted so that nothing is covered by what lies behind it."""
    behind: list[set[int]] = [set() for _ in pieces]  # those that must be drawn before
    boxes = [(piece.flat.min(axis=0), piece.flat.max(axis=0)) for piece in pieces]
    for i, one in enumerate(pieces):
        for j in range(i + 1, len(pieces)):
            if np.any(boxes[i][0] > boxes[j][1] - _ON) or np.any(boxes[j][0] > boxes[i][1] - _ON):
                continue
            nearer = _nearer(one, pieces[j]) if _over(one, pieces[j]) else 0
            if nearer > 0:
                behind[i].add(j)
            elif nearer < 0:
                behind[j].add(i)
    depth = [float(piece.points.mean(axis=0) @ _EYE) for piece in pieces]
    left, order = set(range(len(pieces))), []
    while left:
        free = [i for i in left if not behind[i] & left] or list(left)
        take = min(free, key=lambda i: (depth[i], i))
        order.append(pieces[take])
        left.remove(take)
    return order


def _over(one: _Piece, other: _Piece) -> bool:
    """Whether one covers something of the other on paper: no edge of either parts them."""
    for piece in (one, other):
        edges = np.array(piece.solid.edges)
        ways = piece.flat[edges[:, 1]] - piece.flat[edges[:, 0]]
        across = np.column_stack([-ways[:, 1], ways[:, 0]])
        across = across[np.hypot(*across.T) > _ON]
        across /= np.hypot(*across.T)[:, None]
        a, b = one.flat @ across.T, other.flat @ across.T
        if np.any((a.max(axis=0) < b.min(axis=0) + _ON) | (b.max(axis=0) < a.min(axis=0) + _ON)):
            return False
    return True


def _nearer(one: _Piece, other: _Piece) -> int:
    """1 where the first is nearer to the eye, -1 where the second is, 0 where it does not matter."""
    for a, b, sign in ((one, other, 1), (other, one, -1)):
        for normal, offset in zip(a.solid.normals, a.offsets):
            if np.min(b.points @ normal) >= offset - _ON:  # all of b is outside this face of a
                faces = float(normal @ _EYE)
                if faces > _ON:
                    return -sign
                if faces < -_ON:
                    return sign
    return 0


def _view(board: Board, name: str, pieces: list[_Piece], room: d.Box, marked: bool) -> d.View:
    flat = np.concatenate([piece.flat for piece in pieces])
    low, high = flat.min(axis=0), flat.max(axis=0)

    def draw(scale: d.Scale) -> tuple[d.Entity, ...]:
        return tuple(entity for piece in pieces for entity in _drawn(piece))

    def notes(scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
        return labels.settled(scale, drawn, (_name(scale, part) for part in _parts(pieces)), free)

    size = (float(high[0] - low[0]), float(high[1] - low[1]))
    return board.fit(name, draw, size, room, notes if marked else None)


def _drawn(piece: _Piece) -> Iterator[d.Entity]:
    """The faces that look at the eye, with the openings in them."""
    for face in piece.solid.faces:
        a, b, c = (piece.points[i] for i in face[:3])
        normal = np.cross(b - a, c - a)
        normal /= np.linalg.norm(normal)
        if normal @ _EYE > _ON:
            if any(np.all(np.abs(piece.points[list(face)] @ n - at) < _ON) for n, at in piece.seams):
                continue
            corners = _on_paper(piece.points[list(face)])
            yield d.Polygon(corners, d.TIMBER, _FILL.get(piece.part.kind, "paper"), outline=not piece.part.seams)
            if piece.part.seams:
                yield from _edges(piece, face)
            for looks, outline in piece.part.openings:
                if looks @ normal > 1 - _ON:
                    yield d.Polygon(_on_paper(outline + piece.moved), d.TIMBER, "tone")


def _edges(piece: _Piece, face: tuple[int, ...]) -> Iterator[d.Entity]:
    """The outline of a face without what lies in a seam."""
    for i, j in zip(face, face[1:] + face[:1]):
        ends = piece.points[[i, j]]
        if not any(np.all(np.abs(ends @ n - at) < _ON) for n, at in piece.seams):
            a, b = _on_paper(ends)
            yield d.Line(a, b, d.TIMBER)


def _on_paper(points: np.ndarray) -> tuple[d.Point, ...]:
    return tuple((float(p @ _RIGHT), float(p @ _UP)) for p in points)


_FILL = {"panel": "paper", "strip": "tone", "yoke": "tone", "brace": "paper"}


def _parts(pieces: Sequence[_Piece]) -> list[Part]:
    return list({piece.part.mark: piece.part for piece in pieces}.values())


def _name(scale: d.Scale, part: Part) -> labels.Label:
    at = np.array(part.high if part.kind == "strip" else part.middle) + np.array(part.away)
    point = (float(at @ _RIGHT), float(at @ _UP))
    mark = part.mark.partition(" ")[2] or part.mark
    if part.kind == "panel":
        return (d.Text(point, mark, 3.0, "middle middle", bold=True), *labels.near(scale, point, mark, bold=True))
    return labels.pointing(scale, point, mark, (6.0, 9.0, 13.0, 18.0, 24.0))
