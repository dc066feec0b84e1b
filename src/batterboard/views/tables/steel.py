"""Tables of the steel: bars, stock bars, cover, tight places, posts and hinges."""

from itertools import groupby
from math import degrees
from typing import TYPE_CHECKING

from batterboard.phases.cage.results import BarRow, Stick, StockTotal
from batterboard.quantity import Force, Length, System, show
from batterboard.views.tables.model import Column, Table, alone, known, sizes, table
from batterboard.views.tables.place import FINE, WEIGHT
from batterboard.views.tables.sheets import STOPPED

if TYPE_CHECKING:
    from batterboard.plan import Plan


# ---- cage ----


def bars(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = (
        (
            b.mark,
            f"{b.element}, {b.role}",
            b.count,
            b.size,
            _shape(b),
            _legs(b, system),
            known(b.pin, "straight"),
            b.cut,
            b.weight,
        )
        for b in plan.cage.bars
    )
    columns = (
        Column("mark"),
        Column("where"),
        Column("of each"),
        Column("size"),
        Column("shape"),
        Column("legs, out to out"),
        Column("pin", Length),
        Column("cut", Length, tape=True),
        Column("weight of each mark", Force, WEIGHT),
    )
    return table(
        "bars", "Bar schedule", columns, rows, found=("TIED",), about=2,
        note=f"All bars {show(alone(plan.cage.weight), Force, system)}. Cut lengths run along the centre line.",
    )  # fmt: skip


def _shape(b: BarRow) -> str:
    hook = known(b.hook, "")
    return b.shape if hook == "" else f"{b.shape}, {degrees(hook):.0f}°"


def _legs(b: BarRow, system: System) -> str:
    texts = [show(alone(leg), Length, system) for leg in b.legs]
    return " x ".join(texts[:2]) if b.shape == "closed tie" else " + ".join(texts)


def bar_totals(plan: "Plan") -> Table:
    rows = ((t.of.size, t.of.count, t.of.length, t.of.weight, t.stock, t.of.stock_length) for t in plan.bars.totals)
    columns = (
        Column("size"),
        Column("pieces"),
        Column("together", Length, ("0.1 ft", "0.01 m")),
        Column("weight", Force, WEIGHT),
        Column("stock bars"),
        Column("each", Length),
    )
    return table("bar-totals", "Bars to buy", columns, rows, note=" ".join(map(_least, plan.bars.totals)))


def _least(total: StockTotal) -> str:
    proof = "no plan uses fewer" if total.stock <= total.least else f"at least {total.least} are needed"
    return f"{total.of.size}: {total.stock} stock bars; {proof}{STOPPED * total.stopped}."


def bar_cuts(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = ((s.size, s.times, _pieces(s, system), s.left) for s in plan.bars.sticks)
    columns = (Column("size"), Column("stock bars"), Column("cut from each, in this order"), Column("left", Length))
    return table("bar-cut-plan", "How to cut the stock bars", columns, rows, found=("CUT",))


def _pieces(stick: Stick, system: System) -> str:
    alike = ((len(list(equal)), mark, length) for (mark, length), equal in groupby(stick.pieces))
    return ", ".join(f"{count} {mark} {show(alone(length), Length, system)}" for count, mark, length in alike)


def covers(plan: "Plan") -> Table:
    system = plan.job.job.units
    ones = plan.cage.covers
    rows = ((c.name, c.face, c.against, c.size, c.planned, c.needed, c.tolerance) for c in ones)
    columns = (
        Column("body"),
        Column("face"),
        Column("cast against"),
        Column("outermost bar"),
        Column("planned", Length),
        Column("least", Length),
        Column("may be less by", Length),
    )
    hand = tuple((show(alone(c.found), Length, system) if known(c.found, "") != "" else "",) for c in ones)
    return table("cover", "Cover, to measure before the pour", columns, rows, found=("FOUND",), hand=hand)


def tight_places(plan: "Plan") -> Table:
    rows = (
        (c.name, f"{c.one} and {c.other}", "side by side" if c.beside else "crossing", c.least, c.needed)
        for c in plan.cage.clears
    )
    columns = (
        Column("what"),
        Column("the tightest pair"),
        Column("lie"),
        Column("clear between", Length, FINE),
        Column("needed", Length, FINE),
    )
    return table(
        "tight-places", "Tight places", columns, rows,
        note="Side by side the largest stone must pass; where they cross they may touch.",
    )  # fmt: skip


# ---- steel ----


def posts(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = (
        (
            p.name,
            p.section,
            p.on,
            p.length,
            p.weight,
            "cast in" if p.plate_along is None else sizes(p.plate_along, p.plate_across, p.plate_thick, system=system),
            "the file does not say" if p.weld is None else p.weld,
        )
        for p in plan.steel.posts
    )
    columns = (
        Column("post"),
        Column("section"),
        Column("on"),
        Column("cut", Length, tape=True),
        Column("weight", Force, WEIGHT),
        Column("plate"),
        Column("weld leg", Length),
    )
    return table("posts", "Posts to cut", columns, rows, found=("CUT",))


def hangs(plan: "Plan") -> Table:
    rows = (
        (h.name, h.hinge_post, h.low, h.high, h.hinge_gap, h.left_low, h.left_high, h.hinge_force)
        for h in plan.steel.hangs
    )
    columns = (
        Column("leaf"),
        Column("hung on"),
        Column("lower hinge", Length, tape=True),
        Column("upper hinge", Length, tape=True),
        Column("hinge gap", Length),
        Column("latch gap, low", Length),
        Column("latch gap, high", Length),
        Column("hinge force", Force, WEIGHT),
    )
    return table(
        "hinges", "Hinges and latch", columns, rows, found=("FOUND LOW", "FOUND HIGH"),
        note="Hinges above the top of the plate. The force is the pull at the upper, the push at the lower hinge.",
    )  # fmt: skip
