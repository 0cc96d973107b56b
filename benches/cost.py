"""Time per purchase beside HiGHS' (PyPI: highspy) in the same run, both through Python; run by `cargo xtask bench cost`.

Random purchases of 12 raw materials in 48 packs for 3 batches, from one to four suppliers, with price breaks, tax, and freight that is saved
from some value of goods on. HiGHS solves the same integer program; making it is not timed. A purchase is proved by ours, and by HiGHS within
its tolerance.
"""

import pathlib
import statistics
import sys
import time

import tenside as td

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "tests" / "python"))
from oracle_model import highs  # noqa: E402
from oracle_purchase import asked, buying, program  # noqa: E402

CASES = 40
ROUNDS = 3


def timed(work, rounds):
    """The result and the milliseconds of the quickest round: what else the machine does is nobody's time."""
    taken = []
    for _ in range(rounds):
        start = time.perf_counter()
        result = work()
        taken.append((time.perf_counter() - start) * 1e3)
    return result, min(taken)


print("12 raw materials, 48 packs, 3 batches; milliseconds a purchase (aim 5):")
print("  suppliers  ours: median  longest  HiGHS: median  longest  times ours, median")
for shops in (1, 2, 3, 4):
    ours, theirs = [], []
    for number in range(CASES):
        case = buying(f"bench-{number}", materials=12, packs=48 // shops, batches=3, shops=shops)
        batches, offers, stock = asked(case)
        bought, taken = timed(lambda: td.cost.purchase(batches, offers, stock=stock), ROUNDS)
        ours.append(taken)
        asked_of_highs = program(case)
        solved, taken = timed(lambda: highs(*asked_of_highs), ROUNDS)
        theirs.append(taken)
        assert bought.is_cheapest and abs(float(bought.total) - solved.objective) < 1e-6 * max(1, solved.objective)
    print(
        f"  {shops:9}  {statistics.median(ours):12.2f}  {max(ours):7.2f}  {statistics.median(theirs):13.2f}  {max(theirs):7.2f}"
        f"  {statistics.median(theirs) / statistics.median(ours):18.1f}"
    )
