"""How hard does the fresh concrete of a lift push on the form of one body?"""

from typing import Any

import numpy as np

from batterboard.job.schema import Mix, Pour
from batterboard.phases.forms.results import Lateral
from batterboard.quantity import Celsius, Length, Number, Pressure, RateOfRise, UnitWeight, ft
from batterboard.standards import aci347
from batterboard.work.records import Body
from batterboard.working import nan

_WIDEST_COLUMN = 6.5 * ft + 1e-6  # no plan side of a column is longer; ACI 347R-14 (from memory)


def lateral(body: Body, height: Length, slump: Length, pour: Pour, mix: Mix) -> Lateral:
    """By the guide for the pour as described; a liquid to the foot where the guide has no coefficient for it."""
    h, T, vibrated = height, pour.concrete, pour.vibrated
    w = aci347.pumped_weight(mix.weight) if pour.from_below else mix.weight
    placed = np.maximum(h, body.height)[()]  # what stands in the ground is placed with it
    column = body.part == "pier" and bool(np.all(np.maximum(body.outline.along, body.outline.across) <= _WIDEST_COLUMN))
    rate = nan if pour.rate is None or body.part != "pier" or pour.from_below else pour.rate
    C_w = aci347.unit_weight_coefficient(mix.weight)
    C_c = nan if mix.flows else _chemistry(mix)
    formula, peak = formula_and_peak(column, w, h, placed, rate, T, slump, vibrated, C_w, C_c)
    one, full, most = (float(np.ravel(v)[0]) for v in (formula, w * h, peak))
    return Lateral(
        name=body.name,
        weight=w,
        height=h,
        placed=placed,
        column=column,
        slump=slump,
        vibrated=vibrated,
        rate=rate,
        temperature=T,
        C_w=C_w,
        C_c=C_c,
        formula=formula,
        peak=peak,
        depth=np.minimum(peak / w, h),
        governs="pumped from below" if pour.from_below else _governs(one, full, most, column),
        why=_why(one, full, most, pour, mix, rate, slump),
    )


def formula_and_peak(
    column: bool,
    w: UnitWeight,
    h: Length,
    placed: Length,
    rate: RateOfRise,
    T: Celsius,
    slump: Length,
    vibrated: Length,
    C_w: Number,
    C_c: Number,
) -> tuple[Pressure, Pressure]:
    """What the formula gives, nan outside its limits, and what the form is designed for."""
    if column:
        formula = aci347.column_pressure(C_w, C_c, rate, T, slump=slump, vibrated=vibrated)
    else:
        formula = aci347.wall_pressure_slow(C_w, C_c, rate, T, h=placed, slump=slump, vibrated=vibrated)
        if np.any(np.isnan(formula)):
            fast = aci347.wall_pressure_fast(C_w, C_c, rate, T, slump=slump, vibrated=vibrated)
            formula = np.where(np.isnan(formula), fast, formula)[()]
    liquid = np.isnan(formula)
    if np.all(liquid):
        return formula, aci347.liquid_head(w, h)
    peak = aci347.design_pressure(formula, C_w, w, h)
    if np.any(liquid):
        peak = np.where(liquid, aci347.liquid_head(w, h), peak)[()]
    return formula, peak


def _chemistry(mix: Mix) -> Number:
    return aci347.chemistry_coefficient(1.0 if mix.retarder else 0.0, mix.slag, mix.fly_ash, mix.silica_fume)


def _governs(formula: float, head: float, peak: float, column: bool) -> Any:
    if formula != formula or peak >= head:
        return "full liquid head"
    if peak > formula:
        return "least pressure"
    return "column formula" if column else "wall formula"


def _why(formula: float, head: float, peak: float, pour: Pour, mix: Mix, rate: Any, slump: Any) -> str:
    if pour.from_below:
        return "pumped in at the foot: the full head and a quarter more for the surge; the pump can press harder"
    if formula == formula:
        return "the head of concrete is less than what the formula gives" if peak >= head else ""
    if mix.flows:
        return "it levels itself, or nobody knows how it sets: no coefficient lowers its pressure"
    if np.any(slump > aci347.WETTEST + 1e-6):
        return "wetter than 7 in of slump: no coefficient lowers the pressure of a liquid"
    if np.any(np.isnan(rate)):
        return "no rate of rise is said for it"
    if np.any(pour.vibrated > aci347.DEEPEST + 1e-6):
        return "vibrated deeper than 4 ft: it stays a liquid that far down"
    if np.any(np.asarray(pour.concrete) < 0):
        return "colder than the formulas know"
    return "it rises faster than the formulas know"
