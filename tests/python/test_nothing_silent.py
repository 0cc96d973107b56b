"""Nothing that is not known, not named or not asked for counts as nothing or as approved: each case once went through without a word."""

from fractions import Fraction

import pytest
import tenside as td
from tenside import measure as m

ON = "2026-11-24"


@pytest.fixture(scope="module")
def starter():
    return td.Catalogue.starter()


def test_a_known_number_under_another_name_is_the_same_substance(starter):
    own = td.Substance("HOUSE BETA HYDROXY ACID", "acid", source="safety data sheet", cas="69-72-7")
    catalogue = starter.with_material(td.Material("house-acid", "House acid", "powder", {own: 100}))
    bar = td.Formula("Bar", {"house-acid": 5, "sci-powder": 70, "cetyl-alcohol": 10, "kaolin": 15}, catalogue)
    for name in ("SALICYLIC ACID", "69-72-7"):
        assert bar.measure(m.substance(name)).value.typical == 5
        assert bar.exposure(name, product="shampoo", oral_dose=75).percent.typical == 5
    review = bar.review(market="EU", use="shampoo-bar", on=ON)
    assert any(finding.slug.startswith("annex-iii-98") and finding.severity == "error" for finding in review.findings)
    assert not any("BETA HYDROXY" in status.sentence for status in review.statuses)
    brief = td.Brief("Bar", catalogue).between("house-acid", 0, 10).qs("kaolin").at_most(m.substance("SALICYLIC ACID"), 2)
    assert brief.maximise(m.material("house-acid")).solve().formula.percentages["house-acid"] == 2
    # The other way round, asked for under the name of one's own.
    known = td.Formula("Known", {"salicylic-acid": 5, "kaolin": 95}, catalogue)
    assert known.measure(m.substance("HOUSE BETA HYDROXY ACID"), catalogue=catalogue).value == known.measure(m.substance("SALICYLIC ACID")).value
    summed = m.substance_sum("acids", {"HOUSE BETA HYDROXY ACID": 1})
    assert known.measure(summed, catalogue=catalogue).value.typical == known.measure(m.substance("SALICYLIC ACID")).value.typical
    assert bar.measure(m.substance_sum("acids", {"SALICYLIC ACID": 1})).value.typical == 5
    # Another substance without the number stays another.
    other = td.Substance("HOUSE BETA HYDROXY ACID", "acid", source="safety data sheet")
    other = starter.with_material(td.Material("house-acid", "House acid", "powder", {other: 100}))
    assert td.Formula("Bar", {"house-acid": 5, "kaolin": 95}, other).measure(m.substance("SALICYLIC ACID")).value.typical == 0


def test_surfactants_of_ones_own_count_as_active_unless_stated(starter):
    for class_, counts in (
        ("anionic-surfactant", True),
        ("amphoteric-surfactant", True),
        ("nonionic-surfactant", True),
        ("cationic-surfactant", False),
        ("emulsifier", False),
    ):
        own = td.Substance("HOUSE SURFACTANT", class_, source="supplier")
        assert own.counts_as_active == counts, class_
        assert td.Substance("HOUSE SURFACTANT", class_, source="supplier", counts_as_active=not counts).counts_as_active != counts
        for stated in (own, td.Substance("HOUSE SURFACTANT", class_, source="supplier", counts_as_active=not counts)):
            catalogue = starter.with_material(td.Material("house", "House", "powder", {stated: (85, 90, 95), "WATER": (5, 10, 15)}))
            bar = td.Formula("Bar", {"house": 60, "kaolin": 40}, catalogue)
            assert bar.measure(m.active_matter).value.typical == (54 if stated.counts_as_active else 0)
            again = td.Catalogue.from_json(catalogue.to_json())
            assert again.material("house") == catalogue.material("house")


