"""A line that bends: where is the point at a distance along it, and how far along and aside is a point?

    arc : Arc(x, y, turn, radius=6.1, left=False, length=5.2)      from its start, turning one way for a length
    arc.at(2.0)          a frame: the point 2 m along the curve, ahead along the tangent there
    arc.out(2.0, 0.5)    x and y of the point at 2 m along the curve, half a metre to its left, square to the tangent
    arc.into(x, y)       2.0, 0.5

Distances along it are measured along the curve, asides along the radius; how both are taped on site stands here too. It
answers as a straight line's frame does, and of a very large radius with the same numbers.
"""

from typing import Any

import numpy as np

from batterboard.job import schema
from batterboard.record import record
from batterboard.standards import layout
from batterboard.work.records import Frame
from batterboard.working import arcsin, arctan2, cos, hypot, nan, pi, sin, where


@record
class Arc:
    x: Any  # its start
    y: Any
    turn: Any  # [rad] of the tangent at its start
    radius: Any
    left: bool  # which way it turns: its centre lies on that side
    length: Any  # along the curve
    centre: str = ""  # the mark that it is swung from; "" where it is set off its chord

    @property
    def way(self) -> int:
        return 1 if self.left else -1

    @property
    def half(self) -> Any:
        """How far its tangent turns up to its middle [rad]."""
        return self.length / self.radius / 2

    @property
    def chord(self) -> Any:
        return 2 * self.radius * sin(self.half)

    @property
    def rise(self) -> Any:
        """How far its middle stands off its chord."""
        return 2 * self.radius * sin(self.half / 2) ** 2

    @property
    def middle(self) -> tuple[Any, Any]:
        """Of its circle: where the centre stands."""
        return self._start.out(0.0, self.way * self.radius)

    @property
    def _start(self) -> Frame:
        return Frame(x=self.x, y=self.y, turn=self.turn)

    def at(self, station: Any) -> Frame:
        """Own axes at a distance along it, ahead along the tangent."""
        x, y = self.out(station, 0.0)
        return Frame(x=x, y=y, turn=self.turn + self.way * station / self.radius)

    def out(self, station: Any, off: Any) -> tuple[Any, Any]:
        """Job coordinates of a point at a distance along it and an aside, left positive. Broadcasts."""
        turned = station / self.radius  # half angles below, so that nothing is lost where the radius is very large
        ahead = self.radius * sin(turned) - self.way * off * sin(turned)
        left = self.way * 2 * self.radius * sin(turned / 2) ** 2 + off * cos(turned)
        return self._start.out(ahead, left)

    def into(self, x: Any, y: Any) -> tuple[Any, Any]:
        """Distance along it and aside of a point of the job: the nearer way round, told from its middle."""
        ahead, left = self._start.into(x, y)
        inward, r = self.way * left, self.radius
        turned = arctan2(ahead, r - inward)
        turned = turned - 2 * pi * np.rint((turned - self.half) / (2 * pi))
        aside = (2 * r * inward - ahead**2 - left**2) / (r + hypot(ahead, r - inward))
        return r * turned, self.way * aside

    def taped(self, start: Any, station: Any, off: Any) -> tuple[Any, Any, Any]:
        """What is taped for the same point: along and off, and how its tangent is turned against what they run along.

        Off a chord: from its start along it, then square off it, left positive; the tangent against the chord [rad].
        Round a nail: straight across from the mark at another distance along the curve, then from the nail.
        """
        if self.centre:
            return layout.running_chord(station - start, self.radius), self.radius - self.way * off, 0.0
        out, c, r = -self.way * off, self.chord, self.radius
        along, aside = layout.along_chord(c, r, station, out), layout.off_chord(c, r, station, out)
        return along, -self.way * aside, self.way * (station / r - self.half)


def told(line: schema.Line, at: Frame, chord: Any, to: tuple[Any, Any], marks: dict[str, tuple[Any, Any]]) -> Arc:
    """As the job file tells it, over a chord that runs ahead from a place; of what no circle can do all is nan."""
    left = line.bulges == "left"
    if line.centre is not None:
        return round_centre((at.x, at.y), to, marks[line.centre], line.centre, left=not left)
    radius = line.radius if line.rise is None else layout.arc_radius(chord, line.rise)
    return of_chord(at, chord, radius, left)


def of_chord(at: Frame, chord: Any, radius: Any, bulges_left: bool) -> Arc:
    """Less than half a circle over a chord that runs ahead from a place."""
    half = arcsin(chord / (2 * radius))
    turn = at.turn + (half if bulges_left else -half)
    return Arc(x=at.x, y=at.y, turn=turn, radius=radius, left=not bulges_left, length=2 * radius * half)


def round_centre(start: tuple[Any, Any], end: tuple[Any, Any], centre: tuple[Any, Any], mark: str, left: bool) -> Arc:
    """From a point round a mark, until it stands as another point does from that mark."""
    (x, y), (to_x, to_y) = ((px - centre[0], py - centre[1]) for px, py in (start, end))
    radius, way = hypot(x, y), 1 if left else -1
    radius = where(radius > 0, radius, nan)
    first, last = arctan2(y, x), arctan2(to_y, to_x)
    turned = np.mod(way * (last - first), 2 * pi)
    turned = turned.item() if np.ndim(turned) == 0 else turned
    return Arc(
        x=start[0],
        y=start[1],
        turn=first + way * pi / 2,
        radius=radius,
        left=left,
        length=radius * turned,
        centre=mark,
    )
