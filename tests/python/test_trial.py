"""Trials against libraries from outside: fits, ranks, micelles, the best on a model."""

import itertools
import math
import pathlib
import tomllib
from fractions import Fraction

import numpy as np
import polars
import pyarrow
import pytest

import tenside as td
from tenside import trial

DATA = pathlib.Path(__file__).parent.parent / "data"
CATALOGUE = td.Catalogue.starter()
LINES = ["sci-powder", "scs-needles", "kaolin", "corn-starch", "talc"]


def yarn():
    data = tomllib.loads((DATA / "mixture_yarn.toml").read_text())
    blends = [[100 * Fraction(share) for share in row] for row in data["x"]]
    runs = [
        td.trial.TrialRun(str(n), dict(zip("abc", blend)), {"elongation": y})
        for n, (blend, y) in enumerate(zip(blends, data["y"]))
    ]
    return data, td.trial.TrialLog("Yarn", {"elongation": "1"}, runs)


def test_the_yarn_comes_out_as_printed():
    data, log = yarn()
    model = log.fit("elongation")
    assert [row.term for row in model.terms] == ["a", "b", "c", "a*b", "a*c", "b*c"]
    assert [row.coefficient for row in model.terms] == pytest.approx([float(b) for b in data["coefficients"]], abs=1e-9)
    errors = [row.error for row in model.terms]
    assert errors[:3] == pytest.approx([float(data["error_linear"])] * 3, abs=1e-6)
    assert errors[3:] == pytest.approx([float(data["error_pair"])] * 3, abs=1e-6)
    fitted, residual, total = (
        next(row for row in model.anova if row.source == source) for source in ("model", "residual", "total")
    )
    assert (fitted.degrees_of_freedom, residual.degrees_of_freedom, total.degrees_of_freedom) == (5, 9, 14)
    assert [fitted.sum_of_squares, residual.sum_of_squares, total.sum_of_squares] == pytest.approx(
        [float(data[key]) for key in ("explained", "residual", "total")], abs=1e-9
    )
    assert [model.r_squared, model.adjusted, model.residual_deviation] == pytest.approx(
        [float(data[key]) for key in ("r_squared", "adjusted", "deviation")], abs=1e-6
    )
    assert fitted.f == pytest.approx(float(data["f"]), abs=1e-4)
    # Six blends, six terms: nothing is left to lack.
    assert model.lack_of_fit is None and model.digits >= 14


def random_log(random, components, blend):
    """A trial of many runs with repetitions, on the grid of percentages."""
    rows = []
    for _ in range({"linear": 8, "quadratic": 18, "special-cubic": 24, "full-cubic": 34}[blend]):
        parts = np.floor(random.dirichlet(np.ones(components)) * 9000).astype(int)
        parts[0] += 9000 - parts.sum()
        rows += [parts] * int(random.integers(1, 3))
    held = Fraction(10)
    lines = LINES[:components]
    truth = random.normal(20, 10, components)
    runs = []
    for number, parts in enumerate(rows):
        value = float(parts @ truth) / 9000 + 30 * float(parts[0] * parts[1]) / 9000**2 + random.normal(0, 1)
        made = {**{line: Fraction(int(part), 100) for line, part in zip(lines, parts)}, "water": held}
        runs.append(td.trial.TrialRun(str(number), made, {"foam": round(value, 3)}))
    return td.trial.TrialLog("Random", {"foam": "mm"}, runs)


def columns(log, components, blend):
    x = np.array([[float(run.made[name]) for name in components] for run in log.runs])
    x /= x.sum(axis=1, keepdims=True)
    pairs = list(itertools.combinations(range(len(components)), 2))
    terms = [x[:, i] for i in range(len(components))]
    if blend != "linear":
        terms += [x[:, i] * x[:, j] for i, j in pairs]
    if blend == "full-cubic":
        terms += [x[:, i] * x[:, j] * (x[:, i] - x[:, j]) for i, j in pairs]
    if blend in ("special-cubic", "full-cubic"):
        terms += [x[:, i] * x[:, j] * x[:, k] for i, j, k in itertools.combinations(range(len(components)), 3)]
    return np.array(terms).T


