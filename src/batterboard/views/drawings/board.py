"""The drawing board: what every drawing of one job shares.

    board.work, board.planned      what stands there as found, and as planned (None where nothing was found)
    board.say(0.559)               1'-10"
    board.sheet("General plan")    a blank sheet with its title block
    Turned(1.571)                  the job's plan turned so that the work lies square to the paper
    alike(...)                     things that look the same share a sheet

A drawing is a function of the board. It reads results and places them; what a number is was decided by the phases.
"""

from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass
from functools import cached_property
from math import cos, degrees, pi, sin
from typing import Any, TypeVar

from batterboard.plan import Plan
from batterboard.quantity import Force, Length, Pressure, show
from batterboard.views import drawing as d
from batterboard.views.drawings.labels import unhatched
from batterboard.views.words import NOT_REPLACED
from batterboard.work.records import Frame, Work

Thing = TypeVar("Thing")

Draw = Callable[[d.Scale], tuple[d.Entity, ...]]
Notes = Callable[[d.Scale, tuple[d.Entity, ...], d.Box], tuple[d.Entity, ...]]

_NAME = 15.0  # the name of a view and its scale, under it [mm]
_BESIDE = 12.0  # what dimensions take at least on one side [mm]
_TRIES = 2  # scales, where labels need more room than the drawing left
SAME = 2e-4  # what differs by less is drawn as one: nobody measures it [m]
_ASIDE = 1e-4 / 64  # 1/64 in is 3.96875 tenths of a millimetre, 3/4 in 190.5 of them: neither way but for this [m]
TAPE = 1.5e-3  # what was found off by less agrees with the plan [m]


@dataclass(frozen=True)
class Board:
    plan: Plan
    paper: d.Paper | None = None  # letter or A4 by the job's units where nobody asks for another

    @property
    def work(self) -> Work:
        return self.plan.work

    @cached_property
    def planned(self) -> Work | None:
        """What was meant to stand there, where something was found."""
        before = self.plan.job.planned
        return Plan(before).work if before is not None else None

    @property
    def system(self) -> str:
        return str(self.plan.job.job.units)

    def say(self, length: Any) -> str:
        """A length as it is written on a drawing."""
        return show(float(length), Length, "us" if self.system == "us" else "si")

    def say_force(self, force: Any) -> str:
        """As near as anybody holds it."""
        us = self.system == "us"
        return show(float(force), Force, "us" if us else "si", "5 lb" if us else "0.05 kN")

    def say_pressure(self, pressure: Any) -> str:
        """The same of what fresh concrete presses."""
        us = self.system == "us"
        return show(float(pressure), Pressure, "us" if us else "si", "5 psf" if us else "0.1 kPa")

    def say_thickness(self, length: Any) -> str:
        """A sheet's real thickness, which is finer than a tape."""
        return show(float(length), Length, unit="1/32 in" if self.system == "us" else "0.1 mm")

    def say_level(self, z: Any, bench: str) -> str:
        """A height, up or down from a bench mark: +8\"."""
        return self.say_up(float(z) - float(self.work.levels.get(bench, 0.0)))

    def say_up(self, height: float) -> str:
        """A difference in height with its sign."""
        text = self.say(height)
        return text if text.startswith("-") else f"±{text}" if text.startswith("0") else f"+{text}"

    @cached_property
    def bench(self) -> str:
        """The level that heights are told from: the first that a thing was measured from."""
        steps = (step for chain in self.work.chains.values() for step in chain if step.kind == "level")
        named = [step.from_ for step in steps if step.from_ in self.work.levels]
        return next(iter([*named, *self.work.levels]), "")

    def sheet(self, name: str, landscape: bool = True) -> d.Sheet:
        heading = self.plan.job.job
        return d.Sheet(
            name=name,
            job=heading.name,
            job_hash=self.plan.job.digest,
            replaces=heading.replaces,
            paper=self.paper or (d.LETTER if self.system == "us" else d.A4),
            landscape=landscape,
            system=self.system,
            caution=NOT_REPLACED,
        )

    def fit(self, name: str, draw: Draw, size: tuple[float, float], room: d.Box, notes: Notes | None = None) -> d.View:
        """The drawing at the largest standard scale that fits, set in the middle; `size` is the bare thing's [m].

        `notes` places labels once everything else is drawn, in the box [m] that the room leaves.
        """
        scale = self.scale(draw, size, room)
        for smaller in [s for s in d.SCALES[self.system] if s.ratio >= scale.ratio][:_TRIES]:
            drawn = draw(smaller)
            if notes is not None:
                drawn = (*drawn, *notes(smaller, drawn, self._left_free(smaller, drawn, room)))
            if self._fits(smaller, drawn, room):
                break
        return d.centred(d.View(name, smaller, (0.0, 0.0), drawn), room, self.system)

    def _left_free(self, scale: d.Scale, drawn: tuple[d.Entity, ...], room: d.Box) -> d.Box:
        left, bottom, right, top = self._around(scale, drawn)
        wide, high = (room[2] - room[0]) - (right - left), (room[3] - room[1]) - (top - bottom) - _NAME
        free = (left - 0.3 * wide, bottom - 0.4 * high, right + 0.7 * wide, top + 0.6 * high)
        return (free[0] / scale.mm, free[1] / scale.mm, free[2] / scale.mm, free[3] / scale.mm)

    def _around(self, scale: d.Scale, drawn: tuple[d.Entity, ...]) -> d.Box:
        return d.extent(d.View("", scale, (0.0, 0.0), tuple(unhatched(drawn))), self.system)

    def scale(self, draw: Draw, size: tuple[float, float], room: d.Box) -> d.Scale:
        """The largest scale at which the drawing fits without its labels."""
        wide, high = room[2] - room[0], room[3] - room[1]
        wide, high = wide - _BESIDE, high - _NAME - _BESIDE
        scales = [s for s in d.SCALES[self.system] if size[0] * s.mm <= wide and size[1] * s.mm <= high]
        scales = scales or list(d.SCALES[self.system][-1:])
        for scale in scales:
            if self._fits(scale, draw(scale), room):
                return scale
        return next((s for s in scales if size[0] * s.mm < wide / 2 and size[1] * s.mm < high / 2), scales[-1])

    def _fits(self, scale: d.Scale, drawn: tuple[d.Entity, ...], room: d.Box) -> bool:
        left, bottom, right, top = self._around(scale, drawn)
        return right - left <= room[2] - room[0] and top - bottom <= room[3] - room[1] - _NAME


