//! Numbers: exact rationals, whole parts per million, masses, volumes and their units, intervals, apportioning, dates as given
//! values.
//!
//! # Why
//! - One table of bounds serves every message (`bounds`), and `document` and `render` stand on this floor too:
//!   catalogue, formula, brief and batch all need them.

mod apportion;
mod date;
mod double_double;
mod interval;
mod mass;
mod percent;
mod ppm;
mod random;
mod to_exact;
mod volume;

pub(crate) use apportion::units_of;
pub use apportion::{Apportioned, apportion, apportion_to};
pub use date::Date;
pub(crate) use double_double::{DoubleDouble, ROUNDING, two_product, two_sum};
pub use interval::Interval;
pub(crate) use mass::number_and_unit;
pub use mass::{Mass, MassUnit};
pub use percent::{Active, AsSupplied, Solids};
pub use ppm::Ppm;
pub(crate) use random::Random;
pub use tenside_lp::{Exact, HalfWay};
pub(crate) use tenside_lp::{FixedPoint, parse_decimal};
pub use to_exact::ToExact;
pub use volume::{Volume, VolumeUnit};
