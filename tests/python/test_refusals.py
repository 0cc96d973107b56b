"""What is not meant is refused with the reason, and what is not known makes no number."""

from fractions import Fraction

import pytest
import tenside as td
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()


def brief(**keywords):
    return td.Brief("Bar", CATALOGUE, **keywords).between("sci-powder", 20, 80).between("panthenol", 0, 2).qs("kaolin")


def filled():
    return brief().free("corn-starch").free("cetyl-alcohol").free("stearic-acid")


@pytest.mark.parametrize("wrong", ["shampo", "shampoo_bar", "Shampoo bar", "rinse_off", "", "bar", "leave-on", "oral"])
def test_a_use_without_levels_is_refused(wrong):
    for call in (brief().within_use_levels, brief().materials_without_use_level):
        with pytest.raises(td.errors.UnknownName) as caught:
            call(wrong)
        assert "shampoo-bar" in str(caught.value)


def test_use_levels_are_those_of_a_review():
    """A review holds a shampoo bar, a use on hair and all that is rinsed off to the narrowest level stated: so does a brief."""
    for use in ("shampoo-bar", "hair", "rinse-off"):
        limited = filled().within_use_levels(use)
        assert len(limited.requirements) + len(limited.materials_without_use_level(use)) == 6
        assert limited.materials_without_use_level(use) == filled().materials_without_use_level(use)
        formula = limited.solve().formula
        review = formula.review(market="EU", use=use, on="2026-11-24")
        assert not [finding for finding in review.findings if finding.slug.startswith("use-level")], use
    beyond = filled().solve().formula.review(market="EU", use="shampoo-bar", on="2026-11-24")
    assert [finding for finding in beyond.findings if finding.slug.startswith("use-level")]
    with pytest.raises(td.errors.NotKnown, match="add the lines first"):
        td.Brief("Bar", CATALOGUE).within_use_levels("shampoo-bar")


def test_prices_are_of_raw_materials_and_not_negative():
    for make in (
        lambda prices: brief(prices=prices),
        lambda prices: td.Formula("Clay", {"kaolin": 100}, CATALOGUE, prices=prices),
    ):
        with pytest.raises(td.errors.OutOfRange, match="0 to 1000000 per kg"):
            make({"kaolin": "-0.01"})
        with pytest.raises(td.errors.UnknownName, match='did you mean "kaolin"') as caught:
            make({"kaoline": 1, "sci powderr": 2})
        assert len(caught.value.faults) == 2
        assert make({"kaolin": 1, "SCI powder": 6}).prices == {"kaolin": 1, "sci-powder": 6}
        with pytest.raises(td.errors.Duplicate):
            make({"sci-powder": 1, "SCI powder": 6})
    # A formula without a catalogue finds it out when the cost is read.
    clay = td.Formula("Clay", {"kaolin": 100}, CATALOGUE).with_prices({"kaoline": 1})
    assert '"kaoline" has one' in str(clay.measure(m.cost).why_not[0])
    with pytest.raises(td.errors.OutOfRange):
        brief(prices={"kaolin": 1}).with_parameter("price.kaolin", -1)


def test_a_mistyped_phase_is_refused_where_phases_are_stated():
    assert brief().in_phase("sci-powder", "meltd").phases[-1].name == "meltd"
    stated = brief().phase("melted", 75)
    with pytest.raises(td.errors.UnknownName, match='did you mean "melted"'):
        stated.in_phase("sci-powder", "meltd")
    with pytest.raises(td.errors.UnknownName, match="state the phase before"):
        stated.line("on top", "corn-starch", phase="xyz", fix=2)
    assert stated.in_phase("sci-powder", "melted").in_phase("panthenol", "cool-down").phases[0].name == "melted"
    assert stated.phase("xyz").in_phase("sci-powder", "xyz")


def cells(difference, name):
    (row,) = [line for line in str(difference).splitlines() if line.strip().startswith(name)]
    return row


