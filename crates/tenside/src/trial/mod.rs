//! Trials: which bars to press next so that they teach most.

mod terms;

pub use terms::{Blend, Crossing, ProcessOrder, ProcessVariable, Terms};
