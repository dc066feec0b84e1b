"""How fast does the binder make heat?

    Binder : heat=1.6e8 J/m3, tau, beta, alpha_u, Q      what one concrete makes, by volume and by its own clock
    binder(mix)                                          from the mix and a typical cement
    adiabatic(binder, rho_c, T, times)                   a block that loses nothing

The clock runs on the concrete's own temperature: heat hastens the heat that follows. A step is taken with the
temperature in its middle, as it was going, and makes exactly what the curve gains in it.
"""

from typing import Any

import numpy as np

from batterboard.phases.concrete import Mix
from batterboard.quantity import Celsius, Number, Time
from batterboard.record import record
from batterboard.standards import astm_c1074, hydration


@record
class Binder:
    heat: Any  # of all of it, by volume of concrete [J/m3]
    tau: Time
    beta: Number
    alpha_u: Number
    Q: Number  # activation energy over the gas constant [K]

    def clock(self, T: Celsius) -> Number:
        """Age gained by time at T."""
        return astm_c1074.age_factor(T, hydration.REFERENCE, self.Q)

    def made(self, age: Time) -> Any:
        """Heat made up to an equivalent age [J/m3]."""
        return self.heat * hydration.reacted(age, self.tau, self.beta, self.alpha_u)


def binder(mix: Mix) -> Binder:
    """Of a typical cement of its type; the plant's mill sheet would say better."""
    m = hydration.makeup(mix.cement)
    ash, slag = mix.fly_ash, mix.slag
    H_cem = hydration.heat_of_cement(m.C3S, m.C2S, m.C3A, m.C4AF, m.SO3, m.lime, m.MgO)
    ash_heat = hydration.ASH_HEAT * hydration.ASH_LIME
    H = hydration.heat_of_binder(H_cem, ash, slag, ash_heat, hydration.SLAG_HEAT)
    return Binder(
        heat=H * mix.binder,
        tau=hydration.hydration_time(m.C3A, m.C3S, m.SO3, m.blaine, slag, ash, hydration.ASH_LIME),
        beta=hydration.slope(m.C3A, m.C3S, m.SO3, m.blaine, slag),
        alpha_u=hydration.ultimate(mix.ratio, ash, slag),
        Q=hydration.activation(m.C3A, m.C4AF, m.blaine),
    )


def adiabatic(of: Binder, rho_c: float, T: Celsius, times: Any, dt: float = 120.0) -> Any:
    """Temperatures at times of a block that loses nothing. rho_c : its heat capacity [J/m3 K]."""
    ends = np.arange(1, int(np.ceil(np.max(times) / dt)) + 1) * dt
    age, warmer, before, got = 0.0, 0.0, 0.0, [T]
    for _ in ends:
        middle = T + warmer + (warmer - before) / 2
        age += dt * float(of.clock(middle))
        before, warmer = warmer, float(of.made(age)) / rho_c
        got.append(T + warmer)
    return np.interp(times, np.concatenate([[0.0], ends]), got)
