"""Drying, moulds, sizes, verified scales and use, against published values, other libraries and numeric integration."""

import datetime
import json
import math
import pickle
from fractions import Fraction

import numpy as np
import pytest
import scipy.integrate
import scipy.optimize
import scipy.stats
import tenside as td
from tenside import measure as m


def weighed(days, plateau, above, rate, noise, seed):
    draw = np.random.default_rng(seed)
    return [(float(day), f"{plateau + above * math.exp(-rate * day) + draw.normal(0, noise):.3f} g") for day in days]


def three_bars(noise=0.02):
    """Bars of 66 to 68 g that lose some 5 % in two weeks, on different days, one with a gap."""
    days = [[0, 1, 2, 3, 5, 7, 10, 14, 21], [0, 2, 4, 6, 14, 20], [1, 2, 3, 4, 5, 6, 9]]
    return {
        f"bar {index}": weighed(days[index], 63 + index, 3.4 + 0.1 * index, 0.31, noise, index) for index in range(3)
    }


def fitted_by_scipy(bars):
    rows = [(index, day, float(mass.split()[0])) for index, bar in enumerate(bars.values()) for day, mass in bar]
    index, day, mass = (np.array(column, dtype=float) for column in zip(*rows, strict=True))
    index = index.astype(int)

    def model(_, *values):
        plateaus, above, rate = np.array(values[: len(bars)]), np.array(values[len(bars) : -1]), values[-1]
        return plateaus[index] + above[index] * np.exp(-rate * day)

    start = [float(bar[-1][1].split()[0]) for bar in bars.values()] + [3.0] * len(bars) + [0.3]
    return scipy.optimize.curve_fit(model, day, mass, p0=start, xtol=1e-15, ftol=1e-15, gtol=1e-15)


def test_pooled_bars_are_fitted_as_by_another_library():
    bars = three_bars()
    drying = td.batch.DryingCurve(bars)
    values, covariance = fitted_by_scipy(bars)
    errors = np.sqrt(np.diag(covariance))
    assert drying.rate == pytest.approx((values[-1], errors[-1]), rel=1e-6)
    assert [bar.plateau for bar in drying.bars] == pytest.approx(values[:3], rel=1e-9)
    assert [bar.plateau_error for bar in drying.bars] == pytest.approx(errors[:3], rel=1e-5)
    assert drying.degrees_of_freedom == 22 - 7
    # The loss from the first weigh-in on, and its error by the whole covariance.
    first = np.array([bar[0][0] for bar in bars.values()])

    def losses(values):
        water = values[3:6] * np.exp(-values[-1] * first)
        return 100 * water / (values[:3] + water)

    slopes = scipy.optimize.approx_fprime(values, lambda values: losses(values).mean(), 1e-7)
    assert drying.loss[0] == pytest.approx(losses(values).mean(), rel=1e-8)
    assert drying.loss[1] == pytest.approx(math.sqrt(slopes @ covariance @ slopes), rel=1e-4)
    # When the second bar is within half a percent, and a prediction interval.
    ready = drying.ready(tolerance=0.5, confidence=90)[1]

    def day(values):
        return math.log(values[4] / (0.005 * values[1])) / values[-1]

    slopes = scipy.optimize.approx_fprime(values, day, 1e-7)
    error = math.sqrt(slopes @ covariance @ slopes)
    assert (ready.day, ready.error) == pytest.approx((day(values), error), rel=1e-4)
    assert ready.sure_day == pytest.approx(day(values) + scipy.stats.t.ppf(0.9, 15) * error, rel=1e-4)
    weight = drying.at(8.5, confidence=90)[0]
    slopes = np.array([1, 0, 0, math.exp(-values[-1] * 8.5), 0, 0, -8.5 * values[3] * math.exp(-values[-1] * 8.5)])
    half = scipy.stats.t.ppf(0.95, 15) * math.sqrt(drying.residual_deviation**2 + slopes @ covariance @ slopes)
    assert (weight.low, weight.high) == pytest.approx((weight.mass - half, weight.mass + half), rel=1e-6)


