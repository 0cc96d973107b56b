"""Pictures of formulas, sweeps and trials (extra ``plot``: matplotlib and mpltern).

Each draws into given matplotlib axes or into a figure of its own, and gives the axes, so that a script can go on from there. Rows without a
formula are never drawn as if they had one: they are left out, or shown as such, and the legend says how many there are.

Colours are the eight of Okabe and Ito, told apart with all common kinds of colour vision (M. Okabe and K. Ito, 2008; from memory);
past eight the same colours come back with hatching. Maps take matplotlib's ``cividis``, which was made for the same purpose.
"""

from tenside.plot._bands import bands
from tenside.plot._contours import contours
from tenside.plot._drying import drying
from tenside.plot._formulas import composition, course
from tenside.plot._front import front
from tenside.plot._measured import measured
from tenside.plot._operating import operating_curve
from tenside.plot._residuals import residuals
from tenside.plot._ternary import ternary
from tenside.plot._titration import titration
from tenside.plot._tornado import tornado
from tenside.plot._trace import trace
from tenside.plot._trial_design import trial_design

__all__ = [
    "bands",
    "composition",
    "contours",
    "course",
    "drying",
    "front",
    "measured",
    "operating_curve",
    "residuals",
    "ternary",
    "titration",
    "tornado",
    "trace",
    "trial_design",
]
