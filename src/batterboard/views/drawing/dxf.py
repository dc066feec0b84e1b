"""The views as DXF: full size, side by side, for any drawing program and for the plate cutter.

Dimensions are real DIMENSION entities: they measure the true length and show the job's own writing of it. How they
look is our own strokes in their blocks, so that every program shows the same. The unit is the inch or the millimetre
and is said in the file.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from io import StringIO
from typing import Any

from batterboard.views.drawing.compass import along, away, bearing
from batterboard.views.drawing.layers import LAYERS, Layer, Scale
from batterboard.views.drawing.model import Circle, Entity, Linear, Ordinate, Point, Polygon, Radial, Sheet, View
from batterboard.views.drawing.page import extent, name_under
from batterboard.views.drawing.strokes import (
    HEIGHT,
    ON_PAPER,
    TEXT_GAP,
    TICK,
    WITNESS_GAP,
    WITNESS_OVER,
    Mark,
    Placement,
    Round,
    Scribble,
    Stroke,
    Words,
    strokes,
)

_UNITS = {"us": (1, 1 / 0.0254), "si": (4, 1000.0)}  # $INSUNITS, units in a metre
_COLOURS = {"graphite": 7, "soft": 8, "string": 5, "red": 1}
_TONE = 254
_HATCHES = {"concrete": ("AR-CONC", 0.9), "earth": ("EARTH", 26.0), "stone": ("GRAVEL", 5.0)}  # scale: units as mm
_DIMENSIONS = (Linear, Ordinate, Radial)
_BETWEEN = 40.0  # views, side by side [mm of paper]


@dataclass(frozen=True)
class _Desk:
    """Where and how large a view is written; one millimetre of its paper is `k` units."""

    space: Any
    document: Any
    scale: Scale
    units: float  # in a metre
    right: float

    @property
    def k(self) -> float:
        return self.scale.ratio / 1000 * self.units

    @property
    def where(self) -> Placement:
        return Placement(self.scale.mm)

    def point(self, paper: Point) -> Point:
        return paper[0] * self.k + self.right, paper[1] * self.k

    @property
    def style(self) -> str:
        return f"SCALE_1_{self.scale.ratio:g}".replace(".", "_")


def dxf(sheet: Sheet, only: tuple[Layer, ...] = ()) -> bytes:
    """The sheet's views in model space, full size; `only` keeps some layers, as for a cutter: (CUT, DRILL)."""
    from ezdxf._options import options
    from ezdxf.filemanagement import new

    options.write_fixed_meta_data_for_testing = True  # no clock and no random marks: same sheet, same bytes
    code, units = _UNITS[sheet.system]
    document = new("R2010", units=code)
    document.header["$MEASUREMENT"] = 0 if sheet.system == "us" else 1
    document.styles.add("LETTERING", font="DejaVuSansMono.ttf")
    used = {entity.layer for view in sheet.views for entity in view.entities + view.around}
    for layer in LAYERS:
        if not only or (layer in only and layer in used):
            _add_layer(document, layer)
    space, right = document.modelspace(), 0.0
    corners: list[Point] = []
    for view in sheet.views:
        loose = replace(view, at=(0.0, 0.0), clip=None)
        left, bottom, end, top = extent(loose, sheet.system)
        desk = _Desk(space, document, view.scale, units, 0.0)
        if corners:  # the first view keeps its own zero
            desk = replace(desk, right=right + (_BETWEEN - left) * desk.k)
        _write_view(desk, loose, sheet.system, only)
        corners += [desk.point((left, bottom)), desk.point((end, top))]
        right = corners[-1][0]
    if corners:
        low, high = (tuple(f(point[i] for point in corners) for i in (0, 1)) for f in (min, max))
        middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
        document.set_modelspace_vport(max(high[1] - low[1], (high[0] - low[0]) / 1.6) * 1.05, middle)
    stream = StringIO()
    document.write(stream)
    return stream.getvalue().encode("utf-8", "replace")


