"""What single panels stand round the concrete, how is each cut, and what is cut out of it?

    past    : the panels to the left and right fit between the other two, which run past their edges
    pinwheel : each runs past the panel to its right, seen from outside, and butts the one to its left
    polygon : every panel alike, its upright edges bevelled so that two meet on the line that halves the corner
    corner  : numbered as the corner strip in it; the number is the match mark on both sides of the joint
    part    : of a panel that is joined, a piece of its own with axes of its own; joints have letters as match marks

All from planes, so that a pier that leans in gets its trapezoids, and its bevels at the foot and the top.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count
from typing import Literal

import numpy as np

from batterboard.methods import solids
from batterboard.methods.solids import Solid
from batterboard.phases.forms.pieces.planes import UP, Array, Face, FormPlanes
from batterboard.phases.forms.pieces.results import Opening, PanelEdge, PanelPiece, Point
from batterboard.phases.forms.results import Box, Panel
from batterboard.phases.forms.shape import Shape

_SAME = 1e-7


class Sight:
    """The axes of a panel's face, as he sees it from outside: u to the right, v up, origin at the lower left inside."""

    def __init__(self, wall: Face, solid: Solid) -> None:
        self.wall, self.solid = wall, solid
        level: Array = solids.cross(UP, wall.normal)
        long = np.linalg.norm(level)
        self.u: Array = level / long if long > _SAME else np.array([1.0, 0.0, 0.0])  # a soffit, from below: ahead
        self.v: Array = solids.cross(wall.normal, self.u)
        corners = solid.face_on(-wall.normal)
        foot = float(np.min(corners @ self.v))
        low = corners[corners @ self.v <= foot + _SAME]
        self.origin = low[np.argmin(low @ self.u)]

    def at(self, points: Array) -> tuple[Point, ...]:
        """In u and v."""
        return tuple((float(p @ self.u), float(p @ self.v)) for p in np.atleast_2d(points) - self.origin)

    def seen(self, normal: Array) -> tuple[Point, ...]:
        """The face that looks that way, counter-clockwise as seen from outside, from its lower left corner on."""
        corners = self.solid.face_on(normal)
        told = self.at(corners if normal @ self.wall.normal > 0 else corners[::-1])
        first = min(range(len(told)), key=lambda i: (round(told[i][1], 6), told[i][0]))
        return told[first:] + told[:first]


def sights(box: Box | Shape, form: FormPlanes) -> dict[str, Sight]:
    """Every panel's solid and the axes of its face, by side."""
    past = {side: panel.runs_past for panel in box.panels for side in panel.sides}
    below = form.thick if isinstance(box, Box) and box.shores is not None else 0.0  # past the edges of a soffit
    return {wall.name: Sight(wall, _solid(wall, form, past.get(wall.name, 0), below)) for wall in form.walls}


def _solid(wall: Face, form: FormPlanes, runs_past: int, below: float) -> Solid:
    planes = [(-wall.normal, -wall.offset), (wall.normal, wall.offset + form.thick), (UP, form.height), (-UP, below)]
    for other in form.walls:
        if other is wall:
            continue
        if form.kind == "polygon":
            planes.append((other.normal - wall.normal, other.offset - wall.offset))
        elif abs(other.normal[:2] @ wall.normal[:2]) < 0.5:
            laps = runs_past == 2 or (runs_past == 1 and _follows(other, wall))
            planes.append((other.normal, other.offset + (form.thick if laps else 0.0)))
    planes += [(end.normal, end.offset) for end in form.ends]
    return solids.behind(planes)


def _follows(other: Face, wall: Face) -> bool:
    """Whether it is the next wall counter-clockwise: to the right of who stands outside."""
    return float(solids.cross(wall.normal, other.normal)[2]) > 0


@dataclass(frozen=True, eq=False)
class _Part:
    """A panel or a part of one, where it stands among the others."""

    number: int
    row: int
    column: int
    sight: Sight
    seams: tuple[tuple[Array, float, int], ...]  # its planes on joints: outward, and which joint of the panel


def panels_of(
    of: Sequence[Panel],
    form: FormPlanes,
    seen: Mapping[str, Sight],
    cut_out: Mapping[str, Sequence[Opening]],
    letters_from: int = 0,
) -> tuple[PanelPiece, ...]:
    """Every panel by itself, in the order of its kinds; of one that is joined, every part."""
    made = []
    parts = {side: _parts(panel, seen[side]) for panel in of for side in panel.sides}
    marks = {side: f"{panel.mark}{n}" for panel in of for n, side in enumerate(panel.sides, 1)}
    corners = {frozenset(pair): str(n) for n, pair in enumerate(_pairs(form), 1)}
    letters = count(letters_from)
    for panel in of:
        for side in panel.sides:
            own = {i: (_letter(next(letters)), joint.on) for i, joint in enumerate(panel.joints)}
            for part in parts[side]:
                sight = part.sight
                inside, outside = (sight.seen(sign * sight.wall.normal) for sign in (-1, 1))
                made.append(
                    PanelPiece(
                        mark=_mark(marks[side], part),
                        kind=_mark(panel.mark, part),
                        panel=marks[side],
                        side=side,
                        inside=inside,
                        outside=outside,
                        thick=form.thick,
                        edges=tuple(_edges(form, part, parts, marks, corners, own)),
                        openings=tuple(
                            _moved(o, seen[side], sight) for o in cut_out.get(side, ()) if _holds(part, seen[side], o)
                        ),
                        concrete_to=max(v for _, v in inside),
                        out=sight.wall.normal,
                        solid=sight.solid,
                    )
                )
    return tuple(made)


