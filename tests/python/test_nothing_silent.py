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
    for measure in (m.water, m.class_("preservative")):
        assert half.measure(measure).notes == ["the unspecified remainder is not counted: half"]
    assert half.measure(m.soap).notes == ["up to all of what is not named in them could be it, and counts in the high end alone: half"]
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


def test_what_a_scent_mixture_is_dissolved_in_is_not_known_to_be_none(starter):
    bar = td.Formula("Scented", {"kaolin": 99, "fragrance-oil": 1}, starter)
    for carrier in ("DIETHYL PHTHALATE", "DIPROPYLENE GLYCOL", "TRIETHYL CITRATE"):
        read = bar.measure(m.substance(carrier))
        assert (read.value.low, read.value.typical, read.value.high) == (0, 0, 1), carrier
        assert any("not named" in note and "fragrance-oil" in note for note in read.notes)
        assert bar.exposure(carrier, product="shampoo", oral_dose=10).percent.high == 1
        brief = td.Brief("Scented", starter).fix("fragrance-oil", 1).qs("kaolin")
        certain = brief.at_most(m.substance(carrier), 0, for_every_composition=True)
        assert isinstance(certain.try_solve(), td.solve.Conflict)
    assert bar.measure(m.substance("KAOLIN")).value.high == 99


def test_a_price_without_a_currency_takes_none_of_its_neighbours(starter):
    for text in (
        "material,price_per_kg,currency\nsci-powder,3,\nkaolin,1.9,USD\n",
        "material,price_per_kg,currency\nkaolin,1.9,USD\nsci-powder,3,\n",
    ):
        with pytest.raises(td.TensideError, match='price of "sci-powder".*without a currency'):
            td.PriceList.from_csv(text)
        assert td.PriceList.from_csv(text, currency="USD").currency == "USD"
    with pytest.raises(td.TensideError, match="without a currency"):
        td.PriceList.from_table({"id": ["kaolin", "sci-powder"], "price_per_kg": [1.9, 3], "currency": ["USD", None]})
    with pytest.raises(td.TensideError) as missing:
        td.PriceList.from_table({"id": ["", "water"], "price_per_kg": [10, 1]}, currency="EUR")
    assert [fault.kind for fault in missing.value.faults] == ["missing"]


def test_a_net_content_is_stated_as_it_was_given(starter):
    bar = td.Formula("Clay", {"kaolin": 100}, starter)
    for net in ("99.9 g", "99.99 g", "60.04 g", "9.99 g"):
        assert bar.label(market="EU", on=ON, net=net).net.text == net
    label = bar.label(market="EU", on=ON, net="60.045 g")
    assert (label.net.text, label.net.is_rounded) == ("60 g", True)
    assert "rounded down from 60.045 g" in label.page.text()


def test_a_pair_of_surfactants_has_one_interaction():
    for pairs in ({("S", "C"): -3, ("C", "S"): -2}, {("S", "C"): -3, ("C", "S"): 0}):
        with pytest.raises(td.TensideError, match="already"):
            td.trial.MixedMicelles({"S": (1, 4), "C": (1, 1)}, interactions=pairs)


def test_a_log_reads_the_fractions_that_it_writes():
    log = td.trial.TrialLog("Log", {"hardness": "N"}, [td.trial.TrialRun("1", {"kaolin": 100}, {"hardness": Fraction(125, 3)})])
    assert td.trial.TrialLog.from_csv("Log", log.to_csv()) == log
    with pytest.raises(td.TensideError):
        td.trial.TrialLog.from_csv("Log", log.to_csv().replace("125/3", "125/0"))


def noodle(starter):
    """A raw material of which 28 % are nameless and may hold soap and salt, and a clay that states the water it holds."""
    contained = {"SODIUM COCOYL ISETHIONATE": (60, 70, 80), "STEARIC ACID": (1, 2, 4)}
    noodle = td.Material("noodle", "Noodle", "powder", contained, unspecified=28, remainder_may_hold=["soap", "salt"])
    clay = td.Material("clay", "Clay", "powder", {"KAOLIN": (100, 100, 100)}, bound_water=1)
    return starter.with_material(noodle).with_material(clay)


