"""A change that would do, taken: the brief with that limit where the change says."""

from __future__ import annotations

import math
from fractions import Fraction

from tenside._native import Brief, Constraint, Relaxation
from tenside.explorer._number import Number, ends

_FEWEST_DECIMALS, _MOST_DECIMALS = 4, 18


def taken(brief: Brief, way: Relaxation) -> tuple[Brief, list[Number]]:
    """The brief with a change made, and the numbers of it that were changed.

    The number is the one that the change's sentence says: the nearest limit, rounded to the side that does.
    """
    constraint = way.constraint
    to = _typed(way)
    if constraint.kind == "line" and constraint.end == "both" and to is None:
        # No percentage on the grid does alone: the line gets a range, as the sentence says.
        near = _rounded(way.to, _FEWEST_DECIMALS, way.to > way.limit)
        low, high = sorted([way.limit, near])
        name = constraint.name or ""
        return brief.change_line(name, low=low, high=high), [Number("lowest", name), Number("highest", name)]
    number = _number(brief, constraint)
    return brief.with_parameter(number.spelling(brief), way.to if to is None else to), [number]


def _number(brief: Brief, constraint: Constraint) -> Number:
    name = constraint.name or ""
    if constraint.kind == "split":
        return Number("part", constraint.member or "", split=name)
    index = constraint.index or 0
    one = {"low": "at-least", "high": "at-most"}
    if constraint.kind == "requirement":
        found = ends(brief.requirements[index])
        return Number(found[0] if len(found) == 1 else one[constraint.end], "", index=index)
    return Number({"low": "lowest", "high": "highest", "both": "fix"}[constraint.end], name)


def _typed(way: Relaxation) -> Fraction | None:
    """The nearest number of few digits that does, at least four decimals; None if there is none."""
    upwards, on_grid = way.to > way.limit, way.constraint.kind == "line"
    fewest = _FEWEST_DECIMALS if on_grid or way.to == 0 else _decimals(abs(way.to))
    for decimals in range(fewest, (fewest if on_grid else _MOST_DECIMALS) + 1):
        near = _rounded(way.to, decimals, upwards)
        if way.until is None or (near <= way.until if upwards else near >= way.until):
            return near
    return None


def _decimals(value: Fraction) -> int:
    """Four, more where a small value needs them for four digits."""
    return next((each for each in range(_FEWEST_DECIMALS, _MOST_DECIMALS) if value * 10**each >= 1000), _MOST_DECIMALS)


def _rounded(value: Fraction, decimals: int, upwards: bool) -> Fraction:
    scaled = value * 10**decimals
    return Fraction(math.ceil(scaled) if upwards else math.floor(scaled), 10**decimals)
