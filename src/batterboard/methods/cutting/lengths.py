"""Which pieces are cut from which lengths, so that little is paid and what is left is of use?

    for plan in search(pieces, stocks, kerf=0.003, keep=0.6):      better and better plans; the first one at once
        show(plan)                                                 stop whenever it is good enough

A plan costs the least found; then its offcuts of at least `keep` are, together, the longest found. `plan.bound` is what
no plan can beat. Offcuts on hand are stock with a count, and a price of 0 where they are to go first.

A linear programme mixes ways of cutting one stick; its prices say which pieces are hard to place, and a knapsack finds
the stick that is worth most at these prices, until none is worth more than it costs: that is the bound, too. Then
sticks are settled one after another, and the programme asked again for the rest. Where the ways that a cheaper plan
could consist of are few, they are all looked at.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from batterboard.methods.cutting import watch
from batterboard.methods.cutting.first import Piece, first_fit
from batterboard.methods.cutting.knapsack import Knapsack, near_best
from batterboard.methods.cutting.plans import LengthPlan, Stock
from batterboard.methods.cutting.programme import Answer, Programme
from batterboard.methods.cutting.rack import NOTHING, Mixture, Rack, Way

SELDOM = 20  # rounds of the programme from one bound to the next, where that takes longer than the round
SOLVING = 2  # cells that take as long as a programme does for each of its numbers
PAIRING = 200  # and as two sticks do for each length and each way
UNSURE = 1e-3  # of the programme's prices, in steps of the price


@dataclass(frozen=True)
class Effort:
    """How long the search goes on, in rounds."""

    columns: int = 600
    deeper: int = 4
    dives: int = 4
    nodes: int = 100
    ways: int = 300
    steps: int = 40_000
    programmes: int = 2000
    cells: int = 2_000_000_000  # of all knapsacks: half for the programme, three quarters before what is left counts


def search(
    pieces: Sequence[Piece],
    stocks: Sequence[Stock],
    *,
    kerf: float = 0.0,
    keep: float = 0.0,
    effort: Effort | None = None,
) -> Iterator[LengthPlan]:
    """Better and better plans. An offcut is useful from the length `keep` on; 0: none is."""
    rack = Rack(pieces, stocks, kerf, keep)
    if not rack.counts:
        yield LengthPlan((), 0.0, 0.0, 0.0, rack.left_out)
        return
    best: Mixture | None = None
    for mixture in _Hunt(rack, effort or Effort()).search():
        best = mixture
        yield rack.plan(best)


def best(
    pieces: Sequence[Piece],
    stocks: Sequence[Stock],
    *,
    kerf: float = 0.0,
    keep: float = 0.0,
    effort: Effort | None = None,
    name: str = "",
) -> LengthPlan:
    """The last plan of the search; the best so far where it is stopped by hand. `name`: what is cut."""
    for plan in search(pieces, stocks, kerf=kerf, keep=keep, effort=effort):
        watch.found(name, plan.cost, plan.bound)
    return replace(plan, stopped=watch.stopped() and not plan.proved)


class _Hunt:
    """The search's memory: ways seen, the programme over them, the best mixture so far."""

    def __init__(self, rack: Rack, effort: Effort) -> None:
        self.rack, self.effort = rack, effort
        self.limited = [s for s, stock in enumerate(rack.stocks) if stock.count is not None]
        self.row = {s: len(rack.counts) + n for n, s in enumerate(self.limited)}
        self.ways: dict[Way, int] = {}
        self.cells = 0
        self.cost = 10**18
        self.best: Mixture = Counter()

    def search(self) -> Iterator[Mixture]:
        rack = self.rack
        first = self._first(rack.counts, Counter())
        rack.bound = rack.reachable(rack.sand(), rack.weight(first))
        yield from self._keep(first)
        if not watch.stopped():
            yield from self._mixed()
        yield self.best

    def _mixed(self) -> Iterator[Mixture]:
        """What the linear programme leads to."""
        rack = self.rack
        self.programme = Programme(rack.counts, [float(rack.stocks[s].count or 0) for s in self.limited])
        for way in self.best:
            self._add(way)
        for sort in range(len(rack.counts)):
            for stock, room in enumerate(rack.rooms):
                if rack.sizes[sort] <= room:
                    most = min(room // rack.sizes[sort], rack.counts[sort])
                    self._add((stock, tuple(most if s == sort else 0 for s in range(len(rack.counts)))))
        self._columns()
        banned: set[int] = set()
        for _ in range(self.effort.dives):
            if self._over() or self.programme.solved > self.effort.programmes:
                break
            yield from self._dive(banned)
        if not self._over():
            yield from self._among_near()
        if rack.keep:
            yield from self._useful()
        if rack.keep and not self._spent(1.0):
            yield from self._most_useful()

    def _over(self) -> bool:
        return self.cost <= self.rack.bound or self._spent(0.75)

    def _spent(self, share: float) -> bool:
        return watch.stopped() or self.cells > share * self.effort.cells

    def _solve(self) -> Answer:
        self.cells += SOLVING * len(self.rack.counts) * len(self.ways)
        return self.programme.solve()

    def _knapsack(self, values: Sequence[float], sizes: Sequence[int], counts: Sequence[int], room: int) -> Knapsack:
        sack = Knapsack(values, sizes, counts, room)
        self.cells += sack.cells
        return sack

    def _keep(self, mixture: Mixture) -> Iterator[Mixture]:
        """Take it where it is cheaper, or as cheap and leaves more of use."""
        if not mixture:
            return
        cost, useful = self.rack.weight(mixture), self.rack.useful(mixture)
        if (cost, -useful) < (self.cost, -self.rack.useful(self.best)):
            self.best, self.cost = mixture, cost
            yield mixture

    def _add(self, way: Way) -> None:
        if way in self.ways:
            return
        rows = {sort: n for sort, n in enumerate(way[1]) if n}
        if way[0] in self.row:
            rows[self.row[way[0]]] = 1
        self.ways[way] = len(self.ways)
        self.programme.add(float(self.rack.weights[way[0]]), rows)

    # ---- quick plans ----

    def _first(self, counts: Sequence[int], used: Counter[int]) -> Mixture:
        """Offcuts on hand as full as can be, the rest first fit into each stock; then each stick as cheap as can be."""
        rack, left, ways = self.rack, list(counts), Counter[Way]()
        for stock in sorted(self.limited, key=lambda s: rack.rooms[s]):
            for _ in range((rack.stocks[stock].count or 0) - used[stock]):
                values = [float(size) for size in rack.sizes]
                filling = self._knapsack(values, rack.sizes, left, rack.rooms[stock]).filling(rack.rooms[stock])
                if not any(filling):
                    break
                ways[stock, tuple(filling)] += 1
                left = [n - m for n, m in zip(left, filling)]
        if not any(left):
            return ways
        longest = max(size for size, n in zip(rack.sizes, left) if n)
        mixtures = []
        for stock, room in enumerate(rack.rooms):
            if rack.stocks[stock].count is None and longest <= room:
                wanted = [Piece(str(sort), float(rack.sizes[sort]), n) for sort, n in enumerate(left) if n]
                mixture = Counter(ways)
                for cut in first_fit(wanted, float(room)):
                    taken = [0] * len(left)
                    for piece in cut.pieces:
                        taken[int(piece.name)] += piece.count
                    mixture[self._cheapest(tuple(taken))] += cut.times
                mixtures.append(mixture)
        return min(mixtures, key=lambda m: (rack.weight(m), -rack.useful(m)))

    def _cheapest(self, taken: tuple[int, ...]) -> Way:
        rack = self.rack
        size = sum(n * s for n, s in zip(taken, rack.sizes))
        fits = [s for s, room in enumerate(rack.rooms) if rack.stocks[s].count is None and size <= room]
        return min(fits, key=lambda s: (rack.weights[s], -rack.rooms[s])), taken

    # ---- the linear programme ----

    def _columns(self, to_the_end: bool = False) -> bool:
        """Ask for sticks that are worth more than they cost: until the bound is good, or there are none. True: none."""
        rack, low = self.rack, 0
        for number in range(self.effort.columns):
            if number and self._spent(0.5):
                return False
            answer = self.answer = self._solve()
            found = self._offer(answer, rack.counts)
            if rack.exact or number % SELDOM == 0 or not found:
                low = rack.reachable(self._farley(answer), self.cost)
                rack.bound = max(rack.bound, low)
            if not found:
                return True
            if not to_the_end and low >= rack.reachable(answer.value, self.cost):
                return False
        return False

    def _offer(self, answer: Answer, counts: Sequence[int]) -> int:
        rack, before = self.rack, len(self.ways)
        self._sack = self._knapsack(answer.prices, rack.sizes, counts, max(rack.rooms))
        for stock, room in enumerate(rack.rooms):
            rent = answer.prices[self.row[stock]] if stock in self.row else 0.0
            if self._sack.best[room] + rent > rack.weights[stock] + NOTHING:
                self._add((stock, tuple(self._sack.filling(room))))
        return len(self.ways) - before

    def _farley(self, answer: Answer) -> float:
        """What no mixture can beat, from prices that need not be the last: lowered until no stick is underpaid."""
        rack = self.rack
        room = max(rack.loose_rooms)
        sack = self._sack if rack.exact else self._knapsack(answer.prices, rack.loose_sizes, rack.counts, room)
        worth = [float(sack.best[room]) for room in rack.loose_rooms]
        high = max((worth[s] / w for s, w in enumerate(rack.weights) if s not in self.row and w), default=1.0)
        if any(not w and s not in self.row for s, w in enumerate(rack.weights)):
            return 0.0
        high = max(high, 1.0)
        rents = sum(min(0.0, rack.weights[s] - worth[s] / high) * (rack.stocks[s].count or 0) for s in self.limited)
        return sum(price * n for price, n in zip(answer.prices, rack.counts)) / high + rents

    def _dive(self, banned: set[int]) -> Iterator[Mixture]:
        """Settle sticks one after another; after each, fit the rest the quick way as well."""
        rack, settled = self.rack, Counter[int]()
        left, first = list(rack.counts), None
        known: list[Way] = list(self.ways)
        while not self._over() and self.programme.solved <= self.effort.programmes:
            for again in range(self.effort.deeper + 1):
                answer = self._solve()
                if again == self.effort.deeper or not self._offer(answer, left):
                    break
            known = list(self.ways)
            if rack.reachable(answer.value, self.cost) >= self.cost:
                break
            more = [
                (answer.takes[j] - settled[j], j)
                for j in range(len(answer.takes))
                if answer.takes[j] - settled[j] > NOTHING
            ]
            picks = [(j, int(x + NOTHING)) for x, j in more if x > 1 - NOTHING]
            if not picks:
                part, j = max(((x, -j) for x, j in more if j not in banned), default=(0.0, 0))
                if not part:
                    break
                picks, first = [(-j, 1)], -j if first is None else first
            for j, times in picks:
                settled[j] += times
                self.programme.settle(j, settled[j])
                left = [max(n - times * m, 0) for n, m in zip(left, known[j][1])]
            fixed = Counter({known[j]: times for j, times in settled.items()})
            used = Counter[int]()
            for way, times in fixed.items():
                used[way[0]] += times
            rest = self._first(left, used) if any(left) else Counter[Way]()
            yield from self._keep(self._trimmed(fixed + rest))
            if not any(left):
                break
        for j in settled:
            self.programme.settle(j, 0)
        if first is not None:
            banned.add(first)

    def _near(self, gap: float, short: int) -> tuple[list[Way], bool]:
        """Ways of which a mixture may consist that costs so much more than the programme's; whether these are all."""
        rack = self.rack
        ways: list[Way] = []
        for stock, room in enumerate(rack.rooms):
            self.cells += len(rack.sizes) ** 2 // 2 * room
            if self._spent(1.0):
                return ways, False
            rent = self.answer.prices[self.row[stock]] if stock in self.row else 0.0
            worth = rack.weights[stock] - rent - gap - UNSURE
            found = near_best(self.answer.prices, rack.sizes, rack.counts, room, worth, short, self.effort.steps)
            for taken in found:
                if taken is None or len(ways) > self.effort.ways:
                    return ways, False
                ways.append((stock, taken))
        return ways, True

    def _among_near(self) -> Iterator[Mixture]:
        """The cheapest mixture of all ways that a cheaper one could consist of. A proof where they were all of them."""
        rack = self.rack
        dual = self._columns(to_the_end=True)
        if self._over():
            return
        ways, all_of_them = self._near(self.cost - 1 - self.answer.value, 0)
        programme, ways = self._of(ways if all_of_them else [*self.ways], [], lambda way: float(rack.weights[way[0]]))
        whole = programme.whole(self.effort.nodes, 0.999)
        if whole.takes:
            yield from self._keep(self._trimmed(Counter({ways[j]: times for j, times in whole.takes.items()})))
        if dual and all_of_them and whole.proved and rack.exact:
            rack.bound = self.cost

    def _of(
        self, ways: Sequence[Way], limits: Sequence[float], cost: Callable[[Way], float]
    ) -> tuple[Programme, list[Way]]:
        """A programme of these ways and of the best mixture's; a further limit is one on the weight."""
        rack = self.rack
        programme = Programme(rack.counts, [*(float(rack.stocks[s].count or 0) for s in self.limited), *limits])
        chosen = list(dict.fromkeys([*self.best, *ways]))
        for way in chosen:
            rows = {sort: n for sort, n in enumerate(way[1]) if n}
            if way[0] in self.row:
                rows[self.row[way[0]]] = 1
            if limits and rack.weights[way[0]]:
                rows[len(rack.counts) + len(self.limited)] = rack.weights[way[0]]
            programme.add(cost(way), rows)
        return programme, chosen

    def _most_useful(self) -> Iterator[Mixture]:
        """Of the mixtures that cost no more, the one that leaves most of use, among ways near the prices."""
        rack = self.rack
        ways, _ = self._near(self.cost - self.answer.value, rack.keep)
        programme, ways = self._of(ways, [float(self.cost)], lambda way: -float(rack.useful({way: 1})))
        whole = programme.whole(self.effort.nodes, 0.999)
        if whole.takes:
            yield from self._keep(self._trimmed(Counter({ways[j]: times for j, times in whole.takes.items()})))

    def _trimmed(self, mixture: Mixture) -> Mixture:
        """Without the pieces that were cut more often than wanted."""
        left, trimmed = list(self.rack.counts), Counter[Way]()
        for (stock, taken), times in mixture.items():
            while times:
                kept = tuple(min(n, m) for n, m in zip(left, taken))
                if not any(kept):
                    break
                same = min([n // m for n, m in zip(left, kept) if m] + [times]) if kept == taken else 1
                left = [n - same * m for n, m in zip(left, kept)]
                trimmed[stock, kept] += same
                times -= same
        return trimmed

    # ---- what is left is of use ----

    def _useful(self) -> Iterator[Mixture]:
        """Two sticks at a time are cut anew, the first as full as can be: the waste gathers in the second."""
        for _ in range(20):
            if self._spent(1.0):
                return
            ways = sorted(self.best)
            before = self.best
            for a in ways:
                for b in ways:
                    if a != b or self.best[a] > 1:
                        again = self._gathered(a, b)
                        if again is not None:
                            yield from self._keep(again)
                    if self.best is not before or self._spent(1.0):
                        break
                if self.best is not before or self._spent(1.0):
                    break
            if self.best is before:
                return

    def _gathered(self, a: Way, b: Way) -> Mixture | None:
        rack = self.rack
        self.cells += PAIRING * (len(rack.sizes) + len(self.best))
        both = [n + m for n, m in zip(a[1], b[1])]
        values = [float(size) for size in rack.sizes]
        filling = self._knapsack(values, rack.sizes, both, rack.rooms[a[0]]).filling(rack.rooms[a[0]])
        rest = (b[0], tuple(n - m for n, m in zip(both, filling)))
        if rack.left(rest) < 0:
            return None
        mixture = self.best - Counter([a, b])
        mixture[a[0], tuple(filling)] += 1
        if any(rest[1]):
            mixture[rest] += 1
        return mixture
