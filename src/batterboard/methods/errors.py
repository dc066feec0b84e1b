"""How far off can a place be, when it is measured this way with these tools?

    error   : one independent cause with its standard deviation      "tape.scale" 1e-4, "west.along.mark" 1/32 in
    vector  : all the errors of a job, each by its name               a tape used twice stands in it once
    place   : a function of the vector, written once                  errors -> x and y of four bolts
    spread  : what the place is when all errors are zero, how it moves with each, its covariance

A place takes a mapping from each error's name to an array over cases and gives its quantities, items first and
cases last. Nominal value, derivatives and samples are all calls of that one function, so nothing is derived by hand
and what two things share cancels by itself. Variants, where standard deviations or the place have them, come behind
the cases: (items, cases, variants).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from batterboard.quantity import Angle, Length, Number
from batterboard.record import ordered

Array = NDArray[np.float64]
Errors = Mapping[str, Array]
Place = Callable[[Errors], Iterable[ArrayLike]]

_STILL = 1e-6  # how far an error is moved that has no finite standard deviation of its own to move by


@dataclass(frozen=True, eq=False)
class ErrorVector:
    """Independent elementary errors and their standard deviations, each a number or an array of variants.

    An infinite one marks an unknown about which nothing was known before: only `adjust` can deal with it.
    """

    sigmas: Mapping[str, ArrayLike] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for name, sigma in self.sigmas.items():
            if not (sigma >= 0 if type(sigma) is float else np.all(np.asarray(sigma) >= 0)):
                raise ValueError(f"the standard deviation of {name} must be zero or more, not {sigma!r}")

    def __or__(self, other: ErrorVector) -> ErrorVector:
        """Both together. An error they share must be the same error."""
        for name in self.sigmas.keys() & other.sigmas.keys():
            if not np.array_equal(self.sigmas[name], other.sigmas[name]):
                raise ValueError(
                    f"{name} has two standard deviations: {self.sigmas[name]!r} and {other.sigmas[name]!r}"
                )
        return ErrorVector({**self.sigmas, **other.sigmas})

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(self.sigmas)

    @property
    def sigma(self) -> Array:
        """(errors, ...variants)"""
        return np.array(np.broadcast_arrays(*self.sigmas.values()), float) if self.sigmas else np.zeros(0)


def rounding(mark: Length) -> Length:
    """Standard deviation of what is read or set to the nearest mark."""
    return mark / np.sqrt(12)


@ordered
class Spread:
    """A place and how sure it is."""

    names: tuple[str, ...]  # of the errors
    nominal: Array  # (items, ...)
    jacobian: Array  # (items, errors, ...)
    covariance: Array  # (items, items, ...)
    share: Array  # of each error in each quantity's variance (items, errors, ...): sums to one, or is all zero

    @property
    def sigma(self) -> Array:
        """Standard deviation of each quantity (items, ...)."""
        variance: Array = np.einsum("ii...->i...", self.covariance)
        return np.sqrt(variance)


def propagate(place: Place, errors: ErrorVector) -> Spread:
    """Nominal value, derivatives and covariance from one call of the place, with 2 n + 1 cases for n errors."""
    nominal, jacobian = _linear(place, errors, np.zeros(errors.sigma.shape))
    parts = jacobian * errors.sigma
    variance = np.sum(parts**2, axis=1, keepdims=True)
    share = np.divide(parts**2, variance, out=np.zeros_like(parts), where=variance > 0)
    return Spread(errors.names, nominal, jacobian, np.einsum("ik...,jk...->ij...", parts, parts), share)


def sample(place: Place, errors: ErrorVector, count: int, seed: int) -> Array:
    """The place in `count` simulated jobs (items, count, ...), all errors normal.

    Each error draws from the seed and its own name: what else is in the vector does not change its draws, so that
    two ways of doing a job are compared on the same luck.
    """
    sigma = errors.sigma
    drawn = np.stack([_drawn(name, count, seed) for name in errors.names]) if len(sigma) else np.empty((0, count))
    return _placed(place, errors.names, sigma[:, None] * drawn.reshape(*drawn.shape, *(1,) * (sigma.ndim - 1)))


def scatter(nominal: Array, jacobian: Array, errors: ErrorVector, count: int, seed: int) -> Array:
    """A place that is straight in its errors, in `count` simulated jobs (items, count, variants).

    Drawn from the covariance of its few items instead of from each of its many errors.
    nominal : (items, variants);  jacobian : (items, errors, variants)
    """
    swing = jacobian * errors.sigma
    spread, along = np.linalg.eigh(np.einsum("ikv,jkv->vij", swing, swing))
    root = along * np.sqrt(np.maximum(spread, 0))[:, None, :]
    drawn = np.stack([_drawn(f"item {i}", count, seed) for i in range(len(nominal))])
    moved: Array = np.einsum("vij,jc->icv", root, drawn)
    return nominal[:, None] + moved


_WORD = 0xFFFFFFFFFFFFFFFF
_KEPT = 4096  # draws of one error that are worth keeping for the next question


def _drawn(name: str, count: int, seed: int) -> Array:
    return _luck(name, count, seed) if count <= _KEPT else _luck.__wrapped__(name, count, seed)


@lru_cache(256)
def _luck(name: str, count: int, seed: int) -> Array:
    """Normal draws that are a function of seed, name and number alone.

    SplitMix64 (Steele, Lea, Flood 2014; constants from memory) and Box-Muller: the same luck with every version of
    every library, and no generator to load when a job is only checked.
    """
    key = seed
    for byte in name.encode():
        key = (key ^ byte) * 0x100000001B3 & _WORD
    pairs = (count + 1) // 2
    z = np.arange(1, 2 * pairs + 1, dtype=np.uint64) * np.uint64(0x9E3779B97F4A7C15) + _mixed(
        np.array([key], np.uint64)
    )
    even = ((_mixed(z) >> np.uint64(11)).astype(float) + 0.5) * 2.0**-53
    far, turn = np.sqrt(-2 * np.log(even[:pairs])), 2 * np.pi * even[pairs:]
    drawn: Array = np.concatenate((far * np.cos(turn), far * np.sin(turn)))[:count]
    drawn.flags.writeable = False
    return drawn


def _mixed(z: NDArray[np.uint64]) -> NDArray[np.uint64]:
    z = (z ^ (z >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
    z = (z ^ (z >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    return z ^ (z >> np.uint64(31))


@ordered
class Ellipse:
    """Where a point lies with 39 % chance. Semi-axes; direction of the longer, counter-clockwise from x, 0 to pi."""

    major: Length
    minor: Length
    direction: Angle

    def holding(self, chance: Number) -> Ellipse:
        """The larger one that holds the point with this chance, two normal quantities taken together."""
        scale = np.sqrt(-2 * np.log1p(-np.asarray(chance, float)))
        return Ellipse(self.major * scale, self.minor * scale, self.direction)


def error_ellipse(xx: ArrayLike, xy: ArrayLike, yy: ArrayLike) -> Ellipse:
    """The ellipse of a point's variances and covariance in x and y. All broadcast."""
    xx, xy, yy = (np.asarray(v, float) for v in (xx, xy, yy))
    longest = (xx + yy) / 2 + np.hypot((xx - yy) / 2, xy)
    shortest = np.divide(xx * yy - xy * xy, longest, out=np.zeros_like(longest), where=longest > 0)
    direction = np.mod(np.arctan2(2 * xy, xx - yy) / 2, np.pi)
    return Ellipse(np.sqrt(longest), np.sqrt(np.maximum(shortest, 0)), direction)


