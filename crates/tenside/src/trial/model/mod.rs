//! Models of what was measured: polynomials of the mixture fitted by least squares, how good they are, and what they
//! say of other formulas.
//!
//! # Why
//! - Compositions and results are exact numbers, so terms are worked out with twice the digits of an `f64`: rounded to
//!   one, the powers of the hardest of the Statistical Reference Datasets (a polynomial of degree 10) leave 7.9 digits
//!   of its coefficients, however they are fitted. The columns are factorised by Householder twice, the second time
//!   what the first has made nearly orthonormal, and coefficients refined; then coefficients and their standard errors
//!   come out right to 14 digits on all of these sets. It costs a product of all rows with the square of the terms at
//!   some twenty operations each: 0.3 ms at 20 runs of 10 terms, and 6 s of one processor at the two thousand runs of
//!   four hundred terms that are the most.
//! - Whole plots come with a stated ratio of variances. It could be estimated from the results, but few trials have
//!   whole plots enough to tell it better than a factor of three, and every error would still look as sure. Under it
//!   generalised least squares is least squares on rows without their share of the whole plot (`trial/whole_plots.rs`).
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
pub(in crate::trial) use document::{FitDocument, read_fit};
pub use document::{FittedModelDocument, ModelChoiceDocument};
pub use fit::{AliasedTerm, FittedModel, FittedRun, FittedTerm};
pub(in crate::trial) use page::digits;
pub use predict::Prediction;