def test_a_class_is_never_less_than_one_of_its_members(starter):
    catalogue = noodle(starter)
    bar = td.Formula("Bar", {"noodle": 50, "clay": 50}, catalogue)
    for class_, member in ((m.soap, "SODIUM COCOATE"), (m.class_("salt"), "SODIUM CHLORIDE")):
        whole, one = bar.measure(class_), bar.measure(m.substance(member))
        assert (whole.value.low, whole.value.typical, whole.value.high) == (0, 0, Fraction(39, 2)) == (one.value.low, one.value.typical, one.value.high)
        assert any("could be it" in note and "noodle" in note for note in whole.notes)
        brief = td.Brief("Bar", catalogue).between("noodle", 10, 50).qs("clay").maximise(m.material("noodle"))
        for measure in (class_, m.substance(member)):
            assert isinstance(brief.at_most(measure, 0, for_every_composition=True).try_solve(), td.solve.Conflict)
    # Of a class in a sum only what is named counts, and that is said.
    for measure in (m.solids, m.constituent("SODIUM CHLORIDE"), m.substance_sum("salts", {}, classes={"salt": 1})):
        assert any("noodle" in note for note in bar.measure(measure).notes), measure


def test_an_answer_says_what_its_requirements_leave_out(starter):
    catalogue = noodle(starter)
    brief = td.Brief("Bar", catalogue).between("noodle", 10, 50).qs("clay").maximise(m.material("noodle"))
    for measure, words in (
        (m.substance("LIMONENE"), "no scent constituent"),
        (m.constituent("SODIUM CHLORIDE"), "not counted: noodle"),
    ):
        answer = brief.at_most(measure, 0, for_every_composition=True).solve()
        assert any(words in note for note in answer.notes) and words in str(answer), measure
    charged = td.Brief("Wash", starter).between("sci-powder", 10, 40).between("capb-30", 10, 30).qs("kaolin")
    assert "depends on the pH" in str(charged.at_most(m.anionic_charge, "0.9", for_every_composition=True).solve())


def test_a_ratio_of_nothing_over_nothing_is_told(starter):
    brief = td.Brief("Bar", starter).between("sci-powder", 0, 60).between("capb-30", 0, 20).qs("kaolin")
    brief = brief.target(m.amphoteric_active.per(m.anionic_active), "0.2").minimise(m.active_matter)
    answer = brief.solve()
    assert answer.formula.percentages["kaolin"] == 100
    assert any("no value; as one amount" in note for note in answer.notes)
    assert not any("no value" in note for note in brief.at_least(m.active_matter, 5).solve().notes)


def test_a_ratio_over_nothing_meets_what_it_meets(starter):
    rinse = td.Brief("Rinse", starter).between("sci-powder", 0, 50).qs("water").minimise(m.active_matter)
    ratio = m.water.per(m.active_matter)
    (note,) = [note for note in rinse.at_least(ratio, 1).solve().notes if "no value" in note]
    assert "any limit" not in note


def test_compositions_drier_than_the_finished_product_are_told(starter):
    paste = td.Material("paste", "Paste", "paste", {"SODIUM COCOYL ISETHIONATE": (80, 90, 100), "WATER": (0, 10, 20)})
    catalogue, finished = starter.with_material(paste), td.finished(moisture=5)
    answer = td.Brief("Bar", catalogue).qs("paste").at_most(m.active_matter, 95, basis=finished, for_every_composition=True).solve()
    for notes in (answer.notes, answer.formula.measure(m.active_matter, finished).notes):
        assert any("less water than 5 %" in note for note in notes)


def test_a_row_without_a_share_is_the_brief_without_it(starter):
    wash = td.Brief("Bar", starter).split({"capb-30": 1, "sci-powder": 9}, by="active", name="wash").qs("kaolin").target(m.amphoteric_active, 0)
    best = wash.maximise(m.active_matter).sweep(td.axis("share.wash.capb-30", [0, 10]))
    assert best.row(0)["objective"] == 84 == best.answer(0).objective
    free = wash.between("cetyl-alcohol", 3, 6)
    table = free.sweep(td.lattice("wash", 2))
    for row in range(len(table)):
        assert table.row(row)["feasible"] == (not isinstance(table.outcome(row), td.solve.Conflict))
    assert td.Sweep(free, td.lattice("wash", 2)).stream().feasible == sum(table.row(row)["feasible"] for row in range(len(table))) > 0
    ratio = td.Brief("Bar", starter).fix("sci-powder", 40).fix("beeswax", 1).qs("kaolin").minimise(m.water.per(m.class_("wax")))
    table = ratio.sweep(td.axis("beeswax", [0, 1, 2]))
    assert table.row(0)["objective"] is None
    assert table.best(1, minimise="objective").column("axis.fix.beeswax")[0] == 2


