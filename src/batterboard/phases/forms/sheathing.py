"""What does the sheet of a form carry between its supports, and which way does its grain lie?

    carried : carried(panel, stress, True, spacing, clear, spans)      the pressure that it holds [Pa]
    grain   : grain_up(form), grain_level(form)                        the strong way, where the sheet yields it

Reckoned as evenly loaded over as many equal spans as there are, three at most.
"""

from dataclasses import replace
from typing import Any

import numpy as np

from batterboard.phases.forms.shape import Shape
from batterboard.quantity import Pressure
from batterboard.standards import apa, tables
from batterboard.working import nan

SHARE = 1 / 360  # of its span that a panel or a stick may give
DRY = 0.0  # of sticks and panels, as their wet service is told to the formulas
WET = 1.0


def carried(panel: Any, stress: Any, across: bool, spacing: Any, clear: Any, spans: int) -> Pressure:
    """What the panel carries between supports at this spacing [Pa]."""
    return apa.sheathing_pressure(*limits(panel, stress, across, spacing, clear, spans))


def limits(
    panel: Any, stress: Any, across: bool, spacing: Any, clear: Any, spans: int
) -> tuple[Pressure, Pressure, Pressure]:
    """The pressures at which it breaks, its plies roll, and it gives too much [Pa]."""
    grain = panel.along if across else panel.across
    turned = 1.0 if across else 0.0
    t, n = panel.thickness, float(min(spans, 3))
    bending = apa.bending_pressure(stress.F_b, grain.modulus, spacing, n)
    shear = apa.rolling_shear_pressure(stress.F_s, grain.shear_constant, clear, n)
    E, E_e = stress.E_bending, stress.E_shear
    giving = apa.deflection_pressure(E, E_e, grain.inertia, t, spacing, clear, n, turned, SHARE)
    return bending, shear, giving


def grain_up(form: Shape) -> bool:
    """The strong way across level yokes, unless its panels come out of a sheet only with the grain level."""
    upright, level = fits(form)
    return upright or not level


def grain_level(form: Shape) -> bool:
    """The strong way across upright studs, unless its panels come out of a sheet only with the grain upright."""
    upright, level = fits(form)
    return level or not upright


def fits(form: Shape) -> tuple[bool, bool]:
    pieces = [part for panel in form.panels for part in (panel.parts if panel.joints else (panel,))]
    tall = max(float(np.max(part.height)) for part in pieces) - 1e-9
    wide = max(float(np.max(part.width)) for part in pieces) - 1e-9
    along, across = form.sheet.size
    return tall <= along and wide <= across, wide <= along and tall <= across


def plywood_of(form: Shape) -> tables.Plywood:
    """The thickest row of the table that is no thicker than the sheet.

    A sheet thinner than all rows is outside the table: it has no strength to reckon with.
    """
    kind = kind_of(form.sheet.of)
    rows = [tables.plywood(name) for name in tables.plywood.names() if kind_of(name) == kind]
    actual = float(np.min(form.thick)) + 1e-4
    thinner = [row for row in rows if row.thickness <= actual]
    return max(thinner, key=lambda row: row.thickness) if thinner else replace(rows[0], S_along=nan, S_across=nan)


def kind_of(name: str) -> str:
    """The grade of form plywood in a sheet's name; Class I where none is named."""
    return next((kind for kind in tables.plywood_stress.names() if name.startswith(f"{kind} ")), "Class I")