def test_what_the_brief_has_no_line_for_is_named(starter):
    brief = td.Brief("Bar", starter).between("sci-powder", 50, 62).between("cetyl-alcohol", 5, 20).qs("kaolin").at_most(m.water, 2)
    made = brief.solve().formula.batch(mass="1 kg", readability="0.1 g").as_made(added={"fragrance-oil": "20 g"})
    [missed] = made.missed(brief)
    assert missed.asked == "nothing of fragrance-oil, which is no line of the brief"
    assert float(missed.value) == pytest.approx(2000 / 1020) and missed.limit == 0
    sentence = brief.rescue(made, readability="0.1 g").sentence
    assert sentence.endswith("What the brief has no line for stays in it: fragrance-oil (1.96 %).")


def test_a_rescue_without_scales_is_said_in_decimals(starter):
    brief = td.Brief("Bar", starter).between("sci-powder", 50, 62).between("cetyl-alcohol", 5, 20).qs("kaolin").at_most(m.water, 2)
    sentence = brief.rescue({"sci-powder": "600 g", "water": "100 g"}).sentence
    assert "/" not in sentence and "2733.33 g of sci-powder" in sentence and "6666.67 g in all" in sentence


def test_readings_say_what_they_leave_out(starter):
    catalogue = starter.with_material(td.Material("half", "Half", "powder", {"KAOLIN": 50}, unspecified=50))
    half = td.Formula("Half", {"half": 100}, catalogue)
    for measure in (m.water, m.soap, m.class_("preservative")):
        assert half.measure(measure).notes == ["the unspecified remainder is not counted: half"]
    spirit = td.Substance("HOUSE SPIRIT", "solvent", source="supplier")
    spirits = starter.with_material(td.Material("spirit", "Spirit", "liquid", {spirit: 100}))
    mixed = td.Formula("Mixed", {"spirit": 50, "kaolin": 50}, spirits)
    assert mixed.measure(m.solids).notes == ["of unknown volatility, and taken to stay on drying: HOUSE SPIRIT"]
    assert td.Formula("Clay", {"kaolin": 100}, starter).measure(m.water).notes == []


def test_held_water_that_is_not_stated_is_named(starter):
    own = td.Material("house-starch", "House starch", "powder", {"ZEA MAYS STARCH": 100})
    catalogue = starter.with_material(own)
    note = "the water that it holds is not stated, and counts as none: house-starch"
    bar = td.Formula("Bar", {"house-starch": 50, "sci-powder": 40, "water": 10}, catalogue)
    assert note in bar.measure(m.active_matter, td.finished(moisture=8, with_bound_water=True)).notes
    assert note in bar.measure(m.bound_water).notes
    assert note not in bar.measure(m.active_matter, td.finished(moisture=8)).notes
    known = td.Formula("Bar", {"corn-starch": 50, "sci-powder": 40, "water": 10}, catalogue)
    assert known.measure(m.bound_water).notes == []


def test_a_substitution_moves_no_more_than_it_must(starter):
    bar = td.Formula("Bar", {"sci-powder": 60, "capb-30": 10, "cetyl-alcohol": 8, "stearic-acid": 6, "kaolin": 16}, starter)
    after = bar.substitute("capb-30", "capb-powder", keep=m.active_matter).after
    moved = sum(abs(after.percentages[name] - bar.percentages[name]) for name in bar.percentages if name != "capb-30")
    assert moved == pytest.approx(10 - float(after.percentages["capb-powder"]))
    assert after.percentages["sci-powder"] == 60


