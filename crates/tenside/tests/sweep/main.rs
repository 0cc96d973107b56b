//! Sweeps, seen from outside.

mod agreement;
mod bad_input;
mod sampling;
mod streaming;
mod support;