@ordered
class Adjusted:
    """The vector after readings: its most likely values and their covariance (errors, errors)."""

    errors: ErrorVector
    values: Array
    covariance: Array
    redundancy: int  # readings more than unknowns
    sigma_0: float  # how large the misfit is against what was expected, 1 on the average; nan without redundancy

    def spread(self, place: Place) -> Spread:
        """Any place by the adjusted vector. Its errors are no longer independent, so none has a share of its own."""
        nominal, jacobian = _linear(place, self.errors, self.values)
        covariance = jacobian @ self.covariance @ jacobian.T
        return Spread(self.errors.names, nominal, jacobian, covariance, np.full_like(jacobian, np.nan))


def adjust(place: Place, readings: ArrayLike, errors: ErrorVector, *, rounds: int = 6) -> Adjusted:
    """The most likely vector, given readings (items,) of a place: weighted least squares. One job, no variants.

    The errors of the readings themselves stand in the vector like all others, so a tape cannot vouch for itself. The
    place is linearised anew in each round; where it is straight, one would do.
    """
    readings, sigma = np.asarray(readings, float), errors.sigma
    free = ~np.isfinite(sigma)
    values = np.zeros(len(sigma))
    for _ in range(rounds):
        nominal, jacobian = _linear(place, errors, values)
        known, unknown = jacobian[:, ~free] * sigma[~free], jacobian[:, free]
        misfit = readings - nominal + jacobian @ values
        try:
            weight = np.linalg.inv(known @ known.T)
            solve = np.linalg.inv(unknown.T @ weight @ unknown) @ unknown.T @ weight
        except np.linalg.LinAlgError:
            raise ValueError("a reading without an error of its own, or an unknown that no reading reaches") from None
        left = np.eye(len(readings)) - unknown @ solve
        values[free] = solve @ misfit
        values[~free] = sigma[~free] * (known.T @ weight @ left @ misfit)
    # What remains uncertain, as a function of the known errors that really occurred, each in its sigma.
    gain = np.zeros((len(sigma), int((~free).sum())))
    gain[free] = solve @ known
    gain[~free] = sigma[~free, None] * (known.T @ weight @ left @ known - np.eye(gain.shape[1]))
    redundancy = len(readings) - int(free.sum())
    misfit = left @ misfit
    sigma_0 = float(np.sqrt(misfit @ weight @ misfit / redundancy)) if redundancy > 0 else np.nan
    return Adjusted(errors, values, gain @ gain.T, redundancy, sigma_0)


