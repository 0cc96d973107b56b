"""The same brief from TOML, JSON and Python gives bit-identical results, and documents keep what they hold."""

import csv
import io
import json
import pickle
from decimal import Decimal
from fractions import Fraction

import pytest
import tenside as td
from hypothesis import given, settings
from hypothesis import strategies as draw
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()


@pytest.fixture(scope="module")
def demo(project):
    return (project / "notebooks" / "harbour-swim-bar.toml").read_text(encoding="utf-8")


def in_python():
    """The demo brief, said in Python."""
    prices = {
        "sci-powder": 6.40,
        "scs-needles": 5.20,
        "capb-30": 2.90,
        "cetyl-alcohol": 4.80,
        "stearic-acid": 3.60,
        "panthenol": 24.00,
        "glycerin-99-5": 2.40,
        "hydrolyzed-wheat-protein-powder": 31.00,
        "tetrasodium-glutamate-diacetate-47": 7.50,
        "sodium-thiosulfate-pentahydrate": 3.10,
        "benzyl-alcohol-dha-blend": 19.00,
        "citric-acid-50": 3.20,
        "rosemary-oil": 62.00,
        "ultramarine-blue": 14.00,
        "kaolin": 1.90,
    }
    return (
        td.Brief("Harbour swim bar", CATALOGUE, prices=prices, currency="EUR")
        .phase("melted", 75)
        .phase("liquid", 60)
        .phase("powder")
        .phase("cool-down", 40)
        .free("sci-powder")
        .free("scs-needles")
        .free("capb-30")
        .between("cetyl-alcohol", 3, 7)
        .between("stearic-acid", 2, 5)
        .fix("panthenol", 1.5)
        .line("glycerin-99-5", "glycerin-99-5", phase="liquid", low=1, high=3)
        .fix("hydrolyzed-wheat-protein-powder", 0.8)
        .line("tetrasodium-glutamate-diacetate-47", "tetrasodium-glutamate-diacetate-47", phase="liquid", fix=0.4)
        .line("sodium-thiosulfate-pentahydrate", "sodium-thiosulfate-pentahydrate", phase="cool-down", fix=0.5)
        .line("benzyl-alcohol-dha-blend", "benzyl-alcohol-dha-blend", phase="cool-down", fix=0.8)
        .line("citric-acid-50", "citric-acid-50", phase="cool-down", fix=0.3)
        .line("rosemary-oil", "rosemary-oil", phase="cool-down", fix=0.6)
        .fix("ultramarine-blue", 0.05)
        .qs("kaolin")
        .split({"sci-powder": 12, "scs-needles": 5, "capb-30": 1}, by="active", name="wash")
        .target(m.active_matter, 56)
        .at_most(m.water, 9)
        .at_least(
            m.as_supplied.contributed_by(lines=["cetyl-alcohol", "stearic-acid"]), 7, name="fats and waxes together"
        )
        .minimise(m.cost)
    )


def test_three_notations_one_result(demo):
    read = td.Brief.from_toml(demo, CATALOGUE)
    said = in_python()
    assert said == read
    first = read.solve()
    assert first.verify()
    assert len(first.exact) == 15
    briefs = [
        said,
        td.Brief.from_toml(read.to_toml()),
        td.Brief.from_json(read.to_json()),
        td.Brief.from_json(said.to_json(), CATALOGUE),
    ]
    for brief in briefs:
        assert brief == read
        answer = brief.solve()
        assert answer == first
        assert answer.exact == first.exact
        assert answer.objective == first.objective
        assert [row.multiplier for row in answer.proof.rows] == [row.multiplier for row in first.proof.rows]
        assert answer.formula.to_toml() == first.formula.to_toml()
        assert str(answer) == str(first)


def test_documents_keep_everything(demo):
    brief = td.Brief.from_toml(demo, CATALOGUE)
    formula = brief.solve().formula
    assert td.Formula.from_toml(formula.to_toml()) == formula
    assert td.Formula.from_json(formula.to_json()) == formula
    assert td.Catalogue.from_toml(CATALOGUE.to_toml()) == CATALOGUE
    assert td.Catalogue.from_json(CATALOGUE.to_json()) == CATALOGUE
    assert json.loads(formula.to_json())["tenside"] == "formula/1"


