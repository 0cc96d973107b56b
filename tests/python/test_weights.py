"""Weights of a batch against the laws' plans, Student's t, the noncentral t and simulated batches."""

import math
import tomllib
from fractions import Fraction

import numpy as np
import pytest
import scipy.stats
import tenside as td

MARKETS = ["EU", "US"]


def grams(values):
    return [f"{value} g" for value in values]


def published(project, name):
    return tomllib.loads((project / "tests" / "data" / f"{name}.toml").read_text(encoding="utf-8"))


def even(count, mass="60"):
    """Bars that are all accepted and spread a little."""
    return grams(f"{mass}.{index % 3}" for index in range(count))


def allowed(project, market):
    return tomllib.loads(
        (project / f"crates/tenside/data/net_content/{market.lower()}.toml").read_text(encoding="utf-8")
    )


def test_the_factors_are_those_of_students_t(project):
    for market, probability in (("EU", 0.995), ("US", 0.975)):
        rules = allowed(project, market)["test"]
        factors = rules["factor"] + rules.get("factor_of_all", [])
        assert len(factors) >= 2
        for row in factors:
            exact = scipy.stats.t.ppf(probability, row["of"] - 1) / math.sqrt(row["of"])
            assert row["deviations"] == pytest.approx(exact, abs=0.00051), row


@pytest.mark.parametrize("market", MARKETS)
def test_the_plans_are_those_printed(project, market):
    for row in published(project, "net_content_plans")[market.lower()]:
        for bars in (row["from"], row["to"]):
            first, accept = row["first"][:2]
            number, reject = (row["second"][0], row["first"][2]) if "second" in row else (0, accept + 1)
            light = "50 g"
            short = lambda count, of: td.batch.Weights(even(of - count) + [light] * count, bars=bars).test(
                "56 g", market=market
            )  # noqa: E731, B023
            checks = {check.kind: check for check in short(accept, first).checks}
            assert checks["short"].is_met and checks["short"].packages == first and checks["short"].limit == accept
            # One package fewer is no test, and nothing that looks like passing.
            fewer = td.batch.Weights(even(first - 1), bars=bars).test("56 g", market=market)
            assert fewer.outcome == "no-test" and all(check.is_met is None for check in fewer.checks)
            assert short(reject, first).outcome == "rejected"
            if number:
                assert short(reject - 1, first).outcome == "second-sample"
                both, most = first + number, row["second"][1]
                for count, met in ((most, True), (most + 1, False)):
                    # Two short ones in the first sample leave it open; the others come in the second.
                    drawn = (
                        [light] * (accept + 1)
                        + even(first - accept - 1)
                        + [light] * (count - accept - 1)
                        + even(number - count + accept + 1)
                    )
                    check = td.batch.Weights(drawn, bars=bars).test("56 g", market=market).checks[1]
                    assert (check.is_met, check.packages, int(check.found)) == (met, both, count)


def test_all_of_a_small_batch_are_weighed():
    half = td.batch.Weights(even(12), bars=24)
    assert (half.words, half.is_whole) == ("12 of 24 bars", False)
    assert half.test("60 g", market="EU").outcome == "no-test"
    assert "no test of the law" in half.test("60 g", market="EU").notes[0]
    for bars, most in ((19, 0), (20, 1), (99, 4)):
        for count, outcome in ((most, "accepted"), (most + 1, "rejected")):
            weights = td.batch.Weights(even(bars - count, "61") + ["55.4 g"] * count, bars=bars)
            assert weights.test("60 g", market="EU").outcome == outcome, (bars, count)
    # The mean is held to the content itself, and a bar far short is too many.
    assert td.batch.Weights(["59.9 g", "60.1 g"], bars=2).test("60 g", market="EU").outcome == "accepted"
    assert td.batch.Weights(["59.9 g", "60.09 g"], bars=2).test("60 g", market="EU").outcome == "rejected"
    far = td.batch.Weights([*even(60, "61"), "50.9 g"], bars=61).test("60 g", market="EU")
    assert [check.is_met for check in far.checks] == [True, True, False]
    # A sample that already holds too many is rejected whatever the others weigh.
    assert td.batch.Weights(["62 g", "55.4 g", "55.4 g"], bars=24).test("60 g", market="EU").outcome == "rejected"


