"""Does it hold?

    @check("Soil under the pad", clause=IBC_2021.table("1806.2"), of=Pressure)
    def bearing(pad, load, soil): return demand(q), capacity(soil.bearing)

    Check : demand and capacity as arrays (case, variant), clause, the things it is about, its working on request

It holds only if demand and capacity are finite, demand >= 0, capacity > 0 and demand <= capacity. A nan says "outside
the limits" and sorts first. The key is (function, every thing in its signature), the same when planned and when found.
"""

import math
from collections.abc import Callable, Iterable
from functools import cached_property
from typing import Any, Literal

import numpy as np

from batterboard.quantity import Dimension, dimension_of
from batterboard.record import ordered
from batterboard.working.formula import Step, recording
from batterboard.working.source import Source

Verdict = Literal["holds", "fails", "outside"]


@ordered
class Side:
    """Demand or capacity, with words where the number alone would mislead."""

    value: Any
    note: str = ""


def demand(value: Any, note: str = "") -> Side:
    return Side(value, note)


def capacity(value: Any, note: str = "") -> Side:
    return Side(value, note)


@ordered
class Check:
    """One question answered, for one job or for V variants of it."""

    key: tuple[str, ...]  # function, then the names of the things it is about
    title: str
    clause: Source
    dimension: Dimension
    service: bool
    demand: Any  # (C, V), (C, 1), (V,) or a number
    capacity: Any
    cases: tuple[str, ...]  # names of the case axis, () where there is none
    note: str
    again: Callable[[], Any]

    @property
    def name(self) -> str:
        return self.key[0]

    @property
    def element(self) -> str:
        """The thing it is first of all about."""
        return self.key[1] if len(self.key) > 1 else ""

    @cached_property
    def _by_case(self) -> tuple[Any, Any]:
        d, c = np.broadcast_arrays(np.asarray(self.demand, float), np.asarray(self.capacity, float))
        return d, c

    @cached_property
    def _ratios(self) -> Any:
        """Demand over capacity; inf where either makes no sense, nan outside the limits."""
        d, c = self._by_case
        with np.errstate(all="ignore"):
            ratio = np.where((c > 0) & (d >= 0) & np.isfinite(d), d / c, np.inf)
        return np.where(np.isnan(d) | np.isnan(c), np.nan, ratio)

    @cached_property
    def governing(self) -> Any:
        """Index of the worst case: the first outside the limits, else the largest ratio. Shape (V,) or ()."""
        if not self.cases:
            return np.zeros(self._ratios.shape, int)
        return np.argmax(np.where(np.isnan(self._ratios), np.inf, np.minimum(self._ratios, 1e300)), axis=0)

    def _at_governing(self, values: Any) -> Any:
        if not self.cases:
            return values
        return np.take_along_axis(values, self.governing[None], axis=0)[0]

    @cached_property
    def _plain(self) -> tuple[float, float] | None:
        """Both sides where they are one number each, as in most checks of one job: no arrays needed."""
        plain = not self.cases and isinstance(self.demand, (float, int)) and isinstance(self.capacity, (float, int))
        return (float(self.demand), float(self.capacity)) if plain else None

    @cached_property
    def ratio(self) -> Any:
        if self._plain:
            d, c = self._plain
            return math.nan if d != d or c != c else d / c if c > 0 and 0 <= d < math.inf else math.inf
        return _alone(self._at_governing(self._ratios))

    @cached_property
    def holds(self) -> Any:
        if self._plain:
            d, c = self._plain
            return 0 <= d <= c < math.inf and c > 0
        d, c = self._by_case
        ok = np.isfinite(d) & np.isfinite(c) & (d >= 0) & (c > 0) & (d <= c)
        return _alone(ok.all(axis=0) if self.cases else ok)

    @property
    def verdict(self) -> Verdict:
        """Of one job; a batch is judged by `holds`."""
        if math.isnan(self.ratio):
            return "outside"
        return "holds" if self.holds else "fails"

    @property
    def worst_demand(self) -> Any:
        return _alone(self._at_governing(self._by_case[0]))

    @property
    def worst_capacity(self) -> Any:
        return _alone(self._at_governing(self._by_case[1]))

    @property
    def case(self) -> str:
        return self.cases[int(np.ravel(self.governing)[0])] if self.cases else ""

    @property
    def at(self) -> tuple[int, ...]:
        """Index of the governing case of the first variant, for the page."""
        return (int(np.ravel(self.governing)[0]), 0) if self.cases else (0,)

    @cached_property
    def steps(self) -> list[Step]:
        """The formulas that were called, read while they ran."""
        with recording() as steps:
            self.again()
        return steps


def _alone(values: Any) -> Any:
    """A plain number or truth where there is only one variant."""
    return values.item() if np.size(values) == 1 else values


def check(
    title: str, *, clause: Source, of: Any, service: bool = False
) -> Callable[[Callable[..., Any]], Callable[..., Check]]:
    """Make a function of things into one that answers with a Check. A third result is a note for the page."""
    dimension = dimension_of(of)

    def decorate(function: Callable[..., Any]) -> Callable[..., Check]:

        def ask(*things: Any) -> Check:
            def again() -> Any:
                return function(*things)

            asked, given, *rest = again()
            labels = next((t.cases for t in things if getattr(t, "cases", ())), ())
            key = (function.__name__, *(t.name for t in things if getattr(t, "name", "")))
            note = " ".join(part for part in (*rest, asked.note, given.note) if part)
            values = (asked.value, given.value)
            if labels and max(np.ndim(v) for v in values) < 2:
                labels = ()
            whole = ", ".join((title, *_said_once(key[1:])))
            return Check(key, whole, clause, dimension, service, *values, labels, note, again)

        ask.__name__, ask.__doc__ = function.__name__, function.__doc__
        return ask

    return decorate


def _said_once(names: tuple[str, ...]) -> list[str]:
    """The things it is about, without those that another one names: west in west pad."""
    every = dict.fromkeys(names)
    return [n for n in every if not any(n != other and n in other.split() for other in every)]


def worst_first(*groups: Iterable[Check], hung: bool = False) -> tuple[Check, ...]:
    """Outside the limits, failing, holding; in each, service before strength where a leaf hangs; then by ratio."""
    every = [c for group in groups for c in group]

    def order(c: Check) -> tuple[int, int, float]:
        rank = {"outside": 0, "fails": 1, "holds": 2}[c.verdict]
        return rank, int(hung and not c.service), -c.ratio if c.ratio == c.ratio else 0.0

    return tuple(sorted(every, key=order))
