"""Raw materials are found, made in a few lines, and read from a table of one's own; what is wrong is said, nothing is guessed in silence."""

import copy
import pickle

import pandas
import polars
import pyarrow
import pytest
import tenside as td
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()
SHELF = "Artikel;Form;INCI;Gehalt;Preis;Gebinde\nKaolin weiß;powder;KAOLIN;100;47,50;25 kg\nBetain 30;liquid;Cocamidopropyl Betaine;30;14,50;5 kg\n"
COLUMNS = {"name": "Artikel", "constituent": "INCI", "typical": "Gehalt", "price": "Preis", "pack": "Gebinde"}
SOURCE = "our shelf (invented)"


def test_a_catalogue_is_gone_through_and_looked_up():
    assert len(list(CATALOGUE)) == len(CATALOGUE) > 400
    assert CATALOGUE["capb-30"] == CATALOGUE.material("CAPB solution")
    assert "capb-30" in CATALOGUE and CATALOGUE["kaolin"] in CATALOGUE and "moon dust" not in CATALOGUE
    assert CATALOGUE["kaolin"] not in td.Catalogue()
    with pytest.raises(td.errors.UnknownName, match='did you mean "sci-powder"'):
        CATALOGUE["SCI powdr"]
    with pytest.raises(LookupError):
        CATALOGUE["SCS"]


def test_a_search_ranks_what_is_sure_before_what_is_near():
    ranks = ["id", "name", "beginning", "word", "inside", "guess"]
    for text in ["betaine", "sci", "glycerin", "isethionate", "succinate", "water", "lauryl", "kaolinn"]:
        found = [ranks.index(hit.matched) for hit in CATALOGUE.search(text)]
        assert found == sorted(found) and found, text
    assert CATALOGUE.search("KAOLIN")[0].matched == "id"
    assert [(hit.id, hit.by) for hit in CATALOGUE.search("1332-58-7")][0] == ("kaolin", "cas")
    assert CATALOGUE.search("78-70-6")[0].by == "cas", "what an oil contains is found too"
    assert {hit.matched for hit in CATALOGUE.search("glyserin")} == {"guess"}
    assert CATALOGUE.search("glyserin")[0].id.startswith("glycerin")
    assert CATALOGUE.search("sulphosuccinate")[0].matched != "guess", "both spellings"
    assert len(CATALOGUE.search("zzzqqq")) == 0 and "No raw material is called so" in str(CATALOGUE.search("zzzqqq"))
    for nothing in ["", " ", "-", "%"]:
        with pytest.raises(td.errors.OutOfRange, match="nothing to search for"):
            CATALOGUE.search(nothing)


def test_what_is_itself_called_so_comes_before_what_a_label_calls_so():
    hits = td.Catalogue.starter().search("titanium dioxide")
    assert hits[0].id == "titanium-dioxide"
    labelled = [place for place, hit in enumerate(hits) if hit.by == "label-name"]
    own = [place for place, hit in enumerate(hits) if hit.by in ("id", "name", "alias") and hit.matched != "guess"]
    assert labelled and max(own) < min(labelled)
    assert {hits[place].matched for place in labelled} == {"beginning"}


def test_what_does_not_count_as_active_matter_is_not_0_of_it():
    quat = td.Catalogue.starter()["btms-25"]
    with pytest.raises(td.errors.Unsupported, match="does not count as active matter"):
        quat.active("cationic-surfactant")
    assert quat.active() == 0 and quat.active("anionic-surfactant") == 0


def test_what_is_mostly_nameless_is_not_free_of_anything():
    named = {"SODIUM COCOYL ISETHIONATE": 92}
    assert not td.Material("mine", "Mine", "powder", named, unspecified=8).attribute("sulfate").value
    catalogue = td.Catalogue.starter().with_material(
        td.Material("mine", "Mine", "powder", {"SODIUM COCOYL ISETHIONATE": 60}, unspecified=40)
    )
    assert catalogue["mine"].attribute("sulfate") is None
    assert "mine" not in [each.id for each in catalogue.filter(without="sulfate", class_="anionic-surfactant")]


def test_a_class_is_that_of_the_largest_ingredient_or_of_the_surfactant_that_it_carries():
    cationic = {material.id for material in CATALOGUE.filter(class_="cationic-surfactant")}
    fatty = {material.id for material in CATALOGUE.filter(class_="fatty-alcohol")}
    assert "btms-25" in cationic and "btms-25" in fatty
    assert "cetyl-alcohol" in fatty - cationic and "kaolin" not in cationic | fatty
    conditioner = td.Formula("Conditioner", {"btms-25": 20, "cetyl-alcohol": 80}, CATALOGUE)
    among = conditioner.candidates("btms-25", keep=[m.class_("cationic-surfactant")])
    named = {row.material.id for row in among.ranked} | {row.material for row in among.passed_over}
    assert "btms-50" in named and "cetyl-alcohol" not in named



