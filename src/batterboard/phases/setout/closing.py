"""Does it close? Tapes across what was set out, the gate's opening, the plates on their bolts.

    pairs    : points worth taping between             west to east, hinge.bolt.1 to latch.bolt.3
    gates    : leaves that close one opening together
    plate    : on its bolts as found, and in simulated jobs

A check measurement is read from the same tape as the places were, so it cannot find that tape wrong.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np

from batterboard.job.schema import Instruments
from batterboard.methods import errors, fit
from batterboard.phases.setout.order import alone
from batterboard.phases.setout.places import SCALE, Errors, Layout, Site, drilled, joint_errors, placed
from batterboard.phases.setout.results import Diagonal, DropOn
from batterboard.standards import aisc, layout
from batterboard.work.records import Bolts, Frame, Leaf, Line, Work
from batterboard.working import absolute, arctan2, cos, exp, hypot, nan, sin

SAMPLES = 2000  # simulated jobs for each plate in doubt: its chance is then sure to half a percent
SEED = 1
ONE_IN_TWENTY = 1.96  # standard deviations that a sound measurement goes beyond so often


# ---- check measurements ----


def pairs(work: Work) -> Iterator[tuple[str, str, str]]:
    """Points worth taping between, and what kind of pair they are."""
    for name in work.bases:
        steps = {s.kind: s for s in work.chains[name]}
        along, off = steps.get("along"), steps.get("off")
        if along and work.lines[along.line].arc is not None:
            continue  # along a curve it is taped from neighbour to neighbour, below
        if along and off and along.line == off.line and np.any(np.asarray(off.value) != 0):
            yield along.line, name, "square"
    for line in (line for line in work.lines.values() if line.arc is not None):
        held = {s.element: s.from_ for chain in work.chains.values() for s in chain if s.kind == "along"}
        yield from ((a, b, "centres") for a, b in pairwise(_along(work, line)) if held[b] != a)
    for leaves in gates(work):
        a, b = posts_of(*leaves)
        if work.posts[a].on != work.posts[b].on:
            yield work.posts[a].on, work.posts[b].on, "centres"
        first, second = work.posts[a].bolts, work.posts[b].bolts
        if first is not None and second is not None and len(first.x) == len(second.x) == 4:
            turn = np.ravel(leaves[0].turn - work.posts[a].frame.turn)[0]
            second_pair = (4, 2) if absolute(cos(turn)) >= absolute(sin(turn)) else (2, 4)  # turned across the gate
            yield f"{a}.bolt.1", f"{b}.bolt.3", "cross"
            yield f"{a}.bolt.{second_pair[0]}", f"{b}.bolt.{second_pair[1]}", "cross"
    for beam in work.beams.values():
        yield (*beam.between, "centres")


def _along(work: Work, line: Line) -> list[str]:
    """What is measured along an arc, in its direction."""
    named = [name for name in work.bases if any(s.kind == "along" and s.line == line.name for s in work.chains[name])]
    frames = {name: work.bases[name].frame for name in named}
    return sorted(named, key=lambda name: np.ravel(line.path.into(frames[name].x, frames[name].y)[0])[0])


AT_ONCE = 8  # diagonals asked together: they share most of their errors, yet not those of a long row


def diagonals(plan: Layout) -> Iterator[Diagonal]:
    """What the tape says between points that should stand so, and how far off it may be."""
    taped_between = tuple(dict.fromkeys(pairs(plan.work)))
    plan = replace(
        plan, checked={**plan.checked, **{f"{a} to {b} reading": plan.tools.tape for a, b, _ in taped_between}}
    )
    for start in range(0, len(taped_between), AT_ONCE):
        part = taped_between[start : start + AT_ONCE]

        def taped(site: Site, part: tuple[tuple[str, str, str], ...] = part) -> Iterator[Any]:
            for a, b, _ in part:
                (ax, ay), (bx, by) = site.point(a), site.point(b)
                yield hypot(bx - ax, by - ay) / (1 + site.e[SCALE]) + site.e[f"{a} to {b} reading"]

        spread = plan.spread(taped)
        for pair, nominal, sigma in zip(part, spread.nominal, spread.sigma, strict=True):
            yield _diagonal(plan, *pair, nominal, sigma)


def _diagonal(plan: Layout, a: str, b: str, kind: str, nominal: Any, sigma: Any) -> Diagonal:
    length, allow = alone(nominal), alone(ONE_IN_TWENTY * sigma)
    square = aside = nan
    if kind == "square":
        square = layout.angle_by_tape(
            *(absolute(v) for v in plan.work.lines[a].string.into(*plan.meant.point(b))), plan.tools.tape
        )
    if kind == "cross":
        near, far = (plan.meant.plate(point.rpartition(".bolt.")[0]) for point in (a, b))
        ahead = Frame(x=far.x, y=far.y, turn=arctan2(far.y - near.y, far.x - near.x))
        # The side that the far plate moves along is short: two of its own bolts.
        side = 2 * absolute(ahead.into(*plan.meant.point(b))[1])
        aside = alone(layout.racking(side, length + allow, length - allow))
    return Diagonal(
        name=f"{a} to {b}", a=a, b=b, length=length, sigma=alone(sigma), allow=allow, square=square, aside=aside
    )


# ---- gates and plates ----


def gates(work: Work) -> Iterator[tuple[Leaf, ...]]:
    """Leaves that close one opening together."""
    for leaf in work.leaves.values():
        other = work.leaves.get(leaf.meets)
        if other is None:
            yield (leaf,)
        elif list(work.leaves).index(leaf.name) < list(work.leaves).index(other.name):
            yield leaf, other


def posts_of(leaf: Leaf, other: Leaf | None = None) -> tuple[str, str]:
    return leaf.hinge_post, other.hinge_post if other else leaf.latch_post


def plate_on_bolts(plan: Layout, name: str) -> DropOn:
    """A plate over its bolts as found, and in simulated jobs."""
    plate, bolts = plan.joints[name]
    clearance = aisc.radial_clearance(plate.hole, bolts.rod.diameter)
    reach = plate.grout + plate.thick
    still = np.array_equal(bolts.x, bolts.found_x) and np.array_equal(bolts.y, bolts.found_y) and not bolts.leans
    best = None if still else _best(bolts, plate.hole, plate.grout, reach)
    spare = alone(best.spare) if best else clearance
    return DropOn(
        name=name,
        diameter=bolts.rod.diameter,
        hole=plate.hole,
        clearance=clearance,
        shift_along=alone(best.shift_x) if best else 0.0,
        shift_across=alone(best.shift_y) if best else 0.0,
        turn=alone(best.turn) if best else 0.0,
        offset=clearance - spare,
        spare=spare,
        chance=_chance(bolts, plan.tools, clearance, reach),
        samples=SAMPLES,
    )


def hole_enough(plan: Layout, name: str, miss: Any) -> float:
    """The smallest hole with which all but so many simulated plates drop on. One job."""
    plate, bolts = plan.joints[name]
    spare = fit.minimax_fit(*_simulated(bolts, plan.tools, plate.hole, plate.grout + plate.thick)).spare
    return float(plate.hole - 2 * np.quantile(spare, miss))


def _best(bolts: Bolts, hole: Any, low: Any, high: Any) -> fit.Fit:
    """The best lie of a plate between two heights above the concrete: a leaning bolt takes of its hole's room there."""
    room = bolts.room(hole, low, high)
    x, y = bolts.x[room.hole], bolts.y[room.hole]
    return fit.minimax_fit(x, y, room.x, room.y, room.off, room.slot_x, room.slot_y)


