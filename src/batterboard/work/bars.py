"""Where does every bar lie?

    up    : uprights spread round the cage, inside the ties, their feet turned out on the pad's mat     8 #5
            of a pier that leans in they stand plumb, within its top
    tie   : closed round the uprights, cover to the nearest face; first rule wins, counted from the top
    mat   : bars along lie lowest at the bottom of a pad, bars across on them; the other way up at its top
    bar   : a mark with the centre-lines of its n equal bars: x, y, z arrays (bars, corners, ...variants)

Corners are sharp here; bends are what `cage` makes of them. How many bars there are is structure: variants in which it
differs cannot be laid together. A bar that was found missing is left out.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import pi, tan
from typing import Any

import numpy as np

from batterboard.job.schema import BarRun, BeamBars, PadBars, PierBars
from batterboard.record import ordered
from batterboard.standards import aci318, tables
from batterboard.work.axes import Array, stacked, together
from batterboard.work.records import Bar, Body, Outline, Role, Shape

Lines = tuple[Array, Array, Array]

_HOOP = 24  # corners a round tie is drawn with


class StructureError(ValueError):
    """Variants that do not have the same bars."""


@ordered
class Marker:
    """Numbers the marks of one element: W1, W2, ..."""

    element: str
    prefix: str

    def numbered(self, bars: Iterable[Bar]) -> tuple[Bar, ...]:
        return tuple(replace(bar, mark=f"{self.prefix}{n}") for n, bar in enumerate(bars, 1))


# ---- elements ----


def pier_bars(
    marker: Marker,
    cage: PierBars | None,
    mat: PadBars | None,
    shaft: Body,
    pad: Body | None,
    cover: Any,
    pad_cover: Any,
) -> tuple[Bar, ...]:
    """The cage of a pier and the mat of its pad, in the pier's axes."""
    bars = [] if cage is None else _cage(marker.element, cage, mat, shaft, pad, cover, pad_cover)
    if pad is not None and mat is not None:
        middle = shaft.frame.into(pad.frame.x, pad.frame.y)
        bars += _mats(marker.element, mat, pad, pad_cover, middle)
    return marker.numbered(bars)


def slab_bars(marker: Marker, mat: PadBars | None, body: Body, cover: Any) -> tuple[Bar, ...]:
    """The mat of a flat pad, in its own axes."""
    return marker.numbered([] if mat is None else _mats(marker.element, mat, body, cover, (0.0, 0.0)))


def beam_bars(marker: Marker, cage: BeamBars | None, body: Body, cover: Any, past: tuple[Any, Any]) -> tuple[Bar, ...]:
    """The bars of a beam, in its own axes. `past` is how far they run on into the piers at its two ends."""
    if cage is None:
        return ()
    long, wide = body.outline.along, body.outline.across
    spaced = _spaced(cage.ties, long)
    tie = _thickest(spaced)
    bars = []
    rows: tuple[tuple[Role, BarRun, int], ...] = (("top", cage.top, -1), ("bottom", cage.bottom, 1))
    for role, run, sign in rows:
        size = tables.bar(run.size)
        half, inset = size.diameter / 2, cover + tie + size.diameter / 2
        z = (body.top if role == "top" else body.bottom) + sign * inset
        leg = _hook_leg(size)
        tip = z + sign * (leg - half)
        start, end = -long / 2 - past[0], long / 2 + past[1]
        lines = _lines(
            _corners(start + half, start + half, end - half, end - half),
            _even(run.count or 1, wide / 2 - inset)[:, None],
            _corners(tip, z, z, tip),
        )
        legs = (leg, end - start, leg)
        bars.append(_bar(marker.element, role, size, "both ends hooked", legs, lines, cage.grade))
    bars = [_without(bar, cage.missing) for bar in bars]
    middle = (body.top + body.bottom) / 2
    for size, at in _by_size(_kept(spaced, cage.missing)):
        section = Outline(kind="rectangle", along=wide, across=body.height)
        inset = cover + tie - size.diameter / 2
        y, z = _closed(*_inside(section, inset).points())
        x = stacked(*(distance - long / 2 for distance in at))
        lines = _lines(x[:, None], y[None], z[None] + middle)
        bars.append(_tie(marker.element, section, inset, size, lines, cage.grade))
    return marker.numbered(bars)


