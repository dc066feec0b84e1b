"""How wide is the opening between the posts, does the leaf go into it, and does it latch?

    opening  : Opening("leaf", between=4.18, clear=4.05, misclosure=0.0, ...)
    link     : Link("latch gap", total=False, low=0.025, high=0.024, ...)      lengths of the chain, then its sums
    latching : Latching("leaf", gap=0.025, drop=0.001, fits=0.998, latches=0.97, ...)

From post to post: half a post, hinge gap, leaf, latch gap, half a post; at the lower and the upper hinges, since posts
lean. The errors are those that put the posts there, and the leaf's own length. The latch stands where the leaf's end
was meant to come: its play takes what leaning posts let it drop, and what the piers' tops differ more than planned.
"""

from collections.abc import Iterator
from functools import cached_property
from typing import Any

import numpy as np

from batterboard.methods import errors
from batterboard.phases.setout.closing import posts_of
from batterboard.phases.setout.order import alone, shares
from batterboard.phases.setout.places import Layout, Site
from batterboard.phases.setout.results import Latching, Link, Opening
from batterboard.record import ordered
from batterboard.standards import layout
from batterboard.work.records import Leaf
from batterboard.working import cos, sin

SAMPLES = 2000
SEED = 2
GAP, GAP_HIGH, DROP, PLUMB, LEVEL, POSTS, POSTS_HIGH, PLATES, PIERS = range(9)  # what `_asked` gives, in its order


@ordered
class Asked:
    """One opening, and all that is asked of it with how sure it is."""

    leaves: tuple[Leaf, ...]
    posts: tuple[str, str]
    spread: errors.Spread
    vector: errors.ErrorVector

    @property
    def name(self) -> str:
        return " + ".join(leaf.name for leaf in self.leaves)

    def nominal(self, item: int) -> Any:
        return alone(self.spread.nominal[item])

    @cached_property
    def sigmas(self) -> Any:
        return self.spread.sigma

    def sigma(self, item: int) -> Any:
        return alone(self.sigmas[item])


def asked(plan: Layout, leaves: tuple[Leaf, ...]) -> Asked:
    """Of one leaf between two posts, or of two that meet."""
    posts = posts_of(*leaves)
    spread, vector = plan.told(lambda site: _asked(site, leaves, posts))
    return Asked(leaves, posts, spread, vector)


def opening(plan: Layout, gate: Asked) -> Opening:
    first, near, far = gate.leaves[0], gate.nominal(POSTS), gate.nominal(POSTS_HIGH)
    depths = tuple(plan.work.posts[name].section.depth for name in gate.posts)
    long = sum(leaf.length for leaf in gate.leaves)
    gaps = sum(leaf.hinge_gap for leaf in gate.leaves) + first.latch_gap
    parts = shares(gate.spread.names, gate.spread.share[POSTS])
    return Opening(
        name=gate.name,
        posts=gate.posts,
        depths=depths,
        between=near,
        between_high=far,
        clear=layout.clear_opening(near, *depths),
        leaves=long,
        gaps=gaps,
        misclosure=layout.opening_misclosure(near, *depths, long, gaps),
        misclosure_high=layout.opening_misclosure(far, *depths, long, gaps),
        latch_gap=first.latch_gap,
        sigma=gate.sigma(POSTS),
        sigma_high=gate.sigma(POSTS_HIGH),
        worst=next(iter(parts), ""),
    )


def between(plan: Layout, gate: Asked) -> Latching:
    """Whether what hangs in an opening goes into it and latches."""
    first, spread = gate.leaves[0], gate.spread
    never, latch, play = np.inf, first.latch_gap, first.play
    rules = _tightest(gate, latch, play)
    parts = shares(spread.names, spread.share[rules])
    return Latching(
        name=gate.name,
        gap=gate.nominal(GAP),
        gap_high=gate.nominal(GAP_HIGH),
        latch_gap=latch,
        drop=gate.nominal(DROP),
        play=play,
        sigma_gap=gate.sigma(GAP_HIGH),
        sigma_drop=gate.sigma(DROP),
        level=gate.nominal(LEVEL),
        sigma_level=gate.sigma(LEVEL),
        sigma_plumb=gate.sigma(PLUMB),
        needed=gate.nominal(PIERS) + latch - (gate.nominal(GAP) + gate.nominal(GAP_HIGH)) / 2,
        fits=_inside(gate, [0.0, 0.0], [never, never]),
        latches=_inside(gate, [0.0, 0.0, -play], [2 * latch, 2 * latch, play]),
        rules="drop" if rules == DROP else "gap",
        shares=parts,
        worst=next(iter(parts), ""),
        links=tuple(_links(plan, gate)),
    )


def _tightest(gate: Asked, latch: Any, play: Any) -> int:
    """Which of gap and drop has the least room for its spread, on the average of variants."""
    nominal = gate.spread.nominal
    room = [latch - np.abs(nominal[item] - latch) for item in (GAP, GAP_HIGH)]
    room.append(play - np.abs(nominal[DROP]))
    sigma = gate.sigmas[[GAP, GAP_HIGH, DROP]]
    far = [np.mean(r / np.where(s > 0, s, np.nan)) if np.any(s > 0) else np.inf for r, s in zip(room, sigma)]
    return (GAP, GAP_HIGH, DROP)[int(np.nanargmin([*far, np.inf]) % 3)]


