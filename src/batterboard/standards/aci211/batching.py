"""ACI 211.1: how much of what in a batch that is mixed on site?

    coarse_volume_for(stone, F)           0.62 of the concrete is dry-rodded 3/4 in stone, for sand of fineness 2.80
    fresh_weight_for(stone, air)          3960 lb/yd3, a first estimate of what the concrete weighs
    coarse_dry(b, w)                      the dry stone
    fine_by_volume(W, C, CA, A, ...)      what sand fills the rest, by absolute volumes
    fine_by_mass(M, W, C, CA)             the same by the first estimate of the weight
    as_weighed(D, m)                      damp stone or sand for so much dry
    water_in_batch(W, CA, FA, ...)        what goes in, less what the damp stone and sand bring along

Everything is for one volume of concrete. The tables end at sand of fineness 2.40 and 3.00; beyond them nan.
"""

from typing import Any, NamedTuple

from batterboard.methods.rows import between
from batterboard.quantity import Length, MassDensity, Number, lb_per_ft3
from batterboard.standards.aci211 import ACI_211
from batterboard.standards.tables import Table
from batterboard.working import formula, nan

COARSE = ACI_211.table("6.3.6", "read: mix-design notes reproducing the tables, for 3/4 and 1 in; the rest from memory")
VOLUMES = ACI_211.clause("6.3.7.2", "memory")
MASSES = ACI_211.clause("6.3.7.1", "memory")
MOISTURE = ACI_211.clause("6.3.8", "memory")


class CoarseRow(NamedTuple):
    """Dry-rodded stone per volume of concrete, by the fineness modulus of the sand."""

    name: str
    stone: Length
    fm_240: Number
    fm_260: Number
    fm_280: Number
    fm_300: Number


class WeightRow(NamedTuple):
    name: str
    stone: Length
    plain: MassDensity
    air: MassDensity


coarse_volume = Table("stone size", CoarseRow, "coarse-volume")
fresh_weight = Table("stone size", WeightRow, "fresh-weight")


def coarse_volume_for(stone: Length, F: Number) -> Any:
    """Share of the concrete's volume that its dry-rodded stone would fill. One stone; F broadcasts."""
    rows = [coarse_volume(name) for name in coarse_volume.names()]
    stones = [row.stone for row in rows]
    columns = zip(*((row.fm_240, row.fm_260, row.fm_280, row.fm_300) for row in rows), strict=True)
    return between(F, (2.40, 2.60, 2.80, 3.00), [between(stone, stones, column) for column in columns], outside=nan)


def fresh_weight_for(stone: Length, air: bool) -> Any:
    """First estimate of what fresh concrete weighs [kg/m3]. Broadcasts."""
    rows = [fresh_weight(name) for name in fresh_weight.names()]
    return between(stone, [row.stone for row in rows], [row.air if air else row.plain for row in rows])


@formula(source=COARSE, limits="b >= 0; w > 0")
def coarse_dry(b: Number, w: MassDensity) -> MassDensity:
    """Dry stone per volume of concrete. b : from the table; w : dry-rodded weight of the stone."""
    CA = b * w
    return CA


@formula(source=VOLUMES, limits="W >= 0; C > 0; CA >= 0; A >= 0; G_c > 0; G_ca > 0; G_fa > 0; V > 0")
def fine_by_volume(
    W: MassDensity, C: MassDensity, CA: MassDensity, A: Number, G_c: Number, G_ca: Number, G_fa: Number
) -> MassDensity:
    """Dry sand that fills what water, cement, stone and air leave; nan where they leave nothing.

    A : air [-];  G_c, G_ca, G_fa : how much heavier than water cement, stone and sand are.  All broadcast.
    """
    w_w = 62.4 * lb_per_ft3
    V_w = W / w_w
    V_c = C / (G_c * w_w)
    V_ca = CA / (G_ca * w_w)
    V = 1 - V_w - V_c - V_ca - A
    FA = V * G_fa * w_w
    return FA


@formula(source=MASSES, limits="W >= 0; C > 0; CA >= 0; FA > 0")
def fine_by_mass(M: MassDensity, W: MassDensity, C: MassDensity, CA: MassDensity) -> MassDensity:
    """Dry sand that brings the concrete to its weight M; nan where nothing is left for it.  All broadcast."""
    FA = M - W - C - CA
    return FA


@formula(source=MOISTURE, limits="D >= 0; m >= 0")
def as_weighed(D: MassDensity, m: Number) -> MassDensity:
    """Damp stone or sand that holds so much dry. m : all its water, over its dry weight.  All broadcast."""
    D_wet = D * (1 + m)
    return D_wet


@formula(source=MOISTURE, limits="W > 0; CA >= 0; FA >= 0; m_ca >= 0; m_fa >= 0; a_ca >= 0; a_fa >= 0; W_in >= 0")
def water_in_batch(
    W: MassDensity, CA: MassDensity, FA: MassDensity, m_ca: Number, m_fa: Number, a_ca: Number, a_fa: Number
) -> MassDensity:
    """Water to put in. CA, FA : dry;  m : water they hold;  a : water they drink; dry ones take some. All broadcast.

    nan where they bring more than the concrete may have: such sand has to drain first.
    """
    W_in = W - CA * (m_ca - a_ca) - FA * (m_fa - a_fa)
    return W_in
