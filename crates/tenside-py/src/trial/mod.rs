//! Trials: which bars to press, what is measured on them, and what it teaches.

pub(crate) mod design;
pub(crate) mod log;
pub(crate) mod micelle;
pub(crate) mod model;
pub(crate) mod optimise;
pub(crate) mod region;
