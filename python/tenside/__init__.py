"""Formulas of solid shampoos and other surfactant products, worked exactly."""

from tenside._native import Exact, __version__

__all__ = ["Exact", "__version__"]
