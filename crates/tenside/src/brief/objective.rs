//! What makes one answer better than another.

use std::collections::BTreeMap;

use crate::document::named_enum;
use crate::measure::{Basis, Measure};
use crate::number::Ppm;

named_enum! {
    /// Which way is better.
    Direction "direction" {
        /// The less the better.
        Minimise = "minimise",
        /// The more the better.
        Maximise = "maximise",
    }
}

/// What is asked for among all formulas that meet the requirements.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Objective {
    /// The least or greatest value of a measure on a basis.
    Measure {
        /// Which way is better.
        direction: Direction,
        /// Of what.
        measure: Measure,
        /// On which basis.
        basis: Basis,
    },
    /// The least sum of changes from these percentages, by line name.
    LeastChange(BTreeMap<String, Ppm>),
    /// The least sum of the squares of the changes from these percentages, by line name: many small changes rather than
    /// one large one.
    LeastSquares(BTreeMap<String, Ppm>),
}

impl Objective {
    /// The least or greatest value of a measure.
    #[must_use]
    pub fn measure(direction: Direction, measure: Measure, basis: Basis) -> Self {
        Objective::Measure { direction, measure, basis }
    }

    /// The unit of its value: `EUR per kg`; of changes `%`, of their squares `% squared`. `currency` is the price
    /// list's.
    #[must_use]
    pub fn unit(&self, currency: Option<&str>) -> String {
        match self {
            Objective::Measure { measure, .. } => measure.unit(currency),
            Objective::LeastChange(_) => "%".to_string(),
            Objective::LeastSquares(_) => "% squared".to_string(),
        }
    }

    /// In words: `minimise cost`.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Objective::Measure { direction, measure, basis: Basis::AsCharged } => {
                format!("{direction} {}", measure.name())
            }
            Objective::Measure { direction, measure, basis } => format!("{direction} {}, {basis}", measure.name()),
            Objective::LeastChange(_) => "change least".to_string(),
            Objective::LeastSquares(_) => "change least by squares".to_string(),
        }
    }
}
