"""How is one sheet filled, so that a saw can take it apart?

    kind  : Kind(length, width, options, across)   one sort of sheet, and how each sort of piece may lie on it
    piece : 3                                      a sort of piece, by number; five of them are five threes
    taken : (3, x, y, length, width)               where one of them lies

A free piece of sheet is cut in one direction only, the next in the other: a sheet gives strips, a strip stacks, a stack
pieces. A piece goes where it wastes least, and what is left beside it belongs to the next stage. After the last stage a
piece is only trimmed. Sides are whole numbers, kerf already added to piece and sheet: no cut is left to think of.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

Taken = tuple[int, int, int, int, int]
Free = tuple[int, int, int, int, int]  # length, width, x, y, stage of the next cut


@dataclass(frozen=True)
class Kind:
    """A sort of sheet seen from its first cuts, which run along `length`."""

    sheet: int  # which of the sheets
    length: int
    width: int
    options: tuple[
        tuple[tuple[int, int], ...], ...
    ]  # of each sort of piece: the ways it may lie; none where it is too large
    across: bool  # length and width changed places: the first cuts run across the sheet as it was given
    least: tuple[int, int]  # an offcut less than this can hold no piece

    @property
    def area(self) -> int:
        return self.length * self.width


@dataclass(frozen=True)
class Taste:
    """How much of an offcut counts as waste: a new strip, a new stack. Below zero a large offcut is liked."""

    strip: float = 0.5
    stack: float = 0.8


class Filling(NamedTuple):
    taken: list[Taken]
    over: list[int]  # pieces that found no place
    free: list[Free]  # offcuts, large or small
    looks: int  # at offcuts: the work that it was


def fill(order: Sequence[int], kind: Kind, stages: int, taste: Taste) -> Filling:
    """One sheet, first come first served."""
    counts = (1.0, taste.strip, taste.stack)
    least_length, least_width = kind.least
    free: list[Free] = [(kind.length, kind.width, 0, 0, 1)]
    taken: list[Taken] = []
    over: list[int] = []
    waste: float
    into: Free | None
    offcuts: list[Free] = []
    failed, looks = -1, 0
    for piece in order:
        if piece == failed:
            over.append(piece)
            continue
        best, into, l, w = 1e300, None, 0, 0
        options = kind.options[piece]
        looks += len(free) + 3
        for long, wide in options:
            for offcut in free:
                if long <= offcut[0] and wide <= offcut[1]:
                    stage = offcut[4]
                    waste = (offcut[0] - long) * wide if stage & 1 else (offcut[1] - wide) * long
                    if stage < 3:
                        waste *= counts[stage]
                    if waste < best:
                        best, into, l, w = waste, offcut, long, wide
        if into is None:
            failed = piece
            over.append(piece)
            continue
        free.remove(into)
        length, width, x, y, stage = into
        taken.append((piece, x, y, l, w))
        if stage & 1:
            same, next_ = (length, width - w, x, y + w, stage), (length - l, w, x + l, y, stage + 1)
        else:
            same, next_ = (length - l, width, x + l, y, stage), (l, width - w, x, y + w, stage + 1)
        for left in (same, next_):
            if left[4] <= stages and left[0] >= least_length and left[1] >= least_width:
                free.append(left)
            elif left[0] > 0 and left[1] > 0:
                offcuts.append(left)
    return Filling(taken, over, free + offcuts, looks)
