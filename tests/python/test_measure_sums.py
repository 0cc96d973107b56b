"""Measures are added, subtracted and multiplied by numbers; lists of forms, classes and attributes are sums."""

import pickle
from fractions import Fraction

import pytest

import tenside as td
from tenside import measure as m

CAT = td.Catalogue.starter()
BAR = td.Formula("Bar", {"sci-powder": 50, "capb-30": 15, "glycerin-99-5": 5, "cocoa-butter": 10, "kaolin": 20}, CAT)


def typical(measure, basis=td.as_charged):
    return BAR.measure(measure, basis).value.typical


def test_lists_are_sums():
    wet = m.form(["liquid", "oil", "paste"])
    assert wet == sum([m.form("liquid"), m.form("oil"), m.form("paste")])
    assert typical(wet) == sum(typical(m.form(form)) for form in ("liquid", "oil", "paste"))
    both = m.class_(["wax", "fatty-alcohol"])
    assert both == m.class_("wax") + m.class_("fatty-alcohol")
    assert m.active_of_class(["anionic-surfactant", "amphoteric-surfactant"]).unit == "%"
    assert m.attribute(["palm", "sulfate"]) == m.attribute("palm") + m.attribute("sulfate")
    # Any form that gives its parts one by one, and one name alone.
    assert m.form(form for form in ("liquid", "oil")) == m.form(("liquid", "oil"))
    assert m.form(["liquid"]) == m.form("liquid")


def test_numbers_are_exact():
    assert typical(m.water * "1/3" + m.solids / 3) == (typical(m.water) + typical(m.solids)) / 3
    assert typical(2 * m.water - m.water) == typical(m.water)
    assert typical(-m.water) == -typical(m.water)
    dried = td.finished(moisture=5)
    assert typical(m.active_matter + m.water, dried) == typical(m.active_matter, dried) + 5
    dough = m.form(["liquid", "paste"]).per(m.form(["powder", "needles"]))
    assert typical(dough) == Fraction(20, 70)
    assert dough.is_ratio and dough.unit == "kg/kg"


def test_a_sum_is_asked_for_and_solved():
    brief = (
        td.Brief("Dough", CAT).between("capb-30", 0, 30).between("glycerin-99-5", 0, 10).free("sci-powder").qs("kaolin")
    )
    brief = brief.target(m.active_matter, 40).target(m.form("liquid").per(m.form(["powder", "needles"])), "1/4")
    answer = brief.solve()
    assert answer.verify()
    found = answer.formula.measure(m.form("liquid").per(m.form(["powder", "needles"]))).value.typical
    assert abs(found - Fraction(1, 4)) < Fraction(1, 100_000)
    again = td.Brief.from_toml(brief.to_toml())
    assert again == brief == td.Brief.from_json(brief.to_json())
    assert again.requirements[1].name == brief.requirements[1].name
    limited = brief.at_most(m.water - m.water.contributed_by(lines="capb-30"), 1)
    assert limited.solve().verify()
    assert td.Brief.from_json(limited.to_json()) == limited


@pytest.mark.parametrize(
    "measure",
    [
        m.form(["liquid", "oil"]),
        m.water * 2,
        m.water - m.active_matter * "1/3",
        (m.water + m.solids).per(m.active_matter * 2 + m.unspecified),
        m.form(["liquid", "oil"]).within(phase="melted"),
        m.water - m.water.contributed_by(lines=["capb-30"]),
        m.score("slip", {"kaolin": 3}) + m.score("grip", {"kaolin": 4}),
        m.cost + m.cost.contributed_by(phase="liquid"),
    ],
    ids=str,
)
def test_a_sum_comes_back(measure):
    assert pickle.loads(pickle.dumps(measure)) == measure
    assert eval(repr(measure), {"measure": m}) == measure
    brief = (
        td.Brief("Asks", CAT)
        .line("capb-30", "capb-30", phase="melted", low=1)
        .line("oil", "glycerin-99-5", phase="liquid")
        .qs("kaolin")
    )
    brief = brief.at_least(measure, 1)
    assert td.Brief.from_toml(brief.to_toml()).requirements[0].measure == measure


@pytest.mark.parametrize(
    ("add", "says"),
    [
        (lambda: m.water + m.cost, "different units"),
        (lambda: m.water + m.water.per(m.solids), "different denominators"),
        (lambda: m.water + m.water.within(phase="melted"), "different denominators"),
        (lambda: m.water - m.water, "nothing is left"),
        (lambda: m.water * 0, "0 times"),
        (lambda: m.water / 0, "divided by 0"),
        (lambda: m.water + 1, "unsupported operand"),
        (lambda: 1 + m.water, "no measure"),
        (lambda: m.form([]), "no measures"),
        (lambda: m.form(["liquid", "liqid"]), "did you mean"),
        (lambda: m.water + "water", "unsupported operand"),
    ],
)
def test_what_has_no_sum_is_refused(add, says):
    with pytest.raises((td.TensideError, TypeError), match=says):
        add()


def test_names_in_a_sum_are_checked():
    with pytest.raises(td.errors.UnknownName, match="did you mean"):
        td.Brief("Bar", CAT).qs("kaolin").at_most(m.constituent("GLYCERIN") + m.constituent("GLYCERINE X"), 1)
    with pytest.raises(td.TensideError, match="as charged only"):
        BAR.measure(m.water + m.natural_origin, td.finished(moisture=5))


def test_a_denominator_that_can_be_negative_is_refused_in_a_brief():
    brief = td.Brief("Odd", CAT).free("sci-powder").free("capb-30").qs("kaolin")
    with pytest.raises(td.TensideError, match="can be negative"):
        brief.at_most(m.water.per(m.active_matter - m.solids), 1).solve()


def test_numbers_on_the_left():
    assert 0 - m.water == -m.water
    with pytest.raises(td.TensideError):
        1 - m.water
    with pytest.raises(td.TensideError, match="per another"):
        1 / m.water


def test_what_is_divided_by_the_cost_is_so_much_per_currency():
    brief = td.Brief("Bar", td.Catalogue.starter()).free("sci-powder").qs("kaolin").at_most(m.active_matter.per(m.cost), 5)
    assert [asked.name for asked in brief.requirements] == ["active matter per cost at most 5 kg per currency"]
