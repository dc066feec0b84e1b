"""How strong is one body's concrete at an age, and when has it a strength? A band, not a line.

    Ageing.strengths(t)    by each published function, cylinders heeded
    Ageing.reached(f)      when it has the strength f: by the quickest, and by the slowest

The strength that the curves start from is what is ordered, less what the added water took. Where cylinders were broken,
each curve passes them as near as it can, by one number, least squares: the American ones are stretched, as if all
strength were so much more or less; the European one is hastened or slowed, as if only its gain were. The truth lies
between, and so the band stays one.
"""

from collections.abc import Iterable
from typing import Any

import numpy as np

from batterboard.job import schema
from batterboard.phases.concrete import Mix
from batterboard.phases.cure.hours import Clock, Clocks, rates
from batterboard.quantity import Pressure, Time, day
from batterboard.standards import aci209, astm_c1074, fib
from batterboard.working import maximum, minimum

QUICKEST = 0.05  # no cement gains its strength with a smaller s
LATE = 0.1  # of (1 - sqrt(28 d/t)): nearer to 28 days cylinders say nothing of the pace


class Ageing:
    """One mix in one lift."""

    def __init__(self, mix: Mix, f_28: Pressure, T: Any, clocks: Clocks, breaks: Iterable[schema.Break] = ()) -> None:
        self.mix, self.f_28, self.T, self.clocks = mix, f_28, T, clocks
        self._known: dict[float, tuple[Any, Any]] = {}
        self.s = fib.cement(mix.cement).s
        self.breaks = tuple(breaks)
        self.stretch: tuple[Any, ...] = (1.0, 1.0, 1.0, 1.0)
        if self.breaks:
            pace = _pace(self)
            american = tuple(_stretch(self, i) for i in range(3))
            self.stretch = (*american, 1.0 if pace is not None else _stretch(self, 3))
            self.s = self.s if pace is None else pace

    def strengths(self, t: Time) -> tuple[Any, ...]:
        """By each of the functions."""
        return tuple(self._strength(i, one.age(t)) for i, one in enumerate(self.clocks))

    def least(self, t: Time) -> Any:
        a, b, c, d = self.strengths(t)
        return minimum(minimum(a, b), minimum(c, d))

    def reached(self, f: Pressure) -> tuple[Any, Any]:
        """When it has the strength f, by the quickest and by the slowest; nan where one of them says never."""
        known = self._known.get(f) if isinstance(f, float) else None
        if known is None:
            a, b, c, d = (one.until(self._age_of(i, f)) for i, one in enumerate(self.clocks))
            known = minimum(minimum(a, b), minimum(c, d)), maximum(maximum(a, b), maximum(c, d))
            if isinstance(f, float):
                self._known[f] = known
        return known

    def until(self, t: Time, at: Any) -> Any:
        """When it is as old as after the time t at one temperature, by the slowest. at : rates there, see `rates`."""
        a, b, c, d = (one.until(t * rate) for one, rate in zip(self.clocks, at))
        return maximum(maximum(a, b), maximum(c, d))

    def laboratory(self) -> Clocks:
        """Of cylinders that stand moist at 73 F."""
        return _laboratory()

    def along(self, t: Any, T: Any) -> Any:
        """Least strength along a course of temperatures of its own."""
        every = []
        for i, rate in enumerate(rates((T[1:] + T[:-1]) / 2)):
            age = np.concatenate([[0.0], np.cumsum(rate * np.diff(t))])
            every.append(self._strength(i, age))
        return np.min(every, axis=0)

    def _strength(self, i: int, age: Time) -> Any:
        f = self.f_28 * self.stretch[i]
        if i < 3:
            return aci209.strength_gain(f, age, self.mix.gain_a, self.mix.gain_b)
        return f * fib.share(maximum(age, 1.0), self.s)  # nothing yet in the first second

    def _age_of(self, i: int, f: Pressure) -> Any:
        whole = self.f_28 * self.stretch[i]
        if i < 3:
            return aci209.age_of_strength(f, whole, self.mix.gain_a, self.mix.gain_b)
        return fib.age_of_share(f / whole, self.s)


def _pace(ageing: Ageing) -> Any:
    """The coefficient s with which the European curve passes nearest to the cylinders; None where all are late."""
    over: Any = 0.0
    under: Any = 0.0
    for one in ageing.breaks:
        here = ageing.clocks[3] if one.cured == "on site" else _laboratory()[3]
        x = 1 - np.sqrt(28 * day / maximum(here.age(one.after), 1.0))
        if np.all(np.abs(x) < LATE):
            continue
        over, under = over + x * np.log(one.strength / ageing.f_28), under + x * x
    return None if np.ndim(under) == 0 and under == 0 else np.maximum(over / under, QUICKEST)


def _stretch(ageing: Ageing, i: int) -> Any:
    """Over the curve as it would be without cylinders, the factor that brings it nearest to them."""
    over: Any = 0.0
    under: Any = 0.0
    for one in ageing.breaks:
        here: Clock = ageing.clocks[i] if one.cured == "on site" else _laboratory()[i]
        forecast = ageing._strength(i, here.age(one.after))
        over, under = over + forecast * one.strength, under + forecast * forecast
    return over / under


def _laboratory() -> Clocks:
    hours = np.full(4, astm_c1074.REFERENCE)
    a, b, c, d = (Clock(np.asarray(rate)) for rate in rates(hours))
    return a, b, c, d