@dataclass(frozen=True)
class Turned:
    """The job's plan seen with one direction to the right: points of the paper from points of the job."""

    turn: float

    @classmethod
    def of(cls, frames: Iterable[Frame]) -> "Turned":
        """So that most things lie square to the paper, the first of them ahead to the right."""
        turns = [float(frame.turn) for frame in frames]
        known = [round(turn % (2 * pi), 4) for turn in turns]
        most = max(range(len(turns)), key=lambda i: (known.count(known[i]), -i), default=None)
        return cls(0.0 if most is None else turns[most])

    def at(self, x: Any, y: Any) -> d.Point:
        c, s = cos(self.turn), sin(self.turn)
        return float(x) * c + float(y) * s, -float(x) * s + float(y) * c

    def all(self, x: Any, y: Any) -> tuple[d.Point, ...]:
        return tuple(self.at(a, b) for a, b in zip(x, y))

    def own(self, frame: Frame, *points: tuple[float, float]) -> tuple[d.Point, ...]:
        """Points of a thing's own axes."""
        return tuple(self.at(*frame.out(along, across)) for along, across in points)

    def bearing(self, turn: Any) -> float:
        """A direction of the job, on paper [degrees]."""
        return degrees(float(turn) - self.turn)


def alike(things: Iterable[Thing], look: Callable[[Thing], Hashable]) -> list[tuple[Thing, ...]]:
    """Things in groups that look the same, in the order of their firsts."""
    groups: dict[Hashable, list[Thing]] = {}
    for thing in things:
        groups.setdefault(look(thing), []).append(thing)
    return [tuple(group) for group in groups.values()]


def counted(many: Any, what: str) -> str:
    """1 stake, 2 stakes."""
    return f"{float(many):.0f} {what}" + ("" if round(float(many)) == 1 else "s")


def even(value: Any) -> float:
    """A number to compare looks by: tenths of a millimetre, turning where no tape has a mark, so that 3/4 in is one."""
    return round(float(value) + _ASIDE, 4) + 0.0


def box(points: Iterable[d.Point]) -> d.Box:
    listed = list(points)
    xs, ys = [x for x, _ in listed], [y for _, y in listed]
    return min(xs), min(ys), max(xs), max(ys)
