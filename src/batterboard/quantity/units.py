"""Which units are there, and how large is each?

    scale("psi", dimension_of(Pressure))    its size in SI as an exact ratio; None where it is no unit of that kind
    ft, psi, hour, ...                      the same as plain numbers, for formulas published in other units

Products and quotients are read too: `kip ft`, `W/(m K)`. Pounds and kilograms are masses, weighed with standard gravity
where a force stands. Ratios are pairs of whole numbers: the standard library's fractions would cost more to import than
this whole room.
"""

import re
from functools import lru_cache
from typing import Any

from batterboard.quantity.dimensions import (
    Acceleration,
    Angle,
    Area,
    Dimension,
    Flow,
    Force,
    HeatContent,
    Length,
    LineLoad,
    Mass,
    MassDensity,
    Moment,
    Number,
    Powers,
    Pressure,
    RateOfRise,
    SecondMoment,
    SectionModulus,
    Speed,
    Stiffness,
    Subgrade,
    TemperatureDifference,
    Time,
    UnitWeight,
    Volume,
    WaterContent,
    dimension_of,
)


class Unit(float):
    """One unit in SI, a plain number in arithmetic: `R / (ft / hour)`."""

    name: str
    dimension: Dimension

    def __new__(cls, name: str, kind: Any) -> "Unit":
        dimension = dimension_of(kind)
        size = scale(name, dimension)
        assert size is not None, name
        unit = super().__new__(cls, size[0] / size[1])
        unit.name, unit.dimension = name, dimension
        return unit

    def __getnewargs__(self) -> Any:
        return self.name, self.dimension


Ratio = tuple[int, int]
Expression = tuple[str, Ratio, Powers]  # usual spelling, size in SI, powers

BASE: dict[str, Powers] = {
    "m": (1, 0, 0, 0),
    "kg": (0, 1, 0, 0),
    "s": (0, 0, 1, 0),
    "K": (0, 0, 0, 1),
    "rad": (0, 0, 0, 0),
    "Hz": (0, 0, -1, 0),
}
# Inch, pound, gallon and standard gravity are exact by definition; pi is carried to more digits than a float holds.
UNITS = dict(
    line.split(None, 1)
    for line in """\
mm 0.001 m
cm 0.01 m
km 1000 m
in 0.0254 m
ft 12 in
yd 3 ft
mi 5280 ft
L 0.001 m3
mL 0.001 L
gal 231 in3
g 0.001 kg
t 1000 kg
lb 0.45359237 kg
oz 1/16 lb
gravity 9.80665 m/s2
N 1 kg m/s2
kN 1000 N
MN 1000 kN
kgf 1 kg gravity
lbf 1 lb gravity
lbm 1 lb
kip 1000 lbf
Pa 1 N/m2
kPa 1000 Pa
MPa 1000 kPa
GPa 1000 MPa
psf 1 lbf/ft2
psi 1 lbf/in2
ksf 1 kip/ft2
ksi 1 kip/in2
plf 1 lbf/ft
klf 1 kip/ft
pcf 1 lb/ft3
pci 1 lbf/in3
min 60 s
h 60 min
d 24 h
week 7 d
mph 1 mi/h
C 1 K
F 5/9 K
deg 3.14159265358979323846264338327950288/180 rad
arcmin 1/60 deg
arcsec 1/60 arcmin
% 0.01 rad
J 1 N m
kJ 1000 J
MJ 1000 kJ
W 1 J/s
kW 1000 W
kWh 1 kW h
Btu 1055.05585262 J""".splitlines()
)
# These mean one kind only, however their powers come out.
ONLY = {
    name: dimension
    for dimension, names in {
        "speed": "mph|mi/h|km/h",
        "volume": "yd3|gal|L|mL",
        "line load": "plf|klf",
        "subgrade modulus": "pci",
        "energy": "J|kJ|MJ|kWh|Btu",
        "frequency": "Hz",
        "number": "%",
        "angle": "deg|rad|arcmin|arcsec",
        "water content": "gal/yd3|L/m3|mL/m3|m3/m3",
        "area per width": "in2/ft|mm2/m|m2/m",
        "section modulus per width": "in3/ft|mm3/m|m3/m",
        "second moment per width": "in4/ft|mm4/m|m4/m",
        "rotational stiffness": "lb in/rad|lb ft/rad|kip in/rad|kip ft/rad|N m/rad|kN m/rad|MN m/rad",
    }.items()
    for name in names.split("|")
}
# Kinds that take no other units than those named above; powers that take no quotient, since 4 in2/ft is no length; and
# units that have no place in products.
_NAMED_ONLY = frozenset(
    ("angle", "water content", "rotational stiffness")
    + ("area per width", "section modulus per width", "second moment per width")
)
_PLAIN_ONLY = ((1, 0, 0, 0), (2, 0, 0, 0), (3, 0, 0, 0), (4, 0, 0, 0), (0, 0, 1, 0))
ALIASES = {
    alias: unit
    for unit, aliases in {
        "mm": "millimetre millimetres millimeter millimeters",
        "cm": "centimetre centimetres centimeter centimeters",
        "m": "metre metres meter meters",
        "in": "inch inches ins",
        "ft": "foot feet",
        "yd": "yard yards yds",
        "mi": "mile miles",
        "L": "l litre litres liter liters",
        "mL": "ml",
        "gal": "gallon gallons gals",
        "kg": "kilogram kilograms kgs",
        "t": "tonne tonnes",
        "lb": "lbs pound pounds",
        "oz": "ounce ounces",
        "kip": "kips",
        "s": "sec secs second seconds",
        "min": "mins minute minutes",
        "h": "hr hrs hour hours",
        "d": "day days",
        "week": "weeks wk wks",
        "C": "°C degC",
        "F": "°F degF",
        "deg": "° degree degrees",
        "rad": "radian radians",
        "%": "percent pct",
    }.items()
    for alias in aliases.split()
}

