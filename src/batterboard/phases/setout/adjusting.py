"""Do the check measurements agree, with each other and with how it was set out? Which stake must then move?

    taken    : Taken("west.bolt.1 to east.bolt.3", off=0.003, disagrees=0.004, allow=0.009, ...)
    suspect  : Suspect("east along", reading=False, by=0.05, alike=())      where they do not close
    move     : Move("east", along=-0.012, off=0.0, ...)                      where they do

Readings are places of the same vector as the stakes: what the tape that set out got wrong, the same tape does not see.
Nothing is moved by readings that do not agree. What weakens a measurement (rays that cross at less than 30 degrees,
a line used beyond its ends) is said, not forbidden.
"""

from collections.abc import Callable, Iterable, Iterator
from math import atan2, inf, pi, radians, sqrt
from typing import Any

import numpy as np

from batterboard.job.schema import Instruments, Measured
from batterboard.job.schema import Reading as Written
from batterboard.methods import errors
from batterboard.methods.chances import chi_squared_at
from batterboard.phases.setout import tape
from batterboard.phases.setout.order import on_line
from batterboard.phases.setout.places import SCALE, Layout, Site, levelled
from batterboard.phases.setout.results import Adjustment, Caution, Move, Suspect, Taken
from batterboard.record import ordered
from batterboard.work.records import Frame, Leaf, Work
from batterboard.working import cos, hypot, nan, sin

SECOND = "second tape scale"
ONE_IN_HUNDRED = 0.01  # sound jobs whose readings are refused
ONE_IN_THOUSAND = 3.29  # standard deviations that a sound reading goes beyond so often
NARROW = radians(30)  # common practice: below it a crossing says little along its rays
_ALIKE = 0.98  # how much of one blunder another explains before only a new measurement can tell them apart
_LEAST = 1e-6  # even an exact instrument is read to a micrometre


@ordered
class Read:
    """A reading as a place."""

    name: str
    kind: Any
    ends: tuple[str, str]
    read: float
    sigma: float
    place: Callable[[Site], Any]
    second: bool

    @property
    def error(self) -> str:
        return f"{self.name} reading"


# ---- readings as places ----


def checks_of(work: Work, tools: Instruments, measured: Measured) -> tuple[Read, ...]:
    """Every reading of [measured], each with a name of its own."""
    made: list[Read] = []
    seen: dict[str, int] = {}
    for one in measured.readings:
        check = _check(work, tools, one)
        seen[check.name] = seen.get(check.name, 0) + 1
        if seen[check.name] > 1:
            check = Read(**{**vars(check), "name": f"{check.name}, again {seen[check.name] - 1}"})
        made.append(check)
    return tuple(made)


def errors_of(checks: Iterable[Read], tools: Instruments) -> dict[str, float]:
    """What the readings bring into the vector: each its own error, another tape its own length."""
    every = tuple(checks)
    second = {SECOND: tools.tape_scale} if any(check.second for check in every) else {}
    return second | {check.error: max(check.sigma, _LEAST) for check in every}


def _check(work: Work, tools: Instruments, one: Written) -> Read:
    second = one.with_ == "second tape"

    def taped(reading: float) -> float:
        return reading if second else float(tape.true(tools, reading))

    def made(name: str, kind: str, ends: tuple[str, str], read: float, place: Callable[[Site], Any]) -> Read:
        return Read(name, kind, ends, read, levelled(tools) if kind == "level" else tools.tape, place, second)

    def along(site: Site, long: Any) -> Any:
        return long / (1 + site.e[SECOND if second else SCALE])

    if one.across is not None:
        a, b = one.across

        def across(site: Site) -> Any:
            (ax, ay), (bx, by) = site.point(a), site.point(b)
            return along(site, hypot(bx - ax, by - ay))

        return made(f"{a} to {b}", "across", (a, b), taped(one.tape or 0.0), across)
    if one.clear is not None:
        leaf = work.leaves[one.clear]
        name = f"clear at {leaf.name}, {one.at}er hinge" if one.at == "low" else f"clear at {leaf.name}, upper hinge"
        posts = (leaf.hinge_post, leaf.latch_post)
        return made(name, "clear", posts, taped(one.tape or 0.0), lambda s: along(s, _clear(s, leaf, one.at)))
    if one.level is not None:
        top, start = one.level, one.from_ or ""
        up = (one.up or 0.0) - (one.down or 0.0)
        return made(f"{top} from {start}", "level", (start, top), up, lambda s: s.height(top) - s.height(start))
    point, off = one.point or "", one.off is not None
    line = one.off or one.along or ""
    far = (one.left or 0.0) - (one.right or 0.0) if off else (one.ahead or 0.0) - (one.back or 0.0)

    def on(site: Site) -> Any:
        return along(site, site.line(line).into(*site.point(point))[off])

    signed = taped(abs(far)) * (1 if far >= 0 else -1)
    return made(f"{point} {'off' if off else 'along'} {line}", "off" if off else "along", (line, point), signed, on)


