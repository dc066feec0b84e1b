"""Sheets of an invented gate, with everything a drawing can hold."""

from dataclasses import replace
from math import cos, pi, sin

import pytest

from batterboard.quantity import Length, show
from batterboard.views import drawing as d

FT, IN = 0.3048, 0.0254


def say_us(length: float) -> str:
    return show(length, Length, "us")


def say_si(length: float) -> str:
    return show(length, Length, "si")


def plan(scale: d.Scale) -> tuple[d.Entity, ...]:
    """Two piers on pads, the tie between them, string lines, a leaf, the drive."""
    pier, pad, opening = 22 * IN, 4.5 * FT, 13.5 * FT
    out: list[d.Entity] = []
    centres = (0.0, opening + pier)
    for x in centres:
        out.append(d.Polygon(_about(x, 0, pad, 4 * FT), d.HIDDEN))
        out.append(d.Polygon(_about(x, 0, pier, pier), d.CONCRETE, fill="tone", hatch="concrete"))
        out += [d.BarEnd((x + sx * 4.5 * IN, sy * 4.5 * IN), 0.375 * IN) for sx in (-1, 1) for sy in (-1, 1)]
        out.append(d.CentreLine((x, -2.4 * FT), (x, 2.4 * FT)))
    out.append(d.Polygon(d.rectangle(pier / 2, -6 * IN, centres[1] - pier / 2, 6 * IN), d.HIDDEN))
    out.append(d.Line((-4 * FT, 0), (centres[1] + 4 * FT, 0), d.LINES))
    out.append(d.Arc((pier / 2, 3 * IN), 12.9 * FT, 0, 75, d.HIDDEN))
    out.append(d.Polygon(d.rectangle(pier / 2, 2 * IN, pier / 2 + 12.9 * FT, 4 * IN), d.STEEL))
    edge = (-pad / 2, -2 * FT, centres[1] + pad / 2, 2 * FT)
    inner = tuple(x + s * pier / 2 for x in centres for s in (-1, 1))
    out += d.stack(
        scale,
        edge,
        "below",
        [
            d.Chain((-pad / 2, *inner, centres[1] + pad / 2)),
            d.Chain(centres, layer=d.CHECK),
            d.Chain((-pad / 2, centres[1] + pad / 2)),
        ],
        say_us,
    )
    out += d.stack(
        scale, edge, "left", [d.Chain((-2 * FT, -pier / 2, pier / 2, 2 * FT)), d.Chain((-2 * FT, 2 * FT))], say_us
    )
    out += d.beside(
        scale,
        centres[1] + 2.5 * FT,
        [
            ((centres[1] + 4.5 * IN, 4.5 * IN), '4 bolts 3/4" on a 9" square'),
            ((centres[1] + pier / 2, 8 * IN), 'pier 22" x 22"\nchamfer 3/4"'),
            ((centres[1] + 1.5 * FT, -1.5 * FT), 'pad 4\'-6" x 4\'-0" x 16"'),
            ((centres[1] + 3 * FT, 0), "string line, gate line"),
        ],
    )
    out.append(d.SectionMark((centres[0], 3.2 * FT), (centres[0], -7.8 * FT), "A", "right"))
    out.append(
        d.Linear((-2.25 * FT, 2 * FT), (centres[1] - 2.25 * FT, -2 * FT), (0.9, 1.8 * FT), say_us(5.0), layer=d.CHECK)
    )
    out.append(d.scale_bar(scale, (14 * FT, -9.5 * FT), "us"))
    return tuple(out)


