"""Which planes bound the concrete of one form, its strips and its panels?

    wall   : Wall("left", normal, offset)       one side of the concrete; all of it lies behind the plane
    edge   : Edge("west corner 1", faces, reach, ...) what a strip takes off, before others cut it
    form   : FormPlanes(walls, edges, height, thick, ...)

Everything stands in the form's axes: those of the body, z = 0 at the foot of the form. The cut of an edge is told in
two shares, each 0 on one of its two faces and 1 where the strip's leg along the other face ends; a chamfer is where
they add up to 1, a recess where each is less than 1, a groove between the two.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from batterboard.job.schema import EdgeShape
from batterboard.methods import solids
from batterboard.methods.solids import Solid
from batterboard.work.records import SLOPES, Body, Outline

Array = NDArray[np.float64]
UP = np.array([0.0, 0.0, 1.0])
SIDES = ("ahead", "left", "back", "right")


@dataclass(frozen=True, eq=False)
class Face:
    """A plane with the concrete behind it: normal @ point <= offset."""

    name: str  # "left", "3", "top"; of a corner strip's facet the strip's mark
    normal: Array  # outward, of length 1
    offset: float

    def deep(self, scale: float) -> tuple[Array, float]:
        """How deep a point lies behind it, as a share of `scale`: offset - gradient @ point."""
        return self.normal / scale, self.offset / scale


@dataclass(frozen=True, eq=False)
class Edge:
    """What one strip takes off the block, before others cut it."""

    mark: str
    kind: str  # "corner", "top" or "facet"
    shape: EdgeShape
    faces: tuple[Face, Face]
    reach: tuple[float, float]  # depth behind each face at which its share is 1
    solid: Solid  # with all of the block behind the cut's planes
    inner: tuple[tuple[Array, float], ...]  # the cut's planes: outward of the strip, into the concrete
    beside: Face  # its own wall, for mitres: a strip owns what lies nearer to its wall than to its neighbour's

    @property
    def angle(self) -> float:
        """Between its two faces, in the concrete."""
        return float(np.pi - np.arccos(np.clip(self.faces[0].normal @ self.faces[1].normal, -1, 1)))

    @property
    def legs(self) -> tuple[float, float]:
        """Along its first and its second face."""
        s = float(np.sin(self.angle))
        return self.reach[1] / s, self.reach[0] / s


@dataclass(frozen=True, eq=False)
class FormPlanes:
    name: str
    kind: str  # "box", "polygon" or "edge"
    height: float
    thick: float
    walls: tuple[Face, ...]  # counter-clockwise from ahead; of a beam its left and its right
    block: Solid  # the concrete with nothing taken off
    edges: tuple[Edge, ...]  # in the order in which they are laid: those that run whole first
    open_ends: bool  # of a beam's form, whose ends are its piers
    ends: tuple[Face, ...] = field(default=())  # where a beam's form ends


def planes_of(body: Body, kind: str, formed: float, thick: float) -> FormPlanes:
    """The planes of the form of a body, from so far below its top; not of a tube."""
    o, height = body.outline, float(formed)
    run = float(o.batter) / float(body.height)
    walls = tuple(_walls(o, float(body.inset(body.top - height)), run))
    return form_between(body.name, kind, walls, o, height, float(thick), open_ends=body.part == "beam")


def form_between(
    name: str, kind: str, walls: tuple[Face, ...], o: Outline, height: float, thick: float, *, open_ends: bool
) -> FormPlanes:
    """The form of what stands between these walls, with the edges of an outline. An open one has its sides only."""
    top, foot = Face("top", UP, height), Face("foot", -UP, 0.0)
    block = solids.behind([(f.normal, f.offset) for f in (*walls, top, foot)])
    sides = tuple(wall for wall in walls if wall.name in ("left", "right")) if open_ends else walls
    return FormPlanes(
        name=name,
        kind=kind,
        height=height,
        thick=thick,
        walls=sides,
        block=block,
        edges=() if open_ends else _edges(name, o, walls, top, block),
        open_ends=open_ends,
        ends=tuple(wall for wall in walls if wall not in sides),
    )


def _walls(o: Outline, leaned: float, run: float) -> Iterator[Face]:
    n = 4 if o.kind == "rectangle" else o.sides
    names = SIDES if o.kind == "rectangle" else tuple(str(number) for number in range(1, n + 1))
    slant = float(np.hypot(1.0, run))
    for side, name in enumerate(names):
        turn = 2 * np.pi * side / n
        half = float(o.across if o.kind == "rectangle" and side % 2 else o.along) / 2 - leaned
        # Quarter turns without rounding, so that a square box stays square.
        c, s = (np.round(v) if o.kind == "rectangle" else v for v in (np.cos(turn), np.sin(turn)))
        yield Face(name, np.array([c, s, run]) / slant, half / slant)


# ---- edges ----


def _edges(name: str, o: Outline, walls: tuple[Face, ...], top: Face, block: Solid) -> tuple[Edge, ...]:
    corners, tops = [], []
    a = float(o.top)
    legs = [(float(b), float(c)) for b, c in o.legs] if float(o.corners) > 0 else []
    for number, wall in enumerate(walls):
        after = walls[(number + 1) % len(walls)]
        upright = float(np.hypot(*wall.normal[:2]))
        if legs:
            plan = np.arccos(np.clip(wall.normal[:2] @ after.normal[:2] / upright**2, -1, 1))
            deep = float(np.sin(plan)) * upright  # behind one wall for each unit along the other
            along_wall, along_after = legs[number]
            reach, mark = (along_after * deep, along_wall * deep), f"{name} corner {number + 1}"
            corners.append(_edge(mark, "corner", o.corner_shape, (wall, after), reach, block, wall))
        if a > 0:
            tops.append(
                _edge(
                    f"{name} top {wall.name}",
                    "top",
                    o.top_shape,
                    (wall, top),
                    (a * upright, float(o.drop)),
                    block,
                    wall,
                )
            )
    facets = []
    for corner in corners if o.facets and a > 0 else ():
        face = _facet(corner)
        upright = float(np.hypot(*face.normal[:2]))
        mark = corner.mark.replace("corner", "facet")
        made = _edge(mark, "facet", o.top_shape, (face, top), (a * upright, float(o.drop)), block, face)
        facets.append(made)
    first, second = (corners, [*tops, *facets]) if o.through == "corners" else ([*tops, *facets], corners)
    return (*first, *second)


def _edge(
    mark: str,
    kind: str,
    shape: EdgeShape,
    faces: tuple[Face, Face],
    reach: tuple[float, float],
    block: Solid,
    beside: Face,
) -> Edge:
    slope = SLOPES[shape]
    (p, p0), (q, q0) = (face.deep(scale) for face, scale in zip(faces, reach, strict=True))
    # A share p is p0 - p @ x, so that p + slope q <= 1 reads -(p + slope q) @ x <= 1 - p0 - slope q0.
    cuts = [(-(p + slope * q), 1 - p0 - slope * q0)]
    if slope != 1.0:
        cuts.append((-(q + slope * p), 1 - q0 - slope * p0))
    inner = tuple((g / np.linalg.norm(g), c / float(np.linalg.norm(g))) for g, c in cuts)
    own = [(face.normal, face.offset) for face in faces if kind == "facet"]
    solid = solids.common(block, solids.behind([*inner, *own]))
    return Edge(mark, kind, shape, faces, reach, solid, inner, beside)


def _facet(corner: Edge) -> Face:
    """The face that a corner chamfer leaves on the concrete."""
    normal, offset = corner.inner[0]
    return Face(corner.mark, -normal, -offset)
