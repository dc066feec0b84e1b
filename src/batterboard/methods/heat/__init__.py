"""How warm does a block get? Heat conduction in three dimensions by finite volumes, marched axis by axis.

    Grid       : edges of the cells along x, y, z          blocks.py
    Conduction : what a cell stores, passes on and loses   blocks.py
    march      : one step in time, with its own account    marching.py
    settling   : steady surroundings, without steps        settling.py
    reading    : the temperature at a point                reading.py
    box        : a block by itself, to be held against what is published

Cells of no conductivity are air: nothing is computed there, and what borders them is a surface. What makes heat, and
when a surface changes, is the caller's: this room knows no concrete.
"""

from batterboard.methods.heat.blocks import Conduction, Grid, Surface, conduction, exposed, graded
from batterboard.methods.heat.marching import NOTHING, Account, Sweeps, march, sweeps, times
from batterboard.methods.heat.reading import reading
from batterboard.methods.heat.settling import settling

__all__ = [
    "NOTHING",
    "Account",
    "Conduction",
    "Grid",
    "Surface",
    "Sweeps",
    "conduction",
    "exposed",
    "graded",
    "march",
    "reading",
    "settling",
    "sweeps",
    "times",
]
