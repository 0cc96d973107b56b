"""What formulas and drafts are made of and tell: lines, differences, questions, forebears."""

from tenside._native import (
    Choice,
    Difference,
    DifferenceLine,
    Dough,
    DoughShares,
    DoughTrial,
    DraftDeparture,
    DraftLine,
    ExpandedRow,
    HistoryEntry,
    Parent,
    Phase,
    Question,
    Settled,
    dough_share,
    history,
)

__all__ = [
    "Choice",
    "Difference",
    "DifferenceLine",
    "Dough",
    "DoughShares",
    "DoughTrial",
    "DraftDeparture",
    "DraftLine",
    "ExpandedRow",
    "HistoryEntry",
    "Parent",
    "Phase",
    "Question",
    "Settled",
    "dough_share",
    "history",
]
