"""The short forms of the trade, turned into records.

    8 #5                    BarRun("#5", count=8)
    3 #3 @ 2 in from top    BarRun("#3", count=3, spacing=0.0508, start="top")
    8 ø16, ø10 @ 200 mm     the same with metric bars
    4 x 3/4 in F1554-36     BoltSet(4, 0.01905, "F1554-36")
    6 in above top          0.1524, how far a pipe stands above the concrete
    1/8 in in 4 in          0.03125, how far a bolt leans over its height; 1/8 in left in 4 in says which way too
    1/4 in ahead left       (0.00449, 0.00449), how much longer a hole was slotted; at 30 deg is from ahead to the left

Each reader raises `ShortFormError` with what is wrong and how it is written. Whether such a bar exists is asked later.
"""

import re
from math import cos, hypot, sin
from typing import Any

from batterboard import quantity
from batterboard.job.schema import BarRun, BoltSet
from batterboard.quantity import Angle, Length

BAR_FORM = 'write it like "8 #5", "3 #3 @ 2 in from top", "#3 @ 10 in" or "8 ø16"'
BOLT_FORM = 'write it like "4 x 3/4 in F1554-36"'
STUB_FORM = 'write it like "6 in above top"'
LEAN_FORM = 'write it like "1/8 in in 4 in" or "1/8 in left in 4 in"'
SLOT_FORM = 'write it like "1/4 in ahead left" or "1/4 in at 30 deg", from ahead to the left'
WIRE_FORM = 'write it like "3 #12"'
MOST = 400  # of anything in one run; more is a slip of the pen

# Compiled when one is first met: few files have them all.
_BAR = (
    r"(?:(?P<count>\d{1,6})\s*(?:[x×]\s*)?)?(?P<mark>[#øØ⌀∅])\s?(?P<number>\d{1,3})"
    r"(?:\s*@\s*(?P<spacing>.+?)(?:\s+from\s+(?P<start>top|bottom|each\s+end))?)?"
)
_BOLTS = r"(?P<count>\d{1,6})\s*[x×]\s*(?P<diameter>M\d{1,3}|.+?)\s+(?P<grade>\S*[A-Za-z0-9]\S*)"
_STUB = r"(?P<far>.+?)\s+above\s+top"
_EXPOSURE = r"F[0-3]|S[0-3]|W[0-2]|C[0-2]"
_BAR_NAME = r"(?:up|tie|top|bottom) [1-9]\d{0,2}"
_LEAN = r"(?P<off>.+)\s+in\s+(?P<over>.+)"
_ONE_WAY = r"(?P<way>(?:ahead|back)(?:\s+(?:left|right))?|left|right)"
_WAY = rf"(?P<off>.+?)\s+{_ONE_WAY}"
_SLOT = rf"(?P<long>.+?)\s+(?:{_ONE_WAY}|at\s+(?P<turn>.+))"
_WIRES = r"\d{1,3}\s*(?:[x×]\s*)?#\d{1,2}(?:/0)?(?:\s+\S.*)?|\d{1,3}\s*[x×]\s*\d+(?:\.\d+)?\s*mm2?"


class ShortFormError(ValueError):
    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(f"{problem}: {remedy}")
        self.problem, self.remedy = problem, remedy


def bar_run(text: str) -> BarRun:
    found = re.fullmatch(_BAR, text.strip())
    if found is None:
        raise ShortFormError(f'"{text[:40]}" is no run of bars', BAR_FORM)
    mark = "#" if found["mark"] == "#" else "ø"
    spacing = length(found["spacing"], BAR_FORM) if found["spacing"] else None
    start = " ".join(found["start"].split()) if found["start"] else None
    count = _count(found["count"], "bars", BAR_FORM) if found["count"] else None
    if count is None and spacing is None:
        raise ShortFormError("it says neither how many bars nor their spacing", BAR_FORM)
    return BarRun(f"{mark}{int(found['number'])}", count, spacing, start)