def test_intervals_hold_the_truth_as_often_as_they_say():
    held = predicted = 0
    for seed in range(300):
        bars = {
            "one": weighed(range(0, 15, 1), 63, 3.5, 0.3, 0.03, 1000 + seed),
            "two": weighed(range(0, 15, 2), 64, 3.3, 0.3, 0.03, 5000 + seed),
        }
        drying = td.batch.DryingCurve(bars, readability="0.1 g")
        plateau, error = drying.bars[0].plateau, drying.bars[0].plateau_error
        held += abs(plateau - 63) <= scipy.stats.t.ppf(0.975, drying.degrees_of_freedom) * error
        day = drying.at(18)[0]
        seen = 63 + 3.5 * math.exp(-0.3 * 18) + np.random.default_rng(9000 + seed).normal(0, 0.03)
        predicted += day.low <= seen <= day.high
    # 95 % of 300 with four standard errors of the binomial.
    for count in (held, predicted):
        assert abs(count - 285) <= 4 * math.sqrt(300 * 0.95 * 0.05), count


@pytest.mark.parametrize(
    ("bars", "kind", "word"),
    [
        ({}, td.errors.OutOfRange, "weigh-ins"),
        ({"a": [(0, "70 g"), (1, "69 g")]}, td.errors.Missing, "too few"),
        ({"a": [(0, "70 g"), (1, "69 g"), (2, "68.5 g")]}, td.errors.OutOfRange, "4 to"),
        ({"a": [(0, "70 g"), (2, "69 g"), (1, "68.5 g"), (3, "68 g")]}, td.errors.Contradiction, "do not rise"),
        ({"a": [(0, "70 g"), (1, "69 g"), (1, "68.5 g"), (3, "68 g")]}, td.errors.Contradiction, "do not rise"),
        ({"a": [(0, "70 g"), (1, "69 g"), (2, "69.5 g"), (3, "68 g")]}, td.errors.Contradiction, "grew heavier.*readability"),
        (
            {"a": [(0, "70 g")] * 1 + [(day, "70 g") for day in (1, 2, 3)]},
            td.errors.Contradiction,
            "every weigh-in is the same",
        ),
        ({"a": [(day, f"{70 - day} g") for day in range(8)]}, td.errors.NotKnown, "final weight"),
        ({"a": [(0, "70 g"), *[(day, "66 g") for day in range(1, 8)]]}, td.errors.NotKnown, "between two weigh-ins"),
        ({"a": [(-1, "70 g"), (1, "69 g"), (2, "68.5 g"), (3, "68 g")]}, td.errors.OutOfRange, "day"),
        ({"a": [(0, "70 g"), (1, "-1 g"), (2, "68.5 g"), (3, "68 g")]}, td.errors.OutOfRange, "mass"),
    ],
)
def test_weigh_ins_that_show_no_drying_are_refused(bars, kind, word):
    with pytest.raises(kind, match=word):
        td.batch.DryingCurve(bars)


def test_a_scale_may_rise_by_two_divisions_and_no_more():
    masses = ["70.0", "68.6", "67.8", "67.2", "66.9", "66.7", "66.9", "66.6", "66.6"]
    bars = {"a": [(day, f"{mass} g") for day, mass in enumerate(masses)]}
    assert td.batch.DryingCurve(bars, readability="0.1 g").loss[0] == pytest.approx(5, abs=0.3)
    with pytest.raises(td.errors.Contradiction, match="grew heavier"):
        td.batch.DryingCurve(bars, readability="0.09 g")
    drying = td.batch.DryingCurve(bars, readability="0.1 g")
    with pytest.raises(td.errors.OutOfRange, match="before the first"):
        td.batch.DryingCurve({"a": [(day + 2, mass) for day, mass in bars["a"]]}, readability="0.1 g").at(1)
    with pytest.raises(td.errors.OutOfRange, match="tolerance"):
        drying.ready(tolerance=0)


def area(mould, z):
    """The cross-section at a height above the lower face, mm2, by another hand."""
    a, b = (float(side) + 2 * z * math.tan(math.radians(float(mould.draft))) for side in mould.face)
    if mould.shape == "rectangular":
        return a * b - (4 - math.pi) * float(mould.corner) ** 2
    return math.pi * a * b / 4


