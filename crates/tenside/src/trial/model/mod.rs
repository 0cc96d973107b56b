//! Models of what was measured: polynomials of the mixture fitted by least squares, how good they are, and what they
//! say of other formulas.
//!
//! # Why
//! - Columns are scaled by powers of two and factorised by Householder; a step of refinement with twice the digits
//!   follows until nothing moves. On the linear sets of the Statistical Reference Datasets coefficients come out right
//!   to 13 digits and more, on the hardest (a polynomial of degree 10) to 7.9, which is what its powers rounded to
//!   `f64` leave; mixtures are never so ill-conditioned before the grid of percentages ends them.
//! - A term whose column lies within a part per million a run of sums of those before it is aliased: on the grid of
//!   percentages nobody could tell them apart.
//! - R-squared is about the mean: the fractions sum to 1, so the constant is among what every model can say.
//! - A model with as many terms as results is refused: it has no error, and every number here has one.

mod anova;
mod choice;
mod distributions;
mod document;
mod fit;
mod least_squares;
mod page;
mod predict;

pub use anova::{AnovaRow, LackOfFit};
pub use choice::{Criterion, ModelCandidate, ModelChoice};
pub use document::FittedModelDocument;
pub use fit::{AliasedTerm, FittedModel, FittedRun, FittedTerm};
pub(in crate::trial) use page::digits;
pub use predict::Prediction;
