"""AISC on base plates: the hole round a rod, the steel beside the hole, the rod's length above the concrete.

    radial_clearance(hole, d)         how far a rod may stand off the middle of its hole
    least_edge_distance(...)          from the hole's centre to the plate's edge
    rod_projection(...)               grout, plate, washer, nut and what shows above it
    twist_play(hole, d, r)            how far the plate can be turned on its rods

Sizes of holes and washers stand in `tables`, with their edition. The fillet weld is in `aisc360`.
"""

from batterboard.quantity import Angle, Length, Number, inch
from batterboard.record import record
from batterboard.standards.aisc360 import AISC_360_16
from batterboard.standards.tables import Table
from batterboard.working import GEOMETRY, Document, formula, maximum, pi

DESIGN_GUIDE_1 = Document("AISC Design Guide 1, 2nd edition", "Base Plate and Anchor Rod Design, 2006", scale="fine")
ROD_HOLES = DESIGN_GUIDE_1.table("2.3", "read: a copy of the table with damaged fractions, which agreed with memory")
ROD_LENGTH = DESIGN_GUIDE_1.clause("2.7", "memory")
ROD_GROUP = Document("AISC 303-05", "Code of Standard Practice", scale="fine").clause(
    "7.5.1", "read: letters of a structural engineers' association that quote it; later editions are wider"
)
IN_A_GROUP = 0.125 * inch  # between any two rods of one group
EDGES = AISC_360_16.table("J3.4", "memory")

THREADS_SHOWING = 0.25 * inch  # above a tightened nut, common practice
HOOK_LEG = 4.5  # rod diameters inside the hook, the most that counts as an anchor, ACI 318-19 17.6.3.2.2, from memory


@record
class Edge:
    name: str  # of the rod
    hole: Length  # the standard one
    edge: Length  # least from its centre to the edge


edge = Table("rod", Edge, "rod-edges", "rod-edges-metric")


@formula(source=GEOMETRY, limits="d > 0; hole >= d")
def radial_clearance(hole: Length, d: Length) -> Length:
    """How far a rod may stand off the middle of its hole, any way [m]. All broadcast."""
    c = (hole - d) / 2
    return c


@formula(source=EDGES, limits="a_standard > 0; hole_standard > 0; hole > 0")
def least_edge_distance(a_standard: Length, hole_standard: Length, hole: Length) -> Length:
    """From the centre of a hole to the plate's edge, at least [m].

    The table is for standard holes; a wider one keeps as much steel beside it.  All broadcast.
    """
    wider = maximum(hole - hole_standard, 0)
    a = a_standard + wider / 2
    return a


@formula(source=ROD_LENGTH, limits="t_grout >= 0; t_plate > 0; t_washer >= 0; t_nut > 0; threads >= 0")
def rod_projection(t_grout: Length, t_plate: Length, t_washer: Length, t_nut: Length, threads: Length) -> Length:
    """What a rod must stand above the concrete: through grout, plate, washer and nut, with threads to show [m]."""
    h = t_grout + t_plate + t_washer + t_nut + threads
    return h


@formula(source=GEOMETRY, limits="d > 0; legs >= 0")
def hook_length(legs: Number, d: Length) -> Length:
    """Rod that a hook takes beyond the underside of its bend [m]. Bent round a pin of twice the rod's diameter.

    legs : length of the hook from the rod's inner face, in diameters, as an anchor's e_h is measured;  d : diameter.
    """
    r = d
    out_to_out = legs * d + d
    bend = 2 * (r + d) - pi / 2 * (r + d / 2)
    l = out_to_out - bend
    return l


@formula(source=GEOMETRY, limits="d > 0; hole >= d; r > 0")
def twist_play(hole: Length, d: Length, r: Length) -> Angle:
    """How far a plate can be turned either way on rods that stand in place [rad].

    hole, d : diameters of hole and rod;  r : from the plate's centre to the rods.  All broadcast.
    """
    phi = (hole - d) / 2 / r
    return phi
