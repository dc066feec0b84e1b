"""What does welding do to the plate on the bolts?

    mass(rho, V)                   14 kg of 12 x 12 x 3/4 in
    plate_rise(eta, q, L, m, c)    61 K if all heat of 20 in of fillet stays in it
    FROM_EDGE, DRY                 how far from the concrete's edge and how dry: common practice

An upper bound of the MEAN: nothing flows off while it is welded. Near the weld the steel is far hotter.
"""

from batterboard.quantity import (
    Force,
    Length,
    Mass,
    MassDensity,
    Number,
    SpecificHeat,
    TemperatureDifference,
    Volume,
    inch,
)
from batterboard.working import STATICS, Document, formula

EN_1011 = Document("EN 1011-1", "Welding: recommendations for metallic materials")
HEAT = EN_1011.clause("thermal efficiency", "memory")
EFFICIENCY: Number = 0.8  # stick and gas-shielded wire
STEEL_DENSITY: MassDensity = 7850.0
STEEL_HEAT: SpecificHeat = 480.0
GROSS: Force = 1.0e6  # heat of a fillet by its length, 1 kJ/mm: typical, invented [J/m]
FROM_EDGE: Length = 3 * inch  # plate's edge to the concrete's: common practice, no source


@formula(source=STATICS, limits="rho > 0; V >= 0")
def mass(rho: MassDensity, V: Volume) -> Mass:
    """Mass of a plate [kg]."""
    m = rho * V
    return m


@formula(source=HEAT, limits="m > 0; c > 0")
def plate_rise(eta: Number, q: Force, L: Length, m: Mass, c: SpecificHeat) -> TemperatureDifference:
    """Mean rise of a plate that keeps all heat of its weld [K]. eta : efficiency;  q : heat by length [J/m]."""
    rise = eta * q * L / (m * c)
    return rise
