//! Trials: which bars to press next so that they teach most.

mod region;
mod terms;

pub use region::BriefRegion;
pub use terms::{Blend, Crossing, ProcessOrder, ProcessVariable, Terms};