def test_two_hundred_random_designs_agree_with_statsmodels():
    api = pytest.importorskip("statsmodels.api")
    random = np.random.default_rng(20261130)
    worst = 0.0
    for case in range(200):
        blend = ("linear", "quadratic", "special-cubic", "full-cubic")[case % 4]
        count = 3 + case // 4 % 2
        log = random_log(random, count, blend)
        model = log.fit("foam", model=blend, components=LINES[:count])
        x, y = columns(log, LINES[:count], blend), np.array([float(run.results["foam"]) for run in log.runs])
        other = api.OLS(y, x, hasconst=True).fit(method="qr")
        influence = other.get_influence()
        scale = np.abs(other.params).max()
        pairs = [
            ([row.coefficient / scale for row in model.terms], other.params / scale),
            ([row.error / scale for row in model.terms], other.bse / scale),
            ([row.p for row in model.terms], other.pvalues),
            ([run.fitted for run in model.runs], other.fittedvalues),
            ([run.leverage for run in model.runs], influence.hat_matrix_diag),
            ([run.studentised for run in model.runs], influence.resid_studentized_internal),
            ([run.cook for run in model.runs], influence.cooks_distance[0]),
            (
                [model.r_squared, model.adjusted, model.residual_deviation],
                [other.rsquared, other.rsquared_adj, math.sqrt(other.mse_resid)],
            ),
            ([model.press], [influence.ess_press]),
            ([model.anova[0].f, model.anova[0].p], [other.fvalue, other.f_pvalue]),
        ]
        for ours, theirs in pairs:
            off = np.max(np.abs(np.array(ours) - np.array(theirs)) / (np.abs(np.array(theirs)) + 1e-6))
            worst = max(worst, float(off))
        bar = td.Formula("Bar", {**{line: Fraction(90, count) for line in LINES[:count]}, "water": 10}, CATALOGUE)
        said = model.predict(bar, confidence=90)
        new = columns(one(bar), LINES[:count], blend)
        frame = other.get_prediction(new).summary_frame(alpha=0.1)
        theirs = frame[
            ["mean", "mean_se", "mean_ci_lower", "mean_ci_upper", "obs_ci_lower", "obs_ci_upper"]
        ].to_numpy()[0]
        assert [
            said.value,
            said.error,
            said.confidence_low,
            said.confidence_high,
            said.low,
            said.high,
        ] == pytest.approx(theirs, rel=1e-7)
    assert worst < 1e-6, worst
    print(f"worst relative difference from statsmodels in 200 designs: {worst:.1e}")


def one(bar):
    return td.trial.TrialLog("One", {"foam": "mm"}, [td.trial.TrialRun("1", bar, {"foam": 1})])


def test_lack_of_fit_is_that_of_the_textbook():
    data, log = yarn()
    model = log.fit("elongation", model="linear")
    residuals = {}
    for run, fitted in zip(log.runs, model.runs):
        residuals.setdefault(tuple(run.made.values()), []).append(fitted.measured)
    within = sum(((np.array(values) - np.mean(values)) ** 2).sum() for values in residuals.values())
    lack = model.lack_of_fit
    assert lack.pure_error_deviation**2 * 9 == pytest.approx(within)
    residual = next(row.sum_of_squares for row in model.anova if row.source == "residual")
    assert lack.f == pytest.approx(((residual - within) / 3) / (within / 9))
    assert (lack.degrees_of_freedom, lack.pure_error_degrees_of_freedom) == (3, 9) and lack.p < 0.001


def test_the_choice_takes_the_least_criterion():
    _, log = yarn()
    choice = log.best_model("elongation")
    assert choice.best.model == "quadratic"
    assert [row.model for row in choice.candidates] == ["linear", "quadratic", "special-cubic", "full-cubic"]
    assert choice.candidates[1].value == min(row.value for row in choice.candidates if row.value is not None)
    assert "a*b*c = " in choice.candidates[2].refused
    n, k = 15, 7
    assert choice.candidates[1].value == pytest.approx(n * math.log(6.56 / n) + 2 * k + 2 * k * (k + 1) / (n - k - 1))
    assert log.best_model("elongation", criterion="PRESS").best.press == pytest.approx(log.fit("elongation").press)


