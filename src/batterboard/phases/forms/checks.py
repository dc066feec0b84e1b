"""Does the box hold, and do its panels come out of the sheets?"""

from collections.abc import Iterator
from functools import reduce
from typing import Any

import numpy as np

from batterboard.phases.forms.bracing import HOLD, site_moment
from batterboard.phases.forms.pressure import formula_and_peak
from batterboard.phases.forms.results import Box, Yoke
from batterboard.phases.forms.sheathing import DRY, SHARE, WET, carried
from batterboard.quantity import Force, Length, Pressure
from batterboard.standards import aci347, apa, bracing, buoyancy, nds
from batterboard.working import PRACTICE, STATICS, Check, capacity, check, demand


def checks_of(box: Box) -> Iterator[Check]:
    if box.panels:
        yield one_sheet(box)
    if box.sheathing is not None:
        yield sheathing(box)
    if box.frame is not None:
        hardest = max(box.yokes, key=lambda yoke: float(np.max(yoke.load)))
        yield yoke_bending(box, hardest)
        yield yoke_shear(box, hardest)
        yield yoke_sag(box, hardest)
        if box.frame.strap == box.frame.strap:
            yield strap(box, hardest)
        elif box.frame.sides == 4:
            yield corner_nails(box, hardest)
    if box.wall is not None:
        yield from (studs(box), stud_ends(box), wales(box), ties(box), stud_bearing(box), tie_bearing(box))
    if box.edge is not None:
        yield from (edge_stake(box), edge_hold(box))
    if box.shores is not None:
        from batterboard.phases.forms import soffit_checks

        yield from soffit_checks.checks_of(box.shores)
    if box.tube_head == box.tube_head:
        yield tube(box)
    if box.brace is not None:
        yield from (brace(box), brace_stakes(box))
    if box.collar is not None:
        from batterboard.phases.forms import collars

        yield from collars.checks_of(box)
    if np.any(box.uplift.lift > 0):
        yield uplift(box)


@check("Panel out of one sheet", clause=PRACTICE, of=Length)
def one_sheet(box: Box) -> tuple[Any, ...]:
    parts = [part for panel in box.panels for part in (panel.parts if panel.joints else (panel,))]
    sides = [(part.height, part.width) for part in parts]
    long = reduce(np.maximum, (np.maximum(h, w) for h, w in sides))
    short = reduce(np.maximum, (np.minimum(h, w) for h, w in sides))
    sheet_short, sheet_long = sorted(box.sheet_size)
    narrow = short / sheet_short > long / sheet_long
    panel, sheet = np.where(narrow, short, long)[()], np.where(narrow, sheet_short, sheet_long)[()]
    panel, sheet = np.round(panel, 9), np.round(sheet, 9)
    plain = np.all(panel <= sheet) and not any(kind.joints for kind in box.panels)
    return demand(panel), capacity(sheet), box.sheet if plain else ", ".join((box.sheet, *_cut_up(box)))


def _cut_up(box: Box) -> Iterator[str]:
    """Which panels are joined of parts, and for which no joint was found."""
    short, long = (float(np.min(side)) + 1e-9 for side in sorted(box.sheet_size))
    for panel in box.panels:
        sizes = [sorted((float(np.max(part.height)), float(np.max(part.width)))) for part in panel.parts]
        if any(low > short or high > long for low, high in sizes):
            yield f"no joint of {panel.mark} is clear of its corners and of what is cut out"
        elif panel.joints:
            yield f"{panel.mark} in {len(panel.parts)} parts"


@check("Sheathing between its supports", clause=apa.SPANS, of=Pressure)
def sheathing(box: Box) -> tuple[Any, ...]:
    of, pressed = box.sheathing, box.lateral
    assert of is not None
    w, h = pressed.weight, pressed.height
    rate, T, slump = pressed.rate, pressed.temperature, pressed.slump
    of_mix = (pressed.C_w, pressed.C_c)
    _, p_max = formula_and_peak(pressed.column, w, h, pressed.placed, rate, T, slump, pressed.vibrated, *of_mix)
    p = aci347.pressure_at(of.head, w, p_max)
    p_panel = carried(of.panel, of.stress, of.across, of.spacing, of.clear, of.spans)
    grain = "face grain across them" if of.across else "face grain along them, the weak way"
    spans = f"{of.spans} span{'s' if of.spans > 1 else ''}"
    return demand(p), capacity(p_panel), f"{of.name}, {grain}, {spans}; {pressed.governs}"


