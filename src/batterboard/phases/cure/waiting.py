"""What waits, for how long: by rule, and by the strength that its own load and the yardstick ask for; the later rules.

Rules: the table's hours for forms, of which only those at 50 F count; curing before welding; the habits of the trade,
meant for 70 F and brought to this concrete's temperature. Strength: 500 psi for edges and a first frost, three quarters
of what was ordered for steel and before shores go. What an act's own load needs is asked of the plain section, as if it
held no bar; of a beam on shores only where it holds none.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING, Any

from batterboard.phases.cure.ageing import Ageing
from batterboard.phases.cure.hours import Clock, rates
from batterboard.phases.cure.results import Act, Kept, Wait
from batterboard.quantity import Pressure, Time
from batterboard.standards import aci306, durability, form_removal, osha, plain, trade, ufgs
from batterboard.work.records import Beam, Body, Machine, Pier, Post, Slab, Work
from batterboard.working import PRACTICE, Source, maximum, nan

if TYPE_CHECKING:
    from batterboard.phases.forms import Shores


class Ready:
    """One body's concrete, how it is kept, and which hours count for its forms."""

    def __init__(self, body: Body, kept: Kept, ageing: Ageing, forms: Clock) -> None:
        self.body, self.kept, self.ageing, self.forms = body, kept, ageing, forms


Own = tuple[Pressure, str]  # what an act's own load needs, and what load it is
NONE: Own = (nan, "")


def waits(work: Work, ready: dict[str, Ready], shored: Mapping[str, "Shores"]) -> Iterator[Wait]:
    """Everything that is done to the concrete, element by element. shored : beams that stand on shores."""
    elements = {name: base.foot if isinstance(base, Slab) else base.shaft for name, base in work.bases.items()}
    elements |= {name: beam.body for name, beam in work.beams.items()}
    for name, body in elements.items():
        concrete = ready[body.name]
        if body.against == "form":
            table = form_removal.least("walls, columns, beam sides").time
            rule = concrete.forms.until(table)
            yield _wait("strip", f"strip {name}", concrete, rule, form_removal.REMOVAL, trade.EDGES_HOLD, PRACTICE)
        if name in shored:
            yield from _on_shores(work.beams[name], shored[name], concrete)
        yield _wait("frost", f"first frost on {name}", concrete, nan, None, aci306.FROST_PROOF, aci306.FROST)
        yield _wait("cure", f"stop curing {name}", concrete, concrete.kept.kept, durability.CURING)
        base = work.bases.get(name)
        if isinstance(base, Pier) and body.against == "form":
            yield _backfill(name, base, concrete, work)
    bolted: list[Post | Machine] = [*work.posts.values(), *work.machines.values()]
    for thing in bolted:
        if thing.bolts is not None and thing.on in elements:
            yield from _on_bolts(thing, ready[elements[thing.on].name])
    for hung, post, own in _hung(work):
        if work.posts[post].on in elements:
            body = elements[work.posts[post].on]
            concrete = ready[body.name]
            share = osha.ERECTION_SHARE * concrete.ageing.mix.strength
            yield _habit("hang", f"hang {hung}", concrete, share, osha.ERECTION, _bending(body, *own))


def _on_shores(beam: Beam, shores: "Shores", concrete: Ready) -> Iterator[Wait]:
    """Its sides carry nothing and come off as any; soffit and shores stay as long as the table and its strength ask."""
    name = beam.name
    rule = concrete.forms.until(form_removal.least("walls, columns, beam sides").time)
    yield _wait("strip", f"strip the sides of {name}", concrete, rule, form_removal.REMOVAL, trade.EDGES_HOLD, PRACTICE)
    own = NONE
    if not beam.bars:
        M = shores.weight * shores.width * shores.height * shores.along**2 / 8
        S = plain.modulus(shores.width, shores.height)
        own = plain.strength_needed(plain.FACTOR, M, S), "its own weight, without bars"
    rule, needs = (
        concrete.forms.until(form_removal.soffit(shores.along)),
        trade.SHORES_GO * concrete.ageing.mix.strength,
    )
    yield _wait("shores", f"take away the shores of {name}", concrete, rule, form_removal.REMOVAL, needs, PRACTICE, own)


