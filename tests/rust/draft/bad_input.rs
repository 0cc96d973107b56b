//! Text that was not written by a friend.

use std::time::Instant;

use proptest::prelude::*;
use tenside::catalogue::Catalogue;
use tenside::document::Notation;
use tenside::formula::{Answer, Draft, DraftLine, LineRole, QuestionKind};

use super::{draft, kinds};

#[test]
fn names_that_cannot_be_shown_are_asked_about_and_escaped() {
    for name in [
        "",
        "  ",
        "kao\0lin",
        "kaolin\u{202E}nil",
        "\u{FEFF}",
        &"x".repeat(201),
        &"x".repeat(1_000_000),
        "<script>alert(1)</script>",
    ] {
        let draft = Draft::new("Hostile", vec![DraftLine::new(name, "100 %")]).unwrap();
        let questions = draft.questions(&Catalogue::starter());
        assert!(!questions.is_empty(), "{name:?}");
        for question in questions {
            let text = question.to_string();
            assert!(text.len() < 2000 && text.chars().all(|c| !c.is_control() && c != '\u{202E}'), "{text:?}");
        }
    }
    assert!(Draft::new("a\0b", vec![DraftLine::new("kaolin", "1 %")]).is_err());
    assert!(Draft::new("", vec![DraftLine::new("kaolin", "1 %")]).is_err());
    assert!(Draft::new("Empty", Vec::new()).is_err());
}

#[test]
fn amounts_that_are_no_amounts_are_asked_about() {
    for amount in [
        "nan %",
        "inf g",
        "1e400 g",
        "1e300",
        "-1 %",
        "101 %",
        "1/0 g",
        "9".repeat(5000).as_str(),
        "\0",
        "١٢ %",
        "1e28 tsp",
        "99999999999 tsp",
        "1e20 drops",
    ] {
        let questions = draft(&[&format!("glycerin | {amount}"), "kaolin | 10 g"]).questions(&Catalogue::starter());
        assert!(
            questions
                .iter()
                .any(|question| question.id.line == Some(1) || question.id.kind == QuestionKind::UnitMissing),
            "{amount}: {questions:?}"
        );
    }
}

#[test]
fn a_recipe_of_nothing_has_no_formula() {
    for nothing in
        [draft(&["kaolin | 0 g", "water | 0 g"]), draft(&["kaolin | 0 %"]), draft(&["kaolin | 0 %"]).normalise()]
    {
        assert_eq!(kinds(&nothing), [QuestionKind::TotalNotHundred]);
    }
    assert_eq!(kinds(&draft(&["kaolin | 100 %"]).drop_line(1).unwrap()), [QuestionKind::TotalNotHundred]);
}

#[test]
fn long_texts_are_refused_soon() {
    let start = Instant::now();
    assert!(Draft::from_text("Long", &"kaolin 1 %\n".repeat(1_000_000)).unwrap_err().is_out_of_range());
    let ten_thousand = Draft::from_text("Long", &"kaolin 1 %\n".repeat(10_000)).unwrap_err();
    assert!(
        ten_thousand.to_string().contains("found 10000") && ten_thousand.to_string().contains("1 to 1000 lines"),
        "{ten_thousand}"
    );
    for piece in ["1 ", "a, ", "a - ", "a (", "5 % ", "lot 1 ", "optional ", "| ", ". ", "\u{2026}", "x;"] {
        let draft = Draft::from_text("Wide", &piece.repeat(300_000)).unwrap();
        assert_eq!(draft.lines().len(), 1, "{piece:?}");
        assert!(!draft.questions(&Catalogue::starter()).is_empty(), "{piece:?}");
    }
    let toml = format!("tenside = \"draft/1\"\ntitle = \"x\"\n{}", "[[line]]\nitem = \"kaolin\"\n".repeat(100_000));
    assert!(Draft::read(&toml, Notation::Toml).unwrap_err().is_out_of_range());
    assert!(Draft::read(&"[".repeat(100_000), Notation::Json).unwrap_err().is_syntax());
    assert!(start.elapsed().as_secs() < 30);
}

/// Every line of the text is a line of the draft, or several in their order where it held a whole recipe.
fn all_lines_are_kept(filled: &[&str], draft: &Draft) -> Result<(), TestCaseError> {
    let mut written = draft.lines().iter().map(|line| line.written().unwrap_or_default()).peekable();
    for line in filled {
        let first = written.next().unwrap_or_default();
        if first == *line {
            continue;
        }
        let mut rest = *line;
        let mut piece = Some(first);
        while let Some(text) = piece {
            let at = rest.find(text);
            prop_assert!(at.is_some(), "{text:?} is no piece of {line:?}");
            rest = &rest[at.unwrap_or_default() + text.len()..];
            piece = written.next_if(|next| rest.contains(next) && !rest.trim().is_empty());
        }
        prop_assert!(
            rest.chars().all(|c| c.is_whitespace() || matches!(c, ',' | ';' | '+')),
            "{rest:?} of {line:?} is lost"
        );
    }
    prop_assert!(written.next().is_none());
    Ok(())
}

