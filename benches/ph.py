"""Time per pH beside PHREEQC's (PyPI: phreeqc) in the same run, both through Python, with the same constants; run by `cargo xtask bench ph`.

PHREEQC solves all mixtures in one call, after its database is loaded; so the time of its text input is in it. Ours is one call a mixture.
"""

import pathlib
import random
import sys
import time

import tenside as td

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "tests" / "python"))
from phreeqc_model import Model, text_of  # noqa: E402

MIXTURES = 2000
ROUNDS = 5


def best(work):
    """The shortest of some rounds, in microseconds a mixture."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times) / MIXTURES * 1e6


acids = [td.ph.Acid.named(name) for name in ("citric acid", "benzoic acid", "sorbic acid")]
rng = random.Random(1)
mixtures = [([rng.uniform(0.001, 0.05) for _ in acids], {"Na": rng.uniform(0.001, 0.1)}) for _ in range(MIXTURES)]
solutions = []
for totals, ions in mixtures:
    solution = td.ph.Solution(25)
    for acid, total in zip(acids, totals):
        solution = solution.acid(acid, total)
    solutions.append(solution.ion("Na", ions["Na"]))
model = Model(acids, 25.0, solutions[0].pkw)
text = text_of(model.names, 25.0, [(totals, ions, 5) for totals, ions in mixtures])
ours = best(lambda: [solution.ph for solution in solutions])
theirs = best(lambda: model.engine.RunString(text))
found = model.engine.GetSelectedOutput()
column = next(name for name in found if name.lower() == "ph")
difference = max(abs(solution.ph - ph) for solution, ph in zip(solutions, found[column], strict=True))
print(f"{MIXTURES} mixtures of citric, benzoic and sorbic acid with sodium, best of {ROUNDS} rounds:")
print(f"  tenside {ours:8.2f} µs a pH")
print(f"  PHREEQC {theirs:8.2f} µs a pH, {theirs / ours:.0f} times as long")
print(f"  largest difference of pH {difference:.6f}")
