"""The pH of solutions against PHREEQC with the same constants: a check of the arithmetic, not of the constants, and the Python face of it."""

import pickle
import random
from decimal import Decimal
from fractions import Fraction

import pytest
import tenside as td

from phreeqc_model import Model, charged, species

CATALOGUE = td.Catalogue.starter()
ACIDS = td.ph.Acid.all()
POINTS = [("0 g", 7.9), ("0.2 g", 6.8), ("0.4 g", 5.9), ("0.6 g", 5.2), ("0.8 g", 4.7)]


def solution(temperature, acids, totals, ions):
    made = td.ph.Solution(temperature)
    for acid, total in zip(acids, totals):
        made = made.acid(acid, total)
    for ion, total in ions.items():
        made = made.ion(ion, total)
    return made


def drawn(rng):
    """A mixture of one to four acids of up to 0.2 mol/kg, and ions."""
    acids = rng.sample(ACIDS, rng.randint(1, 4))
    totals = [10 ** rng.uniform(-4, -0.7) for _ in acids]
    ions = {name: 10 ** rng.uniform(-4, -1) for name in rng.sample(["Na", "K", "Ca", "Mg", "Cl"], rng.randint(0, 2))}
    return round(rng.uniform(15, 40), 1), acids, totals, ions


@pytest.mark.oracle
def test_random_mixtures_agree_with_phreeqc(oracle_cases):
    rng = random.Random(5)
    largest, count = (0.0, None), max(200, min(oracle_cases, 5000))
    for case in range(count):
        temperature, acids, totals, ions = drawn(rng)
        ours = solution(temperature, acids, totals, ions)
        state = ours.solve()
        model = Model(acids, temperature, ours.pkw)
        [(ph, ionic)] = model.solve([(totals, ions, round(state.ph))])
        assert state.ph == pytest.approx(ph, abs=1e-4), (case, ours)
        assert state.ionic_strength == pytest.approx(ionic, rel=1e-3, abs=1e-8), (case, ours)
        largest = max(largest, (abs(state.ph - ph), case))
    print(f"{count} mixtures, largest difference of pH {largest[0]:.6f}")


@pytest.mark.oracle
def test_titration_curves_agree_with_phreeqc():
    rng = random.Random(6)
    largest = 0.0
    for case in range(20):
        temperature, acids, totals, ions = drawn(rng)
        titrant = rng.choice([("Na", 0.02), ("Cl", 0.02)])
        curve = [{**ions, titrant[0]: ions.get(titrant[0], 0.0) + titrant[1] * step} for step in range(15)]
        ours = [solution(temperature, acids, totals, point) for point in curve]
        states = [made.solve() for made in ours]
        found = Model(acids, temperature, ours[0].pkw).solve(
            [(totals, point, round(state.ph)) for point, state in zip(curve, states)]
        )
        for state, (ph, _) in zip(states, found):
            assert state.ph == pytest.approx(ph, abs=1e-4), case
            largest = max(largest, abs(state.ph - ph))
    print(f"20 titration curves, largest difference of pH {largest:.6f}")


def test_a_caveat_is_said_where_pairs_of_sodium_and_citrate_move_the_ph():
    """The pair Na citrate 2- alone (log K 1.03, as the caveat takes it) given to PHREEQC; the caveat has to come before it matters."""
    citric = td.ph.Acid.named("citric acid")
    said = 0
    for total in (0.003, 0.01, 0.03, 0.1, 0.2):
        for equivalents in (0.5, 1, 1.5, 2, 2.5, 2.8):
            sodium = total * equivalents
            state = td.ph.Solution().acid(citric, total).ion("Na", sodium).solve()
            pair = species(f"{charged('Aa', -3)} + Na+ = NaAa-2", 1.03, -2)
            [(ph, _)] = Model([citric], 25.0, td.ph.Solution().pkw, [pair]).solve(
                [([total], {"Na": sodium}, round(state.ph))]
            )
            caveat = any(caveat.kind == "ion-pairing" for caveat in state.caveats)
            assert ph <= state.ph + 1e-6
            assert caveat or state.ph - ph < 0.05, (total, equivalents, state.ph, ph)
            said += caveat
    assert 5 < said < 20