def test_the_mean_may_fall_short_by_the_factor_exactly():
    """Of thirty bars with the variance (2 * 3.5^2 + 2 * 1.5^2) / 29 = 1 the mean may be 0.503 g short and no less."""
    for missing, outcome in (("0.503", "accepted"), ("0.503000001", "rejected")):
        middle = 60 - Fraction(missing)
        masses = [middle + Fraction(side) for side in ("3.5", "-3.5", "1.5", "-1.5", *["0"] * 26)]
        weights = td.batch.Weights(grams(masses), bars=240)
        assert weights.standard_deviation == 1
        test = weights.test("60 g", market="EU")
        assert test.outcome == outcome and test.checks[0].limit == pytest.approx(59.497, rel=1e-12)


def test_a_mean_that_is_just_too_low_is_told_from_its_limit():
    weights = td.batch.Weights(["64.0 g"] * 9 + ["64.2 g"], bars=10, drying_loss="6.28")
    test = weights.test("60 g", market="EU")
    assert test.outcome == "rejected" and 59.9995 < test.checks[0].found < 60
    page = test.page.text()
    assert "59.9995 g" in page and "60.0000 g" in page


def test_statistics_are_those_of_numpy():
    draw = np.random.default_rng(7)
    masses = [round(float(mass), 2) for mass in draw.normal(66, 0.9, 24)]
    weights = td.batch.Weights(grams(masses), bars=240)
    assert weights.standard_deviation == pytest.approx(np.std(masses, ddof=1), rel=1e-12)
    assert weights.relative_standard_deviation == pytest.approx(
        100 * np.std(masses, ddof=1) / np.mean(masses), rel=1e-12
    )
    low, high = scipy.stats.t.interval(0.9, 23, np.mean(masses), scipy.stats.sem(masses) * math.sqrt(1 - 24 / 240))
    assert weights.mean_interval(90) == pytest.approx((low, high), rel=1e-9)
    capability, error = weights.test("60 g", market="US").capability
    assert (
        capability == pytest.approx((np.mean(masses) - 54.6) / 3 / np.std(masses, ddof=1), rel=1e-12)
        and 0 < error < capability
    )
    dry = td.batch.Weights(grams(masses), bars=240, drying_loss=4)
    assert float(dry.mean) == pytest.approx(0.96 * np.mean(masses)) and dry.masses == weights.masses
    assert dry.test("66 g", market="US").outcome == "rejected" != weights.test("66 g", market="US").outcome


@pytest.mark.parametrize(
    ("market", "bars", "n", "factor"),
    [("EU", 240, 30, 0.503), ("EU", 2000, 50, 0.379), ("US", 2, 2, 8.985), ("US", 7, 7, 0.925), ("US", 9000, 48, 0.29)],
)
def test_rates_of_the_mean_are_those_of_the_noncentral_t(market, bars, n, factor):
    target = td.batch.TargetFill("60 g", market=market, bars=bars, standard_deviation="0.8 g", probability=95)
    for mean in (58.9, 59.5, 59.8, 60, 60.3):
        exact = scipy.stats.nct.sf(-factor * math.sqrt(n), n - 1, math.sqrt(n) * (mean - 60) / 0.8)
        assert target.at(mean).mean == pytest.approx(exact, abs=1e-8), mean


