//! Trials: what is measured on test bars, and what it teaches.

pub(crate) mod log;
pub(crate) mod micelle;
pub(crate) mod model;
pub(crate) mod optimise;