def test_a_difference_needs_two_known_values_of_one_unit():
    def clay(title="Clay", **keywords):
        return td.Formula(title, {"kaolin": 100}, CATALOGUE, **keywords)

    euro, dollar = clay(prices={"kaolin": 1}, currency="EUR"), clay(prices={"kaolin": 1}, currency="USD")
    row = cells(euro.difference(dollar), "cost")
    assert "EUR per kg, then USD per kg" in row and "0.00" not in row.replace("1.00", "")
    for difference, given in ((euro.difference(clay()), "EUR"), (clay().difference(dollar), "USD")):
        row = cells(difference, "cost")
        assert f"{given} per kg" in row and "not known" in row and "gone" not in row and "new" not in row
    both = td.Formula("Mild", {"kaolin": 99, "guar-hydroxypropyltrimonium-chloride": 1}, CATALOGUE)
    assert "Mild, before and after" in str(both.difference(both))
    for line in str(both.difference(both)).splitlines():
        assert line.count("not known") in (0, 2)
        if "not known" in line:
            assert "0.00" not in line and "new" not in line, line


def test_a_difference_says_changes_as_data():
    first = td.Formula("First", {"sci-powder": 60, "kaolin": 40}, CATALOGUE)
    second = td.Formula("Second", {"sci-powder": "55.5", "corn-starch": "44.5"}, CATALOGUE)
    changes = {row.name: (row.before, row.after, row.change) for row in first.difference(second).lines}
    assert changes == {
        "sci-powder": (60, Fraction("55.5"), Fraction("-4.5")),
        "corn-starch": (None, Fraction("44.5"), Fraction("44.5")),
        "kaolin": (40, None, -40),
    }
    listed = CATALOGUE.merge(td.Catalogue.from_toml(LISTED))
    unknown = td.Formula("Third", {"listed": 100}, listed)
    rows = {row.name: row for row in first.difference(unknown).constituents}
    assert rows["GLYCERIN"].change is None and rows["GLYCERIN"].after is None and rows["KAOLIN"].change == -40
    assert "+0.00" not in str(first.difference(second))


LISTED = """
tenside = "catalogue/1"
[[material]]
id = "listed"
name = "Listed only"
form = "liquid"
source = "invented"
constituents = [{ inci = "WATER", low = 10, high = 90 }, { inci = "GLYCERIN", low = 10, high = 90 }]
"""


def bar(**percent):
    lines = {name.replace("_", "-"): share for name, share in percent.items()}
    return td.Formula("Bar", {"kaolin": 100 - sum(map(Fraction, lines.values())), **lines}, CATALOGUE)


def test_a_drying_loss_above_what_can_leave_is_refused():
    wet = bar(citric_acid_50=40)
    assert wet.batch(mass="1 kg", drying_loss="21", readability="0.1 g")
    for loss in ("21.01", 50, "99.9"):
        with pytest.raises(td.errors.OutOfRange, match=r"0 to 21\.00 %: water"):
            wet.batch(mass="1 kg", drying_loss=loss, readability="0.1 g")


def test_a_sample_of_the_bars_tells_no_process_loss():
    batch = bar().batch(bars=24, net="60 g", readability="0.1 g")
    some = batch.pressed(["60.1 g"] * 12)
    assert (some.words, some.bars, some.implied_process_loss) == ("12 of 24 bars", 24, None)
    whole = batch.pressed(["59.9 g"] * 24)
    assert (
        whole.words == "24 of 24 bars"
        and whole.implied_process_loss == 100 - 100 * 24 * Fraction("59.9") / batch.weighed
    )
    with pytest.raises(td.errors.OutOfRange, match="1 to 24"):
        batch.pressed(["1 g"] * 25)
    assert bar().batch(mass="100 g", readability="0.1 g").pressed(["40 g", "50 g"]).implied_process_loss == 10


