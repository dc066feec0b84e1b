"""Which strips dress the edges of a form, how long are they by kind, and how are their ends cut?

    C       inside corner angle in plan;  a : leg of the top strip, in from the side;  v : its leg down the side
    b, c    legs of the corner strip: b along the panel that is asked about, c along the one round the corner
    e       how far from the sharp corner a line of the top strip ends, so far in from the panel as x says

Where the corner strips run through they are cut square and the top strips stop against them; where a corner strip is
too small to reach past the top strips, these meet on a hip beside it. Where the top strips run through they are
mitred, and the corner strips end in a roof under them. Formulas for plain chamfers, so that variants can be compared;
whatever is recessed, grooved, leaning or dressed across its facets is measured on its single pieces.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from batterboard.phases.forms.results import EndCut, Strip
from batterboard.quantity import Angle, Length
from batterboard.work.records import Body, Outline
from batterboard.working import GEOMETRY, absolute, arctan2, cos, formula, maximum, minimum, pi, sin, sqrt, tan

if TYPE_CHECKING:
    from batterboard.phases.forms.pieces.results import StripPiece


def strips_of(body: Body, height: Length, kind: str, thick: Length) -> Iterator[Strip]:
    """All strips of one form, by kind."""
    o = body.outline
    if not np.any(o.corners > 0) and not np.any(o.top > 0):
        return
    if o.kind == "round":
        yield _bent(body.name, o)
        return
    plain = o.corner_shape == o.top_shape == "chamfer" and not o.facets and body.upright
    yield from _by_formula(body.name, o, height) if plain else _by_pieces(body, height, kind, thick)


def _bent(name: str, o: Outline) -> Strip:
    """The flexible strip round the top of a tube, in one length, its ends meeting square."""
    return Strip(
        mark=f"{name} top",
        edge="top",
        leg=o.top,
        other_leg=o.drop,
        face=sloping_width(o.top, o.drop),
        count=1,
        long=bent_length(o.along),
        short=bent_length(o.along - 2 * o.top),
        cuts=(),
    )


def _by_pieces(body: Body, height: Length, kind: str, thick: Length) -> Iterator[Strip]:
    o = body.outline
    legs = o.corners, o.other_leg
    sizes = (o.along, o.across, *legs, o.top, o.drop, o.batter, body.bottom, body.top, height, thick)
    if not any(np.ndim(size) for size in sizes):
        yield from _measured(body, height, kind, thick)
        return
    variants = []
    for along, across, b, c, top, down, batter, low, high, formed, t in zip(*np.broadcast_arrays(*sizes)):
        one = replace(o, along=along, across=across, corners=b, returns=c, top=top, down=down, batter=batter)
        variants.append(tuple(_measured(replace(body, outline=one, bottom=low, top=high), formed, kind, t)))
    # Where a variant has other kinds of strips, those that all have are compared.
    for alike in zip(*variants, strict=False):
        told = {name: np.array([getattr(strip, name) for strip in alike]) for name in _COMPARED}
        yield replace(alike[0], **told)


_COMPARED = ("leg", "other_leg", "face", "long", "short")


def _measured(body: Body, height: Length, kind: str, thick: Length) -> Iterator[Strip]:
    from batterboard.phases.forms.pieces.planes import planes_of
    from batterboard.phases.forms.pieces.strips import kinds_of, strips_of

    pieces, _ = strips_of(planes_of(body, kind, height, thick))
    for of in kinds_of(pieces):
        one = next(piece for piece in pieces if piece.kind == of.mark)
        (x, y), (u, w) = one.section[1], one.section[-1]
        legs = one.legs if one.edge == "corner" else one.legs[::-1]
        yield Strip(
            mark=of.mark,
            edge=one.edge,
            leg=legs[0],
            other_leg=legs[1],
            face=float(np.hypot(x - u, y - w)),
            count=of.count,
            mirrored=of.mirrored,
            long=one.long,
            short=one.short,
            cuts=tuple(_end_cuts(one)),
        )


def _end_cuts(one: "StripPiece") -> Iterator[EndCut]:
    """Those of its upper end; of a top strip whose ends differ those of both, with the end they are at."""
    left, right = ([cut for cut in end.cuts if cut.mitre or cut.bevel] for end in one.ends)
    alike = [[(_words(cut.against), round(cut.mitre, 9), round(cut.bevel, 9)) for cut in end] for end in (left, right)]
    differ = one.edge != "corner" and alike[0] != alike[1]
    for end, where in ((left, " at its left end"), (right, " at its right end")) if differ else ((right, ""),):
        for cut in end:
            yield EndCut(against=_words(cut.against) + where, down=cut.down, mitre=cut.mitre, bevel=cut.bevel)


def _words(mark: str) -> str:
    words = {"corner": "the corner strip", "top": "the next top strip", "facet": "the strip across the facet"}
    return next((said for word, said in words.items() if f" {word} " in mark and not mark.startswith("the ")), mark)


def _by_formula(name: str, o: Outline, height: Length) -> Iterator[Strip]:
    a, v, b, c = o.top, o.drop, o.corners, o.other_leg
    sides = 4 if o.kind == "rectangle" else o.sides
    C = pi * (sides - 2) / sides
    topped, dressed = bool(np.any(a > 0)), bool(np.any(b > 0))
    under = topped and o.through == "top"
    if dressed:
        cut = EndCut(against="the top strips", down="each panel's face in turn", mitre=0.0, bevel=arctan2(v, a))
        yield Strip(
            mark=f"{name} corner",
            edge="corner",
            leg=b,
            other_leg=c,
            face=facet_width(b, c, C),
            count=sides,
            mirrored=2 if under and o.kind == "rectangle" and np.any(b != c) else 0,
            long=corner_strip_long(height, a, v, *_legs(b, c), C) if under else height,
            short=corner_strip_short(height, v) if under else height,
            cuts=(cut,) if under else (),
        )
    if not topped:
        return
    stopped = dressed and not under
    for way, side, ends in _sides(o, stopped):
        point = facet_point(*ends[0], C) if stopped else 0.0  # the same at both ends
        at_panel, at_point, at_inner = (_stops(x, ends, C, stopped) for x in (0.0, minimum(a, point), a))
        yield Strip(
            mark=f"{name} top{way}",
            edge="top",
            leg=a,
            other_leg=v,
            face=sloping_width(a, v),
            count=sides if o.kind == "polygon" or not way else 2,
            long=side - sum(minimum(*each) for each in zip(at_panel, at_point)),
            short=side - maximum(sum(at_panel), sum(at_inner)),
            cuts=tuple(_top_cuts(ends, C, stopped, not stopped or bool(np.any(point < a)))),
        )


# At the left and at the right end of a top strip: the corner strip's legs along its panel and round the corner.
Ends = tuple[tuple[Length, Length], tuple[Length, Length]]


def _sides(o: Outline, stopped: bool) -> Iterator[tuple[str, Length, Ends]]:
    """The kinds of top strips: what each is called, how long its side is, and what stands at its ends."""
    b, c = _legs(o.corners, o.other_leg)
    on_corners, on_returns = (b, c), (c, b)
    if o.kind == "polygon":
        ends = (on_corners if o.returns is None else on_returns), on_corners
        yield "", o.along * tan(pi / o.sides), ends
    elif np.all(o.along == o.across) and (not stopped or np.all(b == c)):
        yield "", o.along, (on_corners, on_corners)
    else:
        yield " along", o.along, (on_returns, on_returns)
        yield " across", o.across, (on_corners, on_corners)


def _legs(b: Length, c: Length) -> tuple[Length, Length]:
    """Of variants some may have no corner strip."""
    return maximum(b, _NO_LEG), maximum(c, _NO_LEG)


def _stops(x: Length, ends: Ends, C: Angle, stopped: bool) -> tuple[Length, Length]:
    """What its left and its right corner take of a side's length, so far in from the panel."""
    left, right = ends
    first = stopped_end(x, *left, C) if stopped else mitred_end(x, C)
    return first, first if left is right or not stopped else stopped_end(x, *right, C)


