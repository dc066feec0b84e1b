"""ACI 301 and the mass concrete guides: how hot may it get, and how unevenly?

    limits("ACI 301-16 and -20")    160 F, and 35 F between core and face
    quick_rise(C)                   12 K for every 100 kg/m3 of cement, in a large block
    PROPERTIES                      what mature concrete conducts and stores

A size rule must never switch the question off: a rich mix in a small pier may pass a limit that a large lean one keeps.
"""

from typing import NamedTuple

from batterboard.quantity import (
    Celsius,
    Conductivity,
    MassDensity,
    SpecificHeat,
    TemperatureDifference,
    kelvin,
    kg_per_m3,
)
from batterboard.standards.tables import Table
from batterboard.working import Document, formula

ACI_207 = Document("ACI 207.2R", "Thermal and Volume Change Effects on Cracking of Mass Concrete")
PROPERTIES = ACI_207.clause("thermal properties; textbooks", "memory")
ACI_301 = Document("ACI 301-20", "Specifications for Concrete Construction")
LIMITS = ACI_301.clause("mass concrete", "read: an article on mass concrete and a state's study; newest from memory")
PCA = Document("Gajda and VanGeem", "Controlling Temperatures in Mass Concrete").clause("rise", "memory")

CONDUCTIVITY: Conductivity = 2.0  # aggregate decides: 1.5 to 3.5
SPECIFIC_HEAT: SpecificHeat = 1000.0  # 840 to 1170
DENSITY: MassDensity = 2350.0


class Limit(NamedTuple):
    name: str  # whose
    hottest: Celsius
    difference: TemperatureDifference


limits = Table("rule", Limit, "mass-limits")


@formula(source=PCA, limits="C >= 0")
def quick_rise(C: MassDensity) -> TemperatureDifference:
    """How much warmer a large block gets in its middle, by the quick rule [K]. C : cement."""
    C_kgm3 = C / kg_per_m3
    rise = 12 * C_kgm3 / 100 * kelvin
    return rise
