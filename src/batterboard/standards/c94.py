"""ASTM C94 and the balance of a load: how wet, how old, how much in each truck?

    slump_tolerance(s)              1 in either way at 4 in
    ratio_after(w, C, g)            w/cm when water g is put in on site
    water_allowed(w_max, w, C)      how much may go in up to the greatest w/cm
    load_age(t_away, t_out)         the drive and the time on site
    SLUMP_REPEATS                   two tests of one load may differ by 0.83 in
    OLDEST                          1 1/2 h from water meeting cement to the last of the load

Site water goes in once, then 30 turns at mixing speed. Later editions leave the time to agreement.
"""

from batterboard.quantity import (
    Length,
    MassDensity,
    Number,
    Time,
    WaterContent,
    gal_per_yd3,
    hour,
    inch,
    lb_per_yd3,
    psi,
)
from batterboard.working import Document, Source, formula, maximum, where

ASTM_C94 = Document("ASTM C94-17a", "Specification for Ready-Mixed Concrete", scale="fine")
SLUMP = ASTM_C94.table("tolerances in slump", "memory")
AGE = ASTM_C94.clause("time of discharge", "memory")
BALANCE = Source(Document("Mass balance", "of a load", scale="fine"), "", "derived")

ASTM_C403 = Document("ASTM C403", "Time of Setting by Penetration Resistance").clause("initial and final set", "memory")

INITIAL_SET = 500 * psi  # penetration resistance of the sieved mortar, not compressive strength
FINAL_SET = 4000 * psi
OLDEST = 1.5 * hour  # the purchaser may waive it
WATER_DENSITY = 1000.0  # [kg/m3]
REPEATS = Source(
    Document("ASTM C143-98", "Slump", scale="fine"),
    "repeatability",
    "read: a trade magazine quoting it, from 1.5 to 2.75 in",
)
SLUMP_REPEATS = 0.83 * inch  # nineteen times in twenty two tests of one load differ by less


@formula(source=SLUMP, limits="s >= 0")
def slump_tolerance(s: Length) -> Length:
    """How far a load's slump may be off either way [m]. s : ordered."""
    more = where(s > 4 * inch, 1.5 * inch, 1 * inch)
    d = where(s > 2 * inch, more, 0.5 * inch)
    return d


@formula(source=BALANCE, limits="w >= 0; C > 0; g >= 0")
def ratio_after(w: Number, C: MassDensity, g: WaterContent) -> Number:
    """w/cm after water is put in. w, C : w/cm before and binder; g : volume of water per volume of concrete.

    A gallon of water weighs 8.345 lb.  All broadcast.
    """
    C_pcy = C / lb_per_yd3
    g_gal = g / gal_per_yd3
    w_after = w + 8.345 * g_gal / C_pcy
    return w_after


@formula(source=BALANCE, limits="w >= 0; C > 0")
def water_allowed(w_max: Number, w: Number, C: MassDensity) -> WaterContent:
    """Water that may still go in up to the greatest w/cm, per volume of concrete. w holds the free water of stones."""
    C_pcy = C / lb_per_yd3
    g_gal = maximum(w_max - w, 0) * C_pcy / 8.345
    g = g_gal * gal_per_yd3
    return g


@formula(source=BALANCE, limits="t_away >= 0; t_out >= 0")
def load_age(t_away: Time, t_out: Time) -> Time:
    """Age of a load when some of it is out [s]. t_away : drive; t_out : on site until then, placing and waiting."""
    t = t_away + t_out
    return t
