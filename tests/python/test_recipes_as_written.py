"""Recipes as people write them, pasted from Python: one line of code, and one for each open question."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
import tenside as td

CATALOGUE = td.Catalogue.starter()
CORPUS = tomllib.loads((Path(__file__).parent.parent / "data" / "recipes_as_written.toml").read_text(encoding="utf-8"))[
    "recipe"
]


@pytest.mark.parametrize("recipe", CORPUS, ids=[recipe["title"] for recipe in CORPUS])
def test_a_recipe_costs_one_line_and_one_for_each_question(recipe):
    draft = td.Draft.from_text(recipe["title"], recipe["text"])
    assert [question.id for question in draft.questions(CATALOGUE)] == recipe["questions"]
    assert [str(line.role) for line in draft.lines] == [line.split(" | ")[0] for line in recipe["lines"]]
    for answer in recipe.get("answers", []):
        name, given = answer.split(" = ")
        question = next(question for question in draft.questions(CATALOGUE) if question.id == name)
        draft = draft.answer(question, int(given) if given.isdigit() else given)
    assert [question.id for question in draft.questions(CATALOGUE)] == recipe.get("open", [])
    if "formula" in recipe:
        percentages = draft.to_formula(CATALOGUE).percentages
        assert [f"{name} {percent}" for name, percent in percentages.items()] == recipe["formula"]
    assert td.Draft.from_json(draft.to_json()) == draft


def test_answers_are_choices_numbers_or_words():
    draft = td.Draft.from_text("Two", "SCI - 60 %\nkaolin - 40 %")
    (question,) = draft.questions(CATALOGUE)
    chosen = draft.answer(question, question.choices[0])
    assert (
        chosen
        == draft.answer(question, 0)
        == draft.answer(question, "sci-powder")
        == draft.answer(question.id, "sci-powder")
    )
    assert chosen.to_formula(CATALOGUE).percentages == {"sci-powder": 60, "kaolin": 40}
    for wrong in (3.5, None, -1, object()):
        with pytest.raises(td.TensideError, match="one of question.choices, its number from 0, or words"):
            draft.answer(question, wrong)
    with pytest.raises(td.TensideError, match="no choice of this number"):
        draft.answer(question, 99)
    with pytest.raises(td.TensideError, match=r'give the question itself, or .*answer\("ambiguous-material@1", 0, cat'):
        draft.answer(question.id, 0)
    assert draft.answer(question.id, 0, CATALOGUE) == draft.answer(question, 0, CATALOGUE) == chosen
    with pytest.raises(td.TensideError, match="no choice of this number"):
        draft.answer(question.id, 99, CATALOGUE)
    with pytest.raises(td.TensideError, match="this question is not open"):
        draft.answer("range@2", 0, CATALOGUE)
    with pytest.raises(td.TensideError, match="draft.questions"):
        draft.answer(3.5, 0)


def test_a_guess_is_called_one_and_leaving_it_open_comes_first():
    draft = td.Draft.from_text("Slip", "kaolinn 100 %")
    (question,) = draft.questions(CATALOGUE)
    first, guess, _ = question.choices
    assert "leave it open" in first.label
    assert "a guess by spelling" in guess.label
    assert draft.answer(question, 0) == draft
    with pytest.raises(td.errors.OpenQuestion, match="choose"):
        draft.answer(question, 0).to_formula(CATALOGUE)


def test_a_lot_stays_with_its_raw_material():
    catalogue = CATALOGUE.with_lot(td.Lot("L9", "capb-30", active=28, method="solids less salt"))
    typical = catalogue.material("capb-30")
    assert td.Draft("Typical", [(typical, "100 %")]).to_formula(catalogue).lines[0].material == typical
    for draft in (
        td.Draft.from_text("Pasted", "CAPB solution, lot L9 - 100 %"),
        td.Draft("Built", [td.formula.DraftLine("capb-30", "100 %", lot="L9")]),
        td.Draft("Chosen", [("capb-30", "100 %")]).choose_lot(1, "L9"),
    ):
        formula = draft.to_formula(catalogue)
        assert formula.lines[0].material.lot == catalogue.lot("L9")
        again = td.Draft("Weighed", [(line.material, f"{line.percent} g") for line in formula.lines]).to_formula(
            catalogue
        )
        assert again.lines[0].material.lot == catalogue.lot("L9")
    with pytest.raises(td.errors.OpenQuestion, match="lot"):
        td.Draft("Unknown", [td.formula.DraftLine("capb-30", "100 %", lot="L10")]).to_formula(catalogue)


def test_a_draft_is_shown_as_a_page():
    draft = td.Draft.from_text("<b>Bar</b>", "Phase A\n<i>clay</i> - 60 %\nkaolin - 30 %\nTotal 90 %")
    page = draft.page(CATALOGUE)
    for html in (
        draft._repr_html_(),
        page.html(),
        *(question._repr_html_() for question in draft.questions(CATALOGUE)),
    ):
        assert "<i>" not in html
        assert "<b>Bar" not in html
    assert "Phase A" in str(draft)
    assert "open question" in page.text().lower()
    assert "leave the line out" in str(draft.questions(CATALOGUE)[0])


@pytest.mark.parametrize(
    "line",
    [
        "lactic acid 80 % to pH 5.3",
        "sodium-hydroxide-10 q.s. to pH 6",
        "citric acid 50 % q.s. to pH 5",
        "kaolin until pH 5.5",
    ],
)
def test_a_ph_is_no_amount(line):
    draft = td.Draft.from_text("To a pH", f"{line}\nsci-powder 60 %")
    assert draft.lines[0].amount.startswith("to pH ")
    asked = [question.message for question in draft.questions(td.Catalogue.starter()) if "line 1" in question.place]
    assert "how much brings a pH is a figure that only a trial gives" in asked


@pytest.mark.parametrize(
    "line", ["kaolin 10 g (in the liquid)", "kaolin 10 g (dissolve in 5 g water)", "kaolin 10 g (or another clay)"]
)
def test_a_remark_in_brackets_leaves_the_name_as_a_choice(line):
    draft = td.Draft.from_text("Remarks", f"{line}\nsci-powder 60 g")
    assert draft.lines[0].amount == "10 g"
    (question,) = [each for each in draft.questions(td.Catalogue.starter()) if each.kind == "unknown-material"]
    assert [choice.label.split(" (")[0] for choice in question.choices][1] == "kaolin"
