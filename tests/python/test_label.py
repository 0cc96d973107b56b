"""Labels and exposure through the binding: arithmetic done here apart from the library, published rows, bad input, escaping."""

import pickle
import tomllib
from decimal import Decimal
from fractions import Fraction

import pytest
import tenside as td

CATALOGUE = td.Catalogue.starter()
DAY = "2026-11-24"


def bar(**percent):
    lines = {name.replace("_", "-"): share for name, share in percent.items()}
    return td.Formula("Bar", {"kaolin": 100 - sum(map(Fraction, lines.values())), **lines}, CATALOGUE)


def published(project, name):
    return tomllib.loads((project / "tests" / "data" / f"{name}.toml").read_text(encoding="utf-8"))


def test_the_published_list_is_carried(project):
    rows = published(project, "fragrance_allergens")["constituent"]
    known = td.label.scent_entries()
    assert len(known) == len(rows) == 81
    for row in rows:
        name, newer = known[row["entry"]]
        assert (name.upper(), newer) == (row["label"].upper(), row["new_2023"])


def test_amounts_of_scent_are_those_calculated_here():
    """Every contained substance of lavender oil at 0.6 %, typical and at its ends, against a threshold of 0.01 %."""
    oil = CATALOGUE.material("lavender-oil")
    label = bar(lavender_oil="0.6").label(market="EU", on=DAY)
    named = {name.upper() for name, _ in td.label.scent_entries().values()}
    checked = 0
    for part in oil.contained:
        if part.substance.inci not in named:
            continue
        row = label.scent(part.substance.inci)
        low, typical, high = (Fraction(end) * Fraction("0.6") / 100 for end in (part.low, part.typical, part.high))
        assert (row.percent.low, row.percent.typical, row.percent.high) == (low, typical, high)
        expected = "certain" if low > Fraction("0.01") else "possible" if high > Fraction("0.01") else "below"
        assert row.answer == expected, part.substance.inci
        if row.keeps_off:
            assert row.keeps_off[0].most_ppm == Fraction(100) / (Fraction(part.high) / 100) // 1
        checked += 1
    assert checked >= 6


def test_a_declaration_settles_what_the_catalogue_cannot():
    formula = bar(lavender_oil="0.6")
    declared = td.label.ScentDeclaration("lavender-oil", "invented", {"LINALOOL": (30, 36), "5989-27-5": Decimal("0.4")})
    label = formula.label(market="EU", on=DAY, declarations=[declared])
    answers = {row.name: row.answer for row in label.scents}
    assert len(answers) == 81
    # The oil is an entry itself.
    assert {name for name, answer in answers.items() if answer != "below"} == {"LINALOOL", "LAVANDULA OIL/EXTRACT"}
    assert not label.scent_to_ask
    again = pickle.loads(pickle.dumps(declared))
    assert again == declared and hash(again) == hash(declared)
    assert again.shares["LINALOOL"] == (30, 36)


def test_order_and_names_of_both_markets():
    formula = bar(titanium_dioxide=10, iron_oxide_red=5, glycerin_99_5=3)
    eu, us = formula.label(market="EU", on=DAY), formula.label(market="US", on=DAY)
    assert [item.name for item in eu.items] == ["KAOLIN", "GLYCERIN", "CI 77491", "CI 77891"]
    assert [item.name for item in us.items] == ["KAOLIN", "GLYCERIN", "IRON OXIDES", "TITANIUM DIOXIDE"]
    shares = (
        [item.percent.typical for item in eu.items]
        + [row.percent.typical for row in eu.left_out]
        + [eu.nameless.typical]
    )
    assert sum(shares) == 100
    assert us.scent_state == "pending" and us.scent("linalool") is None and us.scents == []
    assert formula.label(market="EU", on=DAY, nano="CI 77891").items[-1].name == "CI 77891 (nano)"


def test_net_content_follows_the_examples(project):
    for market in ("EU", "US"):
        for example in published(project, f"net_content_{market.lower()}")["example"]:
            net = bar().label(market=market, on=DAY, net=example["content"]).net
            assert net.text == example.get("text", net.text)
            assert net.tolerated_shortfall == (Fraction(example["shortfall"]) if "shortfall" in example else None)


def test_a_volume_comes_back_and_says_what_is_not_known():
    label = bar().label(market="US", on=DAY, net="8 fl oz")
    assert td.label.Label.from_json(label.to_json()) == label
    assert label.net.tolerated_shortfall is None and "Table 2-6" in label.net.source
    assert "is not known here" in label.page.markdown()