def _chance(bolts: Bolts, tools: Instruments, clearance: Any, reach: Any) -> Any:
    """The share of simulated plates that drop on: one fit of all bolts each. Where the template stands cancels.

    In the template's own axes its drilling and the bolts' movement are left, and the drilling is the plate's too.
    Variants that differ are simulated one by one, so that a sweep gives what single jobs give.
    """
    given = (*bolts.x, *bolts.y, *bolts.found_x, *bolts.found_y, tools.drill, tools.bolt, clearance, reach)
    variants = np.broadcast_shapes(*{np.shape(v) for v in given})
    if not variants:
        return _share_that_drops_on(bolts, tools, clearance, reach)
    rows = np.stack([np.broadcast_to(v, variants) for v in given], axis=-1)
    different, which = np.unique(rows, axis=0, return_inverse=True)
    chances = []
    for row in different:
        x, y, found_x, found_y = row[:-4].reshape(4, -1)
        one = replace(bolts, x=x, y=y, found_x=found_x, found_y=found_y)
        chances.append(_share_that_drops_on(one, replace(tools, drill=row[-4], bolt=row[-3]), *row[-2:]))
    return np.array(chances)[which.reshape(variants)]


def _share_that_drops_on(bolts: Bolts, tools: Instruments, clearance: Any, reach: Any) -> float:
    # A plate left as its template lay misses a bolt that moved further than its play: e^(-c^2 / 2 s^2) of them. Where
    # all bolts together do so more rarely than the samples could show, no fit is needed to know it.
    if not bolts.found and clearance >= 0:
        misses = len(bolts.x) * exp(-((clearance / tools.bolt) ** 2) / 2) if tools.bolt > 0 else 0.0
        if misses < 1 / SAMPLES:
            return float(1 - misses)

    return float(fit.drops_on(*_simulated(bolts, tools, 2 * clearance + bolts.rod.diameter, reach)).mean())


def _simulated(bolts: Bolts, tools: Instruments, hole: Any, reach: Any) -> tuple[Any, ...]:
    """Holes x and y, bolts x and y (bolts, samples), room and slot of each: simulated joints up to the plate's top."""

    def holes_and_bolts(e: Errors) -> list[Any]:
        (hx, hy), (bx, by) = drilled(bolts, e), placed(bolts, e)
        return [*hx, *hy, *bx, *by]

    drawn = errors.sample(holes_and_bolts, errors.ErrorVector(joint_errors(bolts, tools)), SAMPLES, SEED)
    hx, hy, bx, by = drawn.reshape(4, -1, SAMPLES)
    room = bolts.room(hole, 0.0, reach)
    at, lean_x, lean_y = room.hole, room.x - bolts.found_x[room.hole], room.y - bolts.found_y[room.hole]
    bx, by = bx[at] + lean_x[:, None], by[at] + lean_y[:, None]
    return hx[at], hy[at], bx, by, room.off, room.slot_x, room.slot_y
