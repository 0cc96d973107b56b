//! What a brief allows, without asking for a best: samples spread evenly over it, and its corners.

mod corners;
mod random;
mod region;
mod walk;

pub use corners::Corners;
pub use walk::Samples;
