"""How is a box held that is too wide or too high for yokes?

    wall : Wall("long", stud_spacing=0.305, wales=(Wale(1, up=0.203, ...), ...), tie_spacing=0.46, pull=9100, ...)

Studs stand upright against the panels, double wales lie along the studs, ties go through the concrete from wale to
wale. Wales stand closer towards the foot, as far apart as the studs carry at the pressure of the lower one; studs and
ties are spaced evenly, for the hardest place. Studs and wales run over three spans and more; a panel that is joined
ends at a stud of its own, and counts its spans from there.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np

from batterboard.job.schema import Stock
from batterboard.phases.forms.results import Lateral, Panel, Sheathing, Wale, Wall
from batterboard.phases.forms.shape import Shape
from batterboard.phases.forms.sheathing import DRY, SHARE, carried, grain_level, kind_of, plywood_of
from batterboard.quantity import Number, inch
from batterboard.standards import aci347, bracing, nds, tables
from batterboard.standards.tables import LumberGrade, LumberSize

SET_TO = 1 * inch  # studs, wales and ties are set to this
STUDS = np.arange(4, 25) * inch
FIRST = 8 * inch  # the lowest wale above the foot, and the highest below the top; common practice, no source
WIDEST = 36 * inch  # common practice, no source
CLOSEST = 6 * inch
PAIR = 2  # sticks in a wale
ROUNDING = 1e-9  # [m] a length that the spacing divides takes no further upright


def wall_of(form: Shape, pressed: Lateral, stock: Stock) -> tuple[Sheathing, Wall]:
    """Studs, wales and ties, for the worst of a batch."""
    size, grade = tables.lumber_size(stock.brace), tables.lumber_grade(stock.lumber)
    h, w, p = (float(np.max(v)) for v in (pressed.height, pressed.weight, pressed.peak))
    p_foot = min(w * h, p)
    panel, across = plywood_of(form), grain_level(form)
    stress = tables.plywood_stress(kind_of(panel.name))
    s, hardest_span, spans = spaced(panel, stress, across, size.wide, _parts(form), STUDS, p_foot)
    ups = _wales(size, grade, s, h, w, p)
    edges = [0.0, *((low + high) / 2 for low, high in zip(ups, ups[1:], strict=False)), h]
    wales = tuple(
        Wale(number=i + 1, up=up, load=aci347.push_between(max(h - edges[i + 1], 0.0), h - edges[i], w, p))
        for i, up in enumerate(ups)
    )
    between = [(min(w * (h - low), p) * s, high - low) for low, high in zip(ups, ups[1:], strict=False)]
    stud_load, stud_span = max(between, key=lambda one: one[0] * one[1] ** 2, default=(p_foot * s, 0.0))
    ends = ((p_foot * s, ups[0]), (min(w * (h - ups[-1]), p) * s, h - ups[-1]))  # evenly, as at the wale or the foot
    past_load, past = max(ends, key=lambda one: nds.overhang_moment(*one))
    hardest = max(wale.load for wale in wales)
    spacing = max(_span(size, grade, hardest, PAIR, stock.tie), float(CLOSEST))
    faces = [float(np.max(side)) for side in (form.along, form.across)]
    sheathing = Sheathing(
        name=panel.name,
        panel=panel,
        stress=stress,
        across=across,
        upright=True,
        spans=spans,
        spacing=hardest_span,
        clear=hardest_span - size.wide,
        head=h,
    )
    wall = Wall(
        name=form.name,
        size=size,
        grade=grade,
        stud_spacing=s,
        studs=sum(panel.count * uprights_on(panel, float(np.max(panel.inside)), s) for panel in form.panels),
        stud_load=stud_load,
        stud_span=stud_span,
        wales=wales,
        tie_spacing=spacing,
        lengthwise=len(wales) * int(np.ceil(min(faces) / spacing)),
        ties=len(wales) * sum(int(np.ceil(face / spacing)) for face in faces),
        tie=stock.tie,
        pull=bracing.support_load(hardest, spacing),
        wale_load=hardest,
        past=past,
        past_load=past_load,
        plate=stock.tie_plate,
    )
    return sheathing, wall


def spaced(
    panel: tables.Plywood,
    stress: tables.PlywoodStress,
    across: bool,
    wide: Any,
    parts: Sequence[float],
    steps: Any,
    p: Any,
) -> tuple[float, float, int]:
    """How far apart uprights of that width stand, the same on parts of all lengths: the widest of the steps that hold.

    With the spacing and the spans of the part that is hardest pressed: one that a single step reaches over is one span
    of its own length. The closest of the steps, where none holds.
    """
    over = {n: carried(panel, stress, across, steps, steps - wide, n) for n in (1, 2, 3)}
    bears = []
    for part in sorted(set(parts)):
        bays = np.ceil(part / steps - 1e-9)
        alone = carried(panel, stress, across, part, part - wide, 1)
        bears.append((part, np.where(bays > 2, over[3], np.where(bays > 1, over[2], alone)), bays))
    holding = np.flatnonzero(np.all([bear >= p for _, bear, _ in bears], axis=0))
    i = int(holding[-1]) if len(holding) else 0
    part, _, bays = min(bears, key=lambda one: float(one[1][i]))
    spans = int(min(bays[i], 3))
    s = float(steps[i])
    return s, s if spans > 1 else part, spans


def _parts(form: Shape) -> list[float]:
    """How wide the panels are between the uprights at their ends or on their joints."""
    return [
        float(np.max(part.width if panel.joints else panel.inside)) for panel in form.panels for part in panel.parts
    ]


def uprights_on(panel: Panel, face: float, s: float) -> Number:
    """Studs or stakes on one panel: one at each end, one on each joint, none farther apart than s."""
    if not panel.upright_joints:
        return bracing.uprights(face - ROUNDING, s)
    parts = panel.parts[: len(panel.upright_joints) + 1]
    return sum(bracing.uprights(float(np.max(part.width)) - ROUNDING, s) for part in parts) - len(panel.upright_joints)


def _wales(size: LumberSize, grade: LumberGrade, s: float, h: float, w: float, p: float) -> list[float]:
    """From the foot up, the last not farther below the top than the first above the foot."""
    ups, last = [min(float(FIRST), h / 2)], h - float(FIRST)
    while ups[-1] < last - 1e-9:
        pressure = min(w * (h - ups[-1]), p)
        step = min(max(_span(size, grade, pressure * s, 1, np.inf), float(CLOSEST)), float(WIDEST))
        ups.append(min(ups[-1] + step, max(last, ups[-1] + float(CLOSEST))))
    return ups


def _span(size: LumberSize, grade: LumberGrade, q: float, sticks: int, tie: Any) -> float:
    """How far apart supports may hold so many sticks under a load, set to whole inches [m]."""
    F_b = nds.bending_strength(grade.F_b, size.C_F, nds.FORM_DURATION, DRY)
    F_v = nds.shear_strength(grade.F_v, nds.FORM_DURATION, DRY)
    E = nds.stiffness(grade.E, DRY)
    spans = (
        nds.bending_span(F_b, sticks * size.modulus, q),
        nds.shear_span(F_v, sticks * size.area, q, size.deep),
        nds.deflection_span(E, sticks * size.inertia, q, SHARE),
        bracing.tie_spacing(tie, q),
    )
    return float(np.floor(min(spans) / SET_TO + 1e-9) * SET_TO)