def _clear(site: Site, leaf: Leaf, at: str) -> Any:
    """Between the faces of a leaf's posts at one of its hinges."""
    height = leaf.low if at == "low" else leaf.high
    a, b = site.post(leaf.hinge_post, height), site.post(leaf.latch_post, height)
    depths = [site.work.posts[name].section.depth for name in (leaf.hinge_post, leaf.latch_post)]
    return (b.x - a.x) * cos(leaf.turn) + (b.y - a.y) * sin(leaf.turn) - sum(depths) / 2


# ---- all of them together ----


def adjusted(plan: Layout, checks: tuple[Read, ...]) -> Adjustment:
    """Whether the readings close, what is suspect where they do not, what has to move where they do."""

    def places(site: Site) -> Iterator[Any]:
        for check in checks:
            yield check.place(site) + site.e[check.error]

    def under(e: Any) -> Iterable[Any]:
        return places(plan.under(e))

    vector = plan.asked_by(lambda site: [*places(site), *_stakes(plan, site)])
    readings = np.array([check.read for check in checks])
    misfit = errors.misfit(under, readings, vector)
    n = len(checks)
    scale = misfit.least / errors.SHOWN
    taken = tuple(_taken(check, misfit, i, scale[i]) for i, check in enumerate(checks))
    limit = chi_squared_at(ONE_IN_HUNDRED, n)
    closes = misfit.chi_squared <= limit and bool(np.all(np.abs(misfit.tests) <= ONE_IN_THOUSAND))
    return Adjustment(
        name="check measurements",
        taken=taken,
        redundancy=n,
        factor=sqrt(misfit.chi_squared / n),
        limit=sqrt(limit / n),
        closes=closes,
        suspects=() if closes else tuple(_suspects(checks, misfit)),
        moves=tuple(_moves(plan, errors.adjust(under, readings, vector))) if closes else (),
    )


def _taken(check: Read, misfit: errors.Misfit, i: int, scale: float) -> Taken:
    seen = scale > 0
    return Taken(
        name=check.name,
        kind=check.kind,
        read=check.read,
        expected=check.read - float(misfit.off[i]),
        off=float(misfit.off[i]),
        sigma=float(misfit.sigma[i]),
        disagrees=float(misfit.tests[i] * scale),
        allow=ONE_IN_THOUSAND * scale if seen else inf,
        smallest=float(misfit.least[i]) if seen else inf,
    )


def _suspects(checks: tuple[Read, ...], misfit: errors.Misfit) -> Iterator[Suspect]:
    """The error that explains most, and those that explain as much alone; a reading's error stands for the reading."""
    own = {check.error: check.name for check in checks}
    names, n = misfit.errors.names, len(checks)
    order = [i for i in np.argsort(-np.abs(misfit.causes), kind="stable").tolist() if abs(misfit.causes[i]) > 0]
    worst = order[0]
    same = [i for i in order if misfit.alike[n + worst, n + i] > _ALIKE]
    for i in (j for j in order if abs(misfit.causes[j]) > ONE_IN_THOUSAND or j == worst):
        if i in same and i != worst:
            continue
        alike = [own.get(names[j], names[j]) for j in order if j != i and misfit.alike[n + i, n + j] > _ALIKE]
        yield Suspect(
            name=own.get(names[i], names[i]),
            reading=names[i] in own,
            test=float(misfit.causes[i]),
            by=float(misfit.sizes[i]) if _is_length(names[i]) else nan,
            alike=tuple(alike),
        )


def _is_length(error: str) -> bool:
    return error not in (SCALE, SECOND) and not error.endswith((" square", " turn", " plumb along", " plumb across"))


