"""Drawings: one model, two small writers.

    layers    the pencils, papers and scales
    model     Sheet, View and what can stand on them
    placing   dimensions and notes that keep out of each other's way
    page      the frame, what fits, what overlaps
    tiles     full size over several pages, with a square to check the printer by
    svg, dxf  the writers

A sheet in twenty lines. Lengths are metres in a view, millimetres on paper; what a length is called is asked of `say`:

    from dataclasses import replace
    from batterboard.quantity import Length, show
    from batterboard.views import drawing as d

    def say(length):
        return show(length, Length, "us")

    def pier(scale):
        outline = (0.0, 0.0, 0.559, 1.016)
        return (
            d.Polygon(d.rectangle(*outline), d.CONCRETE, fill="tone", hatch="concrete"),
            d.CentreLine((0.279, 0.0), (0.279, 1.016)),
            *d.stack(scale, outline, "below", [d.Chain((0.0, 0.279, 0.559)), d.Chain((0.0, 0.559))], say),
            *d.beside(scale, 0.7, [((0.5, 0.6), "8 #5")], [(0.0, "ground"), (1.016, "top of pier")]),
        )

    sheet = d.Sheet(name="Pier", job="Orchard gate", job_hash="3fa9c2d1", page=(1, 2))
    view = d.fit("PIER", pier, d.area(sheet), "us")
    sheet = replace(sheet, views=(view,))
    d.svg(sheet)             # text of an SVG file
    d.dxf(sheet)             # bytes of a DXF file, full size

Everything is frozen; what is drawn later in LAYERS covers what is drawn before. `overlaps(sheet)` and `outside(sheet)`
are empty for a sheet that may be printed.
"""

from batterboard.views.drawing.dxf import dxf
from batterboard.views.drawing.layers import (
    A3,
    A4,
    BARS,
    BOLTS,
    CENTRE,
    CHECK,
    CONCRETE,
    CUT,
    DIMS,
    DRILL,
    FULL_SIZE,
    GROUND,
    HIDDEN,
    LAYERS,
    LETTER,
    LINES,
    NOTES,
    PAPERS,
    PIPES,
    PLANNED,
    SCALES,
    SHEET,
    STEEL,
    TABLOID,
    TIMBER,
    Layer,
    Paper,
    Scale,
)
from batterboard.views.drawing.model import (
    Arc,
    BarEnd,
    Box,
    BreakLine,
    CentreLine,
    Circle,
    Entity,
    GroundLine,
    Leader,
    Level,
    Line,
    Linear,
    MatchMark,
    NorthArrow,
    Ordinate,
    Point,
    Polygon,
    Polyline,
    Radial,
    ScaleBar,
    SectionMark,
    Sheet,
    Text,
    View,
    rectangle,
)
from batterboard.views.drawing.page import across, area, centred, cut, down, extent, fit, outside, overlaps, shown
from batterboard.views.drawing.placing import Chain, beside, running, scale_bar, stack
from batterboard.views.drawing.svg import svg
from batterboard.views.drawing.tiles import check_square, full_size

__all__ = [
    "A3", "A4", "Arc", "BARS", "BOLTS", "BarEnd", "Box", "BreakLine", "CENTRE", "CHECK", "CONCRETE", "CUT",
    "CentreLine", "Chain", "Circle", "DIMS", "DRILL", "Entity", "FULL_SIZE", "GROUND", "GroundLine", "HIDDEN",
    "LAYERS", "LETTER", "LINES", "Layer", "Leader", "Level", "Line", "Linear", "MatchMark", "NOTES", "NorthArrow",
    "Ordinate", "PAPERS", "PIPES", "PLANNED", "Paper", "Point", "Polygon", "Polyline", "Radial", "SCALES", "SHEET",
    "STEEL", "Scale", "ScaleBar", "SectionMark", "Sheet", "TABLOID", "TIMBER", "Text", "View", "across", "area",
    "beside", "centred", "check_square", "cut", "down", "dxf", "extent", "fit", "full_size", "outside", "overlaps",
    "rectangle", "running", "scale_bar", "shown", "stack", "svg",
]  # fmt: skip