@ordered
class Misfit:
    """How readings agree with what was expected of them, before anything is adjusted. Readings first."""

    errors: ErrorVector
    off: Array  # what was read less what was expected
    sigma: Array  # how far off that may well be
    chi_squared: float  # the whole, each reading weighed against all others; as many degrees of freedom as readings
    tests: Array  # of each reading: what is off that the others do not explain, in its standard deviations
    least: Array  # the smallest blunder of each that its test would nearly always show
    causes: Array  # of each error (errors,): how well a blunder there explains all of it, in the same measure
    sizes: Array  # and how large that blunder would be
    alike: Array  # (readings + errors, readings + errors): how far two of them cannot be told apart, 0 to 1


def misfit(place: Place, readings: ArrayLike, errors: ErrorVector) -> Misfit:
    """Test readings (items,) of a place against the vector they share with it. One job, no variants.

    Every error has a finite standard deviation, so each reading is one more than needed. A blunder that none of the
    readings could see has a test of zero.
    """
    readings, sigma = np.asarray(readings, float), errors.sigma
    nominal, jacobian = _linear(place, errors, np.zeros(len(sigma)))
    parts = jacobian * sigma
    try:
        weight = np.linalg.inv(parts @ parts.T)
    except np.linalg.LinAlgError:
        raise ValueError("a reading without an error of its own") from None
    off = readings - nominal
    shapes = np.hstack([np.eye(len(off)), jacobian])  # how a blunder in each reading, then in each error, would look
    seen = np.sum(shapes * (weight @ shapes), axis=0)
    seen = np.where(seen > 1e-9 * np.max(seen), seen, 0.0)
    scale = np.sqrt(np.divide(1.0, seen, out=np.zeros_like(seen), where=seen > 0))
    tests = scale * (shapes.T @ weight @ off)
    n = len(off)
    return Misfit(
        errors=errors,
        off=off,
        sigma=np.sqrt(np.sum(parts**2, axis=1)),
        chi_squared=float(off @ weight @ off),
        tests=tests[:n],
        least=SHOWN * scale[:n],
        causes=tests[n:],
        sizes=(scale * tests)[n:],
        alike=np.abs(scale[:, None] * (shapes.T @ weight @ shapes) * scale),
    )


SHOWN = 3.29 + 0.84  # beyond what one sound reading in a thousand is off by, four times in five (Baarda)


def _linear(place: Place, errors: ErrorVector, at: Array) -> tuple[Array, Array]:
    """A place and its derivatives by central differences, one standard deviation to either side."""
    sigma = errors.sigma
    n = len(sigma)
    step = np.where((sigma > 0) & np.isfinite(sigma), sigma, _STILL)
    cases = np.repeat(at[:, None], 2 * n + 1, axis=1)
    i = np.arange(n)
    cases[i, 1 + i] += step
    cases[i, 1 + n + i] -= step
    values = _placed(place, errors.names, cases)
    return values[:, 0], (values[:, 1 : n + 1] - values[:, n + 1 :]) / (2 * step)


def _placed(place: Place, names: tuple[str, ...], cases: Array) -> Array:
    """Call the place; quantities that no error touches are carried over all cases."""
    rows = [np.asarray(row, float) for row in place(dict(zip(names, cases, strict=True)))]
    return np.stack([np.broadcast_to(r, np.broadcast_shapes(*(q.shape for q in rows), cases.shape[1:])) for r in rows])