@check("Yoke in bending, the hardest pressed", clause=nds.ADJUSTED, of=Pressure)
def yoke_bending(box: Box, yoke: Yoke) -> tuple[Any, ...]:
    frame = box.frame
    assert frame is not None
    q = aci347.push_between(yoke.over, yoke.under, box.lateral.weight, box.lateral.peak)
    f_b = nds.bending_stress(nds.yoke_moment(q, frame.span), frame.size.modulus)
    F_b = nds.bending_strength(frame.grade.F_b, frame.size.C_F, nds.FORM_DURATION, DRY)
    return demand(f_b), capacity(F_b), f"yoke {yoke.number}, {frame.size.name} {frame.grade.name} on edge, dry"


@check("Yoke in shear, the hardest pressed", clause=nds.ADJUSTED, of=Pressure)
def yoke_shear(box: Box, yoke: Yoke) -> tuple[Any, ...]:
    frame = box.frame
    assert frame is not None
    f_v = nds.shear_stress(nds.yoke_reaction(yoke.load, frame.span), frame.size.area)
    F_v = nds.shear_strength(frame.grade.F_v, nds.FORM_DURATION, DRY)
    return demand(f_v), capacity(F_v), f"yoke {yoke.number}"


@check("Yoke's own sag, the hardest pressed", clause=nds.ADJUSTED, of=Length)
def yoke_sag(box: Box, yoke: Yoke) -> tuple[Any, ...]:
    frame = box.frame
    assert frame is not None
    d = nds.yoke_sag(yoke.load, frame.span, nds.stiffness(frame.grade.E, DRY), frame.size.inertia)
    return (
        demand(d),
        capacity(nds.allowed_sag(frame.span, SHARE)),
        f"yoke {yoke.number}, of {frame.size.name} between its corners",
    )


@check("Strap round the hardest pressed yoke", clause=STATICS, of=Force)
def strap(box: Box, yoke: Yoke) -> tuple[Any, ...]:
    frame = box.frame
    assert frame is not None
    T = bracing.band_pull(yoke.load, frame.flats)
    return demand(T), capacity(frame.strap), f"yoke {yoke.number}, rated load as entered"


@check("Corner nails of the hardest pressed yoke", clause=nds.LATERAL, of=Force)
def corner_nails(box: Box, yoke: Yoke) -> tuple[Any, ...]:
    frame = box.frame
    assert frame is not None
    R = nds.yoke_reaction(yoke.load, frame.span)
    Z_n = nds.nails_strength(frame.nail, nds.FORM_DURATION, yoke.nails)
    return demand(R), capacity(Z_n), f"yoke {yoke.number}, 16d common nails"


# ---- studs, wales and ties ----


@check("Studs between the wales", clause=nds.ADJUSTED, of=Pressure)
def studs(box: Box) -> tuple[Any, ...]:
    wall = box.wall
    assert wall is not None
    M = nds.continuous_moment(wall.stud_load, wall.stud_span)
    f_b = nds.bending_stress(M, wall.size.modulus)
    F_b = nds.bending_strength(wall.grade.F_b, wall.size.C_F, nds.FORM_DURATION, DRY)
    return demand(f_b), capacity(F_b), f"{wall.size.name} {wall.grade.name} on edge, dry"


@check("Studs past their last wale", clause=nds.ADJUSTED, of=Pressure)
def stud_ends(box: Box) -> tuple[Any, ...]:
    wall = box.wall
    assert wall is not None
    f_b = nds.bending_stress(nds.overhang_moment(wall.past_load, wall.past), wall.size.modulus)
    F_b = nds.bending_strength(wall.grade.F_b, wall.size.C_F, nds.FORM_DURATION, DRY)
    return (
        demand(f_b),
        capacity(F_b),
        f"{wall.size.name} {wall.grade.name} on edge, dry; below the first or above the last",
    )


@check("Wales between the ties", clause=nds.ADJUSTED, of=Pressure)
def wales(box: Box) -> tuple[Any, ...]:
    wall = box.wall
    assert wall is not None
    M = nds.continuous_moment(wall.wale_load, wall.tie_spacing)
    f_b = nds.bending_stress(M, 2 * wall.size.modulus)
    F_b = nds.bending_strength(wall.grade.F_b, wall.size.C_F, nds.FORM_DURATION, DRY)
    return demand(f_b), capacity(F_b), f"two {wall.size.name} {wall.grade.name} on edge, dry"


