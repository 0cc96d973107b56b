"""Solved sweeps at random points against scipy's HiGHS: whether there is a formula, its cost, its lines' sum."""

import numpy as np
import pytest
import tenside as td
from scipy.optimize import linprog
from tenside import measure as m

LINES = ["sci-powder", "scs-needles", "capb-30", "panthenol", "cetyl-alcohol", "kaolin"]
PRICES = {"sci-powder": 5.2, "scs-needles": 3.8, "capb-30": 1.9, "panthenol": 23, "cetyl-alcohol": 4.1, "kaolin": 1.1}
WASH = {"sci-powder": 14, "scs-needles": 5, "capb-30": 1}
CALLS = 16


def free_bar():
    """A bar with something left to choose; invented."""
    brief = td.Brief("Bar", td.Catalogue.starter(), prices=PRICES, currency="EUR").split(WASH, by="active", name="wash")
    brief = brief.fix("panthenol", 1.5).between("cetyl-alcohol", 3, 6).qs("kaolin")
    return brief.minimise(m.cost)


def typical(line, measure):
    """What a raw material alone has of a measure."""
    return td.Formula(line, {line: 100}, td.Catalogue.starter()).measure(measure).value.typical


def least_cost(active, water, prices, parts, target, moist):
    """The least cost of the brief at a point, or None; the brief is written down anew here."""
    wash = [LINES.index(line) for line in WASH]
    equations, values = [np.ones(6), active], [100, 100 * target]
    for member, part in zip(wash[1:], parts[1:]):
        row = np.zeros(6)
        row[member], row[wash[0]] = active[member] * parts[0], -active[wash[0]] * part
        equations.append(row)
        values.append(0)
    bounds = [(0, 100)] * 3 + [(1.5, 1.5), (3, 6), (0, 100)]
    found = linprog(prices, A_eq=equations, b_eq=values, A_ub=[water], b_ub=[100 * moist], bounds=bounds, method="highs")
    assert found.status in (0, 2), found.message
    return found.fun / 100 if found.status == 0 else None


@pytest.mark.oracle
def test_random_points_against_highs(oracle_cases):
    random = np.random.default_rng(20)
    active = np.array([float(typical(line, m.active_matter)) for line in LINES])
    water = np.array([float(typical(line, m.water)) for line in LINES])
    prices = np.array([PRICES[line] for line in LINES])
    answered = refused = 0
    side = max(2, round((oracle_cases / CALLS) ** 0.5))
    for _ in range(CALLS):
        needles, betaine = np.sort(random.uniform(1, 9, side)).round(4), np.sort(random.uniform(0.5, 9, side)).round(4)
        target, moist = round(random.uniform(44, 60), 3), round(random.uniform(5, 14), 3)
        brief = free_bar().target(m.active_matter, target).at_most(m.water, moist)
        table = brief.sweep(td.axis("wash.scs-needles", needles), td.axis("wash.capb-30", betaine), columns=["feasible", "objective", *(f"line.{line}" for line in LINES)])
        feasible, objective = table.column("feasible"), table.column("objective")
        lines = [table.column(f"line.{line}") for line in LINES]
        for row, (second, third) in enumerate((second, third) for second in needles for third in betaine):
            cost = least_cost(active, water, prices, [14, second, third], target, moist)
            assert feasible[row] == (cost is not None), (second, third, target, moist)
            if cost is None:
                refused += 1
                continue
            answered += 1
            assert objective[row] == pytest.approx(cost, rel=1e-9)
            assert sum(column[row] for column in lines) == pytest.approx(100, abs=1e-9)
    assert answered > oracle_cases / 10 and refused > oracle_cases / 10, (answered, refused)
