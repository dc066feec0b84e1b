"""How far apart may the yokes stand, so that panels, sticks and corners all hold?

    From the foot up: the widest step to the next yoke that the panel carries at the pressure of the lower one, and that
    brings the lower one no more than its sticks and corners can hold. So the yokes stand closer towards the foot.
    Where the panels are joined level, a yoke stands on the joint, and their spans end there.

The corners of a box are nailed, or strapped where the job says what its straps are rated for; a yoke of many sides has
a stick on each and a band round all of them. Panels are taken as evenly loaded over as many equal spans as there are,
by the pressure at the lower yoke. Sticks are dry: the sheet lies between them and the concrete. A batch is laid out for
the worst of its variants, then each judged.
"""

from functools import lru_cache
from typing import Any

import numpy as np

from batterboard.job.schema import Stock
from batterboard.phases.forms.bracing import nail_through
from batterboard.phases.forms.results import Frame, Lateral, Sheathing, Yoke
from batterboard.phases.forms.shape import Shape, slant_height
from batterboard.phases.forms.sheathing import DRY, SHARE, carried, grain_up, kind_of, plywood_of
from batterboard.quantity import Force, Length, Number, inch
from batterboard.record import record
from batterboard.standards import aci347, bracing, nds, tables
from batterboard.working import nan, pi, tan

STEP = 0.5 * inch  # yokes are set to this
WIDEST = 24 * inch  # common practice, no source
CLOSEST = 3 * inch  # two sticks one over the other
TACKED = 2  # nails that keep the sticks of a strapped yoke in their place
MOST_NAILS = 5  # that go into one corner without splitting it; common practice, no source

Pressing = tuple[float, float, float]  # the worst of a batch: its height, its weight, its largest pressure


@record
class Yokes:
    sheathing: Sheathing
    frame: Frame
    yokes: tuple[Yoke, ...]
    holds: bool  # else it is too wide or too high for yokes of this lumber


def yokes_of(
    form: Shape,
    pressed: Lateral,
    stock: Stock,
    known: dict[tuple[Any, ...], Yokes],
    stops: tuple[float, ...] = (),
) -> Yokes:
    """Yokes of a box or of a form of many sides. Those that are alike are laid out once.

    stops : how high up the panels are joined
    """
    values = (form.along, form.across, form.thick, form.lean, pressed.weight, pressed.height, pressed.peak)
    key = (
        form.kind,
        len(form.panels[0].sides),
        form.sheet.of,
        form.sheet.size,
        stops,
        *(v if np.ndim(v) == 0 else np.asarray(v).tobytes() for v in values),
    )
    if key not in known:
        known[key] = _yokes(form, pressed, stock, stops)
    return known[key]


def _yokes(form: Shape, pressed: Lateral, stock: Stock, stops: tuple[float, ...]) -> Yokes:
    frame = _frame(form, stock)
    panel, across = plywood_of(form), grain_up(form)
    stress = tables.plywood_stress(kind_of(panel.name))
    most = _most_on_a_yoke(frame)
    h, w, p = pressed.height, pressed.weight, pressed.peak
    heavy = (float(np.max(h)), float(np.max(w)), float(np.max(p)))
    ups, spans, hardships = _laid_out(frame, panel, stress, across, heavy, most, stops)
    edges = [0.0, *((low + high) / 2 for low, high in zip(ups, ups[1:], strict=False)), float(np.max(h))]
    yokes = []
    for number, up in enumerate(ups, 1):
        over, under = np.maximum(h - edges[number], 0.0)[()], np.maximum(h - edges[number - 1], 0.0)[()]
        load = aci347.push_between(over, under, w, p)
        pull = bracing.band_pull(load, frame.flats)
        along, across_it = _sticks(form, frame, up)
        yokes.append(
            Yoke(
                number=number,
                up=up,
                along=along,
                across=across_it,
                head=np.maximum(h - up, 0.0)[()],
                over=over,
                under=under,
                load=load,
                pull=pull,
                nails=_nails(frame, pull),
            )
        )
    worst = hardships.index(max(hardships))
    hardest = max(float(np.max(yoke.load)) for yoke in yokes)
    spacing = ups[worst + 1] - ups[worst]
    sheathing = Sheathing(
        name=panel.name,
        panel=panel,
        stress=stress,
        across=across,
        upright=False,
        spans=spans[worst],
        spacing=spacing,
        clear=spacing - frame.size.wide,
        head=yokes[worst].head,
    )
    holds = hardships[worst] <= 1 + 1e-9 and hardest <= most * (1 + 1e-9)
    return Yokes(sheathing=sheathing, frame=frame, yokes=tuple(yokes), holds=holds)


def _nails(frame: Frame, pull: Force) -> Number:
    """At each corner. Sticks of a strapped yoke are nailed only to keep their place, those of many sides not at all."""
    if frame.sides > 4:
        return 0.0 * pull
    if frame.strap == frame.strap:
        return 0.0 * pull + TACKED
    return np.minimum(nds.nails_needed(pull, frame.nail, nds.FORM_DURATION), MOST_NAILS)[()]


