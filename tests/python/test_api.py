"""Every class of the package, as people use it."""

import copy
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
import tenside as td
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()
PRICES = {
    "sci-powder": 6.4,
    "scs-needles": 5.2,
    "capb-30": 2.9,
    "cetyl-alcohol": 4.8,
    "kaolin": 1.9,
    "panthenol": 24,
    "citric-acid-50": 3.2,
}


def wash():
    return (
        td.Brief("Salt-marsh bar", CATALOGUE, prices=PRICES, currency="EUR")
        .split({"sci-powder": 14, "scs-needles": 5, "capb-30": 1}, by="active", name="wash")
        .fix("panthenol", 1.5)
        .fix("citric-acid-50", 0.3)
        .between("cetyl-alcohol", 3, 6)
        .qs("kaolin")
        .target(m.active_matter, 58)
        .at_most(m.water, 9)
        .minimise(m.cost)
    )


@pytest.fixture(scope="module")
def answer():
    return wash().solve()


class TestNumbers:
    """Every usual kind of number means what it prints."""

    @pytest.mark.parametrize(
        ("given", "meant"),
        [
            (2, 2),
            (0.1, Fraction(1, 10)),
            ("1/3", Fraction(1, 3)),
            (" 1.5e-3 ", Fraction(15, 10000)),
            (
                Decimal("0.10000000000000000000000000000000000001"),
                Fraction(Decimal("0.10000000000000000000000000000000000001")),
            ),
            (Fraction(7, 3), Fraction(7, 3)),
            (np.float64(0.1), Fraction(1, 10)),
            (np.float32(0.1), Fraction(1, 10)),
            (np.float16(0.1), Fraction(1, 10)),
            (np.int32(-7), -7),
            (np.uint8(200), 200),
            (np.array(0.25), Fraction(1, 4)),
            (10**30, 10**30),
        ],
    )
    def test_it_is_read_exactly(self, given, meant):
        value = td.measure.Interval(given).typical
        assert value == meant
        assert isinstance(value, Fraction)

    @pytest.mark.parametrize(
        "given",
        [
            float("nan"),
            float("inf"),
            -float("inf"),
            np.float32("nan"),
            Decimal("NaN"),
            Decimal("sNaN"),
            Decimal("-Infinity"),
            Decimal("1e999999999"),
            1e300,
            "1e400",
            "",
            "twelve",
            "1/0",
            "1\x00",
            True,
            np.True_,
            [1],
            np.array([1, 2]),
            {},
            object(),
            10**5000,
            1j,
        ],
        ids=lambda given: type(given).__name__,
    )
    def test_what_is_no_number_is_refused(self, given):
        with pytest.raises(td.errors.NotANumber) as caught:
            td.measure.Interval(given)
        assert caught.value.faults[0].kind == "not-a-number"

    def test_exact_results_of_any_length_come_back(self):
        long = Fraction(3**4000, 2**6000)
        assert td.measure.Interval(Fraction(1, 3) ** 5).typical == Fraction(1, 243)
        with pytest.raises(td.errors.NotANumber, match="4096"):
            td.measure.Interval(long * 10**1000)


