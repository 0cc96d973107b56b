"""Titrations, adjustments, solutions, and what hangs on a pH."""

from tenside._native import (
    Acid,
    AcidForm,
    Adjustment,
    Caveat,
    Equilibrium,
    PhDistance,
    PhWindow,
    PhWindowRow,
    Portion,
    Solution,
    Titration,
    Undissociated,
)

__all__ = [
    "Acid",
    "AcidForm",
    "Adjustment",
    "Caveat",
    "Equilibrium",
    "PhDistance",
    "PhWindow",
    "PhWindowRow",
    "Portion",
    "Solution",
    "Titration",
    "Undissociated",
]