@check("Ties, the hardest pulled", clause=STATICS, of=Force)
def ties(box: Box) -> tuple[Any, ...]:
    wall = box.wall
    assert wall is not None
    F = bracing.support_load(wall.wale_load, wall.tie_spacing)
    return demand(F), capacity(wall.tie), "rated load as entered or assumed"


@check("Studs bearing on the wales", clause=nds.ADJUSTED, of=Pressure)
def stud_bearing(box: Box) -> tuple[Any, ...]:
    wall = box.wall
    assert wall is not None
    F = bracing.support_load(wall.wale_load, wall.stud_spacing)
    f = nds.bearing_stress(F, wall.size.wide, wall.size.wide, 2.0)
    return demand(f), capacity(nds.bearing_strength(wall.grade.F_c_perp, DRY)), "dry: no duration, no wet service"


@check("Plates of the ties bearing on the wales", clause=nds.ADJUSTED, of=Pressure)
def tie_bearing(box: Box) -> tuple[Any, ...]:
    wall = box.wall
    assert wall is not None
    F = bracing.support_load(wall.wale_load, wall.tie_spacing)
    f = nds.bearing_stress(F, wall.plate, wall.size.wide, 2.0)
    F_c = nds.bearing_strength(wall.grade.F_c_perp, DRY)
    return demand(f), capacity(F_c), "a plate as entered or assumed, on both sticks; no duration, no wet service"


# ---- stakes of a low edge, tubes ----


@check("Stakes of the edge in bending", clause=nds.ADJUSTED, of=Pressure)
def edge_stake(box: Box) -> tuple[Any, ...]:
    edge = box.edge
    assert edge is not None
    M = bracing.stake_moment(edge.top, box.lateral.peak, box.height, edge.spacing)
    F_b = nds.bending_strength(edge.grade.F_b, edge.size.C_F, nds.FORM_DURATION, WET)
    return demand(nds.bending_stress(M, edge.size.modulus)), capacity(F_b), f"{edge.size.name} on edge, wet"


@check("Hold of the edge's stakes in the ground", clause=STATICS, of=Force)
def edge_hold(box: Box) -> tuple[Any, ...]:
    edge = box.edge
    assert edge is not None
    F = bracing.stake_push(edge.top, box.lateral.peak, box.height, edge.spacing)
    return demand(F), capacity(edge.stake), HOLD


@check("Head of concrete in the tube", clause=PRACTICE, of=Length)
def tube(box: Box) -> tuple[Any, ...]:
    return demand(box.height), capacity(box.tube_head), "rated by its maker, as entered"


# ---- upright, and on the ground ----


@check("Brace along its grain", clause=nds.COLUMN, of=Pressure)
def brace(box: Box) -> tuple[Any, ...]:
    of = box.brace
    assert of is not None
    M_wind = bracing.wind_moment(bracing.WIND, of.width, of.height)
    M_least = bracing.least_moment(bracing.LEAST, of.width, of.height)
    M_site = site_moment(of.width, of.height, of.at) if of.governs == "site wind" else of.site
    M = bracing.tipping_moment(M_wind, M_least, M_site)
    F = bracing.push_at(M, of.up)
    F_each = bracing.shared(F, of.a_side)
    P = bracing.strut_force(F_each, of.up, of.run)
    f_c = nds.strut_stress(P, of.size.area)
    l_e = of.length / (of.middles + 1)
    F_c = nds.column_strength(of.grade.F_c, of.grade.E_min, nds.FORM_DURATION, l_e, of.size.wide)
    return demand(f_c), capacity(F_c), f"{of.size.name} {of.grade.name} at 45 degrees; {of.governs} rules"


@check("Stakes at the foot of a brace", clause=bracing.LATERAL, of=Force)
def brace_stakes(box: Box) -> tuple[Any, ...]:
    of = box.brace
    assert of is not None
    F = bracing.push_at(of.moment, of.up)
    return demand(bracing.shared(F, of.a_side)), capacity(bracing.stakes_hold(of.stakes, of.stake)), HOLD


@check("Form held down", clause=STATICS, of=Force)
def uplift(box: Box) -> tuple[Any, ...]:
    of = box.uplift
    return demand(of.lift), capacity(buoyancy.held_down(of.weight, of.stakes, of.stake)), HOLD
