"""What a `Brief` is made of, and what it tells beside its answer: reach, corners, samples, the path of its solutions."""

from tenside._native import (
    BriefRequirement,
    BriefRow,
    BriefSplit,
    Constraint,
    Corners,
    PathRegion,
    Reach,
    Samples,
    SolutionPath,
)

__all__ = [
    "BriefRequirement",
    "BriefRow",
    "BriefSplit",
    "Constraint",
    "Corners",
    "PathRegion",
    "Reach",
    "Samples",
    "SolutionPath",
]
