//! Solving a brief: the exact solution, its proof and the grid formula, or the conflict with its proof.
//!
//! The public types here do not depend on how the linear programs are solved; [`linear`] can be replaced behind them. It is in two parts: a
//! search in `f64` that names a basis, and [`linear`], which proves it in exact arithmetic.

/// What came of a brief is asked further questions, and checked, under a watch of its own.
macro_rules! watched_by {
    ($result:ty) => {
        impl $result {
            /// The same, watched: what it is asked to work out or to check ends early where the watch says so.
            #[must_use]
            pub fn watched_by(mut self, watch: std::sync::Arc<dyn crate::watch::Watch>) -> Self {
                self.brief = self.brief.watched_by(watch);
                self
            }
        }
    };
}

mod answer;
mod binding;
mod candidates;
mod choice;
mod conflict;
#[cfg(test)]
mod conflict_tests;
mod constraint;
mod grid;
#[cfg(test)]
mod limit_tests;
pub mod linear;
mod member;
mod mixed;
mod objective;
mod page;
mod parametric;
mod point;
mod program;
mod proof;
mod question;
#[cfg(test)]
mod question_tests;
mod reach;
mod relaxation;
mod robust;
mod robustness;
mod rounded;
mod search;
mod sensitivity;
#[cfg(test)]
mod sensitivity_tests;
mod squares;
mod steps;
mod substitute;
mod unmet;

pub use answer::{Answer, Outcome};
pub use binding::{Binding, Side};
pub use candidates::{Candidate, Candidates, PassedOver};
pub use choice::{Choice, ChoiceOutcome};
pub use conflict::Conflict;
pub use constraint::{Constraint, End};
pub use grid::{Departure, GridRefusal};
pub(crate) use objective::beyond_cost;
pub(crate) use parametric::{CriticalRegion, Direction, Form, NamedBasis, ParametricProgram, Span, conflict_region, multiple, optimal_region, weight_rates};
pub use parametric::{ParameterRange, PathPiece, SolutionPath};
pub(crate) use point::{Limit, Point, limit, lines_not_known, numerator_and_denominator, rows, solve_point, weights_as_far_as_known};
pub use program::{BriefProgram, RowName};
pub use proof::{DenominatorProof, Proof};
pub use reach::Reach;
pub use relaxation::Relaxation;
pub use robustness::{RequirementPrice, RobustnessPrice};
pub use rounded::{Rounded, RoundedDeparture, RoundedOutcome};
pub use sensitivity::{LimitRange, PriceRange};
pub use steps::{Steps, Tolerance, USUAL_NODES};
pub use substitute::{Kept, LineChange, Substitution};
pub use unmet::{FinerLines, Unmet};
