"""In what order is a form put together, and what holds each joint?

    fastening : Fastening("west B1 on west A1", with_="2 in screws", count=8, every=0.152)
    step      : Step(3, "stand it on its lines", ("west A1", ...))

Common practice, no source. Yokes, braces and their nails are sized with the strength of the form.
"""

from collections.abc import Iterator, Sequence
from math import ceil, dist, hypot

from batterboard.phases.forms.pieces.results import Fastening, PanelPiece, Step, StripPiece, Tube
from batterboard.phases.forms.results import Box, Shores
from batterboard.quantity import inch

_PANEL_SCREWS = ("2 in screws", 6 * inch)
_PLATE_SCREWS = ("1 1/4 in screws through the plates, a row on each side", 6 * inch)
_SUPPORT_NAILS = ("8d nails, a row on each side", 6 * inch)
_SAME = 1e-6  # [m]
_ALIKE = 0.5e-3  # legs that nobody can tell apart: those of a leaning side differ by a hair [m]
_STRIP_NAILS = ("1 1/2 in finish nails through the panel, heads left proud", 8 * inch)


def fastenings_of(panels: Sequence[PanelPiece], strips: Sequence[StripPiece]) -> tuple[Fastening, ...]:
    """Panel to panel where two meet, and each strip to a panel it lies on."""
    return (*_panel_joints(panels), *_strip_joints(panels, strips))


def _panel_joints(panels: Sequence[PanelPiece]) -> Iterator[Fastening]:
    """What runs past is screwed on; where nothing does, the later on the earlier. Parts are held by what backs them."""
    known = set()
    for panel in panels:
        for edge in panel.edges:
            pair = frozenset((panel.mark, edge.meets))
            long = hypot(edge.end[0] - edge.start[0], edge.end[1] - edge.start[1])
            if edge.on and pair not in known:
                known.add(pair)
                one, other = panel.mark, edge.meets
                how = _PLATE_SCREWS if edge.on == "plates" else _SUPPORT_NAILS
                on = "plates" if edge.on == "plates" else f"the {edge.on} on the joint"
                yield _fastened(f"{one} and {other} to {on}", (one, other), *how, long, rows=2)
            elif edge.past or (
                edge.meets and not edge.on and pair not in known and not _covered(panels, panel, edge.meets)
            ):
                known.add(pair)
                one, other = (panel.mark, edge.meets) if edge.past else sorted(pair, reverse=True)
                yield _fastened(f"{one} on {other}", (one, other), *_PANEL_SCREWS, long)


def _covered(panels: Sequence[PanelPiece], panel: PanelPiece, meets: str) -> bool:
    """Whether the panel that it meets runs past it."""
    other = next(one for one in panels if one.mark == meets)
    return any(edge.past and edge.meets == panel.mark for edge in other.edges)


def _strip_joints(panels: Sequence[PanelPiece], strips: Sequence[StripPiece]) -> Iterator[Fastening]:
    for strip in strips:
        on = carrier(strip, panels)
        if on is not None:
            yield _fastened(f"{strip.mark} on {on.mark}", (strip.mark, on.mark), *_STRIP_NAILS, strip.long)


def carrier(strip: StripPiece, panels: Sequence[PanelPiece]) -> PanelPiece | None:
    """The panel a strip is nailed to first: the one it comes off with, else one that it lies on; its nearest part."""
    standing = {panel.side for panel in panels}
    sides = [side for side in strip.between if side in standing]
    told = [side for side in sides if strip.comes_off == f"with the {side} panel"]
    parts = [panel for panel in panels if panel.side in (told or sides)[:1]]
    return min(parts, key=lambda part: dist(part.solid.centroid, strip.solid.centroid), default=None)


def _fastened(joint: str, pieces: tuple[str, str], with_: str, every: float, long: float, rows: int = 1) -> Fastening:
    count = rows * max(2, ceil((long - every / 2) / every - 1e-9) + 1)
    return Fastening(joint=joint, pieces=pieces, with_=with_, count=count, every=every)


def steps_of(
    box: Box, panels: Sequence[PanelPiece], strips: Sequence[StripPiece], tube: Tube | None
) -> tuple[Step, ...]:
    """From the bench to the pour."""
    return tuple(
        Step(number=number, what=what, pieces=tuple(pieces))
        for number, (what, pieces) in enumerate(_steps(box, panels, strips, tube), 1)
    )


