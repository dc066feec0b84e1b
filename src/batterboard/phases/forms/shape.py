"""What shape is the form of a body: panels and chamfer strips?

    W, D    plan sizes along and across;  t : thickness of the sheet
    lap     the panels to the left and right are W wide; those ahead and back run past their edges: D + 2 t
    C       inside corner angle in plan;  a : leg of the top chamfer;  b : leg of the corner strip, along the panels

Corner strips run the whole height, top strips stop against them; where a corner strip ends in a point below the top,
the top strips meet on a hip above it.
"""

from collections.abc import Iterator, Sequence
from typing import Any, Literal

import numpy as np

from batterboard.job.schema import Sheet
from batterboard.phases.forms.results import EndCut, Panel, Strip
from batterboard.quantity import Angle, Area, Length, Number, inch
from batterboard.record import record
from batterboard.standards import tables
from batterboard.work.ground import Ground
from batterboard.work.records import Body, Outline
from batterboard.working import GEOMETRY, cos, formula, maximum, nan, pi, sin, tan

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


def formed_height(body: Body, ground: Ground) -> Any:
    """How high its form stands [m]: all of it, or what is above the lowest ground beside it; None where nothing is."""
    if body.against == "form":
        return body.height
    ground_z = ground.level(*body.frame.out(*body.outline.points())).min(axis=0)
    height = np.minimum(body.top - ground_z, body.height)[()]
    return height if np.all(height >= LEAST_FORMED) else None


def shape(body: Body, height: Length, sheets: Sequence[Sheet]) -> Shape:
    """Panels and strips of the form of one body."""
    o = body.outline
    if o.kind == "round":
        return _shape(body, "tube", "", "the tube is bought; its own strength is its maker's", sheets[0], (), height)
    if o.kind == "polygon":
        wide = o.along * tan(pi / o.sides)
        sheet, t = _sheet(sheets, height, wide)
        panel = Panel(
            mark=f"{body.name} A",
            sides=tuple(str(n) for n in range(1, o.sides + 1)),
            count=o.sides,
            width=bevelled_width(o.along, t, o.sides),
            inside=wide,
            height=height,
            thick=t,
            bevel=pi / o.sides,
            runs_past=False,
        )
        lap = "all panels alike, edges bevelled to meet at the corners"
        return _shape(body, "polygon", lap, "", sheet, (panel,), height, t)
    sheet, t = _sheet(sheets, height, np.maximum(o.along, o.across))
    between = Panel(
        mark=f"{body.name} A",
        sides=("left", "right"),
        count=2,
        width=o.along,
        inside=o.along,
        height=height,
        thick=t,
        bevel=0.0,
        runs_past=False,
    )
    if body.part == "beam":
        lap = "two panels, against the piers at both ends"
        return _shape(body, "edge", lap, "stakes are not sized here", sheet, (between,), height, t)
    past = Panel(
        mark=f"{body.name} B",
        sides=("ahead", "back"),
        count=2,
        width=lapping_width(o.across, t),
        inside=o.across,
        height=height,
        thick=t,
        bevel=0.0,
        runs_past=True,
    )
    lap = f"{past.mark} run past the edges of {between.mark}"
    if body.part == "pier":
        return _shape(body, "box", lap, "", sheet, (between, past), height, t)
    return _shape(body, "edge", lap, "stakes are not sized here", sheet, (between, past), height, t)


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
    return Shape(
        name=body.name,
        kind=kind,
        lap=lap,
        note=note,
        sheet=sheet,
        thick=thick,
        panels=panels,
        strips=tuple(_strips(body.name, o, height)) if kind in ("box", "polygon") or body.part == "slab" else (),
        inside_diameter=o.along if kind == "tube" else nan,
        area=pi * o.along * height if kind == "tube" else sum(p.count * p.inside * p.height for p in panels),
        along=o.along,
        across=o.across,
    )


def _sheet(sheets: Sequence[Sheet], height: Any, width: Any) -> tuple[Sheet, Any]:
    """The first sheet that a panel comes out of, else the largest; and its actual thickness."""
    sizes = sorted((float(np.max(height)), float(np.max(width))))

    def fits(sheet: Sheet) -> bool:
        return all(panel <= side + 1e-9 for panel, side in zip(sizes, sorted(sheet.size), strict=True))

    largest = max(sheets, key=lambda sheet: sheet.size[0] * sheet.size[1])
    sheet = next((one for one in sheets if fits(one)), largest)
    if sheet.thick is not None:
        return sheet, sheet.thick
    try:
        return sheet, tables.sheet(sheet.of).actual
    except tables.NotTabulated:
        return sheet, tables.plywood(sheet.of).thickness