# How units are said aloud; compiled only when something is not understood as it stands.
_SAID = (
    (r"\b(?:cubic|cu\.?)\s*([a-z]+)", r"\1^3"),
    (r"\b(?:square|sq\.?)\s*([a-z]+)", r"\1^2"),
    (r"(?:°|\bdeg(?:rees?)?)\s*([CF])\b", r"\1"),
    (r"\s+per\s+", "/"),
    (r"\bW/m ?K\b", "W/(m K)"),
    (r"\bm2 ?K/W\b", "m2 K/W"),
    (r"\b(k?J)/kg ?K\b", r"\1/(kg K)"),
)
_ALONE = frozenset(("%", "rad", "deg", "arcmin", "arcsec"))
_WORDS = re.compile(r"[A-Za-z%]+")
_JOINT = re.compile(r"[\s*.\-]+")
_FACTOR = re.compile(r"([A-Za-z°%]+)(?:\^?([1-6]))?")
_SLASH = re.compile(r"/(?![^(]*\))")


def unit_name(word: str) -> str | None:
    """The unit a word means. Capitals are forgiven where they could not turn milli into mega."""
    if word in UNITS or word in BASE:
        return word
    if word in ALIASES:
        return ALIASES[word]
    if word.islower() or word.isupper() or word.istitle():
        return _forgiving().get(word.lower())
    return None


@lru_cache(1)
def _forgiving() -> dict[str, str]:
    words = ALIASES | {name: name for name in (*BASE, *UNITS) if name not in ("MN", "MJ", "mL")}
    return {word.lower(): name for word, name in words.items() if word != "ml"}


@lru_cache(1024)
def expression(text: str) -> Expression | None:
    """A unit, or units multiplied and divided (`kip ft`, `W/(m K)`), as written or as said (`lb per cubic foot`)."""
    if text in BASE:
        return text, (1, 1), BASE[text]
    if text in UNITS:
        size, definition = UNITS[text].split(None, 1)
        over, _, under = size.partition("/")
        (a, b), (c, d) = decimal(over), decimal(under or "1")
        known = expression(definition)
        assert known is not None, definition
        return text, (a * d * known[1][0], b * c * known[1][1]), known[2]
    known = _quotient(text)
    if known is None:
        for said, meant in _SAID:
            text = re.sub(said, meant, text)
        known = _quotient(text)
    return known


def _quotient(text: str) -> Expression | None:
    """One product, then single units or products in brackets that divide it."""
    spelled = []
    n, d = 1, 1
    powers = (0, 0, 0, 0)
    for place, piece in enumerate(_SLASH.split(text)):
        piece = piece.strip()
        bracket = place > 0 and piece.startswith("(") and piece.endswith(")")
        known = _product(piece[1:-1].strip() if bracket else piece)
        if known is None or (place > 0 and not bracket and " " in known[0]):
            return None  # W/m K: what is divided by K?
        name, (a, b), exponents = known
        spelled.append(f"({name})" if place > 0 and " " in name else name)
        n, d = (n * a, d * b) if place == 0 else (n * b, d * a)
        powers = _times(powers, exponents, 1 if place == 0 else -1)
    name = "/".join(spelled)
    if name not in ONLY and not _ALONE.isdisjoint(_WORDS.findall(name)):
        return None
    return name, (n, d), powers


