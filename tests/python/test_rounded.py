"""Rounded recipes, choices and the nearest formula, as a script sees them."""

import pickle
from fractions import Fraction

import pytest
import tenside as td
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()
PRICES = {
    "sci-powder": 6.4,
    "scs-needles": 5.2,
    "capb-30": 2.9,
    "coco-glucoside-50": 4.1,
    "cetyl-alcohol": 4.8,
    "kaolin": 1.9,
}


def bar():
    return (
        td.Brief("Bar", CATALOGUE, prices=PRICES, currency="EUR")
        .split({"sci-powder": 3, "scs-needles": 1}, by="active", name="wash")
        .between("cetyl-alcohol", 3, 6)
        .qs("kaolin")
        .at_most(m.water, 5)
        .minimise(m.cost)
    )


def choosing():
    return (
        td.Brief("One of two", CATALOGUE, prices=PRICES, currency="EUR")
        .between("sci-powder", 20, 60)
        .absent_or_between("capb-30", 10, 20)
        .line("glucoside", "coco-glucoside-50", low=10, high=20, or_absent=True)
        .group("co-surfactants", ["capb-30", "glucoside"])
        .at_most_of("co-surfactants", 1)
        .qs("kaolin")
        .at_least(m.active_matter, 57)
        .minimise(m.cost)
    )


def test_every_percentage_is_a_multiple_of_its_step():
    steps = td.solve.Steps("0.5", lines={"kaolin": "0.1"}, within={"wash": "0.5"})
    rounded = bar().at_least(m.active_matter, 58).solve_rounded(steps)
    for line in rounded.formula.lines:
        step = steps.lines.get(line.name, steps.step)
        assert (Fraction(line.percent) / step).denominator == 1, line
    assert sum(line.percent for line in rounded.formula.lines) == 100
    assert rounded.verify() and rounded.is_best and rounded.gap == 0 and rounded.bound == rounded.objective
    assert rounded.objective >= rounded.objective_without_steps
    assert rounded.steps == steps and rounded.brief == bar().at_least(m.active_matter, 58)
    for departure in rounded.departures:
        assert departure.words == "the share of scs-needles in wash" or abs(
            departure.departure
        ) <= departure.tolerance == Fraction(1, 2)


def test_whole_divisions_of_a_scale():
    steps = td.solve.Steps.of_weighing("500 g", "1 g", giving_up="wash")
    rounded = bar().at_least(m.active_matter, 58).solve().rounded(steps)
    weighed = rounded.formula.batch(mass="500 g", readability="1 g")
    assert all((5 * Fraction(line.percent)).denominator == 1 for line in rounded.formula.lines)
    assert rounded.formula.measure(m.active_matter).value.typical >= 58
    assert weighed.weighed == 500


def test_a_cut_off_search_says_how_far_it_may_be_off():
    brief = bar().at_least(m.active_matter, 58)
    steps = td.solve.Steps("0.1", within={"wash": "0.1"}, nodes=1)
    outcome = brief.try_solve_rounded(steps)
    whole = brief.solve_rounded(td.solve.Steps("0.1", within={"wash": "0.1"}, nodes=100_000))
    assert whole.is_best
    if isinstance(outcome, td.solve.Rounded):
        assert outcome.gap == outcome.objective - outcome.bound
        assert outcome.bound <= whole.objective <= outcome.objective
    else:
        assert not outcome.is_proved and outcome.nodes == 1
        with pytest.raises(td.errors.Contradiction, match="cut off"):
            outcome.verify()


def test_what_forbids_a_rounded_recipe_is_said():
    brief = bar().target(m.active_matter, 58)
    unmet = brief.try_solve_rounded(0.5)
    assert unmet.is_proved and unmet.is_irreducible and unmet.is_answerable_without and unmet.verify()
    assert unmet.requirements == ["active matter at 58 %"]  # 0.42 a + 0.465 b = 58 has no whole solution
    assert unmet.finer_step is None
    assert unmet.would_do_within_half_a_step
    with pytest.raises(td.errors.NoFormula) as caught:
        brief.solve_rounded(0.5)
    assert caught.value.unmet == unmet
    assert caught.value.faults[0].remedy == unmet.remedy
    again = pickle.loads(pickle.dumps(caught.value))
    assert again.unmet == unmet and str(again) == str(caught.value) == unmet.sentence
    assert brief.solve_rounded(td.solve.Steps(0.5, half_a_step=True)).verify()


