"""How are panels laid on sheets, so that few sheets are bought and what is left is of use?

    for plan in search(panels, sheets, kerf=0.003175):      better and better plans; the first one at once
        show(plan)                                          stop whenever it is good enough

Every plan is sawable by cuts from edge to edge, in at most `stages` stages. It costs the least found, then uses the
fewest sheets, then leaves the largest offcut in one piece. `plan.bound` is what no plan can beat.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import gcd
from typing import Literal

from batterboard.methods.cutting import watch
from batterboard.methods.cutting.bounds import Stuff, least_weight
from batterboard.methods.cutting.covers import Column, Cover, Effort, Filled
from batterboard.methods.cutting.plans import Layout, Panel, Place, Sheet, SheetPlan
from batterboard.methods.cutting.strips import Kind, Taste, fill

GRAIN = 1e-9  # lengths are counted in whole nanometres, so that a sum of fractions of an inch is exact
CENTS = 100
UNLIMITED = 99

First = Literal["rip", "crosscut", "either"]


def search(
    panels: Sequence[Panel],
    sheets: Sequence[Sheet],
    *,
    kerf: float = 0.0,
    trim: float = 0.0,
    stages: int | None = 3,
    first: First = "either",
    effort: Effort | None = None,
) -> Iterator[SheetPlan]:
    """Better and better plans. `trim` is lost along every edge; a rip runs along the sheet's length."""
    job = _Job(panels, sheets, kerf, trim, stages, first)
    if not job.counts:
        yield SheetPlan((), 0.0, 0.0, job.left_out)
        return
    cover = job.cover(effort or Effort())
    for columns in cover.search():
        yield job.plan(job.chosen(columns, cover.layouts))
    yield job.plan(job.tidied(job.chosen(cover.best, cover.layouts)))


def best(
    panels: Sequence[Panel],
    sheets: Sequence[Sheet],
    *,
    kerf: float = 0.0,
    trim: float = 0.0,
    stages: int | None = 3,
    first: First = "either",
    effort: Effort | None = None,
    name: str = "",
) -> SheetPlan:
    """The last plan of the search; the best so far where it is stopped by hand. `name`: what is cut."""
    for plan in search(panels, sheets, kerf=kerf, trim=trim, stages=stages, first=first, effort=effort):
        watch.found(name, plan.cost, plan.bound)
    return replace(plan, stopped=watch.stopped() and not plan.proved)