def test_an_attribute_that_rests_on_named_ingredients_says_so(starter):
    wide = td.Material("wide", "Wide", "powder", {"GLYCERIN": (30, 95, 95)}, unspecified=5)
    read = td.Formula("Bar", {"wide": 100}, starter.with_material(wide)).measure(m.attribute("sulfate"))
    assert read.notes == ["the unspecified remainder is taken not to have the attribute: wide"]


def test_lots_in_stock_serve_their_own_lines(starter):
    lots = [td.Lot(name, "sci-powder", active=active, method="titrated") for name, active in (("W-70", 70), ("S-85", 85))]
    catalogue = starter.with_lot(lots[0]).with_lot(lots[1])
    brief = td.Brief("Bar", catalogue).line("first", "sci-powder").line("second", "sci-powder").qs("kaolin")
    open_lines = brief.maximise(m.active_matter)
    brief = open_lines.use_lot("first", "W-70").use_lot("second", "S-85")
    assert brief.in_stock("W-70", "S-85", "kaolin").solve().exact == {"first": 0, "second": 100, "kaolin": 0}
    one = brief.in_stock("W-70", "kaolin")
    assert [required.name for required in one.requirements] == ["second is not in stock"]
    each = brief.in_stock("kaolin", amounts={"W-70": "300 g", "S-85": "500 g"}, batch="1 kg").solve()
    assert each.exact == {"first": 30, "second": 50, "kaolin": 20}
    with pytest.raises(td.errors.Contradiction, match="use_lot"):
        open_lines.in_stock("W-70", "S-85", "kaolin")


def test_a_cell_is_at_least_and_at_most_what_it_shows(starter):
    brief = td.Brief("Wash", starter).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    sweep = td.Sweep(brief.target(m.active_matter, 50), td.axis("wash.capb-30", [1, 2, 3]))
    table = sweep.table()
    cells = table.column("line.kaolin")
    for cell in cells:
        for says, filtered, holds in (
            (">=", {"at_least": cell}, lambda other: other >= cell),
            ("<=", {"at_most": cell}, lambda other: other <= cell),
        ):
            kept = [row for row in range(3) if holds(cells[row])]
            assert table.filter("line.kaolin", **filtered).rows == kept
            assert sweep.stream(only=[("line.kaolin", says, cell)]).kept == len(kept)
        assert sweep.stream(only=[("line.kaolin", "<", cell)]).kept == sum(other < cell for other in cells)


def test_rows_that_tie_stand_on_the_front_together(starter):
    brief = td.Brief("Bar", starter).fix("sci-powder", 50).between("capb-30", 0, 10).qs("kaolin").minimise(m.water)
    sweep = td.Sweep(brief, td.axis("highest.capb-30", [5, 6, 7]))
    assert sweep.table().pareto(minimise="water").rows == [0, 1, 2]
    assert [kept.row for kept in sweep.stream(minimise="water").front] == [0]


def test_a_spelling_of_two_numbers_is_refused(starter):
    brief = td.Brief("Bar", starter).split({"sci-powder": 14, "capb-30": 1}, by="active", name="highest").qs("kaolin")
    brief = brief.change_line("capb-30", low=0, high=9)
    with pytest.raises(td.errors.AmbiguousName, match="could mean several things"):
        brief.with_parameter("highest.capb-30", 7)
    assert brief.with_parameter("highest.sci-powder", 7).splits[0].parts[0][1] == 7


def test_a_ratio_to_keep_departs_as_little_as_is_said(starter):
    lines = {"sci-powder": 30, "capb-30": 10, "kaolin": 57, "citric-acid-50": 3}
    bar = td.Formula("Bar", [td.Line(starter.material(name), lines[name], fixed=name == "citric-acid-50") for name in lines], starter)
    ratio = m.active_matter.per(m.water)

    def departures(substitution):
        return sum(abs(kept.after - kept.before) / kept.before for kept in substitution.kept)

    nearest = bar.substitute("sci-powder", "coco-glucoside-50", keep=ratio)
    assert nearest.after.percentages["coco-glucoside-50"] == 97 and nearest.verify()
    assert nearest.total_departure == departures(nearest)
    for candidate in bar.candidates("sci-powder", keep=[ratio, m.active_matter]).ranked:
        substitution = candidate.substitution
        assert abs(substitution.total_departure - departures(substitution)) < Fraction(1, 10_000)


