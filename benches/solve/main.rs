//! The solver beside microlp, and its numbers handed to `anchors.py`, which measures HiGHS and scipy on the same programs in the same job.
//!
//! Medians over seeded families like briefs (mixed sizes and 40 x 24, a third degenerate), a fresh ratio at every call, and the invented case
//! that is kept as data. Every answer is proved; the general-purpose solvers prove nothing. Statuses and least costs are compared here.
//!
//! With `--instructions N` it only solves N times from cold and as often after a ratio changed, to be counted under callgrind.

mod family;
mod plain;

use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};

use family::{Question, RATIOS, Size, cream_bar, family, unanswerable};
use plain::Plain;
use serde_json::{Value, json};
use tenside::number::Exact;
use tenside::solve::benchmark::{Loaded, Turned, irreducible};
use tenside::solve::linear::{Outcome, Program, solve, solve_exactly, solve_lexicographic, solve_on_path, verify};

const QUESTIONS: usize = 240;
/// How long each way of solving is run on each question.
const LONG_ENOUGH: Duration = Duration::from_millis(3);
const REPORT: &str = "target/bench/solve.json";

fn main() {
    let words: Vec<String> = std::env::args().collect();
    if let Some(place) = words.iter().position(|word| word == "--instructions") {
        instructions(words.get(place + 1).and_then(|count| count.parse().ok()).unwrap_or(0));
        return;
    }
    let groups = [("mixed", family(QUESTIONS, Size::Mixed)), ("40 x 24", family(QUESTIONS / 4, Size::Large)), ("cream bar", vec![cream_bar()])];
    let measured: Vec<Value> =
        groups.iter().map(|(name, questions)| json!({ "name": name, "questions": questions.iter().map(measure).collect::<Vec<_>>() })).collect();
    // The benches run in their own folder.
    let report = Path::new(env!("CARGO_MANIFEST_DIR")).parent().map(|top| top.join(REPORT)).expect("the benches are in a folder of the project");
    std::fs::create_dir_all(report.parent().expect("it has a folder")).expect("the folder of the report can be made");
    std::fs::write(&report, serde_json::to_vec(&measured).expect("numbers are JSON")).expect("the report can be written");
    println!("measured; what it comes to beside HiGHS and scipy follows");
}

/// Solves the case from cold and after its ratio changed, each so many times.
fn instructions(count: usize) {
    let case = cream_bar();
    let order: Vec<usize> = (0..case.programs[0].columns().len()).collect();
    let mut loaded = Loaded::new(&case.programs[0], &order).expect("the case is one for the search");
    for _ in 0..count {
        black_box(loaded.search());
    }
    let mut turned = turned(&case, &order).expect("the case's ratio moves one row");
    for index in 0..count {
        black_box(turned.at(&case.ratios[index % RATIOS]));
    }
}

fn turned(question: &Question, order: &[usize]) -> Option<Turned> {
    let step = &question.ratios[1] - &question.ratios[0];
    Turned::new(&question.programs[0], &question.programs[1], &question.ratios[0], &step, order, (0.001, 1e6))
}