def dome(mould, z, height):
    """The volume of a dome of that height over the face at z, mm3, by integration."""
    a, b = (float(side) + 2 * z * math.tan(math.radians(float(mould.draft))) for side in mould.face)
    if mould.shape == "round":
        radius = ((a / 2) ** 2 + height**2) / (2 * height)
        return scipy.integrate.quad(lambda x: math.pi * (radius**2 - x**2), radius - height, radius)[0]
    if mould.shape == "oval":
        return scipy.integrate.quad(lambda x: math.pi * a * b / 4 * (1 - x / height), 0, height)[0]
    return scipy.integrate.dblquad(
        lambda x, y: height * (1 - (2 * x / a) ** 2) * (1 - (2 * y / b) ** 2), -b / 2, b / 2, -a / 2, a / 2
    )[0]


MOULDS = [
    td.batch.Mould.round(57.15),
    td.batch.Mould.round(57.15, draft=5, domes=(4, 2)),
    td.batch.Mould.oval(80, 55, draft=3),
    td.batch.Mould.oval(80, 55, draft=10, domes=(6, 1)),
    td.batch.Mould.rectangular(80, 55, corner=8, draft=4),
    td.batch.Mould.rectangular(75, 50, domes=(3, 3), draft=2),
]


@pytest.mark.parametrize("mould", MOULDS, ids=repr)
def test_volumes_are_those_of_numeric_integration(mould):
    upper, lower = (float(dome) for dome in mould.domes)
    for height in (12.5, 25, 60):
        walls = height - upper - lower
        exact = scipy.integrate.quad(lambda z: area(mould, z), 0, walls)[0]
        exact += dome(mould, walls, upper) if upper else 0
        exact += dome(mould, 0, lower) if lower else 0
        assert mould.volume(height) == pytest.approx(exact / 1000, rel=1e-9)
        # And back.
        bar = mould.bar(mass=f"{mould.volume(height) * 1.1:.9f} g", density=1.1)
        assert float(bar.height.typical) == pytest.approx(height, rel=1e-7)
        assert float(mould.bar(height=height, density=1.1).mass.typical) == pytest.approx(
            mould.volume(height) * 1.1, rel=1e-8
        )


def test_the_usual_round_press_gives_the_usual_heights():
    """Common practice, no source: 57.15 mm, 66 and 68 g."""
    press = td.batch.Mould.round(57.15)
    for density, heights in ((1, ("25.7", "26.5")), ("1.1", ("23.4", "24.1")), ("1.2", ("21.4", "22.1"))):
        for mass, height in zip(("66 g", "68 g"), heights, strict=True):
            assert press.bar(mass=mass, density=density).height.text(1) == height
    assert press.bar(mass="66 g", height=25).question is None
    for height in (15, 35):
        assert "unusual" in press.bar(mass="66 g", height=height).question
    bar = press.bar(mass="66 g", density=(1, 1.2))
    assert bar.height.low < bar.height.typical < bar.height.high and float(bar.density.typical) == 1.1


