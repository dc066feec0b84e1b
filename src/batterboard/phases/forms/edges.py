"""How far apart stand the stakes of a low edge: the sides of a flat pad or a beam?

    edge : Edge("apron", spacing=0.914, count=22, push=410, foot=820, ...)

Boards on edge, held by stakes that a kicker props at the top: the stake is a stick on two supports, the ground and its
kicker, and wet where it stands in the ground. Where a cover closes the pad round a pier, the head of the pier presses
on its edges too. Where a board is joined, a stake of its own stands on the joint. What a stake holds is an assumption
of the job file; test one.
"""

import numpy as np

from batterboard.job.schema import Stock
from batterboard.phases.forms.bracing import nail_through
from batterboard.phases.forms.results import Edge, Lateral, Sheathing
from batterboard.phases.forms.shape import Shape
from batterboard.phases.forms.sheathing import WET, kind_of, plywood_of
from batterboard.phases.forms.walls import spaced, uprights_on
from batterboard.quantity import ft, inch
from batterboard.standards import aci347, bracing, nds, tables

STAKES = np.arange(12, 49, 2) * inch  # 4 ft is the most that the trade allows 2 in boards; a carpentry guide
KICKER = 1 * ft  # how far its foot stands out for each foot of height


def edge_of(form: Shape, pressed: Lateral, stock: Stock) -> tuple[Sheathing, Edge]:
    """The widest spacing at which board, stake and kicker all hold, for the worst of a batch; else the closest."""
    size, grade = tables.lumber_size(stock.brace), tables.lumber_grade(stock.lumber)
    h, p = float(np.max(form.panels[0].height)), float(np.max(pressed.peak))
    p_top = float(np.max(aci347.pressure_at(pressed.height - form.panels[0].height, pressed.weight, pressed.peak)))
    panel = plywood_of(form)
    stress = tables.plywood_stress(kind_of(panel.name))
    parts = [float(np.max(part.width)) for side in form.panels for part in side.parts]
    F_b = nds.bending_strength(grade.F_b, size.C_F, nds.FORM_DURATION, WET)
    propped = (
        (bracing.stake_moment(p_top, p, h, STAKES) <= F_b * size.modulus)
        & (bracing.kicker_push(p_top, p, h, STAKES) <= stock.stake)
        & (bracing.stake_push(p_top, p, h, STAKES) <= stock.stake)
    )
    steps = STAKES[: int(np.argmin(np.append(propped, False)))]  # wider stakes carry more of the board each
    s, hardest, spans = spaced(panel, stress, True, size.wide, parts, steps if len(steps) else STAKES[:1], p)
    push = bracing.kicker_push(p_top, p, h, s)
    kicker = bracing.strut_force(push, KICKER, KICKER)
    sheathing = Sheathing(
        name=panel.name,
        panel=panel,
        stress=stress,
        across=True,
        upright=True,
        spans=spans,
        spacing=hardest,
        clear=hardest - size.wide,
        head=float(np.max(pressed.height)),
    )
    edge = Edge(
        name=form.name,
        size=size,
        grade=grade,
        top=p_top,
        spacing=s,
        count=sum(side.count * uprights_on(side, float(np.max(side.width)), s) for side in form.panels),
        push=push,
        foot=bracing.stake_push(p_top, p, h, s),
        moment=bracing.stake_moment(p_top, p, h, s),
        kicker=kicker,
        nails=nds.nails_needed(kicker, nail_through(size, grade), nds.FORM_DURATION),
        stake=stock.stake,
    )
    return sheathing, edge
