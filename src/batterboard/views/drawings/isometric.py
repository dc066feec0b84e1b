"""What does a form look like, apart and together, and in what order is it put together?

    assembly_sheets(board)     a page for each form: apart with its marks, together with yokes and braces, the steps

Seen from ahead and right, half from above. All pieces are convex and share no space, so of two that cover each other
on paper a plane of one of them tells which is nearer: they are drawn from the farthest to the nearest.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import sqrt

import numpy as np

from batterboard.methods.solids import Solid
from batterboard.phases.forms import Box
from batterboard.phases.forms.pieces import FormPieces
from batterboard.views import drawing as d
from batterboard.views.drawing.lettering import wrapped
from batterboard.views.drawings import exploded, labels
from batterboard.views.drawings.board import Board, even
from batterboard.views.drawings.parts import Part
from batterboard.work.names import among

# Towards the eye, to the right of the paper, up on it; the three axes look equally short.
_EYE = np.array([1.0, -1.0, 1.0]) / sqrt(3)
_RIGHT = np.array([1.0, 1.0, 0.0]) / sqrt(2)
_UP = np.cross(_EYE, _RIGHT)
_PAPER = np.column_stack([_RIGHT, _UP])
_ON = 1e-7
_LINE = 4.6  # from line to line of a note [mm]
_STEPS = (72.0, 96.0, 120.0)  # room for the steps [mm]
_SHARES = ((1.5, 1.0), (1.0, 1.0), (1.0, 1.3))  # of the width, for the form apart and together


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

    @cached_property
    def flat(self) -> np.ndarray:
        return self.points @ _PAPER

    @cached_property
    def across(self) -> np.ndarray:
        """Directions on paper square to its edges, as columns; of edges that run alike only one."""
        edges = np.array(self.solid.edges)
        ways = self.flat[edges[:, 1]] - self.flat[edges[:, 0]]
        ways = ways[np.hypot(*ways.T) > _ON]
        ways /= np.hypot(*ways.T)[:, None]
        apart = {(round(-y, 9), round(x, 9)): (-y, x) for x, y in ways.tolist()}
        return np.array([way for at, way in apart.items() if at >= (0.0, 0.0) or (-at[0], -at[1]) not in apart]).T

    @cached_property
    def spread(self) -> tuple[np.ndarray, np.ndarray]:
        """From where to where it reaches in each of them."""
        along = self.flat @ self.across
        return along.min(axis=0) + _ON, along.max(axis=0) - _ON

    @cached_property
    def turned(self) -> np.ndarray:
        """How far each face is turned to the eye: 1 looks at it, -1 away."""
        return self.solid.normals @ _EYE


def assembly_sheets(board: Board) -> Iterator[d.Sheet]:
    """Forms that are alike share a page, drawn as the first."""
    boxes = {box.name: box for box in board.plan.forms.boxes}
    bodies = {body.name: body for body in board.work.bodies}
    for forms in _alike(board.plan.pieces.forms, boxes):
        form, box = forms[0], boxes[forms[0].name]
        names = among(each.name for each in forms)
        blank = board.sheet(f"Form, put together: {names}")
        left, bottom, right, top = d.area(blank)
        steps = tuple(_said(form, names if len(forms) > 1 else ""))
        told, said = right, list(steps)
        for wide in _STEPS:  # the narrowest room that they fit into
            told, said = right - wide, [line for words in steps for line in wrapped(words, 2.5, wide - 6)]
            if _LINE * len(said) <= top - bottom - 6:
                break
        parts = exploded.parts(form)
        whole = [*parts, *exploded.held(box, bodies[form.name])]
        apart = _Picture("DRAWN APART", _pieces(parts, True), _named(form))
        room = (left, bottom, told, top)
        splits = (*(d.across(room, *shares) for shares in _SHARES), d.down(room, 1.2, 1.0))
        together = _Picture("TOGETHER", _pieces(whole, False), frozenset())
        own = box.frame is None and box.shores is None  # long and low: on a page of its own
        if not own:
            views = _best(board, apart, together, splits)
            own = views[1].scale.ratio >= 2 * views[0].scale.ratio  # the steps leave it too little room
        if own:
            views = (_view(board, apart, room),)
        note = d.Text((told + 3, top - 3), "\n".join(said), anchor="left top")
        yield replace(blank, views=views, marks=(note,))
        if own:
            page = board.sheet(f"Form, together: {names}")
            yield replace(page, views=(_view(board, together, d.area(page)),))


def _named(form: FormPieces) -> frozenset[str]:
    """Every panel, strip and blockout; of strips too many to tell apart, as of a polygon, the first of each kind."""
    strips = [strip.mark for strip in form.strips]
    if _crowded(form):
        strips = list({strip.kind: strip.mark for strip in reversed(form.strips)}.values())
    return frozenset([*strips, *(panel.mark for panel in form.panels), *(box.name for box in form.blockouts)])


def _crowded(form: FormPieces) -> bool:
    return len(form.panels) > 4


def _alike(forms: Sequence[FormPieces], boxes: dict[str, Box]) -> list[tuple[FormPieces, ...]]:
    groups: dict[object, list[FormPieces]] = {}
    for form in forms:
        if form.panels:
            groups.setdefault(_look(form, boxes[form.name]), []).append(form)
    return [tuple(group) for group in groups.values()]


def _look(form: FormPieces, box: Box) -> object:
    outlines = tuple(tuple((even(u), even(v)) for u, v in panel.outside) for panel in form.panels)
    holes = tuple((panel.side, hole.kind, *map(even, hole.middle)) for panel in form.panels for hole in panel.openings)
    strips = tuple((strip.edge, *map(even, (*strip.legs, strip.long, strip.short))) for strip in form.strips)
    boxed = tuple(box.name for box in form.blockouts)
    return outlines, holes, strips, boxed, tuple(even(yoke.up) for yoke in box.yokes)


def _said(form: FormPieces, names: str) -> Iterator[str]:
    if names:
        yield f"Drawn for {form.name}; {names} are alike but for their marks."
    if _crowded(form) and form.strips:
        yield "Alike strips: the first is named."
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
    low = np.array([piece.flat.min(axis=0) for piece in pieces])
    high = np.array([piece.flat.max(axis=0) for piece in pieces]) - _ON
    near = np.all((low[:, None] <= high) & (low <= high[:, None]), axis=2)
    for i, j in np.argwhere(np.triu(near, 1)).tolist():
        nearer = _nearer(pieces[i], pieces[j]) if _over(pieces[i], pieces[j]) else 0
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
    for a, b in ((one, other), (other, one)):
        (low, high), along = a.spread, b.flat @ a.across
        if np.any((along.max(axis=0) < low) | (high < along.min(axis=0))):
            return False
    return True


def _nearer(one: _Piece, other: _Piece) -> int:
    """1 where the first is nearer to the eye, -1 where the second is, 0 where it does not matter."""
    for a, b, sign in ((one, other, 1), (other, one, -1)):
        outside = (b.points @ a.solid.normals.T).min(axis=0) >= a.offsets - _ON  # faces of a that all of b is beyond
        for turned in a.turned[outside].tolist():
            if turned > _ON:
                return -sign
            if turned < -_ON:
                return sign
    return 0


@dataclass(frozen=True, eq=False)
class _Picture:
    """Pieces in the order they are drawn in, the same at every scale."""

    name: str
    pieces: list[_Piece]
    named: frozenset[str]  # marks of the parts that are labelled

    @cached_property
    def drawn(self) -> tuple[d.Entity, ...]:
        return tuple(entity for piece in self.pieces for entity in _drawn(piece))

    @cached_property
    def size(self) -> tuple[float, float]:
        flat = np.concatenate([piece.flat for piece in self.pieces])
        wide, high = flat.max(axis=0) - flat.min(axis=0)
        return float(wide), float(high)

    def bare(self, board: Board, room: d.Box) -> float:
        """The ratio of its scale in that room before it is labelled, which never makes it larger."""
        return board.scale(lambda _: self.drawn, self.size, room).ratio


def _best(board: Board, apart: _Picture, together: _Picture, splits: Sequence[Sequence[d.Box]]) -> tuple[d.View, ...]:
    """Both in the rooms that let them be largest; labels, which take the time, are set only where that may be best."""
    best: tuple[tuple[float, float], tuple[d.View, ...]] | None = None
    bare = [((apart.bare(board, one), together.bare(board, other)), (one, other)) for one, other in splits]
    for ratios, (one, other) in sorted(bare, key=lambda way: (max(way[0]), sum(way[0]))):
        if best is not None and best[0] <= (max(ratios), sum(ratios)):
            break
        views = (_view(board, apart, one), _view(board, together, other))
        is_so = max(v.scale.ratio for v in views), sum(v.scale.ratio for v in views)
        if best is None or is_so < best[0]:
            best = is_so, views
    assert best is not None
    return best[1]


def _view(board: Board, picture: _Picture, room: d.Box) -> d.View:
    parts = [part for part in _parts(picture.pieces) if part.mark in picture.named]

    def notes(scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
        return labels.settled(scale, drawn, (_name(scale, part) for part in parts), free)

    return board.fit(picture.name, lambda _: picture.drawn, picture.size, room, notes if parts else None)


def _drawn(piece: _Piece) -> Iterator[d.Entity]:
    """The faces that look at the eye, with the openings in them."""
    flat: list[d.Point] = [(x, y) for x, y in piece.flat.tolist()]
    seams = [set(np.flatnonzero(np.abs(piece.points @ n - at) < _ON).tolist()) for n, at in piece.seams]
    for face in piece.solid.faces:
        corners = tuple(flat[i] for i in face)
        if _area(corners) < _ON or any(seam.issuperset(face) for seam in seams):
            continue
        yield d.Polygon(corners, d.TIMBER, _FILL.get(piece.part.kind, "paper"), outline=not seams)
        if seams:  # the outline without what lies in a seam
            for i, j in zip(face, face[1:] + face[:1]):
                if not any(i in seam and j in seam for seam in seams):
                    yield d.Line(flat[i], flat[j], d.TIMBER)
        if piece.part.openings:
            a, b, c = (piece.points[i] for i in face[:3])
            normal = np.cross(b - a, c - a)
            for looks, outline in piece.part.openings:
                if looks @ normal > (1 - _ON) * np.linalg.norm(normal):
                    yield d.Polygon(_on_paper(outline + piece.moved), d.TIMBER, "tone")


def _area(corners: tuple[d.Point, ...]) -> float:
    """Positive where the face looks at the eye: its corners run counter-clockwise on paper."""
    around = zip(corners, corners[1:] + corners[:1])
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in around) / 2


def _on_paper(points: np.ndarray) -> tuple[d.Point, ...]:
    return tuple((x, y) for x, y in (points @ _PAPER).tolist())


_FILL = {"panel": "paper", "strip": "tone", "blockout": "tone", "yoke": "tone", "brace": "paper"}


def _parts(pieces: Sequence[_Piece]) -> list[Part]:
    return list({piece.part.mark: piece.part for piece in pieces}.values())


def _name(scale: d.Scale, part: Part) -> labels.Label:
    at = np.array(part.high if part.kind == "strip" else part.middle) + np.array(part.away)
    point = (float(at @ _RIGHT), float(at @ _UP))
    mark = part.mark.partition(" ")[2] or part.mark
    if part.kind == "panel":
        return (d.Text(point, mark, 3.0, "middle middle", bold=True), *labels.near(scale, point, mark, bold=True))
    return labels.pointing(scale, point, mark, (6.0, 9.0, 13.0, 18.0, 24.0))
