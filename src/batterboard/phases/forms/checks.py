"""Does the box hold, and do its panels come out of the sheets?"""

from collections.abc import Iterator
from functools import reduce
from typing import Any

import numpy as np

from batterboard.phases.forms.pressure import formula_and_peak
from batterboard.phases.forms.results import Box, Yoke
from batterboard.phases.forms.strength import DRY, carried
from batterboard.quantity import Force, Length, Pressure
from batterboard.standards import aci347, apa, bracing, nds
from batterboard.working import PRACTICE, STATICS, Check, capacity, check, demand


def checks_of(box: Box) -> Iterator[Check]:
    if box.panels:
        yield one_sheet(box)
    if box.sheathing is not None and box.frame is not None:
        yield sheathing(box)
        hardest = max(box.yokes, key=lambda yoke: float(np.max(yoke.load)))
        yield yoke_bending(box, hardest)
        yield yoke_shear(box, hardest)
        if box.frame.strap == box.frame.strap:
            yield strap(box, hardest)
        elif box.frame.sides == 4:
            yield corner_nails(box, hardest)


@check("Panel out of one sheet", clause=PRACTICE, of=Length)
def one_sheet(box: Box) -> tuple[Any, ...]:
    sides = [(panel.height, panel.width) for panel in box.panels]
    long = reduce(np.maximum, (np.maximum(h, w) for h, w in sides))
    short = reduce(np.maximum, (np.minimum(h, w) for h, w in sides))
    sheet_short, sheet_long = sorted(box.sheet_size)
    narrow = short / sheet_short > long / sheet_long
    panel, sheet = np.where(narrow, short, long)[()], np.where(narrow, sheet_short, sheet_long)[()]
    return demand(np.round(panel, 9)), capacity(np.round(sheet, 9)), box.sheet


@check("Sheathing between the yokes", clause=apa.SPANS, of=Pressure)
def sheathing(box: Box) -> tuple[Any, ...]:
    of, pressed = box.sheathing, box.lateral
    assert of is not None
    w, h = pressed.weight, pressed.height
    rate, T, slump = pressed.rate, pressed.temperature, pressed.slump
    _, p_max = formula_and_peak(pressed.column, w, h, rate, T, slump, pressed.vibrated, pressed.C_w, pressed.C_c)
    p = aci347.pressure_at(of.head, w, p_max)
    p_panel = carried(of.panel, of.stress, of.across, of.spacing, of.clear, of.spans)
    grain = "face grain across the yokes" if of.across else "face grain along the yokes, the weak way"
    return demand(p), capacity(p_panel), f"{of.name}, {grain}; {pressed.governs}"


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
