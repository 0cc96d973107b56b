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


def timed(work):
    """The result and the milliseconds."""
    start = time.perf_counter()
    result = work()
    return result, (time.perf_counter() - start) * 1e3


print("12 raw materials, 48 packs, 3 batches; milliseconds a purchase:")
print("  suppliers  ours: median  longest  HiGHS: median  longest")
for shops in (1, 2, 3, 4):
    ours, theirs = [], []
    for number in range(CASES):
        case = buying(f"bench-{number}", materials=12, packs=48 // shops, batches=3, shops=shops)
        batches, offers, stock = asked(case)
        bought, taken = timed(lambda: td.cost.purchase(batches, offers, stock=stock))
        ours.append(taken)
        asked_of_highs = program(case)
        solved, taken = timed(lambda: highs(*asked_of_highs))
        theirs.append(taken)
        assert bought.is_cheapest and abs(float(bought.total) - solved.objective) < 1e-6 * max(1, solved.objective)
    print(
        f"  {shops:9}  {statistics.median(ours):12.2f}  {max(ours):7.2f}  {statistics.median(theirs):13.2f}  {max(theirs):7.2f}"
    )
