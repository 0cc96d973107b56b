"""What stands on the shelf: how much, with which cautions, under which names, and soap as a surfactant."""

import tomllib
from collections import Counter
from fractions import Fraction

import pytest
import tenside as td
from tenside import measure as m

STARTER = td.Catalogue.starter()
CAUTIONS = [
    "irritant-dust",
    "nuisance-dust",
    "toxic",
    "toxic-by-inhalation",
    "reproductive-hazard",
    "corrosive",
    "eye-damage",
    "eye-irritant",
    "sensitising",
    "aspiration",
    "flammable",
    "environment",
    "heat-sensitive",
]
POWDER = """
tenside = "catalogue/1"
source = "invented for a test"
[[material]]
id = "powder"
name = "Powder"
form = "powder"
cautions = ["{caution}"]
constituents = [{{ inci = "KAOLIN", typical = 100 }}]
"""


def test_the_shelf_is_large_and_says_how_to_handle_most_of_it():
    assert len(STARTER) >= 420
    count = Counter(caution for material in STARTER.materials() for caution in material.cautions)
    # Nothing toxic when swallowed is offered; the word is for raw materials of one's own.
    assert set(count) == set(CAUTIONS) - {"toxic"}
    assert (
        count["eye-irritant"] >= 60
        and count["eye-damage"] >= 60
        and count["irritant-dust"] >= 60
        and count["nuisance-dust"] >= 60
    )


@pytest.mark.parametrize("caution", CAUTIONS)
def test_each_caution_is_read_written_and_said_on_the_sheet(caution):
    catalogue = td.Catalogue.from_toml(POWDER.format(caution=caution))
    powder = catalogue.material("powder")
    (said,) = powder.cautions.items()
    assert said[0] == caution and len(said[1]) > 20
    assert td.Catalogue.from_toml(catalogue.to_toml()).material("powder").cautions == powder.cautions
    formula = td.Formula("Powder", {"powder": 100}, catalogue)
    assert said[1] in formula.batch(mass="1 kg", readability="1 g").sheet().markdown


def test_an_unknown_caution_is_refused_with_those_that_are_known():
    with pytest.raises(td.TensideError) as refused:
        td.Catalogue.from_toml(POWDER.format(caution="inhalable-dust"))
    assert "irritant-dust" in str(refused.value) and "nuisance-dust" in str(refused.value)


def test_what_is_prohibited_is_not_offered(project):
    listed = tomllib.loads((project / "tests/data/eu_prohibited.toml").read_text(encoding="utf-8"))["prohibited"]
    names = {row["inci"] for row in listed}
    assert "ZINC PYRITHIONE" in names
    for material in STARTER.materials():
        for constituent in material.constituents:
            assert constituent.substance.inci not in names or constituent.typical <= Fraction(1, 2), material.id
    with pytest.raises(td.errors.UnknownName):
        STARTER.material("zinc-pyrithione-48")


def test_british_and_american_spellings_mean_the_same():
    assert STARTER.material("Hydrolyzed silk powder") == STARTER.material("hydrolysed silk powder")
    with pytest.raises(td.errors.AmbiguousName) as several:
        STARTER.material("sodium laureth sulphate")
    assert "sles-28" in str(several.value) and "sles-70" in str(several.value)


def test_soap_counts_in_a_measure_of_its_own():
    bar = td.Formula("Combi bar", {"soap-noodles-palm": 50, "sci-powder": 40, "magnesium-stearate": 10}, STARTER)
    typical = {
        name: bar.measure(getattr(m, name)).value.typical
        for name in ("active_matter", "soap", "active_with_soap", "anionic_active")
    }
    assert typical == {
        "active_matter": Fraction("33.6"),
        "soap": 42,
        "active_with_soap": Fraction("75.6"),
        "anionic_active": Fraction("33.6"),
    }
    assert m.active_with_soap == m.active_matter + m.soap
    assert any("soap is not counted" in note for note in bar.measure(m.active_matter).notes)
    assert not any("soap is not counted" in note for note in bar.measure(m.active_with_soap).notes)
    brief = (
        td.Brief("Combi bar", STARTER).between("soap-noodles-palm", 0, 100).between("sci-powder", 10, 100).qs("kaolin")
    )
    solved = brief.target(m.active_with_soap, 70).at_most(m.soap, 30).minimise(m.active_matter).solve().formula
    assert solved.measure(m.soap).value.typical == pytest.approx(30, abs=0.001)


@pytest.mark.parametrize(
    ("material", "active", "method", "measure"),
    [
        ("cetrimonium-chloride-29", "28.5", "titrated", m.class_("cationic-surfactant")),
        ("btms-25", "26", "titrated", m.class_("cationic-surfactant")),
        ("sodium-benzoate", "99.5", "assay", m.substance("SODIUM BENZOATE")),
    ],
)
def test_a_certificate_says_how_much_of_a_quat_or_a_preservative_there_is(material, active, method, measure):
    received = STARTER[material].with_lot(td.Lot("X-1", material, active=active, method=method))
    alone = td.Formula("Alone", [td.Line(received, 100)])
    assert alone.measure(measure).value.typical == Fraction(active)


def test_what_the_scale_cannot_see_is_told_from_what_was_missed():
    brief = td.Brief("Plain", STARTER).fix("sci-powder", 60).fix("panthenol", 1).qs("kaolin")
    batch = brief.solve().formula.batch(mass="1562.5 g", readability="0.1 g")
    assert [missed.is_rounding for missed in batch.as_made({}).missed(brief)] == [True]
    over = batch.as_made({"panthenol": "19.6 g"}).missed(brief)
    assert [missed.asked for missed in over if not missed.is_rounding] == [
        "line sci-powder fixed at 60 %", "line panthenol fixed at 1 %",
    ]  # fmt: skip
