"""ASCE 7-16: wind on what stands on a few bolts, and how loads combine on the soil.

    K_z : how strong the wind is at a height     0.85 at a gate's, exposure C
    q_z : the velocity pressure there            24.5 psf at 115 mph; K_d is inside, never again in the force
    C_f : what a shape makes of it               1.35 a wall, 1.6 a leaf of bars, 1.4 and more a square post
    F   : the force, at strength level           times 0.6 on soil

The 7-22 edition moves K_d from q_z into the force and rewrites K_z; it is not computed here. Hills, and structures that
sway with the gusts (below 1 Hz), are not either.
"""

from typing import Any, Literal

import numpy as np

from batterboard.quantity import Area, Force, Length, Number, Pressure, Speed, ft, mph, psf
from batterboard.record import ordered
from batterboard.working import Document, formula, maximum, power, where

ASCE_7_16 = Document(
    "ASCE 7-16", "Minimum Design Loads and Associated Criteria for Buildings and Other Structures, 2017"
)

GUST = 0.85  # G of a rigid structure, 26.11.1
NO_HILL = 1.0  # K_zt on flat ground, 26.8.2
SEA_LEVEL = 1.0  # K_e, which 26.9 permits at every altitude


@ordered
class Exposure:
    """Constants of the wind profile, table 26.11-1 (from memory)."""

    alpha: Number
    z_g: Length


EXPOSURES = {
    "B": Exposure(7.0, 1200 * ft),
    "C": Exposure(9.5, 900 * ft),
    "D": Exposure(11.5, 700 * ft),
}
# K_d, table 26.6-1 (from memory). Posts are taken as small chimneys.
DIRECTIONALITY = {"sign": 0.85, "square tube": 0.90, "pipe": 1.0}
OFF_MIDDLE = 0.2  # of its length the wind on a solid sign may sit off its middle, fig. 29.3-1, case B (from memory)
OPEN_UP_TO = 0.7  # solid ratio from which on a face counts as a solid sign with openings


@formula(source=ASCE_7_16.table("26.10-1"), limits="z <= z_g")
def exposure_coefficient(z: Length, alpha: Number, z_g: Length) -> Number:
    """K_z at a height above ground; below 15 ft it is that of 15 ft. All broadcast."""
    z_used = maximum(z, 15 * ft)
    K_z = 2.01 * power(z_used / z_g, 2 / alpha)
    return K_z


@formula(source=ASCE_7_16.equation("26.10-1"), limits="V > 0")
def velocity_pressure(K_z: Number, K_zt: Number, K_d: Number, K_e: Number, V: Speed) -> Pressure:
    """q_z of the basic wind speed V (3 s gust) with the directionality factor inside [Pa]. All broadcast."""
    V_mph = V / mph
    q_psf = 0.00256 * K_z * K_zt * K_d * K_e * V_mph**2
    q_z = q_psf * psf
    return q_z


@formula(source=ASCE_7_16.equation("29.3-1"))
def wind_force(q: Pressure, G: Number, C_f: Number, A: Area) -> Force:
    """Wind on a sign (gross area), a lattice (solid area) or a post, never less than 16 psf on the area (29.7) [N]."""
    F_q = q * G * C_f * A
    F_least = 16 * A * psf
    F = maximum(F_q, F_least)
    return F


@formula(
    source=ASCE_7_16.table("29.4-2", "read: a public permit calculation that reprints the table"),
    limits="eps > 0; eps <= 0.7",
)
def open_sign_coefficient(eps: Number) -> Number:
    """C_f of an open sign or one plane of a lattice of flat-sided members, on its solid area. Round bars catch less.

    eps : solid area over gross area. The table's gap between 0.29 and 0.3 is read as below 0.3.
    """
    C_sparse = 2.0
    C_middle = 1.8
    C_dense = 1.6
    C_rest = where(eps < 0.3, C_middle, C_dense)
    C_f = where(eps < 0.1, C_sparse, C_rest)
    return C_f


