"""One number of a brief moved: a path equals cold, ranges end where they say, what is no number is refused."""

import pickle
import random
import threading
from fractions import Fraction

import pytest
import tenside as td
from tenside import measure as m

PRICES = {
    "sci-powder": 8,
    "scs-needles": 5,
    "capb-30": 3,
    "cetyl-alcohol": 4,
    "stearic-acid": 2,
    "panthenol": 20,
    "kaolin": 1,
}
PARAMETERS = {
    "wash.sci-powder": (2, 30),
    "wash.capb-30": (1, 4),
    "fix.panthenol": (0, 40),
    "lowest.cetyl-alcohol": (0, 6),
    "highest.cetyl-alcohol": (3, 40),
    "target.wash strength": (30, 75),
    "at-most.dry enough": (1, 22),
    "at-least.solid enough": (60, 99),
    "price.stearic-acid": (0, 12),
}


def brief():
    wash = {"sci-powder": 14, "scs-needles": 5, "capb-30": 1}
    bar = (
        td.Brief("Turned", td.Catalogue.starter(), prices=PRICES, currency="EUR")
        .split(wash, by="active", name="wash")
        .fix("panthenol", 1.5)
    )
    bar = (
        bar.between("cetyl-alcohol", 3, 6)
        .between("stearic-acid", 1, 20)
        .qs("kaolin")
        .target(m.active_matter, 56, name="wash strength")
    )
    bar = bar.at_most(m.water, 14, name="dry enough").at_least(
        m.solids, 80, basis=td.finished(moisture=5), name="solid enough"
    )
    return bar.minimise(m.cost)


@pytest.mark.parametrize("what", PARAMETERS)
def test_a_path_equals_cold(what):
    bar, rng = brief(), random.Random(what)
    path = bar.solution_path(what)
    assert path.what == what and path.brief == bar
    low, high = PARAMETERS[what]
    answered = conflicts = 0
    for _ in range(40):
        value = Fraction(rng.randint(low * 1000, high * 1000), 1000)
        cold = bar.with_parameter(what, value)
        assert cold.parameter_value(what) == value
        outcome, percents = cold.try_solve(), path.percents(value)
        assert path.solve(value) == outcome
        if isinstance(outcome, td.solve.Conflict):
            conflicts += 1
            assert percents is None
            continue
        answered += 1
        assert list(percents) == list(outcome.exact)
        assert percents == {line: float(exact) for line, exact in outcome.exact.items()}
    assert answered > 5, (answered, conflicts)
    regions = path.regions(low, high)
    assert regions[0].low == low and regions[-1].high == high
    assert all(before.high == after.low for before, after in zip(regions, regions[1:]))


def structure(bar, what, value):
    """What the answer meets with equality; None without an answer."""
    outcome = bar.with_parameter(what, value).try_solve()
    return (
        {(binding.words.partition(" as ")[0], binding.side) for binding in outcome.binding}
        if isinstance(outcome, td.solve.Answer)
        else None
    )


@pytest.mark.parametrize(
    "what", ["wash.sci-powder", "wash.scs-needles", "wash.capb-30", "price.stearic-acid", "at-most.dry enough"]
)
def test_a_range_ends_where_it_says(what):
    bar = brief()
    answer = bar.solve()
    held = answer.parameter_range(what)
    assert held.what == what and held.value == bar.parameter_value(what)
    assert "the same structure" in held.sentence
    here, ends = structure(bar, what, held.value), 0
    for end, outwards in ((held.low, -1), (held.high, 1)):
        if end is None:
            continue
        hair = Fraction(outwards, 10**9) * (abs(end) + Fraction(1, 1000))
        try:
            inside, outside = structure(bar, what, end - hair), structure(bar, what, end + hair)
        except td.errors.OutOfRange:
            continue  # A part of nothing is no value, and nobody gets there.
        ends += 1
        assert inside == here and outside != here, (what, end)
    assert ends
    if what.startswith("wash."):
        assert held in answer.ratio_ranges()


def test_every_spelling_and_a_measure_name_a_number():
    bar = brief()
    assert bar.parameter_value(m.active_matter) == bar.parameter_value("target.wash strength") == 56
    assert bar.with_parameter(m.active_matter, "55.5") == bar.with_parameter("target.wash strength", Fraction(111, 2))
    assert bar.solution_path(m.water).what == "at-most.dry enough"
    assert bar.parameter_value("panthenol") == Fraction(3, 2)
    for what in PARAMETERS:
        assert bar.with_parameter(what, bar.parameter_value(what)) == bar


@pytest.mark.parametrize(
    ("what", "error"),
    [
        ("moisture", td.errors.Unsupported),
        ("share.wash.capb-30", td.errors.Unsupported),
        ("material.capb-30", td.errors.Unsupported),
        ("wash", td.errors.Unsupported),
        ("cetyl-alcohol", td.errors.AmbiguousName),
        ("wash.kaolin", td.errors.UnknownName),
        (m.charge_ratio, td.errors.UnknownName),
    ],
)
def test_what_is_no_one_number_is_refused(what, error):
    bar = brief()
    for ask in (
        bar.parameter_value,
        bar.solution_path,
        bar.solve().parameter_range,
        lambda what: bar.with_parameter(what, 1),
    ):
        with pytest.raises(error):
            ask(what)


@pytest.mark.parametrize(
    ("value", "error"),
    [
        (0, td.errors.OutOfRange),
        (-1, td.errors.OutOfRange),
        ("1e12", td.errors.OutOfRange),
        (float("nan"), td.errors.NotANumber),
        (True, td.errors.NotANumber),
    ],
)
def test_what_is_no_value_is_refused_and_changes_nothing(value, error):
    path = brief().solution_path("wash.capb-30")
    before = path.percents(1)
    for ask in (path.percents, path.solve):
        with pytest.raises(error):
            ask(value)
    assert path.percents(1) == before


def test_it_travels_and_can_be_shared_by_threads():
    path = brief().solution_path("wash.capb-30")
    expected = {part: path.percents(1 + Fraction(part, 10)) for part in range(1, 9)}
    again = pickle.loads(pickle.dumps(path))
    assert (
        again.what == path.what
        and again.brief == path.brief
        and repr(again) == repr(path) == '<SolutionPath "wash.capb-30" of "Turned">'
    )
    seen = []

    def work(parts):
        seen.extend((part, again.percents(1 + Fraction(part, 10))) for part in parts)

    threads = [threading.Thread(target=work, args=(range(first, 9),)) for first in range(1, 5)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(seen) == 26
    for part, percents in seen:
        assert percents.keys() == expected[part].keys()
        assert all(abs(percents[line] - expected[part][line]) < 1e-9 for line in percents)