def test_exposure_is_what_is_calculated_here(project):
    formula = bar(panthenol="1.5")
    rows = {row["product"]: row for row in published(project, "sccs_exposure")["row"]}
    assert {row.slug for row in td.exposure.product_types()} == set(rows)
    typical = CATALOGUE.material("panthenol").constituents[0].typical
    for product, row in rows.items():
        exposure = formula.exposure("PANTHENOL", product=product, absorption=Decimal("12.5"), oral_dose=200)
        dose = (
            Fraction(row["exposure_per_body_weight"])
            * Fraction("1.5")
            / 100
            * Fraction(typical)
            / 100
            * Fraction("12.5")
            / 100
        )
        assert exposure.dose.typical == dose
        # Half of an oral dose is taken to be absorbed unless stated.
        assert exposure.margin.typical == 100 / dose
    assert "qualified safety assessor decides" in exposure.page.markdown()
    own = formula.exposure("PANTHENOL", amount=3, retained_percent=1, body_weight=60)
    assert own.product_exposure == Fraction(1, 2)


@pytest.mark.parametrize(
    ("keywords", "error", "words"),
    [
        ({"market": "UK", "on": DAY}, td.errors.UnknownName, "EU, US"),
        ({"market": "EU"}, td.errors.Missing, "a label without a date"),
        ({"market": "EU", "on": "24.11.2026"}, td.errors.OutOfRange, "year-month-day"),
        ({"market": "EU", "on": "2013-07-11"}, td.errors.OutOfRange, "2023-08-16"),
        ({"market": "EU", "on": DAY, "net": "60"}, td.errors.Missing, "unit"),
        ({"market": "EU", "on": DAY, "net": "0 g"}, td.errors.OutOfRange, "more than 0 g"),
        ({"market": "EU", "on": DAY, "net": "0 ml"}, td.errors.OutOfRange, "more than 0 ml"),
        ({"market": "EU", "on": DAY, "net": "2 cups"}, td.errors.UnknownName, "fl oz"),
        ({"market": "EU", "on": DAY, "placing": "sold"}, td.errors.UnknownName, "placed, made-available"),
        ({"market": "EU", "on": DAY, "contact": "rinse"}, td.errors.UnknownName, "rinse-off"),
        ({"market": "EU", "on": DAY, "nano": ["CI 77891"]}, td.errors.UnknownName, "nano"),
        ({"market": "US", "on": DAY, "nano": ["KAOLIN"]}, td.errors.Unsupported, "nano"),
        ({"market": "EU", "on": DAY, "residual_moisture": 3}, td.errors.OutOfRange, "moisture"),
        (
            {"market": "EU", "on": DAY, "declarations": [td.label.ScentDeclaration("rosemary-oil", "x")]},
            td.errors.UnknownName,
            "rosemary-oil",
        ),
    ],
)
def test_what_a_label_cannot_be_asked(keywords, error, words):
    with pytest.raises(error) as caught:
        bar().label(**keywords)
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("keywords", "error"),
    [
        ({"product": "solid-shampoo"}, td.errors.UnknownName),
        ({}, td.errors.Missing),
        ({"product": "shampoo", "amount": 3, "retained_percent": 1}, td.errors.Missing),
        ({"amount": 3, "retained_percent": 101}, td.errors.OutOfRange),
        ({"product": "shampoo", "oral_dose": 1, "systemic_dose": 1}, td.errors.Contradiction),
        ({"product": "shampoo", "oral_dose": -1}, td.errors.OutOfRange),
        ({"product": "shampoo", "absorption": "nan"}, td.errors.NotANumber),
        ({"product": "shampoo", "body_weight": 60}, td.errors.Contradiction),
    ],
)
def test_what_an_exposure_cannot_be_asked(keywords, error):
    with pytest.raises(error):
        bar().exposure("KAOLIN", **keywords)


def test_what_a_raw_material_leaves_open_is_an_exposure_without_typical_value():
    assert bar().exposure("GERANIOL", product="shampoo").dose == td.measure.Interval(0, low=0, high=0)
    scented = bar(fragrance_oil=1).exposure("GERANIOL", product="shampoo")
    assert scented.percent == td.measure.Interval(low=0, high=1) and scented.dose.typical is None and scented.dose.high > 0
    with pytest.raises(td.errors.UnknownName, match="GERANIOL"):
        bar().exposure("GERANIOLL", product="shampoo")


def test_an_empty_formula_has_no_label():
    with pytest.raises(td.errors.Contradiction):
        td.Formula("Empty", {}, CATALOGUE).label(market="EU", on=DAY)


