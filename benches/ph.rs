//! The pH of solutions: pure arithmetic, whole equilibria, and a titration of a formula.
#![allow(missing_docs, reason = "criterion's macros make public items")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use tenside::catalogue::Catalogue;
use tenside::formula::{Formula, Line};
use tenside::number::Ppm;
use tenside::ph::Solution;

fn solution(acids: &[(&str, f64)], sodium: f64) -> Solution {
    let water = Solution::at(25.0).unwrap().ion("Na", sodium).unwrap();
    acids.iter().fold(water, |solution, (name, total)| solution.acid(name, *total).unwrap())
}

fn working(criterion: &mut Criterion) {
    let cases = [
        ("acetate, one constant", solution(&[("acetic acid", 0.2)], 0.1)),
        ("citrate, three constants", solution(&[("citric acid", 0.1)], 0.15)),
        (
            "citrate with two preservatives",
            solution(&[("citric acid", 0.02), ("benzoic acid", 0.035), ("sorbic acid", 0.01)], 0.06),
        ),
        ("eight acids", {
            let names = [
                "citric acid",
                "lactic acid",
                "malic acid",
                "tartaric acid",
                "phosphoric acid",
                "benzoic acid",
                "glycine, protonated",
                "ammonium",
            ];
            solution(&names.map(|name| (name, 0.02)), 0.1)
        }),
    ];
    for (name, solution) in &cases {
        criterion
            .bench_function(&format!("ph/pH of {name}"), |bencher| bencher.iter(|| black_box(solution).ph().unwrap()));
    }
    criterion.bench_function("ph/equilibrium of citrate with two preservatives", |bencher| {
        bencher.iter(|| black_box(&cases[2].1).solve().unwrap())
    });
    let catalogue = Catalogue::starter();
    let line = |id: &str, percent: &str| {
        Line::new(id, catalogue.material(id).unwrap().clone(), Ppm::from_percent(percent).unwrap()).unwrap()
    };
    let rinse =
        Formula::new("Rinse", vec![line("citric-acid-50", "1"), line("sodium-benzoate", "0.5"), line("water", "98.5")])
            .unwrap();
    let undiluted = "1+0".parse().unwrap();
    criterion.bench_function("ph/pH of a formula of three lines", |bencher| {
        bencher.iter(|| black_box(&rinse).solution(&undiluted, 25.0).unwrap().ph().unwrap())
    });
}

criterion_group!(group, working);
criterion_main!(group);