def test_a_refusal_names_half_a_step_and_the_filler():
    brief = td.Brief("Doses", CATALOGUE).fix("citric-acid-50", "0.3").fix("sodium-benzoate", "0.6").qs("corn-starch")
    brief = brief.split({"sci-powder": "3.3331", "capb-30": 1}, by="active", name="wash").at_least(m.active_matter, 30)
    unmet = brief.try_solve_rounded(td.solve.Steps("0.5"))
    assert unmet.finer_step is None and not unmet.would_do_within_half_a_step
    assert unmet.finer_lines.lines == ["citric-acid-50", "sodium-benzoate", "corn-starch"]
    assert unmet.finer_lines.step == Fraction(1, 10) and unmet.finer_lines.half_a_step
    assert (
        "(half_a_step)" in unmet.sentence
        and "steps of 0.1 % for citric-acid-50, sodium-benzoate, corn-starch" in unmet.remedy
    )
    doses = {"citric-acid-50": "0.1", "sodium-benzoate": "0.1"}
    filler = brief.try_solve_rounded(td.solve.Steps("0.5", lines=doses, half_a_step=True)).finer_lines
    assert (filler.lines, filler.step, filler.half_a_step) == (["corn-starch"], Fraction(1, 10), False)
    assert brief.solve_rounded(td.solve.Steps("0.5", lines={**doses, "corn-starch": filler.step}, half_a_step=True)).verify()


def test_what_steps_cost_is_told_apart_from_what_tolerance_saves():
    brief = bar().target(m.active_matter, "58.2")
    rounded = brief.solve_rounded(td.solve.Steps("0.5", half_a_step=True))
    assert rounded.objective_without_tolerance == brief.solve().objective
    assert rounded.objective_without_steps < rounded.objective_without_tolerance
    assert len(rounded.loosened) == 2 and all(", within 0." in words for words in rounded.loosened)
    text = str(rounded)
    assert (
        "splits and targets as loose as here" in " ".join(text.split())
        and f"{float(brief.solve().objective):.4f}" in text
    )


def test_steps_that_make_no_sense_are_refused():
    for bad in [0, -1, "0.3", 200, "0.00005"]:
        with pytest.raises(td.errors.OutOfRange):
            bar().solve_rounded(bad)
    with pytest.raises(td.errors.OutOfRange, match="1 or more"):
        td.solve.Steps(0.5, nodes=0)
    with pytest.raises(td.errors.OutOfRange, match="tolerance below 0"):
        td.solve.Steps(0.5, within={"wash": -1})
    with pytest.raises(td.errors.Contradiction, match="given up"):
        td.solve.Steps(0.5, within={"wash": 1}, giving_up="wash")
    with pytest.raises(td.errors.UnknownName, match="wahs"):
        bar().solve_rounded(td.solve.Steps(0.5, giving_up=["wahs"]))
    with pytest.raises(td.errors.UnknownName, match="kaolinn"):
        bar().solve_rounded(td.solve.Steps(0.5, lines={"kaolinn": 1}))
    with pytest.raises(td.errors.OutOfRange):
        td.solve.Steps.of_weighing("1440 g", "1 g")


