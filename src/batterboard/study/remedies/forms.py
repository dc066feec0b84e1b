"""A form that will not hold: filled slower, heavier yokes, a band round it, larger sheets.

All of it is still wood on the day before: nothing here is cast. Each is the least of its kind that is enough.
"""

from collections.abc import Iterator
from dataclasses import replace

from batterboard.plan import Plan
from batterboard.quantity import Force, RateOfRise, ft, hour, lb, show
from batterboard.study.remedies.proposing import Proposal, Propose, enough, is_cast, needs, sayer, stuck
from batterboard.working import Check

_RATES = {  # of rise, as he can keep them by the clock, the fastest first
    "us": tuple(n * ft / hour for n in (10, 8, 6, 5, 4, 3, 2, 1)),
    "si": tuple(n / hour for n in (3.0, 2.5, 2.0, 1.5, 1.0, 0.75, 0.5, 0.3)),
}
_YOKES = ("2x4", "2x6", "4x4")
_BANDS = tuple(n * lb for n in (500, 1000, 1500, 2000, 3000, 4000, 5000, 6000))  # as straps are rated


def _pressed(plan: Plan, c: Check) -> Iterator[Proposal]:
    if is_cast(plan.job, c.element):
        yield stuck(c.element)
        return
    yield from _slower(plan, c)
    yield from _heavier(plan, c)


def _nailed(plan: Plan, c: Check) -> Iterator[Proposal]:
    if is_cast(plan.job, c.element):
        yield stuck(c.element)
        return
    yield from enough(plan, c, "forms", _banded(plan))
    yield from _slower(plan, c)
    yield from _heavier(plan, c)


def _walled(plan: Plan, c: Check) -> Iterator[Proposal]:
    """Studs, wales and ties, where a form is too wide or too high for yokes."""
    if is_cast(plan.job, c.element):
        yield stuck(c.element)
        return
    yield from _slower(plan, c)
    yield from _braced(plan, c)


def _braced(plan: Plan, c: Check) -> Iterator[Proposal]:
    now = plan.job.stock.brace
    heavier: list[Proposal] = [
        (f"studs, wales and braces of {lumber} instead of {now}", {("stock", "brace"): lumber})
        for lumber in _YOKES[_YOKES.index(now) + 1 :]
    ]
    yield from enough(plan, c, "forms", heavier)


def _slower(plan: Plan, c: Check) -> Iterator[Proposal]:
    now, system = plan.job.pour.rate, plan.job.job.units
    slower: list[Proposal] = [
        (f"fill the forms no faster than {show(rate, RateOfRise, system)}", {("pour", "rate"): rate})
        for rate in _RATES[system]
        if now is None or rate < now
    ]
    yield from enough(plan, c, "forms", slower)


def _heavier(plan: Plan, c: Check) -> Iterator[Proposal]:
    now = plan.job.stock.yoke
    heavier: list[Proposal] = [
        (f"yokes of {lumber} instead of {now}", {("stock", "yoke"): lumber})
        for lumber in _YOKES[_YOKES.index(now) + 1 :]
    ]
    yield from enough(plan, c, "forms", heavier)


def _banded(plan: Plan) -> Iterator[Proposal]:
    for load in _BANDS:
        if plan.job.stock.strap is None or load > plan.job.stock.strap:
            told = show(load, Force, plan.job.job.units)
            yield f"steel bands round every yoke, rated for {told}", {("stock", "strap"): load}


def _sheet(plan: Plan, c: Check) -> Iterator[Proposal]:
    """Longer sheets than are on hand, by the foot."""
    sheets, said = plan.job.stock.sheets, sayer(plan.job)
    if sheets:
        long, wide = sheets[0].size
        longer = [long + n * ft for n in range(1, 7) if long + n * ft >= needs(c)]
        larger: list[Proposal] = [
            (
                f"sheets of {said(size)} x {said(wide)}",
                {("stock", "sheets"): (*sheets, replace(sheets[0], size=(size, wide), have=None))},
            )
            for size in longer
        ]
        yield from enough(plan, c, "forms", larger)


def _resting(plan: Plan, c: Check) -> Iterator[Proposal]:
    """A pad too soft for the form on it until its own concrete is too stiff to be joined."""
    job, foot = plan.job, next(foot for foot in plan.forms.feet if foot.name == c.element)
    pier, pad = foot.name in job.piers, f"{foot.name} pad"
    if 0 < foot.pad_lift <= len(job.pour.lifts):
        text = f"close {foot.pad} with boards round {foot.name}, held down, and do not wait"
        if foot.pad == pad:
            text = f"close the pad of {foot.name} with boards round the pier, held down, and do not wait"
        yield text, {("pour", "lifts", foot.pad_lift - 1, "covered"): True}
    if pier:
        stepped = "" if foot.pad == pad else "stepped "
        text = f"cast the {stepped}pad of {foot.name} by itself, and the pier once it is hard: a rough, clean joint"
        yield text, {("done",): (*job.done, pad)}


PROPOSE: dict[str, Propose] = {
    "sheathing": _pressed,
    "yoke_bending": _pressed,
    "yoke_shear": _pressed,
    "corner_nails": _nailed,
    "strap": _nailed,
    "studs": _walled,
    "wales": _walled,
    "ties": _walled,
    "stud_bearing": _walled,
    "tube": _walled,
    "brace": _braced,
    "one_sheet": _sheet,
    "waiting": _resting,
    "at_once": _resting,
}
