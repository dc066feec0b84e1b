"""What stands in the way of a pocket or a hole in the concrete?

    fault    : ("deep", True, "goes deeper than the concrete", "less deep")     key, of which variants, words, remedy
    together : two that want one place, or one where a beam comes in
    bolts    : the same of anchor bolts and of posts that are cast in

Convex blocks share space where neither a face of one nor a plane along an edge of each parts them. A fault that some
of many variants have is no error: those are nan. Read only where a job has blockouts.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import TYPE_CHECKING, Any

import numpy as np

from batterboard.job import schema
from batterboard.job.errors import Problem
from batterboard.job.reader import problem_at
from batterboard.job.schema import Job
from batterboard.quantity import Length, show
from batterboard.work.ground import Ground
from batterboard.work.records import SLOPES, Body, Machine, Outline, Post, Work

if TYPE_CHECKING:
    from batterboard.work.blockouts import Blockout, Vector

_ON = 1e-6  # [m] what stands out by less lies in the face
_PARALLEL = 1e-6  # edges that cross at less span no plane
_PAST = 0.0254  # [m] a beam's end is taken so much further, into what it meets


def faults(made: "Blockout", hole: schema.Blockout, body: Body, ground: Ground, job: Job) -> tuple[list[Problem], Any]:
    """What is wrong with one by itself where it is so of all variants; and of which variants something is."""
    bad: Any = False
    problems: list[Problem] = []
    for key, wrong, words, right in _asked(made, hole, body, ground, job):
        bad = bad | wrong
        if np.all(wrong) and not problems:
            problems.append(problem_at(job, ("blockouts", made.name, key), f"{made.name} {words}", right))
    return problems, bad


def _asked(
    made: "Blockout", hole: schema.Blockout, body: Body, ground: Ground, job: Job
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


def together(made: Sequence["Blockout"], body: Body, bodies: Sequence[Body], job: Job) -> Iterator[Problem]:
    """Those of one block that want one place, or stand where a beam comes in."""
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


def _meet(one: tuple[Any, Sequence["Vector"]], other: tuple[Any, Sequence["Vector"]]) -> Any:
    """Whether two convex blocks share space: no face of either parts them, and no plane along an edge of each."""
    meets: Any = True
    corners = [np.reshape(block[0], (3, 8, -1)) for block in (one, other)]  # (x y z, corner, variants)
    crossed = (_cross(a, b) for a in _edges(corners[0]) for b in _edges(corners[1]))
    for normal in (*one[1], *other[1], *crossed):
        long = np.sqrt(sum(n * n for n in normal))
        spans = [sum(n * v for n, v in zip(normal, points, strict=True)) for points in corners]
        (low, high), (other_low, other_high) = ((s.min(axis=0), s.max(axis=0)) for s in spans)
        shared = (low < other_high - _ON * long) & (other_low < high - _ON * long)  # not of variants that are nan
        meets = meets & (shared | (long < _PARALLEL))
    return meets


def _edges(points: Any) -> list["Vector"]:
    """Of the two rings of four corners: two sides of the first, and what joins the rings."""
    pairs = ((0, 1), (0, 3), (0, 4), (1, 5), (2, 6), (3, 7))
    made = [tuple(axis[j] - axis[i] for axis in points) for i, j in pairs]
    longs = [np.maximum(np.sqrt(sum(v * v for v in edge)), 1e-12) for edge in made]
    return [(x / long, y / long, z / long) for (x, y, z), long in zip(made, longs, strict=True)]


def _cross(a: "Vector", b: "Vector") -> "Vector":
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def _end_of(beam: Body, body: Body) -> tuple[Any, Sequence["Vector"]]:
    """A beam's block in the axes of what it meets."""
    a, b = beam.outline.along / 2 + _PAST, beam.outline.across / 2
    points = [beam.frame.out(p * a, q * b) for p, q in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    own = [body.frame.into(x, y) for x, y in points]
    corners = [(x, y, z - body.bottom) for z in (beam.bottom, beam.top) for x, y in own]
    each = np.broadcast_arrays(*(np.asarray(v, float) for corner in corners for v in corner))
    turn = beam.frame.turn - body.frame.turn
    c, s = np.cos(turn), np.sin(turn)
    axes = ((c, s, 0.0), (-s, c, 0.0), (0.0, 0.0, 1.0))
    return (np.stack(each[0::3]), np.stack(each[1::3]), np.stack(each[2::3])), axes


# ---- bolts ----


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
