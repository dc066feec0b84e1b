"""What is cut and bent: the bar schedule, and the stock bars it comes from."""

from collections.abc import Callable, Sequence
from math import ceil

import numpy as np

from batterboard.methods import cutting
from batterboard.phases.cage.results import BarRow, SizeTotal, Stick
from batterboard.standards import aci318
from batterboard.work.records import Bar
from batterboard.working import nan, pi


def bar_row(bar: Bar) -> BarRow:
    d = bar.size.diameter
    pin, hook, extension = nan, nan, nan
    legs = sum(bar.legs)
    cut = legs
    if bar.shape in ("L", "both ends hooked"):
        pin, hook, extension = aci318.bend_diameter(d), pi / 2, 12 * d
        deduction = aci318.bend_deduction(d, pin / 2, hook)
        cut = aci318.cut_length(legs, len(bar.legs) - 1, deduction, 0, 0.0)
    elif bar.shape in ("closed tie", "hoop"):
        pin, hook, extension = aci318.tie_bend_diameter(d), 3 * pi / 4, aci318.tie_extension(d)
        if bar.shape == "hoop":
            cut = aci318.hoop_length(bar.legs[0], d, pin / 2, hook, extension)
        else:
            sides = len(bar.legs)
            deduction = aci318.bend_deduction(d, pin / 2, 2 * pi / sides)
            at_end = aci318.hook_allowance(d, pin / 2, hook, extension)
            cut = aci318.cut_length(legs, sides - 1, deduction, 2, at_end)
    return BarRow(
        mark=bar.mark,
        element=bar.element,
        role=bar.role,
        size=bar.size.name,
        count=bar.count,
        shape=bar.shape,
        legs=bar.legs,
        pin=pin,
        hook=hook,
        extension=extension,
        cut=cut,
        weight=bar.count * cut * bar.size.weight,
    )


Planner = Callable[[Sequence[cutting.Piece], float], tuple[cutting.Cut, ...]]


def searched(pieces: Sequence[cutting.Piece], stock: float) -> tuple[cutting.Cut, ...]:
    """The quick plan, and a search for a better one where there may be one."""
    quick = cutting.first_fit(pieces, stock)
    used = sum(cut.times for cut in quick)
    if used == cutting.least(pieces, stock):
        return quick
    from batterboard.methods.cutting import lengths, recount
    from batterboard.methods.cutting.plans import Stock

    plan = lengths.best(pieces, [Stock("bar", stock)])
    faults = recount.length_faults(plan, pieces, 0.0)
    if faults:
        raise AssertionError("; ".join(faults))  # never print a plan that the recount refuses
    if plan.cost >= used:
        return quick
    return tuple(cutting.Cut(stick.times, stick.pieces, stick.left) for stick in plan.sticks)


def from_stock(
    rows: tuple[BarRow, ...], stock: float, plan: Planner = cutting.first_fit
) -> tuple[tuple[SizeTotal, ...], tuple[Stick, ...]]:
    """Totals and cut plan of each size. A batch is planned for the longest of its variants."""
    totals, sticks = [], []
    real = [row for row in rows if row.count and np.max(row.cut) > cutting.SLACK]  # covers may leave nothing of a bar
    for size in dict.fromkeys(row.size for row in real):
        of_size = [row for row in real if row.size == size]
        pieces = [cutting.Piece(row.mark, float(np.max(row.cut)), row.count) for row in of_size]
        cuts = plan(pieces, stock)
        lapped = sum(p.count * ceil(p.length / stock) for p in pieces if p.length > stock + cutting.SLACK)
        longest = max(of_size, key=lambda row: float(np.max(row.cut)))
        totals.append(
            SizeTotal(
                size=size,
                count=sum(row.count for row in of_size),
                length=sum(row.count * row.cut for row in of_size),
                weight=sum(row.weight for row in of_size),
                longest=longest.cut,
                longest_in=longest.element,
                stock_length=stock,
                stock=sum(cut.times for cut in cuts) + lapped,
                least=cutting.least(pieces, stock) + lapped,
            )
        )
        sticks += [
            Stick(
                size=size,
                times=cut.times,
                pieces=tuple((p.name, p.length) for p in cut.pieces for _ in range(p.count)),
                left=cut.left,
            )
            for cut in cuts
        ]
    return tuple(totals), tuple(sticks)
