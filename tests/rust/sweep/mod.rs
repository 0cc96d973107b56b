//! Sweeps, seen from outside.

mod agreement;
mod bad_input;
mod findings;
mod micelles;
mod random;
mod sampling;
mod streaming;
mod support;
