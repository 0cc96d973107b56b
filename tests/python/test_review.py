"""Reviews from Python: the same rows that the core is tested with, rules of one's own, what is refused."""

import pickle
import tomllib
from fractions import Fraction

import pytest
import tenside as td
from tenside import measure as m

STARTER = td.Catalogue.starter()
OURS = """
tenside = "rules/1"
id = "ours"
title = "Ours"
source = "house rule"
[[group]]
name = "salts"
title = "salts"
members = [{ inci = "SODIUM CHLORIDE" }, { inci = "SODIUM SULFATE", factor = 0.5 }]
[[rule]]
slug = "too-much-salt"
severity = "warning"
title = "too much salt"
group = "salts"
at_most = 3
"""


def rows(project):
    return tomllib.loads((project / "tests/data/findings.toml").read_text(encoding="utf-8"))["row"]


def pure(names):
    """A catalogue of raw materials that are one substance each."""
    known = {name: f"pure-{index}" for index, name in enumerate(names)}
    document = 'tenside = "catalogue/1"\nsource = "invented for a test"\n'
    for name, identifier in known.items():
        try:
            td.Catalogue.from_toml(document + material("probe", name))
        except td.errors.UnknownName:
            document += f'[[substance]]\ninci = "{name}"\nclass = "other"\n'
    return known, td.Catalogue.from_toml(
        document + "".join(material(identifier, name) for name, identifier in known.items())
    )


def material(identifier, name):
    return f'[[material]]\nid = "{identifier}"\nname = "{name}"\nform = "liquid"\nconstituents = [{{ inci = "{name}", typical = 100 }}]\n'


def formula(shares, temperature, retest=None):
    names = [name for name in shares if name == "unspecified" or name.upper() == name]
    known, catalogue = pure([*names, "GLYCERIN"])
    lines = []
    for name, share in [*shares.items(), ("GLYCERIN", 100 - sum(Fraction(share) for share in shares.values()))]:
        raw = catalogue.material(known[name]) if name in known else STARTER.material(name)
        raw = raw.with_lot(td.Lot(f"lot of {raw.id}", raw.id, retest=retest)) if retest else raw
        lines.append(td.Line(raw, share, name=name, phase="one"))
    return td.Formula("Row", lines, phases={"one": temperature} if temperature else None)


def slugs(row, which):
    facts = dict(row.get(f"facts_{which}", {}))
    bar = formula(row[which], facts.pop("temperature", None), facts.pop("retest", None))
    if "ph" in facts:
        facts["ph"] = td.Reading(facts["ph"], dilution="1+9")
    if "purpose" in row:
        for name in row[which]:
            bar = bar.with_purposes(name, row["purpose"])
    review = bar.review(market=row.get("market", "EU"), use=row["use"], on=row.get("on", "2026-11-24"), **facts)
    severities = {finding.severity for finding in review.findings if finding.slug == row["slug"]}
    assert severities <= {row.get("severity", *severities)}, row["slug"]
    return {finding.slug: finding.certainty for finding in review.findings}


def test_every_row_is_found_and_its_twin_is_not(project):
    wrong = []
    for row in rows(project):
        found, clear = slugs(row, "found"), slugs(row, "clear")
        if found.get(row["slug"]) != "certain" or row["slug"] in clear:
            wrong.append(row["slug"])
    assert wrong == []


def test_every_rule_has_a_row(project):
    rules = {rule.slug for each in td.review.RuleList.starter() for rule in each.rules}
    assert rules == {row["slug"] for row in rows(project)}


def test_a_finding_is_data():
    bar = td.Formula("Soothing", {"sodium-benzoate": 3.5, "glycerin-99-5": 96.5}, STARTER)
    (open_purpose,) = [
        f
        for f in bar.review(market="EU", use="shampoo-bar", on="2026-11-24").findings
        if f.slug == "annex-v-1-rinse-off"
    ]
    assert open_purpose.severity == "warning" and "state its purposes" in open_purpose.caveat
    review = bar.with_purposes("sodium-benzoate", "preservative").review(
        market="EU", use="shampoo-bar", on="2026-11-24"
    )
    finding = next(finding for finding in review.findings if finding.severity == "error")
    assert (finding.slug, finding.certainty, finding.lines) == ("annex-v-1-rinse-off", "certain", ["sodium-benzoate"])
    assert finding.value.typical == Fraction("3.5") * Fraction("0.995") * Fraction(122122, 144103)
    assert (finding.bound, finding.limit, finding.basis) == ("at_most", Fraction(5, 2), "as charged")
    assert "Annex V, entry 1" in finding.source and "consolidated" not in finding.title
    assert review.gravest == "error" and review.is_draft
    assert finding.caveat is None and finding.begins is None
    assert any("2026-05-18" in each.heading for each in review.lists)
    assert "US states" in " ".join(review.not_covered)
    assert "safe" not in str(review).replace("safety", "") and "compliant" not in str(review)


