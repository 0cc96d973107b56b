//! Whole briefs in Rust: compiled, solved, proved and placed on the grid. They are those that `briefs.py` has just
//! measured from Python, one a family.
//!
//! Once with the lines known, as in a what-if that changes ratios and limits, and once with lines of their own over the
//! same raw materials.

use std::hint::black_box;
use std::path::Path;
use std::time::Instant;

use tenside::document::Notation;
use tenside::prelude::*;
use tenside::solve::Outcome;

const BRIEFS: &str = "target/bench/briefs.jsonl";
const ROUNDS: usize = 30;

fn main() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).parent().map(|top| top.join(BRIEFS));
    let Some(text) = path.and_then(|path| std::fs::read_to_string(path).ok()) else {
        println!("{BRIEFS} is not there; `cargo xtask bench solve` writes it");
        return;
    };
    let (mut answered, mut conflicts) = ([Vec::new(), Vec::new()], [Vec::new(), Vec::new()]);
    for line in text.lines() {
        let brief = Brief::read(line, Notation::Json, &Catalogue::starter()).expect("it was written by the library");
        let first = brief.lines().first().expect("it has lines");
        let (name, role) = (first.name().to_string(), first.role().clone());
        let of_its_own = || brief.clone().change_line(&name, role.clone()).expect("the line is there");
        let times = [least(&|| brief.clone()), least(&of_its_own)];
        let outcome = brief.try_solve().expect("it can be asked");
        let seen = if matches!(outcome, Outcome::Answered(_)) { &mut answered } else { &mut conflicts };
        seen.iter_mut().zip(times).for_each(|(seen, time)| seen.push(time));
    }
    let [known, of_its_own] = answered.map(median);
    let [in_conflict, conflict_of_its_own] = conflicts.map(median);
    println!(
        "In Rust alone, one of each of these briefs: answered {known:.1} µs (aim 15), over lines of which nothing is \
         kept {of_its_own:.1} µs; in conflict {in_conflict:.1} and {conflict_of_its_own:.1} µs."
    );
}

/// Microseconds of the quickest of several.
fn least(made: &dyn Fn() -> Brief) -> f64 {
    let times = (0..ROUNDS).map(|_| {
        let brief = made();
        let begun = Instant::now();
        let outcome = black_box(&brief).try_solve();
        let time = begun.elapsed().as_secs_f64() * 1e6;
        drop(outcome);
        time
    });
    times.fold(f64::INFINITY, f64::min)
}

fn median(mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    times.get(times.len() / 2).copied().unwrap_or(f64::NAN)
}
