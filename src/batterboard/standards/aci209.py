"""ACI 209R: how strong is it at which age?

    gain("Type I")                      Gain: a = 4 d, b = 0.85
    strength_gain(f_c, t, a, b)         70 % of f'c at 7 days
    age_of_strength(f, f_c, a, b)       the other way round: 75 % at 8.3 days

For moist curing at about 23 °C. At 28 days it gives 1.007 of f'c, as published. Ages in the cold or the heat are first
turned into the equivalent age, see `astm_c1074`.
"""

from batterboard.quantity import Number, Pressure, Time
from batterboard.record import ordered
from batterboard.standards.tables import Table
from batterboard.working import Document, formula

ACI_209R_92 = Document("ACI 209R-92", "Prediction of Creep, Shrinkage, and Temperature Effects", scale="fine")


@ordered
class Gain:
    name: str  # cement
    a: Time
    b: Number


gain = Table("cement", Gain, "gain")


@formula(source=ACI_209R_92.equation("2-1", "memory"), limits="t >= 0; a > 0; b > 0")
def strength_gain(f_c: Pressure, t: Time, a: Time, b: Number) -> Pressure:
    """Strength at the age t [Pa]. f_c : at 28 days; t : equivalent age [s]; a, b : of the cement. All broadcast."""
    f = f_c * t / (a + b * t)
    return f


@formula(source=ACI_209R_92.equation("2-1, solved for t", "derived"), limits="r >= 0; b * r < 1; a > 0")
def age_of_strength(f: Pressure, f_c: Pressure, a: Time, b: Number) -> Time:
    """Equivalent age at which the strength f is reached [s]; never, and so nan, from f_c / b on. All broadcast."""
    r = f / f_c
    t = a * r / (1 - b * r)
    return t