def section(scale: d.Scale) -> tuple[d.Entity, ...]:
    """One pier on its pad in the ground, cut through the middle."""
    pad, pier, top, deep = 4.5 * FT, 22 * IN, 10 * IN, 16 * IN
    bottom = -40 * IN
    out: list[d.Entity] = [
        d.Polygon(
            ((-1.1, 0.0), (-pad / 2, -0.05), (-pad / 2, bottom - 4 * IN), (-1.1, bottom - 4 * IN)),
            d.GROUND,
            hatch="earth",
            outline=False,
        ),
        d.Polygon(
            ((pad / 2, -0.02), (1.1, 0.04), (1.1, bottom - 4 * IN), (pad / 2, bottom - 4 * IN)),
            d.GROUND,
            hatch="earth",
            outline=False,
        ),
        d.GroundLine(((-1.1, 0.0), (-pier / 2, -0.03))),
        d.GroundLine(((pier / 2, -0.02), (1.1, 0.04))),
        d.Polygon(d.rectangle(-pad / 2, bottom - 4 * IN, pad / 2, bottom), d.GROUND, hatch="stone"),
        d.Polygon(d.rectangle(-pad / 2, bottom, pad / 2, bottom + deep), d.CONCRETE, fill="tone", hatch="concrete"),
        d.Polygon(d.rectangle(-pier / 2, bottom + deep, pier / 2, top), d.CONCRETE, fill="tone", hatch="concrete"),
        d.CentreLine((0, bottom - 0.2), (0, top + 0.3)),
    ]
    for x in (-8 * IN, 8 * IN):
        way = 1 if x > 0 else -1
        out.append(d.Polyline(((x + way * 0.25, bottom + 3.5 * IN), (x, bottom + 3.5 * IN), (x, top - 2 * IN)), d.BARS))
    out += [d.BarEnd((x * IN, bottom + 4.5 * IN), 0.31 * IN, d.BARS) for x in range(-24, 25, 8)]
    for y in (2.5, 4.5, 6.5, 14, 22, 30):
        out.append(d.Line((-8.5 * IN, top - y * IN), (8.5 * IN, top - y * IN), d.BARS))
    for x in (-4.5, 4.5):
        out.append(d.Polyline(((x * IN, top + 4 * IN), (x * IN, top - 18 * IN)), d.BOLTS))
    outline = (-pad / 2, bottom - 4 * IN, pad / 2, top + 4 * IN)
    out += d.stack(
        scale,
        outline,
        "below",
        [
            d.Chain((-pad / 2, -pier / 2, -8 * IN, 8 * IN, pier / 2, pad / 2)),
            d.Chain((-pad / 2, 0, pad / 2), layer=d.CHECK),
        ],
        say_us,
    )
    out += d.stack(
        scale,
        (-1.15, bottom, 1.15, top),
        "left",
        [
            d.Chain((bottom - 4 * IN, bottom, bottom + 3 * IN, bottom + deep, 0.0, top, top + 4 * IN)),
            d.Chain((bottom, top)),
        ],
        say_us,
    )
    out += d.beside(
        scale,
        1.2,
        [
            ((8 * IN, -14 * IN), "8 #5, hooked out"),
            ((8.5 * IN, top - 22 * IN), '#3 ties, 3 @ 2" from the top'),
            ((16 * IN, bottom + 4.5 * IN), '#5 @ 8" both ways'),
        ],
        [
            (0.0, "±0 bench mark"),
            (top, '+10" top of pier'),
            (top + 4 * IN, '+14" bolt ends'),
            (bottom, "-3'-4\" hole"),
        ],
    )
    return tuple(out)


def pattern(scale: d.Scale) -> tuple[d.Entity, ...]:
    """A base plate: outline to cut, holes to drill, running marks both ways."""
    half = 6 * IN
    out: list[d.Entity] = [d.Polyline(d.rectangle(-half, -half, half, half), d.CUT, closed=True)]
    for k in range(4):
        x, y = 4.5 * IN * (1 if k in (0, 3) else -1), 4.5 * IN * (1 if k < 2 else -1)
        out.append(d.Circle((x, y), 21 / 32 * IN, d.DRILL))
        out += [d.CentreLine((x - 0.02, y), (x + 0.02, y)), d.CentreLine((x, y - 0.02), (x, y + 0.02))]
    out.append(d.Circle((0, 0), 1.5 * IN, d.CUT))
    out.append(d.Radial((4.5 * IN, 4.5 * IN), 21 / 32 * IN, 40, 'ø 1 5/16" drill', diameter=True, reach=12))
    out.append(d.Radial((0, 0), 1.5 * IN, -60, 'R 1 1/2"', reach=4))
    square = (-half, -half, half, half)
    out += d.running(scale, square, "below", -half, (-4.5 * IN, -4.2 * IN, 0.0, 4.5 * IN, half), say_us)
    out += d.running(scale, square, "left", -half, (-4.5 * IN, 4.5 * IN, half), say_us)
    return tuple(out)


