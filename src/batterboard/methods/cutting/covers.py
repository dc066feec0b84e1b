"""Which layouts together cut every piece, at the least cost?

    column : (2, 7, 7, 11)      the pieces of one layout, by number; kept with the sheet and the places they lie on
    prices : 0.31               what the linear programme would pay for one more of a piece

Sheets are filled one after another in many orders; a piece that ended on a poor sheet comes earlier the next time. All
layouts seen are offered to a linear programme. Its prices say which pieces are hard to place: new sheets are filled for
them, until the programme gains no more. Then one layout at a time is settled for good and the rest is asked again.
The seed is fixed, and what ends the search is counted, never timed.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from random import Random

from batterboard.methods.cutting import watch
from batterboard.methods.cutting.programme import Answer, Programme
from batterboard.methods.cutting.strips import Free, Kind, Taken, Taste, fill

Column = tuple[int, tuple[int, ...]]  # sheet, pieces in order of number

STRIPS = (-0.6, -0.3, 0.1, 0.3, 0.6, 1.0)  # tastes worth trying
STACKS = (-0.2, 0.1, 0.3, 0.6, 1.0)
POWERS = (0.0, 0.5, 0.8, 1.0, 1.2)  # how far a piece's area counts against its price
SHAKES = (0.0, 0.1, 0.2, 0.4)
NOTHING = 1e-6
SOLVING = 8  # looks at offcuts that take as long as a programme does for each of its layouts


@dataclass(frozen=True)
class Effort:
    """How long the search goes on, in rounds."""

    orders: int = 60
    prices: int = 20
    fills: int = 40
    dives: int = 2
    deeper: int = 2
    deeper_fills: int = 20
    ends: int = 4
    more: int = 40  # after so many dives, orders again
    more_prices: int = 5
    looks: int = 2_500_000  # at offcuts: there the search ends at the latest
    looks_each: int = 60_000  # and there for so many pieces


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
        self.looks = 0
        self._orders = 0
        self._values = dict(enumerate(self.areas))
        self._known: list[Column] = []

    def search(self) -> Iterator[list[Column]]:
        """Better and better sets of layouts; the first one comes at once."""
        yield from self._by_orders(self.effort.orders)
        if self.cost <= self.bound or watch.stopped():
            return
        limited = [sheet for sheet, count in enumerate(self.limits) if count is not None]
        self._row = {sheet: len(self.counts) + n for n, sheet in enumerate(limited)}
        self._programme = Programme(self.counts, [float(self.limits[sheet] or 0) for sheet in limited])
        self._ask(self.effort.prices)
        banned: set[int] = set()
        dive = 0
        while self.cost > self.bound and not self._tired():
            yield from self._dive(banned, dive)
            if dive >= self.effort.dives and self.cost > self.bound:
                yield from self._by_orders(self.effort.more)
                self._ask(self.effort.more_prices)
            dive += 1

    def _tired(self) -> bool:
        if watch.stopped():
            return True
        most = min(self.effort.looks, self.effort.looks_each * len(self.wanted))
        n = len(self.wanted) + 1  # of a weight, what is beyond the multiples of n counts sheets, not money
        if self.cost // n <= self.bound // n:  # no cheaper plan: a short look for fewer sheets is enough
            most //= 8
        return self.looks > most

    def _ask(self, times: int) -> None:
        every = list(range(len(self.counts)))
        for _ in range(times):
            answer = self._solve()
            if answer.value <= self.bound + NOTHING or self._tired():
                return
            self._offer(answer.prices, self.wanted, every, self.effort.fills)

    def _keep(self, columns: list[Column]) -> bool:
        cost = sum(self.weights[sheet] for sheet, _ in columns)
        if cost >= self.cost - NOTHING:
            return False
        self.best, self.cost = columns, cost
        return True

    def _taste(self) -> Taste:
        return Taste(self.random.choice(STRIPS), self.random.choice(STACKS))

    # ---- sheets one after another ----

    def _by_orders(self, orders: int) -> Iterator[list[Column]]:
        rules: tuple[Callable[[int], float], ...] = (
            lambda i: self.sides[i][1],
            lambda i: self.areas[i],
            lambda i: self.sides[i][0],
            lambda i: sum(self.sides[i]),
        )
        for number in range(self._orders, self._orders + orders):
            plain = number < 2 * len(rules)
            rule, shake = (rules[number // 2], 0.0) if plain else (self._values.__getitem__, 0.3)
            taste = Taste() if number < 2 else self._taste()
            columns, self._values = self._one_by_one(self.wanted, number, rule, self._values, shake, taste)
            if columns and self._keep(columns):
                yield columns
            if self.cost <= self.bound or self.best and not plain and watch.stopped():
                return
        self._orders += orders

    def _one_by_one(
        self,
        pieces: Sequence[int],
        number: int,
        rule: Callable[[int], float],
        values: dict[int, float],
        shake: float,
        taste: Taste,
        used: Counter[int] | None = None,
        most: float = float("inf"),
    ) -> tuple[list[Column], dict[int, float]]:
        """Fill sheets until nothing is left, none where that costs too much; and what a piece is worth next time."""
        key = {i: rule(i) * (1 + shake * (self.random.random() - 0.5)) for i in set(pieces)}
        over = sorted(pieces, key=lambda i: (-key[i], i))
        spent, columns, learnt, there = 0, [], dict(values), Counter(used)
        while over:
            for kind in self._next_kinds(number, there):
                taken, left, free, looks = fill(over, kind, self.stages, taste)
                self.looks += looks
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

    def _solve(self) -> Answer:
        for column in list(self.layouts)[len(self._known) :]:
            sheet, pieces = column
            rows = Counter(pieces)
            if sheet in self._row:
                rows[self._row[sheet]] = 1
            self._programme.add(float(self.weights[sheet]), rows)
            self._known.append(column)
        self.looks += SOLVING * len(self._known)
        return self._programme.solve()

    def _offer(self, prices: Sequence[float], pieces: Sequence[int], sorts: Sequence[int], fills: int) -> int:
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
            taken, _, free, looks = fill(order, kind, self.stages, self._taste())
            self.looks += looks
            rent = prices[self._row[kind.sheet]] if kind.sheet in self._row else 0.0
            paid = sum(prices[t[0]] for t in taken) + rent
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
        while left and self.cost > self.bound and not self._tired():
            pieces, sorts = sorted(left.elements()), sorted(left)
            for again in range(self.effort.deeper + 1):
                answer = self._solve()
                if again == self.effort.deeper:
                    break
                if not self._offer(answer.prices, pieces, sorts, self.effort.deeper_fills):
                    break
            if ceil(answer.value / self.step - NOTHING) * self.step >= self.cost:
                break
            takes = answer.takes
            more = [(takes[j] - settled[j], j) for j in range(len(takes)) if takes[j] - settled[j] > NOTHING]
            whole = [(j, int(x + 1e-3)) for x, j in more if x > 0.999]
            if not whole:
                x, j = max(((x, -j) for x, j in more if j not in banned), default=(0.0, 0))
                if not x:
                    break
                whole, first = [(-j, 1)], -j if first is None else first
            for j, times in whole:
                settled[j] += times
                self._programme.settle(j, settled[j])
                for piece in self._known[j][1]:
                    left[piece] -= times
            left = +left
            fixed = [self._known[j] for j in settled.elements()]
            if not left:
                if self._keep(fixed):
                    yield fixed
                break
            yield from self._end(fixed, sorted(left.elements()), answer.prices, number)
        for j in settled:
            self._programme.settle(j, 0)
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
