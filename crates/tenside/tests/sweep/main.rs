//! Sweeps, seen from outside.

mod agreement;
mod bad_input;
mod support;