class TestSolution:
    """Solutions as people use them."""

    def test_numbers_of_every_kind(self):
        plain = td.ph.Solution().acid("citric acid", 0.1).ion("Na", 0.15).ph
        assert td.ph.Solution().acid("citric acid", Fraction(1, 10)).ion("sodium", "0.15").ph == plain
        own = td.ph.Acid("mine", 0, list(td.ph.Acid.named("citric acid").pka))
        assert td.ph.Solution().acid(own, 0.1).ion("mine", 0.15, charge=1).ph == pytest.approx(plain, abs=1e-12)

    @pytest.mark.parametrize(
        ("ask", "kind"),
        [
            (lambda: td.ph.Solution(-5), td.errors.OutOfRange),
            (lambda: td.ph.Solution(90), td.errors.OutOfRange),
            (lambda: td.ph.Solution(float("nan")), td.errors.NotANumber),
            (lambda: td.ph.Solution().acid("citric acid", 10), td.errors.OutOfRange),
            (lambda: td.ph.Solution().acid("citric acid", -1e-9), td.errors.OutOfRange),
            (lambda: td.ph.Solution().acid("citrik acid", 1), td.errors.UnknownName),
            (lambda: td.ph.Solution().ion("Na", 3).ph, td.errors.Contradiction),
            (lambda: td.ph.Solution().ion("Na", 3).solve(), td.errors.Contradiction),
            (lambda: td.ph.Acid("x", 0, [4.8, 3.1]), td.errors.Contradiction),
            (lambda: td.ph.Acid("x", 0, []), td.errors.OutOfRange),
            (
                lambda: td.ph.Titration(
                    [("0 g", 7)], sample="100 g", reagent=CATALOGUE.material("citric-acid-50"), dilution="1+9"
                ),
                td.errors.Missing,
            ),
            (
                lambda: td.ph.Titration([], sample="100 g", reagent=CATALOGUE.material("citric-acid-50"), dilution="1+9"),
                td.errors.Missing,
            ),
            (
                lambda: td.ph.Titration(
                    [("0 g", 7), ("1 g", 6), ("2 g", 6.5)],
                    sample="1 kg",
                    reagent=CATALOGUE.material("citric-acid-50"),
                    dilution="1+9",
                ),
                td.errors.Contradiction,
            ),
        ],
    )
    def test_what_cannot_be_meant_is_refused(self, ask, kind):
        with pytest.raises(kind):
            ask()

    def test_forms_sum_to_one(self):
        state = td.ph.Solution(30).acid("phosphoric acid", 0.05).ion("Na", 0.07).solve()
        assert [form.charge for form in state.forms["phosphoric acid"]] == [0, -1, -2, -3]
        assert sum(form.fraction for form in state.forms["phosphoric acid"]) == pytest.approx(1)
        assert state.fraction("phosphoric acid", -7) is None
        assert (
            float(state) == state.ph and "ionic strength" in str(state) and state._repr_html_() == state.page().html()
        )

    def test_surfactant_has_no_predicted_ph(self):
        bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, CATALOGUE)
        with pytest.raises(td.errors.Unsupported, match="a reading with its dilution rules"):
            bar.solution(dilution="1+9")


