//! The search for a basis, in `f64`: quick, and never the last word.
//!
//! **What is found here is only named; [`linear`](crate::linear) works it out exactly and proves it.** A float can cost
//! time, by naming a basis that does not hold, and nothing else.
//!
//! # The method
//! A dense dictionary, `basic = T . nonbasic`, in which each row's activity is a variable with a range like a column's,
//! so that equation, range and ceiling are one thing. To begin with all activities are basic and each column stands at
//! the end that its cost asks for: that is dual feasible, so the dual simplex method alone suffices and there is no
//! first phase. The variable furthest outside its range leaves for its nearest end; of those that can bring it there,
//! the one whose reduced cost per step is least enters, after all that reach their own other end before have been moved
//! there. Where all of them together cannot bring it into its range, that row of the dictionary is the candidate for a
//! proof of infeasibility.
//!
//! # Ties
//! Equal ratios are told apart by how the columns of the order change: the row of the dictionary that belongs to the
//! first column of the order is a second objective, that of the next a third, and so on, for nothing. In exact
//! arithmetic every step then lets the cost or a later objective grow, so no basis comes twice, and the end is the
//! first point of the order. In `f64` a tie can be missed; therefore there is a limit to the number of steps, past
//! which nothing is named.
//!
//! Source: dual simplex method with bounds passed on the way, and lexicographic rule, as in A. Koberstein, The dual
//! simplex method, techniques for a fast and stable implementation, 2005 (from memory).
//!
//! # Why
//! - A point that touches its ranges cannot be proved inside them with bounds of rounding, so the search looks
//!   inside ranges that are a little narrower, and its point is held against those asked for. Programs wider than
//!   the search, and ranges that are empty by themselves, go the exact way as a whole.

#![allow(clippy::float_arithmetic, clippy::disallowed_types, reason = "what is found here is only named")]

/// Runs an expression with the least width that holds so many columns and rows; nothing where there is none.
macro_rules! with_width {
    ($size:expr, $width:ident => $run:expr) => {
        with_width!($size, $width => $run, 16 24 32 40 64)
    };
    ($size:expr, $width:ident => $run:expr, $($most:literal)*) => {
        match $size {
            $(..=$most => {
                const $width: usize = $most;
                $run
            })*
            _ => None,
        }
    };
}
mod dual;
mod ends;
mod filter;
mod load;
mod prune;
mod tableau;

#[cfg(test)]
pub(crate) mod tests;

use dual::{Ended, pivot_to_end};
pub use prune::{Pruned, Removable, prune};
use tableau::Tableau;

use crate::linear::{Candidate, Program};

/// A candidate and how many steps it took.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// The candidate.
    pub candidate: Candidate,
    /// How many steps it took.
    pub pivots: usize,
}

/// A candidate for the outcome, unless the program is none for this method or the limit of steps was met.
///
/// ```
/// use tenside_lp::search::find;
/// use tenside_lp::{Candidate, Column, Exact, Program};
/// let boxed = Column { low: Some(Exact::ZERO), high: Some(Exact::ONE), cost: Exact::ONE };
/// let free = Column { low: None, ..boxed.clone() };
/// let found = find(&Program::new(vec![boxed], Vec::new())?, &[]);
/// assert!(found.is_some_and(|found| matches!(found.candidate, Candidate::Optimal(_))));
/// assert_eq!(find(&Program::new(vec![free], Vec::new())?, &[]), None);
/// # Ok::<(), tenside_lp::Error>(())
/// ```
#[must_use]
pub fn find(program: &Program, order: &[usize]) -> Option<Found> {
    with_width!(program.columns().len().max(program.rows().len()), WIDTH => {
        let (tableau, ended) = searched::<WIDTH>(program, order)?;
        Some(Found { candidate: tableau.candidate(ended), pivots: tableau.pivots() })
    })
}

fn searched<const WIDTH: usize>(program: &Program, order: &[usize]) -> Option<(Tableau<WIDTH>, Ended)> {
    let mut tableau = Tableau::load(program)?;
    let ended = pivot_to_end(&mut tableau, &load::order(program, order))?;
    Some((tableau, ended))
}

/// The value of every column at the candidate that [`find`] names, as far as `f64` tells; `None` if it names none, or one
/// by which there is no point. Nothing about it is proved: it is for those who check what they make of it.
///
/// ```
/// use tenside_lp::search::point;
/// use tenside_lp::{Column, Exact, Program, Row};
/// let boxed = Column { low: Some(Exact::ZERO), high: Some(Exact::from(80)), cost: Exact::ONE };
/// let total = Row { coefficients: vec![Exact::ONE; 2], low: Some(Exact::hundred()), high: None };
/// let program = Program::new(vec![boxed.clone(), boxed], vec![total])?;
/// assert_eq!(point(&program, &[1]), Some(vec![80.0, 20.0]));
/// # Ok::<(), tenside_lp::Error>(())
/// ```
#[must_use]
pub fn point(program: &Program, order: &[usize]) -> Option<Vec<f64>> {
    with_width!(program.columns().len().max(program.rows().len()), WIDTH => {
        searched::<WIDTH>(program, order).filter(|(_, ended)| *ended == Ended::Optimal).map(|(tableau, _)| tableau.point())
    })
}
