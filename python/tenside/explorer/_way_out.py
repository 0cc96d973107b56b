"""The numbers of a brief that a change turns."""

from __future__ import annotations

from tenside._native import Brief, Constraint
from tenside.explorer._number import Number, ends


def changed(brief: Brief, constraint: Constraint) -> list[Number]:
    """The numbers of the brief with the change taken; a fixed line may have been given a range."""
    name = constraint.name or ""
    if constraint.kind == "split":
        return [Number("part", constraint.member or "", split=name)]
    index = constraint.index or 0
    one = {"low": "at-least", "high": "at-most"}
    if constraint.kind == "requirement":
        found = ends(brief.requirements[index])
        return [Number(found[0] if len(found) == 1 else one[constraint.end], "", index=index)]
    if constraint.end == "both" and not brief.lines[index].role.startswith("fixed"):
        return [Number("lowest", name), Number("highest", name)]
    return [Number({"low": "lowest", "high": "highest", "both": "fix"}[constraint.end], name)]
