"""Where does each thing stand, and how was it measured there?

    line    : from a point, in a direction; or an arc          lane: from the nail, along x
    chain   : the steps of one element in measuring order      level, along, off, turn, template
    frame   : the axes a chain ends in                         x 7.39 m, y 6.71 m, turned to the gate

A distance left out between two piers follows from the opening between their posts. What is done, or was looked at,
stays where the plan set it out, moved by what was found; what is still to be placed is measured from its neighbours as
found.
"""

from collections.abc import Iterable
from dataclasses import fields, is_dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

from batterboard.job import schema
from batterboard.job.schema import Elevation, Job
from batterboard.record import ordered
from batterboard.standards import tables
from batterboard.work.axes import stacked
from batterboard.work.found import Sight, sights
from batterboard.work.ground import Ground
from batterboard.work.records import Frame, Line, Step
from batterboard.working import arctan2, cos, hypot, nan, pi, sin, tan, where

if TYPE_CHECKING:
    from batterboard.work.arcs import Arc

QUARTER = pi / 2


@ordered
class Places:
    """Where everything of a job stands, worked out once each when asked for."""

    job: Job
    planned: "Places | None" = None  # where the plan has it
    set_out: frozenset[str] = frozenset()  # what stays there

    # ---- the site ----

    @cached_property
    def levels(self) -> dict[str, Any]:
        return {name: level.z for name, level in self.job.levels.items()}

    @cached_property
    def marks(self) -> dict[str, tuple[Any, Any]]:
        return {name: mark.at for name, mark in self.job.marks.items()}

    @cached_property
    def lines(self) -> dict[str, Line]:
        return {name: self.line(name) for name in self.job.lines}

    @cached_property
    def _lines(self) -> dict[str, Line]:
        return {}

    def line(self, name: str) -> Line:
        """A string line, once what it hangs on stands: that may itself be measured from other lines."""
        if name not in self._lines:
            self._lines[name] = self._drawn(name, self.job.lines[name])
        return self._lines[name]

    def _drawn(self, name: str, line: schema.Line) -> Line:
        other = line.square_to or line.beside
        if other is not None:
            known = self.line(other)
            if line.square_to:
                x, y = known.string.out(line.at, 0.0)
                turn = known.turn + QUARTER
            else:
                x, y = known.string.out(0.0, net(line.left, line.right))
                turn = known.turn
            square = line.square_to is not None
            return Line(name=name, x=x, y=y, turn=turn, length=known.length, set_from=other, square=square)
        (x, y), (to_x, to_y) = self.ends(line)
        length = hypot(to_x - x, to_y - y)
        turn = where(length > 0, arctan2(to_y - y, to_x - x), nan)
        start, end = (end if isinstance(end, str) and end not in self.marks else "" for end in (line.from_, line.to))
        if line.bulges is None:
            return Line(name=name, x=x, y=y, turn=turn, length=length, through=(start, end))
        from batterboard.work.arcs import told

        arc = told(line, Frame(x=x, y=y, turn=turn), length, (to_x, to_y), self.marks)
        to_x, to_y = arc.out(arc.length, 0.0)  # round a centre, the point only says in which direction it ends
        turn, length = arctan2(to_y - y, to_x - x), hypot(to_x - x, to_y - y)
        return Line(name=name, x=x, y=y, turn=turn, length=length, through=(start, end), arc=arc)

    def ends(self, line: schema.Line) -> tuple[tuple[Any, Any], tuple[Any, Any]]:
        """The two points a line runs from and to."""
        return self._point(line.from_), self._point(line.to)

    def _point(self, point: Any) -> tuple[Any, Any]:
        """Where a line is held: x and y, a mark, the centre of what is placed, or one of its bolts."""
        if not isinstance(point, str):
            x, y = point
            return x, y
        if point in self.marks:
            return self.marks[point]
        name, _, number = point.partition(".bolt.")
        name = name.removesuffix(".centre")
        if number:
            return self._bolt(name, int(number))
        frame = self.frame(name) if name in self.bases else self.post(name)
        return frame.x, frame.y

    def _bolt(self, name: str, number: int) -> tuple[Any, Any]:
        """A bolt by its number, of a post or machine or of what stands on a base: found, or as its template has it."""
        things: dict[str, schema.Post | schema.Machine] = {**self.job.posts, **self.job.machines}
        for own, thing in things.items():
            if name in (own, thing.on) and thing.joint is not None and number <= thing.joint.bolts.count:
                template = self.template(thing.on or "", thing.shift)
                x, y = found_places(thing.joint, self.sights(thing.on or "", thing, template))
                at_x, at_y = template.out(x[number - 1], y[number - 1])
                return at_x, at_y
        raise ValueError(f"nothing on {name} has a bolt {number}")

    @cached_property
    def ground(self) -> Ground:
        """A plane or spots; where the file says neither, level with the first bench mark."""
        ground = self.job.ground
        if ground.spots:
            x, y, z = (stacked(*column) for column in zip(*ground.spots))
            return Ground(x=x, y=y, z=z)
        if ground.grade is None:
            return _plane(0.0, 0.0, next(iter(self.levels.values()), 0.0), 0.0, 0.0)
        grade = ground.grade
        z = self.levels[grade.level] + net(grade.up, grade.down)
        if grade.falls is None:
            return _plane(0.0, 0.0, z, 0.0, 0.0)
        line = self.line(grade.falls.along)
        fall = -1 / grade.falls.one_in
        return _plane(line.x, line.y, z, fall * cos(line.turn), fall * sin(line.turn))

    def height(self, elevation: Elevation, x: Any, y: Any) -> Any:
        """The level an elevation means at a place."""
        base = self.levels[elevation.level] if elevation.level else self.ground.level(x, y)
        return base + net(elevation.up, elevation.down)

    # ---- what stands there ----

    @cached_property
    def bases(self) -> dict[str, schema.Pier | schema.Pad]:
        """Piers and flat pads that are built."""
        piers = {name: pier for name, pier in self.job.piers.items() if not pier.left_out}
        return {**piers, **self.job.pads}

    @cached_property
    def _frames(self) -> dict[str, Frame]:
        return {}

    @cached_property
    def _chains(self) -> dict[str, tuple[Step, ...]]:
        return {}

    @cached_property
    def _stations(self) -> dict[str, Any]:
        return {}

    def frame(self, name: str) -> Frame:
        """Where a pier or flat pad stands: its own axes at its centre."""
        if name not in self._frames:
            base = self.bases[name]
            if self.planned is not None and name in self.set_out:
                meant, chain = self.planned.frame(name), self.planned.chain(name)
            else:
                meant, chain = self._measured(name, base.place)
            self._frames[name] = shifted(meant, base.shift)
            self._chains[name] = chain
        return self._frames[name]

    def chain(self, name: str) -> tuple[Step, ...]:
        """The steps in the plan that placed it."""
        self.frame(name)
        return self._chains[name]

    def _measured(self, name: str, place: Iterable[schema.Step]) -> tuple[Frame, tuple[Step, ...]]:
        along = off = turned = None
        station: Any = 0.0
        offset: Any = 0.0
        turn = next((self.line(step.turn).turn for step in place if step.turn), None)
        steps = []
        for step in place:
            if step.turn:
                turned = self.line(step.turn)
                steps.append(Step(element=name, kind="turn", from_=step.turn, line=step.turn, value=0.0))
            elif step.along:
                along = self.line(step.along)
                start = self._start(step.from_, along)
                if along.arc is not None:
                    return self._on_arc(name, place, along, along.arc, start)
                derived = step.ahead is None and step.back is None
                if derived:
                    station = self._through_opening(step.from_, name, along, along.turn if turn is None else turn)
                else:
                    station = start + net(step.ahead, step.back)
                steps.append(
                    Step(
                        element=name,
                        kind="along",
                        from_=step.from_ or along.name,
                        line=along.name,
                        value=station - start,
                        derived=derived,
                    )
                )
            else:
                off = self.line(step.from_ or "")
                offset = net(step.left, step.right)
                steps.append(Step(element=name, kind="off", from_=off.name, line=off.name, value=offset))
        off = off or along or self.line(next(iter(self.job.lines)))
        along = along or off
        x, y = _meet(along, station, off, offset)
        return Frame(x=x, y=y, turn=(turned or along).turn), tuple(steps)

    def _on_arc(
        self, name: str, place: Iterable[schema.Step], line: Line, arc: "Arc", start: Any
    ) -> tuple[Frame, tuple[Step, ...]]:
        """A place along an arc. Its steps are what is taped: off its chord, or from its centre and across the curve."""
        station, offset, held, turned = start, 0.0, "", None
        for step in place:
            if step.along:
                station, held = start + net(step.ahead, step.back), step.from_ or ""
            elif step.from_:
                offset = net(step.left, step.right)
            elif step.turn and step.turn != line.name:
                turned = self.line(step.turn)
        self._stations[name] = station
        (x, y), (along, off, turn) = arc.out(station, offset), arc.taped(start, station, offset)
        start_at, off_at = (held or line.name, arc.centre) if arc.centre else (line.name, line.name)
        steps = [
            Step(element=name, kind="along", from_=start_at, line=line.name, value=along),
            Step(element=name, kind="off", from_=off_at, line=line.name, value=off),
        ]
        if any(step.turn for step in place):
            by = turned or line
            steps.append(Step(element=name, kind="turn", from_=by.name, line=by.name, value=0.0 if turned else turn))
        return Frame(x=x, y=y, turn=turned.turn if turned else arc.at(station).turn), tuple(steps)

    def station(self, name: str) -> Any:
        """How far along its arc a base was meant to stand."""
        self.frame(name)
        if name in self._stations or self.planned is None:
            return self._stations[name]
        return self.planned.station(name)

    def _start(self, name: str | None, line: Line) -> Any:
        """How far along a line the tape is held."""
        if name is None or name in self.job.lines:
            return 0.0
        if name in self.marks:
            return line.path.into(*self.marks[name])[0]
        frame = self.frame(name)
        return line.path.into(frame.x, frame.y)[0]

    # ---- plates and the opening ----

    def template(self, base: str, shift: schema.Shift | None) -> Frame:
        """Where a plate was meant to be on its base."""
        return shifted(self.top(base), shift)

    def top(self, base: str) -> Frame:
        """Where the top of a pier or pad stands: one that leans carries it along."""
        frame, pier = self.frame(base), self.bases[base]
        if not isinstance(pier, schema.Pier) or pier.lean is None:
            return frame
        high = pier.height
        if high is None:
            assert pier.top is not None and pier.bottom is not None
            high = self.height(pier.top, frame.x, frame.y) - self.height(pier.bottom, frame.x, frame.y)
        return frame.moved(high * tan(pier.lean), 0.0)

    def post(self, name: str) -> Frame:
        """Where a post or machine stands: as its bolts carry it."""
        post: schema.Post | schema.Machine = self.job.posts.get(name) or self.job.machines[name]
        on = post.on or (post.set.in_ if isinstance(post, schema.Post) and post.set else "")
        frame = self.template(on, post.shift)
        if post.joint is None or not post.bolts:
            return frame
        return on_bolts(frame, *pattern(post.joint), *found_places(post.joint, self.sights(on, post, frame)))

    def sights(self, on: str, thing: schema.Post | schema.Machine, template: Frame) -> dict[int, tuple[Sight, ...]]:
        """How each bolt's place was measured, by number, in the template's axes."""
        if thing.joint is None:
            return {}
        x, y = pattern(thing.joint)
        base, frame, count = self.bases[on], self.top(on), len(x)
        return {
            n: tuple(sights(bolt, (x[n - 1], y[n - 1]), template, frame, _size(base), self.marks))
            for n, bolt in thing.bolts.items()
            if n <= count
        }

    def _through_opening(self, start: str | None, name: str, line: Line, turn: Any) -> Any:
        """The station of a pier from which its post leaves the opening that the leaves and their gaps need."""
        here, there = self._posts_on(start), self._posts_on(name)
        for leaf in self.job.leaves.values():
            other = self.job.leaves.get(leaf.shuts.on)
            ends = (leaf.hung.on, other.hung.on if other else leaf.shuts.on)
            for near, far in (ends, ends[::-1]):
                if near in here and far in there:
                    stands = self.post(near)
                    own = shifted(Frame(x=0.0, y=0.0, turn=turn), self.job.posts[far].shift)
                    return (
                        line.path.into(stands.x, stands.y)[0]
                        + self._between_posts(leaf, other, near, far)
                        - (own.x * cos(line.turn) + own.y * sin(line.turn))
                    )
        raise ValueError(f"no leaf hangs between posts on {start} and {name}, so that no distance follows")

    def _posts_on(self, base: str | None) -> set[str]:
        return {name for name, post in self.job.posts.items() if base in (post.on, post.set.in_ if post.set else None)}

    def _between_posts(self, leaf: schema.Leaf, other: schema.Leaf | None, near: str, far: str) -> Any:
        """From the centre of one post to that of the other."""
        halves = sum(tables.section(self.job.posts[post].section).depth for post in (near, far)) / 2
        clear = leaf.size[0] + hinge_gap(leaf) + latch_gap(leaf)
        if other is not None:
            clear = clear + other.size[0] + hinge_gap(other)
        return clear + halves