def bolt_set(text: str) -> BoltSet:
    found = re.fullmatch(_BOLTS, text.strip())
    if found is None:
        raise ShortFormError(f'"{text[:40]}" is no set of bolts', BOLT_FORM)
    diameter = found["diameter"]
    metric = re.fullmatch(r"M(\d+)", diameter)
    size = int(metric[1]) / 1000 if metric else length(diameter, BOLT_FORM)
    if not size > 0:
        raise ShortFormError("a bolt has a diameter above zero", BOLT_FORM)
    return BoltSet(_count(found["count"], "bolts", BOLT_FORM), size, found["grade"])


def stub(text: str) -> float:
    found = re.fullmatch(_STUB, text.strip())
    if found is None:
        raise ShortFormError(f'"{text[:40]}" does not say where the pipe ends', STUB_FORM)
    far = length(found["far"], STUB_FORM)
    if far < 0:
        raise ShortFormError("the pipe would end inside the concrete", STUB_FORM)
    return far


def lean(text: str) -> float:
    found = re.fullmatch(_LEAN, text.strip())
    if found is None:
        raise ShortFormError(f'"{text[:40]}" is no lean', LEAN_FORM)
    way = re.fullmatch(_WAY, found["off"])
    off, over = length(way["off"] if way else found["off"], LEAN_FORM), length(found["over"], LEAN_FORM)
    if not over > 0:
        raise ShortFormError("a lean is measured over some height", LEAN_FORM)
    return off / over


def lean_way(text: str) -> str:
    """ahead, back left; empty where nobody wrote it down."""
    found = re.fullmatch(_LEAN, text.strip())
    way = re.fullmatch(_WAY, found["off"]) if found else None
    return " ".join(way["way"].split()) if way else ""


def slot(text: str) -> tuple[float, float]:
    """How much longer ahead and to the left, as a vector."""
    found = re.fullmatch(_SLOT, text.strip())
    if found is None:
        raise ShortFormError(f'"{text[:40]}" does not say how long and which way', SLOT_FORM)
    long = length(found["long"], SLOT_FORM)
    if not long > 0:
        raise ShortFormError("a slot is longer than its hole", SLOT_FORM)
    if found["turn"]:
        turn = _read(found["turn"], Angle, SLOT_FORM)
        return long * cos(turn), long * sin(turn)
    way = found["way"].split()
    ahead, left = ("ahead" in way) - ("back" in way), ("left" in way) - ("right" in way)
    share = long / hypot(ahead, left)
    return ahead * share, left * share


def exposure(text: str) -> str:
    if re.fullmatch(_EXPOSURE, text) is None:
        raise ShortFormError(f'"{text[:40]}" is no exposure class', "F0 to F3, S0 to S3, W0 to W2, C0 to C2")
    return text


def bar_name(text: str) -> str:
    if re.fullmatch(_BAR_NAME, text.strip()) is None:
        raise ShortFormError(f'"{text[:40]}" is no bar', 'write it like "tie 4" or "up 2"')
    return text.strip()


def wires(text: str) -> str:
    if re.fullmatch(_WIRES, text.strip()) is None:
        raise ShortFormError(f'"{text[:40]}" is no set of wires', WIRE_FORM)
    return text.strip()


def _count(text: str, what: str, form: str) -> int:
    number = int(text)
    if not 1 <= number <= MOST:
        raise ShortFormError(f"{text} {what} in one run", f"from 1 to {MOST}")
    return number


def length(text: str, form: str) -> float:
    length = _read(text, Length, form)
    if length < 0:
        raise ShortFormError("sizes are never negative", form)
    return length


def _read(text: str, kind: Any, form: str) -> float:
    try:
        return quantity.read(text, kind)
    except quantity.QuantityError as wrong:
        raise ShortFormError(wrong.problem, wrong.remedy or form) from None