@formula(source=ASCE_7_16.clause("29.4"), limits="eps > 0")
def solid_area(eps: Number, A: Area) -> Area:
    """A_f, what of the gross area of a lattice is solid [m2]. eps : solid area over gross area."""
    A_f = eps * A
    return A_f


@formula(source=ASCE_7_16.clause("fig. 29.3-1, note on openings"), limits="eps > 0.7")
def openings_factor(eps: Number) -> Number:
    """What openings of less than 30 % leave of the wind on a solid sign. eps : solid over gross area, one at most."""
    factor = 1 - power(1 - eps, 1.5)
    return factor


@formula(source=ASCE_7_16.clause("fig. 29.3-1, case C"), limits="s > 0; h >= s")
def strip_reduction(s: Length, h: Length) -> Number:
    """Factor on the case C coefficients of a sign that stands on the ground or nearly so.

    s : height of the sign;  h : height of its top above ground.
    """
    s_over_h = s / h
    reduced = 1.8 - s_over_h
    full = 1.0
    R = where(s_over_h > 0.8, reduced, full)
    return R


@formula(source=ASCE_7_16.clause("fig. 29.3-1"))
def sign_coefficient(C_A: Number, C_C: Number, R: Number, factor: Number) -> Number:
    """C_f of a solid sign on its gross area: whichever of cases A and C makes the larger whole force.

    C_A : case A, also case B;  C_C : mean of the case C strips;  R : their reduction;  factor : what openings leave.
    """
    C_C_reduced = R * C_C
    C_f = factor * maximum(C_A, C_C_reduced)
    return C_f


@formula(source=ASCE_7_16.clause("fig. 29.3-1, note 3"), limits="s > 0; h >= s")
def resultant_height(s: Length, h: Length) -> Length:
    """Where the wind on a solid sign acts above ground: mid height, a little higher where it reaches the ground."""
    z_middle = h - s / 2
    z_low = 0.55 * h
    z = where(s < h, z_middle, z_low)
    return z


# ---- figures ----

# Fig. 29.3-1, cases A and B (from memory).
_B_OVER_S = np.array([0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 4.0, 5.0, 10.0, 20.0, 30.0, 45.0])
_S_OVER_H = np.array([0.16, 0.2, 0.3, 0.5, 0.7, 0.9, 1.0])
_SIGN = np.array(
    [
        [1.95, 1.90, 1.85, 1.85, 1.80, 1.80, 1.85, 1.85, 1.85, 1.90, 1.90, 1.95],
        [1.95, 1.90, 1.85, 1.80, 1.80, 1.80, 1.80, 1.80, 1.85, 1.90, 1.90, 1.95],
        [1.95, 1.90, 1.85, 1.80, 1.80, 1.80, 1.80, 1.80, 1.80, 1.85, 1.85, 1.85],
        [1.95, 1.85, 1.80, 1.75, 1.75, 1.70, 1.70, 1.70, 1.70, 1.70, 1.70, 1.75],
        [1.90, 1.85, 1.75, 1.70, 1.65, 1.60, 1.60, 1.55, 1.55, 1.55, 1.55, 1.55],
        [1.85, 1.75, 1.70, 1.60, 1.55, 1.50, 1.45, 1.45, 1.40, 1.40, 1.40, 1.40],
        [1.80, 1.70, 1.65, 1.55, 1.45, 1.40, 1.35, 1.35, 1.30, 1.30, 1.30, 1.30],
    ]
)
# Case C (from memory): strips 0 to s, s to 2 s, 2 s to 3 s and 3 s to 10 s from the windward edge. A strip that begins
# where the sign of the first column ends has no value there; it is read from the next column.
_C_B_OVER_S = np.array([2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0])
_STRIPS = np.array(
    [
        [2.25, 2.60, 2.90, 3.10, 3.30, 3.40, 3.55, 3.65, 3.75],
        [1.50, 1.70, 1.90, 2.00, 2.15, 2.25, 2.30, 2.35, 2.45],
        [1.15, 1.15, 1.30, 1.45, 1.55, 1.65, 1.70, 1.75, 1.85],
        [1.10, 1.10, 1.10, 1.05, 1.05, 1.05, 1.05, 1.00, 0.95],
    ]
)
_STRIP_ENDS = np.array([0.0, 1.0, 2.0, 3.0, 10.0])
# Fig. 29.4-1 (from memory): height over width 1, 7, 25. Square with the wind on a face; round with D sqrt(q) <= 2.5,
# moderately smooth, the larger of its two rows.
_SLENDERNESS = (1.0, 7.0, 25.0)
_POST = {"square tube": (1.3, 1.4, 2.0), "pipe": (0.7, 0.8, 1.2)}


