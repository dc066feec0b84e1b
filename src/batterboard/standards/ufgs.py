"""The federal guide specification: curing by kind of cement, and no welding on curing concrete, said nowhere else.

    curing("Type II")    14 d

A base plate on levelling nuts does not touch the concrete; its anchor rods do.
"""

from typing import NamedTuple

from batterboard.quantity import Time, hour
from batterboard.standards.tables import Table
from batterboard.working import Document

UFGS_03301 = Document("UFGS-03301A", "Cast-in-Place Structural Concrete for Civil Works")
WELDING = UFGS_03301.clause("3.5.1", "read: this section and 03372")
CURING = UFGS_03301.clause("3.5.1", "read: this section and 03372")
RAIN: Time = 12 * hour  # after placing, rain is kept off


class Curing(NamedTuple):
    name: str  # cement, or how much of it is replaced
    time: Time


curing = Table("cement", Curing, "curing-ufgs")
