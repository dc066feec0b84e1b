"""Does all that steel, pipe and bolt fit in one box, with cover, and what is cut and bent from what?

    row    : BarRow("W1", "west", "up", "#5", count=8, shape="L", legs=(0.25, 1.35), pin=0.095, cut=1.56, ...)
    total  : SizeTotal("#5", count=26, length=38.1, weight=580.0, longest=1.56)
    stick  : Stick("#5", times=3, pieces=(("W1", 1.56), ...), left=0.08)       what one stock bar yields: `stock`
    cover  : Cover("west pad", face="all", planned=0.0762, needed=0.0762, ...)  of one body, and each face looked at
    near   : Near("letters and W2 tie", other="W2 tie 3", least=0.012, ...)     what comes nearest to a blockout
    clear  : Clear("west bars and hinge bolts", least=0.031, needed=0.0, ...)  the tightest pair of two kinds

Where bars, bolts and pipes are is decided in `work`; here they are measured against each other. Cut lengths run along
the centre line. Bars are sheared, so no saw kerf is lost. What the bars carry is not asked here.
"""

from collections.abc import Mapping

from batterboard.job.schema import Mix, Stock
from batterboard.phases.cage.bending import bar_row, totals
from batterboard.phases.cage.checks import checks_of
from batterboard.phases.cage.fitting import bolts_by_base, tight_places
from batterboard.phases.cage.measuring import Element, covers_of, feet_of, gaps_of, ties_of
from batterboard.phases.cage.results import BarRow, Cage, Clear, Cover, Foot, Gap, Near, SizeTotal, StockBars, TieRun
from batterboard.work.records import Work
from batterboard.working import Check

__all__ = ["BarRow", "Cage", "Clear", "Cover", "Foot", "Gap", "Near", "SizeTotal", "StockBars", "TieRun", "schedule"]


def schedule(work: Work, mixes: Mapping[str, Mix], stock: Stock) -> Cage:
    """All bars of the job: what to cut and bend, what to buy, and whether it fits."""
    elements: dict[str, Element] = {**work.piers, **work.slabs, **work.beams}
    rows = tuple(bar_row(bar) for element in elements.values() for bar in element.bars)
    by_size = tuple(totals(rows, stock.bar))
    covers = tuple(cover for element in elements.values() for cover in covers_of(element))
    gaps = tuple(gap for element in elements.values() for gap in gaps_of(element, mixes))
    bolts = bolts_by_base(work)
    ties = tuple(run for pier in work.piers.values() for run in ties_of(pier, bool(bolts.get(pier.name))))
    feet = tuple(foot for pier in work.piers.values() for foot in feet_of(pier))
    clears = tuple(tight_places(work, elements, bolts, mixes))
    nears: tuple[Near, ...] = ()
    behind: tuple[Check, ...] = ()
    if any(body.blockouts for body in work.bodies):
        from batterboard.phases.cage.blockouts import clear_of_blockouts, near_blockouts

        nears = tuple(near_blockouts(work, elements, bolts))
        behind = tuple(clear_of_blockouts(elements, nears))
    return Cage(
        bars=rows,
        totals=by_size,
        covers=covers,
        gaps=gaps,
        ties=ties,
        clears=clears,
        feet=feet,
        nears=nears,
        weight=sum(row.weight for row in rows),
        checks=(*checks_of(elements, by_size, covers, gaps, ties, clears, feet), *behind),
    )
