"""ASTM C138: how much concrete is in the load really?

batch_yield(M, w)             218 ft3 from 31620 lb that weigh 145.2 lb/ft3
relative_yield(V, V_0)        1.008 of the 8 yd3 on the ticket; below 1 the load is short
"""

from batterboard.quantity import Mass, MassDensity, Number, Volume
from batterboard.working import Document, formula

ASTM_C138 = Document("ASTM C138", "Density, Yield and Air Content of Concrete", scale="fine")
YIELD = ASTM_C138.clause("yield", "memory")


@formula(source=YIELD, limits="M > 0; w > 0")
def batch_yield(M: Mass, w: MassDensity) -> Volume:
    """Concrete in a batch [m3]. M : all that was batched; w : fresh, as weighed.  Broadcasts."""
    V = M / w
    return V


@formula(source=YIELD, limits="V > 0; V_0 > 0")
def relative_yield(V: Volume, V_0: Volume) -> Number:
    """What is there over what the ticket says.  All broadcast."""
    R = V / V_0
    return R
