"""Where do batter boards and string lines stand, so that no digging takes them?

    board : Board(bases=("west", "east"), axis="along", line="gate", back=1.8, ahead=1.9, ...)    the two of one string

A string runs along each axis of a base over its centre; bases that stand in line on a string share it. Those along an
arc are found again from its chord, which they share, or from the nail at its centre, which needs no boards. Boards
stand clear of the hole, of its slope and of the strip that spoil keeps from the edge, and no nearer than what is usual.
"""

from collections.abc import Iterable
from typing import Any, Literal, Protocol

from batterboard.quantity import Length
from batterboard.record import record
from batterboard.standards import layout
from batterboard.work.records import Frame, Line, Work
from batterboard.working import cos, hypot, pi, sin


class Hole(Protocol):
    """What is dug for a base, as far as boards ask."""

    @property
    def name(self) -> str: ...

    @property
    def element(self) -> str: ...

    @property
    def boards_back(self) -> Any: ...


@record
class Board:
    """The two boards of one string over the centre of a base, or of several in line."""

    bases: tuple[str, ...]  # in the string's direction
    hole: str  # the one that keeps them away; "" where the usual distance rules
    axis: Literal["along", "across"]  # of the bases' own turn, which way the string runs
    line: str  # the job's string line that it is; "" where it is none
    back: Length  # from the first base's centre to the board behind it
    ahead: Length  # from the last base's centre to the board ahead
    between: Length  # the boards: the length of the string
    x_back: Length
    y_back: Length
    x_ahead: Length
    y_ahead: Length


@record
class _Reach:
    """Of one base in one direction: how far from its centre its boards must stand."""

    base: str
    hole: str
    frame: Frame
    ahead: Any
    back: Any


def boards(work: Work, holes: Iterable[Hole]) -> tuple[Board, ...]:
    """A string along and one across each base, bases in line on one; `holes` from the digging. One job."""
    dug = {hole.name: hole for hole in holes}
    curved = {s.element: s.line for chain in work.chains.values() for s in chain if s.line and work.lines[s.line].arc}
    made = []
    for axis in ("along", "across"):
        inline: list[list[_Reach]] = []
        for base in (base for base in work.bases if base not in curved):
            reach = _reach(work, base, axis, dug)
            group = next((group for group in inline if _over(group[0].frame, reach.frame)), None)
            if group is None:
                inline.append([reach])
            else:
                group.append(reach)
        made += [_board(work, axis, reaches) for reaches in inline]
    for line in (line for line in work.lines.values() if line.arc is not None and not line.arc.centre):
        if named := [base for base in work.bases if curved.get(base) == line.name]:
            made.append(_chord(work, line, named, dug))
    return tuple(made)


def _reach(work: Work, base: str, axis: str, dug: dict[str, Hole]) -> _Reach:
    thing, quarter = work.bases[base], pi / 2 if axis == "across" else 0.0
    frame = Frame(x=thing.frame.x, y=thing.frame.y, turn=thing.frame.turn + quarter)
    ends: dict[int, tuple[float, str]] = {1: (0.0, ""), -1: (0.0, "")}
    for body in thing.bodies:
        half = (body.outline.along if axis == "along" else body.outline.across) / 2
        centre = frame.into(body.frame.x, body.frame.y)[0]
        back = float(dug[body.name].boards_back) if body.name in dug else 0.0
        rules = body.name if back > layout.BOARDS_BACK else ""
        for way in ends:
            ends[way] = max(ends[way], (float(half + way * centre) + max(back, layout.BOARDS_BACK), rules))
    return _Reach(base=base, hole=ends[1][1] or ends[-1][1], frame=frame, ahead=ends[1][0], back=ends[-1][0])


def _board(work: Work, axis: Any, reaches: list[_Reach]) -> Board:
    """One string over all of them, its boards beyond the outermost, whichever of them reaches furthest."""
    frame = reaches[0].frame
    ways = [cos(one.frame.turn - frame.turn) for one in reaches]  # 1, or -1 of one that is turned about
    at = [frame.into(one.frame.x, one.frame.y)[0] for one in reaches]
    order = sorted(range(len(at)), key=at.__getitem__)
    ahead = max(x + (one.ahead if way > 0 else one.back) for x, way, one in zip(at, ways, reaches))
    back = min(x - (one.back if way > 0 else one.ahead) for x, way, one in zip(at, ways, reaches))
    ends = [tuple(float(v) for v in frame.out(station, 0.0)) for station in (back, ahead)]
    return Board(
        bases=tuple(reaches[i].base for i in order),
        hole=next((one.hole for one in reaches if one.hole), ""),
        axis=axis,
        line=next((line.name for line in work.lines.values() if line.arc is None and _over(line.string, frame)), ""),
        back=float(at[order[0]] - back),
        ahead=float(ahead - at[order[-1]]),
        between=float(ahead - back),
        x_back=ends[0][0],
        y_back=ends[0][1],
        x_ahead=ends[1][0],
        y_ahead=ends[1][1],
    )


def _chord(work: Work, line: Line, bases: list[str], dug: dict[str, Hole]) -> Board:
    """The chord of an arc, over its two ends and past all that is dug along it."""
    frame = line.string
    at = {base: frame.into(work.bases[base].frame.x, work.bases[base].frame.y)[0] for base in bases}
    order = sorted(bases, key=at.__getitem__)
    back, ahead, why = 0.0, float(line.length), ""
    for base in bases:
        for body in work.bases[base].bodies:
            keeps = float(dug[body.name].boards_back) if body.name in dug else 0.0
            o = body.outline
            half = o.along / 2 if o.kind == "round" else hypot(o.along, o.across) / 2
            reach = float(half) + max(keeps, layout.BOARDS_BACK)
            here = float(frame.into(body.frame.x, body.frame.y)[0])
            back, ahead = min(back, here - reach), max(ahead, here + reach)
            why = why or (body.name if keeps > layout.BOARDS_BACK else "")
    ends = [tuple(float(v) for v in frame.out(station, 0.0)) for station in (back, ahead)]
    return Board(
        bases=tuple(order),
        hole=why,
        axis="along",
        line=line.name,
        back=float(at[order[0]] - back),
        ahead=float(ahead - at[order[-1]]),
        between=float(ahead - back),
        x_back=ends[0][0],
        y_back=ends[0][1],
        x_ahead=ends[1][0],
        y_ahead=ends[1][1],
    )


def _over(line: Frame, frame: Frame) -> bool:
    """Whether a line runs this way over this place."""
    off = line.into(frame.x, frame.y)[1]
    return bool(abs(sin(line.turn - frame.turn)) < 1e-6 and abs(off) < 1e-6)
