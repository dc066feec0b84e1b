"""A pad that presses too hard, tips, slides or stands too high: larger, deeper, or less wind on what it carries.

Only what is not cast can be made larger. Steps are those of a tape and a shovel, each the least that is enough.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from batterboard.job.schema import Job, Pad, Pier
from batterboard.plan import Plan
from batterboard.study.remedies.proposing import (
    STEP,
    Path,
    Proposal,
    Propose,
    enough,
    has,
    is_cast,
    listed,
    needs,
    sayer,
    stuck,
    up,
)
from batterboard.working import Check

_STEPS = 24  # of a size at most: a pad four feet wider is another pad
_OPEN = (0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2)  # shares of what catches wind now


def _pressed(plan: Plan, c: Check) -> Iterator[Proposal]:
    yield from _wider(plan, c, ("along", "across"))
    yield from _less_wind(plan, c)


def _tipping_along(plan: Plan, c: Check) -> Iterator[Proposal]:
    yield from _tipping(plan, c, "along")


def _tipping_across(plan: Plan, c: Check) -> Iterator[Proposal]:
    yield from _tipping(plan, c, "across")


def _tipping(plan: Plan, c: Check, way: str) -> Iterator[Proposal]:
    yield from _wider(plan, c, (way,))
    yield from _thicker(plan, c)
    yield from _less_wind(plan, c)


def _sliding(plan: Plan, c: Check) -> Iterator[Proposal]:
    yield from _thicker(plan, c)
    yield from _wider(plan, c, ("along", "across"))
    yield from _less_wind(plan, c)


def _held_by_sides(plan: Plan, c: Check) -> Iterator[Proposal]:
    """A pier without a pad."""
    yield from _deeper(plan, c)
    yield from _wider(plan, c, ("along", "across"))
    yield from _less_wind(plan, c)


def _shallow(plan: Plan, c: Check) -> Iterator[Proposal]:
    name = _name(plan.job, c)
    if _is_closed(plan.job, name):
        yield stuck(_foot_of(plan.job, name))
        return
    deeper = up(needs(c) - has(c), STEP[plan.job.job.units] / 2)
    text = f"dig {name} {sayer(plan.job)(deeper)} deeper and fill it with concrete"
    changes = _lower(plan.job, name, deeper)
    if changes:
        yield text, changes


# ---- larger ----


def _wider(plan: Plan, c: Check, ways: tuple[str, ...]) -> Iterator[Proposal]:
    name, job = _name(plan.job, c), plan.job
    if _is_closed(job, name):
        yield stuck(_foot_of(job, name))
        return
    at, sizes = _sides(job, name)
    chosen = [size for size in sizes if size in ways] or list(sizes)

    def tries() -> Iterator[Proposal]:
        for n in range(1, _STEPS + 1):
            made = {size: sizes[size] + n * STEP[job.job.units] * (size in chosen) for size in sizes}
            told = " x ".join(map(sayer(job), made.values())) + (" wide" if len(made) == 1 else "")
            yield f"make {_foot_of(job, name)} {told}", {(*at, size): made[size] for size in chosen}

    yield from enough(plan, c, "size", tries())


def _thicker(plan: Plan, c: Check) -> Iterator[Proposal]:
    name, job = _name(plan.job, c), plan.job
    base: Any = job.piers[name].pad if name in job.piers else job.pads.get(name)
    if base is None or _is_closed(job, name):
        return
    at: Path = ("piers", name, "pad") if name in job.piers else ("pads", name)

    def tries() -> Iterator[Proposal]:
        for n in range(1, _STEPS + 1):
            thick = base.thick + n * STEP[job.job.units]
            yield f"make {_foot_of(job, name)} {sayer(job)(thick)} thick", {(*at, "thick"): thick}

    yield from enough(plan, c, "size", tries())


def _deeper(plan: Plan, c: Check) -> Iterator[Proposal]:
    name, job = _name(plan.job, c), plan.job
    if _is_closed(job, name):
        return

    def tries() -> Iterator[Proposal]:
        for n in range(1, _STEPS + 1):
            deeper = n * STEP[job.job.units]
            changes = _lower(job, name, deeper)
            if changes:
                yield f"dig {name} {sayer(job)(deeper)} deeper and fill it with concrete", changes

    yield from enough(plan, c, "size", tries())


def _lower(job: Job, name: str, deeper: Any) -> dict[Path, Any]:
    """Its underside so much deeper, its top where it is."""
    if name in job.pads:
        return {("pads", name, "thick"): job.pads[name].thick + deeper}
    pier, at = job.piers[name], ("piers", name)
    if pier.pad is not None:
        return {(*at, "pad", "thick"): pier.pad.thick + deeper}
    if pier.top is not None and pier.height is not None:
        return {(*at, "height"): pier.height + deeper}
    if pier.bottom is None:
        return {}
    down = (pier.bottom.down or 0.0) - (pier.bottom.up or 0.0) + deeper
    bottom = replace(pier.bottom, **({"down": down, "up": None} if down >= 0 else {"up": -down, "down": None}))
    height = {} if pier.height is None else {(*at, "height"): pier.height + deeper}
    return {(*at, "bottom"): bottom, **height}


# ---- lighter ----


def _less_wind(plan: Plan, c: Check) -> Iterator[Proposal]:
    """Boards out of the leaves that hang over this base."""
    name, job = _name(plan.job, c), plan.job
    posts = {post for post, thing in job.posts.items() if thing.on == name}
    leaves = {n: leaf for n, leaf in job.leaves.items() if posts & {leaf.hung.on, leaf.shuts.on}}
    if not leaves or job.site.wind is None:
        return

    def tries() -> Iterator[Proposal]:
        for share in _OPEN:
            told = [f"{n}: {leaf.solid * share:.0%} of it catch wind" for n, leaf in leaves.items()]
            changes: dict[Path, Any] = {("leaves", n, "solid"): leaf.solid * share for n, leaf in leaves.items()}
            yield f"take boards out until of {listed(told)}", changes

    yield from enough(plan, c, "size", tries())


# ---- what is asked about ----


def _name(job: Job, c: Check) -> str:
    return c.element if c.element in job.piers or c.element in job.pads else c.element.removesuffix(" pad")


def _is_closed(job: Job, name: str) -> bool:
    return is_cast(job, name, "pad")


def _foot_of(job: Job, name: str) -> str:
    return f"the pad of {name}" if name in job.piers and job.piers[name].pad is not None else name


def _sides(job: Job, name: str) -> tuple[Path, dict[str, Any]]:
    """Where the sizes of what stands on the soil are written, and what they are."""
    base: Pier | Pad = job.piers[name] if name in job.piers else job.pads[name]
    at: Path = ("piers" if name in job.piers else "pads", name)
    if isinstance(base, Pier) and base.pad is not None:
        return (*at, "pad"), {"along": base.pad.along, "across": base.pad.across}
    keys = ("along", "across", "square", "round", "flats")
    return at, {key: size for key in keys if (size := getattr(base, key, None)) is not None}


PROPOSE: dict[str, Propose] = {
    "soil_pressure": _pressed,
    "soil_under_foot": _pressed,
    "overturning_along": _tipping_along,
    "overturning_across": _tipping_across,
    "sliding": _sliding,
    "embedment": _held_by_sides,
    "below_frost": _shallow,
}