class TestCatalogue:
    def test_it_is_looked_into(self):
        assert len(CATALOGUE) == len(CATALOGUE.materials()) >= 100
        assert len(CATALOGUE.substances()) >= 250
        assert "kaolin" in CATALOGUE
        assert "moon dust" not in CATALOGUE
        assert CATALOGUE.material("Kaolin").id == "kaolin"
        assert CATALOGUE.lots() == []
        assert repr(CATALOGUE).startswith("<Catalogue of ")

    def test_a_change_gives_a_new_one(self):
        lot = td.Lot("W-27", "capb-30", active=29.1, method="titrated")
        larger = CATALOGUE.with_lot(lot)
        assert larger.lot("W-27") == lot
        assert larger != CATALOGUE
        with pytest.raises(td.errors.Duplicate):
            larger.with_lot(lot)
        alone = td.Catalogue().with_material(CATALOGUE.material("kaolin"))
        assert [material.id for material in alone.materials()] == ["kaolin"]

    def test_sheets_of_a_spreadsheet(self, tmp_path):
        materials = "id;name;form;source\r\nhouse-glycerin;Glycerin 99,5 %;liquid;invented\r\n"
        constituents = "material;constituent;typical;low;high\r\nhouse-glycerin;GLYCERIN;99,5;99;100\r\nhouse-glycerin;WATER;0,5;;\r\n"
        catalogue = td.Catalogue.from_csv(materials, constituents, decimal_comma=True)
        assert catalogue.material("house-glycerin").constituents[0].low == 99
        paths = [tmp_path / "materials.csv", tmp_path / "constituents.csv"]
        for path, text in zip(paths, [materials, constituents]):
            path.write_bytes(b"\xef\xbb\xbf" + text.encode())
        assert td.read_catalogue_csv(*paths, decimal_comma=True, delimiter="semicolon") == catalogue
        assert td.Catalogue.from_csv(*catalogue.to_csv()) == catalogue
        with pytest.raises(td.TensideError) as caught:
            td.Catalogue.from_csv(materials, constituents)
        fault = caught.value.faults[0]
        assert (fault.file, fault.position) == ("constituents", (2, 3))

    def test_the_winner_of_a_merge_is_stated(self):
        text = """
        tenside = "catalogue/1"
        source = "invented"
        [[material]]
        id = "kaolin"
        name = "Another clay"
        form = "powder"
        constituents = [{ inci = "KAOLIN", typical = 99 }, { inci = "WATER", typical = 1 }]
        """
        other = td.Catalogue.from_toml(text)
        with pytest.raises(td.errors.Duplicate):
            CATALOGUE.merge(other)
        assert CATALOGUE.merge(other, winner="ours").material("kaolin") == CATALOGUE.material("kaolin")
        assert CATALOGUE.merge(other, winner="theirs").material("kaolin").name == "Another clay"
        with pytest.raises(td.errors.UnknownName, match="ours, theirs, neither"):
            CATALOGUE.merge(other, winner="mine")


class TestMaterial:
    def test_every_attribute_is_there(self):
        for material in CATALOGUE.materials():
            for name in dir(material):
                if not name.startswith("_"):
                    getattr(material, name)
            assert material.is_starter
            assert material.lot is None
            if material.has_typical and material.constituents:
                assert sum(row.typical for row in material.constituents) == 100
            for row in material.constituents:
                assert (row.low is None or row.low <= row.typical) and (row.high is None or row.typical <= row.high)

    def test_active_solids_and_attributes(self):
        betaine = CATALOGUE.material("capb-30")
        assert betaine.active() == 30
        assert betaine.active("anionic-surfactant") == 0
        assert 30 < betaine.solids() < 40
        assert CATALOGUE.material("scs-needles").attribute("sulfate").source
        assert CATALOGUE.material("citric-acid-50").cautions["eye-irritant"]
        with pytest.raises(td.errors.UnknownName, match="sulfate"):
            betaine.attribute("sulphate")

    def test_a_lot_replaces_typical_values(self):
        betaine = CATALOGUE.material("capb-30")
        lot = betaine.with_lot(td.Lot("W-27", "capb-30", active="28.5", method="titrated", salt=5.5))
        assert lot.active() == Fraction(57, 2)
        assert lot.typical == betaine
        changes = {change.constituent: change for change in lot.certificate_changes}
        assert changes["COCAMIDOPROPYL BETAINE"].lot == Decimal("28.5")
        assert changes["WATER"].takes_difference
        with pytest.raises(td.errors.Contradiction):
            betaine.with_lot(td.Lot("K-1", "kaolin", loss_on_drying=1))

    def test_a_premix_is_a_material(self):
        base = td.Formula("Wash powder", {"sci-powder": 80, "kaolin": 20}, CATALOGUE).to_material(
            "wash-powder", form="powder"
        )
        assert [(leaf.id, share) for leaf, share in base.leaves] == [
            ("sci-powder", Fraction(4, 5)),
            ("kaolin", Fraction(1, 5)),
        ]
        bar = td.Brief("Bar", CATALOGUE).fix(base, 90).qs("glycerin-99-5").solve().formula
        assert float(bar.measure(m.anionic_active)) > 50