def test_ranks_agree_with_scipy():
    stats = pytest.importorskip("scipy.stats")
    random = np.random.default_rng(7)
    for _ in range(20):
        scores = random.integers(1, 6, (4, 6))
        runs = [
            td.trial.TrialRun(f"{blend}-{judge}", {"sci-powder": 60 + blend, "kaolin": 40 - blend}, {"slip": int(score)})
            for blend, row in enumerate(scores)
            for judge, score in enumerate(row)
        ]
        ranks = td.trial.TrialLog("Panel", {"slip": "score"}, runs).ranks("slip")
        theirs = stats.kruskal(*scores)
        assert (ranks.statistic, ranks.p) == pytest.approx((theirs.statistic, theirs.pvalue), rel=1e-9)
    log = td.trial.TrialLog("Panel", {"slip": "score"}, runs)
    assert any(
        "ordered categories" in note
        for note in log.fit("slip", model="linear", components=["sci-powder", "kaolin"]).notes
    )


def test_a_log_goes_out_and_comes_back():
    run = td.trial.TrialRun(
        "=1", {"sci-powder": "69.9995", "kaolin": "30.0005"}, {"hardness": "41.5"}, settings={"force": 20}, blend="a, b"
    )
    log = td.trial.TrialLog(
        "Kaolin",
        {"hardness": "N", "loss": "%"},
        [run, td.trial.TrialRun("2", {"kaolin": 40, "sci-powder": 60}, settings={"force": "12.5"}, blend="c")],
    )
    assert td.trial.TrialLog.from_csv("Kaolin", log.to_csv()).to_csv() == log.to_csv()
    assert td.read(log.to_json()) == log
    for frame in (polars.DataFrame(log), pyarrow.table(log)):
        again = td.trial.TrialLog.from_table("Kaolin", frame)
        assert [run.results for run in again.runs] == [run.results for run in log.runs] and again.lines == log.lines
    assert polars.DataFrame(log)["loss, %"].to_list() == [None, None]
    assert (
        td.trial.TrialLog.from_table("Kaolin", {"run": [1], "line.a": [100], "x, mm": [float("nan")]}).runs[0].results == {}
    )


@pytest.mark.parametrize(
    ("make", "kind", "words"),
    [
        (lambda: td.trial.TrialRun("1", {"a": 100}, {"x": math.nan}), td.errors.NotANumber, "finite"),
        (lambda: td.trial.TrialRun("1", {"a": 100}, {"x": math.inf}), td.errors.NotANumber, "finite"),
        (lambda: td.trial.TrialRun("1", {"a": 60, "b": 30}), td.errors.Contradiction, "sum to 100"),
        (lambda: td.trial.TrialLog("T", {"x": "furlong"}, []), td.errors.UnknownName, "unknown unit"),
        (lambda: td.trial.TrialLog("T", {"x": "mm"}, []), td.errors.OutOfRange, "number of runs"),
        (
            lambda: td.trial.TrialLog("T", {"x": "mm"}, [td.trial.TrialRun("1", {"a": 100})] * 2),
            td.errors.Duplicate,
            "two runs have the same name",
        ),
        (
            lambda: td.trial.TrialLog("T", {"x": "mm"}, [td.trial.TrialRun("1", {"a": 100}), td.trial.TrialRun("2", {"b": 100})]),
            td.TensideError,
            "another trial",
        ),
        (
            lambda: td.trial.TrialLog("T", {"x": "mm"}, [td.trial.TrialRun("1", {"a": 100}, {"y": 1})]),
            td.errors.UnknownName,
            "unknown measured property",
        ),
        (lambda: td.trial.TrialLog.from_csv("T", "run,line.a,x\n1,100,2\n"), td.errors.Missing, "without a unit"),
        (
            lambda: td.trial.TrialLog.from_csv("T", 'run,line.a,"x, mm"\n1,100,2 cm\n'),
            td.errors.Contradiction,
            "another unit than its column",
        ),
        (lambda: td.trial.TrialLog.from_csv("T", 'run,line.a,"x, mm"\n1,100,two\n'), td.errors.NotANumber, "line 2, column 3"),
        (lambda: yarn()[1].fit("length"), td.errors.UnknownName, "measured property"),
        (lambda: yarn()[1].fit("elongation", components=["a", "d"]), td.errors.UnknownName, "no line of the log"),
        (lambda: yarn()[1].fit("elongation", model="full-cubic").terms, td.errors.NotKnown, "x"),
        (lambda: few().fit("x"), td.errors.NotKnown, "a*b = "),
        (lambda: td.trial.MixedMicelles({"a": (1, 0)}), td.errors.OutOfRange, "above 0"),
        (
            lambda: td.trial.MixedMicelles({"a": (1, 1), "b": (1, 1)}, interactions={("a", "b"): 3}),
            td.errors.OutOfRange,
            "interaction parameter",
        ),
        (
            lambda: td.trial.MixedMicelles({"a": (1, 1), "b": (1, 1)}, interactions={("a", "c"): -3}),
            td.errors.UnknownName,
            "surfactant",
        ),
        (lambda: td.trial.MicelleInteraction(8, "0.1", []), td.errors.Missing, "no measured mixture"),
        (lambda: td.trial.MicelleInteraction(1, 1, [(50, 100)]), td.errors.NotKnown, "interaction parameter"),
    ],
)
def test_what_is_wrong_is_named(make, kind, words):
    if words == "x":
        # Aliased terms are named, and the rest is fitted.
        aliased = yarn()[1].fit("elongation", model="full-cubic").aliased
        assert [row.term for row in aliased] == ["a*b*(a-b)", "a*c*(a-c)", "b*c*(b-c)", "a*b*c"]
        return
    with pytest.raises(kind) as found:
        make()
    assert words in str(found.value)


