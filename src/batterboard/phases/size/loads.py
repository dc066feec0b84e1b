"""What presses on the soil under each base, in every case that can happen?

    case   : "open 48°, wind from the left, 0.6D + 0.6W"      where the leaf stands, the wind, the combination
    Effect : each kind of load at the centre of the foot's underside, over the cases

Dead are concrete, the soil on a pad, posts, leaves, signs and machines. Wind comes square onto a leaf, wherever it
stands, from its left and its right, and onto posts and signs from the same side at once; a base without hinges meets it
from ahead and behind too. A closed leaf hands half of it to each post, a solid one, on which it may sit off the middle,
seven tenths to either; an open one, or one that nothing holds where two meet, all of it to its hinge post. Left is the
left of the base's along while the leaf is closed, and turns with the leaf. Of several leaves on one base all stand open
alike, or one alone, and the wind comes square onto that one. Live are a person on one latch end and a machine's side
force. A tie beam lies on its own soil.
"""

from collections.abc import Iterator, Mapping, Sequence
from math import degrees
from typing import Any

import numpy as np

from batterboard.job.schema import Mix, Wind
from batterboard.phases.size import wind as blowing
from batterboard.phases.size.results import Effect, Load, Push
from batterboard.record import ordered
from batterboard.standards import asce7, statics
from batterboard.work.records import Body, Frame, Leaf, Machine, Pier, Post, Sign, Slab, Work

OPENINGS = (0.0, 0.25, 0.5, 0.75, 1.0)  # of the way a leaf opens
MARGIN = 1.5  # against overturning and sliding; a 0.6 on the dead load is a margin already
NO_WIND = "No wind was given: no wind case was made."


@ordered
class _Case:
    words: tuple[str, ...]
    combination: asce7.Combination
    openings: tuple[float, ...] = ()  # of the way, of each leaf that hangs here
    leaf: int = 0  # the one of them that the wind meets square
    person: int | None = None  # the one of them that somebody stands on
    blow: tuple[float, float] = (0.0, 0.0)  # which way the wind goes: ahead, left
    push: tuple[float, float] = (0.0, 0.0)  # direction of a machine's side force

    @property
    def label(self) -> str:
        return ", ".join(self.words)


@ordered
class _Standing:
    """All that stands on one base, with the axes of its foot."""

    base: Pier | Slab
    posts: tuple[Post, ...]
    hung: tuple[Leaf, ...]  # leaves whose hinges it carries
    latched: tuple[Leaf, ...]  # leaves that shut on its post
    signs: tuple[Sign, ...]
    machines: tuple[Machine, ...]

    @property
    def foot(self) -> Body:
        return self.base.foot


def on_bases(work: Work, wind: Wind | None, mixes: Mapping[str, Mix]) -> dict[str, Load]:
    """The load on every pier and slab."""
    return {name: _load(_standing(base, work), work, wind, mixes) for name, base in work.bases.items()}


def hinge_axis(post: Post, leaf: Leaf) -> Any:
    """From the centre of the hinge post to the edge of the leaf, in the leaf's direction [m]."""
    return post.section.depth / 2 + leaf.hinge_gap


def _standing(base: Pier | Slab, work: Work) -> _Standing:
    posts = tuple(p for p in work.posts.values() if p.on == base.name)
    names = {p.name for p in posts}
    return _Standing(
        base,
        posts,
        tuple(leaf for leaf in work.leaves.values() if leaf.hinge_post in names),
        tuple(leaf for leaf in work.leaves.values() if leaf.meets in names),
        tuple(sign for sign in work.signs.values() if sign.on in names),
        tuple(machine for machine in work.machines.values() if machine.on == base.name),
    )


def _load(on: _Standing, work: Work, wind: Wind | None, mixes: Mapping[str, Mix]) -> Load:
    foot = on.foot
    ground = work.ground.level(foot.frame.x, foot.frame.y)
    cases = _cases(on, wind is not None)
    ahead, left, f_D, f_W, f_L = (
        np.array([[value] for value in values])
        for values in zip(*((*c.blow, c.combination.D, c.combination.W, c.combination.L) for c in cases))
    )
    dead, live, blown = _own_weight(on, work, ground, mixes), Effect(), Effect()
    pushes: list[Push] = []
    for machine in on.machines:
        x, y = foot.frame.into(machine.frame.x, machine.frame.y)
        dead += _weight(machine.weight, x, y)
        along, across = (np.array([[machine.side * c.push[axis]] for c in cases]) for axis in (0, 1))
        live += _side(along, across, on.base.top + machine.centre - foot.bottom)
    turn = _Turn(foot.frame, work.posts, on.hung, cases)
    for post in on.posts:
        dead += _weight(post.section.weight * (post.top_z - post.foot_z), *foot.frame.into(post.frame.x, post.frame.y))
    for number, leaf in enumerate(on.hung):
        dead += _weight(leaf.weight, *turn.out(leaf, leaf.length / 2))
        there = np.array([[float(c.person == number)] for c in cases])
        live += _weight(leaf.person * there, *turn.out(leaf, leaf.length))
    for sign in on.signs:
        post = work.posts[sign.on]
        dead += _weight(sign.weight, *foot.frame.into(post.frame.x, post.frame.y))
    if wind is not None:
        blown, pushes = _wind(on, work, wind, ground, turn, (ahead, left))
    return Load(
        name=on.base.name,
        cases=tuple(c.label for c in cases),
        foot=foot,
        dead=dead,
        wind=blown,
        live=live,
        f_D=f_D,
        f_W=f_W,
        f_L=f_L,
        against=np.where(f_D < 1, 1.0, MARGIN),
        pushes=tuple(pushes),
        stands=isinstance(on.base, Slab) or on.base.pad is not None,
        depth=ground - foot.bottom,
        note="" if wind is not None else NO_WIND,
    )