fn measure(question: &Question) -> Value {
    let programs = &question.programs;
    let order: Vec<usize> = (0..programs[0].columns().len()).collect();
    let plain: Vec<Plain> = programs.iter().map(Plain::new).collect();
    let (mut statuses, mut filtered, mut exact_path) = (Vec::new(), 0, 0);
    for (program, plain) in programs.iter().zip(&plain) {
        let (outcome, path) = solve_on_path(program, &order);
        verify(program, &outcome).expect("every answer is proved");
        exact_path += usize::from(path != tenside::solve::linear::Path::Search);
        let objective = outcome.optimum().map(|optimum| optimum.objective.to_f64());
        match (objective, plain.microlp()) {
            (Some(cost), Some(general)) => assert!((cost - general).abs() < 1e-6 * (1.0 + general.abs()), "least costs {cost} and {general}"),
            (None, None) => {}
            (found, general) => panic!("one finds a formula and the other none: {found:?} {general:?}"),
        }
        statuses.push(objective);
        filtered += usize::from(Loaded::new(program, &order).and_then(|mut loaded| loaded.search()) == Some(true));
    }
    let mut loaded: Vec<Loaded> = programs.iter().filter_map(|program| Loaded::new(program, &order)).collect();
    let mut walked = turned(question, &order);
    let mut value = 0i64;
    let mut next = || {
        // Fresh at every call: the family's ratios and what lies between them.
        value = (value + 37) % 1051;
        &question.ratios[0] + Exact::ratio(value, 1000)
    };
    let warm = walked.as_mut().map(|walked| microseconds(|_| walked.at(&next()).map(|columns| columns[0])));
    let ratio_only = microseconds(|_| next());
    let exact_warm = walked.as_mut().map(|walked| microseconds(|index| walked.extent(&question.ratios[index])));
    let conflict = unanswerable(&programs[0]).map(|program| conflict(&program));
    json!({
        "columns": order.len(),
        "rows": programs[0].rows().len(),
        "degenerate": question.degenerate,
        "programs": plain.iter().map(Plain::json).collect::<Vec<_>>(),
        "row": question.row,
        "statuses": statuses,
        "filtered": filtered,
        "exact_path": exact_path,
        "ways": walked.as_ref().map(Turned::ways),
        "conflict": conflict,
        "microseconds": {
            "microlp": microseconds(|index| black_box(&plain[index]).microlp()),
            "cold": microseconds(|index| loaded[index].search()),
            "cold, loading included": microseconds(|index| Loaded::new(black_box(&programs[index]), &order).map(|mut loaded| loaded.search())),
            "cold, exact values": microseconds(|index| solve_lexicographic(black_box(&programs[index]), &order)),
            "exact method alone": microseconds(|index| solve_exactly(black_box(&programs[index]), &order)),
            "warm": warm.map(|warm| (warm - ratio_only).max(0.001)),
            "ranges": exact_warm,
        },
    })
}

/// The conflict of an unanswerable program: how long it takes by the filter and with its exact certificate, and who is in it.
fn conflict(program: &Program) -> Value {
    let certificate = |kept: &[usize]| solve(&with_only(program, kept));
    let search = || irreducible(black_box(program), |kept| matches!(certificate(kept), Outcome::Infeasible(_)));
    let found = search();
    if let Some((kept, _)) = &found {
        assert!(matches!(certificate(kept), Outcome::Infeasible(_)), "the conflict is none");
        for left_out in kept {
            let fewer: Vec<usize> = kept.iter().copied().filter(|variable| variable != left_out).collect();
            assert!(matches!(certificate(&fewer), Outcome::Optimal(_)), "a member can be left out");
        }
    }
    let times = found.as_ref().map(|_| {
        json!({
            "conflict": microseconds(|_| search()),
            "conflict, exact certificate": microseconds(|_| search().map(|(kept, _)| certificate(&kept))),
        })
    });
    let (kept, asked) = found.unzip();
    json!({ "program": Plain::new(program).json(), "members": kept, "asked": asked, "microseconds": times })
}

/// The program with only these columns' ranges and rows, besides the first row.
fn with_only(program: &Program, kept: &[usize]) -> Program {
    let columns = program.columns().iter().enumerate().map(|(index, column)| {
        let mut column = column.clone();
        if !kept.contains(&index) {
            (column.low, column.high) = (Some(Exact::ZERO), Some(Exact::hundred()));
        }
        column
    });
    let count = program.columns().len();
    let rows = program.rows().iter().enumerate().map(|(index, row)| {
        let mut row = row.clone();
        if index > 0 && !kept.contains(&(count + index)) {
            (row.low, row.high) = (None, None);
        }
        row
    });
    Program::new(columns.collect(), rows.collect()).expect("rows keep their length")
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
