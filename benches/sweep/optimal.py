"""A million optimal formulas over two ratios by tenside, and the same programs by HiGHS and scipy, point by point.

Run by `beside.py`. The brief is that of `case.rs`; the programs are made from what each raw material brings, never from tenside's rows.
Prices and limits are invented.
"""

import math
import random
import sys
import time

COUNT = 1000
PRICES = {
    "sci-powder": 5.2, "sodium-cocoyl-glutamate-30": 2.4, "coco-glucoside-50": 2.7, "capb-30": 1.9, "cetyl-alcohol": 4.1, "stearic-acid": 2.3,
    "shea-butter": 6.5, "glycerin-99-5": 1.5, "kaolin": 1.1, "corn-starch": 1.3, "btms-50": 9.8, "panthenol": 23.0, "phenoxyethanol": 7.4,
    "citric-acid-50": 3.0, "water": 0.1,
}  # fmt: skip
RANGES = {
    "cetyl-alcohol": (2, 12), "stearic-acid": (1, 8), "shea-butter": (0, 6), "glycerin-99-5": (1, 8), "kaolin": (0, 40), "corn-starch": (0, 12),
    "btms-50": (0.5, 4), "panthenol": (0.5, 1), "phenoxyethanol": (0.3, 1), "citric-acid-50": (0.1, 0.8),
}  # fmt: skip
WAXES, POWDERS = ["cetyl-alcohol", "stearic-acid", "shea-butter"], ["kaolin", "corn-starch"]
ACTIVE, WATER, LEAST_WAX, MOST_POWDER, CHARGE = 38.0, 26.0, 9.0, 30.0, 0.2
AXES = ("harsh.sodium-cocoyl-glutamate-30", "mild.capb-30")
# Points that HiGHS solves warm, along rows of the sweep, and that scipy solves.
HIGHS_POINTS, SCIPY_POINTS = 6000, 300


def brief():
    import tenside as td
    from tenside import measure as m

    made = td.Brief("Cream bar", td.Catalogue.starter(), prices=PRICES, currency="EUR")
    made = made.split({"sci-powder": 10, "sodium-cocoyl-glutamate-30": 1}, by="active", name="harsh")
    made = made.split({"coco-glucoside-50": 1, "capb-30": 1}, by="active", name="mild")
    for line, (low, high) in RANGES.items():
        made = made.between(line, low, high)
    made = made.free("water").group("waxes", WAXES).group("powders", POWDERS)
    made = made.target(m.active_matter, ACTIVE).at_most(m.water, WATER)
    made = made.at_least(m.as_supplied.contributed_by(group="waxes"), LEAST_WAX).at_most(
        m.as_supplied.contributed_by(group="powders"), MOST_POWDER
    )
    return made.at_most(m.charge_ratio, CHARGE).minimise(m.cost)


def values():
    import numpy as np

    return np.linspace(1, 4, COUNT).round(3)


def sweep(columns=None):
    import tenside as td

    return td.Sweep(brief(), *(td.axis(word, values()) for word in AXES), columns=columns)


def all_columns():
    made = sweep()
    return lambda: made.table()


def sixteen_columns():
    made = sweep([*(f"line.{line}" for line in PRICES), "objective"])
    return lambda: made.table()


class Program:
    """Rows, ends and costs at a pair of ratios."""

    def __init__(self):
        import numpy as np
        import tenside as td
        from tenside import measure as m

        self.lines = list(PRICES)
        alone = {line: td.Formula(line, {line: 100}, td.Catalogue.starter()) for line in self.lines}
        # As fractions of a raw material, and as millimoles in a gram.
        of = lambda measure, by: np.array([float(alone[line].measure(measure)) / by for line in self.lines])  # noqa: E731
        self.active, water = of(m.active_matter, 100), of(m.water, 100)
        anionic, cationic = of(m.anionic_charge, 1), of(m.cationic_charge, 1)
        among = lambda names: np.array([1.0 if line in names else 0.0 for line in self.lines])  # noqa: E731
        infinite = math.inf
        self.rows = np.array(
            [
                np.ones(len(self.lines)),
                self.active,
                0 * water,
                0 * water,
                water,
                among(WAXES),
                among(POWDERS),
                cationic - CHARGE * anionic,
            ]
        )
        self.low = np.array([100, ACTIVE, 0, 0, -infinite, LEAST_WAX, -infinite, -infinite])
        self.high = np.array([100, ACTIVE, 0, 0, WATER, infinite, MOST_POWDER, 0])
        self.costs = np.array([PRICES[line] / 100 for line in self.lines])
        self.ends = np.array([RANGES.get(line, (0, 100)) for line in self.lines], dtype=float)
        self.places = [
            [self.lines.index(line) for line in pair]
            for pair in (("sci-powder", "sodium-cocoyl-glutamate-30"), ("coco-glucoside-50", "capb-30"))
        ]
        self.firsts = (10.0, 1.0)
        for row, ((first, other), part) in enumerate(zip(self.places, self.firsts), start=2):
            self.rows[row, other] = self.active[other] * part
        self.turn(1.0, 1.0)

    def turned(self, ratio, which):
        """The one coefficient that a ratio turns."""
        return -self.active[self.places[which][0]] * ratio

    def turn(self, harsh, mild):
        for which, ratio in enumerate((harsh, mild)):
            self.rows[2 + which, self.places[which][0]] = self.turned(ratio, which)

    def highs(self):
        from warm import warm

        return warm(self.costs, self.ends, self.rows, self.low, self.high)

    def scipy(self):
        import numpy as np

        equal = self.low == self.high
        upper = np.vstack([self.rows[~equal & (self.high < math.inf)], -self.rows[~equal & (self.low > -math.inf)]])
        limits = np.concatenate(
            [self.high[~equal & (self.high < math.inf)], -self.low[~equal & (self.low > -math.inf)]]
        )
        return dict(
            c=self.costs,
            A_ub=upper,
            b_ub=limits,
            A_eq=self.rows[equal],
            b_eq=self.low[equal],
            bounds=self.ends,
            method="highs",
        )