def _mark(name: str, part: _Part) -> str:
    return f"{name} part {part.number}" if part.number else name


def _letter(number: int) -> str:
    """a to z, then a1 on."""
    return f"{chr(ord('a') + number % 26)}{number // 26 or ''}"


def _parts(panel: Panel, whole: Sight) -> list[_Part]:
    """Cut at its joints, row by row from the foot, each from the left."""
    if not panel.joints:
        return [_Part(0, 0, 0, whole, ())]
    out = whole.seen(whole.wall.normal)
    left, low = min(u for u, _ in out), min(v for _, v in out)
    planes: dict[bool, list[tuple[Array, float, int]]] = {True: [], False: []}
    for i, joint in enumerate(panel.joints):
        axis, begins = (whole.u, left) if joint.upright else (whole.v, low)
        planes[joint.upright].append((axis, float(axis @ whole.origin) + begins + float(joint.at), i))
    made: list[_Part] = []
    for row in range(len(planes[False]) + 1):
        for column in range(len(planes[True]) + 1):
            seams = (*_between(planes[False], row), *_between(planes[True], column))
            solid = solids.common(whole.solid, solids.behind([(n, b) for n, b, _ in seams]))
            made.append(_Part(len(made) + 1, row, column, Sight(whole.wall, solid), seams))
    return made


def _between(planes: Sequence[tuple[Array, float, int]], place: int) -> Iterator[tuple[Array, float, int]]:
    """The plane before a part and the plane after it, outward of it."""
    if place > 0:
        axis, at, joint = planes[place - 1]
        yield -axis, -at, joint
    if place < len(planes):
        yield planes[place]


def _holds(part: _Part, whole: Sight, opening: Opening) -> bool:
    """Whether that opening is cut out of this part; no joint goes through one."""
    u, v = opening.middle
    point = whole.origin + u * whole.u + v * whole.v
    return all(float(n @ point) <= b for n, b, _ in part.seams)


def _moved(opening: Opening, whole: Sight, part: Sight) -> Opening:
    """As measured from the part's own corner."""
    if part is whole:
        return opening
    ((du, dv),) = part.at(whole.origin)
    outline = tuple((u + du, v + dv) for u, v in opening.outline)
    return replace(opening, outline=outline, middle=(opening.middle[0] + du, opening.middle[1] + dv))


def _pairs(form: FormPlanes) -> list[tuple[str, str]]:
    """The sides that meet in each corner; a beam's form has none."""
    names = [wall.name for wall in form.walls]
    return [] if form.open_ends else list(zip(names, names[1:] + names[:1], strict=True))


def _edges(
    form: FormPlanes,
    part: _Part,
    parts: Mapping[str, Sequence[_Part]],
    marks: Mapping[str, str],
    corners: Mapping[frozenset[str], str],
    joints: Mapping[int, tuple[str, str]],
) -> Iterator[PanelEdge]:
    sight, wall = part.sight, part.sight.wall
    face = sight.solid.face_on(-wall.normal)[::-1]
    for start, end in zip(face, np.roll(face, -1, axis=0), strict=True):
        for n, b in zip(sight.solid.normals, sight.solid.offsets, strict=True):
            both = max(abs(float(n @ start - b)), abs(float(n @ end - b))) <= _SAME
            if both and np.max(np.abs(n + wall.normal)) > _SAME:
                break
        towards = float(n @ sight.u)
        joint = next((j for m, c, j in part.seams if np.max(np.abs(n - m)) <= _SAME and abs(b - c) <= _SAME), None)
        other = next((w for w in form.walls if w is not wall and _beside(wall, w, towards, sight.u, form)), None)
        upright = abs(towards) > 0.1 and other is not None
        meets = match = on = ""
        if joint is not None:
            neighbour = _across(part, parts[wall.name], n)
            meets, (match, on) = _mark(marks[wall.name], neighbour), joints[joint]
        elif upright and other and parts.get(other.name):
            meets = _mark(marks[other.name], _next_to(part, parts[other.name], towards))
            match = corners.get(frozenset((wall.name, other.name)), "")
        yield PanelEdge(
            side=_named(n, towards, sight.v),
            start=sight.at(start)[0],
            end=sight.at(end)[0],
            bevel=float(-np.arcsin(np.clip(n @ wall.normal, -1, 1))) + 0.0,
            meets=meets,
            match=match,
            past=bool(
                joint is None and meets and other and form.kind != "polygon" and b - other.offset > form.thick / 2
            ),
            on=on,
        )


def _across(part: _Part, parts: Sequence[_Part], n: Array) -> _Part:
    """The part on the other side of a joint that looks along n."""
    sideways, up = round(float(n @ part.sight.u)), round(float(n @ part.sight.v))
    return next(one for one in parts if (one.row, one.column) == (part.row + up, part.column + sideways))


def _next_to(part: _Part, others: Sequence[_Part], towards: float) -> _Part:
    """Of the panel round the corner, the part at that corner in the same row: level joints go round."""
    row = [one for one in others if one.row == part.row] or others
    return min(row, key=lambda one: one.column if towards > 0 else -one.column)


def _named(n: Array, towards: float, v: Array) -> Literal["foot", "right", "top", "left"]:
    if abs(towards) <= 0.1:
        return "top" if n @ v > 0 else "foot"
    return "right" if towards > 0 else "left"


def _beside(wall: Face, other: Face, towards: float, u: Array, form: FormPlanes) -> bool:
    """Whether that wall is the next one on the side an edge looks to."""
    names = [w.name for w in form.walls]
    step = 1 if towards > 0 else -1
    return names[(names.index(wall.name) + step) % len(names)] == other.name and not form.open_ends
