//! Solving a brief: the exact solution, its proof and the grid formula, or the conflict with its proof.
//!
//! Linear programs, steps and choices are solved and proved by the engine, [`tenside_lp`], which knows no brief. Here
//! stands what speaks of briefs.
//!
//! # Why
//! - `f64` finds, exact arithmetic proves. Measured over 240 programs in one run: 23.5 µs with exact values and
//!   certificate, against 259 µs of the exact engine alone and 79 µs of microlp (`cargo xtask bench solve`).
//! - Requirements are cross-multiplied (`factor N - t D`, at most or at least 0). A denominator that could be
//!   negative is refused. A ratio whose denominator can be 0 has its ends among the formulas where it is not
//!   (`solve/reach.rs`); as an objective it stays refused, since its proof rests on a least denominator.
//! - One canonical answer: objective first, then the lines in the brief's order, each as small as possible. Without
//!   objective: least greatest departure from the middles of the written ranges, in half-widths, then the same
//!   order. Ranges of measures count there if their denominator is the mass of the formula as charged; others would
//!   not be linear.
//! - `Answer::verify` compiles the brief again and compares, so that a proof cannot be about another question.
//!   Certificates are checked by `tenside_lp::verify`, which shares no code with the search.
//! - `solve` refuses a brief with choices by name; `choose` makes them and gives the brief as chosen, which
//!   everything else understands.
//! - What is asked for every composition gives by two rounds of Dinkelbach's steps (`solve/robust.rs`). The price
//!   of robustness is reported twice for each requirement, alone and beside the others: prices do not add up, and
//!   of two requirements that say the same neither costs anything beside the other.
//! - The tests against HiGHS (`tests/python/oracle_model.py`) model a case from its compositions, never from our
//!   rows; further tests alter an outcome and see that the checks notice.
//! - Mutation testing: of 3686 changes to `solve` and `number`, each asked of the tests that reach it, 356 did not
//!   compile, 3171 were noticed (95.2 %, 83 of them by a test that does not end), and each of the other 159 was
//!   explained. The harness has done its work and is gone; `cargo mutants --in-diff` asks of what is new.

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

/// What is said of the best that a search found.
macro_rules! best_of {
    ($result:ty, $what:literal) => {
        impl $result {
            /// The objective, in its own unit; nothing where the brief has none.
            #[must_use]
            pub fn objective(&self) -> Option<&crate::number::Exact> {
                self.best.objective.as_ref()
            }

            #[doc = concat!("No ", $what, " has a better objective than this.")]
            #[must_use]
            pub fn bound(&self) -> Option<&crate::number::Exact> {
                self.best.bound.as_ref()
            }

            #[doc = concat!("The most by which another ", $what, " could be better: 0 where the search was complete.")]
            /// In the objective's unit; without objective, in half-widths of the written ranges.
            #[must_use]
            pub fn gap(&self) -> &crate::number::Exact {
                &self.best.gap
            }

            #[doc = concat!("True where no ", $what, " is better.")]
            #[must_use]
            pub fn is_best(&self) -> bool {
                self.best.gap.is_zero()
            }

            /// How many linear programs it took.
            #[must_use]
            pub fn nodes(&self) -> usize {
                self.best.nodes
            }

            pub(super) fn ended_after(&self) -> Option<usize> {
                self.best.ended_after
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
mod document;
mod echelon;
mod formula_at;
mod grid;
#[cfg(test)]
mod limit_tests;
mod member;
mod objective;
mod page;
mod parametric;
mod point;
mod program;
mod proof;
mod question;
#[cfg(test)]
mod question_tests;
mod ranging;
mod reach;
mod region;
mod relaxation;
mod robust;
mod robustness;
mod rounded;
mod sensitivity;
#[cfg(test)]
mod sensitivity_tests;
mod sides;
mod squares;
mod steps;
mod substitute;
#[cfg(test)]
mod tests;
mod unmet;

pub use answer::{Answer, Outcome};
pub use binding::{Binding, Side};
pub use candidates::{Candidate, Candidates, PassedOver};
pub use choice::{Choice, ChoiceOutcome};
pub use conflict::Conflict;
pub(crate) use constraint::Limit;
pub use constraint::{Constraint, ConstraintKind, End};
pub use document::{
    AnswerDocument, ChosenDocument, ConflictDocument, RoundedDocument, SubstitutionDocument, UnmetDocument,
};
pub use grid::{Departure, GridRefusal};
pub(crate) use objective::beyond_cost;
pub(crate) use parametric::{
    CriticalRegion, Direction, Form, NamedBasis, ParametricProgram, Span, conflict_region, multiple, optimal_region,
    weight_rates,
};
pub use parametric::{ParameterRange, PathRegion, SolutionPath};
pub(crate) use point::{Point, lines_not_known, rows, solve_point, water_left, weights_as_far_as_known};
pub use program::{BriefProgram, RowName};
pub use proof::{DenominatorProof, Proof};
pub use reach::Reach;
#[cfg(feature = "trial")]
pub(crate) use region::Vertex;
pub(crate) use region::{Region, Walk};
pub use relaxation::Relaxation;
pub use robustness::{RequirementPrice, RobustnessPrice};
pub use rounded::{Rounded, RoundedDeparture, RoundedOutcome};
pub use sensitivity::{LimitRange, PriceRange};
pub(crate) use sides::{Sides, sides};
pub use steps::{Steps, Tolerance, USUAL_NODES};
pub use substitute::{Kept, LineChange, Substitution};
pub use unmet::{FinerLines, Unmet};
