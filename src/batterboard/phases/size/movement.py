"""Will the leaf still latch once it hangs?

    droop : soil under the hinge pier 0.08 in + bending of the post 0.26 in = 0.34 in at the latch end
    lean  : how much of the latch gap closes, both piers and the post

Only what the leaf's own weight adds counts: posts are plumbed before it hangs. A pad leans on a bed of springs that
also pulls, so nothing is said once its heel would lift; a pier without a pad leans against the springs of its sides,
about its mid depth. The tie beam helps along the gate only. Plates, hinges and the leaf's frame are taken as stiff. A
leaf on the latch pier that pulls the other way is counted where it makes things worse.
"""

from collections.abc import Mapping
from typing import Any

import numpy as np

from batterboard.job.schema import Mix
from batterboard.phases.size.checks import bearing_width
from batterboard.phases.size.loads import hinge_axis
from batterboard.phases.size.results import Load, Movement
from batterboard.quantity import Length
from batterboard.record import ordered, record
from batterboard.standards import aci318, statics
from batterboard.work.records import Beam, Leaf, Post, Soil, Work
from batterboard.working import Check, Document, capacity, check, demand

SERVICE = Document("Common practice", scale="fine").clause("", "common practice")


@ordered
class Arm:
    """A leaf's weight, its length, and from the middle of the foot to its hinge line."""

    W: Any
    w: Any
    offset: Any
    sense: Any  # +1 towards the latch of the leaf that is asked about, -1 the other way
    own: bool  # that leaf itself


@record
class Foot:
    """One of the two piers and what leans it, all leaves closed."""

    load: Load
    L: Any  # its side in the direction of the leaf, or the one nearer to it
    B: Any  # the other
    arms: tuple[Arm, ...]
    M_dead: Any  # towards the latch, of all dead load
    P_dead: Any


@record
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


@check("Droop at the latch", clause=SERVICE, of=Length, service=True)
def droop(leaf: Leaf, hanging: Hanging, soil: Soil) -> tuple[Any, Any, str]:
    drop_soil, drop_post = _drops(leaf, hanging, _leaf_leans(hanging, soil), _turned(leaf, hanging))
    return demand(statics.total_droop(drop_soil, drop_post)), capacity(leaf.play), _tied_by(hanging)


@check("Latch gap closed by lean", clause=SERVICE, of=Length, service=True)
def latch_gap_closed(leaf: Leaf, hanging: Hanging, soil: Soil) -> tuple[Any, Any, str]:
    lean = _lean(leaf, hanging, _leaf_leans(hanging, soil), soil)
    return demand(lean), capacity(leaf.latch_gap), _tied_by(hanging)


def moved(leaf: Leaf, hanging: Hanging, soil: Soil) -> Movement:
    """Where the droop of one leaf comes from; and the pressure under its pier by rigid contact and by springs."""
    hinge = hanging.hinge
    leans = _leaf_leans(hanging, soil)
    turned = _turned(leaf, hanging)
    drop_soil, drop_post = _drops(leaf, hanging, leans, turned)
    settled = _leans(hanging, soil, hinge.M_dead, hanging.latch.M_dead if hanging.latch else 0.0)
    sides = hinge.B, hinge.L
    return Movement(
        name=leaf.name,
        tilt_alone=leans.alone,
        tilt=leans.tilt,
        tilt_latch=leans.latch,
        post=turned,
        droop_soil=drop_soil,
        droop_post=drop_post,
        droop=statics.total_droop(drop_soil, drop_post),
        lean=_lean(leaf, hanging, leans, soil),
        pressure_rigid=statics.peak_soil_pressure(hinge.P_dead, hinge.M_dead, *sides),
        pressure_springs=statics.pressure_on_springs(hinge.P_dead, settled.tilt, soil.stiff, *sides),
        tied_by=hanging.tie.name if hanging.tie is not None else "",
    )


@ordered
class _Leans:
    """How far the piers lean towards the latch: the hinge pier without the tie beam and with it, the latch pier."""

    alone: Any
    tilt: Any
    latch: Any


def _leaf_leans(hanging: Hanging, soil: Soil) -> _Leans:
    return _leans(
        hanging, soil, *(_moment(foot) if foot is not None else 0.0 for foot in (hanging.hinge, hanging.latch))
    )


def _moment(foot: Foot) -> Any:
    """What leans a pier towards the latch; a leaf the other way only where it adds to the lean of the first."""
    M: Any = 0.0
    for arm in foot.arms:
        weight = statics.leaf_moment(arm.W, arm.w, arm.offset)
        M = M + (weight if arm.own else np.minimum(arm.sense * weight, 0.0))
    return M


