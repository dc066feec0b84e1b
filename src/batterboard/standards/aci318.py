"""ACI 318-19: what concrete and the steel in it are taken to be."""

from batterboard.quantity import Pressure, psi
from batterboard.working import Document, formula, sqrt

ACI_318_19 = Document("ACI 318-19", "Building Code Requirements for Structural Concrete", scale="fine")


@formula(source=ACI_318_19.clause("19.2.2.1(b)"), limits="f_c > 0")
def elastic_modulus(f_c: Pressure) -> Pressure:
    """E_c of normalweight concrete [Pa]."""
    f_psi = f_c / psi
    E_psi = 57000 * sqrt(f_psi)
    E_c = E_psi * psi
    return E_c