def _frame(form: Shape, stock: Stock) -> Frame:
    size, grade = tables.lumber_size(stock.yoke), tables.lumber_grade(stock.lumber)
    strap = nan if stock.strap is None else stock.strap
    if form.kind == "polygon":
        sides = len(form.panels[0].sides)
        flats = form.along + 2 * form.thick
        span = flats * tan(pi / sides)
        return Frame(
            size=size,
            grade=grade,
            sides=sides,
            span=span,
            flats=flats,
            nail=nan,
            strap=strap,
        )
    outside = [side + 2 * form.thick for side in (form.along, form.across)]
    return Frame(
        size=size,
        grade=grade,
        sides=4,
        span=np.maximum(*outside)[()],
        flats=np.maximum(*outside)[()],
        nail=nail_through(size, grade),
        strap=strap,
    )


def _sticks(form: Shape, frame: Frame, up: Length) -> tuple[Length, Length]:
    """How long the sticks of a yoke are that lies so high up, along and across: less, where the form leans in."""
    past, faces = 2 * frame.size.deep, 2 * form.thick
    if np.any(form.lean > 0):
        low = np.maximum(up - frame.size.wide, 0.0)[()]
        faces = (form.thick * slant_height(form.height, form.lean) - form.lean * low) * 2 / form.height
    if frame.sides != 4:
        stick = (form.along + faces + past) * tan(pi / frame.sides)
        return stick, stick
    return form.along + faces + past, form.across + faces + past


def _laid_out(
    frame: Frame,
    panel: tables.Plywood,
    stress: tables.PlywoodStress,
    across: bool,
    worst: Pressing,
    most: float,
    stops: tuple[float, ...],
) -> tuple[list[float], list[int], list[float]]:
    """Heights of the yokes above the foot; of each step how many spans its part has, and how hard it is pressed.

    The fewest that hold as so many.
    """
    layouts = []
    for reckoned in (3, 2, 1):
        ups = _steps(frame, panel, stress, across, worst, reckoned, most, stops)
        spans = _spans(ups, stops)
        hardships = [_hardship(frame, panel, stress, across, worst, ups, i, n) for i, n in enumerate(spans)]
        layouts.append((max(hardships) > 1 + 1e-9, len(ups), ups, spans, hardships))
    _, _, ups, spans, hardships = min(layouts, key=lambda made: made[:2])
    return ups, spans, hardships


def _spans(ups: list[float], stops: tuple[float, ...]) -> list[int]:
    """Of each step from yoke to yoke, how many there are in the part of the panel that it lies in."""
    ends = [0, *(ups.index(stop) for stop in stops), len(ups) - 1]
    return [high - low for low, high in zip(ends, ends[1:], strict=False) for _ in range(high - low)]


def _steps(
    frame: Frame,
    panel: tables.Plywood,
    stress: tables.PlywoodStress,
    across: bool,
    worst: Pressing,
    spans: int,
    most: float,
    stops: tuple[float, ...],
) -> list[float]:
    """From the foot up. A yoke has no more to hold than its pressure over the step above it, the wider of its two."""
    h, w, p = worst
    steps = _candidates()
    allowed = np.minimum(carried(panel, stress, across, steps, steps - frame.size.wide, spans), most / steps)
    pair = float(frame.size.wide)
    ups = [pair]  # the lowest pair of sticks lies on the ground
    for last in (*stops, h - pair):
        while ups[-1] < last - 1e-9:
            up = ups[-1]
            good = steps[allowed >= min(w * (h - up), p)]
            step = float(good[-1]) if len(good) else CLOSEST
            left = last - up
            if left <= step + 1e-9:
                ups.append(last)
                continue
            if left < step + CLOSEST:  # no room for one more pair over this one
                step = left / 2
            ups.append(up + step)
    return ups


@lru_cache(1)
def _candidates() -> Any:
    return np.arange(round(CLOSEST / STEP), round(WIDEST / STEP) + 1) * STEP


def _most_on_a_yoke(frame: Frame) -> float:
    """The push on each metre of a stick that its bending, its shear, its sag and its corners all allow [N/m]."""
    size, grade, l = frame.size, frame.grade, float(np.max(frame.span))
    F_b = nds.bending_strength(grade.F_b, size.C_F, nds.FORM_DURATION, DRY)
    F_v = nds.shear_strength(grade.F_v, nds.FORM_DURATION, DRY)
    bending = 8 * F_b * size.modulus / l**2
    shear = F_v * size.area / 1.5 * 2 / l
    sag = 384 * nds.stiffness(grade.E, DRY) * size.inertia * SHARE / (5 * l**3)
    corner = frame.strap  # of many sides without a rated band: its pull is told, to buy one by
    if frame.sides == 4 and corner != corner:
        corner = nds.nails_strength(float(np.min(frame.nail)), nds.FORM_DURATION, MOST_NAILS)
    return float(np.nanmin([bending, shear, sag, corner * 2 / float(np.max(frame.flats))]))


def _hardship(
    frame: Frame, panel: Any, stress: Any, across: bool, worst: Pressing, ups: list[float], i: int, spans: int
) -> float:
    """Pressure over what the panel carries in the span above yoke i."""
    spacing: Length = ups[i + 1] - ups[i]
    h, w, p = worst
    pressure = aci347.pressure_at(h - ups[i], w, p)
    return float(pressure / carried(panel, stress, across, spacing, spacing - frame.size.wide, spans))
