"""What is said while the long searches run, and when somebody stopped them.

    packing 3/4 in plywood: gap 8.3 %                             one line, written over again: on a terminal only
    stopped by hand: 3/4 in plywood 12 sheets; bound 11, gap 1    for each search whose answer is not proved

Bars, panels and sticks are packed before anything is drawn, so that one Ctrl-C ends all of these searches and the rest
goes on with the best so far. Before and after, Ctrl-C stops the command, and nothing is written.
"""

import sys
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from batterboard.methods.cutting.watch import Found, by_hand
from batterboard.quantity import Length, show

if TYPE_CHECKING:
    from batterboard.phases.forms.lumber import StickTotal
    from batterboard.plan import Plan

ALL = ("bars", "sheets", "lumber")
WIDE = 78  # of the line: what is longer would not be written over


def packed(plan: "Plan", searches: Sequence[str] = ALL, quiet: bool = False) -> None:
    """Answer these of the plan's searches now, telling how far they are."""
    shown = not quiet and sys.stderr is not None and sys.stderr.isatty()
    with by_hand(_line if shown else None) as watch:
        try:
            for search in searches:
                getattr(plan, search)
        finally:
            if shown:
                _written("")
    if watch.stopped:
        said = [line for search in searches for line in _UNPROVED[search](plan)]
        print("\n".join(said) or "stopped by hand; every answer was proved by then", file=sys.stderr)


def _line(found: Found) -> None:
    _written(f"packing {found.name}: " + (f"gap {100 * found.gap:.1f} %" if found.gap else "proved"))


def _written(text: str) -> None:
    sys.stderr.write(f"\r{text[:WIDE]:<{WIDE}}\r")
    sys.stderr.flush()


def _bars(plan: "Plan") -> Iterator[str]:
    for total in plan.bars.totals:
        if total.stopped:
            yield _told(f"{total.of.size}, {total.stock} stock bars", f"{total.least}", f"{total.stock - total.least}")


def _sheets(plan: "Plan") -> Iterator[str]:
    for total in plan.sheets.totals:
        if total.stopped:
            yield _told(f"{total.of}, {total.bought} sheets", f"{total.least}", f"{total.bought - total.least}")


def _lumber(plan: "Plan") -> Iterator[str]:
    for total in plan.lumber.totals:
        if total.stopped:
            cost, least, gap = (
                _paid(total, value, plan) for value in (total.cost, total.least, total.cost - total.least)
            )
            yield _told(f"{total.of}, {cost}", least, gap)


def _paid(total: "StickTotal", value: float, plan: "Plan") -> str:
    return f"{value:.2f}" if total.priced else show(value, Length, plan.job.job.units)


def _told(what: str, bound: str, gap: str) -> str:
    return f"stopped by hand: {what}; bound {bound}, gap {gap}"


_UNPROVED = {"bars": _bars, "sheets": _sheets, "lumber": _lumber}