def test_rules_of_ones_own(tmp_path):
    ours = td.review.RuleList.from_toml(OURS)
    td.write(ours, tmp_path / "ours.json")
    assert td.read_rules(tmp_path / "ours.json") == ours
    bar = td.Formula("Salty", {"sodium-chloride": 4, "kaolin": 96}, STARTER)
    asked = {"market": "EU", "use": ["hair", "body"], "on": "2026-11-24", "rules": [ours]}
    review = bar.review(**asked)
    assert "too-much-salt" in [finding.slug for finding in review.findings]
    reviewer = td.review.Reviewer(STARTER, **asked)
    assert reviewer.review(bar) == review
    column = [
        reviewer.flag("too-much-salt", td.Formula("Salty", {"sodium-chloride": s, "kaolin": 100 - s}, STARTER))
        for s in (2, 4)
    ]
    assert [flag.certainty for flag in column] == [None, "certain"] and all(flag.checked for flag in column)
    with pytest.raises(td.errors.UnknownName, match="did you mean"):
        reviewer.flag("too-much-slat", bar)


@pytest.mark.parametrize(
    ("keywords", "kind", "words"),
    [
        ({"on": None}, td.errors.Missing, "without a date"),
        ({"market": None}, td.errors.Missing, "without a market"),
        ({"use": None}, td.errors.Missing, "without a use"),
        ({"market": "UK"}, td.errors.UnknownName, "EU, US"),
        ({"use": ["shampo"]}, td.errors.UnknownName, "shampoo-bar"),
        ({"use": []}, td.errors.Missing, "without a use"),
        ({"use": ["hair", "hair"]}, td.errors.Duplicate, "twice"),
        ({"scent_limit": 1}, td.errors.Missing, "product category"),
        ({"scent_limit": {"lavender-oil": 1}}, td.errors.Missing, "product category"),
        ({"scent_limit": {}, "scent_category": "9"}, td.errors.Missing, "without a scent"),
        ({"scent_limit": {"lavender-oil": 101}, "scent_category": "9"}, td.errors.OutOfRange, "lavender-oil"),
        ({"scent_limit": {"Lavender oil": 1}, "scent_category": "9"}, td.errors.OutOfRange, "not an identifier"),
        ({"scent_limit": "much", "scent_category": "9"}, td.errors.NotANumber, "much"),
        ({"scent_category": "9"}, td.errors.Missing, "without its limit"),
        ({"water_activity": 1.2}, td.errors.OutOfRange, "water activity"),
        ({"moisture": 100}, td.errors.OutOfRange, "residual moisture"),
        ({"on": "2026-02-30"}, td.errors.OutOfRange, "year-month-day"),
        ({"form": "gel"}, td.errors.UnknownName, "solid, liquid"),
        ({"kept": "damp"}, td.errors.UnknownName, "wet, dry"),
    ],
)
def test_what_a_review_refuses(keywords, kind, words):
    bar = td.Formula("Clay", {"kaolin": 100}, STARTER)
    with pytest.raises(kind, match=words):
        bar.review(**{"market": "EU", "use": "hair", "on": "2026-11-24", **keywords})


def test_a_review_takes_a_product_or_its_keywords_but_not_both():
    bar = td.Formula("Salty", {"sodium-chloride": 4, "kaolin": 96}, STARTER)
    stated = {"market": "EU", "use": "hair", "on": "2026-11-24", "rules": [td.review.RuleList.from_toml(OURS)]}
    product = td.Product(**stated)
    review = bar.review(product)
    assert review == bar.review(product=product) == bar.review(**stated) == td.review.Reviewer(STARTER, product).review(bar)
    assert "too-much-salt" in [finding.slug for finding in review.findings]
    for call in (bar.review, lambda *product, **keywords: td.review.Reviewer(STARTER, *product, **keywords)):
        with pytest.raises(td.errors.Contradiction, match="stated by keywords as well"):
            call(product, on="2026-11-25")
    with pytest.raises(td.errors.Missing, match="without a market"):
        bar.review(use="hair", on="2026-11-24")


def test_a_rule_without_source_is_refused():
    with pytest.raises(td.errors.Missing, match="house rule"):
        td.review.RuleList.from_toml(OURS.replace('source = "house rule"\n', ""))


