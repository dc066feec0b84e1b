"""How hard does the wind push on each thing that stands there?

    Push : leaf a, 692 lb at 3'-8" above the pier        strength level, normal to its face

A face more than seven tenths solid is a solid sign with openings, any other an open lattice of flat bars, on its solid
area. A post is a small chimney, square or round, over its whole height. What sways below one cycle a second, ice, and
the twist that wind off the middle of a face gives are not here.
"""

from typing import Any

import numpy as np

from batterboard.job.schema import Wind
from batterboard.phases.size.results import Push
from batterboard.quantity import Length, Number
from batterboard.standards import asce7
from batterboard.work.records import Post


def on_face(
    name: str, length: Length, height: Length, bottom: Length, ground: Length, solid: Number, wind: Wind
) -> Push:
    """Wind on a leaf or a sign. `bottom`, `ground` : above the job's zero; a face cannot stand in the ground."""
    above = np.maximum(bottom - ground, 0.0)
    dense = solid > asce7.OPEN_UP_TO

    def pushed() -> tuple[Any, Any]:
        given = (length, height, above, solid, wind)
        if np.all(dense):
            return _on_sign(*given)
        if not np.any(dense):
            return _on_lattice(*given)
        sign, lattice = _on_sign(*given), _on_lattice(*given)  # variants of both kinds
        return np.where(dense, sign[0], lattice[0]), np.where(dense, sign[1], lattice[1])

    force, z = pushed()
    return Push(name=name, force=force, area=length * height, z=ground + z, again=pushed)


def _on_lattice(length: Any, height: Any, above: Any, solid: Any, wind: Wind) -> tuple[Any, Any]:
    z = above + height / 2
    q = _pressure(z, asce7.DIRECTIONALITY["sign"], wind)
    A_f = asce7.solid_area(solid, length * height)
    return asce7.wind_force(q, asce7.GUST, asce7.open_sign_coefficient(solid), A_f), z


def _on_sign(length: Any, height: Any, above: Any, solid: Any, wind: Wind) -> tuple[Any, Any]:
    h = above + height
    q = _pressure(h, asce7.DIRECTIONALITY["sign"], wind)
    C_A = asce7.case_a_coefficient(length / height, height / h)
    C_C = asce7.case_c_coefficient(length / height)
    C_f = asce7.sign_coefficient(C_A, C_C, asce7.strip_reduction(height, h), asce7.openings_factor(solid))
    return asce7.wind_force(q, asce7.GUST, C_f, length * height), asce7.resultant_height(height, h)


def on_post(post: Post, ground: Length, wind: Wind) -> Push:
    """Wind on a post by itself, over all that stands above its concrete."""
    height = post.top_z - post.base_z
    middle = post.base_z + height / 2

    def pushed() -> tuple[Any, Any]:
        kind = post.section.kind
        q = _pressure(middle - ground, asce7.DIRECTIONALITY[kind], wind)
        C_f = asce7.post_coefficient(kind, height / post.section.depth)  # type: ignore[arg-type]
        return asce7.wind_force(q, asce7.GUST, C_f, post.section.depth * height), middle

    force, z = pushed()
    return Push(name=f"post {post.name}", force=force, area=post.section.depth * height, z=z, again=pushed)


def _pressure(z: Any, K_d: Any, wind: Wind) -> Any:
    exposure = asce7.EXPOSURES[wind.exposure]
    K_z = asce7.exposure_coefficient(z, exposure.alpha, exposure.z_g)
    return asce7.velocity_pressure(K_z, asce7.NO_HILL, K_d, asce7.SEA_LEVEL, wind.speed)
