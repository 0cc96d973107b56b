"""Every kind of axis over briefs with lines left to choose: microseconds a row, whole tables with what binds and what conflicts.

Each table is made once, on one thread, with the making of its critical regions; the ratios of three surfactants are also solved by HiGHS,
kept warm with three coefficients changed at every point, and every status and least cost is compared. Invented prices and limits.
"""

import math
import os
import random
import time

os.environ.setdefault("RAYON_NUM_THREADS", "1")

import highspy
import numpy as np
import tenside as td
from tenside import measure as m

from warm import warm

SPLIT = {"sci-powder": 14, "scs-needles": 5, "capb-30": 1}
LINES = {  # line: its range; the first lines of a short brief
    "panthenol": (1.5, 1.5),
    "cetyl-alcohol": (3, 9),
    "stearic-acid": (1, 20),
    "glycerin-86": (0, 4),
    "water": (0, 100),
    "kaolin": (0, 100),
    "citric-acid-50": (0.3, 0.3),
    "sodium-chloride": (0, 3),
    "cocoa-butter": (0, 6),
    "corn-starch": (0, 10),
    "sorbitol-70": (0, 2),
    "coco-glucoside-50": (0, 5),
    "cetearyl-alcohol": (0, 4),
    "titanium-dioxide": (0.2, 0.2),
    "zinc-oxide": (0, 1),
    "rice-starch": (0, 3),
    "shea-butter": (0, 3),
}
MANY = (
    "sci-powder",
    "scs-needles",
    "capb-30",
    "coco-glucoside-50",
    "sodium-cocoyl-glutamate-30",
    "decyl-glucoside-50",
    "sodium-lauroyl-glutamate-powder",
)
HIGHS_POINTS = 4_000


def priced(lines):
    picks = random.Random(5)
    return {line: picks.randint(5, 90) / 10 for line in lines}


def brief(count):
    """A bar of so many lines; three of them are the split's."""
    catalogue = td.Catalogue.starter()
    chosen = dict(list(LINES.items())[: count - len(SPLIT)])
    prices = priced([*SPLIT, *chosen, "propanediol"])
    bar = td.Brief(f"{count} lines", catalogue, prices=prices, currency="EUR").split(SPLIT, by="active", name="wash")
    for line, (low, high) in chosen.items():
        if low == high:
            bar = bar.fix(line, low)
        elif (low, high) != (0, 100):
            bar = bar.between(line, low, high)
        else:
            bar = bar.qs(line) if line == "kaolin" else bar.free(line)
    return (
        bar.at_least(m.active_matter, 40).at_most(m.active_matter, 62).at_most(m.water, 14).at_least(m.solids, 80),
        chosen,
        prices,
    )


def many(members):
    """A bar with a split of so many surfactants in equal parts."""
    wash = MANY[:members]
    prices = priced([*wash, "cetyl-alcohol", "stearic-acid", "kaolin"])
    bar = td.Brief(f"{members} surfactants", td.Catalogue.starter(), prices=prices, currency="EUR")
    bar = bar.split({line: 1 for line in wash}, by="active", name="wash").between("cetyl-alcohol", 3, 9)
    bar = bar.between("stearic-acid", 1, 20).qs("kaolin").at_most(m.water, 12).at_least(m.active_matter, 30)
    return bar.minimise(m.cost)


def even(low, high, count):
    return [low + (high - low) * place / (count - 1) for place in range(count)]


def timed(what, sweep, most):
    begun = time.perf_counter()
    table = sweep.table()
    each = (time.perf_counter() - begun) / len(table) * 1e6
    feasible = sum(table.column("feasible"))
    print(f"  {what:58} {len(table):7} rows, {feasible:7} with a formula  {each:8.3f} us a row (aim {most})")
    return table


