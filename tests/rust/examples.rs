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
    let (status, body) = answer_in_json::respond(answer_in_json::BRIEF);
    assert_eq!(status, 200);
    for kind in ["answer", "batch", "review", "label"] {
        assert_eq!(body[kind]["tenside"], format!("{kind}/1"));
    }
    assert_eq!(body["answer"]["formula"]["title"], "Plain bar");
    let (status, body) = answer_in_json::respond(&answer_in_json::BRIEF.replace("\"equal\": 45", "\"equal\": 70"));
    assert_eq!((status, &body["tenside"]), (409, &"conflict/1".into()));
    let members = body["members"].as_array().unwrap();
    assert!(
        members
            .iter()
            .any(|member| member["constraint"]["name"] == "sci-powder" && member["constraint"]["end"] == "high"),
        "{body}"
    );
    assert!(members.iter().all(|member| !member["relaxation"]["to"].is_null()), "{body}");
    for (from, to, status, kind) in [
        ("active-matter", "foam", 404, "unknown-name"),
        ("\"low\"", "\"lowest\"", 400, "unknown-key"),
        ("30", "\"x\"", 400, "not-a-number"),
        ("\"high\": 6", "\"high\": 2", 422, "contradiction"),
        ("}", "", 400, "syntax"),
    ] {
        let (found, body) = answer_in_json::respond(&answer_in_json::BRIEF.replace(from, to));
        assert_eq!((found, &body["faults"][0]["kind"]), (status, &kind.into()), "{from}: {body}");
    }
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