def test_markup_in_inci_names_is_shown_as_text():
    hostile = "<script>alert(1)</script>"
    text = f'''
tenside = "catalogue/1"
source = "invented"
substance = [{{ inci = "{hostile}", class = "other", volatility = "none", source = "invented" }}]
material = [{{ id = "bad", name = "{hostile}", form = "powder", constituents = [{{ inci = "{hostile}", typical = 100, declared = "declared" }}] }}]
'''
    label = td.Formula(hostile, {"bad": 100}, td.Catalogue.from_toml(text)).label(market="EU", on=DAY)
    assert label.ingredients == hostile
    for page in (label._repr_html_(), label.page.html(), label.page.html_document()):
        assert "<script>" not in page and "&#60;script&#62;" in page
    assert "<script>" not in label.page.markdown()
    exposure = td.Formula("Bar", {"bad": 100}, td.Catalogue.from_toml(text)).exposure(hostile, product="shampoo")
    assert "<script>" not in exposure._repr_html_() and "&#60;script&#62;" in exposure._repr_html_()


def test_labels_compare_and_copy_as_values():
    label = bar().label(market="EU", on=DAY)
    assert label == bar().label(market="EU", on=DAY) and hash(label) == hash(bar().label(market="EU", on=DAY))
    assert label != bar().label(market="US", on=DAY)
    assert repr(label) == '<Label of "Bar" for EU, 1 names>'
    with pytest.raises(AttributeError):
        label.ingredients = "none"


def test_questions_carry_what_they_are_about():
    """What a sentence cuts short stands whole beside it, and every name of a question can be looked up."""
    oils = [material.id for material in CATALOGUE.materials() if material.contained and material.id.endswith("-oil")][
        :16
    ]
    formula = td.Formula("Bar", {"kaolin": 60, **{name: "2.5" for name in oils}}, CATALOGUE)
    label = formula.label(market="EU", on=DAY)
    names = {line.name for line in formula.lines}
    entries = td.label.scent_entries()
    unknown = next(question for question in label.questions if question.topic == "scent-unknown")
    assert " and 4 more" in unknown.sentence and not all(name in unknown.sentence for name in oils)
    assert set(oils) <= set(unknown.materials) <= names
    assert len(unknown.entries) == int(unknown.sentence.split()[1])
    for question in label.questions:
        assert question.lines or question.ingredients, question
        assert (
            set(question.lines) <= names and set(question.materials) <= names and set(question.entries) <= set(entries)
        )
        for name in question.materials:
            assert formula.line(name).name in question.lines
        if question.topic == "scent-possible":
            (entry,) = question.entries
            assert question.sentence.startswith(entries[entry][0]) and question.ingredients == [entries[entry][0]]
            assert all(name in question.sentence for name in question.materials)
        if question.topic == "position":
            assert question.ingredients[0] in question.sentence and len(question.ingredients) > 12


def test_what_keeps_off_is_listed_where_something_does():
    formula = td.Formula("Bar", {"kaolin": "99.5", "rosemary-oil": "0.5"}, CATALOGUE)
    label = formula.label(market="EU", on=DAY)
    assert any(not row.keeps_off for row in label.scents) and any(row.keeps_off for row in label.scents)
    for line in label.page.markdown().splitlines():
        assert not line.rstrip().endswith(":") or not line.startswith("- "), line


def test_a_threshold_shows_what_it_is_judged_on():
    """Half a percent of rosemary oil brings 0.01 % of one constituent as charged, and more of the dried bar: the page shows both."""
    formula = td.Formula("Bar", {"kaolin": "69.5", "capb-30": 30, "rosemary-oil": "0.5"}, CATALOGUE)
    charged = formula.label(market="EU", on=DAY)
    sold = formula.label(market="EU", on=DAY, residual_moisture=4)
    for row in charged.scents:
        assert row.basis.startswith("as charged") and (
            row.percent is None or row.percent_as_judged.typical == row.percent.typical
        )
    water = formula.measure(td.measure.water).value.typical
    raised = 0
    for row in sold.scents:
        assert row.basis == "as sold, dried to 4 % residual moisture"
        if row.percent is not None and row.percent.typical:
            assert row.percent_as_judged.typical == row.percent.typical * 96 / (100 - water)
            raised += 1
    assert raised > 5
    page = " ".join(str(sold).split())
    assert "judged as sold, dried to 4 % residual moisture" in page and "% as judged" in page
    possible = [question.sentence for question in sold.questions if question.topic == "scent-possible"]
    assert possible and all("(judged as sold, dried to 4 % residual moisture)" in sentence for sentence in possible)