# Tube gates on bolt hooks: 1 5/8 to 1 7/8 in at the hinges, about 2 in at a side latch; two leaves nearly touch.
# Common practice, no source; used where the file leaves a gap out.
_HINGE_GAP, _LATCH_GAP, _MEETING_GAP = 0.04445, 0.0508, 0.01905


def hinge_gap(leaf: schema.Leaf) -> Any:
    return _HINGE_GAP if leaf.hung.gap is None else leaf.hung.gap


def latch_gap(leaf: schema.Leaf) -> Any:
    if leaf.shuts.gap is not None:
        return leaf.shuts.gap
    return _MEETING_GAP if leaf.shuts.bolt == "down" else _LATCH_GAP


def places(job: Job) -> Places:
    """The places of a job as found, or as planned where nothing was found."""
    if job.planned is None:
        return Places(job)
    return Places(job, Places(job.planned), frozenset(_set_out(job, job.planned)))


def net(one_way: Any, other_way: Any) -> Any:
    """Signed, from two directions of which one is written: ahead and back, left and right, up and down."""
    return (0.0 if one_way is None else one_way) - (0.0 if other_way is None else other_way)


def shifted(frame: Frame, shift: schema.Shift | None) -> Frame:
    if shift is None:
        return frame
    return frame.moved(net(shift.along, shift.back), net(shift.across, shift.right))


