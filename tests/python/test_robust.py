"""Requirements for every composition against HiGHS: the worst composition of each raw material is a linear program of its own."""

import random
from fractions import Fraction

import pytest
import tenside as td
from oracle_checks import HAIR
from oracle_model import ACTIVE, CLASS, HUNDRED, INCI, Tally, highs, random_shelf
from tenside import measure as m

pytestmark = pytest.mark.oracle

ONE = Fraction(1)
FREE = (Fraction(0), HUNDRED)
MEASURES = {
    "active": (m.active_matter, lambda kind: int(kind in ACTIVE), lambda kind: 1, 100),
    "water": (m.water, lambda kind: int(kind == "WATER"), lambda kind: 1, 100),
    "water per active": (
        m.water.per(m.active_matter),
        lambda kind: int(kind == "WATER"),
        lambda kind: int(kind in ACTIVE),
        1,
    ),
}
"""The measure, what a constituent counts above and below, and the factor before the ratio."""


class Shelf:
    """Raw materials whose constituents have ranges, and what is asked of their mixture."""

    def __init__(self, seed):
        rng = random.Random(seed)
        count = rng.randint(3, 7)
        self.rows = []
        for shares in random_shelf(rng, count):
            row = {}
            for inci, typical in zip(INCI, shares):
                if typical:
                    less, more = Fraction(rng.randint(0, 12), 2), Fraction(rng.randint(0, 12), 2)
                    row[inci] = (max(Fraction(0), typical - less), typical, min(HUNDRED, typical + more))
            self.rows.append(row)
        self.price = [Fraction(rng.randint(10, 900), 100) for _ in range(count)]
        self.asked = [
            ("active", False, Fraction(rng.randint(10, 950), 10)),
            ("water", True, Fraction(rng.randint(5, 300), 10)),
            ("water per active", True, Fraction(rng.randint(1, 60), 100)),
        ]

    def brief(self, every):
        text = 'tenside = "catalogue/1"\nsource = "invented for this test"\n'
        for inci, kind in zip(INCI, CLASS):
            if kind:
                text += f'[[substance]]\ninci = "{inci}"\nclass = "{kind}"\n' + (
                    "counts_as_active = true\n" if inci in ACTIVE else ""
                )
        for index, row in enumerate(self.rows):
            shares = ", ".join(
                f'{{ inci = "{inci}", low = {float(a)}, typical = {float(b)}, high = {float(c)} }}'
                for inci, (a, b, c) in row.items()
            )
            text += f'[[material]]\nid = "m{index}"\nname = "material {index}"\nform = "powder"\nconstituents = [{shares}]\n'
        brief = td.Brief(
            "sure", td.Catalogue.from_toml(text), prices={f"m{i}": price for i, price in enumerate(self.price)}
        )
        for index in range(len(self.rows)):
            brief = brief.free(f"m{index}")
        for name, at_most, value in self.asked:
            ends = {"at_most" if at_most else "at_least": value}
            brief = brief.require(MEASURES[name][0], name=name, for_every_composition=every, **ends)
        return brief.minimise(m.cost)

    def coefficient(self, row, name, at_most, value, every):
        """The greatest (or least) of `factor above - value below` over the compositions of a raw material, by HiGHS."""
        _, above, below, factor = MEASURES[name]
        sign = -1 if at_most else 1
        costs = [sign * (factor * above(inci) - value * below(inci)) for inci in row]
        if not every:
            return sign * float(sum(cost * typical / HUNDRED for cost, (_, typical, _) in zip(costs, row.values())))
        columns = [(low / HUNDRED, high / HUNDRED) for low, _, high in row.values()]
        return sign * highs(costs, columns, [([ONE] * len(costs), ONE, ONE)]).objective

    def best(self, every, asked=None):
        """The least cost, by HiGHS."""
        rows = [([ONE] * len(self.rows), HUNDRED, HUNDRED)]
        for name, at_most, value in self.asked if asked is None else asked:
            coefficients = [self.coefficient(row, name, at_most, value, every) for row in self.rows]
            rows.append((coefficients, None, Fraction(0)) if at_most else (coefficients, Fraction(0), None))
        return highs([price / 100 for price in self.price], [FREE] * len(self.rows), rows)


def check(shelf, tally):
    solved, outcome = shelf.best(True), shelf.brief(True).try_solve()
    tally.agrees(outcome.verify(), "not verified")
    tally.agrees(isinstance(outcome, td.solve.Answer) == solved.feasible, f"status: HiGHS says feasible is {solved.feasible}")
    if isinstance(outcome, td.solve.Answer) and solved.feasible:
        tally.count("answered")
        price = outcome.price_of_robustness()
        typical = shelf.best(False).objective
        tally.agrees(
            abs(float(price.robust) - solved.objective) <= 1e-7 * max(1, solved.objective),
            f"{price.robust}, HiGHS says {solved.objective}",
        )
        tally.agrees(
            abs(float(price.typical) - typical) <= 1e-7 * max(1, typical), f"{price.typical}, HiGHS says {typical}"
        )
        tally.agrees(price.price == price.robust - price.typical >= 0, price.sentence)
        if price.price > 0:
            tally.count("with a price")
    elif isinstance(outcome, td.solve.Conflict):
        tally.count("conflicts")
        for words, change in zip(outcome.members, outcome.relaxations()):
            if change is None:
                tally.count("members that alone would not do")
                continue
            tally.count("relaxations")
            hair = HAIR * max(Fraction(1), abs(change.to)) * (1 if change.limit > change.to else -1)
            for value, expected in ((change.to - hair / 100, True), (change.to + hair, False)):
                asked = [
                    (name, at_most, value if name == words.partition(" (")[0] else limit)
                    for name, at_most, limit in shelf.asked
                ]
                tally.agrees(
                    shelf.best(True, asked).feasible == expected, f"{change.sentence}: HiGHS at {float(value)}"
                )


def test_requirements_for_every_composition_agree_with_highs(oracle_cases):
    tally = Tally("robust")
    for number in range(max(30, oracle_cases // 10)):
        tally.seed = f"robust-{number}"
        check(Shelf(tally.seed), tally)
    assert min(tally.counts.get(what, 0) for what in ("with a price", "conflicts", "relaxations")) >= 3, tally.counts
    tally.close()


def test_the_check_notices_what_is_asked_of_typical_compositions_only():
    class Typical(Shelf):
        def brief(self, every):
            return super().brief(False)

    tally = Tally("altered")
    for number in range(30):
        check(Typical(f"robust-{number}"), tally)
    assert len(tally.mismatches) > 5