proptest! {
    #[test]
    fn any_text_becomes_questions_or_a_formula_and_no_line_is_lost(text in "(\\PC{0,30}(\t|:|  | |\n)?){0,6}") {
        let filled: Vec<&str> = text.strip_prefix('\u{FEFF}').unwrap_or(&text).lines().filter(|line| !line.trim().is_empty()).collect();
        match Draft::from_text("Pasted", &text) {
            Ok(draft) => {
                all_lines_are_kept(&filled, &draft)?;
                let catalogue = Catalogue::starter();
                prop_assert_eq!(draft.settle(&catalogue).is_ok(), draft.questions(&catalogue).is_empty());
            }
            Err(_) => prop_assert_eq!(filled.len(), 0),
        }
    }

    #[test]
    fn what_looks_like_a_recipe_is_kept_line_by_line_and_never_read_as_less_than_nothing(
        lines in prop::collection::vec((0usize..12, 0usize..10, 0usize..14), 1..8),
    ) {
        const HEADS: [&str; 12] = ["", "- ", "1. ", "Phase A: ", "* ", "| ", "(", "Total ", "optional ", "lot 7 ", "add ", "# "];
        const NAMES: [&str; 10] = ["kaolin", "water", "SCI", "rose hydrosol", "citric acid 50 %", "", "polysorbate 20", "cetyl alcohol (flakes)", "<b>clay</b>", "=A1"];
        const ENDS: [&str; 14] = [" - 12 %", " \u{2013} 5", "-7%", "\u{2212}8 %", "\t-3 %", ": 4 g", " ..... 6 g", ",9", ";1,5", " | 10 |", " (20%)", " 30 g (30 %)", " q.s. 100", ""];
        let text: String = lines.iter().map(|(head, name, end)| format!("{}{}{}\n", HEADS[*head], NAMES[*name], ENDS[*end])).collect();
        let filled: Vec<&str> = text.lines().filter(|line| !line.trim().is_empty()).collect();
        let Ok(draft) = Draft::from_text("Pasted", &text) else { return Ok(()) };
        all_lines_are_kept(&filled, &draft)?;
        let catalogue = Catalogue::starter();
        let questions = draft.questions(&catalogue);
        for (line, number) in draft.lines().iter().zip(1..) {
            // What is negative is asked about and never counted.
            let negative = line.role() == LineRole::Material && line.current_amount().starts_with(['-', '\u{2212}']);
            prop_assert!(!negative || questions.iter().any(|question| question.id.line == Some(number)), "{:?}", line);
        }
        if let Ok(settled) = draft.settle(&catalogue) {
            let counted = draft.lines().iter().filter(|line| line.role() == LineRole::Material).count();
            prop_assert_eq!(settled.formula.lines().len(), counted, "{}", text);
        }
    }

    #[test]
    fn recipes_of_known_words_come_to_an_end_whatever_is_answered(
        picks in prop::collection::vec((0usize..9, 0usize..20), 1..7),
        choices in prop::collection::vec(any::<prop::sample::Index>(), 12),
    ) {
        const ITEMS: [&str; 9] = ["kaolin", "water", "glycerin", "SCS", "citric acid 50 %", "capb-30", "rosemary oil (optional)", "cetyl-alcohol", "sci-powder"];
        const AMOUNTS: [&str; 20] = [
            "12 %", "12", "30 g", "2 oz", "1 tsp", "3 drops", "3-5 %", "q.s.", "to 100", "q.s. to 200 g", "6 % active", "", "1,500 g", "1.500 g", "2,5 g", "0 %", "100 %", "1e20 drops", "q.s. to 1e20", "to 0",
        ];
        let catalogue = Catalogue::starter();
        let lines = picks.into_iter().map(|(item, amount)| DraftLine::new(ITEMS[item], AMOUNTS[amount])).collect();
        let mut draft = Draft::new("Any", lines).unwrap();
        for choice in choices {
            let questions = draft.questions(&catalogue);
            let answerable: Vec<_> = questions.iter().filter(|question| !question.choices.is_empty()).collect();
            if answerable.is_empty() {
                break;
            }
            let question = choice.get(&answerable);
            let answer = choice.get(&question.choices).answer.clone();
            draft = draft.clone().answer(question.id, answer.clone()).map_err(|error| TestCaseError::fail(error.to_string()))?;
            let left = draft.questions(&catalogue);
            if answer == Answer::LeaveOpen {
                continue;
            }
            prop_assert!(left.iter().all(|open| open.id != question.id), "{answer:?} left {question:#?}");
        }
        let open = draft.questions(&catalogue);
        match draft.into_formula(&catalogue) {
            Ok(formula) => prop_assert_eq!(formula.lines().iter().map(|line| line.percent().parts()).sum::<u32>(), 1_000_000),
            Err(error) => {
                prop_assert!(error.faults().iter().all(|fault| fault.kind == tenside::error::FaultKind::Question), "{}", error);
                prop_assert_eq!(error.faults().len(), open.len());
            }
        }
    }
}