# ---- bolts ----


def pattern(joint: schema.Joint) -> tuple[Any, Any]:
    """Bolts in the plate's axes, x and y (bolts, ...): counter-clockwise, the one ahead and left first."""
    if joint.square is not None:
        return _corners(joint.square, joint.square)
    if joint.rows is not None:
        return _corners(*joint.rows)
    if joint.circle is not None:
        n = joint.bolts.count
        turns = [(2 * i + 1) * pi / n for i in range(n)]
        return stacked(*(joint.circle / 2 * cos(t) for t in turns)), stacked(
            *(joint.circle / 2 * sin(t) for t in turns)
        )
    return stacked(*(x for x, _ in joint.at)), stacked(*(y for _, y in joint.at))


def found_places(joint: schema.Joint, seen: dict[int, tuple[Sight, ...]]) -> tuple[Any, Any]:
    """The same as found, the first way it was measured; planned places where nobody looked."""
    x, y = pattern(joint)
    found = {number: ways[0][1:] for number, ways in seen.items() if ways}
    places = [found.get(i + 1, (x[i], y[i])) for i in range(len(x))]
    return stacked(*(x for x, _ in places)), stacked(*(y for _, y in places))


def on_bolts(template: Frame, x: Any, y: Any, found_x: Any, found_y: Any) -> Frame:
    """Where a plate lies whose holes fit the found bolts best, by least squares."""
    from batterboard.methods.fit import least_squares_fit

    fit = least_squares_fit(x, y, found_x, found_y)
    moved = template.moved(fit.shift_x, fit.shift_y)
    return Frame(x=moved.x, y=moved.y, turn=template.turn + fit.turn)


