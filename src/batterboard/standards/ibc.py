"""IBC 2021, chapter 18: what holds a post or a footing in the soil.

    pole_embedment(P, M, S_1, b)     how deep a pier without a pad must stand
    embedment_depth(P, M, s, b)      the depth at which it agrees with the soil strength it counts on
    friction, adhesion               what keeps a footing from sliding

The presumptive soil values of table 1806.2 stand in `tables`. The third more for wind of older editions, and the
doubling for poles that may move half an inch, are not taken: a gate has to latch.
"""

import numpy as np

from batterboard.quantity import Area, Force, Length, Moment, Number, Pressure, UnitWeight, ft, inch
from batterboard.working import Document, formula, maximum, minimum, sqrt

IBC_2021 = Document("IBC 2021", "International Building Code, 2021")
FOOTING_DEPTH = IBC_2021.clause("1809.4, 1809.5")
INSPECTION = IBC_2021.clause("110.3.1, 110.5", "read: a building department's page, as adopted there")
LEAST_DEPTH = 12 * inch  # below undisturbed ground, and below the frost line of the place
_DEEPEST = 12 * ft  # what counts of a depth, 1807.3.2.1


@formula(source=IBC_2021.clause("1807.3.2.1, S1"), limits="s > 0; d >= 0")
def lateral_strength(s: UnitWeight, d: Length) -> Pressure:
    """S_1, the allowable side pressure at a third of the depth; no more than 12 ft of depth count [Pa].

    s : allowable lateral bearing per depth, table 1806.2;  d : depth of embedment.  All broadcast.
    """
    d_counted = minimum(d, 12 * ft)
    S_1 = s * d_counted / 3
    return S_1


@formula(source=IBC_2021.equation("18-1"), limits="P >= 0; M >= 0; S_1 > 0; b > 0")
def pole_embedment(P: Force, M: Moment, S_1: Pressure, b: Length) -> Length:
    """Depth that holds a pole free to move at the ground [m]. With M = P h it is 0.5 A (1 + sqrt(1 + 4.36 h / A)).

    P : side force;  M : its moment about the ground, and that of weights beside the pole
    S_1 : side pressure at a third of the depth;  b : diameter, or diagonal of a square.  All broadcast.
    """
    A = 2.34 * P / (S_1 * b)
    A_h = 2.34 * M / (S_1 * b)
    d = 0.5 * (A + sqrt(A**2 + 4.36 * A_h))
    return d


def embedment_depth(P: Force, M: Moment, s: UnitWeight, b: Length) -> Length:
    """The depth d that `pole_embedment` gives with the soil strength at that same d [m]. All broadcast.

    Down to 12 ft the two make a cubic, d^3 = K d + 1.09 K h with K = 2.34 · 3 P / (s b), solved by Newton from above,
    where it cannot miss; deeper the strength grows no more.
    """
    with np.errstate(all="ignore"):
        K = 7.02 * np.asarray(P, float) / (s * np.asarray(b, float))
        Kh = 7.6518 * np.asarray(M, float) / (s * np.asarray(b, float))
        d = np.asarray(2 * np.sqrt(np.abs(K)) + 2 * np.cbrt(np.abs(Kh)) + 1e-9)
        for _ in range(60):
            d_next = d - (d**3 - K * d - Kh) / (3 * d**2 - K)
            if np.all((np.abs(d_next - d) <= 1e-14 * d) | np.isnan(d_next)):
                break
            d = d_next
        d = np.where(d_next <= _DEEPEST, d_next, pole_embedment(P, M, s * _DEEPEST / 3, b))
        d = np.where((K <= 0) & (Kh <= 0), np.where((K == 0) & (Kh == 0), 0.0, np.nan), d)
        d = np.where((np.asarray(P) < 0) | (np.asarray(M) < 0), np.nan, d)
    return d.item() if d.ndim == 0 else d


@formula(source=IBC_2021.clause("1806.3"), limits="mu >= 0")
def friction(mu: Number, D: Force) -> Force:
    """What friction under a footing holds: on the dead load only [N]. Nothing where it is lifted."""
    F = mu * maximum(D, 0)
    return F


@formula(source=IBC_2021.clause("1806.3.2"), limits="c >= 0; A >= 0")
def adhesion(c: Pressure, A: Area, D: Force) -> Force:
    """What clay holds by sticking: on the area in contact, no more than half the dead load [N]."""
    F_stuck = c * A
    F_half = 0.5 * maximum(D, 0)
    F = minimum(F_stuck, F_half)
    return F
