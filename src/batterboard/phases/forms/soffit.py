"""What carries the wet concrete of a beam that stands clear of the ground?

    shores : Shores("tie", load=16300, pairs=(Pair(1, at=0.04, left=1.02, right=1.04), ...), ...)

A soffit lies between the sides, which run past its edges down to the cross-pieces, so that they come off first and
leave it standing. Each cross-piece lies on two shores, one under each side, each on a sole plate with a pair of wedges;
on it stand the sides' uprights, tied across their tops, their feet against a ribbon. Braces square to the beam and
diagonals along it keep all that upright. Pairs stand as far apart as soffit, sides, cross-pieces, shores and ground
allow, for the worst of a batch. No camber. Where part of the beam lies in the ground, the shores stand under the rest:
from the first place that is clear to the last, and ground in between that comes too near is dug off.
"""

from dataclasses import replace
from typing import Any, Literal

import numpy as np

from batterboard.job.schema import Stock, Wind
from batterboard.phases.forms.bracing import site_moment
from batterboard.phases.forms.results import Edge, Held, Lateral, Pair, Panel, Shores
from batterboard.phases.forms.shape import Shape
from batterboard.phases.forms.sheathing import DRY, SHARE, WET, carried, kind_of, plywood_of
from batterboard.phases.forms.splices import spliced
from batterboard.phases.forms.stretch import Stretch, level_at
from batterboard.phases.forms.under import CLOSEST, SHORTEST, WEDGES, Under, Wood, under_of, wood_of
from batterboard.phases.forms.yokes import MOST_NAILS, TACKED
from batterboard.quantity import Force, Length, Number, Pressure, UnitWeight, ft, inch
from batterboard.record import record
from batterboard.standards import aci347, bracing, nds, shoring, tables
from batterboard.work.records import Body, Work
from batterboard.working import absolute, ceil, maximum, sqrt

# Common practice, no source.
SPACINGS = np.arange(CLOSEST / inch, 49, 2) * inch
SOLES = np.arange(12, 37, 2) * inch
CROSSED = 12 * ft  # diagonals on each row of shores stand no farther apart


def lowered(form: Shape) -> Shape:
    """Its sides run past the edges of the soffit."""
    panels = tuple(replace(panel, height=panel.height + form.thick) for panel in form.panels)
    return replace(form, panels=panels, lap=f"{form.name} A run down past {form.name} B, all against the piers")


