//! Answers a brief in JSON, as a service would: the answer with its batch, review and label, or the conflict as data,
//! or every fault.
//!
//! `cargo run --example answer_in_json < brief.json`; without input it answers a brief of its own.

#![allow(clippy::disallowed_methods, reason = "an example may read its input; the library reads none")]

use std::io::{IsTerminal, Read};

use serde_json::{Value, json};
use tenside::Error;
use tenside::prelude::*;

pub(crate) const BRIEF: &str = r#"{
  "tenside": "brief/1",
  "title": "Plain bar",
  "line": [
    { "name": "sci-powder", "material": "sci-powder", "low": 30, "high": 70 },
    { "name": "cetyl-alcohol", "material": "cetyl-alcohol", "low": 3, "high": 6 },
    { "name": "kaolin", "material": "kaolin", "qs": true }
  ],
  "requirement": [{ "measure": "active-matter", "equal": 45 }]
}"#;

fn main() -> std::io::Result<()> {
    let mut text = String::new();
    if !std::io::stdin().is_terminal() {
        std::io::stdin().read_to_string(&mut text)?;
    }
    let (status, body) = respond(if text.trim().is_empty() { BRIEF } else { &text });
    println!("{status}\n{body:#}");
    Ok(())
}

/// The status of a response and its body.
pub(crate) fn respond(text: &str) -> (u16, Value) {
    match answered(text) {
        Ok(body) => (200, body),
        Err(error) => match error.conflict() {
            Some(conflict) => (409, json!(conflict)),
            None => (status(&error), json!({ "faults": error.faults() })),
        },
    }
}

fn answered(text: &str) -> Result<Value, Error> {
    let answer = Brief::read(text, Notation::Json, &Catalogue::starter())?.solve()?;
    answer.verify()?;
    let formula = answer.formula()?;
    let batch = formula.batch(BatchSize::of_bars(24, "60 g".parse()?)?, Scales::new("0.1 g".parse()?)?)?;
    let day = "2026-11-24".parse()?;
    let review = formula.review(RuleBook::starter(), &Product::new(Market::Eu, &[Use::ShampooBar], day)?)?;
    let label = formula.label(&LabelRequest::new(Market::Eu, day).with_net("60 g".parse()?)?)?;
    Ok(json!({ "answer": answer, "batch": batch, "review": review, "label": label }))
}

/// The status for what is wrong: the first fault's.
fn status(error: &Error) -> u16 {
    match error.faults()[0].kind {
        FaultKind::Syntax | FaultKind::UnknownKey | FaultKind::NotANumber => 400,
        FaultKind::UnknownName | FaultKind::AmbiguousName => 404,
        FaultKind::NotKnown | FaultKind::Question => 424,
        FaultKind::Unsupported => 501,
        FaultKind::Stopped | FaultKind::NoMemory => 503,
        _ => 422,
    }
}
