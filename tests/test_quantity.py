"""Reading and printing of quantities, against a reference units library and as laws."""

import copy
import math
import pickle
import random
import subprocess
import sys
from fractions import Fraction
from pathlib import Path
from typing import Annotated

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from batterboard import quantity
from batterboard.quantity import (
    TRADE,
    Acceleration,
    Angle,
    Area,
    AreaPerWidth,
    BendingStiffness,
    Celsius,
    Conductivity,
    Diffusivity,
    Dimension,
    Energy,
    Evaporation,
    Flow,
    Force,
    HeatContent,
    InertiaPerWidth,
    Length,
    LineLoad,
    Mass,
    MassDensity,
    Maturity,
    ModulusPerWidth,
    Moment,
    Number,
    Power,
    Pressure,
    QuantityError,
    RateOfRise,
    Resistance,
    RotationalStiffness,
    SecondMoment,
    SectionModulus,
    SpecificHeat,
    Speed,
    Stiffening,
    Stiffness,
    Subgrade,
    TemperatureDifference,
    Time,
    Unit,
    UnitWeight,
    Volume,
    WaterContent,
    dimension_of,
    in_si,
    read,
    show,
    show_plain,
    si_unit,
)
from batterboard.quantity.dimensions import PRINTED
from batterboard.quantity.units import scale

INCH = Fraction(254, 10000)
SYSTEMS = ("us", "si")


def problem(text, kind):
    with pytest.raises(QuantityError) as caught:
        read(text, kind)
    return str(caught.value)


# ---- reading ----


@pytest.mark.parametrize(
    "text",
    [
        *(
            "5'-6 1/2\"",
            "5 ft 6 1/2 in",
            "5 ft 6-1/2 in",
            '66.5"',
            "5'6-1/2\"",
            "5' 6 1/2\"",
            "5' - 6 1/2\"",
            "5ft6.5in",
        ),
        *(
            "5′-6½″",
            "5’ 6½”",
            "5\u00a0ft 6\u202f½\u00a0in",
            "5 ft–6 1⁄2 in",
            "5 feet 6.5 inches",
            "5'-6 1/2''",
            "66 1/2 IN.",
        ),
        *("5 ft. 6 1/2 in.", "+66.5 in", "  66.50 in ", "133/2 in", "1 yd 2 ft 6 1/2 in", "6.65e1 in", "5 ft 6 4/8 in"),
    ],
)
def test_five_feet_six_and_a_half_is_read_however_it_is_written(text):
    assert read(text, Length) == float(Fraction(133, 2) * INCH)


