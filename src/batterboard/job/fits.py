"""Does each thing fit in itself: its chamfers, its bolts on its plate, its bars and sections in the tables?

Sizes are compared only where they stand in one thing. Whether steel fits beside steel is asked in `cage`, whether a
plate drops on its bolts in `template`. The tables are opened only to judge a job: they know arrays.
"""

import re
from collections.abc import Callable, Iterator
from typing import Any

from batterboard.job import shorthand
from batterboard.job.errors import nearest, shown
from batterboard.job.positions import Path
from batterboard.job.reading import Reading
from batterboard.job.schema import BarRun, BeamBars, Joint, PadBars, Pier, PierBars

SLACK = 1e-9  # rounding of a sum of lengths [m]
_EXPOSURE = re.compile(r"F[0-3]|S[0-3]|W[0-2]|C[0-2]")
_MISSING = re.compile(r"(?:up|tie|top|bottom) \d{1,3}")

Wrong = tuple[Path, str, str]


def judge(values: dict[str, Any], reading: Reading) -> None:
    """Tell the reading what does not fit."""
    for path, problem, remedy in _all(values):
        reading.wrong(path, problem, remedy)


def _all(values: dict[str, Any]) -> Iterator[Wrong]:
    if "site" in values:
        yield from _site(values["site"])
    for name, pier in values.get("piers", {}).items():
        yield from _pier(pier, ("piers", name), values)
    for name, pad in values.get("pads", {}).items():
        yield from _chamfers(pad.edges, min(pad.along, pad.across), pad.thick, ("pads", name, "edges"))
        yield from _bars(pad.bars, ("pads", name, "bars"))
    for name, beam in values.get("beams", {}).items():
        if beam.between[0] == beam.between[1]:
            yield ("beams", name, "between"), "a beam ties two different things", "name the two"
        yield from _bars(beam.bars, ("beams", name, "bars"))
    for name, post in values.get("posts", {}).items():
        yield from _known("section", post.section, ("posts", name, "section"), "section")
        if post.joint:
            yield from _joint(post.joint, ("posts", name, "joint"))
        yield from _found_bolts(post.bolts, post.joint, ("posts", name, "bolts"))
    for name, machine in values.get("machines", {}).items():
        yield from _joint(machine.joint, ("machines", name, "joint"))
        yield from _found_bolts(machine.bolts, machine.joint, ("machines", name, "bolts"))
    for name, pipe in values.get("pipes", {}).items():
        yield from _pipe(pipe, ("pipes", name))
    for name, mix in values.get("mixes", {}).items():
        for share in ("slag", "fly_ash", "air"):
            if (getattr(mix, share) or 0) >= 1:
                yield ("mixes", name, share), "a share of the whole or more", "a share from 0 to 1, or 35 %"
    if "stock" in values:
        yield from _stock(values["stock"])


def _site(site: Any) -> Iterator[Wrong]:
    soil = site.soil
    if soil.bearing is None or soil.side is None or (soil.friction is None and soil.cohesion is None):
        yield from _known("soil", soil.class_, ("site", "soil", "class"), "class of soil")
    for number, name in enumerate(site.exposed):
        if not _EXPOSURE.fullmatch(name):
            yield (
                ("site", "exposed", number),
                f"{shown(name)} is no exposure class",
                "F0 to F3, S0 to S3, W0 to W2, C0 to C2",
            )


def _stock(stock: Any) -> Iterator[Wrong]:
    from batterboard.standards import tables

    yield from _known("lumber_grade", stock.lumber, ("stock", "lumber"), "lumber")
    for number, sheet in enumerate(stock.sheets):
        try:
            tables.sheet(sheet.of)
        except tables.NotTabulated:
            yield from _known("plywood", sheet.of, ("stock", "sheets", number, "of"), "sheet")


# ---- concrete ----


