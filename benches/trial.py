"""A region of eight components with some two hundred vertices, and a D-optimal design of twenty runs of it with its bound, beside an exchange in numpy
over the same candidates; run by `cargo xtask bench trial`.

The exchange in numpy has as many starts and updates the inverse as ours does; it gives no bound, no formulas and no order of runs.
"""

import time

import numpy as np
import tenside as td

ROUNDS = 15
STARTS = 10
RUNS = 20
RANGES = {
    "sci-powder": (20, 45), "scs-needles": (5, 20), "capb-30": (2, 12), "cetyl-alcohol": (3, 12), "cocoa-butter": (1, 8), "glycerin-99-5": (0, 5),
    "corn-starch": (2, 15), "kaolin": (5, 40),
}  # fmt: skip


def brief():
    asked = td.Brief("Eight components", td.Catalogue.starter())
    for name, (low, high) in RANGES.items():
        asked = asked.between(name, low, high)
    return asked.at_most(td.measure.water, 12)


def best(work):
    """The shortest and the median of some rounds, in milliseconds."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times) * 1e3, sorted(times)[ROUNDS // 2] * 1e3


def exchange(rows):
    """Modified Fedorov exchange with rank-one updates, vectorised over the candidates."""
    generator = np.random.default_rng(1)
    found = 0.0
    for _ in range(STARTS):
        chosen = generator.integers(len(rows), size=RUNS)
        while np.linalg.matrix_rank(rows[chosen]) < rows.shape[1]:
            chosen = generator.integers(len(rows), size=RUNS)
        changed = True
        while changed:
            changed = False
            inverse = np.linalg.inv(rows[chosen].T @ rows[chosen])
            for run in range(RUNS):
                variances = np.einsum("ij,jk,ik->i", rows, inverse, rows)
                along = rows @ (inverse @ rows[chosen[run]])
                gains = (1 + variances) * (1 - variances[chosen[run]]) + along**2
                place = int(np.argmax(gains))
                if gains[place] > 1 + 1e-9:
                    chosen[run] = place
                    inverse = np.linalg.inv(rows[chosen].T @ rows[chosen])
                    changed = True
        found = max(found, np.linalg.det(rows[chosen].T @ rows[chosen]))
    return found


asked = brief()
corners = asked.corners(100_000)
assert corners.complete
vertices, vertices_median = best(lambda: asked.corners(100_000))
ours, ours_median = best(lambda: asked.design("d-optimal", runs=RUNS, seed=1, starts=STARTS))
design = asked.design("d-optimal", runs=RUNS, seed=1, starts=STARTS)
points = np.array([[float(percent) / 100 for percent in corner.values()] for corner in corners.formulas])
rows = np.vstack([points, points.mean(axis=0)])
theirs, theirs_median = best(lambda: exchange(rows))
own = np.array([[float(percent) / 100 for percent in run.exact.values()] for run in design.runs])
share = (np.linalg.det(own.T @ own) / exchange(rows)) ** (1 / rows.shape[1])
print(f"eight components, {len(corners.formulas)} vertices, {RUNS} runs, {STARTS} starts; best and median of {ROUNDS}:")
print(f"  vertices, exact                                       {vertices:8.2f} ms, {vertices_median:8.2f} ms (aim 50)")
print(
    f"  design with vertices, bound, formulas and order       {ours:8.2f} ms, {ours_median:8.2f} ms (aim 1000): at least {100 * design.efficiency:.2f} % D-efficient"
)
print(
    f"  exchange in numpy, given the candidates               {theirs:8.2f} ms, {theirs_median:8.2f} ms: {theirs / ours:.2f} of ours; ours is {share:.4f} of its determinant's root"
)
