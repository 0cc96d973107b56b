"""What goes on the label in a market on a day."""

from tenside._native import (
    KeepsOff,
    Label,
    LabelCheck,
    LabelItem,
    LabelQuestion,
    LeftOut,
    NetContent,
    ScentDeclaration,
    ScentRow,
    scent_entries,
)

__all__ = [
    "KeepsOff",
    "Label",
    "LabelCheck",
    "LabelItem",
    "LabelQuestion",
    "LeftOut",
    "NetContent",
    "ScentDeclaration",
    "ScentRow",
    "scent_entries",
]