def test_files_keep_everything(demo, tmp_path):
    brief = td.Brief.from_toml(demo, CATALOGUE)
    formula = brief.solve().formula
    for suffix in ["toml", "json"]:
        draft = td.Draft("Half-written", [("kaolin", "10-15 %"), ("Rosemary oil", None)]).drop_line(2)
        for document, read in [
            (brief, td.read_brief),
            (formula, td.read_formula),
            (CATALOGUE, td.read_catalogue),
            (draft, td.read_draft),
        ]:
            path = tmp_path / f"document.{suffix}"
            td.write(document, path)
            assert read(path) == document
    marked = tmp_path / "marked.toml"
    marked.write_bytes(b"\xef\xbb\xbf" + demo.replace("\n", "\r\n").encode())
    assert td.read_brief(marked, CATALOGUE) == brief


def test_every_measure_survives_a_document():
    measures = [getattr(m, name) for name in m.__all__]
    measures = [measure for measure in measures if isinstance(measure, td.measure.Measure)]
    measures += [
        m.cost.per(m.score("slip", {"kaolin": 2})),
        m.score("slip", {"kaolin": "2.50"}).within(phase="powder"),
        m.class_("wax").contributed_by(lines=["kaolin"]),
    ]
    for measure in measures:
        brief = td.Brief("One", CATALOGUE).qs("kaolin").at_most(measure, "1/3")
        for again in [td.Brief.from_toml(brief.to_toml()), td.Brief.from_json(brief.to_json())]:
            assert again == brief
            assert again.requirements[0].measure == measure
            assert again.requirements[0].high == Fraction(1, 3)


@given(
    draw.floats(allow_nan=False, allow_infinity=False, min_value=-1e9, max_value=1e9).filter(
        lambda value: value == 0 or abs(value) > 1e-9
    )
)
def test_a_float_is_the_shortest_decimal_that_prints_it(value):
    assert td.measure.Interval(value).typical == Fraction(repr(value))


@given(draw.decimals(allow_nan=False, allow_infinity=False))
def test_a_decimal_is_read_exactly_or_refused(value):
    if abs(value.adjusted()) > 1000:
        with pytest.raises(td.errors.NotANumber):
            td.measure.Interval(value)
    else:
        assert td.measure.Interval(value).typical == Fraction(value)


@given(draw.fractions())
def test_a_fraction_is_read_exactly(value):
    interval = td.measure.Interval(value, low=value, high=value + 1)
    assert (interval.low, interval.typical, interval.high) == (value, value, value + 1)
    assert eval(repr(interval), {**vars(td._native), "Fraction": Fraction}) == interval


@given(draw.lists(draw.integers(1, 10**6), min_size=2, max_size=3, unique=True), draw.booleans())
def test_percentages_keep_every_digit(parts, as_json):
    percent = [Decimal(part) / 10_000 for part in sorted(parts)]
    brief = td.Brief("Digits", CATALOGUE).between("kaolin", percent[0], percent[1]).qs("water")
    again = td.Brief.from_json(brief.to_json()) if as_json else td.Brief.from_toml(brief.to_toml())
    assert (again.lines[0].low, again.lines[0].high) == (percent[0], percent[1])


TEXTS = draw.text(max_size=40) | draw.sampled_from(
    ["<script>alert(1)</script>", "a\x00b", "\u202eabc", "\u05d0\u05d1", "'''\"\"\"", "\\", "[x]", "# x", "a\nb"]
)


