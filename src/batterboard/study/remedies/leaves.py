"""A leaf that no longer fits between its posts, droops or binds: what posts, hinges, latch and pads can still give."""

from collections.abc import Iterator
from typing import Any

from batterboard.job.schema import Leaf
from batterboard.plan import Plan
from batterboard.quantity import Force, inch, show
from batterboard.standards import tables
from batterboard.study.remedies.proposing import MARK, STEP, Proposal, Propose, enough, is_cast, listed, sayer, stuck
from batterboard.working import Check

_LIGHTER = tuple(n / 20 for n in range(19, 9, -1))  # shares of a leaf's weight
_STEPS = 24
_CLEAR_OF_END = 2 * inch  # a hinge from the leaf's upper and lower edge, common practice


def _opening(plan: Plan, c: Check) -> Iterator[Proposal]:
    job, said = plan.job, sayer(plan.job)
    hang = next((one for one in plan.steel.hangs if one.name == c.element), None)
    if hang is None or hang.name not in job.leaves:
        return
    leaning = [name for name in (hang.hinge_post, hang.latch_post) if job.posts[name].lean]
    if leaning:
        text = f"bring post {listed(leaning)} plumb on its nuts"
        yield text, {("posts", name, "lean"): None for name in leaning}
    for name in dict.fromkeys(job.posts[post].on for post in (hang.hinge_post, hang.latch_post)):
        if name in job.piers and job.piers[name].shift and is_cast(job, name):
            yield stuck(name)
        elif name in job.piers and job.piers[name].shift:
            yield f"set {name} back on its place before it is cast", {("piers", name, "shift"): None}
    leaf, at = job.leaves[hang.name], ("leaves", hang.name)
    over = float((hang.left_low + hang.left_high) / 2 - hang.latch_gap)
    if over > 0:
        text = f"set the latch keeper {said(over)} out from its post towards the leaf"
    else:
        text = f"let the latch keeper {said(-over)} into its post"
    gap = float(hang.latch_gap + over)
    if gap > 0:
        yield text, {(*at, "shuts", "gap"): gap}
    hinge = float(hang.hinge_gap + over)
    if hinge > 0:
        way = "further from" if over > 0 else "nearer to"
        yield f"hang the leaf {said(abs(over))} {way} its post, on other hinges", {(*at, "hung", "gap"): hinge}
    length, height = leaf.size
    made = f"{said(abs(over))} {'longer' if over > 0 else 'shorter'}: {said(length + over)}"
    yield f"make the leaf {made}", {(*at, "size"): (length + over, height)}


# ---- once it hangs ----


def _droop(plan: Plan, c: Check) -> Iterator[Proposal]:
    yield from _hanging(plan, c)
    leaf, at, said = plan.job.leaves[c.element], ("leaves", c.element), sayer(plan.job)
    more = [leaf.shuts.play + n * MARK[plan.job.job.units] for n in range(1, _STEPS)]
    latches: list[Proposal] = [(f"a latch that still catches {said(p)} off", {(*at, "shuts", "play"): p}) for p in more]
    yield from enough(plan, c, "size", latches)


def _lean(plan: Plan, c: Check) -> Iterator[Proposal]:
    yield from _hanging(plan, c)
    leaf, at, said = plan.job.leaves[c.element], ("leaves", c.element), sayer(plan.job)
    gap, (length, height) = leaf.shuts.gap, leaf.size
    if gap is None:
        return
    steps = [n * 2 * MARK[plan.job.job.units] for n in range(1, _STEPS)]
    shorter: list[Proposal] = [
        (
            f"make the leaf {said(by)} shorter, for a latch gap of {said(gap + by)}",
            {(*at, "shuts", "gap"): gap + by, (*at, "size"): (length - by, height)},
        )
        for by in steps
    ]
    yield from enough(plan, c, "size", shorter)


def _hanging(plan: Plan, c: Check) -> Iterator[Proposal]:
    """Hinges, post, pad and weight: what makes a hung leaf move less."""
    job, leaf = plan.job, plan.job.leaves[c.element]
    at, post = ("leaves", c.element), job.posts[leaf.hung.on]
    yield from enough(plan, c, "size", _hinges(plan, leaf, at))
    yield from enough(plan, c, "size", _posts(leaf.hung.on, post.section))
    name = post.on or ""
    pier = job.piers.get(name)
    if pier is not None and pier.pad is not None and is_cast(job, name, "pad"):
        yield stuck(f"the pad of {name}")
    elif pier is not None and pier.pad is not None:
        step, said = STEP[job.job.units], sayer(job)
        longer = [pier.pad.along + n * step for n in range(1, _STEPS)]
        pads: list[Proposal] = [
            (f"make the pad of {name} {said(size)} along the gate", {("piers", name, "pad", "along"): size})
            for size in longer
        ]
        yield from enough(plan, c, "size", pads)
    lighter: list[Proposal] = [
        (
            f"make the leaf no heavier than {show(leaf.weight * share, Force, job.job.units)}",
            {(*at, "weight"): leaf.weight * share},
        )
        for share in _LIGHTER
    ]
    yield from enough(plan, c, "size", lighter)


def _hinges(plan: Plan, leaf: Leaf, at: tuple[Any, ...]) -> Iterator[Proposal]:
    """Further apart, as far as leaf and post go."""
    if leaf.hung.heights is None:
        return
    low, high = leaf.hung.heights
    least, most = leaf.clear + _CLEAR_OF_END, leaf.clear + leaf.size[1] - _CLEAR_OF_END
    most = min(most, plan.job.posts[leaf.hung.on].height - _CLEAR_OF_END)
    said, step = sayer(plan.job), STEP[plan.job.job.units] / 2
    for n in range(1, _STEPS):
        heights = max(least, low - n * step), min(most, high + n * step)
        if heights[0] <= low and heights[1] >= high and heights != (low, high):
            told = f"hinges further apart: {said(heights[0])} and {said(heights[1])} above the concrete"
            yield told, {(*at, "hung", "heights"): heights}


def _posts(name: str, now: str) -> Iterator[Proposal]:
    """Stiffer posts of the same kind, thicker walls before wider ones."""
    old = tables.section(now)
    rows = [tables.section(name) for name in tables.section.names() if name[:3] == old.name[:3]]
    stiffer = [row for row in rows if row.inertia > old.inertia]
    for row in sorted(stiffer, key=lambda row: (row.depth != old.depth, row.inertia)):
        yield f"a stiffer post {name}: {row.name} instead of {now}", {("posts", name, "section"): row.name}


PROPOSE: dict[str, Propose] = {
    "opening_closes": _opening,
    "latch_gap": _opening,
    "leaf_misses": _opening,
    "droop": _droop,
    "latch_gap_closed": _lean,
}
