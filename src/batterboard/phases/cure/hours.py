"""How warm is it, hour by hour, and what is that worth?

    air_by_hour(pour)          air from the end of placing on, for 28 days: the forecast, then its mean and swing
    placed(lift, pour)         how warm it came, as read at the trucks
    credited(air, warm, moist) what the concrete is credited with: the air, or 50 F while it is kept warm
    Clock                      ages by hour; `age` after a time, `until` an age is reached
    clocks(T)                  four published opinions on the same hours

Means of hours, never of days: the rules bend, so that a warm afternoon gives more than a cold night takes. Below its
datum a rule credits nothing, and never takes back. Hours of placing itself are left out.
"""

from bisect import bisect_left
from datetime import timedelta
from functools import cached_property, lru_cache
from math import inf
from typing import Any

import numpy as np

from batterboard.job import schema
from batterboard.quantity import Celsius, Time, hour
from batterboard.standards import astm_c1074, fhp, fib, trade
from batterboard.working import nan

HOURS = 28 * 24
WARMEST_AT = 15.0  # hour of the day: common practice
MORNING = 9.0  # hour of placing where the job has none
LEAST_KEPT: Celsius = 10.0  # 50 F: ACI 318-19 26.5.3.2, as in `aci306.kept_temperature`


def air_by_hour(pour: schema.Pour) -> Any:
    """Air temperature at the end of each hour (HOURS + 1, ...) [°C], variants last."""
    start = begins_at(pour)
    mean, swing = pour.air, pour.swing
    wave = _wave(start)
    if np.ndim(mean) or np.ndim(swing):
        wave = wave[:, None]
    air = mean + swing * wave
    if pour.weather:
        _forecast(air, pour)
    return air


def begins_at(pour: schema.Pour) -> float:
    """Hour of the day at which placing ends."""
    start = MORNING if pour.when is None else pour.when.hour + pour.when.minute / 60
    return float(start + trade.POURING / hour)


@lru_cache(8)
def _wave(start: float) -> Any:
    return np.cos(2 * np.pi / 24 * (start + np.arange(HOURS + 1) - WARMEST_AT))


def _forecast(air: Any, pour: schema.Pour) -> None:
    first = pour.weather[0].at.replace(tzinfo=None)
    begins = (first if pour.when is None else pour.when.replace(tzinfo=None)) + timedelta(seconds=trade.POURING)
    known = np.array([one.air for one in pour.weather], float)
    at = np.array([(one.at.replace(tzinfo=None) - begins).total_seconds() / hour for one in pour.weather])
    hours = np.arange(HOURS + 1)
    said = (hours >= at[0] - 0.5) & (hours <= at[-1] + 0.5)
    told = np.interp(hours[said], at, known)
    air[said] = told if air.ndim == 1 else told[:, None]


def placed(lift: int, pour: schema.Pour) -> Any:
    """Temperature of the concrete as placed: the mean of what was read at the trucks of that lift, else as planned."""
    read = [load.temperature for load in pour.loads.values() if load.lift == lift and load.temperature is not None]
    return sum(read) / len(read) if read else pour.concrete


def credited(air: Any, warm: bool, moist: Time) -> Any:
    """What is round the concrete: the air, but 50 F or more for as long as it is kept warm."""
    if not warm:
        return air
    kept = np.arange(HOURS + 1) * hour < moist
    least = np.where(kept, LEAST_KEPT, -np.inf)
    return np.maximum(air, least if air.ndim == 1 else least[:, None])


def as_read(round_it: Any, readings: list[tuple[Time, Celsius]], placed: Celsius) -> Any:
    """The concrete's own temperature as far as somebody read it, from where it was placed; then what is round it."""
    if not readings:
        return round_it
    at, read = zip(*sorted(readings))
    hours = np.arange(HOURS + 1)
    known = hours <= at[-1] / hour
    T = np.array(round_it, float)
    told = np.interp(hours[known] * hour, (0.0, *at) if at[0] > 0 else at, (placed, *read) if at[0] > 0 else read)
    T[known] = told if T.ndim == 1 else told[:, None]
    return T