def test_ranges_alone_do_not_hide_what_rests_on_no_composition(starter):
    ranged = td.Material("ranged", "Ranged", "liquid", {"WATER": (60, 70), "GLYCERIN": (30, 40)})
    catalogue, prices = starter.with_material(ranged), {"ranged": 3, "kaolin": 2}
    bar = td.Formula("Bar", {"ranged": 20, "kaolin": 80}, catalogue, prices=prices, currency="EUR")
    assert bar.measure(m.cost).value.typical == bar.costing("1 kg").total == Fraction(11, 5)
    assert bar.measure(m.constituent("KAOLIN")).value.typical == 80
    assert bar.measure(m.water).value.typical is None
    brief = td.Brief("Bar", catalogue, prices=prices, currency="EUR").between("ranged", 5, 20).qs("kaolin")
    assert brief.minimise(m.cost).solve().formula.percentages["ranged"] == 5
    split = td.Brief("Bar", catalogue).split({"ranged": 1, "kaolin": 3}, by="weight", name="pair").solve()
    assert split.formula.percentages["ranged"] == 25


def test_what_holds_bone_dry_alone_is_said_so(starter):
    wet = td.Formula("Wet", {"sodium-benzoate": "2.8", "water": 20, "sci-powder": 60, "kaolin": "17.2"}, starter)
    review = wet.with_purposes("sodium-benzoate", "preservative").review(market="EU", use="shampoo-bar", on=ON)
    [sentence] = [finding.sentence for finding in review.findings if "annex-v-1" in finding.slug]
    assert "as charged it is not so, bone-dry it is: state the residual moisture as sold" in sentence.lower()


def test_use_levels_hold_for_what_is_in_premixes(starter):
    premix = td.Formula("clays", {"kaolin": 90, "corn-starch": 10}, starter).to_material("clays", form="powder")
    brief = td.Brief("Bar", starter.with_material(premix)).fix("clays", 40).qs("sci-powder")
    assert isinstance(brief.within_use_levels("shampoo-bar").try_solve(), td.solve.Conflict)
    assert brief.materials_without_use_level("shampoo-bar") == ["clays"]


def test_a_written_brief_brings_what_its_measures_name(starter):
    own = td.Substance("HOUSE ESTER", "ester", source="supplier")
    score = m.score("slip", {"house-oil": 2, "kaolin": 1, "sci-powder": 1})
    catalogue = starter.with_material(td.Material("house-oil", "House oil", "oil", {own: 100}))
    brief = td.Brief("Bar", catalogue).between("sci-powder", 20, 60).qs("kaolin").at_most(m.substance("HOUSE ESTER"), 2)
    brief = brief.at_most(m.material("house-oil"), 1).at_least(score, "0.1")
    for text, read in ((brief.to_json(), td.Brief.from_json), (brief.to_toml(), td.Brief.from_toml)):
        assert read(text).solve().formula == brief.solve().formula


def test_a_prediction_knows_the_lines_that_no_run_had(starter):
    mixes = [(45, 4, 41), (60, 4, 26), (45, 12, 33), (60, 12, 18), (52, 8, 30), (52, 8, 30)]
    results = [51, 42, 60, 52, 50.5, 51.2]
    runs = [
        td.trial.TrialRun(str(place), {"sci-powder": a, "cetyl-alcohol": b, "kaolin": c, "capb-30": 10}, {"hardness": result})
        for place, ((a, b, c), result) in enumerate(zip(mixes, results))
    ]
    model = td.trial.TrialLog("Bars", {"hardness": "N"}, runs).fit("hardness", model="linear")
    inside = {"sci-powder": 50, "cetyl-alcohol": 8, "kaolin": 32, "capb-30": 10}
    assert not model.predict(td.Formula("Inside", inside, starter)).is_extrapolation
    weighed = inside | {"capb-30": "9.8", "kaolin": "32.2"}
    assert not model.predict(td.Formula("Weighed", weighed, starter)).is_extrapolation
    for lines in (
        {"sci-powder": 25, "cetyl-alcohol": 4, "kaolin": 16, "capb-30": 5, "water": 45, "sodium-chloride": 5},
        {"sci-powder": 50, "cetyl-alcohol": 8, "kaolin": 27, "capb-30": 10, "water": 5},
        {"sci-powder": 55, "cetyl-alcohol": 9, "kaolin": 36},
    ):
        assert model.predict(td.Formula("Outside", lines, starter)).is_extrapolation
