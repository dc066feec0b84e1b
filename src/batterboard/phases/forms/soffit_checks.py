"""Do the soffit of a beam, the shores under it and what keeps them upright hold?

Asked of beams that stand clear of the ground, by `soffit`. Each check names the beam.
"""

from collections.abc import Iterator
from typing import Any

from batterboard.phases.forms.bracing import HOLD, site_moment
from batterboard.phases.forms.results import Shores
from batterboard.phases.forms.sheathing import DRY, SHARE, WET, carried
from batterboard.phases.forms.yokes import MOST_NAILS
from batterboard.quantity import Force, Length, Pressure
from batterboard.standards import aci347, apa, bracing, ibc, nds, shoring
from batterboard.working import Check, capacity, check, demand, maximum, minimum

GROUND = "ground as it grew, by its class or as entered; none on fill"


def checks_of(shores: Shores) -> Iterator[Check]:
    yield from (soffit(shores), cross_bending(shores), cross_shear(shores), cross_sag(shores))
    yield from (shore(shores), shore_bearing(shores), ground(shores), sole(shores))
    yield from (upright(shores), brace(shores), brace_stakes(shores))
    if shores.nail == shores.nail:
        yield from (tie_nails(shores), foot_nails(shores), diagonal_nails(shores))


@check("Soffit between its cross-pieces", clause=aci347.VERTICAL, of=Pressure)
def soffit(shores: Shores) -> tuple[Any, ...]:
    of = shores.soffit
    p = aci347.deck_load(shores.weight, shores.height, shores.own)
    p_panel = carried(of.panel, of.stress, of.across, of.spacing, of.clear, of.spans)
    spans = f"{of.spans} span{'s' if of.spans > 1 else ''}"
    return demand(p), capacity(p_panel), f"{of.name}, face grain along the beam, {spans}; {apa.SPANS}"


@check("Cross-piece under the soffit in bending", clause=nds.ADJUSTED, of=Pressure)
def cross_bending(shores: Shores) -> tuple[Any, ...]:
    q = shoring.cross_load(shores.load, shores.spacing)
    f_b = nds.bending_stress(nds.yoke_moment(q, shores.span), shores.size.modulus)
    F_b = nds.bending_strength(shores.grade.F_b, shores.size.C_F, nds.FORM_DURATION, DRY)
    return demand(f_b), capacity(F_b), _lumber(shores)


@check("Cross-piece under the soffit in shear", clause=nds.ADJUSTED, of=Pressure)
def cross_shear(shores: Shores) -> tuple[Any, ...]:
    q = shoring.cross_load(shores.load, shores.spacing)
    f_v = nds.shear_stress(nds.yoke_reaction(q, shores.span), shores.size.area)
    return demand(f_v), capacity(nds.shear_strength(shores.grade.F_v, nds.FORM_DURATION, DRY)), _lumber(shores)


@check("Cross-piece's own sag", clause=nds.ADJUSTED, of=Length)
def cross_sag(shores: Shores) -> tuple[Any, ...]:
    q = shoring.cross_load(shores.load, shores.spacing)
    d = nds.yoke_sag(q, shores.span, nds.stiffness(shores.grade.E, DRY), shores.size.inertia)
    return demand(d), capacity(nds.allowed_sag(shores.span, SHARE)), "between its shores"


@check("Shore along its grain", clause=nds.COLUMN, of=Pressure)
def shore(shores: Shores) -> tuple[Any, ...]:
    P = shoring.shore_load(shores.load, shores.width, shores.spacing) + bracing.shared(shores.push, shores.a_side)
    f_c = nds.strut_stress(P, shores.size.area)
    l_e = shores.longest / (shores.middles + 1)
    F_c = nds.column_strength(shores.grade.F_c, shores.grade.E_min, nds.FORM_DURATION, l_e, shores.size.wide)
    return demand(f_c), capacity(F_c), f"{_lumber(shores)}, with what a pulled brace adds"


@check("Shore's head on its cross-piece", clause=nds.ADJUSTED, of=Pressure)
def shore_bearing(shores: Shores) -> tuple[Any, ...]:
    f = nds.bearing_stress(shores.shore, shores.size.wide, shores.size.deep, 1.0)
    return demand(f), capacity(nds.bearing_strength(shores.grade.F_c_perp, DRY)), "dry: no duration"