def on_shores(
    body: Body,
    work: Work,
    stretch: Stretch,
    form: Shape,
    pressed: Lateral,
    weight: UnitWeight,
    held: Held,
    stock: Stock,
    wind: Wind | None,
) -> tuple[Held, Shores]:
    """Soffit and shores under the clear stretch, the sides on them; stakes keep what is left of the sides.

    weight : of the concrete, without the surge of a pump
    """
    wood = wood_of(stock)
    under = under_of(body, stretch, form, wood)
    load = aci347.deck_load(weight, under.height, under.own)
    level = _level(under, weight, wood, wind)
    soffit = _soffit(body.name, under, form, wood)
    strength = _strength(under, wood)
    places = _places(under, soffit, held.panels)
    s, spans = _spacing(under, wood, held, places, pressed, load, level.each, strength, work.soil.bearing, form)
    pairs = tuple(_pairs(under, stretch, places, s))
    whole = bool(np.all(under.start <= 0) and np.all(under.end >= under.along))
    shore = shoring.shore_load(load, under.width, s) + level.each
    sole_long = _sole(_most(shore), _least(work.soil.bearing), wood)
    push_along = aci347.floor_line_force(level.weight, under.width)
    crosses = ceil(under.long / CROSSED)
    run = _run(under, pairs)
    rise = maximum(under.longest - wood.size.deep, SHORTEST / 2)
    diagonal_force = bracing.strut_force(push_along / (2 * crosses), rise, run)
    tie = bracing.kicker_push(0.0, pressed.peak, under.post, s)
    foot = bracing.stake_push(0.0, pressed.peak, under.post, s)
    sheathing = held.sheathing
    assert sheathing is not None and held.edge is not None
    shores = Shores(
        name=body.name,
        start=under.start,
        end=under.end,
        along=under.along,
        width=under.width,
        height=under.height,
        weight=weight,
        above=under.above,
        nearest=under.nearest,
        stack=under.stack,
        wedges=WEDGES,
        room=under.room,
        dig=maximum(under.room - under.nearest, 0.0),
        own=under.own,
        load=load,
        soffit=replace(
            sheathing,
            across=True,
            upright=False,
            spans=spans,
            spacing=s,
            clear=s - wood.size.wide,
            head=under.height,
        ),
        grade=wood.grade,
        size=wood.size,
        pairs=pairs,
        span=under.span,
        cross=under.cross,
        longest=under.longest,
        middles=under.middles,
        shore=shore,
        sole=wood.sole,
        sole_long=sole_long,
        bearing=work.soil.bearing,
        on_pads=_over_pads(body, work, under, pairs),
        upright=wood.upright,
        post=under.post,
        across=under.tie,
        moment=bracing.stake_moment(0.0, pressed.peak, under.post, s),
        tie=tie,
        foot=foot,
        nail=wood.nail,
        tie_nails=_nails(tie, wood),
        foot_nails=_nails(foot, wood),
        push=level.push,
        push_along=push_along,
        at=wind,
        governs=level.governs,
        a_side=level.a_side,
        up=under.up,
        brace=under.up * sqrt(2.0),
        brace_middles=level.middles,
        brace_force=level.force,
        brace_nails=_nails(level.force, wood),
        stake=stock.stake,
        stakes=bracing.stakes(level.each, stock.stake),
        crosses=crosses,
        diagonal=sqrt(rise**2 + run**2),
        run=run,
        diagonal_force=diagonal_force,
        diagonal_nails=_nails(diagonal_force, wood),
    )
    sides = tuple(_on(panel, "stud") if whole else panel for panel in held.panels)
    if whole:
        sheathing = replace(sheathing, spacing=s, clear=s - wood.upright.wide, spans=spans)
    edge = None if whole else _rest(held.edge, under)
    return replace(held, panels=(*sides, *soffit), sheathing=sheathing, edge=edge), shores


# ---- what stands on it ----


def _soffit(name: str, under: Under, form: Shape, wood: Wood) -> tuple[Panel, ...]:
    panel = Panel(
        mark=f"{name} B",
        sides=("under",),
        count=1,
        width=under.long,
        inside=under.long,
        height=under.width,
        thick=form.thick,
        bevel=0.0,
        runs_past=0,
    )
    below = replace(form, panels=(panel,), height=under.width, lean=0.0)
    sheet = form.sheet.size
    if _most(under.long) > sheet[0] + 1e-9 or _most(under.width) > sheet[1] + 1e-9:
        below, _ = spliced(below, "stake", wood.size.wide, dict)
    return tuple(_on(each, "cross-piece") for each in below.panels)


def _on(panel: Panel, on: Literal["stud", "cross-piece"]) -> Panel:
    """Its upright joints stand on that."""
    joints = (replace(joint, on=on) if joint.upright else joint for joint in panel.joints)
    return replace(panel, joints=tuple(joints))


def _rest(edge: Edge, under: Under) -> Edge:
    """Stakes of both sides where the beam lies in the ground, before and behind the shores."""
    ends = (_most(under.start), _most(under.along - under.end))
    return replace(edge, count=sum(2 * bracing.uprights(end, edge.spacing) for end in ends if end > 0))


# ---- level ----


@record
class _Level:
    weight: Force  # dead load of the stretch
    push: Force  # square to the beam
    governs: Literal["least force", "wind", "site wind"]
    a_side: Number
    each: Force
    middles: Number
    force: Force


