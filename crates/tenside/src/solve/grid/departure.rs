//! How far the grid formula departs from what was asked.

use crate::number::Exact;

/// An equation that the grid formula does not meet exactly.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Departure {
    /// The equation, in the words of the brief.
    pub words: String,
    /// How far it is from holding: the measure's value less the target; for a split, percent points (by mole: mmol/g)
    /// of what the line brings too much.
    pub departure: Exact,
    /// The most it may be.
    pub bound: Exact,
    /// The unit of both.
    pub unit: String,
}