def _backfill(name: str, pier: Pier, concrete: Ready, work: Work) -> Wait:
    """Loose soil on one side only, before the other follows. By rule it waits for its forms to be off."""
    foot = pier.shaft.bottom
    deep = maximum(work.ground.level(pier.frame.x, pier.frame.y) - foot, 0.0)
    o = concrete.body.outline
    M = maximum(plain.soil_push(plain.AT_REST, o.along, deep), plain.soil_push(plain.AT_REST, o.across, deep))
    own = _bending(concrete.body, M, "loose soil on one side")
    rule = concrete.forms.until(form_removal.least("walls, columns, beam sides").time)
    return _wait("backfill", f"backfill {name}", concrete, rule, form_removal.REMOVAL, trade.EDGES_HOLD, PRACTICE, own)


def _on_bolts(thing: Post | Machine, concrete: Ready) -> Iterator[Wait]:
    own = NONE
    if isinstance(thing, Post):
        push = trade.PUSH * (thing.top_z - thing.base_z)
        own = _bending(concrete.body, push, "one man pushing at the top of the post")
    yield _habit("set", f"set {thing.name}", concrete, own=own)
    yield _habit("snug", f"snug the nuts of {thing.name}", concrete)
    yield _habit("tighten", f"tighten the nuts of {thing.name}", concrete)
    if isinstance(thing, Post):
        yield _wait("weld", f"weld {thing.name}", concrete, concrete.kept.kept, ufgs.WELDING)
    needs = osha.ERECTION_SHARE * concrete.ageing.mix.strength
    yield _wait("three quarters", f"three quarters under {thing.name}", concrete, nan, None, needs, osha.ERECTION)


def _hung(work: Work) -> Iterator[tuple[str, str, tuple[Any, str]]]:
    """What is hung on posts, on which, and the moment it brings."""
    for leaf in work.leaves.values():
        M = leaf.weight * (leaf.length / 2) + leaf.person * leaf.length
        yield leaf.name, leaf.hinge_post, (M, "the leaf and someone on its end")
    for sign in work.signs.values():
        M = sign.weight * (sign.length / 2) + trade.PUSH * (sign.bottom_z - work.posts[sign.on].base_z)
        yield sign.name, sign.on, (M, "the sign and one man pushing it")


def _bending(body: Body, M: Any, load: str) -> Own:
    """What a moment at the top of a shaft needs of its plain section, the weaker way."""
    o = body.outline
    S = plain.round_modulus(o.along) if o.kind != "rectangle" else plain.modulus(maximum(o.along, o.across), o.least)
    return plain.strength_needed(plain.FACTOR, M, S), load


def _habit(
    act: Act, name: str, concrete: Ready, needs: Pressure = nan, strength: Source | None = None, own: Own = NONE
) -> Wait:
    """What the trade waits at 70 F, brought to the temperature at which this concrete is kept."""
    habit = trade.wait(act)
    rule = concrete.ageing.until(habit.low, _at_seventy())
    made = _wait(act, name, concrete, rule, trade.WAITS, needs, strength, own)
    return replace(made, habit_low=habit.low, habit_high=habit.high)


@cache
def _at_seventy() -> tuple[float, ...]:
    return tuple(map(float, rates(trade.WAITS_AT)))


def _wait(
    act: Act,
    name: str,
    concrete: Ready,
    by_rule: Time,
    rule: Source | None,
    yardstick: Pressure = nan,
    strength: Source | None = None,
    own: Own = NONE,
) -> Wait:
    needs, source = yardstick, strength
    if own[1]:
        needs = own[0] if strength is None else maximum(yardstick, own[0])
        source = strength or plain.SECTION
    earliest, by_strength = concrete.ageing.reached(needs) if source else (nan, nan)
    at = by_rule if source is None else by_strength if rule is None else maximum(by_rule, by_strength)
    return Wait(
        name=name,
        act=act,
        element=concrete.body.element,
        lift=concrete.kept.lift,
        habit_low=nan,
        habit_high=nan,
        by_rule=by_rule,
        rule=str(rule or ""),
        own=own[0],
        load=own[1],
        fraction=needs / concrete.ageing.mix.strength,
        needs=needs,
        by_strength=by_strength,
        earliest=earliest,
        strength=str(source or ""),
        at=at,
        reaches=concrete.ageing.least(at),
    )
