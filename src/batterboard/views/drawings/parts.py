"""What is a part of a form, as pictures and models take it?

Part("west B1", "panel", (solid,), away=(0.3, 0.0, 0.0))     where it stands, and how far off when drawn apart
"""

from dataclasses import dataclass

import numpy as np

from batterboard.methods.solids import Solid

Vector = tuple[float, float, float]


@dataclass(frozen=True)
class Part:
    mark: str
    kind: str  # "panel", "strip", "blockout", "yoke", "brace", "concrete"
    solids: tuple[Solid, ...]
    away: Vector = (0.0, 0.0, 0.0)
    drawn: tuple[Solid, ...] = ()  # as pictures take it, where not as it is: openings not cut, long pieces in parts
    seams: tuple[tuple[np.ndarray, float], ...] = ()  # planes between those parts, which nobody sees
    openings: tuple[tuple[np.ndarray, np.ndarray], ...] = ()  # normal of a face, corners of a hole in it

    @property
    def middle(self) -> Vector:
        points = np.concatenate([np.column_stack(solid.vertices) for solid in self.solids])
        x, y, z = (points.min(axis=0) + points.max(axis=0)) / 2
        return float(x), float(y), float(z)

    @property
    def high(self) -> Vector:
        """Near its upper end, where what stands before it covers it least."""
        x, y, z = self.middle
        top = max(float(solid.vertices[2].max()) for solid in self.solids)
        return x, y, z + 0.85 * (top - z)
