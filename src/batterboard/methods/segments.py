"""How near do straight lines come to each other in space?

    lines    : Lines(x, y, z), each (n, 2, ...variants)    n segments by their two ends
    nearest  : every segment of one against every one of another: distance, and where along each

Closed form, all pairs at once: the nearest points of two infinite lines, then held to the ends one after the other.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np


@dataclass(frozen=True)
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


@dataclass(frozen=True)
class Nearest:
    """Of every pair: (n, m, ...variants)."""

    distance: Any
    x: Any  # halfway between the two nearest points
    y: Any
    z: Any
    cosine: Any  # of the angle between the two, 0 to 1; 0 where one has no length


def nearest(one: Lines, other: Lines) -> Nearest:
    """All pairs of two sets of segments."""
    p = [v[:, None, 0] for v in (one.x, one.y, one.z)]
    q = [v[None, :, 0] for v in (other.x, other.y, other.z)]
    u = [v[:, None, 1] - v[:, None, 0] for v in (one.x, one.y, one.z)]
    v = [w[None, :, 1] - w[None, :, 0] for w in (other.x, other.y, other.z)]
    w = [a - b for a, b in zip(p, q, strict=True)]
    uu, vv, uv, uw, vw = _dot(u, u), _dot(v, v), _dot(u, v), _dot(u, w), _dot(v, w)
    across = uu * vv - uv * uv
    with np.errstate(all="ignore"):
        # Parallel ones have no nearest point of their own: any place along the first will do.
        s = np.where(across > 1e-12 * uu * vv, (uv * vw - vv * uw) / across, 0.0).clip(0, 1)
        t = np.where(vv > 0, (uv * s + vw) / vv, 0.0).clip(0, 1)
        s = np.where(uu > 0, (uv * t - uw) / uu, 0.0).clip(0, 1)
        cosine = np.where((uu > 0) & (vv > 0), np.abs(uv) / np.sqrt(uu * vv), 0.0)
    a = [start + s * run for start, run in zip(p, u, strict=True)]
    b = [start + t * run for start, run in zip(q, v, strict=True)]
    gap = [i - j for i, j in zip(a, b, strict=True)]
    x, y, z = [(i + j) / 2 for i, j in zip(a, b, strict=True)]
    return Nearest(np.sqrt(_dot(gap, gap)), x, y, z, cosine)


def _dot(a: Any, b: Any) -> Any:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