def test_a_bar_of_sixty_kilograms_is_asked_about():
    kinds = [note.kind for note in bar().batch(bars=2, net="60 kg", readability="0.1 g").notes]
    assert "unusual-bar" in kinds
    assert "unusual-bar" not in [note.kind for note in bar().batch(bars=2, net="60 g", readability="0.1 g").notes]


def lot_bar(*retests):
    lines = [td.Line(CATALOGUE.material("kaolin"), 100 - 10 * len(retests))]
    for index, (name, retest) in enumerate(retests):
        raw = CATALOGUE.material(name)
        lines.append(td.Line(raw.with_lot(td.Lot(f"L{index}", raw.id, retest=retest)), 10))
    return td.Formula("Lots", lines)


def test_a_lot_past_its_retest_date_is_said():
    formula = lot_bar(("sci-powder", "2024-01-01"), ("corn-starch", "2026-11-27"), ("cetyl-alcohol", None))
    review = formula.review(market="EU", use="shampoo-bar", on="2026-11-27")
    found = [finding for finding in review.findings if finding.slug == "lot-past-retest"]
    assert [finding.lines for finding in found] == [["sci-powder"]]
    assert "lot L0: to be tested again by 2024-01-01" in found[0].sentence and "certificate" in found[0].source
    assert [(row.slug, row.lines) for row in review.unchecked if row.slug == "lot-past-retest"] == [
        ("lot-past-retest", ["cetyl-alcohol"])
    ]
    assert "the lot states no retest date" in " ".join(str(review).split())
    batch = {"mass": "1 kg", "readability": "0.1 g"}
    dated = formula.batch(**batch, date="2026-11-27")
    assert [(note.kind, note.line) for note in dated.notes if "retest" in note.kind] == [("past-retest", "sci-powder")]
    assert "lot L0 was to be tested again by 2024-01-01" in " ".join(dated.sheet().text.split())
    undated = formula.batch(**batch)
    (note,) = [note for note in undated.notes if "retest" in note.kind]
    assert note.kind == "retest-not-compared" and "L0" in note.sentence and "L1" in note.sentence
    assert undated.sheet().text.count("were not compared") == 1
    assert not [note for note in lot_bar(("cetyl-alcohol", None)).batch(**batch).notes if "retest" in note.kind]


def test_a_review_of_a_day_before_a_list_is_refused():
    asked = {"market": "EU", "use": "shampoo-bar"}
    with pytest.raises(td.errors.OutOfRange, match="2026-05-18 or later") as caught:
        bar().review(**asked, on="1900-01-01")
    assert len(caught.value.faults) == 4
    assert "what changed from then to 9999-12-31 is not in it" in " ".join(
        str(bar().review(**asked, on="9999-12-31")).split()
    )
    assert bar().review(**asked, on="2026-05-18")


def test_a_declaration_holds_no_more_than_the_whole():
    with pytest.raises(td.errors.Contradiction, match="at most 100 %"):
        td.label.ScentDeclaration("fragrance-oil", "x", {"LIMONENE": (60, 70), "LINALOOL": (60, 70)})
    assert td.label.ScentDeclaration("fragrance-oil", "x", {"LIMONENE": (0, 70), "LINALOOL": (60, 70)})
    # An oil that is an entry holds its constituents.
    assert td.label.ScentDeclaration("lavender-oil", "x", {"LAVANDULA OIL/EXTRACT": 100, "LINALOOL": (30, 36)})


def titration(reagent, *readings, **keywords):
    points = [(f"{index} g", ph) for index, ph in enumerate(readings)]
    return td.ph.Titration(points, sample="100 g", reagent=CATALOGUE.material(reagent), dilution="1+9", **keywords)


