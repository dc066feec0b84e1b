"""The federal guide specification, for the one thing no other public page says: no welding on curing concrete.

A base plate on levelling nuts does not touch the concrete; its anchor rods do.
"""

from batterboard.working import Document

UFGS_03301 = Document("UFGS-03301A", "Cast-in-Place Structural Concrete for Civil Works")
WELDING = UFGS_03301.clause("3.5.1", "read: this section and 03372")
