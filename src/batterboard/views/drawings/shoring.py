"""What carries a beam that stands clear of the ground: pairs of shores along it, and one pair across with its braces.

    shoring_sheets(board)     a page for each such beam

Heights run from the underside of the concrete. Along the beam the row under its right side is seen; across, it is seen
looking ahead, its left on the left.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil, hypot
from typing import Any

from batterboard.phases.forms import Box, Shores
from batterboard.views import drawing as d
from batterboard.views.drawing.lettering import wrapped
from batterboard.views.drawings.board import SAME, Board
from batterboard.views.drawings.spacing import evenly
from batterboard.work.records import Body

_SAID = (70.0, 90.0, 110.0)  # room for what is said beside it [mm]
_LINE = 4.6  # from line to line of it [mm]
_STAKE = 0.35  # how deep a stake is drawn in the ground [m]
_PIER = 0.2  # of a pier that is shown at each end [m]


def shoring_sheets(board: Board) -> Iterator[d.Sheet]:
    for box in board.plan.forms.boxes:
        if box.shores is not None:
            blank = board.sheet(f"Form, shores: {box.name}")
            left, bottom, right, top = d.area(blank)
            body = board.work.beams[box.name].body
            along, across = _Along(board, box, box.shores, body), _Across(board, box.shores, body)
            said, told, wide = tuple(_said(board, box, box.shores)), [""], _SAID[0]
            for wide in _SAID:  # the narrowest room that it fits into
                told = [line for words in said for line in wrapped(words, 2.5, wide - 4)]
                if _LINE * len(told) <= top - bottom - 6:
                    break
            note = d.Text((right - wide + 2, top - 3), "\n".join(told), anchor="left top")
            upper, lower = d.down((left, bottom, right - wide, top), 1.0, 1.1)
            views = (
                board.fit("ALONG, FROM ITS RIGHT", along.draw, along.size, upper),
                board.fit("ACROSS, LOOKING AHEAD", across.draw, across.size, lower),
            )
            yield replace(blank, views=views, marks=(note,))


@dataclass(frozen=True)
class _Along:
    board: Board
    box: Box
    shores: Shores
    body: Body

    @property
    def size(self) -> tuple[float, float]:
        shores = self.shores
        return float(shores.along) + 2 * _PIER, float(shores.height) + float(shores.stack) + float(shores.longest)

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        of, say = self.shores, self.board.say
        end, high, t = float(of.along), float(of.height), float(of.soffit.panel.thickness)
        first, last = float(of.start), float(of.end)
        out: list[d.Entity] = [
            d.GroundLine(tuple(self._ground())),
            d.Polygon(d.rectangle(0.0, -t, end, high), d.TIMBER, "tone"),
            d.Line((first, 0.0), (last, 0.0), d.HIDDEN),
        ]
        for at in self._stakes():
            half = float(of.upright.wide) / 2
            out.append(d.Polygon(d.rectangle(at - half, -t - _STAKE, at + half, high), d.TIMBER, "paper"))
        for at, way in ((0.0, -1), (end, 1)):
            for z in (-t, high):
                out.append(d.Line((at, z), (at + way * _PIER, z), d.HIDDEN))
        for pair in of.pairs:
            out += self._pair(float(pair.at), float(pair.right), t)
        out += self._diagonals(t)
        stations = [float(pair.at) for pair in of.pairs]
        edge = (-_PIER, self._deepest, end + _PIER, high)
        out += d.stack(scale, edge, "below", [evenly(stations, say), d.Chain((0.0, end))], say)
        return tuple(out)

    def _stakes(self) -> Iterator[float]:
        """Where the rest of it lies in its trench: evenly before and behind the shores."""
        of, edge = self.shores, self.box.edge
        for low, high in ((0.0, float(of.start)), (float(of.end), float(of.along))):
            if edge is not None and high - low > SAME:
                bays = max(1, ceil((high - low) / float(edge.spacing) - 1e-9))
                yield from (low + (high - low) * n / bays for n in range(bays + 1))

    @property
    def _deepest(self) -> float:
        return -float(self.shores.stack) - float(self.shores.longest)

    def _ground(self) -> Iterator[d.Point]:
        half, right = float(self.shores.along) / 2, -float(self.body.outline.across) / 2
        for step in range(25):
            at = -half - _PIER + step * (2 * half + 2 * _PIER) / 24
            x, y = self.body.frame.out(at, right)
            yield at + half, float(self.board.work.ground.level(x, y)) - float(self.body.bottom)

    def _pair(self, at: float, long: float, t: float) -> Iterator[d.Entity]:
        of = self.shores
        half, deep = float(of.size.wide) / 2, float(of.size.deep)
        head = -t - deep
        wide, up = float(of.sole.deep) / 2, float(of.upright.wide) / 2
        yield d.Polygon(d.rectangle(at - up, -t, at + up, float(of.post) - t), d.TIMBER, "paper")
        yield d.Polygon(d.rectangle(at - half, head, at + half, -t), d.TIMBER, "paper")
        yield d.Polygon(d.rectangle(at - half, head - long, at + half, head), d.TIMBER, "paper")
        low = head - long - float(of.wedges)
        yield d.Polygon(
            ((at - half, head - long), (at + half, head - long), (at + half, low), (at - half, low)), d.TIMBER
        )
        yield d.Line((at - half, low), (at + half, head - long), d.TIMBER)
        yield d.Polygon(d.rectangle(at - wide, low - float(of.sole.wide), at + wide, low), d.TIMBER, "paper")

    def _diagonals(self, t: float) -> Iterator[d.Entity]:
        of = self.shores
        begin, end = float(of.pairs[0].at), float(of.pairs[-1].at)
        top = -t - float(of.size.deep)
        low = top - float(of.longest)
        count, run = round(float(of.crosses)), float(of.run)
        for number in range(count):
            middle = begin + (end - begin) * (number + 0.5) / count
            starts = [float(pair.at) for pair in of.pairs if float(pair.at) + run <= end + SAME]
            start = min(starts, key=lambda at: abs(at + run / 2 - middle))
            yield d.Line((start, low), (start + run, top), d.TIMBER)
            yield d.Line((start, top), (start + run, low), d.TIMBER)


@dataclass(frozen=True)
class _Across:
    board: Board
    shores: Shores
    body: Body

    @property
    def _half(self) -> float:
        return float(self.shores.width) / 2

    @property
    def _ends(self) -> float:
        return float(self.shores.cross) / 2

    @property
    def _reach(self) -> float:
        return self._ends + float(self.shores.up)

    @property
    def size(self) -> tuple[float, float]:
        of = self.shores
        return 2 * self._reach, float(of.post) + float(of.stack) + float(of.longest) + _STAKE

    @property
    def _foot(self) -> float:
        return -float(self.shores.stack) - float(self.shores.longest)

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        of, say = self.shores, self.board.say
        t, high = float(of.soffit.panel.thickness), float(of.height)
        foot, reach = self._foot, self._reach
        out: list[d.Entity] = [
            d.GroundLine(((-reach - 0.1, foot), (reach + 0.1, foot))),
            d.Polygon(d.rectangle(-self._half, 0.0, self._half, high), d.CONCRETE, "tone", "concrete"),
            d.Polygon(d.rectangle(-self._half, -t, self._half, 0.0), d.TIMBER, "paper"),
            d.Polygon(d.rectangle(-self._ends, -t - float(of.size.deep), self._ends, -t), d.TIMBER, "paper"),
        ]
        for way in (-1, 1):
            out += self._side(way, t)
            out += self._shore(way, t)
            out += self._brace(way, t)
        tie = float(of.across) / 2
        level = float(of.post) - t
        out.append(d.Polygon(d.rectangle(-tie, level - float(of.upright.deep), tie, level), d.TIMBER, "paper"))
        edge = (-reach, foot - _STAKE, reach, level)
        out += d.stack(scale, edge, "below", [d.Chain((-reach, -self._ends, self._ends, reach))], say)
        heights = sorted({foot, foot + float(of.sole.wide + of.wedges), -t - float(of.size.deep), 0.0, high})
        out += d.running(scale, (-reach, foot, reach, level), "left", foot, heights[1:], say)
        return tuple(out)

    def _side(self, way: int, t: float) -> Iterator[d.Entity]:
        """Panel, upright and ribbon of one side."""
        of = self.shores
        x, steps = self._half, (t, float(of.upright.deep), float(of.upright.wide))
        tops = (float(of.height), float(of.post) - t, -t + float(of.upright.deep))
        for step, top in zip(steps, tops, strict=True):
            low, far = sorted((way * x, way * (x + step)))
            yield d.Polygon(d.rectangle(low, -t, far, top), d.TIMBER, "paper")
            x += step

    def _shore(self, way: int, t: float) -> Iterator[d.Entity]:
        of = self.shores
        x, half = way * float(of.span) / 2, float(of.size.wide) / 2
        head = -t - float(of.size.deep)
        low = head - float(of.longest)
        yield d.Polygon(d.rectangle(x - half, low, x + half, head), d.TIMBER, "paper")
        under = low - float(of.wedges)
        yield d.Polygon(d.rectangle(x - half, under, x + half, low), d.TIMBER)
        yield d.Line((x - half, under), (x + half, low), d.TIMBER)
        out = min(float(of.sole_long) / 2, abs(x))
        far = max(float(of.sole_long) - out, out)
        left, right = sorted((x - way * out, x + way * far))
        yield d.Polygon(d.rectangle(left, under - float(of.sole.wide), right, under), d.TIMBER, "paper")

    def _brace(self, way: int, t: float) -> Iterator[d.Entity]:
        of = self.shores
        up, thick, foot = float(of.up), float(of.upright.wide), self._foot
        rise = thick * hypot(up, up) / up
        head, end = way * self._ends, way * self._reach
        top = foot + up
        shape = ((head, top), (head, top - rise), (end - way * rise, foot), (end, foot))
        yield d.Polygon(shape, d.TIMBER, "paper")
        stake = sorted((end, end + way * float(of.upright.deep)))
        yield d.Polygon(d.rectangle(stake[0], foot - _STAKE, stake[1], foot + 0.12), d.TIMBER, "paper")


def _said(board: Board, box: Box, of: Shores) -> Iterator[str]:
    """What each piece is of, how many and how hard it is pressed, in words."""
    say, weight = board.say, board.say_force
    load = board.say_pressure(of.load)
    yield f"DESIGNED FOR  {load}: concrete, form, people and tools. No carts, no heap of concrete."
    if not of.whole:
        first = board.work.beams[box.name].between[0]
        yield f"SHORES STAND from {say(of.start)} to {say(of.end)} from {first}."
        if box.edge is not None:
            yield (
                f"STAKES  in the trench before and behind: {float(box.edge.count):.0f} of {box.edge.size.name}, at "
                f"most {say(box.edge.spacing)} apart, each with its kicker."
            )
    held = f" Held both ways at {float(of.middles):.0f} places between its ends." if float(of.middles) > SAME else ""
    yield (
        f"{len(of.pairs)} PAIRS of {of.size.name} {of.grade.name}, at most {say(of.spacing)} apart; each shore carries "
        f"{weight(of.shore)}, the longest {say(of.longest)}.{held}"
    )
    yield (
        f"CROSS-PIECES  {of.size.name}, {say(of.cross)} long, shores {say(of.span)} apart under each; scabs over both "
        "ends of a shore."
    )
    yield f"SOLE PLATES  {of.sole.name} flat, {say(of.sole_long)} long, on firm ground, a pair of wedges on each."
    yield (
        f"SIDES  run past the soffit; uprights {of.upright.name}, {say(of.post)} long, tied across their tops, "
        f"{_nails(of.tie_nails)} at each end; ribbons at their feet, {_nails(of.foot_nails)} on each cross-piece."
    )
    yield (
        f"BRACES  {of.upright.name}, {float(of.a_side):.0f} a side, {say(of.brace)} long at 45 degrees, "
        f"{weight(of.brace_force)} either way; {_nails(of.brace_nails)} at each end; {float(of.stakes):.0f} stakes."
    )
    yield (
        f"DIAGONALS  {float(of.crosses):.0f} cross on each row, {say(of.diagonal)} long, "
        f"{_nails(of.diagonal_nails)} at each end."
    )
    if float(of.dig) > SAME:
        yield f"DIG  up to {say(of.dig)} off where the ground is nearer than {say(of.room)} to the concrete."
    if of.on_pads:
        yield f"{of.on_pads} PAIRS STAND OVER A PAD: set them down on the pad itself, longer, not on its backfill."


def _nails(nails: Any) -> str:
    return f"{float(nails):.0f} nails (16d)" if float(nails) == float(nails) else "a bolt"
