"""One number of a brief turned: warm equals cold, ranges end where they say, what is no number is refused."""

import pickle
import random
import threading
from fractions import Fraction

import pytest
import tenside as td
from tenside import measure as m

PRICES = {"sci-powder": 8, "scs-needles": 5, "capb-30": 3, "cetyl-alcohol": 4, "stearic-acid": 2, "panthenol": 20, "kaolin": 1}
DIALS = {
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
    bar = td.Brief("Turned", td.Catalogue.starter(), prices=PRICES, currency="EUR").split(wash, by="active", name="wash").fix("panthenol", 1.5)
    bar = bar.between("cetyl-alcohol", 3, 6).between("stearic-acid", 1, 20).qs("kaolin").target(m.active_matter, 56, name="wash strength")
    bar = bar.at_most(m.water, 14, name="dry enough").at_least(m.solids, 80, basis=td.finished(moisture=5), name="solid enough")
    return bar.minimise(m.cost)


@pytest.mark.parametrize("what", DIALS)
def test_warm_equals_cold(what):
    bar, rng = brief(), random.Random(what)
    turning = bar.turning(what)
    assert turning.what == what and turning.brief == bar
    low, high = DIALS[what]
    answered = conflicts = 0
    for _ in range(40):
        value = Fraction(rng.randint(low * 1000, high * 1000), 1000)
        cold = bar.turned(what, value)
        assert cold.dial_value(what) == value
        outcome, percents = cold.try_solve(), turning.percents(value)
        assert turning.solve(value) == outcome
        if isinstance(outcome, td.Conflict):
            conflicts += 1
            assert percents is None
            continue
        answered += 1
        assert list(percents) == list(outcome.exact)
        for line, exact in outcome.exact.items():
            assert abs(percents[line] - exact) < 1e-9
        if turning.stretch is not None:
            assert turning.stretch[0] < value < turning.stretch[1]
    assert answered > 5, (answered, conflicts)
    ways = turning.ways
    assert 0 < ways.filtered + ways.exact + ways.points < 40, ways


def structure(bar, what, value):
    """What the answer meets with equality; None without an answer."""
    outcome = bar.turned(what, value).try_solve()
    return {(binding.words.partition(" as ")[0], binding.side) for binding in outcome.binding} if isinstance(outcome, td.Answer) else None


@pytest.mark.parametrize("what", ["wash.sci-powder", "wash.scs-needles", "wash.capb-30", "price.stearic-acid", "at-most.dry enough"])
def test_a_range_ends_where_it_says(what):
    bar = brief()
    answer = bar.solve()
    held = answer.dial_range(what)
    assert held.what == what and held.value == bar.dial_value(what)
    assert "the same structure" in held.sentence
    here, ends = structure(bar, what, held.value), 0
    for end, outwards in ((held.low, -1), (held.high, 1)):
        if end is None:
            continue
        hair = Fraction(outwards, 10**9) * (abs(end) + Fraction(1, 1000))
        try:
            inside, outside = structure(bar, what, end - hair), structure(bar, what, end + hair)
        except td.OutOfRange:
            continue  # A part of nothing is no value, and nobody gets there.
        ends += 1
        assert inside == here and outside != here, (what, end)
    assert ends
    if what.startswith("wash."):
        assert held in answer.ratio_ranges()


def test_every_spelling_and_a_measure_name_a_number():
    bar = brief()
    assert bar.dial_value(m.active_matter) == bar.dial_value("target.wash strength") == 56
    assert bar.turned(m.active_matter, "55.5") == bar.turned("target.wash strength", Fraction(111, 2))
    assert bar.turning(m.water).what == "at-most.dry enough"
    assert bar.dial_value("panthenol") == Fraction(3, 2)
    for what in DIALS:
        assert bar.turned(what, bar.dial_value(what)) == bar


@pytest.mark.parametrize(
    ("what", "error"),
    [
        ("moisture", td.Unsupported),
        ("share.wash.capb-30", td.Unsupported),
        ("material.capb-30", td.Unsupported),
        ("wash", td.Unsupported),
        ("cetyl-alcohol", td.AmbiguousName),
        ("wash.kaolin", td.UnknownName),
        (m.charge_ratio, td.UnknownName),
    ],
)
def test_what_is_no_one_number_is_refused(what, error):
    bar = brief()
    for ask in (bar.dial_value, bar.turning, bar.solve().dial_range, lambda what: bar.turned(what, 1)):
        with pytest.raises(error):
            ask(what)


@pytest.mark.parametrize(("value", "error"), [(0, td.OutOfRange), (-1, td.OutOfRange), ("1e12", td.OutOfRange), (float("nan"), td.NotANumber), (True, td.NotANumber)])
def test_what_is_no_value_is_refused_and_changes_nothing(value, error):
    turning = brief().turning("wash.capb-30")
    before = turning.percents(1)
    for ask in (turning.percents, turning.solve):
        with pytest.raises(error):
            ask(value)
    assert turning.percents(1) == before


def test_it_travels_and_can_be_shared_by_threads():
    turning = brief().turning("wash.capb-30")
    expected = {part: turning.percents(1 + Fraction(part, 10)) for part in range(1, 9)}
    again = pickle.loads(pickle.dumps(turning))
    assert again.what == turning.what and again.brief == turning.brief and repr(again) == repr(turning) == '<Turning "wash.capb-30" of "Turned">'
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
