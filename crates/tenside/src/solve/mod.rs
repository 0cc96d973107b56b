//! Solving a brief: the exact solution, its proof and the grid formula, or the conflict with its proof.
//!
//! The public types here do not depend on how the linear programs are solved; [`linear`] can be replaced behind them.

mod answer;
mod binding;
mod candidates;
mod choice;
mod conflict;
mod grid;
pub mod linear;
mod mixed;
mod objective;
mod page;
mod program;
mod proof;
mod question;
mod rounded;
mod squares;
mod steps;
mod substitute;
mod unmet;

pub use answer::{Answer, Outcome};
pub use binding::{Binding, Side};
pub use candidates::{Candidate, Candidates, PassedOver};
pub use choice::{Choice, ChoiceOutcome};
pub use conflict::{Conflict, ConflictMember};
pub use grid::{Departure, GridRefusal};
pub use program::{BriefProgram, RowName};
pub use proof::{DenominatorProof, Proof};
pub use rounded::{Rounded, RoundedDeparture, RoundedOutcome};
pub use steps::{Leeway, Steps};
pub use substitute::{Kept, LineChange, Substitution};
pub use unmet::Unmet;