@pytest.mark.parametrize(
    ("call", "kind", "word"),
    [
        (lambda: td.batch.Mould.round(0), td.errors.OutOfRange, "length"),
        (lambda: td.batch.Mould.round(-5), td.errors.OutOfRange, "length"),
        (lambda: td.batch.Mould.rectangular(80, 50, corner=26), td.errors.OutOfRange, "corner"),
        (lambda: td.batch.Mould.round(57, draft=50), td.errors.OutOfRange, "draft"),
        (lambda: td.batch.Mould.round(57).bar(mass="66 g", density=0), td.errors.OutOfRange, "density"),
        (lambda: td.batch.Mould.round(57).bar(mass="0 g", density=1), td.errors.OutOfRange, "without mass"),
        (lambda: td.batch.Mould.round(57).bar(mass="66 g", density=(1.2, 1)), td.errors.Contradiction, "wrong way"),
        (lambda: td.batch.Mould.round(57).bar(mass="66 g"), td.errors.Missing, "just two"),
        (lambda: td.batch.Mould.round(57).bar(mass="66 g", density=1, height=25), td.errors.Missing, "just two"),
        (lambda: td.batch.Mould.round(57, domes=(5, 5)).bar(mass="5 g", density=1), td.errors.OutOfRange, "no height"),
        (lambda: td.batch.Mould.round(57, domes=(5, 5)).volume(9), td.errors.OutOfRange, "at least 10 mm"),
        (lambda: td.batch.Mould.round(57).bar(mass="90 t", density=1), td.errors.UnknownName, "unit"),
        (lambda: td.batch.Mould.round(57).bar(mass="90000 kg", density=1), td.errors.OutOfRange, "no height"),
        (lambda: td.batch.Portions("1 kg", {}), td.errors.Missing, "no size"),
        (lambda: td.batch.Portions("1 kg", {"a": "0 g"}), td.errors.OutOfRange, "without mass"),
        (lambda: td.batch.Portions("1 kg", {"a": "60 g", "b": "100 g"}), td.errors.Missing, "all sizes but one"),
        (lambda: td.batch.Portions("1 kg", {"a": "60 g"}, counts={"a": 17}), td.errors.Contradiction, "at most 1000 g"),
        (lambda: td.batch.Portions("1 kg", {"a": "60 g"}, counts={"b": 1}), td.errors.UnknownName, "b"),
        (lambda: td.batch.Portions("1 kg", bottles={"a": 250}), td.errors.Missing, "density"),
        (lambda: td.batch.Portions("1 kg", bottles={"a": 250}, density=0), td.errors.OutOfRange, "density"),
        (lambda: td.batch.Portions("1 kg", bottles={"a": -1}, density=1), td.errors.OutOfRange, "without volume"),
        (lambda: td.batch.Portions("90000 kg", {"a": "1 mg"}), td.errors.OutOfRange, "more of one size"),
    ],
)
def test_bars_that_cannot_be_are_refused(call, kind, word):
    with pytest.raises(kind, match=word):
        call()


def test_sizes_take_all_there_is_and_no_more():
    for mass in ("1 kg", "0.999 kg", "35 oz"):
        portions = td.batch.Portions(
            mass,
            {"large": "100 g", "small": "2 oz"},
            bottles={"bottle": "50"},
            density="1.02",
            counts={"large": 3, "bottle": 2},
        )
        assert [row.name for row in portions.rows] == ["large", "small", "bottle"]
        assert sum(row.total for row in portions.rows) + portions.left_over == portions.mass
        assert 0 <= portions.left_over < portions.rows[1].mass
    # Common practice, no source: 200 g pressed as three even bars of 66 to 68 g.
    three = td.batch.Portions("200 g", {"bar": "66.6 g"})
    assert (three.rows[0].count, three.left_over) == (3, Fraction(1, 5))


#: OIML R 76-1:2006, Tables 3 and 6 (seen in a secondary reproduction): class, e in grams, largest load in e, minimum capacity in e.
CLASSES = [
    ("I", "0.001", 50_000, 100),
    ("II", "0.01", 100, 20),
    ("II", "0.1", 100_000, 50),
    ("III", "1", 10_000, 20),
    ("III", "5", 500, 20),
    ("IIII", "5", 1000, 10),
]
#: To how many intervals an error at the initial verification is half an interval, then one.
ZONES = {"I": (50_000, 200_000), "II": (5_000, 20_000), "III": (500, 2_000), "IIII": (50, 200)}


@pytest.mark.parametrize(("kind", "interval", "intervals", "least"), CLASSES)
def test_scales_are_as_good_as_their_class(kind, interval, intervals, least):
    e = Fraction(interval)
    scale = td.batch.VerifiedScale("bench", kind, interval=f"{interval} g", largest=f"{e * intervals} g")
    assert scale.smallest == least * e and scale.error(f"{least * e - e / 1000} g") is None
    assert scale.error(f"{intervals * e + e / 1000} g") is None
    for load, halves in (
        (least, None),
        (ZONES[kind][0], 1),
        (ZONES[kind][0] + 1, 2),
        (ZONES[kind][1], 2),
        (ZONES[kind][1] + 1, 3),
    ):
        if least <= load <= intervals:
            expected = next(
                half for half, to in ((1, ZONES[kind][0]), (2, ZONES[kind][1]), (3, math.inf)) if load <= to
            )
            assert halves in (None, expected)
            # In service twice the error of the initial verification (from memory).
            assert scale.error(f"{load * e} g") == 2 * expected * e / 2


