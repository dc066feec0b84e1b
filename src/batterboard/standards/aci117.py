"""ACI 117: how far off may an anchor rod be?

    setting("3/4 in")     Setting: a rod's place may be off by 1/4 in, from its specified location in any direction
    TOP                   and its top by 1/2 in up or down

A code's limit, not what a careful builder reaches; the errors of his own tools stand in the job file.
"""

from batterboard.quantity import Length, inch
from batterboard.record import record
from batterboard.standards.tables import Table
from batterboard.working import Document

ACI_117 = Document("ACI 117-10", "Specification for Tolerances for Concrete Construction and Materials", scale="fine")
ROD_PLACE = ACI_117.clause("2.3", "read: a magazine's note on the 2006 edition, 3/4 in rods")
ROD_TOP = ACI_117.clause("2.3", "memory")

TOP = 0.5 * inch  # of a rod, up or down


@record
class Setting:
    name: str  # of the rod
    place: Length  # each rod from its specified location


setting = Table("rod", Setting, "rod-setting", "rod-setting-metric")