# ---- the cases ----


def _cases(on: _Standing, windy: bool) -> list[_Case]:
    made = []
    for place, openings, leaf in _openings(on):
        made.append(_Case((*place, asce7.DEAD.name), asce7.DEAD, openings))
        for number, one in enumerate(on.hung):
            person = "D + person at the latch end" + (f" of {one.name}" if len(on.hung) > 1 else "")
            made.append(_Case((*place, person), asce7.DEAD_AND_LIVE, openings, person=number))
        # A leaf takes no wind edgewise, so that only what stands alone has to be asked.
        for word, blow in (_WINDS[:2] if on.hung else _WINDS) if windy else ():
            for c in asce7.WITH_WIND:
                made.append(_Case((*place, f"wind from {word}", c.name), c, openings, leaf, blow=blow))
    for word, push in _SIDES if on.machines else ():
        made.append(_Case((f"D + side force {word}",), asce7.DEAD_AND_LIVE, (0.0,) * len(on.hung), push=push))
    return made


_WINDS = (("the left", (0.0, -1.0)), ("the right", (0.0, 1.0)), ("ahead", (-1.0, 0.0)), ("behind", (1.0, 0.0)))
_SIDES = (("ahead", (1.0, 0.0)), ("back", (-1.0, 0.0)), ("left", (0.0, 1.0)), ("right", (0.0, -1.0)))


def _openings(on: _Standing) -> Iterator[tuple[tuple[str, ...], tuple[float, ...], int]]:
    """Words, how far each leaf here is open, and which of them the wind meets: all alike, then each alone."""
    many = len(on.hung)
    for opening in OPENINGS if many else (0.0,):
        yield _place(on, on.hung, opening), (opening,) * many, 0
    for number, leaf in enumerate(on.hung if many > 1 else ()):
        for opening in OPENINGS[1:]:
            alone = tuple(opening if i == number else 0.0 for i in range(many))
            yield (f"{leaf.name} alone", *_place(on, (leaf,), opening)), alone, number


def _place(on: _Standing, leaves: tuple[Leaf, ...], opening: float) -> tuple[str, ...]:
    if not (on.hung or on.latched):
        return ()
    if opening == 0:
        return ("closed",)
    angles = {round(degrees(float(a) * opening)) for leaf in leaves for a in np.ravel(leaf.opens_to)}
    return (f"open {angles.pop()}°",) if len(angles) == 1 else (f"open {opening:.0%} of the way",)


# ---- dead load ----


def _own_weight(on: _Standing, work: Work, ground: Any, mixes: Mapping[str, Mix]) -> Effect:
    """Concrete, and the soil over a pad and its steps beside what stands on them."""
    foot = on.foot
    effect = Effect()
    for body in on.base.bodies:
        effect += _weight(body.gross * mixes[body.mix].weight, *foot.frame.into(body.frame.x, body.frame.y))
    if isinstance(on.base, Pier) and on.base.pad is not None:
        deep = np.maximum(ground - foot.top, 0.0) * work.soil.weight
        effect += _weight(deep * foot.outline.area, 0.0, 0.0)
        for body in (*on.base.steps, on.base.shaft):
            buried = _buried(body, ground) * work.soil.weight
            effect += _weight(-buried, *foot.frame.into(body.frame.x, body.frame.y))
    return effect


def _buried(body: Body, ground: Any) -> Any:
    """How much soil it takes the place of [m3]; a step ends under what stands on it, a shaft goes on."""
    if not body.upright:
        return body.between(body.bottom, ground)
    deep = np.maximum(ground - body.bottom, 0.0)
    return body.outline.area * (np.minimum(deep, body.height) if body.part == "step" else deep)


def _weight(W: Any, x: Any, y: Any) -> Effect:
    return Effect(down=W, tips_along=W * x, tips_across=W * y)


