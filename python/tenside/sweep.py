"""What comes of a `Sweep`: tables, what a stream kept, parts."""

from tenside._native import (
    Axis,
    AxisValueSummary,
    KeptRow,
    StreamPart,
    StreamResult,
    SweepHistogram,
    SweepPart,
    SweepTable,
)

__all__ = [
    "Axis",
    "AxisValueSummary",
    "KeptRow",
    "StreamPart",
    "StreamResult",
    "SweepHistogram",
    "SweepPart",
    "SweepTable",
]
