"""Which layouts together cut every piece, at the least cost?

    column : (2, 7, 7, 11)      the pieces of one layout, by number; kept with the sheet and the places they lie on
    prices : 0.31               what the linear programme would pay for one more of a piece

Sheets are filled one after another in many orders; a piece that ended on a poor sheet comes earlier the next time. All
layouts seen are offered to a linear programme. Its prices say which pieces are hard to place: new sheets are filled for
them, until the programme gains no more. Then one layout at a time is settled for good and the rest is asked again.
The seed is fixed, and what ends the search is counted, never timed.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from random import Random
from typing import Any

from batterboard.methods.cutting.strips import Free, Kind, Taken, Taste, fill

Column = tuple[int, tuple[int, ...]]  # sheet, pieces in order of number

STRIPS = (-0.6, -0.3, 0.1, 0.3, 0.6, 1.0)  # tastes worth trying
STACKS = (-0.2, 0.1, 0.3, 0.6, 1.0)
POWERS = (0.0, 0.5, 0.8, 1.0, 1.2)  # how far a piece's area counts against its price
SHAKES = (0.0, 0.1, 0.2, 0.4)
NOTHING = 1e-6


@dataclass(frozen=True)
class Effort:
    """How long the search goes on, in rounds."""

    orders: int = 60
    prices: int = 20
    fills: int = 40
    dives: int = 3
    deeper: int = 2
    deeper_fills: int = 20
    ends: int = 4
    programmes: int = 300


@dataclass(frozen=True)
class Filled:
    kind: Kind
    taken: tuple[Taken, ...]
    free: tuple[Free, ...]


class Cover:
    """The search's memory: layouts seen, the programme over them, the best set so far."""

    def __init__(
        self,
        kinds: Sequence[Kind],
        counts: Sequence[int],
        weights: Sequence[int],
        limits: Sequence[int | None],
        stages: int,
        bound: int,
        step: int,
        effort: Effort,
    ) -> None:
        self.kinds, self.weights, self.limits, self.stages, self.effort = kinds, weights, limits, stages, effort
        self.bound, self.step = bound, step  # costs are whole steps
        self.wanted = [piece for piece, count in enumerate(counts) for _ in range(count)]
        self.counts = counts
        largest = max(kind.area for kind in kinds)
        sides = [next(lies for kind in kinds for lies in kind.options[piece]) for piece in range(len(counts))]
        self.areas = [l * w / largest for l, w in sides]
        self.sides = sides
        self.layouts: dict[Column, Filled] = {}
        self.random = Random(1)
        self.best: list[Column] = []
        self.cost = float("inf")
        self._highs: Any = None
        self._programmes = 0
        self._known: list[Column] = []

    def search(self) -> Iterator[list[Column]]:
        """Better and better sets of layouts; the first one comes at once."""
        for columns in self._by_orders():
            yield columns
        if self.cost <= self.bound:
            return
        self._start()
        every = list(range(len(self.counts)))
        for _ in range(self.effort.prices):
            value, _, prices, rents = self._programme()
            if value <= self.bound + NOTHING:
                break
            self._offer(prices, rents, self.wanted, every, self.effort.fills)
        banned: set[int] = set()
        for dive in range(self.effort.dives):
            yield from self._dive(banned, dive)
            if self.cost <= self.bound or self._programmes > self.effort.programmes:
                return

    def _keep(self, columns: list[Column]) -> bool:
        cost = sum(self.weights[sheet] for sheet, _ in columns)
        if cost >= self.cost - NOTHING:
            return False
        self.best, self.cost = columns, cost
        return True

    def _taste(self) -> Taste:
        return Taste(self.random.choice(STRIPS), self.random.choice(STACKS))

    # ---- sheets one after another ----

    def _by_orders(self) -> Iterator[list[Column]]:
        values = dict(enumerate(self.areas))
        rules = (
            lambda i: self.sides[i][1],
            lambda i: self.areas[i],
            lambda i: self.sides[i][0],
            lambda i: sum(self.sides[i]),
        )
        for number in range(self.effort.orders):
            shake = 0.0 if number < 8 else 0.3
            rule = rules[number // 2] if number < 8 else values.__getitem__
            columns, values = self._one_by_one(
                self.wanted, number, rule, values, shake, Taste() if number < 2 else self._taste()
            )
            if columns and self._keep(columns):
                yield columns
            if self.cost <= self.bound:
                return

    def _one_by_one(
        self,
        pieces: Sequence[int],
        number: int,
        rule: Any,
        values: dict[int, float],
        shake: float,
        taste: Taste,
        used: Counter[int] | None = None,
        most: float = float("inf"),
    ) -> tuple[list[Column], dict[int, float]]:
        """Fill sheets until nothing is left; () where that would cost too much. What a poor sheet held is worth more next time."""
        key = {i: rule(i) * (1 + shake * (self.random.random() - 0.5)) for i in set(pieces)}
        over = sorted(pieces, key=lambda i: (-key[i], i))
        spent, columns, learnt, there = 0, [], dict(values), Counter(used)
        while over:
            for kind in self._next_kinds(number, there):
                taken, left, free = fill(over, kind, self.stages, taste)
                if taken:
                    break
            else:
                return [], learnt
            over = left
            column = self._seen(kind, taken, free)
            columns.append(column)
            there[kind.sheet] += 1
            spent += self.weights[kind.sheet]
            if over and spent >= most:
                return [], learnt
            share = sum(self.areas[i] for i in column[1])
            for i in column[1]:
                learnt[i] = 0.6 * values[i] + 0.4 * self.areas[i] ** 1.02 / share
        return columns, learnt

    def _next_kinds(self, number: int, there: Counter[int]) -> list[Kind]:
        """What is on hand goes first; of what is bought, each in its turn."""
        free = [k for k in self.kinds if self.limits[k.sheet] is None or there[k.sheet] < (self.limits[k.sheet] or 0)]
        hand = [k for k in free if self.limits[k.sheet] is not None]
        buy = [k for k in free if self.limits[k.sheet] is None]
        turn = number % max(len(buy), 1)
        return sorted(hand, key=lambda k: (k.area, k.across == bool(number & 1))) + buy[turn:] + buy[:turn]

    def _seen(self, kind: Kind, taken: list[Taken], free: list[Free]) -> Column:
        column = (kind.sheet, tuple(sorted(t[0] for t in taken)))
        if column not in self.layouts:
            self.layouts[column] = Filled(kind, tuple(taken), tuple(free))
        return column

    # ---- the linear programme ----

    def _start(self) -> None:
        import highspy
        import numpy as np

        self._np, self._inf = np, highspy.kHighsInf
        self._highs = highspy.Highs()
        for option, value in (("output_flag", False), ("threads", 1), ("random_seed", 1)):
            self._highs.setOptionValue(option, value)
        none, zero = np.array([], dtype=np.int32), np.array([])
        for count in self.counts:
            self._highs.addRow(float(count), self._inf, 0, none, zero)
        self._limited = {
            sheet: len(self.counts) + n for n, sheet in enumerate(s for s, c in enumerate(self.limits) if c is not None)
        }
        for sheet in self._limited:
            self._highs.addRow(-self._inf, float(self.limits[sheet] or 0), 0, none, zero)

    def _programme(self) -> tuple[float, list[float], list[float], dict[int, float]]:
        """Its value, how often it takes each layout, what it pays for each piece, and for each sheet on hand."""
        np = self._np
        for column in list(self.layouts)[len(self._known) :]:
            sheet, pieces = column
            rows = Counter(pieces)
            if sheet in self._limited:
                rows[self._limited[sheet]] = 1
            where, much = np.array(list(rows), dtype=np.int32), np.array(list(rows.values()), dtype=float)
            self._highs.addCol(float(self.weights[sheet]), 0.0, self._inf, len(where), where, much)
            self._known.append(column)
        self._highs.run()
        self._programmes += 1
        solution = self._highs.getSolution()
        prices = list(solution.row_dual)
        value = float(self._highs.getInfo().objective_function_value)
        return value, list(solution.col_value), prices, {s: prices[row] for s, row in self._limited.items()}

    def _offer(
        self, prices: Sequence[float], rents: dict[int, float], pieces: Sequence[int], sorts: Sequence[int], fills: int
    ) -> int:
        """Fill sheets with what is paid for; how many of them the programme would take."""
        random, areas, found = self.random, self.areas, 0
        scale = max(self.weights)
        for number in range(fills):
            kind = self.kinds[number % len(self.kinds)]
            power, shake = random.choice(POWERS), random.choice(SHAKES)
            key = {
                i: (prices[i] / scale + 1e-4 * areas[i]) / areas[i] ** power * (1 + shake * (random.random() - 0.5))
                for i in sorts
            }
            order = sorted(pieces, key=lambda i: (-key[i], i))
            taken, _, free = fill(order, kind, self.stages, self._taste())
            paid = sum(prices[t[0]] for t in taken) + rents.get(kind.sheet, 0.0)
            if taken and paid > self.weights[kind.sheet] * (1 + NOTHING):
                before = len(self.layouts)
                self._seen(kind, taken, free)
                found += len(self.layouts) - before
        return found

    def _dive(self, banned: set[int], number: int) -> Iterator[list[Column]]:
        """Settle layouts one after another; after each, fill the rest one by one as well."""
        settled: Counter[int] = Counter()
        left = Counter(dict(enumerate(self.counts)))
        first = None
        while left and self.cost > self.bound and self._programmes <= self.effort.programmes:
            pieces = sorted(left.elements())
            sorts = sorted(left)
            for again in range(self.effort.deeper + 1):
                value, takes, prices, rents = self._programme()
                if again < self.effort.deeper and not self._offer(
                    prices, rents, pieces, sorts, self.effort.deeper_fills
                ):
                    break
            if ceil(value / self.step - NOTHING) * self.step >= self.cost:
                break
            more = [(takes[j] - settled[j], j) for j in range(len(takes)) if takes[j] - settled[j] > NOTHING]
            whole = [(j, int(x + 1e-3)) for x, j in more if x > 0.999]
            if not whole:
                x, j = max(((x, -j) for x, j in more if j not in banned), default=(0.0, 0))
                if not x:
                    break
                whole, first = [(-j, 1)], -j if first is None else first
            for j, times in whole:
                settled[j] += times
                self._highs.changeColBounds(j, float(settled[j]), self._inf)
                for piece in self._known[j][1]:
                    left[piece] -= times
            left = +left
            fixed = [self._known[j] for j in settled.elements()]
            if not left:
                if self._keep(fixed):
                    yield fixed
                break
            yield from self._end(fixed, sorted(left.elements()), prices, number)
        for j in settled:
            self._highs.changeColBounds(j, 0.0, self._inf)
        if first is not None:
            banned.add(first)

    def _end(
        self, fixed: list[Column], pieces: list[int], prices: Sequence[float], number: int
    ) -> Iterator[list[Column]]:
        spent = sum(self.weights[sheet] for sheet, _ in fixed)
        scale = max(self.weights)
        values = {i: self.areas[i] + (prices[i] / scale if number & 1 else 0.0) for i in set(pieces)}
        used = Counter(sheet for sheet, _ in fixed)
        for _ in range(self.effort.ends):
            turn = self.random.randrange(2 * len(self.kinds))
            columns, values = self._one_by_one(
                pieces, turn, values.__getitem__, values, 0.3, self._taste(), used, self.cost - spent - self.step
            )
            if columns and self._keep(fixed + columns):
                yield self.best