class TestSubstance:
    def test_every_attribute_is_there(self):
        for substance in CATALOGUE.substances():
            for name in dir(substance):
                if not name.startswith("_"):
                    getattr(substance, name)
        salt = CATALOGUE.substance("SODIUM CHLORIDE")
        assert salt.charge.kind == "neutral"
        assert salt.molar_mass.low == salt.molar_mass.typical == salt.molar_mass.high
        assert copy.copy(salt) is salt


class TestLot:
    def test_what_a_certificate_states(self):
        lot = td.Lot(
            "W-27",
            "capb-30",
            active=29.1,
            method="titrated",
            molar_mass=342.5,
            solids=35,
            salt=5,
            free_fatty_acid=0,
            ph=5.5,
            retest="2027-03-31",
        )
        assert (lot.active, lot.molar_mass, lot.solids, lot.ph, lot.retest) == (
            Decimal("29.1"),
            Decimal("342.5"),
            35,
            Decimal("5.5"),
            "2027-03-31",
        )
        assert lot.loss_on_drying is None

    @pytest.mark.parametrize(
        ("keywords", "kind"),
        [
            ({"active": 29.1}, td.errors.Missing),
            ({"method": "titrated"}, td.errors.Missing),
            ({"active": 129, "method": "titrated"}, td.errors.OutOfRange),
            ({"ph": 70}, td.errors.OutOfRange),
            ({"retest": "31 March"}, td.errors.OutOfRange),
            ({"solids": 33.33333}, td.errors.OutOfRange),
        ],
    )
    def test_what_it_cannot_state(self, keywords, kind):
        with pytest.raises(kind):
            td.Lot("W-27", "capb-30", **keywords)


