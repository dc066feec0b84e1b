"""How much to dig, how deep, how safe?

    hole : Hole(name="west pad", depth=1.32, bottom=27.9, run=0.0, bank=2.87, loose=3.59, ...)     one for each body

A hole has the size of what is cast against earth, and a strip to work in round what is formed. Sides stand upright up
to the depth where the trench rules ask for a slope; a bored hole that nobody goes down stays upright. What an earlier
hole has dug counts once, but slopes that run into each other count twice. Depth below frost is checked from the lowest
ground over the body. Stone beds, pumping and shoring are not here.
"""

from dataclasses import replace
from functools import partial
from typing import Any, Literal

import numpy as np

from batterboard.methods import volumes
from batterboard.quantity import Length, Number, Volume, ft
from batterboard.record import ordered, record
from batterboard.standards import ibc, osha, tables
from batterboard.work.overlap import sharing
from batterboard.work.records import Body, Outline, Work
from batterboard.working import Check, Source, capacity, check, demand, nan

WORKING_STRIP = 1 * ft  # round a form; common practice, no source
_STATIONS = 49  # along a beam where the ground is asked
_LEAST = 1e-6  # a hole that adds less to the others is none [m3]


@record
class Hole:
    name: str  # the body it is dug for
    element: str
    along: Length  # size at the bottom
    across: Length
    bottom: Length  # above the job's zero
    ground: Length  # mean ground over the body
    depth: Length  # deepest, from the highest ground over it
    shallowest: Length  # from the lowest ground over it
    bored: bool  # round, cast against earth, without a pad: nobody goes down
    beside: Length  # from the side of the body to that of the hole at its bottom
    run: Number  # horizontal over vertical of its sides
    top_along: Length  # size of the cut at the ground
    top_across: Length
    bank: Volume  # dug for it, without what an earlier hole has dug
    loose: Volume
    overdug: Volume  # found beyond the design, filled with concrete
    spoil_back: Length  # spoil and batter boards stand no nearer to the edge of the cut

    @property
    def boards_back(self) -> Length:
        """From the side of the body to the nearest batter board or stake that stays."""
        return self.beside + np.maximum((self.top_along - self.along) / 2, 0) + self.spoil_back


@record
class Caution:
    """A rule of the trench that this job's depths bring in."""

    hole: str
    rule: Literal["spoil", "ladder", "ladder top", "air", "slope or shore", "engineer", "cover"]
    from_depth: Length
    figure: Length  # spoil so far back, a ladder so near, its top so far above the edge; else nan
    depth: Length
    source: str


@record
class Dig:
    holes: tuple[Hole, ...]
    bank: Volume
    loose: Volume
    cautions: tuple[Caution, ...]
    checks: tuple[Check, ...]


@ordered
class _Foot:
    """What stands on the soil under one base."""

    name: str
    shallowest: Any  # its underside below the lowest ground over it; negative: above


@ordered
class _Frost:
    depth: Any


def cuts(work: Work) -> Dig:
    """Every hole of the job, its cautions and its depth checks."""
    frost = _Frost(work.frost)
    bodies = [body for body in work.bodies if _in_ground(work, body)]
    pits = sharing([_pit(work, body) for body in bodies])
    holes = tuple(hole for hole in map(partial(_hole, work), bodies, pits) if np.any(np.asarray(hole.bank) > _LEAST))
    feet = (base.foot for base in work.bases.values())
    checks = tuple(below_frost(_Foot(foot.name, _ground(work, foot)[0] - foot.bottom), frost) for foot in feet)
    return Dig(
        holes=holes,
        bank=sum(h.bank for h in holes),
        loose=sum(h.loose for h in holes),
        cautions=tuple(c for h in holes for c in _cautions(h)),
        checks=checks,
    )


@check("Depth below the ground", clause=ibc.FOOTING_DEPTH, of=Length)
def below_frost(foot: _Foot, frost: _Frost) -> tuple[Any, Any]:
    return demand(np.maximum(frost.depth, ibc.LEAST_DEPTH)), capacity(foot.shallowest)


