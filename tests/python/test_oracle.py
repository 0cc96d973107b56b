"""Random briefs against HiGHS (PyPI: highspy), modelled here from the compositions and not from the library's own rows.

Status and objective are compared, every proof is verified, and every one-sided requirement is reckoned again in fractions on the grid
formula.
"""

import random
from fractions import Fraction

import highspy
import numpy as np
import pytest
import tenside as td
from tenside import measure as m

pytestmark = pytest.mark.oracle

INCI = ["OLEFIN A", "BETAINE B", "WATER", "SALT S", "CLAY C"]
ACTIVE, WATER, SALT = ("OLEFIN A", "BETAINE B"), ("WATER",), ("SALT S",)

SUBSTANCES = """
tenside = "catalogue/1"
source = "invented for this test"
[[substance]]
inci = "OLEFIN A"
class = "anionic-surfactant"
counts_as_active = true
[[substance]]
inci = "BETAINE B"
class = "amphoteric-surfactant"
counts_as_active = true
[[substance]]
inci = "SALT S"
class = "salt"
[[substance]]
inci = "CLAY C"
class = "clay"
"""


def random_case(seed):
    """A shelf of invented raw materials and a brief over it, as plain data."""
    rng = random.Random(seed)
    family = rng.choice(["plain", "plain", "degenerate", "tight"])
    count = rng.randint(3, 15)
    shelf = []
    for _ in range(count):
        cuts = sorted(rng.sample(range(0, 201), len(INCI) - 1))
        shares = [b - a for a, b in zip([0] + cuts, cuts + [200])]
        shelf.append([Fraction(share, 2) for share in shares])
    if family == "degenerate" and count > 3:
        shelf[1] = list(shelf[0])
    price = [Fraction(rng.randint(10, 900), 100) if family != "degenerate" else Fraction(rng.randint(1, 3)) for _ in range(count)]
    box = []
    for _ in range(count):
        role = rng.random()
        if role < 0.2:
            value = Fraction(rng.randint(0, 120), 10)
            box.append((value, value))
        elif role < 0.7:
            low = Fraction(rng.randint(0, 100), 10)
            box.append((low, low + Fraction(rng.randint(0, 500), 10)))
        else:
            box.append((Fraction(0), Fraction(100)))
    rows = []
    for kinds, name in [(ACTIVE, "active"), (WATER, "water"), (SALT, "salt")]:
        if rng.random() < 0.6:
            value = Fraction(rng.randint(0, 600 if name == "active" else 300), 10)
            rows.append((name, kinds, rng.choice(["<=", ">=", "="] if family != "tight" else ["=", "=", ">="]), value))
    ratio = Fraction(rng.randint(1, 40), 10) if rng.random() < 0.3 else None
    split = (Fraction(rng.randint(1, 9)), Fraction(rng.randint(1, 9))) if rng.random() < 0.4 else None
    objective = rng.choice(["cost", "cost", "active", "none"])
    return shelf, price, box, rows, ratio, split, objective


def share(row, kinds):
    return sum((row[INCI.index(kind)] for kind in kinds), Fraction(0)) / 100


def brief_of(case):
    shelf, price, box, rows, ratio, split, objective = case
    text = SUBSTANCES
    for index, shares in enumerate(shelf):
        constituents = ", ".join(f'{{ inci = "{inci}", typical = {float(value)} }}' for inci, value in zip(INCI, shares) if value)
        text += f'[[material]]\nid = "m{index}"\nname = "material {index}"\nform = "powder"\nconstituents = [{constituents}]\n'
    brief = td.Brief("random", td.Catalogue.read_toml(text), prices={f"m{i}": p for i, p in enumerate(price)}, currency="coin")
    for index, (low, high) in enumerate(box):
        if (low, high) == (0, 100):
            brief = brief.free(f"m{index}")
        elif low == high:
            brief = brief.fix(f"m{index}", low)
        else:
            brief = brief.between(f"m{index}", low, min(high, Fraction(100)))
    measures = {"active": m.active_matter, "water": m.water, "salt": m.constituent("SALT S")}
    for name, _, sense, value in rows:
        ask = {"<=": brief.at_most, ">=": brief.at_least, "=": brief.target}[sense]
        brief = ask(measures[name], value)
    if ratio is not None:
        brief = brief.at_most(m.water.per(m.active_matter), ratio)
    if usable_split(case):
        brief = brief.split({"m0": split[0], "m2": split[1]}, by="active", name="wash")
    if objective == "cost":
        brief = brief.minimise(m.cost)
    elif objective == "active":
        brief = brief.maximise(m.active_matter)
    return brief