class TestFormula:
    def test_it_is_built_from_percentages_or_lines(self):
        kaolin = CATALOGUE.material("kaolin")
        lines = [
            td.Line(kaolin, 40, name="on top", phase="cool-down", groups="clay"),
            td.Line(kaolin, "60", groups=["clay"], qs=True),
        ]
        formula = td.Formula("Two clays", lines, phases={"cool-down": 40, "powder": None})
        assert [phase.name for phase in formula.phases] == ["cool-down", "powder"]
        assert formula.phases[0].temperature == 40
        assert formula.percentages == {"on top": 40, "kaolin": 60}
        assert formula.absorber == "kaolin"
        assert formula.line("on top").groups == ["clay"]
        assert formula.is_draft
        assert float(formula.measure(m.as_supplied.contributed_by(lines="on top"))) == 40
        assert formula == td.Formula("Two clays", formula.lines, phases={"cool-down": 40, "powder": None})
        with pytest.raises(td.errors.Contradiction, match="99.5"):
            td.Formula("Not full", {"kaolin": 99.5}, CATALOGUE)
        with pytest.raises(td.errors.UnknownName):
            td.Formula("No catalogue", {"kaolin": 100})

    def test_measures_on_both_bases(self, answer):
        formula = answer.formula
        charged = formula.measure(m.active_matter)
        assert abs(charged.value.typical - 58) < Fraction(1, 1000)
        assert charged.value.low < charged.value.typical < charged.value.high
        assert charged.basis == td.as_charged
        dried = formula.measure(m.active_matter, basis=td.finished(moisture=2))
        assert float(dried) > float(charged)
        assert dried.text().endswith("%")
        table = formula.measures(td.finished(moisture=2))
        assert {reading.basis for reading in table} == {td.finished(moisture=2)}
        assert "active matter, %" in str(table)
        assert "| active matter, % |" in formula.measures().page.markdown()
        both = formula.page(td.as_charged, td.finished(moisture=2))
        assert "finished, 2 % moist" in str(both)
        assert both.html_document().lower().startswith("<!doctype html>")
        assert both == formula.page(td.as_charged, td.finished(moisture=2)) != formula.page()

    def test_what_is_not_known_has_no_float(self):
        reading = td.Formula("Clay", {"kaolin": 100}, CATALOGUE).measure(m.cost)
        assert reading.value is None
        assert reading.why_not[0].kind == "not-known"
        with pytest.raises(td.errors.NotKnown):
            float(reading)

    def test_constituents_sum_to_the_whole(self, answer):
        rows = answer.formula.expand()
        assert sum(row.percent.typical for row in rows) == 100
        assert rows[0].percent.typical >= rows[-1].percent.typical
        assert rows[-1] == rows[len(rows) - 1]
        with pytest.raises(IndexError):
            rows[len(rows)]

    def test_two_side_by_side(self, answer):
        changed = td.Brief("Changed", CATALOGUE).least_change_from(answer.formula)
        for line in answer.formula.lines:
            changed = changed.between(line.material, 0, 80)
        later = changed.target(m.active_matter, 50).solve().formula
        difference = answer.formula.difference(later)
        assert [row.name for row in difference.lines] == [line.name for line in later.lines]
        assert sum(row.after - row.before for row in difference.lines) == 0
        assert "change" in str(difference)


class TestMeasure:
    def test_it_is_a_value(self):
        assert m.water == td.measure.Measure("water")
        assert m.water != m.water.within(phase="liquid")
        assert len({m.water, td.measure.Measure("water"), m.solids}) == 2
        assert (m.water.name, m.water.unit) == ("water", "%")
        assert m.cost.per(m.active_matter).is_ratio
        assert m.charge_ratio.name == "charge ratio, cationic per anionic"

    def test_every_ready_made_one_is_read(self, answer):
        for name in m.__all__:
            measure = getattr(m, name)
            if isinstance(measure, td.measure.Measure):
                assert answer.formula.measure(measure).measure == measure

    def test_functions_name_one_thing(self, answer):
        formula = answer.formula
        assert float(formula.measure(m.constituent("PANTHENOL"))) > 1
        assert float(formula.measure(m.substance("PANTHENOL"))) > 1
        assert float(formula.measure(m.class_("fatty-alcohol"))) > 2
        assert float(formula.measure(m.active_of_class("anionic-surfactant"))) > 50
        assert float(formula.measure(m.form("liquid"))) > 1
        assert float(formula.measure(m.material("panthenol"))) == 1.5
        assert float(formula.measure(m.attribute("sulfate"))) > 10
        scores = {line.material.id: 2 for line in formula.lines}
        assert float(formula.measure(m.score("slip", scores))) == 2

    def test_a_scope_has_one_keyword(self):
        with pytest.raises(td.errors.Missing):
            m.water.within()
        with pytest.raises(td.errors.Contradiction):
            m.water.within(phase="liquid", group="wash")
        with pytest.raises(TypeError):
            m.water.within("liquid")

    def test_text_is_refused_with_both_spellings(self):
        with pytest.raises(td.errors.AmbiguousName) as caught:
            wash().at_least("active_matter", 3)
        assert "measure.active_matter" in str(caught.value)
        assert 'measure.as_supplied.contributed_by(lines="active_matter")' in str(caught.value)
        with pytest.raises(TypeError):
            wash().at_least(7, 3)


