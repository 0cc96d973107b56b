"""What a `Substance` says of itself, and what the embedded lists of law say of it."""

from tenside._native import Statement, StatusEntry, SubstanceCharge, SubstanceMolarMass, SubstanceStatus

__all__ = ["Statement", "StatusEntry", "SubstanceCharge", "SubstanceMolarMass", "SubstanceStatus"]