def beside_highs(count, table, steps):
    """The lattice by HiGHS, warm, at points picked without pattern but in runs of neighbours."""
    _, chosen, prices = brief(count)
    lines = [*SPLIT, *chosen]
    alone = {line: td.Formula(line, {line: 100}, td.Catalogue.starter()) for line in lines}
    of = lambda measure: np.array([float(alone[line].measure(measure).value.typical) / 100 for line in lines] + [0.0])
    active, water, solids, each = of(m.active_matter), of(m.water), of(m.solids), np.array([1.0] * len(lines) + [0.0])
    rows = [each, active, water, solids]
    low, high = [100, 40, -math.inf, 80], [100, 62, 14, math.inf]
    for member, line in enumerate(SPLIT):
        row = np.zeros(len(lines) + 1)
        row[member], row[-1] = active[member], -SPLIT[line]
        rows.append(row)
        low, high = [*low, 0], [*high, 0]
    ends = [chosen.get(line, (0, 100)) for line in lines] + [(0, math.inf)]
    solver = warm([prices[line] / 100 for line in lines] + [0], ends, rows, low, high)
    points = [
        (first, second, steps - first - second) for first in range(steps + 1) for second in range(steps + 1 - first)
    ]
    costs, picks, taken, differing = table.column("objective"), random.Random(7), 0.0, 0
    for _ in range(HIGHS_POINTS // 100):
        start = picks.randrange(len(points) - 100)
        begun = time.perf_counter()
        found = []
        for point in points[start : start + 100]:
            for member, part in enumerate(point):
                solver.changeCoeff(4 + member, len(lines), -float(part))
            solver.run()
            found.append(
                solver.getObjectiveValue() if solver.getModelStatus() == highspy.HighsModelStatus.kOptimal else None
            )
        taken += time.perf_counter() - begun
        for cost, ours in zip(found, costs[start : start + 100]):
            differing += (cost is None) != (ours is None) or (
                cost is not None and abs(cost - ours) > 1e-6 * (1 + abs(cost))
            )
    assert not differing, f"{differing} points differ from HiGHS"
    return taken / HIGHS_POINTS * 1e6


def main():
    print("\nevery kind of axis, least cost, one thread")
    for count in (9, 14, 20):
        bar, _, _ = brief(count)
        cheap = bar.minimise(m.cost)
        print(f" a brief of {len(cheap.lines)} lines")
        steps = 446
        begun = time.perf_counter()
        table = timed("a lattice of three surfactants", td.Sweep(cheap, td.lattice("wash", steps)), 1)
        each = (time.perf_counter() - begun) / len(table) * 1e6
        highs = beside_highs(count, table, steps)
        print(
            f"    HiGHS, warm: {highs:.1f} us a point, {highs / each:.0f} x (aim 35); {HIGHS_POINTS} points compared, none differs"
        )
        timed("a share", td.Sweep(cheap, td.axis("share.wash.capb-30", even(0, 30, 100_000))), 1)
        timed(
            "two parts",
            td.Sweep(cheap, td.axis("wash.capb-30", even(1, 4, 316)), td.axis("wash.scs-needles", even(1, 9, 316))),
            1,
        )
        timed(
            "a lattice and a limit",
            td.Sweep(cheap, td.lattice("wash", 60), td.axis("at-most.water", even(5, 16, 54))),
            1,
        )
        timed(
            "a limit and a lattice",
            td.Sweep(cheap, td.axis("at-most.water", even(5, 16, 54)), td.lattice("wash", 60)),
            1,
        )
        timed(
            "a price and a fixed line",
            td.Sweep(
                cheap,
                td.axis("price.cetyl-alcohol", even(1, 12, 316)),
                td.axis("fix.panthenol", [place / 100 for place in range(316)]),
            ),
            1,
        )
        timed(
            "an end of a range and a limit",
            td.Sweep(
                cheap,
                td.axis("highest.stearic-acid", [1 + place / 20 for place in range(316)]),
                td.axis("at-most.water", even(5, 16, 316)),
            ),
            1,
        )
        timed(
            "a raw material, the fastest",
            td.Sweep(
                cheap,
                td.axis("at-most.water", even(5, 16, 2000)),
                td.axis("material.glycerin-86", ["glycerin-86", "propanediol"]),
            ),
            10,
        )
        finished = bar.at_least(m.active_matter, 30, basis=td.finished(moisture=5), name="kept").minimise(m.cost)
        timed(
            "a residual moisture, the fastest",
            td.Sweep(finished, td.axis("at-most.water", even(5, 16, 2000)), td.axis("moisture", [1, 2, 3, 4, 5])),
            10,
        )
        ratio = bar.minimise(m.cost.per(m.active_matter))
        timed(
            "a limit, least cost per active matter", td.Sweep(ratio, td.axis("at-most.water", even(5, 16, 10_000))), 10
        )
        timed("a lattice without objective", td.Sweep(bar, td.lattice("wash", 446)), 1)
    print(" a lattice of many surfactants, seven to ten lines")
    for members, steps in ((4, 30), (5, 18), (6, 12), (7, 9)):
        timed(f"{members} surfactants", td.Sweep(many(members), td.lattice("wash", steps)), 40)


main()
