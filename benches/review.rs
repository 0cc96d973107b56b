//! A formula of fifteen lines reviewed: with the rules compiled beforehand, one rule alone, and compiled on the way; a
//! sweep reviewed.
#![allow(missing_docs, reason = "criterion's macros make public items")]

use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use tenside::brief::{Brief, SplitBasis};
use tenside::catalogue::Catalogue;
use tenside::formula::{Formula, Line, Phase};
use tenside::measure::Measure;
use tenside::number::{Exact, Ppm};
use tenside::reading::Reading;
use tenside::review::Reviewer;
use tenside::rule::{Market, Product, RuleBook, Severity, Use};
use tenside::sweep::{Sweep, Values, Varied};

/// Raw materials with ranges, as the starter catalogue has them: preservatives, quaternaries, scent, water, an alkali.
const LINES: [(&str, &str); 15] = [
    ("sci-powder", "38"),
    ("scs-needles", "12"),
    ("capb-30", "6"),
    ("cetyl-alcohol", "5"),
    ("stearic-acid", "4"),
    ("cocoa-butter", "2"),
    ("btms-50", "3"),
    ("panthenol", "0.7"),
    ("sodium-benzoate", "0.5"),
    ("potassium-sorbate", "0.3"),
    ("citric-acid-50", "0.4"),
    ("lavender-oil", "0.6"),
    ("titanium-dioxide", "0.2"),
    ("corn-starch", "7.3"),
    ("kaolin", "20"),
];

fn fifteen_lines() -> Formula {
    let starter = Catalogue::starter();
    let line = |(id, share): &(&str, &str)| {
        Line::new(id, Arc::clone(starter.material(id).unwrap()), Ppm::from_percent(share).unwrap()).unwrap()
    };
    let formula = Formula::new("Fifteen lines", LINES.iter().map(line).collect()).unwrap();
    formula.with_phases(&[Phase::new("melted").unwrap().at(75).unwrap()]).unwrap()
}

fn product(market: Market) -> Product {
    let reading = Reading::ph("5.6", "1+9".parse().unwrap()).unwrap();
    let product = Product::new(market, &[Use::ShampooBar], "2026-11-24".parse().unwrap()).unwrap();
    product.with_reading(reading).with_moisture(4).unwrap().with_water_activity("0.6").unwrap()
}

fn reviewing(criterion: &mut Criterion) {
    let formula = fifteen_lines();
    let materials = || formula.lines().iter().map(Line::material);
    for market in [Market::Eu, Market::Us] {
        let reviewer = Reviewer::new(RuleBook::starter(), product(market), materials()).unwrap();
        let review = reviewer.review(&formula).unwrap();
        println!("review/{market}: {}", review.summary());
        criterion.bench_function(&format!("review/15 lines, {market}"), |bencher| {
            bencher.iter(|| reviewer.review(black_box(&formula)).unwrap())
        });
    }
    let reviewer = Reviewer::new(RuleBook::starter(), product(Market::Eu), materials()).unwrap();
    criterion.bench_function("review/one rule of 15 lines", |bencher| {
        bencher.iter(|| reviewer.flag("annex-v-1-rinse-off", black_box(&formula)).unwrap())
    });
    criterion.bench_function("review/the charge ratio of 15 lines", |bencher| {
        bencher.iter(|| reviewer.flag("charge-ratio", black_box(&formula)).unwrap())
    });
    let review = reviewer.review(&formula).unwrap();
    criterion.bench_function("review/its page as text", |bencher| bencher.iter(|| black_box(&review).page().text(100)));
    criterion.bench_function("review/compile the rules for 15 raw materials", |bencher| {
        bencher.iter(|| Reviewer::new(RuleBook::starter(), product(Market::Eu), materials()).unwrap())
    });
    let starter = Catalogue::starter();
    criterion.bench_function("review/compile the rules for the starter catalogue", |bencher| {
        bencher.iter(|| Reviewer::new(RuleBook::starter(), product(Market::Eu), starter.materials()).unwrap())
    });
}

/// A determined sweep with and without the review's columns; rows at a limit are solved.
fn sweeping(criterion: &mut Criterion) {
    let brief = Brief::new("Preserved", &Catalogue::starter()).unwrap();
    let brief = brief.split("wash", SplitBasis::Active, [("sci-powder", 14), ("capb-30", 2)]).unwrap();
    let brief = brief
        .fix("sodium-benzoate", "0.5")
        .unwrap()
        .fix("potassium-sorbate", "0.3")
        .unwrap()
        .fix("btms-50", 3)
        .unwrap();
    let brief = brief.fix("lavender-oil", "0.6").unwrap().fix("panthenol", "0.7").unwrap().qs("kaolin").unwrap();
    let brief = brief.target(Measure::active_matter(), 45).unwrap();
    let axis = |word: &str, count: i64, step: (i64, i64)| {
        let values = Values::new((1..=count).map(|place| Exact::ratio(place * step.0, step.1))).unwrap();
        Varied::named(&brief, word).unwrap().over(values).unwrap()
    };
    let plain =
        Sweep::new(&brief, vec![axis("sodium-benzoate", 32, (1, 10)), axis("wash.capb-30", 64, (1, 16))]).unwrap();
    let reviewed = plain.clone().with_review(RuleBook::starter(), &product(Market::Eu), Severity::Information).unwrap();
    let table = reviewed.table().unwrap();
    println!(
        "review/sweep: {} rows, {} with a formula, {} rules with a bit",
        table.rows(),
        table.feasible_rows(),
        reviewed.findings_legend().unwrap().words().len()
    );
    let mut group = criterion.benchmark_group("review/sweep of 2048 rows");
    group.sample_size(20);
    group.bench_function("without review", |bencher| bencher.iter(|| plain.table().unwrap()));
    group.bench_function("with review", |bencher| bencher.iter(|| reviewed.table().unwrap()));
    group.finish();
}

criterion_group!(group, reviewing, sweeping);
criterion_main!(group);
