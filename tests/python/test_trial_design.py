"""Designs of trials against point sets and exchanges of other libraries."""

import itertools
import math
import random

import numpy as np
import pytest
import tenside as td

CATALOGUE = td.Catalogue.starter()
NAMES = [
    "sci-powder",
    "cetyl-alcohol",
    "glycerin-99-5",
    "kaolin",
    "corn-starch",
    "cocoa-butter",
    "btms-50",
    "scs-needles",
]


def mixture(ranges):
    brief = td.Brief("Mixture", CATALOGUE)
    for name, (low, high) in zip(NAMES, ranges):
        brief = brief.between(name, low, high)
    return brief


def fractions(design):
    return np.array([[float(percent) / 100 for percent in run.exact.values()] for run in design.runs])


def test_the_simplex_centroid_is_every_equal_blend():
    for components in (3, 4, 5):
        ours = fractions(mixture([(0, 100)] * components).design("simplex-centroid", model="quadratic", seed=1))
        subsets = [
            each for size in range(1, components + 1) for each in itertools.combinations(range(components), size)
        ]
        theirs = [tuple(round((place in each) / len(each), 9) for place in range(components)) for each in subsets]
        assert sorted(map(tuple, np.round(ours, 9))) == sorted(theirs)


def test_process_levels_are_the_full_factorials_of_pydoe():
    doe = pytest.importorskip("pyDOE3")
    brief = mixture([(10, 60), (5, 40), (0, 30)])
    process = {"force": ("kN", -1, 1), "days": ("", -1, 1)}
    for order, expected in (("linear", doe.ff2n(2)), ("quadratic", doe.fullfact([3, 3]) - 1)):
        design = brief.design("extreme-vertices", seed=1, process=process, order=order)
        levels = {tuple(float(value) for value in run.settings.values()) for run in design.runs}
        assert levels == {tuple(map(float, row)) for row in expected}


def test_no_exchange_of_numpy_beats_the_bound():
    """An exchange of its own over the same corners, many starts: none is above what ours is at most off by."""
    draw = random.Random(4)
    for case in range(6):
        ranges = [(low := draw.randint(0, 20), low + draw.randint(10, 40)) for _ in range(4)]
        if sum(low for low, _ in ranges) > 90 or sum(high for _, high in ranges) < 110:
            continue
        brief = mixture(ranges)
        design = brief.design("d-optimal", runs=7, seed=case)
        candidates = np.array(
            [[float(value) / 100 for value in corner.values()] for corner in brief.corners().formulas]
        )
        best = 0.0
        for start in range(20):
            generator = np.random.default_rng(start)
            chosen = generator.integers(len(candidates), size=7)
            for _ in range(20):
                for run in range(7):
                    worth = []
                    for candidate in range(len(candidates)):
                        rows = candidates[[*chosen[:run], candidate, *chosen[run + 1 :]]]
                        worth.append(np.linalg.det(rows.T @ rows))
                    chosen[run] = int(np.argmax(worth))
            best = max(best, max(worth))
        own = fractions(design)
        reached = np.linalg.det(own.T @ own)
        share = (reached / best) ** 0.25
        assert design.efficiency <= share * (1 + 1e-9)
        assert share > 0.999


def test_weighing_on_a_coarse_scale_is_told():
    brief = mixture([(40, 60), (2, 5), (0, 3), (30, 60)])
    design = brief.design("d-optimal", runs=8, seed=1)
    fine = design.efficiency_of(design.batches("60 g", readability="0.01 g"))
    coarse = design.efficiency_of(design.batches("60 g", readability="1 g"))
    assert abs(fine - design.efficiency) < 1e-3
    assert abs(coarse - design.efficiency) > abs(fine - design.efficiency)
    assert design.efficiency_of(design.formulas) == design.efficiency_as_rounded
    assert design.efficiency_of(
        [design.formulas[0], *design.batches("60 g", readability="0.01 g")[1:]]
    ) == pytest.approx(fine, abs=1e-3)


def test_the_region_is_what_an_optimiser_takes():
    scipy = pytest.importorskip("scipy.optimize")
    brief = (
        td.Brief("Bar", CATALOGUE)
        .between("sci-powder", 30, 70)
        .between("capb-30", 0, 20)
        .between("cetyl-alcohol", 2, 9)
        .qs("kaolin")
    )
    brief = brief.at_most(td.measure.water, 9).at_least(td.measure.active_matter, 40).minimise(td.measure.water)
    region = brief.region()
    matrix, lower, upper = np.array(region.matrix), np.array(region.lower), np.array(region.upper)
    cost = [
        float(td.Formula("alone", {name: 100}, CATALOGUE).measure(td.measure.water).value.typical) / 100
        for name in region.names
    ]
    found = scipy.milp(
        cost, bounds=scipy.Bounds(region.low, region.high), constraints=scipy.LinearConstraint(matrix, lower, upper)
    )
    answer = brief.solve()
    assert found.success and math.isclose(found.fun, float(answer.objective), abs_tol=1e-7)
    formula = brief.formula_at(found.x)
    assert all(abs(float(line.percent) - value) < 1e-3 for line, value in zip(formula.lines, found.x))


def test_points_become_formulas():
    brief = (
        td.Brief("Bar", CATALOGUE)
        .split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash")
        .between("cetyl-alcohol", 3, 6)
        .qs("kaolin")
    )
    brief = brief.target(td.measure.active_matter, 50)
    answer = brief.solve()
    assert brief.formula_at(answer.exact) == answer.formula
    samples = brief.samples(20, seed=1)
    for place in range(20):
        brief.formula_at({name: values[place] for name, values in samples.lines.items()})
    with pytest.raises(td.errors.OutOfRange, match="cetyl-alcohol"):
        brief.formula_at({**answer.exact, "cetyl-alcohol": 8})
    with pytest.raises(td.errors.Missing):
        brief.formula_at({"kaolin": 100})
    with pytest.raises(td.errors.NotANumber):
        brief.formula_at([float("nan")] * 4)


def test_refusals_say_which():
    brief = mixture([(10, 60), (5, 40), (0, 30)])
    with pytest.raises(td.errors.OutOfRange, match="aliased"):
        brief.design("d-optimal", model="quadratic", runs=4, seed=1)
    with pytest.raises(td.errors.Unanswerable):
        mixture([(10, 20), (5, 20), (0, 30)]).design("d-optimal", runs=4, seed=1)
    two = (
        td.Brief("Two surfactants", CATALOGUE)
        .between("sci-powder", 20, 50)
        .between("scs-needles", 5, 30)
        .between("cetyl-alcohol", 3, 12)
    )
    with pytest.raises(td.errors.Contradiction, match="active matter at 45 %"):
        two.qs("kaolin").target(td.measure.active_matter, 45).design("d-optimal", runs=4, seed=1)
    formula = brief.solve().formula
    with pytest.raises(td.errors.OutOfRange):
        brief.design("d-optimal", runs=4, seed=1, made=[formula] * 10_001)
    with pytest.raises(td.errors.UnknownName):
        brief.design("d-optimal", runs=4, seed=1, made=[(formula, {"force": 3})])