class TestBrief:
    def test_it_says_what_was_asked(self):
        brief = wash()
        assert [line.role for line in brief.lines][-2:] == ["between 3 and 6 %", "to 100 %"]
        assert [requirement.name for requirement in brief.requirements] == [
            "active matter at 58 %",
            "water at most 9 %",
        ]
        assert brief.splits[0].parts == [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)]
        assert brief.objective == "minimise cost"
        assert brief.prices["sci-powder"] == Decimal("6.4")
        assert brief.currency == "EUR"
        assert brief.catalogue == CATALOGUE

    def test_every_method_gives_a_new_one(self):
        brief = td.Brief("Empty", CATALOGUE)
        for change in [
            lambda brief: brief.free("kaolin"),
            lambda brief: brief.line("clay", "kaolin", low=1),
            lambda brief: brief.phase("melted", 75),
            lambda brief: brief.target(m.water, 3),
            lambda brief: brief.at_least(m.water, 3, basis=td.finished(moisture=5), name="moist"),
            lambda brief: brief.within(m.water, 3, 4, for_every_composition=True),
            lambda brief: brief.require(m.water, at_most=3),
            lambda brief: brief.without("sulfate"),
            lambda brief: brief.maximise(m.water, basis=td.finished(moisture=5)),
            lambda brief: brief.with_prices({"kaolin": 2}),
            lambda brief: brief.with_title("Other"),
        ]:
            assert change(brief) != brief
            assert change(brief) == change(brief)
        assert brief == td.Brief("Empty", CATALOGUE)

    def test_scopes_groups_phases_and_lots(self):
        lot = td.Lot("W-27", "capb-30", active=20, method="titrated")
        brief = (
            td.Brief("Wash", CATALOGUE.with_lot(lot))
            .line("wash", "capb-30", lot="W-27", low=0, high=60)
            .fix("glycerin-99-5", 2)
            .qs("kaolin")
            .phase("clay", 20)
            .in_phase("kaolin", "clay")
            .group("wet", ["wash", "glycerin-99-5"])
            .target(m.active_matter.contributed_by(group="wet"), 10)
        )
        formula = brief.solve().formula
        assert formula.percentages["wash"] == 50
        assert formula.line("kaolin").phase == "clay"
        assert formula.line("wash").material.lot == lot
        stocked = (
            td.Brief("Wash", CATALOGUE.with_lot(lot))
            .between("capb-30", 10, 60)
            .free("sci-powder")
            .qs("kaolin")
            .in_stock("W-27", "kaolin")
        )
        assert stocked.lines[0].material.lot == lot
        assert stocked.requirements[0].name == "sci-powder is not in stock"

    def test_use_levels_are_named_requirements(self):
        brief = td.Brief("Levels", CATALOGUE).free("panthenol").qs("kaolin")
        levels = brief.within_use_levels("shampoo-bar")
        without = brief.materials_without_use_level("shampoo-bar")
        assert len(levels.requirements) + len(without) == 2

    @pytest.mark.parametrize(
        "ask",
        [
            lambda brief: brief.line("two roles", "kaolin", fix=3, qs=True),
            lambda brief: brief.between("kaolin", 6, 3),
            lambda brief: brief.require(m.water),
            lambda brief: brief.require(m.water, equal=3, at_most=4),
        ],
    )
    def test_what_cannot_be_meant_is_refused(self, ask):
        with pytest.raises(td.errors.Contradiction):
            ask(td.Brief("Refused", CATALOGUE))

    def test_unpriced_materials_are_named(self):
        with pytest.raises(td.TensideError, match="kaolin"):
            td.Brief("Unpriced", CATALOGUE, prices={"sci-powder": 6}).free("sci-powder").qs("kaolin").minimise(
                m.cost
            ).solve()