def _product(text: str) -> Expression | None:
    spelled = []
    n, d = 1, 1
    powers = (0, 0, 0, 0)
    for word in _JOINT.split(text.rstrip(".")):
        factor = _FACTOR.fullmatch(word)
        name = unit_name(factor[1]) if factor else None
        if factor is None or name is None:
            return None
        known = expression(name)
        assert known is not None, name
        exponent = int(factor[2] or 1)
        spelled.append(name + (str(exponent) if exponent > 1 else ""))
        n, d = n * known[1][0] ** exponent, d * known[1][1] ** exponent
        powers = _times(powers, known[2], exponent)
    return " ".join(spelled), (n, d), powers


def _times(powers: Powers, others: Powers, exponent: int) -> Powers:
    (a, b, c, d), (e, f, g, h) = powers, others
    return a + exponent * e, b + exponent * f, c + exponent * g, d + exponent * h


def spoken(unit: str, wanted: Dimension) -> str:
    """Marks mean parts of a degree where an angle stands, feet and inches elsewhere."""
    if wanted.name == "angle":
        return {"'": "arcmin", '"': "arcsec"}.get(unit, unit)
    return {"'": "ft", '"': "in"}.get(unit, unit)


@lru_cache(1024)
def scale(unit: str, wanted: Dimension) -> Ratio | None:
    """Size in SI of a unit where this dimension stands; None where it is no unit of it."""
    unit = spoken(unit, wanted)
    known = expression(unit)
    if known is None:
        return None
    spelled, (n, d), powers = known
    only = ONLY.get(spelled)
    if only != wanted.name and (only is not None or wanted.name in _NAMED_ONLY):
        return None
    if powers == wanted.powers:
        return None if powers in _PLAIN_ONLY and "/" in spelled and only is None else (n, d)
    length, mass, time, kelvin = powers
    if (mass, time) == (1, 0) and (length + 1, mass, -2, kelvin) == wanted.powers:
        return n * 980665, d * 100000  # weighed
    return None


def zero(unit: str) -> Ratio:
    """Where a temperature scale has its zero, in °C."""
    known = expression(unit)
    return {"F": (-160, 9), "K": (-27315, 100)}.get(known[0] if known else "", (0, 1))


def decimal(text: str) -> Ratio:
    """5.54 as (554, 100)."""
    whole, _, part = text.partition(".")
    return int(whole + part), 10 ** len(part)


# ---- for formulas ----

inch, ft, yd, mm, cm, m = (Unit(name, Length) for name in ("in", "ft", "yd", "mm", "cm", "m"))
inch2, ft2, mm2, m2 = (Unit(name, Area) for name in ("in2", "ft2", "mm2", "m2"))
ft3, yd3, m3, gal, litre = (Unit(name, Volume) for name in ("ft3", "yd3", "m3", "gal", "L"))
inch3, mm3 = (Unit(name, SectionModulus) for name in ("in3", "mm3"))
inch4, mm4 = (Unit(name, SecondMoment) for name in ("in4", "mm4"))
lb, kip, N, kN = (Unit(name, Force) for name in ("lb", "kip", "N", "kN"))
plf, kN_per_m = (Unit(name, LineLoad) for name in ("plf", "kN/m"))
lb_per_in, kip_per_in = (Unit(name, Stiffness) for name in ("lb/in", "kip/in"))
psi, ksi, psf, ksf, Pa, kPa, MPa = (Unit(name, Pressure) for name in ("psi", "ksi", "psf", "ksf", "Pa", "kPa", "MPa"))
pcf, kN_per_m3 = (Unit(name, UnitWeight) for name in ("pcf", "kN/m3"))
pci = Unit("pci", Subgrade)
lb_ft, lb_in, kip_ft, kip_in, kN_m = (Unit(name, Moment) for name in ("lb ft", "lb in", "kip ft", "kip in", "kN m"))
kg, lbm = (Unit(name, Mass) for name in ("kg", "lbm"))
kg_per_m3, lb_per_yd3, lb_per_ft3 = (Unit(name, MassDensity) for name in ("kg/m3", "lb/yd3", "lb/ft3"))
gal_per_yd3, litre_per_m3 = (Unit(name, WaterContent) for name in ("gal/yd3", "L/m3"))
mph, km_per_h, m_per_s, ft_per_s = (Unit(name, Speed) for name in ("mph", "km/h", "m/s", "ft/s"))
ft_per_h, m_per_h, inch_per_h = (Unit(name, RateOfRise) for name in ("ft/h", "m/h", "in/h"))
yd3_per_h, m3_per_h = (Unit(name, Flow) for name in ("yd3/h", "m3/h"))
second, minute, hour, day, week = (Unit(name, Time) for name in ("s", "min", "h", "d", "week"))
degree, arcmin, radian = (Unit(name, Angle) for name in ("deg", "arcmin", "rad"))
percent = Unit("%", Number)
kelvin = Unit("K", TemperatureDifference)
kJ_per_kg = Unit("kJ/kg", HeatContent)
gravity = Unit("gravity", Acceleration)