def test_a_filter_takes_what_is_known_and_names_what_is_not():
    found = CATALOGUE.filter(form="powder", class_="anionic-surfactant", without="sulfate", use="shampoo-bar")
    assert found and all(row.form == "powder" and not row.attribute("sulfate").value for row in found)
    palm_free = {row.id for row in CATALOGUE.filter(without="palm")}
    with_open = {row.id for row in CATALOGUE.filter(without="palm", or_not_known=True)}
    open_ones = with_open - palm_free
    assert open_ones and all(CATALOGUE[name].attribute("palm") is None for name in open_ones)
    assert "Not known of" in CATALOGUE.filter(without="palm").page.markdown()
    assert {row.form for row in CATALOGUE.filter(form=["powder", "flakes"])} == {"powder", "flakes"}
    assert "lavender-oil" in [row.id for row in CATALOGUE.filter(holding="78-70-6")]
    assert "fragrance-oil" not in [row.id for row in CATALOGUE.filter(holding="LINALOOL")]
    assert len(CATALOGUE.filter(starter=False)) == 0 and len(CATALOGUE.filter()) == len(CATALOGUE)
    frame = polars.DataFrame(found)
    assert frame["id"].to_list() == [row.id for row in found] and len(CATALOGUE.to_pandas()) == len(CATALOGUE)


@pytest.mark.parametrize(
    ("asked", "near"),
    [
        ({"form": "powdr"}, "powder"),
        ({"without": "sulphate"}, "sulfate"),
        ({"use": "shampoo bar"}, "shampoo-bar"),
        ({"phase": "meltd"}, "melted"),
        ({"holding": "LINALOL"}, "LINALOOL"),
    ],
)
def test_a_filter_by_a_word_that_nothing_has_is_refused(asked, near):
    with pytest.raises(td.errors.UnknownName, match=f'did you mean "{near}"'):
        CATALOGUE.filter(**asked)


def test_a_row_of_a_list_stands_for_its_word():
    row = next(each for each in td.material.classes() if each.word == "clay")
    catalogue = td.Catalogue.starter()
    assert catalogue.filter(class_=row) == catalogue.filter(class_=[row]) == catalogue.filter(class_="clay")
    assert td.Substance("BLUE CLAY", row).class_ == "clay"


def test_closed_lists_are_functions():
    from typing import get_args

    from tenside import words

    lists = {
        td.material.forms: words.Form,
        td.material.classes: words.Class,
        td.material.attributes: words.Attribute,
        td.material.cautions: words.Caution,
        td.material.markets: words.Market,
        td.material.product_uses: words.Use,
    }
    for function, closed in lists.items():
        assert [row.word for row in function()] == list(get_args(closed))
        assert all(row.meaning.endswith(".") for row in function())
    assert "shampoo-bar" in CATALOGUE.product_uses() and "melted" in CATALOGUE.phases()


def glycerite(**other):
    constituents = {"glycerin": (57, 60, 63), "aqua": 32, "CALENDULA OFFICINALIS FLOWER EXTRACT": 3}
    stated = {
        "unspecified": 5,
        "declared": "declared",
        "use_levels": {"shampoo-bar": (1, 5)},
        "source": "our own maceration, weighed",
        **other,
    }
    return td.Material("marigold-glycerite", "Marigold glycerite", "liquid", constituents, **stated)


def test_an_own_material_is_made_in_a_few_lines():
    own = glycerite()
    assert [row.declaration for row in own.constituents] == ["declared", "declared", "declared", "ask"]
    assert own.use_levels[0].source == own.source == "our own maceration, weighed" and not own.is_starter
    assert pickle.loads(pickle.dumps(own)) == copy.copy(own) == own
    catalogue = CATALOGUE.with_material(own)
    assert td.Catalogue.from_toml(catalogue.to_toml()) == catalogue
    assert (
        td.Formula("Bar", {"marigold-glycerite": 5, "kaolin": 95}, catalogue)
        .measure(m.constituent("GLYCERIN"))
        .value.typical
        == 3
    )
    bounded = td.Material("x", "X", "liquid", {"aqua": None, "glycerin": None}, descending=True)
    assert not bounded.has_typical and bounded.constituents[0].low == 50


