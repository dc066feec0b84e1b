"""What single panels stand round the concrete, how is each cut, and what is cut out of it?

    past    : the panels to the left and right fit between the other two, which run past their edges
    pinwheel : each runs past the panel to its right, seen from outside, and butts the one to its left
    polygon : every panel alike, its upright edges bevelled so that two meet on the line that halves the corner
    corner  : numbered as the corner strip in it; the number is the match mark on both sides of the joint

All from planes, so that a pier that leans in gets its trapezoids, and its bevels at the foot and the top.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

import numpy as np

from batterboard.methods import solids
from batterboard.methods.solids import Solid
from batterboard.phases.forms.pieces.planes import UP, Array, Face, FormPlanes
from batterboard.phases.forms.pieces.results import Opening, PanelEdge, PanelPiece, Point
from batterboard.phases.forms.results import Box

_SAME = 1e-7


class Sight:
    """The axes of a panel's face, as he sees it from outside: u to the right, v up, origin at the lower left inside."""

    def __init__(self, wall: Face, solid: Solid) -> None:
        self.wall, self.solid = wall, solid
        self.u: Array = solids.cross(UP, wall.normal)
        self.u /= np.linalg.norm(self.u)
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


def sights(box: Box, form: FormPlanes) -> dict[str, Sight]:
    """Every panel's solid and the axes of its face, by side."""
    past = {side: panel.runs_past for panel in box.panels for side in panel.sides}
    return {wall.name: Sight(wall, _solid(wall, form, past.get(wall.name, 0))) for wall in form.walls}


def _solid(wall: Face, form: FormPlanes, runs_past: int) -> Solid:
    planes = [(-wall.normal, -wall.offset), (wall.normal, wall.offset + form.thick), (UP, form.height), (-UP, 0.0)]
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


def panels_of(
    box: Box, form: FormPlanes, seen: Mapping[str, Sight], cut_out: Mapping[str, Sequence[Opening]]
) -> tuple[PanelPiece, ...]:
    """Every panel by itself, in the order of its kinds."""
    marks = {side: f"{panel.mark}{n}" for panel in box.panels for n, side in enumerate(panel.sides, 1)}
    kinds = {side: panel.mark for panel in box.panels for side in panel.sides}
    corners = {frozenset(pair): str(n) for n, pair in enumerate(_pairs(form), 1)}
    return tuple(
        PanelPiece(
            mark=mark,
            kind=kinds[side],
            side=side,
            inside=seen[side].seen(-seen[side].wall.normal),
            outside=seen[side].seen(seen[side].wall.normal),
            thick=form.thick,
            edges=tuple(_edges(form, seen[side], marks, corners)),
            openings=tuple(cut_out.get(side, ())),
            concrete_to=max(v for _, v in seen[side].seen(-seen[side].wall.normal)),
            solid=seen[side].solid,
        )
        for side, mark in marks.items()
    )


def _pairs(form: FormPlanes) -> list[tuple[str, str]]:
    """The sides that meet in each corner; a beam's form has none."""
    names = [wall.name for wall in form.walls]
    return [] if form.open_ends else list(zip(names, names[1:] + names[:1], strict=True))


def _edges(
    form: FormPlanes, sight: Sight, marks: Mapping[str, str], corners: Mapping[frozenset[str], str]
) -> Iterator[PanelEdge]:
    wall = sight.wall
    face = sight.solid.face_on(-wall.normal)[::-1]
    for start, end in zip(face, np.roll(face, -1, axis=0), strict=True):
        for n, b in zip(sight.solid.normals, sight.solid.offsets, strict=True):
            both = max(abs(float(n @ start - b)), abs(float(n @ end - b))) <= _SAME
            if both and np.max(np.abs(n + wall.normal)) > _SAME:
                break
        towards = float(n @ sight.u)
        other = next((w for w in form.walls if w is not wall and _beside(wall, w, towards, sight.u, form)), None)
        upright = abs(towards) > 0.1 and other is not None
        yield PanelEdge(
            side=_named(n, towards),
            start=sight.at(start)[0],
            end=sight.at(end)[0],
            bevel=float(-np.arcsin(np.clip(n @ wall.normal, -1, 1))) + 0.0,
            meets=marks.get(other.name, "") if upright and other else "",
            match=corners.get(frozenset((wall.name, other.name)), "") if upright and other else "",
            past=bool(upright and other and form.kind != "polygon" and b - other.offset > form.thick / 2),
        )


def _named(n: Array, towards: float) -> Literal["foot", "right", "top", "left"]:
    if abs(towards) <= 0.1:
        return "top" if n[2] > 0 else "foot"
    return "right" if towards > 0 else "left"


def _beside(wall: Face, other: Face, towards: float, u: Array, form: FormPlanes) -> bool:
    """Whether that wall is the next one on the side an edge looks to."""
    names = [w.name for w in form.walls]
    step = 1 if towards > 0 else -1
    return names[(names.index(wall.name) + step) % len(names)] == other.name and not form.open_ends