def test_reviews_and_rules_travel():
    ours = td.review.RuleList.from_toml(OURS)
    bar = td.Formula("Salty", {"sodium-chloride": 4, "kaolin": 96}, STARTER)
    stated = {
        "ph": td.Reading(5.6, dilution="1+9"),
        "moisture": "1/3",
        "kept": "dry",
        "water_activity": "0.6",
        "placing": "placed",
        "form": "solid",
    }
    asked = {
        "market": "EU",
        "use": "hair",
        "on": "2026-11-24",
        "scent_limit": 1,
        "scent_category": "9",
        "rules": [ours],
        **stated,
    }
    review = bar.review(**asked)
    again = pickle.loads(pickle.dumps(review))
    assert again == review and hash(again) == hash(review)
    assert pickle.loads(pickle.dumps(ours)) == ours
    reviewer = pickle.loads(pickle.dumps(td.review.Reviewer(STARTER, **asked)))
    assert reviewer.review(bar) == review
    total = m.substance_sum(
        "salts", {"SODIUM CHLORIDE": ("35.45", 1, "58.443"), "SODIUM SULFATE": "1/2"}, classes={"clay": 2}
    )
    assert pickle.loads(pickle.dumps(total)) == total


def test_the_page_escapes_names():
    odd = "<script>alert(1)</script>"
    document = f'tenside = "catalogue/1"\nsource = "invented"\n[[substance]]\ninci = "{odd}"\nclass = "colourant"\n'
    catalogue = td.Catalogue.from_toml(document + material("odd", odd))
    review = td.Formula(odd, {"odd": 100}, catalogue).review(market="US", use="hair", on="2026-11-24")
    assert any(odd in finding.sentence for finding in review.findings)
    assert "<script>" not in review._repr_html_() and "&#60;script&#62;" in review._repr_html_()


def test_a_purpose_decides_which_limit_holds():
    """Salicylic acid at 2 % against dandruff is what entry 98 of Annex III allows; as a preservative entry 3 of Annex V has 0.5 %."""
    asked = {"market": "EU", "use": "shampoo-bar", "on": "2026-11-24", "moisture": 3}
    bar = td.Formula("Scalp bar", {"sci-powder": 60, "salicylic-acid": 2, "kaolin": 38}, STARTER)
    severity = {"anti-dandruff": None, "preservative": "error", None: "question"}
    for purpose, wanted in severity.items():
        stated = bar.with_purposes("salicylic-acid", purpose) if purpose else bar
        found = [finding.severity for finding in stated.review(**asked).findings if finding.slug == "annex-v-3"]
        assert found == ([wanted] if wanted else []), purpose
    with pytest.raises(td.errors.UnknownName, match="did you mean"):
        bar.with_purposes("salicylic-acid", "antidandruff")
    line = td.Line(STARTER.material("salicylic-acid"), 100, purposes=["anti-dandruff", "preservative"])
    assert pickle.loads(pickle.dumps(line)).purposes == ["preservative", "anti-dandruff"]
    kept = td.Formula("Acid", [line])
    assert td.Formula.from_toml(kept.to_toml()) == kept == td.Formula.from_json(kept.to_json())


def test_each_scent_has_its_own_limit():
    """Two certificates: each scent is judged against its own, at the limit and just over, and one without is asked about."""
    asked = {"market": "EU", "use": "shampoo-bar", "on": "2026-11-24", "scent_category": "9"}

    def reviewed(lavender, lemon, limits):
        lines = {"lavender-oil": lavender, "lemon-oil": lemon, "kaolin": 100 - lavender - lemon}
        return td.Formula("Two scents", lines, STARTER).review(**asked, scent_limit=limits)

    def found(review):
        return [finding.lines for finding in review.findings if finding.slug == "scent-load"]

    def missing(review):
        return [unchecked.lines for unchecked in review.unchecked if unchecked.slug == "scent-load"]

    limits = {"lavender-oil": "0.75", "lemon-oil": Fraction(1, 2)}
    at_both, over = (
        reviewed(Fraction(3, 4), Fraction(1, 2), limits),
        reviewed(Fraction(7501, 10000), Fraction(1, 2), limits),
    )
    assert (found(at_both), missing(at_both)) == ([], [])
    assert (found(over), missing(over)) == ([["lavender-oil"]], [])
    assert found(reviewed(Fraction(3, 4), Fraction(1, 2), "0.75")) == [["lavender-oil", "lemon-oil"]]
    one = reviewed(Fraction(3, 4), Fraction(1, 2), {"lavender-oil": 1})
    assert (found(one), missing(one)) == ([], [["lemon-oil"]])
    product = td.Product(**asked, scent_limit=limits)
    assert (
        eval(repr(product), {"Product": td.Product, "Fraction": Fraction})
        == product
        == pickle.loads(pickle.dumps(product))
    )


