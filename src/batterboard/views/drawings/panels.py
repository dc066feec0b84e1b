"""The pieces of each form: how they lap, what each is cut to, where the yokes go.

Panels are drawn from outside, their feet at zero; points are metres.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import cos, degrees, isfinite, pi, sin

from batterboard.phases.forms import Box, EndCut, Panel, Strip, Yoke
from batterboard.phases.forms.pieces import StripPiece
from batterboard.views import drawing as d
from batterboard.views.drawing.lettering import width, wrapped
from batterboard.views.drawings import labels, shapes
from batterboard.views.drawings.board import SAME, Board, alike, even
from batterboard.work.names import among
from batterboard.work.records import Body

_BETWEEN, _ABOVE = 12.0, 34.0  # panels side by side, and over each other [mm]
_STRIPS = 3  # kinds of strips on a sheet
_NARROW = 14.0  # a dimension that short has its text beside it [mm]
_SQUARE = 1e-3  # an edge that tilts by less is sawn square [radians]


def panel_sheets(board: Board) -> Iterator[d.Sheet]:
    """A sheet for each form; those that are equal share one."""
    for boxes in alike(board.plan.forms.boxes, _look):
        names = among(box.name for box in boxes)
        form = _Form(board, boxes[0], len(boxes))
        blank = board.sheet(f"Form, {names}")
        if form.box.kind == "tube":
            yield replace(blank, views=(board.fit("TUBE", form.tube, form.tube_size, d.area(blank)),))
            continue
        rooms = d.across(d.area(blank), 1.0, 1.2 if form.flat else 1.8, gap=6.0)
        views = (
            board.fit("FROM ABOVE", form.above, form.above_size, rooms[0], partial(_labelled, form)),
            board.fit("PANELS, FROM OUTSIDE", form.panels, form.panels_size, rooms[1]),
        )
        yield replace(blank, views=views)
        kinds = form.box.strips
        pages = [kinds[i : i + _STRIPS] for i in range(0, len(kinds), _STRIPS)]
        for number, strips in enumerate(pages, 1):
            blank = board.sheet(f"Chamfer strips, {names}" + (f" {number}" if len(pages) > 1 else ""))
            size = max(float(strip.long) for strip in strips), 0.1 * len(strips)
            view = board.fit("STRIPS", partial(form.strips, strips), size, d.area(blank))
            yield replace(blank, views=(view,))


def _look(box: Box) -> tuple[object, ...]:
    panels = [(p.count, p.sides, *(even(v) for v in (p.width, p.height, p.bevel))) for p in box.panels]
    strips = [(s.edge, s.count, *(even(v) for v in (s.leg, s.other_leg, s.long, s.short))) for s in box.strips]
    yokes = [even(yoke.up) for yoke in box.yokes]
    diameter = even(box.inside_diameter) if isfinite(float(box.inside_diameter)) else 0.0
    return (box.kind, even(box.height), diameter, *panels, *strips, *yokes)


@dataclass(frozen=True)
class _Form:
    board: Board
    box: Box
    many: int  # equal forms

    @property
    def body(self) -> Body:
        return next(body for body in self.board.work.bodies if body.name == self.box.name)

    # ---- from above ----

    @property
    def above_size(self) -> tuple[float, float]:
        o = self.body.outline
        stick = 2 * (float(self.box.panels[0].thick) + self._stick)
        return float(o.along) + stick, float(o.across) + stick

    @property
    def _stick(self) -> float:
        """How far the yokes stand out."""
        return float(self.box.frame.size.deep) if self.box.frame else 0.0

    def above(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        o = self.body.outline
        a, c = float(o.along) / 2, float(o.across) / 2
        out: list[d.Entity] = list(self._boards())
        out.append(d.Polygon(shapes.corners(o), d.CONCRETE))
        out += [d.Polygon(strip, d.TIMBER, "tone") for strip in shapes.strips(o)]
        beyond = float(self.box.panels[0].thick) + self._stick
        edge = (-a - beyond, -c - beyond, a + beyond, c + beyond)
        for side, half, leg in (("below", a, o.other_leg), ("left", c, o.corners)):
            chains = [d.Chain((-half, half))]
            if o.kind == "rectangle" and float(o.corners) != float(o.other_leg):  # which leg lies on which panel
                chains.insert(0, d.Chain((-half, -half + float(leg), half - float(leg), half)))
            out += d.stack(scale, edge, side, chains, self.board.say)
        return tuple(out)

    def _boards(self) -> Iterator[d.Entity]:
        """Panels round the inside, those that run past over the edges of the others, and the yokes round them."""
        o = self.body.outline
        if o.kind != "rectangle":
            t = float(self.box.panels[0].thick)
            inner, outer = shapes.corners(replace(o, corners=0.0)), shapes.corners(o, grown=t)
            for i in range(len(inner)):
                yield d.Polygon((inner[i - 1], inner[i], outer[i], outer[i - 1]), d.TIMBER, "tone")
            return
        for panel in self.box.panels:
            t, half = float(panel.thick), float(panel.inside) / 2
            right = half + min(panel.runs_past, 1) * t  # one that runs past only one does so at its right
            left = half + (t if panel.runs_past == 2 else 0.0)
            for side in (side for side in panel.sides if side in _TURNS):  # a soffit is not seen from above
                turn = _TURNS[side]
                out = float(o.along if side in ("ahead", "back") else o.across) / 2
                yield d.Polygon(_turned(turn, out, -left, out + t, right), d.TIMBER, "tone")
        if self.box.frame is not None:
            wide = self._stick
            for side, turn in _TURNS.items():
                runs_along = side in ("left", "right")
                foot = self.box.yokes[0]
                long = float(foot.along if runs_along else foot.across) / 2
                out = float(o.across if runs_along else o.along) / 2 + float(self.box.panels[0].thick)
                yield d.Polygon(_turned(turn, out, -long, out + wide, long), d.HIDDEN)

    # ---- panels ----

    @property
    def flat(self) -> bool:
        """Boards rather than panels: they lie above each other on the sheet."""
        return all(float(panel.width) > 2 * float(panel.height) for panel in self.box.panels)

    @property
    def panels_size(self) -> tuple[float, float]:
        widths, heights = zip(*((float(panel.width), float(panel.height)) for panel in self.box.panels))
        return (max(widths), sum(heights)) if self.flat else (sum(widths), max(heights))

    def panels(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        out: list[d.Entity] = []
        x = y = said = 0.0
        for i, panel in enumerate(self.box.panels):
            half, height, reach = float(panel.width) / 2, float(panel.height), self._reach(panel)
            last, aside = bool(self.box.yokes) and i == len(self.box.panels) - 1, 0.0
            if not self.flat:
                words = max(width(line, 2.5) for line in self._called(panel).split("\n")) / 2 / scale.mm
                aside = max(words - reach, 0.0) if last else 0.0  # clear of the heights beside it
                x += 0.0 if i == 0 else max(reach + _BETWEEN / scale.mm, said + words + aside + 3 / scale.mm)
                said = words - reach
            head, raised = half - float(panel.narrows) / 2, 3.0
            outline = ((x - half, y), (x + half, y), (x + head, y + height), (x - head, y + height))
            out.append(d.Polygon(outline, d.TIMBER, "tone"))
            out += self._yokes(panel, x)
            out += self._joints(panel, x - half, y)
            around = (x - half, y, x + half, y + height)
            if float(panel.narrows) > SAME:
                corners = (x - half, x - head, x + head, x + half)
                out += d.stack(scale, around, "above", [d.Chain(corners)], self.board.say)
                raised = 27.0
            cut = (*(x - half + float(at) for at in panel.upright_joints), x + half)
            out += d.stack(scale, around, "below", [d.Chain((x - half, *cut))], self.board.say)
            if i == 0 or self.flat:
                cut = (*(y + float(at) for at in panel.level_joints), y + height)
                out += d.stack(scale, (x - reach, *around[1:]), "left", [d.Chain((y, *cut))], self.board.say)
            at, anchor = (x - half, "left bottom") if self.flat else (x - aside, "middle bottom")
            out.append(d.Text((at, y + height + raised / scale.mm), self._called(panel), anchor=anchor))
            if last:
                ups = [float(yoke.up) for yoke in self.box.yokes]
                out += d.running(scale, (x - half, y, x + reach, y + height), "right", 0.0, ups, self.board.say)
            if self.flat:
                y -= height + _ABOVE / scale.mm
            else:
                x += reach
        return tuple(out)

    def _called(self, panel: Panel) -> str:
        letter = panel.mark.rpartition(" ")[2]
        lines = [f"{letter}: {panel.count * self.many}", among(panel.sides)]
        if float(panel.bevel) > SAME:
            lines.append(f"edges {degrees(float(panel.bevel)):.1f}° off square")
        if panel.runs_past:
            lines.append("runs past" if panel.runs_past == 2 else "runs past at its right")
        lines += self._tilted(panel)
        parts = [f"in {len(panel.parts)} parts"] if panel.joints else []
        parts += [f"joined {self.board.say(at)} up" for at in panel.level_joints]
        if self.flat:
            return "\n".join("; ".join(words) for words in (lines, parts) if words)
        return "\n".join((*lines, *parts))

    def _tilted(self, panel: Panel) -> Iterator[str]:
        """How the saw stands for the foot and the top of a leaning panel, so that both lie level."""
        kinds = (panel.mark, panel.parts[0].mark)
        piece = next(p for form in self.board.plan.pieces.forms for p in form.panels if p.kind in kinds)
        foot = next(float(edge.bevel) for edge in piece.edges if edge.side == "foot")
        if abs(foot) > _SQUARE:
            yield f"ends {degrees(abs(foot)):.1f}° off square"
            yield f"foot longer {'outside' if foot > 0 else 'inside'}"

    def _joints(self, panel: Panel, left: float, low: float) -> Iterator[d.Entity]:
        """With the plates behind them, as a band."""
        wide, high = float(panel.width), float(panel.height)
        for joint in panel.joints:
            at, backed = float(joint.at), joint.on == "plates" and self.box.plates
            half = float(self.box.plates[0].wide) / 2 if backed else 0.0
            gone = 0.0 if joint.upright else float(panel.narrows) / 2 * at / high
            a, b = (at, 0.0), (at, high)
            if not joint.upright:
                a, b = (gone, at), (wide - gone, at)
            yield d.Line((left + a[0], low + a[1]), (left + b[0], low + b[1]), d.CUT)
            if half:
                x, y = (half, 0.0) if joint.upright else (0.0, half)
                band = d.rectangle(left + a[0] - x, low + a[1] - y, left + b[0] + x, low + b[1] + y)
                yield d.Polygon(band, d.HIDDEN)

    def _reach(self, panel: Panel) -> float:
        """Half of what a panel with its sticks takes."""
        if not self.box.yokes:
            return float(panel.width) / 2
        return max(float(panel.width), self._stick_on(panel, self.box.yokes[0])) / 2

    def _stick_on(self, panel: Panel, yoke: Yoke) -> float:
        """How long a yoke's stick on that panel is."""
        return float(yoke.along if panel.sides[0] in ("left", "right") else yoke.across)

    def _yokes(self, panel: Panel, middle: float) -> Iterator[d.Entity]:
        frame = self.box.frame
        if frame is None:
            return
        thick = float(frame.size.wide) / 2
        for yoke in self.box.yokes:
            up, half = float(yoke.up), self._stick_on(panel, yoke) / 2
            yield d.Polygon(d.rectangle(middle - half, up - thick, middle + half, up + thick), d.TIMBER, "paper")

    # ---- strips ----

    def strips(self, kinds: Sequence[Strip], scale: d.Scale) -> tuple[d.Entity, ...]:
        """Each kind once, its face towards the eye: long point below, short point above."""
        out: list[d.Entity] = []
        say, head = self.board.say, 0.0
        for strip in kinds:
            long, short, face = float(strip.long) / 2, float(strip.short) / 2, float(strip.face)
            upper = self._upper(strip, long, short)
            legs = " x ".join(dict.fromkeys(say(leg) for leg in (strip.leg, strip.other_leg)))
            told = [f"{_called(self.box, strip)}: {strip.count * self.many}, legs {legs}, face {say(face)}"]
            if strip.mirrored:
                told.append(f"{strip.mirrored * self.many} of them of the other hand: as in a mirror")
            told += [f"against {cut.against}: {_saw(cut)}" for cut in strip.cuts]
            out.append(d.Text((-long, head), "\n".join(told), anchor="left top"))
            above = 17.0 if (upper[1] - upper[0]) * scale.mm > _NARROW else 25.0
            base = head - face - (4.4 * len(told) + above) / scale.mm
            out.append(
                d.Polygon(
                    ((-long, base), (long, base), (upper[1], base + face), (upper[0], base + face)), d.TIMBER, "tone"
                )
            )
            edge = (-long, base, long, base + face)
            out += d.stack(scale, edge, "below", [d.Chain((-long, long))], say)
            out += d.stack(scale, edge, "above", [d.Chain(upper)], say)
            head = base - 21 / scale.mm
        return tuple(out)

    def _upper(self, strip: Strip, long: float, short: float) -> tuple[float, float]:
        """Between which stations its short line lies, its long one about zero."""
        if strip.edge == "corner":
            return -long, 2 * short - long
        piece = self._piece(strip)
        if piece is None:
            return -short, short
        start, end = min(piece.lines, key=lambda line: line[1] - line[0])
        return start - long, end - long

    def _piece(self, strip: Strip) -> StripPiece | None:
        """One of those that are listed together; none where their ends are alike, and of a bent strip."""
        if all("left end" not in cut.against for cut in strip.cuts):
            return None
        made = next(form.strips for form in self.board.plan.pieces.forms if form.name == self.box.name)
        return next(one for one in made if one.edge == strip.edge and even(one.long) == even(strip.long))

    # ---- a tube ----

    @property
    def tube_size(self) -> tuple[float, float]:
        return float(self.box.inside_diameter), float(self.box.height)

    def tube(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        r, height = float(self.box.inside_diameter) / 2, float(self.box.height)
        edge = (-r, 0.0, r, height)
        return (
            d.Polygon(d.rectangle(*edge), d.TIMBER, "tone"),
            d.CentreLine((0.0, 0.0), (0.0, height)),
            *d.stack(scale, edge, "below", [d.Chain((-r, r), (f"ø {self.board.say(2 * r)} inside",))], self.board.say),
            *d.stack(scale, edge, "left", [d.Chain((0.0, height))], self.board.say),
            *d.beside(scale, r, (), [(0.0, self._level(self.box.foot)), (height, self._level(self.body.top))]),
        )

    def _level(self, z: float) -> str:
        return self.board.say_level(z, self.board.bench)


def _called(box: Box, strip: Strip) -> str:
    return strip.mark.removeprefix(box.name).strip()


def _saw(cut: EndCut) -> str:
    """How the saw stands for it."""
    told = [
        f"{degrees(float(angle)):.4g}° {name}"
        for angle, name in ((cut.mitre, "mitre"), (cut.bevel, "bevel"))
        if float(angle)
    ]
    return f"{' and '.join(told) or 'square'}, {cut.down} down"


_TURNS = {"ahead": 0.0, "left": pi / 2, "back": pi, "right": 3 * pi / 2}


def _turned(turn: float, *around: float) -> tuple[d.Point, ...]:
    c, s = cos(turn), sin(turn)
    return tuple((x * c - y * s, x * s + y * c) for x, y in d.rectangle(*around))


def _labelled(form: _Form, scale: d.Scale, drawn: tuple[d.Entity, ...], free: d.Box) -> tuple[d.Entity, ...]:
    return labels.settled(scale, drawn, _notes(form, scale), free)


def _notes(form: _Form, scale: d.Scale) -> Iterator[labels.Label]:
    o = form.body.outline
    t = float(form.box.panels[0].thick)
    if o.kind == "rectangle":
        for panel in form.box.panels:
            letter = panel.mark.rpartition(" ")[2]
            for side in (side for side in panel.sides if side in _TURNS):
                out = float(o.along if side in ("ahead", "back") else o.across) / 2 + t / 2
                turn = _TURNS[side]
                yield labels.near(scale, (out * cos(turn), out * sin(turn)), letter, bold=True)
    told = [f"{form.box.sheet}, {form.board.say_thickness(t)} thick.", form.box.lap]
    if o.kind == "polygon" and float(o.corners) != float(o.other_leg):  # which leg lies on which panel
        for number in range(1, o.sides + 1):
            out, turn = float(o.along) / 2 + t + 3 / scale.mm, 2 * pi * (number - 1) / o.sides
            yield (d.Text((out * cos(turn), out * sin(turn)), str(number), anchor="middle middle", bold=True),)
        leg, other = (form.board.say(float(leg)) for leg in o.legs[0])
        told.append(f"Corner 1: {leg} on 1, {other} on 2.")
    room = float(o.along) * 0.8 * scale.mm
    text = "\n".join(line for words in told for line in wrapped(words, 2.5, room))
    inside = tuple(d.Text((0.0, y * float(o.across)), text, anchor="middle middle") for y in (0.0, 0.1, -0.1))
    yield inside + labels.pointing(scale, (float(o.along) / 4, -float(o.across) / 2 - t / 2), text)
