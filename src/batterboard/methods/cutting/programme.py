"""What is the cheapest mixture of known layouts, and what does it pay for each piece?

    columns : ways of cutting one piece of stock, each with its cost
    rows    : each sort of piece, at least as many as are wanted; each stock on hand, at most as many as there are
    prices  : what one more of a row is worth

HiGHS solves it, on one thread and from a fixed seed, each time from where it stood the last time.
"""

import os
import sys
from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np


class Answer(NamedTuple):
    value: float
    takes: list[float]  # of each column
    prices: list[float]  # of each row


class Whole(NamedTuple):
    takes: dict[int, int]  # how often each column that is taken; {} where nothing was found
    proved: bool  # no whole mixture of these columns is cheaper by more than the gap


class Programme:
    def __init__(self, wanted: Sequence[float], limits: Sequence[float]) -> None:
        """Rows of what is wanted come first, then those of what is limited."""
        import highspy

        self.infinite: float = highspy.kHighsInf
        self._integer = highspy.HighsVarType.kInteger
        make: Callable[[], Any] = highspy.Highs
        self._new: Callable[[], Any] = lambda: _silently(make)
        self._optimal = highspy.HighsModelStatus.kOptimal
        self.wanted, self.limits = wanted, limits
        self.columns: list[tuple[float, dict[int, int]]] = []
        self.solved = 0
        self._highs = self._empty()

    def _empty(self) -> Any:
        highs = self._new()
        for option, value in (("output_flag", False), ("threads", 1), ("random_seed", 1)):
            highs.setOptionValue(option, value)
        none, zero = np.array([], dtype=np.int32), np.array([])
        for count in self.wanted:
            highs.addRow(float(count), self.infinite, 0, none, zero)
        for count in self.limits:
            highs.addRow(-self.infinite, float(count), 0, none, zero)
        return highs

    def add(self, cost: float, rows: Mapping[int, int]) -> None:
        self.columns.append((cost, dict(rows)))
        self._put(self._highs, cost, rows)

    def _put(self, highs: Any, cost: float, rows: Mapping[int, int]) -> None:
        where, much = np.array(list(rows), dtype=np.int32), np.array(list(rows.values()), dtype=float)
        highs.addCol(float(cost), 0.0, self.infinite, len(where), where, much)

    def settle(self, column: int, times: int) -> None:
        """Take it at least so often from now on."""
        self._highs.changeColBounds(column, float(times), self.infinite)

    def solve(self) -> Answer:
        self._highs.run()
        self.solved += 1
        solution = self._highs.getSolution()
        value = float(self._highs.getInfo().objective_function_value)
        return Answer(value, list(solution.col_value), list(solution.row_dual))

    def whole(self, nodes: int, gap: float) -> Whole:
        """The best whole mixture of its columns within so many nodes.

        Asked of a fresh model: one that still holds the last linear answer has been seen to return wrong ones.
        """
        highs, n = self._empty(), len(self.columns)
        for column in self.columns:
            self._put(highs, *column)
        highs.changeColsIntegrality(n, np.arange(n, dtype=np.int32), np.array([self._integer] * n))
        for option, value in (("mip_max_nodes", nodes), ("mip_rel_gap", 0.0), ("mip_abs_gap", gap)):
            highs.setOptionValue(option, value)
        highs.run()
        if highs.getInfo().primal_solution_status != 2:
            return Whole({}, False)
        takes = {j: round(x) for j, x in enumerate(highs.getSolution().col_value) if x > 0.5}
        return Whole(takes, highs.getModelStatus() == self._optimal) if self._holds(takes) else Whole({}, False)

    def _holds(self, takes: Mapping[int, int]) -> bool:
        got = [0.0] * (len(self.wanted) + len(self.limits))
        for column, times in takes.items():
            for row, much in self.columns[column][1].items():
                got[row] += much * times
        n = len(self.wanted)
        enough = all(have >= want for have, want in zip(got[:n], self.wanted))
        return enough and all(have <= most for have, most in zip(got[n:], self.limits))


def _silently(make: Callable[[], Any]) -> Any:
    """HiGHS prints its name when it is made, before it can be told not to, and past Python's own output."""
    sys.stdout.flush()
    try:
        kept = os.dup(1)
    except OSError:  # no output to keep clean
        return make()
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        return make()
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)
