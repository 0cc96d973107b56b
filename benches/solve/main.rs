//! The solver beside microlp, and its numbers handed to `anchors.py`, which measures HiGHS and scipy on the same
//! programs in the same job.
//!
//! Medians over seeded families like briefs (mixed sizes and 40 x 24, a third degenerate), a fresh ratio at every call,
//! and the invented case that is kept as data. Every answer is proved; the general-purpose solvers prove nothing.
//! Statuses and least costs are compared here.

mod family;
mod plain;

use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};

use family::{Question, RATIOS, Size, cream_bar, family};
use plain::Plain;
use serde_json::{Value, json};
use tenside_lp::{solve_exactly, solve_lexicographic, solve_on_path, verify};

const QUESTIONS: usize = 240;
/// How long each way of solving is run on each question.
const LONG_ENOUGH: Duration = Duration::from_millis(3);
const REPORT: &str = "target/bench/solve.json";

fn main() {
    let groups = [
        ("mixed", family(QUESTIONS, Size::Mixed)),
        ("40 x 24", family(QUESTIONS / 4, Size::Large)),
        ("cream bar", vec![cream_bar()]),
    ];
    let measured: Vec<Value> = groups
        .iter()
        .map(
            |(name, questions)| json!({ "name": name, "questions": questions.iter().map(measure).collect::<Vec<_>>() }),
        )
        .collect();
    // The benches run in their own folder.
    let report = Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .map(|top| top.join(REPORT))
        .expect("the benches are in a folder of the project");
    std::fs::create_dir_all(report.parent().expect("it has a folder")).expect("the folder of the report can be made");
    std::fs::write(&report, serde_json::to_vec(&measured).expect("numbers are JSON"))
        .expect("the report can be written");
    println!("measured; what it comes to beside HiGHS and scipy follows");
}

fn measure(question: &Question) -> Value {
    let programs = &question.programs;
    let order: Vec<usize> = (0..programs[0].columns().len()).collect();
    let plain: Vec<Plain> = programs.iter().map(Plain::new).collect();
    let (mut statuses, mut exact_path) = (Vec::new(), 0);
    for (program, plain) in programs.iter().zip(&plain) {
        let (outcome, path) = solve_on_path(program, &order);
        verify(program, &outcome).expect("every answer is proved");
        exact_path += usize::from(path != tenside_lp::Path::Search);
        let objective = outcome.optimum().map(|optimum| optimum.objective.to_f64());
        match (objective, plain.microlp()) {
            (Some(cost), Some(general)) => {
                assert!((cost - general).abs() < 1e-6 * (1.0 + general.abs()), "least costs {cost} and {general}")
            }
            (None, None) => {}
            (found, general) => panic!("one finds a formula and the other none: {found:?} {general:?}"),
        }
        statuses.push(objective);
    }
    json!({
        "columns": order.len(),
        "rows": programs[0].rows().len(),
        "degenerate": question.degenerate,
        "programs": plain.iter().map(Plain::json).collect::<Vec<_>>(),
        "row": question.row,
        "statuses": statuses,
        "exact_path": exact_path,
        "microseconds": {
            "microlp": microseconds(|index| black_box(&plain[index]).microlp()),
            "cold, exact values": microseconds(|index| solve_lexicographic(black_box(&programs[index]), &order)),
            "exact method alone": microseconds(|index| solve_exactly(black_box(&programs[index]), &order)),
        },
    })
}

/// The time of a call, the least of three rounds; every call has the next ratio.
fn microseconds<T>(mut call: impl FnMut(usize) -> T) -> f64 {
    let mut least = f64::INFINITY;
    for _ in 0..3 {
        let (start, mut calls) = (Instant::now(), 0);
        while calls % RATIOS != 0 || calls == 0 || start.elapsed() < LONG_ENOUGH / 3 {
            black_box(call(calls % RATIOS));
            calls += 1;
        }
        least = least.min(start.elapsed().as_secs_f64() * 1e6 / calls as f64);
    }
    least
}
