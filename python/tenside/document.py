"""How results are shown and handed on: tables and pages."""

from tenside._native import Page, Table

__all__ = ["Page", "Table"]