def _leans(hanging: Hanging, soil: Soil, M_1: Any, M_2: Any) -> _Leans:
    hinge, latch, tie = hanging.hinge, hanging.latch, hanging.tie
    k_1 = _spring(hinge, soil)
    # The sides of a pier without a pad have no heel to lift.
    L = hinge.L if hinge.load.stands else np.inf
    alone = statics.footing_tilt(M_1, k_1, e=np.abs(hinge.M_dead) / hinge.P_dead, L=L)
    if latch is None or tie is None:
        return _Leans(alone, alone, 0.0)
    k_2 = _spring(latch, soil)
    I_g = statics.rectangle_inertia(tie.body.outline.across, tie.body.height)
    i = statics.tie_stiffness(aci318.elastic_modulus(hanging.f_c), I_g, hanging.l)
    tilt = statics.tied_tilt(M_1, M_2, k_1, k_2, i)
    # Once the heel lifts its spring means nothing, tied or not: nan of the one makes nan of the other.
    return _Leans(alone, tilt + 0 * alone, statics.tied_tilt(M_2, M_1, k_2, k_1, i))


def _turned(leaf: Leaf, hanging: Hanging) -> Any:
    """How far the line through the hinges turns as the post bends."""
    h, a = leaf.high - leaf.low, hanging.post.base_z + leaf.low - _fixed(hanging.post)
    H = statics.hinge_force(leaf.weight, leaf.length, h)
    return statics.post_rotation(H, h, a, statics.STEEL, hanging.post.section.inertia)


def _bent(leaf: Leaf, hanging: Hanging) -> Any:
    """How far the post bends at the latch's height: pulled at the upper hinge, pushed at the lower."""
    foot_z = _fixed(hanging.post)
    h, a, z = leaf.high - leaf.low, hanging.post.base_z + leaf.low - foot_z, _latch_z(leaf, hanging.post) - foot_z
    E, I = statics.STEEL, hanging.post.section.inertia
    H = statics.hinge_force(leaf.weight, leaf.length, h)
    return statics.cantilever_deflection(H, a + h, z, E, I) - statics.cantilever_deflection(H, a, z, E, I)


def _drops(leaf: Leaf, hanging: Hanging, leans: _Leans, turned: Any) -> tuple[Any, Any]:
    """At the latch end, by the soil and by the post."""
    drop_soil = statics.droop_by_tilt(leans.tilt, hinge_axis(hanging.post, leaf) + leaf.length)
    return drop_soil, statics.droop_by_tilt(turned, leaf.length)


def _lean(leaf: Leaf, hanging: Hanging, leans: _Leans, soil: Soil) -> Any:
    z = _latch_z(leaf, hanging.post)
    z_1 = z - _pivot(hanging.hinge.load)
    z_2 = z - _pivot(hanging.latch.load) if hanging.latch is not None else 0.0
    return statics.gap_closed(leans.tilt, z_1, leans.latch, z_2, _bent(leaf, hanging))


def _fixed(post: Post) -> Any:
    """Where the post is held: at the top of its plate, or where it comes out of the concrete."""
    return post.base_z if post.plate is None else post.foot_z + post.plate.thick


def _latch_z(leaf: Leaf, post: Post) -> Any:
    """The latch, taken at the middle of the leaf's height."""
    return post.base_z + leaf.clear + leaf.height / 2


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
    frame, outline = load.foot.frame, load.foot.outline
    c, s = np.cos(leaf.turn - frame.turn), np.sin(leaf.turn - frame.turn)
    arms = []
    for each in work.leaves.values():
        post = work.posts[each.hinge_post]
        if post.on == name and (each is leaf or name != work.posts[leaf.hinge_post].on):
            x, y = frame.into(post.frame.x, post.frame.y)
            turn = each.turn - frame.turn
            offset = hinge_axis(post, each) + x * np.cos(turn) + y * np.sin(turn)
            arms.append(Arm(each.weight, each.length, offset, np.cos(each.turn - leaf.turn), each is leaf))
    sides = outline.along, outline.across
    if np.all(np.abs(c) < np.abs(s)):
        sides = sides[::-1]
    return Foot(
        load=load,
        L=sides[0],
        B=sides[1],
        arms=tuple(arms),
        M_dead=_first(load.dead.tips_along) * c + _first(load.dead.tips_across) * s,
        P_dead=_first(load.dead.down),
    )


def _first(values: Any) -> Any:
    """The value in the first case, all closed and no wind."""
    first = values[0] if np.ndim(values) == 2 else values
    return first.item() if np.size(first) == 1 else first


def _spring(foot: Foot, soil: Soil) -> Any:
    """How hard a pier is to tip towards the latch."""
    if foot.load.stands:
        return statics.footing_spring(soil.stiff, foot.B, foot.L)
    return statics.footing_spring(soil.stiff, bearing_width(foot.load), foot.load.depth)


def _pivot(load: Load) -> Any:
    """The level it tips about."""
    return load.foot.bottom if load.stands else load.foot.bottom + load.depth / 2


def _tied_by(hanging: Hanging) -> str:
    return f"With the help of the tie beam {hanging.tie.name}." if hanging.tie is not None else ""