class _Job:
    """The question in whole numbers: kerf added to every piece and sheet, equal panels together."""

    def __init__(
        self,
        panels: Sequence[Panel],
        sheets: Sequence[Sheet],
        kerf: float,
        trim: float,
        stages: int | None,
        first: First,
    ) -> None:
        if not any(sheet.count is None for sheet in sheets):
            raise ValueError("say which sheet is bought when those on hand are used up")
        self.sheets, self.trim, self.kerf = sheets, trim, _whole(kerf)
        self.stages = stages or UNLIMITED
        self.sizes = [(_whole(s.length - 2 * trim) + self.kerf, _whole(s.width - 2 * trim) + self.kerf) for s in sheets]
        bought = [size for size, sheet in zip(self.sizes, sheets) if sheet.count is None]
        alike: dict[tuple[int, int, bool], list[Panel]] = {}
        left_out = []
        for panel in panels:
            l, w = _whole(panel.length) + self.kerf, _whole(panel.width) + self.kerf
            fits = any(l <= L and w <= W or panel.turn and w <= L and l <= W for L, W in bought)
            if not fits:
                left_out.append(panel.name)
            elif panel.count:
                alike.setdefault((l, w, panel.turn and l != w), []).append(panel)
        self.left_out = tuple(left_out)
        self.pieces = list(alike)
        self.named = [tuple(same) for same in alike.values()]
        self.counts = [sum(panel.count for panel in same) for same in self.named]
        ways = {"rip": (False,), "crosscut": (True,), "either": (False, True)}[first]
        self.kinds = [kind for number in range(len(sheets)) for kind in self._kinds(number, ways)]
        self.sorts = list(dict.fromkeys(self.kinds))
        n = sum(self.counts) + 1
        prices = [round(sheet.price * CENTS) for sheet in sheets]
        shared = gcd(*prices) or 1
        self.weights = [price // shared * n + 1 for price in prices]  # cost first, then the number of sheets
        self.price = shared / CENTS  # of one step of the price in a weight
        self.bound = self._bound() if self.counts else 0

    def _kinds(self, number: int, ways: tuple[bool, ...]) -> Iterator[Kind]:
        """Both directions of the first cuts, by turns; now and then all pieces laid the long way, or the short way."""
        length, width = self.sizes[number]
        turning = any(turn for _, _, turn in self.pieces)
        for laid in (None, None, None, -1, None, 0) if turning else (None,):
            for across in ways:
                options = []
                for l, w, turn in self.pieces:
                    lies = [(l, w), (w, l)] if turn else [(l, w)]
                    lies = [lie for lie in lies if lie[0] <= length and lie[1] <= width]
                    lies = [lie[::-1] for lie in lies] if across else lies
                    options.append(tuple(lies if laid is None or not lies else [sorted(lies)[laid]]))
                some = [lie for lies in options for lie in lies]
                if some:
                    least = (min(lie[0] for lie in some), min(lie[1] for lie in some))
                    L, W = (width, length) if across else (length, width)
                    yield Kind(number, L, W, tuple(options), across, least)

    def cover(self, effort: Effort) -> Cover:
        limits = [sheet.count for sheet in self.sheets]
        return Cover(self.kinds, self.counts, self.weights, limits, self.stages, self.bound, gcd(*self.weights), effort)

    def _bound(self) -> int:
        stuffs = [Stuff(*self.sizes[s], self.weights[s], sheet.count) for s, sheet in enumerate(self.sheets)]
        sides, turn = [(l, w) for l, w, _ in self.pieces], [t for _, _, t in self.pieces]
        return least_weight(stuffs, sides, self.counts, turn)

    def chosen(self, columns: Sequence[Column], layouts: dict[Column, Filled]) -> list[Filled]:
        """The layouts without the pieces that were covered twice."""
        left = Counter(dict(enumerate(self.counts)))
        made = []
        for column in columns:
            filled = layouts[column]
            kept = []
            for taken in filled.taken:
                if left[taken[0]]:
                    left[taken[0]] -= 1
                    kept.append(taken)
            if len(kept) < len(filled.taken):
                filled = Filled(filled.kind, tuple(kept), filled.free)
            if kept:
                made.append(filled)
        return made

    def tidied(self, made: list[Filled]) -> list[Filled]:
        """The same sheets with a larger offcut: the emptiest is filled anew, also together with each of the others."""
        if not made or watch.stopped():
            return made
        made = sorted(made, key=lambda filled: -_share(filled))
        last = made[-1]
        last = max((last, *self._refilled([t[0] for t in last.taken], last)), key=_largest)
        for number, other in enumerate(made[:-1]):
            if watch.stopped():
                break
            both = [t[0] for t in other.taken] + [t[0] for t in last.taken]
            for full, over in self._refits(both, other):
                if self._area(over) < self._area([t[0] for t in last.taken]):  # less is left for the emptiest
                    again = max(self._refilled(over, last), key=_largest, default=last)
                    if _largest(again) > _largest(last):
                        made[number], last = full, again
        return [*made[:-1], last]

    def _area(self, pieces: Sequence[int]) -> int:
        return sum(self.pieces[piece][0] * self.pieces[piece][1] for piece in pieces)

    def _of_sheet(self, sheet: int) -> list[Kind]:
        return [kind for kind in self.sorts if kind.sheet == sheet]

    def _refits(self, pieces: list[int], like: Filled) -> Iterator[tuple[Filled, list[int]]]:
        for kind in self._of_sheet(like.kind.sheet):
            for order in _orders(pieces, kind):
                taken, over, free, _ = fill(order, kind, self.stages, Taste())
                yield Filled(kind, tuple(taken), tuple(free)), over

    def _refilled(self, pieces: list[int], like: Filled) -> Iterator[Filled]:
        for kind in self._of_sheet(like.kind.sheet):
            for order in _orders(pieces, kind):
                for strip in (-0.3, 0.3, 1.0):
                    taken, over, free, _ = fill(order, kind, self.stages, Taste(strip, 0.6))
                    if not over and taken:
                        yield Filled(kind, tuple(taken), tuple(free))

    def plan(self, made: Sequence[Filled]) -> SheetPlan:
        left = [[panel for panel in reversed(same) for _ in range(panel.count)] for same in self.named]
        times = Counter(self._layout(filled, left) for filled in made)
        layouts = [replace(layout, times=many) for layout, many in times.items()]
        cost = sum(layout.sheet.price * layout.times for layout in layouts)
        return SheetPlan(tuple(layouts), cost, self._cost(self.bound), self.left_out)

    def _cost(self, weight: int) -> float:
        """Money of a weight: what counts the sheets is taken off again."""
        return weight // (sum(self.counts) + 1) * self.price

    def _layout(self, filled: Filled, left: list[list[Panel]]) -> Layout:
        sheet, across = self.sheets[filled.kind.sheet], filled.kind.across
        places = []
        for piece, x, y, l, w in filled.taken:
            if across:
                x, y, l, w = y, x, w, l
            panel = left[piece].pop()
            turned = (l, w) != self.pieces[piece][:2]
            sides = (panel.width, panel.length) if turned else (panel.length, panel.width)
            places.append(Place(panel.name, x * GRAIN + self.trim, y * GRAIN + self.trim, *sides, turned))
        offcut = max(filled.free, key=lambda f: f[0] * f[1], default=(0, 0, 0, 0, 0))
        along, wide = (offcut[1], offcut[0]) if across else (offcut[0], offcut[1])
        size = (max(along - self.kerf, 0) * GRAIN, max(wide - self.kerf, 0) * GRAIN)
        return Layout(sheet, 1, tuple(places), size)


def _whole(length: float) -> int:
    return round(length / GRAIN)


def _share(filled: Filled) -> float:
    return sum(t[3] * t[4] for t in filled.taken) / filled.kind.area


def _largest(filled: Filled) -> int:
    return max((f[0] * f[1] for f in filled.free), default=0)


def _orders(pieces: list[int], kind: Kind) -> Iterator[list[int]]:
    def side(piece: int, which: int) -> int:
        return max((lie[which] for lie in kind.options[piece]), default=0)  # nothing, where it lies on none of these

    yield sorted(pieces, key=lambda i: (-side(i, 1), -side(i, 0), i))
    yield sorted(pieces, key=lambda i: (-side(i, 0), -side(i, 1), i))
    yield sorted(pieces, key=lambda i: (-side(i, 0) * side(i, 1), i))
