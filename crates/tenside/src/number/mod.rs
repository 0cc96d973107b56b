//! Numbers: exact rationals, whole parts per million, masses and their units, intervals, apportioning, dates as given values.
//!
//! # Why
//! - Exact numbers are `dashu` rationals behind our own `Exact`, which keeps small values inline: multiply-subtract
//!   of small fractions took 0.29 µs where `num-rational` over `num-bigint` took 3.6 µs. Nothing outside
//!   `number/exact.rs` knows which library it is.
//! - One table of bounds serves every message (`bounds`), and `document` and `render` stand on this floor too:
//!   catalogue, formula, brief and batch all need them.

mod apportion;
mod date;
mod double_double;
mod exact;
mod fixed_point;
mod interval;
mod mass;
mod percent;
mod ppm;

pub use apportion::{Apportioned, apportion, apportion_to};
pub use date::Date;
pub(crate) use double_double::{DoubleDouble, ROUNDING, halves, two_product, two_sum};
pub(crate) use exact::parse_decimal;
pub use exact::{Exact, HalfWay};
pub(crate) use fixed_point::FixedPoint;
pub use interval::Interval;
pub use mass::{Mass, MassUnit};
pub use percent::{Active, AsSupplied, Solids};
pub use ppm::Ppm;
