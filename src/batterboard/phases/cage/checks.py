"""Does it hold? Cover, gaps, ties, feet, what runs into what, and the length of a stock bar."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import numpy as np

from batterboard.phases.cage.measuring import Element, depth, take
from batterboard.phases.cage.results import Clear, Cover, Foot, Gap, SizeTotal, TieRun
from batterboard.quantity import Length, Number, inch
from batterboard.standards import aci318
from batterboard.standards.aci117 import ACI_117
from batterboard.work.records import Body
from batterboard.working import (
    GEOMETRY,
    PRACTICE,
    Check,
    capacity,
    check,
    demand,
    formula,
    maximum,
    minimum,
)

BAR_PLACE = ACI_117.clause("2.2", "read: a web article on the placing tolerances of bars, secondary")


def checks_of(
    elements: Mapping[str, Element],
    totals: Iterable[SizeTotal],
    covers: Iterable[Cover],
    gaps: Iterable[Gap],
    ties: Iterable[TieRun],
    clears: Iterable[Clear],
    feet: Iterable[Foot],
) -> Iterator[Check]:
    faces: dict[tuple[str, str], list[Cover]] = {}
    for one in covers:
        faces.setdefault((one.element, one.name), []).append(one)
    for (element, name), of_body in faces.items():
        bodies = {body.name: body for body in elements[element].bodies}
        yield cover(elements[element], bodies[name], tuple(of_body))
    for gap in gaps:
        yield (upright_gap if gap.role == "up" else bar_gap)(elements[gap.element], gap)
    for run in ties:
        yield tie_gap(run)
        yield tie_size(run)
        if run.bolted:
            yield ties_at_bolts(run)
    for foot in feet:
        yield foot_in_pad(foot)
    for clear in clears:
        yield (room_beside if clear.beside else room_across)(elements[clear.element], clear)
    for total in totals:
        yield stock_bar(total)


@check("Cover over the steel", clause=aci318.COVER, of=Length)
def cover(element: Element, body: Body, faces: tuple[Cover, ...]) -> tuple[Any, ...]:
    pairs = []
    for face in faces:
        needed = aci318.least_cover(face.against, face.diameter)
        have = face.planned
        if face.face != "all":
            have = face.found
            needed = needed - aci318.cover_tolerance(depth(body, face.found), needed)
        pairs.append(np.broadcast_arrays(exact(needed), exact(have)))
    needs, haves = (np.stack(np.broadcast_arrays(*side)) for side in zip(*pairs, strict=True))
    worst = np.argmin(haves - needs, axis=0)
    face = faces[int(np.ravel(worst)[0])]
    where_ = "" if face.face == "all" else f", found on the {face.face} face, the placing tolerance taken off"
    note = f"{body.part}, {face.size} outermost{where_}"
    return demand(take(needs, worst)), capacity(take(haves, worst)), note


@check("Clear between bars", clause=aci318.SPACING, of=Length)
def bar_gap(element: Element, gap: Gap) -> tuple[Any, ...]:
    s = aci318.clear_spacing(gap.diameter, gap.stone)
    return demand(exact(s)), capacity(exact(gap.clear)), f"{gap.role}, {gap.size}"


@check("Clear between uprights", clause=aci318.COLUMN_SPACING, of=Length)
def upright_gap(element: Element, gap: Gap) -> tuple[Any, ...]:
    s = aci318.column_clear_spacing(gap.diameter, gap.stone)
    return demand(exact(s)), capacity(exact(gap.clear)), gap.size


@check("Spacing of ties", clause=aci318.TIE_SPACING, of=Length)
def tie_gap(run: TieRun) -> tuple[Any, ...]:
    s = aci318.tie_spacing(run.upright, run.diameter, run.least_side)
    return demand(exact(run.widest)), capacity(exact(s))


@check("Size of ties", clause=aci318.TIE_SIZE, of=Length)
def tie_size(run: TieRun) -> tuple[Any, ...]:
    d_t = aci318.least_tie(run.upright)
    return demand(exact(d_t)), capacity(exact(run.diameter)), run.size


@check("Ties at the anchor bolts", clause=aci318.TIES_AT_BOLTS, of=Number)
def ties_at_bolts(run: TieRun) -> tuple[Any, ...]:
    n = aci318.ties_at_bolts(run.near_top_diameter)
    return demand(n), capacity(run.near_top), f"{run.near_top_size}, within 5 in of the top"


@check("Feet of the uprights in the pad", clause=aci318.HOOK, of=Length)
def foot_in_pad(foot: Foot) -> tuple[Any, ...]:
    D = aci318.bend_diameter(foot.diameter)
    leg = aci318.hook_leg(foot.diameter, D)
    return demand(exact(leg)), capacity(exact(np.minimum(foot.leg, foot.room))), f"{foot.size}, leg out to out"


@check("Room beside each other", clause=PRACTICE, of=Length)
def room_beside(element: Element, clear: Clear) -> tuple[Any, ...]:
    a = centres_apart(clear.one_diameter, clear.other_diameter, clear.needed)
    return (
        demand(exact(a)),
        capacity(exact(clear.apart)),
        f"{clear.pair}, centre to centre; the largest stone must pass",
    )


@check("Moved aside where they cross", clause=BAR_PLACE, of=Length)
def room_across(element: Element, clear: Clear) -> tuple[Any, ...]:
    a = centres_apart(clear.one_diameter, clear.other_diameter, 0.0)
    m = moved_aside(a, clear.apart)
    t = place_tolerance(element.bodies[-1].outline.least)
    return demand(exact(m)), capacity(t), clear.pair


@check("Longest piece in a stock bar", clause=PRACTICE, of=Length)
def stock_bar(total: SizeTotal) -> tuple[Any, ...]:
    return demand(exact(total.longest)), capacity(exact(total.stock_length)), f"of {total.longest_in}"


@formula(source=GEOMETRY)
def centres_apart(d_1: Length, d_2: Length, s: Length) -> Length:
    """How far apart the centre-lines of two round things lie with s clear between them [m]."""
    a = (d_1 + d_2) / 2 + s
    return a


@formula(source=GEOMETRY)
def moved_aside(a: Length, a_drawn: Length) -> Length:
    """How far one of two crossing things must give way: nothing where they pass as drawn [m]."""
    m = maximum(a - a_drawn, 0)
    return m


@formula(source=BAR_PLACE, limits="b > 0")
def place_tolerance(b: Length) -> Length:
    """How far a bar or tie may lie off its place along its element [m].

    b : least side of the element.
    """
    t = minimum(b / 12, 3 * inch)
    return t


def exact(length: Any) -> Any:
    """To the nanometre: 10 in of 10 in is no rounding error too many."""
    return round(length, 9) if type(length) is float else np.round(length, 9)