def _asked(site: Site, leaves: tuple[Leaf, ...], names: tuple[str, str]) -> Iterator[Any]:
    """Gap low and high, drop, plumb, level, then from centre to centre: posts low and high, plates, piers."""
    first, work = leaves[0], site.work
    c, s = cos(first.turn), sin(first.turn)
    low, high = ([site.post(name, height) for name in names] for height in (first.low, first.high))

    def apart(a: Any, b: Any) -> Any:
        return (b.x - a.x) * c + (b.y - a.y) * s

    filled = sum(work.posts[name].section.depth for name in names) / 2
    filled = filled + sum(leaf.length + leaf.hinge_gap + site.e[f"{leaf.name} length"] for leaf in leaves)
    between, between_high = apart(*low), apart(*high)
    rise = first.high - first.low
    slopes = [apart(a, b) / rise for a, b in zip(low, high)]  # of each post, towards the second one
    bases = [work.posts[name].on for name in names]
    tops = site.top(bases[1]) - site.top(bases[0])
    # A hinge post that leans towards its leaf lets the leaf's end down; the second of two leaves hangs the other way.
    drop = leaves[0].length * slopes[0] - sum(leaf.length * slopes[1] for leaf in leaves[1:])
    drop = drop + tops - (work.bases[bases[1]].top - work.bases[bases[0]].top)
    piers = [site.base(base) for base in bases]
    yield from (between - filled, between_high - filled, drop, between_high - between, tops, between, between_high)
    yield apart(*(site.plate(name) for name in names))
    yield apart(*piers)


def _links(plan: Layout, gate: Asked) -> Iterator[Link]:
    work, tools, names = plan.work, plan.tools, gate.posts

    def part(name: str, value: Any, sure: Any = 0.0) -> Link:
        return Link(name=name, total=False, low=value, high=value, sigma=sure)

    half = [work.posts[name].section.depth / 2 for name in names]
    first, *second = gate.leaves
    yield part(f"half of {names[0]}", half[0])
    yield part("hinge gap", first.hinge_gap)
    yield part(first.name, first.length, tools.leaf)
    yield Link(
        name="latch gap", total=False, low=gate.nominal(GAP), high=gate.nominal(GAP_HIGH), sigma=gate.sigma(GAP_HIGH)
    )
    for leaf in second:
        yield part(leaf.name, leaf.length, tools.leaf)
        yield part("its hinge gap", leaf.hinge_gap)
    yield part(f"half of {names[1]}", half[1])
    low, high, sure = gate.nominal(POSTS), gate.nominal(POSTS_HIGH), gate.sigma(POSTS_HIGH)
    yield Link(name="clear opening", total=True, low=low - sum(half), high=high - sum(half), sigma=sure)
    yield Link(name="between the posts' centres", total=True, low=low, high=high, sigma=sure)
    for what, item in (("between the plates' centres", PLATES), ("between the piers' centres", PIERS)):
        yield Link(name=what, total=True, low=gate.nominal(item), high=gate.nominal(item), sigma=gate.sigma(item))


# ---- chances ----


def _inside(gate: Asked, low: list[Any], high: list[Any]) -> Any:
    """How often the first items of a place all lie between low and high, in jobs drawn from its vector.

    Where all misses together are rarer than the samples could show, none is drawn.
    """
    spread = gate.spread
    variants = spread.nominal.shape[1:]
    count = range(len(low))
    bounds = [np.stack([np.broadcast_to(b, variants).reshape(-1) for b in side]) for side in (low, high)]
    nominal, sigma = (v[: len(low)].reshape(len(low), -1) for v in (spread.nominal, gate.sigmas))
    missed = sum(
        _beyond(nominal[i] - bounds[0][i], sigma[i]) + _beyond(bounds[1][i] - nominal[i], sigma[i]) for i in count
    )
    chance = 1 - np.minimum(missed, 1)
    doubt = np.flatnonzero(missed >= 1 / SAMPLES)
    if len(doubt):
        n = len(spread.names)
        slopes = spread.jacobian[: len(low)].reshape(len(low), n, -1)[..., doubt]
        sigmas = gate.vector.sigma.reshape(n, -1)[:, doubt]
        drawn = errors.scatter(
            nominal[:, doubt], slopes, errors.ErrorVector(dict(zip(spread.names, sigmas))), SAMPLES, SEED
        )
        within = (drawn >= bounds[0][:, None, doubt]) & (drawn <= bounds[1][:, None, doubt])
        chance[doubt] = within.all(axis=0).mean(axis=0)
    return alone(chance.reshape(variants)[()])


def _beyond(room: Any, sigma: Any) -> Any:
    """At most how often something normal is further off than there is room."""
    far = np.divide(room, sigma, out=np.full(np.shape(room), np.inf), where=sigma > 0)
    return np.where(room < 0, 1.0, np.exp(-np.square(far) / 2) / 2)