class TestAdjusting:
    """A batch brought to a pH."""

    def trial(self):
        return td.ph.Titration(POINTS, sample="100 g", reagent=CATALOGUE.material("citric-acid-50"), dilution="1+9")

    def test_portions_enter_the_formula(self):
        plan = self.trial().adjust("2 kg", td.Reading(7.9, dilution="1+9"), target=5.5)
        first = plan.next_portion(division="0.1 g")
        plan = plan.with_portion("8 g", td.Reading(5.9, dilution="2+18"))
        plan = plan.with_portion("1.5 g", td.Reading(5.52, dilution="1+9"))
        assert first == 8 and plan.is_reached and plan.next_portion(division="0.1 g") is None
        assert plan.added() == Fraction(19, 2) and [portion.added for portion in plan.portions] == [8, Fraction(3, 2)]
        adjusted = plan.formula(td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, CATALOGUE))
        assert float(adjusted.percentages["citric-acid-50"]) == pytest.approx(100 * 9.5 / 2009.5, abs=5e-5)
        assert "safety data sheet" in plan._repr_html_() and "reached" in str(plan)

    def test_a_range_is_entered_at_its_nearer_end(self):
        plan = self.trial().adjust("2 kg", td.Reading(7.9, dilution="1+9"), target=(4.8, 5.2))
        alone = self.trial().adjust("2 kg", td.Reading(7.9, dilution="1+9"), target=5.2)
        assert plan.range == (Decimal("4.8"), Decimal("5.2")) and alone.range is None
        assert plan.target == alone.target == Decimal("5.2") and plan.remaining() == alone.remaining()
        assert plan != alone and "4.8 to 5.2" in repr(plan)
        assert td.ph.Adjustment.from_json(plan.to_json()) == plan and pickle.loads(pickle.dumps(plan)) == plan
        inside = self.trial().adjust("2 kg", td.Reading(5, dilution="1+9"), target=(4.8, 5.2))
        assert inside.is_reached and float(inside.remaining()) == 0 and "nothing has to be added" in str(inside)
        with pytest.raises(td.errors.Contradiction, match="5.2 to 4.8"):
            self.trial().adjust("2 kg", td.Reading(7.9, dilution="1+9"), target=(5.2, 4.8))

    def test_a_titration_travels(self):
        trial = self.trial()
        assert pickle.loads(pickle.dumps(trial)) == trial
        calculated = td.Formula("Rinse", {"citric-acid-50": 1, "water": 99}, CATALOGUE)
        calculated = calculated.calculated_titration(CATALOGUE.material("sodium-hydroxide-10"), most="3 g")
        again = pickle.loads(pickle.dumps(calculated))
        assert again == calculated and again.is_calculated

    @pytest.mark.parametrize("target", [4.6, 8, 3])
    def test_nothing_is_extrapolated(self, target):
        with pytest.raises((td.errors.OutOfRange, td.errors.Contradiction)):
            self.trial().adjust("2 kg", td.Reading(7.9, dilution="1+9"), target=target)

    def test_another_dilution_is_another_reading(self):
        with pytest.raises(td.errors.Contradiction, match="another dilution"):
            self.trial().adjust("2 kg", td.Reading(7.9, dilution="1+10"), target=5.5)


def test_acids_and_readings_travel():
    reading = td.Reading(
        5.6, dilution="1+9", temperature=22, water="deionised", instrument="glass electrode", after=30, on="2026-11-24"
    )
    for value in [td.ph.Acid.named("sorbic acid"), td.ph.Acid("mine", 1, [7.2]), td.ph.Acid("mine", 0, [7.2], [20.0]), reading]:
        assert pickle.loads(pickle.dumps(value)) == value
        assert eval(repr(value), {**vars(td._native), "Decimal": Decimal}) == value


def test_what_stands_at_a_reading():
    bar = td.Formula("Bar", {"sci-powder": 98.5, "sodium-benzoate": 0.5, "calcium-carbonate": 1}, CATALOGUE)
    reading = td.Reading("5.8", dilution="1+9")
    window = bar.ph_window()
    assert window.range is None and [row.line for row in window.clash] == ["calcium-carbonate", "sodium-benzoate"]
    assert [far.row.line for far in window.distances(reading) if not far.is_inside] == [
        "sodium-benzoate",
        "calcium-carbonate",
    ]
    rows = bar.preservatives_at(reading, thresholds={"benzoic acid": "0.05"})
    assert rows[0].standing == "below" and "upper bound" in rows._repr_html_()
    with pytest.raises(td.errors.UnknownName):
        bar.preservatives_at(reading, thresholds={"citric acid": 1})
