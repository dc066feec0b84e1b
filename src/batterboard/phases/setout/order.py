"""In what order is it measured, and where does each stake stand?

    readings : base by base, as their chains have it         3. along gate from west, ahead 15'-3"
    stakes   : a base's centre, posts, machines and bolts    each with its ellipse and what makes the most of it
    rods     : every top and underside, from the bench mark

How a place follows from its measurements stands in `places`.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from batterboard.methods import errors
from batterboard.phases.setout.places import Layout, Site, levelled
from batterboard.phases.setout.results import Reading, Rod, Stake
from batterboard.phases.setout.tape import to_read
from batterboard.standards import layout
from batterboard.work.records import Beam, Step, Work
from batterboard.working import absolute, nan


def points(base: str, site: Site) -> Iterator[Any]:
    """Centre and top of a base, then x and y of each post, machine and bolt on it."""
    centre = site.base(base)
    yield from (centre.x, centre.y, site.top(base))
    for name in site.layout.standing.get(base, ()):
        plate = site.plate(name)
        yield from (plate.x, plate.y)
        if name in site.layout.bolts:
            for x, y in site.bolts(name):
                yield from (x, y)


# ---- the measuring order ----


def readings(plan: Layout, spreads: dict[str, errors.Spread]) -> Iterator[Reading]:
    """Base by base, none before what it is measured from; the templates on it last, as in its chain."""
    number = 0
    for base in _in_order(plan):
        for step in plan.work.chains[base]:
            number += 1
            yield _reading(plan, base, step, number, spreads[base])
            if step.kind == "template" and np.any(np.asarray(step.across) != 0):
                number += 1
                aside = replace(step, value=step.across)
                yield _reading(plan, base, aside, number, spreads[base], ("left", "right"))


def _in_order(plan: Layout) -> list[str]:
    work, order = plan.work, dict[str, None]()

    def take(base: str) -> None:
        if base not in order:
            for step in work.chains[base]:
                held = plan.holders(step.line) if step.line and step.kind != "template" else ()
                for other in (step.from_, *held):
                    if other in work.bases and other != base:
                        take(other)
            order[base] = None

    for base in work.bases:
        take(base)
    return list(order)


_Ways = tuple[Any, Any]
_WAYS: dict[str, _Ways] = {"level": ("up", "down"), "off": ("left", "right")}
_OWN_ERRORS = {"along": ("along",), "off": ("off", "string", "square")}


def _reading(
    plan: Layout, base: str, step: Step, number: int, spread: errors.Spread, ways: _Ways | None = None
) -> Reading:
    work, hold, value = plan.work, step.from_, step.value
    sigma: Any = plan.tools.template if step.kind == "template" else nan
    share: Any = nan
    running: Any = nan
    if step.kind == "level":
        sigma, share = levelled(plan.tools), 1.0
        if hold == "ground" and work.levels:  # the ground is no mark: the same top, from the bench
            hold, z = next(iter(work.levels.items()))
            value = work.bases[base].top - z
    elif step.kind in _OWN_ERRORS:
        variance = _by_error(spread, 0)
        own = {f"{base} {kind}" for kind in _OWN_ERRORS[step.kind]}
        part, whole = variance[[name in own for name in spread.names]].sum(axis=0), variance.sum(axis=0)
        sigma, share = alone(np.sqrt(part)), alone(part / np.where(whole > 0, whole, nan))
    arc = plan.swung(base) if step.kind in ("along", "off") else None
    if step.kind == "along" and arc is None:
        running = work.lines[step.line].string.into(*plan.meant.measured(base))[0]
    bent = work.lines[step.line].arc if step.kind == "turn" else None
    chord = bent is not None and not bent.centre
    if chord:  # told by a length, as a tape has no degrees
        value, ways = layout.turned_aside(step.value, layout.TURNED_OVER), ("left", "right")
    if arc is not None:
        ways = ("out", "out") if step.kind == "off" else None
    ways = ways or _WAYS.get(step.kind, ("ahead", "back"))
    still = (step.kind == "turn" and not chord) or bool(np.all(np.asarray(value) == 0))
    return Reading(
        number=number,
        element=step.element,
        kind=step.kind,
        hold=hold,
        line=step.line,
        way="" if still else ways[int(np.ravel(value)[0] < 0)],
        value=absolute(value) if chord or step.kind != "turn" else nan,
        tape=to_read(plan.tools, absolute(value)) if chord or step.kind not in ("level", "turn") else nan,
        angle=step.value if step.kind == "turn" else nan,
        running=running,
        radius=to_read(plan.tools, arc.radius) if arc is not None and step.kind == "along" else nan,
        rod=-value if step.kind == "level" else nan,
        derived=step.derived,
        sigma=sigma,
        share=share,
    )


def _by_error(spread: errors.Spread, item: int) -> Any:
    """What each error adds to the variance of a point, whose x is this item and whose y is the next (errors, ...)."""
    return sum(spread.share[i] * spread.covariance[i, i] for i in (item, item + 1))


def alone(value: Any) -> Any:
    """A plain number where there is one variant."""
    return value.item() if np.ndim(value) == 0 and hasattr(value, "item") else value


# ---- stakes ----


def stakes(plan: Layout, base: str, spread: errors.Spread) -> Iterator[Stake]:
    """The base, then what stands on it with its bolts, in the order of `points`."""
    work = plan.work
    step = next((s for s in work.chains[base] if s.line and s.kind in ("off", "along")), None)
    line = step.line if step else next(iter(work.lines), "")
    thing = work.bases[base]
    yield _stake(work, base, base, "pier" if base in work.piers else "slab", line, spread, 0, thing.foot.bottom)
    item = 3
    for name in plan.standing.get(base, ()):
        on_it = work.posts.get(name) or work.machines[name]
        yield _stake(work, name, base, "post" if name in work.posts else "machine", line, spread, item)
        item += 2
        for number in range(1, len(on_it.bolts.x) + 1 if on_it.bolts else 1):
            yield _stake(work, f"{name}.bolt.{number}", base, "bolt", line, spread, item)
            item += 2


def _stake(
    work: Work, name: str, base: str, kind: Any, line: str, spread: errors.Spread, item: int, bottom: Any = nan
) -> Stake:
    x, y = alone(spread.nominal[item]), alone(spread.nominal[item + 1])
    xx, yy, xy = (spread.covariance[i, j] for i, j in ((item, item), (item + 1, item + 1), (item, item + 1)))
    ellipse = errors.error_ellipse(xx, xy, yy)
    ground = work.ground.level(x, y)
    along, off = on_line(work, line, x, y)
    parts = shares(spread.names, _by_error(spread, item))
    return Stake(
        name=name,
        element=base,
        kind=kind,
        x=x,
        y=y,
        top=work.bases[base].top,
        ground=ground,
        cut=ground - bottom,
        line=line,
        along=along,
        off=off,
        sigma_x=alone(np.sqrt(xx)),
        sigma_y=alone(np.sqrt(yy)),
        sigma_top=alone(spread.sigma[2]),
        major=alone(ellipse.major),
        minor=alone(ellipse.minor),
        direction=alone(ellipse.direction),
        shares=parts,
        worst=next(iter(parts), ""),
    )


_DUST = 1e-12  # of a whole: what rounding leaves of an error that has no part in it


def shares(names: tuple[str, ...], variance: Any) -> dict[str, Any]:
    """Each error's part of the whole, greatest first (of many variants: on the average); those without one left out."""
    whole = variance.sum(axis=0)
    parts = variance / np.where(whole > 0, whole, 1.0)
    mean = parts.reshape(len(names), -1).mean(axis=1)
    return {names[i]: alone(parts[i]) for i in np.argsort(-mean, kind="stable").tolist() if mean[i] > _DUST}


def on_line(work: Work, name: str, x: Any, y: Any) -> tuple[Any, Any]:
    """How far along a line and to its left, an arc's along its curve."""
    if not name:
        return nan, nan
    along, off = work.lines[name].path.into(x, y)
    return along, off


def rods(work: Work) -> Iterator[Rod]:
    """The other bench marks from the first, then every top and underside, from the bench mark its chain begins at."""
    first, z = next(iter(work.levels.items()), ("", 0.0))
    for name, other in list(work.levels.items())[1:]:
        difference = layout.rod_difference(z, other)
        yield Rod(name=f"{name}, bench mark", level=first, above=-difference, difference=difference)
    for name, chained in {**work.bases, **work.beams}.items():
        level = next((s.from_ for s in work.chains[name] if s.kind == "level"), "")
        bench = level if level in work.levels else next(iter(work.levels), "")
        body = chained.body if isinstance(chained, Beam) else chained.foot
        top = chained.body.top if isinstance(chained, Beam) else chained.top
        for what, z in ((f"{name} top", top), (f"{body.name} bottom", body.bottom)):
            difference = layout.rod_difference(work.levels.get(bench, 0.0), z)
            yield Rod(name=what, level=bench, above=-difference, difference=difference)
