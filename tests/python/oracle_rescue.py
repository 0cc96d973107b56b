"""Rescues of bowls against HiGHS: masses to add as a linear program of their own, from the rows of the independent model."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from oracle_model import Case, Row, Solved, highs, keyed_rows


def least_total(case: Case, bowl: Sequence[Fraction]) -> Solved:
    """The least total in grams of a bowl and what is added to it, so that all of it meets the case.

    Columns are the grams added of each line. A row of the case is about percent: `low <= a . 100 x / T <= high`, with `x` the grams in all
    and `T` their sum.
    """
    whole = sum(bowl)
    count = len(bowl)
    rows: list[Row] = []

    def keep(coefficients: Sequence[Fraction], low: Fraction | None, high: Fraction | None) -> None:
        for end, is_low in ((low, True), (high, False)):
            if end is None:
                continue
            of_grams = [100 * value - end for value in coefficients]
            already = sum((value * grams for value, grams in zip(of_grams, bowl)), Fraction(0))
            rows.append((of_grams, -already, None) if is_low else (of_grams, None, -already))

    for coefficients, low, high in keyed_rows(case).values():
        keep(list(coefficients), low, high)
    for index, (low, high) in enumerate(case.box):
        keep([Fraction(int(other == index)) for other in range(count)], low, high)
    found = highs([Fraction(1)] * count, [(Fraction(0), None)] * count, rows)
    return found if found.objective is None else Solved(found.objective + float(whole), found.point)
