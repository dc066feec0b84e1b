"""How long is the post, where are the hinges, how much is left at the latch?

    cut    : PostCut("hinge", length=2.10, weight=139.0, ...)   from the plate's top, or from the foot of a cast-in post
    hang   : Hang("a", low=0.28, high=1.50, opening at both hinges, gap left at the latch)

The opening is taken between the posts where they were found, at both hinge heights, so that a post out of plumb shows.
Weld sequence, shims and rake are not here.
"""

from typing import Any

import numpy as np

from batterboard.quantity import Force, Length
from batterboard.record import record
from batterboard.standards import aisc360, statics
from batterboard.work.records import Leaf, Post, Work
from batterboard.working import GEOMETRY, PRACTICE, Check, absolute, capacity, check, demand, formula, maximum


@record
class PostCut:
    name: str
    section: str
    on: str
    length: Length  # to cut
    above_plate: Length  # what stands above the plate, or above the concrete of a cast-in post
    weight: Force
    plate_along: Length | None  # None for a cast-in post
    plate_across: Length | None
    plate_thick: Length | None
    weld: Length | None
    thinner: Length | None  # of plate and wall: the weld goes by it
    least_weld: Length | None


@record
class Hang:
    """One leaf: hinge places on its post, and what is left between the posts at the height of each hinge."""

    name: str
    hinge_post: str
    latch_post: str
    low: Length  # hinges above the plate's top
    high: Length
    hinge_gap: Length
    latch_gap: Length  # as planned
    opening_low: Length  # clear between the posts' faces
    opening_high: Length
    left_low: Length  # what is left for the latch at each hinge's height
    left_high: Length
    hinge_force: Force  # pull at the upper hinge, push at the lower one


@record
class Steel:
    posts: tuple[PostCut, ...]
    hangs: tuple[Hang, ...]
    checks: tuple[Check, ...]


def posts(work: Work) -> Steel:
    """Cut list of the posts, and how the leaves hang between them."""
    cuts = tuple(_cut(post) for post in work.posts.values())
    hangs = tuple(_hang(work, leaf) for leaf in work.leaves.values())
    checks = (
        *(weld_leg(cut) for cut in cuts if cut.weld is not None),
        *(latch_gap(hang) for hang in hangs),
    )
    return Steel(posts=cuts, hangs=hangs, checks=checks)


@check("Weld of the post, leg", clause=aisc360.FILLET_LEAST, of=Length)
def weld_leg(cut: PostCut) -> tuple[Any, Any]:
    least = aisc360.least_fillet(cut.thinner)
    return demand(np.round(least, 9)), capacity(np.round(np.asarray(cut.weld, float), 9)[()])


@check("Latch gap off its plan, worse hinge", clause=PRACTICE, of=Length, service=True)
def latch_gap(hang: Hang) -> tuple[Any, Any, str]:
    off = gap_off(hang.left_low, hang.left_high, hang.latch_gap)
    return demand(np.round(off, 9)), capacity(hang.latch_gap / 2), "the latch takes half its gap either way"


@formula(source=GEOMETRY)
def gap_off(g_low: Length, g_high: Length, g: Length) -> Length:
    """How far the latch gap is off its plan g at the height of the worse hinge, too wide or too narrow [m]."""
    off_low = absolute(g_low - g)
    off_high = absolute(g_high - g)
    off = maximum(off_low, off_high)
    return off


def _cut(post: Post) -> PostCut:
    plate, section = post.plate, post.section
    foot = post.foot_z + (plate.thick if plate else 0.0)
    length = post.top_z - foot
    welded = plate is not None and not np.all(np.isnan(plate.weld))
    thinner = np.minimum(plate.thick, section.wall)[()] if plate and welded else None
    return PostCut(
        name=post.name,
        section=section.name,
        on=post.on,
        length=length,
        above_plate=length if plate else post.top_z - post.base_z,
        weight=length * section.weight,
        plate_along=plate.along if plate else None,
        plate_across=plate.across if plate else None,
        plate_thick=plate.thick if plate else None,
        weld=plate.weld if plate and welded else None,
        thinner=thinner,
        least_weld=aisc360.least_fillet(thinner) if welded else None,
    )


def _hang(work: Work, leaf: Leaf) -> Hang:
    hinge, latch = work.posts[leaf.hinge_post], work.posts[leaf.latch_post]
    other = work.leaves.get(leaf.meets)
    openings = [_opening(hinge, latch, z) for z in (leaf.low, leaf.high)]
    filled = leaf.length + leaf.hinge_gap + (other.length + other.hinge_gap if other else 0.0)
    thick = hinge.plate.grout + hinge.plate.thick if hinge.plate else 0.0
    return Hang(
        name=leaf.name,
        hinge_post=leaf.hinge_post,
        latch_post=leaf.latch_post,
        low=leaf.low - thick,
        high=leaf.high - thick,
        hinge_gap=leaf.hinge_gap,
        latch_gap=leaf.latch_gap,
        opening_low=openings[0],
        opening_high=openings[1],
        left_low=openings[0] - filled,
        left_high=openings[1] - filled,
        hinge_force=statics.hinge_force(leaf.weight, leaf.length, leaf.high - leaf.low),
    )


def _opening(one: Post, other: Post, z: Length) -> Length:
    """Clear between two posts' faces at a height above the concrete, out of plumb and all."""
    x1, y1 = one.frame.out(z * np.tan(one.lean), 0.0)
    x2, y2 = other.frame.out(z * np.tan(other.lean), 0.0)
    return np.hypot(x2 - x1, y2 - y1) - (one.section.depth + other.section.depth) / 2
