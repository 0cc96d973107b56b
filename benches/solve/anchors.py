"""HiGHS and scipy on the programs that the Rust bench has just measured, in the same job; prints the ratios and keeps them.

Usage: anchors.py REPORT.json RECORD.md [INSTRUCTIONS]. Every status and every least cost is compared as well.
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
    lp.a_matrix_.start_, lp.a_matrix_.index_, lp.a_matrix_.value_ = np.array(starts), np.array(indices), np.array(values)
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
    return dict(c=program["costs"], A_ub=upper, b_ub=limits, A_eq=rows[equal], b_eq=low[equal], bounds=bounds, method="highs")


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
        assert abs(found - expected) <= 1e-6 * (1 + abs(expected)), f"{where}: HiGHS says {found}, the engine {expected}"


def measure(question, where):
    programs, row = question["programs"], question["row"]
    times = {}
    arguments = [as_scipy(program) for program in programs]
    times["scipy"] = microseconds(lambda index: linprog(**arguments[index % 4]), 4, rounds=1)
    solver = highs(programs[0])
    column = next(place for place, (one, other) in enumerate(zip(programs[0]["rows"][row], programs[1]["rows"][row])) if one != other)
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
    if question["statuses"][0] is not None:
        # The same program changed back; nothing is left to do but to ask.
        warm(0)
        times["getRanging"] = microseconds(lambda _: solver.getRanging(), 50)
    if question["conflict"] is not None:
        conflict = highs(question["conflict"]["program"])
        conflict.run()
        assert conflict.getModelStatus() == highspy.HighsModelStatus.kInfeasible, where

        def irreducible(_):
            fresh = highs(question["conflict"]["program"])
            fresh.setOptionValue("iis_strategy", 2)
            fresh.run()
            return fresh.getIis()

        times["highspy conflict"] = microseconds(irreducible, 2, rounds=1)
    return times, compared


def median(numbers):
    numbers = [number for number in numbers if number is not None]
    return statistics.median(numbers) if numbers else math.nan


ROWS = [
    # goal, what, ours, the anchor, the aim
    ("G1", "from cold, basis proved", "cold", "microlp", 30),
    ("", "from cold, basis proved", "cold", "scipy", 1000),
    ("", "from cold, loaded from exact numbers", "cold, loading included", "microlp", None),
    ("", "from cold, exact values and multipliers", "cold, exact values", "microlp", None),
    ("", "the exact method alone", "exact method alone", "microlp", None),
    ("G3", "after one ratio changed", "warm", "highspy warm", 300),
    ("G7", "irreducible conflict, proved", "conflict", "highspy conflict", 400),
    ("", "the same with exact multipliers", "conflict, exact certificate", "highspy conflict", None),
    ("G8", "exact range of the ratio", "ranges", "getRanging", 20),
]
LARGE = [("G9", "from cold, basis proved", "cold", "scipy", 250), ("", "from cold, basis proved", "cold", "highspy warm", None), ("", "after one ratio changed", "warm", "highspy warm", 75)]


def table(group, rows, lines):
    measured = group["measured"]
    lines.append(f"| goal | {group['name']}: what | µs | anchor | µs | ratio | aim |")
    lines.append("|---|---|---:|---|---:|---:|---:|")
    for goal, what, ours, anchor, aim in rows:
        pairs = [(own.get(ours), times.get(anchor, own.get(anchor))) for own, times in measured]
        pairs = [(own, other) for own, other in pairs if own is not None and other is not None]
        if pairs:
            ratio = median([other / own for own, other in pairs])
            lines.append(
                f"| {goal} | {what} | {median([own for own, _ in pairs]):.3g} | {anchor} | {median([other for _, other in pairs]):.4g} "
                f"| {ratio:.3g} | {'' if aim is None else aim} |"
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
            conflict = (question["conflict"] or {}).get("microseconds") or {}
            group["measured"].append(({**question["microseconds"], **conflict}, times))
            compared += count
        table(group, LARGE if group["name"] == "40 x 24" else ROWS, lines)
        answers = [status for question in questions for status in question["statuses"]]
        optimal = sum(status is not None for status in answers)
        conflicts = [question["conflict"] for question in questions if question["conflict"] is not None]
        pruned = [conflict for conflict in conflicts if conflict["members"] is not None]
        asked = [conflict["asked"] for conflict in pruned]
        ways = [sum(question["ways"][place] for question in questions if question["ways"]) for place in range(3)]
        lines += [
            f"{len(questions)} questions of {min(q['columns'] for q in questions)} to {max(q['columns'] for q in questions)} columns and "
            f"{min(q['rows'] for q in questions)} to {max(q['rows'] for q in questions)} rows, {sum(q['degenerate'] for q in questions)} of them degenerate; "
            f"{len(answers)} answers, {optimal} optimal, every one with an exact certificate checked without the solver; {compared} compared with HiGHS, none differs.",
            f"The filter proved {sum(q['filtered'] for q in questions)} of the optimal ones by itself; the others needed exact numbers, "
            f"{sum(q['exact_path'] for q in questions)} of them longer than 128 bits. Along the ratios {ways[0]} stretches were proved by the filter, "
            f"{ways[1]} exactly, {ways[2]} points by themselves.",
            f"{len(conflicts)} conflicts, {len(pruned)} of them made irreducible by the search and checked exactly, member by member: in {sum(not steps for steps in asked)} the filter proved "
            f"every step, in the others exact arithmetic had to tell in {sum(asked)} steps, which the times count.",
            "",
        ]
    if len(sys.argv) > 3:
        lines += [sys.argv[3], ""]
    text = "\n".join(lines)
    print(text)
    with open(record, "w", encoding="utf-8") as file:
        file.write(text)


main()
