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
//! An absent end is no limit: a column without ends is free, a row with equal ends is an equation. Ends that cross are
//! allowed; the program is then infeasible and the certificate names the column or row.
//!
//! # The conventions of multipliers
//! The multiplier `y_i` of a row is the change of the least cost for one more unit of the row's limit, so it is what
//! trade and textbook call a shadow price; the reduced cost `d = c - y . A` is the same thing for a column's limit. The
//! sign tells which end holds:
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
//! Source: linear programming duality and Farkas' lemma as in any textbook, for instance V. Chvatal, Linear
//! Programming, 1983, chapters 5, 8 and 16 (from memory).
//!
//! # One answer
//! Where several points have the least cost, [`solve_lexicographic`] goes on to the one whose columns are least in a
//! given order, so that the answer does not depend on the path to it.
//!
//! # How it is found
//! The search ([`search`], in `f64`) names a basis. In [`linear`] its exact values and multipliers are worked out from
//! the few rows that hold with equality, and every condition of the certificate is checked in whole numbers. A basis
//! that fails is where the exact simplex method starts from; programs that the search does not take (free columns,
//! columns without the end that their cost asks for, more than 64 columns or rows) go to the exact method as they are.
//! So no float decides anything that is in an answer.

//!
//! # Beside it
//! [`mixed`] is branch and bound over steps, doses that are 0 or at least something, and groups of which at most so
//! many are taken. [`search::prune`] leaves of rows and ranges that conflict an irreducible infeasible set.
//!
//! What a mistake could decide is held by lint: floats stand in [`search`], where nothing is decided, and in the one
//! file where a number is made of a float or a float of a number.
//!
//! | feature | what it adds |
//! |---|---|
//! | `rust_decimal` | exact numbers to and from `rust_decimal` |
//! | `serde` | exact numbers in documents, as their text |
//!
//! # Why
//! - Numbers whose parts fit are two machine words, all others `dashu` rationals (multiply-subtract of small fractions
//!   took 0.29 µs there, where `num-rational` over `num-bigint` took 3.6 µs). A brief compiled, solved and placed on
//!   the grid takes half as many instructions as with `dashu` alone. Nothing outside this crate knows which library it
//!   is.
//! - A crate of its own, so that nothing in it can ask what a brief is, and so that who has linear programs alone needs
//!   eight packages.

#![forbid(unsafe_code)]
#![deny(clippy::float_arithmetic, clippy::disallowed_types)]

mod error;
mod exact;
mod fixed_point;
mod halt;
pub mod linear;
pub mod mixed;
pub mod search;

pub use error::{Error, ErrorKind};
#[cfg(feature = "rust_decimal")]
pub use exact::parse_decimal;
pub use exact::{Exact, HalfWay, dot};
pub use fixed_point::FixedPoint;
pub use halt::{Halt, Unwatched};
pub use linear::{
    Basis, Candidate, Column, Crossing, Farkas, Optimum, Outcome, Path, Place, Program, Ray, Row, combined, solve,
    solve_exactly, solve_lexicographic, solve_on_path, solve_watched, verify,
};