def _add_layer(document: Any, layer: Layer) -> None:
    linetype = "CONTINUOUS"
    if layer.dashes:
        linetype = f"{layer.name}_DASHES"
        steps = [length * (-1 if i % 2 else 1) for i, length in enumerate(layer.dashes)]
        document.linetypes.add(linetype, [sum(layer.dashes), *steps], description=f"for {layer.name}")
    weight = round(layer.weight * 100)
    document.layers.add(layer.name, color=_COLOURS[layer.ink], linetype=linetype, lineweight=weight)


def _write_view(desk: _Desk, view: View, system: str, only: tuple[Layer, ...]) -> None:
    _add_style(desk, system)
    kept = [e for e in view.entities + view.around if not only or e.layer in only]
    for entity in sorted(kept, key=lambda e: LAYERS.index(e.layer)):
        _write(desk, entity)
    if not only:
        for entity in name_under(view, system):
            _write_marks(desk, desk.space, strokes(entity, ON_PAPER))


def _add_style(desk: _Desk, system: str) -> None:
    """For whoever edits a dimension later: it will look as ours do."""
    if desk.style in desk.document.dimstyles:
        return
    style = desk.document.dimstyles.add(desk.style).dxf
    style.dimscale, style.dimlfac = desk.k, 1.0
    style.dimtxt, style.dimgap, style.dimtsz, style.dimasz = HEIGHT, TEXT_GAP, TICK / 2, TICK
    style.dimexo, style.dimexe, style.dimtad, style.dimtih, style.dimtoh = WITNESS_GAP, WITNESS_OVER, 1, 0, 0
    style.dimlunit, style.dimdec = (4, 4) if system == "us" else (2, 0)  # feet and inches to 1/16, whole millimetres
    style.dimtxsty = "LETTERING"


def _write(desk: _Desk, entity: Entity) -> None:
    if isinstance(entity, _DIMENSIONS):
        _write_dimension(desk, entity)
        return
    plain = replace(entity, hatch="") if isinstance(entity, Polygon | Circle) else entity
    _write_marks(desk, desk.space, strokes(plain, desk.where))
    if isinstance(entity, Polygon | Circle) and entity.hatch:
        _write_hatch(desk, entity)


def _write_hatch(desk: _Desk, entity: Polygon | Circle) -> None:
    from ezdxf.tools import pattern

    name, size = _HATCHES[entity.hatch]
    hatch = desk.space.add_hatch(dxfattribs={"layer": entity.layer.name, "lineweight": 13})
    hatch.set_pattern_fill(name, color=256, scale=size * desk.k, definition=pattern.load(measurement=0)[name])
    if isinstance(entity, Circle):
        centre = desk.point(desk.where.on_paper(entity.centre))
        hatch.paths.add_edge_path().add_arc(centre, entity.radius * desk.units, 0, 360)
    else:
        points = [desk.point(desk.where.on_paper(point)) for point in entity.points]
        hatch.paths.add_polyline_path(points, is_closed=True)


def _write_dimension(desk: _Desk, entity: Linear | Ordinate | Radial) -> None:
    """The entity measures; the marks in its block are ours."""
    block = desk.document.blocks.new_anonymous_block("D")
    marks = tuple(strokes(entity, desk.where))
    _write_marks(desk, block, marks)
    words = next(mark for mark in marks if isinstance(mark, Words))
    facts, length = _facts(desk, entity)
    middle = along(words.at, words.angle + 90, words.height / 2)
    facts |= {
        "dimtype": facts["dimtype"] + 32 + 128,  # the block is its own; the text stands where we say
        "text": _escaped(entity.text),
        "text_midpoint": desk.point(middle),
        "attachment_point": 5,
        "actual_measurement": length * desk.units,
        "dimstyle": desk.style,
        "geometry": block.name,
        "layer": entity.layer.name,
    }
    desk.space.new_entity("DIMENSION", facts)