def _level(under: Under, w: UnitWeight, wood: Wood, at: Wind | None) -> _Level:
    """The push square to the beam and the braces that hold it on each side, 6 ft apart at most.

    Wind acts higher than they reach: its moment about the shores' feet is what they hold.
    """
    weight = shoring.dead_load(w, under.height, under.own, under.width, under.long)
    least = aci347.floor_line_force(weight, under.long)
    face = bracing.WIND, under.long, under.height
    M_wind = bracing.wind_moment(*face) + bracing.wind_force(*face) * under.above
    wind = bracing.push_at(M_wind, under.up)
    site = bracing.push_at(site_moment(under.long, under.height, at, under.above), under.up)
    push = maximum(maximum(least, wind), site)
    length = under.up * sqrt(2.0)
    pieces = ceil(length / nds.longest_strut(wood.upright.wide))
    grade, size = wood.grade, wood.upright
    F_c = nds.column_strength(grade.F_c, grade.E_min, nds.FORM_DURATION, length / pieces, size.wide)
    strong = ceil(bracing.strut_force(push, under.up, under.up) / (F_c * size.area))
    a_side = maximum(bracing.uprights(under.long, bracing.SPACED), strong)
    each = bracing.shared(push, a_side)
    ruling: tuple[tuple[float, Literal["least force", "wind", "site wind"]], ...] = (
        (_most(least), "least force"),
        (_most(wind), "wind"),
        (_most(site), "site wind"),
    )
    return _Level(
        weight=weight,
        push=push,
        governs=max(ruling, key=lambda pair: pair[0])[1],
        a_side=a_side,
        each=each,
        middles=pieces - 1,
        force=bracing.strut_force(each, under.up, under.up),
    )


def _nails(force: Force, wood: Wood) -> Number:
    """16d at each end, two at least: one alone turns."""
    return maximum(nds.nails_needed(force, wood.nail, nds.FORM_DURATION), TACKED)


def _run(under: Under, pairs: tuple[Pair, ...]) -> Length:
    """How far a diagonal runs from shore to shore: whole bays, about as far as it rises."""
    bay = (_most(pairs[-1].at) - _most(pairs[0].at)) / (len(pairs) - 1)
    return bay * float(np.clip(round(_most(under.longest) / bay), 1, len(pairs) - 1))


# ---- how far apart ----


def _places(under: Under, soffit: tuple[Panel, ...], sides: tuple[Panel, ...]) -> list[float]:
    """Ends of the stretch, joints of the soffit and of the sides: a cross-piece lies under each."""
    start, end = _most(under.start), _most(under.end)
    joints = [start + _most(at) for panel in soffit for at in panel.upright_joints]
    for panel in sides:  # told from their left as seen from outside: of the left side that is the far end
        for at in map(_most, panel.upright_joints):
            joints += [at if side == "right" else _most(under.along) - at for side in panel.sides]
    half = min(under.stick, (end - start) / 2) / 2
    first, last = start + half, end - half  # these lie against the piers
    inner: list[float] = []
    for at in sorted(at for at in joints if first < at < last):
        if not inner or at - inner[-1] >= under.stick:
            inner.append(at)
    near = 2 * under.stick  # a joint so near to an end takes its cross-piece
    ends = (
        [first] if not inner or inner[0] - first > near else [],
        [last] if not inner or last - inner[-1] > near else [],
    )
    return [*ends[0], *inner, *ends[1]]


def _spacing(
    under: Under,
    wood: Wood,
    held: Held,
    places: list[float],
    pressed: Lateral,
    load: Pressure,
    pulled: Force,
    strength: Pressure,
    bearing: Pressure,
    form: Shape,
) -> tuple[float, int]:
    """The widest spacing at which all hold, else the closest; and how many spans the shortest part then has."""
    p, p_side, s = _most(load), _most(pressed.peak), SPACINGS
    good = _sides_hold(p_side, _most(under.post), wood) & _cross_holds(
        shoring.cross_load(p, s), _most(under.span), wood
    )
    most = min(
        _least(strength) * wood.size.area,
        nds.bearing_strength(wood.grade.F_c_perp, DRY) * wood.size.area,
        float(np.max(_sole_carries(SOLES, _least(bearing), wood))),
    )
    good &= shoring.shore_load(p, _most(under.width), s) + _most(pulled) <= most
    if held.edge is not None and not (np.all(under.start <= 0) and np.all(under.end >= under.along)):
        good &= s <= held.edge.spacing + 1e-9  # one sheathing for what is staked and what stands on shores
    panel = plywood_of(form)
    stress = tables.plywood_stress(kind_of(panel.name))
    shortest = min(high - low for low, high in zip(places, places[1:]))
    widest, spans = float(s[0]), 1
    for spans in (3, 2, 1):
        below = carried(panel, stress, True, s, s - wood.size.wide, spans) >= p
        beside = carried(panel, stress, True, s, s - wood.upright.wide, spans) >= p_side
        fits = s[good & below & beside]
        widest = float(fits[-1]) if len(fits) else float(s[0])
        if shortest > (spans - 1) * widest:
            break
    return widest, spans


