"""What is asked of the saw, in whole numbers: equal lengths together, kerf added to every piece and stock.

    way     : (0, (2, 0, 1))       out of stock 0: two of the longest pieces, one of the third
    mixture : {way: 3, ...}        how often each way

With the kerf added to both no cut is left to think of: n pieces and n kerfs fit where n pieces and n - 1 kerfs did.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from math import ceil, gcd

from batterboard.methods.cutting.first import Piece
from batterboard.methods.cutting.plans import LengthPlan, Stick, Stock

GRAIN = 1e-9  # lengths are counted in whole nanometres, so that a sum of fractions of an inch is exact
CELLS = 30_000  # lengths without a common measure are rounded to so many in the longest stock, pieces up, stock down
FINER = 10  # cells of the bound: what only just does not fit would spoil it
FEWEST = 2_000  # where there are many lengths
MANY = 2_000_000  # cells of all lengths together
SUMS = 10_000_000  # of prices, in steps: whether one can be reached is not asked beyond that
CENTS = 100
NOTHING = 1e-6

Way = tuple[int, tuple[int, ...]]
Mixture = Counter[Way]


class Rack:
    """The question in whole numbers: kerf added to every piece and stock, equal lengths together, longest first."""

    def __init__(self, pieces: Sequence[Piece], stocks: Sequence[Stock], kerf: float, keep: float) -> None:
        if not any(stock.count is None for stock in stocks):
            raise ValueError("say which stock is bought when the offcuts on hand are used up")
        self.stocks, self.kerf = stocks, kerf
        longest = max(stock.length for stock in stocks if stock.count is None)
        alike: dict[int, list[Piece]] = {}
        for piece in pieces:
            if piece.count and _whole(piece.length) <= _whole(longest):
                alike.setdefault(_whole(piece.length), []).append(piece)
        self.left_out = tuple(p.name for p in pieces if p.count and _whole(p.length) > _whole(longest))
        self.lengths = sorted(alike, reverse=True)
        self.named = [alike[length] for length in self.lengths]
        self.counts = [sum(piece.count for piece in same) for same in self.named]
        saw = _whole(kerf)
        sizes = [length + saw for length in self.lengths]
        rooms = [_whole(stock.length) + saw for stock in stocks]
        much, cells, self.exact = _measure(sizes, rooms, _whole(longest) + saw)
        self.unit = much / cells
        self.sizes = [-(-size * cells // much) for size in sizes]
        self.rooms = [room * cells // much for room in rooms]
        fine = cells if self.exact else FINER * cells
        self.loose_sizes = [size * fine // much for size in sizes]  # for a bound that rounding cannot spoil
        self.loose_rooms = [-(-room * fine // much) for room in rooms]
        self.keep = -(-(_whole(keep) + saw) * cells // much) if keep else 0  # room left over, kerf of its cut included
        prices = [round(stock.price * CENTS) for stock in stocks]
        self.shared = gcd(*prices) or 1
        self.weights = [price // self.shared for price in prices]
        self._left: dict[Way, int] = {}
        self.bound = 0  # no mixture weighs less; the search raises it

    def weight(self, mixture: Mapping[Way, int]) -> int:
        return sum(self.weights[stock] * times for (stock, _), times in mixture.items())

    def left(self, way: Way) -> int:
        if way not in self._left:
            self._left[way] = self.rooms[way[0]] - sum(n * size for n, size in zip(way[1], self.sizes))
        return self._left[way]

    def useful(self, mixture: Mapping[Way, int]) -> int:
        """Room in offcuts long enough to keep."""
        if not self.keep:
            return 0
        return sum(left * times for way, times in mixture.items() if (left := self.left(way)) >= self.keep)

    def sand(self) -> float:
        """What they weigh at the best price for length: no mixture weighs less. What is on hand is free."""
        wanted = sum(n * size for n, size in zip(self.counts, self.loose_sizes))
        hand = sum((stock.count or 0) * room for stock, room in zip(self.stocks, self.loose_rooms))
        rates = [w / r for w, r, stock in zip(self.weights, self.loose_rooms, self.stocks) if stock.count is None]
        return max(wanted - hand, 0) * min(rates)

    def reachable(self, least: float, most: int) -> int:
        """The smallest sum of prices that is not below `least`."""
        if most > SUMS:
            return max(ceil(least - NOTHING), 0)
        sums, every = 1, (1 << (most + 1)) - 1
        for stock, weight in zip(self.stocks, self.weights):
            if not weight:
                continue
            times = most // weight if stock.count is None else min(stock.count, most // weight)
            step = 1
            while times > 0:
                step = min(step, times)
                sums |= (sums << (weight * step)) & every
                times -= step
                step *= 2
        start = max(ceil(least - NOTHING), 0)
        above = sums >> start
        return start + (above & -above).bit_length() - 1 if above else most

    def plan(self, mixture: Mapping[Way, int]) -> LengthPlan:
        left = [[(piece, piece.count) for piece in reversed(same)] for same in self.named]
        sticks: list[Stick] = []
        for way in sorted(mixture, key=lambda way: (self.left(way), way)):
            stock = self.stocks[way[0]]
            for _ in range(mixture[way]):
                pieces = tuple(one for sort, count in enumerate(way[1]) for one in _taken(left[sort], count))
                n = sum(piece.count for piece in pieces)
                spent = sum(piece.length * piece.count for piece in pieces) + n * self.kerf
                stick = Stick(stock, 1, pieces, max(stock.length - spent, 0.0))
                if sticks and sticks[-1].stock == stock and sticks[-1].pieces == pieces:
                    stick = Stick(stock, sticks.pop().times + 1, pieces, stick.left)
                sticks.append(stick)
        kept = self.keep * self.unit * GRAIN - self.kerf
        useful = sum(s.left * s.times for s in sticks if self.keep and s.left >= kept - 1e-9)
        cost = sum(stick.stock.price * stick.times for stick in sticks)
        bound = cost if self.weight(mixture) <= self.bound else self.bound * self.shared / CENTS
        return LengthPlan(tuple(sticks), cost, bound, useful, self.left_out)


def _measure(sizes: Sequence[int], rooms: Sequence[int], longest: int) -> tuple[int, int, bool]:
    """So much length is so many cells: few enough, and whole in the stocks, that a piece as long as one fits it.

    Whether all lengths are whole then.
    """
    common, of_rooms = gcd(*sizes, *rooms), gcd(*rooms)
    most = max(min(CELLS, MANY // max(len(sizes), 1)), FEWEST)
    if max(rooms) // common <= CELLS:
        return common, 1, True
    if max(rooms) // of_rooms <= most:
        return of_rooms, most // (max(rooms) // of_rooms), False
    return longest, most * longest // max(rooms), False


def _taken(left: list[tuple[Piece, int]], count: int) -> list[Piece]:
    """The next so many pieces of a sort, taken off what is left of them."""
    taken = []
    while count:
        piece, there = left.pop()
        some = min(count, there)
        taken.append(Piece(piece.name, piece.length, some))
        count -= some
        if there > some:
            left.append((piece, there - some))
    return taken


def _whole(length: float) -> int:
    return round(length / GRAIN)
