//! Sweeps, seen from outside.

mod agreement;
mod bad_input;
mod random;
mod sampling;
mod streaming;
mod support;
