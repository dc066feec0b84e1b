"""What shape is the form of a body, and how large are its panels?

    W, D    plan sizes along and across;  t : thickness of the sheet
    past    the panels to the left and right are W wide; those ahead and back run past their edges: D + 2 t
    pinwheel  each runs past the panel to its right and butts the one to its left: W + t and D + t
    e       how far each side of a pier leans in over the height of its form: panels narrow by 2 e, and are taller

Panels by kind, for lists, sheets and variants; the single pieces with all their edges and holes stand in `pieces`.
"""

from collections.abc import Sequence
from typing import Any, Literal

import numpy as np

from batterboard.job.schema import Lap, Sheet
from batterboard.phases.forms.results import Panel, Strip
from batterboard.phases.forms.strips import strips_of
from batterboard.quantity import Area, Length, Number, ft, inch
from batterboard.record import record
from batterboard.standards import tables
from batterboard.work.ground import Ground
from batterboard.work.records import Body
from batterboard.working import GEOMETRY, formula, nan, pi, sqrt, tan

USUAL_SHEET = Sheet(of="3/4 in plywood", size=(8 * ft, 4 * ft))  # where the job names none
ROUND_ABOUT = ("ahead", "left", "back", "right")
STATIONS = 49  # along a beam where the ground is asked
LEAST_FORMED = 1 * inch  # lower than this above the ground, concrete is struck off by hand


@record
class Shape:
    name: str
    kind: Literal["box", "polygon", "tube", "edge"]
    lap: str
    note: str
    sheet: Sheet
    thick: Length
    panels: tuple[Panel, ...]
    strips: tuple[Strip, ...]
    inside_diameter: Length
    area: Area
    along: Length  # inside the form
    across: Length
    height: Length
    lean: Length  # how far each side comes in over that height


def formed_height(body: Body, ground: Ground) -> Any:
    """How high its form stands [m]: all of it, or what is above the lowest ground beside it; None where nothing is."""
    if body.against == "form":
        return body.height
    ground_z = ground.level(*body.frame.out(*_beside(body, ground))).min(axis=0)
    height = np.minimum(body.top - ground_z, body.height)[()]
    return height if np.all(height >= LEAST_FORMED) else None


def _beside(body: Body, ground: Ground) -> tuple[Any, Any]:
    """Where the ground beside it is asked: at its corners; all along a beam, where it may lie lower."""
    x, y = body.outline.points()
    if body.part != "beam" or ground.slope_x is not None:
        return x, y
    share = np.linspace(0.0, 1.0, STATIONS).reshape((-1,) + (1,) * (np.ndim(x) - 1))
    return (
        np.concatenate([x[a] + (x[b] - x[a]) * share for a, b in ((1, 0), (2, 3))]),
        np.concatenate([y[a] + (y[b] - y[a]) * share for a, b in ((1, 0), (2, 3))]),
    )


def shape(body: Body, height: Length, sheets: Sequence[Sheet], lap: Lap = "past") -> Shape:
    """Panels and strips of the form of one body. lap : how the panels of a box meet in its corners."""
    o = body.section(body.top - height)
    if o.kind == "round":
        return _shape(body, "tube", "", "the tube is bought; its own strength is its maker's", sheets[0], (), height)
    if o.kind == "polygon":
        wide = o.along * tan(pi / o.sides)
        tall, narrows, sheet, t = _leaning(body, height, sheets, wide, wide, 0)
        panel = Panel(
            mark=f"{body.name} A",
            sides=tuple(str(n) for n in range(1, o.sides + 1)),
            count=o.sides,
            width=bevelled_width(o.along, _level(t, body, height), o.sides),
            inside=wide,
            height=tall,
            narrows=narrows * tan(pi / o.sides),
            thick=t,
            bevel=pi / o.sides,
            runs_past=0,
        )
        words = "all panels alike, edges bevelled to meet at the corners"
        return _shape(body, "polygon", words, "", sheet, (panel,), height, t)
    laps = 0 if body.part == "beam" else 1 if lap == "pinwheel" else 2
    tall, narrows, sheet, t = _leaning(body, height, sheets, o.along, o.across, laps)

    def panel_of(letter: str, sides: tuple[str, ...], inside: Length, runs_past: int) -> Panel:
        return Panel(
            mark=f"{body.name} {letter}",
            sides=sides,
            count=len(sides),
            width=lapping_width(inside, _level(t, body, height), runs_past) if runs_past else inside,
            inside=inside,
            height=tall,
            narrows=narrows,
            thick=t,
            bevel=0.0,
            runs_past=runs_past,
        )

    if body.part == "beam":
        words = "two panels, against the piers at both ends"
        return _shape(body, "edge", words, "", sheet, (panel_of("A", ("left", "right"), o.along, 0),), height, t)
    if lap == "pinwheel":
        words = "each panel runs past the one to its right, seen from outside, and butts the one to its left"
        if np.all(o.along == o.across):
            panels: tuple[Panel, ...] = (panel_of("A", ROUND_ABOUT, o.along, 1),)
        else:
            panels = panel_of("A", ("left", "right"), o.along, 1), panel_of("B", ("ahead", "back"), o.across, 1)
    else:
        words = f"{body.name} B run past the edges of {body.name} A"
        panels = panel_of("A", ("left", "right"), o.along, 0), panel_of("B", ("ahead", "back"), o.across, 2)
    kind: Literal["box", "edge"] = "box" if body.part in ("pier", "step") else "edge"
    return _shape(body, kind, words, "", sheet, panels, height, t)  # no stake goes through the fresh pad under a step


