"""Where does a thing really end up, if each measurement is a little off?

    error  : "west off"  1/16 in      one independent cause by its name; a tape used twice stands in the vector once
    layout : every error of a job, with its standard deviation
    site   : layout.under(errors)     the job as it comes out with these errors; with none, as the work has it

Each place is written once, here: nominal place, derivatives and samples are calls of it. A template is set on its
marks, turned and drilled once, for bolts and plate; what the bolts do alone is move while they are placed. What was
found stands where it was found.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import field
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

from batterboard.job.schema import Instruments
from batterboard.methods.errors import ErrorVector, Spread, propagate
from batterboard.record import ordered
from batterboard.work.records import Bolts, Frame, Line, Machine, Plate, Post, Step, Work
from batterboard.working import arcsin, arctan2, cos, hypot, sin

if TYPE_CHECKING:
    from batterboard.work.arcs import Arc

Errors = Mapping[str, Any]
SCALE = "tape scale"


@ordered
class Layout:
    """A work and what it is measured with."""

    work: Work
    tools: Instruments
    checked: Mapping[str, Any] = field(default_factory=dict)  # errors of check measurements, with their sigmas

    def under(self, errors: Errors) -> "Site":
        return Site(self, errors)

    @cached_property
    def things(self) -> list[Post | Machine]:
        """All that stands on a base."""
        return [*self.work.posts.values(), *self.work.machines.values()]

    @cached_property
    def standing(self) -> dict[str, list[str]]:
        """Names of posts and machines by the base they stand on."""
        on: dict[str, list[str]] = {}
        for thing in self.things:
            on.setdefault(thing.on, []).append(thing.name)
        return on

    @cached_property
    def joints(self) -> dict[str, tuple[Plate, Bolts]]:
        """Plate and bolts by post or machine."""
        return {t.name: (t.plate, t.bolts) for t in self.things if t.plate is not None and t.bolts is not None}

    @cached_property
    def bolts(self) -> dict[str, Bolts]:
        return {name: bolts for name, (_, bolts) in self.joints.items()}

    @cached_property
    def steps(self) -> dict[str, dict[str, Step]]:
        """The chain of each base, by kind of step."""
        return {
            name: {s.kind: s for s in self.work.chains.get(name, ()) if s.kind != "template"}
            for name in self.work.bases
        }

    @cached_property
    def starts(self) -> dict[str, str]:
        """The base that another one is measured from."""
        alongs = {name: steps["along"] for name, steps in self.steps.items() if "along" in steps}
        return {name: along.from_ for name, along in alongs.items() if along.from_ in self.work.bases}

    def swung(self, name: str) -> "Arc | None":
        """The arc round a nail that a base is measured along."""
        along = self.steps[name].get("along")
        arc = self.work.lines[along.line].arc if along is not None else None
        return arc if arc is not None and arc.centre else None

    def holders(self, line: str) -> Iterator[str]:
        """The bases that must stand before a line can be drawn."""
        drawn = self.work.lines[line]
        if drawn.set_from:
            yield from self.holders(drawn.set_from)
        for point in drawn.through:
            name = point.partition(".bolt.")[0].removesuffix(".centre")
            thing = self.work.posts.get(name) or self.work.machines.get(name)
            yield from [thing.on if thing else name] if name else []

    @cached_property
    def sigmas(self) -> dict[str, Any]:
        """Every elementary error of the job and its standard deviation."""
        t = self.tools
        sigma: dict[str, Any] = {SCALE: t.tape_scale}
        for line in self.work.lines.values():
            if line.arc is not None and line.arc.centre:
                continue  # nothing is stretched for it
            if line.square:
                sigma |= {f"{line.name} start": t.tape, f"{line.name} square": t.square}
            else:
                sigma |= {f"{line.name} start": t.line_end, f"{line.name} end": t.line_end}
        for name, steps in self.steps.items():
            sigma[f"{name} level"] = levelled(t)
            if "along" in steps:
                sigma[f"{name} along"] = t.tape
            if "off" in steps:
                sigma[f"{name} off"] = t.tape
                if self.swung(name) is None:
                    sigma |= {f"{name} string": t.string, f"{name} square": t.square}
        for name, bolts in self.bolts.items():
            sigma |= _both(f"{name} template", t.template) | {f"{name} turn": t.turn}
            sigma |= joint_errors(bolts, t)
        for post in self.work.posts.values():
            if post.bolts is None:
                sigma |= _both(f"{post.name} template", t.template)
            sigma |= _both(f"{post.name} plumb", plumbed(t))
        sigma |= {f"{leaf} length": t.leaf for leaf in self.work.leaves}
        return {**sigma, **self.checked}

    def spread(self, place: Callable[["Site"], Iterable[Any]]) -> Spread:
        """What a place is and how sure: by those errors alone that it depends on."""
        return self.told(place)[0]

    def told(self, place: Callable[["Site"], Iterable[Any]]) -> tuple[Spread, ErrorVector]:
        """The same, with those errors."""
        vector = self.asked_by(place)
        return propagate(lambda errors: place(self.under(errors)), vector), vector

    def asked_by(self, place: Callable[["Site"], Iterable[Any]]) -> ErrorVector:
        asked = _Asked()
        site = self.under(asked)
        rows = list(place(site))
        sigmas = {name: self.sigmas[name] for name in asked or (SCALE,)}
        variants = np.broadcast_shapes(*{np.shape(v) for v in (*rows, *sigmas.values(), *site.passed())})
        if not variants:
            return ErrorVector(sigmas)
        # An error has the shape of the variants, so that cases come before them.
        return ErrorVector({name: np.broadcast_to(np.asarray(s, float), variants) for name, s in sigmas.items()})

    @cached_property
    def meant(self) -> "Site":
        """The job without errors."""
        return Site(self, _Asked(), meant=True)


class _Asked(dict[str, float]):
    """No errors at all; remembers which were asked for."""

    def __missing__(self, name: str) -> float:
        self[name] = 0.0
        return 0.0


def _both(name: str, sigma: Any) -> dict[str, Any]:
    return {f"{name} along": sigma, f"{name} across": sigma}


def levelled(tools: Instruments) -> Any:
    """How sure one levelled height is, by what it is taken with."""
    if tools.level is not None:
        return tools.level
    return {
        "laser": tools.laser,
        "builder's level": tools.builders_level,
        "water level": tools.water_level,
        "line level": tools.line_level,
        "eye": tools.eye,
    }[tools.level_with]


def plumbed(tools: Instruments) -> Any:
    """How sure a post is to stand plumb, by what it is plumbed with."""
    if tools.plumb is not None:
        return tools.plumb
    return {"spirit level": tools.spirit_level, "plumb bob": tools.plumb_bob, "eye": tools.plumb_eye}[tools.plumb_with]


# ---- one joint in its own axes ----


def joint_errors(bolts: Bolts, tools: Instruments) -> dict[str, Any]:
    """Errors of drilling a template and of placing the bolts in it."""
    sigma: dict[str, Any] = {}
    for number in range(1, len(bolts.x) + 1):
        sigma |= _both(f"{bolts.name} hole {number}", tools.drill) | _both(f"{bolts.name} bolt {number}", tools.bolt)
    return sigma


def drilled(bolts: Bolts, e: Errors) -> tuple[list[Any], list[Any]]:
    """Holes of template and plate, x and y: drilled once, through both."""
    n = range(len(bolts.x))
    return (
        [bolts.x[i] + e[f"{bolts.name} hole {i + 1} along"] for i in n],
        [bolts.y[i] + e[f"{bolts.name} hole {i + 1} across"] for i in n],
    )


def placed(bolts: Bolts, e: Errors) -> tuple[list[Any], list[Any]]:
    """Bolts, x and y: out of the template's holes, moved in the concrete. One that was found stands as found."""
    x, y = drilled(bolts, e)
    for i in range(len(bolts.x)):
        if i + 1 in bolts.found:
            x[i], y[i] = bolts.found_x[i], bolts.found_y[i]
        else:
            x[i] = x[i] + e[f"{bolts.name} bolt {i + 1} along"]
            y[i] = y[i] + e[f"{bolts.name} bolt {i + 1} across"]
    return x, y