class TestAnswer:
    def test_it_is_exact_and_proved(self, answer):
        assert answer.verify() is True
        assert answer.proof.verify() is True
        assert sum(answer.exact.values()) == 100
        assert answer.proof.outcome == "optimal"
        assert all(isinstance(row.multiplier, Fraction) for row in answer.proof.rows)
        cost = sum(answer.exact[name] * Fraction(str(PRICES[name])) for name in answer.exact) / 100
        assert answer.objective == cost
        assert answer.brief == wash()
        assert answer.grid_refusal is None

    def test_the_grid_formula_keeps_every_one_sided_requirement(self, answer):
        percentages = answer.formula.percentages
        assert sum(percentages.values()) == 100
        assert all(isinstance(percent, Decimal) for percent in percentages.values())
        assert answer.formula.measure(m.water).value.typical <= 9
        for departure in answer.departures:
            assert abs(departure.departure) <= departure.bound

    def test_what_binds_is_said(self, answer):
        assert any("cetyl-alcohol" in binding.words for binding in answer.binding)

    def test_how_far_it_holds(self, answer):
        limit = next(limit for limit in answer.limit_ranges() if limit.words.startswith("active matter"))
        assert limit.low < limit.value < limit.high
        moved = td.Brief.from_toml(wash().to_toml().replace("equal = 58", "equal = 58.5")).solve()
        assert moved.objective == answer.objective + limit.price / 2
        prices = {price.material: price for price in answer.price_ranges()}
        assert prices["kaolin"].price == Fraction("1.9")
        assert all("per kg" in price.sentence for price in prices.values())
        reach = wash().reach(m.water)
        assert reach.lowest <= answer.formula.measure(m.water).value.typical <= reach.highest + Fraction(1, 1000)

    def test_it_is_shown_with_what_is_proved(self, answer):
        assert "arithmetic is proved for the compositions" in " ".join(str(answer).split())
        assert all(len(line) <= 80 for line in str(answer).splitlines())


class TestConflict:
    def test_it_names_what_cannot_hold_together(self):
        brief = td.Brief("Too strong", CATALOGUE).between("capb-30", 0, 50).qs("water").at_least(m.active_matter, 40)
        conflict = brief.try_solve()
        assert isinstance(conflict, td.solve.Conflict)
        assert conflict.verify() is True
        assert conflict.proof.outcome == "infeasible"
        assert any("active matter at least 40 %" in member for member in conflict.members)
        assert conflict.brief == brief
        with pytest.raises(td.errors.Unanswerable) as caught:
            brief.solve()
        assert caught.value.conflict == conflict
        assert str(caught.value) == conflict.sentence
        assert [change.to for change in conflict.relaxations() if change] == [15]
        assert conflict.relaxations()[0].sentence in str(conflict)
        assert caught.value.faults[0].kind == "unanswerable"


