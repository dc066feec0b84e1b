"""Equilibrium and beam theory: footings that cannot pull on the soil, piers on springs, posts with a leaf on them.

    peak_soil_pressure    a footing tipped one way          corner_pressure   tipped both ways at once
    footing_spring, tied_tilt      how far a pier leans     post_rotation     how far the hinges turn
    combined_force, combined_moment                         one load combination out of its kinds of load

Moments have signs where a leaf can hang on either side; each formula says what its sign means. L is the side in the
direction the footing is tipped, B the other.
"""

from batterboard.quantity import (
    Angle,
    Area,
    Force,
    Length,
    Moment,
    Number,
    Pressure,
    RotationalStiffness,
    SecondMoment,
    Subgrade,
    ksi,
)
from batterboard.working import STATICS, absolute, formula, hypot, maximum, where

STEEL = 29000 * ksi  # elastic modulus of structural steel, AISC 360 (from memory)

# ---- a rigid footing on soil that cannot be pulled ----


@formula(source=STATICS)
def combined_force(f_D: Number, D: Force, f_W: Number, W: Force, f_L: Number, L: Force) -> Force:
    """One combination of dead load, wind and live load, in one direction [N]."""
    P = f_D * D + f_W * W + f_L * L
    return P


@formula(source=STATICS)
def combined_moment(f_D: Number, M_D: Moment, f_W: Number, M_W: Moment, f_L: Number, M_L: Moment) -> Moment:
    """One combination of dead load, wind and live load, tipping one way [N m]."""
    M = f_D * M_D + f_W * M_W + f_L * M_L
    return M


@formula(source=STATICS, limits="P > 0; e < L / 2")
def peak_soil_pressure(P: Force, M: Moment, B: Length, L: Length) -> Pressure:
    """Largest pressure under a rigid B x L footing that cannot pull on the soil [Pa].

    P : downward load [N];  M : moment along L, either sign [N m];  B, L : sides [m].  All broadcast.
    """
    e = absolute(M) / P
    q_full = P / (B * L) * (1 + 6 * e / L)
    q_part = 2 * P / (3 * B * (L / 2 - e))
    q = where(e <= L / 6, q_full, q_part)
    return q


@formula(source=STATICS, limits="P > 0; e < L / 2")
def contact_length(P: Force, M: Moment, L: Length) -> Length:
    """How much of the side L stays on the soil [m]."""
    e = absolute(M) / P
    l_part = 3 * (L / 2 - e)
    l = where(e <= L / 6, L, l_part)
    return l


@formula(source=STATICS, limits="P > 0")
def off_centre(P: Force, M: Moment, L: Length) -> Number:
    """How far the load stands off the middle of a side, in sides; a half is its edge [-]."""
    e = absolute(M) / P
    u = e / L
    return u


@formula(source=STATICS, limits="P > 0; r >= 0; t >= 0")
def corner_pressure(P: Force, B: Length, L: Length, r: Number, t: Number) -> Pressure:
    """Pressure at the most pressed corner of a rigid B x L footing tipped both ways [Pa].

    From that corner the pressure falls by its r-fold over the side L and by its t-fold over the side B, not below
    nothing. r and t put its resultant under the load (`methods.contact`); here it only has to carry P.
    """
    i_all = 1 - (r + t) / 2
    i_part = (1 - maximum(0, 1 - r) ** 3 - maximum(0, 1 - t) ** 3) / (6 * r * t)
    i = where(r + t <= 1, i_all, i_part)
    q = P / (B * L * i)
    return q


@formula(source=STATICS, limits="r >= 0; t >= 0")
def contact_area(B: Length, L: Length, r: Number, t: Number) -> Area:
    """How much of a B x L footing presses, tipped both ways as in `corner_pressure` [m2]."""
    A_all = B * L
    A_part = B * L * (1 - maximum(0, 1 - r) ** 2 - maximum(0, 1 - t) ** 2) / (2 * r * t)
    A = where(r + t <= 1, A_all, A_part)
    return A


@formula(source=STATICS)
def mean_pressure(P: Force, A: Area) -> Pressure:
    """Weight spread evenly over a foot [Pa]."""
    q = P / A
    return q


@formula(source=STATICS)
def tipping(M: Moment) -> Moment:
    """What tips a footing about its edge, whichever way [N m]."""
    M_tip = absolute(M)
    return M_tip


@formula(source=STATICS, limits="L > 0; n > 0")
def righting(P: Force, L: Length, n: Number) -> Moment:
    """What rights it: the load's arm to the edge, made n times safe [N m]. Nothing where it is lifted."""
    M_right = maximum(P, 0) * L / 2 / n
    return M_right


@formula(source=STATICS)
def side_push(V_L: Force, V_B: Force) -> Force:
    """Both directions of the push together [N]."""
    V = hypot(V_L, V_B)
    return V


@formula(source=STATICS, limits="n > 0")
def made_safe(R: Force, n: Number) -> Force:
    """A resistance with its margin taken off [N]."""
    R_safe = R / n
    return R_safe


@formula(source=STATICS)
def moment_at_ground(M_L: Moment, M_B: Moment, V_L: Force, V_B: Force, d: Length) -> Moment:
    """Moment about the ground of loads known at the foot, d below it, both directions together [N m].

    The push times its depth is taken off again: at the foot it tips more than at the ground.
    """
    M_ground_L = M_L - V_L * d
    M_ground_B = M_B - V_B * d
    M = hypot(M_ground_L, M_ground_B)
    return M