def _side(along: Any, across: Any, z: Any) -> Effect:
    """A level push at z above the foot's underside."""
    return Effect(along=along, across=across, tips_along=along * z, tips_across=across * z)


# ---- wind ----


class _Turn:
    """Where the leaves stand, in the axes of one foot, case by case."""

    def __init__(self, foot: Frame, posts: Mapping[str, Post], hung: tuple[Leaf, ...], cases: Sequence[_Case]) -> None:
        self.foot, self.posts, self.hung = foot, posts, hung
        self.opening = {leaf.name: np.array([[c.openings[i]] for c in cases]) for i, leaf in enumerate(hung)}
        self.met = np.array([[c.leaf] for c in cases])

    def out(self, leaf: Leaf, reach: Any) -> tuple[Any, Any]:
        """A point of a leaf that hangs here, so far from its hinges."""
        post = self.posts[leaf.hinge_post]
        (along, across), (left_x, left_y) = self._closed(leaf)
        cos, sin = self._angle(leaf)
        x, y = self.foot.into(post.frame.x, post.frame.y)
        far, off = hinge_axis(post, leaf) + reach * cos, reach * sin
        return x + far * along + off * left_x, y + far * across + off * left_y

    def left(self, leaf: Leaf) -> tuple[Any, Any]:
        """Square to a leaf that hangs here: left of its line while it is closed, then turning with it."""
        (along, across), (left_x, left_y) = self._closed(leaf)
        cos, sin = self._angle(leaf)
        return cos * left_x - sin * along, cos * left_y - sin * across

    def left_of_met(self) -> tuple[Any, Any]:
        """Square to the leaf that the wind meets in each case."""
        x, y = self.left(self.hung[0])
        for number, leaf in enumerate(self.hung[1:], 1):
            here, there = self.left(leaf)
            x, y = np.where(self.met == number, here, x), np.where(self.met == number, there, y)
        return x, y

    def across(self, leaf: Leaf) -> tuple[Any, Any]:
        """Square to a leaf that shuts here, closed."""
        return self._closed(leaf)[1]

    def across_post(self, post: Post) -> tuple[Any, Any]:
        turn = post.frame.turn - self.foot.turn
        return -np.sin(turn), np.cos(turn)

    def _closed(self, leaf: Leaf) -> tuple[tuple[Any, Any], tuple[Any, Any]]:
        """Directions of the closed leaf, and to the left of its line (which it may run against)."""
        turn = leaf.turn - self.foot.turn
        c, s = np.cos(turn), np.sin(turn)
        return (c, s), (-leaf.toward * s, leaf.toward * c)

    def _angle(self, leaf: Leaf) -> tuple[Any, Any]:
        # Seen from the start of the line, in is taken as its left.
        angle = self.opening[leaf.name] * leaf.opens_to
        return np.cos(angle), np.sin(angle) * (1.0 if leaf.swings == "in" else -1.0)


def _wind(
    on: _Standing, work: Work, wind: Wind, ground: Any, turn: _Turn, blow: tuple[Any, Any]
) -> tuple[Effect, list[Push]]:
    """Everything on the base pushed one way at once: posts as the wind goes, faces by what meets them square."""
    foot = on.foot
    x, y = turn.left_of_met() if on.hung else turn.across_post(on.posts[0]) if on.posts else (0.0, 1.0)
    ahead, left = blow
    goes = left * x + ahead * y, left * y - ahead * x
    effect, pushes = Effect(), []

    def push(one: Push, force: Any, way: tuple[Any, Any]) -> None:
        nonlocal effect
        pushes.append(one)
        effect += _side(force * way[0], force * way[1], one.z - foot.bottom)

    def push_face(one: Push, force: Any, normal: tuple[Any, Any]) -> None:
        push(one, force * (goes[0] * normal[0] + goes[1] * normal[1]), normal)

    for post in on.posts:
        itself = blowing.on_post(post, ground, wind)
        push(itself, itself.force, goes)
    for sign in on.signs:
        face = blowing.on_face(f"sign {sign.name}", sign.length, sign.height, sign.bottom_z, ground, sign.solid, wind)
        push_face(face, face.force, turn.across_post(work.posts[sign.on]))
    for leaf in (*on.hung, *on.latched):
        bottom = work.posts[leaf.hinge_post].base_z + leaf.clear
        face = blowing.on_face(f"leaf {leaf.name}", leaf.length, leaf.height, bottom, ground, leaf.solid, wind)
        off_middle = np.where(leaf.solid > asce7.OPEN_UP_TO, asce7.OFF_MIDDLE, 0.0)[()]
        share = statics.latched_share(face.force, off_middle)
        if leaf in on.hung:
            held = (turn.opening[leaf.name] == 0) & leaf.held
            push_face(face, np.where(held, share, face.force), turn.left(leaf))
        else:
            push_face(face, share, turn.across(leaf))
    return effect, pushes