def _shape(
    body: Body,
    kind: Literal["box", "polygon", "tube", "edge"],
    lap: str,
    note: str,
    sheet: Sheet,
    panels: tuple[Panel, ...],
    height: Length,
    thick: Length = nan,
) -> Shape:
    o = body.outline
    faces = sum(p.count * (p.inside - p.narrows / 2) for p in panels)
    dressed = kind != "edge" or body.part == "slab"
    return Shape(
        name=body.name,
        kind=kind,
        lap=lap,
        note=note,
        sheet=sheet,
        thick=thick,
        panels=panels,
        strips=tuple(strips_of(body, height, kind, thick)) if dressed else (),
        inside_diameter=o.along if kind == "tube" else nan,
        area=pi * o.along * height if kind == "tube" else faces * slant_height(height, _lean(body, height)),
        along=o.along,
        across=o.across,
        height=height,
        lean=_lean(body, height),
    )


def _leaning(
    body: Body, height: Length, sheets: Sequence[Sheet], along: Length, across: Length, laps: int
) -> tuple[Any, Any, Sheet, Any]:
    """How tall its panels are and by how much they narrow, the sheet they come out of and its thickness."""
    e = _lean(body, height)
    tall = height if body.upright else slant_height(height, e)
    sheet, t = _sheet(sheets, float(np.max(tall)), float(np.max(along)), float(np.max(across)), laps)
    return tall if body.upright else leaning_panel(height, e, t), 2 * e, sheet, t


def _level(t: Length, body: Body, height: Length) -> Any:
    """The thickness of a panel as a level cut through it shows."""
    return t if body.upright else t * slant_height(height, _lean(body, height)) / height


def _lean(body: Body, height: Length) -> Any:
    """How far each side comes in over the height of its form."""
    return body.outline.batter * height / body.height


def _sheet(sheets: Sequence[Sheet], height: float, along: float, across: float, laps: int) -> tuple[Sheet, Any]:
    """The first sheet that all panels come out of, else the largest; and its actual thickness."""
    for sheet in sheets:
        t = _thick(sheet)
        wide = max(along + (laps == 1) * float(np.max(t)), across + laps * float(np.max(t)))
        low, high = sorted(sheet.size)
        if min(height, wide) <= low + 1e-9 and max(height, wide) <= high + 1e-9:
            return sheet, t
    largest = max(sheets, key=lambda sheet: sheet.size[0] * sheet.size[1])
    return largest, _thick(largest)


def _thick(sheet: Sheet) -> Any:
    if sheet.thick is not None:
        return sheet.thick
    try:
        return tables.sheet(sheet.of).actual
    except tables.NotTabulated:
        return tables.plywood(sheet.of).thickness


# ---- widths ----


@formula(source=GEOMETRY, limits="n >= 0")
def lapping_width(D: Length, t: Length, n: Number) -> Length:
    """Width of a panel that runs past the edges of n of its two neighbours [m].

    t : actual thickness of the sheet.
    """
    B = D + n * t
    return B


@formula(source=GEOMETRY)
def slant_height(H: Length, e: Length) -> Length:
    """How long a side is that leans in by e over a height H, measured along its face [m]."""
    s = sqrt(H**2 + e**2)
    return s


@formula(source=GEOMETRY)
def leaning_panel(H: Length, e: Length, t: Length) -> Length:
    """How long a panel of such a side is cut, its foot and its top being level cuts through the thickness t [m]."""
    s = slant_height(H, e)
    L = s + t * e / H
    return L


@formula(source=GEOMETRY, limits="n >= 3")
def bevelled_width(F: Length, t: Length, n: Number) -> Length:
    """Outside width of a panel of a regular box: n sides, F across its inside flats, edges bevelled by 180 / n [m]."""
    B = (F + 2 * t) * tan(pi / n)
    return B
