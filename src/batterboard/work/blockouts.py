"""Which pockets and holes are left in the concrete, and where?

    blockout : Blockout("letters", body="west", side="ahead", wide=0.3, high=0.1, deep=0.1, draft=0.083, ...)
    axes     : of its own: r to the right as seen from outside, u up along the face, n out of the face; on top r runs
               ahead and u to the left. Its mouth lies in the face, each of its sides comes in by `draft` for each depth
    gap      : how far a point or a stick lies from it; less than nothing inside

Read only where a job has some. What stands in its way is asked in `obstacles`, what passes too near in `cage`; how the
box is made and held, in `forms`.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cached_property
from typing import Any, Literal

import numpy as np

from batterboard.job import schema
from batterboard.job.errors import JobError, Problem, nearest
from batterboard.job.reader import problem_at
from batterboard.job.schema import Job
from batterboard.methods import solids, volumes
from batterboard.quantity import Number
from batterboard.record import record
from batterboard.work.ground import Ground
from batterboard.work.obstacles import faults, together
from batterboard.work.placing import net
from batterboard.work.records import Body
from batterboard.working import minimum, nan, where

DRAFT = 1 / 12  # of what comes out in one piece; common practice, no source
SIDES = ("ahead", "left", "back", "right")
_PARTS, _TRIES = 16, 10  # a segment is parted where its nearest point is looked for, and what is left again

Vector = tuple[Any, Any, Any]


@record
class Blockout:
    """One box in the concrete, in its body's axes; z above the body's bottom."""

    name: str
    body: str
    element: str
    side: str  # "ahead", "left", "back", "right"; of a polygon "1" to "n"; "top"
    of: Literal["plywood", "lumber", "foam", "box"]
    stays: bool
    through: bool
    x: Any  # middle of its mouth
    y: Any
    z: Any
    turn: Any  # [rad] of the face's normal in plan; of the top 0
    lean: Any  # [rad] by which the face leans back
    wide: Any
    high: Any
    deep: Any
    draft: Any  # how much each side comes in for each depth

    @property
    def comes_out(self) -> bool:
        """In one piece: foam may also be dug out."""
        return not self.stays and self.of != "foam"

    @cached_property
    def axes(self) -> tuple[Vector, Vector, Vector]:
        """r, u and n."""
        if self.side == "top":
            return (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
        c, s, level, up = np.cos(self.turn), np.sin(self.turn), np.cos(self.lean), np.sin(self.lean)
        return (-s, c, 0.0), (-c * up, -s * up, level), (c * level, s * level, up)

    @cached_property
    def volume(self) -> Any:
        """Concrete that it keeps out [m3]."""
        return self._part(self.deep, self.high)

    def _part(self, deep: Any, high: Any) -> Any:
        k, middle = self.draft, deep / 2
        areas = [(self.wide - 2 * k * d) * (high - 2 * k * d) for d in (0.0, middle, deep)]
        return volumes.prismatoid_volume(areas[0], areas[1], areas[2], deep)

    def below(self, z: Any) -> Any:
        """Its part under a height above the body's bottom [m3]; of a leaning side as if it stood plumb. Broadcasts."""
        if self.side == "top":
            return self.volume - self._part(np.clip(self.z - z, 0.0, self.deep), self.high)
        low = np.clip(z - (self.z - self.high / 2), 0.0, self.high)
        under = self._edge(minimum(low, self.high - low))
        return where(low <= self.high / 2, under, self.volume - under)

    def _edge(self, t: Any) -> Any:
        """What a level cut leaves of it that meets its mouth t above its lower edge, t at most half its height."""
        k = self.draft
        d = np.minimum(self.deep, t / np.maximum(k, 1e-12))
        return self.wide * t * d - (self.wide * k + 2 * k * t) * d**2 / 2 + 2 * k**2 * d**3 / 3

    @cached_property
    def corners(self) -> tuple[Any, Any, Any]:
        """(8, ...): the mouth from its lower left corner on, counter-clockwise from outside, then the inner end."""
        points = []
        for depth in (0.0, self.deep):
            a, b = self.wide / 2 - self.draft * depth, self.high / 2 - self.draft * depth
            points += [self.point(p * a, q * b, depth) for p, q in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
        each = np.broadcast_arrays(*(np.asarray(v, float) for point in points for v in point))
        return np.stack(each[0::3]), np.stack(each[1::3]), np.stack(each[2::3])

    def point(self, right: Any, up: Any, depth: Any) -> Vector:
        """A place in its own axes, in those of the body."""
        r, u, n = self.axes
        at = (self.x, self.y, self.z)
        x, y, z = (p + a * right + b * up - c * depth for p, a, b, c in zip(at, r, u, n, strict=True))
        return x, y, z

    @cached_property
    def normals(self) -> tuple[Vector, ...]:
        """Square to its faces: the face's own, then right, left, up and down."""
        r, u, n = self.axes
        k = self.draft
        turned = [[sign * a - k * c for a, c in zip(v, n, strict=True)] for v in (r, u) for sign in (1, -1)]
        return (n, *((x, y, z) for x, y, z in turned))

    def gap(self, x: Any, y: Any, z: Any) -> Any:
        """How far a point of the body lies from it [m]; where negative, how deep inside. Broadcasts."""
        r, u, n = self.axes
        off = (x - self.x, y - self.y, z - self.z)
        right, up, out = (sum(a * b for a, b in zip(off, axis, strict=True)) for axis in (r, u, n))
        k, square = self.draft, 1 / np.sqrt(1 + self.draft**2)
        a = (np.abs(right) - self.wide / 2 - k * out) * square
        b = (np.abs(up) - self.high / 2 - k * out) * square
        c = np.maximum(out, -out - self.deep)
        outside = np.sqrt(sum(np.maximum(v, 0.0) ** 2 for v in (a, b, c)))
        return outside + np.minimum(np.maximum(np.maximum(a, b), c), 0.0)

    def nearest(self, x: Any, y: Any, z: Any) -> Any:
        """The same of segments by their two ends, (n, 2, ...): (n, ...). What holds along one bends only one way."""
        low, high = 0.0 * x[:, 0], 0.0 * x[:, 0] + 1.0
        parts = np.linspace(0.0, 1.0, _PARTS + 1).reshape(-1, *(1,) * low.ndim)
        for _ in range(_TRIES):
            t = low + (high - low) * parts
            gap = self.gap(*(v[:, 0] + t * (v[:, 1] - v[:, 0]) for v in (x, y, z)))
            least = np.argmin(gap, axis=0)[None]
            low, high = (np.take_along_axis(t, np.clip(least + off, 0, _PARTS), axis=0)[0] for off in (-1, 1))
        return gap.min(axis=0)

    def near_enough(self, x: Any, y: Any, z: Any) -> Any:
        """Which segments, (n, 2, ...), may be the nearest of all of any variant: the others lie beyond them whole."""
        half = np.sqrt(sum((v[:, 1] - v[:, 0]) ** 2 for v in (x, y, z))) / 2
        middle = self.gap(*((v[:, 0] + v[:, 1]) / 2 for v in (x, y, z)))
        beyond = (middle - half > np.min(middle, axis=0)).reshape(len(half), -1)
        return np.flatnonzero(~beyond.all(axis=1))

    def solid(self, foot: float = 0.0) -> solids.Solid:
        """In the body's axes, z above a level so far above the body's bottom. One job, no arrays."""
        x, y, z = (np.ravel(v).astype(float) for v in self.corners)
        points = np.column_stack((x, y, z - foot))
        mouth, inner = points[0], points[4]
        n, *round_it = (np.array([float(v) for v in normal]) for normal in self.normals)
        planes = [(n, float(n @ mouth)), (-n, float(-n @ inner))]
        on = (points[1], points[0], points[2], points[0])
        return solids.behind([*planes, *((m, float(m @ p)) for m, p in zip(round_it, on, strict=True))])


def set_in(job: Job, bodies: Sequence[Body], ground: Ground, noted: Callable[..., Any]) -> list[Body]:
    """The bodies, each with its blockouts. Raises JobError with those that cannot be."""
    by_name = {body.name: body for body in bodies}
    of: dict[str, list[Blockout]] = {}
    problems: list[Problem] = []
    for name, hole in job.blockouts.items():
        body = by_name.get(hole.in_)
        astray = _not_built(name, hole, job) if body is None else _nowhere(name, hole, body, job)
        if astray is not None or body is None:
            problems += [] if astray is None else [astray]
            continue
        made = _placed(name, hole, body, noted)
        wrong, bad = faults(made, hole, body, ground, job)
        problems += wrong
        of.setdefault(body.name, []).append(replace(made, wide=where(bad, nan, made.wide)) if np.any(bad) else made)
    problems += [wrong for name, made in of.items() for wrong in together(made, by_name[name], bodies, job)]
    if problems:
        raise JobError(problems)
    return [replace(body, blockouts=tuple(of[body.name])) if body.name in of else body for body in bodies]


# ---- where ----


def _not_built(name: str, hole: schema.Blockout, job: Job) -> Problem:
    words = f"{hole.in_} is not built, so that nothing can be left in it"
    return problem_at(job, ("blockouts", name, "in"), words, "name what stands there")


def _nowhere(name: str, hole: schema.Blockout, body: Body, job: Job) -> Problem | None:
    """What is wrong with the face that it names."""
    faces = _faces_of(body)
    if hole.side not in faces:
        words = f'{body.name} has no face "{hole.side}" for it'
        if body.outline.kind == "round":
            words, right = f"{body.name} is cast in a tube, which nothing is screwed to", 'write side = "top"'
        else:
            right = nearest(hole.side, faces, 12)
        return problem_at(job, ("blockouts", name, "side"), words, right)
    if hole.through and hole.side != "top" and _thickness(body, hole.side) is None:
        words = f"{name} cannot go through {body.name}: no face lies straight across"
        return problem_at(job, ("blockouts", name, "through"), words, "write how deep it goes")
    return None


def _faces_of(body: Body) -> tuple[str, ...]:
    kind = body.outline.kind
    if body.part == "beam":
        return "left", "right", "top"
    if kind == "round":
        return ("top",)
    return (*(SIDES if kind == "rectangle" else map(str, range(1, body.outline.sides + 1))), "top")


def _thickness(body: Body, side: str) -> Any:
    """From a face to the one straight across; None where there is none, or where they lean."""
    o = body.outline
    if side == "top":
        return body.height
    if not body.upright or (o.kind == "polygon" and o.sides % 2):
        return None
    return o.across if side in ("left", "right") else o.along


def _placed(name: str, hole: schema.Blockout, body: Body, noted: Callable[..., Any]) -> Blockout:
    stays = hole.of == "box" if hole.stays is None else hole.stays
    draft: Any = hole.draft
    if draft is None and (stays or hole.of == "foam"):
        draft = 0.0
    elif draft is None:
        draft = noted(f"blockouts.{name}.draft", "how much each side of it comes in for each depth", DRAFT, Number)
    deep = _thickness(body, hole.side) if hole.through else hole.deep
    to_left = net(hole.left, hole.right)
    if hole.side == "top":
        place = {"x": net(hole.ahead, hole.back), "y": to_left, "z": body.height, "turn": 0.0, "lean": 0.0}
    else:
        o = body.outline
        turns = 4 if o.kind == "rectangle" else o.sides
        number = SIDES.index(hole.side) if o.kind == "rectangle" else int(hole.side) - 1
        turn = 2 * np.pi * number / turns
        half = (o.across if hole.side in ("left", "right") else o.along) / 2
        z = hole.up if hole.up is not None else body.height - hole.down
        out = half - o.batter * z / body.height
        c, s = (np.round(v) if o.kind == "rectangle" else v for v in (np.cos(turn), np.sin(turn)))
        place = {
            "x": c * out + s * to_left,
            "y": s * out - c * to_left,
            "z": z,
            "turn": turn,
            "lean": np.arctan(o.batter / body.height),
        }
    return Blockout(
        name=name,
        body=body.name,
        element=body.element,
        side=hole.side,
        of=hole.of,
        stays=stays,
        through=hole.through,
        wide=hole.wide,
        high=hole.high,
        deep=deep,
        draft=draft,
        **place,
    )
