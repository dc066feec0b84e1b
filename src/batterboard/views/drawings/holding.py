"""What holds a form: yokes at their heights with their nails, braces and their stakes, and what presses on it.

    holding_sheets(board)     an elevation of each form with yokes, seen from ahead; like forms share a page

Heights run from the foot of the form. The pair that runs along lies under the pair across, and shows its ends.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import hypot
from typing import Any

from batterboard.phases.forms import Box, Brace, Frame, Yoke
from batterboard.views import drawing as d
from batterboard.views.drawing.lettering import wrapped
from batterboard.views.drawings.board import SAME, Board, alike, counted, even
from batterboard.work.names import among

_LINE = 4.6  # from line to line of a note [mm]
_SAID = (66.0, 92.0, 118.0)  # room for what is said beside it [mm]
_STAKE = 0.45  # how deep a stake is drawn in the ground [m]
_LOAD = 0.9  # width of the pressure's picture, in widths of the form


def holding_sheets(board: Board) -> Iterator[d.Sheet]:
    """Those whose yokes, nails and braces are alike share a page."""
    held_so = (box for box in board.plan.forms.boxes if box.frame or (box.kind == "tube" and box.brace))
    for boxes in alike(held_so, _look):
        held = _Held(board, boxes[0])
        what = "yokes and braces" if boxes[0].frame else "braces"
        blank = board.sheet(f"Form, {what}: {among(box.name for box in boxes)}")
        left, bottom, right, top = d.area(blank)
        told: list[str] = []
        for wide in _SAID:  # the narrowest room that it fits into
            told = [line for words in held.said() for line in wrapped(words, 2.5, wide - 4)]
            room, note = (left, bottom, right - wide, top), (right - wide + 2, top - 3)
            if _LINE * len(told) <= top - bottom - 6:
                break
        else:
            told = [line for words in held.said(brief=True) for line in wrapped(words, 2.5, _SAID[-1] - 4)]
        yield replace(
            blank,
            views=(board.fit("FROM AHEAD", held.draw, held.size, room),),
            marks=(d.Text(note, "\n".join(told), anchor="left top"),),
        )


def _look(box: Box) -> tuple[object, ...]:
    yokes = [(even(yoke.up), round(float(yoke.nails))) for yoke in box.yokes]
    brace = box.brace and (even(box.brace.up), even(box.brace.run), even(box.brace.a_side), even(box.brace.stakes))
    if box.frame is None:
        sizes: tuple[float, ...] = (
            even(box.inside_diameter),
            *(even(up) for up in (box.collar.ups if box.collar else ())),
        )
    else:
        sizes = (even(box.frame.flats), *(even(v) for yoke in box.yokes for v in (yoke.along, yoke.across)))
    return (*yokes, brace, even(box.height), *sizes, round(float(box.lateral.peak)), even(box.uplift.stakes))


@dataclass(frozen=True)
class _Held:
    board: Board
    box: Box

    @property
    def _half(self) -> float:
        """Half the form's width, outside of its panels, as seen from ahead."""
        frame = self.box.frame
        if frame is None:
            return float(self.box.inside_diameter) / 2
        if frame.sides != 4:
            return float(frame.flats) / 2
        return float(self.box.panels[-1].inside) / 2 + float(self.box.panels[0].thick)

    def _half_at(self, up: float) -> float:
        """The same so high up, where the form leans in."""
        panel = self.box.panels[-1]
        return self._half - float(panel.narrows) / 2 * max(up, 0.0) / float(self.box.height)

    @property
    def _out(self) -> float:
        """To the outside of the sticks."""
        frame, collar = self.box.frame, self.box.collar
        if collar is not None:
            return float(collar.stick) / 2
        return self._half + (float(frame.size.deep) if frame else 0.0)

    @property
    def size(self) -> tuple[float, float]:
        brace = self.box.brace
        reach = self._out + (float(brace.run) if brace else 0.0)
        return 2 * reach + _LOAD * 2 * self._half, float(self.box.height) + (_STAKE if brace else 0.0)

    def draw(self, scale: d.Scale) -> tuple[d.Entity, ...]:
        half, height, out = self._half, float(self.box.height), self._out
        brace = self.box.brace
        reach = out + (float(brace.run) if brace else 0.0)
        drawn: list[d.Entity] = [d.GroundLine(((-reach - 0.1, 0.0), (reach + 0.1, 0.0)))]
        head = self._half_at(height) if self.box.frame else half
        drawn.append(d.Polygon(((-half, 0.0), (half, 0.0), (head, height), (-head, height)), d.TIMBER, "tone"))
        drawn += self._yokes() if self.box.frame else self._collars()
        drawn += self._braces()
        drawn += self._pressed(scale, reach)
        ups = [float(yoke.up) for yoke in self.box.yokes] + [float(up) for up in self._ups]
        say = self.board.say
        edge = (-reach, 0.0, out, height)
        drawn += d.running(scale, edge, "left", 0.0, [*ups, height], say)
        if brace is not None:
            chain = d.Chain((-reach, -out, out, reach))
            drawn += d.stack(scale, (-reach, -_STAKE, reach, height), "below", [chain], say)
        else:
            drawn += d.stack(scale, (-half, 0.0, half, height), "below", [d.Chain((-half, half))], say)
        return tuple(drawn)

    def _yokes(self) -> Iterator[d.Entity]:
        frame = self.box.frame
        if frame is None:
            return
        half, out, wide = self._half, self._out, float(frame.size.wide)
        for yoke in self.box.yokes:
            up = float(yoke.up)
            gone = half - self._half_at(up - wide)
            if frame.sides != 4:
                long = float(yoke.along) / 2
                for left, right in ((-long, long), (gone - out, gone - half), (half - gone, out - gone)):
                    yield d.Polygon(d.rectangle(left, up - wide / 2, right, up + wide / 2), d.TIMBER, "paper")
                continue
            long = float(yoke.across) / 2
            yield d.Polygon(d.rectangle(-long, up, long, up + wide), d.TIMBER, "paper")
            for x in (gone - out, half - gone):
                yield d.Polygon(d.rectangle(x, up - wide, x + out - half, up), d.TIMBER, "paper")

    @property
    def _ups(self) -> tuple[Any, ...]:
        """Of the collars round a tube."""
        return self.box.collar.ups if self.box.collar is not None else ()

    def _collars(self) -> Iterator[d.Entity]:
        collar = self.box.collar
        if collar is None:
            return
        wide, deep, long = float(collar.size.wide), float(collar.size.deep), float(collar.stick) / 2
        for up in map(float, collar.ups):
            yield d.Polygon(d.rectangle(-long, up, long, up + wide), d.TIMBER, "paper")
            for x in (-long, long - deep):
                yield d.Polygon(d.rectangle(x, up - wide, x + deep, up), d.TIMBER, "paper")

    def _braces(self) -> Iterator[d.Entity]:
        """Both that lean on the sides, each on its stake."""
        brace = self.box.brace
        if brace is None:
            return
        up, run, thick = float(brace.up), float(brace.run), float(brace.size.wide)
        rise = thick * hypot(up, run) / run  # its thickness, plumb
        deep = float(brace.size.deep)
        for way in (-1, 1):
            foot, head = way * (self._out + run), way * self._out
            shape = ((head, up), (head, up - rise), (foot - way * rise * run / up, 0.0), (foot, 0.0))
            yield d.Polygon(shape, d.TIMBER, "paper")
            stake = sorted((foot, foot + way * deep))
            yield d.Polygon(d.rectangle(stake[0], -_STAKE, stake[1], 0.12), d.TIMBER, "paper")

    def _pressed(self, scale: d.Scale, reach: float) -> Iterator[d.Entity]:
        """A liquid from the top down, constant below; to the right of the form."""
        here, height = self.box.lateral, float(self.box.height)
        start = reach + 16 / scale.mm
        wide, turn = _LOAD * self._half, height - min(float(here.depth), height)
        shape = [(start, height), (start + wide, turn), (start + wide, 0.0), (start, 0.0)]
        shape = [point for point, after in zip(shape, [*shape[1:], shape[0]]) if point != after]
        yield d.Polygon(tuple(shape), d.DIMS)
        peak = self.board.say_pressure(here.peak)
        yield d.Text((start, -2 / scale.mm), f"{peak}\n{here.governs}", anchor="left top")

    def said(self, brief: bool = False) -> Iterator[str]:
        """Corners, braces, stakes and what they carry, in words. brief : of many yokes not each by itself."""
        box = self.box
        yield from self._framed(brief)
        if box.brace is not None:
            yield from braced(self.board, box.brace)
        yield from pressed_and_lifted(self.board, box)

    def _framed(self, brief: bool) -> Iterator[str]:
        box, frame, say = self.box, self.box.frame, self.board.say
        if frame is None:
            yield f"TUBE  {say(box.inside_diameter)} inside, {say(box.height)} high."
            if box.collar is not None:
                of = box.collar
                yield f"COLLARS  {of.size.name} {of.grade.name} on edge, at the foot and {say(of.ups[1])} up."
                yield f"Each 4 of {say(of.stick)}, two over two, {float(of.nails):.0f} 16d nails at each crossing."
                yield "Tight on the tube, which is taken 1/2 in thick; braces nailed to their middles, not to the tube."
            return
        sticks = {yoke.number: self._sticks(frame, yoke) for yoke in box.yokes}
        alike = len(set(sticks.values())) == 1
        each = f"each {sticks[1]}" if alike else "each cut for its height"
        yield f"YOKES  {frame.size.name} {frame.grade.name} on edge; {each}."
        if float(frame.strap) == float(frame.strap):
            yield f"A strap round each, rated {self.board.say_force(frame.strap)}."
            return
        if brief:
            yield f"{len(box.yokes)} of them: nails, sticks and pull of each stand in the list of yokes."
            return
        for yoke in reversed(box.yokes):
            held = f"16d nails in each corner: {float(yoke.nails):.0f}" if frame.sides == 4 else "a band round it"
            cut = "" if alike else f"{sticks[yoke.number]}; "
            yield f"{yoke.number}  up {say(yoke.up)}: {cut}{held}; pulled {self.board.say_force(yoke.pull)}"

    def _sticks(self, frame: Frame, yoke: Yoke) -> str:
        sticks: Counter[str] = Counter()
        for count, long in frame.sticks(yoke):
            sticks[self.board.say(long)] += count
        return ", ".join(f"{count} of {long}" for long, count in sticks.items())


def braced(board: Board, brace: Brace) -> Iterator[str]:
    say = board.say
    many, long = f"{float(brace.a_side):.0f} a side", say(brace.length)
    yield f"BRACES  {brace.size.name} {brace.grade.name}, {many}, {long} long."
    yield f"Nailed {say(brace.up)} up, foot {say(brace.run)} out; {board.say_force(brace.force)} either way in each."
    if float(brace.middles) > SAME:
        yield f"Each is held sideways at {float(brace.middles):.0f} places between its ends."
    yield f"{counted(brace.stakes, 'stake')} at each foot, {board.say_force(brace.stake)} a stake."


def pressed_and_lifted(board: Board, box: Box) -> Iterator[str]:
    if float(box.uplift.stakes) > SAME:
        lift, weight = board.say_force(box.uplift.lift), board.say_force(box.uplift.weight)
        yield f"UPLIFT  {lift} with {weight} of form: {counted(box.uplift.stakes, 'stake')} to tie it down."
    yield f"PRESSURE  {box.lateral.why or 'as the pour is described'}."