# ---- what moves ----


def _movable(plan: Layout) -> Iterator[str]:
    for base in plan.work.bases:
        yield base
        yield from plan.standing.get(base, ())


def _stakes(plan: Layout, site: Site) -> Iterator[Any]:
    for name in _movable(plan):
        yield from (*site.point(name), site.height(name))


def _moves(plan: Layout, made: errors.Adjusted) -> Iterator[Move]:
    spread = made.spread(lambda e: _stakes(plan, plan.under(e)))
    meant = np.array([float(np.ravel(v)[0]) for v in _stakes(plan, plan.meant)])
    for i, name in enumerate(_movable(plan)):
        x, y, z = 3 * i, 3 * i + 1, 3 * i + 2
        dx, dy, dz = meant[[x, y, z]] - spread.nominal[[x, y, z]]
        base = name if name in plan.work.bases else _base_of(plan, name)
        line = next((s.line for s in plan.work.chains[base] if s.line), next(iter(plan.work.lines), ""))
        along, off = Frame(x=0.0, y=0.0, turn=_ahead(plan, line, base)).into(dx, dy)
        c = spread.covariance
        ellipse = errors.error_ellipse(c[x, x], c[x, y], c[y, y])
        far, sure, sure_up = float(hypot(dx, dy)), float(ellipse.major), float(np.sqrt(c[z, z]))
        shows = plan.tools.tape
        yield Move(
            name=name,
            line=line,
            along=float(along),
            off=float(off),
            far=far,
            sigma=sure,
            up=float(dz),
            sigma_up=sure_up,
            worth=far > max(1.96 * sure, shows),
            worth_up=abs(float(dz)) > max(1.96 * sure_up, shows),
            done=plan.work.bases[base].done,
        )


def _ahead(plan: Layout, line: str, base: str) -> Any:
    """The direction in which a base is moved along its line: of an arc its tangent there."""
    if not line:
        return 0.0
    path, frame = plan.work.lines[line].path, plan.work.bases[base].frame
    return path.at(path.into(frame.x, frame.y)[0]).turn


def _base_of(plan: Layout, name: str) -> str:
    return (plan.work.posts.get(name) or plan.work.machines[name]).on


# ---- what weakens a measurement ----


def cautions(plan: Layout, checks: tuple[Read, ...]) -> Iterator[Caution]:
    yield from _beyond(plan.work)
    yield from _narrow_lines(plan.work)
    yield from _flat_arcs(plan)
    yield from _rays(plan, checks)
    yield from _twice(checks)
    yield from _circles(plan, checks)


def _beyond(work: Work) -> Iterator[Caution]:
    """Lines used before their start or past their end: what an end is off grows with the distance."""
    for name, base in work.bases.items():
        for used in dict.fromkeys(s.line for s in work.chains[name] if s.kind in ("along", "off") and s.line):
            if not work.lines[used].square and work.lines[used].arc is None:
                yield from _past(work, used, name, base.frame.x, base.frame.y)
    for name, line in work.lines.items():
        if line.set_from and line.square and not work.lines[line.set_from].square:
            yield from _past(work, line.set_from, name, line.x, line.y)


def _past(work: Work, line: str, name: str, x: Any, y: Any) -> Iterator[Caution]:
    along, length = on_line(work, line, x, y)[0], work.lines[line].length
    past = np.maximum(along - length, -along)
    if np.any(past > _LEAST):
        yield Caution(kind="beyond its end", about=(line, name), value=past)


def _narrow_lines(work: Work) -> Iterator[Caution]:
    for name in work.bases:
        steps = {s.kind: s.line for s in work.chains[name] if s.kind in ("along", "off")}
        if len(steps) == 2 and steps["along"] != steps["off"]:
            crossing = pi / 2 - _between(work.lines[steps["along"]].turn, work.lines[steps["off"]].turn)
            if np.any(crossing < NARROW):
                yield Caution(kind="narrow lines", about=(name, steps["along"], steps["off"]), value=crossing)