def test_what_is_too_small_is_diluted_until_every_weighing_holds():
    bench = td.batch.VerifiedScale("bench", "II", interval="0.1 g", largest="3 kg")
    fine = td.batch.VerifiedScale("fine", "II", interval="0.01 g", largest="200 g")
    lines = {"clay": "850 g", "acid": "3 g", "scent": "0.9 g", "dye": "0.03 g", "batch": "4 kg"}
    weighable = td.batch.Weighable(lines, [bench, fine], tolerance=1)
    rows = {row.line: row for row in weighable.rows}
    assert [(rows[line].fits, rows[line].scale) for line in lines] == [
        ("weighable", "bench"),
        ("weighable", "fine"),
        ("too-small", "fine"),
        ("too-small", "fine"),
        ("too-large", None),
    ]
    for name in ("scent", "dye"):
        dilution = rows[name].dilution
        assert dilution.portion == Fraction(lines[name].split()[0]) * (dilution.parts + 1)
        for load in (dilution.material, dilution.carrier, dilution.portion):
            assert fine.error(f"{load} g") <= load / 100
        assert (
            dilution.carrier == dilution.material * dilution.parts
            and dilution.portion <= dilution.material + dilution.carrier
        )
    # On the coarse scale alone nothing dilutes the dye far enough.
    assert td.batch.Weighable({"dye": "0.03 g"}, [bench], tolerance=1).rows[0].dilution is None
    formula = td.Formula("Bar", {"sci-powder": 60, "kaolin": "39.99", "panthenol": "0.01"}, td.Catalogue.starter())
    assert [
        row.fits for row in formula.batch(mass="2 kg", readability="0.1 g").weighable([bench, fine], tolerance=1).rows
    ] == ["weighable", "weighable", "too-small"]
    # Alone in its phase it has no carrier; beside a line of its phase it has, as far as that reaches.
    for lines, offered in (
        ({"sci-powder": 60, "kaolin": "39.9", "panthenol": "0.1"}, False),
        ({"glycerin-99-5": 70, "kaolin": "29.9", "panthenol": "0.1"}, True),
    ):
        formula = td.Formula("Bar", lines, td.Catalogue.starter())
        if offered:
            formula = td.Formula("Bar", [td.Line(line.material, line.percent, phase="cool-down") for line in formula.lines])
        for mass, is_enough in (("200 g", False), ("400 g", True)):
            row = formula.batch(mass=mass, readability="0.1 g").weighable([bench], tolerance=2).rows[-1]
            assert row.line == "panthenol" and row.fits == "too-small"
            assert (row.dilution is not None) == (offered and is_enough), (lines, mass, row)


