//! Linear programs solved exactly, each answer with a certificate that can be checked without the solver.
//!
//! # The program
//! Minimise `c . x` over the points `x` with
//!
//! ```text
//! low_j <= x_j       <= high_j    for every column j
//! low_i <= (A . x)_i <= high_i    for every row i
//! ```
//!
//! An absent end is no limit: a column without ends is free, a row with equal ends is an equation. Ends that cross are allowed; the
//! program is then infeasible and the certificate names the column or row.
//!
//! # The conventions of multipliers
//! The multiplier `y_i` of a row is the change of the least cost for one more unit of the row's limit, so it is what trade and textbook
//! call a shadow price; the reduced cost `d = c - y . A` is the same thing for a column's limit. The sign tells which end holds:
//!
//! | multiplier | a row's activity, a column's value |
//! |---|---|
//! | above 0 | stands at its low end: raising that end costs |
//! | below 0 | stands at its high end: raising that end saves |
//! | 0 | anywhere in its range |
//!
//! (A maximum is written as the minimum of `-c . x`; its shadow prices are then `-y`.)
//!
//! # The three certificates
//! With `end(m)` the low end where `m > 0` and the high end where `m < 0`:
//!
//! ```text
//! optimal     x is feasible, the signs are as above, and   c . x  =  sum y_i end(y_i) + sum d_j end(d_j)
//! infeasible  sum y_i end(y_i)  >  the greatest value of (y . A) . x over the columns' ranges
//! unbounded   x is feasible, x + t v stays feasible for every t >= 0, and   c . v < 0
//! ```
//!
//! Source: linear programming duality and Farkas' lemma as in any textbook, for instance V. Chvatal, Linear Programming, 1983,
//! chapters 5, 8 and 16 (from memory).
//!
//! # One answer
//! Where several points have the least cost, [`solve_lexicographic`] goes on to the one whose columns are least in a given order, so that
//! the answer does not depend on the path to it.
//!
//! # How it is found
//! The search (outside this room, in `f64`) names a basis. Here its exact values and multipliers are worked out from the few rows that hold
//! with equality, and every condition of the certificate is checked in whole numbers. A basis that fails is where the exact simplex method
//! starts from; programs that the search does not take (free columns, columns without the end that their cost asks for, more than 64
//! columns or rows) go to the exact method as they are. So no float decides anything that is in an answer.

#![deny(clippy::float_arithmetic)]

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

pub(in crate::solve) use basis::{Basis, Candidate, Place};
pub use certificate::verify;
#[cfg(test)]
pub(in crate::solve) use engine::judge_exactly;
pub(crate) use engine::solve_watched;
pub use engine::{Path, solve, solve_lexicographic, solve_on_path};
pub use exactly::solve_exactly;
pub use outcome::{Crossing, Farkas, Optimum, Outcome, Ray};
pub use program::{Column, Program, Row};

use crate::number::Exact;

/// The combination of the rows with these multipliers, one value a column.
pub(crate) fn combined(program: &Program, multipliers: &[Exact]) -> Vec<Exact> {
    let mut sums = vec![Exact::ZERO; program.columns().len()];
    for (row, multiplier) in program.rows().iter().zip(multipliers).filter(|(_, multiplier)| !multiplier.is_zero()) {
        for (sum, coefficient) in sums.iter_mut().zip(&row.coefficients).filter(|(_, coefficient)| !coefficient.is_zero()) {
            *sum += coefficient * multiplier;
        }
    }
    sums
}
