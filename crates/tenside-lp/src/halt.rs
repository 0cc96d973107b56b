//! Stopping work that takes long. This crate has no clock and hears no signal: whoever asks says, again and again,
//! whether to go on.

use std::convert::Infallible;

/// Asked before every linear program and at every step of the exact simplex method. Work that nobody can stop has
/// `Infallible` in its type.
pub trait Halt {
    /// What stopped work gives.
    type Stopped;

    /// Whether to go on.
    ///
    /// # Errors
    /// Where the work is to stop and leave nothing.
    fn check(&self) -> Result<(), Self::Stopped>;

    /// `false` ends a branch and bound as its limit of nodes does: with the best found so far.
    fn search_on(&self) -> bool {
        true
    }
}

/// Stops nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct Unwatched;

impl Halt for Unwatched {
    type Stopped = Infallible;

    fn check(&self) -> Result<(), Infallible> {
        Ok(())
    }
}