def case_a_coefficient(B_over_s: Number, s_over_h: Number) -> Number:
    """C_f of a solid sign, wind on its middle; linear between the table's lines, held at its ends. Broadcasts.

    B_over_s : length over height of the sign;  s_over_h : its height over that of its top edge above ground.
    """
    x, y = np.broadcast_arrays(np.asarray(B_over_s, float), np.asarray(s_over_h, float))
    i, a = _between(_B_OVER_S, x)
    j, b = _between(_S_OVER_H, y)
    low = _SIGN[j, i] * (1 - a) + _SIGN[j, i + 1] * a
    high = _SIGN[j + 1, i] * (1 - a) + _SIGN[j + 1, i + 1] * a
    return _plain(low * (1 - b) + high * b)


def strip_coefficients(B_over_s: Number) -> Any:
    """C_f of the four strips from the windward edge, case C, before its reduction (4, ...); nan beyond B/s = 10."""
    x = np.asarray(B_over_s, float)
    strips = np.array([np.interp(x, _C_B_OVER_S, row) for row in _STRIPS])
    return np.where((x >= 2) & (x <= 10), strips, np.nan)


def case_c_coefficient(B_over_s: Number) -> Number:
    """Mean of the case C strips over the sign, nothing below B/s = 2 where the case does not exist. Broadcasts."""
    x = np.asarray(B_over_s, float)
    shape = (4,) + (1,) * x.ndim
    ends = np.clip(x, *(e.reshape(shape) for e in (_STRIP_ENDS[:-1], _STRIP_ENDS[1:])))
    widths = ends - _STRIP_ENDS[:-1].reshape(shape)
    mean = (strip_coefficients(x) * widths).sum(axis=0) / x
    return _plain(np.where(x < 2, 0.0, mean))


def post_coefficient(kind: Literal["square tube", "pipe"], slenderness: Number) -> Number:
    """C_f of a post standing by itself. slenderness : height over width."""
    return _plain(np.interp(slenderness, _SLENDERNESS, _POST[kind]))


def _between(marks: Any, x: Any) -> tuple[Any, Any]:
    """The interval of the table and how far into it, held at the ends; nan stays nan."""
    i = np.clip(np.searchsorted(marks, x, side="right") - 1, 0, len(marks) - 2)
    return i, np.clip((x - marks[i]) / (marks[i + 1] - marks[i]), 0.0, 1.0)


def _plain(values: Any) -> Any:
    return values.item() if np.ndim(values) == 0 else values


# ---- how loads combine ----


@ordered
class Combination:
    """One line of 2.4.1: factors of dead load, strength-level wind and live load."""

    name: str
    D: float
    W: float = 0.0
    L: float = 0.0


# For soil, 2.4.1 (from memory), those that a gate, a sign or a machine on a small base can meet. 0.75 L + 0.45 W is
# left out: nobody hangs on a leaf in the design storm.
DEAD = Combination("D", 1.0)
DEAD_AND_LIVE = Combination("D + L", 1.0, 0.0, 1.0)
WITH_WIND = (Combination("D + 0.6W", 1.0, 0.6), Combination("0.6D + 0.6W", 0.6, 0.6))
