"""How far apart may the yokes stand, so that panels, sticks and corners all hold?

    From the foot up: the widest step to the next yoke that the panel carries at the pressure of the lower one, and that
    brings the lower one no more than its sticks and corners can hold. So the yokes stand closer towards the foot.
    Where the panels are joined level, a yoke stands on the joint, and their spans end there.

The corners of a box are nailed, or strapped where the job says what its straps are rated for; a yoke of many sides has
a stick on each and a band round all of them. Panels are taken as evenly loaded over as many equal spans as there are,
by the pressure at the lower yoke. Sticks are dry: the sheet lies between them and the concrete. A batch is laid out for
the worst of its variants, then each judged.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from batterboard.job.schema import Stock
from batterboard.phases.forms.bracing import nail_through
from batterboard.phases.forms.results import Edge, Frame, Lateral, Panel, Sheathing, SplicePlate, Wall, Yoke
from batterboard.phases.forms.shape import Shape, slant_height
from batterboard.quantity import Force, Length, Number, Pressure, inch
from batterboard.record import record
from batterboard.standards import aci347, apa, bracing, nds, tables
from batterboard.working import nan, pi, tan

if TYPE_CHECKING:
    from batterboard.phases.forms.pieces.results import Opening

STEP = 0.5 * inch  # yokes are set to this
WIDEST = 24 * inch  # common practice, no source
CLOSEST = 3 * inch  # two sticks one over the other
TACKED = 2  # nails that keep the sticks of a strapped yoke in their place
MOST_NAILS = 5  # that go into one corner without splitting it; common practice, no source
SHARE = 1 / 360  # of its span that a panel or a stick may give
DRY = 0.0
WET = 1.0

Pressing = tuple[float, float, float]  # the worst of a batch: its height, its weight, its largest pressure
CutOut = Callable[[], Mapping[str, Sequence["Opening"]]]  # what is cut out of each side, asked for by joints only


@record
class Held:
    """What holds the panels of a form together, and where it has them joined."""

    panels: tuple[Panel, ...] = ()
    plates: tuple[SplicePlate, ...] = ()
    sheathing: Sheathing | None = None
    frame: Frame | None = None
    yokes: tuple[Yoke, ...] = ()
    wall: Wall | None = None
    edge: Edge | None = None


@record
class Yokes:
    sheathing: Sheathing
    frame: Frame
    yokes: tuple[Yoke, ...]
    holds: bool  # else it is too wide or too high for yokes of this lumber


def hold(form: Shape, pressed: Lateral, stock: Stock, known: dict[Any, Any], cut_out: CutOut = dict) -> Held:
    """Yokes where they hold, else a wall's studs and wales; stakes at a low edge; a tube holds by itself."""
    if form.kind == "tube":
        return Held()
    if form.kind == "edge":
        from batterboard.phases.forms.edges import edge_of

        joined, _ = _joined(form, "stake", stock, cut_out)
        sheathing, edge = edge_of(joined, pressed, stock)
        return Held(
            panels=joined.panels, plates=_plates(joined, edge.spacing, (), stock), sheathing=sheathing, edge=edge
        )
    joined, stops = _joined(form, "yoke", stock, cut_out)
    made = yokes_of(joined, pressed, stock, known, stops)
    if made.holds or form.kind == "polygon":
        plates = _plates(joined, nan, made.yokes, stock)
        return Held(panels=joined.panels, plates=plates, sheathing=made.sheathing, frame=made.frame, yokes=made.yokes)
    from batterboard.phases.forms.walls import wall_of

    joined, _ = _joined(form, "stud", stock, cut_out)
    sheathing, wall = wall_of(joined, pressed, stock)
    return Held(
        panels=joined.panels, plates=_plates(joined, wall.stud_spacing, (), stock), sheathing=sheathing, wall=wall
    )


def _joined(
    form: Shape, on: Literal["yoke", "stud", "stake"], stock: Stock, cut_out: CutOut
) -> tuple[Shape, tuple[float, ...]]:
    """The form with joints in panels that no sheet yields, and how high up those stand that a yoke has to meet."""
    upright, level = _fits(form)
    if level or (upright and on != "stake"):
        return form, ()
    from batterboard.phases.forms.splices import spliced

    return spliced(form, on, tables.lumber_size(stock.yoke).wide, cut_out)


def _plates(form: Shape, spacing: Length, yokes: tuple[Yoke, ...], stock: Stock) -> tuple[SplicePlate, ...]:
    if not any(panel.joints for panel in form.panels):
        return ()
    from batterboard.phases.forms.splices import plates_of

    return plates_of(form, spacing, yokes, tables.lumber_size(stock.yoke if yokes else stock.brace).wide)


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


def carried(panel: Any, stress: Any, across: bool, spacing: Any, clear: Any, spans: int) -> Pressure:
    """What the panel carries between supports at this spacing [Pa]."""
    return apa.sheathing_pressure(*limits(panel, stress, across, spacing, clear, spans))


def limits(
    panel: Any, stress: Any, across: bool, spacing: Any, clear: Any, spans: int
) -> tuple[Pressure, Pressure, Pressure]:
    """The pressures at which it breaks, its plies roll, and it gives too much [Pa]."""
    grain = panel.along if across else panel.across
    turned = 1.0 if across else 0.0
    t, n = panel.thickness, float(min(spans, 3))
    bending = apa.bending_pressure(stress.F_b, grain.modulus, spacing, n)
    shear = apa.rolling_shear_pressure(stress.F_s, grain.shear_constant, clear, n)
    E, E_e = stress.E_bending, stress.E_shear
    giving = apa.deflection_pressure(E, E_e, grain.inertia, t, spacing, clear, n, turned, SHARE)
    return bending, shear, giving


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


def grain_up(form: Shape) -> bool:
    """The strong way across level yokes, unless its panels come out of a sheet only with the grain level."""
    upright, level = _fits(form)
    return upright or not level


def grain_level(form: Shape) -> bool:
    """The strong way across upright studs, unless its panels come out of a sheet only with the grain upright."""
    upright, level = _fits(form)
    return level or not upright


def _fits(form: Shape) -> tuple[bool, bool]:
    pieces = [part for panel in form.panels for part in (panel.parts if panel.joints else (panel,))]
    tall = max(float(np.max(part.height)) for part in pieces) - 1e-9
    wide = max(float(np.max(part.width)) for part in pieces) - 1e-9
    along, across = form.sheet.size
    return tall <= along and wide <= across, wide <= along and tall <= across


def plywood_of(form: Shape) -> tables.Plywood:
    """The thickest row of the table that is no thicker than the sheet.

    A sheet thinner than all rows is outside the table: it has no strength to reckon with.
    """
    kind = kind_of(form.sheet.of)
    rows = [tables.plywood(name) for name in tables.plywood.names() if kind_of(name) == kind]
    actual = float(np.min(form.thick)) + 1e-4
    thinner = [row for row in rows if row.thickness <= actual]
    return max(thinner, key=lambda row: row.thickness) if thinner else replace(rows[0], S_along=nan, S_across=nan)


def kind_of(name: str) -> str:
    """The grade of form plywood in a sheet's name; Class I where none is named."""
    return next((kind for kind in tables.plywood_stress.names() if name.startswith(f"{kind} ")), "Class I")


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