def test_what_is_wrong_with_an_own_material_is_said():
    with pytest.raises(td.errors.Contradiction, match='add "unspecified" with 5'):
        glycerite(unspecified=0)
    with pytest.raises(td.TensideError) as caught:
        td.Material("x", "X", "liquid", {"glyserin": 30, "watr": 60, "KAOLIN": (3, 2, 1)})
    assert len(caught.value.faults) == 3
    for wrong, error in [
        ({"declared": {"KAOLIN": "declared"}}, td.errors.UnknownName),
        ({"declared": "maybe"}, td.errors.UnknownName),
        ({"use_levels": {"shampoo-bar": (5, 1)}}, td.errors.Contradiction),
        ({"ph_range": (3, 99)}, td.errors.OutOfRange),
        ({"attributes": {"palm": "no"}}, TypeError),
        ({"descending": True}, td.errors.Contradiction),
    ]:
        with pytest.raises(error):
            glycerite(**wrong)
    with pytest.raises(td.errors.OutOfRange, match="reserved"):
        td.Substance("unspecified", "other")
    with pytest.raises(td.errors.Missing, match="without its value"):
        td.Substance("X", "ester", charge="per mole")


def test_an_own_substance_is_made_and_named():
    ester = td.Substance(
        "HOUSE ESTER",
        "ester",
        cas="7647-14-5",
        molar_mass=(280, 284, 290),
        chains="C18",
        charge="neutral",
        pka=[4],
        attributes={"palm": True},
        source="sheet",
    )
    assert pickle.loads(pickle.dumps(ester)) == ester
    assert (ester.molar_mass.low, ester.attribute("palm").source, ester.volatility) == (280, "sheet", "unknown")
    oil = td.Material("house-ester", "House ester", "oil", {ester: 100})
    assert CATALOGUE.with_material(oil).substance("house ester") == ester
    assert td.Substance("HOUSE WATER", "water").volatility == "water"


def test_views_open_with_cautions_and_say_what_is_a_draft():
    page = str(CATALOGUE["capb-30"])
    assert page.index("DRAFT") < page.index("CAUTIONS") < page.index("COMPOSITION") and "29 to 32" in page
    assert "DRAFT" not in str(glycerite()) and "not the same as none" in str(glycerite())
    lot = td.Lot("W-27", "capb-30", active=29.1, method="titrated", retest="2027-03-31")
    page = str(CATALOGUE["capb-30"].with_lot(lot))
    assert "CERTIFICATE OF LOT W-27" in page and "29.1" in page and "takes the difference" in page
    for value in [CATALOGUE, CATALOGUE["capb-30"], CATALOGUE.substance("water"), lot, CATALOGUE.filter(form="oil")]:
        assert value._repr_html_().startswith("<") and len(str(value).splitlines()) > 2
    for value in [CATALOGUE, CATALOGUE["capb-30"], CATALOGUE.substance("water"), lot]:
        assert len(repr(value)) < 200
    hostile = td.Material("x", "<script>x</script>", "liquid", {"aqua": 100}, source="<b>me</b>")
    assert (
        "<script" not in hostile._repr_html_()
        and "<b>" not in td.Catalogue().with_material(hostile).materials()._repr_html_()
    )
    assert "and 442 more" in str(CATALOGUE.materials()), "what is not shown is counted"


def read(table, **options):
    return td.Catalogue.from_table(table, columns=COLUMNS, rest_unspecified=True, source=SOURCE, **options)


def test_a_table_of_ones_own_is_read_from_text_and_frames():
    shelf = read(SHELF)
    assert [material.id for material in shelf] == ["kaolin-weiss", "betain-30"]
    assert shelf["betain-30"].active() == 30 and shelf["betain-30"].constituents[1].typical == 70
    frame = pandas.DataFrame(
        {
            "Artikel": ["Kaolin weiß", "Betain 30"],
            "Form": ["powder", "liquid"],
            "INCI": ["KAOLIN", "Cocamidopropyl Betaine"],
            "Gehalt": [100, 30.0],
            "Preis": [47.5, 14.5],
            "Gebinde": ["25 kg", "5 kg"],
        }
    )
    for table in [
        frame,
        polars.DataFrame(frame.to_dict("list")),
        pyarrow.table(frame.to_dict("list")),
        frame.to_dict("list"),
    ]:
        for decimal_comma in (None, True, False):
            assert read(table, decimal_comma=decimal_comma) == shelf
        assert (
            td.PriceList.from_table(table, shelf, columns=COLUMNS, currency="EUR").items()
            == td.PriceList.from_table(SHELF, shelf, columns=COLUMNS, currency="EUR").items()
        )
    assert (
        td.PriceList.from_table(frame, shelf, columns=COLUMNS, currency="EUR")["betain-30"]
        == td.PriceList({"kaolin": "2.9"}, currency="EUR")["kaolin"]
    )
    three = {"id": ["kaolin"], "price": [10], "pack_kg": [3]}
    assert str(td.PriceList.from_table(three, currency="EUR")["kaolin"]) == "3.3333333333"


