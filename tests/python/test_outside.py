"""Checks against general-purpose libraries and open standards."""

import json
import re
from fractions import Fraction

import jsonschema
import molmass
import pytest
import tenside as td
import tenside.schema as schema
from tenside import measure as m


def test_molar_masses_are_those_of_the_formulas():
    """Every substance with a molecular formula, against molmass (IUPAC atomic masses)."""
    checked = 0
    for substance in td.Catalogue.starter().substances():
        if substance.formula is None or substance.molar_mass is None:
            continue
        checked += 1
        expected = molmass.Formula(substance.formula).mass
        assert float(substance.molar_mass.typical) == pytest.approx(expected, rel=2e-5, abs=0.002), substance.inci
    assert checked > 150


def test_cas_check_digits():
    """The last digit is the sum of the others, each times its place from the right, modulo 10."""
    checked = 0
    for substance in td.Catalogue.starter().substances():
        for number in substance.cas:
            digits = re.sub("-", "", number)
            total = sum(place * int(digit) for place, digit in enumerate(reversed(digits[:-1]), start=1))
            assert total % 10 == int(digits[-1]), number
            checked += 1
    assert checked > 300


@pytest.mark.parametrize("kind", ["catalogue", "brief", "formula", "rules"])
def test_written_documents_meet_their_published_schema(kind, project):
    brief = td.Brief.from_toml(
        (project / "notebooks" / "harbour-swim-bar.toml").read_text(encoding="utf-8"), td.Catalogue.starter()
    )
    document = {
        "catalogue": td.Catalogue.starter(),
        "brief": brief,
        "formula": brief.solve().formula,
        "rules": td.review.RuleList.starter()[0],
    }[kind]
    published = json.loads(schema.text(kind))
    jsonschema.Draft202012Validator.check_schema(published)
    jsonschema.Draft202012Validator(published).validate(json.loads(document.to_json()))


def test_active_of_the_demo_brief_by_hand(project):
    """The split by active matter, calculated apart from the library: 56 % active as 12 to 5 to 1."""
    brief = td.Brief.from_toml(
        (project / "notebooks" / "harbour-swim-bar.toml").read_text(encoding="utf-8"), td.Catalogue.starter()
    )
    answer = brief.solve()
    active = {name: brief.catalogue.material(name).active() for name in ("sci-powder", "scs-needles", "capb-30")}
    for name, part in (("sci-powder", 12), ("scs-needles", 5), ("capb-30", 1)):
        assert answer.exact[name] * active[name] / 100 == Fraction(56 * part, 18)
    assert answer.formula.measure(m.active_matter).value.typical == pytest.approx(56, abs=0.001)
