//! The solver against itself and against a general-purpose solver, as ratios taken in one run.
//!
//! Medians over a seeded family like briefs (mixed sizes, a third degenerate), a fresh ratio at every call, and the invented case that is kept
//! as data. Every answer of the engine is proved; the general-purpose solver proves nothing, and its least costs are compared here.

mod family;

use std::hint::black_box;
use std::time::{Duration, Instant};

use family::{Question, RATIOS, cream_bar, family};
use microlp::{ComparisonOp, OptimizationDirection, Problem};
use tenside::solve::benchmark::Loaded;
use tenside::solve::linear::{Path, Program, solve_exactly, solve_lexicographic, solve_on_path, verify};

const QUESTIONS: usize = 240;
/// How long each way of solving is run on each question.
const LONG_ENOUGH: Duration = Duration::from_millis(4);

/// Microseconds a call, one for each way.
struct Times {
    exact: f64,
    engine: f64,
    filtered: f64,
    searched: f64,
    general: f64,
    verified: f64,
}

fn main() {
    let questions = family(QUESTIONS);
    let (times, answers): (Vec<Times>, Vec<Answers>) = questions.iter().map(measure).unzip();
    println!("{QUESTIONS} questions like briefs, {} of them degenerate, {RATIOS} ratios each", questions.iter().filter(|question| question.degenerate).count());
    report(&times, &answers);
    let case = cream_bar();
    let (times, answers) = measure(&case);
    println!("\nthe case \"cleansing cream bar\" (invented)");
    report(&[times], &[answers]);
}

#[derive(Default)]
struct Answers {
    optimal: usize,
    infeasible: usize,
    by_path: [usize; 4],
    filtered: usize,
}

fn measure(question: &Question) -> (Times, Answers) {
    let programs = &question.programs;
    let orders: Vec<usize> = (0..programs[0].columns().len()).collect();
    let mut answers = Answers::default();
    for program in programs {
        let (outcome, path) = solve_on_path(program, &orders);
        verify(program, &outcome).expect("every answer is proved");
        answers.by_path[match path {
            Path::Search => 0,
            Path::Wide => 1,
            Path::Warm => 2,
            Path::Exact => 3,
        }] += 1;
        let general = general(program);
        match (outcome.optimum(), general) {
            (Some(optimum), Some(cost)) => {
                answers.optimal += 1;
                assert!((optimum.objective.to_f64() - cost).abs() < 1e-6 * (1.0 + cost.abs()), "least costs {} and {cost}", optimum.objective);
            }
            (None, None) => answers.infeasible += 1,
            (found, general) => panic!("one finds a formula and the other none: {:?} {general:?}", found.is_some()),
        }
        answers.filtered += usize::from(Loaded::new(program, &orders).and_then(|mut loaded| loaded.search()) == Some(true));
    }
    let mut loaded: Vec<Loaded> = programs.iter().filter_map(|program| Loaded::new(program, &orders)).collect();
    let outcomes: Vec<_> = programs.iter().map(|program| solve_lexicographic(program, &orders)).collect();
    let times = Times {
        exact: microseconds(|index| solve_exactly(black_box(&programs[index]), &orders)),
        engine: microseconds(|index| solve_lexicographic(black_box(&programs[index]), &orders)),
        filtered: microseconds(|index| Loaded::new(black_box(&programs[index]), &orders).map(|mut loaded| loaded.search())),
        searched: microseconds(|index| loaded[index].search()),
        general: microseconds(|index| general(black_box(&programs[index]))),
        verified: microseconds(|index| verify(black_box(&programs[index]), &outcomes[index])),
    };
    (times, answers)
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

/// The least cost by the general-purpose solver, from the same program.
fn general(program: &Program) -> Option<f64> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let end = |end: &Option<tenside::number::Exact>, absent: f64| end.as_ref().map_or(absent, tenside::number::Exact::to_f64);
    let columns = program.columns().iter();
    let columns: Vec<_> =
        columns.map(|column| problem.add_var(column.cost.to_f64(), (end(&column.low, f64::NEG_INFINITY), end(&column.high, f64::INFINITY)))).collect();
    for row in program.rows() {
        let entries = row.coefficients.iter().zip(&columns).filter(|(coefficient, _)| !coefficient.is_zero());
        let entries: Vec<_> = entries.map(|(coefficient, column)| (*column, coefficient.to_f64())).collect();
        match (&row.low, &row.high) {
            (Some(low), Some(high)) if low == high => problem.add_constraint(entries, ComparisonOp::Eq, low.to_f64()),
            (low, high) => {
                if let Some(low) = low {
                    problem.add_constraint(entries.clone(), ComparisonOp::Ge, low.to_f64());
                }
                if let Some(high) = high {
                    problem.add_constraint(entries, ComparisonOp::Le, high.to_f64());
                }
            }
        }
    }
    problem.solve().ok()?.solution().map(microlp::Solution::objective)
}

fn median(times: &[Times], of: impl Fn(&Times) -> f64) -> f64 {
    let mut all: Vec<f64> = times.iter().map(of).collect();
    all.sort_by(f64::total_cmp);
    all[all.len() / 2]
}

fn report(times: &[Times], answers: &[Answers]) {
    let line = |name: &str, of: &dyn Fn(&Times) -> f64| {
        let (microseconds, against_exact, against_general) =
            (median(times, of), median(times, |times| times.exact / of(times)), median(times, |times| times.general / of(times)));
        println!("  {name:<58} {microseconds:>9.2} µs  {against_exact:>8.1} x the exact method  {against_general:>7.1} x microlp");
    };
    line("exact method alone", &|times| times.exact);
    line("microlp, from the same program, nothing proved", &|times| times.general);
    line("engine: basis, exact values and multipliers", &|times| times.engine);
    line("the certificate checked independently", &|times| times.verified);
    line("loading, search and filter: basis proved", &|times| times.filtered);
    line("search and filter of a loaded program", &|times| times.searched);
    let sum = |of: &dyn Fn(&Answers) -> usize| answers.iter().map(of).sum::<usize>();
    let all = sum(&|answers| answers.optimal + answers.infeasible);
    println!(
        "  {all} answers, {} optimal, {} infeasible; proved in 128 bits {}, in longer numbers {}, after exact steps from the basis {}, by the exact method alone {}",
        sum(&|answers| answers.optimal),
        sum(&|answers| answers.infeasible),
        sum(&|answers| answers.by_path[0]),
        sum(&|answers| answers.by_path[1]),
        sum(&|answers| answers.by_path[2]),
        sum(&|answers| answers.by_path[3]),
    );
    println!(
        "  the filter proved {} of {} optima; exact arithmetic was needed for the others",
        sum(&|answers| answers.filtered),
        sum(&|answers| answers.optimal)
    );
}