def few():
    return td.trial.TrialLog("Few", {"x": "mm"}, [td.trial.TrialRun(str(a), {"a": a, "b": 100 - a}, {"x": a}) for a in (30, 70)])


def test_mixed_micelles_are_those_of_the_table_and_of_the_closed_form():
    for case in tomllib.loads((DATA / "mixed_micelles.toml").read_text())["case"]:
        share = Fraction(case["share"])
        mixed = td.trial.MixedMicelles(
            {"a": (share, case["alone"][0]), "b": (1 - share, case["alone"][1])},
            interactions={("a", "b"): case["parameter"]},
        )
        assert mixed.cmc == pytest.approx(float(case["mixed"]), abs=1e-6)
        assert mixed.ideal_cmc == pytest.approx(float(case["ideal"]), abs=1e-6)
        assert mixed.surfactants[0].in_micelles == pytest.approx(float(case["in_micelles"]), abs=1e-6)
        fit = td.trial.MicelleInteraction(*case["alone"], [(100 * share, mixed.cmc)])
        assert fit.parameter == pytest.approx(float(case["parameter"]), abs=1e-6) and fit.error is None
    for parameter in (-30, -8, -1.5, 1.9):
        mixed = td.trial.MixedMicelles({"a": (1, "0.7"), "b": (1, "0.7")}, interactions={("a", "b"): parameter})
        assert mixed.cmc == pytest.approx(0.7 * math.exp(parameter / 4), rel=1e-11) and mixed.error < 1e-10


def test_what_is_dispersed_balances_and_meets_its_equations():
    beta = {("a", "b"): -3, ("a", "c"): "-1.5", ("b", "c"): 0.5}
    cmcs = {"a": (2, 8), "b": (3, "0.4"), "c": (1, "2.5")}
    mixed = td.trial.MixedMicelles(cmcs, interactions=beta)
    for total in (mixed.cmc * 1.0001, 1, 10, 1000):
        rows = mixed.at(total)
        if rows[0].in_micelles is None:
            continue
        x = [row.in_micelles for row in rows]
        assert sum(x) == pytest.approx(1)
        held = total - sum(row.single for row in rows)
        table = np.array([[0, -3, -1.5], [-3, 0, 0.5], [-1.5, 0.5, 0]])
        activity = np.exp(table @ x - np.array(x) @ table @ x / 2)
        for row, share, gamma, (_, alone) in zip(rows, x, activity, cmcs.values()):
            assert row.single == pytest.approx(share * gamma * float(alone), rel=1e-9)
            assert row.single + share * held == pytest.approx(row.total, rel=1e-9)
    assert [row.in_micelles for row in mixed.at(mixed.cmc * 0.999)] == [None] * 3


