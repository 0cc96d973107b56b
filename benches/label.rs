//! A label of fifteen lines, for each market, as data and as a page; and the exposure to one substance.
#![allow(missing_docs, reason = "criterion's macros make public items")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use tenside::brief::Brief;
use tenside::catalogue::Catalogue;
use tenside::document::Notation;
use tenside::exposure::ExposureRequest;
use tenside::label::{LabelRequest, Market};
use tenside::measure::Basis;
use tenside::number::Exact;

const BRIEF: &str = include_str!("../notebooks/harbour-swim-bar.toml");

fn working(criterion: &mut Criterion) {
    let brief = Brief::read(BRIEF, Notation::Toml, &Catalogue::starter()).unwrap();
    let formula = brief.solve().unwrap().formula().unwrap().clone();
    assert_eq!(formula.lines().len(), 15);
    // Another thing of the same formula in the same run, to compare with.
    criterion.bench_function("label/taking 15 lines apart with exact fractions", |bencher| {
        bencher.iter(|| black_box(&formula).expand())
    });
    for market in [Market::Eu, Market::Us] {
        let request = LabelRequest::new(market, "2026-11-24".parse().unwrap());
        criterion.bench_function(&format!("label/{market}, 15 lines"), |bencher| {
            bencher.iter(|| black_box(&formula).label(&request).unwrap())
        });
        let dried = request.with_moisture(Exact::from(2)).unwrap();
        criterion.bench_function(&format!("label/{market}, 15 lines, order after drying too"), |bencher| {
            bencher.iter(|| black_box(&formula).label(&dried).unwrap())
        });
    }
    let label = formula.label(&LabelRequest::new(Market::Eu, "2026-11-24".parse().unwrap())).unwrap();
    criterion
        .bench_function("label/EU, its page as text", |bencher| bencher.iter(|| black_box(&label).page().text(100)));
    let asked = ExposureRequest::of_product("shampoo").unwrap();
    criterion.bench_function("exposure/one substance", |bencher| {
        bencher.iter(|| black_box(&formula).exposure("BENZYL ALCOHOL", &asked, &Basis::AsCharged).unwrap())
    });
}

criterion_group!(group, working);
criterion_main!(group);