@pytest.mark.parametrize(
    "text, kind, value",
    [
        ("5.54 ft", Length, 1.688592),
        ("1690 mm", Length, 1.69),
        ("1.69 m", Length, 1.69),
        ("1 m 69 cm", Length, 1.69),
        ("5⅛ in", Length, 5.125 * 0.0254),
        ("1-5/16 in", Length, 21 / 16 * 0.0254),
        ("-3/4 in", Length, -0.01905),
        ("−5'-6\"", Length, -1.6764),
        ("5'-½\"", Length, 1.5367),
        ("0 in", Length, 0.0),
        ("4000 PSI", Pressure, 27579029.172673445),
        ("4 Mpa", Pressure, 4e6),
        ("210 lbs", Force, 934.126539204705),
        ("100 kg", Force, 980.665),
        ("100 kg", Mass, 100.0),
        ("210 lb", Mass, 95.2543977),
        ("8 lb 4 oz", Mass, 8.25 * 0.45359237),
        ("150 lb/ft3", UnitWeight, 23563.11957693693),
        ("150 pcf", UnitWeight, 23563.11957693693),
        ("2400 kg/m3", UnitWeight, 23535.96),
        ("2400 kg/m³", MassDensity, 2400.0),
        ("564 lb per cubic yard", MassDensity, 334.6079015893896),
        ("150 psf/ft", UnitWeight, 23563.11957693693),
        ("27 MN/m3", Subgrade, 27e6),
        ("12 kip-ft", Moment, 16269.815379976804),
        ("12 ft·kips", Moment, 16269.815379976804),
        ("3 kN.m", Moment, 3000.0),
        ("70 °F", Celsius, 190 / 9),
        ("-40 deg F", Celsius, -40.0),
        ("-40 F", Celsius, -40.0),
        ("-5 C", Celsius, -5.0),
        ("293.15 K", Celsius, 20.0),
        ("18 F", TemperatureDifference, 10.0),
        ("10 K", TemperatureDifference, 10.0),
        ("110 mph", Speed, 49.1744),
        ("36 km/h", Speed, 10.0),
        ("7 ft/h", RateOfRise, 7 * 0.3048 / 3600),
        ("10 cu yd", Volume, 7.64554857984),
        ("3 gal/yd3", WaterContent, 0.014853395061728395),
        ("15 L/m3", WaterContent, 0.015),
        ("2 h 30 min", Time, 9000.0),
        ("2h30min", Time, 9000.0),
        ("7 days", Time, 604800.0),
        ("1 week 2 days", Time, 777600.0),
        ("90 deg", Angle, math.pi / 2),
        ("15 deg 30 min", Angle, math.radians(15.5)),
        ("15° 30' 36\"", Angle, math.radians(15.51)),
        ("30 arcmin", Angle, math.radians(0.5)),
        ("35 %", Number, 0.35),
        ("0.35", Number, 0.35),
        ("1/4 in/ft", Number, 1 / 48),
        ("3/8", Number, 0.375),
        ("22 in2", Area, 22 * 0.0254**2),
        ("3 sq ft", Area, 0.27870912),
        ("0.2 in4/ft", InertiaPerWidth, 0.2 * 0.0254**4 / 0.3048),
        ("0.5 m2K/W", Resistance, 0.5),
        ("1.7 W/mK", Conductivity, 1.7),
        ("1.7 W/(m K)", Conductivity, 1.7),
        ("1.7 W/m K", Conductivity, 1.7),
        ("100 kip ft/rad", RotationalStiffness, 135581.79483314004),
    ],
)
def test_each_kind_is_read(text, kind, value):
    assert read(text, kind) == pytest.approx(value, rel=1e-15, abs=0)


def test_every_sixteenth_up_to_twenty_feet_is_read_exactly_and_printed_back():
    for sixteenths in range(20 * 12 * 16):
        value = float(Fraction(sixteenths, 16) * INCH)
        text = show(value, Length, "us")
        assert read(text, Length) == value
        assert read(text, Length) == read(f"{sixteenths}/16 in", Length)