def _size(base: schema.Pier | schema.Pad) -> tuple[Any, Any]:
    """Along and across, from face to face."""
    if isinstance(base, schema.Pad):
        return base.along, base.across
    one = next((size for size in (base.square, base.round, base.flats) if size is not None), None)
    return (base.along, base.across) if one is None else (one, one)


def _corners(along: Any, across: Any) -> tuple[Any, Any]:
    a, c = along / 2, across / 2
    return stacked(a, -a, -a, a), stacked(c, c, -c, -c)


# ---- lines ----


def _plane(x: Any, y: Any, z: Any, slope_x: Any, slope_y: Any) -> Ground:
    return Ground(x=(x,), y=(y,), z=(z,), slope_x=slope_x, slope_y=slope_y)


def _meet(along: Line, station: Any, off: Line, offset: Any) -> tuple[Any, Any]:
    """The point at a station of one line and an offset to the left of a line, the same or another."""
    if along.name == off.name:
        return along.path.out(station, offset)
    here = along.string.at(station)
    # From there square to the first line until the offset from the second is right.
    missing = offset - off.string.into(here.x, here.y)[1]
    slant = cos(off.turn - along.turn)
    slant = where(abs(slant) > 1e-9, slant, nan)  # square lines measure the same way twice and never meet
    return here.out(0.0, missing / slant)


# ---- what was found ----


def _set_out(job: Job, planned: Job) -> Iterable[str]:
    """Names of what is cast or was looked at, with the bases of what stands on it."""
    piers = job.piers
    yield from (pier if (pier := name.removesuffix(" pad")) in piers else name for name in job.done)
    for table in ("piers", "pads", "beams"):
        for name, thing in getattr(job, table).items():
            if name not in job.done and differ(thing, getattr(planned, table)[name]):
                yield name
    for table in ("posts", "machines"):
        for name, thing in getattr(job, table).items():
            if thing.bolts or name in job.done or getattr(thing, "lean", None) is not None:
                yield thing.on or thing.set.in_


def differ(one: Any, other: Any) -> bool:
    """Whether two records differ anywhere; their numbers may be arrays."""
    if one is other:
        return False
    if is_dataclass(one) and type(one) is type(other):
        return any(differ(getattr(one, f.name), getattr(other, f.name)) for f in fields(one))
    if isinstance(one, (tuple, list)) and isinstance(other, (tuple, list)):
        return len(one) != len(other) or any(differ(a, b) for a, b in zip(one, other))
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() != other.keys() or any(differ(one[k], other[k]) for k in one)
    return not np.array_equal(one, other)
