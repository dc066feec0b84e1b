"""How the template hangs over the form: from above with its distances to the faces, from the side with its bolts.

Points are metres in the plate's own axes, ahead to the right, zero at its centre and at the concrete line. What must be
read, and within what, stands in the list of proofs; battens are drawn as they are commonly cut.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from batterboard.phases.template import Pattern
from batterboard.views import drawing as d
from batterboard.views.drawings import labels, shapes
from batterboard.views.drawings.board import Board, alike, even
from batterboard.work.records import Machine, Pier, Post

_WALL, _BATTEN, _TEMPLATE = 0.019, 0.038, 0.019  # sheathing, side of a batten, the template's own plywood [m]
_PAST = 0.06  # what battens stand out over the form [m]
_ABOUT, _WIDE = 0.3, 1.1  # of the form beside the template that is drawn from the side, and of all of it at most [m]
_NEAR = 0.6  # a string further off is not drawn [m]


def hung(board: Board) -> Iterator[d.Sheet]:
    """A sheet for each template; those that hang alike share one."""
    for patterns in alike(board.plan.template.patterns, _look):
        name = ", ".join(f"{pattern.name} on {pattern.on}" for pattern in patterns)
        blank = board.sheet(f"Template hung, {name}")
        left, right = d.across(d.area(blank), 1.15, 1.0, gap=4.0)
        above, side = _Above(board, patterns[0]), _Side(board, patterns[0])
        views = (
            board.fit("FROM ABOVE", above.draw, above.size, left, partial(_labelled, above)),
            board.fit("FROM THE RIGHT", side.draw, side.size, right),
        )
        yield replace(blank, views=views)


def _look(pattern: Pattern) -> tuple[object, ...]:
    faces = [even(proof.value) for proof in pattern.proofs if proof.proves in ("centred", "square")]
    points = [(even(p.x), even(p.y)) for p in pattern.points]
    sizes = (pattern.along, pattern.across, pattern.diameter, pattern.budget.deep, pattern.budget.proud)
    return (pattern.line, *faces, *points, *(even(v) for v in sizes))


@dataclass(frozen=True)
class _Hung:
    board: Board
    pattern: Pattern

    @property
    def ring(self) -> tuple[d.Point, ...]:
        """The form's inside."""
        return self._ring(0.0)

    def _ring(self, grown: float) -> tuple[d.Point, ...]:
        base = self.board.work.bases[self.pattern.on]
        outline = base.shaft.outline if isinstance(base, Pier) else base.body.outline
        frame = next(t.bolts.frame for t in self._things if t.name == self.pattern.name and t.bolts is not None)
        along, across = (float(v) for v in base.frame.into(frame.x, frame.y))
        return tuple((x - along, y - across) for x, y in shapes.corners(outline, grown))

    @property
    def _things(self) -> tuple[Post | Machine, ...]:
        return (*self.board.work.posts.values(), *self.board.work.machines.values())

    @property
    def form(self) -> d.Box:
        xs, ys = zip(*self.ring, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def plate(self) -> d.Box:
        a, c = float(self.pattern.along) / 2, float(self.pattern.across) / 2
        return -a, -c, a, c

    @property
    def battens(self) -> tuple[d.Box, ...]:
        """Two, between the bolts, from back to front over the form."""
        left, _, right, _ = self.form
        apart = float(self.pattern.spacing_across)
        half = min(_BATTEN, 0.25 * apart) / 2
        return tuple((left - _PAST, y - half, right + _PAST, y + half) for y in (-0.3 * apart, 0.3 * apart))


class _Above(_Hung):
    @property
    def size(self) -> tuple[float, float]:
        left, bottom, right, top = self.form
        return right - left + 2 * _PAST, top - bottom + 2 * _WALL

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        left, bottom, right, top = self.form
        out: list[d.Entity] = list(self.walls())
        edge = self.plate
        for low, under, high, over in self.battens:
            for x, end in ((low, edge[0]), (edge[2], high)):
                out.append(d.Polygon(d.rectangle(x, under, end, over), d.TIMBER, "tone"))
            for y in (under, over):
                out.append(d.Line((edge[0], y), (edge[2], y), d.HIDDEN))
        out.append(d.Polygon(d.rectangle(*edge), d.CUT))
        r = float(self.pattern.diameter) / 2
        out += [d.Circle((float(p.x), float(p.y)), r, d.BOLTS) for p in self.pattern.points]
        out += [d.CentreLine((left, 0.0), (right, 0.0)), d.CentreLine((0.0, bottom), (0.0, top))]
        string = self.string
        if string is not None:
            out.append(d.Line((left - 2 * _PAST, string), (right + 2 * _PAST, string), d.LINES))
        h, (x, y) = 6 / scale.mm, self.arrow
        out.append(d.Line((x - h, y), (x + h, y), d.NOTES))
        out.append(d.Polygon(((x + h, y), (x + 0.4 * h, y + 0.25 * h), (x + 0.4 * h, y - 0.25 * h)), d.NOTES, "solid"))
        outside = (left - _WALL, bottom - _WALL, right + _WALL, top + _WALL)
        out += d.stack(scale, outside, "below", [d.Chain((left, 0.0, right)), d.Chain((left, right))], self.board.say)
        out += d.stack(scale, outside, "left", [d.Chain((bottom, 0.0, top)), d.Chain((bottom, top))], self.board.say)
        return tuple(out)

    @property
    def arrow(self) -> d.Point:
        """Where AHEAD is drawn: beside the template, in the form."""
        return 0.4 * self.plate[2], (self.plate[1] + self.form[1]) / 2

    def walls(self) -> Iterator[d.Entity]:
        """The form's inside, and the outside of its sheathing."""
        yield d.Polygon(self.ring, d.TIMBER)
        yield d.Polygon(self._ring(_WALL), d.TIMBER)

    @property
    def string(self) -> float | None:
        """How far to the left of the centre line the string passes, where it is one that does."""
        proof = next((p for p in self.pattern.proofs if p.name == "square, ahead"), None)
        if proof is None or not proof.hold.startswith("the string") or float(proof.value) > _NEAR:
            return None
        return -float(proof.value) if "on its left" in proof.hold else float(proof.value)


class _Side(_Hung):
    @property
    def shown(self) -> tuple[float, float]:
        """From back to front: the form, or of one far larger than its template the part ahead."""
        left, _, right, _ = self.form
        end = min(right, self.plate[2] + _ABOUT)
        return max(left, self.plate[0] - _ABOUT, end - _WIDE), end

    @property
    def size(self) -> tuple[float, float]:
        left, right = self.shown
        b = self.pattern.budget
        return right - left + 2 * _PAST, float(b.deep) + float(b.proud)

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        left, right = self.shown
        b, say = self.pattern.budget, self.board.say
        deep, proud, nut, r = float(b.deep), float(b.proud), float(b.nut), float(self.pattern.diameter) / 2
        batten = max(0.25 * _BATTEN, min(_BATTEN, proud - _TEMPLATE - 2 * nut))
        low, high = batten, batten + _TEMPLATE
        out: list[d.Entity] = []
        for wall, x, end in ((self.form[0], left - _WALL, left), (self.form[2], right, right + _WALL)):
            if wall in (left, right):
                out.append(d.Polygon(d.rectangle(x, -1.1 * deep, end, 0.0), d.TIMBER, "tone"))
        out.append(d.Line((left, 0.0), (right, 0.0), d.CONCRETE))
        out.append(d.Polygon(d.rectangle(left - _PAST, 0.0, right + _PAST, batten), d.TIMBER, "tone"))
        out.append(d.Polygon(d.rectangle(max(self.plate[0], left), low, self.plate[2], high), d.CUT, "tone"))
        places = sorted({x for p in self.pattern.points if (x := round(float(p.x), 4)) > left})
        for x in places:
            out.append(d.Polygon(d.rectangle(x - r, -deep, x + r, proud), d.BOLTS, "paper"))
            for z in (low - nut, high):
                out.append(d.Polygon(d.rectangle(x - 1.6 * r, z, x + 1.6 * r, z + nut), d.BOLTS, "paper"))
            out.append(d.Polygon(d.rectangle(x - 1.6 * r, -deep - nut, x + 1.6 * r, -deep), d.BOLTS, "paper"))
        edge = (left - _PAST, -deep, right + _PAST, proud)
        out += d.stack(scale, edge, "left", [d.Chain((-deep, 0.0, proud))], say)
        last = places[-1]
        parts = [
            ((last, proud), f"top of every bolt,\n{say(proud)} over the line"),
            ((last + 1.6 * r, high + nut / 2), "a nut over and\nunder the template"),
            ((self.plate[2], (low + high) / 2), "template, UP above;\nspirit level both ways\nand corner to corner"),
            ((right + _PAST, batten / 2), "battens screwed to the\nform, never to the cage"),
            ((right, 0.0), "concrete line, marked\non the form all round"),
        ]
        out += d.beside(scale, right + _PAST, parts)
        return tuple(out)


def _labelled(above: _Above, scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
    return labels.settled(scale, drawn, _notes(above, scale), free)


def _notes(above: _Above, scale: d.Scale) -> Iterator[labels.Label]:
    left, _, right, top = above.form
    edge = above.plate
    for point in above.pattern.points:
        yield labels.near(scale, (float(point.x), float(point.y)), str(point.number), 3.0, bold=True)
    yield labels.near(scale, (above.arrow[0] + 6 / scale.mm, above.arrow[1]), "AHEAD")
    if above.string is not None:
        yield labels.on_line(
            scale, (left - 2 * _PAST, above.string), (right + 2 * _PAST, above.string), above.pattern.line, d.LINES
        )
    places = ((0.0, 0.75), (0.0, -0.75), (0.0, 0.4), (0.4, 0.75), (-0.4, 0.75), (0.4, -0.4), (-0.4, -0.4))
    yield tuple(d.Text((x * edge[2], y * edge[3]), "UP", 3.0, "middle middle", bold=True) for x, y in places)
    yield labels.pointing(scale, ((left + right) / 2, top), "form, measured inside", _BESIDE)


_BESIDE = (10.0, 14.0, 20.0, 8.0)  # the labels' ways out of the form [mm]
