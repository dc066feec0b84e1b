"""Will the leaf still latch once it hangs?

    droop : soil under the hinge pier 0.08 in + bending of the post 0.26 in = 0.34 in at the latch end
    lean  : how much of the latch gap closes, both piers and the post

Only what the leaf's own weight adds counts: posts are plumbed before it hangs. A pad leans on a bed of springs that
also pulls, so nothing is said once its heel would lift; a pier without a pad leans against the springs of its sides,
about its mid depth. The tie beam helps along the gate only. Plates, hinges and the leaf's frame are taken as stiff. A
leaf on the latch pier that pulls the other way is counted where it makes things worse.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from batterboard.job.schema import Mix
from batterboard.phases.size.checks import bearing_width
from batterboard.phases.size.loads import hinge_axis
from batterboard.phases.size.results import Load, Movement
from batterboard.quantity import Length
from batterboard.standards import aci318, statics
from batterboard.work.records import Beam, Leaf, Post, Soil, Work
from batterboard.working import PRACTICE, Check, capacity, check, demand, nan, where


@dataclass(frozen=True, kw_only=True)
class Foot:
    """One of the two piers and what leans it, all leaves closed."""

    load: Load
    M_leaf: Any  # towards the latch
    M_dead: Any  # of all dead load, the same way
    P_dead: Any


@dataclass(frozen=True, kw_only=True)
class Hanging:
    """What a leaf hangs on and what it shuts on."""

    name: str  # of the hinge pier
    post: Post
    hinge: Foot
    latch: Foot | None
    tie: Beam | None
    l: Any  # between the piers' centres
    f_c: Any  # of the tie beam


def of_leaves(
    work: Work, loads: Mapping[str, Load], mixes: Mapping[str, Mix]
) -> dict[str, tuple[Movement, tuple[Check, ...]]]:
    """How each leaf moves, and whether it still latches."""
    made: dict[str, tuple[Movement, tuple[Check, ...]]] = {}
    for leaf in work.leaves.values():
        hanging = _hanging(leaf, work, loads, mixes)
        checks = (droop(leaf, hanging, work.soil), latch_gap_closed(leaf, hanging, work.soil))
        made[leaf.name] = moved(leaf, hanging, work.soil), checks
    return made


@check("Droop at the latch", clause=PRACTICE, of=Length, service=True)
def droop(leaf: Leaf, hanging: Hanging, soil: Soil) -> tuple[Any, Any, str]:
    how = moved(leaf, hanging, soil)
    return demand(how.droop), capacity(leaf.play), _tied_by(hanging)


@check("Latch gap closed by lean", clause=PRACTICE, of=Length, service=True)
def latch_gap_closed(leaf: Leaf, hanging: Hanging, soil: Soil) -> tuple[Any, Any, str]:
    how = moved(leaf, hanging, soil)
    return demand(how.lean), capacity(leaf.latch_gap), _tied_by(hanging)


def moved(leaf: Leaf, hanging: Hanging, soil: Soil) -> Movement:
    """Where the droop of one leaf comes from."""
    post, hinge, latch = hanging.post, hanging.hinge, hanging.latch
    L, B = hinge.load.foot.outline.along, hinge.load.foot.outline.across
    k_1, pivot_1 = _spring(hinge.load, soil)
    alone = statics.footing_tilt(hinge.M_leaf, k_1, e=_eccentricity(hinge), L=_heel(hinge, L))
    tilt, tilt_latch, tilt_dead, pivot_2 = alone, 0.0, hinge.M_dead / k_1, 0.0
    if latch is not None and hanging.tie is not None:
        beam = hanging.tie.body
        E_c = aci318.elastic_modulus(hanging.f_c)
        i = statics.tie_stiffness(E_c, statics.rectangle_inertia(beam.outline.across, beam.height), hanging.l)
        k_2, pivot_2 = _spring(latch.load, soil)
        tied = statics.tied_tilt(hinge.M_leaf, latch.M_leaf, k_1, k_2, i)
        tilt = where(alone == alone, tied, nan)  # once the heel lifts its spring means nothing, tied or not
        tilt_latch = statics.tied_tilt(latch.M_leaf, hinge.M_leaf, k_2, k_1, i)
        tilt_dead = statics.tied_tilt(hinge.M_dead, latch.M_dead, k_1, k_2, i)
    # The post, fixed at the top of its plate or where it comes out of the concrete.
    foot_z = post.base_z if post.plate is None else post.foot_z + post.plate.thick
    h, a = leaf.high - leaf.low, post.base_z + leaf.low - foot_z
    I = post.section.inertia
    H = statics.hinge_force(leaf.weight, leaf.length, h)
    bent = statics.post_rotation(H, h, a, statics.STEEL, I)
    z = post.base_z + leaf.clear + leaf.height / 2  # the latch, at the middle of the leaf
    d_post = statics.cantilever_deflection(H, a + h, z - foot_z, statics.STEEL, I) - statics.cantilever_deflection(
        H, a, z - foot_z, statics.STEEL, I
    )
    drop_soil = statics.droop_by_tilt(tilt, hinge_axis(post, leaf) + leaf.length)
    drop_post = statics.droop_by_tilt(bent, leaf.length)
    return Movement(
        name=leaf.name,
        tilt_alone=alone,
        tilt=tilt,
        tilt_latch=tilt_latch,
        post=bent,
        droop_soil=drop_soil,
        droop_post=drop_post,
        droop=statics.total_droop(drop_soil, drop_post),
        lean=statics.gap_closed(tilt, z - pivot_1, tilt_latch, z - pivot_2, d_post),
        pressure_rigid=statics.peak_soil_pressure(hinge.P_dead, hinge.M_dead, B, L),
        pressure_springs=statics.pressure_on_springs(hinge.P_dead, tilt_dead, soil.stiff, B, L),
        tied_by=hanging.tie.name if hanging.tie is not None else "",
    )


def _hanging(leaf: Leaf, work: Work, loads: Mapping[str, Load], mixes: Mapping[str, Mix]) -> Hanging:
    post = work.posts[leaf.hinge_post]
    hinge, latch = post.on, work.posts[leaf.latch_post].on
    tie = next((b for b in work.beams.values() if set(b.between) == {hinge, latch} and hinge != latch), None)
    a, b = work.bases[hinge].frame, work.bases[latch].frame
    return Hanging(
        name=hinge,
        post=post,
        hinge=_foot(hinge, leaf, work, loads),
        latch=_foot(latch, leaf, work, loads) if latch != hinge else None,
        tie=tie,
        l=np.hypot(a.x - b.x, a.y - b.y),
        f_c=mixes[tie.body.mix].strength if tie is not None else np.nan,
    )


def _foot(name: str, leaf: Leaf, work: Work, loads: Mapping[str, Load]) -> Foot:
    """One pier and what leans it towards the latch of this leaf: the leaf itself, or on the latch pier its opposite."""
    load = loads[name]
    frame = load.foot.frame
    c, s = np.cos(leaf.turn - frame.turn), np.sin(leaf.turn - frame.turn)
    M: Any = 0.0
    for each in work.leaves.values():
        post = work.posts[each.hinge_post]
        if post.on != name or (each is not leaf and name == work.posts[leaf.hinge_post].on):
            continue
        x, y = frame.into(post.frame.x, post.frame.y)
        turn = each.turn - frame.turn
        weight = statics.leaf_moment(
            each.weight, each.length, hinge_axis(post, each) + x * np.cos(turn) + y * np.sin(turn)
        )
        M = M + weight if each is leaf else M + np.minimum(np.cos(each.turn - leaf.turn) * weight, 0.0)
    return Foot(
        load=load,
        M_leaf=M,
        M_dead=_first(load.dead.tips_along) * c + _first(load.dead.tips_across) * s,
        P_dead=_first(load.dead.down),
    )


def _first(values: Any) -> Any:
    """The value in the first case, all closed and no wind."""
    first = values[0] if np.ndim(values) == 2 else values
    return first.item() if np.size(first) == 1 else first


def _spring(load: Load, soil: Soil) -> tuple[Any, Any]:
    """How hard a pier is to tip along, and the level it tips about."""
    foot = load.foot
    if load.stands:
        return statics.footing_spring(soil.stiff, foot.outline.across, foot.outline.along), foot.bottom
    return statics.footing_spring(soil.stiff, bearing_width(load), load.depth), foot.bottom + load.depth / 2


def _eccentricity(foot: Foot) -> Any:
    return np.abs(foot.M_dead) / foot.P_dead


def _heel(foot: Foot, L: Any) -> Any:
    """The side whose heel may not lift; the sides of a pier without a pad have none."""
    return L if foot.load.stands else np.inf


def _tied_by(hanging: Hanging) -> str:
    return f"With the help of the tie beam {hanging.tie.name}." if hanging.tie is not None else ""