# What the reference library calls our units. It misreads mixed numbers, so it is given decimals.
REFERENCE = {
    Length: {"in": "inch", "ft": "foot", "yd": "yard", "mi": "mile", "mm": "mm", "cm": "cm", "m": "m", "km": "km"},
    Area: {"in2": "inch**2", "ft2": "foot**2", "mm2": "mm**2", "m2": "m**2"},
    Volume: {"in3": "inch**3", "ft3": "foot**3", "yd3": "yard**3", "gal": "gallon", "L": "liter", "m3": "m**3"},
    SectionModulus: {"in3": "inch**3", "cm3": "cm**3", "mm3": "mm**3"},
    SecondMoment: {"in4": "inch**4", "cm4": "cm**4", "mm4": "mm**4"},
    AreaPerWidth: {"in2/ft": "inch**2/foot", "mm2/m": "mm**2/m"},
    ModulusPerWidth: {"in3/ft": "inch**3/foot", "mm3/m": "mm**3/m"},
    InertiaPerWidth: {"in4/ft": "inch**4/foot", "mm4/m": "mm**4/m"},
    Force: {
        "lb": "force_pound",
        "lbf": "force_pound",
        "kip": "kip",
        "N": "N",
        "kN": "kN",
        "kg": "kgf",
        "t": "1000*kgf",
    },
    LineLoad: {"plf": "force_pound/foot", "klf": "kip/foot", "lb/ft": "force_pound/foot", "kN/m": "kN/m"},
    Stiffness: {"lb/in": "force_pound/inch", "kip/in": "kip/inch", "N/mm": "N/mm"},
    Pressure: {
        **{
            "psi": "psi",
            "ksi": "ksi",
            "psf": "force_pound/foot**2",
            "ksf": "kip/foot**2",
            "lb/ft2": "force_pound/foot**2",
        },
        **{"Pa": "Pa", "kPa": "kPa", "MPa": "MPa", "GPa": "GPa", "N/mm2": "N/mm**2", "kg/cm2": "kgf/cm**2"},
    },
    UnitWeight: {
        "pcf": "force_pound/foot**3",
        "psf/ft": "force_pound/foot**3",
        "kN/m3": "kN/m**3",
        "kg/m3": "kgf/m**3",
    },
    Subgrade: {"pci": "force_pound/inch**3", "psi/in": "psi/inch", "MN/m3": "MN/m**3"},
    Moment: {"lb ft": "force_pound*foot", "lb-in": "force_pound*inch", "kip in": "kip*inch", "kN m": "kN*m"},
    BendingStiffness: {"lb in2": "force_pound*inch**2", "kN m2": "kN*m**2"},
    RotationalStiffness: {"kip ft/rad": "kip*foot", "kN m/rad": "kN*m"},
    Mass: {"lb": "pound", "oz": "ounce", "kg": "kg", "t": "metric_ton", "g": "gram"},
    MassDensity: {"lb/yd3": "pound/yard**3", "lb/ft3": "pound/foot**3", "kg/m3": "kg/m**3", "g/cm3": "g/cm**3"},
    WaterContent: {"gal/yd3": "gallon/yard**3", "L/m3": "liter/m**3"},
    Speed: {"mph": "mile/hour", "mi/h": "mile/hour", "km/h": "km/hour", "m/s": "m/s", "ft/s": "foot/s"},
    RateOfRise: {"ft/h": "foot/hour", "in/h": "inch/hour", "m/h": "m/hour", "mm/min": "mm/minute"},
    Acceleration: {"ft/s2": "foot/s**2", "m/s2": "m/s**2", "gravity": "standard_gravity"},
    Flow: {"yd3/h": "yard**3/hour", "m3/h": "m**3/hour", "gal/min": "gallon/minute", "L/s": "liter/s"},
    Time: {"s": "s", "min": "minute", "h": "hour", "d": "day", "week": "week"},
    Celsius: {"F": "degF", "C": "degC", "K": "kelvin"},
    TemperatureDifference: {"F": "delta_degF", "C": "delta_degC", "K": "kelvin"},
    Maturity: {"C h": "kelvin*hour", "F d": "delta_degF*day"},
    Stiffening: {"psf/h": "force_pound/foot**2/hour", "Pa/s": "Pa/s"},
    Evaporation: {"lb/ft2/h": "pound/foot**2/hour", "kg/m2/h": "kg/m**2/hour"},
    Energy: {"J": "J", "kJ": "kJ", "MJ": "MJ", "kWh": "kW*hour", "Btu": "Btu_it"},
    Power: {"W": "W", "kW": "kW", "Btu/h": "Btu_it/hour"},
    Conductivity: {"W/(m K)": "W/(m*kelvin)", "Btu/(h ft F)": "Btu_it/(hour*foot*delta_degF)"},
    HeatContent: {"Btu/lb": "Btu_it/pound", "kJ/kg": "kJ/kg"},
    SpecificHeat: {"kJ/(kg K)": "kJ/(kg*kelvin)", "Btu/(lb F)": "Btu_it/(pound*delta_degF)"},
    Resistance: {"m2 K/W": "m**2*kelvin/W", "h ft2 F/Btu": "hour*foot**2*delta_degF/Btu_it"},
    Angle: {"deg": "degree", "rad": "radian", "arcmin": "arcminute", "arcsec": "arcsecond"},
    Number: {"%": "0.01*radian"},
}


