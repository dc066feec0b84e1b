"""What does every published function say, and what do the cylinders say when three ages of them are broken?

    opinions : (Opinion("west", "EN 1992-1-1 and fib", at=(...)), ...)    strength at 1, 3, 7, 14 and 28 days
    hyperbola(t, S), exponential(t, S)                                    fitted to breaks, as ASTM C1074 does it

Four of them make the band that the waits rest on. Plowman's logarithm and the curves fitted to cylinders stand beside
them to be compared. Only asked when somebody looks.
"""

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np

from batterboard.job import schema
from batterboard.phases.concrete import Concrete
from batterboard.phases.cure import ages, hours
from batterboard.phases.cure.ageing import Ageing
from batterboard.phases.cure.hours import Clock
from batterboard.quantity import Pressure, Time, day
from batterboard.record import record
from batterboard.standards import astm_c1074, fhp, plowman
from batterboard.work.records import Lift, Work

AGES = tuple(n * day for n in (1, 3, 7, 14, 28))
FEWEST = 3  # ages of cylinders that a curve of three numbers needs
_STRONGEST = ((17e6, "up to 17 MPa"), (35e6, "17 to 35 MPa"), (52e6, "35 to 52 MPa"))


@record
class Opinion:
    """One function on one lift's concrete."""

    lift: str
    function: str
    rules: bool  # whether it is part of the band
    at: Pressure  # at each of AGES


def opinions(work: Work, concrete: Concrete, pour: schema.Pour) -> tuple[Opinion, ...]:
    """Every function on the main mix of every lift."""
    air = hours.air_by_hour(pour)
    return tuple(one for lift in work.lifts for one in _on(lift, ages(lift, concrete, pour, air)[lift.mix]))


def _on(lift: Lift, ageing: Ageing) -> Iterator[Opinion]:
    every = np.array([ageing.strengths(t) for t in AGES])
    for i, name in enumerate(hours.NAMES):
        yield Opinion(lift=lift.name, function=name, rules=True, at=every[:, i])
    yield Opinion(
        lift=lift.name,
        function=f"Plowman's logarithm, {plowman.PLOWMAN.document.name}",
        rules=False,
        at=_plowman(ageing),
    )
    found = {one.after: one for one in ageing.breaks}
    if len(found) >= FEWEST:
        clocks = (ageing.clocks[0], ageing.laboratory()[0])
        t = np.array([float(clocks[one.cured == "in the lab"].age(one.after)) for one in found.values()])
        S = np.array([one.strength for one in found.values()])
        at = np.array([float(clocks[0].age(age)) for age in AGES])
        for name, fit in (("a hyperbola", hyperbola), ("an exponential", exponential)):
            yield Opinion(lift=lift.name, function=f"{name} through the cylinders", rules=False, at=fit(t, S)(at))


def _plowman(ageing: Ageing) -> Any:
    """On the concrete's own hours above its datum, but at no age beyond what it says of 28 days."""
    name = next((name for most, name in _STRONGEST if ageing.f_28 <= most), "52 to 69 MPa")
    row = plowman.coefficients(name)
    T = ageing.T
    maturity = Clock(astm_c1074.credit((T[1:] + T[:-1]) / 2, plowman.DATUM))
    M = np.array([float(maturity.age(t)) for t in AGES])
    return ageing.f_28 * plowman.share(M, row.A, row.B)


# ---- through cylinders ----


def hyperbola(t: Time, S: Pressure) -> Callable[[Any], Any]:
    """The strength by equivalent age whose reciprocals lie on a line; the start that fits best is searched."""
    best: tuple[float, Any] = (np.inf, None)
    for t_0 in np.linspace(0.0, 0.9 * float(t.min()), 46):
        slope, level = np.polyfit(1 / (t - t_0), 1 / S, 1)
        if slope <= 0 or level <= 0:
            continue
        S_u, k = 1 / level, level / slope
        missed = float(((astm_c1074.hyperbolic(S_u, k, t_0, t) - S) ** 2).sum())
        if missed < best[0]:
            best = missed, (S_u, k, t_0)
    return _fitted(best[1], lambda p, age: astm_c1074.hyperbolic(p[0], p[1], p[2], age))


def exponential(t: Time, S: Pressure) -> Callable[[Any], Any]:
    """The strength by equivalent age whose double logarithm lies on a line; the limit that fits best is searched."""
    best: tuple[float, Any] = (np.inf, None)
    for S_u in np.linspace(1.02, 3.0, 100) * float(S.max()):
        slope, level = np.polyfit(np.log(t), np.log(-np.log(S / S_u)), 1)
        if slope >= 0:
            continue
        a = -slope
        tau = float(np.exp(level / a))
        missed = float(((fhp.exponential(S_u, tau, a, t) - S) ** 2).sum())
        if missed < best[0]:
            best = missed, (S_u, tau, a)
    return _fitted(best[1], lambda p, age: fhp.exponential(p[0], p[1], p[2], age))


def _fitted(numbers: Any, curve: Callable[[Any, Any], Any]) -> Callable[[Any], Any]:
    """Cylinders that lose strength with age fit no curve: nan."""
    return lambda age: curve(numbers, age) if numbers is not None else np.full(np.shape(age), np.nan)
