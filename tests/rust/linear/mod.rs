//! The exact solver of linear programs against textbooks, twins, brute force and its own certificates.

mod lexicographic;
mod mps;
mod random;
mod search;
mod textbook;
mod twins;
mod vertices;

use tenside::number::Exact;
use tenside_lp::{Column, Outcome, Program, Row, verify};

/// A range of whole numbers; an absent end is no limit.
type Range = (Option<i64>, Option<i64>);

fn column((low, high): Range, cost: i64) -> Column {
    Column { low: low.map(Exact::from), high: high.map(Exact::from), cost: Exact::from(cost) }
}

fn row(coefficients: &[i64], (low, high): Range) -> Row {
    Row {
        coefficients: coefficients.iter().copied().map(Exact::from).collect(),
        low: low.map(Exact::from),
        high: high.map(Exact::from),
    }
}

/// The outcome of `solve` after its certificate was checked.
fn proved(program: &Program, solve: impl Fn(&Program) -> Outcome) -> Outcome {
    let outcome = solve(program);
    if let Err(error) = verify(program, &outcome) {
        panic!("{error}\n{program:#?}\n{outcome:#?}");
    }
    outcome
}
