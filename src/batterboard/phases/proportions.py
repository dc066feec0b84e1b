"""What goes into the mixer where the concrete is mixed on site?

    trial : Trial("stiff", average=35.9e6, ratio=0.43, batches=(...))      one mix by ACI 211.1, a first trial
    batch : Batch("a bag of cement", cement=42.6, water=14.1, ...)         what is weighed, damp as it lies there

The table is entered with the average strength f'cr, not with f'c: half of all tests fall below the average. What lies
outside the table is said and not guessed. Sand and stone are those of the job file, else typical and invented. A trial
is mixed, its slump and yield are measured, and then it is corrected; admixtures are not here.
"""

from collections.abc import Iterator, Mapping
from typing import Any, Literal

import numpy as np

from batterboard.job import schema
from batterboard.phases.concrete import Concrete, Mix
from batterboard.quantity import Mass, MassDensity, Number, Pressure, Volume, gravity
from batterboard.record import record
from batterboard.standards import aci211, aci301, trade
from batterboard.standards.aci211 import batching
from batterboard.working import minimum, nan


@record
class Batch:
    """What is weighed for one batch, stone and sand damp."""

    name: str  # "a bag of cement"
    concrete: Volume
    cement: Mass
    stone: Mass
    sand: Mass
    water: Mass


@record
class Trial:
    """One mix per volume of concrete. nan where a table does not reach."""

    mix: str
    average: Pressure  # f'cr
    by_records: bool  # said by the job file
    ratio: Number  # w/c for that strength and for the exposure classes
    governs: Literal["strength", "exposure", "outside the table"]
    water: MassDensity
    cement: MassDensity
    stone: MassDensity  # dry
    sand: MassDensity  # dry, by absolute volumes
    sand_by_mass: MassDensity  # dry, by the first estimate of the weight
    air: Number  # entrained as asked for, else entrapped by the table
    airy: bool
    stone_damp: MassDensity
    sand_damp: MassDensity
    water_in: MassDensity  # to put in
    weight: MassDensity  # of the fresh concrete: what its yield is checked against
    batches: tuple[Batch, ...]
    materials: schema.OnSite
    assumed: bool  # whether sand and stone are typical ones

    @property
    def name(self) -> str:
        return self.mix


@record
class Proportions:
    trials: dict[str, Trial]
    notes: tuple[str, ...]


def trials(concrete: Concrete, asked: Mapping[str, schema.Mix], units: Literal["us", "si"]) -> Proportions:
    """A first trial of every mix."""
    made = {name: _trial(mix, asked[name].on_site, units) for name, mix in concrete.mixes.items()}
    return Proportions(trials=made, notes=tuple(_notes(made)))


def _trial(mix: Mix, on_site: schema.OnSite | None, units: Literal["us", "si"]) -> Trial:
    m = on_site or schema.OnSite()
    airy = bool(np.any(np.asarray(mix.air) > 0))
    average = aci301.required_average(mix.strength) if m.average is None else m.average
    by_strength = aci211.ratio_for(average, airy)
    ratio = by_strength if np.isnan(mix.greatest) else minimum(by_strength, mix.greatest)
    water = aci211.water_for(mix.slump, mix.stone, airy)
    cement = water / ratio
    stone = batching.coarse_dry(batching.coarse_volume_for(mix.stone, m.fineness), m.rodded / gravity)
    air = mix.air if airy else _entrapped(mix)
    sand = batching.fine_by_volume(water, cement, stone, air, _CEMENT, m.stone_gravity, m.sand_gravity)
    by_mass = batching.fine_by_mass(batching.fresh_weight_for(mix.stone, airy), water, cement, stone)
    put_in = batching.water_in_batch(water, stone, sand, m.stone_wet, m.sand_wet, m.stone_drinks, m.sand_drinks)
    damp_stone, damp_sand = batching.as_weighed(stone, m.stone_wet), batching.as_weighed(sand, m.sand_wet)
    per = (cement, damp_stone, damp_sand, put_in)
    return Trial(
        mix=mix.name,
        average=average,
        by_records=m.average is not None,
        ratio=ratio,
        governs="outside the table" if ratio != ratio else "strength" if ratio == by_strength else "exposure",
        water=water,
        cement=cement,
        stone=stone,
        sand=sand,
        sand_by_mass=by_mass,
        air=air,
        airy=airy,
        stone_damp=damp_stone,
        sand_damp=damp_sand,
        water_in=put_in,
        weight=cement + damp_stone + damp_sand + put_in,
        batches=tuple(_batches(per, m.batch, units)),
        materials=m,
        assumed=on_site is None,
    )


_CEMENT = 3.15  # how much heavier than water Portland cement is; ACI 211.1 takes it where nothing else is known


def _entrapped(mix: Mix) -> Any:
    rows = [aci211.mixing_water(name) for name in aci211.mixing_water.names()]
    return float(np.interp(mix.stone, [row.stone for row in rows], [row.entrapped for row in rows]))


def _batches(per: tuple[Any, ...], mixer: Volume, units: Literal["us", "si"]) -> Iterator[Batch]:
    bag = trade.BAG_OF_CEMENT[units]
    unit = 4 * trade.ORDER_STEP[units]
    cement = per[0]
    sizes = ((f"a {'cubic yard' if units == 'us' else 'cubic metre'}", unit), ("the mixer", mixer))
    for name, volume in (*sizes, ("a bag of cement", bag / cement if cement == cement else nan)):
        weighed = [one * volume for one in per]
        yield Batch(name=name, concrete=volume, cement=weighed[0], stone=weighed[1], sand=weighed[2], water=weighed[3])


def _notes(made: dict[str, Trial]) -> Iterator[str]:
    for trial in made.values():
        if trial.governs == "outside the table":
            yield (
                f"{trial.name}: its average strength lies outside the table of ACI 211.1; order it from a plant, or "
                "have it proportioned from trial batches"
            )
        elif not trial.water_in == trial.water_in:
            yield f"{trial.name}: sand and stone leave no water or no room to add: look at their moisture and fineness"