def test_rows_of_one_material_stand_together():
    sheet = "id,name,form,constituent,typical,low,high,inci_list\nmix,Mix,liquid,glycerin,60,55,65,\nmix,,,7732-18-5,40,,,\nlist,List,liquid,,,,,Aqua|GLYCERIN\n"
    shelf = td.Catalogue.from_table(sheet, source=SOURCE)
    assert [(row.substance.inci, row.typical) for row in shelf["mix"].constituents] == [("GLYCERIN", 60), ("WATER", 40)]
    assert not shelf["list"].has_typical and [row.substance.inci for row in shelf["list"].constituents] == [
        "WATER",
        "GLYCERIN",
    ]


@pytest.mark.parametrize(
    ("sheet", "message"),
    [
        (SHELF.replace("Gehalt", "Gehalt;Artikel", 1), "a column occurs twice"),
        (SHELF.replace("Form", "Forma", 1), "unknown column"),
        (SHELF.replace("INCI", "Stoff", 1), "no column has this heading"),
        (SHELF.replace(";30;", ";1,234;"), "could be a decimal comma or separate thousands"),
        (SHELF.replace("Betain 30;liquid", "Kaolin weiß;liquid"), "two rows of one raw material say different things"),
        (SHELF.replace("powder", "Pulver"), "unknown form"),
        (SHELF.replace("Cocamidopropyl Betaine", "Cocamidopropyl Betain"), "unknown substance"),
        (SHELF.replace("Betain 30", "石鹸"), "no id can be made"),
    ],
)
def test_a_dry_run_says_what_a_reading_refuses(sheet, message):
    faults = td.Catalogue.check_table(sheet, columns=COLUMNS, rest_unspecified=True, source=SOURCE)
    assert any(message in fault.message for fault in faults), [fault.message for fault in faults]
    with pytest.raises(td.TensideError) as caught:
        read(sheet)
    assert [fault.message for fault in caught.value.faults] == [fault.message for fault in faults]


def test_frames_with_missing_and_doubled_columns_are_refused():
    doubled = pandas.DataFrame([["a", "b", "powder"]], columns=["name", "name", "form"])
    assert any("occurs twice" in fault.message for fault in td.Catalogue.check_table(doubled, source=SOURCE))
    messages = [fault.message for fault in td.Catalogue.check_table({"name": ["a"]}, source=SOURCE)]
    assert "a required column is missing" in messages
    unsourced = [
        fault.message for fault in td.Catalogue.check_table({"name": ["Clay", "Oil"], "form": ["powdr", "oil"]})
    ]
    assert unsourced.count("values without a source") == 1 and "unknown form" in unsourced
    assert not td.Catalogue.check_table(SHELF, columns=COLUMNS, rest_unspecified=True, source=SOURCE)
    with pytest.raises(td.errors.UnknownName, match='did you mean "name"'):
        td.Catalogue.from_table(SHELF, columns={"naem": "Artikel"})
    with pytest.raises(TypeError, match="a table is CSV text"):
        td.Catalogue.from_table(5)
    with pytest.raises(ValueError, match="different lengths"):
        td.Catalogue.from_table({"name": ["a", "b"], "form": ["oil"]})
    ignored = SHELF.replace("Gebinde\n", "Gebinde;Regal\n").replace("kg\n", "kg;7\n")
    assert read(ignored, ignore="Regal") == read(SHELF)
    nothing = pandas.DataFrame({"id": ["kaolin", "sci-powder"], "price_per_kg": [1.9, None]})
    assert td.PriceList.from_table(nothing, currency="EUR").keys() == ["kaolin"]


def test_a_source_is_said_once_and_a_lot_may_be_of_a_starter_material():
    text = td.Catalogue().with_material(CATALOGUE["capb-30"]).to_toml()
    source = CATALOGUE["capb-30"].source
    assert text.count(source) == 1
    lots = 'tenside = "catalogue/1"\n[[lot]]\nid = "W-27"\nmaterial = "capb-30"\nsalt = 5.2\n'
    own = td.Catalogue.from_toml(lots)
    assert own["capb-30"] == CATALOGUE["capb-30"] and own.lot("W-27").salt == td.Lot("W-27", "capb-30", salt="5.2").salt
    assert td.Catalogue.from_toml(own.to_toml()) == own
    with pytest.raises(td.errors.UnknownName, match="unknown raw material"):
        td.Catalogue.from_toml(lots.replace("capb-30", "capb-31"))
