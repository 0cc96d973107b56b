//! Reads a brief in JSON and answers in JSON: the formula, or what cannot hold together and what would do.
//!
//! `cargo run --example answer_in_json < brief.json`; without input it answers a brief of its own.

#![allow(clippy::disallowed_methods, reason = "an example may read its input; the library reads none")]

use std::error::Error;
use std::io::{IsTerminal, Read};

use serde_json::{Value, json};
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

fn main() -> Result<(), Box<dyn Error>> {
    let mut text = String::new();
    if !std::io::stdin().is_terminal() {
        std::io::stdin().read_to_string(&mut text)?;
    }
    println!("{:#}", answer(if text.trim().is_empty() { BRIEF } else { &text })?);
    Ok(())
}

/// Every fault of a text is data, as is an outcome without formula; whoever calls needs one notation only.
pub(crate) fn answer(text: &str) -> Result<Value, Box<dyn Error>> {
    let brief = match Brief::read(text, Notation::Json, &Catalogue::starter()) {
        Ok(brief) => brief,
        Err(error) => {
            let faults = error.faults().iter().map(|fault| json!({ "kind": fault.kind.slug(), "message": fault.to_string() }));
            return Ok(json!({ "outcome": "refused", "faults": faults.collect::<Vec<_>>() }));
        }
    };
    Ok(match brief.try_solve()? {
        Outcome::Answered(answer) => {
            answer.verify()?;
            let formula: Value = serde_json::from_str(&answer.formula()?.write(Notation::Json, Materials::Embedded)?)?;
            json!({ "outcome": "answered", "formula": formula })
        }
        Outcome::Conflict(conflict) => {
            conflict.verify()?;
            let changes = conflict.relaxations()?;
            let changes = changes.iter().map(|change| change.as_ref().map(|change| change.sentence()));
            json!({ "outcome": "conflict", "members": conflict.members(), "changes": changes.collect::<Vec<_>>() })
        }
    })
}
