"""Where does each piece of a form stand, and where when the form is drawn apart?

    part : Part("west B1", "panel", (solid,), away=(0.3, 0.0, 0.0))     solids in the form's axes, as built
           moved by `away` it stands clear of the others: panels outwards, strips half as far, top strips up as well

The pictures of the form and its model in three dimensions show the same parts. What is cut out of a panel is cut out
here too, a bored hole as the square round it.
"""

from collections.abc import Iterator, Sequence
from math import cos, hypot, pi, sin, tan

import numpy as np

from batterboard.methods import solids
from batterboard.methods.solids import Solid
from batterboard.phases.forms import Box, Shores
from batterboard.phases.forms.pieces import BlockoutPiece, FormPieces, PanelPiece
from batterboard.plan import Plan
from batterboard.views import gltf
from batterboard.views.drawings.framed import framed
from batterboard.views.drawings.parts import Part, Vector
from batterboard.work.records import Body

_APART = 0.45  # how far panels stand off, in widths of the form
_BACKED = 1.1  # and plates behind their joints
_PARTED = 0.25  # how far parts of a panel stand off each other, in distances between their middles
_SAME = 1e-6
_PAST = 1e-3  # cuts of openings stand over the panel's faces [m]


def parts(form: FormPieces) -> tuple[Part, ...]:
    """Panels with the plates behind their joints, strips and the boxes of blockouts."""
    reach = max((_reach(panel.solid) for panel in form.panels), default=0.0)
    made = []
    for p in form.panels:
        away, holes = _off(p, form.panels, _APART * 2 * reach), tuple(_outlines(p))
        made.append(Part(p.mark, "panel", tuple(_open(p)), away, (p.solid,), openings=holes))
    outward = {p.panel: p.out * (1.0, 1.0, 0.0) for p in form.panels}
    for plate in form.plates:
        x, y, z = outward[plate.panel] * (_BACKED * reach)
        made.append(Part(plate.mark, "plate", (plate.solid,), (float(x), float(y), float(z))))
    for strip in form.strips:
        out = _outward(strip.solid, _APART * reach)
        up = 0.0 if strip.edge == "corner" else 0.5 * reach
        made.append(Part(strip.mark, "strip", (strip.solid,), (out[0], out[1], up)))
    for box in form.blockouts:
        off = (0.0, 0.0, 0.5 * reach) if box.side == "top" else _towards(box, form, _APART * reach)
        made.append(Part(box.name, "blockout", (box.solid,), off))
    return tuple(made)


def concrete(form: FormPieces) -> Part:
    return Part(f"{form.name} concrete", "concrete", form.concrete)


def model(plan: Plan) -> bytes | None:
    """All forms as binary glTF where they stand, drawn apart; None where there are none of panels."""
    boxes = {box.name: box for box in plan.forms.boxes}
    bodies = {body.name: body for body in plan.work.bodies}
    groups = []
    for form in plan.pieces.forms:
        if form.panels:
            box, frame = boxes[form.name], bodies[form.name].frame
            every = (concrete(form), *parts(form), *held(box, bodies[form.name]))
            at = float(frame.x), float(frame.y), float(box.foot)
            groups.append(gltf.Group(form.name, [_mesh(part) for part in every], at, float(frame.turn)))
    return gltf.glb(plan.job.job.name, groups) if groups else None


_COLOURS = {
    "panel": (0.64, 0.43, 0.22), "strip": (0.75, 0.60, 0.35), "yoke": (0.50, 0.30, 0.13), "brace": (0.50, 0.30, 0.13),
    "blockout": (0.80, 0.52, 0.28), "plate": (0.75, 0.60, 0.35),
    "concrete": (0.45, 0.45, 0.45),
}  # fmt: skip


def _mesh(part: Part) -> gltf.Mesh:
    points, triangles, count = [], [], 0
    for solid in part.solids:
        points.append(np.column_stack(solid.vertices))
        triangles.append(solid.triangles + count)
        count += len(points[-1])
    colour, clear = _COLOURS[part.kind], part.kind == "concrete"
    return gltf.Mesh(part.mark, np.concatenate(points), np.concatenate(triangles), colour, part.away, clear)


def held(box: Box, body: Body) -> tuple[Part, ...]:
    """All that stands round the panels of a form."""
    return (*yokes(box), *framed(box, body), *braces(box), *shores(box))


def yokes(box: Box) -> tuple[Part, ...]:
    """The sticks of each yoke: of a box the pair that runs along below the pair that runs across."""
    return tuple(_yokes(box))


def braces(box: Box) -> tuple[Part, ...]:
    """Braces on each side of a box, from the form down to their stakes, flat side down."""
    return tuple(_braces(box))


def shores(box: Box) -> tuple[Part, ...]:
    """Under a beam that stands clear of the ground: shores, cross-pieces, soles; uprights of the sides, their ties."""
    return () if box.shores is None else tuple(_shores(box.name, box.shores))


