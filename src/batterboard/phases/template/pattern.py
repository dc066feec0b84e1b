"""One drilled pattern for bolts and plate: where are its holes, how long are the bolts, which way round does it lie?

    pattern : one for each plate       point : one for each bolt, from two edges

Own axes of the plate: x ahead, y to the left, seen from above; bolts are numbered as in the work.
"""

from collections.abc import Iterator
from itertools import combinations
from math import dist
from typing import Any

import numpy as np

from batterboard.phases.template.proof import proofs
from batterboard.phases.template.results import Budget, Diagonal, Match, Pattern, Point
from batterboard.standards import aci117, aisc, layout, tables
from batterboard.work.records import Bolts, Machine, Pier, Plate, Post, Slab, Work
from batterboard.working import absolute, hypot, maximum, minimum, nan


def pattern_of(work: Work, thing: Post | Machine, plate: Plate, bolts: Bolts) -> Pattern:
    """Holes, edges, marks and bolt length of one plate."""
    rod, base = bolts.rod, work.bases[thing.on]
    points, standard = tuple(_points(plate, bolts)), aisc.edge(rod.size)
    radii = np.stack(np.broadcast_arrays(*(hypot(p.x, p.y) for p in points)))
    by_table = np.all(np.asarray(plate.hole) == rod.hole)
    twist = aisc.twist_play(plate.hole, rod.diameter, _alone(radii.mean(axis=0)))
    leaf = next((leaf for leaf in work.leaves.values() if leaf.hinge_post == thing.name), None)
    reach = work.posts[leaf.hinge_post].section.depth / 2 + leaf.hinge_gap + leaf.length if leaf else nan
    chain = work.chains.get(thing.on, ())
    line = next((s.line for s in chain if s.kind == "template" and s.element == thing.name), "")
    along, across = base.frame.into(bolts.frame.x, bolts.frame.y)
    top = base.shaft.outline if isinstance(base, Pier) else base.body.outline
    budget = _budget(base, plate, bolts)
    return Pattern(
        name=thing.name,
        on=thing.on,
        rod=rod.name,
        diameter=rod.diameter,
        hole=plate.hole,
        hole_from=str(tables.hole.source(rod.size)) if by_table else "the job file",
        washer=rod.washer,
        washer_thick=rod.washer_thick,
        nut=rod.across_flats,
        holes=plate.holes,
        along=plate.along,
        across=plate.across,
        thick=plate.thick,
        spacing_along=_extent([p.x for p in points]),
        spacing_across=_extent([p.y for p in points]),
        circle=_alone(np.where(np.ptp(radii, axis=0) < _EVEN, 2 * radii.mean(axis=0), nan)),
        points=points,
        diagonals=tuple(_diagonals(points)),
        turn=bolts.frame.turn,
        line=line,
        marks=(
            "UP on this face",
            f"arrow AHEAD, along {line}" if line else "arrow AHEAD",
            f"{thing.name} on {thing.on}",
            "1 beside hole 1",
        ),
        matches=_matches(plate, points),
        budget=budget,
        clearance=aisc.radial_clearance(plate.hole, rod.diameter),
        tolerance=aci117.setting(rod.size).place,
        least_edge=aisc.least_edge_distance(standard.edge, standard.hole, plate.hole),
        least_edge_standard=standard.edge,
        standard_hole=standard.hole,
        twist=twist,
        twist_at_latch=twist * reach,
        latch_reach=reach,
        latch_per_edge=reach / (plate.along / 2),
        over_along=(top.along - plate.along) / 2 - absolute(along),
        over_across=(top.across - plate.across) / 2 - absolute(across),
        proofs=tuple(proofs(work, base, plate, bolts, line)),
    )


_EVEN = 1e-6  # bolts lie on a circle if their distances from its centre differ by less [m]


def _points(plate: Plate, bolts: Bolts) -> Iterator[Point]:
    for i in range(len(bolts.x)):
        x, y = _alone(bolts.x[i]), _alone(bolts.y[i])
        yield Point(
            number=i + 1,
            x=x,
            y=y,
            from_back=plate.along / 2 + x,
            from_right=plate.across / 2 + y,
            edge=_edge(plate, bolts, i + 1, x, y),
            found_x=_alone(bolts.found_x[i]),
            found_y=_alone(bolts.found_y[i]),
            proud=_alone(bolts.proud[i]),
        )


