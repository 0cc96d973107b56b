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
#[doc(hidden)]
pub mod benchmark;
mod binding;
mod candidates;
mod choice;
mod conflict;
#[cfg(test)]
mod conflict_tests;
mod constraint;
mod extent;
mod grid;
#[cfg(test)]
mod limit_tests;
pub mod linear;
mod member;
mod mixed;
mod objective;
mod page;
mod piece;
#[cfg(test)]
mod piece_tests;
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
mod swept;
mod turning;
mod unmet;
mod walk;

pub use answer::{Answer, Outcome};
pub use binding::{Binding, Side};
pub use candidates::{Candidate, Candidates, PassedOver};
pub use choice::{Choice, ChoiceOutcome};
pub use conflict::Conflict;
pub use constraint::{Constraint, End};
pub use extent::DialRange;
pub use grid::{Departure, GridRefusal};
pub(crate) use piece::{Form, Named, Piece, Span, conflict_piece, multiple, optimal_piece};
pub(crate) use point::{Limit, Point, limit, lines_not_known, numerator_and_denominator, rows, solve_point, weights_as_far_as_known};
pub use program::{BriefProgram, RowName};
pub use proof::{DenominatorProof, Proof};
pub use reach::Reach;
pub use relaxation::Relaxation;
pub use robustness::{RequirementPrice, RobustnessPrice};
pub use rounded::{Rounded, RoundedDeparture, RoundedOutcome};
pub use sensitivity::{LimitRange, PriceRange};
pub use steps::{Leeway, Steps, USUAL_NODES};
pub use substitute::{Kept, LineChange, Substitution};
pub(crate) use swept::{SweptProgram, beyond_cost, program_of};
pub use turning::Turning;
pub use unmet::{FinerLines, Unmet};
pub use walk::Ways;
