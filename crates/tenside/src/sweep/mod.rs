//! Many formulas at once: a brief varied along axes, the columns of every point, streaming where there are too many to
//! keep, samples of what a brief allows.
//!
//! Every point is an optimum. Along numbers the same basis holds for many points (a critical region; the only one where
//! splits, fixed lines, targets and one q.s. line determine a formula), and there every percentage is a quotient of
//! polynomials in what the axes vary: a million points take milliseconds. Points of no region are solved one by one.
//! Which it is need not be known: columns are the same.
//!
//! What is stated about errors: lines and measures are the exact solution to the nearest `f64`; feasibility and codes
//! are exact. So a row says the same whichever engine filled it. Whole ppm are those of the formula that
//! [`Sweep::answer`] gives.
//!
//! # Why
//! - `conflict` names the members of an irreducible conflict: those that [`Sweep::outcome`] gives, but where a share is
//!   0, which the brief of that row asks for last, it may be another one. It is worked out where that column is asked
//!   for, once for a region of rows without a formula. Codes are sets of limits, one bit each, not numbers of a list in
//!   order of appearance: parts of a sweep then agree without talking. More than 64 limits have no code column.
//! - One engine: briefs that their equations determine had one of their own, in plain `f64` where whole numbers are
//!   exact, a fourteenth of the code of solver, sweeps and engine. Tables take as long with regions; streams of 10^9
//!   rows take up to a quarter longer, and of 10^5 to 10^6 rows 3 ms in place of 1 and 12 in place of 7.
//! - Large columns have pages of their own (`sweep/array.rs`, by `memmap2`, which is memory and no file): first
//!   touching a hundred megabytes in small pages takes longer than working them out. A `Spare` keeps the memory of
//!   a table that is no longer needed.
//! - Dispatch is `fearless_simd`'s, which stands on nothing else and lets kernels be safe code: plain loops that
//!   the compiler widens, never fused. A test runs every level and one to three threads and compares bits.
//! - Known limits: a Pareto front of more than three columns takes time that grows with rows times rows on the
//!   front (it can be stopped); a sweep has one review, whose product is as stated, whatever moisture is swept.

mod array;
mod axis;
mod column;
mod definition;
mod fill;
mod lattice;
mod legend;
mod level;
#[cfg(feature = "trial")]
mod micelles;
mod points;
mod query;
mod regions;
mod review;
mod sample;
mod solved;
mod spelling;
mod stream;
mod table;
#[cfg(test)]
mod tests;
mod unknown;
mod values;
mod writing;

pub use array::{Array, Spare};
pub use axis::Axis;
#[cfg(feature = "trial")]
pub use column::MicelleColumn;
pub use column::{Column, ReviewCode};
pub use definition::Sweep;
pub use lattice::Lattice;
pub use legend::Legend;
pub use level::Level;
pub use sample::{Corners, Samples};
pub use spelling::Varied;
pub use stream::{
    AxisSummary, Bins, Comparison, Condition, Histogram, Kept, PlaceSummary, Stream, StreamPart, StreamResult, front_of,
};
pub use table::{Cells, EXACTNESS, GIB_ALLOWED, Held, Numbers, Table};
pub use values::Values;
