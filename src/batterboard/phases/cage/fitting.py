"""Does anything run into anything else? Bars, bolts and pipes as straight lines with a thickness, all pairs at once.

Things that cross may touch, as a bar wired to a bolt does; between things side by side the largest stone must pass.
"""

from collections.abc import Iterable, Iterator, Mapping
from math import inf
from typing import Any

import numpy as np

from batterboard.job.schema import Mix
from batterboard.methods.segments import Lines, nearest
from batterboard.phases.cage.measuring import Element, alone, joined, varied
from batterboard.phases.cage.results import Clear
from batterboard.record import ordered
from batterboard.work.records import Bolts, Pipe, Work
from batterboard.working import cos, pi

_SIDE_BY_SIDE = cos(pi / 9)  # within 20 degrees of each other
_NEAR = 0.5  # how far outside a base its beams' bars are still measured against it [m]


@ordered
class _Things:
    """Round things in the job's axes, as segments."""

    lines: Lines
    diameter: Any  # of each segment
    names: tuple[str, ...]

    @classmethod
    def of(cls, parts: Iterable[tuple[Any, Any, Any, float, list[str]]]) -> "_Things | None":
        """Of polylines (n, corners, variants) of one thickness, and a name for each of the n."""
        lines, thick, names = [], [], []
        for x, y, z, d, each in parts:
            made = Lines.along(*np.broadcast_arrays(x, y, z))
            lines.append(made)
            thick += [d] * len(made)
            names += [name for name in each for _ in range(np.shape(x)[1] - 1)]
        if not lines:
            return None
        ends = [joined([getattr(one, axis) for one in lines]) for axis in "xyz"]
        return cls(Lines(*ends), np.array(thick), tuple(names))

    def beside(self, base: Element) -> "_Things | None":
        """Those of a beam that come near a base: the rest of a long beam is not worth measuring against it."""
        o = base.bodies[-1].outline
        reach = np.hypot(o.along, o.across) / 2 + _NEAR
        near = np.ones(len(self.names), bool)
        for ends, middle in ((self.lines.x, base.frame.x), (self.lines.y, base.frame.y)):
            low, high = ends.min(axis=1), ends.max(axis=1)
            near &= ((low <= middle + reach) & (high >= middle - reach)).any(axis=-1)
        if not near.any():
            return None
        x, y, z = (v[near] for v in (self.lines.x, self.lines.y, self.lines.z))
        return _Things(Lines(x, y, z), self.diameter[near], tuple(np.array(self.names)[near].tolist()))


def tight_places(
    work: Work, elements: Mapping[str, Element], bolts: Mapping[str, list[tuple[Bolts, Any]]], mixes: Mapping[str, Mix]
) -> Iterator[Clear]:
    steel = {name: _steel(element) for name, element in elements.items()}
    pipes = {name: _pipe(pipe) for name, pipe in work.pipes.items()}
    for name, element in elements.items():
        stone = mixes[element.bodies[-1].mix].stone
        bars = {name: steel[name]}
        for beam in work.beams.values():
            of_beam = steel[beam.name]
            if name in beam.between and of_beam is not None:
                bars[beam.name] = of_beam.beside(element)
        beams = [of for of in bars if of != name]
        pairs: list[tuple[str, _Things | None, _Things | None]] = []
        for group, top in bolts.get(name, []):
            rods = _rods(group, top)
            pairs += [(f"{of} bars and {group.name} bolts", bars[of], rods) for of in bars]
            pairs += [
                (f"{pipe} and {group.name} bolts", pipes[pipe], rods)
                for pipe, run in work.pipes.items()
                if name in run.through
            ]
        pairs += [(f"{name} and {of} bars", bars[name], bars[of]) for of in beams]
        pairs += [
            (f"{name} bars and {pipe}", steel[name], pipes[pipe])
            for pipe, run in work.pipes.items()
            if name in run.through
        ]
        for words, one, other in pairs:
            if one is not None and other is not None:
                yield from _tightest(words, name, one, other, stone)


def _tightest(name: str, element: str, one: _Things, other: _Things, stone: Any) -> Iterator[Clear]:
    """The tightest of those that run side by side, and of those that cross, where there are any."""
    near = nearest(one.lines, other.lines)
    clear = near.distance - (one.diameter[:, None, None] + other.diameter[None, :, None]) / 2
    beside = near.cosine > _SIDE_BY_SIDE
    n, m, variants = clear.shape
    for these, needed in ((beside, stone), (~beside, 0.0)):
        if not these.any():
            continue
        i, j = np.divmod(np.argmin(np.where(these, clear, inf).reshape(n * m, variants), axis=0), m)
        at = i, j, np.arange(variants)
        yield Clear(
            name=name,
            element=element,
            one=one.names[i[0]],
            other=other.names[j[0]],
            one_diameter=alone(one.diameter[i]),
            other_diameter=alone(other.diameter[j]),
            least=alone(clear[at]),
            needed=needed,
            beside=these is beside,
            x=alone(near.x[at]),
            y=alone(near.y[at]),
            z=alone(near.z[at]),
        )


def _steel(element: Element) -> _Things | None:
    frame = element.frame
    return _Things.of(
        (
            *frame.out(varied(bar.x, 2), varied(bar.y, 2)),
            varied(bar.z, 2),
            bar.size.diameter,
            [f"{bar.mark} {bar.role} {n}" for n in range(1, bar.count + 1)],
        )
        for bar in element.bars
        if bar.count
    )


def _pipe(pipe: Pipe) -> _Things | None:
    x, y, z = (varied(v, 1)[None] for v in (pipe.x, pipe.y, pipe.z))
    return _Things.of([(x, y, z, pipe.size.outside, [pipe.name])])


def _rods(bolts: Bolts, top: Any) -> _Things | None:
    """As found where found; a hook or plate at the foot is not counted, and a lean neither."""
    x, y = bolts.frame.out(varied(bolts.found_x, 1), varied(bolts.found_y, 1))
    z = np.stack(np.broadcast_arrays(top - bolts.deep + 0 * x, top + varied(bolts.proud, 1)), axis=1)
    x, y = (np.stack([v, v], axis=1) for v in (x, y))
    names = [f"{bolts.name} bolt {n}" for n in range(1, len(x) + 1)]
    return _Things.of([(x, y, z, bolts.rod.diameter, names)])


def bolts_by_base(work: Work) -> dict[str, list[tuple[Bolts, Any]]]:
    """Anchor bolts and the top of what they stand in, by base."""
    by_base: dict[str, list[tuple[Bolts, Any]]] = {}
    standing = [(post.on, post.bolts) for post in work.posts.values()]
    standing += [(machine.on, machine.bolts) for machine in work.machines.values()]
    for base, bolts in standing:
        if bolts is not None:
            by_base.setdefault(base, []).append((bolts, work.bases[base].top))
    return by_base