def _reach(solid: Solid) -> float:
    x, y, _ = solid.vertices
    return float(np.max(np.hypot(x, y)))


def _off(panel: PanelPiece, panels: Sequence[PanelPiece], far: float) -> Vector:
    """Outward; parts of one panel away from each other too."""
    parts = [part for part in panels if part.panel == panel.panel]
    if panel.side == "under":
        x, _, _ = np.array(panel.solid.centroid) * (_PARTED if len(parts) > 1 else 0.0)
        return float(x), 0.0, -far / 2
    if len(parts) == 1:
        return _outward(panel.solid, far)
    normal, *_ = _face(panel)
    middle = np.mean([part.solid.centroid for part in parts], axis=0)
    x, y, z = normal * (1.0, 1.0, 0.0) * far + (np.array(panel.solid.centroid) - middle) * _PARTED
    return float(x), float(y), float(z)


def _outward(solid: Solid, far: float) -> Vector:
    x, y, _ = solid.centroid
    away = hypot(x, y) or 1.0
    return x / away * far, y / away * far, 0.0


def _towards(box: BlockoutPiece, form: FormPieces, far: float) -> Vector:
    """Out of the face that it opens to."""
    panel = next((panel for panel in form.panels if panel.mark == box.on[0].panel), None) if box.on else None
    x, y, _ = _face(panel)[0] if panel is not None else (0.0, 0.0, 0.0)
    return float(x) * far, float(y) * far, 0.0


def _open(panel: PanelPiece) -> Iterator[Solid]:
    """The panel without what is cut out of it, in convex parts."""
    left: tuple[Solid, ...] = (panel.solid,)
    for opening in panel.openings:
        hole = _hole(panel, opening.outline)
        left = tuple(part for solid in left for part in solids.without(solid, hole))
    yield from left


def _outlines(panel: PanelPiece) -> Iterator[tuple[np.ndarray, np.ndarray]]:
    """Each opening on the outside and on the inside of the panel."""
    out, u, v, origin = _face(panel)
    for opening in panel.openings:
        inside = np.array([origin + u * a + v * b for a, b in opening.outline])
        yield out, inside + out * float(panel.thick)
        yield -out, inside


def _hole(panel: PanelPiece, outline: Sequence[tuple[float, float]]) -> Solid:
    """A prism square through the panel, over a convex outline seen from outside."""
    out, u, v, origin = _face(panel)
    points = [origin + u * a + v * b for a, b in outline]
    middle = sum(points) / len(points)
    planes = []
    for a, b in zip(points, points[1:] + points[:1]):
        side = np.cross(b - a, out)
        side = side if side @ (middle - a) < 0 else -side
        planes.append((side, float(side @ a)))
    deep = float(panel.thick) + _PAST
    planes += [(out, float(out @ origin) + deep), (-out, -float(out @ origin) + _PAST)]
    return solids.behind(planes)


def _face(panel: PanelPiece) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """The panel's outward normal, its u and v, and where they begin: the lower left corner of its inside."""
    normals, offsets = panel.solid.normals, panel.solid.offsets
    apart = np.where(normals @ normals.T < -0.999999, offsets[:, None] + offsets, np.inf)  # of faces back to back
    back_to_back = np.argwhere(np.abs(apart - float(panel.thick)) < _SAME)
    i = int(max(back_to_back[:, 0], key=lambda face: offsets[face]))  # the middle of the form lies behind all panels
    out = normals[i]
    u = np.array((1.0, 0.0, 0.0)) if abs(out[2]) > 1 - _SAME else np.cross((0.0, 0.0, 1.0), out)  # or a soffit
    u /= np.linalg.norm(u)
    v = np.cross(out, u)
    inside = panel.solid.face_on(-out)
    origin_u, origin_v = float(np.min(inside @ u)), float(np.min(inside @ v))
    return out, u, v, u * origin_u + v * origin_v + out * (float(offsets[i]) - float(panel.thick))


def _shores(name: str, of: Shores) -> Iterator[Part]:
    t, b, half = float(of.soffit.panel.thickness), float(of.width) / 2, float(of.along) / 2
    wide, deep, head = float(of.size.wide) / 2, float(of.size.deep), -t - float(of.size.deep)
    for pair in of.pairs:
        at, cross = float(pair.at) - half, float(of.cross) / 2
        yield _upright(f"{name} cross-piece {pair.number}", at, wide, (-cross, cross), (head, -t))
        tie, top = float(of.across) / 2, float(of.post) - t
        stick = float(of.upright.wide) / 2
        yield _upright(f"{name} tie {pair.number}", at + 2 * stick, stick, (-tie, tie), (top - deep, top))
        for way, long, word in ((1, float(pair.left), "left"), (-1, float(pair.right), "right")):
            y = way * float(of.span) / 2
            low, sole = head - long, float(of.sole.deep) / 2
            yield _upright(f"{name} shore {pair.number} {word}", at, wide, (y - wide, y + wide), (low, head))
            under = low - float(of.wedges)
            end = way * (float(of.sole_long) - wide)
            sides = sorted((y - way * wide, y + end))
            yield _upright(f"{name} sole {pair.number} {word}", at, sole, sides, (under - float(of.sole.wide), under))
            sides = sorted((way * (b + t), way * (b + t + float(of.upright.deep))))
            yield _upright(f"{name} upright {pair.number} {word}", at, stick, sides, (-t, top))


