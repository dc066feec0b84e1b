"""What lifts a form, and what keeps it down?

    uplift : Uplift("west", edges=1010, batter=0.0, weight=420, stakes=1, ...)

A form that stands on fresh concrete is lifted at the lower edges of its panels, as thick as they are; one that narrows
upwards by the concrete that is missing above its sloping sides; one with boxes in it by the concrete that they keep
out; each on top of what a pulled brace lifts. Against that stand its own weight and stakes it is tied down to. Pipes
that float are told in `beside`.
"""

from dataclasses import replace

import numpy as np

from batterboard.phases.forms.bracing import Brace
from batterboard.phases.forms.foot import Foot
from batterboard.phases.forms.results import Held, Uplift
from batterboard.phases.forms.shape import Shape
from batterboard.quantity import Force, Length, UnitWeight
from batterboard.standards import bracing, buoyancy
from batterboard.work.records import Body
from batterboard.working import maximum


def uplift_of(
    body: Body,
    height: Length,
    w: UnitWeight,
    form: Shape,
    held: Held,
    foot: Foot | None,
    brace: Brace | None,
    stake: Force,
) -> Uplift:
    """Lift of one form with its own weight against it; the rest is tied down to stakes."""
    edges: Force = 0.0
    if foot is not None and form.panels:
        round_it = sum(panel.count * panel.inside for panel in form.panels)
        edges = buoyancy.edge_lift(w, foot.head, round_it, form.thick)
    boxed: Force = 0.0
    if body.blockouts and form.kind != "tube":  # on a tube stakes hold their battens
        boxed = sum(buoyancy.blockout_lift(w, hole.volume, 0.0) for hole in body.blockouts)
    batter: Force = 0.0
    if np.any(body.outline.batter > 0):
        whole = replace(body, blockouts=()) if body.blockouts else body
        batter = buoyancy.batter_lift(
            w, body.section(body.top - height).area, height, whole.between(body.top - height, body.top)
        )
    pulled = brace.lift * brace.a_side if brace is not None else 0.0
    weight = _weight(form, held)
    lift = edges + batter + pulled + boxed
    return Uplift(
        name=body.name,
        edges=edges,
        batter=batter,
        brace=pulled,
        blockouts=boxed,
        weight=weight,
        lift=lift,
        stake=stake,
        stakes=bracing.stakes(maximum(lift - weight, 0.0), stake),
    )


def _weight(form: Shape, held: Held) -> Force:
    """Of panels and yokes; what else is on the form counts for nothing."""
    weight: Force = 0.0
    if held.sheathing is not None:
        weight = weight + form.area * held.sheathing.panel.weight
    if held.frame is not None:
        frame = held.frame
        sticks = sum(count * length for yoke in held.yokes for count, length in frame.sticks(yoke))
        weight = weight + sticks * frame.size.area * frame.grade.G * buoyancy.WATER
    return weight
