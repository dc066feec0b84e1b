"""ACI 318-19 chapter 14: what strength does a moment need of a section, as if it held no bar?

    modulus(b, h), round_modulus(d)    of its section
    soil_push(g, b, h)                 moment of loose soil on one side of a pier
    strength_needed(f, M, S)           the strength at which the plain section holds it

Young concrete in a small pier carries what is hung on it by its whole section; the bars are an unasked reserve.
"""

from math import pi

from batterboard.quantity import Length, Moment, Number, Pressure, SectionModulus, UnitWeight, pcf, psi
from batterboard.standards.aci318 import ACI_318_19
from batterboard.working import STATICS, Document, formula

SECTION = ACI_318_19.clause("14.5.2.1 and 21.2.1, solved for f'c", "memory")
SOIL = Document("IBC 2021", scale="coarse").table("1610.1", "memory")
AT_REST: UnitWeight = 60 * pcf  # as a liquid that weighs so much: sand and gravel with fines, at rest
FACTOR: Number = 1.6  # on loads while building


@formula(source=STATICS, limits="b > 0; h > 0")
def modulus(b: Length, h: Length) -> SectionModulus:
    """Section modulus of a rectangle b wide, bent over its side h."""
    S = b * h**2 / 6
    return S


@formula(source=STATICS, limits="d > 0")
def round_modulus(d: Length) -> SectionModulus:
    """Section modulus of a round section, or of the round one inside a polygon."""
    S = pi * d**3 / 32
    return S


@formula(source=STATICS, limits="b > 0; h >= 0")
def soil_push(g: UnitWeight, b: Length, h: Length) -> Moment:
    """Moment at the foot of a pier b wide with soil h deep on one side. g : of the liquid it pushes like."""
    M = g * b * h**3 / 6
    return M


@formula(source=SECTION, limits="M >= 0; S > 0")
def strength_needed(f: Number, M: Moment, S: SectionModulus) -> Pressure:
    """Strength at which a plain section of normal concrete holds a moment [Pa]. f : load factor."""
    s_psi = f * M / (S * psi)
    f_psi = (s_psi / (0.60 * 5)) ** 2
    f_c = f_psi * psi
    return f_c
