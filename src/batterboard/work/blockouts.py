"""Which pockets and holes are left in the concrete, and can each of them be?

    blockout : Blockout("letters", body="west", side="ahead", wide=0.3, high=0.1, deep=0.1, draft=0.083, ...)
    axes     : of its own: r to the right as seen from outside, u up along the face, n out of the face; on top r runs
               ahead and u to the left. Its mouth lies in the face, each of its sides comes in by `draft` for each depth
    gap      : how far a point or a stick lies from it; less than nothing inside

Read only where a job has some. What passes too near is asked in `cage`; how the box is made and held, in `forms`.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from itertools import combinations
from typing import Any, Literal

import numpy as np

from batterboard.job import schema
from batterboard.job.errors import JobError, Problem, nearest
from batterboard.job.reader import problem_at
from batterboard.job.schema import Job
from batterboard.methods import solids, volumes
from batterboard.quantity import Length, Number, show
from batterboard.record import record
from batterboard.work.ground import Ground
from batterboard.work.placing import net
from batterboard.work.records import SLOPES, Body, Machine, Outline, Post, Work
from batterboard.working import minimum, nan, where

DRAFT = 1 / 12  # of what comes out in one piece; common practice, no source
SIDES = ("ahead", "left", "back", "right")
_ON = 1e-6  # [m] what stands out by less lies in the face
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
        wrong, bad = _faults(made, hole, body, ground, job)
        problems += wrong
        of.setdefault(body.name, []).append(replace(made, wide=where(bad, nan, made.wide)) if np.any(bad) else made)
    problems += [wrong for name, made in of.items() for wrong in _together(made, by_name[name], bodies, job)]
    if problems:
        raise JobError(problems)
    return [replace(body, blockouts=tuple(of[body.name])) if body.name in of else body for body in bodies]


def beside_bolts(job: Job, work: Work) -> Iterator[Problem]:
    """Those that a bolt, or a post that is cast in, stands in."""
    things: tuple[Post | Machine, ...] = (*work.posts.values(), *work.machines.values())
    standing: list[tuple[str, str, Any, Any, Any, Any, Any]] = []
    for thing in things:
        top = work.bases[thing.on].top
        if thing.bolts is not None:
            low, radius = top - thing.bolts.deep, thing.bolts.rod.diameter / 2
            for n in range(len(thing.bolts.x)):
                x, y = thing.bolts.frame.out(thing.bolts.found_x[n], thing.bolts.found_y[n])
                standing.append((thing.on, f"{thing.name} bolt {n + 1}", x, y, low, top, radius))
        elif isinstance(thing, Post):
            at, radius = thing.frame, thing.section.depth / 2
            standing.append((thing.on, f"{thing.name}, cast in", at.x, at.y, thing.foot_z, top, radius))
    for base, what, x, y, low, high, radius in standing:
        for body in work.bases[base].bodies:
            for hole in body.blockouts:
                a, b = body.frame.into(x, y)
                low_z, high_z, a, b = np.broadcast_arrays(low - body.bottom, high - body.bottom, a, b)
                if np.all(hole.gap(a, b, (low_z + high_z) / 2) > (high_z - low_z) / 2 + radius):
                    continue
                ends = [np.stack((v, w))[None] for v, w in ((a, a), (b, b), (low_z, high_z))]
                near = hole.nearest(*ends)[0]
                if np.all(near < radius - _ON):
                    words = f"{hole.name} and {what} want the same place"
                    yield problem_at(job, ("blockouts", hole.name), words, "move it aside, or make it less deep")


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


# ---- whether it can be ----


def _faults(made: Blockout, hole: schema.Blockout, body: Body, ground: Ground, job: Job) -> tuple[list[Problem], Any]:
    """What is wrong with one by itself where it is so of all variants; and of which variants something is."""
    bad: Any = False
    problems: list[Problem] = []
    for key, wrong, words, right in _asked(made, hole, body, ground, job):
        bad = bad | wrong
        if np.all(wrong) and not problems:
            problems.append(problem_at(job, ("blockouts", made.name, key), f"{made.name} {words}", right))
    return problems, bad


def _asked(
    made: Blockout, hole: schema.Blockout, body: Body, ground: Ground, job: Job
) -> Iterator[tuple[str, Any, str, str]]:
    system = job.job.units
    o, height, top = body.outline, body.height, made.side == "top"
    if made.comes_out:
        right = "write draft = 1/12, or stays = true"
        yield "draft", made.draft <= 0, "cannot come out: its sides have no draft, the concrete would hold it", right
    narrow = np.minimum(made.wide, made.high) - 2 * made.draft * made.deep
    yield "draft", narrow <= _ON, "comes to a point before it is so deep", "less draft, or less deep"
    x, y, z = made.corners
    aside, along = ("left" if hole.left is not None else "right" if hole.right is not None else "wide"), "wide"
    if top:
        along = "ahead" if hole.ahead is not None else "back" if hole.back is not None else "wide"
    upright = "up" if hole.up is not None else "down"
    if top:
        deepest = made.deep - height
        right = f"less than {_said(height, system)}, or through = true"
        yield "deep", deepest > _ON, "goes deeper than the concrete", right
    else:
        low, high = z.min(axis=0), z.max(axis=0)
        yield upright, low < -_ON, f"reaches {_said(-low, system)} below the foot of the concrete", _move("up")
        past = high - height
        yield upright, past > _ON, f"reaches {_said(past, system)} above the top of the concrete", _move("down")
        foot = _formed_from(body, ground)
        under = foot - low
        words = f"reaches {_said(under, system)} below the form's foot: no panel is there to fix it to"
        yield upright, under > _ON, words, _move("up")
    behind = _behind(o, x, y, z, height)
    mouth = behind[:, :4].min(axis=(0, 1))
    words = f"stands out of the face by {_said(-mouth, system)}"
    yield (along if top else aside), mouth < -_ON, words, "nearer to the middle, or narrower"
    inner = behind[:, 4:].min(axis=(0, 1))
    words = f"goes deeper than the concrete: it comes out on another side by {_said(-inner, system)}"
    yield ("through" if made.through else "deep"), inner < -_ON, words, "less deep, or through = true"
    if o.kind != "round":
        share = _in_corner(o, behind)
        yield (along if top else aside), share < 1 - 1e-6, "runs into a corner strip", "further from the corner"
    if np.any(o.top > 0) and body.part != "beam":
        share = _in_top(o, behind, height - z)
        key = along if top else upright
        yield key, share < 1 - 1e-6, "runs into a strip along the top", "further from the edge"


def _move(way: str) -> str:
    return f"further {way}, or less high"


def _said(length: Any, system: Any) -> str:
    return show(float(np.ravel(length)[0]), Length, system)


def _formed_from(body: Body, ground: Ground) -> Any:
    """Height above its bottom from which a body has a form."""
    if body.against == "form":
        return 0.0
    lowest = ground.level(*body.frame.out(*body.outline.points())).min(axis=0)
    return np.clip(lowest - body.bottom, 0.0, None)


def _behind(o: Outline, x: Any, y: Any, z: Any, height: Any) -> Any:
    """How deep points lie behind each wall, measured level: (walls, points, ...). Round: one wall."""
    if o.kind == "round":
        return (o.along / 2 - np.hypot(x, y))[None]
    n = 4 if o.kind == "rectangle" else o.sides
    rows = []
    for number in range(n):
        turn = 2 * np.pi * number / n
        half = (o.across if o.kind == "rectangle" and number % 2 else o.along) / 2
        rows.append(half - o.batter * z / height - np.cos(turn) * x - np.sin(turn) * y)
    return np.stack(np.broadcast_arrays(*rows))


def _in_corner(o: Outline, behind: Any) -> Any:
    """Least share of a corner strip's section that a point is away from the edge: below 1 it is in the strip."""
    turn = float(np.sin(2 * np.pi / len(behind)))
    shares = []
    for number, (before, after) in enumerate(o.legs):
        p = behind[number] / np.maximum(after * turn, 1e-12)
        q = behind[(number + 1) % len(behind)] / np.maximum(before * turn, 1e-12)
        shares.append(_share(p, q, SLOPES[o.corner_shape]))
    return np.min(np.stack(np.broadcast_arrays(*shares)), axis=0)


