//! Reading catalogues: the starter one, and one of ten thousand raw materials.
#![allow(missing_docs, reason = "criterion's macros make public items")]

mod large;

use std::hint::black_box;

use criterion::{Criterion, SamplingMode, criterion_group, criterion_main};
use tenside::catalogue::Catalogue;
use tenside::document::Notation;

fn reading(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("catalogue");
    group.sample_size(10).sampling_mode(SamplingMode::Flat);
    for (name, notation) in [("TOML", Notation::Toml), ("JSON", Notation::Json)] {
        let starter = Catalogue::starter().write(notation).unwrap();
        group.bench_function(format!("read the starter catalogue, {name}"), |bencher| {
            bencher.iter(|| Catalogue::read(black_box(&starter), notation).unwrap())
        });
        let text = large::large_catalogue(notation);
        group.bench_function(format!("read {} materials, {name}", large::COUNT), |bencher| {
            bencher.iter(|| Catalogue::read(black_box(&text), notation).unwrap())
        });
    }
    let read = Catalogue::read(&large::large_catalogue(Notation::Toml), Notation::Toml).unwrap();
    group.bench_function("find a misspelt name among them", |bencher| {
        bencher.iter(|| read.material(black_box("materail-7777")).unwrap_err())
    });
    group.finish();
}

criterion_group!(group, reading);
criterion_main!(group);