# ---- the job ----


class Site:
    """A job as it comes out under given errors, each a number or an array (cases, ...)."""

    def __init__(self, layout: Layout, errors: Errors, *, meant: bool = False) -> None:
        self.layout, self.work, self.e, self.is_meant = layout, layout.work, errors, meant
        self._lines: dict[str, Frame] = {}
        self._measured: dict[str, tuple[Any, Any]] = {}

    def passed(self) -> Iterator[Any]:
        """What places have been taken from so far: variants may be in these and in no place."""
        for line in self._lines.values():
            yield from (line.x, line.y, line.turn)
        for place in self._measured.values():
            yield from place

    def line(self, name: str) -> Frame:
        """A string line as it was drawn, of an arc its chord: along ahead, across to the left."""
        if name not in self._lines:
            self._lines[name] = self._drawn(name)
        return self._lines[name]

    def _drawn(self, name: str) -> Frame:
        line, e = self.work.lines[name], self.e
        if line.arc is not None and line.arc.centre:  # nothing is stretched for it
            x, y = self.point(line.through[0]) if line.through[0] else (line.x, line.y)
            return Frame(x=x, y=y, turn=line.turn)
        if any(line.through):
            return self._through(line)
        if not line.set_from:
            start, end = e[f"{name} start"], e[f"{name} end"]
            at = line.string.moved(0.0, start)
            return Frame(x=at.x, y=at.y, turn=line.turn + (end - start) / line.length)
        meant, drawn = self.work.lines[line.set_from], self.line(line.set_from)
        along, off = meant.string.into(line.x, line.y)
        turned, scale = line.turn + (drawn.turn - meant.turn), 1 + e[SCALE]
        if line.square:
            x, y = drawn.out(along * scale + e[f"{name} start"], off * scale)
            return Frame(x=x, y=y, turn=turned + e[f"{name} square"])
        start, end = e[f"{name} start"], e[f"{name} end"]
        x, y = drawn.out(along, off * scale + start)
        return Frame(x=x, y=y, turn=turned + (end - start) / line.length)

    def _through(self, line: Line) -> Frame:
        """A line held at what was set out, as that came to stand; its ends still lie off their points."""
        start, end = line.through
        ahead = line.string.out(line.length, 0.0)
        (x, y), (to_x, to_y) = self.point(start) if start else (line.x, line.y), self.point(end) if end else ahead
        turn, length = arctan2(to_y - y, to_x - x), hypot(to_x - x, to_y - y)
        off, end_off = self.e[f"{line.name} start"], self.e[f"{line.name} end"]
        at = Frame(x=x, y=y, turn=turn).moved(0.0, off)
        return Frame(x=at.x, y=at.y, turn=turn + (end_off - off) / length)

    def measured(self, name: str) -> tuple[Any, Any]:
        """Where the chain of a base puts its centre: along a line as drawn, at an offset from a line as drawn."""
        waiting = [] if name in self._measured else [name]
        while waiting and (start := self.layout.starts.get(waiting[-1])) and start not in self._measured:
            waiting.append(start)
        for base in reversed(waiting):  # from the first of a long row to the one that was asked for
            self._measured[base] = self._taped(base)
        return self._measured[name]

    def _taped(self, name: str) -> tuple[Any, Any]:
        steps, frame, e = self.layout.steps[name], self.work.bases[name].frame, self.e
        if (arc := self.layout.swung(name)) is not None:
            return self._swung(name, arc)
        along, off = steps.get("along"), steps.get("off")
        either = along or off
        if either is None:
            return frame.x, frame.y
        first, second = (along or either).line, (off or either).line
        path, side, scale = self.line(first), self.line(second), 1 + e[SCALE]
        station, offset = 0.0, 0.0
        if along is not None:
            station = self._start(along, path) + along.value * scale + e[f"{name} along"]
        if off is not None:
            offset = off.value * scale + e[f"{name} off"] + e[f"{name} string"]
        if first == second:
            out = offset
        else:  # square to the first until the offset from the second is right
            x, y = path.out(station, 0.0)
            out = (offset - side.into(x, y)[1]) / cos(path.turn - side.turn)
        askew = e[f"{name} square"] if off is not None else 0.0
        return path.out(station - out * askew, out)

    def _swung(self, name: str, arc: "Arc") -> tuple[Any, Any]:
        """Marked on the arc where tapes from its nail and from the mark behind cross; then in line with the nail."""
        steps, e, scale = self.layout.steps[name], self.e, 1 + self.e[SCALE]
        along, off = steps["along"], steps["off"]
        cx, cy = self.work.marks[arc.centre]
        x, y = self._held(along)
        across = along.value * scale + e[f"{name} along"]
        turn = arctan2(y - cy, x - cx) + arc.way * 2 * arcsin(across / (2 * arc.radius * scale))
        out = off.value * scale + e[f"{name} off"]
        return cx + out * cos(turn), cy + out * sin(turn)

    def _held(self, along: Step) -> tuple[Any, Any]:
        """Where the tape along an arc is held: at a thing, a mark, or the arc's start."""
        if along.from_ in self.work.bases:
            return self._centre(along.from_)
        if along.from_ in self.work.marks:
            return self.work.marks[along.from_]
        start = self.line(along.line)
        return start.x, start.y

    def _start(self, along: Step, path: Frame) -> Any:
        """The station the tape is held at."""
        if along.from_ in self.work.bases:
            return path.into(*self._centre(along.from_))[0]
        if along.from_ in self.work.marks:
            return path.into(*self.work.marks[along.from_])[0]
        return 0.0

    def _centre(self, name: str) -> tuple[Any, Any]:
        """Where the work has it, moved by what the errors change in its chain."""
        frame = self.work.bases[name].frame
        if self.is_meant:
            return frame.x, frame.y
        x, y = self.measured(name)
        meant_x, meant_y = self.layout.meant.measured(name)
        return frame.x + (x - meant_x), frame.y + (y - meant_y)

    def base(self, name: str) -> Frame:
        """A pier or slab: its centre, and its own along."""
        frame, steps = self.work.bases[name].frame, self.layout.steps[name]
        x, y = self._centre(name)
        turned = steps.get("turn") or steps.get("along") or steps.get("off")
        if turned is None:
            return Frame(x=x, y=y, turn=frame.turn)
        arc = self.layout.swung(name)
        if arc is not None and turned.line == steps["along"].line:  # square to the tape from its nail
            cx, cy = self.work.marks[arc.centre]
            swung = Frame(x=cx, y=cy, turn=arctan2(frame.y - cy, frame.x - cx)).into(x, y)
            return Frame(x=x, y=y, turn=frame.turn + arctan2(swung[1], swung[0]))
        swung = self.line(turned.line).turn - self.work.lines[turned.line].turn
        return Frame(x=x, y=y, turn=frame.turn + swung)

    def top(self, name: str) -> Any:
        return self.work.bases[name].top + self.e[f"{name} level"]

    def template(self, name: str) -> Frame:
        """Where the template of a post or machine was set, and how it lies."""
        on = self.work.posts[name].on if name in self.work.posts else self.work.machines[name].on
        meant, here, e = self.work.bases[on].frame, self.base(on), self.e
        bolts = self.layout.bolts.get(name)
        own = bolts.frame if bolts is not None else self.work.posts[name].frame
        along, across = meant.into(own.x, own.y)
        x, y = here.out(along + e[f"{name} template along"], across + e[f"{name} template across"])
        turned = e[f"{name} turn"] if bolts is not None else 0.0
        return Frame(x=x, y=y, turn=own.turn + (here.turn - meant.turn) + turned)

    def bolts(self, name: str) -> list[tuple[Any, Any]]:
        """Bolts in the job's plan."""
        template = self.template(name)
        return [template.out(x, y) for x, y in zip(*placed(self.layout.bolts[name], self.e))]

    def plate(self, name: str) -> Frame:
        """Where a plate lies that was put on its bolts in the middle of their play."""
        if name not in self.layout.bolts:
            return self.template(name)
        template, bolts = self.template(name), self.layout.bolts[name]
        (hx, hy), (rx, ry) = drilled(bolts, self.e), placed(bolts, self.e)
        n = len(hx)
        mx, my, ox, oy = sum(hx) / n, sum(hy) / n, sum(rx) / n, sum(ry) / n
        hx, hy, rx, ry = [x - mx for x in hx], [y - my for y in hy], [x - ox for x in rx], [y - oy for y in ry]
        askew = sum(a * d - b * c for a, b, c, d in zip(hx, hy, rx, ry))
        straight = sum(a * c + b * d for a, b, c, d in zip(hx, hy, rx, ry))
        turn = arctan2(askew, straight)
        c, s = cos(turn), sin(turn)
        x, y = template.out(ox - (c * mx - s * my), oy - (s * mx + c * my))
        return Frame(x=x, y=y, turn=template.turn + turn)

    def post(self, name: str, height: Any = 0.0) -> Frame:
        """A post at a height above its foot, as far out of plumb as it was found and then is set."""
        foot, post = self.plate(name), self.work.posts[name]
        along = (post.lean + self.e[f"{name} plumb along"]) * height
        return foot.moved(along, self.e[f"{name} plumb across"] * height)

    def point(self, name: str) -> tuple[Any, Any]:
        """A point by its name: a mark, a line's start, west, west.centre, hinge, hinge.bolt.1, west.bolt.1."""
        thing, _, number = name.rpartition(".bolt.")
        if thing:
            on_it = [thing] if thing in self.layout.bolts else self.layout.standing.get(thing, [])
            bolted = next(n for n in on_it if n in self.layout.bolts and int(number) <= len(self.layout.bolts[n].x))
            return self.bolts(bolted)[int(number) - 1]
        name = name.removesuffix(".centre").removesuffix(".top")
        if name in self.work.marks:
            return self.work.marks[name]
        if name in self.work.lines:
            frame = self.line(name)
        elif name in self.work.bases:
            frame = self.base(name)
        else:
            frame = self.plate(name)
        return frame.x, frame.y

    def height(self, name: str) -> Any:
        """A bench mark's level, or that of the top of the concrete of this name."""
        name = name.removesuffix(".top")
        if name in self.work.levels:
            return self.work.levels[name]
        if name in self.work.posts:
            name = self.work.posts[name].on
        elif name in self.work.machines:
            name = self.work.machines[name].on
        return self.top(name)
