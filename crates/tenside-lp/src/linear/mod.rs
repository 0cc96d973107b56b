//! Programs, their outcomes, and what proves and checks them, all in exact numbers.

mod basis;
mod certificate;
mod dictionary;
mod elimination;
mod engine;
mod exactly;
mod outcome;
mod program;
mod proved;
mod scaled;
mod whole;

pub use basis::{Basis, Candidate, Place};
pub use certificate::verify;
#[cfg(test)]
pub(crate) use engine::tests::judge_exactly;
pub use engine::{Path, solve, solve_lexicographic, solve_on_path, solve_watched};
pub use exactly::solve_exactly;
pub use outcome::{Crossing, Farkas, Optimum, Outcome, Ray};
pub use program::{Column, Program, Row};

use crate::exact::Exact;

/// The combination of the rows with these multipliers, one value a column.
#[must_use]
pub fn combined(program: &Program, multipliers: &[Exact]) -> Vec<Exact> {
    let mut sums = vec![Exact::ZERO; program.columns().len()];
    for (row, multiplier) in program.rows().iter().zip(multipliers).filter(|(_, multiplier)| !multiplier.is_zero()) {
        for (sum, coefficient) in
            sums.iter_mut().zip(&row.coefficients).filter(|(_, coefficient)| !coefficient.is_zero())
        {
            *sum += coefficient * multiplier;
        }
    }
    sums
}