def _flat_arcs(plan: Layout) -> Iterator[Caution]:
    """Places where the tape from an arc's nail and the one across its curve run nearly the same way."""
    for name in plan.work.bases:
        arc = plan.swung(name)
        if arc is not None:
            along = plan.steps[name]["along"]
            crossing = pi / 2 - np.arcsin(np.minimum(np.abs(along.value) / (2 * arc.radius), 1.0))
            if np.any(crossing < NARROW):
                yield Caution(kind="narrow rays", about=(name, arc.centre, along.from_), value=crossing)


def _between(one: Any, other: Any) -> Any:
    """The angle between two directions that have no sense, 0 to a right angle."""
    apart = np.abs(np.mod(one - other, pi))
    return np.minimum(apart, pi - apart)


def _rays(plan: Layout, checks: tuple[Read, ...]) -> Iterator[Caution]:
    """Points taped from several others: how well the tapes cross, and whether they can tell which side it is on."""
    rays: dict[str, dict[str, tuple[float, float]]] = {}
    for check in checks:
        if check.kind == "across":
            for here, there in (check.ends, check.ends[::-1]):
                if here not in plan.work.marks and here not in plan.work.lines:
                    rays.setdefault(here, {})[there] = plan.meant.point(there)
    for point, seen in rays.items():
        if len(seen) < 2:
            continue
        x, y = plan.meant.point(point)
        turns = [atan2(float(py - y), float(px - x)) for px, py in seen.values()]
        best = max(float(_between(a, b)) for i, a in enumerate(turns) for b in turns[:i])
        if best < NARROW:
            yield Caution(kind="narrow rays", about=(point, *seen), value=best)
        places = list(seen.values())
        if len(places) >= 3 and _in_line(places):
            yield Caution(kind="one line", about=(point, *seen), value=0.0)


def _in_line(places: list[tuple[Any, Any]]) -> bool:
    """Whether points lie on one line, to a hundredth of how far they spread."""
    xy = np.array(places, float).reshape(-1, 2)
    spread = np.linalg.svd(xy - xy.mean(axis=0), compute_uv=False)
    return bool(spread[1] <= 0.01 * spread[0])


def _twice(checks: tuple[Read, ...]) -> Iterator[Caution]:
    """The same thing measured again, and otherwise than its two readings explain."""
    for i, one in enumerate(checks):
        for other in checks[:i]:
            same = one.kind == other.kind and (one.ends == other.ends or one.ends == other.ends[::-1])
            turned = -1 if one.kind == "level" and one.ends != other.ends else 1
            apart = abs(one.read - turned * other.read)
            if same and one.kind != "clear" and apart > ONE_IN_THOUSAND * sqrt(2) * max(one.sigma, _LEAST):
                yield Caution(kind="taken twice", about=(other.name, one.name), value=apart)


def _circles(plan: Layout, checks: tuple[Read, ...]) -> Iterator[Caution]:
    """Rounds of levels that come back to where they began, but not to its height. Bench marks are tied by their job."""
    levels = list(plan.work.levels)
    known = [(a, b, plan.work.levels[b] - plan.work.levels[a], "") for a, b in zip(levels, levels[1:])]
    rises = [
        (check.ends[0].removesuffix(".top"), check.ends[1].removesuffix(".top"), check.read, check.name)
        for check in checks
        if check.kind == "level"
    ]
    way: dict[str, list[tuple[str, float, str]]] = {}
    for a, b, rise, name in (*known, *rises):
        path = _walk(way, a, b)
        if path is not None and (len(path) != 1 or not path[0][2]):  # of two readings of one thing, `_twice` speaks
            off = rise - sum(step for _, step, _ in path)
            read = [n for *_, n in path if n] + [name]
            if abs(off) > ONE_IN_THOUSAND * sqrt(len(read)) * max(levelled(plan.tools), _LEAST):
                yield Caution(kind="circle", about=tuple(read), value=float(off))
        if path is None:
            way.setdefault(a, []).append((b, rise, name))
            way.setdefault(b, []).append((a, -rise, name))


def _walk(way: dict[str, list[tuple[str, float, str]]], start: str, end: str) -> list[tuple[str, float, str]] | None:
    """The steps from one level to another along what is tied already."""
    found: dict[str, list[tuple[str, float, str]]] = {start: []}
    waiting = [start]
    while waiting:
        here = waiting.pop(0)
        for step in way.get(here, ()):
            if step[0] not in found:
                found[step[0]] = [*found[here], step]
                waiting.append(step[0])
    return found.get(end)
