"""How near do straight lines come to each other in space?

    lines    : Lines(x, y, z), each (n, 2, ...variants)    n segments by their two ends
    nearest  : every segment of one against every one of another: distance, and where along each

Closed form, all pairs at once: the nearest points of two infinite lines, then held to the ends one after the other.
"""

from typing import Any

import numpy as np

from batterboard.record import ordered


@ordered
class Lines:
    """Segments by their ends, items first."""

    x: Any
    y: Any
    z: Any

    @classmethod
    def along(cls, x: Any, y: Any, z: Any) -> "Lines":
        """The segments of polylines given corner by corner: (n, corners, ...) or (corners, ...) for one alone."""

        def ends(v: Any) -> Any:
            v = np.asarray(v, float)
            return np.stack([v[:, :-1], v[:, 1:]], axis=2).reshape((-1, 2, *v.shape[2:]))

        return cls(ends(x), ends(y), ends(z))

    def __len__(self) -> int:
        return len(self.x)


@ordered
class Nearest:
    """Of every pair: (n, m, ...variants)."""

    distance: Any
    x: Any  # halfway between the two nearest points
    y: Any
    z: Any
    cosine: Any  # of the angle between the two, 0 to 1; 0 where one has no length


def nearest(one: Lines, other: Lines) -> Nearest:
    """All pairs of two sets of segments."""
    first, second = (np.stack(np.broadcast_arrays(v.x, v.y, v.z)) for v in (one, other))  # (3, n, 2, ...)
    p, q = first[:, :, None, 0], second[:, None, :, 0]
    u, v = first[:, :, None, 1] - p, second[:, None, :, 1] - q
    w = p - q
    uu, vv, uv, uw, vw = _dot(u, u), _dot(v, v), _dot(u, v), _dot(u, w), _dot(v, w)
    both = uu * vv
    across = both - uv * uv
    with np.errstate(all="ignore"):
        # Parallel ones have no nearest point of their own: any place along the first will do.
        s = np.where(across > 1e-12 * both, (uv * vw - vv * uw) / across, 0.0).clip(0, 1)
        t = np.where(vv > 0, (uv * s + vw) / vv, 0.0).clip(0, 1)
        s = np.where(uu > 0, (uv * t - uw) / uu, 0.0).clip(0, 1)
        cosine = np.where(both > 0, np.abs(uv) / np.sqrt(both), 0.0)
    a, b = p + s * u, q + t * v
    gap = a - b
    x, y, z = (a + b) / 2
    return Nearest(np.sqrt(_dot(gap, gap)), x, y, z, cosine)


def _dot(a: Any, b: Any) -> Any:
    return (a * b).sum(axis=0)
