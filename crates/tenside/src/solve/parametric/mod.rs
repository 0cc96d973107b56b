//! Programs with parameters: numbers of a brief that move, where a basis is the answer, and what the answer is there.
//!
//! ```text
//! brief --one program--> parametric program --at(values)--> linear program --solve--> proof
//!                               |
//!                               +-- critical region: a basis, its exact conditions and values as forms of the parameters
//!                                       +-- one parameter: solution path, range of the parameter
//!                                       +-- several: the rows of a sweep
//! ```
//!
//! # Why
//! - What a number of the brief moves in the program is written once, in [`program`]. Everything that asks "and if this
//!   number were another?" asks a critical region: a path walks from one to the next, a range is the one at hand, a
//!   sweep fills runs of rows from them.
//! - Rates stand in a table beside the program instead of in every coefficient: a plain solve carries none, and a test
//!   compares the program at every point with the brief compiled there.
//! - A plain solve has no column for a split, so that it is no slower; conflicts and parameters work on the program
//!   with it (`BriefProgram::with_split_columns`).
//!
//! Terms as in multiparametric linear programming, T. Gal, Postoptimal Analyses, Parametric Programming, and Related
//! Topics, 1995 (from memory).

mod basis_at;
mod forms;
mod interval;
mod path;
mod program;
mod range;
mod ratio;
mod region;
#[cfg(test)]
mod tests;

pub(super) use basis_at::BasisAt;
pub(crate) use forms::{Form, Span, multiple};
pub(super) use interval::Interval;
pub use path::{PathRegion, SolutionPath};
pub(crate) use program::{Direction, ParametricProgram, weight_rates};
pub use range::ParameterRange;
pub(crate) use region::{CriticalRegion, NamedBasis, conflict_region, optimal_region};
