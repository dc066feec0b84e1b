"""APA V345: what pressure can form plywood carry between its supports?

    l_1   centre to centre of the supports        l_2   clear between them        l_3   clear and a quarter inch
    n     how many spans one piece runs over: 1, 2, or 3 and more, equal and evenly loaded

Properties are for each metre of width, as the tables room gives them; the effective section modulus is not I / c.
Stresses are wet and short-term already: no factor for duration or moisture comes on top.
"""

from batterboard.quantity import (
    AreaPerWidth,
    InertiaPerWidth,
    Length,
    ModulusPerWidth,
    Number,
    Pressure,
    ft,
    inch,
    psf,
    psi,
)
from batterboard.working import Document, formula, minimum, where

APA_V345 = Document("APA V345", "Concrete Forming design guide", scale="fine")
SPANS = APA_V345.clause(
    "span formulas", "read: printed pressures in a textbook's reprint, which they give back; formulas from memory"
)


@formula(source=SPANS, limits="l_1 > 0; n >= 1")
def bending_pressure(F_b: Pressure, S: ModulusPerWidth, l_1: Length, n: Number) -> Pressure:
    """Pressure at which the face of the panel reaches F_b [Pa]."""
    F_psi = F_b / psi
    S_in3 = S / (inch**3 / ft)
    l_in = l_1 / inch
    K = where(n >= 3, 120, 96)
    w_psf = K * F_psi * S_in3 / l_in**2
    w = w_psf * psf
    return w


@formula(source=SPANS, limits="l_2 > 0; n >= 1")
def rolling_shear_pressure(F_s: Pressure, Ib_Q: AreaPerWidth, l_2: Length, n: Number) -> Pressure:
    """Pressure at which the plies roll at F_s [Pa]."""
    F_psi = F_s / psi
    Ib_Q_in2 = Ib_Q / (inch**2 / ft)
    l_in = l_2 / inch
    K_few = where(n >= 2, 19.2, 24)
    K = where(n >= 3, 20, K_few)
    w_psf = K * F_psi * Ib_Q_in2 / l_in
    w = w_psf * psf
    return w


@formula(source=SPANS, limits="l_2 > 0; n >= 1")
def deflection_pressure(
    E: Pressure,
    E_e: Pressure,
    I: InertiaPerWidth,
    t: Length,
    l_1: Length,
    l_2: Length,
    n: Number,
    across: Number,
    share: Number,
) -> Pressure:
    """Pressure at which the panel gives by a share of its span, bending and shear together [Pa].

    E : for bending;  E_e : for shear;  share : 1 / 360
    across : 1 with the face grain across the supports, 0 along them
    """
    l_3 = l_2 + 0.25 * inch
    K_few = where(n >= 2, 2220, 921.6)
    K = where(n >= 3, 1743, K_few)
    C = where(across > 0, 120, 60)
    I_in4 = I / (inch**4 / ft)
    d_bending = (l_3 / inch) ** 4 / (K * (E / psi) * I_in4)
    d_shear = C * (t / inch) ** 2 * (l_2 / inch) ** 2 / (1270 * (E_e / psi) * I_in4)
    w_psf = share * (l_1 / inch) / (d_bending + d_shear)
    w = w_psf * psf
    return w


@formula(source=SPANS)
def sheathing_pressure(w_bending: Pressure, w_shear: Pressure, w_deflection: Pressure) -> Pressure:
    """What the panel carries: the least of the three [Pa]."""
    w_strength = minimum(w_bending, w_shear)
    w = minimum(w_strength, w_deflection)
    return w
