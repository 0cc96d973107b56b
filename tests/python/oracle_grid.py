"""Formulas of whole 0.0001 % as a mixed-integer program for HiGHS, and which percentages meet a case."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from oracle_model import HUNDRED, Case, Row, highs, in_whole_numbers, keyed_rows, total

PARTS = 10_000
"""Whole parts in a percent."""


def opposite(one: Row, other: Row) -> bool:
    """Whether two one-sided rows ask for one value together: the same sum of the lines, from below and from above."""
    ends = []
    for coefficients, low, high in (one, other):
        end = low if low is not None else high
        assert end is not None and (low is None or high is None)
        # Over a sum of 100 a limit can stand in the coefficients.
        turned = [value - end / HUNDRED for value in coefficients]
        first = next((value for value in turned if value), None)
        if first is None:
            return False
        ends.append(([value / first for value in turned], (low is not None) == (first > 0)))
    return ends[0][0] == ends[1][0] and ends[0][1] != ends[1][1]


def held_at_nothing(case: Case, rows: Sequence[Row]) -> set[int]:
    """The lines that one row after the other holds at 0, since nothing is allowed of what they bring."""
    held: set[int] = set()
    for _ in case.shelf:
        for coefficients, low, high in rows:
            end = [(value - (high if high is not None else low) / HUNDRED) for value in coefficients]
            moving = {line: value for line, value in enumerate(end) if value and line not in held}
            if (high is not None and all(value > 0 for value in moving.values())) or (
                low is not None and low == high and all(value < 0 for value in moving.values())
            ):
                held |= set(moving)
            elif low is not None and all(
                value - low / HUNDRED < 0 for line, value in enumerate(coefficients) if line in moving
            ):
                held |= {line for line, value in enumerate(coefficients) if value - low / HUNDRED and line not in held}
    return held


def loosened(case: Case, exact: Sequence[Fraction]) -> list[Row]:
    """The rows, equations within `1 ppm * sum |a_j - a_q|` over the lines that can move, `q` being the largest of them."""
    rows = list(keyed_rows(case).values())
    held = held_at_nothing(case, rows)
    moving = [line for line, (low, high) in enumerate(case.box) if low < high and line not in held]
    if not moving:
        return rows
    taker = max(moving, key=lambda line: (exact[line], -line))
    single = [row for row in rows if row[1] != row[2]]
    found = []
    for row in rows:
        coefficients, low, high = row
        gives = low == high or any(opposite(row, other) for other in single if other is not row)
        room = (
            sum((abs(coefficients[line] - coefficients[taker]) for line in moving), Fraction(0)) / PARTS
            if gives
            else Fraction(0)
        )
        found.append((coefficients, None if low is None else low - room, None if high is None else high + room))
    return found


def holds(case: Case, exact: Sequence[Fraction], percents: Sequence[Fraction]) -> bool:
    """Whether percentages meet every range and row, equations within what they give."""
    if sum(percents) != HUNDRED or not all(low <= percent <= high for percent, (low, high) in zip(percents, case.box)):
        return False
    for coefficients, low, high in loosened(case, exact):
        activity = sum((value * percent for value, percent in zip(coefficients, percents)), Fraction(0))
        if (low is not None and activity < low) or (high is not None and activity > high):
            return False
    return True


def whole_formula(case: Case, exact: Sequence[Fraction]) -> list[Fraction] | None:
    """Percentages of whole parts that meet the case, if HiGHS finds some; checked in fractions, since HiGHS allows for a little."""
    rows = [
        (coefficients, None if low is None else low * PARTS, None if high is None else high * PARTS)
        for coefficients, low, high in [total(case), *loosened(case, exact)]
    ]
    columns = [(low * PARTS, high * PARTS) for low, high in case.box]
    count = len(columns)
    solved = highs([Fraction(0)] * count, columns, [in_whole_numbers(row) for row in rows], frozenset(range(count)))
    if not solved.feasible:
        return None
    percents = [Fraction(round(value), PARTS) for value in solved.point]
    return percents if holds(case, exact, percents) else None
