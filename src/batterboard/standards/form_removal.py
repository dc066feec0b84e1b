"""ACI 347R: when may the forms come off, if nobody tests the strength?

    least("walls, columns, beam sides")    12 h
    soffit(span)                           7, 14 or 21 days of a beam's soffit and its shores
    counts(T)                              only hours in air at 50 F or above do

The lateral pressure on those forms is in `aci347`.
"""

from typing import Any

from batterboard.quantity import Celsius, Length, Number, Time, ft
from batterboard.record import ordered
from batterboard.standards.aci347 import ACI_347R_14
from batterboard.standards.tables import Table
from batterboard.working import formula, where

REMOVAL = ACI_347R_14.clause(
    "table of form removal times", "read: a magazine's answers on walls, on soffits and slabs, on the hours that count"
)


@ordered
class Removal:
    name: str  # what was formed
    time: Time


least = Table("formed member", Removal, "form-removal")
_CLASSES = ("under 10 ft", "10-20 ft", "over 20 ft")
SPANS: tuple[Length, Length] = (10 * ft, 20 * ft)  # the table's classes: under, between, over


def soffit(span: Length) -> Any:
    """Least time of a beam's soffit with the shores under it, by its clear span [s]. Broadcasts.

    For a live load under the dead load, the longer of the table's two: a tie beam carries little but itself.
    """
    short, middle, long = (least(f"beam soffit {of}, live load under dead").time for of in _CLASSES)
    return where(span < SPANS[0], short, where(span <= SPANS[1], middle, long))


@formula(source=REMOVAL)
def counts(T: Celsius) -> Number:
    """Whether an hour counts towards the table's time: 1 where the air round the forms has 50 F, else 0."""
    T_F = 1.8 * T + 32
    n = where(T_F >= 50, 1, 0)
    return n
