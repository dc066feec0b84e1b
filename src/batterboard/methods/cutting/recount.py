"""Is the plan what it says? Looked at piece by piece, knowing nothing of how it was made.

    faults : ("W1: 7 of 8 cut", "sheet 2: W1 and W3 overlap", "sheet 2: no saw can part W1, W2, W4")   () is a good plan
    cut    : SawCut(stage=1, along=True, at=0.5588, start=0.0, end=2.4384)    from edge to edge, in sawing order

Cuts go from edge to edge of the piece of sheet on the saw. Those in one direction are one stage; the next stage turns.
A cut that only trims a single piece after the last stage is not a stage.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from batterboard.methods.cutting.first import SLACK, Piece
from batterboard.methods.cutting.plans import Layout, LengthPlan, Panel, Place, Sheet, SheetPlan, Stock

Stuff = Stock | Sheet


@dataclass(frozen=True)
class SawCut:
    stage: int
    along: bool  # the cut runs along the sheet's length
    at: float  # from the sheet's edge to the near side of the kerf
    start: float  # where it begins and ends, measured the other way
    end: float


def length_faults(
    plan: LengthPlan, pieces: Sequence[Piece], stocks: Sequence[Stock], kerf: float, keep: float = 0.0
) -> tuple[str, ...]:
    """What is wrong with a plan of lengths, in words."""
    faults = []
    lengths = {(piece.name, round(piece.length, 7)) for piece in pieces}
    got: Counter[str] = Counter()
    useful = 0.0
    for number, stick in enumerate(plan.sticks, 1):
        n = sum(piece.count for piece in stick.pieces)
        spent = sum(piece.length * piece.count for piece in stick.pieces) + max(n - 1, 0) * kerf
        if spent > stick.stock.length + SLACK:
            faults.append(f"stick {number}: {spent:g} cut out of {stick.stock.length:g}")
        if abs(max(stick.stock.length - spent - kerf, 0.0) - stick.left) > 2 * SLACK:
            faults.append(f"stick {number}: the offcut is not {stick.left:g}")
        useful += stick.left * stick.times if keep and stick.left > keep - SLACK else 0.0
        for piece in stick.pieces:
            got[piece.name] += piece.count * stick.times
            if (piece.name, round(piece.length, 7)) not in lengths:
                faults.append(f"stick {number}: {piece.name} has another length")
    longest = max(stock.length for stock in stocks if stock.count is None)
    out = {p.name for p in pieces if p.name in plan.left_out and p.length > longest + SLACK}
    wanted: Counter[str] = Counter()
    for piece in pieces:
        wanted[piece.name] += piece.count if piece.name not in out else 0
    faults += _miscounted(got, wanted)
    faults += _stock_faults([(stick.stock, stick.times) for stick in plan.sticks], stocks, plan.cost, plan.bound)
    if keep and abs(useful - plan.useful) > 1e-6:
        faults.append(f"offcuts of use are {useful:g} together, not {plan.useful:g}")
    return tuple(faults)


def sheet_faults(
    plan: SheetPlan,
    panels: Sequence[Panel],
    sheets: Sequence[Sheet],
    kerf: float,
    trim: float = 0.0,
    stages: int | None = 3,
) -> tuple[str, ...]:
    """What is wrong with a plan of sheets, in words."""
    faults = []
    out = {panel.name for panel in panels if panel.name in plan.left_out and not _comes_out(panel, sheets, trim)}
    wanted = {panel.name: panel for panel in panels if panel.name not in out}
    got: Counter[str] = Counter()
    for number, layout in enumerate(plan.layouts, 1):
        for place in layout.places:
            got[place.panel] += layout.times
        faults += [f"sheet {number}: {fault}" for fault in _layout_faults(layout, wanted, kerf, trim, stages)]
    faults += _miscounted(got, Counter({name: panel.count for name, panel in wanted.items()}))
    used = [(layout.sheet, layout.times) for layout in plan.layouts]
    return (*faults, *_stock_faults(used, sheets, plan.cost, plan.bound))


def cuts(layout: Layout, kerf: float) -> tuple[SawCut, ...]:
    """The cuts of one sheet in the order they are sawn, from edge to edge. Raises ValueError where no saw can."""
    whole = (0.0, 0.0, layout.sheet.length, layout.sheet.width)
    ways: list[list[SawCut]] = []
    for along in (True, False):
        made = _sawn(list(layout.places), whole, along, 1, kerf)
        if made is not None:
            ways.append(made)
    if not ways:
        raise ValueError("no saw can part " + ", ".join(place.panel for place in layout.places))
    best = min(ways, key=_turns)
    return tuple(best)


def stages_of(layout: Layout, kerf: float) -> int | None:
    """How many times the sheet is turned on the saw, None where no saw can take it apart."""
    ways = [_stages(list(layout.places), along, kerf) for along in (True, False)]
    return min((n for n in ways if n is not None), default=None)


def _layout_faults(
    layout: Layout, wanted: dict[str, Panel], kerf: float, trim: float, stages: int | None
) -> Iterator[str]:
    sheet = layout.sheet
    for place in layout.places:
        panel = wanted.get(place.panel)
        if panel is None:
            yield f"nobody asked for {place.panel}"
            continue
        sides = (panel.width, panel.length) if place.turned else (panel.length, panel.width)
        if abs(place.length - sides[0]) > SLACK or abs(place.width - sides[1]) > SLACK:
            yield f"{place.panel} has another size"
        if place.turned and not panel.turn:
            yield f"{place.panel} is turned across the grain"
        low = min(place.x, place.y) - trim
        high = max(place.x + place.length - sheet.length, place.y + place.width - sheet.width) + trim
        if low < -SLACK or high > SLACK:
            yield f"{place.panel} reaches over the edge"
    for a, b in combinations(layout.places, 2):
        apart = max(b.x - a.x - a.length, a.x - b.x - b.length, b.y - a.y - a.width, a.y - b.y - b.width)
        if apart < kerf - SLACK:
            yield f"{a.panel} and {b.panel} " + ("overlap" if apart < -SLACK else "have no kerf between them")
    if layout.places and not _has_room(layout, kerf, trim):
        yield f"no room for an offcut of {layout.offcut[0]:g} x {layout.offcut[1]:g}"
    deep = stages_of(layout, kerf)
    if deep is None:
        yield "no saw can part " + ", ".join(place.panel for place in layout.places)
    elif stages is not None and deep > stages:
        yield f"{deep} stages of cuts, {stages} allowed"


def _comes_out(panel: Panel, sheets: Sequence[Sheet], trim: float) -> bool:
    """Whether some sheet to buy yields it."""
    sides = [(panel.length, panel.width)] + [(panel.width, panel.length)] * panel.turn
    return any(
        long <= sheet.length - 2 * trim + SLACK and wide <= sheet.width - 2 * trim + SLACK
        for sheet in sheets
        for long, wide in sides
        if sheet.count is None
    )


def _has_room(layout: Layout, kerf: float, trim: float) -> bool:
    """Whether its offcut lies somewhere on the sheet, a kerf off every panel."""
    long, wide = layout.offcut
    if not long or not wide:
        return True
    x0, y0, x1, y1 = np.array([(p.x, p.y, p.x + p.length, p.y + p.width) for p in layout.places]).T
    x, y = np.meshgrid(np.append(x1 + kerf, trim), np.append(y1 + kerf, trim))
    x, y = x[..., None], y[..., None]
    meets = (x < x1 + kerf - SLACK) & (x + long > x0 - kerf + SLACK)
    meets &= (y < y1 + kerf - SLACK) & (y + wide > y0 - kerf + SLACK)
    beyond = (x + long > layout.sheet.length - trim + SLACK) | (y + wide > layout.sheet.width - trim + SLACK)
    return bool((~meets.any(axis=-1) & ~beyond[..., 0]).any())


def _stock_faults(
    used: Sequence[tuple[Stuff, int]], offered: Sequence[Stuff], cost: float, bound: float
) -> Iterator[str]:
    times: Counter[Stuff] = Counter()
    for stuff, some in used:
        times[stuff] += some
    for stuff, some in times.items():
        if stuff not in offered:
            yield f"nobody offers {stuff.name}"
        elif some < 1 or stuff.count is not None and some > stuff.count:
            yield f"{stuff.name}: {some} used of {stuff.count}"
    price = sum(stuff.price * some for stuff, some in used)
    if abs(price - cost) > 1e-6 * max(price, 1.0):
        yield f"the cost is {price:g}, not {cost:g}"
    if bound > cost + 1e-6 * max(cost, 1.0):
        yield f"the bound {bound:g} is above the cost {cost:g}"


def _miscounted(got: Counter[str], wanted: Counter[str]) -> list[str]:
    return [f"{name}: {got[name]} of {wanted[name]} cut" for name in {**wanted, **got} if got[name] != wanted[name]]


def _turns(made: list[SawCut]) -> tuple[int, int]:
    return max((cut.stage for cut in made), default=0), len(made)


def _parts(places: list[Place], along: bool, kerf: float) -> list[list[Place]]:
    """The pieces parted by every cut that meets none of them."""
    parts: list[list[Place]] = []
    reach = float("-inf")
    for place in sorted(places, key=lambda p: _span(p, along)):
        low, high = _span(place, along)
        if parts and low < reach + kerf - SLACK:
            parts[-1].append(place)
        else:
            parts.append([place])
        reach = max(reach, high)
    return parts


def _span(place: Place, along: bool) -> tuple[float, float]:
    """From where to where a piece lies, seen across the cuts that run that way."""
    return (place.y, place.y + place.width) if along else (place.x, place.x + place.length)


def _stages(places: list[Place], along: bool, kerf: float) -> int | None:
    """Stages when the next cuts run that way. Cutting everywhere at once never takes more of them."""
    if len(places) <= 1:
        return 0
    parts = _parts(places, along, kerf)
    if len(parts) == 1:
        return None
    deepest = 0
    for part in parts:
        below = _stages(part, not along, kerf)
        if below is None:
            return None
        deepest = max(deepest, below)
    return deepest + 1


def _sawn(
    places: list[Place], region: tuple[float, float, float, float], along: bool, stage: int, kerf: float
) -> list[SawCut] | None:
    """Cuts that free the pieces of a region, the first ones running that way; trimming included."""
    if not places:
        return []
    x0, y0, x1, y1 = region
    parts = _parts(places, along, kerf)
    if len(parts) == 1 and len(places) > 1 and stage > 1:
        return None
    made: list[SawCut] = []
    regions = []
    edge, end = (y0, y1) if along else (x0, x1)
    start, stop = (x0, x1) if along else (y0, y1)
    for part in parts:
        low, high = min(_span(p, along)[0] for p in part), max(_span(p, along)[1] for p in part)
        if low > edge + SLACK:  # waste before it
            made.append(SawCut(stage, along, max(low - kerf, edge), start, stop))
        if high < end - SLACK:
            made.append(SawCut(stage, along, high, start, stop))
        edge = min(high + kerf, end)
        regions.append((part, (x0, low, x1, high) if along else (low, y0, high, y1)))
    for part, (a0, b0, a1, b1) in regions:
        one = part[0]
        if len(part) == 1 and abs(a1 - a0 - one.length) < SLACK and abs(b1 - b0 - one.width) < SLACK:
            continue
        below = _sawn(part, (a0, b0, a1, b1), not along, stage + 1, kerf)
        if below is None:
            return None
        made += below
    return made
