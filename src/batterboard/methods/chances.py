"""How often does chance alone make a sum of squares so large?

    chi_squared_above(11.3, 3)      0.01: three squares of standard normal numbers add up to more one time in a hundred
    chi_squared_at(0.01, 3)         11.3: what they are above that often

Closed forms for whole degrees of freedom, one value at a time.
"""

from math import erfc, exp, gamma, inf, nan, sqrt


def chi_squared_above(x: float, degrees: int) -> float:
    """Chance that the sum of `degrees` squared standard normal numbers is above x."""
    if not (x == x and degrees > 0):
        return nan
    if x <= 0:
        return 1.0
    half = x / 2
    if half > 700:
        return 0.0
    if degrees % 2 == 0:
        term = total = exp(-half)
        for k in range(1, degrees // 2):
            term *= half / k
            total += term
        return min(total, 1.0)
    total = erfc(sqrt(half))
    term = exp(-half) * sqrt(half) / gamma(1.5)
    for k in range(degrees // 2):
        total += term
        term *= half / (k + 1.5)
    return min(total, 1.0)


def chi_squared_at(chance: float, degrees: int) -> float:
    """What the sum is above with this chance, by halving until no number lies between."""
    if not (0 < chance < 1 and degrees > 0):
        return inf if chance == 0 else nan
    low, high = 0.0, 1.0 * degrees
    while chi_squared_above(high, degrees) > chance:
        low, high = high, 2 * high
    while low < (middle := (low + high) / 2) < high:
        low, high = (middle, high) if chi_squared_above(middle, degrees) > chance else (low, middle)
    return high
