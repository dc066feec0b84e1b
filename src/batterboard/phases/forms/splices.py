"""Where is a panel joined that no sheet yields whole?

    joint : Joint(upright=True, at=2.4384, on="stake")      from the left edge of the panel's outside, or from its foot
    plate : SplicePlate("west plate 1", count=4, long=0.33, wide=0.1524)     a strip of the sheet behind a joint

As few parts as the sheets allow, each with its face grain across its supports, each as far as a sheet reaches. A joint
that runs the way the supports do stands on one of them, a yoke, a stud or a stake of its own: there the panel is
reckoned to end. One that crosses the supports carries nothing; plates between them keep it flush. No joint comes close
to a corner or goes through what is cut out. Level joints go round at one height. A batch is joined as its largest, its
openings left out; how strong the parts are stands in `strength`, `walls` and `edges`.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import floor
from typing import TYPE_CHECKING, Literal

import numpy as np

from batterboard.phases.forms.results import Box, CutOut, Joint, Panel, SplicePlate, Yoke
from batterboard.phases.forms.shape import Shape, slant_height
from batterboard.phases.forms.yokes import STEP
from batterboard.quantity import Length, inch
from batterboard.standards import bracing
from batterboard.work.records import Body, Work
from batterboard.working import tan

if TYPE_CHECKING:
    from batterboard.phases.forms.pieces.results import Opening

# Common practice, no source.
FROM_CORNER = 12 * inch
FROM_OPENING = 3 * inch
PLATE = 6 * inch  # how wide, half of it behind each part
SHORTEST = 4 * inch  # of a plate worth screwing on
ROOM = 1 / 4 * inch  # that a plate is shorter than what it goes between

_SLACK = 1e-9


def cut_out(form: Shape, body: Body, lift: int, work: Work) -> Mapping[str, Sequence["Opening"]]:
    """What is cut out of each side of a form, or stands on it as a box; of a batch, whose openings move, nothing."""
    from batterboard.phases.forms.pieces import openings, panels, planes

    if any(np.ndim(value) for value in (form.height, form.along, form.across, form.thick, form.lean)):
        return {}
    made = planes.planes_of(body, form.kind, float(form.height), float(form.thick))
    seen, foot = panels.sights(form, made), float(body.top - form.height)
    found = openings.openings_of(made, body, seen, work, lift, foot)
    if body.blockouts:
        from batterboard.phases.forms.pieces.blockouts import stood_on

        for side, one in stood_on(body, seen, foot):
            found[side].append(one)
    return found


def spliced(
    form: Shape, on: Literal["yoke", "stud", "stake"], stick: Length, cut_out: CutOut
) -> tuple[Shape, tuple[float, ...]]:
    """The form with joints in panels that no sheet yields, and how high up those stand that a yoke has to meet.

    stick : width of a yoke's stick
    """
    grain, other = (float(np.min(side)) for side in form.sheet.size)
    tall, wide = (grain, other) if on == "yoke" else (other, grain)
    openings = cut_out()
    stops, levels = _levels(form, on, tall, stick, openings)
    panels = _apart(form.panels) if stops and form.kind == "box" else form.panels
    shift = _most(form.thick * tan(form.panels[0].bevel))
    made = []
    for panel in panels:
        taken = _taken(openings, panel.sides, 0, shift)
        uprights = _places(_most(panel.width), wide, taken, FROM_CORNER + _most(panel.narrows) / 2) or ()
        row = levels[0 if panel.sides[0] in ("left", "right") else 1]
        joints = (
            *(Joint(upright=True, at=at, on="plates" if on == "yoke" else on) for at in uprights),
            *(Joint(upright=False, at=at, on="yoke" if on == "yoke" else "plates") for at in row),
        )
        made.append(replace(panel, joints=joints))
    return replace(form, panels=tuple(made)), stops


def _levels(
    form: Shape, on: str, tall: float, stick: Length, openings: Mapping[str, Sequence["Opening"]]
) -> tuple[tuple[float, ...], tuple[tuple[float, ...], tuple[float, ...]]]:
    """Heights of the yokes on level joints, and the joints in panels left and right, and in those ahead and back.

    The sticks that run along lie under the pair across: their panels are joined by a stick's width apart.
    """
    h, e, t = _most(form.height), _most(form.lean), _most(form.thick)
    slope, foot = float(slant_height(h, e)) / h, t * e / h  # its outside reaches lower than its inside
    half = float(stick) / 2 if on == "yoke" and form.kind == "box" else 0.0
    every = [side for panel in form.panels for side in panel.sides]
    taken = [(low - half, high + half) for low, high in _taken(openings, every, 1, foot)]
    longest = max(_most(panel.height) for panel in form.panels)
    places = _places(longest, tall - half, taken) or ()
    if on != "yoke":
        return (), (places, places)
    ups = tuple(floor((at - foot) / slope / STEP + _SLACK) * STEP for at in places)
    below, above = (tuple(up * slope + foot + way * half for up in ups) for way in (-1, 1))
    return ups, (below, above)


def _apart(panels: tuple[Panel, ...]) -> tuple[Panel, ...]:
    """Panels left and right by themselves: of a pinwheel on a square all were alike, but their yokes are not."""
    if len(panels) > 1:
        return panels
    (panel,) = panels
    name = panel.mark.rpartition(" ")[0]
    sides = (("A", ("left", "right")), ("B", ("ahead", "back")))
    return tuple(replace(panel, mark=f"{name} {letter}", sides=pair, count=2) for letter, pair in sides)


def _taken(
    openings: Mapping[str, Sequence["Opening"]], sides: Sequence[str], axis: int, shift: float
) -> list[tuple[float, float]]:
    """Where no joint may be, from the edge of the outside. shift : how far the inside begins from there."""
    spans = [[float(point[axis]) for point in o.outline] for side in sides for o in openings.get(side, ())]
    return [(min(span) + shift - FROM_OPENING, max(span) + shift + FROM_OPENING) for span in spans]


def _places(
    long: float, most: float, taken: Sequence[tuple[float, float]], corner: float = FROM_CORNER
) -> tuple[float, ...] | None:
    """Joints along a length, each as far from the last as a sheet reaches: so they are fewest. None: no place left.

    corner : how close to an end they may come; farther at the foot of a panel that narrows
    """
    made: list[float] = []
    last = 0.0
    while long - last > most + _SLACK:
        at = min(last + most, long - corner)
        while (low := next((low for low, high in taken if low + _SLACK < at < high - _SLACK), None)) is not None:
            at = low
        if at < corner or at - last < FROM_CORNER:
            return None
        made.append(at)
        last = at
    return tuple(made)


# ---- plates ----


def plates_of(form: Shape, spacing: Length, yokes: Sequence[Yoke], stick: Length) -> tuple[SplicePlate, ...]:
    """Behind every joint that crosses its supports, cut between them.

    spacing : of uprights;  stick : width of a support
    """
    found: Counter[float] = Counter()
    for panel in form.panels:
        for joint in panel.joints:
            for begin, end in plates_on(panel, joint, form, spacing, yokes, stick):
                found[round(end - begin, 4)] += panel.count
    return tuple(
        SplicePlate(mark=f"{form.name} plate {n}", count=count, long=long, wide=PLATE)
        for n, (long, count) in enumerate(found.items(), 1)
    )


def plates_on(
    panel: Panel, joint: Joint, form: Shape | Box, spacing: Length, yokes: Sequence[Yoke], stick: Length
) -> Iterator[tuple[float, float]]:
    """From where to where plates go along one joint, as joints are measured; none where a support stands on it."""
    if joint.on != "plates":
        return
    gaps = _between_yokes(panel, form, yokes, float(stick)) if joint.upright else _bays(panel, joint, spacing, stick)
    for begin, end in gaps:
        if end - begin - ROOM >= SHORTEST:
            yield begin + ROOM / 2, end - ROOM / 2


def _between_yokes(
    panel: Panel, form: Shape | Box, yokes: Sequence[Yoke], stick: float
) -> Iterator[tuple[float, float]]:
    """What is free on the panel between one yoke's stick and the next, and at its foot and its top."""
    low = -stick / 2 if form.kind == "polygon" else -stick if panel.sides[0] in ("left", "right") else 0.0
    h, e = _most(form.height), _most(panel.narrows / (2 * tan(panel.bevel) if form.kind == "polygon" else 2))
    slope, foot = float(slant_height(h, e)) / h, _most(panel.height) - float(slant_height(h, e))
    begins = 0.0
    for yoke in yokes:
        yield begins * slope + foot, (float(yoke.up) + low) * slope + foot
        begins = float(yoke.up) + low + stick
    yield begins * slope + foot, h * slope


def _bays(panel: Panel, joint: Joint, spacing: Length, stick: Length) -> Iterator[tuple[float, float]]:
    """What is free between the uprights over a level joint."""
    for part in panel.parts:
        if part.low == joint.at:
            bays = int(bracing.uprights(_most(part.width) - _SLACK, _most(spacing))) - 1
            bay = _most(part.width) / bays
            for n in range(bays):
                begins = _most(part.left) + n * bay
                yield begins + float(stick) / 2, begins + bay - float(stick) / 2


def _most(value: Length) -> float:
    return float(np.max(value))