@settings(max_examples=200)
@given(TEXTS, TEXTS)
def test_text_is_carried_whole_or_refused(title, name):
    try:
        brief = (
            td.Brief(title, CATALOGUE)
            .line(name, "kaolin", fix=50)
            .qs("water")
            .at_most(m.constituent("KAOLIN"), 60, name=name)
        )
    except (td.errors.OutOfRange, UnicodeEncodeError):
        return
    assert brief.title == title.strip()
    assert brief.lines[0].name == name.strip()
    for again in [td.Brief.from_toml(brief.to_toml()), td.Brief.from_json(brief.to_json())]:
        assert again == brief
    formula = brief.solve().formula
    assert td.Formula.from_toml(formula.to_toml()) == formula
    measure = brief.requirements[0].measure
    assert eval(repr(measure), {**vars(td._native), "measure": m}) == measure


@given(draw.text(max_size=200))
def test_any_text_is_read_or_refused(text):
    for read in [
        td.Catalogue.from_toml,
        td.Catalogue.from_json,
        td.Formula.from_toml,
        td.Formula.from_json,
        td.Brief.from_toml,
        td.Brief.from_json,
        td.Draft.from_toml,
        td.Draft.from_json,
    ]:
        with pytest.raises((td.TensideError, UnicodeEncodeError)):
            read(text)


OWN = """
tenside = "catalogue/1"
[[substance]]
inci = "MY OWN ESTER"
class = "ester"
source = "sheet"
[[substance]]
inci = "GLYCERIN"
class = "anionic-surfactant"
counts_as_active = true
source = "sheet"
[[material]]
id = "m"
name = "=M"
form = "liquid"
source = "sheet"
use_levels = [{ use = "rinse-off", low = 1, high = 2, source = "other sheet" }]
constituents = [{ inci = "GLYCERIN", typical = 90 }, { inci = "WATER", typical = 10 }]
"""


def test_substances_of_a_catalogue_s_own_come_back():
    catalogue = td.Catalogue.from_toml(OWN)
    for again in [
        td.Catalogue.from_toml(catalogue.to_toml()),
        td.Catalogue.from_json(catalogue.to_json()),
        pickle.loads(pickle.dumps(catalogue)),
    ]:
        assert again == catalogue and again.substance("my own ester").source == "sheet"
        assert again.material("m").active() == catalogue.material("m").active() == 90
    with pytest.raises(td.errors.Unsupported) as caught:
        catalogue.to_csv()
    assert [fault.place for fault in caught.value.faults] == ['substance "GLYCERIN"', 'substance "MY OWN ESTER"']


def test_sheets_bring_back_sources_and_names_that_could_mean_several():
    again = td.Catalogue.from_csv(*CATALOGUE.to_csv())
    assert again == CATALOGUE
    with pytest.raises(td.errors.AmbiguousName):
        again.material("SCS")
    level, known = again.material("kaolin").use_levels[0], CATALOGUE.material("kaolin").use_levels[0]
    assert level == known and level.source != again.material("kaolin").source


def test_a_premix_brings_its_parts_and_comes_back():
    premix = td.Formula("Wash powder", {"sci-powder": 80, "kaolin": 20}, CATALOGUE).to_material(
        "wash-powder", form="powder"
    )
    catalogue = td.Catalogue().with_material(premix)
    assert [material.id for material in catalogue.materials()] == ["sci-powder", "kaolin", "wash-powder"]
    assert td.Catalogue.from_toml(catalogue.to_toml()) == catalogue == pickle.loads(pickle.dumps(catalogue))


FORMULAS = ["=1+1", "+1", "-x", "@A", '=HYPERLINK("a")', "'=x"]


@pytest.mark.parametrize("name", [*FORMULAS, "-5", "'x", "a=b"])
def test_no_cell_of_a_sheet_is_a_formula(name):
    text = OWN[: OWN.index("[[substance]]")] + OWN[OWN.index("[[material]]") :]
    catalogue = td.Catalogue.from_toml(text.replace('"=M"', json.dumps(name)))
    sheets = catalogue.to_csv()
    assert td.Catalogue.from_csv(*sheets) == catalogue and catalogue.material("m").name == name
    cells = [cell for sheet in sheets for row in csv.reader(io.StringIO(sheet)) for cell in row]
    assert not [cell for cell in cells if cell[:1] in ("=", "+", "@") or (cell[:1] == "-" and cell != "-5")]
