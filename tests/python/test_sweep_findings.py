"""A review's columns of a sweep against reviews of the formulas that its rows come to."""

import json
import pickle

import pyarrow
import pytest
import tenside as td
from tenside import measure as m

STARTER = td.Catalogue.starter()
ASKED = {"market": "EU", "use": ["shampoo-bar", "body"], "on": "2026-11-24", "ph": td.Reading(5.6, dilution="1+9")}
CODES = ["findings", "findings.certain", "findings.unchecked", "use-levels"]


def determined():
    brief = td.Brief("Preserved", STARTER).split({"sci-powder": 14, "capb-30": 2}, by="active", name="wash")
    brief = (
        brief.fix("sodium-benzoate", 0.5).fix("btms-50", 3).fix("lavender-oil", 0.6).fix("panthenol", 0.7).qs("kaolin")
    )
    brief = brief.with_purposes("sodium-benzoate", "preservative")
    return brief.target(m.active_matter, 45).at_most(m.water, 14)


def solved():
    return determined().between("cetyl-alcohol", 1, 6).between("glycerin-99-5", 0, 4).minimise(m.water)


def axes():
    return td.axis("sodium-benzoate", [0.1, 0.5, "2.9499", "2.95", 4]), td.axis("wash.capb-30", [1, 2, 3.5, 9])


@pytest.mark.parametrize("brief", [determined(), solved()], ids=["determined", "solved"])
def test_every_row_says_what_its_own_review_says(brief):
    table = brief.sweep(*axes(), review=td.Product(**ASKED))
    kinds = set()
    for row in range(len(table)):
        cells = table.row(row)
        if not cells["feasible"]:
            assert all(cells[name] is None for name in CODES)
            continue
        review = table.answer(row).formula.review(**ASKED)
        listed = set(table.sweep.findings_legend)
        assert set(table.read_findings(cells["findings"])) == {finding.slug for finding in review.findings}
        certain = {finding.slug for finding in review.findings if finding.certainty == "certain"}
        assert set(table.read_findings(cells["findings.certain"])) == certain
        assert (
            set(table.read_findings(cells["findings.unchecked"]))
            == {unchecked.slug for unchecked in review.unchecked} & listed
        )
        levels = {"use-level-high": "above", "use-level-low": "below"}
        outside = {
            f"{line} {levels[finding.slug]} its use level"
            for finding in review.findings
            if finding.slug in levels
            for line in finding.lines
        }
        assert set(table.read_use_levels(cells["use-levels"])) == outside
        kinds.add((cells["findings"], cells["use-levels"]))
    assert len(kinds) > 3


def test_codes_are_handed_over_with_their_legends():
    table = determined().sweep(*axes(), review=td.Product(**ASKED), severity="error")
    arrow = pyarrow.table(table)
    assert arrow.column("findings").to_pylist() == table.column("findings")
    assert json.loads(arrow.schema.metadata[b"tenside.findings"]) == table.sweep.findings_legend
    assert json.loads(arrow.schema.metadata[b"tenside.use-levels"]) == table.sweep.use_levels_legend
    assert "annex-v-1-rinse-off" in table.sweep.findings_legend
    assert "panthenol above its use level" in table.sweep.use_levels_legend


def test_a_stream_keeps_what_has_no_finding():
    sweep = td.Sweep(determined(), *axes(), review=td.Product(**ASKED), severity="error")
    table = sweep.table()
    clean = [row for row, code in enumerate(table.column("findings.certain")) if code == 0]
    seen = sweep.stream(without="findings.certain", best=(len(table), "water"))
    assert seen.kept == len(clean) and sorted(kept.row for kept in seen.best) == clean
    assert 0 < len(clean) < seen.feasible


def test_a_reviewed_sweep_travels():
    sweep = td.Sweep(determined(), *axes(), review=td.Product(**ASKED), severity="warning", columns=CODES)
    again = pickle.loads(pickle.dumps(sweep))
    assert again == sweep and again.columns == CODES
    assert [again.table().column(name) for name in CODES] == [sweep.table().column(name) for name in CODES]
    assert again != td.Sweep(determined(), *axes(), columns=["water"])


@pytest.mark.parametrize(
    ("keywords", "words"),
    [
        ({"severity": "error"}, "a severity without a review"),
        ({"review": td.Product(**ASKED), "severity": "grave"}, "severity"),
        ({"columns": ["findings"]}, "findings"),
    ],
)
def test_what_cannot_be_asked_is_refused(keywords, words):
    with pytest.raises(td.errors.TensideError, match=words):
        determined().sweep(*axes(), **keywords)


def test_a_product_is_what_it_was_given():
    product = td.Product(**ASKED)
    assert product == td.Product(**ASKED) != td.Product(**{**ASKED, "use": "body"})
    assert (
        eval(repr(product), {"Product": td.Product, "Reading": td.Reading, "Decimal": __import__("decimal").Decimal})
        == product
    )
