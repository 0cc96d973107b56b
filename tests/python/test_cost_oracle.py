"""Purchases and mixes against HiGHS (PyPI: highspy) as integer programs."""

import pytest
import tenside as td
from oracle_model import Tally
from oracle_purchase import asked, buying, dearest, least, mix_of, mixing

pytestmark = pytest.mark.oracle

ROUNDING = 1e-6


def seeds(tally, number):
    for index in range(max(1, number)):
        tally.seed = f"{tally.family}-{index}"
        yield tally.seed


def check_purchase(case, bought, solved, tally):
    """The least there is, and no bound above it; every raw material covered."""
    tally.count("proved" if bought.is_cheapest else "open")
    tally.agrees(
        abs(float(bought.total) - solved.objective) <= ROUNDING * max(1, solved.objective) or not bought.is_cheapest,
        f"{bought.total} {solved.objective}",
    )
    tally.agrees(
        float(bought.bound) <= solved.objective + ROUNDING and float(bought.total) >= solved.objective - ROUNDING,
        "bound",
    )
    tally.agrees(all(row.from_stock + row.bought >= row.needed for row in bought.materials), "not covered")
    tally.agrees(sum(order.counted for order in bought.orders) == bought.total, "sum")


def test_purchases_agree_with_highs(oracle_cases):
    tally = Tally("purchase")
    for seed in seeds(tally, oracle_cases // 5):
        case = buying(seed)
        if not any(case.needed()):
            tally.count("nothing to buy")
            continue
        batches, offers, stock = asked(case)
        bought = td.cost.purchase(batches, offers, stock=stock)
        check_purchase(case, bought, least(case), tally)
    assert not tally.counts.get("open"), tally.counts
    tally.close()


def test_mixes_agree_with_highs(oracle_cases):
    tally = Tally("mix")
    for seed in seeds(tally, oracle_cases // 5):
        case = mixing(seed)
        mix, solved = mix_of(case, 4000), dearest(case)
        tally.count("proved" if mix.is_best else "open")
        tally.agrees(
            abs(float(mix.value) + solved.objective) <= ROUNDING * max(1, float(mix.value)) or not mix.is_best,
            f"{mix.value} {solved.objective}",
        )
        tally.agrees(float(mix.bound) >= -solved.objective - ROUNDING, "bound")
        tally.agrees(mix.verify(), "proof")
    assert tally.counts.get("open", 0) <= tally.counts["proved"] // 50, tally.counts
    tally.close()


class Altered:
    """A value with some of its attributes replaced."""

    def __init__(self, value, /, **attributes):
        self._original, self._attributes = value, attributes

    def __getattr__(self, name):
        return self._attributes[name] if name in self._attributes else getattr(self._original, name)


def test_the_check_notices_a_wrong_purchase():
    case = next(case for case in map(buying, range(100)) if any(case.needed()))
    batches, offers, stock = asked(case)
    bought, solved = td.cost.purchase(batches, offers, stock=stock), least(case)

    def noticed(**attributes):
        tally = Tally("altered")
        check_purchase(case, Altered(bought, **attributes), solved, tally)
        return bool(tally.mismatches)

    assert not noticed()
    assert noticed(total=bought.total + 1) and noticed(bound=bought.bound + 1) and noticed(orders=[])
    assert noticed(materials=[Altered(row, bought=-1) for row in bought.materials])
