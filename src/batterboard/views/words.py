"""Results turned into words: no arithmetic, units or verdicts past this point.

Text, book, lists and app all read here.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from batterboard import quantity
from batterboard.record import ordered
from batterboard.work.names import among
from batterboard.working import Check

if TYPE_CHECKING:
    from batterboard.job.schema import Overruled
    from batterboard.study.compare import Change

NOT_REPLACED = (
    "Prepared for the builder; local codes and a licensed professional decide. What was assumed stands in the book."
)
VERDICTS = {"holds": "holds", "fails": "does not hold", "outside": "outside the limits"}
MARKS = {"holds": " ok ", "fails": "FAIL", "outside": "OUT "}


@ordered
class CheckRow:
    title: str  # "Soil under the pad, west"
    demand: str  # "1405 psf"
    capacity: str  # "2000 psf"
    verdict: str  # "holds", "does not hold", "outside the limits"
    mark: str
    ratio: str
    case: str
    clause: str
    remark: str
    note: str

    @property
    def comparison(self) -> str:
        return f"{self.demand} of {self.capacity}, {self.verdict}"


def check_row(c: Check, system: Any) -> CheckRow:
    demand, capacity = _both(c, system)
    return CheckRow(
        title=c.title,
        demand=demand,
        capacity=capacity,
        verdict=VERDICTS[c.verdict],
        mark=MARKS[c.verdict],
        ratio=quantity.show(c.ratio, quantity.Number, system) if c.verdict != "outside" else "",
        case=c.case,
        clause=str(c.clause),
        remark=c.clause.remark,
        note=c.note,
    )


def check_rows(checks: Sequence[Check], system: Any, *, noted: bool) -> list[tuple[Check, CheckRow]]:
    """Checks that read alike but for what they are about stand as one row, where the first stands, with that first.

    noted : their notes stand beside them, so that these count too
    """
    alike: dict[tuple[object, ...], list[tuple[Check, CheckRow]]] = {}
    for c in checks:
        row = check_row(c, system)
        same = (question(c), row.demand, row.capacity, row.verdict, row.case, row.clause, noted and row.note)
        alike.setdefault(same, []).append((c, row))
    return [(rows[0][0], _one_row(rows)) for rows in alike.values()]


def _one_row(rows: list[tuple[Check, CheckRow]]) -> CheckRow:
    c, row = rows[0]
    if len(rows) == 1:
        return row
    asked = question(c)
    abouts = [each.title.removeprefix(asked).removeprefix(", ") for _, each in rows]
    return replace(row, title=f"{asked}: {all_about(abouts)}")


def all_about(abouts: Sequence[str]) -> str:
    """What several checks are about: west, east; "post.1, sand" and "post.2, sand" as post.1-2, sand."""
    if not any(", " in each for each in abouts):
        return among(abouts)
    heads, commas, ends = zip(*(each.rpartition(", ") for each in abouts), strict=True)
    return f"{all_about(heads)}, {ends[0]}" if all(commas) and len(set(ends)) == 1 else "; ".join(abouts)


def question(c: Check) -> str:
    """The title without the things it is about: "Soil pressure" of "Soil pressure, west, sandy gravel"."""
    title, names = c.title, list(c.key[1:])
    while ending := next((name for name in names if title.endswith(f", {name}")), None):
        title = title.removesuffix(f", {ending}")
        names.remove(ending)
    return title


def _both(c: Check, system: Any) -> tuple[str, str]:
    """Demand and capacity in one unit, and apart where they differ."""
    sides = (c.worst_demand, c.worst_capacity)
    if c.dimension.name == "length":
        demand, capacity = (quantity.show_exact(v, c.dimension, system) for v in sides)
        if demand == capacity and not c.holds:  # too close for his tape
            close = "0.001 in" if system == "us" else "0.1 mm"
            demand, capacity = (quantity.show(v, c.dimension, system, close) for v in sides)
        return demand, capacity
    shown = sides[0] if 1e-3 < c.ratio < 1e3 else sides[1]
    unit = quantity.show_plain(shown, c.dimension, system)[1] or None
    demand, capacity = (quantity.show(v, c.dimension, system, unit) for v in sides)
    return demand, capacity


def tally(checks: tuple[Check, ...]) -> str:
    """How many hold, fail and stand outside the limits, in one sentence."""
    if not checks:
        return "The file describes nothing yet that could be checked."
    counts = {v: sum(c.verdict == v for c in checks) for v in ("holds", "fails", "outside")}
    parts = [f"{counts['holds']} of {len(checks)} checks hold"]
    if counts["fails"]:
        parts.append(f"{counts['fails']} do not" if counts["fails"] > 1 else "1 does not")
    if counts["outside"]:
        parts.append(f"{counts['outside']} outside the limits of their formulas")
    return ", ".join(parts) + "."


@ordered
class ChangeRow:
    title: str
    planned: str
    found: str
    mark: str


def change_row(change: "Change", system: Any) -> ChangeRow:
    mark = "SIDES" if change.changed_sides else "     "
    return ChangeRow(
        change.title,
        _side(change.planned, change.planned_verdict, change.dimension, system),
        _side(change.found, change.found_verdict, change.dimension, system),
        mark,
    )


def overruled(o: "Overruled", system: Any) -> str:
    """A planned key and what was found instead, in one line."""
    planned, found = (
        quantity.show(v, o.kind, system) if o.kind and v is not None else str(v) for v in (o.planned, o.found)
    )
    return f"{o.path}: planned {planned}, found {found}"


def _side(value: Any, verdict: str, dimension: Any, system: Any) -> str:
    if value is None:
        return "not there"
    said = ("yes" if value else "no") if isinstance(value, bool) else str(value)
    text = quantity.show_exact(value, dimension, system) if dimension else said
    return f"{text}, {VERDICTS[verdict]}" if verdict else text