def _facts(desk: _Desk, entity: Linear | Ordinate | Radial) -> tuple[dict[str, Any], float]:
    """Kind and points of a DIMENSION, and what it measures [m]."""

    def at(point: Point) -> Point:
        return desk.point(desk.where.on_paper(point))

    if isinstance(entity, Linear):
        angle = bearing(entity.a, entity.b) if entity.angle is None else entity.angle
        length = abs(away(entity.b, entity.a, angle - 90))
        points = {"defpoint": at(entity.base), "defpoint2": at(entity.a), "defpoint3": at(entity.b)}
        return {"dimtype": 1 if entity.angle is None else 0, "angle": angle, **points}, length
    if isinstance(entity, Ordinate):
        i = 0 if entity.axis == "x" else 1
        points = {"defpoint": at(entity.origin), "defpoint2": at(entity.feature), "defpoint3": at(entity.end)}
        return {"dimtype": 6 if i else 6 + 64, **points}, entity.feature[i] - entity.origin[i]
    rim = along(entity.centre, entity.angle, entity.radius)
    if entity.diameter:
        far = along(entity.centre, entity.angle, -entity.radius)
        return {"dimtype": 3, "defpoint": at(far), "defpoint4": at(rim)}, 2 * entity.radius
    return {"dimtype": 4, "defpoint": at(entity.centre), "defpoint4": at(rim)}, entity.radius


def _write_marks(desk: _Desk, space: Any, marks: Iterable[Mark]) -> None:
    for mark in marks:
        look: dict[str, Any] = {"layer": mark.layer.name}
        if mark.layer.dashes:
            look["ltscale"] = desk.k
        if isinstance(mark, Stroke | Round | Scribble) and mark.weight is not None:
            look["lineweight"] = round(mark.weight * 100)
        match mark:
            case Words():
                _write_words(desk, space, mark, look)
            case Scribble():
                for line in mark.lines:
                    space.add_lwpolyline([desk.point(point) for point in line], dxfattribs=look)
            case Stroke():
                points = [desk.point(point) for point in mark.points]
                if mark.fill in ("tone", "solid"):
                    _write_fill(space, mark, look).paths.add_polyline_path(points, is_closed=True)
                if mark.pen:
                    space.add_lwpolyline(points, close=mark.closed, dxfattribs=look)
            case Round():
                centre, radius = desk.point(mark.centre), mark.radius * desk.k
                if mark.fill in ("tone", "solid"):
                    _write_fill(space, mark, look).paths.add_edge_path().add_arc(centre, radius, 0, 360)
                if mark.whole and mark.pen:
                    space.add_circle(centre, radius, dxfattribs=look)
                elif mark.pen:
                    space.add_arc(centre, radius, mark.start, mark.end, dxfattribs=look)


def _write_fill(space: Any, mark: Stroke | Round, look: dict[str, Any]) -> Any:
    return space.add_hatch(color=_TONE if mark.fill == "tone" else 256, dxfattribs={"layer": look["layer"]})


def _write_words(desk: _Desk, space: Any, words: Words, look: dict[str, Any]) -> None:
    from ezdxf.enums import TextEntityAlignment as Align

    side = {"left": Align.LEFT, "middle": Align.CENTER, "right": Align.RIGHT}[words.side]
    text = words.text.replace("%%", "% %")  # two of them would begin a code
    look = {**look, "style": "LETTERING", "rotation": words.angle}
    space.add_text(text, height=words.height * desk.k, dxfattribs=look).set_placement(desk.point(words.at), align=side)


def _escaped(text: str) -> str:
    """A dimension's text may hold codes: ours holds none."""
    for code in ("\\", "{", "}"):
        text = text.replace(code, "\\" + code)
    return text.replace("<>", "< >").replace("%%", "% %")