def test_the_error_of_a_fitted_interaction_is_that_of_the_linearised_fit():
    optimise = pytest.importorskip("scipy.optimize")
    pairs = [(10, 0.12), (30, 0.128), (50, 0.17), (70, 0.24), (90, 0.47)]
    fit = td.trial.MicelleInteraction("8.2", "0.11", pairs)

    def model(shares, beta):
        return [
            math.log(
                td.trial.MixedMicelles(
                    {"a": (Fraction(s) / 100, "8.2"), "b": (1 - Fraction(s) / 100, "0.11")},
                    interactions={("a", "b"): float(beta)},
                ).cmc
            )
            for s in shares
        ]

    found, covariance = optimise.curve_fit(
        model, [share for share, _ in pairs], np.log([value for _, value in pairs]), p0=[-2.0]
    )
    assert fit.parameter == pytest.approx(found[0], rel=1e-5) and fit.error == pytest.approx(
        math.sqrt(covariance[0, 0]), rel=1e-3
    )
    low, high = fit.interval(confidence=95)
    assert low < fit.parameter < high


def three():
    data, log = yarn()
    names = {"a": "sci-powder", "b": "scs-needles", "c": "kaolin"}
    runs = [
        td.trial.TrialRun(
            run.name,
            {names[line]: percent for line, percent in run.made.items()},
            {"hardness": run.results["elongation"]},
        )
        for run in log.runs
    ]
    return td.trial.TrialLog("Three", {"hardness": "N"}, runs)


def grid(steps, keep):
    return [
        (i / steps, j / steps, 1 - (i + j) / steps)
        for i in range(steps + 1)
        for j in range(steps + 1 - i)
        if keep(100 * i / steps, 100 * j / steps)
    ]


@pytest.mark.parametrize("direction", ["maximise", "minimise"])
def test_the_best_on_a_model_is_that_of_a_fine_grid(direction):
    model = three().fit("hardness")
    brief = (
        td.Brief("Best", CATALOGUE)
        .between("sci-powder", 10, 60)
        .between("scs-needles", 5, 40)
        .qs("kaolin")
        .at_most(td.measure.active_matter, 55)
    )
    best = brief.best_on(model, direction, tolerance=0.001)
    powders = [
        float(td.Formula("One", {line: 100}, CATALOGUE).measure(td.measure.active_matter).value.typical)
        for line in ("sci-powder", "scs-needles", "kaolin")
    ]
    mixtures = [
        x
        for x in grid(200, lambda a, b: 10 <= a <= 60 and 5 <= b <= 40)
        if sum(p * f for p, f in zip(powders, x)) <= 55 + 1e-9
    ]
    values = model.values_at(mixtures)
    reached = max(values) if direction == "maximise" else min(values)
    sign = 1 if direction == "maximise" else -1
    assert best.is_proved and best.gap <= 0.0015
    assert sign * best.bound >= sign * reached - 1e-9 and sign * best.prediction.value >= sign * reached - 0.0015
    assert (
        best.formula.measure(td.measure.active_matter).value.typical <= 55
        and best.prediction.low < best.prediction.value < best.prediction.high
    )


def test_a_linear_model_is_a_measure_and_its_best_the_same():
    model = three().fit("hardness", model="linear")
    brief = (
        td.Brief("Best", CATALOGUE)
        .fix("citric-acid-50", 1)
        .between("sci-powder", 10, 60)
        .between("scs-needles", 5, 40)
        .qs("kaolin")
    )
    exact = brief.maximise(model.measure(brief)).solve()
    exact.verify()
    best = brief.best_on(model)
    assert best.gap < 1e-6 and best.boxes <= 2
    assert float(exact.objective) == pytest.approx(best.prediction.value, abs=1e-4)
    assert exact.formula == best.formula or float(exact.objective) == pytest.approx(best.bound, abs=1e-6)


def test_the_most_desirable_is_that_of_a_fine_grid():
    log = three()
    foam = [
        td.trial.TrialRun(
            run.name,
            run.made,
            {**run.results, "foam": round(20 - 15 * float(run.made["kaolin"]) / 100 + 0.01 * (int(run.name) % 3), 3)},
        )
        for run in log.runs
    ]
    log = td.trial.TrialLog("Three", {"hardness": "N", "foam": "cm"}, foam)
    wanted = [
        (log.fit("hardness"), td.trial.Desirability("larger", 12, 17, shape="0.5")),
        (log.fit("foam", model="linear"), td.trial.Desirability("target", 8, 18, target=14)),
    ]
    brief = td.Brief("Both", CATALOGUE).between("sci-powder", 5, 80).between("scs-needles", 5, 40).qs("kaolin")
    best = brief.most_desirable(wanted)
    mixtures = grid(150, lambda a, b: 5 <= a <= 80 and 5 <= b <= 40)
    each = [[desire.of(value) for value in model.values_at(mixtures)] for model, desire in wanted]
    reached = max(math.sqrt(a * b) for a, b in zip(*each))
    assert best.is_proved and best.bound >= reached - 1e-9 and best.desirability >= reached - 0.0015
    with pytest.raises(td.errors.Contradiction, match="acceptable range"):
        brief.most_desirable([(wanted[0][0], td.trial.Desirability("larger", 500, 600))])


