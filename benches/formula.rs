//! A formula of fifteen lines: solved, verified, measured, taken apart.
#![allow(missing_docs, reason = "criterion's macros make public items")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use tenside::brief::Brief;
use tenside::catalogue::Catalogue;
use tenside::document::Notation;
use tenside::formula::Formula;
use tenside::measure::{Basis, Measure};
use tenside::number::Exact;

const BRIEF: &str = include_str!("../notebooks/harbour-swim-bar.toml");

fn demo() -> Brief {
    Brief::read(BRIEF, Notation::Toml, &Catalogue::starter()).unwrap()
}

/// Every constituent at its typical share and range, so that nothing is quicker than in a real formula.
fn fifteen_lines() -> Formula {
    let brief = Brief::new("Fifteen lines", &Catalogue::starter()).unwrap();
    let brief = brief
        .split("wash", tenside::brief::SplitBasis::Active, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)])
        .unwrap();
    let few =
        ["stearic-acid", "cocoa-butter", "btms-50", "shea-butter", "citric-acid-50", "lavender-oil", "corn-starch"];
    let fixed =
        few.iter().fold(brief.between("cetyl-alcohol", 3, 6).unwrap(), |brief, id| brief.fix(id, "1.1").unwrap());
    let fixed = ["panthenol", "sodium-lactate-60", "titanium-dioxide"]
        .iter()
        .fold(fixed, |brief, id| brief.fix(id, "0.7").unwrap());
    let brief = fixed.qs("kaolin").unwrap().target(Measure::active_matter(), 52).unwrap();
    brief.solve().unwrap().formula().unwrap().clone()
}

fn working(criterion: &mut Criterion) {
    let brief = demo();
    criterion.bench_function("brief/read the demo brief", |bencher| bencher.iter(demo));
    criterion
        .bench_function("brief/solve the demo brief", |bencher| bencher.iter(|| black_box(&brief).solve().unwrap()));
    let answer = brief.solve().unwrap();
    criterion
        .bench_function("brief/verify its answer", |bencher| bencher.iter(|| black_box(&answer).verify().unwrap()));
    let formula = fifteen_lines();
    assert_eq!(formula.lines().len(), 15);
    criterion.bench_function("formula/expand 15 lines", |bencher| bencher.iter(|| black_box(&formula).expand()));
    let dry = Basis::finished(Exact::from(3)).unwrap();
    criterion.bench_function("formula/measure active matter", |bencher| {
        bencher.iter(|| black_box(&formula).measure(&Measure::active_matter(), &Basis::AsCharged).unwrap())
    });
    criterion.bench_function("formula/measure active matter, finished", |bencher| {
        bencher.iter(|| black_box(&formula).measure(&Measure::active_matter(), &dry).unwrap())
    });
    criterion.bench_function("formula/measure the charge ratio", |bencher| {
        bencher.iter(|| black_box(&formula).measure(&Measure::charge_ratio(), &Basis::AsCharged).unwrap())
    });
}

criterion_group!(group, working);
criterion_main!(group);