def test_rates_of_short_bars_are_binomial():
    for bars, (n, a1, r1, m, a2) in {240: (30, 1, 3, 30, 4), 900: (50, 2, 5, 50, 6), 5000: (80, 3, 7, 80, 8)}.items():
        target = td.batch.TargetFill("60 g", market="EU", bars=bars, standard_deviation="3 g", probability=95)
        for mean in (58, 60, 62):
            short = scipy.stats.norm.cdf((55.5 - mean) / 3)
            first, second = scipy.stats.binom(n, short), scipy.stats.binom(m, short)
            exact = first.cdf(a1) + sum(first.pmf(found) * second.cdf(a2 - found) for found in range(a1 + 1, r1))
            rates = target.at(mean)
            assert rates.short == pytest.approx(exact, abs=1e-9)
            assert rates.far_short == pytest.approx((1 - scipy.stats.norm.cdf((51 - mean) / 3)) ** bars, abs=1e-9)
    small = td.batch.TargetFill("60 g", market="EU", bars=40, standard_deviation="3 g", probability=95).at(61)
    assert small.short == pytest.approx(scipy.stats.binom.cdf(2, 40, scipy.stats.norm.cdf(-5.5 / 3)), abs=1e-9)
    assert small.mean == pytest.approx(scipy.stats.norm.cdf(math.sqrt(40) / 3), abs=1e-9)


def accepts(market, bars, masses, nominal=60.0):
    """The plan followed by another hand, many batches at once: mean, number of short ones, all."""
    n, a1, r1, m, a2, of, factor = {"EU": (30, 1, 3, 30, 4, 30, 0.503), "US": (12, 0, 1, 0, 0, 12, 0.635)}[market]
    limit = nominal - (4.5 if market == "EU" else 5.4)
    sample = masses[:, :of]
    mean = sample.mean(axis=1) >= nominal - factor * sample.std(axis=1, ddof=1)
    first, both = (masses[:, :n] < limit).sum(axis=1), (masses[:, : n + m] < limit).sum(axis=1)
    short = (first <= a1) | ((first < r1) & (both <= a2))
    far = (masses >= nominal - 9).all(axis=1) if market == "EU" else np.ones(len(masses), bool)
    return mean, short, mean & short & far


@pytest.mark.parametrize("market", MARKETS)
@pytest.mark.parametrize(("deviation", "mean"), [("0.8", 60), ("0.8", 59.7), ("3", 60), ("3", 61.5)])
def test_simulated_batches_are_accepted_as_often_as_the_curve_says(market, deviation, mean):
    """Ten thousand batches of 240 at the nominal content, below it, and with so much spread that short bars decide."""
    draw = np.random.default_rng(20)
    masses = draw.normal(mean, float(deviation), (10_000, 240))
    rates = td.batch.TargetFill("60 g", market=market, bars=240, standard_deviation=f"{deviation} g", probability=95).at(mean)
    by_mean, by_short, by_all = (found.mean() for found in accepts(market, 240, masses))
    for found, rate in ((by_mean, rates.mean), (by_short, rates.short)):
        assert abs(found - rate) <= 4 * math.sqrt(rate * (1 - rate) / 10_000) + 1e-4, (found, rate)
    error = 4 * math.sqrt(by_all * (1 - by_all) / 10_000) + 1e-4
    assert rates.at_least - error <= by_all <= rates.at_most + error


@pytest.mark.parametrize("market", MARKETS)
def test_the_verdict_is_that_of_the_plan_followed_by_another_hand(market):
    draw = np.random.default_rng(21)
    masses = np.round(draw.normal(59.6, 2.4, (150, 240)), 2)
    _, _, every = accepts(market, 240, masses)
    outcomes = [
        td.batch.Weights(grams(batch), bars=240).test("60 g", market=market).outcome == "accepted" for batch in masses
    ]
    assert outcomes == list(every)
    assert 10 < sum(outcomes) < 140