def _cage(
    element: str, cage: PierBars, mat: PadBars | None, shaft: Body, pad: Body | None, cover: Any, pad_cover: Any
) -> list[Bar]:
    # Without a pad the lowest tie stays off the soil like the uprights' ends.
    spaced = _spaced(cage.ties, shaft.height - (cover if pad is None else 0.0))
    tie = _thickest(spaced)
    size = tables.bar(cage.up.size)
    x, y = _round_the_cage(_inside(shaft.head, cover + tie + size.diameter / 2), cage.up.count or 0)
    top = shaft.top - cover
    low = shaft.bottom + cover if pad is None else pad.bottom + pad_cover + _layers(mat)
    legs: tuple[Any, ...] = (top - low,)
    lines = _lines(x[:, None], y[:, None], _corners(low, top))
    hooked = pad is not None and cage.hook != "none"
    if hooked:
        legs = (_hook_leg(size), top - low)
        foot = 1 + (legs[0] - size.diameter / 2) * (1 if cage.hook == "out" else -1) / np.hypot(x, y)
        z = low + size.diameter / 2
        lines = _lines(np.stack([x * foot, x, x], axis=1), np.stack([y * foot, y, y], axis=1), _corners(z, z, top))
    up = _bar(element, "up", size, "L" if hooked else "straight", legs, lines, cage.grade)
    bars = [_without(up, cage.missing)]
    for size, at in _by_size(_kept(spaced, cage.missing)):
        inset = cover + tie - size.diameter / 2
        x, y = _closed(*_ring(_inside(shaft.head, inset)))
        z = stacked(*(shaft.top - distance for distance in at))
        lines = _lines(x[None], y[None], z[:, None])
        bars.append(_tie(element, shaft.head, inset, size, lines, cage.grade))
    return bars


def _layers(mat: PadBars | None) -> float:
    """How high the mat at the bottom of the pad lies, under the feet of the uprights."""
    if mat is None or mat.at == "top":
        return 0.0
    return float(tables.bar(mat.along.size).diameter + tables.bar(mat.across.size).diameter)


def _mats(element: str, mat: PadBars, pad: Body, cover: Any, middle: tuple[Any, Any]) -> list[Bar]:
    along, across = tables.bar(mat.along.size), tables.bar(mat.across.size)
    half, wide = pad.outline.along / 2 - cover, pad.outline.across / 2 - cover
    y = _even(_count(mat.along, 2 * wide), wide - along.diameter / 2, middle[1])
    x = _even(_count(mat.across, 2 * half), half - across.diameter / 2, middle[0])
    bars = []
    for face in ("bottom", "top") if mat.at == "both" else (mat.at,):
        outer, sign = (pad.bottom, 1) if face == "bottom" else (pad.top, -1)
        low = outer + sign * (cover + along.diameter / 2)
        high = low + sign * (along.diameter + across.diameter) / 2
        lines_along = _lines(_corners(middle[0] - half, middle[0] + half), y[:, None], _corners(low, low))
        lines_across = _lines(x[:, None], _corners(middle[1] - wide, middle[1] + wide), _corners(high, high))
        bars.append(_bar(element, "pad along", along, "straight", (2 * half,), lines_along, mat.grade))
        bars.append(_bar(element, "pad across", across, "straight", (2 * wide,), lines_across, mat.grade))
    return bars


def _hook_leg(size: tables.BarSize) -> Any:
    return aci318.hook_leg(size.diameter, aci318.bend_diameter(size.diameter))


# ---- arrangement ----


