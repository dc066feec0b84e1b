"""What do others answer to the same cutting lists, in the same run?

    cheapest_first_fit, shelves     plain rules, at once: first fit decreasing, of lengths, and of shelves on sheets
    highs_lengths, highs_levels     HiGHS, a general open-source solver, on the textbook model, so many seconds: lengths
                                    by what goes into which stick (Kantorovich), sheets by levels (Lodi, Martello and
                                    Vigo 2004, from memory): two stages of cuts, then trimming

A peer that found nothing answers None. Where pieces may turn, a peer's lie flat.
"""

from collections.abc import Sequence
from typing import Any

import highspy
import numpy as np

from batterboard.methods.cutting import first_fit
from batterboard.methods.cutting.first import Piece
from batterboard.methods.cutting.plans import Panel, Stock


def cheapest_first_fit(pieces: list[Piece], stocks: list[Stock], kerf: float) -> float:
    """Of each stock length alone; the cheapest counts."""
    longest = max(piece.length for piece in pieces)
    return min(
        stock.price * sum(cut.times for cut in first_fit(pieces, stock.length, kerf))
        for stock in stocks
        if longest <= stock.length
    )


def shelves(panels: list[Panel], length: float, width: float, kerf: float) -> int:
    """First-fit decreasing height on shelves, shelves first-fit on sheets; a piece that may turn lies flat."""
    room: list[float] = []  # width left on each sheet
    made: list[list[float]] = []  # height, length left
    for w, l in sorted(_lying(panels, length, width, kerf), reverse=True):
        shelf = next((s for s in made if w <= s[0] and l <= s[1]), None)
        if shelf is None:
            sheet = next((n for n, left in enumerate(room) if w <= left), None)
            if sheet is None:
                sheet = len(room)
                room.append(width)
            room[sheet] -= w
            shelf = [w, length]
            made.append(shelf)
        shelf[1] -= l
    return len(room)


def _lying(panels: list[Panel], length: float, width: float, kerf: float) -> list[tuple[float, float]]:
    pieces = []
    for panel in panels:
        l, w = panel.length + kerf, panel.width + kerf
        if panel.turn and w > l and w <= length and l <= width:
            l, w = w, l
        pieces += [(w, l)] * panel.count
    return pieces


# ---- HiGHS ----


class _Model:
    def __init__(self) -> None:
        self.highs: Any = highspy.Highs()
        for option, value in (("output_flag", False), ("threads", 1), ("random_seed", 1)):
            self.highs.setOptionValue(option, value)
        self.columns = 0

    def whole(self, most: float, cost: float = 0.0) -> int:
        """One more whole number, up to so many."""
        self.highs.addVar(0.0, float(most))
        self.highs.changeColCost(self.columns, float(cost))
        self.highs.changeColIntegrality(self.columns, highspy.HighsVarType.kInteger)
        self.columns += 1
        return self.columns - 1

    def row(self, low: float, high: float, terms: Sequence[tuple[int, float]]) -> None:
        where = np.array([column for column, _ in terms], dtype=np.int32)
        self.highs.addRow(low, high, len(terms), where, np.array([float(much) for _, much in terms]))

    def best(self, seconds: float) -> float | None:
        self.highs.setOptionValue("time_limit", float(seconds))
        self.highs.run()
        info = self.highs.getInfo()
        return round(float(info.objective_function_value), 6) if info.primal_solution_status == 2 else None


def highs_lengths(pieces: list[Piece], stocks: list[Stock], kerf: float, seconds: float) -> float | None:
    model, inf = _Model(), highspy.kHighsInf
    sticks = sum(cut.times for cut in first_fit(pieces, max(stock.length for stock in stocks), kerf))
    into: list[list[tuple[int, float]]] = [[] for _ in pieces]
    for _ in range(sticks):
        taken = [(model.whole(1, stock.price), stock) for stock in stocks]
        cells = [model.whole(piece.count) for piece in pieces]
        spent = [(cell, piece.length + kerf) for cell, piece in zip(cells, pieces)]
        model.row(-inf, 0.0, spent + [(column, -(stock.length + kerf)) for column, stock in taken])
        model.row(-inf, 1.0, [(column, 1.0) for column, _ in taken])
        for number, cell in enumerate(cells):
            into[number].append((cell, 1.0))
    for piece, terms in zip(pieces, into):
        model.row(piece.count, inf, terms)
    return model.best(seconds)


def highs_levels(panels: list[Panel], length: float, width: float, kerf: float, seconds: float) -> int | None:
    model, inf = _Model(), highspy.kHighsInf
    pieces = sorted(_lying(panels, length, width, kerf), reverse=True)
    n = range(len(pieces))
    opens = [model.whole(1) for _ in n]  # piece i begins a level
    begins = [model.whole(1, 1.0) for _ in n]  # level i begins a sheet
    on = {(i, j): model.whole(1) for i in n for j in n if j > i}  # piece j on level i
    under = {(k, i): model.whole(1) for k in n for i in n if i > k}  # level i on sheet k
    for i in n:
        w, l = pieces[i]
        model.row(1.0, 1.0, [(opens[i], 1.0)] + [(on[k, i], 1.0) for k in range(i)])
        model.row(0.0, 0.0, [(begins[i], 1.0), (opens[i], -1.0)] + [(under[k, i], 1.0) for k in range(i)])
        later = range(i + 1, len(pieces))
        model.row(-inf, 0.0, [(opens[i], l - length)] + [(on[i, j], pieces[j][1]) for j in later])
        model.row(-inf, 0.0, [(begins[i], w - width)] + [(under[i, j], pieces[j][0]) for j in later])
    answer = model.best(seconds)
    return None if answer is None else round(answer)
