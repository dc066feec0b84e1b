"""ACI 301: how much stronger than f'c must concrete be on average, and how wet where nobody said?

required_average(f_c)          5200 psi for f'c = 4000 psi, without test records
WETTEST["vibrated"]            4 in of slump
"""

from batterboard.quantity import Length, Pressure, inch, psi
from batterboard.working import Document, formula, where

ACI_301 = Document("ACI 301-16", "Specifications for Concrete Construction", scale="fine")
AVERAGE = ACI_301.clause("required average strength without test records", "memory")
SLUMP = Document("ACI 301, editions of the 1990s", scale="fine").clause(
    "slump where none is specified", "read: a trade magazine's answer on the greatest slump permitted"
)

# Later editions leave the slump to the contractor; one batch of five might be an inch wetter.
WETTEST: dict[str, Length] = {"vibrated": 4 * inch, "not vibrated": 5 * inch}
ONE_OF_FIVE: Length = 1 * inch


@formula(source=AVERAGE, limits="f_c > 0")
def required_average(f_c: Pressure) -> Pressure:
    """f'cr : the average to aim at, so that few tests fall below f'c [Pa]. Broadcasts.

    From 3000 psi on it is 1200 more; a hair below is 3000, as read from a job file.
    """
    more = where(f_c > 5000 * psi, 1.1 * f_c + 700 * psi, f_c + 1200 * psi)
    f_cr = where(f_c < 2999.9 * psi, f_c + 1000 * psi, more)
    return f_cr
