//! A formula of fifteen lines reviewed and labelled for the European Union, in one function: what is wanted of a picked
//! recipe.
#![allow(missing_docs, reason = "criterion's macros make public items")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use tenside::brief::Brief;
use tenside::catalogue::Catalogue;
use tenside::document::Notation;
use tenside::formula::{Formula, Line};
use tenside::label::{LabelRequest, Market};
use tenside::reading::Reading;
use tenside::review::Reviewer;
use tenside::rule::{Product, RuleBook, Use};

const BRIEF: &str = include_str!("../notebooks/harbour-swim-bar.toml");

fn together(criterion: &mut Criterion) {
    let brief = Brief::read(BRIEF, Notation::Toml, &Catalogue::starter()).unwrap();
    let formula = brief.solve().unwrap().formula().unwrap().clone();
    assert_eq!(formula.lines().len(), 15);
    let on = "2026-11-24".parse().unwrap();
    let reading = Reading::ph("5.6", "1+9".parse().unwrap()).unwrap();
    let product =
        Product::new(Market::Eu, &[Use::ShampooBar], on).unwrap().with_reading(reading).with_moisture(4).unwrap();
    let reviewer = Reviewer::new(RuleBook::starter(), product, formula.lines().iter().map(Line::material)).unwrap();
    let request = LabelRequest::new(Market::Eu, on);
    let both = |formula: &Formula| (reviewer.review(formula).unwrap(), formula.label(&request).unwrap());
    let (review, label) = both(&formula);
    println!(
        "review and label: {}; {} names, {} questions",
        review.summary(),
        label.items().len(),
        label.questions().len()
    );
    criterion.bench_function("review and label/15 lines, EU", |bencher| bencher.iter(|| both(black_box(&formula))));
    criterion.bench_function("review and label/the review of it", |bencher| {
        bencher.iter(|| reviewer.review(black_box(&formula)).unwrap())
    });
    criterion.bench_function("review and label/the label of it", |bencher| {
        bencher.iter(|| black_box(&formula).label(&request).unwrap())
    });
}

criterion_group!(group, together);
criterion_main!(group);
