//! Reading and adding exact numbers.
#![allow(missing_docs, reason = "criterion's macros make public items")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use tenside::number::{Exact, apportion};

fn numbers(criterion: &mut Criterion) {
    criterion.bench_function("number/read a decimal", |bencher| bencher.iter(|| black_box("12.3456").parse::<Exact>()));
    let weights: Vec<Exact> = (1..=30).map(|weight| Exact::ratio(weight, 7)).collect();
    criterion.bench_function("number/apportion 30 lines", |bencher| {
        bencher.iter(|| apportion(black_box(&weights), 1_000_000))
    });
}

criterion_group!(group, numbers);
criterion_main!(group);
