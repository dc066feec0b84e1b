"""Which strips dress the edges of a form, how long are they by kind, and how are their ends cut?

    C       inside corner angle in plan;  a : leg of the top strip, in from the side;  v : its leg down the side
    b       leg of the corner strip, along the panels

Where the corner strips run through they are cut square and the top strips stop against them; where a corner strip is
too small to reach past the top strips, these meet on a hip beside it. Where the top strips run through they are
mitred, and the corner strips end in a roof under them. Formulas for plain chamfers, so that variants can be compared;
whatever is recessed, grooved, leaning or dressed across its facets is measured on its single pieces.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from batterboard.phases.forms.results import EndCut, Strip
from batterboard.quantity import Angle, Length
from batterboard.work.records import Body, Outline
from batterboard.working import GEOMETRY, arctan2, cos, formula, maximum, pi, sin, sqrt, tan


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
        face=sloping_width(o.top, o.drop),
        count=1,
        long=bent_length(o.along),
        short=bent_length(o.along - 2 * o.top),
        cuts=(),
    )


def _by_pieces(body: Body, height: Length, kind: str, thick: Length) -> Iterator[Strip]:
    o = body.outline
    sizes = (o.along, o.across, o.corners, o.top, o.drop, o.batter, body.bottom, body.top, height, thick)
    if not any(np.ndim(size) for size in sizes):
        yield from _measured(body, height, kind, thick)
        return
    variants = []
    for along, across, corners, top, down, batter, low, high, formed, t in zip(*np.broadcast_arrays(*sizes)):
        one = replace(o, along=along, across=across, corners=corners, top=top, down=down, batter=batter)
        variants.append(tuple(_measured(replace(body, outline=one, bottom=low, top=high), formed, kind, t)))
    # Where a variant has other kinds of strips, those that all have are compared.
    for alike in zip(*variants, strict=False):
        told = {name: np.array([getattr(strip, name) for strip in alike]) for name in ("leg", "face", "long", "short")}
        yield replace(alike[0], **told)


def _measured(body: Body, height: Length, kind: str, thick: Length) -> Iterator[Strip]:
    from batterboard.phases.forms.pieces.planes import planes_of
    from batterboard.phases.forms.pieces.strips import kinds_of, strips_of

    pieces, _ = strips_of(planes_of(body, kind, height, thick))
    for of in kinds_of(pieces):
        one = next(piece for piece in pieces if piece.kind == of.mark)
        cuts = one.ends[1].cuts
        (x, y), (u, w) = one.section[1], one.section[-1]
        yield Strip(
            mark=of.mark,
            edge=one.edge,
            leg=one.legs[0],
            face=float(np.hypot(x - u, y - w)),
            count=of.count,
            long=one.long,
            short=one.short,
            cuts=tuple(
                EndCut(against=_words(cut.against), down=cut.down, mitre=cut.mitre, bevel=cut.bevel)
                for cut in cuts
                if cut.mitre or cut.bevel
            ),
        )


def _words(mark: str) -> str:
    words = {"corner": "the corner strip", "top": "the next top strip", "facet": "the strip across the facet"}
    return next((said for word, said in words.items() if f" {word} " in mark and not mark.startswith("the ")), mark)


def _by_formula(name: str, o: Outline, height: Length) -> Iterator[Strip]:
    a, b, v = o.top, o.corners, o.drop
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
            face=facet_width(b, C),
            count=sides,
            long=corner_strip_long(height, a, v, b, C) if under else height,
            short=corner_strip_short(height, v) if under else height,
            cuts=(cut,) if under else (),
        )
    if not topped:
        return
    stop = 0.0 if under else b
    cuts = []
    if np.any(stop > 0):
        cuts.append(EndCut(against="the corner strip", down="the top face", mitre=C / 2, bevel=0.0))
    if np.any(stop < reaching_leg(a, C)):
        cuts.append(EndCut(against="the next top strip", down="the top face", mitre=(pi - C) / 2, bevel=0.0))
    lengths: dict[str, Any] = {"": o.along} if o.kind == "rectangle" else {"": o.along * tan(pi / sides)}
    if o.kind == "rectangle" and not np.all(o.along == o.across):
        lengths = {" along": o.along, " across": o.across}
    for way, side in lengths.items():
        yield Strip(
            mark=f"{name} top{way}",
            edge="top",
            leg=a,
            face=sloping_width(a, v),
            count=sides // len(lengths),
            long=top_strip_long(side, a, stop, C),
            short=top_strip_short(side, a, stop, C),
            cuts=tuple(cuts),
        )


@formula(source=GEOMETRY)
def facet_width(b: Length, C: Angle) -> Length:
    """Width of the face that a strip of legs b leaves on a corner of inside angle C [m]."""
    f = 2 * b * sin(C / 2)
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
def reaching_leg(a: Length, C: Angle) -> Length:
    """The leg of a corner strip from which its facet reaches the top through a top chamfer of leg a [m]."""
    b = 2 * a / sin(C)
    return b


@formula(source=GEOMETRY)
def corner_strip_long(H: Length, a: Length, v: Length, b: Length, C: Angle) -> Length:
    """Length of a corner strip at the middle of its face, where top strips (legs a in, v down) run over it [m]."""
    u = b * sin(C) / 2
    t = maximum(v * (1 - u / a), 0)
    L = H - t
    return L


@formula(source=GEOMETRY)
def corner_strip_short(H: Length, v: Length) -> Length:
    """Length of such a corner strip at its edges on the panels: v is the leg of the top strips down the side [m]."""
    L = H - v
    return L


@formula(source=GEOMETRY)
def top_strip_long(s: Length, a: Length, b: Length, C: Angle) -> Length:
    """Longest line of a top strip between corner strips of leg b on a side s of the form, mitred where b is 0 [m]."""
    e_point = b * cos(C / 2) ** 2
    e_inner = b - a * tan(C / 2)
    e = maximum(e_point, e_inner)
    L = s - 2 * e
    return L


@formula(source=GEOMETRY)
def top_strip_short(s: Length, a: Length, b: Length, C: Angle) -> Length:
    """Shortest line of a top strip: on the panel against a large corner strip, at its inner edge where mitred [m]."""
    e = maximum(b, a / tan(C / 2))
    L = s - 2 * e
    return L