def _pier(pier: Pier, path: Path, values: dict[str, Any]) -> Iterator[Wrong]:
    if pier.sides is not None and not 3 <= pier.sides <= 24:
        yield (*path, "sides"), f"a pier of {pier.sides} sides", "from 3 to 24 sides; round is round"
        return
    least = min(size for size in (pier.along, pier.across, pier.square, pier.round, pier.flats) if size is not None)
    if pier.round is not None and pier.edges.corners > 0:
        yield (*path, "edges", "corners"), "a round pier has no corners", "chamfer its top only"
    elif pier.sides is None:
        yield from _chamfers(pier.edges, least, pier.height, (*path, "edges"))
    else:
        from math import pi, tan

        yield from _chamfers(pier.edges, least * tan(pi / pier.sides), pier.height, (*path, "edges"), least)
    if pier.top and pier.bottom and pier.top.level and pier.bottom.level:
        levels = values.get("levels", {})
        if pier.top.level in levels and pier.bottom.level in levels:
            top, bottom = (levels[e.level].z + (e.up or 0.0) - (e.down or 0.0) for e in (pier.top, pier.bottom))
            if not top > bottom:
                yield (*path, "top"), "its top is not above its bottom", "look at up and down"
    yield from _bars(pier.bars, (*path, "bars"))
    yield from _bars(pier.pad_bars, (*path, "pad_bars"))


def _chamfers(edges: Any, side: float, height: float | None, path: Path, least: float | None = None) -> Iterator[Wrong]:
    if edges.corners > side / 2 - SLACK:
        yield (*path, "corners"), "this chamfer eats half a side or more", "make it less than half the shortest side"
    if edges.top > (least or side) / 2 - SLACK or (height is not None and edges.top > height - SLACK):
        yield (
            (*path, "top"),
            "this chamfer eats the whole top",
            "make it less than half the shortest side, and less than the height",
        )


def _bars(bars: PierBars | PadBars | BeamBars | None, path: Path) -> Iterator[Wrong]:
    if bars is None:
        return
    runs: list[tuple[str, BarRun]] = []
    if isinstance(bars, PierBars):
        runs = [("up", bars.up)]
    elif isinstance(bars, PadBars):
        for name in ("along", "across"):
            yield from _bar(getattr(bars, name), (*path, name))
    else:
        runs = [("top", bars.top), ("bottom", bars.bottom)]
    for name, run in runs:
        yield from _bar(run, (*path, name))
        if run.count is None or run.spacing is not None:
            yield (*path, name), "these bars are counted, not spaced", 'write it like "8 #5"'
        elif isinstance(bars, PierBars) and run.count < 3:
            yield (*path, name), f"a cage of {run.count} uprights", "three at least, four in a rectangular pier"
    if isinstance(bars, (PierBars, BeamBars)):
        for number, tie in enumerate(bars.ties):
            yield from _bar(tie, (*path, "ties", number))
            if tie.spacing is None:
                yield (
                    (*path, "ties", number),
                    "the spacing of these ties is missing",
                    'write it like "3 #3 @ 2 in from top" or "#3 @ 10 in"',
                )
            elif not tie.spacing > 0:
                yield (*path, "ties", number), "this spacing is zero", 'write it like "#3 @ 10 in"'
            elif tie.count is None and number < len(bars.ties) - 1:
                yield (
                    (*path, "ties", number + 1),
                    "no tie is left for this rule: the one before it runs through",
                    "write the rule without a number last",
                )
        for number, name in enumerate(bars.missing):
            if not _MISSING.fullmatch(name):
                yield (
                    (*path, "missing", number),
                    f"{shown(name)} is no bar",
                    'write it like "tie 4" or "up 2", counted from the top',
                )


def _bar(run: BarRun, path: Path) -> Iterator[Wrong]:
    yield from _known("bar", run.size, path, "bar")
    if run.spacing is not None and not run.spacing > 0 and "ties" not in path:
        yield path, "this spacing is zero", 'write it like "#5 @ 10 in"'


# ---- steel ----