@pytest.mark.parametrize(
    ("call", "kind", "word"),
    [
        (lambda: td.batch.VerifiedScale("a", "V", interval="1 g", largest="3 kg"), td.errors.UnknownName, "IIII"),
        (lambda: td.batch.VerifiedScale("a", "III", interval="0.01 g", largest="1 g"), td.errors.OutOfRange, "0.1 to 2 g"),
        (
            lambda: td.batch.VerifiedScale("a", "III", interval="1 g", largest="30 kg"),
            td.errors.OutOfRange,
            "so many intervals.*100 to 10000 intervals",
        ),
        (
            lambda: td.batch.VerifiedScale("a", "I", interval="1 g", largest="6 kg"),
            td.errors.OutOfRange,
            "so few intervals.*50000 or more intervals",
        ),
        (lambda: td.batch.Weighable({"a": "1 g"}, [], tolerance=1), td.errors.Missing, "no scale"),
        (
            lambda: td.batch.Weighable(
                {"a": "0 g"}, [td.batch.VerifiedScale("a", "III", interval="1 g", largest="3 kg")], tolerance=1
            ),
            td.errors.OutOfRange,
            "without mass",
        ),
        (
            lambda: td.batch.Weighable(
                {"a": "1 g"}, [td.batch.VerifiedScale("a", "III", interval="1 g", largest="3 kg")] * 2, tolerance=1
            ),
            td.errors.Duplicate,
            "one name",
        ),
        (
            lambda: td.batch.Weighable(
                {"a": "1 g"}, [td.batch.VerifiedScale("a", "III", interval="1 g", largest="3 kg")], tolerance=0
            ),
            td.errors.OutOfRange,
            "tolerance",
        ),
        (lambda: td.batch.UseUp({}, net="60 g"), td.errors.Missing, "no bar"),
        (lambda: td.batch.UseUp({"a": [(0, "60 g")]}, net="60 g"), td.errors.Missing, "at least two"),
        (lambda: td.batch.UseUp({"a": [(0, "60 g"), (0, "59 g")]}, net="60 g"), td.errors.Contradiction, "washes does not rise"),
        (lambda: td.batch.UseUp({"a": [(0, "60 g"), (9, "60 g")]}, net="60 g"), td.errors.Contradiction, "did not become lighter"),
        (lambda: td.batch.UseUp({"a": [(0, "60 g"), (9, "50 g")]}, net="0 g"), td.errors.OutOfRange, "without mass"),
        (lambda: td.batch.UseUp({"a": [(0, "60 g"), (9, "50 g")]}, net="60 g", active=101), td.errors.OutOfRange, "percentage"),
        (lambda: td.batch.UseUp({"a": [(0, "60 g"), (9, "50 g")]}, net="60 g", price=-1), td.errors.OutOfRange, "price"),
    ],
)
def test_scales_and_uses_that_cannot_be_are_refused(call, kind, word):
    with pytest.raises(kind, match=word):
        call()


def test_use_is_counted_by_the_bar():
    bars = {
        "one": [(0, "62 g"), (7, "55.3 g"), (20, "44 g")],
        "two": [(3, "60 g"), (13, "46 g")],
        "three": [(0, "61 g"), (30, "31 g")],
    }
    used = td.batch.UseUp(bars, net="62 g", active=58, price="7.5")
    each = [Fraction(18, 20), Fraction(14, 10), Fraction(1)]
    assert [row.grams_a_wash for row in used.bars] == each
    assert used.grams_a_wash == sum(each) / 3 and used.washes_a_bar == 62 / used.grams_a_wash
    assert (
        used.active_a_wash == used.grams_a_wash * Fraction("0.58")
        and used.cost_a_wash == Fraction("7.5") / used.washes_a_bar
    )
    assert used.standard_deviation == pytest.approx(np.std([float(one) for one in each], ddof=1))
    mean, error = float(used.grams_a_wash), used.standard_deviation / math.sqrt(3)
    assert used.interval(90) == pytest.approx(scipy.stats.t.interval(0.9, 2, mean, error))
    alone = td.batch.UseUp({"one": bars["one"]}, net="62 g")
    assert (alone.standard_deviation, alone.interval(), alone.active_a_wash, alone.cost_a_wash) == (
        None,
        None,
        None,
        None,
    )


def test_weigh_ins_by_date_are_those_by_day():
    by_day = three_bars()
    pressed = datetime.date(2026, 2, 20)
    on = lambda day: pressed + datetime.timedelta(days=int(day))  # noqa: E731
    dated = td.batch.DryingCurve({name: [(on(day), mass) for day, mass in bar] for name, bar in by_day.items()})
    counted = td.batch.DryingCurve(by_day)
    assert dated.day_zero == "2026-02-20" and counted.day_zero is None
    assert (dated.rate, dated.weigh_ins, dated.bars) == (counted.rate, counted.weigh_ins, counted.bars)
    assert dated.at(datetime.date(2026, 3, 6)) == dated.at("2026-03-06") == counted.at(14)
    assert td.batch.DryingCurve.from_json(dated.to_json()) == dated and "2026-02-20" in str(dated)
    with pytest.raises(td.errors.Missing, match="from which date they count"):
        counted.at(pressed)
    late = [(on(0), "70 g"), (on(2), "69 g"), (on(1), "68.5 g"), (on(3), "68 g")]
    with pytest.raises(td.errors.Contradiction, match="2026-02-21 after 2026-02-22.*in the order of the days"):
        td.batch.DryingCurve({"a": late})
    with pytest.raises(td.errors.Contradiction, match="some weigh-ins are by date"):
        td.batch.DryingCurve({"a": [(on(0), "70 g"), (1, "69 g"), (2, "68.5 g"), (3, "68 g")]})
    with pytest.raises(TypeError, match="time of day"):
        td.batch.DryingCurve({"a": [(datetime.datetime(2026, 2, 20), "70 g")]})