def test_what_is_covered_is_counted_from_the_lists():
    text = " ".join(td.review.RuleList.coverage().text(200).split())
    lists = td.review.RuleList.starter()
    assert f"all {sum(len(each.rules) for each in lists)}" in text
    for each in lists:
        assert " ".join(each.title.split()) in text and all(what in text for what in each.not_covered)
    known = [
        row.split("|") for row in td.review.RuleList.coverage().markdown().splitlines() if row.startswith("| not looked up")
    ]
    assert [int(row[-2]) for row in known][0] == 0 and len(known) == 2


def test_law_of_a_day_to_come_is_known_with_its_date():
    bar = td.Formula("Citrus", {"litsea-cubeba-oil": 2.5, "kaolin": 97.5}, STARTER)
    asked = {"market": "EU", "use": "shampoo-bar", "placing": "placed"}
    (early,) = [f for f in bar.review(**asked, on="2026-11-24").findings if f.slug == "annex-iii-70-rinse-off"]
    assert (early.severity, early.begins) == ("warning", "2027-01-01")
    (due,) = [f for f in bar.review(**asked, on="2027-01-01").findings if f.slug == "annex-iii-70-rinse-off"]
    assert (due.severity, due.begins) == ("error", None)
    assert not [
        f
        for f in bar.review(**asked | {"placing": "made-available"}, on="2027-01-01").findings
        if f.slug == "annex-iii-70-rinse-off" and f.begins is None
    ]


def test_a_review_says_what_is_known_of_each_substance():
    known, catalogue = pure(["ZINC PYRITHIONE", "CETYL ALCOHOL"])
    bar = td.Formula("Bar", {known["ZINC PYRITHIONE"]: 2, known["CETYL ALCOHOL"]: 98}, catalogue)
    review = bar.review(market="EU", use="shampoo-bar", on="2026-11-24")
    assert review.gravest == "error" and review.statuses[0].kind == "prohibited"
    assert {status.searched for status in review.statuses} <= {None, "by-cas-and-name", "by-name-only"}
    assert "ZINC PYRITHIONE" in str(review) and "no clearance" in str(review)
    status = td.substance.SubstanceStatus.of("salicylic acid", market="EU")
    assert status.kind == "limit" and {"annex-v-3", "annex-iii-98-hair"} <= {entry.slug for entry in status.entries}
    assert td.substance.SubstanceStatus.of("KAOLIN", market="US").searched == "not looked up"


def test_equivalents_follow_from_formulas():
    """Every factor of a group is the ratio of molar masses worked out from molecular formulas."""
    molmass = pytest.importorskip("molmass")
    cases = {
        "SODIUM BENZOATE": ("C7H6O2", "C7H5NaO2", 1),
        "CALCIUM SORBATE": ("C6H8O2", "C12H14CaO4", 2),
        "ZINC PCA": ("Zn", "C10H12N2O6Zn", 1),
        "ZINC GLUCONATE": ("Zn", "C12H22O14Zn", 1),
        "ZINC SULFATE": ("Zn", "ZnSO4", 1),
        "SODIUM METABISULFITE": ("SO2", "Na2S2O5", 2),
        "SODIUM SULFITE": ("SO2", "Na2SO3", 1),
        "CHLORHEXIDINE DIGLUCONATE": ("C22H30Cl2N10", "C34H54Cl2N10O14", 1),
        "RETINYL PALMITATE": ("C20H30O", "C36H60O2", 1),
        "TETRASODIUM ETIDRONATE": ("C2H8O7P2", "C2H4Na4O7P2", 1),
        "AMMONIUM HYDROXIDE": ("NH3", "H5NO", 1),
    }
    known, catalogue = pure([*cases, "GLYCERIN"])
    slug = {
        "SODIUM BENZOATE": "annex-v-1-rinse-off",
        "CALCIUM SORBATE": "annex-v-4",
        "SODIUM METABISULFITE": "annex-v-9",
        "SODIUM SULFITE": "annex-v-9",
        "CHLORHEXIDINE DIGLUCONATE": "annex-v-42",
        "RETINYL PALMITATE": "annex-iii-376",
        "TETRASODIUM ETIDRONATE": "annex-iii-53-hair",
        "AMMONIUM HYDROXIDE": "annex-iii-4",
    }
    for name, (counted, whole, molecules) in cases.items():
        bar = td.Formula("Much", {known[name]: 50, known["GLYCERIN"]: 50}, catalogue).with_purposes(
            known[name], "preservative"
        )
        found = {finding.slug: finding for finding in bar.review(market="EU", use="hair", on="2026-11-24").findings}
        value = found[slug.get(name, "annex-iii-24")].value.typical
        factor = molecules * molmass.Formula(counted).mass / molmass.Formula(whole).mass
        assert float(value) / 50 == pytest.approx(factor, rel=1e-4), name
