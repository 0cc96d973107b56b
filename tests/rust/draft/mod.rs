//! Drafts: every question, every total, grams, documents and hostile text.

mod as_written;
mod bad_input;
mod documents;
mod figures;
mod lots;
mod masses;
mod phases;
mod questions;
mod suggestions;
mod totals;

use tenside::catalogue::Catalogue;
use tenside::document::Notation;
use tenside::formula::{Draft, DraftLine, Question, QuestionKind};

/// A draft of lines "item | amount".
fn draft(lines: &[&str]) -> Draft {
    let lines = lines
        .iter()
        .map(|line| match line.split_once('|') {
            Some((item, amount)) => DraftLine::new(item.trim(), amount.trim()),
            None => DraftLine::without_amount(line.trim()),
        })
        .collect();
    Draft::new("Test bar", lines).unwrap()
}

fn kinds(draft: &Draft) -> Vec<QuestionKind> {
    draft.questions(&Catalogue::starter()).iter().map(|question| question.id.kind).collect()
}

fn question(draft: &Draft, kind: QuestionKind) -> Question {
    let questions = draft.questions(&Catalogue::starter());
    questions
        .iter()
        .find(|question| question.id.kind == kind)
        .unwrap_or_else(|| panic!("no {kind} among {questions:#?}"))
        .clone()
}

/// The percentages of the formula, by line.
fn percentages(draft: &Draft) -> Vec<(String, String)> {
    let formula = draft.clone().into_formula(&Catalogue::starter()).unwrap_or_else(|error| panic!("{error}"));
    formula.lines().iter().map(|line| (line.name().to_string(), line.percent().to_string())).collect()
}

/// Written and read again in both notations.
fn round_trip(draft: &Draft) {
    for notation in [Notation::Toml, Notation::Json] {
        let text = draft.write(notation).unwrap();
        assert_eq!(&Draft::read(&text, notation).unwrap_or_else(|error| panic!("{error}\n{text}")), draft);
    }
}
