"""What is cut and bent: the bar schedule."""

from collections.abc import Iterator

import numpy as np

from batterboard.phases.cage.results import BarRow, SizeTotal
from batterboard.standards import aci318
from batterboard.work.records import Bar
from batterboard.working import nan, pi

_NOTHING = 1e-7  # [m]


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


def totals(rows: tuple[BarRow, ...], stock: float) -> Iterator[SizeTotal]:
    for size in dict.fromkeys(row.size for row in rows):
        of_size = real(rows, size)
        if not of_size:
            continue
        longest = max(of_size, key=lambda row: float(np.max(row.cut)))
        yield SizeTotal(
            size=size,
            count=sum(row.count for row in of_size),
            length=sum(row.count * row.cut for row in of_size),
            weight=sum(row.weight for row in of_size),
            longest=longest.cut,
            longest_in=longest.element,
            stock_length=stock,
        )


def real(rows: tuple[BarRow, ...], size: str) -> list[BarRow]:
    """Those of a size that are there: covers may leave nothing of a bar."""
    return [row for row in rows if row.size == size and row.count and np.max(row.cut) > _NOTHING]