def _round_the_cage(line: Outline, n: int) -> tuple[Array, Array]:
    """Places of n uprights on the outline that holds their centres, counter-clockwise, the one ahead and left first."""
    if line.kind == "round":
        turns = (np.arange(n) + 0.5) * 2 * pi / n
        radius = np.asarray(line.along / 2)
        turns = turns.reshape((n,) + (1,) * radius.ndim)
        return radius * np.cos(turns), radius * np.sin(turns)
    if line.kind == "rectangle" and n >= 4 and n % 2 == 0:
        return _corners_and_faces(line, n)
    x, y = _closed(*line.points())
    steps_x, steps_y = np.diff(x, axis=0), np.diff(y, axis=0)
    side = np.hypot(steps_x, steps_y)
    before = np.cumsum(side, axis=0) - side
    share = (np.arange(n) / n).reshape((n,) + (1,) * side.ndim)
    on_side = np.clip((share * side.sum(axis=0) - before) / side, 0, 1)
    return x[0] + np.sum(on_side * steps_x, axis=1), y[0] + np.sum(on_side * steps_y, axis=1)


def _corners_and_faces(line: Outline, n: int) -> tuple[Array, Array]:
    """One bar in each corner, the rest in facing pairs, each pair where the bars stand widest apart so far."""
    a, c = np.broadcast_arrays(line.along / 2, line.across / 2)
    pairs = (n - 4) // 2
    on_long = np.zeros(a.shape, int)  # pairs on the faces that run along
    for pair in range(pairs):
        on_long = on_long + (a / (on_long + 1) >= c / (pair - on_long + 1) * (1 - 1e-9))
    xs, ys = [a, -a, -a, a], [c, c, -c, -c]
    for pair in range(pairs):
        s = 2 * (pair + 1) / (on_long + 1) - 1
        t = 2 * (pair - on_long + 1) / (pairs - on_long + 1) - 1
        there = pair < on_long
        x, y = np.where(there, a * s, a), np.where(there, c, c * t)
        xs += [x, np.where(there, x, -a)]
        ys += [y, np.where(there, -c, y)]
    x, y = np.stack(xs), np.stack(ys)
    turn = (np.arctan2(y, x) - np.arctan2(c, a) + 1e-9) % (2 * pi)
    order = np.argsort(turn, axis=0, kind="stable")
    return np.take_along_axis(x, order, axis=0), np.take_along_axis(y, order, axis=0)


def _even(n: int, half: Any, middle: Any = 0.0) -> Array:
    """Places of n bars from one side to the other; one alone in the middle."""
    half, middle = np.broadcast_arrays(half, middle)
    steps = np.linspace(1, -1, n) if n > 1 else np.zeros(1)
    places: Array = steps.reshape((len(steps),) + (1,) * half.ndim) * half + middle
    return places


def _count(run: BarRun, room: Any) -> int:
    """Bars of a mat: as counted, or as many as stand no wider apart than said."""
    if run.count is not None:
        return run.count
    return _same(np.ceil(room / run.spacing - 1e-9) + 1)


def _spaced(runs: Sequence[BarRun], length: Any) -> list[tuple[str, Any]]:
    """(size, distance from the start) of ties by their rules, first rule wins, in order from the start.

    "3 #3 @ 2 in from top": at 2, 4 and 6 in. "#3 @ 10 in" goes on from the last tie in steps of 10 in, and where the
    end is left with more than half a step, one more stands half a step from it. Between two ends it spreads evenly.
    """
    near: Any = 0.0  # the last tie from the start, and from the end
    far = length
    at_start = at_end = False
    ties: list[tuple[str, Any]] = []
    for run in runs:
        s = run.spacing
        if run.count is not None and s is not None:
            if run.start != "bottom":
                ties += [(run.size, near + s * (i + 1)) for i in range(run.count)]
                near, at_start = near + s * run.count, True
            if run.start in ("bottom", "each end"):
                ties += [(run.size, far - s * (i + 1)) for i in range(run.count)]
                far, at_end = far - s * run.count, True
        elif at_end:
            first = near if at_start else -s / 2
            n = max(_same(np.ceil((far - first) / s - 1e-9)) - 1, 0)
            ties += [(run.size, first + (far - first) * (i + 1) / (n + 1)) for i in range(n)]
            near = far
        else:
            first = near if at_start else -s / 2
            n = max(_same(np.floor((far - first) / s - 1e-9)), 0)
            ties += [(run.size, first + s * (i + 1)) for i in range(n)]
            if _same((far - first) - n * s > s / 2 + 1e-9):
                ties.append((run.size, far - s / 2))
            near, at_start = far, True
    return sorted((tie for tie in ties if _same(tie[1] < length)), key=lambda tie: float(np.ravel(tie[1])[0]))


