"""How hard does the fresh concrete of a lift push on the form of one body?"""

from typing import Any

import numpy as np

from batterboard.job.schema import Mix, Pour
from batterboard.phases.forms.results import Lateral
from batterboard.quantity import Length, ft
from batterboard.standards import aci347
from batterboard.work.records import Body
from batterboard.working import nan

_WIDEST_COLUMN = 6.5 * ft  # no plan side of a column is longer; ACI 347R-14 (from memory)


def lateral(body: Body, height: Length, slump: Length, pour: Pour, mix: Mix) -> Lateral:
    """By the guide for the pour as described; a liquid to the foot where the guide has no coefficient for it."""
    h, w, T = height, mix.weight, pour.concrete
    column = body.part == "pier" and bool(np.all(np.maximum(body.outline.along, body.outline.across) <= _WIDEST_COLUMN))
    rate = nan if pour.rate is None or body.part != "pier" else pour.rate
    C_w = aci347.unit_weight_coefficient(w)
    C_c = aci347.chemistry_coefficient(1.0 if mix.retarder else 0.0, mix.slag, mix.fly_ash)
    if column:
        formula = aci347.column_pressure(C_w, C_c, rate, T, slump=slump)
    else:
        slow = aci347.wall_pressure_slow(C_w, C_c, rate, T, h=h, slump=slump)
        fast = aci347.wall_pressure_fast(C_w, C_c, rate, T, slump=slump)
        formula = np.where(np.isnan(slow), fast, slow)[()]
    head = aci347.liquid_head(w, h)
    peak = np.where(np.isnan(formula), head, aci347.design_pressure(formula, C_w, w, h))[()]
    one, full, most = (float(np.ravel(v)[0]) for v in (formula, head, peak))
    return Lateral(
        name=body.name,
        weight=w,
        height=h,
        column=column,
        slump=slump,
        rate=rate,
        temperature=T,
        C_w=C_w,
        C_c=C_c,
        formula=formula,
        peak=peak,
        depth=np.minimum(peak / w, h),
        governs=_governs(one, full, most, column),
        why=_why(one, full, most, rate, slump, T),
    )


def _governs(formula: float, head: float, peak: float, column: bool) -> Any:
    if formula != formula or peak >= head:
        return "full liquid head"
    if peak > formula:
        return "least pressure"
    return "column formula" if column else "wall formula"


def _why(formula: float, head: float, peak: float, rate: Any, slump: Any, T: Any) -> str:
    if formula == formula:
        return "the head of concrete is less than what the formula gives" if peak >= head else ""
    if np.any(slump > aci347.WETTEST + 1e-6):
        return "wetter than 7 in of slump: no coefficient lowers the pressure of a liquid"
    if np.any(np.isnan(rate)):
        return "no rate of rise is said for it"
    if np.any(np.asarray(T) < 0):
        return "colder than the formulas know"
    return "it rises faster than the formulas know"
