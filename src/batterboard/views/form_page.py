"""The walk round the form as data: one sheet before the pour, complete on paper.

    content(plan) : {"job": ..., "forms": [{"name": "west, east", "said": [...]}], "ticks": [...], "tools": [...]}

Large letters and few words: what each form was reckoned for, what stands round it, and what must be looked at with the
hand before concrete goes in. Forms that are alike share their lines. Nothing is computed here.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from batterboard.phases.forms import Box, Foot, Shores
from batterboard.quantity import Area, Force, Length, Pressure, RateOfRise, System, Time, show
from batterboard.views.tables.model import alone
from batterboard.work.names import among

if TYPE_CHECKING:
    from batterboard.phases.forms.blockouts import Fixing
    from batterboard.plan import Plan

PRESSURE = {"us": "5 psf", "si": "0.1 kPa"}
WEIGHT = {"us": "5 lb", "si": "0.05 kN"}
_BOXED = {"us": "1 lb", "si": "0.01 kN"}
MINUTES = {"us": "5 min", "si": "5 min"}
_MOST = 4  # kinds of forms that one page holds
TOOLS = (
    "hammer, 16d nails, spare stakes, two spare braces and a clamp",
    "a second light, a mirror for the foot of the form",
    "a 1 in rod for the pad, the cover board with its stakes",
)


def content(plan: "Plan") -> dict[str, Any] | None:
    """Everything on the page; None where nothing is formed."""
    alike: dict[tuple[str, ...], list[str]] = {}
    for box in plan.forms.boxes:
        alike.setdefault(tuple(_said(plan, box)), []).append(box.name)
    if not alike:
        return None
    forms = [{"name": among(names), "said": list(said)} for said, names in alike.items()]
    return {
        "job": plan.job.job.name,
        "hash": plan.job.digest,
        "replaces": plan.job.job.replaces,
        "forms": forms[:_MOST],
        "more": len(forms) - _MOST if len(forms) > _MOST else 0,
        "ticks": list(_ticks(plan)),
        "tools": list(TOOLS[:2]) if not plan.forms.feet else list(TOOLS),
    }


def _said(plan: "Plan", box: Box) -> Iterator[str]:
    """What one form was reckoned for and what holds it."""
    system = plan.job.job.units
    here = box.lateral
    peak = show(alone(here.peak), Pressure, system, PRESSURE[system])
    if here.governs == "full liquid head":
        yield f"{_long(box.height, system)} of concrete presses {peak} at the foot: reckoned full at once, at any rate"
    elif here.governs == "pumped from below":
        yield f"PUMPED FROM BELOW: presses {peak} at the foot, a quarter more than its head; the pump can press harder"
    else:
        rate = show(alone(here.rate), RateOfRise, system)
        deep = _long(here.vibrated, system)
        yield f"presses {peak} at most: FILL NO FASTER than {rate}, vibrate no deeper than {deep}"
    if box.yokes and box.frame is not None:
        ups = ", ".join(_long(yoke.up, system) for yoke in box.yokes)
        yield f"{len(box.yokes)} yokes of {box.frame.size.name}, middles up {ups}"
        yield _corners(box, system)
    if box.wall is not None:
        studs, ties = _long(box.wall.stud_spacing, system), _long(box.wall.tie_spacing, system)
        many = f"{_count(box.wall.ties)} in all"
        yield f"studs {studs} apart, {len(box.wall.wales)} double wales, ties {ties} apart, {many}"
    if box.edge is not None:
        stakes = f"{_count(box.edge.count)} stakes, at most {_long(box.edge.spacing, system)} apart"
        yield f"{stakes}, each with its kicker and a stake at the kicker's foot"
    if box.shores is not None:
        yield from _shored(box.shores, system)
    if box.collar is not None:
        up = _long(box.collar.ups[1], system)
        yield f"collars of four {box.collar.size.name} round the tube, one at its foot, one {up} up"
    if box.brace is not None:
        brace = box.brace
        yield (
            f"{_many(brace.a_side, 'brace')} a side of {brace.size.name}, {_long(brace.up, system)} up, foot "
            f"{_long(brace.run, system)} out, {_many(brace.stakes, 'stake')} each, {_nails(brace.nails)}"
        )
    if float(alone(box.uplift.lift)) > 0:
        lift, weight = (show(alone(f), Force, system, WEIGHT[system]) for f in (box.uplift.lift, box.uplift.weight))
        yield f"is lifted with {lift}, weighs {weight}: {_many(box.uplift.stakes, 'stake')} to tie it down"
    for foot in plan.forms.feet:
        if foot.name == box.name:
            yield _foot(foot, system)
    boxed = [_blockout(held, system) for held in plan.forms.blockouts if held.form == box.name]
    if boxed:
        yield f"boxes in it float: {'; '.join(boxed)}"


def _shored(of: Shores, system: System) -> Iterator[str]:
    """What stands under a beam that is clear of the ground."""
    yield (
        f"{len(of.pairs)} pairs of shores of {of.size.name}, at most {_long(of.spacing, system)} apart, soles of "
        f"{of.sole.name} flat, {_long(of.sole_long, system)} long, on firm ground"
    )
    load = show(alone(of.load), Pressure, system, PRESSURE[system])
    yield f"carries {load} in all: no heap of concrete, no cart on it"
    if _count(of.middles) != "0":
        yield f"each shore held both ways at {_count(of.middles)} places between its ends"
    yield (
        f"{_many(of.a_side, 'brace')} a side of {of.upright.name}, {_many(of.stakes, 'stake')} each, "
        f"{_nails(of.brace_nails)}; {_count(of.crosses)} diagonals on each row of shores"
    )


def _blockout(held: "Fixing", system: System) -> str:
    lift = show(alone(held.lift), Force, system, _BOXED[system])
    if held.batten is None:
        both = ", through both panels" if held.through else ""
        return f"{held.name} with {lift}, {_count(held.nails)} nails (6d){both}"
    return f"{held.name} with {lift}, two battens, {_count(held.end_nails)} nails (16d) at each end"


def _many(count: Any, what: str) -> str:
    return f"{_count(count)} {what}" + ("" if _count(count) == "1" else "s")


def _nails(nails: Any) -> str:
    return f"{_count(nails)} nails (16d) at each end" if alone(nails) == alone(nails) else "bolts"


def _corners(box: Box, system: System) -> str:
    frame = box.frame
    assert frame is not None
    if alone(frame.strap) == alone(frame.strap):
        return f"a strap round each, rated {show(alone(frame.strap), Force, system, WEIGHT[system])}"
    if frame.sides > 4:
        pull = max(float(alone(yoke.pull)) for yoke in box.yokes)
        return f"a band round each, rated for at least {show(pull, Force, system, WEIGHT[system])}"
    nails = ", ".join(_count(yoke.nails) for yoke in box.yokes)
    return f"16d nails in each corner, from the foot up: {nails}"


def _foot(foot: Foot, system: System) -> str:
    late = show(alone(foot.late), Time, system, MINUTES[system])
    limit = show(alone(foot.limit), Time, system, MINUTES[system])
    below = "pad" if foot.pad.endswith(" pad") else "step"
    if foot.covered:
        area = show(alone(foot.cover), Area, system)
        up = show(alone(foot.uplift), Force, system, WEIGHT[system])
        return f"cover board on its {below}, {area}, pushed up with {up}: {_count(foot.stakes)} stakes hold it"
    rod = show(alone(foot.rod), Force, system, WEIGHT[system])
    return (
        f"stands on its fresh {below}: WAIT {late} after its last vibrating, a 1 in rod carries {rod}; cold joint "
        f"after {limit}. Advisory: the field test decides"
    )


def _ticks(plan: "Plan") -> Iterator[str]:
    """What is looked at with the hand."""
    if any(box.kind != "tube" for box in plan.forms.boxes):
        yield "both diagonals alike, two sides plumb, top line at its level"
        yield "every match mark meets its twin; no gap that a knife enters"
    if any(box.kind == "tube" for box in plan.forms.boxes):
        yield "each tube: plumb two ways, round at its top, top line at its level; dry and whole, no soft seam"
        yield "collars tight round their tubes, crossings nailed, the lower staked to its lines"
    if any(panel.joints for box in plan.forms.boxes for panel in box.panels):
        yield "each joint with a letter: its twin beside it, flush inside, both parts fast on its support or plates"
    if any(box.strips for box in plan.forms.boxes):
        yield "strips tight, their points nailed, no edge standing off"
    yield "oiled before the cage went in; no oil on bars and bolts"
    openings = [hole for form in plan.pieces.forms for panel in form.panels for hole in panel.openings]
    doors = [hole.of for hole in openings if hole.kind == "clean-out"]
    yield "inside clean to the foot: no sawdust, ties, ice or water"
    if doors:
        yield f"SHUT AND CLEATED after cleaning: {', '.join(dict.fromkeys(doors))}"
    if any(hole.kind in ("pipe", "bar") for hole in openings):
        yield "holes round pipes and bars taped; pipes capped"
    if plan.forms.blockouts:
        names = ", ".join(held.name for held in plan.forms.blockouts)
        yield f"blockouts where the drawing has them, nailed and tied down, no gap at their mouths: {names}"
        wide = [held.name for held in plan.forms.blockouts if held.crowded]
        if wide:
            yield f"who vibrates knows: both sides of {', '.join(wide)} until concrete has come under it"
    if any(box.frame for box in plan.forms.boxes):
        nailed = {float(alone(yoke.nails)) > 0 for box in plan.forms.boxes for yoke in box.yokes}
        how = " and ".join(words for words, here in (("nails counted", True), ("bands tight", False)) if here in nailed)
        yield f"each yoke: height, {how}, sticks tight on the panels"
    if plan.forms.shored:
        yield "each shore: plumb, tight under its cross-piece, wedges nailed, sole flat on firm ground; level again"
    if any(box.brace for box in plan.forms.boxes):
        yield "each brace: shake it; stakes driven to refusal, nailed"
    yield "nobody stands below a form that fills; one man watches it, with a hammer"


def _long(length: Any, system: System) -> str:
    return show(alone(length), Length, system)


def _count(number: Any) -> str:
    return f"{alone(number):.0f}"