def _same(value: Any) -> int:
    """A count that all variants have in common."""
    least, most = int(np.min(value)), int(np.max(value))  # `unique` would import masked arrays, a fifth of the start-up
    if least != most:
        raise StructureError(f"{least} bars in one variant and {most} in another: lay them apart")
    return least


# ---- found missing ----


def _kept(ties: Sequence[tuple[str, Any]], missing: Sequence[str]) -> list[tuple[str, Any]]:
    return [tie for number, tie in enumerate(ties, 1) if f"tie {number}" not in missing]


def _without(bar: Bar, missing: Sequence[str]) -> Bar:
    there = [n for n in range(bar.count) if f"{bar.role} {n + 1}" not in missing]
    return bar if len(there) == bar.count else replace(bar, x=bar.x[there], y=bar.y[there], z=bar.z[there])


def _by_size(ties: Sequence[tuple[str, Any]]) -> list[tuple[tables.BarSize, list[Any]]]:
    sizes = dict.fromkeys(size for size, _ in ties)
    return [(tables.bar(size), [at for other, at in ties if other == size]) for size in sizes]


# ---- shapes ----


def _tie(element: str, section: Outline, inset: Any, size: tables.BarSize, lines: Lines, grade: Any) -> Bar:
    """Ties whose centre-line runs `inset` inside a section."""
    outer = _inside(section, inset - size.diameter / 2)
    shape: Shape = "closed tie"
    legs: tuple[Any, ...] = (outer.along, outer.across) * 2
    if section.kind == "round":
        shape, legs = "hoop", (outer.along,)
    elif section.kind == "polygon":
        legs = (outer.along * tan(pi / section.sides),) * section.sides
    return _bar(element, "tie", size, shape, legs, lines, grade)


def _bar(
    element: str,
    role: Role,
    size: tables.BarSize,
    shape: Shape,
    legs: tuple[Any, ...],
    lines: Lines,
    grade: Any,
) -> Bar:
    x, y, z = lines
    return Bar(
        mark="", element=element, role=role, size=size, shape=shape, legs=legs, x=x, y=y, z=z, yield_strength=grade
    )


def _thickest(spaced: Sequence[tuple[str, Any]]) -> float:
    return max((float(tables.bar(size).diameter) for size, _ in spaced), default=0.0)


def _inside(outline: Outline, inset: Any) -> Outline:
    return replace(
        outline, along=outline.along - 2 * inset, across=outline.across - 2 * inset, corners=0.0, returns=None, top=0.0
    )


def _ring(outline: Outline) -> tuple[Array, Array]:
    """Corners of a tie; a round one has as many as the eye needs."""
    if outline.kind != "round":
        return outline.points()
    radius = np.asarray(outline.along / 2)
    turns = (np.arange(_HOOP) * 2 * pi / _HOOP).reshape((_HOOP,) + (1,) * radius.ndim)
    return radius * np.cos(turns), radius * np.sin(turns)


def _closed(x: Array, y: Array) -> tuple[Array, Array]:
    return np.concatenate([x, x[:1]]), np.concatenate([y, y[:1]])


def _corners(*values: Any) -> Array:
    """Corners that all bars of a mark share: (1, corners, ...variants)."""
    return stacked(*values)[None]


def _lines(x: Array, y: Array, z: Array) -> Lines:
    """x, y and z of every corner of every bar, from arrays (bars or 1, corners or 1) with or without variants."""
    x, y, z = together(x, y, z)
    return x, y, z