def _steps(
    box: Box, panels: Sequence[PanelPiece], strips: Sequence[StripPiece], tube: Tube | None
) -> Iterator[tuple[str, Sequence[str]]]:
    if tube is not None:
        yield "cut the tube square to its length, plumb, and mark the top of the concrete inside", (tube.mark,)
        yield "stand it over the cage on its lines", (tube.mark,)
        if box.collar is not None:
            yield (
                "lay a collar of four sticks tight round its foot, two over two, nailed where they cross and staked to"
                " its lines; another where braces meet it, each brace to the middle of a stick; plumb it two ways",
                (),
            )
        if box.strips:
            on_top = "bend the strip round inside the top, nail it through the tube, its upper edge on the line"
            yield on_top, (box.strips[0].mark,)
        return
    marks = [panel.mark for panel in panels]
    yield (
        "cut the panels; write each mark on the outside, upper left, and the match marks low on both sides of a joint",
        marks,
    )
    if any(panel.openings for panel in panels):
        yield "saw and bore what passes through, seen from outside", [p.mark for p in panels if p.openings]
    if strips:
        yield "cut the strips, try each end against its pattern", [strip.mark for strip in strips]
    yield "oil all of it on the bench, away from the bars; seal cut edges", [*marks, *(s.mark for s in strips)]
    carried = {strip.mark: on.mark for strip in strips if (on := carrier(strip, panels)) is not None}
    corners = [strip.mark for strip in strips if strip.edge == "corner"]
    if corners:
        yield (
            f"nail the corner strips each to its panel, from outside{_longer_leg(box.kind, strips)}",
            [*corners, *dict.fromkeys(carried[m] for m in corners)],
        )
    backs = {edge.on for panel in panels for edge in panel.edges if edge.on}
    if "plates" in backs:
        yield (
            "face down on a flat floor: equal letters against each other, screw the plates over the joints",
            [panel.mark for panel in panels if any(edge.on == "plates" for edge in panel.edges)],
        )
    closing = [panel.mark for panel in panels if panel.panel == panels[-1].panel]
    later = [panel.mark for panel in panels if any(edge.side == "foot" and edge.on == "yoke" for edge in panel.edges)]
    if box.shores is not None:
        yield from _on_shores(box.shores, panels)
    elif box.kind == "edge" and len({panel.panel for panel in panels}) == 2:
        yield "set both boards to their lines, tops level, and stake them", marks
    else:
        first = [mark for mark in marks if mark not in closing and mark not in later]
        around = ", each over the edge of the one to its right" if box.panels[0].runs_past == 1 else ""
        yield f"stand them round the cage on their lines, equal match marks against each other{around}", first
        last = [mark for mark in closing if mark not in later]
        yield "close the form with the last panel after the cage and its cover have been looked at", last
    for support in sorted(backs - {"plates", "yoke"}):
        yield f"each joint with a letter stands on a {support} of its own: nail both parts to it, edges tight", ()
    if later:
        yield (
            "set the yokes from the foot up, as numbered, as far as the joint: there each stick stands half over it",
            (),
        )
        yield "stand the upper parts on the lower, equal letters on each other, and nail both to the yoke", later
    rest = [strip.mark for strip in strips if strip.edge != "corner"]
    if rest:
        words = "set the top strips last, tight between what stands, their upper faces on the line of the top"
        yield words + _upper_leg(strips), rest
    if box.yokes:
        yield f"set the {'upper yokes' if later else 'yokes from the foot up'}, as numbered", ()
    yield "check both diagonals, plumb two sides, brace, and look at every match mark once more", ()


def _on_shores(shores: Shores, panels: Sequence[PanelPiece]) -> Iterator[tuple[str, Sequence[str]]]:
    under = [panel.mark for panel in panels if panel.side == "under"]
    sides = [panel.mark for panel in panels if panel.side != "under"]
    yield "sole plates flat on firm ground, loose and wet taken off; none on fill", ()
    yield (
        "stand each pair with its cross-piece on wedges, by its number; scabs at both ends of a shore; brace both "
        "sides and cross both rows before anybody climbs",
        (),
    )
    yield "drive the wedges to level, no camber, nail them; lay the soffit with few nails: it comes off last", under
    yield "after the cage: sides past the soffit's edges, ribbons at their feet, ties across their tops", sides


def _longer_leg(kind: str, strips: Sequence[StripPiece]) -> str:
    """On which panels the longer leg of a corner strip lies, where one is longer: a strip turned round still fits."""
    first = next(strip for strip in strips if strip.edge == "corner")
    if abs(first.legs[0] - first.legs[1]) < _ALIKE:
        return ""
    longer = first.legs[0] > first.legs[1]
    if kind == "polygon":
        own = "the panel of its own number" if longer else "the panel after the one of its own number"
        return f", the longer leg on {own}: corner 1 is between 1 and 2"
    ways = ("ahead and back", "left and right")
    return f", the longer leg on the panels {ways[0 if longer else 1]}, the shorter on those {ways[1 if longer else 0]}"


def _upper_leg(strips: Sequence[StripPiece]) -> str:
    down, in_ = next(strip.legs for strip in strips if strip.edge != "corner")
    if abs(down - in_) < _ALIKE:
        return ""
    return f", the longer leg {'level' if in_ > down else 'down the panel'}"


def reminders_of(box: Box, panels: Sequence[PanelPiece], strips: Sequence[StripPiece]) -> Iterator[str]:
    """What is forgotten."""
    yield (
        "Release agent goes thin on every face that meets concrete, before the form goes near the bars; "
        "none on bars, bolts or old concrete."
    )
    if any(strip.draft < 0.02 for strip in strips):
        yield (
            "A strip without draft holds on to the concrete: oil it twice, "
            "and saw a slot along its back so that it can give."
        )
    if any(strip.comes_off.startswith("by itself") for strip in strips):
        yield "Nails of strips that come off by themselves are drawn before their panel comes off: leave heads proud."
    doors = [opening.of for panel in panels for opening in panel.openings if opening.kind == "clean-out"]
    if doors:
        yield f"Shut before the pour: {', '.join(doors)}."
    if box.shores is not None:
        yield (
            "Shores are temporary works: a qualified person looks at them before, while and after it is filled. Nobody "
            "goes under it; none is loosened or set anew before its time."
        )
    for panel in panels:
        for opening in panel.openings:
            if opening.kind == "beam" and min(v for _, v in opening.outline) > 1e-3:
                yield (
                    f"{panel.mark} stands all round {opening.of}: saw it in two across the window, "
                    "or it cannot come off."
                )
