"""Which sticks does a form take, and where are those joined that no stick yields whole?

    member : Member(mark="long A wale 1", of="2x4", length=4.2, count=8)      to cut; count of the whole form
    joined : Joined(mark="long A wale", long=9.4, first=(4.2, 8.4), second=(2.7, 6.9))    from its left end, outside

Yokes, braces, collars round tubes, studs with a plate under and over them, wales, the stakes of a low edge and their
kickers. Those of a low edge are cut of the braces' lumber, since their bending is reckoned with its grade; all others,
at the feet of kickers and braces and where a form is tied down, are bought with a point. A low edge takes no cleats: a
stake stands at the end of each board and on each joint.

Wales lap at the corners as their panels do. A wale or a plate longer than the longest stick is joined over studs; the
joints of the two sticks of a wale stand apart, and a cleat is nailed over each. How strong that is, is not reckoned.
What carries a beam that stands clear is told in `soffit`.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from batterboard.phases.forms.results import Box, Panel, Shores, Wall
from batterboard.phases.forms.walls import PAIR, uprights_on
from batterboard.quantity import Length, ft, inch
from batterboard.record import record

# Common practice, no source.
DRIVEN = 18 * inch  # of an edge's stake; deeper where it does not hold
APART = 4 * ft  # between the joints of the two sticks of a wale
CLEAT = 3 * ft  # half of it on each side of a joint
SAME = 0.0005  # lengths this near are cut alike
SLACK = 1e-9


@record
class Member:
    """Equal sticks of one form."""

    mark: str
    of: str  # "2x4"
    length: Length
    count: int


@record
class Joined:
    """Equal wales or plates of one panel, longer than any stick."""

    mark: str
    long: Length
    first: tuple[Length, ...]  # its joints
    second: tuple[Length, ...]  # and those of the other stick of a wale; () of a plate


def members_of(box: Box, longest: float) -> tuple[list[Member], list[Joined]]:
    """All sticks of a form of the lumber whose longest is so long, the chamfer strips left out."""
    made = [*_yokes(box), *_edge(box)]
    joined: list[Joined] = []
    if box.wall is not None:
        made += _walled(box, box.wall, longest, joined)
    if box.shores is not None:
        made += _shores(box.shores, longest, joined)
    if box.collar is not None:
        stick, count = _most(box.collar.stick), 4 * len(box.collar.ups)
        made.append(Member(mark=f"{box.name} collar", of=box.collar.size.name, length=stick, count=count))
    if box.brace is not None:
        of, count = box.brace.size.name, 4 * round(_most(box.brace.a_side))
        made.append(Member(mark=f"{box.name} brace", of=of, length=_most(box.brace.length), count=count))
    return [member for member in made if member.count], joined


def pointed(box: Box) -> int:
    """Stakes that are bought with a point: at the feet of kickers and braces, and to tie it down."""
    count = round(_most(box.uplift.stakes))
    if box.edge is not None:
        count += round(_most(box.edge.count))
    if box.brace is not None:
        count += 4 * round(_most(box.brace.a_side)) * round(_most(box.brace.stakes))
    if box.shores is not None:
        count += 2 * round(_most(box.shores.a_side)) * round(_most(box.shores.stakes))
    return count


# ---- yokes, shores and low edges ----


def _yokes(box: Box) -> Iterator[Member]:
    if box.frame is None:
        return
    sticks: Counter[tuple[str, float]] = Counter()
    for way, yoke, each, length in _yoke_sticks(box):
        sticks[(f"{box.name} yoke{yoke}{way}", _most(length))] += each
    for (mark, length), count in sticks.items():
        yield Member(mark=mark, of=box.frame.size.name, length=length, count=count)


def _yoke_sticks(box: Box) -> Iterator[tuple[str, str, int, Length]]:
    """Which way each lies and of which yoke it is, in words where that matters; how many, how long."""
    assert box.frame is not None
    lengths = [[_most(length) for _, length in box.frame.sticks(yoke)] for yoke in box.yokes]
    alike = all(abs(one - other) < SAME for each in lengths for one, other in zip(each, lengths[0], strict=True))
    square = all(max(each) - min(each) < SAME for each in lengths)
    for yoke in box.yokes:
        for way, (count, length) in zip((" along", " across"), box.frame.sticks(yoke), strict=False):
            yield "" if square else way, "" if alike else f" {yoke.number}", count, length


def _shores(shores: Shores, longest: float, joined: list[Joined]) -> Iterator[Member]:
    """With the ribbons outside the feet of the uprights, joined over cross-pieces."""
    whats = [what for _, what, _, _ in shores.sticks]
    seen: Counter[str] = Counter()
    for of, what, length, count in shores.sticks:
        seen[what] += 1
        mark = f"{shores.name} {what}" + (f" {seen[what]}" if whats.count(what) > 1 else "")
        yield Member(mark=mark, of=of, length=_most(length), count=count)
    start = _most(shores.start)
    long, places = _most(shores.end) - start, [_most(pair.at) - start for pair in shores.pairs]
    (first,) = _joints(long, places, longest, 1)
    ribbon = Joined(mark=f"{shores.name} ribbon", long=long, first=first, second=())
    yield from _cut(ribbon, shores.upright.name, 2, 0)
    joined += [ribbon] if first else []


def _edge(box: Box) -> Iterator[Member]:
    if box.edge is None:
        return
    of, count, height = box.edge.size.name, round(_most(box.edge.count)), _most(box.height)
    yield Member(mark=f"{box.name} stake", of=of, length=height + DRIVEN, count=count)
    yield Member(mark=f"{box.name} kicker", of=of, length=height * 2**0.5, count=count)


# ---- studs, plates and wales ----


def _walled(box: Box, wall: Wall, longest: float, joined: list[Joined]) -> Iterator[Member]:
    of, wide = wall.size.name, wall.size.wide
    tall = _most(box.panels[0].height) - 2 * wide
    yield Member(mark=f"{box.name} stud", of=of, length=tall, count=round(_most(wall.studs)))
    cleats = 0
    for panel in box.panels:
        studs = places(panel, panel.inside, wall.stud_spacing)
        long = _most(panel.width)
        (first,) = _joints(long, studs, longest, 1)
        plate = Joined(mark=f"{panel.mark} plate", long=long, first=first, second=())
        yield from _cut(plate, of, 2 * panel.count, 0)
        joined += [plate] if first else []
        for ups, inside in _alike(box, panel, wall):
            begin, whole = wale_on(panel, wall, inside)
            first, second = _joints(whole, [begin + stud for stud in studs], longest, PAIR)
            mark = f"{panel.mark} wale" + ("" if len(ups) == len(wall.wales) else f" {ups[0]}")
            wale = Joined(mark=mark, long=whole, first=first, second=second)
            yield from _cut(wale, of, len(ups) * panel.count, len(ups) * panel.count)
            joined += [wale] if first else []
            cleats += len(ups) * panel.count * (len(first) + len(second))
    yield Member(mark=f"{box.name} wale cleat", of=of, length=CLEAT, count=cleats)


def _alike(box: Box, panel: Panel, wall: Wall) -> Iterator[tuple[list[int], float]]:
    """Wales of one length, by number: those of a form that leans in are shorter above."""
    found: dict[float, list[int]] = {}
    for wale in wall.wales:
        inside = _most(panel.inside) - _most(panel.narrows) * _most(wale.up) / _most(box.height)
        found.setdefault(round(inside, 6), []).append(wale.number)
    for inside, numbers in found.items():
        yield numbers, inside


def places(panel: Panel, face: Length, spacing: Length) -> list[float]:
    """Where its studs or stakes stand, from the left edge of the panel: evenly between its ends and its joints.

    face : what they are counted on, the inside of a wall's panel, all of a low board
    """
    s = _most(spacing)
    if not panel.upright_joints:
        n = round(_most(uprights_on(panel, _most(face), s)))
        return [float(at) for at in np.linspace(0.0, _most(panel.width), n)]
    places: list[float] = [0.0]
    for end in (*panel.upright_joints, panel.width):
        start, bays = places[-1], int(np.ceil((_most(end) - places[-1]) / s - SLACK))
        places += [float(at) for at in np.linspace(start, _most(end), bays + 1)[1:]]
    return places


def ties_on(panel: Panel, wall: Wall) -> list[float]:
    """Where the ties of each wale go through, from the left edge of the panel: evenly, half a step from the corners."""
    inside = _most(panel.inside)
    n = int(np.ceil(inside / _most(wall.tie_spacing)))
    begin = (_most(panel.width) - inside) / 2 if panel.runs_past != 1 else 0.0
    return [begin + inside * (i + 0.5) / n for i in range(n)]


def wale_on(panel: Panel, wall: Wall, inside: Length) -> tuple[float, float]:
    """How far a wale begins left of its panel, and how long it is, where the panel is so wide inside."""
    past, thick, deep = panel.runs_past, _most(panel.thick), wall.size.deep
    return deep + (deep if past == 2 else thick), _most(inside) + 2 * (thick + deep) + past * deep


def _joints(long: float, studs: Sequence[float], longest: float, sticks: int) -> tuple[tuple[float, ...], ...]:
    """Joints of each of so many sticks side by side, over studs, as far apart as a stick reaches; () of a whole one."""
    taken: list[tuple[float, ...]] = []
    for _ in range(sticks):
        others = [joint for joints in taken for joint in joints]
        made, last = [], 0.0
        while long - last > longest + SLACK:
            within = [at for at in studs if last + SAME < at <= last + longest + SLACK]
            within = [at for at in within if at <= long - APART + SLACK] or within
            away = [at for at in within if all(abs(at - other) > APART - SLACK for other in others)]
            free = away or [at for at in within if all(abs(at - other) > SAME for other in others)]
            if not free:
                return ((),) * sticks  # the stick is shorter than a bay: it is told as too long
            made.append(max(free))
            last = made[-1]
        taken.append(tuple(made))
    return tuple(taken)


def _cut(joined: Joined, of: str, firsts: int, seconds: int) -> Iterator[Member]:
    """The parts of so many of each stick, equal ones together."""
    parts: Counter[float] = Counter()
    for joints, count in ((joined.first, firsts), (joined.second, seconds)):
        ends = (0.0, *joints, joined.long)
        for start, end in pairwise(ends) if count else ():
            parts[round(end - start, 6)] += count
    for number, (length, count) in enumerate(sorted(parts.items(), reverse=True), 1):
        mark = joined.mark if len(parts) == 1 else f"{joined.mark} {number}"
        yield Member(mark=mark, of=of, length=length, count=count)


def _most(value: Length) -> float:
    return float(np.max(value))
