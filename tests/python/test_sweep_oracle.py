"""Sweeps against libraries from outside: solved ones against scipy's HiGHS at random points, samples against the exact moments of the
polytopes they are drawn from, lattices against the published count."""

import math
import random

import numpy as np
import pytest
import tenside as td
from scipy.optimize import linprog
from scipy.spatial import Delaunay
from tenside import measure as m

LINES = ["sci-powder", "scs-needles", "capb-30", "panthenol", "cetyl-alcohol", "kaolin"]
PRICES = {"sci-powder": 5.2, "scs-needles": 3.8, "capb-30": 1.9, "panthenol": 23, "cetyl-alcohol": 4.1, "kaolin": 1.1}
WASH = {"sci-powder": 14, "scs-needles": 5, "capb-30": 1}
CALLS = 16
# Points at least, also in the ordinary run.
POINTS = 5000


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
    found = linprog(
        prices, A_eq=equations, b_eq=values, A_ub=[water], b_ub=[100 * moist], bounds=bounds, method="highs"
    )
    assert found.status in (0, 2), found.message
    return found.fun / 100 if found.status == 0 else None


@pytest.mark.oracle
def test_random_points_against_highs(oracle_cases):
    drawn = np.random.default_rng(20)
    active = np.array([float(typical(line, m.active_matter)) for line in LINES])
    water = np.array([float(typical(line, m.water)) for line in LINES])
    prices = np.array([PRICES[line] for line in LINES])
    answered = refused = 0
    side = math.ceil((max(POINTS, oracle_cases) / CALLS) ** 0.5)
    for _ in range(CALLS):
        needles, betaine = np.sort(drawn.uniform(1, 9, side)).round(4), np.sort(drawn.uniform(0.5, 9, side)).round(4)
        target, moist = round(drawn.uniform(40, 58), 3), round(drawn.uniform(5, 14), 3)
        brief = free_bar().target(m.active_matter, target).at_most(m.water, moist)
        table = brief.sweep(
            td.axis("wash.scs-needles", needles),
            td.axis("wash.capb-30", betaine),
            columns=["feasible", "objective", *(f"line.{line}" for line in LINES)],
        )
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
            # The lines are a point of the program, and one that costs no more.
            percents = np.array([column[row] for column in lines])
            assert percents.sum() == pytest.approx(100, abs=1e-9) and percents.min() >= 0
            assert percents @ active == pytest.approx(100 * target, rel=1e-9) and percents @ water <= 100 * moist * (
                1 + 1e-9
            )
            assert 3 <= percents[4] <= 6 and percents @ prices / 100 == pytest.approx(cost, rel=1e-9)
    assert answered + refused == CALLS * side * side >= POINTS
    print(f"{answered} points with a formula, {refused} without: status equal, cost within 1e-9")
    assert answered > POINTS / 10 and refused > POINTS / 10, (answered, refused)


POWDERS = ["kaolin", "corn-starch", "sci-powder", "scs-needles"]


def moments(corners):
    """The exact mean and second moments of a polytope by parting it into simplices: of one with corners v in d dimensions,
    E x = mean of v, E x x' = (sum v v' + (sum v)(sum v)') / ((d + 1)(d + 2)) (even distribution; from memory)."""
    d = corners.shape[1]
    whole, mean, second = 0.0, np.zeros(d), np.zeros((d, d))
    for corner in Delaunay(corners).simplices:
        v = corners[corner]
        volume = abs(np.linalg.det(v[1:] - v[0]))
        whole += volume
        mean += volume * v.mean(axis=0)
        second += volume * (v.T @ v + np.outer(v.sum(axis=0), v.sum(axis=0))) / ((d + 1) * (d + 2))
    return mean / whole, second / whole


def test_samples_against_exact_moments_of_random_polytopes():
    count, polytopes = 20_000, 0
    drawn = random.Random(6)
    for seed in range(12):
        brief = td.Brief("Powders", td.Catalogue.starter())
        for line in POWDERS[:-1]:
            low = drawn.randint(0, 20)
            brief = brief.between(line, low, low + drawn.randint(5, 45))
        brief = brief.qs(POWDERS[-1])
        pair = m.as_supplied.contributed_by(lines=POWDERS[:2])
        brief = (
            brief.at_most(pair, drawn.randint(40, 60))
            if seed % 2
            else brief.at_most(m.active_matter, drawn.randint(50, 80))
        )
        corners = brief.corners()
        assert corners.complete
        exact = np.array([[float(formula[line]) for line in POWDERS[:-1]] for formula in corners.formulas])
        samples = brief.samples(count, seed=seed)
        assert samples.dimension == 3 and len(exact) >= 4
        mean, second = moments(exact)
        found = np.array([samples.lines[line] for line in POWDERS[:-1]])
        spread = np.sqrt(np.diag(second) - mean**2)
        # Five standard errors of the mean, with three times as many samples needed since neighbours in the chain are
        # alike.
        assert (np.abs(found.mean(axis=1) - mean) < 5 * spread * math.sqrt(3 / count)).all(), seed
        correlation = (second - np.outer(mean, mean)) / np.outer(spread, spread)
        assert np.abs(np.cov(found) / np.outer(spread, spread) - correlation).max() < 0.06, seed
        polytopes += 1
    assert polytopes == 12


def test_lattices_have_the_published_count():
    """C(n + k - 1, k - 1) points of k members in n steps (Scheffé, 1958; from memory)."""
    lines = ["sci-powder", "scs-needles", "capb-30", "coco-glucoside-50", "capb-powder"]
    cases = 0
    for members in range(2, 6):
        brief = (
            td.Brief("Wash", td.Catalogue.starter())
            .split(dict.fromkeys(lines[:members], 1), by="active", name="wash")
            .qs("kaolin")
        )
        brief = brief.target(m.active_matter, 30)
        for steps in [*range(1, 26), 50]:
            sweep = td.Sweep(brief, td.lattice("wash", steps))
            assert len(sweep) == math.comb(steps + members - 1, members - 1)
            cases += 1
        points = brief.sweep(td.lattice("wash", 6))
        shares = np.array([points.column(f"axis.share.wash.{line}") for line in lines[:members]])
        assert np.allclose(shares.sum(axis=0), 100) and len({tuple(point) for point in shares.T}) == len(points)
    assert cases == 104