@pytest.fixture(scope="module")
def reference():
    return pint.UnitRegistry()


@pytest.mark.parametrize("kind", REFERENCE, ids=lambda kind: dimension_of(kind).name)
def test_random_values_agree_with_a_reference_library(reference, kind):
    length, mass, time, kelvin = dimension_of(kind).powers
    si = reference.Unit("m") ** length * reference.Unit("kg") ** mass * reference.Unit("s") ** time
    si = reference.Unit("degC") if kind is Celsius else si * reference.Unit("kelvin") ** kelvin
    draw = random.Random(2)
    for ours, theirs in REFERENCE[kind].items():
        for _ in range(60):
            number = f"{draw.choice(('', '-'))}{draw.uniform(0, 10 ** draw.randint(0, 6)):.{draw.randint(0, 6)}f}"
            factor, _, unit = theirs.rpartition("*") if theirs[0].isdigit() else ("1", "", theirs)
            expected = reference.Quantity(float(number) * float(factor), unit).to(si).magnitude
            assert read(f"{number} {ours}", kind) == pytest.approx(expected, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize(
    "text, kind, message",
    [
        ("1,5 m", Length, "write 1.5 m"),
        ("1,500 mm", Length, "write 1500 mm or 1.500 mm"),
        ("1,234,567.5 mm", Length, "write 1234567.5 mm"),
        ("1 500 mm", Length, "write 1500 mm"),
        ("0.75", Length, 'a length needs its unit: write "0.75 in" (or ft, mm, m)'),
        ("0", Length, 'write "0 in"'),
        (24, Length, 'in quotes: write "24 in"'),
        ("3 inn", Length, 'unknown unit "inn": did you mean "in"?'),
        ("3 yrd3", Volume, 'unknown unit "yrd"'),
        ("5 mPa", Pressure, 'did you mean "MPa"?'),
        ("5 mN", Force, 'unknown unit "mN"'),
        ("4000 psi", Length, "4000 psi is a pressure, a length stands here"),
        ("5 ft 6 in", Pressure, "5 ft 6 in is a length, a pressure stands here"),
        ("110 mph", RateOfRise, "110 mph is a speed, a rate of rise stands here"),
        ("90 deg", Number, "90 deg is an angle, a number stands here"),
        ("5'6", Length, "write 5'6\""),
        ("5 ft 6", Length, "write 5 ft 6 in"),
        ("2 h 30", Time, "write 2 h 30 min"),
        ("nan in", Length, "does not begin with a number"),
        ("inf", Number, "does not begin with a number"),
        (math.nan, Number, "is not a number"),
        (True, Number, "is not a number"),
        (10**400, Number, "is not a number"),
        ("1e999 in", Length, "no number that can be measured"),
        ("1/0 in", Length, "divides by zero"),
        ("6 1/0 in", Length, "divides by zero"),
        ("6 3/2 in", Length, "no mixed number"),
        ("9" * 26 + " in", Length, "too many digits"),
        ("9 " * 60 + "in", Length, "too long"),
        ("", Length, "nothing stands"),
        ("-", Length, "nothing stands"),
        ("--5 in", Length, ""),
        ("5 in 6 ft", Length, ""),
        ("5.5 ft 6 in", Length, ""),
        ("5 ft 6 mm", Length, ""),
        ("5 ft 6 in 3 in", Length, ""),
        ("10 ft - 3 in", Length, ""),
        ("1'500 mm", Length, ""),
        ("4 in2/ft", Length, ""),
        ("5² ft", Length, ""),
        ("5 deg ft", Length, ""),
        ("50 % ft", Length, ""),
        ("5 W/m A", Conductivity, 'unknown unit "A"'),
        ("5 N/m s", LineLoad, ""),
        ("6 in above top", Length, 'unknown unit "above"'),
        ("1e300 MN4/N3", Force, "too large"),
        ("2 kip", Mass, "2 kip is a force, a mass stands here"),
    ],
)
def test_what_cannot_be_read_is_refused_with_a_remedy(text, kind, message):
    assert message in problem(text, kind)


def test_an_error_has_a_problem_and_a_remedy_and_can_be_sent_between_processes():
    error = pickle.loads(pickle.dumps(QuantityError("what is wrong", "what would be right")))
    assert (error.problem, error.remedy) == ("what is wrong", "what would be right")
    assert str(error) == "what is wrong: what would be right"


# Units that two kinds share, because the trade uses them for both. All other pairs are refused.
SHARED = {
    *(("volume", "section modulus", "in3"), ("section modulus", "volume", "in3"), ("section modulus", "volume", "cm3")),
    *(("volume", "section modulus", "ft3"), ("volume", "section modulus", "m3")),
    *(("force", "mass", "lb"), ("mass", "force", "lb"), ("mass", "force", "kg")),
    *(("line load", "stiffness", "kN/m"), ("stiffness", "line load", "kN/m"), ("stiffness", "line load", "lb/in")),
    ("stiffness", "line load", "kip/in"),
    *(("unit weight", "subgrade modulus", "kN/m3"), ("subgrade modulus", "unit weight", "MN/m3")),
    *(
        ("unit weight", "density", "pcf"),
        ("unit weight", "subgrade modulus", "pcf"),
        ("density", "subgrade modulus", "lb/yd3"),
    ),
    *(
        ("density", "unit weight", "lb/yd3"),
        ("density", "unit weight", "kg/m3"),
        ("density", "subgrade modulus", "kg/m3"),
    ),
    *(("moment", "energy", unit) for unit in ("lb ft", "kip ft", "N m", "kN m")),
    *(("speed", "rate of rise", "m/s"), ("rate of rise", "speed", "ft/h"), ("rate of rise", "speed", "m/h")),
    *((a, b, unit) for a, b in (("temperature", "temperature difference"),) for unit in "FC"),
    *(("temperature difference", "temperature", unit) for unit in "FC"),
}


def test_a_quantity_of_one_kind_is_refused_where_any_other_stands():
    read_as_both = set()
    for one in TRADE:
        units = {step.partition(" ")[2] if step[:1].isdigit() else step for side in PRINTED[one] for step in side}
        for other in TRADE:
            for unit in units:
                if other == one:
                    assert math.isfinite(read(f"3 {unit}", one))
                    continue
                try:
                    read(f"3 {unit}", other)
                    read_as_both.add((one.name, other.name, unit))
                except QuantityError as error:
                    assert " is a" in error.problem or not unit
    assert read_as_both == SHARED


PIECES = st.sampled_from(
    [
        *"0123456789.,/-+'\"()*^° ",
        "1/2",
        "½",
        "ft",
        "in",
        "mm",
        "psi",
        "kip",
        "lb",
        "h",
        "min",
        "deg",
        "F",
        "%",
        "per",
        "e9",
    ]
)
TEXTS = st.text(max_size=120) | st.lists(PIECES, max_size=14).map("".join)


@given(text=TEXTS, kind=st.sampled_from(TRADE))
def test_no_text_raises_anything_but_a_quantity_error(text, kind):
    try:
        assert math.isfinite(read(text, kind))
    except QuantityError as error:
        assert error.problem and error.remedy


# ---- printing ----


@pytest.mark.parametrize(
    "value, kind, us, si",
    [
        (1.6891, Length, "5'-6 1/2\"", "1689 mm"),
        (-1.6891, Length, "-5'-6 1/2\"", "-1689 mm"),
        (0.1651, Length, '6 1/2"', "165 mm"),
        (0.3048, Length, "1'-0\"", "305 mm"),
        (0.3047, Length, "1'-0\"", "305 mm"),
        (1.5367, Length, "5'-0 1/2\"", "1537 mm"),
        (0.0047, Length, '3/16"', "5 mm"),
        (0.0001, Length, '0"', "0 mm"),
        (-0.0001, Length, '0"', "0 mm"),
        (0.0, Length, '0"', "0 mm"),
        (67180.0, Pressure, "1403 psf", "67.18 kPa"),
        (27579029.17, Pressure, "4000 psi", "27.58 MPa"),
        (2e11, Pressure, "29008 ksi", "200000 MPa"),
        (934.1265, Force, "210 lb", "934.1 N"),
        (1e5, Force, "22.48 kip", "100 kN"),
        (49.1744, Speed, "110 mph", "49.17 m/s"),
        (21.1111111, Celsius, "70 F", "21.1 C"),
        (-0.001, Celsius, "32 F", "0 C"),
        (10.0, TemperatureDifference, "18 F", "10 C"),
        (9.366, Volume, "12.25 yd3", "9.366 m3"),
        (2100.0, Time, "35 min", "35 min"),
        (9000.0, Time, "2 h 30 min", "2 h 30 min"),
        (-9000.0, Time, "-2 h 30 min", "-2 h 30 min"),
        (11.98 * 3600.0, Time, "11 h 59 min", "11 h 59 min"),
        (24.05 * 3600.0, Time, "25 h", "25 h"),
        (47.6 * 3600.0, Time, "2 d", "2 d"),
        (6.1 * 86400.0, Time, "6.5 d", "6.5 d"),
        (7 * 86400.0, Time, "7 d", "7 d"),
        (math.pi / 2, Angle, "90 deg", "90 deg"),
        (0.35, Number, "0.35", "0.35"),
        (1.2e-6, Diffusivity, "0.0465 ft2/h", "1.2e-6 m2/s"),
        (math.nan, Length, "not known", "not known"),
        (math.nan, Force, "not known", "not known"),
        (math.inf, Force, "unlimited", "unlimited"),
        (-math.inf, Force, "-unlimited", "-unlimited"),
    ],
)
def test_each_kind_is_printed_as_he_measures_it(value, kind, us, si):
    assert show(value, kind, "us") == us
    assert show(value, kind, "si") == si


@pytest.mark.parametrize(
    "value, kind, unit, text",
    [
        (1.6891, Length, "in", "66 1/2 in"),
        (-0.0047625, Length, "in", "-3/16 in"),
        (1.6891, Length, "ft", "5.54 ft"),
        (1.6891, Length, "m", "1.689 m"),
        (0.0003, Length, "0.001 in", "0.012 in"),
        (0.0003, Length, "0.1 mm", "0.3 mm"),
        (0.0003, Length, "1/32 in", "0 in"),
        (0.0009, Length, "1/32 in", "1/32 in"),
        (67180.0, Pressure, "psi", "9.744 psi"),
        (9.3, Volume, "0.25 yd3", "12.25 yd3"),
        (0.35, Number, "%", "35 %"),
        (1.0, Celsius, "1 F", "34 F"),
    ],
)
def test_a_unit_and_a_mark_can_be_asked_for(value, kind, unit, text):
    assert show(value, kind, unit=unit) == text


def test_a_unit_of_another_kind_cannot_be_printed():
    with pytest.raises(ValueError, match="'psi' is no unit of length"):
        show(1.0, Length, unit="psi")


def test_tables_get_number_and_unit_apart():
    assert show_plain(27579029.17, Pressure, "us") == ("4000", "psi")
    assert show_plain(1.6891, Length, "us") == ("5'-6 1/2\"", "")
    assert show_plain(math.nan, Length, "us") == ("not known", "")


LOGARITHMIC = st.tuples(st.sampled_from([-1, 1]), st.floats(-7, 14), st.floats(1, 10)).map(
    lambda parts: parts[0] * parts[2] * 10.0 ** parts[1]
)


@given(value=LOGARITHMIC, kind=st.sampled_from(TRADE), system=st.sampled_from(SYSTEMS))
def test_what_was_printed_and_read_prints_the_same_again(value, kind, system):
    text = show(value, kind, system)
    assert show(read(text, kind), kind, system) == text


def test_a_number_keeps_its_unit_on_both_sides_of_every_change_of_unit():
    for kind in TRADE:
        for system, side in zip(SYSTEMS, PRINTED[kind], strict=True):
            for step in side:
                if step[:1].isdigit():
                    limit = read(step, kind)
                    for part in (0.9999, 0.99999, 0.9999999, 1 - 1e-15, 1.0, 1 + 1e-15, 1.0000001, 1.0001):
                        text = show(limit * part, kind, system)
                        assert show(read(text, kind), kind, system) == text


@given(st.floats(-1e4, 1e4))
def test_a_printed_length_is_within_half_a_mark(value):
    exact = Fraction(value)
    slack = abs(exact) * Fraction(1, 10**15)
    assert abs(Fraction(read(show(value, Length, "us"), Length)) - exact) <= INCH / 32 + slack
    assert abs(Fraction(read(show(value, Length, "si"), Length)) - exact) <= Fraction(1, 2000) + slack


@given(value=LOGARITHMIC, kind=st.sampled_from(TRADE), system=st.sampled_from(SYSTEMS))
def test_any_printed_number_is_within_half_its_last_figure(value, kind, system):
    if kind.name in ("length", "time"):
        return  # printed to marks and minutes
    number, unit = show_plain(value, kind, system)
    digits, _, exponent = number.partition("e")
    last = 10.0 ** (int(exponent or 0) - max(len(digits.partition(".")[2]), 0))
    size = scale(unit, kind) if unit else (1, 1)
    assert (
        abs(read(f"{number} {unit}", kind) - value) <= 0.5 * last * size[0] / size[1] * (1 + 1e-9) + abs(value) * 1e-14
    )


# ---- units in formulas ----


def test_one_of_its_si_unit_is_one_of_every_kind():
    for kind in TRADE:
        assert read(f"1 {si_unit(kind)}", kind) == 1.0


def test_every_unit_constant_is_one_of_its_unit():
    constants = [thing for thing in vars(quantity).values() if isinstance(thing, Unit)]
    assert len(constants) > 50
    for unit in constants:
        assert unit == read(f"1 {unit.name}", unit.dimension)
        assert type(2.0 * unit / unit) is float


def test_a_unit_keeps_its_name_when_copied():
    for again in (copy.deepcopy(quantity.psi), pickle.loads(pickle.dumps(quantity.psi))):
        assert (again, again.name, again.dimension) == (quantity.psi, "psi", dimension_of(Pressure))


@pytest.mark.parametrize(
    "number, unit, value",
    [
        (7.0, "ft/h", 7 * 0.3048 / 3600),
        (40.0, "F", 40 / 9),
        (5.0, "lb", 22.2411080763025),
        (5.0, "kg", 5.0),
        (150.0, "lb/ft3", 23563.11957693693),
        (2400.0, "kg/m3", 2400.0),
        (564.0, "lb/yd3", 334.6079015893896),
        (30.0, "deg", math.pi / 6),
    ],
)
def test_a_limit_of_a_formula_is_read_without_naming_its_kind(number, unit, value):
    assert in_si(number, unit) == pytest.approx(value, rel=1e-15)


def test_an_unknown_unit_in_a_limit_is_an_error():
    with pytest.raises(QuantityError, match="parsec"):
        in_si(3.0, "parsec")


def test_an_annotation_names_its_dimension_even_with_more_said_about_it():
    assert dimension_of(Annotated[Length, "positive"]) == Dimension("length", (1, 0, 0, 0))
    assert dimension_of(dimension_of(Length)) is dimension_of(Length)
    with pytest.raises(TypeError):
        dimension_of(float)


def test_reading_needs_no_arrays_and_no_fractions():
    heavy = ("numpy", "fractions", "decimal", "difflib", "dataclasses")
    code = f"import sys, batterboard.quantity; print([name for name in {heavy} if name in sys.modules])"
    home = {"PYTHONPATH": str(Path(quantity.__file__).parents[2])}
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, env=home, check=True)
    assert done.stdout.strip() == "[]"
