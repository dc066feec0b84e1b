"""The template: its holes dimensioned, what the bolt's length is spent on, and a print at full size.

Points are metres in the plate's own axes, ahead to the right, seen from above: the face that is marked UP.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import product
from math import isfinite
from typing import Any

from batterboard.phases.template import Pattern
from batterboard.views import drawing as d
from batterboard.views.drawings import labels, shapes
from batterboard.views.drawings.board import TAPE, Board, alike, even
from batterboard.work.names import among

_RING, _DRAWN_RING = 0.0025, 0.9  # of a match mark: as it is punched [m], as it is drawn to scale [mm on paper]
# The centre lines run on past two edges: there they are named, and no seam of the pages covers them. The first of these
# with which no page cuts a text is taken [m].
_PAST = (0.016, 0.024, 0.012)
_MOST = 6  # pages: a larger template is drilled from its dimensions, or from the DXF


@dataclass(frozen=True)
class Template:
    """One drilled pattern: the sheet that dimensions it, and its pages at full size."""

    name: str
    sheet: d.Sheet
    pages: tuple[d.Sheet, ...]


def templates(board: Board) -> Iterator[Template]:
    """Plates that are drilled alike share a template."""
    for patterns in alike(board.plan.template.patterns, _look):
        name = ", ".join(f"{pattern.name} on {pattern.on}" for pattern in patterns)
        hole = _Drilled(board, patterns[0], name)
        blank = board.sheet(f"Template, {name}")
        left, right = d.across(d.area(blank), 2.05, 1.0, gap=4.0)
        views = (
            board.fit("UP ON THIS FACE", hole.draw, hole.size, left, partial(_labelled, hole)),
            board.fit("BOLT", hole.bolt, hole.bolt_size, right),
        )
        names = [p.name for p in patterns]
        pages = (*_pages(board, hole, names), *_pages(board, replace(hole, mirrored=True), names))
        yield Template(name, replace(blank, views=views, marks=() if pages else _too_large(blank)), pages)


def _too_large(blank: d.Sheet) -> tuple[d.Entity, ...]:
    """What stands on the sheet in place of full-size pages."""
    left, bottom, _, _ = d.area(blank)
    told = "too large for a print at full size: mark it out from two edges by the drilling table, or have it cut"
    return (d.Text((left + 2.0, bottom + 2.0), told, anchor="left bottom"),)


def _look(pattern: Pattern) -> tuple[object, ...]:
    points = [(even(p.x), even(p.y), even(p.found_x), even(p.found_y)) for p in pattern.points]
    sizes = (pattern.along, pattern.across, pattern.thick, pattern.hole, pattern.diameter, pattern.budget.length)
    return (pattern.rod, pattern.line, *points, *(even(v) for v in sizes))


def _pages(board: Board, hole: "_Drilled", names: list[str]) -> tuple[d.Sheet, ...]:
    """At full size, the marks where no page cuts them and none has them on its check square."""
    called = among(names) if len(names) < 3 else f"{names[0]} + {len(names) - 1}"
    blank = board.sheet(f"Template {'mirrored ' if hole.mirrored else ''}1:1, {called}")
    tries: list[tuple[d.Sheet, ...]] = []
    for named, past, (x, y) in product((True, False), _PAST, _SPOTS):
        drawn = tuple(hole.full(x, y, past, named))
        pages = d.full_size(blank, tuple(map(_mirrored, drawn)) if hole.mirrored else drawn)
        if len(pages) > _MOST:
            return ()
        if not any(d.overlaps(page) or d.cut(page) or _parted(page, hole.told) for page in pages):
            return pages
        tries.append(pages)
    return min(tries, key=lambda pages: sum(len(d.overlaps(page)) + len(d.cut(page)) for page in pages))


def _mirrored(entity: d.Entity) -> d.Entity:
    """The same seen from below: ahead is to the left, and every text still reads."""
    flipped: dict[str, Any] = {}
    for name in ("a", "b", "at", "centre"):
        if hasattr(entity, name):
            x, y = getattr(entity, name)
            flipped[name] = (-x, y)
    if isinstance(entity, d.Polygon | d.Polyline):
        flipped["points"] = tuple((-x, y) for x, y in entity.points)
    return replace(entity, **flipped)


def _parted(page: d.Sheet, told: str) -> bool:
    """Whether a page shows some lines of the marks without the others."""
    lines = told.split("\n")
    return 0 < sum(line in d.shown(page) for line in lines) < len(lines)


# Where the marks of a full-size print may stand, in shares of the plate's half sides from its middle.
_SPOTS = tuple((x, y) for x in (-0.45, 0.45, 0.0, -0.3, 0.3) for y in (0.25, -0.3, 0.5, -0.5, 0.05))


@dataclass(frozen=True)
class _Drilled:
    board: Board
    pattern: Pattern
    name: str
    mirrored: bool = False  # seen from below, for the plate's underside

    @property
    def edge(self) -> d.Box:
        a, c = float(self.pattern.along) / 2, float(self.pattern.across) / 2
        return -a, -c, a, c

    @property
    def size(self) -> tuple[float, float]:
        return float(self.pattern.along), float(self.pattern.across)

    @property
    def holes(self) -> dict[int, d.Point]:
        return {point.number: (float(point.x), float(point.y)) for point in self.pattern.points}

    def plate(self) -> Iterator[d.Entity]:
        """What is cut and drilled, with its centre lines."""
        left, bottom, right, top = self.edge
        yield d.Polygon(d.rectangle(*self.edge), d.CUT)
        yield d.CentreLine((left, 0.0), (right, 0.0))
        yield d.CentreLine((0.0, bottom), (0.0, top))
        r = float(self.pattern.hole) / 2
        for x, y in self.holes.values():
            yield d.Circle((x, y), r, d.DRILL)
            yield d.CentreLine((x - r, y), (x + r, y), 2.0)
            yield d.CentreLine((x, y - r), (x, y + r), 2.0)
        for point in self.pattern.points:
            at = (float(point.found_x), float(point.found_y))
            if shapes.apart(at, self.holes[point.number]) > TAPE:
                yield d.Circle(at, float(self.pattern.diameter) / 2, d.BOLTS)

    def matches(self, size: float = _RING) -> Iterator[d.Entity]:
        """What is punched into template and plate: one ring for the first mark, two for the second, and so on."""
        for rings, mark in enumerate(self.pattern.matches, 1):
            x, y = float(mark.x), float(mark.y)
            for ring in range(1, rings + 1):
                yield d.Circle((x, y), ring * size, d.NOTES)
            reach = (rings + 1) * size
            yield d.CentreLine((x - reach, y), (x + reach, y), 0.0)
            yield d.CentreLine((x, y - reach), (x, y + reach), 0.0)

    def arrow(self, at: d.Point, size: float) -> Iterator[d.Entity]:
        """The arrow AHEAD."""
        (x, y), h = at, size / 2
        yield d.Line((x - h, y), (x + h, y), d.NOTES)
        yield d.Polygon(((x + h, y), (x + 0.4 * h, y + 0.25 * h), (x + 0.4 * h, y - 0.25 * h)), d.NOTES, "solid")

    # ---- dimensioned ----

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        left, bottom, right, top = self.edge
        say = self.board.say
        xs, ys = (sorted({round(p[i], 5) for p in self.holes.values()}) for i in (0, 1))
        out = [
            *self.plate(),
            *self.matches(_DRAWN_RING / scale.mm),
            *self.arrow((0.5 * right, 0.3 * bottom), 12 / scale.mm),
        ]
        if isfinite(float(self.pattern.circle)):
            out.append(d.Circle((0.0, 0.0), float(self.pattern.circle) / 2, d.CENTRE))
        out += d.running(scale, self.edge, "below", left, [*xs, right], say)
        out += d.running(scale, self.edge, "left", bottom, [*ys, top], say)
        out += d.stack(scale, self.edge, "above", [d.Chain((xs[0], xs[-1])), d.Chain((left, right))], say)
        out += d.stack(scale, self.edge, "right", [d.Chain((ys[0], ys[-1])), d.Chain((bottom, top))], say)
        return tuple(out)

    # ---- full size ----

    def full(self, x: float, y: float, past: float, named: bool) -> Iterator[d.Entity]:
        """Holes with their numbers, and the marks at a share of the plate's half sides from its middle."""
        yield from self.plate()
        yield from self.matches()
        for mark in self.pattern.matches:
            yield d.Text((float(mark.x), float(mark.y) - 4 * _RING), mark.letter, 4.0, "middle top")
        yield from self.centre_lines(past, named)
        a, c = float(self.pattern.along) / 2, float(self.pattern.across) / 2
        r = float(self.pattern.hole) / 2 + 0.004
        for number, (hx, hy) in self.holes.items():
            yield d.Text(
                (hx - r if hx > 0 else hx + r, hy - r if hy > 0 else hy + r), str(number), 5.0, "middle middle"
            )
        yield from self.arrow((x * a, y * c - 0.012), 0.03)
        yield d.Text((x * a, y * c), self.told, 3.0, "middle bottom", bold=True)

    def centre_lines(self, past: float, named: bool) -> Iterator[d.Entity]:
        """What runs on past the edges, and is named there unless a page would cut the name."""
        _, _, right, top = self.edge
        yield d.CentreLine((right, 0.0), (right + past, 0.0))
        yield d.CentreLine((0.0, top), (0.0, top + past))
        if named:
            yield d.Text((right + past / 2, 0.001), "centre", 2.5, "middle bottom")
            yield d.Text((-0.001, top + past / 2), "centre", 2.5, "middle bottom", angle=90.0)

    @property
    def told(self) -> str:
        """What is written on the face that lies up."""
        up = "UNDERSIDE, seen from below" if self.mirrored else self.pattern.marks[0]
        return "\n".join((up, self.pattern.marks[1], *self.name.split(", ")))

    # ---- the bolt ----

    @property
    def bolt_size(self) -> tuple[float, float]:
        return 0.12, float(self.pattern.budget.length)

    def bolt(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        """One bolt from the side, its zero at the top of the concrete."""
        b, say = self.pattern.budget, self.board.say
        r, w = float(self.pattern.diameter) / 2, float(self.pattern.washer) / 2
        deep, foot = float(b.deep), float(b.foot_length)
        under = float(b.grout)
        over = under + float(b.plate)
        nut = over + float(b.washer)
        threads = nut + float(b.nut)
        tip = float(b.length) - deep - foot
        wide = 3.5 * w
        out: list[d.Entity] = [
            d.Polygon(d.rectangle(-wide, -deep * 1.15, wide, 0.0), d.CONCRETE, "tone", "concrete", outline=False),
            d.Line((-wide, 0.0), (wide, 0.0), d.CONCRETE),
            d.Polygon(d.rectangle(-wide, 0.0, wide, under), d.CONCRETE, "tone", "stone", outline=False),
            d.Polygon(d.rectangle(-wide, under, wide, over), d.STEEL, "tone"),
            d.Polygon(d.rectangle(-r, -deep, r, tip), d.BOLTS, "paper"),
            d.Polygon(d.rectangle(-w, over, w, nut), d.BOLTS, "paper"),
            d.Polygon(d.rectangle(-1.6 * r, nut, 1.6 * r, threads), d.BOLTS, "paper"),
        ]
        if b.foot == "hook":
            out.append(d.Polyline(((0.0, -deep), (3 * float(self.pattern.diameter), -deep)), d.BOLTS))
        else:
            half = w if b.foot == "plate" else 1.6 * r
            out.append(d.Polygon(d.rectangle(-half, -deep - float(b.nut), half, -deep), d.BOLTS, "paper"))
        edge = (-wide, -deep, wide, tip)
        inner = d.Chain((-deep, 0.0, tip))
        out += d.stack(scale, edge, "left", [inner, d.Chain((-deep, tip))], say)
        parts = [
            ((wide, 0.0), "concrete line"),
            ((wide, under / 2), f"grout {say(b.grout)}"),
            ((wide, (under + over) / 2), f"plate {say(b.plate)}"),
            ((w, (over + nut) / 2), f"washer {say(b.washer)}"),
            ((1.6 * r, (nut + threads) / 2), f"nut {say(b.nut)}"),
            ((r, tip), f"needs {say(b.needed)},\nset for {say(b.wanted)}"),
            ((r, -deep / 2), f"{len(self.pattern.points)} bolts\n{self.pattern.rod}\ncut {say(b.length)}"),
        ]
        out += d.beside(scale, wide, parts)
        return tuple(out)


def _labelled(hole: _Drilled, scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
    return labels.settled(scale, drawn, _notes(hole, scale), free)


def _notes(hole: _Drilled, scale: d.Scale) -> Iterator[labels.Label]:
    pattern, say = hole.pattern, hole.board.say
    for number, at in hole.holes.items():
        yield labels.near(scale, (at[0] * 0.97, at[1] * 0.97), str(number), 3.5, bold=True)
    line = f" along {pattern.line}" if pattern.line else ""
    under = ((0.5, -0.42), (0.5, -0.2), (0.5, -0.5))
    arrow = (0.5 * hole.edge[2], 0.3 * hole.edge[1])
    yield _spread(hole, f"AHEAD{line}", under) + labels.near(scale, arrow, f"AHEAD{line}")
    for mark in pattern.matches:
        yield labels.near(scale, (float(mark.x), float(mark.y)), mark.letter, 3.0, bold=True)
    _, bottom, right, top = hole.edge
    told = "\n".join(_told(hole))
    spots = [(right + away / scale.mm, y) for away in (24.0, 20.0, 28.0) for y in (0.0, bottom / 2, top / 2, bottom)]
    yield tuple(d.Text(at, told, anchor="left middle") for at in spots)
    for point in pattern.points:
        here, at = hole.holes[point.number], (float(point.found_x), float(point.found_y))
        if shapes.apart(at, here) > TAPE:
            yield labels.pointing(scale, at, f"bolt {point.number} found\n{say(shapes.apart(at, here))} off")


def _told(hole: _Drilled) -> Iterator[str]:
    """What stands beside the plate, line by line: its holes, their distances, where the match marks are punched."""
    pattern, say = hole.pattern, hole.board.say
    yield f"{len(pattern.points)} holes ø {say(pattern.hole)}"
    yield f"for {pattern.rod}"
    yield f"washer {say(pattern.washer)}"
    few = len(pattern.points) < 4
    diagonals = [each for each in pattern.diagonals if few or abs(each.a - each.b) not in (1, len(pattern.points) - 1)]
    if diagonals:
        yield "between centres" if few else "diagonals"
        yield from (f"{each.name}: {say(each.length)}" for each in diagonals)
    if isfinite(float(pattern.circle)):
        yield f"circle ø {say(pattern.circle)}"
    yield "match marks"
    for rings, mark in zip(("one ring", "two rings"), pattern.matches, strict=True):
        yield f"{mark.letter}, {rings}:"
        yield f"{say(mark.from_back)} from back"
        yield f"{say(mark.from_right)} from right"


def _spread(hole: _Drilled, text: str, spots: tuple[d.Point, ...]) -> tuple[d.Entity, ...]:
    """A text at shares of the plate's half sides from its middle."""
    _, _, a, c = hole.edge
    return tuple(d.Text((x * a, y * c), text, anchor="middle middle") for x, y in spots)
