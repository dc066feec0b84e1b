"""What is the most valuable filling of a stick, for every length of stick at once, and which are nearly so?"""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

NEAR = 1e-10  # values this near are the same


class Knapsack:
    """`best[c]`: the most that pieces of a total size up to c are worth, none of them more often than it is wanted."""

    def __init__(self, values: Sequence[float], sizes: Sequence[int], counts: Sequence[int], room: int) -> None:
        self.best: NDArray[np.float64] = np.zeros(room + 1)
        self._sizes, self._n = sizes, len(sizes)
        self.cells = 0  # looked at: the work that it was
        self._steps: list[tuple[int, int, NDArray[np.bool_]]] = []
        for piece, (value, size, count) in enumerate(zip(values, sizes, counts)):
            if value <= NEAR:
                continue
            left, some = min(count, room // size), 1
            while left:  # as one, two, four ... of them
                some = min(some, left)
                left -= some
                better = self.best[: room + 1 - some * size] + some * value
                taken = better > self.best[some * size :] + NEAR
                self.best[some * size :][taken] = better[taken]
                self._steps.append((piece, some, taken))
                self.cells += len(better)
                some *= 2

    def filling(self, room: int) -> list[int]:
        """How many of each piece the best filling of that room has."""
        counts = [0] * self._n
        for piece, some, taken in reversed(self._steps):
            size = some * self._sizes[piece]
            if room >= size and taken[room - size]:
                counts[piece] += some
                room -= size
        return counts


def near_best(
    values: Sequence[float],
    sizes: Sequence[int],
    counts: Sequence[int],
    room: int,
    worth: float,
    short: int,
    steps: int,
) -> Iterator[tuple[int, ...] | None]:
    """Every filling worth at least so much that leaves no room for one piece more, or at least `short` (0: never mind).

    None, once, where the search would take more than so many steps: the list is not whole then.
    """
    n = len(sizes)
    rest = [np.zeros(room + 1)]
    for sort in range(n - 1, -1, -1):
        rest.append(Knapsack(values[sort:], sizes[sort:], counts[sort:], room).best)
    rest.reverse()
    stack: list[tuple[int, int, float, tuple[int, ...]]] = [(0, room, 0.0, ())]
    while stack:
        steps -= 1
        if steps < 0:
            yield None
            return
        sort, left, value, taken = stack.pop()
        if sort == n:
            full = all(size > left or some == count for size, some, count in zip(sizes, taken, counts))
            if any(taken) and (full or short and left >= short):
                yield taken
            continue
        for some in range(min(counts[sort], left // sizes[sort]) + 1):
            so_far = value + some * values[sort]
            over = left - some * sizes[sort]
            if so_far + rest[sort + 1][over] >= worth - NEAR:
                stack.append((sort + 1, over, so_far, (*taken, some)))
