"""Time per rescue of a bar of 14 lines beside HiGHS (PyPI: highspy) on the same program, both through Python; run by `cargo xtask bench rescue`.

HiGHS is given the finished rows in floats and gives the least total; ours makes the rows from compositions, solves, proves, places a formula on
the grid and rounds the additions.
"""

import pathlib
import sys
import time
from fractions import Fraction

import tenside as td
from tenside import measure as m

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "tests" / "python"))
from oracle_model import highs  # noqa: E402

ROUNDS = 200
LINES = {
    "sci-powder": (40, 50), "scs-needles": (8, 12), "capb-30": (5, 9), "cetyl-alcohol": (4, 7), "btms-50": (1, 3), "cocoa-butter": (1, 3),
    "glycerin-99-5": (1, 3), "water": (0, 4), "corn-starch": (2, 6), "panthenol-75": (0.5, 1.5), "rosemary-oil": (0.3, 0.8),
    "citric-acid-50": (0.1, 0.6), "sodium-benzoate": (0.4, 0.8), "kaolin": (0, 30),
}  # fmt: skip
CATALOGUE = td.Catalogue.starter()


def brief():
    asked = td.Brief("Fourteen lines", CATALOGUE)
    for name, (low, high) in LINES.items():
        asked = asked.between(name, low, high)
    return asked.require(m.active_matter, at_least=44, at_most=50).at_most(m.water, 12)


def best(work):
    """The shortest of some rounds, in microseconds."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times) * 1e6, sorted(times)[ROUNDS // 2] * 1e6


asked = brief()
planned = asked.solve().exact
bowl = {name: round(2 * float(share), 1) for name, share in planned.items()}
bowl["rosemary-oil"] = 2.4
masses = {name: f"{grams} g" for name, grams in bowl.items()}
rescue = asked.rescue(masses, readability="0.1 g")


def share(name, measure):
    reading = td.Formula("alone", {name: 100}, CATALOGUE).measure(measure).value
    return reading.typical / 100


def rows():
    grams = [Fraction(str(bowl[name])) for name in LINES]
    found = []

    def keep(weights, end, is_low):
        of_grams = [100 * weight - end for weight in weights]
        already = sum(value * mass for value, mass in zip(of_grams, grams))
        found.append((of_grams, -already, None) if is_low else (of_grams, None, -already))

    for index, (low, high) in enumerate(LINES.values()):
        alone = [Fraction(int(other == index)) for other in range(len(LINES))]
        keep(alone, Fraction(str(low)), True)
        keep(alone, Fraction(str(high)), False)
    active = [share(name, m.active_matter) for name in LINES]
    keep(active, Fraction(44), True)
    keep(active, Fraction(50), False)
    keep([share(name, m.water) for name in LINES], Fraction(12), False)
    return found, sum(grams)


program, whole = rows()
columns = [(Fraction(0), None)] * len(LINES)
costs = [Fraction(1)] * len(LINES)
solved = highs(costs, columns, program)
ours, ours_median = best(lambda: asked.rescue(masses, readability="0.1 g"))
theirs, theirs_median = best(lambda: highs(costs, columns, program))
exact = sum(each.exact for each in rescue.additions) + whole
print(
    f"a bowl of 14 lines, one of them at twice its share and more; {rescue.verdict}, {len(rescue.additions)} additions, best and median of {ROUNDS}:"
)
print(f"  tenside, rows, proof, grid formula and rounding included  {ours:8.0f} µs, {ours_median:8.0f} µs (aim 5000)")
print(
    f"  HiGHS, given the rows                                     {theirs:8.0f} µs, {theirs_median:8.0f} µs: {theirs / ours:.2f} of ours"
)
print(f"  least total {float(exact):.6f} g, HiGHS {solved.objective + float(whole):.6f} g")
