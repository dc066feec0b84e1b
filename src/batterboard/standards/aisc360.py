"""Steel: the fillet weld of a post on its plate."""

from batterboard.quantity import Length, inch
from batterboard.working import Document, formula, where

AISC_360_16 = Document("AISC 360-16", "Specification for Structural Steel Buildings", scale="fine")
FILLET_LEAST = AISC_360_16.table("J2.4", "read: page of the specification")


@formula(source=FILLET_LEAST, limits="t > 0")
def least_fillet(t: Length) -> Length:
    """Least leg of a single-pass fillet by the thinner part joined, a thousandth of an inch left for rounding [m].

    t : thickness of the thinner part [m].  Broadcasts.
    """
    thick = where(t <= 0.751 * inch, 0.25 * inch, 0.3125 * inch)
    middle = where(t <= 0.501 * inch, 0.1875 * inch, thick)
    leg = where(t <= 0.251 * inch, 0.125 * inch, middle)
    return leg