def test_a_titration_goes_the_way_of_what_is_added():
    assert titration("citric-acid-50", 8, 7, 6) and titration("sodium-hydroxide-10", 5, 6, 7)
    for reagent, readings, way in (
        ("citric-acid-50", (5, 6, 7), "falls"),
        ("sodium-hydroxide-10", (8, 7, 6), "rises"),
        ("citric-acid-50", (7.8, 7.9, 6.5), "falls"),
    ):
        with pytest.raises(td.errors.Contradiction, match=f"a pH that {way} from point to point, since") as caught:
            titration(reagent, *readings)
        assert len(caught.value.faults) == (1 if readings[0] == 7.8 else 2)
    with pytest.raises(td.errors.NotKnown, match="kaolin"):
        titration("kaolin", 8, 7, 6)
    trial = titration("kaolin", 8, 7, 6, effect="lowers")
    assert trial.grams_at(7).typical == 1
    with pytest.raises(td.errors.Contradiction, match="lowers the pH by what it holds"):
        titration("citric-acid-50", 5, 6, 7, effect="raises")
    with pytest.raises(td.errors.Contradiction):
        titration("kaolin", 8, 7, 6, effect="raises")


def test_an_addition_is_named_for_what_it_is():
    raw = CATALOGUE.material("sci-powder").with_lot(td.Lot("L1", "sci-powder", retest="2027-01-01"))
    formula = td.Formula("Bar", [td.Line(raw, 60), td.Line(CATALOGUE.material("kaolin"), 40)])
    more = formula.with_addition(CATALOGUE.material("sci-powder"), "1.2 g", batch="1 kg")
    assert [line.name for line in more.lines] == ["sci-powder", "kaolin", "sci-powder (added)"]


def test_thinning_by_an_addition_makes_no_use_level_finding():
    """3.4 g of acid to a kilogram turn 0.5 % into 0.4983 %, which is shown as 0.50 %."""
    formula = bar(panthenol="0.5", cetyl_alcohol=2).with_addition(
        CATALOGUE.material("citric-acid-50"), "3.4 g", batch="1 kg"
    )
    asked = {"market": "EU", "on": "2026-11-27"}
    below = [
        finding for finding in formula.review(**asked, use="shampoo-bar").findings if finding.slug == "use-level-low"
    ]
    assert not [finding for finding in below if finding.lines[0] in ("panthenol", "cetyl-alcohol")]
    # Panthenol has one level for two kinds of bar: one finding, which names both.
    review = bar(panthenol="0.4").review(**asked, use=["shampoo-bar", "conditioner-bar"])
    (finding,) = [
        finding for finding in review.findings if finding.slug == "use-level-low" and finding.lines == ["panthenol"]
    ]
    assert "panthenol in shampoo-bar and conditioner-bar" in finding.sentence and "up to 1 % of it" in finding.sentence
    dust = [
        finding
        for finding in bar(sci_powder=40, corn_starch=10).review(**asked, use="shampoo-bar").findings
        if finding.slug == "handling"
    ]
    assert len(dust) == 1 and len(dust[0].lines) >= 2


def test_entry_39_is_about_the_mixture():
    own = td.Catalogue.from_toml(MIXTURE)
    for name, entries in (("alone", {"57"}), ("both", {"39", "57"})):
        formula = td.Formula("Kept", {"kaolin": "99.9", name: "0.1"}, CATALOGUE.merge(own))
        review = formula.review(market="EU", use="rinse-off", on="2026-11-27")
        slugs = {finding.slug for finding in review.findings if finding.slug.startswith(("annex-v-39", "annex-v-57"))}
        assert ("annex-v-39-rinse-off" in slugs) == ("39" in entries), slugs


MIXTURE = """
tenside = "catalogue/1"
source = "invented"
[[material]]
id = "alone"
name = "One in glycerin"
form = "liquid"
constituents = [{ inci = "GLYCERIN", typical = 98.4 }, { inci = "METHYLISOTHIAZOLINONE", typical = 1.6 }]
[[material]]
id = "both"
name = "Both in glycerin"
form = "liquid"
constituents = [
  { inci = "GLYCERIN", typical = 98.4 },
  { inci = "METHYLISOTHIAZOLINONE", typical = 0.4 },
  { inci = "METHYLCHLOROISOTHIAZOLINONE", typical = 1.2 },
]
"""
