"""What was assumed, in words, by the phase that rests on it.

row : Assumed("concrete", "largest stone", "3/4\"", where=("mixes.stiff.stone",))     like ones share a row
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from batterboard import quantity
from batterboard.job.schema import Assumption

if TYPE_CHECKING:
    from batterboard.plan import Plan

# The first that fits names the phase; what none fits rests under everything, and so with the first question.
_PHASE = (
    (r"site\.soil\.(slope|swell)|site\.(frost|water)", "dig"),
    (r"site\.exposed|mixes\.", "concrete"),
    (r"pour\.(air|concrete|swing|kept|blanket|sun)$", "cure"),
    (r"pour\.(order|spread)\.", "ordering"),
    (r"pour\.vibrated$", "forms"),
    (r"pour\.", "pour"),
    (r"lead\.", "schedule"),
    (r"blockouts\.", "forms"),
    (r"stock\.bar$|.*(bars|cover|grade|hook)\b", "cage"),
    (r"stock\.", "forms"),
    (r"instruments\.", "setout"),
    (r"(posts|machines)\.\w+\.joint|.*joint\.", "template"),
)


@dataclass(frozen=True)
class Assumed:
    phase: str
    meaning: str
    value: str
    where: tuple[str, ...]  # the keys that the file could have had


def rows(plan: "Plan") -> tuple[Assumed, ...]:
    """Every default and table value that the numbers rest on."""
    system = plan.job.job.units
    alike: dict[tuple[str, str, str], list[str]] = {}
    for one in _all(plan):
        alike.setdefault((_phase(one.path), one.meaning, _value(one, system)), []).append(one.path)
    return tuple(Assumed(*said, tuple(where)) for said, where in alike.items())


def of(plan: "Plan", phase: str) -> tuple[Assumed, ...]:
    return tuple(row for row in rows(plan) if row.phase == phase)


def _all(plan: "Plan") -> Iterable[Assumption]:
    return (*plan.work.assumed, *plan.job.assumed)


def _phase(path: str) -> str:
    return next((phase for pattern, phase in _PHASE if re.match(pattern, path)), "size")


def _value(one: Assumption, system: quantity.System) -> str:
    soil = one.path.startswith(("site.soil.bearing", "site.soil.cohesion"))
    return said(one.value, one.kind, system, _SOIL[system] if soil else None)


_SOIL = {"us": "psf", "si": "kPa"}  # nobody speaks of soil in psi


def said(value: Any, kind: Any, system: quantity.System, unit: str | None = None) -> str:
    """A value of the job file in words."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return ", ".join(said(part, kind, system, unit) for part in value) or "none"
    if kind is not None:
        return quantity.show(value, kind, system, unit) if unit else quantity.show_exact(value, kind, system)
    return str(value)
