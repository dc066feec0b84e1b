"""One drilled pattern for bolts and plate: where are its holes, how long are the bolts, which way round does it lie?

    pattern : Pattern("hinge", on="west", circle=0.323, points=(...), budget=Budget(...))      one for each plate
    point   : Point(number=1, x=0.114, y=0.114, from_back=0.267, from_right=0.267, ...)        one for each bolt

Own axes of the plate: x ahead, y to the left, seen from above; bolts are numbered as in the work. Whether bolts as
cast suit the plate is asked in `setout`; what the concrete holds is not asked here.
"""

from collections.abc import Iterator
from itertools import combinations
from typing import Any, Literal

import numpy as np

from batterboard.quantity import Angle, Length
from batterboard.record import record
from batterboard.standards import aci117, aisc, layout, tables
from batterboard.work.records import Bolts, Machine, Pier, Plate, Post, Work
from batterboard.working import Check, absolute, capacity, check, demand, hypot, maximum, minimum, nan


@record
class Point:
    """One hole of template and plate."""

    number: int
    x: Length  # as planned, from the plate's centre
    y: Length
    from_back: Length  # from the plate's back edge: the drilling table from two edges
    from_right: Length
    edge: Length  # from the hole's centre to the nearest edge of the plate
    found_x: Length
    found_y: Length
    proud: Length  # of its bolt above the concrete, as found where found


@record
class Diagonal:
    name: str  # "1 to 3"
    a: int
    b: int
    length: Length


@record
class Budget:
    """What the length of a bolt is spent on, from its foot up."""

    foot: Literal["hook", "nut", "plate"]
    foot_length: Length  # rod beyond the embedment: round the hook, or through nut and plate
    deep: Length  # embedment below the concrete line
    grout: Length
    plate: Length
    washer: Length
    nut: Length
    threads: Length  # showing above the nut
    needed: Length  # projection above the concrete: grout to threads
    wanted: Length  # the same with the bolt set low by the tolerance
    proud: Length  # the lowest bolt, as planned or found
    thread: Length  # at the top of the rod, at least: a nut can then run down to the concrete
    length: Length  # of the whole rod, cut


@record
class Pattern:
    name: str  # the post or machine
    on: str  # pier or slab
    rod: str  # "3/4 in F1554-36"
    diameter: Length
    hole: Length
    hole_from: str  # table and edition; "the job file" where it says another
    washer: Length
    washer_thick: Length
    along: Length  # of the plate
    across: Length
    thick: Length
    spacing_along: Length  # outermost bolts, centre to centre: the square's side
    spacing_across: Length
    circle: Length  # bolt circle, nan where the bolts lie on none: for a square its diagonal
    points: tuple[Point, ...]
    diagonals: tuple[Diagonal, ...]
    turn: Angle  # of the arrow "ahead" in the job's plan, counter-clockwise from x
    line: str  # the line it points along
    marks: tuple[str, ...]  # to write on template and plate, so that neither is turned or flipped
    budget: Budget
    clearance: Length  # of a bolt in the middle of its hole
    tolerance: Length  # of a bolt's place, by the code
    least_edge: Length  # from the centre of a hole to the plate's edge, by the code
    least_edge_standard: Length  # the table's, for its standard hole
    standard_hole: Length
    twist: Angle  # either way, that the holes leave the plate
    twist_at_latch: Length  # of a leaf that hangs on it, nan where none does
    over_along: Length  # how far the pier's faces stand out beyond the plate, ahead; negative: the plate overhangs
    over_across: Length


@record
class Template:
    patterns: tuple[Pattern, ...]
    checks: tuple[Check, ...]


def patterns(work: Work) -> Template:
    """One pattern for each plate of the job, and what it must fulfil before anything is drilled."""
    things: list[Post | Machine] = [*work.posts.values(), *work.machines.values()]
    made = tuple(_pattern(work, t, t.plate, t.bolts) for t in things if t.plate is not None and t.bolts is not None)
    return Template(
        patterns=made,
        checks=(
            *(bolt_stands_proud(pattern) for pattern in made),
            *(hole_takes_tolerance(pattern) for pattern in made),
            *(hole_clears_edge(pattern) for pattern in made),
        ),
    )


# ---- checks ----


@check("Bolt long enough above the concrete", clause=aisc.ROD_LENGTH, of=Length)
def bolt_stands_proud(pattern: Pattern) -> Any:
    """Through grout, plate, washer and nut, with threads to show."""
    b = pattern.budget
    needed = aisc.rod_projection(b.grout, b.plate, b.washer, b.nut, b.threads)
    return demand(needed), capacity(b.proud, "The lowest bolt counts.")


@check("Hole against the tolerance of a bolt's place", clause=aci117.ROD_PLACE, of=Length)
def hole_takes_tolerance(pattern: Pattern) -> Any:
    """A bolt that is off by what the code allows, in any direction, still stands inside its hole."""
    clearance = aisc.radial_clearance(pattern.hole, pattern.diameter)
    return demand(pattern.tolerance), capacity(clearance, f"Hole by {pattern.hole_from}.")


@check("Steel beside the holes", clause=aisc.EDGES, of=Length)
def hole_clears_edge(pattern: Pattern) -> Any:
    least = aisc.least_edge_distance(pattern.least_edge_standard, pattern.standard_hole, pattern.hole)
    nearest = np.min(np.stack(np.broadcast_arrays(*(point.edge for point in pattern.points))), axis=0)
    return demand(least), capacity(nearest)


# ---- a pattern ----


def _pattern(work: Work, thing: Post | Machine, plate: Plate, bolts: Bolts) -> Pattern:
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
    return Pattern(
        name=thing.name,
        on=thing.on,
        rod=rod.name,
        diameter=rod.diameter,
        hole=plate.hole,
        hole_from=str(tables.hole.source(rod.size)) if by_table else "the job file",
        washer=rod.washer,
        washer_thick=rod.washer_thick,
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
        budget=_budget(plate, bolts),
        clearance=aisc.radial_clearance(plate.hole, rod.diameter),
        tolerance=aci117.setting(rod.size).place,
        least_edge=aisc.least_edge_distance(standard.edge, standard.hole, plate.hole),
        least_edge_standard=standard.edge,
        standard_hole=standard.hole,
        twist=twist,
        twist_at_latch=twist * reach,
        over_along=(top.along - plate.along) / 2 - absolute(along),
        over_across=(top.across - plate.across) / 2 - absolute(across),
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
            edge=minimum(plate.along / 2 - absolute(x), plate.across / 2 - absolute(y)),
            found_x=_alone(bolts.found_x[i]),
            found_y=_alone(bolts.found_y[i]),
            proud=_alone(bolts.proud[i]),
        )


def _extent(values: list[Any]) -> Any:
    return _alone(np.ptp(np.stack(np.broadcast_arrays(*values)), axis=0))


def _diagonals(points: tuple[Point, ...]) -> Iterator[Diagonal]:
    """Every pair of up to four; of more, neighbours and opposites."""
    n = len(points)
    for i, j in combinations(range(n), 2):
        if n <= 4 or j - i in (1, n - 1) or (n % 2 == 0 and j - i == n // 2):
            a, b = points[i], points[j]
            yield Diagonal(name=f"{i + 1} to {j + 1}", a=i + 1, b=j + 1, length=layout.diagonal(b.x - a.x, b.y - a.y))


def _budget(plate: Plate, bolts: Bolts) -> Budget:
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
        length=foot + bolts.deep + highest,
    )


def _alone(value: Any) -> Any:
    """A plain number where there is one variant."""
    return value.item() if np.ndim(value) == 0 and hasattr(value, "item") else value
