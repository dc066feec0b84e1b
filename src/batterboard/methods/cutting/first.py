"""Which pieces are cut from which stock bars?

    piece : Piece("W1", length=1.56, count=8)        what the schedule asks for
    stick : Cut(times=3, pieces=("W1", "W1", "W3"), left=0.41)      what one stock bar yields, in cutting order

The longest piece goes first, each into the first stick that has room for it. That is quick and never far off, but it is
no proof: `least` says how many any plan must have.
"""

from collections.abc import Sequence
from math import ceil
from typing import Any

from batterboard.record import ordered

SLACK = 1e-7  # rounding of a sum of lengths [m]


@ordered
class Piece:
    name: str
    length: float
    count: int


@ordered
class Cut:
    """Equal sticks."""

    times: int
    pieces: tuple[Piece, ...]  # each with how many of it one stick yields
    left: float


def first_fit(pieces: Sequence[Piece], stock: float, kerf: float = 0.0) -> tuple[Cut, ...]:
    """First fit, longest first. Pieces longer than the stock are left out."""
    alike: dict[float, list[Piece]] = {}  # lengths first, names after: a large job has few lengths
    for piece in pieces:
        if piece.length <= stock + SLACK and piece.count:
            alike.setdefault(round(piece.length, 9), []).append(piece)
    wanted = [Piece("", length, sum(p.count for p in alike[length])) for length in sorted(alike, reverse=True)]
    left = {length: [[p, p.count] for p in reversed(same)] for length, same in alike.items()}
    cuts: list[Cut] = []
    for cut in _by_length(wanted, stock, kerf):
        for _ in range(cut.times):
            named = tuple(one for piece in cut.pieces for one in _taken(left[piece.length], piece.count))
            if cuts and cuts[-1].pieces == named:
                cuts[-1] = Cut(cuts[-1].times + 1, named, cut.left)
            else:
                cuts.append(Cut(1, named, cut.left))
    return tuple(cuts)


def _taken(left: list[list[Any]], count: int) -> list[Piece]:
    """The next so many pieces of a length, and what is left of them."""
    taken = []
    while count:
        piece, there = left[-1]
        some = min(count, there)
        taken.append(Piece(piece.name, piece.length, some))
        count -= some
        left[-1][1] -= some
        if not left[-1][1]:
            left.pop()
    return taken


def _by_length(wanted: Sequence[Piece], stock: float, kerf: float) -> list[Cut]:
    """The plan of lengths without names, longest first."""
    if not wanted:
        return []
    shortest = wanted[-1].length
    full: list[Cut] = []
    opened: list[Cut] = []  # equal sticks together, in the order they were begun
    for piece in wanted:
        missing, still_open = piece.count, []
        for cut in opened:
            each = _room(cut.left, piece.length, kerf)
            filled, rest = divmod(missing, each) if each else (0, 0)
            if filled >= cut.times:
                filled, rest = cut.times, 0
            untouched = cut.times - filled - (1 if rest else 0)
            missing -= filled * each + rest
            still_open += _some(filled, cut, piece, each, kerf)
            still_open += _some(1, cut, piece, rest, kerf) if rest else []
            still_open += [Cut(untouched, cut.pieces, cut.left)] if untouched else []
        whole = Cut(0, (), stock + kerf)
        each = _room(whole.left, piece.length, kerf)
        filled, rest = divmod(missing, each)
        still_open += _some(filled, whole, piece, each, kerf)
        still_open += _some(1, whole, piece, rest, kerf) if rest else []
        opened = [cut for cut in still_open if cut.left + SLACK >= shortest + kerf]
        full += [cut for cut in still_open if cut.left + SLACK < shortest + kerf]
    return [Cut(cut.times, cut.pieces, max(cut.left - kerf, 0.0)) for cut in (*full, *opened)]


def least(pieces: Sequence[Piece], stock: float) -> int:
    """No plan has fewer sticks: no two pieces longer than half of one share it; the rest fits beside or in more."""
    alike: dict[float, int] = {}
    for piece in pieces:
        if piece.length <= stock + SLACK:
            alike[round(piece.length, 9)] = alike.get(round(piece.length, 9), 0) + piece.count
    lengths = list(alike.items())
    bound = ceil(sum(length * count for length, count in lengths) / stock - SLACK)
    for short in {length for length, _ in lengths if length <= stock / 2}:
        alone = sum(n for length, n in lengths if length > stock - short + SLACK)
        halves = [(length, n) for length, n in lengths if stock / 2 < length <= stock - short + SLACK]
        small = sum(length * n for length, n in lengths if short <= length <= stock / 2)
        room = sum((stock - length) * n for length, n in halves)
        more = max(ceil((small - room) / stock - SLACK), 0)
        bound = max(bound, alone + sum(n for _, n in halves) + more)
    return max(bound, sum(n for length, n in lengths if length > stock / 2 + SLACK))


def _room(left: float, length: float, kerf: float) -> int:
    return int((left + SLACK) / (length + kerf))


def _some(times: int, cut: Cut, piece: Piece, each: int, kerf: float) -> list[Cut]:
    if not times:
        return []
    taken = Piece(piece.name, piece.length, each)
    return [Cut(times, (*cut.pieces, taken), cut.left - each * (piece.length + kerf))]