class TestDraft:
    TEXT = "sci-powder 60 %\ncetyl alcohol: 10-15 %\nRosemary oil 1 % (optional)\nkaolin 25 %"

    def test_every_question_comes_at_once(self):
        draft = td.Draft.from_text("Pasted bar", self.TEXT)
        assert [(question.kind, question.line) for question in draft.questions(CATALOGUE)] == [
            ("range", 2),
            ("optional-line", 3),
        ]
        with pytest.raises(td.errors.OpenQuestion) as caught:
            draft.to_formula(CATALOGUE)
        assert len(caught.value.faults) == 2
        assert draft.lines[1].amount == draft.lines[1].current_amount == "10-15 %"

    def test_answers_lead_to_a_formula(self):
        draft = td.Draft.from_text("Pasted bar", self.TEXT).set_amount(2, "15 %")
        question = draft.questions(CATALOGUE)[0]
        drop = next(choice for choice in question.choices if "leave" in choice.label)
        for answered in [
            draft.answer(question, drop),
            draft.answer("optional-line@3", drop),
            draft.drop_line(3),
            draft.drop_optional(3),
        ]:
            assert answered.to_formula(CATALOGUE).percentages == {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}
            assert answered.lines[2].is_dropped
            assert answered.lines[1].amount == "10-15 %"
        assert draft.accept(question).questions(CATALOGUE)[0].kind == "total-not-hundred"

    def test_totals_masses_and_duplicates(self):
        thirds = td.Draft("Thirds", [("kaolin", "70 g"), ("cetyl-alcohol", "70 g"), ("sci-powder", "70 g")]).settle(
            CATALOGUE
        )
        assert sum(thirds.formula.percentages.values()) == 100
        assert thirds.departures[0].exact == Fraction(100, 3)
        twice = td.Draft("Twice", [("kaolin", "50 %"), td.formula.DraftLine("kaolin", "50 %", phase="cool-down")])
        assert twice.merge_duplicates().to_formula(CATALOGUE).percentages == {"kaolin": 100}
        assert twice.merge(2) != twice
        assert set(twice.name_line(2, "on top").to_formula(CATALOGUE).percentages) == {"kaolin", "on top"}
        over = td.Draft("Over", [("kaolin", "97.5 %")]).normalise()
        assert over.is_normalised
        assert over.to_formula(CATALOGUE).percentages == {"kaolin": 100}

    def test_the_other_answers(self):
        plain = td.Draft("Plain", [("kaolin", "60"), ("cetyl-alcohol", "q.s."), ("sci-powder", "q.s.")])
        filled = plain.fill_with(2).set_amount(3, "30").with_figures_in("percent").accept("qs-not-water@2")
        assert filled.to_formula(CATALOGUE).percentages["cetyl-alcohol"] == 10
        weighed = (
            td.Draft("Weighed", [("white clay", "150 g"), ("cetyl-alcohol", "q.s.")])
            .choose(1, "kaolin")
            .with_batch("200 g")
        )
        assert weighed.batch == 200
        assert weighed.accept("qs-not-water@2").to_formula(CATALOGUE).percentages["cetyl-alcohol"] == 25
        assert td.Draft("Wrong", [("stir well", None)]).rewrite(1, "kaolin", "100 %").to_formula(
            CATALOGUE
        ).percentages == {"kaolin": 100}
        with pytest.raises(td.errors.UnknownName):
            plain.drop_line(9)
        with pytest.raises(td.errors.Missing, match="unit"):
            plain.with_batch(200)


