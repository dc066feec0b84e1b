"""Where do studs, wales, stakes and kickers stand, for the pictures and the model of a form?

    framed(box, body)     churns stake left 1, churns kicker left 1, wall stud ahead 3, wall wale left 2.1

Side by side as the drawings of the sides have them, in the form's own axes. Yokes, braces and shores: `exploded`.
"""

from collections.abc import Iterator
from math import cos, pi, sin

from batterboard.methods import solids
from batterboard.methods.solids import Solid
from batterboard.phases.forms import Box, Edge, Panel, Wall
from batterboard.phases.forms.framing import places, wale_on
from batterboard.views.drawings.parts import Part
from batterboard.work.records import Body

TURNS = {"ahead": 0.0, "left": pi / 2, "back": pi, "right": 3 * pi / 2}
_STAKED = 0.15  # of a kicker's stake, out of the ground [m]
_TIE = 0.01  # between the two sticks of a wale [m]


def framed(box: Box, body: Body) -> tuple[Part, ...]:
    """None of forms held by yokes, of polygons and of tubes."""
    if box.shores is not None or body.outline.kind != "rectangle":
        return ()
    return tuple(_framed(box, body))


def _framed(box: Box, body: Body) -> Iterator[Part]:
    for panel in box.panels:
        for side in (side for side in panel.sides if side in TURNS):
            here = _Side(box, body, panel, side)
            if box.edge is not None:
                yield from _stakes(here, box.edge)
            elif box.wall is not None:
                yield from _studs(here, box.wall)


class _Side:
    """A side of the form: out of it x, along it y, to the right as seen from outside, z up."""

    def __init__(self, box: Box, body: Body, panel: Panel, side: str) -> None:
        o, t = body.outline, float(panel.thick)
        self.name, self.side, self.panel = box.name, side, panel
        self.turn, self.high = TURNS[side], float(box.height)
        self.out = float(o.along if side in ("ahead", "back") else o.across) / 2 + t
        self.left = -float(panel.inside) / 2 - (t if panel.runs_past == 2 else 0.0)
        self.lean = float(o.batter) / self.high  # in, for each height

    def stick(self, what: str, number: int | str, *solid: Solid) -> Part:
        return Part(f"{self.name} {what} {self.side} {number}", "yoke", solid)

    def block(self, x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> Solid:
        """Leans with the form; x from the panel's outside, y from its left edge."""
        k = self.lean
        planes = [((1.0, 0.0, k), self.out + x[1]), ((-1.0, 0.0, -k), -self.out - x[0])]
        return self._behind(planes, y, z)

    def prop(self, at: tuple[float, float], high: float, deep: float) -> Solid:
        """At 45 degrees from so high on a stake's outside `at` y down to the ground."""
        x = self.out + deep
        planes = [((-1.0, 0.0, 0.0), -x), ((1.0, 0.0, 1.0), x + high)]
        planes.append(((-1.0, 0.0, -1.0), (at[1] - at[0]) * 2**0.5 - x - high))
        return self._behind(planes, at, (0.0, high))

    def _behind(
        self, planes: list[tuple[tuple[float, float, float], float]], y: tuple[float, float], z: tuple[float, float]
    ) -> Solid:
        every = [
            *planes,
            ((0.0, 1.0, 0.0), self.left + y[1]), ((0.0, -1.0, 0.0), -self.left - y[0]),
            ((0.0, 0.0, 1.0), z[1]), ((0.0, 0.0, -1.0), -z[0]),
        ]  # fmt: skip
        c, s = cos(self.turn), sin(self.turn)
        return solids.behind([((n[0] * c - n[1] * s, n[0] * s + n[1] * c, n[2]), b) for n, b in every])

    def uprights(self, face: float, spacing: float, wide: float) -> Iterator[tuple[float, float]]:
        """From where to where each stands; those at the ends stand behind the board."""
        for at in places(self.panel, face, spacing):
            middle = min(max(at, wide / 2), float(self.panel.width) - wide / 2)
            yield middle - wide / 2, middle + wide / 2


def _stakes(side: _Side, edge: Edge) -> Iterator[Part]:
    wide, deep = float(edge.size.wide), float(edge.size.deep)
    far = deep + side.high
    for number, at in enumerate(side.uprights(float(side.panel.width), float(edge.spacing), wide), 1):
        yield side.stick("stake", number, side.block((0.0, deep), at, (0.0, side.high)))
        yield side.stick("kicker", number, side.prop(at, side.high, deep))
        yield side.stick("kicker's stake", number, side.block((far, far + deep), at, (0.0, _STAKED)))


def _studs(side: _Side, wall: Wall) -> Iterator[Part]:
    wide, deep, high, long = float(wall.size.wide), float(wall.size.deep), side.high, float(side.panel.width)
    for number, (low, top) in enumerate(((0.0, wide), (high - wide, high)), 1):
        yield side.stick("plate", number, side.block((0.0, deep), (0.0, long), (low, top)))
    studs = side.uprights(float(side.panel.inside), float(wall.stud_spacing), wide)
    for number, at in enumerate(studs, 1):
        yield side.stick("stud", number, side.block((0.0, deep), at, (wide, high - wide)))
    begin, whole = (float(v) for v in wale_on(side.panel, wall, side.panel.inside))
    for wale in wall.wales:
        for number, low in enumerate((float(wale.up) - wide - _TIE / 2, float(wale.up) + _TIE / 2), 1):
            along = (-begin, whole - begin)
            yield side.stick("wale", f"{wale.number}.{number}", side.block((deep, 2 * deep), along, (low, low + wide)))
