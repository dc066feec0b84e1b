"""How much to dig, how deep, how safe?

    hole : Hole("west pad", depth=1.32, bottom=27.9, bank=2.87, loose=3.59, ...)     one for each body in the ground

A hole has the size of what is cast against earth, and a strip to work in round what is formed. Sides stand upright up
to the depth where the trench rules ask for a slope. Depth below frost counts from the lowest ground over the body.
Stone beds, pumping and shoring are not here.
"""

from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from batterboard.methods import volumes
from batterboard.quantity import Length, Number, Volume, ft
from batterboard.standards import ibc, osha, tables
from batterboard.work.records import Body, Work
from batterboard.working import Check, capacity, check, demand

WORKING_STRIP = 1 * ft  # round a form; common practice, no source


@dataclass(frozen=True, kw_only=True)
class Hole:
    name: str  # the body it is dug for
    element: str
    along: Length  # size at the bottom
    across: Length
    bottom: Length  # above the job's zero
    ground: Length  # mean ground over the body
    depth: Length  # deepest, from the highest ground over it
    shallowest: Length  # from the lowest ground over it
    run: Number  # horizontal over vertical of its sides
    top_along: Length  # size of the cut at the ground
    top_across: Length
    bank: Volume
    loose: Volume
    overdug: Volume  # found beyond the design, filled with concrete
    spoil_back: Length  # spoil and batter boards stand no nearer to the edge of the cut

    @property
    def boards_back(self) -> Length:
        """From the side of the body to the nearest batter board or stake that stays."""
        return np.maximum((self.top_along - self.along) / 2, 0) + self.spoil_back


@dataclass(frozen=True, kw_only=True)
class Caution:
    """A rule of the trench that this job's depths bring in."""

    hole: str
    rule: Literal["slope or shore", "ladder", "engineer", "spoil"]
    from_depth: Length
    depth: Length
    source: str


@dataclass(frozen=True, kw_only=True)
class Dig:
    holes: tuple[Hole, ...]
    bank: Volume
    loose: Volume
    cautions: tuple[Caution, ...]
    checks: tuple[Check, ...]


@dataclass(frozen=True)
class _Frost:
    depth: Any


def cuts(work: Work) -> Dig:
    """Every hole of the job, its cautions and its depth checks."""
    frost = _Frost(work.frost)
    holes = tuple(_hole(work, body) for body in work.bodies if _in_ground(work, body))
    feet = {base.foot.name for base in work.bases.values()}
    checks = tuple(below_frost(hole, frost) for hole in holes if hole.name in feet)
    return Dig(
        holes=holes,
        bank=sum(h.bank for h in holes),
        loose=sum(h.loose for h in holes),
        cautions=tuple(c for h in holes for c in _cautions(h)),
        checks=checks,
    )


@check("Depth below the ground", clause=ibc.FOOTING_DEPTH, of=Length)
def below_frost(hole: Hole, frost: _Frost) -> tuple[Any, Any]:
    return demand(np.maximum(frost.depth, ibc.LEAST_DEPTH)), capacity(hole.shallowest)


def _in_ground(work: Work, body: Body) -> bool:
    lowest, _, highest = _ground(work, body)
    return bool(np.any(np.asarray(highest) > body.bottom))


def _ground(work: Work, body: Body) -> tuple[Length, Length, Length]:
    """Lowest, mean and highest ground over a body."""
    x, y = body.frame.out(*body.outline.points())
    z = work.ground.level(x, y)
    return np.min(z, axis=0), work.ground.level(body.frame.x, body.frame.y), np.max(z, axis=0)


def _hole(work: Work, body: Body) -> Hole:
    lowest, mean, highest = _ground(work, body)
    depth = highest - body.bottom
    run = np.where(depth >= osha.PROTECTED_FROM, tables.slope(work.soil.slope).run, 0.0)[()]
    strip = WORKING_STRIP if body.against == "form" else body.over
    along, across = body.outline.along + 2 * strip, body.outline.across + 2 * strip
    deep = np.maximum(mean - body.bottom, 0)
    outline = volumes.circle(along) if body.outline.kind == "round" else volumes.rectangle(along, across)
    bank = volumes.pit_volume(outline, deep, run)
    return Hole(
        name=body.name,
        element=body.element,
        along=along,
        across=across,
        bottom=body.bottom,
        ground=mean,
        depth=depth,
        shallowest=lowest - body.bottom,
        run=run,
        top_along=along + 2 * run * deep,
        top_across=across + 2 * run * deep,
        bank=bank,
        loose=bank * work.soil.swell,
        overdug=body.overdug,
        spoil_back=osha.SPOIL_BACK,
    )


def _cautions(hole: Hole) -> list[Caution]:
    rules: list[tuple[Any, float, Any]] = [
        ("spoil", 0.0, osha.SPOIL),
        ("ladder", osha.LADDER_FROM, osha.LADDER),
        ("slope or shore", osha.PROTECTED_FROM, osha.PROTECTION),
        ("engineer", osha.DESIGNED_FROM, osha.PROTECTION),
    ]
    deepest = float(np.max(hole.depth))
    return [
        Caution(hole=hole.name, rule=rule, from_depth=start, depth=hole.depth, source=str(source))
        for rule, start, source in rules
        if deepest >= start > 0 or (rule == "spoil" and deepest > 0)
    ]
