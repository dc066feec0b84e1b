"""Which stock bars do the bars come from? A search where the quick plan may not be the best; no check asks it."""

from collections.abc import Sequence
from math import ceil

import numpy as np

from batterboard.methods import cutting
from batterboard.methods.cutting import lengths, recount
from batterboard.methods.cutting.plans import Stock
from batterboard.phases.cage.bending import real
from batterboard.phases.cage.results import Cage, SizeTotal, Stick, StockBars, StockTotal
from batterboard.work.names import pooled


def from_fewest(cage: Cage) -> StockBars:
    """The bars of a cage out of the fewest stock bars that a search finds."""
    made = [_size(cage, total) for total in cage.totals]
    return StockBars(
        totals=tuple(total for total, _ in made),
        sticks=tuple(stick for _, sticks in made for stick in sticks),
    )


def _size(cage: Cage, total: SizeTotal) -> tuple[StockTotal, list[Stick]]:
    """A batch is planned for the longest of its variants."""
    stock = total.stock_length
    wanted = pooled((row.mark, round(float(np.max(row.cut)), 9), row.count) for row in real(cage.bars, total.size))
    pieces = [cutting.Piece(pool.name, pool.like, pool.many) for pool in wanted]
    cuts, least, stopped = _searched(pieces, stock, total.size)
    lapped = sum(p.count * ceil(p.length / stock) for p in pieces if p.length > stock + cutting.SLACK)
    sticks = [
        Stick(
            size=total.size,
            times=cut.times,
            pieces=tuple((p.name, p.length) for p in cut.pieces for _ in range(p.count)),
            left=cut.left,
        )
        for cut in cuts
    ]
    bought = sum(cut.times for cut in cuts) + lapped
    return StockTotal(of=total, stock=bought, least=least + lapped, stopped=stopped), sticks


def _searched(pieces: Sequence[cutting.Piece], stock: float, size: str) -> tuple[tuple[cutting.Cut, ...], int, bool]:
    """The quick plan, or a better one where a search finds it; what none can beat; whether it was stopped by hand."""
    quick = cutting.first_fit(pieces, stock)
    used = sum(cut.times for cut in quick)
    least = cutting.least(pieces, stock)
    if used == least:
        return quick, least, False
    bars = [Stock("bar", stock)]
    plan = lengths.best(pieces, bars, name=size)
    faults = recount.length_faults(plan, pieces, bars, 0.0)
    if faults:
        raise AssertionError("; ".join(faults))  # never print a plan that the recount refuses
    cuts = tuple(cutting.Cut(stick.times, stick.pieces, stick.left) for stick in plan.sticks)
    return quick if plan.cost >= used else cuts, max(least, round(plan.bound)), plan.stopped