def test_a_budget_ends_the_range_of_a_price(starter):
    brief = (
        td.Brief("Bar", starter, prices={"sci-powder": 6, "capb-30": 3, "kaolin": 2}, currency="EUR")
        .between("sci-powder", 20, 80)
        .fix("capb-30", 10)
        .qs("kaolin")
        .at_least(m.active_matter, 40)
        .at_most(m.cost, 4, name="budget")
    )
    answer = brief.minimise(m.cost).solve()
    powder = answer.price_ranges()[0]
    assert powder.high == 6 + (4 - answer.objective) / (answer.exact["sci-powder"] / 100)
    for price, has in ((powder.high - Fraction(1, 1000), True), (powder.high + Fraction(1, 1000), False)):
        prices = {"sci-powder": round(float(price), 4), "capb-30": 3, "kaolin": 2}
        found = brief.minimise(m.cost).with_prices(prices, currency="EUR").try_solve()
        assert isinstance(found, td.solve.Answer) == has
    with pytest.raises(td.errors.Unsupported, match="budget"):
        brief.maximise(m.cost).solve().price_ranges()


def test_a_conflict_warns_of_an_objective_that_could_divide_by_nothing(starter):
    # What conflicts is itself what keeps the denominator above 0.
    own = td.Brief("Bar", starter).between("sci-powder", 0, 10).between("capb-30", 0, 20).qs("kaolin").at_least(m.anionic_active, 20)
    assert "divides by" not in own.minimise(m.water.per(m.anionic_active)).try_solve().sentence
    brief = td.Brief("Bar", starter).between("sci-powder", 0, 10).qs("kaolin").at_least(m.anionic_active, 20)
    ratio = m.water.per(m.amphoteric_active)
    conflict = brief.between("capb-30", 0, 20).minimise(ratio).try_solve()
    assert "require a little of what the objective divides by" in conflict.sentence
    without = brief.between("capb-30", 1, 20).minimise(ratio)
    conflict = without.try_solve()
    assert "divides by" not in conflict.sentence
    for change in conflict.relaxations():
        assert change.taken(without).solve().verify()


def test_a_choice_of_types_is_refused_in_words(starter):
    brief = td.Brief("Bar", starter).between("sci-powder", 20, 80).qs("kaolin")
    with pytest.raises(TypeError, match=r"a name or a Lot is expected \(found Fraction\)"):
        brief.use_lot("sci-powder", Fraction(1, 2))
    batch = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, starter).batch(bars=24, net="60 g", readability="0.1 g")
    test = td.batch.ProductTest("pH", at_least=5, at_most=6)
    # What a number would be but for what it says is told so.
    with pytest.raises(td.errors.NotANumber, match='"5,2"'):
        td.batch.BatchRecord(batch, tests=[test], readings={"pH": "5,2"})
    with pytest.raises(TypeError, match="a mass with its unit is expected"):
        batch.formula.costing(batch.as_made())


def test_equal_briefs_are_named_alike(starter):
    slip = m.score("slip", {"kaolin": 1, "panthenol": 2, "capb-30": 2}, default=0)
    brief = td.Brief("Bar", starter).free("cetyl-alcohol").qs("kaolin").at_most(slip, 3)
    read = td.Brief.from_json(brief.to_json())
    assert (read == brief, read.sha256 == brief.sha256) == (True, True)
    formula = brief.solve().formula.with_parent(brief, "answer")
    assert [entry.title for entry in td.formula.history([formula, read])] == ["Bar", "Bar"]


def test_a_code_that_a_table_does_not_know_is_refused(starter):
    brief = td.Brief("Bar", starter).fix("sodium-benzoate", 1).qs("kaolin").with_purposes("sodium-benzoate", "preservative")
    axis = td.axis("sodium-benzoate", [1, 4])
    reviewed = brief.sweep(axis, review=td.Product(market="EU", use="shampoo-bar", on="2026-11-24"))
    assert reviewed.read_findings(reviewed.column("findings")[1])
    with pytest.raises(td.errors.OutOfRange, match="stand for nothing"):
        reviewed.read_findings(2**62)
    plain = brief.sweep(axis)
    for read in (plain.read_findings, plain.read_use_levels):
        with pytest.raises(td.errors.Missing, match="no review was asked for"):
            read(1)