def usable_split(case):
    shelf, split = case[0], case[5]
    return split is not None and share(shelf[0], ACTIVE) > 0 and share(shelf[2], ACTIVE) > 0


def rows_of(case):
    """(coefficients, low, high) in fractions, and for each whether it is an equation."""
    shelf, _, _, rows, ratio, split, _ = case
    count = len(shelf)
    out = [([Fraction(1)] * count, Fraction(100), Fraction(100))]
    for _, kinds, sense, value in rows:
        low = value if sense in (">=", "=") else None
        high = value if sense in ("<=", "=") else None
        out.append(([share(row, kinds) for row in shelf], low, high))
    if ratio is not None:
        out.append(([share(row, WATER) - ratio * share(row, ACTIVE) for row in shelf], None, Fraction(0)))
    if usable_split(case):
        coefficients = [Fraction(0)] * count
        coefficients[0] = -share(shelf[0], ACTIVE) * split[1]
        coefficients[2] = share(shelf[2], ACTIVE) * split[0]
        out.append((coefficients, Fraction(0), Fraction(0)))
    return out


def highs_answer(case):
    shelf, price, box, _, _, _, objective = case
    costs = {
        "cost": [float(p) / 100 for p in price],
        "active": [-float(share(row, ACTIVE)) for row in shelf],
        "none": [0.0] * len(shelf),
    }[objective]
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    infinity = highspy.kHighsInf
    for cost, (low, high) in zip(costs, box):
        solver.addCol(cost, float(low), float(min(high, 100)), 0, np.array([], dtype=np.int32), np.array([]))
    for coefficients, low, high in rows_of(case):
        places = np.array([i for i, value in enumerate(coefficients) if value], dtype=np.int32)
        values = np.array([float(value) for value in coefficients if value])
        solver.addRow(-infinity if low is None else float(low), infinity if high is None else float(high), len(places), places, values)
    solver.run()
    return solver.getModelStatus(), solver.getInfo().objective_function_value


def test_random_briefs_agree_with_highs(oracle_cases):
    answered = conflicts = 0
    for seed in range(oracle_cases):
        case = random_case(seed)
        outcome = brief_of(case).try_solve()
        status, objective = highs_answer(case)
        assert outcome.verify(), seed
        if isinstance(outcome, td.Conflict):
            conflicts += 1
            assert status == highspy.HighsModelStatus.kInfeasible, (seed, status, outcome.sentence)
            continue
        answered += 1
        assert status == highspy.HighsModelStatus.kOptimal, (seed, status)
        if case[-1] != "none":
            ours = float(outcome.objective) if case[-1] == "cost" else -float(outcome.objective)
            assert ours == pytest.approx(objective, abs=1e-9 * max(1.0, abs(objective))), seed
        check_grid(seed, case, outcome)
    assert answered > oracle_cases // 5 and conflicts > oracle_cases // 5, (answered, conflicts)
    print(f"{answered} answered, {conflicts} conflicts, all as HiGHS says")


def check_grid(seed, case, answer):
    if answer.grid_refusal is not None:
        return
    percents = [Fraction(line.percent) for line in answer.formula.lines]
    assert sum(percents) == 100, seed
    for percent, (low, high) in zip(percents, case[2]):
        assert low <= percent <= min(high, Fraction(100)), seed
    for coefficients, low, high in rows_of(case):
        activity = sum(coefficient * percent for coefficient, percent in zip(coefficients, percents))
        if low is not None and low == high:
            room = Fraction(1, 10_000) * sum((abs(value) for value in coefficients), Fraction(0)) * 2
            assert abs(activity - low) <= room, seed
            continue
        assert low is None or activity >= low, seed
        assert high is None or activity <= high, seed
