"""Where does the vibrator go in, how long, how deep, and what is looked at afterwards?

    stabs   : Insertions("west", x=(...), y=(...), layers=3, seconds=10.0, farthest=0.131, covered=True)
    after   : BoltCheck("hinge", "diagonal 1 to 3", value=0.323, within=0.006)

Insertions stand on a grid of equal triangles 1.5 radii apart. One that would hit a bar, a bolt or a pipe is moved to
the nearest place where the head passes, never dropped; where some concrete is then further from a head than its
radius, more are put in, and what still is not reached is said. Places are in the block's own axes, seen from above.
Steel is taken as centre-lines, as the work lays it.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from batterboard.phases.setout import Diagonal
from batterboard.phases.template.results import Pattern
from batterboard.quantity import Flow, Length, Number, Time, inch
from batterboard.record import record
from batterboard.standards import aci309, trade
from batterboard.work.names import among
from batterboard.work.records import Body, Work

AIR: Length = 0.25 * inch  # left between head and steel: a vibrator that rattles on a bar shakes it loose. Ours
OFF_FORM: Length = (
    2 * inch
)  # left between head and form, which it would mark and shake loose; less in a thin block. Ours
_CELL: Length = 0.02  # of the grid on which places are tried
_CELLS = 1500  # at most in a section: of a wide pad nobody places the head more exactly
_OFFSETS = 3  # starts of the grid that are tried each way
_MOST = 400  # insertions of one block


@record
class Head:
    """The vibrator."""

    width: Length
    radius: Length  # of action, that it surely has
    spacing: Length  # from one insertion to the next, at most, in equal triangles
    in_squares: Length  # the same where they stand in squares
    farthest: Length  # concrete from the nearest, in a full grid of triangles
    rate: Flow  # concrete that it surely consolidates
    seconds: Time  # in one place
    below: Length  # into the layer below


@record
class Insertions:
    """Where the head goes into one block."""

    name: str
    lift: int
    x: Length  # (n,) own axes of the block
    y: Length
    moved: Number  # of them off the grid, past steel
    blocked: Number  # share of the section where the head does not pass
    layers: Number
    layer: Length  # depth of each
    insertions: Number  # in one layer
    takes: Time  # all layers, with the way from one place to the next
    farthest: Length  # concrete from the nearest place
    covered: bool  # nothing further than the radius of action
    fits: bool  # the head passes somewhere


@record
class BoltCheck:
    """One thing to measure while the concrete still gives."""

    on: str  # the post or machine
    what: str
    value: Length
    within: Length

    @property
    def name(self) -> str:
        return f"{self.on}, {self.what}"


@record
class Vibration:
    head: Head
    blocks: tuple[Insertions, ...]
    bolts: tuple[BoltCheck, ...]
    notes: tuple[str, ...]

    def of(self, name: str) -> Insertions:
        return next(block for block in self.blocks if block.name == name)


def vibration(
    work: Work, width: Length, patterns: Iterable[Pattern] = (), across: Iterable[Diagonal] = ()
) -> Vibration:
    """Every block that is still to be cast, and what to measure afterwards: patterns, and tapes from one to another.

    Blocks that look the same are asked once.
    """
    head = _head(width)
    known: dict[Any, Insertions] = {}
    blocks = []
    for lift in work.lifts:
        for body in lift.bodies:
            if body.cast:
                continue
            steel = in_the_way(work, body)
            look = _look(body, steel)
            if look not in known:
                known[look] = _insertions(body, steel, lift.number, head)
            one = known[look]
            blocks.append(replace(one, name=body.name, lift=lift.number))
    return Vibration(
        head=head,
        blocks=tuple(blocks),
        bolts=(*_bolt_checks(work, patterns), *_from_plate_to_plate(work, across)),
        notes=tuple(_notes(head, blocks)),
    )


# ---- the head ----


def _head(width: Length) -> Head:
    R = aci309.radius(width)
    spacing = aci309.apart(R)
    return Head(
        width=width,
        radius=R,
        spacing=spacing,
        in_squares=min(spacing, aci309.squares_limit(R)),
        farthest=aci309.farthest_of_triangles(spacing),
        rate=aci309.rate(width),
        seconds=sum(aci309.SECONDS) / 2,
        below=aci309.BELOW,
    )


# ---- steel in the way ----

Segment = tuple[float, float, float, float, float]  # x, y to x, y of a centre-line from above, and its radius


def in_the_way(work: Work, body: Body) -> tuple[Segment, ...]:
    """What the head meets on its way down, seen from above in the block's own axes.

    It stops a hand above the underside, so that a mat down there is not in its way.
    """
    low = float(body.bottom) + (0.15 if body.part != "pier" else 0.0)
    high = float(body.top) + 1e-6
    found = [*_bars(work, body), *_bolts(work, body), *_pipes(work, body), *_boxes(body)]
    return tuple(dict.fromkeys(_flat(found, low, high)))


Line = tuple[Any, Any, Any, float]  # x, y, z of a centre-line in the block's own axes, and its radius


def _bars(work: Work, body: Body) -> Iterator[Line]:
    elements: list[Any] = [*work.bases.values(), *work.beams.values()]
    for element in elements:
        if body.element != element.name:
            continue
        for bar in element.bars:
            for x, y, z in zip(bar.x, bar.y, bar.z):
                yield *body.frame.into(*element.frame.out(x, y)), z, float(bar.size.diameter) / 2


def _bolts(work: Work, body: Body) -> Iterator[Line]:
    things: list[Any] = [*work.posts.values(), *work.machines.values()]
    for thing in things:
        if thing.bolts is None or thing.on != body.element:
            continue
        b = thing.bolts
        top = float(work.bases[thing.on].top)
        for x, y in zip(b.found_x, b.found_y):
            px, py = body.frame.into(*b.frame.out(x, y))
            line = np.array([px, px]), np.array([py, py]), np.array([top - float(b.deep), top])
            yield *line, float(b.rod.diameter) / 2


def _pipes(work: Work, body: Body) -> Iterator[Line]:
    for pipe in work.pipes.values():
        if body.element in pipe.through:
            x, y = body.frame.into(pipe.x, pipe.y)
            yield x, y, pipe.z, float(pipe.size.outside) / 2


def _boxes(body: Body) -> Iterator[Line]:
    """Boxes in the concrete, each as four sticks that lie side by side."""
    for hole in body.blockouts:
        r, u, n = (np.array(axis, float)[:2] for axis in hole.axes)
        top = hole.side == "top"
        middle = hole.point(0.0, 0.0, 0.0 if top else hole.deep / 2)
        x, y, z = (float(v) for v in middle)
        halves = (r * float(hole.wide) / 2, u * float(hole.high) / 2 if top else n * float(hole.deep) / 2)
        short, long = sorted(halves, key=lambda half: float(half @ half))
        radius = float(np.hypot(*short)) / 4
        way = long * (1 - radius / np.hypot(*long))
        level = np.array([z, z]) + float(body.bottom)
        for part in (-0.75, -0.25, 0.25, 0.75):
            ends = np.array((x, y)) + part * short + np.stack((-way, way))
            yield ends[:, 0], ends[:, 1], level, radius


def _flat(lines: Iterable[Line], low: float, high: float) -> Iterator[Segment]:
    """The parts of centre-lines between two levels, from above, rounded so that equal ones fall together."""
    for xs, ys, zs, r in lines:
        points = list(zip(map(float, xs), map(float, ys), map(float, zs)))
        for (x0, y0, z0), (x1, y1, z1) in zip(points, points[1:]):
            if max(z0, z1) < low or min(z0, z1) > high:
                continue
            ends = []
            for z in (max(low, min(z0, z1)), min(high, max(z0, z1))) if abs(z1 - z0) > 1e-9 else ():
                t = (z - z0) / (z1 - z0)
                ends += [x0 + t * (x1 - x0), y0 + t * (y1 - y0)]
            x0, y0, x1, y1 = ends or (x0, y0, x1, y1)
            yield round(x0, 4), round(y0, 4), round(x1, 4), round(y1, 4), r


def _look(body: Body, steel: tuple[Segment, ...]) -> Any:
    o = body.outline
    sizes = (o.kind, o.sides, *(round(float(v), 4) for v in (o.along, o.across, o.corners, o.other_leg, body.height)))
    return sizes, body.part, frozenset(steel)


# ---- the grid ----


def _insertions(body: Body, steel: tuple[Segment, ...], lift: int, head: Head) -> Insertions:
    places: Any
    inside_x, inside_y = _cells(body)
    off_edge = _off_edge(body, inside_x, inside_y)
    off_form = min(OFF_FORM, float(body.outline.least) / 4)
    free = (off_edge >= head.width / 2 + off_form) & (_clear(inside_x, inside_y, steel) >= head.width / 2 + AIR)
    if free.any():
        places, moved = _places(inside_x, inside_y, free, body, head)
    else:
        places, moved = np.zeros((0, 2)), 0
    apart = _apart(inside_x, inside_y, places)
    farthest = float(apart.max())
    layer_most = aci309.LAYER
    layers = int(np.ceil(float(body.height) / layer_most - 1e-9))
    takes = layers * len(places) * (head.seconds + trade.MOVING)
    return Insertions(
        name=body.name,
        lift=lift,
        x=places[:, 0],
        y=places[:, 1],
        moved=moved,
        blocked=1 - float(free.mean()),
        layers=layers,
        layer=float(body.height) / layers,
        insertions=len(places),
        takes=takes,
        farthest=farthest,
        covered=farthest <= head.radius + 1e-9,
        fits=bool(free.any()),
    )


def _cells(body: Body) -> tuple[Any, Any]:
    """Points all over the section; a long one in coarser steps, so that there are never very many."""
    o = body.outline
    along, across = float(o.along), float(o.across)
    step = max(_CELL, (along * across / _CELLS) ** 0.5)
    nx, ny = max(2, int(np.ceil(along / step))), max(2, int(np.ceil(across / step)))
    stations, offsets = (np.arange(nx) + 0.5) / nx - 0.5, (np.arange(ny) + 0.5) / ny - 0.5
    x, y = (each.ravel() for each in np.meshgrid(stations * along, offsets * across))
    inside = _off_edge(body, x, y) >= 0
    return x[inside], y[inside]


def _off_edge(body: Body, x: Any, y: Any) -> Any:
    """How far points are inside the outline; negative outside."""
    o = body.outline
    if o.kind == "round":
        return float(o.along) / 2 - np.hypot(x, y)
    if o.kind == "polygon":
        angles = np.arange(o.sides) * 2 * np.pi / o.sides
        return float(o.along) / 2 - np.max(np.outer(np.cos(angles), x) + np.outer(np.sin(angles), y), axis=0)
    ahead, aside = float(o.along) / 2 - np.abs(x), float(o.across) / 2 - np.abs(y)
    straight, on_ahead, on_aside = np.minimum(ahead, aside), float(o.corners), float(o.other_leg)
    if not on_ahead > 0:
        return straight
    off_facet = (ahead * on_ahead + aside * on_aside - on_ahead * on_aside) / np.hypot(on_ahead, on_aside)
    return np.minimum(straight, off_facet)


def _clear(x: Any, y: Any, steel: tuple[Segment, ...]) -> Any:
    """From each point to the nearest steel."""
    least: Any = np.full(len(x), np.inf)
    for x0, y0, x1, y1, r in steel:
        dx, dy = x1 - x0, y1 - y0
        long = dx * dx + dy * dy
        t = np.clip(((x - x0) * dx + (y - y0) * dy) / long, 0, 1) if long > 0 else 0.0
        np.minimum(least, np.hypot(x - x0 - t * dx, y - y0 - t * dy) - r, out=least)
    return least


def _apart(x: Any, y: Any, places: Any) -> Any:
    """From each point to the nearest insertion."""
    least = np.full(len(x), np.inf)
    for px, py in places:
        dx, dy = x - px, y - py
        np.minimum(least, dx * dx + dy * dy, out=least)
    return np.sqrt(least)


def _places(x: Any, y: Any, free: Any, body: Body, head: Head) -> tuple[Any, int]:
    """The grid with fewest insertions that reaches all, or leaves least, with more put in where it leaves some."""
    best: tuple[Any, int] | None = None
    rank: tuple[float, ...] = ()
    free_x, free_y = x[free], y[free]
    need = np.full(len(x), float(head.radius))
    need[~free] = _needs(x[~free], y[~free], free_x, free_y, head.radius)
    for grid in _grids(body, head.spacing):
        snapped = [int(np.argmin((free_x - gx) ** 2 + (free_y - gy) ** 2)) for gx, gy in grid]
        chosen = list(dict.fromkeys(snapped))
        places: Any = np.array([(free_x[i], free_y[i]) for i in chosen])
        off = [np.hypot(free_x[i] - gx, free_y[i] - gy) for i, (gx, gy) in zip(snapped, grid)]
        moved = sum(distance > _CELL for distance in off)
        places, farthest = _more(x, y, free_x, free_y, places, need)
        left = max(0.0, farthest - head.radius)
        if best is None or (round(left / _CELL), len(places), moved) < rank:
            best, rank = (places, moved), (round(left / _CELL), len(places), moved)
    assert best is not None
    return best


def _grids(body: Body, s: float) -> Iterator[Any]:
    """Grids of equal triangles over the section, shifted; rows along the longer side."""
    a, c = float(body.outline.along), float(body.outline.across)
    turned = c > a
    if turned:
        a, c = c, a
    high = s * 3**0.5 / 2
    rows, columns = int(c / high) + 2, int(a / s) + 2
    for i in range(_OFFSETS):
        for j in range(_OFFSETS):
            grid = []
            for row in range(rows):
                v = -c / 2 + (j + 0.5) / _OFFSETS * high + row * high
                for column in range(columns):
                    u = -a / 2 + (i + 0.5) / _OFFSETS * s + (column - 0.5 * (row % 2)) * s
                    if -a / 2 <= u <= a / 2 and -c / 2 <= v <= c / 2:
                        grid.append((v, u) if turned else (u, v))
            if grid and len(grid) <= _MOST:
                yield grid
    yield [(0.0, 0.0)]


def _more(x: Any, y: Any, free_x: Any, free_y: Any, places: Any, need: Any) -> tuple[Any, float]:
    """With further insertions, each at the free place nearest to what is furthest beyond its need.

    And how far the concrete then is from an insertion, at most.
    """
    apart = _apart(x, y, places)
    put = [places]
    for _ in range(_MOST):
        worst = int(np.argmax(apart - need))
        if apart[worst] <= need[worst]:
            break
        near = int(np.argmin((free_x - x[worst]) ** 2 + (free_y - y[worst]) ** 2))
        put.append(np.array([[free_x[near], free_y[near]]]))
        dx, dy = x - free_x[near], y - free_y[near]
        apart = np.minimum(apart, np.sqrt(dx * dx + dy * dy))
    return np.concatenate(put), float(apart.max())


def _needs(x: Any, y: Any, free_x: Any, free_y: Any, R: float) -> Any:
    """How near an insertion points want where none may stand: within the radius, or near the nearest place."""
    reach = np.empty(len(x))
    for start in range(0, len(x), 500):
        part = slice(start, start + 500)
        dx, dy = np.subtract.outer(x[part], free_x[::2]), np.subtract.outer(y[part], free_y[::2])
        reach[part] = np.sqrt(np.min(dx * dx + dy * dy, axis=1))
    return np.where(reach <= R - _CELL, R, reach + R / 4)


# ---- afterwards ----


def _bolt_checks(work: Work, patterns: Iterable[Pattern]) -> Iterator[BoltCheck]:
    """Both diagonals, the sides, and how far the bolts stand out, while the concrete still gives."""
    for pattern in patterns:
        if all(body.cast for body in work.bases[pattern.on].bodies):
            continue
        for diagonal in pattern.diagonals:
            yield BoltCheck(
                on=pattern.name, what=f"bolts {diagonal.name}", value=diagonal.length, within=pattern.tolerance
            )
        proud = [point.proud for point in pattern.points]
        yield BoltCheck(on=pattern.name, what="bolts stand out", value=min(proud), within=pattern.budget.threads)


def _from_plate_to_plate(work: Work, across: Iterable[Diagonal]) -> Iterator[BoltCheck]:
    """Tapes between bolts of two plates, where one of them is still to be cast."""
    things = {name: post.on for name, post in work.posts.items()}
    things |= {name: machine.on for name, machine in work.machines.items()}
    for tape in across:
        ends = [end.partition(".bolt.")[0] for end in (tape.a, tape.b)]
        if all(end in things for end in ends) and not all(work.bases[things[end]].done for end in ends):
            yield BoltCheck(on=" to ".join(ends), what=tape.name, value=tape.length, within=tape.allow)


def _notes(head: Head, blocks: Iterable[Insertions]) -> Iterator[str]:
    if head.radius != head.radius:
        yield "the tables know no vibrator of this width: no insertions are placed"
        return
    missed = [block.name for block in blocks if block.fits and not block.covered]
    if missed:
        yield (
            f"{among(missed)}: some concrete lies further from the vibrator than it surely reaches, past steel:"
            " rod it, and tap the form there"
        )
    shut = [block.name for block in blocks if not block.fits]
    if shut:
        yield f"{', '.join(shut)}: the vibrator passes nowhere between the steel; take a thinner head"