@pytest.mark.parametrize("market", MARKETS)
def test_the_target_fill_is_the_least_that_will_do(market):
    for deviation, probability, loss in (("0.8 g", 99, 4), ("3 g", 95, 0), ("2.5 g", "99.9", "2.5")):
        target = td.batch.TargetFill(
            "60 g", market=market, bars=240, standard_deviation=deviation, probability=probability, drying_loss=loss
        )
        assert target.rates.at_least >= float(probability) / 100 and target.rates.net >= 60 - 1e-12
        less = target.at(target.fill - Fraction(1, 100))
        assert less.at_least < float(probability) / 100 or less.net < 60
        curve = target.curve(101)
        assert all(
            before.at_least <= after.at_least + 1e-9 for before, after in zip(curve, list(curve)[1:], strict=False)
        )
        assert all(row.at_least <= row.at_most for row in curve)


def test_the_supported_content_is_accepted_and_the_next_is_not():
    draw = np.random.default_rng(3)
    for market in MARKETS:
        for spread in (0.3, 1.5, 3):
            weights = td.batch.Weights(grams(round(float(mass), 1) for mass in draw.normal(66, spread, 60)), bars=240)
            content = weights.supported_nominal(market=market, step="1 g")
            assert weights.test(f"{content} g", market=market).outcome == "accepted"
            assert all(weights.test(f"{content + more} g", market=market).outcome != "accepted" for more in range(1, 6))


@pytest.mark.parametrize(
    ("call", "kind", "word"),
    [
        (lambda: td.batch.Weights(["60 g"]), td.errors.Missing, "at least two bars"),
        (lambda: td.batch.Weights(["-60 g", "60 g"]), td.errors.OutOfRange, "mass"),
        (lambda: td.batch.Weights(["0 g", "60 g"]), td.errors.OutOfRange, "bar 1"),
        (lambda: td.batch.Weights(even(3), bars=2), td.errors.OutOfRange, "2 to 2"),
        (lambda: td.batch.Weights(even(3)).test("60 g", market="EU"), td.errors.Missing, "how many bars"),
        (lambda: td.batch.Weights(even(3), bars=3).test("4.9 g", market="EU"), td.errors.OutOfRange, "5 to 10000 g"),
        (lambda: td.batch.Weights(even(3), bars=3).test("11 kg", market="EU"), td.errors.OutOfRange, "5 to 10000 g"),
        (lambda: td.batch.Weights(even(3), bars=3).test("0 g", market="US"), td.errors.OutOfRange, "0 to 970 g"),
        (lambda: td.batch.Weights(even(3), bars=300).supported_nominal(market="EU", step="1 g"), td.errors.Missing, "at least 30"),
        (lambda: td.batch.Weights(even(3), bars=3).supported_nominal(market="EU", step="0 g"), td.errors.OutOfRange, "1 g"),
        (lambda: td.batch.Weights(even(3), bars=3, drying_loss=100), td.errors.OutOfRange, "loss"),
        (
            lambda: td.batch.TargetFill("60 g", market="EU", bars=1, standard_deviation="1 g", probability=95),
            td.errors.OutOfRange,
            "2 bars",
        ),
        (
            lambda: td.batch.TargetFill("60 g", market="EU", bars=9, standard_deviation="0 g", probability=95),
            td.errors.OutOfRange,
            "standard deviation",
        ),
        (
            lambda: td.batch.TargetFill("60 g", market="EU", bars=9, standard_deviation="1 g", probability=100),
            td.errors.OutOfRange,
            "confidence",
        ),
    ],
)
def test_bad_weights_are_refused_with_a_way_out(call, kind, word):
    with pytest.raises(kind, match=word):
        call()


def test_nothing_says_that_it_is_compliant():
    weights = td.batch.Weights(even(60), bars=240)
    for page in (
        weights.page,
        weights.test("60 g", market="EU").page,
        td.batch.TargetFill("60 g", market="US", bars=240, standard_deviation="1 g", probability=95).page,
    ):
        text = page.text().lower()
        assert "complian" not in text and "is safe" not in text
    assert "inspector" in weights.test("60 g", market="EU").page.text()