def compared(table):
    """Microseconds a point by HiGHS, kept warm with one coefficient changed, and by scipy; every status and least cost is compared."""
    import highspy
    from scipy.optimize import linprog

    program, ratios = Program(), values()
    costs = table.to_polars()["objective"].to_list()
    solver = program.highs()
    picks = random.Random(7)
    optimal = differing = 0
    taken = 0.0
    for outer in (picks.randrange(COUNT) for _ in range(HIGHS_POINTS // COUNT)):
        solver.changeCoeff(2, program.places[0][0], program.turned(ratios[outer], 0))
        found = []
        begun = time.perf_counter()
        for ratio in ratios:
            solver.changeCoeff(3, program.places[1][0], program.turned(ratio, 1))
            solver.run()
            found.append(
                solver.getObjectiveValue() if solver.getModelStatus() == highspy.HighsModelStatus.kOptimal else None
            )
        taken += time.perf_counter() - begun
        for inner, cost in enumerate(found):
            ours = costs[outer * COUNT + inner]
            same = (cost is None) == (ours is None) and (cost is None or abs(cost - ours) <= 1e-7 * (1 + abs(cost)))
            optimal, differing = optimal + (cost is not None), differing + (not same)
    highs = taken / (HIGHS_POINTS // COUNT * COUNT) * 1e6
    taken = 0.0
    for _ in range(SCIPY_POINTS):
        outer, inner = picks.randrange(COUNT), picks.randrange(COUNT)
        program.turn(ratios[outer], ratios[inner])
        arguments = program.scipy()
        begun = time.perf_counter()
        result = linprog(**arguments)
        taken += time.perf_counter() - begun
        ours = costs[outer * COUNT + inner]
        same = (result.status == 0) == (ours is not None) and (
            ours is None or abs(result.fun - ours) <= 1e-7 * (1 + abs(ours))
        )
        differing += not same
    assert not differing, f"{differing} points differ from HiGHS or scipy"
    print(
        f"  {HIGHS_POINTS} points compared with HiGHS ({optimal} of them optimal) and {SCIPY_POINTS} with scipy: none differs"
    )
    return highs, taken / SCIPY_POINTS * 1e6


def report(timed):
    """Prints G4: `timed(way, threads)` gives milliseconds and megabytes of a process of its own."""
    print(
        f"\na million optimal formulas over two ratios (fifteen raw materials, {len(PRICES)} lines), every one certified"
    )
    table = all_columns()()
    columns = len(table.columns) if hasattr(table, "columns") else "all"
    highs, scipy = compared(table)
    print(
        f"  highspy, model kept, one coefficient changed: {highs:.1f} us a point; scipy: {scipy:.0f} us a point (a million: {highs:.0f} s and {scipy:.0f} s)"
    )
    for way, what in [("optimal", f"{columns} columns"), ("optimal-16", "16 columns: lines and objective")]:
        for threads in (1, 2):
            milliseconds, megabytes = timed(way, threads)
            print(
                f"  tenside, {threads} thread(s), {what}: {milliseconds:.1f} ms, {megabytes:.0f} MB; "
                f"{highs * 1e3 / milliseconds:.0f} x highspy (aim 2000), {scipy * 1e3 / milliseconds:.0f} x scipy (aim 75000)"
            )
    sys.stdout.flush()
