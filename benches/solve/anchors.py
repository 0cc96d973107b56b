"""HiGHS and scipy on the programs that the Rust bench has just measured, in the same job; prints the ratios and keeps them.

Usage: anchors.py REPORT.json RECORD.md. Every status and every least cost is compared as well.
"""

import json
import math
import statistics
import sys
import time

import highspy
import numpy as np
import scipy
from scipy.optimize import linprog

# Of the mixed family every third question is measured here; scipy takes a millisecond a call.
EVERY = 3


def ends(numbers, absent):
    return np.array([absent if number is None else number for number in numbers], dtype=float)


def as_highs(program):
    rows = np.array(program["rows"])
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = rows.shape[1], rows.shape[0]
    lp.col_cost_ = np.array(program["costs"])
    lp.col_lower_, lp.col_upper_ = ends(program["low"], -math.inf), ends(program["high"], math.inf)
    lp.row_lower_, lp.row_upper_ = ends(program["row_low"], -math.inf), ends(program["row_high"], math.inf)
    starts, indices, values = [0], [], []
    for row in rows:
        places = np.flatnonzero(row)
        indices.extend(places)
        values.extend(row[places])
        starts.append(len(indices))
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_, lp.a_matrix_.index_, lp.a_matrix_.value_ = (
        np.array(starts),
        np.array(indices),
        np.array(values),
    )
    return lp


def highs(program):
    solver = highspy.Highs()
    solver.silent()
    solver.passModel(as_highs(program))
    return solver


def as_scipy(program):
    rows = np.array(program["rows"])
    low, high = ends(program["row_low"], -math.inf), ends(program["row_high"], math.inf)
    equal = low == high
    upper = np.vstack([rows[~equal & (high < math.inf)], -rows[~equal & (low > -math.inf)]])
    limits = np.concatenate([high[~equal & (high < math.inf)], -low[~equal & (low > -math.inf)]])
    bounds = np.column_stack([ends(program["low"], -math.inf), ends(program["high"], math.inf)])
    return dict(
        c=program["costs"], A_ub=upper, b_ub=limits, A_eq=rows[equal], b_eq=low[equal], bounds=bounds, method="highs"
    )


def microseconds(call, count, rounds=2):
    least = math.inf
    for _ in range(rounds):
        begun = time.perf_counter()
        for index in range(count):
            call(index)
        least = min(least, (time.perf_counter() - begun) / count * 1e6)
    return least


def objective(solver):
    if solver.getModelStatus() == highspy.HighsModelStatus.kOptimal:
        return solver.getObjectiveValue()
    assert solver.getModelStatus() == highspy.HighsModelStatus.kInfeasible, solver.getModelStatus()
    return None


def same(found, expected, where):
    assert (found is None) == (expected is None), f"{where}: HiGHS says {found}, the engine {expected}"
    if found is not None:
        assert abs(found - expected) <= 1e-6 * (1 + abs(expected)), (
            f"{where}: HiGHS says {found}, the engine {expected}"
        )


def measure(question, where):
    programs, row = question["programs"], question["row"]
    times = {}
    arguments = [as_scipy(program) for program in programs]
    times["scipy"] = microseconds(lambda index: linprog(**arguments[index % 4]), 4, rounds=1)
    solver = highs(programs[0])
    column = next(
        place
        for place, (one, other) in enumerate(zip(programs[0]["rows"][row], programs[1]["rows"][row]))
        if one != other
    )
    compared = 0
    for program, expected in zip(programs, question["statuses"]):
        solver.changeCoeff(row, column, program["rows"][row][column])
        solver.run()
        same(objective(solver), expected, where)
        compared += 1

    def warm(index):
        solver.changeCoeff(row, column, programs[index % len(programs)]["rows"][row][column])
        solver.run()

    times["highspy warm"] = microseconds(warm, 2 * len(programs))
    return times, compared


def median(numbers):
    numbers = [number for number in numbers if number is not None]
    return statistics.median(numbers) if numbers else math.nan


ROWS = [
    # what, ours, the anchor
    ("from cold, exact values and multipliers", "cold, exact values", "microlp"),
    ("from cold, exact values and multipliers", "cold, exact values", "scipy"),
    ("from cold, beside HiGHS after one ratio changed", "cold, exact values", "highspy warm"),
    ("the exact method alone", "exact method alone", "microlp"),
]


def table(group, rows, lines):
    measured = group["measured"]
    lines.append(f"| {group['name']}: what | µs | anchor | µs | ratio |")
    lines.append("|---|---:|---|---:|---:|")
    for what, ours, anchor in rows:
        pairs = [(own.get(ours), times.get(anchor, own.get(anchor))) for own, times in measured]
        pairs = [(own, other) for own, other in pairs if own is not None and other is not None]
        if pairs:
            ratio = median([other / own for own, other in pairs])
            lines.append(
                f"| {what} | {median([own for own, _ in pairs]):.3g} | {anchor} | {median([other for _, other in pairs]):.4g} "
                f"| {ratio:.3g} |"
            )
    lines.append("")


def main():
    report, record = sys.argv[1:3]
    with open(report, encoding="utf-8") as file:
        groups = json.load(file)
    lines = [
        "# Solver, last measured",
        "",
        "Printed by `cargo xtask bench solve`: medians over the questions of a family, each ratio taken in one job on one machine. Times of",
        f"Python's solvers include their calls (highspy {highspy.Highs().version()}, scipy {scipy.__version__}).",
        "",
    ]
    for group in groups:
        questions = group["questions"]
        chosen = questions[::EVERY] if len(questions) > EVERY else questions
        group["measured"], compared = [], 0
        for place, question in enumerate(chosen):
            times, count = measure(question, f"{group['name']}, question {place}")
            group["measured"].append((question["microseconds"], times))
            compared += count
        table(group, ROWS, lines)
        answers = [status for question in questions for status in question["statuses"]]
        optimal = sum(status is not None for status in answers)
        lines += [
            f"{len(questions)} questions of {min(q['columns'] for q in questions)} to {max(q['columns'] for q in questions)} columns and "
            f"{min(q['rows'] for q in questions)} to {max(q['rows'] for q in questions)} rows, {sum(q['degenerate'] for q in questions)} of them degenerate; "
            f"{len(answers)} answers, {optimal} optimal, every one with an exact certificate checked without the solver; {compared} compared with HiGHS, none differs.",
            f"{sum(q['exact_path'] for q in questions)} of them needed numbers longer than 128 bits or the exact method.",
            "",
        ]
    text = "\n".join(lines)
    print(text)
    with open(record, "w", encoding="utf-8") as file:
        file.write(text)


main()