# ---- piers on springs, tied by a beam ----


@formula(source=STATICS, limits="k_s > 0; B > 0; L > 0")
def footing_spring(k_s: Subgrade, B: Length, L: Length) -> RotationalStiffness:
    """How hard a rigid footing on a bed of springs is to tip along L [N m/rad]."""
    I = B * L**3 / 12
    k_theta = k_s * I
    return k_theta


@formula(source=STATICS, limits="k_theta > 0; e <= L / 6")
def footing_tilt(M: Moment, k_theta: RotationalStiffness, *, e: Length, L: Length) -> Angle:
    """Lean of a footing on its bed, in the sense of M [rad]. Once the heel lifts the bed would have to pull.

    M : what makes it lean;  e : eccentricity of all dead load, either sign.
    """
    theta = M / k_theta
    return theta


@formula(source=STATICS, limits="b > 0; h > 0")
def rectangle_inertia(b: Length, h: Length) -> SecondMoment:
    """I_g of a rectangle b wide and h deep, uncracked [m4]."""
    I_g = b * h**3 / 12
    return I_g


@formula(source=STATICS, limits="l > 0")
def tie_stiffness(E_c: Pressure, I_g: SecondMoment, l: Length) -> RotationalStiffness:
    """i of a cracked tie beam: the ends of a beam turned by theta_1 and theta_2 hold 4 i theta_1 + 2 i theta_2."""
    i = 0.35 * E_c * I_g / l
    return i


@formula(source=STATICS, limits="k_1 > 0; k_2 > 0; i >= 0")
def tied_tilt(
    M_1: Moment, M_2: Moment, k_1: RotationalStiffness, k_2: RotationalStiffness, i: RotationalStiffness
) -> Angle:
    """Lean of the first of two piers on springs that a beam ties together [rad]. Both moments in one sense.

    Swap the numbers for the second pier. [[k_1 + 4 i, 2 i], [2 i, k_2 + 4 i]] theta = M, solved.
    """
    D = (k_1 + 4 * i) * (k_2 + 4 * i) - 4 * i**2
    theta_1 = (M_1 * (k_2 + 4 * i) - 2 * i * M_2) / D
    return theta_1


@formula(source=STATICS)
def pressure_on_springs(P: Force, theta: Angle, k_s: Subgrade, B: Length, L: Length) -> Pressure:
    """Largest pressure under a footing that leans by theta on its springs [Pa]. Where the heel lifts it is more."""
    q = P / (B * L) + k_s * absolute(theta) * L / 2
    return q


# ---- a post with a leaf on it ----


@formula(source=STATICS)
def leaf_moment(W: Force, w: Length, offset: Length) -> Moment:
    """What a hanging leaf does to its post or pier [N m].

    W, w : weight and length of the leaf;  offset : from what it turns about to the hinge line; negative beyond it.
    """
    M = W * (w / 2 + offset)
    return M


@formula(source=STATICS, limits="s > 0")
def hinge_force(W: Force, w: Length, s: Length) -> Force:
    """Pull at the upper hinge, push at the lower [N]. s : between the hinges."""
    H = W * (w / 2) / s
    return H


@formula(source=STATICS, limits="e >= 0; e <= 0.5")
def latched_share(F: Force, e: Number) -> Force:
    """The most that a post takes of the wind on a closed, latched leaf [N].

    e : how far off the leaf's middle the wind may sit, in its lengths.
    """
    R = F * (1 / 2 + e)
    return R


@formula(source=STATICS, limits="a >= 0; z >= 0; E > 0; I > 0")
def cantilever_deflection(P: Force, a: Length, z: Length, E: Pressure, I: SecondMoment) -> Length:
    """How far an upright post fixed at its foot moves at z, pushed by P at a [m]."""
    d_above = P * a**3 / (3 * E * I) + P * a**2 * (z - a) / (2 * E * I)
    d_below = P * z**2 * (3 * a - z) / (6 * E * I)
    d = where(z >= a, d_above, d_below)
    return d


@formula(source=STATICS, limits="a >= 0; h > 0; E > 0; I > 0")
def post_rotation(H: Force, h: Length, a: Length, E: Pressure, I: SecondMoment) -> Angle:
    """How far the line through two hinges turns when the post bends under their couple [rad].

    h : between the hinges;  a : from the post's fixed foot up to the lower one.
    """
    theta_foot = H * h * a / (E * I)
    theta_span = H * h**2 / (3 * E * I)
    theta = theta_foot + theta_span
    return theta


@formula(source=STATICS)
def droop_by_tilt(theta: Angle, reach: Length) -> Length:
    """How far a point comes down when what carries it leans [m]. reach : level distance to the point."""
    drop = theta * reach
    return drop


@formula(source=STATICS)
def total_droop(drop_soil: Length, drop_post: Length) -> Length:
    """Both together; a leaf that is lifted misses its latch as well [m]."""
    drop = absolute(drop_soil + drop_post)
    return drop


@formula(source=STATICS)
def gap_closed(theta_1: Angle, z_1: Length, theta_2: Angle, z_2: Length, d_post: Length) -> Length:
    """How much of the latch gap is gone at the latch's height, or opened too far [m].

    theta_1, theta_2 : lean of the hinge pier and the latch pier, towards the latch
    z_1, z_2 : height of the latch above their feet;  d_post : how far the hinge post bends there.
    """
    lean = absolute(theta_1 * z_1 - theta_2 * z_2 + d_post)
    return lean