def _top_cuts(ends: Ends, C: Angle, stopped: bool, mitred: bool) -> Iterator[EndCut]:
    left, right = ends
    named = ((left, ""),) if left is right else ((left, " at its left end"), (right, " at its right end"))
    for end, where in named if stopped else ():
        yield EndCut(against=f"the corner strip{where}", down="the top face", mitre=stopping_mitre(*end, C), bevel=0.0)
    if mitred:
        yield EndCut(against="the next top strip", down="the top face", mitre=(pi - C) / 2, bevel=0.0)


# A leg that takes nothing away [m].
_NO_LEG = 1e-12


@formula(source=GEOMETRY)
def facet_width(b: Length, c: Length, C: Angle) -> Length:
    """Width of the face that a strip of legs b and c leaves on a corner of inside angle C [m]."""
    f = sqrt(b**2 + c**2 - 2 * b * c * cos(C))
    return f


@formula(source=GEOMETRY)
def sloping_width(a: Length, v: Length) -> Length:
    """Width of the sloping face of a top strip [m]."""
    f = sqrt(a**2 + v**2)
    return f


@formula(source=GEOMETRY)
def bent_length(D: Length) -> Length:
    """Length of a strip bent round the inside of a tube [m]."""
    L = pi * D
    return L


@formula(source=GEOMETRY)
def facet_point(b: Length, c: Length, C: Angle) -> Length:
    """How far in from both panels top strips meet on a corner strip's face: its facet ends in a point under them [m].

    Top strips that reach in less leave an edge of the facet on top; those that reach in further meet on a hip.
    """
    u = b * c * sin(C) / (b + c)
    return u


@formula(source=GEOMETRY)
def corner_strip_long(H: Length, a: Length, v: Length, b: Length, c: Length, C: Angle) -> Length:
    """Length of a corner strip at the highest line of its face, where top strips (a in, v down) run over it [m]."""
    u = facet_point(b, c, C)
    t = maximum(v * (1 - u / a), 0)
    L = H - t
    return L


@formula(source=GEOMETRY)
def corner_strip_short(H: Length, v: Length) -> Length:
    """Length of such a corner strip at its edges on the panels: v is the leg of the top strips down the side [m]."""
    L = H - v
    return L


@formula(source=GEOMETRY)
def mitred_end(x: Length, C: Angle) -> Length:
    """How far from the corner a line of a top strip ends that is mitred with the next one [m]."""
    e = x / tan(C / 2)
    return e


@formula(source=GEOMETRY)
def stopped_end(x: Length, b: Length, c: Length, C: Angle) -> Length:
    """How far from the corner a line of a top strip ends: at the corner strip's face, past its point on the hip [m]."""
    e_face = b - x * (b - c * cos(C)) / (c * sin(C))
    e_hip = x / tan(C / 2)
    e = maximum(e_face, e_hip)
    return e


@formula(source=GEOMETRY)
def stopping_mitre(b: Length, c: Length, C: Angle) -> Angle:
    """Turn from square across, top face down, of the cut that stops a top strip against a corner strip's face."""
    m = absolute(arctan2(b - c * cos(C), c * sin(C)))
    return m