def _in_ground(work: Work, body: Body) -> bool:
    lowest, _, highest = _ground(work, body)
    return bool(np.any(np.asarray(highest) > body.bottom))


def _ground(work: Work, body: Body) -> tuple[Length, Length, Length]:
    """Lowest, mean and highest ground over a body."""
    x, y = body.frame.out(*body.outline.points())
    z = work.ground.level(x, y)
    return np.min(z, axis=0), work.ground.level(body.frame.x, body.frame.y), np.max(z, axis=0)


def _pit(work: Work, body: Body) -> Body:
    """The hole as a block between its bottom and the ground, with upright sides."""
    strip = WORKING_STRIP if body.against == "form" else body.over
    o, ends = body.outline, 0.0 if body.part == "beam" else strip  # a beam ends at its bases
    outline = Outline(kind=o.kind, along=o.along + 2 * ends, across=o.across + 2 * strip, sides=o.sides)
    return replace(body, outline=outline, top=np.maximum(_mean_ground(work, body), body.bottom), shared=0.0)


def _mean_ground(work: Work, body: Body) -> Length:
    """Over a body; of a beam that stands clear for a stretch what lies below it there takes nothing off the rest."""
    ground = work.ground.level(body.frame.x, body.frame.y)
    if body.part == "beam" and (work.ground.slope_x is None or np.any(_ground(work, body)[0] < body.bottom)):
        share = np.linspace(-0.5, 0.5, _STATIONS).reshape((-1,) + (1,) * np.ndim(body.frame.x + body.bottom + ground))
        along = share * body.outline.along
        level = work.ground.level(*body.frame.out(along, 0 * along))
        ground = np.mean(np.maximum(level, body.bottom), axis=0)
    return ground


def _hole(work: Work, body: Body, pit: Body) -> Hole:
    lowest, mean, highest = _ground(work, body)
    depth = highest - body.bottom
    bored = body.outline.kind == "round" and body.part == "pier" and body.against == "earth"
    run = np.where((depth >= osha.PROTECTED_FROM) & (not bored), tables.slope(work.soil.slope).run, 0.0)[()]
    along, across = pit.outline.along, pit.outline.across
    bank = volumes.pit_volume(pit.outline.plan, pit.height, run) - pit.shared
    return Hole(
        name=body.name,
        element=body.element,
        along=along,
        across=across,
        bottom=body.bottom,
        ground=mean,
        depth=depth,
        shallowest=lowest - body.bottom,
        bored=bored,
        beside=(across - body.outline.across) / 2,
        run=run,
        top_along=along + 2 * run * pit.height,
        top_across=across + 2 * run * pit.height,
        bank=bank,
        loose=bank * work.soil.swell,
        overdug=body.overdug,
        spoil_back=osha.SPOIL_BACK,
    )


def _cautions(hole: Hole) -> list[Caution]:
    deepest = float(np.max(hole.depth))
    return [
        Caution(hole=hole.name, rule=rule, from_depth=start, figure=figure, depth=hole.depth, source=str(source))
        for rule, start, figure, source in (_BORED if hole.bored else _OPEN)
        if deepest > 0 and deepest >= start
    ]


_Rule = tuple[Any, Any, Any, Source]
_SPOIL: _Rule = ("spoil", 0.0, osha.SPOIL_BACK, osha.SPOIL)
_OPEN: tuple[_Rule, ...] = (
    _SPOIL,
    ("ladder", osha.LADDER_FROM, osha.LADDER_WITHIN, osha.LADDER),
    ("ladder top", osha.LADDER_FROM, osha.LADDER_ABOVE, osha.LADDER_TOP),
    ("air", osha.AIR_TEST_FROM, nan, osha.AIR),
    ("slope or shore", osha.PROTECTED_FROM, nan, osha.PROTECTION),
    ("engineer", osha.DESIGNED_FROM, nan, osha.PROTECTION),
)
_BORED: tuple[_Rule, ...] = (_SPOIL, ("cover", osha.COVERED_FROM, nan, osha.OPEN_HOLE))
