"""What waits for what, and on which day?

    event : Event("ask for the locate", start=-8.0 d, hold="every utility has answered", basis="guess")

Chained backwards from the pour by the lead times of the job, which are guesses until the offices have answered, and
forwards by the strength of the concrete. Days count from the pour; dates stand where the pour has one. Notices to
offices are counted in working days, Monday to Friday; holidays are not known here.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

import numpy as np

from batterboard.quantity import Time
from batterboard.working import Check

Basis = Literal["given", "guess", "rule", "strength"]


@dataclass(frozen=True, kw_only=True)
class Event:
    """One thing that happens or has to be waited for. Times count from the start of the pour, before it negative."""

    name: str  # "ask for the utility locate"
    what: str  # permit, locate, dig, cage, notice, inspection, order, pour, strip, ...: of its kind
    start: Time
    end: Time
    hold: str  # what must be true before it goes on; "" where nothing is waited for
    basis: Basis
    source: str  # of the rule, or whose guess
    element: str  # "" where it is of the whole job
    pour: datetime | None  # the date that 0 stands for

    @property
    def starts(self) -> datetime | None:
        """Its date, of one job."""
        return self._date(self.start)

    @property
    def ends(self) -> datetime | None:
        return self._date(self.end)

    def _date(self, after: Time) -> datetime | None:
        if self.pour is None or not np.isfinite(after):
            return None
        return self.pour + timedelta(seconds=round(float(after)))


@dataclass(frozen=True, kw_only=True)
class Days:
    pour: datetime | None
    events: tuple[Event, ...]  # in the order they start
    holds: tuple[str, ...]  # once each, in that order
    notes: tuple[str, ...]
    checks: tuple[Check, ...]
