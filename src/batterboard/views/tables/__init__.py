"""What stands in tables, once: the book prints it, the lists carry it.

    of(plan, "setout") : the tables of a phase, in the order he needs them; empty ones are left out
    place, setting, steel, concrete, days : one room for a few phases each
    model : Table, Column, and how a cell becomes text or a number of a file

No layout here, and no arithmetic: what is summed or compared was so in the phase.
"""

from collections.abc import Callable
from typing import TYPE_CHECKING

from batterboard.views.tables import (
    blockouts,
    concrete,
    curing,
    days,
    holding,
    order,
    place,
    pouring,
    setting,
    sheets,
    shoring,
    splices,
    steel,
    strings,
)
from batterboard.views.tables.model import Column, Table, plain, printed

if TYPE_CHECKING:
    from batterboard.plan import Plan

__all__ = ["Column", "Table", "of", "plain", "printed"]

_OF: dict[str, tuple[Callable[["Plan"], Table], ...]] = {
    "size": (place.loads, place.wind, place.movement),
    "setout": (
        *(strings.lines, setting.order, setting.boards, place.stakes, place.rods, place.diagonals),
        *(setting.taken, setting.suspects, setting.moves, setting.warnings),
        *(setting.links, setting.latching, setting.plates, setting.ellipses, setting.instruments),
    ),
    "dig": (place.holes,),
    "template": (
        place.patterns,
        place.drilling,
        place.template_diagonals,
        place.proofs,
        place.budget,
        place.bolts_found,
    ),
    "cage": (steel.bars, steel.bar_totals, steel.bar_cuts, steel.covers, steel.tight_places, blockouts.behind),
    "forms": (
        *(concrete.boxes, concrete.panels, splices.joints, splices.plates, concrete.strips, concrete.yokes),
        *(holding.envelopes, holding.opinions),
        *(holding.carrying, holding.walls, holding.edges, shoring.shores, shoring.cuts),
        *(holding.collars, holding.braces, holding.uplifts, holding.floating),
        *(holding.feet, blockouts.places, blockouts.holding, blockouts.boards),
        *(sheets.layouts, sheets.cuts, sheets.members, sheets.joined, sheets.sticks, sheets.strip_ends),
    ),
    "concrete": (
        *(concrete.mixes, concrete.water, order.water_costs, order.doses, order.loads),
        *(order.proportions, order.batches),
    ),
    "ordering": (
        *(concrete.tickets, order.choices, order.sums, concrete.pieces, order.bills, order.bags),
        *(order.classes, order.testing, concrete.load_log),
    ),
    "pour": (
        *(pouring.timeline, pouring.placings, pouring.holds, pouring.loads, pouring.wettings, pouring.rises),
        *(pouring.vibrating, pouring.bolts_after, pouring.weather, pouring.fresh),
    ),
    "cure": (curing.kept, curing.waits, curing.opinions, curing.heat, curing.inputs, curing.welds),
    "steel": (steel.posts, steel.hangs),
    "schedule": (days.days,),
}


def of(plan: "Plan", phase: str) -> tuple[Table, ...]:
    """The tables of one phase that have something in them."""
    made = tuple(make(plan) for make in _OF[phase])
    if phase == "concrete":
        made += concrete.gains(plan)
    return tuple(table for table in made if table.rows and len(table.columns) > 1)
