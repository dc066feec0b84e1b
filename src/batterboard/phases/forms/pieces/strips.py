"""What single strips dress the edges of a form, and how is each end cut?

    owned : the strip's part of what its edge takes off: without what strips laid before it hold, and up to the mitre
            with those that are laid with it
    cut   : one plane at its end                    mitre 35.26 and bevel 30.00 with the sloping face down

A strip owns what lies nearer to its own wall than to its neighbour's, so a mitre halves the corner whatever its angle.
What is left of a strip may fall in two, or be nothing: then the strip has vanished, which is said.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from string import ascii_lowercase

import numpy as np

from batterboard.methods import solids
from batterboard.methods.solids import Solid
from batterboard.phases.forms.pieces.planes import UP, Array, Edge, Face, FormPlanes
from batterboard.phases.forms.pieces.results import (
    Point,
    SawCut,
    StripEnd,
    StripFace,
    StripKind,
    StripPiece,
    Vanished,
)
from batterboard.quantity import inch
from batterboard.work.records import SLOPES

_SAME = 1e-7  # [m], [-] nearer than this is one plane or one length
_ALIKE = 1e-5  # [m] a hundredth of a millimetre: nobody cuts finer
_BEYOND = 2 * inch  # of each face that the pattern shows behind the end's shortest point


def strips_of(form: FormPlanes) -> tuple[tuple[StripPiece, ...], tuple[Vanished, ...]]:
    """Every strip of the form by itself, in the order in which they are laid, and those of which nothing is left."""
    pieces: list[StripPiece] = []
    hands = []
    vanished = []
    for number, edge in enumerate(form.edges):
        parts = owned(edge, form.edges[:number], form.edges)
        if not parts:
            vanished.append(Vanished(mark=edge.mark, why="the strips beside it take its whole place"))
        for part, solid in enumerate(parts, 1):
            mark = edge.mark if len(parts) == 1 else f"{edge.mark} part {part}"
            pieces.append(_piece(mark, edge, solid, form))
            hands.append(_hand(edge, solid))
    return _in_kinds(form.name, pieces, hands), tuple(vanished)


def kinds_of(strips: Sequence[StripPiece]) -> tuple[StripKind, ...]:
    """Strips that are cut alike."""
    kinds = []
    for mark in dict.fromkeys(strip.kind for strip in strips):
        alike = [strip for strip in strips if strip.kind == mark]
        one = alike[0]
        kinds.append(
            StripKind(
                mark=mark,
                count=len(alike),
                mirrored=sum(strip.mirrored for strip in alike),
                long=one.long,
                short=one.short,
                legs=one.legs,
                angle=one.angle,
            )
        )
    return tuple(kinds)


def owned(edge: Edge, before: Sequence[Edge], every: Sequence[Edge]) -> tuple[Solid, ...]:
    """What is the strip's own, in convex parts."""
    mitres = [_mitre(edge, other) for other in every if other is not edge and _laid_together(edge, other)]
    parts: tuple[Solid, ...] = (solids.common(edge.solid, solids.behind(mitres)) if mitres else edge.solid,)
    for other in before:
        if not _laid_together(edge, other):
            parts = tuple(left for part in parts for left in solids.without(part, other.solid))
    return tuple(part for part in parts if part.volume > 1e-12)


def _laid_together(edge: Edge, other: Edge) -> bool:
    return "corner" not in (edge.kind, other.kind)


def _mitre(edge: Edge, other: Edge) -> tuple[Array, float]:
    """The plane behind which a point is no deeper from this strip's wall than from the other's, by their reaches."""
    (p, p0), (q, q0) = (one.beside.deep(one.reach[0]) for one in (edge, other))
    return q - p, q0 - p0


# ---- one strip ----


def _piece(mark: str, edge: Edge, solid: Solid, form: FormPlanes) -> StripPiece:
    run = _direction(edge)
    points = np.column_stack(solid.vertices)
    at = points @ run
    low, high = float(at.min()), float(at.max())
    corners = _section_in_space(edge)
    lines = [tuple(float(at + point @ run - low) for at in solid.through(point, run)) for point in corners]
    lengths = [end - start for start, end in lines if end - start > _SAME]
    comes_off, draft = _way_out(edge, solid)
    first, second = edge.faces
    slope = SLOPES[edge.shape]
    return StripPiece(
        mark=mark,
        kind="",
        edge=edge.kind,  # type: ignore[arg-type]
        shape=edge.shape,
        between=(first.name, second.name),
        legs=edge.legs,
        angle=edge.angle,
        spring=float(np.arccos(np.clip(edge.inner[0][0] @ -first.normal, -1, 1))) if slope == 1.0 else np.pi / 2,
        section=tuple((float(p), float(q)) for p, q in _section(edge)),
        long=high - low,
        short=min(lengths, default=0.0) if len(lengths) == len(lines) else 0.0,
        lines=tuple((start, end) for start, end in lines),
        ends=(_end(edge, solid, -run, form), _end(edge, solid, run, form)),
        mirrored=False,
        comes_off=comes_off,
        draft=draft,
        solid=solid,
    )


