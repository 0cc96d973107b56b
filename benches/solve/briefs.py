"""A brief solved from Python, names in and names out and the grid formula with it, beside scipy on the same program in the same process.

Usage: briefs.py RECORD.md BRIEFS.jsonl. The briefs are those of the tests against HiGHS (`tests/python/oracle_families.py`): mixed sizes,
every third degenerate, a fresh ratio of a split or a fresh limit at every call, each set in the brief described first. Every status and
every least cost is compared. The table is added to the record that `anchors.py` has just written; one brief of each family is written
down for `briefs.rs`.
"""

import contextlib
import math
import statistics
import sys
import time
from fractions import Fraction
from pathlib import Path

import numpy as np
import scipy
from scipy.optimize import linprog

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "tests" / "python"))

import tenside as td
from oracle_families import degenerate, plain, sized
from oracle_model import brief_of, costs_of, keyed_rows, total

BRIEFS = 240
VARIANTS = 8


def variants(case):
    """The case with a ratio of its split, or else a limit, changed at every step."""
    for step in range(VARIANTS):
        share = 1 + Fraction(step, 1000)
        if case.split is not None:
            first, *others, (line, part) = case.split.parts
            yield case.change(split=type(case.split)((first, *others, (line, part * share))))
        else:
            yield case.change(
                asked=tuple(
                    type(asked)(
                        asked.name, asked.measure, asked.top, asked.bottom, asked.low, asked.high and asked.high * share
                    )
                    if asked.low is None
                    else asked
                    for asked in case.asked
                )
            )


def changed(brief, case):
    """The brief of a variant: that of the first with its numbers changed, as a what-if does it."""
    if case.split is not None:
        line, part = case.split.parts[-1]
        return brief.with_parameter(f"wash.m{line}", part)
    for asked in case.asked:
        if asked.low is None:
            brief = brief.with_parameter(asked.name, asked.high)
    return brief


def as_scipy(case):
    rows = [total(case), *keyed_rows(case).values()]
    number = lambda values: np.array([float(value) for value in values])
    equal = [row for row in rows if row[1] is not None and row[1] == row[2]]
    upper = [(number(row), float(high)) for row, low, high in rows if high is not None and low != high]
    upper += [(-number(row), -float(low)) for row, low, high in rows if low is not None and low != high]
    return dict(
        c=number(costs_of(case)),
        A_ub=np.array([row for row, _ in upper]) if upper else None,
        b_ub=np.array([limit for _, limit in upper]) if upper else None,
        A_eq=np.array([number(row) for row, _, _ in equal]),
        b_eq=np.array([float(low) for _, low, _ in equal]),
        bounds=[(float(low), float(high)) for low, high in case.box],
        method="highs",
    )


def named(brief):
    outcome = brief.try_solve()
    if isinstance(outcome, td.solve.Conflict) or outcome.grid_refusal is not None:
        return None
    return outcome.formula.percentages


def microseconds(call, count):
    least = math.inf
    for _ in range(3):
        begun = time.perf_counter()
        for index in range(count):
            call(index)
        least = min(least, (time.perf_counter() - begun) / count * 1e6)
    return least


def first(cases):
    """The first answer of a brief described anew, of which nothing is kept yet."""
    least = math.inf
    for case in cases[:3]:
        brief = brief_of(case)
        begun = time.perf_counter()
        named(brief)
        least = min(least, (time.perf_counter() - begun) * 1e6)
    return least


def main():
    seen = {"answered": [], "in conflict": []}
    built, lines, limits, prices, anew, written = [], [], [], [], [], []
    for index in range(BRIEFS):
        family = degenerate if index % 3 == 0 else plain if index % 3 == 1 else sized
        seed = 0
        while (case := family(f"bench {index} {seed}")).objective not in ("cost", "active"):
            seed += 1
        cases = list(variants(case))
        described = brief_of(cases[0])
        briefs, arguments = [changed(described, case) for case in cases], [as_scipy(case) for case in cases]
        written.append(described.to_json(materials=True))
        for brief, argument in zip(briefs, arguments):
            outcome, found = brief.try_solve(), linprog(**argument)
            answered = not isinstance(outcome, td.solve.Conflict)
            assert answered == (found.status == 0), f"brief {index}: {found.message}"
            if answered and case.objective == "cost":
                assert abs(float(outcome.objective) - found.fun) <= 1e-6 * (1 + abs(found.fun)), f"brief {index}"
        ours = microseconds(lambda place: named(briefs[place]), VARIANTS)
        theirs = microseconds(lambda place: linprog(**arguments[place]), VARIANTS)
        seen["answered" if answered else "in conflict"].append((ours, theirs))
        if answered and case.objective == "cost":
            limits.append(microseconds(lambda _: outcome.limit_ranges(), 4))
            # Refused where a requirement rests on prices.
            with contextlib.suppress(td.errors.Unsupported):
                prices.append(microseconds(lambda _: outcome.price_ranges(), 4))
        lines.append(len(case.box))
        built.append(microseconds(lambda place: brief_of(cases[place]), 2))
        anew.append(first(cases))
    rows = [
        f"Briefs from Python, `brief.try_solve()` with the grid formula and the names of its lines, beside scipy {scipy.__version__} on the same program:",
        "",
        "| briefs | how many | µs | anchor | µs | ratio | aim |",
        "|---|---:|---:|---|---:|---:|---:|",
    ]
    for what, pairs in seen.items():
        if pairs:
            ratio = statistics.median([theirs / ours for ours, theirs in pairs])
            ours, theirs = (statistics.median(times) for times in zip(*pairs))
            aim = 35 if what == "answered" else ""
            rows.append(f"| {what} | {len(pairs)} | {ours:.3g} | scipy | {theirs:.4g} | {ratio:.3g} | {aim} |")
    rows += [
        "",
        f"{BRIEFS} briefs of {min(lines)} to {max(lines)} lines, every third degenerate, {BRIEFS * VARIANTS} solved and compared with scipy, none differs. "
        f"Describing a brief anew, catalogue and all, takes {statistics.median(built):.3g} µs more, and its first answer {statistics.median(anew):.3g} µs in all. "
        "A conflict is made irreducible; scipy only says that there is no answer.",
        "",
        f"How far {len(limits)} answers of least cost hold: `limit_ranges` {statistics.median(limits):.3g} µs for all limits of a brief; "
        f"`price_ranges` {statistics.median(prices):.3g} µs for all prices of the {len(prices)} whose requirements rest on none in another way.",
        "",
    ]
    text = "\n".join(rows)
    print(text)
    with open(sys.argv[1], "a", encoding="utf-8") as file:
        file.write("\n" + text)
    Path(sys.argv[2]).write_text("".join(" ".join(brief.split("\n")) + "\n" for brief in written), encoding="utf-8")


main()
