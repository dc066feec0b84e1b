"""How far do a few members on springs move and turn? Two piers on soil, say, and the tie beam between them.

    node   : a joint, x to the right, z up                              foot and head of each pier
    member : a straight prismatic bar from node to node                 pier, tie beam: axial EA, bending EI
    spring : what the soil gives at a node                              along x, along z, against turning

           z, w                     theta is counter-clockwise, from x towards z; a load is positive
            |   ) theta             in the direction of its displacement
            +-----> x, u

Bending without shear strain, small displacements. Which nodes and members exist is structure; every number may have
variants behind the nodes or members, loads also cases: (nodes, cases, variants).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from batterboard.quantity import Length, RotationalStiffness, Stiffness, Subgrade

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False, kw_only=True)
class Frame:
    """Nodes on springs, joined by members. SI; all numbers (nodes, ...) or (members, ...)."""

    x: ArrayLike
    z: ArrayLike
    members: tuple[tuple[int, int], ...]  # node numbers, from 0
    axial: ArrayLike  # EA [N]
    bending: ArrayLike  # EI [N m2]
    spring_u: ArrayLike  # [N/m]
    spring_w: ArrayLike  # [N/m]
    spring_theta: ArrayLike  # [N m/rad]

    @cached_property
    def flexibility(self) -> Array:
        """Displacement of each freedom for a unit load at each (3 nodes, 3 nodes, ...); nan where the frame is loose.

        Freedoms: u of all nodes, then w, then theta.
        """
        ends, turned = self._turned
        springs = _together(self.spring_u, self.spring_w, self.spring_theta)
        springs = np.einsum("ij,j...->ij...", np.eye(len(springs)), springs)
        members = np.einsum("mai...,mab...,mbj...->mij...", turned, self._members, turned)
        springs, *each = _behind(springs, *members, items=2)
        whole = np.array(np.broadcast_to(springs, np.broadcast_shapes(springs.shape, (1, 1, *each[0].shape[2:]))))
        for at, one in zip(ends, each, strict=True):
            whole[np.ix_(at, at)] += one
        return np.moveaxis(_inverse(np.moveaxis(whole, (0, 1), (-2, -1))), (-2, -1), (0, 1))

    def displaced(self, force_u: ArrayLike, force_w: ArrayLike, moment: ArrayLike) -> tuple[Array, Array, Array]:
        """u, w [m] and theta [rad] of the nodes (nodes, ...) under loads at the nodes (nodes, ...)."""
        moved = np.einsum("ij...,j...->i...", self.flexibility, _together(force_u, force_w, moment))
        u, w, theta = moved.reshape(3, -1, *moved.shape[1:])
        return u, w, theta

    def end_forces(self, u: ArrayLike, w: ArrayLike, theta: ArrayLike) -> tuple[Array, Array, Array]:
        """What each node does to each member's ends: along it, across it (its left) [N], and moment [N m].

        Each (members, 2, ...): at the first node, at the second.
        """
        ends, turned = self._turned
        moved = _together(u, w, theta)[ends]
        forces = np.einsum("mab...,mbi...,mi...->ma...", self._members, turned, moved)
        return forces[:, [0, 3]], forces[:, [1, 4]], forces[:, [2, 5]]

    @cached_property
    def _length(self) -> Array:
        first, second = np.array(self.members, dtype=np.intp).reshape(-1, 2).T
        x, z = _behind(np.asarray(self.x, float), np.asarray(self.z, float))
        return np.hypot(x[second] - x[first], z[second] - z[first])

    @cached_property
    def _members(self) -> Array:
        """Stiffness of each member in its own axes (members, 6, 6, ...): along, across, turning, at each end."""
        length, axial, bending = np.broadcast_arrays(
            *_behind(self._length, np.asarray(self.axial, float), np.asarray(self.bending, float))
        )
        a, k = axial / length, bending / length
        s, t = 6 * k / length, 12 * k / length**2
        o = np.zeros_like(a)
        rows = [
            [a, o, o, -a, o, o],
            [o, t, s, o, -t, s],
            [o, s, 4 * k, o, -s, 2 * k],
            [-a, o, o, a, o, o],
            [o, -t, -s, o, t, -s],
            [o, s, 2 * k, o, -s, 4 * k],
        ]
        return np.moveaxis(np.array(rows), 2, 0)

    @cached_property
    def _turned(self) -> tuple[NDArray[np.intp], Array]:
        """Numbers of each member's six freedoms, and the turn into its own axes (members, 6, 6, ...)."""
        pairs = np.array(self.members, dtype=np.intp).reshape(-1, 2)
        x, z = _behind(np.asarray(self.x, float), np.asarray(self.z, float))
        first, second = pairs.T
        dx, dz, length = _behind(x[second] - x[first], z[second] - z[first], self._length)
        c, s = np.broadcast_arrays(dx / length, dz / length)
        turned = np.zeros((len(pairs), 6, 6, *c.shape[1:]))
        for at in (0, 3):
            turned[:, at, at] = turned[:, at + 1, at + 1] = c
            turned[:, at, at + 1], turned[:, at + 1, at] = s, -s
            turned[:, at + 2, at + 2] = 1.0
        nodes = len(x)
        ends = np.stack([pairs + part * nodes for part in range(3)], axis=2).reshape(len(pairs), 6)
        return ends, turned


def footing_springs(k_s: Subgrade, B: Length, L: Length) -> tuple[Stiffness, RotationalStiffness]:
    """Springs of a rigid B x L footing on a bed of springs k_s [N/m3]: down [N/m] and turning along L [N m/rad].

    All broadcast. The bed is taken to pull where the heel would lift, so a large moment turns it further than this.
    """
    return k_s * B * L, k_s * B * L**3 / 12


def _behind(*arrays: Array, items: int = 1) -> list[Array]:
    """The same number of axes for all: what has no variants gets axes for them behind its items."""
    deep = max(v.ndim for v in arrays)
    return [v.reshape(v.shape[:items] + (1,) * (deep - v.ndim) + v.shape[items:]) for v in arrays]


def _together(u: ArrayLike, w: ArrayLike, theta: ArrayLike) -> Array:
    """The three kinds of freedom in one array (3 nodes, ...)."""
    return np.concatenate(np.broadcast_arrays(*_behind(*(np.asarray(v, float) for v in (u, w, theta)))))


def _inverse(stiffness: Array) -> Array:
    """Inverses (..., n, n), nan for those that have none: with one loose variant the others must still stand."""
    # Newtons a metre and newton metres a radian are only comparable against the diagonal.
    size: Array = np.sqrt(np.diagonal(stiffness, axis1=-2, axis2=-1))
    size = np.where(size > 0, size, np.nan)
    scale = size[..., :, None] * size[..., None, :]
    scaled: Array = stiffness / scale
    known = np.isfinite(scaled).all(axis=(-2, -1), keepdims=True)
    loose = ~known | (np.linalg.eigvalsh(np.where(known, scaled, 0.0))[..., :1, None] < _LOOSE)
    inverse: Array = np.linalg.inv(np.where(loose, np.eye(scaled.shape[-1]), scaled))
    inverse = np.where(loose, np.nan, inverse) / scale
    return inverse


_LOOSE = 1e-12  # of a joint's own stiffness
