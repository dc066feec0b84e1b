"""What the heat of the blocks answers with: the course of each for two weeks, and what the model takes. SI."""

from typing import Any

from batterboard.quantity import Celsius, Length, Number, Pressure, TemperatureDifference, Time
from batterboard.record import record


@record
class Input:
    """One number that the model takes."""

    name: str
    value: Any
    kind: Any
    source: str


@record
class Run:
    """The course of one block. Times from the end of placing."""

    t: Time
    core: Celsius  # where it gets hottest
    edge: Celsius  # its uppermost corner, at the very skin
    air: Celsius
    ground: Celsius
    strong_edge: Pressure  # by the function that gives least
    strong_core: Pressure
    peak: Celsius
    peak_at: Time
    difference: TemperatureDifference  # the greatest, between the core and the coldest face round it, at its middle
    difference_at: Time
    coldest: Celsius  # anywhere in it, before it may freeze once
    proof_at: Time  # when its edge may freeze once; nan within these days
    frozen: bool  # whether it froze before that


@record
class Warm:
    """One block, and all that look and are kept like it."""

    name: str
    like: tuple[str, ...]
    lift: int
    blankets: bool  # whether they lie on it
    stripped: Time
    uncovered: Time
    run: Run
    other: Run  # without blankets where they lie, with them where they do not
    hottest: Celsius  # what specifications let it reach
    apart: TemperatureDifference  # and how unevenly
    cell: Length  # its widest
    cells: int
    steps: int
    balance: Number  # what the scheme's own account leaves over


@record
class Heat:
    bodies: tuple[Warm, ...]
    inputs: tuple[Input, ...]
    notes: tuple[str, ...]

    @property
    def cells(self) -> int:
        return sum(one.cells for one in self.bodies)

    @property
    def balance(self) -> float:
        """The worst of their accounts."""
        return max((float(one.balance) for one in self.bodies), default=0.0)
