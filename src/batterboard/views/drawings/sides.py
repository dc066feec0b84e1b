"""What holds a form that has no yokes: stakes and kickers of a low edge; studs, wales and ties of a wide or high box.

side_sheets(board)     each kind of side from outside, with a cut through it; forms that are alike share a page

Heights run from the foot of the form, places from the left edge of the panel, as he stands outside.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from batterboard.phases.forms import Box, Edge, Panel, Wall
from batterboard.phases.forms.framing import DRIVEN, places, ties_on, wale_on
from batterboard.views import drawing as d
from batterboard.views.drawing.lettering import wrapped
from batterboard.views.drawings.board import Board, alike, even
from batterboard.views.drawings.holding import braced, pressed_and_lifted
from batterboard.views.drawings.spacing import evenly
from batterboard.work.names import among

_SAID = 66.0  # room for what is said beside it [mm]
_OVER = (30.0, 48.0)  # between sides that stand over each other, with one chain below and with two [mm]
_EARTH = 0.15  # that is drawn below a stake [m]
_TIE = 1.5  # half of a tie's mark [mm]


def side_sheets(board: Board) -> Iterator[d.Sheet]:
    staked = (box for box in board.plan.forms.boxes if (box.edge or box.wall) and not box.shores)  # those: `shoring`
    for boxes in alike(staked, _look):
        box = boxes[0]
        held: _Edge | _Wall
        if box.edge is not None:
            held, what = _Edge(board, box, box.edge), "stakes"
        else:
            assert box.wall is not None
            held, what = _Wall(board, box, box.wall), "studs, wales and ties"
        blank = board.sheet(f"Form, {what}: {among(one.name for one in boxes)}")
        left, bottom, right, top = d.area(blank)
        told = [line for words in held.said for line in wrapped(words, 2.5, _SAID - 4)]
        note = d.Text((right - _SAID + 2, top - 3), "\n".join(told), anchor="left top")
        rooms = d.across((left, bottom, right - _SAID, top), 1.3, 1.0, gap=6.0)
        views = (
            board.fit("SIDES, FROM OUTSIDE", held.sides, _size(box), rooms[0]),
            board.fit("CUT THROUGH A SIDE", held.cut, held.cut_size, rooms[1]),
        )
        yield replace(blank, views=views, marks=(note,))


def _look(box: Box) -> tuple[object, ...]:
    of: Any = box.edge or box.wall
    spacing = of.spacing if box.edge else of.stud_spacing
    ups = () if box.edge else tuple(even(wale.up) for wale in of.wales)
    return (even(box.height), even(spacing), ups, *((even(p.width), p.count, p.upright_joints) for p in box.panels))


def _size(box: Box) -> tuple[float, float]:
    return max(float(p.width) for p in box.panels), sum(float(p.height) for p in box.panels)


def _over_each_other(
    box: Box, scale: d.Scale, over: float, draw: Callable[[Panel, float], Iterator[d.Entity]]
) -> tuple[d.Entity, ...]:
    out: list[d.Entity] = []
    y = 0.0
    for number, panel in enumerate(box.panels):
        out += draw(panel, y)
        called = f"{panel.mark.rpartition(' ')[2]}: {among(panel.sides)}"
        out.append(
            d.Text((float(panel.width) / 2, y + float(panel.height) + 4 / scale.mm), called, anchor="middle bottom")
        )
        y -= float(box.panels[min(number + 1, len(box.panels) - 1)].height) + over / scale.mm
    return tuple(out)


# ---- a low edge ----


@dataclass(frozen=True)
class _Edge:
    board: Board
    box: Box
    edge: Edge

    def sides(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        return _over_each_other(self.box, scale, _OVER[0], lambda panel, y: self._side(scale, panel, y))

    def _side(self, scale: d.Scale, panel: Panel, y: float) -> Iterator[d.Entity]:
        long, high, half = float(panel.width), float(panel.height), float(self.edge.size.wide) / 2
        yield d.Polygon(d.rectangle(0.0, y, long, y + high), d.TIMBER, "tone")
        for at in panel.upright_joints:
            yield d.Line((float(at), y), (float(at), y + high), d.TIMBER)
        stakes = places(panel, panel.width, self.edge.spacing)
        for at in stakes:
            middle = min(max(at, half), long - half)  # those at the ends stand behind the board
            yield d.Polygon(d.rectangle(middle - half, y, middle + half, y + high), d.TIMBER, "paper")
        edge = (0.0, y, long, y + high)
        yield from d.stack(scale, edge, "below", [evenly(stakes, self.board.say)], self.board.say)

    @property
    def cut_size(self) -> tuple[float, float]:
        high, deep = float(self.box.height), float(self.edge.size.deep)
        return 2 * high + 3 * deep, high + DRIVEN + _EARTH

    def cut(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        high, t, say = float(self.box.height), float(self.box.panels[0].thick), self.board.say
        deep, wide = float(self.edge.size.deep), float(self.edge.size.wide)
        out, foot = t + deep, t + deep + high  # of the stake, and where the kicker meets the ground
        rise = wide * 2**0.5
        drawn: list[d.Entity] = [
            d.GroundLine(((0.0, 0.0), (foot + 2 * deep, 0.0))),
            d.Polygon(d.rectangle(-high / 2, 0.0, 0.0, high), d.CONCRETE, "tone", "concrete"),
            d.Polygon(d.rectangle(0.0, 0.0, t, high), d.TIMBER, "tone"),
            d.Polygon(d.rectangle(t, -DRIVEN, out, high), d.TIMBER, "paper"),
            d.Polygon(((out, high), (out, high - rise), (foot - rise, 0.0), (foot, 0.0)), d.TIMBER, "paper"),
            d.Polygon(d.rectangle(foot, -DRIVEN * 0.6, foot + deep, wide), d.TIMBER, "paper"),
        ]
        edge = (-high / 2, -DRIVEN, foot + deep, high)
        drawn += d.stack(scale, edge, "left", [d.Chain((-DRIVEN, 0.0, high))], say)
        drawn += d.stack(scale, edge, "below", [d.Chain((out, foot))], say)
        return tuple(drawn)

    @property
    def said(self) -> Iterator[str]:
        edge, say = self.edge, self.board.say
        of = f"{edge.size.name} {edge.grade.name}"
        yield f"STAKES  {of}, {float(edge.count):.0f} in all, at most {say(edge.spacing)} apart,"
        yield "one at each end of a board and on each joint."
        yield f"Driven {say(DRIVEN)} at least, deeper until one holds {self.board.say_force(edge.stake)}."
        yield f"KICKERS  {of}, one to each stake, at 45° from its top to a stake of its own."
        yield f"Each pushes {self.board.say_force(edge.kicker)}; 16d nails at each end: {float(edge.nails):.0f}."
        yield "Boards nailed to the stakes from inside, tops of the stakes no higher than the board: the screed passes."
        yield from pressed_and_lifted(self.board, self.box)


# ---- a wall ----


@dataclass(frozen=True)
class _Wall:
    board: Board
    box: Box
    wall: Wall

    def sides(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        return _over_each_other(self.box, scale, _OVER[1], lambda panel, y: self._side(scale, panel, y))

    def _side(self, scale: d.Scale, panel: Panel, y: float) -> Iterator[d.Entity]:
        long, high, wide = float(panel.width), float(panel.height), float(self.wall.size.wide)
        narrows = float(panel.narrows) / 2
        outline = ((0.0, y), (long, y), (long - narrows, y + high), (narrows, y + high))
        yield d.Polygon(outline, d.TIMBER, "tone")
        studs = places(panel, panel.inside, self.wall.stud_spacing)
        for at in studs:
            middle = min(max(at, wide / 2), long - wide / 2)
            yield d.Polygon(
                d.rectangle(middle - wide / 2, y + wide, middle + wide / 2, y + high - wide), d.TIMBER, "paper"
            )
        for low in (y, y + high - wide):  # plates
            yield d.Polygon(d.rectangle(0.0, low, long, low + wide), d.TIMBER, "paper")
        ties = ties_on(panel, self.wall)
        begin, whole = wale_on(panel, self.wall, panel.inside)
        for wale in self.wall.wales:
            up = y + float(wale.up)
            for low in (up - wide - _TIE / 2 / scale.mm, up + _TIE / 2 / scale.mm):
                yield d.Polygon(d.rectangle(-begin, low, whole - begin, low + wide), d.TIMBER, "paper")
            for at in ties:
                yield d.Circle((at, up), 2 * _TIE / scale.mm / 2, d.TIMBER)
        edge = (0.0, y, long, y + high)
        say = self.board.say
        chains = [evenly([0.0, *ties, long], say), evenly(studs, say)]
        yield from d.stack(scale, edge, "below", chains, say)
        ups = [y + float(wale.up) for wale in self.wall.wales]
        yield from d.running(scale, (-begin, *edge[1:]), "left", y, [*ups, y + high], say)

    @property
    def cut_size(self) -> tuple[float, float]:
        inside = min(float(panel.inside) for panel in self.box.panels)
        return inside + 2 * self._out, float(self.box.height)

    @property
    def _out(self) -> float:
        """From the concrete to the outside of the wales."""
        return float(self.box.panels[0].thick) + 2 * float(self.wall.size.deep)

    def cut(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        high, t, say = float(self.box.height), float(self.box.panels[0].thick), self.board.say
        half = min(float(panel.inside) for panel in self.box.panels) / 2
        deep, wide = float(self.wall.size.deep), float(self.wall.size.wide)
        drawn: list[d.Entity] = [d.Polygon(d.rectangle(-half, 0.0, half, high), d.CONCRETE, "tone", "concrete")]
        for way in (-1, 1):
            for start, end, fill in ((half, half + t, "tone"), (half + t, half + t + deep, "paper")):
                xs = sorted((way * start, way * end))
                drawn.append(d.Polygon(d.rectangle(xs[0], 0.0, xs[1], high), d.TIMBER, fill))
            drawn += [d.Line((xs[0], up), (xs[1], up), d.TIMBER) for up in (wide, high - wide)]  # plates
        outside = half + self._out
        for wale in self.wall.wales:
            up = float(wale.up)
            drawn.append(d.Line((-outside, up), (outside, up), d.TIMBER))
            for way in (-1, 1):
                xs = sorted((way * (outside - deep), way * outside))
                for low in (up - wide - 0.005, up + 0.005):
                    drawn.append(d.Polygon(d.rectangle(xs[0], low, xs[1], low + wide), d.TIMBER, "paper"))
        edge = (-outside, 0.0, outside, high)
        drawn += d.running(scale, edge, "left", 0.0, [*(float(wale.up) for wale in self.wall.wales), high], say)
        drawn += d.stack(scale, edge, "below", [d.Chain((-half, half))], say)
        return tuple(drawn)

    @property
    def said(self) -> Iterator[str]:
        wall, say = self.wall, self.board.say
        of = f"{wall.size.name} {wall.grade.name}"
        yield f"STUDS  {of} on edge, {float(wall.studs):.0f} in all, at most {say(wall.stud_spacing)} apart,"
        yield "a plate under and over them."
        yield f"WALES  {len(wall.wales)} pairs of {of} on edge, on each side; joints over studs, apart."
        ends = f"{float(wall.lengthwise):.0f} of them from end to end"
        yield f"TIES  {float(wall.ties):.0f}, at most {say(wall.tie_spacing)} apart, {ends}."
        pull, most = self.board.say_force(wall.pull), self.board.say_force(wall.tie)
        yield f"The hardest is pulled {pull} of {most}; plates {say(wall.plate)} square."
        if self.box.brace is not None:
            yield from braced(self.board, self.box.brace)
        yield from pressed_and_lifted(self.board, self.box)