def _hand(edge: Edge, solid: Solid) -> Array:
    """How far each long edge stops short of the lower end and of the upper (2, edges); its whole length where gone."""
    run = _direction(edge)
    at = np.column_stack(solid.vertices) @ run
    low, high = float(at.min()), float(at.max())
    short = []
    for point in _section_in_space(edge):
        start, end = solid.through(point, run)
        base = float(point @ run)
        gone = end - start <= _SAME
        short.append((high - low, high - low) if gone else (base + start - low, high - base - end))
    return np.array(short).T


def _direction(edge: Edge) -> Array:
    """Up a corner; along a top edge to the right as seen from outside."""
    if edge.kind == "corner":
        along: Array = solids.cross(edge.faces[0].normal, edge.faces[1].normal)
    else:
        along = solids.cross(UP, edge.faces[0].normal)
    return along / np.linalg.norm(along)


def _axes(edge: Edge) -> tuple[Array, Array, Array]:
    """A point of the sharp edge, and the directions of p and q of its section."""
    run = _direction(edge)
    first, second = edge.faces
    origin = np.linalg.lstsq(
        np.array([first.normal, second.normal, run]), np.array([first.offset, second.offset, 0.0]), rcond=None
    )[0]
    q = -first.normal
    p: Array = solids.cross(q, run)
    return origin, (p if p @ second.normal < 0 else -p), q


def _section(edge: Edge) -> Array:
    """Corners (n, 2) of its section from the sharp edge along the first face, back along the second."""
    (along_first, along_second), angle = edge.legs, edge.angle
    one, two = np.array([1.0, 0.0]), np.array([np.cos(angle), np.sin(angle)])
    points = [np.zeros(2), along_first * one, along_second * two]
    slope = SLOPES[edge.shape]
    if slope != 1.0:
        points.insert(2, (along_first * one + along_second * two) / (1 + slope))
    return np.array(points)


def _section_in_space(edge: Edge) -> Array:
    origin, p, q = _axes(edge)
    section = _section(edge)
    return origin + section[:, :1] * p + section[:, 1:] * q


def _long_faces(edge: Edge) -> list[tuple[str, Array]]:
    """Its long faces in order round it from the sharp edge, with their outward normals."""
    first, second = edge.faces
    if edge.shape == "chamfer":
        inner = [("the sloping face", edge.inner[0][0])]
    else:  # the first plane of the cut is the one that ends the leg along the second face: it is met last
        inner = [
            (f"the face opposite the {second.name} side", edge.inner[1][0]),
            (f"the face opposite the {first.name} side", edge.inner[0][0]),
        ]
    return [(_face_name(first), first.normal), *inner, (_face_name(second), second.normal)]


def _face_name(face: Face) -> str:
    if face.name == "top":
        return "the top face"
    if "corner" in face.name:
        return f"the face on {face.name}"
    return f"panel {face.name}'s face" if face.name.isdigit() else f"the {face.name} panel's face"


# ---- its ends ----


def _end(edge: Edge, solid: Solid, out: Array, form: FormPlanes) -> StripEnd:
    """The end towards which `out` points."""
    faces = _long_faces(edge)
    caps = [
        (n, float(b))
        for n, b in zip(solid.normals, solid.offsets, strict=True)
        if n @ out > _SAME and len(solid.face_on(n)) > 2 and all(np.max(np.abs(n - m)) > _SAME for _, m in faces)
    ]
    ends = [max(float(p @ out) for p in solid.face_on(n)) for n, _ in caps]
    starts = [min(float(p @ out) for p in solid.face_on(n)) for n, _ in caps]
    tip, back = max(ends), min(starts)
    settings = [[_cut(n, b, down, edge, out, form) for down in faces] for n, b in caps]
    easiest = [min(each, key=lambda cut: (bool(cut.mitre) + bool(cut.bevel), cut.bevel)) for each in settings]
    return StripEnd(
        cuts=tuple(easiest),
        others=tuple(cut for each, best in zip(settings, easiest, strict=True) for cut in each if cut is not best),
        pattern=tuple(_pattern(edge, solid, out, tip, tip - back + _BEYOND)),
        deep=tip - back,
    )


def _cut(n: Array, b: float, down: tuple[str, Array], edge: Edge, out: Array, form: FormPlanes) -> SawCut:
    """How the saw stands for a plane, with that face on the table."""
    name, table = down
    side: Array = solids.cross(table, out)
    mitre = float(np.arctan2(abs(n @ side), abs(n @ out)))
    bevel = float(np.arcsin(min(abs(float(n @ table)), 1.0)))
    mitre, bevel = (0.0 if angle < 1e-9 else angle for angle in (mitre, bevel))
    longer = ""
    if mitre:
        towards = side * -np.sign(n @ side)
        longer = max((f for f in _long_faces(edge) if f[0] != name), key=lambda face: float(face[1] @ towards))[0]
    elif bevel:
        longer = name if n @ table < 0 else f"away from {name}"
    return SawCut(against=_against(n, b, edge, form), down=name, mitre=mitre, bevel=bevel, long_side=longer)