def _in_top(o: Outline, behind: Any, deep: Any) -> Any:
    """The same of a strip along the top."""
    down = np.maximum(o.drop, 1e-12)
    shares = [_share(one / np.maximum(o.top, 1e-12), deep / down, SLOPES[o.top_shape]) for one in behind]
    return np.min(np.stack(shares), axis=0)


def _share(p: Any, q: Any, slope: float) -> Any:
    return np.maximum(p + slope * q, q + slope * p).min(axis=0)


# ---- beside each other ----


def _together(made: Sequence[Blockout], body: Body, bodies: Sequence[Body], job: Job) -> Iterator[Problem]:
    shapes = {hole.name: (hole.corners, hole.normals) for hole in made}
    for one, other in combinations(made, 2):
        if np.all(_meet(shapes[one.name], shapes[other.name])):
            words = f"{other.name} and {one.name} want the same place"
            yield problem_at(job, ("blockouts", other.name), words, "move one of them, or make it less deep")
    for beam in bodies:
        if beam.part != "beam" or body.element not in job.beams[beam.element].between or beam is body:
            continue
        block = _end_of(beam, body)
        for hole in made:
            if np.all(_meet(shapes[hole.name], block)):
                words = f"{hole.name} stands where {beam.name} comes in"
                yield problem_at(job, ("blockouts", hole.name), words, "above, below or beside the beam")


def _meet(one: tuple[Any, Sequence[Vector]], other: tuple[Any, Sequence[Vector]]) -> Any:
    """Whether two convex blocks share space: no face of either parts them."""
    meets: Any = True
    for normal in (*one[1], *other[1]):
        spans = [sum(n * v for n, v in zip(normal, points, strict=True)) for points, _ in (one, other)]
        (low, high), (other_low, other_high) = ((s.min(axis=0), s.max(axis=0)) for s in spans)
        meets = meets & (low < other_high - _ON) & (other_low < high - _ON)
    return meets


_PAST = 0.0254  # [m] a beam's end is taken so much further, into what it meets


def _end_of(beam: Body, body: Body) -> tuple[Any, Sequence[Vector]]:
    """A beam's block in the axes of what it meets."""
    a, b = beam.outline.along / 2 + _PAST, beam.outline.across / 2
    points = [beam.frame.out(p * a, q * b) for p, q in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    own = [body.frame.into(x, y) for x, y in points]
    corners = [(x, y, z - body.bottom) for z in (beam.bottom, beam.top) for x, y in own]
    each = np.broadcast_arrays(*(np.asarray(v, float) for corner in corners for v in corner))
    turn = beam.frame.turn - body.frame.turn
    c, s = np.cos(turn), np.sin(turn)
    axes: Mapping[int, Vector] = {0: (c, s, 0.0), 1: (-s, c, 0.0), 2: (0.0, 0.0, 1.0)}
    return (np.stack(each[0::3]), np.stack(each[1::3]), np.stack(each[2::3])), tuple(axes.values())
