"""How wet did a lift come out of the chute, as somebody logged it at the truck?

    loads : what came out of the chute, for one lift each    {1: Load(lift=1, slump=0.10), 2: Load(lift=2, truck=1)}
    added : water in it, from this lift and from those that the same truck served before
    wettest(loads, 2) : the largest slump and the most water of lift 2, None where nobody logged any

The wettest load speaks for its lift: it pushes hardest on the form and is the weakest concrete in it.
"""

from collections.abc import Mapping
from typing import Any

from batterboard.job import schema
from batterboard.working import maximum


def added(loads: Mapping[int, schema.Load]) -> dict[int, Any]:
    """Water put in for each load, per volume of concrete; None where nothing was logged for its truck so far."""
    in_truck: dict[int, Any] = {}
    result: dict[int, Any] = {}
    for number, load in sorted(loads.items()):
        truck = number if load.truck is None else load.truck
        if load.water is not None and load.drum is not None:
            in_truck[truck] = in_truck.get(truck, 0.0) + load.water / load.drum
        result[number] = in_truck.get(truck)
    return result


def wettest(loads: Mapping[int, schema.Load], lift: int) -> tuple[Any, Any]:
    """Largest slump and most water of one lift's loads; None where it was not logged."""
    water = added(loads)
    own = [number for number, load in loads.items() if load.lift == lift]
    return _most([loads[number].slump for number in own]), _most([water[number] for number in own])


def _most(values: list[Any]) -> Any:
    most = None
    for value in values:
        if value is not None:
            most = value if most is None else maximum(most, value)
    return most
