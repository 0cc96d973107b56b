//! What a brief allows, without asking for a best: samples spread evenly over it, and its corners.
//!
//! # Why
//! - Samples draw directions from a box, not a sphere: the even distribution stays as it is for any symmetric
//!   choice, and no function whose last digit differs between machines is needed. Equations in disguise are found
//!   by one linear program per limit.

mod corners;
mod walk;

pub use corners::Corners;
pub use walk::Samples;
