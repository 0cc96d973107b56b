//! Numbers: exact rationals, whole parts per million, masses and their units, intervals, apportioning, dates as given values.

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