def _joint(joint: Joint, path: Path) -> Iterator[Wrong]:
    along, across, _ = joint.plate
    bolts = joint.bolts
    yield from _rod(joint, path)
    if joint.square is not None:
        yield from _counted(
            bolts.count == 4, f"{bolts.count} bolts do not make a square", "4 bolts, or rows, circle or at", path
        )
        pattern, reach = "square", [(joint.square / 2, joint.square / 2)]
    elif joint.rows is not None:
        yield from _counted(
            bolts.count == 4,
            f"{bolts.count} bolts do not make two rows of two",
            "4 bolts, or write the points with at",
            path,
        )
        pattern, reach = "rows", [(joint.rows[0] / 2, joint.rows[1] / 2)]
    elif joint.circle is not None:
        yield from _counted(bolts.count >= 3, f"{bolts.count} bolts do not make a circle", "3 bolts at least", path)
        pattern, reach = "circle", [(joint.circle / 2, joint.circle / 2)]
    else:
        yield from _counted(
            bolts.count == len(joint.at),
            f"{len(joint.at)} points for {bolts.count} bolts",
            "one point for each bolt",
            path,
        )
        pattern, reach = "at", [(abs(x), abs(y)) for x, y in joint.at]
        if len(set(joint.at)) < len(joint.at):
            yield (*path, "at"), "two bolts stand in one place", "one point for each bolt"
    if any(x + bolts.diameter / 2 > along / 2 or y + bolts.diameter / 2 > across / 2 for x, y in reach):
        yield (*path, pattern), "the bolts do not stand on the plate", "a larger plate or a smaller pattern"
    if joint.hole is not None and not joint.hole > bolts.diameter:
        yield (*path, "hole"), "the bolt does not go through this hole", "a hole is wider than its bolt"


def _counted(holds: bool, problem: str, remedy: str, path: Path) -> Iterator[Wrong]:
    if not holds:
        yield (*path, "bolts"), problem, remedy


def _rod(joint: Joint, path: Path) -> Iterator[Wrong]:
    from batterboard.standards import tables

    try:
        tables.rod(joint.bolts.diameter, joint.bolts.grade)
    except tables.NotTabulated as missing:
        names = (*tables.rod_names(), *tables.grade.names())
        yield (*path, "bolts"), missing.problem, missing.remedy if missing.near else nearest(None, names, 30)


def _found_bolts(bolts: dict[int, Any], joint: Joint | None, path: Path) -> Iterator[Wrong]:
    count = joint.bolts.count if joint else 0
    for number, bolt in bolts.items():
        if number > count:
            yield (
                (*path, str(number)),
                f"there is no bolt {number}",
                f"they count from 1 to {count}" if count else "this post is cast in",
            )
        if bolt.leans:
            yield from _short_form(shorthand.lean, bolt.leans, (*path, str(number), "leans"))


def _pipe(pipe: Any, path: Path) -> Iterator[Wrong]:
    yield from _known("conduit", pipe.pipe, (*path, "pipe"), "pipe")
    if not pipe.route:
        yield (*path, "route"), "this pipe runs nowhere", "write its legs in order"
    for number, wires in enumerate(pipe.wires):
        yield from _short_form(shorthand.wires, wires, (*path, "wires", number))
    for number, leg in enumerate(pipe.route):
        yield from _short_form(shorthand.stub, leg.to, (*path, "route", number, "to"))


def _short_form(parse: Callable[[str], Any], text: str, path: Path) -> Iterator[Wrong]:
    try:
        parse(text)
    except shorthand.ShortFormError as wrong:
        yield path, wrong.problem, wrong.remedy


def _known(table: str, name: str, path: Path, what: str) -> Iterator[Wrong]:
    from batterboard.standards import tables

    rows = getattr(tables, table)
    try:
        rows(name)
    except tables.NotTabulated:
        yield path, f"there is no {what} {shown(name)} in the tables", nearest(name, rows.names(), 12)