# ---- chamfer strips ----


def _strips(name: str, o: Outline, height: Length) -> Iterator[Strip]:
    a, b = o.top, o.corners
    sides = 4 if o.kind == "rectangle" else o.sides
    C = pi * (sides - 2) / sides
    topped, dressed = bool(np.any(a > 0)), bool(np.any(b > 0))
    if dressed:
        cut = EndCut(against="the top chamfer", down="each leg in turn", mitre=0.0, bevel=pi / 4)
        yield Strip(
            mark=f"{name} corner",
            edge="corner",
            leg=b,
            face=facet_width(b, C),
            count=sides,
            long=corner_strip_long(height, a, b, C),
            short=corner_strip_short(height, a),
            cuts=(cut,) if topped else (),
        )
    if not topped:
        return
    cuts = []
    if dressed:
        cuts.append(EndCut(against="the corner strip", down="the top leg", mitre=C / 2, bevel=0.0))
    if np.any(b < reaching_leg(a, C)):
        cuts.append(EndCut(against="the next top strip", down="the top leg", mitre=(pi - C) / 2, bevel=0.0))
    lengths = {"": o.along} if o.kind == "rectangle" else {"": o.along * tan(pi / sides)}
    if o.kind == "rectangle" and not np.all(o.along == o.across):
        lengths = {" along": o.along, " across": o.across}
    for way, side in lengths.items():
        yield Strip(
            mark=f"{name} top{way}",
            edge="top",
            leg=a,
            face=facet_width(a, pi / 2),
            count=sides // len(lengths),
            long=top_strip_long(side, a, b, C),
            short=top_strip_short(side, a, b, C),
            cuts=tuple(cuts),
        )


@formula(source=GEOMETRY)
def lapping_width(D: Length, t: Length) -> Length:
    """Width of a panel that runs past the edges of its two neighbours [m].

    t : actual thickness of the sheet.
    """
    B = D + 2 * t
    return B


@formula(source=GEOMETRY, limits="n >= 3")
def bevelled_width(F: Length, t: Length, n: Number) -> Length:
    """Outside width of a panel of a regular box: n sides, F across its inside flats, edges bevelled by 180 / n [m]."""
    B = (F + 2 * t) * tan(pi / n)
    return B


@formula(source=GEOMETRY)
def facet_width(b: Length, C: Angle) -> Length:
    """Width of the face that a strip of legs b leaves on a corner of inside angle C [m]."""
    f = 2 * b * sin(C / 2)
    return f


@formula(source=GEOMETRY)
def reaching_leg(a: Length, C: Angle) -> Length:
    """The leg of a corner strip from which its facet reaches the top through a top chamfer of leg a [m]."""
    b = 2 * a / sin(C)
    return b


@formula(source=GEOMETRY)
def corner_strip_long(H: Length, a: Length, b: Length, C: Angle) -> Length:
    """Length of a corner strip at the middle of its face, under a top chamfer of leg a [m]."""
    t = maximum(a - b * sin(C) / 2, 0)
    L = H - t
    return L


@formula(source=GEOMETRY)
def corner_strip_short(H: Length, a: Length) -> Length:
    """Length of a corner strip at its two edges on the panels [m]."""
    L = H - a
    return L


@formula(source=GEOMETRY)
def top_strip_long(s: Length, a: Length, b: Length, C: Angle) -> Length:
    """Longest line of a top strip between corner strips of leg b on a side s of the form, mitred where b is 0 [m]."""
    e_point = b * cos(C / 2) ** 2
    e_inner = b - a * tan(C / 2)
    e = maximum(e_point, e_inner)
    L = s - 2 * e
    return L


@formula(source=GEOMETRY)
def top_strip_short(s: Length, a: Length, b: Length, C: Angle) -> Length:
    """Shortest line of a top strip: on the panel against a large corner strip, at its inner edge where mitred [m]."""
    e = maximum(b, a / tan(C / 2))
    L = s - 2 * e
    return L
