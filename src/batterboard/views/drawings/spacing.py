"""Equal steps told once: 3 @ 2\", 4 @ 10\"; with their sum where steps as rounded would not reach it."""

from collections.abc import Callable, Iterable

from batterboard.quantity import Length, read
from batterboard.views import drawing as d
from batterboard.views.drawings.board import SAME, TAPE


def evenly(stations: Iterable[float], say: Callable[[float], str], layer: d.Layer = d.DIMS) -> d.Chain:
    """A chain in which neighbours that stand equally far apart are one dimension."""
    ordered: list[float] = []
    for station in sorted(stations):
        if not ordered or station - ordered[-1] > SAME:
            ordered.append(station)
    ends, texts, first = ordered[:1], [], 0
    for i in range(1, len(ordered)):
        step = say(ordered[i] - ordered[i - 1])
        if i + 1 < len(ordered) and say(ordered[i + 1] - ordered[i]) == step:
            continue
        many, whole = i - first, ordered[i] - ordered[first]
        ends.append(ordered[i])
        texts.append(step if many == 1 else f"{many} @ {step}{_sum(many, step, whole, say)}")
        first = i
    return d.Chain(tuple(ends), tuple(texts), layer)


def _sum(many: int, step: str, whole: float, say: Callable[[float], str]) -> str:
    return f" = {say(whole)}" if abs(many * read(step, Length) - whole) > TAPE / 2 else ""