def circle_of_bolts(scale: d.Scale) -> tuple[d.Entity, ...]:
    """A ring of rods for a lamp standard, metric."""
    out: list[d.Entity] = [
        d.Circle((0, 0), 0.3, d.CONCRETE, fill="tone", hatch="concrete"),
        d.Circle((0, 0), 0.127, d.CENTRE),
    ]
    out += [d.BarEnd((0.127 * cos(a), 0.127 * sin(a)), 0.012) for a in (pi / 4 + k * pi / 2 for k in range(4))]
    out.append(d.Radial((0, 0), 0.127, 160, "ø 254 mm, between rods 180 mm", diameter=True, reach=24))
    out += d.stack(
        scale, (-0.3, -0.3, 0.3, 0.3), "above", [d.Chain((-0.3, -0.09, -0.07, 0.09, 0.3)), d.Chain((-0.3, 0.3))], say_si
    )
    out += d.stack(
        scale, (-0.3, -0.3, 0.3, 0.3), "right", [d.Chain((-0.3, -0.09, -0.08, 0.09, 0.3), layer=d.CHECK)], say_si
    )
    out.append(d.BreakLine((-0.4, -0.4), (0.4, -0.4)))
    return tuple(out)


def _about(x: float, y: float, width: float, length: float) -> tuple[d.Point, ...]:
    return d.rectangle(x - width / 2, y - length / 2, x + width / 2, y + length / 2)


def _sheet(name: str, **more: object) -> d.Sheet:
    facts = {
        "job": "Orchard gate, an invented job",
        "job_hash": "3fa9c2d1",
        "date": "2031-04-02",
        "replaces": "81b0e77c",
    }
    return d.Sheet(name=name, **{**facts, "caution": CAUTION, **more})


CAUTION = (
    "Prepared for the builder; local codes and a licensed professional decide. What was assumed stands in the book."
)


@pytest.fixture(scope="session")
def plan_sheet() -> d.Sheet:
    one = _sheet("General plan", page=(1, 4))
    room = d.area(one)
    north = d.NorthArrow((room[2] - 12, room[3] - 14), 70)
    return replace(one, views=(d.fit("PLAN", plan, room, "us"),), marks=(north,))


@pytest.fixture(scope="session")
def section_sheet() -> d.Sheet:
    two = _sheet("Section and base plate", page=(2, 4), paper=d.TABLOID)
    left, right = d.across(d.area(two), 1.5, 1)
    views = (d.fit("SECTION A-A", section, left, "us"), d.fit("BASE PLATE, WEST", pattern, right, "us"))
    return replace(two, views=views)


@pytest.fixture(scope="session")
def rod_sheet() -> d.Sheet:
    three = _sheet("Rods", page=(3, 4), paper=d.A4, landscape=False, system="si")
    upper, _ = d.down(d.area(three), 2, 1)
    return replace(three, views=(d.fit("RODS", circle_of_bolts, upper, "si"),))


@pytest.fixture(scope="session")
def template_pages() -> tuple[d.Sheet, ...]:
    return d.full_size(_sheet("Template, west", page=(4, 4), caution=""), pattern(d.FULL_SIZE))


@pytest.fixture(scope="session")
def sheets(plan_sheet, section_sheet, rod_sheet, template_pages) -> tuple[d.Sheet, ...]:
    return plan_sheet, section_sheet, rod_sheet, *template_pages