def _sides_hold(p: float, h: float, wood: Wood) -> Any:
    """Uprights, the ties across their tops, the ribbon at their feet."""
    F_b = nds.bending_strength(wood.grade.F_b, wood.upright.C_F, nds.FORM_DURATION, DRY)
    nails = nds.nails_strength(wood.nail, nds.FORM_DURATION, MOST_NAILS)
    bends = bracing.stake_moment(0.0, p, h, SPACINGS) <= F_b * wood.upright.modulus
    tied, footed = bracing.kicker_push(0.0, p, h, SPACINGS), bracing.stake_push(0.0, p, h, SPACINGS)
    return bends & ~(tied > nails) & ~(footed > nails)  # nan, where nails do not reach through: it is bolted


def _cross_holds(q: Any, l: float, wood: Wood) -> Any:
    size, grade = wood.size, wood.grade
    f_b = nds.bending_stress(nds.yoke_moment(q, l), size.modulus)
    f_v = nds.shear_stress(nds.yoke_reaction(q, l), size.area)
    sag = nds.yoke_sag(q, l, nds.stiffness(grade.E, DRY), size.inertia)
    return (
        (f_b <= nds.bending_strength(grade.F_b, size.C_F, nds.FORM_DURATION, DRY))
        & (f_v <= nds.shear_strength(grade.F_v, nds.FORM_DURATION, DRY))
        & (sag <= nds.allowed_sag(l, SHARE))
    )


def _strength(under: Under, wood: Wood) -> Pressure:
    l_e = under.longest / (under.middles + 1)
    return nds.column_strength(wood.grade.F_c, wood.grade.E_min, nds.FORM_DURATION, l_e, wood.size.wide)


def _sole_carries(long: Any, bearing: float, wood: Wood) -> Any:
    """The load at which the ground under a sole, or the sole lying flat and wet, has enough [N]."""
    b, F_b = wood.sole.deep, nds.bending_strength(wood.grade.F_b, 1.0, nds.FORM_DURATION, WET)
    M_one = shoring.sole_moment(shoring.sole_pressure(1.0, b, long), b, long, wood.size.deep)
    return np.minimum(bearing * b * long, F_b * b * wood.sole.wide**2 / 6 / M_one)


def _sole(load: float, bearing: float, wood: Wood) -> float:
    """The shortest sole that carries it, else the one that carries most."""
    carries = _sole_carries(SOLES, bearing, wood)
    good = SOLES[carries >= load * (1 - 1e-9)]
    return float(good[0] if len(good) else SOLES[np.argmax(carries)])


# ---- where they stand ----


def _pairs(under: Under, stretch: Stretch, places: list[float], s: float) -> Any:
    """Evenly between the places where one has to stand, each shore as long as the ground under it asks."""
    ats = [places[0]]
    for low, high in zip(places, places[1:]):
        bays = int(bracing.uprights(high - low, s)) - 1
        ats += [low + (high - low) * n / bays for n in range(1, bays + 1)]
    longest = _most(under.along)
    for number, at in enumerate(ats, 1):
        share = at / longest
        lengths = [
            maximum(stretch.bottom - level_at(level, share) - under.stack, SHORTEST)
            for level in (stretch.left, stretch.right)
        ]
        yield Pair(number=number, at=share * under.along, left=lengths[0], right=lengths[1])


def _over_pads(body: Body, work: Work, under: Under, pairs: tuple[Pair, ...]) -> int:
    """How many pairs have a shore over the pad of a pier, in any variant."""
    pads = [block for name in work.beams[body.name].between for block in work.bases[name].bodies]
    return sum(any(_over(block, body, under, pair) for block in pads) for pair in pairs)


def _over(block: Body, body: Body, under: Under, pair: Pair) -> bool:
    along, half = pair.at - under.along / 2, under.span / 2
    for off in (half, -half):
        x, y = block.frame.into(*body.frame.out(along, off + 0 * along))
        inside = (absolute(x) <= block.outline.along / 2) & (absolute(y) <= block.outline.across / 2)
        if np.any(inside):
            return True
    return False


def _most(value: Any) -> float:
    return float(np.max(value))


def _least(value: Any) -> float:
    return float(np.min(value))
