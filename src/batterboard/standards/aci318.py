"""ACI 318-19: what concrete and the steel in it are taken to be.

    elastic modulus : of normalweight concrete                  4000 psi: 3605 ksi
    least cover     : clear concrete over the outermost steel   3 in where cast against earth
    hook            : what a bar's end needs to hold            No. 5: bent round 3 3/4 in, leg 10 in

Clauses whose source says memory were not seen.
"""

from batterboard.quantity import Length, Pressure, inch, psi
from batterboard.working import Document, formula, sqrt

ACI_318_19 = Document("ACI 318-19", "Building Code Requirements for Structural Concrete", scale="fine")

COVER = ACI_318_19.table("20.5.1.3.1", "read: a magazine's answer with the 1971 figures, which still stand")
HOOK = ACI_318_19.table("25.3.1", "memory")


@formula(source=ACI_318_19.clause("19.2.2.1(b)"), limits="f_c > 0")
def elastic_modulus(f_c: Pressure) -> Pressure:
    """E_c of normalweight concrete [Pa]."""
    f_psi = f_c / psi
    E_psi = 57000 * sqrt(f_psi)
    E_c = E_psi * psi
    return E_c


def least_cover(against: str, diameter: float) -> float:
    """Specified cover of cast-in-place concrete that meets earth or weather [m]. Not for slabs kept indoors.

    against : "earth" where it is cast against earth, "form" where it is formed;  diameter : of the outermost steel [m]
    """
    if against == "earth":
        return 3 * inch
    return 2 * inch if diameter > 0.7 * inch else 1.5 * inch  # from No. 6 on


def bend_diameter(diameter: float) -> float:
    """Least inside diameter of a standard hook's bend, by the bar's diameter [m]."""
    if diameter < 1.05 * inch:  # up to No. 8
        return 6 * diameter
    return 8 * diameter if diameter < 1.5 * inch else 10 * diameter  # up to No. 11, above


@formula(source=HOOK)
def hook_leg(d_b: Length, D: Length) -> Length:
    """Leg of a standard 90 degree hook, out to out: the extension, the bend and the bar. d_b : bar; D : bend."""
    l_ext = 12 * d_b
    leg = l_ext + D / 2 + d_b
    return leg
