"""How does the temperature of a block go on, hour by hour, while forms come off and blankets go?"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from batterboard.job import schema
from batterboard.methods.heat import NOTHING, Account, conduction, march, sweeps, times
from batterboard.phases.cure import hours
from batterboard.phases.cure.ageing import Ageing
from batterboard.phases.cure.hydrating import Binder
from batterboard.phases.cure.warmth.blocks import FILM, Cells, Stretch, alone, surfaces_of
from batterboard.phases.cure.warmth.results import Run
from batterboard.quantity import Celsius, Number, day, hour
from batterboard.standards import aci306

DAYS = 14 * day
FIRST, LONGEST = 900.0, 10800.0  # steps after a change, and later [s]
SUN = 600.0  # [W/m2] at noon on a clear day: typical, invented
SOAKED: Number = 0.65  # share of it that concrete takes: textbooks, memory
FROST: Celsius = 0.0


@dataclass(frozen=True)
class Course:
    cells: Cells
    binder: Binder
    ageing: Ageing
    formed: bool
    stripped: float
    uncovered: float
    placed: float
    pour: schema.Pour
    air: Any

    def _outside(self, t: Any) -> dict[str, Any]:
        """What the skin meets."""
        air = np.interp(t / hour, np.arange(len(self.air)), self.air)
        ground = alone(self.pour.air if self.pour.earth is None else self.pour.earth)
        return {"air": air, "top": air + self._sun(t), "ground": ground}

    def _sun(self, t: Any) -> Any:
        """How much warmer the air would have to be to bring as much heat."""
        if self.pour.sun == "shade":
            return 0.0
        high = np.sin(np.pi * ((hours.begins_at(self.pour) + t / hour) % 24 - 6) / 12)
        return SOAKED * SUN * FILM * np.maximum(high, 0.0)

    def run(self, blankets: bool) -> tuple[Run, Account, int]:
        cells, concrete = self.cells, self.cells.concrete
        ground = self._outside(0.0)["ground"]
        T = np.where(concrete, self.placed, ground)
        age = np.zeros(int(concrete.sum()))
        made = self.binder.made(age)
        volumes = cells.grid.volumes * np.ones(cells.grid.shape)
        before, last = T[concrete], 1.0
        heat, account, t = np.zeros(cells.grid.shape), NOTHING, 0.0
        at = [t]
        stretches: list[Stretch] = []
        changes = sorted({0.0, *(at for at in (self.stripped, self.uncovered) if 0 < at < DAYS), DAYS})
        for start, end in zip(changes, changes[1:]):
            blanket = alone(self.pour.blanket) if blankets and start < self.uncovered else 0.0
            surfaces = surfaces_of(cells, self.formed and start < self.stripped, blanket)
            c = conduction(cells.grid, cells.k, cells.rho_c, surfaces)
            known: dict[float, Any] = {}
            kept, first = ([T], 0) if not stretches else ([], len(at))
            for dt in times(np.array([start, end]), FIRST, LONGEST):
                ready = known.get(dt) or known.setdefault(dt, sweeps(c, dt))
                now = T[concrete]
                middle = now + (now - before) * (dt / last / 2)
                age = age + dt * self.binder.clock(middle)
                after = self.binder.made(age)
                heat[concrete] = (after - made) * volumes[concrete]
                made, before, last = after, now, dt
                T, step = march(c, ready, T, self._outside(t + dt / 2), heat)
                account, t = account + step, t + dt
                at.append(t)
                kept.append(T)
            outside = self._outside(np.array(at[first:]))
            stretches.append(Stretch(cells, surfaces, outside, np.array(kept)))
        return self._told(np.array(at), stretches), account, len(at) - 1

    def _told(self, t: Any, stretches: list[Stretch]) -> Run:
        concrete = self.cells.concrete
        inside = np.concatenate([each.T[:, concrete] for each in stretches])
        edge, foot = (
            np.concatenate([each.skin(self.cells.corner(end), ((0, 1), (1, 1), (2, side))) for each in stretches])
            for end, side in ((-1, 1), (0, -1))
        )
        core = inside[:, inside.max(axis=0).argmax()]
        cold = np.minimum(np.minimum(inside.min(axis=1), edge), foot)
        strong = [self.ageing.along(t, place) for place in (edge, core)]
        young = strong[0] < aci306.FROST_PROOF
        apart = core - self._faces(stretches, inside)
        hottest, uneven = int(core.argmax()), int(apart.argmax())
        coldest = float(cold[young].min())
        return Run(
            t=t,
            core=core,
            edge=edge,
            air=self._outside(t)["air"],
            ground=self._outside(0.0)["ground"],
            strong_edge=strong[0],
            strong_core=strong[1],
            peak=float(core[hottest]),
            peak_at=float(t[hottest]),
            difference=float(apart[uneven]),
            difference_at=float(t[uneven]),
            coldest=coldest,
            proof_at=_reached(aci306.FROST_PROOF, t, strong[0]),
            frozen=coldest < FROST,
        )

    def _faces(self, stretches: list[Stretch], inside: Any) -> Any:
        """The coldest of the faces' middles, as seen from where it gets hottest: in a pad, also those of the shaft."""
        concrete = self.cells.concrete
        x, y, z = np.argwhere(concrete)[inside.max(axis=0).argmax()]
        up = np.flatnonzero(concrete[x, y])
        shaft = next(n for n in range(z, up[-1] + 1) if np.array_equal(concrete[:, :, n], concrete[:, :, up[-1]]))
        ends = [((x, y, up[0]), (2, -1)), ((x, y, up[-1]), (2, 1))]
        for level in (z, shaft):
            ends.append(((np.flatnonzero(concrete[:, y, level])[-1], y, level), (0, 1)))
            ends.append(((x, np.flatnonzero(concrete[x, :, level])[-1], level), (1, 1)))
        # A beam or ring has no end along y: its one cell there is the core itself, and never the coldest.
        return np.min([np.concatenate([each.skin(at, (face,)) for each in stretches]) for at, face in ends], axis=0)


def _reached(f: float, t: Any, strength: Any) -> float:
    """When a strength that only grows is f; nan where it is not reached."""
    return float(np.interp(f, strength, t)) if strength[-1] >= f else float("nan")
