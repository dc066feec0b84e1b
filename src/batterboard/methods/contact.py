"""Where does a rigid rectangle stay on a bed that cannot pull, when its load stands off centre both ways?

    u, v : how far the load stands off the middle, in sides        0.3, 0.2
    r, t : how steeply the pressure falls from the most pressed corner, in that corner's pressure a side

           t, v
            ^   corner 1                 pressure = q (1 - r x - t y), nothing where that is negative;
            |  +--------+                x, y from corner 1 along the sides, 0 to 1
            |  |  load  |  x <---        r, t <= 1, r + t <= 1  all of it presses
            |  |        |                r, t > 1               a triangle at corner 1
               +--------+                else a strip across, or all but the far corner

The pressure's resultant is the load. All but the last shape have a closed solution; there Newton finds it.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

_ROUNDS = 20  # six do
_LEAST = 1e-8  # of the slopes where part is lifted, so that nobody divides by a level one


def falling(u: ArrayLike, v: ArrayLike) -> tuple[Array, Array]:
    """r and t for a load at u, v; either sign. nan where it stands on an edge or beyond. Broadcasts."""
    u, v = np.broadcast_arrays(np.abs(np.asarray(u, float)), np.abs(np.asarray(v, float)))
    x, y = 0.5 - u, 0.5 - v  # the load's distance from the most pressed corner
    with np.errstate(all="ignore"):
        whole = 6 * (u + v) <= 1
        corner = (u >= 0.25) & (v >= 0.25)
        over_x, beside_x = _strip(x, y)
        over_y, beside_y = _strip(y, x)
        strip_x = ~whole & (u <= 0.25) & (beside_x >= 1)
        strip_y = ~whole & ~strip_x & (v <= 0.25) & (beside_y >= 1)
        r = np.where(
            whole, 12 * u / (1 + 6 * (u + v)), np.where(corner, 1 / (4 * x), np.where(strip_x, over_x, beside_y))
        )
        t = np.where(
            whole, 12 * v / (1 + 6 * (u + v)), np.where(corner, 1 / (4 * y), np.where(strip_x, beside_x, over_y))
        )
        rest = ~whole & ~corner & ~strip_x & ~strip_y & (u < 0.5) & (v < 0.5)
        if np.any(rest):
            r, t = np.array(r), np.array(t)
            r[rest], t[rest] = _all_but_a_corner(x[rest], y[rest])
        off = ~((u < 0.5) & (v < 0.5))
    r, t = (np.where(whole, slope, np.maximum(slope, _LEAST)) for slope in (r, t))
    return np.where(off, np.nan, r), np.where(off, np.nan, t)


def _strip(x: Array, y: Array) -> tuple[Array, Array]:
    """r and t where the whole side in x presses and less than that in y: it fits where r <= 1 <= t.

    The resultant's x fixes r by a quadratic, its y then t.
    """
    a, b, c = 1 / 4 - x / 3, x - 2 / 3, 1 / 2 - x
    r = 2 * c / (-b + np.sqrt(np.maximum(b * b - 4 * a * c, 0)))  # never divides by a, which passes through nothing
    t = (1 - 3 * r / 2 + r * r - r**3 / 4) / (1 - r + r * r / 3) / (3 * y)
    return r, t


def _all_but_a_corner(x: Array, y: Array) -> tuple[Array, Array]:
    """Newton on the two moment equations; each step stays inside r, t <= 1 < r + t."""
    u, v = 0.5 - x, 0.5 - y
    # Begin as if all pressed, a good guess near there, but inside.
    all_r, all_t = (12 * w / (1 + 6 * (u + v)) for w in (u, v))
    r, t = (np.minimum(a, np.maximum(0.99, 1 - b / 2)) for a, b in ((all_r, all_t), (all_t, all_r)))
    for _ in range(_ROUNDS):
        f, g, f_r, f_t, g_r, g_t = _unbalanced(r, t, x, y)
        det = f_r * g_t - f_t * g_r
        dr, dt = (-f * g_t + g * f_t) / det, (-g * f_r + f * g_r) / det
        # Half of what is left to the border is the longest step.
        room = np.ones_like(r)
        for now, step in ((1 - r, -dr), (1 - t, -dt), (r, dr), (t, dt), (r + t - 1, dr + dt)):
            room = np.where(now + step < 0, np.minimum(room, 0.7 * now / -step), room)
        r, t = r + room * dr, t + room * dt
        if np.all(np.abs(dr) + np.abs(dt) < 1e-14):
            break
    return r, t


def _unbalanced(r: Array, t: Array, x: Array, y: Array) -> tuple[Array, Array, Array, Array, Array, Array]:
    """Moments about the load of the pressure, along each side, and their derivatives by r and t."""
    v = r + t - 1
    k = v**3 / (6 * r * t)
    k_r, k_t = v * v / (2 * r * t) - k / r, v * v / (2 * r * t) - k / t
    i, i_r, i_t = 1 - r / 2 - t / 2 + k, -1 / 2 + k_r, -1 / 2 + k_t
    p, q = 1 - v / (4 * r), 1 - v / (4 * t)  # where the far corner's pull would act
    p_r, p_t = -1 / (4 * r) + v / (4 * r * r), -1 / (4 * r)
    q_r, q_t = -1 / (4 * t), -1 / (4 * t) + v / (4 * t * t)
    f = 1 / 2 - r / 3 - t / 4 + k * p - x * i
    g = 1 / 2 - r / 4 - t / 3 + k * q - y * i
    f_r, f_t = -1 / 3 + k_r * p + k * p_r - x * i_r, -1 / 4 + k_t * p + k * p_t - x * i_t
    g_r, g_t = -1 / 4 + k_r * q + k * q_r - y * i_r, -1 / 3 + k_t * q + k * q_t - y * i_t
    return f, g, f_r, f_t, g_r, g_t