def _against(n: Array, b: float, edge: Edge, form: FormPlanes) -> str:
    """What lies beyond a plane of a strip."""

    def same(m: Array, c: float, size: float = 1.0) -> bool:
        return bool(np.max(np.abs(n - m / size)) <= _SAME and abs(b - c / size) <= _SAME)

    if same(UP, form.height):
        return "the top of the form"
    if same(-UP, 0.0):
        return "the foot of the form"
    for wall in (*form.walls, *form.ends):
        if same(wall.normal, wall.offset):
            return f"the {wall.name} panel"
    own = {face.name for face in edge.faces if face.name != "top"}
    near = sorted(form.edges, key=lambda other: own.isdisjoint(face.name for face in other.faces))
    for other in near:
        if other is edge:
            continue
        if any(same(-m, -c) for m, c in other.inner):
            return other.mark
        if _laid_together(edge, other):
            m, c = _mitre(edge, other)
            if same(m, c, max(float(np.linalg.norm(m)), 1e-30)):
                return other.mark
    return "the strip beside it"


def _pattern(edge: Edge, solid: Solid, out: Array, tip: float, deep: float) -> Iterator[StripFace]:
    """The skin of the end folded flat, face by face from the sharp edge on."""
    corners = _section_in_space(edge)
    w = 0.0
    for (name, normal), start, stop in zip(_long_faces(edge), corners, np.roll(corners, -1, axis=0), strict=True):
        side = stop - start
        wide = float(np.linalg.norm(side))
        outline = [(w + float((p - start) @ side) / wide, tip - float(p @ out)) for p in solid.face_on(normal)]
        shown = tuple(_shown(outline, deep))
        if shown:
            yield StripFace(face=name, outline=shown)
        w += wide


def _shown(outline: Sequence[Point], deep: float) -> Iterator[Point]:
    """What of a face lies no further back than that."""
    for (w, s), (w_next, s_next) in zip(outline, (*outline[1:], *outline[:1]), strict=True):
        if s <= deep:
            yield w, s
        if (s < deep) != (s_next < deep) and s != s_next:
            yield w + (w_next - w) * (deep - s) / (s_next - s), deep


# ---- out of the concrete ----


def _way_out(edge: Edge, solid: Solid) -> tuple[str, float]:
    """With which panel it comes off, or by itself, and the least angle by which its faces clear the concrete then."""
    against = [n for n, _ in edge.inner if len(solid.face_on(n)) > 2]
    ways = [(f"with the {f.name} panel", f.normal) for f in edge.faces if f.name != "top" and "corner" not in f.name]
    middle = edge.faces[0].normal + edge.faces[1].normal
    ways.append(("by itself, after the panels", middle / np.linalg.norm(middle)))
    drafts = [float(np.arcsin(np.clip(-max(n @ way for n in against), -1, 1))) for _, way in ways]
    clear = max(range(len(ways)), key=lambda i: round(drafts[i], 9) if i < len(ways) - 1 else min(drafts[i], 0.0))
    return ways[clear][0], drafts[clear] + 0.0


# ---- kinds ----


def _in_kinds(name: str, pieces: Sequence[StripPiece], hands: Sequence[Array]) -> tuple[StripPiece, ...]:
    """The same pieces, with the mark of their kind: letters within the corners, the top, the facets."""
    known: list[tuple[StripPiece, Array, str]] = []
    named = []
    for piece, hand in zip(pieces, hands, strict=True):
        of_edge = [each for each in known if each[0].edge == piece.edge]
        told = ((mark, _laid(one, first, piece, hand)) for one, first, mark in of_edge)
        mark, how = next(((mark, how) for mark, how in told if how), ("", "as it is"))
        if not mark:
            mark = f"{name} {piece.edge} {ascii_lowercase[len(of_edge) % 26]}"
            known.append((piece, hand, mark))
        named.append(replace(piece, kind=mark, mirrored=how == "mirrored"))
    return tuple(named)


def _laid(one: StripPiece, first: Array, other: StripPiece, hand: Array) -> str:
    """How the one becomes the other: as it is, turned end for end, mirrored (the other hand); "" where it does not.

    Turned end for end, its first face lies where its second lay.
    """
    if one.shape != other.shape or not _same(*(np.array([s.long, s.angle, _size(s)]) for s in (one, other))):
        return ""
    swapped = hand[:, [0, *range(hand.shape[1] - 1, 0, -1)]]
    ways = (
        (other.legs, hand, "as it is"),
        (other.legs[::-1], swapped[::-1], "turned"),
        (other.legs, hand[::-1], "mirrored"),
        (other.legs[::-1], swapped, "mirrored"),
    )
    alike = (way for legs, told, way in ways if _same(np.array(one.legs), np.array(legs)) and _same(first, told))
    return next(alike, "")


def _size(strip: StripPiece) -> float:
    return float(strip.solid.volume ** (1 / 3))


def _same(one: Array, other: Array) -> bool:
    return one.shape == other.shape and bool(np.all(np.abs(one - other) <= _ALIKE))