@check("Ground under the sole plates", clause=ibc.IBC_2021.table("1806.2"), of=Pressure)
def ground(shores: Shores) -> tuple[Any, ...]:
    q = shoring.sole_pressure(shores.shore, shores.sole.deep, shores.sole_long)
    return demand(q), capacity(shores.bearing), GROUND


@check("Sole plate in bending", clause=nds.ADJUSTED, of=Pressure)
def sole(shores: Shores) -> tuple[Any, ...]:
    b, t = shores.sole.deep, shores.sole.wide
    q = shoring.sole_pressure(shores.shore, b, shores.sole_long)
    f_b = nds.bending_stress(shoring.sole_moment(q, b, shores.sole_long, shores.size.deep), b * t**2 / 6)
    F_b = nds.bending_strength(shores.grade.F_b, 1.0, nds.FORM_DURATION, WET)
    return demand(f_b), capacity(F_b), f"{shores.sole.name} lying flat, wet"


# ---- sides, and what keeps it upright ----


@check("Uprights of the sides in bending", clause=nds.ADJUSTED, of=Pressure)
def upright(shores: Shores) -> tuple[Any, ...]:
    F_b = nds.bending_strength(shores.grade.F_b, shores.upright.C_F, nds.FORM_DURATION, DRY)
    return demand(nds.bending_stress(shores.moment, shores.upright.modulus)), capacity(F_b), _upright(shores)


@check("Nails of a tie across the tops", clause=nds.LATERAL, of=Force)
def tie_nails(shores: Shores) -> tuple[Any, ...]:
    return demand(shores.tie), capacity(_nails(shores, shores.tie_nails)), "16d common nails, at each end"


@check("Nails of the ribbon at the sides' feet", clause=nds.LATERAL, of=Force)
def foot_nails(shores: Shores) -> tuple[Any, ...]:
    return demand(shores.foot), capacity(_nails(shores, shores.foot_nails)), "16d common nails, on each cross-piece"


@check("Brace of the shores along its grain", clause=aci347.HORIZONTAL, of=Pressure)
def brace(shores: Shores) -> tuple[Any, ...]:
    F = _push(shores)
    P = bracing.strut_force(bracing.shared(F, shores.a_side), shores.up, shores.up)
    l_e = shores.brace / (shores.brace_middles + 1)
    grade = shores.grade
    F_c = nds.column_strength(grade.F_c, grade.E_min, nds.FORM_DURATION, l_e, shores.upright.wide)
    note = f"{shores.upright.name} {grade.name} at 45 degrees; {shores.governs} rules"
    return demand(nds.strut_stress(P, shores.upright.area)), capacity(F_c), note


@check("Stakes at the foot of the shores' brace", clause=bracing.LATERAL, of=Force)
def brace_stakes(shores: Shores) -> tuple[Any, ...]:
    F_each = bracing.shared(shores.push, shores.a_side)
    return demand(F_each), capacity(bracing.stakes_hold(shores.stakes, shores.stake)), HOLD


@check("Nails of the diagonals along the shores", clause=nds.LATERAL, of=Force)
def diagonal_nails(shores: Shores) -> tuple[Any, ...]:
    return demand(shores.diagonal_force), capacity(_nails(shores, shores.diagonal_nails)), "16d common nails, each end"


def _push(shores: Shores) -> Any:
    """Level, square to the beam, as `soffit` reckons it: the steps for the page."""
    long = shores.end - shores.start
    W = shoring.dead_load(shores.weight, shores.height, shores.own, shores.width, long)
    F_least = aci347.floor_line_force(W, long)
    face = bracing.WIND, long, shores.height
    M_wind = bracing.wind_moment(*face) + bracing.wind_force(*face) * shores.above
    F_wind = bracing.push_at(M_wind, shores.up)
    if shores.governs != "site wind":
        return maximum(F_least, F_wind)
    F_site = bracing.push_at(site_moment(long, shores.height, shores.at, shores.above), shores.up)
    return maximum(maximum(F_least, F_wind), F_site)


def _nails(shores: Shores, count: Any) -> Any:
    return nds.nails_strength(shores.nail, nds.FORM_DURATION, minimum(count, MOST_NAILS))


def _lumber(shores: Shores) -> str:
    return f"{shores.size.name} {shores.grade.name}, dry"


def _upright(shores: Shores) -> str:
    return f"{shores.upright.name} {shores.grade.name} on edge, dry"
