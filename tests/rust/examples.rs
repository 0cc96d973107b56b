//! The examples, run: what they print is what is said of them.
#![allow(dead_code, reason = "an example's own main prints")]

use tenside::prelude::*;

#[path = "../../crates/tenside/examples/answer_in_json.rs"]
mod answer_in_json;
#[path = "../../crates/tenside/examples/batch_sheet.rs"]
mod batch_sheet;
#[path = "../../crates/tenside/examples/own_catalogue.rs"]
mod own_catalogue;
#[path = "../../crates/tenside/examples/review_and_label.rs"]
mod review_and_label;
#[path = "../../crates/tenside/examples/sweep_to_arrow.rs"]
mod sweep_to_arrow;

#[test]
fn a_brief_in_json_is_answered_in_json() {
    let answered = answer_in_json::answer(answer_in_json::BRIEF).unwrap();
    assert_eq!(answered["outcome"], "answered");
    assert_eq!(answered["formula"]["title"], "Plain bar");
    let conflict = answer_in_json::answer(&answer_in_json::BRIEF.replace("\"equal\": 45", "\"equal\": 70")).unwrap();
    assert_eq!(conflict["outcome"], "conflict");
    assert!(conflict["changes"].as_array().unwrap().iter().any(|change| change.is_string()), "{conflict}");
    let refused = answer_in_json::answer(&answer_in_json::BRIEF.replace("active-matter", "foam")).unwrap();
    assert_eq!((&refused["outcome"], refused["faults"].as_array().unwrap().len()), (&"refused".into(), 1));
}

#[test]
fn a_sweep_becomes_a_record_batch() {
    let batch = sweep_to_arrow::swept().unwrap();
    assert_eq!(batch.num_rows(), 44);
    let (kaolin, feasible) = (batch.column_by_name("line.kaolin").unwrap(), batch.column_by_name("feasible").unwrap());
    assert_eq!(feasible.null_count(), 0);
    assert!(kaolin.null_count() > 0 && kaolin.null_count() < 44);
}

#[test]
fn a_catalogue_of_ones_own_answers_a_brief() {
    let formula = own_catalogue::solved().unwrap();
    assert!(!formula.is_draft());
    let active = formula.measure(&Measure::active_matter(), &Basis::AsCharged).unwrap();
    assert!(active.text().starts_with("50.00 ("), "{}", active.text());
}

#[test]
fn a_formula_is_reviewed_and_labelled() {
    let formula = review_and_label::formula().unwrap();
    let review = review_and_label::review(&formula).unwrap();
    assert!(review.findings().iter().any(|finding| finding.slug() == "annex-v-1-rinse-off"), "{}", review.summary());
    let label = review_and_label::label(&formula).unwrap();
    assert!(label.ingredients().starts_with("SODIUM COCOYL ISETHIONATE, KAOLIN, "), "{}", label.ingredients());
    assert!(label.scent().answer("linalool").unwrap().is_some());
}

#[test]
fn a_sheet_has_every_line_to_weigh() {
    let sheet = batch_sheet::sheet(SheetFormat::Text).unwrap();
    for words in ["Batch number", "2026-11-24", "cool-down", "scale of 0.01 g"] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
}
