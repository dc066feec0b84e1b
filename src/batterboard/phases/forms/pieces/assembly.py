"""In what order is a form put together, and what holds each joint?

    fastening : Fastening("west B1 on west A1", with_="2 in screws", count=8, every=0.152)
    step      : Step(3, "stand it on its lines", ("west A1", ...))

Common practice, no source. Yokes, braces and their nails are sized with the strength of the form.
"""

from collections.abc import Iterator, Sequence
from math import ceil

from batterboard.phases.forms.pieces.results import Fastening, PanelPiece, Step, StripPiece, Tube
from batterboard.phases.forms.results import Box
from batterboard.quantity import inch

_PANEL_SCREWS = ("2 in screws", 6 * inch)
_STRIP_NAILS = ("1 1/2 in finish nails through the panel, heads left proud", 8 * inch)


def fastenings_of(panels: Sequence[PanelPiece], strips: Sequence[StripPiece]) -> tuple[Fastening, ...]:
    """Panel to panel where two meet, and each strip to a panel it lies on."""
    return (*_panel_joints(panels), *_strip_joints(panels, strips))


def _panel_joints(panels: Sequence[PanelPiece]) -> Iterator[Fastening]:
    """What runs past is screwed on; where nothing does, the later on the earlier."""
    known = set()
    for panel in panels:
        for edge in panel.edges:
            pair = frozenset((panel.mark, edge.meets))
            if edge.past or (edge.meets and pair not in known and not _covered(panels, panel, edge.meets)):
                known.add(pair)
                long = abs(edge.end[1] - edge.start[1])
                one, other = (panel.mark, edge.meets) if edge.past else sorted(pair, reverse=True)
                yield _fastened(f"{one} on {other}", (one, other), *_PANEL_SCREWS, long)


def _covered(panels: Sequence[PanelPiece], panel: PanelPiece, meets: str) -> bool:
    """Whether the panel that it meets runs past it."""
    other = next(one for one in panels if one.mark == meets)
    return any(edge.past and edge.meets == panel.mark for edge in other.edges)


def _strip_joints(panels: Sequence[PanelPiece], strips: Sequence[StripPiece]) -> Iterator[Fastening]:
    by_side = {panel.side: panel for panel in panels}
    for strip in strips:
        on = carrier(strip, by_side)
        if on is not None:
            yield _fastened(f"{strip.mark} on {on.mark}", (strip.mark, on.mark), *_STRIP_NAILS, strip.long)


def carrier(strip: StripPiece, by_side: dict[str, PanelPiece]) -> PanelPiece | None:
    """The panel a strip is nailed to: the one it comes off with, else one that it lies on."""
    sides = [side for side in strip.between if side in by_side]
    told = [side for side in sides if strip.comes_off == f"with the {side} panel"]
    return by_side[(told or sides)[0]] if sides else None


def _fastened(joint: str, pieces: tuple[str, str], with_: str, every: float, long: float) -> Fastening:
    count = max(2, ceil((long - every / 2) / every - 1e-9) + 1)
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
        yield (
            "stand it over the cage on its lines, brace it two ways and hold its foot with a frame of lumber",
            (tube.mark,),
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
    by_side = {panel.side: panel for panel in panels}
    if strips:
        yield "cut the strips, try each end against its pattern", [strip.mark for strip in strips]
    yield "oil all of it on the bench, away from the bars; seal cut edges", [*marks, *(s.mark for s in strips)]
    carried = {strip.mark: on.mark for strip in strips if (on := carrier(strip, by_side)) is not None}
    corners = [strip.mark for strip in strips if strip.edge == "corner"]
    if corners:
        yield (
            "nail the corner strips each to its panel, from outside",
            [*corners, *dict.fromkeys(carried[m] for m in corners)],
        )
    if box.kind == "edge" and len(panels) == 2:
        yield "set both boards to their lines, tops level, and stake them", marks
    else:
        first, last = marks[:-1], marks[-1:]
        yield "stand them round the cage on their lines, equal match marks against each other", first
        yield "close the form with the last panel after the cage and its cover have been looked at", last
    rest = [strip.mark for strip in strips if strip.edge != "corner"]
    if rest:
        yield "set the top strips last, tight between what stands, their upper faces on the line of the top", rest
    if box.yokes:
        yield "set the yokes from the foot up, as numbered", ()
    yield "check both diagonals, plumb two sides, brace, and look at every match mark once more", ()


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
    for panel in panels:
        for opening in panel.openings:
            if opening.kind == "beam" and min(v for _, v in opening.outline) > 1e-3:
                yield (
                    f"{panel.mark} stands all round {opening.of}: saw it in two across the window, "
                    "or it cannot come off."
                )
