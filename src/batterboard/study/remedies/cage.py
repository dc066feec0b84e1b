"""Steel that is missing, too near a face or too near other steel: what can be done before the concrete comes."""

from collections.abc import Iterator
from dataclasses import replace

from batterboard.job.schema import FaceCover
from batterboard.plan import Plan
from batterboard.quantity import ft
from batterboard.standards import tables
from batterboard.study.remedies.proposing import (
    STEP,
    STONES,
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


def _ties(plan: Plan, c: Check) -> Iterator[Proposal]:
    bars = plan.job.piers[c.element].bars if c.element in plan.job.piers else None
    if bars and bars.missing and is_cast(plan.job, c.element):
        yield stuck(c.element)
    elif bars and bars.missing:
        text = f"put {listed(bars.missing)} of {c.element} in before it is cast"
        yield text, {("piers", c.element, "bars", "missing"): ()}


def _low_cover(plan: Plan, c: Check) -> Iterator[Proposal]:
    pier = plan.job.piers.get(c.element)
    if pier is None or pier.bars is None or not isinstance(pier.bars.cover, FaceCover):
        return
    if is_cast(plan.job, c.element):
        yield stuck(c.element)
        return
    faces = {f.face: f for f in plan.cage.covers if f.element == c.element and f.face != "all"}
    low = {face: f for face, f in faces.items() if f.found < f.needed - f.tolerance}
    if low:
        cover = replace(pier.bars.cover, **{face: float(f.needed) for face, f in low.items()})
        needed = sayer(plan.job)(max(float(f.needed) for f in low.values()))
        text = f"before it is cast, shift the cage or block it out: {needed} on the {listed(list(low))} face"
        yield text, {("piers", c.element, "bars", "cover"): cover}


def _tight(plan: Plan, c: Check) -> Iterator[Proposal]:
    """Bars that found concrete has brought near each other."""
    job, said = plan.job, sayer(plan.job)
    things = [thing for thing in (*job.piers, *job.beams, *job.pads) if thing in " ".join(c.key)]
    for name, beam in job.beams.items():
        if beam.shift and name in things and is_cast(job, name):
            yield stuck(name)
        elif beam.shift and name in things:
            yield f"set {name} back on its line before it is cast", {("beams", name, "shift"): None}
    if things and all(is_cast(job, thing) for thing in things):
        yield from map(stuck, things)
        return
    for name, mix in job.mixes.items():
        room = has(c) - (needs(c) - mix.stone)  # for the stone, beside what the bars themselves take
        smaller = next((stone for stone in STONES[job.job.units] if stone < mix.stone and stone <= room), 0)
        if smaller:
            text = f"order {name} with {said(smaller)} stone instead of {said(mix.stone)}, so that it passes"
            yield text, {("mixes", name, "stone"): smaller}


def _thicker_ties(plan: Plan, c: Check) -> Iterator[Proposal]:
    pier = plan.job.piers.get(c.element)
    bars = pier.bars if pier is not None else None
    if bars is None:
        return
    if is_cast(plan.job, c.element):
        yield stuck(c.element)
        return
    sizes = [bar for bar in tables.bar.names() if bar[:1] == bars.up.size[:1]]
    thicker: list[Proposal] = [
        (
            f"bend the ties of {c.element} from {size}",
            {("piers", c.element, "bars", "ties"): tuple(replace(run, size=size) for run in bars.ties)},
        )
        for size in sizes
    ]
    yield from enough(plan, c, "cage", thicker)


def _short_foot(plan: Plan, c: Check) -> Iterator[Proposal]:
    """The uprights' feet do not lie in the pad."""
    name = c.element
    pier = plan.job.piers.get(name)
    if pier is None or pier.pad is None or pier.bars is None:
        return
    if is_cast(plan.job, name, "pad"):
        yield stuck(f"the pad of {name}")
        return
    if pier.bars.hook == "out":
        yield f"turn the feet of the uprights of {name} in", {("piers", name, "bars", "hook"): "in"}
    more, said = 2 * up(needs(c) - has(c), STEP[plan.job.job.units] / 2), sayer(plan.job)
    along, across = pier.pad.along + more, pier.pad.across + more
    larger = replace(pier.pad, along=along, across=across)
    yield f"make the pad of {name} {said(along)} x {said(across)}", {("piers", name, "pad"): larger}


def _stock_bar(plan: Plan, c: Check) -> Iterator[Proposal]:
    longer = up(needs(c), {"us": ft, "si": 0.5}[plan.job.job.units])
    yield f"buy bars of {sayer(plan.job)(longer)}", {("stock", "bar"): longer}


PROPOSE: dict[str, Propose] = {
    "tie_gap": _ties,
    "ties_at_bolts": _ties,
    "cover": _low_cover,
    "tie_size": _thicker_ties,
    "foot_in_pad": _short_foot,
    "stock_bar": _stock_bar,
    "room_beside": _tight,
    "room_across": _tight,
}