def _edge(plate: Plate, bolts: Bolts, number: int, x: Any, y: Any) -> Any:
    """What is left of the plate beside a hole, as from the centre of a hole that nobody opened."""
    ahead, left = bolts.slots.get(number, (0.0, 0.0))
    wider = (bolts.opened.get(number, plate.hole) - plate.hole) / 2
    across = plate.across / 2 - maximum(absolute(y), absolute(y + left))
    return minimum(plate.along / 2 - maximum(absolute(x), absolute(x + ahead)), across) - wider


def _matches(plate: Plate, points: tuple[Point, ...]) -> tuple[Match, ...]:
    """Two places clear of the holes, off every axis of the plate and at different distances from its middle."""
    a, c = plate.along / 2, plate.across / 2
    tried = ((one, other) for one in _FIRST for other in _SECOND)
    plain = [(_first(p.x), _first(p.y)) for p in points]
    sides, clear = (_first(a), _first(c)), _first(plate.hole) / 2 + _CLEAR
    both = next((each for each in tried if _tells(each, sides, plain, clear)), (_FIRST[0], _SECOND[0]))
    return tuple(
        Match(letter=letter, x=x * a, y=y * c, from_back=a + x * a, from_right=c + y * c)
        for letter, (x, y) in zip("PQ", both, strict=True)
    )


# Where the marks may stand, in shares of the plate's half sides, and what they keep clear of holes and of each other's
# images [m].
_FIRST = tuple((x, y) for x in (0.75, 0.8, 0.6, 0.45, 0.3) for y in (0.3, 0.2, 0.12, 0.4))
_SECOND = tuple((x, y) for y in (-0.72, -0.8, -0.55, -0.4) for x in (-0.2, -0.3, -0.4, -0.12))
_CLEAR, _APART = 0.012, 0.012


def _tells(
    both: tuple[tuple[float, float], tuple[float, float]],
    sides: tuple[float, float],
    holes: list[tuple[float, float]],
    clear: float,
) -> bool:
    """Whether two marks keep clear of the holes, and no quarter turn and no flip brings one of them near any."""
    marks = [(x * sides[0], y * sides[1]) for x, y in both]
    if any(dist(mark, hole) < clear for mark in marks for hole in holes):
        return False
    turned = [((x, y), (-y, x), (-x, -y), (y, -x)) for x, y in marks]
    images = [lie for lies in turned for lie in (*lies[1:], *((-x, y) for x, y in lies))]
    return all(dist(mark, image) > _APART for mark in marks for image in images)


def _first(value: Any) -> float:
    """Of variants the first: they share their marks."""
    return float(np.ravel(value)[0])


def _extent(values: list[Any]) -> Any:
    return _alone(np.ptp(np.stack(np.broadcast_arrays(*values)), axis=0))


def _diagonals(points: tuple[Point, ...]) -> Iterator[Diagonal]:
    """Every pair of up to four; of more, neighbours and opposites."""
    n = len(points)
    for i, j in combinations(range(n), 2):
        if n <= 4 or j - i in (1, n - 1) or (n % 2 == 0 and j - i == n // 2):
            a, b = points[i], points[j]
            yield Diagonal(name=f"{i + 1} to {j + 1}", a=i + 1, b=j + 1, length=layout.diagonal(b.x - a.x, b.y - a.y))


def _budget(base: Pier | Slab, plate: Plate, bolts: Bolts) -> Budget:
    rod = bolts.rod
    parts = (plate.grout, plate.thick, rod.washer_thick, rod.nut, aisc.THREADS_SHOWING)
    needed = aisc.rod_projection(*parts)
    foot = {
        "hook": aisc.hook_length(aisc.HOOK_LEG, rod.diameter),
        "nut": rod.nut + aisc.THREADS_SHOWING,
        "plate": rod.washer_thick + rod.nut + aisc.THREADS_SHOWING,
    }[bolts.foot]
    lowest, highest = _alone(np.min(bolts.proud, axis=0)), _alone(np.max(bolts.proud, axis=0))
    wanted = needed + aci117.TOP
    length = foot + bolts.deep + bolts.meant
    return Budget(
        foot=bolts.foot,
        foot_length=foot,
        deep=bolts.deep,
        grout=plate.grout,
        plate=plate.thick,
        washer=rod.washer_thick,
        nut=rod.nut,
        threads=aisc.THREADS_SHOWING,
        needed=needed,
        wanted=wanted,
        proud=lowest,
        thread=maximum(wanted, highest),
        length=length,
        bought=bolts.thread,
        below=base.top - base.foot.bottom - (length - lowest),
    )


def _alone(value: Any) -> Any:
    """A plain number where there is one variant."""
    return value.item() if np.ndim(value) == 0 and hasattr(value, "item") else value