class Clock:
    """Ages at the end of each hour (HOURS + 1, ...) [s], and how fast they go on after that."""

    def __init__(self, rate: Any) -> None:
        """rate : age gained by time, in each hour."""
        self.ages = np.empty((len(rate) + 1, *rate.shape[1:]))
        self.ages[0] = 0.0
        np.cumsum(rate, axis=0, out=self.ages[1:])
        self.ages *= hour
        self.last = len(rate)
        after = rate[-24:].sum(axis=0) / min(24, self.last)
        self.after: Any = after if np.ndim(after) else float(after)

    @cached_property
    def line(self) -> list[float] | None:
        """The ages of one job as plain numbers, which are quicker to look up one by one."""
        return None if self.ages.ndim > 1 else self.ages.tolist()

    def age(self, t: Time) -> Any:
        """Age after the time t. Broadcasts over variants."""
        if self.line is not None and isinstance(t, float):
            return _age(self.line, self.after, t / hour)
        x = np.asarray(t, float) / hour
        i = np.clip(np.nan_to_num(x, nan=0.0, posinf=self.last), 0, self.last - 1).astype(int)
        low, high = (_pick(self.ages, i + k) for k in (0, 1))
        with np.errstate(invalid="ignore"):
            inside = low + (high - low) * (x - i)
            beyond = self.ages[-1] + self.after * (x - self.last) * hour
        return np.where(x <= self.last, inside, beyond)[()]

    def until(self, age: Time) -> Any:
        """Time at which an age is reached; never is inf, and nan stays nan."""
        if self.line is not None and isinstance(age, float):
            return _until(self.line, self.after, age)
        ages, wanted = self.ages, np.asarray(age, float)
        i = np.searchsorted(ages, wanted) if ages.ndim == 1 else (ages < wanted).sum(axis=0)
        i = np.clip(i, 1, self.last)
        low, high = (_pick(ages, i + k) for k in (-1, 0))
        with np.errstate(invalid="ignore", divide="ignore"):
            inside = (i - 1 + (wanted - low) / (high - low)) * hour
            beyond = self.last * hour + (wanted - ages[-1]) / self.after
        t = np.where(wanted <= ages[-1], inside, beyond)
        return np.where(wanted <= 0, 0.0, t)[()]


def _age(line: list[float], after: float, x: float) -> float:
    last = len(line) - 1
    if not x <= last:
        return line[-1] + after * (x - last) * hour if x < inf or after > 0 else nan
    i = min(max(int(x), 0), last - 1)
    return line[i] + (line[i + 1] - line[i]) * (x - i)


def _until(line: list[float], after: float, age: float) -> float:
    if age <= 0:
        return 0.0
    last = len(line) - 1
    if age <= line[-1]:
        i = bisect_left(line, age)
        return (i - 1 + (age - line[i - 1]) / (line[i] - line[i - 1])) * hour
    if age != age:
        return nan
    return last * hour + (age - line[-1]) / after if after > 0 else inf


def _pick(ages: Any, i: Any) -> Any:
    return ages[i] if ages.ndim == 1 else np.take_along_axis(ages, np.broadcast_to(i, ages.shape[1:])[None], 0)[0]


# The same hours by four published opinions, each at the temperature that its strength curve is for, in the order of
# NAMES. The first two are both of ASTM C1074; the temperature-time factor counts over the reference's own.
Clocks = tuple[Clock, Clock, Clock, Clock]
NAMES = (
    f"ASTM C1074 equivalent age (Q = {astm_c1074.Q:g} K, {astm_c1074.REFERENCE:g} °C)",
    f"ASTM C1074 temperature-time (datum {astm_c1074.DATUM:g} °C)",
    "Freiesleben Hansen and Pedersen's age",
    "EN 1992-1-1 and fib",
)


def clocks(T: Any) -> Clocks:
    """T : temperature at the end of each hour; its mean in each hour is what counts."""
    mean = (T[1:] + T[:-1]) / 2
    k, c, f, e = rates(mean)
    return Clock(k), Clock(c), Clock(f), Clock(e)


def rates(T: Celsius) -> tuple[Any, Any, Any, Any]:
    """Age gained by time at T, by each opinion, at 23 °C and for the last at 20 °C."""
    reference = astm_c1074.REFERENCE
    return (
        astm_c1074.age_factor(T, reference, astm_c1074.Q),
        astm_c1074.credit(T, astm_c1074.DATUM) / astm_c1074.credit(reference, astm_c1074.DATUM),
        fhp.age_factor(T) / _danish_reference(),
        fib.age_factor(T),
    )


@lru_cache(1)
def _danish_reference() -> float:
    return float(fhp.age_factor(astm_c1074.REFERENCE))