def _upright(mark: str, x: float, half: float, y: Sequence[float], z: tuple[float, float]) -> Part:
    """A stick square in the form's axes."""
    corners = ((x - half, y[0]), (x + half, y[0]), (x + half, y[1]), (x - half, y[1]))
    solid = solids.prism([x for x, _ in corners], [y for _, y in corners], *z)
    return Part(mark, "brace", (solid,))


def _stick(turn: float, out: tuple[float, float], along: tuple[float, float], z: tuple[float, float]) -> Solid:
    """A stick on the side that looks towards `turn`: how far out, from where to where along it, and its levels."""
    c, s = cos(turn), sin(turn)
    corners = [(x * c - y * s, x * s + y * c) for x, y in (
        (out[0], along[0]), (out[1], along[0]), (out[1], along[1]), (out[0], along[1])
    )]  # fmt: skip
    return solids.prism([x for x, _ in corners], [y for _, y in corners], *z)


def _yokes(box: Box) -> Iterator[Part]:
    frame = box.frame
    if frame is None:
        return
    wide, deep = float(frame.size.wide), float(frame.size.deep)
    for yoke in box.yokes:
        up = float(yoke.up)
        if frame.sides == 4:
            past = 2 * deep  # of a leaning form each yoke is as much smaller as its sticks are shorter
            along, across = float(yoke.along), float(yoke.across)
            ahead, aside = (along - past) / 2, (across - past) / 2
            sides = [(pi / 2, aside, along, -wide), (3 * pi / 2, aside, along, -wide)]
            sides += [(0.0, ahead, across, 0.0), (pi, ahead, across, 0.0)]
        else:
            n = frame.sides
            flats = float(yoke.along) / 2 / tan(pi / n) - deep
            sides = [(2 * pi * i / n, flats, float(yoke.along), -wide / 2) for i in range(n)]
        for number, (turn, out, long, low) in enumerate(sides, 1):
            runs_along = number < 3
            far, levels, off = 1.1 * out, (up + low, up + low + wide), (out, out + deep)
            inner = min(long / 2, flats if frame.sides != 4 else (ahead if runs_along else aside))
            ends = (-long / 2, -inner, inner, long / 2)
            yield Part(
                mark=f"{box.name} yoke {yoke.number}.{number}",
                kind="yoke",
                solids=(_stick(turn, off, (ends[0], ends[3]), levels),),
                away=(cos(turn) * far, sin(turn) * far, 0.0),
                drawn=tuple(_stick(turn, off, pair, levels) for pair in zip(ends, ends[1:]) if pair[1] > pair[0]),
                seams=tuple((np.array([-sin(turn), cos(turn), 0.0]), end) for end in (-inner, inner)),
            )


def _braces(box: Box) -> Iterator[Part]:
    brace = box.brace
    if brace is None or not box.panels or box.frame is None:
        return
    up, run, wide, deep = (float(v) for v in (brace.up, brace.run, brace.size.wide, brace.size.deep))
    half = float(box.frame.flats) / 2 + float(box.frame.size.deep)
    many = max(1, round(float(brace.a_side)))
    for side in range(4):
        turn = side * pi / 2
        for number in range(many):
            at = (number - (many - 1) / 2) * float(brace.width) / many
            c, s = cos(turn), sin(turn)
            tilt = tan(pi / 4) if not run else up / run
            planes = [((0.0, 1.0, 0.0), at + wide / 2), ((0.0, -1.0, 0.0), wide / 2 - at)]
            planes += [((1.0, 0.0, 0.0), half + run), ((-1.0, 0.0, 0.0), -half), ((0.0, 0.0, -1.0), 0.0)]
            slope = up + tilt * half  # z + tilt x of its upper face
            planes += [((tilt, 0.0, 1.0), slope), ((-tilt, 0.0, -1.0), deep * hypot(tilt, 1.0) - slope)]
            turned = [((n[0] * c - n[1] * s, n[0] * s + n[1] * c, n[2]), b) for n, b in planes]
            mark = f"{box.name} brace {side + 1}" + (f".{number + 1}" if many > 1 else "")
            far = 2.2 * half
            yield Part(mark, "brace", (solids.behind(turned),), (c * far, s * far, 0.0))
