"""ACI 117: how far off may an anchor rod be, and how far the concrete itself?

    setting("3/4 in")     Setting: a rod's place may be off by 1/4 in, from its specified location in any direction
    TOP                   and its top by 1/2 in up or down
    plumb(h)              how far the top of a formed pier may stand off its foot
    edge_location(b)      how far a footing may lie off its place
    thicker(b)            how much wider than specified a formed side may come, and thinner(b), how much less

A code's limit, not what a careful builder reaches; the errors of his own tools stand in the job file.
"""

from batterboard.quantity import Length, inch
from batterboard.record import record
from batterboard.standards.tables import Table
from batterboard.working import Document, formula, maximum, minimum, where

ACI_117 = Document("ACI 117-10", "Specification for Tolerances for Concrete Construction and Materials", scale="fine")
ROD_PLACE = ACI_117.clause("2.3", "read: a magazine's note on the 2006 edition, 3/4 in rods")
ROD_TOP = ACI_117.clause("2.3", "memory")

TOP = 0.5 * inch  # of a rod, up or down

PLUMB = ACI_117.clause("4.1", "memory")
SECTION = ACI_117.clause("4.4", "read: an extract of UFGS 03700 up to 12 in; from memory above")
LOCATION = ACI_117.clause("3, foundations", "read: a summary of the metric edition of 2010")
MEMBER = ACI_117.clause("4.2", "memory")
FOOTING_TOP = ACI_117.clause("3.3", "read: a magazine's answer on the edition of 1990")
FOOTING_THICK = ACI_117.clause("3.4", "memory")

FOOTING_LEVEL = {"supports masonry": (0.5 * inch, 0.5 * inch), "other": (0.5 * inch, 2 * inch)}  # its top: up, down
FOOTING_SIDE = (2 * inch, 0.5 * inch)  # of a formed one: wider, narrower
MEMBER_PLACE = 1 * inch  # of a pier or beam, any way


@record
class Setting:
    name: str  # of the rod
    place: Length  # each rod from its specified location


setting = Table("rod", Setting, "rod-setting", "rod-setting-metric")


@formula(source=PLUMB, limits="h >= 0")
def plumb(h: Length) -> Length:
    """How far a formed pier or wall may be out of plumb over its height [m]."""
    t = minimum(0.003 * h, 1 * inch)
    return t


@formula(source=PLUMB, limits="h >= 0")
def plumb_of_a_corner(h: Length) -> Length:
    """How far an exposed corner may be out of plumb over its height [m]."""
    t = minimum(0.002 * h, 0.5 * inch)
    return t


@formula(source=SECTION, limits="b > 0")
def thicker(b: Length) -> Length:
    """How much more than specified a formed side or depth may measure [m]."""
    t_large = where(b <= 36 * inch, 0.5 * inch, 1 * inch)
    t = where(b <= 12 * inch, 0.375 * inch, t_large)
    return t


@formula(source=SECTION, limits="b > 0")
def thinner(b: Length) -> Length:
    """How much less than specified a formed side or depth may measure [m]."""
    t_large = where(b <= 36 * inch, 0.375 * inch, 0.75 * inch)
    t = where(b <= 12 * inch, 0.25 * inch, t_large)
    return t


@formula(source=LOCATION, limits="b > 0")
def edge_location(b: Length) -> Length:
    """How far a footing may lie off its place, by its least side [m]."""
    t = minimum(maximum(0.02 * b, 0.5 * inch), 2 * inch)
    return t


@formula(source=FOOTING_THICK, limits="b > 0")
def wider_in_soil(b: Length) -> Length:
    """How much wider than specified a footing cast against the soil may come [m]."""
    t_large = where(b <= 72 * inch, 6 * inch, 12 * inch)
    t = where(b <= 24 * inch, 3 * inch, t_large)
    return t


@formula(source=FOOTING_THICK, limits="t_f > 0")
def footing_thinner(t_f: Length) -> Length:
    """How much less than specified a footing may be thick [m]."""
    t = 0.05 * t_f
    return t