def test_at_most_one_of_two():
    brief = choosing()
    assert brief.has_choices and brief.at_most_of_groups == {"co-surfactants": 1}
    assert brief.lines[2].role == "absent or between 10 and 20 %"
    with pytest.raises(td.errors.Unsupported):
        brief.solve()
    choice = brief.choose()
    assert choice.verify() and choice.is_best and choice.gap == 0
    assert len({"capb-30", "glucoside"} & set(choice.present)) <= 1
    assert choice.absent == ["capb-30"] and choice.exact["capb-30"] == 0  # 20 % of it bring 6 %, and 6.6 % are missing
    assert choice.chosen_brief.solve().objective == choice.objective
    assert not choice.chosen_brief.has_choices
    # Every other choice, solved on its own, costs no less.
    plain = brief.change_line("capb-30", fix=0).change_line("glucoside", fix=0)
    for others in [{}, {"capb-30": (10, 20)}, {"glucoside": (10, 20)}]:
        single = plain
        for name, (low, high) in others.items():
            single = single.change_line(name, low=low, high=high)
        outcome = single.try_choose()
        assert isinstance(outcome, td.solve.Unmet) or outcome.objective >= choice.objective


def test_a_choice_that_cannot_be_made_says_so():
    unmet = choosing().at_least(m.active_matter, 90).try_choose()
    assert isinstance(unmet, td.solve.Unmet)
    assert unmet.steps is None and unmet.finer_step is None and unmet.is_proved and unmet.verify()
    assert any("90" in words for words in unmet.requirements)
    with pytest.raises(td.errors.NoFormula):
        choosing().at_least(m.active_matter, 90).choose()
    with pytest.raises(td.errors.OutOfRange, match="1 or more"):
        choosing().choose(nodes=0)


def test_roles_that_contradict_themselves_are_refused():
    for keywords in [
        {"or_absent": True},
        {"high": 5, "or_absent": True},
        {"low": 2, "fix": 3, "or_absent": True},
        {"low": 2, "qs": True, "or_absent": True},
    ]:
        with pytest.raises(td.errors.Contradiction):
            td.Brief("Bar", CATALOGUE).line("fat", "cetyl-alcohol", **keywords)
    with pytest.raises(td.errors.OutOfRange):
        td.Brief("Bar", CATALOGUE).absent_or_between("cetyl-alcohol", 0, 5)
    with pytest.raises(td.errors.UnknownName):
        choosing().at_most_of("co-surfactant", 1)


def test_a_choice_can_be_rounded():
    rounded = choosing().solve_rounded(0.5)
    percentages = rounded.formula.percentages
    assert rounded.verify() and sum(percentages[name] > 0 for name in ("capb-30", "glucoside")) <= 1
    assert all(percentages[name] == 0 or 10 <= percentages[name] <= 20 for name in ("capb-30", "glucoside"))


def test_nearest_by_squares_and_by_sum():
    base = td.Formula("Base", {"capb-30": 20, "glycerin-99-5": 40, "water": 40}, CATALOGUE)
    brief = (
        td.Brief("Nearest", CATALOGUE)
        .free("capb-30")
        .free("glycerin-99-5")
        .qs("water")
        .at_least(m.active_matter, "7.5")
    )
    squares, least = brief.least_squares_from(base).solve(), brief.least_change_from(base).solve()
    assert squares.brief.objective == "change least by squares" and squares.verify() and least.verify()
    # 5 % more betaine are taken from the other two in equal parts.
    assert squares.exact == {"capb-30": 25, "glycerin-99-5": Fraction(75, 2), "water": Fraction(75, 2)}
    assert squares.objective == 25 + 2 * Fraction(25, 4)
    assert least.objective == 10
    with pytest.raises(td.errors.Unsupported, match="least_change_from"):
        brief.least_squares_from(base).solve_rounded(0.5)


def test_each_shows_itself():
    rounded, unmet, choice = (
        bar().solve_rounded(td.solve.Steps(0.5, giving_up="wash")),
        bar().target(m.active_matter, 58).try_solve_rounded(0.5),
        choosing().choose(),
    )
    for value, words in [
        (rounded, "multiples of 0.5 %"),
        (unmet, "no formula of multiples of 0.5 %"),
        (choice, "ABSENT"),
    ]:
        assert words in str(value)
        assert "<table" in value._repr_html_() or value is unmet
        assert repr(value).startswith(f"<{type(value).__name__}")
    assert "no formula" in unmet._repr_html_()
    assert "foam" in str(rounded) and "foam" in str(choice)
