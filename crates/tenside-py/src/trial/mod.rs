//! Trials: which bars to press, what is measured on them, and what it teaches.

pub(crate) mod design;
pub(crate) mod region;