def test_what_is_not_held_is_refused():
    model = three().fit("hardness")
    brief = (
        td.Brief("Loose", CATALOGUE)
        .between("sci-powder", 10, 60)
        .between("scs-needles", 5, 40)
        .between("talc", 0, 10)
        .qs("kaolin")
    )
    with pytest.raises(td.errors.Unsupported, match="not the same percentage"):
        brief.best_on(model)
    with pytest.raises(td.errors.Unanswerable):
        td.Brief("None", CATALOGUE).between("sci-powder", 10, 20).between("scs-needles", 5, 10).between(
            "kaolin", 0, 5
        ).best_on(model)
    bound = (
        td.Brief("Few", CATALOGUE)
        .between("sci-powder", 5, 80)
        .between("scs-needles", 5, 80)
        .qs("kaolin")
        .best_on(model, boxes=3, tolerance=1e-6)
    )
    assert not bound.is_proved and bound.gap > 0


def test_scores_have_a_default():
    slip = td.measure.score("slip", {"kaolin": 3}, default=0)
    bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, CATALOGUE)
    assert bar.measure(slip).value.typical == Fraction(6, 5)
    premix = bar.to_material("half", form="powder")
    both = td.Formula("Both", [td.Line(premix, 50), td.Line(CATALOGUE.material("talc"), 50)])
    assert both.measure(slip).value.typical == Fraction(3, 5)
    assert eval(repr(slip), {"measure": td.measure}) == slip
    brief = td.Brief("Slip", CATALOGUE).between("sci-powder", 10, 60).qs("kaolin").maximise(slip)
    assert td.read(brief.to_toml()) == brief and brief.solve().objective == Fraction(27, 10)


def test_the_next_trial_is_inside_the_brief_and_the_same_again():
    pytest.importorskip("sklearn")
    log = three()
    brief = td.Brief("Next", CATALOGUE).between("sci-powder", 10, 60).between("scs-needles", 5, 40).qs("kaolin")
    first, again = (trial.next_trial(log, "hardness", brief, candidates=200, seed=3) for _ in range(2))
    assert first == again and first.improvement >= 0 and first.deviation > 0
    assert 10 <= first.formula.line("sci-powder").percent <= 60
    with pytest.raises(ValueError, match="no property"):
        trial.next_trial(log, "foam", brief)


def pressed(rows):
    runs = [
        trial.TrialRun(
            str(place), {"sci-powder": 100 - kaolin, "kaolin": kaolin}, {"hardness": y}, settings={"t": t}, blend=blend
        )
        for place, (kaolin, y, t, blend) in enumerate(rows)
    ]
    return trial.TrialLog("Pressed", {"hardness": "N"}, runs).fit("hardness", model="linear", process={"t": ("°C", 20, 40)})


def test_a_blend_at_other_settings_is_no_repetition():
    rows = [(20, 30, 20, "A"), (20, 33, 40, "A"), (60, 46, 20, "B"), (60, 44, 40, "B"), (20, 31, 20, "A"), (40, 36, 20, "C")]
    # Five blends at a setting of their own, and one run twice: 30 and 31 N.
    lack = pressed(rows).lack_of_fit
    assert (lack.degrees_of_freedom, lack.pure_error_degrees_of_freedom) == (2, 1)
    assert lack.pure_error_deviation == pytest.approx(0.5**0.5)


def test_fewer_blends_than_terms_leave_no_lack_of_fit():
    model = pressed([(20, 30, 20, "A"), (40, 36, 20, "A"), (60, 46, 40, "A"), (20, 31, 40, "A"), (60, 44, 20, "A")])
    assert model.lack_of_fit is None and "lack of fit" not in str(model)
