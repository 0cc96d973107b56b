"""How far the parts of a split can be turned, checked with HiGHS and with the structure modelled from the compositions."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import numpy as np
import tenside as td
from oracle_checks import BEYOND, moved
from oracle_model import Case, Key, Row, Tally, answer_of, costs_of, dot, keyed_rows, total

TIGHT = 1e-10
"""What a structure may be off by in floats, in parts of the limit (of 1 where it is smaller)."""


def named_rows(case: Case) -> dict[Key, Row]:
    return {("total",): total(case), **keyed_rows(case)}


def structure_of(case: Case, exact: Sequence[Fraction]) -> tuple[list[tuple[Key, int]], list[tuple[int, int]]]:
    """The rows and the lines that a point meets with equality, each with the end that it stands at."""
    rows = []
    for key, (coefficients, low, high) in named_rows(case).items():
        activity = dot(coefficients, exact)
        if activity in (low, high):
            rows.append((key, int(activity != low)))
    lines = [(line, int(exact[line] != ends[0])) for line, ends in enumerate(case.box) if exact[line] in ends]
    return rows, lines


def point_of(case: Case, structure: tuple[list[tuple[Key, int]], list[tuple[int, int]]]) -> np.ndarray | None:
    """The one point that has the structure; None where there is none."""
    rows, lines = structure
    known = named_rows(case)
    matrix = [[float(value) for value in known[key][0]] for key, _ in rows]
    sides = [float(known[key][1 + end] or 0) for key, end in rows]
    for line, end in lines:
        matrix.append([float(other == line) for other in range(len(case.box))])
        sides.append(float(case.box[line][end]))
    try:
        return np.linalg.solve(np.array(matrix), np.array(sides))
    except np.linalg.LinAlgError:
        return None


def misses(case: Case, point: np.ndarray) -> float:
    """By how much the point is outside a range, at most, in parts of the limit."""
    worst = 0.0
    ranges = [(float(value), low, high) for value, (low, high) in zip(point, case.box)]
    ranges += [
        (float(np.dot([float(value) for value in row], point)), low, high)
        for row, low, high in named_rows(case).values()
    ]
    for value, low, high in ranges:
        for limit, over in ((low, -1), (high, 1)):
            if limit is not None:
                worst = max(worst, over * (value - float(limit)) / max(1.0, abs(float(limit))))
    return worst


def check_ratios(case: Case, answer: td.solve.Answer, tally: Tally) -> None:
    """Inside its range a part leaves the point of the same structure best for HiGHS; just beyond, that point is not allowed or not the best."""
    if case.split is None:
        return
    exact = list(answer.exact.values())
    structure = structure_of(case, exact)
    determined = len(structure[0]) + len(structure[1]) == len(exact)
    ranges = {found.what: found for found in answer.ratio_ranges()}
    for place, (line, part) in enumerate(case.split.parts):
        found = ranges.get(f"wash.m{line}")
        if found is None:
            tally.count("parts without a range")
            continue
        tally.agrees(found.value == part, f"{found.sentence}: the part is {part}")
        tally.count("ratio ranges" if determined else "ratio ranges of a degenerate point")
        if not determined:
            continue
        path = answer.brief.solution_path(found.what)

        def off(value: Fraction) -> tuple[float, float, np.ndarray | None]:
            """By how much the structure's point is outside its ranges, and dearer than what HiGHS finds."""
            there = moved(case, ("split", place), part, value)
            point, least = point_of(there, structure), answer_of(there).objective
            if point is None or least is None:
                return np.inf, np.inf, None
            return misses(there, point), float(np.dot([float(cost) for cost in costs_of(there)], point)) - least, point

        room = 1e-7 * max(1.0, abs(float(answer.objective or 0)))
        for end, way in ((found.low, -1), (found.high, 1)):
            inside = (
                part * (6 if way > 0 else Fraction(1, 2)) if end is None else part + (end - part) * Fraction(999, 1000)
            )
            if inside >= Fraction(1, 1000):
                missed, dearer, point = off(inside)
                tally.count("parts inside their range")
                tally.agrees(
                    missed <= 1e-7 and dearer <= room,
                    f"{found.sentence}: at {float(inside)} missed by {missed}, dearer by {dearer}",
                )
                percents = path.percents(inside)
                near = (
                    percents is not None
                    and point is not None
                    and np.allclose(list(percents.values()), point, rtol=0, atol=1e-6)
                )
                tally.agrees(near, f"{found.sentence}: at {float(inside)} it is {percents}")
            if end is None or (outside := end + way * BEYOND * max(Fraction(1), abs(end))) <= 0:
                continue
            missed, dearer, _ = off(outside)
            tally.count("parts beyond their range")
            tally.agrees(
                missed > TIGHT or dearer > room / 50,
                f"{found.sentence}: beyond {float(end)} the structure is still best for HiGHS",
            )
