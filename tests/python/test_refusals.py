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


@pytest.mark.parametrize("wrong", ["shampoo", "shampoo_bar", "Shampoo bar", "rinse_off", "", "bar", "leave-on", "oral"])
def test_a_use_without_levels_is_refused(wrong):
    for call in (brief().within_use_levels, brief().materials_without_use_level):
        with pytest.raises(td.UnknownName) as caught:
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
    with pytest.raises(td.NotKnown, match="add the lines first"):
        td.Brief("Bar", CATALOGUE).within_use_levels("shampoo-bar")


def test_prices_are_of_raw_materials_and_not_negative():
    for make in (lambda prices: brief(prices=prices), lambda prices: td.Formula("Clay", {"kaolin": 100}, CATALOGUE, prices=prices)):
        with pytest.raises(td.OutOfRange, match="0 to 1000000 per kg"):
            make({"kaolin": "-0.01"})
        with pytest.raises(td.UnknownName, match='did you mean "kaolin"') as caught:
            make({"kaoline": 1, "sci powderr": 2})
        assert len(caught.value.faults) == 2
        assert make({"kaolin": 1, "SCI powder": 6}).prices == {"kaolin": 1, "sci-powder": 6}
        with pytest.raises(td.Duplicate):
            make({"sci-powder": 1, "SCI powder": 6})
    # A formula without a catalogue finds it out when the cost is read.
    clay = td.Formula("Clay", {"kaolin": 100}, CATALOGUE).with_prices({"kaoline": 1})
    assert '"kaoline" has one' in str(clay.measure(m.cost).why_not[0])
    with pytest.raises(td.OutOfRange):
        brief(prices={"kaolin": 1}).turned("price.kaolin", -1)


def test_a_mistyped_phase_is_refused_where_phases_are_stated():
    assert brief().in_phase("sci-powder", "meltd").phases[-1].name == "meltd"
    stated = brief().phase("melted", 75)
    with pytest.raises(td.UnknownName, match='did you mean "melted"'):
        stated.in_phase("sci-powder", "meltd")
    with pytest.raises(td.UnknownName, match="state the phase before"):
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
    listed = CATALOGUE.merge(td.Catalogue.read_toml(LISTED))
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
