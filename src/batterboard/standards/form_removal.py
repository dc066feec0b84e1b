"""ACI 347R: when may the forms come off, if nobody tests the strength?

    least("walls, columns, beam sides")    12 h
    counts(T)                              only hours in air at 50 F or above do

The lateral pressure on those forms is in `aci347`.
"""

from batterboard.quantity import Celsius, Number, Time
from batterboard.record import ordered
from batterboard.standards.aci347 import ACI_347R_14
from batterboard.standards.tables import Table
from batterboard.working import formula, where

REMOVAL = ACI_347R_14.clause(
    "table of form removal times", "read: a magazine's answer on the hours that count; 12 h from memory"
)


@ordered
class Removal:
    name: str  # what was formed
    time: Time


least = Table("formed member", Removal, "form-removal")


@formula(source=REMOVAL)
def counts(T: Celsius) -> Number:
    """Whether an hour counts towards the table's time: 1 where the air round the forms has 50 F, else 0."""
    T_F = 1.8 * T + 32
    n = where(T_F >= 50, 1, 0)
    return n