class TestBatch:
    BAR = td.Formula(
        "Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 24.8, "rosemary-oil": 0.2}, CATALOGUE
    )

    def test_bars_with_their_losses(self):
        batch = self.BAR.batch(
            bars=24, net="60 g", drying_loss=8, process_loss=4, readability="0.1 g", number="7", date="2026-11-24"
        )
        assert batch.weighed == Fraction("1630.4")
        assert batch.asked == Fraction(24 * 60) / (Fraction(92, 100) * Fraction(96, 100))
        assert sum(weighing.rounded for weighing in batch.weighings) == batch.weighed
        assert {weighing.line for weighing in batch.weighings} == set(self.BAR.percentages)
        assert all(weighing.rounded % weighing.division == 0 for weighing in batch.weighings)
        assert batch.bar_masses.bars == 24
        assert batch.bar_masses.charged > batch.bar_masses.pressed > batch.bar_masses.dry
        assert (batch.number, batch.date, batch.formula) == ("7", "2026-11-24", self.BAR)

    def test_the_sheet_has_numbers_cautions_and_the_standing_sentence(self):
        sheet = self.BAR.batch(
            mass="1 kg", readability="1 g", readability_of={"cool-down": "0.01 g"}, unit="g", tolerance=1
        ).sheet()
        for shown in [sheet.text, sheet.markdown, sheet.html]:
            assert "no safety data sheet" in " ".join(shown.split())
            assert "respirator" in shown
        assert str(sheet) == sheet.text
        assert all(len(line) <= 80 for line in sheet.text.splitlines())
        assert sheet._repr_html_().startswith("<iframe")

    def test_a_line_too_small_for_the_scale_is_flagged(self):
        batch = self.BAR.batch(mass="200 g", bars=3, readability="0.1 g")
        notes = [note for note in batch.notes if note.line == "rosemary-oil"]
        assert notes[0].kind == "too-small"
        assert "rosemary" in notes[0].sentence.lower()

    def test_pressed_bars(self):
        batch = self.BAR.batch(mass="200 g", bars=3, readability="0.1 g")
        pressed = batch.pressed(["66.2 g", "66.9 g", "66.3 g"])
        assert (pressed.sum, pressed.range) == (Fraction("199.4"), Fraction("0.7"))
        assert pressed.implied_process_loss == Fraction("0.3")
        with pytest.raises(td.errors.Contradiction):
            batch.pressed(["100 g", "101 g"])

    @pytest.mark.parametrize(
        ("keywords", "kind"),
        [
            ({}, td.errors.Missing),
            ({"bars": 24}, td.errors.Missing),
            ({"bars": 24, "net": "60 g", "mass": "1 kg"}, td.errors.Missing),
            ({"bars": 0, "net": "60 g"}, td.errors.OutOfRange),
            ({"mass": 200}, td.errors.Missing),
            ({"mass": "2 fl oz"}, td.errors.UnknownName),
            ({"mass": "-1 g"}, td.errors.OutOfRange),
            ({"mass": "1 kg", "drying_loss": 100}, td.errors.OutOfRange),
            ({"mass": "1 kg", "readability_of": {"moon": "0.1 g"}}, td.errors.UnknownName),
            ({"mass": "1 kg", "date": "tomorrow"}, td.errors.OutOfRange),
        ],
    )
    def test_what_cannot_be_made(self, keywords, kind):
        with pytest.raises(kind):
            self.BAR.batch(**{"readability": "0.1 g", **keywords})


class TestReading:
    def test_a_ph_with_how_it_was_read(self):
        reading = td.Reading(5.6, dilution="1+9", temperature=22, method="glass electrode", on="2026-11-24")
        assert (reading.value, reading.dilution, reading.temperature, reading.on) == (
            Decimal("5.6"),
            "1+9",
            22,
            "2026-11-24",
        )
        with pytest.raises(td.errors.OutOfRange):
            td.Reading(5.6, dilution="10 %")


class TestPasting:
    @pytest.mark.parametrize(
        "value",
        [
            td.as_charged,
            td.finished(moisture=5),
            td.finished(moisture="1/3"),
            td.finished(moisture=Decimal("0.1234567890123456789")),
            td.measure.Interval(Fraction(1, 3), low=0),
            td.measure.Interval(1, low=1, high="7/3"),
            td.Lot("W-27", "capb-30", active=29.1, method='two-"phase"', retest="2027-03-31"),
            td.Reading("5.60", dilution="1+9", temperature=22, method="it's"),
            m.water,
            m.charge_ratio,
            m.class_("wax"),
            m.constituent("A 'quoted' \"name\" \\ with <b>"),
            m.score("slip", {"kaolin": "2.5", "water": -1}),
            m.cost.per(m.score("slip", {"kaolin": 2})),
            m.water.within(phase="liquid"),
            m.water.contributed_by(group="wet"),
            m.cost.per(m.active_matter).within(lines=["a", "b"]),
            m.cost.contributed_by(lines="a").per(m.active_matter.contributed_by(phase="powder")),
            m.cost.per(m.active_matter.contributed_by(phase="powder")),
            m.water.per(m.as_supplied.contributed_by(lines="a")),
        ],
        ids=repr,
    )
    def test_what_is_printed_can_be_pasted_back(self, value):
        names = {**vars(td._native), "measure": m, "as_charged": td.as_charged, "Decimal": Decimal, "Fraction": Fraction}
        pasted = eval(repr(value), names)
        assert pasted == value
        assert hash(pasted) == hash(value)