def test_a_balance_sees_bound_water_on_request():
    bar = td.Formula("Bar", {"sci-powder": 60, "corn-starch": 30, "water": 10}, td.Catalogue.starter())
    typical = lambda measure, basis=td.as_charged: bar.measure(measure, basis).value.typical  # noqa: E731
    water, held = Fraction(typical(m.water)), Fraction(typical(m.bound_water))
    assert held > 0
    for moisture in (5, 8, 10):
        basis = td.finished(moisture=moisture, with_bound_water=True)
        whole = (100 - water - held) / (1 - Fraction(moisture, 100))
        assert typical(m.water, basis) == 100 * (Fraction(moisture, 100) * whole - held) / whole
        assert typical(m.active_matter, basis) == Fraction(typical(m.active_matter)) * 100 / whole
        assert typical(m.as_supplied, basis) == 100
        # Free water and held water are what the balance sees.
        assert typical(m.water, basis) + 100 * held / whole == moisture
    basis = td.finished(moisture=6, with_bound_water=True)
    assert basis != td.finished(moisture=6) and pickle.loads(pickle.dumps(basis)) == basis
    assert repr(basis) == "finished(moisture=6, with_bound_water=True)" and basis.with_bound_water
    page = bar.page(td.finished(moisture=0, with_bound_water=True), td.finished(moisture=40, with_bound_water=True))
    page = page.markdown()
    assert "is below what starches, clays and hydrates hold (found 0 %)" in page
    assert "is above the water charged and held (found 40 %)" in page
    # The ends named are those just reached.
    least, most = 100 * held / (100 - water), water + held
    assert f"{math.ceil(least * 10**4) / 10**4:.4f} to {math.floor(most * 10**4) / 10**4:.4f} %" in page
    asked = td.Brief("Bar", td.Catalogue.starter()).qs("sci-powder").require(m.water, at_most=9, basis=basis)
    with pytest.raises(td.errors.Unsupported, match="without it"):
        asked.solve()
    with pytest.raises(td.errors.Missing, match="state the moisture"):
        td.measure.Basis(with_bound_water=True)


def test_a_bowl_that_cannot_be_is_refused_in_words():
    bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, td.Catalogue.starter())
    for mass in ("-1 g", "9000000 kg"):
        with pytest.raises(td.errors.OutOfRange, match="^mass out of range.*0 to 100000000 g"):
            bar.rescue({"sci-powder": mass})
    with pytest.raises(TypeError, match="mapping"):
        bar.rescue([("sci-powder", "1 g")])


def test_a_record_of_another_formula_is_refused():
    starter = td.Catalogue.starter()
    one, other = (
        td.Formula("Bar", {"sci-powder": 60, clay: 40}, starter).batch(mass="1 kg", readability="1 g").as_made({})
        for clay in ("kaolin", "talc")
    )
    one, other = (json.loads(td.batch.BatchRecord(made).to_json()) for made in (one, other))
    document = one | {"formula": other["formula"]}
    with pytest.raises(td.errors.Contradiction, match="not the formula that comes of what was weighed; leave it out"):
        td.batch.BatchRecord.from_json(json.dumps(document))


def test_a_page_says_why_a_moisture_cannot_be():
    bar = td.Formula("Bar", {"sci-powder": 60, "corn-starch": 30, "water": 10}, td.Catalogue.starter())
    page = bar.page(td.as_charged, td.finished(moisture=9), td.finished(moisture=20)).markdown()
    assert page.count("the finished moisture is above the water charged") == 1
    assert "finished at 20 % residual moisture: the finished moisture is above the water charged (found 20 %)" in page
